//! Evenings that were entered, to be opened again and corrected row by row.

use std::collections::BTreeMap;

use uuid::Uuid;

use crate::domain::change::Amendment;
use crate::domain::colony::Colony;
use crate::domain::day::Day;
use crate::domain::grammar::codes::{CodeError, Codes};
use crate::domain::grammar::resolve::{Choice, resolve_again};
use crate::domain::record::{Happening, Record};
use crate::domain::world::World;

/// An evening's results as they were entered together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Evening {
    /// What its records share.
    pub id: Uuid,
    /// The day most of its visits were made.
    pub day: Day,
    /// How many visits it holds; those taken back are not counted.
    pub visits: u32,
}

/// All evenings, the newest first.
pub fn evenings(world: &World) -> Vec<Evening> {
    let mut days: BTreeMap<Uuid, BTreeMap<Day, u32>> = BTreeMap::new();
    for record in all_records(world).filter(|record| !record.struck) {
        if let Some(evening) = record.together {
            *days.entry(evening).or_default().entry(record.day).or_default() += 1;
        }
    }
    let of = |(id, days): (Uuid, BTreeMap<Day, u32>)| {
        let visits = days.values().sum();
        let day = days.into_iter().max_by_key(|(_, visits)| *visits)?.0;
        Some(Evening { id, day, visits })
    };
    let mut found: Vec<Evening> = days.into_iter().filter_map(of).collect();
    found.sort_by_key(|evening| (std::cmp::Reverse(evening.day), std::cmp::Reverse(evening.id)));
    found
}

/// The records of an evening in the order they were entered; those taken back are among them.
pub fn records_of(world: &World, evening: Uuid) -> Vec<&Record> {
    let mut found: Vec<&Record> = all_records(world).filter(|record| record.together == Some(evening)).collect();
    found.sort_by_key(|record| record.id);
    found
}

/// The amendment that makes a recorded visit say these codes, at another hive where `to` names one; nothing where it
/// says so already.
///
/// # Errors
/// If the codes cannot be resolved at the hive.
pub fn correction(
    world: &World,
    record: &Record,
    to: Option<&Colony>,
    codes: &Codes,
    reason: &str,
    by: &str,
    mint: &mut dyn FnMut() -> Uuid,
) -> Result<Option<Amendment>, CodeError> {
    let colony = to.map_or(record.colony, |to| to.id);
    let (new, queens) = resolve_again(world, record, colony, record.day, codes, &Choice::default(), mint)?;
    let Happening::Visit(old) = &record.what else {
        return Err(CodeError::new(0, "That record is not of a visit", "Choose a visit from the history"));
    };
    let mut visit = new.visit;
    if let (Some(gave), Some(before)) = (&mut visit.gave, &old.gave) {
        gave.against_bar.clone_from(&before.against_bar);
    }
    let amendment = Amendment {
        to: (colony != record.colony).then_some(colony),
        day: (new.day != record.day).then_some(new.day),
        visit: (visit != **old).then(|| Box::new(visit)),
        words: (new.words.trim() != record.words).then_some(new.words),
        queens,
        ..Amendment::of(record.colony, record.id, reason, by)
    };
    let alters =
        amendment.to.is_some() || amendment.day.is_some() || amendment.visit.is_some() || amendment.words.is_some();
    Ok(alters.then_some(amendment))
}

fn all_records(world: &World) -> impl Iterator<Item = &Record> {
    world.records.values().flat_map(|records| records.iter())
}
