//! The first start: the demo, a new register, or one there is already. Nothing else is asked.

mod choices;
pub mod home;
mod legend;
mod new_register;

use egui::{Frame, Key, Modifiers, Ui};
use walkers::MapMemory;

use crate::domain::place::Place;
use crate::ui::action::{Action, FilePurpose, Goto, Outbox};
use crate::ui::event::{Event, NotOpened};
use crate::ui::scene::Scene;
use crate::ui::screens::map::MapState;
use crate::ui::screens::{bands, form};
use crate::ui::widgets::focus;

/// What the screen keeps between frames.
#[derive(Clone, Default)]
pub struct StartState {
    stage: Stage,
    /// The file to open, as typed.
    path: String,
    /// The home yard of a new register, as typed or clicked.
    place: String,
    home: Option<Place>,
    /// The file of a new register; empty: the usual one.
    new_path: String,
    memory: MapMemory,
    /// A field is to get the keyboard at the next frame.
    focus: bool,
    /// Why the last try failed, with the way out.
    error: Option<String>,
    /// The register that could not be opened.
    not_opened: Option<Box<NotOpened>>,
}

/// How far the choice has gone.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Stage {
    #[default]
    Choose,
    New,
    Open,
}

impl StartState {
    /// Takes what the app tells.
    pub fn take(&mut self, event: &Event) {
        match event {
            Event::Failed(words) | Event::NotWritten(words) | Event::Refused(words) => self.error = Some(words.clone()),
            Event::NotOpened(what) => self.not_opened = Some(what.clone()),
            Event::Picked { purpose: FilePurpose::OpenRegister, path } => self.path.clone_from(path),
            Event::Picked { purpose: FilePurpose::NewRegister, path } => self.new_path.clone_from(path),
            _ => {}
        }
    }

    /// Goes where a screen asked to.
    pub fn go(&mut self, _goto: &Goto) {}

    /// The register that could not be opened, if so.
    pub fn not_opened(&self) -> Option<&NotOpened> {
        self.not_opened.as_deref()
    }

    fn enter(&mut self, stage: Stage) {
        self.stage = stage;
        self.error = None;
        self.focus = true;
        if stage == Stage::New && self.memory.detached().is_none() {
            // The whole world, about a screen wide; the value is within the map's range.
            let _ = self.memory.set_zoom(2.3);
        }
    }

    fn try_to(&mut self, action: Action, out: &mut Outbox) {
        self.error = None;
        out.push(action);
    }
}

/// Draws the screen.
pub fn show(ui: &mut Ui, scene: &Scene, state: &mut StartState, map: &mut MapState, out: &mut Outbox) {
    form::draw_once_more(ui);
    keys(ui, state, out);
    if state.stage == Stage::New {
        new_register::show(ui, scene, state, map, out);
        return;
    }
    let (fact, rest) = match &state.not_opened {
        Some(what) => {
            (format!("{} is not open.", file_name(&what.path)), "Choose what to do with it, or where else to begin.")
        }
        None => ("Nothing here yet.".to_owned(), "Choose where to begin."),
    };
    bands::sentence(ui, &fact, rest, |_| ());
    egui::CentralPanel::no_frame().frame(Frame::new()).show(ui, |ui| {
        egui::ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
            let (left, right, gap) = columns(ui.available_width());
            ui.add_space(40.0);
            ui.horizontal_top(|ui| {
                ui.spacing_mut().item_spacing.x = 0.0;
                ui.add_space(((ui.available_width() - left - gap - right) / 2.0).floor().max(16.0));
                ui.vertical(|ui| {
                    ui.set_width(left);
                    choices::show(ui, scene, state, out);
                });
                ui.add_space(gap);
                ui.vertical(|ui| {
                    ui.set_width(right);
                    legend::show(ui);
                });
            });
            ui.add_space(24.0);
        });
    });
}

/// The last part of a path.
fn file_name(path: &str) -> &str {
    path.rsplit(['/', '\\']).next().unwrap_or(path)
}

/// Widths of the choices, of the legend, and of the gap between them.
fn columns(available: f32) -> (f32, f32, f32) {
    let room = available - 32.0;
    if room >= 1142.0 { (640.0, 430.0, 72.0) } else { ((room - 462.0).max(400.0), 430.0, 32.0) }
}

fn keys(ui: &Ui, state: &mut StartState, out: &mut Outbox) {
    let typing = ui.text_edit_focused() || egui::Popup::is_any_open(ui);
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    if state.stage != Stage::Choose && !egui::Popup::is_any_open(ui) && pressed(Key::Escape) {
        state.enter(Stage::Choose);
    }
    if typing || state.stage == Stage::New || !focus::keys_are_free(ui) && ui.text_edit_focused() {
        return;
    }
    if pressed(Key::Num1) {
        state.try_to(Action::OpenDemo, out);
    } else if pressed(Key::Num2) {
        state.enter(Stage::New);
    } else if pressed(Key::Num3) {
        state.enter(Stage::Open);
    }
}
