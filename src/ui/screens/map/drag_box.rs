//! The box drawn with the pointer, over the map and over a yard's plan.

use egui::{Key, Modifiers, Pos2, Rect, Response, Stroke, StrokeKind, Ui};

use crate::ui::theme;
use crate::ui::theme::metrics::{radius, stroke};

/// Follows a drag and paints its box; gives the box once the pointer is let go. Escape gives it up.
pub(super) fn drawn(ui: &Ui, over: &Response, from: &mut Option<Pos2>) -> Option<Rect> {
    if over.drag_started() {
        *from = ui.input(|input| input.pointer.press_origin());
    }
    let (start, now) = ((*from)?, ui.input(|input| input.pointer.latest_pos())?);
    let drawn = Rect::from_two_pos(start, now);
    let t = theme::tokens(ui);
    let fill = t.surface_selected.gamma_multiply(0.4);
    ui.painter().rect(drawn, radius::CAUTION, fill, Stroke::new(stroke::FOCUS, t.accent), StrokeKind::Inside);
    let let_go = over.drag_stopped() || !ui.input(|input| input.pointer.any_down());
    if ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape)) {
        *from = None;
        return None;
    }
    let_go.then(|| {
        *from = None;
        drawn
    })
}
