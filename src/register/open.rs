//! Creating and opening a register: what the file is, the lock, the connection and its settings, the form, the load.

use std::fs::File;
use std::io::Read as _;
use std::path::Path;
use std::sync::Arc;
use std::time::Duration;

use chrono::{DateTime, Utc};
use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags};

use crate::domain::settings::{Firm, Settings};
use crate::domain::world::World;
use crate::register::backup::{Why, newest_backup, open_to_read, open_unchanging};
use crate::register::error::{About as _, RegisterError};
use crate::register::lock::{Identity, Lock, beside};
use crate::register::migrate;
use crate::register::{Register, load};

/// Marks a file as ours (SQLite's application id): `LIDN`.
pub(crate) const APPLICATION_ID: i64 = 0x4C49_444E;

/// The first SQLite in which the fault of resetting the log of two connections is mended
/// (sqlite.org/wal.html#walresetbug).
const LEAST_SQLITE: i32 = 3_051_003;

/// How long another program's lock is waited for.
const BUSY: Duration = Duration::from_secs(2);

impl Register {
    /// Starts a new, empty register. Never overwrites a file.
    ///
    /// # Errors
    /// If a file is there already or the folder cannot be written.
    pub fn create(path: &Path) -> Result<Self, RegisterError> {
        if path.exists() {
            return Err(RegisterError::ThereAlready { file: path.to_owned() });
        }
        folder_is_there(path)?;
        // Made under another name, so that a fall half-way leaves no empty file that looks like a register.
        let unfinished = beside(path, ".new");
        let made = write_empty(&unfinished).and_then(|()| {
            File::open(&unfinished).and_then(|file| file.sync_all()).about(&unfinished)?;
            std::fs::hard_link(&unfinished, path)
                .or_else(|error| match error.kind() {
                    std::io::ErrorKind::AlreadyExists => Err(error),
                    // A file system without hard links.
                    _ => std::fs::rename(&unfinished, path),
                })
                .about(path)
        });
        let _ = std::fs::remove_file(&unfinished);
        made?;
        Self::open_by(path, None, migrate::STEPS)
    }

    /// Opens a register. A file of an older form is copied to its backups and brought up first; `now` names the copy.
    ///
    /// # Errors
    /// Not there, not a register, too new, too old, in use, read-only, damaged: told apart.
    pub fn open(path: &Path, now: DateTime<Utc>) -> Result<Self, RegisterError> {
        Self::open_by(path, Some(now), migrate::STEPS)
    }

    /// Reads what a register holds without opening it to write: also while a window has it open.
    ///
    /// # Errors
    /// Not there, not a register, too new, too old, damaged: told apart.
    pub fn read(path: &Path) -> Result<World, RegisterError> {
        Self::read_by(path, migrate::STEPS).map_err(|error| error.with_backup(newest_backup(path)))
    }

    pub(crate) fn read_by(path: &Path, steps: &[&str]) -> Result<World, RegisterError> {
        if path.is_dir() {
            return Err(not_ours(path, "it is a folder"));
        }
        is_ours(path)?;
        let mut conn = open_to_read(path).about(path)?;
        conn.busy_timeout(BUSY).about(path)?;
        let mut form = known_form(&conn, path, steps);
        // A disk that cannot be written at all, or is full, is told as one that cannot be opened.
        let unwritable = |error: &RegisterError| {
            use RegisterError::{Disk, DiskFull, ReadOnly};
            matches!(error, ReadOnly { .. } | Disk { .. } | DiskFull { .. })
        };
        if form.as_ref().is_err_and(unwritable)
            && let Some(still) = open_unchanging(path)
        {
            conn = still;
            form = known_form(&conn, path, steps);
        }
        let found = form?;
        if found < migrate::newest(steps) {
            return Err(RegisterError::Outdated { file: path.to_owned(), found });
        }
        load::world(&conn, None, path)
    }

