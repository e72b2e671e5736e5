//! Beside the grid: this hive, where a queen given here is from, and every code.

use egui::{ScrollArea, Sense, Ui, vec2};

use crate::domain::grammar::hints::{HINTS, Hint, HintGroup};
use crate::domain::in_hand::draw::{Drawn, From};
use crate::ui::action::Outbox;
use crate::ui::given_from;
use crate::ui::scene::Scene;
use crate::ui::screens::evening::read::Said;
use crate::ui::screens::evening::state::EveningState;
use crate::ui::theme;
use crate::ui::theme::metrics::space;
use crate::ui::theme::text;
use crate::ui::theme::text::Weighted as _;
use crate::ui::widgets::{key, parts};

/// Draws what stands beside the grid.
pub(super) fn show(ui: &mut Ui, scene: &Scene, state: &mut EveningState, narrow: bool, out: &mut Outbox) {
    let t = theme::tokens(ui);
    ScrollArea::vertical().id_salt("codes").auto_shrink([false, false]).show(ui, |ui| {
        // The scroll bar has the edge to itself.
        ui.set_width(ui.available_width() - space::SMALL);
        ui.spacing_mut().item_spacing.y = 2.0;
        if let Some(row) = state.rows.hives.get(state.current) {
            parts::line(ui, 30.0, |ui| {
                ui.label(text::large(&row.name).bold().color(t.text_primary));
                ui.label(text::body(&row.place).color(t.text_secondary));
            });
            ui.label(text::table(&row.why).color(t.text_primary));
        }
        from_parcel(ui, scene, state, out);
        for group in HintGroup::ALL {
            ui.add_space(2.0);
            parts::rule(ui);
            ui.label(text::table(group.words()).semibold().color(t.text_primary));
            let hints: Vec<&Hint> = HINTS.iter().filter(|hint| hint.group == group).collect();
            let columns = match (narrow, group) {
                (true, _) => 1,
                (false, HintGroup::NotOpened) => 3,
                (false, _) => 2,
            };
            for together in lines(&hints, columns) {
                parts::line(ui, 20.0, |ui| {
                    let wide = together.len() == 1 && together.iter().all(|hint| is_long(hint));
                    let share = ui.available_width() / if wide { 1.0 } else { columns as f32 };
                    for hint in together {
                        code(ui, hint, share);
                    }
                });
            }
        }
    });
}

/// Words that do not fit beside another code.
fn is_long(hint: &Hint) -> bool {
    hint.words.len() > 22
}

/// Codes side by side, in their order; long ones follow, each on a line of its own.
fn lines<'a>(hints: &[&'a Hint], columns: usize) -> Vec<Vec<&'a Hint>> {
    let (long, short): (Vec<&Hint>, Vec<&Hint>) = hints.iter().copied().partition(|hint| is_long(hint));
    let short = short.chunks(columns).map(<[&Hint]>::to_vec);
    short.chain(long.into_iter().map(|hint| vec![hint])).collect()
}

fn code(ui: &mut Ui, hint: &Hint, width: f32) {
    let t = theme::tokens(ui);
    let begin = ui.cursor().left();
    let caps = key::width(ui.painter(), hint.code).max(30.0);
    let (rect, _) = ui.allocate_exact_size(vec2(caps, 20.0), Sense::hover());
    key::paint(ui.painter(), rect.left_center(), hint.code, key::plain_ink(ui));
    let room = width - (ui.cursor().left() - begin) - 8.0;
    let words = text::table(hint.words).color(t.text_primary);
    let size = vec2(room.max(20.0), 20.0);
    ui.allocate_ui_with_layout(size, egui::Layout::left_to_right(egui::Align::Center), |ui| {
        ui.set_min_width(size.x);
        ui.add(egui::Label::new(words).truncate()).on_hover_text(hint.words);
    });
}

/// Where a queen, cell or virgin given in this row is from: as planned, else the oldest in hand, or a parcel chosen.
fn from_parcel(ui: &mut Ui, scene: &Scene, state: &mut EveningState, out: &mut Outbox) {
    let at = state.current;
    let Said::Outcome(told) = state.said(scene, at) else { return };
    if told.gives.is_none() {
        return;
    }
    let mut hand = given_from::hand(ui, scene);
    // The rows above are given out first.
    for row in state.rows.hives.iter().take(at).filter(|row| row.kept.is_none()) {
        if let Some(giving) = row.giving(state.day) {
            let from = state.rows.from(&mut hand, row, state.day);
            hand.draw(giving, from);
        }
    }
    let Some(row) = state.rows.hives.get(at).filter(|row| row.kept.is_none()) else { return };
    let Some(giving) = row.giving(state.day) else { return };
    let before = state.rows.from(&mut hand, row, state.day);
    let mut from = before;
    let planned = match hand.clone().draw(giving, From::NotSaid) {
        Drawn { parcel: Some(parcel), .. } => From::Parcel(parcel),
        Drawn { source: Some(source), .. } => From::SourceAlone(source),
        Drawn { parcel: None, source: None } => From::NotKnown,
    };
    ui.add_space(3.0);
    parts::rule(ui);
    given_from::choose(ui, scene, hand, &[giving], &mut from);
    if from == From::NotSaid && from != before {
        // As planned, although something else was chosen for the evening.
        from = planned;
    }
    if let Some(row) = state.rows.hives.get_mut(at)
        && from != before
    {
        row.from = from;
        state.parcel_chosen(out);
    }
}
