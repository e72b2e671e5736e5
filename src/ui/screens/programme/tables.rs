//! The two tables: parcels with what can be done to the chosen one, and colonies waiting, longest first.

use egui::{Align, Frame, Layout, Margin, ScrollArea, Ui};

use crate::domain::ids::ParcelId;
use crate::domain::in_hand::Held;
use crate::domain::parcel::ParcelKind;
use crate::ui::action::{Goto, Outbox};
use crate::ui::scene::Scene;
use crate::ui::screens::bands;
use crate::ui::screens::programme::model::{InHandModel, ParcelRow, WaitingRow};
use crate::ui::screens::programme::{Panel, ProgrammeState, altered, late};
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{height, space};
use crate::ui::theme::text;
use crate::ui::widgets::{Button, Column, Table, boxes, parts};

/// Height of the heading above the colonies that wait, and of the button below them, in points.
const HEADING: f32 = 40.0;
const FOOT: f32 = 66.0;
/// With room for fewer rows than this the table of waiting colonies is drawn whole, up to `MOST_ROWS`.
const LEAST_ROWS: usize = 4;
const MOST_ROWS: usize = 60;

/// Beneath this width of the tables the least needed words go.
const TIGHT: f32 = 630.0;

/// Draws the body of the screen.
pub(super) fn show(
    ui: &mut Ui,
    scene: &Scene,
    state: &mut ProgrammeState,
    model: &InHandModel,
    goto: &mut Option<Goto>,
    out: &mut Outbox,
) {
    let whole = ui.available_height();
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        let top = ui.cursor().top();
        parcels(ui, scene, state, model, out);
        let room = whole - (ui.cursor().top() - top);
        waiting(ui, scene, state, model, room, goto);
    });
}

fn margin<R>(ui: &mut Ui, add: impl FnOnce(&mut Ui) -> R) -> R {
    let margin = Margin::symmetric(space::SIDE as i8, 9);
    Frame::new()
        .inner_margin(margin)
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.spacing_mut().item_spacing = egui::vec2(10.0, 8.0);
            add(ui)
        })
        .inner
}

fn parcels(ui: &mut Ui, scene: &Scene, state: &mut ProgrammeState, model: &InHandModel, out: &mut Outbox) {
    margin(ui, |ui| parts::heading(ui, "Parcels", "queens not given come back in hand"));
    let rows = if state.closed { &model.closed } else { &model.open };
    if rows.is_empty() {
        margin(ui, |ui| {
            let fact = if state.closed { "No parcel is closed." } else { "No parcel is open." };
            boxes::empty_state(ui, fact, "Press A when one is ordered or arrives.");
        });
        return;
    }
    let narrow = bands::is_narrow(ui);
    // What was given stands below the table too, for the chosen parcel.
    let tight = ui.available_width() < TIGHT;
    let mut columns = vec![Column::rest("From", 1.0), Column::words("What", if narrow { 108.0 } else { 128.0 })];
    if !narrow {
        columns.push(Column::words("Sent", 60.0));
    }
    columns.push(Column::rest("Arrived", if narrow { 1.1 } else { 1.9 }));
    if !narrow {
        columns.push(Column::number("Dead", 40.0));
    }
    if !tight {
        columns.push(Column::number("Given", 38.0));
    }
    columns.extend([Column::number("In hand", 50.0), Column::words("Held", 118.0)]);
    let at = rows.iter().position(|row| Some(row.id) == state.chosen);
    let room = height::HEADER + height::ROW * rows.len().min(9) as f32;
    let table = Table::new("Parcels", &columns).selected(at).takes_free_keys().max_height(room);
    let done = table.show(ui, rows.len(), |line| {
        let Some(row) = rows.get(line.index) else { return };
        line.strong(&row.from);
        line.text(&row.what);
        if !narrow {
            line.text(&row.sent);
        }
        let arrived: Vec<&str> = row.arrived.split(", ").collect();
        match (narrow, row.late) {
            // What is promised now counts; what was due is in the sentence below.
            (true, true) => line.late(arrived.last().copied().unwrap_or_default()),
            (true, false) => line.text(arrived.first().copied().unwrap_or_default()),
            (false, true) => line.late(&row.arrived),
            (false, false) => line.text(&row.arrived),
        }
        if !narrow {
            if row.awaited { line.empty() } else { line.count(row.dead as usize) }
        }
        if !tight {
            if row.awaited { line.empty() } else { line.count(row.hand.given as usize) }
        }
        if row.awaited {
            line.empty();
        } else {
            let weight = if row.hand.left > 0 { Weight::SemiBold } else { Weight::Regular };
            let color = if row.hand.left > 0 { line.t.text_primary } else { line.t.text_disabled };
            line.words_in(&row.hand.left.to_string(), weight, color);
        }
        match row.hand.held {
            Held::Fine => line.text(&row.held),
            Held::Warning => line.strong(&row.held),
            Held::Alarm => line.late(&row.held),
        }
    });
    let chosen = done.selected.or(done.opened).and_then(|at| rows.get(at)).map(|row| row.id);
    let open = done.opened.is_some();
    if let Some(chosen) = chosen {
        state.choose(scene, chosen);
        if open {
            state.open_form(scene, Some(chosen));
        }
    }
    if let Some(row) = state.chosen.and_then(|chosen| model.parcel(chosen)).cloned() {
        margin(ui, |ui| acts(ui, scene, state, &row, out));
    }
}

