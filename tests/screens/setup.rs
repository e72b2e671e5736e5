//! Setup, by keyboard alone.

use egui::{Key, Modifiers, Role};
use egui_kittest::kittest::Queryable as _;
use lidnote::domain::change::Change;
use lidnote::ui::action::{Action, Screen, ThemeChoice};
use lidnote::ui::scene::{BackupInfo, HistoryInfo, HistoryLine};

use crate::kit::{Kit, day};
use crate::window_stage::{Shared, Stage, Window, assert_quiet, open, press, type_in};

fn opened(down: usize) -> (Window, Shared) {
    let (kit, _) = Kit::with_hives(&["B01", "B02"]);
    let mut stage = Stage::new(Some(kit.world), day("2026-11-23"), Screen::Setup);
    stage.scene.backups = vec![BackupInfo {
        path: "/b/9.lidnote".to_owned(),
        at: "22 Nov 2026 18:02".to_owned(),
        why: String::new(),
        bytes: 81_920,
    }];
    stage.scene.history = Some(HistoryInfo {
        of: None,
        version: 1,
        lines: vec![HistoryLine {
            at: "22 Nov 2026 18:02".to_owned(),
            title: "B01 acceptance look, accepted".to_owned(),
            undone: false,
        }],
    });
    let (mut window, shared) = open(stage);
    for _ in 0..down {
        press(&mut window, Modifiers::NONE, Key::ArrowDown);
    }
    (window, shared)
}

#[test]
fn every_part_is_reached_by_arrows_and_stays_quiet() {
    for part in 0..11 {
        let (mut window, shared) = opened(part);
        assert_quiet(&mut window, &shared);
    }
}

#[test]
fn the_firm_is_named() {
    let (mut window, shared) = opened(0);
    window.get_by_role_and_label(Role::TextInput, "Name").focus();
    window.run();
    type_in(&mut window, "Wrackmore Bees");
    press(&mut window, Modifiers::NONE, Key::Enter);
    assert_eq!(shared.borrow().scene.world.firm.name, "Wrackmore Bees");
    window.get_by_label_contains("Wrackmore Bees. 2 hives in 1 yard");
}

#[test]
fn a_file_is_read_by_its_name() {
    let (mut window, shared) = opened(1);
    window.get_by_role_and_label(Role::TextInput, "File").focus();
    window.run();
    type_in(&mut window, "hives.csv");
    press(&mut window, Modifiers::NONE, Key::Enter);
    let asked = shared.borrow().asked.clone();
    assert!(matches!(asked.as_slice(), [Action::ReadImport { path, .. }] if path == "hives.csv"), "{asked:?}");
    window.get_by_label("The file is being read.");
}

#[test]
fn a_rule_is_found_set_refused_and_reset() {
    let (mut window, shared) = opened(3);
    window.get_by_role_and_label(Role::TextInput, "Find a rule").focus();
    window.run();
    type_in(&mut window, "driving speed");
    window.get_by_label_contains("1 of ");
    let row = window.get_by_role_and_label(Role::Row, "Driving speed, 60, km/h, 60, common practice, no source");
    row.click();
    window.run();
    for (typed, kept) in [("500", 60.0), ("72", 72.0)] {
        window.get_by_role_and_label(Role::TextInput, "Value").focus();
        window.run();
        press(&mut window, Modifiers::COMMAND, Key::A);
        type_in(&mut window, typed);
        press(&mut window, Modifiers::NONE, Key::Enter);
        assert_eq!(shared.borrow().scene.world.settings.speed(), kept, "after {typed}");
    }
    window.get_by_role_and_label(Role::Button, "Back to 60").click();
    window.run();
    assert_eq!(shared.borrow().scene.world.settings.speed(), 60.0);
    assert!(shared.borrow().refused.is_empty(), "what cannot be is said in the form");
}

