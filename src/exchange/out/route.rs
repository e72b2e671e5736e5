//! A run as a GPX 1.1 route, for a GPS unit.
//!
//! Element order follows the GPX 1.1 schema (topografix.com, gpx.xsd): in a point name, cmt, desc; in the file
//! metadata, then rte.

use std::fmt::Write as _;

use crate::domain::place::Place;

/// One point of a route.
#[derive(Clone, Debug, PartialEq)]
pub struct RoutePoint {
    /// The yard's name, or the base's.
    pub name: String,
    /// Where it is.
    pub place: Place,
    /// When, in words; a unit shows it beside the name: `08:12 to 09:05`.
    pub time: String,
    /// What there is to do.
    pub notes: String,
}

/// The route through these points in order, as a GPX 1.1 file.
pub fn gpx(name: &str, points: &[RoutePoint]) -> String {
    let mut text = String::from("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    text.push_str("<gpx version=\"1.1\" creator=\"Lidnote\" xmlns=\"http://www.topografix.com/GPX/1/1\" ");
    text.push_str("xmlns:xsi=\"http://www.w3.org/2001/XMLSchema-instance\" xsi:schemaLocation=\"");
    text.push_str("http://www.topografix.com/GPX/1/1 http://www.topografix.com/GPX/1/1/gpx.xsd\">\n");
    let name = escaped(name);
    let _ = writeln!(text, "  <metadata><name>{name}</name></metadata>\n  <rte>\n    <name>{name}</name>");
    for point in points {
        let (lat, lon) = (point.place.lat(), gpx_longitude(point.place.lon()));
        let _ = writeln!(text, "    <rtept lat=\"{lat}\" lon=\"{lon}\">\n      <name>{}</name>", escaped(&point.name));
        for (tag, words) in [("cmt", &point.time), ("desc", &point.notes)] {
            if !words.is_empty() {
                let _ = writeln!(text, "      <{tag}>{}</{tag}>", escaped(words));
            }
        }
        text.push_str("    </rtept>\n");
    }
    text.push_str("  </rte>\n</gpx>\n");
    text
}

/// The schema's longitude runs to just below 180.
fn gpx_longitude(lon: f64) -> f64 {
    if lon >= 180.0 { -180.0 } else { lon }
}

/// Text for XML: the five signs escaped, and what XML 1.0 cannot hold left out.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&apos;"),
            '\t' | '\n' => out.push(sign),
            '\r' => out.push_str("&#13;"),
            '\u{0}'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => {}
            _ => out.push(sign),
        }
    }
    out
}
