//! The register thread: it alone holds the register. Requests are served in order, answers wake the window.

mod serve;
#[cfg(test)]
mod tests;

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, SyncSender, TryRecvError, TrySendError, sync_channel};
use std::thread::{Builder, JoinHandle};
use std::time::Duration;

use crate::app::wake::Wake;
use crate::app::worker::serve::{Answers, serve};
use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::ids::ColonyId;
use crate::domain::refusal::Refusal;
use crate::domain::world::World;
use crate::register::Applied;
use crate::register::error::RegisterError;
use crate::register::journal::{Entry, EntryKind, Page, Step};
use crate::register::verify::Report;

/// Requests that may wait; more are refused, so that a stuck disk shows and does not pile up.
const WAITING: usize = 64;

/// Which register the thread is to hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Start {
    /// One that is there.
    Open(PathBuf),
    /// A new one.
    Create(PathBuf),
}

/// Names a request, so that its answer is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Ticket(pub u64);

/// What the register is asked to do.
#[derive(Clone, Debug)]
pub enum Request {
    /// Decide and record a change.
    Apply {
        /// Its ticket.
        ticket: Ticket,
        /// The change.
        change: Box<Change>,
        /// The day on which it is decided.
        today: Day,
    },
    /// Take the newest change back.
    Undo(Ticket),
    /// Do the change that was taken back last again.
    Redo(Ticket),
    /// Read a part of the history, of one colony or of all.
    Entries {
        /// Its ticket.
        ticket: Ticket,
        /// The colony; nothing: all.
        of: Option<ColonyId>,
        /// Which part.
        page: Page,
    },
    /// Write a whole, checked copy.
    BackUp {
        /// Its ticket.
        ticket: Ticket,
        /// To that file.
        to: PathBuf,
    },
    /// Put a backup in the register's place. Also when the register could not be opened.
    Restore {
        /// Its ticket.
        ticket: Ticket,
        /// The backup.
        from: PathBuf,
    },
    /// Check everything.
    Verify(Ticket),
    /// Say of each change whether it was recorded after that entry.
    WhichRecorded {
        /// Its ticket.
        ticket: Ticket,
        /// The changes, each with the newest entry when it was made.
        changes: Vec<(i64, Change)>,
    },
}

impl Request {
    fn ticket(&self) -> Ticket {
        match self {
            Self::Apply { ticket, .. }
            | Self::Undo(ticket)
            | Self::Redo(ticket)
            | Self::Entries { ticket, .. }
            | Self::BackUp { ticket, .. }
            | Self::Restore { ticket, .. }
            | Self::WhichRecorded { ticket, .. }
            | Self::Verify(ticket) => *ticket,
        }
    }
}

/// What undo and redo would take next.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Steps {
    /// Undo.
    pub undo: Option<Step>,
    /// Redo.
    pub redo: Option<Step>,
}

/// A register that was opened.
#[derive(Clone, Debug, PartialEq)]
pub struct Opened {
    /// Its file.
    pub path: PathBuf,
    /// What it holds.
    pub world: Arc<World>,
    /// What undo and redo would take next.
    pub steps: Steps,
    /// The number of the newest entry of its history.
    pub newest: i64,
    /// A lasting caution about where the file lies.
    pub caution: Option<String>,
}

