//! Every colour of the window, once for each theme. `assets/theme/tokens.json` is the same table for other tools.

use egui::Color32;

/// A theme's colours by what they are for. Ratios in brackets are the least contrast the tests ask (WCAG 2.2).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tokens {
    /// Behind everything.
    pub surface_window: Color32,
    /// Bars and side panels.
    pub surface_panel: Color32,
    /// Cards, fields, buttons, table rows.
    pub surface_raised: Color32,
    /// Table headers, weekends, notes.
    pub surface_sunken: Color32,
    /// The chosen row, chip or day.
    pub surface_selected: Color32,
    /// Under the pointer.
    pub surface_hover: Color32,
    /// Toasts and tooltips.
    pub surface_tip: Color32,
    /// Lines between rows and panels.
    pub line_soft: Color32,
    /// Edges of fields, buttons, chips and keys (3:1).
    pub line_firm: Color32,
    /// Words that must be read (7:1); also the ink of bars.
    pub text_primary: Color32,
    /// Captions and second sentences (4.5:1).
    pub text_secondary: Color32,
    /// What cannot be used, and zeros (4.5:1).
    pub text_disabled: Color32,
    /// On an accent or danger fill.
    pub text_on_accent: Color32,
    /// On a toast or tooltip.
    pub text_on_tip: Color32,
    /// Violet: due.
    pub text_due: Color32,
    /// Magenta: late, failed, not possible.
    pub text_late: Color32,
    /// The one primary button, links, selection.
    pub accent: Color32,
    /// The primary button under the pointer.
    pub accent_hover: Color32,
    /// The ring of keyboard focus.
    pub focus: Color32,
    /// Edge of a field in error, words of a dangerous verb.
    pub danger: Color32,
    /// Sea.
    pub map_sea: Color32,
    /// Land, and the halo of map labels.
    pub map_land: Color32,
    /// Woods and shelter belts.
    pub map_wood: Color32,
    /// Lakes and rivers.
    pub map_water: Color32,
    /// Coastline.
    pub map_coast: Color32,
    /// Towns and pallets.
    pub map_town: Color32,
    /// Fill of a main road.
    pub map_road_1: Color32,
    /// Case of a main road.
    pub map_road_1_case: Color32,
    /// Fill of a minor road.
    pub map_road_2: Color32,
    /// Case of a minor road.
    pub map_road_2_case: Color32,
    /// Tracks and pallet edges.
    pub map_track: Color32,
    /// Labels on land.
    pub map_label: Color32,
    /// Labels on sea.
    pub map_label_sea: Color32,
    /// Outline of every glyph (3:1 on every map colour).
    pub glyph_line: Color32,
    /// Case round a selection ring or route.
    pub glyph_case: Color32,
    /// Box of a hive without a known queen.
    pub glyph_empty: Color32,
    /// First season.
    pub age_1: Color32,
    /// Second season.
    pub age_2: Color32,
    /// Third season.
    pub age_3: Color32,
    /// Older.
    pub age_4: Color32,
    /// Nothing due.
    pub lid_quiet: Color32,
    /// A window is open.
    pub lid_due: Color32,
    /// A latest day has passed, or action is needed.
    pub lid_late: Color32,
    /// Barred.
    pub lid_barred: Color32,
    /// Dark core of the barred stroke.
    pub bar_core: Color32,
    /// Light edge of the barred stroke.
    pub bar_edge: Color32,
    /// Queen's dot, years ending in 1 and 6.
    pub dot_white: Color32,
    /// Queen's dot, years ending in 2 and 7.
    pub dot_yellow: Color32,
    /// Queen's dot, years ending in 3 and 8.
    pub dot_red: Color32,
    /// Queen's dot, years ending in 4 and 9.
    pub dot_green: Color32,
    /// Queen's dot, years ending in 5 and 0.
    pub dot_blue: Color32,
    /// Shadow of menus and dialogs, and the veil behind a dialog.
    pub shadow: Color32,
}

/// No colour at all.
pub const CLEAR: Color32 = Color32::TRANSPARENT;

