//! The Programme: parcels, queens in hand, colonies waiting for their queen, and giving out.

mod give;
mod give_view;
mod late;
mod model;
mod parcel_form;
mod tables;

use std::sync::Arc;

use egui::{Key, Modifiers, Ui};

use crate::domain::change::Change;
use crate::domain::ids::ParcelId;
use crate::domain::parcel::{Parcel, ParcelKind};
use crate::domain::visit::Method;
use crate::ui::action::{Goto, Outbox};
use crate::ui::event::Event;
use crate::ui::scene::Scene;
use crate::ui::screens::programme::give::{Asked, GiveModel};
use crate::ui::screens::programme::model::InHandModel;
use crate::ui::screens::{bands, form};
use crate::ui::widgets::{Button, Chip, focus, parts};

/// What the screen keeps between frames.
#[derive(Clone, Debug, Default)]
pub struct ProgrammeState {
    /// Closed parcels are shown instead of open ones.
    closed: bool,
    chosen: Option<ParcelId>,
    waiting_row: Option<usize>,
    panel: Panel,
    /// Just taken in: chosen as soon as the register has it.
    taken_in: Option<ParcelId>,
    /// The field "To" is to have the keyboard.
    to_wanted: bool,
    asked: Asked,
    parcel: parcel_form::Draft,
    late: late::Draft,
    /// The list of parcels and colonies as worked out for a version.
    shown: Option<(u64, Arc<InHandModel>)>,
    /// What giving out would do, as worked out for a version and what is asked.
    giving: Option<(u64, Asked, Arc<GiveModel>)>,
    /// Given out at this version; the words are forgotten when the register has taken it.
    given_at: Option<u64>,
}

/// What stands at the right.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Panel {
    #[default]
    Give,
    Parcel,
    Late,
}

impl ProgrammeState {
    /// Takes what the app tells.
    pub fn take(&mut self, _event: &Event) {}

    /// Goes where a screen asked to.
    pub fn go(&mut self, _goto: &Goto) {}

    fn model(&mut self, scene: &Scene) -> Arc<InHandModel> {
        if let Some((version, model)) = &self.shown
            && *version == scene.version
        {
            return model.clone();
        }
        let model = Arc::new(InHandModel::of(scene));
        self.shown = Some((scene.version, model.clone()));
        model
    }

    fn give_model(&mut self, scene: &Scene) -> Arc<GiveModel> {
        if let Some((version, asked, model)) = &self.giving
            && *version == scene.version
            && *asked == self.asked
        {
            return model.clone();
        }
        let model = Arc::new(give::model(&scene.world, &self.asked, scene.today));
        self.giving = Some((scene.version, self.asked.clone(), model.clone()));
        model
    }

    fn choose(&mut self, scene: &Scene, parcel: ParcelId) {
        self.chosen = Some(parcel);
        self.asked.parcel = Some(parcel);
        if let Some(parcel) = scene.world.parcels.get(&parcel) {
            let methods = methods(parcel.kind);
            if !methods.contains(&self.asked.method) {
                self.asked.method = methods[0];
                self.asked.old =
                    if parcel.kind == ParcelKind::CagedQueens { give::Old::SameVisit } else { give::Old::DaysBefore };
            }
        }
    }

    fn open_form(&mut self, scene: &Scene, of: Option<ParcelId>) {
        let parcel = of.and_then(|id| scene.world.parcels.get(&id));
        self.parcel = parcel_form::Draft::of(scene, parcel);
        self.panel = Panel::Parcel;
    }

    fn close_form(&mut self) {
        self.panel = Panel::Give;
    }
}

/// The ways of giving what a parcel of that kind holds.
fn methods(kind: ParcelKind) -> &'static [Method] {
    match kind {
        ParcelKind::CagedQueens => &[Method::Caged, Method::PushIn],
        ParcelKind::Cells => &[Method::Cell],
        ParcelKind::Virgins => &[Method::Virgin],
    }
}

