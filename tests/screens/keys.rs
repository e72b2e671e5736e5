//! The whole window walked by keyboard alone: where Tab begins, which letters act, how choices are made.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use lidnote::domain::change::Change;
use lidnote::domain::visit::{Method, OldQueen};
use lidnote::ui::action::{Action, Goto, Screen};

use crate::card_stage::{broom_flat, day};
use crate::run_stage::island;
use crate::window_stage::{Shared, Stage, Window, open, press, type_in};

const NONE: Modifiers = Modifiers::NONE;

fn keys(window: &mut Window, keys: &[Key]) {
    for key in keys {
        press(window, NONE, *key);
    }
}

fn told(shared: &Shared) -> Vec<Change> {
    let asked = &shared.borrow().asked;
    asked
        .iter()
        .filter_map(|it| if let Action::Change(change) = it { Some((**change).clone()) } else { None })
        .collect()
}

#[expect(clippy::redundant_closure_for_method_calls, reason = "the method itself does not hold for every lifetime")]
fn focused(window: &Window) -> Option<String> {
    let mut all = window.query_all_by(|node| node.is_focused());
    all.next().and_then(|node| node.accesskit_node().label())
}

/// The card of a hive of Broom Flat.
fn on_card(hive: &str) -> (Window, Shared) {
    let (mut window, shared) = open(Stage::new(Some(broom_flat().world), day("2026-11-23"), Screen::Map));
    {
        let stage = &mut *shared.borrow_mut();
        let id = stage.scene.world.living().find(|colony| colony.name() == hive).expect("a hive").id;
        stage.state.goto = Some(Goto::Hive(id));
    }
    window.run();
    window.run();
    (window, shared)
}

#[test]
fn tab_begins_in_the_card_just_opened_and_goes_down_it() {
    let (mut window, _) = on_card("B30");
    keys(&mut window, &[Key::Tab]);
    assert_eq!(focused(&window).as_deref(), Some("Lost: the recorded queen is gone, this is another"));
    keys(&mut window, &[Key::Tab, Key::Tab]);
    assert_eq!(focused(&window).as_deref(), Some("Same after all: it was the recorded queen"));
    keys(&mut window, &[Key::Enter]);
    keys(&mut window, &[Key::Tab]);
    let after = focused(&window);
    assert!(after.as_deref().is_some_and(|label| label.starts_with("Print")), "the question is gone: {after:?}");
}

#[test]
fn a_method_is_chosen_by_arrows_and_enter_records_from_there() {
    let (mut window, shared) = on_card("B12");
    keys(&mut window, &[Key::I]);
    // What stands in the first field is chosen: a day typed takes its place.
    type_in(&mut window, "22 nov");
    keys(&mut window, &[Key::Tab, Key::Tab]);
    assert_eq!(focused(&window).as_deref(), Some("Caged"));
    keys(&mut window, &[Key::ArrowRight, Key::ArrowRight, Key::ArrowRight, Key::ArrowLeft]);
    assert_eq!(focused(&window).as_deref(), Some("Mature cell"));
    keys(&mut window, &[Key::Tab]);
    assert_eq!(focused(&window).as_deref(), Some("Days before"), "Tab leaves the row of choices");
    keys(&mut window, &[Key::ArrowLeft, Key::Enter]);
    let changes = told(&shared);
    let [Change::Visits { visits, .. }] = changes.as_slice() else { panic!("{changes:?}") };
    let gave = visits[0].visit.gave.as_ref().expect("something given");
    assert_eq!((visits[0].day, gave.method), (day("2026-11-22"), Method::Cell));
    assert_eq!(gave.old_queen, OldQueen::RemovedOn(day("2026-11-22")));
}

#[test]
fn no_letter_reaches_the_map_while_a_form_is_filled_in() {
    let (mut window, shared) = on_card("B14");
    keys(&mut window, &[Key::M]);
    for _ in 0..5 {
        keys(&mut window, &[Key::Tab]);
    }
    keys(&mut window, &[Key::Space]);
    let tick = "It did not happen: take the record back";
    assert_eq!(focused(&window).as_deref(), Some(tick));
    for (modifiers, key) in [(NONE, Key::A), (Modifiers::SHIFT, Key::A), (NONE, Key::R), (NONE, Key::E)] {
        press(&mut window, modifiers, key);
    }
    assert_eq!(shared.borrow().state.screen, Screen::Map);
    window.get_by_role_and_label(Role::CheckBox, tick);
    press(&mut window, Modifiers::SHIFT, Key::Tab);
    type_in(&mut window, "slip");
    // On a tick Enter flips it; with Ctrl it records.
    keys(&mut window, &[Key::Tab]);
    press(&mut window, Modifiers::COMMAND, Key::Enter);
    assert!(matches!(told(&shared).as_slice(), [Change::Amend(amendment)] if amendment.strike));
}

