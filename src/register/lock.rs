//! One writer at a time, and the knowledge whether the file is still the one that was opened.

use std::fs::{File, Metadata, OpenOptions, TryLockError};
use std::path::{Path, PathBuf};

use crate::register::error::RegisterError;

/// The lock on a register: held on a file beside it, because closing a second handle on the register itself would let
/// go of SQLite's own locks (sqlite.org, "How to corrupt an SQLite database file", 2.2). It guards one machine.
#[derive(Debug)]
pub(crate) struct Lock {
    file: File,
    path: PathBuf,
    new: bool,
}

impl Lock {
    /// Takes the lock, or says that another holds it.
    pub(crate) fn take(register: &Path) -> Result<Self, RegisterError> {
        // By whatever name or link it is opened, it is one file and one lock.
        let real = std::fs::canonicalize(register);
        let path = beside(real.as_deref().unwrap_or(register), ".lock");
        let new = !path.exists();
        let file = OpenOptions::new().create(true).truncate(false).write(true).open(&path);
        let file = file.map_err(|error| match RegisterError::from_io(register, &error) {
            // The register is known to be there; its folder lets nothing be written.
            RegisterError::NotThere { file } => RegisterError::ReadOnly { file },
            other => other,
        })?;
        match file.try_lock() {
            Ok(()) => Ok(Self { file, path, new }),
            Err(TryLockError::WouldBlock) => Err(RegisterError::InUse { file: register.to_owned() }),
            Err(TryLockError::Error(error)) => Err(RegisterError::from_io(register, &error)),
        }
    }

    /// Lets go of a lock beside a file that turned out to be none of ours, and leaves no trace of it.
    pub(crate) fn leave_no_trace(self) {
        if self.new {
            // A leftover lock file harms nobody; only tidiness is lost.
            let _ = std::fs::remove_file(&self.path);
        }
    }
}

impl Drop for Lock {
    fn drop(&mut self) {
        // Said outright, because closing alone keeps the lock while a process that is just being started still holds
        // a copy of the handle. If the system refuses, the lock ends with the program.
        let _ = self.file.unlock();
    }
}

/// The file beside a register whose name goes on with `more`.
pub(crate) fn beside(register: &Path, more: &str) -> PathBuf {
    let mut name = register.as_os_str().to_owned();
    name.push(more);
    PathBuf::from(name)
}

/// Which file on the disk a path names.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Identity(u64, u64);

impl Identity {
    /// That of the file at the path.
    pub(crate) fn of(path: &Path) -> std::io::Result<Self> {
        Ok(Self::read(&std::fs::metadata(path)?))
    }

    #[cfg(unix)]
    fn read(metadata: &Metadata) -> Self {
        use std::os::unix::fs::MetadataExt as _;
        Self(metadata.dev(), metadata.ino())
    }

    // Elsewhere an open file cannot be removed or replaced, so that it is there says enough.
    #[cfg(not(unix))]
    fn read(_metadata: &Metadata) -> Self {
        Self(0, 0)
    }
}
