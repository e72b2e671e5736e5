//! Setting text in a given width: fit, cut, wrap. Remembers what could not be printed, and where.

use std::collections::BTreeSet;
use std::rc::Rc;

use crate::print::job::{PrintError, Trouble, Warning};
use crate::print::letters::{Letters, Shaped, Weight};
use crate::print::sheet::POINTS_PER_MM;

/// Letters of one weight and size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Style {
    pub(crate) weight: Weight,
    /// In points.
    pub(crate) size: f32,
}

impl Style {
    pub(crate) const fn new(weight: Weight, size: f32) -> Self {
        Self { weight, size }
    }

    /// Size in mm.
    pub(crate) fn mm(self) -> f32 {
        self.size / POINTS_PER_MM
    }
}

/// A text with the style it fits in.
pub(crate) struct Fitted {
    pub(crate) shaped: Rc<Shaped>,
    pub(crate) style: Style,
}

/// A line of words, some of them in another weight.
pub(crate) type Line = Vec<(Weight, String)>;

/// Sets text and collects warnings for the place being set.
pub(crate) struct Setter {
    letters: Letters,
    place: String,
    number: usize,
    warnings: Vec<Warning>,
    known: BTreeSet<Warning>,
}

impl Setter {
    pub(crate) fn new() -> Result<Self, PrintError> {
        Ok(Self {
            letters: Letters::new()?,
            place: String::new(),
            number: 0,
            warnings: Vec::new(),
            known: BTreeSet::new(),
        })
    }

    /// Warnings from now on belong to this place.
    pub(crate) fn at(&mut self, number: usize, place: String) {
        self.number = number;
        self.place = place;
    }

    pub(crate) fn into_warnings(self) -> Vec<Warning> {
        self.warnings
    }

    /// Notes what was done to a text, once for each place.
    pub(crate) fn warn(&mut self, what: Trouble) {
        let warning = Warning { place: self.place.clone(), number: self.number, what };
        if self.known.insert(warning.clone()) {
            self.warnings.push(warning);
        }
    }

    /// The text as it will be drawn; characters that no font has are reported.
    pub(crate) fn shape(&mut self, weight: Weight, text: &str) -> Rc<Shaped> {
        let shaped = self.letters.shape(weight, text);
        for &letter in &shaped.missing {
            self.warn(Trouble::NoCharacter(letter));
        }
        shaped
    }

    /// Width in mm.
    pub(crate) fn width(&mut self, style: Style, text: &str) -> f32 {
        self.letters.width(style.weight, text) * style.mm()
    }

    /// Fits a text in a width (mm): as it is, else smaller down to `least` points, else cut with `…` and reported.
    pub(crate) fn fit(&mut self, style: Style, least: f32, text: &str, width: f32) -> Fitted {
        let shaped = self.shape(style.weight, text);
        let least = least.min(style.size);
        if shaped.width * style.mm() <= width {
            return Fitted { shaped, style };
        }
        // A hair smaller than exact, so that rounding cannot push the last letter over the edge.
        let exact = width / shaped.width * POINTS_PER_MM * 0.9999;
        if exact >= least {
            return Fitted { shaped, style: Style { size: exact, ..style } };
        }
        let style = Style { size: least, ..style };
        self.warn(Trouble::Cut(text.to_owned()));
        let shorter = self.cut(style, text, width);
        Fitted { shaped: self.letters.shape(style.weight, &shorter), style }
    }

    /// The longest beginning of the text that fits with `…` behind it.
    fn cut(&mut self, style: Style, text: &str, width: f32) -> String {
        let ends: Vec<usize> = text.char_indices().map(|(at, _)| at).collect();
        let candidate = |end: usize| format!("{}…", text[..end].trim_end());
        // Widths grow with the text, so the last end that fits is found by halving.
        let (mut low, mut high) = (0, ends.len());
        while low + 1 < high {
            let middle = usize::midpoint(low, high);
            if self.width(style, &candidate(ends[middle])) <= width {
                low = middle;
            } else {
                high = middle;
            }
        }
        candidate(ends.get(low).copied().unwrap_or(0))
    }

    /// Breaks a text into lines of a width (mm).
    pub(crate) fn wrap(&mut self, style: Style, text: &str, width: f32) -> Vec<String> {
        let lines = self.wrap_pieces(style.size, &[(style.weight, text)], width);
        lines.into_iter().map(|line| line.into_iter().map(|(_, text)| text).collect()).collect()
    }

