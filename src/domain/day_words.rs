//! Days as people type them: `24/11`, `24 nov`, `+7`, `tue`, `today`, `2026-11-24`.

use crate::domain::day::{Day, MONTHS};
use crate::domain::fold_text::fold;

/// Which number comes first in `24/11`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DateOrder {
    /// The day, then the month.
    #[default]
    DayMonth,
    /// The month, then the day.
    MonthDay,
}

/// Where a day lies whose year (or month, or week) is not typed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Lean {
    /// As near to today as can be.
    #[default]
    Nearest,
    /// Today or later: what is planned.
    Ahead,
    /// Today or earlier: what has been done.
    Back,
}

/// Why a text was not read as a day.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{what}. {remedy}")]
pub struct DayError {
    /// What is wrong, without a full stop.
    pub what: String,
    /// What to do, without a full stop.
    pub remedy: &'static str,
}

const REMEDY: &str = "Type a day as 24/11, 24 nov, +7, tue or 2026-11-24";
const LONG_MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];
const LONG_WEEKDAYS: [&str; 7] = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];

/// Reads a day. The year, where it is not typed, is the one nearest to today, or as `lean` says.
///
/// # Errors
/// If the text is no day, or one that does not exist.
pub fn read_day(text: &str, today: Day, order: DateOrder, lean: Lean) -> Result<Day, DayError> {
    let folded = fold(text);
    let text = text.trim();
    if folded.is_empty() {
        return Err(DayError { what: "The day is empty".to_owned(), remedy: REMEDY });
    }
    let unreadable = || DayError { what: format!("{text} is not understood as a day"), remedy: REMEDY };
    match folded.as_str() {
        "today" | "now" => return Ok(today),
        "yesterday" => return Ok(today.plus(-1)),
        "tomorrow" => return Ok(today.plus(1)),
        _ => {}
    }
    if let Some(days) = relative(&folded) {
        return Ok(today.plus(days));
    }
    if let Some(weekday) = LONG_WEEKDAYS.iter().position(|long| abbreviates(&folded, long)) {
        return Ok(weekday_near(weekday, today, lean));
    }
    // A date and time: the time is no matter here.
    let date =
        folded.split_once('t').filter(|(date, _)| date.len() == 10 && date.starts_with(|it: char| it.is_ascii_digit()));
    let parts = split(date.map_or(folded.as_str(), |(date, _)| date));
    let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
    let parts = match parts.as_slice() {
        [weekday, rest @ ..] if !rest.is_empty() && LONG_WEEKDAYS.iter().any(|long| abbreviates(weekday, long)) => rest,
        all => all,
    };
    let (day, month, year) = match parts {
        [day] => (number(day), None, None),
        [year, month, day] if year.len() == 4 && number(year).is_some() => {
            (number(day), Some(month_of(month).ok_or_else(unreadable)?), number(year))
        }
        [first, second, rest @ ..] if rest.len() <= 1 => {
            let (day, month) = match (named_month(first), named_month(second), order) {
                (None, Some(month), _) => (number(first), Some(month)),
                (Some(month), None, _) => (number(second), Some(month)),
                (None, None, DateOrder::DayMonth) => (number(first), month_of(second)),
                (None, None, DateOrder::MonthDay) => (number(second), month_of(first)),
                (Some(_), Some(_), _) => return Err(unreadable()),
            };
            if number(first).is_some() && number(second).is_some() && month.is_none() {
                return Err(no_month(first, second, order));
            }
            let year = match rest.first() {
                None => None,
                Some(year) => Some(full_year(year).ok_or_else(unreadable)?),
            };
            (day, Some(month.ok_or_else(unreadable)?), year)
        }
        _ => return Err(unreadable()),
    };
    let day = day.ok_or_else(unreadable)?;
    let found = match (month, year) {
        (Some(month), Some(year)) => i32::try_from(year).ok().and_then(|year| Day::new(year, month, day)),
        (Some(month), None) => nearest(&candidates_in_years(day, month, today), today, lean),
        (None, _) => nearest(&candidates_in_months(day, today), today, lean),
    };
    found.ok_or_else(|| DayError { what: not_there(day, month, year), remedy: "Give a day that exists" })
}

