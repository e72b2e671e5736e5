//! The scratch world a change is decided on: every edit is applied at once, so that later steps see earlier ones, and
//! kept as a fact with the image before it.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use uuid::Uuid;

use crate::domain::bar::Bar;
use crate::domain::colony::Colony;
use crate::domain::day::Day;
use crate::domain::fact::{Edit, Fact};
use crate::domain::fold_text::fold;
use crate::domain::ids::{ColonyId, RecordId, RunId, YardId};
use crate::domain::parcel::Parcel;
use crate::domain::plan::Plan;
use crate::domain::queen::{Queen, Source};
use crate::domain::record::Record;
use crate::domain::refusal::{Refusal, RefusalKind};
use crate::domain::run_order::RunOrder;
use crate::domain::settings::{Firm, Settings};
use crate::domain::world::World;
use crate::domain::yard::Yard;

/// A change being decided.
pub(super) struct Draft {
    /// The world with the edits made so far.
    pub world: World,
    /// The day of the decision.
    pub today: Day,
    facts: Vec<Fact>,
    names: Option<BTreeMap<(YardId, String), BTreeSet<ColonyId>>>,
    newest: Option<RecordId>,
}

impl Draft {
    /// A draft that alters nothing yet.
    pub fn new(world: &World, today: Day) -> Self {
        Self { world: world.clone(), today, facts: Vec::new(), names: None, newest: None }
    }

    /// The facts: one for each thing, those that alter nothing left out.
    pub fn facts(self) -> Vec<Fact> {
        let mut at: BTreeMap<(u8, Uuid), usize> = BTreeMap::new();
        let mut merged: Vec<Fact> = Vec::with_capacity(self.facts.len());
        for fact in self.facts {
            let place = *at.entry(thing(&fact)).or_insert(merged.len());
            match merged.get_mut(place) {
                Some(first) => append(first, fact),
                None => merged.push(fact),
            }
        }
        merged.retain(Fact::alters);
        merged
    }

    /// The colony of that id, living or ended.
    pub fn colony(&self, id: ColonyId) -> Result<Arc<Colony>, Refusal> {
        let missing = || Refusal::new(RefusalKind::Missing, "That hive is not in the register", "Choose another");
        self.world.colonies.get(&id).cloned().ok_or_else(missing)
    }

    /// The living colony of that id.
    pub fn living(&self, id: ColonyId) -> Result<Arc<Colony>, Refusal> {
        let colony = self.colony(id)?;
        match &colony.ended {
            None => Ok(colony),
            Some(end) => Err(Refusal::new(
                RefusalKind::Impossible,
                format!("{} ended on {}", colony.name(), end.day.near(self.today)),
                "Choose a living colony, or undo its end first",
            )),
        }
    }

    /// Refuses unless the yard is there.
    pub fn yard(&self, id: YardId) -> Result<Arc<Yard>, Refusal> {
        let missing = || Refusal::new(RefusalKind::Missing, "That yard is not in the register", "Add the yard first");
        self.world.yards.get(&id).cloned().ok_or_else(missing)
    }

    /// Refuses unless the colony's name is its own among the living colonies of its yard.
    pub fn check_name(&mut self, colony: &Colony) -> Result<(), Refusal> {
        let Some(key) = name_key(colony) else {
            return Ok(());
        };
        let names = self.names.get_or_insert_with(|| index_names(&self.world));
        if names.get(&key).is_none_or(|holders| holders.iter().all(|holder| *holder == colony.id)) {
            return Ok(());
        }
        let yard = self.world.yards.get(&key.0).map_or("The yard", |yard| yard.name.as_str());
        Err(Refusal::new(
            RefusalKind::NameTaken,
            format!("{yard} has another living hive called {}", colony.name()),
            "Give one of them another name",
        ))
    }

    /// Refuses a record's id that is in use already.
    pub fn check_new_record(&mut self, id: RecordId) -> Result<(), Refusal> {
        let newest = *self.newest.get_or_insert_with(|| {
            let ids = self.world.records.values().flat_map(|records| records.iter().map(|record| record.id));
            ids.max().unwrap_or(RecordId(Uuid::nil()))
        });
        // Ids grow with time, so the search through all records is needed only for changes that come from elsewhere.
        let used =
            id <= newest && self.world.records.values().any(|records| records.iter().any(|record| record.id == id));
        if used {
            let fact = "That record is in the register already";
            return Err(Refusal::new(RefusalKind::InUse, fact, "Amend it, or record it anew"));
        }
        self.newest = Some(newest.max(id));
        Ok(())
    }

    /// Sets the firm's own facts.
    pub fn put_firm(&mut self, firm: Firm) {
        let before = self.world.firm.clone();
        self.push(Fact::Firm(Box::new(Edit::alter(before, firm))));
    }

    /// Sets the settings.
    pub fn put_settings(&mut self, settings: Settings) {
        let before = Settings::clone(&self.world.settings);
        self.push(Fact::Settings(Box::new(Edit::alter(before, settings))));
    }

    /// Adds or replaces a yard.
    pub fn put_yard(&mut self, yard: Yard) {
        let before = self.world.yards.get(&yard.id).map(|before| Yard::clone(before));
        self.push(Fact::Yard(Box::new(Edit { before, after: Some(yard) })));
    }

    /// Removes a yard.
    pub fn remove_yard(&mut self, yard: Yard) {
        self.push(Fact::Yard(Box::new(Edit::remove(yard))));
    }

    /// Adds or replaces a source.
    pub fn put_source(&mut self, source: Source) {
        let before = self.world.sources.get(&source.id).cloned();
        self.push(Fact::Source(Box::new(Edit { before, after: Some(source) })));
    }

