//! The last day and the last number that are still right, and the first that is refused; what a change leaves alone.

use lidnote::domain::bar::{Bar, BarKind, BarOn};
use lidnote::domain::change::{Change, NewVisit, Occasion};
use lidnote::domain::colony::{Colony, End, EndWhy, FirstQueen};
use lidnote::domain::day::Day;
use lidnote::domain::decide::decide;
use lidnote::domain::evening::{correction, evenings, records_of};
use lidnote::domain::grammar::codes::parse;
use lidnote::domain::grammar::resolve::Choice;
use lidnote::domain::ids::{BarId, ColonyId, ParcelId, PlanId, QueenId, RecordId, SourceId};
use lidnote::domain::in_hand::draw::{Hand, drawn_words};
use lidnote::domain::in_hand::{Held, all_in_hand, in_hand};
use lidnote::domain::parcel::{Parcel, ParcelKind};
use lidnote::domain::plan::Plan;
use lidnote::domain::queen::{Birth, Dot, Origin, Queen, Source};
use lidnote::domain::record::{Happening, Which};
use lidnote::domain::visit::{Given, Method, OldQueen, Visit};
use uuid::Uuid;

use crate::kit::{Kit, day};

const TODAY: &str = "2026-11-24";

#[track_caller]
fn fine(kit: &Kit, change: &Change) {
    decide(&kit.world, change, day(TODAY)).unwrap_or_else(|refusal| panic!("{refusal}"));
}

/// Why a change is not made.
#[track_caller]
fn refused(kit: &Kit, change: &Change) -> String {
    decide(&kit.world, change, day(TODAY)).expect_err("a refusal").to_string()
}

fn parcel() -> Parcel {
    Parcel {
        id: ParcelId::from_number(700),
        source: None,
        kind: ParcelKind::CagedQueens,
        count: 5,
        dead: 0,
        gone: 0,
        sent: None,
        due: None,
        promised: None,
        arrived: None,
        grafted: None,
        born: Birth::default(),
        dot: None,
        closed: false,
        note: String::new(),
    }
}

fn put(parcel: &Parcel) -> Change {
    Change::PutParcel(parcel.clone())
}

fn plan(id: u128, colony: ColonyId) -> Plan {
    Plan {
        id: PlanId::from_number(id),
        colony,
        method: Method::Caged,
        source: None,
        parcel: None,
        give_on: day("2026-11-28"),
        dequeen_on: None,
        made: day("2026-11-20"),
        called_off: None,
        moved: Vec::new(),
    }
}

fn planned(plan: &Plan) -> Change {
    Change::Plan { plans: vec![plan.clone()], overrule_soft: false }
}

/// A visit on which a queen was given.
fn giving(kit: &mut Kit, hive: ColonyId, gave: impl FnOnce(&mut Given)) -> Change {
    let queen = QueenId(kit.id());
    let details = Queen {
        id: queen,
        birth: Birth::default(),
        origin: Origin::Virgin,
        source: None,
        dot: None,
        words: String::new(),
    };
    let mut given = Given {
        method: Method::Virgin,
        queen,
        parcel: None,
        old_queen: OldQueen::AsRecorded,
        emerged: None,
        cells: 1,
        against_bar: None,
    };
    gave(&mut given);
    let visit = Visit { gave: Some(given), ..Visit::default() };
    let new = NewVisit {
        record: RecordId(kit.id()),
        colony: hive,
        day: day("2026-11-20"),
        by: "MK".to_owned(),
        words: String::new(),
        visit,
    };
    Change::Visits { occasion: Occasion::Find, visits: vec![new], queens: vec![details] }
}

