//! Backups: checked copies beside the register, and copies to wherever the user wants.

use std::fs::File;
use std::path::{Path, PathBuf};

use chrono::{DateTime, Utc};
use rusqlite::{Connection, OpenFlags};

use crate::register::error::{About as _, RegisterError};
use crate::register::lock::{Identity, beside};
use crate::register::open::{folder_is_there, is_ours};
use crate::register::{Register, SUFFIX};

/// How many backups made at a start are kept.
pub const KEPT: usize = 10;

/// What the name of a copy ends in until it is whole.
const PART: &str = ".part";

/// A backup beside a register.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Backup {
    /// The file.
    pub path: PathBuf,
    /// When it was made, as its name says.
    pub at: DateTime<Utc>,
    /// Why it was made, if not at a start: `before an update`, `before a restore`.
    pub why: String,
    /// Its size in bytes.
    pub bytes: u64,
}

/// Why a backup is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Why {
    Start,
    Update,
    Restore,
}

impl Why {
    fn words(self) -> &'static str {
        match self {
            Self::Start => "",
            Self::Update => " before an update",
            Self::Restore => " before a restore",
        }
    }
}

impl Register {
    /// Makes the checked backup of a start and lets go of those older than the last ten. `now` names it.
    ///
    /// # Errors
    /// If the register is damaged, or the copy cannot be written or is not sound.
    pub fn back_up_at_start(&self, now: DateTime<Utc>) -> Result<PathBuf, RegisterError> {
        let kept = keep(&self.conn, &self.path, now, Why::Start)
            .map_err(|error| error.with_backup(newest_backup(&self.path)))?;
        // Under a clock that was set back, the newest copy bears the oldest name.
        let others = backups(&self.path).into_iter().filter(|backup| backup.why.is_empty() && backup.path != kept);
        for old in others.skip(KEPT - 1).map(|backup| backup.path).chain(unfinished(&self.path)) {
            // One that cannot be removed now will be at the next start.
            let _ = std::fs::remove_file(&old);
        }
        Ok(kept)
    }

    /// Writes a whole, checked copy to that file. An earlier copy of the same register is replaced once the new one is
    /// sound; whatever else is there is not. Works even when the register itself was removed while open.
    ///
    /// # Errors
    /// If the copy cannot be written or is not sound, or something is there that is no earlier copy.
    pub fn back_up_to(&self, to: &Path) -> Result<(), RegisterError> {
        // A link to nowhere is something too.
        if std::fs::symlink_metadata(to).is_ok() && !self.is_earlier_copy(to) {
            return Err(RegisterError::ThereAlready { file: to.to_owned() });
        }
        folder_is_there(to)?;
        copy_checked(&self.conn, &self.path, &behind_links(to))
    }

    /// Everything in that file is in this register too: its history is the beginning of this one's. A log beside it would
    /// be taken for the new copy's.
    fn is_earlier_copy(&self, file: &Path) -> bool {
        let newest = |conn: &Connection, at_most: i64| {
            conn.query_row(
                "SELECT id, at, title, by_whom, change FROM entry WHERE id <= ?1 ORDER BY id DESC LIMIT 1",
                [at_most],
                |row| {
                    let texts = (row.get::<_, String>(1)?, row.get::<_, String>(2)?, row.get::<_, String>(3)?);
                    Ok((row.get::<_, i64>(0)?, texts, row.get::<_, Option<Vec<u8>>>(4)?))
                },
            )
        };
        let same = || {
            let theirs = newest(&open_to_read(file).ok()?, i64::MAX).ok()?;
            Some(newest(&self.conn, theirs.0).ok()? == theirs)
        };
        let itself = Identity::of(file).is_ok_and(|there| there == self.identity);
        let logged = ["-wal", "-journal"].iter().any(|log| beside(&behind_links(file), log).exists());
        !itself && !logged && file.is_file() && is_ours(file).is_ok() && same().unwrap_or(false)
    }
}

/// The folder of a register's backups.
pub fn backup_folder(register: &Path) -> PathBuf {
    register.with_file_name(format!("{} backups", stem(register)))
}

