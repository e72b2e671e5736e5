//! Tests of the register from inside: faults that no caller can bring about.

use chrono::{DateTime, Utc};

use crate::domain::change::Change;
use crate::domain::fact::{Edit, Fact};
use crate::domain::ids::YardId;
use crate::domain::parcel::Parcel;
use crate::domain::queen::{Birth, Dot};
use crate::domain::yard::Yard;
use crate::register::Register;
use crate::register::backup::backups;
use crate::register::commit::unpack;
use crate::register::error::RegisterError;
use crate::register::migrate;

fn at() -> DateTime<Utc> {
    DateTime::from_timestamp(1_795_545_000, 0).expect("a time")
}

fn yard(number: u128, note: &str) -> Yard {
    let mut yard = Yard::named(YardId::from_number(number), &format!("Yard {number}"));
    note.clone_into(&mut yard.note);
    yard
}

fn add(register: &mut Register, yard: Yard) -> Result<(), RegisterError> {
    let change = Change::PutYard(Box::new(yard.clone()));
    register.commit(&change, "Add a yard", vec![Fact::Yard(Box::new(Edit::add(yard)))], at()).map(|_| ())
}

fn new() -> (tempfile::TempDir, Register) {
    let folder = tempfile::tempdir().expect("a folder");
    let mut register = Register::create(&folder.path().join("heath.lidnote")).expect("a new register");
    add(&mut register, yard(1, "")).expect("committed");
    (folder, register)
}

#[test]
fn a_change_that_was_answered_is_on_the_disk() {
    let (_folder, register) = new();
    let setting = |name: &str| register.conn.pragma_query_value(None, name, |row| row.get::<_, i64>(0));
    // Write-ahead log with FULL: the log is synced at every commit (sqlite.org/pragma.html#pragma_synchronous).
    assert_eq!(setting("synchronous"), Ok(2));
    let journal: String = register.conn.pragma_query_value(None, "journal_mode", |row| row.get(0)).expect("read");
    assert_eq!(journal, "wal");
    assert_eq!((setting("foreign_keys"), setting("trusted_schema"), setting("cell_size_check")), (Ok(1), Ok(0), Ok(1)));
    assert_eq!(register.caution(), None);
    register.conn.query_row("SELECT \"nope\"", [], |_| Ok(())).expect_err("a name in quotes is no text");
}

#[test]
fn history_cannot_be_rewritten() {
    let (_folder, register) = new();
    for table in ["entry", "entry_row"] {
        for sql in [format!("DELETE FROM {table}"), format!("UPDATE {table} SET rowid = rowid")] {
            let sql = sql.replace("entry_row SET rowid = rowid", "entry_row SET seq = seq + 1");
            let sql = sql.replace("SET rowid = rowid", "SET title = ''");
            let told = register.conn.execute(&sql, []).expect_err("refused");
            assert!(told.to_string().contains("history only grows"), "{sql}: {told}");
        }
    }
    register.conn.execute("INSERT INTO entry_colony VALUES (zeroblob(16), 1)", []).expect("it grows");
    for sql in ["DELETE FROM entry_colony", "UPDATE entry_colony SET colony = zeroblob(16)"] {
        let told = register.conn.execute(sql, []).expect_err("refused");
        assert!(told.to_string().contains("history only grows"), "{sql}: {told}");
    }
}

#[test]
fn a_full_disk_loses_nothing() {
    let (_folder, mut register) = new();
    let pages: i64 = register.conn.pragma_query_value(None, "page_count", |row| row.get(0)).expect("pages");
    register.conn.query_row(&format!("PRAGMA max_page_count = {}", pages + 4), [], |_| Ok(())).expect("limited");
    let mut before = register.world();
    let told = loop {
        let number = before.yards.len() as u128 + 1;
        match add(&mut register, yard(number, &"full ".repeat(500))) {
            Ok(()) => before = register.world(),
            Err(told) => break told,
        }
    };
    assert!(matches!(told, RegisterError::DiskFull { .. }), "{told}");
    assert_eq!(register.world(), before);
    assert!(register.verify().expect("readable").sound);
    register.conn.query_row("PRAGMA max_page_count = 1000000", [], |_| Ok(())).expect("room again");
    add(&mut register, yard(99, "")).expect("goes on");
}

