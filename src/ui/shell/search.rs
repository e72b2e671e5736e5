//! Searching a hive or yard by its present or former name; `Enter` flies there.

use egui::{Key, Modifiers, Order, Ui, vec2};

use crate::domain::fold_text::{Hit, HitOn, search};
use crate::ui::action::Goto;
use crate::ui::scene::Scene;
use crate::ui::shell::ShellState;
use crate::ui::state::UiState;
use crate::ui::theme;
use crate::ui::theme::text;
use crate::ui::widgets::{Field, Icon};

/// Hits shown at once.
const SHOWN: usize = 9;

/// The field in the top bar.
pub fn field(ui: &mut Ui, scene: &Scene, state: &mut UiState, width: f32) {
    let field = Field::new("Find hive or yard").hidden_label().width(width).icon(Icon::Find).key("Ctrl F");
    let field = field.hint(if width > 200.0 { "Find hive, yard" } else { "Find" });
    let id = field.id(ui);
    if state.shell.search_focus {
        // Just after a dialog has closed the keyboard is not given at once: asked for until it is there.
        ui.memory_mut(|memory| memory.request_focus(id));
        ui.request_repaint();
        state.shell.search_focus = !ui.memory(|memory| memory.has_focus(id));
    }
    // The list's keys are taken before the field sees them.
    let typing = ui.memory(|memory| memory.has_focus(id)) && !state.shell.search.is_empty();
    let pressed = |key| typing && ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    let (down, up, take) = (pressed(Key::ArrowDown), pressed(Key::ArrowUp), pressed(Key::Enter));
    let hits = hits(scene, &mut state.shell);
    let last = hits.len().saturating_sub(1);
    if down {
        state.shell.search_at = (state.shell.search_at + 1).min(last);
    }
    if up {
        state.shell.search_at = state.shell.search_at.saturating_sub(1);
    }
    if take && let Some(hit) = hits.get(state.shell.search_at) {
        go(state, hit);
        // The keys that follow are for the card or yard just opened.
        ui.memory_mut(|memory| memory.surrender_focus(id));
    }
    let response = field.show(ui, &mut state.shell.search);
    // Escape and Tab have taken the keyboard from the field before it is drawn.
    if response.lost_focus() && ui.input(|input| input.key_pressed(Key::Escape) || input.key_pressed(Key::Tab)) {
        state.shell.search.clear();
    }
    if response.changed() {
        state.shell.search_at = 0;
    }
    state.shell.search_left = response.rect.left();
}

/// The hits below the field, while something is typed there.
pub fn show(ui: &mut Ui, scene: &Scene, state: &mut UiState) {
    if state.shell.search.trim().is_empty() || scene.register.is_none() {
        return;
    }
    let hits = hits(scene, &mut state.shell);
    let t = theme::tokens(ui);
    let area = egui::Area::new(egui::Id::unique("search hits")).order(Order::Foreground);
    let mut taken = None;
    let area = area.fixed_pos(egui::pos2(state.shell.search_left - 34.0, 46.0)).show(ui, |ui| {
        let frame = egui::Frame::new()
            .fill(t.surface_raised)
            .stroke(egui::Stroke::new(1.0, t.line_firm))
            .corner_radius(4)
            .inner_margin(egui::Margin::same(6));
        frame.show(ui, |ui| {
            ui.set_width(380.0);
            if hits.is_empty() {
                ui.label(text::table("No hive or yard has or had that name.").color(t.text_secondary));
            }
            for (at, hit) in hits.iter().enumerate() {
                let words = words(scene, hit);
                let chosen = at == state.shell.search_at;
                let fill = if chosen { t.surface_selected } else { t.surface_raised };
                let row = egui::Button::new(text::table(&words).color(t.text_primary))
                    .fill(fill)
                    .stroke(egui::Stroke::NONE)
                    .min_size(vec2(380.0, 30.0))
                    .truncate();
                if ui.add(row).clicked() {
                    taken = Some(hit.clone());
                }
            }
        });
    });
    if let Some(hit) = taken {
        go(state, &hit);
    } else if area.response.clicked_elsewhere() && !ui.text_edit_focused() {
        state.shell.search.clear();
    }
}

/// Searched once for a world and a text: the field and its list both ask, in every frame.
fn hits(scene: &Scene, state: &mut ShellState) -> Vec<Hit> {
    let fits = |(version, text, _): &&(u64, String, Vec<Hit>)| *version == scene.version && *text == state.search;
    if let Some((_, _, hits)) = state.hits.as_ref().filter(fits) {
        return hits.clone();
    }
    let mut hits = search(&scene.world, &state.search);
    hits.truncate(SHOWN);
    state.hits = Some((scene.version, state.search.clone(), hits.clone()));
    hits
}

fn go(state: &mut UiState, hit: &Hit) {
    state.goto = Some(match hit.what {
        HitOn::Yard(yard) => Goto::Yard(yard),
        HitOn::Colony(colony) => Goto::Hive(colony),
    });
    state.shell.search.clear();
}

fn words(scene: &Scene, hit: &Hit) -> String {
    let yard = hit.yard.and_then(|yard| scene.world.yards.get(&yard)).map_or("", |yard| yard.name.as_str());
    let place = match hit.what {
        HitOn::Yard(_) => "yard".to_owned(),
        HitOn::Colony(_) => yard.to_owned(),
    };
    match (hit.former, hit.what) {
        (Some((_, until)), HitOn::Colony(colony)) => {
            let now = scene.world.colonies.get(&colony).map_or("", |colony| colony.name());
            let until = until.near(scene.today);
            if now == hit.name {
                format!("{}, {place}, ended {until}", hit.name)
            } else {
                format!("{} to {until}: now {now}, {place}", hit.name)
            }
        }
        // "Heath yard" says itself what it is.
        (None, HitOn::Yard(_)) if hit.name.to_lowercase().contains("yard") => hit.name.clone(),
        _ => format!("{}, {place}", hit.name),
    }
}
