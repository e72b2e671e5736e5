//! The foot of the card: record a find, introduce, and everything else under More.

use egui::{Key, Modifiers, Popup, Ui};

use crate::ui::card::forms::{Begin, ShortKind};
use crate::ui::card::model::Card;
use crate::ui::widgets::{Button, Entry, focus, menu};

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
        // Where disease is suspected no queen is offered; one that was given is recorded under More.
        if !card.is_suspected() && Button::outlined("Introduce").key("I").why_not(why).show(ui).clicked() {
            press = Some(Begin::Introduce(None));
        }
        let more = Button::outlined("More").key("O").opens().why_not(why).show(ui);
        if why.is_none() {
            if focus::letters_are_free(ui) && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::O)) {
                Popup::open_id(ui, Popup::default_response_id(&more));
            }
            press = press.take().or(more_menu(ui, &more, card));
        }
    });
    press
}

fn more_menu(ui: &Ui, more: &egui::Response, card: &Card) -> Option<Begin> {
    let lift = card.warnings.iter().find_map(|warning| warning.lift);
    let (last, shorts) = MORE.split_last()?;
    // What can never be done here is left out, so that the menu needs no scrolling.
    let mut offered: Vec<(&str, Begin)> = shorts.iter().map(|(words, kind)| (*words, Begin::Short(*kind))).collect();
    offered.extend(lift.map(|lift| ("Lift the bar", Begin::LiftBar(lift))));
    offered.extend(card.planned.then_some(("Call off the plan", Begin::Short(ShortKind::CallOff))));
    offered.extend(card.queen_id().map(|queen| ("Queen's details", Begin::Details(queen))));
    offered.push(("Beginning and note", Begin::Beginning));
    offered.extend(card.is_suspected().then_some(("A queen was given", Begin::Introduce(None))));
    let mut entries: Vec<Entry<'_>> = offered.iter().map(|(words, _)| Entry::new(words)).collect();
    entries.push(Entry::new(last.0).danger());
    let at = menu(ui, more, "More", &entries)?;
    Some(offered.into_iter().nth(at).map_or(Begin::Short(last.1), |(_, begin)| begin))
}
