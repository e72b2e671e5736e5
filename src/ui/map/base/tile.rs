//! A decoded tile, ready to be drawn: shapes by class in parts of the tile's side, areas cut into triangles.

use super::classes::{Class, class, is_land_layer};
use super::fill::Fill;
use super::lines::{cut, outline};
use super::mvt::{Layer, Shape, layers};

/// How far lines reach over the tile's edge, in parts of its side: neighbours overlap by about half a point.
const OVERLAP: f32 = 0.001;

/// What lies under a tile's areas.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ground {
    /// The pack draws land upon sea.
    Sea,
    /// The pack draws water upon land.
    Land,
}

/// A name on the map.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// Where, in parts of the tile's side.
    pub at: [f32; 2],
    /// Its name.
    pub name: String,
    /// [`Class::Place`], [`Class::Region`] or [`Class::SeaName`].
    pub class: Class,
}

/// Lines of one class, in parts of the tile's side.
pub type Lines = Vec<Vec<[f32; 2]>>;

/// Everything drawn of one tile.
#[derive(Debug, Clone, PartialEq)]
pub struct TileShapes {
    /// What lies below.
    pub ground: Ground,
    /// Land areas.
    pub land: Fill,
    /// Woods.
    pub wood: Fill,
    /// Built-up areas.
    pub town: Fill,
    /// Sea upon land.
    pub sea: Fill,
    /// Lakes.
    pub water: Fill,
    /// Coast lines.
    pub coast: Lines,
    /// Rivers.
    pub rivers: Lines,
    /// Borders between countries.
    pub borders: Lines,
    /// Main roads.
    pub road_1: Lines,
    /// Lesser roads.
    pub road_2: Lines,
    /// Tracks.
    pub tracks: Lines,
    /// Names.
    pub places: Vec<Place>,
}

impl TileShapes {
    /// Decodes a tile. `has_land` says whether the pack has a layer of land, as its description tells; a tile with such a
    /// layer shows it by itself.
    pub fn decode(bytes: &[u8], has_land: bool) -> Self {
        let layers = layers(bytes);
        let on_sea = has_land || layers.iter().any(|layer| is_land_layer(layer.name));
        let mut shapes = Self::empty(if on_sea { Ground::Sea } else { Ground::Land });
        for layer in &layers {
            for feature in &layer.features {
                if let Some(class) = class(layer, feature) {
                    match &feature.shape {
                        Shape::Points(points) => {
                            let name = layer.text(feature, "name").unwrap_or_default();
                            shapes.add_places(layer, class, name, points);
                        }
                        Shape::Lines(lines) => shapes.add_lines(layer, class, lines),
                        Shape::Polygons(polygons) => shapes.add_polygons(layer, class, polygons),
                    }
                }
            }
        }
        shapes
    }

    fn empty(ground: Ground) -> Self {
        Self {
            ground,
            land: Fill::default(),
            wood: Fill::default(),
            town: Fill::default(),
            sea: Fill::default(),
            water: Fill::default(),
            coast: Lines::new(),
            rivers: Lines::new(),
            borders: Lines::new(),
            road_1: Lines::new(),
            road_2: Lines::new(),
            tracks: Lines::new(),
            places: Vec::new(),
        }
    }

    fn add_places(&mut self, layer: &Layer<'_>, class: Class, name: &str, points: &[[f32; 2]]) {
        let class = match class {
            Class::Place(_) | Class::Region | Class::SeaName => class,
            Class::Sea | Class::Water => Class::SeaName,
            _ => return,
        };
        let side = layer.extent as f32;
        for [x, y] in points {
            let at = [x / side, y / side];
            // The neighbour's names lie in the margin: each is drawn by its own tile.
            if !name.is_empty() && at.iter().all(|part| (0.0..1.0).contains(part)) {
                self.places.push(Place { at, name: name.to_owned(), class });
            }
        }
    }

    fn add_lines(&mut self, layer: &Layer<'_>, class: Class, lines: &[Vec<[f32; 2]>]) {
        let list = match class {
            Class::River | Class::Water => &mut self.rivers,
            Class::Road1 => &mut self.road_1,
            Class::Road2 => &mut self.road_2,
            Class::Track => &mut self.tracks,
            Class::Border => &mut self.borders,
            _ => return,
        };
        for line in lines {
            list.extend(inside(line, layer.extent));
        }
    }

    fn add_polygons(&mut self, layer: &Layer<'_>, class: Class, polygons: &[Vec<Vec<[f32; 2]>>]) {
        let ground = self.ground;
        let (fill, has_coast) = match class {
            Class::Land => (&mut self.land, true),
            Class::Sea => (&mut self.sea, ground == Ground::Land),
            Class::Water => (&mut self.water, false),
            Class::Wood => (&mut self.wood, false),
            Class::Town => (&mut self.town, false),
            _ => return,
        };
        for polygon in polygons {
            fill.append(&Fill::of(polygon).scaled(1.0 / layer.extent as f32));
            if has_coast {
                for line in polygon.iter().flat_map(|ring| outline(ring, layer.extent as f32)) {
                    self.coast.extend(inside(&line, layer.extent));
                }
            }
        }
    }
}

/// The parts of a line inside the tile, in parts of its side.
fn inside(line: &[[f32; 2]], extent: u32) -> Lines {
    let line: Vec<[f32; 2]> = line.iter().map(|point| point.map(|x| x / extent as f32)).collect();
    cut(&line, [-OVERLAP; 2], [1.0 + OVERLAP; 2])
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use proptest::prelude::*;

    use super::super::demo::PACK;
    use super::super::pmtiles::Archive;
    use super::*;

    #[test]
    fn the_demo_island_decodes_into_every_class() {
        let mut archive = Archive::open(Arc::new(PACK)).expect("opens");
        let bytes = archive.tile(5, 30, 19).expect("reads").expect("is there");
        let shapes = TileShapes::decode(&bytes, false);
        assert_eq!(shapes.ground, Ground::Sea);
        assert!(shapes.land.area() > 0.0 && shapes.water.area() > 0.0 && shapes.wood.area() > 0.0);
        assert!(shapes.wood.area() < shapes.land.area());
        for lines in [&shapes.coast, &shapes.road_1] {
            assert!(!lines.is_empty());
        }
        let names: Vec<&str> = shapes.places.iter().map(|place| place.name.as_str()).collect();
        assert!(names.contains(&"Port Sallow"), "{names:?}");
    }

    #[test]
    fn a_pack_without_land_draws_water_upon_land() {
        assert_eq!(TileShapes::decode(&[], false).ground, Ground::Land);
        assert_eq!(TileShapes::decode(&[], true).ground, Ground::Sea);
        // A layer "earth" without features says by itself that land is drawn.
        assert_eq!(TileShapes::decode(b"\x1a\x07\x0a\x05earth", false).ground, Ground::Sea);
    }

    proptest! {
        #[test]
        fn changed_tiles_are_survived(changes in proptest::collection::vec((0usize..60_000, any::<u8>()), 1..30)) {
            let mut archive = Archive::open(Arc::new(PACK)).expect("opens");
            let mut bytes = archive.tile(8, 241, 159).expect("reads").expect("is there");
            let len = bytes.len();
            for (at, value) in changes {
                bytes[at % len] = value;
            }
            let shapes = TileShapes::decode(&bytes, true);
            prop_assert!(shapes.land.points.iter().flatten().all(|x| x.is_finite()));
        }
    }
}
