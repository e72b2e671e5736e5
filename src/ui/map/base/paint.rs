//! Draws the tiles of a pack: all areas, then all lines, each class across all tiles, so that no tile's edge cuts another's
//! road and every case lies below every fill.

use std::sync::Arc;

use egui::{Mesh, Pos2, Rect, Shape, Stroke};

use super::fill::Fill;
use super::lines::cut;
use super::look::BaseColours;
use super::mercator::View;
use super::tile::{Ground, Lines, TileShapes};

/// A decoded tile and where it lies.
#[derive(Clone)]
pub(super) struct PlacedTile {
    pub(super) shapes: Arc<TileShapes>,
    /// Its top left in normalised coordinates.
    pub(super) origin: [f64; 2],
    /// Its side in normalised coordinates.
    pub(super) side: f64,
    /// The part of it that the pack covers, in normalised coordinates.
    pub(super) covered: [[f64; 2]; 2],
}

impl PlacedTile {
    /// The way from parts of the tile's side to screen points.
    pub(super) fn place(&self, view: &View) -> impl Fn([f32; 2]) -> Pos2 + use<> {
        let origin = view.screen(self.origin);
        let side = (self.side * view.world()) as f32;
        move |[x, y]| Pos2::new(origin.x + x * side, origin.y + y * side)
    }
}

/// Widths in points, from the design: road class 1 case 5.5, fill 3.5; class 2 case 3.5, fill 2; track 1.5 dashed 5, 4;
/// coast 1.5; rivers as tracks are wide.
const WIDTH_CASE_1: f32 = 5.5;
const WIDTH_ROAD_1: f32 = 3.5;
const WIDTH_CASE_2: f32 = 3.5;
const WIDTH_ROAD_2: f32 = 2.0;
const WIDTH_TRACK: f32 = 1.5;
const WIDTH_COAST: f32 = 1.5;
const WIDTH_RIVER: f32 = 2.0;
const WIDTH_BORDER: f32 = 1.0;
const DASH: f32 = 5.0;
const GAP: f32 = 4.0;

/// The areas of one class.
type AreaOf = fn(&TileShapes) -> &Fill;

/// Adds everything but the names to `shapes`.
pub(super) fn paint_tiles(tiles: &[PlacedTile], view: &View, colours: &BaseColours, shapes: &mut Vec<Shape>) {
    let mut mesh = Mesh::default();
    for tile in tiles {
        let corners = tile.covered.map(|corner| view.screen(corner));
        let color = match tile.shapes.ground {
            Ground::Sea => colours.sea,
            Ground::Land => colours.land,
        };
        mesh.add_colored_rect(Rect::from_two_pos(corners[0], corners[1]), color);
    }
    let areas: [(AreaOf, _); 5] = [
        (|tile| &tile.land, colours.land),
        (|tile| &tile.wood, colours.wood),
        (|tile| &tile.town, colours.town),
        (|tile| &tile.sea, colours.sea),
        (|tile| &tile.water, colours.water),
    ];
    for (area, color) in areas {
        for tile in tiles {
            area(&tile.shapes).paint(&mut mesh, color, tile.place(view));
        }
    }
    shapes.push(Shape::mesh(mesh));

    let mut pass = |lines: fn(&TileShapes) -> &Lines, width, color, dashed| {
        for tile in tiles {
            let place = tile.place(view);
            for line in lines(&tile.shapes) {
                let stroke = Stroke::new(width, color);
                if dashed {
                    shapes.extend(dashes(line, &place, view.rect(), stroke));
                } else {
                    shapes.extend(line_shape(line, &place, view.rect(), stroke));
                }
            }
        }
    };
    pass(|tile| &tile.rivers, WIDTH_RIVER, colours.water, false);
    pass(|tile| &tile.coast, WIDTH_COAST, colours.coast, false);
    pass(|tile| &tile.borders, WIDTH_BORDER, colours.track, false);
    pass(|tile| &tile.tracks, WIDTH_TRACK, colours.track, true);
    pass(|tile| &tile.road_2, WIDTH_CASE_2, colours.road_2_case, false);
    pass(|tile| &tile.road_1, WIDTH_CASE_1, colours.road_1_case, false);
    pass(|tile| &tile.road_2, WIDTH_ROAD_2, colours.road_2, false);
    pass(|tile| &tile.road_1, WIDTH_ROAD_1, colours.road_1, false);
}