#[test]
fn what_names_something_that_is_not_there_is_refused() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let nowhere = (SourceId::from_number(9), ParcelId::from_number(9), QueenId::from_number(9));
    let source = "That source of queens is not in the register. Add the source first";
    assert_eq!(refused(&kit, &planned(&Plan { source: Some(nowhere.0), ..plan(1, hives[0]) })), source);
    assert_eq!(refused(&kit, &put(&Parcel { source: Some(nowhere.0), ..parcel() })), source);
    let parcel = "That parcel is not in the register. Add the parcel first";
    assert_eq!(refused(&kit, &planned(&Plan { parcel: Some(nowhere.1), ..plan(1, hives[0]) })), parcel);
    let from_nowhere = giving(&mut kit, hives[0], |gave| gave.parcel = Some(nowhere.1));
    assert_eq!(refused(&kit, &from_nowhere), parcel);
    let nobody = giving(&mut kit, hives[0], |gave| gave.queen = nowhere.2);
    assert!(refused(&kit, &nobody).starts_with("The queen given to B14 is not in the register"));
    let yard = kit.world.colonies[&hives[0]].yard().expect("a yard");
    let began = Colony { began_with: FirstQueen::Recorded(nowhere.2), ..kit.colony(yard, "B15", day("2026-11-01")) };
    let found = |colony: Colony| Change::Found { colonies: vec![colony], queens: Vec::new() };
    assert!(refused(&kit, &found(began)).starts_with("The queen of that hive is not in the register"));
}

#[test]
fn the_last_day_that_can_have_been_is_right() {
    let (mut kit, hives) = Kit::with_hives(&["B14", "B15"]);
    let found = kit.visit(hives[0], day("2026-09-01"), "e");
    fine(&kit, &found);
    let before = kit.visit(hives[0], day("2026-08-31"), "e");
    assert!(refused(&kit, &before).contains("B14 was founded on 1 Sep, after 31 Aug"));
    let end = End { day: day("2026-11-10"), why: EndWhy::Sold, by: String::new(), words: String::new() };
    kit.apply(&Change::End { colonies: vec![hives[1]], end }, day(TODAY));
    let last = kit.visit(hives[1], day("2026-11-10"), "e");
    fine(&kit, &last);
    let after = kit.visit(hives[1], day("2026-11-11"), "e");
    assert!(refused(&kit, &after).contains("B15 ended on 10 Nov, before 11 Nov"));

    let emerged = giving(&mut kit, hives[0], |gave| gave.emerged = Some(day("2026-11-20")));
    fine(&kit, &emerged);
    let too_late = giving(&mut kit, hives[0], |gave| gave.emerged = Some(day("2026-11-21")));
    assert!(refused(&kit, &too_late).contains("the virgin would emerge after she was given"));
    let bar = |until: &str| {
        Change::PutBar(Bar {
            id: BarId::from_number(1),
            on: BarOn::Colony(hives[0]),
            kind: BarKind::Weather,
            from: day("2026-11-20"),
            until: Some(day(until)),
            reason: "cold".to_owned(),
            by: String::new(),
            permit: None,
            lifted: None,
        })
    };
    fine(&kit, &bar("2026-11-20"));
    refused(&kit, &bar("2026-11-19"));
}

#[test]
fn the_last_number_and_day_of_a_parcel_are_right() {
    let (kit, _) = Kit::with_hives(&[]);
    fine(&kit, &put(&Parcel { dead: 3, gone: 2, ..parcel() }));
    assert!(refused(&kit, &put(&Parcel { dead: 3, gone: 3, ..parcel() })).contains("more than the 5 sent"));
    assert!(refused(&kit, &put(&Parcel { dead: u32::MAX, gone: 1, ..parcel() })).contains("more than the 5 sent"));
    let came = |sent: &str, arrived: &str| Parcel { sent: Some(day(sent)), arrived: Some(day(arrived)), ..parcel() };
    fine(&kit, &put(&came("2026-11-20", "2026-11-20")));
    assert!(refused(&kit, &put(&came("2026-11-21", "2026-11-20"))).contains("before it was sent"));
    let born = |on: &str| Parcel { born: Birth::on(day(on)), ..came("2026-11-20", "2026-11-22") };
    fine(&kit, &put(&born("2026-11-20")));
    assert!(refused(&kit, &put(&born("2026-11-21"))).contains("born after 20 Nov"));
    let cells = |dot| Parcel { kind: ParcelKind::Cells, dot, ..parcel() };
    fine(&kit, &put(&cells(None)));
    assert!(refused(&kit, &put(&cells(Some(Dot::White)))).contains("carry no dot"));
}

