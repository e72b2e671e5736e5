//! The window's program without a window: registers that do not open, and a map pack that is away.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use tempfile::TempDir;

use crate::app::demo;
use crate::app::frame::Lidnote;
use crate::app::prefs::Prefs;
use crate::domain::day::Day;
use crate::register::Register;
use crate::ui::action::Action;
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
