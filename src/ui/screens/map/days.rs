//! The day strip below the map: choosing a day or a span, and what putting a day off would break.

use std::collections::BTreeSet;

use egui::{Align2, Key, Rect, Sense, Stroke, StrokeKind, Ui, pos2, vec2};

use crate::domain::day::Day;
use crate::domain::ids::YardId;
use crate::planner::strip::{Catch, StripDay, catches, strip as days_of};
use crate::ui::scene::Scene;
use crate::ui::screens::map::words::{counted, day_said, figure, parts, span_said};
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{space, stroke};
use crate::ui::theme::text;
use crate::ui::widgets::strip::{Bar, Cell, Tone};
use crate::ui::widgets::{Button, Icon, strip};

/// Width of the words left of the strip.
const HEAD: f32 = 119.0;
/// The same where days can be put off.
const HEAD_FAR: f32 = 146.0;
/// A cell is never narrower: fewer days are shown instead.
const CELL_LEAST: f32 = 84.0;
/// Least width of a cell beside one with thousands of looks.
const CELL_OF_THOUSANDS: f32 = 104.0;
/// In a cell narrower than this, looks and steps of one yard stand in two lines.
const ONE_LINE: f32 = 106.0;
/// Days that may be looked at, from today on.
const MOST_DAYS: i32 = 365;

/// Which days are chosen and shown.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DayState {
    /// Where the choice began and where it ends now; nothing: tomorrow, as nobody has chosen.
    chosen: Option<(Day, Day)>,
    /// Days by which the strip begins after today.
    offset: i32,
    /// Key and content of the strip last reckoned.
    cache: Option<(StripKey, Vec<StripDay>)>,
    caught: Option<((u64, Day, Day), Catch)>,
}

type StripKey = (u64, Day, usize, Option<YardId>);

impl DayState {
    /// The day the run would be planned for: the first of a span.
    pub fn day(&self, today: Day) -> Day {
        self.span(today).0
    }

    /// First and last chosen day.
    pub fn span(&self, today: Day) -> (Day, Day) {
        let tomorrow = today.plus(1);
        let (anchor, cursor) = self.chosen.unwrap_or((tomorrow, tomorrow));
        (anchor.min(cursor), anchor.max(cursor))
    }

    /// Somebody has chosen, so that the yards concerned are lit.
    pub fn is_chosen(&self) -> bool {
        self.chosen.is_some()
    }

    /// Back to tomorrow.
    pub fn clear(&mut self) {
        self.chosen = None;
        self.offset = 0;
    }

    /// Chooses a day, or with `extend` all days from the first chosen one to it.
    fn choose(&mut self, day: Day, extend: bool, today: Day) {
        let tomorrow = today.plus(1);
        let anchor = if extend { self.chosen.map_or(tomorrow, |(anchor, _)| anchor) } else { day };
        self.chosen = Some((anchor, day));
    }

    /// What the strip holds.
    fn cells(&mut self, scene: &Scene, count: usize, only: Option<YardId>) -> &[StripDay] {
        let first = scene.today.plus(self.offset);
        let key = (scene.version, first, count, only);
        if self.cache.as_ref().is_none_or(|(held, _)| *held != key) {
            let mut cells = days_of(&scene.outlook, first, count, only);
            // The first cell of a strip gathers what is past; that belongs to today alone.
            if self.offset > 0 {
                let two = days_of(&scene.outlook, first.plus(-1), 2, only);
                if let (Some(cell), Some(alone)) = (cells.first_mut(), two.into_iter().nth(1)) {
                    *cell = alone;
                }
            }
            self.cache = Some((key, cells));
        }
        self.cache.as_ref().map_or(&[], |(_, cells)| cells.as_slice())
    }

    /// What the chosen day holds, whether the strip shows it or not.
    pub fn held(&self, scene: &Scene) -> StripDay {
        let day = self.day(scene.today);
        let in_strip =
            self.cache.as_ref().filter(|((version, _, _, only), _)| *version == scene.version && only.is_none());
        let found = in_strip.and_then(|(_, cells)| cells.iter().find(|cell| cell.day == day));
        found.cloned().unwrap_or_else(|| {
            let from = day.plus(if day > scene.today { -1 } else { 0 });
            let mut cells = days_of(&scene.outlook, from, 2, None);
            let at = usize::from(day > scene.today).min(cells.len() - 1);
            cells.swap_remove(at)
        })
    }

