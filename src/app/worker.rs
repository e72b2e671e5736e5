//! The register thread: it alone holds the register. Requests are served in order, answers wake the window.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, SyncSender, TryRecvError, TrySendError, sync_channel};
use std::thread::{Builder, JoinHandle};
use std::time::Duration;

use crate::app::clock;
use crate::app::wake::Wake;
use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::ids::ColonyId;
use crate::domain::refusal::Refusal;
use crate::domain::world::World;
use crate::register::error::RegisterError;
use crate::register::journal::{Entry, EntryKind, Page, Step};
use crate::register::verify::Report;
use crate::register::{Applied, Register};

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
                let first = !std::mem::replace(&mut self.told, true);
                first.then_some(Reply::Stopped)
            }
        }
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

/// Where answers go. The window is woken once more when the thread ends, so that it learns of it.
struct Answers {
    done: Option<SyncSender<Reply>>,
    wake: Wake,
}

impl Answers {
    fn give(&self, reply: Reply) {
        if let Some(done) = &self.done {
            // Nobody listens any more: the app is closing.
            let _ = done.send(reply);
        }
        (self.wake)();
    }
}

impl Drop for Answers {
    fn drop(&mut self) {
        self.done = None;
        if !std::thread::panicking() {
            return;
        }
        // A wake that itself is at fault must not end the whole program.
        let _ = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| (self.wake)()));
    }
}

fn serve(start: Start, todo: &Receiver<Request>, answers: Answers) {
    let (path, opened) = match start {
        Start::Open(path) => {
            let opened = Register::open(&path, clock::now());
            (path, opened)
        }
        Start::Create(path) => {
            let opened = Register::create(&path);
            (path, opened)
        }
    };
    let mut holder = Holder { path, held: opened, answers };
    holder.greet();
    while let Ok(request) = todo.recv() {
        holder.serve(request);
    }
    if let Ok(register) = holder.held {
        // What was recorded is on the disk whatever closing says.
        let _ = register.close();
    }
}

struct Holder {
    path: PathBuf,
    held: Result<Register, RegisterError>,
    answers: Answers,
}

impl Holder {
    fn greet(&self) {
        match &self.held {
            Ok(register) => {
                self.answers.give(Reply::Opened(Box::new(opened(register))));
                self.answers.give(Reply::StartBackup(register.back_up_at_start(clock::now())));
            }
            Err(error) => self.answers.give(Reply::NotOpened(error.clone())),
        }
    }

    fn serve(&mut self, request: Request) {
        let ticket = request.ticket();
        let reply = match request {
            Request::Apply { change, today, .. } => self.with(|register| {
                let applied = register.apply(&change, today, clock::now())?;
                Ok(applied.map_or(Reply::Unchanged(ticket), |applied| done(register, ticket, EntryKind::Do, applied)))
            }),
            Request::Undo(_) => self.with(|register| {
                let applied = register.undo(clock::now())?;
                Ok(done(register, ticket, EntryKind::Undo, applied))
            }),
            Request::Redo(_) => self.with(|register| {
                let applied = register.redo(clock::now())?;
                Ok(done(register, ticket, EntryKind::Redo, applied))
            }),
            Request::Entries { of, page, .. } => self.with(|register| {
                let entries = match of {
                    Some(colony) => register.entries_of(colony, page)?,
                    None => register.entries(page)?,
                };
                Ok(Reply::Entries { ticket, entries })
            }),
            Request::BackUp { to, .. } => self.with(|register| {
                register.back_up_to(&to)?;
                Ok(Reply::BackedUp { ticket, to })
            }),
            Request::Verify(_) => self.with(|register| Ok(Reply::Verified { ticket, report: register.verify()? })),
            Request::Restore { from, .. } => self.restore(ticket, &from),
        };
        self.answers.give(match reply {
            Ok(reply) => reply,
            Err(RegisterError::Refused(refusal)) => Reply::Refused { ticket, refusal },
            Err(error) => Reply::Failed { ticket, error },
        });
    }

