//! The Map from afar: sentence, choices, list twin, map, legend, day strip.

use egui::{CentralPanel, Frame, Key, Margin, Modifiers, Panel, Rect, Ui, UiBuilder, pos2, vec2};

use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::ids::YardId;
use crate::planner::strip::put_off;
use crate::ui::action::{Goto, Outbox};
use crate::ui::scene::Scene;
use crate::ui::screens::form::scrolled;
use crate::ui::screens::map::bar_form::YardBars;
use crate::ui::screens::map::canvas::{Done, Flight, Wish};
use crate::ui::screens::map::days::{self, StripLook};
use crate::ui::screens::map::words::{counted, figure};
use crate::ui::screens::map::yard_card::{self, Asked};
use crate::ui::screens::map::yard_form::{FormEnd, YardForm};
use crate::ui::screens::map::{Form, MapState, NARROW, filter, legend, list, yards_panel};
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{height, radius, space, stroke};
use crate::ui::theme::text;
use crate::ui::widgets::{Button, Icon, boxes, chip, ends, focus, parts};

/// Draws it.
pub fn show(ui: &mut Ui, scene: &Scene, state: &mut MapState, goto: &mut Option<Goto>, out: &mut Outbox) {
    let narrow = ui.available_width() < NARROW;
    fly_to_chosen(scene, state);
    let t = theme::tokens(ui);
    let bar = Frame::new().fill(t.surface_panel).inner_margin(Margin::symmetric(space::SIDE as i8, 0));
    Panel::top("map sentence").exact_size(height::SENTENCE).frame(bar).show_separator_line(false).show(ui, |ui| {
        sentence_row(ui, scene, state, narrow, goto);
    });
    Panel::top("map choices").exact_size(height::CHOICES).frame(bar).show(ui, |ui| {
        choices_row(ui, scene, state, narrow);
    });
    Panel::bottom("map days").exact_size(126.0).frame(bar).show(ui, |ui| {
        let look = StripLook { only: None, days: if narrow { 9 } else { 15 }, bars: true, free_arrows: true };
        if days::show(ui, scene, &mut state.days, look) {
            state.form = Some(Form::PutOff);
        }
    });
    let plain = Frame::new().fill(t.surface_panel);
    if state.list_open {
        let width = if narrow { 300.0 } else { 404.0 };
        Panel::left("map list").exact_size(width).resizable(false).frame(plain).show(ui, |ui| {
            show_list(ui, scene, state, narrow);
        });
    }
    if state.form.is_some() {
        let frame = Frame::new().fill(t.surface_panel).inner_margin(Margin::same(space::SIDE as i8));
        let width = if narrow { 340.0 } else { 452.0 };
        Panel::right("map form").exact_size(width).resizable(false).frame(frame).show(ui, |ui| {
            show_form(ui, scene, state, out);
        });
    }
    if state.form.is_none() && state.yards.len() > 1 {
        let frame = Frame::new().fill(t.surface_panel).inner_margin(Margin::symmetric(18, 12));
        let width = if narrow { 340.0 } else { 452.0 };
        Panel::right("map yards").exact_size(width).resizable(false).frame(frame).show(ui, |ui| {
            yards_panel::show(ui, scene, state, out);
        });
    }
    if state.legend_open.unwrap_or(!narrow) {
        let high = legend::height(ui.available_width());
        let frame = Frame::new().fill(t.surface_panel).inner_margin(Margin::symmetric(12, 0));
        Panel::bottom("map legend").exact_size(high).frame(frame).show(ui, |ui| {
            legend::show(ui, state.fill);
        });
    }
    if narrow
        && state.form.is_none()
        && state.yards.len() < 2
        && let Some(yard) = state.yard
    {
        Panel::bottom("map card row").exact_size(40.0).frame(bar).show(ui, |ui| {
            ui.horizontal_centered(|ui| {
                let why = why_not_remove(scene, yard);
                let shown = state.far_yard(yard).cloned();
                if let Some(shown) = shown {
                    let asked = yard_card::row(ui, &shown, why.as_deref());
                    answer_card(ui, scene, state, asked, out);
                }
            });
        });
    }
    CentralPanel::no_frame().show(ui, |ui| show_map(ui, scene, state, narrow, out));
    keys(ui, scene, state, goto);
}

