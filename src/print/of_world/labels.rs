//! Labels of colonies: their lid notes as they stand.

use crate::domain::day::Day;
use crate::domain::ids::ColonyId;
use crate::domain::standing::LidNote;
use crate::planner::outlook::Outlook;
use crate::print::job::{Label, LabelJob};
use crate::print::of_world::created;
use crate::print::sheet::Sheet;

/// The labels of these colonies in this order. Colonies without a standing (ended ones) have none.
pub fn label_job(outlook: &Outlook, colonies: &[ColonyId], sheet: Sheet, start_at: usize, today: Day) -> LabelJob {
    let labels = colonies.iter().filter_map(|colony| outlook.colonies.get(colony)).map(|view| label(&view.note));
    LabelJob {
        labels: labels.collect(),
        sheet,
        start_at,
        title: format!("Lid labels, {}", today.long()),
        language: "en".to_owned(),
        created: created(today),
        outlines: false,
    }
}

/// A lid note as a label.
pub fn label(note: &LidNote) -> Label {
    let steps = note.steps.iter().map(|code| (*code).to_owned());
    Label {
        lines: note.lines.clone(),
        small: note.small.clone(),
        boxes: steps.chain(note.boxes.iter().map(char::to_string)).collect(),
        day_and_by: !(note.boxes.is_empty() && note.steps.is_empty()),
    }
}

/// A lid note as plain text: three lines, then the small print.
pub fn text(note: &LidNote) -> String {
    let lines = note.lines.iter().chain(&note.small).filter(|line| !line.is_empty());
    let lines: Vec<&str> = lines.map(String::as_str).collect();
    lines.join("\n") + "\n"
}