/// What is said of the chosen parcel, and what can be done to it.
fn acts(ui: &mut Ui, scene: &Scene, state: &mut ProgrammeState, row: &ParcelRow, out: &mut Outbox) {
    let t = theme::tokens(ui);
    let Some(parcel) = scene.world.parcels.get(&row.id) else { return };
    ui.label(text::table(said(row, parcel.count)).color(t.text_secondary));
    let mut change = None;
    ui.horizontal_wrapped(|ui| {
        if row.awaited {
            if Button::outlined("Arrived today").small().show(ui).clicked() {
                change = altered(scene, row.id, |parcel| parcel.arrived = Some(scene.today));
            }
            if Button::outlined("Late").small().name("The parcel is late").show(ui).clicked() {
                state.late = late::Draft::of(scene, row.id);
                state.panel = Panel::Late;
            }
        }
        let all_gone = parcel.dead + parcel.gone >= parcel.count;
        let none_left = row.hand.left == 0 && !row.awaited || all_gone;
        let why_not = none_left.then_some("None is left of this parcel.");
        if Button::outlined("1 died").small().why_not(why_not).show(ui).clicked() {
            change = altered(scene, row.id, |parcel| parcel.dead += 1);
        }
        if Button::outlined("1 gone").small().name("1 sold or given away").why_not(why_not).show(ui).clicked() {
            change = altered(scene, row.id, |parcel| parcel.gone += 1);
        }
        if Button::outlined("Change").small().name("Change the parcel").show(ui).clicked() {
            state.open_form(scene, Some(row.id));
        }
        let words = if parcel.closed { "Take out again" } else { "Put away" };
        if Button::outlined(words).small().show(ui).clicked() {
            change = altered(scene, row.id, |parcel| parcel.closed = !parcel.closed);
        }
    });
    if let Some(change) = change {
        out.change(change);
    }
}

fn said(row: &ParcelRow, count: u32) -> String {
    let hand = row.hand;
    if hand.too_many > 0 {
        let many = hand.too_many;
        return format!("{}: {many} more were given than there can have been. Put the numbers right.", row.source);
    }
    if row.awaited {
        let planned = if row.planned == 0 { String::new() } else { format!(", {} planned", row.planned) };
        return format!("{}: {}, {}{planned}.", row.source, row.what, row.arrived);
    }
    let planned = match row.planned {
        0 => String::new(),
        many => format!(", {many} of them planned"),
    };
    let find = row.to_find.as_ref().map_or(String::new(), |(many, days)| {
        let each = if *many == 1 { "a step" } else { "each a step" };
        format!(" In {many} the old queen was not found: {each} to find her again, {days}.")
    });
    format!(
        "{}: {} alive of {count}, {} given, {} in hand{planned}.{find}",
        row.source, hand.alive, hand.given, hand.left
    )
}

