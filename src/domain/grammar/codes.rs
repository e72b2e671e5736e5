//! What a field of codes says, and how it is read.

use crate::domain::grammar::reader::read_codes;
use crate::domain::visit::{Method, Visit};

/// What one field of codes says.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Codes {
    /// What was seen and done. What was given and the swapped lid are named below; they need the register to be told.
    pub visit: Visit,
    /// What was given.
    pub gives: Option<Gives>,
    /// Another day than that of the evening.
    pub day: Option<DayCode>,
    /// The hive with which lids were swapped, as it was typed.
    pub swap_with: Option<String>,
    /// Free words.
    pub words: String,
    /// A command among the rows instead of codes.
    pub command: Option<RowCommand>,
    /// Disease was coded without its name: the screen asks which; in a file it stands for not named.
    pub asks_disease: bool,
}

impl Codes {
    /// Nothing was typed.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// What was given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gives {
    /// How.
    pub method: Method,
    /// For a virgin: the day she emerged.
    pub emerged: Option<DayCode>,
    /// For cells: how many.
    pub cells: u8,
}

/// A day of the month (1 to 31), and the month (1 to 12) where it was typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DayCode {
    /// The day of the month.
    pub day: u32,
    /// The month.
    pub month: Option<u32>,
}

/// A command among the rows of an evening.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RowCommand {
    /// `.14`: jump to the row of that hive.
    Jump(String),
    /// `=`: as the row above.
    SameAsAbove,
    /// `*eq`: these codes in every blank row, after asking.
    FillBlank(String),
}

/// Why codes could not be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{what}. {remedy}")]
pub struct CodeError {
    /// The byte of the text at which the trouble begins.
    pub at: usize,
    /// What is wrong, without a full stop.
    pub what: String,
    /// What to do, without a full stop.
    pub remedy: String,
}

impl CodeError {
    /// An error at that byte.
    pub fn new(at: usize, what: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { at, what: what.into(), remedy: remedy.into() }
    }
}

/// A jump typed behind other codes: what stands before it, and the hive. `c3 .14`: `c3`, `14`. Nothing in words, and where
/// the jump stands alone.
pub fn trailing_jump(text: &str) -> Option<(&str, &str)> {
    let codes = text.find(['\'', '’', '‘']).map_or(text, |words| text.split_at(words).0);
    let (kept, hive) = text.split_at(codes.find('.')?);
    let (kept, hive) = (kept.trim(), hive.trim_start_matches('.').trim());
    let alone = kept.is_empty() || hive.is_empty() || kept.starts_with(['=', '*']);
    (!alone).then_some((kept, hive))
}

/// Reads a field of codes. Upper and lower case are the same; an empty field says nothing.
///
/// # Errors
/// If a letter is no code, a number is out of its range, or two codes exclude each other.
pub fn parse(text: &str) -> Result<Codes, CodeError> {
    let lead = text.len() - text.trim_start().len();
    let trimmed = text.trim();
    let command = |command| Ok(Codes { command: Some(command), ..Codes::default() });
    if let Some(hive) = trimmed.strip_prefix('.') {
        return match hive.trim() {
            "" => Err(CodeError::new(lead, ". needs a hive", "Type .14 to jump to hive 14")),
            hive => command(RowCommand::Jump(hive.to_owned())),
        };
    }
    if let Some(rest) = trimmed.strip_prefix('=') {
        return match rest {
            "" => command(RowCommand::SameAsAbove),
            _ => Err(CodeError::new(lead + 1, "= stands alone in its row", "Clear what follows it")),
        };
    }
    if let Some(rest) = trimmed.strip_prefix('*') {
        let inner = read_codes(rest).map_err(|error| CodeError { at: lead + 1 + error.at, ..error })?;
        return match rest.trim() {
            "" => Err(CodeError::new(lead, "* needs codes", "Type *eq to fill the blank rows with eq")),
            _ if inner.day.is_some() || inner.swap_with.is_some() => {
                Err(CodeError::new(lead + 1, "A day or a swapped lid belongs to one row", "Type it in its own row"))
            }
            rest => command(RowCommand::FillBlank(rest.to_owned())),
        };
    }
    read_codes(text)
}

#[cfg(test)]
mod tests {
    use super::{DayCode, Gives, RowCommand, parse, trailing_jump};
    use crate::domain::visit::{Coverage, Disease, InCage, Method, Unopened};

