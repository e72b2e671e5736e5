//! An export of hives that are in the register already runs together with it: what the file adds is taken, what is the same
//! is left, and what contradicts the register is held back row by row.
//!
//! An empty cell says nothing, and a hive, name or record that the file lacks is not taken away. What a later record,
//! amendment or day tells goes before what an earlier one told, whichever of the two has it. Where neither is later, the
//! file's word stands for details (a dot, a note), and the register's for what happened: that is amended, not replaced.

mod details;
mod hives;
pub(super) mod identify;
mod plans;
mod records;
mod runs;
mod verdicts;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use uuid::Uuid;

use crate::domain::colony::Colony;
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::ids::{ColonyId, PlanId, RecordId, YardId};
use crate::domain::plan::Plan as Planned;
use crate::domain::record::Record;
use crate::domain::world::World;
use crate::exchange::table::changes::{Making, of};
use crate::exchange::table::entry::Entry;
use crate::exchange::table::fates::{Fate, Known, KnownHive, TakeOf};
use crate::exchange::table::headings::Field;
use crate::exchange::table::judge::Judge;
use crate::exchange::table::merge::verdicts::{Said, Verdicts};
use crate::exchange::table::plan::{NewHive, Plan, QueenEdit, Ref};
use crate::exchange::table::preview::{Existing, PreviewRow, Problem, Will};

/// What there is to do first where the row of a hive is held back.
const FIRST: &str = "Solve its problems first";

/// The two registers, and what follows.
struct Merge<'a> {
    world: &'a World,
    plan: &'a Plan,
    today: Day,
    /// What the file tells of hives that are there is taken; otherwise all of it is left.
    update: bool,
    entries: BTreeMap<u32, &'a Entry>,
    /// What stands for the ids that the file's new yards will get.
    yards: Vec<YardId>,
    /// The told things with the register's ids where it has them, by their number in the plan.
    hives: BTreeMap<usize, Pair>,
    records: Vec<Option<Record>>,
    plans: Vec<Option<Planned>>,
    /// Records of the register for which the file has one.
    matched: BTreeSet<RecordId>,
    /// Hives of which the file has a later amendment, or the register has one.
    amended_there: BTreeSet<ColonyId>,
    amended_here: BTreeSet<ColonyId>,
    known: Known,
    /// Details of queens, with the row that tells them.
    queens: Vec<(u32, QueenEdit)>,
    verdicts: Verdicts,
}

/// A hive of the register, and as the file tells it.
struct Pair {
    held: Arc<Colony>,
    told: Colony,
}

