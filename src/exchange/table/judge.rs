//! What each row will do, row by row: names are resolved against the register and the rows above.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::domain::bar::BarOn;
use crate::domain::colony::{Colony, Founding};
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::grammar::contradiction::contradiction;
use crate::domain::grammar::resolve::{birth_by_method, origin_by_method};
use crate::domain::ids::{ColonyId, RecordId, SourceId, YardId};
use crate::domain::queen::{Birth, Origin, Source};
use crate::domain::settings::Settings;
use crate::domain::standing::windows::{default_dequeened, looks_for};
use crate::domain::visit::{Coverage, Method, OldQueen, Visit};
use crate::domain::world::World;
use crate::exchange::table::entry::{Entry, Kind};
use crate::exchange::table::headings::Field;
use crate::exchange::table::known::find_at;
use crate::exchange::table::near::nearest;
use crate::exchange::table::plan::{First, Gave, NewFind, NewHive, NewQueen, NewSource, Plan, Ref};
use crate::exchange::table::preview::{Existing, Options, Problem, Totals, Will};

/// An introduction longer ago than this, with no find since, is taken as settled: the queen is the one the colony has,
/// and no looks are made that would all be late. Days; common practice, no source: the last look after a cell is on
/// day 30, and a second one has long been made.
pub(super) const SETTLED_AFTER: i32 = 60;

/// Judges the rows of one file.
pub(super) struct Judge<'a> {
    pub world: &'a World,
    pub options: &'a Options,
    pub today: Day,
    pub plan: Plan,
    pub totals: Totals,
    pub(super) yards: BTreeMap<String, Ref<YardId>>,
    /// How many rows name each yard, and how the first of them writes it, by folded name.
    pub(super) yard_rows: BTreeMap<String, (u32, String)>,
    near_yards: BTreeMap<String, Option<String>>,
    sources: BTreeMap<String, Ref<SourceId>>,
    /// The living hive of each name, by yard and folded name.
    living: BTreeMap<(Ref<YardId>, String), Ref<ColonyId>>,
    /// The hive each name was last used for, ended ones included.
    hives: BTreeMap<(Ref<YardId>, String), Ref<ColonyId>>,
    /// The row in which each hive of the file stands.
    pub(super) seen_in: BTreeMap<Ref<ColonyId>, u32>,
    swaps: Vec<Swap>,
    touched: BTreeSet<Ref<YardId>>,
    /// Records of the register that rows of the file stand for.
    pub(super) matched: BTreeSet<RecordId>,
    /// The row that first said where a yard lies, and so on.
    pub(super) said_in: BTreeMap<(Ref<YardId>, Field), u32>,
}

/// A lid swapped with that of a hive whose row may still come.
struct Swap {
    visit: usize,
    row: u32,
    yard: String,
    name: String,
}

/// What a row will do, or why it is held back.
pub(super) type Verdict = Result<Will, Problem>;

impl<'a> Judge<'a> {
    /// A judge of these rows.
    pub fn new(world: &'a World, options: &'a Options, today: Day, entries: &[Entry]) -> Self {
        let mut yard_rows: BTreeMap<String, (u32, String)> = BTreeMap::new();
        for entry in entries {
            yard_rows.entry(fold(&entry.yard)).or_insert_with(|| (0, entry.yard.clone())).0 += 1;
        }
        let hive = |colony: &Arc<Colony>| {
            let key = (Ref::Old(colony.yard()?), fold(colony.name()));
            Some((key, Ref::Old(colony.id)))
        };
        let living: BTreeMap<_, _> = world.living().filter_map(hive).collect();
        Self {
            world,
            options,
            today,
            plan: Plan::default(),
            totals: Totals::default(),
            yards: world.yards.values().map(|yard| (fold(&yard.name), Ref::Old(yard.id))).collect(),
            yard_rows,
            near_yards: BTreeMap::new(),
            sources: world.sources.values().map(|source| (fold(&source.name), Ref::Old(source.id))).collect(),
            hives: living.clone(),
            living,
            seen_in: BTreeMap::new(),
            swaps: Vec::new(),
            touched: BTreeSet::new(),
            matched: BTreeSet::new(),
            said_in: BTreeMap::new(),
        }
    }

