//! What each row will do, row by row: names are resolved against the register and the rows above.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::domain::colony::{Colony, Founding};
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::ids::{BarId, ColonyId, ParcelId, RecordId, SourceId, YardId};
use crate::domain::in_hand::queen::{birth_by_method, origin_by_method};
use crate::domain::queen::{Birth, Origin};
use crate::domain::visit::{Method, OldQueen, Visit};
use crate::domain::world::World;
use crate::exchange::table::entry::{Entry, Kind};
use crate::exchange::table::headings::Field;
use crate::exchange::table::merge::identify::identify;
use crate::exchange::table::parcels::known_parcels;
use crate::exchange::table::plan::{First, Gave, NewHappening, NewHive, NewQueen, Plan, Ref};
use crate::exchange::table::preview::{Options, Problem, Totals, Will};
use crate::exchange::table::refs::Refs;
use crate::exchange::table::taken::Above;
use crate::exchange::table::visits::same_visit;

/// An introduction longer ago than this, with no find since, is taken as settled: the queen is the one the colony has,
/// and no looks are made that would all be late. Days; common practice, no source: the last look after a cell is on
/// day 30, and a second one has long been made.
pub(super) const SETTLED_AFTER: i32 = 60;

/// How long a colony is taken to have been there at least, where its row does not say. Days; own choice: a year back
/// reaches every find that is still of use.
const LONG_THERE: i32 = 365;

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
    pub(super) near_yards: BTreeMap<String, Option<String>>,
    pub(super) sources: BTreeMap<String, Ref<SourceId>>,
    /// The living hive of each name, by yard and folded name.
    living: BTreeMap<(Ref<YardId>, String), Ref<ColonyId>>,
    /// The hive each name was last used for, ended ones included.
    pub(super) hives: BTreeMap<(Ref<YardId>, String), Ref<ColonyId>>,
    /// The row in which each hive of the file stands.
    pub(super) seen_in: BTreeMap<Ref<ColonyId>, u32>,
    pub(super) swaps: Vec<Swap>,
    /// How often a yard of the register was changed.
    pub(super) yard_changes: u32,
    /// Hives of the register whose own row is held back.
    pub(super) held: BTreeSet<Ref<ColonyId>>,
    pub(super) touched: BTreeSet<Ref<YardId>>,
    /// Records of the register that rows of the file stand for.
    pub(super) matched: BTreeSet<RecordId>,
    /// The row that first said where a yard lies, and so on.
    pub(super) said_in: BTreeMap<(Ref<YardId>, Field), u32>,
    pub(super) refs: Refs,
    /// Hives of an export that the register has, by their rows.
    known: BTreeMap<u32, ColonyId>,
    /// Bars of the register that rows of the file stand for.
    pub(super) matched_bars: BTreeSet<BarId>,
    /// Parcels of an export that the register has, by their rows.
    pub(super) known_parcels: BTreeMap<u32, ParcelId>,
    /// The parcels of the file, by the number other rows call them.
    pub(super) parcels: BTreeMap<u32, Ref<ParcelId>>,
    /// What the rows that say more about the one above them belong to.
    pub(super) above: Above,
    /// Hives that rows call by their name: the row, the field, the name, and the row of that hive.
    pub(super) named: Vec<(u32, Field, String, u32)>,
}