fn sentence_row(ui: &mut Ui, scene: &Scene, state: &mut MapState, narrow: bool, goto: &mut Option<Goto>) {
    let first =
        if scene.world.yards.is_empty() { "No yard yet.".to_owned() } else { state.days.sentence(scene, narrow) };
    let rest = second_part(scene, state, narrow);
    let day = state.days.day(scene.today);
    ends(
        ui,
        |ui| boxes::sentence(ui, &first, &rest),
        |ui| {
            ui.spacing_mut().item_spacing.x = 12.0;
            if Button::outlined("Add yard").key("A").show(ui).clicked() {
                state.form = Some(Form::Yard(Box::new(YardForm::new())));
            }
            if Button::outlined("List").icon(Icon::List).key("L").show(ui).clicked() {
                state.list_open = !state.list_open;
            }
            let plan = match (state.yards.len(), narrow) {
                (0 | 1, true) => "Plan the run".to_owned(),
                (0 | 1, false) => format!("Plan the run for {}", day.with_weekday()),
                (yards, true) => format!("Run of {yards} yards"),
                (yards, false) => format!("Plan a run of {yards} yards for {}", day.with_weekday()),
            };
            if Button::primary(&plan).key("R").show(ui).clicked() {
                *goto = Some(run_of(state, day));
            }
        },
    );
}

/// The day's run, or, where several yards are chosen, a run of these.
fn run_of(state: &MapState, day: Day) -> Goto {
    if state.yards.len() < 2 { Goto::RunOf(day) } else { Goto::RunThrough(day, state.yards.iter().copied().collect()) }
}

fn second_part(scene: &Scene, state: &mut MapState, narrow: bool) -> String {
    if scene.world.yards.is_empty() {
        return "Click the map where one lies, or bring a list in.".to_owned();
    }
    if scene.outlook.colonies.is_empty() {
        return "No hive yet. Open the yard with Enter to add them.".to_owned();
    }
    let (from, to) = state.days.span(scene.today);
    if from != to {
        let catch = state.days.catch(scene);
        let yards = counted(catch.yards.len() as u32, "yard", "yards");
        return match catch.of - catch.caught {
            0 => format!("In {yards}."),
            missed => format!("In {yards}. {missed} cannot be done in time on these days."),
        };
    }
    let Some((_, model)) = &state.far else { return String::new() };
    let late = (model.late > 0).then(|| format!("{} late", figure(model.late)));
    if narrow {
        return late.map_or(String::new(), |late| format!("{late}."));
    }
    if model.open == 0 && model.action == 0 {
        return "Nothing open today.".to_owned();
    }
    let yards = counted(model.open_yards, "yard", "yards");
    let mut words = format!("{} open in {yards}", figure(model.open));
    if let Some(late) = late {
        words.push_str(", ");
        words.push_str(&late);
    }
    words.push('.');
    match model.action {
        0 => {}
        1 => words.push_str(" 1 needs action."),
        more => words.push_str(&format!(" {more} need action.")),
    }
    words
}

fn choices_row(ui: &mut Ui, scene: &Scene, state: &mut MapState, narrow: bool) {
    ui.horizontal_centered(|ui| {
        let (groups, hidden, of) =
            state.far.as_ref().map_or((&[][..], 0, 0), |(_, model)| (model.groups.as_slice(), model.hidden, model.of));
        filter::chips(ui, scene, &mut state.fill, &mut state.filters, Some(groups), narrow);
        if chip::hides(ui, hidden, of, "yards") {
            state.filters = filter::Filters::default();
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let whole = Button::text(if narrow { "" } else { "Whole map" }).icon(Icon::Fit).key("0").name("Whole map");
            if whole.show(ui).clicked() {
                state.canvas.flight = Flight::Whole;
            }
        });
    });
}