    /// What the row will do; its problems and notes grow.
    pub fn judge(&mut self, entry: &mut Entry) -> Will {
        if !entry.problems.is_empty() {
            return Will::HoldBack;
        }
        let verdict = match entry.kind {
            Kind::Hive => self.hive(entry),
            Kind::Yard => self.yard_alone(entry),
            Kind::Visit => self.visit_alone(entry),
            Kind::Source => Ok(self.source_alone(entry)),
            Kind::Setting => self.setting(entry),
        };
        verdict.unwrap_or_else(|problem| {
            entry.problems.push(problem);
            Will::HoldBack
        })
    }

    /// The totals, once all rows are judged.
    pub fn totals(&self, wills: &[Will]) -> Totals {
        let count = |will: Will| wills.iter().filter(|it| **it == will).count() as u32;
        Totals {
            rows: wills.len() as u32,
            hives_added: self.plan.hives.len() as u32,
            changed: count(Will::Change),
            same: count(Will::Same),
            held_back: count(Will::HoldBack),
            yards: self.touched.len() as u32,
            yards_new: self.plan.yards.len() as u32,
            sources_new: self.plan.sources.len() as u32,
            finds: self.plan.visits.iter().filter(|visit| visit.visit != Visit::default()).count() as u32,
            ..self.totals
        }
    }

    fn hive(&mut self, entry: &mut Entry) -> Verdict {
        self.near_yard(entry)?;
        if entry.ended.is_some() {
            // Former colonies of a name never stand against the living one.
            let Some(former) = self.same_ended(entry) else { return self.new_hive(entry) };
            self.remember(entry, Ref::Old(former));
            return Ok(Will::Same);
        }
        let known = self.yards.get(&fold(&entry.yard)).and_then(|yard| self.living.get(&(*yard, fold(&entry.hive))));
        let Some(&known) = known else { return self.new_hive(entry) };
        if let Some(row) = self.seen_in.get(&known) {
            let fact = format!("Hive {} is already in row {row}", entry.hive);
            return Err(Problem::new(Field::Hive, fact, "Correct the hive's name, or leave one of the rows out"));
        }
        self.remember(entry, known);
        let Ref::Old(id) = known else { return Ok(Will::Same) };
        let will = self.compare(entry, id)?;
        if will == Will::Change {
            self.touched.extend(self.yards.get(&fold(&entry.yard)));
        }
        Ok(will)
    }

    /// The hive a row names: the newest of that name in its yard.
    pub(super) fn known_hive(&self, entry: &Entry) -> Option<Ref<ColonyId>> {
        let yard = self.yards.get(&fold(&entry.yard))?;
        self.hives.get(&(*yard, fold(&entry.hive))).copied()
    }

    /// Keeps that a row stands for a hive: rows of visits below it belong to it.
    fn remember(&mut self, entry: &Entry, hive: Ref<ColonyId>) {
        self.seen_in.insert(hive, entry.number);
        let Some(yard) = self.yards.get(&fold(&entry.yard)).copied() else { return };
        let key = (yard, fold(&entry.hive));
        if entry.ended.is_none() {
            self.living.insert(key.clone(), hive);
        }
        self.hives.insert(key, hive);
    }

    /// An ended colony of the register that the row of an export stands for.
    fn same_ended(&self, entry: &Entry) -> Option<ColonyId> {
        let Some(&Ref::Old(yard)) = self.yards.get(&fold(&entry.yard)) else { return None };
        let (end, name) = (entry.ended.as_ref()?, fold(&entry.hive));
        let same = |colony: &&Arc<Colony>| {
            colony.yard() == Some(yard)
                && fold(colony.name()) == name
                && colony.ended.as_ref().is_some_and(|known| known.day == end.day)
                && !self.seen_in.contains_key(&Ref::Old(colony.id))
        };
        self.world.colonies.values().find(same).map(|colony| colony.id)
    }

