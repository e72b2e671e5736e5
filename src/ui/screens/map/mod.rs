//! The Map: yards from afar, hives near, the list twin, the day strip.

mod bar_form;
mod canvas;
mod days;
mod drag_box;
mod far;
mod filter;
mod legend;
mod list;
mod many;
mod model;
mod near;
mod words;
mod yard_card;
mod yard_form;
mod yards_panel;

use std::collections::BTreeSet;

use egui::Ui;

use crate::domain::ids::{ColonyId, YardId};
use crate::ui::action::{Goto, Outbox};
use crate::ui::event::Event;
use crate::ui::map::base::view::BaseMap;
use crate::ui::scene::Scene;
use crate::ui::screens::map::bar_form::YardBars;
use crate::ui::screens::map::canvas::{Canvas, Flight};
use crate::ui::screens::map::days::DayState;
use crate::ui::screens::map::filter::Filters;
use crate::ui::screens::map::many::ManyState;
use crate::ui::screens::map::model::{FarKey, FarModel, FarYard};
use crate::ui::screens::map::near::NearState;
use crate::ui::screens::map::words::FillBy;
use crate::ui::screens::map::yard_form::YardForm;

/// Below this width the narrow layout holds, in points.
const NARROW: f32 = 1200.0;

/// What the Map keeps between frames.
pub struct MapState {
    /// The base map, also drawn small beside a run and at the first start.
    pub base: BaseMap,
    /// The yard whose hives are shown; nothing: all yards from afar.
    near: Option<YardId>,
    /// The chosen yard.
    yard: Option<YardId>,
    /// A yard just added: chosen as soon as the register has it.
    awaited: Option<YardId>,
    /// Something else than the list chose it.
    reveal: bool,
    /// The map is to fly to the chosen yard.
    flight_wanted: bool,
    /// Several chosen yards.
    yards: BTreeSet<YardId>,
    /// A hive to be opened as soon as its yard is known.
    hive: Option<ColonyId>,
    list_open: bool,
    /// Nothing: as the width says.
    legend_open: Option<bool>,
    fill: FillBy,
    filters: Filters,
    days: DayState,
    canvas: Canvas,
    form: Option<Form>,
    near_state: NearState,
    /// The panel of the hives of several yards.
    many: ManyState,
    /// Hives chosen in several yards; nothing: the yards alone are chosen.
    hives: Option<BTreeSet<ColonyId>>,
    far: Option<(FarKey, FarModel)>,
    far_version: u64,
    /// Height of the chosen yard's card in points, as it was in the last pass.
    card_high: Option<f32>,
}

/// What stands in the card's place.
#[derive(Clone, Debug, PartialEq)]
enum Form {
    /// A yard is added or edited.
    Yard(Box<YardForm>),
    /// The chosen day is put off.
    PutOff,
    /// A yard is barred, or its bar lifted.
    Bars(Box<YardBars>),
}

impl MapState {
    /// With the base map to draw on.
    pub fn new(base: BaseMap) -> Self {
        Self {
            base,
            near: None,
            yard: None,
            awaited: None,
            reveal: false,
            flight_wanted: false,
            yards: BTreeSet::new(),
            hive: None,
            list_open: true,
            legend_open: None,
            fill: FillBy::default(),
            filters: Filters::default(),
            days: DayState::default(),
            canvas: Canvas::new(),
            form: None,
            near_state: NearState::default(),
            many: ManyState::default(),
            hives: None,
            far: None,
            far_version: 0,
            card_high: None,
        }
    }

    /// Takes what the app tells.
    pub fn take(&mut self, event: &Event) {
        self.near_state.take(event);
        if matches!(event, Event::Opened | Event::Closed) {
            let base = std::mem::take(&mut self.base);
            let far_version = self.far_version;
            *self = Self { far_version, ..Self::new(base) };
        }
    }

    /// Goes where a screen asked to.
    pub fn go(&mut self, goto: &Goto) {
        match goto {
            Goto::Yard(yard) => {
                self.near = None;
                self.hive = None;
                self.yards.clear();
                self.form = None;
                self.choose(*yard);
            }
            Goto::Hive(hive) => self.hive = Some(*hive),
            _ => {}
        }
    }

    /// Chooses a yard and flies there.
    fn choose(&mut self, yard: YardId) {
        self.yard = Some(yard);
        self.reveal = true;
        self.flight_wanted = true;
    }

    /// Opens a yard: its hives are shown.
    fn open(&mut self, yard: YardId) {
        self.choose(yard);
        self.near = Some(yard);
        self.near_state = NearState::default();
        self.form = None;
    }

    /// Opens the yard of a hive with the hive's card.
    fn open_hive(&mut self, scene: &Scene, hive: ColonyId) {
        let Some(yard) = scene.world.colonies.get(&hive).and_then(|colony| colony.yard()) else { return };
        if self.near != Some(yard) {
            self.open(yard);
        }
        self.near_state.hive = Some(hive);
        self.near_state.card_open = true;
        self.near_state.reveal = true;
    }

    /// Back to all yards; the yard stays chosen.
    fn leave_yard(&mut self) {
        self.near = None;
        self.near_state = NearState::default();
        self.reveal = true;
    }

    /// A yard as it is shown from afar; nothing where it is hidden.
    fn far_yard(&self, yard: YardId) -> Option<&FarYard> {
        let (_, model) = self.far.as_ref()?;
        model.yards.iter().find(|it| it.id == yard)
    }

    /// The yards as they are to be shown, made anew where anything differs.
    fn prepare(&mut self, scene: &Scene) {
        let key = FarKey {
            version: (scene.version, scene.today),
            filters: self.filters.clone(),
            fill: self.fill,
            day: self.days.day(scene.today),
        };
        if self.far.as_ref().is_none_or(|(held, _)| *held != key) {
            let model = FarModel::new(scene, &key);
            self.far = Some((key, model));
            self.far_version += 1;
        }
        if let Some(yard) = self.awaited.take_if(|yard| scene.world.yards.contains_key(yard)) {
            self.yard = Some(yard);
            self.reveal = true;
            if let Some(place) = scene.world.yards.get(&yard).and_then(|yard| yard.place) {
                self.canvas.flight = Flight::Show(place);
            }
        }
        self.yards.retain(|yard| scene.world.yards.contains_key(yard));
        for held in [&mut self.yard, &mut self.near] {
            if held.is_some_and(|yard| !scene.world.yards.contains_key(&yard)) {
                *held = None;
            }
        }
    }
}

/// Draws the Map.
pub fn show(ui: &mut Ui, scene: &Scene, state: &mut MapState, goto: &mut Option<Goto>, out: &mut Outbox) {
    if let Some(hive) = state.hive.take() {
        state.open_hive(scene, hive);
    }
    state.prepare(scene);
    match state.near {
        Some(yard) => near::show(ui, scene, state, yard, goto, out),
        None => far::show(ui, scene, state, goto, out),
    }
    // A chip or the strip changed what the yards show: they are drawn anew with the next frame.
    let day = state.days.day(scene.today);
    let stale = state
        .far
        .as_ref()
        .is_some_and(|(key, _)| key.filters != state.filters || key.fill != state.fill || key.day != day);
    if stale {
        ui.request_repaint();
    }
}
