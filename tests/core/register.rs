//! The register: apply, undo, redo, reopen, history, backups, restore, and files that are not what they should be.

use std::io::Write as _;
use std::path::{Path, PathBuf};

use lidnote::domain::fact::{Edit, Fact};
use lidnote::domain::ids::ColonyId;
use lidnote::domain::settings::{Firm, Settings};
use lidnote::domain::world::World;
use lidnote::register::Register;
use lidnote::register::backup::{KEPT, backups};
use lidnote::register::error::RegisterError;
use lidnote::register::journal::{EntryKind, Page};

use crate::things::{
    added_colony, added_queen, added_record, added_yard, at, beginning, caged, colony, commit, day, eggs, folded,
    queen, yard,
};

const ALL: Page = Page { before: None, limit: 1000 };

struct Bench {
    // Held so that the folder stays until the test ends.
    folder: tempfile::TempDir,
    path: PathBuf,
    register: Register,
}

fn bench() -> Bench {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("heath.lidnote");
    let mut register = Register::create(&path).expect("a new register");
    commit(&mut register, "Begin", beginning()).expect("committed");
    Bench { folder, path, register }
}

fn reopened(path: &Path) -> Register {
    Register::open(path, at(0)).expect("opens")
}

fn titles(register: &Register) -> Vec<(EntryKind, String, bool)> {
    let entries = register.entries(ALL).expect("entries");
    entries.into_iter().map(|entry| (entry.kind, entry.title, entry.undone)).collect()
}

fn is_sound(register: &Register) {
    let report = register.verify().expect("readable");
    assert!(report.sound, "{:#?}", report.lines);
}

#[test]
fn what_is_committed_is_there_after_reopening() {
    let mut bench = bench();
    let day = day("2026-11-14");
    let facts =
        vec![added_record(caged(1, 1, 2, day)), added_record(eggs(2, 2, day)), added_record(eggs(3, 1, day.plus(-1)))];
    let expected = folded(&bench.register.world(), &facts);
    commit(&mut bench.register, "An evening", facts).expect("committed");
    assert_eq!(*bench.register.world(), expected);
    is_sound(&bench.register);
    bench.register.close().expect("closes");
    let names: Vec<_> = std::fs::read_dir(bench.folder.path()).expect("folder").flatten().collect();
    assert_eq!(names.len(), 2, "the register and its lock, no log: {names:?}");
    assert_eq!(*reopened(&bench.path).world(), expected);
}

#[test]
fn undo_and_redo_walk_over_restarts() {
    let Bench { folder: _folder, path, mut register } = bench();
    let begun = register.world();
    let day = day("2026-11-14");
    let mut worlds = vec![begun];
    for number in 1..=3 {
        let before = register.world().yards.values().next().map(|yard| (**yard).clone()).expect("a yard");
        let mut after = before.clone();
        after.note = format!("note {number}");
        let facts = vec![Fact::Yard(Box::new(Edit::alter(before, after))), added_record(eggs(number, 1, day))];
        commit(&mut register, &format!("Change {number}"), facts).expect("committed");
        worlds.push(register.world());
    }
    for back in (1..=3).rev() {
        drop(register);
        register = reopened(&path);
        assert_eq!(register.next_undo().expect("read").map(|step| step.title), Some(format!("Change {back}")));
        let undone = register.undo(at(60)).expect("undone");
        assert_eq!(undone.world, worlds[back - 1]);
        assert_eq!(undone.colonies, [ColonyId::from_number(1)]);
        is_sound(&register);
    }
    for (forth, world) in worlds.iter().enumerate().skip(1) {
        drop(register);
        register = reopened(&path);
        assert_eq!(register.next_redo().expect("read").map(|step| step.title), Some(format!("Change {forth}")));
        assert_eq!(register.redo(at(120)).expect("redone").world, *world);
    }
    assert!(matches!(register.redo(at(121)), Err(RegisterError::NothingTo("redo"))));
    is_sound(&register);
    drop(register);
    assert_eq!(*reopened(&path).world(), *worlds[3]);
}

