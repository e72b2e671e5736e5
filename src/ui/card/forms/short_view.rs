//! How the short forms are drawn: what each is called, its fields, and the caution that belongs to the act.

use egui::Ui;

use crate::domain::bar::BarKind;
use crate::domain::capital::capital;
use crate::domain::change::Change;
use crate::domain::colony::EndWhy;
use crate::domain::plan::open_plan;
use crate::domain::yard::Layout;
use crate::ui::card::forms::fields::Inputs;
use crate::ui::card::forms::short::{BARS, Short, ShortKind, WHYS};
use crate::ui::card::forms::verdict::{Trouble, Verdict};
use crate::ui::card::forms::{Context, Draft, Mint, lookup, say, yard_named};
use crate::ui::card::model;
use crate::ui::theme;
use crate::ui::theme::text;
use crate::ui::widgets::{Caution, Field, checkbox, parts};

const TEMPERS: [(&str, Option<u8>); 5] = [
    ("not noted", None),
    ("1 strong defence", Some(1)),
    ("2", Some(2)),
    ("3", Some(3)),
    ("4 no smoke needed", Some(4)),
];

impl Draft for Short {
    fn title(&self) -> String {
        match self.kind {
            ShortKind::Dequeen => "Dequeen",
            ShortKind::Mark => "Mark the queen",
            ShortKind::Sign => "Sign or temper",
            ShortKind::Move => "Move the hive",
            ShortKind::Swap => "Swap places with another hive",
            ShortKind::Lids => "Lids swapped with another hive",
            ShortKind::Rename => "Rename",
            ShortKind::Split => "Split",
            ShortKind::Unite => "Unite into another hive",
            ShortKind::Bar => "Bar requeening",
            ShortKind::LiftBar(_) => "Lift the bar",
            ShortKind::CallOff => "Call off the plan",
            ShortKind::End => "End the colony",
        }
        .to_owned()
    }

    fn verb(&self) -> String {
        match self.kind {
            ShortKind::Dequeen if self.yes => "Record dequeened",
            ShortKind::Dequeen => "Record not found",
            ShortKind::Mark => "Record marked",
            ShortKind::Sign => "Record",
            ShortKind::Move => "Move",
            ShortKind::Swap => "Swap places",
            ShortKind::Lids => "Record lids swapped",
            ShortKind::Rename => "Rename",
            ShortKind::Split => "Split",
            ShortKind::Unite => "Unite",
            ShortKind::Bar => "Set the bar",
            ShortKind::LiftBar(_) => "Lift the bar",
            ShortKind::CallOff => "Call it off",
            ShortKind::End => "End the colony",
        }
        .to_owned()
    }

    fn show(&mut self, ui: &mut Ui, context: &Context<'_>, inputs: &mut Inputs, verdict: &Verdict) {
        self.before(ui, context, inputs);
        let lean = self.lean();
        ui.horizontal_top(|ui| {
            inputs.day(
                ui,
                if self.kind == ShortKind::Bar { "From" } else { "Day" },
                &mut self.day,
                context.today(),
                lean,
            );
            if self.kind == ShortKind::Bar {
                inputs.maybe_day(ui, "Until", &mut self.until, context.today(), "until lifted");
            }
            if !matches!(self.kind, ShortKind::Move | ShortKind::Swap | ShortKind::Rename | ShortKind::CallOff) {
                inputs.by(ui, &mut self.by);
            }
        });
        self.after(ui, inputs);
        say(ui, verdict);
        self.cautions(ui);
    }

    fn change(&self, context: &Context<'_>, mint: Mint<'_>) -> Result<Change, Trouble> {
        self.made(context, mint)
    }
}

