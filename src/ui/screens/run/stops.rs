//! The table of stops, moved by dragging or by `Alt ↑ ↓`; below it what else is open, and what was left out.

use egui::text::{LayoutJob, TextWrapping};
use egui::{Color32, Id, Key, Modifiers, Pos2, Rect, Role, Sense, Stroke, Ui, WidgetInfo, pos2, vec2};

use crate::domain::ids::YardId;
use crate::domain::run_order::RunOrder;
use crate::ui::action::{Goto, Outbox};
use crate::ui::glyph::StackSize;
use crate::ui::scene::Scene;
use crate::ui::screens::run::edits;
use crate::ui::screens::run::glyphs::stack_of;
use crate::ui::screens::run::left_out::{self, Group};
use crate::ui::screens::run::model::{Line, RunModel, StopLine};
use crate::ui::screens::run::state::{RunState, Side};
use crate::ui::screens::run::view::open_side;
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{height, space, stroke};
use crate::ui::theme::text::{self, Type};
use crate::ui::widgets::table::Row;
use crate::ui::widgets::{Button, Column, Icon, Table, icon, key, parts};

const NAME: &str = "Stops";
/// Beneath this width there is no room for when one leaves.
const NARROW: f32 = 760.0;

/// Draws the table and what stands below it.
pub(super) fn show(
    ui: &mut Ui,
    scene: &Scene,
    state: &mut RunState,
    run: &RunOrder,
    model: &RunModel,
    goto: &mut Option<Goto>,
    out: &mut Outbox,
) {
    let narrow = ui.available_width() < NARROW;
    state.table = Some(ui.make_persistent_id(("table", NAME)));
    alt_arrows(ui, scene, state, run, out);
    // A time after midnight says how many days later.
    let wide = model.plan.back >= 24 * 3600;
    let groups = left_out::groups(scene, state, run);
    // It may take what the stops leave, and at least two or three lines.
    let rows: f32 = model.lines.iter().map(row_height).sum();
    let spare = ui.available_height() - 56.0 - height::HEADER - rows;
    let most = spare.max(if ui.available_height() < 480.0 { 62.0 } else { 92.0 });
    let out_room = left_out::height_of(ui, &groups, ui.available_width() - 2.0 * space::SIDE - space::SMALL).min(most);
    let foot = 56.0 + out_room;
    let time = if wide { 86.0 } else { 44.0 };
    let leave = if narrow { 0.0 } else { time };
    let columns = [
        Column::glyph(12.0),
        Column::glyph(24.0),
        Column::glyph(24.0),
        Column::rest("Yard", 1.0),
        Column::number("Arrive", time),
        Column::number(if narrow { "" } else { "Leave" }, leave),
        Column::number("Due", 28.0),
        Column::rest("Looks; steps", 1.5),
        Column::words("Latest day", 104.0),
    ];
    let heights = |at: usize| model.lines.get(at).map_or(height::ROW_STOP, row_height);
    let position = |yard: YardId| model.lines.iter().position(|line| line.yard() == Some(yard));
    let selected = state.selected.and_then(position);
    let reveal = selected.filter(|_| std::mem::take(&mut state.reveal));
    let mut drag = Drag { stops: Vec::new(), begun: None, ended: false };
    let room = (ui.available_height() - foot).max(120.0);
    let table = Table::new(NAME, &columns)
        .heights(&heights)
        .row_height(height::ROW_STOP)
        .selected(selected)
        .reveal(reveal)
        .takes_free_keys()
        .max_height(room);
    let done = table.show(ui, model.lines.len(), |row| {
        let Some(line) = model.lines.get(row.index) else { return };
        draw(row, scene, run, line, narrow, state.dragged, &mut drag);
    });
    if let Some(yard) = done.selected.and_then(|at| model.lines.get(at)).and_then(Line::yard) {
        state.selected = Some(yard);
    }
    if let Some(yard) = done.opened.and_then(|at| model.lines.get(at)).and_then(Line::yard) {
        *goto = Some(Goto::Yard(yard));
    }
    dragging(ui, scene, state, run, &drag, out);
    below(ui, scene, state, run, model, (&groups, out_room), out);
}

