//! A hive's card: who the queen is, what is due and why, the clock, the lid note, the history, and short forms for
//! everything that can be done to one hive. The Map gives the panel; the card fills it.

mod foot;
pub(crate) mod forms;
mod history;
mod history_view;
mod model;
mod note_view;
mod sections;
mod state;

pub use state::CardState;

pub(crate) use forms::yard_named;

use egui::{Frame, Id, Key, Label, Margin, Modifiers, ScrollArea, Ui, UiBuilder};

use crate::domain::change::Change;
use crate::domain::ids::{ColonyId, RecordId};
use crate::domain::record::Which;
use crate::ui::action::{Action, Goto, Outbox};
use crate::ui::card::forms::{Begin, Open};
use crate::ui::card::model::{Card, Lift};
use crate::ui::glyph::hive_widget;
use crate::ui::scene::Scene;
use crate::ui::theme;
use crate::ui::theme::text::{self, Weighted as _};
use crate::ui::widgets::{Button, Icon, ends, focus, parts};

/// What the card asks of the screen it stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CardAnswer {
    /// Nothing.
    Stay,
    /// Close the card.
    Close,
    /// Show the hive before this one.
    Previous,
    /// Show the hive after this one.
    Next,
}

/// What a part of the card asks of the whole.
#[derive(Clone, Debug, Default)]
pub(crate) struct Wish {
    answer: Option<CardAnswer>,
    begin: Option<Begin>,
    print: bool,
    other_sheet: bool,
    which: Option<Which>,
    read_history: bool,
    /// The history has the keyboard: the card's letters act all the same.
    list_has_keys: bool,
    /// A form was open when the frame began: its `Enter` must not open another.
    form_was_open: bool,
}

/// Inside of the card: the mark of a chosen row stands left of it, the scroll bar right of it.
const INSIDE: Margin = Margin { left: 18, right: 18, top: 0, bottom: 0 };
const HEAD: f32 = 62.0;
const FOOT: f32 = 58.0;

/// Draws the card over the whole of `ui` (452 points wide as designed), margins included.
///
/// While no form is open and nothing has the keyboard it takes `Enter`, `I`, `P` and `M`; while one is open, `Enter` and
/// `Esc`. Call it before the screen's own keys are read.
pub fn show(
    ui: &mut Ui,
    scene: &Scene,
    state: &mut CardState,
    colony: ColonyId,
    goto: &mut Option<Goto>,
    out: &mut Outbox,
) -> CardAnswer {
    let Some(card) = state.card(scene, colony) else { return CardAnswer::Close };
    let mut wish = Wish { form_was_open: state.open.is_some(), ..Wish::default() };
    let t = theme::tokens(ui);
    let inside = Frame::new().inner_margin(INSIDE);
    Frame::new().fill(t.surface_panel).show(ui, |ui| {
        ui.push_id(("card", colony.to_string()), |ui| {
            let room = ui.available_rect_before_wrap();
            ui.take_available_space();
            // In this order, so that Tab goes down the card.
            let (top, rest) = room.split_top_bottom_at_y(room.top() + HEAD);
            let (middle, bottom) = rest.split_top_bottom_at_y(room.bottom() - FOOT);
            ui.scope_builder(UiBuilder::new().id_salt("card head").max_rect(top - INSIDE), |ui| {
                let last = head(ui, &card, &mut wish);
                focus::go_on_from(ui, last);
            });
            ui.scope_builder(UiBuilder::new().id_salt("card middle").max_rect(middle), |ui| {
                let salt = ("card body", state.open.is_some());
                ScrollArea::vertical().id_salt(salt).auto_shrink([false, false]).show(ui, |ui| {
                    inside.show(ui, |ui| {
                        ui.spacing_mut().item_spacing.y = 4.0;
                        body(ui, scene, state, &card, colony, &mut wish, out);
                    });
                });
            });
            ui.scope_builder(UiBuilder::new().id_salt("card foot").max_rect(bottom - INSIDE), |ui| {
                parts::rule(ui);
                // With the spacing after the line, as much as below the buttons.
                ui.add_space(5.0);
                if let Some(open) = &mut state.open {
                    open.foot(ui);
                } else if let Some(begin) = foot::show(ui, &card) {
                    wish.begin = Some(begin);
                }
            });
        });
    });
    keys(ui, scene, state, &card, &mut wish);
    act(ui, scene, state, colony, wish, goto, out)
}

