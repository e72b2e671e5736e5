//! Two registers that say the same: every id replaced by the place of its thing in an order that both have in common.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use lidnote::domain::bar::BarOn;
use lidnote::domain::colony::{Colony, EndWhy, FirstQueen, Founding};
use lidnote::domain::day::Day;
use lidnote::domain::evening::evenings;
use lidnote::domain::evening::records_of as records_of_evening;
use lidnote::domain::fold_text::{HitOn, fold, search};
use lidnote::domain::ids::{BarId, ColonyId, ParcelId, PlanId, QueenId, RecordId, RunId, SourceId, YardId};
use lidnote::domain::in_hand::all_in_hand;
use lidnote::domain::record::{Happening, Record};
use lidnote::domain::standing::{course, lid_note};
use lidnote::domain::world::World;
use lidnote::exchange::of_world::due_lines;
use lidnote::exchange::out::lists::due_csv;
use lidnote::planner::outlook::Outlook;
use uuid::Uuid;

/// The world with ids that follow from what it says, without queens of whom nothing tells and without the demo's day.
/// Beside it the evenings, each as the places of its records in the order they were entered.
pub(super) fn relabelled(world: &World) -> (World, Vec<Vec<RecordId>>) {
    let ids = Ids::of(world);
    let mut out = World { firm: world.firm.clone(), settings: Arc::clone(&world.settings), ..World::default() };
    out.firm.demo_day = None;
    for yard in world.yards.values() {
        let mut yard = lidnote::domain::yard::Yard::clone(yard);
        yard.id = ids.yard(yard.id);
        out.yards.insert(yard.id, Arc::new(yard));
    }
    for source in world.sources.values() {
        let mut source = source.clone();
        source.id = ids.source(Some(source.id)).unwrap();
        out.sources.insert(source.id, source);
    }
    for colony in world.colonies.values() {
        let colony = ids.colony_of(colony);
        out.colonies.insert(colony.id, Arc::new(colony));
    }
    for (old, new) in &ids.queens {
        let Some(queen) = world.queens.get(old) else { continue };
        let mut queen = lidnote::domain::queen::Queen::clone(queen);
        (queen.id, queen.source) = (*new, ids.source(queen.source));
        out.queens.insert(*new, Arc::new(queen));
    }
    for (colony, records) in &world.records {
        let records = records.iter().map(|record| ids.record_of(record)).collect();
        out.records.insert(ids.colony(*colony), Arc::new(records));
    }
    for parcel in world.parcels.values() {
        let mut parcel = parcel.clone();
        (parcel.id, parcel.source) = (ids.parcel(Some(parcel.id)).unwrap(), ids.source(parcel.source));
        out.parcels.insert(parcel.id, parcel);
    }
    for (at, plan) in ids.in_order.iter().flat_map(|colony| world.plans_of(*colony)).enumerate() {
        let mut plan = lidnote::domain::plan::Plan::clone(plan);
        plan.id = PlanId::from_number(at as u128);
        plan.colony = ids.colony(plan.colony);
        (plan.source, plan.parcel) = (ids.source(plan.source), ids.parcel(plan.parcel));
        out.plans.insert(plan.id, Arc::new(plan));
    }
    let mut bars: Vec<_> = world.bars.values().cloned().collect();
    for bar in &mut bars {
        bar.on = match bar.on {
            BarOn::Yard(yard) => BarOn::Yard(ids.yard(yard)),
            BarOn::Colony(colony) => BarOn::Colony(ids.colony(colony)),
        };
    }
    bars.sort_by_key(|bar| bar.on);
    for (at, mut bar) in bars.into_iter().enumerate() {
        bar.id = BarId::from_number(at as u128);
        out.bars.insert(bar.id, bar);
    }
    for (at, run) in world.runs.values().enumerate() {
        let mut run = run.clone();
        run.id = RunId::from_number(at as u128);
        run.stops.iter_mut().for_each(|stop| stop.yard = ids.yard(stop.yard));
        run.left_out.iter_mut().for_each(|yard| *yard = ids.yard(*yard));
        out.runs.insert(run.id, run);
    }
    let mut evenings: Vec<Uuid> = evenings(world).into_iter().map(|evening| evening.id).collect();
    evenings.sort();
    let of_evening =
        |evening| records_of_evening(world, evening).iter().map(|record| ids.records[&record.id]).collect();
    (out, evenings.into_iter().map(of_evening).collect())
}

