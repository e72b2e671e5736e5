//! A small register's things and the facts that make them, for the tests of the register.

use chrono::{DateTime, TimeZone as _, Utc};
use lidnote::domain::change::Change;
use lidnote::domain::colony::{Colony, FirstQueen, Founding, Lid, Named, Stand};
use lidnote::domain::day::Day;
use lidnote::domain::fact::{Edit, Fact};
use lidnote::domain::ids::{ColonyId, QueenId, RecordId, YardId};
use lidnote::domain::place::Place;
use lidnote::domain::queen::{Birth, Dot, Origin, Queen};
use lidnote::domain::record::{Happening, Record};
use lidnote::domain::visit::{Given, Method, OldQueen, Visit};
use lidnote::domain::world::World;
use lidnote::domain::yard::{Spot, Yard};
use lidnote::register::Register;
use lidnote::register::error::RegisterError;

/// The evening of 24 November 2026, and so many seconds more.
pub fn at(seconds: i64) -> DateTime<Utc> {
    Utc.with_ymd_and_hms(2026, 11, 24, 18, 30, 0).single().expect("a time") + chrono::TimeDelta::seconds(seconds)
}

pub fn day(iso: &str) -> Day {
    Day::from_iso(iso).expect("a day")
}

/// A yard whose place needs every bit of its numbers.
pub fn yard(number: u128) -> Yard {
    let mut yard = Yard::named(YardId::from_number(number), &format!("Yard {number}"));
    yard.place = Place::new(-40.0 - 1.0 / (number as f64 + 3.0), 160.0 + 1.0 / (number as f64 + 7.0));
    yard
}

pub fn queen(number: u128) -> Queen {
    Queen {
        id: QueenId::from_number(number),
        birth: Birth::in_month(2026, 10),
        origin: Origin::Mated,
        source: None,
        dot: Some(Dot::White),
        words: String::new(),
    }
}

pub fn colony(number: u128, yard: u128, queen: Option<u128>) -> Colony {
    let from = day("2026-09-01");
    Colony {
        id: ColonyId::from_number(number),
        names: vec![Named { name: format!("B{number}"), from }],
        stands: vec![Stand {
            yard: YardId::from_number(yard),
            spot: Some(Spot { row: 1, place: number as u16 }),
            from,
        }],
        lid: Lid::default(),
        founded: from,
        how: Founding::Known,
        began_with: queen.map_or(FirstQueen::Unknown, |queen| FirstQueen::Recorded(QueenId::from_number(queen))),
        ended: None,
        note: String::new(),
        corrected: Vec::new(),
    }
}

/// A visit at which eggs were seen.
pub fn eggs(number: u128, colony: u128, day: Day) -> Record {
    let mut visit = Visit::default();
    visit.seen.eggs = true;
    Record {
        id: RecordId::from_number(number),
        colony: ColonyId::from_number(colony),
        day,
        by: "KB".to_owned(),
        words: String::new(),
        what: Happening::Visit(Box::new(visit)),
        together: None,
        struck: false,
        amended: Vec::new(),
    }
}

/// A visit at which a caged queen was given.
pub fn caged(number: u128, colony: u128, queen: u128, day: Day) -> Record {
    let given = Given {
        method: Method::Caged,
        queen: QueenId::from_number(queen),
        parcel: None,
        old_queen: OldQueen::RemovedOn(day),
        emerged: None,
        cells: 1,
        against_bar: None,
    };
    let visit = Visit { gave: Some(given), ..Visit::default() };
    Record { what: Happening::Visit(Box::new(visit)), ..eggs(number, colony, day) }
}

pub fn added_yard(yard: Yard) -> Fact {
    Fact::Yard(Box::new(Edit::add(yard)))
}

pub fn added_queen(queen: Queen) -> Fact {
    Fact::Queen(Box::new(Edit::add(queen)))
}

pub fn added_colony(colony: Colony) -> Fact {
    Fact::Colony(Box::new(Edit::add(colony)))
}

pub fn added_record(record: Record) -> Fact {
    Fact::Record(Box::new(Edit::add(record)))
}

/// Two yards, three colonies, two queens.
pub fn beginning() -> Vec<Fact> {
    vec![
        added_yard(yard(1)),
        added_yard(yard(2)),
        added_queen(queen(1)),
        added_queen(queen(2)),
        added_colony(colony(1, 1, Some(1))),
        added_colony(colony(2, 1, None)),
        added_colony(colony(3, 2, None)),
    ]
}

/// Facts under a title, with a change that says as much as the history needs here.
pub fn commit(register: &mut Register, title: &str, facts: Vec<Fact>) -> Result<i64, RegisterError> {
    let change = Change::Several { title: title.to_owned(), changes: Vec::new() };
    register.commit(&change, title, facts, at(0)).map(|applied| applied.map_or(0, |applied| applied.entry))
}

/// The world those facts make of that one.
pub fn folded(world: &World, facts: &[Fact]) -> World {
    let mut next = world.clone();
    next.advance_all(facts);
    next
}
