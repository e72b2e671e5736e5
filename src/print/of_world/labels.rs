//! Labels of colonies: their lid notes as they stand.

use std::collections::BTreeMap;

use crate::domain::day::Day;
use crate::domain::ids::ColonyId;
use crate::domain::standing::LidNote;
use crate::domain::world::World;
use crate::planner::outlook::Outlook;
use crate::print::job::{Label, LabelJob};
use crate::print::of_world::created;
use crate::print::sheet::Sheet;

/// The labels of these colonies in this order. Colonies without a standing (ended ones) have none.
pub fn label_job(
    world: &World,
    outlook: &Outlook,
    colonies: &[ColonyId],
    sheet: Sheet,
    start_at: usize,
    today: Day,
) -> LabelJob {
    let yards = yards_of_repeated_names(world);
    let views = colonies.iter().filter_map(|colony| Some((colony, outlook.colonies.get(colony)?)));
    let labels = views.map(|(colony, view)| label(&view.note, yards.get(colony).copied()));
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

/// The yards of the living colonies whose names other yards have too: on a sheet their labels look alike.
pub fn yards_of_repeated_names(world: &World) -> BTreeMap<ColonyId, &str> {
    let living = || world.colonies.values().filter(|colony| colony.is_living());
    let mut counts: BTreeMap<&str, u32> = BTreeMap::new();
    for colony in living() {
        *counts.entry(colony.name()).or_default() += 1;
    }
    let repeated = living().filter(|colony| counts.get(colony.name()).is_some_and(|count| *count > 1));
    repeated.filter_map(|colony| Some((colony.id, world.yards.get(&colony.yard()?)?.name.as_str()))).collect()
}

/// The small print, begun with the yard where one is to be named.
fn small_print(note: &LidNote, yard: Option<&str>) -> Vec<String> {
    yard.map(str::to_owned).into_iter().chain(note.small.iter().cloned()).collect()
}

/// A lid note as a label; `yard`: to be named in the small print.
pub fn label(note: &LidNote, yard: Option<&str>) -> Label {
    let steps = note.steps.iter().map(|code| (*code).to_owned());
    Label {
        lines: note.lines.clone(),
        small: small_print(note, yard),
        boxes: steps.chain(note.boxes.iter().map(char::to_string)).collect(),
        day_and_by: !(note.boxes.is_empty() && note.steps.is_empty()),
    }
}

/// A lid note as plain text: three lines, then the small print.
pub fn text(note: &LidNote, yard: Option<&str>) -> String {
    let small = small_print(note, yard);
    let lines = note.lines.iter().chain(&small).filter(|line| !line.is_empty());
    let lines: Vec<&str> = lines.map(String::as_str).collect();
    lines.join("\n") + "\n"
}
