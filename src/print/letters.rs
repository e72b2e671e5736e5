//! Fonts, shaping and widths: text in, glyphs with their advances out, each text shaped once.

use std::collections::HashMap;
use std::rc::Rc;

use krilla::text::{Font, GlyphId, KrillaGlyph};
use rustybuzz::{Direction, Script, ShapePlan, UnicodeBuffer, script};
use unicode_normalization::UnicodeNormalization as _;
use unicode_normalization::char::is_combining_mark;

use crate::print::job::PrintError;

/// Weight of the letters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum Weight {
    /// Small print, table text.
    Regular,
    /// Foot of a label, heads of columns.
    Medium,
    /// Lines of a lid note after the first.
    SemiBold,
    /// First line of a lid note, titles, hives.
    Bold,
}

const MAIN: [(&str, &[u8]); 4] = [
    ("IBM Plex Sans Regular", include_bytes!("../../assets/fonts/IBMPlexSans_400Regular.ttf")),
    ("IBM Plex Sans Medium", include_bytes!("../../assets/fonts/IBMPlexSans_500Medium.ttf")),
    ("IBM Plex Sans SemiBold", include_bytes!("../../assets/fonts/IBMPlexSans_600SemiBold.ttf")),
    ("IBM Plex Sans Bold", include_bytes!("../../assets/fonts/IBMPlexSans_700Bold.ttf")),
];

/// For characters that the main font lacks; two weights serve all four.
const FALLBACK: [(&str, &[u8]); 2] = [
    ("Noto Sans Regular", include_bytes!("../../assets/fonts/NotoSans_400Regular.ttf")),
    ("Noto Sans Bold", include_bytes!("../../assets/fonts/NotoSans_700Bold.ttf")),
];

/// Glyphs of one font in a row. Advances and offsets are in em.
pub(crate) struct Run {
    pub(crate) font: Font,
    pub(crate) text: String,
    pub(crate) glyphs: Vec<KrillaGlyph>,
    pub(crate) width: f32,
}

/// A text ready to be drawn at any size. Widths are in em.
pub(crate) struct Shaped {
    pub(crate) runs: Vec<Run>,
    pub(crate) width: f32,
    /// Characters that no font has, in order, each once; the text shows `?` for them.
    pub(crate) missing: Vec<char>,
}

/// The fonts, and every text shaped so far.
pub(crate) struct Letters {
    main: Vec<Face>,
    /// Read when a text first needs them: most never do, and they are large.
    fallback: [Option<Face>; 2],
    /// One cache a weight, so that a look-up needs no copy of the text.
    shaped: [HashMap<String, Rc<Shaped>>; 4],
    buffer: Option<UnicodeBuffer>,
}

struct Face {
    font: Font,
    shaper: rustybuzz::Face<'static>,
    /// Making a plan costs more than shaping a word, and there are few scripts.
    plans: Vec<(Script, ShapePlan)>,
}

/// Which font draws a run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Source {
    Main,
    Fallback,
}

impl Letters {
    /// Reads the fonts.
    ///
    /// # Errors
    ///
    /// [`PrintError::Font`] when a font inside the program is damaged.
    pub(crate) fn new() -> Result<Self, PrintError> {
        let main = MAIN.iter().map(|&(name, bytes)| Face::new(name, bytes)).collect::<Result<_, _>>()?;
        Ok(Self {
            main,
            fallback: [None, None],
            shaped: [HashMap::new(), HashMap::new(), HashMap::new(), HashMap::new()],
            buffer: Some(UnicodeBuffer::new()),
        })
    }

    /// The text as glyphs. Cheap for a text seen before.
    pub(crate) fn shape(&mut self, weight: Weight, text: &str) -> Rc<Shaped> {
        if let Some(known) = self.shaped[weight as usize].get(text) {
            return Rc::clone(known);
        }
        let shaped = Rc::new(self.shape_anew(weight, text));
        self.shaped[weight as usize].insert(text.to_owned(), Rc::clone(&shaped));
        shaped
    }

    /// Width of the text in em, without keeping its glyphs: for the many tries of a search.
    pub(crate) fn width(&mut self, weight: Weight, text: &str) -> f32 {
        match self.shaped[weight as usize].get(text) {
            Some(known) => known.width,
            None => self.shape_anew(weight, text).width,
        }
    }

