//! A hive of the register against the same hive in an export: names, places, lid, beginning and end.

use crate::domain::colony::{Colony, End, FirstQueen, Founding};
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::exchange::table::entry::Entry;
use crate::exchange::table::fates::{KnownHive, TakeOf};
use crate::exchange::table::headings::Field;
use crate::exchange::table::merge::Merge;
use crate::exchange::table::plan::{First, NewHive};
use crate::exchange::table::preview::Problem;

/// Which of two histories goes on from the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Longer {
    Neither,
    There,
    Here,
    /// Each has what the other lacks.
    Both,
}

/// How a history in the file stands to the register's.
pub(super) fn longer<T: PartialEq>(told: &[T], held: &[T]) -> Longer {
    match (is_within(held, told), is_within(told, held)) {
        (true, true) => Longer::Neither,
        (true, false) => Longer::There,
        (false, true) => Longer::Here,
        (false, false) => Longer::Both,
    }
}

/// The one is a part of the other, in the same order.
fn is_within<T: PartialEq>(one: &[T], other: &[T]) -> bool {
    let mut rest = other.iter();
    one.iter().all(|wanted| rest.any(|it| it == wanted))
}

/// One hive, and what is found of it.
struct Compared<'a> {
    new: &'a NewHive,
    entry: &'a Entry,
    held: &'a Colony,
    told: &'a Colony,
    today: Day,
    /// Who has put right last how the hive began; the same for how and whether it ended.
    beginning: Longer,
    end: Longer,
    /// The first and last day of what stays recorded of it.
    days: Option<(Day, Day)>,
    take: TakeOf,
    adds: Vec<u32>,
    changes: Vec<(Field, String)>,
    problems: Vec<(u32, Problem)>,
}

impl Merge<'_> {
    /// Compares each hive that is there with what the file tells of it.
    pub(super) fn compare_hives(&mut self) {
        for (at, pair) in &self.hives {
            let Some(new) = self.plan.hives.get(*at) else { continue };
            let Some(entry) = self.entries.get(&new.row).copied() else { continue };
            let amended = (self.amended_there.contains(&pair.held.id), self.amended_here.contains(&pair.held.id));
            let by_amendment = match amended {
                (true, false) => Longer::There,
                (false, true) => Longer::Here,
                (true, true) => Longer::Both,
                (false, false) => Longer::Neither,
            };
            let beginning = match longer(&pair.told.corrected, &pair.held.corrected) {
                Longer::Neither => by_amendment,
                by_correction => by_correction,
            };
            let mut compared = Compared {
                new,
                entry,
                held: &pair.held,
                told: &pair.told,
                today: self.today,
                beginning,
                end: by_amendment,
                days: self.days_of(pair.held.id),
                take: TakeOf::default(),
                adds: Vec::new(),
                changes: Vec::new(),
                problems: Vec::new(),
            };
            compared.names();
            compared.stands();
            compared.lid();
            compared.founded();
            compared.began_with();
            compared.note();
            compared.corrected();
            compared.ended();
            let Compared { take, adds, changes, problems, .. } = compared;
            if let (First::Queen(queen), FirstQueen::Recorded(id)) = (&new.first, pair.held.began_with) {
                self.known.queens.entry(queen.key()).or_insert(id);
            }
            for row in new.names.iter().map(|it| it.row).chain(new.stands.iter().map(|it| it.row)) {
                self.verdicts.same(row);
            }
            for corrected in &new.corrected {
                self.verdicts.same(corrected.row);
            }
            for row in adds {
                self.verdicts.adds(row);
            }
            for (field, fact) in changes {
                self.verdicts.changes(new.row, field, fact);
            }
            for (row, problem) in problems {
                self.verdicts.holds_back(row, problem);
            }
            self.known.hives.insert(*at, KnownHive { held: pair.held.clone(), take });
        }
    }
}

