//! How every colony and yard stands on a day: computed once for a world and a day, then brought up to date colony by
//! colony as the world changes.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::domain::colony::{Colony, FirstQueen};
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::ids::{ColonyId, ParcelId, QueenId, SourceId, YardId};
use crate::domain::plan::Plan;
use crate::domain::queen::Queen;
use crate::domain::record::{Happening, Record};
use crate::domain::standing::{AgeClass, LidNote, LidState, Phase, QueenNow, Standing, lid_note, standing, standings};
use crate::domain::work::{DueWork, WorkState};
use crate::domain::world::World;

/// How everything stands on a day.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outlook {
    /// Each living colony.
    pub colonies: BTreeMap<ColonyId, Arc<ColonyView>>,
    /// Each yard, empty ones included.
    pub yards: BTreeMap<YardId, YardView>,
    /// Colonies that wait for a queen or need action.
    pub needing: usize,
    /// Colonies whose label is to be printed, by yard, spot and name.
    pub label_queue: Vec<ColonyId>,
}

/// One colony on a day.
#[derive(Clone, Debug, PartialEq)]
pub struct ColonyView {
    /// How it stands.
    pub standing: Standing,
    /// What its lid shows.
    pub lid: LidState,
    /// The class of its queen's age.
    pub age: AgeClass,
    /// The note that belongs on its lid.
    pub note: LidNote,
    /// A label with its note belongs in the print queue.
    pub label_wanted: bool,
}

/// One yard on a day.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct YardView {
    /// Its living colonies by spot, then by name.
    pub colonies: Vec<ColonyId>,
    /// Colonies by class of age, in the order of [`AgeClass::ALL`].
    pub bands: [u32; 7],
    /// The most urgent lid in the yard.
    pub lid: Option<LidState>,
    /// Open looks and steps today, late ones included.
    pub open_looks: u32,
    /// Open steps today, late ones included.
    pub open_steps: u32,
    /// Of both, how many are late.
    pub late: u32,
    /// Queenless, not on purpose.
    pub queenless: u32,
    /// Waiting for their queens.
    pub waiting: u32,
    /// Colonies that need action.
    pub action: u32,
    /// The earliest latest day among the open work.
    pub latest: Option<Day>,
    /// A colony is barred for a disease.
    pub suspected: bool,
    /// The colonies that have due work, on whatever day, by spot, then by name.
    pub working: Vec<Arc<ColonyView>>,
}

impl YardView {
    /// Open looks and steps.
    pub fn open(&self) -> u32 {
        self.open_looks + self.open_steps
    }
}

impl Outlook {
    /// Computes everything.
    pub fn new(world: &World, today: Day) -> Self {
        let mut outlook = Self::default();
        for (colony, standing) in standings(world, today) {
            if world.colonies.get(&colony).is_some_and(|colony| colony.is_living()) {
                outlook.colonies.insert(colony, Arc::new(ColonyView::with(world, colony, standing, today)));
            }
        }
        outlook.gather(world, today);
        outlook
    }

    /// The outlook of `now`, given that this one is that of `before` on the same day. Only what differs is computed.
    #[must_use]
    pub fn brought_up(&self, before: &World, now: &World, today: Day) -> Self {
        let rules_same = before.settings == now.settings && before.firm == now.firm && before.bars == now.bars;
        if !rules_same {
            return Self::new(now, today);
        }
        let mut next = self.clone();
        for colony in differing(before, now) {
            match now.colonies.get(&colony).filter(|it| it.is_living()) {
                Some(_) => next.look_at(now, colony, today),
                None => {
                    next.colonies.remove(&colony);
                }
            }
        }
        next.gather(now, today);
        next
    }

    fn look_at(&mut self, world: &World, colony: ColonyId, today: Day) {
        if let Some(view) = ColonyView::of(world, colony, today) {
            self.colonies.insert(colony, Arc::new(view));
        }
    }

