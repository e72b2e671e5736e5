//! The lid note on the card, drawn as on the label: black on white in both themes.

use egui::{Align2, Color32, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use crate::domain::ids::ColonyId;
use crate::domain::standing::LidNote;
use crate::planner::outlook::ColonyView;
use crate::ui::action::Outbox;
use crate::ui::card::Wish;
use crate::ui::card::sections;
use crate::ui::scene::Scene;
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{radius, stroke};
use crate::ui::theme::text;
use crate::ui::theme::tokens::LIGHT;
use crate::ui::widgets::{Button, parts};
use crate::ui::written;

const WIDTH: f32 = 276.0;
/// Room for what stands beside it.
const BESIDE: f32 = 118.0;
const LINE: f32 = 24.0;
const INSET: f32 = 13.0;

/// Heading, label, and what prints it.
pub(crate) fn show(ui: &mut Ui, scene: &Scene, colony: ColonyId, view: &ColonyView, wish: &mut Wish, out: &mut Outbox) {
    let sheet = scene.sheets.get(scene.usual_sheet());
    sections::heading(ui, "Lid note", |ui| {
        let color = theme::tokens(ui).text_secondary;
        ui.label(text::small(sheet.map_or("", |sheet| sheet.name.as_str())).color(color));
    });
    ui.horizontal_top(|ui| {
        label(ui, &view.note);
        ui.vertical(|ui| {
            let why = sheet.is_none().then_some("No label sheet is known. Open a register first.");
            let room = ui.available_width();
            if Button::outlined("Print").key("P").small().least_width(room).why_not(why).show(ui).clicked() {
                wish.print = true;
            }
            if Button::text("Other sheet").show(ui).clicked() {
                wish.other_sheet = true;
            }
            if view.note.shortened {
                parts::remark(ui, "The name was shortened to fit.");
            } else if view.label_wanted {
                parts::remark(ui, "Waits to be printed.");
            } else {
                parts::remark(ui, "Three lines, at most 20 characters");
            }
        });
    });
    if let Some(file) = written::label_of(scene, colony) {
        written::show(ui, file, out);
    }
    sections::between(ui);
}

/// The three lines and the small print in a white box.
pub(crate) fn label(ui: &mut Ui, note: &LidNote) {
    let small = note.small.len() as f32 * text::SMALL.line;
    let height = (10.0 + 3.0 * LINE + 4.0 + small + 8.0).max(110.0);
    let width = WIDTH.min(ui.available_width() - BESIDE);
    let (rect, response) = ui.allocate_exact_size(vec2(width, height), Sense::hover());
    let edge = Stroke::new(stroke::LINE, theme::tokens(ui).line_firm);
    ui.painter().rect(rect, radius::KEY, LIGHT.surface_raised, edge, StrokeKind::Inside);
    let ink: Color32 = LIGHT.glyph_line;
    let left = rect.left() + INSET;
    let mut middle = rect.top() + 10.0 + 0.5 * LINE;
    for (at, line) in note.lines.iter().enumerate() {
        let weight = if at == 0 { Weight::Bold } else { Weight::SemiBold };
        ui.painter().text(pos2(left, middle), Align2::LEFT_CENTER, line, text::NAME.font(weight), ink);
        middle += LINE;
    }
    middle += 4.0 + 0.5 * (text::SMALL.line - LINE);
    for line in &note.small {
        ui.painter().text(pos2(left, middle), Align2::LEFT_CENTER, line, text::SMALL.font(Weight::Regular), ink);
        middle += text::SMALL.line;
    }
    let spoken = format!("Label: {}", note.lines.iter().chain(&note.small).cloned().collect::<Vec<_>>().join(", "));
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &spoken));
}