struct Ids {
    yards: BTreeMap<YardId, YardId>,
    sources: BTreeMap<SourceId, SourceId>,
    in_order: Vec<ColonyId>,
    colonies: BTreeMap<ColonyId, ColonyId>,
    queens: BTreeMap<QueenId, QueenId>,
    records: BTreeMap<RecordId, RecordId>,
    parcels: BTreeMap<ParcelId, ParcelId>,
    evenings: BTreeMap<Uuid, Uuid>,
}

impl Ids {
    fn of(world: &World) -> Self {
        let mut yards: Vec<_> = world.yards.values().map(|yard| (fold(&yard.name), yard.id)).collect();
        yards.sort();
        let mut yards: Vec<YardId> = yards.into_iter().map(|(_, id)| id).collect();
        let stood = world.colonies.values().flat_map(|colony| colony.stands.iter().map(|stand| stand.yard));
        let barred =
            world.bars.values().filter_map(|bar| if let BarOn::Yard(yard) = bar.on { Some(yard) } else { None });
        let mut gone: Vec<YardId> = stood.chain(barred).filter(|yard| !world.yards.contains_key(yard)).collect();
        gone.sort();
        gone.dedup();
        yards.extend(gone);
        let yards: BTreeMap<YardId, YardId> = numbered(yards, YardId::from_number);
        let mut sources: Vec<_> = world.sources.values().map(|source| (fold(&source.name), source.id)).collect();
        sources.sort();
        let mut in_order: Vec<&Arc<Colony>> = world.colonies.values().collect();
        in_order
            .sort_by_key(|it| (it.yard().map(|yard| yards[&yard]), fold(it.name()), it.is_living(), it.founded, it.id));
        let in_order: Vec<ColonyId> = in_order.into_iter().map(|colony| colony.id).collect();
        let mut queens = Vec::new();
        let mut records = Vec::new();
        for colony in &in_order {
            if let FirstQueen::Recorded(queen) = world.colonies[colony].began_with {
                queens.push(queen);
            }
            for record in world.records_of(*colony) {
                records.push(record.id);
                if let Happening::Visit(visit) = &record.what {
                    queens.extend(visit.gave.as_ref().map(|gave| gave.queen));
                }
            }
        }
        let together = world.records.values().flat_map(|records| records.iter()).filter_map(|record| record.together);
        let mut together: Vec<Uuid> = together.collect();
        together.sort();
        Self {
            yards,
            sources: numbered(sources.into_iter().map(|(_, id)| id).collect(), SourceId::from_number),
            colonies: numbered(in_order.clone(), ColonyId::from_number),
            in_order,
            queens: numbered(queens, QueenId::from_number),
            records: numbered(records, RecordId::from_number),
            parcels: numbered(world.parcels.keys().copied().collect(), ParcelId::from_number),
            evenings: numbered(together, Uuid::from_u128),
        }
    }

    fn yard(&self, yard: YardId) -> YardId {
        self.yards[&yard]
    }

    fn colony(&self, colony: ColonyId) -> ColonyId {
        self.colonies[&colony]
    }

    fn source(&self, source: Option<SourceId>) -> Option<SourceId> {
        source.map(|source| self.sources[&source])
    }

    fn parcel(&self, parcel: Option<ParcelId>) -> Option<ParcelId> {
        parcel.map(|parcel| self.parcels[&parcel])
    }

    fn colony_of(&self, colony: &Colony) -> Colony {
        let mut colony = colony.clone();
        colony.id = self.colony(colony.id);
        colony.stands.iter_mut().for_each(|stand| stand.yard = self.yard(stand.yard));
        if let Founding::SplitFrom(parent) = &mut colony.how {
            *parent = self.colony(*parent);
        }
        if let FirstQueen::Recorded(queen) = &mut colony.began_with {
            *queen = self.queens[queen];
        }
        if let Some(EndWhy::UnitedInto(into)) = colony.ended.as_mut().map(|end| &mut end.why) {
            *into = self.colony(*into);
        }
        colony
    }

