//! Rows for hives that are in the register already: what differs, and what updating would do.

use std::sync::Arc;

use crate::domain::colony::{Colony, FirstQueen};
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::ids::{ColonyId, SourceId};
use crate::domain::queen::Queen;
use crate::domain::record::{Happening, Record};
use crate::domain::visit::{Did, Given, OldQueen, Visit};
use crate::exchange::table::cells::birth_text;
use crate::exchange::table::entry::{Entry, QueenCells};
use crate::exchange::table::headings::Field;
use crate::exchange::table::judge::{Judge, SETTLED_AFTER, Verdict};
use crate::exchange::table::plan::{Gave, NewFind, PlanAmendment, QueenEdit, Ref};
use crate::exchange::table::preview::{Existing, Problem, Will};
use crate::exchange::table::visits::{removed_on, same_visit};

/// Days by which a day introduced may be put right; a later one is another introduction.
const SLIP_OF_DAYS: i32 = 14;

/// One difference between a row and the register.
struct Difference {
    field: Field,
    words: String,
    act: Act,
}

/// What updating would do about it.
enum Act {
    Move,
    Queen,
    Redate(Record),
    Give,
    Find(Option<Record>),
    Dequeen(Day),
    /// It cannot be done from a table; the remedy.
    Cannot(&'static str),
}

impl Judge<'_> {
    /// A day that differs from another: with its year unless both lie in this year.
    fn beside(&self, day: Day, other: Day) -> String {
        let this_year = [day, other].iter().all(|it| it.year() == self.today.year());
        if this_year { day.short() } else { format!("{} {}", day.short(), day.year()) }
    }

    /// What a row says of a hive that is in the register.
    pub(super) fn compare(&mut self, entry: &mut Entry, id: ColonyId) -> Verdict {
        let Some(colony) = self.world.colonies.get(&id).cloned() else { return Ok(Will::Same) };
        let differences = self.differences(entry, &colony);
        let Some(first) = differences.first() else {
            let changes = self.yard_changes;
            self.settle_yard(entry)?;
            return Ok(if self.yard_changes > changes { Will::Change } else { Will::Same });
        };
        if self.options.existing == Existing::Skip {
            entry.notes.push(Problem::new(first.field, format!("Left as it is. {}", first.words), ""));
            return Ok(Will::Same);
        }
        if let Some(Difference { field, words, act: Act::Cannot(remedy) }) =
            differences.iter().find(|difference| matches!(difference.act, Act::Cannot(_)))
        {
            return Err(Problem::new(*field, words.clone(), *remedy));
        }
        if self.options.existing == Existing::Ask {
            let fact = format!("{} is in the register already. {}", entry.hive, first.words);
            return Err(Problem::new(Field::Hive, fact, "Choose to skip or to update what is there already"));
        }
        self.check_days(entry, Ref::Old(id))?;
        let held = self.world.records_of(id).iter().filter(|record| Some(record.day) == entry.look).find_map(gave_of);
        let given = same_visit(entry, self.gave(entry).as_ref()).or(held.map(|gave| gave.old_queen));
        Self::finds(entry, given, false)?;
        self.settle_yard(entry)?;
        for difference in differences {
            entry.notes.push(Problem::new(difference.field, difference.words, ""));
            self.act(entry, &colony, difference.act);
        }
        Ok(Will::Change)
    }

    fn differences(&self, entry: &Entry, colony: &Arc<Colony>) -> Vec<Difference> {
        let mut found = Vec::new();
        if let Some(spot) = entry.spot.filter(|spot| colony.spot() != Some(*spot)) {
            let before = colony.spot().map_or("not known".to_owned(), |spot| format!("{}, {}", spot.row, spot.place));
            let words = format!("Place: {before} to {}, {}", spot.row, spot.place);
            found.push(Difference { field: Field::Place, words, act: Act::Move });
        }
        let records = self.world.records_of(colony.id);
        let last = introduction_of(records);
        let given_again = self.introduced_differs(entry, colony, last, &mut found);
        if !given_again {
            self.queen_differs(entry, colony, last, &mut found);
        }
        if let Some(day) = entry.dequeened.filter(|day| !was_removed_on(records, *day)) {
            let words = format!("Dequeened {}", day.near(self.today));
            found.push(Difference { field: Field::Dequeened, words, act: Act::Dequeen(day) });
        }
        // A queen given on the day of the look is one visit with it.
        if !given_again || entry.look != entry.introduced {
            self.find_differs(entry, records, &mut found);
        }
        found
    }

