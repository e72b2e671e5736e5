//! Evening entry: the day's results typed in, one field a hive, in the order of the run sheet.

mod draft;
mod foot;
mod grid;
mod keys;
mod read;
mod record;
mod rows;
mod side;
mod state;

pub use state::EveningState;

use egui::{CentralPanel, Frame, Key, Margin, Modifiers, Panel, Ui};

use crate::domain::day_words::{DateOrder, Lean, read_day};
use crate::domain::in_hand::draw::From;
use crate::domain::parcel::Parcel;
use crate::ui::action::{Goto, Outbox};
use crate::ui::given_from;
use crate::ui::scene::Scene;
use crate::ui::screens::evening::keys::RowKey;
use crate::ui::screens::evening::state::Question;
use crate::ui::theme;
use crate::ui::theme::metrics::{height, space};
use crate::ui::theme::text::{self, fact_and_rest};
use crate::ui::widgets::{Answer, Button, Field, MenuChip, Verb, at_right, boxes, dialog, ends, focus, key, parts};

/// Beneath this width the codes stand in one column.
const NARROW: f32 = 1200.0;

/// Draws evening entry; true when it is left for the run.
pub fn show(ui: &mut Ui, scene: &Scene, state: &mut EveningState, goto: &mut Option<Goto>, out: &mut Outbox) -> bool {
    state.settle(scene, out);
    let typing = state.question.is_none() && state.field.is_some_and(|id| ui.memory(|memory| memory.has_focus(id)));
    let key = typing.then(|| keys::take(ui, &mut state.held)).flatten();
    if !typing && state.question.is_none() && ui.memory(|memory| memory.focused().is_none()) {
        keys::hold(ui, &mut state.held);
        if !state.held.is_empty() {
            // The row may have been scrolled out of view.
            state.reveal = state.reveal.or(Some(0));
        }
    }
    // Escape takes the keyboard from a field before anything is drawn; in day and initials it means those alone.
    let elsewhere = state.question.is_some() || state.day_typing || state.by_typing || egui::Popup::is_any_open(ui);
    let mut left = !elsewhere && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape));
    let mut record =
        ui.input_mut(|input| state.question.is_none() && input.consume_key(Modifiers::COMMAND, Key::Enter));
    let narrow = ui.available_width() < NARROW;
    let t = theme::tokens(ui);
    let bar = Frame::new().fill(t.surface_panel).inner_margin(Margin::symmetric(space::SIDE as i8, 0));
    Panel::top("evening sentence").exact_size(height::SENTENCE).frame(bar).show_separator_line(false).show(ui, |ui| {
        let pressed = sentence(ui, scene, state, narrow);
        left |= pressed == Some(Pressed::Leave);
        record |= pressed == Some(Pressed::Record);
    });
    Panel::top("evening choices").exact_size(height::CHOICES).frame(bar).show_separator_line(true).show(ui, |ui| {
        choices(ui, scene, state, narrow, out);
    });
    let side_frame =
        Frame::new().fill(t.surface_panel).inner_margin(Margin { left: 18, right: 12, top: 10, bottom: 0 });
    let width = if narrow { 270.0 } else { 420.0 };
    Panel::right("evening side").exact_size(width).resizable(false).frame(side_frame).show_separator_line(true).show(
        ui,
        |ui| {
            side::show(ui, scene, state, narrow, out);
        },
    );
    let foot = Frame::new().fill(t.surface_panel).inner_margin(Margin::symmetric(space::SIDE as i8, 6));
    Panel::bottom("evening counts").exact_size(60.0).frame(foot).show_separator_line(true).show(ui, |ui| {
        foot::show(ui, scene, state);
    });
    CentralPanel::no_frame().frame(Frame::new().fill(t.surface_raised)).show(ui, |ui| {
        if state.rows.hives.is_empty() {
            nothing(ui, state, goto);
        } else {
            grid::show(ui, scene, state, narrow, out);
        }
    });
    act(scene, state, key, out);
    if record {
        state.record(scene, "", out);
    }
    questions(ui, scene, state, out);
    left
}

/// What was pressed in the sentence's band.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Pressed {
    Leave,
    Record,
}

