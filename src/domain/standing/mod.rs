//! How a colony stands on a day: read off its records, never stored.
//!
//! [`course`] folds the records of one colony in order and judges each find by design section 9. What a colony's
//! queen, due work, clock, bars and lid note are follows from that fold alone, so an amendment of an old record makes
//! everything after it right again.

mod act;
pub mod age;
pub mod bars;
mod clock;
mod due;
mod due_words;
mod failure;
mod find;
mod fold;
mod give;
mod settle;
mod state;
mod trial;
mod untried;
mod visit_fold;
pub mod windows;

use std::collections::BTreeMap;

use crate::domain::bar::BarKind;
use crate::domain::day::Day;
use crate::domain::ids::{BarId, ColonyId, ParcelId, PlanId, QueenId, RecordId, SourceId};
use crate::domain::queen::{Birth, Dot, Origin};
use crate::domain::visit::{Method, Visit};
use crate::domain::work::{DueWork, WorkState};
use crate::domain::world::World;

/// Everything the fold of one colony's records yields.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// How the colony stands.
    pub standing: Standing,
    /// What each record meant on its day, in the order of the records (struck ones left out).
    pub outcomes: Vec<(RecordId, Outcome)>,
}

/// How a colony stands on a day.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// Her, or why there is none.
    pub queen: QueenNow,
    /// Where in the programme the colony is.
    pub phase: Phase,
    /// Is she laying?
    pub laying: Laying,
    /// Which queen is it?
    pub identity: Identity,
    /// Due work, most urgent first (by latest day, then best).
    pub work: Vec<DueWork>,
    /// The queenless clock, where it runs.
    pub clock: Option<Clock>,
    /// Bars that hold today, hardest first.
    pub bars: Vec<ActiveBar>,
    /// Another queen than the recorded one was seen and nobody has said which.
    pub which: Option<WhichQuestion>,
    /// What may be done besides the due work.
    pub offers: Vec<Offer>,
    /// Loud flags: `Given 14 Nov against a bar: quarantine`.
    pub flags: Vec<String>,
    /// The day from which temper counts as hers, where it is known.
    pub temper_from: Option<Day>,
    /// The last temper noted, with its day.
    pub temper: Option<(u8, Day)>,
    /// The last day the hive was opened.
    pub last_opened: Option<Day>,
    /// The last find on which the whole nest was seen, or anything was seen in it.
    pub last_find: Option<Day>,
    /// What the last find of a trial that is not decided said, own raising included.
    pub last_look: LastLook,
    /// The introduction that is under way, was accepted last or failed last; none for own raising without a queen's
    /// entry.
    pub introduced: Option<Introduced>,
}

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

/// What one record meant on its day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Outcome {
    /// Its class, for counts and colour.
    pub class: OutcomeClass,
    /// One or two sentences: `Laying, her seen. Accepted, nothing due.`
    pub sentence: String,
    /// The introduction it settled, with the verdict (true: accepted), where it settled one.
    pub settled: Option<(Method, bool)>,
}

/// Classes of outcome, each counted once in the evening's counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OutcomeClass {
    /// Laying.
    Laying,
    /// Not laying yet, nothing lost.
    NotYet,
    /// Failed or queenless: to decide.
    ToDecide,
    /// Another queen than recorded.
    Another,
    /// Barred: disease suspected.
    Barred,
    /// No evidence (unopened, part of the nest, too early): still due.
    StillDue,
    /// A step was done (given, cage off, cells cut, marked).
    StepDone,
    /// Noted, nothing follows.
    Noted,
}

/// How a queen's age is classed on the map.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum AgeClass {
    /// First season.
    First,
    /// Second season.
    Second,
    /// Third season.
    Third,
    /// Older.
    Older,
    /// Not known.
    Unknown,
    /// Queenless.
    Queenless,
    /// Queenless on purpose.
    Waiting,
}

impl AgeClass {
    /// All seven, in the order of bands and legend.
    pub const ALL: [Self; 7] =
        [Self::First, Self::Second, Self::Third, Self::Older, Self::Unknown, Self::Queenless, Self::Waiting];

    /// `first season` …
    pub fn words(self) -> &'static str {
        match self {
            Self::First => "first season",
            Self::Second => "second season",
            Self::Third => "third season",
            Self::Older => "older",
            Self::Unknown => "age not known",
            Self::Queenless => "queenless",
            Self::Waiting => "waiting for her queen",
        }
    }
}

