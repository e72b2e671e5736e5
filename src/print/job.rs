//! What is to be printed, in finished words, and what came of it.

use crate::print::sheet::{Sheet, SheetFault};

/// Year, month 1 to 12, day 1 to 31: written into the file as its day of making.
pub type Created = (i32, u8, u8);

/// Lid labels on one kind of sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct LabelJob {
    /// In the order of printing; at least one.
    pub labels: Vec<Label>,
    /// The sheet they go on.
    pub sheet: Sheet,
    /// The first free label of the first sheet, 1-based, left to right, then down.
    pub start_at: usize,
    /// Title of the file.
    pub title: String,
    /// Language of the words, such as `en`.
    pub language: String,
    /// Day of making.
    pub created: Created,
    /// Draws the labels' edges and marks the used ones: for a proof on plain paper and the picture on the screen.
    pub outlines: bool,
}

/// One lid label.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Label {
    /// The lid note. Twenty characters fit a label of 63.5 mm.
    pub lines: [String; 3],
    /// Small print under it, a string a line.
    pub small: Vec<String>,
    /// Codes of evening entry, each with a box to tick, such as `e` or `/k`; empty where nothing is due.
    pub boxes: Vec<String>,
    /// A line to write the day and one for the initials; only drawn beside boxes.
    pub day_and_by: bool,
}

/// Paper for sheets that are not labels.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// 210 × 297 mm (ISO 216).
    #[default]
    A4,
    /// 215.9 × 279.4 mm (ANSI A).
    Letter,
}

impl Paper {
    /// Width and height in mm.
    pub fn size(self) -> (f32, f32) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
        }
    }
}

/// One vehicle's run on one day, as the sheet that rides along.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct RunSheetJob {
    /// `Run sheet, Tue 24 Nov 2026`; also the title of the file.
    pub title: String,
    /// Vehicle, counts, hours and distance in one line.
    pub subtitle: String,
    /// The firm's name; may be empty.
    pub firm: String,
    /// Paper of the sheet.
    pub paper: Paper,
    /// Language of the words, such as `en`.
    pub language: String,
    /// Day of making.
    pub created: Created,
    /// Cautions and facts to read before leaving, each a sentence.
    pub before_you_go: Vec<String>,
    /// Things to carry, each with a box to tick.
    pub load: Vec<String>,
    /// The run drawn small; empty leaves the frame out.
    pub sketch: Sketch,
    /// The codes that have a box in every row.
    pub codes: Vec<CodeColumn>,
    /// In the order of driving.
    pub stops: Vec<Stop>,
    /// Printed under `Notes` after the last stop.
    pub notes: Vec<String>,
    /// Empty lines to write on under the notes; fewer are drawn where the page is full, but one at least.
    pub note_rules: usize,
    /// What the codes mean, at the foot of every page.
    pub legend: String,
}

/// A code of evening entry that has its own column of boxes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CodeColumn {
    /// The code as it is typed.
    pub code: String,
    /// What it means in one short word.
    pub word: String,
}

impl CodeColumn {
    /// The eight codes that have a column.
    pub fn standard() -> Vec<Self> {
        [
            ("e", "eggs"),
            ("l", "larv."),
            ("b", "capp."),
            ("q", "her"),
            ("u", "other"),
            ("c", "cells"),
            ("o", "open"),
            ("n", "none"),
        ]
        .map(|(code, word)| Self { code: code.to_owned(), word: word.to_owned() })
        .to_vec()
    }
}

/// One yard of the run.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Stop {
    /// As in the sketch, mostly `1`, `2`, …
    pub number: String,
    /// Name of the yard.
    pub yard: String,
    /// Time of arrival, such as `07:52`; may be empty.
    pub arrive: String,
    /// Time of leaving; may be empty.
    pub leave: String,
    /// Way from the stop before, such as `11 km`; may be empty.
    pub distance: String,
    /// Gate, ground, caution; goes on a line of its own where it is long.
    pub note: String,
    /// Rows in walking order; may be empty for a yard that is only passed or must not be opened.
    pub hives: Vec<HiveRow>,
}

/// One hive of a stop. Cells break into lines by themselves; `\n` breaks where it stands.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct HiveRow {
    /// Name painted on the box.
    pub hive: String,
    /// The queen that is there, how and when given.
    pub there: String,
    /// What is due and until when.
    pub due: String,
    /// The parts of `due` to print bold, such as `late`, in the order in which they stand there; a part that does not is passed
    /// over.
    pub due_bold: Vec<String>,
    /// What to look for.
    pub look_for: String,
}

