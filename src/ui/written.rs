//! A file that was written, where it belongs: its name, to be opened, or its path to be copied.

use egui::{Label, Ui};

use crate::domain::ids::{ColonyId, RunId};
use crate::ui::action::{Action, Outbox};
use crate::ui::scene::{Contents, FileWritten, Scene};
use crate::ui::theme;
use crate::ui::theme::text;
use crate::ui::widgets::{Button, parts};

/// The newest file with the label of a hive.
pub fn label_of(scene: &Scene, colony: ColonyId) -> Option<&FileWritten> {
    scene.written.iter().find(|file| matches!(&file.of, Contents::Labels(hives) if hives.contains(&colony)))
}

/// The newest file with labels.
pub fn labels(scene: &Scene) -> Option<&FileWritten> {
    scene.written.iter().find(|file| matches!(file.of, Contents::Labels(_)))
}

/// The files of a run and the labels of its hives, newest first.
pub fn of_run<'a>(scene: &'a Scene, run: RunId, hives: &'a [ColonyId]) -> impl Iterator<Item = &'a FileWritten> {
    scene.written.iter().filter(move |file| match &file.of {
        Contents::Run(of) => *of == run,
        Contents::Labels(of) => of == hives,
        Contents::Other => false,
    })
}

/// One line: what it is and where it lies, then what can be done with it.
pub fn show(ui: &mut Ui, file: &FileWritten, out: &mut Outbox) {
    let t = theme::tokens(ui);
    let (folder, name) = split(&file.path);
    parts::line(ui, 28.0, |ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        if Button::text("Open").name(&format!("Open {name}")).small().show(ui).clicked() {
            out.push(Action::OpenFile { path: file.path.clone() });
        }
        if Button::text("Copy path").name(&format!("Copy the path of {name}")).small().show(ui).clicked() {
            ui.copy_text(file.path.clone());
        }
        let words = if folder.is_empty() { name.to_owned() } else { format!("{name}, in {folder}") };
        ui.add(Label::new(text::small(words).color(t.text_secondary)).truncate());
    });
}

/// Folder and name of a path.
fn split(path: &str) -> (&str, &str) {
    path.rsplit_once(['/', '\\']).unwrap_or(("", path))
}

#[cfg(test)]
mod tests {
    use super::split;

    #[test]
    fn a_path_is_split_behind_its_last_folder() {
        assert_eq!(split("/home/mk/Documents/labels 2026-11-23.pdf"), ("/home/mk/Documents", "labels 2026-11-23.pdf"));
        assert_eq!(split("C:\\Users\\mk\\labels.pdf"), ("C:\\Users\\mk", "labels.pdf"));
        assert_eq!(split("labels.pdf"), ("", "labels.pdf"));
    }
}