    /// What going out on the chosen span would catch.
    pub fn catch(&mut self, scene: &Scene) -> &Catch {
        let (from, to) = self.span(scene.today);
        let key = (scene.version, from, to);
        if self.caught.as_ref().is_none_or(|(held, _)| *held != key) {
            self.caught = Some((key, catches(&scene.outlook, from, to)));
        }
        &self.caught.get_or_insert_with(|| (key, Catch::default())).1
    }

    /// The yards concerned by the chosen day or span, where somebody has chosen.
    pub fn lit(&mut self, scene: &Scene) -> Option<BTreeSet<YardId>> {
        self.chosen?;
        let (from, to) = self.span(scene.today);
        if from == to { Some(self.held(scene).yards) } else { Some(self.catch(scene).yards.clone()) }
    }

    /// The sentence's first part for the chosen day or span.
    pub fn sentence(&mut self, scene: &Scene, narrow: bool) -> String {
        let (from, to) = self.span(scene.today);
        if from != to {
            let catch = self.catch(scene);
            return format!("{} catches {} of {}.", span_said(from, to), figure(catch.caught), figure(catch.of));
        }
        let held = self.held(scene);
        let said = match (narrow, from.since(scene.today)) {
            (true, 0) => "Today".to_owned(),
            (true, 1) => "Tomorrow".to_owned(),
            _ => day_said(from, scene.today),
        };
        match held.due() {
            0 => format!("{said}: nothing due."),
            _ if held.looks == 0 || held.steps == 0 => {
                format!("{said}: {} due.", parts(held.looks, held.steps, " and "))
            }
            due => format!("{said}: {} due, {}.", figure(due), parts(held.looks, held.steps, " and ")),
        }
    }
}

/// How a strip is drawn.
#[derive(Clone, Copy, Debug)]
pub struct StripLook {
    /// Of one yard alone.
    pub only: Option<YardId>,
    /// Days shown.
    pub days: usize,
    /// With bars and their legend.
    pub bars: bool,
    /// `← →` act although nothing has the keyboard.
    pub free_arrows: bool,
}

/// Draws the strip with its head. True: the chosen day is to be put off.
pub fn show(ui: &mut Ui, scene: &Scene, state: &mut DayState, look: StripLook) -> bool {
    let today = scene.today;
    let rect = ui.max_rect();
    let head_width = if look.bars { HEAD_FAR } else { HEAD };
    let room = rect.width() - head_width;
    let fits = |least: f32, days: usize| days.min((room / least) as usize).max(3);
    let mut look = StripLook { days: fits(CELL_LEAST, look.days), ..look };
    // Reckoned at this one length in every frame, whatever of it is shown: another would push it out of the cache.
    let reckoned = look.days;
    if state.cells(scene, reckoned, look.only).iter().any(|day| day.looks.max(day.steps) >= 1000) {
        look.days = fits(CELL_OF_THOUSANDS, look.days);
    }
    let wide = room / look.days as f32 >= ONE_LINE;
    let mut put_off = false;
    let name = if look.only.is_some() { "This yard's due work by day" } else { "Due by day" };
    let head = Rect::from_min_size(rect.min, vec2(head_width, rect.height()));
    let mut head_ui = ui.new_child(egui::UiBuilder::new().id_salt("strip head").max_rect(head.shrink2(vec2(0.0, 8.0))));
    let mut by = strip_head(&mut head_ui, look, &mut put_off);
    if look.free_arrows && crate::ui::widgets::focus::keys_are_free(ui) {
        let shift = with_shift(ui);
        let pressed = |key| ui.input_mut(|input| input.consume_key(egui::Modifiers::NONE, key));
        let step = i32::from(pressed(Key::ArrowRight)) - i32::from(pressed(Key::ArrowLeft));
        if step != 0 {
            let (_, cursor) = state.chosen.unwrap_or((today.plus(1), today.plus(1)));
            let day = cursor.plus(step).max(today).min(today.plus(MOST_DAYS));
            state.choose(day, shift, today);
            crate::ui::widgets::focus::moved(ui, name);
            ui.request_repaint();
            by += into_view(state.offset, day.since(today), look.days);
        }
    }
    state.offset = (state.offset + by).clamp(0, MOST_DAYS);
    let (from, to) = state.span(today);
    let cursor = state.chosen.map_or(to, |(_, cursor)| cursor);
    let first = today.plus(state.offset);
    let held = state.cells(scene, reckoned, look.only);
    let cells = cells(scene, held.get(..look.days).unwrap_or(held), (from, to), look, wide);
    let body = Rect::from_min_max(pos2(head.right(), rect.top() + 7.0), pos2(rect.right(), rect.bottom() - 7.0));
    let mut body_ui = ui.new_child(egui::UiBuilder::new().id_salt("strip body").max_rect(body));
    let place = |day: Day| usize::try_from(day.since(first)).ok().filter(|at| *at < cells.len());
    let picked = strip(&mut body_ui, name, body.height(), &cells, place(cursor));
    if from != to {
        frame_span(ui, body, cells.len(), first, (from, to));
    }
    if let Some(at) = picked {
        let shift = with_shift(ui);
        let (at_end, right) = (at + 1 == cells.len(), ui.input(|input| input.key_down(Key::ArrowRight)));
        let (at_start, left) = (at == 0, ui.input(|input| input.key_down(Key::ArrowLeft)));
        let mut day = first.plus(at as i32);
        // At its ends the strip scrolls on.
        if place(cursor) == Some(at) && (at_end && right || at_start && left && state.offset > 0) {
            let step = if right { 1 } else { -1 };
            day = day.plus(step);
            state.offset = (state.offset + step).clamp(0, MOST_DAYS);
        }
        state.choose(day, shift, today);
        ui.request_repaint();
    }
    put_off
}