    /// Whether the row tells of another introduction than the last one.
    fn introduced_differs(
        &self,
        entry: &Entry,
        colony: &Colony,
        last: Option<&Record>,
        found: &mut Vec<Difference>,
    ) -> bool {
        let Some(day) = entry.introduced else { return false };
        let since = last.map(|record| record.day).or(match colony.began_with {
            FirstQueen::Recorded(_) => Some(colony.founded),
            FirstQueen::Unknown | FirstQueen::None => None,
        });
        if since == Some(day) {
            return false;
        }
        let near = |since: Day| day.since(since).abs() <= SLIP_OF_DAYS;
        let (words, act) = match (since, last) {
            (Some(since), Some(record)) if near(since) && day >= colony.founded => (
                format!("Introduced: {} to {}", self.beside(since, day), self.beside(day, since)),
                Act::Redate(record.clone()),
            ),
            (Some(since), _) if near(since) || day < since => (
                format!("Introduced {}, in the register {}", self.beside(day, since), self.beside(since, day)),
                Act::Cannot("Amend it on the hive's card, or leave the day empty here"),
            ),
            _ if day < colony.founded => (
                format!("Introduced {}, before the hive was known", day.near(self.today)),
                Act::Cannot("Leave the day empty here"),
            ),
            _ => (format!("Introduced {}", day.near(self.today)), Act::Give),
        };
        let again = matches!(act, Act::Give);
        found.push(Difference { field: Field::Introduced, words, act });
        again
    }

    fn queen_differs(&self, entry: &Entry, colony: &Colony, last: Option<&Record>, found: &mut Vec<Difference>) {
        if !entry.queen.any() {
            return;
        }
        let queen = last.and_then(gave_of).map(|gave| gave.queen).or(match colony.began_with {
            FirstQueen::Recorded(queen) => Some(queen),
            FirstQueen::Unknown | FirstQueen::None => None,
        });
        let Some(known) = queen.and_then(|queen| self.world.queens.get(&queen)) else {
            let words = format!("The register has no entry for the queen of {}", entry.hive);
            let act = Act::Cannot("Give the day introduced too, or leave her details empty here");
            found.push(Difference { field: Field::Born, words, act });
            return;
        };
        if let Some((field, words)) = self.queen_difference(&entry.queen, known) {
            found.push(Difference { field, words, act: Act::Queen });
        }
    }

    /// The first field in which a row says something else of a queen than the register, and what.
    pub(super) fn queen_difference(&self, cells: &QueenCells, known: &Queen) -> Option<(Field, String)> {
        let name = |source: Option<SourceId>| {
            source.and_then(|source| self.world.sources.get(&source)).map_or("not known", |source| &source.name)
        };
        if !cells.source.is_empty() && fold(name(known.source)) != fold(&cells.source) {
            return Some((Field::Source, format!("Source: {} to {}", name(known.source), cells.source)));
        }
        if let Some(birth) = cells.birth.filter(|birth| *birth != known.birth) {
            let text = |birth| match birth_text(birth) {
                text if text.is_empty() => "not known".to_owned(),
                text => text,
            };
            return Some((Field::Born, format!("Born: {} to {}", text(known.birth), text(birth))));
        }
        if let Some(dot) = cells.dot.filter(|dot| Some(*dot) != known.dot) {
            let before = known.dot.map_or("none", |dot| dot.name());
            return Some((Field::Dot, format!("Dot: {before} to {}", dot.name())));
        }
        if cells.origin.is_some_and(|origin| origin != known.origin) {
            return Some((Field::Origin, "How she came to be".to_owned()));
        }
        (!cells.note.is_empty() && cells.note != known.words)
            .then(|| (Field::QueenNote, "Note on the queen".to_owned()))
    }

