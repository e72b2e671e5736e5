//! What only the rows of an export say: firm, parcels, former names and places, amendments, plans and runs.

use crate::domain::colony::Lid;
use crate::domain::day::Day;
use crate::domain::ids::{ParcelId, RunId};
use crate::domain::parcel::Parcel;
use crate::domain::place::{Hemisphere, Place};
use crate::domain::plan::PlanMoved;
use crate::domain::record::Amended;
use crate::domain::run_order::{Base, RunOrder};
use crate::domain::visit::Method;
use crate::exchange::table::cells;
use crate::exchange::table::entry::{Entry, HiveCells, Kind, Reader};
use crate::exchange::table::headings::Field;

/// What a row of these kinds says; things of the register without their ids.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::exchange::table) enum Told {
    /// The row is of another kind, or has a problem.
    Nothing,
    Firm {
        name: String,
        home: Option<Place>,
        home_name: String,
        hemisphere: Hemisphere,
    },
    Parcel(Box<Parcel>),
    Named {
        name: String,
        from: Day,
    },
    Stood {
        yard: String,
        from: Day,
    },
    /// An amendment, or a correction of the hive itself; where the record was before, the day and what it said there.
    Amended(Amended, Option<(Day, String)>),
    Plan(PlanCells),
    PlanMoved(PlanMoved),
    Run(Box<RunOrder>),
    Stop {
        locked: bool,
    },
}

/// What a row says of a plan beside its source and parcel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::exchange::table) struct PlanCells {
    pub method: Method,
    pub give_on: Day,
    pub dequeen_on: Option<Day>,
    pub made: Day,
    pub called_off: Option<Day>,
}

