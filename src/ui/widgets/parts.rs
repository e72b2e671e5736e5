//! Small parts that many panels share: headings, lines, rows of figures, tags, badges, the queen's dot.

use egui::{
    Align2, Color32, Painter, Pos2, Rect, Response, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use crate::domain::queen::Dot;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{height, radius, stroke};
use crate::ui::theme::text::{self, Weighted as _};
use crate::ui::theme::{self, CLEAR, Tokens};

/// A soft line over the whole width, 1 point.
pub fn rule(ui: &mut Ui) {
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 1.0), Sense::hover());
    let color = theme::tokens(ui).line_soft;
    ui.painter().hline(rect.x_range(), rect.center().y, Stroke::new(stroke::LINE, color));
}

/// A row of words no higher than `height`; `ui.horizontal` would make it as high as a button.
pub fn line<R>(ui: &mut Ui, height: f32, add: impl FnOnce(&mut Ui) -> R) -> R {
    let size = vec2(ui.available_width(), height);
    ui.allocate_ui_with_layout(size, egui::Layout::left_to_right(egui::Align::Center), add).inner
}

/// A panel's heading in 16 semibold, with a small remark after it.
pub fn heading(ui: &mut Ui, words: &str, remark: &str) {
    let t = theme::tokens(ui);
    line(ui, text::HEAD.line, |ui| {
        ui.label(text::head(words).color(t.text_primary));
        if !remark.is_empty() {
            ui.label(text::small(remark).color(t.text_secondary));
        }
    });
}

/// A caption before a control: small, secondary, on the control's middle.
pub fn caption(ui: &mut Ui, words: &str) {
    let color = theme::tokens(ui).text_secondary;
    ui.label(text::small(words).color(color));
}

/// A row of a sum: the number standing right in a column of `column` points, then the words, then a soft line.
pub fn figure(ui: &mut Ui, column: f32, number: &str, words: &str) {
    let t = theme::tokens(ui);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), height::ROW), Sense::hover());
    let middle = rect.center().y;
    let font = text::HEAD.font(Weight::SemiBold);
    ui.painter().text(pos2(rect.left() + column, middle), Align2::RIGHT_CENTER, number, font, t.text_primary);
    let font = text::TABLE.font(Weight::Regular);
    ui.painter().text(pos2(rect.left() + column + 13.0, middle), Align2::LEFT_CENTER, words, font, t.text_primary);
    ui.painter().hline(rect.x_range(), rect.bottom() - 0.5, Stroke::new(stroke::LINE, t.line_soft));
    let spoken = format!("{number} {words}");
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &spoken));
}

/// A row of a form that only tells: the caption in a column of `column` points, then the words.
pub fn pair(ui: &mut Ui, column: f32, caption: &str, words: &str, color: Color32) {
    let t = theme::tokens(ui);
    line(ui, text::TABLE.line, |ui| {
        ui.spacing_mut().item_spacing.x = 0.0;
        let (rect, _) = ui.allocate_exact_size(vec2(column, text::TABLE.line), Sense::hover());
        let font = text::TABLE.font(Weight::Regular);
        ui.painter().text(rect.left_center(), Align2::LEFT_CENTER, caption, font, t.text_secondary);
        let spoken = format!("{caption}: {words}");
        let shown = ui.label(text::table(words).color(color));
        shown.widget_info(|| WidgetInfo::labeled(Role::Label, true, &spoken));
    });
}

/// A word in an edge, as "amended".
pub fn tag(ui: &mut Ui, words: &str) {
    let t = theme::tokens(ui);
    let font = text::SMALL.font(Weight::Regular);
    let galley = ui.painter().layout_no_wrap(words.to_owned(), font, t.text_secondary);
    let (rect, response) = ui.allocate_exact_size(vec2(galley.size().x + 12.0, height::KEY), Sense::hover());
    ui.painter().rect(rect, radius::KEY, CLEAR, Stroke::new(stroke::LINE, t.line_firm), StrokeKind::Inside);
    ui.painter().galley(rect.center() - 0.5 * galley.size(), galley, t.text_secondary);
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, words));
}

/// The number of a stop in a disc of accent, 24 points across; on a map with a case round it.
pub fn badge(painter: &Painter, t: &Tokens, center: Pos2, number: usize, on_map: bool) {
    let size = if on_map { 10.0 } else { 12.0 };
    if on_map {
        painter.circle_filled(center, size + 1.5, t.glyph_case);
    }
    painter.circle_filled(center, size, t.accent);
    let font = text::TABLE.font(Weight::Bold);
    painter.text(center, Align2::CENTER_CENTER, number, font, t.text_on_accent);
}

