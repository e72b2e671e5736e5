//! One glyph among other widgets, with its accessible name.

use egui::{Mesh, Response, Role, Sense, Ui, WidgetInfo, vec2};

use crate::domain::standing::LidState;
use crate::ui::glyph::form::StackSize;
use crate::ui::glyph::pen::Pen;
use crate::ui::glyph::{Fill, Stack};

/// A hive of `size` points in the row of other widgets. The name says all it shows, as "B14, first season, due".
pub fn hive_widget(ui: &mut Ui, size: f32, fill: Fill, lid: LidState, name: &str) -> Response {
    let (rect, response) = ui.allocate_exact_size(vec2(size, size), Sense::hover());
    if ui.is_rect_visible(rect) {
        let mut mesh = Mesh::default();
        Pen::new(ui).hive(&mut mesh, rect.min, size, fill, lid);
        ui.painter().add(mesh);
    }
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, name));
    response
}

/// A yard's stack in the row of other widgets. The name says all it shows, as "Broom Flat, 38 hives, 9 due, 2 late".
pub fn stack_widget(ui: &mut Ui, size: StackSize, stack: &Stack, name: &str) -> Response {
    let (rect, response) = ui.allocate_exact_size(size.size().into(), Sense::hover());
    if ui.is_rect_visible(rect) {
        let mut mesh = Mesh::default();
        Pen::new(ui).stack(&mut mesh, rect.min, size, stack);
        ui.painter().add(mesh);
    }
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, name));
    response
}
