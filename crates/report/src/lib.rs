//! What leaves the shop.