impl Reader<'_> {
    pub(super) fn told(&mut self, entry: &Entry) -> Told {
        let told = match entry.kind {
            Kind::Firm => Some(self.firm()),
            Kind::Parcel => self.parcel(entry),
            Kind::Named => {
                let name = self.name(Field::Called, true);
                let from = self.needed(Field::Since, entry.since);
                if name.is_empty() {
                    self.problem(Field::Called, "No name is given", "Give the name it had");
                }
                from.map(|from| Told::Named { name, from })
            }
            Kind::Stood => {
                let yard = self.name(Field::StoodIn, true);
                let from = self.needed(Field::Since, entry.since);
                from.map(|from| Told::Stood { yard, from })
            }
            Kind::Amended | Kind::Corrected => self.amended(entry),
            Kind::Plan => self.plan(entry),
            Kind::PlanMoved => {
                let (on, from) = (self.needed(Field::LastLook, entry.look), self.any_day(Field::GiveOn));
                let from = self.needed(Field::GiveOn, from);
                on.zip(from).map(|(on, from)| Told::PlanMoved(PlanMoved { on, from, why: entry.words.clone() }))
            }
            Kind::Run => self.run(),
            Kind::Stop => Some(Told::Stop { locked: self.yes(Field::Locked) }),
            _ => None,
        };
        told.unwrap_or(Told::Nothing)
    }

    fn amended(&mut self, entry: &Entry) -> Option<Told> {
        let on = self.needed(Field::LastLook, entry.look)?;
        if entry.kind == Kind::Amended && entry.note.trim().is_empty() {
            self.problem(Field::Note, "The amendment has no reason", "Say why the record was wrong");
        }
        let (by, reason, was) = (entry.by.clone(), entry.note.clone(), entry.words.clone());
        let left = entry.since.map(|day| (day, (self.text)(Field::SaidThere)));
        if left.is_some() && entry.around.other_hive.is_empty() {
            self.problem(Field::OtherHive, "At which hive the record was is not said", "Write yard/hive");
        }
        Some(Told::Amended(Amended { on, by, reason, was, left: None }, left))
    }

    /// A day without which the row says nothing.
    fn needed(&mut self, field: Field, day: Option<Day>) -> Option<Day> {
        if day.is_none() && (self.text)(field).is_empty() {
            self.problem(field, "No day is given", "Give the day");
        }
        day
    }

    fn firm(&mut self) -> Told {
        let hemisphere = self.word(Field::Hemisphere, "south or north", cells::hemisphere).unwrap_or_default();
        let (name, home_name) = ((self.text)(Field::Firm), (self.text)(Field::Home));
        Told::Firm { name, home: self.place(), home_name, hemisphere }
    }

    fn parcel(&mut self, entry: &Entry) -> Option<Told> {
        let kind = self.word(Field::ParcelKind, "caged queens, cells or virgins", cells::parcel_kind);
        if kind.is_none() && (self.text)(Field::ParcelKind).is_empty() {
            self.problem(
                Field::ParcelKind,
                "What the parcel holds is not said",
                "Write caged queens, cells or virgins",
            );
        }
        let count: Option<u32> = self.number(Field::ParcelCount);
        let dead: u32 = self.number(Field::ParcelDead).unwrap_or(0);
        let gone: u32 = self.number(Field::ParcelGone).unwrap_or(0);
        if count == Some(0) || (count.is_none() && (self.text)(Field::ParcelCount).is_empty()) {
            self.problem(Field::ParcelCount, "The parcel holds nothing", "Give the number that was sent or ordered");
        } else if let Some(count) = count.filter(|count| dead.checked_add(gone).is_none_or(|lost| lost > *count)) {
            let fact = format!("{dead} dead and {gone} gone are more than the {count} sent");
            self.problem(Field::ParcelDead, fact, "Put the numbers right");
        }
        let (sent, arrived) = (self.past_day(Field::ParcelSent), self.past_day(Field::ParcelArrived));
        if sent.zip(arrived).is_some_and(|(sent, arrived)| arrived < sent) {
            self.problem(Field::ParcelArrived, "The parcel would arrive before it was sent", "Give a later day");
        }
        Some(Told::Parcel(Box::new(Parcel {
            id: ParcelId::from_number(0),
            source: None,
            kind: kind?,
            count: count?,
            dead,
            gone,
            sent,
            due: self.any_day(Field::ParcelDue),
            promised: self.any_day(Field::ParcelPromised),
            arrived,
            grafted: self.any_day(Field::Grafted),
            born: entry.queen.birth.unwrap_or_default(),
            dot: entry.queen.dot,
            closed: self.yes(Field::PutAway),
            note: entry.note.clone(),
        })))
    }

    fn plan(&mut self, entry: &Entry) -> Option<Told> {
        let give_on = self.any_day(Field::GiveOn);
        let give_on = self.needed(Field::GiveOn, give_on);
        let made = self.needed(Field::Since, entry.since);
        let dequeen_on = self.any_day(Field::DequeenOn);
        if entry.method.is_none() && (self.text)(Field::Method).is_empty() {
            self.problem(Field::Method, "How she is to be given is not said", "Write the method");
        }
        if give_on.zip(dequeen_on).is_some_and(|(give, dequeen)| dequeen > give) {
            let fact = "The old queen would be removed after the new one is given";
            self.problem(Field::DequeenOn, fact, "Give an earlier day");
        }
        let called_off = self.any_day(Field::CalledOff);
        let (method, give_on, made) = (entry.method?, give_on?, made?);
        Some(Told::Plan(PlanCells { method, give_on, dequeen_on, made, called_off }))
    }

    fn run(&mut self) -> Option<Told> {
        let day = self.any_day(Field::RunDay);
        let day = self.needed(Field::RunDay, day);
        let place = self.place();
        if place.is_none() && (self.text)(Field::Latitude).is_empty() && (self.text)(Field::Longitude).is_empty() {
            self.problem(Field::Latitude, "Where the run begins is not said", "Give latitude and longitude");
        }
        let hour = |text: &str| cells::hour(text).filter(|minute| *minute < 1440);
        let leave = self.word(Field::Leave, "an hour, as 7:30", hour);
        if leave.is_none() && (self.text)(Field::Leave).is_empty() {
            self.problem(Field::Leave, "When the run leaves is not said", "Give the hour");
        }
        let base = Base { name: (self.text)(Field::Home), place: place? };
        Some(Told::Run(Box::new(RunOrder {
            id: RunId::from_number(0),
            day: day?,
            vehicle: (self.text)(Field::Vehicle),
            base,
            leave: leave?,
            stops: Vec::new(),
            left_out: Vec::new(),
        })))
    }

    pub(super) fn hive_cells(&mut self) -> HiveCells {
        let label = (self.text)(Field::Label);
        HiveCells {
            parent: (self.text)(Field::Parent),
            united_into: (self.text)(Field::UnitedInto),
            lid: Lid {
                printed: if label.is_empty() { Vec::new() } else { label.split('\n').map(str::to_owned).collect() },
                on: self.any_day(Field::LabelDay),
                stale: self.yes(Field::LabelWanted),
            },
        }
    }
}
