//! Cuts the island into vector tiles (Mapbox Vector Tile specification 2.1) with layers land, woods, water, rivers, roads
//! and places.

use std::collections::BTreeMap;
use std::f64::consts::PI;

use crate::bends::{Point, bent, simplified};
use crate::encode::{self, Feature, bytes_field, draw, layer};
use crate::island;

/// Largest zoom of the pack: 7.5 km a tile, 1.8 m a unit.
pub const ZOOM_MAX: u8 = 12;
/// Units along a tile's side.
const EXTENT: f64 = encode::EXTENT as f64;
/// How far areas and lines reach over a tile's edge, in units.
const MARGIN: f64 = 64.0;
/// Room round the island inside the pack's bounds, in hundreds of metres.
const SURROUND: f64 = 30.0;

/// Zoom, column, row.
pub type TileKey = (u8, u32, u32);

enum Kind {
    Area,
    Line,
}

/// Something to be drawn, in normalised Mercator coordinates.
struct Item {
    layer: &'static str,
    class: &'static str,
    kind: Kind,
    zoom_min: u8,
    points: Vec<Point>,
}

struct Name {
    class: &'static str,
    text: &'static str,
    zoom_min: u8,
    at: Point,
}

/// West, south, east, north in degrees.
pub fn bounds() -> [f64; 4] {
    let all = island::COAST.iter().chain(island::ISLETS.iter().copied().flatten());
    let (mut min, mut max) = ([f64::MAX; 2], [f64::MIN; 2]);
    for &(x, y) in all {
        for (k, value) in [f64::from(x), f64::from(y)].into_iter().enumerate() {
            min[k] = min[k].min(value - SURROUND);
            max[k] = max[k].max(value + SURROUND);
        }
    }
    let ((west, south), (east, north)) = (island::lon_lat(min[0], min[1]), island::lon_lat(max[0], max[1]));
    [west, south, east, north]
}

/// All tiles that hold anything, unpacked.
pub fn all() -> BTreeMap<TileKey, Vec<u8>> {
    let (items, names) = (items(), names());
    let [west, south, east, north] = bounds();
    let (first, last) = (mercator(west, north), mercator(east, south));
    let mut tiles = BTreeMap::new();
    for zoom in 0..=ZOOM_MAX {
        let side = f64::from(1u32 << zoom);
        // A third of a point where a tile is 512 points wide; everything at the largest zoom.
        let tolerance = if zoom == ZOOM_MAX { 0.8 } else { 2.7 } / EXTENT / side;
        let drawn: Vec<Item> = items
            .iter()
            .filter(|item| item.zoom_min <= zoom)
            .map(|item| Item { points: simplified(&item.points, tolerance), kind: item.kind(), ..*item })
            .collect();
        let [from, to] = [first, last].map(|corner| corner.map(|part| (part * side) as u32));
        for y in from[1]..=to[1] {
            for x in from[0]..=to[0] {
                let tile = tile((zoom, x, y), &drawn, &names);
                if !tile.is_empty() {
                    tiles.insert((zoom, x, y), tile);
                }
            }
        }
    }
    tiles
}

impl Item {
    fn kind(&self) -> Kind {
        match self.kind {
            Kind::Area => Kind::Area,
            Kind::Line => Kind::Line,
        }
    }
}

fn items() -> Vec<Item> {
    let mut items = Vec::new();
    let mut add = |layer, class, kind, zoom_min, line: Vec<Point>| {
        let mut points: Vec<Point> = line
            .into_iter()
            .map(|[east, north]| {
                let (lon, lat) = island::lon_lat(east, north);
                mercator(lon, lat)
            })
            .collect();
        if matches!(kind, Kind::Area) {
            // Outlines run clockwise on the screen, as the specification asks.
            if signed_area(&points) < 0.0 {
                points.reverse();
            }
            points.push(points[0]);
        }
        items.push(Item { layer, class, kind, zoom_min, points });
    };
    add("land", "land", Kind::Area, 0, bent(island::COAST, true, false, 0.13, 3));
    for islet in island::ISLETS {
        add("land", "land", Kind::Area, 5, bent(islet, true, false, 0.1, 2));
    }
    for wood in island::WOODS {
        add("woods", "wood", Kind::Area, 4, bent(wood, true, false, 0.11, 3));
    }
    add("water", "lake", Kind::Area, 4, bent(island::LAKE, true, true, 0.06, 2));
    for river in island::RIVERS {
        add("rivers", "river", Kind::Line, 5, bent(river, false, true, 0.08, 2));
    }
    for road in island::MAIN_ROADS {
        add("roads", "1", Kind::Line, 5, bent(road, false, true, 0.03, 2));
    }
    for road in island::LESSER_ROADS {
        add("roads", "2", Kind::Line, 7, bent(road, false, true, 0.05, 2));
    }
    for track in island::TRACKS {
        add("roads", "track", Kind::Line, 8, bent(track, false, true, 0.05, 2));
    }
    items
}

fn names() -> Vec<Name> {
    let place = |(east, north): island::At| {
        let (lon, lat) = island::lon_lat(f64::from(east), f64::from(north));
        mercator(lon, lat)
    };
    let town = |town: &island::Town| {
        let (class, zoom_min) = if town.rank == 0 { ("city", 5) } else { ("town", 7) };
        Name { class, text: town.name, zoom_min, at: place(town.at) }
    };
    let (bay, at) = island::BAY;
    let mut names: Vec<Name> = island::TOWNS.iter().map(town).collect();
    names.push(Name { class: "bay", text: bay, zoom_min: 8, at: place(at) });
    names
}