impl Judge<'_> {
    /// Runs the told hives together with the register's, once all rows are judged.
    pub(super) fn merge(&mut self, entries: &[Entry], rows: &mut [PreviewRow]) {
        let mut verdicts = self.merge_runs();
        let mut merge = Merge::new(self, entries);
        if !merge.hives.is_empty() {
            merge.run(self);
            let Merge { known, queens, verdicts: of_hives, .. } = merge;
            verdicts.0.extend(of_hives.0);
            self.plan.known = known;
            if self.options.existing == Existing::Update {
                let taken = queens.into_iter().filter(|(row, _)| !verdicts.is_held(*row));
                let taken: Vec<QueenEdit> = taken.map(|(_, edit)| edit).collect();
                self.plan.queens.extend(taken.into_iter().map(|edit| (edit.queen.id, edit)));
            } else {
                self.plan.known.leave_all(&self.plan.records, &self.plan.plans);
            }
        }
        verdicts.0.extend(self.refused_removals().0);
        for (row, entry) in rows.iter_mut().zip(entries).filter(|(row, _)| row.will != Will::HoldBack) {
            let Some(said) = verdicts.0.remove(&row.row) else { continue };
            self.say(row, said, entry);
            if row.will == Will::Add {
                self.totals.more.count(entry.kind);
            }
            if matches!(row.will, Will::Add | Will::Change) {
                self.touched.extend(self.yards.get(&fold(&entry.yard)));
            }
        }
    }

    /// Puts what is said of a row on it, as what is there already is to be treated.
    fn say(&self, row: &mut PreviewRow, said: Said, entry: &Entry) {
        let first = said.problems.first().or(said.notes.first()).map(|it| (it.field, it.fact.clone()));
        let (field, fact) = first.unwrap_or((None, String::new()));
        match (self.options.existing, said.will) {
            (Existing::Skip, Will::Add | Will::Change | Will::HoldBack) => {
                row.will = Will::Same;
                let left = format!("Left as it is. {fact}");
                row.notes.push(Problem { field, fact: left.trim().to_owned(), remedy: String::new() });
            }
            (Existing::Ask, Will::Add | Will::Change) => {
                row.will = Will::HoldBack;
                let name = about(entry);
                let fact = if fact.is_empty() { format!("{name}, without this") } else { format!("{name}. {fact}") };
                let remedy = "Choose to skip or to update what is there already".to_owned();
                row.problems.push(Problem { field: Some(field.unwrap_or(Field::Entry)), fact, remedy });
            }
            (_, will) => {
                row.will = will;
                row.notes.extend(said.notes);
                row.problems.extend(said.problems);
            }
        }
    }

    /// Yards that the file says are gone, and in which hives live all the same.
    fn refused_removals(&mut self) -> Verdicts {
        let mut verdicts = Verdicts::default();
        let standing = self.living_after();
        for (row, yard) in std::mem::take(&mut self.plan.gone_yards) {
            let name = self.world.yards.get(&yard).map_or("", |yard| yard.name.as_str());
            if standing.contains(&yard) {
                let fact = format!("{name} was removed, and hives stand in it");
                verdicts.holds_back(row, Problem::new(Field::Removed, fact, "Move or end them first"));
            } else {
                verdicts.changes(row, Field::Removed, format!("{name} was removed"));
                if self.options.existing == Existing::Update {
                    self.plan.gone_yards.push((row, yard));
                }
            }
        }
        verdicts
    }

    /// The yards of the register in which hives live, or will.
    fn living_after(&self) -> BTreeSet<YardId> {
        let merged: BTreeMap<ColonyId, &KnownHive> =
            self.plan.known.hives.values().map(|known| (known.held.id, known)).collect();
        let told = self.plan.hives.iter().enumerate().filter_map(|(at, hive)| match self.plan.known.hives.get(&at) {
            Some(known) if known.take.ended || known.take.stands => {
                let ended = if known.take.ended { hive.ended.is_some() } else { !known.held.is_living() };
                let yard = if known.take.stands { of(hive.yard, &[]) } else { known.held.yard() };
                yard.filter(|_| !ended)
            }
            Some(_) => None,
            None => of(hive.yard, &[]).filter(|_| hive.ended.is_none()),
        });
        let stays =
            |colony: &&Arc<Colony>| merged.get(&colony.id).is_none_or(|known| !known.take.ended && !known.take.stands);
        self.world.living().filter(stays).filter_map(|colony| colony.yard()).chain(told).collect()
    }
}

impl<'a> Merge<'a> {
    /// The told things, made with ids that stand for those they will get.
    fn new(judge: &'a Judge<'_>, entries: &'a [Entry]) -> Self {
        let plan = &judge.plan;
        let mut merge = Self {
            world: judge.world,
            plan,
            today: judge.today,
            update: judge.options.existing == Existing::Update,
            entries: BTreeMap::new(),
            yards: Vec::new(),
            hives: BTreeMap::new(),
            records: Vec::new(),
            plans: Vec::new(),
            matched: BTreeSet::new(),
            amended_there: BTreeSet::new(),
            amended_here: BTreeSet::new(),
            known: Known::default(),
            queens: Vec::new(),
            verdicts: Verdicts::default(),
        };
        if plan.hives.iter().all(|hive| hive.known.is_none()) {
            return merge;
        }
        merge.entries = entries.iter().map(|entry| (entry.number, entry)).collect();
        let mut next = u128::MAX;
        let mut mint = || {
            next -= 1;
            Uuid::from_u128(next)
        };
        let mut making = Making::new(plan, judge.today, &mut mint);
        let mut nothing = Vec::new();
        making.sources(&mut nothing);
        making.yards(&mut nothing);
        making.parcels(&mut nothing);
        merge.yards.clone_from(&making.yards);
        let rows = making.hives_by_row();
        for (at, hive) in plan.hives.iter().enumerate() {
            let Some(held) = hive.known.and_then(|id| judge.world.colonies.get(&id)) else { continue };
            if let Some(told) = making.told_hive(hive, held.id, &rows) {
                merge.hives.insert(at, Pair { held: Arc::clone(held), told });
            }
        }
        let none = BTreeMap::new();
        for new in &plan.records {
            let id = RecordId((making.mint)());
            merge.records.push(making.told_record(new, id, &rows, &none));
        }
        for new in &plan.plans {
            let id = PlanId((making.mint)());
            merge.plans.push(making.told_plan(new, id));
        }
        merge
    }

