//! The base map: the embedded coarse world, offline packs above it, and online tiles only where switched on.
//!
//! Everything is drawn as plain egui shapes, so that it needs no graphics device of its own and looks the same in tests.

pub mod classes;
#[cfg(test)]
pub(crate) mod demo;
mod directory;
pub mod fill;
pub mod labels;
pub mod lines;
pub mod look;
pub mod mercator;
pub mod mvt;
pub mod online;
pub mod pack;
mod paint;
pub mod pmtiles;
pub mod source;
pub mod tile;
pub mod view;
mod wire;
pub mod world;
