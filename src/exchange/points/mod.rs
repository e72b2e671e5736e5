//! Yards as points: GeoJSON and GPX, read into rows of a table with headings of ours, and GeoJSON written.

pub mod geojson;
pub mod gpx;