#[test]
fn a_parcel_that_is_late_moves_only_what_still_waits_for_it() {
    let (mut kit, hives) = Kit::with_hives(&["B14", "B15"]);
    let today = day(TODAY);
    let due = Parcel { due: Some(day("2026-11-26")), ..parcel() };
    kit.apply(&put(&due), today);
    // Dequeened before the plan was made: the day of another plan, or none.
    kit.enter(hives[0], "2026-11-12", "/q");
    let of_parcel = |id, hive, on: &str| Plan { parcel: Some(due.id), dequeen_on: Some(day(on)), ..plan(id, hive) };
    kit.apply(&planned(&of_parcel(1, hives[0], "2026-11-27")), today);
    kit.apply(&planned(&of_parcel(2, hives[1], "2026-11-27")), today);
    kit.apply(&Change::CallOff { plans: vec![PlanId::from_number(2)], day: today }, today);
    let late = |promised: &str| Change::ParcelLate { parcel: due.id, promised: day(promised), day: today };
    fine(&kit, &late(TODAY));
    assert!(refused(&kit, &late("2026-11-23")).contains("is past on the day of the news"));
    kit.apply(&late("2026-11-29"), today);
    let held = |id| kit.world.plans[&PlanId::from_number(id)].clone();
    assert_eq!((held(1).give_on, held(1).dequeen_on), (day("2026-12-01"), Some(day("2026-11-30"))));
    assert_eq!((held(2).give_on, held(2).moved.len()), (day("2026-11-28"), 0), "called off, so it stays");
}

#[test]
fn a_plan_is_called_off_once_and_alone() {
    let (mut kit, hives) = Kit::with_hives(&["B14", "B15"]);
    let today = day(TODAY);
    kit.apply(&planned(&plan(1, hives[0])), day("2026-11-20"));
    kit.apply(&planned(&plan(2, hives[1])), day("2026-11-20"));
    assert!(refused(&kit, &planned(&plan(3, hives[0]))).contains("B14 has a plan for 28 Nov"));
    assert!(refused(&kit, &planned(&plan(1, hives[1]))).contains("That plan is in the register already"));
    let off = |on: &str| Change::CallOff { plans: vec![PlanId::from_number(1)], day: day(on) };
    kit.apply(&off("2026-11-15"), today);
    let called_off = |kit: &Kit, id| kit.world.plans[&PlanId::from_number(id)].called_off;
    assert_eq!(called_off(&kit, 1), Some(day("2026-11-20")), "not before it was made");
    assert!(kit.apply(&off(TODAY), today).is_empty(), "it is off already");
    assert_eq!(called_off(&kit, 2), None);
    fine(&kit, &planned(&plan(3, hives[0])));
    let end = End { day: today, why: EndWhy::Sold, by: String::new(), words: String::new() };
    kit.apply(&Change::End { colonies: vec![hives[0]], end }, today);
    assert_eq!((called_off(&kit, 1), called_off(&kit, 2)), (Some(day("2026-11-20")), None), "only its own open plans");
}

#[test]
fn a_bar_says_its_reason_and_whether_it_can_be_overruled() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let bar = |kind, reason: &str| Bar {
        id: BarId::from_number(1),
        on: BarOn::Colony(hives[0]),
        kind,
        from: day("2026-11-20"),
        until: None,
        reason: reason.to_owned(),
        by: String::new(),
        permit: None,
        lifted: None,
    };
    kit.apply(&Change::PutBar(bar(BarKind::Quarantine, "order 14")), day(TODAY));
    let hard = refused(&kit, &planned(&plan(1, hives[0])));
    assert_eq!(hard, "B14 is barred: quarantine, order 14. Leave this hive out, or lift the bar first");
    kit.apply(&Change::PutBar(bar(BarKind::Weather, "cold")), day(TODAY));
    let soft = refused(&kit, &planned(&plan(1, hives[0])));
    assert!(soft.ends_with("Leave this hive out, choose another day, or plan it all the same"), "{soft}");
}

