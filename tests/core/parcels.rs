//! What a parcel tells of its queens, and how they go out of it.

use lidnote::domain::change::{Change, Occasion};
use lidnote::domain::day::Day;
use lidnote::domain::decide::title;
use lidnote::domain::grammar::resolve::Choice;
use lidnote::domain::ids::{ColonyId, ParcelId, QueenId};
use lidnote::domain::parcel::{Parcel, ParcelKind};
use lidnote::domain::queen::{Birth, Dot, Queen};
use lidnote::domain::record::Happening;
use lidnote::domain::standing::standing;
use lidnote::domain::work::WorkKind;

use crate::kit::{Kit, day};

fn arrived(number: u128, kind: ParcelKind, count: u32, on: &str) -> Parcel {
    Parcel {
        id: ParcelId::from_number(number),
        source: None,
        kind,
        count,
        dead: 0,
        gone: 0,
        sent: None,
        due: None,
        promised: None,
        arrived: Some(day(on)),
        grafted: None,
        born: Birth::default(),
        dot: None,
        closed: false,
        note: String::new(),
    }
}

fn put(kit: &mut Kit, parcel: &Parcel, on: &str) {
    kit.apply(&Change::PutParcel(parcel.clone()), day(on));
}

fn given(kit: &Kit, hive: ColonyId) -> Queen {
    let gave = kit.world.records_of(hive).iter().find_map(|record| match &record.what {
        Happening::Visit(visit) => visit.gave.as_ref().map(|gave| gave.queen),
        _ => None,
    });
    let queen: QueenId = gave.expect("a queen was given");
    kit.world.queens[&queen].as_ref().clone()
}

fn give(kit: &mut Kit, hive: ColonyId, on: &str, codes: &str, parcel: u128) {
    let choice = Choice { parcel: Some(ParcelId::from_number(parcel)), ..Choice::default() };
    let change = kit.visits(&Occasion::Introduction, day(on), &[(hive, codes)], choice);
    kit.apply(&change, day(on));
}

#[test]
fn queens_are_as_old_as_their_parcel_says() {
    let (mut kit, hives) = Kit::with_hives(&["B14", "B15", "B16"]);
    let born = Birth::in_month(2026, 10);
    let told = Parcel { born, dot: Some(Dot::White), ..arrived(700, ParcelKind::CagedQueens, 9, "2026-11-14") };
    put(&mut kit, &told, "2026-11-14");
    give(&mut kit, hives[0], "2026-11-14", "/q +q", 700);
    let queen = given(&kit, hives[0]);
    assert_eq!((queen.birth, queen.dot), (born, Some(Dot::White)));
    let mut other = given(&kit, hives[0]);
    give(&mut kit, hives[1], "2026-11-14", "/q +p", 700);
    // Her details were put right by hand: what the parcel is said to hold later does not touch them.
    other.id = given(&kit, hives[1]).id;
    other.birth = Birth::in_year(2025);
    kit.apply(&Change::PutQueen(Box::new(other.clone())), day("2026-11-15"));
    let right = Parcel { born: Birth::in_month(2026, 9), dot: None, ..told.clone() };
    let change = Change::PutParcel(right);
    assert_eq!(title(&kit.world, &change), "Parcel: queens born Sep 2026");
    let facts = kit.apply(&change, day("2026-11-16"));
    assert_eq!((given(&kit, hives[0]).birth, given(&kit, hives[0]).dot), (Birth::in_month(2026, 9), None));
    assert_eq!(given(&kit, hives[1]).birth, Birth::in_year(2025));
    kit.undo(&facts);
    assert_eq!(given(&kit, hives[0]).birth, born);
    assert_eq!(kit.world.parcels[&told.id], told);
}

