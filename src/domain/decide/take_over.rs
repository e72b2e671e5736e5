//! Taking over: colonies come whole from another register, with their past. Nothing is judged anew and nothing follows
//! from it: whether a bar was in the way, what died and what was marked stand in what is taken over. Refused is only what
//! cannot be, and what names a thing that is not there.

use crate::domain::bar::{Bar, BarOn};
use crate::domain::change::Taken;
use crate::domain::colony::{Colony, EndWhy, Founding};
use crate::domain::decide::draft::Draft;
use crate::domain::decide::visits::check_visit;
use crate::domain::decide::{bars, check, founding, plans};
use crate::domain::plan::Plan;
use crate::domain::record::{Happening, Record};
use crate::domain::refusal::{Refusal, RefusalKind};

/// Takes colonies over.
pub(super) fn take_over(draft: &mut Draft, taken: &Taken) -> Result<(), Refusal> {
    check::new_queens(draft, &taken.queens)?;
    for colony in &taken.colonies {
        let names = founding::check_new(draft, colony)?;
        draft.put_colony(Colony { names, ..colony.clone() });
    }
    for colony in &taken.colonies {
        check_others(draft, colony)?;
    }
    for record in &taken.records {
        check_record(draft, record)?;
        draft.check_new_record(record.id)?;
        draft.add_record(record.clone());
    }
    for plan in &taken.plans {
        check_plan(draft, plan)?;
        draft.put_plan(plan.clone());
    }
    for bar in &taken.bars {
        check_bar(draft, bar)?;
        draft.put_bar(bar.clone());
    }
    Ok(())
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

fn check_plan(draft: &Draft, plan: &Plan) -> Result<(), Refusal> {
    draft.colony(plan.colony)?;
    check::source(draft, plan.source)?;
    check::parcel(draft, plan.parcel)?;
    check::not_ahead(plan.made, draft.today)?;
    if draft.world.plans.contains_key(&plan.id) {
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
