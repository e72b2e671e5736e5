//! The window's program without a window: registers that do not open, changes that cannot be written, a map pack that is
//! away, files being read, the file dialog.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use tempfile::TempDir;

use crate::app::cli::mint;
use crate::app::demo;
use crate::app::frame::Lidnote;
use crate::app::prefs::Prefs;
use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::ids::YardId;
use crate::domain::yard::Yard;
use crate::exchange::any::read;
use crate::exchange::table::changes::changes;
use crate::exchange::table::preview::Options;
use crate::register::Register;
use crate::ui::action::{Action, FilePurpose, ImportOptions};
use crate::ui::scene::PackInfo;

struct Bench {
    folder: TempDir,
    lidnote: Lidnote,
}

impl Bench {
    fn new(prefs: &Prefs) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let at = folder.path().join("preferences.json");
        prefs.save(&at).expect("saved");
        let lidnote = Lidnote::new(&egui::Context::default(), at, Day::new(2026, 11, 23)).expect("a program");
        Self { folder, lidnote }
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Turns until the condition holds; threads answer within it.
    fn until(&mut self, what: &str, holds: impl Fn(&Lidnote) -> bool) {
        let end = Instant::now() + Duration::from_secs(20);
        while !holds(&self.lidnote) {
            assert!(Instant::now() < end, "not within twenty seconds: {what}");
            std::thread::sleep(Duration::from_millis(5));
            self.lidnote.turn();
        }
    }

    fn open(&mut self, path: &Path) {
        self.lidnote.act(Action::OpenRegister { path: path.display().to_string() });
    }
}

fn empty_register(path: &Path) {
    Register::create(path).expect("made").close().expect("closed");
}

#[test]
fn a_register_in_use_is_looked_at_and_nothing_is_recorded() {
    let mut bench = Bench::new(&Prefs::default());
    let path = bench.path("bees.lidnote");
    empty_register(&path);
    let held = Register::open(&path, crate::app::clock::now()).expect("open elsewhere");
    bench.open(&path);
    bench.until("it is told that it is in use", |it| it.ui.start.not_opened().is_some_and(|what| what.readable));
    bench.lidnote.act(Action::LookAt { path: path.display().to_string() });
    bench.until("it is looked at", |it| it.scene.register.is_some());
    let info = bench.lidnote.scene.register.clone().expect("a register");
    assert_eq!(info.read_only.as_deref(), Some("Open to look only."));
    bench.lidnote.act(Action::Undo);
    let said = bench.lidnote.ui.toasts.shown().expect("a message");
    assert!(said.contains("open to look only"), "{said}");
    held.close().expect("closed there");
    bench.open(&path);
    bench.until("it is open", |it| it.scene.register.as_ref().is_some_and(|info| info.read_only.is_none()));
}

#[test]
fn another_register_that_fails_names_the_way_back_to_the_one_before() {
    let mut bench = Bench::new(&Prefs::default());
    let path = bench.path("bees.lidnote");
    empty_register(&path);
    bench.open(&path);
    bench.until("it is open", |it| it.scene.register.is_some());
    bench.open(&bench.path("typo.lidnote"));
    bench.until("it is told", |it| it.ui.start.not_opened().is_some());
    let what = bench.lidnote.ui.start.not_opened().cloned().expect("told");
    assert_eq!(what.former, Some(path.display().to_string()));
    assert!(what.words.contains("typo.lidnote") && !what.readable, "{}", what.words);
}

#[test]
fn a_register_that_has_gone_since_is_told_at_the_start() {
    let mut bench = Bench::new(&Prefs { register: Some("/nowhere/bees.lidnote".to_owned()), ..Prefs::default() });
    bench.lidnote.begin(None, false);
    bench.until("it is told", |it| it.ui.start.not_opened().is_some());
    assert_eq!(bench.lidnote.ui.start.not_opened().map(|what| what.path.as_str()), Some("/nowhere/bees.lidnote"));
}

#[test]
fn a_map_pack_that_is_away_stays_listed_and_comes_back() {
    let away = tempfile::tempdir().expect("a folder");
    let pack = away.path().join("island.pmtiles");
    let listed = pack.display().to_string();
    let mut bench = Bench::new(&Prefs { pack: Some(listed.clone()), ..Prefs::default() });
    let shown = |bench: &Bench| bench.lidnote.scene.prefs.pack.clone();
    let trouble = shown(&bench).and_then(|it| it.trouble).expect("told");
    assert!(trouble.contains("island.pmtiles") && trouble.contains("Connect the disk"), "{trouble}");
    let bad = bench.path("no.pmtiles");
    std::fs::write(&bad, b"no pack").expect("written");
    bench.lidnote.act(Action::AddPack { path: bad.display().to_string() });
    assert_eq!(shown(&bench).map(|it| it.path), Some(listed.clone()), "what is no pack takes nobody's place");
    let source = demo::pack();
    let bytes = source.read_at(0, source.len() as usize).expect("read");
    std::fs::write(&pack, bytes).expect("written");
    bench.lidnote.act(Action::AddPack { path: listed.clone() });
    assert_eq!(shown(&bench), Some(PackInfo { path: listed, trouble: None }));
    bench.lidnote.act(Action::RemovePack);
    assert_eq!(shown(&bench), None);
}

