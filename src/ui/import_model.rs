//! What the import screen shows of a file that was read: rows, what each will do, problems, questions.

/// A file that was read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ImportModel {
    /// The file.
    pub path: String,
    /// Its name without folders.
    pub name: String,
    /// `UTF-8`, `windows-1252`.
    pub encoding: String,
    /// `comma`, `semicolon`, `tab`, `GeoJSON`, `GPX`.
    pub kind: String,
    /// Columns in the file's order.
    pub columns: Vec<ImportColumn>,
    /// Rows in the file's order.
    pub rows: Vec<ImportRow>,
    /// The file's dates can be read both ways and nobody has said which.
    pub dates_ambiguous: bool,
    /// Dates are read day before month.
    pub day_first: bool,
    /// What will happen, in words: number, what, small words below.
    pub totals: Vec<(u32, String, String)>,
    /// Rows that can come in.
    pub ready: u32,
    /// Rows held back.
    pub held_back: u32,
    /// Remarks about the whole file.
    pub remarks: Vec<String>,
    /// Headings one may choose for a column that was not recognised.
    pub known_headings: Vec<String>,
    /// How long reading took, in milliseconds.
    pub read_ms: u64,
}

impl ImportModel {
    /// A row is held back because it names no yard.
    pub fn has_empty_yards(&self) -> bool {
        let Some(yard) = self.columns.iter().position(|column| column.ours.as_deref() == Some("yard")) else {
            return false;
        };
        let is_empty = |row: &ImportRow| row.cells.get(yard).is_some_and(|cell| cell.trim().is_empty());
        self.rows
            .iter()
            .any(|row| is_empty(row) && row.problems.iter().any(|it| it.holds_back && it.column == Some(yard)))
    }
}

/// One column of the file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ImportColumn {
    /// The file's heading.
    pub theirs: String,
    /// Ours; nothing: left out.
    pub ours: Option<String>,
}

/// One row of the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ImportRow {
    /// Its number in the file, the heading being row 1.
    pub number: usize,
    /// What will be done with it.
    pub will: ImportWill,
    /// Its fields in the order of the columns.
    pub cells: Vec<String>,
    /// Columns with a problem, and with a hint.
    pub problems: Vec<ImportProblem>,
    /// What Lidnote says of it.
    pub says: String,
}

/// A problem or hint at one field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ImportProblem {
    /// The column, counted from 0; nothing: the whole row.
    pub column: Option<usize>,
    /// The fact.
    pub fact: String,
    /// The way out.
    pub remedy: String,
    /// It holds the row back; otherwise it is a hint.
    pub holds_back: bool,
}

/// What will be done with a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ImportWill {
    /// It adds a hive or a yard.
    Add,
    /// It changes one that is there.
    Change,
    /// It says nothing new.
    Same,
    /// It is held back until its problem is mended.
    HoldBack,
}

impl ImportWill {
    /// `Add` …
    pub fn words(self) -> &'static str {
        match self {
            Self::Add => "Add",
            Self::Change => "Change",
            Self::Same => "Same",
            Self::HoldBack => "Hold back",
        }
    }
}
