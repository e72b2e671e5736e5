//! Calendar days: the only calendar arithmetic in the program.

use std::fmt;

use chrono::{Datelike as _, Days, NaiveDate, Weekday};
use serde::{Deserialize, Serialize};

/// One calendar day (proleptic Gregorian), stored as ISO 8601 `YYYY-MM-DD`.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Day(NaiveDate);

/// English month names in three letters, as lid notes and lists write them.
pub const MONTHS: [&str; 12] = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
const WEEKDAYS: [&str; 7] = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];

impl Day {
    /// The day of that year, month (1 to 12) and day of the month, if there is one.
    pub fn new(year: i32, month: u32, day: u32) -> Option<Self> {
        NaiveDate::from_ymd_opt(year, month, day).map(Self)
    }

    /// Days since 1 January of year 1 (day 1): the number the register stores.
    pub fn number(self) -> i32 {
        self.0.num_days_from_ce()
    }

    /// The day with that [`Day::number`], if it lies in the calendar's range.
    pub fn from_number(number: i32) -> Option<Self> {
        NaiveDate::from_num_days_from_ce_opt(number).map(Self)
    }

    /// This day and `days` more (or fewer, if negative). Stops at the ends of the calendar (about 262,000 years off).
    #[must_use]
    pub fn plus(self, days: i32) -> Self {
        let step = Days::new(u64::from(days.unsigned_abs()));
        let moved = if days < 0 { self.0.checked_sub_days(step) } else { self.0.checked_add_days(step) };
        moved.map_or(self, Self)
    }

    /// Days from `earlier` to this day; negative if this day comes first.
    pub fn since(self, earlier: Self) -> i32 {
        self.number() - earlier.number()
    }

    /// The year.
    pub fn year(self) -> i32 {
        self.0.year()
    }

    /// The month, 1 to 12.
    pub fn month(self) -> u32 {
        self.0.month()
    }

    /// The day of the month, 1 to 31.
    pub fn day_of_month(self) -> u32 {
        self.0.day()
    }

    /// The weekday counted from Monday: 0 to 6.
    pub fn weekday(self) -> u8 {
        self.0.weekday().num_days_from_monday() as u8
    }

    /// Saturday or Sunday.
    pub fn is_weekend(self) -> bool {
        matches!(self.0.weekday(), Weekday::Sat | Weekday::Sun)
    }

    /// The month in three letters: `Nov`.
    pub fn month_name(self) -> &'static str {
        MONTHS.get(self.month() as usize - 1).copied().unwrap_or("")
    }

    /// The weekday in three letters: `Tue`.
    pub fn weekday_name(self) -> &'static str {
        WEEKDAYS.get(usize::from(self.weekday())).copied().unwrap_or("")
    }

    /// `24 Nov`.
    pub fn short(self) -> String {
        format!("{} {}", self.day_of_month(), self.month_name())
    }

    /// `Tue 24 Nov`.
    pub fn with_weekday(self) -> String {
        format!("{} {}", self.weekday_name(), self.short())
    }

    /// `Tue 24 Nov 2026`.
    pub fn long(self) -> String {
        format!("{} {}", self.with_weekday(), self.year())
    }

    /// `24 Nov`, or `24 Nov 2025` where the year differs from that of `today`.
    pub fn near(self, today: Self) -> String {
        if self.year() == today.year() { self.short() } else { format!("{} {}", self.short(), self.year()) }
    }

    /// `2026-11-24` (ISO 8601).
    pub fn iso(self) -> String {
        self.0.format("%Y-%m-%d").to_string()
    }

    /// Reads `2026-11-24` (ISO 8601) and nothing else.
    pub fn from_iso(text: &str) -> Option<Self> {
        let mut parts = text.trim().split('-');
        let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
        let shape = parts.next().is_none() && year.len() == 4 && month.len() == 2 && day.len() == 2;
        if !shape {
            return None;
        }
        Self::new(year.parse().ok()?, month.parse().ok()?, day.parse().ok()?)
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.iso())
    }
}

impl fmt::Debug for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.iso())
    }
}

/// Several days as people write them, the month said once where it stays the same: `21, 24, 28 Nov`, `28, 29 Nov, 2 Dec`.
pub fn days_in_words(days: &[Day]) -> String {
    let mut text = String::new();
    for (at, day) in days.iter().enumerate() {
        let next = days.get(at + 1);
        text.push_str(&day.day_of_month().to_string());
        if next.is_none_or(|next| (next.year(), next.month()) != (day.year(), day.month())) {
            text.push(' ');
            text.push_str(day.month_name());
        }
        if next.is_some() {
            text.push_str(", ");
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(iso: &str) -> Day {
        Day::from_iso(iso).expect("a day")
    }

    #[test]
    fn days_are_counted_over_leap_days_and_year_ends() {
        assert_eq!(day("2024-02-28").plus(2), day("2024-03-01"));
        assert_eq!(day("2026-12-28").plus(10), day("2027-01-07"));
        assert_eq!(day("2027-01-07").since(day("2026-12-28")), 10);
        assert_eq!(day("2026-03-01").plus(-1), day("2026-02-28"));
    }

    #[test]
    fn a_window_says_the_month_once() {
        assert_eq!(days_in_words(&[day("2026-11-21"), day("2026-11-24"), day("2026-11-28")]), "21, 24, 28 Nov");
        assert_eq!(days_in_words(&[day("2026-11-28"), day("2026-11-29"), day("2026-12-02")]), "28, 29 Nov, 2 Dec");
    }

    #[test]
    fn days_that_do_not_exist_are_not_read() {
        assert_eq!(Day::from_iso("2026-11-31"), None);
        assert_eq!(Day::from_iso("2026-2-3"), None);
        assert_eq!(Day::from_iso("2026-11-24x"), None);
    }
}
