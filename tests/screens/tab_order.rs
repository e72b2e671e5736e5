//! Tab goes through a row as it is read: from left to right.

use egui::{Key, Modifiers, Rect};
use egui_kittest::kittest::{By, NodeT as _, Queryable as _};
use lidnote::ui::action::Screen;

use crate::run_stage::{day, island};
use crate::window_stage::{Stage, Window, open, press};

/// Where the keyboard is, and what has it.
#[expect(clippy::redundant_closure_for_method_calls, reason = "the method itself does not hold for every lifetime")]
fn focused(window: &Window) -> Option<(String, Rect)> {
    let mut found = window.query_all(By::new().predicate(|node| node.is_focused()));
    found.next().map(|node| (node.accesskit_node().label().unwrap_or_default(), node.rect()))
}

/// Controls of one row: as high as controls are, and their middles beside each other.
fn in_one_row(a: Rect, b: Rect) -> bool {
    a.height() < 50.0 && b.height() < 50.0 && (a.center().y - b.center().y).abs() < 5.0
}

#[test]
fn tab_goes_from_left_to_right_in_every_row() {
    for screen in [Screen::Map, Screen::Programme, Screen::Run, Screen::Setup] {
        let (mut window, _stage) = open(Stage::new(Some(island().world), day("2026-11-23"), screen));
        let mut before: Option<(String, Rect)> = None;
        let mut first = None;
        let mut seen = 0;
        for _ in 0..60 {
            press(&mut window, Modifiers::NONE, Key::Tab);
            let Some(now) = focused(&window) else { continue };
            if first.as_ref() == Some(&now) {
                break;
            }
            first.get_or_insert_with(|| now.clone());
            assert_ne!(now.0, "Resize panel", "{screen:?}: Tab stops at an edge that cannot be moved");
            if let Some((name, rect)) = &before
                && in_one_row(*rect, now.1)
            {
                assert!(rect.left() < now.1.left(), "{screen:?}: Tab goes back from {name} to {}", now.0);
            }
            before = Some(now);
            seen += 1;
        }
        assert!(seen > 8, "{screen:?}: Tab reached only {seen} controls");
    }
}

#[test]
fn tab_begins_with_the_screen_that_was_gone_to() {
    let (mut window, _stage) = open(Stage::new(Some(island().world), day("2026-11-23"), Screen::Map));
    press(&mut window, Modifiers::COMMAND, Key::F);
    press(&mut window, Modifiers::NONE, Key::Escape);
    press(&mut window, Modifiers::COMMAND, Key::Num3);
    let mut names = Vec::new();
    for _ in 0..10 {
        press(&mut window, Modifiers::NONE, Key::Tab);
        names.extend(focused(&window).map(|(name, _)| name));
    }
    assert_eq!(names.first().map(String::as_str), Some("Evening entry"), "{names:?}");
    assert!(names.iter().any(|name| name == "From") && names.iter().any(|name| name == "Leave"), "{names:?}");
    press(&mut window, Modifiers::COMMAND, Key::Num1);
    press(&mut window, Modifiers::SHIFT, Key::Tab);
    assert!(focused(&window).is_some(), "backwards it begins at the end of the window");
}
