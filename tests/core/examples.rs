//! The issue's examples, from codes to standings, with default settings in the south.

use std::collections::BTreeMap;

use lidnote::domain::bar::{Bar, BarKind, BarOn};
use lidnote::domain::change::{Change, Occasion};
use lidnote::domain::decide::{decide, title};
use lidnote::domain::evening::{Evening, correction, evenings, records_of};
use lidnote::domain::grammar::codes::parse;
use lidnote::domain::grammar::resolve::{Choice, resolve_again};
use lidnote::domain::ids::{BarId, ColonyId, ParcelId, PlanId};
use lidnote::domain::in_hand::draw::From;
use lidnote::domain::in_hand::in_hand;
use lidnote::domain::parcel::{Parcel, ParcelKind};
use lidnote::domain::plan::Plan;
use lidnote::domain::queen::{Birth, Dot};
use lidnote::domain::rates::count_evening;
use lidnote::domain::record::Happening;
use lidnote::domain::refusal::RefusalKind;
use lidnote::domain::standing::{LidState, OutcomeClass, Phase, QueenNow, course, lid_note, standing};
use lidnote::domain::visit::{Method, OldQueen};
use lidnote::domain::work::{Step, WorkKind};
use lidnote::domain::yard::Yard;

use crate::kit::{Kit, day};

fn names(count: usize) -> Vec<String> {
    (1..=count).map(|number| format!("B{number:02}")).collect()
}

fn kit(count: usize) -> (Kit, Vec<ColonyId>) {
    let names = names(count);
    Kit::with_hives(&names.iter().map(String::as_str).collect::<Vec<_>>())
}

/// The labels of these hives are printed, so that only what changes later is queued.
fn print_labels(kit: &mut Kit, hives: &[ColonyId], on: &str) {
    let printed = Change::LabelsPrinted { colonies: hives.to_vec(), day: day(on) };
    kit.apply(&printed, day(on));
}

/// Hives whose lid no longer says what it should.
fn label_queue(kit: &Kit, on: &str) -> Vec<String> {
    let world = &kit.world;
    let changed = world.colonies.values().filter(|colony| {
        let standing = standing(world, colony.id, day(on)).expect("a standing");
        let note = lid_note(world, colony.id, &standing, day(on));
        note.wanted_on(&colony.lid)
    });
    changed.map(|colony| colony.name().to_owned()).collect()
}

fn lid(kit: &Kit, hive: ColonyId, on: &str) -> LidState {
    standing(&kit.world, hive, day(on)).expect("a standing").lid_state(day(on))
}

#[test]
fn a_find_on_the_wrong_hive_is_put_right_thirty_changes_later() {
    let (mut kit, hives) = kit(30);
    let (b14, b15) = (hives[13], hives[14]);
    for hive in [b14, b15] {
        kit.enter(hive, "2026-11-14", "+q");
    }
    print_labels(&mut kit, &hives, "2026-11-14");
    let find = kit.enter(b14, "2026-11-24", "eq");
    print_labels(&mut kit, &hives, "2026-11-24");
    for change in 0..30 {
        let yard = kit.id();
        let yard = Yard::named(lidnote::domain::ids::YardId(yard), &format!("Yard {change}"));
        kit.apply(&Change::PutYard(Box::new(yard)), day("2026-11-25"));
    }
    let today = "2026-12-01";
    assert_eq!(lid(&kit, b14, today), LidState::Quiet);
    assert_eq!(lid(&kit, b15, today), LidState::Late);
    let queued_before = label_queue(&kit, today);
    let before = kit.world.clone();
    let mut amendment = Kit::amendment(b14, find);
    amendment.to = Some(b15);
    let facts = kit.apply(&Change::Amend(Box::new(amendment)), day(today));
    assert_eq!(facts.len(), 1);
    assert_eq!(lid(&kit, b14, today), LidState::Late);
    let standing = standing(&kit.world, b15, day(today)).expect("a standing");
    assert_eq!(standing.phase, Phase::Accepted { on: day("2026-11-24") });
    let mut queued = label_queue(&kit, today);
    queued.retain(|name| !queued_before.contains(name));
    assert_eq!(queued, ["B14", "B15"]);
    kit.undo(&facts);
    assert!(kit.world == before);
}

