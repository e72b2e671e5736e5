//! The legend: what the boxes and lids mean. On the map, always at hand.

use egui::{Color32, Mesh, Role, Sense, Ui, WidgetInfo, pos2, vec2};

use crate::domain::standing::LidState;
use crate::ui::glyph::{Fill, Pen};
use crate::ui::screens::map::words::FillBy;
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::text::{self, Weighted as _};

/// Side of a sign.
const SIGN: f32 = 14.0;

/// The strip of all signs, filling the panel. Where there is no room for one row it takes two.
pub fn show(ui: &mut Ui, fill: FillBy) {
    let (title, boxes) = fill.legend();
    ui.take_available_space();
    ui.add_space(8.0);
    ui.spacing_mut().interact_size.y = 20.0;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(7.0, 6.0);
        heading(ui, title);
        for (fill, words) in boxes {
            entry(ui, fill, LidState::Quiet, words);
        }
        let (line, _) = ui.allocate_exact_size(vec2(9.0, 20.0), Sense::hover());
        let t = theme::tokens(ui);
        ui.painter().vline(line.center().x, line.y_range(), egui::Stroke::new(1.0, t.line_soft));
        heading(ui, "Lid: due work");
        let lids = [
            (LidState::Quiet, "Quiet"),
            (LidState::Due, "Due"),
            (LidState::Late, "Late"),
            (LidState::Action, "Action"),
            (LidState::Barred, "Barred"),
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

/// A sign with its word; they stay together.
fn entry(ui: &mut Ui, fill: Fill, lid: LidState, words: &str) {
    let t = theme::tokens(ui);
    let font = text::SMALL.font(Weight::Regular);
    let galley = ui.painter().layout_no_wrap(words.to_owned(), font, Color32::PLACEHOLDER);
    let (rect, response) = ui.allocate_exact_size(vec2(SIGN + 6.0 + galley.size().x + 5.0, 20.0), Sense::hover());
    let mut mesh = Mesh::default();
    Pen::new(ui).hive(&mut mesh, pos2(rect.left(), rect.center().y - 0.5 * SIGN), SIGN, fill, lid);
    ui.painter().add(mesh);
    let at = pos2(rect.left() + SIGN + 6.0, rect.center().y - 0.5 * galley.size().y);
    ui.painter().galley(at, galley, t.text_primary);
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, words));
}
