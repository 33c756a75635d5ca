//! What the suite shares.
