//! A queen's age by season and in months, in both hemispheres, with its bounds where it is not known.

use crate::domain::day::Day;
use crate::domain::place::Hemisphere;
use crate::domain::queen::Birth;
use crate::domain::settings::{Firm, Settings};
use crate::domain::standing::AgeClass;
use crate::domain::world::World;

/// Below this many days an age is said in days. Common practice, no source.
const SAID_IN_DAYS: i32 = 31;
/// Days of the longest year.
const A_YEAR: i32 = 366;

/// The season that began in that year, as a span of births.
pub fn season(year: i32, firm: &Firm, settings: &Settings) -> Birth {
    let turn = Turn::of(firm, settings);
    let first = |year| Day::new(year, u32::try_from(turn.month).unwrap_or(1), 1);
    Birth { earliest: first(year), latest: first(year + 1).map(|day| day.plus(-1)) }
}

/// The age in words: `first season, 2 months`, `at least 14 months`, `9 to 11 months`, `age not known`.
pub fn age_words(birth: Birth, firm: &Firm, settings: &Settings, today: Day) -> String {
    let span = match (birth.latest, birth.earliest) {
        (None, None) => return "age not known".to_owned(),
        (Some(latest), Some(earliest)) => between(latest.min(earliest), latest.max(earliest), today),
        (Some(latest), None) => format!("at least {}", one(latest, today)),
        (None, Some(earliest)) => format!("at most {}", one(earliest, today)),
    };
    match certain_class(birth, &Turn::of(firm, settings), today) {
        Some(class) => format!("{}, {span}", class.words()),
        None => span,
    }
}

/// The class of a queen's age on a day; not known where her bounds leave it open. A span of at most a year is judged by
/// its middle, so that a queen of whom only the year is known has a class.
pub fn class_of(birth: Birth, firm: &Firm, settings: &Settings, today: Day) -> AgeClass {
    let turn = Turn::of(firm, settings);
    if let Some(class) = certain_class(birth, &turn, today) {
        return class;
    }
    match (birth.earliest, birth.latest) {
        (Some(earliest), Some(latest)) if latest.since(earliest).abs() <= A_YEAR => {
            turn.class(earliest.plus(latest.since(earliest) / 2), today)
        }
        _ => AgeClass::Unknown,
    }
}

/// The class that both bounds of a birth agree on; one bound alone settles only the youngest and the oldest.
fn certain_class(birth: Birth, turn: &Turn, today: Day) -> Option<AgeClass> {
    let class = |born: Day| turn.class(born, today);
    match (birth.earliest.map(class), birth.latest.map(class)) {
        (Some(one), Some(other)) => (one == other).then_some(one),
        (None, Some(AgeClass::Older)) => Some(AgeClass::Older),
        (Some(AgeClass::First), None) => Some(AgeClass::First),
        _ => None,
    }
}

/// `third season`; nothing where it is not known.
pub(super) fn season_words(birth: Birth, world: &World, day: Day) -> Option<&'static str> {
    let class = class_of(birth, &world.firm, &world.settings, day);
    (class != AgeClass::Unknown).then(|| class.words())
}

/// When seasons turn: months 1 to 12 of the firm's hemisphere.
struct Turn {
    month: i32,
    next_from: i32,
}

impl Turn {
    fn of(firm: &Firm, settings: &Settings) -> Self {
        let shift = if firm.hemisphere == Hemisphere::South { 0 } else { 6 };
        let month = |setting: i32| (setting - 1 + shift).rem_euclid(12) + 1;
        Self { month: month(settings.season_turns_month()), next_from: month(settings.season_counts_next_from_month()) }
    }

    /// The season a day lies in, as the year in which it began.
    fn season(&self, day: Day) -> i32 {
        if day.month() as i32 >= self.month { day.year() } else { day.year() - 1 }
    }

    /// The class of a queen born on a day.
    fn class(&self, born: Day, today: Day) -> AgeClass {
        match self.season(today) - self.season_born(born) {
            ..=0 => AgeClass::First,
            1 => AgeClass::Second,
            2 => AgeClass::Third,
            _ => AgeClass::Older,
        }
    }

    /// The season a queen counts for: the coming one, if she was born late in hers.
    fn season_born(&self, born: Day) -> i32 {
        let into = |month: i32| (month - self.month).rem_euclid(12);
        let late = into(self.next_from);
        self.season(born) + i32::from(late > 0 && into(born.month() as i32) >= late)
    }
}

/// Whole months from a day to today, never negative.
fn months(from: Day, today: Day) -> i32 {
    let whole = (today.year() - from.year()) * 12 + today.month() as i32 - from.month() as i32;
    (whole - i32::from(today.day_of_month() < from.day_of_month())).max(0)
}

fn one(born: Day, today: Day) -> String {
    let days = today.since(born).max(0);
    if days < SAID_IN_DAYS { count(days, "day") } else { count(months(born, today).max(1), "month") }
}

fn between(earliest: Day, latest: Day, today: Day) -> String {
    let (least, most) = (today.since(latest).max(0), today.since(earliest).max(0));
    if least == 0 && most > 0 {
        return format!("at most {}", one(earliest, today));
    }
    if most < SAID_IN_DAYS {
        return if least == most { count(most, "day") } else { format!("{least} to {}", count(most, "day")) };
    }
    let (least, most) = (months(latest, today), months(earliest, today).max(1));
    if least == most { count(most, "month") } else { format!("{least} to {}", count(most, "month")) }
}

fn count(number: i32, unit: &str) -> String {
    if number == 1 { format!("1 {unit}") } else { format!("{number} {unit}s") }
}
