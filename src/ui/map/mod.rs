//! The map: what lies below the hives, and the yards and hives themselves.

pub mod base;
pub mod look;
pub mod stacks;
