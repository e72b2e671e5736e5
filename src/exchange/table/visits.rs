//! Visits of a file: introductions and finds, of a hive's own row or of rows of their own.

use crate::domain::bar::BarOn;
use crate::domain::capital::capital;
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::grammar::contradiction::contradiction;
use crate::domain::ids::ColonyId;
use crate::domain::in_hand::queen::origin_by_method;
use crate::domain::queen::Birth;
use crate::domain::settings::Settings;
use crate::domain::standing::windows::{default_dequeened, looks_for};
use crate::domain::visit::{Coverage, Method, OldQueen, Visit};
use crate::exchange::table::entry::{Circumstances, Entry, Kind};
use crate::exchange::table::headings::Field;
use crate::exchange::table::judge::{Judge, Swap, Verdict};
use crate::exchange::table::known::find_at;
use crate::exchange::table::plan::{Gave, NewFind, NewQueen, Ref};
use crate::exchange::table::preview::{Existing, Problem, Will};

impl Judge<'_> {
    /// The introduction a row tells of, without the queen's details.
    pub(super) fn gave(&self, entry: &Entry) -> Option<Gave> {
        let day = entry.introduced?;
        let method = entry.method.unwrap_or(Method::Caged);
        let origin = origin_by_method(method);
        Some(Gave {
            method,
            queen: NewQueen {
                row: entry.number,
                number: None,
                birth: Birth::default(),
                origin,
                source: None,
                dot: None,
                words: String::new(),
            },
            old_queen: entry
                .old_queen
                .unwrap_or_else(|| OldQueen::RemovedOn(default_dequeened(&self.world.settings, method, day))),
            emerged: entry.emerged,
            cells: entry.cells,
            parcel: entry.around.parcel.and_then(|number| self.parcels.get(&number)).copied(),
            against_bar: entry.around.against_bar.clone(),
        })
    }

    /// The look a row tells of, checked against itself. `given`: a queen was given on the same
    /// visit, and what became of the old one. `taken`: the hive is taken over, and the row tells all there is. What was
    /// taken back may say anything.
    pub(super) fn finds(entry: &Entry, given: Option<OldQueen>, taken: bool) -> Result<Option<Visit>, Problem> {
        let Some(_) = entry.look else { return Ok(None) };
        let visit = entry.found.as_ref().map(|found| found.visit.clone()).unwrap_or_default();
        if taken && entry.around.taken_back {
            return Ok(Some(visit));
        }
        let told = if taken { visit.clone() } else { find_at(visit.clone(), given) };
        if let Some(against) = contradiction(&told) {
            return Err(Problem::new(Field::Found, capital(against.fact), against.way_out));
        }
        if given.is_some() && matches!(visit.coverage, Coverage::Unopened(_)) {
            return Err(Problem::new(Field::Found, "Not opened, yet a queen was given", "Correct one of the two"));
        }
        if given.is_some() && visit.seen.dead {
            return Err(Problem::new(
                Field::Found,
                "The colony is dead, yet a queen was given",
                "Correct one of the two",
            ));
        }
        Ok(Some(visit))
    }

    pub(super) fn put_visits(&mut self, entry: &Entry, hive: Ref<ColonyId>, find: Option<Visit>, gave: Option<Gave>) {
        if let Some(hive) = self.taken(hive) {
            self.put_taken_visits(entry, hive, find, gave);
            return;
        }
        let find_of = |day: Day, visit: Visit, gave: Option<Gave>| NewFind {
            hive,
            day,
            by: entry.by.clone(),
            words: entry.words.clone(),
            visit,
            swap: None,
            gave,
        };
        let old_queen = gave.as_ref().map(|gave| gave.old_queen);
        let mut visits = Vec::new();
        if let Some(day) = entry.dequeened {
            visits.push(removed_on(hive, day));
        }
        match (entry.introduced.filter(|_| gave.is_some()), entry.look, find) {
            (Some(introduced), Some(look), Some(find)) if introduced == look => {
                visits.push(find_of(look, find_at(find, old_queen), gave));
            }
            (introduced, look, find) => {
                if let Some(day) = introduced {
                    let visit = find_at(Visit::default(), old_queen);
                    let given = find_of(day, visit, gave);
                    // Where a find of another day stands beside it, its words and initials are that find's.
                    let apart = look.is_some();
                    let keep = |text: String| if apart { String::new() } else { text };
                    visits.push(NewFind { by: keep(given.by), words: keep(given.words), ..given });
                }
                if let (Some(day), Some(find)) = (look, find) {
                    visits.push(find_of(day, find, None));
                }
            }
        }
        visits.sort_by_key(|visit| visit.day);
        let at_find = visits.iter().position(|visit| Some(visit.day) == entry.look && visit.words == entry.words);
        if let (Some(name), Some(at)) = (entry.found.as_ref().and_then(|found| found.swap.clone()), at_find) {
            self.swaps.push(Swap {
                visit: self.plan.visits.len() + at,
                row: entry.number,
                yard: fold(&entry.yard),
                name,
            });
        }
        self.plan.visits.extend(visits);
    }

    /// Finds the hives with which lids were swapped, once all rows are judged: they may stand further down. The rows
    /// whose other hive is not there, with its name.
    pub fn settle_swaps(&mut self) -> Vec<(u32, String)> {
        let mut lost = Vec::new();
        for swap in std::mem::take(&mut self.swaps) {
            let yard = self.yards.get(&swap.yard).copied();
            let other = yard.and_then(|yard| self.hives.get(&(yard, fold(&swap.name))).copied());
            let visit = self.plan.visits.get_mut(swap.visit);
            match (other, visit) {
                (Some(other), Some(visit)) if visit.hive != other => visit.swap = Some(other),
                _ => lost.push((swap.row, swap.name)),
            }
        }
        lost
    }

    /// The hive whose own row stands above.
    /// What an export tells may also belong to a hive of the register that has no row in the file.
    pub(super) fn hive_above(&mut self, entry: &Entry) -> Result<Ref<ColonyId>, Problem> {
        self.tell_without_row(entry);
        let Some(hive) = self.known_hive(entry).filter(|hive| self.seen_in.contains_key(hive)) else {
            let fact = format!("Hive {} of this yard has no row above", entry.hive);
            return Err(Problem::new(Field::Hive, fact, "Put the hive's own row before its visits"));
        };
        if self.held.contains(&hive) {
            let fact = format!("The row of hive {} is held back", entry.hive);
            return Err(Problem::new(Field::Hive, fact, "Solve its problems first"));
        }
        Ok(hive)
    }

    pub(super) fn visit_alone(&mut self, entry: &mut Entry) -> Verdict {
        let hive = self.hive_above(entry)?;
        if entry.look.is_none() && entry.introduced.is_none() {
            return Err(Problem::new(Field::LastLook, "No day is given", "Give the day of the visit"));
        }
        let gave = self.gave(entry);
        let find = Self::finds(entry, same_visit(entry, gave.as_ref()), self.taken(hive).is_some())?;
        if let Ref::Old(colony) = hive
            && self.has_visit(entry, colony, find.as_ref(), gave.as_ref())
        {
            return Ok(Will::Same);
        }
        if matches!(hive, Ref::Old(_)) && self.options.existing == Existing::Skip {
            return Ok(Will::Same);
        }
        if self.taken(hive).is_none() || !entry.around.taken_back {
            self.check_days(entry, hive)?;
        }
        if matches!(hive, Ref::Old(_)) {
            note_left_out(entry);
        }
        let gave = gave.map(|gave| Gave { queen: self.queen(entry, gave.queen.origin), ..gave });
        self.put_visits(entry, hive, find, gave);
        if !self.is_known(hive) {
            self.touched.extend(self.yards.get(&fold(&entry.yard)));
        }
        Ok(Will::Add)
    }

    /// Refuses days on which nothing can have happened at the hive.
    pub(super) fn check_days(&self, entry: &Entry, hive: Ref<ColonyId>) -> Result<(), Problem> {
        let (founded, ended) = match hive {
            Ref::Old(id) => self.world.colonies.get(&id).map(|it| (it.founded, it.ended.as_ref().map(|end| end.day))),
            // What contradicts the register's days is found when the two are compared.
            Ref::New(_) if self.is_known(hive) => return Ok(()),
            Ref::New(at) => self.plan.hives.get(at).map(|it| (it.founded, it.ended.as_ref().map(|end| end.day))),
        }
        .unwrap_or((self.today, None));
        let days =
            [(entry.introduced, Field::Introduced), (entry.dequeened, Field::Dequeened), (entry.look, Field::LastLook)];
        for (day, field) in days {
            let Some(day) = day else { continue };
            if day < founded {
                let fact = format!("{} is known only since {}", entry.hive, founded.near(self.today));
                return Err(Problem::new(field, fact, "Give a later day"));
            }
            if let Some(ended) = ended.filter(|ended| *ended < day) {
                let fact = format!("{} ended on {}", entry.hive, ended.near(self.today));
                return Err(Problem::new(field, fact, "Give an earlier day"));
            }
        }
        Ok(())
    }

    pub(super) fn say_of_new(&mut self, entry: &mut Entry, gave: Option<&Gave>, settled: bool) {
        if settled {
            self.totals.settled += 1;
        }
        if !entry.exact && entry.introduced.is_none() && !entry.queen.any() && entry.kind == Kind::Hive {
            let removed = match entry.old_queen {
                Some(OldQueen::RemovedOn(day)) => Some(day),
                _ => None,
            };
            let note = match removed {
                Some(day) => Problem::new(Field::Dequeened, format!("Dequeened {}, no queen given", day.short()), ""),
                None if entry.queenless => Problem::new(Field::Born, "No queen", ""),
                None => Problem::new(Field::Born, "Queen not known", ""),
            };
            entry.notes.push(note);
        }
        let on_look = entry.look.filter(|_| entry.found.as_ref().is_some_and(|found| found.visit.did.dequeened));
        if let Some(day) = entry.dequeened.or(on_look).filter(|_| gave.is_none() && !entry.exact) {
            let words = format!("Waiting for her queen, dequeened {}", day.near(self.today));
            entry.notes.push(Problem::new(Field::Dequeened, words, ""));
        }
        let (Some(gave), Some(day)) = (gave, entry.introduced) else { return };
        let judged = entry.found.is_some() && entry.look.is_some_and(|look| look > day);
        if judged || entry.exact {
            return;
        }
        self.totals.looks += 1;
        let words = look_words(&self.world.settings, gave, day);
        entry.notes.push(Problem::new(Field::Introduced, words, ""));
        if let Some(bar) = self.bar_on(entry, day) {
            entry.notes.push(Problem::new(Field::Yard, bar, ""));
        }
    }

    /// A yard's bar that held on the day a queen was given.
    fn bar_on(&self, entry: &Entry, day: Day) -> Option<String> {
        let Some(&Ref::Old(yard)) = self.yards.get(&fold(&entry.yard)) else { return None };
        let held = self.world.bars.values().find(|bar| {
            let over = bar.until.is_some_and(|until| until < day) || bar.lifted.as_ref().is_some_and(|it| it.on <= day);
            bar.on == BarOn::Yard(yard) && bar.from <= day && !over && bar.permit.is_none()
        })?;
        Some(format!("Flag: given while {} was under {}", entry.yard, held.kind.words()))
    }
}

