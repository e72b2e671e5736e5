//! The rows an export of the register would have: a row of a file that is one of them tells nothing new.

use std::collections::{BTreeMap, VecDeque};

use crate::domain::world::World;
use crate::exchange::table::entry::Entry;
use crate::exchange::table::export::{Owner, Row, rows};

/// Those rows, and what each stands for.
pub(super) struct KnownRows(BTreeMap<Row, VecDeque<Owner>>);

impl KnownRows {
    /// The rows of that register; none where no row of the file says itself what it is.
    pub fn new(world: &World, entries: &[Entry]) -> Self {
        let mut known: BTreeMap<Row, VecDeque<Owner>> = BTreeMap::new();
        if entries.iter().any(|entry| entry.exact) {
            for (owner, row) in rows(world) {
                known.entry(in_order(row)).or_default().push_back(owner);
            }
        }
        Self(known)
    }

    /// What a row stands for, if the register's export has it; each of its rows is there once.
    pub fn take(&mut self, row: Row) -> Option<Owner> {
        self.0.get_mut(&in_order(row)).and_then(VecDeque::pop_front)
    }
}

/// Its cells in the order of the columns.
fn in_order(mut row: Row) -> Row {
    row.sort();
    row
}