/// What a colony's lid shows, in rising urgency.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LidState {
    /// Nothing due today.
    Quiet,
    /// Barred.
    Barred,
    /// A window is open.
    Due,
    /// A latest day has passed.
    Late,
    /// An introduction failed, or the colony is queenless, or the clock raises an alarm.
    Action,
}

impl LidState {
    /// All five, in the order of the legend.
    pub const ALL: [Self; 5] = [Self::Quiet, Self::Due, Self::Late, Self::Action, Self::Barred];

    /// `quiet`, `due` …
    pub fn words(self) -> &'static str {
        match self {
            Self::Quiet => "nothing due",
            Self::Barred => "barred",
            Self::Due => "due",
            Self::Late => "late",
            Self::Action => "action needed",
        }
    }
}

/// The note that belongs on a hive's lid now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LidNote {
    /// Three lines of at most 20 characters; a line may be empty.
    pub lines: [String; 3],
    /// Small print of a printed label.
    pub small: Vec<String>,
    /// Letters of evening entry to print boxes for; empty where nothing is due.
    pub boxes: Vec<char>,
    /// Codes of evening entry for the steps that are due (`/k`, `/c`), to print boxes for before the letters.
    pub steps: Vec<&'static str>,
    /// The name was too long and was shortened.
    pub shortened: bool,
    /// Nothing is due and nothing is going on: such a note alone is no reason to print.
    pub plain: bool,
}

/// Reads off how a colony stands on a day; only records up to that day count. Nothing for a colony that is not there.
pub fn course(world: &World, colony: ColonyId, today: Day) -> Option<Course> {
    fold::course(world, colony, today)
}

/// How a colony stands on a day, without the outcomes of its records.
pub fn standing(world: &World, colony: ColonyId, today: Day) -> Option<Standing> {
    fold::standing(world, colony, today)
}

/// How all colonies stand on a day, ended ones included: one pass over the plans for all of them.
pub fn standings(world: &World, today: Day) -> BTreeMap<ColonyId, Standing> {
    fold::standings(world, today)
}

/// What a visit that is not recorded yet would mean, as the last one of its day. Nothing for a colony that is not there.
pub fn echo(world: &World, colony: ColonyId, day: Day, visit: &Visit) -> Option<Outcome> {
    fold::echo(world, colony, None, day, visit)
}

/// What a recorded visit would mean if it were amended to this one.
pub fn echo_instead(world: &World, colony: ColonyId, record: RecordId, day: Day, visit: &Visit) -> Option<Outcome> {
    fold::echo(world, colony, Some(record), day, visit)
}

impl LidNote {
    /// Whether a printed label still says what this note says. A day last seen is not worth a new label.
    pub fn says_the_same(&self, printed: &[String]) -> bool {
        printed.len() == 3 && (self.lines == printed || (self.plain && printed.first() == self.lines.first()))
    }
}

impl Standing {
    /// What the lid shows: suspected disease before all, then the most urgent of failed, late, due, barred.
    pub fn lid_state(&self, today: Day) -> LidState {
        match self.phase {
            Phase::Ended { .. } => return LidState::Quiet,
            Phase::DiseaseSuspected { .. } => return LidState::Barred,
            _ => {}
        }
        let failed = matches!(self.phase, Phase::Failed { .. }) || matches!(self.queen, QueenNow::Queenless { .. });
        if failed || self.clock.as_ref().is_some_and(|clock| clock.alarm) {
            return LidState::Action;
        }
        let states = self.work.iter().map(|due| due.window.state(today));
        match states.max() {
            Some(WorkState::Late) => LidState::Late,
            Some(WorkState::Open) => LidState::Due,
            _ if self.bars.iter().any(ActiveBar::shuts_the_lid) => LidState::Barred,
            _ => LidState::Quiet,
        }
    }

    /// The class of the queen's age.
    pub fn age_class(&self, world: &World, today: Day) -> AgeClass {
        match &self.queen {
            QueenNow::Present(queen) => age::class_of(queen.birth, &world.firm, &world.settings, today),
            QueenNow::Waiting { .. } => AgeClass::Waiting,
            QueenNow::Queenless { .. } => AgeClass::Queenless,
        }
    }
}

/// The lid note of a colony as it stands.
pub fn lid_note(world: &World, colony: ColonyId, standing: &Standing, today: Day) -> LidNote {
    crate::domain::lid_note::write(world, colony, standing, today)
}