/// A visit on which the old queen was removed and nothing else is told.
pub(super) fn removed_on(hive: Ref<ColonyId>, day: Day) -> NewFind {
    let mut visit = Visit::default();
    visit.did.dequeened = true;
    NewFind { hive, day, by: String::new(), words: String::new(), visit, swap: None, gave: None }
}

/// Says that a visit added to a hive that is there is a visit alone.
fn note_left_out(entry: &mut Entry) {
    let plain = Circumstances { parcel: entry.around.parcel, ..Circumstances::default() };
    if entry.around != plain {
        let fact = "The hive is in the register already, so only the visit itself is brought in";
        entry.notes.push(Problem::new(Field::Hive, fact, ""));
    }
}

/// What became of the old queen, where a row's introduction and its look are one visit.
pub(super) fn same_visit(entry: &Entry, gave: Option<&Gave>) -> Option<OldQueen> {
    gave.filter(|_| entry.introduced == entry.look).map(|gave| gave.old_queen)
}

/// `Caged in: acceptance look 23, 26, 30 Nov`.
fn look_words(settings: &Settings, gave: &Gave, day: Day) -> String {
    let what = match gave.method {
        Method::Caged => "Caged in",
        Method::PushIn => "Push-in cage on",
        Method::Nuc => "Nuc united",
        Method::Cell => "Cell in",
        Method::Virgin => "Virgin in",
        Method::OwnRaising => "Raising her own",
    };
    let dequeened = match gave.old_queen {
        OldQueen::RemovedOn(day) => Some(day),
        OldQueen::AsRecorded | OldQueen::NotFound => None,
    };
    match looks_for(settings, gave.method, day, dequeened, gave.emerged).first() {
        Some((kind, window)) => format!("{what}: {} {}", kind.words(), window.words()),
        None => what.to_owned(),
    }
}
