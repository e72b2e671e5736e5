//! The short grammar of evening entry, and what was seen and done in plain words.

pub mod contradiction;
pub mod describe;
