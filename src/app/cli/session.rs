//! One register, opened for one command.

use std::path::{Path, PathBuf};

use chrono::{DateTime, Utc};
use uuid::Uuid;

use crate::app::cli::args::Asked;
use crate::app::prefs::Prefs;
use crate::app::{clock, files};
use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::world::World;
use crate::planner::outlook::Outlook;
use crate::register::Register;

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

/// What a change did, in words.
pub enum Did {
    /// It was recorded under this title.
    Recorded(String),
    /// It altered nothing.
    Nothing,
}

impl Session {
    /// Opens the register asked for: `--register`, or the one last open in the window.
    ///
    /// # Errors
    /// In words: the file, what is wrong, and the way out.
    pub fn open(asked: &Asked) -> Result<Self, String> {
        let path = usual_register(asked)?;
        let now = clock::now();
        let register = Register::open(&path, now).map_err(|error| error.to_string())?;
        Ok(Self::with(register, asked, now))
    }

    /// Opens the register asked for, or creates it where there is none.
    ///
    /// # Errors
    /// As [`Session::open`].
    pub fn open_or_create(asked: &Asked) -> Result<(Self, bool), String> {
        let path = asked.register.clone().map_or_else(|| usual_register(asked), Ok);
        let path = path.unwrap_or_else(|_| files::documents().join("my-bees.lidnote"));
        if path.exists() {
            return Self::open(&Asked { register: Some(path), ..asked.clone() }).map(|session| (session, false));
        }
        make_folder(&path)?;
        let register = Register::create(&path).map_err(|error| error.to_string())?;
        Ok((Self::with(register, asked, clock::now()), true))
    }

    fn with(register: Register, asked: &Asked, now: DateTime<Utc>) -> Self {
        let today = asked.on.or(register.world().firm.demo_day).unwrap_or_else(clock::today);
        Self { register, today, now, by: asked.by.clone() }
    }

    /// The world.
    pub fn world(&self) -> std::sync::Arc<World> {
        self.register.world()
    }

    /// How everything stands today.
    pub fn outlook(&self) -> Outlook {
        Outlook::new(&self.register.world(), self.today)
    }

    /// Records a change.
    ///
    /// # Errors
    /// In words: a refusal with its way out, or what the disk said.
    pub fn apply(&mut self, change: &Change) -> Result<Did, String> {
        let applied = self.register.apply(change, self.today, self.now).map_err(|error| error.to_string())?;
        Ok(applied.map_or(Did::Nothing, |applied| Did::Recorded(applied.title)))
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

fn usual_register(asked: &Asked) -> Result<PathBuf, String> {
    if let Some(path) = &asked.register {
        return Ok(path.clone());
    }
    let last = Prefs::load(&Prefs::usual_path()).register.map(PathBuf::from);
    last.ok_or_else(|| "No register is named. Give --register FILE".to_owned())
}
