//! Windows that are small, or become so: nothing falls out of reach.

use egui::accesskit::Role;
use egui::{Key, Modifiers, Rect, Vec2, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use lidnote::ui::action::Screen;

use crate::run_stage::{day, island};
use crate::window_stage::{Stage, Window, open, press};

fn resized(to: Vec2) -> Window {
    let (mut window, _) = open(Stage::new(Some(island().world), day("2026-11-23"), Screen::Map));
    window.set_size(to);
    window.run();
    window
}

#[test]
fn the_whole_map_stays_whole_when_the_window_shrinks() {
    for size in [vec2(1440.0, 900.0), vec2(1024.0, 700.0), vec2(960.0, 600.0)] {
        let window = resized(size);
        let map = window.get_by_role_and_label(Role::Canvas, "Map").rect();
        let yards: Vec<Rect> = window
            .query_all_by_role(Role::Image)
            .filter(|it| it.accesskit_node().label().is_some_and(|label| label.contains(" hive")))
            .map(|it| it.rect())
            .filter(|it| it.left() > map.left())
            .collect();
        assert!(yards.len() >= 5, "the map names its yards: {}", yards.len());
        for yard in yards {
            assert!(map.contains_rect(yard), "at {size:?} the yard at {yard:?} lies outside the map {map:?}");
        }
    }
}

#[test]
fn a_window_too_small_is_scrolled_to_what_tab_reaches() {
    let size = vec2(720.0, 450.0);
    let mut window = resized(size);
    let all = Rect::from_min_size(egui::Pos2::ZERO, size);
    let plan = window.get_by_role_and_label(Role::Button, "Plan the run").rect();
    assert!(!all.contains_rect(plan), "it begins out of sight: {plan:?}");
    for _ in 0..40 {
        press(&mut window, Modifiers::NONE, Key::Tab);
        if window.get_by_role_and_label(Role::Button, "Plan the run").is_focused() {
            break;
        }
    }
    let plan = window.get_by_role_and_label(Role::Button, "Plan the run");
    assert!(plan.is_focused() && all.contains_rect(plan.rect()), "{:?}", plan.rect());
}

#[test]
fn every_act_on_several_is_reached_in_a_low_window() {
    let size = vec2(960.0, 600.0);
    let mut window = resized(size);
    for key in [Key::ArrowDown, Key::Enter] {
        press(&mut window, Modifiers::NONE, key);
    }
    press(&mut window, Modifiers::COMMAND, Key::A);
    let strip = size.y - 126.0;
    let is_end = |row: &egui_kittest::Node<'_>| row.accesskit_node().label().is_some_and(|it| it.starts_with("End: "));
    for _ in 0..30 {
        press(&mut window, Modifiers::NONE, Key::Tab);
        let row = window.query_all_by_role(Role::Button).find(|row| is_end(row) && row.is_focused());
        if let Some(row) = row {
            assert!(row.rect().bottom() < strip, "above the days: {:?}", row.rect());
            return;
        }
    }
    panic!("Tab never comes to the last act");
}
