//! GPX 1.0 and 1.1: waypoints become yards.
//!
//! Read tolerantly, element by element: real files hold foreign elements, odd times and commas that a strict reader
//! turns the whole file away for. Entities are never expanded, save the five of XML itself.

use quick_xml::Reader;
use quick_xml::XmlVersion;
use quick_xml::events::{BytesStart, Event};

use crate::domain::day::Day;
use crate::domain::world::World;
use crate::exchange::table::letters::decode;
use crate::exchange::table::preview::{Options, Preview, Unreadable};
use crate::exchange::table::split::{MOST_CELL, MOST_ROWS, RawRow};
use crate::exchange::table::{RawTable, preview};
use crate::exchange::watch::{NotRead, Watch};

/// The deepest nesting that is followed.
const DEEPEST: usize = 100;

/// Reads waypoints and says what bringing them in would do; where there are none, the points of routes. Row 1 is the
/// first of them. What is left out of the file is counted.
///
/// # Errors
/// If it is no GPX, is cut off, or holds no waypoints; or the reading was stopped.
pub fn read(bytes: &[u8], options: &Options, world: &World, today: Day, watch: &dyn Watch) -> Result<Preview, NotRead> {
    let (text, letters) = decode(bytes, options.letters)?;
    let mut found = Found::default();
    found.read(&text, watch)?;
    let points = if found.waypoints.is_empty() { std::mem::take(&mut found.route) } else { found.waypoints };
    if points.is_empty() {
        return Err(
            Unreadable::new("The file holds no waypoints", "Choose one with waypoints, not with tracks alone").into()
        );
    }
    let rows = points.into_iter().enumerate().map(|(at, point)| RawRow { number: at as u32 + 1, cells: point.cells() });
    let mut left_out = Vec::new();
    for (count, words) in [(found.tracks, "track"), (found.routes, "route")] {
        if count > 0 {
            left_out.push(format!("{count} {words}{}", if count == 1 { "" } else { "s" }));
        }
    }
    let headings = ["yard", "latitude", "longitude", "note"].map(str::to_owned).to_vec();
    preview(
        RawTable { letters, delimiter: None, headings, rows: rows.collect(), left_out },
        options,
        world,
        today,
        watch,
    )
}

#[derive(Default)]
struct Point {
    lat: String,
    lon: String,
    name: String,
    cmt: String,
    desc: String,
}

impl Point {
    fn cells(self) -> Vec<String> {
        let note = if self.desc.is_empty() { self.cmt } else { self.desc };
        let name = self.name.split_whitespace().collect::<Vec<_>>().join(" ");
        vec![name, self.lat, self.lon, note]
    }
}

#[derive(Default)]
struct Found {
    waypoints: Vec<Point>,
    route: Vec<Point>,
    tracks: u32,
    routes: u32,
    /// Names of the elements that are open.
    open: Vec<String>,
    point: Option<Point>,
}

impl Found {
    fn read(&mut self, text: &str, watch: &dyn Watch) -> Result<(), NotRead> {
        let mut reader = Reader::from_str(text);
        loop {
            let event = reader.read_event().map_err(|error| {
                let at = usize::try_from(reader.error_position()).unwrap_or(usize::MAX).min(text.len());
                let line = text.bytes().take(at).filter(|byte| *byte == b'\n').count() + 1;
                Unreadable::new(format!("The file is no XML from line {line} on ({error})"), "Save it as GPX anew")
            })?;
            if watch.stopped() {
                return Err(NotRead::Stopped);
            }
            match event {
                Event::Start(element) => {
                    self.open(&element)?;
                    self.open.push(element.local_name().as_ref().to_owned());
                    if self.open.len() > DEEPEST {
                        return Err(
                            Unreadable::new("The file's elements are nested too deep", "Choose a GPX file").into()
                        );
                    }
                }
                Event::Empty(element) => {
                    self.open(&element)?;
                    self.close(element.local_name().as_ref())?;
                }
                Event::End(element) => {
                    self.open.pop();
                    self.close(element.local_name().as_ref())?;
                }
                Event::Text(words) => self.words(&words.xml10_content()),
                Event::CData(words) => self.words(&words.xml10_content()),
                Event::GeneralRef(reference) => {
                    self.reference(&reference.clone().into_inner(), reference.resolve_char_ref().ok().flatten());
                }
                Event::Eof => break,
                Event::Comment(_) | Event::Decl(_) | Event::PI(_) | Event::DocType(_) => {}
            }
        }
        if self.open.is_empty() {
            Ok(())
        } else {
            Err(Unreadable::new("The file ends in the middle", "Save it as GPX anew; it was cut off").into())
        }
    }

    fn open(&mut self, element: &BytesStart<'_>) -> Result<(), Unreadable> {
        let name = element.local_name();
        if self.open.is_empty() && name.as_ref() != "gpx" {
            return Err(Unreadable::new("The file is XML, but no GPX", "Choose a GPX file"));
        }
        match name.as_ref() {
            "trk" => self.tracks += 1,
            "rte" => self.routes += 1,
            "wpt" | "rtept" => self.point = Some(point(element)),
            _ => {}
        }
        Ok(())
    }

    fn close(&mut self, name: &str) -> Result<(), Unreadable> {
        let list = match name {
            "wpt" => &mut self.waypoints,
            "rtept" => &mut self.route,
            _ => return Ok(()),
        };
        list.extend(self.point.take());
        if list.len() > MOST_ROWS {
            return Err(Unreadable::new(format!("The file has more than {MOST_ROWS} points"), "Split it into several"));
        }
        Ok(())
    }

    /// Words count where they stand right inside a point's name, comment or description.
    fn words(&mut self, words: &str) {
        let mut open = self.open.iter().rev();
        let (field, parent) = (open.next(), open.next());
        if !parent.is_some_and(|parent| matches!(parent.as_str(), "wpt" | "rtept")) {
            return;
        }
        let Some(point) = &mut self.point else { return };
        let text = match field.map(String::as_str) {
            Some("name") => &mut point.name,
            Some("cmt") => &mut point.cmt,
            Some("desc") => &mut point.desc,
            _ => return,
        };
        if text.len() + words.len() <= MOST_CELL {
            text.push_str(words);
        }
    }

    fn reference(&mut self, name: &str, sign: Option<char>) {
        let known = match name {
            "amp" => Some('&'),
            "lt" => Some('<'),
            "gt" => Some('>'),
            "quot" => Some('"'),
            "apos" => Some('\''),
            _ => sign,
        };
        if let Some(sign) = known {
            self.words(sign.encode_utf8(&mut [0; 4]));
        }
    }
}

fn point(element: &BytesStart<'_>) -> Point {
    let mut point = Point::default();
    for attribute in element.attributes().flatten() {
        let text =
            || attribute.normalized_value(XmlVersion::Implicit1_0).map(|it| it.trim().to_owned()).unwrap_or_default();
        match attribute.key.local_name().as_ref() {
            "lat" => point.lat = text(),
            "lon" => point.lon = text(),
            _ => {}
        }
    }
    point
}
