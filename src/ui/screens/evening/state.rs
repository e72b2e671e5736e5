//! What evening entry keeps between frames.

use crate::domain::day::Day;
use crate::domain::ids::RunId;
use crate::ui::event::Event;

/// What evening entry keeps between frames.
#[derive(Clone, Debug)]
pub struct EveningState {}

impl EveningState {
    /// The evening of a day, of one run or of the whole day.
    pub fn of(_day: Day, _run: Option<RunId>) -> Self {
        Self {}
    }

    /// Takes what the app tells.
    pub fn take(&mut self, _event: &Event) {}
}