    /// Sums the colonies up by yard. Cheap beside judging them: no colony's records are read.
    fn gather(&mut self, world: &World, today: Day) {
        self.yards = world.yards.keys().map(|yard| (*yard, YardView::default())).collect();
        // Labels are printed in the order of the yards' names, in which they are handed out too.
        let mut names: Vec<(String, YardId)> = world.yards.values().map(|yard| (fold(&yard.name), yard.id)).collect();
        names.sort();
        let order: BTreeMap<YardId, usize> = names.into_iter().enumerate().map(|(at, (_, yard))| (yard, at)).collect();
        let mut placed: Vec<_> = world.living().filter_map(|colony| Some((colony.yard()?, colony))).collect();
        placed.sort_by(|(yard_a, a), (yard_b, b)| {
            let key = |yard| order.get(yard);
            (key(yard_a), a.spot(), a.name(), a.id).cmp(&(key(yard_b), b.spot(), b.name(), b.id))
        });
        self.label_queue.clear();
        let needs = |view: &&Arc<ColonyView>| view.lid == LidState::Action || view.awaits_queen();
        self.needing = self.colonies.values().filter(needs).count();
        for (yard, colony) in placed {
            let Some(view) = self.colonies.get(&colony.id) else { continue };
            if view.label_wanted {
                self.label_queue.push(colony.id);
            }
            self.yards.entry(yard).or_default().add(colony.id, view, today);
        }
    }

    /// All due work of all colonies, by yard and spot.
    pub fn work(&self) -> impl Iterator<Item = (YardId, &DueWork)> {
        self.yards.keys().flat_map(|yard| self.work_of(*yard).map(|work| (*yard, work)))
    }

    /// The due work of one yard.
    pub fn work_of(&self, yard: YardId) -> impl Iterator<Item = &DueWork> {
        let working = self.yards.get(&yard).map_or(&[][..], |view| view.working.as_slice());
        working.iter().flat_map(|colony| &colony.standing.work)
    }
}

impl ColonyView {
    /// One colony on a day; nothing if it is not there.
    pub fn of(world: &World, colony: ColonyId, today: Day) -> Option<Self> {
        standing(world, colony, today).map(|standing| Self::with(world, colony, standing, today))
    }

    fn with(world: &World, colony: ColonyId, standing: Standing, today: Day) -> Self {
        let lid = standing.lid_state(today);
        let age = standing.age_class(world, today);
        let note = lid_note(world, colony, &standing, today);
        let label_wanted = world.colonies.get(&colony).is_some_and(|colony| note.wanted_on(&colony.lid));
        Self { standing, lid, age, note, label_wanted }
    }

    /// A queen is to be given: it lacks one, does not raise its own, and no disease forbids it.
    pub fn awaits_queen(&self) -> bool {
        let apart = matches!(self.standing.phase, Phase::RaisingOwn { .. } | Phase::DiseaseSuspected { .. });
        self.lacks_queen() && !apart && !self.standing.is_suspected()
    }

    /// Waiting for her queen, raising her, or queenless.
    pub fn lacks_queen(&self) -> bool {
        !matches!(self.standing.queen, QueenNow::Present(_))
    }
}

impl YardView {
    /// Counts one more colony of the yard, as it stands today.
    pub fn add(&mut self, colony: ColonyId, view: &Arc<ColonyView>, today: Day) {
        self.colonies.push(colony);
        if !view.standing.work.is_empty() {
            self.working.push(Arc::clone(view));
        }
        self.suspected |= view.standing.is_suspected();
        if let Some(at) = AgeClass::ALL.iter().position(|class| *class == view.age) {
            self.bands[at] += 1;
        }
        self.lid = self.lid.max(Some(view.lid));
        self.action += u32::from(view.lid == LidState::Action);
        match view.standing.queen {
            QueenNow::Present(_) => {}
            QueenNow::Waiting { .. } => self.waiting += 1,
            QueenNow::Queenless { .. } => self.queenless += 1,
        }
        for work in &view.standing.work {
            let state = work.window.state(today);
            if state == WorkState::Ahead {
                continue;
            }
            if work.kind.is_look() {
                self.open_looks += 1;
            } else {
                self.open_steps += 1;
            }
            self.late += u32::from(state == WorkState::Late);
            self.latest = match (self.latest, work.window.latest) {
                (Some(a), Some(b)) => Some(a.min(b)),
                (a, b) => a.or(b),
            };
        }
    }
}

