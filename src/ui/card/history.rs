//! What happened at a hive, newest first: its records with what came of them, its names, moves, plans, bars and end.

use std::collections::BTreeMap;

use crate::domain::bar::Bar;
use crate::domain::capital::capital;
use crate::domain::colony::{Colony, End, EndWhy, FirstQueen};
use crate::domain::day::Day;
use crate::domain::grammar::describe::{describe_happening, founding_words};
use crate::domain::ids::{ColonyId, RecordId};
use crate::domain::plan::Plan;
use crate::domain::record::{Amended, Happening, MovedAway, Record};
use crate::domain::standing::{Outcome, OutcomeClass, course};
use crate::domain::world::World;
use crate::domain::yard::{Layout, Spot};

/// One line of a hive's history.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Row {
    pub day: Day,
    /// `14 Nov`.
    pub day_words: String,
    pub words: String,
    /// Initials.
    pub by: String,
    /// `amended`, `taken back`, `moved`.
    pub tag: Option<&'static str>,
    /// Each amendment: by whom, when, what it was, and why.
    pub below: Vec<String>,
    /// It no longer counts here.
    pub struck: bool,
    /// The record that can be amended.
    pub record: Option<RecordId>,
}

/// The rows of a colony, newest first.
pub(crate) fn rows(world: &World, id: ColonyId, today: Day) -> Vec<Row> {
    let Some(colony) = world.colonies.get(&id) else { return Vec::new() };
    let mut list = List { today, rows: Vec::new() };
    list.founding(world, colony);
    list.names(colony);
    list.stands(world, colony);
    for plan in world.plans_of(id) {
        list.plan(world, plan);
    }
    let outcomes: BTreeMap<RecordId, Outcome> =
        course(world, id, today).map(|course| course.outcomes.into_iter().collect()).unwrap_or_default();
    for record in world.records_of(id) {
        list.record(world, record, outcomes.get(&record.id));
    }
    for moved in world.moved_away_from(id) {
        list.moved_away(world, moved);
    }
    for corrected in &colony.corrected {
        let words = format!("Corrected: was {}. {}", corrected.was, capital(&corrected.reason));
        list.add(corrected.on, words, &corrected.by);
    }
    for bar in world.bars_of(colony) {
        list.bar(bar);
    }
    if let Some(on) = colony.lid.on {
        list.add(on, "Label printed".to_owned(), "");
    }
    if let Some(end) = &colony.ended {
        let words = if end.words.is_empty() { String::new() } else { format!(": {}", end.words) };
        list.add(end.day, format!("{}{words}", ended_words(world, end)), &end.by);
    }
    // Stable: what was listed later on the same day is the newer.
    list.rows.sort_by_key(|row| row.day);
    list.rows.reverse();
    list.rows
}

/// `Sold`, `United into B15`.
pub(crate) fn ended_words(world: &World, end: &End) -> String {
    match end.why {
        EndWhy::Sold => "Sold".to_owned(),
        EndWhy::Died => "Died".to_owned(),
        EndWhy::UnitedInto(into) => format!("United into {}", hive(world, into)),
        EndWhy::ShakenOut => "Shaken out".to_owned(),
        EndWhy::Destroyed => "Destroyed under the local rules".to_owned(),
        EndWhy::Gone => "Taken out of the register".to_owned(),
    }
}

struct List {
    today: Day,
    rows: Vec<Row>,
}

impl List {
    fn add(&mut self, day: Day, words: String, by: &str) {
        self.rows.push(Row {
            day,
            day_words: day.near(self.today),
            words,
            by: by.to_owned(),
            tag: None,
            below: Vec::new(),
            struck: false,
            record: None,
        });
    }

    fn founding(&mut self, world: &World, colony: &Colony) {
        let how = founding_words(world, colony.how);
        let queen = match colony.began_with {
            FirstQueen::Recorded(_) => "",
            FirstQueen::Unknown => ", queen not known",
            FirstQueen::None => ", without a queen",
        };
        self.add(colony.founded, format!("{how}{queen}"), "");
    }

    fn names(&mut self, colony: &Colony) {
        for pair in colony.names.windows(2) {
            let [earlier, later] = pair else { continue };
            self.add(later.from, format!("Renamed {}, before it {}", later.name, earlier.name), "");
        }
    }

    fn stands(&mut self, world: &World, colony: &Colony) {
        for pair in colony.stands.windows(2) {
            let [earlier, later] = pair else { continue };
            let yard = world.yards.get(&later.yard);
            let layout = yard.map_or(Layout::Rows, |yard| yard.layout);
            let spot = later.spot.map_or(String::new(), |spot| spot_words(layout, spot));
            let words = match yard {
                Some(yard) if earlier.yard != later.yard => {
                    let spot = if spot.is_empty() { spot } else { format!(", {spot}") };
                    format!("Moved to {}{spot}", yard.name)
                }
                _ if spot.is_empty() => "Moved within the yard".to_owned(),
                _ => format!("Moved to {spot}"),
            };
            self.add(later.from, words, "");
        }
    }

