//! The foot of the card: record a find, introduce, and everything else under More.

use egui::Ui;

use crate::ui::card::forms::{Begin, ShortKind};
use crate::ui::card::model::Card;
use crate::ui::widgets::{Button, Entry, menu};

/// The entries under More, in order. The last takes something away.
const MORE: [(&str, ShortKind); 11] = [
    ("Dequeen", ShortKind::Dequeen),
    ("Mark the queen", ShortKind::Mark),
    ("Sign or temper", ShortKind::Sign),
    ("Move", ShortKind::Move),
    ("Swap places", ShortKind::Swap),
    ("Lids swapped", ShortKind::Lids),
    ("Rename", ShortKind::Rename),
    ("Split", ShortKind::Split),
    ("Unite", ShortKind::Unite),
    ("Bar", ShortKind::Bar),
    ("End the colony", ShortKind::End),
];

/// Draws it; what was pressed.
pub(crate) fn show(ui: &mut Ui, card: &Card) -> Option<Begin> {
    let mut press = None;
    let ended = card.ended.as_ref().map(|ended| format!("{ended} Its records can be amended."));
    let why = ended.as_deref();
    ui.horizontal(|ui| {
        if Button::primary("Record find").key("Enter").why_not(why).show(ui).clicked() {
            press = Some(Begin::Find(String::new()));
        }
        if Button::outlined("Introduce").key("I").why_not(why).show(ui).clicked() {
            press = Some(Begin::Introduce(None));
        }
        let more = Button::outlined("More").opens().why_not(why).show(ui);
        if why.is_none() {
            press = press.take().or(more_menu(ui, &more, card));
        }
    });
    press
}

fn more_menu(ui: &Ui, more: &egui::Response, card: &Card) -> Option<Begin> {
    let lift = card.warnings.iter().find_map(|warning| warning.lift);
    let no_bar = lift.is_none().then_some("No bar holds that can be lifted.");
    let no_queen = card.queen_id().is_none().then_some("No queen is recorded here.");
    let mut entries: Vec<Entry<'_>> = MORE[..MORE.len() - 1].iter().map(|(words, _)| Entry::new(words)).collect();
    let no_plan = (!card.planned).then_some("No plan is open here.");
    entries.push(Entry::new("Lift the bar").why_not(no_bar));
    entries.push(Entry::new("Call off the plan").why_not(no_plan));
    entries.push(Entry::new("Queen's details").why_not(no_queen));
    entries.push(Entry::new(MORE[MORE.len() - 1].0).danger());
    let at = menu(ui, more, "More", &entries)?;
    let shorts = MORE.len() - 1;
    match at {
        at if at < shorts => MORE.get(at).map(|(_, kind)| Begin::Short(*kind)),
        at if at == shorts => lift.map(Begin::LiftBar),
        at if at == shorts + 1 => Some(Begin::Short(ShortKind::CallOff)),
        at if at == shorts + 2 => card.queen_id().map(Begin::Details),
        _ => Some(Begin::Short(ShortKind::End)),
    }
}
