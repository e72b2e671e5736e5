//! One register, opened for one command.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use chrono::{DateTime, TimeDelta, Utc};
use uuid::Uuid;

use crate::app::cli::command::Common;
use crate::app::cli::output::Output;
use crate::app::prefs::Prefs;
use crate::app::{clock, files};
use crate::domain::carried_off::carried_off;
use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::world::World;
use crate::planner::outlook::Outlook;
use crate::register::Register;
use crate::register::backup::backups;

/// An open register and the day that counts as today.
pub struct Session {
    /// The register.
    pub register: Register,
    /// The day that counts as today.
    pub today: Day,
    /// The moment.
    pub now: DateTime<Utc>,
    /// Who does it (initials).
    pub by: String,
}

/// A register that is only read: it may be open in a window at the same time.
pub struct View {
    /// Everything known.
    pub world: Arc<World>,
    /// How it stands today.
    pub outlook: Outlook,
    /// The day that counts as today.
    pub today: Day,
    /// The moment.
    pub now: DateTime<Utc>,
}

impl View {
    /// Reads the register asked for.
    ///
    /// # Errors
    /// In words: the file, what is wrong, and the way out.
    pub fn read(common: &Common) -> Result<Self, String> {
        let path = usual_register(common)?;
        let world = Arc::new(Register::read(&path).map_err(|error| error.to_string())?);
        let today = common.on.or(world.firm.demo_day).unwrap_or_else(clock::today);
        let outlook = Outlook::new(&world, today);
        Ok(Self { world, outlook, today, now: clock::now() })
    }
}

/// What a change did, in words.
pub enum Did {
    /// It was recorded under this title; these hives it carried off were to stay where they are, a sentence each.
    Recorded(String, Vec<String>),
    /// It altered nothing.
    Nothing,
}

impl Did {
    /// The message that says it.
    pub fn said(self) -> Output {
        match self {
            Self::Recorded(title, stay) => {
                let mut output = Output::said(format!("Recorded: {title}"));
                output.messages.extend(stay);
                output
            }
            Self::Nothing => Output::said("Nothing was altered: it is so already"),
        }
    }
}

impl Session {
    /// Opens the register asked for: `--register`, or the one last open in the window.
    ///
    /// # Errors
    /// In words: the file, what is wrong, and the way out.
    pub fn open(common: &Common) -> Result<Self, String> {
        let path = usual_register(common)?;
        let now = clock::now();
        let register = Register::open(&path, now).map_err(|error| error.to_string())?;
        Ok(Self::with(register, common, now))
    }

    /// Opens the register asked for, or creates it where there is none.
    ///
    /// # Errors
    /// As [`Session::open`].
    pub fn open_or_create(common: &Common) -> Result<(Self, bool), String> {
        let path = common.register.clone().map_or_else(|| usual_register(common), Ok);
        let path = path.unwrap_or_else(|_| files::documents().join("my-bees.lidnote"));
        if path.exists() {
            return Self::open(&Common { register: Some(path), ..common.clone() }).map(|session| (session, false));
        }
        make_folder(&path)?;
        let register = Register::create(&path).map_err(|error| error.to_string())?;
        Ok((Self::with(register, common, clock::now()), true))
    }

    fn with(register: Register, common: &Common, now: DateTime<Utc>) -> Self {
        let today = common.on.or(register.world().firm.demo_day).unwrap_or_else(clock::today);
        Self { register, today, now, by: common.by.clone() }
    }

    /// The world.
    pub fn world(&self) -> Arc<World> {
        self.register.world()
    }

    /// Records a change.
    ///
    /// # Errors
    /// In words: a refusal with its way out, or what the disk said.
    pub fn apply(&mut self, change: &Change) -> Result<Did, String> {
        self.keep_a_backup()?;
        let stay = carried_off(&self.register.world(), change, self.today);
        let applied = self.register.apply(change, self.today, self.now).map_err(|error| error.to_string())?;
        Ok(applied.map_or(Did::Nothing, |applied| Did::Recorded(applied.title, stay)))
    }
}

impl Session {
    /// One backup an hour: ten quick commands must not push out the backups of ten days.
    fn keep_a_backup(&self) -> Result<(), String> {
        let hour_ago = self.now - TimeDelta::hours(1);
        let recent = backups(self.register.path()).first().is_some_and(|newest| newest.at > hour_ago);
        let empty = *self.register.world() == World::default();
        if recent || empty {
            return Ok(());
        }
        self.register.back_up_at_start(self.now).map(drop).map_err(|error| error.to_string())
    }
}

/// A new id.
pub fn mint() -> Uuid {
    Uuid::now_v7()
}

fn make_folder(path: &Path) -> Result<(), String> {
    let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) else { return Ok(()) };
    let made = std::fs::create_dir_all(folder);
    made.map_err(|error| format!("{} cannot be made: {error}. Choose another folder", folder.display()))
}

fn usual_register(common: &Common) -> Result<PathBuf, String> {
    if let Some(path) = &common.register {
        return Ok(path.clone());
    }
    let last = Prefs::load(&Prefs::usual_path()).register.map(PathBuf::from);
    last.ok_or_else(|| "No register is named. Give --register FILE".to_owned())
}
