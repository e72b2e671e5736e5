//! The Run: a day is planned, put in order, changed by keyboard and sent.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use lidnote::domain::change::Change;
use lidnote::ui::action::{Action, Goto};

use crate::run_stage::{Beginning, Stage, day, island, open};

const SIZE: [f32; 2] = [1440.0, 772.0];

fn order(stage: &Stage) -> Vec<String> {
    let run = stage.scene.world.runs.values().next().expect("a run that is kept");
    run.stops.iter().map(|stop| stage.scene.world.yards[&stop.yard].name.clone()).collect()
}

#[test]
fn tomorrow_is_proposed_and_says_what_it_holds() {
    let (harness, stage) = open(Stage::new(island(), day("2026-11-23")), SIZE);
    harness.get_by_label_contains("Tue 24 Nov: 7 stops, 29 looks due.");
    harness.get_by_label_contains("Order proven shortest for 7 stops.");
    harness.get_by_label_contains("straight line × 1.3 at 60 km/h");
    assert!(stage.borrow().done.is_empty(), "a proposal is no change until it is kept");
}

#[test]
fn a_quiet_screen_asks_for_nothing() {
    let (mut harness, stage) = open(Stage::new(island(), day("2026-11-23")), SIZE);
    stage.borrow_mut().asked.clear();
    for _ in 0..10 {
        harness.step();
    }
    assert_eq!(stage.borrow().asked, []);
}

#[test]
fn a_stop_is_moved_by_keyboard_and_undone() {
    let (mut harness, stage) = open(Stage::new(island(), day("2026-11-23")), SIZE);
    harness.key_press(Key::K);
    harness.run();
    let before = order(&stage.borrow());
    for _ in 0..3 {
        harness.key_press(Key::ArrowDown);
        harness.run();
    }
    harness.key_press_modifiers(Modifiers::ALT, Key::ArrowUp);
    harness.run();
    let after = order(&stage.borrow());
    assert_eq!((&after[1], &after[2]), (&before[2], &before[1]));
    let title = stage.borrow().done.last().expect("a change").0.clone();
    assert_eq!(title, format!("{} moved before {}", before[2], before[1]));
    harness.get_by_label_contains("Order as it was set, not proven shortest.");
    stage.borrow_mut().out.push(Action::Undo);
    harness.run();
    assert_eq!(order(&stage.borrow()), before);
}

#[test]
fn a_stop_is_locked_left_out_and_put_back() {
    let (mut harness, stage) = open(Stage::new(island(), day("2026-11-23")), SIZE);
    harness.key_press(Key::ArrowDown);
    harness.run();
    harness.key_press(Key::L);
    harness.run();
    let first = order(&stage.borrow())[0].clone();
    harness.get_by_label_contains("locked");
    harness.key_press(Key::X);
    harness.run();
    assert!(!order(&stage.borrow()).contains(&first));
    harness.get_by_label(&format!("Put {first} back")).click();
    harness.run();
    assert_eq!(order(&stage.borrow()).last(), Some(&first));
}

#[test]
fn any_yard_is_added_by_name() {
    let (mut harness, stage) = open(Stage::new(island(), day("2026-11-23")), SIZE);
    harness.key_press(Key::A);
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, "Yard").type_text("far");
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    assert_eq!(order(&stage.borrow()).last().map(String::as_str), Some("Far Head"));
    harness.key_press(Key::Escape);
    harness.run();
    harness.get_by_label("Load");
}

#[test]
fn hour_base_and_minutes_are_committed_with_enter() {
    let (mut harness, stage) = open(Stage::new(island(), day("2026-11-23")), SIZE);
    for (field, typed) in [("Leave", "8:15"), ("From", "mill"), ("Minutes a look", "9")] {
        harness.get_by_role_and_label(Role::TextInput, field).focus();
        harness.run();
        harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
        harness.run();
        harness.get_by_role_and_label(Role::TextInput, field).type_text(typed);
        harness.run();
        harness.key_press(Key::Enter);
        harness.run();
    }
    let stage = stage.borrow();
    let run = stage.scene.world.runs.values().next().expect("kept by its first change");
    assert_eq!((run.leave, run.base.name.as_str()), (8 * 60 + 15, "Mill Race"));
    assert_eq!(stage.scene.world.settings.minutes_look(), 9);
}

#[test]
fn what_was_mistyped_is_said_with_the_way_out() {
    let (mut harness, stage) = open(Stage::new(island(), day("2026-11-23")), SIZE);
    harness.get_by_role_and_label(Role::TextInput, "Leave").focus();
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, "Leave").type_text("xx");
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    harness.get_by_label_contains("is no time of day. Type it as 7:30.");
    assert!(stage.borrow().done.is_empty());
}

