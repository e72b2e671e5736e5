//! Everything the beekeeper can decide. One change is one step of undo and one entry of the history.

use serde::{Deserialize, Serialize};
use uuid::Uuid;

use crate::domain::bar::{Bar, Lifted};
use crate::domain::colony::{Colony, End, FirstQueen, Founding};
use crate::domain::day::Day;
use crate::domain::ids::{BarId, ColonyId, ParcelId, PlanId, RecordId, RunId, YardId};
use crate::domain::parcel::Parcel;
use crate::domain::plan::Plan;
use crate::domain::queen::{Queen, Source};
use crate::domain::record::{Record, Which};
use crate::domain::run_order::RunOrder;
use crate::domain::settings::Firm;
use crate::domain::visit::Visit;
use crate::domain::yard::{Spot, Yard};

/// A decision. New ids are minted by whoever makes the change.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Change {
    /// The firm's name, home, hemisphere.
    SetFirm(Box<Firm>),
    /// One number of the rules.
    SetSetting {
        /// Its name.
        name: String,
        /// Its new value.
        value: f64,
    },
    /// A yard is added, or replaced as a whole (place, access, layout …).
    PutYard(Box<Yard>),
    /// A yard without living colonies is removed.
    RemoveYard(YardId),
    /// A source is added or replaced.
    PutSource(Source),
    /// A queen's details are corrected.
    PutQueen(Box<Queen>),
    /// Colonies are founded, with the queens they begin with.
    Found {
        /// The colonies.
        colonies: Vec<Colony>,
        /// Their queens, where recorded.
        queens: Vec<Queen>,
    },
    /// Colonies are taken over whole, as another register holds them. Nothing follows from it that is not told.
    TakeOver(Box<Taken>),
    /// Colonies move to other spots or yards on a day.
    Move {
        /// Which colony goes where.
        to: Vec<(ColonyId, YardId, Option<Spot>)>,
        /// The day.
        day: Day,
    },
    /// Two colonies swap places.
    SwapPlaces {
        /// One.
        one: ColonyId,
        /// The other.
        other: ColonyId,
        /// The day.
        day: Day,
    },
    /// Colonies get new names from a day on.
    Rename {
        /// The new names.
        names: Vec<(ColonyId, String)>,
        /// The day.
        day: Day,
    },
    /// Colonies end.
    End {
        /// Which.
        colonies: Vec<ColonyId>,
        /// How.
        end: End,
    },
    /// A colony is split: the daughter is founded, and the queen stays with the parent or goes with the daughter.
    Split {
        /// The colony that is split.
        parent: ColonyId,
        /// The new colony; its `how` names the parent.
        daughter: Box<Colony>,
        /// The recorded queen goes with the daughter, and the parent is without one from this day.
        queen_goes: bool,
        /// Ids for the records this makes at the parent: the split, and the loss of its queen.
        records: [RecordId; 2],
        /// By whom (initials).
        by: String,
    },
    /// One colony is united into another.
    Unite {
        /// The colony that ends.
        from: ColonyId,
        /// The colony that goes on.
        into: ColonyId,
        /// The day.
        day: Day,
        /// Id for the record this makes at the colony that goes on.
        record: RecordId,
        /// By whom (initials).
        by: String,
    },
    /// Visits are recorded: one find, an introduction at many hives, a whole evening.
    Visits {
        /// Why they belong together.
        occasion: Occasion,
        /// The visits.
        visits: Vec<NewVisit>,
        /// Queens that are new to the register with these visits.
        queens: Vec<Queen>,
    },
    /// The question which queen another queen was is answered.
    Answer {
        /// The colony.
        colony: ColonyId,
        /// Id for the record.
        record: RecordId,
        /// The day of the sighting that is explained, or later.
        day: Day,
        /// What became of the recorded queen.
        which: Which,
        /// By whom (initials).
        by: String,
    },
    /// A bar that followed from a find is lifted.
    LiftFoundBar {
        /// The colony.
        colony: ColonyId,
        /// Id for the record.
        record: RecordId,
        /// The first day it no longer holds.
        day: Day,
        /// Why, and on whose word.
        why: String,
        /// By whom (initials).
        by: String,
    },
    /// An older record is put right.
    Amend(Box<Amendment>),
    /// What the register says of a colony beside its records is put right: how it began, its queens, its note.
    Correct(Box<Correction>),
    /// Introductions are planned. Refused where a bar holds, unless every soft bar is overruled.
    Plan {
        /// The plans.
        plans: Vec<Plan>,
        /// Soft bars are overruled.
        overrule_soft: bool,
    },
    /// Plans are called off.
    CallOff {
        /// Which.
        plans: Vec<PlanId>,
        /// The day.
        day: Day,
    },
    /// Plans get other days.
    MovePlans {
        /// Each plan with its new day 0 and its new day to dequeen.
        plans: Vec<(PlanId, Day, Option<Day>)>,
        /// The day of the decision.
        day: Day,
        /// Why.
        why: String,
    },
    /// A parcel is added or replaced (sent, arrived, dead, put away).
    PutParcel(Parcel),
    /// A parcel is late: its plans are moved to the promised day.
    ParcelLate {
        /// The parcel.
        parcel: ParcelId,
        /// The day now promised.
        promised: Day,
        /// The day of the news.
        day: Day,
    },
    /// A bar is set.
    PutBar(Bar),
    /// A bar set by hand is lifted.
    LiftBar {
        /// The bar.
        bar: BarId,
        /// When, by whom and why.
        lifted: Lifted,
    },
    /// Labels were printed: the notes of these lids hold as of the day.
    LabelsPrinted {
        /// The colonies.
        colonies: Vec<ColonyId>,
        /// The day.
        day: Day,
    },
    /// Hives were brought in: lids whose notes ask for nothing are taken to say so already.
    LidsKnown {
        /// The colonies.
        colonies: Vec<ColonyId>,
    },
    /// The user wants these labels printed again.
    LabelsWanted {
        /// The colonies.
        colonies: Vec<ColonyId>,
    },
    /// A run is set or replaced.
    PutRun(RunOrder),
    /// A run is removed.
    RemoveRun(RunId),
    /// Several changes as one step: an import. Each is decided on the world that those before it leave.
    Several {
        /// What it is called in the history.
        title: String,
        /// The changes.
        changes: Vec<Change>,
    },
}

