//! Amend: a record of this hive is moved to another, gets another day or other codes, or is taken back; with a reason.

use egui::Ui;

use crate::domain::change::{Amendment, Change};
use crate::domain::day_words::Lean;
use crate::domain::grammar::codes::parse;
use crate::domain::grammar::describe::describe_happening;
use crate::domain::grammar::print::codes_of;
use crate::domain::grammar::resolve::{Choice, resolve_again};
use crate::domain::ids::ColonyId;
use crate::domain::record::{Happening, Record};
use crate::ui::card::forms::fields::{self, Inputs};
use crate::ui::card::forms::verdict::{Trouble, Verdict};
use crate::ui::card::forms::{Context, Draft, Mint, lookup, say, scratch_ids, verdict};
use crate::ui::scene::Scene;
use crate::ui::theme;
use crate::ui::theme::text;
use crate::ui::widgets::{Field, checkbox};

/// What is typed.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Amend {
    record: Record,
    /// What it says now.
    says: String,
    hive: String,
    day: String,
    codes: String,
    /// The codes it had.
    codes_before: String,
    strike: bool,
    reason: String,
    by: String,
}

impl Amend {
    pub(crate) fn new(scene: &Scene, colony: ColonyId, record: crate::domain::ids::RecordId) -> Option<Self> {
        let world = &scene.world;
        let record = world.record(colony, record)?.clone();
        let codes = match &record.what {
            Happening::Visit(visit) => codes_of(world, visit, &record.words),
            _ => String::new(),
        };
        let says = format!("{}: {}", record.day.near(scene.today), describe_happening(world, &record.what));
        Some(Self {
            says,
            hive: world.colonies.get(&colony)?.name().to_owned(),
            day: record.day.near(scene.today),
            codes_before: codes.clone(),
            codes,
            strike: false,
            reason: String::new(),
            by: scene.prefs.initials.clone(),
            record,
        })
    }

    fn is_visit(&self) -> bool {
        matches!(self.record.what, Happening::Visit(_))
    }
}

impl Draft for Amend {
    fn title(&self) -> String {
        format!("Amend the record of {}", self.says.split(':').next().unwrap_or_default())
    }

    fn verb(&self) -> String {
        if self.strike { "Take it back".to_owned() } else { "Amend".to_owned() }
    }

    fn show(&mut self, ui: &mut Ui, context: &Context<'_>, inputs: &mut Inputs, verdict: &Verdict) {
        let t = theme::tokens(ui);
        ui.label(text::table(&self.says).color(t.text_secondary));
        ui.horizontal_top(|ui| {
            inputs.text(ui, Field::new("Hive").above().width(150.0), &mut self.hive);
            inputs.day(ui, "Day", &mut self.day, context.today(), Lean::Back);
            inputs.by(ui, &mut self.by);
        });
        if self.is_visit() {
            let width = ui.available_width();
            inputs.text(ui, Field::new("Seen and done, in codes").above().strong().width(width), &mut self.codes);
        }
        inputs.line(ui, "Reason", "wrong row of the sheet", &mut self.reason);
        checkbox(ui, &mut self.strike, "It did not happen: take the record back");
        say(ui, verdict);
    }

    fn change(&self, context: &Context<'_>, mint: Mint<'_>) -> Result<Change, Trouble> {
        let (world, here) = (&context.scene.world, context.id());
        let mut amendment = Amendment::of(here, self.record.id, self.reason.trim(), self.by.trim());
        if self.strike {
            amendment.strike = true;
        } else {
            let own_name = self.hive.trim() == context.colony.name();
            let to = if own_name { here } else { lookup::hive(world, context.colony, &self.hive)? };
            let day = fields::read(&self.day, context.today(), Lean::Back)?;
            amendment.to = (to != here).then_some(to);
            amendment.day = (day != self.record.day).then_some(day);
            let other_codes = self.codes.trim() != self.codes_before.trim();
            if self.is_visit() && other_codes {
                let codes = parse(&self.codes).map_err(|error| Trouble::new(format!("{error}.")))?;
                let resolved = resolve_again(world, &self.record, to, day, &codes, &Choice::default(), mint);
                let (new, queens) = resolved.map_err(|error| Trouble::new(format!("{error}.")))?;
                amendment.day = (new.day != self.record.day).then_some(new.day);
                amendment.visit = Some(Box::new(new.visit));
                amendment.words = Some(new.words);
                amendment.queens = queens;
            }
            if amendment.to.is_none() && amendment.day.is_none() && amendment.visit.is_none() {
                return Err(Trouble::missing("Change the hive, the day or the codes, or take the record back."));
            }
        }
        if amendment.reason.is_empty() {
            return Err(Trouble::missing("Say why the record was wrong."));
        }
        Ok(Change::Amend(Box::new(amendment)))
    }

    /// What follows is said before the reason is typed; where several hives are concerned, it says it all.
    fn complete(&self, context: &Context<'_>, verdict: &mut Verdict) {
        if self.reason.trim().is_empty() {
            let with_reason = Self { reason: "to be said".to_owned(), ..self.clone() };
            verdict::before_reason(context, verdict, with_reason.change(context, &mut scratch_ids()));
        }
        if self.strike || verdict.hives.len() > 1 {
            verdict.sentence = None;
        }
    }
}