/// A change that the register cannot write.
fn yard_named(name: &str) -> Action {
    let yard = Yard::named(YardId(uuid::Uuid::from_u128(7)), name);
    Action::Change(Box::new(Change::PutYard(Box::new(yard))))
}

#[test]
fn what_cannot_be_written_is_kept_until_it_is_recorded() {
    let mut bench = Bench::new(&Prefs::default());
    let path = bench.path("bees.lidnote");
    empty_register(&path);
    bench.open(&path);
    bench.until("it is open", |it| it.scene.register.is_some());
    let away = bench.path("away.lidnote");
    std::fs::rename(&path, &away).expect("moved away");
    bench.lidnote.act(yard_named("Heath"));
    assert!(!bench.lidnote.may_close(), "the answer is waited for");
    bench.until("it is kept", |it| !it.scene.not_recorded.is_empty());
    let kept = bench.lidnote.scene.not_recorded.clone();
    assert_eq!(kept.len(), 1);
    assert_eq!(kept[0].title, "Heath added");
    assert!(kept[0].why.contains("not there any more") && kept[0].why.contains("put the file back"), "{}", kept[0].why);
    assert!(!bench.lidnote.may_close() && bench.lidnote.ui.shell.held_open, "closing asks");
    bench.lidnote.act(Action::RecordAgain);
    bench.until("it fails again and is kept", |it| !it.scene.not_recorded.is_empty());
    std::fs::rename(&away, &path).expect("put back");
    bench.open(&path);
    bench.until("it is open again", |it| it.scene.register.is_some());
    assert_eq!(bench.lidnote.scene.not_recorded.len(), 1, "kept while the register is opened anew");
    bench.lidnote.act(Action::RecordAgain);
    bench.until("it is recorded", |it| it.scene.world.yards.len() == 1);
    assert!(bench.lidnote.scene.not_recorded.is_empty() && bench.lidnote.may_close());
}

#[test]
fn what_is_not_recorded_is_tried_only_in_its_own_register_and_can_be_left() {
    let mut bench = Bench::new(&Prefs::default());
    let (path, other) = (bench.path("bees.lidnote"), bench.path("other.lidnote"));
    empty_register(&path);
    empty_register(&other);
    bench.open(&path);
    bench.until("it is open", |it| it.scene.register.is_some());
    std::fs::remove_file(&path).expect("gone");
    bench.lidnote.act(yard_named("Heath"));
    // The other register is opened before the answer is read.
    bench.open(&other);
    bench.until("the other is open", |it| it.scene.register.is_some());
    assert_eq!(bench.lidnote.scene.not_recorded.len(), 1, "the last answer of the former thread is heard");
    bench.lidnote.act(Action::RecordAgain);
    let said = bench.lidnote.ui.toasts.shown().expect("a message").to_owned();
    assert!(said.contains("bees.lidnote. Open it, then try again."), "{said}");
    assert_eq!(bench.lidnote.scene.not_recorded.len(), 1);
    bench.lidnote.act(Action::LeaveUnrecorded);
    assert!(bench.lidnote.scene.not_recorded.is_empty() && bench.lidnote.may_close());
    assert!(bench.lidnote.scene.world.yards.is_empty());
}

#[test]
fn of_the_same_thing_only_the_newest_is_kept_and_a_later_record_of_it_ends_it() {
    let mut bench = Bench::new(&Prefs::default());
    let path = bench.path("bees.lidnote");
    empty_register(&path);
    bench.open(&path);
    bench.until("it is open", |it| it.scene.register.is_some());
    let away = bench.path("away.lidnote");
    std::fs::rename(&path, &away).expect("moved away");
    bench.lidnote.act(yard_named("Heath"));
    bench.lidnote.act(yard_named("Heath End"));
    bench.until("the newest is kept", |it| it.scene.not_recorded.iter().any(|kept| kept.title == "Heath End added"));
    assert_eq!(bench.lidnote.scene.not_recorded.len(), 1);
    std::fs::rename(&away, &path).expect("put back");
    bench.open(&path);
    bench.until("it is open again", |it| it.scene.register.is_some());
    bench.lidnote.act(yard_named("Heath Cross"));
    bench.until("it is recorded", |it| it.scene.world.yards.len() == 1);
    assert!(bench.lidnote.scene.not_recorded.is_empty());
}

