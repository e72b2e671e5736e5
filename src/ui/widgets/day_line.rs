//! The day line of one look: an axis, the window as a box, the best day in violet, an ink bar for today.

use egui::{Align2, Color32, Rect, Response, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::stroke;
use crate::ui::theme::{self, text};

/// A day on the line: its number counted from any fixed day, and how it is written.
#[derive(Clone, Copy, Debug)]
pub struct Mark<'a> {
    /// Days from any origin, the same for all marks of a line.
    pub day: i64,
    /// "21", "24 Nov", "In 14 Nov", "today 23, day 9".
    pub words: &'a str,
}

/// One window on its line.
#[derive(Clone, Copy, Debug)]
pub struct DayLine<'a> {
    /// Where it begins: the day she went in.
    pub start: Mark<'a>,
    /// First day of the window.
    pub earliest: Mark<'a>,
    /// The best day.
    pub best: Mark<'a>,
    /// Last day of the window.
    pub latest: Mark<'a>,
    /// Today, if it lies on the line.
    pub today: Option<Mark<'a>>,
}

const HEIGHT: f32 = 50.0;
const BOX_HEIGHT: f32 = 16.0;
const BEST: [f32; 2] = [16.0, 14.0];

impl DayLine<'_> {
    /// Draws it over the whole width, 50 points high.
    pub fn show(&self, ui: &mut Ui) -> Response {
        let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), HEIGHT), Sense::hover());
        if ui.is_rect_visible(rect) {
            self.paint(ui, rect);
        }
        let spoken = self.spoken();
        response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &spoken));
        response
    }

    fn spoken(&self) -> String {
        let Self { start, earliest, best, latest, today } = self;
        let today = today.map(|mark| format!(", {}", mark.words)).unwrap_or_default();
        format!("{}, window {} to {}, best {}{today}", start.words, earliest.words, latest.words, best.words)
    }

    /// The line reaches from the start to a little past the later of window and today; the middle of a day is its place.
    fn span(&self) -> (i64, i64) {
        let today = self.today.map_or(self.latest.day, |mark| mark.day);
        let first = self.start.day.min(today).min(self.earliest.day);
        let last = self.latest.day.max(today);
        (first, last + ((last - first) / 6).max(1))
    }

    fn paint(&self, ui: &Ui, rect: Rect) {
        let t = theme::tokens(ui);
        let painter = ui.painter();
        let (first, last) = self.span();
        let (left, right) = (rect.left() + 8.0, rect.right() - 8.0);
        let x = |day: i64| (left + (right - left) * (day - first) as f32 / (last - first).max(1) as f32).round();
        let axis = rect.top() + 25.0;
        painter.hline(left..=right, axis, Stroke::new(stroke::LINE, t.line_firm));
        painter.circle_filled(pos2(x(self.start.day), axis), 4.0, t.text_primary);
        let window = Rect::from_x_y_ranges(
            x(self.earliest.day)..=x(self.latest.day).max(x(self.earliest.day) + BEST[0]),
            axis - 0.5 * BOX_HEIGHT..=axis + 0.5 * BOX_HEIGHT,
        );
        let edge = Stroke::new(stroke::LINE, t.text_primary);
        painter.rect(window, 0, t.surface_raised, edge, StrokeKind::Inside);
        let half = 0.5 * BEST[0];
        let best_x = x(self.best.day).clamp(window.left() + half, (window.right() - half).max(window.left() + half));
        let best = Rect::from_center_size(pos2(best_x, axis), BEST.into());
        painter.rect(best, 0, t.lid_due, Stroke::new(stroke::LINE, t.glyph_line), StrokeKind::Inside);
        if let Some(today) = self.today {
            let at = x(today.day);
            painter.vline(at, axis - 12.0..=axis + 12.0, Stroke::new(stroke::FOCUS, t.text_primary));
            let font = text::SMALL.font(Weight::SemiBold);
            let galley = painter.layout_no_wrap(today.words.to_owned(), font, t.text_primary);
            let fits_left = at - 5.0 - galley.size().x >= rect.left();
            let words_at = if fits_left { at - 5.0 - galley.size().x } else { at + 5.0 };
            painter.galley(pos2(words_at, rect.top() - 1.0), galley, t.text_primary);
        }
        self.labels(ui, rect, window, best.center().x);
    }

    /// The best day keeps its place; its neighbours and the start give way so that all can be read.
    fn labels(&self, ui: &Ui, rect: Rect, window: Rect, best: f32) {
        let t = theme::tokens(ui);
        let y = rect.bottom() - 9.0;
        let put = |at: f32, align: Align2, words: &str, weight: Weight, color: Color32| {
            ui.painter().text(pos2(at, y), align, words, text::SMALL.font(weight), color)
        };
        let best = put(best, Align2::CENTER_CENTER, self.best.words, Weight::SemiBold, t.text_primary);
        let half = |words: &str| {
            let font = text::SMALL.font(Weight::Regular);
            0.5 * ui.painter().layout_no_wrap(words.to_owned(), font, t.text_secondary).size().x
        };
        let (earliest_half, latest_half) = (half(self.earliest.words), half(self.latest.words));
        let mut start_limit = best.left();
        if self.earliest.day != self.best.day {
            let at = window.left().min(best.left() - 6.0 - earliest_half);
            let shown = put(at, Align2::CENTER_CENTER, self.earliest.words, Weight::Regular, t.text_secondary);
            start_limit = shown.left();
        }
        if self.latest.day != self.best.day {
            let at = window.right().max(best.right() + 6.0 + latest_half);
            put(at, Align2::CENTER_CENTER, self.latest.words, Weight::Regular, t.text_secondary);
        }
        if rect.left() + 2.0 + 2.0 * half(self.start.words) + 6.0 <= start_limit {
            put(rect.left() + 2.0, Align2::LEFT_CENTER, self.start.words, Weight::Regular, t.text_secondary);
        }
    }
}
