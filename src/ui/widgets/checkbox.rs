//! A box that is ticked or not, with its words.

use egui::{Color32, Rect, Response, Role, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, pos2, vec2};

use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{height, radius, stroke};
use crate::ui::theme::{self, text};
use crate::ui::widgets::focus;
use crate::ui::widgets::icon::{self, Icon};

const BOX: f32 = 16.0;

/// Flips `ticked` when it is pressed; `changed()` tells.
pub fn checkbox(ui: &mut Ui, ticked: &mut bool, words: &str) -> Response {
    let t = theme::tokens(ui);
    let room = (ui.available_width() - BOX - 12.0).max(40.0);
    let font = text::BODY.font(Weight::Regular);
    let galley = ui.painter().layout(words.to_owned(), font, Color32::PLACEHOLDER, room);
    let size = vec2(BOX + 12.0 + galley.size().x, galley.size().y.max(height::BUTTON_SMALL));
    let (rect, mut response) = ui.allocate_exact_size(size, Sense::click());
    if response.clicked() {
        *ticked = !*ticked;
        response.mark_changed();
    }
    if ui.is_rect_visible(rect) {
        let corner = pos2(rect.left(), (rect.top() + 0.5 * (height::BUTTON_SMALL - BOX)).round());
        let square = Rect::from_min_size(corner, Vec2::splat(BOX));
        let fill = if response.hovered() { t.surface_hover } else { t.surface_raised };
        ui.painter().rect(square, radius::KEY, fill, Stroke::new(stroke::LINE, t.line_firm), StrokeKind::Inside);
        if *ticked {
            icon::paint(ui.painter(), square.shrink(1.0), Icon::Tick, t.text_primary);
        }
        let words_at = pos2(square.right() + 12.0, rect.center().y - 0.5 * galley.size().y);
        let color = if ui.is_enabled() { t.text_primary } else { t.text_disabled };
        ui.painter().galley(words_at, galley, color);
        focus::ring_around(ui, &response, square, radius::KEY);
    }
    let (enabled, now) = (ui.is_enabled(), *ticked);
    response.widget_info(|| WidgetInfo::selected(Role::CheckBox, enabled, now, words));
    response
}
