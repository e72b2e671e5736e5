//! Why a change is not made: a fact, then the way out.

/// A refusal as the user reads it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{fact}. {way_out}")]
pub struct Refusal {
    /// What kind of refusal, for code that acts on it.
    pub kind: RefusalKind,
    /// The fact, without a full stop: `No yard is called Heth yard`.
    pub fact: String,
    /// What to do, without a full stop.
    pub way_out: String,
}

/// Kinds of refusal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RefusalKind {
    /// A thing that the change names is not there (any more).
    Missing,
    /// A name is already taken.
    NameTaken,
    /// A value is empty or out of its range.
    BadValue,
    /// A bar forbids planning it.
    Barred,
    /// It cannot have been so (before the colony was founded, after it ended, in the future): asked about.
    Impossible,
    /// A thing still in use cannot be removed.
    InUse,
}

impl Refusal {
    /// A refusal of that kind.
    pub fn new(kind: RefusalKind, fact: impl Into<String>, way_out: impl Into<String>) -> Self {
        Self { kind, fact: fact.into(), way_out: way_out.into() }
    }
}
