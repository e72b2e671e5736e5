//! The map: what lies below the hives, and the hives themselves.

pub mod base;
