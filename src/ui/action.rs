//! What a screen may ask for. Screens push actions to the outbox; the app is the only one that acts.

use uuid::Uuid;

use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, RunId, YardId};
use crate::domain::place::Place;
use crate::domain::run_order::RunOrder;

/// Something a screen asks for.
#[derive(Clone, Debug, PartialEq)]
pub enum Action {
    /// A decision, to be recorded.
    Change(Box<Change>),
    /// Try again to record what could not be written.
    RecordAgain,
    /// Let go of what could not be written.
    LeaveUnrecorded,
    /// Close the window whatever is not recorded.
    Quit,
    /// Take the newest change back.
    Undo,
    /// Make the change last taken back again.
    Redo,
    /// Open a fresh copy of the demo.
    OpenDemo,
    /// Start a new register with its home yard there.
    NewRegister {
        /// The home yard.
        home: Place,
        /// The file; empty: the usual folder.
        path: String,
    },
    /// Open a register.
    OpenRegister {
        /// The file.
        path: String,
    },
    /// Go back to the first start.
    CloseRegister,
    /// Show a file that was written with the system's own program for it.
    OpenFile {
        /// The file.
        path: String,
    },
    /// Let the user choose a file with the system's dialog; the answer fills the field that asked.
    Browse(FilePurpose),
    /// Read a file to be brought in, and show what it would do.
    ReadImport {
        /// The file.
        path: String,
        /// How to read it.
        options: ImportOptions,
    },
    /// Bring in what the preview shows.
    ApplyImport,
    /// Write the rows held back to a file beside the one read.
    WriteHeldBack,
    /// Leave the import without writing.
    DropImport,
    /// Print labels to a PDF file.
    PrintLabels {
        /// The colonies, in printing order.
        colonies: Vec<ColonyId>,
        /// The sheet's name.
        sheet: String,
        /// First label on the sheet to use, from 1.
        start: u32,
        /// The file; empty: the usual folder.
        path: String,
        /// Note them as printed.
        note_printed: bool,
    },
    /// Print a page with a ruler to check the sheet's measures.
    PrintCalibration {
        /// The sheet's name.
        sheet: String,
        /// The file; empty: the usual folder.
        path: String,
    },
    /// Print the run sheet of a run to a PDF file.
    PrintRunSheet {
        /// The run as shown.
        run: Box<RunOrder>,
        /// The file; empty: the usual folder.
        path: String,
    },
    /// Write the run as a GPX route.
    ExportRoute {
        /// The run as shown.
        run: Box<RunOrder>,
        /// The file; empty: the usual folder.
        path: String,
    },
    /// Write the stops of a run with their times as CSV.
    ExportStops {
        /// The run as shown.
        run: Box<RunOrder>,
        /// The file; empty: the usual folder.
        path: String,
    },
    /// Write due work as an iCalendar file.
    ExportCalendar {
        /// Only the work of this run; nothing: all due work.
        run: Option<Box<RunOrder>>,
        /// The file; empty: the usual folder.
        path: String,
    },
    /// Export the register.
    Export {
        /// As what.
        format: ExportFormat,
        /// The file; empty: the usual folder.
        path: String,
    },
    /// Plan a run (long work). A newer question takes the place of an older one that is not answered yet.
    Plan {
        /// The number of the question: the answer bears it.
        asked: u64,
        /// The run.
        run: Box<RunOrder>,
        /// What is wanted of it.
        wanted: Wanted,
    },
    /// The run need not be planned any more.
    StopPlanning,
    /// Open a register to look only.
    LookAt {
        /// The file.
        path: String,
    },
    /// Add a map pack; the one that is listed: look for it again.
    AddPack {
        /// The PMTiles file.
        path: String,
    },
    /// Remove the map pack.
    RemovePack,
    /// Switch online tiles on (with the address of the service and its attribution) or off.
    OnlineTiles(Option<OnlineTiles>),
    /// List the register's backups.
    ListBackups,
    /// Put a backup in the register's place.
    Restore {
        /// The backup file.
        path: String,
    },
    /// Make a checked copy of the register.
    BackUp {
        /// The file; empty: the usual folder.
        path: String,
    },
    /// Check the register through and report.
    Verify,
    /// Fetch the history of one colony, or of the whole register, for show.
    FetchHistory(Option<ColonyId>),
    /// Keep the draft of an evening in case the program ends.
    KeepDraft(String),
    /// Light, dark or as the system says.
    Theme(ThemeChoice),
    /// Text size in per cent.
    Zoom(u32),
}

