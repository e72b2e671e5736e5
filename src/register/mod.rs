//! The SQLite register. It never decides: it calls the domain and writes what comes back.
//!
//! One file, one writer. A change is one transaction: the rows, their images before and after, and the entry of the
//! history land together or not at all, and the [`World`] is advanced by the same facts. History only grows; undo
//! appends the inverse. Begin reading at [`Register::apply`] in `commit`, then `rows` (what a row is), `load`,
//! `journal` (undo, redo, entries), `backup`, `restore`, `verify`.

pub mod backup;
mod commit;
pub mod error;
pub mod journal;
mod load;
mod lock;
mod migrate;
mod open;
mod restore;
mod rows;
#[cfg(test)]
mod tests;
pub mod verify;

use std::fmt;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use chrono::{DateTime, SecondsFormat, Utc};
use rusqlite::Connection;

use crate::domain::ids::ColonyId;
use crate::domain::world::World;
use crate::register::error::{About as _, RegisterError};
use crate::register::lock::{Identity, Lock};

/// What the names of registers end in, without the dot.
pub const SUFFIX: &str = "lidnote";

/// An open register: the file, its lock, and the world as the file holds it.
pub struct Register {
    // In the order they are let go: the connection before the lock.
    conn: Connection,
    world: Arc<World>,
    path: PathBuf,
    identity: Identity,
    caution: Option<String>,
    _lock: Lock,
}

impl fmt::Debug for Register {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // Without the world: nobody reads a whole season in a message.
        f.debug_struct("Register").field("path", &self.path).finish_non_exhaustive()
    }
}

/// What a change, an undo or a redo did.
#[derive(Clone, Debug, PartialEq)]
pub struct Applied {
    /// The new entry of the history.
    pub entry: i64,
    /// What the change is called (for undo and redo: the change that was taken back or done again).
    pub title: String,
    /// The world after it.
    pub world: Arc<World>,
    /// Colonies that are touched, by id.
    pub colonies: Vec<ColonyId>,
    /// How many rows were altered.
    pub rows: usize,
}

impl Register {
    /// The world as the file holds it now.
    pub fn world(&self) -> Arc<World> {
        Arc::clone(&self.world)
    }

    /// The file.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// A lasting caution about where the file lies, in words; nothing if all is well.
    pub fn caution(&self) -> Option<&str> {
        self.caution.as_deref()
    }

    /// Brings everything into the one file and closes it. Dropping does the same, but says nothing if it fails.
    ///
    /// # Errors
    /// If the disk refuses. What was recorded is on the disk all the same, in the file beside it.
    pub fn close(self) -> Result<(), RegisterError> {
        let Self { conn, path, .. } = self;
        conn.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(())).about(&path)?;
        conn.close().map_err(|(_, error)| RegisterError::from_sqlite(&path, &error))
    }
}

/// A moment as the file stores it: RFC 3339, UTC, to the second.
fn stamp(at: DateTime<Utc>) -> String {
    at.to_rfc3339_opts(SecondsFormat::Secs, true)
}
