//! Strips of days or weeks: one cell each, side by side. A strip is one stop of the `Tab` key, `← →` move in it.

use egui::{
    Align2, Color32, EventFilter, Key, Modifiers, Rect, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::stroke;
use crate::ui::theme::{self, Tokens, text};
use crate::ui::widgets::focus;
use crate::ui::widgets::progress::grouped;

/// How a line of a cell is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// A part of the number above.
    Plain,
    /// A fact in semibold.
    Fact,
    /// Settled, in accent.
    Set,
    /// Late or missing, in magenta.
    Late,
}

/// The bar at a cell's right, parts of the tallest bar of the strip (0 to 1).
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Bar {
    /// None.
    None,
    /// Due work: the outline is all windows open, the violet part those whose best day it is.
    Due {
        /// Windows open.
        open: f32,
        /// Of them, best day.
        best: f32,
    },
    /// Programme: planned in accent, ordered as an outline beside it.
    Planned {
        /// Colonies planned.
        planned: f32,
        /// Queens or cells ordered.
        ordered: f32,
    },
}

/// One day or week.
#[derive(Clone, Debug)]
pub struct Cell {
    /// "Tue 24", "Tue 1 Dec".
    pub title: String,
    /// The number of due things; zero is grey.
    pub number: u32,
    /// At most two short lines: "28 looks", "6 steps".
    pub lines: Vec<(String, Tone)>,
    /// One short remark at the foot.
    pub remark: Option<(String, Tone)>,
    /// The bar.
    pub bar: Bar,
    /// Weekend or a week without work: sunken.
    pub sunken: bool,
    /// What is read out; empty reads the words of the cell.
    pub name: String,
}

/// Draws the cells over the whole width. Returns the cell just chosen, by click or arrows.
pub fn strip(ui: &mut Ui, name: &str, height: f32, cells: &[Cell], chosen: Option<usize>) -> Option<usize> {
    let id = ui.make_persistent_id(("strip", name));
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    let whole = ui.interact(rect, id, Sense::focusable_noninteractive());
    whole.widget_info(|| WidgetInfo::labeled(Role::ListBox, true, name));
    let mut picked = arrows(ui, id, cells.len(), chosen);
    let width = rect.width() / cells.len().max(1) as f32;
    let edges = |place: usize| (rect.left() + width * place as f32).round();
    let mut chosen_rect = None;
    for (place, cell) in cells.iter().enumerate() {
        // Neighbours share their edge.
        let right = (edges(place + 1) + 1.0).min(rect.right());
        let cell_rect = Rect::from_x_y_ranges(edges(place)..=right, rect.y_range());
        let response = ui.interact(cell_rect, id.with(place), Sense::CLICK);
        let is_chosen = chosen == Some(place);
        paint_cell(ui, cell_rect, cell, is_chosen, response.hovered());
        response.widget_info(|| WidgetInfo::labeled(Role::ListBoxOption, true, spoken(cell)));
        ui.accesskit_node_builder(response.id, |node| node.set_selected(is_chosen));
        if is_chosen {
            chosen_rect = Some(cell_rect);
            ui.accesskit_node_builder(id, |node| node.set_active_descendant(response.id.accesskit_id()));
            focus::follow(ui, name, response.id);
        }
        if response.clicked() {
            picked = Some(place);
            whole.request_focus();
        }
    }
    if let Some(rect) = chosen_rect {
        let edge = Stroke::new(stroke::FOCUS, theme::tokens(ui).accent);
        ui.painter().rect_stroke(rect, 0, edge, StrokeKind::Inside);
    }
    focus::ring_inside(ui, &whole, rect.expand(2.0));
    picked
}

fn arrows(ui: &Ui, id: egui::Id, cells: usize, chosen: Option<usize>) -> Option<usize> {
    if cells == 0 || !ui.memory(|memory| memory.has_focus(id)) {
        return None;
    }
    let filter = EventFilter { horizontal_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(id, filter));
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    let steps = [
        (Key::ArrowRight, chosen.map_or(0, |place| (place + 1).min(cells - 1))),
        (Key::ArrowLeft, chosen.map_or(cells - 1, |place| place.saturating_sub(1))),
        (Key::Home, 0),
        (Key::End, cells - 1),
    ];
    steps.into_iter().rfind(|(key, _)| pressed(*key)).map(|(_, place)| place)
}

fn spoken(cell: &Cell) -> String {
    if !cell.name.is_empty() {
        return cell.name.clone();
    }
    let mut words = vec![cell.title.clone(), format!("{} due", cell.number)];
    words.extend(cell.lines.iter().map(|(line, _)| line.clone()));
    words.extend(cell.remark.iter().map(|(remark, _)| remark.clone()));
    words.join(", ")
}

