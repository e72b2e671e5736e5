//! Ink on a page, in millimetres from the top left corner.

use krilla::color::luma;
use krilla::geom::{PathBuilder, Point, Rect, Transform};
use krilla::num::NormalizedF32;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;

use crate::print::letters::{Shaped, Weight};
use crate::print::setting::{Fitted, Line, Setter, Style};
use crate::print::sheet::POINTS_PER_MM;

/// Lightness of the ink: 0 black, 255 paper.
pub(crate) type Tone = u8;

/// Ink for words and boxes.
pub(crate) const BLACK: Tone = 0;

/// No ink.
pub(crate) const PAPER: Tone = 255;

/// Where a text stands against its x.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Align {
    Left,
    Middle,
    Right,
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pen {
    pub(crate) width: f32,
    pub(crate) tone: Tone,
    /// Length of dash and gap; 0 for a whole line.
    pub(crate) dash: f32,
}

impl Pen {
    pub(crate) const fn solid(width: f32, tone: Tone) -> Self {
        Self { width, tone, dash: 0.0 }
    }

    pub(crate) const fn dashed(width: f32, tone: Tone, dash: f32) -> Self {
        Self { width, tone, dash }
    }
}

/// One page being drawn.
pub(crate) struct Canvas<'a> {
    surface: Surface<'a>,
}

impl<'a> Canvas<'a> {
    pub(crate) fn new(mut surface: Surface<'a>) -> Self {
        surface.push_transform(&Transform::from_scale(POINTS_PER_MM, POINTS_PER_MM));
        Self { surface }
    }

    pub(crate) fn finish(mut self) {
        self.surface.pop();
        self.surface.finish();
    }

    /// Draws shaped letters with their baseline beginning at `(x, y)`.
    pub(crate) fn letters(&mut self, x: f32, y: f32, shaped: &Shaped, size_mm: f32, tone: Tone) {
        self.surface.set_stroke(None);
        self.surface.set_fill(Some(fill(tone)));
        let mut x = x;
        for run in &shaped.runs {
            let start = Point::from_xy(x, y);
            self.surface.draw_glyphs(start, &run.glyphs, run.font.clone(), &run.text, size_mm, false);
            x += run.width * size_mm;
        }
    }

    pub(crate) fn fitted(&mut self, x: f32, y: f32, fitted: &Fitted) {
        self.letters(x, y, &fitted.shaped, fitted.style.mm(), BLACK);
    }

    /// Sets and draws a text in black; gives its width in mm.
    pub(crate) fn text(&mut self, setter: &mut Setter, style: Style, align: Align, at: (f32, f32), text: &str) -> f32 {
        let shaped = setter.shape(style.weight, text);
        let width = shaped.width * style.mm();
        let x = match align {
            Align::Left => at.0,
            Align::Middle => at.0 - width / 2.0,
            Align::Right => at.0 - width,
        };
        self.letters(x, at.1, &shaped, style.mm(), BLACK);
        width
    }

    /// Draws a line of words of several weights.
    pub(crate) fn line(&mut self, setter: &mut Setter, size: f32, at: (f32, f32), line: &Line) {
        let mut x = at.0;
        for (weight, text) in line {
            x += self.text(setter, Style::new(*weight, size), Align::Left, (x, at.1), text);
        }
    }

    /// A straight line across.
    pub(crate) fn rule(&mut self, x: (f32, f32), y: f32, pen: Pen) {
        self.polyline(&[(x.0, y), (x.1, y)], pen);
    }

    /// Joined straight lines.
    pub(crate) fn polyline(&mut self, points: &[(f32, f32)], pen: Pen) {
        let Some((first, rest)) = points.split_first() else { return };
        let mut path = PathBuilder::new();
        path.move_to(first.0, first.1);
        for point in rest {
            path.line_to(point.0, point.1);
        }
        self.stroke(path, pen, LineJoin::Round);
    }

    /// A rectangle whose ink lies wholly inside `w` × `h`.
    pub(crate) fn frame(&mut self, x: f32, y: f32, w: f32, h: f32, pen: Pen) {
        let half = pen.width / 2.0;
        let Some(rect) = Rect::from_xywh(x + half, y + half, w - pen.width, h - pen.width) else { return };
        let mut path = PathBuilder::new();
        path.push_rect(rect);
        self.stroke(path, pen, LineJoin::Miter);
    }

    /// A filled rectangle.
    pub(crate) fn block(&mut self, x: f32, y: f32, w: f32, h: f32, tone: Tone) {
        let Some(rect) = Rect::from_xywh(x, y, w, h) else { return };
        let mut path = PathBuilder::new();
        path.push_rect(rect);
        let Some(path) = path.finish() else { return };
        self.surface.set_stroke(None);
        self.surface.set_fill(Some(fill(tone)));
        self.surface.draw_path(&path);
    }

    /// A circle filled with paper; `radius` reaches to the outer edge of its line.
    pub(crate) fn disc(&mut self, x: f32, y: f32, radius: f32, pen: Pen) {
        // Four cubic arcs; 0.5523 puts the middle of each on the circle.
        let r = radius - pen.width / 2.0;
        let c = 0.552_284_8 * r;
        let mut path = PathBuilder::new();
        path.move_to(x + r, y);
        path.cubic_to(x + r, y + c, x + c, y + r, x, y + r);
        path.cubic_to(x - c, y + r, x - r, y + c, x - r, y);
        path.cubic_to(x - r, y - c, x - c, y - r, x, y - r);
        path.cubic_to(x + c, y - r, x + r, y - c, x + r, y);
        path.close();
        let Some(path) = path.finish() else { return };
        self.surface.set_fill(Some(fill(PAPER)));
        self.surface.set_stroke(Some(stroke(pen, LineJoin::Miter)));
        self.surface.draw_path(&path);
    }

    /// Draws with everything outside the rectangle cut off.
    pub(crate) fn clipped(&mut self, x: f32, y: f32, w: f32, h: f32, draw: impl FnOnce(&mut Self)) {
        let Some(rect) = Rect::from_xywh(x, y, w, h) else { return };
        let mut path = PathBuilder::new();
        path.push_rect(rect);
        let Some(path) = path.finish() else { return };
        self.surface.push_clip_path(&path, &FillRule::NonZero);
        draw(self);
        self.surface.pop();
    }

    fn stroke(&mut self, path: PathBuilder, pen: Pen, join: LineJoin) {
        let Some(path) = path.finish() else { return };
        self.surface.set_fill(None);
        self.surface.set_stroke(Some(stroke(pen, join)));
        self.surface.draw_path(&path);
    }
}

/// Style for the many texts in regular letters.
pub(crate) const fn regular(size: f32) -> Style {
    Style::new(Weight::Regular, size)
}

/// Style for the texts that must be found at a glance.
pub(crate) const fn bold(size: f32) -> Style {
    Style::new(Weight::Bold, size)
}

fn fill(tone: Tone) -> Fill {
    Fill { paint: luma::Color::new(tone).into(), opacity: NormalizedF32::ONE, rule: FillRule::NonZero }
}

fn stroke(pen: Pen, line_join: LineJoin) -> Stroke {
    let dash = (pen.dash > 0.0).then(|| StrokeDash { array: vec![pen.dash, pen.dash], offset: 0.0 });
    // Rules keep their exact length, so their ends are cut square.
    Stroke {
        paint: luma::Color::new(pen.tone).into(),
        width: pen.width,
        line_cap: LineCap::Butt,
        line_join,
        dash,
        ..Stroke::default()
    }
}
