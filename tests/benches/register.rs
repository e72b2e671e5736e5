//! Opening a register of 8,000 hives with 200,000 records: at most twice a bare scan of the same tables. Recording an
//! evening of 60 rows in it: at most 50 ms.

use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use chrono::{DateTime, Utc};
use divan::{Bencher, black_box};
use lidnote::domain::change::{Change, NewVisit, Occasion};
use lidnote::domain::colony::{Colony, FirstQueen, Founding, Lid, Named, Stand};
use lidnote::domain::day::Day;
use lidnote::domain::fact::{Edit, Fact};
use lidnote::domain::ids::{ColonyId, QueenId, RecordId, YardId};
use lidnote::domain::queen::{Birth, Dot, Origin, Queen};
use lidnote::domain::record::{Happening, Record};
use lidnote::domain::visit::{Given, Method, OldQueen, Visit};
use lidnote::domain::yard::{Spot, Yard};
use lidnote::register::Register;
use uuid::Uuid;

const YARDS: u128 = 300;
const HIVES: u128 = 8_000;
const VISITS: u128 = 25;
const EVENING: u128 = 60;

fn main() {
    divan::main();
}

fn at() -> DateTime<Utc> {
    DateTime::from_timestamp(1_795_545_000, 0).unwrap_or_default()
}

fn first_day() -> Day {
    Day::new(2026, 9, 1).unwrap_or_else(|| panic!("a day"))
}

fn queen(hive: u128) -> Queen {
    Queen {
        id: QueenId::from_number(hive),
        birth: Birth::in_month(2025, 10),
        origin: Origin::Mated,
        source: None,
        dot: Some(Dot::Blue),
        words: String::new(),
    }
}

fn colony(hive: u128) -> Colony {
    let (from, yard) = (first_day(), YardId::from_number(hive % YARDS));
    let spot = Some(Spot { row: 1 + (hive / YARDS / 10) as u16, place: 1 + (hive / YARDS % 10) as u16 });
    Colony {
        id: ColonyId::from_number(hive),
        names: vec![Named { name: (1 + hive / YARDS).to_string(), from }],
        stands: vec![Stand { yard, spot, from }],
        lid: Lid::default(),
        founded: from,
        how: Founding::Known,
        began_with: FirstQueen::Recorded(QueenId::from_number(hive)),
        ended: None,
        note: String::new(),
        corrected: Vec::new(),
    }
}

/// Every tenth visit gives a queen, every fifth has words.
fn record(hive: u128, number: u128) -> Record {
    let day = first_day().plus(7 * number as i32 + (hive % 7) as i32);
    let mut visit = Visit::default();
    (visit.seen.eggs, visit.seen.larvae, visit.seen.capped) =
        (true, number.is_multiple_of(2), number.is_multiple_of(3));
    if number.is_multiple_of(10) {
        visit.gave = Some(Given {
            method: Method::Caged,
            queen: QueenId::from_number(hive),
            parcel: None,
            old_queen: OldQueen::RemovedOn(day),
            emerged: None,
            cells: 1,
            against_bar: None,
        });
    }
    Record {
        id: RecordId::from_number(number * HIVES + hive),
        colony: ColonyId::from_number(hive),
        day,
        by: "KB".to_owned(),
        words: if number.is_multiple_of(5) { "calm, two supers on".to_owned() } else { String::new() },
        what: Happening::Visit(Box::new(visit)),
        together: Some(Uuid::from_u128(number)),
        struck: false,
        amended: Vec::new(),
    }
}

fn commit(register: &mut Register, facts: Vec<Fact>) {
    let change = Change::Several { title: "Fill".to_owned(), changes: Vec::new() };
    register.commit(&change, "Fill", facts, at()).unwrap_or_else(|error| panic!("{error}"));
}

/// The register, made once; it lies in the build's own folder and is replaced by the next run.
fn filled() -> &'static Path {
    static FILE: OnceLock<PathBuf> = OnceLock::new();
    FILE.get_or_init(|| {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR"));
        let path = folder.join("bench.lidnote");
        for more in ["", "-wal", "-shm"] {
            let _ = std::fs::remove_file(folder.join(format!("bench.lidnote{more}")));
        }
        let mut register = Register::create(&path).unwrap_or_else(|error| panic!("{error}"));
        let mut facts: Vec<Fact> = Vec::new();
        for number in 0..YARDS {
            let yard = Yard::named(YardId::from_number(number), &format!("Yard {number}"));
            facts.push(Fact::Yard(Box::new(Edit::add(yard))));
        }
        for hive in 0..HIVES {
            facts.push(Fact::Queen(Box::new(Edit::add(queen(hive)))));
            facts.push(Fact::Colony(Box::new(Edit::add(colony(hive)))));
        }
        commit(&mut register, facts);
        for number in 0..VISITS {
            let visits = (0..HIVES).map(|hive| Fact::Record(Box::new(Edit::add(record(hive, number)))));
            commit(&mut register, visits.collect());
        }
        register.close().unwrap_or_else(|error| panic!("{error}"));
        path
    })
}

/// Every column of every row that opening reads, and nothing made of it.
fn scan(path: &Path) -> rusqlite::Result<usize> {
    let conn = rusqlite::Connection::open(path)?;
    let mut bytes = 0;
    for table in ["firm", "settings", "yard", "source", "colony", "queen", "record", "parcel", "plan", "bar", "run"] {
        let mut statement = conn.prepare(&format!("SELECT * FROM {table}"))?;
        let columns = statement.column_count();
        let mut rows = statement.query([])?;
        while let Some(row) = rows.next()? {
            for column in 0..columns {
                bytes += match row.get_ref(column)? {
                    rusqlite::types::ValueRef::Text(text) | rusqlite::types::ValueRef::Blob(text) => text.len(),
                    _ => 8,
                };
            }
        }
    }
    Ok(bytes)
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn bare_scan(bencher: Bencher<'_, '_>) {
    let path = filled();
    bencher.bench_local(|| scan(black_box(path)).unwrap_or_else(|error| panic!("{error}")));
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn open(bencher: Bencher<'_, '_>) {
    let path = filled();
    // The register is let go outside the measured time.
    bencher.bench_local(|| Register::open(black_box(path), at()).unwrap_or_else(|error| panic!("{error}")));
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn evening_of_60_rows(bencher: Bencher<'_, '_>) {
    let mut register = Register::open(filled(), at()).unwrap_or_else(|error| panic!("{error}"));
    let today = first_day().plus(400);
    let mut evening = 0;
    bencher
        .with_inputs(|| {
            evening += 1;
            let visits = (0..EVENING).map(|row| {
                let mut visit = Visit::default();
                visit.seen.eggs = true;
                NewVisit {
                    record: RecordId::from_number((1 << 64) + evening * EVENING + row),
                    colony: ColonyId::from_number(row * 97),
                    day: today,
                    by: "KB".to_owned(),
                    words: String::new(),
                    visit,
                }
            });
            Change::Visits {
                occasion: Occasion::Evening(Uuid::from_u128((1 << 64) + evening)),
                visits: visits.collect(),
                queens: Vec::new(),
            }
        })
        .bench_local_values(|change| {
            register.apply(&change, today, at()).unwrap_or_else(|error| panic!("{error}")).map(|applied| applied.rows)
        });
}