/// Colonies with all that another register holds of them.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Taken {
    /// The colonies, with their former names and places, their lids and their ends.
    pub colonies: Vec<Colony>,
    /// The queens of which they or their records tell.
    pub queens: Vec<Queen>,
    /// Their records, those taken back included, with their amendments.
    pub records: Vec<Record>,
    /// Their plans, those called off included.
    pub plans: Vec<Plan>,
    /// The bars set on them by hand, those lifted included.
    pub bars: Vec<Bar>,
    /// What is here already (by id) is told anew and gives way; otherwise it is refused.
    #[serde(default)]
    pub anew: bool,
}

/// Why visits are recorded together.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Occasion {
    /// An evening's results, in the order of the run sheet; they can be opened again together.
    Evening(Uuid),
    /// Queens are given to one or several hives.
    Introduction,
    /// A find at one or several hives.
    Find,
}

/// A visit that is to be recorded.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct NewVisit {
    /// Id for the record.
    pub record: RecordId,
    /// The colony.
    pub colony: ColonyId,
    /// The day.
    pub day: Day,
    /// By whom (initials).
    pub by: String,
    /// Free words.
    pub words: String,
    /// What was seen and done.
    pub visit: Visit,
}

/// What an amendment puts right. Fields that are nothing stay as they were.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Amendment {
    /// The colony the record is at now.
    pub colony: ColonyId,
    /// The record.
    pub record: RecordId,
    /// The colony it belongs to.
    pub to: Option<ColonyId>,
    /// The day it happened.
    pub day: Option<Day>,
    /// What the visit really was.
    pub visit: Option<Box<Visit>>,
    /// Its words.
    pub words: Option<String>,
    /// It did not happen at all.
    pub strike: bool,
    /// Why, never empty.
    pub reason: String,
    /// By whom (initials).
    pub by: String,
    /// Queens that are new to the register with the corrected visit.
    pub queens: Vec<Queen>,
}

impl Amendment {
    /// An amendment that alters nothing yet.
    pub fn of(colony: ColonyId, record: RecordId, reason: &str, by: &str) -> Self {
        Self {
            colony,
            record,
            to: None,
            day: None,
            visit: None,
            words: None,
            strike: false,
            reason: reason.to_owned(),
            by: by.to_owned(),
            queens: Vec::new(),
        }
    }
}

/// What a correction puts right. Fields that are nothing stay as they were.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Correction {
    /// The colony.
    pub colony: ColonyId,
    /// The day it was founded or first known.
    pub founded: Option<Day>,
    /// How it was founded.
    pub how: Option<Founding>,
    /// The queen it began with.
    pub began_with: Option<FirstQueen>,
    /// Its note.
    pub note: Option<String>,
    /// Queens as they really are; one that is new to the register is the queen it began with.
    pub queens: Vec<Queen>,
    /// Why. May be empty where only the note is another: a note is free words.
    pub reason: String,
    /// By whom (initials).
    pub by: String,
}

impl Correction {
    /// A correction that alters nothing yet.
    pub fn of(colony: ColonyId, reason: &str, by: &str) -> Self {
        Self {
            colony,
            founded: None,
            how: None,
            began_with: None,
            note: None,
            queens: Vec::new(),
            reason: reason.to_owned(),
            by: by.to_owned(),
        }
    }
}
