//! The ring of keyboard focus, 2 points wide, the same everywhere.

use egui::{Rect, Response, Stroke, StrokeKind, Ui};

use crate::ui::theme;
use crate::ui::theme::metrics::stroke;

/// A ring around a control, one point off its edge.
pub fn ring_around(ui: &Ui, response: &Response, rect: Rect, corner: u8) {
    if response.has_focus() {
        let focus = Stroke::new(stroke::FOCUS, theme::tokens(ui).focus);
        ui.painter().rect_stroke(rect.expand(1.0), corner + 1, focus, StrokeKind::Outside);
    }
}

/// A ring just inside a panel, table or cell, where there is no room around it.
pub fn ring_inside(ui: &Ui, response: &Response, rect: Rect) {
    if response.has_focus() {
        let focus = Stroke::new(stroke::FOCUS, theme::tokens(ui).focus);
        ui.painter().rect_stroke(rect, 0, focus, StrokeKind::Inside);
    }
}

/// True when nothing has the keyboard: no field, no focused control, no open menu. Single letters and a screen's own
/// arrows act only then.
pub fn keys_are_free(ui: &Ui) -> bool {
    !ui.text_edit_focused() && ui.memory(|memory| memory.focused().is_none()) && !egui::Popup::is_any_open(ui)
}