fn show_list(ui: &mut Ui, scene: &Scene, state: &mut MapState, narrow: bool) {
    let Some((_, model)) = &state.far else { return };
    let reveal = std::mem::take(&mut state.reveal);
    let choice = list::Choice { yard: state.yard, yards: &state.yards, reveal };
    let listed = list::show(ui, model, scene.today, choice, narrow);
    let shown: Vec<YardId> = if listed.all { model.yards.iter().map(|yard| yard.id).collect() } else { Vec::new() };
    if let Some(yard) = listed.selected {
        state.yard = Some(yard);
        if let Some(place) = scene.world.yards.get(&yard).and_then(|yard| yard.place) {
            state.canvas.flight = Flight::Show(place);
        }
        if !listed.by_key {
            state.yards.clear();
        }
    }
    if let Some(yard) = listed.toggled
        && !state.yards.remove(&yard)
    {
        state.yards.insert(yard);
    }
    state.yards.extend(shown);
    if let Some(yard) = listed.opened {
        state.open(yard);
    }
    if listed.closed {
        state.list_open = false;
    }
}

fn show_map(ui: &mut Ui, scene: &Scene, state: &mut MapState, narrow: bool, out: &mut Outbox) {
    let rect = ui.max_rect();
    let placing = matches!(state.form, Some(Form::Yard(_))) || scene.world.yards.is_empty();
    let placed = match &state.form {
        Some(Form::Yard(form)) => form.place(),
        _ => None,
    };
    let lit = state.days.lit(scene);
    let (model_version, yard, yards) = (state.far_version, state.yard, &state.yards);
    let wish = Wish { model_version, yard, yards, lit, placing, placed, narrow };
    let Some((_, model)) = &state.far else { return };
    let done = state.canvas.show(ui, &mut state.base, model, &wish);
    if done != Done::default() {
        ui.request_repaint();
    }
    if let Some(place) = done.place {
        let form = match &mut state.form {
            Some(Form::Yard(form)) => form,
            other => match other.insert(Form::Yard(Box::new(YardForm::new()))) {
                Form::Yard(form) => form,
                Form::PutOff | Form::Bars(_) => return,
            },
        };
        form.click(place);
    }
    if let Some((yard, ctrl)) = done.clicked {
        click_yard(state, yard, ctrl);
    }
    if !done.boxed.is_empty() {
        state.yards.extend(done.boxed.iter().copied());
    }
    if done.bare {
        state.yards.clear();
    }
    if let Some(yard) = done.opened {
        state.open(yard);
    }
    let attribution = state.base.attribution();
    over_the_map(ui, rect, state, narrow, &attribution);
    if !narrow
        && state.form.is_none()
        && state.yards.len() < 2
        && let Some(yard) = state.yard
    {
        card(ui, rect, scene, state, yard, out);
    }
}

fn click_yard(state: &mut MapState, yard: YardId, ctrl: bool) {
    if ctrl {
        state.yards.extend(state.yard.take());
        if !state.yards.remove(&yard) {
            state.yards.insert(yard);
        }
        return;
    }
    state.yards.clear();
    state.yard = Some(yard);
    state.reveal = true;
    if let Some((_, model)) = &state.far {
        let sharing = state.canvas.sharing(model, yard);
        if !sharing.is_empty() {
            state.canvas.flight = Flight::Around(sharing);
        }
    }
}

