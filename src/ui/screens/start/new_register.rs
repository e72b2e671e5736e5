//! A new register: the home yard is clicked on the map or typed, and what follows from it is said.

use egui::{Frame, Key, Margin, Modifiers, Panel, Response, Stroke, Ui};
use walkers::{Position, Projector, lon_lat};

use crate::domain::place::Place;
use crate::domain::place_words::read_place;
use crate::ui::action::{Action, FilePurpose, Outbox};
use crate::ui::map::look::base_look;
use crate::ui::scene::Scene;
use crate::ui::screens::bands;
use crate::ui::screens::form;
use crate::ui::screens::map::MapState;
use crate::ui::screens::start::home::{hemisphere_words, place_words, utc_offset, zone_words};
use crate::ui::screens::start::{Stage, StartState};
use crate::ui::theme::text::Weighted as _;
use crate::ui::theme::{self, text};
use crate::ui::widgets::{Button, Caution, Field, Icon, boxes, focus, icon, parts};

/// The map's middle before it is moved.
const MIDDLE: (f64, f64) = (20.0, 15.0);
/// A country and its neighbours; within the map's range.
const HOME_ZOOM: f64 = 5.0;

/// Form and map.
pub(super) fn show(ui: &mut Ui, scene: &Scene, state: &mut StartState, map: &mut MapState, out: &mut Outbox) {
    let mut start = false;
    bands::sentence(ui, "A new register.", "Click your home yard on the map, or type where it lies.", |ui| {
        if Button::outlined("Back").key("Esc").show(ui).clicked() {
            state.enter(Stage::Choose);
        }
        let why_not = if state.home.is_none() { Some("No home yard is chosen. Click it on the map.") } else { None };
        start = Button::primary("Start here").key("Enter").why_not(why_not).show(ui).clicked();
    });
    let t = theme::tokens(ui);
    let frame = Frame::new().fill(t.surface_panel).inner_margin(Margin::symmetric(16, 14));
    let panel = Panel::left("new register").exact_size(404.0).frame(frame).resizable(false);
    panel.show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 12.0;
        start |= form(ui, scene, state, out);
    });
    egui::CentralPanel::no_frame().frame(Frame::new()).show(ui, |ui| chart(ui, state, map));
    // After a click on the map nothing has the keyboard, and Enter still means the button that bears it.
    start |= focus::keys_are_free(ui) && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Enter));
    if start && let Some(home) = state.home {
        let path = state.new_path.trim().to_owned();
        state.try_to(Action::NewRegister { home, path }, out);
    }
}

fn form(ui: &mut Ui, scene: &Scene, state: &mut StartState, out: &mut Outbox) -> bool {
    let t = theme::tokens(ui);
    let mut enter = false;
    parts::heading(ui, "Home yard", "where runs begin");
    let read = read_place(&state.place);
    let error = read.as_ref().err().filter(|_| !state.place.trim().is_empty());
    let field =
        Field::new("Place").column(84.0).width(270.0).hint("latitude, longitude").error(error.map(String::as_str));
    let response = field.show(ui, &mut state.place);
    if std::mem::take(&mut state.focus) {
        response.request_focus();
    }
    if response.changed() {
        state.home = read_place(&state.place).ok();
        if let Some(home) = state.home {
            // What is typed is seen on the map, with the coasts around it.
            state.memory.center_at(lon_lat(home.lon(), home.lat()));
            let _ = state.memory.set_zoom(HOME_ZOOM);
        }
    }
    enter |= form::entered(ui, &response);
    match state.home {
        Some(home) => {
            ui.label(text::table("What follows from it").semibold().color(t.text_primary));
            parts::remark(ui, hemisphere_words(home.hemisphere()));
            let zone = zone_words(utc_offset(home));
            if home.is_tropical() {
                parts::remark(ui, "Between the tropics the season may fall otherwise: set its months in Rules.");
            }
            let paper = if home.is_on_letter_paper() { "Letter" } else { "A4" };
            parts::remark(ui, &format!("Clock times in {zone}, from the longitude, without summer time."));
            parts::remark(ui, &format!("Distances in kilometres, paper {paper}."));
            parts::remark(ui, "All of this can be changed in Setup.");
        }
        None => parts::remark(ui, "Hemisphere, units and time zone follow from it. Nothing else is asked."),
    }
    parts::rule(ui);
    parts::heading(ui, "The file", "one file holds everything");
    let folder = if scene.prefs.folder.is_empty() { "Documents/Lidnote" } else { &scene.prefs.folder };
    let hint = format!("{folder}/my-bees.lidnote");
    let response = Field::new("File").column(84.0).width(270.0).hint(&hint).show(ui, &mut state.new_path);
    enter |= form::entered(ui, &response);
    if Button::outlined("Browse").small().show(ui).clicked() {
        out.push(Action::Browse(FilePurpose::NewRegister));
    }
    if let Some(words) = state.error.clone() {
        Caution::new(&words, "").show(ui);
    }
    boxes::note(ui, Icon::File, "", "Then bring in a list in Setup, or add yards and hives on the map.");
    enter && state.home.is_some()
}

fn chart(ui: &mut Ui, state: &mut StartState, map: &mut MapState) {
    let t = theme::tokens(ui);
    let StartState { memory, home, place, .. } = state;
    let overlay = |ui: &mut Ui, response: &Response, projector: &Projector<'_>| {
        if let Some(at) = response.interact_pointer_pos().filter(|_| response.clicked()) {
            let clicked: Position = projector.unproject(at.to_vec2());
            if let Some(there) = Place::new(clicked.y(), clicked.x()) {
                *home = Some(there);
                *place = place_words(there);
            }
        }
        if let Some(there) = *home {
            let at = projector.project(lon_lat(there.lon(), there.lat())).to_pos2();
            let painter = ui.painter().with_clip_rect(response.rect);
            painter.circle(at, 11.0, t.surface_raised, Stroke::new(2.0, t.accent));
            let sign = egui::Rect::from_center_size(at, egui::vec2(14.0, 14.0));
            icon::paint(&painter, sign, Icon::Pin, t.text_primary);
        }
    };
    let middle = lon_lat(MIDDLE.0, MIDDLE.1);
    map.base.show(ui, memory, middle, &base_look(t), |_| Vec::new(), overlay);
}
