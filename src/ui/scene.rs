//! What every screen is shown: the world, how it stands, and what the app knows besides. Read only.

use std::sync::Arc;

use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, RunId};
use crate::domain::world::World;
use crate::planner::outlook::Outlook;
use crate::ui::action::{OnlineTiles, ThemeChoice};

/// What a frame is drawn from.
#[derive(Clone)]
pub struct Scene {
    /// Everything known.
    pub world: Arc<World>,
    /// How it stands today.
    pub outlook: Arc<Outlook>,
    /// Today.
    pub today: Day,
    /// Grows with every change; drafts and caches made for an older one are made anew.
    pub version: u64,
    /// The register, if one is open.
    pub register: Option<RegisterInfo>,
    /// Long work that is going on.
    pub job: Option<JobInfo>,
    /// Label sheets to choose from.
    pub sheets: Vec<SheetInfo>,
    /// The history last fetched.
    pub history: Option<HistoryInfo>,
    /// Backups last listed, newest first.
    pub backups: Vec<BackupInfo>,
    /// What `Verify` last reported.
    pub verified: Option<Vec<String>>,
    /// Changes that the register could not write, in the order in which they were made.
    pub not_recorded: Vec<NotRecorded>,
    /// Files written since the register was opened, newest first.
    pub written: Vec<FileWritten>,
    /// The preferences that screens show.
    pub prefs: PrefsInfo,
}

/// A file that was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileWritten {
    /// The file.
    pub path: String,
    /// What is in it.
    pub of: Contents,
}

/// What a written file holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Contents {
    /// Lid labels of these hives.
    Labels(Vec<ColonyId>),
    /// The sheet, the route, the dates or the stops of a run.
    Run(RunId),
    /// Something else.
    Other,
}

/// A change that the register could not write.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NotRecorded {
    /// What it is called: `B14 find`.
    pub title: String,
    /// Why, with the way out.
    pub why: String,
    /// It is kept on the disk and offered again when its register is next opened.
    pub lasts: bool,
}

/// The open register.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct RegisterInfo {
    /// Its file.
    pub path: String,
    /// It is a copy of the demo.
    pub demo: bool,
    /// The time of the last save: `19:12`; empty before the first.
    pub saved_at: String,
    /// The newest change that undo would take back.
    pub undo: Option<String>,
    /// The change that redo would make again.
    pub redo: Option<String>,
    /// Why nothing can be written, if so.
    pub read_only: Option<String>,
}

/// Long work that is going on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobInfo {
    /// What: `Proposing the order`.
    pub title: String,
    /// How far: `12 of 40`; may be empty.
    pub progress: String,
    /// It is the planning of the run that was asked for last.
    pub plans: bool,
}

/// A label sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetInfo {
    /// Its name.
    pub name: String,
    /// Labels on a sheet.
    pub labels: u32,
}

/// A part of the history.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HistoryInfo {
    /// Of one colony, or of the whole register.
    pub of: Option<ColonyId>,
    /// The version of the world it was fetched for.
    pub version: u64,
    /// Its lines, newest first.
    pub lines: Vec<HistoryLine>,
}

/// One entry of the history.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HistoryLine {
    /// When it was entered: `24 Nov 2026 19:12`.
    pub at: String,
    /// What.
    pub title: String,
    /// It was taken back later.
    pub undone: bool,
}

/// A backup.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BackupInfo {
    /// The file.
    pub path: String,
    /// When it was made, by this computer's clock: `25 Nov 2026 18:30`.
    pub at: String,
    /// Why, if not at a start: `before an update`.
    pub why: String,
    /// Its size in bytes.
    pub bytes: u64,
}

/// The user's map pack.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PackInfo {
    /// The file.
    pub path: String,
    /// Why it cannot be read now, with the way out; it stays listed.
    pub trouble: Option<String>,
}

/// Preferences as screens show them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PrefsInfo {
    /// Light or dark.
    pub theme: ThemeChoice,
    /// Text size in per cent.
    pub zoom: u32,
    /// Online tiles, if switched on.
    pub online: Option<OnlineTiles>,
    /// The user's map pack.
    pub pack: Option<PackInfo>,
    /// Initials last used.
    pub initials: String,
    /// The draft of an evening that was kept.
    pub draft: Option<String>,
    /// Folder for prints and exports.
    pub folder: String,
}

impl Scene {
    /// The place in `sheets` of the label sheet that is taken where none is chosen: the first of the usual paper.
    pub fn usual_sheet(&self) -> usize {
        let letter = self.world.settings.letter_paper() == 1;
        let of_paper = |sheet: &SheetInfo| letter && sheet.name.starts_with("Letter");
        self.sheets.iter().position(of_paper).unwrap_or(0)
    }
}
