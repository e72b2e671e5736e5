//! The day of a run on one line: blocks are work in a yard, the line between them is driving, an empty block waiting.

use egui::{Align2, Rect, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use crate::planner::run::plan::clock;
use crate::ui::scene::Scene;
use crate::ui::screens::run::model::RunModel;
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{radius, stroke};
use crate::ui::theme::text::{self, Weighted as _};
use crate::ui::widgets::{ends, parts};

const HOUR: u32 = 3600;

/// Draws the day line with its words; `low`: without what the first sentence says too.
pub(super) fn show(ui: &mut Ui, scene: &Scene, model: &RunModel, words: &str, narrow: bool, low: bool) {
    let t = theme::tokens(ui);
    let small = |ui: &mut Ui, words: &str| {
        ui.add(egui::Label::new(text::small(words).color(t.text_secondary)).truncate());
    };
    parts::line(ui, 20.0, |ui| {
        let left = |ui: &mut Ui| {
            ui.label(text::table("The day").semibold().color(t.text_primary));
            if low {
                small(ui, words);
            } else if !model.plan.stops.is_empty() {
                small(ui, &model.total);
            }
        };
        if narrow {
            left(ui);
        } else {
            // How sure the order is comes before how its time divides.
            ends(ui, left, |ui| ui.label(text::small(words).color(t.text_secondary)));
        }
    });
    if narrow && !low {
        ui.add(egui::Label::new(text::small(words).color(t.text_secondary)).truncate());
    }
    if model.plan.stops.is_empty() {
        return;
    }
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 58.0), Sense::hover());
    let left = u32::from(model.plan.run.leave) * 60;
    let spoken = said(scene, model, left);
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &spoken));
    let first = left / HOUR;
    let last = model.plan.back.div_ceil(HOUR).max(first + 1);
    let (start, end) = (first * HOUR, last * HOUR);
    let inner = rect.shrink2(vec2(16.0, 0.0));
    let x = |seconds: u32| {
        let share = seconds.saturating_sub(start) as f32 / (end - start) as f32;
        inner.left() + share * inner.width()
    };
    let painter = ui.painter();
    let middle = rect.top() + 17.0;
    let axis = rect.top() + 34.0;
    painter.hline(inner.x_range(), axis, Stroke::new(stroke::LINE, t.line_firm));
    let step = ((last - first) as f32 * 58.0 / inner.width()).ceil().max(1.0) as u32;
    for hour in (first..=last).step_by(step as usize) {
        let at = x(hour * HOUR);
        painter.vline(at, axis..=axis + 4.0, Stroke::new(stroke::LINE, t.line_firm));
        let font = text::SMALL.font(Weight::Regular);
        let align = if hour == first {
            Align2::LEFT_TOP
        } else if hour == last {
            Align2::RIGHT_TOP
        } else {
            Align2::CENTER_TOP
        };
        let at = if hour == first {
            at - 6.0
        } else if hour == last {
            at + 6.0
        } else {
            at
        };
        painter.text(pos2(at, axis + 5.0), align, format!("{:02}:00", hour % 24), font, t.text_secondary);
    }
    painter.hline(x(left)..=x(model.plan.back), middle, Stroke::new(stroke::FOCUS, t.text_primary));
    for (at, stop) in model.plan.stops.iter().enumerate() {
        let block = |from: u32, to: u32| {
            Rect::from_min_max(pos2(x(from), middle - 12.0), pos2(x(to).max(x(from) + 2.0), middle + 12.0))
        };
        if stop.wait >= 60 {
            let wait = block(stop.arrive, stop.arrive + stop.wait);
            let edge = Stroke::new(stroke::LINE, t.line_firm);
            painter.rect(wait, radius::CAUTION, t.surface_raised, edge, StrokeKind::Inside);
            if wait.width() > 34.0 {
                let font = text::SMALL.font(Weight::Regular);
                painter.text(wait.center(), Align2::CENTER_CENTER, "wait", font, t.text_secondary);
            }
        }
        let work = block(stop.leave.saturating_sub(stop.service), stop.leave);
        let fill = if stop.faults.is_empty() { t.accent } else { t.danger };
        painter.rect_filled(work, radius::CAUTION, fill);
        if work.width() > 14.0 {
            let font = text::SMALL.font(Weight::Bold);
            painter.text(work.center(), Align2::CENTER_CENTER, at + 1, font, t.text_on_accent);
        }
    }
}

fn said(scene: &Scene, model: &RunModel, left: u32) -> String {
    let mut words = vec![format!("Leave {}", clock(left))];
    for stop in &model.plan.stops {
        let name = scene.world.yards.get(&stop.yard).map_or("a yard", |yard| yard.name.as_str());
        words.push(format!("{name} {} to {}", clock(stop.arrive), clock(stop.leave)));
    }
    words.push(format!("home {}", clock(model.plan.back)));
    words.join(", ")
}
