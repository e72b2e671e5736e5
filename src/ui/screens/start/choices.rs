//! The three numbered choices, what went wrong with the last try, and where the register lies.

use egui::{Align, Frame, Layout, Margin, Sense, Stroke, Ui, vec2};

use crate::ui::action::{Action, FilePurpose, Outbox};
use crate::ui::scene::Scene;
use crate::ui::screens::form;
use crate::ui::screens::start::{Stage, StartState, file_name};
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{radius, stroke};
use crate::ui::theme::text;
use crate::ui::widgets::{Button, Caution, Field, Icon, icon};

/// The column of choices.
pub(super) fn show(ui: &mut Ui, scene: &Scene, state: &mut StartState, out: &mut Outbox) {
    let t = theme::tokens(ui);
    ui.spacing_mut().item_spacing = vec2(8.0, 14.0);
    failed(ui, state, out);
    ui.label(text::large("Begin with").color(t.text_primary));
    let demo = "An invented firm with 42 yards and three seasons. You get a copy: change what you like.";
    if card(ui, "1", "Wrackmore Island", demo, Button::primary("Open demo")) {
        state.try_to(Action::OpenDemo, out);
    }
    let new =
        "Click your home yard on the map: hemisphere, units and time zone follow. Then bring in a list, or add hives.";
    if card(ui, "2", "A new register", new, Button::outlined("Start new")) {
        state.enter(Stage::New);
    }
    let open = "One file holds everything. Open it where it lies.";
    if card(ui, "3", "A register you have", open, Button::outlined("Open a file")) {
        state.enter(Stage::Open);
    }
    if state.stage == Stage::Open {
        open_form(ui, state, out);
    }
    where_it_lies(ui, scene);
}

fn card(ui: &mut Ui, number: &str, title: &str, words: &str, button: Button<'_>) -> bool {
    let t = theme::tokens(ui);
    let edge = Stroke::new(stroke::LINE, t.line_firm);
    let frame = Frame::new().fill(t.surface_raised).stroke(edge).corner_radius(radius::CONTROL);
    let frame = frame.inner_margin(Margin::symmetric(18, 16));
    let inner = frame.show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing = vec2(16.0, 2.0);
            let room = ui.available_width() - 44.0 - 150.0 - 16.0;
            let galley =
                ui.painter().layout(words.to_owned(), text::BODY.font(Weight::Regular), t.text_secondary, room);
            let high = text::NAME.line + 2.0 + text::BODY.line * galley.rows.len() as f32;
            let (beside, _) = ui.allocate_exact_size(vec2(28.0, high), Sense::hover());
            let cap = egui::Rect::from_center_size(beside.center(), vec2(28.0, 26.0));
            ui.painter().rect(cap, radius::KEY, t.surface_panel, edge, egui::StrokeKind::Inside);
            let font = text::BODY.font(Weight::SemiBold);
            ui.painter().text(cap.center(), egui::Align2::CENTER_CENTER, number, font, t.text_primary);
            ui.vertical(|ui| {
                ui.set_width(room);
                ui.label(text::name(title).color(t.text_primary));
                ui.label(text::body(words).color(t.text_secondary));
            });
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| button.least_width(150.0).show(ui).clicked())
                .inner
        })
        .inner
    });
    inner.inner
}

fn open_form(ui: &mut Ui, state: &mut StartState, out: &mut Outbox) {
    let mut open = false;
    ui.horizontal(|ui| {
        let width = (ui.available_width() - 260.0).max(160.0);
        let response = Field::new("File").width(width).hint("my-bees.lidnote").show(ui, &mut state.path);
        if std::mem::take(&mut state.focus) {
            response.request_focus();
        }
        open = form::entered(ui, &response);
        if Button::outlined("Browse").show(ui).clicked() {
            out.push(Action::Browse(FilePurpose::OpenRegister));
        }
        let empty = state.path.trim().is_empty();
        let why_not = empty.then_some("No file is named. Type its name, or browse.");
        open |= Button::primary("Open").key("Enter").why_not(why_not).show(ui).clicked();
    });
    if open && !state.path.trim().is_empty() {
        let path = state.path.trim().to_owned();
        state.try_to(Action::OpenRegister { path }, out);
    }
}

/// What went wrong, where it can be mended from here with the buttons for it.
fn failed(ui: &mut Ui, state: &mut StartState, out: &mut Outbox) {
    if let Some(words) = &state.error {
        let (fact, rest) = text::fact_and_way_out(words);
        Caution::new(fact, rest).show(ui);
    }
    let Some(what) = state.not_opened.clone() else { return };
    let (fact, rest) = text::fact_and_way_out(&what.words);
    Caution::new(fact, rest).show(ui);
    ui.horizontal_wrapped(|ui| {
        if let Some(path) = what.backup
            && Button::outlined("Restore the newest backup").show(ui).clicked()
        {
            state.try_to(Action::Restore { path }, out);
        }
        if what.readable && Button::outlined("Look at it only").show(ui).clicked() {
            state.try_to(Action::LookAt { path: what.path.clone() }, out);
        }
        if Button::outlined("Try again").show(ui).clicked() {
            state.try_to(Action::OpenRegister { path: what.path }, out);
        }
        if let Some(path) = what.former {
            let words = format!("Back to {}", file_name(&path));
            if Button::outlined(&words).show(ui).clicked() {
                state.try_to(Action::OpenRegister { path }, out);
            }
        }
    });
    ui.add_space(10.0);
}

fn where_it_lies(ui: &mut Ui, scene: &Scene) {
    let t = theme::tokens(ui);
    let folder = if scene.prefs.folder.is_empty() { "Documents/Lidnote" } else { &scene.prefs.folder };
    let mut job = egui::text::LayoutJob::default();
    let plain = text::TABLE.format(Weight::Regular, t.text_primary);
    job.append("Your register is one file on this computer: ", 0.0, plain.clone());
    let strong = text::TABLE.format(Weight::SemiBold, t.text_primary);
    job.append(&format!("{folder}/my-bees.lidnote"), 0.0, strong);
    let tiles = if scene.prefs.online.is_some() { "on, as you switched them" } else { "off" };
    let words = format!(". Nothing leaves it unless you send it. Map tiles from the internet are {tiles}.");
    job.append(&words, 0.0, plain);
    let frame =
        Frame::new().fill(t.surface_panel).corner_radius(radius::CAUTION).inner_margin(Margin::symmetric(14, 10));
    ui.add_space(8.0);
    frame.show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = 10.0;
            icon::show(ui, Icon::File, t.text_primary);
            ui.add(egui::Label::new(job).wrap());
        });
    });
}
