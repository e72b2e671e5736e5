//! That no two signs look alike, whatever the eye: CAM02-UCS distances (Luo, Cui and Li 2006; CIECAM02 of CIE 159:2004)
//! as normal, deutan, protan and tritan eyes see them (Machado, Oliveira and Fernandes 2009, full severity).
//!
//! The computation is checked against colorspacious 1.1.2: `tests/reference/colour_vision.py`.

use egui::Color32;

use crate::ui::theme::tokens::{DARK, LIGHT, Tokens};

/// The least distance asked between two signs.
const LEAST: f64 = 15.0;

type Matrix = [[f64; 3]; 3];

const IDENTITY: Matrix = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
/// Machado 2009, table of severity 1.0, on linear sRGB.
const EYES: [(&str, Matrix); 4] = [
    ("normal", IDENTITY),
    (
        "deutan",
        [[0.367_322, 0.860_646, -0.227_968], [0.280_085, 0.672_501, 0.047_413], [-0.011_820, 0.042_940, 0.968_881]],
    ),
    (
        "protan",
        [[0.152_286, 1.052_583, -0.204_868], [0.114_503, 0.786_281, 0.099_216], [-0.003_882, -0.048_116, 1.051_998]],
    ),
    (
        "tritan",
        [[1.255_528, -0.076_749, -0.178_779], [-0.078_411, 0.930_809, 0.147_602], [0.004_733, 0.691_367, 0.303_900]],
    ),
];
/// IEC 61966-2-1.
const XYZ_FROM_RGB: Matrix = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]];
const CAT02: Matrix = [[0.7328, 0.4296, -0.1624], [-0.7036, 1.6975, 0.0061], [0.0030, 0.0136, 0.9834]];
const CAT02_INVERSE: Matrix = [
    [1.096_123_821, -0.278_869_000, 0.182_745_179],
    [0.454_369_042, 0.473_533_154, 0.072_097_804],
    [-0.009_627_609, -0.005_698_031, 1.015_325_640],
];
/// Hunt, Pointer and Estévez.
const HPE: Matrix = [[0.389_71, 0.688_98, -0.078_68], [-0.229_81, 1.183_40, 0.046_41], [0.0, 0.0, 1.0]];
/// D65, 2 degrees, Y = 100.
const WHITE: [f64; 3] = [95.047, 100.0, 108.883];

fn times(matrix: &Matrix, v: [f64; 3]) -> [f64; 3] {
    matrix.map(|row| row[0] * v[0] + row[1] * v[1] + row[2] * v[2])
}

/// CIECAM02 in the viewing conditions of sRGB: 64 lux of ambient light, grey background of 20, average surround.
struct Viewing {
    adapted: [f64; 3],
    level: f64,
    background: f64,
    induction: f64,
    white: f64,
}

impl Viewing {
    fn srgb() -> Self {
        let adapting = 64.0 / std::f64::consts::PI / 5.0;
        let degree = 1.0 - (1.0 / 3.6) * ((-adapting - 42.0) / 92.0_f64).exp();
        let k = 1.0 / (5.0 * adapting + 1.0);
        let level =
            0.2 * k.powi(4) * 5.0 * adapting + 0.1 * (1.0 - k.powi(4)).powi(2) * (5.0 * adapting).powf(1.0 / 3.0);
        let background: f64 = 0.2;
        let adapted = times(&CAT02, WHITE).map(|cone| degree * WHITE[1] / cone + 1.0 - degree);
        let induction = 0.725 * (1.0 / background).powf(0.2);
        let mut viewing = Self { adapted, level, background, induction, white: 1.0 };
        viewing.white = viewing.achromatic(viewing.cones(WHITE));
        viewing
    }

    fn cones(&self, xyz: [f64; 3]) -> [f64; 3] {
        let sharp = times(&CAT02, xyz);
        let adapted = [0, 1, 2].map(|i| sharp[i] * self.adapted[i]);
        times(&HPE, times(&CAT02_INVERSE, adapted)).map(|cone| {
            let power = (self.level * cone.abs() / 100.0).powf(0.42);
            cone.signum() * 400.0 * power / (power + 27.13) + 0.1
        })
    }

    fn achromatic(&self, [r, g, b]: [f64; 3]) -> f64 {
        (2.0 * r + g + b / 20.0 - 0.305) * self.induction
    }

