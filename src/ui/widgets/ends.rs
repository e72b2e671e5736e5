//! A row with two ends: what stands at its right end is put there from left to right, as it is read, so that `Tab` and a
//! screen reader take it in the order of the eye. egui's own layout from the right goes the other way.

use egui::{Align, Layout, Rect, Ui, UiBuilder, pos2};

/// Between the two ends, in points.
const GAP: f32 = 12.0;

/// `left` from the left, in the room that `right` leaves; then `right`, ending where the row ends. Both are put from left
/// to right. Call it last in a row.
pub fn ends<L, R>(ui: &mut Ui, left: impl FnOnce(&mut Ui) -> L, right: impl FnOnce(&mut Ui) -> R) -> (L, R) {
    let whole = ui.available_rect_before_wrap();
    // The right end is as wide as in the pass before.
    let id = ui.make_persistent_id("width of the right end");
    let wide = ui.data(|data| data.get_temp::<f32>(id)).unwrap_or(0.0);
    let layout = Layout::left_to_right(Align::Center);
    let from = (whole.right() - wide).max(whole.left());
    let gap = if wide > 0.0 { GAP } else { 0.0 };
    let room = Rect::from_min_max(whole.min, pos2((from - gap).max(whole.left()), whole.bottom()));
    let at = Rect::from_min_max(pos2(from, whole.top()), whole.max);
    let first = ui.scope_builder(UiBuilder::new().id_salt("left end").max_rect(room).layout(layout), left).inner;
    let shown = ui.scope_builder(UiBuilder::new().id_salt("right end").max_rect(at).layout(layout), |ui| {
        let begin = ui.cursor().left();
        let inner = right(ui);
        (inner, (ui.min_rect().right() - begin).max(0.0))
    });
    let (second, now) = shown.inner;
    if (now - wide).abs() > 0.5 {
        ui.data_mut(|data| data.insert_temp(id, now));
        ui.request_discard("the right end of the row has another width");
    }
    (first, second)
}

/// Only the right end of a row, from left to right.
pub fn at_right<R>(ui: &mut Ui, add: impl FnOnce(&mut Ui) -> R) -> R {
    ends(ui, |_| (), add).1
}
