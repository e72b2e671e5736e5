//! What the inline forms of the screens share.

use egui::{Event, Key, Modifiers, Response, Ui};

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
