//! Distances, travel times and daylight.