#[test]
fn undo_takes_back_what_was_redone_and_a_new_change_ends_the_redo_line() {
    let Bench { folder: _folder, path: _, mut register } = bench();
    for number in 11..=12 {
        commit(&mut register, &format!("Add {number}"), vec![added_yard(yard(number))]).expect("committed");
    }
    register.undo(at(1)).expect("12 is undone");
    register.undo(at(2)).expect("11 is undone");
    register.redo(at(3)).expect("11 is back");
    assert_eq!(register.next_undo().expect("read").map(|step| step.title).as_deref(), Some("Add 11"));
    assert_eq!(register.next_redo().expect("read").map(|step| step.title).as_deref(), Some("Add 12"));
    register.undo(at(4)).expect("11 is undone again");
    commit(&mut register, "Add 13", vec![added_yard(yard(13))]).expect("committed");
    assert_eq!(register.next_redo().expect("read"), None);
    register.undo(at(5)).expect("13 is undone");
    assert_eq!(register.next_redo().expect("read").map(|step| step.title).as_deref(), Some("Add 13"));
    let history = titles(&register);
    let of = |kind, title: &str, undone| (kind, title.to_owned(), undone);
    let expected = [
        of(EntryKind::Undo, "Add 13", false),
        of(EntryKind::Do, "Add 13", true),
        of(EntryKind::Undo, "Add 11", false),
        of(EntryKind::Redo, "Add 11", false),
        of(EntryKind::Undo, "Add 11", false),
        of(EntryKind::Undo, "Add 12", false),
        of(EntryKind::Do, "Add 12", true),
        of(EntryKind::Do, "Add 11", true),
        of(EntryKind::Do, "Begin", false),
    ];
    assert_eq!(history, expected);
    register.undo(at(6)).expect("the beginning is undone");
    let nothing = register.undo(at(7)).expect_err("nothing is left");
    assert_eq!(nothing.to_string(), "There is nothing to undo. The history in Setup lists every change");
    assert_eq!(*register.world(), World::default());
    is_sound(&register);
}

#[test]
fn a_change_that_alters_nothing_makes_no_entry() {
    let Bench { folder: _folder, path: _, mut register } = bench();
    let same = Fact::Yard(Box::new(Edit::alter(yard(1), yard(1))));
    let firm = Fact::Firm(Box::new(Edit { before: None, after: Some(Firm::default()) }));
    assert_eq!(commit(&mut register, "Nothing", vec![same, firm]), Ok(0));
    assert_eq!(register.count_entries(), Ok(1));
}

#[test]
fn the_firm_and_settings_are_altered_and_taken_back() {
    let Bench { folder: _folder, path, mut register } = bench();
    let firm = Firm { name: "Wrackmore Bees".to_owned(), ..Firm::default() };
    let settings = Settings::default().with("speed", 72.5).expect("in range");
    let facts = vec![
        Fact::Firm(Box::new(Edit::add(firm.clone()))),
        Fact::Settings(Box::new(Edit::alter(Settings::default(), settings.clone()))),
    ];
    commit(&mut register, "Setup", facts).expect("committed");
    drop(register);
    let mut register = reopened(&path);
    assert_eq!((&register.world().firm, &*register.world().settings), (&firm, &settings));
    register.undo(at(1)).expect("undone");
    assert_eq!((&register.world().firm, &*register.world().settings), (&Firm::default(), &Settings::default()));
    is_sound(&register);
}

#[test]
fn facts_that_do_not_fit_leave_everything_as_it_was() {
    let Bench { folder: _folder, path, mut register } = bench();
    let before = register.world();
    let misfits = [
        vec![added_yard(yard(9)), added_yard(yard(1))],
        vec![added_yard(yard(9)), Fact::Yard(Box::new(Edit::alter(yard(5), yard(6))))],
        vec![added_yard(yard(9)), Fact::Colony(Box::new(Edit::remove(colony(9, 1, None))))],
        vec![added_yard(yard(9)), added_record(eggs(1, 99, day("2026-11-14")))],
        vec![added_yard(yard(9)), added_record(caged(1, 1, 99, day("2026-11-14")))],
    ];
    for facts in misfits {
        let told = commit(&mut register, "Misfit", facts);
        assert!(matches!(told, Err(RegisterError::DoesNotFit { .. })), "{told:?}");
        assert_eq!(register.world(), before);
    }
    assert_eq!(register.count_entries(), Ok(1));
    is_sound(&register);
    drop(register);
    assert_eq!(reopened(&path).world(), before);
}

