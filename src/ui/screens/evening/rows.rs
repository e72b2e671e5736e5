//! The rows of an evening: the hives of the run in the order of the sheet, or every hive with open work that day.

use std::collections::{BTreeMap, BTreeSet};

use uuid::Uuid;

use crate::domain::capital::capital;
use crate::domain::colony::Colony;
use crate::domain::day::Day;
use crate::domain::evening::{evenings, records_of};
use crate::domain::grammar::codes::parse;
use crate::domain::grammar::print::codes_of;
use crate::domain::ids::{ColonyId, RecordId, YardId};
use crate::domain::in_hand::draw::{From, Giving, Hand};
use crate::domain::queen::Dot;
use crate::domain::record::{Happening, Record};
use crate::domain::standing::QueenNow;
use crate::domain::visit::Method;
use crate::domain::work::{DueWork, Step, WorkKind};
use crate::domain::world::World;
use crate::planner::run::plan::work_on;
use crate::ui::scene::Scene;

/// The rows of an evening, grouped by yard.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Rows {
    /// Groups and rows as they stand under each other.
    pub lines: Vec<Line>,
    /// The rows.
    pub hives: Vec<Row>,
    /// What the records of the evening share, where it was recorded before.
    pub evening: Option<Uuid>,
    /// Where queens given that evening are from, as far as it was chosen for all rows.
    pub from: From,
}

/// A line of the grid.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Line {
    /// The head of a group: `5  Broom Flat`, and its rows.
    Group { title: String, first: usize, count: usize },
    /// A row, by its position.
    Row(usize),
}

/// One hive.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Row {
    pub colony: ColonyId,
    pub name: String,
    pub yard: String,
    /// `row 2, place 5`.
    pub place: String,
    /// `Acceptance, day 10`.
    pub due: String,
    /// The queen's dot, and her source.
    pub dot: Option<Dot>,
    pub there: String,
    /// What is due and why, a paragraph.
    pub why: String,
    /// What was typed.
    pub text: String,
    /// Where a queen given here is from, as far as it was chosen.
    pub from: From,
    /// The record of an evening that was recorded before.
    pub kept: Option<Kept>,
}

/// A row that is in the register.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Kept {
    pub record: RecordId,
    pub day: Day,
    /// Its codes as they were read off the record.
    pub text: String,
}

impl Row {
    /// What was typed differs from what is recorded.
    pub fn is_changed(&self) -> bool {
        self.kept.as_ref().map_or("", |kept| kept.text.as_str()) != self.text.trim()
    }

    /// What its codes give, read on that day; nothing where they give nothing or cannot be read.
    pub fn giving(&self, day: Day) -> Option<Giving> {
        let gives = parse(&self.text).ok()?.gives?;
        Some(Giving { colony: self.colony, day, method: gives.method, count: gives.cells })
    }

    /// Nothing stands in the field.
    pub fn is_blank(&self) -> bool {
        self.text.trim().is_empty()
    }
}

/// What the rows are made for.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Wanted {
    /// The stops in order; empty: all yards with open work that day.
    pub stops: Vec<YardId>,
    /// Hives that were added by name.
    pub added: Vec<ColonyId>,
}

impl Rows {
    /// The rows of a day.
    pub fn new(scene: &Scene, day: Day, wanted: &Wanted) -> Self {
        let world = &scene.world;
        let yard_of = |colony: ColonyId| world.colonies.get(&colony).and_then(|colony| colony.yard());
        let (evening, kept) = kept_records(world, day, &wanted.stops);
        let mut order: Vec<YardId> = wanted.stops.clone();
        if order.is_empty() {
            let open = |yard: &YardId| !work_on(&scene.outlook, *yard, day).is_empty();
            order = scene.outlook.yards.keys().copied().filter(|yard| open(yard)).collect();
            order.sort_by_key(|yard| world.yards.get(yard).map(|yard| yard.name.clone()));
        }
        let mut hives: BTreeMap<YardId, BTreeSet<ColonyId>> = BTreeMap::new();
        for yard in &order {
            let due = work_on(&scene.outlook, *yard, day).into_iter().map(|work| work.colony);
            hives.entry(*yard).or_default().extend(due);
        }
        for colony in kept.keys().chain(&wanted.added) {
            if let Some(yard) = yard_of(*colony) {
                hives.entry(yard).or_default().insert(*colony);
            }
        }
        let stops = wanted.stops.len();
        let mut more: Vec<YardId> = hives.keys().copied().filter(|yard| !order.contains(yard)).collect();
        more.sort_by_key(|yard| world.yards.get(yard).map(|yard| yard.name.clone()));
        order.extend(more);
        let mut made = Self { evening, ..Self::default() };
        for (at, yard) in order.iter().enumerate() {
            let name = world.yards.get(yard).map_or("", |yard| yard.name.as_str());
            let title = if at < stops { format!("{}  {name}", at + 1) } else { name.to_owned() };
            let mut colonies: Vec<&Colony> = hives
                .get(yard)
                .into_iter()
                .flatten()
                .filter_map(|colony| world.colonies.get(colony).map(AsRef::as_ref))
                .collect();
            colonies.sort_by(|a, b| (a.spot(), a.name(), a.id).cmp(&(b.spot(), b.name(), b.id)));
            if colonies.is_empty() {
                continue;
            }
            let first = made.hives.len();
            made.lines.push(Line::Group { title, first, count: colonies.len() });
            for colony in colonies {
                made.lines.push(Line::Row(made.hives.len()));
                made.hives.push(row(scene, day, colony, name, kept.get(&colony.id).copied()));
            }
        }
        made
    }

