//! Planned introductions of an export against those of the register.

use crate::domain::ids::ColonyId;
use crate::domain::plan::{Plan, is_open};
use crate::domain::record::{Happening, Record};
use crate::exchange::table::fates::Fate;
use crate::exchange::table::headings::Field;
use crate::exchange::table::merge::Merge;
use crate::exchange::table::merge::hives::{Longer, longer};
use crate::exchange::table::plan::NewPlan;
use crate::exchange::table::preview::Problem;

impl Merge<'_> {
    /// Finds for each told plan the one of the register, and says what the others do.
    pub(super) fn compare_plans(&mut self) {
        let mut matched = Vec::new();
        for stage in [is_same, is_moved_on, is_same_plan] {
            for (at, new) in self.plan.plans.iter().enumerate() {
                let Some(told) = self.plans.get(at).and_then(Option::as_ref) else { continue };
                if !self.hives.contains_key(&new.hive) || self.known.plans.contains_key(&at) {
                    continue;
                }
                let here = self.world.plans_of(told.colony);
                let found = here.into_iter().find(|held| !matched.contains(&held.id) && stage(told, held));
                let Some(held) = found.map(|held| Plan::clone(held)) else { continue };
                let told = told.clone();
                matched.push(held.id);
                self.put_against(at, new, &told, &held);
            }
        }
        for (at, new) in self.plan.plans.iter().enumerate() {
            let Some(told) = self.plans.get(at).and_then(Option::as_ref).cloned() else { continue };
            let Some(pair) = self.hives.get(&new.hive).filter(|_| !self.known.plans.contains_key(&at)) else {
                continue;
            };
            let name = pair.held.name().to_owned();
            let open = told.called_off.is_none() && !self.is_given(&told);
            let mut own = self.world.plans_of(told.colony).into_iter().filter(|held| !matched.contains(&held.id));
            let other = own.find(|held| is_open(self.world, held) && !self.is_given(held));
            let ended = self.after(new.hive).and_then(|colony| colony.ended).map(|end| end.day);
            let fact = match (other, ended) {
                (Some(other), _) => Some(format!("{name} has a plan for {}", other.give_on.near(self.today))),
                (None, Some(ended)) => Some(format!("{name} ended on {}", ended.near(self.today))),
                (None, None) => None,
            };
            match fact.filter(|_| open) {
                Some(fact) => {
                    let problem =
                        Problem::new(Field::GiveOn, fact, "Call one of the two off first, or leave the row out");
                    self.verdicts.holds_back(new.row, problem);
                }
                None => {
                    let fact = format!("Plan for {}", told.give_on.near(self.today));
                    self.verdicts.adds_saying(new.row, Field::GiveOn, fact);
                }
            }
            for moved in &new.moved {
                self.verdicts.adds(moved.row);
            }
        }
    }

    /// Both have the plan: what was decided of it later holds.
    fn put_against(&mut self, at: usize, new: &NewPlan, told: &Plan, held: &Plan) {
        self.known.plans.insert(at, Fate::Leave);
        self.verdicts.same(new.row);
        for moved in &new.moved {
            self.verdicts.same(moved.row);
        }
        if is_same(told, held) {
            return;
        }
        let moved = longer(&told.moved, &held.moved);
        let called_off = match (told.called_off, held.called_off) {
            (one, other) if one == other => Longer::Neither,
            (Some(_), None) => Longer::There,
            (None, Some(_)) => Longer::Here,
            _ => Longer::Both,
        };
        let days = (told.give_on, told.dequeen_on) == (held.give_on, held.dequeen_on);
        match (moved, called_off) {
            (Longer::Here, Longer::Neither | Longer::Here) | (Longer::Neither, Longer::Here) => {}
            (Longer::There, Longer::Neither | Longer::There) => {
                self.known.plans.insert(at, Fate::Instead(held.id));
                let fact = format!("Plan moved to {}", told.give_on.near(self.today));
                self.verdicts.changes(new.row, Field::GiveOn, fact);
                for moved in new.moved.iter().filter(|moved| !held.moved.contains(&moved.it)) {
                    self.verdicts.adds(moved.row);
                }
            }
            (Longer::Neither, Longer::There) if days => {
                self.known.plans.insert(at, Fate::Instead(held.id));
                self.verdicts.changes(new.row, Field::CalledOff, "Plan called off");
            }
            _ => {
                let off = held.called_off.map_or(String::new(), |day| format!(", called off {}", day.near(self.today)));
                let fact = format!("The register has this plan for {}{off}", held.give_on.near(self.today));
                let remedy = "Move it on the hive's card, or write it as the register has it";
                self.verdicts.holds_back(new.row, Problem::new(Field::GiveOn, fact, remedy));
            }
        }
    }

    /// A queen is given at the plan's hive on or after the day it was made, by the register or by the file.
    fn is_given(&self, plan: &Plan) -> bool {
        let gave = |record: &Record| {
            let visit = matches!(&record.what, Happening::Visit(visit) if visit.gave.is_some());
            visit && !record.struck && record.day >= plan.made && record.colony == plan.colony
        };
        self.records.iter().flatten().any(gave)
            || self.world.records_of(plan.colony).iter().any(|held| !self.replaced(plan.colony, held) && gave(held))
    }

    /// The file has a later amendment of that record.
    fn replaced(&self, colony: ColonyId, held: &Record) -> bool {
        self.amended_there.contains(&colony) && self.replaced_records().any(|id| id == held.id)
    }

    /// Open plans of a hive whose end is taken from the file fall, where the file does not know of them.
    pub(super) fn let_plans_fall(&mut self) {
        for (at, pair) in &self.hives {
            let ended = self.known.hives.get(at).is_some_and(|known| known.take.ended);
            let Some(end) = pair.told.ended.as_ref().filter(|_| ended) else { continue };
            for plan in self.world.plans_of(pair.held.id).into_iter().filter(|plan| is_open(self.world, plan)) {
                let told = self.plan.plans.iter().enumerate().filter(|(_, new)| new.hive == *at);
                let known = told.filter_map(|(number, _)| self.plans.get(number)?.as_ref());
                if !known.into_iter().any(|told| is_same_plan(told, plan)) {
                    let called_off = Some(end.day.max(plan.made));
                    self.known.fallen.push(Plan { called_off, ..Plan::clone(plan) });
                }
            }
        }
    }
}

fn is_same(told: &Plan, held: &Plan) -> bool {
    *told == Plan { id: told.id, ..held.clone() }
}

/// One of the two was moved on from the day of the other, or called off.
fn is_moved_on(told: &Plan, held: &Plan) -> bool {
    let goes_on = |before: &Plan, after: &Plan| match after.moved.get(before.moved.len()) {
        Some(next) => after.moved.starts_with(&before.moved) && next.from == before.give_on,
        None => after.moved == before.moved && (after.give_on, after.dequeen_on) == (before.give_on, before.dequeen_on),
    };
    is_same_plan(told, held) && (goes_on(told, held) || goes_on(held, told))
}

/// The same queen was planned on the same day.
fn is_same_plan(told: &Plan, held: &Plan) -> bool {
    (told.made, told.method, told.source, told.parcel) == (held.made, held.method, held.source, held.parcel)
}
