//! Due work: looks (something to see) and steps (something to do), each with earliest, best and latest day.

use crate::domain::day::{Day, days_in_words};
use crate::domain::ids::{ColonyId, PlanId};
use crate::domain::visit::Method;

/// A visit that is due to see something.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Look {
    /// After a caged queen, a push-in cage or a nuc: is she accepted?
    Acceptance,
    /// The same, a second time.
    SecondAcceptance,
    /// After a cell or virgin, or in a colony raising its own: is there brood?
    FirstBrood,
    /// The look that decides.
    Verdict,
    /// After a late start: does she lay worker brood?
    CappedBrood,
    /// Once more, after eggs with cells, a release from the cage, or a stop in laying.
    Again,
    /// The test frame: are cells begun on it?
    Frame,
    /// Before a queen is given: an own virgin may be out.
    LookFirst,
    /// Are the workers hers? Only where it is switched on.
    Temper,
}

impl Look {
    /// `acceptance look`, `first brood look` …
    pub fn words(self) -> &'static str {
        match self {
            Self::Acceptance => "acceptance look",
            Self::SecondAcceptance => "second acceptance look",
            Self::FirstBrood => "first brood look",
            Self::Verdict => "verdict look",
            Self::CappedBrood => "capped-brood look",
            Self::Again => "look again",
            Self::Frame => "frame look",
            Self::LookFirst => "look first",
            Self::Temper => "temper look",
        }
    }
}

/// Something that is due to be done, in the order in which steps of one visit are done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Step {
    /// Remove the old queen.
    Dequeen,
    /// Take the push-in cage off.
    CageOff,
    /// Cut the queen cells.
    CutCells,
    /// Look for the old queen again.
    FindOldQueen,
    /// Find and kill a queen that lays only drones, or does not lay; then requeen or unite.
    RemoveFailed,
    /// Give the queen, cell or virgin.
    Give,
    /// Unite or shake out a colony with laying workers.
    UniteOrShakeOut,
    /// Mark the queen.
    Mark,
    /// Disease suspected: isolate, and follow the local authority's rules.
    Isolate,
}

impl Step {
    /// `take the cage off`, `cut cells` …
    pub fn words(self) -> &'static str {
        match self {
            Self::Dequeen => "dequeen",
            Self::Give => "give",
            Self::CageOff => "take the cage off",
            Self::CutCells => "cut cells",
            Self::FindOldQueen => "find the old queen",
            Self::RemoveFailed => "find her and requeen",
            Self::UniteOrShakeOut => "unite or shake out",
            Self::Mark => "mark",
            Self::Isolate => "isolate, report",
        }
    }
}

/// A look or a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WorkKind {
    /// A look.
    Look(Look),
    /// A step.
    Step(Step),
}

impl WorkKind {
    /// What it is called.
    pub fn words(self) -> &'static str {
        match self {
            Self::Look(look) => look.words(),
            Self::Step(step) => step.words(),
        }
    }

    /// It is a look.
    pub fn is_look(self) -> bool {
        matches!(self, Self::Look(_))
    }
}

/// The days of a piece of due work: `earliest <= best <= latest`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Window {
    /// Before this day it is too early.
    pub earliest: Day,
    /// The best day.
    pub best: Day,
    /// From the day after this one it is late; nothing: it is never late (marking).
    pub latest: Option<Day>,
}

impl Window {
    /// The window `earliest`, `best` and `latest` days after a day. Days out of order (settings can be) are put in order:
    /// the earliest holds.
    pub fn after(day: Day, earliest: i32, best: i32, latest: i32) -> Self {
        let best = best.max(earliest);
        Self { earliest: day.plus(earliest), best: day.plus(best), latest: Some(day.plus(latest.max(best))) }
    }

    /// How the window stands on a day.
    pub fn state(&self, today: Day) -> WorkState {
        if self.latest.is_some_and(|latest| today > latest) {
            WorkState::Late
        } else if today >= self.earliest {
            WorkState::Open
        } else {
            WorkState::Ahead
        }
    }

    /// `21, 24, 28 Nov`; where there is no latest day, `from 21 Nov`.
    pub fn words(&self) -> String {
        match self.latest {
            Some(latest) => days_in_words(&[self.earliest, self.best, latest]),
            None => format!("from {}", self.earliest.short()),
        }
    }

    /// The work can be done on that day: the window holds it, or it is late by then.
    pub fn open_on(&self, day: Day) -> bool {
        self.state(day) != WorkState::Ahead
    }
}

/// How due work stands on a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WorkState {
    /// Its earliest day is still ahead.
    Ahead,
    /// It can be done.
    Open,
    /// Its latest day has passed.
    Late,
}

/// One look or step that is due at a colony.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DueWork {
    /// The colony.
    pub colony: ColonyId,
    /// What.
    pub kind: WorkKind,
    /// When.
    pub window: Window,
    /// The day it is counted from (day 0, D, or the day of the look before).
    pub counted_from: Day,
    /// The method of the introduction it belongs to.
    pub method: Option<Method>,
    /// The plan it belongs to (give, dequeen).
    pub plan: Option<PlanId>,
    /// Why it is due on these days, one sentence: `Caged queen in 14 Nov: 7, 10, 14 days after.`
    pub why: String,
    /// What to look for, or how to do it, for card and run sheet: `Eggs, or her seen. Closed cells alone: failed.`
    pub look_for: String,
}