fn sentence(ui: &mut Ui, scene: &Scene, state: &mut EveningState, narrow: bool) -> Option<Pressed> {
    let t = theme::tokens(ui);
    let check = state.check(scene);
    let entered = state.rows.entered();
    let changed = state.rows.hives.iter().any(rows::Row::is_changed);
    let why = match &check.refusal {
        Some(refusal) => Some(refusal.as_str()),
        None if !changed => Some("Nothing new was typed. Type the codes of a hive first."),
        None => None,
    };
    let of = state.rows.hives.len();
    let word = if of == 1 { "hive" } else { "hives" };
    let fact = format!("Evening of {}: {entered} of {of} {word} entered.", state.day.with_weekday());
    let next = state.rows.hives.iter().find(|row| row.is_blank());
    let rest = match (next, changed) {
        (Some(row), _) => format!("Next is {}, {}.", row.name, row.yard),
        (None, true) => "All entered, not recorded yet.".to_owned(),
        (None, false) if of > 0 => "All recorded.".to_owned(),
        (None, false) => String::new(),
    };
    let sentence = |ui: &mut Ui| {
        ui.add(egui::Label::new(fact_and_rest(t, text::SENTENCE, &fact, &rest)).truncate());
    };
    let buttons = |ui: &mut Ui| {
        let leave = Button::outlined("Show the run").key(if narrow { "" } else { "Esc" }).show(ui).clicked();
        let keys = if narrow { "" } else { "Ctrl Enter" };
        let record = Button::primary("Record the evening").key(keys).why_not(why).show(ui).clicked();
        record.then_some(Pressed::Record).or(leave.then_some(Pressed::Leave))
    };
    ends(ui, sentence, buttons).1
}

fn choices(ui: &mut Ui, scene: &Scene, state: &mut EveningState, narrow: bool, out: &mut Outbox) {
    let t = theme::tokens(ui);
    ui.horizontal_centered(|ui| {
        if !state.day_typing {
            state.day_text = state.day.with_weekday();
        }
        parts::caption(ui, "Day");
        let field = Field::new("Day").hidden_label().salt("evening day").width(124.0);
        let shown = field.show(ui, &mut state.day_text);
        let was_typing = std::mem::replace(&mut state.day_typing, shown.has_focus());
        if was_typing && !state.day_typing && !ui.input(|input| input.key_pressed(Key::Escape)) {
            match read_day(&state.day_text, scene.today, DateOrder::DayMonth, Lean::Back) {
                Ok(day) if day != state.day => state.show_day(scene, day),
                Ok(_) => state.mistake = None,
                Err(error) => state.mistake = Some(format!("{error}.")),
            }
        }
        ui.add_space(8.0);
        parts::caption(ui, "Initials");
        let field = Field::new("Initials").hidden_label().salt("evening initials").width(62.0);
        let shown = field.show(ui, &mut state.by);
        state.by_typing = shown.has_focus();
        if shown.changed() {
            state.by_typed(out);
        }
        ui.add_space(8.0);
        given(ui, scene, state, narrow, out);
        ui.add_space(4.0);
        let refusal = state.check(scene).refusal;
        match state.mistake.as_ref().or(refusal.as_ref()) {
            Some(mistake) => ui.add(egui::Label::new(text::small(mistake).color(t.danger)).truncate()),
            None => {
                let words = text::small("They hold for every row. Codes in any order.").color(t.text_secondary);
                ui.add(egui::Label::new(words).truncate())
            }
        };
        if ui.available_width() < 300.0 {
            return;
        }
        at_right(ui, |ui| {
            ui.spacing_mut().item_spacing.x = 6.0;
            for (keys, words) in [("Enter", "next row"), ("↑", "back"), ("Ctrl Z", "undo a row")] {
                key::caps(ui, keys);
                ui.label(text::small(words).color(t.text_secondary));
                ui.add_space(4.0);
            }
        });
    });
}