/// Draws the screen.
pub fn show(ui: &mut Ui, scene: &Scene, state: &mut ProgrammeState, goto: &mut Option<Goto>, out: &mut Outbox) {
    form::draw_once_more(ui);
    let model = state.model(scene);
    settle(scene, state, &model);
    let asked = keys(ui, state);
    let giving = state.give_model(scene);
    let (fact, rest) = model.sentence();
    let mut give = asked == Some(AskedKey::Give);
    let mut take_in = asked == Some(AskedKey::TakeIn);
    bands::sentence(ui, &fact, &rest, |ui| {
        take_in |= Button::outlined("Take a parcel in").key("A").show(ui).clicked();
        let words = give_words(scene, state, &giving);
        let why_not = giving.why_not.as_deref();
        give |= Button::primary(&words).key("Ctrl Enter").why_not(why_not).show(ui).clicked();
    });
    if take_in {
        state.open_form(scene, None);
    }
    if give && giving.why_not.is_none() {
        give_out(scene, state, &giving, out);
        // The next Ctrl Z is meant for what was given, not for a field that has done its work.
        focus::begin_anew(ui);
    }
    chips(ui, scene, state, &model);
    let width = if bands::is_narrow(ui) { 380.0 } else { 420.0 };
    bands::right_panel(ui, width, |ui| match state.panel {
        Panel::Give => give_view::show(ui, scene, state, &model, &giving),
        Panel::Parcel => match parcel_form::show(ui, scene, &mut state.parcel, out) {
            parcel_form::Answer::Stay => {}
            parcel_form::Answer::Close => state.close_form(),
            parcel_form::Answer::Kept(parcel) => {
                state.close_form();
                state.taken_in = Some(parcel);
            }
        },
        Panel::Late => {
            if late::show(ui, scene, &mut state.late, out) {
                state.close_form();
            }
        }
    });
    bands::body(ui, |ui| tables::show(ui, scene, state, &model, goto, out));
}

/// Chooses a parcel where none is, and forgets what has been given out.
fn settle(scene: &Scene, state: &mut ProgrammeState, model: &InHandModel) {
    if state.given_at.is_some_and(|version| version != scene.version) {
        state.given_at = None;
        state.asked.to.clear();
        state.asked.not_found.clear();
        state.asked.born.clear();
        state.asked.all_the_same = false;
        state.asked.instead = false;
    }
    if state.asked.by.is_empty() {
        state.asked.by.clone_from(&scene.prefs.initials);
    }
    if let Some(parcel) = state.taken_in.filter(|parcel| model.parcel(*parcel).is_some()) {
        state.taken_in = None;
        state.choose(scene, parcel);
        // Most parcels are given out at once.
        state.to_wanted = state.panel == Panel::Give;
    }
    let gone = state.chosen.is_none_or(|chosen| model.parcel(chosen).is_none());
    if gone {
        match model.first_to_give() {
            Some(parcel) => state.choose(scene, parcel),
            None => {
                state.chosen = None;
                state.asked.parcel = None;
            }
        }
    }
}

fn give_words(scene: &Scene, state: &ProgrammeState, giving: &GiveModel) -> String {
    let verb = if giving.ahead { "Plan" } else { "Give out" };
    match giving.given.len() {
        0 if !giving.not_found.is_empty() => "Record the search".to_owned(),
        0 => "Give out".to_owned(),
        many => format!("{verb} {many} {}", give::thing(&scene.world, &state.asked, many)),
    }
}

fn give_out(scene: &Scene, state: &mut ProgrammeState, giving: &GiveModel, out: &mut Outbox) {
    let change = give::change(&scene.world, &state.asked, giving, scene.today, &mut || out.new_id());
    if let Ok(change) = change {
        out.change(change);
        state.given_at = Some(scene.version);
    }
}

fn chips(ui: &mut Ui, scene: &Scene, state: &mut ProgrammeState, model: &InHandModel) {
    let (open, closed) = (model.open.len().to_string(), model.closed.len().to_string());
    let settings = &scene.world.settings;
    let held = format!("Held: warning after {}, alarm after {}", settings.held_warning(), settings.held_alarm());
    bands::choices(
        ui,
        |ui| {
            parts::caption(ui, "Show");
            if Chip::choice("Open parcels", !state.closed).count(&open).show(ui).clicked() {
                state.closed = false;
            }
            if Chip::choice("Closed", state.closed).count(&closed).show(ui).clicked() {
                state.closed = true;
            }
        },
        |ui| parts::caption(ui, &held),
    );
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum AskedKey {
    Give,
    TakeIn,
}

fn keys(ui: &Ui, state: &mut ProgrammeState) -> Option<AskedKey> {
    if egui::Popup::is_any_open(ui) {
        return None;
    }
    let pressed = |modifiers, key| ui.input_mut(|input| input.consume_key(modifiers, key));
    if state.panel != Panel::Give {
        let listing = state.panel == Panel::Parcel && state.parcel.lists_sources();
        if !listing && pressed(Modifiers::NONE, Key::Escape) {
            state.close_form();
        }
        return None;
    }
    if pressed(Modifiers::COMMAND, Key::Enter) {
        return Some(AskedKey::Give);
    }
    if !focus::letters_are_free(ui) {
        return None;
    }
    if pressed(Modifiers::NONE, Key::G) {
        state.to_wanted = true;
    }
    pressed(Modifiers::NONE, Key::A).then_some(AskedKey::TakeIn)
}

/// A parcel with one thing altered.
fn altered(scene: &Scene, id: ParcelId, alter: impl FnOnce(&mut Parcel)) -> Option<Change> {
    let mut parcel = scene.world.parcels.get(&id)?.clone();
    alter(&mut parcel);
    Some(Change::PutParcel(parcel))
}