    #[test]
    fn codes_are_read_in_any_order_with_or_without_spaces() {
        for text in ["eq", "qe", "e q", " E,Q "] {
            let codes = parse(text).expect(text);
            assert!(codes.visit.seen.eggs && codes.visit.seen.her, "{text}");
        }
        let both = parse("c3 /c").expect("codes");
        assert_eq!((both.visit.seen.closed_cells, both.visit.did.cells_cut), (Some(3), true));
        assert_eq!(parse("/cc3"), Ok(both));
        let long = parse("e t3 +q/q 'quiet, on 6 frames").expect("codes");
        assert_eq!(long.visit.temper, Some(3));
        assert_eq!(long.gives.map(|gives| gives.method), Some(Method::Caged));
        assert_eq!(long.words, "quiet, on 6 frames");
    }

    #[test]
    fn a_jump_behind_codes_is_told_from_words() {
        assert_eq!(trailing_jump("c3 .br07"), Some(("c3", "br07")));
        assert_eq!(trailing_jump("eq.14"), Some(("eq", "14")));
        assert_eq!(trailing_jump("eq .14 's"), Some(("eq", "14 's")), "no hive is called that");
        for none in ["eq", ".14", " .14", "eq 'see p. 4", "eq .", "*eq .4", "= .4", ""] {
            assert_eq!(trailing_jump(none), None, "{none}");
        }
    }

    #[test]
    fn every_code_of_the_grammar_is_told_apart() {
        let seen = |text: &str| parse(text).expect(text).visit.seen;
        assert!(seen("l").larvae && seen("b").capped && seen("u").another && seen("o").opened_cell);
        assert!(seen("n").nothing && seen("d").drone_layer && seen("w").laying_workers);
        assert!(seen("s").swarmed && seen("z").dead);
        assert_eq!((seen("k").cage, seen("m").cage), (Some(InCage::Alive), Some(InCage::Dead)));
        assert_eq!((seen("c").closed_cells, seen("y3").begun_cells, seen("c0").closed_cells), (Some(1), Some(3), None));
        assert_eq!(seen("x1").disease, Some(Disease::AmericanFoulbrood));
        assert_eq!(seen("x4").disease, Some(Disease::Other));
        assert_eq!(parse("p").expect("p").visit.coverage, Coverage::Part);
        assert_eq!(parse("-t").expect("-t").visit.coverage, Coverage::Unopened(Unopened::Time));
        let did = |text: &str| parse(text).expect(text).visit.did;
        assert!(did("/q").dequeened && did("/k").cage_off && did("?q").queen_not_found && did("+s").cells_left);
        assert!(did("+f").test_frame.is_some_and(|frame| !frame.marked));
        assert!(did("+d").marked.is_some());
        let virgin = Gives { method: Method::Virgin, emerged: Some(DayCode { day: 12, month: None }), cells: 1 };
        assert_eq!(parse("+v12").expect("+v12").gives, Some(virgin));
        assert_eq!(parse("@23").expect("@23").day, Some(DayCode { day: 23, month: None }));
        assert_eq!(parse("e ~15").expect("~15").swap_with, Some("15".to_owned()));
        assert_eq!(parse(".14").expect(".14").command, Some(RowCommand::Jump("14".to_owned())));
        assert_eq!(parse("=").expect("=").command, Some(RowCommand::SameAsAbove));
        assert_eq!(parse("*eq").expect("*eq").command, Some(RowCommand::FillBlank("eq".to_owned())));
    }

    #[test]
    fn disease_without_a_name_asks() {
        let codes = parse("x").expect("x");
        assert!(codes.asks_disease);
        assert_eq!(codes.visit.seen.disease, Some(Disease::NotNamed));
        assert!(!parse("x2").expect("x2").asks_disease);
    }

    #[test]
    fn codes_that_exclude_each_other_are_refused_where_the_second_stands() {
        for (text, at) in [
            ("ne", 1),
            ("e n", 2),
            ("km", 1),
            ("-r e", 3),
            ("e-r", 1),
            ("-r +q", 3),
            ("p -t", 2),
            ("/q ?q", 3),
            ("/c +s", 3),
            ("+q +c", 3),
            ("c2 c3", 3),
            ("z +q", 2),
            ("e=", 1),
        ] {
            assert_eq!(parse(text).expect_err(text).at, at, "{text}");
        }
    }

    #[test]
    fn letters_that_are_no_code_are_refused_with_a_remedy() {
        for text in
            ["g", "t", "t5", "3", "+", "+g", "/", "/z", "?", "@", "@32", "~", ".", "*", "x9", "c100", "+c0", "-"]
        {
            let error = parse(text).expect_err(text);
            assert!(!error.what.is_empty() && !error.remedy.is_empty(), "{text}");
        }
    }
}
