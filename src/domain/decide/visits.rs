//! Visits: each becomes a record at its colony, with what follows at once (a colony that died, a queen's dot, lids).

use crate::domain::change::{NewVisit, Occasion};
use crate::domain::colony::{Colony, End, EndWhy};
use crate::domain::day::Day;
use crate::domain::decide::check;
use crate::domain::decide::colonies::end_one;
use crate::domain::decide::draft::Draft;
use crate::domain::decide::labels;
use crate::domain::decide::plans::bar_words;
use crate::domain::grammar::contradiction::contradiction;
use crate::domain::ids::{ColonyId, QueenId, RecordId};
use crate::domain::plan::is_open;
use crate::domain::queen::{Dot, Queen};
use crate::domain::record::{Happening, Record, Which};
use crate::domain::refusal::Refusal;
use crate::domain::standing::bars::of_find;
use crate::domain::standing::{QueenNow, standing};
use crate::domain::visit::{Given, Marked, OldQueen, Visit};

/// Records visits.
pub(super) fn record(
    draft: &mut Draft,
    occasion: &Occasion,
    visits: &[NewVisit],
    queens: &[Queen],
) -> Result<(), Refusal> {
    check::new_queens(draft, queens)?;
    let together = match occasion {
        Occasion::Evening(evening) => Some(*evening),
        Occasion::Introduction | Occasion::Find => None,
    };
    for new in visits {
        check_visit(draft, new.colony, new.day, &new.visit)?;
        draft.check_new_record(new.record)?;
        let visit = with_bar_noted(draft, new.colony, new.day, &new.visit);
        draft.add_record(Record {
            id: new.record,
            colony: new.colony,
            day: new.day,
            by: new.by.trim().to_owned(),
            words: new.words.trim().to_owned(),
            what: Happening::Visit(Box::new(visit)),
            together,
            struck: false,
            amended: Vec::new(),
        });
        follow_up(draft, new.colony, new.day, &new.by, &new.visit)?;
    }
    Ok(())
}

/// Answers which queen another queen was.
pub(super) fn answer(
    draft: &mut Draft,
    colony: ColonyId,
    id: RecordId,
    day: Day,
    which: Which,
    by: &str,
) -> Result<(), Refusal> {
    let hive = draft.colony(colony)?;
    check::day_at(&hive, day, draft.today)?;
    let sighted = draft.world.records_of(colony).iter().any(|record| {
        let another = matches!(&record.what, Happening::Visit(visit) if visit.seen.another);
        another && !record.struck && record.day <= day
    });
    if !sighted {
        let fact = format!("No other queen was seen at {} by {}", hive.name(), day.near(draft.today));
        return Err(check::missing(fact, "Record the find first"));
    }
    draft.check_new_record(id)?;
    draft.add_record(Record {
        id,
        colony,
        day,
        by: by.trim().to_owned(),
        words: String::new(),
        what: Happening::Which(which),
        together: None,
        struck: false,
        amended: Vec::new(),
    });
    Ok(())
}

/// Refuses a visit that cannot have been.
pub(super) fn check_visit(draft: &Draft, colony: ColonyId, day: Day, visit: &Visit) -> Result<(), Refusal> {
    let hive = draft.colony(colony)?;
    check::day_at(&hive, day, draft.today)?;
    if let Some(found) = contradiction(visit) {
        return Err(check::bad(format!("{}: {}", hive.name(), found.fact), found.way_out));
    }
    if visit.temper.is_some_and(|temper| !(1..=4).contains(&temper)) {
        return Err(check::bad(format!("{}: temper goes from 1 to 4", hive.name()), "Give a number from 1 to 4"));
    }
    if visit.lids_swapped == Some(colony) {
        return Err(check::bad(format!("{} cannot swap lids with itself", hive.name()), "Name the other hive"));
    }
    for other in [visit.lids_swapped, visit.did.queen_to].into_iter().flatten() {
        draft.colony(other)?;
    }
    visit.gave.as_ref().map_or(Ok(()), |gave| check_given(draft, &hive, day, gave))
}

