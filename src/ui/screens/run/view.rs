//! The Run as it is drawn: sentence, choices, stops, what stands beside them, the day.

use std::time::Duration;

use egui::{CentralPanel, Frame, Key, Margin, Modifiers, Panel, Ui};

use crate::domain::run_order::RunOrder;
use crate::ui::action::{Action, Goto, Outbox, Wanted};
use crate::ui::scene::Scene;
use crate::ui::screens::evening::EveningState;
use crate::ui::screens::map::MapState;
use crate::ui::screens::run::model::{RunModel, counted, next_day_with_work};
use crate::ui::screens::run::state::{Place, RunState, Shown, Side};
use crate::ui::screens::run::{choices, left_out, side, stops, timeline};
use crate::ui::theme;
use crate::ui::theme::metrics::{height, space};
use crate::ui::widgets::{Button, Entry, Icon, boxes, ends, focus, menu};

/// Beneath this width of the window the side panel is narrow and the choices take two rows.
const NARROW: f32 = 1200.0;
/// Beneath this height of the window the day line has one line of words.
const LOW: f32 = 720.0;

/// Draws the run.
pub(super) fn show(
    ui: &mut Ui,
    scene: &Scene,
    state: &mut RunState,
    map: &mut MapState,
    goto: &mut Option<Goto>,
    out: &mut Outbox,
) {
    let t = theme::tokens(ui);
    let bar = Frame::new().fill(t.surface_panel).inner_margin(Margin::symmetric(space::SIDE as i8, 0));
    let Some(run) = state.settle(scene, out) else {
        CentralPanel::default().frame(bar).show(ui, |ui| {
            ui.add_space(space::SECTION);
            boxes::empty_state(
                ui,
                "No yard has a place yet.",
                "A run needs somewhere to start: put a yard on the map.",
            );
            if Button::outlined("Map").key("Ctrl 1").show(ui).clicked() {
                *goto = Some(Goto::Screen(crate::ui::action::Screen::Map));
            }
        });
        return;
    };
    let now = ui.input(|input| input.time);
    let shown = state.view_of(scene, &run, now, out);
    let (shown_run, model) = match &shown {
        Shown::Run { run, model } => (run.as_ref(), Some(model.as_ref())),
        Shown::Problem(_) | Shown::Working { .. } => (&run, None),
    };
    let narrow = ui.available_width() < NARROW;
    Panel::top("run sentence").exact_size(height::SENTENCE).frame(bar).show_separator_line(false).show(ui, |ui| {
        sentence(ui, scene, state, shown_run, &shown, narrow, out);
    });
    let rows = if narrow { 2.0 } else { 1.0 } + if state.mistake.is_some() { 0.6 } else { 0.0 };
    Panel::top("run choices").exact_size(height::CHOICES * rows).frame(bar).show_separator_line(true).show(ui, |ui| {
        choices::show(ui, scene, state, &run, model, narrow, out);
    });
    if let Shown::Problem(problem) = &shown {
        CentralPanel::default().frame(bar).show(ui, |ui| {
            ui.add_space(space::SECTION);
            boxes::empty_state(ui, problem, "Setup holds the speed and the road factor.");
        });
        return;
    }
    let side_frame = Frame::new().fill(t.surface_panel).inner_margin(Margin::symmetric(16, 14));
    let width = if narrow { 340.0 } else { 520.0 };
    Panel::right("run side").exact_size(width).resizable(false).frame(side_frame).show_separator_line(true).show(
        ui,
        |ui| {
            if let Some(model) = model {
                side::show(ui, scene, state, map, shown_run, model, out);
            }
        },
    );
    let day = Frame::new().fill(t.surface_panel).inner_margin(Margin::symmetric(space::SIDE as i8, 8));
    // A low window keeps its height for the stops: the times are in the first sentence and in the table.
    let low = narrow && ui.ctx().content_rect().height() < LOW;
    let high = match (narrow, low) {
        (true, false) => 124.0,
        _ => 104.0,
    };
    Panel::bottom("run day").exact_size(high).frame(day).show_separator_line(true).show(ui, |ui| {
        if let Some(model) = model {
            let words = timeline_words(scene, state, shown_run, model, now);
            timeline::show(ui, scene, model, &words, narrow, low);
        }
    });
    CentralPanel::no_frame().frame(Frame::new().fill(t.surface_raised)).show(ui, |ui| match model {
        None => working(ui, scene, state, &run, &shown, out),
        Some(model) if shown_run.stops.is_empty() => nothing(ui, scene, state, shown_run, model, out),
        Some(model) => stops::show(ui, scene, state, shown_run, model, goto, out),
    });
    keys(ui, scene, state, shown_run, model, out);
    if state.asking.wanted(run.id).is_some() {
        // When it becomes long, and how far it is, is seen without anybody touching the window.
        ui.request_repaint_after(Duration::from_millis(250));
    }
}

