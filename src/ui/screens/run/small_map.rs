//! The small map of a run: base, stops with their numbers, and the line between them.

use egui::{Mesh, Pos2, Rect, Role, Sense, Shape, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, vec2};

use crate::domain::ids::YardId;
use crate::ui::glyph::{Pen, StackSize};
use crate::ui::map::base::mercator::{GeoBox, fit, from_lon_lat};
use crate::ui::map::look::base_look;
use crate::ui::scene::Scene;
use crate::ui::screens::map::MapState;
use crate::ui::screens::run::glyphs::stack_of;
use crate::ui::screens::run::model::RunModel;
use crate::ui::theme;
use crate::ui::theme::metrics::stroke;
use crate::ui::widgets::parts;

const HEIGHT: f32 = 236.0;
const ZOOM_MOST: f64 = 13.0;
/// From a stop's place to the middle of its number.
const BADGE: Vec2 = vec2(18.0, -4.0);
/// Up to so many stops are shown by their glyphs and numbers, more of them as points.
const MOST: usize = 40;
/// A step along the route, in points: names keep off each.
const STEP: f32 = 8.0;

/// Draws the map over the whole width. The table is its twin for keyboard and screen reader.
pub(super) fn show(ui: &mut Ui, scene: &Scene, map: &mut MapState, model: &RunModel, selected: Option<YardId>) {
    let t = theme::tokens(ui);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), HEIGHT), Sense::hover());
    let stops = model.plan.stops.len();
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, format!("Map of the run, {stops} stops")));
    let base = model.plan.run.base.place;
    let places: Vec<(YardId, f64, f64)> = model
        .plan
        .stops
        .iter()
        .filter_map(|stop| {
            let place = scene.world.yards.get(&stop.yard)?.place?;
            // Longitudes are taken near the base's, so that a run across the antimeridian stays together.
            let east = (place.lon() - base.lon() + 540.0).rem_euclid(360.0) - 180.0;
            Some((stop.yard, base.lon() + east, place.lat()))
        })
        .collect();
    let around = places.iter().map(|(_, lon, lat)| (*lon, *lat)).chain([(base.lon(), base.lat())]);
    let Some(bounds) = GeoBox::around(around) else { return };
    let (center, zoom) = fit(&bounds, rect.size(), 36.0, ZOOM_MOST);
    let view = map.base.paint(ui.painter(), rect, center, zoom, &base_look(t));
    let screen = |lon: f64, lat: f64| view.screen(from_lon_lat(lon, lat));
    let home = screen(base.lon(), base.lat());
    let points: Vec<Pos2> = places.iter().map(|(_, lon, lat)| screen(*lon, *lat)).collect();
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    let way: Vec<Pos2> = [home].into_iter().chain(points.iter().copied()).chain([home]).collect();
    if !points.is_empty() {
        painter.add(Shape::line(way.clone(), Stroke::new(stroke::CASE, t.glyph_case)));
        painter.add(Shape::line(way, Stroke::new(stroke::SELECTION, t.accent)));
    }
    let size = Vec2::from(StackSize::Small.size());
    map.base.paint_names(&painter, &view, &reserved(home, &points, size), &base_look(t));
    let square = Rect::from_center_size(home, Vec2::splat(9.0));
    painter.rect(square, 0, t.map_town, Stroke::new(stroke::ICON, t.glyph_line), StrokeKind::Middle);
    let mut mesh = Mesh::default();
    let pen = Pen::new(ui);
    for ((yard, _, _), at) in places.iter().zip(&points) {
        let glyph = Rect::from_center_size(*at, size);
        if selected == Some(*yard) {
            crate::ui::glyph::selection(&painter, t, glyph);
        }
        if points.len() > MOST {
            continue;
        }
        pen.stack(&mut mesh, glyph.min, StackSize::Small, &stack_of(scene, *yard, model.plan.run.day));
    }
    if points.len() > MOST {
        // Glyphs and numbers of so many would lie over each other.
        for at in &points {
            painter.circle(*at, 3.0, t.accent, Stroke::new(stroke::LINE, t.glyph_case));
        }
    } else {
        painter.add(mesh);
        for (number, at) in points.iter().enumerate() {
            parts::badge(&painter, t, *at + BADGE, number + 1, true);
        }
    }
    ui.painter().rect_stroke(rect, 0, Stroke::new(stroke::LINE, t.line_soft), StrokeKind::Inside);
}

/// The boxes names keep off: the stops, their numbers and the route.
fn reserved(home: Pos2, points: &[Pos2], size: Vec2) -> Vec<Rect> {
    let mut boxes: Vec<Rect> = Vec::new();
    for at in points {
        boxes.push(Rect::from_center_size(*at, size));
        boxes.push(Rect::from_center_size(*at + BADGE, Vec2::splat(24.0)));
    }
    let ends = points.iter().copied().chain([home]);
    for (from, to) in [home].into_iter().chain(points.iter().copied()).zip(ends) {
        let steps = (from.distance(to) / STEP).ceil().max(1.0) as usize;
        let along = |step: usize| from + (to - from) * (step as f32 / steps as f32);
        boxes.extend((0..steps).map(|step| Rect::from_center_size(along(step), Vec2::splat(6.0))));
    }
    boxes
}