/// A register with a change that could not be written, and the file it is kept in.
fn one_is_kept() -> (Bench, PathBuf, PathBuf) {
    let mut bench = Bench::new(&Prefs::default());
    let path = bench.path("bees.lidnote");
    empty_register(&path);
    bench.open(&path);
    bench.until("it is open", |it| it.scene.register.is_some());
    let away = bench.path("away.lidnote");
    std::fs::rename(&path, &away).expect("moved away");
    bench.lidnote.act(yard_named("Heath"));
    bench.until("it is kept", |it| !it.scene.not_recorded.is_empty());
    assert!(bench.lidnote.scene.not_recorded[0].lasts);
    std::fs::rename(&away, &path).expect("put back");
    let file = kept_files(&bench).pop().expect("a file");
    (bench, path, file)
}

fn kept_files(bench: &Bench) -> Vec<PathBuf> {
    let list = std::fs::read_dir(bench.path("not-recorded")).expect("a folder");
    list.map(|entry| entry.expect("an entry").path()).collect()
}

/// The program as it is after a crash: begun anew on the same preferences.
fn begun_again(bench: Bench) -> Bench {
    let Bench { folder, lidnote } = bench;
    drop(lidnote);
    let at = folder.path().join("preferences.json");
    let lidnote = Lidnote::new(&egui::Context::default(), at, Day::new(2026, 11, 23)).expect("a program");
    Bench { folder, lidnote }
}

#[test]
fn what_could_not_be_written_outlives_the_program() {
    let (bench, path, file) = one_is_kept();
    let mut bench = begun_again(bench);
    assert!(bench.lidnote.scene.not_recorded.is_empty(), "its register is not open");
    bench.open(&path);
    bench.until("it is offered", |it| !it.scene.not_recorded.is_empty());
    let kept = bench.lidnote.scene.not_recorded.clone();
    assert!(kept[0].lasts && kept[0].title == "Heath added" && kept[0].why.contains("was kept. Try again"), "{kept:?}");
    assert!(bench.lidnote.scene.world.yards.is_empty(), "it is offered, not recorded");
    bench.lidnote.act(Action::RecordAgain);
    bench.until("it is recorded", |it| it.scene.world.yards.len() == 1);
    assert!(bench.lidnote.scene.not_recorded.is_empty() && !file.exists());
}

#[test]
fn what_was_recorded_just_before_a_crash_is_not_offered_again() {
    let (mut bench, path, file) = one_is_kept();
    let bytes = std::fs::read(&file).expect("read");
    bench.open(&path);
    bench.until("it is open again", |it| it.scene.register.is_some());
    bench.lidnote.act(Action::RecordAgain);
    bench.until("it is recorded", |it| it.scene.world.yards.len() == 1);
    bench.lidnote.act(Action::Undo);
    bench.until("it is taken back", |it| it.scene.world.yards.is_empty());
    // As if the crash had come before the file was let go.
    std::fs::write(&file, bytes).expect("written");
    let mut bench = begun_again(bench);
    bench.open(&path);
    bench.until("it is known as recorded", |_| !file.exists());
    assert!(bench.lidnote.scene.not_recorded.is_empty());
}

#[test]
fn what_is_left_is_left_for_good() {
    let (mut bench, path, file) = one_is_kept();
    bench.lidnote.act(Action::LeaveUnrecorded);
    assert!(!file.exists());
    let mut bench = begun_again(bench);
    bench.open(&path);
    bench.until("it is open", |it| it.scene.register.is_some());
    bench.lidnote.act(yard_named("Moor"));
    bench.until("it is recorded", |it| it.scene.world.yards.len() == 1);
    assert!(bench.lidnote.scene.not_recorded.is_empty());
}

#[test]
fn a_newer_change_of_the_same_thing_lets_the_older_file_go() {
    let (mut bench, path, file) = one_is_kept();
    bench.open(&path);
    bench.until("it is open again", |it| it.scene.register.is_some());
    bench.lidnote.act(yard_named("Heath Cross"));
    bench.until("it is recorded", |it| it.scene.world.yards.len() == 1);
    assert!(bench.lidnote.scene.not_recorded.is_empty() && !file.exists());
}

fn hives(rows: usize) -> String {
    let rows = (0..rows).map(|row| format!("Yard {},H{row},2025-11-01\n", row / 40));
    std::iter::once("yard,hive,queen born\n".to_owned()).chain(rows).collect()
}

