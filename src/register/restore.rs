//! Putting a backup in a register's place. The register itself must be closed; it is kept among the backups first.

use std::path::{Path, PathBuf};

use chrono::{DateTime, Utc};

use crate::register::Register;
use crate::register::backup::{Why, behind_links, check_backup, free_name, keep, put_in_place, sync_folder};
use crate::register::error::{About as _, RegisterError};
use crate::register::lock::{Lock, beside};

impl Register {
    /// Puts a copy of `backup` in the place of the register `target`, which must be closed. What stood there is kept
    /// among its backups, whole where it can still be read, else as it lies. Answers where.
    ///
    /// # Errors
    /// If the backup is not a sound register, the target is open, or the disk refuses. The target is then as before.
    pub fn restore(backup: &Path, target: &Path, now: DateTime<Utc>) -> Result<Option<PathBuf>, RegisterError> {
        check_backup(backup)?;
        let lock = Lock::take(target)?;
        let part = beside(&behind_links(target), ".part");
        let done = swap(backup, &part, target, now);
        if done.is_err() {
            let _ = std::fs::remove_file(&part);
        }
        drop(lock);
        done
    }
}

fn swap(backup: &Path, part: &Path, target: &Path, now: DateTime<Utc>) -> Result<Option<PathBuf>, RegisterError> {
    std::fs::copy(backup, part).about(part)?;
    let kept = if target.exists() { Some(keep_what_is_there(target, now)?) } else { None };
    put_in_place(part, &behind_links(target))?;
    Ok(kept)
}

/// Keeps the register that will be replaced, and leaves no log beside it that would be taken for the new one's.
fn keep_what_is_there(target: &Path, now: DateTime<Utc>) -> Result<PathBuf, RegisterError> {
    let conn = rusqlite::Connection::open(target).about(target);
    let kept = conn.and_then(|conn| {
        let kept = keep(&conn, target, now, Why::Restore)?;
        conn.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(())).about(target)?;
        conn.close().map_err(|(_, error)| RegisterError::from_sqlite(target, &error))?;
        Ok(kept)
    });
    match kept {
        Err(RegisterError::DiskFull { .. } | RegisterError::ReadOnly { .. } | RegisterError::InUse { .. }) | Ok(_) => {
            kept
        }
        Err(_) => keep_as_it_lies(target, now),
    }
}

/// A damaged register is kept with its log, for whoever may still read something out of it.
fn keep_as_it_lies(target: &Path, now: DateTime<Utc>) -> Result<PathBuf, RegisterError> {
    let to = free_name(target, now, Why::Restore)?;
    std::fs::copy(target, &to).about(&to)?;
    let real = behind_links(target);
    for log in ["-wal", "-journal"] {
        let from = beside(&real, log);
        if from.exists() {
            std::fs::rename(&from, beside(&to, log)).about(&to)?;
        }
    }
    let _ = std::fs::remove_file(beside(&real, "-shm"));
    sync_folder(&to);
    Ok(to)
}
