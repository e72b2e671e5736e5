//! The Map: yards are chosen, opened, added and barred, hives chosen in words and dealt with at once, all by keyboard.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use lidnote::domain::bar::{Bar, BarKind, BarOn};
use lidnote::domain::change::Change;
use lidnote::domain::ids::{BarId, ParcelId, SourceId};
use lidnote::domain::in_hand::left_in_hand;
use lidnote::domain::parcel::{Parcel, ParcelKind};
use lidnote::domain::queen::{Birth, Source};
use lidnote::domain::world::World;
use lidnote::domain::yard::Layout;
use lidnote::ui::action::{Action, Goto};

use crate::kit::Kit;
use crate::map_stage::open;
use crate::run_stage::{Beginning, Stage, day, island};

const SIZE: [f32; 2] = [1440.0, 822.0];
const SMALL: [f32; 2] = [1024.0, 622.0];

fn stage() -> Stage {
    Stage::new(island(), day("2026-11-23"))
}

fn yard_named<'w>(world: &'w World, name: &str) -> &'w lidnote::domain::yard::Yard {
    world.yards.values().find(|yard| yard.name == name).expect("a yard of that name")
}

#[test]
fn tomorrow_is_said_first_and_yards_are_listed_most_urgent_first() {
    let (harness, _) = open(stage(), SIZE);
    harness.get_by_label_contains("Tomorrow, Tue 24 Nov:");
    harness.get_by_label("Hides 0 of 8 yards.");
    harness.get_by_role_and_label(Role::Table, "Yards, most urgent first");
    let rows: Vec<String> =
        harness.query_all_by_role(Role::Row).filter_map(|row| row.accesskit_node().label()).collect();
    assert_eq!(rows.len(), 8);
    assert!(rows[0].contains("late"), "{rows:?}");
    assert!(rows.last().is_some_and(|row| row.starts_with("Far Head")), "nothing due there: {rows:?}");
}

#[test]
fn a_quiet_map_asks_for_nothing() {
    for size in [SIZE, SMALL] {
        let (mut harness, stage) = open(stage(), size);
        harness.key_press(Key::ArrowDown);
        harness.run();
        for _ in 0..10 {
            harness.step();
        }
        assert_eq!(stage.borrow().asked, []);
        harness.key_press(Key::Enter);
        harness.run();
        harness.key_press(Key::Enter);
        harness.run();
        for _ in 0..10 {
            harness.step();
        }
        assert_eq!(stage.borrow().asked, []);
    }
}

#[test]
fn a_yard_is_opened_and_a_hive_reached_by_arrows_and_left_by_escape() {
    let (mut harness, _) = open(stage(), SIZE);
    harness.get_by_role_and_label(Role::Table, "Yards, most urgent first");
    let row = harness
        .get_all_by_role(Role::Row)
        .find(|row| row.accesskit_node().label().is_some_and(|label| label.starts_with("Broom Flat")));
    row.expect("the row").click();
    harness.run();
    harness.get_by_label("9 hives, 9 looks due");
    harness.key_press(Key::Enter);
    harness.run();
    harness.get_by_label_contains("Broom Flat: 9 hives");
    for key in [Key::ArrowRight, Key::ArrowRight, Key::ArrowRight, Key::ArrowLeft, Key::Enter] {
        harness.key_press(key);
        harness.run();
    }
    let hive = harness.get_by_label_contains("B02, first season, acceptance look due");
    assert_eq!(hive.accesskit_node().is_selected(), Some(true));
    harness.get_by_role_and_label(Role::Button, "Record find");
    harness.key_press(Key::Escape);
    harness.run();
    assert!(harness.query_by_role_and_label(Role::Button, "Record find").is_none(), "the card is closed");
    harness.key_press(Key::Escape);
    harness.run();
    harness.get_by_label_contains("Tomorrow, Tue 24 Nov:");
}

