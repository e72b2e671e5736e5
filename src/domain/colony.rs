//! A colony and what belongs to it for a span of days: its name, its spot and its lid.

use serde::{Deserialize, Serialize};

use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, QueenId, YardId};
use crate::domain::record::Amended;
use crate::domain::yard::Spot;

/// A colony. What happened at it stands in its records.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Colony {
    /// Its id.
    pub id: ColonyId,
    /// Its names (the number painted on the box), oldest first; never empty. The last one holds now.
    pub names: Vec<Named>,
    /// Where it stood, oldest first; never empty. The last one holds now.
    pub stands: Vec<Stand>,
    /// What is on its lid.
    pub lid: Lid,
    /// The day it was founded or first known.
    pub founded: Day,
    /// How it was founded.
    pub how: Founding,
    /// The queen it began with.
    pub began_with: FirstQueen,
    /// Its end, if it has ended.
    pub ended: Option<End>,
    /// Free words.
    pub note: String,
    /// Corrections of how it began, of its queens and of its note, oldest first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub corrected: Vec<Amended>,
}

impl Colony {
    /// The name it has now.
    pub fn name(&self) -> &str {
        self.names.last().map_or("", |named| &named.name)
    }

    /// The name it had on that day (the first one, for days before it was known).
    pub fn name_on(&self, day: Day) -> &str {
        let held = self.names.iter().rev().find(|named| named.from <= day).or(self.names.first());
        held.map_or("", |named| &named.name)
    }

    /// The yard it stands in now.
    pub fn yard(&self) -> Option<YardId> {
        self.stands.last().map(|stand| stand.yard)
    }

    /// Its spot in the yard now.
    pub fn spot(&self) -> Option<Spot> {
        self.stands.last().and_then(|stand| stand.spot)
    }

    /// Still a colony of the programme.
    pub fn is_living(&self) -> bool {
        self.ended.is_none()
    }
}

/// A name and the day from which it held.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Named {
    /// The name as painted on the box.
    pub name: String,
    /// From this day on.
    pub from: Day,
}

/// A place in a yard and the day from which it held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stand {
    /// The yard.
    pub yard: YardId,
    /// The spot in it, where it is known.
    pub spot: Option<Spot>,
    /// From this day on.
    pub from: Day,
}

/// What is on a colony's lid.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Lid {
    /// The three lines last printed for it, or taken to be on it when the hive was brought in; empty: neither.
    pub printed: Vec<String>,
    /// The day they were printed; nothing: they were not.
    pub on: Option<Day>,
    /// The lid no longer shows this colony's note (lids were swapped, the hive has another name, or the user asked for a
    /// new label).
    pub stale: bool,
}

/// How a colony was founded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Founding {
    /// It was there when the register began.
    Known,
    /// Bought.
    Bought,
    /// Made as a nuc.
    Nuc,
    /// Split from another colony.
    SplitFrom(ColonyId),
    /// A swarm taken.
    Swarm,
}

/// What is known of the queen a colony began with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FirstQueen {
    /// This queen.
    Recorded(QueenId),
    /// It has one, of whom nothing is known.
    Unknown,
    /// It has none.
    None,
}

/// How and when a colony ended.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct End {
    /// The last day of the colony.
    pub day: Day,
    /// Why.
    pub why: EndWhy,
    /// Who recorded it (initials).
    pub by: String,
    /// Free words.
    pub words: String,
}

/// Why a colony ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum EndWhy {
    /// Sold.
    Sold,
    /// Died.
    Died,
    /// United into another colony.
    UnitedInto(ColonyId),
    /// Shaken out.
    ShakenOut,
    /// Destroyed under the local authority's rules.
    Destroyed,
    /// Entered by mistake, or lost from sight.
    Gone,
}

impl EndWhy {
    /// `sold`, `died` …; the colony it was united into is not named.
    pub fn word(self) -> &'static str {
        match self {
            Self::Sold => "sold",
            Self::Died => "died",
            Self::UnitedInto(_) => "united",
            Self::ShakenOut => "shaken out",
            Self::Destroyed => "destroyed",
            Self::Gone => "gone",
        }
    }
}
