//! The whole of the rules for changes: refuses, or says exactly what will be different.

use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::fact::Fact;
use crate::domain::refusal::{Refusal, RefusalKind};
use crate::domain::world::World;

/// Decides a change on a day: the facts that follow, or why not. A change that alters nothing yields no facts.
///
/// # Errors
/// A refusal: a plan against a bar, a thing that is not there, a name that is taken, a day that cannot be.
pub fn decide(world: &World, change: &Change, today: Day) -> Result<Vec<Fact>, Refusal> {
    let _ = (world, change, today);
    Err(Refusal::new(RefusalKind::BadValue, "Not decided", "Try again"))
}

/// What a change is called in the history and beside Undo: `B14 acceptance look, accepted`.
pub fn title(world: &World, change: &Change) -> String {
    let _ = (world, change);
    String::new()
}
