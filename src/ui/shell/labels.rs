//! The label queue: lids whose note has changed since it was printed; and labels of chosen hives.

use egui::{ScrollArea, Ui};

use crate::domain::ids::ColonyId;
use crate::ui::action::{Action, FilePurpose, Outbox};
use crate::ui::scene::Scene;
use crate::ui::shell::ShellState;
use crate::ui::theme;
use crate::ui::theme::text::{self, Weighted as _};
use crate::ui::widgets::{Answer, Button, Field, MenuChip, Verb, boxes, checkbox, dialog, parts};
use crate::ui::written;

const WIDTH: f32 = 600.0;

/// The dialog, where it is open.
pub fn show(ui: &mut Ui, scene: &Scene, state: &mut ShellState, out: &mut Outbox) {
    if !state.labels_open {
        return;
    }
    let all: Vec<ColonyId> =
        if state.labels_of.is_empty() { scene.outlook.label_queue.clone() } else { state.labels_of.clone() };
    let chosen: Vec<ColonyId> = all.iter().copied().filter(|colony| !state.left_out.contains(colony)).collect();
    let sheet = scene.sheets.get(state.sheet.unwrap_or(scene.usual_sheet())).or(scene.sheets.first());
    let start: Option<u32> = state.start.trim().parse().ok().filter(|start| *start >= 1);
    let fits = sheet.zip(start).is_some_and(|(sheet, start)| start <= sheet.labels);
    let why_not = if chosen.is_empty() {
        Some("No label waits.")
    } else if !fits {
        Some("The first label must be one of the sheet.")
    } else {
        None
    };
    let words = match chosen.len() {
        1 => "Print 1 label".to_owned(),
        many => format!("Print {many} labels"),
    };
    let question = if state.labels_of.is_empty() { "Lid labels waiting" } else { "Lid labels" };
    let verbs = [Verb::plain("Close"), Verb::plain("Ruler page"), Verb::default(&words).why_not(why_not)];
    let answer = dialog(ui, "labels", question, &verbs, |ui| body(ui, scene, state, out, &all, start));
    let name = sheet.map(|sheet| sheet.name.clone()).unwrap_or_default();
    match answer {
        Some(Answer::Verb(1)) => out.push(Action::PrintCalibration { sheet: name, path: state.path.trim().to_owned() }),
        Some(Answer::Verb(2)) => {
            let path = state.path.trim().to_owned();
            let start = start.unwrap_or(1);
            out.push(Action::PrintLabels { colonies: chosen, sheet: name, start, path, note_printed: true });
            state.labels_open = false;
        }
        Some(_) => state.labels_open = false,
        None => {}
    }
}

fn body(ui: &mut Ui, scene: &Scene, state: &mut ShellState, out: &mut Outbox, all: &[ColonyId], start: Option<u32>) {
    if all.is_empty() {
        boxes::empty_state(ui, "No label waits.", "Labels wait here when a lid's note changes.");
        if let Some(file) = written::labels(scene) {
            written::show(ui, file, out);
        }
        return;
    }
    // Three lines of a lid note and the yard's name fit.
    ui.set_width(dialog::content_width(ui, WIDTH));
    ui.horizontal(|ui| {
        let names: Vec<&str> = scene.sheets.iter().map(|sheet| sheet.name.as_str()).collect();
        let taken = state.sheet.unwrap_or(scene.usual_sheet());
        let now = names.get(taken).copied().unwrap_or_default();
        if let Some(at) = MenuChip::new("Sheet", now).show(ui, &names) {
            state.sheet = Some(at);
        }
        let labels = scene.sheets.get(state.sheet.unwrap_or(taken)).map_or(1, |sheet| sheet.labels);
        let error = format!("1 to {labels}");
        let bad = start.is_none_or(|start| start > labels);
        Field::new("Start at label").width(56.0).error(bad.then_some(error.as_str())).show(ui, &mut state.start);
    });
    ui.horizontal(|ui| {
        let hint = format!("{}/labels {}.pdf", scene.prefs.folder, scene.today.iso());
        Field::new("File").width(300.0).hint(&hint).show(ui, &mut state.path);
        if Button::outlined("Browse").show(ui).clicked() {
            out.push(Action::Browse(FilePurpose::Save));
        }
    });
    if let Some(file) = written::labels(scene) {
        written::show(ui, file, out);
    }
    parts::remark(ui, "Print at actual size, 100 %. The ruler page shows whether the printer keeps to it.");
    let t = theme::tokens(ui);
    ui.spacing_mut().item_spacing.y = 4.0;
    ScrollArea::vertical().max_height(dialog::list_height(ui, 300.0, 256.0)).auto_shrink([false, true]).show_rows(
        ui,
        28.0,
        all.len(),
        |ui, rows| {
            for colony in rows.filter_map(|at| all.get(at)) {
                let Some(view) = scene.outlook.colonies.get(colony) else { continue };
                let row = scene.world.colonies.get(colony);
                let yard = row.and_then(|row| row.yard()).and_then(|yard| scene.world.yards.get(&yard));
                parts::line(ui, 28.0, |ui| {
                    let mut wanted = !state.left_out.contains(colony);
                    let words = view.note.lines.join(" / ");
                    if checkbox(ui, &mut wanted, &words).changed() {
                        state.left_out.retain(|out| out != colony);
                        if !wanted {
                            state.left_out.push(*colony);
                        }
                    }
                    let yard = yard.map_or("", |yard| yard.name.as_str());
                    let short = if view.note.shortened { ", name shortened" } else { "" };
                    ui.label(text::small(format!("{yard}{short}")).regular().color(t.text_secondary));
                });
            }
        },
    );
}