    fn new_hive(&mut self, entry: &mut Entry) -> Verdict {
        let settled = self.is_settled(entry);
        let gave = if settled { None } else { self.gave(entry) };
        let finds = self.finds(entry, gave.is_some())?;
        let removed = match &gave {
            Some(Gave { old_queen: OldQueen::RemovedOn(day), .. }) => Some(*day),
            _ => None,
        };
        let days = [entry.introduced, entry.look, entry.ended.as_ref().map(|end| end.day)];
        let first_day = days.into_iter().flatten().min();
        let founded = entry.since.unwrap_or_else(|| first_day.into_iter().chain(removed).min().unwrap_or(self.today));
        if first_day.is_some_and(|day| day < founded) {
            let fact = format!("Known since {}, yet something happened before", founded.near(self.today));
            return Err(Problem::new(Field::Since, fact, "Give the earlier day"));
        }
        if let Some(end) = &entry.ended
            && [entry.introduced, entry.look].into_iter().flatten().any(|day| day > end.day)
        {
            let fact = format!("Ended {}, yet something happened later", end.day.near(self.today));
            return Err(Problem::new(Field::Ended, fact, "Give a later day"));
        }
        // From here on nothing can fail, so the yard and the source may be made.
        let yard = self.settle_yard(entry)?;
        self.touched.insert(yard);
        let first = self.first(entry, gave.is_some());
        let at = self.plan.hives.len();
        self.plan.hives.push(NewHive {
            yard,
            name: entry.hive.clone(),
            spot: entry.spot,
            founded,
            founding: entry.founding.unwrap_or(Founding::Known),
            first,
            note: entry.note.clone(),
            ended: entry.ended.clone(),
        });
        self.remember(entry, Ref::New(at));
        self.say_of_new(entry, gave.as_ref(), settled);
        let gave = gave.map(|gave| Gave { queen: self.queen(entry, gave.queen.origin), ..gave });
        self.put_visits(entry, Ref::New(at), finds, gave);
        Ok(Will::Add)
    }

    /// Long ago, and nothing found since that would tell how it went.
    fn is_settled(&self, entry: &Entry) -> bool {
        let Some(introduced) = entry.introduced else { return false };
        let judged = entry.found.is_some() && entry.look.is_some_and(|look| look >= introduced);
        !entry.exact && !judged && self.today.since(introduced) > SETTLED_AFTER
    }

    fn first(&mut self, entry: &mut Entry, given: bool) -> First {
        if !given && (entry.queen.any() || entry.introduced.is_some()) {
            let origin = match entry.introduced {
                Some(_) => origin_by_method(entry.method.unwrap_or(Method::Caged)),
                None => Origin::Unknown,
            };
            First::Queen(self.queen(entry, origin))
        } else if entry.queenless {
            First::Without
        } else {
            First::Unknown
        }
    }

    /// The queen a row tells of; her source is added where it is new.
    pub(super) fn queen(&mut self, entry: &mut Entry, origin: Origin) -> NewQueen {
        let source = self.settle_source(entry);
        let by_method = || match (entry.introduced, entry.exact) {
            (Some(day), false) => birth_by_method(entry.method.unwrap_or(Method::Caged), day, entry.emerged),
            _ => Birth::default(),
        };
        NewQueen {
            birth: entry.queen.birth.unwrap_or_else(by_method),
            origin: entry.queen.origin.unwrap_or(origin),
            source,
            dot: entry.queen.dot,
            words: entry.queen.note.clone(),
        }
    }

    /// The introduction a row tells of, without the queen's details.
    pub(super) fn gave(&self, entry: &Entry) -> Option<Gave> {
        let day = entry.introduced?;
        let method = entry.method.unwrap_or(Method::Caged);
        let origin = origin_by_method(method);
        Some(Gave {
            method,
            queen: NewQueen { birth: Birth::default(), origin, source: None, dot: None, words: String::new() },
            old_queen: entry
                .old_queen
                .unwrap_or_else(|| OldQueen::RemovedOn(default_dequeened(&self.world.settings, method, day))),
            emerged: entry.emerged,
            cells: entry.cells,
        })
    }

