//! Maps: the user's own pack, and online tiles, which are off until switched on.

use egui::Ui;

use crate::ui::action::{Action, FilePurpose, OnlineTiles, Outbox};
use crate::ui::scene::Scene;
use crate::ui::screens::form;
use crate::ui::theme;
use crate::ui::theme::text::{self, fact_and_way_out};
use crate::ui::widgets::{Button, Caution, Field, parts};

/// What is typed.
#[derive(Clone, Debug, Default)]
pub(super) struct Draft {
    pub path: String,
    url: String,
    attribution: String,
}

/// What a tile service learns: said where the tiles are switched on.
pub(super) const LEARNS: &str = "The tile service learns which parts of the map you look at and when, and your internet \
    address: with that, roughly where your yards are. It learns no names, hives or records.";

/// Draws the part.
pub(super) fn show(ui: &mut Ui, scene: &Scene, draft: &mut Draft, out: &mut Outbox) {
    let t = theme::tokens(ui);
    parts::heading(ui, "Map pack", "a PMTiles file on this computer, works without internet");
    match &scene.prefs.pack {
        Some(pack) => {
            if let Some(trouble) = &pack.trouble {
                let (fact, rest) = fact_and_way_out(trouble);
                Caution::new(fact, rest).show(ui);
            }
            ui.horizontal(|ui| {
                ui.label(text::body(pack.path.as_str()).color(t.text_primary));
                if pack.trouble.is_some() && Button::outlined("Look for it again").small().show(ui).clicked() {
                    out.push(Action::AddPack { path: pack.path.clone() });
                }
                if Button::outlined("Remove").small().name("Remove the map pack").show(ui).clicked() {
                    out.push(Action::RemovePack);
                }
            });
        }
        None => parts::remark(ui, "None. The coarse world map is always there."),
    }
    ui.horizontal(|ui| {
        let width = (ui.available_width() - 260.0).max(180.0);
        let response = Field::new("File").width(width).hint("island.pmtiles").show(ui, &mut draft.path);
        let enter = form::entered(ui, &response);
        if Button::outlined("Browse").show(ui).clicked() {
            out.push(Action::Browse(FilePurpose::Pack));
        }
        let why_not = draft.path.trim().is_empty().then_some("No file is named. Type its name, or browse.");
        let words = if scene.prefs.pack.is_some() { "Take this pack" } else { "Add the pack" };
        let pressed = Button::outlined(words).why_not(why_not).show(ui).clicked();
        if (pressed || enter) && why_not.is_none() {
            out.push(Action::AddPack { path: draft.path.trim().to_owned() });
        }
    });
    ui.add_space(12.0);
    online(ui, scene, draft, out);
}

fn online(ui: &mut Ui, scene: &Scene, draft: &mut Draft, out: &mut Outbox) {
    let t = theme::tokens(ui);
    let remark = if scene.prefs.online.is_some() { "on" } else { "off" };
    parts::heading(ui, "Tiles from the internet", remark);
    if let Some(tiles) = &scene.prefs.online {
        parts::pair(ui, 110.0, "Service", &tiles.url, t.text_primary);
        parts::pair(ui, 110.0, "Credit", &tiles.attribution, t.text_primary);
        Caution::new("Tiles come from the internet.", LEARNS).show(ui);
        ui.horizontal(|ui| {
            if Button::outlined("Switch off").show(ui).clicked() {
                out.push(Action::OnlineTiles(None));
            }
            if Button::outlined("Ask again").name("Ask for the tiles again").show(ui).clicked() {
                out.push(Action::OnlineTiles(Some(tiles.clone())));
            }
        });
        let words = "Where the map says that no tile has come: see to the connection and the address, then ask again. \
            The map packs show meanwhile.";
        parts::remark(ui, words);
        return;
    }
    Caution::new("Off.", LEARNS).show(ui);
    let url = draft.url.trim().to_owned();
    let error = address_error(&url);
    let hint = "https://tiles.example/{z}/{x}/{y}.png";
    let field = Field::new("Address").column(110.0).width(430.0).hint(hint);
    let response = field.error(error.filter(|_| !url.is_empty())).show(ui, &mut draft.url);
    let mut enter = form::entered(ui, &response);
    let field = Field::new("Credit").column(110.0).width(430.0).hint("as the service asks for it");
    let response = field.show(ui, &mut draft.attribution);
    enter |= form::entered(ui, &response);
    let attribution = draft.attribution.trim().to_owned();
    let why_not = if let Some(error) = error {
        Some(error)
    } else if attribution.is_empty() {
        Some("The credit is empty. Type what the service asks to be shown on the map.")
    } else {
        None
    };
    let pressed = Button::outlined("Switch on").why_not(why_not).show(ui).clicked();
    if (pressed || enter) && why_not.is_none() {
        out.push(Action::OnlineTiles(Some(OnlineTiles { url, attribution })));
    }
}

fn address_error(url: &str) -> Option<&'static str> {
    let web = url.starts_with("https://") || url.starts_with("http://");
    let numbers = ["{z}", "{x}", "{y}"].iter().all(|part| url.contains(part));
    (!web || !numbers)
        .then_some("Give the address as the service does: it begins with https:// and holds {z}, {x} and {y}.")
}