    fn record_of(&self, record: &Record) -> Record {
        let mut record = record.clone();
        record.id = self.records[&record.id];
        record.colony = self.colony(record.colony);
        record.together = record.together.map(|evening| self.evenings[&evening]);
        for left in record.amended.iter_mut().filter_map(|amended| amended.left.as_mut()) {
            left.colony = self.colony(left.colony);
        }
        match &mut record.what {
            Happening::Visit(visit) => {
                visit.lids_swapped = visit.lids_swapped.map(|other| self.colony(other));
                visit.did.queen_to = visit.did.queen_to.map(|other| self.colony(other));
                if let Some(gave) = &mut visit.gave {
                    gave.queen = self.queens[&gave.queen];
                    gave.parcel = self.parcel(gave.parcel);
                }
            }
            Happening::Received(other) | Happening::SplitOff(other) => *other = self.colony(*other),
            Happening::Which(_) | Happening::BarLifted { .. } => {}
        }
        record
    }
}

fn numbered<T: Ord>(all: Vec<T>, id: impl Fn(u128) -> T) -> BTreeMap<T, T> {
    let mut numbers = BTreeMap::new();
    for one in all {
        let next = numbers.len() as u128;
        numbers.entry(one).or_insert_with(|| id(next));
    }
    numbers
}

/// What follows from a register on a day, in words: each hive's course, its due work and its lid, the labels to print, the
/// list of due work, what is in hand, and what is found by each former name.
pub(super) fn what_follows(world: &World, today: Day) -> Vec<String> {
    let of = |colony: &Arc<Colony>| {
        let course = course(world, colony.id, today).unwrap();
        let yard = colony.yard().and_then(|yard| world.yards.get(&yard)).map_or("", |yard| yard.name.as_str());
        let standing = &course.standing;
        let work: Vec<_> = standing.work.iter().map(|work| (work.kind, work.window, &work.why)).collect();
        let bars: Vec<_> = standing.bars.iter().map(|bar| (bar.kind, bar.from, bar.until, &bar.reason)).collect();
        let outcomes: Vec<_> = course.outcomes.iter().map(|(_, outcome)| &outcome.sentence).collect();
        let note = lid_note(world, colony.id, standing, today);
        format!(
            "{yard} {:?} {work:?} {outcomes:?} {bars:?} {:?} {:?} {:?} {:?} {:?}",
            colony.names,
            colony.ended.as_ref().map(|end| end.day),
            standing.laying,
            standing.clock,
            note.lines,
            colony.lid
        )
    };
    let mut all: Vec<String> = world.colonies.values().map(of).collect();
    all.sort();
    let outlook = Outlook::new(world, today);
    let place = |colony: &ColonyId| {
        let colony = &world.colonies[colony];
        let yard = colony.yard().and_then(|yard| world.yards.get(&yard)).map_or("", |yard| yard.name.as_str());
        format!("{yard}/{}", colony.name())
    };
    all.extend(outlook.label_queue.iter().map(|colony| format!("to print: {}", place(colony))));
    all.push(due_csv(&due_lines(world, &outlook, today)));
    all.extend(all_in_hand(world, today).values().map(|hand| format!("{hand:?}")));
    let former = world.colonies.values().flat_map(|colony| colony.names.iter().rev().skip(1));
    let names = former.map(|named| fold(&named.name));
    for name in names.collect::<BTreeSet<String>>() {
        let found = |hit: lidnote::domain::fold_text::Hit| match hit.what {
            HitOn::Colony(colony) => format!("{} {:?} {}", hit.name, hit.former, place(&colony)),
            HitOn::Yard(_) => hit.name,
        };
        let mut found: Vec<String> = search(world, &name).into_iter().map(found).collect();
        found.sort();
        all.push(format!("{name}: {found:?}"));
    }
    all
}