/// Draws it; the control of it that Tab visits last.
fn head(ui: &mut Ui, card: &Card, wish: &mut Wish) -> Id {
    let t = theme::tokens(ui);
    ui.add_space(6.0);
    let named = |ui: &mut Ui| {
        let glyph = hive_widget(ui, 28.0, card.fill, card.lid, &card.glyph_name);
        // A screen reader says which hive's card it is, and how it stands, when it opens and when that changes.
        ui.accesskit_node_builder(glyph.id, |node| node.set_live(egui::accesskit::Live::Polite));
        ui.add_space(4.0);
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = 0.0;
            ui.add_space(((46.0 - text::SENTENCE.line - text::SMALL.line) / 2.0).max(0.0));
            ui.add(Label::new(text::sentence(&card.name).color(t.text_primary)).truncate());
            ui.add(Label::new(text::small(&card.place).color(t.text_secondary)).truncate());
        });
    };
    let arrows = |ui: &mut Ui| {
        if Button::icon_only(Icon::Left, "Previous hive").show(ui).clicked() {
            wish.answer = Some(CardAnswer::Previous);
        }
        if Button::icon_only(Icon::Right, "Next hive").show(ui).clicked() {
            wish.answer = Some(CardAnswer::Next);
        }
        let close = Button::icon_only(Icon::Close, "Close the card").show(ui);
        if close.clicked() {
            wish.answer = Some(CardAnswer::Close);
        }
        close.id
    };
    let row = egui::vec2(ui.available_width(), 46.0);
    let layout = egui::Layout::left_to_right(egui::Align::Center);
    let ((), last) = ui.allocate_ui_with_layout(row, layout, |ui| ends(ui, named, arrows)).inner;
    parts::rule(ui);
    last
}

fn body(
    ui: &mut Ui,
    scene: &Scene,
    state: &mut CardState,
    card: &Card,
    colony: ColonyId,
    wish: &mut Wish,
    out: &mut Outbox,
) {
    ui.add_space(4.0);
    if let Some(open) = &mut state.open {
        match open.show(ui, scene, card, colony, out) {
            forms::Answer::Stay => {}
            forms::Answer::Close => state.close_form(ui),
            forms::Answer::Commit(change) => {
                out.change(*change);
                state.form_sent(ui);
                ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Enter));
            }
        }
        return;
    }
    if let Some(ended) = &card.ended {
        ui.label(text::body(ended).semibold());
        parts::rule(ui);
    }
    if !card.former.is_empty() {
        parts::remark(ui, &card.former);
        parts::rule(ui);
    }
    if !card.note.is_empty() {
        ui.label(text::table(&card.note).color(theme::tokens(ui).text_primary));
        parts::rule(ui);
    }
    sections::queen(ui, &card.queen);
    sections::warnings(ui, &card.warnings, wish);
    if let Some(which) = &card.which {
        sections::which(ui, which, wish);
    }
    if let Some(clock) = &card.clock {
        sections::clock(ui, clock, scene.today, card.awaited, wish);
    }
    for due in &card.due {
        sections::due(ui, due, card.clock.is_some());
    }
    sections::offers(ui, &card.view.standing.offers, wish);
    if card.ended.is_none() {
        note_view::show(ui, scene, colony, &card.view, wish, out);
    }
    history_view::show(ui, scene, state, card, colony, wish);
    ui.add_space(8.0);
}

/// Keys of the card while no form is open. Read after everything is drawn, so that the letter that opens a form is not
/// typed into it.
fn keys(ui: &Ui, scene: &Scene, state: &CardState, card: &Card, wish: &mut Wish) {
    let free = focus::keys_are_free(ui) || wish.list_has_keys;
    if wish.form_was_open || wish.begin.is_some() || !focus::letters_are_free(ui) {
        return;
    }
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    if pressed(Key::M) {
        wish.begin = history_view::amendable(card, state.row).map(Begin::Amend);
    } else if card.ended.is_some() {
        // Nothing more can be done to it.
    } else if free && pressed(Key::Enter) {
        wish.begin = Some(Begin::Find(String::new()));
    } else if !card.is_suspected() && pressed(Key::I) {
        wish.begin = Some(Begin::Introduce(None));
    } else if pressed(Key::P) && !scene.sheets.is_empty() {
        wish.print = true;
    }
}

impl Wish {
    fn lift(&mut self, lift: Lift) {
        self.begin = Some(Begin::LiftBar(lift));
    }
}

fn act(
    ui: &Ui,
    scene: &Scene,
    state: &mut CardState,
    colony: ColonyId,
    wish: Wish,
    goto: &mut Option<Goto>,
    out: &mut Outbox,
) -> CardAnswer {
    if let Some(begin) = wish.begin {
        state.open = Open::new(scene, colony, begin);
        ui.request_repaint();
    }
    if wish.print
        && let Some(sheet) = scene.sheets.get(scene.usual_sheet())
    {
        out.push(Action::PrintLabels {
            colonies: vec![colony],
            sheet: sheet.name.clone(),
            start: 1,
            path: String::new(),
            note_printed: true,
        });
    }
    if wish.other_sheet {
        *goto = Some(Goto::LabelsOf(colony));
    }
    if wish.read_history {
        out.push(Action::FetchHistory(Some(colony)));
    }
    if let Some(which) = wish.which
        && let Some(question) = state.card(scene, colony).and_then(|card| card.which.clone())
    {
        let by = scene.prefs.initials.clone();
        let record = RecordId(out.new_id());
        out.change(Change::Answer { colony, record, day: question.seen, which, by });
    }
    wish.answer.unwrap_or(CardAnswer::Stay)
}