/// The light theme.
pub static LIGHT: Tokens = Tokens {
    surface_window: Color32::from_rgb(0xe6, 0xea, 0xec),
    surface_panel: Color32::from_rgb(0xf4, 0xf6, 0xf7),
    surface_raised: Color32::from_rgb(0xff, 0xff, 0xff),
    surface_sunken: Color32::from_rgb(0xec, 0xef, 0xf1),
    surface_selected: Color32::from_rgb(0xcf, 0xe5, 0xe4),
    surface_hover: Color32::from_rgb(0xe9, 0xee, 0xf0),
    surface_tip: Color32::from_rgb(0x23, 0x28, 0x2d),
    line_soft: Color32::from_rgb(0xd0, 0xd6, 0xda),
    line_firm: Color32::from_rgb(0x7c, 0x86, 0x8e),
    text_primary: Color32::from_rgb(0x19, 0x1c, 0x20),
    text_secondary: Color32::from_rgb(0x47, 0x4e, 0x56),
    text_disabled: Color32::from_rgb(0x5c, 0x64, 0x6c),
    text_on_accent: Color32::from_rgb(0xff, 0xff, 0xff),
    text_on_tip: Color32::from_rgb(0xf2, 0xf4, 0xf5),
    text_due: Color32::from_rgb(0x5a, 0x42, 0xc6),
    text_late: Color32::from_rgb(0xa3, 0x00, 0x6b),
    accent: Color32::from_rgb(0x00, 0x53, 0x54),
    accent_hover: Color32::from_rgb(0x00, 0x3d, 0x3e),
    focus: Color32::from_rgb(0x00, 0x53, 0x54),
    danger: Color32::from_rgb(0xa3, 0x00, 0x6b),
    map_sea: Color32::from_rgb(0xcf, 0xdb, 0xe2),
    map_land: Color32::from_rgb(0xe9, 0xec, 0xe7),
    map_wood: Color32::from_rgb(0xd7, 0xe0, 0xd3),
    map_water: Color32::from_rgb(0xb5, 0xc9, 0xd6),
    map_coast: Color32::from_rgb(0x6f, 0x82, 0x90),
    map_town: Color32::from_rgb(0xd8, 0xd9, 0xd5),
    map_road_1: Color32::from_rgb(0xff, 0xff, 0xff),
    map_road_1_case: Color32::from_rgb(0x8f, 0x97, 0x94),
    map_road_2: Color32::from_rgb(0xff, 0xff, 0xff),
    map_road_2_case: Color32::from_rgb(0xb4, 0xba, 0xb6),
    map_track: Color32::from_rgb(0xa9, 0xb0, 0xab),
    map_label: Color32::from_rgb(0x36, 0x3d, 0x43),
    map_label_sea: Color32::from_rgb(0x3d, 0x55, 0x64),
    glyph_line: Color32::from_rgb(0x23, 0x21, 0x2a),
    glyph_case: Color32::from_rgb(0xff, 0xff, 0xff),
    glyph_empty: Color32::from_rgb(0xdf, 0xe3, 0xe6),
    age_1: Color32::from_rgb(0xf7, 0xf0, 0xd6),
    age_2: Color32::from_rgb(0xe6, 0xbe, 0x72),
    age_3: Color32::from_rgb(0xbc, 0x76, 0x3c),
    age_4: Color32::from_rgb(0x5d, 0x33, 0x24),
    lid_quiet: Color32::from_rgb(0xa4, 0xab, 0xb8),
    lid_due: Color32::from_rgb(0x79, 0x62, 0xdd),
    lid_late: Color32::from_rgb(0xbb, 0x00, 0x7a),
    lid_barred: Color32::from_rgb(0x12, 0x11, 0x15),
    bar_core: Color32::from_rgb(0x12, 0x11, 0x15),
    bar_edge: Color32::from_rgb(0xff, 0xff, 0xff),
    dot_white: Color32::from_rgb(0xff, 0xff, 0xff),
    dot_yellow: Color32::from_rgb(0xf2, 0xc5, 0x00),
    dot_red: Color32::from_rgb(0xd2, 0x26, 0x30),
    dot_green: Color32::from_rgb(0x1f, 0x8a, 0x3b),
    dot_blue: Color32::from_rgb(0x1d, 0x5f, 0xc4),
    shadow: Color32::from_black_alpha(40),
};

