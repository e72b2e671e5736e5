//! The two bands at the head of a screen: its sentence with at most four buttons, and the row of choices.

use egui::{Frame, Margin, Panel, Ui, vec2};

use crate::ui::theme;
use crate::ui::theme::metrics::{height, space};
use crate::ui::widgets::{boxes, ends};

/// The screen's sentence, 52 high: the fact in semibold, the rest in secondary, shortened where the window is narrow.
/// `buttons` puts the screen's buttons from the left to the right, the primary one last.
pub fn sentence<R>(ui: &mut Ui, fact: &str, rest: &str, buttons: impl FnOnce(&mut Ui) -> R) -> R {
    let t = theme::tokens(ui);
    let frame = Frame::new().fill(t.surface_panel).inner_margin(Margin::symmetric(space::SIDE as i8, 0));
    let panel = Panel::top("sentence").exact_size(height::SENTENCE).frame(frame).show_separator_line(false);
    panel
        .show(ui, |ui| {
            let words = |ui: &mut Ui| boxes::sentence(ui, fact, rest);
            let buttons = |ui: &mut Ui| {
                ui.spacing_mut().item_spacing = vec2(10.0, 0.0);
                buttons(ui)
            };
            ends(ui, words, buttons).1
        })
        .inner
}

/// The row of choices, 44 high, with a line below it: what is shown at the left, remarks at the right, each from
/// left to right.
pub fn choices(ui: &mut Ui, left: impl FnOnce(&mut Ui), right: impl FnOnce(&mut Ui)) {
    let t = theme::tokens(ui);
    let frame = Frame::new().fill(t.surface_panel).inner_margin(Margin::symmetric(space::SIDE as i8, 0));
    let panel = Panel::top("choices").exact_size(height::CHOICES).frame(frame).show_separator_line(true);
    panel.show(ui, |ui| {
        ui.horizontal_centered(|ui| ends(ui, left, right));
    });
}

/// A panel at the right of a screen, `width` wide, that scrolls where it must.
pub fn right_panel(ui: &mut Ui, width: f32, add: impl FnOnce(&mut Ui)) {
    let t = theme::tokens(ui);
    let frame = Frame::new().fill(t.surface_panel).inner_margin(Margin { left: 18, right: 0, top: 0, bottom: 0 });
    let panel = Panel::right("right").exact_size(width).frame(frame).resizable(false).show_separator_line(true);
    panel.show(ui, |ui| {
        egui::ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
            // The scroll bar has the margin to itself.
            ui.set_width(ui.available_width() - space::SIDE);
            ui.add_space(14.0);
            add(ui);
            ui.add_space(14.0);
        });
    });
}

/// Windows narrower than this leave less needed columns out.
const NARROW: f32 = 1200.0;

/// The window is narrow.
pub fn is_narrow(ui: &Ui) -> bool {
    ui.ctx().content_rect().width() < NARROW
}

/// What is left of the screen, on the colour of tables.
pub fn body(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    let t = theme::tokens(ui);
    egui::CentralPanel::no_frame().frame(Frame::new().fill(t.surface_raised)).show(ui, add);
}
