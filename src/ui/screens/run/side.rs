//! Beside the stops: the small map, then load and cautions, or in their place a small form.

use egui::{Key, Modifiers, ScrollArea, Ui};

use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::ids::YardId;
use crate::domain::run_order::RunOrder;
use crate::ui::action::{Action, FilePurpose, Outbox};
use crate::ui::scene::Scene;
use crate::ui::screens::map::MapState;
use crate::ui::screens::run::edits;
use crate::ui::screens::run::glyphs::stack_of;
use crate::ui::screens::run::model::RunModel;
use crate::ui::screens::run::small_map;
use crate::ui::screens::run::state::{RunState, Side};
use crate::ui::theme;
use crate::ui::theme::metrics::{height, space};
use crate::ui::theme::text;
use crate::ui::widgets::{Button, Caution, Column, Field, Icon, Table, checkbox, focus, parts};
use crate::ui::written;

/// The margin at the right of the panel that the scroll bar may have, in points.
const MARGIN: f32 = 14.0;

/// Beneath this width of the panel a remark stands below its heading.
const NARROW: f32 = 400.0;

/// The newest files of the run that are listed.
const FILES: usize = 4;

/// Draws what stands beside the stops.
pub(super) fn show(
    ui: &mut Ui,
    scene: &Scene,
    state: &mut RunState,
    map: &mut MapState,
    run: &RunOrder,
    model: &RunModel,
    out: &mut Outbox,
) {
    small_map::show(ui, scene, map, model, state.selected);
    ui.add_space(space::BOX);
    match state.side {
        Side::Load => load(ui, scene, state, run, model, out),
        Side::Add => add(ui, scene, state, run, model, out),
        Side::Route | Side::Dates | Side::List => send(ui, scene, state, run, out),
    }
}

fn load(ui: &mut Ui, scene: &Scene, state: &mut RunState, run: &RunOrder, model: &RunModel, out: &mut Outbox) {
    // The scroll bar stands in the margin, so that boxes end where the map above them does.
    let width = ui.available_width();
    let mut room = ui.available_rect_before_wrap();
    room.max.x += MARGIN;
    let mut beside = ui.new_child(egui::UiBuilder::new().max_rect(room));
    ScrollArea::vertical().id_salt("load").auto_shrink([false, false]).show(&mut beside, |ui| {
        ui.set_max_width(width);
        let mut files = written::of_run(scene, run.id, &model.colonies).take(FILES).peekable();
        if files.peek().is_some() {
            parts::heading(ui, "Written", "");
            for file in files {
                written::show(ui, file, out);
            }
            ui.add_space(space::BOX);
        }
        if !run.stops.is_empty() {
            parts::heading(ui, "Load", "");
            ui.spacing_mut().item_spacing.y = 0.0;
            for thing in &model.load {
                let key = (run.id, thing.clone());
                let mut ticked = state.ticked.contains(&key);
                if checkbox(ui, &mut ticked, thing).changed() {
                    if ticked {
                        state.ticked.insert(key);
                    } else {
                        state.ticked.remove(&key);
                    }
                }
            }
            ui.add_space(space::BOX);
        }
        ui.spacing_mut().item_spacing.y = 8.0;
        parts::heading(ui, "Cautions for this run", "");
        for caution in &model.cautions {
            let shown = Caution::new(&caution.fact, &caution.then);
            if caution.forbids { shown.barred() } else { shown }.show(ui);
        }
    });
}

/// A yard that may be added.
struct Offer {
    yard: YardId,
    name: String,
    due: usize,
    latest: String,
}

/// Yards with open work first; while a name is typed, every yard that fits it.
fn offers(scene: &Scene, run: &RunOrder, model: &RunModel, typed: &str) -> Vec<Offer> {
    let name = |yard: YardId| scene.world.yards.get(&yard).map_or(String::new(), |yard| yard.name.clone());
    let open = &model.others;
    let offer = |yard: YardId| {
        let found = open.iter().find(|(it, _, _)| *it == yard);
        let latest = found.and_then(|(_, _, latest)| *latest).map_or(String::new(), Day::short);
        Offer { yard, name: name(yard), due: found.map_or(0, |(_, due, _)| *due), latest }
    };
    if fold(typed).is_empty() {
        return open.iter().map(|(yard, _, _)| offer(*yard)).collect();
    }
    let on_run = |yard: &YardId| run.stops.iter().any(|stop| stop.yard == *yard);
    edits::yards_named(&scene.world, typed).into_iter().filter(|yard| !on_run(yard)).map(offer).collect()
}

