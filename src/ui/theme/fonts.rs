//! IBM Plex Sans in four weights, with Noto Sans behind it for letters Plex lacks (`ḍ ḥ ṭ`). Both SIL OFL 1.1.

use std::sync::{Arc, LazyLock};

use egui::{Context, FontData, FontDefinitions, FontFamily};

/// The weights that are shipped.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// 400, running text.
    Regular,
    /// 500, buttons and headers of columns.
    Medium,
    /// 600, names, numbers, chosen things.
    SemiBold,
    /// 700, lid notes and the row being entered.
    Bold,
}

const WEIGHTS: [(Weight, &str, &[u8]); 4] = [
    (Weight::Regular, "plex-400", include_bytes!("../../../assets/fonts/IBMPlexSans_400Regular.ttf")),
    (Weight::Medium, "plex-500", include_bytes!("../../../assets/fonts/IBMPlexSans_500Medium.ttf")),
    (Weight::SemiBold, "plex-600", include_bytes!("../../../assets/fonts/IBMPlexSans_600SemiBold.ttf")),
    (Weight::Bold, "plex-700", include_bytes!("../../../assets/fonts/IBMPlexSans_700Bold.ttf")),
];

const FALLBACK: [(&str, &[u8]); 2] = [
    ("noto-400", include_bytes!("../../../assets/fonts/NotoSans_400Regular.ttf")),
    ("noto-600", include_bytes!("../../../assets/fonts/NotoSans_600SemiBold.ttf")),
];

static FAMILIES: LazyLock<[FontFamily; 4]> =
    LazyLock::new(|| WEIGHTS.map(|(_, name, _)| FontFamily::Name(name.into())));

impl Weight {
    /// The family under which this weight is known to the window.
    pub fn family(self) -> FontFamily {
        let [regular, medium, semibold, bold] = &*FAMILIES;
        match self {
            Self::Regular => regular,
            Self::Medium => medium,
            Self::SemiBold => semibold,
            Self::Bold => bold,
        }
        .clone()
    }

    fn fallback(self) -> &'static str {
        match self {
            Self::Regular | Self::Medium => "noto-400",
            Self::SemiBold | Self::Bold => "noto-600",
        }
    }
}

/// Replaces the window's typefaces by ours; nothing else is left to fall back on, so every computer shows the same.
pub fn install(ctx: &Context) {
    ctx.set_fonts(definitions());
}

/// The four weights as families of their own; proportional and monospace are the regular weight (its digits are tabular).
pub fn definitions() -> FontDefinitions {
    let mut fonts = FontDefinitions::empty();
    for (name, bytes) in FALLBACK {
        fonts.font_data.insert(name.to_owned(), Arc::new(FontData::from_static(bytes)));
    }
    for (weight, name, bytes) in WEIGHTS {
        fonts.font_data.insert(name.to_owned(), Arc::new(FontData::from_static(bytes)));
        fonts.families.insert(weight.family(), vec![name.to_owned(), weight.fallback().to_owned()]);
    }
    let regular = vec!["plex-400".to_owned(), "noto-400".to_owned()];
    fonts.families.insert(FontFamily::Proportional, regular.clone());
    fonts.families.insert(FontFamily::Monospace, regular);
    fonts
}
