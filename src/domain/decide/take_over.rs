//! Taking over: colonies come whole from another register, with their past. Nothing is judged anew and nothing follows
//! from it: whether a bar was in the way, what died and what was marked stand in what is taken over. Refused is only what
//! cannot be, and what names a thing that is not there.
//!
//! Where two registers run together (`Taken::anew`), a thing that is here already gives way to what is told of it.

use std::collections::{BTreeMap, BTreeSet};

use crate::domain::bar::{Bar, BarOn};
use crate::domain::change::Taken;
use crate::domain::colony::{Colony, EndWhy, Founding, Named};
use crate::domain::decide::draft::Draft;
use crate::domain::decide::visits::check_visit;
use crate::domain::decide::{bars, check, founding, plans};
use crate::domain::ids::{ColonyId, RecordId, YardId};
use crate::domain::plan::Plan;
use crate::domain::record::{Happening, Record};
use crate::domain::refusal::{Refusal, RefusalKind};

/// Takes colonies over.
pub(super) fn take_over(draft: &mut Draft, taken: &Taken) -> Result<(), Refusal> {
    check::new_queens(draft, &taken.queens)?;
    let here = if taken.anew { records_here(draft, taken) } else { BTreeMap::new() };
    for colony in &taken.colonies {
        let known = taken.anew && draft.world.colonies.contains_key(&colony.id);
        let names = if known { check_anew(draft, colony)? } else { founding::check_new(draft, colony)? };
        draft.put_colony(Colony { names, ..colony.clone() });
    }
    for colony in &taken.colonies {
        check_others(draft, colony)?;
    }
    for record in &taken.records {
        check_record(draft, record)?;
        match here.get(&record.id).and_then(|colony| draft.world.record(*colony, record.id)).cloned() {
            Some(before) => draft.alter_record(before, record.clone()),
            None => {
                draft.check_new_record(record.id)?;
                draft.add_record(record.clone());
            }
        }
    }
    for plan in &taken.plans {
        check_plan(draft, plan, taken.anew)?;
        draft.put_plan(plan.clone());
    }
    for bar in &taken.bars {
        check_bar(draft, bar)?;
        draft.put_bar(bar.clone());
    }
    if taken.anew {
        taken.colonies.iter().try_for_each(|colony| check_past(draft, colony))?;
    }
    Ok(())
}

/// Where the records that are told are now, as far as they are here.
fn records_here(draft: &Draft, taken: &Taken) -> BTreeMap<RecordId, ColonyId> {
    let told: BTreeSet<RecordId> = taken.records.iter().map(|record| record.id).collect();
    let all = draft.world.records.values().flat_map(|records| records.iter());
    all.filter(|record| told.contains(&record.id)).map(|record| (record.id, record.colony)).collect()
}

/// A colony that is here may have stood in yards that are gone, if the register knows of it; a living one may not stand in
/// one.
fn check_anew(draft: &Draft, colony: &Colony) -> Result<Vec<Named>, Refusal> {
    let before = draft.colony(colony.id)?;
    let stood = |yard: YardId| before.stands.iter().any(|stand| stand.yard == yard);
    for stand in colony.stands.iter().filter(|stand| !stood(stand.yard)) {
        draft.yard(stand.yard)?;
    }
    if let Some(yard) = colony.yard().filter(|_| colony.is_living()) {
        draft.yard(yard)?;
    }
    founding::check_whole(draft, colony)
}

/// What happened at a colony, told or not, happened between its first day and its last.
fn check_past(draft: &Draft, colony: &Colony) -> Result<(), Refusal> {
    let unstruck = draft.world.records_of(colony.id).iter().filter(|record| !record.struck);
    unstruck.into_iter().try_for_each(|record| check::day_at(colony, record.day, draft.today))
}

/// The colonies a colony names are there, and its name is its own.
fn check_others(draft: &mut Draft, colony: &Colony) -> Result<(), Refusal> {
    if let Founding::SplitFrom(parent) = colony.how {
        draft.colony(parent)?;
    }
    if let Some(EndWhy::UnitedInto(into)) = colony.ended.as_ref().map(|end| end.why) {
        draft.colony(into)?;
    }
    draft.check_name(colony)
}

/// A record that was taken back may say what cannot be; only what it names must be there.
fn check_record(draft: &Draft, record: &Record) -> Result<(), Refusal> {
    let colony = draft.colony(record.colony)?;
    match &record.what {
        Happening::Visit(visit) if !record.struck => check_visit(draft, record.colony, record.day, visit)?,
        Happening::Visit(visit) => {
            for other in [visit.lids_swapped, visit.did.queen_to].into_iter().flatten() {
                draft.colony(other)?;
            }
            if let Some(gave) = &visit.gave {
                check::queen(draft, gave.queen)?;
                check::parcel(draft, gave.parcel)?;
            }
        }
        Happening::Received(other) | Happening::SplitOff(other) => drop(draft.colony(*other)?),
        Happening::Which(_) | Happening::BarLifted { .. } => {}
    }
    if record.struck { Ok(()) } else { check::day_at(&colony, record.day, draft.today) }
}

fn check_plan(draft: &Draft, plan: &Plan, anew: bool) -> Result<(), Refusal> {
    draft.colony(plan.colony)?;
    check::source(draft, plan.source)?;
    check::parcel(draft, plan.parcel)?;
    check::not_ahead(plan.made, draft.today)?;
    if draft.world.plans.get(&plan.id).is_some_and(|known| !anew || known.colony != plan.colony) {
        return Err(Refusal::new(RefusalKind::InUse, "That plan is in the register already", "Make a new one"));
    }
    plans::check_days(plan.give_on, plan.dequeen_on)
}

fn check_bar(draft: &Draft, bar: &Bar) -> Result<(), Refusal> {
    match bar.on {
        BarOn::Colony(colony) => drop(draft.colony(colony)?),
        BarOn::Yard(yard) => drop(draft.yard(yard)?),
    }
    bars::check_bar(bar)
}