    fn shape_anew(&mut self, weight: Weight, text: &str) -> Shaped {
        let mut missing = Vec::new();
        let pieces = self.pieces(weight, text, &mut missing);
        let mut runs = Vec::with_capacity(pieces.len());
        let mut width = 0.0;
        for (source, piece) in pieces {
            let mut buffer = self.buffer.take().unwrap_or_default();
            buffer.push_str(&piece);
            let Some(face) = self.face(source, weight) else { continue };
            let (run, buffer) = face.run(piece, buffer);
            width += run.width;
            runs.push(run);
            self.buffer = Some(buffer);
        }
        Shaped { runs, width, missing }
    }

    /// The text in pieces of one font each. A letter and the marks on it stay in one font.
    fn pieces(&mut self, weight: Weight, text: &str, missing: &mut Vec<char>) -> Vec<(Source, String)> {
        let mut pieces: Vec<(Source, String)> = Vec::new();
        let mut cluster = String::new();
        let mut letters = text.nfc().filter_map(printable).peekable();
        while let Some(letter) = letters.next() {
            cluster.push(letter);
            if letters.peek().is_some_and(|&next| is_combining_mark(next)) {
                continue;
            }
            let source = if self.has(Source::Main, weight, &cluster) {
                Source::Main
            } else if self.has(Source::Fallback, weight, &cluster) {
                Source::Fallback
            } else {
                let base = cluster
                    .chars()
                    .find(|&letter| !self.has(Source::Fallback, weight, letter.encode_utf8(&mut [0; 4])));
                let lost = base.unwrap_or(letter);
                if !missing.contains(&lost) {
                    missing.push(lost);
                }
                cluster.clear();
                cluster.push('?');
                Source::Main
            };
            match pieces.last_mut() {
                Some((last, piece)) if *last == source => piece.push_str(&cluster),
                _ => pieces.push((source, cluster.clone())),
            }
            cluster.clear();
        }
        pieces
    }

    fn has(&mut self, source: Source, weight: Weight, text: &str) -> bool {
        self.face(source, weight).is_some_and(|face| {
            text.chars().all(|letter| face.shaper.glyph_index(letter).is_some_and(|glyph| glyph.0 != 0))
        })
    }

    /// None only for a damaged fallback font, whose characters then count as missing.
    fn face(&mut self, source: Source, weight: Weight) -> Option<&mut Face> {
        match source {
            Source::Main => self.main.get_mut(weight as usize),
            Source::Fallback => {
                let at = usize::from(matches!(weight, Weight::SemiBold | Weight::Bold));
                if self.fallback[at].is_none() {
                    self.fallback[at] = Face::new(FALLBACK[at].0, FALLBACK[at].1).ok();
                }
                self.fallback[at].as_mut()
            }
        }
    }
}

/// Line ends and tabs become spaces; what has no ink and no width is dropped, because it has no glyph either.
fn printable(letter: char) -> Option<char> {
    match letter {
        '\t' | '\n' | '\r' | '\u{2028}' | '\u{2029}' => Some(' '),
        // Soft hyphen, zero width and direction marks, byte order mark, variation selectors.
        '\u{ad}'
        | '\u{200b}'..='\u{200f}'
        | '\u{202a}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}'
        | '\u{feff}'
        | '\u{fe00}'..='\u{fe0f}' => None,
        _ if letter.is_control() => None,
        _ => Some(letter),
    }
}

impl Face {
    fn new(name: &'static str, bytes: &'static [u8]) -> Result<Self, PrintError> {
        let font = Font::new(bytes.into(), 0).ok_or(PrintError::Font(name))?;
        let shaper = rustybuzz::Face::from_slice(bytes, 0).ok_or(PrintError::Font(name))?;
        Ok(Self { font, shaper, plans: Vec::new() })
    }

