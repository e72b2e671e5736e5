//! What a file holds and what bringing it in would do. Nothing is applied.

use std::collections::BTreeMap;

use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::exchange::dates::DateOrder;
use crate::exchange::table::entry::Kind;
use crate::exchange::table::headings::Field;
use crate::exchange::table::letters::Letters;
use crate::exchange::table::plan::Plan;

/// Why a file cannot be read at all.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{fact}. {remedy}")]
pub struct Unreadable {
    /// The fact, without a full stop; it names the row where there is one.
    pub fact: String,
    /// What to do, without a full stop.
    pub remedy: String,
}

impl Unreadable {
    /// A fact and what to do.
    pub fn new(fact: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { fact: fact.into(), remedy: remedy.into() }
    }
}

/// What the user has said about a file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Options {
    /// Their headings, as they stand in the file, and what they mean; nothing: the column is left out.
    pub mapping: BTreeMap<String, Option<Field>>,
    /// The order of day and month, where it was asked.
    pub dates: Option<DateOrder>,
    /// The letters of the file; nothing: found out.
    pub letters: Option<Letters>,
    /// What to do with hives and yards that are in the register already, with other details.
    pub existing: Existing,
    /// A hive's row that names no yard stands in the yard of the row above, as merged cells of a sheet leave it.
    pub yard_above: bool,
    /// Cells corrected in the preview, by row and field. The file is not touched. A name corrected to what it was is
    /// thereby confirmed.
    pub corrections: BTreeMap<(u32, Field), String>,
    /// A file of two columns or more in which none is known is no error: what they are is said next.
    pub map_later: bool,
}

/// What to do with what is in the register already, with other details.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Existing {
    /// Such rows are held back until it is decided.
    #[default]
    Ask,
    /// The register stays as it is.
    Skip,
    /// The register takes what the file says.
    Update,
}

/// A file as it was read, and what would happen.
#[derive(Clone, Debug, PartialEq)]
pub struct Preview {
    /// How its letters were read.
    pub letters: Letters,
    /// What separates its cells; nothing for points.
    pub delimiter: Option<char>,
    /// The order in which its dates were read, where that mattered.
    pub dates: Option<DateOrder>,
    /// Its headings in order.
    pub headings: Vec<Heading>,
    /// Its rows in order.
    pub rows: Vec<PreviewRow>,
    /// What must be asked once for the whole file.
    pub question: Option<DateQuestion>,
    /// What was left out of the file as a whole: tracks, shapes that are no points.
    pub left_out: Vec<String>,
    /// What will happen, counted.
    pub totals: Totals,
    /// The day it was made on.
    pub today: Day,
    pub(super) plan: Plan,
}

/// A heading of a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Heading {
    /// As it stands in the file.
    pub theirs: String,
    /// What it is taken for; nothing: the column is left out.
    pub field: Option<Field>,
}

/// One row of a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PreviewRow {
    /// Its number as a spreadsheet shows it; the headings are row 1.
    pub row: u32,
    /// Its cells in the order of the headings, with corrections.
    pub cells: Vec<String>,
    /// What will be done with it.
    pub will: Will,
    /// What there is to say about it: its first problem, or its notes.
    pub says: String,
    /// Why it is held back.
    pub problems: Vec<Problem>,
    /// What is worth knowing, and does not hold it back.
    pub notes: Vec<Problem>,
}

/// What will be done with a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Will {
    /// Something is added.
    Add,
    /// Something in the register changes.
    Change,
    /// All of it is in the register already, or is to stay as it is there.
    Same,
    /// Nothing, until its problems are solved.
    HoldBack,
}

impl Will {
    /// `Add`, `Change`, `Same`, `Hold back`.
    pub fn words(self) -> &'static str {
        match self {
            Self::Add => "Add",
            Self::Change => "Change",
            Self::Same => "Same",
            Self::HoldBack => "Hold back",
        }
    }
}

/// A problem, or a note.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// The field; nothing: the row as a whole.
    pub field: Option<Field>,
    /// The fact, without a full stop.
    pub fact: String,
    /// What to do, without a full stop; empty for notes.
    pub remedy: String,
}

impl Problem {
    /// A fact about a field and what to do.
    pub fn new(field: Field, fact: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { field: Some(field), fact: fact.into(), remedy: remedy.into() }
    }
}

/// Dates that can be read two ways: asked once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DateQuestion {
    /// A date of the file: `3/4/2026`.
    pub example: String,
    /// Read with the day first.
    pub day_first: Day,
    /// Read with the month first.
    pub month_first: Day,
    /// How many rows hold such dates.
    pub rows: u32,
}

/// What will happen, counted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Totals {
    /// Rows of the file.
    pub rows: u32,
    /// Hives added.
    pub hives_added: u32,
    /// Rows that change something in the register.
    pub changed: u32,
    /// Rows that stay as they are.
    pub same: u32,
    /// Rows held back.
    pub held_back: u32,
    /// Yards in which something is added or changed.
    pub yards: u32,
    /// Yards that are new.
    pub yards_new: u32,
    /// Sources that are new.
    pub sources_new: u32,
    /// Introductions under way, whose looks follow at once.
    pub looks: u32,
    /// Introductions so long ago that the queen is taken as settled.
    pub settled: u32,
    /// Finds that are recorded.
    pub finds: u32,
    /// Rows that add to what is there.
    pub more: More,
}

/// Rows of an export that add to the hives and runs that are in the register already, by what they tell.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct More {
    /// Visits, answers, splits and unitings.
    pub records: u32,
    /// Plans, and days to which they were moved.
    pub plans: u32,
    /// Amendments and corrections.
    pub amendments: u32,
    /// Former names and places, stops of a run.
    pub others: u32,
}

impl More {
    pub(super) fn count(&mut self, kind: Kind) {
        let one = match kind {
            Kind::Hive | Kind::Visit | Kind::Answer | Kind::Lifted | Kind::Split | Kind::United => &mut self.records,
            Kind::Plan | Kind::PlanMoved => &mut self.plans,
            Kind::Amended | Kind::Corrected => &mut self.amendments,
            _ => &mut self.others,
        };
        *one += 1;
    }

    /// All of them.
    pub fn all(self) -> u32 {
        self.records + self.plans + self.amendments + self.others
    }

    /// `12 records, 1 plan, 3 amendments`.
    pub fn words(self) -> String {
        let kinds = [
            (self.records, "record", "records"),
            (self.plans, "plan", "plans"),
            (self.amendments, "amendment", "amendments"),
            (self.others, "name, place or stop", "names, places and stops"),
        ];
        let said = kinds.iter().filter(|(count, ..)| *count > 0);
        let words = said.map(|(count, one, many)| format!("{count} {}", if *count == 1 { one } else { many }));
        words.collect::<Vec<_>>().join(", ")
    }
}

impl Preview {
    /// The file is an export: a row of it tells where home is.
    pub fn tells_home(&self) -> bool {
        let entry = self.headings.iter().position(|heading| heading.field == Some(Field::Entry));
        let is_firm =
            |row: &PreviewRow| entry.and_then(|at| row.cells.get(at)).is_some_and(|cell| fold(cell) == "firm");
        self.rows.iter().any(is_firm)
    }

    /// Rows that will be brought in.
    pub fn bring_in(&self) -> u32 {
        self.totals.rows - self.totals.held_back - self.totals.same
    }
}