/// What the register answers.
#[derive(Clone, Debug)]
pub enum Reply {
    /// The register is open.
    Opened(Box<Opened>),
    /// It could not be opened. A backup can still be restored.
    NotOpened(RegisterError),
    /// The backup of this start was made, or why not.
    StartBackup(Result<PathBuf, RegisterError>),
    /// A change, an undo or a redo is recorded.
    Applied {
        /// The request.
        ticket: Ticket,
        /// Which of the three.
        kind: EntryKind,
        /// What it did, with the world after it.
        applied: Box<Applied>,
        /// What undo and redo would take next.
        steps: Steps,
    },
    /// The change alters nothing; nothing was recorded.
    Unchanged(Ticket),
    /// The domain refuses the change.
    Refused {
        /// The request.
        ticket: Ticket,
        /// Why, and the way out.
        refusal: Refusal,
    },
    /// The register could not do it; nothing was altered.
    Failed {
        /// The request.
        ticket: Ticket,
        /// Why, and the way out.
        error: RegisterError,
    },
    /// A part of the history.
    Entries {
        /// The request.
        ticket: Ticket,
        /// The entries, the newest first.
        entries: Vec<Entry>,
    },
    /// The copy is written.
    BackedUp {
        /// The request.
        ticket: Ticket,
        /// The file.
        to: PathBuf,
    },
    /// The backup is in the register's place.
    Restored {
        /// The request.
        ticket: Ticket,
        /// Where what stood there before is kept.
        kept: Option<PathBuf>,
        /// The register as it is now.
        opened: Box<Opened>,
    },
    /// The check is done.
    Verified {
        /// The request.
        ticket: Ticket,
        /// What it found.
        report: Report,
    },
    /// Which of the changes were recorded.
    WhichRecorded {
        /// The request.
        ticket: Ticket,
        /// One a change.
        recorded: Vec<bool>,
    },
    /// The thread has ended by a fault: no more changes are taken. Said once.
    Stopped,
}

/// Why a request was not taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotSent {
    /// Too many wait.
    #[error("The register is still writing earlier changes. Nothing was recorded: wait a moment, then do it again")]
    Busy,
    /// The thread has ended.
    #[error("The register has stopped by a fault of Lidnote. What was recorded is in its file: start Lidnote again")]
    Stopped,
}

/// The register thread as the app holds it. Dropping it lets the request in hand end and closes the register.
pub struct Worker {
    requests: Option<SyncSender<Request>>,
    replies: Receiver<Reply>,
    thread: Option<JoinHandle<()>>,
    told: bool,
}

impl Worker {
    /// Starts the thread, which opens the register and answers. `wake` is called after every answer.
    ///
    /// # Errors
    /// If the system gives no thread.
    pub fn start(start: Start, wake: Wake) -> std::io::Result<Self> {
        let (requests, todo) = sync_channel(WAITING);
        let (done, replies) = sync_channel(WAITING);
        let serving = move || serve(start, &todo, Answers { done: Some(done), wake });
        let thread = Builder::new().name("register".to_owned()).spawn(serving)?;
        Ok(Self { requests: Some(requests), replies, thread: Some(thread), told: false })
    }

    /// Hands a request over; never waits.
    ///
    /// # Errors
    /// If too many wait, or the thread has ended.
    pub fn send(&self, request: Request) -> Result<(), NotSent> {
        let requests = self.requests.as_ref().ok_or(NotSent::Stopped)?;
        requests.try_send(request).map_err(|error| match error {
            TrySendError::Full(_) => NotSent::Busy,
            TrySendError::Disconnected(_) => NotSent::Stopped,
        })
    }

    /// The next answer, if there is one; never waits.
    pub fn receive(&mut self) -> Option<Reply> {
        match self.replies.try_recv() {
            Ok(reply) => Some(reply),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => {
                // The thread may still be on its way out; nothing more is handed to it.
                self.requests = None;
                let first = !std::mem::replace(&mut self.told, true);
                first.then_some(Reply::Stopped)
            }
        }
    }

    /// Lets the thread serve what waits and end; its last answers.
    pub fn finish(mut self) -> Vec<Reply> {
        self.requests = None;
        // Every answer comes before the thread lets go of its end.
        self.replies.iter().collect()
    }
}

impl Drop for Worker {
    fn drop(&mut self) {
        self.requests = None;
        if let Some(thread) = self.thread.take() {
            // Answers nobody waits for are taken, so that the thread comes to its end.
            while !thread.is_finished() {
                let _ = self.replies.recv_timeout(Duration::from_millis(5));
            }
            let _ = thread.join();
        }
    }
}
