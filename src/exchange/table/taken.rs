//! Rows that say themselves what they are: the hive is taken over as it stands, with its former
//! names and places, its records and amendments, its plans, and whatever else an export holds. Nothing is concluded. Where
//! the register has the hive, `merge` compares the two.

use crate::domain::colony::Named;
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::ids::{ColonyId, YardId};
use crate::domain::settings::Firm;
use crate::domain::visit::Visit;
use crate::exchange::table::entry::{Entry, Kind, Told};
use crate::exchange::table::headings::Field;
use crate::exchange::table::judge::{Judge, Verdict};
use crate::exchange::table::plan::{
    ByRow, First, Gave, NewAmended, NewHappening, NewHive, NewPlan, NewRecord, NewRun, NewStand, Ref,
};
use crate::exchange::table::preview::{Existing, Problem, Will};
use crate::exchange::table::refs::HiveRef;

/// What a row belongs to that says more about the one above it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Above {
    /// Nothing that can be said more about.
    Nothing,
    /// A row that is held back.
    Held,
    Record(usize),
    Plan(usize),
    Run(usize),
}

impl Judge<'_> {
    /// The number among the told hives of one that says itself what it is.
    pub(super) fn taken(&self, hive: Ref<ColonyId>) -> Option<usize> {
        match hive {
            Ref::New(at) => Some(at).filter(|_| self.plan.is_taken(Some(hive))),
            Ref::Old(_) => None,
        }
    }

    /// The file tells of the hive as an export does, and the register has it.
    pub(super) fn is_known(&self, hive: Ref<ColonyId>) -> bool {
        matches!(hive, Ref::New(at) if self.plan.hives.get(at).is_some_and(|hive| hive.known.is_some()))
    }

    /// A row of an export whose hive has no row in the file, as among rows that were held back: what happened at the
    /// living hive of that name, its plans and bars need nothing else of it.
    pub(super) fn tell_without_row(&mut self, entry: &Entry) {
        if !entry.exact || matches!(entry.kind, Kind::Named | Kind::Stood | Kind::Corrected) {
            return;
        }
        let Some(Ref::Old(id)) = self.known_hive(entry).filter(|hive| !self.seen_in.contains_key(hive)) else { return };
        let Some((held, yard)) = self.world.colonies.get(&id).and_then(|held| Some((held, held.yard()?))) else {
            return;
        };
        let told = Ref::New(self.plan.hives.len());
        self.plan.hives.push(NewHive {
            row: 0,
            known: Some(id),
            taken: true,
            yard: Ref::Old(yard),
            name: held.name().to_owned(),
            spot: held.spot(),
            founded: held.founded,
            founding: held.how,
            first: First::Unknown,
            note: String::new(),
            ended: None,
            lid: held.lid.clone(),
            parent: None,
            united_into: None,
            corrected: Vec::new(),
            names: Vec::new(),
            stands: Vec::new(),
        });
        self.seen_in.insert(told, entry.number);
        self.hives.insert((Ref::Old(yard), fold(&entry.hive)), told);
    }

    /// The hive above, where its own row says what it is; a row of this kind cannot be added to another.
    fn taken_above(&mut self, entry: &Entry) -> Result<usize, Problem> {
        let hive = self.hive_above(entry)?;
        self.taken(hive).ok_or_else(|| {
            let fact = format!("The own row of {} does not say what it is", entry.hive);
            Problem::new(Field::Entry, fact, "Write hive under entry there")
        })
    }

    /// The parcel and the hives that a row calls by number and name must be there.
    pub(super) fn check_names(&mut self, entry: &Entry) -> Result<(), Problem> {
        if let Some(number) = entry.around.parcel.filter(|_| entry.kind != Kind::Parcel)
            && !self.parcels.contains_key(&number)
        {
            let fact = format!("No parcel {number} stands above");
            return Err(Problem::new(Field::Parcel, fact, "Put the parcel's own row before, or leave the cell empty"));
        }
        let called = [
            (&entry.more.parent, Field::Parent),
            (&entry.more.united_into, Field::UnitedInto),
            (&entry.around.lid_swapped, Field::LidSwapped),
            (&entry.around.queen_to, Field::QueenTo),
            (&entry.around.other_hive, Field::OtherHive),
        ];
        for (name, field) in called.into_iter().filter(|(name, _)| !name.is_empty()) {
            match self.refs.find(name) {
                Some(HiveRef::Row(row)) => self.named.push((entry.number, field, name.clone(), row)),
                Some(HiveRef::Old(_)) => {}
                None => {
                    let fact = format!("No hive is called {name}");
                    return Err(Problem::new(field, fact, "Write yard/hive, as its own row has them"));
                }
            }
        }
        Ok(())
    }

    /// A living hive cannot stand in a yard that is gone.
    pub(super) fn check_living(&self, entry: &Entry) -> Result<(), Problem> {
        let yard = self.yards.get(&fold(&entry.yard)).copied();
        let gone = matches!(yard, Some(Ref::New(at)) if self.plan.yards.get(at).is_some_and(|it| it.facts.removed));
        if gone && entry.ended.is_none() {
            let fact = format!("{} was removed, and {} lives", entry.yard, entry.hive);
            return Err(Problem::new(Field::Yard, fact, "Give its yard of now, or the day it ended"));
        }
        Ok(())
    }

    pub(super) fn firm(&mut self, entry: &Entry) -> Verdict {
        let Told::Firm { name, home, home_name, hemisphere } = entry.told.clone() else { return Ok(Will::Same) };
        let held = &self.world.firm;
        let firm = Firm { name, home, home_name, hemisphere, demo_day: held.demo_day };
        let fresh = Firm { demo_day: None, ..held.clone() } == Firm::default();
        match self.options.existing {
            _ if firm == *held => return Ok(Will::Same),
            Existing::Skip if !fresh => return Ok(Will::Same),
            Existing::Ask if !fresh => {
                let fact = "Another firm or home is in the register already";
                return Err(Problem::new(Field::Firm, fact, "Choose to skip or to update what is there already"));
            }
            Existing::Ask | Existing::Skip | Existing::Update => self.plan.firm = Some(firm),
        }
        Ok(Will::Change)
    }

    /// A name the hive had, a place where it stood, or what was put right about it.
    pub(super) fn past_of_hive(&mut self, entry: &Entry) -> Verdict {
        let at = self.taken_above(entry)?;
        let late = |fact: &str| Err(Problem::new(Field::Since, fact, "Put its rows in the order of their days"));
        match &entry.told {
            Told::Named { name, from } => {
                let Some(hive) = self.plan.hives.get_mut(at) else { return Ok(Will::Same) };
                if hive.names.last().is_some_and(|last| last.it.from > *from) {
                    return late("The name above holds from a later day");
                }
                let it = Named { name: name.clone(), from: *from };
                hive.names.push(ByRow { row: entry.number, it });
            }
            Told::Stood { yard, from } => {
                let yard = self.yard_called(yard, Field::StoodIn)?;
                let Some(hive) = self.plan.hives.get_mut(at) else { return Ok(Will::Same) };
                if hive.stands.last().is_some_and(|last| last.it.from > *from) {
                    return late("The place above holds from a later day");
                }
                let it = NewStand { yard, spot: entry.spot, from: *from };
                hive.stands.push(ByRow { row: entry.number, it });
            }
            Told::Amended(corrected, _) => {
                if let Some(hive) = self.plan.hives.get_mut(at) {
                    hive.corrected.push(ByRow { row: entry.number, it: corrected.clone() });
                }
            }
            _ => return Ok(Will::Same),
        }
        Ok(Will::Add)
    }

    fn yard_called(&self, name: &str, field: Field) -> Result<Ref<YardId>, Problem> {
        let missing = || Problem::new(field, format!("No yard is called {name}"), "Put the yard's own row before");
        self.yards.get(&fold(name)).copied().ok_or_else(missing)
    }

    /// The visits of a row, in the order of their days.
    pub(super) fn put_taken_visits(&mut self, entry: &Entry, hive: usize, find: Option<Visit>, gave: Option<Gave>) {
        let alone = entry.introduced.filter(|day| gave.is_some() && entry.look != Some(*day));
        let mut gave = gave.map(Box::new);
        let mut records = Vec::new();
        if let Some(day) = alone {
            let what =
                NewHappening::Visit { visit: Box::default(), gave: gave.take(), lid_swapped: None, queen_to: None };
            let mut given = Self::record_of(entry, hive, day, what);
            if entry.look.is_some() {
                // The words and initials are those of the find of another day that stands beside it.
                (given.by, given.words) = (String::new(), String::new());
            }
            records.push(given);
        }
        if let (Some(day), Some(visit)) = (entry.look, find) {
            let what = NewHappening::Visit {
                visit: Box::new(visit),
                gave,
                lid_swapped: self.lid_swapped(entry, hive),
                queen_to: self.refs.find(&entry.around.queen_to),
            };
            records.push(Self::record_of(entry, hive, day, what));
        }
        records.sort_by_key(|record| record.day);
        self.plan.records.extend(records);
        self.above = self.plan.records.len().checked_sub(1).map_or(Above::Nothing, Above::Record);
    }

    /// The hive with which lids were swapped: under its own heading, or among the codes of the find.
    fn lid_swapped(&mut self, entry: &Entry, hive: usize) -> Option<HiveRef> {
        let row = self.plan.hives.get(hive).map(|hive| HiveRef::Row(hive.row));
        let in_codes = entry.found.as_ref().and_then(|found| found.swap.as_ref());
        let name = match in_codes {
            Some(name) if entry.around.lid_swapped.is_empty() => format!("{}/{name}", entry.yard),
            _ => entry.around.lid_swapped.clone(),
        };
        if name.is_empty() {
            return None;
        }
        let found = self.refs.find(&name).filter(|found| Some(*found) != row);
        if found.is_none() {
            // Row 0 is never there: the note says so.
            self.named.push((entry.number, Field::LidSwapped, name, 0));
        }
        found
    }

    fn record_of(entry: &Entry, hive: usize, day: Day, what: NewHappening) -> NewRecord {
        NewRecord {
            row: entry.number,
            hive,
            day,
            by: entry.by.clone(),
            words: entry.words.clone(),
            what,
            evening: entry.around.evening,
            struck: entry.around.taken_back,
            amended: Vec::new(),
        }
    }

    fn put_record(&mut self, entry: &Entry, hive: usize, words: &str, what: NewHappening) -> Verdict {
        let Some(day) = entry.look else {
            return Err(Problem::new(Field::LastLook, "No day is given", "Give the day"));
        };
        if !entry.around.taken_back {
            self.check_days(entry, Ref::New(hive))?;
        }
        self.above = Above::Record(self.plan.records.len());
        let record = Self::record_of(entry, hive, day, what);
        self.plan.records.push(NewRecord { words: words.to_owned(), ..record });
        Ok(Will::Add)
    }

    /// An answer which queen another one was, or the lifting of a bar. Whether another was seen is not asked: the find
    /// may have been amended since.
    pub(super) fn taken_answer(&mut self, entry: &Entry, hive: usize) -> Verdict {
        match entry.answer {
            Some(which) => self.put_record(entry, hive, &entry.words, NewHappening::Which(which)),
            // What else was noted stands apart from why the bar was lifted.
            None => self.put_record(entry, hive, &entry.note, NewHappening::BarLifted(entry.words.clone())),
        }
    }

    /// A hive was split off, or another was united into this one.
    pub(super) fn between_hives(&mut self, entry: &Entry) -> Verdict {
        let at = self.taken_above(entry)?;
        let Some(other) = self.refs.find(&entry.around.other_hive) else {
            return Err(Problem::new(Field::OtherHive, "No other hive is named", "Write yard/hive"));
        };
        let what =
            if entry.kind == Kind::Split { NewHappening::SplitOff(other) } else { NewHappening::Received(other) };
        self.put_record(entry, at, &entry.words, what)
    }

    pub(super) fn plan_alone(&mut self, entry: &mut Entry) -> Verdict {
        let hive = self.taken_above(entry)?;
        let Told::Plan(cells) = entry.told.clone() else { return Ok(Will::Same) };
        let source = self.settle_source(entry);
        let parcel = entry.around.parcel.and_then(|number| self.parcels.get(&number)).copied();
        self.above = Above::Plan(self.plan.plans.len());
        self.plan.plans.push(NewPlan { row: entry.number, hive, source, parcel, cells, moved: Vec::new() });
        Ok(Will::Add)
    }

    pub(super) fn run(&mut self, entry: &Entry) -> Will {
        let Told::Run(run) = &entry.told else { return Will::Same };
        self.above = Above::Run(self.plan.runs.len());
        self.plan.runs.push(NewRun {
            row: entry.number,
            fate: None,
            run: run.as_ref().clone(),
            stops: Vec::new(),
            left_out: Vec::new(),
        });
        Will::Add
    }

    /// An amendment, a moved day, a stop: it belongs to the record, plan or run above.
    pub(super) fn more_of_above(&mut self, entry: &Entry) -> Verdict {
        let missing = |fact: String| Problem::new(Field::Entry, fact, "Put it below the row it belongs to");
        match (self.above, entry.kind, &entry.told) {
            (Above::Held, ..) => {
                let fact = "The row above is held back".to_owned();
                return Err(Problem::new(Field::Entry, fact, "Solve its problems first"));
            }
            (Above::Record(at), Kind::Amended, Told::Amended(amended, left)) => {
                let hive = self.taken_above(entry)?;
                let other = self.refs.find(&entry.around.other_hive);
                let left = other.zip(left.clone()).map(|(other, (day, said))| (other, day, said));
                let record = self.plan.records.get_mut(at).filter(|record| record.hive == hive);
                let record = record.ok_or_else(|| missing(format!("No record of {} stands above", entry.hive)))?;
                let it = NewAmended { amended: amended.clone(), left };
                record.amended.push(ByRow { row: entry.number, it });
            }
            (Above::Plan(at), Kind::PlanMoved, Told::PlanMoved(moved)) => {
                let hive = self.taken_above(entry)?;
                let plan = self.plan.plans.get_mut(at).filter(|plan| plan.hive == hive);
                let plan = plan.ok_or_else(|| missing(format!("No plan of {} stands above", entry.hive)))?;
                plan.moved.push(ByRow { row: entry.number, it: moved.clone() });
            }
            (Above::Run(at), Kind::Stop | Kind::LeftOut, _) => {
                let yard = self.yard_called(&entry.yard, Field::Yard)?;
                let Some(run) = self.plan.runs.get_mut(at) else { return Ok(Will::Same) };
                if run.left_out.iter().any(|left| left.it == yard) || run.stops.iter().any(|stop| stop.it.0 == yard) {
                    let fact = format!("{} stands in the run twice", entry.yard);
                    return Err(Problem::new(Field::Yard, fact, "Leave one of the two out"));
                }
                match entry.told {
                    Told::Stop { locked } => run.stops.push(ByRow { row: entry.number, it: (yard, locked) }),
                    _ => run.left_out.push(ByRow { row: entry.number, it: yard }),
                }
            }
            _ => {
                return Err(missing(format!("Nothing stands above to which this row belongs: {}", entry.kind.word())));
            }
        }
        Ok(Will::Add)
    }
}