#[test]
fn letters_act_while_a_button_has_the_keyboard() {
    let (mut window, shared) = open(Stage::new(Some(island().world), day("2026-11-23"), Screen::Map));
    keys(&mut window, &[Key::F]);
    assert_eq!(focused(&window).as_deref(), Some("Fill shows: Queen's age"));
    keys(&mut window, &[Key::Tab, Key::D]);
    window.get_by_label_contains("Putting Tue 24 Nov off");
    keys(&mut window, &[Key::Escape]);
    assert!(window.query_by_label_contains("Putting Tue 24 Nov off").is_none());
    assert!(told(&shared).is_empty());
}

#[test]
fn a_menu_goes_round_its_ends_and_to_a_letter() {
    let (mut window, _) = on_card("B12");
    keys(&mut window, &[Key::O]);
    assert_eq!(focused(&window).as_deref(), Some("Dequeen"));
    keys(&mut window, &[Key::ArrowUp]);
    assert_eq!(focused(&window).as_deref(), Some("End the colony"));
    keys(&mut window, &[Key::S]);
    assert_eq!(focused(&window).as_deref(), Some("Sign or temper"));
    keys(&mut window, &[Key::S, Key::S]);
    assert_eq!(focused(&window).as_deref(), Some("Split"));
    keys(&mut window, &[Key::Tab]);
    assert!(window.query_by_role_and_label(Role::MenuItem, "Split").is_none(), "Tab closes the menu");
}

#[test]
fn several_yards_are_chosen_in_the_list_by_keyboard() {
    let (mut window, _) = open(Stage::new(Some(island().world), day("2026-11-23"), Screen::Map));
    keys(&mut window, &[Key::ArrowDown, Key::Space, Key::ArrowDown, Key::ArrowDown, Key::Space]);
    window.get_by_label("2 yards chosen");
    keys(&mut window, &[Key::C]);
    window.get_by_label("2 yards, all");
    keys(&mut window, &[Key::Tab]);
    type_in(&mut window, "none");
    window.get_by_label_contains("Not understood: none");
    // Out of the field first, then back to the yards.
    keys(&mut window, &[Key::Escape, Key::Escape]);
    press(&mut window, Modifiers::COMMAND, Key::A);
    window.get_by_label("8 yards chosen");
    keys(&mut window, &[Key::Escape]);
    assert!(window.query_by_label("8 yards chosen").is_none());
}

#[test]
fn half_a_word_does_not_close_the_panel_it_is_typed_in() {
    let (mut window, shared) = on_card("B12");
    press(&mut window, Modifiers::COMMAND, Key::A);
    keys(&mut window, &[Key::Tab]);
    for letter in ["t", "h", "i", "r", "d", " season"] {
        type_in(&mut window, letter);
    }
    window.get_by_label("Broom Flat, third season");
    assert_eq!(shared.borrow().state.screen, Screen::Map);
    keys(&mut window, &[Key::Escape, Key::Escape]);
    assert!(window.query_by_label("Broom Flat, third season").is_none());
}

#[test]
fn the_card_of_an_ended_colony_is_found_and_its_record_taken_back() {
    let (mut window, shared) = on_card("B12");
    keys(&mut window, &[Key::Enter]);
    type_in(&mut window, "z");
    keys(&mut window, &[Key::Enter, Key::Escape]);
    press(&mut window, Modifiers::COMMAND, Key::F);
    type_in(&mut window, "b12");
    keys(&mut window, &[Key::Enter]);
    window.get_by_label("Died 23 Nov.");
    assert!(window.query_by_label("Lid note").is_none(), "it has no lid any more");
    keys(&mut window, &[Key::M]);
    let tick = "It did not happen: take the record back";
    window.get_by_role_and_label(Role::CheckBox, tick).click();
    window.run();
    window.get_by_role_and_label(Role::TextInput, "Reason").focus();
    window.run();
    type_in(&mut window, "wrong hive");
    keys(&mut window, &[Key::Enter]);
    assert_eq!(shared.borrow().refused, Vec::<String>::new());
    assert!(shared.borrow().scene.world.living().any(|colony| colony.name() == "B12"));
}

