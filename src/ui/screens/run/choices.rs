//! The row of choices: day, vehicle, base, when it leaves, minutes; an order proposed again.

use egui::Ui;

use crate::domain::change::Change;
use crate::domain::day_words::{DateOrder, Lean, read_day};
use crate::domain::run_order::RunOrder;
use crate::domain::settings::spec;
use crate::planner::run::plan::clock;
use crate::ui::action::{Outbox, Wanted};
use crate::ui::scene::Scene;
use crate::ui::screens::run::edits::{read_base, read_time};
use crate::ui::screens::run::model::RunModel;
use crate::ui::screens::run::state::{Place, RunState, runs_of};
use crate::ui::theme;
use crate::ui::theme::metrics::height;
use crate::ui::theme::text;
use crate::ui::widgets::{Button, Field, Icon, MenuChip, at_right, focus, parts};

/// Draws the choices in one row, or in two where it is narrow, and below them what was mistyped.
pub(super) fn show(
    ui: &mut Ui,
    scene: &Scene,
    state: &mut RunState,
    run: &RunOrder,
    model: Option<&RunModel>,
    narrow: bool,
    out: &mut Outbox,
) {
    ui.spacing_mut().item_spacing.y = 0.0;
    parts::line(ui, height::CHOICES, |ui| {
        day(ui, scene, state, run);
        vehicle(ui, scene, state, run, out);
        base_and_hour(ui, scene, state, run, narrow, out);
        if !narrow {
            minutes(ui, scene, state, out);
            daylight(ui, model);
            again(ui, scene, state, run, out);
        }
    });
    if narrow {
        parts::line(ui, height::CHOICES, |ui| {
            minutes(ui, scene, state, out);
            daylight(ui, model);
            again(ui, scene, state, run, out);
        });
    }
    if let Some(mistake) = &state.mistake {
        let t = theme::tokens(ui);
        ui.label(text::small(mistake).color(t.danger));
    }
}

