//! Several hives chosen: who, by words or clicks; their queens; one row an action, each one change for all.

mod acts;
mod call_off;
pub(super) mod dated;
mod form;
mod give;
mod plain;

use std::collections::BTreeSet;

use egui::{Align2, Key, Modifiers, Sense, Stroke, Ui, WidgetInfo, pos2, vec2};

use crate::domain::choose::choose;
use crate::domain::ids::ColonyId;
use crate::domain::plan::open_plan;
use crate::domain::standing::{AgeClass, LidState};
use crate::domain::visit::Method;
use crate::ui::action::Outbox;
use crate::ui::glyph::hive_widget;
use crate::ui::scene::Scene;
use crate::ui::screens::form::scrolled;
use crate::ui::screens::map::many::acts::{Act, ActKind};
use crate::ui::screens::map::many::form::Form;
use crate::ui::screens::map::words::counted;
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{height, stroke};
use crate::ui::theme::text::{self, Weighted as _};
use crate::ui::widgets::{Button, Field, Icon, boxes, focus, key, parts};

/// What the panel keeps.
#[derive(Clone, Debug, Default)]
pub struct ManyState {
    /// What is typed in the field of words.
    words: String,
    /// What those words were not understood to mean.
    not_understood: Vec<String>,
    /// The words say what is chosen; a click ends that.
    by_words: bool,
    form: Option<Form>,
    remarks: Option<Remarks>,
}

#[derive(Clone, Debug, PartialEq)]
struct Remarks {
    version: u64,
    chosen: BTreeSet<ColonyId>,
    give: String,
    /// How many have an open plan.
    planned: usize,
    ages: [u32; 7],
}

/// The hives one chooses from.
pub struct Among<'a> {
    /// What they are: `Heath yard`, `5 yards`.
    pub name: &'a str,
    /// All of them, in order.
    pub hives: &'a [ColonyId],
}

impl ManyState {
    /// An act is being filled in.
    pub fn is_acting(&self) -> bool {
        self.form.is_some()
    }

    /// Words are typed that say what is chosen; half a word may fit nothing yet.
    pub fn is_worded(&self) -> bool {
        self.by_words && !self.words.trim().is_empty()
    }

    /// Somebody chose by clicks: the words say it no longer.
    pub fn clicked(&mut self) {
        self.by_words = false;
        self.words.clear();
        self.not_understood.clear();
    }
}

/// Draws the panel. True: closed, nothing is chosen any more.
pub fn show(
    ui: &mut Ui,
    scene: &Scene,
    state: &mut ManyState,
    among: &Among<'_>,
    chosen: &mut BTreeSet<ColonyId>,
    out: &mut Outbox,
) -> bool {
    if let Some(form) = &mut state.form {
        let all: Vec<ColonyId> = among.hives.iter().copied().filter(|id| chosen.contains(id)).collect();
        match form.show(ui, scene, &all, out) {
            form::Answer::Stay => {}
            form::Answer::Left => {
                state.form = None;
                focus::begin_anew(ui);
            }
            form::Answer::Sent => {
                state.form = None;
                focus::begin_anew(ui);
                chosen.clear();
                state.clicked();
                return true;
            }
        }
        return false;
    }
    let t = theme::tokens(ui);
    let mut closed = false;
    ui.spacing_mut().item_spacing.y = 4.0;
    ui.horizontal(|ui| {
        let title = format!("{} of {} chosen", chosen.len(), counted(among.hives.len() as u32, "hive", "hives"));
        ui.label(text::SENTENCE.words(Weight::SemiBold, title).color(t.text_primary));
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let close = Button::icon_only(Icon::Close, "Choose none").show(ui);
            closed = close.clicked();
            focus::go_on_from(ui, close.id);
        });
    });
    parts::remark(ui, &who(scene, state, among, chosen));
    let acted = scrolled(ui, "several", ui.available_height(), |ui| {
        by_words(ui, scene, state, among, chosen);
        refresh(scene, state, chosen);
        ui.add_space(6.0);
        parts::rule(ui);
        queens(ui, state);
        parts::rule(ui);
        let acted = rows(ui, state, chosen.len());
        ui.add_space(6.0);
        boxes::note(ui, Icon::Undo, "", "Each is one change for all. One undo takes it back.");
        acted
    });
    let pressed = if chosen.is_empty() { None } else { keys(ui) };
    let planned = state.remarks.as_ref().is_some_and(|it| it.planned > 0);
    let pressed = pressed.filter(|kind| *kind != ActKind::CallOff || planned);
    if let Some(kind) = acted.or(pressed) {
        state.form = Some(Form::new(Act::new(kind, scene)));
        ui.request_repaint();
    }
    closed
}

