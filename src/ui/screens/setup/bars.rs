//! Bars: the ones that hold, set by hand on a hive or a yard, and lifting one with who, when and why.

use egui::Ui;

use crate::domain::bar::{Bar, BarOn, Lifted};
use crate::domain::change::Change;
use crate::domain::decide::decide;
use crate::domain::ids::BarId;
use crate::ui::action::{Goto, Outbox};
use crate::ui::scene::Scene;
use crate::ui::screens::form;
use crate::ui::theme::metrics::height;
use crate::ui::widgets::{Button, Chip, Column, Field, Table, boxes, parts};

/// What is chosen and typed.
#[derive(Clone, Debug, Default)]
pub(super) struct Draft {
    all: bool,
    chosen: Option<BarId>,
    why: String,
    by: String,
    error: Option<String>,
}

/// Draws the part.
pub(super) fn show(ui: &mut Ui, scene: &Scene, draft: &mut Draft, goto: &mut Option<Goto>, out: &mut Outbox) {
    parts::heading(ui, "Bars set by hand", "those that follow from a find are lifted on the hive's card");
    let holds = |bar: &&Bar| bar.lifted.is_none() && bar.until.is_none_or(|until| until >= scene.today);
    let holding = scene.world.bars.values().filter(holds).count();
    ui.horizontal(|ui| {
        if Chip::choice("Holding", !draft.all).count(&holding.to_string()).show(ui).clicked() {
            draft.all = false;
        }
        if Chip::choice("All", draft.all).count(&scene.world.bars.len().to_string()).show(ui).clicked() {
            draft.all = true;
        }
    });
    let mut bars: Vec<&Bar> = scene.world.bars.values().filter(|bar| draft.all || holds(bar)).collect();
    bars.sort_by_key(|bar| (std::cmp::Reverse(bar.from), bar.id));
    if bars.is_empty() {
        boxes::empty_state(ui, "No bar holds.", "Bars are set on a hive's card, or for a whole yard on the map.");
        return;
    }
    let room = height::HEADER + height::ROW * bars.len().min(9) as f32;
    let columns = [
        Column::words("On", 150.0),
        Column::words("Bar", 190.0),
        Column::words("From", 70.0),
        Column::words("Until", 80.0),
        Column::rest("Reason", 1.0),
    ];
    let at = bars.iter().position(|bar| Some(bar.id) == draft.chosen);
    let done = Table::new("Bars", &columns).selected(at).max_height(room).show(ui, bars.len(), |row| {
        let Some(bar) = bars.get(row.index) else { return };
        row.title(&on_words(scene, bar.on));
        row.text(bar.kind.words());
        row.secondary(&bar.from.near(scene.today));
        let until = match (&bar.lifted, bar.until) {
            (Some(lifted), _) => format!("lifted {}", lifted.on.near(scene.today)),
            (None, Some(until)) => until.near(scene.today),
            (None, None) => "until lifted".to_owned(),
        };
        row.secondary(&until);
        row.secondary(&bar.reason);
    });
    if let Some(bar) = done.selected.and_then(|at| bars.get(at)) {
        draft.chosen = Some(bar.id);
        draft.error = None;
    }
    if let Some(bar) = done.opened.and_then(|at| bars.get(at)) {
        *goto = Some(match bar.on {
            BarOn::Colony(colony) => Goto::Hive(colony),
            BarOn::Yard(yard) => Goto::Yard(yard),
        });
    }
    if let Some(bar) = draft.chosen.and_then(|id| scene.world.bars.get(&id)).filter(|bar| bar.lifted.is_none()) {
        lift(ui, scene, draft, bar, out);
    }
}

fn lift(ui: &mut Ui, scene: &Scene, draft: &mut Draft, bar: &Bar, out: &mut Outbox) {
    if draft.by.is_empty() {
        draft.by.clone_from(&scene.prefs.initials);
    }
    parts::heading(ui, &format!("Lift {} on {}", bar.kind.words(), on_words(scene, bar.on)), "from today on");
    let mut enter = false;
    ui.horizontal(|ui| {
        let field = Field::new("Why, and on whose word").width(320.0).error(draft.error.as_deref());
        let response = field.show(ui, &mut draft.why);
        enter |= form::entered(ui, &response);
        let response = Field::new("By").salt("lifted by").width(60.0).show(ui, &mut draft.by);
        enter |= form::entered(ui, &response);
    });
    let why_not = draft.why.trim().is_empty().then_some("The reason is empty. Say why, and on whose word.");
    let pressed = Button::outlined("Lift the bar").why_not(why_not).show(ui).clicked();
    if (pressed || enter) && why_not.is_none() {
        let lifted = Lifted { on: scene.today, by: draft.by.trim().to_owned(), why: draft.why.trim().to_owned() };
        let change = Change::LiftBar { bar: bar.id, lifted };
        match decide(&scene.world, &change, scene.today) {
            Ok(_) => {
                out.change(change);
                *draft = Draft { all: draft.all, ..Draft::default() };
            }
            Err(refusal) => draft.error = Some(format!("{refusal}.")),
        }
    }
}

fn on_words(scene: &Scene, on: BarOn) -> String {
    match on {
        BarOn::Colony(colony) => {
            scene.world.colonies.get(&colony).map_or("a hive that is gone".to_owned(), |it| it.name().to_owned())
        }
        BarOn::Yard(yard) => {
            scene.world.yards.get(&yard).map_or("a yard that is gone".to_owned(), |it| it.name.clone())
        }
    }
}
