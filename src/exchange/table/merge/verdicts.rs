//! What is said of the rows of hives that are in the register already.

use std::collections::BTreeMap;

use crate::exchange::table::headings::Field;
use crate::exchange::table::preview::{Problem, Will};

/// What each row does.
#[derive(Debug, Default)]
pub(super) struct Verdicts(pub BTreeMap<u32, Said>);

/// What one row does, and what there is to say about it.
#[derive(Debug)]
pub(super) struct Said {
    pub will: Will,
    pub notes: Vec<Problem>,
    pub problems: Vec<Problem>,
}

impl Verdicts {
    /// The row is of a hive that is there; it does nothing yet.
    pub fn same(&mut self, row: u32) -> &mut Said {
        self.0.entry(row).or_insert_with(|| Said { will: Will::Same, notes: Vec::new(), problems: Vec::new() })
    }

    /// The row adds something.
    pub fn adds(&mut self, row: u32) {
        let said = self.same(row);
        if said.will == Will::Same {
            said.will = Will::Add;
        }
    }

    /// The same, with what it adds.
    pub fn adds_saying(&mut self, row: u32, field: Field, fact: impl Into<String>) {
        self.adds(row);
        self.same(row).notes.push(Problem::new(field, fact, ""));
    }

    /// The row changes something; the fact says what.
    pub fn changes(&mut self, row: u32, field: Field, fact: impl Into<String>) {
        let said = self.same(row);
        if said.will != Will::HoldBack {
            said.will = Will::Change;
        }
        said.notes.push(Problem::new(field, fact, ""));
    }

    /// The row contradicts the register.
    pub fn holds_back(&mut self, row: u32, problem: Problem) {
        let said = self.same(row);
        said.will = Will::HoldBack;
        said.problems.push(problem);
    }

    /// The row is held back.
    pub fn is_held(&self, row: u32) -> bool {
        self.0.get(&row).is_some_and(|said| said.will == Will::HoldBack)
    }
}