#[test]
fn a_search_flies_to_a_hive() {
    let (mut harness, stage) = open(stage(), SIZE);
    let hive = {
        let world = &stage.borrow().scene.world;
        world.living().find(|colony| colony.name() == "GC03").expect("a hive").id
    };
    stage.borrow_mut().map.go(&Goto::Hive(hive));
    harness.run();
    harness.get_by_label_contains("Gorse Cutting: 5 hives");
    harness.get_by_role_and_label(Role::Button, "Record find");
    let yard = yard_named(&stage.borrow().scene.world, "Far Head").id;
    stage.borrow_mut().map.go(&Goto::Yard(yard));
    harness.run();
    harness.get_by_label("4 hives, nothing due");
}

#[test]
fn a_yard_is_added_edited_and_removed_by_keyboard() {
    let (mut harness, stage) = open(stage(), SIZE);
    harness.key_press(Key::A);
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, "Name").type_text("Heath yard");
    harness.run();
    type_in(&mut harness, "Place", "-40.0123, 160.0456");
    harness.key_press(Key::Enter);
    harness.run();
    {
        let stage = stage.borrow();
        assert_eq!(stage.refused, Vec::<String>::new());
        let place = yard_named(&stage.scene.world, "Heath yard").place.expect("a place");
        assert!((place.lat() + 40.0123).abs() < 1e-9 && (place.lon() - 160.0456).abs() < 1e-9);
    }
    // It is the chosen one now: its details are edited with E.
    harness.key_press(Key::E);
    harness.run();
    harness.get_by_label("Pallets of four").click();
    harness.run();
    harness.get_by_role_and_label(Role::Button, "Save yard").click();
    harness.run();
    assert_eq!(yard_named(&stage.borrow().scene.world, "Heath yard").layout, Layout::Pallets);
    harness.get_by_label("More about this yard").click();
    harness.run();
    harness.get_by_role_and_label(Role::MenuItem, "Remove yard").click();
    harness.run();
    assert!(stage.borrow().scene.world.yards.values().all(|yard| yard.name != "Heath yard"));
}

#[test]
fn a_name_that_is_taken_is_refused_in_the_form() {
    let (mut harness, stage) = open(stage(), SIZE);
    harness.key_press(Key::A);
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, "Name").type_text("broom flat");
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    harness.get_by_label_contains("A yard is called Broom Flat already");
    assert_eq!(stage.borrow().asked, []);
    harness.key_press(Key::Escape);
    harness.run();
    assert!(harness.query_by_role_and_label(Role::TextInput, "Name").is_none());
}

#[test]
fn the_first_yard_is_clicked_onto_an_empty_map() {
    let (mut harness, stage) = open(Stage::new(Beginning::default(), day("2026-11-23")), SIZE);
    harness.get_by_label_contains("No yard yet.");
    let map = harness.get_by_role_and_label(Role::Canvas, "Map").rect();
    harness.hover_at(map.center());
    harness.run();
    harness.drag_at(map.center());
    harness.step();
    harness.drop_at(map.center());
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, "Name").type_text("Home");
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    assert!(yard_named(&stage.borrow().scene.world, "Home").place.is_some());
}

#[test]
fn home_is_shown_on_the_map() {
    let mut begin = Beginning::default();
    begin.home("Shed", -40.1, 159.8);
    let (harness, _) = open(Stage::new(begin, day("2026-11-23")), SIZE);
    harness.get_by_role_and_label(Role::Image, "Shed, where runs begin");
}

#[test]
fn a_screen_reader_follows_the_bare_arrows_and_hears_the_screen() {
    let (mut harness, _) = open(stage(), SIZE);
    let followed = |harness: &egui_kittest::Harness<'static, _>| {
        let root = harness.root().accesskit_node();
        root.active_descendant().and_then(|row| row.label())
    };
    assert_eq!(followed(&harness), None);
    harness.key_press(Key::ArrowDown);
    harness.run();
    let row = followed(&harness).expect("a row of the list");
    assert!(row.contains(" hives"), "{row}");
    harness.key_press(Key::ArrowRight);
    harness.run();
    let day = followed(&harness).expect("a day of the strip");
    assert!(day.contains("Nov, "), "{day}");
    let live = |node: egui_kittest::Node<'_>| node.accesskit_node().live();
    let said = harness.get_all_by_label_contains("Nov: ").map(live).collect::<Vec<_>>();
    assert!(said.contains(&egui::accesskit::Live::Polite), "{said:?}");
}

