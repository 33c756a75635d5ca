//! What is judged from the record: a bond's story, its clocks, its findings. Nothing here is stored as truth.