    pub(crate) fn open_by(path: &Path, now: Option<DateTime<Utc>>, steps: &[&str]) -> Result<Self, RegisterError> {
        let metadata = std::fs::metadata(path).about(path)?;
        if metadata.is_dir() {
            return Err(not_ours(path, "it is a folder"));
        }
        if metadata.permissions().readonly() {
            return Err(RegisterError::ReadOnly { file: path.to_owned() });
        }
        let lock = Lock::take(path)?;
        if let Err(error) = is_ours(path) {
            let backup = newest_backup(path);
            // Backups beside it say that it was one of ours once.
            let error = match error {
                RegisterError::NotARegister { file, detail } if backup.is_some() => {
                    RegisterError::Damaged { file, detail, backup: None }
                }
                other => other,
            };
            lock.leave_no_trace();
            return Err(error.with_backup(backup));
        }
        let opened = Self::open_ours(path, now, steps, lock);
        opened.map_err(|error| error.with_backup(newest_backup(path)))
    }

    fn open_ours(path: &Path, now: Option<DateTime<Utc>>, steps: &[&str], lock: Lock) -> Result<Self, RegisterError> {
        let mut conn = connect(path).about(path)?;
        let form = known_form(&conn, path, steps)?;
        let safest = set_up(&conn).about(path)?;
        if form < migrate::newest(steps) {
            if let Some(now) = now {
                crate::register::backup::keep(&conn, path, now, Why::Update)?;
            }
            migrate::bring_up(&mut conn, steps).about(path)?;
        }
        let world = load::world(&conn, open_to_read(path).ok(), path)?;
        let identity = Identity::of(path).about(path)?;
        let caution = (!safest).then(|| {
            format!(
                "{} lies where its log cannot be kept beside it (a network drive?). Every change is written the \
                     slow way; keep the register on this computer's own disk",
                path.display()
            )
        });
        Ok(Self { conn, world: Arc::new(world), path: path.to_owned(), identity, caution, _lock: lock })
    }

    /// Refuses if the file at the path is no longer the one that was opened.
    pub(crate) fn still_there(&self) -> Result<(), RegisterError> {
        match Identity::of(&self.path) {
            Ok(now) if now == self.identity => Ok(()),
            _ => Err(RegisterError::Removed { file: self.path.clone() }),
        }
    }
}

/// Says what the file is, if it is not a register, by its first bytes and before SQLite may touch it.
pub(crate) fn is_ours(path: &Path) -> Result<(), RegisterError> {
    let mut head = Vec::with_capacity(100);
    File::open(path).and_then(|file| file.take(100).read_to_end(&mut head)).about(path)?;
    if head.is_empty() {
        return Err(not_ours(path, "it is empty"));
    }
    if !head.starts_with(b"SQLite format 3\0") {
        return Err(not_ours(path, "it is a file of another kind"));
    }
    let Some(id) = head.get(68..72).and_then(|bytes| <[u8; 4]>::try_from(bytes).ok()) else {
        return Err(RegisterError::damaged(path, "it ends within its first lines"));
    };
    if i64::from(u32::from_be_bytes(id)) != APPLICATION_ID {
        return Err(not_ours(path, "it is a database of another program"));
    }
    let logged = std::fs::metadata(beside(path, "-wal")).is_ok_and(|log| log.len() > 0);
    let length = std::fs::metadata(path).about(path)?.len();
    match length_told(&head) {
        // While a log lies beside it, its end may be in there.
        Some(told) if told > length && !logged => {
            Err(RegisterError::damaged(path, format!("it was cut short: {length} of {told} bytes are there")))
        }
        _ => Ok(()),
    }
}

/// The length of the file by its own first lines (sqlite.org/fileformat2.html, 1.3): page size times pages, where the
/// count is valid.
fn length_told(head: &[u8]) -> Option<u64> {
    let number = |at: usize| Some(u32::from_be_bytes(head.get(at..at + 4)?.try_into().ok()?));
    let size = match u16::from_be_bytes(head.get(16..18)?.try_into().ok()?) {
        1 => 65_536,
        size => u64::from(size),
    };
    (number(24)? == number(92)?).then_some(size * u64::from(number(28)?))
}

