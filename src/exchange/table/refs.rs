//! How one row calls the hive of another: yard/hive; where several of the file have that name, the last is meant, and an
//! earlier one is called yard/hive#1, #2 and so on.

use std::collections::BTreeMap;

use crate::domain::colony::Colony;
use crate::domain::fold_text::fold;
use crate::domain::ids::ColonyId;
use crate::domain::world::World;
use crate::exchange::table::entry::{Entry, Kind};

/// A hive that a row calls by its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum HiveRef {
    /// One of the register.
    Old(ColonyId),
    /// The one of that row.
    Row(u32),
}

/// Yard and hive folded, as they are compared.
pub(super) fn hive_key(yard: &str, hive: &str) -> String {
    format!("{}/{}", fold(yard), fold(hive))
}

/// What other rows call a hive: the number-th of that name in the file, and perhaps the last of it.
pub(super) fn hive_label(yard: &str, hive: &str, number: usize, last: bool) -> String {
    // A name with the sign in it is always numbered, so that its own sign is never taken for a number.
    let plain = last && !yard.contains('#') && !hive.contains('#');
    if plain { format!("{yard}/{hive}") } else { format!("{yard}/{hive}#{number}") }
}

/// The hives of a file, and of the register behind it, by what they are called.
pub(super) struct Refs {
    rows: BTreeMap<String, Vec<u32>>,
    old: BTreeMap<String, ColonyId>,
}

impl Refs {
    pub fn new(world: &World, entries: &[Entry]) -> Self {
        let mut rows: BTreeMap<String, Vec<u32>> = BTreeMap::new();
        for entry in entries.iter().filter(|entry| entry.kind == Kind::Hive && entry.exact) {
            rows.entry(hive_key(&entry.yard, &entry.hive)).or_default().push(entry.number);
        }
        let key = |colony: &Colony| {
            let yard = world.yards.get(&colony.yard()?)?;
            Some((hive_key(&yard.name, colony.name()), colony.id))
        };
        // Of the register's own hives of one name the living one is meant, else the last that was founded.
        let mut all: Vec<&Colony> = world.colonies.values().map(AsRef::as_ref).collect();
        all.sort_by_key(|colony| (colony.is_living(), colony.founded, colony.id));
        let exact = entries.iter().any(|entry| entry.exact);
        Self { old: if exact { all.into_iter().filter_map(key).collect() } else { BTreeMap::new() }, rows }
    }

    /// The hive that is called so.
    pub fn find(&self, label: &str) -> Option<HiveRef> {
        let numbered = label.rsplit_once('#').and_then(|(name, number)| Some((fold(name), number.parse().ok()?)));
        if let Some((key, number)) = numbered {
            let row = self.rows.get(&key).and_then(|rows| rows.get(usize::checked_sub(number, 1)?));
            return row.copied().map(HiveRef::Row);
        }
        let key = fold(label);
        let row = self.rows.get(&key).and_then(|rows| rows.last()).copied().map(HiveRef::Row);
        row.or_else(|| self.old.get(&key).copied().map(HiveRef::Old))
    }
}
