//! The blocks of the card: queen, flags and bars, due work with its day line, the queenless clock, questions, offers.

use egui::{Align2, Rect, Role, Sense, Sides, Stroke, Ui, WidgetInfo, pos2, vec2};

use crate::domain::day::Day;
use crate::domain::record::Which as Answer;
use crate::domain::standing::{Clock, Offer};
use crate::domain::visit::Method;
use crate::domain::work::WorkState;
use crate::ui::card::Wish;
use crate::ui::card::forms::{Begin, ShortKind};
use crate::ui::card::model::{Due, Line, Queen, Warning, Which};
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::stroke;
use crate::ui::theme::text::{self, Weighted as _};
use crate::ui::widgets::{Button, Caution, DayLine, Mark, parts};

const CAPTION: f32 = 82.0;

/// A heading at the left and a few words at the right, on one line.
pub(crate) fn heading(ui: &mut Ui, words: &str, right: impl FnOnce(&mut Ui)) {
    heading_of(ui, 20.0, words, right);
}

/// The same, as high as what stands at the right.
pub(crate) fn heading_of(ui: &mut Ui, height: f32, words: &str, right: impl FnOnce(&mut Ui)) {
    let color = theme::tokens(ui).text_primary;
    Sides::new().height(height).shrink_left().show(
        ui,
        |ui| {
            ui.label(text::table(words).semibold().color(color));
        },
        right,
    );
}

/// A line between blocks, with its room.
pub(crate) fn between(ui: &mut Ui) {
    ui.add_space(4.0);
    parts::rule(ui);
    ui.add_space(2.0);
}

pub(crate) fn queen(ui: &mut Ui, queen: &Queen) {
    let t = theme::tokens(ui);
    heading(ui, "Queen", |ui| {
        ui.label(text::table(&queen.right).color(t.text_primary));
        if let Some(dot) = queen.dot {
            parts::dot(ui, dot);
        }
    });
    ui.spacing_mut().item_spacing.y = 1.0;
    for fact in &queen.rows {
        let color = if fact.late { t.text_late } else { t.text_primary };
        wrapped_pair(ui, fact.caption, &fact.words, color, fact.late);
    }
    ui.spacing_mut().item_spacing.y = 4.0;
    between(ui);
}

fn wrapped_pair(ui: &mut Ui, caption: &str, words: &str, color: egui::Color32, strong: bool) {
    let t = theme::tokens(ui);
    let room = ui.available_width() - CAPTION;
    let weight = if strong { Weight::SemiBold } else { Weight::Regular };
    let mut job = egui::text::LayoutJob::default();
    job.append(words, 0.0, text::TABLE.format(weight, color));
    job.wrap.max_width = room;
    let galley = ui.fonts_mut(|fonts| fonts.layout_job(job));
    let height = galley.size().y.max(text::TABLE.line);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    let font = text::TABLE.font(Weight::Regular);
    let at = pos2(rect.left(), rect.top() + 0.5 * text::TABLE.line);
    ui.painter().text(at, Align2::LEFT_CENTER, caption, font, t.text_secondary);
    ui.painter().galley(pos2(rect.left() + CAPTION, rect.top()), galley, color);
    let spoken = format!("{caption}: {words}");
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &spoken));
}

pub(crate) fn warnings(ui: &mut Ui, warnings: &[Warning], wish: &mut Wish) {
    for (at, warning) in warnings.iter().enumerate() {
        ui.push_id(("warning", at), |ui| {
            let mut caution = Caution::new(&warning.fact, &warning.what_to_do);
            if warning.barred {
                caution = caution.barred();
            }
            if warning.lift.is_some() {
                caution = caution.act("Lift the bar");
            }
            if caution.show(ui)
                && let Some(lift) = warning.lift
            {
                wish.lift(lift);
            }
        });
    }
    if !warnings.is_empty() {
        between(ui);
    }
}

/// One piece of due work; `short` where the clock above says the days already.
pub(crate) fn due(ui: &mut Ui, due: &Due, short: bool) {
    let t = theme::tokens(ui);
    let color = match due.state {
        WorkState::Late => t.text_late,
        WorkState::Open => t.text_due,
        WorkState::Ahead => t.text_secondary,
    };
    heading(ui, &due.title, |ui| {
        ui.label(text::table(&due.state_words).semibold().color(color));
    });
    ui.label(text::table(&due.look_for).color(t.text_primary));
    match &due.line {
        Some(line) if !short => day_line(ui, line),
        _ => {
            ui.label(text::table(&due.days).color(t.text_primary));
        }
    }
    if !short {
        parts::remark(ui, &due.why);
    }
    between(ui);
}

fn day_line(ui: &mut Ui, line: &Line) {
    fn mark(of: &(Day, String)) -> Mark<'_> {
        Mark { day: i64::from(of.0.number()), words: &of.1 }
    }
    DayLine {
        start: mark(&line.start),
        earliest: mark(&line.earliest),
        best: mark(&line.best),
        latest: mark(&line.latest),
        today: Some(mark(&line.today)),
    }
    .show(ui);
}

pub(crate) fn which(ui: &mut Ui, which: &Which, wish: &mut Wish) {
    heading(ui, "Which queen was it?", |_| {});
    let t = theme::tokens(ui);
    ui.label(text::table(&which.words).color(t.text_primary));
    let answers = [
        ("Lost", "Lost: the recorded queen is gone, this is another", Answer::Lost),
        ("Superseded", "Superseded: the colony replaced her itself", Answer::Superseded),
        ("Same after all", "Same after all: it was the recorded queen", Answer::SameAfterAll),
    ];
    ui.horizontal(|ui| {
        for (words, name, answer) in answers {
            if Button::outlined(words).small().name(name).show(ui).clicked() {
                wish.which = Some(answer);
            }
        }
    });
    parts::remark(
        ui,
        "Lost: she is gone, this is another. Superseded: the colony replaced her. Same: a slip of the eye.",
    );
    between(ui);
}

