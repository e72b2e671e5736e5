//! One row, read cell by cell. What cannot be read becomes a problem that names its field.
//!
//! [`Reader`] reads single cells; the rooms beside it read what belongs together: `yard`, `queen`, `visit`, `told` (what
//! only an export says) and `whole_row` (what two cells say against each other).

mod queen;
mod reader;
mod told;
mod visit;
mod whole_row;
mod yard;

use crate::domain::bar::BarKind;
use crate::domain::colony::{End, Founding, Lid};
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::place::Place;
use crate::domain::queen::{Birth, Dot, Origin};
use crate::domain::record::Which;
use crate::domain::visit::{Method, OldQueen};
use crate::domain::yard::{Gate, Layout, Spot};
use crate::exchange::table::codes::Found;
use crate::exchange::table::preview::Problem;

pub(super) use reader::{FREE, Reader};
pub(super) use told::{PlanCells, Told};

/// What a row is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    Firm,
    Setting,
    Source,
    Yard,
    Parcel,
    Hive,
    Corrected,
    Named,
    Stood,
    Visit,
    Answer,
    Lifted,
    Split,
    United,
    Amended,
    Plan,
    PlanMoved,
    Bar,
    Run,
    Stop,
    LeftOut,
}

impl Kind {
    /// All kinds and their words under `entry`.
    const ALL: [(Self, &str); 21] = [
        (Self::Firm, "firm"),
        (Self::Setting, "setting"),
        (Self::Source, "source"),
        (Self::Yard, "yard"),
        (Self::Parcel, "parcel"),
        (Self::Hive, "hive"),
        (Self::Corrected, "corrected"),
        (Self::Named, "named"),
        (Self::Stood, "stood"),
        (Self::Visit, "visit"),
        (Self::Answer, "answer"),
        (Self::Lifted, "lifted"),
        (Self::Split, "split"),
        (Self::United, "united"),
        (Self::Amended, "amended"),
        (Self::Plan, "plan"),
        (Self::PlanMoved, "plan moved"),
        (Self::Bar, "bar"),
        (Self::Run, "run"),
        (Self::Stop, "stop"),
        (Self::LeftOut, "left out"),
    ];

    fn of(word: &str) -> Option<Self> {
        let word = fold(word);
        Self::ALL.iter().find(|(_, own)| *own == word).map(|(kind, _)| *kind)
    }

    /// Its word under `entry`.
    pub fn word(self) -> &'static str {
        Self::ALL.iter().find(|(kind, _)| *kind == self).map_or("", |(_, word)| word)
    }

    fn names_a_yard(self) -> bool {
        !matches!(self, Self::Firm | Self::Setting | Self::Source | Self::Parcel | Self::Run)
    }

    fn names_a_hive(self) -> bool {
        self.names_a_yard() && !matches!(self, Self::Yard | Self::Bar | Self::Stop | Self::LeftOut)
    }

    /// It says more about the row above it.
    pub fn belongs_above(self) -> bool {
        matches!(self, Self::Amended | Self::PlanMoved | Self::Stop | Self::LeftOut)
    }
}

/// What a row says of its yard.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct YardFacts {
    pub place: Option<Place>,
    pub gate: Option<Gate>,
    pub minutes: Option<u32>,
    pub access: String,
    pub hazards: Vec<String>,
    pub group: String,
    pub layout: Option<Layout>,
    /// The note of a row that names no hive.
    pub note: String,
    /// The yard is no longer there.
    pub removed: bool,
}

/// What a row says of a queen.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct QueenCells {
    /// By which other rows of the file call her.
    pub number: Option<u32>,
    pub birth: Option<Birth>,
    pub dot: Option<Dot>,
    pub source: String,
    pub origin: Option<Origin>,
    pub note: String,
}

impl QueenCells {
    /// The row says anything of her.
    pub fn any(&self) -> bool {
        *self != Self::default()
    }
}

/// What a row says of a bar.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct BarCells {
    pub kind: BarKind,
    pub until: Option<Day>,
    pub permit: Option<String>,
    pub lifted: Option<Day>,
    pub lifted_by: String,
}

/// What only the row of an export says of something that happened.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Circumstances {
    /// The number of the parcel a queen came from.
    pub parcel: Option<u32>,
    pub against_bar: Option<String>,
    pub lid_swapped: String,
    pub queen_to: String,
    pub other_hive: String,
    /// The evening's number and the place in it.
    pub evening: Option<(u32, u32)>,
    pub taken_back: bool,
}

/// What only the row of an export says of a hive.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct HiveCells {
    pub parent: String,
    pub united_into: String,
    pub lid: Lid,
}

/// A row as read.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Entry {
    pub number: u32,
    pub kind: Kind,
    /// The row says itself what it is, as an export does: nothing is guessed then.
    pub exact: bool,
    pub yard: String,
    pub facts: YardFacts,
    pub hive: String,
    pub spot: Option<Spot>,
    pub since: Option<Day>,
    pub founding: Option<Founding>,
    /// The row says that the colony has, or had before the introduction, no queen.
    pub queenless: bool,
    pub queen: QueenCells,
    pub own_line: Option<bool>,
    pub introduced: Option<Day>,
    pub method: Option<Method>,
    pub old_queen: Option<OldQueen>,
    /// The old queen was removed on that day, no queen was given, and the look is of another day.
    pub dequeened: Option<Day>,
    pub cells: u8,
    pub emerged: Option<Day>,
    pub look: Option<Day>,
    pub found: Option<Found>,
    pub by: String,
    pub words: String,
    pub note: String,
    pub ended: Option<End>,
    pub answer: Option<Which>,
    pub bar: Option<BarCells>,
    pub setting: Option<(String, f64)>,
    pub around: Circumstances,
    pub more: HiveCells,
    pub told: Told,
    pub problems: Vec<Problem>,
    pub notes: Vec<Problem>,
}