/// A lid swapped with that of a hive whose row may still come.
pub(super) struct Swap {
    pub visit: usize,
    pub row: u32,
    pub yard: String,
    pub name: String,
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
        let identified = identify(world, entries);
        let mut yards: BTreeMap<String, Ref<YardId>> =
            world.yards.values().map(|yard| (fold(&yard.name), Ref::Old(yard.id))).collect();
        yards.extend(identified.yards.into_iter().map(|(name, yard)| (name, Ref::Old(yard))));
        Self {
            world,
            options,
            today,
            plan: Plan::default(),
            totals: Totals::default(),
            yards,
            yard_rows,
            near_yards: BTreeMap::new(),
            sources: world.sources.values().map(|source| (fold(&source.name), Ref::Old(source.id))).collect(),
            hives: living.clone(),
            living,
            seen_in: BTreeMap::new(),
            swaps: Vec::new(),
            yard_changes: 0,
            held: BTreeSet::new(),
            touched: BTreeSet::new(),
            matched: BTreeSet::new(),
            said_in: BTreeMap::new(),
            known: identified.hives,
            matched_bars: BTreeSet::new(),
            known_parcels: known_parcels(world, entries),
            refs: Refs::new(world, entries),
            parcels: BTreeMap::new(),
            above: Above::Nothing,
            named: Vec::new(),
        }
    }

    /// What the row will do; its problems and notes grow. What rows of known hives in an export do is said by
    /// [`Self::merge`] once all are judged.
    pub fn judge(&mut self, entry: &mut Entry) -> Will {
        if !entry.kind.belongs_above() {
            self.above = Above::Nothing;
        }
        let will = self.will(entry);
        if will == Will::HoldBack && !entry.kind.belongs_above() {
            self.above = Above::Held;
        }
        will
    }

    fn will(&mut self, entry: &mut Entry) -> Will {
        if !entry.problems.is_empty() {
            if entry.exact && entry.kind == Kind::Hive {
                self.hold_hive(entry);
            }
            return Will::HoldBack;
        }
        let verdict = self.check_names(entry).and_then(|()| match entry.kind {
            Kind::Hive => self.hive(entry),
            Kind::Yard => self.yard_alone(entry),
            Kind::Visit => self.visit_alone(entry),
            Kind::Answer | Kind::Lifted => self.answer_alone(entry),
            Kind::Bar => self.bar_alone(entry),
            Kind::Source => Ok(self.source_alone(entry)),
            Kind::Setting => self.setting(entry),
            Kind::Firm => self.firm(entry),
            Kind::Parcel => self.parcel(entry),
            Kind::Named | Kind::Stood | Kind::Corrected => self.past_of_hive(entry),
            Kind::Split | Kind::United => self.between_hives(entry),
            Kind::Plan => self.plan_alone(entry),
            Kind::Run => Ok(self.run(entry)),
            Kind::Amended | Kind::PlanMoved | Kind::Stop | Kind::LeftOut => self.more_of_above(entry),
        });
        verdict.unwrap_or_else(|problem| {
            entry.problems.push(problem);
            Will::HoldBack
        })
    }

    /// The own row of a hive is held back: rows below it say so.
    fn hold_hive(&mut self, entry: &Entry) {
        let Some(known) = self.known.get(&entry.number).copied().map(Ref::Old) else { return };
        self.remember(entry, known);
        self.held.insert(known);
    }

    /// The totals, once all rows are judged.
    pub fn totals(&self, wills: &[Will]) -> Totals {
        let count = |will: Will| wills.iter().filter(|it| **it == will).count() as u32;
        Totals {
            rows: wills.len() as u32,
            hives_added: self.hives_added(),
            changed: count(Will::Change),
            same: count(Will::Same),
            held_back: count(Will::HoldBack),
            yards: self.touched.len() as u32,
            yards_new: self.plan.yards.len() as u32,
            sources_new: self.plan.sources.len() as u32,
            finds: self.finds_counted(),
            ..self.totals
        }
    }

    fn hives_added(&self) -> u32 {
        let new = self.plan.hives.iter().enumerate();
        new.filter(|(at, hive)| hive.known.is_none() && !self.plan.known.dropped.contains(at)).count() as u32
    }

    fn finds_counted(&self) -> u32 {
        let known = &self.plan.known.records;
        let told = self.plan.records.iter().enumerate().filter(|(at, _)| !known.contains_key(at));
        let taken = told.filter_map(|(_, record)| match &record.what {
            NewHappening::Visit { visit, .. } => Some(visit.as_ref()),
            _ => None,
        });
        let all = self.plan.visits.iter().map(|visit| &visit.visit).chain(taken);
        all.filter(|visit| **visit != Visit::default()).count() as u32
    }

    fn hive(&mut self, entry: &mut Entry) -> Verdict {
        self.near_yard(entry)?;
        if entry.exact {
            return self.told_hive(entry);
        }
        if entry.ended.is_some() {
            // Former colonies of a name never stand against the living one.
            let Some(former) = self.same_ended(entry) else { return self.new_hive(entry, None) };
            self.remember(entry, Ref::Old(former));
            return Ok(Will::Same);
        }
        let known = self.yards.get(&fold(&entry.yard)).and_then(|yard| self.living.get(&(*yard, fold(&entry.hive))));
        let Some(&known) = known else { return self.new_hive(entry, None) };
        if let Some(row) = self.seen_in.get(&known) {
            let fact = format!("Hive {} is already in row {row}", entry.hive);
            return Err(Problem::new(Field::Hive, fact, "Correct the hive's name, or leave one of the rows out"));
        }
        self.remember(entry, known);
        let Ref::Old(id) = known else { return Ok(Will::Same) };
        let will = self.compare(entry, id).inspect_err(|_| {
            self.held.insert(known);
        })?;
        if will == Will::Change {
            self.touched.extend(self.yards.get(&fold(&entry.yard)));
        }
        Ok(will)
    }

    /// A hive that says itself what it is: new, or one of the register's, with which it is compared once all is told.
    fn told_hive(&mut self, entry: &mut Entry) -> Verdict {
        let known = self.known.get(&entry.number).copied();
        let yard = self.yards.get(&fold(&entry.yard)).copied();
        let living = yard.and_then(|yard| self.living.get(&(yard, fold(&entry.hive)))).copied();
        if let Some(row) = living.filter(|_| entry.ended.is_none()).and_then(|hive| self.seen_in.get(&hive)) {
            let fact = format!("Hive {} is already in row {row}", entry.hive);
            return Err(Problem::new(Field::Hive, fact, "Correct the hive's name, or leave one of the rows out"));
        }
        self.new_hive(entry, known).inspect_err(|_| self.hold_hive(entry))
    }

    /// The hive a row names: the newest of that name in its yard.
    pub(super) fn known_hive(&self, entry: &Entry) -> Option<Ref<ColonyId>> {
        let yard = self.yards.get(&fold(&entry.yard))?;
        self.hives.get(&(*yard, fold(&entry.hive))).copied()
    }

    /// Keeps that a row stands for a hive: rows of visits below it belong to it.
    fn remember(&mut self, entry: &Entry, hive: Ref<ColonyId>) {
        self.seen_in.insert(hive, entry.number);
        if let Ref::Old(id) = hive {
            self.plan.old_rows.insert(entry.number, id);
        }
        let Some(yard) = self.yards.get(&fold(&entry.yard)).copied() else { return };
        let key = (yard, fold(&entry.hive));
        if entry.ended.is_none() {
            self.living.insert(key.clone(), hive);
        }
        self.hives.insert(key, hive);
    }

    /// An ended colony of the register that the row stands for.
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

    /// A hive that is new, or (`known`) one of the register's of which an export tells.
    fn new_hive(&mut self, entry: &mut Entry, known: Option<ColonyId>) -> Verdict {
        let held = known.and_then(|id| self.world.colonies.get(&id));
        let settled = self.is_settled(entry);
        let gave = if settled { None } else { self.gave(entry) };
        let finds = Self::finds(entry, same_visit(entry, gave.as_ref()), entry.exact)?;
        let removed = match &gave {
            Some(Gave { old_queen: OldQueen::RemovedOn(day), .. }) => Some(*day),
            _ => None,
        };
        let days = [entry.introduced, entry.dequeened, entry.look, entry.ended.as_ref().map(|end| end.day)];
        let first_day = days.into_iter().flatten().min();
        let founded = entry.since.or(held.map(|held| held.founded)).unwrap_or_else(|| {
            let known = first_day.into_iter().chain(removed).min().unwrap_or(self.today);
            // A queen settled long ago came on the day introduced; a colony without one is queenless from its first day.
            if settled || entry.queenless { known } else { known.min(self.long_there(entry)) }
        });
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
        self.check_living(entry)?;
        // From here on nothing can fail, so the yard and the source may be made.
        let yard = self.settle_yard(entry)?;
        if known.is_none() {
            self.touched.insert(yard);
        }
        let first = self.first(entry, gave.is_some());
        let at = self.plan.hives.len();
        self.plan.hives.push(NewHive {
            row: entry.number,
            known,
            taken: entry.exact,
            yard,
            name: entry.hive.clone(),
            spot: entry.spot,
            founded,
            founding: entry.founding.unwrap_or(Founding::Known),
            first,
            note: entry.note.clone(),
            ended: entry.ended.clone(),
            lid: entry.more.lid.clone(),
            parent: self.refs.find(&entry.more.parent),
            united_into: self.refs.find(&entry.more.united_into),
            corrected: Vec::new(),
            names: Vec::new(),
            stands: Vec::new(),
        });
        self.remember(entry, Ref::New(at));
        if known.is_none() {
            self.say_of_new(entry, gave.as_ref(), settled);
        }
        let gave = gave.map(|gave| Gave { queen: self.queen(entry, gave.queen.origin), ..gave });
        self.put_visits(entry, Ref::New(at), finds, gave);
        Ok(Will::Add)
    }

    /// A day on which a colony was there already, where its row does not say since when: so early that older finds can
    /// still be recorded or amended.
    fn long_there(&self, entry: &Entry) -> Day {
        let born = entry.queen.birth.and_then(|birth| birth.earliest).and_then(|born| Day::new(born.year(), 1, 1));
        let long_ago = self.today.plus(-LONG_THERE);
        born.map_or(long_ago, |born| born.min(long_ago))
    }

    /// Long ago, and nothing found since that would tell how it went.
    fn is_settled(&self, entry: &Entry) -> bool {
        let Some(introduced) = entry.introduced else { return false };
        let judged = entry.found.is_some() && entry.look.is_some_and(|look| look >= introduced);
        // The colony is then known from that day on, so nothing may have happened before it.
        let earlier = [entry.since, entry.look].into_iter().flatten().any(|day| day < introduced);
        !entry.exact && !judged && !earlier && self.today.since(introduced) > SETTLED_AFTER
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
        let queen = NewQueen {
            row: entry.number,
            number: entry.queen.number,
            birth: entry.queen.birth.unwrap_or_else(by_method),
            origin: entry.queen.origin.unwrap_or(origin),
            source,
            dot: entry.queen.dot,
            words: entry.queen.note.clone(),
        };
        match queen.number {
            Some(number) => self.plan.numbered.entry(number).or_insert(queen).clone(),
            None => queen,
        }
    }
}
