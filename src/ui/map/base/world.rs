//! The embedded coarse world: land and borders of Natural Earth at 1:50 million, in three levels of detail.
//!
//! Made by `assets/world/make_world.py`, which describes the file. Cells are cut into triangles when they are first seen and
//! kept; a frame only moves the visible ones to the screen.

use std::collections::BTreeMap;
use std::io::Read as _;
use std::sync::OnceLock;

use egui::{Mesh, Pos2, Shape, Stroke};
use flate2::read::GzDecoder;

use super::fill::Fill;
use super::lines::outline;
use super::look::BaseColours;
use super::mercator::View;
use super::paint::line_shape;
use super::wire::Wire;

const BYTES: &[u8] = include_bytes!("../../../../assets/world/land-50m.bin");

/// Log2 of the units along the world's width.
const GRID_LOG: u32 = 17;

/// From these zooms on the next level is drawn: its tolerance was chosen to stay below a point there.
const NEXT_LEVEL_AT: [f64; 2] = [2.5, 4.5];

/// What stands about the data wherever it is credited.
pub const CREDIT: &str = "Natural Earth";

type Line = Vec<[f32; 2]>;

/// The coarse world.
pub struct World {
    levels: Vec<Level>,
}

struct Level {
    side_log: u32,
    cells: BTreeMap<u32, Cell>,
    /// Units of this level along a cell's side.
    cell_units: f32,
}

struct Cell {
    polygons: Vec<Vec<Line>>,
    borders: Vec<Line>,
    ready: OnceLock<Ready>,
}

struct Ready {
    land: Fill,
    coast: Vec<Line>,
}

impl World {
    /// The world, read once for the whole program. Empty only if the embedded bytes were damaged, which a test rules out.
    pub fn shared() -> &'static Self {
        static WORLD: OnceLock<World> = OnceLock::new();
        WORLD.get_or_init(|| Self { levels: read(BYTES).unwrap_or_default() })
    }

    /// Adds land, coast and borders of the visible part to `shapes`.
    pub fn paint(&self, view: &View, colours: &BaseColours, shapes: &mut Vec<Shape>) {
        let Some(level) = self.level(view.zoom()) else {
            return;
        };
        let mut land = Mesh::default();
        let mut lines = Vec::new();
        let coast = Stroke::new(if view.zoom() < 5.0 { 1.0 } else { 1.5 }, colours.coast);
        let border = Stroke::new(1.0, colours.track);
        for (cell, place) in level.visible(view) {
            let ready = cell.ready(level.cell_units);
            ready.land.paint(&mut land, colours.land, &place);
            let borders = cell.borders.iter().map(|line| (line, border));
            for (line, stroke) in borders.chain(ready.coast.iter().map(|line| (line, coast))) {
                lines.extend(line_shape(line, &place, view.rect(), stroke));
            }
        }
        shapes.push(Shape::mesh(land));
        shapes.extend(lines);
    }

    /// The coast lines of the visible part, in screen points.
    pub fn coast(&self, view: &View) -> Vec<Vec<Pos2>> {
        let Some(level) = self.level(view.zoom()) else { return Vec::new() };
        let lines = level.visible(view).flat_map(|(cell, place)| {
            let lines = cell.ready(level.cell_units).coast.iter();
            lines.map(|line| line.iter().copied().map(&place).collect()).collect::<Vec<_>>()
        });
        lines.collect()
    }

    fn level(&self, zoom: f64) -> Option<&Level> {
        let wanted = NEXT_LEVEL_AT.iter().filter(|&&from| zoom >= from).count();
        self.levels.get(wanted).or(self.levels.last())
    }
}

impl Level {
    /// The cells on the screen, each with the way from its units to screen points. The world repeats east and west, so that
    /// an island near the antimeridian has both its neighbours.
    fn visible(&self, view: &View) -> impl Iterator<Item = (&Cell, impl Fn([f32; 2]) -> Pos2 + use<>)> {
        let side = f64::from(1u32 << self.side_log);
        let [[left, top], [right, bottom]] = view.corners();
        let view = *view;
        let units = f64::from(self.cell_units);
        self.cells.iter().flat_map(move |(&index, cell)| {
            let (column, row) = (f64::from(index & ((1 << self.side_log) - 1)), f64::from(index >> self.side_log));
            (-1i32..=1).filter_map(move |turn| {
                let (x, y) = (column / side + f64::from(turn), row / side);
                let seen = x < right && x + 1.0 / side > left && y < bottom && y + 1.0 / side > top;
                let scale = (view.world() / side / units) as f32;
                let origin = view.screen([x, y]);
                seen.then_some((cell, move |[x, y]: [f32; 2]| Pos2::new(origin.x + x * scale, origin.y + y * scale)))
            })
        })
    }
}

impl Cell {
    fn ready(&self, cell_units: f32) -> &Ready {
        self.ready.get_or_init(|| {
            let mut land = Fill::default();
            for polygon in &self.polygons {
                land.append(&Fill::of(polygon));
            }
            let rings = self.polygons.iter().flatten();
            Ready { land, coast: rings.flat_map(|ring| outline(ring, cell_units)).collect() }
        })
    }
}

fn read(packed: &[u8]) -> Option<Vec<Level>> {
    let mut bytes = Vec::new();
    GzDecoder::new(packed).read_to_end(&mut bytes).ok()?;
    let mut wire = Wire::new(bytes.strip_prefix(b"LNW1")?);
    let count = wire.varint()?;
    (0..count).map(|_| level(&mut wire)).collect()
}