    fn with(
        &mut self,
        work: impl FnOnce(&mut Register) -> Result<Reply, RegisterError>,
    ) -> Result<Reply, RegisterError> {
        match &mut self.held {
            Ok(register) => work(register),
            Err(error) => Err(error.clone()),
        }
    }

    fn restore(&mut self, ticket: Ticket, from: &Path) -> Result<Reply, RegisterError> {
        // Closed before anything is put in its place, and opened again whatever came of it.
        let away = RegisterError::Removed { file: self.path.clone() };
        drop(std::mem::replace(&mut self.held, Err(away)));
        let restored = Register::restore(from, &self.path, clock::now());
        self.held = Register::open(&self.path, clock::now());
        let kept = restored?;
        match &self.held {
            Ok(register) => Ok(Reply::Restored { ticket, kept, opened: Box::new(opened(register)) }),
            Err(error) => Err(error.clone()),
        }
    }
}

fn done(register: &Register, ticket: Ticket, kind: EntryKind, applied: Applied) -> Reply {
    Reply::Applied { ticket, kind, applied: Box::new(applied), steps: steps(register) }
}

fn opened(register: &Register) -> Opened {
    Opened {
        path: register.path().to_owned(),
        world: register.world(),
        steps: steps(register),
        caution: register.caution().map(str::to_owned),
    }
}

