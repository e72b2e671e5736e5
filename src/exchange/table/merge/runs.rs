//! Runs of an export against those of the register: of one day and vehicle there is one.

use std::collections::BTreeSet;

use uuid::Uuid;

use crate::domain::ids::RunId;
use crate::domain::run_order::RunOrder;
use crate::exchange::table::changes::Making;
use crate::exchange::table::fates::Fate;
use crate::exchange::table::headings::Field;
use crate::exchange::table::judge::Judge;
use crate::exchange::table::merge::verdicts::Verdicts;
use crate::exchange::table::preview::Existing;

impl Judge<'_> {
    /// Finds for each told run the one of the register.
    pub(super) fn merge_runs(&mut self) -> Verdicts {
        let mut verdicts = Verdicts::default();
        let mut next = u128::MAX;
        let mut mint = || {
            next -= 1;
            Uuid::from_u128(next)
        };
        let mut making = Making::new(&self.plan, self.today, &mut mint);
        making.yards(&mut Vec::new());
        let told: Vec<RunOrder> = self.plan.runs.iter().map(|new| making.run(new, RunId::from_number(0))).collect();
        let mut matched: BTreeSet<RunId> = BTreeSet::new();
        for same in [is_same, is_of_that_day] {
            for (told, new) in told.iter().zip(&mut self.plan.runs).filter(|(_, new)| new.fate.is_none()) {
                let mut here = self.world.runs.values().filter(|held| !matched.contains(&held.id));
                let Some(held) = here.find(|held| same(told, held)) else { continue };
                matched.insert(held.id);
                new.fate = Some(Fate::Leave);
                let rows = new.stops.iter().map(|it| it.row).chain(new.left_out.iter().map(|it| it.row));
                for row in rows.chain([new.row]) {
                    verdicts.same(row);
                }
                if is_same(told, held) {
                    continue;
                }
                verdicts.changes(new.row, Field::RunDay, "The run of that day");
                let known = held.stops.iter().map(|stop| stop.yard).chain(held.left_out.iter().copied());
                let known: Vec<_> = known.collect();
                let yards = told.stops.iter().map(|stop| stop.yard).chain(told.left_out.iter().copied());
                let rows = new.stops.iter().map(|it| it.row).chain(new.left_out.iter().map(|it| it.row));
                rows.zip(yards).filter(|(_, yard)| !known.contains(yard)).for_each(|(row, _)| verdicts.adds(row));
                if self.options.existing == Existing::Update {
                    new.fate = Some(Fate::Instead(held.id));
                }
            }
        }
        verdicts
    }
}

fn is_same(told: &RunOrder, held: &RunOrder) -> bool {
    *told == RunOrder { id: told.id, ..held.clone() }
}

fn is_of_that_day(told: &RunOrder, held: &RunOrder) -> bool {
    (told.day, &told.vehicle) == (held.day, &held.vehicle)
}