#[test]
fn undo_stops_at_a_row_that_was_altered_since() {
    let (_folder, mut register) = new();
    add(&mut register, yard(2, "")).expect("committed");
    let before = register.world();
    let sql = "UPDATE yard SET body = json_set(body, '$.note', 'by another hand') WHERE id = ?1";
    register.conn.execute(sql, [YardId::from_number(2).0.as_bytes()]).expect("altered");
    let told = register.undo(at()).expect_err("refused");
    assert!(matches!(told, RegisterError::ChangedSince { .. }), "{told}");
    assert_eq!((register.world(), register.count_entries()), (before, Ok(2)));
    let report = register.verify().expect("readable");
    assert!(!report.sound, "the check finds the other hand");
}

#[test]
fn undo_stops_at_an_older_form() {
    let (_folder, register) = new();
    let sql = "INSERT INTO entry (at, title, kind, by_whom, schema, change) VALUES ('', 'old', 'do', '', 0, x'00')";
    register.conn.execute(sql, []).expect("an entry of an older form");
    assert_eq!(register.next_undo(), Ok(None));
}

#[test]
fn a_parcel_of_the_first_form_learns_its_queens_birth_and_undo_walks_back_over_the_update() {
    let (_folder, mut register) = new();
    let add = |register: &mut Register, before: Option<&Parcel>, parcel: &Parcel| {
        let fact = Fact::Parcel(Box::new(Edit { before: before.cloned(), after: Some(parcel.clone()) }));
        register.commit(&Change::PutParcel(parcel.clone()), "Parcel", vec![fact], at()).expect("committed");
    };
    let parcel: Parcel = serde_json::from_str(
        "{\"id\":\"00000000-0000-0000-0000-000000000007\",\"source\":null,\"kind\":\"caged_queens\",\"count\":40,\
         \"dead\":2,\"gone\":0,\"sent\":null,\"due\":null,\"promised\":null,\"arrived\":null,\"grafted\":null,\
         \"closed\":false,\"note\":\"\"}",
    )
    .expect("a parcel as the first form wrote it");
    add(&mut register, None, &parcel);
    let before = register.world();
    let path = register.path().to_owned();
    register.conn.execute_batch("DROP TRIGGER entry_stays; UPDATE entry SET schema = 1").expect("as it was then");
    register.conn.pragma_update(None, "user_version", 1).expect("as it was then");
    register.close().expect("closes");
    let mut register = Register::open(&path, at()).expect("brought up");
    assert_eq!(register.world(), before);
    assert_eq!(migrate::form(&register.conn), Ok(migrate::newest(migrate::STEPS)));
    let told = Parcel { born: Birth::in_month(2026, 10), dot: Some(Dot::White), ..parcel.clone() };
    add(&mut register, Some(&parcel), &told);
    assert!(register.verify().expect("readable").sound);
    register.undo(at()).expect("the birth is taken back");
    assert_eq!(register.world(), before);
    register.undo(at()).expect("the parcel of the older form is taken back");
    assert!(register.world().parcels.is_empty());
    assert!(register.verify().expect("readable").sound);
}

#[test]
fn a_row_at_fault_is_named() {
    let faults = [
        ("INSERT INTO yard VALUES (zeroblob(16), '{}')", "the yard 00000000"),
        (
            "INSERT INTO record (colony, day, id, by_whom, words, kind) VALUES (zeroblob(16), 1, zeroblob(16), '', '', 0)",
            "records of the colony 00000000",
        ),
        (
            "INSERT INTO record (colony, day, id, by_whom, words, kind) VALUES (zeroblob(16), 1, zeroblob(16), '', '', 77)",
            "the record 00000000-0000-0000-0000-000000000000 cannot be read (kind 77)",
        ),
        (
            "INSERT INTO record (colony, day, id, by_whom, words, kind) VALUES (zeroblob(16), 999999999, zeroblob(16), '', '', 0)",
            "day 999999999",
        ),
        (
            "INSERT INTO plan VALUES (zeroblob(16), '{\"id\":\"00000000-0000-0000-0000-000000000000\",\"colony\":\"00000000-0000-0000-0000-00000000000c\",\"method\":\"cell\",\"source\":null,\"parcel\":null,\"give_on\":\"2026-11-14\",\"dequeen_on\":null,\"made\":\"2026-11-01\",\"called_off\":null,\"moved\":[]}')",
            "is for the colony 00000000-0000-0000-0000-00000000000c",
        ),
        ("DELETE FROM settings", "the row of the settings is missing"),
    ];
    for (sql, named) in faults {
        let (_folder, register) = new();
        register.conn.pragma_update(None, "foreign_keys", 0).expect("off, as in another program");
        register.conn.execute(sql, []).expect("a faulty row");
        let path = register.path().to_owned();
        drop(register);
        let told = Register::open(&path, at()).expect_err("damaged");
        assert!(matches!(told, RegisterError::Damaged { .. }) && told.to_string().contains(named), "{told}");
    }
}

