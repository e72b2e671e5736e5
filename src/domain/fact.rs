//! What a change does to the world: each thing before and after. Facts have an inverse, which is what undo applies.

use serde::{Deserialize, Serialize};

use crate::domain::bar::Bar;
use crate::domain::colony::Colony;
use crate::domain::parcel::Parcel;
use crate::domain::plan::Plan;
use crate::domain::queen::{Queen, Source};
use crate::domain::record::Record;
use crate::domain::run_order::RunOrder;
use crate::domain::settings::{Firm, Settings};
use crate::domain::yard::Yard;

/// A thing before and after: nothing before, it is added; nothing after, it is removed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Edit<T> {
    /// Before the change.
    pub before: Option<T>,
    /// After the change.
    pub after: Option<T>,
}

impl<T> Edit<T> {
    /// The thing is added.
    pub fn add(thing: T) -> Self {
        Self { before: None, after: Some(thing) }
    }

    /// The thing is removed.
    pub fn remove(thing: T) -> Self {
        Self { before: Some(thing), after: None }
    }

    /// The thing is altered.
    pub fn alter(before: T, after: T) -> Self {
        Self { before: Some(before), after: Some(after) }
    }

    /// The edit that takes this one back.
    #[must_use]
    pub fn inverse(self) -> Self {
        Self { before: self.after, after: self.before }
    }

    /// The thing as it is after, else as it was before.
    pub fn either(&self) -> Option<&T> {
        self.after.as_ref().or(self.before.as_ref())
    }
}

/// One thing that a change alters.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Fact {
    /// The beekeeper's own facts.
    Firm(Box<Edit<Firm>>),
    /// The settings.
    Settings(Box<Edit<Settings>>),
    /// A yard.
    Yard(Box<Edit<Yard>>),
    /// A source.
    Source(Box<Edit<Source>>),
    /// A colony.
    Colony(Box<Edit<Colony>>),
    /// A queen.
    Queen(Box<Edit<Queen>>),
    /// A record. An amendment may move it to another colony: `before.colony` and `after.colony` then differ.
    Record(Box<Edit<Record>>),
    /// A parcel.
    Parcel(Box<Edit<Parcel>>),
    /// A plan.
    Plan(Box<Edit<Plan>>),
    /// A bar.
    Bar(Box<Edit<Bar>>),
    /// A run.
    Run(Box<Edit<RunOrder>>),
}

impl Fact {
    /// The fact that takes this one back.
    #[must_use]
    pub fn inverse(self) -> Self {
        match self {
            Self::Firm(edit) => Self::Firm(Box::new(edit.inverse())),
            Self::Settings(edit) => Self::Settings(Box::new(edit.inverse())),
            Self::Yard(edit) => Self::Yard(Box::new(edit.inverse())),
            Self::Source(edit) => Self::Source(Box::new(edit.inverse())),
            Self::Colony(edit) => Self::Colony(Box::new(edit.inverse())),
            Self::Queen(edit) => Self::Queen(Box::new(edit.inverse())),
            Self::Record(edit) => Self::Record(Box::new(edit.inverse())),
            Self::Parcel(edit) => Self::Parcel(Box::new(edit.inverse())),
            Self::Plan(edit) => Self::Plan(Box::new(edit.inverse())),
            Self::Bar(edit) => Self::Bar(Box::new(edit.inverse())),
            Self::Run(edit) => Self::Run(Box::new(edit.inverse())),
        }
    }

    /// Whether it alters anything at all.
    pub fn alters(&self) -> bool {
        match self {
            Self::Firm(edit) => edit.before != edit.after,
            Self::Settings(edit) => edit.before != edit.after,
            Self::Yard(edit) => edit.before != edit.after,
            Self::Source(edit) => edit.before != edit.after,
            Self::Colony(edit) => edit.before != edit.after,
            Self::Queen(edit) => edit.before != edit.after,
            Self::Record(edit) => edit.before != edit.after,
            Self::Parcel(edit) => edit.before != edit.after,
            Self::Plan(edit) => edit.before != edit.after,
            Self::Bar(edit) => edit.before != edit.after,
            Self::Run(edit) => edit.before != edit.after,
        }
    }
}
