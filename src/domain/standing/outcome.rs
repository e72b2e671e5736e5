//! What one record meant on its day.

use crate::domain::visit::Method;

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
