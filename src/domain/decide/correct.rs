//! Corrections of what stands beside the records: how a colony began, its queens, its note. What it said stays readable.

use crate::domain::birth_words::birth_words;
use crate::domain::change::Correction;
use crate::domain::colony::{Colony, FirstQueen, Founding};
use crate::domain::day::Day;
use crate::domain::decide::check;
use crate::domain::decide::draft::Draft;
use crate::domain::grammar::describe::{founding_words, origin_words};
use crate::domain::queen::Queen;
use crate::domain::record::Amended;
use crate::domain::refusal::{Refusal, RefusalKind};
use crate::domain::world::World;

/// Puts right what the register says of a colony.
pub(super) fn correct(draft: &mut Draft, correction: &Correction) -> Result<(), Refusal> {
    let before = draft.colony(correction.colony)?;
    let mut was = altered_queens(draft, correction)?;
    let mut after = Colony::clone(&before);
    if let Some(how) = correction.how.filter(|how| *how != before.how) {
        check_how(draft, &before, how)?;
        was.push(founding_words(&draft.world, before.how).to_lowercase());
        after.how = how;
    }
    if let Some(first) = correction.began_with.filter(|first| *first != before.began_with) {
        was.push(first_words(&draft.world, before.began_with));
        after.began_with = first;
    }
    if let Some(day) = correction.founded.filter(|day| *day != before.founded) {
        if let Founding::SplitFrom(parent) = before.how {
            return Err(split(draft, &before, parent)?);
        }
        was.push(format!("founded {}", before.founded.near(draft.today)));
        after = founded_on(draft, &after, day)?;
    }
    if was.is_empty() && correction.note.as_ref().is_none_or(|note| note.trim() == before.note) {
        return Ok(());
    }
    let reason = correction.reason.trim();
    if reason.is_empty() && !was.is_empty() {
        return Err(check::bad("The correction has no reason", "Say what was wrong"));
    }
    check_first(draft, &after)?;
    if let Some(note) = correction.note.as_ref().filter(|note| note.trim() != before.note) {
        note.trim().clone_into(&mut after.note);
        if !before.note.is_empty() {
            was.push(format!("note: {}", before.note));
        }
    }
    if !was.is_empty() && !reason.is_empty() {
        let by = correction.by.trim().to_owned();
        let was = was.join(", ");
        after.corrected.push(Amended { on: draft.today, by, reason: reason.to_owned(), was, left: None });
    }
    draft.put_colony(after);
    Ok(())
}

/// The colony as founded on another day; what is known of it later must lie after that.
pub(super) fn founded_on(draft: &Draft, colony: &Colony, day: Day) -> Result<Colony, Refusal> {
    check::not_ahead(day, draft.today)?;
    let later = |what: &str, on: Day| {
        let fact = format!("{} {what} {}, before {}", colony.name(), on.near(draft.today), day.near(draft.today));
        check::impossible(fact, "Give that day or an earlier one, or put right what came first")
    };
    let first = draft.world.records_of(colony.id).iter().find(|record| !record.struck).map(|record| record.day);
    if let Some(on) = first.filter(|on| *on < day) {
        return Err(later("has a record of", on));
    }
    if let Some(end) = colony.ended.as_ref().filter(|end| end.day < day) {
        return Err(later("ended on", end.day));
    }
    let mut moved = Colony { founded: day, ..colony.clone() };
    if let Some(named) = moved.names.get(1).filter(|named| named.from <= day) {
        return Err(later("was renamed on", named.from));
    }
    if let Some(stand) = moved.stands.get(1).filter(|stand| stand.from <= day) {
        return Err(later("was moved on", stand.from));
    }
    if let Some(named) = moved.names.first_mut() {
        named.from = day;
    }
    if let Some(stand) = moved.stands.first_mut() {
        stand.from = day;
    }
    Ok(moved)
}

/// Takes the queens, and says what was known of those that were known before.
fn altered_queens(draft: &mut Draft, correction: &Correction) -> Result<Vec<String>, Refusal> {
    let mut was = Vec::new();
    for queen in &correction.queens {
        check::birth(queen.birth)?;
        check::source(draft, queen.source)?;
        if let Some(earliest) = queen.birth.earliest {
            check::not_ahead(earliest, draft.today)?;
        }
        match draft.world.queens.get(&queen.id) {
            Some(known) if **known == *queen => {}
            Some(known) => was.push(her_words(&draft.world, known)),
            None if correction.began_with == Some(FirstQueen::Recorded(queen.id)) => {}
            None => {
                let fact = "That queen is not in the register";
                return Err(check::missing(fact, "Say that the hive began with her, or record how she was given"));
            }
        }
        draft.put_queen(queen.clone());
    }
    Ok(was)
}

fn check_how(draft: &Draft, colony: &Colony, how: Founding) -> Result<(), Refusal> {
    match (colony.how, how) {
        (Founding::SplitFrom(parent), _) => Err(split(draft, colony, parent)?),
        (_, Founding::SplitFrom(_)) => {
            let fact = format!("{} is no split in the register", colony.name());
            Err(check::bad(fact, "End it as entered by mistake, and record the split at its parent"))
        }
        _ => Ok(()),
    }
}

/// How and when a split was made stands in its parent's history.
fn split(draft: &Draft, colony: &Colony, parent: crate::domain::ids::ColonyId) -> Result<Refusal, Refusal> {
    let parent = draft.colony(parent)?;
    let fact = format!("{} was split off {}", colony.name(), parent.name());
    Ok(check::bad(fact, format!("Amend the split in the history of {}", parent.name())))
}

/// A queen with whom a colony began was there when it was founded.
fn check_first(draft: &Draft, colony: &Colony) -> Result<(), Refusal> {
    let FirstQueen::Recorded(id) = colony.began_with else { return Ok(()) };
    let Some(queen) = draft.world.queens.get(&id) else {
        return Err(check::missing("The queen of that hive is not in the register", "Give her details too"));
    };
    if let Some(born) = queen.birth.earliest.filter(|born| *born > colony.founded) {
        return Err(Refusal::new(
            RefusalKind::Impossible,
            format!(
                "{} was founded on {}, before her birth on {}",
                colony.name(),
                colony.founded.near(draft.today),
                born.near(draft.today)
            ),
            "Give an earlier birth, or record her as introduced",
        ));
    }
    Ok(())
}

fn first_words(world: &World, first: FirstQueen) -> String {
    match first {
        FirstQueen::Recorded(id) => world.queens.get(&id).map_or_else(String::new, |queen| her_words(world, queen)),
        FirstQueen::Unknown => "queen not known".to_owned(),
        FirstQueen::None => "without a queen".to_owned(),
    }
}

/// `queen born 1 Oct 2024, Broom, dot green, came mated`.
fn her_words(world: &World, queen: &Queen) -> String {
    let birth = birth_words(queen.birth, world);
    let born = if birth.is_empty() { "birth not known".to_owned() } else { format!("born {birth}") };
    let source = queen.source.and_then(|source| world.sources.get(&source)).map(|source| source.name.clone());
    let dot = queen.dot.map(|dot| format!("dot {}", dot.name()));
    let words = (!queen.words.is_empty()).then(|| queen.words.clone());
    let origin = Some(origin_words(queen.origin).to_owned());
    let parts: Vec<String> = [Some(born), source, dot, origin, words].into_iter().flatten().collect();
    format!("queen {}", parts.join(", "))
}