/// The dark theme.
pub static DARK: Tokens = Tokens {
    surface_window: Color32::from_rgb(0x11, 0x14, 0x17),
    surface_panel: Color32::from_rgb(0x19, 0x1d, 0x21),
    surface_raised: Color32::from_rgb(0x20, 0x25, 0x2a),
    surface_sunken: Color32::from_rgb(0x16, 0x1a, 0x1d),
    surface_selected: Color32::from_rgb(0x1d, 0x3d, 0x49),
    surface_hover: Color32::from_rgb(0x2a, 0x30, 0x37),
    surface_tip: Color32::from_rgb(0xe9, 0xec, 0xee),
    line_soft: Color32::from_rgb(0x36, 0x3d, 0x44),
    line_firm: Color32::from_rgb(0x7d, 0x89, 0x93),
    text_primary: Color32::from_rgb(0xec, 0xee, 0xf0),
    text_secondary: Color32::from_rgb(0xb9, 0xc1, 0xc8),
    text_disabled: Color32::from_rgb(0x9a, 0xa4, 0xad),
    text_on_accent: Color32::from_rgb(0x08, 0x19, 0x1c),
    text_on_tip: Color32::from_rgb(0x19, 0x1c, 0x20),
    text_due: Color32::from_rgb(0xb8, 0xaa, 0xff),
    text_late: Color32::from_rgb(0xf7, 0x7f, 0xbf),
    accent: Color32::from_rgb(0xa6, 0xe2, 0xfb),
    accent_hover: Color32::from_rgb(0xc6, 0xed, 0xfc),
    focus: Color32::from_rgb(0xa6, 0xe2, 0xfb),
    danger: Color32::from_rgb(0xf7, 0x7f, 0xbf),
    map_sea: Color32::from_rgb(0x0d, 0x12, 0x16),
    map_land: Color32::from_rgb(0x23, 0x29, 0x2d),
    map_wood: Color32::from_rgb(0x1e, 0x2c, 0x27),
    map_water: Color32::from_rgb(0x14, 0x24, 0x30),
    map_coast: Color32::from_rgb(0x6b, 0x7c, 0x89),
    map_town: Color32::from_rgb(0x2f, 0x36, 0x3b),
    map_road_1: Color32::from_rgb(0x5b, 0x66, 0x6e),
    map_road_1_case: Color32::from_rgb(0x14, 0x18, 0x1b),
    map_road_2: Color32::from_rgb(0x46, 0x50, 0x57),
    map_road_2_case: Color32::from_rgb(0x14, 0x18, 0x1b),
    map_track: Color32::from_rgb(0x52, 0x5b, 0x61),
    map_label: Color32::from_rgb(0xce, 0xd5, 0xda),
    map_label_sea: Color32::from_rgb(0x94, 0xa8, 0xb6),
    glyph_line: Color32::from_rgb(0xf3, 0xf0, 0xe9),
    glyph_case: Color32::from_rgb(0x0f, 0x12, 0x15),
    glyph_empty: Color32::from_rgb(0x14, 0x17, 0x1a),
    age_1: Color32::from_rgb(0xf7, 0xf0, 0xd6),
    age_2: Color32::from_rgb(0xe6, 0xbe, 0x72),
    age_3: Color32::from_rgb(0xbc, 0x76, 0x3c),
    age_4: Color32::from_rgb(0x5d, 0x33, 0x24),
    lid_quiet: Color32::from_rgb(0xa4, 0xab, 0xb8),
    lid_due: Color32::from_rgb(0x79, 0x62, 0xdd),
    lid_late: Color32::from_rgb(0xbb, 0x00, 0x7a),
    lid_barred: Color32::from_rgb(0x12, 0x11, 0x15),
    bar_core: Color32::from_rgb(0x12, 0x11, 0x15),
    bar_edge: Color32::from_rgb(0xff, 0xff, 0xff),
    dot_white: Color32::from_rgb(0xff, 0xff, 0xff),
    dot_yellow: Color32::from_rgb(0xf2, 0xc5, 0x00),
    dot_red: Color32::from_rgb(0xd2, 0x26, 0x30),
    dot_green: Color32::from_rgb(0x1f, 0x8a, 0x3b),
    dot_blue: Color32::from_rgb(0x1d, 0x5f, 0xc4),
    shadow: Color32::from_black_alpha(110),
};

impl Tokens {
    /// Every token of `assets/theme/tokens.json` by its name there.
    pub fn named(&self) -> Vec<(&'static str, Color32)> {
        vec![
            ("surface_window", self.surface_window),
            ("surface_panel", self.surface_panel),
            ("surface_raised", self.surface_raised),
            ("surface_sunken", self.surface_sunken),
            ("surface_selected", self.surface_selected),
            ("surface_hover", self.surface_hover),
            ("surface_tip", self.surface_tip),
            ("line_soft", self.line_soft),
            ("line_firm", self.line_firm),
            ("text_primary", self.text_primary),
            ("text_secondary", self.text_secondary),
            ("text_disabled", self.text_disabled),
            ("text_on_accent", self.text_on_accent),
            ("text_on_tip", self.text_on_tip),
            ("text_due", self.text_due),
            ("text_late", self.text_late),
            ("accent", self.accent),
            ("accent_hover", self.accent_hover),
            ("focus", self.focus),
            ("danger", self.danger),
            ("map_sea", self.map_sea),
            ("map_land", self.map_land),
            ("map_wood", self.map_wood),
            ("map_water", self.map_water),
            ("map_coast", self.map_coast),
            ("map_town", self.map_town),
            ("map_road_1", self.map_road_1),
            ("map_road_1_case", self.map_road_1_case),
            ("map_road_2", self.map_road_2),
            ("map_road_2_case", self.map_road_2_case),
            ("map_track", self.map_track),
            ("map_label", self.map_label),
            ("map_label_sea", self.map_label_sea),
            ("glyph_line", self.glyph_line),
            ("glyph_case", self.glyph_case),
            ("glyph_empty", self.glyph_empty),
            ("age_1", self.age_1),
            ("age_2", self.age_2),
            ("age_3", self.age_3),
            ("age_4", self.age_4),
            ("lid_quiet", self.lid_quiet),
            ("lid_due", self.lid_due),
            ("lid_late", self.lid_late),
            ("lid_barred", self.lid_barred),
            ("bar_core", self.bar_core),
            ("bar_edge", self.bar_edge),
            ("dot_white", self.dot_white),
            ("dot_yellow", self.dot_yellow),
            ("dot_red", self.dot_red),
            ("dot_green", self.dot_green),
            ("dot_blue", self.dot_blue),
        ]
    }
}
