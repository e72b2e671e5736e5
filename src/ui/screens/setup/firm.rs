//! Firm and home: the name, where runs begin, which half of the year is the season, and the clock.

use egui::Ui;

use crate::domain::change::Change;
use crate::domain::place::Hemisphere;
use crate::domain::place_words::read_place;
use crate::domain::settings::Firm;
use crate::ui::action::Outbox;
use crate::ui::scene::Scene;
use crate::ui::screens::form;
use crate::ui::screens::start::home::{hemisphere_words, place_words, utc_offset, zone_words};
use crate::ui::theme;
use crate::ui::widgets::{Button, Chip, Field, parts};

/// What is typed; nothing until something is.
#[derive(Clone, Debug, Default)]
pub(super) struct Draft {
    version: Option<u64>,
    name: String,
    home_name: String,
    place: String,
}

const COLUMN: f32 = 120.0;

/// Draws the part.
pub(super) fn show(ui: &mut Ui, scene: &Scene, draft: &mut Draft, out: &mut Outbox) {
    let t = theme::tokens(ui);
    let firm = &scene.world.firm;
    if draft.version != Some(scene.version) {
        *draft = Draft {
            version: Some(scene.version),
            name: firm.name.clone(),
            home_name: firm.home_name.clone(),
            place: firm.home.map(place_words).unwrap_or_default(),
        };
    }
    parts::heading(ui, "Firm and home", "");
    let mut enter = false;
    let response = Field::new("Name").column(COLUMN).width(320.0).show(ui, &mut draft.name);
    enter |= form::entered(ui, &response);
    let response = Field::new("Home is called").column(COLUMN).width(320.0).show(ui, &mut draft.home_name);
    enter |= form::entered(ui, &response);
    let read = read_place(&draft.place);
    let typed = !draft.place.trim().is_empty();
    let error = read.as_ref().err().filter(|_| typed).map(String::as_str);
    let field = Field::new("Home lies at").column(COLUMN).width(320.0).hint("latitude, longitude");
    let response = field.error(error).help("Latitude, then longitude.").show(ui, &mut draft.place);
    enter |= form::entered(ui, &response);
    let moved = firm.home.map(place_words).unwrap_or_default() != draft.place.trim();
    let next = Firm {
        name: draft.name.trim().to_owned(),
        home_name: draft.home_name.trim().to_owned(),
        home: if moved { read.clone().ok() } else { firm.home },
        ..firm.clone()
    };
    let why_not = if typed && read.is_err() {
        Some("The place cannot be read. Type latitude, then longitude.")
    } else if next == *firm {
        Some("Nothing is altered.")
    } else {
        None
    };
    let save = Button::primary("Keep these").key("Enter").why_not(why_not).show(ui).clicked();
    if (save || enter) && why_not.is_none() {
        out.change(Change::SetFirm(Box::new(next)));
    }
    ui.add_space(8.0);
    parts::heading(ui, "Hemisphere", "");
    ui.horizontal(|ui| {
        for (words, hemisphere) in [("South", Hemisphere::South), ("North", Hemisphere::North)] {
            if Chip::choice(words, firm.hemisphere == hemisphere).show(ui).clicked() && firm.hemisphere != hemisphere {
                out.change(Change::SetFirm(Box::new(Firm { hemisphere, ..firm.clone() })));
            }
        }
    });
    parts::remark(ui, hemisphere_words(firm.hemisphere));
    ui.add_space(8.0);
    parts::heading(ui, "Clock and units", "");
    let offset = scene.world.settings.utc_offset();
    parts::pair(ui, COLUMN, "Local time", &zone_words(offset), t.text_primary);
    either(ui, scene, out, "Distances", "distance_in_miles", ["Kilometres", "Miles"]);
    either(ui, scene, out, "Paper", "letter_paper", ["A4", "Letter"]);
    if let Some(home) = firm.home {
        let by_place = utc_offset(home);
        if by_place != offset {
            let words = format!("Take {} from the longitude", zone_words(by_place));
            if Button::outlined(&words).small().show(ui).clicked() {
                let name = "utc_offset".to_owned();
                out.change(Change::SetSetting { name, value: f64::from(by_place) });
            }
        }
    }
    parts::remark(
        ui,
        "Daylight on the run is shown in local time. Half hours and summer time are set in Rules: local time ahead of UTC.",
    );
}

/// Two choices that are a setting of 0 or 1.
fn either(ui: &mut Ui, scene: &Scene, out: &mut Outbox, label: &str, setting: &str, choices: [&str; 2]) {
    let t = theme::tokens(ui);
    let now = scene.world.settings.get(setting).unwrap_or_default();
    ui.horizontal(|ui| {
        let (place, _) =
            ui.allocate_exact_size(egui::vec2(COLUMN - ui.spacing().item_spacing.x, 28.0), egui::Sense::hover());
        let font = theme::text::TABLE.font(crate::ui::theme::fonts::Weight::Regular);
        ui.painter().text(place.left_center(), egui::Align2::LEFT_CENTER, label, font, t.text_secondary);
        for (value, words) in [0.0, 1.0].into_iter().zip(choices) {
            if Chip::choice(words, now == value).show(ui).clicked() && now != value {
                out.change(Change::SetSetting { name: setting.to_owned(), value });
            }
        }
    });
}
