//! The Map near: one yard's hives as they stand, the card of one or the panel of several, and the yard's own strip.

mod add;
mod diagram;
mod model;

use std::collections::BTreeSet;

use egui::{CentralPanel, Frame, Key, Margin, Panel, Pos2, Rect, Stroke, Ui, pos2, vec2};

use crate::domain::ids::{ColonyId, YardId};
use crate::ui::action::{Goto, Outbox};
use crate::ui::card::{self, CardAnswer, CardState};
use crate::ui::event::Event;
use crate::ui::scene::Scene;
use crate::ui::screens::map::days::{self, StripLook};
use crate::ui::screens::map::filter::Filters;
use crate::ui::screens::map::many::{self, Among, ManyState};
use crate::ui::screens::map::near::add::AddHives;
use crate::ui::screens::map::near::diagram::Choice;
use crate::ui::screens::map::near::model::{NearKey, NearModel};
use crate::ui::screens::map::words::{amiss, counted, due};
use crate::ui::screens::map::yard_form::{FormEnd, YardForm};
use crate::ui::screens::map::{MapState, NARROW, filter, legend};
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{height, space, stroke};
use crate::ui::theme::text;
use crate::ui::widgets::{Button, Icon, boxes, chip, ends, focus, key, parts};

/// The whole screen's height in points below which the plan begins nearer to its top: a window of 1024 × 700 is low.
const LOW: f32 = 680.0;
/// Width of what stands beside the plan: the card's three buttons fit.
const SIDE_WIDTH: f32 = 452.0;

/// What is kept while a yard is open.
#[derive(Default)]
pub struct NearState {
    /// The hive the arrows move.
    pub hive: Option<ColonyId>,
    /// Its card is open.
    pub card_open: bool,
    /// The plan is to scroll to it.
    pub reveal: bool,
    chosen: BTreeSet<ColonyId>,
    card: CardState,
    many: ManyState,
    form: Option<NearForm>,
    filters: Filters,
    legend_open: bool,
    drag: Option<Pos2>,
    held: Option<(NearKey, NearModel)>,
}

/// A form in the card's place.
enum NearForm {
    Add(Box<AddHives>),
    Yard(Box<YardForm>),
}

/// Draws it.
pub fn show(ui: &mut Ui, scene: &Scene, state: &mut MapState, yard: YardId, goto: &mut Option<Goto>, out: &mut Outbox) {
    let narrow = ui.available_width() < NARROW;
    prepare(ui, scene, state, yard);
    let t = theme::tokens(ui);
    let bar = Frame::new().fill(t.surface_panel).inner_margin(Margin::symmetric(space::SIDE as i8, 0));
    Panel::top("yard sentence").exact_size(height::SENTENCE).frame(bar).show_separator_line(false).show(ui, |ui| {
        sentence_row(ui, scene, state, yard, narrow, goto);
    });
    Panel::top("yard choices").exact_size(height::CHOICES).frame(bar).show(ui, |ui| {
        choices_row(ui, scene, state, narrow);
    });
    Panel::bottom("yard days").exact_size(96.0).frame(bar).show(ui, |ui| {
        let look = StripLook { only: Some(yard), days: if narrow { 9 } else { 12 }, bars: false, free_arrows: false };
        days::show(ui, scene, &mut state.days, look);
    });
    if state.near_state.legend_open {
        let high = legend::height(ui.available_width());
        let frame = Frame::new().fill(t.surface_panel).inner_margin(Margin::symmetric(12, 0));
        Panel::bottom("yard legend").exact_size(high).frame(frame).show(ui, |ui| {
            legend::show(ui, state.fill);
        });
    }
    side(ui, scene, state, yard, goto, out);
    keys(ui, scene, state, yard, goto);
    CentralPanel::no_frame().show(ui, |ui| plan(ui, scene, state, yard));
}

/// The plan, made anew where anything differs.
fn prepare(ui: &Ui, scene: &Scene, state: &mut MapState, yard: YardId) {
    let near = &mut state.near_state;
    near.chosen.retain(|id| scene.outlook.colonies.contains_key(id));
    // An ended colony stands no more in the plan, but its card and its records can be read and amended.
    if near.hive.is_some_and(|id| !scene.world.colonies.contains_key(&id)) {
        near.hive = None;
        near.card_open = false;
    }
    let side = if near.has_side() { SIDE_WIDTH } else { 0.0 };
    let key = NearKey {
        version: (scene.version, scene.today),
        yard,
        filters: near.filters.clone(),
        fill: state.fill,
        day: state.days.day(scene.today),
        width: (ui.available_width() - side).max(0.0) as u32,
        low: ui.available_height() < LOW,
    };
    if near.held.as_ref().is_none_or(|(held, _)| *held != key) {
        let model = NearModel::new(scene, &key);
        near.held = Some((key, model));
    }
}

impl NearState {
    /// Takes what the app tells.
    pub fn take(&mut self, event: &Event) {
        self.card.take(event);
    }