fn sentence(
    ui: &mut Ui,
    scene: &Scene,
    state: &mut RunState,
    run: &RunOrder,
    shown: &Shown,
    narrow: bool,
    out: &mut Outbox,
) {
    let keys = |keys: &'static str| if narrow { "" } else { keys };
    let words = |ui: &mut Ui| {
        let day = run.day.with_weekday();
        match shown {
            Shown::Run { model, .. } => {
                let fact = if narrow { &model.short_fact } else { &model.fact };
                let past = match scene.today.since(run.day) {
                    1 => "Yesterday. ".to_owned(),
                    days @ 2.. => format!("{days} days ago. "),
                    _ => String::new(),
                };
                boxes::sentence(ui, fact, &format!("{past}{}", model.rest));
            }
            Shown::Problem(problem) => boxes::sentence(ui, &day, problem),
            Shown::Working { .. } => boxes::sentence(ui, &day, ""),
        }
    };
    ends(ui, words, |ui| {
        let model = match shown {
            Shown::Run { model, .. } => Some(model.as_ref()),
            Shown::Problem(_) | Shown::Working { .. } => None,
        };
        let no_stops = match shown {
            Shown::Working { .. } => Some("The run is being planned. Wait a moment, or stop it."),
            _ => run.stops.is_empty().then_some("The run has no stops. Add a stop first."),
        };
        if Button::outlined(if narrow { "Evening" } else { "Evening entry" })
            .name("Evening entry")
            .key(keys("E"))
            .show(ui)
            .clicked()
        {
            open_evening(state, run);
        }
        let send =
            Button::outlined("Send").name("Send route or dates").key(keys("S")).opens().why_not(no_stops).show(ui);
        if std::mem::take(&mut state.open_send) && no_stops.is_none() {
            egui::Popup::open_id(ui, egui::Popup::default_response_id(&send));
        }
        let entries = ["GPX route", "iCalendar dates", "CSV list of stops"].map(Entry::new);
        match menu(ui, &send, "Send route or dates", &entries) {
            Some(0) => open_side(state, Side::Route),
            Some(1) => open_side(state, Side::Dates),
            Some(_) => open_side(state, Side::List),
            None => {}
        }
        let hives = model.map_or(0, |model| model.colonies.len());
        let labels = counted(hives as u32, "label", "labels");
        let name = if hives > 0 { format!("Print {labels}") } else { "Print labels".to_owned() };
        let words = if narrow && hives > 0 { &labels } else { &name };
        let why = match (model, hives, scene.sheets.is_empty()) {
            (None, ..) => no_stops,
            (_, 0, _) => Some("No hive on the run has due work."),
            (_, _, true) => Some("No label sheet is known. Add one in Setup."),
            _ => None,
        };
        if Button::outlined(words).name(&name).icon(Icon::Label).key(keys("B")).why_not(why).show(ui).clicked()
            && let Some(model) = model
        {
            print_labels(scene, model, out);
        }
        let words = if narrow { "Run sheet" } else { "Print run sheet" };
        let sheet = Button::primary(words).name("Print run sheet").icon(Icon::Print).key(keys("Ctrl P"));
        if sheet.why_not(no_stops).show(ui).clicked() {
            print(scene, state, run, out);
        }
    });
}

/// While the run is planned: nothing at first, then what is being done, how far it is, and how to stop it.
fn working(ui: &mut Ui, scene: &Scene, state: &mut RunState, run: &RunOrder, shown: &Shown, out: &mut Outbox) {
    if !matches!(shown, Shown::Working { long: true }) {
        return;
    }
    Frame::new().inner_margin(Margin::symmetric(16, 24)).show(ui, |ui| {
        let (doing, far) = progress_words(scene, state, run);
        boxes::empty_state(ui, &format!("{doing}…"), &far);
        ui.add_space(space::SMALL);
        if Button::outlined("Stop").key("Esc").name("Stop planning").show(ui).clicked() {
            state.asking.stop(out);
        }
    });
}

/// What is being done for the run, and how far it is.
fn progress_words(scene: &Scene, state: &RunState, run: &RunOrder) -> (String, String) {
    let stops = counted(run.stops.len() as u32, "stop", "stops");
    let doing = match state.asking.wanted(run.id) {
        Some(Wanted::Times) => format!("Working out the times of {stops}"),
        _ => format!("Proposing the order of {stops}"),
    };
    let far = match &scene.job {
        Some(job) if job.plans && job.progress.is_empty() => "Just begun.".to_owned(),
        Some(job) if job.plans => format!("{} done.", job.progress),
        Some(job) => format!("Waits for other work: {}.", job.title),
        None => String::new(),
    };
    (doing, far)
}

