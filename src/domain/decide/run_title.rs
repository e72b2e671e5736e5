//! What a change to a run is called: what is different about it.

use crate::domain::decide::title::yard_name;
use crate::domain::ids::YardId;
use crate::domain::run_order::RunOrder;
use crate::domain::world::World;

/// What setting or replacing the run is called in that world.
pub(super) fn of(world: &World, run: &RunOrder) -> String {
    let day = run.day.with_weekday();
    let word = if run.stops.len() == 1 { "stop" } else { "stops" };
    let Some(known) = world.runs.get(&run.id) else {
        return format!("Run of {day} kept, {} {word}", run.stops.len());
    };
    if let Some((moved, before)) = one_moved(&order(known), &order(run)) {
        let moved = yard_name(world, moved);
        return match before {
            Some(before) => format!("{moved} moved before {}", yard_name(world, before)),
            None => format!("{moved} moved to the end"),
        };
    }
    if let Some(added) = only_in(run, known) {
        return format!("{} put on the run of {day}", yard_name(world, added));
    }
    if let Some(gone) = only_in(known, run) {
        return format!("{} left out of the run of {day}", yard_name(world, gone));
    }
    if let Some((yard, locked)) = lock_flipped(known, run) {
        let how = if locked { "keeps its place on" } else { "is free again on" };
        return format!("{} {how} the run of {day}", yard_name(world, yard));
    }
    let same_stops = known.stops == run.stops;
    match (known.base != run.base, known.leave != run.leave) {
        (true, false) if same_stops => format!("Run of {day} starts at {}", run.base.name),
        (false, true) if same_stops => {
            format!("Run of {day} leaves at {:02}:{:02}", run.leave / 60, run.leave % 60)
        }
        (false, false) if same_stops && known.vehicle != run.vehicle => {
            let vehicle = if run.vehicle.is_empty() { "no vehicle named" } else { run.vehicle.as_str() };
            format!("Run of {day}: {vehicle}")
        }
        _ => format!("Run of {day}, {} {word}", run.stops.len()),
    }
}

fn order(run: &RunOrder) -> Vec<YardId> {
    run.stops.iter().map(|stop| stop.yard).collect()
}

/// The one yard that is on `run` and not on `other`, where the others stand as they stood.
fn only_in(run: &RunOrder, other: &RunOrder) -> Option<YardId> {
    let (here, there) = (order(run), order(other));
    let one = here.iter().copied().find(|yard| !there.contains(yard))?;
    let rest: Vec<YardId> = here.into_iter().filter(|yard| *yard != one).collect();
    (rest == there).then_some(one)
}

/// The one stop whose lock differs, and whether it is locked now.
fn lock_flipped(known: &RunOrder, run: &RunOrder) -> Option<(YardId, bool)> {
    let differing = known.stops.iter().zip(&run.stops).filter(|(before, now)| before != now);
    match differing.collect::<Vec<_>>().as_slice() {
        [(before, now)] if before.yard == now.yard => Some((now.yard, now.locked)),
        _ => None,
    }
}

/// The one stop that changed its position, and the stop it comes before now.
fn one_moved(before: &[YardId], after: &[YardId]) -> Option<(YardId, Option<YardId>)> {
    if before.len() != after.len() || before == after {
        return None;
    }
    // Where two neighbours change places, the one that came forward is said to have moved.
    let candidates = (0..after.len()).filter(|at| {
        let without =
            |stops: &[YardId], stop: YardId| stops.iter().copied().filter(|it| *it != stop).collect::<Vec<_>>();
        after.get(*at).is_some_and(|stop| without(before, *stop) == without(after, *stop))
    });
    let at = candidates.min()?;
    Some((*after.get(at)?, after.get(at + 1).copied()))
}
