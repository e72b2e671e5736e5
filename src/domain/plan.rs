//! An introduction that is planned. Plans may be refused or fall; what really happened stands in the records.

use serde::{Deserialize, Serialize};

use crate::domain::change::Change;
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

/// How many open plans name a parcel, those of some colonies left out.
pub fn planned_from(world: &World, parcel: ParcelId, but: &[ColonyId]) -> u32 {
    let open = world.plans.values().filter(|plan| plan.parcel == Some(parcel) && is_open(world, plan));
    open.filter(|plan| !but.contains(&plan.colony)).count() as u32
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

/// How these plans come to stand, where colonies may have open ones already.
#[derive(Clone, Debug, PartialEq)]
pub struct Replanned {
    /// The change that does it.
    pub change: Change,
    /// Open plans for the same queen that get the new days.
    pub moved: usize,
    /// Open plans for another queen that are called off.
    pub called_off: usize,
}

/// The change that makes these plans, one a colony. An open plan with the same method, source and parcel is moved, another
/// one is called off. `title` names the change where it takes several.
pub fn replan(world: &World, plans: Vec<Plan>, overrule_soft: bool, today: Day, why: &str, title: String) -> Replanned {
    let (mut new, mut moved, mut off) = (Vec::new(), Vec::new(), Vec::new());
    for plan in plans {
        match open_plan(world, plan.colony) {
            Some(open) if (open.method, open.source, open.parcel) == (plan.method, plan.source, plan.parcel) => {
                moved.push((open.id, plan.give_on, plan.dequeen_on));
            }
            Some(open) => {
                off.push(open.id);
                new.push(plan);
            }
            None => new.push(plan),
        }
    }
    let counts = (moved.len(), off.len());
    let mut changes = Vec::new();
    if !off.is_empty() {
        changes.push(Change::CallOff { plans: off, day: today });
    }
    if !moved.is_empty() {
        changes.push(Change::MovePlans { plans: moved, day: today, why: why.to_owned() });
    }
    if !new.is_empty() {
        changes.push(Change::Plan { plans: new, overrule_soft });
    }
    let change = match changes.len() {
        1 => changes.remove(0),
        _ => Change::Several { title, changes },
    };
    Replanned { change, moved: counts.0, called_off: counts.1 }
}
