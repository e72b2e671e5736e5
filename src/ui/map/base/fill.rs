//! Areas cut into triangles once, then moved to the screen each frame.

use egui::epaint::{Vertex, WHITE_UV};
use egui::{Color32, Mesh, Pos2};
use lyon_tessellation::math::{Point, point};
use lyon_tessellation::path::{Path, Polygon};
use lyon_tessellation::{BuffersBuilder, FillOptions, FillTessellator, FillVertex, VertexBuffers};

/// An area in triangles, in coordinates of its own.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Fill {
    /// Corners.
    pub points: Vec<[f32; 2]>,
    /// Three corners a triangle.
    pub triangles: Vec<u32>,
}

impl Fill {
    /// Cuts a polygon into triangles: the first ring is its outline, the others are holes (even-odd rule). Rings of less than
    /// three points, and polygons that cannot be cut, give nothing. Coordinates should be finite and not far below 1 apart.
    pub fn of(rings: &[Vec<[f32; 2]>]) -> Self {
        let Some((outline, holes)) = rings.split_first() else {
            return Self::default();
        };
        if outline.len() < 3 || rings.iter().flatten().flatten().any(|x| !x.is_finite()) {
            return Self::default();
        }
        let mut path = Path::builder();
        for ring in std::iter::once(outline).chain(holes).filter(|ring| ring.len() >= 3) {
            let points: Vec<Point> = ring.iter().map(|&[x, y]| point(x, y)).collect();
            path.add_polygon(Polygon { points: &points, closed: true });
        }
        let mut cut: VertexBuffers<[f32; 2], u32> = VertexBuffers::new();
        let mut corners = BuffersBuilder::new(&mut cut, |vertex: FillVertex<'_>| vertex.position().to_array());
        match FillTessellator::new().tessellate_path(&path.build(), &FillOptions::default(), &mut corners) {
            Ok(()) => Self { points: cut.vertices, triangles: cut.indices },
            Err(_) => Self::default(),
        }
    }

    /// Adds another area to this one.
    pub fn append(&mut self, other: &Self) {
        let first = self.points.len() as u32;
        self.points.extend_from_slice(&other.points);
        self.triangles.extend(other.triangles.iter().map(|corner| corner + first));
    }

    /// The same with every coordinate multiplied.
    #[must_use]
    pub fn scaled(mut self, by: f32) -> Self {
        for [x, y] in &mut self.points {
            *x *= by;
            *y *= by;
        }
        self
    }

    /// Adds the triangles to a mesh, in one colour, each point placed by `place`.
    pub fn paint(&self, mesh: &mut Mesh, color: Color32, place: impl Fn([f32; 2]) -> Pos2) {
        let first = mesh.vertices.len() as u32;
        mesh.vertices.extend(self.points.iter().map(|&point| Vertex { pos: place(point), uv: WHITE_UV, color }));
        mesh.indices.extend(self.triangles.iter().map(|corner| corner + first));
    }

    /// Sum of the triangles' areas, in square units of the coordinates.
    pub fn area(&self) -> f64 {
        let at = |corner: u32| self.points[corner as usize].map(f64::from);
        let one = |corners: &[u32]| {
            let ([ax, ay], [bx, by], [cx, cy]) = (at(corners[0]), at(corners[1]), at(corners[2]));
            ((bx - ax) * (cy - ay) - (cx - ax) * (by - ay)).abs() / 2.0
        };
        self.triangles.chunks_exact(3).map(one).sum()
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn square(from: f32, to: f32) -> Vec<[f32; 2]> {
        vec![[from, from], [to, from], [to, to], [from, to]]
    }

    #[test]
    fn a_hole_is_left_out() {
        assert!((Fill::of(&[square(0.0, 10.0)]).area() - 100.0).abs() < 1e-6);
        assert!((Fill::of(&[square(0.0, 10.0), square(2.0, 6.0)]).area() - 84.0).abs() < 1e-6);
    }

    #[test]
    fn nothing_comes_of_nothing() {
        assert_eq!(Fill::of(&[]), Fill::default());
        assert_eq!(Fill::of(&[vec![[0.0, 0.0], [1.0, 1.0]]]), Fill::default());
        assert_eq!(Fill::of(&[vec![[0.0, 0.0], [f32::NAN, 1.0], [3.0, 3.0]]]), Fill::default());
    }

    #[test]
    fn a_painted_area_lies_where_it_is_placed() {
        let mut fill = Fill::of(&[square(0.0, 1.0)]);
        fill.append(&Fill::of(&[square(2.0, 3.0)]));
        let mut mesh = Mesh::default();
        fill.paint(&mut mesh, Color32::default(), |[x, y]| Pos2::new(100.0 + 10.0 * x, 50.0 + 10.0 * y));
        assert_eq!(mesh.indices.len(), 12);
        assert_eq!(mesh.calc_bounds(), egui::Rect::from_min_max(egui::pos2(100.0, 50.0), egui::pos2(130.0, 80.0)));
        assert!(mesh.is_valid());
    }

    proptest! {
        #[test]
        fn any_rings_are_survived(
            rings in proptest::collection::vec(
                proptest::collection::vec((-5000i32..5000, -5000i32..5000), 0..30), 0..4)
        ) {
            let rings: Vec<Vec<[f32; 2]>> = rings
                .iter()
                .map(|ring| ring.iter().map(|&(x, y)| [x as f32, y as f32]).collect())
                .collect();
            let fill = Fill::of(&rings);
            prop_assert!(fill.triangles.iter().all(|&corner| (corner as usize) < fill.points.len()));
            prop_assert!(fill.area() <= 1.1e8 * 4.0);
        }
    }
}
