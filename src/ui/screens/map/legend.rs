//! The legend: what the boxes and lids mean. On the map, always at hand.

use egui::{Sense, Ui, vec2};

use crate::ui::glyph::{Fill, Lid, hive_widget};
use crate::ui::screens::map::words::FillBy;
use crate::ui::theme;
use crate::ui::theme::text::{self, Weighted as _};

/// The strip of all signs. Where there is no room for one row it takes two.
pub fn show(ui: &mut Ui, fill: FillBy) {
    let (title, boxes) = fill.legend();
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(7.0, 6.0);
        heading(ui, title);
        for (fill, words) in boxes {
            entry(ui, fill, Lid::Quiet, words);
        }
        let (line, _) = ui.allocate_exact_size(vec2(9.0, 20.0), Sense::hover());
        let t = theme::tokens(ui);
        ui.painter().vline(line.center().x, line.y_range(), egui::Stroke::new(1.0, t.line_soft));
        heading(ui, "Lid: due work");
        let lids = [
            (Lid::Quiet, "Quiet"),
            (Lid::Due, "Due"),
            (Lid::Late, "Late"),
            (Lid::Action, "Action"),
            (Lid::Barred, "Barred"),
        ];
        for (lid, words) in lids {
            entry(ui, Fill::Second, lid, words);
        }
    });
}

/// Height the legend needs at a width.
pub fn height(width: f32) -> f32 {
    if width < 1000.0 { 62.0 } else { 36.0 }
}

fn heading(ui: &mut Ui, words: &str) {
    let color = theme::tokens(ui).text_primary;
    ui.label(text::small(words).semibold().color(color));
}

fn entry(ui: &mut Ui, fill: Fill, lid: Lid, words: &str) {
    hive_widget(ui, 14.0, fill, lid, words);
    let color = theme::tokens(ui).text_primary;
    ui.label(text::small(words).color(color));
    ui.add_space(4.0);
}
