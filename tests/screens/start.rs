//! The first start, by keyboard alone.

use egui::{Key, Modifiers, Role};
use egui_kittest::kittest::Queryable as _;
use lidnote::domain::place::Place;
use lidnote::ui::action::{Action, Screen};
use lidnote::ui::event::{Event, NotOpened};

use crate::kit::day;
use crate::window_stage::{Shared, Stage, Window, assert_quiet, open, press, type_in};

fn opened() -> (Window, Shared) {
    open(Stage::new(None, day("2026-11-23"), Screen::Map))
}

#[test]
fn the_three_choices_and_the_sign_are_there() {
    let (mut window, shared) = opened();
    for button in ["Open demo", "Start new", "Open a file"] {
        window.get_by_role_and_label(Role::Button, button);
    }
    window.get_by_label("Late: last day has passed");
    window.get_by_label("Waiting for her");
    assert_quiet(&mut window, &shared);
}

#[test]
fn one_opens_the_demo() {
    let (mut window, shared) = opened();
    press(&mut window, Modifiers::NONE, Key::Num1);
    assert_eq!(shared.borrow().asked, [Action::OpenDemo]);
}

#[test]
fn a_new_register_begins_at_the_place_that_is_typed() {
    let (mut window, shared) = opened();
    press(&mut window, Modifiers::NONE, Key::Num2);
    window.get_by_role_and_label(Role::Button, "Start here");
    assert!(window.get_by_role_and_label(Role::TextInput, "Place").is_focused());
    type_in(&mut window, "-40.1, 160.2");
    window.get_by_label_contains("South: the season runs from September to March");
    window.get_by_label_contains("Clock times in UTC+11");
    assert_quiet(&mut window, &shared);
    press(&mut window, Modifiers::NONE, Key::Enter);
    let home = Place::new(-40.1, 160.2).expect("a place");
    assert_eq!(shared.borrow().asked, [Action::NewRegister { home, path: String::new() }]);
}

#[test]
fn a_click_on_the_map_is_the_home_yard() {
    let (mut window, shared) = opened();
    press(&mut window, Modifiers::NONE, Key::Num2);
    let map = window.get_by_role_and_label(Role::Canvas, "Map").rect();
    window.drag_at(map.center());
    window.step();
    window.drop_at(map.center());
    window.run();
    let typed = window.get_by_role_and_label(Role::TextInput, "Place").value().expect("a place");
    assert!(typed.contains(", "), "{typed}");
    window.get_by_role_and_label(Role::Button, "Start here").click();
    window.run();
    assert!(matches!(shared.borrow().asked.as_slice(), [Action::NewRegister { .. }]));
}

#[test]
fn a_file_is_opened_by_its_name() {
    let (mut window, shared) = opened();
    press(&mut window, Modifiers::NONE, Key::Num3);
    assert!(window.get_by_role_and_label(Role::TextInput, "File").is_focused());
    type_in(&mut window, "~/bees.lidnote");
    press(&mut window, Modifiers::NONE, Key::Enter);
    assert_eq!(shared.borrow().asked, [Action::OpenRegister { path: "~/bees.lidnote".to_owned() }]);
}

/// The first screen after a register could not be opened.
fn not_opened(what: NotOpened) -> (Window, Shared) {
    let (mut window, shared) = opened();
    shared.borrow_mut().state.take(&Event::NotOpened(Box::new(what)));
    window.run();
    (window, shared)
}

#[test]
fn a_damaged_register_offers_its_newest_backup_in_place() {
    let (mut window, shared) = not_opened(NotOpened {
        path: "/home/mk/bees.lidnote".to_owned(),
        words: "/home/mk/bees.lidnote is damaged: page 7 is torn. Restore its newest backup.".to_owned(),
        backup: Some("/home/mk/backups/bees-9.lidnote".to_owned()),
        ..NotOpened::default()
    });
    assert!(window.query_by_label_contains("Nothing here yet").is_none(), "something is there");
    window.get_by_label_contains("bees.lidnote is not open.");
    assert!(window.query_by_role_and_label(Role::Button, "Look at it only").is_none());
    window.get_by_role_and_label(Role::Button, "Restore the newest backup").click();
    window.run();
    assert_eq!(shared.borrow().asked, [Action::Restore { path: "/home/mk/backups/bees-9.lidnote".to_owned() }]);
}

#[test]
fn a_register_in_use_can_be_looked_at_and_the_one_before_opened_again() {
    let (mut window, shared) = not_opened(NotOpened {
        path: "/home/mk/bees.lidnote".to_owned(),
        words: "/home/mk/bees.lidnote is open in another window or program. Close it there.".to_owned(),
        readable: true,
        former: Some("/home/mk/former.lidnote".to_owned()),
        ..NotOpened::default()
    });
    for button in ["Look at it only", "Try again", "Back to former.lidnote"] {
        window.get_by_role_and_label(Role::Button, button).click();
        window.run();
    }
    let bees = || "/home/mk/bees.lidnote".to_owned();
    let former = "/home/mk/former.lidnote".to_owned();
    let asked =
        [Action::LookAt { path: bees() }, Action::OpenRegister { path: bees() }, Action::OpenRegister { path: former }];
    assert_eq!(shared.borrow().asked, asked);
}

#[test]
fn the_choices_are_reached_by_tab() {
    let (mut window, shared) = opened();
    for _ in 0..12 {
        press(&mut window, Modifiers::NONE, Key::Tab);
        if window.get_by_role_and_label(Role::Button, "Start new").is_focused() {
            break;
        }
    }
    assert!(window.get_by_role_and_label(Role::Button, "Start new").is_focused());
    press(&mut window, Modifiers::NONE, Key::Enter);
    window.get_by_role_and_label(Role::Button, "Start here");
    assert_quiet(&mut window, &shared);
}