/// Where the queens given that evening are from: one choice for all rows. Not shown where nothing is in hand.
fn given(ui: &mut Ui, scene: &Scene, state: &mut EveningState, narrow: bool, out: &mut Outbox) {
    const AS_PLANNED: &str = "as planned, else the oldest";
    let mut hand = given_from::hand(ui, scene);
    let here = |parcel: &&Parcel| parcel.arrived.is_some_and(|arrived| arrived <= state.day);
    let parcels = scene.world.parcels.values().filter(here).map(|parcel| (hand.left(parcel.id), parcel));
    let mut parcels: Vec<(u32, &Parcel)> = parcels.filter(|(left, _)| *left > 0).collect();
    if parcels.is_empty() {
        return;
    }
    parcels.sort_by_key(|(_, parcel)| (parcel.kind.words(), parcel.arrived, parcel.id));
    let mut entries = vec![AS_PLANNED.to_owned()];
    entries.extend(parcels.iter().map(|(left, parcel)| {
        let words = given_from::in_hand_words(&scene.world, parcel, *left, scene.today);
        format!("{}: {words}", parcel.kind.words())
    }));
    let chosen = match state.rows.from {
        From::Parcel(chosen) => parcels.iter().position(|(_, parcel)| parcel.id == chosen).map_or(0, |at| at + 1),
        _ => 0,
    };
    if !narrow {
        parts::caption(ui, "Given from");
    }
    let now = entries.get(chosen).map_or(AS_PLANNED, String::as_str);
    let picked = MenuChip::unnamed("Given from", now).show(ui, &entries);
    if let Some(at) = picked.filter(|at| *at != chosen) {
        let parcel = at.checked_sub(1).and_then(|at| parcels.get(at));
        if let Some(row) = state.field {
            // One goes on typing where one was.
            focus::give_back(ui, row);
        }
        state.rows.from = parcel.map_or(From::NotSaid, |(_, parcel)| From::Parcel(parcel.id));
        state.parcel_chosen(out);
    }
}

fn nothing(ui: &mut Ui, state: &EveningState, goto: &mut Option<Goto>) {
    Frame::new().inner_margin(Margin::symmetric(16, 24)).show(ui, |ui| {
        let fact = format!("No hive has open work on {}.", state.day.with_weekday());
        boxes::empty_state(ui, &fact, "Type another day above, or record a single find on the hive's card.");
        ui.add_space(space::SMALL);
        if Button::outlined("Map").key("Ctrl 1").show(ui).clicked() {
            *goto = Some(Goto::Screen(crate::ui::action::Screen::Map));
        }
    });
}

/// Carries out the key that left the row.
fn act(scene: &Scene, state: &mut EveningState, key: Option<RowKey>, out: &mut Outbox) {
    const PAGE: usize = 15;
    let at = state.current;
    match key {
        None => {}
        Some(RowKey::Enter) => state.enter(scene, out),
        Some(RowKey::Up) => state.to(at.saturating_sub(1)),
        Some(RowKey::Down) => state.to(at + 1),
        Some(RowKey::PageUp) => state.to(at.saturating_sub(PAGE)),
        Some(RowKey::PageDown) => state.to(at + PAGE),
        Some(RowKey::Undo) => state.undo(out),
        Some(RowKey::Record) => state.record(scene, "", out),
    }
}

fn questions(ui: &mut Ui, scene: &Scene, state: &mut EveningState, out: &mut Outbox) {
    match state.question.clone() {
        None => {}
        Some(Question::Fill(codes)) => {
            let blank = read::blanks(&state.rows, state.current).len();
            let rows = if blank == 1 { "1 blank row".to_owned() } else { format!("{blank} blank rows") };
            let verb = format!("Fill {rows}");
            let verbs = [Verb::plain("Leave them blank"), Verb::default(&verb)];
            let answer = dialog(ui, "fill", &format!("Put {codes} in {rows}?"), &verbs, |ui| {
                parts::remark(ui, "Rows that hold codes stay as they are. Ctrl Z takes the filling back.");
            });
            match answer {
                Some(Answer::Verb(1)) => {
                    state.question = None;
                    state.fill(&codes, out);
                }
                Some(_) => state.question = None,
                None => {}
            }
        }
        Some(Question::Reason { mut typed, begun }) => {
            let amended = state.check(scene).amended;
            let question = if amended == 1 {
                "Why is 1 row put right?".to_owned()
            } else {
                format!("Why are {amended} rows put right?")
            };
            let why = typed.trim().is_empty().then_some("An amendment needs a reason. Type it above.");
            let verbs = [Verb::plain("Go back"), Verb::default("Record the evening").why_not(why)];
            let answer = dialog(ui, "reason", &question, &verbs, |ui| {
                parts::remark(ui, "What was recorded before stays readable in the history.");
                let field = Field::new("Reason").above().salt("evening reason").width(ui.available_width());
                let id = field.id(ui);
                if begun && ui.memory(|memory| memory.focused() != Some(id)) && typed.is_empty() {
                    ui.memory_mut(|memory| memory.request_focus(id));
                }
                field.show(ui, &mut typed);
            });
            match answer {
                Some(Answer::Verb(1)) => {
                    state.question = None;
                    state.record(scene, &typed, out);
                }
                Some(_) => state.question = None,
                None => state.question = Some(Question::Reason { typed, begun: true }),
            }
        }
    }
}
