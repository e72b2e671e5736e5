//! The run of one vehicle on one day, as the beekeeper has set it.

use serde::{Deserialize, Serialize};

use crate::domain::day::Day;
use crate::domain::ids::{RunId, YardId};
use crate::domain::place::Place;

/// A run that was set. Times are not stored: they follow from the order, the places and the settings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RunOrder {
    /// Its id.
    pub id: RunId,
    /// The day.
    pub day: Day,
    /// The vehicle's or the driver's name; may be empty.
    pub vehicle: String,
    /// Where it starts and ends.
    pub base: Base,
    /// Minutes since midnight at which it leaves.
    pub leave: u16,
    /// The stops in order.
    pub stops: Vec<RunStop>,
    /// Yards with work on the day that are left out on purpose.
    pub left_out: Vec<YardId>,
}

/// A stop of a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct RunStop {
    /// The yard.
    pub yard: YardId,
    /// It keeps its position when the order is proposed again.
    pub locked: bool,
}

/// Where a run starts and ends.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Base {
    /// What it is called: `Port Sallow shed`.
    pub name: String,
    /// Where it is.
    pub place: Place,
}
