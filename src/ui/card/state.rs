//! What the card keeps between frames: the chosen row of the history, and the form that is open with its draft.

use std::sync::Arc;

use crate::domain::day::Day;
use crate::domain::ids::ColonyId;
use crate::ui::card::forms::Open;
use crate::ui::card::model::{self, Card};
use crate::ui::scene::Scene;

/// What the card keeps between frames. Choosing another hive begins it anew.
#[derive(Clone, Debug, Default)]
pub struct CardState {
    pub(crate) colony: Option<ColonyId>,
    /// The chosen row of the history.
    pub(crate) row: Option<usize>,
    /// The whole history is shown, with the register's entries.
    pub(crate) all: bool,
    /// The form that takes the card's middle.
    pub(crate) open: Option<Open>,
    made: Option<Made>,
}

#[derive(Clone, Debug)]
struct Made {
    version: u64,
    today: Day,
    card: Arc<Card>,
}

impl CardState {
    /// True while a form is open: letters, `Enter` and `Esc` are the form's.
    pub fn form_is_open(&self) -> bool {
        self.open.is_some()
    }

    /// The card of that colony, made anew where the world or the day is another.
    pub(crate) fn card(&mut self, scene: &Scene, colony: ColonyId) -> Option<Arc<Card>> {
        if self.colony != Some(colony) {
            *self = Self { colony: Some(colony), ..Self::default() };
        }
        if let Some(made) = &self.made
            && (made.version, made.today) == (scene.version, scene.today)
        {
            return Some(Arc::clone(&made.card));
        }
        let card = Arc::new(model::card(scene, colony)?);
        if self.row.is_none_or(|row| row >= card.history.len()) {
            self.row = card.history.iter().position(|row| row.record.is_some() && !row.struck);
        }
        self.made = Some(Made { version: scene.version, today: scene.today, card: Arc::clone(&card) });
        Some(card)
    }
}
