//! The whole of the rules for changes: refuses, or says exactly what will be different.
//!
//! One file for each family of changes. Plans can be refused by a bar; what has happened in a yard is refused only where
//! it cannot have been. Every refusal says the fact and the way out.

mod amend;
mod bars;
mod between;
mod check;
mod colonies;
mod correct;
mod draft;
mod founding;
mod labels;
mod parcels;
mod plans;
mod register_things;
mod run_title;
mod runs;
mod take_over;
mod title;
mod visits;

use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::decide::draft::Draft;
use crate::domain::fact::Fact;
use crate::domain::initials;
use crate::domain::refusal::Refusal;
use crate::domain::world::World;

/// Decides a change on a day: the facts that follow, or why not. A change that alters nothing yields no facts.
///
/// # Errors
/// A refusal: a plan against a bar, a thing that is not there, a name that is taken, a day that cannot be.
pub fn decide(world: &World, change: &Change, today: Day) -> Result<Vec<Fact>, Refusal> {
    if let Change::PutBar(bar) = change {
        initials::read(&bar.by)?;
    }
    let mut draft = Draft::new(world, today);
    decide_on(&mut draft, change)?;
    Ok(draft.facts())
}

/// What a change is called in the history and beside Undo: `B14 acceptance look, accepted`. The world is the one
/// before the change.
pub fn title(world: &World, change: &Change) -> String {
    title::title(world, change)
}

fn decide_on(draft: &mut Draft, change: &Change) -> Result<(), Refusal> {
    check::by_whom(change)?;
    match change {
        Change::SetFirm(firm) => {
            draft.put_firm(firm.as_ref().clone());
            Ok(())
        }
        Change::SetSetting { name, value } => register_things::set_setting(draft, name, *value),
        Change::PutYard(yard) => register_things::put_yard(draft, yard),
        Change::RemoveYard(yard) => register_things::remove_yard(draft, *yard),
        Change::PutSource(source) => register_things::put_source(draft, source),
        Change::PutQueen(queen) => register_things::put_queen(draft, queen),
        Change::Found { colonies, queens } => founding::found(draft, colonies, queens),
        Change::TakeOver(taken) => take_over::take_over(draft, taken),
        Change::Move { to, day } => colonies::move_to(draft, to, *day),
        Change::SwapPlaces { one, other, day } => colonies::swap_places(draft, *one, *other, *day),
        Change::Rename { names, day } => colonies::rename(draft, names, *day),
        Change::End { colonies, end } => colonies::end(draft, colonies, end),
        Change::Split { parent, daughter, queen_goes, records, by } => {
            founding::split(draft, *parent, daughter, *queen_goes, *records, by)
        }
        Change::Unite { from, into, day, record, by } => founding::unite(draft, *from, *into, *day, *record, by),
        Change::Visits { occasion, visits, queens } => visits::record(draft, occasion, visits, queens),
        Change::Answer { colony, record, day, which, by } => visits::answer(draft, *colony, *record, *day, *which, by),
        Change::LiftFoundBar { colony, record, day, why, by } => {
            bars::lift_found(draft, *colony, *record, *day, why, by)
        }
        Change::Correct(correction) => correct::correct(draft, correction),
        Change::Amend(amendment) => amend::amend(draft, amendment),
        Change::Plan { plans, overrule_soft } => plans::plan(draft, plans, *overrule_soft),
        Change::CallOff { plans, day } => plans::call_off(draft, plans, *day),
        Change::MovePlans { plans, day, why } => plans::move_plans(draft, plans, *day, why),
        Change::PutParcel(parcel) => parcels::put(draft, parcel),
        Change::ParcelLate { parcel, promised, day } => parcels::late(draft, *parcel, *promised, *day),
        Change::PutBar(bar) => bars::put(draft, bar),
        Change::LiftBar { bar, lifted } => bars::lift(draft, *bar, lifted),
        Change::LabelsPrinted { colonies, day } => labels::printed(draft, colonies, *day),
        Change::LidsKnown { colonies } => labels::known(draft, colonies),
        Change::LabelsWanted { colonies } => labels::wanted(draft, colonies),
        Change::PutRun(run) => runs::put(draft, run),
        Change::RemoveRun(run) => runs::remove(draft, *run),
        Change::Several { changes, .. } => changes.iter().try_for_each(|change| decide_on(draft, change)),
    }
}
