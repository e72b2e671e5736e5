//! Words in the seven sizes and four weights: `text::body("Thrift").semibold().color(t.text_late)`.

use egui::text::{LayoutJob, TextFormat};
use egui::{Color32, FontId, RichText};

use crate::ui::theme::fonts::Weight;
use crate::ui::theme::tokens::Tokens;

/// A size with its line height, both in points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Type {
    /// Height of the letters' body.
    pub size: f32,
    /// Height of a line.
    pub line: f32,
}

/// Headers, keys, status; nothing is smaller.
pub const SMALL: Type = Type { size: 13.0, line: 18.0 };
/// Tables, chips, secondary paragraphs.
pub const TABLE: Type = Type { size: 14.0, line: 20.0 };
/// Everything else.
pub const BODY: Type = Type { size: 15.0, line: 22.0 };
/// Panel headings.
pub const HEAD: Type = Type { size: 16.0, line: 22.0 };
/// Card and choice titles.
pub const NAME: Type = Type { size: 18.0, line: 24.0 };
/// First line of a screen, day numbers.
pub const SENTENCE: Type = Type { size: 20.0, line: 26.0 };
/// Entry hive code, first start.
pub const LARGE: Type = Type { size: 24.0, line: 30.0 };

impl Type {
    /// This size in a weight, for painters and fields.
    pub fn font(self, weight: Weight) -> FontId {
        FontId::new(self.size, weight.family())
    }

    /// This size in a weight and colour, for laid-out paragraphs.
    pub fn format(self, weight: Weight, color: Color32) -> TextFormat {
        TextFormat { line_height: Some(self.line), ..TextFormat::simple(self.font(weight), color) }
    }

    /// Words of this size in a weight.
    pub fn words(self, weight: Weight, words: impl Into<String>) -> RichText {
        RichText::new(words).font(self.font(weight)).line_height(Some(self.line))
    }
}

/// 13 regular.
pub fn small(words: impl Into<String>) -> RichText {
    SMALL.words(Weight::Regular, words)
}

/// 14 regular.
pub fn table(words: impl Into<String>) -> RichText {
    TABLE.words(Weight::Regular, words)
}

/// 15 regular.
pub fn body(words: impl Into<String>) -> RichText {
    BODY.words(Weight::Regular, words)
}

/// 16 semibold.
pub fn head(words: impl Into<String>) -> RichText {
    HEAD.words(Weight::SemiBold, words)
}

/// 18 semibold.
pub fn name(words: impl Into<String>) -> RichText {
    NAME.words(Weight::SemiBold, words)
}

/// 20 semibold.
pub fn sentence(words: impl Into<String>) -> RichText {
    SENTENCE.words(Weight::SemiBold, words)
}

/// 24 semibold.
pub fn large(words: impl Into<String>) -> RichText {
    LARGE.words(Weight::SemiBold, words)
}

/// Another weight of the same words.
pub trait Weighted {
    /// 400.
    #[must_use]
    fn regular(self) -> Self;
    /// 500.
    #[must_use]
    fn medium(self) -> Self;
    /// 600.
    #[must_use]
    fn semibold(self) -> Self;
    /// 700.
    #[must_use]
    fn bold(self) -> Self;
}

impl Weighted for RichText {
    fn regular(self) -> Self {
        self.family(Weight::Regular.family())
    }

    fn medium(self) -> Self {
        self.family(Weight::Medium.family())
    }

    fn semibold(self) -> Self {
        self.family(Weight::SemiBold.family())
    }

    fn bold(self) -> Self {
        self.family(Weight::Bold.family())
    }
}

/// One paragraph: the fact in semibold, then the rest in the secondary colour. The caller sets `wrap.max_width` if it
/// paints the job itself; `ui.label` wraps it as it stands.
pub fn fact_and_rest(t: &Tokens, size: Type, fact: &str, rest: &str) -> LayoutJob {
    two_tone(size, fact, t.text_primary, rest, t.text_secondary)
}

/// A message in its two parts: the first sentence and what follows it.
pub fn fact_and_way_out(words: &str) -> (&str, &str) {
    match words.find(". ") {
        Some(at) => (&words[..=at], &words[at + 2..]),
        None => (words, ""),
    }
}

/// One paragraph of a semibold part and a regular part, each in its colour, with a space between.
pub fn two_tone(size: Type, strong: &str, strong_color: Color32, rest: &str, rest_color: Color32) -> LayoutJob {
    let mut job = LayoutJob::default();
    if !strong.is_empty() {
        job.append(strong, 0.0, size.format(Weight::SemiBold, strong_color));
    }
    if !rest.is_empty() {
        let gap = if strong.is_empty() { "" } else { " " };
        job.append(&format!("{gap}{rest}"), 0.0, size.format(Weight::Regular, rest_color));
    }
    job
}
