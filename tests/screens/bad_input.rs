//! What the window does with nonsense, a full disk and a lost book.
