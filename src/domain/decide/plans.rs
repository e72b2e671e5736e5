//! Plans: made, called off, moved. Here alone a bar can refuse.

use crate::domain::day::Day;
use crate::domain::decide::check;
use crate::domain::decide::draft::Draft;
use crate::domain::ids::{ColonyId, PlanId};
use crate::domain::plan::{Plan, PlanMoved, is_open};
use crate::domain::refusal::{Refusal, RefusalKind};
use crate::domain::standing::ActiveBar;
use crate::domain::standing::bars::plan_allowed;

/// Plans introductions.
pub(super) fn plan(draft: &mut Draft, plans: &[Plan], overrule_soft: bool) -> Result<(), Refusal> {
    for plan in plans {
        let colony = draft.living(plan.colony)?;
        check::source(draft, plan.source)?;
        check::parcel(draft, plan.parcel)?;
        check::not_ahead(plan.made, draft.today)?;
        if draft.world.plans.get(&plan.id).is_some_and(|known| known.colony != plan.colony) {
            return Err(Refusal::new(RefusalKind::InUse, "That plan is in the register already", "Make a new one"));
        }
        if plan.give_on < plan.made {
            let fact = format!("{} is past for a plan at {}", plan.give_on.near(draft.today), colony.name());
            return Err(check::bad(fact, "Plan for today or later; record what has been done as a visit"));
        }
        check_days(plan.give_on, plan.dequeen_on)?;
        let other = draft
            .world
            .plans
            .values()
            .find(|other| other.colony == plan.colony && other.id != plan.id && is_open(&draft.world, other));
        if let Some(other) = other {
            let fact = format!("{} has a plan for {}", colony.name(), other.give_on.near(draft.today));
            return Err(Refusal::new(RefusalKind::InUse, fact, "Move that plan, or call it off first"));
        }
        if let Err(bar) = plan_allowed(&draft.world, plan.colony, plan.method, plan.give_on, overrule_soft) {
            return Err(barred(colony.name(), &bar));
        }
        draft.put_plan(plan.clone());
    }
    Ok(())
}

/// Calls plans off.
pub(super) fn call_off(draft: &mut Draft, plans: &[PlanId], day: Day) -> Result<(), Refusal> {
    check::not_ahead(day, draft.today)?;
    for id in plans {
        let plan = find(draft, *id)?;
        if plan.called_off.is_none() {
            draft.put_plan(Plan { called_off: Some(day.max(plan.made)), ..plan });
        }
    }
    Ok(())
}

/// Calls off every open plan of a colony.
pub(super) fn call_off_all(draft: &mut Draft, colony: ColonyId, day: Day) {
    let open: Vec<Plan> = draft
        .world
        .plans
        .values()
        .filter(|plan| plan.colony == colony && is_open(&draft.world, plan))
        .map(|plan| Plan::clone(plan))
        .collect();
    for plan in open {
        draft.put_plan(Plan { called_off: Some(day.max(plan.made)), ..plan });
    }
}

/// Gives plans other days.
pub(super) fn move_plans(
    draft: &mut Draft,
    plans: &[(PlanId, Day, Option<Day>)],
    day: Day,
    why: &str,
) -> Result<(), Refusal> {
    check::not_ahead(day, draft.today)?;
    for (id, give_on, dequeen_on) in plans {
        let plan = find(draft, *id)?;
        if !is_open(&draft.world, &plan) {
            let name = draft.colony(plan.colony).map_or(String::new(), |colony| colony.name().to_owned());
            let fact = format!("The plan of {name} is no longer open");
            return Err(check::bad(fact, "Plan her anew"));
        }
        check_days(*give_on, *dequeen_on)?;
        move_one(draft, plan, *give_on, *dequeen_on, day, why);
    }
    Ok(())
}

/// Gives one plan other days, if they are others.
pub(super) fn move_one(draft: &mut Draft, mut plan: Plan, give_on: Day, dequeen_on: Option<Day>, day: Day, why: &str) {
    if (plan.give_on, plan.dequeen_on) != (give_on, dequeen_on) {
        plan.moved.push(PlanMoved { on: day, from: plan.give_on, why: why.to_owned() });
        plan.give_on = give_on;
        plan.dequeen_on = dequeen_on;
        draft.put_plan(plan);
    }
}

fn barred(name: &str, bar: &ActiveBar) -> Refusal {
    let way_out = if bar.kind.is_soft() {
        "Leave this hive out, choose another day, or plan it all the same"
    } else {
        "Leave this hive out, or lift the bar first"
    };
    Refusal::new(RefusalKind::Barred, format!("{name} is barred: {}", bar_words(bar)), way_out)
}

/// A bar in words: `quarantine, order 14 of the inspector`.
pub(super) fn bar_words(bar: &ActiveBar) -> String {
    let kind = bar.kind.words();
    if bar.reason.is_empty() { kind.to_owned() } else { format!("{kind}, {}", bar.reason) }
}

/// Refuses a day to dequeen that comes after the day to give.
pub(super) fn check_days(give_on: Day, dequeen_on: Option<Day>) -> Result<(), Refusal> {
    if dequeen_on.is_some_and(|dequeen_on| dequeen_on > give_on) {
        return Err(check::bad("The old queen would be removed after the new one is given", "Give an earlier day"));
    }
    Ok(())
}

fn find(draft: &Draft, id: PlanId) -> Result<Plan, Refusal> {
    let missing = || check::missing("That plan is not in the register", "Choose another");
    draft.world.plans.get(&id).map(|plan| Plan::clone(plan)).ok_or_else(missing)
}