impl Compared<'_> {
    fn names(&mut self) {
        let key = |colony: &Colony| -> Vec<(String, Option<Day>)> {
            let from = |from: Day| Some(from).filter(|from| *from != colony.founded);
            colony.names.iter().map(|named| (named.name.clone(), from(named.from))).collect()
        };
        let (told, held) = (key(self.told), key(self.held));
        match longer(&told, &held) {
            Longer::Neither | Longer::Here => {}
            Longer::There => {
                self.take.names = true;
                self.adds.extend(self.new.names.iter().filter(|it| !self.held.names.contains(&it.it)).map(|it| it.row));
                if self.told.name() != self.held.name() {
                    self.changes.push((Field::Hive, format!("Name: {} to {}", self.held.name(), self.told.name())));
                }
            }
            Longer::Both if self.new.names.is_empty() && fold(self.told.name()) == fold(self.held.name()) => {}
            Longer::Both => {
                let fact = format!("{} has other names in the register", self.held.name());
                let other: Vec<u32> =
                    self.new.names.iter().filter(|it| !self.held.names.contains(&it.it)).map(|it| it.row).collect();
                self.hold_all(other, Field::Called, &fact, "Rename it on the hive's card, or leave the row out");
            }
        }
    }

    fn stands(&mut self) {
        let key = |colony: &Colony| -> Vec<_> {
            let from = |from: Day| Some(from).filter(|from| *from != colony.founded);
            colony.stands.iter().map(|stand| (stand.yard, stand.spot, from(stand.from))).collect()
        };
        let known = |from: Day, at: usize| {
            let told = self.told.stands.get(at);
            told.is_some_and(|told| told.from == from && self.held.stands.contains(told))
        };
        let stands = self.new.stands.iter().enumerate();
        let other: Vec<u32> = stands.filter(|(at, it)| !known(it.it.from, *at)).map(|(_, it)| it.row).collect();
        let told_spot = self.told.spot().filter(|spot| self.held.spot() != Some(*spot));
        match longer(&key(self.told), &key(self.held)) {
            Longer::Neither | Longer::Here => {}
            Longer::There => {
                self.take.stands = true;
                self.adds.extend(other);
                if (self.told.yard(), self.told.spot()) != (self.held.yard(), self.held.spot()) {
                    self.changes.push((Field::Place, format!("{} was moved", self.held.name())));
                }
            }
            Longer::Both if self.new.stands.is_empty() && self.told.yard() == self.held.yard() => {
                if let Some(spot) = told_spot.filter(|_| self.held.is_living()) {
                    self.take.spot = Some(spot);
                    let before =
                        self.held.spot().map_or("not known".to_owned(), |spot| format!("{}, {}", spot.row, spot.place));
                    self.changes.push((Field::Place, format!("Place: {before} to {}, {}", spot.row, spot.place)));
                }
            }
            Longer::Both => {
                let fact = format!("{} stood elsewhere in the register", self.held.name());
                self.hold_all(other, Field::StoodIn, &fact, "Move it on the hive's card, or leave the row out");
            }
        }
    }

    /// Of two labels the one that was printed later is on the lid.
    fn lid(&mut self) {
        let (told, held) = (&self.told.lid, &self.held.lid);
        if told == held || (told.printed.is_empty() && told.on.is_none() && !told.stale) {
            return;
        }
        let other = told.on == held.on && !told.printed.is_empty() && told.printed != held.printed;
        let wanted = told.on == held.on && told.stale && !held.stale;
        if told.on > held.on || other {
            self.take.lid = true;
            let day = told.on.map_or(String::new(), |day| format!(" {}", day.near(self.today)));
            self.changes.push((Field::Label, format!("Label printed{day}")));
        } else if wanted {
            self.take.lid = true;
            self.changes.push((Field::LabelWanted, "A new label is wanted".to_owned()));
        }
    }

    fn founded(&mut self) {
        let name = self.held.name();
        if self.entry.since.is_some() && self.told.founded != self.held.founded {
            let days = (self.held.founded.near(self.today), self.told.founded.near(self.today));
            match self.beginning {
                Longer::Here => {}
                Longer::There if self.days.is_none_or(|(first, _)| first >= self.told.founded) => {
                    self.take.founded = true;
                    self.changes.push((Field::Since, format!("Known since: {} to {}", days.0, days.1)));
                }
                _ => {
                    let fact = format!("{name} is known since {} in the register", days.0);
                    self.hold_all(
                        vec![self.new.row],
                        Field::Since,
                        &fact,
                        "Write that day, or correct it on the hive's card",
                    );
                }
            }
        }
        let said = self.told.how != Founding::Known || self.beginning == Longer::There;
        if said && self.told.how != self.held.how {
            match self.beginning {
                Longer::Here => {}
                Longer::There => {
                    self.take.how = true;
                    self.changes.push((Field::Founding, "How it was founded".to_owned()));
                }
                Longer::Neither | Longer::Both => {
                    let fact = format!("{name} was founded otherwise in the register");
                    self.hold_all(vec![self.new.row], Field::Founding, &fact, "Correct it on the hive's card");
                }
            }
        }
    }

    fn began_with(&mut self) {
        let (told, held) = (self.told.began_with, self.held.began_with);
        let says_more = match (told, held) {
            // Which of two queens she is, is a matter of details.
            (FirstQueen::Unknown, _)
            | (FirstQueen::None, FirstQueen::None)
            | (FirstQueen::Recorded(_), FirstQueen::Recorded(_)) => false,
            (FirstQueen::None | FirstQueen::Recorded(_), _) => self.beginning != Longer::Here,
        };
        if says_more {
            self.take.began_with = true;
            let words = if told == FirstQueen::None { "It began without a queen" } else { "The queen it began with" };
            self.changes.push((Field::Queen, words.to_owned()));
        }
    }

    fn note(&mut self) {
        if self.told.note.is_empty() || self.told.note == self.held.note || self.beginning == Longer::Here {
            return;
        }
        if self.beginning == Longer::Both && !self.held.note.is_empty() {
            let fact = format!("{} has another note in the register", self.held.name());
            self.hold_all(vec![self.new.row], Field::Note, &fact, "Write that note here, or leave the cell empty");
            return;
        }
        self.take.note = true;
        self.changes.push((Field::Note, "Note".to_owned()));
    }

    fn corrected(&mut self) {
        let other: Vec<u32> = self
            .new
            .corrected
            .iter()
            .filter(|told| !self.held.corrected.contains(&told.it))
            .map(|told| told.row)
            .collect();
        match longer(&self.told.corrected, &self.held.corrected) {
            Longer::Neither | Longer::Here => {}
            Longer::There => {
                self.take.corrected = true;
                self.adds.extend(other);
            }
            Longer::Both => {
                let fact = format!("{} was corrected otherwise in the register", self.held.name());
                self.hold_all(other, Field::Note, &fact, "Correct it on the hive's card, or leave the row out");
            }
        }
    }

    fn ended(&mut self) {
        let name = self.held.name();
        let later = |end: &End| self.days.map(|(_, last)| last).filter(|last| *last > end.day);
        let words = |end: &End| format!("{}, {}", end.day.near(self.today), end.why.word());
        match (&self.told.ended, &self.held.ended) {
            (Some(told), Some(held)) if told == held || self.end == Longer::Here => {}
            (Some(_), None) if self.end == Longer::Here => {}
            (Some(_), Some(held)) if self.end != Longer::There => {
                let fact = format!("{name} ended {} in the register", words(held));
                self.hold_all(vec![self.new.row], Field::Ended, &fact, "Write it as the register has it");
            }
            (Some(told), _) => match later(told) {
                Some(last) => {
                    let fact = format!("{name} would end {}, and was visited {}", words(told), last.near(self.today));
                    self.hold_all(vec![self.new.row], Field::Ended, &fact, "Amend that visit on the hive's card first");
                }
                None => {
                    self.changes.push((Field::Ended, format!("Ended {}", words(told))));
                    self.take.ended = true;
                }
            },
            (None, Some(_)) if self.end == Longer::There => {
                self.changes.push((Field::Ended, "It lives on after all".to_owned()));
                self.take.ended = true;
            }
            _ => {}
        }
    }

    fn hold_all(&mut self, rows: Vec<u32>, field: Field, fact: &str, remedy: &str) {
        self.problems.extend(rows.into_iter().map(|row| (row, Problem::new(field, fact, remedy))));
    }
}
