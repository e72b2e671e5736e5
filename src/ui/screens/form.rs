//! What the inline forms of the screens share.

use egui::{Event, Key, Modifiers, Rect, Response, ScrollArea, Sense, Ui, UiBuilder, vec2};

use crate::ui::theme::metrics::{height, space};
use crate::ui::widgets::parts;

/// The scroll bar of a panel stands in its margin, this wide.
const BAR: f32 = 12.0;
/// A soft line, room, and the buttons.
const FOOT: f32 = 1.0 + space::BOX + height::BUTTON;

/// `Enter` was pressed in this field. The key is taken, so that no table of the same screen takes it as its own.
pub fn entered(ui: &Ui, field: &Response) -> bool {
    field.lost_focus() && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Enter))
}

/// Asks for one more pass after a press or a letter: it may alter what was drawn before it in this pass.
pub fn draw_once_more(ui: &Ui) {
    let acted = ui.input(|input| {
        let acts = |event: &Event| !matches!(event, Event::PointerMoved(_) | Event::MouseMoved(_) | Event::PointerGone);
        input.events.iter().any(acts)
    });
    if acted {
        ui.request_repaint();
    }
}

/// What `add` draws, `high` points of it in view, in a panel with a margin at the right: the scroll bar stands in that
/// margin, never over what it scrolls.
pub fn scrolled<R>(ui: &mut Ui, salt: &str, high: f32, add: impl FnOnce(&mut Ui) -> R) -> R {
    let size = vec2(ui.available_width(), high);
    let room = Rect::from_min_size(ui.cursor().min, size);
    let with_bar = Rect::from_min_size(room.min, size + vec2(BAR, 0.0));
    // A child of its own, so that the panel does not grow by the bar.
    let mut child = ui.new_child(UiBuilder::new().id_salt((salt, "scrolled")).max_rect(with_bar));
    let area = ScrollArea::vertical().id_salt(salt).auto_shrink([false, false]).max_height(high);
    let shown = area.show(&mut child, |ui| {
        ui.set_max_width(size.x);
        add(ui)
    });
    ui.allocate_rect(room, Sense::hover());
    shown.inner
}

/// The fields of a form in a panel, above its buttons, which keep their place at the panel's foot: draw them next.
pub fn above_foot<R>(ui: &mut Ui, salt: &str, fields: impl FnOnce(&mut Ui) -> R) -> R {
    ui.spacing_mut().item_spacing.y = 0.0;
    let shown = scrolled(ui, salt, (ui.available_height() - FOOT).max(80.0), |ui| {
        ui.spacing_mut().item_spacing.y = space::SMALL;
        fields(ui)
    });
    parts::rule(ui);
    ui.add_space(space::BOX);
    shown
}