#[test]
fn sixty_rows_of_an_evening_are_counted_once_each_and_taken_back_at_once() {
    let (mut kit, hives) = kit(60);
    let rows: Vec<(ColonyId, &str)> = hives.iter().map(|hive| (*hive, "+q")).collect();
    let introduction = kit.visits(&Occasion::Introduction, day("2026-11-14"), &rows, Choice::default());
    kit.apply(&introduction, day("2026-11-14"));
    let codes = |at: usize| match at {
        0..52 => "eq",
        52..55 => "c2",
        55 => "u",
        56 => "x",
        57 | 58 => "-r",
        _ => "p",
    };
    let rows: Vec<(ColonyId, &str)> = hives.iter().enumerate().map(|(at, hive)| (*hive, codes(at))).collect();
    let evening = Occasion::Evening(kit.id());
    let change = kit.visits(&evening, day("2026-11-24"), &rows, Choice::default());
    assert_eq!(title(&kit.world, &change), "Evening of Tue 24 Nov, 60 hives");
    let before = kit.world.clone();
    let facts = kit.apply(&change, day("2026-11-24"));
    let Change::Visits { visits, .. } = &change else { panic!("visits") };
    let mut classes: BTreeMap<OutcomeClass, u32> = BTreeMap::new();
    let outcomes = visits.iter().map(|new| {
        let course = course(&kit.world, new.colony, day("2026-11-24")).expect("a course");
        let (_, outcome) = course.outcomes.into_iter().find(|(id, _)| *id == new.record).expect("an outcome");
        *classes.entry(outcome.class).or_default() += 1;
        outcome.class
    });
    let counts = count_evening(outcomes);
    assert_eq!(counts.words(), "52 laying, 3 to decide, 1 another queen, 1 barred, 3 still due");
    assert_eq!(counts.total(), 60);
    let another = standing(&kit.world, hives[55], day("2026-11-24")).expect("a standing");
    assert!(another.which.is_some() && another.work.iter().any(|work| work.kind.is_look()), "her look stays");
    kit.undo(&facts);
    assert!(kit.world == before, "one undo takes back all sixty");
}

#[test]
fn six_old_queens_not_found_leave_four_in_hand_and_six_steps() {
    let (mut kit, hives) = kit(40);
    let today = day("2026-11-14");
    let parcel = Parcel {
        id: ParcelId::from_number(700),
        source: None,
        kind: ParcelKind::CagedQueens,
        count: 40,
        dead: 2,
        gone: 0,
        sent: None,
        due: None,
        promised: None,
        arrived: Some(today),
        grafted: None,
        born: Birth::default(),
        dot: None,
        closed: false,
        note: String::new(),
    };
    let id = parcel.id;
    kit.apply(&Change::PutParcel(parcel), today);
    let rows: Vec<(ColonyId, &str)> =
        hives.iter().enumerate().map(|(at, hive)| (*hive, if at < 34 { "/q +q" } else { "?q" })).collect();
    let choice = Choice { from: From::Parcel(id), ..Choice::default() };
    let change = kit.visits(&Occasion::Introduction, today, &rows, choice);
    assert_eq!(title(&kit.world, &change), "34 queens given in Heath yard, 6 old queens not found");
    kit.apply(&change, today);
    let hand = in_hand(&kit.world, id, today).expect("the parcel");
    assert_eq!((hand.alive, hand.given, hand.left), (38, 34, 4));
    let to_find = hives.iter().filter(|hive| {
        let standing = standing(&kit.world, **hive, today).expect("a standing");
        standing.work.iter().any(|work| work.kind == WorkKind::Step(Step::FindOldQueen))
    });
    assert_eq!(to_find.count(), 6);
}

#[test]
fn history_names_the_look_and_what_came_of_it() {
    let (mut kit, hives) = kit(14);
    let b14 = hives[13];
    kit.enter(b14, "2026-11-14", "+q");
    for (codes, said) in [
        ("eq", "B14 acceptance look, accepted"),
        ("c3", "B14 acceptance look, failed"),
        ("-r", "B14 acceptance look, still due"),
        ("u", "B14 acceptance look, another queen"),
    ] {
        let change = kit.visit(b14, day("2026-11-24"), codes);
        assert_eq!(title(&kit.world, &change), said);
    }
    let temper = kit.visit(hives[0], day("2026-11-24"), "t3");
    assert_eq!(title(&kit.world, &temper), "B01 temper 3");
}

