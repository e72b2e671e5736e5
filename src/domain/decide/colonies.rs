//! What befalls colonies that are there: moves, swapped places, new names, ends.

use crate::domain::colony::{Colony, End, EndWhy, Named, Stand};
use crate::domain::day::Day;
use crate::domain::decide::check;
use crate::domain::decide::draft::Draft;
use crate::domain::decide::plans;
use crate::domain::ids::{ColonyId, YardId};
use crate::domain::refusal::Refusal;
use crate::domain::yard::Spot;

/// Moves colonies to other spots or yards.
pub(super) fn move_to(draft: &mut Draft, to: &[(ColonyId, YardId, Option<Spot>)], day: Day) -> Result<(), Refusal> {
    for (id, yard, spot) in to {
        let colony = draft.living(*id)?;
        check::day_at(&colony, day, draft.today)?;
        draft.yard(*yard)?;
        draft.put_colony(standing_from(&colony, Stand { yard: *yard, spot: *spot, from: day }));
    }
    to.iter().try_for_each(|(id, _, _)| check_name_of(draft, *id))
}

/// Lets two colonies swap places.
pub(super) fn swap_places(draft: &mut Draft, one: ColonyId, other: ColonyId, day: Day) -> Result<(), Refusal> {
    if one == other {
        return Err(check::bad("A hive cannot swap places with itself", "Choose two hives"));
    }
    let (first, second) = (draft.living(one)?, draft.living(other)?);
    for colony in [&first, &second] {
        check::day_at(colony, day, draft.today)?;
    }
    if let (Some(here), Some(there)) = (stand_on(&first, day), stand_on(&second, day)) {
        draft.put_colony(standing_from(&first, Stand { from: day, ..there }));
        draft.put_colony(standing_from(&second, Stand { from: day, ..here }));
    }
    for id in [one, other] {
        // On an earlier day one of them may have stood in a yard that was removed since.
        if let Some(yard) = draft.colony(id)?.yard() {
            draft.yard(yard)?;
        }
        check_name_of(draft, id)?;
    }
    Ok(())
}

/// Gives colonies new names.
pub(super) fn rename(draft: &mut Draft, names: &[(ColonyId, String)], day: Day) -> Result<(), Refusal> {
    for (id, name) in names {
        let colony = draft.living(*id)?;
        check::day_at(&colony, day, draft.today)?;
        let name = check::name(name, "hive")?;
        let mut renamed = Colony::clone(&colony);
        let at = renamed.names.partition_point(|named| named.from < day);
        if renamed.names.get(at).is_some_and(|named| named.from == day) {
            renamed.names.remove(at);
        }
        renamed.names.insert(at, Named { name, from: day });
        renamed.names.dedup_by(|later, earlier| later.name == earlier.name);
        renamed.lid.stale |= renamed.name() != colony.name() && !colony.lid.printed.is_empty();
        draft.put_colony(renamed);
    }
    names.iter().try_for_each(|(id, _)| check_name_of(draft, *id))
}

/// Ends colonies.
pub(super) fn end(draft: &mut Draft, colonies: &[ColonyId], end: &End) -> Result<(), Refusal> {
    if let EndWhy::UnitedInto(into) = end.why {
        draft.living(into)?;
        if colonies.contains(&into) {
            return Err(check::bad("A hive cannot be united into itself", "Choose another hive"));
        }
    }
    colonies.iter().try_for_each(|id| end_one(draft, *id, end))
}

/// Ends one colony; its open plans are called off.
pub(super) fn end_one(draft: &mut Draft, id: ColonyId, end: &End) -> Result<(), Refusal> {
    let colony = draft.colony(id)?;
    if colony.ended.as_ref() == Some(end) {
        return Ok(());
    }
    let colony = draft.living(id)?;
    check::day_at(&colony, end.day, draft.today)?;
    let last = draft.world.records_of(id).iter().rev().find(|record| !record.struck).map(|record| record.day);
    if let Some(last) = last
        && last > end.day
    {
        let fact =
            format!("{} was visited on {}, after {}", colony.name(), last.near(draft.today), end.day.near(draft.today));
        return Err(check::impossible(fact, "End it on that day or later, or amend the visit"));
    }
    draft.put_colony(Colony { ended: Some(end.clone()), ..Colony::clone(&colony) });
    plans::call_off_all(draft, id, end.day);
    Ok(())
}

fn check_name_of(draft: &mut Draft, id: ColonyId) -> Result<(), Refusal> {
    let colony = draft.colony(id)?;
    draft.check_name(&colony)
}

/// Where the colony stood on that day.
fn stand_on(colony: &Colony, day: Day) -> Option<Stand> {
    colony.stands.iter().rev().find(|stand| stand.from <= day).or(colony.stands.first()).copied()
}

/// The colony with one more stand; where it is not the latest day, what came later stays.
fn standing_from(colony: &Colony, stand: Stand) -> Colony {
    let mut moved = colony.clone();
    let at = moved.stands.partition_point(|held| held.from < stand.from);
    if moved.stands.get(at).is_some_and(|held| held.from == stand.from) {
        moved.stands.remove(at);
    }
    moved.stands.insert(at, stand);
    moved.stands.dedup_by(|later, earlier| (later.yard, later.spot) == (earlier.yard, earlier.spot));
    moved
}
