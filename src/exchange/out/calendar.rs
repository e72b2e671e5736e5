//! Due work and runs as iCalendar (RFC 5545): events of whole days.
//!
//! Written by hand because the rules are few and a library tried for it broke two of them: `DTEND` must come after
//! `DTSTART` (3.8.2.2; a whole day therefore ends on the next), and every line is at most 75 octets (3.1).

use crate::domain::day::Day;
use crate::domain::place::Place;
use crate::exchange::out::lists::DueLine;

/// The moment an export is made, in universal time (`DTSTAMP`).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stamp {
    /// The day.
    pub day: Day,
    /// Seconds since midnight, 0 to 86,399.
    pub second: u32,
}

/// An event of one whole day.
#[derive(Clone, Debug, PartialEq)]
pub struct Event {
    /// Stays the same from one export to the next, so that a calendar replaces the event instead of doubling it.
    pub uid: String,
    /// Grows by one with each change of the event.
    pub sequence: u32,
    /// The day.
    pub day: Day,
    /// Its title.
    pub title: String,
    /// More words; may be empty.
    pub words: String,
    /// The place in words; may be empty.
    pub location: String,
    /// The place.
    pub place: Option<Place>,
}

/// A calendar of these events, with CRLF line ends.
pub fn ics(name: &str, events: &[Event], stamp: Stamp) -> String {
    let mut text = String::new();
    let mut put = |line: String| fold_into(&mut text, &line);
    put("BEGIN:VCALENDAR".to_owned());
    put("VERSION:2.0".to_owned());
    put("PRODID:-//Lidnote//Lidnote 0.1//EN".to_owned());
    put("CALSCALE:GREGORIAN".to_owned());
    put(format!("X-WR-CALNAME:{}", escaped(name)));
    for event in events {
        put("BEGIN:VEVENT".to_owned());
        put(format!("UID:{}", escaped(&event.uid)));
        put(format!("DTSTAMP:{}T{}Z", basic(stamp.day), clock(stamp.second)));
        put(format!("SEQUENCE:{}", event.sequence));
        put(format!("DTSTART;VALUE=DATE:{}", basic(event.day)));
        put(format!("DTEND;VALUE=DATE:{}", basic(event.day.plus(1))));
        put(format!("SUMMARY:{}", escaped(&event.title)));
        for (key, words) in [("DESCRIPTION", &event.words), ("LOCATION", &event.location)] {
            if !words.is_empty() {
                put(format!("{key}:{}", escaped(words)));
            }
        }
        if let Some(place) = event.place {
            put(format!("GEO:{:.6};{:.6}", place.lat(), place.lon()));
        }
        put("TRANSP:TRANSPARENT".to_owned());
        put("END:VEVENT".to_owned());
    }
    put("END:VCALENDAR".to_owned());
    text
}

/// The events of due work: each on its best day, its window in the words.
pub fn due_events(lines: &[DueLine]) -> Vec<Event> {
    lines.iter().map(due_event).collect()
}

fn due_event(due: &DueLine) -> Event {
    let window = match due.latest {
        Some(latest) => format!("Earliest {}, latest {}.", due.earliest.short(), latest.short()),
        None => format!("Earliest {}.", due.earliest.short()),
    };
    Event {
        uid: format!("{}@lidnote", due.key),
        sequence: 0,
        day: due.best,
        title: format!("{}: {}", due.hive, due.work),
        words: format!("{window}\n{}", due.why),
        location: due.yard.clone(),
        place: None,
    }
}

fn basic(day: Day) -> String {
    format!("{:04}{:02}{:02}", day.year().clamp(0, 9999), day.month(), day.day_of_month())
}

fn clock(second: u32) -> String {
    let second = second.min(86_399);
    format!("{:02}{:02}{:02}", second / 3600, second / 60 % 60, second % 60)
}

/// RFC 5545, 3.3.11: backslash, semicolon, comma and line break are escaped; other control signs cannot stand in text.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.replace("\r\n", "\n").chars() {
        match sign {
            '\\' => out.push_str("\\\\"),
            ';' => out.push_str("\\;"),
            ',' => out.push_str("\\,"),
            '\n' | '\r' => out.push_str("\\n"),
            '\t' => out.push(sign),
            _ if sign.is_control() => {}
            _ => out.push(sign),
        }
    }
    out
}

/// Appends a content line, folded so that no line is over 75 octets and no character is cut in two.
fn fold_into(text: &mut String, line: &str) {
    let mut room = 75;
    for sign in line.chars() {
        if sign.len_utf8() > room {
            text.push_str("\r\n ");
            room = 74;
        }
        text.push(sign);
        room -= sign.len_utf8();
    }
    text.push_str("\r\n");
}
