//! What can go wrong with a register, each told apart in plain words: the fact, then the way out.

use std::path::{Path, PathBuf};

use rusqlite::ErrorCode;
use rusqlite::ffi;

use crate::domain::refusal::Refusal;

/// Why the register did not do what was asked. Whatever it is, the register and its world are as they were before.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum RegisterError {
    /// The domain refuses the change.
    #[error("{0}")]
    Refused(Refusal),
    /// Nothing is left to undo or to redo.
    #[error("There is nothing to {0}. The history in Setup lists every change")]
    NothingTo(&'static str),
    /// A row is not as the change that is to be undone or redone left it.
    #[error("{what} is no longer as “{title}” left it. Put it right with a new change instead; nothing was altered")]
    ChangedSince {
        /// What the change is called.
        title: String,
        /// The thing that differs: `A yard`.
        what: String,
    },
    /// The facts do not fit the rows of the file.
    #[error("The change does not fit {file}: {detail}. Nothing was written. Close the register and open it again", file = .file.display())]
    DoesNotFit {
        /// The register.
        file: PathBuf,
        /// What did not fit.
        detail: String,
    },
    /// There is no such file, or it was removed or replaced while it was open.
    #[error("{file} is not there any more: it was removed, moved or replaced. Nothing more was written. Connect its disk or put the file back and open it again; or save a copy of the register", file = .file.display())]
    Removed {
        /// The register.
        file: PathBuf,
    },
    /// There is no such file.
    #[error("There is no file {file}. Check its name, connect the disk it lies on, or start a new register", file = .file.display())]
    NotThere {
        /// The file that was asked for.
        file: PathBuf,
    },
    /// The folder a file is to be written to is not there.
    #[error("The folder of {file} is not there. Choose another folder", file = .file.display())]
    NoFolder {
        /// The file that was to be written.
        file: PathBuf,
    },
    /// A file that is there already would be overwritten.
    #[error("{file} is there already. Choose another name, or open it", file = .file.display())]
    ThereAlready {
        /// The file.
        file: PathBuf,
    },
    /// Not a register of ours.
    #[error("{file} is not a Lidnote register: {detail}. Choose a file that ends in .lidnote, or bring its content in with Import", file = .file.display())]
    NotARegister {
        /// The file.
        file: PathBuf,
        /// What it is instead.
        detail: String,
    },
    /// Written by a newer program.
    #[error("{file} was written by a newer Lidnote (form {found}; this one knows forms up to {ours}). Install the newer Lidnote; the file was not touched", file = .file.display())]
    TooNew {
        /// The file.
        file: PathBuf,
        /// Its form.
        found: i64,
        /// The newest form this program knows.
        ours: i64,
    },
    /// Written by a program whose form is no longer read.
    #[error("{file} was written by a Lidnote before the first release (form {found}). This one reads forms from {oldest} on; open it with the Lidnote that wrote it and export it", file = .file.display())]
    TooOld {
        /// The file.
        file: PathBuf,
        /// Its form.
        found: i64,
        /// The oldest form this program reads.
        oldest: i64,
    },
    /// Of an older form, and only to be read.
    #[error("{file} was written by an older Lidnote (form {found}). Open it once to write, or a copy of it in a folder of your own: it is backed up and brought up", file = .file.display())]
    Outdated {
        /// The file.
        file: PathBuf,
        /// Its form.
        found: i64,
    },
    /// The content is damaged.
    #[error("{file} is damaged: {detail}. {}", remedy(.backup.as_deref()), file = .file.display())]
    Damaged {
        /// The file.
        file: PathBuf,
        /// What was found.
        detail: String,
        /// The newest backup beside it.
        backup: Option<PathBuf>,
    },
    /// Another program has it open.
    #[error("{file} is open in another window or program. Close it there, then open it here", file = .file.display())]
    InUse {
        /// The file.
        file: PathBuf,
    },
    /// It may not be written.
    #[error("{file} cannot be written: the file or its folder is read-only. Copy it to a folder of your own and open the copy", file = .file.display())]
    ReadOnly {
        /// The file.
        file: PathBuf,
    },
    /// No room is left.
    #[error("There is no room left on the disk for {file}. Nothing new was written and nothing is lost. Make room, then do it again", file = .file.display())]
    DiskFull {
        /// The file that was being written.
        file: PathBuf,
    },
    /// The system refused to read or write.
    #[error("{file} could not be read or written: {detail}. Nothing new was written. Check the disk and its connection, then do it again", file = .file.display())]
    Disk {
        /// The file.
        file: PathBuf,
        /// What the system said.
        detail: String,
    },
}

