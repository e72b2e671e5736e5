//! The chosen yard's card on the map: what it holds, what is amiss, how to open it, and what else can be done to it.

use egui::{Key, Modifiers, Popup, Sense, Ui};

use crate::domain::ids::YardId;
use crate::ui::glyph::{StackSize, stack_widget};
use crate::ui::screens::map::model::FarYard;
use crate::ui::screens::map::words::{amiss, counted, due};
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::height;
use crate::ui::theme::text::{self, Weighted as _};
use crate::ui::widgets::{Button, Entry, ends, focus, key, menu};

/// What the card asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asked {
    /// Open the yard.
    Open(YardId),
    /// Edit its details.
    Edit(YardId),
    /// Choose its place on the map.
    Place(YardId),
    /// Bar the yard, or lift its bar.
    Bar(YardId),
    /// Remove it.
    Remove(YardId),
}

/// The card, bottom right of the map.
pub fn show(ui: &mut Ui, yard: &FarYard, why_not_remove: Option<&str>) -> Option<Asked> {
    let mut asked = None;
    let t = theme::tokens(ui);
    ui.spacing_mut().item_spacing.y = 2.0;
    ui.spacing_mut().interact_size.y = height::BUTTON_SMALL;
    ui.horizontal(|ui| {
        stack_widget(ui, StackSize::Small, &yard.stack, "");
        ui.add(egui::Label::new(text::body(&yard.name).semibold().color(t.text_primary)).wrap());
    });
    ui.label(text::table(holds(yard)).color(t.text_primary));
    let amiss = amiss(&yard.view);
    if !amiss.is_empty() {
        ui.label(text::table(amiss).semibold().color(t.text_late));
    }
    if yard.stack.barred {
        ui.label(text::table("Under a bar: nothing may be planned.").color(t.text_primary));
    }
    if !yard.bar_ahead.is_empty() {
        ui.label(text::table(&yard.bar_ahead).color(t.text_primary));
    }
    ui.horizontal(|ui| {
        asked = open_and_more(ui, yard, why_not_remove);
    });
    asked
}

/// The same as one row below the map, where there is little room.
pub fn row(ui: &mut Ui, yard: &FarYard, why_not_remove: Option<&str>) -> Option<Asked> {
    let t = theme::tokens(ui);
    stack_widget(ui, StackSize::Small, &yard.stack, "");
    let most = 0.4 * ui.available_width();
    ui.scope(|ui| {
        ui.set_max_width(most);
        ui.add(egui::Label::new(text::body(&yard.name).semibold().color(t.text_primary)).truncate());
    });
    let words = due(yard.view.open_looks, yard.view.open_steps);
    let ahead = if yard.bar_ahead.is_empty() { String::new() } else { format!(" {}", yard.bar_ahead) };
    let told = |ui: &mut Ui| {
        let mut job = text::two_tone(text::TABLE, "", t.text_primary, &format!("{words}.{ahead}"), t.text_primary);
        let amiss = format!("  {}", amiss(&yard.view));
        job.append(amiss.trim_end(), 0.0, text::TABLE.format(Weight::SemiBold, t.text_late));
        ui.add(egui::Label::new(job).truncate());
    };
    ends(ui, told, |ui| open_and_more(ui, yard, why_not_remove)).1
}

/// A place on the map that a card covers: clicks there do not reach the map.
pub fn cover(ui: &mut Ui, rect: egui::Rect) {
    ui.interact(rect, ui.scope_id().with("card cover"), Sense::CLICK | Sense::DRAG);
}

fn open_and_more(ui: &mut Ui, yard: &FarYard, why_not_remove: Option<&str>) -> Option<Asked> {
    let open = Button::text("Open yard").show(ui).clicked();
    key::caps(ui, "Enter");
    ui.add_space(8.0);
    let asked = more(ui, yard, why_not_remove);
    asked.or(open.then_some(Asked::Open(yard.id)))
}

fn more(ui: &mut Ui, yard: &FarYard, why_not_remove: Option<&str>) -> Option<Asked> {
    let button = Button::text("More").opens().key("O").name("More about this yard").show(ui);
    if focus::letters_are_free(ui) && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::O)) {
        Popup::open_id(ui, Popup::default_response_id(&button));
    }
    let place = if yard.at.is_some() { "Move on the map" } else { "Set its place on the map" };
    let bar = if yard.stack.barred || !yard.bar_ahead.is_empty() { "Bars of this yard" } else { "Bar this yard" };
    let entries = [
        Entry::new("Edit details").key("E"),
        Entry::new(place),
        Entry::new(bar),
        Entry::new("Remove yard").danger().why_not(why_not_remove),
    ];
    menu(ui, &button, "More about this yard", &entries).map(|at| match at {
        0 => Asked::Edit(yard.id),
        1 => Asked::Place(yard.id),
        2 => Asked::Bar(yard.id),
        _ => Asked::Remove(yard.id),
    })
}

fn holds(yard: &FarYard) -> String {
    let hives = counted(yard.hives(), "hive", "hives");
    format!("{hives}, {}", due(yard.view.open_looks, yard.view.open_steps))
}