#[test]
fn which_queen_it_was_is_asked_of_a_sighting_that_holds() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let record = RecordId(kit.id());
    let answer =
        |on: &str| Change::Answer { colony: hives[0], record, day: day(on), which: Which::Lost, by: String::new() };
    kit.enter(hives[0], "2026-11-12", "e");
    let seen = kit.enter(hives[0], "2026-11-20", "u");
    fine(&kit, &answer("2026-11-20"));
    assert!(refused(&kit, &answer("2026-11-19")).contains("No other queen was seen at B14 by 19 Nov"));
    let struck =
        Change::Amend(Box::new(lidnote::domain::change::Amendment { strike: true, ..Kit::amendment(hives[0], seen) }));
    kit.apply(&struck, day(TODAY));
    refused(&kit, &answer("2026-11-20"));
}

#[test]
fn what_is_in_hand_is_reckoned_a_parcel_apart_and_by_its_days() {
    let (mut kit, hives) = Kit::with_hives(&["B14", "B15"]);
    let of = |number, count, on: &str| Parcel {
        id: ParcelId::from_number(number),
        count,
        arrived: Some(day(on)),
        source: Some(SourceId::from_number(number)),
        ..parcel()
    };
    for (number, name) in [(701, "Thrift"), (702, "Farside")] {
        let source = Source { id: SourceId::from_number(number), name: name.to_owned(), own: false };
        kit.apply(&Change::PutSource(source), day(TODAY));
    }
    // The later number came first: the oldest goes out first.
    kit.apply(&put(&of(701, 5, "2026-11-14")), day(TODAY));
    kit.apply(&put(&of(702, 1, "2026-11-12")), day(TODAY));
    let give =
        kit.visits(&Occasion::Find, day("2026-11-14"), &[(hives[0], "/q +q"), (hives[1], "/q +q")], Choice::default());
    kit.apply(&give, day(TODAY));
    let (thrift, farside) = (ParcelId::from_number(701), ParcelId::from_number(702));
    let held = |parcel, on: &str| in_hand(&kit.world, parcel, day(on)).expect("a parcel");
    assert_eq!((held(thrift, TODAY).left, held(farside, TODAY).left), (4, 0), "one of each");
    assert_eq!(all_in_hand(&kit.world, day(TODAY))[&thrift], held(thrift, TODAY));
    assert_eq!(held(thrift, "2026-11-13").alive, 0, "it has not come yet");
    let days = [("2026-11-17", Held::Fine), ("2026-11-18", Held::Warning), ("2026-11-21", Held::Warning)];
    for (on, expected) in days.into_iter().chain([("2026-11-22", Held::Alarm)]) {
        assert_eq!(held(thrift, on).held, expected, "{on}");
        assert_eq!(held(farside, on).held, Held::Fine, "none is left of it, {on}");
    }
    let drawn = [(Some(thrift), 1), (Some(farside), 1), (Some(thrift), 2), (None, 1)];
    let farside_out = "1 out of Farside of 12 Nov, none stays in hand";
    let words = format!("3 out of Thrift of 14 Nov, 4 stay in hand; {farside_out}; 1 out of no parcel");
    let said = |drawn| drawn_words(&mut Hand::of(&kit.world), drawn);
    assert_eq!(said(&drawn), Some(words));
    assert_eq!(said(&drawn[1..2]).as_deref(), Some(farside_out));
    assert_eq!(said(&[(None, 1)]), None, "nothing came out of any");
}