#[test]
fn a_record_moved_to_another_colony_shows_in_both_histories() {
    let Bench { folder: _folder, path: _, mut register } = bench();
    let wrong = eggs(1, 1, day("2026-11-24"));
    commit(&mut register, "Find at B1", vec![added_record(wrong.clone())]).expect("committed");
    let right = eggs(1, 2, day("2026-11-23"));
    commit(&mut register, "Amend", vec![Fact::Record(Box::new(Edit::alter(wrong, right.clone())))]).expect("committed");
    assert_eq!(register.world().records_of(ColonyId::from_number(1)), []);
    assert_eq!(register.world().records_of(ColonyId::from_number(2)), [right]);
    let of = |number| {
        let entries = register.entries_of(ColonyId::from_number(number), ALL).expect("entries");
        entries.into_iter().map(|entry| entry.title).collect::<Vec<_>>()
    };
    assert_eq!(of(1), ["Amend", "Find at B1", "Begin"]);
    assert_eq!(of(2), ["Amend", "Begin"]);
    assert_eq!(of(3), ["Begin"]);
    is_sound(&register);
}

#[test]
fn the_history_is_read_in_pages() {
    let Bench { folder: _folder, path: _, mut register } = bench();
    for number in 11..=15 {
        commit(&mut register, &format!("Add {number}"), vec![added_yard(yard(number))]).expect("committed");
    }
    let first = register.entries(Page { before: None, limit: 4 }).expect("entries");
    let last = first.last().expect("four entries");
    let second = register.entries(Page { before: Some(last.id), limit: 4 }).expect("entries");
    let numbers: Vec<_> = first.iter().chain(&second).map(|entry| entry.id).collect();
    assert_eq!(numbers, [6, 5, 4, 3, 2, 1]);
    assert_eq!((second[1].rows, second[1].at.as_str()), (7, "2026-11-24T18:30:00Z"));
}

#[test]
fn a_colony_with_its_records_is_taken_back_whole() {
    let Bench { folder: _folder, path, mut register } = bench();
    let before = register.world();
    let day = day("2026-11-14");
    let facts = vec![
        added_queen(queen(7)),
        added_colony(colony(7, 2, Some(7))),
        added_record(caged(70, 7, 7, day)),
        added_record(eggs(71, 7, day.plus(10))),
    ];
    commit(&mut register, "Import", facts).expect("committed");
    assert_eq!(register.undo(at(1)).expect("undone").world, before);
    drop(register);
    assert_eq!(reopened(&path).world(), before);
}

#[test]
fn two_openers_are_told_apart() {
    let Bench { folder: _folder, path, register } = bench();
    assert!(matches!(Register::open(&path, at(0)), Err(RegisterError::InUse { .. })));
    drop(register);
    reopened(&path);
}

#[cfg(unix)]
#[test]
fn two_names_of_one_register_are_one_lock() {
    let Bench { folder, path, register } = bench();
    let link = folder.path().join("link.lidnote");
    std::os::unix::fs::symlink(&path, &link).expect("a link");
    assert!(matches!(Register::open(&link, at(0)), Err(RegisterError::InUse { .. })));
    drop(register);
    assert_eq!(reopened(&link).world().yards.len(), 2);
}

#[test]
fn what_an_open_register_holds_can_be_read_beside_it() {
    let Bench { folder: _folder, path, mut register } = bench();
    commit(&mut register, "More", vec![added_yard(yard(8))]).expect("committed");
    assert_eq!(Register::read(&path).as_ref(), Ok(&*register.world()));
    register.close().expect("closes");
    assert_eq!(Register::read(&path).map(|world| world.yards.len()), Ok(3));
    let missing = path.with_file_name("missing.lidnote");
    assert!(matches!(Register::read(&missing), Err(RegisterError::NotThere { .. })));
}

#[test]
fn a_new_register_never_overwrites() {
    let Bench { folder: _folder, path, register } = bench();
    drop(register);
    assert!(matches!(Register::create(&path), Err(RegisterError::ThereAlready { .. })));
    assert_eq!(reopened(&path).world().yards.len(), 2);
    let nowhere = path.with_file_name("nowhere").join("new.lidnote");
    assert!(matches!(Register::create(&nowhere), Err(RegisterError::NoFolder { .. })));
}

