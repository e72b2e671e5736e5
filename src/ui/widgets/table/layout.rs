//! Where the columns of a table stand.

use crate::ui::theme::metrics::space;

/// One column: its title, its width, and on which side its cells stand.
#[derive(Clone, Copy, Debug)]
pub struct Column<'a> {
    /// Header; empty above glyphs.
    pub title: &'a str,
    /// A second line of the header, as "from “site”".
    pub(super) below: &'a str,
    width: Width,
    right: bool,
    /// Its header can be pressed to sort by it.
    pub(super) sorts: bool,
}

#[derive(Clone, Copy, Debug)]
enum Width {
    Points(f32),
    Share(f32),
}

/// Left and right edge of a column's cells, from the table's left edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Span {
    pub left: f32,
    pub right: f32,
    pub right_aligned: bool,
}

impl Span {
    /// For cells beyond the last column: of no width.
    pub const NOWHERE: Self = Self { left: 0.0, right: 0.0, right_aligned: false };
}

impl<'a> Column<'a> {
    /// Words, `width` points.
    pub fn words(title: &'a str, width: f32) -> Self {
        Self { title, below: "", width: Width::Points(width), right: false, sorts: false }
    }

    /// Numbers, standing right, `width` points.
    pub fn number(title: &'a str, width: f32) -> Self {
        Self { right: true, ..Self::words(title, width) }
    }

    /// A glyph, without a title.
    pub fn glyph(width: f32) -> Self {
        Self { title: "", ..Self::words("", width) }
    }

    /// Words that share the room left over, in proportion to `share`.
    pub fn rest(title: &'a str, share: f32) -> Self {
        Self { width: Width::Share(share), ..Self::words(title, 0.0) }
    }

    /// A second line under the title; the header of the whole table is then 58 high.
    #[must_use]
    pub fn below(self, below: &'a str) -> Self {
        Self { below, ..self }
    }

    /// Its header can be pressed to sort by it.
    #[must_use]
    pub fn sorts(self) -> Self {
        Self { sorts: true, ..self }
    }
}

const GAP: f32 = 16.0;

/// Lays the columns side by side with gaps of 16 between margins of 16.
pub(super) fn spans(columns: &[Column<'_>], available: f32) -> Vec<Span> {
    let fixed: f32 =
        columns.iter().map(|column| if let Width::Points(width) = column.width { width } else { 0.0 }).sum();
    let shares: f32 =
        columns.iter().map(|column| if let Width::Share(share) = column.width { share } else { 0.0 }).sum();
    let gaps = GAP * columns.len().saturating_sub(1) as f32;
    let left_over = (available - 2.0 * space::SIDE - fixed - gaps).max(0.0);
    let mut left = space::SIDE;
    let span = |column: &Column<'_>| {
        let width = match column.width {
            Width::Points(width) => width,
            Width::Share(share) => left_over * share / shares,
        };
        let span = Span { left, right: left + width, right_aligned: column.right };
        left = span.right + GAP;
        span
    };
    columns.iter().map(span).collect()
}

#[cfg(test)]
mod tests {
    use super::{Column, spans};

    #[test]
    fn columns_fill_the_width_between_the_margins() {
        let columns =
            [Column::glyph(20.0), Column::rest("Yard", 2.0), Column::number("Due", 40.0), Column::rest("Why", 1.0)];
        let spans = spans(&columns, 500.0);
        assert_eq!(spans[0].left, 16.0);
        assert!((spans[3].right - 484.0).abs() < 0.01, "ends at {}", spans[3].right);
        let (yard, why) = (spans[1].right - spans[1].left, spans[3].right - spans[3].left);
        assert!((yard - 2.0 * why).abs() < 0.01, "the rest is shared 2 to 1: {yard}, {why}");
        for pair in spans.windows(2) {
            assert_eq!(pair[1].left - pair[0].right, 16.0);
        }
    }
}
