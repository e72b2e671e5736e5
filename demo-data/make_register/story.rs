//! The firm's story, day by day: what stands in its calendar, and how each day's work is written down.

use std::collections::{BTreeMap, BTreeSet};

use lidnote::domain::change::Change;
use lidnote::domain::day::Day;
use lidnote::domain::grammar::resolve::Choice;
use lidnote::domain::ids::{ColonyId, ParcelId, RecordId, SourceId, YardId};
use lidnote::domain::in_hand::draw::From;
use lidnote::domain::parcel::{Parcel, ParcelKind};
use lidnote::domain::queen::{Birth, Dot};
use lidnote::domain::record::Which;
use lidnote::planner::outlook::Outlook;

use crate::chance::Chance;
use crate::maker::{Done, Maker, Row};
use crate::yards::Plot;

/// How old a hive's queen is to be on the day the demo is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Age {
    /// Given this spring.
    First,
    /// Given a year before.
    Second,
    /// Given two years before.
    Third,
    /// Older.
    Older,
    /// Not known.
    Unknown,
}

/// A number painted on a box, and the colony that has it now.
pub struct Hive {
    /// The yard.
    pub plot: usize,
    /// Its number.
    pub name: String,
    /// The colony; nothing: the number is free.
    pub colony: Option<ColonyId>,
    /// How old its queen is to be.
    pub age: Age,
    /// All goes well with it until this spring's programme tells of it.
    pub sure: bool,
    /// This spring's sheets tell of it.
    pub told: bool,
}

/// A parcel as it is told of.
#[derive(Clone)]
pub struct Bought {
    /// The name it is called by here.
    pub key: String,
    /// From.
    pub source: &'static str,
    /// What.
    pub kind: ParcelKind,
    /// How many were sent.
    pub count: u32,
    /// How many were dead.
    pub dead: u32,
}

/// Makes a change when its day has come.
pub type Making = Box<dyn Fn(&mut Story) -> Done<Change>>;

