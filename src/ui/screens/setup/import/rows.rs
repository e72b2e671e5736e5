//! The rows of the file: each with what will be done, its fields, and what Lidnote says of it.

use egui::Ui;

use crate::ui::action::Outbox;
use crate::ui::import_model::{ImportModel, ImportRow, ImportWill};
use crate::ui::screens::setup::import::{ImportState, header, model};
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::height;
use crate::ui::widgets::table::Row;
use crate::ui::widgets::{Column, Table, boxes};

/// Room for what Lidnote says, at least.
const SAYS: f32 = 250.0;
const SAYS_TITLE: &str = "What Lidnote says";
/// Between two columns of a table.
const GAP: f32 = 16.0;
/// Row number and what will be done.
pub(super) const LEAD: [f32; 2] = [36.0, 74.0];

/// The table, as wide as its columns ask for.
pub(super) fn show(ui: &mut Ui, state: &mut ImportState, out: &mut Outbox) {
    let Some(model) = state.model.take() else { return };
    if model.rows.is_empty() {
        egui::Frame::new().inner_margin(16).show(ui, |ui| {
            boxes::empty_state(ui, "The file holds no rows.", "Choose another file.");
            for remark in &model.remarks {
                ui.label(remark);
            }
        });
        state.model = Some(model);
        return;
    }
    let widths = model::widths(&model);
    let needed = GAP * (widths.len() as f32 + 4.0) + LEAD.iter().sum::<f32>() + widths.iter().sum::<f32>() + SAYS;
    let width = needed.max(ui.available_width());
    // Where the columns run out of the window, what Lidnote says must not.
    let says_first = needed > ui.available_width();
    let area = egui::ScrollArea::horizontal().id_salt("import columns").auto_shrink([false, false]);
    let chosen = area.show(ui, |ui| {
        ui.set_width(width);
        table(ui, state, &model, &widths, says_first, out)
    });
    state.model = Some(model);
    // Only now, when the row's cells can be read: the one to be mended comes into the field.
    if chosen.inner.is_some() {
        state.choose(chosen.inner, false);
    }
}

/// Draws it; the row that was chosen, by its place in the model.
fn table(
    ui: &mut Ui,
    state: &mut ImportState,
    model: &ImportModel,
    widths: &[f32],
    says_first: bool,
    out: &mut Outbox,
) -> Option<usize> {
    let titles: Vec<(String, String)> = model
        .columns
        .iter()
        .map(|column| {
            let title = column.ours.as_deref().map_or("Left out".to_owned(), model::title);
            (title, format!("from “{}”", column.theirs))
        })
        .collect();
    let mut columns = vec![Column::words("Row", LEAD[0]), Column::words("Will", LEAD[1])];
    if says_first {
        columns.push(Column::words(SAYS_TITLE, SAYS));
    }
    columns.extend(titles.iter().zip(widths).map(|((title, below), width)| Column::words(title, *width).below(below)));
    if !says_first {
        columns.push(Column::rest(SAYS_TITLE, 1.0));
    }
    let top = ui.cursor().min;
    let selected = state.row.and_then(|row| state.shown.iter().position(|shown| *shown == row));
    let reveal = selected.filter(|_| std::mem::take(&mut state.reveal));
    let shown = std::mem::take(&mut state.shown);
    let table = Table::new("Rows of the file", &columns)
        .row_height(height::ROW_PLAIN + 2.0)
        .selected(selected)
        .reveal(reveal)
        .takes_free_keys();
    let done = table.show(ui, shown.len(), |line| {
        if let Some(row) = shown.get(line.index).and_then(|place| model.rows.get(*place)) {
            one_row(line, row, model, says_first);
        }
    });
    let chosen = done.selected.and_then(|line| shown.get(line).copied());
    state.shown = shown;
    if let Some((theirs, ours)) = header::menus(ui, top, model, widths, if says_first { SAYS + GAP } else { 0.0 }) {
        state.options.mapping.retain(|(heading, _)| *heading != theirs);
        state.options.mapping.push((theirs, ours));
        state.reading = true;
        let options = state.options.clone();
        out.push(crate::ui::action::Action::ReadImport { path: model.path.clone(), options });
    }
    chosen
}

fn one_row(line: &mut Row<'_, '_>, row: &ImportRow, model: &ImportModel, says_first: bool) {
    let t = line.t;
    line.secondary(&row.number.to_string());
    match row.will {
        ImportWill::HoldBack => line.late(row.will.words()),
        ImportWill::Same => line.secondary(row.will.words()),
        ImportWill::Add | ImportWill::Change => line.strong(row.will.words()),
    }
    if says_first {
        says(line, row);
    }
    for (place, column) in model.columns.iter().enumerate() {
        let cell = row.cells.get(place).map_or("", String::as_str);
        let problem = row.problems.iter().find(|problem| problem.column == Some(place));
        match problem {
            Some(problem) => line.framed(cell, if problem.holds_back { t.danger } else { t.text_primary }),
            None if column.ours.is_none() => line.words_in(cell, Weight::Regular, t.text_disabled),
            None if cell.is_empty() && !row.says.is_empty() => line.words_in("empty", Weight::Regular, t.text_disabled),
            None => line.text(cell),
        }
    }
    if !says_first {
        says(line, row);
    }
}

fn says(line: &mut Row<'_, '_>, row: &ImportRow) {
    if row.will == ImportWill::HoldBack { line.strong(&row.says) } else { line.secondary(&row.says) }
}
