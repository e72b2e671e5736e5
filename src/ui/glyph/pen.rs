//! Draws hives and stacks into a mesh.

use egui::{Color32, Mesh, Pos2, Rect, Ui};

use crate::domain::standing::LidState;
use crate::ui::glyph::form::{Form, StackSize};
use crate::ui::glyph::quads::{Edges, Quads};
use crate::ui::glyph::{Fill, Stack, lid_color};
use crate::ui::theme::{self, Tokens};

/// The lid of a colony that needs action is turned this much.
const LIFT_RADIANS: f32 = -16.0 * std::f32::consts::PI / 180.0;
/// Dots of the unknown in a stack: so many quads are left of the 40.
const STACK_DOTS: usize = 16;

/// Colours and resolution for drawing glyphs.
#[derive(Clone, Copy)]
pub struct Pen {
    tokens: &'static Tokens,
    pixels_per_point: f32,
}

impl Pen {
    /// For the theme and the screen of this `ui`.
    pub fn new(ui: &Ui) -> Self {
        Self::with(theme::tokens(ui), ui.pixels_per_point())
    }

    /// For given colours and physical pixels a point.
    pub fn with(tokens: &'static Tokens, pixels_per_point: f32) -> Self {
        Self { tokens, pixels_per_point }
    }

    /// A hive `size` points square with its top left corner here (moved to the nearest pixel). A lifted lid reaches up
    /// to 0.09 of the size above it. At most 40 quads.
    pub fn hive(&self, mesh: &mut Mesh, top_left: Pos2, size: f32, fill: Fill, lid: LidState) {
        let form = Form::hive(size);
        let mut quads = Quads::new(mesh, top_left, self.pixels_per_point);
        let line = self.line(&form);
        let t = self.tokens;
        let inner = quads.outlined(box_edges(&quads, &form, line), line, t.glyph_line, fill.color(t));
        match fill {
            Fill::Unknown => self.dots(&mut quads, &form),
            Fill::Queenless => self.rings(&mut quads, &form, false),
            Fill::Waiting => self.rings(&mut quads, &form, true),
            Fill::First | Fill::Second | Fill::Third | Fill::Older => {}
        }
        if lid == LidState::Barred {
            self.barred(&mut quads, inner, line);
        }
        self.lid(&mut quads, &form, line, lid);
    }

    /// A yard's stack with its top left corner here (moved to the nearest pixel). At most 40 quads.
    pub fn stack(&self, mesh: &mut Mesh, top_left: Pos2, size: StackSize, stack: &Stack) {
        let form = Form::stack(size);
        let mut quads = Quads::new(mesh, top_left, self.pixels_per_point);
        let line = self.line(&form);
        let t = self.tokens;
        let inner = quads.outlined(box_edges(&quads, &form, line), line, t.glyph_line, t.glyph_empty);
        self.bands(&mut quads, inner, &stack.bands, size != StackSize::Small);
        if stack.barred || stack.lid == LidState::Barred {
            self.barred(&mut quads, inner, line);
        }
        self.lid(&mut quads, &form, line, stack.lid);
    }

    /// The outline's width in pixels, at least one.
    fn line(&self, form: &Form) -> f32 {
        (form.line * self.pixels_per_point).max(1.0)
    }

    fn dots(&self, quads: &mut Quads<'_>, form: &Form) {
        let (side, corners) = form.dots();
        let side = quads.snap(side).max(1.0);
        for [x, y] in corners {
            let (left, top) = (quads.snap(x), quads.snap(y));
            quads.rect(Edges { left, top, right: left + side, bottom: top + side }, self.tokens.glyph_line);
        }
    }

    /// A ring round a whole pixel, so that it is even on all sides. Two rings and a lid stay within 40 quads because the
    /// inner ring of the smaller sizes is an octagon with a hole.
    fn rings(&self, quads: &mut Quads<'_>, form: &Form, double: bool) {
        let ink = self.tokens.glyph_line;
        let scale = |pair: [f32; 2]| pair.map(|v| v * quads.scale);
        let center = form.rings.center.map(|v| quads.snap(v));
        let (outer, inner) = (scale(form.rings.outer), scale(form.rings.inner));
        if form.width > 28.0 {
            quads.ring(center, outer, 16, ink);
            if double {
                quads.ring(center, inner, 12, ink);
            }
            return;
        }
        quads.soft_ring(center, outer, 12, ink);
        if !double {
            return;
        }
        if inner[1] == 0.0 {
            quads.point(center, inner[0], 6, ink);
        } else {
            quads.octagon(center, inner[0] + 0.5 * inner[1], ink);
            quads.octagon(center, inner[0] - 0.5 * inner[1], self.tokens.glyph_empty);
        }
    }

    fn barred(&self, quads: &mut Quads<'_>, inner: Edges, line: f32) {
        let scale = self.pixels_per_point;
        quads.diagonal(inner, (3.0 * line).max(3.2 * scale), self.tokens.bar_edge);
        quads.diagonal(inner, (1.4 * line).max(1.4 * scale), self.tokens.bar_core);
    }

