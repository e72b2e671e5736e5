//! Decodes vector tiles (Mapbox Vector Tile specification 2.1, CC BY 3.0 US) into plain shapes.
//!
//! Tiles come from files made by anyone. A damaged tile gives what was readable before the damage, or nothing.

use super::wire::{Field, Wire, zigzag};

/// Coordinates beyond this are damage: real tiles stay within a few times their extent (4096).
const FARTHEST: i64 = 1 << 20;

/// One layer of a tile.
#[derive(Debug, Clone, PartialEq)]
pub struct Layer<'a> {
    /// Its name.
    pub name: &'a str,
    /// Units along the tile's side, at least 1.
    pub extent: u32,
    /// What is in it.
    pub features: Vec<Feature>,
    keys: Vec<&'a str>,
    values: Vec<Value<'a>>,
}

/// One thing on the map.
#[derive(Debug, Clone, PartialEq)]
pub struct Feature {
    /// Its shape, in units of the layer's extent, y down.
    pub shape: Shape,
    tags: Vec<(u32, u32)>,
}

/// The shape of a feature.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// Places.
    Points(Vec<[f32; 2]>),
    /// Lines of at least two points.
    Lines(Vec<Vec<[f32; 2]>>),
    /// Polygons: the outline, then its holes; no ring repeats its first point.
    Polygons(Vec<Vec<Vec<[f32; 2]>>>),
}

/// A tag's value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Value<'a> {
    /// Text.
    Text(&'a str),
    /// Any number.
    Number(f64),
    /// Yes or no.
    Truth(bool),
}

impl Layer<'_> {
    /// The value of a tag.
    pub fn tag(&self, feature: &Feature, key: &str) -> Option<Value<'_>> {
        let same = |&&(k, _): &&(u32, u32)| self.keys.get(k as usize) == Some(&key);
        let &(_, value) = feature.tags.iter().find(same)?;
        self.values.get(value as usize).copied()
    }

    /// The value of a tag that is text.
    pub fn text(&self, feature: &Feature, key: &str) -> Option<&str> {
        match self.tag(feature, key)? {
            Value::Text(text) => Some(text),
            Value::Number(_) | Value::Truth(_) => None,
        }
    }

    /// The value of a tag that is a number.
    pub fn number(&self, feature: &Feature, key: &str) -> Option<f64> {
        match self.tag(feature, key)? {
            Value::Number(number) => Some(number),
            Value::Text(text) => text.parse().ok(),
            Value::Truth(_) => None,
        }
    }
}

/// All layers of a tile, in its order.
pub fn layers(bytes: &[u8]) -> Vec<Layer<'_>> {
    let mut wire = Wire::new(bytes);
    let mut layers = Vec::new();
    while let Some((number, field)) = wire.field() {
        if let (3, Field::Bytes(bytes)) = (number, field) {
            layers.extend(layer(bytes));
        }
    }
    layers
}

fn layer(bytes: &[u8]) -> Option<Layer<'_>> {
    let mut layer = Layer { name: "", extent: 4096, features: Vec::new(), keys: Vec::new(), values: Vec::new() };
    let mut wire = Wire::new(bytes);
    while let Some((number, field)) = wire.field() {
        match (number, field) {
            (1, Field::Bytes(bytes)) => layer.name = std::str::from_utf8(bytes).ok()?,
            (2, Field::Bytes(bytes)) => layer.features.extend(feature(bytes)),
            (3, Field::Bytes(bytes)) => layer.keys.push(std::str::from_utf8(bytes).unwrap_or_default()),
            (4, Field::Bytes(bytes)) => layer.values.push(value(bytes)),
            (5, Field::Number(extent)) => layer.extent = u32::try_from(extent).ok().filter(|&extent| extent > 0)?,
            _ => {}
        }
    }
    Some(layer)
}

fn value(bytes: &[u8]) -> Value<'_> {
    match Wire::new(bytes).field() {
        Some((1, Field::Bytes(bytes))) => Value::Text(std::str::from_utf8(bytes).unwrap_or_default()),
        Some((2, Field::Four(bits))) => Value::Number(f64::from(f32::from_bits(bits))),
        Some((3, Field::Eight(bits))) => Value::Number(f64::from_bits(bits)),
        Some((4, Field::Number(number))) => Value::Number(number as i64 as f64),
        Some((5, Field::Number(number))) => Value::Number(number as f64),
        Some((6, Field::Number(number))) => Value::Number(zigzag(number) as f64),
        Some((7, Field::Number(number))) => Value::Truth(number != 0),
        _ => Value::Text(""),
    }
}