#[test]
fn a_queen_given_against_a_bar_is_recorded_and_says_so_while_a_plan_is_refused() {
    let (mut kit, hives) = kit(2);
    let today = day("2026-11-14");
    kit.enter(hives[0], "2026-11-10", "x1");
    let plan = |id, colony| Plan {
        id: PlanId::from_number(id),
        colony,
        method: Method::Caged,
        source: None,
        parcel: None,
        give_on: today,
        dequeen_on: Some(today),
        made: today,
        called_off: None,
        moved: Vec::new(),
    };
    let planned = Change::Plan { plans: vec![plan(1, hives[0])], overrule_soft: true };
    let refusal = decide(&kit.world, &planned, today).expect_err("a bar");
    assert_eq!(refusal.kind, RefusalKind::Barred);
    kit.enter(hives[0], "2026-11-14", "+q");
    let Happening::Visit(visit) = &kit.world.records_of(hives[0])[1].what else { panic!("a visit") };
    let against = visit.gave.as_ref().and_then(|gave| gave.against_bar.clone()).expect("a bar was in the way");
    assert!(against.starts_with("American foulbrood suspected"), "{against}");

    // A soft bar gives way to a plan that says so, and the queen given by that plan is not flagged.
    let soft = Bar {
        id: BarId::from_number(800),
        on: BarOn::Colony(hives[1]),
        kind: BarKind::Robbing,
        from: today,
        until: None,
        reason: String::new(),
        by: "MK".to_owned(),
        permit: None,
        lifted: None,
    };
    kit.apply(&Change::PutBar(soft), today);
    let firm = Change::Plan { plans: vec![plan(2, hives[1])], overrule_soft: false };
    assert_eq!(decide(&kit.world, &firm, today).expect_err("a bar").kind, RefusalKind::Barred);
    kit.apply(&Change::Plan { plans: vec![plan(2, hives[1])], overrule_soft: true }, today);
    kit.enter(hives[1], "2026-11-14", "+q");
    let Happening::Visit(visit) = &kit.world.records_of(hives[1])[0].what else { panic!("a visit") };
    assert_eq!(visit.gave.as_ref().and_then(|gave| gave.against_bar.clone()), None);
}

#[test]
fn what_is_known_of_the_old_queen_follows_from_codes_records_and_settings() {
    let (mut kit, hives) = kit(5);
    kit.enter(hives[0], "2026-11-13", "/q");
    let old_queen = |kit: &mut Kit, hive, codes: &str| {
        let change = kit.visit(hive, day("2026-11-14"), codes);
        let Change::Visits { visits, .. } = change else { panic!("visits") };
        visits[0].visit.gave.as_ref().map(|gave| gave.old_queen)
    };
    assert_eq!(old_queen(&mut kit, hives[0], "+q"), Some(OldQueen::AsRecorded));
    assert_eq!(old_queen(&mut kit, hives[1], "+q"), Some(OldQueen::RemovedOn(day("2026-11-14"))));
    assert_eq!(old_queen(&mut kit, hives[2], "+c"), Some(OldQueen::RemovedOn(day("2026-11-13"))));
    assert_eq!(old_queen(&mut kit, hives[3], "+c /q"), Some(OldQueen::RemovedOn(day("2026-11-14"))));
    assert_eq!(old_queen(&mut kit, hives[4], "+q ?q"), Some(OldQueen::NotFound));
    assert_eq!(old_queen(&mut kit, hives[4], "?q"), None);
}

#[test]
fn days_in_codes_lie_before_the_evening() {
    let (mut kit, hives) = kit(1);
    let change = kit.visit(hives[0], day("2026-12-02"), "+v28 @1/12");
    let Change::Visits { visits, queens, .. } = change else { panic!("visits") };
    assert_eq!(visits[0].day, day("2026-12-01"));
    let gave = visits[0].visit.gave.as_ref().expect("a virgin");
    assert_eq!(gave.emerged, Some(day("2026-11-28")));
    assert_eq!(queens[0].birth.exact(), Some(day("2026-11-28")));
}

#[test]
fn a_marked_queen_gets_her_dot() {
    let (mut kit, hives) = kit(1);
    kit.enter(hives[0], "2026-11-14", "+q");
    kit.enter(hives[0], "2026-11-24", "eq +d");
    let QueenNow::Present(facts) = standing(&kit.world, hives[0], day("2026-11-24")).expect("a standing").queen else {
        panic!("a queen")
    };
    let queen = &kit.world.queens[&facts.queen.expect("a recorded queen")];
    assert_eq!(queen.dot, Some(Dot::White), "2026 ends in 6");
}