fn nothing(ui: &mut Ui, scene: &Scene, state: &mut RunState, run: &RunOrder, model: &RunModel, out: &mut Outbox) {
    let frame = Frame::new().inner_margin(Margin::symmetric(16, 24));
    frame.show(ui, |ui| {
        let day = run.day.with_weekday();
        let open = model.plan.elsewhere;
        let fact = if open == 0 { format!("Nothing is due on {day}.") } else { format!("No stop on {day} yet.") };
        let way_on = match (open, next_day_with_work(&scene.outlook, run.day)) {
            (0, Some((next, due, yards))) => {
                let yards = counted(yards as u32, "yard", "yards");
                format!("The next work falls due on {}: {due} in {yards}.", next.with_weekday())
            }
            (0, None) => "No work is due after it either.".to_owned(),
            _ => model.elsewhere.clone(),
        };
        boxes::empty_state(ui, &fact, &way_on);
        ui.add_space(space::SMALL);
        ui.horizontal(|ui| {
            if let Some((next, _, _)) = next_day_with_work(&scene.outlook, run.day) {
                let words = format!("Plan {}", next.with_weekday());
                if Button::outlined(&words).show(ui).clicked() {
                    state.show_day(next);
                }
            }
            if Button::outlined("Add a stop").key("A").show(ui).clicked() {
                open_side(state, Side::Add);
            }
        });
        ui.add_space(space::BOX);
        let room = ui.available_height();
        let groups = left_out::groups(scene, state, run);
        left_out::show(ui, scene, state, run, &groups, room, out);
    });
}

/// Proof of the order, and that times are an estimate.
fn timeline_words(scene: &Scene, state: &mut RunState, run: &RunOrder, model: &RunModel, now: f64) -> String {
    let settings = &scene.world.settings;
    let estimate = format!("Estimate: straight line × {} at {}.", settings.road_factor(), settings.speed_words());
    let proof = if state.asking.wanted(run.id).is_some() && state.asking.is_long(now) {
        let (doing, far) = progress_words(scene, state, run);
        format!("{doing}… {far}")
    } else if state.in_no_order(scene, run) {
        "The stops are in no order yet: P proposes one.".to_owned()
    } else {
        crate::ui::screens::run::model::proof_words(state.proof(model), model.plan.stops.len())
    };
    format!("{proof} {estimate}").trim_start().to_owned()
}

/// Single letters, and the keys that stand on the buttons.
fn keys(ui: &Ui, scene: &Scene, state: &mut RunState, run: &RunOrder, model: Option<&RunModel>, out: &mut Outbox) {
    let free = focus::keys_are_free(ui) || stops::has_keys(ui, state);
    let Some(model) = model else {
        if free {
            place_keys(ui, state, run);
        }
        if state.asking.wanted(run.id).is_some()
            && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape))
        {
            state.asking.stop(out);
        }
        return;
    };
    if ui.input_mut(|input| input.consume_key(Modifiers::COMMAND, Key::P)) && !run.stops.is_empty() {
        print(scene, state, run, out);
    }
    if state.side != Side::Load && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape)) {
        state.side = Side::Load;
        return;
    }
    if !free {
        return;
    }
    place_keys(ui, state, run);
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    if pressed(Key::A) {
        open_side(state, Side::Add);
    }
    if pressed(Key::K) {
        keep(scene, state, run, out);
    }
    if pressed(Key::P) && run.stops.len() > 1 {
        state.propose(scene, run, out);
    }
    if pressed(Key::S) {
        state.open_send = true;
        ui.request_repaint();
    }
    if pressed(Key::B) && !model.colonies.is_empty() {
        print_labels(scene, model, out);
    }
    stops::keys(ui, scene, state, run, model, out);
}

/// Letters that act also while the run is planned: evening entry, and the fields of day, base and hour.
fn place_keys(ui: &Ui, state: &mut RunState, run: &RunOrder) {
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    if pressed(Key::E) {
        open_evening(state, run);
    }
    for (key, place) in [(Key::D, Place::Day), (Key::F, Place::From), (Key::T, Place::Leave)] {
        if pressed(key) {
            state.bring = Some(place);
            ui.request_repaint();
        }
    }
}

pub(super) fn open_side(state: &mut RunState, side: Side) {
    state.side = side;
    state.focus_side = true;
    state.add_at = 0;
    state.typed.add.clear();
}

fn open_evening(state: &mut RunState, run: &RunOrder) {
    state.evening = Some(EveningState::of_run(run));
}

/// Prints the sheet. A run that is on paper is kept, so that the evening follows the same order.
fn print(scene: &Scene, state: &mut RunState, run: &RunOrder, out: &mut Outbox) {
    keep(scene, state, run, out);
    out.push(Action::PrintRunSheet { run: Box::new(run.clone()), path: String::new() });
}

fn keep(scene: &Scene, state: &mut RunState, run: &RunOrder, out: &mut Outbox) {
    if !scene.world.runs.contains_key(&run.id) {
        state.change(scene, run.clone(), out);
    }
}

fn print_labels(scene: &Scene, model: &RunModel, out: &mut Outbox) {
    let Some(sheet) = scene.sheets.first() else { return };
    out.push(Action::PrintLabels {
        colonies: model.colonies.clone(),
        sheet: sheet.name.clone(),
        start: 1,
        path: String::new(),
        note_printed: true,
    });
}