/// The run drawn small. Places run from 0 to 1, left to right and top to bottom of the frame (55 × 30 mm).
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Sketch {
    /// Lines, drawn in the order coast, road, route.
    pub lines: Vec<SketchLine>,
    /// Numbered stops.
    pub stops: Vec<SketchPoint>,
    /// Where the run begins.
    pub base: Option<SketchPoint>,
}

impl Sketch {
    /// Nothing to draw.
    pub fn is_empty(&self) -> bool {
        self.lines.is_empty() && self.stops.is_empty() && self.base.is_none()
    }
}

/// A line of the sketch.
#[derive(Debug, Clone, PartialEq)]
pub struct SketchLine {
    /// How it is drawn.
    pub class: LineClass,
    /// In order; points outside 0 to 1 are cut off at the frame.
    pub points: Vec<(f32, f32)>,
}

/// A line of the country below a run's sketch.
#[derive(Debug, Clone, PartialEq)]
pub struct GroundLine {
    /// Coast or road.
    pub class: LineClass,
    /// In order: longitude and latitude in degrees.
    pub points: Vec<(f64, f64)>,
}

/// How a line of the sketch is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum LineClass {
    /// Dark grey, thin.
    Coast,
    /// Light grey, thin.
    Road,
    /// Black, thick.
    Route,
}

/// A marked place of the sketch.
#[derive(Debug, Clone, PartialEq)]
pub struct SketchPoint {
    /// The stop's number, or the name of the base.
    pub label: String,
    /// Place, 0 to 1.
    pub at: (f32, f32),
}

/// A finished file.
#[derive(Debug, Clone, PartialEq)]
pub struct Printed {
    /// The PDF (PDF/A-2b); the same job gives the same bytes.
    pub bytes: Vec<u8>,
    /// Pages in it.
    pub pages: usize,
    /// What could not be printed as it stands, in the order of printing.
    pub warnings: Vec<Warning>,
}

/// A word that is on paper otherwise than in the job.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Warning {
    /// The label or row, in words: `label 3 (B14 CAGE IN 14 NOV)`, `stop 2, hive LK29`.
    pub place: String,
    /// 1-based number of the label or stop; 0 for the head of a sheet.
    pub number: usize,
    /// What was done.
    pub what: Trouble,
}

/// What was done to a word that could not be printed as it stands.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Trouble {
    /// No font has this character; a `?` stands in its place.
    NoCharacter(char),
    /// The text was too wide even in the smallest letters and ends in `…`.
    Cut(String),
    /// No room was left for this text; it is not on the paper.
    LeftOut(String),
}

/// Why nothing was printed.
#[derive(Debug, thiserror::Error)]
pub enum PrintError {
    /// A job without labels.
    #[error("There is no label to print. Choose hives first")]
    NoLabels,
    /// A run without stops.
    #[error("The run has no stop. Add one first")]
    NoStops,
    /// The sheet's measures are impossible.
    #[error("The sheet cannot be printed: {0}")]
    Sheet(#[from] SheetFault),
    /// The first label lies beyond the sheet.
    #[error("{}", beyond(*start_at, *places))]
    StartBeyondSheet {
        /// Where printing was to start, 1-based.
        start_at: usize,
        /// Labels on a sheet.
        places: usize,
    },
    /// A font inside the program is damaged.
    #[error("The font {0} inside the program cannot be read. Install the program again")]
    Font(&'static str),
    /// The PDF library refused.
    #[error("The file could not be made: {0}")]
    File(String),
}

fn beyond(start_at: usize, places: usize) -> String {
    let (labels, way_out) = if places == 1 {
        ("1 label".to_owned(), "1".to_owned())
    } else {
        (format!("{places} labels"), format!("1 to {places}"))
    };
    format!("The sheet has {labels}, so label {start_at} is not on it. Start at {way_out}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_refusal_names_the_way_out() {
        let refusal = PrintError::StartBeyondSheet { start_at: 30, places: 24 };
        let words = "The sheet has 24 labels, so label 30 is not on it. Start at 1 to 24";
        assert_eq!(refusal.to_string(), words);
        let one = PrintError::StartBeyondSheet { start_at: 2, places: 1 };
        assert_eq!(one.to_string(), "The sheet has 1 label, so label 2 is not on it. Start at 1");
    }
}
