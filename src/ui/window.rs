//! The window: top bar, the screen, the status line, and what lies over them. One call draws a frame.

use egui::{CentralPanel, Frame, Margin, Panel, Rect, Ui, UiBuilder, Vec2, vec2};

use crate::ui::action::{Action, Outbox, Screen};
use crate::ui::scene::Scene;
use crate::ui::screens::{map, programme, run, setup, start};
use crate::ui::shell::{bar, keys, labels, not_recorded, search};
use crate::ui::state::UiState;
use crate::ui::theme;
use crate::ui::theme::metrics::{height, space};
use crate::ui::widgets::dialog::hold_keys;
use crate::ui::widgets::status::{self, Status, status};
use crate::ui::widgets::{focus, toast};

/// In less room than this the window scrolls: at 150 % it still has it on a screen of 1440 × 900.
const LEAST: Vec2 = vec2(960.0, 600.0);

/// Draws the window from what is known; whatever is decided goes to the outbox.
pub fn show(ui: &mut Ui, scene: &Scene, state: &mut UiState, out: &mut Outbox) {
    let room = ui.max_rect();
    if room.width() >= LEAST.x && room.height() >= LEAST.y {
        draw(ui, scene, state, out);
        return;
    }
    egui::ScrollArea::both().id_salt("window").auto_shrink([false, false]).show(ui, |ui| {
        let whole = Rect::from_min_size(ui.max_rect().min, room.size().max(LEAST));
        ui.set_min_size(whole.size());
        ui.scope_builder(UiBuilder::new().max_rect(whole), |ui| draw(ui, scene, state, out));
        if let Some(reached) = focus::just_reached(ui) {
            // What scrolls inside the window has kept the wish to itself.
            let shown = Rect::from_min_size(reached.min, reached.size().min(ui.clip_rect().size()));
            ui.scroll_to_rect(shown, None);
        }
    });
}

fn draw(ui: &mut Ui, scene: &Scene, state: &mut UiState, out: &mut Outbox) {
    hold_keys(ui);
    focus::go_on_from_last(ui);
    keys::global(ui, scene, state, out);
    let t = theme::tokens(ui);
    let bar_frame = Frame::new().fill(t.surface_panel).inner_margin(Margin::symmetric(space::SIDE as i8, 0));
    Panel::top("bar").exact_size(height::TOP_BAR).frame(bar_frame).show_separator_line(true).show(ui, |ui| {
        bar::show(ui, scene, state);
    });
    not_recorded::band(ui, scene, out);
    Panel::bottom("status").exact_size(height::STATUS).frame(bar_frame).show_separator_line(true).show(ui, |ui| {
        status_line(ui, scene, state, out);
    });
    CentralPanel::no_frame().frame(Frame::new().fill(t.surface_window)).show(ui, |ui| {
        focus::screen_begins(ui);
        if scene.register.is_none() {
            start::show(ui, scene, &mut state.start, &mut state.map, out);
            return;
        }
        match state.screen {
            Screen::Map => map::show(ui, scene, &mut state.map, &mut state.goto, out),
            Screen::Programme => programme::show(ui, scene, &mut state.programme, &mut state.goto, out),
            Screen::Run => run::show(ui, scene, &mut state.run, &mut state.map, &mut state.goto, out),
            Screen::Setup => setup::show(ui, scene, &mut state.setup, &mut state.goto, out),
        }
    });
    search::show(ui, scene, state);
    labels::show(ui, scene, &mut state.shell, out);
    keys::show_list(ui, &mut state.shell);
    not_recorded::question(ui, scene, &mut state.shell, out);
    // Without a register the first screen itself says what failed.
    if scene.register.is_some() && state.toasts.show(ui) == Some(toast::Pressed::Undo) {
        out.push(Action::Undo);
    }
    if state.goto.is_some() {
        // What was gone to is drawn in the next pass.
        ui.request_repaint();
    }
    let before = state.screen;
    state.follow();
    if state.screen != before {
        focus::forget_last(ui);
    }
}

fn status_line(ui: &mut Ui, scene: &Scene, state: &mut UiState, out: &mut Outbox) {
    let version = concat!("Version ", env!("CARGO_PKG_VERSION"));
    let pressed = match &scene.register {
        None => status(ui, &Status { saved: "No register open.", last: "", undo: false, owner: version }),
        Some(register) => {
            let saved = match (&register.read_only, register.saved_at.as_str()) {
                (Some(why), _) => why.clone(),
                (None, "") => "Nothing changed yet.".to_owned(),
                (None, at) => format!("Saved {at}."),
            };
            let last = register.undo.as_ref().map_or(String::new(), |title| format!("Last change: {title}"));
            let reading = if state.screen == Screen::Setup { state.setup.status() } else { None };
            let (saved, last, undo) = match reading {
                Some((fact, rest)) => (fact.to_owned(), rest, false),
                None => (saved, last, register.undo.is_some()),
            };
            let owner = if scene.world.firm.name.is_empty() { version } else { &scene.world.firm.name };
            status(ui, &Status { saved: &saved, last: &last, undo, owner })
        }
    };
    match pressed {
        Some(status::Pressed::Undo) => out.push(Action::Undo),
        Some(status::Pressed::Keys) => state.shell.keys_open = true,
        None => {}
    }
}