    /// Breaks pieces of several weights into lines; pieces that touch without a space stay together.
    pub(crate) fn wrap_pieces(&mut self, size: f32, pieces: &[(Weight, &str)], width: f32) -> Vec<Line> {
        hard_lines(pieces)
            .into_iter()
            .flat_map(|words| {
                let words = self.break_words(size, words, width);
                self.fill(size, words, width)
            })
            .collect()
    }

    /// Like [`Setter::wrap_pieces`], but breaks behind a comma or semicolon where that costs no line: `acceptance
    /// look,` and `to 27 Nov`, not `to 27` and `Nov`.
    pub(crate) fn wrap_clauses(&mut self, size: f32, pieces: &[(Weight, &str)], width: f32) -> Vec<Line> {
        hard_lines(pieces)
            .into_iter()
            .flat_map(|words| {
                let words = self.break_words(size, words, width);
                let clauses = clauses(&words);
                let by_word = self.fill(size, words, width);
                let by_clause = self.fill(size, clauses, width);
                let fits = by_clause.iter().all(|line| self.line_width(size, line) <= width);
                if fits && by_clause.len() <= by_word.len() { by_clause } else { by_word }
            })
            .collect()
    }

    /// Puts as many words on each line as fit.
    fn fill(&mut self, size: f32, words: Vec<Line>, width: f32) -> Vec<Line> {
        let space = self.width(Style::new(Weight::Regular, size), " ");
        let mut lines: Vec<Line> = Vec::new();
        let mut line: Line = Vec::new();
        let mut used = 0.0;
        for word in words {
            let wide = self.line_width(size, &word);
            if line.is_empty() {
                used = wide;
            } else if used + space + wide <= width {
                used += space + wide;
                append(&mut line, Weight::Regular, " ");
            } else {
                lines.push(std::mem::take(&mut line));
                used = wide;
            }
            for (weight, text) in word {
                append(&mut line, weight, &text);
            }
        }
        lines.push(line);
        lines
    }

    /// Width of a line in mm.
    pub(crate) fn line_width(&mut self, size: f32, line: &Line) -> f32 {
        line.iter().map(|(weight, text)| self.letters.shape(*weight, text).width * Style::new(*weight, size).mm()).sum()
    }

    fn break_words(&mut self, size: f32, words: Vec<Line>, width: f32) -> Vec<Line> {
        words.into_iter().flat_map(|word| self.break_word(size, word, width)).collect()
    }

    /// A word wider than the column is broken between letters.
    fn break_word(&mut self, size: f32, word: Line, width: f32) -> Vec<Line> {
        if self.line_width(size, &word) <= width {
            return vec![word];
        }
        let mut parts: Vec<Line> = vec![Line::new()];
        for (weight, text) in word {
            for letter in text.chars() {
                let mut longer = parts.last().cloned().unwrap_or_default();
                append(&mut longer, weight, letter.encode_utf8(&mut [0; 4]));
                if parts.last().is_some_and(|part| !part.is_empty()) && self.line_width(size, &longer) > width {
                    parts.push(vec![(weight, letter.to_string())]);
                } else if let Some(last) = parts.last_mut() {
                    *last = longer;
                }
            }
        }
        parts
    }
}

/// The words of each line that ends where the text says so.
fn hard_lines(pieces: &[(Weight, &str)]) -> Vec<Vec<Line>> {
    let mut lines: Vec<Vec<Line>> = vec![Vec::new()];
    let mut open = false;
    for &(weight, text) in pieces {
        for letter in text.chars() {
            if letter == '\n' {
                lines.push(Vec::new());
                open = false;
            } else if letter == ' ' || letter == '\t' {
                open = false;
            } else if let Some(words) = lines.last_mut() {
                if !open {
                    words.push(Line::new());
                    open = true;
                }
                if let Some(word) = words.last_mut() {
                    append(word, weight, letter.encode_utf8(&mut [0; 4]));
                }
            }
        }
    }
    lines
}

/// Words joined up to each comma and semicolon.
fn clauses(words: &[Line]) -> Vec<Line> {
    let mut clauses: Vec<Line> = Vec::new();
    let mut open = false;
    for word in words {
        if !open {
            clauses.push(Line::new());
        }
        let Some(clause) = clauses.last_mut() else { continue };
        if open {
            append(clause, Weight::Regular, " ");
        }
        for (weight, text) in word {
            append(clause, *weight, text);
        }
        open = !word.last().is_some_and(|(_, text)| text.ends_with([',', ';']));
    }
    clauses
}