/// `room` is what the window has left below the parcels. Where that is too little for a table the whole screen scrolls.
fn waiting(
    ui: &mut Ui,
    scene: &Scene,
    state: &mut ProgrammeState,
    model: &InHandModel,
    room: f32,
    goto: &mut Option<Goto>,
) {
    let narrow = bands::is_narrow(ui);
    margin(ui, |ui| {
        ui.horizontal(|ui| {
            ui.set_min_height(text::HEAD.line);
            parts::line(ui, text::HEAD.line, |ui| {
                ui.label(text::head("Colonies waiting for their queen").color(theme::tokens(ui).text_primary));
                if !narrow {
                    ui.label(text::small("longest first").color(theme::tokens(ui).text_secondary));
                }
                let late: Vec<&str> =
                    model.open.iter().filter(|row| row.late).map(|row| row.late_words.as_str()).collect();
                if !late.is_empty() {
                    ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                        parts::caption(ui, &late.join(". "));
                    });
                }
            });
        });
    });
    if model.waiting.is_empty() {
        margin(ui, |ui| {
            boxes::empty_state(ui, "No colony waits.", "A colony that is dequeened or has lost its queen stands here.");
            set_apart(ui, model);
        });
        return;
    }
    let mut columns = vec![Column::glyph(20.0), Column::words("Hive", 58.0), Column::rest("Yard", 1.0)];
    if !narrow {
        columns.push(Column::words("Removed", 84.0));
    }
    columns.push(Column::words("Clock", 48.0));
    columns.push(Column::rest("What it means today", 2.4));
    let tight = ui.available_width() < TIGHT;
    columns.push(Column::words(
        "Her queen",
        if tight {
            62.0
        } else if narrow {
            104.0
        } else {
            130.0
        },
    ));
    let rows = |count: usize| height::HEADER + height::ROW_GLYPH * count as f32;
    let fits = room - HEADING - FOOT - 28.0 * model.apart.len() as f32;
    let room = if fits < rows(LEAST_ROWS) { rows(MOST_ROWS) } else { fits };
    let room = room.min(rows(model.waiting.len()));
    let table = Table::new("Colonies waiting, longest first", &columns);
    let table = table.row_height(height::ROW_GLYPH).selected(state.waiting_row).max_height(room);
    let done = table.show(ui, model.waiting.len(), |line| {
        let Some(row) = model.waiting.get(line.index) else { return };
        line.hive(20.0, row.fill, row.lid);
        line.strong(&row.name);
        line.text(&row.yard);
        if !narrow {
            line.text(&row.removed);
        }
        if row.alarm {
            line.late(&row.clock);
            line.late(&row.means);
        } else {
            line.strong(&row.clock);
            line.text(&row.means);
        }
        line.text(if tight { row.queen_short() } else { &row.queen });
    });
    state.waiting_row = done.selected.or(state.waiting_row);
    if let Some(row) = done.opened.and_then(|at| model.waiting.get(at)) {
        *goto = Some(Goto::Hive(row.colony));
    }
    margin(ui, |ui| {
        instead(ui, scene, state, model);
        set_apart(ui, model);
    });
}

/// Colonies without a queen that are not offered one.
fn set_apart(ui: &mut Ui, model: &InHandModel) {
    for words in &model.apart {
        ui.label(text::table(words).color(theme::tokens(ui).text_secondary));
    }
}

/// Giving the waiting colonies their queens from what is in hand.
fn instead(ui: &mut Ui, scene: &Scene, state: &mut ProgrammeState, model: &InHandModel) {
    let t = theme::tokens(ui);
    let caged = |row: &&ParcelRow| {
        let kind = scene.world.parcels.get(&row.id).map(|parcel| parcel.kind);
        row.hand.left > 0 && kind == Some(ParcelKind::CagedQueens)
    };
    let Some(from) = model.open.iter().filter(caged).max_by_key(|row| (row.hand.left, row.id)) else { return };
    ui.horizontal(|ui| {
        let words = format!("Give these from {} instead", from.source);
        if Button::outlined(&words).show(ui).clicked() {
            give_these(scene, state, from.id, &model.waiting);
        }
        let first = model.waiting.iter().filter(|row| row.alarm).count();
        let look = match first {
            0 => String::new(),
            1 => format!("; 1 of the {} needs a look first", model.waiting.len()),
            many => format!("; {many} of the {} need a look first", model.waiting.len()),
        };
        let said = format!("{} has {} in hand{look}.", from.source, from.hand.left);
        ui.label(text::table(said).color(t.text_secondary));
    });
}

fn give_these(scene: &Scene, state: &mut ProgrammeState, from: ParcelId, waiting: &[WaitingRow]) {
    state.choose(scene, from);
    state.panel = Panel::Give;
    state.asked.instead = true;
    state.asked.all_the_same = false;
    state.asked.to = in_words(waiting);
}

/// The waiting colonies as they would be typed: `Ash Hollow AH19, Broom Flat B27 B28`.
fn in_words(waiting: &[WaitingRow]) -> String {
    let mut by_yard: std::collections::BTreeMap<&str, Vec<&str>> = std::collections::BTreeMap::new();
    for row in waiting {
        by_yard.entry(&row.yard).or_default().push(&row.name);
    }
    let yards: Vec<String> = by_yard.into_iter().map(|(yard, names)| format!("{yard} {}", names.join(" "))).collect();
    yards.join(", ")
}
