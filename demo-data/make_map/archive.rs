//! Writes a PMTiles file, version 3: header, one directory, description, tiles; equal tiles are stored once.

use std::collections::BTreeMap;
use std::io::Write as _;

use flate2::Compression;
use flate2::write::GzEncoder;

use crate::encode::varint;
use crate::tiles::TileKey;

const HEADER_LEN: u64 = 127;

const DESCRIPTION: &str = concat!(
    "{\"name\":\"Wrackmore demo pack\",\"description\":\"An invented island, for trying Lidnote.\",",
    "\"version\":\"1\",\"type\":\"baselayer\",\"attribution\":\"\",\"vector_layers\":[",
    "{\"id\":\"land\",\"fields\":{\"class\":\"String\"}},",
    "{\"id\":\"woods\",\"fields\":{\"class\":\"String\"}},",
    "{\"id\":\"water\",\"fields\":{\"class\":\"String\"}},",
    "{\"id\":\"rivers\",\"fields\":{\"class\":\"String\"}},",
    "{\"id\":\"roads\",\"fields\":{\"class\":\"String\"}},",
    "{\"id\":\"places\",\"fields\":{\"class\":\"String\",\"name\":\"String\"}}]}"
);

struct Entry {
    tile: u64,
    run: u64,
    offset: u64,
    len: u64,
}

/// The whole file. `bounds` are west, south, east, north in degrees.
///
/// # Errors
/// Only where packing in memory fails.
pub fn write(tiles: &BTreeMap<TileKey, Vec<u8>>, zoom_max: u8, bounds: [f64; 4]) -> std::io::Result<Vec<u8>> {
    let mut numbered: Vec<(u64, &Vec<u8>)> = tiles.iter().map(|(&key, bytes)| (number(key), bytes)).collect();
    numbered.sort_unstable_by_key(|&(number, _)| number);
    let (mut data, mut entries): (Vec<u8>, Vec<Entry>) = (Vec::new(), Vec::new());
    let mut stored: BTreeMap<&[u8], (u64, u64)> = BTreeMap::new();
    for (tile, bytes) in &numbered {
        let (offset, len) = if let Some(&place) = stored.get(bytes.as_slice()) {
            place
        } else {
            let packed = gzip(bytes)?;
            let place = (data.len() as u64, packed.len() as u64);
            data.extend(packed);
            stored.insert(bytes, place);
            place
        };
        match entries.last_mut() {
            Some(last) if last.offset == offset && last.tile + last.run == *tile => last.run += 1,
            _ => entries.push(Entry { tile: *tile, run: 1, offset, len }),
        }
    }
    let root = gzip(&directory(&entries))?;
    let description = gzip(DESCRIPTION.as_bytes())?;
    let counts = [numbered.len(), entries.len(), stored.len()].map(|count| count as u64);
    let mut file = header(root.len() as u64, description.len() as u64, data.len() as u64, counts, zoom_max, bounds);
    for part in [root, description, data] {
        file.extend(part);
    }
    Ok(file)
}

fn header(root: u64, description: u64, data: u64, counts: [u64; 3], zoom_max: u8, bounds: [f64; 4]) -> Vec<u8> {
    let mut header = b"PMTiles\x03".to_vec();
    let about = HEADER_LEN + root;
    let tiles = about + description;
    for number in [HEADER_LEN, root, about, description, tiles, 0, tiles, data, counts[0], counts[1], counts[2]] {
        header.extend(number.to_le_bytes());
    }
    // In tile order; directory and tiles packed with gzip; vector tiles; zooms.
    header.extend([1, 2, 2, 1, 0, zoom_max]);
    let degrees = |value: f64| ((value * 1e7).round() as i32).to_le_bytes();
    for value in bounds {
        header.extend(degrees(value));
    }
    header.push(9);
    header.extend(degrees(f64::midpoint(bounds[0], bounds[2])));
    header.extend(degrees(f64::midpoint(bounds[1], bounds[3])));
    header
}

fn directory(entries: &[Entry]) -> Vec<u8> {
    let mut out = Vec::new();
    varint(&mut out, entries.len() as u64);
    let mut last = 0;
    for entry in entries {
        varint(&mut out, entry.tile - last);
        last = entry.tile;
    }
    for entry in entries {
        varint(&mut out, entry.run);
    }
    for entry in entries {
        varint(&mut out, entry.len);
    }
    let mut next = None;
    for entry in entries {
        varint(&mut out, if next == Some(entry.offset) { 0 } else { entry.offset + 1 });
        next = Some(entry.offset + entry.len);
    }
    out
}

/// Number of a tile along the Hilbert curve, counted on from all smaller zooms.
fn number((zoom, x, y): TileKey) -> u64 {
    let before: u64 = (0..zoom).map(|zoom| 1u64 << (2 * zoom)).sum();
    let (mut x, mut y) = (i64::from(x), i64::from(y));
    let (mut along, mut side) = (0, 1i64 << zoom >> 1);
    while side > 0 {
        let (right, down) = (i64::from(x & side > 0), i64::from(y & side > 0));
        along += side * side * ((3 * right) ^ down);
        if down == 0 {
            if right == 1 {
                (x, y) = (side - 1 - x, side - 1 - y);
            }
            (x, y) = (y, x);
        }
        side >>= 1;
    }
    before + along as u64
}

/// The header carries no time, so that the same content gives the same bytes.
fn gzip(bytes: &[u8]) -> std::io::Result<Vec<u8>> {
    let mut packer = GzEncoder::new(Vec::new(), Compression::best());
    packer.write_all(bytes)?;
    packer.finish()
}
