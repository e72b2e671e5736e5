//! An open map pack and its decoded tiles.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::mercator::{GeoBox, View};
use super::paint::PlacedTile;
use super::pmtiles::{Archive, PackError};
use super::source::Source;
use super::tile::TileShapes;

/// Decoded tiles kept in memory: a large screen shows about 40.
const TILES_KEPT: usize = 160;
/// Most tiles asked for one view. More are only wanted where a pack begins far above the view's zoom: it is not shown there.
const TILES_SHOWN: u64 = 150;
/// Zoom levels to look upwards for a tile that stands in while the right one is not decoded.
const STAND_IN: u8 = 6;

type TileKey = (u8, u32, u32);

/// An offline map of a region.
pub struct Pack {
    name: String,
    credit: String,
    has_land: bool,
    archive: Archive,
    tiles: BTreeMap<TileKey, Kept>,
    clock: u64,
    fault: Option<PackError>,
}

struct Kept {
    /// None where the pack has no such tile.
    shapes: Option<Arc<TileShapes>>,
    used: u64,
}

impl Pack {
    /// Opens a pack; `name` is what the user calls it.
    ///
    /// # Errors
    /// In words fit for the screen.
    pub fn open(name: impl Into<String>, source: Arc<dyn Source>) -> Result<Self, PackError> {
        let archive = Archive::open(source)?;
        // A description that cannot be read is no reason to hide a good map.
        let about = archive.metadata().ok().and_then(|text| serde_json::from_str::<serde_json::Value>(&text).ok());
        let about = about.unwrap_or_default();
        let credit = about["attribution"].as_str().map(plain_text).unwrap_or_default();
        let has_land = about["vector_layers"].as_array().is_some_and(|layers| {
            layers.iter().any(|layer| layer["id"].as_str().is_some_and(super::classes::is_land_layer))
        });
        let name = name.into();
        Ok(Self { name, credit, has_land, archive, tiles: BTreeMap::new(), clock: 0, fault: None })
    }

    /// What the user calls it.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Who made its data, as the pack says; empty where it does not.
    pub fn credit(&self) -> &str {
        &self.credit
    }

    /// The part of the world it covers.
    pub fn bounds(&self) -> GeoBox {
        self.archive.header().bounds
    }

    /// What was wrong with the last tile that could not be read.
    pub fn fault(&self) -> Option<&PackError> {
        self.fault.as_ref()
    }

    /// The tiles of a view, and whether some are still to be decoded. Decodes at most `budget` tiles and takes them off it;
    /// meanwhile a tile of a smaller zoom stands in.
    pub(super) fn tiles(&mut self, view: &View, budget: &mut usize) -> (Vec<PlacedTile>, bool) {
        self.clock += 1;
        let (mut placed, mut pending) = (BTreeMap::new(), false);
        for key in self.wanted(view) {
            if !self.tiles.contains_key(&key) {
                if *budget == 0 {
                    pending = true;
                    placed.extend(self.stand_in(key));
                    continue;
                }
                *budget -= 1;
                self.decode(key);
            }
            if let Some(kept) = self.tiles.get_mut(&key) {
                kept.used = self.clock;
                placed.extend(kept.shapes.clone().map(|shapes| (key, shapes)));
            }
        }
        self.forget();
        let covered = self.bounds().corners();
        // Smaller zooms first: a stand-in lies below the tiles that are ready.
        (placed.into_iter().map(|(key, shapes)| place(key, shapes, covered)).collect(), pending)
    }

    fn wanted(&self, view: &View) -> Vec<TileKey> {
        let header = self.archive.header();
        // Vector tiles are made to be 512 points wide: one zoom below the view's.
        let ideal = (view.zoom().round() - 1.0).max(0.0) as u8;
        let zoom = ideal.clamp(header.zoom_min, header.zoom_max);
        let side = f64::from(1u32 << zoom);
        let (seen, covered) = (view.corners(), header.bounds.corners());
        let span = |axis: usize| {
            let from = seen[0][axis].max(covered[0][axis]).clamp(0.0, 1.0);
            let to = seen[1][axis].min(covered[1][axis]).clamp(0.0, 1.0);
            let first = (from * side) as u32;
            // The last tile is the one that ends at `to`, not the one that begins there.
            (from < to).then(|| (first, ((to * side).ceil() as u32 - 1).max(first)))
        };
        let (Some((left, right)), Some((top, bottom))) = (span(0), span(1)) else {
            return Vec::new();
        };
        if u64::from(right - left + 1) * u64::from(bottom - top + 1) > TILES_SHOWN {
            return Vec::new();
        }
        (top..=bottom).flat_map(|y| (left..=right).map(move |x| (zoom, x, y))).collect()
    }

    fn decode(&mut self, key: TileKey) {
        let (zoom, x, y) = key;
        let shapes = match self.archive.tile(zoom, x, y) {
            Ok(bytes) => bytes.map(|bytes| Arc::new(TileShapes::decode(&bytes, self.has_land))),
            Err(error) => {
                self.fault = Some(error);
                None
            }
        };
        self.tiles.insert(key, Kept { shapes, used: self.clock });
    }

