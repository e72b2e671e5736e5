//! The change that takes hives over as they stand, from the rows of an export, and what of them the register lacks where it
//! has them already.

use std::collections::{BTreeMap, BTreeSet};

use uuid::Uuid;

use crate::domain::bar::{Bar, BarOn};
use crate::domain::change::{Change, Taken};
use crate::domain::colony::{Colony, EndWhy, FirstQueen, Founding, Named, Stand};
use crate::domain::ids::{BarId, ColonyId, PlanId, QueenId, RecordId};
use crate::domain::plan::Plan;
use crate::domain::record::{Amended, Happening, Left, Record};
use crate::exchange::table::changes::{Making, of};
use crate::exchange::table::fates::Fate;
use crate::exchange::table::plan::{ByRow, NewAmended, NewHappening, NewHive, NewPlan, NewRecord, NewStand, Ref};
use crate::exchange::table::record_order::in_order;
use crate::exchange::table::refs::HiveRef;

impl Making<'_> {
    /// The change that takes hives over; nothing where the file has nothing to take over.
    pub(super) fn take_over(&mut self) -> Option<Change> {
        let plan = self.plan;
        let rows = self.hives_by_row();
        let mut taken = Taken { anew: !plan.known.hives.is_empty(), ..Taken::default() };
        for (at, (hive, id)) in plan.hives.iter().zip(self.hives.clone()).enumerate() {
            if !hive.taken || plan.known.dropped.contains(&at) {
                continue;
            }
            match plan.known.hives.get(&at) {
                Some(known) if !known.take.any() => {}
                Some(known) => {
                    let told = self.told_hive(hive, id, &rows);
                    taken.colonies.extend(told.map(|told| known.merged_with(&told, self.today)));
                }
                None => taken.colonies.extend(self.told_hive(hive, id, &rows)),
            }
        }
        taken.records = self.taken_records(&rows);
        for (at, new) in plan.plans.iter().enumerate() {
            let id = match plan.known.plans.get(&at) {
                Some(Fate::Leave) => continue,
                Some(Fate::Instead(id)) => *id,
                None => PlanId((self.mint)()),
            };
            taken.plans.extend(self.told_plan(new, id).filter(|_| !plan.known.dropped.contains(&new.hive)));
        }
        taken.plans.extend(plan.known.fallen.iter().cloned());
        let dropped = |hive: Option<Ref<ColonyId>>| plan.known.dropped.iter().any(|at| hive == Some(Ref::New(*at)));
        for new in plan.bars.iter().filter(|new| plan.is_taken(new.hive) && !dropped(new.hive)) {
            let Some(on) = new.hive.and_then(|hive| of(hive, &self.hives)).map(BarOn::Colony) else { continue };
            let id = new.instead_of.unwrap_or_else(|| BarId((self.mint)()));
            taken.bars.push(Bar { id, on, ..new.bar.clone() });
        }
        taken.queens = std::mem::take(&mut self.queens);
        let used = queens_of(&taken);
        taken.queens.retain(|queen| used.contains(&queen.id));
        self.numbered.retain(|_, queen| used.contains(queen));
        let Taken { colonies, records, plans, bars, .. } = &taken;
        let nothing = colonies.is_empty() && records.is_empty() && plans.is_empty() && bars.is_empty();
        (!nothing).then(|| Change::TakeOver(Box::new(taken)))
    }

    /// The hives of the file by their rows.
    pub(super) fn hives_by_row(&self) -> BTreeMap<u32, ColonyId> {
        let told = self.plan.hives.iter().zip(&self.hives).enumerate();
        let coming = told.filter(|(at, _)| !self.plan.known.dropped.contains(at));
        let by_row = coming.map(|(_, (hive, id))| (hive.row, *id));
        self.plan.old_rows.iter().map(|(row, id)| (*row, *id)).chain(by_row).collect()
    }

    /// A hive as the file tells it.
    pub(super) fn told_hive(&mut self, new: &NewHive, id: ColonyId, rows: &BTreeMap<u32, ColonyId>) -> Option<Colony> {
        let mut colony = self.hive(new, id)?;
        let named = called(new.parent, rows);
        colony.corrected = new.corrected.iter().map(|corrected| corrected.it.clone()).collect();
        colony.how = named.map_or(new.founding, Founding::SplitFrom);
        if let (Some(end), Some(into)) = (&mut colony.ended, called(new.united_into, rows)) {
            end.why = EndWhy::UnitedInto(into);
        }
        // The hive's own row says what it is called and where it stands now.
        let names = new.names.iter().map(|named| named.it.clone());
        if let Some(last) = new.names.last() {
            let now = (last.it.name != new.name).then(|| Named { name: new.name.clone(), from: last.it.from });
            colony.names = names.chain(now).collect();
        }
        let stand = |told: &ByRow<NewStand>| {
            let NewStand { yard, spot, from } = told.it;
            Some(Stand { yard: of(yard, &self.yards)?, spot, from })
        };
        let stands: Vec<Stand> = new.stands.iter().filter_map(stand).collect();
        if let (Some(last), Some(own)) = (stands.last().copied(), colony.stands.first().copied()) {
            let now = ((last.yard, last.spot) != (own.yard, own.spot)).then_some(Stand { from: last.from, ..own });
            colony.stands = stands.into_iter().chain(now).collect();
        }
        Some(colony)
    }

    /// The records that are new or told anew; new ids grow as they were entered.
    fn taken_records(&mut self, rows: &BTreeMap<u32, ColonyId>) -> Vec<Record> {
        let plan = self.plan;
        let coming = |at: usize, new: &NewRecord| {
            plan.known.records.get(&at) != Some(&Fate::Leave) && !plan.known.dropped.contains(&new.hive)
        };
        let told: Vec<(usize, &NewRecord)> =
            plan.records.iter().enumerate().filter(|(at, new)| coming(*at, new)).collect();
        let mut evenings: BTreeMap<u32, Uuid> = BTreeMap::new();
        for number in told.iter().filter_map(|(_, new)| new.evening).map(|(number, _)| number).collect::<BTreeSet<_>>()
        {
            let known = plan.known.evenings.get(&number).copied();
            evenings.insert(number, known.unwrap_or_else(|| (self.mint)()));
        }
        let mut records = Vec::with_capacity(told.len());
        for place in in_order(&told.iter().map(|(_, new)| *new).collect::<Vec<_>>()) {
            let Some((at, new)) = told.get(place).copied() else { continue };
            let id = match plan.known.records.get(&at) {
                Some(Fate::Instead(id)) => *id,
                _ => RecordId((self.mint)()),
            };
            records.extend(self.told_record(new, id, rows, &evenings));
        }
        records
    }

    /// A record as the file tells it; nothing where another hive without which it says nothing is not brought in.
    pub(super) fn told_record(
        &mut self,
        new: &NewRecord,
        id: RecordId,
        rows: &BTreeMap<u32, ColonyId>,
        evenings: &BTreeMap<u32, Uuid>,
    ) -> Option<Record> {
        Some(Record {
            id,
            colony: self.hives.get(new.hive).copied()?,
            day: new.day,
            by: new.by.clone(),
            words: new.words.clone(),
            what: self.happening(new, rows)?,
            together: new.evening.and_then(|(number, _)| evenings.get(&number)).copied(),
            struck: new.struck,
            amended: new.amended.iter().map(|amended| amended_of(&amended.it, rows)).collect(),
        })
    }

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

    /// A plan as the file tells it.
    pub(super) fn told_plan(&self, new: &NewPlan, id: PlanId) -> Option<Plan> {
        Some(Plan {
            id,
            colony: self.hives.get(new.hive).copied()?,
            method: new.cells.method,
            source: new.source.and_then(|source| of(source, &self.sources)),
            parcel: new.parcel.and_then(|parcel| of(parcel, &self.parcels)),
            give_on: new.cells.give_on,
            dequeen_on: new.cells.dequeen_on,
            made: new.cells.made,
            called_off: new.cells.called_off,
            moved: new.moved.iter().map(|moved| moved.it.clone()).collect(),
        })
    }
}

/// The queens of whom what is taken over tells.
fn queens_of(taken: &Taken) -> BTreeSet<QueenId> {
    let first = taken.colonies.iter().filter_map(|colony| match colony.began_with {
        FirstQueen::Recorded(queen) => Some(queen),
        FirstQueen::Unknown | FirstQueen::None => None,
    });
    let given = taken.records.iter().filter_map(|record| match &record.what {
        Happening::Visit(visit) => visit.gave.as_ref().map(|gave| gave.queen),
        _ => None,
    });
    first.chain(given).collect()
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
