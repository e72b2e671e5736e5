//! One find as the rules read it, and the outcome it is given.

use crate::domain::brood::Proof;
use crate::domain::capital::capital;
use crate::domain::day::Day;
use crate::domain::ids::RecordId;
use crate::domain::settings::Settings;
use crate::domain::standing::{Outcome, OutcomeClass};
use crate::domain::visit::{Coverage, Did, Method, Seen, Visit};
use crate::domain::work::{Window, WorkState};

/// A find, with what its brood proves.
pub(super) struct Find<'a> {
    pub record: RecordId,
    pub day: Day,
    pub seen: &'a Seen,
    pub did: &'a Did,
    pub temper: Option<u8>,
    /// The whole nest was seen.
    pub full: bool,
    /// Closed queen cells; a sighting without a number counts as one.
    pub closed: u8,
    /// Queen cells begun; likewise.
    pub begun: u8,
    pub proof: Proof,
}

impl<'a> Find<'a> {
    pub fn read(numbers: &Settings, record: RecordId, day: Day, visit: &'a Visit, count_from: Option<Day>) -> Self {
        let seen = &visit.seen;
        Self {
            record,
            day,
            seen,
            did: &visit.did,
            temper: visit.temper,
            full: visit.coverage == Coverage::Full,
            closed: seen.closed_cells.map_or(0, |count| count.max(1)),
            begun: seen.begun_cells.map_or(0, |count| count.max(1)),
            proof: Proof::read(numbers, seen, count_from, day),
        }
    }

    /// Closed cells or cells begun.
    pub fn cells(&self) -> bool {
        self.closed > 0 || self.begun > 0
    }

    /// Any brood at all.
    pub fn brood(&self) -> bool {
        self.seen.eggs || self.seen.larvae || self.seen.capped
    }

    /// Anything was seen in the nest, or the whole of it looked through for nothing.
    pub fn says_anything(&self) -> bool {
        self.seen.says_anything()
    }

    /// What is asked for cells that are not hers: `: cut them`, `, cut` where it was done, and nothing where one was left
    /// standing on purpose.
    pub fn cut_words(&self) -> &'static str {
        match (self.did.cells_cut, self.did.cells_left, self.closed) {
            (true, _, _) => ", cut",
            (false, true, _) => "",
            (false, false, 1) => ": cut it",
            (false, false, _) => ": cut them",
        }
    }

    /// `3 closed cells: cut them before giving.`, said where no queen is there.
    pub fn cells_before_giving(&self) -> String {
        let what = if self.closed > 0 { self.closed_words() } else { "Cells begun".to_owned() };
        let before = if self.did.cells_cut || self.did.cells_left { "" } else { " before giving" };
        format!("{what}{}{before}.", self.cut_words())
    }

    /// `3 closed cells`.
    pub fn closed_words(&self) -> String {
        closed_cells(self.closed)
    }
}

impl Seen {
    /// Anything was noted of the nest: without it a visit is no find.
    pub fn says_anything(&self) -> bool {
        *self != Self::default()
    }
}

/// `1 closed cell`, `3 closed cells`.
pub(super) fn closed_cells(count: u8) -> String {
    if count == 1 { "1 closed cell".to_owned() } else { format!("{count} closed cells") }
}

/// What was judged of a find.
pub(super) struct Judged {
    pub class: OutcomeClass,
    pub sentence: String,
    pub settled: Option<(Method, bool)>,
}

impl Judged {
    pub fn new(class: OutcomeClass, sentence: String) -> Self {
        Self { class, sentence, settled: None }
    }

    pub fn noted(sentence: String) -> Self {
        Self::new(OutcomeClass::Noted, sentence)
    }

    pub fn settling(mut self, method: Option<Method>, accepted: bool) -> Self {
        self.settled = method.map(|method| (method, accepted));
        self
    }

    pub fn outcome(self) -> Outcome {
        Outcome { class: self.class, sentence: self.sentence, settled: self.settled }
    }
}

/// What is due, in words, and its window.
pub(super) type DueLook = Option<(&'static str, Window)>;

/// What becomes of a look that a visit did not settle: `Still due, late.`
pub(super) fn stays(look: DueLook, day: Day) -> String {
    let Some((what, window)) = look else { return String::new() };
    match window.state(day) {
        WorkState::Late => " Still due, late.".to_owned(),
        WorkState::Open => " Still due.".to_owned(),
        WorkState::Ahead => format!(" {} stays: {}.", capital(what), window.words()),
    }
}
