//! What was left out of the run and why: each reason once, its yards beside it as buttons that put them back.

use egui::{ScrollArea, Ui};

use crate::domain::ids::YardId;
use crate::domain::run_order::RunOrder;
use crate::ui::action::Outbox;
use crate::ui::scene::Scene;
use crate::ui::screens::run::state::RunState;
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{height, space};
use crate::ui::theme::text::{self, Weighted as _};
use crate::ui::widgets::{Button, Icon};

/// From one line of names to the next, in points.
const LINE: f32 = 30.0;
/// Between two names, and what a button adds to its name: icon and padding.
const GAP: f32 = 4.0;
const BESIDE: f32 = 34.0;

/// A reason, and the yards left out for it.
pub(super) struct Group {
    why: String,
    yards: Vec<(YardId, String)>,
}

/// What was left out, by reason, in the order in which it was.
pub(super) fn groups(scene: &Scene, state: &RunState, run: &RunOrder) -> Vec<Group> {
    let taken = state.taken.as_ref().filter(|taken| taken.proposal.run.id == run.id);
    let proposed = taken.into_iter().flat_map(|taken| taken.proposal.left_out.iter().cloned());
    let by_hand = run.left_out.iter().map(|yard| (*yard, "Left out by hand".to_owned()));
    let mut groups: Vec<Group> = Vec::new();
    for (yard, why) in proposed.chain(by_hand) {
        let listed = groups.iter().any(|group| group.yards.iter().any(|(it, _)| *it == yard));
        if listed || run.stops.iter().any(|stop| stop.yard == yard) {
            continue;
        }
        let named = (yard, name(scene, yard).to_owned());
        match groups.iter_mut().find(|group| group.why == why) {
            Some(group) => group.yards.push(named),
            None => groups.push(Group { why, yards: vec![named] }),
        }
    }
    groups
}

fn name(scene: &Scene, yard: YardId) -> &str {
    scene.world.yards.get(&yard).map_or("A yard", |yard| yard.name.as_str())
}

/// How high all of it is in that width, in points.
pub(super) fn height_of(ui: &Ui, groups: &[Group], width: f32) -> f32 {
    let wide = |words: &str, weight| {
        let font = text::TABLE.font(weight);
        ui.painter().layout_no_wrap(words.to_owned(), font, egui::Color32::PLACEHOLDER).size().x
    };
    let lines = groups.iter().map(|group| {
        let reason = wide(&reason(group), Weight::Regular);
        let (mut lines, mut used) = (1, reason);
        for (_, name) in &group.yards {
            let needed = GAP + wide(name, Weight::SemiBold) + BESIDE;
            if used + needed > width {
                lines += 1;
                used = 0.0;
            }
            used += needed;
        }
        lines
    });
    lines.sum::<usize>() as f32 * LINE
}

fn reason(group: &Group) -> String {
    format!("{}:", group.why)
}

/// Draws it; beyond `room` points it scrolls.
pub(super) fn show(
    ui: &mut Ui,
    scene: &Scene,
    state: &mut RunState,
    run: &RunOrder,
    groups: &[Group],
    room: f32,
    out: &mut Outbox,
) {
    let t = theme::tokens(ui);
    if let Some(taken) = state.taken.as_ref().filter(|taken| taken.proposal.run.id == run.id) {
        let unlocked: Vec<&str> = taken.proposal.unlocked.iter().map(|yard| name(scene, *yard)).collect();
        if !unlocked.is_empty() {
            let words = format!("The lock of {} could not be kept.", unlocked.join(", "));
            ui.label(text::table(words).semibold().color(t.text_late));
        }
    }
    ScrollArea::vertical().id_salt("left out").max_height(room).auto_shrink([false, true]).show(ui, |ui| {
        ui.spacing_mut().item_spacing = egui::vec2(GAP, LINE - height::BUTTON_SMALL);
        ui.spacing_mut().interact_size.y = height::BUTTON_SMALL;
        ui.set_max_width(ui.available_width() - space::SMALL);
        for group in groups {
            ui.horizontal_wrapped(|ui| {
                ui.label(text::table(reason(group)).color(t.text_secondary));
                for (yard, name) in &group.yards {
                    let spoken = format!("Put {name} back");
                    if Button::text(name).icon(Icon::Undo).small().name(&spoken).show(ui).clicked() {
                        state.put_back(scene, run, *yard, out);
                    }
                }
            });
        }
    });
}
