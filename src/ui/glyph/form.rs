//! Where the edges of each glyph size lie: the table of the design, and the unit square for other sizes.

/// The three sizes of a yard's stack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StackSize {
    /// 18 × 22 points: lists and narrow windows.
    Small,
    /// 24 × 30 points: the map.
    Middle,
    /// 34 × 42 points: cards.
    Large,
}

impl StackSize {
    /// Width and height in points.
    pub fn size(self) -> [f32; 2] {
        match self {
            Self::Small => [18.0, 22.0],
            Self::Middle => [24.0, 30.0],
            Self::Large => [34.0, 42.0],
        }
    }
}

/// A ring in the box, or the point inside it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Rings {
    /// Centre, from the glyph's top left.
    pub center: [f32; 2],
    /// Radius of the middle of the line, and the line's width.
    pub outer: [f32; 2],
    /// The second ring; with a line of 0 it is a filled point of that radius.
    pub inner: [f32; 2],
}

/// Edges in points from the glyph's top left, y down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Form {
    pub width: f32,
    pub height: f32,
    /// Width of the outline.
    pub line: f32,
    /// Left edge of the box; the right edge mirrors it.
    pub side: f32,
    /// Lower edge of the lid; the box begins one line above it.
    pub lid_bottom: f32,
    pub thick_top: f32,
    pub thin_top: f32,
    pub gap: f32,
    pub lifted: f32,
    pub rings: Rings,
}

const fn form(edges: [f32; 9], center: [f32; 2], outer: [f32; 2], inner: [f32; 2]) -> Form {
    let [width, height, line, side, lid_bottom, thick_top, thin_top, gap, lifted] = edges;
    let rings = Rings { center, outer, inner };
    Form { width, height, line, side, lid_bottom, thick_top, thin_top, gap, lifted, rings }
}

/// width, height, line, side, lid bottom, thick top, thin top, gap, lifted height; ring centre, outer, inner.
const HIVES: [Form; 4] = [
    form([10.0, 10.0, 1.0, 1.0, 5.0, 1.0, 2.0, 2.0, 3.0], [5.0, 7.0], [1.55, 0.9], [0.6, 0.0]),
    form([14.0, 14.0, 1.0, 1.0, 7.0, 2.0, 4.0, 2.0, 4.0], [7.0, 10.0], [2.4, 1.0], [1.0, 0.0]),
    form([20.0, 20.0, 1.0, 2.0, 9.0, 3.0, 5.0, 4.0, 5.0], [10.0, 14.0], [3.9, 1.3], [1.7, 1.2]),
    form([28.0, 28.0, 1.5, 2.0, 12.0, 4.0, 7.0, 5.0, 7.0], [14.0, 19.25], [5.6, 1.6], [2.5, 1.6]),
];

const NO_RINGS: [f32; 2] = [0.0, 0.0];
const STACKS: [Form; 3] = [
    form([18.0, 22.0, 1.0, 1.0, 7.0, 2.0, 4.0, 4.0, 4.0], NO_RINGS, NO_RINGS, NO_RINGS),
    form([24.0, 30.0, 1.0, 2.0, 9.0, 3.0, 5.0, 4.0, 5.0], NO_RINGS, NO_RINGS, NO_RINGS),
    form([34.0, 42.0, 1.5, 2.5, 12.5, 4.0, 7.5, 6.0, 7.0], NO_RINGS, NO_RINGS, NO_RINGS),
];

impl Form {
    /// The hive of this size; sizes outside the table are the unit square enlarged, with a line of at least 1.
    pub fn hive(size: f32) -> Self {
        if let Some(form) = HIVES.iter().find(|form| form.width == size) {
            return *form;
        }
        let unit = [1.0, 1.0, 0.055, 0.08, 0.44, 0.14, 0.26, 0.18, 0.25].map(|edge| edge * size);
        let scale = |pair: [f32; 2]| pair.map(|edge| edge * size);
        let mut large = form(unit, scale([0.5, 0.69]), scale([0.2, 0.057]), scale([0.09, 0.057]));
        large.line = large.line.max(1.0);
        large
    }

    pub fn stack(size: StackSize) -> Self {
        let [small, middle, large] = STACKS;
        match size {
            StackSize::Small => small,
            StackSize::Middle => middle,
            StackSize::Large => large,
        }
    }

    /// Upper edge of the box.
    #[cfg(test)]
    pub fn box_top(&self) -> f32 {
        self.lid_bottom - self.line
    }

    /// Side and left top corners of the dots that mean "not known": rows shifted by half a step.
    pub fn dots(&self) -> (f32, Vec<[f32; 2]>) {
        let rows: &[(f32, &[f32])] = match self.width {
            10.0 => &[(6.0, &[3.0, 5.0]), (7.0, &[4.0, 6.0])],
            14.0 => &[(8.0, &[3.0, 6.0, 9.0]), (11.0, &[4.0, 7.0, 10.0])],
            20.0 => &[(10.0, &[5.0, 9.0, 13.0]), (13.0, &[7.0, 11.0]), (16.0, &[5.0, 9.0, 13.0])],
            _ => &[
                (14.0, &[5.0, 9.0, 13.0, 17.0, 21.0]),
                (18.0, &[7.0, 11.0, 15.0, 19.0]),
                (22.0, &[5.0, 9.0, 13.0, 17.0, 21.0]),
            ],
        };
        let in_table = HIVES.iter().any(|form| form.width == self.width);
        let scale = if in_table { 1.0 } else { self.width / 28.0 };
        let side = if self.width < 20.0 { 1.0 } else { 2.0 };
        let corners = rows.iter().flat_map(|&(y, xs)| xs.iter().map(move |&x| [x * scale, y * scale])).collect();
        (side * scale, corners)
    }
}