    fn plan(&mut self, world: &World, plan: &Plan) {
        let source = plan.source.and_then(|source| world.sources.get(&source));
        let source = source.map_or(String::new(), |source| format!(", {}", source.name));
        let first = plan.moved.first().map_or(plan.give_on, |moved| moved.from);
        let words = format!("Planned: {}{source} for {}", plan.method.words(), first.near(self.today));
        self.add(plan.made, words, "");
        for (at, moved) in plan.moved.iter().enumerate() {
            let to = plan.moved.get(at + 1).map_or(plan.give_on, |next| next.from);
            let why = if moved.why.is_empty() { "Plan moved".to_owned() } else { capital(&moved.why) };
            let words = format!("{why}: {} became {}", moved.from.near(self.today), to.near(self.today));
            self.add(moved.on, words, "");
        }
        if let Some(day) = plan.called_off {
            self.add(day, format!("Plan for {} called off", plan.give_on.near(self.today)), "");
        }
    }

    fn record(&mut self, world: &World, record: &Record, outcome: Option<&Outcome>) {
        let what = describe_happening(world, &record.what);
        let came = outcome.filter(|_| !record.struck).and_then(came_of).map_or(String::new(), |it| format!(": {it}"));
        let parcel = parcel_words(world, record, self.today);
        let words = if record.words.is_empty() { String::new() } else { format!(". {}", record.words) };
        let below = record.amended.iter().map(|it| self.amended(it, &format!("was {}", it.was)));
        let tag = if record.struck {
            Some("taken back")
        } else if record.amended.is_empty() {
            None
        } else {
            Some("amended")
        };
        self.rows.push(Row {
            day: record.day,
            day_words: record.day.near(self.today),
            words: format!("{what}{parcel}{came}{words}"),
            by: record.by.clone(),
            tag,
            below: below.collect(),
            struck: record.struck,
            record: Some(record.id),
        });
    }

    /// `6 Nov, JT: moved to B14. Wrong row of the sheet`.
    fn amended(&self, amended: &Amended, what: &str) -> String {
        let by = if amended.by.is_empty() { String::new() } else { format!(", {}", amended.by) };
        format!("{}{by}: {what}. {}", amended.on.near(self.today), capital(&amended.reason))
    }

    /// A record that is at another hive now, where it stood here.
    fn moved_away(&mut self, world: &World, moved: MovedAway<'_>) {
        let below = self.amended(moved.amended, &format!("moved to {}", hive(world, moved.to)));
        self.rows.push(Row {
            day: moved.left.day,
            day_words: moved.left.day.near(self.today),
            words: moved.left.said.clone(),
            by: String::new(),
            tag: Some("moved"),
            below: vec![below],
            struck: true,
            record: None,
        });
    }

    fn bar(&mut self, bar: &Bar) {
        let reason = if bar.reason.is_empty() { String::new() } else { format!(", {}", bar.reason) };
        let until = bar.until.map_or(String::new(), |until| format!(", until {}", until.near(self.today)));
        if let Some(lifted) = bar.lifted.as_ref().filter(|lifted| lifted.on < bar.from) {
            let from = bar.from.near(self.today);
            self.add(
                lifted.on,
                format!("Bar from {from} called off: {}; {}", bar.kind.words(), lifted.why),
                &lifted.by,
            );
            return;
        }
        let barred = if bar.is_ahead(self.today) { "To be barred" } else { "Barred" };
        self.add(bar.from, format!("{barred}: {}{reason}{until}", bar.kind.words()), &bar.by);
        if let Some(lifted) = &bar.lifted {
            self.add(lifted.on, format!("Bar lifted: {}", lifted.why), &lifted.by);
        }
    }
}

/// `row 2, place 4`.
pub(crate) fn spot_words(layout: Layout, spot: Spot) -> String {
    match layout {
        Layout::Rows => format!("row {}, place {}", spot.row, spot.place),
        Layout::Pallets => format!("pallet {}, corner {}", spot.row, spot.place),
    }
}

/// `, parcel of 12 Nov`.
fn parcel_words(world: &World, record: &Record, today: Day) -> String {
    let Happening::Visit(visit) = &record.what else { return String::new() };
    let parcel = visit.gave.as_ref().and_then(|gave| gave.parcel).and_then(|parcel| world.parcels.get(&parcel));
    let arrived = parcel.and_then(|parcel| parcel.arrived);
    arrived.map_or(String::new(), |day| format!(", parcel of {}", day.near(today)))
}

/// What a find settled or left open; nothing where its own words say it.
fn came_of(outcome: &Outcome) -> Option<&'static str> {
    Some(match (outcome.settled, outcome.class) {
        (Some((_, true)), _) => "accepted",
        (Some((_, false)), _) => "failed",
        (None, OutcomeClass::NotYet) => "not laying yet",
        (None, OutcomeClass::ToDecide) => "to decide",
        (None, OutcomeClass::Barred) => "barred",
        (None, OutcomeClass::StillDue) => "still due",
        (None, OutcomeClass::Laying | OutcomeClass::Another | OutcomeClass::StepDone | OutcomeClass::Noted) => {
            return None;
        }
    })
}

fn hive(world: &World, colony: ColonyId) -> &str {
    world.colonies.get(&colony).map_or("another hive", |colony| colony.name())
}