    /// Shapes one piece; gives the buffer back for the next one.
    fn run(&mut self, text: String, mut buffer: UnicodeBuffer) -> (Run, UnicodeBuffer) {
        buffer.guess_segment_properties();
        // Every script of both fonts runs left to right. Figures alone have no script of their own.
        buffer.set_direction(Direction::LeftToRight);
        if buffer.script() == script::UNKNOWN {
            buffer.set_script(script::LATIN);
        }
        let plan = plan(&mut self.plans, &self.shaper, buffer.script());
        let shaped = rustybuzz::shape_with_plan(&self.shaper, &self.plans[plan].1, buffer);
        let em = self.font.units_per_em();
        let infos = shaped.glyph_infos();
        let mut glyphs = Vec::with_capacity(infos.len());
        let mut width = 0.0;
        for (at, (info, position)) in infos.iter().zip(shaped.glyph_positions()).enumerate() {
            let begin = info.cluster as usize;
            let end = infos[at..].iter().map(|later| later.cluster as usize).find(|&later| later > begin);
            let advance = position.x_advance as f32 / em;
            width += advance;
            glyphs.push(KrillaGlyph::new(
                GlyphId::new(info.glyph_id),
                advance,
                position.x_offset as f32 / em,
                position.y_offset as f32 / em,
                position.y_advance as f32 / em,
                begin..end.unwrap_or(text.len()),
                None,
            ));
        }
        let run = Run { font: self.font.clone(), text, glyphs, width };
        (run, shaped.clear())
    }
}

fn plan(plans: &mut Vec<(Script, ShapePlan)>, shaper: &rustybuzz::Face<'static>, script: Script) -> usize {
    if let Some(at) = plans.iter().position(|(known, _)| *known == script) {
        return at;
    }
    plans.push((script, ShapePlan::new(shaper, Direction::LeftToRight, Some(script), None, &[])));
    plans.len() - 1
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shape(text: &str) -> Rc<Shaped> {
        Letters::new().unwrap().shape(Weight::SemiBold, text)
    }

    #[test]
    fn figures_are_tabular_so_dates_stand_in_line() {
        for figure in "0123456789".chars() {
            let width = shape(&figure.to_string()).width;
            assert!((width - 0.6).abs() < 1e-5, "{figure} is {width} em wide");
        }
    }

    #[test]
    fn the_width_is_the_sum_of_the_advances() {
        let shaped = shape("first, Ōkāreka 14 Ж Ω");
        let sum: f32 = shaped.runs.iter().flat_map(|run| &run.glyphs).map(|glyph| glyph.x_advance).sum();
        assert!((shaped.width - sum).abs() < 1e-4 && sum > 5.0, "{sum}");
        assert!(shaped.missing.is_empty());
    }

    #[test]
    fn a_letter_the_main_font_lacks_comes_from_the_fallback() {
        let shaped = shape("Aḥmad");
        let texts: Vec<&str> = shaped.runs.iter().map(|run| run.text.as_str()).collect();
        assert_eq!(texts, ["A", "ḥ", "mad"]);
        assert!(shaped.missing.is_empty());
    }

    #[test]
    fn a_macron_typed_apart_is_joined_to_its_letter() {
        let shaped = shape("Mo\u{304}rere");
        assert_eq!(shaped.runs.len(), 1);
        assert_eq!(shaped.runs[0].text, "Mōrere");
    }

    #[test]
    fn a_character_no_font_has_becomes_a_question_mark_and_is_named_once() {
        let shaped = shape("蜂 B14 蜂🐝");
        assert_eq!(shaped.missing, ['蜂', '🐝']);
        assert_eq!(shaped.runs[0].text, "? B14 ??");
    }

    #[test]
    fn what_has_no_ink_is_dropped() {
        assert_eq!(shape("a\u{200b}b\u{feff}\tc\u{7}").runs[0].text, "ab c");
        assert!(shape("").runs.is_empty());
    }

    #[test]
    fn every_glyph_is_a_real_one_and_covers_its_letters() {
        for text in ["office first fjord", "Tāmaki Ōtāhuhu", "Μέλισσα", "Бджола ґанок", "ḍḥṭ", "½ ≤ → ✓ × –"]
        {
            let shaped = shape(text);
            assert!(shaped.missing.is_empty(), "{text}: {:?}", shaped.missing);
            for run in &shaped.runs {
                let covered: usize = run.glyphs.iter().map(|glyph| glyph.text_range.len()).sum();
                assert_eq!(covered, run.text.len(), "{text}");
                assert!(run.glyphs.iter().all(|glyph| glyph.glyph_id.to_u32() != 0), "{text}");
            }
        }
    }
}
