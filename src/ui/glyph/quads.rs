//! Rectangles, turned bars, rings and strokes as quads of one mesh, on whole physical pixels.

use egui::{Color32, Mesh, Pos2, pos2, vec2};

/// Draws in physical pixels from a corner that lies on a pixel.
pub(super) struct Quads<'a> {
    mesh: &'a mut Mesh,
    origin: Pos2,
    pub scale: f32,
}

/// Left, top, right, bottom in pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Edges {
    pub left: f32,
    pub top: f32,
    pub right: f32,
    pub bottom: f32,
}

impl Edges {
    pub fn inset(self, by: f32) -> Self {
        Self { left: self.left + by, top: self.top + by, right: self.right - by, bottom: self.bottom - by }
    }

    fn corners(self) -> [[f32; 2]; 4] {
        [[self.left, self.top], [self.right, self.top], [self.right, self.bottom], [self.left, self.bottom]]
    }
}

impl<'a> Quads<'a> {
    pub fn new(mesh: &'a mut Mesh, top_left: Pos2, pixels_per_point: f32) -> Self {
        let snap = |v: f32| (v * pixels_per_point).round() / pixels_per_point;
        Self { mesh, origin: pos2(snap(top_left.x), snap(top_left.y)), scale: pixels_per_point }
    }

    /// Points to whole pixels.
    pub fn snap(&self, points: f32) -> f32 {
        (points * self.scale).round()
    }

    pub fn quad(&mut self, corners: [[f32; 2]; 4], colors: [Color32; 4]) {
        let first = self.mesh.vertices.len() as u32;
        for ([x, y], color) in corners.into_iter().zip(colors) {
            self.mesh.colored_vertex(self.origin + vec2(x, y) / self.scale, color);
        }
        self.mesh.add_triangle(first, first + 1, first + 2);
        self.mesh.add_triangle(first, first + 2, first + 3);
    }

    pub fn rect(&mut self, edges: Edges, color: Color32) {
        self.quad(edges.corners(), [color; 4]);
    }

    /// A filled rectangle inside an outline. A line of one and a half pixels is one full pixel and one of mixed colour,
    /// as an antialiased line would be.
    pub fn outlined(&mut self, outer: Edges, line: f32, ink: Color32, fill: Color32) -> Edges {
        self.rect(outer, ink);
        let (full, rest) = whole_and_rest(line);
        let mut inner = outer.inset(full);
        if rest > 0.0 {
            self.rect(inner, fill.lerp_to_gamma(ink, rest));
            inner = inner.inset(1.0);
        }
        self.rect(inner, fill);
        inner
    }

    /// An outlined bar turned by `angle` (radians, clockwise on the screen) about a point, its outer edge softened.
    pub fn turned(&mut self, outer: Edges, line: f32, about: [f32; 2], angle: f32, ink: Color32, fill: Color32) {
        let (sin, cos) = angle.sin_cos();
        let turn = |edges: Edges| {
            edges.corners().map(|[x, y]| {
                let (dx, dy) = (x - about[0], y - about[1]);
                [about[0] + dx * cos - dy * sin, about[1] + dx * sin + dy * cos]
            })
        };
        let solid = turn(outer.inset(0.5));
        let soft = turn(outer.inset(-0.5));
        let clear = ink.gamma_multiply(0.0);
        for (a, b) in [(0, 1), (1, 2), (2, 3), (3, 0)] {
            self.quad([soft[a], soft[b], solid[b], solid[a]], [clear, clear, ink, ink]);
        }
        self.quad(solid, [ink; 4]);
        self.quad(turn(outer.inset(line)), [fill; 4]);
    }

    /// A ring of `parts` flat sides whose edges fade over a pixel: two quads a side.
    pub fn soft_ring(&mut self, center: [f32; 2], [radius, line]: [f32; 2], parts: u32, ink: Color32) {
        let clear = ink.gamma_multiply(0.0);
        let half = 0.5 * line + 0.5;
        self.band(center, [radius + half, radius], parts, [clear, ink]);
        self.band(center, [radius, (radius - half).max(0.0)], parts, [ink, clear]);
    }

    /// A ring of `parts` flat sides with hard edges: one quad a side.
    pub fn ring(&mut self, center: [f32; 2], [radius, line]: [f32; 2], parts: u32, ink: Color32) {
        self.band(center, [radius + 0.5 * line, radius - 0.5 * line], parts, [ink; 2]);
    }

    /// A filled point that fades over its last pixel.
    pub fn point(&mut self, center: [f32; 2], radius: f32, parts: u32, ink: Color32) {
        self.band(center, [radius + 0.5, 0.0], parts, [ink.gamma_multiply(0.0), ink]);
    }

    /// A filled octagon whose corners lie on whole pixels: three quads.
    pub fn octagon(&mut self, [x, y]: [f32; 2], radius: f32, color: Color32) {
        let half = radius.round().max(1.0);
        // A little more than whole pixels are cut off, so that no edge runs through the middle of a pixel.
        let flat = half - (half * (2.0 - std::f32::consts::SQRT_2)).floor() - 0.1;
        let (near, far) = ([x - half, y - half], [x + half, y + half]);
        let (low, high) = ([x - flat, y - flat], [x + flat, y + flat]);
        self.quad([[low[0], near[1]], [high[0], near[1]], [far[0], low[1]], [near[0], low[1]]], [color; 4]);
        self.quad([[near[0], low[1]], [far[0], low[1]], [far[0], high[1]], [near[0], high[1]]], [color; 4]);
        self.quad([[near[0], high[1]], [far[0], high[1]], [high[0], far[1]], [low[0], far[1]]], [color; 4]);
    }

    fn band(&mut self, [x, y]: [f32; 2], [outer, inner]: [f32; 2], parts: u32, [edge, core]: [Color32; 2]) {
        let at = |step: u32, radius: f32| {
            let (sin, cos) = (std::f32::consts::TAU * step as f32 / parts as f32).sin_cos();
            [x + radius * cos, y + radius * sin]
        };
        for step in 0..parts {
            let corners = [at(step, outer), at(step + 1, outer), at(step + 1, inner), at(step, inner)];
            self.quad(corners, [edge, edge, core, core]);
        }
    }

    /// A stroke from the top left to the bottom right corner of `inside`, clipped to it: a hexagon as two quads.
    pub fn diagonal(&mut self, inside: Edges, width: f32, color: Color32) {
        let Edges { left, top, right, bottom } = inside;
        let angle = (bottom - top).atan2(right - left);
        let along = (0.5 * width / angle.sin()).min(right - left);
        let down = (0.5 * width / angle.cos()).min(bottom - top);
        self.quad([[left, top], [left + along, top], [right, bottom - down], [right, bottom]], [color; 4]);
        self.quad([[left, top], [right, bottom], [right - along, bottom], [left, top + down]], [color; 4]);
    }
}

/// How many whole pixels a line has, and how dark the pixel beside them is.
fn whole_and_rest(line: f32) -> (f32, f32) {
    let full = (line + 0.25).floor().max(1.0);
    let rest = line - full;
    (full, if rest > 0.25 { rest } else { 0.0 })
}