fn check_given(draft: &Draft, hive: &Colony, day: Day, gave: &Given) -> Result<(), Refusal> {
    if !draft.world.queens.contains_key(&gave.queen) {
        let fact = format!("The queen given to {} is not in the register", hive.name());
        return Err(check::missing(fact, "Give her details too"));
    }
    check::parcel(draft, gave.parcel)?;
    if gave.cells == 0 {
        return Err(check::bad(format!("{}: no cell was given", hive.name()), "Give the number of cells, 1 or more"));
    }
    let late = |removed: Day| removed > day;
    if matches!(gave.old_queen, OldQueen::RemovedOn(removed) if late(removed)) {
        let fact = format!("{}: the old queen would be removed after the new one was given", hive.name());
        return Err(check::impossible(fact, "Give that day or an earlier one"));
    }
    if gave.emerged.is_some_and(|emerged| emerged > day) {
        let fact = format!("{}: the virgin would emerge after she was given", hive.name());
        return Err(check::impossible(fact, "Give that day or an earlier one"));
    }
    Ok(())
}

/// The visit with the bar noted against which a queen was given. What was done is recorded all the same. Soft bars are
/// not held against a queen that was planned for: the plan was made in spite of them.
pub(super) fn with_bar_noted(draft: &Draft, colony: ColonyId, day: Day, visit: &Visit) -> Visit {
    let mut visit = visit.clone();
    let seen = visit.seen.clone();
    if let Some(gave) = &mut visit.gave {
        let planned = || {
            let plans = draft.world.plans.values();
            let mut of_colony = plans.filter(|plan| plan.colony == colony && plan.made <= day);
            of_colony.any(|plan| is_open(&draft.world, plan))
        };
        let mut bars = standing(&draft.world, colony, day).map(|standing| standing.bars).unwrap_or_default();
        // What was seen on the visit itself bars too: the find comes before what was given.
        bars.extend(of_find(&seen, day));
        let against = bars.iter().find(|bar| bar.forbids(gave.method) && !(bar.kind.is_soft() && planned()));
        gave.against_bar = against.map(bar_words);
    }
    visit
}

/// What a recorded visit brings about beside its record.
pub(super) fn follow_up(draft: &mut Draft, colony: ColonyId, day: Day, by: &str, visit: &Visit) -> Result<(), Refusal> {
    if let Some(marked) = visit.did.marked {
        mark(draft, colony, day, marked);
    }
    if let Some(other) = visit.lids_swapped {
        labels::wanted(draft, &[colony, other])?;
    }
    if visit.seen.dead && draft.colony(colony)?.is_living() {
        let end = End { day, why: EndWhy::Died, by: by.trim().to_owned(), words: String::new() };
        end_one(draft, colony, &end)?;
    }
    Ok(())
}

/// Gives the recorded queen her dot, where one is present.
fn mark(draft: &mut Draft, colony: ColonyId, day: Day, marked: Marked) {
    if let Some((queen, dot)) = marks(draft, colony, day, marked) {
        draft.put_queen(Queen { dot: Some(dot), ..queen });
    }
}

/// The recorded queen that a mark of that day is on, and the dot.
pub(super) fn marks(draft: &Draft, colony: ColonyId, day: Day, marked: Marked) -> Option<(Queen, Dot)> {
    let queen = recorded_queen(draft, colony, day)?;
    let queen = Queen::clone(draft.world.queens.get(&queen)?);
    let dot = marked.dot.unwrap_or_else(|| Dot::for_marking(queen.birth, day));
    Some((queen, dot))
}

fn recorded_queen(draft: &Draft, colony: ColonyId, day: Day) -> Option<QueenId> {
    match standing(&draft.world, colony, day)?.queen {
        QueenNow::Present(facts) => facts.queen,
        QueenNow::Waiting { .. } | QueenNow::Queenless { .. } => None,
    }
}