#[test]
fn a_register_removed_while_open_refuses_and_can_still_be_saved() {
    let Bench { folder, path, mut register } = bench();
    commit(&mut register, "Kept", vec![added_yard(yard(8))]).expect("committed");
    let before = register.world();
    std::fs::remove_file(&path).expect("removed");
    let told = commit(&mut register, "Lost", vec![added_yard(yard(9))]);
    assert!(matches!(told, Err(RegisterError::Removed { .. })), "{told:?}");
    assert!(told.expect_err("refused").to_string().contains("save a copy"));
    assert_eq!(register.world(), before);
    let copy = folder.path().join("saved.lidnote");
    register.back_up_to(&copy).expect("a copy");
    std::fs::write(&path, "something else").expect("another file in its place");
    assert!(matches!(register.undo(at(1)), Err(RegisterError::Removed { .. })));
    assert_eq!(reopened(&copy).world(), before);
}

#[test]
fn backups_are_checked_kept_and_restored() {
    let Bench { folder: _folder, path, mut register } = bench();
    for start in 0..12 {
        register.back_up_at_start(at(start * 60)).expect("a backup");
    }
    let kept = backups(&path);
    assert_eq!(kept.len(), KEPT);
    assert_eq!((kept[0].at, kept[9].at), (at(11 * 60), at(2 * 60)));
    let before = register.world();
    commit(&mut register, "Regretted", vec![added_yard(yard(8))]).expect("committed");
    let regretted = register.world();
    assert!(matches!(Register::restore(&kept[0].path, &path, at(900)), Err(RegisterError::InUse { .. })));
    drop(register);
    let replaced = Register::restore(&kept[0].path, &path, at(900)).expect("restored").expect("kept");
    assert_eq!(reopened(&path).world(), before);
    assert_eq!(backups(&path).first().map(|backup| backup.why.clone()).as_deref(), Some("before a restore"));
    assert_eq!(reopened(&replaced).world(), regretted);
}

#[cfg(unix)]
#[test]
fn a_register_opened_by_a_link_is_restored_behind_it() {
    let Bench { folder, path, register } = bench();
    let before = register.world();
    register.close().expect("closes");
    let elsewhere = tempfile::tempdir_in(folder.path()).expect("a folder");
    let link = elsewhere.path().join("link.lidnote");
    std::os::unix::fs::symlink(&path, &link).expect("linked");
    let mut register = Register::open(&link, at(0)).expect("opens");
    let backup = register.back_up_at_start(at(0)).expect("a backup");
    commit(&mut register, "Regretted", vec![added_yard(yard(8))]).expect("committed");
    drop(register);
    Register::restore(&backup, &link, at(1)).expect("restored").expect("kept");
    assert!(std::fs::symlink_metadata(&link).expect("the link").is_symlink());
    assert_eq!(reopened(&path).world(), before);
}

#[test]
fn a_copy_never_lands_on_the_register_itself() {
    let Bench { folder: _folder, path, register } = bench();
    assert!(matches!(register.back_up_to(&path), Err(RegisterError::ThereAlready { .. })));
    is_sound(&register);
}

#[test]
fn a_copy_replaces_an_earlier_one_of_the_same_register_and_nothing_else() {
    let Bench { folder, path, mut register } = bench();
    let at_hand = |name: &str| folder.path().join(name);
    let copy = at_hand("copy.lidnote");
    register.back_up_to(&copy).expect("a copy");
    commit(&mut register, "One more", vec![added_yard(yard(8))]).expect("committed");
    register.back_up_to(&copy).expect("replaced by a newer one");
    assert_eq!(reopened(&copy).world(), register.world());

    // The copy goes its own way: what it holds is nowhere else.
    let mut apart = Register::open(&copy, at(5)).expect("opens");
    commit(&mut apart, "Elsewhere", vec![added_yard(yard(9))]).expect("committed");
    apart.close().expect("closes");
    let picture = at_hand("hive.jpg");
    std::fs::write(&picture, b"a picture").expect("written");
    for other in [&copy, &picture, &folder.path().to_owned(), &path] {
        let before = std::fs::read(other).ok();
        let told = register.back_up_to(other).expect_err("refused");
        assert!(matches!(told, RegisterError::ThereAlready { .. }), "{told}");
        assert_eq!(std::fs::read(other).ok(), before);
    }
}

