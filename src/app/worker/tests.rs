//! Tests of the register thread.

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use crate::domain::ids::YardId;
use crate::domain::yard::Yard;
use crate::register::backup::backups;

use crate::app::worker::{NotSent, Reply, Request, Start, Ticket, Worker};
use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::register::error::RegisterError;
use crate::register::journal::{EntryKind, Page};

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
    drop(worker);
    assert_eq!(woken.load(Ordering::SeqCst), 4, "the window was woken to learn of it");
}
