//! A menu on each column's header: what the column is, where it was not recognised or recognised wrongly.

use egui::{Pos2, Rect, Role, Sense, Ui, Vec2, WidgetInfo, pos2, vec2};

use crate::ui::import_model::ImportModel;
use crate::ui::screens::setup::import::model;
use crate::ui::screens::setup::import::rows::LEAD;
use crate::ui::theme;
use crate::ui::theme::metrics::{height, space};
use crate::ui::widgets::{Entry, Icon, focus, icon, menu};

/// The word for a column that is not brought in.
const LEFT_OUT: &str = "Leave it out";

/// Lays the menus over the header that stands at `top`; the file's columns begin `after` points behind the usual place. Returns the file's heading and ours (empty: leave it out) where
/// one was just chosen.
pub(super) fn menus(
    ui: &mut Ui,
    top: Pos2,
    model: &ImportModel,
    widths: &[f32],
    after: f32,
) -> Option<(String, String)> {
    let t = theme::tokens(ui);
    let mut left = top.x + space::SIDE + LEAD.iter().map(|width| width + space::SIDE).sum::<f32>() + after;
    let mut chosen = None;
    for (place, (column, width)) in model.columns.iter().zip(widths).enumerate() {
        let cell = Rect::from_min_size(pos2(left - 6.0, top.y + 2.0), vec2(width + 12.0, height::ROW_STOP - 4.0));
        left += width + space::SIDE;
        let response = ui.interact(cell, ui.make_persistent_id(("heading", place)), Sense::click());
        if column.ours.is_none() || response.hovered() || response.has_focus() {
            let mark = Rect::from_center_size(pos2(cell.right() - 12.0, cell.top() + 14.0), Vec2::splat(14.0));
            icon::paint(ui.painter(), mark, Icon::Down, t.text_primary);
        }
        // The columns may run out of the window: the one that Tab reached comes into view.
        focus::into_view(ui, &response, cell);
        focus::ring_inside(ui, &response, cell);
        let now = column.ours.as_deref().map_or("left out", |ours| ours);
        let spoken = format!("Column {}: {now}", column.theirs);
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &spoken));
        ui.accesskit_node_builder(response.id, |node| node.set_has_popup(egui::accesskit::HasPopup::Menu));
        let titles: Vec<String> = model.known_headings.iter().map(|heading| model::title(heading)).collect();
        let current = |heading: &str| column.ours.as_deref() == Some(heading);
        let mut entries: Vec<Entry<'_>> = titles
            .iter()
            .zip(&model.known_headings)
            .map(|(title, heading)| Entry::new(title).current(current(heading)))
            .collect();
        entries.push(Entry::new(LEFT_OUT).current(column.ours.is_none()));
        if let Some(at) = menu(ui, &response, &spoken, &entries) {
            let ours = model.known_headings.get(at).cloned().unwrap_or_default();
            chosen = Some((column.theirs.clone(), ours));
        }
    }
    chosen
}
