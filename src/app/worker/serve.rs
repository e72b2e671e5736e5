//! What runs on the register thread: opens the register, serves the requests in order, gives the answers.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, SyncSender};
use std::time::Duration;

use crate::app::clock;
use crate::app::wake::Wake;
use crate::app::worker::{Opened, Reply, Request, Start, Steps, Ticket};
use crate::domain::change::Change;
use crate::register::error::RegisterError;
use crate::register::journal::EntryKind;
use crate::register::{Applied, Register};

/// How often a register that is in use is tried again before it is told.
const TRIES: u32 = 10;
const BETWEEN_TRIES: Duration = Duration::from_millis(150);

/// Where answers go. The window is woken once more when the thread ends, so that it learns of it.
pub(crate) struct Answers {
    pub(crate) done: Option<SyncSender<Reply>>,
    pub(crate) wake: Wake,
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

/// Runs until nobody asks any more.
pub(crate) fn serve(start: Start, todo: &Receiver<Request>, answers: Answers) {
    let (path, opened) = match start {
        Start::Open(path) => {
            let opened = opened_in_time(&path);
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

/// Opens a register. A window that has just been killed or closed may hold it for a moment still.
fn opened_in_time(path: &Path) -> Result<Register, RegisterError> {
    for _ in 0..TRIES {
        match Register::open(path, clock::now()) {
            Err(RegisterError::InUse { .. }) => std::thread::sleep(BETWEEN_TRIES),
            opened => return opened,
        }
    }
    Register::open(path, clock::now())
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
            Request::WhichRecorded { changes, .. } => self.with(|register| {
                let one = |(after, change): (i64, Change)| register.has_recorded(&change, after);
                Ok(Reply::WhichRecorded { ticket, recorded: changes.into_iter().map(one).collect::<Result<_, _>>()? })
            }),
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
        // Where it cannot be read, no older entry is taken for a change made later.
        newest: register.newest_entry().unwrap_or(i64::MAX),
        caution: register.caution().map(str::to_owned),
    }
}

/// What undo and redo would take next. What was recorded stays recorded even if this cannot be read.
fn steps(register: &Register) -> Steps {
    Steps { undo: register.next_undo().unwrap_or_default(), redo: register.next_redo().unwrap_or_default() }
}
