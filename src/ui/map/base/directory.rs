//! The header and directories of a PMTiles file, version 3.
//!
//! Layout from the published PMTiles version 3 specification (protomaps, 2022, CC0).

use super::mercator::GeoBox;
use super::wire::Wire;

/// Length of the header in bytes.
pub(super) const HEADER_LEN: usize = 127;

/// The largest zoom of a tile grid whose numbers still fit.
const ZOOM_MAX: u8 = 26;

/// How bytes inside a PMTiles file are packed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Packing {
    /// As they are.
    Plain,
    /// gzip.
    Gzip,
    /// Brotli, Zstandard, or not said: not read by Lidnote.
    Other,
}

/// A stretch of the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stretch {
    /// Where it begins, in bytes from the start of the file.
    pub offset: u64,
    /// Length in bytes.
    pub len: u64,
}

impl Stretch {
    /// Where it ends; none where the numbers overflow.
    pub fn end(&self) -> Option<u64> {
        self.offset.checked_add(self.len)
    }
}

/// What the header of a PMTiles file says.
#[derive(Debug, Clone, PartialEq)]
pub struct Header {
    /// The root directory.
    pub root: Stretch,
    /// The metadata, a JSON object.
    pub metadata: Stretch,
    /// All leaf directories.
    pub leaves: Stretch,
    /// All tiles.
    pub tiles: Stretch,
    /// Packing of directories and metadata.
    pub inner: Packing,
    /// Packing of tiles.
    pub packing: Packing,
    /// Whether the tiles are vector tiles.
    pub vector: bool,
    /// Least zoom with tiles.
    pub zoom_min: u8,
    /// Largest zoom with tiles, at most 26.
    pub zoom_max: u8,
    /// The part of the world that is covered.
    pub bounds: GeoBox,
}

/// Reads a header; none where it is not one of version 3 or its numbers make no sense.
pub(super) fn header(bytes: &[u8]) -> Option<Header> {
    let bytes: &[u8; HEADER_LEN] = bytes.get(..HEADER_LEN)?.try_into().ok()?;
    if &bytes[..7] != b"PMTiles" || bytes[7] != 3 {
        return None;
    }
    let stretch = |at: usize| Some(Stretch { offset: long(bytes, at)?, len: long(bytes, at + 8)? });
    let (zoom_min, zoom_max) = (bytes[100], bytes[101]);
    if zoom_min > zoom_max || zoom_max > ZOOM_MAX {
        return None;
    }
    let (west, south) = (degrees(bytes, 102, 180.0)?, degrees(bytes, 106, 90.0)?);
    let (east, north) = (degrees(bytes, 110, 180.0)?, degrees(bytes, 114, 90.0)?);
    Some(Header {
        root: stretch(8)?,
        metadata: stretch(24)?,
        leaves: stretch(40)?,
        tiles: stretch(56)?,
        inner: packing(bytes[97]),
        packing: packing(bytes[98]),
        vector: bytes[99] == 1,
        zoom_min,
        zoom_max,
        bounds: GeoBox { west: west.min(east), south: south.min(north), east: east.max(west), north: north.max(south) },
    })
}

fn packing(byte: u8) -> Packing {
    match byte {
        1 => Packing::Plain,
        2 => Packing::Gzip,
        _ => Packing::Other,
    }
}

fn long(bytes: &[u8], at: usize) -> Option<u64> {
    Some(u64::from_le_bytes(bytes.get(at..at + 8)?.try_into().ok()?))
}

/// Degrees are written as whole numbers of 1e-7.
fn degrees(bytes: &[u8], at: usize, most: f64) -> Option<f64> {
    let whole = i32::from_le_bytes(bytes.get(at..at + 4)?.try_into().ok()?);
    Some((f64::from(whole) / 1e7).clamp(-most, most))
}

/// One line of a directory: where a run of tiles, or a leaf directory, lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Entry {
    /// Number of the first tile along the Hilbert curve.
    pub(super) tile: u64,
    /// From the start of the tiles, or of the leaves.
    pub(super) offset: u64,
    /// Length in bytes.
    pub(super) len: u32,
    /// How many tiles in a row share these bytes; 0 means a leaf directory.
    pub(super) run: u32,
}

