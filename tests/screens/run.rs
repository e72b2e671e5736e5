//! The Run: a day is planned, put in order, changed by keyboard and sent.

use std::sync::Arc;

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use lidnote::domain::change::Change;
use lidnote::domain::run_order::RunOrder;
use lidnote::domain::yard::Gate;
use lidnote::ui::action::{Action, Goto, Wanted};
use lidnote::ui::scene::{Contents, FileWritten};

use crate::run_stage::{Beginning, Stage, day, island, open, planned};

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

/// The newest question about a run.
fn question(stage: &Stage) -> (u64, RunOrder, Wanted) {
    let newest = stage.asked.iter().rev().find_map(|action| match action {
        Action::Plan { asked, run, wanted } => Some((*asked, run.as_ref().clone(), *wanted)),
        _ => None,
    });
    newest.expect("a question")
}

fn answer(stage: &mut Stage, (asked, run, wanted): (u64, RunOrder, Wanted)) {
    let event = planned(&stage.scene, asked, &run, wanted);
    stage.run.take(&event);
}

#[test]
fn a_plan_that_takes_long_is_spoken_of_and_can_be_stopped() {
    let slow = Stage { slow: true, ..Stage::new(island(), day("2026-11-23")) };
    let (mut harness, stage) = open(slow, SIZE);
    assert!(harness.query_by_label("Stops").is_none(), "nothing is shown in an order that nobody proposed");
    harness.run_steps(4);
    harness.get_by_label("Proposing the order of 7 stops…");
    harness.key_press(Key::D);
    harness.run_steps(3);
    assert!(harness.get_by_role_and_label(Role::TextInput, "Day").is_focused(), "another day can be chosen meanwhile");
    harness.key_press(Key::Escape);
    harness.run_steps(3);
    harness.get_by_label("Proposing the order of 7 stops…");
    harness.key_press(Key::Escape);
    harness.run_steps(3);
    assert_eq!(stage.borrow().asked.last(), Some(&Action::StopPlanning));
    harness.get_by_label_contains("The stops are in no order yet: P proposes one.");
    harness.get_by_label_contains("Tue 24 Nov: 7 stops, 29 looks due.");
    harness.key_press(Key::P);
    harness.run_steps(4);
    harness.get_by_label_contains("Proposing the order of 7 stops…");
    let asked = question(&stage.borrow());
    assert_eq!(asked.2, Wanted::Order);
    answer(&mut stage.borrow_mut(), asked);
    harness.run_steps(3);
    harness.get_by_label_contains("Order proven shortest for 7 stops.");
    assert!(stage.borrow().done.is_empty(), "a proposal is no change until it is kept");
}

#[test]
fn the_run_before_stays_until_the_next_one_is_planned() {
    let (mut harness, stage) = open(Stage::new(island(), day("2026-11-23")), SIZE);
    stage.borrow_mut().slow = true;
    stage.borrow_mut().goto = Some(Goto::RunOf(day("2026-11-25")));
    harness.run_steps(2);
    let wednesday = question(&stage.borrow());
    assert_eq!(wednesday.1.day, day("2026-11-25"));
    harness.get_by_label_contains("Tue 24 Nov: 7 stops, 29 looks due.");
    stage.borrow_mut().goto = Some(Goto::RunOf(day("2026-11-26")));
    harness.run_steps(2);
    assert_eq!(question(&stage.borrow()).1.day, day("2026-11-26"));
    // The answer for a day that is not shown any more is passed over.
    answer(&mut stage.borrow_mut(), wednesday);
    harness.run_steps(3);
    assert!(harness.query_by_label_contains("Wed 25 Nov: ").is_none());
    let thursday = question(&stage.borrow());
    answer(&mut stage.borrow_mut(), thursday);
    harness.run_steps(3);
    harness.get_by_label_contains("Thu 26 Nov: ");
}

#[test]
fn an_answer_for_an_older_world_is_asked_for_again() {
    let (mut harness, stage) = open(Stage::new(island(), day("2026-11-23")), SIZE);
    stage.borrow_mut().slow = true;
    harness.key_press(Key::P);
    harness.run_steps(2);
    let older = question(&stage.borrow());
    let change = Change::SetSetting { name: "speed".to_owned(), value: 30.0 };
    stage.borrow_mut().out.change(change);
    harness.run_steps(2);
    answer(&mut stage.borrow_mut(), older.clone());
    harness.run_steps(2);
    let newer = question(&stage.borrow());
    assert_ne!(newer.0, older.0);
    answer(&mut stage.borrow_mut(), newer);
    harness.run_steps(3);
    harness.get_by_label_contains("at 30 km/h");
    harness.get_by_label_contains("Order proven shortest for 7 stops.");
}

