//! How colonies begin and run together: founded, split, united.

use crate::domain::colony::{Colony, End, EndWhy, FirstQueen, Founding, Named};
use crate::domain::day::Day;
use crate::domain::decide::check;
use crate::domain::decide::colonies::end_one;
use crate::domain::decide::draft::Draft;
use crate::domain::ids::{ColonyId, RecordId};
use crate::domain::queen::Queen;
use crate::domain::record::{Happening, Record};
use crate::domain::refusal::{Refusal, RefusalKind};
use crate::domain::standing::{QueenNow, standing};
use crate::domain::visit::{Did, Visit};

/// Founds colonies with the queens they begin with.
pub(super) fn found(draft: &mut Draft, colonies: &[Colony], queens: &[Queen]) -> Result<(), Refusal> {
    check::new_queens(draft, queens)?;
    for colony in colonies {
        found_one(draft, colony)?;
    }
    colonies.iter().try_for_each(|colony| {
        let founded = draft.colony(colony.id)?;
        draft.check_name(&founded)
    })
}

/// Splits a colony.
pub(super) fn split(
    draft: &mut Draft,
    parent: ColonyId,
    daughter: &Colony,
    queen_goes: bool,
    records: [RecordId; 2],
    by: &str,
) -> Result<(), Refusal> {
    let mother = draft.living(parent)?;
    let day = daughter.founded;
    check::day_at(&mother, day, draft.today)?;
    let began_with = if queen_goes { queen_on(draft, parent, day) } else { daughter.began_with };
    let daughter = Colony { how: Founding::SplitFrom(parent), began_with, ..daughter.clone() };
    found_one(draft, &daughter)?;
    draft.check_name(&daughter)?;
    let [split_off, queen_lost] = records;
    draft.check_new_record(split_off)?;
    draft.add_record(record(split_off, parent, day, by, Happening::SplitOff(daughter.id)));
    if queen_goes {
        draft.check_new_record(queen_lost)?;
        let did = Did { dequeened: true, queen_to: Some(daughter.id), ..Did::default() };
        let visit = Visit { did, ..Visit::default() };
        draft.add_record(record(queen_lost, parent, day, by, Happening::Visit(Box::new(visit))));
    }
    Ok(())
}

/// Unites one colony into another.
pub(super) fn unite(
    draft: &mut Draft,
    from: ColonyId,
    into: ColonyId,
    day: Day,
    id: RecordId,
    by: &str,
) -> Result<(), Refusal> {
    if from == into {
        return Err(check::bad("A hive cannot be united into itself", "Choose two hives"));
    }
    let goes_on = draft.living(into)?;
    check::day_at(&goes_on, day, draft.today)?;
    let end = End { day, why: EndWhy::UnitedInto(into), by: by.to_owned(), words: String::new() };
    draft.living(from)?;
    end_one(draft, from, &end)?;
    draft.check_new_record(id)?;
    draft.add_record(record(id, into, day, by, Happening::Received(from)));
    Ok(())
}

fn found_one(draft: &mut Draft, colony: &Colony) -> Result<(), Refusal> {
    let names = check_new(draft, colony)?;
    if let Founding::SplitFrom(parent) = colony.how {
        draft.colony(parent)?;
    }
    draft.put_colony(Colony { names, ..colony.clone() });
    Ok(())
}

/// Refuses a colony that is not new, or that cannot be; the colonies it names apart, which may be new as well. Its names
/// made clean.
pub(super) fn check_new(draft: &Draft, colony: &Colony) -> Result<Vec<Named>, Refusal> {
    if let Some(known) = draft.world.colonies.get(&colony.id) {
        let fact = format!("{} is in the register already", known.name());
        return Err(Refusal::new(RefusalKind::InUse, fact, "Move, rename or amend it instead"));
    }
    for stand in &colony.stands {
        draft.yard(stand.yard)?;
    }
    check_whole(draft, colony)
}

/// Refuses a colony that cannot be; the yards and colonies it names apart. Its names made clean.
pub(super) fn check_whole(draft: &Draft, colony: &Colony) -> Result<Vec<Named>, Refusal> {
    check::not_ahead(colony.founded, draft.today)?;
    if colony.names.is_empty() || colony.stands.is_empty() {
        return Err(check::bad("A hive needs a name and a yard", "Give both"));
    }
    let mut names = Vec::with_capacity(colony.names.len());
    for named in &colony.names {
        names.push(Named { name: check::name(&named.name, "hive")?, from: named.from });
    }
    let in_order = names.is_sorted_by_key(|named| named.from) && colony.stands.is_sorted_by_key(|stand| stand.from);
    if !in_order {
        return Err(check::bad("The names or places of a hive are not in the order of their days", "Sort them by day"));
    }
    if let FirstQueen::Recorded(queen) = colony.began_with
        && !draft.world.queens.contains_key(&queen)
    {
        return Err(check::missing("The queen of that hive is not in the register", "Give her details too"));
    }
    if let Some(end) = &colony.ended {
        check::not_ahead(end.day, draft.today)?;
        if end.day < colony.founded {
            return Err(check::impossible("A hive would end before it was founded", "Give a later last day"));
        }
    }
    Ok(names)
}

/// The queen a colony has on a day, as far as the register knows her.
fn queen_on(draft: &Draft, colony: ColonyId, day: Day) -> FirstQueen {
    match standing(&draft.world, colony, day).map(|standing| standing.queen) {
        Some(QueenNow::Present(facts)) => facts.queen.map_or(FirstQueen::Unknown, FirstQueen::Recorded),
        _ => FirstQueen::Unknown,
    }
}

fn record(id: RecordId, colony: ColonyId, day: Day, by: &str, what: Happening) -> Record {
    Record {
        id,
        colony,
        day,
        by: by.to_owned(),
        words: String::new(),
        what,
        together: None,
        struck: false,
        amended: Vec::new(),
    }
}