/// Zoom buttons top right, the attribution and the button of the legend bottom left.
fn over_the_map(ui: &mut Ui, rect: Rect, state: &mut MapState, narrow: bool, attribution: &str) {
    let t = theme::tokens(ui);
    let zoom = Rect::from_min_size(pos2(rect.right() - 46.0, rect.top() + 12.0), vec2(34.0, 68.0));
    let mut side = ui.new_child(UiBuilder::new().id_salt("zoom").max_rect(zoom));
    side.spacing_mut().item_spacing.y = 0.0;
    if Button::icon_outlined(Icon::Add, "Zoom in").show(&mut side).clicked() {
        state.canvas.zoom_by(1.0);
    }
    if Button::icon_outlined(Icon::Less, "Zoom out").show(&mut side).clicked() {
        state.canvas.zoom_by(-1.0);
    }
    let mut left = rect.left() + 12.0;
    if narrow {
        let place = Rect::from_min_size(pos2(left, rect.bottom() - 40.0), vec2(120.0, 28.0));
        let mut foot = ui.new_child(UiBuilder::new().id_salt("legend button").max_rect(place));
        if Button::outlined("Legend").small().key("G").show(&mut foot).clicked() {
            state.legend_open = Some(!state.legend_open.unwrap_or(false));
        }
        left = foot.min_rect().right() + 14.0;
    }
    let font = text::SMALL.font(Weight::Regular);
    let galley = ui.painter().layout_no_wrap(attribution.to_owned(), font, t.map_label);
    let at = pos2(left, rect.bottom() - if narrow { 35.0 } else { 27.0 });
    let ground = Rect::from_min_size(at, galley.size()).expand2(vec2(5.0, 1.0));
    ui.painter().rect_filled(ground, radius::CAUTION, t.map_sea.gamma_multiply(0.6));
    ui.painter().galley(at, galley, t.map_label);
}

/// The chosen yard's card, bottom right of the map.
fn card(ui: &mut Ui, rect: Rect, scene: &Scene, state: &mut MapState, yard: YardId, out: &mut Outbox) {
    let Some(shown) = state.far_yard(yard).cloned() else { return };
    let why = why_not_remove(scene, yard);
    let t = theme::tokens(ui);
    let width = 262.0;
    // As high as what it held in the last pass; where that differs now, the pass is drawn anew.
    let high = state.card_high.unwrap_or(120.0);
    let place = Rect::from_min_size(pos2(rect.right() - width - 12.0, rect.bottom() - high - 12.0), vec2(width, high));
    yard_card::cover(ui, place);
    let edge = egui::Stroke::new(stroke::LINE, t.line_firm);
    ui.painter().rect(place, radius::CONTROL, t.surface_raised, edge, egui::StrokeKind::Inside);
    let mut inside = ui.new_child(UiBuilder::new().id_salt("yard card").max_rect(place.shrink(12.0)));
    let asked = yard_card::show(&mut inside, &shown, why.as_deref());
    let holds = inside.min_rect().height() + 24.0;
    if (holds - high).abs() > 0.5 {
        state.card_high = Some(holds);
        ui.request_discard("the yard's card has another height");
    }
    answer_card(ui, scene, state, asked, out);
}

fn answer_card(ui: &Ui, scene: &Scene, state: &mut MapState, asked: Option<Asked>, out: &mut Outbox) {
    if asked.is_some() {
        ui.request_repaint();
    }
    match asked {
        None => {}
        Some(Asked::Bar(yard)) => state.form = Some(Form::Bars(Box::new(YardBars::new(yard, scene)))),
        Some(Asked::Open(yard)) => state.open(yard),
        Some(Asked::Edit(yard)) => edit(scene, state, yard, false),
        Some(Asked::Place(yard)) => edit(scene, state, yard, true),
        Some(Asked::Remove(yard)) => {
            out.change(Change::RemoveYard(yard));
            state.yard = None;
        }
    }
}

fn edit(scene: &Scene, state: &mut MapState, yard: YardId, place_only: bool) {
    if let Some(yard) = scene.world.yards.get(&yard) {
        state.form = Some(Form::Yard(Box::new(YardForm::of(yard, place_only))));
    }
}

/// Why a yard cannot be removed now: hives stand in it, those that a filter hides included.
fn why_not_remove(scene: &Scene, yard: YardId) -> Option<String> {
    let hives = scene.outlook.yards.get(&yard).map_or(0, |view| view.colonies.len() as u32);
    (hives > 0).then(|| format!("It holds {}. Move or end them first.", counted(hives, "hive", "hives")))
}

fn show_form(ui: &mut Ui, scene: &Scene, state: &mut MapState, out: &mut Outbox) {
    let ended = match &mut state.form {
        None => return,
        Some(Form::Yard(form)) => {
            let end = form.show(ui, scene, out);
            if let Some(FormEnd::Sent(yard)) = end {
                state.awaited = Some(yard);
            }
            end.is_some()
        }
        Some(Form::Bars(form)) => form.show(ui, scene, out),
        Some(Form::PutOff) => show_put_off(ui, scene, state),
    };
    if ended {
        state.form = None;
        focus::begin_anew(ui);
    }
}

