//! Sizes in points (one pixel at scale 1), by name.

/// Gaps: 4, 8, 12, 16, 20, 24, 32.
pub mod space {
    /// 4: inside a sign.
    pub const HAIR: f32 = 4.0;
    /// 8: between neighbours.
    pub const SMALL: f32 = 8.0;
    /// 12: inside a box.
    pub const BOX: f32 = 12.0;
    /// 16: the side margin of every panel.
    pub const SIDE: f32 = 16.0;
    /// 20: between groups.
    pub const GROUP: f32 = 20.0;
    /// 24: between sections.
    pub const SECTION: f32 = 24.0;
    /// 32: between columns of a page.
    pub const PAGE: f32 = 32.0;
}

/// Corner radii.
pub mod radius {
    /// Cautions and notes.
    pub const CAUTION: u8 = 2;
    /// Keys and ticks.
    pub const KEY: u8 = 3;
    /// Controls and cards.
    pub const CONTROL: u8 = 4;
}

/// Widths of lines.
pub mod stroke {
    /// Lines between things, edges.
    pub const LINE: f32 = 1.0;
    /// Icons, the ring of a queen's dot.
    pub const ICON: f32 = 1.5;
    /// Focus and the chosen day.
    pub const FOCUS: f32 = 2.0;
    /// Map selection and route, the underline of the current screen.
    pub const SELECTION: f32 = 3.0;
    /// Case under a map selection or route.
    pub const CASE: f32 = 6.0;
    /// Mark at the left of the selected row, bar of a caution.
    pub const MARK: f32 = 4.0;
}

/// Heights of controls and bars.
pub mod height {
    /// Top bar.
    pub const TOP_BAR: f32 = 48.0;
    /// The screen's sentence.
    pub const SENTENCE: f32 = 52.0;
    /// The row of choices.
    pub const CHOICES: f32 = 44.0;
    /// Status line.
    pub const STATUS: f32 = 30.0;
    /// A button.
    pub const BUTTON: f32 = 34.0;
    /// A small button, and the least hit target.
    pub const BUTTON_SMALL: f32 = 28.0;
    /// A field.
    pub const FIELD: f32 = 32.0;
    /// A chip.
    pub const CHIP: f32 = 30.0;
    /// A key cap.
    pub const KEY: f32 = 20.0;
    /// A table's header.
    pub const HEADER: f32 = 30.0;
    /// A table row.
    pub const ROW: f32 = 34.0;
    /// A table row that holds a glyph.
    pub const ROW_GLYPH: f32 = 36.0;
    /// A row of words only.
    pub const ROW_PLAIN: f32 = 30.0;
    /// A row of evening entry.
    pub const ROW_ENTRY: f32 = 31.0;
    /// A stop of the run.
    pub const ROW_STOP: f32 = 58.0;
}
