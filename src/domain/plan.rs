//! An introduction that is planned. Plans may be refused or fall; what really happened stands in the records.

use serde::{Deserialize, Serialize};

use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, ParcelId, PlanId, SourceId};
use crate::domain::record::Happening;
use crate::domain::visit::Method;
use crate::domain::world::World;

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

/// Whether a plan is open: none was given at its colony on or after the day it was made, and it is not called off.
pub fn is_open(world: &World, plan: &Plan) -> bool {
    plan.called_off.is_none() && !given_between(world, plan, None)
}

/// The newest open plan of a colony.
pub fn open_plan(world: &World, colony: ColonyId) -> Option<&Plan> {
    newest(world, colony, |plan| is_open(world, plan))
}

/// The newest plan of a colony that was open on a day, before anything was given that day.
pub fn open_plan_on(world: &World, colony: ColonyId, day: Day) -> Option<&Plan> {
    newest(world, colony, |plan| {
        plan.called_off.is_none() && plan.made <= day && !given_between(world, plan, Some(day))
    })
}

fn newest(world: &World, colony: ColonyId, open: impl Fn(&Plan) -> bool) -> Option<&Plan> {
    let of_colony = world.plans.values().map(AsRef::as_ref).filter(|plan: &&Plan| plan.colony == colony && open(plan));
    of_colony.max_by_key(|plan| (plan.made, plan.id))
}

/// Whether something was given at its colony from the day the plan was made on, before `until` where that is said.
fn given_between(world: &World, plan: &Plan, until: Option<Day>) -> bool {
    world.records_of(plan.colony).iter().any(|record| {
        let gave = matches!(&record.what, Happening::Visit(visit) if visit.gave.is_some());
        gave && !record.struck && record.day >= plan.made && until.is_none_or(|until| record.day < until)
    })
}
