//! Something that happened at a hive on a day. Never overwritten by what comes later; corrected only by an amendment.

use serde::{Deserialize, Serialize};
use uuid::Uuid;

use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, RecordId};
use crate::domain::visit::Visit;

/// One thing that happened at one colony.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Record {
    /// Its id. Ids grow with time, so they order the records of one day as they were entered.
    pub id: RecordId,
    /// The colony.
    pub colony: ColonyId,
    /// The day it happened.
    pub day: Day,
    /// Who was there (initials).
    pub by: String,
    /// Free words.
    pub words: String,
    /// What happened.
    pub what: Happening,
    /// Records entered together (one evening) share this, so that the evening can be opened again.
    pub together: Option<Uuid>,
    /// Taken back by an amendment: it did not happen. Kept readable, counted nowhere.
    pub struck: bool,
    /// Amendments, oldest first.
    pub amended: Vec<Amended>,
}

/// What happened.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Happening {
    /// A visit: find, work, introduction.
    Visit(Box<Visit>),
    /// The question which queen another queen was is answered: what became of the recorded one.
    Which(Which),
    /// Another colony was united into this one.
    Received(ColonyId),
    /// A colony was split off this one.
    SplitOff(ColonyId),
    /// A bar that followed from a find (disease, laying workers) was lifted.
    BarLifted {
        /// Why, and on whose word.
        why: String,
    },
}

/// What became of the recorded queen when another was seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Which {
    /// The introduction failed: the recorded queen was lost, the one seen is another (the old one, or a stray).
    Lost,
    /// The colony superseded her between her last sighting and the day another was seen.
    Superseded,
    /// A slip of the eye: it was the recorded queen after all.
    SameAfterAll,
}

/// One amendment of a record.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Amended {
    /// The day of the amendment.
    pub on: Day,
    /// By whom (initials).
    pub by: String,
    /// The reason, never empty.
    pub reason: String,
    /// What the record said before, in words.
    pub was: String,
}
