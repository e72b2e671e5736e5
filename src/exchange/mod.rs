//! CSV, GeoJSON, GPX, iCalendar and the whole copy: bytes in, changes and problems out; world in, bytes out. No files.
//!
//! Reading begins in [`table`]: a table of headings and rows, from CSV or made from points ([`points`]), becomes a
//! preview and, once confirmed, one change. [`any`] tells the three apart. [`results`] reads an evening's finds. [`out`]
//! writes lists, routes and calendars, [`table::export`] the whole programme.

pub mod any;
mod date_hints;
pub mod dates;
pub mod of_world;
pub mod out;
pub mod points;
pub mod results;
pub mod table;
pub mod watch;