/// The letter that brings the keyboard to a field, where there is room for it.
fn key(letter: &'static str, narrow: bool) -> &'static str {
    if narrow { "" } else { letter }
}

fn bring(ui: &Ui, state: &mut RunState, place: Place, field: &Field<'_>) {
    if state.bring.take_if(|wanted| *wanted == place).is_some() {
        focus::bring(ui, field.id(ui));
    }
}

fn day(ui: &mut Ui, scene: &Scene, state: &mut RunState, run: &RunOrder) {
    let value = run.day.with_weekday();
    parts::caption(ui, "Day");
    if Button::icon_only(Icon::Left, "The day before").show(ui).clicked() {
        state.show_day(run.day.plus(-1));
    }
    let field = Field::new("Day").hidden_label().salt("run day").width(104.0);
    bring(ui, state, Place::Day, &field);
    if let Some(typed) = state.typed.day.show(ui, field, &value) {
        match read_day(&typed, scene.today, DateOrder::DayMonth, Lean::Nearest) {
            Ok(day) => state.show_day(day),
            Err(error) => state.mistake = Some(format!("{error}.")),
        }
    }
    if Button::icon_only(Icon::Right, "The day after").show(ui).clicked() {
        state.show_day(run.day.plus(1));
    }
    ui.add_space(6.0);
}

fn vehicle(ui: &mut Ui, scene: &Scene, state: &mut RunState, run: &RunOrder, out: &mut Outbox) {
    parts::caption(ui, "Vehicle");
    if state.renaming {
        let field = Field::new("Vehicle").hidden_label().salt("run vehicle").width(110.0).hint("a name");
        let id = field.id(ui);
        if std::mem::take(&mut state.focus_side) {
            // The menu that opened this gives the keyboard back to its button first.
            focus::give_back(ui, id);
        }
        let value = run.vehicle.clone();
        let typed = state.typed.vehicle.show(ui, field, &value);
        if let Some(name) = typed {
            let next = RunOrder { vehicle: name.trim().to_owned(), ..run.clone() };
            state.change(scene, next, out);
            state.renaming = false;
        }
        if Button::icon_only(Icon::Close, "Leave the name").show(ui).clicked() {
            state.renaming = false;
        }
        return;
    }
    let runs = runs_of(&scene.world, run.day);
    let named = |run: &RunOrder, at: usize| {
        if run.vehicle.is_empty() { format!("Run {}", at + 1) } else { run.vehicle.clone() }
    };
    let mut entries: Vec<String> = runs.iter().enumerate().map(|(at, run)| named(run, at)).collect();
    let kept = runs.iter().position(|it| it.id == run.id);
    let current = kept.map_or_else(|| "Not kept yet".to_owned(), |at| entries.get(at).cloned().unwrap_or_default());
    if kept.is_none() {
        entries.push(current.clone());
    }
    let others = entries.len();
    entries.extend(["Name this vehicle", "Another vehicle"].map(str::to_owned));
    if kept.is_some() {
        entries.push("Remove this run".to_owned());
    }
    let picked = MenuChip::unnamed("Vehicle", &current).show(ui, &entries);
    match picked {
        Some(at) if at < others => {
            if let Some(other) = runs.get(at) {
                state.show_run(other.id);
            }
        }
        Some(at) if at == others => {
            state.renaming = true;
            state.focus_side = true;
        }
        Some(at) if at == others + 1 => {
            state.another(scene, out);
            state.focus_side = true;
        }
        Some(_) => out.change(Change::RemoveRun(run.id)),
        None => {}
    }
    ui.add_space(6.0);
}

fn base_and_hour(ui: &mut Ui, scene: &Scene, state: &mut RunState, run: &RunOrder, narrow: bool, out: &mut Outbox) {
    parts::caption(ui, "From");
    let field = Field::new("From")
        .hidden_label()
        .salt("run base")
        .width(if narrow { 132.0 } else { 160.0 })
        .hint("home, a yard, or latitude, longitude");
    let field = field.key(key("F", narrow));
    bring(ui, state, Place::From, &field);
    let value = run.base.name.clone();
    if let Some(typed) = state.typed.base.show(ui, field, &value) {
        match read_base(&scene.world, &typed) {
            Ok(base) => commit(scene, state, RunOrder { base, ..run.clone() }, out),
            Err(mistake) => state.mistake = Some(mistake),
        }
    }
    ui.add_space(6.0);
    parts::caption(ui, "Leave");
    let field = Field::new("Leave").hidden_label().salt("run leave").width(if narrow { 62.0 } else { 88.0 });
    let field = field.key(key("T", narrow));
    bring(ui, state, Place::Leave, &field);
    let value = clock(u32::from(run.leave) * 60);
    if let Some(typed) = state.typed.leave.show(ui, field, &value) {
        match read_time(&typed) {
            Ok(leave) => commit(scene, state, RunOrder { leave, ..run.clone() }, out),
            Err(mistake) => state.mistake = Some(mistake),
        }
    }
    ui.add_space(6.0);
}

fn commit(scene: &Scene, state: &mut RunState, run: RunOrder, out: &mut Outbox) {
    state.mistake = None;
    state.change(scene, run, out);
}

fn minutes(ui: &mut Ui, scene: &Scene, state: &mut RunState, out: &mut Outbox) {
    let settings = &scene.world.settings;
    let look = settings.minutes_look().to_string();
    let step = settings.minutes_step().to_string();
    let yard = settings.minutes_yard().to_string();
    let fields = [
        ("Minutes: a look", "Minutes a look", "minutes_look", &look),
        ("a step", "Minutes a step", "minutes_step", &step),
        ("a yard", "Minutes a yard", "minutes_yard", &yard),
    ];
    for (caption, name, setting, value) in fields {
        parts::caption(ui, caption);
        let field = Field::new(name).hidden_label().salt(setting).width(42.0);
        let text = match setting {
            "minutes_look" => &mut state.typed.look,
            "minutes_step" => &mut state.typed.step,
            _ => &mut state.typed.yard,
        };
        if let Some(typed) = text.show(ui, field, value) {
            match read_minutes(setting, &typed) {
                Ok(value) => {
                    state.mistake = None;
                    out.change(Change::SetSetting { name: setting.to_owned(), value });
                }
                Err(mistake) => state.mistake = Some(mistake),
            }
        }
    }
}

fn read_minutes(setting: &str, typed: &str) -> Result<f64, String> {
    let (least, most) = spec(setting).map_or((0.0, 0.0), |spec| (spec.least, spec.most));
    let read = typed.trim().parse::<u32>().ok().map(f64::from);
    read.filter(|value| (least..=most).contains(value))
        .ok_or_else(|| format!("{} is no number of minutes here. Type {least} to {most}.", typed.trim()))
}

fn daylight(ui: &mut Ui, model: Option<&RunModel>) {
    let t = theme::tokens(ui);
    if let Some(model) = model {
        ui.add_space(6.0);
        ui.label(text::table(&model.daylight).color(t.text_primary));
    }
}

fn again(ui: &mut Ui, scene: &Scene, state: &mut RunState, run: &RunOrder, out: &mut Outbox) {
    let now = ui.input(|input| input.time);
    at_right(ui, |ui| {
        if state.asking.wanted(run.id) == Some(Wanted::Order) && state.asking.is_long(now) {
            if Button::outlined("Stop proposing").small().show(ui).clicked() {
                state.asking.stop(out);
            }
            return;
        }
        let why = (run.stops.len() < 2).then_some("One stop has one order. Add a stop first.");
        if Button::outlined("Propose again").small().key("P").why_not(why).show(ui).clicked() {
            state.propose(scene, run, out);
        }
    });
}

#[cfg(test)]
mod tests {
    use super::read_minutes;

    #[test]
    fn minutes_are_whole_and_in_range() {
        assert_eq!(read_minutes("minutes_look", " 8 "), Ok(8.0));
        for typed in ["0", "121", "6.5", "", "six"] {
            assert!(read_minutes("minutes_look", typed).is_err(), "{typed}");
        }
        assert_eq!(read_minutes("minutes_yard", "0"), Ok(0.0));
    }
}
