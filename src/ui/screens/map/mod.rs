//! The Map: yards from afar, hives near, the list twin, the day strip.

use egui::Ui;

use crate::ui::action::{Goto, Outbox};
use crate::ui::event::Event;
use crate::ui::map::base::view::BaseMap;
use crate::ui::scene::Scene;

/// What the Map keeps between frames.
pub struct MapState {
    /// The base map, also drawn small beside a run and at the first start.
    pub base: BaseMap,
}

impl MapState {
    /// With the base map to draw on.
    pub fn new(base: BaseMap) -> Self {
        Self { base }
    }

    /// Takes what the app tells.
    pub fn take(&mut self, _event: &Event) {}

    /// Goes where a screen asked to.
    pub fn go(&mut self, _goto: &Goto) {}
}

/// Draws the Map.
pub fn show(ui: &mut Ui, scene: &Scene, state: &mut MapState, goto: &mut Option<Goto>, out: &mut Outbox) {
    let _ = (ui, scene, state, goto, out);
}