fn remedy(backup: Option<&Path>) -> String {
    match backup {
        Some(backup) => format!("Restore its newest backup, {}; the damaged file is kept", backup.display()),
        None => "No backup lies beside it: restore a copy of your own".to_owned(),
    }
}

impl RegisterError {
    /// The same error with the newest backup named as the way out, where it is about damage.
    #[must_use]
    pub(crate) fn with_backup(self, found: Option<PathBuf>) -> Self {
        match self {
            Self::Damaged { file, detail, .. } => Self::Damaged { file, detail, backup: found },
            other => other,
        }
    }

    /// The newest backup, where it is the way out.
    pub fn backup(&self) -> Option<&Path> {
        match self {
            Self::Damaged { backup, .. } => backup.as_deref(),
            _ => None,
        }
    }

    /// Only writing is barred: what the register holds can still be read.
    pub fn is_about_writing(&self) -> bool {
        matches!(self, Self::ReadOnly { .. } | Self::InUse { .. } | Self::DiskFull { .. })
    }

    /// Damage found in that file.
    pub(crate) fn damaged(file: &Path, detail: impl Into<String>) -> Self {
        Self::Damaged { file: file.to_owned(), detail: detail.into(), backup: None }
    }

    /// What the system said about that file.
    pub(crate) fn from_io(file: &Path, error: &std::io::Error) -> Self {
        use std::io::ErrorKind;
        let file = file.to_owned();
        match error.kind() {
            ErrorKind::NotFound => Self::NotThere { file },
            ErrorKind::AlreadyExists => Self::ThereAlready { file },
            ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => Self::ReadOnly { file },
            ErrorKind::StorageFull | ErrorKind::QuotaExceeded => Self::DiskFull { file },
            _ => Self::Disk { file, detail: error.to_string() },
        }
    }

    /// What SQLite said about that file.
    pub(crate) fn from_sqlite(file: &Path, error: &rusqlite::Error) -> Self {
        let detail = error.to_string();
        let rusqlite::Error::SqliteFailure(failure, _) = error else {
            return Self::damaged(file, detail);
        };
        let file = file.to_owned();
        match failure.code {
            // Unknown: a table or column that every register has is missing.
            ErrorCode::NotADatabase | ErrorCode::DatabaseCorrupt | ErrorCode::Unknown => Self::damaged(&file, detail),
            ErrorCode::DiskFull => Self::DiskFull { file },
            ErrorCode::ReadOnly | ErrorCode::PermissionDenied => Self::ReadOnly { file },
            ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked => Self::InUse { file },
            ErrorCode::ConstraintViolation => Self::DoesNotFit { file, detail },
            ErrorCode::SystemIoFailure if is_damage(failure.extended_code) => Self::damaged(&file, detail),
            // The index of the log could not be made as long as it must be.
            ErrorCode::SystemIoFailure if failure.extended_code == ffi::SQLITE_IOERR_SHMSIZE => Self::DiskFull { file },
            _ => Self::Disk { file, detail },
        }
    }
}

fn is_damage(extended_code: i32) -> bool {
    matches!(extended_code, ffi::SQLITE_IOERR_SHORT_READ | ffi::SQLITE_IOERR_CORRUPTFS | ffi::SQLITE_IOERR_DATA)
}

/// Says of an error which file it is about.
pub(crate) trait About<T> {
    /// The error in plain words, naming the file.
    ///
    /// # Errors
    /// The same error, told apart.
    fn about(self, file: &Path) -> Result<T, RegisterError>;
}

impl<T> About<T> for rusqlite::Result<T> {
    fn about(self, file: &Path) -> Result<T, RegisterError> {
        self.map_err(|error| RegisterError::from_sqlite(file, &error))
    }
}

impl<T> About<T> for std::io::Result<T> {
    fn about(self, file: &Path) -> Result<T, RegisterError> {
        self.map_err(|error| RegisterError::from_io(file, &error))
    }
}
