//! A yard of the outlook as its stack.

use crate::domain::day::Day;
use crate::domain::ids::YardId;
use crate::domain::standing::LidState;
use crate::planner::run::plan::in_quarantine;
use crate::ui::glyph::{Lid, Stack};
use crate::ui::scene::Scene;

/// The stack of a yard as it stands today.
pub(super) fn stack_of(scene: &Scene, yard: YardId, day: Day) -> Stack {
    let view = scene.outlook.yards.get(&yard);
    let lid = match view.and_then(|view| view.lid) {
        None | Some(LidState::Quiet) => Lid::Quiet,
        Some(LidState::Due) => Lid::Due,
        Some(LidState::Late) => Lid::Late,
        Some(LidState::Action) => Lid::Action,
        Some(LidState::Barred) => Lid::Barred,
    };
    let bands = view.map_or([0; 7], |view| view.bands);
    Stack { bands, lid, barred: in_quarantine(&scene.world, yard, day) }
}
