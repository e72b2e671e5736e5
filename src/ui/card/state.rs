//! What the card keeps between frames: the chosen row of the history, and the form that is open with its draft.

use std::sync::Arc;

use egui::Ui;

use crate::domain::day::Day;
use crate::domain::ids::ColonyId;
use crate::ui::card::forms::Open;
use crate::ui::card::model::{self, Card};
use crate::ui::event::Event;
use crate::ui::scene::Scene;
use crate::ui::widgets::focus;

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
    /// The form whose change is on its way to the register.
    sent: Option<Open>,
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

    /// The chosen row of a card made anew: that of the same record, or the newest one that can be amended where the
    /// history has grown.
    fn row_of(&self, card: &Card) -> Option<usize> {
        let newest = card.history.iter().position(|row| row.record.is_some() && !row.struck);
        let before = self.made.as_ref().map(|made| &made.card.history);
        let Some(before) = before.filter(|before| before.len() >= card.history.len()) else { return newest };
        let record = before.get(self.row?)?.record;
        card.history.iter().position(|row| record.is_some() && row.record == record).or(newest)
    }

    /// Takes what the app tells: a form whose change is refused after all opens again with what was typed.
    pub(crate) fn take(&mut self, event: &Event) {
        match event {
            Event::Refused(_) if self.open.is_none() => self.open = self.sent.take(),
            Event::Refused(_) | Event::Recorded { .. } | Event::Failed(_) | Event::NotWritten(_) => self.sent = None,
            _ => {}
        }
    }

    /// Closes the form that is open: its change was sent.
    pub(crate) fn form_sent(&mut self, ui: &Ui) {
        self.sent = self.open.take();
        focus::begin_anew(ui);
    }

    /// Closes the form that is open.
    pub(crate) fn close_form(&mut self, ui: &Ui) {
        self.open = None;
        focus::begin_anew(ui);
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
        self.row = self.row_of(&card);
        self.made = Some(Made { version: scene.version, today: scene.today, card: Arc::clone(&card) });
        Some(card)
    }
}
