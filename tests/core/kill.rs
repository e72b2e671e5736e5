//! The register is killed fifty times in the middle of a change: every change that was answered is there, every other
//! is there whole or not at all. A kill proves the transactions; that answered changes are *synced* is what the
//! settings of the connection are tested for (a kill leaves the system's cache of the disk alone).

use std::io::{BufRead as _, BufReader, Write as _};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use lidnote::domain::fact::{Edit, Fact};
use lidnote::domain::world::World;
use lidnote::domain::yard::Yard;
use lidnote::register::Register;

use crate::things::{added_record, added_yard, at, beginning, commit, day, eggs, folded, yard};

/// Set for the child: the register it works on.
const CHILD: &str = "LIDNOTE_TEST_KILLED_CHILD";
const KILLS: u64 = 50;
const RECORDS: u128 = 40;

/// What the `number`th entry of the history does. Two of each six are an undo and its redo.
enum Step {
    Do(Vec<Fact>),
    Undo,
    Redo,
}

fn step(number: i64, world: &World) -> Step {
    match number % 6 {
        4 => Step::Undo,
        5 => Step::Redo,
        _ if number == 0 => Step::Do(beginning()),
        _ => Step::Do(an_evening(number as u128, world)),
    }
}

/// An evening: one new yard, one altered, forty records.
fn an_evening(number: u128, world: &World) -> Vec<Fact> {
    let mut facts = vec![added_yard(yard(1000 + number))];
    if let Some(yard) = world.yards.values().next() {
        let after = Yard { note: format!("as of {number}"), ..(**yard).clone() };
        facts.push(Fact::Yard(Box::new(Edit::alter((**yard).clone(), after))));
    }
    let day = day("2026-11-01").plus(number as i32);
    facts.extend((0..RECORDS).map(|at| added_record(eggs(number * 1000 + at, 1 + at % 3, day))));
    facts
}

/// The worlds after each of the first `entries` entries.
struct Worlds {
    all: Vec<World>,
}

impl Worlds {
    fn after(&mut self, entries: usize) -> &World {
        while self.all.len() <= entries {
            let number = self.all.len() - 1;
            let world = &self.all[number];
            let next = match step(number as i64, world) {
                Step::Do(facts) => folded(world, &facts),
                // The undo goes back to before the change just before it, the redo to before the undo.
                Step::Undo | Step::Redo => self.all[number - 1].clone(),
            };
            self.all.push(next);
        }
        &self.all[entries]
    }
}

/// What the child does until it is killed: one entry after another, each told once it is answered.
fn work_until_killed(path: &Path) {
    let mut register = Register::open(path, at(0)).expect("opens after every kill");
    let mut out = std::io::stdout().lock();
    for number in register.count_entries().expect("counted").. {
        match step(number, &register.world()) {
            Step::Do(facts) => assert!(commit(&mut register, "An evening", facts).expect("committed") > 0),
            Step::Undo => drop(register.undo(at(number)).expect("undone")),
            Step::Redo => drop(register.redo(at(number)).expect("redone")),
        }
        writeln!(out, "\nanswered {}", number + 1).and_then(|()| out.flush()).expect("told");
    }
}

/// Starts the child, kills it after that time from its first answer, and says what it answered last.
fn killed_after(path: &Path, time: Duration) -> i64 {
    let program = std::env::current_exe().expect("this test's own program");
    let child = Command::new(program)
        .args(["kill::fifty_kills_in_the_middle_of_a_change", "--exact", "--nocapture", "--test-threads=1"])
        .env(CHILD, path)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn();
    let mut child = child.expect("a child");
    let mut out = BufReader::new(child.stdout.take().expect("its output"));
    let mut answered = 0;
    let mut line = String::new();
    let mut waiting = true;
    // Killed by a second thread, so that the moment does not depend on what the child says.
    std::thread::scope(|scope| {
        let (begin, begun) = std::sync::mpsc::sync_channel::<()>(1);
        let killer = std::thread::Builder::new().name("killer".to_owned()).spawn_scoped(scope, move || {
            begun.recv_timeout(Duration::from_mins(1)).expect("the child answers");
            std::thread::sleep(time);
            child.kill().expect("killed");
            child.wait().expect("ended")
        });
        while out.read_line(&mut line).expect("readable") > 0 {
            if let Some(number) = line.trim().strip_prefix("answered ") {
                answered = number.parse().expect("a number");
                if std::mem::take(&mut waiting) {
                    begin.send(()).expect("the killer waits");
                }
            }
            line.clear();
        }
        let status = killer.expect("a thread").join().expect("killed");
        assert!(!status.success(), "the child ended by the kill, not by itself");
    });
    answered
}

#[test]
fn fifty_kills_in_the_middle_of_a_change() {
    if let Some(path) = std::env::var_os(CHILD) {
        return work_until_killed(Path::new(&path));
    }
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("killed.lidnote");
    Register::create(&path).expect("a new register").close().expect("closes");
    let mut worlds = Worlds { all: vec![World::default()] };
    let mut seed = 20_261_124_u64;
    let mut last = 0;
    for kill in 0..KILLS {
        // Knuth's MMIX generator: the moments are spread over about two changes, and the same in every run.
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let answered = killed_after(&path, Duration::from_micros((seed >> 33) % 40_000));
        let register = Register::open(&path, at(0)).expect("opens after the kill");
        let entries = register.count_entries().expect("counted");
        // The last change can be there although the kill came before its answer was told.
        assert!((answered..=answered + 1).contains(&entries), "kill {kill}: {answered} answered, {entries} there");
        assert!(*register.world() == *worlds.after(entries as usize), "kill {kill}: not the world after {entries}");
        let report = register.verify().expect("readable");
        assert!(report.sound, "kill {kill}: {:#?}", report.lines);
        assert!(entries > last, "kill {kill}: the child worked before it was killed");
        last = entries;
    }
}
