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
    /// Where it was before, if the amendment took it to another colony.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub left: Option<Left>,
}

/// The place of a record before an amendment took it to another colony.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Left {
    /// The colony it was at.
    pub colony: ColonyId,
    /// The day it had there.
    pub day: Day,
    /// What it said there: `Eggs, her seen`.
    pub said: String,
}

/// A record that an amendment took away from a colony.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MovedAway<'a> {
    /// The day it had there, and what it said.
    pub left: &'a Left,
    /// The amendment: when, by whom and why.
    pub amended: &'a Amended,
    /// The colony it went to.
    pub to: ColonyId,
}

impl Record {
    /// The amendments that took this record away from a colony at which it is no longer.
    pub fn moved_away_from(&self, colony: ColonyId) -> impl Iterator<Item = MovedAway<'_>> {
        let moves = self.amended.iter().filter_map(|amended| Some((amended.left.as_ref()?, amended)));
        let next = moves.clone().skip(1).map(|(left, _)| left.colony).chain(std::iter::once(self.colony));
        let away = self.colony != colony;
        moves
            .zip(next)
            .filter(move |((left, _), _)| away && left.colony == colony)
            .map(|((left, amended), to)| MovedAway { left, amended, to })
    }
}