#[test]
fn a_yard_put_back_on_a_run_that_is_not_kept_does_not_keep_it() {
    let mut begin = island();
    begin.apply(&Change::SetSetting { name: "day_minutes".to_owned(), value: 300.0 }, day("2026-11-23"));
    let (mut harness, stage) = open(Stage::new(begin, day("2026-11-23")), SIZE);
    let before = harness.query_all_by_label_contains("Stop ").count();
    let put =
        harness.query_all_by(|node| node.label().is_some_and(|it| it.starts_with("Put "))).next().expect("left out");
    let name = put.accesskit_node().label().expect("a name");
    put.click();
    harness.run();
    assert!(harness.query_by_label(&name).is_none(), "it is on the run");
    assert_eq!(harness.query_all_by_label_contains("Stop ").count(), before + 1);
    assert!(stage.borrow().done.is_empty(), "nothing was recorded");
    // A change elsewhere does not lay the draft out anew.
    stage.borrow_mut().out.change(Change::SetSetting { name: "minutes_look".to_owned(), value: 7.0 });
    harness.run();
    assert!(harness.query_by_label(&name).is_none());
    harness.key_press(Key::K);
    harness.run();
    assert!(stage.borrow().done.last().expect("kept").0.starts_with("Run of Tue 24 Nov kept, "));
}