    fn has_side(&self) -> bool {
        self.card_open || self.several() || self.form.is_some()
    }

    /// Several are chosen, or are being chosen in words.
    fn several(&self) -> bool {
        !self.chosen.is_empty() || self.many.is_worded()
    }

    fn model(&self) -> &NearModel {
        static EMPTY: NearModel =
            NearModel { hives: Vec::new(), hidden: 0, pallets: false, groups: Vec::new(), size: [0.0; 2], alike: 0 };
        self.held.as_ref().map_or(&EMPTY, |(_, model)| model)
    }
}

fn sentence_row(ui: &mut Ui, scene: &Scene, state: &mut MapState, yard: YardId, narrow: bool, goto: &mut Option<Goto>) {
    let name = scene.world.yards.get(&yard).map_or("", |yard| yard.name.as_str());
    let view = scene.outlook.yards.get(&yard).cloned().unwrap_or_default();
    let hives = counted(view.colonies.len() as u32, "hive", "hives");
    let first = format!("{name}: {hives}, {}.", due(view.open_looks, view.open_steps));
    let old = view.bands[2] + view.bands[3];
    let mut rest = amiss(&view);
    if rest.is_empty() && old > 0 {
        rest = match old {
            1 => "1 queen in her third season or older".to_owned(),
            old => format!("{old} queens in their third season or older"),
        };
    }
    if !rest.is_empty() {
        rest.push('.');
    }
    let day = state.days.day(scene.today);
    let sentence = |ui: &mut Ui| boxes::sentence(ui, &first, if narrow { "" } else { &rest });
    ends(ui, sentence, |ui| {
        ui.spacing_mut().item_spacing.x = 12.0;
        if Button::outlined("Edit yard").key("E").show(ui).clicked() {
            edit(scene, state, yard);
        }
        if Button::outlined("Add hives").key("A").show(ui).clicked() {
            state.near_state.form = Some(NearForm::Add(Box::new(AddHives::new(scene, yard))));
        }
        let plan = if narrow { "Plan the run".to_owned() } else { format!("Plan the run for {}", day.with_weekday()) };
        if Button::primary(&plan).key("R").show(ui).clicked() {
            *goto = Some(Goto::RunOf(day));
        }
    });
}

fn edit(scene: &Scene, state: &mut MapState, yard: YardId) {
    if let Some(yard) = scene.world.yards.get(&yard) {
        state.near_state.form = Some(NearForm::Yard(Box::new(YardForm::of(yard, false).off_the_map())));
    }
}

fn choices_row(ui: &mut Ui, scene: &Scene, state: &mut MapState, narrow: bool) {
    ui.horizontal_centered(|ui| {
        if Button::text("Whole map").icon(Icon::Left).key("Esc").show(ui).clicked() {
            state.leave_yard();
        }
        ui.add_space(8.0);
        let (hidden, of) = (state.near_state.model().hidden, state.near_state.model().hives.len());
        filter::chips(ui, scene, &mut state.fill, &mut state.near_state.filters, None, narrow);
        if chip::hides(ui, hidden, of, "hives") {
            state.near_state.filters = Filters::default();
        }
        if narrow {
            return;
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            ui.spacing_mut().item_spacing.x = 6.0;
            key::caps(ui, "Ctrl A");
            parts::caption(ui, "All");
            key::caps(ui, "Space");
            parts::caption(ui, "Choose");
        });
    });
}

/// What stands right of the plan: a form, the panel of several, or the card.
fn side(ui: &mut Ui, scene: &Scene, state: &mut MapState, yard: YardId, goto: &mut Option<Goto>, out: &mut Outbox) {
    let near = &mut state.near_state;
    if !near.has_side() {
        return;
    }
    let t = theme::tokens(ui);
    let width = SIDE_WIDTH;
    let inset = Frame::new().fill(t.surface_panel).inner_margin(Margin::symmetric(18, 12));
    let panel = |frame| Panel::right("yard side").exact_size(width).resizable(false).frame(frame);
    if let Some(form) = &mut near.form {
        let mut closed = false;
        panel(inset).show(ui, |ui| {
            closed = match form {
                NearForm::Add(add) => add.show(ui, scene, yard, out),
                NearForm::Yard(form) => {
                    matches!(form.show(ui, scene, out), Some(FormEnd::Left | FormEnd::Sent(_)))
                }
            };
        });
        if closed {
            near.form = None;
            focus::begin_anew(ui);
        }
        return;
    }
    if near.several() {
        let name = scene.world.yards.get(&yard).map_or("", |yard| yard.name.as_str());
        let hives: Vec<ColonyId> = near.model().hives.iter().map(|hive| hive.id).collect();
        let mut closed = false;
        panel(inset).show(ui, |ui| {
            let among = Among { name, hives: &hives };
            closed = many::show(ui, scene, &mut near.many, &among, &mut near.chosen, out);
        });
        if closed {
            near.chosen.clear();
            near.many.clicked();
        }
        return;
    }
    let Some(hive) = near.hive else { return };
    let mut answer = CardAnswer::Stay;
    panel(Frame::new().fill(t.surface_panel)).show(ui, |ui| {
        answer = card::show(ui, scene, &mut near.card, hive, goto, out);
    });
    if answer != CardAnswer::Stay {
        ui.request_repaint();
    }
    match answer {
        CardAnswer::Stay => {}
        CardAnswer::Close => near.card_open = false,
        CardAnswer::Previous | CardAnswer::Next => {
            if let Some(next) = near.model().next(hive, answer == CardAnswer::Next) {
                near.hive = Some(next);
                near.reveal = true;
            }
        }
    }
}

