//! Keys that work on every screen, and the list of all keys.

use egui::{Key, KeyboardShortcut, Modifiers, Ui};

use crate::ui::action::{Action, Goto, Outbox};
use crate::ui::scene::Scene;
use crate::ui::shell::ShellState;
use crate::ui::shell::bar::SCREENS;
use crate::ui::state::UiState;
use crate::ui::theme;
use crate::ui::theme::text::{self, Weighted as _};
use crate::ui::widgets::{Verb, dialog, key, parts};

const CTRL: Modifiers = Modifiers::COMMAND;
const NUMBERS: [Key; 4] = [Key::Num1, Key::Num2, Key::Num3, Key::Num4];

/// Height of a line of the list, in points.
const LINE: f32 = 24.0;
/// Lines that a page moves it.
const PAGE: f32 = 16.0;

/// All keys, by where they work.
const LIST: &[(&str, &[(&str, &str)])] = &[
    (
        "Everywhere",
        &[
            ("Ctrl 1", "Map; Ctrl 2, 3, 4: Programme, Run, Setup"),
            ("Ctrl F", "find a hive or yard"),
            ("Ctrl Z", "undo"),
            ("Ctrl Y", "redo"),
            ("Ctrl L", "labels waiting"),
            ("Ctrl R", "try again what is not recorded"),
            ("Ctrl +", "larger; Ctrl - smaller, Ctrl 0 as it was"),
            ("Tab", "next control; arrows move in lists"),
            ("F1", "this list; arrows scroll it"),
        ],
    ),
    (
        "Map",
        &[
            ("Enter", "open the yard or hive"),
            ("Esc", "back"),
            ("L", "list of yards"),
            ("G", "legend"),
            ("0", "whole map"),
            ("A", "add a yard, or hives in a yard"),
            ("E", "edit the yard; O all else about it"),
            ("F", "to the filters"),
            ("← →", "choose the day; Shift a span"),
            ("D", "put the chosen day off"),
            ("R", "plan the run"),
            ("Space", "choose several; Ctrl A all"),
            ("C", "the hives of the chosen yards"),
            ("W", "say in words which of them"),
        ],
    ),
    (
        "Hive card",
        &[
            ("Enter", "record a find"),
            ("I", "introduce"),
            ("P", "print the label"),
            ("O", "all else under More"),
            ("M", "amend the chosen record"),
        ],
    ),
    ("Programme", &[("A", "take a parcel in"), ("G", "to whom queens are given"), ("Ctrl Enter", "give them out")]),
    (
        "Run and evening",
        &[
            ("Alt ↑", "move the stop; Alt ↓ down"),
            ("A", "add a stop; X leave one out, L lock it"),
            ("D", "the day; F where it starts, T when it leaves"),
            ("P", "propose the order again; K keep the run"),
            ("S", "send route or dates; B print the labels"),
            ("E", "evening entry"),
            ("Ctrl P", "print the run sheet"),
            ("Ctrl Enter", "record the evening"),
        ],
    ),
];

/// Takes the keys that work everywhere. Called once, before anything is drawn.
pub fn global(ui: &mut Ui, scene: &Scene, state: &mut UiState, out: &mut Outbox) {
    let typing = ui.text_edit_focused();
    let pressed = |shortcut: KeyboardShortcut| ui.input_mut(|input| input.consume_shortcut(&shortcut));
    if pressed(KeyboardShortcut::new(Modifiers::NONE, Key::F1)) {
        state.shell.keys_open = !state.shell.keys_open;
    }
    // Plus needs the shift key on some keyboards and not on others.
    let larger = [Key::Plus, Key::Equals].map(|key| pressed(KeyboardShortcut::new(CTRL, key)));
    if larger.contains(&true) {
        out.push(Action::Zoom(theme::zoom_step(scene.prefs.zoom, 1)));
    }
    if pressed(KeyboardShortcut::new(CTRL, Key::Minus)) {
        out.push(Action::Zoom(theme::zoom_step(scene.prefs.zoom, -1)));
    }
    if pressed(KeyboardShortcut::new(CTRL, Key::Num0)) {
        out.push(Action::Zoom(100));
    }
    if !scene.not_recorded.is_empty() && pressed(KeyboardShortcut::new(CTRL, Key::R)) {
        out.push(Action::RecordAgain);
    }
    if scene.register.is_none() {
        return;
    }
    // Inside a text field Ctrl Z and Ctrl Y belong to the text; elsewhere to the register.
    if !typing {
        let redo = KeyboardShortcut::new(CTRL.plus(Modifiers::SHIFT), Key::Z);
        if pressed(redo) || pressed(KeyboardShortcut::new(CTRL, Key::Y)) {
            out.push(Action::Redo);
        }
        if pressed(KeyboardShortcut::new(CTRL, Key::Z)) {
            out.push(Action::Undo);
        }
    }
    for (key, (screen, _)) in NUMBERS.into_iter().zip(SCREENS) {
        if pressed(KeyboardShortcut::new(CTRL, key)) {
            state.goto = Some(Goto::Screen(screen));
        }
    }
    if pressed(KeyboardShortcut::new(CTRL, Key::F)) {
        state.shell.search_focus = true;
    }
    if pressed(KeyboardShortcut::new(CTRL, Key::L)) {
        state.shell.open_labels(Vec::new());
    }
}

/// Arrows and pages move the list by lines.
fn scroll_by_keys(ui: &Ui) {
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    let by = |down: Key, up: Key| f32::from(i8::from(pressed(down)) - i8::from(pressed(up)));
    let lines = by(Key::ArrowDown, Key::ArrowUp) + PAGE * by(Key::PageDown, Key::PageUp);
    if lines != 0.0 {
        ui.scroll_with_delta(egui::vec2(0.0, -LINE * lines));
    }
}

/// The list of all keys, where it is open.
pub fn show_list(ui: &mut Ui, state: &mut ShellState) {
    if !state.keys_open {
        return;
    }
    let t = theme::tokens(ui);
    let answer = dialog(ui, "keys", "Keys", &[Verb::default("Close")], |ui| {
        egui::ScrollArea::vertical().max_height(dialog::list_height(ui, 520.0, 136.0)).auto_shrink([false, true]).show(
            ui,
            |ui| {
                scroll_by_keys(ui);
                for (place, keys) in LIST {
                    ui.add_space(4.0);
                    ui.label(text::body(*place).semibold().color(t.text_primary));
                    for (caps, words) in *keys {
                        parts::line(ui, LINE, |ui| {
                            let left = ui.cursor().left();
                            key::caps(ui, caps);
                            ui.add_space((left + 110.0 - ui.cursor().left()).max(0.0));
                            ui.label(text::table(*words).color(t.text_secondary));
                        });
                    }
                }
            },
        );
    });
    if answer.is_some() {
        state.keys_open = false;
    }
}