#[test]
fn a_source_is_added_and_renamed() {
    let (mut window, shared) = opened(4);
    window.get_by_role_and_label(Role::TextInput, "Name").focus();
    window.run();
    type_in(&mut window, "Thrift");
    press(&mut window, Modifiers::NONE, Key::Enter);
    let names = |shared: &Shared| -> Vec<String> {
        shared.borrow().scene.world.sources.values().map(|source| source.name.clone()).collect()
    };
    assert_eq!(names(&shared), ["Thrift"]);
    window.get_by_role_and_label(Role::Row, "Thrift, outside breeder, 0").click();
    window.run();
    window.get_by_role_and_label(Role::TextInput, "Name").focus();
    window.run();
    type_in(&mut window, " Head");
    press(&mut window, Modifiers::NONE, Key::Enter);
    assert_eq!(names(&shared), ["Thrift Head"]);
}

#[test]
fn a_restore_is_asked_about_because_undo_cannot_mend_it() {
    let (mut window, shared) = opened(6);
    assert!(shared.borrow().asked.contains(&Action::ListBackups));
    window.get_by_role_and_label(Role::Row, "22 Nov 2026 18:02, at a start, 80 kB, 9.lidnote").click();
    window.run();
    window.get_by_role_and_label(Role::Button, "Restore this backup").click();
    window.run();
    press(&mut window, Modifiers::NONE, Key::Enter);
    let restored = |shared: &Shared| shared.borrow().asked.iter().any(|it| matches!(it, Action::Restore { .. }));
    assert!(!restored(&shared), "Enter stays");
    window.get_by_role_and_label(Role::Button, "Restore this backup").click();
    window.run();
    window.get_by_role_and_label(Role::Button, "Restore it").click();
    window.run();
    assert!(restored(&shared));
}

#[test]
fn online_tiles_ask_for_address_and_credit_and_say_what_is_learnt() {
    let (mut window, shared) = opened(8);
    window.get_by_label_contains("The tile service learns which parts of the map you look at");
    for (field, words) in [("Address", "https://tiles.example/{z}/{x}/{y}.png"), ("Credit", "Someone")] {
        window.get_by_role_and_label(Role::TextInput, field).focus();
        window.run();
        type_in(&mut window, words);
    }
    press(&mut window, Modifiers::NONE, Key::Enter);
    let asked = shared.borrow().asked.clone();
    assert!(
        matches!(asked.last(), Some(Action::OnlineTiles(Some(tiles))) if tiles.attribution == "Someone"),
        "{asked:?}"
    );
}

#[test]
fn letters_go_to_a_part_and_tab_goes_on_into_it() {
    let (mut window, _) = opened(0);
    for key in [Key::M, Key::A] {
        window.key_press(key);
        window.step();
    }
    window.run();
    window.get_by_label("Map pack");
    press(&mut window, Modifiers::NONE, Key::Tab);
    assert!(window.get_by_role_and_label(Role::TextInput, "File").is_focused());
}

#[test]
fn tab_goes_on_into_the_part_that_an_arrow_chose() {
    let (mut window, _) = opened(1);
    press(&mut window, Modifiers::NONE, Key::Tab);
    assert!(window.get_by_role_and_label(Role::TextInput, "File").is_focused());
    window.get_by_label("Bring in yards and hives");
}

#[test]
fn the_look_is_chosen() {
    let (mut window, shared) = opened(9);
    window.get_by_role_and_label(Role::Button, "Dark").click();
    window.run();
    window.get_by_role_and_label(Role::Button, "125 %").click();
    window.run();
    let asked = shared.borrow().asked.clone();
    assert_eq!(asked.last(), Some(&Action::Zoom(125)));
    for key in [Key::Plus, Key::Equals, Key::Minus, Key::Num0] {
        press(&mut window, Modifiers::COMMAND, key);
    }
    let asked = shared.borrow().asked.clone();
    let sizes: Vec<u32> =
        asked.iter().filter_map(|it| if let Action::Zoom(size) = it { Some(*size) } else { None }).collect();
    assert_eq!(sizes, [125, 110, 110, 90, 100], "from 100, which stays what the scene says");
    assert!(asked.contains(&Action::Theme(ThemeChoice::Dark)));
    assert!(!asked.iter().any(|it| matches!(it, Action::Change(change) if matches!(**change, Change::SetFirm(_)))));
}
