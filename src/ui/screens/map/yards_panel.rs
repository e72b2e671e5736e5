//! Several yards chosen on the map: what they hold together, and the way to their hives.

use egui::{Key, Modifiers, Ui};

use crate::domain::ids::{ColonyId, YardId};
use crate::ui::action::Outbox;
use crate::ui::glyph::{StackSize, stack_widget};
use crate::ui::scene::Scene;
use crate::ui::screens::form::scrolled;
use crate::ui::screens::map::MapState;
use crate::ui::screens::map::many::{self, Among};
use crate::ui::screens::map::words::{counted, due};
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::text;
use crate::ui::widgets::{Button, Icon, focus, parts};

/// Draws the panel.
pub fn show(ui: &mut Ui, scene: &Scene, state: &mut MapState, out: &mut Outbox) {
    if state.hives.is_some() {
        show_hives(ui, scene, state, out);
        return;
    }
    let t = theme::tokens(ui);
    let views = || state.yards.iter().filter_map(|yard| scene.outlook.yards.get(yard));
    let hives: u32 = views().map(|view| view.colonies.len() as u32).sum();
    let (looks, steps) = (views().map(|view| view.open_looks).sum(), views().map(|view| view.open_steps).sum());
    let mut none = false;
    ui.horizontal(|ui| {
        let title = format!("{} chosen", counted(state.yards.len() as u32, "yard", "yards"));
        ui.label(text::SENTENCE.words(Weight::SemiBold, title).color(t.text_primary));
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let close = Button::icon_only(Icon::Close, "Choose none").show(ui);
            focus::go_on_from(ui, close.id);
            none = close.clicked();
        });
    });
    let words = format!("{}, {}", counted(hives, "hive", "hives"), due(looks, steps));
    ui.label(text::table(words).color(t.text_primary));
    parts::rule(ui);
    let mut left_out: Option<YardId> = None;
    let room = (ui.available_height() - 84.0).max(80.0).min(36.0 * state.yards.len() as f32);
    scrolled(ui, "yards chosen", room, |ui| {
        for yard in &state.yards {
            let Some(name) = scene.world.yards.get(yard).map(|yard| yard.name.as_str()) else { continue };
            parts::line(ui, 32.0, |ui| {
                if let Some(shown) = state.far_yard(*yard) {
                    stack_widget(ui, StackSize::Small, &shown.stack, &shown.spoken());
                }
                ui.label(text::table(name).color(t.text_primary));
                ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                    let name = format!("Leave out {name}");
                    if Button::text("Leave out").tiny().name(&name).show(ui).clicked() {
                        left_out = Some(*yard);
                    }
                });
            });
        }
    });
    ui.add_space(8.0);
    let why_not = (hives == 0).then_some("No hive stands in these yards. Choose others.");
    let key = focus::letters_are_free(ui) && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::C));
    let button = Button::outlined("Choose their hives").key("C").why_not(why_not);
    if button.show(ui).clicked() || key && hives > 0 {
        state.hives = Some(hives_of(scene, state).into_iter().collect());
        ui.request_repaint();
    }
    parts::remark(ui, "Then one entry does it for all of them, with exceptions in words.");
    if left_out.is_some() || none {
        ui.request_repaint();
    }
    if let Some(yard) = left_out {
        state.yards.remove(&yard);
    }
    if none {
        state.yards.clear();
    }
}

fn show_hives(ui: &mut Ui, scene: &Scene, state: &mut MapState, out: &mut Outbox) {
    let all = hives_of(scene, state);
    let name = counted(state.yards.len() as u32, "yard", "yards");
    let Some(mut chosen) = state.hives.take() else { return };
    chosen.retain(|id| scene.outlook.colonies.contains_key(id));
    let among = Among { name: &name, hives: &all };
    let shown = ui.push_id("hives of yards", |ui| many::show(ui, scene, &mut state.many, &among, &mut chosen, out));
    let closed = shown.inner;
    let leave = !state.many.is_acting()
        && focus::keys_are_free(ui)
        && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape));
    if closed || leave {
        state.many = many::ManyState::default();
    } else {
        state.hives = Some(chosen);
    }
}

/// The hives of the chosen yards, yard by yard.
fn hives_of(scene: &Scene, state: &MapState) -> Vec<ColonyId> {
    let views = state.yards.iter().filter_map(|yard| scene.outlook.yards.get(yard));
    views.flat_map(|view| view.colonies.iter().copied()).collect()
}
