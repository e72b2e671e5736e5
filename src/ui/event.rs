//! What the app tells the screens after it has acted.

use crate::planner::run::lights::Lights;
use crate::planner::run::plan::Proposal;
use crate::ui::action::FilePurpose;
use crate::ui::import_model::ImportModel;

/// Why a register could not be opened, and the ways out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NotOpened {
    /// The file.
    pub path: String,
    /// The fact and the way out.
    pub words: String,
    /// The newest backup, where it can be put in its place.
    pub backup: Option<String>,
    /// It can be looked at without writing.
    pub readable: bool,
    /// The register that was open before.
    pub former: Option<String>,
}

/// Something the app tells the screens.
#[derive(Clone, Debug)]
pub enum Event {
    /// A change was recorded (or taken back, or made again).
    Recorded {
        /// What it is called.
        title: String,
        /// It can be taken back.
        undoable: bool,
    },
    /// A change was refused: the fact and the way out.
    Refused(String),
    /// Something went wrong: the fact and the way out.
    Failed(String),
    /// The disk took nothing: the fact and the way out. It is over with the next change that is recorded.
    NotWritten(String),
    /// What could not be written was left: nothing of it is recorded.
    LeftUnrecorded,
    /// The window was to be closed while something is not recorded.
    HeldOpen,
    /// Something was done that is no change (a file was written).
    Done(String),
    /// This belongs to the change just recorded (where the file of its labels lies).
    Also(String),
    /// A register could not be opened: none is open now.
    NotOpened(Box<NotOpened>),
    /// A register was opened; screens begin anew.
    Opened,
    /// The register was closed.
    Closed,
    /// The user chose a file.
    Picked {
        /// What for.
        purpose: FilePurpose,
        /// The file.
        path: String,
    },
    /// A file was read and can be brought in.
    ImportRead(Box<ImportModel>),
    /// A file was being read, and the user stopped it.
    ReadingStopped,
    /// The import was brought in.
    ImportApplied,
    /// A run was planned.
    Planned {
        /// The number of the question.
        asked: u64,
        /// The order proposed, where one was wanted.
        proposal: Option<Box<Proposal>>,
        /// The light at its stops.
        lights: Box<Lights>,
    },
    /// A run could not be planned: the fact and the way out.
    NotPlanned {
        /// The number of the question.
        asked: u64,
        /// In words.
        why: String,
    },
}