#[test]
fn queens_given_before_the_parcel_told_their_birth_learn_it_then() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let silent = arrived(700, ParcelKind::CagedQueens, 9, "2026-11-14");
    put(&mut kit, &silent, "2026-11-14");
    give(&mut kit, hives[0], "2026-11-14", "/q +q", 700);
    assert!(given(&kit, hives[0]).birth.is_unknown());
    let born = Birth::on(day("2026-10-01"));
    put(&mut kit, &Parcel { born, ..silent }, "2026-11-20");
    assert_eq!(given(&kit, hives[0]).birth, born);
}

#[test]
fn a_virgins_looks_go_by_the_day_her_parcel_emerged() {
    let (mut kit, hives) = Kit::with_hives(&["B14", "B15"]);
    let virgins = arrived(700, ParcelKind::Virgins, 9, "2026-11-14");
    put(&mut kit, &Parcel { born: Birth::on(day("2026-11-12")), ..virgins.clone() }, "2026-11-14");
    give(&mut kit, hives[0], "2026-11-14", "/q +v", 700);
    give(&mut kit, hives[1], "2026-11-14", "/q +v13", 700);
    let first_look = |kit: &Kit, hive, today: &str| -> Day {
        let work = standing(&kit.world, hive, day(today)).expect("it stands").work;
        work.iter().find(|due| matches!(due.kind, WorkKind::Look(_))).expect("a look").window.earliest
    };
    assert_eq!(first_look(&kit, hives[0], "2026-11-14"), day("2026-11-25"), "e+13");
    assert_eq!(first_look(&kit, hives[1], "2026-11-14"), day("2026-11-26"), "the day typed goes before the parcel's");
    put(&mut kit, &Parcel { born: Birth::on(day("2026-11-10")), ..virgins }, "2026-11-15");
    assert_eq!(first_look(&kit, hives[0], "2026-11-15"), day("2026-11-23"));
    assert_eq!(given(&kit, hives[1]).birth, Birth::on(day("2026-11-13")));
}

#[test]
fn queens_of_cells_are_born_in_their_hives_and_those_of_old_cells_when_the_graft_says() {
    let (mut kit, hives) = Kit::with_hives(&["B14", "B15"]);
    let cells = Parcel { grafted: Some(day("2026-11-04")), ..arrived(700, ParcelKind::Cells, 9, "2026-11-14") };
    put(&mut kit, &cells, "2026-11-14");
    give(&mut kit, hives[0], "2026-11-14", "+c", 700);
    give(&mut kit, hives[1], "2026-11-18", "+c", 700);
    assert_eq!(given(&kit, hives[0]).birth, Birth::between(day("2026-11-14"), day("2026-11-16")));
    assert_eq!(given(&kit, hives[1]).birth, Birth::between(day("2026-11-14"), day("2026-11-16")), "12 days from it");
    let told = Change::PutParcel(Parcel { born: Birth::in_year(2026), ..cells });
    let refusal = kit.try_apply(&told, day("2026-11-18")).expect_err("cells are not born");
    assert!(refusal.to_string().contains("not born yet"), "{refusal}");
}

#[test]
fn a_birth_that_cannot_have_been_is_refused() {
    let (mut kit, _) = Kit::with_hives(&[]);
    let today = day("2026-11-20");
    let parcel = Parcel { sent: Some(day("2026-11-12")), ..arrived(700, ParcelKind::CagedQueens, 9, "2026-11-14") };
    for (born, said) in [
        (Birth::on(day("2026-11-13")), "born after 12 Nov"),
        (Birth::on(day("2026-11-21")), "still to come"),
        (Birth { earliest: Some(day("2026-10-02")), latest: Some(day("2026-10-01")) }, "cannot be"),
    ] {
        let told = Change::PutParcel(Parcel { born, ..parcel.clone() });
        let refusal = kit.try_apply(&told, today).expect_err(said).to_string();
        assert!(refusal.contains(said), "{refusal}");
    }
    put(&mut kit, &Parcel { born: Birth::in_year(2026), ..parcel }, "2026-11-20");
}