#[test]
fn evenings_come_newest_first_and_their_rows_as_they_were_entered() {
    let (mut kit, hives) = Kit::with_hives(&["B14", "B15"]);
    let (early, late) = (Uuid::from_u128(2), Uuid::from_u128(1));
    for (evening, on) in [(early, "2026-11-10"), (late, "2026-11-20")] {
        let rows = [(hives[1], "e"), (hives[0], "e")];
        let change = kit.visits(&Occasion::Evening(evening), day(on), &rows, Choice::default());
        kit.apply(&change, day(TODAY));
    }
    let days: Vec<(Day, u32)> = evenings(&kit.world).iter().map(|it| (it.day, it.visits)).collect();
    assert_eq!(days, [(day("2026-11-20"), 2), (day("2026-11-10"), 2)]);
    let rows: Vec<ColonyId> = records_of(&kit.world, late).iter().map(|record| record.colony).collect();
    assert_eq!(rows, [hives[1], hives[0]], "in the order they were entered, of that evening alone");

    let record = records_of(&kit.world, late)[0].clone();
    let other = kit.world.colonies[&hives[0]].clone();
    let mut mint = || Uuid::from_u128(9);
    let mut corrected = |to: Option<&Colony>, codes: &str| {
        correction(&kit.world, &record, to, &parse(codes).expect("codes"), "slip", "MK", &mut mint).expect("resolved")
    };
    assert_eq!(corrected(None, "e"), None, "it says so already");
    assert_eq!(corrected(Some(&other), "e").and_then(|it| it.to), Some(hives[0]));
    assert_eq!(corrected(None, "e @19").and_then(|it| it.day), Some(day("2026-11-19")));
    assert!(corrected(None, "eq").is_some_and(|it| it.visit.is_some()));
    assert_eq!(corrected(None, "e 'calm").and_then(|it| it.words).as_deref(), Some("calm"));
    let struck = Change::Amend(Box::new(lidnote::domain::change::Amendment {
        strike: true,
        ..Kit::amendment(hives[1], record.id)
    }));
    kit.apply(&struck, day(TODAY));
    assert_eq!((evenings(&kit.world)[0].visits, records_of(&kit.world, late).len()), (1, 2));
}

#[test]
fn a_colony_is_made_whole_or_not_at_all() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let yard = kit.world.colonies[&hives[0]].yard().expect("a yard");
    let new = kit.colony(yard, "B15", day("2026-11-01"));
    let found = |colony: Colony| Change::Found { colonies: vec![colony], queens: Vec::new() };
    fine(&kit, &found(new.clone()));
    assert!(refused(&kit, &found(Colony { names: Vec::new(), ..new.clone() })).starts_with("A hive needs a name"));
    assert!(refused(&kit, &found(Colony { stands: Vec::new(), ..new.clone() })).starts_with("A hive needs a name"));
    let mut twice = new.clone();
    twice.names.push(lidnote::domain::colony::Named { name: "B16".to_owned(), from: day("2026-10-01") });
    assert!(refused(&kit, &found(twice)).contains("not in the order of their days"));
    let mut moved = new.clone();
    moved.stands.push(lidnote::domain::colony::Stand { yard, spot: None, from: day("2026-10-01") });
    assert!(refused(&kit, &found(moved)).contains("not in the order of their days"));
    let ended = |on: &str| {
        let end = End { day: day(on), why: EndWhy::Sold, by: String::new(), words: String::new() };
        found(Colony { ended: Some(end), ..new.clone() })
    };
    fine(&kit, &ended("2026-11-01"));
    assert!(refused(&kit, &ended("2026-10-31")).starts_with("A hive would end before it was founded"));
    let united = End { day: day(TODAY), why: EndWhy::UnitedInto(hives[0]), by: String::new(), words: String::new() };
    assert!(refused(&kit, &Change::End { colonies: vec![hives[0]], end: united }).contains("united into itself"));
}

#[test]
fn a_bar_of_a_find_is_lifted_on_record() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    kit.enter(hives[0], "2026-11-12", "x");
    let lift = Change::LiftFoundBar {
        colony: hives[0],
        record: RecordId(kit.id()),
        day: day("2026-11-20"),
        why: " laboratory: negative ".to_owned(),
        by: String::new(),
    };
    kit.apply(&lift, day(TODAY));
    let last = kit.world.records_of(hives[0]).last().map(|record| record.what.clone());
    assert_eq!(last, Some(Happening::BarLifted { why: "laboratory: negative".to_owned() }));
    let standing = lidnote::domain::standing::standing(&kit.world, hives[0], day(TODAY)).expect("B14 is there");
    assert!(standing.bars.is_empty(), "{:?}", standing.bars);
}
