//! Parcels: added, arrived, late.

use std::sync::Arc;

use crate::domain::day::Day;
use crate::domain::decide::check;
use crate::domain::decide::draft::Draft;
use crate::domain::decide::plans::move_one;
use crate::domain::ids::ParcelId;
use crate::domain::in_hand::queen::birth_of_given;
use crate::domain::parcel::{Parcel, ParcelKind};
use crate::domain::plan::{Plan, is_open};
use crate::domain::queen::Queen;
use crate::domain::record::Happening;
use crate::domain::refusal::Refusal;
use crate::domain::visit::Given;
use crate::domain::world::World;

/// Adds or replaces a parcel.
pub(super) fn put(draft: &mut Draft, parcel: &Parcel) -> Result<(), Refusal> {
    check::source(draft, parcel.source)?;
    if parcel.count == 0 {
        return Err(check::bad("The parcel holds nothing", "Give the number that was sent or ordered"));
    }
    if parcel.dead.checked_add(parcel.gone).is_none_or(|lost| lost > parcel.count) {
        let fact = format!("{} dead and {} gone are more than the {} sent", parcel.dead, parcel.gone, parcel.count);
        return Err(check::bad(fact, "Put the numbers right"));
    }
    for day in [parcel.sent, parcel.arrived].into_iter().flatten() {
        check::not_ahead(day, draft.today)?;
    }
    if let (Some(sent), Some(arrived)) = (parcel.sent, parcel.arrived)
        && arrived < sent
    {
        return Err(check::impossible("The parcel would arrive before it was sent", "Give a later day of arrival"));
    }
    check_born(parcel, draft.today)?;
    let before = draft.world.parcels.get(&parcel.id).cloned();
    draft.put_parcel(parcel.clone());
    if let Some(before) = before {
        tell_queens(draft, &before, parcel);
    }
    Ok(())
}

/// Refuses a birth that cannot have been.
fn check_born(parcel: &Parcel, today: Day) -> Result<(), Refusal> {
    check::birth(parcel.born)?;
    if parcel.kind == ParcelKind::Cells && !(parcel.born.is_unknown() && parcel.dot.is_none()) {
        let fact = "The queens of cells are not born yet and carry no dot";
        return Err(check::bad(fact, "Leave both empty; give the day of the graft"));
    }
    let Some(earliest) = parcel.born.earliest else { return Ok(()) };
    check::not_ahead(earliest, today)?;
    match parcel.sent.or(parcel.arrived) {
        Some(came) if earliest > came => {
            let fact = format!("The queens would be born after {}, when they came", came.near(today));
            Err(check::impossible(fact, "Give an earlier birth"))
        }
        _ => Ok(()),
    }
}

/// Queens given from a parcel learn what is told of it later, where they know just what the parcel had told them.
fn tell_queens(draft: &mut Draft, before: &Parcel, after: &Parcel) {
    if (before.born, before.dot, before.grafted) == (after.born, after.dot, after.grafted) {
        return;
    }
    let given: Vec<(Day, Given)> = draft
        .world
        .records
        .values()
        .flat_map(|records| records.iter())
        .filter(|record| !record.struck)
        .filter_map(|record| match &record.what {
            Happening::Visit(visit) => visit.gave.clone().map(|gave| (record.day, gave)),
            _ => None,
        })
        .filter(|(_, gave)| gave.parcel == Some(after.id))
        .collect();
    let settings = Arc::clone(&draft.world.settings);
    for (day, gave) in given {
        let Some(queen) = draft.world.queens.get(&gave.queen).map(|queen| Queen::clone(queen)) else { continue };
        let birth = |parcel| birth_of_given(&settings, Some(parcel), gave.method, day, gave.emerged);
        let told = Queen {
            birth: if queen.birth == birth(before) { birth(after) } else { queen.birth },
            dot: if queen.dot == before.dot { after.dot } else { queen.dot },
            ..queen
        };
        draft.put_queen(told);
    }
}

/// A parcel is late: its open plans are moved by as many days as it is.
pub(super) fn late(draft: &mut Draft, id: ParcelId, promised: Day, day: Day) -> Result<(), Refusal> {
    check::not_ahead(day, draft.today)?;
    let Some(parcel) = draft.world.parcels.get(&id).cloned() else {
        return Err(check::missing("That parcel is not in the register", "Add the parcel first"));
    };
    if let Some(arrived) = parcel.arrived {
        let fact = format!("That parcel arrived on {}", arrived.near(draft.today));
        return Err(check::impossible(fact, "Take its arrival back first"));
    }
    if promised < day {
        let fact = format!("{} is past on the day of the news", promised.near(draft.today));
        return Err(check::impossible(fact, "Give the day now promised"));
    }
    let later = parcel.expected().map_or(0, |expected| promised.since(expected));
    let why = if later < 0 { "parcel early" } else { "parcel late" };
    draft.put_parcel(Parcel { promised: Some(promised), ..parcel });
    let waiting: Vec<Plan> = draft
        .world
        .plans
        .values()
        .filter(|plan| plan.parcel == Some(id) && is_open(&draft.world, plan))
        .map(|plan| Plan::clone(plan))
        .collect();
    for plan in waiting {
        // A queen who was not removed on her day stays until the new one comes: her day moves too.
        let there = !dequeened_since(&draft.world, &plan);
        let dequeen_on = plan.dequeen_on.map(|on| if there { on.plus(later) } else { on });
        let give_on = plan.give_on.plus(later);
        move_one(draft, plan, give_on, dequeen_on.map(|on| on.min(give_on)), day, why);
    }
    Ok(())
}

/// The old queen was removed since the plan was made.
fn dequeened_since(world: &World, plan: &Plan) -> bool {
    world.records_of(plan.colony).iter().any(|record| {
        let removed = matches!(&record.what, Happening::Visit(visit) if visit.did.dequeened);
        removed && !record.struck && record.day >= plan.made
    })
}