    fn lid(&self, quads: &mut Quads<'_>, form: &Form, line: f32, lid: LidState) {
        let (ink, fill) = (self.tokens.glyph_line, lid_color(lid, self.tokens));
        let (right, bottom) = (quads.snap(form.width), quads.snap(form.lid_bottom));
        let bar = |top: f32| Edges { left: 0.0, top, right, bottom };
        let (thick, thin) = (quads.snap(form.thick_top), quads.snap(form.thin_top));
        match lid {
            LidState::Quiet => {
                quads.outlined(bar(thin), line, ink, fill);
            }
            LidState::Due | LidState::Barred => {
                quads.outlined(bar(thick), line, ink, fill);
            }
            LidState::Late => {
                let part = ((right - quads.snap(form.gap)) * 0.5).round();
                quads.outlined(Edges { right: part, ..bar(thick) }, line, ink, fill);
                quads.outlined(Edges { left: right - part, ..bar(thick) }, line, ink, fill);
            }
            LidState::Action => {
                let lifted = bar(bottom - quads.snap(form.lifted));
                quads.turned(lifted, line, [0.0, bottom], LIFT_RADIANS, ink, fill);
            }
        }
    }

    fn bands(&self, quads: &mut Quads<'_>, inner: Edges, counts: &[u32; 7], divided: bool) {
        let t = self.tokens;
        let least = quads.scale.round().max(1.0);
        let heights = band_heights(counts, inner.bottom - inner.top, least);
        let divider = t.glyph_line.gamma_multiply(0.55 * (0.5 * quads.scale).min(1.0));
        let mut top = inner.top;
        for (fill, height) in Fill::ALL.into_iter().zip(heights) {
            if height == 0.0 {
                continue;
            }
            let band = Edges { top, bottom: top + height, ..inner };
            match fill {
                Fill::First | Fill::Second | Fill::Third | Fill::Older => quads.rect(band, fill.color(t)),
                Fill::Unknown => dotted(quads, band, t.glyph_line),
                Fill::Queenless | Fill::Waiting => {}
            }
            top = band.bottom;
            if divided && top < inner.bottom {
                quads.rect(Edges { top: top - 1.0, bottom: top, ..band }, divider);
            }
        }
    }
}

/// The box in pixels: from one line above the lid's lower edge down to the ground.
fn box_edges(quads: &Quads<'_>, form: &Form, line: f32) -> Edges {
    let (width, side) = (quads.snap(form.width), quads.snap(form.side));
    let top = (quads.snap(form.lid_bottom) - line).floor();
    Edges { left: side, top, right: width - side, bottom: quads.snap(form.height) }
}

/// Dots of one point, three apart, rows shifted by half a step; further apart where there is much of the unknown.
fn dotted(quads: &mut Quads<'_>, band: Edges, ink: Color32) {
    let side = quads.scale.round().max(1.0);
    let corners = |step: f32| {
        let mut corners = Vec::new();
        let (mut top, mut shift) = (band.top, 1.0);
        while top + side <= band.bottom {
            let mut left = band.left + shift * side;
            while left + side <= band.right {
                corners.push((left, top));
                left += step * side;
            }
            top += step * side;
            shift = if shift == 1.0 { 1.0 + (0.5 * step).round() } else { 1.0 };
        }
        corners
    };
    let mut step = 3.0;
    while corners(step).len() > STACK_DOTS {
        step += 1.0;
    }
    for (left, top) in corners(step) {
        quads.rect(Edges { left, top, right: left + side, bottom: top + side }, ink);
    }
}

/// Shares out `height` pixels: each band that holds a hive gets its rounded share, at least `least`; what is left over
/// or missing falls to the largest.
pub(super) fn band_heights(counts: &[u32; 7], height: f32, least: f32) -> [f32; 7] {
    let total: u32 = counts.iter().sum();
    if total == 0 {
        return [0.0; 7];
    }
    let share = |count: u32| match count {
        0 => 0.0,
        _ => (height * count as f32 / total as f32).round().max(least),
    };
    let mut heights = counts.map(share);
    let largest = (0..7).rev().max_by_key(|&band| counts[band]).unwrap_or(0);
    heights[largest] += height - heights.iter().sum::<f32>();
    heights
}

/// A bar of a chart of ages, filled and outlined as the hive's box is; the unknown carry dots.
pub fn age_bar(ui: &Ui, rect: Rect, fill: Fill) {
    let pen = Pen::new(ui);
    let mut mesh = Mesh::default();
    let mut quads = Quads::new(&mut mesh, rect.min, pen.pixels_per_point);
    let (right, bottom) = (quads.snap(rect.width()), quads.snap(rect.height()));
    let outer = Edges { left: 0.0, top: 0.0, right, bottom };
    let inner = quads.outlined(outer, quads.scale.round().max(1.0), pen.tokens.glyph_line, fill.color(pen.tokens));
    if fill == Fill::Unknown {
        dotted(&mut quads, Edges { top: inner.top + 1.0, ..inner }, pen.tokens.glyph_line);
    }
    ui.painter().add(mesh);
}