/// The queen's dot, 13 points across with a ring; always beside its word.
pub fn dot(ui: &mut Ui, color: Dot) -> Response {
    let (rect, response) = ui.allocate_exact_size(vec2(13.0, 16.0), Sense::hover());
    paint_dot(ui.painter(), theme::tokens(ui), rect.center(), color);
    response
}

/// The queen's dot painted at a place, as in a table's cell.
pub fn paint_dot(painter: &Painter, t: &Tokens, center: Pos2, color: Dot) {
    let fill = match color {
        Dot::White => t.dot_white,
        Dot::Yellow => t.dot_yellow,
        Dot::Red => t.dot_red,
        Dot::Green => t.dot_green,
        Dot::Blue => t.dot_blue,
    };
    painter.circle(center, 5.75, fill, Stroke::new(stroke::ICON, t.glyph_line));
}

/// A card on the window or the map: raised, with an edge.
pub fn card<R>(ui: &mut Ui, add: impl FnOnce(&mut Ui) -> R) -> egui::InnerResponse<R> {
    let t = theme::tokens(ui);
    egui::Frame::new()
        .fill(t.surface_raised)
        .stroke(Stroke::new(stroke::LINE, t.line_firm))
        .corner_radius(radius::CONTROL)
        .inner_margin(egui::Margin::same(12))
        .show(ui, add)
}

/// One of the words of the top bar: the screen shown is underlined. `count` in secondary, 0 shows none.
pub fn tab(ui: &mut Ui, words: &str, count: usize, shown: bool) -> Response {
    let t = theme::tokens(ui);
    let ink = if shown { t.text_primary } else { t.text_secondary };
    let galley = ui.painter().layout_no_wrap(words.to_owned(), text::BODY.font(Weight::SemiBold), Color32::PLACEHOLDER);
    let number = if count == 0 { String::new() } else { count.to_string() };
    let number = ui.painter().layout_no_wrap(number, text::TABLE.font(Weight::Regular), Color32::PLACEHOLDER);
    let gap = if count == 0 { 0.0 } else { 6.0 };
    let size = vec2((galley.size().x + gap + number.size().x + 8.0).ceil(), height::TOP_BAR);
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    let ink = if response.hovered() { t.text_primary } else { ink };
    let middle = rect.center().y;
    let left = rect.left() + 4.0;
    let number_left = left + galley.size().x + gap;
    ui.painter().galley(pos2(left, middle - 0.5 * galley.size().y), galley, ink);
    ui.painter().galley(pos2(number_left, middle - 0.5 * number.size().y), number, t.text_secondary);
    if shown {
        let line = Rect { min: pos2(rect.left(), rect.bottom() - stroke::SELECTION), ..rect };
        ui.painter().rect_filled(line, 0, t.accent);
    }
    crate::ui::widgets::focus::ring_inside(ui, &response, rect.shrink2(vec2(0.0, 8.0)));
    let spoken = if count == 0 { words.to_owned() } else { format!("{words} {count}") };
    response.widget_info(|| WidgetInfo::selected(Role::Tab, ui.is_enabled(), shown, &spoken));
    response
}

/// Lines of a paragraph in small secondary, wrapped.
pub fn remark(ui: &mut Ui, words: &str) {
    let color = theme::tokens(ui).text_secondary;
    ui.label(text::small(words).regular().color(color));
}

/// What `add` draws, with a caption before it in a column of that width: as a field in a column, for chips.
pub fn captioned<R>(ui: &mut Ui, column: f32, caption: &str, add: impl FnOnce(&mut Ui) -> R) -> R {
    ui.horizontal(|ui| {
        let gap = ui.spacing().item_spacing.x;
        ui.spacing_mut().item_spacing.x = 0.0;
        let (rect, _) = ui.allocate_exact_size(vec2(column, height::FIELD), Sense::hover());
        let color = theme::tokens(ui).text_secondary;
        let font = text::TABLE.font(Weight::Regular);
        ui.painter().text(rect.left_center(), egui::Align2::LEFT_CENTER, caption, font, color);
        ui.spacing_mut().item_spacing.x = gap;
        add(ui)
    })
    .inner
}