    fn find_differs(&self, entry: &Entry, records: &[Record], found: &mut Vec<Difference>) {
        let Some(day) = entry.look else { return };
        let Some(row) = &entry.found else {
            // A day alone tells nothing that an equal or later visit does not.
            if records.iter().any(|record| visit_of(record).is_some() && record.day >= day) {
                return;
            }
            let words = format!("Looked {}", day.near(self.today));
            found.push(Difference { field: Field::LastLook, words, act: Act::Find(None) });
            return;
        };
        let given = entry.old_queen.filter(|_| entry.introduced == Some(day));
        let row = find_at(row.visit.clone(), given);
        let on_day: Vec<&Record> =
            records.iter().filter(|record| record.day == day && visit_of(record).is_some()).collect();
        if on_day.iter().any(|record| visit_of(record).is_some_and(|visit| same_find(visit, &row))) {
            return;
        }
        let words = format!("Found {}", day.near(self.today));
        let old = on_day.last().copied().cloned();
        found.push(Difference { field: Field::Found, words, act: Act::Find(old) });
    }

    fn act(&mut self, entry: &mut Entry, colony: &Colony, act: Act) {
        let id = colony.id;
        match act {
            Act::Cannot(_) => {}
            Act::Dequeen(day) => self.plan.visits.push(removed_on(Ref::Old(id), day)),
            Act::Move => {
                if let (Some(spot), Some(yard)) = (entry.spot, colony.yard()) {
                    self.plan.moves.push((id, yard, spot));
                }
            }
            Act::Queen => self.edit_queen(entry, colony),
            Act::Redate(record) => {
                let mut visit = visit_of(&record).cloned();
                if let (Some(given), Some(day)) =
                    (visit.as_mut().and_then(|visit| visit.gave.as_mut()), entry.introduced)
                {
                    given.old_queen = match (entry.old_queen, given.old_queen) {
                        (Some(said), _) => said,
                        (None, OldQueen::RemovedOn(removed)) => {
                            OldQueen::RemovedOn(removed.plus(day.since(record.day)))
                        }
                        (None, held) => held,
                    };
                }
                self.amendment(id, &record).day = entry.introduced;
                self.amendment(id, &record).visit = visit;
            }
            Act::Give => {
                let gave = self.gave(entry);
                if let (Some(gave), Some(day)) = (gave, entry.introduced) {
                    self.totals.looks += u32::from(self.today.since(day) <= SETTLED_AFTER);
                    let seen = entry.found.as_ref().filter(|_| entry.look == Some(day));
                    let visit = seen.map(|found| found.visit.clone()).unwrap_or_default();
                    let visit = find_at(visit, Some(gave.old_queen));
                    let queen = self.queen(entry, gave.queen.origin);
                    let visit = find_of(entry, id, day, visit, Some(Gave { queen, ..gave }));
                    self.plan.visits.push(visit);
                }
            }
            Act::Find(old) => {
                let visit = entry.found.as_ref().map(|found| found.visit.clone()).unwrap_or_default();
                match (old, entry.look) {
                    (Some(record), _) => {
                        let words = (!entry.words.is_empty()).then(|| entry.words.clone());
                        let amendment = self.amendment(id, &record);
                        let held = amendment.visit.take().or(visit_of(&record).cloned()).unwrap_or_default();
                        let visit = find_at(visit, held.gave.as_ref().map(|gave| gave.old_queen));
                        amendment.visit = Some(Visit { gave: held.gave, lids_swapped: held.lids_swapped, ..visit });
                        amendment.words = words;
                    }
                    (None, Some(day)) => {
                        let visit = find_of(entry, id, day, visit, None);
                        self.plan.visits.push(visit);
                    }
                    (None, None) => {}
                }
            }
        }
    }

    /// The amendment of that record, one for all that the file says of it.
    fn amendment(&mut self, colony: ColonyId, record: &Record) -> &mut PlanAmendment {
        let at = self.plan.amendments.iter().position(|amendment| amendment.record == record.id);
        let at = at.unwrap_or_else(|| {
            self.plan.amendments.push(PlanAmendment { colony, record: record.id, day: None, visit: None, words: None });
            self.plan.amendments.len() - 1
        });
        &mut self.plan.amendments[at]
    }

