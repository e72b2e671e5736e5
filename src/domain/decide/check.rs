//! Checks that several families of changes share.

use crate::domain::change::Change;
use crate::domain::colony::Colony;
use crate::domain::day::Day;
use crate::domain::decide::draft::Draft;
use crate::domain::ids::{ParcelId, QueenId, SourceId};
use crate::domain::initials;
use crate::domain::queen::{Birth, Queen};
use crate::domain::refusal::{Refusal, RefusalKind};

/// The name without white space at its ends, if it is one.
pub(super) fn name(text: &str, of: &str) -> Result<String, Refusal> {
    let name = text.trim();
    if name.is_empty() {
        return Err(bad(format!("The {of} has no name"), "Give it one"));
    }
    crate::domain::name::check(name, of)?;
    Ok(name.to_owned())
}

/// Refuses initials that do not fit the sheet. What is taken over as it stands is not asked, nor a bar, which a file may
/// bring back with those it was set with.
pub(super) fn by_whom(change: &Change) -> Result<(), Refusal> {
    let by = match change {
        Change::Visits { visits, .. } => {
            return visits.iter().try_for_each(|visit| initials::read(&visit.by).map(drop));
        }
        Change::Amend(amendment) => &amendment.by,
        Change::Correct(correction) => &correction.by,
        Change::End { end, .. } => &end.by,
        Change::LiftBar { lifted, .. } => &lifted.by,
        Change::Split { by, .. }
        | Change::Unite { by, .. }
        | Change::Answer { by, .. }
        | Change::LiftFoundBar { by, .. } => by,
        _ => return Ok(()),
    };
    initials::read(by).map(drop)
}

/// Refuses a day that is still to come.
pub(super) fn not_ahead(day: Day, today: Day) -> Result<(), Refusal> {
    if day > today {
        let fact = format!("{} is still to come", day.near(today));
        return Err(Refusal::new(RefusalKind::Impossible, fact, "Give today or an earlier day"));
    }
    Ok(())
}

/// Refuses a day on which nothing can have happened at the colony.
pub(super) fn day_at(colony: &Colony, day: Day, today: Day) -> Result<(), Refusal> {
    not_ahead(day, today)?;
    if day < colony.founded {
        return Err(Refusal::new(
            RefusalKind::Impossible,
            format!("{} was founded on {}, after {}", colony.name(), colony.founded.near(today), day.near(today)),
            "Give a later day, or choose the hive that had this name then",
        ));
    }
    if let Some(end) = &colony.ended
        && day > end.day
    {
        return Err(Refusal::new(
            RefusalKind::Impossible,
            format!("{} ended on {}, before {}", colony.name(), end.day.near(today), day.near(today)),
            "Give an earlier day, or choose the hive that has this name now",
        ));
    }
    Ok(())
}

/// Refuses a source that is not there.
pub(super) fn source(draft: &Draft, source: Option<SourceId>) -> Result<(), Refusal> {
    match source {
        Some(id) if !draft.world.sources.contains_key(&id) => {
            Err(missing("That source of queens is not in the register", "Add the source first"))
        }
        _ => Ok(()),
    }
}

/// Refuses a parcel that is not there.
pub(super) fn parcel(draft: &Draft, parcel: Option<ParcelId>) -> Result<(), Refusal> {
    match parcel {
        Some(id) if !draft.world.parcels.contains_key(&id) => {
            Err(missing("That parcel is not in the register", "Add the parcel first"))
        }
        _ => Ok(()),
    }
}

/// Refuses a queen who is not there.
pub(super) fn queen(draft: &Draft, queen: QueenId) -> Result<(), Refusal> {
    if draft.world.queens.contains_key(&queen) {
        return Ok(());
    }
    Err(missing("That queen is not in the register", "Give her details too"))
}

/// Refuses bounds of a birth that cross.
pub(super) fn birth(birth: Birth) -> Result<(), Refusal> {
    match (birth.earliest, birth.latest) {
        (Some(earliest), Some(latest)) if earliest > latest => Err(bad(
            format!("The queen was born not before {earliest} and not after {latest}, which cannot be"),
            "Give the earlier day first",
        )),
        _ => Ok(()),
    }
}

/// Takes queens that are new to the register with a change.
pub(super) fn new_queens(draft: &mut Draft, queens: &[Queen]) -> Result<(), Refusal> {
    for queen in queens {
        birth(queen.birth)?;
        source(draft, queen.source)?;
        if draft.world.queens.get(&queen.id).is_some_and(|known| **known != *queen) {
            let fact = "That queen is in the register already, with other details";
            return Err(Refusal::new(RefusalKind::InUse, fact, "Correct her details on the hive's card"));
        }
        draft.put_queen(queen.clone());
    }
    Ok(())
}

/// The refusal of a value.
pub(super) fn bad(fact: impl Into<String>, way_out: impl Into<String>) -> Refusal {
    Refusal::new(RefusalKind::BadValue, fact, way_out)
}

/// The refusal of something that is not there.
pub(super) fn missing(fact: impl Into<String>, way_out: impl Into<String>) -> Refusal {
    Refusal::new(RefusalKind::Missing, fact, way_out)
}

/// The refusal of something that cannot have been.
pub(super) fn impossible(fact: impl Into<String>, way_out: impl Into<String>) -> Refusal {
    Refusal::new(RefusalKind::Impossible, fact, way_out)
}
