//! Export: CSV that can be brought in again, GeoJSON of the yards, or the register as it is.

use egui::Ui;

use crate::ui::action::{Action, ExportFormat, FilePurpose, Outbox};
use crate::ui::scene::Scene;
use crate::ui::widgets::{Button, Chip, Field, Icon, boxes, parts};

/// What is chosen and typed.
#[derive(Clone, Debug)]
pub(super) struct Draft {
    pub path: String,
    format: ExportFormat,
}

impl Default for Draft {
    fn default() -> Self {
        Self { path: String::new(), format: ExportFormat::Csv }
    }
}

const FORMATS: [(ExportFormat, &str, &str, &str); 3] = [
    (
        ExportFormat::Csv,
        "CSV",
        "hives {day}.csv",
        "Every hive with its past, parcels, plans and runs: Bring in reads it all back. Undo and its history stay behind.",
    ),
    (ExportFormat::GeoJson, "GeoJSON", "yards {day}.geojson", "The yards with their places, for maps (RFC 7946)."),
    (
        ExportFormat::Register,
        "Whole register",
        "{register} copy {day}.lidnote",
        "One file with everything, history included. Lidnote opens it as a register.",
    ),
];

/// The register's name without folder and ending, as its copies are called.
pub(super) fn register_name(scene: &Scene) -> String {
    let path = scene.register.as_ref().map_or("", |register| register.path.as_str());
    let name = path.rsplit(['/', '\\']).next().unwrap_or(path);
    name.strip_suffix(".lidnote").unwrap_or(name).to_owned()
}

/// Draws the part.
pub(super) fn show(ui: &mut Ui, scene: &Scene, draft: &mut Draft, out: &mut Outbox) {
    parts::heading(ui, "Export", "nothing in the register changes");
    ui.horizontal(|ui| {
        for (format, words, _, _) in FORMATS {
            if Chip::choice(words, draft.format == format).show(ui).clicked() {
                draft.format = format;
            }
        }
    });
    let Some((_, words, usual, about)) = FORMATS.iter().find(|(format, ..)| *format == draft.format) else { return };
    parts::remark(ui, about);
    ui.horizontal(|ui| {
        let usual = usual.replace("{day}", &scene.today.iso()).replace("{register}", &register_name(scene));
        let hint = format!("{}/{usual}", scene.prefs.folder);
        let width = (ui.available_width() - 130.0).max(180.0);
        Field::new("File").width(width).hint(&hint).show(ui, &mut draft.path);
        if Button::outlined("Browse").show(ui).clicked() {
            out.push(Action::Browse(FilePurpose::Save));
        }
    });
    let why_not = scene.job.is_some().then_some("Other work is going on. Wait until it is done.");
    let words = if draft.format == ExportFormat::Register { "the whole register" } else { words };
    if Button::primary(&format!("Export {words}")).icon(Icon::Out).why_not(why_not).show(ui).clicked() {
        out.push(Action::Export { format: draft.format, path: draft.path.trim().to_owned() });
    }
    boxes::note(
        ui,
        Icon::File,
        "",
        "An empty file name writes to the usual folder. A file of that name is not written over.",
    );
}
