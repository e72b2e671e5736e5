//! GeoJSON (RFC 7946): points become rows, their properties headings; yards become points.
//!
//! Read feature by feature on plain JSON: a file in which one shape is wrong still gives its points, and rows keep the
//! numbers of their features. The `geojson` crate turns such a file away whole; it is the tests' independent reader.

use std::collections::BTreeSet;

use serde_json::{Map, Value, json};

use crate::domain::day::Day;
use crate::domain::world::World;
use crate::exchange::out::lists::clock_text;
use crate::exchange::table::letters::decode;
use crate::exchange::table::preview::{Options, Preview, Unreadable};
use crate::exchange::table::split::{MOST_CELL, MOST_ROWS, RawRow};
use crate::exchange::table::{RawTable, preview};
use crate::exchange::watch::{NotRead, Watch};

/// The most properties a file may have in all.
const MOST_PROPERTIES: usize = 200;

/// Reads points and says what bringing them in would do. Row 1 is the first feature.
///
/// # Errors
/// If it is no GeoJSON, or holds no points; or the reading was stopped.
pub fn read(bytes: &[u8], options: &Options, world: &World, today: Day, watch: &dyn Watch) -> Result<Preview, NotRead> {
    let (text, letters) = decode(bytes, options.letters)?;
    let value: Value = serde_json::from_str(&text).map_err(|error| {
        let fact = format!("The file is no JSON from line {} on", error.line());
        Unreadable::new(fact, "Save it as GeoJSON anew; it may have been cut off")
    })?;
    let features = features(&value)?;
    if features.len() > MOST_ROWS {
        return Err(
            Unreadable::new(format!("The file has more than {MOST_ROWS} features"), "Split it into several").into()
        );
    }
    let mut names: BTreeSet<&str> = BTreeSet::new();
    for feature in &features {
        names.extend(properties(feature).into_iter().flat_map(Map::keys).map(String::as_str));
    }
    if names.len() > MOST_PROPERTIES {
        return Err(Unreadable::new(
            format!("The points have {} properties", names.len()),
            "Leave out those not needed",
        )
        .into());
    }
    let (mut rows, mut shapes) = (Vec::new(), 0);
    for (at, feature) in features.iter().enumerate() {
        if watch.stopped() {
            return Err(NotRead::Stopped);
        }
        let Some((lat, lon)) = point(feature) else {
            shapes += 1;
            continue;
        };
        let mut cells = vec![lat, lon];
        let held = properties(feature);
        cells.extend(names.iter().map(|name| held.and_then(|held| held.get(*name)).map_or(String::new(), cell_text)));
        rows.push(RawRow { number: at as u32 + 1, cells });
    }
    if rows.is_empty() {
        return Err(Unreadable::new("The file holds no points", "Choose a file whose features are points").into());
    }
    let left_out = if shapes > 0 {
        vec![if shapes == 1 {
            "1 feature that is no point".to_owned()
        } else {
            format!("{shapes} features that are no points")
        }]
    } else {
        Vec::new()
    };
    let headings = ["latitude", "longitude"].into_iter().chain(names.iter().copied()).map(str::to_owned).collect();
    preview(RawTable { letters, delimiter: None, headings, rows, left_out }, options, world, today, watch)
}

fn features(value: &Value) -> Result<Vec<&Value>, Unreadable> {
    let wrong = || Unreadable::new("The file is JSON, but no GeoJSON", "Choose a file of features");
    match value.get("type").and_then(Value::as_str) {
        Some("FeatureCollection") => {
            value.get("features").and_then(Value::as_array).map(|list| list.iter().collect()).ok_or_else(wrong)
        }
        Some("Feature" | "Point") => Ok(vec![value]),
        _ => Err(wrong()),
    }
}

fn properties(feature: &Value) -> Option<&Map<String, Value>> {
    feature.get("properties").and_then(Value::as_object)
}

/// Latitude and longitude as they are written; the file gives the longitude first.
fn point(feature: &Value) -> Option<(String, String)> {
    let geometry = feature.get("geometry").unwrap_or(feature);
    if geometry.get("type").and_then(Value::as_str) != Some("Point") {
        return None;
    }
    match geometry.get("coordinates").and_then(Value::as_array)?.as_slice() {
        [lon, lat, ..] => Some((lat.as_f64()?.to_string(), lon.as_f64()?.to_string())),
        _ => None,
    }
}

fn cell_text(value: &Value) -> String {
    let text = match value {
        Value::Null => String::new(),
        Value::String(text) => text.clone(),
        Value::Array(list) => list.iter().map(cell_text).collect::<Vec<_>>().join("; "),
        other => other.to_string(),
    };
    if text.len() > MOST_CELL { text.chars().take(MOST_CELL / 4).collect() } else { text }
}

/// The yards whose place is known, as a FeatureCollection that [`read`] understands. `hives` counts living hives.
pub fn yards_geojson(world: &World) -> String {
    let mut yards: Vec<_> = world.yards.values().collect();
    yards.sort_by(|a, b| (&a.name, a.id).cmp(&(&b.name, b.id)));
    let features: Vec<Value> = yards
        .iter()
        .filter_map(|yard| {
            let place = yard.place?;
            let mut properties = Map::new();
            let mut put = |key: &str, value: Value| properties.insert(key.to_owned(), value);
            put("yard", json!(yard.name));
            put("hives", json!(world.in_yard(yard.id).len()));
            if let Some(gate) = yard.gate {
                put("gate opens", json!(clock_text(gate.opens)));
                put("gate closes", json!(clock_text(gate.closes)));
            }
            if let Some(minutes) = yard.minutes {
                put("minutes", json!(minutes));
            }
            if !yard.hazards.is_empty() {
                put("hazards", json!(yard.hazards.join("; ")));
            }
            for (key, text) in [("access", &yard.access), ("hygiene group", &yard.hygiene_group), ("note", &yard.note)]
            {
                if !text.is_empty() {
                    put(key, json!(text));
                }
            }
            let geometry = json!({ "type": "Point", "coordinates": [place.lon(), place.lat()] });
            Some(json!({ "type": "Feature", "geometry": geometry, "properties": properties }))
        })
        .collect();
    let collection = json!({ "type": "FeatureCollection", "features": features });
    serde_json::to_string_pretty(&collection).unwrap_or_default() + "\n"
}
