//! The Run: a vehicle's stops on a day, in order, with their times; and from here the evening after.

mod asking;
mod choices;
mod edits;
mod glyphs;
mod left_out;
mod model;
mod side;
mod small_map;
mod state;
mod stops;
mod timeline;
mod typed;
mod view;

pub use state::RunState;

use egui::Ui;

use crate::ui::action::{Goto, Outbox};
use crate::ui::scene::Scene;
use crate::ui::screens::evening;
use crate::ui::screens::map::MapState;

/// Draws the screen: evening entry while it is open, else the run.
pub fn show(
    ui: &mut Ui,
    scene: &Scene,
    state: &mut RunState,
    map: &mut MapState,
    goto: &mut Option<Goto>,
    out: &mut Outbox,
) {
    if let Some(entry) = &mut state.evening {
        if evening::show(ui, scene, entry, goto, out) {
            state.evening = None;
        }
        return;
    }
    view::show(ui, scene, state, map, goto, out);
}
