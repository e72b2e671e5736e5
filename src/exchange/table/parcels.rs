//! Parcels of an export against those of the register. A parcel is known by what was sent, from whom and when.

use std::collections::{BTreeMap, BTreeSet};

use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::ids::ParcelId;
use crate::domain::parcel::Parcel;
use crate::domain::world::World;
use crate::exchange::table::entry::{Entry, Told};
use crate::exchange::table::headings::Field;
use crate::exchange::table::judge::{Judge, Verdict};
use crate::exchange::table::plan::{NewParcel, Ref};
use crate::exchange::table::preview::{Existing, Problem, Will};

/// The parcels of the file that the register has, by their rows: first those that are the same in everything.
pub(super) fn known_parcels(world: &World, entries: &[Entry]) -> BTreeMap<u32, ParcelId> {
    let mut known: BTreeMap<u32, ParcelId> = BTreeMap::new();
    let mut taken: BTreeSet<ParcelId> = BTreeSet::new();
    for same in [is_same, is_that] {
        for entry in entries.iter().filter(|entry| entry.exact) {
            let Told::Parcel(told) = &entry.told else { continue };
            let source = |held: &Parcel| held.source.and_then(|source| world.sources.get(&source));
            let from = |held: &Parcel| source(held).map_or(String::new(), |source| fold(&source.name));
            let of_source = |held: &&Parcel| from(held) == fold(&entry.queen.source);
            if known.contains_key(&entry.number) {
                continue;
            }
            let mut open = world.parcels.values().filter(|held| !taken.contains(&held.id)).filter(of_source);
            if let Some(held) = open.find(|held| same(told, held)) {
                taken.insert(held.id);
                known.insert(entry.number, held.id);
            }
        }
    }
    known
}

/// The same in all but their source, which is compared by its name.
fn is_same(told: &Parcel, held: &Parcel) -> bool {
    *told == Parcel { id: told.id, source: told.source, ..held.clone() }
}

/// The same parcel, of which more may have become known: what both say of it can be true together.
fn is_that(told: &Parcel, held: &Parcel) -> bool {
    let fits = |told: Option<Day>, held: Option<Day>| told.is_none() || held.is_none() || told == held;
    (told.kind, told.count) == (held.kind, held.count)
        && fits(told.sent, held.sent)
        && fits(told.due, held.due)
        && fits(told.grafted, held.grafted)
        && is_possible(&put_on(told, held))
}

/// Nothing came before it was sent, no queen was born after she came, and no more are lost than were sent.
fn is_possible(parcel: &Parcel) -> bool {
    let in_order = |first: Option<Day>, then: Option<Day>| first.is_none() || then.is_none() || first <= then;
    in_order(parcel.sent, parcel.arrived)
        && in_order(parcel.born.earliest, parcel.sent.or(parcel.arrived))
        && in_order(parcel.born.earliest, parcel.born.latest)
        && parcel.dead.checked_add(parcel.gone).is_some_and(|lost| lost <= parcel.count)
}

/// What is said of the parcel, put on the one that is held; what is not said stays.
fn put_on(told: &Parcel, held: &Parcel) -> Parcel {
    Parcel {
        dead: if told.dead > 0 { told.dead } else { held.dead },
        gone: if told.gone > 0 { told.gone } else { held.gone },
        sent: told.sent.or(held.sent),
        due: told.due.or(held.due),
        promised: told.promised.or(held.promised),
        arrived: told.arrived.or(held.arrived),
        grafted: told.grafted.or(held.grafted),
        born: if told.born.is_unknown() { held.born } else { told.born },
        dot: told.dot.or(held.dot),
        closed: told.closed || held.closed,
        note: if told.note.is_empty() { held.note.clone() } else { told.note.clone() },
        ..held.clone()
    }
}

/// The first field in which two parcels differ, and what the second says.
fn difference(before: &Parcel, after: &Parcel, today: Day) -> (Field, String) {
    let day = |day: Option<Day>| day.map_or(String::new(), |day| day.near(today));
    let fields = [
        (before.arrived != after.arrived, Field::ParcelArrived, format!("Arrived {}", day(after.arrived))),
        (before.promised != after.promised, Field::ParcelPromised, format!("Promised {}", day(after.promised))),
        (before.dead != after.dead, Field::ParcelDead, format!("Dead: {} to {}", before.dead, after.dead)),
        (before.gone != after.gone, Field::ParcelGone, format!("Gone: {} to {}", before.gone, after.gone)),
        (before.closed != after.closed, Field::PutAway, "The rest was put away".to_owned()),
        (before.sent != after.sent, Field::ParcelSent, format!("Sent {}", day(after.sent))),
        (before.due != after.due, Field::ParcelDue, format!("Due {}", day(after.due))),
        (before.grafted != after.grafted, Field::Grafted, format!("Grafted {}", day(after.grafted))),
        (before.born != after.born, Field::Born, "When its queens were born".to_owned()),
        (before.dot != after.dot, Field::Dot, "The dot of its queens".to_owned()),
    ];
    let first = fields.into_iter().find(|(differs, ..)| *differs).map(|(_, field, words)| (field, words));
    first.unwrap_or((Field::Note, "Note".to_owned()))
}

impl Judge<'_> {
    pub(super) fn parcel(&mut self, entry: &mut Entry) -> Verdict {
        let Told::Parcel(told) = entry.told.clone() else { return Ok(Will::Same) };
        let number = entry.around.parcel;
        let held = self.known_parcels.get(&entry.number).and_then(|id| self.world.parcels.get(id));
        let Some(held) = held else {
            let source = self.settle_source(entry);
            self.parcels.extend(number.map(|number| (number, Ref::New(self.plan.parcels.len()))));
            self.plan.parcels.push(NewParcel { instead_of: None, source, parcel: *told });
            return Ok(Will::Add);
        };
        self.parcels.extend(number.map(|number| (number, Ref::Old(held.id))));
        let after = put_on(&told, held);
        if after == *held {
            return Ok(Will::Same);
        }
        let (field, words) = difference(held, &after, self.today);
        match self.options.existing {
            Existing::Skip => {
                entry.notes.push(Problem::new(field, format!("Left as it is. {words}"), ""));
                Ok(Will::Same)
            }
            Existing::Ask => {
                let fact = format!("This parcel is in the register already. {words}");
                Err(Problem::new(field, fact, "Choose to skip or to update what is there already"))
            }
            Existing::Update => {
                entry.notes.push(Problem::new(field, words, ""));
                let source = held.source.map(Ref::Old);
                self.plan.parcels.push(NewParcel { instead_of: Some(held.id), source, parcel: after });
                Ok(Will::Change)
            }
        }
    }
}
