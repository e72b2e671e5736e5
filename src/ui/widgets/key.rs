//! Key caps: the key that does a thing stands on the thing.

use egui::{Align2, Color32, Painter, Pos2, Rect, Sense, Stroke, StrokeKind, Ui, pos2, vec2};

use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{height, radius, stroke};
use crate::ui::theme::{CLEAR, text};

const LEAST_WIDTH: f32 = 20.0;
const PADDING: f32 = 5.0;
const GAP: f32 = 2.0;

/// Colours of a cap.
#[derive(Clone, Copy, Debug)]
pub struct CapInk {
    /// Letters.
    pub words: Color32,
    /// Edge.
    pub edge: Color32,
    /// Ground.
    pub fill: Color32,
}

/// The keys of `keys` (split at spaces, as "Ctrl Enter") as a widget of caps. They are read out as part of the button
/// they belong to, so they have no name of their own.
pub fn caps(ui: &mut Ui, keys: &str) {
    let ink = plain_ink(ui);
    let width = width(ui.painter(), keys);
    let (rect, _) = ui.allocate_exact_size(vec2(width, height::KEY), Sense::hover());
    paint(ui.painter(), rect.left_center(), keys, ink);
}

/// How a cap looks on a panel or an outlined button.
pub fn plain_ink(ui: &Ui) -> CapInk {
    let t = theme::tokens(ui);
    CapInk { words: t.text_primary, edge: t.line_firm, fill: t.surface_panel }
}

/// How a cap looks on a fill.
pub fn ink_on(words: Color32) -> CapInk {
    CapInk { words, edge: words, fill: CLEAR }
}

/// Width of all caps of `keys` with their gaps.
pub fn width(painter: &Painter, keys: &str) -> f32 {
    let widths: Vec<f32> = keys.split_whitespace().map(|key| cap_width(painter, key)).collect();
    widths.iter().sum::<f32>() + GAP * widths.len().saturating_sub(1) as f32
}

/// Paints the caps from `left_center` to the right.
pub fn paint(painter: &Painter, left_center: Pos2, keys: &str, ink: CapInk) {
    let mut left = left_center.x.round();
    let top = (left_center.y - 0.5 * height::KEY).round();
    for key in keys.split_whitespace() {
        let rect = Rect::from_min_size(pos2(left, top), vec2(cap_width(painter, key), height::KEY));
        painter.rect(rect, radius::KEY, ink.fill, Stroke::new(stroke::LINE, ink.edge), StrokeKind::Inside);
        let font = text::SMALL.font(Weight::Medium);
        painter.text(rect.center(), Align2::CENTER_CENTER, key, font, ink.words);
        left = rect.right() + GAP;
    }
}

fn cap_width(painter: &Painter, key: &str) -> f32 {
    let galley = painter.layout_no_wrap(key.to_owned(), text::SMALL.font(Weight::Medium), Color32::PLACEHOLDER);
    (galley.size().x + 2.0 * PADDING).round().max(LEAST_WIDTH)
}
