//! Bring in: a file with yards and hives is named, browsed for or dropped on the window, and read for its preview.

use egui::Ui;

use crate::ui::action::{Action, FilePurpose, ImportOptions, Outbox};
use crate::ui::scene::Scene;
use crate::ui::screens::form;
use crate::ui::screens::setup::{Section, SetupState, import};
use crate::ui::widgets::{Button, Caution, Field, Icon, boxes, parts};

/// What is typed and what went wrong.
#[derive(Clone, Debug, Default)]
pub(super) struct Draft {
    pub path: String,
    pub error: Option<String>,
}

/// The headings that are understood, as said to the user.
const HEADINGS: &str = "yard, latitude, longitude, hive, row, place, queen born, dot, source, introduced, method, \
    dequeened, last look, found, note, gate opens, gate closes, minutes";

/// A file dropped on the window is read at once.
pub(super) fn take_dropped(ui: &Ui, state: &mut SetupState, out: &mut Outbox) {
    let dropped = ui.input(|input| input.raw.dropped_files.first().map(|file| file.path().display().to_string()));
    if let Some(path) = dropped.filter(|path| !path.is_empty()) {
        state.section = Section::BringIn;
        state.bring_in.path = path;
        read(state, out);
    }
}

/// Draws the part.
pub(super) fn show(ui: &mut Ui, scene: &Scene, state: &mut SetupState, out: &mut Outbox) {
    parts::heading(ui, "Bring in yards and hives", "CSV, GeoJSON or GPX");
    if state.reading {
        import::waiting(ui, scene, out);
        if scene.job.is_none() {
            parts::remark(ui, "The preview follows.");
        }
        return;
    }
    let mut go = false;
    ui.horizontal(|ui| {
        let width = (ui.available_width() - 260.0).max(180.0);
        let response = Field::new("File").width(width).hint("hives.csv").show(ui, &mut state.bring_in.path);
        go = form::entered(ui, &response);
        if Button::outlined("Browse").show(ui).clicked() {
            out.push(Action::Browse(FilePurpose::Import));
        }
        let empty = state.bring_in.path.trim().is_empty();
        let why_not = empty.then_some("No file is named. Type its name, browse, or drop it on the window.");
        go |= Button::primary("Read the file").why_not(why_not).show(ui).clicked();
    });
    if let Some(words) = state.bring_in.error.clone() {
        let (fact, rest) = words.split_once(". ").unwrap_or((&words, ""));
        Caution::new(&format!("{}.", fact.trim_end_matches('.')), rest).show(ui);
    }
    parts::remark(ui, "Or drop a file on the window. Nothing is written before you have seen what it would do.");
    ui.add_space(6.0);
    boxes::note(
        ui,
        Icon::Into,
        "Headings are known as plain trade words, in any order:",
        &format!("{HEADINGS}. Others are assigned in the preview."),
    );
    boxes::note(
        ui,
        Icon::Undo,
        "",
        "A hive whose queen was caged in on a day has its looks at once. The whole import is one change: one undo takes it back.",
    );
    if go && !state.bring_in.path.trim().is_empty() {
        read(state, out);
    }
}

fn read(state: &mut SetupState, out: &mut Outbox) {
    state.bring_in.error = None;
    state.reading = true;
    state.import = import::ImportState::default();
    let path = state.bring_in.path.trim().to_owned();
    out.push(Action::ReadImport { path, options: ImportOptions::default() });
}
