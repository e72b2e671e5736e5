//! Sources: breeders and own lines, added and renamed.

use egui::Ui;

use crate::domain::change::Change;
use crate::domain::decide::decide;
use crate::domain::ids::SourceId;
use crate::domain::queen::Source;
use crate::ui::action::Outbox;
use crate::ui::scene::Scene;
use crate::ui::screens::form;
use crate::ui::theme::metrics::height;
use crate::ui::widgets::{Button, Chip, Column, Field, Table, boxes, parts};

/// The source that is chosen, and what is typed for it.
#[derive(Clone, Debug, Default)]
pub(super) struct Draft {
    chosen: Option<SourceId>,
    name: String,
    own: bool,
    error: Option<String>,
}

/// Draws the part.
pub(super) fn show(ui: &mut Ui, scene: &Scene, draft: &mut Draft, out: &mut Outbox) {
    parts::heading(ui, "Sources", "where queens come from: breeders and own lines");
    let mut sources: Vec<&Source> = scene.world.sources.values().collect();
    sources.sort_by(|one, other| one.name.cmp(&other.name));
    if sources.is_empty() {
        boxes::empty_state(ui, "No source is known.", "Add one here; parcels and imports add theirs by name.");
    } else {
        let room = height::HEADER + height::ROW * sources.len().min(9) as f32;
        let columns = [Column::rest("Name", 1.0), Column::words("Kind", 140.0), Column::number("Queens", 80.0)];
        let at = sources.iter().position(|source| Some(source.id) == draft.chosen);
        let table = Table::new("Sources", &columns).selected(at).max_height(room);
        let done = table.show(ui, sources.len(), |row| {
            if let Some(source) = sources.get(row.index) {
                row.title(&source.name);
                row.secondary(if source.own { "own line" } else { "outside breeder" });
                row.count(scene.world.queens.values().filter(|queen| queen.source == Some(source.id)).count());
            }
        });
        if let Some(source) = done.selected.and_then(|at| sources.get(at)) {
            *draft = Draft { chosen: Some(source.id), name: source.name.clone(), own: source.own, error: None };
        }
    }
    let known = draft.chosen.and_then(|id| scene.world.sources.get(&id));
    ui.add_space(4.0);
    parts::heading(ui, known.map_or("A new source", |source| source.name.as_str()), "");
    let mut enter = false;
    ui.horizontal(|ui| {
        let response = Field::new("Name").salt("source name").width(240.0).show(ui, &mut draft.name);
        enter = form::entered(ui, &response);
        if response.changed() {
            draft.error = None;
        }
        for (words, own) in [("Own line", true), ("Outside breeder", false)] {
            if Chip::choice(words, draft.own == own).show(ui).clicked() {
                draft.own = own;
            }
        }
    });
    if let Some(error) = &draft.error {
        parts::remark(ui, error);
    }
    let nothing = match known {
        Some(source) => source.name == draft.name.trim() && source.own == draft.own,
        None => draft.name.trim().is_empty(),
    };
    let why_not = nothing.then_some(if known.is_some() { "Nothing is altered." } else { "It has no name. Type one." });
    ui.horizontal(|ui| {
        let words = if known.is_some() { "Keep it so" } else { "Add the source" };
        let save = Button::primary(words).why_not(why_not).show(ui).clicked();
        if (save || enter) && !nothing {
            let id = draft.chosen.unwrap_or_else(|| SourceId(out.new_id()));
            let change = Change::PutSource(Source { id, name: draft.name.trim().to_owned(), own: draft.own });
            match decide(&scene.world, &change, scene.today) {
                Ok(_) => {
                    out.change(change);
                    *draft = Draft::default();
                }
                Err(refusal) => draft.error = Some(format!("{refusal}.")),
            }
        }
        if draft.chosen.is_some() && Button::outlined("A new one").show(ui).clicked() {
            *draft = Draft::default();
        }
    });
}