    fn run(&mut self, judge: &Judge<'_>) {
        for (at, pair) in &self.hives {
            let held = Arc::clone(&pair.held);
            self.known.hives.insert(*at, KnownHive { held, take: TakeOf::default() });
            if let Some(hive) = self.plan.hives.get(*at) {
                self.verdicts.same(hive.row);
            }
        }
        self.match_records();
        self.compare_hives();
        self.compare_queens(judge);
        self.judge_records();
        self.compare_plans();
        // A row that is held back can make another one impossible: until nothing more is held back.
        while self.refuse_days() | self.refuse_names() {}
        self.leave_held();
        self.let_plans_fall();
    }

    /// The colony as it will be, with what is taken so far.
    fn after(&self, at: usize) -> Option<Colony> {
        let (pair, known) = (self.hives.get(&at)?, self.known.hives.get(&at)?);
        let held = self.plan.hives.get(at).is_some_and(|hive| self.verdicts.is_held(hive.row));
        Some(if held || !self.update { Colony::clone(&pair.held) } else { known.merged_with(&pair.told, self.today) })
    }

    /// Holds back what would have happened before a hive was known or after it ended.
    fn refuse_days(&mut self) -> bool {
        let mut found: Vec<(u32, Problem)> = Vec::new();
        for (at, record) in self.records.iter().enumerate() {
            let (Some(record), Some(new)) = (record, self.plan.records.get(at)) else { continue };
            if record.struck || self.known.records.get(&at) == Some(&Fate::Leave) || self.verdicts.is_held(new.row) {
                continue;
            }
            let Some(colony) = self.after(new.hive) else { continue };
            let (first, last) = (colony.founded, colony.ended.as_ref().map(|end| end.day));
            if record.day < first {
                let fact = format!("{} is known only since {}", colony.name(), first.near(self.today));
                found.push((new.row, Problem::new(Field::LastLook, fact, "Correct that day on the hive's card first")));
            } else if let Some(last) = last.filter(|last| *last < record.day) {
                let fact = format!("{} ended on {}", colony.name(), last.near(self.today));
                let remedy = "Leave the row out, or take its end back in the register first";
                found.push((new.row, Problem::new(Field::LastLook, fact, remedy)));
            }
        }
        self.hold_all(found)
    }

    /// Holds back hives whose name another living hive of their yard will have.
    fn refuse_names(&mut self) -> bool {
        let mut holders: BTreeMap<(YardId, String), Vec<usize>> = BTreeMap::new();
        let told: BTreeSet<ColonyId> = self.plan.hives.iter().filter_map(|hive| hive.known).collect();
        let others = self.world.living().filter(|colony| !told.contains(&colony.id));
        let taken: BTreeSet<(YardId, String)> = others.filter_map(|colony| name_key(colony)).collect();
        for (at, hive) in self.plan.hives.iter().enumerate().filter(|(at, _)| !self.known.dropped.contains(at)) {
            let key = match self.after(at) {
                Some(after) => name_key(&after),
                None => {
                    of(hive.yard, &self.yards).filter(|_| hive.ended.is_none()).map(|yard| (yard, fold(&hive.name)))
                }
            };
            if let Some(key) = key {
                holders.entry(key).or_default().push(at);
            }
        }
        let mut found = Vec::new();
        for (key, all) in holders.into_iter().filter(|(key, all)| all.len() > 1 || taken.contains(key)) {
            for at in all {
                let Some(hive) = self.plan.hives.get(at) else { continue };
                let held = self.hives.get(&at).and_then(|pair| name_key(&pair.held));
                if held.as_ref() == Some(&key) {
                    continue;
                }
                if hive.known.is_none() {
                    self.known.dropped.insert(at);
                }
                let yard = self.world.yards.get(&key.0).map_or("The yard", |yard| yard.name.as_str());
                let fact = format!("{yard} has another living hive called {}", hive.name);
                let remedy = "Rename or end that one in the register first";
                found.push((hive.row, Problem::new(Field::Hive, fact, remedy)));
            }
        }
        self.hold_all(found)
    }

