//! One visit to one hive: what was seen, what was done, and what was given.

use serde::{Deserialize, Serialize};

use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, ParcelId, QueenId};
use crate::domain::queen::Dot;

/// A visit to a hive on one day. Every field has a code in the grammar of evening entry.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Visit {
    /// How much of the nest was seen.
    pub coverage: Coverage,
    /// What was seen.
    pub seen: Seen,
    /// What was done, apart from giving a queen.
    pub did: Did,
    /// A queen, cell or nuc given on this visit.
    pub gave: Option<Given>,
    /// Temper on a scale of 1 (strong defence) to 4 (no smoke needed); COLOSS BEEBOOK (Büchler et al. 2013), table 5.
    pub temper: Option<u8>,
    /// The lid of this hive was swapped with that of another.
    pub lids_swapped: Option<ColonyId>,
}

/// How much of the nest was seen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Coverage {
    /// The whole nest.
    #[default]
    Full,
    /// A part of it: what was not seen there proves nothing.
    Part,
    /// The hive was not opened.
    Unopened(Unopened),
}

/// Why a hive was not opened.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Unopened {
    /// Rain, wind or cold.
    Weather,
    /// No time left.
    Time,
    /// The hive was not found, or could not be reached.
    NotFound,
}

/// What was seen. Everything false and `nothing` false: no word about the brood, so no evidence.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Seen {
    /// Eggs.
    pub eggs: bool,
    /// Open larvae.
    pub larvae: bool,
    /// Capped worker brood.
    pub capped: bool,
    /// The recorded queen.
    pub her: bool,
    /// Another queen than the recorded one.
    pub another: bool,
    /// Closed queen cells; 0: code `c` without a number counts as one.
    pub closed_cells: Option<u8>,
    /// Queen cells begun.
    pub begun_cells: Option<u8>,
    /// A queen cell opened at its tip: a queen has come out.
    pub opened_cell: bool,
    /// Looked for, and nothing of all this seen.
    pub nothing: bool,
    /// The caged queen.
    pub cage: Option<InCage>,
    /// Drone brood in worker cells: a drone layer.
    pub drone_layer: bool,
    /// Several eggs a cell, or eggs on the walls: laying workers.
    pub laying_workers: bool,
    /// Brood disease suspected.
    pub disease: Option<Disease>,
    /// The colony has swarmed.
    pub swarmed: bool,
    /// The colony is dead.
    pub dead: bool,
}

/// The state of a queen in her cage.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum InCage {
    /// Alive; she was released on this visit, unless she is under a push-in cage that stays on.
    Alive,
    /// Dead.
    Dead,
}

/// A brood disease that is suspected.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Disease {
    /// Suspected, not named: treated like American foulbrood until named.
    NotNamed,
    /// American foulbrood.
    AmericanFoulbrood,
    /// European foulbrood.
    EuropeanFoulbrood,
    /// Chalkbrood.
    Chalkbrood,
    /// Another.
    Other,
}

/// What was done on a visit.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Did {
    /// The old queen was found and removed.
    pub dequeened: bool,
    /// Removed, and put to use in this colony (a split, a nuc) instead of killed.
    pub queen_to: Option<ColonyId>,
    /// The old queen was looked for and not found.
    pub queen_not_found: bool,
    /// All queen cells were cut.
    pub cells_cut: bool,
    /// A cell was left standing, so that the colony raises its own.
    pub cells_left: bool,
    /// The push-in cage was taken off.
    pub cage_off: bool,
    /// A test frame of eggs from a healthy colony was given.
    pub test_frame: Option<TestFrame>,
    /// The queen was marked.
    pub marked: Option<Marked>,
}

/// A test frame of eggs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TestFrame {
    /// The frame was marked, so that finds leave its brood out.
    pub marked: bool,
}

/// How a queen was marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Marked {
    /// The dot; nothing: the colour of the year by the convention.
    pub dot: Option<Dot>,
}

/// How a queen is brought into a colony.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Method {
    /// Mated queen in a cage with candy.
    Caged,
    /// Mated queen under a push-in cage.
    PushIn,
    /// Mature queen cell.
    Cell,
    /// Virgin queen.
    Virgin,
    /// Nuc with a laying queen, united.
    Nuc,
    /// The colony raises its own.
    OwnRaising,
}

impl Method {
    /// All methods, in the order lists show them.
    pub const ALL: [Self; 6] = [Self::Caged, Self::PushIn, Self::Cell, Self::Virgin, Self::Nuc, Self::OwnRaising];

    /// `caged queen`, `mature cell` …
    pub fn words(self) -> &'static str {
        match self {
            Self::Caged => "caged queen",
            Self::PushIn => "push-in cage",
            Self::Cell => "mature cell",
            Self::Virgin => "virgin",
            Self::Nuc => "nuc united",
            Self::OwnRaising => "own raising",
        }
    }

    /// The queen mates here, so she may start late or not at all.
    pub fn mates_here(self) -> bool {
        matches!(self, Self::Cell | Self::Virgin | Self::OwnRaising)
    }
}

/// A queen, cell or nuc that was given.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Given {
    /// How.
    pub method: Method,
    /// The queen; a cell's queen is entered when the cell is given.
    pub queen: QueenId,
    /// The parcel she came from.
    pub parcel: Option<ParcelId>,
    /// What was known of the old queen.
    pub old_queen: OldQueen,
    /// For a virgin: the day she emerged, if known; otherwise the day she was given counts.
    pub emerged: Option<Day>,
    /// For cells: how many were given, at least 1.
    pub cells: u8,
    /// Given although a bar forbade planning it: the bar's reason, kept as a loud flag.
    pub against_bar: Option<String>,
}

/// What became of the old queen when a new one was given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum OldQueen {
    /// The colony's own records say it (it was queenless, or she was removed on an earlier visit).
    AsRecorded,
    /// Found and removed on that day: D.
    RemovedOn(Day),
    /// Looked for and never found.
    NotFound,
}