/// What would be late if the chosen day were put off by one day, two days, a week. True: closed.
fn show_put_off(ui: &mut Ui, scene: &Scene, state: &mut MapState) -> bool {
    let t = theme::tokens(ui);
    let day = state.days.day(scene.today);
    let mut closed = ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape));
    ui.horizontal(|ui| {
        ui.label(text::name(format!("Putting {} off", day.with_weekday())).color(t.text_primary));
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            closed |= Button::icon_only(Icon::Close, "Close").show(ui).clicked();
        });
    });
    parts::remark(ui, "What is open that day and would be late if it were done only later.");
    scrolled(ui, "put off", ui.available_height(), |ui| {
        for by in [1, 2, 3, 7] {
            let to = day.plus(by);
            let broken = put_off(&scene.outlook, day, to);
            ui.add_space(8.0);
            parts::heading(
                ui,
                &format!("To {}", to.with_weekday()),
                &match broken.len() {
                    0 => "breaks nothing".to_owned(),
                    count => format!("{count} would be late"),
                },
            );
            for it in broken.iter().take(12) {
                let hive = scene.world.colonies.get(&it.colony).map_or("", |colony| colony.name());
                let yard = scene.world.yards.get(&it.yard).map_or("", |yard| yard.name.as_str());
                let what = format!("{hive}, {yard}: {},", it.kind.words());
                let late = format!(" latest {}", it.latest.near(scene.today));
                let mut job = text::two_tone(text::TABLE, "", t.text_primary, &what, t.text_primary);
                job.append(&late, 0.0, text::TABLE.format(Weight::SemiBold, t.text_late));
                ui.label(job);
            }
            if broken.len() > 12 {
                parts::remark(ui, &format!("and {} more", broken.len() - 12));
            }
        }
    });
    closed
}

/// Flies to the yard that something else chose.
fn fly_to_chosen(scene: &Scene, state: &mut MapState) {
    if state.reveal
        && let Some(place) = state.yard.and_then(|yard| scene.world.yards.get(&yard)).and_then(|yard| yard.place)
        && state.flight_wanted
    {
        state.canvas.flight = Flight::To(place);
    }
    state.flight_wanted = false;
}

fn keys(ui: &mut Ui, scene: &Scene, state: &mut MapState, goto: &mut Option<Goto>) {
    if !focus::letters_are_free(ui) || state.form.is_some() || state.hives.is_some() {
        return;
    }
    let bare = focus::keys_are_free(ui);
    let pressed = |key| focus::took(ui, key);
    if pressed(Key::L) {
        state.list_open = !state.list_open;
    }
    if pressed(Key::G) {
        let narrow = ui.ctx().content_rect().width() < NARROW;
        state.legend_open = Some(!state.legend_open.unwrap_or(!narrow));
    }
    if pressed(Key::R) {
        *goto = Some(run_of(state, state.days.day(scene.today)));
    }
    if pressed(Key::Num0) {
        state.canvas.flight = Flight::Whole;
    }
    if pressed(Key::A) {
        state.form = Some(Form::Yard(Box::new(YardForm::new())));
    }
    if pressed(Key::D) {
        state.form = Some(Form::PutOff);
    }
    if pressed(Key::F) {
        filter::take_keyboard(ui);
    }
    if let Some(yard) = state.yard {
        if pressed(Key::E) {
            edit(scene, state, yard, false);
        }
        if !state.list_open && bare && pressed(Key::Enter) {
            state.open(yard);
        }
    }
    if state.form.is_none() && bare && pressed(Key::Escape) {
        if state.days.is_chosen() {
            state.days.clear();
        } else if !state.yards.is_empty() {
            state.yards.clear();
        } else {
            state.yard = None;
        }
    }
    if pressed(Key::Plus) || pressed(Key::Equals) {
        state.canvas.zoom_by(1.0);
    }
    if pressed(Key::Minus) {
        state.canvas.zoom_by(-1.0);
    }
}