    fn hold_all(&mut self, found: Vec<(u32, Problem)>) -> bool {
        let any = !found.is_empty();
        for (row, problem) in found {
            self.verdicts.holds_back(row, problem);
        }
        any
    }

    /// What a held-back row tells is left, and so are the rows that say more about it.
    fn leave_held(&mut self) {
        for (at, hive) in self.plan.hives.iter().enumerate() {
            if !self.verdicts.is_held(hive.row) {
                continue;
            }
            if self.known.dropped.contains(&at) {
                self.hold_below(at, hive);
                continue;
            }
            if let Some(known) = self.known.hives.get_mut(&at) {
                known.take = TakeOf::default();
            }
            let below =
                rows_of_past(hive).filter(|row| self.verdicts.0.get(row).is_some_and(|said| said.will == Will::Add));
            for row in below.collect::<Vec<_>>() {
                self.verdicts.holds_back(row, hive_held(hive));
            }
        }
        for (at, record) in self.plan.records.iter().enumerate() {
            if !self.verdicts.is_held(record.row) {
                continue;
            }
            self.known.records.insert(at, Fate::Leave);
            for amended in &record.amended {
                self.verdicts.holds_back(amended.row, above_held());
            }
        }
        for (at, plan) in self.plan.plans.iter().enumerate() {
            if !self.verdicts.is_held(plan.row) {
                continue;
            }
            self.known.plans.insert(at, Fate::Leave);
            for moved in &plan.moved {
                self.verdicts.holds_back(moved.row, above_held());
            }
        }
    }

    /// Nothing comes in of a new hive that cannot.
    fn hold_below(&mut self, at: usize, hive: &NewHive) {
        let records = self.plan.records.iter().filter(|record| record.hive == at).map(|record| record.row);
        let plans = self.plan.plans.iter().filter(|plan| plan.hive == at).map(|plan| plan.row);
        let bars = self.plan.bars.iter().filter(|bar| bar.hive == Some(Ref::New(at))).map(|bar| bar.row);
        for row in rows_of_past(hive).chain(records).chain(plans).chain(bars).filter(|row| *row != hive.row) {
            self.verdicts.holds_back(row, hive_held(hive));
        }
    }
}

fn hive_held(hive: &NewHive) -> Problem {
    Problem::new(Field::Hive, format!("The row of hive {} is held back", hive.name), FIRST)
}

/// What an entry is about, as a problem begins: `B14 is in the register already`.
fn about(entry: &Entry) -> String {
    let name = if entry.hive.is_empty() { &entry.yard } else { &entry.hive };
    let name = if name.is_empty() { "This" } else { name };
    format!("{name} is in the register already")
}

fn above_held() -> Problem {
    Problem::new(Field::Entry, "The row above is held back", FIRST)
}

/// The rows that tell the names, places and corrections of a hive.
fn rows_of_past(hive: &NewHive) -> impl Iterator<Item = u32> {
    let names = hive.names.iter().map(|it| it.row);
    names.chain(hive.stands.iter().map(|it| it.row)).chain(hive.corrected.iter().map(|it| it.row))
}

fn name_key(colony: &Colony) -> Option<(YardId, String)> {
    colony.yard().filter(|_| colony.is_living()).map(|yard| (yard, fold(colony.name())))
}