fn row_height(line: &Line) -> f32 {
    if matches!(line, Line::Wait(_)) { height::ROW } else { height::ROW_STOP }
}

/// The table of stops has the keyboard.
pub(super) fn has_keys(ui: &Ui, state: &RunState) -> bool {
    state.table.is_some_and(|table| ui.memory(|memory| memory.has_focus(table)))
}

/// `L` locks, `X` or `Delete` leaves out.
pub(super) fn keys(ui: &Ui, scene: &Scene, state: &mut RunState, run: &RunOrder, model: &RunModel, out: &mut Outbox) {
    let Some(yard) = state.selected.filter(|yard| run.stops.iter().any(|stop| stop.yard == *yard)) else { return };
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    if pressed(Key::L) {
        state.change(scene, edits::lock_flipped(run, yard), out);
    } else if pressed(Key::X) || pressed(Key::Delete) {
        // The stop that takes its place is the next to be selected.
        let yards: Vec<YardId> = model.lines.iter().filter_map(Line::yard).collect();
        let at = yards.iter().position(|it| *it == yard).unwrap_or(0);
        state.selected = yards.get(at + 1).or(at.checked_sub(1).and_then(|at| yards.get(at))).copied();
        state.change(scene, edits::left_out(run, yard), out);
    }
}

fn alt_arrows(ui: &Ui, scene: &Scene, state: &mut RunState, run: &RunOrder, out: &mut Outbox) {
    let Some(yard) = state.selected else { return };
    let Some(from) = run.stops.iter().position(|stop| stop.yard == yard) else { return };
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::ALT, key));
    let to = if pressed(Key::ArrowUp) {
        from.checked_sub(1)
    } else if pressed(Key::ArrowDown) {
        Some(from + 1)
    } else {
        None
    };
    if let Some(next) = to.and_then(|to| edits::moved(run, from, to)) {
        state.reveal = true;
        state.change(scene, next, out);
    }
}

/// What the grips of this pass tell.
struct Drag {
    /// Each stop in view: its position in the run and its row.
    stops: Vec<(usize, Rect)>,
    begun: Option<usize>,
    ended: bool,
}

fn draw(
    row: &mut Row<'_, '_>,
    scene: &Scene,
    run: &RunOrder,
    line: &Line,
    narrow: bool,
    dragged: Option<usize>,
    drag: &mut Drag,
) {
    match line {
        Line::Stop(stop) => {
            let Some(at) = run.stops.iter().position(|it| it.yard == stop.yard) else { return };
            grip(row, &stop.name, at, drag);
            if dragged == Some(at) {
                row.faded();
            }
            draw_stop(row, scene, run, stop, narrow);
        }
        Line::Wait(words) => {
            for _ in 0..3 {
                row.empty();
            }
            // It stands alone in its row and may go on over the columns that follow.
            let cell = row.place();
            let mut job =
                LayoutJob::single_section(words.clone(), text::TABLE.format(Weight::Regular, row.t.text_secondary));
            job.wrap = TextWrapping::truncate_at_width(row.rect.right() - space::SIDE - cell.left());
            let galley = row.painter().layout_job(job);
            let top = cell.center().y - 0.5 * galley.size().y;
            row.painter().galley(pos2(cell.left(), top), galley, row.t.text_secondary);
            row.name(words);
        }
        Line::NoPlace { yard, name } => {
            if let Some(at) = run.stops.iter().position(|it| it.yard == *yard) {
                grip(row, name, at, drag);
            }
            row.empty();
            row.empty();
            row.two_lines(name, Weight::SemiBold, "No place on the map");
            for _ in 0..3 {
                row.empty();
            }
            row.late("No times: put it on the map first");
        }
        Line::Base { name, arrive, due, back } => {
            for _ in 0..3 {
                row.empty();
            }
            row.strong(name);
            row.strong(arrive);
            row.empty();
            row.strong(&due.to_string());
            row.secondary(back);
            row.name(format!("Back at {name} {arrive}, {back}"));
        }
    }
}

