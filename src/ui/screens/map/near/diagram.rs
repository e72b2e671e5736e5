//! The painted plan of a yard: rows or pallets, hives with their names, choosing by click and by box.

use std::collections::BTreeSet;

use egui::scroll_area::{DragScroll, ScrollSource};
use egui::{
    Align2, Color32, Event, EventFilter, Key, Mesh, Modifiers, Painter, Pos2, Rect, Role, ScrollArea, Sense, Shape,
    Stroke, StrokeKind, Ui, Vec2, WidgetInfo, pos2, vec2,
};

use crate::domain::ids::ColonyId;
use crate::ui::glyph::Pen;
use crate::ui::screens::map::drag_box;
use crate::ui::screens::map::near::model::{NearHive, NearModel, PALLET};
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{radius, stroke};
use crate::ui::theme::{self, Tokens, text};
use crate::ui::widgets::focus;

/// What the plan's list of hives is called where the selection is followed.
const LIST: &str = "hives of the yard";
const GLYPH: f32 = 28.0;
/// Most width of a name in the plan, in points: hives stand 84 apart at least.
const MOST_NAME: f32 = 76.0;

/// What is chosen, as the plan shows it.
pub struct Choice<'a> {
    /// The hive the arrows move, if any.
    pub hive: Option<ColonyId>,
    /// Several chosen.
    pub chosen: &'a BTreeSet<ColonyId>,
    /// The plan is to scroll to the hive.
    pub reveal: bool,
}

/// What was done on the plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Done {
    /// This hive is to be the current one.
    pub hive: Option<ColonyId>,
    /// It is to be opened, too.
    pub open: bool,
    /// This hive is to be chosen, or no longer.
    pub toggle: Option<ColonyId>,
    /// These hives lay in the box that was drawn.
    pub boxed: Vec<ColonyId>,
    /// All hives shown are to be chosen.
    pub all: bool,
}

/// Draws the plan in all the room there is and reads its keys. `drag` holds where a box began.
pub fn show(ui: &mut Ui, name: &str, model: &NearModel, choice: &Choice<'_>, drag: &mut Option<Pos2>) -> Done {
    let t = theme::tokens(ui);
    let room = ui.available_rect_before_wrap();
    ui.painter().rect_filled(room, 0, t.map_land);
    let id = ui.scope_id().with("plan");
    let whole = ui.interact(room, id, Sense::focusable_noninteractive() | Sense::DRAG);
    let label = format!("Hives of {name}");
    whole.widget_info(|| WidgetInfo::labeled(Role::ListBox, true, &label));
    let mut done = keys(ui, id, model, choice.hive);
    if done.hive.is_some() {
        focus::moved(ui, LIST);
    }
    let reveal = done.hive.or(choice.hive.filter(|_| choice.reveal));
    let source = ScrollSource { drag: DragScroll::Never, ..ScrollSource::ALL };
    let area = ScrollArea::both().id_salt("plan").auto_shrink([false, false]).scroll_source(source);
    area.show_viewport(ui, |ui, view| {
        let origin = ui.max_rect().min.to_vec2();
        ui.set_min_size(model.size.into());
        let painter = ui.painter().clone();
        groups(&painter, t, model, origin, view);
        if let Some(current) = hives(ui, &painter, model, choice, origin, view, &mut done) {
            ui.accesskit_node_builder(id, |node| node.set_active_descendant(current.accesskit_id()));
            focus::follow(ui, LIST, current);
        }
        if let Some(hive) = reveal.and_then(|hive| model.hive(hive)) {
            ui.scroll_to_rect(cell(hive, model.pallets).translate(origin).expand(24.0), None);
        }
        boxed(ui, &whole, model, origin, drag, &mut done);
    });
    if done.open || done.toggle.is_some() || done.all {
        // What opens beside it takes letters and the next Tab; the arrows go on moving the hive all the same.
        whole.surrender_focus();
    }
    focus::ring_inside(ui, &whole, room);
    done
}

/// The cell of a hive in the plan.
fn cell(hive: &NearHive, pallets: bool) -> Rect {
    let middle = pos2(hive.at[0], hive.at[1]);
    if pallets {
        Rect::from_center_size(middle, vec2(70.0, 74.0))
    } else {
        Rect::from_center_size(middle, vec2(56.0, 68.0))
    }
}