fn append(line: &mut Line, weight: Weight, text: &str) {
    match line.last_mut() {
        Some((last, so_far)) if *last == weight => so_far.push_str(text),
        _ => line.push((weight, text.to_owned())),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{ProptestConfig, prop_assert, prop_assert_eq, proptest};

    use super::*;

    const BODY: Style = Style::new(Weight::Regular, 9.0);

    #[test]
    fn a_text_that_fits_keeps_its_size_and_a_wider_one_shrinks_alone() {
        let mut setter = Setter::new().unwrap();
        let bold = Style::new(Weight::Bold, 14.0);
        assert_eq!(setter.fit(bold, 12.0, "B14 CAGE IN 14 NOV", 58.5).style.size, 14.0);
        let wide = setter.fit(bold, 12.0, "MWB-14 CAGE IN 14 NOV M", 58.5);
        assert!(wide.style.size > 12.0 && wide.style.size < 14.0, "{}", wide.style.size);
        assert!(wide.shaped.width * wide.style.mm() <= 58.5);
        assert!(setter.into_warnings().is_empty());
    }

    #[test]
    fn a_text_too_wide_at_the_least_size_is_cut_and_reported() {
        let mut setter = Setter::new().unwrap();
        setter.at(4, "label 4".to_owned());
        let text = "WINDBREAK-NORTH-17 CAGE IN 14 NOV";
        let fitted = setter.fit(Style::new(Weight::Bold, 14.0), 12.0, text, 58.5);
        assert_eq!(fitted.style.size, 12.0);
        assert!(fitted.shaped.width * fitted.style.mm() <= 58.5);
        assert!(fitted.shaped.runs[0].text.ends_with('…'));
        let expected = Warning { place: "label 4".to_owned(), number: 4, what: Trouble::Cut(text.to_owned()) };
        assert_eq!(setter.into_warnings(), [expected]);
    }

    #[test]
    fn bold_words_stay_together_with_the_comma_behind_them() {
        let mut setter = Setter::new().unwrap();
        let pieces = [(Weight::Bold, "take cage off"), (Weight::Regular, ",\nto 25 Nov")];
        let lines = setter.wrap_pieces(9.0, &pieces, 25.0);
        let texts: Vec<String> =
            lines.iter().map(|line| line.iter().map(|(_, text)| text.as_str()).collect()).collect();
        assert_eq!(texts, ["take cage off,", "to 25 Nov"]);
        assert_eq!(lines[0].last(), Some(&(Weight::Regular, ",".to_owned())));
    }

    #[test]
    fn a_cell_breaks_behind_its_comma_where_that_costs_no_line() {
        let mut setter = Setter::new().unwrap();
        let mut wrap = |text: &str, width: f32| -> Vec<String> {
            let lines = setter.wrap_clauses(9.0, &[(Weight::Regular, text)], width);
            lines.into_iter().map(|line| line.into_iter().map(|(_, text)| text).collect()).collect()
        };
        assert_eq!(wrap("acceptance look, to 27 Nov", 30.0), ["acceptance look,", "to 27 Nov"]);
        assert_eq!(wrap("white, Thrift, caged 13 Nov", 25.0), ["white, Thrift,", "caged 13 Nov"]);
        // A clause wider than the column is broken between words.
        assert_eq!(wrap("eggs; capped brood alone is no proof", 32.6), ["eggs; capped brood", "alone is no proof"]);
        assert_eq!(wrap("", 30.0), [""]);
    }

    #[test]
    fn a_word_wider_than_the_column_is_broken_not_lost() {
        let mut setter = Setter::new().unwrap();
        let lines = setter.wrap(BODY, "Taumatawhakatangihangakoauauotamatea yard", 20.0);
        assert!(lines.len() >= 3, "{lines:?}");
        assert_eq!(lines.concat().replace(' ', ""), "Taumatawhakatangihangakoauauotamateayard");
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(40))]

        #[test]
        fn wrapping_loses_no_letter_and_keeps_the_width(text in "[a-zA-Zāōž ]{0,60}", width in 12.0_f32..60.0) {
            let mut setter = Setter::new().unwrap();
            let lines = setter.wrap(BODY, &text, width);
            prop_assert_eq!(lines.concat().replace(' ', ""), text.replace(' ', ""));
            for line in &lines {
                prop_assert!(setter.width(BODY, line) <= width + 0.3, "{:?}", line);
            }
        }

        #[test]
        fn a_cut_text_fits(text in "[A-Z0-9 ]{20,60}", width in 20.0_f32..60.0) {
            let mut setter = Setter::new().unwrap();
            let fitted = setter.fit(Style::new(Weight::Bold, 14.0), 12.0, &text, width);
            prop_assert!(fitted.shaped.width * fitted.style.mm() <= width);
        }
    }
}