#[test]
fn a_bar_that_followed_from_swarming_is_lifted() {
    let (mut window, shared) = on_card("B12");
    keys(&mut window, &[Key::Enter]);
    type_in(&mut window, "s");
    keys(&mut window, &[Key::Enter]);
    window.get_by_label_contains("Barred since 23 Nov: swarming.");
    window.get_by_role_and_label(Role::Button, "Lift the bar").click();
    window.run();
    type_in(&mut window, "prime swarm hived, MK");
    keys(&mut window, &[Key::Enter]);
    assert_eq!(shared.borrow().refused, Vec::<String>::new());
    assert!(window.query_by_label_contains("Barred since").is_none());
}

#[test]
fn the_newest_record_is_the_one_that_m_amends() {
    let (mut window, _) = on_card("B14");
    keys(&mut window, &[Key::Enter]);
    type_in(&mut window, "-r");
    keys(&mut window, &[Key::Enter, Key::M]);
    window.get_by_label("23 Nov: Not opened: rain");
}

#[test]
fn a_yard_is_moved_on_the_map_and_barred_and_the_bar_lifted_by_keyboard() {
    let (mut window, shared) = open(Stage::new(Some(island().world), day("2026-11-23"), Screen::Map));
    keys(&mut window, &[Key::ArrowDown, Key::O, Key::M, Key::Enter]);
    // What stands in the field is chosen: the place typed takes its place.
    type_in(&mut window, "-40.08, 160.15");
    keys(&mut window, &[Key::Enter]);
    let changes = told(&shared);
    let [Change::PutYard(yard)] = changes.as_slice() else { panic!("{changes:?}") };
    let place = yard.place.expect("a place");
    assert!((place.lat() + 40.08).abs() < 1e-9 && (place.lon() - 160.15).abs() < 1e-9);
    keys(&mut window, &[Key::O, Key::B, Key::Enter]);
    type_in(&mut window, "officer's order");
    keys(&mut window, &[Key::Enter]);
    keys(&mut window, &[Key::O, Key::B, Key::Enter]);
    window.get_by_role_and_label(Role::Button, "Lift this bar").click();
    window.run();
    keys(&mut window, &[Key::Enter]);
    assert_eq!(told(&shared).len(), 2, "a bar is lifted only with a reason");
    window.get_by_role_and_label(Role::TextInput, "Why lifted").focus();
    window.run();
    type_in(&mut window, "cleared, officer");
    keys(&mut window, &[Key::Enter]);
    assert_eq!(shared.borrow().refused, Vec::<String>::new());
    assert!(matches!(told(&shared).last(), Some(Change::LiftBar { lifted, .. }) if lifted.why == "cleared, officer"));
}

#[test]
fn a_refused_entry_keeps_the_keyboard_in_its_field() {
    let (mut window, shared) = on_card("B12");
    keys(&mut window, &[Key::Escape, Key::A]);
    type_in(&mut window, "forty");
    keys(&mut window, &[Key::Enter]);
    type_in(&mut window, "4 hives in 1 row");
    let field = window.get_by_role_and_label(Role::TextInput, "How many");
    assert!(field.value().is_some_and(|typed| typed.contains("4 hives in 1 row")), "{:?}", field.value());
    assert!(told(&shared).is_empty());
}

#[test]
fn an_empty_list_says_how_its_yards_come_back() {
    let (mut window, _) = open(Stage::new(Some(island().world), day("2026-11-23"), Screen::Map));
    keys(&mut window, &[Key::F, Key::Tab, Key::Tab, Key::Tab, Key::Tab, Key::Space, Key::O, Key::Enter]);
    window.get_by_label("Age: Older");
    window.get_by_label("No yard fits these filters. Show all brings them back.");
    keys(&mut window, &[Key::Tab, Key::Tab, Key::Enter]);
    window.get_by_label("Hides 0 of 8 yards.");
}

#[test]
fn the_list_of_keys_scrolls_by_keyboard() {
    let (mut window, _) = open(Stage::new(Some(island().world), day("2026-11-23"), Screen::Map));
    keys(&mut window, &[Key::F1]);
    let top = |window: &Window| window.get_by_label("this list; arrows scroll it").rect().top();
    let before = top(&window);
    keys(&mut window, &[Key::ArrowDown]);
    assert!(top(&window) < before, "one line down");
    let one_down = top(&window);
    keys(&mut window, &[Key::PageDown]);
    assert!(top(&window) < one_down - 100.0, "and a page");
    keys(&mut window, &[Key::Escape]);
    assert!(window.query_by_label("this list; arrows scroll it").is_none());
}
