//! The panel "Give out": from which parcel, to which hives, on which day and how; what follows and what is left out.

use egui::{Ui, vec2};

use crate::domain::birth_words::{birth_words, example, read_birth};
use crate::domain::parcel::ParcelKind;
use crate::domain::standing::age::age_words;
use crate::domain::visit::Method;
use crate::ui::scene::Scene;
use crate::ui::screens::form;
use crate::ui::screens::programme::give::{GiveModel, Old, Way};
use crate::ui::screens::programme::model::{InHandModel, ParcelRow};
use crate::ui::screens::programme::{ProgrammeState, methods};
use crate::ui::theme;
use crate::ui::theme::metrics::height;
use crate::ui::theme::text::{self, Weighted as _};
use crate::ui::widgets::{Button, Caution, Field, MenuChip, boxes, chip, parts};

/// Width of the captions.
const COLUMN: f32 = 82.0;
/// Width of a long field.
const LONG: f32 = 290.0;

/// Draws the panel.
pub(super) fn show(ui: &mut Ui, scene: &Scene, state: &mut ProgrammeState, model: &InHandModel, giving: &GiveModel) {
    ui.spacing_mut().item_spacing.y = 9.0;
    parts::heading(ui, "Give out", "");
    if model.open.is_empty() {
        boxes::empty_state(ui, "Nothing to give.", "Take a parcel in first: press A.");
        return;
    }
    from(ui, scene, state, model);
    let help = to_help(giving);
    let error = giving.not_understood.first().map(|word| format!("{word} fits no hive."));
    let field = Field::new("To").column(COLUMN).width(LONG).hint("Heath yard, all except 7 and 12").key("G");
    let response = field.error(error.as_deref()).help(&help).show(ui, &mut state.asked.to);
    if std::mem::take(&mut state.to_wanted) {
        // Only now, so that the letter that asked for it is not typed into it.
        response.request_focus();
        ui.request_repaint();
    }
    // Enter in a field is not for the table of parcels beside it.
    form::entered(ui, &response);
    if response.changed() {
        state.asked.all_the_same = false;
        state.asked.instead = false;
    }
    let help = giving.day.map_or(String::new(), crate::domain::day::Day::with_weekday);
    let hint = format!("today, +2, {}", scene.today.plus(2).short().to_lowercase());
    let field = Field::new("Day").column(COLUMN).width(120.0).hint(&hint);
    let response = field.error(giving.day_error.as_deref()).help(&help).show(ui, &mut state.asked.day);
    form::entered(ui, &response);
    how(ui, scene, state);
    old_queen(ui, state, giving);
    if !giving.ahead {
        let field = Field::new("Not found").column(COLUMN).width(LONG).hint("7 and 12");
        let response = field.show(ui, &mut state.asked.not_found);
        form::entered(ui, &response);
        let parcel = state.chosen.and_then(|id| scene.world.parcels.get(&id));
        let born = parcel.map_or(String::new(), |parcel| birth_words(parcel.born, &scene.world));
        let read = read_birth(&state.asked.born, &scene.world, scene.today);
        let error = read.as_ref().err().map(|error| format!("{error}."));
        let example = example(scene.today);
        let (hint, help) = match (&read, born.is_empty()) {
            (Ok(birth), _) if !birth.is_unknown() => {
                (born.as_str(), age_words(*birth, &scene.world.firm, &scene.world.settings, scene.today))
            }
            (_, true) => (example.as_str(), "empty: not known".to_owned()),
            (_, false) => (born.as_str(), "empty: as the parcel says".to_owned()),
        };
        let field = Field::new("Born").column(COLUMN).width(230.0).hint(hint).help(&help).error(error.as_deref());
        let response = field.show(ui, &mut state.asked.born);
        form::entered(ui, &response);
        let response = Field::new("By").column(COLUMN).width(60.0).show(ui, &mut state.asked.by);
        form::entered(ui, &response);
    }
    ui.add_space(2.0);
    parts::rule(ui);
    if !giving.follows.is_empty() {
        ui.label(text::table("What follows").semibold().color(theme::tokens(ui).text_primary));
        ui.scope(|ui| {
            ui.spacing_mut().item_spacing.y = 0.0;
            for (number, words) in &giving.follows {
                parts::figure(ui, 34.0, &number.to_string(), words);
            }
        });
    }
    left_out(ui, state, giving);
    if let Some(why) = giving.why_not.as_deref().filter(|_| !state.asked.to.trim().is_empty()) {
        boxes::note(ui, crate::ui::widgets::Icon::Bar, "", why);
    }
    Caution::new(
        "Not found is not given.",
        "Where the old queen is not found, enter ?q: the new one comes back in hand.",
    )
    .show(ui);
}

