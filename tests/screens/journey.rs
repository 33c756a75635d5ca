//! The whole job in the real window.