fn ink(t: &Tokens, tone: Tone) -> (Weight, Color32) {
    match tone {
        Tone::Plain => (Weight::Regular, t.text_secondary),
        Tone::Fact => (Weight::SemiBold, t.text_primary),
        Tone::Set => (Weight::SemiBold, t.accent),
        Tone::Late => (Weight::SemiBold, t.text_late),
    }
}

fn paint_cell(ui: &Ui, rect: Rect, cell: &Cell, chosen: bool, lit: bool) {
    let t = theme::tokens(ui);
    let painter = ui.painter().with_clip_rect(ui.clip_rect().intersect(rect));
    let fill = match (chosen, lit, cell.sunken) {
        (true, _, _) => t.surface_selected,
        (false, true, _) => t.surface_hover,
        (false, false, true) => t.surface_sunken,
        (false, false, false) => t.surface_raised,
    };
    painter.rect(rect, 0, fill, Stroke::new(stroke::LINE, t.line_soft), StrokeKind::Inside);
    let left = rect.left() + 9.0;
    let put = |y: f32, words: &str, font: egui::FontId, color: Color32| {
        painter.text(pos2(left, rect.top() + y), Align2::LEFT_CENTER, words, font, color);
    };
    put(14.0, &cell.title, text::SMALL.font(Weight::SemiBold), t.text_primary);
    let (weight, color) =
        if cell.number == 0 { (Weight::Regular, t.text_disabled) } else { (Weight::SemiBold, t.text_primary) };
    put(36.0, &grouped(cell.number.into()), text::SENTENCE.font(weight), color);
    // Two lines in the low cells of a yard's own strip stand closer.
    let (first, step) = if cell.lines.len() > 1 && rect.height() < 90.0 { (54.0, 15.0) } else { (56.0, 17.0) };
    for (place, (line, tone)) in cell.lines.iter().enumerate() {
        let (weight, color) = ink(t, *tone);
        put(first + step * place as f32, line, text::SMALL.font(weight), color);
    }
    if let Some((remark, tone)) = &cell.remark {
        let (weight, color) = ink(t, *tone);
        put(rect.height() - 14.0, remark, text::SMALL.font(weight), color);
    }
    let wide = |(line, tone): &(String, Tone)| {
        painter.layout_no_wrap(line.clone(), text::SMALL.font(ink(t, *tone).0), Color32::PLACEHOLDER).size().x
    };
    let words_end = left + cell.lines.iter().map(wide).fold(0.0, f32::max);
    paint_bar(&painter, t, rect, cell.bar, words_end);
}

/// The bar of a cell whose words end at `words_end`: where three figures come near it, it is thin, and before it would be
/// painted over them it is left out.
fn paint_bar(painter: &egui::Painter, t: &Tokens, rect: Rect, bar: Bar, words_end: f32) {
    let solid = |left: f32, width: f32, foot: f32, height: f32| {
        let top = (foot - height.round()).round();
        Rect::from_x_y_ranges(left.round()..=(left + width).round(), top..=foot.round())
    };
    match bar {
        Bar::None => {}
        Bar::Due { open, best } if open.max(best) <= 0.0 => {}
        Bar::Due { open, best } => {
            let (foot, room) = (rect.top() + 74.0, 42.0);
            let (left, width) = if words_end + 3.0 < rect.right() - 22.0 {
                (rect.right() - 22.0, 14.0)
            } else {
                (rect.right() - 9.0, 6.0)
            };
            if words_end + 1.0 > left {
                return;
            }
            let edge = Stroke::new(stroke::LINE, t.text_primary);
            let outline = solid(left, width, foot, (room * open).max(4.0));
            painter.rect(outline, 0, t.surface_raised, edge, StrokeKind::Inside);
            if best > 0.0 {
                let part = solid(left, width, foot, (room * best).max(3.0));
                painter.rect(part, 0, t.lid_due, edge, StrokeKind::Inside);
            }
        }
        Bar::Planned { planned, ordered } => {
            let (foot, room, left) = (rect.bottom() - 9.0, rect.height() - 46.0, rect.right() - 40.0);
            if planned > 0.0 {
                painter.rect_filled(solid(left, 14.0, foot, room * planned), 0, t.accent);
            }
            if ordered > 0.0 {
                let outline = solid(left + 18.0, 14.0, foot, room * ordered);
                let edge = Stroke::new(stroke::FOCUS, t.text_primary);
                painter.rect(outline, 0, t.surface_raised, edge, StrokeKind::Inside);
            }
        }
    }
}
