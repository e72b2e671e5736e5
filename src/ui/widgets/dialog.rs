//! Dialogs, only where undo cannot mend: a question as title, verbs as buttons, 480 wide.

use egui::{Align, Event, Frame, Id, Key, Layout, Margin, Modifiers, Shadow, Stroke, Ui};

use crate::ui::theme::metrics::{height, radius, stroke};
use crate::ui::theme::{self, text};
use crate::ui::widgets::at_right;
use crate::ui::widgets::button::Button;
use crate::ui::widgets::focus;

const WIDTH: f32 = 480.0;

/// Height for a list in a dialog, at most `most`: beside `others`, the height of what else the dialog holds, the whole of
/// it must fit the window.
pub fn list_height(ui: &Ui, most: f32, others: f32) -> f32 {
    (ui.content_rect().height() - others - 24.0).clamp(84.0, most)
}

/// Width of a dialog's content, at most `most`.
pub fn content_width(ui: &Ui, most: f32) -> f32 {
    most.min(ui.content_rect().width() - 64.0)
}

/// What a dialog is answered with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answer {
    /// The verb at this place.
    Verb(usize),
    /// Left without an answer (`Esc`).
    Left,
}

/// One of the verbs.
#[derive(Clone, Copy, Debug)]
pub struct Verb<'a> {
    words: &'a str,
    kind: Kind,
    why_not: Option<&'a str>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Default,
    Plain,
    Danger,
}

impl<'a> Verb<'a> {
    /// The verb that `Enter` means; at most one.
    pub fn default(words: &'a str) -> Self {
        Self { words, kind: Kind::Default, why_not: None }
    }

    /// Another verb.
    pub fn plain(words: &'a str) -> Self {
        Self { words, kind: Kind::Plain, why_not: None }
    }

    /// A verb that takes something away for good. Stands last and is never the default.
    pub fn danger(words: &'a str) -> Self {
        Self { words, kind: Kind::Danger, why_not: None }
    }

    /// Cannot be chosen, and why.
    #[must_use]
    pub fn why_not(self, why_not: Option<&'a str>) -> Self {
        Self { why_not, ..self }
    }
}

/// What is remembered while a dialog is open: when it was last drawn, and who had the keyboard before.
#[derive(Clone, Copy, Default)]
struct Open {
    pass: u64,
    opener: Option<Id>,
}

/// Keys struck while a dialog is open: kept from what lies below it until the dialog is drawn.
#[derive(Clone, Default)]
struct Held {
    /// When a dialog was last drawn.
    pass: u64,
    keys: Vec<Event>,
}

fn held_id() -> Id {
    Id::unique("keys held for a dialog")
}

/// Keeps the keys from the screen while a dialog lies over it. Called once a pass, before anything reads them.
pub fn hold_keys(ui: &Ui) {
    let pass = ui.cumulative_pass_nr();
    let Some(mut held) = ui.data(|data| data.get_temp::<Held>(held_id())).filter(|held| held.pass + 1 >= pass) else {
        return;
    };
    let is_list_of_keys = |event: &Event| matches!(event, Event::Key { key: Key::F1, .. });
    let is_typed = |event: &Event| {
        matches!(event, Event::Key { .. } | Event::Text(_) | Event::Paste(_) | Event::Copy | Event::Cut | Event::Ime(_))
    };
    held.keys = ui.input_mut(|input| {
        let (keys, others) =
            std::mem::take(&mut input.events).into_iter().partition(|event| is_typed(event) && !is_list_of_keys(event));
        input.events = others;
        keys
    });
    ui.data_mut(|data| data.insert_temp(held_id(), held));
}

fn give_keys(ui: &Ui) {
    let pass = ui.cumulative_pass_nr();
    let held = ui.data(|data| data.get_temp::<Held>(held_id())).unwrap_or_default();
    ui.input_mut(|input| input.events.extend(held.keys));
    ui.data_mut(|data| data.insert_temp(held_id(), Held { pass, keys: Vec::new() }));
}

/// Draws the dialog in this pass and returns the answer if there is one. A click beside it is no answer. The keyboard
/// goes back to whoever had it.
pub fn dialog(
    ui: &mut Ui,
    salt: &str,
    question: &str,
    verbs: &[Verb<'_>],
    add: impl FnOnce(&mut Ui),
) -> Option<Answer> {
    let id = Id::unique(("dialog", salt));
    let pass = ui.cumulative_pass_nr();
    let before = ui.data(|data| data.get_temp::<Open>(id)).filter(|open| open.pass + 1 >= pass);
    let opening = before.is_none();
    let opener = before.map_or_else(|| ui.memory(egui::Memory::focused), |open| open.opener);
    ui.data_mut(|data| data.insert_temp(id, Open { pass, opener }));
    give_keys(ui);

    let t = theme::tokens(ui);
    let frame = Frame::new()
        .fill(t.surface_raised)
        .stroke(Stroke::new(stroke::LINE, t.line_firm))
        .corner_radius(radius::CONTROL)
        .shadow(Shadow { offset: [0, 2], blur: 8, spread: 0, color: t.shadow })
        .inner_margin(Margin::same(20));
    let modal = egui::Modal::new(id).frame(frame).backdrop_color(t.shadow);
    let shown = modal.show(ui, |ui| {
        ui.set_width(content_width(ui, WIDTH - 40.0));
        ui.spacing_mut().item_spacing.y = 12.0;
        ui.label(text::name(question).color(t.text_primary));
        add(ui);
        ui.add_space(4.0);
        let mut answer = None;
        let row = egui::vec2(ui.available_width(), height::BUTTON);
        ui.allocate_ui_with_layout(row, Layout::left_to_right(Align::Center), |ui| {
            at_right(ui, |ui| {
                for (place, verb) in verbs.iter().enumerate() {
                    let button = match verb.kind {
                        Kind::Default => Button::primary(verb.words).key("Enter"),
                        Kind::Plain => Button::outlined(verb.words),
                        Kind::Danger => Button::danger(verb.words),
                    };
                    let response = button.why_not(verb.why_not).show(ui);
                    if opening && verb.kind == Kind::Default {
                        response.request_focus();
                    }
                    if response.clicked() {
                        answer = Some(Answer::Verb(place));
                    }
                }
            });
        });
        answer
    });
    let mut answer = shown.inner;
    if answer.is_none() && shown.is_top_modal && !shown.any_popup_open {
        let default = verbs.iter().position(|verb| verb.kind == Kind::Default && verb.why_not.is_none());
        answer = keys(ui, default.filter(|_| !opening));
    }
    if answer.is_some() {
        ui.data_mut(|data| data.remove::<Open>(id));
        if let Some(opener) = opener {
            focus::give_back(ui, opener);
        }
    }
    answer
}

/// `Esc` leaves, `Enter` is the default verb wherever the keyboard is, unless a button has just taken it.
fn keys(ui: &Ui, default: Option<usize>) -> Option<Answer> {
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    if pressed(Key::Escape) {
        return Some(Answer::Left);
    }
    default.filter(|_| pressed(Key::Enter)).map(Answer::Verb)
}