    /// Adds or replaces a colony.
    pub fn put_colony(&mut self, colony: Colony) {
        let before = self.world.colonies.get(&colony.id).map(|before| Colony::clone(before));
        if let Some(names) = &mut self.names {
            if let Some(holders) = before.as_ref().and_then(name_key).and_then(|key| names.get_mut(&key)) {
                holders.remove(&colony.id);
            }
            if let Some(key) = name_key(&colony) {
                names.entry(key).or_default().insert(colony.id);
            }
        }
        self.push(Fact::Colony(Box::new(Edit { before, after: Some(colony) })));
    }

    /// Adds or replaces a queen.
    pub fn put_queen(&mut self, queen: Queen) {
        let before = self.world.queens.get(&queen.id).map(|before| Queen::clone(before));
        self.push(Fact::Queen(Box::new(Edit { before, after: Some(queen) })));
    }

    /// Adds a record.
    pub fn add_record(&mut self, record: Record) {
        self.push(Fact::Record(Box::new(Edit::add(record))));
    }

    /// Replaces a record, which may go to another colony.
    pub fn alter_record(&mut self, before: Record, after: Record) {
        self.push(Fact::Record(Box::new(Edit::alter(before, after))));
    }

    /// Adds or replaces a parcel.
    pub fn put_parcel(&mut self, parcel: Parcel) {
        let before = self.world.parcels.get(&parcel.id).cloned();
        self.push(Fact::Parcel(Box::new(Edit { before, after: Some(parcel) })));
    }

    /// Adds or replaces a plan.
    pub fn put_plan(&mut self, plan: Plan) {
        let before = self.world.plans.get(&plan.id).map(|before| Plan::clone(before));
        self.push(Fact::Plan(Box::new(Edit { before, after: Some(plan) })));
    }

    /// Adds or replaces a bar.
    pub fn put_bar(&mut self, bar: Bar) {
        let before = self.world.bars.get(&bar.id).cloned();
        self.push(Fact::Bar(Box::new(Edit { before, after: Some(bar) })));
    }

    /// Adds or replaces a run.
    pub fn put_run(&mut self, run: RunOrder) {
        let before = self.world.runs.get(&run.id).cloned();
        self.push(Fact::Run(Box::new(Edit { before, after: Some(run) })));
    }

    /// Removes a run.
    pub fn remove_run(&mut self, id: RunId) {
        let before = self.world.runs.get(&id).cloned();
        self.push(Fact::Run(Box::new(Edit { before, after: None })));
    }

    fn push(&mut self, fact: Fact) {
        if fact.alters() {
            self.world.advance(&fact);
            self.facts.push(fact);
        }
    }
}

fn index_names(world: &World) -> BTreeMap<(YardId, String), BTreeSet<ColonyId>> {
    let mut names: BTreeMap<_, BTreeSet<ColonyId>> = BTreeMap::new();
    for colony in world.colonies.values() {
        if let Some(key) = name_key(colony) {
            names.entry(key).or_default().insert(colony.id);
        }
    }
    names
}

fn name_key(colony: &Colony) -> Option<(YardId, String)> {
    if colony.is_living() { colony.yard().map(|yard| (yard, fold(colony.name()))) } else { None }
}

/// What a fact is about: a number for the kind, and the id.
fn thing(fact: &Fact) -> (u8, Uuid) {
    fn id<T>(edit: &Edit<T>, id: impl Fn(&T) -> Uuid) -> Uuid {
        edit.either().map_or(Uuid::nil(), id)
    }
    match fact {
        Fact::Firm(_) => (0, Uuid::nil()),
        Fact::Settings(_) => (1, Uuid::nil()),
        Fact::Yard(edit) => (2, id(edit, |it| it.id.0)),
        Fact::Source(edit) => (3, id(edit, |it| it.id.0)),
        Fact::Colony(edit) => (4, id(edit, |it| it.id.0)),
        Fact::Queen(edit) => (5, id(edit, |it| it.id.0)),
        Fact::Record(edit) => (6, id(edit, |it| it.id.0)),
        Fact::Parcel(edit) => (7, id(edit, |it| it.id.0)),
        Fact::Plan(edit) => (8, id(edit, |it| it.id.0)),
        Fact::Bar(edit) => (9, id(edit, |it| it.id.0)),
        Fact::Run(edit) => (10, id(edit, |it| it.id.0)),
    }
}

/// Makes one fact of two that follow each other on the same thing.
fn append(first: &mut Fact, later: Fact) {
    match (first, later) {
        (Fact::Firm(first), Fact::Firm(later)) => first.after = later.after,
        (Fact::Settings(first), Fact::Settings(later)) => first.after = later.after,
        (Fact::Yard(first), Fact::Yard(later)) => first.after = later.after,
        (Fact::Source(first), Fact::Source(later)) => first.after = later.after,
        (Fact::Colony(first), Fact::Colony(later)) => first.after = later.after,
        (Fact::Queen(first), Fact::Queen(later)) => first.after = later.after,
        (Fact::Record(first), Fact::Record(later)) => first.after = later.after,
        (Fact::Parcel(first), Fact::Parcel(later)) => first.after = later.after,
        (Fact::Plan(first), Fact::Plan(later)) => first.after = later.after,
        (Fact::Bar(first), Fact::Bar(later)) => first.after = later.after,
        (Fact::Run(first), Fact::Run(later)) => first.after = later.after,
        // `thing` tells the kinds apart, so two kinds never meet here.
        _ => {}
    }
}
