//! A queen's details are corrected, for a reason: birth, source, how she came, dot, words.

use egui::Ui;

use crate::domain::change::{Change, Correction};
use crate::domain::ids::QueenId;
use crate::domain::queen::Queen;
use crate::ui::card::forms::fields::Inputs;
use crate::ui::card::forms::her::Her;
use crate::ui::card::forms::verdict::{self, Trouble, Verdict};
use crate::ui::card::forms::{Context, Draft, Mint, say, scratch_ids};
use crate::ui::scene::Scene;

/// What is typed.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Details {
    queen: Queen,
    her: Her,
    reason: String,
    by: String,
}

impl Details {
    pub(crate) fn new(scene: &Scene, queen: QueenId) -> Option<Self> {
        let queen = Queen::clone(scene.world.queens.get(&queen)?);
        Some(Self {
            her: Her::of(&scene.world, &queen),
            queen,
            reason: String::new(),
            by: scene.prefs.initials.clone(),
        })
    }
}

impl Draft for Details {
    fn title(&self) -> String {
        "Queen's details".to_owned()
    }

    fn verb(&self) -> String {
        "Correct her details".to_owned()
    }

    fn show(&mut self, ui: &mut Ui, context: &Context<'_>, inputs: &mut Inputs, verdict: &Verdict) {
        self.her.show(ui, context, inputs);
        inputs.reason(ui, "dot seen today, wrong in the file", &mut self.reason, &mut self.by);
        say(ui, verdict);
    }

    fn change(&self, context: &Context<'_>, _mint: Mint<'_>) -> Result<Change, Trouble> {
        let queen = self.her.read(&context.scene.world, &self.queen, context.today())?;
        if queen == self.queen {
            return Err(Trouble::missing("Nothing would change."));
        }
        if self.reason.trim().is_empty() {
            return Err(Trouble::missing("Say what was wrong."));
        }
        let correction = Correction::of(context.id(), self.reason.trim(), self.by.trim());
        Ok(Change::Correct(Box::new(Correction { queens: vec![queen], ..correction })))
    }

    fn complete(&self, context: &Context<'_>, verdict: &mut Verdict) {
        if self.reason.trim().is_empty() {
            let said = Self { reason: "to be said".to_owned(), ..self.clone() };
            verdict::before_reason(context, verdict, said.change(context, &mut scratch_ids()));
        }
    }
}
