//! The fields that say who a queen is: her birth, source, how she came, dot and words.

use egui::Ui;

use crate::domain::birth_words::{birth_words, example, read_birth};
use crate::domain::day::Day;
use crate::domain::grammar::describe::origin_words;
use crate::domain::ids::SourceId;
use crate::domain::queen::{Dot, Origin, Queen};
use crate::domain::world::World;
use crate::ui::card::forms::Context;
use crate::ui::card::forms::fields::{self, Inputs};
use crate::ui::card::forms::verdict::Trouble;
use crate::ui::widgets::{Field, MenuChip};

const ORIGINS: [Origin; 6] =
    [Origin::Mated, Origin::Cell, Origin::Virgin, Origin::WithColony, Origin::OwnRaising, Origin::Unknown];

/// What is typed and chosen of a queen.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Her {
    birth: String,
    source: Option<SourceId>,
    origin: Origin,
    dot: Option<Dot>,
    words: String,
}

impl Her {
    /// As the register has her.
    pub(crate) fn of(world: &World, queen: &Queen) -> Self {
        Self {
            birth: birth_words(queen.birth, world),
            source: queen.source,
            origin: queen.origin,
            dot: queen.dot,
            words: queen.words.clone(),
        }
    }

    pub(crate) fn show(&mut self, ui: &mut Ui, context: &Context<'_>, inputs: &mut Inputs) {
        let width = ui.available_width();
        let month = example(context.today());
        let help = format!("A day, {month}, 2026/27, 2025, two with “to” between; empty: not known");
        inputs.text(ui, Field::new("Born").above().width(width).help(&help), &mut self.birth);
        let mut sources: Vec<(Option<SourceId>, &str)> =
            context.scene.world.sources.values().map(|source| (Some(source.id), source.name.as_str())).collect();
        sources.sort_by(|a, b| a.1.cmp(b.1));
        sources.push((None, "not known"));
        let names: Vec<&str> = sources.iter().map(|(_, name)| *name).collect();
        let now = sources.iter().find(|(source, _)| *source == self.source).map_or("not known", |(_, name)| name);
        let origins = ORIGINS.map(origin_words);
        ui.horizontal(|ui| {
            if let Some((source, _)) = MenuChip::new("Source", now).show(ui, &names).and_then(|at| sources.get(at)) {
                self.source = *source;
            }
            let came = MenuChip::new("How she came", origin_words(self.origin)).show(ui, &origins);
            if let Some(origin) = came.and_then(|at| ORIGINS.get(at)) {
                self.origin = *origin;
            }
        });
        fields::dots(ui, "Her dot", "none", &mut self.dot);
        inputs.line(ui, "Words", "anything else", &mut self.words);
    }

    /// That queen with what is typed and chosen.
    pub(crate) fn read(&self, world: &World, queen: &Queen, today: Day) -> Result<Queen, Trouble> {
        let same = self.birth.trim() == birth_words(queen.birth, world);
        let read = || read_birth(&self.birth, world, today).map_err(|error| Trouble::new(format!("{error}.")));
        let birth = if same { queen.birth } else { read()? };
        let words = self.words.trim().to_owned();
        Ok(Queen { id: queen.id, birth, source: self.source, origin: self.origin, dot: self.dot, words })
    }
}