    fn stand_in(&mut self, (zoom, x, y): TileKey) -> Option<(TileKey, Arc<TileShapes>)> {
        let clock = self.clock;
        (1..=STAND_IN.min(zoom)).find_map(|up| {
            let key = (zoom - up, x >> up, y >> up);
            let kept = self.tiles.get_mut(&key)?;
            kept.used = clock;
            kept.shapes.clone().map(|shapes| (key, shapes))
        })
    }

    fn forget(&mut self) {
        while self.tiles.len() > TILES_KEPT {
            let oldest = self.tiles.iter().min_by_key(|(_, kept)| kept.used).map(|(&key, _)| key);
            let Some(key) = oldest else { return };
            self.tiles.remove(&key);
        }
    }
}

fn place((zoom, x, y): TileKey, shapes: Arc<TileShapes>, covered: [[f64; 2]; 2]) -> PlacedTile {
    let side = 1.0 / f64::from(1u32 << zoom);
    let origin = [f64::from(x) * side, f64::from(y) * side];
    let inside = |axis: usize| [origin[axis].max(covered[0][axis]), (origin[axis] + side).min(covered[1][axis])];
    let ([left, right], [top, bottom]) = (inside(0), inside(1));
    PlacedTile { shapes, origin, side, covered: [[left, top], [right, bottom]] }
}

/// A credit line without its HTML tags.
fn plain_text(html: &str) -> String {
    let mut text = String::new();
    let mut in_tag = false;
    for c in html.chars() {
        match c {
            '<' => in_tag = true,
            '>' => in_tag = false,
            _ if !in_tag => text.push(c),
            _ => {}
        }
    }
    text.replace("&copy;", "©").replace("&amp;", "&").trim().to_owned()
}

#[cfg(test)]
mod tests {
    use egui::{Pos2, Rect, vec2};

    use super::super::demo::PACK;
    use super::super::mercator::from_lon_lat;
    use super::*;

    fn open() -> Pack {
        Pack::open("Wrackmore", Arc::new(PACK)).expect("opens")
    }

    fn view(zoom: f64) -> View {
        View::new(Rect::from_min_size(Pos2::ZERO, vec2(1036.0, 564.0)), from_lon_lat(160.0, -40.0), zoom)
    }

    fn zooms(pack: &mut Pack, zoom: f64) -> Vec<u8> {
        let (tiles, pending) = pack.tiles(&view(zoom), &mut 999);
        assert!(!pending);
        tiles.iter().map(|tile| (1.0 / tile.side).log2().round() as u8).collect()
    }

    #[test]
    fn tiles_fit_the_zoom_and_stop_at_the_packs_largest() {
        let mut pack = open();
        for (zoom, expected) in [(2.0, 1), (6.0, 5), (10.2, 9), (13.0, 12), (16.0, 12), (20.0, 12)] {
            let zooms = zooms(&mut pack, zoom);
            assert!(!zooms.is_empty() && zooms.iter().all(|&z| z == expected), "{zoom}: {zooms:?}");
        }
        assert_eq!(pack.fault(), None);
    }

    #[test]
    fn the_budget_holds_and_a_larger_tile_stands_in() {
        let mut pack = open();
        zooms(&mut pack, 8.0);
        let mut budget = 1;
        let (tiles, pending) = pack.tiles(&view(12.0), &mut budget);
        assert_eq!(budget, 0);
        assert!(pending);
        assert!(tiles.iter().any(|tile| tile.side > 1.0 / 200.0), "a stand-in");
        let mut frames = 1;
        while pack.tiles(&view(12.0), &mut 1).1 {
            frames += 1;
            assert!(frames < 30);
        }
        assert!(frames > 2);
    }

    #[test]
    fn elsewhere_it_shows_nothing() {
        let mut pack = open();
        let view = View::new(Rect::from_min_size(Pos2::ZERO, vec2(800.0, 600.0)), from_lon_lat(10.0, 50.0), 9.0);
        assert!(pack.tiles(&view, &mut 99).0.is_empty());
    }

    #[test]
    fn memory_is_bounded() {
        let mut pack = open();
        for zoom in 4..=13 {
            for step in 0..8 {
                let lon = 159.55 + 0.11 * f64::from(step);
                let rect = Rect::from_min_size(Pos2::ZERO, vec2(1400.0, 900.0));
                pack.tiles(&View::new(rect, from_lon_lat(lon, -40.0), f64::from(zoom)), &mut 999);
            }
        }
        assert!(pack.tiles.len() <= TILES_KEPT);
    }

    #[test]
    fn the_ground_stays_inside_the_bounds() {
        let mut pack = open();
        let [min, max] = pack.bounds().corners();
        for tile in pack.tiles(&view(3.0), &mut 99).0 {
            assert!(tile.covered[0][0] >= min[0] && tile.covered[1][0] <= max[0]);
            assert!(tile.covered[0][1] >= min[1] && tile.covered[1][1] <= max[1]);
        }
    }

    #[test]
    fn a_credit_loses_its_tags() {
        assert_eq!(plain_text("<a href=\"x\">&copy; Someone</a>"), "© Someone");
    }
}
