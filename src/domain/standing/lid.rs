//! What a lid shows: the class of the queen's age, the state of the looks, and the note.

use crate::domain::colony::Lid;

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
    /// The name was too long and was shortened; it stands whole in the small print.
    pub shortened: bool,
    /// Nothing is due and nothing is going on: such a note alone is no reason to print.
    pub plain: bool,
}

impl LidNote {
    /// Nothing is due and nothing is asked: a plain note, or `LAYING` with `NOTHING DUE`.
    pub fn asks_for_nothing(&self) -> bool {
        self.plain || self.lines[2] == NOTHING_DUE
    }

    /// Whether a label with this note belongs in the print queue.
    ///
    /// A beekeeper prints a label where the lid must say something else than it says now, and it matters:
    /// - lids were swapped, the hive got another name, or the user asked for it;
    /// - a label is on the lid and no longer true. One that says nothing is due stays true while nothing is due with the
    ///   same queen: a day last seen is not worth a new label;
    /// - no label is on it and the note is more than a plain one: a cage was put in, she was accepted this evening.
    ///
    /// Hives that are brought in with a queen accepted long ago are no reason to print thousands: their lids are taken to
    /// say so already ([`Change::LidsKnown`](crate::domain::change::Change::LidsKnown)).
    pub fn wanted_on(&self, lid: &Lid) -> bool {
        let differs = if lid.printed.is_empty() { !self.plain } else { !self.says_the_same(&lid.printed) };
        lid.stale || differs
    }

    fn says_the_same(&self, printed: &[String]) -> bool {
        let [first, second, third] = printed else { return false };
        if self.lines == printed {
            return true;
        }
        let [name, queen, _] = &self.lines;
        let same_hive = if third == NOTHING_DUE {
            // `B14 LAYING 24 NOV`: the name may have been shortened there, and stands whole on a plain note.
            first.rsplit_once(" LAYING ").is_some_and(|(shown, _)| name.ends_with(shown))
        } else {
            first == name && (third.is_empty() || third.starts_with(LAST_SEEN))
        };
        self.plain && same_hive && second == queen
    }
}

/// How the third line of a plain note begins.
pub const LAST_SEEN: &str = "seen ";
/// The third line after an acceptance.
pub const NOTHING_DUE: &str = "NOTHING DUE";