impl Short {
    /// The fields that say what; the first of them gets the keyboard.
    fn before(&mut self, ui: &mut Ui, context: &Context<'_>, inputs: &mut Inputs) {
        let t = theme::tokens(ui);
        match self.kind {
            ShortKind::Dequeen => {
                inputs.choose(ui, "Old queen", &[("Found and removed", true), ("Not found", false)], &mut self.yes);
            }
            ShortKind::Mark => inputs.dots(ui, "Her dot", "the year's colour", &mut self.dot),
            ShortKind::Sign => {
                inputs.choose(ui, "Temper", &TEMPERS, &mut self.temper);
                checkbox(ui, &mut self.swarmed, "It has swarmed");
                inputs.text(ui, Field::new("Queen cells begun").width(56.0).hint("0"), &mut self.begun);
            }
            ShortKind::Move => {
                let yard = yard_named(&context.scene.world, &self.other);
                let said = yard.map_or(String::new(), |yard| format!("to {}", yard.name));
                ui.horizontal_top(|ui| {
                    inputs.text(ui, Field::new("Yard").above().width(190.0).help(&said), &mut self.other);
                    self.spot_fields(ui, context, inputs);
                });
            }
            ShortKind::Swap | ShortKind::Lids | ShortKind::Unite => {
                let label = if self.kind == ShortKind::Unite { "Into hive" } else { "With hive" };
                let other = lookup::hive(&context.scene.world, context.colony, &self.other).ok();
                let other = other.and_then(|id| context.scene.world.colonies.get(&id));
                let said = other.map_or(String::new(), |it| {
                    format!("{}, {}", it.name(), model::place_words(&context.scene.world, it))
                });
                let field = Field::new(label).above().width(300.0).hint("B15 or yard/name").help(&said);
                inputs.text(ui, field, &mut self.other);
            }
            ShortKind::Rename => {
                let hint = context.colony.name();
                inputs.text(ui, Field::new("New name").above().width(190.0).hint(hint), &mut self.words);
            }
            ShortKind::Split => {
                ui.horizontal_top(|ui| {
                    inputs.text(ui, Field::new("New hive").above().width(150.0), &mut self.words);
                    self.spot_fields(ui, context, inputs);
                });
                let choices = [("Stays here", false), ("Goes with the split", true)];
                inputs.choose(ui, "The queen", &choices, &mut self.yes);
            }
            ShortKind::Bar => {
                inputs.choose(ui, "Kind", &BARS, &mut self.bar);
                let hint = if self.bar == BarKind::Own { "needed" } else { "beside the kind" };
                inputs.line(ui, "Reason", hint, &mut self.words);
                if self.bar == BarKind::Quarantine {
                    inputs.line(ui, "Permit", "reference, if planning is allowed under one", &mut self.permit);
                }
            }
            ShortKind::LiftBar(_) => {
                inputs.line(ui, "Why, and on whose word", "cleared by the bee officer", &mut self.words);
            }
            ShortKind::CallOff => {
                if let Some(plan) = open_plan(&context.scene.world, context.id()) {
                    let words = format!("{} planned for {}.", plan.method.words(), plan.give_on.near(context.today()));
                    ui.label(text::table(capital(&words)).color(t.text_primary));
                }
            }
            ShortKind::End => inputs.choose(ui, "Why", &WHYS, &mut self.why),
        }
    }

    fn spot_fields(&mut self, ui: &mut Ui, context: &Context<'_>, inputs: &mut Inputs) {
        let yard = context.colony.yard().and_then(|yard| context.scene.world.yards.get(&yard));
        let (row, place) = match yard.map_or(Layout::Rows, |yard| yard.layout) {
            Layout::Rows => ("Row", "Place"),
            Layout::Pallets => ("Pallet", "Corner"),
        };
        inputs.text(ui, Field::new(row).above().width(60.0), &mut self.row);
        inputs.text(ui, Field::new(place).above().width(60.0), &mut self.place);
    }

    /// Words, where they are not the point of the form.
    fn after(&mut self, ui: &mut Ui, inputs: &mut Inputs) {
        let visit = matches!(self.kind, ShortKind::Dequeen | ShortKind::Mark | ShortKind::Sign | ShortKind::Lids);
        if visit || self.kind == ShortKind::End {
            inputs.line(ui, "Words", "anything else", &mut self.words);
        }
    }

    fn cautions(&self, ui: &mut Ui) {
        match self.kind {
            ShortKind::Dequeen => {
                parts::remark(
                    ui,
                    "Veil on, smoker only where no fire ban holds. Be sure it is she before you kill her.",
                );
            }
            ShortKind::Move | ShortKind::Swap => {
                parts::remark(
                    ui,
                    "Lift with the legs, or with two. Move nothing out of a yard where disease is suspected.",
                );
            }
            ShortKind::Unite | ShortKind::Split => {
                parts::remark(ui, "Move no frames to or from a colony where disease is suspected.");
            }
            ShortKind::Bar => {
                parts::remark(ui, self.bar.follows());
                if self.bar.is_disease() {
                    let what = "Isolate it, report under the local rules. Never requeen it, move no gear.";
                    Caution::new("Stop here.", what).show(ui);
                }
            }
            ShortKind::End if self.why == EndWhy::Destroyed => {
                Caution::new(
                    "Notifiable disease: the local rules say how.",
                    "Destroy nothing before the officer has seen it, and burn or scorch gear as told.",
                )
                .show(ui);
            }
            _ => {}
        }
    }
}
