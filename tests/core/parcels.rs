//! What a parcel tells of its queens, and how they go out of it.

use lidnote::domain::change::{Change, Occasion};
use lidnote::domain::day::Day;
use lidnote::domain::decide::title;
use lidnote::domain::grammar::resolve::Choice;
use lidnote::domain::ids::{ColonyId, ParcelId, PlanId, QueenId, SourceId};
use lidnote::domain::in_hand::draw::{From, Giving, Hand};
use lidnote::domain::parcel::{Parcel, ParcelKind};
use lidnote::domain::plan::Plan;
use lidnote::domain::queen::{Birth, Dot, Queen, Source};
use lidnote::domain::record::Happening;
use lidnote::domain::standing::standing;
use lidnote::domain::visit::Method;
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
    let choice = Choice { from: From::Parcel(ParcelId::from_number(parcel)), ..Choice::default() };
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

/// Heath yard with two parcels of caged queens in hand, Thrift's of 12 Nov before Farside's of 14 Nov, and one of Broom
/// that is awaited.
fn two_in_hand() -> (Kit, Vec<ColonyId>) {
    let (mut kit, hives) = Kit::with_hives(&["B14", "B15", "B16", "B17"]);
    for (number, name) in [(1, "Thrift"), (2, "Farside"), (3, "Broom")] {
        let source = Source { id: SourceId::from_number(number), name: name.to_owned(), own: false };
        kit.apply(&Change::PutSource(source), day("2026-11-01"));
    }
    let from = |number, source, count, on| Parcel {
        source: Some(SourceId::from_number(source)),
        ..arrived(number, ParcelKind::CagedQueens, count, on)
    };
    put(&mut kit, &from(702, 2, 5, "2026-11-14"), "2026-11-14");
    put(&mut kit, &from(701, 1, 2, "2026-11-12"), "2026-11-14");
    put(
        &mut kit,
        &Parcel { arrived: None, due: Some(day("2026-11-18")), ..from(703, 3, 5, "2026-11-14") },
        "2026-11-14",
    );
    (kit, hives)
}

fn plan(kit: &mut Kit, hive: ColonyId, source: Option<u128>, parcel: Option<u128>) {
    let plan = Plan {
        id: PlanId(kit.id()),
        colony: hive,
        method: Method::Caged,
        source: source.map(SourceId::from_number),
        parcel: parcel.map(ParcelId::from_number),
        give_on: day("2026-11-18"),
        dequeen_on: None,
        made: day("2026-11-14"),
        called_off: None,
        moved: Vec::new(),
    };
    kit.apply(&Change::Plan { plans: vec![plan], overrule_soft: false }, day("2026-11-14"));
}

/// The parcel and the source drawn at each hive, one after another, on 16 Nov.
fn drawn(kit: &Kit, hives: &[ColonyId], said: From) -> Vec<(u128, u128)> {
    let mut hand = Hand::of(&kit.world);
    let number = |id: Option<uuid::Uuid>| id.map_or(0, |id| id.as_u128());
    let giving = |hive: &ColonyId| Giving { colony: *hive, day: day("2026-11-16"), method: Method::Caged, count: 1 };
    let each = hives.iter().map(|hive| hand.draw(giving(hive), said));
    each.map(|drawn| (number(drawn.parcel.map(|it| it.0)), number(drawn.source.map(|it| it.0)))).collect()
}

#[test]
fn a_queen_comes_out_of_the_planned_parcel_else_of_the_oldest_in_hand() {
    let (mut kit, hives) = two_in_hand();
    assert_eq!(
        drawn(&kit, &hives, From::NotSaid),
        [(701, 1), (701, 1), (702, 2), (702, 2)],
        "two of Thrift, then Farside"
    );
    let source = |number| From::Source(SourceId::from_number(number));
    assert_eq!(drawn(&kit, &hives[..1], source(2)), [(702, 2)]);
    assert_eq!(drawn(&kit, &hives[..1], source(3)), [(0, 3)], "none of Broom is in hand");
    assert_eq!(drawn(&kit, &hives[..1], From::SourceAlone(SourceId::from_number(1))), [(0, 1)]);
    assert_eq!(drawn(&kit, &hives[..1], From::NotKnown), [(0, 0)]);
    assert_eq!(drawn(&kit, &hives[..1], From::Parcel(ParcelId::from_number(702))), [(702, 2)]);
    plan(&mut kit, hives[0], Some(2), Some(702));
    plan(&mut kit, hives[1], Some(3), Some(703));
    plan(&mut kit, hives[2], Some(2), None);
    plan(&mut kit, hives[3], Some(3), None);
    let expected = [(702, 2), (701, 1), (702, 2), (0, 3)];
    assert_eq!(
        drawn(&kit, &hives, From::NotSaid),
        expected,
        "planned; not come yet; of the source; of no other source"
    );
    // What was planned is done once a queen has been given: the next one comes out of the oldest.
    give(&mut kit, hives[0], "2026-11-15", "/q +q", 702);
    assert_eq!(drawn(&kit, &hives[..1], From::NotSaid), [(701, 1)]);
}

#[test]
fn what_is_put_away_of_another_kind_or_came_later_is_not_given() {
    let (mut kit, hives) = two_in_hand();
    let thrift = kit.world.parcels[&ParcelId::from_number(701)].clone();
    put(&mut kit, &Parcel { closed: true, ..thrift }, "2026-11-14");
    let farside = kit.world.parcels[&ParcelId::from_number(702)].clone();
    put(&mut kit, &Parcel { kind: ParcelKind::Virgins, ..farside.clone() }, "2026-11-14");
    assert_eq!(drawn(&kit, &hives[..1], From::NotSaid), [(0, 0)]);
    put(&mut kit, &Parcel { arrived: Some(day("2026-11-17")), ..farside }, "2026-11-17");
    assert_eq!(drawn(&kit, &hives[..1], From::NotSaid), [(0, 0)], "it came the day after");
}
