//! The parts of how a colony stands: its queen, its phase, clock, bars, questions and offers.

use crate::domain::bar::BarKind;
use crate::domain::day::Day;
use crate::domain::ids::{BarId, ParcelId, PlanId, QueenId, RecordId, SourceId};
use crate::domain::queen::{Birth, Dot, Origin};
use crate::domain::visit::Method;

/// The queen of a colony.
#[derive(Clone, Debug, PartialEq)]
pub enum QueenNow {
    /// There is one, or one was given and has not failed.
    Present(QueenFacts),
    /// None, on purpose: waiting for her queen.
    Waiting {
        /// D, the day the old queen was removed.
        since: Day,
        /// The plan that will bring her.
        plan: Option<PlanId>,
    },
    /// None, and not on purpose (an introduction failed, she died).
    Queenless {
        /// Since when, where it is known.
        since: Option<Day>,
    },
}

/// What is known of the queen in a colony.
#[derive(Clone, Debug, PartialEq)]
pub struct QueenFacts {
    /// The recorded queen; nothing: one of whom the register has no entry (raised by the colony, superseded).
    pub queen: Option<QueenId>,
    /// Her birth, known, bounded or unknown.
    pub birth: Birth,
    /// How she came to be.
    pub origin: Origin,
    /// Her source.
    pub source: Option<SourceId>,
    /// Her dot.
    pub dot: Option<Dot>,
    /// The day she was given, or is taken to have begun here.
    pub since: Option<Day>,
    /// The parcel she came in.
    pub parcel: Option<ParcelId>,
}

/// Where in the programme a colony is.
#[derive(Clone, Debug, PartialEq)]
pub enum Phase {
    /// Nothing is going on.
    Settled,
    /// A queen was given and is not yet judged.
    Introduced(Introduced),
    /// She was accepted: laying since that find, until the next find makes it quiet.
    Accepted {
        /// The day of the find that settled it.
        on: Day,
    },
    /// It raises its own queen.
    RaisingOwn {
        /// D.
        since: Day,
    },
    /// Queenless on purpose.
    Waiting {
        /// D.
        since: Day,
    },
    /// The introduction failed, or the queen was lost.
    Failed {
        /// The day of the find that settled it.
        on: Day,
        /// How: `3 closed cells`.
        how: String,
        /// Cells were cut on that visit or later.
        cells_cut: bool,
    },
    /// Disease is suspected: due work rests.
    DiseaseSuspected {
        /// The day of the find.
        on: Day,
    },
    /// The colony has ended.
    Ended {
        /// Its last day.
        on: Day,
    },
}

/// An introduction that is under way.
#[derive(Clone, Debug, PartialEq)]
pub struct Introduced {
    /// How.
    pub method: Method,
    /// Day 0.
    pub day0: Day,
    /// D, where it is known; the old queen was never found: nothing.
    pub dequeened: Option<Day>,
    /// For a virgin: the day she emerged.
    pub emerged: Option<Day>,
    /// The queen.
    pub queen: QueenId,
    /// 1 for the first, 2 for the second attempt in a row …
    pub attempt: u32,
    /// The record that gave her.
    pub record: RecordId,
    /// What the last find of it said, for the lid note.
    pub last: LastLook,
}

/// What the last find of an introduction said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LastLook {
    /// None yet that counts.
    None,
    /// No eggs yet, on that day.
    NoEggs(Day),
    /// Laying late, on that day: capped brood to be seen.
    LateLayer(Day),
    /// Laying, look again (cells beside eggs, stopped laying).
    Again(Day),
    /// Another queen, on that day.
    Another(Day),
    /// Laying on that day, but the old queen was never found: whose eggs is open.
    Unproven(Day),
}

/// Whether she lays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Laying {
    /// Yes, dated back to about that day.
    Since(Day),
    /// Not yet.
    NotYet,
    /// No.
    No,
    /// Nobody has looked, or it proved nothing.
    Unknown,
}

/// How sure it is which queen she is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Identity {
    /// The recorded queen was seen on that day.
    Seen(Day),
    /// Not seen since she was recorded or given.
    Unconfirmed,
    /// Another queen was seen on that day.
    Another(Day),
    /// No queen is recorded.
    NotRecorded,
}

/// The queenless clock: D, and what the days since mean.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clock {
    /// D.
    pub since: Day,
    /// Days from D to today.
    pub days: i32,
    /// The day all cells were last cut.
    pub cells_cut: Option<Day>,
    /// The day the whole nest was last seen without cells, if that was later and before a virgin could have left one.
    pub no_cells: Option<Day>,
    /// The thresholds in order.
    pub marks: Vec<ClockMark>,
    /// What it asks for today: `Due now: look first. Give no caged queen before.`
    pub asks: String,
    /// It has become an alarm (own virgin may be out, laying workers likely).
    pub alarm: bool,
}

/// One threshold of the queenless clock.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClockMark {
    /// Days after D.
    pub days: i32,
    /// The day.
    pub day: Day,
    /// What it means: `Cut cells before giving`.
    pub words: String,
    /// `not done`, `done 22 Nov`; may be empty.
    pub note: String,
}

/// A bar that holds today.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ActiveBar {
    /// Its kind.
    pub kind: BarKind,
    /// Since when.
    pub from: Day,
    /// Its last day, if it has one.
    pub until: Option<Day>,
    /// Words.
    pub reason: String,
    /// A permit's reference under which planning is allowed.
    pub permit: Option<String>,
    /// The bar set by hand; nothing: it follows from a find or the season.
    pub bar: Option<BarId>,
    /// Methods it forbids to plan; empty: all.
    pub methods: Vec<Method>,
}

/// The open question which queen another queen was.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WhichQuestion {
    /// The record of the sighting.
    pub record: RecordId,
    /// Its day.
    pub seen: Day,
    /// The last day the recorded queen is known to have been there.
    pub last_hers: Option<Day>,
}

/// Something that may be done besides the due work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Offer {
    /// Give a test frame of eggs from a healthy colony.
    TestFrame,
    /// Let one cell stand and raise an own queen.
    LetCellStand,
    /// Mark a queen that mated here and has no dot.
    Mark,
}