    /// J', a', b' of CAM02-UCS.
    fn uniform(&self, xyz: [f64; 3]) -> [f64; 3] {
        let cones = self.cones(xyz);
        let [long, middle, short] = cones;
        let red_green = long - 12.0 * middle / 11.0 + short / 11.0;
        let yellow_blue = (long + middle - 2.0 * short) / 9.0;
        let hue = yellow_blue.atan2(red_green);
        let exponent = 1.48 + self.background.sqrt();
        let lightness = 100.0 * (self.achromatic(cones) / self.white).powf(0.69 * exponent);
        let eccentricity = 12_500.0 / 13.0 * self.induction * ((hue + 2.0).cos() + 3.8);
        let t = eccentricity * red_green.hypot(yellow_blue) / (long + middle + 21.0 * short / 20.0);
        let chroma = t.powf(0.9) * (lightness / 100.0).sqrt() * (1.64 - 0.29_f64.powf(self.background)).powf(0.73);
        let colorfulness = chroma * self.level.powf(0.25);
        let even = (1.0 + 0.0228 * colorfulness).ln() / 0.0228;
        [1.7 * lightness / (1.0 + 0.007 * lightness), even * hue.cos(), even * hue.sin()]
    }
}

fn seen(color: Color32, eye: &Matrix) -> [f64; 3] {
    let linear = |byte: u8| {
        let value = f64::from(byte) / 255.0;
        if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
    };
    // What the matrix puts outside the screen's gamut is shown at its edge.
    let rgb = times(eye, [linear(color.r()), linear(color.g()), linear(color.b())]).map(|v| v.clamp(0.0, 1.0));
    Viewing::srgb().uniform(times(&XYZ_FROM_RGB, rgb).map(|v| 100.0 * v))
}

fn distance(a: Color32, b: Color32, eye: &Matrix) -> f64 {
    let (a, b) = (seen(a, eye), seen(b, eye));
    (0..3).map(|i| (a[i] - b[i]).powi(2)).sum::<f64>().sqrt()
}

fn fills(t: &Tokens) -> [(&'static str, Color32); 4] {
    [("age_1", t.age_1), ("age_2", t.age_2), ("age_3", t.age_3), ("age_4", t.age_4)]
}

fn lids(t: &Tokens) -> [(&'static str, Color32); 4] {
    [("lid_quiet", t.lid_quiet), ("lid_due", t.lid_due), ("lid_late", t.lid_late), ("lid_barred", t.lid_barred)]
}

fn dots(t: &Tokens) -> [(&'static str, Color32); 5] {
    [
        ("dot_white", t.dot_white),
        ("dot_yellow", t.dot_yellow),
        ("dot_red", t.dot_red),
        ("dot_green", t.dot_green),
        ("dot_blue", t.dot_blue),
    ]
}

/// The least distance between any two of the colours, over all eyes, with who and where.
fn least(colors: &[(&'static str, Color32)]) -> (f64, String) {
    let mut worst = (f64::INFINITY, String::new());
    for (eye, matrix) in &EYES {
        for (place, (a, first)) in colors.iter().enumerate() {
            for (b, second) in &colors[place + 1..] {
                let apart = distance(*first, *second, matrix);
                if apart < worst.0 {
                    worst = (apart, format!("{a} and {b}, {eye}"));
                }
            }
        }
    }
    worst
}

#[test]
fn the_computation_agrees_with_colorspacious() {
    let reference: serde_json::Value =
        serde_json::from_str(include_str!("../../../tests/reference/colour_vision.json")).expect("reference values");
    let mut colors: Vec<_> = LIGHT.named();
    colors.push(("accent light", LIGHT.accent));
    colors.push(("accent dark", DARK.accent));
    let mut compared = 0;
    for (name, color) in colors {
        let Some(values) = reference.get(name) else { continue };
        for (eye, matrix) in &EYES {
            let ours = seen(color, matrix);
            for (part, value) in ours.into_iter().enumerate() {
                let theirs = values[eye][part].as_f64().expect("a number");
                assert!(
                    (value - theirs).abs() < 0.01,
                    "{name}, {eye}, part {part}: {value:.4}, colorspacious {theirs}"
                );
                compared += 1;
            }
        }
    }
    assert_eq!(compared, 17 * 4 * 3, "every reference colour was compared");
}

#[test]
fn fills_are_told_apart_by_every_eye() {
    let (apart, who) = least(&fills(&LIGHT));
    assert!(apart >= LEAST, "{who}: {apart:.1}");
    assert!((apart - 18.2).abs() < 0.05, "the design's own figure is 18.2: {apart:.2} ({who})");
}

#[test]
fn lids_are_told_apart_by_every_eye() {
    let (apart, who) = least(&lids(&LIGHT));
    assert!(apart >= LEAST, "{who}: {apart:.1}");
    assert!((apart - 21.1).abs() < 0.05, "the design's own figure is 21.1: {apart:.2} ({who})");
}

#[test]
fn the_accent_is_no_sign() {
    for t in [&LIGHT, &DARK] {
        for (name, sign) in fills(t).into_iter().chain(lids(t)).chain(dots(t)) {
            for (eye, matrix) in &EYES {
                let apart = distance(t.accent, sign, matrix);
                assert!(apart >= LEAST, "accent and {name}, {eye}: {apart:.1}");
            }
        }
    }
}
