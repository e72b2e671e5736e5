//! Look: light or dark, and the size of the text.

use egui::Ui;

use crate::ui::action::{Action, Outbox, ThemeChoice};
use crate::ui::scene::Scene;
use crate::ui::theme;
use crate::ui::widgets::{Chip, parts};

const THEMES: [(ThemeChoice, &str); 3] =
    [(ThemeChoice::System, "As the system"), (ThemeChoice::Light, "Light"), (ThemeChoice::Dark, "Dark")];

/// Draws the part.
pub(super) fn show(ui: &mut Ui, scene: &Scene, out: &mut Outbox) {
    parts::heading(ui, "Light or dark", "");
    ui.horizontal(|ui| {
        for (theme, words) in THEMES {
            let chosen = scene.prefs.theme == theme;
            if Chip::choice(words, chosen).show(ui).clicked() && !chosen {
                out.push(Action::Theme(theme));
            }
        }
    });
    parts::remark(ui, "Light for daylight and outdoors, dark for the evening.");
    ui.add_space(8.0);
    parts::heading(ui, "Text size", "");
    ui.horizontal(|ui| {
        for size in theme::ZOOMS {
            let chosen = scene.prefs.zoom == size;
            if Chip::choice(&format!("{size} %"), chosen).show(ui).clicked() && !chosen {
                out.push(Action::Zoom(size));
            }
        }
    });
    parts::remark(ui, "Ctrl + and Ctrl - do the same anywhere, Ctrl 0 goes back to 100 %.");
}