/// Says so if the folder that a new file is to be written to is missing.
pub(crate) fn folder_is_there(path: &Path) -> Result<(), RegisterError> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    match folder {
        Some(folder) if !folder.is_dir() => Err(RegisterError::NoFolder { file: path.to_owned() }),
        _ => Ok(()),
    }
}

fn not_ours(path: &Path, detail: &str) -> RegisterError {
    RegisterError::NotARegister { file: path.to_owned(), detail: detail.to_owned() }
}

/// The form of the file, if it is one of those that can be read.
fn known_form(conn: &Connection, path: &Path, steps: &[&str]) -> Result<i64, RegisterError> {
    let (file, found, ours) = (path.to_owned(), migrate::form(conn).about(path)?, migrate::newest(steps));
    if found > ours {
        return Err(RegisterError::TooNew { file, found, ours });
    }
    if found < migrate::OLDEST {
        return Err(RegisterError::TooOld { file, found, oldest: migrate::OLDEST });
    }
    Ok(found)
}

/// A connection on which nothing was done yet.
fn connect(path: &Path) -> rusqlite::Result<Connection> {
    assert!(rusqlite::version_number() >= LEAST_SQLITE, "built with an SQLite older than 3.51.3");
    let conn = Connection::open_with_flags(path, OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX)?;
    conn.busy_timeout(BUSY)?;
    conn.set_prepared_statement_cache_capacity(64);
    Ok(conn)
}

/// Sets the connection up and reads each setting back: SQLite ignores what it does not know. Says whether the log can
/// be kept beside the file; if not, the slow way is set.
fn set_up(conn: &Connection) -> rusqlite::Result<bool> {
    for (config, on) in [
        (DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true),
        (DbConfig::SQLITE_DBCONFIG_DQS_DML, false),
        (DbConfig::SQLITE_DBCONFIG_DQS_DDL, false),
        (DbConfig::SQLITE_DBCONFIG_TRUSTED_SCHEMA, false),
        (DbConfig::SQLITE_DBCONFIG_ENABLE_FKEY, true),
        (DbConfig::SQLITE_DBCONFIG_ENABLE_TRIGGER, true),
    ] {
        conn.set_db_config(config, on)?;
        assert!(conn.db_config(config)? == on, "SQLite does not keep {config:?}");
    }
    set(conn, "cell_size_check", 1)?;
    let journal: String = conn.query_row("PRAGMA journal_mode = WAL", [], |row| row.get(0))?;
    let safest = journal == "wal";
    if !safest {
        let _: String = conn.query_row("PRAGMA journal_mode = DELETE", [], |row| row.get(0))?;
    }
    // FULL: a change that was answered is on the disk. EXTRA adds the folder, which only the slow way needs.
    set(conn, "synchronous", if safest { 2 } else { 3 })?;
    set(conn, "fullfsync", 1)?;
    set(conn, "checkpoint_fullfsync", 1)?;
    Ok(safest)
}

fn set(conn: &Connection, name: &str, value: i64) -> rusqlite::Result<()> {
    conn.pragma_update(None, name, value)?;
    let now: i64 = conn.pragma_query_value(None, name, |row| row.get(0))?;
    assert!(now == value, "SQLite does not keep {name} = {value}");
    Ok(())
}

/// Writes an empty register: one file without a log beside it.
fn write_empty(path: &Path) -> Result<(), RegisterError> {
    if path.exists() {
        std::fs::remove_file(path).about(path)?;
    }
    let firm = serde_json::to_string(&Firm::default()).unwrap_or_default();
    let settings = serde_json::to_string(&Settings::default()).unwrap_or_default();
    let fill = || -> rusqlite::Result<()> {
        let mut conn = Connection::open(path)?;
        conn.pragma_update(None, "application_id", APPLICATION_ID)?;
        migrate::bring_up(&mut conn, migrate::STEPS)?;
        conn.execute("INSERT INTO firm (id, body) VALUES (zeroblob(16), ?1)", [firm])?;
        conn.execute("INSERT INTO settings (id, body) VALUES (zeroblob(16), ?1)", [settings])?;
        conn.close().map_err(|(_, error)| error)
    };
    fill().about(path)
}
