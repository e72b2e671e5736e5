//! Fits the words of a lid note to its lines: days in letters, months said once, long names shortened.

use crate::domain::day::Day;
use crate::domain::lid_note::LINE;
use crate::domain::work::Window;

/// `24 NOV`.
pub(super) fn upper(day: Day) -> String {
    day.short().to_uppercase()
}

/// The day, its month only where the first line does not say it: `first` is the day whose month stands there.
pub(super) fn day_after(day: Day, first: Option<Day>) -> String {
    if first.is_some_and(|first| same_month(day, first)) { day.day_of_month().to_string() } else { upper(day) }
}

fn same_month(one: Day, other: Day) -> bool {
    (one.year(), one.month()) == (other.year(), other.month())
}

/// `SHUT TO 21 SEE 24`; where month and two long days do not fit, `TO` goes.
pub(super) fn shut_see(window: Window, first: Option<Day>) -> String {
    pair("SHUT TO", "SHUT", window.earliest, window.best, first)
}

/// `OFF 24 SEE 30`.
pub(super) fn off_see(cage: Window, look: Window, first: Option<Day>) -> String {
    pair("OFF", "OFF", cage.best, look.best, first)
}

fn pair(verb: &str, shorter: &str, one: Day, other: Day, first: Option<Day>) -> String {
    let one_said = if same_month(one, other) { one.day_of_month().to_string() } else { day_after(one, first) };
    let other_said = day_after(other, first);
    let long = format!("{verb} {one_said} SEE {other_said}");
    if long.chars().count() <= LINE {
        return long;
    }
    let short = format!("{shorter} {one_said} SEE {other_said}");
    if short.chars().count() <= LINE {
        return short;
    }
    format!("{shorter} {} SEE {other_said}", one.day_of_month())
}

/// The first line as it fits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct FirstLine {
    pub text: String,
    /// The month stands in it.
    pub month: bool,
    /// Not the whole name stands in it.
    pub shortened: bool,
}

/// The first line: name, what, day. Where it is too long the month goes first, then the yard's part of the name.
pub(super) fn first_line(name: &str, what: &str, day: Option<Day>) -> FirstLine {
    let line = |name: &str, month: bool| {
        let day = day.map(|day| if month { upper(day) } else { day.day_of_month().to_string() });
        let parts = [Some(name.to_owned()), Some(what.to_owned()), day];
        parts.into_iter().flatten().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ")
    };
    let fits = |text: &str| text.chars().count() <= LINE;
    let own = own_part(name);
    for (part, month) in [(name, true), (name, false), (own, true), (own, false)] {
        let text = line(part, month);
        if fits(&text) {
            return FirstLine { text, month: month && day.is_some(), shortened: part != name };
        }
    }
    let rest = line("", false).chars().count() + 1;
    let room = LINE.saturating_sub(rest);
    let letters = own.chars().count();
    let tail: String = own.chars().skip(letters.saturating_sub(room)).collect();
    FirstLine { text: line(&tail, false), month: false, shortened: true }
}

/// The name without the yard's part: what stands after the last blank, hyphen, slash or dot, else the number at its end
/// with any letter behind it.
fn own_part(name: &str) -> &str {
    let after = name.rsplit([' ', '-', '/', '.', '_']).next().unwrap_or(name);
    if after.len() < name.len() && !after.is_empty() {
        return after;
    }
    name.find(|letter: char| letter.is_ascii_digit()).and_then(|at| name.get(at..)).unwrap_or(name)
}

/// Words cut from the end until they fit; a single word is cut by letters.
pub(super) fn fit_words(text: &str, room: usize) -> String {
    let mut text = text.trim();
    while text.chars().count() > room {
        let Some((head, _)) = text.rsplit_once(' ') else {
            return text.chars().take(room).collect();
        };
        text = head.trim_end();
    }
    text.to_owned()
}

pub(super) fn fit(line: &str) -> String {
    fit_words(line, LINE)
}
