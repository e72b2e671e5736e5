//! Fields that follow a value of the register: they show it until they are typed in, and tell when that is done.

use egui::{Key, Modifiers, Ui};

use crate::ui::widgets::Field;

/// The text of one field.
#[derive(Clone, Debug, Default)]
pub(super) struct Text {
    text: String,
    typing: bool,
}

/// The fields of the screen.
#[derive(Clone, Debug, Default)]
pub(super) struct Typed {
    pub day: Text,
    pub vehicle: Text,
    pub base: Text,
    pub leave: Text,
    pub look: Text,
    pub step: Text,
    pub yard: Text,
    /// The file to write; empty: the usual folder.
    pub path: String,
    /// The yard to add.
    pub add: String,
}

impl Text {
    /// Shows the field over `value`. Returns what was typed when `Enter` is pressed or the field is left; `Esc` gives it up.
    pub fn show(&mut self, ui: &mut Ui, field: Field<'_>, value: &str) -> Option<String> {
        if !self.typing {
            value.clone_into(&mut self.text);
        }
        let response = field.show(ui, &mut self.text);
        let was_typing = std::mem::replace(&mut self.typing, response.has_focus());
        // Esc means the field alone, not what lies behind it.
        if (was_typing || self.typing) && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape)) {
            self.typing = false;
            ui.memory_mut(|memory| memory.surrender_focus(response.id));
            return None;
        }
        let left = was_typing && !self.typing;
        (left && self.text.trim() != value).then(|| self.text.clone())
    }
}
