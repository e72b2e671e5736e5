//! What stands beside a glyph on the map: the count of due work, and the ring of selection.

use egui::{Painter, Pos2, Rect, Stroke, StrokeKind, pos2, vec2};

use crate::ui::theme::Tokens;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{radius, stroke};
use crate::ui::theme::text;

const COUNT_HEIGHT: f32 = 19.0;

/// The number of due things, 19 points high, its left edge 4 points right of the glyph (12 when selected). Returns the
/// box it fills.
pub fn count(painter: &Painter, t: &Tokens, glyph: Rect, due: usize, selected: bool) -> Rect {
    let galley = painter.layout_no_wrap(due.to_string(), text::TABLE.font(Weight::SemiBold), t.text_primary);
    let width = (galley.size().x + 10.0).max(COUNT_HEIGHT - 1.0);
    let left = glyph.right() + if selected { 12.0 } else { 4.0 };
    let size = vec2(width, COUNT_HEIGHT);
    let rect = snapped(painter, Rect::from_min_size(pos2(left, glyph.center().y - 0.5 * COUNT_HEIGHT + 2.0), size));
    let edge = Stroke::new(stroke::LINE, t.glyph_line);
    painter.rect(rect, radius::CONTROL, t.surface_raised, edge, StrokeKind::Inside);
    painter.galley(rect.center() - 0.5 * galley.size(), galley, t.text_primary);
    rect
}

/// The ring round a selected glyph: 3 points of accent on a case of 6, its outer edge 8 points off the glyph.
pub fn selection(painter: &Painter, t: &Tokens, glyph: Rect) {
    let rect = snapped(painter, glyph.expand(6.0));
    painter.rect_filled(rect, radius::CONTROL, t.surface_raised);
    painter.rect_stroke(rect, radius::CONTROL, Stroke::new(stroke::CASE, t.glyph_case), StrokeKind::Middle);
    painter.rect_stroke(rect, radius::CONTROL, Stroke::new(stroke::SELECTION, t.accent), StrokeKind::Middle);
}

fn snapped(painter: &Painter, rect: Rect) -> Rect {
    let scale = painter.pixels_per_point();
    let snap = |at: Pos2| pos2((at.x * scale).round() / scale, (at.y * scale).round() / scale);
    Rect::from_min_max(snap(rect.min), snap(rect.max))
}