fn groups(painter: &Painter, t: &Tokens, model: &NearModel, origin: Vec2, view: Rect) {
    let secondary = text::TABLE.font(Weight::Regular);
    if model.pallets && !model.groups.is_empty() {
        let count = model.groups.iter().filter(|group| group.pallet.is_some()).count();
        let pallets = if count == 1 { "1 pallet".to_owned() } else { format!("{count} pallets") };
        let words = format!("{pallets} of four. Bars at the sides are entrances.");
        painter.text(pos2(30.0, 38.0) + origin, Align2::LEFT_CENTER, words, secondary.clone(), t.map_label);
    }
    for group in &model.groups {
        let at = pos2(group.at[0], group.at[1]);
        if !view.expand(220.0).contains(at) {
            continue;
        }
        let align = if group.pallet.is_some() { Align2::CENTER_CENTER } else { Align2::LEFT_CENTER };
        painter.text(at + origin, align, &group.words, secondary.clone(), t.map_label);
        if let Some([left, top]) = group.pallet {
            let rect = Rect::from_min_size(pos2(left, top) + origin, PALLET.into());
            painter.rect(rect, 0, t.map_town, Stroke::new(stroke::FOCUS, t.map_track), StrokeKind::Inside);
            for (x, y) in [(left, 0.25), (left, 0.75), (left + PALLET[0], 0.25), (left + PALLET[0], 0.75)] {
                let middle = pos2(x, top + PALLET[1] * y) + origin;
                painter.rect_filled(Rect::from_center_size(middle, vec2(5.0, 16.0)), 0, t.text_primary);
            }
        }
    }
}

/// Draws the hives in view; answers the node of the one the keys act on.
fn hives(
    ui: &Ui,
    painter: &Painter,
    model: &NearModel,
    choice: &Choice<'_>,
    origin: Vec2,
    view: Rect,
    done: &mut Done,
) -> Option<egui::Id> {
    let mut current = None;
    let t = theme::tokens(ui);
    let pen = Pen::new(ui);
    let mut mesh = Mesh::default();
    let ctrl = ui.input(|input| input.modifiers.command);
    let hushed = hushed(ui);
    for hive in model.shown() {
        let rect = cell(hive, model.pallets);
        if !view.intersects(rect.expand(8.0)) {
            continue;
        }
        let (is_current, is_chosen) = (choice.hive == Some(hive.id), choice.chosen.contains(&hive.id));
        let weight = if is_current || is_chosen { Weight::SemiBold } else { Weight::Regular };
        let (name, width) = fitting(painter, &hive.name, model.alike, weight);
        // The ring of a long name is wider than others, so that it does not run through the name.
        let wider = (0.5 * (width + 8.0 - rect.width())).max(0.0);
        let rect = rect.expand2(vec2(wider, 0.0)).translate(origin);
        let response = ui.interact(rect, ui.scope_id().with(hive.id), Sense::CLICK | Sense::HOVER);
        response.widget_info(|| WidgetInfo::labeled(Role::ListBoxOption, true, &hive.spoken));
        ui.accesskit_node_builder(response.id, |node| node.set_selected(is_chosen || is_current));
        if is_current {
            current = Some(response.id);
            let case = Stroke::new(stroke::CASE, t.glyph_case);
            painter.rect(rect, radius::CONTROL, t.surface_raised, case, StrokeKind::Middle);
        }
        if is_chosen {
            let edge = Stroke::new(stroke::FOCUS, t.accent);
            painter.rect(rect, radius::CONTROL, t.surface_selected, edge, StrokeKind::Inside);
        }
        if is_current {
            let edge = Stroke::new(stroke::SELECTION, t.accent);
            painter.rect_stroke(rect, radius::CONTROL, edge, StrokeKind::Middle);
        } else if response.hovered() {
            let edge = Stroke::new(stroke::LINE, t.accent);
            painter.rect_stroke(rect, radius::CONTROL, edge, StrokeKind::Inside);
        }
        let top = rect.center().y - 20.0;
        pen.hive(&mut mesh, pos2(rect.center().x - 0.5 * GLYPH, top), GLYPH, hive.fill, hive.lid);
        let ground = if is_current || is_chosen { t.text_primary } else { t.map_label };
        let name_at = pos2(rect.center().x, top + 39.0);
        painter.text(name_at, Align2::CENTER_CENTER, name, text::TABLE.font(weight), ground);
        if response.clicked() {
            if ctrl {
                done.toggle = Some(hive.id);
            } else {
                done.hive = Some(hive.id);
                done.open = true;
            }
        }
        if !hushed {
            response.on_hover_ui(|ui| {
                let color = theme::tokens(ui).text_primary;
                ui.label(text::table(&hive.spoken).color(color));
            });
        }
    }
    painter.add(Shape::mesh(mesh));
    current
}

