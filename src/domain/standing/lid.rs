//! What a lid shows: the class of the queen's age, the state of the looks, and the note.

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

impl LidNote {
    /// Whether a printed label still says what this note says. A day last seen is not worth a new label.
    pub fn says_the_same(&self, printed: &[String]) -> bool {
        printed.len() == 3 && (self.lines == printed || (self.plain && printed.first() == self.lines.first()))
    }
}