/// What undo and redo would take next. What was recorded stays recorded even if this cannot be read.
fn steps(register: &Register) -> Steps {
    Steps { undo: register.next_undo().unwrap_or_default(), redo: register.next_redo().unwrap_or_default() }
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::time::Instant;

    use crate::domain::ids::YardId;
    use crate::domain::yard::Yard;
    use crate::register::backup::backups;

    use super::*;

    fn next(worker: &mut Worker) -> Reply {
        let begun = Instant::now();
        loop {
            if let Some(reply) = worker.receive() {
                return reply;
            }
            assert!(begun.elapsed() < Duration::from_secs(30), "no answer came");
            std::thread::sleep(Duration::from_millis(1));
        }
    }

    fn started(start: Start) -> Worker {
        Worker::start(start, Arc::new(|| {})).expect("a thread")
    }

    fn add(number: u128, name: &str) -> Request {
        let yard = Yard::named(YardId::from_number(number), name);
        let today = Day::new(2026, 11, 24).expect("a day");
        Request::Apply { ticket: Ticket(number as u64), change: Box::new(Change::PutYard(Box::new(yard))), today }
    }

    fn new_register() -> (tempfile::TempDir, PathBuf, Worker) {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("heath.lidnote");
        let mut worker = started(Start::Create(path.clone()));
        assert!(matches!(next(&mut worker), Reply::Opened(_)));
        assert!(matches!(next(&mut worker), Reply::StartBackup(Ok(_))));
        (folder, path, worker)
    }

    #[test]
    fn a_change_goes_there_and_back_and_is_kept() {
        let (_folder, path, mut worker) = new_register();
        worker.send(add(1, "Heath")).expect("taken");
        let Reply::Applied { ticket: Ticket(1), kind: EntryKind::Do, applied, steps } = next(&mut worker) else {
            panic!("not applied");
        };
        assert_eq!(applied.world.yards.len(), 1);
        assert_eq!(steps.undo.map(|step| step.title).as_ref(), Some(&applied.title));
        worker.send(add(1, "Heath")).expect("taken");
        assert!(matches!(next(&mut worker), Reply::Unchanged(Ticket(1))));
        worker.send(add(2, "heath")).expect("taken");
        assert!(matches!(next(&mut worker), Reply::Refused { ticket: Ticket(2), .. }));
        worker.send(Request::Undo(Ticket(3))).expect("taken");
        let Reply::Applied { kind: EntryKind::Undo, applied, steps, .. } = next(&mut worker) else {
            panic!("not undone");
        };
        assert!(applied.world.yards.is_empty() && steps.undo.is_none() && steps.redo.is_some());
        worker.send(Request::Redo(Ticket(4))).expect("taken");
        worker.send(Request::Redo(Ticket(5))).expect("taken");
        assert!(matches!(next(&mut worker), Reply::Applied { kind: EntryKind::Redo, .. }));
        assert!(matches!(next(&mut worker), Reply::Failed { ticket: Ticket(5), .. }));
        let page = Page { before: None, limit: 10 };
        worker.send(Request::Entries { ticket: Ticket(6), of: None, page }).expect("taken");
        assert!(matches!(next(&mut worker), Reply::Entries { entries, .. } if entries.len() == 3));
        worker.send(add(7, "Moor")).expect("taken");
        drop(worker);
        let mut worker = started(Start::Open(path));
        assert!(matches!(next(&mut worker), Reply::Opened(opened) if opened.world.yards.len() == 2));
    }

    #[test]
    fn a_backup_is_restored_in_place_also_of_a_damaged_register() {
        let (_folder, path, mut worker) = new_register();
        let empty = backups(&path).pop().expect("the backup of the start").path;
        worker.send(add(1, "Heath")).expect("taken");
        worker.send(Request::Restore { ticket: Ticket(2), from: empty.clone() }).expect("taken");
        worker.send(Request::Verify(Ticket(3))).expect("taken");
        assert!(matches!(next(&mut worker), Reply::Applied { .. }));
        let Reply::Restored { kept: Some(kept), opened, .. } = next(&mut worker) else { panic!("not restored") };
        assert!(opened.world.yards.is_empty());
        assert!(matches!(next(&mut worker), Reply::Verified { report, .. } if report.sound));
        worker.send(Request::Restore { ticket: Ticket(4), from: path.with_file_name("none") }).expect("taken");
        worker.send(add(5, "Moor")).expect("taken");
        assert!(matches!(next(&mut worker), Reply::Failed { ticket: Ticket(4), .. }));
        assert!(matches!(next(&mut worker), Reply::Applied { .. }), "the register is open again");
        drop(worker);
        std::fs::write(&path, "spoilt").expect("written");
        let mut worker = started(Start::Open(path));
        assert!(matches!(next(&mut worker), Reply::NotOpened(RegisterError::Damaged { .. })));
        worker.send(add(6, "Fen")).expect("taken");
        worker.send(Request::Restore { ticket: Ticket(7), from: kept }).expect("taken");
        assert!(matches!(next(&mut worker), Reply::Failed { ticket: Ticket(6), .. }));
        assert!(matches!(next(&mut worker), Reply::Restored { opened, .. } if opened.world.yards.len() == 1));
    }

    #[test]
    fn a_thread_that_broke_says_so_once_and_takes_nothing_more() {
        let folder = tempfile::tempdir().expect("a folder");
        let woken = Arc::new(AtomicUsize::new(0));
        let count = Arc::clone(&woken);
        let wake = move || assert!(count.fetch_add(1, Ordering::SeqCst) != 2, "a fault on purpose");
        let mut worker = Worker::start(Start::Create(folder.path().join("a.lidnote")), Arc::new(wake)).expect("thread");
        worker.send(add(1, "Heath")).expect("taken");
        assert!(matches!(next(&mut worker), Reply::Opened(_)));
        assert!(matches!(next(&mut worker), Reply::StartBackup(Ok(_))));
        assert!(matches!(next(&mut worker), Reply::Applied { .. }));
        assert!(matches!(next(&mut worker), Reply::Stopped));
        assert!(worker.receive().is_none());
        assert_eq!(worker.send(add(2, "Moor")), Err(NotSent::Stopped));
        assert_eq!(woken.load(Ordering::SeqCst), 4, "the window was woken to learn of it");
    }
}