fn add(ui: &mut Ui, scene: &Scene, state: &mut RunState, run: &RunOrder, model: &RunModel, out: &mut Outbox) {
    parts::heading(ui, "Add a stop", "Enter adds, Esc closes");
    let field = Field::new("Yard").hidden_label().salt("add stop").width(ui.available_width()).hint("a yard's name");
    let id = field.id(ui);
    if std::mem::take(&mut state.focus_side) {
        ui.memory_mut(|memory| memory.request_focus(id));
    }
    let typing = ui.memory(|memory| memory.has_focus(id));
    let found = offers(scene, run, model, &state.typed.add);
    state.add_at = state.add_at.min(found.len().saturating_sub(1));
    let mut chosen = None;
    if typing {
        let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
        if pressed(Key::ArrowDown) {
            state.add_at = (state.add_at + 1).min(found.len().saturating_sub(1));
        }
        if pressed(Key::ArrowUp) {
            state.add_at = state.add_at.saturating_sub(1);
        }
        if pressed(Key::Enter) {
            chosen = found.get(state.add_at).map(|offer| offer.yard);
        }
        if pressed(Key::Escape) {
            state.side = Side::Load;
            ui.memory_mut(|memory| memory.surrender_focus(id));
        }
    }
    if field.show(ui, &mut state.typed.add).changed() {
        state.add_at = 0;
    }
    let columns = [
        Column::glyph(18.0),
        Column::rest("Yard", 1.0),
        Column::number("Due", 40.0),
        Column::words("Latest day", 90.0),
    ];
    let rows = height::HEADER + height::ROW_GLYPH * found.len() as f32;
    let room = (ui.available_height() - 48.0).max(80.0).min(rows);
    let table = Table::new("Yards to add", &columns).row_height(height::ROW_GLYPH).selected(Some(state.add_at));
    let done = table.max_height(room).show(ui, found.len(), |row| {
        let Some(offer) = found.get(row.index) else { return };
        row.stack(crate::ui::glyph::StackSize::Small, &stack_of(scene, offer.yard, run.day));
        row.title(&offer.name);
        row.count(offer.due);
        row.text(&offer.latest);
    });
    if let Some(at) = done.selected {
        state.add_at = at;
        chosen = found.get(at).map(|offer| offer.yard);
    }
    if found.is_empty() {
        let t = theme::tokens(ui);
        let words = if state.typed.add.trim().is_empty() {
            "No other yard has open work that day. Type the name of any yard."
        } else {
            "No other yard has that name."
        };
        ui.label(text::table(words).color(t.text_secondary));
    }
    ui.add_space(space::SMALL);
    if Button::outlined("Done").small().key("Esc").show(ui).clicked() {
        state.side = Side::Load;
    }
    if let Some(yard) = chosen {
        state.typed.add.clear();
        state.add_at = 0;
        state.focus_side = true;
        state.selected = Some(yard);
        state.reveal = true;
        state.change(scene, edits::added(run, yard), out);
    }
}

fn send(ui: &mut Ui, scene: &Scene, state: &mut RunState, run: &RunOrder, out: &mut Outbox) {
    let what = state.side;
    let (heading, remark, verb) = match what {
        Side::Route => ("Send the route", "GPX 1.1, one route point a stop", "Write the route"),
        Side::List => ("Send the stops", "CSV, one row a stop with its times", "Write the list"),
        _ => ("Send the dates", "iCalendar, one entry a stop's work", "Write the dates"),
    };
    if ui.available_width() < NARROW {
        parts::heading(ui, heading, "");
        parts::remark(ui, remark);
    } else {
        parts::heading(ui, heading, remark);
    }
    let folder = &scene.prefs.folder;
    let help = if folder.is_empty() { "Empty: the usual folder.".to_owned() } else { format!("Empty: in {folder}.") };
    let field = Field::new("File").above().salt("send path").width(ui.available_width() - 8.0).help(&help);
    let id = field.id(ui);
    if std::mem::take(&mut state.focus_side) {
        // The menu that opened this gives the keyboard back to its button first.
        focus::give_back(ui, id);
    }
    let typing = ui.memory(|memory| memory.has_focus(id));
    let entered = typing && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Enter));
    let left = typing && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape));
    field.show(ui, &mut state.typed.path);
    ui.add_space(space::SMALL);
    let mut write = entered;
    ui.horizontal_wrapped(|ui| {
        write |= Button::outlined(verb).icon(Icon::Out).key("Enter").show(ui).clicked();
        if Button::outlined("Browse").icon(Icon::File).show(ui).clicked() {
            out.push(Action::Browse(FilePurpose::Save));
        }
        if Button::text("Close").key("Esc").show(ui).clicked() {
            state.side = Side::Load;
        }
    });
    if write {
        let path = state.typed.path.trim().to_owned();
        let run = Box::new(run.clone());
        out.push(match what {
            Side::Route => Action::ExportRoute { run, path },
            Side::List => Action::ExportStops { run, path },
            _ => Action::ExportCalendar { run: Some(run), path },
        });
    }
    if write || left {
        state.side = Side::Load;
        state.typed.path.clear();
        ui.memory_mut(|memory| memory.surrender_focus(id));
    }
}