    /// The look a row tells of, checked against itself; on the day of the introduction it is one visit with it.
    fn finds(&self, entry: &Entry, given: bool) -> Result<Option<Visit>, Problem> {
        let Some(_) = entry.look else { return Ok(None) };
        let visit = entry.found.as_ref().map(|found| found.visit.clone()).unwrap_or_default();
        if let Some(against) = contradiction(&visit) {
            return Err(Problem::new(Field::Found, capital(against.fact), against.way_out));
        }
        if given && entry.introduced == entry.look && matches!(visit.coverage, Coverage::Unopened(_)) {
            return Err(Problem::new(Field::Found, "Not opened, yet a queen was given", "Correct one of the two"));
        }
        if given && entry.introduced == entry.look && visit.seen.dead {
            return Err(Problem::new(
                Field::Found,
                "The colony is dead, yet a queen was given",
                "Correct one of the two",
            ));
        }
        Ok(Some(visit))
    }

    fn put_visits(&mut self, entry: &Entry, hive: Ref<ColonyId>, find: Option<Visit>, gave: Option<Gave>) {
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

    fn say_of_new(&mut self, entry: &mut Entry, gave: Option<&Gave>, settled: bool) {
        if settled {
            self.totals.settled += 1;
        }
        if entry.introduced.is_none() && !entry.queen.any() && entry.kind == Kind::Hive {
            let words = if entry.queenless { "No queen" } else { "Queen not known" };
            entry.notes.push(Problem::new(Field::Born, words, ""));
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

    fn visit_alone(&mut self, entry: &mut Entry) -> Verdict {
        let Some(hive) = self.known_hive(entry).filter(|hive| self.seen_in.contains_key(hive)) else {
            let fact = format!("Hive {} of this yard has no row above", entry.hive);
            return Err(Problem::new(Field::Hive, fact, "Put the hive's own row before its visits"));
        };
        if entry.look.is_none() && entry.introduced.is_none() {
            return Err(Problem::new(Field::LastLook, "No day is given", "Give the day of the visit"));
        }
        let gave = self.gave(entry);
        let find = self.finds(entry, gave.is_some())?;
        if let Ref::Old(colony) = hive
            && self.has_visit(entry, colony, find.as_ref(), gave.as_ref())
        {
            return Ok(Will::Same);
        }
        self.check_days(entry, hive)?;
        let gave = gave.map(|gave| Gave { queen: self.queen(entry, gave.queen.origin), ..gave });
        self.put_visits(entry, hive, find, gave);
        self.touched.extend(self.yards.get(&fold(&entry.yard)));
        Ok(Will::Add)
    }

    /// Refuses days on which nothing can have happened at the hive.
    pub(super) fn check_days(&self, entry: &Entry, hive: Ref<ColonyId>) -> Result<(), Problem> {
        let (founded, ended) = match hive {
            Ref::Old(id) => self.world.colonies.get(&id).map(|it| (it.founded, it.ended.as_ref().map(|end| end.day))),
            Ref::New(at) => self.plan.hives.get(at).map(|it| (it.founded, it.ended.as_ref().map(|end| end.day))),
        }
        .unwrap_or((self.today, None));
        for (day, field) in [(entry.introduced, Field::Introduced), (entry.look, Field::LastLook)] {
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

    fn source_alone(&mut self, entry: &mut Entry) -> Will {
        let own = entry.own_line.unwrap_or(false);
        match self.sources.get(&fold(&entry.queen.source)) {
            Some(Ref::Old(id)) => {
                let known = self.world.sources.get(id);
                match known.filter(|known| entry.own_line.is_some_and(|own| known.own != own)) {
                    Some(known) if self.options.existing == Existing::Update => {
                        self.plan.source_edits.push(Source { own, ..known.clone() });
                        Will::Change
                    }
                    _ => Will::Same,
                }
            }
            Some(Ref::New(_)) => Will::Same,
            None => {
                self.settle_source(entry);
                if let Some(new) = self.plan.sources.last_mut() {
                    new.own = own;
                }
                Will::Add
            }
        }
    }

    fn setting(&mut self, entry: &Entry) -> Verdict {
        let Some((name, value)) = &entry.setting else {
            return Err(Problem::new(Field::Value, "No value is given", "Give one"));
        };
        let fault = |error: String| Problem::new(Field::Setting, error, "Correct its name or value");
        let next = self.world.settings.with(name, *value).map_err(|error| fault(error.to_string()))?;
        if next == Settings::clone(&self.world.settings) {
            return Ok(Will::Same);
        }
        if self.options.existing == Existing::Skip {
            return Ok(Will::Same);
        }
        self.plan.settings.push((name.clone(), *value));
        Ok(Will::Change)
    }

    /// The source a row names; a new one is added, with a hint where its name is near another.
    pub(super) fn settle_source(&mut self, entry: &mut Entry) -> Option<Ref<SourceId>> {
        let name = &entry.queen.source;
        let folded = fold(name);
        if folded.is_empty() {
            return None;
        }
        if let Some(known) = self.sources.get(&folded) {
            return Some(*known);
        }
        if !entry.exact {
            let known: BTreeMap<String, &str> =
                self.sources.iter().map(|(folded, source)| (folded.clone(), self.source_name(*source))).collect();
            let hint = nearest(&folded, &known).map(|near| format!(". Did you mean {near}?")).unwrap_or_default();
            entry.notes.push(Problem::new(Field::Source, format!("New source: {name}{hint}"), ""));
        }
        let made = Ref::New(self.plan.sources.len());
        self.plan.sources.push(NewSource { name: name.clone(), own: entry.own_line.unwrap_or(false) });
        self.sources.insert(folded, made);
        Some(made)
    }

    pub(super) fn source_name(&self, source: Ref<SourceId>) -> &str {
        match source {
            Ref::Old(id) => self.world.sources.get(&id).map_or("", |source| &source.name),
            Ref::New(at) => self.plan.sources.get(at).map_or("", |source| &source.name),
        }
    }

    /// Holds a row back whose yard is new and named nearly like another, unless it is confirmed, gives its own place,
    /// or comes so often that it is no slip.
    fn near_yard(&mut self, entry: &Entry) -> Result<(), Problem> {
        let folded = fold(&entry.yard);
        let rows = self.yard_rows.get(&folded).map_or(0, |(rows, _)| *rows);
        let confirmed = self.options.corrections.contains_key(&(entry.number, Field::Yard));
        if self.yards.contains_key(&folded) || rows > 2 || confirmed || entry.exact || entry.facts.place.is_some() {
            return Ok(());
        }
        if !self.near_yards.contains_key(&folded) {
            let near = self.nearest_yard(&folded, rows);
            self.near_yards.insert(folded.clone(), near);
        }
        match self.near_yards.get(&folded).and_then(Option::as_ref) {
            Some(near) => Err(Problem::new(
                Field::Yard,
                format!("No yard of this name. {near}?"),
                "Correct the name, confirm it as it is, or give the new yard a latitude and longitude",
            )),
            None => Ok(()),
        }
    }

    fn nearest_yard(&self, folded: &str, rows: u32) -> Option<String> {
        let mut known: BTreeMap<String, &str> =
            self.world.yards.values().map(|yard| (fold(&yard.name), yard.name.as_str())).collect();
        for (name, (count, written)) in &self.yard_rows {
            // A yard of the file counts only where it is plainly the one meant.
            if *count > rows * 2 {
                known.entry(name.clone()).or_insert(written);
            }
        }
        nearest(folded, &known).map(str::to_owned)
    }
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

pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}
