//! A file of yards and hives of any kind: CSV, GeoJSON or GPX, told apart by how it begins.

use crate::domain::day::Day;
use crate::domain::world::World;
use crate::exchange::points::{geojson, gpx};
use crate::exchange::table;
use crate::exchange::table::preview::{Options, Preview, Unreadable};
use crate::exchange::watch::{Nobody, NotRead, Watch};

/// What a file holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A table.
    Csv,
    /// Points in GeoJSON.
    GeoJson,
    /// Waypoints in GPX.
    Gpx,
}

/// What a file holds, by its first sign.
pub fn kind_of(bytes: &[u8]) -> Kind {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    match bytes.iter().find(|byte| !byte.is_ascii_whitespace() && **byte != 0 && !matches!(**byte, 0xfe | 0xff)) {
        Some(b'{') => Kind::GeoJson,
        Some(b'<') => Kind::Gpx,
        _ => Kind::Csv,
    }
}

/// Reads a file of any of the three kinds and says what bringing it in would do.
///
/// # Errors
/// If it cannot be read; the message names the row where there is one.
pub fn read(bytes: &[u8], options: &Options, world: &World, today: Day) -> Result<Preview, Unreadable> {
    read_watched(bytes, options, world, today, &Nobody).map_err(NotRead::unwatched)
}

/// The same, watched: it can be stopped between any two rows.
///
/// # Errors
/// If the file cannot be read, or the reading was stopped.
pub fn read_watched(
    bytes: &[u8],
    options: &Options,
    world: &World,
    today: Day,
    watch: &dyn Watch,
) -> Result<Preview, NotRead> {
    match kind_of(bytes) {
        Kind::Csv => table::read(bytes, options, world, today, watch),
        Kind::GeoJson => geojson::read(bytes, options, world, today, watch),
        Kind::Gpx => gpx::read(bytes, options, world, today, watch),
    }
}
