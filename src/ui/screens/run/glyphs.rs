//! A yard of the outlook as its stack.

use crate::domain::day::Day;
use crate::domain::ids::YardId;
use crate::domain::standing::LidState;
use crate::planner::run::plan::in_quarantine;
use crate::ui::glyph::Stack;
use crate::ui::scene::Scene;

/// The stack of a yard as it stands today.
pub(super) fn stack_of(scene: &Scene, yard: YardId, day: Day) -> Stack {
    let view = scene.outlook.yards.get(&yard);
    let lid = view.and_then(|view| view.lid).unwrap_or(LidState::Quiet);
    let bands = view.map_or([0; 7], |view| view.bands);
    Stack { bands, lid, barred: in_quarantine(&scene.world, yard, day) }
}