    /// Where a queen given in a row is from: as chosen for the row, else as chosen for the evening, as long as that parcel
    /// holds what is given and has enough left; else nothing is said.
    pub fn from(&self, hand: &mut Hand<'_>, row: &Row, day: Day) -> From {
        let From::Parcel(parcel) = self.from else { return row.from };
        if row.from != From::NotSaid || row.kept.is_some() {
            return row.from;
        }
        let fits = |giving: Giving| hand.fitting(giving.method, giving.count, day).iter().any(|it| it.id == parcel);
        if row.giving(day).is_some_and(fits) { self.from } else { From::NotSaid }
    }

    /// The row of a hive.
    pub fn position(&self, colony: ColonyId) -> Option<usize> {
        self.hives.iter().position(|row| row.colony == colony)
    }

    /// The line on which a row stands.
    pub fn line_of(&self, row: usize) -> Option<usize> {
        self.lines.iter().position(|line| *line == Line::Row(row))
    }

    /// How many rows hold something.
    pub fn entered(&self) -> usize {
        self.hives.iter().filter(|row| !row.is_blank()).count()
    }
}

/// The records of the day's evenings by colony; of a run only those evenings that were at one of its yards.
fn kept_records<'a>(world: &'a World, day: Day, stops: &[YardId]) -> (Option<Uuid>, BTreeMap<ColonyId, &'a Record>) {
    let mut kept = BTreeMap::new();
    let mut id = None;
    for evening in evenings(world).into_iter().filter(|evening| evening.day == day) {
        let records = records_of(world, evening.id);
        let at_a_stop = |record: &&Record| {
            let yard = world.colonies.get(&record.colony).and_then(|colony| colony.yard());
            yard.is_some_and(|yard| stops.contains(&yard))
        };
        if !stops.is_empty() && !records.iter().any(at_a_stop) {
            continue;
        }
        id = id.or(Some(evening.id));
        let visits = records.into_iter().filter(|it| !it.struck && matches!(it.what, Happening::Visit(_)));
        kept.extend(visits.map(|record| (record.colony, record)));
    }
    (id, kept)
}

fn row(scene: &Scene, day: Day, colony: &Colony, yard: &str, kept: Option<&Record>) -> Row {
    let world = &scene.world;
    let view = scene.outlook.colonies.get(&colony.id);
    let work: Vec<&DueWork> = view
        .map(|view| view.standing.work.iter().filter(|work| work.window.open_on(day)).collect())
        .unwrap_or_default();
    let (dot, there) = there(scene, colony.id);
    let kept = kept.map(|record| {
        let text = match &record.what {
            Happening::Visit(visit) => codes_of(world, visit, &record.words),
            _ => String::new(),
        };
        Kept { record: record.id, day: record.day, text }
    });
    let due = match &kept {
        Some(kept) if kept.day != day => format!("Recorded {}", kept.day.short()),
        Some(_) => "Recorded".to_owned(),
        None => due_words(&work, day),
    };
    Row {
        colony: colony.id,
        name: colony.name().to_owned(),
        yard: yard.to_owned(),
        place: colony.spot().map_or(String::new(), |spot| format!("row {}, place {}", spot.row, spot.place)),
        due,
        dot,
        there,
        why: why_words(&work),
        text: kept.as_ref().map_or(String::new(), |kept| kept.text.clone()),
        from: From::NotSaid,
        kept,
    }
}

/// The queen who is there: her dot, and where she is from.
fn there(scene: &Scene, colony: ColonyId) -> (Option<Dot>, String) {
    let Some(view) = scene.outlook.colonies.get(&colony) else { return (None, String::new()) };
    match &view.standing.queen {
        QueenNow::Present(queen) => {
            let source = queen.source.and_then(|source| scene.world.sources.get(&source));
            (queen.dot, source.map_or(String::new(), |source| source.name.clone()))
        }
        QueenNow::Waiting { .. } | QueenNow::Queenless { .. } => (None, "none".to_owned()),
    }
}

/// `Acceptance, day 10`, `Cut cells, give`, `Cage off, acceptance`.
fn due_words(work: &[&DueWork], day: Day) -> String {
    let look = work.iter().find_map(|work| match work.kind {
        WorkKind::Look(look) => Some((look.words().trim_end_matches(" look"), day.since(work.counted_from))),
        WorkKind::Step(_) => None,
    });
    let steps: Vec<&str> = work
        .iter()
        .filter_map(|work| match work.kind {
            WorkKind::Step(Step::CageOff) => Some("cage off"),
            WorkKind::Step(step) => Some(step.words()),
            WorkKind::Look(_) => None,
        })
        .collect();
    capital(&match look {
        Some((words, days)) if steps.is_empty() => format!("{words}, day {days}"),
        Some((words, _)) => format!("{}, {words}", steps.join(", ")),
        None => steps.join(", "),
    })
}

fn why_words(work: &[&DueWork]) -> String {
    let said = |work: &&DueWork| format!("{} {}. {}", capital(work.kind.words()), work.window.words(), work.why);
    match work {
        [] => "Nothing is due here.".to_owned(),
        _ => work.iter().map(said).collect::<Vec<_>>().join(" "),
    }
}

/// How queens given by a method are called when they are counted.
pub(super) fn given_in_plural(method: Method) -> &'static str {
    match method {
        Method::Caged => "Caged queens",
        Method::PushIn => "Queens under push-in cages",
        Method::Cell => "Cells",
        Method::Virgin => "Virgins",
        Method::Nuc => "Nucs",
        Method::OwnRaising => "Own queens",
    }
}