#[test]
fn a_span_of_days_says_what_it_catches() {
    let (mut harness, _) = open(stage(), SIZE);
    harness.key_press_modifiers(Modifiers::SHIFT, Key::ArrowRight);
    harness.run();
    harness.key_press_modifiers(Modifiers::SHIFT, Key::ArrowRight);
    harness.run();
    harness.get_by_label_contains("24 to 26 Nov catches");
    harness.key_press(Key::Escape);
    harness.run();
    harness.get_by_label_contains("Tomorrow, Tue 24 Nov:");
    harness.get_by_label("Put the chosen day off").click();
    harness.run();
    harness.get_by_label_contains("Putting Tue 24 Nov off");
    harness.get_by_label("To Tue 1 Dec");
    assert!(harness.query_all_by_label_contains("latest 28 Nov").count() > 0);
}

#[test]
fn filters_say_what_they_hide() {
    let (mut harness, _) = open(stage(), SIZE);
    harness.get_by_label("Lid: Any").click();
    harness.run();
    harness.get_by_role_and_label(Role::MenuItem, "Late").click();
    harness.run();
    let hides = harness.get_by_label_contains("of 8 yards.").accesskit_node().label().unwrap_or_default();
    assert_ne!(hides, "Hides 0 of 8 yards.");
    harness.get_by_label("Show all").click();
    harness.run();
    harness.get_by_label("Hides 0 of 8 yards.");
}

/// Types into the field of that name.
pub(crate) fn type_in(harness: &mut egui_kittest::Harness<'static, impl eframe::App>, field: &str, words: &str) {
    harness.get_by_role_and_label(Role::TextInput, field).focus();
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, field).type_text(words);
    harness.run();
}

/// Broom Flat near, all hives except 2 and 5 chosen in words.
pub(crate) fn seven_chosen() -> (egui_kittest::Harness<'static, impl eframe::App>, crate::map_stage::Shared) {
    let (mut harness, stage) = open(stage(), SIZE);
    let hive = {
        let world = &stage.borrow().scene.world;
        world.living().find(|colony| colony.name() == "B01").expect("a hive").id
    };
    stage.borrow_mut().map.go(&Goto::Hive(hive));
    harness.run();
    harness.key_press(Key::Escape);
    harness.run();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
    harness.run();
    type_in(&mut harness, "Which hives", "all except 2 and 5");
    harness.get_by_label("7 of 9 hives chosen");
    harness.get_by_label("Broom Flat, all except 2 and 5");
    harness.key_press(Key::Enter);
    harness.run();
    (harness, stage)
}

#[test]
fn enter_on_cancel_leaves_the_form_and_what_is_chosen_stays() {
    let (mut harness, _) = seven_chosen();
    harness.key_press(Key::I);
    harness.run();
    harness.get_by_role_and_label(Role::Button, "Cancel").focus();
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    harness.get_by_label("7 of 9 hives chosen");
}

/// As the system sends it: the key and its text in one frame, and a frame a letter.
fn key_in(harness: &mut egui_kittest::Harness<'static, impl eframe::App>, words: &str) {
    for letter in words.chars() {
        harness.input_mut().events.push(egui::Event::Text(letter.to_string()));
        harness.run();
    }
}