#[test]
fn an_older_form_is_copied_and_brought_up() {
    let (_folder, register) = new();
    let (path, world) = (register.path().to_owned(), register.world());
    register.close().expect("closes");
    let bad = [migrate::STEPS, &["CREATE TABLE yard (again TEXT) STRICT"]].concat();
    Register::open_by(&path, Some(at()), &bad).expect_err("the step fails");
    let newest = migrate::newest(migrate::STEPS);
    let good = [migrate::STEPS, &["CREATE TABLE more (id INTEGER PRIMARY KEY) STRICT"]].concat();
    assert!(matches!(Register::read_by(&path, &good), Err(RegisterError::Outdated { found, .. }) if found == newest));
    let register = Register::open_by(&path, Some(at()), &good).expect("brought up");
    assert_eq!(register.world(), world);
    assert_eq!(migrate::form(&register.conn), Ok(newest + 1));
    assert!(backups(&path).iter().all(|backup| backup.why == "before an update") && !backups(&path).is_empty());
    drop(register);
    assert!(
        matches!(Register::open(&path, at()), Err(RegisterError::TooNew { found, ours, .. }) if (found, ours) == (newest + 1, newest))
    );
}

#[test]
fn a_decision_is_kept_as_it_was_made() {
    let (_folder, register) = new();
    let packed: Vec<u8> = register.conn.query_row("SELECT change FROM entry", [], |row| row.get(0)).expect("read");
    assert_eq!(unpack(&packed).expect("readable"), Change::PutYard(Box::new(yard(1, ""))));
    assert!(register.verify().expect("readable").sound);
    let sql = "INSERT INTO entry (at, title, kind, by_whom, schema, change) VALUES ('', 'spoilt', 'do', '', 1, x'00')";
    register.conn.execute(sql, []).expect("an entry that cannot be read");
    let report = register.verify().expect("readable");
    assert!(!report.sound && report.lines.iter().any(|line| line.starts_with("entry 2: ")), "{:?}", report.lines);
}

#[test]
fn a_change_is_known_again_only_after_the_entry_it_was_made_on() {
    let (_folder, mut register) = new();
    let named = |number: u128, note: &str| Change::PutYard(Box::new(yard(number, note)));
    assert_eq!(register.newest_entry(), Ok(1));
    add(&mut register, yard(2, "by the brook")).expect("committed");
    let recorded = |register: &Register, change: &Change, after| register.has_recorded(change, after);
    assert_eq!(recorded(&register, &named(2, "by the brook"), 1), Ok(true));
    assert_eq!(recorded(&register, &named(2, "by the brook"), 2), Ok(false), "recorded before it was made");
    assert_eq!(recorded(&register, &named(2, ""), 0), Ok(false), "another of the same yard");
    register.undo(at()).expect("taken back");
    assert_eq!(recorded(&register, &named(2, "by the brook"), 1), Ok(true), "taken back since");
}

#[test]
fn a_disk_without_room_for_the_index_of_the_log_is_told_as_full() {
    let failure = rusqlite::ffi::Error::new(rusqlite::ffi::SQLITE_IOERR_SHMSIZE);
    let told = RegisterError::from_sqlite("bees.lidnote".as_ref(), &rusqlite::Error::SqliteFailure(failure, None));
    assert_eq!(told, RegisterError::DiskFull { file: "bees.lidnote".into() });
    assert!(told.is_about_writing(), "what it holds can be looked at");
}

#[test]
fn what_a_power_cut_left_of_a_backup_is_cleared_away() {
    let (_folder, register) = new();
    let whole = register.back_up_at_start(at()).expect("kept");
    let left = |name: &str| {
        let path = whole.with_file_name(name);
        std::fs::write(&path, b"half").expect("written");
        path
    };
    let ours =
        ["heath 2026-11-24 180000.lidnote.part", "heath 2026-11-24 180000 before an update.lidnote.part-journal"]
            .map(left);
    let others = left("moor 2026-11-24 180000.lidnote.part");
    register.back_up_at_start(at()).expect("kept");
    assert!(ours.iter().all(|path| !path.exists()) && others.exists() && whole.exists());
}

#[test]
fn a_backup_made_under_a_clock_that_was_set_back_is_kept() {
    let (_folder, register) = new();
    for day in 0..12 {
        register.back_up_at_start(at() + chrono::TimeDelta::days(day)).expect("kept");
    }
    let newest = register.back_up_at_start(at() - chrono::TimeDelta::days(1)).expect("kept");
    assert!(newest.exists());
    assert_eq!(backups(register.path()).len(), crate::register::backup::KEPT);
}