fn feature(bytes: &[u8]) -> Option<Feature> {
    let mut wire = Wire::new(bytes);
    let (mut tags, mut kind, mut geometry) = (Vec::new(), 0, &[][..]);
    while let Some((number, field)) = wire.field() {
        match (number, field) {
            (2, Field::Bytes(bytes)) => {
                let mut pairs = Wire::new(bytes);
                while let (Some(key), Some(value)) = (pairs.varint(), pairs.varint()) {
                    tags.push((u32::try_from(key).ok()?, u32::try_from(value).ok()?));
                }
            }
            (3, Field::Number(number)) => kind = number,
            (4, Field::Bytes(bytes)) => geometry = bytes,
            _ => {}
        }
    }
    let parts = parts(geometry)?;
    let shape = match kind {
        1 => Shape::Points(parts.into_iter().flatten().collect()),
        2 => Shape::Lines(parts.into_iter().filter(|line| line.len() > 1).collect()),
        3 => Shape::Polygons(polygons(parts)),
        _ => return None,
    };
    Some(Feature { shape, tags })
}

/// The points of a geometry, a new part at each move.
fn parts(bytes: &[u8]) -> Option<Vec<Vec<[f32; 2]>>> {
    let mut wire = Wire::new(bytes);
    let mut parts: Vec<Vec<[f32; 2]>> = Vec::new();
    let (mut x, mut y) = (0i64, 0i64);
    while wire.left() > 0 {
        let command = wire.varint()?;
        let (what, count) = (command & 7, command >> 3);
        if what == 7 {
            continue;
        }
        if what != 1 && what != 2 || count > wire.left() as u64 / 2 {
            return None;
        }
        for _ in 0..count {
            x = x.checked_add(wire.signed()?)?;
            y = y.checked_add(wire.signed()?)?;
            if x.abs() > FARTHEST || y.abs() > FARTHEST {
                return None;
            }
            let point = [x as f32, y as f32];
            match parts.last_mut() {
                Some(part) if what == 2 => part.push(point),
                _ => parts.push(vec![point]),
            }
        }
    }
    Some(parts)
}

/// Rings into polygons: one that winds like the first begins a new polygon, the others are holes. Version 2 of the
/// specification asks that outlines wind one way; taking the first ring's way reads version 1 as well.
fn polygons(rings: Vec<Vec<[f32; 2]>>) -> Vec<Vec<Vec<[f32; 2]>>> {
    let mut polygons: Vec<Vec<Vec<[f32; 2]>>> = Vec::new();
    let mut outward = None;
    for ring in rings {
        let area = signed_area(&ring);
        if ring.len() < 3 || area == 0.0 {
            continue;
        }
        let way = area > 0.0;
        match polygons.last_mut() {
            Some(polygon) if outward != Some(way) => polygon.push(ring),
            _ => {
                outward = Some(way);
                polygons.push(vec![ring]);
            }
        }
    }
    polygons
}

