//! Amended splits and unitings: what such a record brought about at the other colony is put right with it.

use crate::domain::colony::{Colony, End, EndWhy, FirstQueen, Founding};
use crate::domain::day::Day;
use crate::domain::decide::amend::revive;
use crate::domain::decide::check;
use crate::domain::decide::correct::founded_on;
use crate::domain::decide::draft::Draft;
use crate::domain::ids::ColonyId;
use crate::domain::record::{Amended, Happening, Record};
use crate::domain::refusal::Refusal;
use crate::domain::visit::Visit;

/// Follows an amendment of a split or a uniting at the other colony; other records concern no other.
pub(super) fn follow(draft: &mut Draft, before: &Record, after: &Record) -> Result<(), Refusal> {
    let struck = after.struck && !before.struck;
    match before.what {
        Happening::SplitOff(daughter) if struck => {
            let name = draft.colony(daughter)?.name().to_owned();
            let fact = format!("{name} was founded by that split");
            Err(check::bad(fact, format!("End {name} as entered by mistake, or undo the split")))
        }
        Happening::SplitOff(daughter) if after.day != before.day => redate_split(draft, daughter, before, after),
        Happening::Visit(ref visit) => keep_queen(draft, visit, after),
        Happening::Received(other) if struck => unmake_uniting(draft, other, before),
        Happening::Received(other) if after.day != before.day => redate_uniting(draft, other, before, after),
        _ => Ok(()),
    }
}

/// The daughter began on the new day, and the queen who went with her left on it.
fn redate_split(draft: &mut Draft, daughter: ColonyId, before: &Record, after: &Record) -> Result<(), Refusal> {
    let colony = draft.colony(daughter)?;
    if colony.founded == before.day {
        let moved = founded_on(draft, &colony, after.day)?;
        draft.put_colony(moved);
    }
    let went = draft.world.records_of(before.colony).iter().find(|record| {
        let queen = matches!(&record.what, Happening::Visit(visit) if visit.did.queen_to == Some(daughter));
        queen && !record.struck && record.day == before.day
    });
    if let (Some(went), Some(note)) = (went.cloned(), after.amended.last()) {
        let mut moved = Record { day: after.day, ..went.clone() };
        moved
            .amended
            .push(Amended { was: format!("{}: {}", before.day.near(draft.today), "her queen left"), ..note.clone() });
        draft.alter_record(went, moved);
    }
    Ok(())
}

/// The queen did not go with the daughter after all: it began without one.
fn keep_queen(draft: &mut Draft, before: &Visit, after: &Record) -> Result<(), Refusal> {
    let goes = matches!(&after.what, Happening::Visit(visit) if visit.did.queen_to == before.did.queen_to);
    let Some(daughter) = before.did.queen_to.filter(|_| after.struck || !goes) else { return Ok(()) };
    let colony = draft.colony(daughter)?;
    if colony.how == Founding::SplitFrom(after.colony) {
        draft.put_colony(Colony { began_with: FirstQueen::None, ..Colony::clone(&colony) });
    }
    Ok(())
}

fn redate_uniting(draft: &mut Draft, other: ColonyId, before: &Record, after: &Record) -> Result<(), Refusal> {
    let colony = draft.colony(other)?;
    let Some(end) = united_by(&colony, before) else { return Ok(()) };
    let last = draft.world.records_of(other).iter().rev().find(|record| !record.struck).map(|record| record.day);
    let least: Day = last.unwrap_or(colony.founded).max(colony.founded);
    if after.day < least {
        let (name, least) = (colony.name(), least.near(draft.today));
        let fact = format!("{name} was still there on {least}");
        return Err(check::impossible(fact, "Give that day or a later one, or amend what was recorded there"));
    }
    let ended = Some(End { day: after.day, ..end.clone() });
    draft.put_colony(Colony { ended, ..Colony::clone(&colony) });
    Ok(())
}

/// The uniting did not happen: the other colony lives on.
fn unmake_uniting(draft: &mut Draft, other: ColonyId, before: &Record) -> Result<(), Refusal> {
    let colony = draft.colony(other)?;
    if united_by(&colony, before).is_some() { revive(draft, other) } else { Ok(()) }
}

/// The end that the uniting brought about.
fn united_by<'a>(colony: &'a Colony, record: &Record) -> Option<&'a End> {
    colony.ended.as_ref().filter(|end| end.why == EndWhy::UnitedInto(record.colony) && end.day == record.day)
}