/// One thing in the calendar.
pub enum Task {
    /// Every hive of a yard is looked at.
    Check(usize),
    /// Hives of a yard with open work are seen to; `true`: for the last time in the season.
    Follow(usize, bool),
    /// A row is typed for a hive: its number in the list, the codes, by whom, the parcel a queen is from.
    Type(usize, String, &'static str, Option<String>),
    /// A parcel arrives.
    Arrive(Bought),
    /// What is left of a parcel is put away.
    PutAway(String),
    /// All labels that wait are printed.
    Print,
    /// Numbers that are free are taken by new nucs.
    Refill,
    /// Something of its own kind.
    Own(Making),
}

/// All that is needed to tell it.
pub struct Story {
    /// Writes it down.
    pub maker: Maker,
    /// Chance.
    pub chance: Chance,
    /// The yards.
    pub plots: Vec<Plot>,
    /// Their ids.
    pub yards: Vec<YardId>,
    /// Sources by name.
    pub sources: BTreeMap<&'static str, SourceId>,
    /// The numbers on the boxes.
    pub hives: Vec<Hive>,
    /// Where each number stands in that list.
    pub at: BTreeMap<String, usize>,
    /// Parcels by the names they are called by here.
    pub parcels: BTreeMap<String, ParcelId>,
    /// The calendar.
    pub tasks: BTreeMap<Day, Vec<Task>>,
}

/// A day written in ISO 8601.
pub fn on(iso: &str) -> Done<Day> {
    Day::from_iso(iso).ok_or_else(|| format!("no day: {iso}").into())
}

/// What is decided after the sheets of a day.
pub enum Then {
    /// Which queen it was.
    Answer(ColonyId, Which, &'static str),
    /// One colony goes into another.
    Unite(ColonyId, ColonyId, &'static str),
}

/// The day's sheets: rows by initials, and what is decided after them.
#[derive(Default)]
pub struct Sheets {
    /// Rows.
    pub rows: BTreeMap<&'static str, Vec<Row>>,
    /// What is decided when they are handed in.
    pub after: Vec<Then>,
    /// Colonies that stand on a sheet of the day already.
    pub entered: BTreeSet<ColonyId>,
}

impl Sheets {
    /// Adds a row, once a day for each colony.
    pub fn add(&mut self, by: &'static str, colony: ColonyId, codes: &str, choice: Choice) {
        if self.entered.insert(colony) {
            self.rows.entry(by).or_default().push(Row { colony, codes: codes.to_owned(), choice });
        }
    }
}

impl Story {
    /// Puts something in the calendar.
    pub fn plan(&mut self, day: Day, task: Task) {
        self.tasks.entry(day).or_default().push(task);
    }

    /// A hive by its number.
    pub fn hive(&self, name: &str) -> Done<usize> {
        self.at.get(name).copied().ok_or_else(|| format!("no hive {name}").into())
    }

    /// The colony that has a number now.
    pub fn colony(&self, name: &str) -> Done<ColonyId> {
        self.hives[self.hive(name)?].colony.ok_or_else(|| format!("{name} is free").into())
    }

    /// Goes through the calendar up to a day.
    pub fn tell(&mut self, until: Day) -> Done {
        while let Some(entry) = self.tasks.first_entry().filter(|entry| *entry.key() <= until) {
            let (day, tasks) = entry.remove_entry();
            let mut sheets = Sheets::default();
            for task in tasks {
                self.one(day, task, &mut sheets)?;
            }
            self.hand_in(day, &mut sheets)?;
        }
        Ok(())
    }

    fn hand_in(&mut self, day: Day, sheets: &mut Sheets) -> Done {
        for (by, rows) in std::mem::take(&mut sheets.rows) {
            self.maker.visits(day, by, &rows, rows.len() > 1)?;
        }
        for then in std::mem::take(&mut sheets.after) {
            self.maker.sit_down(day);
            let record = RecordId(self.maker.mint());
            let change = match then {
                Then::Answer(colony, which, by) => Change::Answer { colony, record, day, which, by: by.to_owned() },
                Then::Unite(from, into, by) => Change::Unite { from, into, day, record, by: by.to_owned() },
            };
            self.maker.apply(&change, day)?;
        }
        Ok(())
    }

    /// Applies one change on a day.
    pub fn decide(&mut self, change: &Change, day: Day) -> Done {
        self.maker.sit_down(day);
        self.maker.apply(change, day)
    }

    fn one(&mut self, day: Day, task: Task, sheets: &mut Sheets) -> Done {
        match task {
            Task::Check(plot) => {
                self.check(day, plot, sheets);
                Ok(())
            }
            Task::Follow(plot, last) => {
                self.follow(day, plot, last, sheets);
                Ok(())
            }
            Task::Type(hive, codes, by, parcel) => {
                let Some(colony) = self.hives[hive].colony else { return Ok(()) };
                let choice = parcel.map_or(Choice::default(), |parcel| self.out_of_parcel(&parcel));
                sheets.add(by, colony, &codes, choice);
                Ok(())
            }
            Task::Arrive(bought) => {
                self.maker.sit_down(day);
                let id = ParcelId(self.maker.mint());
                self.parcels.insert(bought.key.clone(), id);
                let cells = bought.kind == ParcelKind::Cells;
                let parcel = Parcel {
                    id,
                    source: self.sources.get(bought.source).copied(),
                    kind: bought.kind,
                    count: bought.count,
                    dead: bought.dead,
                    gone: 0,
                    sent: Some(day.plus(if cells { 0 } else { -1 })),
                    due: Some(day),
                    promised: None,
                    arrived: Some(day),
                    grafted: cells.then(|| day.plus(-8)),
                    // Queens are caged five to seven weeks after they emerge.
                    born: if cells { Birth::default() } else { Birth::between(day.plus(-59), day.plus(-51)) },
                    dot: if cells { None } else { Some(Dot::of_year(day.year())) },
                    closed: false,
                    note: String::new(),
                };
                self.maker.apply(&Change::PutParcel(parcel), day)
            }
            Task::PutAway(key) => {
                let world = self.maker.world();
                let parcel = self.parcels.get(&key).and_then(|id| world.parcels.get(id)).cloned();
                let parcel = parcel.ok_or_else(|| format!("no parcel {key}"))?;
                self.decide(&Change::PutParcel(Parcel { closed: true, ..parcel }), day)
            }
            Task::Print => {
                let colonies = Outlook::new(&self.maker.world(), day).label_queue;
                if colonies.is_empty() { Ok(()) } else { self.decide(&Change::LabelsPrinted { colonies, day }, day) }
            }
            Task::Refill => self.refill(day),
            Task::Own(make) => {
                self.hand_in(day, sheets)?;
                self.maker.sit_down(day);
                let change = make(self)?;
                self.maker.apply(&change, day)
            }
        }
    }

    /// What is known of a queen out of a parcel.
    pub fn out_of_parcel(&self, key: &str) -> Choice {
        let world = self.maker.world();
        let Some(parcel) = self.parcels.get(key).and_then(|id| world.parcels.get(id)) else { return Choice::default() };
        let mated = parcel.kind == ParcelKind::CagedQueens;
        Choice { from: From::Parcel(parcel.id), birth: Some(parcel.born).filter(|_| mated), dot: parcel.dot }
    }
}
