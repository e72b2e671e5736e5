//! The history on the card: arrows choose a row, `M` amends it, `All` shows the rest and the register's own entries.

use egui::{EventFilter, Key, Modifiers, Rect, Role, Sense, Ui, WidgetInfo, pos2, vec2};

use crate::domain::ids::{ColonyId, RecordId};
use crate::ui::card::forms::Begin;
use crate::ui::card::history::Row;
use crate::ui::card::model::Card;
use crate::ui::card::state::CardState;
use crate::ui::card::{Wish, sections};
use crate::ui::scene::Scene;
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::stroke;
use crate::ui::theme::text::{self, Weighted as _};
use crate::ui::widgets::{Button, focus, parts};

/// Rows shown until `All` is pressed.
const FEW: usize = 6;
/// Least width of the column of days; days of other years ask for more.
const DATE: f32 = 61.0;

/// The record of the chosen row, if it can be amended.
pub(crate) fn amendable(card: &Card, row: Option<usize>) -> Option<RecordId> {
    let row = card.history.get(row?)?;
    row.record.filter(|_| !row.struck)
}

pub(crate) fn show(ui: &mut Ui, scene: &Scene, state: &mut CardState, card: &Card, colony: ColonyId, wish: &mut Wish) {
    let total = card.history.len();
    let chosen = amendable(card, state.row);
    let why = if total == 0 {
        Some("Nothing has happened here yet.")
    } else if chosen.is_none() {
        Some("Only visits and answers can be amended. Choose one of their rows.")
    } else {
        None
    };
    sections::heading_of(ui, 28.0, "History", |ui| {
        let all = if state.all { "Fewer".to_owned() } else { format!("All {total}") };
        if Button::text(&all).show(ui).clicked() {
            state.all = !state.all;
            wish.read_history = state.all;
        }
        if Button::text("Amend").key("M").why_not(why).show(ui).clicked() {
            wish.begin = chosen.map(Begin::Amend);
        }
    });
    let shown = if state.all { total } else { total.min(FEW.max(state.row.map_or(0, |row| row + 1))) };
    rows(ui, state, card, shown, wish);
    if state.all {
        entries(ui, scene, colony, wish);
    }
}

/// Draws them, and notes whether they have the keyboard.
fn rows(ui: &mut Ui, state: &mut CardState, card: &Card, shown: usize, wish: &mut Wish) {
    let id = ui.make_persistent_id("card history");
    let focused = ui.memory(|memory| memory.has_focus(id));
    let before = state.row;
    if focused {
        let filter = EventFilter { vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(id, filter));
        let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
        let last = card.history.len().saturating_sub(1);
        if pressed(Key::ArrowDown) {
            state.row = Some(state.row.map_or(0, |row| (row + 1).min(last)));
        }
        if pressed(Key::ArrowUp) {
            state.row = Some(state.row.map_or(0, |row| row.saturating_sub(1)));
        }
        if state.row.is_some_and(|row| row >= shown) {
            // The rows below are shown as soon as one of them is reached.
            state.all = true;
            wish.read_history = true;
            ui.request_repaint();
        }
    }
    ui.spacing_mut().item_spacing.y = 0.0;
    let top = ui.cursor().min;
    let width = ui.available_width();
    let column = days_width(ui, card.history.iter().take(shown));
    for (at, row) in card.history.iter().take(shown).enumerate() {
        let chosen = state.row == Some(at);
        let response = ui.push_id(("history", at), |ui| draw(ui, row, column, chosen)).inner;
        if response.clicked() {
            state.row = Some(at);
            ui.memory_mut(|memory| memory.request_focus(id));
        }
        if chosen && before != state.row {
            response.scroll_to_me(None);
        }
    }
    let list = Rect::from_min_max(top, pos2(top.x + width, ui.cursor().min.y.max(top.y + 1.0)));
    let whole = ui.interact(list, id, Sense::focusable_noninteractive());
    whole.widget_info(|| WidgetInfo::labeled(Role::List, true, "History"));
    focus::ring_inside(ui, &whole, list);
    ui.spacing_mut().item_spacing.y = 4.0;
    wish.list_has_keys = focused;
}

/// Room for the widest day and a gap.
fn days_width<'a>(ui: &Ui, rows: impl Iterator<Item = &'a Row>) -> f32 {
    let font = text::TABLE.font(Weight::Regular);
    let width = |row: &Row| {
        let words = ui.painter().layout_no_wrap(row.day_words.clone(), font.clone(), egui::Color32::PLACEHOLDER);
        words.size().x + 10.0
    };
    rows.map(width).fold(DATE, f32::max)
}

