//! What bringing a file in would do, before any id is minted: things that are new are known by their number.

use std::collections::BTreeMap;

use crate::domain::bar::Bar;
use crate::domain::colony::{End, Founding};
use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, QueenId, RecordId, SourceId, YardId};
use crate::domain::queen::{Birth, Dot, Origin, Queen, Source};
use crate::domain::record::Which;
use crate::domain::visit::{Method, OldQueen, Visit};
use crate::domain::yard::{Spot, Yard};
use crate::exchange::table::entry::YardFacts;

/// A thing of the register, or one that is new with the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Ref<T> {
    Old(T),
    New(usize),
}

/// Everything a file would do.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Plan {
    pub settings: Vec<(String, f64)>,
    pub sources: Vec<NewSource>,
    pub source_edits: Vec<Source>,
    pub yards: Vec<NewYard>,
    pub yard_edits: BTreeMap<YardId, Yard>,
    pub hives: Vec<NewHive>,
    pub visits: Vec<NewFind>,
    pub queens: BTreeMap<QueenId, QueenEdit>,
    pub moves: Vec<(ColonyId, YardId, Spot)>,
    pub amendments: Vec<PlanAmendment>,
    pub answers: Vec<NewAnswer>,
    pub bars: Vec<NewBar>,
}

/// A source that is new.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct NewSource {
    pub name: String,
    pub own: bool,
}

/// A yard that is new.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct NewYard {
    pub name: String,
    pub facts: YardFacts,
}

/// A colony that is new.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct NewHive {
    pub yard: Ref<YardId>,
    pub name: String,
    pub spot: Option<Spot>,
    pub founded: Day,
    pub founding: Founding,
    pub first: First,
    pub note: String,
    pub ended: Option<End>,
}

/// The queen a new colony begins with.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum First {
    Unknown,
    Without,
    Queen(NewQueen),
}

/// A queen that is new.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct NewQueen {
    pub birth: Birth,
    pub origin: Origin,
    pub source: Option<Ref<SourceId>>,
    pub dot: Option<Dot>,
    pub words: String,
}

/// A visit that is new.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct NewFind {
    pub hive: Ref<ColonyId>,
    pub day: Day,
    pub by: String,
    pub words: String,
    pub visit: Visit,
    /// The hive of the same yard whose lid was swapped with this one's.
    pub swap: Option<Ref<ColonyId>>,
    pub gave: Option<Gave>,
}

/// An introduction that is new.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Gave {
    pub method: Method,
    pub queen: NewQueen,
    pub old_queen: OldQueen,
    pub emerged: Option<Day>,
    pub cells: u8,
}

/// A queen of the register whose details change.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct QueenEdit {
    pub queen: Queen,
    /// Her source, where that changes.
    pub source: Option<Ref<SourceId>>,
}

/// A question answered, or a bar that followed from a find lifted.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct NewAnswer {
    pub hive: Ref<ColonyId>,
    pub day: Day,
    pub by: String,
    /// The answer; nothing: a bar was lifted.
    pub which: Option<Which>,
    /// Why the bar was lifted.
    pub why: String,
}

/// A bar that is new.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct NewBar {
    /// The hive; nothing: the whole yard.
    pub hive: Option<Ref<ColonyId>>,
    pub yard: Ref<YardId>,
    /// The bar, but for its id and what it holds for.
    pub bar: Bar,
}

/// A record of the register that the file puts right.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct PlanAmendment {
    pub colony: ColonyId,
    pub record: RecordId,
    pub day: Option<Day>,
    pub visit: Option<Visit>,
    pub words: Option<String>,
}