/// The backups beside a register, the newest first.
pub fn backups(register: &Path) -> Vec<Backup> {
    let Ok(files) = std::fs::read_dir(backup_folder(register)) else { return Vec::new() };
    let mut found: Vec<_> = files.flatten().filter_map(|file| of_file(register, &file.path())).collect();
    found.sort_by(|a, b| (&b.at, &b.path).cmp(&(&a.at, &a.path)));
    found
}

/// What is left of copies during which the power failed.
fn unfinished(register: &Path) -> Vec<PathBuf> {
    let Ok(files) = std::fs::read_dir(backup_folder(register)) else { return Vec::new() };
    let (begin, part) = (format!("{} ", stem(register)), format!(".{SUFFIX}{PART}"));
    let is_one = |name: &str| name.starts_with(&begin) && name.contains(&part);
    files.flatten().filter(|file| file.file_name().to_str().is_some_and(is_one)).map(|file| file.path()).collect()
}

/// The newest backup beside a register.
pub(crate) fn newest_backup(register: &Path) -> Option<PathBuf> {
    backups(register).into_iter().next().map(|backup| backup.path)
}

/// Makes a checked backup into the register's folder of backups.
pub(crate) fn keep(conn: &Connection, register: &Path, now: DateTime<Utc>, why: Why) -> Result<PathBuf, RegisterError> {
    sound(conn, register)?;
    let to = free_name(register, now, why)?;
    copy_checked(conn, register, &to)?;
    Ok(to)
}

/// A name in the folder of backups that is not taken; the folder is made where it is missing.
pub(crate) fn free_name(register: &Path, now: DateTime<Utc>, why: Why) -> Result<PathBuf, RegisterError> {
    let folder = backup_folder(register);
    std::fs::create_dir_all(&folder).map_err(|error| match error.kind() {
        std::io::ErrorKind::NotFound => RegisterError::Removed { file: register.to_owned() },
        _ => RegisterError::from_io(&folder, &error),
    })?;
    let mut at = now;
    loop {
        let time = at.format("%Y-%m-%d %H%M%S");
        let to = folder.join(format!("{} {time}{}.{SUFFIX}", stem(register), why.words()));
        if !to.exists() {
            return Ok(to);
        }
        at += chrono::TimeDelta::seconds(1);
    }
}

fn stem(register: &Path) -> String {
    register.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned())
}

/// Reads the name of a backup: `<register> 2026-11-24 183005 before an update.lidnote`.
fn of_file(register: &Path, path: &Path) -> Option<Backup> {
    let name = path.file_name()?.to_str()?.strip_suffix(&format!(".{SUFFIX}"))?;
    let rest = name.strip_prefix(&stem(register))?.strip_prefix(' ')?;
    let (time, why) = (rest.get(..17)?, rest.get(17..)?);
    let time = chrono::NaiveDateTime::parse_from_str(time, "%Y-%m-%d %H%M%S").ok()?;
    let known = [Why::Start, Why::Update, Why::Restore].iter().any(|known| known.words() == why);
    let bytes = path.metadata().ok()?.len();
    known.then(|| Backup { path: path.to_owned(), at: time.and_utc(), why: why.trim().to_owned(), bytes })
}

/// Copies the content into one file without a log beside it, checks the copy, and only then gives it its name.
fn copy_checked(conn: &Connection, register: &Path, to: &Path) -> Result<(), RegisterError> {
    let part = beside(to, PART);
    let Some(name) = part.to_str() else {
        let detail = "its name cannot be written as text".to_owned();
        return Err(RegisterError::Disk { file: to.to_owned(), detail });
    };
    let _ = std::fs::remove_file(&part);
    let entries = |conn: &Connection| conn.query_row("SELECT count(*) FROM entry", [], |row| row.get::<_, i64>(0));
    let copied = conn.execute("VACUUM INTO ?1", [name]).map(|_| ());
    let copied = copied.map_err(|error| blame(register, to, &error)).and_then(|()| {
        let copy = open_to_read(&part).about(to)?;
        sound(&copy, to)?;
        if entries(&copy).about(to)? != entries(conn).about(register)? {
            return Err(RegisterError::damaged(to, "the copy lacks a part of the history"));
        }
        copy.close().map_err(|(_, error)| RegisterError::from_sqlite(to, &error))?;
        put_in_place(&part, to)
    });
    if copied.is_err() {
        let _ = std::fs::remove_file(&part);
    }
    copied
}

