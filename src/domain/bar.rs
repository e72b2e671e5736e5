//! A bar set by hand: a rule that forbids planning a requeening, with its reason and, where it has one, its end.
//!
//! Bars that follow from finds (disease, laying workers) are not stored: they are read off the records.

use serde::{Deserialize, Serialize};

use crate::domain::day::Day;
use crate::domain::ids::{BarId, ColonyId, YardId};

/// A bar set by hand on one colony or a whole yard.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Bar {
    /// Its id.
    pub id: BarId,
    /// What it holds for.
    pub on: BarOn,
    /// What kind of bar.
    pub kind: BarKind,
    /// First day it holds.
    pub from: Day,
    /// Last day it holds; nothing: until lifted.
    pub until: Option<Day>,
    /// Words beside the kind.
    pub reason: String,
    /// Who set it (initials).
    pub by: String,
    /// For a quarantine: the reference of a permit under which work may be planned all the same.
    pub permit: Option<String>,
    /// When it was lifted, by whom and why.
    pub lifted: Option<Lifted>,
}

impl Bar {
    /// It holds on a day.
    pub fn holds(&self, day: Day) -> bool {
        self.from <= day
            && self.until.is_none_or(|until| day <= until)
            && self.lifted.as_ref().is_none_or(|lifted| day < lifted.on)
    }

    /// It begins after a day and was not called off.
    pub fn is_ahead(&self, day: Day) -> bool {
        day < self.from && self.lifted.is_none()
    }
}

/// What a bar holds for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BarOn {
    /// One colony.
    Colony(ColonyId),
    /// Every colony standing in the yard.
    Yard(YardId),
}

/// Kinds of bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BarKind {
    /// American foulbrood, or suspicion of it. Hard: nothing may be planned until it is cleared on record.
    AmericanFoulbrood,
    /// Another brood disease suspected.
    Disease,
    /// The yard is under quarantine. Nothing planned except under a permit.
    Quarantine,
    /// Laying workers: no cage, cell or virgin; uniting and shaking out allowed.
    LayingWorkers,
    /// Soft: swarm cells or swarming.
    Swarming,
    /// Soft: a treatment is in.
    Treatment,
    /// Soft: spraying near.
    Spraying,
    /// Soft: robbing.
    Robbing,
    /// Soft: outside the season window.
    Season,
    /// Soft: weather below the user's limit.
    Weather,
    /// Soft: the user's own reason.
    Own,
}

impl BarKind {
    /// A soft bar: a plan may be made all the same when the beekeeper says so.
    pub fn is_soft(self) -> bool {
        !matches!(self, Self::AmericanFoulbrood | Self::Disease | Self::Quarantine | Self::LayingWorkers)
    }

    /// A brood disease that is suspected: never requeened until it is lifted.
    pub fn is_disease(self) -> bool {
        matches!(self, Self::AmericanFoulbrood | Self::Disease)
    }

    /// What it is called.
    pub fn words(self) -> &'static str {
        match self {
            Self::AmericanFoulbrood => "American foulbrood suspected",
            Self::Disease => "brood disease suspected",
            Self::Quarantine => "quarantine",
            Self::LayingWorkers => "laying workers",
            Self::Swarming => "swarming",
            Self::Treatment => "treatment in",
            Self::Spraying => "spraying near",
            Self::Robbing => "robbing",
            Self::Season => "outside the season",
            Self::Weather => "weather",
            Self::Own => "own reason",
        }
    }

    /// What follows from it, to be said before it is set.
    pub fn follows(self) -> &'static str {
        match self {
            Self::AmericanFoulbrood | Self::Disease => {
                "Nothing may be planned until it is lifted on record. On a hive, its open looks and steps rest until then."
            }
            Self::Quarantine => {
                "Nothing may be planned until it is lifted on record, save under a permit. Open looks stay due, last on \
                 the run."
            }
            Self::LayingWorkers => {
                "No cage, cell or virgin may be planned. Uniting and shaking out stay open; open looks stay due."
            }
            _ => "A soft bar: a plan may still be made when you say so. Open looks stay due.",
        }
    }
}

/// The lifting of a bar.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Lifted {
    /// The first day it no longer holds.
    pub on: Day,
    /// By whom (initials).
    pub by: String,
    /// Why, and on whose word; never empty.
    pub why: String,
}