/// Shift is down, or was while a key or button of this frame went down.
fn with_shift(ui: &Ui) -> bool {
    use egui::Event;
    ui.input(|input| {
        let of_event = |event: &Event| match event {
            Event::Key { modifiers, .. } | Event::PointerButton { modifiers, .. } => modifiers.shift,
            _ => false,
        };
        input.modifiers.shift || input.events.iter().any(of_event)
    })
}

/// By how much the strip must move so that a day (counted from today) is in it.
fn into_view(offset: i32, at: i32, days: usize) -> i32 {
    let last = offset + days as i32 - 1;
    if at < offset { at - offset } else { (at - last).max(0) }
}

/// The words left of the strip; returns by how many days to scroll.
fn strip_head(ui: &mut Ui, look: StripLook, put_off: &mut bool) -> i32 {
    let t = theme::tokens(ui);
    ui.spacing_mut().item_spacing.y = 1.0;
    let title = if look.only.is_some() { "This yard's\ndue work" } else { "Due by day" };
    use crate::ui::theme::text::Weighted as _;
    ui.label(text::table(title).semibold().color(t.text_primary));
    if look.bars {
        for (fill, words) in [(t.lid_due, "best day"), (t.surface_raised, "window open")] {
            let (line, _) = ui.allocate_exact_size(vec2(HEAD - 8.0, 17.0), Sense::hover());
            let sign = Rect::from_min_size(pos2(line.left(), line.center().y - 4.5), vec2(14.0, 9.0));
            ui.painter().rect(sign, 0, fill, Stroke::new(stroke::LINE, t.text_primary), StrokeKind::Inside);
            let font = text::SMALL.font(Weight::Regular);
            ui.painter().text(
                pos2(sign.right() + 6.0, line.center().y),
                Align2::LEFT_CENTER,
                words,
                font,
                t.text_secondary,
            );
        }
    }
    ui.add_space(if look.bars { 3.0 } else { 0.0 });
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = space::HAIR;
        let earlier = Button::icon_only(Icon::Left, "Earlier days").show(ui).clicked();
        let later = Button::icon_only(Icon::Right, "Later days").show(ui).clicked();
        if look.bars {
            *put_off = Button::text("Put off").tiny().key("D").name("Put the chosen day off").show(ui).clicked();
        }
        let week = 7;
        i32::from(later) * week - i32::from(earlier) * week
    })
    .inner
}

