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

const fn rgb(hex: u32) -> Color32 {
    Color32::from_rgb((hex >> 16) as u8, (hex >> 8) as u8, hex as u8)
}

/// The light theme.
pub static LIGHT: Tokens = Tokens {
    surface_window: rgb(0xe6eaec),
    surface_panel: rgb(0xf4f6f7),
    surface_raised: rgb(0xffffff),
    surface_sunken: rgb(0xeceff1),
    surface_selected: rgb(0xcfe5e4),
    surface_hover: rgb(0xe9eef0),
    surface_tip: rgb(0x23282d),
    line_soft: rgb(0xd0d6da),
    line_firm: rgb(0x7c868e),
    text_primary: rgb(0x191c20),
    text_secondary: rgb(0x474e56),
    text_disabled: rgb(0x5c646c),
    text_on_accent: rgb(0xffffff),
    text_on_tip: rgb(0xf2f4f5),
    text_due: rgb(0x5a42c6),
    text_late: rgb(0xa3006b),
    accent: rgb(0x005354),
    accent_hover: rgb(0x003d3e),
    focus: rgb(0x005354),
    danger: rgb(0xa3006b),
    map_sea: rgb(0xcfdbe2),
    map_land: rgb(0xe9ece7),
    map_wood: rgb(0xd7e0d3),
    map_water: rgb(0xb5c9d6),
    map_coast: rgb(0x6f8290),
    map_town: rgb(0xd8d9d5),
    map_road_1: rgb(0xffffff),
    map_road_1_case: rgb(0x8f9794),
    map_road_2: rgb(0xffffff),
    map_road_2_case: rgb(0xb4bab6),
    map_track: rgb(0xa9b0ab),
    map_label: rgb(0x363d43),
    map_label_sea: rgb(0x3d5564),
    glyph_line: rgb(0x23212a),
    glyph_case: rgb(0xffffff),
    glyph_empty: rgb(0xdfe3e6),
    age_1: rgb(0xf7f0d6),
    age_2: rgb(0xe6be72),
    age_3: rgb(0xbc763c),
    age_4: rgb(0x5d3324),
    lid_quiet: rgb(0xa4abb8),
    lid_due: rgb(0x7962dd),
    lid_late: rgb(0xbb007a),
    lid_barred: rgb(0x121115),
    bar_core: rgb(0x121115),
    bar_edge: rgb(0xffffff),
    dot_white: rgb(0xffffff),
    dot_yellow: rgb(0xf2c500),
    dot_red: rgb(0xd22630),
    dot_green: rgb(0x1f8a3b),
    dot_blue: rgb(0x1d5fc4),
    shadow: Color32::from_black_alpha(40),
};

/// The dark theme.
pub static DARK: Tokens = Tokens {
    surface_window: rgb(0x111417),
    surface_panel: rgb(0x191d21),
    surface_raised: rgb(0x20252a),
    surface_sunken: rgb(0x161a1d),
    surface_selected: rgb(0x1d3d49),
    surface_hover: rgb(0x2a3037),
    surface_tip: rgb(0xe9ecee),
    line_soft: rgb(0x363d44),
    line_firm: rgb(0x7d8993),
    text_primary: rgb(0xeceef0),
    text_secondary: rgb(0xb9c1c8),
    text_disabled: rgb(0x9aa4ad),
    text_on_accent: rgb(0x08191c),
    text_on_tip: rgb(0x191c20),
    text_due: rgb(0xb8aaff),
    text_late: rgb(0xf77fbf),
    accent: rgb(0xa6e2fb),
    accent_hover: rgb(0xc6edfc),
    focus: rgb(0xa6e2fb),
    danger: rgb(0xf77fbf),
    map_sea: rgb(0x0d1216),
    map_land: rgb(0x23292d),
    map_wood: rgb(0x1e2c27),
    map_water: rgb(0x142430),
    map_coast: rgb(0x6b7c89),
    map_town: rgb(0x2f363b),
    map_road_1: rgb(0x5b666e),
    map_road_1_case: rgb(0x14181b),
    map_road_2: rgb(0x465057),
    map_road_2_case: rgb(0x14181b),
    map_track: rgb(0x525b61),
    map_label: rgb(0xced5da),
    map_label_sea: rgb(0x94a8b6),
    glyph_line: rgb(0xf3f0e9),
    glyph_case: rgb(0x0f1215),
    glyph_empty: rgb(0x14171a),
    age_1: rgb(0xf7f0d6),
    age_2: rgb(0xe6be72),
    age_3: rgb(0xbc763c),
    age_4: rgb(0x5d3324),
    lid_quiet: rgb(0xa4abb8),
    lid_due: rgb(0x7962dd),
    lid_late: rgb(0xbb007a),
    lid_barred: rgb(0x121115),
    bar_core: rgb(0x121115),
    bar_edge: rgb(0xffffff),
    dot_white: rgb(0xffffff),
    dot_yellow: rgb(0xf2c500),
    dot_red: rgb(0xd22630),
    dot_green: rgb(0x1f8a3b),
    dot_blue: rgb(0x1d5fc4),
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
