//! Amendments: an older record is put right, for a reason, and stays readable as it was.

use crate::domain::change::Amendment;
use crate::domain::colony::{Colony, EndWhy};
use crate::domain::decide::draft::Draft;
use crate::domain::decide::visits::{check_visit, follow_up, marks, with_bar_noted};
use crate::domain::decide::{between, check};
use crate::domain::grammar::describe::describe_record;
use crate::domain::ids::ColonyId;
use crate::domain::queen::Queen;
use crate::domain::record::{Amended, Happening, Left, Record};
use crate::domain::refusal::Refusal;
use crate::domain::visit::Visit;

/// Moves, re-dates, replaces or strikes a record.
pub(super) fn amend(draft: &mut Draft, amendment: &Amendment) -> Result<(), Refusal> {
    let reason = amendment.reason.trim();
    if reason.is_empty() {
        return Err(check::bad("The amendment has no reason", "Say why the record was wrong"));
    }
    let Some(before) = draft.world.record(amendment.colony, amendment.record).cloned() else {
        let fact = format!("{} has no such record", draft.colony(amendment.colony)?.name());
        return Err(check::missing(fact, "Choose one from the hive's history"));
    };
    let mut after = altered(&before, amendment)?;
    if after == before {
        return Ok(());
    }
    if before.struck {
        return Err(check::bad("That record was taken back", "Undo the amendment, or record the visit anew"));
    }
    check::new_queens(draft, &amendment.queens)?;
    if (Record { struck: before.struck, ..after.clone() }) != before {
        check_place(draft, &after)?;
    }
    let was = in_words(draft, &before)?;
    let by = amendment.by.trim().to_owned();
    let left = (after.colony != before.colony).then(|| Left {
        colony: before.colony,
        day: before.day,
        said: describe_record(&draft.world, &before),
    });
    after.amended.push(Amended { on: draft.today, by, reason: reason.to_owned(), was, left });
    unmake_death(draft, &before, &after)?;
    between::follow(draft, &before, &after)?;
    unmark(draft, &before, &after);
    draft.alter_record(before.clone(), after.clone());
    note_bar(draft, &after);
    follow_up_new(draft, &before, &after)
}

/// The record as it will be, without the note of the amendment.
fn altered(before: &Record, amendment: &Amendment) -> Result<Record, Refusal> {
    let mut after = before.clone();
    if let Some(to) = amendment.to {
        after.colony = to;
    }
    if let Some(day) = amendment.day {
        after.day = day;
    }
    if let Some(words) = &amendment.words {
        words.trim().clone_into(&mut after.words);
    }
    if let Some(visit) = &amendment.visit {
        let Happening::Visit(old) = &before.what else {
            return Err(check::bad("That record is not of a visit", "Move, re-date or take it back instead"));
        };
        let mut visit = visit.clone();
        // Whether a bar was in the way is for the register to say, so it does not count as an alteration here.
        if let (Some(gave), Some(gave_before)) = (&mut visit.gave, &old.gave) {
            gave.against_bar.clone_from(&gave_before.against_bar);
        }
        after.what = Happening::Visit(visit);
    }
    let between_hives = matches!(before.what, Happening::Received(_) | Happening::SplitOff(_));
    if between_hives && after.colony != before.colony {
        return Err(check::bad("A split or uniting cannot be moved to another hive", "Undo it, and record it anew"));
    }
    after.struck |= amendment.strike;
    Ok(after)
}

fn check_place(draft: &Draft, after: &Record) -> Result<(), Refusal> {
    match &after.what {
        Happening::Visit(visit) => check_visit(draft, after.colony, after.day, visit),
        _ => check::day_at(&*draft.colony(after.colony)?, after.day, draft.today),
    }
}

/// What the record said: `B14, 24 Nov: eggs, her seen`.
fn in_words(draft: &Draft, record: &Record) -> Result<String, Refusal> {
    let colony = draft.colony(record.colony)?;
    let said = describe_record(&draft.world, record);
    Ok(format!("{}, {}: {said}", colony.name_on(record.day), record.day.near(draft.today)))
}

/// A colony that ended by the find that is put right lives again.
fn unmake_death(draft: &mut Draft, before: &Record, after: &Record) -> Result<(), Refusal> {
    let still_dead = kills(after) && (after.colony, after.day) == (before.colony, before.day);
    if !kills(before) || still_dead {
        return Ok(());
    }
    let colony = draft.colony(before.colony)?;
    let died_of_it = colony.ended.as_ref().is_some_and(|end| end.why == EndWhy::Died && end.day == before.day);
    if died_of_it { revive(draft, before.colony) } else { Ok(()) }
}

/// Lets a colony live again, as if it had not ended.
pub(super) fn revive(draft: &mut Draft, id: ColonyId) -> Result<(), Refusal> {
    let colony = draft.colony(id)?;
    // A yard whose last hive had ended may have been removed since.
    if colony.yard().is_none_or(|yard| !draft.world.yards.contains_key(&yard)) {
        let fact = format!("The yard where {} stood was removed", colony.name());
        return Err(check::missing(fact, "Undo the removal first, or add the hive anew in another yard"));
    }
    draft.put_colony(Colony { ended: None, ..Colony::clone(&colony) });
    let revived = draft.colony(id)?;
    draft.check_name(&revived)
}

/// A queen who was marked by the find that is put right loses that dot, unless another record marks her too.
fn unmark(draft: &mut Draft, before: &Record, after: &Record) {
    let marked = |record: &Record| match &record.what {
        Happening::Visit(visit) if !record.struck => visit.did.marked,
        _ => None,
    };
    let stays = after.colony == before.colony && marked(after).is_some();
    let Some(mark) = marked(before).filter(|_| !stays) else { return };
    let again = draft.world.records_of(before.colony).iter().any(|it| it.id != before.id && marked(it).is_some());
    if let Some((queen, dot)) = marks(draft, before.colony, before.day, mark)
        && queen.dot == Some(dot)
        && !again
    {
        draft.put_queen(Queen { dot: None, ..queen });
    }
}

fn kills(record: &Record) -> bool {
    !record.struck && matches!(&record.what, Happening::Visit(visit) if visit.seen.dead)
}

/// Notes anew whether a bar was in the way on the day and at the colony the record belongs to now.
fn note_bar(draft: &mut Draft, record: &Record) {
    let Happening::Visit(visit) = &record.what else {
        return;
    };
    if visit.gave.is_none() || record.struck {
        return;
    }
    let mut without = record.clone();
    without.struck = true;
    draft.alter_record(record.clone(), without.clone());
    let noted = with_bar_noted(draft, record.colony, record.day, visit);
    draft.alter_record(without, Record { what: Happening::Visit(Box::new(noted)), ..record.clone() });
}

/// What the record brings about now and did not before.
fn follow_up_new(draft: &mut Draft, before: &Record, after: &Record) -> Result<(), Refusal> {
    let (Happening::Visit(old), Happening::Visit(new)) = (&before.what, &after.what) else {
        return Ok(());
    };
    if after.struck {
        return Ok(());
    }
    let moved = after.colony != before.colony;
    let mut fresh: Visit = new.as_ref().clone();
    if !moved {
        fresh.did.marked = new.did.marked.filter(|_| new.did.marked != old.did.marked);
        fresh.lids_swapped = new.lids_swapped.filter(|_| new.lids_swapped != old.lids_swapped);
    }
    let colony: ColonyId = after.colony;
    follow_up(draft, colony, after.day, &after.by, &fresh)
}
