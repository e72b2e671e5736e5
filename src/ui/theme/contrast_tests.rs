//! Contrast of every pair of colours that meet on the screen, by the formula of WCAG 2.2 (1.4.3, 1.4.6, 1.4.11), and
//! that the table of colours is the one other tools read.

use egui::Color32;

use crate::ui::theme::tokens::{DARK, LIGHT, Tokens};

/// Relative luminance, WCAG 2.2.
fn luminance(color: Color32) -> f64 {
    let linear = |byte: u8| {
        let value = f64::from(byte) / 255.0;
        if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * linear(color.r()) + 0.7152 * linear(color.g()) + 0.0722 * linear(color.b())
}

/// Contrast ratio, 1 to 21.
fn contrast(a: Color32, b: Color32) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

fn check(theme: &str, front: Color32, back: Color32, what: &str, least: f64) {
    let ratio = contrast(front, back);
    assert!(ratio >= least, "{theme} {what}: {ratio:.2} is under {least}");
}

fn both_themes(check: impl Fn(&str, &Tokens)) {
    check("light", &LIGHT);
    check("dark", &DARK);
}

fn surfaces(t: &Tokens) -> [(&'static str, Color32); 6] {
    [
        ("window", t.surface_window),
        ("panel", t.surface_panel),
        ("raised", t.surface_raised),
        ("sunken", t.surface_sunken),
        ("selected", t.surface_selected),
        ("hover", t.surface_hover),
    ]
}

#[test]
fn the_formula_gives_the_published_ends_of_its_range() {
    assert!((contrast(Color32::BLACK, Color32::WHITE) - 21.0).abs() < 1e-9, "black on white is 21 to 1");
    assert!((contrast(Color32::WHITE, Color32::WHITE) - 1.0).abs() < 1e-9, "a colour on itself is 1 to 1");
    // WebAIM's worked example of the least grey that passes on white: #767676 at 4.54.
    let grey = contrast(Color32::from_gray(0x76), Color32::WHITE);
    assert!((grey - 4.54).abs() < 0.01, "#767676 on white: {grey:.3}");
}

#[test]
fn words_can_be_read_on_every_surface() {
    both_themes(|theme, t| {
        for (name, surface) in surfaces(t) {
            check(theme, t.text_primary, surface, &format!("primary on {name}"), 7.0);
            let words = [
                ("secondary", t.text_secondary),
                ("due", t.text_due),
                ("late", t.text_late),
                ("danger", t.danger),
                ("disabled", t.text_disabled),
                ("accent", t.accent),
            ];
            for (word, color) in words {
                check(theme, color, surface, &format!("{word} on {name}"), 4.5);
            }
        }
        check(theme, t.text_on_tip, t.surface_tip, "words on a tip", 7.0);
        for (name, fill) in [("accent", t.accent), ("accent hover", t.accent_hover), ("danger", t.danger)] {
            check(theme, t.text_on_accent, fill, &format!("words on {name}"), 4.5);
        }
    });
}

#[test]
fn edges_and_focus_can_be_seen() {
    both_themes(|theme, t| {
        for (name, surface) in surfaces(t) {
            check(theme, t.focus, surface, &format!("focus on {name}"), 3.0);
            check(theme, t.glyph_line, surface, &format!("glyph on {name}"), 3.0);
            if !matches!(name, "selected" | "hover") {
                check(theme, t.line_firm, surface, &format!("field edge on {name}"), 3.0);
            }
        }
        check(theme, t.glyph_line, t.glyph_empty, "rings and dots in an empty box", 3.0);
    });
}

#[test]
fn the_map_can_be_read() {
    both_themes(|theme, t| {
        for (name, ground) in [("land", t.map_land), ("wood", t.map_wood), ("town", t.map_town)] {
            check(theme, t.map_label, ground, &format!("label on {name}"), 4.5);
        }
        for (name, ground) in [("sea", t.map_sea), ("water", t.map_water)] {
            check(theme, t.map_label_sea, ground, &format!("label on {name}"), 4.5);
        }
        let grounds = [
            t.map_sea,
            t.map_land,
            t.map_wood,
            t.map_water,
            t.map_town,
            t.map_road_1,
            t.map_road_1_case,
            t.map_road_2,
            t.map_road_2_case,
        ];
        for (place, ground) in grounds.into_iter().enumerate() {
            check(theme, t.glyph_line, ground, &format!("glyph on map colour {place}"), 3.0);
        }
        check(theme, t.accent, t.map_land, "route on land", 3.0);
        check(theme, t.accent, t.map_sea, "route on sea", 3.0);
        check(theme, t.map_coast, t.map_land, "coast on land", 3.0);
    });
}

#[test]
fn the_barred_stroke_shows_on_every_fill() {
    both_themes(|theme, t| {
        for (name, fill) in [("1", t.age_1), ("2", t.age_2), ("3", t.age_3), ("4", t.age_4), ("empty", t.glyph_empty)] {
            let best = contrast(t.bar_edge, fill).max(contrast(t.bar_core, fill));
            assert!(best >= 3.0, "{theme} barred stroke on fill {name}: {best:.2}");
        }
        check(theme, t.bar_core, t.bar_edge, "core on edge", 3.0);
    });
}

#[test]
fn the_shared_table_of_tokens_is_the_same() {
    let file: serde_json::Value =
        serde_json::from_str(include_str!("../../../assets/theme/tokens.json")).expect("tokens.json is JSON");
    for (theme, t) in [("light", &LIGHT), ("dark", &DARK)] {
        let named = t.named();
        let mut in_file = 0;
        for group in [theme, "both"] {
            let colors = file[group].as_object().expect("a group of colours");
            in_file += colors.len();
            for (name, hex) in colors {
                let ours = named.iter().find(|(ours, _)| ours == name).map(|(_, color)| *color);
                let theirs = Color32::from_hex(hex.as_str().expect("a hex colour")).expect("a hex colour");
                assert_eq!(ours, Some(theirs), "{theme} {name}");
            }
        }
        assert_eq!(named.len(), in_file, "{theme}: as many tokens as the file has");
    }
}