#[test]
fn a_split_takes_the_recorded_queen_along() {
    let (mut kit, hives) = kit(1);
    kit.enter(hives[0], "2026-11-01", "+q");
    let today = day("2026-11-24");
    let yard = kit.world.colonies[&hives[0]].yard().expect("a yard");
    let daughter = kit.colony(yard, "B02", today);
    let records = [lidnote::domain::ids::RecordId(kit.id()), lidnote::domain::ids::RecordId(kit.id())];
    let before = standing(&kit.world, hives[0], today).expect("a standing").queen;
    let QueenNow::Present(before) = before else { panic!("a queen") };
    let split = Change::Split {
        parent: hives[0],
        daughter: Box::new(daughter.clone()),
        queen_goes: true,
        records,
        by: "MK".to_owned(),
    };
    kit.apply(&split, today);
    let QueenNow::Present(after) = standing(&kit.world, daughter.id, today).expect("a standing").queen else {
        panic!("her queen")
    };
    assert_eq!(after.queen, before.queen);
    let parent = standing(&kit.world, hives[0], today).expect("a standing").queen;
    assert!(!matches!(parent, QueenNow::Present(_)), "{parent:?}");
}

#[test]
fn codes_that_correct_a_record_keep_what_codes_cannot_say() {
    let (mut kit, hives) = kit(1);
    let record = kit.enter(hives[0], "2026-11-14", "+q");
    let before = kit.world.record(hives[0], record).expect("the record").clone();
    let Happening::Visit(old) = &before.what else { panic!("a visit") };
    let again = |codes: &str| {
        let codes = parse(codes).expect("codes");
        let mut mint = || uuid::Uuid::from_u128(4242);
        resolve_again(&kit.world, &before, hives[0], before.day, &codes, &Choice::default(), &mut mint)
            .expect("a visit")
    };
    let (same, queens) = again("+q");
    assert_eq!((&same.visit, queens.len(), same.record), (old.as_ref(), 0, record));
    let (corrected, queens) = again("+q ?q t3");
    let (gave, gave_before) = (corrected.visit.gave.expect("a queen"), old.gave.as_ref().expect("a queen"));
    assert_eq!((gave.queen, gave.old_queen, queens.len()), (gave_before.queen, OldQueen::NotFound, 0));
    let (other, queens) = again("+c");
    let gave = other.visit.gave.expect("a cell");
    assert_eq!((gave.queen, gave.old_queen), (queens[0].id, OldQueen::RemovedOn(day("2026-11-13"))));
}

#[test]
fn an_evening_is_opened_again_and_only_what_was_corrected_is_amended() {
    let (mut kit, hives) = kit(3);
    let id = kit.id();
    let rows: Vec<(ColonyId, &str)> =
        hives.iter().zip(["eq", "+q 'late", "e @23"]).map(|(hive, codes)| (*hive, codes)).collect();
    let change = kit.visits(&Occasion::Evening(id), day("2026-11-24"), &rows, Choice::default());
    kit.apply(&change, day("2026-11-24"));
    assert_eq!(evenings(&kit.world), [Evening { id, day: day("2026-11-24"), visits: 3 }]);
    let records: Vec<_> = records_of(&kit.world, id).into_iter().cloned().collect();
    assert_eq!(records.iter().map(|record| record.colony).collect::<Vec<_>>(), hives);
    let mut mint = || uuid::Uuid::from_u128(4242);
    let mut amendments = Vec::new();
    for (record, text) in records.iter().zip(["eq", "+q 'late", "n"]) {
        let codes = parse(text).expect("codes");
        let made = correction(&kit.world, record, None, &codes, "misread", "MK", &mut mint).expect("codes");
        amendments.extend(made);
    }
    assert_eq!(amendments.iter().map(|amendment| amendment.record).collect::<Vec<_>>(), [records[2].id]);
    let changes = amendments.into_iter().map(|amendment| Change::Amend(Box::new(amendment))).collect();
    let several = Change::Several { title: "Evening of Tue 24 Nov corrected".to_owned(), changes };
    let facts = kit.apply(&several, day("2026-11-25"));
    assert_eq!(facts.len(), 1);
    let amended = kit.world.record(hives[2], records[2].id).expect("the record");
    assert_eq!((amended.day, amended.amended[0].was.as_str()), (day("2026-11-23"), "B03, 23 Nov: Eggs"));
}
