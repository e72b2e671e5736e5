//! What the cell `found` says, in plain words or in the codes of evening entry.

use crate::domain::grammar::codes::{Gives, parse};
use crate::domain::grammar::plain_words::read_found;
use crate::domain::visit::Visit;

/// A find as a cell tells it.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Found {
    pub visit: Visit,
    /// The hive with which lids were swapped, as it was typed.
    pub swap: Option<String>,
    /// Words behind an apostrophe.
    pub words: String,
    /// A queen that was given on the same visit.
    pub gives: Option<Gives>,
}

/// Reads a find; else the fact and the remedy. In a row that says itself what it is (`exact`), codes come first: an
/// export writes nothing else.
pub(super) fn found(text: &str, exact: bool) -> Result<Found, (String, String)> {
    let codes = if exact { parse(text).or_else(|_| read_found(text)) } else { read_found(text) };
    let codes = codes.map_err(|error| (error.what, error.remedy))?;
    if codes.command.is_some() {
        return Err(("A command is no find".to_owned(), "Write what was seen at this hive".to_owned()));
    }
    if codes.day.is_some() {
        return Err(("The day stands under last look, not among the codes".to_owned(), "Leave out @".to_owned()));
    }
    if codes.gives.is_some_and(|gives| gives.emerged.is_some()) {
        let remedy = "Write +v here and the day under emerged".to_owned();
        return Err(("The day she emerged has a column of its own".to_owned(), remedy));
    }
    Ok(Found { visit: codes.visit, swap: codes.swap_with, words: codes.words, gives: codes.gives })
}