/// A pointer that only rests on a hive tells nothing any more once a key is pressed: what it tells would lie over the card.
fn hushed(ui: &Ui) -> bool {
    let id = ui.scope_id().with("hushed");
    let was = ui.data(|data| data.get_temp::<bool>(id)).unwrap_or(false);
    let is_key = |event: &Event| matches!(event, Event::Key { pressed: true, .. });
    let (moved, key) = ui.input(|input| (input.pointer.delta() != Vec2::ZERO, input.events.iter().any(is_key)));
    let now = !moved && (was || key);
    ui.data_mut(|data| data.insert_temp(id, now));
    now
}

/// A name as far as it fits between its neighbours, and its width. A long one begins where it differs from theirs, behind
/// the letters that are `alike`.
fn fitting(painter: &Painter, name: &str, alike: usize, weight: Weight) -> (String, f32) {
    let width = |name: &str| {
        let font = text::TABLE.font(weight);
        painter.layout_no_wrap(name.to_owned(), font, Color32::PLACEHOLDER).size().x
    };
    let whole = if alike > 0 && width(name) > MOST_NAME {
        ['…'].into_iter().chain(name.chars().skip(alike)).collect()
    } else {
        name.to_owned()
    };
    let mut left = whole.chars().count();
    let mut fits = whole.clone();
    while width(&fits) > MOST_NAME && left > 1 {
        left -= 1;
        fits = whole.chars().take(left).chain(['…']).collect();
    }
    let wide = width(&fits);
    (fits, wide)
}

/// Drag over the plan: all hives in the box.
fn boxed(ui: &Ui, whole: &egui::Response, model: &NearModel, origin: Vec2, drag: &mut Option<Pos2>, done: &mut Done) {
    if let Some(drawn) = drag_box::drawn(ui, whole, drag) {
        let inside = |hive: &&NearHive| drawn.contains(pos2(hive.at[0], hive.at[1]) + origin);
        done.boxed = model.shown().filter(inside).map(|hive| hive.id).collect();
    }
}

fn keys(ui: &Ui, id: egui::Id, model: &NearModel, hive: Option<ColonyId>) -> Done {
    let mut done = Done::default();
    let focused = ui.memory(|memory| memory.has_focus(id));
    if focused {
        let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(id, filter));
    }
    if !focused && !focus::keys_are_free(ui) {
        return done;
    }
    let pressed = |modifiers, key| ui.input_mut(|input| input.consume_key(modifiers, key));
    if pressed(Modifiers::COMMAND, Key::A) {
        done.all = true;
    }
    let first = model.shown().next().map(|hive| hive.id);
    let arrows =
        [(Key::ArrowRight, [1, 0]), (Key::ArrowLeft, [-1, 0]), (Key::ArrowDown, [0, 1]), (Key::ArrowUp, [0, -1])];
    for (key, step) in arrows {
        if pressed(Modifiers::NONE, key) {
            done.hive = match done.hive.or(hive) {
                // One that has left the yard or is hidden is no place to go from.
                Some(from) => model.beside(from, step).or(model.hive(from).map(|hive| hive.id)).or(first),
                None => first,
            };
        }
    }
    if pressed(Modifiers::NONE, Key::Space) {
        done.toggle = done.hive.or(hive).filter(|hive| model.hive(*hive).is_some());
    }
    if pressed(Modifiers::NONE, Key::Enter) {
        done.hive = done.hive.or(hive).or(first);
        done.open = true;
    }
    done
}