fn draw(ui: &mut Ui, row: &Row, column: f32, chosen: bool) -> egui::Response {
    let t = theme::tokens(ui);
    let ink = if row.struck { t.text_disabled } else { t.text_primary };
    let regular = text::TABLE.font(Weight::Regular);
    let by = ui.painter().layout_no_wrap(row.by.clone(), regular.clone(), t.text_secondary);
    let tag = row
        .tag
        .map(|tag| ui.painter().layout_no_wrap(tag.to_owned(), text::SMALL.font(Weight::Regular), t.text_secondary));
    let tag_room = tag.as_ref().map_or(0.0, |tag| tag.size().x + 12.0 + 10.0);
    let by_room = by.size().x.max(26.0) + 8.0;
    let width = ui.available_width();
    let room = (width - column - tag_room - by_room - 4.0).max(80.0);
    let words = ui.painter().layout(row.words.clone(), regular.clone(), ink, room);
    let below: Vec<_> = row
        .below
        .iter()
        .map(|line| {
            let font = text::SMALL.font(Weight::Regular);
            ui.painter().layout(line.clone(), font, t.text_secondary, width - column - 8.0)
        })
        .collect();
    let first = words.size().y.max(20.0) + 4.0;
    let height = first + below.iter().map(|line| line.size().y + 2.0).sum::<f32>();
    let (rect, response) = ui.allocate_exact_size(vec2(width, height), Sense::CLICK);
    if chosen {
        ui.painter().rect_filled(rect, 0, t.surface_selected);
        let mark = Rect::from_min_max(
            pos2(rect.left() - 9.0, rect.top()),
            pos2(rect.left() - 9.0 + stroke::MARK, rect.bottom()),
        );
        ui.painter().rect_filled(mark, 0, t.accent);
    } else if response.hovered() {
        ui.painter().rect_filled(rect, 0, t.surface_hover);
    }
    let line = rect.top() + 12.0;
    let date = if row.struck { t.text_disabled } else { t.text_secondary };
    ui.painter().text(pos2(rect.left(), line), egui::Align2::LEFT_CENTER, &row.day_words, regular, date);
    ui.painter().galley(pos2(rect.left() + column, rect.top() + 2.0), words, ink);
    let by_left = rect.right() - 6.0 - by.size().x;
    ui.painter().galley(pos2(by_left, line - 0.5 * by.size().y), by, t.text_secondary);
    if let Some(tag) = tag {
        let size = vec2(tag.size().x + 12.0, 20.0);
        let place = Rect::from_min_size(pos2(rect.right() - by_room - 4.0 - size.x, line - 10.0), size);
        let edge = egui::Stroke::new(stroke::LINE, t.line_firm);
        ui.painter().rect_stroke(place, 3, edge, egui::StrokeKind::Inside);
        ui.painter().galley(place.center() - 0.5 * tag.size(), tag, t.text_secondary);
    }
    let mut y = rect.top() + first - 1.0;
    for line in below {
        let high = line.size().y;
        ui.painter().galley(pos2(rect.left() + column, y), line, t.text_secondary);
        y += high + 2.0;
    }
    let tag = row.tag.map_or(String::new(), |tag| format!(", {tag}"));
    let by = if row.by.is_empty() { String::new() } else { format!(", {}", row.by) };
    let below = if row.below.is_empty() { String::new() } else { format!("; {}", row.below.join("; ")) };
    let spoken = format!("{}: {}{by}{tag}{below}", row.day_words, row.words);
    response.widget_info(|| WidgetInfo::selected(Role::ListItem, true, chosen, &spoken));
    response
}

/// The register's own entries about this hive, once they were fetched.
fn entries(ui: &mut Ui, scene: &Scene, colony: ColonyId, wish: &mut Wish) {
    let t = theme::tokens(ui);
    ui.add_space(4.0);
    let known = scene.history.as_ref().filter(|history| history.of == Some(colony));
    let stale = known.is_some_and(|history| history.version != scene.version);
    sections::heading(ui, "As entered", |ui| {
        if stale && Button::text("Read again").show(ui).clicked() {
            wish.read_history = true;
        }
    });
    let Some(history) = known else {
        parts::remark(ui, "The register is being read.");
        return;
    };
    for line in &history.lines {
        let undone = if line.undone { " (taken back)" } else { "" };
        let ink = if line.undone { t.text_disabled } else { t.text_primary };
        ui.horizontal_wrapped(|ui| {
            ui.label(text::small(&line.at).color(t.text_secondary));
            ui.label(text::small(format!("{}{undone}", line.title)).regular().color(ink));
        });
    }
}
