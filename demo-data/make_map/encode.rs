//! The bytes of vector tiles (Mapbox Vector Tile specification 2.1).

/// Units along a tile's side.
pub const EXTENT: u16 = 4096;

/// A feature of a layer.
pub struct Feature {
    /// How it is drawn.
    pub class: &'static str,
    /// Its name, if it has one.
    pub name: Option<&'static str>,
    /// 1 points, 2 lines, 3 areas.
    pub kind: u8,
    /// Commands, as [`draw`] makes them.
    pub geometry: Vec<u8>,
}

/// Appends the commands of one part: move, line, and close for areas.
pub fn draw(out: &mut Vec<u8>, points: &[(i32, i32)], pen: &mut (i32, i32), close: bool) {
    let mut step = |out: &mut Vec<u8>, to: (i32, i32)| {
        for delta in [to.0 - pen.0, to.1 - pen.1] {
            varint(out, u64::from(((delta << 1) ^ (delta >> 31)) as u32));
        }
        *pen = to;
    };
    varint(out, 1 << 3 | 1);
    step(out, points[0]);
    if points.len() > 1 {
        varint(out, (points.len() as u64 - 1) << 3 | 2);
        for &point in &points[1..] {
            step(out, point);
        }
    }
    if close {
        varint(out, 1 << 3 | 7);
    }
}

/// A layer's bytes; all features carry `class`, some `name`.
pub fn layer(name: &str, features: &[Feature]) -> Vec<u8> {
    let mut values: Vec<&str> = Vec::new();
    let mut body = bytes_field(1, name.as_bytes());
    for feature in features {
        let mut tags = Vec::new();
        for (key, value) in [(0, Some(feature.class)), (1, feature.name)] {
            let Some(value) = value else { continue };
            let at = values.iter().position(|&other| other == value).unwrap_or_else(|| {
                values.push(value);
                values.len() - 1
            });
            varint(&mut tags, key);
            varint(&mut tags, at as u64);
        }
        let mut bytes = bytes_field(2, &tags);
        bytes.extend([3 << 3, feature.kind]);
        bytes.extend(bytes_field(4, &feature.geometry));
        body.extend(bytes_field(2, &bytes));
    }
    for key in ["class", "name"] {
        body.extend(bytes_field(3, key.as_bytes()));
    }
    for value in values {
        body.extend(bytes_field(4, &bytes_field(1, value.as_bytes())));
    }
    body.push(5 << 3);
    varint(&mut body, u64::from(EXTENT));
    body.extend([15 << 3, 2]);
    body
}

/// A protobuf field that holds bytes.
pub fn bytes_field(number: u8, bytes: &[u8]) -> Vec<u8> {
    let mut out = vec![number << 3 | 2];
    varint(&mut out, bytes.len() as u64);
    out.extend_from_slice(bytes);
    out
}

/// Appends a number in the variable-length form that tiles and directories share.
pub fn varint(out: &mut Vec<u8>, mut value: u64) {
    while value >= 0x80 {
        out.push(value as u8 | 0x80);
        value >>= 7;
    }
    out.push(value as u8);
}
