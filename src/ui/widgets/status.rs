//! The status line: what is saved, the last change and the way back, at the right whose register it is and the keys.

use egui::Ui;

use crate::ui::theme;
use crate::ui::theme::text::{self, Weighted as _};
use crate::ui::widgets::button::Button;
use crate::ui::widgets::ends;

/// What the line says.
#[derive(Clone, Copy, Debug, Default)]
pub struct Status<'a> {
    /// "Saved 19:12." in semibold.
    pub saved: &'a str,
    /// "Last change: B07 acceptance look, accepted"; empty if none.
    pub last: &'a str,
    /// The last change can be undone: shows Undo with its keys.
    pub undo: bool,
    /// The firm's name, or the version where no register is open.
    pub owner: &'a str,
}

/// What was pressed in the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pressed {
    /// Undo the last change.
    Undo,
    /// Show all keys.
    Keys,
}

/// Width of Undo with its keys; a long last change leaves it in sight.
const UNDO_WIDTH: f32 = 124.0;

/// Draws the line into a panel 30 high without margins at top and bottom.
pub fn status(ui: &mut Ui, says: &Status<'_>) -> Option<Pressed> {
    let t = theme::tokens(ui);
    let mut pressed = None;
    ui.horizontal_centered(|ui| {
        ui.spacing_mut().item_spacing.x = 12.0;
        let left = |ui: &mut Ui| {
            ui.label(text::small(says.saved).semibold().color(t.text_primary));
            if !says.last.is_empty() {
                let undo = if says.undo { UNDO_WIDTH } else { 0.0 };
                ui.scope(|ui| {
                    ui.set_max_width((ui.available_width() - undo).max(0.0));
                    ui.add(egui::Label::new(text::small(says.last).color(t.text_secondary)).truncate());
                });
            }
            says.undo && Button::text("Undo").tiny().key("Ctrl Z").show(ui).clicked()
        };
        let (undo, keys) = ends(ui, left, |ui| {
            ui.label(text::small(says.owner).color(t.text_secondary));
            ui.label(text::small("·").color(t.text_secondary));
            Button::quiet("Keys").key("F1").show(ui).clicked()
        });
        pressed = keys.then_some(Pressed::Keys).or(undo.then_some(Pressed::Undo));
    });
    pressed
}