/// `Heath yard, all except H07 and H12`.
fn who(scene: &Scene, state: &ManyState, among: &Among<'_>, chosen: &BTreeSet<ColonyId>) -> String {
    if state.is_worded() {
        return format!("{}, {}", among.name, state.words.trim());
    }
    let name = |id: &ColonyId| scene.world.colonies.get(id).map_or("", |colony| colony.name()).to_owned();
    let (own, of) = (among.hives.iter().filter(|id| chosen.contains(id)).count(), among.hives.len());
    let first = |most: usize, is_chosen: bool| -> Vec<String> {
        among.hives.iter().filter(|id| chosen.contains(id) == is_chosen).take(most).map(name).collect()
    };
    let said = match (own, of - own) {
        (_, 0) => "all".to_owned(),
        (0, _) => "none".to_owned(),
        (_, others @ 1..=4) => format!("all except {}", joined(&first(others, false))),
        (1..=6, _) => joined(&first(own, true)),
        _ => format!("{} and {} more", first(4, true).join(", "), own - 4),
    };
    format!("{}, {said}", among.name)
}

/// `B01, B02 and B03`.
pub(super) fn joined(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

fn by_words(ui: &mut Ui, scene: &Scene, state: &mut ManyState, among: &Among<'_>, chosen: &mut BTreeSet<ColonyId>) {
    let error = match state.not_understood.as_slice() {
        [] => None,
        words => Some(format!("Not understood: {}.", joined(words))),
    };
    let field = Field::new("Which hives").hidden_label().width(ui.available_width()).hint("all except 7 and 12");
    let wanted = focus::letters_are_free(ui) && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::W));
    let typed = field.error(error.as_deref()).key("W").show(ui, &mut state.words);
    if wanted {
        // Only now, so that the letter that asked for it is not typed into it.
        typed.request_focus();
        ui.request_repaint();
    }
    if typed.changed() {
        state.by_words = true;
        let choice = choose(&scene.world, among.hives, &state.words, scene.today);
        *chosen = choice.chosen.into_iter().collect();
        state.not_understood = choice.not_understood;
    }
    if typed.lost_focus() {
        // Both leave the field, and what is chosen stays.
        for key in [Key::Enter, Key::Escape] {
            ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
        }
    }
    parts::remark(ui, "Or: 1-8    pallet 3    third season    due    all but barred");
}

/// What the rows say of the chosen, reckoned when the choice changes.
fn refresh(scene: &Scene, state: &mut ManyState, chosen: &BTreeSet<ColonyId>) {
    let fresh = state.remarks.as_ref().is_some_and(|it| it.version == scene.version && it.chosen == *chosen);
    if fresh {
        return;
    }
    let mut ages = [0; 7];
    for view in chosen.iter().filter_map(|id| scene.outlook.colonies.get(id)) {
        if let Some(at) = AgeClass::ALL.iter().position(|age| *age == view.age) {
            ages[at] += 1;
        }
    }
    let has_bar = |id: &ColonyId, soft: bool| {
        scene.outlook.colonies.get(id).is_some_and(|view| {
            view.standing.bars.iter().any(|bar| bar.kind.is_soft() == soft && bar.forbids(Method::Caged))
        })
    };
    let is_barred = |id: &&ColonyId| has_bar(id, false);
    let against = chosen.iter().filter(|id| !has_bar(id, false) && has_bar(id, true)).count();
    let barred: Vec<String> = chosen
        .iter()
        .filter(is_barred)
        .filter_map(|id| scene.world.colonies.get(id))
        .map(|colony| colony.name().to_owned())
        .collect();
    let give = match barred.as_slice() {
        [] if against > 0 => format!("all can have one, {against} against a bar"),
        [] => "all can have one".to_owned(),
        [one] => format!("{} can have one: {one} is barred", chosen.len() - 1),
        more => format!("{} can have one: {} are barred", chosen.len() - more.len(), more.len()),
    };
    let planned = chosen.iter().filter(|id| open_plan(&scene.world, **id).is_some()).count();
    state.remarks = Some(Remarks { version: scene.version, chosen: chosen.clone(), give, planned, ages });
}