fn relative(text: &str) -> Option<i32> {
    let (sign, days) = match text.strip_prefix('+') {
        Some(days) => (1, days),
        None => (-1, text.strip_prefix(['-', '−'])?),
    };
    let days = days.trim();
    let digits = days.len() <= 4 && days.bytes().all(|it| it.is_ascii_digit());
    days.parse::<i32>().ok().filter(|_| digits).map(|days| sign * days)
}

/// `tue` and `tuesday` alike; at least three letters.
fn abbreviates(text: &str, long: &str) -> bool {
    let text = text.trim_end_matches('.');
    text.len() >= 3 && long.starts_with(text)
}

fn weekday_near(weekday: usize, today: Day, lean: Lean) -> Day {
    let ahead = (i32::try_from(weekday).unwrap_or(0) - i32::from(today.weekday())).rem_euclid(7);
    match lean {
        Lean::Ahead => today.plus(ahead),
        Lean::Back if ahead == 0 => today,
        Lean::Back => today.plus(ahead - 7),
        Lean::Nearest => today.plus(if ahead > 3 { ahead - 7 } else { ahead }),
    }
}

/// The text cut where signs stand and where digits meet letters: `24nov` is `24`, `nov`.
fn split(text: &str) -> Vec<String> {
    let mut parts: Vec<String> = Vec::new();
    let mut last = ' ';
    for letter in text.chars() {
        if letter.is_alphanumeric() {
            let goes_on = last.is_alphanumeric() && last.is_ascii_digit() == letter.is_ascii_digit();
            match parts.last_mut().filter(|_| goes_on) {
                Some(part) => part.push(letter),
                None => parts.push(letter.to_string()),
            }
        }
        last = letter;
    }
    // `24th`, `1st of Nov`
    parts.retain(|part| !matches!(part.as_str(), "st" | "nd" | "rd" | "th" | "of" | "the"));
    parts
}

fn number(text: &str) -> Option<u32> {
    if text.len() <= 4 { text.parse().ok() } else { None }
}

fn named_month(text: &str) -> Option<u32> {
    let at = LONG_MONTHS.iter().position(|long| abbreviates(text, long) || (*long == "september" && text == "sept"))?;
    u32::try_from(at + 1).ok()
}

fn month_of(text: &str) -> Option<u32> {
    named_month(text).or_else(|| number(text).filter(|month| (1..=12).contains(month)))
}

fn full_year(text: &str) -> Option<u32> {
    match text.len() {
        2 => number(text).map(|year| 2000 + year),
        4 => number(text),
        _ => None,
    }
}

fn candidates_in_years(day: u32, month: u32, today: Day) -> Vec<Day> {
    (-8..=8).filter_map(|years| Day::new(today.year() + years, month, day)).collect()
}

fn candidates_in_months(day: u32, today: Day) -> Vec<Day> {
    let this = today.year() * 12 + i32::try_from(today.month()).unwrap_or(1) - 1;
    (-2..=2)
        .filter_map(|months| {
            let count = this + months;
            Day::new(count.div_euclid(12), u32::try_from(count.rem_euclid(12) + 1).ok()?, day)
        })
        .collect()
}

fn nearest(candidates: &[Day], today: Day, lean: Lean) -> Option<Day> {
    let fitting = candidates.iter().copied().filter(|day| match lean {
        Lean::Nearest => true,
        Lean::Ahead => *day >= today,
        Lean::Back => *day <= today,
    });
    fitting.min_by_key(|day| (day.since(today).abs(), *day))
}

