//! The Programme: parcels, colonies waiting, giving out.

use egui::{Key, Modifiers, Role};
use egui_kittest::kittest::Queryable as _;
use lidnote::domain::bar::{Bar, BarKind, BarOn};
use lidnote::domain::change::{Change, Occasion};
use lidnote::domain::day::Day;
use lidnote::domain::ids::{BarId, ColonyId, ParcelId, PlanId, SourceId};
use lidnote::domain::in_hand::in_hand;
use lidnote::domain::parcel::{Parcel, ParcelKind};
use lidnote::domain::plan::Plan;
use lidnote::domain::queen::{Birth, Source};
use lidnote::domain::standing::standing;
use lidnote::domain::visit::Method;
use lidnote::domain::work::{Look, Step, WorkKind};
use lidnote::ui::action::{Action, Screen};

use crate::kit::{Kit, day};
use crate::window_stage::{Shared, Stage, Window, assert_quiet, open, press, type_in};

const TODAY: &str = "2026-11-23";

fn parcel(number: u128, source: SourceId, count: u32) -> Parcel {
    Parcel {
        id: ParcelId::from_number(number),
        source: Some(source),
        kind: ParcelKind::CagedQueens,
        count,
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

fn source(kit: &mut Kit, name: &str, own: bool) -> SourceId {
    let id = SourceId(kit.id());
    kit.apply(&Change::PutSource(Source { id, name: name.to_owned(), own }), day("2026-09-01"));
    id
}

/// Heath yard with 24 hives, a parcel from Thrift that came today, one from Broom that is awaited, and two colonies in
/// Ash Hollow that were dequeened for it on 13 Nov.
pub fn heath() -> (Kit, Vec<ColonyId>) {
    let names: Vec<String> = (1..=24).map(|number| format!("H{number:02}")).collect();
    let (mut kit, hives) = Kit::with_hives(&names.iter().map(String::as_str).collect::<Vec<_>>());
    let thrift = source(&mut kit, "Thrift", true);
    let broom = source(&mut kit, "Broom", true);
    let here = Parcel { arrived: Some(day(TODAY)), sent: Some(day("2026-11-22")), ..parcel(700, thrift, 24) };
    kit.apply(&Change::PutParcel(here), day(TODAY));
    let awaited = Parcel { due: Some(day("2026-11-24")), ..parcel(701, broom, 12) };
    kit.apply(&Change::PutParcel(awaited), day(TODAY));
    let ash = kit.yard("Ash Hollow");
    for name in ["AH18", "AH19"] {
        let hive = kit.hive(ash, name);
        let plan = Plan {
            id: PlanId(kit.id()),
            colony: hive,
            method: Method::Caged,
            source: Some(broom),
            parcel: Some(ParcelId::from_number(701)),
            give_on: day("2026-11-24"),
            dequeen_on: Some(day("2026-11-13")),
            made: day("2026-11-12"),
            called_off: None,
            moved: Vec::new(),
        };
        kit.apply(&Change::Plan { plans: vec![plan], overrule_soft: false }, day("2026-11-12"));
        let removed = if name == "AH19" { "2026-11-13" } else { "2026-11-20" };
        kit.enter(hive, removed, "/q");
    }
    let bar = Bar {
        id: BarId(kit.id()),
        on: BarOn::Colony(hives[14]),
        kind: BarKind::Treatment,
        from: day("2026-11-20"),
        until: Some(day("2026-11-30")),
        reason: String::new(),
        by: "MK".to_owned(),
        permit: None,
        lifted: None,
    };
    kit.apply(&Change::PutBar(bar), day(TODAY));
    (kit, hives)
}

fn opened(kit: Kit) -> (Window, Shared) {
    open(Stage::new(Some(kit.world), day(TODAY), Screen::Programme))
}

fn fill(window: &mut Window, field: &str, words: &str) {
    window.get_by_role_and_label(Role::TextInput, field).focus();
    window.run();
    press(window, Modifiers::COMMAND, Key::A);
    type_in(window, words);
}

fn planned(shared: &Shared, kind: WorkKind, on: Day) -> usize {
    let stage = shared.borrow();
    let work = stage.scene.outlook.colonies.values().flat_map(|view| &view.standing.work);
    work.filter(|due| due.kind == kind && due.window.best == on).count()
}

#[test]
fn the_sentence_and_the_tables_say_what_is_there() {
    let (mut window, shared) = opened(heath().0);
    window.get_by_label_contains("24 queens in hand. 2 colonies wait, 1 of them too long.");
    window.get_by_role_and_label(Role::Button, "Open parcels 2");
    window.get_by_role_and_label(Role::Row, "Thrift, own, 24 caged queens, 22 Nov, Mon 23 Nov, 0, 0, 24, today");
    window.get_by_label_contains("AH19, Ash Hollow, 13 Nov, D+10, Own virgin may be out: look first, Broom, 24 Nov");
    assert_quiet(&mut window, &shared);
}

#[test]
fn colonies_that_raise_their_own_or_are_barred_for_disease_are_set_apart() {
    let (mut kit, hives) = heath();
    kit.enter(hives[0], "2026-11-20", "/q +s");
    kit.enter(hives[1], "2026-11-20", "/q");
    kit.enter(hives[1], "2026-11-22", "x1");
    let (mut window, shared) = opened(kit);
    window.get_by_label_contains("2 colonies wait, 1 of them too long.");
    window.get_by_label("1 raises its own: H01 look 15, 18, 25 Dec.");
    window.get_by_label("1 barred for disease, never requeened: H02.");
    assert!(
        window.query_by_label_contains("H01, Heath yard").is_none()
            && window.query_by_label_contains("H02, Heath").is_none()
    );
    assert_eq!(shared.borrow().scene.outlook.needing, 2, "nor counted on the tab");
    fill(&mut window, "To", "Heath yard 1-3");
    window.get_by_label("H01: raising its own since 20 Nov.");
    window.get_by_label_contains("H02: American foulbrood suspected");
    window.get_by_label("1 queen given, 23 stay in hand");
    assert!(window.query_by_label("Give all the same: H02").is_none(), "no queen is offered to it");
    window.get_by_role_and_label(Role::Button, "Give all the same: H01").click();
    window.run();
    window.get_by_label("2 queens given, 22 stay in hand");
    window.get_by_label("H02: American foulbrood suspected, no queen.");
}

#[test]
fn a_day_to_come_is_planned_and_what_follows_is_what_happens() {
    let (mut window, shared) = opened(heath().0);
    fill(&mut window, "To", "Heath yard, all except 7 and 12");
    fill(&mut window, "Day", "25/11");
    window.get_by_label("21 queens planned, 3 stay in hand");
    window.get_by_label("42 steps on Wed 25 Nov: dequeen, give");
    window.get_by_label("21 acceptance looks 2, 5, 9 Dec");
    window.get_by_label("H07, H12: by you.");
    window.get_by_label("H15: treatment in until 30 Nov.");
    assert_quiet(&mut window, &shared);
    press(&mut window, Modifiers::COMMAND, Key::Enter);
    assert!(shared.borrow().refused.is_empty(), "{:?}", shared.borrow().refused);
    let on = day("2026-11-25");
    assert_eq!(planned(&shared, WorkKind::Step(Step::Give), on), 21);
    assert_eq!(planned(&shared, WorkKind::Step(Step::Dequeen), on), 21);
}

#[test]
fn a_soft_bar_is_overruled_where_it_stands() {
    let (mut window, shared) = opened(heath().0);
    fill(&mut window, "To", "Heath yard 14-16");
    fill(&mut window, "Day", "25/11");
    window.get_by_label("2 queens planned, 22 stay in hand");
    window.get_by_role_and_label(Role::Button, "Give all the same: H15").click();
    window.run();
    window.get_by_label("3 queens planned, 21 stay in hand");
    press(&mut window, Modifiers::COMMAND, Key::Enter);
    assert!(shared.borrow().refused.is_empty());
    assert_eq!(planned(&shared, WorkKind::Step(Step::Give), day("2026-11-25")), 3);
}

#[test]
fn today_is_recorded_and_the_queens_leave_the_hand() {
    let (mut window, shared) = opened(heath().0);
    fill(&mut window, "To", "Heath yard 1-5");
    window.get_by_label("5 queens given, 19 stay in hand");
    window.get_by_label("5 acceptance looks 30 Nov, 3, 7 Dec");
    window.get_by_label("5 lid labels in the queue");
    press(&mut window, Modifiers::COMMAND, Key::Enter);
    let stage = shared.borrow();
    let given = stage.asked.iter().find_map(|action| match action {
        Action::Change(change) => match change.as_ref() {
            Change::Visits { occasion, visits, queens } => Some((occasion.clone(), visits.len(), queens.len())),
            _ => None,
        },
        _ => None,
    });
    assert_eq!(given, Some((Occasion::Introduction, 5, 5)));
    let hand = in_hand(&stage.scene.world, ParcelId::from_number(700), day(TODAY)).expect("the parcel");
    assert_eq!((hand.given, hand.left), (5, 19));
    let looks = stage.scene.outlook.colonies.values().flat_map(|view| &view.standing.work);
    assert_eq!(looks.filter(|due| due.kind == WorkKind::Look(Look::Acceptance)).count(), 5);
}

#[test]
fn forty_with_two_dead_and_six_not_found_leave_four_in_hand_and_six_steps() {
    let names: Vec<String> = (1..=40).map(|number| format!("B{number:02}")).collect();
    let (mut kit, hives) = Kit::with_hives(&names.iter().map(String::as_str).collect::<Vec<_>>());
    let farside = source(&mut kit, "Farside Queens", false);
    let here = Parcel { arrived: Some(day(TODAY)), dead: 2, ..parcel(702, farside, 40) };
    kit.apply(&Change::PutParcel(here), day(TODAY));
    let (mut window, shared) = opened(kit);
    window.get_by_label_contains("38 queens in hand.");
    fill(&mut window, "To", "Heath yard");
    fill(&mut window, "Not found", "35-40");
    window.get_by_label("34 queens given, 4 stay in hand");
    window.get_by_label("6 steps 24, 26, 30 Nov: find the old queen");
    press(&mut window, Modifiers::COMMAND, Key::Enter);
    let field = window.get_by_role_and_label(Role::TextInput, "Not found");
    assert!(!field.is_focused(), "the next undo is not the field's");
    let stage = shared.borrow();
    let hand = in_hand(&stage.scene.world, ParcelId::from_number(702), day(TODAY)).expect("the parcel");
    assert_eq!((hand.alive, hand.given, hand.left), (38, 34, 4));
    let to_find = hives.iter().filter(|hive| {
        let standing = standing(&stage.scene.world, **hive, day(TODAY)).expect("a standing");
        standing.work.iter().any(|due| due.kind == WorkKind::Step(Step::FindOldQueen))
    });
    assert_eq!(to_find.count(), 6);
}

#[test]
fn a_parcel_is_taken_in_by_keyboard_from_a_new_source() {
    let (mut window, shared) = opened(heath().0);
    press(&mut window, Modifiers::NONE, Key::A);
    type_in(&mut window, "Farside Queens");
    fill(&mut window, "How many", "40");
    fill(&mut window, "Dead", "2");
    press(&mut window, Modifiers::NONE, Key::Enter);
    window.get_by_label_contains("No source is called Farside Queens. Say whether it is a new own line");
    assert!(shared.borrow().asked.is_empty(), "a source is never made unasked");
    window.get_by_role_and_label(Role::Button, "New outside breeder").click();
    window.run();
    fill(&mut window, "Queens born", "oct 2026");
    press(&mut window, Modifiers::NONE, Key::Enter);
    let stage = shared.borrow();
    let source = stage.scene.world.sources.values().find(|source| source.name == "Farside Queens").expect("added");
    let parcel = stage.scene.world.parcels.values().find(|parcel| parcel.source == Some(source.id)).expect("taken in");
    assert_eq!((parcel.count, parcel.dead, parcel.arrived), (40, 2, Some(day(TODAY))));
    assert_eq!((parcel.born, source.own), (Birth::in_month(2026, 10), false));
    let id = parcel.id;
    drop(stage);
    // It is the one to give from, and the keyboard is in "To".
    window.run();
    type_in(&mut window, "Heath yard 1-5");
    press(&mut window, Modifiers::COMMAND, Key::Enter);
    let stage = shared.borrow();
    let hand = in_hand(&stage.scene.world, id, day(TODAY)).expect("the parcel");
    assert_eq!((hand.given, hand.left), (5, 33));
    let told = |queen: &&std::sync::Arc<lidnote::domain::queen::Queen>| queen.birth == Birth::in_month(2026, 10);
    assert_eq!(stage.scene.world.queens.values().filter(told).count(), 5, "as old as their parcel says");
}

#[test]
fn a_source_that_is_known_is_taken_from_the_list_below_the_field() {
    let (mut window, shared) = opened(heath().0);
    press(&mut window, Modifiers::NONE, Key::A);
    type_in(&mut window, "t");
    window.get_by_role_and_label(Role::Button, "Thrift, own line");
    press(&mut window, Modifiers::NONE, Key::Escape);
    assert!(
        window.query_by_role_and_label(Role::Button, "Thrift, own line").is_none(),
        "the list is closed, the form not"
    );
    press(&mut window, Modifiers::COMMAND, Key::A);
    type_in(&mut window, "b");
    press(&mut window, Modifiers::NONE, Key::ArrowDown);
    press(&mut window, Modifiers::NONE, Key::ArrowUp);
    press(&mut window, Modifiers::NONE, Key::Enter);
    window.run();
    let from = window.get_by_role_and_label(Role::TextInput, "From");
    assert_eq!(from.value().as_deref(), Some("Broom"));
    fill(&mut window, "How many", "4");
    press(&mut window, Modifiers::NONE, Key::Enter);
    let stage = shared.borrow();
    assert!(stage.refused.is_empty());
    let broom = stage.scene.world.sources.values().find(|source| source.name == "Broom").expect("known");
    assert_eq!(stage.scene.world.sources.len(), 2, "none was made");
    assert!(stage.scene.world.parcels.values().any(|it| it.count == 4 && it.source == Some(broom.id)));
}

#[test]
fn a_letter_brings_the_keyboard_to_whom_queens_are_given() {
    let (mut window, _) = opened(heath().0);
    // As the system sends it: the key and its text in one frame.
    let key =
        egui::Event::Key { key: Key::G, physical_key: None, pressed: true, repeat: false, modifiers: Modifiers::NONE };
    window.input_mut().events.extend([key, egui::Event::Text("g".to_owned())]);
    window.run();
    type_in(&mut window, "Heath yard 1-5");
    window.get_by_label("5 queens given, 19 stay in hand");
}

#[test]
fn a_wrong_number_is_said_in_the_form_and_escape_leaves_it() {
    let (mut window, shared) = opened(heath().0);
    press(&mut window, Modifiers::NONE, Key::A);
    type_in(&mut window, "Thrift");
    fill(&mut window, "How many", "4");
    fill(&mut window, "Dead", "5");
    press(&mut window, Modifiers::NONE, Key::Enter);
    window.get_by_label_contains("5 dead and 0 gone are more than the 4 sent.");
    assert!(shared.borrow().asked.is_empty());
    press(&mut window, Modifiers::NONE, Key::Escape);
    window.get_by_role_and_label(Role::TextInput, "To");
}

#[test]
fn a_late_parcel_re_dates_its_colonies_and_says_what_the_clock_says_then() {
    let (mut window, shared) = opened(heath().0);
    window.get_by_role_and_label(Role::Row, "Broom, own, 12 caged queens, due 24 Nov").click();
    window.run();
    window.get_by_role_and_label(Role::Button, "The parcel is late").click();
    window.run();
    press(&mut window, Modifiers::COMMAND, Key::A);
    type_in(&mut window, "28/11");
    window.get_by_label("AH19: 24 Nov to 28 Nov. D+15: own virgin may be out: look first.");
    window.get_by_label("AH18: 24 Nov to 28 Nov. D+8: cut cells before giving.");
    press(&mut window, Modifiers::NONE, Key::Enter);
    let stage = shared.borrow();
    assert!(stage.refused.is_empty());
    let dates: Vec<Day> = stage.scene.world.plans.values().map(|plan| plan.give_on).collect();
    assert_eq!(dates, [day("2026-11-28"), day("2026-11-28")]);
}

#[test]
fn waiting_colonies_get_theirs_from_another_parcel() {
    let (mut window, shared) = opened(heath().0);
    window.get_by_role_and_label(Role::Button, "Give these from Thrift instead").click();
    window.run();
    window.get_by_label("AH19: own virgin or laying workers likely, look first.");
    fill(&mut window, "Day", "tomorrow");
    window.get_by_label("1 queen planned, 23 stay in hand");
    press(&mut window, Modifiers::COMMAND, Key::Enter);
    let stage = shared.borrow();
    assert!(stage.refused.is_empty(), "{:?}", stage.refused);
    let open: Vec<_> = stage.scene.world.plans.values().filter(|plan| plan.called_off.is_none()).collect();
    let from_thrift = open.iter().filter(|plan| plan.parcel == Some(ParcelId::from_number(700))).count();
    assert_eq!((open.len(), from_thrift), (2, 1));
}

#[test]
fn arrived_today_and_put_away_are_one_press() {
    let (mut window, shared) = opened(heath().0);
    window.get_by_role_and_label(Role::Row, "Broom, own, 12 caged queens, due 24 Nov").click();
    window.run();
    window.get_by_role_and_label(Role::Button, "Arrived today").click();
    window.run();
    window.get_by_label_contains("36 queens in hand.");
    window.get_by_role_and_label(Role::Button, "1 died").click();
    window.run();
    window.get_by_label_contains("35 queens in hand.");
    window.get_by_role_and_label(Role::Button, "Put away").click();
    window.run();
    window.get_by_label_contains("24 queens in hand.");
    assert!(shared.borrow().refused.is_empty());
}

#[test]
fn tab_goes_on_after_enter_and_what_is_typed_takes_the_place_of_what_stood_there() {
    let (mut window, _) = opened(heath().0);
    press(&mut window, Modifiers::NONE, Key::G);
    type_in(&mut window, "Heath yard 1-5");
    press(&mut window, Modifiers::NONE, Key::Enter);
    press(&mut window, Modifiers::NONE, Key::Tab);
    window.run();
    type_in(&mut window, "25/11");
    let day = window.get_by_role_and_label(Role::TextInput, "Day");
    assert_eq!(day.value().as_deref(), Some("25/11"));
}