#[test]
fn sheet_labels_route_and_dates_are_asked_for() {
    let (mut harness, stage) = open(Stage::new(island(), day("2026-11-23")), SIZE);
    harness.key_press_modifiers(Modifiers::COMMAND, Key::P);
    harness.run();
    harness.get_by_label("Print 29 labels").click();
    harness.run();
    harness.get_by_label("Send route or dates").click();
    harness.run();
    harness.get_by_role_and_label(Role::MenuItem, "GPX route").click();
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, "File").type_text("/tmp/run.gpx");
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    let stage = stage.borrow();
    let asked = |wanted: fn(&Action) -> bool| stage.asked.iter().any(wanted);
    assert!(asked(|it| matches!(it, Action::PrintRunSheet { run, .. } if run.stops.len() == 7)));
    assert!(asked(|it| matches!(it, Action::PrintLabels { colonies, .. } if colonies.len() == 29)));
    assert!(asked(|it| matches!(it, Action::ExportRoute { path, .. } if path == "/tmp/run.gpx")));
}

#[test]
fn an_empty_day_offers_the_next_one_with_work() {
    let (mut harness, stage) = open(Stage::new(Beginning::default(), day("2026-11-23")), SIZE);
    harness.get_by_label("No yard has a place yet.");
    let mut begin = Beginning::default();
    begin.home("Shed", -40.1, 159.8);
    let source = begin.source("Thrift");
    let yard = begin.yard("Heath yard", -40.0, 160.0);
    let hives = begin.hives(yard, "H", 3);
    begin.visits(&hives, "+q", source, day("2026-11-20"));
    *stage.borrow_mut() = Stage::new(begin, day("2026-11-23"));
    harness.run();
    harness.get_by_label("Nothing is due on Tue 24 Nov.");
    harness.get_by_label("Plan Mon 30 Nov").click();
    harness.run();
    harness.get_by_label_contains("Mon 30 Nov: 1 stop, 3 looks due.");
}

#[test]
fn a_second_vehicle_takes_what_the_first_leaves() {
    let (mut harness, stage) = open(Stage::new(island(), day("2026-11-23")), SIZE);
    harness.key_press(Key::ArrowDown);
    harness.run();
    harness.key_press(Key::X);
    harness.run();
    harness.get_by_label("Vehicle: Run 1").click();
    harness.run();
    harness.get_by_role_and_label(Role::MenuItem, "Another vehicle").click();
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, "Vehicle").type_text("South truck");
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    harness.get_by_label_contains("Tue 24 Nov, South truck: 1 stop");
    assert_eq!(stage.borrow().scene.world.runs.len(), 2);
    let removed = stage
        .borrow()
        .asked
        .iter()
        .any(|it| matches!(it, Action::Change(change) if matches!(**change, Change::RemoveRun(_))));
    assert!(!removed);
}

#[test]
fn a_stop_is_dragged_by_its_grip() {
    let (mut harness, stage) = open(Stage::new(island(), day("2026-11-23")), SIZE);
    harness.key_press(Key::K);
    harness.run();
    let before = order(&stage.borrow());
    let grip = |harness: &egui_kittest::Harness<'_, _>, name: &str| {
        harness.get_by_label(&format!("Drag {name}")).rect().center()
    };
    let from = grip(&harness, &before[0]);
    let to = grip(&harness, &before[2]) + egui::vec2(0.0, 20.0);
    harness.hover_at(from);
    harness.step();
    harness.drag_at(from);
    harness.step();
    for share in [0.3_f32, 0.6, 1.0] {
        harness.hover_at(from + (to - from) * share);
        harness.step();
    }
    harness.drop_at(to);
    harness.run();
    let after = order(&stage.borrow());
    assert_eq!(after[..3], [before[1].clone(), before[2].clone(), before[0].clone()]);
}

#[test]
fn the_run_of_another_day_is_shown_on_request() {
    let (mut harness, stage) = open(Stage::new(island(), day("2026-11-23")), SIZE);
    stage.borrow_mut().goto = Some(Goto::RunOf(day("2026-12-01")));
    harness.run();
    harness.run();
    harness.get_by_label_contains("Tue 1 Dec: 8 stops");
    let field = harness.get_by_role_and_label(Role::TextInput, "Day");
    assert_eq!(field.accesskit_node().value().as_deref(), Some("Tue 1 Dec"));
}