fn no_month(first: &str, second: &str, order: DateOrder) -> DayError {
    let (month, read) = match order {
        DateOrder::DayMonth => (second, "the month is read second, as in 24/11"),
        DateOrder::MonthDay => (first, "the month is read first, as in 11/24"),
    };
    DayError { what: format!("There is no month {month}; {read}"), remedy: "Turn the two around, or name the month" }
}

fn not_there(day: u32, month: Option<u32>, year: Option<u32>) -> String {
    let named = month.and_then(|month| LONG_MONTHS.get(usize::try_from(month).ok()?.checked_sub(1)?));
    let Some(named) = named else {
        return format!("No month has a day {day}");
    };
    let short = MONTHS.iter().find(|short| named.starts_with(&short.to_lowercase())).map_or("", |short| *short);
    let (first, rest) = short.split_at(1.min(short.len()));
    let month = format!("{first}{}", named.get(first.len()..).unwrap_or(rest));
    year.map_or(format!("{day} {month} does not exist"), |year| format!("{day} {month} {year} does not exist"))
}

#[cfg(test)]
mod tests {
    use super::{DateOrder, Lean, read_day};
    use crate::domain::day::Day;

    fn read(text: &str) -> String {
        let today = Day::from_iso("2026-11-24").expect("a Tuesday");
        match read_day(text, today, DateOrder::DayMonth, Lean::Nearest) {
            Ok(day) => day.iso(),
            Err(error) => error.to_string(),
        }
    }

    #[test]
    fn days_are_read_as_people_type_them() {
        for (text, iso) in [
            ("24/11", "2026-11-24"),
            ("24.11.", "2026-11-24"),
            ("24 nov", "2026-11-24"),
            ("24nov", "2026-11-24"),
            ("Nov 24", "2026-11-24"),
            ("Tue 24 Nov 2026", "2026-11-24"),
            ("24 Nov 2025", "2025-11-24"),
            ("24/11/25", "2025-11-24"),
            ("24 November", "2026-11-24"),
            ("+7", "2026-12-01"),
            ("-1", "2026-11-23"),
            ("today", "2026-11-24"),
            ("tue", "2026-11-24"),
            ("wed", "2026-11-25"),
            ("monday", "2026-11-23"),
            ("2026-11-20", "2026-11-20"),
            ("2026-11-20T08:00:00", "2026-11-20"),
            ("3/1", "2027-01-03"),
            ("29 feb", "2028-02-29"),
            ("1", "2026-12-01"),
            ("23rd", "2026-11-23"),
        ] {
            assert_eq!(read(text), iso, "{text}");
        }
    }

    #[test]
    fn the_order_and_the_lean_are_the_callers() {
        let today = Day::from_iso("2026-11-24").expect("a day");
        let american = read_day("11/24", today, DateOrder::MonthDay, Lean::Nearest).expect("a day");
        assert_eq!(american, today);
        let ahead = read_day("mon", today, DateOrder::DayMonth, Lean::Ahead).expect("a day");
        let back = read_day("wed", today, DateOrder::DayMonth, Lean::Back).expect("a day");
        assert_eq!((ahead.iso(), back.iso()), ("2026-11-30".to_owned(), "2026-11-18".to_owned()));
        let last = read_day("30 nov", today, DateOrder::DayMonth, Lean::Back).expect("a day");
        assert_eq!(last.iso(), "2025-11-30");
    }

    #[test]
    fn days_that_do_not_exist_are_refused_with_a_way_out() {
        assert_eq!(read("31 nov"), "31 November does not exist. Give a day that exists");
        assert_eq!(read("29 feb 2027"), "29 February 2027 does not exist. Give a day that exists");
        assert!(read("11/24").starts_with("There is no month 24; the month is read second"));
        for text in ["", "soon", "24/11/2026/3", "nov nov", "99", "+99999"] {
            assert!(Day::from_iso(&read(text)).is_none(), "{text}");
        }
    }
}