fn signed_area(ring: &[[f32; 2]]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).map(|(a, b)| f64::from(a[0]) * f64::from(b[1]) - f64::from(b[0]) * f64::from(a[1])).sum()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// The worked examples of the specification, section 4.3.5.
    #[test]
    fn published_geometries() {
        assert_eq!(parts(&[9, 50, 34]), Some(vec![vec![[25.0, 17.0]]]));
        assert_eq!(parts(&[17, 10, 14, 3, 9]), Some(vec![vec![[5.0, 7.0]], vec![[3.0, 2.0]]]));
        let line = vec![[2.0, 2.0], [2.0, 10.0], [10.0, 10.0]];
        assert_eq!(parts(&[9, 4, 4, 18, 0, 16, 16, 0]), Some(vec![line.clone()]));
        let second = vec![[1.0, 1.0], [3.0, 5.0]];
        assert_eq!(parts(&[9, 4, 4, 18, 0, 16, 16, 0, 9, 17, 17, 10, 4, 8]), Some(vec![line, second]));
        let ring = vec![[3.0, 6.0], [8.0, 12.0], [20.0, 34.0]];
        assert_eq!(parts(&[9, 6, 12, 18, 10, 12, 24, 44, 15]), Some(vec![ring]));
    }

    /// The last example: two outlines, the second with a hole.
    #[test]
    fn rings_become_polygons() {
        let bytes = [
            9, 0, 0, 26, 20, 0, 0, 20, 19, 0, 15, 9, 22, 2, 26, 18, 0, 0, 18, 17, 0, 15, 9, 4, 13, 26, 0, 8, 8, 0, 0,
            7, 15,
        ];
        let polygons = polygons(parts(&bytes).expect("readable"));
        assert_eq!(polygons.iter().map(Vec::len).collect::<Vec<_>>(), [1, 2]);
        assert_eq!(polygons[1][1], vec![[13.0, 13.0], [13.0, 17.0], [17.0, 17.0], [17.0, 13.0]]);
    }

    #[test]
    fn tags_are_looked_up() {
        // Layer "a", key "k", values "v" and 7 (sint), one point with k = 7, one with an unknown value.
        let bytes = [
            0x1a, 37, 0x0a, 1, b'a', 0x12, 9, 0x12, 2, 0, 1, 0x18, 1, 0x22, 1, 0, 0x12, 9, 0x12, 2, 0, 9, 0x18, 1,
            0x22, 1, 0, 0x1a, 1, b'k', 0x22, 3, 0x0a, 1, b'v', 0x22, 2, 0x30,
        ];
        assert!(layers(&bytes).is_empty(), "the layer is longer than the bytes");
        let mut whole = bytes.to_vec();
        whole.push(14);
        let layers = layers(&whole);
        assert_eq!(layers[0].name, "a");
        // Both geometries are a bare 0, which is no command: the features are dropped, the layer stays.
        assert!(layers[0].features.is_empty());
        let feature = Feature { shape: Shape::Points(vec![]), tags: vec![(0, 1)] };
        assert_eq!(layers[0].number(&feature, "k"), Some(7.0));
        assert_eq!(layers[0].text(&feature, "k"), None);
        let feature = Feature { shape: Shape::Points(vec![]), tags: vec![(0, 9), (5, 0)] };
        assert_eq!(layers[0].tag(&feature, "k"), None);
    }

    /// A tile written by the PyPI package `mapbox-vector-tile` 2.2.0, see `tests/reference/vector_tile.py`.
    const WRITTEN: &str = concat!(
        "1a750a0577617465721228120800000101020203031803221a0900001ac8010000b401c701000f09288b011a00283c000027",
        "0f1a05636c6173731a0564657074681a056c6576656c1a0473616c7422060a046c616b652209190000000000002940220b20",
        "fdffffffffffffffff012202380028802078021a410a05726f61647312181204000001011802220e09000012140a1400093c",
        "5a0a14281a05636c6173731a056c616e657322070a056d696e6f72220220022880207802",
    );

    #[test]
    fn a_tile_of_another_library_is_read() {
        let byte = |i: usize| u8::from_str_radix(&WRITTEN[2 * i..2 * i + 2], 16).expect("hexadecimal");
        let bytes: Vec<u8> = (0..WRITTEN.len() / 2).map(byte).collect();
        let layers = layers(&bytes);
        assert_eq!(
            layers.iter().map(|layer| (layer.name, layer.extent)).collect::<Vec<_>>(),
            [("water", 4096), ("roads", 4096)]
        );
        let lake = &layers[0].features[0];
        let Shape::Polygons(polygons) = &lake.shape else { panic!("{lake:?}") };
        assert_eq!(polygons.len(), 1);
        assert_eq!(signed_area(&polygons[0][0]) + signed_area(&polygons[0][1]), 2.0 * (100.0 * 90.0 - 30.0 * 20.0));
        assert_eq!(layers[0].text(lake, "class"), Some("lake"));
        assert_eq!(layers[0].number(lake, "depth"), Some(12.5));
        assert_eq!(layers[0].number(lake, "level"), Some(-3.0));
        assert_eq!(layers[0].tag(lake, "salt"), Some(Value::Truth(false)));
        let road = &layers[1].features[0];
        let lines = vec![vec![[0.0, 0.0], [10.0, 5.0], [20.0, 5.0]], vec![[50.0, 50.0], [60.0, 70.0]]];
        assert_eq!(road.shape, Shape::Lines(lines));
        assert_eq!(layers[1].number(road, "lanes"), Some(2.0));
    }

    #[test]
    fn damage_in_a_geometry_drops_the_feature() {
        assert_eq!(parts(&[0xfa, 0xff, 0xff, 0xff, 0x0f, 1, 1]), None, "more points than bytes");
        assert_eq!(parts(&[9, 0xff, 0xff, 0xff, 0xff, 0x7f, 0]), None, "too far away");
        assert_eq!(parts(&[14, 1]), None, "an unknown command");
    }

    proptest! {
        #[test]
        fn any_bytes_are_survived(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
            prop_assert!(layers(&bytes).len() <= bytes.len());
        }
    }
}
