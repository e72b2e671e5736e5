//! Backups, restoring one, and checking the register through.

use egui::Ui;

use crate::ui::action::{Action, FilePurpose, Outbox};
use crate::ui::scene::Scene;
use crate::ui::screens::setup::export::register_name;
use crate::ui::theme;
use crate::ui::theme::metrics::height;
use crate::ui::theme::text;
use crate::ui::widgets::progress::grouped;
use crate::ui::widgets::{Answer, Button, Column, Field, Icon, Table, Verb, boxes, dialog, parts};

/// What is chosen and typed.
#[derive(Clone, Debug, Default)]
pub(super) struct Draft {
    pub path: String,
    row: Option<usize>,
    /// The backup that is asked about.
    restore: Option<String>,
}

/// Draws the part.
pub(super) fn show(ui: &mut Ui, scene: &Scene, draft: &mut Draft, out: &mut Outbox) {
    parts::heading(
        ui,
        "Backups",
        "a checked copy at each start; the last ten are kept; times by this computer's clock",
    );
    if scene.backups.is_empty() {
        boxes::empty_state(ui, "No backup is listed.", "One is made at each start, once there is something to keep.");
    } else {
        let room = height::HEADER + height::ROW * scene.backups.len().min(10) as f32;
        let columns = [
            Column::words("Made", 150.0),
            Column::words("Why", 130.0),
            Column::number("Size", 90.0),
            Column::rest("File", 1.0),
        ];
        let table = Table::new("Backups, newest first", &columns).selected(draft.row).max_height(room);
        let done = table.show(ui, scene.backups.len(), |row| {
            if let Some(backup) = scene.backups.get(row.index) {
                row.title(&backup.at);
                row.secondary(if backup.why.is_empty() { "at a start" } else { &backup.why });
                row.text(&format!("{} kB", grouped(backup.bytes.div_ceil(1024))));
                row.secondary(backup.path.rsplit(['/', '\\']).next().unwrap_or(&backup.path));
            }
        });
        draft.row = done.selected.or(draft.row);
    }
    if let Some((folder, _)) = scene.backups.first().and_then(|backup| backup.path.rsplit_once(['/', '\\'])) {
        parts::remark(ui, &format!("They lie in {folder}. Their names carry the time in UTC."));
    }
    ui.horizontal(|ui| {
        let chosen = draft.row.and_then(|row| scene.backups.get(row));
        let why_not = chosen.is_none().then_some("No backup is chosen. Choose one in the list.");
        if Button::outlined("Restore this backup").why_not(why_not).show(ui).clicked() {
            draft.restore = chosen.map(|backup| backup.path.clone());
        }
        if Button::outlined("List again").show(ui).clicked() {
            out.push(Action::ListBackups);
        }
    });
    ui.add_space(10.0);
    parts::heading(ui, "A copy elsewhere", "as on a stick; checked when it is written");
    ui.horizontal(|ui| {
        let name = register_name(scene);
        let hint = format!("{}/{name} copy {}.lidnote", scene.prefs.folder, scene.today.iso());
        let width = (ui.available_width() - 260.0).max(180.0);
        Field::new("File").width(width).hint(&hint).show(ui, &mut draft.path);
        if Button::outlined("Browse").show(ui).clicked() {
            out.push(Action::Browse(FilePurpose::Save));
        }
        if Button::outlined("Back up now").show(ui).clicked() {
            out.push(Action::BackUp { path: draft.path.trim().to_owned() });
        }
    });
    ui.add_space(10.0);
    check(ui, scene, out);
    ask(ui, scene, draft, out);
}

fn check(ui: &mut Ui, scene: &Scene, out: &mut Outbox) {
    let t = theme::tokens(ui);
    parts::heading(ui, "Check the register", "the file, and that its history leads to what is there");
    let why_not = scene.job.is_some().then_some("Other work is going on. Wait until it is done.");
    if Button::outlined("Check it through").icon(Icon::Tick).why_not(why_not).show(ui).clicked() {
        out.push(Action::Verify);
    }
    match &scene.verified {
        None => {}
        Some(lines) if lines.is_empty() => boxes::note(ui, Icon::Tick, "Nothing is wrong.", ""),
        Some(lines) => {
            for line in lines {
                ui.label(text::table(line.as_str()).color(t.text_primary));
            }
        }
    }
}

/// Undo cannot mend a restore, so it is asked.
fn ask(ui: &mut Ui, scene: &Scene, draft: &mut Draft, out: &mut Outbox) {
    let Some(path) = draft.restore.clone() else { return };
    let made = scene.backups.iter().find(|backup| backup.path == path).map_or("", |backup| backup.at.as_str());
    let question = format!("Go back to the backup of {made}?");
    let verbs = [Verb::default("Stay"), Verb::danger("Restore it")];
    let answer = dialog(ui, "restore", &question, &verbs, |ui| {
        let t = theme::tokens(ui);
        let words = "Everything recorded since is left out of the register. Undo cannot bring it back, but the file as \
            it is now is kept beside it.";
        ui.label(text::body(words).color(t.text_primary));
    });
    match answer {
        Some(Answer::Verb(1)) => {
            out.push(Action::Restore { path });
            draft.restore = None;
        }
        Some(_) => draft.restore = None,
        None => {}
    }
}