fn plan(ui: &mut Ui, scene: &Scene, state: &mut MapState, yard: YardId) {
    let name = scene.world.yards.get(&yard).map_or("", |yard| yard.name.as_str());
    let room = ui.max_rect();
    let near = &mut state.near_state;
    if near.model().hives.is_empty() {
        let t = theme::tokens(ui);
        ui.painter().rect_filled(room, 0, t.map_land);
        let inside = Rect::from_min_size(room.min + vec2(36.0, 32.0), vec2(520.0, 120.0));
        ui.scope_builder(egui::UiBuilder::new().id_salt("no hives").max_rect(inside), |ui| {
            boxes::empty_state(ui, "No hive stands here yet.", "Add them in a few words, or bring a list in at Setup.");
        });
        return;
    }
    let mut drag = near.drag;
    let reveal = std::mem::take(&mut near.reveal);
    let choice = Choice { hive: near.hive, chosen: &near.chosen, reveal };
    let done = diagram::show(ui, name, near.model(), &choice, &mut drag);
    near.drag = drag;
    if done != diagram::Done::default() {
        ui.request_repaint();
    }
    if let Some(hive) = done.hive {
        // While several are chosen a click adds to them or takes away.
        if !near.chosen.is_empty() && done.open {
            toggle(near, hive);
        } else {
            near.card_open |= done.open;
        }
        near.hive = Some(hive);
    }
    if let Some(hive) = done.toggle {
        if near.chosen.is_empty() && near.card_open {
            near.chosen.extend(near.hive.filter(|current| *current != hive));
        }
        toggle(near, hive);
    }
    if !done.boxed.is_empty() {
        near.chosen.extend(done.boxed);
        near.many.clicked();
    }
    if done.all {
        let all: Vec<ColonyId> = near.model().shown().map(|hive| hive.id).collect();
        near.chosen.extend(all);
        near.many.clicked();
    }
    let [width, height] = near.model().size;
    if width + 40.0 <= room.width() || height + 40.0 <= room.height() {
        north(ui, room);
    }
}

fn toggle(near: &mut NearState, hive: ColonyId) {
    if !near.chosen.remove(&hive) {
        near.chosen.insert(hive);
    }
    near.many.clicked();
}

/// The arrow that points north: plans are drawn with north at the top. Left out where hives would stand under it.
fn north(ui: &Ui, room: Rect) {
    let t = theme::tokens(ui);
    let foot = pos2(room.right() - 44.0, room.bottom() - 34.0);
    let line = Stroke::new(stroke::ICON, t.map_label);
    let tip = foot - vec2(0.0, 26.0);
    let painter = ui.painter();
    painter.line_segment([foot, tip], line);
    painter.line_segment([tip, tip + vec2(-5.0, 7.0)], line);
    painter.line_segment([tip, tip + vec2(5.0, 7.0)], line);
    let font = text::SMALL.font(Weight::Regular);
    painter.text(foot + vec2(0.0, 12.0), egui::Align2::CENTER_CENTER, "N", font, t.map_label);
}

fn keys(ui: &mut Ui, scene: &Scene, state: &mut MapState, yard: YardId, goto: &mut Option<Goto>) {
    let near = &state.near_state;
    let filling_in = near.form.is_some() || near.many.is_acting() || near.card_open && near.card.form_is_open();
    if filling_in || !focus::letters_are_free(ui) {
        return;
    }
    let bare = focus::keys_are_free(ui);
    let pressed = |key| focus::took(ui, key);
    if bare && pressed(Key::Escape) {
        let near = &mut state.near_state;
        if near.several() {
            near.chosen.clear();
            near.many.clicked();
        } else if near.card_open {
            near.card_open = false;
        } else {
            state.leave_yard();
        }
        return;
    }
    if pressed(Key::R) {
        *goto = Some(Goto::RunOf(state.days.day(scene.today)));
    }
    if pressed(Key::A) {
        state.near_state.form = Some(NearForm::Add(Box::new(AddHives::new(scene, yard))));
    }
    if pressed(Key::E) {
        edit(scene, state, yard);
    }
    if pressed(Key::F) {
        filter::take_keyboard(ui);
    }
    if pressed(Key::G) {
        state.near_state.legend_open = !state.near_state.legend_open;
    }
}
