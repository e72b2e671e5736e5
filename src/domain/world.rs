//! All that is known now, by id. It answers questions and is advanced by facts; it never decides.
//!
//! Colonies and their records are held behind `Arc`, so that a copy of the world (one is made for every change, so
//! that screens and jobs can keep an older one) costs pointers, not the bees' whole history.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::domain::bar::{Bar, BarOn};
use crate::domain::colony::Colony;
use crate::domain::day::Day;
use crate::domain::fact::{Edit, Fact};
use crate::domain::ids::{BarId, ColonyId, ParcelId, PlanId, QueenId, RecordId, RunId, SourceId, YardId};
use crate::domain::parcel::Parcel;
use crate::domain::plan::Plan;
use crate::domain::queen::{Queen, Source};
use crate::domain::record::{MovedAway, Record};
use crate::domain::run_order::RunOrder;
use crate::domain::settings::{Firm, Settings};
use crate::domain::yard::Yard;

/// Everything that is known now.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct World {
    /// The beekeeper's own facts.
    pub firm: Firm,
    /// The settings in force.
    pub settings: Arc<Settings>,
    /// Yards.
    pub yards: BTreeMap<YardId, Arc<Yard>>,
    /// Sources of queens.
    pub sources: BTreeMap<SourceId, Source>,
    /// Colonies, ended ones included.
    pub colonies: BTreeMap<ColonyId, Arc<Colony>>,
    /// Queens, ended ones included.
    pub queens: BTreeMap<QueenId, Arc<Queen>>,
    /// The records of each colony in the order they happened: by day, then as entered. Colonies without any are absent.
    pub records: BTreeMap<ColonyId, Arc<Vec<Record>>>,
    /// Parcels.
    pub parcels: BTreeMap<ParcelId, Parcel>,
    /// Plans, called-off ones included.
    pub plans: BTreeMap<PlanId, Arc<Plan>>,
    /// Bars set by hand, lifted ones included.
    pub bars: BTreeMap<BarId, Bar>,
    /// Runs.
    pub runs: BTreeMap<RunId, RunOrder>,
}

impl World {
    /// A colony's records in order; struck ones are among them.
    pub fn records_of(&self, colony: ColonyId) -> &[Record] {
        self.records.get(&colony).map_or(&[], |records| records.as_slice())
    }

    /// The record of that id at that colony.
    pub fn record(&self, colony: ColonyId, id: RecordId) -> Option<&Record> {
        self.records_of(colony).iter().find(|record| record.id == id)
    }

    /// The newest day on which anything happened at a hive; struck records do not count.
    pub fn newest_record(&self) -> Option<Day> {
        let all = self.records.values().flat_map(|records| records.iter());
        all.filter(|record| !record.struck).map(|record| record.day).max()
    }

    /// Records that amendments took away from a colony, in no order. Reads the amendments of all records.
    pub fn moved_away_from(&self, colony: ColonyId) -> impl Iterator<Item = MovedAway<'_>> {
        self.records.values().flat_map(|records| records.iter()).flat_map(move |it| it.moved_away_from(colony))
    }

    /// Living colonies.
    pub fn living(&self) -> impl Iterator<Item = &Arc<Colony>> {
        self.colonies.values().filter(|colony| colony.is_living())
    }

    /// Living colonies that stand in that yard, by spot, then by name.
    pub fn in_yard(&self, yard: YardId) -> Vec<&Arc<Colony>> {
        let mut found: Vec<_> = self.living().filter(|colony| colony.yard() == Some(yard)).collect();
        found.sort_by(|a, b| (a.spot(), a.name(), a.id).cmp(&(b.spot(), b.name(), b.id)));
        found
    }

    /// Plans of one colony, called-off ones included, by the day they were made.
    pub fn plans_of(&self, colony: ColonyId) -> Vec<&Arc<Plan>> {
        let mut found: Vec<_> = self.plans.values().filter(|plan| plan.colony == colony).collect();
        found.sort_by_key(|plan| (plan.made, plan.id));
        found
    }

    /// Bars set by hand that name the colony or its yard, lifted ones included.
    pub fn bars_of(&self, colony: &Colony) -> Vec<&Bar> {
        let yard = colony.yard().map(BarOn::Yard);
        self.bars.values().filter(|bar| bar.on == BarOn::Colony(colony.id) || Some(bar.on) == yard).collect()
    }

    /// Advances the world by one fact, as decided or as undone.
    pub fn advance(&mut self, fact: &Fact) {
        match fact {
            Fact::Firm(edit) => self.firm = edit.after.clone().unwrap_or_default(),
            Fact::Settings(edit) => self.settings = Arc::new(edit.after.clone().unwrap_or_default()),
            Fact::Yard(edit) => put(&mut self.yards, edit, |yard| yard.id, |yard| Arc::new(yard.clone())),
            Fact::Source(edit) => put(&mut self.sources, edit, |source| source.id, Source::clone),
            Fact::Colony(edit) => put(&mut self.colonies, edit, |colony| colony.id, |it| Arc::new(it.clone())),
            Fact::Queen(edit) => put(&mut self.queens, edit, |queen| queen.id, |queen| Arc::new(queen.clone())),
            Fact::Record(edit) => self.put_record(edit),
            Fact::Parcel(edit) => put(&mut self.parcels, edit, |parcel| parcel.id, Parcel::clone),
            Fact::Plan(edit) => put(&mut self.plans, edit, |plan| plan.id, |plan| Arc::new(plan.clone())),
            Fact::Bar(edit) => put(&mut self.bars, edit, |bar| bar.id, Bar::clone),
            Fact::Run(edit) => put(&mut self.runs, edit, |run| run.id, RunOrder::clone),
        }
    }

    /// Advances the world by several facts in order.
    pub fn advance_all<'a>(&mut self, facts: impl IntoIterator<Item = &'a Fact>) {
        for fact in facts {
            self.advance(fact);
        }
    }

    fn put_record(&mut self, edit: &Edit<Record>) {
        if let Some(before) = &edit.before
            && let Some(records) = self.records.get_mut(&before.colony)
        {
            Arc::make_mut(records).retain(|record| record.id != before.id);
            if records.is_empty() {
                self.records.remove(&before.colony);
            }
        }
        if let Some(after) = &edit.after {
            let records = Arc::make_mut(self.records.entry(after.colony).or_default());
            let at = records.partition_point(|record| (record.day, record.id) < (after.day, after.id));
            records.insert(at, after.clone());
        }
    }
}

fn put<K: Ord, T, V>(map: &mut BTreeMap<K, V>, edit: &Edit<T>, key: impl Fn(&T) -> K, hold: impl Fn(&T) -> V) {
    match (&edit.before, &edit.after) {
        (_, Some(after)) => {
            map.insert(key(after), hold(after));
        }
        (Some(before), None) => {
            map.remove(&key(before));
        }
        (None, None) => {}
    }
}