/// Reads a directory, already unpacked; none where it is damaged.
pub(super) fn directory(bytes: &[u8]) -> Option<Vec<Entry>> {
    let mut wire = Wire::new(bytes);
    let count = usize::try_from(wire.varint()?).ok()?;
    // Every entry takes four numbers of at least a byte: a larger count would be a lie that costs memory.
    if count > wire.left() / 4 {
        return None;
    }
    let mut entries = vec![Entry { tile: 0, offset: 0, len: 0, run: 0 }; count];
    let mut tile = 0u64;
    for entry in &mut entries {
        tile = tile.checked_add(wire.varint()?)?;
        entry.tile = tile;
    }
    for entry in &mut entries {
        entry.run = u32::try_from(wire.varint()?).ok()?;
    }
    for entry in &mut entries {
        entry.len = u32::try_from(wire.varint()?).ok()?;
    }
    let mut next = None;
    for entry in &mut entries {
        // 0 stands for "right behind the one before".
        entry.offset = match wire.varint()? {
            0 => next?,
            offset => offset - 1,
        };
        next = Some(entry.offset.checked_add(u64::from(entry.len))?);
    }
    Some(entries)
}

/// The entry that holds a tile, or the leaf directory that may.
pub(super) fn find(entries: &[Entry], tile: u64) -> Option<Entry> {
    let at = entries.partition_point(|entry| entry.tile <= tile).checked_sub(1)?;
    let entry = entries[at];
    (entry.run == 0 || tile - entry.tile < u64::from(entry.run)).then_some(entry)
}

/// Number of a tile along the Hilbert curve, all smaller zooms counted before it; none where there is no such tile.
pub(super) fn tile_number(zoom: u8, x: u32, y: u32) -> Option<u64> {
    if zoom > ZOOM_MAX || x >> zoom != 0 || y >> zoom != 0 {
        return None;
    }
    let before = ((1u64 << (2 * u32::from(zoom))) - 1) / 3;
    let (mut x, mut y, mut along) = (u64::from(x), u64::from(y), 0u64);
    for bit in (0..zoom).rev() {
        let side = 1u64 << bit;
        let (right, down) = (u64::from(x & side != 0), u64::from(y & side != 0));
        along += side * side * ((3 * right) ^ down);
        // The curve enters each quarter turned: mirror so that the next bit sees it upright.
        (x, y) = (x & (side - 1), y & (side - 1));
        if down == 0 {
            if right == 1 {
                (x, y) = (side - 1 - x, side - 1 - y);
            }
            (x, y) = (y, x);
        }
    }
    Some(before + along)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Reference: the PyPI package `pmtiles` 3.8.1, `zxy_to_tileid`; see `tests/reference/map_pack.py`.
    #[test]
    fn tile_numbers_agree_with_the_reference() {
        for (zoom, x, y, number) in [
            (0, 0, 0, 0),
            (1, 0, 0, 1),
            (1, 0, 1, 2),
            (1, 1, 1, 3),
            (1, 1, 0, 4),
            (2, 0, 0, 5),
            (3, 5, 2, 76),
            (12, 3423, 1763, 19_078_479),
            (12, 3868, 2552, 18_066_447),
            (26, 67_108_863, 0, 6_004_799_503_160_660),
        ] {
            assert_eq!(tile_number(zoom, x, y), Some(number), "{zoom}/{x}/{y}");
        }
        assert_eq!(tile_number(3, 8, 0), None);
        assert_eq!(tile_number(27, 0, 0), None);
    }

    #[test]
    fn a_run_and_a_leaf_are_found() {
        let entry = |tile, run| Entry { tile, offset: 9, len: 3, run };
        let entries = [entry(5, 2), entry(10, 0)];
        assert_eq!(find(&entries, 4), None);
        assert_eq!(find(&entries, 6), Some(entries[0]));
        assert_eq!(find(&entries, 7), None);
        assert_eq!(find(&entries, 999), Some(entries[1]));
    }

    #[test]
    fn a_directory_is_read() {
        // Two entries: tiles 5 and 7, runs 1 and 1, lengths 10 and 20, the second right behind the first at 3.
        let entries = directory(&[2, 5, 2, 1, 1, 10, 20, 4, 0]);
        let expected = [Entry { tile: 5, offset: 3, len: 10, run: 1 }, Entry { tile: 7, offset: 13, len: 20, run: 1 }];
        assert_eq!(entries.as_deref(), Some(&expected[..]));
        assert_eq!(directory(&[1, 5, 1, 10, 0]), None, "the first cannot lie behind another");
        assert_eq!(directory(&[200, 1, 1, 1, 1]), None, "more entries than bytes");
    }

    proptest! {
        #[test]
        fn any_bytes_are_survived(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
            if let Some(entries) = directory(&bytes) {
                prop_assert!(entries.len() <= bytes.len() / 4);
            }
            prop_assert!(header(&bytes).is_none());
        }

        #[test]
        fn numbers_of_one_zoom_are_all_different(x in 0u32..64, y in 0u32..64, u in 0u32..64, v in 0u32..64) {
            prop_assume!((x, y) != (u, v));
            prop_assert_ne!(tile_number(6, x, y), tile_number(6, u, v));
        }
    }
}