    fn edit_queen(&mut self, entry: &mut Entry, colony: &Colony) {
        let last = introduction_of(self.world.records_of(colony.id)).and_then(gave_of).map(|gave| gave.queen);
        let first = match colony.began_with {
            FirstQueen::Recorded(queen) => Some(queen),
            FirstQueen::Unknown | FirstQueen::None => None,
        };
        let Some(known) = last.or(first).and_then(|queen| self.world.queens.get(&queen)).cloned() else { return };
        self.settle_source(entry);
        let edit = self.queen_edit(&entry.queen, &known);
        self.plan.queens.insert(edit.queen.id, edit);
    }

    /// The queen with what a row says of her; what is not said stays.
    pub(super) fn queen_edit(&self, cells: &QueenCells, known: &Queen) -> QueenEdit {
        let mut queen = known.clone();
        queen.birth = cells.birth.unwrap_or(queen.birth);
        queen.dot = cells.dot.or(queen.dot);
        queen.origin = cells.origin.unwrap_or(queen.origin);
        if !cells.note.is_empty() {
            queen.words.clone_from(&cells.note);
        }
        QueenEdit { queen, source: self.sources.get(&fold(&cells.source)).copied() }
    }

    /// Whether the register has this visit of an export already; each of its records stands for one row.
    pub(super) fn has_visit(
        &mut self,
        entry: &Entry,
        colony: ColonyId,
        find: Option<&Visit>,
        gave: Option<&Gave>,
    ) -> bool {
        let Some(day) = entry.look.or(entry.introduced) else { return false };
        let find = find_at(find.cloned().unwrap_or_default(), gave.map(|gave| gave.old_queen));
        let same = |record: &&Record| {
            let Some(visit) = visit_of(record) else { return false };
            record.day == day
                && !self.matched.contains(&record.id)
                && same_find(visit, &find)
                && record.words == entry.words
                && match (&visit.gave, gave) {
                    (None, None) => true,
                    (Some(held), Some(row)) => held.method == row.method && held.old_queen == row.old_queen,
                    _ => false,
                }
        };
        let found = self.world.records_of(colony).iter().find(same).map(|record| record.id);
        self.matched.extend(found);
        found.is_some()
    }
}

fn visit_of(record: &Record) -> Option<&Visit> {
    match &record.what {
        Happening::Visit(visit) if !record.struck => Some(visit),
        _ => None,
    }
}

/// A record tells that the old queen was removed on that day.
fn was_removed_on(records: &[Record], day: Day) -> bool {
    records.iter().any(|record| {
        visit_of(record).is_some_and(|visit| {
            let given = visit.gave.as_ref().is_some_and(|gave| gave.old_queen == OldQueen::RemovedOn(day));
            given || (record.day == day && visit.did.dequeened)
        })
    })
}

fn find_of(entry: &Entry, id: ColonyId, day: Day, visit: Visit, gave: Option<Gave>) -> NewFind {
    // The words and initials of a find of another day are that find's.
    let apart = gave.is_some() && entry.look.is_some_and(|look| look != day);
    let said = |text: &str| if apart { String::new() } else { text.to_owned() };
    NewFind { hive: Ref::Old(id), day, by: said(&entry.by), words: said(&entry.words), visit, swap: None, gave }
}

/// The introduction that a hive's row tells of: the last one.
fn introduction_of(records: &[Record]) -> Option<&Record> {
    records.iter().rev().find(|record| gave_of(record).is_some())
}

fn gave_of(record: &Record) -> Option<&Given> {
    visit_of(record).and_then(|visit| visit.gave.as_ref())
}

/// A find on the visit on which a queen was given: that the old one was not found belongs to both.
pub(super) fn find_at(mut visit: Visit, old_queen: Option<OldQueen>) -> Visit {
    visit.did.queen_not_found |= old_queen == Some(OldQueen::NotFound);
    visit
}

/// The same was seen and done, what was given and swapped apart.
fn same_find(one: &Visit, other: &Visit) -> bool {
    let did = Did { queen_to: other.did.queen_to, ..one.did.clone() };
    one.coverage == other.coverage && one.seen == other.seen && did == other.did && one.temper == other.temper
}
