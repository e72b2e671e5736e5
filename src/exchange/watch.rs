//! Who watches a file being read: the reading may be stopped between any two rows.

use crate::exchange::table::preview::Unreadable;

/// Is asked whether the reading is to stop, and told how far it is.
pub trait Watch {
    /// The reading is to stop. Asked often.
    fn stopped(&self) -> bool;

    /// So much of the work is done, in per cent.
    fn reached(&self, _percent: u32) {}
}

/// Nobody: the reading goes on to the end.
pub struct Nobody;

impl Watch for Nobody {
    fn stopped(&self) -> bool {
        false
    }
}

/// Why a watched reading gave nothing.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotRead {
    /// The file cannot be read at all.
    #[error(transparent)]
    Unreadable(#[from] Unreadable),
    /// It was stopped.
    #[error("The reading was stopped. Nothing was brought in")]
    Stopped,
}

impl NotRead {
    /// What is left of it where nobody watched.
    pub(super) fn unwatched(self) -> Unreadable {
        match self {
            Self::Unreadable(unreadable) => unreadable,
            Self::Stopped => unreachable!("nobody stops it"),
        }
    }
}

/// Rows between two askings.
const ASKED_EVERY: usize = 64;

/// The way through a table: every row is passed several times.
pub(super) struct Way<'a> {
    watch: &'a dyn Watch,
    passes: usize,
    rows: usize,
    done: usize,
}

impl<'a> Way<'a> {
    /// So many passes over so many rows.
    pub fn new(watch: &'a dyn Watch, passes: usize, rows: usize) -> Self {
        Self { watch, passes, rows, done: 0 }
    }

    /// Another row is done.
    ///
    /// # Errors
    /// If the reading is to stop.
    pub fn row(&mut self) -> Result<(), NotRead> {
        self.done += 1;
        if !self.done.is_multiple_of(ASKED_EVERY) {
            return Ok(());
        }
        self.watch.reached((self.done * 100 / (self.passes * self.rows).max(1)).min(100) as u32);
        if self.watch.stopped() { Err(NotRead::Stopped) } else { Ok(()) }
    }
}
