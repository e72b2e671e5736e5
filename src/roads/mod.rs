//! Distances, travel times and daylight.

pub mod geodesic;
pub mod mercator;
pub mod sun;
pub mod travel;