/// Writes a broken file of that content and opens it.
fn opening(name: &str, content: &[u8]) -> (RegisterError, usize) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join(name);
    std::fs::write(&path, content).expect("written");
    let told = Register::open(&path, at(0)).expect_err("not opened");
    assert!(told.to_string().contains(name), "{told} names the file");
    assert_eq!(std::fs::read(&path).expect("readable"), content, "the file is left as it was");
    (told, std::fs::read_dir(folder.path()).expect("folder").count())
}

#[test]
fn files_that_are_no_registers_are_told_apart_and_left_alone() {
    for content in [&b""[..], b"yard,hive\nHeath,B14\n", b"SQLite format 2", &[0; 4096]] {
        let (told, files) = opening("other.lidnote", content);
        assert!(matches!(told, RegisterError::NotARegister { .. }), "{told}");
        assert_eq!(files, 1, "no lock is left beside a file of others");
    }
    let folder = tempfile::tempdir().expect("a folder");
    let foreign = folder.path().join("foreign.db");
    let conn = rusqlite::Connection::open(&foreign).expect("a database");
    conn.execute_batch("CREATE TABLE entry (id INTEGER PRIMARY KEY)").expect("a table");
    drop(conn);
    let (told, _) = opening("foreign.lidnote", &std::fs::read(&foreign).expect("readable"));
    assert!(told.to_string().contains("a database of another program"), "{told}");
    assert!(matches!(Register::open(folder.path(), at(0)), Err(RegisterError::NotARegister { .. })));
    let missing = folder.path().join("missing.lidnote");
    assert!(matches!(Register::open(&missing, at(0)), Err(RegisterError::NotThere { .. })));
}

/// The bytes of a closed register that holds something.
fn whole_file() -> Vec<u8> {
    let Bench { folder: _folder, path, mut register } = bench();
    let facts = (1..=400).map(|number| added_record(eggs(number, 1, day("2026-11-14").plus(number as i32)))).collect();
    commit(&mut register, "Many", facts).expect("committed");
    register.close().expect("closes");
    std::fs::read(&path).expect("readable")
}

#[test]
fn newer_and_older_forms_are_told_apart() {
    let mut newer = whole_file();
    newer[60..64].copy_from_slice(&99_u32.to_be_bytes());
    assert!(matches!(opening("newer.lidnote", &newer).0, RegisterError::TooNew { found: 99, .. }));
    let mut older = whole_file();
    older[60..64].copy_from_slice(&0_u32.to_be_bytes());
    assert!(matches!(opening("older.lidnote", &older).0, RegisterError::TooOld { found: 0, .. }));
}

#[test]
fn a_cut_file_is_damaged() {
    let whole = whole_file();
    for length in [90, 100, 4096, whole.len() / 2, whole.len() - 4096, whole.len() - 1] {
        let (told, _) = opening("cut.lidnote", &whole[..length]);
        let about = matches!(told, RegisterError::Damaged { .. } | RegisterError::NotARegister { .. });
        assert!(about, "cut to {length}: {told}");
    }
}

#[test]
fn a_file_with_a_spoilt_page_never_panics_and_is_found_out() {
    let whole = whole_file();
    let folder = tempfile::tempdir().expect("a folder");
    for page in 1..whole.len() / 4096 {
        for fill in [0_u8, 0xA5] {
            let mut spoilt = whole.clone();
            spoilt[page * 4096..(page + 1) * 4096].fill(fill);
            let path = folder.path().join("spoilt.lidnote");
            std::fs::write(&path, &spoilt).expect("written");
            // A page of the history or of an index is not read at the start; the check of the first backup is to find it.
            let told = Register::open(&path, at(0)).and_then(|register| register.back_up_at_start(at(0)));
            assert!(matches!(told, Err(RegisterError::Damaged { .. })), "page {page} filled with {fill}: {told:?}");
            for side in ["-wal", "-shm"] {
                let _ = std::fs::remove_file(folder.path().join(format!("spoilt.lidnote{side}")));
            }
        }
    }
}