#[test]
fn hives_are_named_letter_by_letter_and_several_are_planned_for_moved_and_called_off() {
    let (kit, hives) = Kit::with_hives(&["B01", "B02", "B03", "B04"]);
    let (hive, all) = (hives[0], hives.len());
    let (mut harness, stage) = open(Stage::new(Beginning { world: kit.world, next: 5000 }, day("2026-11-23")), SIZE);
    stage.borrow_mut().map.go(&Goto::Hive(hive));
    harness.run();
    harness.key_press(Key::Escape);
    harness.run();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
    harness.run();
    harness.key_press(Key::W);
    harness.run();
    key_in(&mut harness, "all except 2");
    harness.get_by_label(&format!("{} of {all} hives chosen", all - 1));
    harness.key_press(Key::Escape);
    harness.run();
    harness.get_by_label(&format!("{} of {all} hives chosen", all - 1));
    assert!(harness.query_by_label_contains("Call off plans").is_none(), "nothing is planned yet");
    let open = |stage: &Stage| {
        let plans = stage.scene.world.plans.values();
        plans.filter(|plan| plan.called_off.is_none()).map(|plan| plan.give_on.short()).collect::<Vec<_>>()
    };
    harness.key_press(Key::I);
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, "Day").focus();
    harness.run();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
    harness.run();
    key_in(&mut harness, "+2");
    harness.key_press(Key::Enter);
    harness.run();
    let planned = open(&stage.borrow());
    assert_eq!(planned.len(), all - 1, "{planned:?}");
    harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
    harness.run();
    harness.key_press(Key::I);
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, "Day").focus();
    harness.run();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
    harness.run();
    key_in(&mut harness, "+3");
    harness.get_by_label_contains(&format!("{} have a plan already: it is moved to that day.", planned.len()));
    harness.key_press(Key::Enter);
    harness.run();
    let moved = open(&stage.borrow());
    assert!(moved.iter().all(|day| *day == stage.borrow().scene.today.plus(3).short()), "{moved:?}");
    harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
    harness.run();
    harness.key_press(Key::C);
    harness.run();
    harness.get_by_label_contains("Their steps to dequeen and to give go.");
    harness.key_press(Key::Enter);
    harness.run();
    assert!(open(&stage.borrow()).is_empty() && stage.borrow().refused.is_empty());
    stage.borrow_mut().out.push(Action::Undo);
    harness.run();
    assert_eq!(open(&stage.borrow()), moved);
}

#[test]
fn queens_given_by_one_find_at_several_come_out_of_what_is_in_hand_the_oldest_first() {
    let (mut kit, hives) = Kit::with_hives(&["B01", "B02", "B03", "B04"]);
    for (number, name, count, arrived) in [(1, "Thrift", 2, "2026-11-12"), (2, "Farside", 5, "2026-11-14")] {
        let source = Source { id: SourceId::from_number(number), name: name.to_owned(), own: false };
        kit.apply(&Change::PutSource(source), day("2026-11-01"));
        let parcel = Parcel {
            id: ParcelId::from_number(number),
            source: Some(SourceId::from_number(number)),
            kind: ParcelKind::CagedQueens,
            count,
            dead: 0,
            gone: 0,
            sent: None,
            due: None,
            promised: None,
            arrived: Some(day(arrived)),
            grafted: None,
            born: Birth::in_month(2026, 9),
            dot: None,
            closed: false,
            note: String::new(),
        };
        kit.apply(&Change::PutParcel(parcel), day("2026-11-20"));
    }
    let (mut harness, stage) = open(Stage::new(Beginning { world: kit.world, next: 5000 }, day("2026-11-23")), SIZE);
    stage.borrow_mut().map.go(&Goto::Hive(hives[0]));
    harness.run();
    harness.key_press(Key::Escape);
    harness.run();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    type_in(&mut harness, "Find", "/q +q");
    let said = "2 out of Thrift of 12 Nov, none stays in hand; 2 out of Farside of 14 Nov, 3 stay in hand.";
    harness.get_by_label_contains(said);
    harness.get_by_role_and_label(Role::Button, "as planned, else the oldest");
    harness.key_press(Key::Enter);
    harness.run();
    let stage = stage.borrow();
    assert!(stage.refused.is_empty());
    let left = left_in_hand(&stage.scene.world);
    assert_eq!(left.values().copied().collect::<Vec<_>>(), [0, 3]);
    let told = stage.scene.world.queens.values().filter(|queen| queen.birth == Birth::in_month(2026, 9));
    assert_eq!(told.count(), 4, "each as old as her parcel says");
}