fn grip(row: &mut Row<'_, '_>, name: &str, at: usize, drag: &mut Drag) {
    let rect = row.place();
    drag.stops.push((at, row.rect));
    let id = Id::unique(("grip", name, at));
    let response = row.ui().interact(rect.expand2(vec2(8.0, 0.0)), id, Sense::DRAG);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("Drag {name}")));
    icon::paint(row.painter(), rect, Icon::Grip, row.t.text_secondary);
    if response.hovered() || response.dragged() {
        row.ui().set_cursor_icon(egui::CursorIcon::Grab);
    }
    if response.drag_started() {
        drag.begun = Some(at);
    }
    drag.ended |= response.drag_stopped();
}

fn draw_stop(row: &mut Row<'_, '_>, scene: &Scene, run: &RunOrder, stop: &StopLine, narrow: bool) {
    let number = row.place();
    parts::badge(row.painter(), row.t, number.center(), stop.number, false);
    row.stack(StackSize::Middle, &stack_of(scene, stop.yard, run.day));
    let way = if narrow { &stop.far } else { &stop.way };
    row.two_lines(&stop.name, Weight::SemiBold, &if stop.locked { format!("{way}, locked") } else { way.clone() });
    row.strong(&stop.arrive);
    row.text(if narrow { "" } else { &stop.leave });
    row.strong(&stop.due.to_string());
    work(row, stop);
    match (stop.late, stop.last_day) {
        (true, _) => row.late(&stop.latest),
        (_, true) => row.strong(&stop.latest),
        _ => row.text(&stop.latest),
    }
    let said = [
        format!("Stop {}: {}", stop.number, stop.name),
        stop.way.clone(),
        format!("arrive {}, leave {}", stop.arrive, stop.leave),
        format!("{} due", stop.due),
        stop.work.clone(),
        stop.carry.clone(),
        stop.fault.clone(),
        if stop.latest.is_empty() { String::new() } else { format!("latest {}", stop.latest) },
        if stop.locked { "locked".to_owned() } else { String::new() },
    ];
    row.name(said.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", "));
}

/// Its work, and below it what is wrong, else what to carry.
fn work(row: &mut Row<'_, '_>, stop: &StopLine) {
    let cell = row.place();
    let t = row.t;
    let galley = |sections: &[(&str, Type, Weight, Color32)], rows: usize| {
        let mut job = LayoutJob::default();
        for (words, size, weight, color) in sections {
            let gap = if job.is_empty() { "" } else { "\n" };
            job.append(&format!("{gap}{words}"), 0.0, size.format(*weight, *color));
        }
        job.wrap = TextWrapping { max_rows: rows, ..TextWrapping::truncate_at_width(cell.width()) };
        job.wrap.break_anywhere = rows == 1;
        row.painter().layout_job(job)
    };
    let work = |size| (stop.work.as_str(), size, Weight::Regular, t.text_primary);
    let carry = (stop.carry.as_str(), text::SMALL, Weight::Regular, t.text_secondary);
    let parts = match (stop.fault.is_empty(), stop.carry.is_empty()) {
        // What is wrong is said whole, whatever becomes of the work's words.
        (false, _) => {
            let fault = (stop.fault.as_str(), text::SMALL, Weight::SemiBold, t.text_late);
            vec![galley(&[work(text::TABLE)], 1), galley(&[fault], 2)]
        }
        (true, true) => vec![galley(&[work(text::TABLE)], 2)],
        (true, false) => {
            // Three lines of small letters stand in a row, or two of the table's.
            let large = galley(&[work(text::TABLE), carry], 2);
            vec![if large.elided { galley(&[work(text::SMALL), carry], 3) } else { large }]
        }
    };
    let mut top = cell.center().y - 0.5 * parts.iter().map(|part| part.size().y).sum::<f32>();
    for part in parts {
        let height = part.size().y;
        row.painter().galley(pos2(cell.left(), top), part, t.text_primary);
        top += height;
    }
}

