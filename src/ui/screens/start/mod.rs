//! The first start.

use egui::Ui;

use crate::ui::action::{Goto, Outbox};
use crate::ui::event::Event;
use crate::ui::scene::Scene;
use crate::ui::screens::map::MapState;
/// What the screen keeps between frames.
#[derive(Clone, Debug, Default)]
pub struct StartState {}

impl StartState {
    /// Takes what the app tells.
    pub fn take(&mut self, _event: &Event) {}

    /// Goes where a screen asked to.
    pub fn go(&mut self, _goto: &Goto) {}
}

/// Draws the screen.
pub fn show(ui: &mut Ui, scene: &Scene, state: &mut StartState, map: &mut MapState, out: &mut Outbox) {
    let _ = (ui, scene, state, map, out);
}
