//! The change that takes hives over as they stand, from the rows of an export.

use std::collections::{BTreeMap, BTreeSet};

use uuid::Uuid;

use crate::domain::bar::{Bar, BarOn};
use crate::domain::change::{Change, Taken};
use crate::domain::colony::{Colony, EndWhy, Founding, Named, Stand};
use crate::domain::ids::{BarId, ColonyId, PlanId, RecordId};
use crate::domain::plan::Plan;
use crate::domain::record::{Amended, Happening, Left, Record};
use crate::exchange::table::changes::{Making, of};
use crate::exchange::table::plan::{NewAmended, NewHappening, NewHive, NewPlan, NewRecord};
use crate::exchange::table::record_order::in_order;
use crate::exchange::table::refs::HiveRef;

impl Making<'_> {
    /// The change that takes hives over; nothing where the file has none to take over.
    pub(super) fn take_over(&mut self) -> Option<Change> {
        let plan = self.plan;
        let rows = self.hives_by_row();
        let made = plan.hives.iter().zip(self.hives.clone()).filter(|(hive, _)| hive.taken);
        let colonies: Vec<Colony> = made.filter_map(|(hive, id)| self.taken_hive(hive, id, &rows)).collect();
        if colonies.is_empty() {
            return None;
        }
        let records = self.taken_records(&rows);
        let plans = plan.plans.iter().filter_map(|new| self.taken_plan(new)).collect();
        let taken_bars = plan.bars.iter().filter(|new| plan.is_taken(new.hive));
        let bars = taken_bars.filter_map(|new| {
            let on = new.hive.and_then(|hive| of(hive, &self.hives)).map(BarOn::Colony)?;
            Some(Bar { id: BarId((self.mint)()), on, ..new.bar.clone() })
        });
        let bars = bars.collect();
        let queens = std::mem::take(&mut self.queens);
        Some(Change::TakeOver(Box::new(Taken { colonies, queens, records, plans, bars })))
    }

    /// The hives of the file by their rows.
    fn hives_by_row(&self) -> BTreeMap<u32, ColonyId> {
        let new = self.plan.hives.iter().zip(&self.hives).map(|(hive, id)| (hive.row, *id));
        self.plan.old_rows.iter().map(|(row, id)| (*row, *id)).chain(new).collect()
    }

    fn taken_hive(&mut self, new: &NewHive, id: ColonyId, rows: &BTreeMap<u32, ColonyId>) -> Option<Colony> {
        let mut colony = self.hive(new, id)?;
        let named = called(new.parent, rows);
        colony.corrected.clone_from(&new.corrected);
        colony.how = named.map_or(new.founding, Founding::SplitFrom);
        if let (Some(end), Some(into)) = (&mut colony.ended, called(new.united_into, rows)) {
            end.why = EndWhy::UnitedInto(into);
        }
        // The hive's own row says what it is called and where it stands now.
        if let Some(last) = new.names.last() {
            let now = (last.name != new.name).then(|| Named { name: new.name.clone(), from: last.from });
            colony.names = new.names.iter().cloned().chain(now).collect();
        }
        let stand = |(yard, spot, from): &_| Some(Stand { yard: of(*yard, &self.yards)?, spot: *spot, from: *from });
        let stands: Vec<Stand> = new.stands.iter().filter_map(stand).collect();
        if let (Some(last), Some(own)) = (stands.last().copied(), colony.stands.first().copied()) {
            let now = ((last.yard, last.spot) != (own.yard, own.spot)).then_some(Stand { from: last.from, ..own });
            colony.stands = stands.into_iter().chain(now).collect();
        }
        Some(colony)
    }

    /// The records, with ids that grow as they were entered.
    fn taken_records(&mut self, rows: &BTreeMap<u32, ColonyId>) -> Vec<Record> {
        let plan = self.plan;
        let numbers: BTreeSet<u32> =
            plan.records.iter().filter_map(|it| it.evening).map(|(number, _)| number).collect();
        let evenings: BTreeMap<u32, Uuid> = numbers.into_iter().map(|number| (number, (self.mint)())).collect();
        let mut records = Vec::with_capacity(plan.records.len());
        for at in in_order(&plan.records) {
            let Some(new) = plan.records.get(at) else { continue };
            let Some(colony) = self.hives.get(new.hive).copied() else { continue };
            let Some(what) = self.happening(new, rows) else { continue };
            records.push(Record {
                id: RecordId((self.mint)()),
                colony,
                day: new.day,
                by: new.by.clone(),
                words: new.words.clone(),
                what,
                together: new.evening.and_then(|(number, _)| evenings.get(&number)).copied(),
                struck: new.struck,
                amended: new.amended.iter().map(|amended| amended_of(amended, rows)).collect(),
            });
        }
        records
    }

    /// What happened; nothing where the other hive is not brought in.
    fn happening(&mut self, new: &NewRecord, rows: &BTreeMap<u32, ColonyId>) -> Option<Happening> {
        Some(match &new.what {
            NewHappening::Visit { visit, gave, lid_swapped, queen_to } => {
                let mut visit = visit.clone();
                visit.gave = gave.as_ref().map(|gave| self.given(gave));
                visit.lids_swapped = called(*lid_swapped, rows);
                visit.did.queen_to = called(*queen_to, rows);
                Happening::Visit(visit)
            }
            NewHappening::Which(which) => Happening::Which(*which),
            NewHappening::BarLifted(why) => Happening::BarLifted { why: why.clone() },
            NewHappening::Received(other) => Happening::Received(called(Some(*other), rows)?),
            NewHappening::SplitOff(other) => Happening::SplitOff(called(Some(*other), rows)?),
        })
    }

    fn taken_plan(&mut self, new: &NewPlan) -> Option<Plan> {
        let colony = self.hives.get(new.hive).copied()?;
        Some(Plan {
            id: PlanId((self.mint)()),
            colony,
            method: new.cells.method,
            source: new.source.and_then(|source| of(source, &self.sources)),
            parcel: new.parcel.and_then(|parcel| of(parcel, &self.parcels)),
            give_on: new.cells.give_on,
            dequeen_on: new.cells.dequeen_on,
            made: new.cells.made,
            called_off: new.cells.called_off,
            moved: new.moved.clone(),
        })
    }
}

fn amended_of(new: &NewAmended, rows: &BTreeMap<u32, ColonyId>) -> Amended {
    let left =
        new.left.clone().and_then(|(hive, day, said)| Some(Left { colony: called(Some(hive), rows)?, day, said }));
    Amended { left, ..new.amended.clone() }
}

fn called(hive: Option<HiveRef>, rows: &BTreeMap<u32, ColonyId>) -> Option<ColonyId> {
    match hive? {
        HiveRef::Old(id) => Some(id),
        HiveRef::Row(row) => rows.get(&row).copied(),
    }
}
