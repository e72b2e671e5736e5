//! What bringing a file in would do, before any id is minted: things that are new are known by their number.

use std::collections::BTreeMap;

use crate::domain::bar::Bar;
use crate::domain::colony::{End, Founding, Lid, Named};
use crate::domain::day::Day;
use crate::domain::ids::{BarId, ColonyId, ParcelId, QueenId, RecordId, RunId, SourceId, YardId};
use crate::domain::parcel::Parcel;
use crate::domain::plan::PlanMoved;
use crate::domain::queen::{Birth, Dot, Origin, Queen, Source};
use crate::domain::record::{Amended, Which};
use crate::domain::run_order::RunOrder;
use crate::domain::settings::Firm;
use crate::domain::visit::{Method, OldQueen, Visit};
use crate::domain::yard::{Spot, Yard};
use crate::exchange::table::entry::{PlanCells, YardFacts};
use crate::exchange::table::fates::{Fate, Known};
use crate::exchange::table::refs::HiveRef;

/// A thing of the register, or one that is new with the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Ref<T> {
    Old(T),
    New(usize),
}

/// Everything a file would do.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Plan {
    pub firm: Option<Firm>,
    pub settings: Vec<NewSetting>,
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
    pub parcels: Vec<NewParcel>,
    /// What happened at hives that are taken over, in the order of the rows.
    pub records: Vec<NewRecord>,
    pub plans: Vec<NewPlan>,
    pub runs: Vec<NewRun>,
    /// Queens of whom several rows tell, by the number they are called; the first row tells all.
    pub numbered: BTreeMap<u32, NewQueen>,
    /// Hives of the register, by the row that stands for them.
    pub old_rows: BTreeMap<u32, ColonyId>,
    /// Yards of the register that the file says are gone.
    pub gone_yards: Vec<(u32, YardId)>,
    /// What of the told hives is in the register already.
    pub known: Known,
}

impl Plan {
    /// The file tells of the hive as an export does: it is taken over as it stands, or merged with the register's.
    pub fn is_taken(&self, hive: Option<Ref<ColonyId>>) -> bool {
        matches!(hive, Some(Ref::New(at)) if self.hives.get(at).is_some_and(|hive| hive.taken))
    }
}

/// A setting that changes.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct NewSetting {
    pub name: String,
    pub value: f64,
    /// It is more than it was.
    pub grows: bool,
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

/// A colony that is new, or one of the register of which an export tells.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct NewHive {
    /// Its row.
    pub row: u32,
    /// The colony of the register that it is.
    pub known: Option<ColonyId>,
    /// The row says itself what it is: the hive is taken over as it stands, and nothing is concluded.
    pub taken: bool,
    pub yard: Ref<YardId>,
    pub name: String,
    pub spot: Option<Spot>,
    pub founded: Day,
    pub founding: Founding,
    pub first: First,
    pub note: String,
    pub ended: Option<End>,
    pub lid: Lid,
    pub parent: Option<HiveRef>,
    pub united_into: Option<HiveRef>,
    pub corrected: Vec<ByRow<Amended>>,
    /// Its names, where the file tells them by day.
    pub names: Vec<ByRow<Named>>,
    /// Where it stood, where the file tells it by day.
    pub stands: Vec<ByRow<NewStand>>,
}

/// Something with the row that tells it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct ByRow<T> {
    pub row: u32,
    pub it: T,
}

/// A place where a hive stood.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct NewStand {
    pub yard: Ref<YardId>,
    pub spot: Option<Spot>,
    pub from: Day,
}

/// A parcel that is new, or told anew.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct NewParcel {
    /// The one of the register that gives way to it.
    pub instead_of: Option<ParcelId>,
    pub source: Option<Ref<SourceId>>,
    /// The parcel, but for its id and its source.
    pub parcel: Parcel,
}

/// Something that happened at a hive that is taken over.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct NewRecord {
    pub row: u32,
    /// Its hive, by its number among the told ones.
    pub hive: usize,
    pub day: Day,
    pub by: String,
    pub words: String,
    pub what: NewHappening,
    /// The evening's number in the file, and the place in it.
    pub evening: Option<(u32, u32)>,
    pub struck: bool,
    pub amended: Vec<ByRow<NewAmended>>,
}

/// An amendment, and where the record was before it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct NewAmended {
    pub amended: Amended,
    /// The hive, the day it had there, and what it said.
    pub left: Option<(HiveRef, Day, String)>,
}

/// What happened.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum NewHappening {
    /// A visit, but for what was given and the other hives it names.
    Visit {
        visit: Box<Visit>,
        gave: Option<Box<Gave>>,
        lid_swapped: Option<HiveRef>,
        queen_to: Option<HiveRef>,
    },
    Which(Which),
    BarLifted(String),
    Received(HiveRef),
    SplitOff(HiveRef),
}

/// A planned introduction that is new.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct NewPlan {
    pub row: u32,
    pub hive: usize,
    pub source: Option<Ref<SourceId>>,
    pub parcel: Option<Ref<ParcelId>>,
    pub cells: PlanCells,
    pub moved: Vec<ByRow<PlanMoved>>,
}

/// A run that is new.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct NewRun {
    pub row: u32,
    /// The one of the register that gives way to it, or is the same.
    pub fate: Option<Fate<RunId>>,
    /// The run, but for its id and its yards.
    pub run: RunOrder,
    /// Each stop, and whether it is locked.
    pub stops: Vec<ByRow<(Ref<YardId>, bool)>>,
    pub left_out: Vec<ByRow<Ref<YardId>>>,
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
    /// The row that tells of her.
    pub row: u32,
    /// By which other rows of the file call her.
    pub number: Option<u32>,
    pub birth: Birth,
    pub origin: Origin,
    pub source: Option<Ref<SourceId>>,
    pub dot: Option<Dot>,
    pub words: String,
}

/// Which of the file's queens: one whom several rows call by a number, or the one of a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum QueenKey {
    Number(u32),
    Row(u32),
}

impl NewQueen {
    pub fn key(&self) -> QueenKey {
        self.number.map_or(QueenKey::Row(self.row), QueenKey::Number)
    }
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
    pub parcel: Option<Ref<ParcelId>>,
    pub against_bar: Option<String>,
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

/// A bar that is new, or told anew.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct NewBar {
    pub row: u32,
    /// The one of the register that gives way to it.
    pub instead_of: Option<BarId>,
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