fn queens(ui: &mut Ui, state: &ManyState) {
    let t = theme::tokens(ui);
    ui.label(text::body("Their queens").semibold().color(t.text_primary));
    let ages = state.remarks.as_ref().map_or([0; 7], |it| it.ages);
    let words = ["first", "second", "third", "older", "unknown", "queenless", "waiting"];
    let held: Vec<(AgeClass, u32, &str)> = (AgeClass::ALL.into_iter().zip(ages).zip(words))
        .filter(|((_, count), _)| *count > 0)
        .map(|((age, count), words)| (age, count, words))
        .collect();
    let column = (ui.available_width() / 3.0).floor();
    for line in held.chunks(3) {
        parts::line(ui, 24.0, |ui| {
            for (age, count, words) in line {
                ui.allocate_ui_with_layout(
                    vec2(column - 8.0, 24.0),
                    egui::Layout::left_to_right(egui::Align::Center),
                    |ui| {
                        ui.set_min_width(column - 8.0);
                        hive_widget(ui, 20.0, (*age).into(), LidState::Quiet, words);
                        ui.label(text::body(count.to_string()).semibold().color(t.text_primary));
                        ui.label(text::small(*words).color(t.text_secondary));
                    },
                );
            }
        });
    }
    ui.add_space(4.0);
}

fn rows(ui: &mut Ui, state: &ManyState, count: usize) -> Option<ActKind> {
    let t = theme::tokens(ui);
    ui.label(text::body(format!("Do to all {count}")).semibold().color(t.text_primary));
    ui.spacing_mut().item_spacing.y = 0.0;
    let give = state.remarks.as_ref().map_or("", |it| it.give.as_str());
    let mut picked = None;
    let planned = state.remarks.as_ref().map_or(0, |it| it.planned);
    let have_one = if planned == 1 { "1 has one".to_owned() } else { format!("{planned} have one") };
    for kind in ActKind::ALL.into_iter().filter(|kind| *kind != ActKind::CallOff || planned > 0) {
        let remark = match kind {
            ActKind::Give => give,
            ActKind::CallOff => &have_one,
            _ => kind.remark(),
        };
        if row(ui, kind.words(), remark, kind.key_words(), count > 0) {
            picked = Some(kind);
        }
    }
    picked
}

/// One action: its name, a remark, its key.
fn row(ui: &mut Ui, words: &str, remark: &str, keys: &str, enabled: bool) -> bool {
    let t = theme::tokens(ui);
    let sense = if enabled { Sense::click() } else { Sense::focusable_noninteractive() };
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), height::ROW), sense);
    if response.hovered() && enabled {
        ui.painter().rect_filled(rect, 0, t.surface_hover);
    }
    let middle = rect.center().y;
    let ink = if enabled { t.text_primary } else { t.text_disabled };
    let painter = ui.painter();
    painter.text(pos2(rect.left(), middle), Align2::LEFT_CENTER, words, text::BODY.font(Weight::SemiBold), ink);
    let at = pos2(rect.left() + 116.0, middle);
    painter.text(at, Align2::LEFT_CENTER, remark, text::TABLE.font(Weight::Regular), t.text_secondary);
    let cap = pos2(rect.right() - key::width(painter, keys), middle);
    key::paint(painter, cap, keys, key::plain_ink(ui));
    painter.hline(rect.x_range(), rect.bottom() - 0.5, Stroke::new(stroke::LINE, t.line_soft));
    focus::into_view(ui, &response, rect);
    focus::ring_inside(ui, &response, rect);
    let spoken = format!("{words}: {remark}");
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Button, enabled, &spoken));
    response.clicked()
}

fn keys(ui: &Ui) -> Option<ActKind> {
    if !focus::letters_are_free(ui) {
        return None;
    }
    let bare = focus::keys_are_free(ui);
    let pressed = |key| (bare || key != Key::Enter) && ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    ActKind::ALL.into_iter().find(|kind| pressed(kind.key()))
}
