//! Today and now: the only reading of the clock in the program.

use chrono::{DateTime, Datelike as _, Local, Utc};

use crate::domain::day::Day;

/// The day where the user is, by the computer's zone.
pub fn today() -> Day {
    let date = Local::now().date_naive();
    match Day::new(date.year(), date.month(), date.day()) {
        Some(day) => day,
        None => unreachable!("a date of the calendar is a day"),
    }
}

/// This moment, for the history and the names of backups.
pub fn now() -> DateTime<Utc> {
    Utc::now()
}

/// A moment as the computer's clock showed it: `25 Nov 2026 18:30`.
pub fn local_words(at: DateTime<Utc>) -> String {
    at.with_timezone(&Local).format("%e %b %Y %H:%M").to_string().trim().to_owned()
}

/// The local time of day: `19:12`.
pub fn time_of_day() -> String {
    Local::now().format("%H:%M").to_string()
}
