//! The first start, by keyboard alone.

use std::path::PathBuf;

use egui::{Key, Modifiers, Role};
use egui_kittest::kittest::Queryable as _;
use lidnote::domain::place::Place;
use lidnote::register::error::RegisterError;
use lidnote::ui::action::{Action, Screen};
use lidnote::ui::event::Event;
use lidnote::ui::screens::start::backup_named;

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

#[test]
fn a_damaged_register_offers_its_newest_backup_in_place() {
    let (mut window, shared) = opened();
    let damaged = RegisterError::Damaged {
        file: PathBuf::from("/home/mk/bees.lidnote"),
        detail: "page 7 is torn".to_owned(),
        backup: Some(PathBuf::from("/home/mk/backups/bees-9.lidnote")),
    };
    let words = damaged.to_string();
    assert_eq!(backup_named(&words), Some("/home/mk/backups/bees-9.lidnote"));
    assert_eq!(backup_named("There is no file bees.lidnote. Check the name."), None);
    shared.borrow_mut().state.take(&Event::Failed(words));
    window.run();
    window.get_by_role_and_label(Role::Button, "Restore the newest backup").click();
    window.run();
    assert_eq!(shared.borrow().asked, [Action::Restore { path: "/home/mk/backups/bees-9.lidnote".to_owned() }]);
}