#[test]
fn several_are_ended_in_one_change_that_one_undo_takes_back() {
    let (mut harness, stage) = seven_chosen();
    harness.key_press(Key::X);
    harness.run();
    harness.get_by_label("End 7 hives");
    harness.get_by_label("Died").click();
    harness.run();
    harness.get_by_role_and_label(Role::Button, "End 7").click();
    harness.run();
    let yard = yard_named(&stage.borrow().scene.world, "Broom Flat").id;
    assert_eq!(stage.borrow().scene.world.in_yard(yard).len(), 2);
    assert_eq!(stage.borrow().done.len(), 1);
    stage.borrow_mut().out.push(Action::Undo);
    harness.run();
    assert_eq!(stage.borrow().scene.world.in_yard(yard).len(), 9);
}

#[test]
fn several_are_renamed_moved_and_barred() {
    let (mut harness, stage) = seven_chosen();
    harness.key_press(Key::N);
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, "Letters").type_text("Z");
    harness.run();
    harness.get_by_label_contains("B01 becomes Z01, B09 becomes Z07.");
    harness.get_by_role_and_label(Role::Button, "Rename 7").click();
    harness.run();
    let names = |stage: &Stage| {
        let yard = yard_named(&stage.scene.world, "Broom Flat").id;
        stage.scene.world.in_yard(yard).iter().map(|it| it.name().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(names(&stage.borrow()).iter().filter(|name| name.starts_with('Z')).count(), 7);
    harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
    harness.run();
    harness.key_press(Key::B);
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, "Reason").type_text("strips in");
    harness.run();
    harness.get_by_role_and_label(Role::Button, "Bar 9").click();
    harness.run();
    assert_eq!(stage.borrow().scene.world.bars.len(), 9);
    assert_eq!(stage.borrow().refused, Vec::<String>::new());
    harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
    harness.run();
    harness.key_press(Key::V);
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, "To yard").type_text("lime");
    harness.run();
    harness.get_by_label_contains("To Limekiln, row 2.");
    harness.get_by_role_and_label(Role::Button, "Move 9").click();
    harness.run();
    let yard = yard_named(&stage.borrow().scene.world, "Limekiln").id;
    assert_eq!(stage.borrow().scene.world.in_yard(yard).len(), 12);
}

#[test]
fn queens_are_given_and_planned_with_the_barred_left_out() {
    let (mut harness, stage) = seven_chosen();
    harness.key_press(Key::I);
    harness.run();
    harness.get_by_label("Give queens to 7 hives");
    harness.get_by_role_and_label(Role::Button, "Give 7").click();
    harness.run();
    let changes = stage.borrow().asked.clone();
    let Some(Action::Change(change)) = changes.last() else { panic!("{changes:?}") };
    let Change::Visits { visits, queens, .. } = change.as_ref() else { panic!("{change:?}") };
    assert_eq!((visits.len(), queens.len()), (7, 7));
    assert_eq!(stage.borrow().refused, Vec::<String>::new());
}

#[test]
fn a_find_is_recorded_at_several() {
    let (mut harness, stage) = seven_chosen();
    harness.key_press(Key::Enter);
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, "Find").type_text("eq");
    harness.run();
    harness.get_by_role_and_label(Role::Button, "Record 7").click();
    harness.run();
    assert_eq!(stage.borrow().refused, Vec::<String>::new());
    let yard = yard_named(&stage.borrow().scene.world, "Broom Flat").id;
    assert_eq!(stage.borrow().scene.outlook.yards[&yard].open(), 2, "seven of nine are accepted");
}