fn mercator(lon: f64, lat: f64) -> Point {
    [lon / 360.0 + 0.5, 0.5 - lat.to_radians().tan().asinh() / (2.0 * PI)]
}

fn signed_area(ring: &[Point]) -> f64 {
    ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum()
}

fn tile((zoom, x, y): TileKey, items: &[Item], names: &[Name]) -> Vec<u8> {
    let side = f64::from(1u32 << zoom);
    let local = |point: Point| [(point[0] * side - f64::from(x)) * EXTENT, (point[1] * side - f64::from(y)) * EXTENT];
    let mut layers: BTreeMap<&'static str, Vec<Feature>> = BTreeMap::new();
    for item in items {
        let points: Vec<Point> = item.points.iter().map(|&point| local(point)).collect();
        let (kind, geometry) = match item.kind {
            Kind::Area => (3, area(&points)),
            Kind::Line => (2, line(&points)),
        };
        if !geometry.is_empty() {
            layers.entry(item.layer).or_default().push(Feature { class: item.class, name: None, kind, geometry });
        }
    }
    for name in names.iter().filter(|name| name.zoom_min <= zoom) {
        let at = local(name.at);
        if at.iter().all(|part| (0.0..EXTENT).contains(part)) {
            let mut geometry = Vec::new();
            draw(&mut geometry, &[whole(at)], &mut (0, 0), false);
            let feature = Feature { class: name.class, name: Some(name.text), kind: 1, geometry };
            layers.entry("places").or_default().push(feature);
        }
    }
    layers.iter().flat_map(|(name, features)| bytes_field(3, &layer(name, features))).collect()
}

/// An area cut to the tile and its margin (Sutherland and Hodgman 1974).
fn area(ring: &[Point]) -> Vec<u8> {
    let mut ring = ring[..ring.len() - 1].to_vec();
    for axis in 0..2 {
        for (edge, sign) in [(-MARGIN, 1.0), (EXTENT + MARGIN, -1.0)] {
            let depth = |p: &Point| sign * (p[axis] - edge);
            let mut cut = Vec::with_capacity(ring.len());
            for (i, to) in ring.iter().enumerate() {
                let from = &ring[(i + ring.len() - 1) % ring.len()];
                if (depth(from) >= 0.0) != (depth(to) >= 0.0) {
                    let share = depth(from) / (depth(from) - depth(to));
                    let mut point = [0, 1].map(|k| from[k] + share * (to[k] - from[k]));
                    point[axis] = edge;
                    cut.push(point);
                }
                if depth(to) >= 0.0 {
                    cut.push(*to);
                }
            }
            ring = cut;
        }
    }
    let mut points: Vec<(i32, i32)> = Vec::new();
    for point in ring {
        let point = whole(point);
        if points.last() != Some(&point) {
            points.push(point);
        }
    }
    if points.last() == points.first() {
        points.pop();
    }
    let mut geometry = Vec::new();
    let doubled: i64 = points
        .iter()
        .zip(points.iter().cycle().skip(1))
        .map(|(a, b)| i64::from(a.0) * i64::from(b.1) - i64::from(b.0) * i64::from(a.1))
        .sum();
    if points.len() >= 3 && doubled > 0 {
        draw(&mut geometry, &points, &mut (0, 0), true);
    }
    geometry
}

/// A line cut to the tile and its margin.
fn line(line: &[Point]) -> Vec<u8> {
    let mut parts: Vec<Vec<(i32, i32)>> = Vec::new();
    let mut joined = false;
    for pair in line.windows(2) {
        let Some([from, to]) = inside(pair[0], pair[1]) else {
            joined = false;
            continue;
        };
        let (first, second) = (whole(from), whole(to));
        match parts.last_mut() {
            Some(part) if joined && part.last() == Some(&first) => {
                if first != second {
                    part.push(second);
                }
            }
            _ => parts.push(vec![first, second]),
        }
        joined = to == pair[1];
    }
    parts.retain(|part| part.len() > 2 || part[0] != part[1]);
    let (mut geometry, mut pen) = (Vec::new(), (0, 0));
    for part in &parts {
        draw(&mut geometry, part, &mut pen, false);
    }
    geometry
}

fn inside(from: Point, to: Point) -> Option<[Point; 2]> {
    let (mut enter, mut leave) = (0.0f64, 1.0f64);
    for axis in 0..2 {
        let step = to[axis] - from[axis];
        for (step, room) in [(-step, from[axis] + MARGIN), (step, EXTENT + MARGIN - from[axis])] {
            if step == 0.0 && room < 0.0 {
                return None;
            } else if step < 0.0 {
                enter = enter.max(room / step);
            } else if step > 0.0 {
                leave = leave.min(room / step);
            }
        }
    }
    let at = |share: f64| [0, 1].map(|k| from[k] + share * (to[k] - from[k]));
    (enter < leave).then(|| [if enter > 0.0 { at(enter) } else { from }, if leave < 1.0 { at(leave) } else { to }])
}

fn whole(point: Point) -> (i32, i32) {
    (point[0].round() as i32, point[1].round() as i32)
}
