//! What the inline forms of the screens share.

use egui::{Key, Modifiers, Response, Ui};

/// `Enter` was pressed in this field. The key is taken, so that no table of the same screen takes it as its own.
pub fn entered(ui: &Ui, field: &Response) -> bool {
    field.lost_focus() && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Enter))
}