/// What is wanted of a run that is planned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// What its times need: the light at each stop. The order stays.
    Times,
    /// An order of exactly its stops.
    Order,
    /// An order that fits into a working day, stops that do not fit left out: where the program has chosen them.
    Day,
}

/// What a chosen file is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FilePurpose {
    /// A register to open.
    OpenRegister,
    /// A new register.
    NewRegister,
    /// A file to bring in.
    Import,
    /// A map pack.
    Pack,
    /// Where to save a PDF or an export.
    Save,
}

/// How to read a file that is brought in.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ImportOptions {
    /// Their heading, and ours (empty: leave it out).
    pub mapping: Vec<(String, String)>,
    /// Day before month, or month before day; nothing: as the file shows.
    pub day_first: Option<bool>,
    /// `utf-8` or `windows-1252`; nothing: as the file shows.
    pub encoding: Option<String>,
    /// What to do with hives already there; nothing: hold them back.
    pub update_existing: Option<bool>,
    /// A hive's row that names no yard stands in the yard of the row above.
    pub yard_above: bool,
    /// Fields corrected in the preview: row, heading, text.
    pub corrections: Vec<(usize, String, String)>,
    /// A file in which no column is known yet is shown all the same, to say what its columns are.
    pub map_later: bool,
}

/// Formats of the whole register's export.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ExportFormat {
    /// CSV that can be brought in again.
    Csv,
    /// GeoJSON of the yards.
    GeoJson,
    /// The register itself.
    Register,
}

/// A service of online tiles.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OnlineTiles {
    /// Address with `{z}`, `{x}` and `{y}`.
    pub url: String,
    /// What must be shown on the map.
    pub attribution: String,
}

/// Light, dark or as the system says.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ThemeChoice {
    /// As the system says.
    #[default]
    System,
    /// Light.
    Light,
    /// Dark.
    Dark,
}

/// The actions of one frame, and a supply of new ids for changes.
pub struct Outbox {
    actions: Vec<Action>,
    mint: Box<dyn FnMut() -> Uuid>,
}

impl Outbox {
    /// An empty outbox that takes new ids from `mint`.
    pub fn new(mint: Box<dyn FnMut() -> Uuid>) -> Self {
        Self { actions: Vec::new(), mint }
    }

    /// Asks for something.
    pub fn push(&mut self, action: Action) {
        self.actions.push(action);
    }

    /// Asks for a decision to be recorded.
    pub fn change(&mut self, change: Change) {
        self.push(Action::Change(Box::new(change)));
    }

    /// A new id: `YardId(out.new_id())`.
    pub fn new_id(&mut self) -> Uuid {
        (self.mint)()
    }

    /// Everything asked for, in order; the outbox is empty after.
    pub fn take(&mut self) -> Vec<Action> {
        std::mem::take(&mut self.actions)
    }

    /// Nothing was asked for.
    pub fn is_empty(&self) -> bool {
        self.actions.is_empty()
    }
}

/// The screens that are built.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Screen {
    /// Yards and hives.
    #[default]
    Map,
    /// Parcels, queens in hand, colonies waiting.
    Programme,
    /// The day's run, and evening entry.
    Run,
    /// Firm, settings, import, backups, map packs.
    Setup,
}

/// Where to go, for the search field and links between screens.
#[derive(Clone, Debug, PartialEq)]
pub enum Goto {
    /// A screen.
    Screen(Screen),
    /// The map, far, with this yard chosen.
    Yard(YardId),
    /// The map, near, with this hive's card open.
    Hive(ColonyId),
    /// The run of that day.
    RunOf(Day),
    /// A new run of that day through exactly these yards.
    RunThrough(Day, Vec<YardId>),
    /// Evening entry of a run, or of the day's visits.
    Evening(Day, Option<RunId>),
    /// The label queue.
    Labels,
    /// The label of this hive alone, on a sheet to be chosen.
    LabelsOf(ColonyId),
    /// The import preview.
    Import,
}