/// A line on the screen, cut to what is visible.
pub(super) fn line_shape(
    line: &[[f32; 2]],
    place: &impl Fn([f32; 2]) -> Pos2,
    rect: Rect,
    stroke: Stroke,
) -> impl Iterator<Item = Shape> {
    visible_parts(line, place, rect).into_iter().map(move |points| Shape::line(points, stroke))
}

fn dashes(line: &[[f32; 2]], place: &impl Fn([f32; 2]) -> Pos2, rect: Rect, stroke: Stroke) -> Vec<Shape> {
    let parts = visible_parts(line, place, rect);
    parts.iter().flat_map(|points| Shape::dashed_line(points, stroke, DASH, GAP)).collect()
}

fn visible_parts(line: &[[f32; 2]], place: &impl Fn([f32; 2]) -> Pos2, rect: Rect) -> Vec<Vec<Pos2>> {
    let reach = rect.expand(2.0 * WIDTH_CASE_1);
    // Points nearer than half a point say nothing more, and pairs of them make mitres of their own.
    let mut points: Vec<[f32; 2]> = Vec::with_capacity(line.len());
    for (i, &point) in line.iter().enumerate() {
        let at = place(point).into();
        match points.last_mut() {
            Some(last) if near(*last, at) => {
                if i + 1 == line.len() && points.len() > 1 {
                    points.pop();
                    points.push(at);
                }
            }
            _ => points.push(at),
        }
    }
    let parts = cut(&points, reach.min.into(), reach.max.into());
    parts.into_iter().map(|part| part.into_iter().map(Pos2::from).collect()).collect()
}

fn near(a: [f32; 2], b: [f32; 2]) -> bool {
    (a[0] - b[0]).abs() < 0.5 && (a[1] - b[1]).abs() < 0.5
}

#[cfg(test)]
mod tests {
    use egui::{pos2, vec2};

    use super::super::look::tests::colours;
    use super::*;

    fn strip(x: f32) -> PlacedTile {
        let mut shapes = TileShapes::decode(&[], true);
        shapes.road_1 = vec![vec![[x, 0.0], [x, 1.0]]];
        shapes.tracks = vec![vec![[0.0, 0.5], [1.0, 0.5]]];
        PlacedTile { shapes: Arc::new(shapes), origin: [0.0, 0.0], side: 1.0, covered: [[0.0, 0.0], [1.0, 1.0]] }
    }

    #[test]
    fn cases_of_all_tiles_lie_below_all_fills() {
        let view = View::new(Rect::from_min_size(Pos2::ZERO, vec2(256.0, 256.0)), [0.5, 0.5], 0.0);
        let mut shapes = Vec::new();
        paint_tiles(&[strip(0.25), strip(0.75)], &view, &colours(), &mut shapes);
        let widths: Vec<f32> = shapes
            .iter()
            .filter_map(|shape| match shape {
                Shape::Path(path) => Some(path.stroke.width),
                _ => None,
            })
            .collect();
        assert_eq!(widths, [5.5, 5.5, 3.5, 3.5]);
    }

    #[test]
    fn a_dashed_line_far_beyond_the_screen_costs_a_screen() {
        let rect = Rect::from_min_size(Pos2::ZERO, vec2(256.0, 256.0));
        let view = View::new(rect, [0.5, 0.5], 12.0);
        let mut shapes = Vec::new();
        paint_tiles(&[strip(0.5)], &view, &colours(), &mut shapes);
        assert!(shapes.len() < 50, "{}", shapes.len());
        for shape in &shapes[1..] {
            assert!(rect.expand(30.0).contains_rect(shape.visual_bounding_rect()));
        }
    }

    #[test]
    fn crowded_points_are_thinned_and_the_end_stays() {
        let place = |[x, y]: [f32; 2]| pos2(x, y);
        let rect = Rect::from_min_size(Pos2::ZERO, vec2(100.0, 100.0));
        let line = [[0.0, 0.0], [0.1, 0.1], [10.0, 10.0], [10.2, 10.2]];
        assert_eq!(visible_parts(&line, &place, rect), vec![vec![pos2(0.0, 0.0), pos2(10.2, 10.2)]]);
    }
}
