//! Register: where it lies, opening another one, closing it.

use egui::Ui;

use crate::ui::action::{Action, FilePurpose, Outbox};
use crate::ui::scene::Scene;
use crate::ui::screens::form;
use crate::ui::theme;
use crate::ui::widgets::{Button, Caution, Field, Icon, boxes, parts};

/// What is typed.
#[derive(Clone, Debug, Default)]
pub(super) struct Draft {
    pub path: String,
}

/// Draws the part.
pub(super) fn show(ui: &mut Ui, scene: &Scene, draft: &mut Draft, out: &mut Outbox) {
    let t = theme::tokens(ui);
    parts::heading(ui, "This register", "one file holds everything");
    if let Some(register) = &scene.register {
        parts::pair(ui, 90.0, "File", &register.path, t.text_primary);
        let kind = if register.demo { "a copy of the demo: change what you like" } else { "your own" };
        parts::pair(ui, 90.0, "Content", kind, t.text_primary);
        if let Some(why) = &register.read_only {
            Caution::new(why, "Nothing can be recorded. Close it where else it is open, or copy it to a folder of your own, then open it anew.").show(ui);
            if Button::outlined("Open it to write").show(ui).clicked() {
                out.push(Action::OpenRegister { path: register.path.clone() });
            }
        }
    }
    if Button::outlined("Close the register").show(ui).clicked() {
        out.push(Action::CloseRegister);
    }
    parts::remark(ui, "Every change is saved when it is made. Closing goes back to the first start.");
    ui.add_space(10.0);
    parts::heading(ui, "Open another", "");
    ui.horizontal(|ui| {
        let width = (ui.available_width() - 220.0).max(180.0);
        let response = Field::new("File").width(width).hint("my-bees.lidnote").show(ui, &mut draft.path);
        let enter = form::entered(ui, &response);
        if Button::outlined("Browse").show(ui).clicked() {
            out.push(Action::Browse(FilePurpose::OpenRegister));
        }
        let why_not = draft.path.trim().is_empty().then_some("No file is named. Type its name, or browse.");
        let pressed = Button::outlined("Open").why_not(why_not).show(ui).clicked();
        if (pressed || enter) && why_not.is_none() {
            out.push(Action::OpenRegister { path: draft.path.trim().to_owned() });
        }
    });
    if Button::outlined("Open the demo").show(ui).clicked() {
        out.push(Action::OpenDemo);
    }
    boxes::note(ui, Icon::File, "", "Another register opens in this window; this one stays as it is.");
}
