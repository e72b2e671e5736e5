//! The right panel: what will happen in numbers, and one field to mend.

use egui::{Align2, Sense, Ui, pos2, vec2};

use crate::ui::action::{Action, Outbox};
use crate::ui::screens::form;
use crate::ui::screens::setup::import::{ImportState, model};
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::text;
use crate::ui::widgets::{Button, Chip, Field, Icon, boxes, parts};

/// Draws the panel.
pub(super) fn show(ui: &mut Ui, state: &mut ImportState, out: &mut Outbox) {
    let Some(model) = &state.model else { return };
    let (held_back, remarks) = (model.held_back, model.remarks.clone());
    let left_out = model.columns.iter().filter(|column| column.ours.is_none()).count();
    parts::heading(ui, "What will happen", "");
    for (number, what, below) in &model.totals {
        let held = what.contains("held back");
        total(ui, *number, what, below, held && *number > 0);
    }
    ui.add_space(6.0);
    existing(ui, state, out);
    empty_yards(ui, state, out);
    match left_out {
        0 => {}
        1 => boxes::note(ui, Icon::Down, "1 column is left out.", "Choose at its head what it holds."),
        many => {
            let fact = format!("{many} columns are left out.");
            boxes::note(ui, Icon::Down, &fact, "Choose at their heads what they hold.");
        }
    }
    if held_back > 0 {
        let words = format!("Write the {held_back} held back to a file");
        if Button::text(&words).show(ui).clicked() {
            out.push(Action::WriteHeldBack);
        }
    }
    ui.add_space(10.0);
    mend(ui, state, out);
    ui.add_space(14.0);
    boxes::note(ui, Icon::Undo, "", "The whole import is one change. One undo takes it all back.");
    for remark in &remarks {
        parts::remark(ui, remark);
    }
}

fn total(ui: &mut Ui, number: u32, what: &str, below: &str, late: bool) {
    let t = theme::tokens(ui);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 44.0), Sense::hover());
    let color = if late { t.text_late } else { t.text_primary };
    // Five figures and more are smaller, so that none is cut off.
    let size = if number < 10_000 { text::LARGE } else { text::BODY };
    let font = size.font(Weight::SemiBold);
    let middle = rect.center().y - 1.0;
    ui.painter().text(pos2(rect.left() + 56.0, middle), Align2::RIGHT_CENTER, number, font, color);
    let left = rect.left() + 68.0;
    let font = text::BODY.font(Weight::SemiBold);
    ui.painter().text(pos2(left, middle - 9.0), Align2::LEFT_CENTER, what, font, t.text_primary);
    let font = text::SMALL.font(Weight::Regular);
    ui.painter().text(pos2(left, middle + 10.0), Align2::LEFT_CENTER, below, font, t.text_secondary);
    ui.painter().hline(rect.x_range(), rect.bottom() - 0.5, egui::Stroke::new(1.0, t.line_soft));
    let spoken = format!("{number} {what}, {below}");
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, &spoken));
}

fn existing(ui: &mut Ui, state: &mut ImportState, out: &mut Outbox) {
    parts::caption(ui, "Hives already there");
    let now = state.options.update_existing;
    let mut chosen = None;
    ui.horizontal(|ui| {
        for (words, value) in [("Hold back", None), ("Skip", Some(false)), ("Update", Some(true))] {
            if Chip::choice(words, now == value).show(ui).clicked() && now != value {
                chosen = Some(value);
            }
        }
    });
    if let Some(value) = chosen {
        state.options.update_existing = value;
        state.read_again(out);
    }
}

/// What an empty yard means; asked only where one is empty, or was filled.
fn empty_yards(ui: &mut Ui, state: &mut ImportState, out: &mut Outbox) {
    let now = state.options.yard_above;
    if !now && !state.model.as_ref().is_some_and(|model| model.has_empty_yards()) {
        return;
    }
    parts::caption(ui, "Rows that name no yard");
    let mut chosen = None;
    ui.horizontal(|ui| {
        for (words, value) in [("Held back", false), ("As the row above", true)] {
            if Chip::choice(words, now == value).show(ui).clicked() && now != value {
                chosen = Some(value);
            }
        }
    });
    if let Some(value) = chosen {
        state.options.yard_above = value;
        state.read_again(out);
    }
}

fn mend(ui: &mut Ui, state: &mut ImportState, out: &mut Outbox) {
    let t = theme::tokens(ui);
    let Some(row) = state.chosen_row().cloned() else {
        parts::heading(ui, "No row is chosen", "");
        parts::remark(ui, "Choose a row to see what is said of it.");
        steps(ui, state);
        return;
    };
    let column_of = |place: usize| {
        let column = row.problems.get(place)?.column?;
        let column = state.model.as_ref()?.columns.get(column)?;
        Some(column.ours.as_deref().map_or_else(|| column.theirs.clone(), model::title))
    };
    let names: Vec<Option<String>> = (0..row.problems.len()).map(column_of).collect();
    let name = names.get(state.problem).cloned().flatten();
    let title = name.as_ref().map_or(format!("Row {}", row.number), |name| format!("Row {}, {name}", row.number));
    parts::heading(ui, &title, "");
    match row.problems.get(state.problem) {
        Some(problem) => {
            let fact = ended(&problem.fact);
            let way_out = ended(&problem.remedy);
            ui.label(text::two_tone(text::TABLE, "", t.text_primary, &fact, t.text_primary));
            if !way_out.is_empty() {
                ui.label(text::table(way_out).color(t.text_secondary));
            }
        }
        None => {
            let says = if row.says.is_empty() { "Nothing is wrong in this row." } else { &row.says };
            ui.label(text::table(says).color(t.text_primary));
        }
    }
    if let Some(name) = name {
        let mut mend = false;
        ui.horizontal(|ui| {
            let label = format!("{name}, corrected");
            let response = Field::new(&label).hidden_label().salt("mend").width(190.0).show(ui, &mut state.typed);
            mend = form::entered(ui, &response);
            let why_not = state.reading.then_some("The file is being read. Wait until it is done.");
            mend |= Button::outlined("Use").why_not(why_not).show(ui).clicked();
        });
        parts::remark(ui, "Corrected here only. The file is not touched.");
        if mend && !state.reading {
            state.mend(out);
        }
    }
    if row.problems.len() > 1 {
        ui.horizontal_wrapped(|ui| {
            for (place, name) in names.iter().enumerate() {
                let words = name.clone().unwrap_or_else(|| "Whole row".to_owned());
                if Chip::choice(&words, place == state.problem).show(ui).clicked() {
                    state.problem = place;
                    state.typed = state.mended_cell().unwrap_or_default();
                }
            }
        });
    }
    steps(ui, state);
}

/// A sentence with its full stop, where it ends in none and asks nothing.
fn ended(words: &str) -> String {
    if words.is_empty() || words.ends_with(['.', '?']) { words.to_owned() } else { format!("{words}.") }
}

fn steps(ui: &mut Ui, state: &mut ImportState) {
    let none = state.model.as_ref().is_none_or(|model| model.held_back == 0);
    let why_not = none.then_some("No row is held back.");
    ui.add_space(4.0);
    ui.horizontal(|ui| {
        if Button::outlined("Previous").icon(Icon::Up).small().why_not(why_not).show(ui).clicked() {
            state.step(false);
        }
        if Button::outlined("Next problem").key("F8").small().why_not(why_not).show(ui).clicked() {
            state.step(true);
        }
    });
}
