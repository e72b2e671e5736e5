//! How to read a hive: the one sign, large and named, then all its forms.

use egui::{Align2, Mesh, Rect, Role, Sense, Stroke, Ui, WidgetInfo, pos2, vec2};

use crate::domain::standing::LidState;
use crate::ui::glyph::{Fill, Pen, hive_widget};
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::text;

const AGES: [(Fill, &str); 7] = [
    (Fill::First, "First season"),
    (Fill::Second, "Second season"),
    (Fill::Third, "Third season"),
    (Fill::Older, "Older"),
    (Fill::Unknown, "Not known"),
    (Fill::Queenless, "Queenless"),
    (Fill::Waiting, "Waiting for her"),
];
const LIDS: [(LidState, &str); 5] = [
    (LidState::Quiet, "Quiet: nothing due"),
    (LidState::Due, "Due: a look or step is open"),
    (LidState::Late, "Late: last day has passed"),
    (LidState::Action, "Action: failed or queenless"),
    (LidState::Barred, "Barred: not to be requeened"),
];
/// Side of the large sign.
const LARGE: f32 = 110.0;

/// The legend, 430 wide.
pub(super) fn show(ui: &mut Ui) {
    let t = theme::tokens(ui);
    ui.label(text::large("How to read a hive").color(t.text_primary));
    large(ui);
    ui.add_space(18.0);
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 0.0;
        ui.vertical(|ui| {
            ui.set_width(188.0);
            for (fill, words) in AGES {
                sign(ui, fill, LidState::Quiet, words);
            }
        });
        ui.vertical(|ui| {
            for (lid, words) in LIDS {
                sign(ui, Fill::Second, lid, words);
            }
        });
    });
}

fn sign(ui: &mut Ui, fill: Fill, lid: LidState, words: &str) {
    let t = theme::tokens(ui);
    ui.allocate_ui_with_layout(vec2(230.0, 32.0), egui::Layout::left_to_right(egui::Align::Center), |ui| {
        ui.spacing_mut().item_spacing.x = 12.0;
        ui.set_height(32.0);
        hive_widget(ui, 28.0, fill, lid, &format!("Sign: {}", words.to_lowercase()));
        ui.label(text::body(words).color(t.text_primary));
    });
}

fn large(ui: &mut Ui) {
    let t = theme::tokens(ui);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 136.0), Sense::hover());
    let at = pos2(rect.left() + 5.0, rect.top() + 14.0);
    let mut mesh = Mesh::default();
    Pen::new(ui).hive(&mut mesh, at, LARGE, Fill::Second, LidState::Due);
    ui.painter().add(mesh);
    let line = Stroke::new(1.0, t.text_primary);
    let font = text::BODY.font(Weight::SemiBold);
    for (share, words) in [(0.29, "The lid: what is due"), (0.74, "The box: how old the queen is")] {
        let y = (at.y + share * LARGE).round() + 0.5;
        let sign = Rect::from_min_size(at, vec2(LARGE, LARGE));
        ui.painter().hline(sign.right()..=sign.right() + 46.0, y, line);
        ui.painter().text(pos2(sign.right() + 56.0, y), Align2::LEFT_CENTER, words, font.clone(), t.text_primary);
    }
    let spoken = "The lid shows what is due, the box how old the queen is";
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, spoken));
}
