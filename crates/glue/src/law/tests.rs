//! Worked numbers of the laws.
