//! Bars of a file, and answers: what was ruled about a hive or a yard.

use crate::domain::bar::{Bar, BarKind, BarOn, Lifted};
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::ids::{BarId, ColonyId, YardId};
use crate::domain::record::Happening;
use crate::exchange::table::entry::Entry;
use crate::exchange::table::headings::Field;
use crate::exchange::table::judge::{Judge, Verdict};
use crate::exchange::table::plan::{NewAnswer, NewBar, Ref};
use crate::exchange::table::preview::{Existing, Problem, Will};

impl Judge<'_> {
    /// The answer which queen another one was, or the lifting of a bar that followed from a find.
    pub(super) fn answer_alone(&mut self, entry: &Entry) -> Verdict {
        let hive = self.hive_above(entry)?;
        let Some(day) = entry.look else {
            return Err(Problem::new(Field::LastLook, "No day is given", "Give the day"));
        };
        if entry.answer.is_none() && entry.words.is_empty() {
            return Err(Problem::new(Field::Words, "A bar is lifted only with a reason", "Say why, and on whose word"));
        }
        if let Some(at) = self.taken(hive) {
            return self.taken_answer(entry, at);
        }
        self.check_days(entry, hive)?;
        let same = |what: &Happening| match (what, entry.answer) {
            (Happening::Which(held), Some(which)) => *held == which,
            (Happening::BarLifted { why }, None) => *why == entry.words,
            _ => false,
        };
        if let Ref::Old(colony) = hive
            && self
                .world
                .records_of(colony)
                .iter()
                .any(|record| record.day == day && !record.struck && same(&record.what))
        {
            return Ok(Will::Same);
        }
        if entry.answer.is_some() && !self.another_seen(hive, entry) {
            return Err(Problem::new(
                Field::Answer,
                "No other queen was seen by that day",
                "Give the find's row first",
            ));
        }
        if matches!(hive, Ref::Old(_)) && self.options.existing == Existing::Skip {
            return Ok(Will::Same);
        }
        let (by, why) = (entry.by.clone(), entry.words.clone());
        self.plan.answers.push(NewAnswer { hive, day, by, which: entry.answer, why });
        Ok(Will::Add)
    }

    fn another_seen(&self, hive: Ref<ColonyId>, entry: &Entry) -> bool {
        let by = |day| entry.look.is_some_and(|look| day <= look);
        let here = self.plan.visits.iter().any(|it| it.hive == hive && it.visit.seen.another && by(it.day));
        let Ref::Old(colony) = hive else { return here };
        here || self.world.records_of(colony).iter().any(|record| {
            let another = matches!(&record.what, Happening::Visit(visit) if visit.seen.another);
            another && !record.struck && by(record.day)
        })
    }

    /// A bar set on a hive or, where none is named, on the whole yard.
    pub(super) fn bar_alone(&mut self, entry: &mut Entry) -> Verdict {
        let hive = if entry.hive.is_empty() { None } else { Some(self.hive_above(entry)?) };
        let (Some(cells), Some(from)) = (&entry.bar, entry.since) else {
            return Err(Problem::new(Field::Bar, "A bar needs its kind and the day it began", "Give both"));
        };
        if cells.until.is_some_and(|until| until < from) {
            return Err(Problem::new(Field::Until, "The bar would end before it begins", "Give a later last day"));
        }
        if cells.kind == BarKind::Own && entry.note.is_empty() {
            return Err(Problem::new(Field::Note, "A bar of your own has no reason", "Say why"));
        }
        if hive.is_some_and(|hive| self.taken(hive).is_none() && self.has_ended(hive)) {
            return Err(Problem::new(Field::Hive, format!("{} has ended", entry.hive), "Leave the row out"));
        }
        let lifted = cells.lifted.map(|on| Lifted { on, by: cells.lifted_by.clone(), why: entry.words.clone() });
        let bar = Bar {
            id: BarId::from_number(0),
            on: BarOn::Yard(YardId::from_number(0)),
            kind: cells.kind,
            from,
            until: cells.until,
            reason: entry.note.clone(),
            by: entry.by.clone(),
            permit: cells.permit.clone(),
            lifted,
        };
        let known = self.yards.get(&fold(&entry.yard)).copied();
        let on = match (hive, known) {
            (Some(Ref::Old(colony)), _) => Some(BarOn::Colony(colony)),
            (Some(Ref::New(at)), _) => self.plan.hives.get(at).and_then(|hive| hive.known).map(BarOn::Colony),
            (None, Some(Ref::Old(yard))) => Some(BarOn::Yard(yard)),
            _ => None,
        };
        let open = |held: &&Bar| on == Some(held.on) && !self.matched_bars.contains(&held.id);
        let same = |held: &&Bar| Bar { id: bar.id, on: bar.on, ..Bar::clone(held) } == bar;
        if let Some(same) = self.world.bars.values().filter(open).find(same) {
            self.matched_bars.insert(same.id);
            return Ok(Will::Same);
        }
        if on.is_some() && self.options.existing == Existing::Skip {
            return Ok(Will::Same);
        }
        let that = |held: &&Bar| (held.kind, held.from) == (bar.kind, bar.from);
        let held = self.world.bars.values().filter(open).find(that).cloned();
        if matches!(hive, Some(Ref::New(_)) if on.is_some()) && self.options.existing == Existing::Ask {
            let fact = format!("{} is in the register already, with other bars", entry.hive);
            return Err(Problem::new(Field::Bar, fact, "Choose to skip or to update what is there already"));
        }
        let yard = self.settle_yard(entry)?;
        let Some(held) = held else {
            self.plan.bars.push(NewBar { row: entry.number, instead_of: None, hive, yard, bar });
            return Ok(Will::Add);
        };
        self.matched_bars.insert(held.id);
        let bar = told_anew(&bar, &held, self.today)?;
        if bar == held {
            return Ok(Will::Same);
        }
        let words = if bar.lifted == held.lifted { "The bar's details" } else { "The bar was lifted" };
        entry.notes.push(Problem::new(Field::Bar, words, ""));
        self.plan.bars.push(NewBar { row: entry.number, instead_of: Some(held.id), hive, yard, bar });
        Ok(Will::Change)
    }

    fn has_ended(&self, hive: Ref<ColonyId>) -> bool {
        match hive {
            Ref::Old(id) => self.world.colonies.get(&id).is_none_or(|colony| !colony.is_living()),
            Ref::New(at) => self.plan.hives.get(at).is_none_or(|hive| hive.ended.is_some()),
        }
    }
}

/// The register's bar with what the file says of it; what is not said stays.
fn told_anew(told: &Bar, held: &Bar, today: Day) -> Result<Bar, Problem> {
    if let (Some(there), Some(here)) = (&told.lifted, &held.lifted)
        && there != here
    {
        let fact = format!("This bar was lifted on {} in the register", here.on.near(today));
        return Err(Problem::new(Field::Ended, fact, "Write it as the register has it"));
    }
    let words = |told: &String, held: &String| if told.is_empty() { held.clone() } else { told.clone() };
    Ok(Bar {
        until: told.until.or(held.until),
        reason: words(&told.reason, &held.reason),
        by: words(&told.by, &held.by),
        permit: told.permit.clone().or(held.permit.clone()),
        lifted: told.lifted.clone().or(held.lifted.clone()),
        ..held.clone()
    })
}