fn from(ui: &mut Ui, scene: &Scene, state: &mut ProgrammeState, model: &InHandModel) {
    let words = |row: &ParcelRow| {
        if row.awaited { format!("{}, {}", row.source, row.arrived) } else { format!("{}, {}", row.source, row.held) }
    };
    let names: Vec<String> = model.open.iter().map(words).collect();
    let chosen = state.chosen.and_then(|chosen| model.parcel(chosen));
    let now = chosen.map_or("none".to_owned(), words);
    let note = chosen.filter(|row| !row.awaited).map_or(String::new(), |row| format!("{} in hand", row.hand.left));
    let picked =
        parts::captioned(ui, COLUMN, "From", |ui| MenuChip::unnamed("From", &now).note(&note).show(ui, &names));
    if let Some(row) = picked.and_then(|at| model.open.get(at)) {
        state.choose(scene, row.id);
    }
}

fn to_help(giving: &GiveModel) -> String {
    let taken = giving.given.len() + giving.not_found.len();
    if giving.of == 0 {
        return "Also: B03-B09, or pallet 3".to_owned();
    }
    format!("{taken} of {} hives. Also: B03-B09, or pallet 3", giving.of)
}

fn how(ui: &mut Ui, scene: &Scene, state: &mut ProgrammeState) {
    let kind = state.chosen.and_then(|id| scene.world.parcels.get(&id)).map_or(ParcelKind::CagedQueens, |it| it.kind);
    let words = |method: &Method| match method {
        Method::Caged => "Caged",
        Method::PushIn => "Push-in cage",
        Method::Cell => "Mature cell",
        Method::Virgin => "Virgin",
        Method::Nuc => "Nuc united",
        Method::OwnRaising => "Own raising",
    };
    let of: Vec<(&str, Method)> = methods(kind).iter().map(|method| (words(method), *method)).collect();
    parts::captioned(ui, COLUMN, "How", |ui| chip::choose(ui, &of, &mut state.asked.method, false));
}

fn old_queen(ui: &mut Ui, state: &mut ProgrammeState, giving: &GiveModel) {
    let of = [("Same visit", Old::SameVisit), ("Days before", Old::DaysBefore), ("None", Old::None)];
    parts::captioned(ui, COLUMN, "Old queen", |ui| chip::choose(ui, &of, &mut state.asked.old, false));
    if state.asked.old == Old::DaysBefore {
        let on = state.asked.days_before.trim().parse::<i32>().ok().filter(|days| (1..=14).contains(days));
        let help = match (on, giving.day) {
            (Some(days), Some(day)) => format!("removed {}", day.plus(-days).with_weekday()),
            _ => String::new(),
        };
        let error = on.is_none().then_some("Type 1 to 14 days.");
        let field = Field::new("Days").column(COLUMN).width(60.0).error(error).help(&help);
        field.show(ui, &mut state.asked.days_before);
    }
}

fn left_out(ui: &mut Ui, state: &mut ProgrammeState, giving: &GiveModel) {
    if giving.left_out.is_empty() {
        return;
    }
    let t = theme::tokens(ui);
    ui.add_space(4.0);
    ui.label(text::table("Left out").semibold().color(t.text_primary));
    ui.scope(|ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 2.0);
        for out in &giving.left_out {
            // Words beside a button stand in its middle.
            let line = if out.way == Way::Closed { text::TABLE.line } else { height::BUTTON_SMALL };
            ui.spacing_mut().interact_size.y = line;
            let names = listed(&out.names);
            let words = format!("{names}: {}.", out.why);
            ui.horizontal_wrapped(|ui| {
                let plain = out.why == "by you";
                let shown = if plain { text::table(words) } else { text::table(words).semibold() };
                ui.label(shown.color(t.text_primary));
                match out.way {
                    Way::Closed => {}
                    Way::AllTheSame => {
                        let name = format!("Give all the same: {names}");
                        if Button::text("Give all the same").name(&name).show(ui).clicked() {
                            state.asked.all_the_same = true;
                        }
                    }
                    Way::Instead => {
                        let name = format!("Give from this parcel instead: {names}");
                        if Button::text("Give from this parcel instead").name(&name).show(ui).clicked() {
                            state.asked.instead = true;
                        }
                    }
                }
            });
        }
    });
}

/// At most eight names, then how many more.
fn listed(names: &[String]) -> String {
    const SHOWN: usize = 8;
    let more = names.len().saturating_sub(SHOWN);
    let first: Vec<&str> = names.iter().take(SHOWN).map(String::as_str).collect();
    if more == 0 { first.join(", ") } else { format!("{} and {more} more", first.join(", ")) }
}