fn level(wire: &mut Wire<'_>) -> Option<Level> {
    let side_log = u32::try_from(wire.varint()?).ok()?;
    let unit_log = u32::try_from(wire.varint()?).ok()?;
    let cell_units = (1u32 << GRID_LOG.checked_sub(side_log + unit_log)?) as f32;
    let mut cells = BTreeMap::new();
    for _ in 0..wire.varint()? {
        let index = u32::try_from(wire.varint()?).ok()?;
        let polygons = list(wire, |wire| list(wire, line))?;
        let borders = list(wire, line)?;
        cells.insert(index, Cell { polygons, borders, ready: OnceLock::new() });
    }
    Some(Level { side_log, cells, cell_units })
}

fn list<T>(wire: &mut Wire<'_>, one: impl Fn(&mut Wire<'_>) -> Option<T>) -> Option<Vec<T>> {
    let count = wire.varint()?;
    (0..count).map(|_| one(wire)).collect()
}

fn line(wire: &mut Wire<'_>) -> Option<Line> {
    let (mut x, mut y) = (0i64, 0i64);
    list(wire, |wire| Some([wire.signed()?, wire.signed()?])).map(|steps| {
        let place = |[dx, dy]: [i64; 2]| {
            (x, y) = (x + dx, y + dy);
            [x as f32, y as f32]
        };
        steps.into_iter().map(place).collect()
    })
}

#[cfg(test)]
mod tests {
    use egui::{Rect, pos2, vec2};

    use super::super::look::tests::colours;
    use super::super::mercator::from_lon_lat;
    use super::*;

    /// Share of the world's square that the land of a level takes.
    fn land_share(level: &Level) -> f64 {
        let side = f64::from(level.cell_units) * f64::from(1u32 << level.side_log);
        level.cells.values().map(|cell| cell.ready(level.cell_units).land.area()).sum::<f64>() / (side * side)
    }

    fn is_land(level: &Level, lon: f64, lat: f64) -> bool {
        let side = f64::from(1u32 << level.side_log);
        let [x, y] = from_lon_lat(lon, lat).map(|part| part * side);
        let index = y.floor() as u32 * (1 << level.side_log) + x.floor() as u32;
        let units = f64::from(level.cell_units);
        let (x, y) = (x.fract() * units, y.fract() * units);
        let Some(cell) = level.cells.get(&index) else { return false };
        let fill = &cell.ready(level.cell_units).land;
        fill.triangles.chunks_exact(3).any(|corners| {
            let corner = |at: usize| fill.points[corners[at] as usize].map(f64::from);
            let side =
                |from: [f64; 2], to: [f64; 2]| (to[0] - from[0]) * (y - from[1]) - (to[1] - from[1]) * (x - from[0]);
            let sides = [(0, 1), (1, 2), (2, 0)].map(|(from, to)| side(corner(from), corner(to)));
            sides.iter().all(|side| *side >= 0.0) || sides.iter().all(|side| *side <= 0.0)
        })
    }

    /// Reference: shapely 2.2 on the source file, see `tests/reference/world_land.py`.
    #[test]
    fn the_land_has_its_published_size() {
        let levels = &World::shared().levels;
        assert_eq!(levels.len(), 3);
        for (level, tolerance) in levels.iter().zip([0.004, 0.001, 0.0002]) {
            let share = land_share(level);
            assert!((share - SHARE).abs() < tolerance, "{share}");
        }
    }
    const SHARE: f64 = 0.383_544;

    #[test]
    fn places_are_on_land_or_at_sea() {
        // The pole's ice, both sides of the antimeridian, a lake country, the open ocean round the demo island, the Caspian.
        for level in &World::shared().levels[1..] {
            for (lon, lat) in [
                (0.0, -80.0),
                (170.0, -84.0),
                (179.0, 67.5),
                (-179.0, 67.0),
                (25.0, 62.0),
                (147.0, -42.2),
                (100.0, 78.0),
            ] {
                assert!(is_land(level, lon, lat), "{lon} {lat}");
            }
            for (lon, lat) in [(160.0, -40.0), (-170.0, 0.0), (-30.0, 40.0), (-140.0, 55.0), (51.0, 42.0)] {
                assert!(!is_land(level, lon, lat), "{lon} {lat}");
            }
        }
    }

    #[test]
    fn a_view_costs_what_it_shows() {
        let world = World::shared();
        let rect = Rect::from_min_size(pos2(0.0, 0.0), vec2(1280.0, 800.0));
        let points = |lon, lat, zoom| {
            let mut shapes = Vec::new();
            world.paint(&View::new(rect, from_lon_lat(lon, lat), zoom), &colours(), &mut shapes);
            shapes
                .iter()
                .map(|shape| if let Shape::Mesh(mesh) = shape { mesh.vertices.len() } else { 0 })
                .sum::<usize>()
        };
        assert_eq!(points(160.0, -40.0, 9.0), 0, "open ocean");
        let everything = points(0.0, 0.0, 2.0);
        assert!((1_000..60_000).contains(&everything), "{everything}");
        let region = points(10.0, 50.0, 6.0);
        assert!((100..20_000).contains(&region), "{region}");
    }

    #[test]
    fn damaged_bytes_are_no_world() {
        assert!(read(b"nonsense").is_none());
        assert!(read(&BYTES[..BYTES.len() / 2]).is_none());
    }
}