/// Damage met while copying is the register's; everything else is about the copy.
fn blame(register: &Path, to: &Path, error: &rusqlite::Error) -> RegisterError {
    match RegisterError::from_sqlite(to, error) {
        RegisterError::Damaged { detail, .. } => RegisterError::damaged(register, detail),
        other => other,
    }
}

/// The file itself, where it is named by a link: it is replaced, and the link goes on pointing at it.
pub(crate) fn behind_links(path: &Path) -> PathBuf {
    std::fs::canonicalize(path).unwrap_or_else(|_| path.to_owned())
}

/// Brings a finished file onto the disk and gives it its name.
pub(crate) fn put_in_place(part: &Path, to: &Path) -> Result<(), RegisterError> {
    File::options().write(true).open(part).and_then(|file| file.sync_all()).about(to)?;
    std::fs::rename(part, to).about(to)?;
    sync_folder(to);
    Ok(())
}

/// Brings the folder's list of names onto the disk, where the system lets folders be opened.
pub(crate) fn sync_folder(of: &Path) {
    if let Some(folder) = of.parent() {
        let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
        let _ = File::open(folder).and_then(|folder| folder.sync_all());
    }
}

/// A connection that cannot write.
pub(crate) fn open_to_read(path: &Path) -> rusqlite::Result<Connection> {
    Connection::open_with_flags(path, OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX)
}

/// A connection to a register in a folder where nothing can be written, as on a disc or a stick that is locked; nothing
/// where a log lies beside it, whose changes would not be seen. SQLite then makes no files of its own beside it
/// (sqlite.org, "Uniform Resource Identifiers", 3.3, `immutable`).
pub(crate) fn open_unchanging(path: &Path) -> Option<Connection> {
    if std::fs::metadata(beside(path, "-wal")).is_ok_and(|log| log.len() > 0) {
        return None;
    }
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'/' | b'.' | b'-' | b'_' | b'~');
    let mut uri = "file:".to_owned();
    for byte in std::fs::canonicalize(path).ok()?.to_str()?.bytes() {
        if plain(byte) {
            uri.push(char::from(byte));
        } else {
            uri.extend(['%'].into_iter().chain(hex(byte)));
        }
    }
    uri.push_str("?immutable=1");
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX | OpenFlags::SQLITE_OPEN_URI;
    Connection::open_with_flags(uri, flags).ok()
}

fn hex(byte: u8) -> [char; 2] {
    [byte >> 4, byte & 15].map(|half| char::from_digit(half.into(), 16).unwrap_or('0'))
}

/// Lets SQLite check every page, index and reference.
pub(crate) fn sound(conn: &Connection, path: &Path) -> Result<(), RegisterError> {
    match faults(conn, path)?.into_iter().next() {
        None => Ok(()),
        Some(fault) => Err(RegisterError::damaged(path, fault)),
    }
}

/// What SQLite's own checks find, line by line; nothing if the file is sound.
pub(crate) fn faults(conn: &Connection, path: &Path) -> Result<Vec<String>, RegisterError> {
    let lines = |sql: &str, column: usize| -> rusqlite::Result<Vec<String>> {
        let mut statement = conn.prepare(sql)?;
        statement.query_map([], |row| row.get(column))?.collect()
    };
    let mut found = lines("PRAGMA integrity_check(20)", 0).about(path)?;
    found.retain(|line| line != "ok");
    let orphans = lines("PRAGMA foreign_key_check", 0).about(path)?;
    found.extend(orphans.into_iter().take(20).map(|table| format!("a row of {table} names a thing that is not there")));
    Ok(found)
}

/// Checks a file that is to be restored.
pub(crate) fn check_backup(path: &Path) -> Result<(), RegisterError> {
    is_ours(path)?;
    let conn = open_to_read(path).about(path)?;
    sound(&conn, path)
}