/// Colonies that may stand differently: their own row, records or plans differ, or something that these name.
fn differing(before: &World, now: &World) -> BTreeSet<ColonyId> {
    let mut found = BTreeSet::new();
    found.extend(differ(&before.colonies, &now.colonies, Arc::ptr_eq).map(|(colony, _)| *colony));
    found.extend(differ(&before.records, &now.records, Arc::ptr_eq).map(|(colony, _)| *colony));
    found.extend(differ(&before.plans, &now.plans, Arc::ptr_eq).map(|(_, plan)| plan.colony));
    let named = Named::that_differ(before, now);
    if !named.is_empty() {
        found.extend(now.plans.values().filter(|plan| named.in_plan(plan)).map(|plan| plan.colony));
        let names = |colony: &&Arc<Colony>| named.in_colony(colony, now.records_of(colony.id));
        found.extend(now.colonies.values().filter(names).map(|colony| colony.id));
    }
    add_those_that_received(now, &mut found);
    found
}

/// A colony into which another was united has its queen from the records of that one.
fn add_those_that_received(now: &World, found: &mut BTreeSet<ColonyId>) {
    loop {
        let one_found = |record: &Record| matches!(&record.what, Happening::Received(other) if found.contains(other));
        let received = now.records.iter().filter(|(_, records)| records.iter().any(one_found));
        let more: Vec<ColonyId> =
            received.map(|(colony, _)| *colony).filter(|colony| !found.contains(colony)).collect();
        if more.is_empty() {
            return;
        }
        found.extend(more);
    }
}

/// What colonies name and what shows on their lids and cards: a queen's details, a parcel's days, a source's name, the name
/// of a yard that one has left against a bar.
struct Named {
    yards: BTreeSet<YardId>,
    queens: BTreeSet<QueenId>,
    parcels: BTreeSet<ParcelId>,
    sources: BTreeSet<SourceId>,
}

impl Named {
    fn that_differ(before: &World, now: &World) -> Self {
        let sources: BTreeSet<SourceId> =
            differ(&before.sources, &now.sources, PartialEq::eq).map(|(source, _)| *source).collect();
        let parcels = differ(&before.parcels, &now.parcels, PartialEq::eq).map(|(parcel, _)| *parcel).collect();
        let mut queens: BTreeSet<QueenId> =
            differ(&before.queens, &now.queens, Arc::ptr_eq).map(|(queen, _)| *queen).collect();
        if !sources.is_empty() {
            let from = |queen: &&Arc<Queen>| queen.source.is_some_and(|source| sources.contains(&source));
            queens.extend(now.queens.values().filter(from).map(|queen| queen.id));
        }
        let yards = differ(&before.yards, &now.yards, Arc::ptr_eq).map(|(yard, _)| *yard).collect();
        Self { yards, queens, parcels, sources }
    }

    fn is_empty(&self) -> bool {
        self.yards.is_empty() && self.queens.is_empty() && self.parcels.is_empty() && self.sources.is_empty()
    }

    fn in_plan(&self, plan: &Plan) -> bool {
        plan.parcel.is_some_and(|parcel| self.parcels.contains(&parcel))
            || plan.source.is_some_and(|source| self.sources.contains(&source))
    }

    fn in_colony(&self, colony: &Colony, records: &[Record]) -> bool {
        let began = matches!(colony.began_with, FirstQueen::Recorded(queen) if self.queens.contains(&queen));
        let left = colony.stands.len() > 1 && colony.stands.iter().any(|stand| self.yards.contains(&stand.yard));
        began || left || records.iter().any(|record| self.in_record(record))
    }

    fn in_record(&self, record: &Record) -> bool {
        let Happening::Visit(visit) = &record.what else { return false };
        visit.gave.as_ref().is_some_and(|gave| {
            self.queens.contains(&gave.queen) || gave.parcel.is_some_and(|parcel| self.parcels.contains(&parcel))
        })
    }
}

/// The entries that are not the same in both maps, as they are now; those no longer there as they were.
fn differ<'w, K: Ord, V>(
    before: &'w BTreeMap<K, V>,
    now: &'w BTreeMap<K, V>,
    same: impl Fn(&V, &V) -> bool,
) -> impl Iterator<Item = (&'w K, &'w V)> {
    let altered = now.iter().filter(move |(key, value)| before.get(key).is_none_or(|old| !same(old, value)));
    altered.chain(before.iter().filter(|(key, _)| !now.contains_key(key)))
}