/// Shows where a dragged stop would land, and moves it there when it is let go.
fn dragging(ui: &Ui, scene: &Scene, state: &mut RunState, run: &RunOrder, drag: &Drag, out: &mut Outbox) {
    if let Some(begun) = drag.begun {
        state.dragged = Some(begun);
        state.selected = run.stops.get(begun).map(|stop| stop.yard);
    }
    let Some(from) = state.dragged else { return };
    if ui.input(|input| input.key_pressed(Key::Escape)) {
        state.dragged = None;
        return;
    }
    let at = ui.input(|input| input.pointer.interact_pos());
    let gap = at.and_then(|at| gap_at(&drag.stops, at));
    if let Some((_, y, row)) = gap {
        let line = Stroke::new(stroke::SELECTION, theme::tokens(ui).accent);
        ui.painter().hline(row.x_range(), y, line);
    }
    if drag.ended || ui.input(|input| input.pointer.any_released()) {
        state.dragged = None;
        if let Some(next) = gap.and_then(|(gap, _, _)| edits::moved(run, from, landing(from, gap))) {
            state.change(scene, next, out);
        }
    }
}

/// The gap between stops nearest to the pointer: before which position, at what height, in which row.
fn gap_at(stops: &[(usize, Rect)], at: Pos2) -> Option<(usize, f32, Rect)> {
    let above = stops.iter().find(|(_, row)| at.y < row.center().y);
    match above {
        Some((position, row)) => Some((*position, row.top(), *row)),
        None => stops.last().map(|(position, row)| (position + 1, row.bottom(), *row)),
    }
}

/// Where a stop taken from `from` stands after it is put into the gap before position `gap`.
fn landing(from: usize, gap: usize) -> usize {
    if from < gap { gap - 1 } else { gap }
}

fn below(
    ui: &mut Ui,
    scene: &Scene,
    state: &mut RunState,
    run: &RunOrder,
    model: &RunModel,
    (groups, room): (&[Group], f32),
    out: &mut Outbox,
) {
    let t = theme::tokens(ui);
    egui::Frame::new().inner_margin(egui::Margin::symmetric(space::SIDE as i8, 8)).show(ui, |ui| {
        parts::line(ui, 36.0, |ui| {
            if Button::outlined("Add a stop").small().key("A").show(ui).clicked() {
                open_side(state, Side::Add);
            }
            if !scene.world.runs.contains_key(&run.id) {
                let keep = Button::outlined("Keep this run").small().key("K");
                if keep.show(ui).clicked() {
                    state.change(scene, run.clone(), out);
                }
            }
            ui.add(egui::Label::new(text::table(&model.elsewhere).color(t.text_secondary)).truncate());
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                if ui.available_width() < 330.0 {
                    return;
                }
                ui.spacing_mut().item_spacing.x = 6.0;
                for (keys, words) in [("X", "leave out"), ("L", "lock"), ("Alt ↑ ↓", "move")] {
                    ui.label(text::small(words).color(t.text_secondary));
                    key::caps(ui, keys);
                    ui.add_space(4.0);
                }
            });
        });
        left_out::show(ui, scene, state, run, groups, room, out);
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stop_lands_where_the_line_shows() {
        let row = |at: usize| (at, Rect::from_min_size(pos2(0.0, at as f32 * 58.0), vec2(400.0, 58.0)));
        let stops = [row(0), row(1), row(2)];
        let gap = |y: f32| gap_at(&stops, pos2(10.0, y)).map(|(gap, _, _)| gap);
        assert_eq!(gap(5.0), Some(0));
        assert_eq!(gap(100.0), Some(2));
        assert_eq!(gap(400.0), Some(3));
        assert_eq!((landing(0, 2), landing(2, 0), landing(0, 3), landing(1, 1)), (1, 0, 2, 1));
    }
}
