//! History of the whole register: every change, newest first, with undo and redo.

use egui::{Frame, Margin, Ui};

use crate::ui::action::{Action, Outbox};
use crate::ui::scene::Scene;
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::height;
use crate::ui::widgets::{Button, Column, Icon, Table, boxes};

/// What is chosen.
#[derive(Clone, Debug, Default)]
pub(super) struct Draft {
    row: Option<usize>,
}

/// The scene holds the history of the whole register as it is now.
pub(super) fn is_current(scene: &Scene) -> bool {
    scene.history.as_ref().is_some_and(|history| history.of.is_none() && history.version == scene.version)
}

/// Draws the part.
pub(super) fn show(ui: &mut Ui, scene: &Scene, draft: &mut Draft, out: &mut Outbox) {
    let t = theme::tokens(ui);
    let undo = scene.register.as_ref().and_then(|register| register.undo.clone());
    let redo = scene.register.as_ref().and_then(|register| register.redo.clone());
    Frame::new().fill(t.surface_panel).inner_margin(Margin::symmetric(16, 10)).show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.horizontal(|ui| {
            let words = undo.as_ref().map_or("Undo".to_owned(), |title| format!("Undo: {}", short(title)));
            let why_not = undo.is_none().then_some("Nothing is left to take back.");
            if Button::outlined(&words).icon(Icon::Undo).key("Ctrl Z").why_not(why_not).show(ui).clicked() {
                out.push(Action::Undo);
            }
            let words = redo.as_ref().map_or("Redo".to_owned(), |title| format!("Redo: {}", short(title)));
            let why_not = redo.is_none().then_some("Nothing was taken back last.");
            if Button::outlined(&words).icon(Icon::Redo).key("Ctrl Y").why_not(why_not).show(ui).clicked() {
                out.push(Action::Redo);
            }
            if !is_current(scene) && Button::outlined("Show as it is now").show(ui).clicked() {
                out.push(Action::FetchHistory(None));
            }
        });
    });
    let Some(history) = scene.history.as_ref().filter(|history| history.of.is_none()) else {
        Frame::new().inner_margin(16).show(ui, |ui| {
            boxes::empty_state(ui, "The history is not shown yet.", "It is read from the register.");
        });
        return;
    };
    let columns = [Column::words("Entered", 150.0), Column::rest("Change", 1.0), Column::words("", 110.0)];
    let table = Table::new("History, newest first", &columns).row_height(height::ROW_PLAIN).selected(draft.row);
    let done = table.show(ui, history.lines.len(), |row| {
        let Some(line) = history.lines.get(row.index) else { return };
        let color = if line.undone { t.text_disabled } else { t.text_primary };
        row.secondary(&line.at);
        row.words_in(&line.title, Weight::Regular, color);
        row.words_in(if line.undone { "taken back" } else { "" }, Weight::Regular, t.text_disabled);
    });
    if done.selected.is_some() {
        draft.row = done.selected;
    }
}

fn short(title: &str) -> String {
    const LONGEST: usize = 40;
    if title.chars().count() <= LONGEST {
        return title.to_owned();
    }
    let cut: String = title.chars().take(LONGEST - 1).collect();
    format!("{}…", cut.trim_end())
}