fn cells(scene: &Scene, days: &[StripDay], chosen: (Day, Day), look: StripLook, wide: bool) -> Vec<Cell> {
    let most = days.iter().map(|day| day.open.max(day.due())).max().unwrap_or(0).max(1) as f32;
    days.iter()
        .enumerate()
        .map(|(at, day)| {
            let held = day.due();
            let mut lines = Vec::new();
            let late = day.day == scene.today && day.late > 0;
            if look.bars || !wide && !late {
                lines.extend(
                    [(day.looks, "look", "looks"), (day.steps, "step", "steps")]
                        .into_iter()
                        .filter(|(count, ..)| *count > 0)
                        .map(|(count, one, many)| (counted(count, one, many), Tone::Plain)),
                );
            } else if held > 0 {
                let late = late.then(|| (format!("{} late", figure(day.late)), Tone::Late));
                lines.push(late.unwrap_or_else(|| (parts(day.looks, day.steps, ", "), Tone::Plain)));
            }
            let run_set = scene.world.runs.values().any(|run| run.day == day.day && !run.stops.is_empty());
            let is_chosen = (chosen.0..=chosen.1).contains(&day.day);
            let remark = match () {
                () if !look.bars => None,
                () if day.day == scene.today && day.late > 0 => {
                    Some((format!("{} late", figure(day.late)), Tone::Late))
                }
                () if run_set => Some(("Run set".to_owned(), Tone::Set)),
                () if is_chosen && held > 0 => Some(("No run yet".to_owned(), Tone::Fact)),
                () => None,
            };
            let bar = if look.bars {
                Bar::Due { open: day.open as f32 / most, best: held.min(day.open.max(held)) as f32 / most }
            } else {
                Bar::None
            };
            let first_of_month = at > 0 && day.day.day_of_month() == 1;
            let title = if first_of_month {
                day.day.with_weekday()
            } else {
                format!("{} {}", day.day.weekday_name(), day.day.day_of_month())
            };
            let mut name = vec![day.day.with_weekday(), format!("{held} due")];
            name.push(parts(day.looks, day.steps, ", "));
            name.extend([format!("{} can be done", day.open)].into_iter().filter(|_| day.open > 0));
            name.extend(remark.iter().map(|(words, _)| words.clone()));
            name.retain(|words| !words.is_empty());
            let sunken = day.day.is_weekend();
            Cell { title, number: held, lines, remark, bar, sunken, name: name.join(", ") }
        })
        .collect()
}

/// An edge of accent round all chosen days in view.
fn frame_span(ui: &Ui, body: Rect, count: usize, first: Day, (from, to): (Day, Day)) {
    let width = body.width() / count.max(1) as f32;
    let (start, end) = (from.since(first).max(0) as f32, (to.since(first) + 1).clamp(0, count as i32) as f32);
    if end <= start {
        return;
    }
    let rect = Rect::from_x_y_ranges(
        (body.left() + start * width).round()..=(body.left() + end * width).round().min(body.right()),
        body.y_range(),
    );
    let t = theme::tokens(ui);
    ui.painter().rect_stroke(rect, 0, Stroke::new(stroke::FOCUS, t.accent), StrokeKind::Inside);
    let mark = Rect { max: pos2(rect.right(), rect.top() + stroke::MARK), ..rect };
    ui.painter().rect_filled(mark, 0, t.accent);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(iso: &str) -> Day {
        Day::from_iso(iso).expect("a day")
    }

    #[test]
    fn tomorrow_stands_until_somebody_chooses() {
        let today = day("2026-11-23");
        let mut state = DayState::default();
        assert_eq!(state.span(today), (day("2026-11-24"), day("2026-11-24")));
        assert!(!state.is_chosen());
        state.choose(day("2026-11-26"), true, today);
        assert_eq!(state.span(today), (day("2026-11-24"), day("2026-11-26")), "a span begins at tomorrow");
        state.choose(day("2026-11-23"), true, today);
        assert_eq!(state.span(today), (day("2026-11-23"), day("2026-11-24")), "it turns round its anchor");
        state.choose(day("2026-11-30"), false, today);
        assert_eq!(state.day(today), day("2026-11-30"));
        state.clear();
        assert_eq!(state.day(today), day("2026-11-24"));
    }

    #[test]
    fn the_strip_moves_just_so_far_that_the_day_is_seen() {
        assert_eq!(into_view(0, 14, 15), 0);
        assert_eq!(into_view(0, 15, 15), 1);
        assert_eq!(into_view(7, 3, 15), -4);
    }
}