#[test]
fn hives_are_added_in_words() {
    let (mut harness, stage) = open(stage(), SIZE);
    let yard = yard_named(&stage.borrow().scene.world, "Far Head").id;
    stage.borrow_mut().map.go(&Goto::Yard(yard));
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    harness.key_press(Key::A);
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, "How many").type_text("40 hives in 4 rows");
    harness.run();
    harness.get_by_label_contains("40 hives in 4 rows, FH");
    harness.key_press(Key::Enter);
    harness.run();
    assert_eq!(stage.borrow().refused, Vec::<String>::new());
    assert_eq!(stage.borrow().scene.world.in_yard(yard).len(), 44);
}

#[test]
fn a_yard_is_put_under_quarantine_and_the_bar_lifted() {
    let (mut harness, stage) = open(stage(), SIZE);
    let yard = yard_named(&stage.borrow().scene.world, "Windbreak").id;
    stage.borrow_mut().map.go(&Goto::Yard(yard));
    harness.run();
    harness.get_by_label("More about this yard").click();
    harness.run();
    harness.get_by_role_and_label(Role::MenuItem, "Bar this yard").click();
    harness.run();
    type_in(&mut harness, "Permit", "P 77");
    harness.get_by_role_and_label(Role::Button, "Set the bar").click();
    harness.run();
    {
        let stage = stage.borrow();
        let bar = stage.scene.world.bars.values().next().expect("a bar");
        assert_eq!((bar.on, bar.permit.as_deref()), (BarOn::Yard(yard), Some("P 77")));
    }
    harness.get_by_label("More about this yard").click();
    harness.run();
    harness.get_by_role_and_label(Role::MenuItem, "Bars of this yard").click();
    harness.run();
    harness.get_by_role_and_label(Role::Button, "Lift this bar").click();
    harness.run();
    type_in(&mut harness, "Why lifted", "cleared by the inspector");
    harness.get_by_role_and_label(Role::Button, "Lift it from today").click();
    harness.run();
    assert!(stage.borrow().scene.world.bars.values().all(|bar| bar.lifted.is_some()));
}

#[test]
fn a_bar_of_a_yard_that_begins_later_stands_on_its_card_and_is_called_off() {
    let (mut harness, stage) = open(stage(), SIZE);
    let yard = yard_named(&stage.borrow().scene.world, "Windbreak").id;
    let bar = Bar {
        id: BarId::from_number(7),
        on: BarOn::Yard(yard),
        kind: BarKind::Quarantine,
        from: day("2026-11-30"),
        until: None,
        reason: String::new(),
        by: "MK".to_owned(),
        permit: None,
        lifted: None,
    };
    stage.borrow_mut().out.change(Change::PutBar(bar));
    harness.run();
    stage.borrow_mut().map.go(&Goto::Yard(yard));
    harness.run();
    harness.get_by_label("Barred from 30 Nov: quarantine.");
    harness.get_by_label("More about this yard").click();
    harness.run();
    harness.get_by_role_and_label(Role::MenuItem, "Bars of this yard").click();
    harness.run();
    harness.get_by_label("Quarantine from 30 Nov");
    harness.get_by_role_and_label(Role::Button, "Call this bar off").click();
    harness.run();
    type_in(&mut harness, "Why called off", "order withdrawn");
    harness.get_by_role_and_label(Role::Button, "Call it off").click();
    harness.run();
    assert_eq!(stage.borrow().refused, Vec::<String>::new());
    assert!(harness.query_by_label("Barred from 30 Nov: quarantine.").is_none());
}

#[test]
fn the_narrow_map_keeps_everything_within_reach() {
    let (mut harness, _) = open(stage(), SMALL);
    harness.get_by_label_contains("Tomorrow:");
    harness.key_press(Key::ArrowDown);
    harness.run();
    harness.get_by_role_and_label(Role::Button, "Open yard");
    harness.get_by_role_and_label(Role::Button, "Legend");
    harness.key_press(Key::G);
    harness.run();
    harness.get_by_label("Lid: due work");
}
