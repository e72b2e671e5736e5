//! The Run, and evening entry.

use egui::Ui;

use crate::ui::action::{Goto, Outbox};
use crate::ui::event::Event;
use crate::ui::scene::Scene;
use crate::ui::screens::map::MapState;
/// What the screen keeps between frames.
#[derive(Clone, Debug, Default)]
pub struct RunState {}

impl RunState {
    /// Takes what the app tells.
    pub fn take(&mut self, _event: &Event) {}

    /// Goes where a screen asked to.
    pub fn go(&mut self, _goto: &Goto) {}
}

/// Draws the screen.
pub fn show(
    ui: &mut Ui,
    scene: &Scene,
    state: &mut RunState,
    map: &mut MapState,
    goto: &mut Option<Goto>,
    out: &mut Outbox,
) {
    let _ = (ui, scene, state, map, goto, out);
}
