//! A queen's details are corrected: birth, source, dot, words.

use egui::Ui;

use crate::domain::change::Change;
use crate::domain::ids::{QueenId, SourceId};
use crate::domain::queen::{Dot, Queen};
use crate::ui::card::forms::fields::{self, Inputs};
use crate::ui::card::forms::verdict::{Trouble, Verdict};
use crate::ui::card::forms::{Context, Draft, Mint, say};
use crate::ui::card::model::birth_words;
use crate::ui::scene::Scene;
use crate::ui::widgets::{Field, MenuChip};

/// What is typed.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Details {
    queen: Queen,
    birth: String,
    source: Option<SourceId>,
    dot: Option<Dot>,
    words: String,
}

impl Details {
    pub(crate) fn new(scene: &Scene, queen: QueenId) -> Option<Self> {
        let queen = Queen::clone(scene.world.queens.get(&queen)?);
        let (birth, words) = (birth_words(queen.birth), queen.words.clone());
        Some(Self { source: queen.source, dot: queen.dot, birth, words, queen })
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
        let width = ui.available_width();
        let help = "A day, oct 2026, 2025, or two with “to” between; empty: not known";
        inputs.text(ui, Field::new("Born").above().width(width).help(help), &mut self.birth);
        let mut sources: Vec<(Option<SourceId>, &str)> =
            context.scene.world.sources.values().map(|source| (Some(source.id), source.name.as_str())).collect();
        sources.sort_by(|a, b| a.1.cmp(b.1));
        sources.push((None, "not known"));
        let names: Vec<&str> = sources.iter().map(|(_, name)| *name).collect();
        let now = sources.iter().find(|(source, _)| *source == self.source).map_or("not known", |(_, name)| name);
        if let Some((source, _)) = MenuChip::new("Source", now).show(ui, &names).and_then(|at| sources.get(at)) {
            self.source = *source;
        }
        fields::dots(ui, "Her dot", "none", &mut self.dot);
        inputs.line(ui, "Words", "anything else", &mut self.words);
        say(ui, verdict);
    }

    fn change(&self, context: &Context<'_>, _mint: Mint<'_>) -> Result<Change, Trouble> {
        let birth = if self.birth.trim() == birth_words(self.queen.birth) {
            self.queen.birth
        } else {
            fields::read_birth(&self.birth, context.today())?
        };
        let words = self.words.trim().to_owned();
        let queen = Queen { birth, source: self.source, dot: self.dot, words, ..self.queen.clone() };
        if queen == self.queen {
            return Err(Trouble::missing("Nothing would change."));
        }
        Ok(Change::PutQueen(Box::new(queen)))
    }
}