pub(crate) fn offers(ui: &mut Ui, offers: &[Offer], wish: &mut Wish) {
    if offers.is_empty() {
        return;
    }
    heading(ui, "May also be done", |_| {});
    ui.horizontal(|ui| {
        for offer in offers {
            let (words, begin) = match offer {
                Offer::TestFrame => ("Give a test frame", Begin::Find("+f".to_owned())),
                Offer::LetCellStand => ("Let a cell stand", Begin::Find("+s".to_owned())),
                Offer::Mark => ("Mark her", Begin::Short(ShortKind::Mark)),
            };
            if Button::outlined(words).small().show(ui).clicked() {
                wish.begin = Some(begin);
            }
        }
    });
    between(ui);
}

pub(crate) fn clock(ui: &mut Ui, clock: &Clock, today: Day, awaited: bool, wish: &mut Wish) {
    let t = theme::tokens(ui);
    let color = if clock.alarm { t.text_late } else { t.text_primary };
    heading(ui, "Queenless clock", |ui| {
        ui.label(text::table(format!("Day {}", clock.days)).semibold().color(color));
    });
    ui.spacing_mut().item_spacing.y = 0.0;
    let in_force = clock.marks.iter().rposition(|mark| mark.day <= today);
    let mut dots = Vec::new();
    for (at, mark) in clock.marks.iter().enumerate() {
        let now = in_force == Some(at);
        let note = if mark.day == today { "today" } else { mark.note.as_str() };
        let days = if mark.days == 0 { "D".to_owned() } else { format!("D+{}", mark.days) };
        let row = Threshold { days: &days, day: &mark.day.short(), words: &mark.words, note, now, alarm: clock.alarm };
        let center = row.show(ui);
        dots.push((center, mark.day <= today, now && at > 0));
    }
    paint_dots(ui, &dots);
    ui.spacing_mut().item_spacing.y = 4.0;
    ui.add_space(4.0);
    let (fact, rest) = match clock.asks.split_once(". ") {
        Some((fact, rest)) => (format!("{fact}."), rest),
        None => (clock.asks.clone(), ""),
    };
    ui.label(text::two_tone(text::TABLE, &fact, t.text_primary, rest, t.text_primary));
    if awaited && Button::outlined("Own raising").small().name("Let it raise its own queen").show(ui).clicked() {
        wish.begin = Some(Begin::Introduce(Some(Method::OwnRaising)));
    }
    between(ui);
}

/// One row of the clock.
struct Threshold<'a> {
    days: &'a str,
    day: &'a str,
    words: &'a str,
    note: &'a str,
    now: bool,
    alarm: bool,
}

const ROW: f32 = 24.0;
const DOT: f32 = 7.0;

impl Threshold<'_> {
    /// Draws it; the middle of its dot.
    fn show(&self, ui: &mut Ui) -> egui::Pos2 {
        let t = theme::tokens(ui);
        let (weight, ink) =
            if self.now { (Weight::SemiBold, t.text_primary) } else { (Weight::Regular, t.text_secondary) };
        let font = text::TABLE.font(weight);
        let note_ink = if self.now && self.alarm { t.text_late } else { t.text_secondary };
        let note = ui.painter().layout_no_wrap(self.note.to_owned(), font.clone(), note_ink);
        let room = (ui.available_width() - 131.0 - note.size().x - 12.0).max(80.0);
        let words = ui.painter().layout(self.words.to_owned(), font.clone(), t.text_primary, room);
        let height = ROW.max(words.size().y + 4.0);
        let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
        if self.now {
            ui.painter().rect_filled(rect, 0, t.surface_selected);
        }
        let middle = rect.center().y;
        let put = |x: f32, words: &str, ink| {
            ui.painter().text(pos2(rect.left() + x, middle), Align2::LEFT_CENTER, words, font.clone(), ink);
        };
        put(24.0, self.days, t.text_primary);
        put(73.0, self.day, ink);
        ui.painter().galley(pos2(rect.left() + 131.0, middle - 0.5 * words.size().y), words, t.text_primary);
        let right = rect.right() - 4.0 - note.size().x;
        ui.painter().galley(pos2(right, middle - 0.5 * note.size().y), note, note_ink);
        let spoken = format!("{}, {}, {} {}", self.days, self.day, self.words, self.note);
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, spoken.trim_end()));
        pos2(rect.left() + DOT, middle)
    }
}

/// Passed thresholds are filled, the one in force is barred, those ahead are hollow; a line joins them.
fn paint_dots(ui: &Ui, dots: &[(egui::Pos2, bool, bool)]) {
    let t = theme::tokens(ui);
    let (Some(first), Some(last)) = (dots.first(), dots.last()) else { return };
    let line = Stroke::new(stroke::LINE, t.line_firm);
    ui.painter().vline(first.0.x, first.0.y..=last.0.y, line);
    for (center, passed, now) in dots {
        if *now {
            let bar = Rect::from_center_size(*center, vec2(11.0, 4.0));
            ui.painter().rect_filled(bar, 0, t.text_primary);
        } else if *passed {
            ui.painter().circle_filled(*center, 5.0, t.text_primary);
        } else {
            ui.painter().circle(*center, 4.25, t.surface_panel, Stroke::new(stroke::ICON, t.text_primary));
        }
    }
}
