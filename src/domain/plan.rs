//! An introduction that is planned. Plans may be refused or fall; what really happened stands in the records.

use serde::{Deserialize, Serialize};

use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, ParcelId, PlanId, SourceId};
use crate::domain::visit::Method;

/// A planned introduction. It is open until a queen is given at its colony on or after the day it was made, or it is
/// called off.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Plan {
    /// Its id.
    pub id: PlanId,
    /// The colony.
    pub colony: ColonyId,
    /// How she is to be given.
    pub method: Method,
    /// The source she is to come from.
    pub source: Option<SourceId>,
    /// The parcel she is to come from.
    pub parcel: Option<ParcelId>,
    /// Day 0: the day she is to be given.
    pub give_on: Day,
    /// The day the old queen is to be removed; nothing: there is none to remove.
    pub dequeen_on: Option<Day>,
    /// The day the plan was made.
    pub made: Day,
    /// Called off on that day.
    pub called_off: Option<Day>,
    /// When its days were moved, oldest first.
    pub moved: Vec<PlanMoved>,
}

/// One moving of a plan's day.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PlanMoved {
    /// The day of the decision.
    pub on: Day,
    /// The day she was to be given before.
    pub from: Day,
    /// Why: `parcel late`.
    pub why: String,
}
