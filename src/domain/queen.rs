//! A queen: what is known of her birth, where she came from, and her dot, kept apart from her age.

use serde::{Deserialize, Serialize};

use crate::domain::day::Day;
use crate::domain::ids::{QueenId, SourceId};

/// A queen as she is known. Where she is and what became of her follows from the records of the colonies.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Queen {
    /// Her id.
    pub id: QueenId,
    /// Her birth (emergence), known, bounded or unknown.
    pub birth: Birth,
    /// How she came to be.
    pub origin: Origin,
    /// The breeder or own line she is from.
    pub source: Option<SourceId>,
    /// The dot on her back. Her age is never read off it.
    pub dot: Option<Dot>,
    /// Free words.
    pub words: String,
}

/// The first and last day on which she can have emerged. Equal: known to the day. Both empty: unknown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Birth {
    /// Not before this day.
    pub earliest: Option<Day>,
    /// Not after this day.
    pub latest: Option<Day>,
}

impl Birth {
    /// Emerged on that day.
    pub fn on(day: Day) -> Self {
        Self { earliest: Some(day), latest: Some(day) }
    }

    /// Emerged between two days, both included; the order of the arguments does not matter.
    pub fn between(one: Day, other: Day) -> Self {
        Self { earliest: Some(one.min(other)), latest: Some(one.max(other)) }
    }

    /// Emerged in that calendar year.
    pub fn in_year(year: i32) -> Self {
        Self { earliest: Day::new(year, 1, 1), latest: Day::new(year, 12, 31) }
    }

    /// Emerged in that month (1 to 12).
    pub fn in_month(year: i32, month: u32) -> Self {
        let next = if month == 12 { Day::new(year + 1, 1, 1) } else { Day::new(year, month + 1, 1) };
        Self { earliest: Day::new(year, month, 1), latest: next.map(|day| day.plus(-1)) }
    }

    /// Nothing is known of it.
    pub fn is_unknown(self) -> bool {
        self.earliest.is_none() && self.latest.is_none()
    }

    /// Known to the day.
    pub fn exact(self) -> Option<Day> {
        if self.earliest == self.latest { self.earliest } else { None }
    }
}

/// How a queen came to be in the programme.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Origin {
    /// Came mated, from a breeder or an own mating yard.
    Mated,
    /// Came as a mature queen cell.
    Cell,
    /// Came as a virgin.
    Virgin,
    /// Came with a nuc or a bought colony.
    WithColony,
    /// Raised by the colony itself.
    OwnRaising,
    /// Not known.
    Unknown,
}

/// The colour of a queen's dot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Dot {
    /// Years ending in 1 or 6.
    White,
    /// Years ending in 2 or 7.
    Yellow,
    /// Years ending in 3 or 8.
    Red,
    /// Years ending in 4 or 9.
    Green,
    /// Years ending in 5 or 0.
    Blue,
}

impl Dot {
    /// All five, in the order of the convention.
    pub const ALL: [Self; 5] = [Self::White, Self::Yellow, Self::Red, Self::Green, Self::Blue];

    /// The dot that the international convention gives a year (by its last digit). Used to suggest a dot for marking;
    /// never to read an age off a dot.
    pub fn of_year(year: i32) -> Self {
        match year.rem_euclid(5) {
            1 => Self::White,
            2 => Self::Yellow,
            3 => Self::Red,
            4 => Self::Green,
            _ => Self::Blue,
        }
    }

    /// The dot a queen is marked with on a day: by the year of her birth, and where that is not known by the year she is
    /// marked in.
    pub fn for_marking(birth: Birth, day: Day) -> Self {
        let born = match (birth.earliest, birth.latest) {
            (Some(earliest), Some(latest)) if earliest.year() == latest.year() => earliest.year(),
            _ => day.year(),
        };
        Self::of_year(born)
    }

    /// The colour's name in lower case.
    pub fn name(self) -> &'static str {
        match self {
            Self::White => "white",
            Self::Yellow => "yellow",
            Self::Red => "red",
            Self::Green => "green",
            Self::Blue => "blue",
        }
    }
}

/// Where queens come from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Source {
    /// Its id.
    pub id: SourceId,
    /// Its name, unique among the sources.
    pub name: String,
    /// An own line, not an outside breeder.
    pub own: bool,
}

#[cfg(test)]
mod tests {
    use super::Dot;

    #[test]
    fn dots_follow_the_last_digit_of_the_year() {
        // Convention: white 1/6, yellow 2/7, red 3/8, green 4/9, blue 5/0 (launcestonbeekeepers.org.uk).
        assert_eq!(Dot::of_year(2026), Dot::White);
        assert_eq!(Dot::of_year(2027), Dot::Yellow);
        assert_eq!(Dot::of_year(2018), Dot::Red);
        assert_eq!(Dot::of_year(2024), Dot::Green);
        assert_eq!(Dot::of_year(2020), Dot::Blue);
    }
}