#[test]
fn a_reading_that_was_stopped_or_overtaken_shows_nothing() {
    let mut bench = Bench::new(&Prefs::default());
    let (path, other) = (bench.path("hives.csv"), bench.path("few.csv"));
    std::fs::write(&path, hives(4000)).expect("written");
    std::fs::write(&other, hives(3)).expect("written");
    let read = |path: &Path| Action::ReadImport { path: path.display().to_string(), options: ImportOptions::default() };
    bench.lidnote.act(read(&path));
    bench.lidnote.act(Action::DropImport);
    let said = bench.lidnote.ui.toasts.shown().expect("a message").to_owned();
    assert_eq!(said, "The reading was stopped. Nothing was brought in.");
    bench.until("the thread is free", |it| it.jobs.now().is_none());
    assert!(bench.lidnote.import.is_none());
    bench.lidnote.act(read(&path));
    bench.lidnote.act(read(&other));
    bench.until("the newer is read", |it| it.import.is_some());
    let rows = bench.lidnote.import.as_ref().map(|import| import.preview().rows.len());
    assert_eq!(rows, Some(3));
    assert!(bench.lidnote.jobs.now().is_none(), "the older ended before");
}

#[test]
fn a_file_dialog_holds_up_nothing_and_is_alone() {
    let mut bench = Bench::new(&Prefs::default());
    let path = bench.path("hives.csv");
    std::fs::write(&path, hives(3)).expect("written");
    let (choose, chosen) = std::sync::mpsc::sync_channel::<Option<PathBuf>>(1);
    bench.lidnote.open_dialog(FilePurpose::Import, move || chosen.recv().expect("chosen"));
    bench.lidnote.act(Action::ReadImport { path: path.display().to_string(), options: ImportOptions::default() });
    bench.until("a file is read meanwhile", |it| it.import.is_some());
    bench.lidnote.open_dialog(FilePurpose::Pack, || panic!("a second dialog"));
    let said = bench.lidnote.ui.toasts.shown().expect("a message").to_owned();
    assert!(said.contains("open already"), "{said}");
    choose.send(Some(path)).expect("it waits");
    bench.until("the choice is taken", |it| it.dialog.is_none());
    bench.lidnote.open_dialog(FilePurpose::Import, || None);
    bench.until("none came up", |it| it.dialog.is_none());
    let said = bench.lidnote.ui.toasts.shown().expect("a message").to_owned();
    assert!(said.contains("opened no file dialog") && said.contains("Type the name"), "{said}");
}

#[test]
fn an_evening_that_no_disk_takes_is_told_once_and_tried_until_it_is_taken() {
    let folder = tempfile::tempdir().expect("a folder");
    let blocked = folder.path().join("config");
    std::fs::write(&blocked, b"no folder").expect("written");
    let at = blocked.join("preferences.json");
    let lidnote = Lidnote::new(&egui::Context::default(), at.clone(), Day::new(2026, 11, 23)).expect("a program");
    let mut bench = Bench { folder, lidnote };
    bench.lidnote.act(Action::KeepDraft("eq".to_owned()));
    bench.until("it is told", |it| it.ui.toasts.shown().is_some_and(|it| it.contains("by this window alone")));
    bench.lidnote.ui.toasts.clear();
    bench.lidnote.save_prefs();
    assert_eq!(bench.lidnote.ui.toasts.shown(), None, "said once");
    std::fs::remove_file(&blocked).expect("out of the way");
    bench.until("it is on the disk", |_| at.exists());
    assert!(Prefs::load(&at).draft.is_some_and(|draft| draft.text == "eq"));
    bench.until("nothing waits", |it| it.unwritten.is_none());
}

#[test]
fn a_clock_that_is_behind_the_register_is_told() {
    let mut bench = Bench::new(&Prefs::default());
    let path = bench.path("bees.lidnote");
    let mut register = Register::create(&path).expect("made");
    let tomorrow = Day::new(2026, 11, 24).expect("a day");
    let table = b"yard,hive,last look,found\nHeath,B1,2026-11-24,eggs\n";
    let preview = read(table, &Options::default(), &register.world(), tomorrow).expect("read");
    let change = changes(&preview, &mut mint, "Import");
    register.apply(&change, tomorrow, crate::app::clock::now()).expect("recorded").expect("altered");
    register.close().expect("closed");
    bench.open(&path);
    bench.until("it is told", |it| it.ui.toasts.shown().is_some());
    let said = bench.lidnote.ui.toasts.shown().expect("a message");
    assert!(said.contains("Mon 23 Nov 2026") && said.contains("Tue 24 Nov 2026") && said.contains("clock"), "{said}");
    bench.lidnote.ui.toasts.clear();
    bench.lidnote.on = Some(tomorrow);
    bench.lidnote.turn();
    assert_eq!(bench.lidnote.ui.toasts.shown(), None, "the clock is right again");
}
