//! The grid of rows: one field, for the current row; the others are painted.

use egui::text::{LayoutJob, TextWrapping};
use egui::{Color32, Rect, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use crate::domain::standing::OutcomeClass;
use crate::ui::action::Outbox;
use crate::ui::scene::Scene;
use crate::ui::screens::evening::read::Said;
use crate::ui::screens::evening::rows::{Line, Row};
use crate::ui::screens::evening::state::EveningState;
use crate::ui::theme::Tokens;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{height, radius, stroke};
use crate::ui::theme::text::{self, Type};
use crate::ui::widgets::table::Row as Cells;
use crate::ui::widgets::{Column, Field, Table, parts};

const NAME: &str = "Evening entry";
/// The current row holds two lines of a sentence.
const CURRENT: f32 = 44.0;
const REMEDY: f32 = 20.0;

/// Draws the grid.
pub(super) fn show(ui: &mut Ui, scene: &Scene, state: &mut EveningState, narrow: bool, out: &mut Outbox) {
    let columns = [
        Column::words("Hive", if narrow { 52.0 } else { 56.0 }),
        Column::words("Due", if narrow { 126.0 } else { 164.0 }),
        Column::words("There", if narrow { 66.0 } else { 112.0 }),
        Column::words("Entry", if narrow { 88.0 } else { 100.0 }),
        Column::rest("What it says", 1.0),
    ];
    let current = state.current;
    let lines = state.rows.lines.clone();
    let now = state.said(scene, current);
    let wrong = matches!(now, Said::Wrong { .. });
    let wrong_rows: Vec<bool> = (0..state.rows.hives.len())
        .map(|at| at != current && !state.rows.hives.get(at).is_none_or(Row::is_blank) && is_wrong(state, scene, at))
        .collect();
    let heights = |line: usize| match lines.get(line) {
        Some(Line::Group { .. }) | None => height::BUTTON_SMALL,
        Some(Line::Row(at)) if *at == current => CURRENT + if wrong { REMEDY } else { 0.0 },
        Some(Line::Row(at)) if wrong_rows.get(*at) == Some(&true) => height::ROW_ENTRY + REMEDY,
        Some(Line::Row(_)) => height::ROW_ENTRY,
    };
    let selected = state.rows.line_of(current);
    state.note_wrong(wrong);
    let reveal =
        selected.and_then(|line| Some((line as isize + state.reveal.take()?).clamp(0, lines.len() as isize - 1)));
    let reveal = reveal.map(|line| line as usize);
    let mut typed = state.rows.hives.get(current).map_or(String::new(), |row| row.text.clone());
    let mut changed = false;
    let mut field = None;
    let grip = ui.available_height();
    let table = Table::new(NAME, &columns)
        .row_height(height::ROW_ENTRY)
        .heights(&heights)
        .selected(selected)
        .reveal(reveal)
        .passed_over()
        .max_height(grip);
    let done = table.show(ui, lines.len(), |cells| match lines.get(cells.index) {
        None => {}
        Some(Line::Group { title, first, count }) => {
            let rows = state.rows.hives.get(*first..first + count).unwrap_or_default();
            let entered = rows.iter().filter(|row| !row.is_blank()).count();
            let word = if *count == 1 { "hive" } else { "hives" };
            cells.band(title, &format!("{entered} of {count} {word} entered"));
        }
        Some(Line::Row(at)) => {
            let said = if *at == current { now.clone() } else { state.said(scene, *at) };
            let Some(row) = state.rows.hives.get(*at) else { return };
            let is_current = *at == current;
            if !is_current && row.is_blank() {
                cells.faded();
            }
            hive(cells, row, is_current);
            if is_current {
                let salt = row.colony.to_string();
                cells.cell(|ui| {
                    let name = format!("Codes of {}", row.name);
                    let shown = Field::new(&name).hidden_label().salt(&salt).strong().width(ui.available_width());
                    let id = shown.id(ui);
                    // A field that has just been left may still count as having the keyboard.
                    let before = state.field;
                    let free = ui.memory(|memory| memory.focused().is_none_or(|it| Some(it) == before && it != id));
                    if free && state.question.is_none() && !egui::Popup::is_any_open(ui) {
                        ui.memory_mut(|memory| memory.request_focus(id));
                    }
                    changed = shown.show(ui, &mut typed).changed();
                    field = Some(id);
                });
            } else {
                entry(cells, row);
            }
            let place = sentence(cells, &said, is_current);
            if is_current {
                say_aloud(cells.ui(), place, &says(&said));
            }
            cells.name(spoken(row, &said));
        }
    });
    state.field = field;
    if changed && let Some(row) = state.rows.hives.get_mut(current) {
        row.text = typed;
        state.typed(out);
    }
    let clicked = done.selected.and_then(|line| match lines.get(line) {
        Some(Line::Row(at)) => Some(*at),
        Some(Line::Group { first, .. }) => Some(*first),
        None => None,
    });
    if let Some(at) = clicked {
        state.to(at);
    }
}

fn is_wrong(state: &mut EveningState, scene: &Scene, at: usize) -> bool {
    matches!(state.said(scene, at), Said::Wrong { .. })
}

fn hive(cells: &mut Cells<'_, '_>, row: &Row, current: bool) {
    let t = cells.t;
    let ink = if row.is_blank() && !current { t.text_secondary } else { t.text_primary };
    if current {
        let cell = cells.place();
        put(cells, cell, cell.center().y, &row.name, Type { size: 17.0, line: 22.0 }, Weight::Bold, ink);
    } else {
        cells.words_in(&row.name, Weight::SemiBold, ink);
    }
    cells.text(&row.due);
    let cell = cells.place();
    if let Some(dot) = row.dot {
        parts::paint_dot(cells.painter(), t, pos2(cell.left() + 6.5, cell.center().y), dot);
    }
    let beside = Rect::from_min_max(pos2(cell.left() + 17.0, cell.top()), cell.max);
    put(cells, beside, cell.center().y, &row.there, text::TABLE, Weight::Regular, ink);
}

/// A field that is not the current one: painted.
fn entry(cells: &mut Cells<'_, '_>, row: &Row) {
    let t = cells.t;
    let cell = cells.place();
    let frame = Rect::from_center_size(cell.center(), vec2(cell.width(), height::BUTTON_SMALL - 2.0));
    let edge = Stroke::new(stroke::LINE, t.line_soft);
    cells.painter().rect(frame, radius::KEY, t.surface_raised, edge, StrokeKind::Inside);
    let inner = frame.shrink2(vec2(10.0, 0.0));
    put(cells, inner, cell.center().y, row.text.trim(), text::TABLE, Weight::SemiBold, t.text_primary);
}

/// What follows from the codes is said while they are typed, as the eye reads it beside them.
fn say_aloud(ui: &Ui, place: Rect, says: &str) {
    if says.is_empty() {
        return;
    }
    let response = ui.interact(place, egui::Id::unique("what the entry says"), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Status, true, says));
    ui.accesskit_node_builder(response.id, |node| node.set_live(egui::accesskit::Live::Polite));
}