#[test]
fn letters_bring_the_keyboard_to_day_base_and_hour() {
    let (mut harness, stage) = open(Stage::new(island(), day("2026-11-23")), SIZE);
    for (key, typed) in [(Key::F, "mill"), (Key::T, "8:15")] {
        harness.key_press(key);
        harness.run();
        harness.event(egui::Event::Text(typed.to_owned()));
        harness.run();
        harness.key_press(Key::Enter);
        harness.run();
    }
    {
        let stage = stage.borrow();
        let run = stage.scene.world.runs.values().next().expect("kept by its first change");
        assert_eq!((run.leave, run.base.name.as_str()), (8 * 60 + 15, "Mill Race"));
    }
    harness.key_press(Key::D);
    harness.run();
    assert!(harness.get_by_role_and_label(Role::TextInput, "Day").is_focused());
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
    for key in [Key::S, Key::ArrowDown, Key::ArrowDown, Key::Enter, Key::Enter, Key::B] {
        harness.key_press(key);
        harness.run();
    }
    let stage = stage.borrow();
    let asked = |wanted: fn(&Action) -> bool| stage.asked.iter().any(wanted);
    assert!(asked(|it| matches!(it, Action::PrintRunSheet { run, .. } if run.stops.len() == 7)));
    assert!(asked(|it| matches!(it, Action::PrintLabels { colonies, .. } if colonies.len() == 29)));
    assert!(asked(|it| matches!(it, Action::ExportRoute { path, .. } if path == "/tmp/run.gpx")));
    assert!(asked(|it| matches!(it, Action::ExportStops { path, .. } if path.is_empty())));
    assert_eq!(stage.asked.iter().filter(|it| matches!(it, Action::PrintLabels { .. })).count(), 2);
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

#[test]
fn a_run_of_chosen_yards_holds_these_alone_and_its_last_stop_can_be_put_back() {
    let (mut harness, stage) = open(Stage::new(island(), day("2026-11-23")), SIZE);
    let chosen: Vec<_> = {
        let stage = stage.borrow();
        let yards = stage.scene.world.yards.values();
        yards.filter(|yard| ["Limekiln", "Windbreak"].contains(&yard.name.as_str())).map(|yard| yard.id).collect()
    };
    stage.borrow_mut().goto = Some(Goto::RunThrough(day("2026-11-26"), chosen));
    harness.run_steps(4);
    harness.get_by_label_contains("Thu 26 Nov: 2 stops, ");
    harness.get_by_label_contains("Order proven shortest for 2 stops.");
    assert!(stage.borrow().done.is_empty(), "a draft is no change until it is kept");
    for _ in 0..2 {
        harness.key_press(Key::ArrowDown);
        harness.run();
        harness.key_press(Key::X);
        harness.run();
    }
    harness.get_by_label_contains("Thu 26 Nov: no stop yet.");
    harness.get_by_label("Put Limekiln back").click();
    harness.run();
    assert_eq!(order(&stage.borrow()), ["Limekiln"]);
}

#[test]
fn files_of_the_run_stay_listed_to_be_opened() {
    let (mut harness, stage) = open(Stage::new(island(), day("2026-11-23")), SIZE);
    harness.key_press(Key::K);
    harness.run();
    let run = *stage.borrow().scene.world.runs.keys().next().expect("a run that is kept");
    let file = |path: &str, of| FileWritten { path: path.to_owned(), of };
    stage.borrow_mut().scene.written =
        vec![file("/home/mk/hives.csv", Contents::Other), file("/home/mk/run sheet.pdf", Contents::Run(run))];
    harness.run();
    assert!(harness.query_by_label("Open hives.csv").is_none());
    harness.get_by_label("Copy the path of run sheet.pdf");
    harness.get_by_label("Open run sheet.pdf").click();
    harness.run();
    let path = "/home/mk/run sheet.pdf".to_owned();
    assert_eq!(stage.borrow().asked.last(), Some(&Action::OpenFile { path }));
}

#[test]
fn a_stop_too_late_says_whether_the_gate_or_the_dark_ends_it() {
    let mut begin = island();
    for yard in begin.world.yards.values_mut().filter(|yard| yard.name == "Limekiln") {
        Arc::make_mut(yard).gate = Some(Gate { opens: 6 * 60, closes: 17 * 60 });
    }
    let (mut harness, _stage) = open(Stage::new(begin, day("2026-11-23")), SIZE);
    retype(&mut harness, "Leave", "20:00");
    harness.get_by_label_contains("too late: the gate shuts 17:00");
    assert!(
        harness.query_all_by(|node| node.label().is_some_and(|it| it.contains("too late: dark from"))).next().is_some()
    );
}

#[test]
fn a_day_that_has_passed_says_so() {
    let mut stage = Stage::new(island(), day("2026-11-26"));
    stage.run.go(&Goto::RunOf(day("2026-11-24")));
    let (harness, _stage) = open(stage, SIZE);
    harness.get_by_label_contains("2 days ago. Home ");
}

#[test]
fn a_base_too_far_for_a_day_is_cautioned_of() {
    let (mut harness, _stage) = open(Stage::new(island(), day("2026-11-23")), SIZE);
    retype(&mut harness, "From", "-36.8, 174.7");
    harness.get_by_label_contains("No day has room for it");
}

/// Types over what a field of the choices holds.
fn retype<A: eframe::App>(harness: &mut Harness<'_, A>, field: &str, words: &str) {
    harness.get_by_role_and_label(Role::TextInput, field).focus();
    harness.run();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, field).type_text(words);
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
}

#[test]
fn the_form_that_sends_stays_beside_the_stops_in_a_small_window() {
    for entry in ["GPX route", "CSV list of stops"] {
        let (mut harness, _stage) = open(Stage::new(island(), day("2026-11-23")), [960.0, 560.0]);
        harness.get_by_label("Send route or dates").click();
        harness.run();
        harness.get_by_role_and_label(Role::MenuItem, entry).click();
        harness.run();
        let stops = harness.get_by_role_and_label(Role::Table, "Stops").rect();
        let file = harness.get_by_role_and_label(Role::TextInput, "File").rect();
        assert!(stops.right() <= file.left(), "{entry}: {stops:?} {file:?}");
    }
}

#[test]
fn a_gate_that_is_open_in_the_dark_alone_leaves_its_yard_out_and_says_so() {
    let mut begin = island();
    for yard in begin.world.yards.values_mut().filter(|yard| yard.name == "Limekiln") {
        Arc::make_mut(yard).gate = Some(Gate { opens: 60, closes: 3 * 60 });
    }
    let (harness, _stage) = open(Stage::new(begin, day("2026-11-23")), SIZE);
    harness.get_by_label("Its gate is open 01:00 to 03:00, when it is dark:");
    harness.get_by_label("Put Limekiln back");
}