#[test]
fn a_damaged_register_names_its_newest_backup_and_is_kept_when_that_is_restored() {
    let Bench { folder: _folder, path, register } = bench();
    let good = register.world();
    let backup = register.back_up_at_start(at(0)).expect("a backup");
    register.close().expect("closes");
    let whole = std::fs::read(&path).expect("readable");
    for left in [0, 50, whole.len() / 2] {
        std::fs::write(&path, &whole[..left]).expect("cut");
        let told = Register::open(&path, at(1)).expect_err("damaged");
        assert!(matches!(told, RegisterError::Damaged { .. }), "{told}");
        assert!(told.to_string().contains(&backup.display().to_string()), "{told}");
    }
    let kept = Register::restore(&backup, &path, at(2)).expect("restored").expect("kept");
    assert_eq!(std::fs::read(&kept).expect("readable"), &whole[..whole.len() / 2]);
    assert_eq!(reopened(&path).world(), good);
}

#[test]
fn only_a_sound_register_is_restored() {
    let Bench { folder, path, register } = bench();
    let good = register.world();
    register.close().expect("closes");
    let whole = std::fs::read(&path).expect("readable");
    let bad = folder.path().join("bad.lidnote");
    for content in [&b"nothing"[..], &whole[..whole.len() / 2]] {
        std::fs::write(&bad, content).expect("written");
        Register::restore(&bad, &path, at(1)).expect_err("refused");
        assert_eq!(reopened(&path).world(), good);
    }
}

#[test]
fn a_read_only_file_is_told() {
    let Bench { folder: _folder, path, register } = bench();
    register.close().expect("closes");
    let mut rights = std::fs::metadata(&path).expect("there").permissions();
    rights.set_readonly(true);
    std::fs::set_permissions(&path, rights).expect("set");
    assert!(matches!(Register::open(&path, at(0)), Err(RegisterError::ReadOnly { .. })));
}

#[cfg(unix)]
#[test]
fn a_register_in_a_locked_folder_can_be_read() {
    use std::os::unix::fs::PermissionsExt as _;
    let Bench { folder, path, register } = bench();
    let world = register.world();
    register.close().expect("closes");
    let allow = |path: &Path, mode: u32| {
        std::fs::set_permissions(path, std::fs::Permissions::from_mode(mode)).expect("set");
    };
    allow(&path, 0o444);
    allow(folder.path(), 0o555);
    let read = Register::read(&path);
    allow(folder.path(), 0o755);
    assert_eq!(read.expect("read"), *world);
    assert!(matches!(Register::read(folder.path()), Err(RegisterError::NotARegister { .. })));
}

/// Set for the child: the register it fills.
const FILLING: &str = "LIDNOTE_TEST_FILLING_CHILD";

/// Fills the register until the system takes no more, and tells what the register says then.
#[cfg(unix)]
fn fill(path: &Path) {
    let mut register = reopened(path);
    let told = (100..).find_map(|number| {
        let mut more = yard(number);
        more.note = "full ".repeat(500);
        commit(&mut register, "More", vec![added_yard(more)]).err()
    });
    let sound = register.verify().expect("still readable").sound;
    let mut out = std::io::stdout();
    writeln!(out, "\nrefused {} {sound}: {}", register.world().yards.len(), told.expect("refused")).expect("told");
}

/// The child may write files of 300 blocks at most, so that a write fails half-way as on a disk that has gone.
#[cfg(unix)]
#[test]
fn a_write_that_the_system_refuses_loses_nothing() {
    if let Some(path) = std::env::var_os(FILLING) {
        return fill(Path::new(&path));
    }
    let Bench { folder: _folder, path, register } = bench();
    register.close().expect("closes");
    let child = std::process::Command::new("sh")
        .args(["-c", "trap '' XFSZ; ulimit -f 300; exec \"$0\" \"$@\""])
        .arg(std::env::current_exe().expect("this test's own program"))
        .args(["register::a_write_that_the_system_refuses_loses_nothing", "--exact", "--nocapture"])
        .env(FILLING, &path)
        .output();
    let out = String::from_utf8(child.expect("a child").stdout).expect("text");
    let told = out.lines().find_map(|line| line.strip_prefix("refused ")).expect("the child tells");
    assert!(told.contains("true: ") && told.contains("heath.lidnote could not be read or written"), "{told}");
    let register = reopened(&path);
    assert_eq!(told.split(' ').next(), Some(register.world().yards.len().to_string().as_str()));
    is_sound(&register);
}
