//! Setup: firm, settings, import, backups, map packs.

use egui::Ui;

use crate::ui::action::{Goto, Outbox};
use crate::ui::event::Event;
use crate::ui::scene::Scene;

/// What the screen keeps between frames.
#[derive(Clone, Debug, Default)]
pub struct SetupState {}

impl SetupState {
    /// Takes what the app tells.
    pub fn take(&mut self, _event: &Event) {}

    /// Goes where a screen asked to.
    pub fn go(&mut self, _goto: &Goto) {}
}

/// Draws the screen.
pub fn show(ui: &mut Ui, scene: &Scene, state: &mut SetupState, goto: &mut Option<Goto>, out: &mut Outbox) {
    let _ = (ui, scene, state, goto, out);
}
