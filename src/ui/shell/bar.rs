//! The top bar: the mark, the screens, search, labels waiting, the day.

use egui::Ui;

use crate::domain::standing::LidState;
use crate::ui::action::{Goto, Screen};
use crate::ui::glyph::{Fill, hive_widget};
use crate::ui::scene::Scene;
use crate::ui::shell::search;
use crate::ui::state::UiState;
use crate::ui::theme;
use crate::ui::theme::text::{self, Weighted as _};
use crate::ui::widgets::{Button, Icon, at_right, parts};

/// The screens in the order of the bar and of their keys `Ctrl 1` and on.
pub const SCREENS: [(Screen, &str); 4] =
    [(Screen::Map, "Map"), (Screen::Programme, "Programme"), (Screen::Run, "Run"), (Screen::Setup, "Setup")];

/// Draws the bar.
pub fn show(ui: &mut Ui, scene: &Scene, state: &mut UiState) {
    let t = theme::tokens(ui);
    let narrow = ui.available_width() < 1168.0;
    ui.horizontal_centered(|ui| {
        ui.spacing_mut().item_spacing.x = 8.0;
        hive_widget(ui, 20.0, Fill::Second, LidState::Due, "Lidnote");
        if !narrow {
            ui.label(text::body("Lidnote").semibold().color(t.text_primary));
        }
        ui.add_space(16.0);
        ui.spacing_mut().item_spacing.x = 14.0;
        for (screen, words) in SCREENS {
            let shown = state.screen == screen;
            let count = if screen == Screen::Programme { scene.outlook.needing } else { 0 };
            if parts::tab(ui, words, count, shown).clicked() {
                state.goto = Some(Goto::Screen(screen));
            }
        }
        at_right(ui, |ui| {
            ui.spacing_mut().item_spacing.x = 8.0;
            if scene.register.is_some() {
                search::field(ui, scene, state, if narrow { 150.0 } else { 272.0 });
                let waiting = scene.outlook.label_queue.len();
                if Button::outlined("Labels").count(waiting).icon(Icon::Label).show(ui).clicked() {
                    state.shell.open_labels(Vec::new());
                }
                ui.add_space(8.0);
            }
            ui.label(text::body(scene.today.with_weekday()).semibold().color(t.text_primary));
            if !narrow {
                ui.add_space(-4.0);
                ui.label(text::body(scene.today.year().to_string()).color(t.text_secondary));
            }
        });
    });
}