fn sentence(cells: &mut Cells<'_, '_>, said: &Said, current: bool) -> Rect {
    let t = cells.t;
    let cell = cells.place();
    let middle = cell.center().y;
    let weight = if current { Weight::SemiBold } else { Weight::Regular };
    match said {
        Said::Blank => {}
        Said::Command(words) => put_rows(cells, cell, words, current, weight, t.text_secondary),
        Said::Outcome(told) => {
            let (weight, ink) = ink(t, told.class, told.asks, weight);
            put_rows(cells, cell, &told.sentence, current, weight, ink);
        }
        Said::Wrong { what, remedy } => {
            put(cells, cell, middle - 10.0, &format!("{what}."), text::TABLE, Weight::SemiBold, t.danger);
            put(cells, cell, middle + 9.0, &format!("{remedy}."), text::SMALL, Weight::Regular, t.text_secondary);
        }
    }
    cell
}

/// Magenta where it failed, bold where it asks.
fn ink(t: &Tokens, class: OutcomeClass, asks: bool, weight: Weight) -> (Weight, Color32) {
    match class {
        OutcomeClass::ToDecide => (Weight::SemiBold, t.text_late),
        _ if asks => (Weight::Bold, t.text_primary),
        OutcomeClass::Barred => (Weight::SemiBold, t.text_primary),
        _ => (weight, t.text_primary),
    }
}

fn says(said: &Said) -> String {
    match said {
        Said::Blank => String::new(),
        Said::Command(words) => words.clone(),
        Said::Outcome(told) => told.sentence.clone(),
        Said::Wrong { what, remedy } => format!("{what}. {remedy}"),
    }
}

fn spoken(row: &Row, said: &Said) -> String {
    let says = says(said);
    let parts = [row.name.as_str(), row.due.as_str(), row.there.as_str(), row.text.trim(), says.as_str()];
    parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", ")
}

/// A sentence: whole in the current row, in two lines where it needs them; in one line in the others.
fn put_rows(cells: &Cells<'_, '_>, cell: Rect, words: &str, current: bool, weight: Weight, color: Color32) {
    let mut job = LayoutJob::single_section(words.to_owned(), text::TABLE.format(weight, color));
    job.wrap = TextWrapping { max_rows: if current { 2 } else { 1 }, ..TextWrapping::truncate_at_width(cell.width()) };
    job.wrap.break_anywhere = !current;
    let galley = cells.painter().layout_job(job);
    cells.painter().galley(pos2(cell.left(), cell.center().y - 0.5 * galley.size().y), galley, color);
}

fn put(cells: &Cells<'_, '_>, cell: Rect, middle: f32, words: &str, size: Type, weight: Weight, color: Color32) {
    if words.is_empty() {
        return;
    }
    let mut job = LayoutJob::single_section(words.to_owned(), size.format(weight, color));
    job.wrap = TextWrapping::truncate_at_width(cell.width());
    let galley = cells.painter().layout_job(job);
    cells.painter().galley(pos2(cell.left(), middle - 0.5 * galley.size().y), galley, color);
}
