//! Finds in plain words, as other people's tables have them: `eggs, queen seen`, `3 closed cells`, `not opened, rain`.

use crate::domain::fold_text::fold;
use crate::domain::grammar::codes::{CodeError, Codes, parse};

/// Phrases and the codes they stand for, folded. Longer ones are tried first.
const PHRASES: &[(&str, &str)] = &[
    ("brood in all stages", "elb"),
    ("all stages of brood", "elb"),
    ("all stages", "elb"),
    ("eggs", "e"),
    ("egg", "e"),
    ("laying", "e"),
    ("queenright", "e"),
    ("open larvae", "l"),
    ("open brood", "l"),
    ("larvae", "l"),
    ("larva", "l"),
    ("capped worker brood", "b"),
    ("sealed worker brood", "b"),
    ("capped brood", "b"),
    ("sealed brood", "b"),
    ("queen seen", "q"),
    ("saw queen", "q"),
    ("saw the queen", "q"),
    ("saw her", "q"),
    ("her seen", "q"),
    ("recorded queen", "q"),
    ("queen", "q"),
    ("another queen seen", "u"),
    ("another queen", "u"),
    ("other queen", "u"),
    ("different queen", "u"),
    ("wrong queen", "u"),
    ("an opened cell", "o"),
    ("opened cell", "o"),
    ("opened cells", "o"),
    ("open cell", "o"),
    ("emerged cell", "o"),
    ("hatched cell", "o"),
    ("nothing in the whole nest", "n"),
    ("nothing seen", "n"),
    ("nothing", "n"),
    ("no brood", "n"),
    ("no eggs no queen", "n"),
    ("queen alive in the cage", "k"),
    ("queen alive in cage", "k"),
    ("alive in the cage", "k"),
    ("alive in cage", "k"),
    ("still in the cage", "k"),
    ("still in cage", "k"),
    ("queen dead in the cage", "m"),
    ("queen dead in cage", "m"),
    ("dead in the cage", "m"),
    ("dead in cage", "m"),
    ("drone brood in worker cells", "d"),
    ("drone layer", "d"),
    ("drone laying queen", "d"),
    ("laying workers", "w"),
    ("several eggs a cell", "w"),
    ("brood disease suspected", "x"),
    ("disease suspected", "x"),
    ("disease", "x"),
    ("foulbrood", "x"),
    ("american foulbrood suspected", "x1"),
    ("american foulbrood", "x1"),
    ("afb", "x1"),
    ("european foulbrood suspected", "x2"),
    ("european foulbrood", "x2"),
    ("efb", "x2"),
    ("chalkbrood suspected", "x3"),
    ("chalkbrood", "x3"),
    ("chalk brood", "x3"),
    ("another brood disease suspected", "x4"),
    ("swarmed", "s"),
    ("colony dead", "z"),
    ("dead colony", "z"),
    ("died", "z"),
    ("part of the nest only", "p"),
    ("part of the nest", "p"),
    ("part only", "p"),
    ("in part", "p"),
    ("not opened because of rain", "-r"),
    ("not opened no time", "-t"),
    ("not opened time", "-t"),
    ("not opened rain", "-r"),
    ("not opened wind", "-r"),
    ("not opened cold", "-r"),
    ("not opened weather", "-r"),
    ("not opened hive not found", "-f"),
    ("not opened not found", "-f"),
    ("unopened rain", "-r"),
    ("unopened time", "-t"),
    ("unopened weather", "-r"),
    ("unopened not found", "-f"),
    ("hive not found", "-f"),
    ("old queen removed", "/q"),
    ("queen removed", "/q"),
    ("dequeened", "/q"),
    ("old queen not found", "?q"),
    ("queen not found", "?q"),
    ("cells cut", "/c"),
    ("all cells cut", "/c"),
    ("cage taken off", "/k"),
    ("cage off", "/k"),
    ("a cell left standing", "+s"),
    ("cell left standing", "+s"),
    ("cell left", "+s"),
    ("marked test frame given", "+f1"),
    ("test frame given", "+f"),
    ("test frame", "+f"),
    ("caged queen given", "+q"),
    ("queen given under a push in cage", "+p"),
    ("push in cage given", "+p"),
    ("queen given", "+q"),
    ("queen introduced", "+q"),
    ("cell given", "+c"),
    ("virgin given", "+v"),
    ("nuc united", "+n"),
    ("nuc given", "+n"),
    ("marked", "+d"),
];

/// Phrases that follow a number, and the code the number goes behind.
const COUNTED: &[(&str, &str)] = &[
    ("closed queen cells", "c"),
    ("closed queen cell", "c"),
    ("closed cells", "c"),
    ("closed cell", "c"),
    ("capped cells", "c"),
    ("capped cell", "c"),
    ("capped queen cells", "c"),
    ("sealed cells", "c"),
    ("sealed queen cells", "c"),
    ("queen cells begun", "y"),
    ("cells begun", "y"),
    ("cell begun", "y"),
    ("cells started", "y"),
    ("cells given", "+c"),
    ("queen cells", "c"),
    ("queen cell", "c"),
    ("cells", "c"),
];

/// Numbers written as words.
const NUMBERS: [&str; 12] =
    ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

/// Words between phrases that say nothing.
const JOINS: [&str; 8] = ["and", "with", "also", "but", "a", "the", "there", "were"];

/// Reads a find written in plain words, or in codes. An empty text says nothing.
///
/// # Errors
/// If a word is no known phrase and the text is no codes either, or what it says cannot be at once.
pub fn read_found(text: &str) -> Result<Codes, CodeError> {
    match in_codes(text) {
        Ok(codes) => parse(&codes).map_err(|error| CodeError { at: 0, ..error }),
        Err(unknown) => parse(text).map_err(|error| {
            // A text that begins with words is answered as words: its letters are no codes that were meant.
            let words = text.split_whitespace().any(|word| word.chars().filter(|it| it.is_alphabetic()).count() > 4);
            if words && !text.contains(['\'', '’']) {
                let remedy = "Say it as: eggs, larvae, capped brood, queen seen, 3 closed cells, nothing, or in codes";
                CodeError::new(0, format!("{unknown} is not understood as a find"), remedy)
            } else {
                error
            }
        }),
    }
}

/// The codes of a text in which every word belongs to a known phrase; else the first word that does not.
fn in_codes(text: &str) -> Result<String, String> {
    let folded: String = fold(text).chars().map(|it| if it.is_alphanumeric() { it } else { ' ' }).collect();
    let words: Vec<&str> = folded.split_whitespace().collect();
    let mut codes: Vec<String> = Vec::new();
    let mut at = 0;
    while let Some(rest) = words.get(at..).filter(|rest| !rest.is_empty()) {
        let (code, used) = read_phrase(rest).ok_or_else(|| rest.first().map_or(String::new(), ToString::to_string))?;
        codes.extend(code);
        at += used;
    }
    Ok(codes.join(" "))
}

/// The code of the longest phrase the words begin with, and how many words it takes.
fn read_phrase(words: &[&str]) -> Option<(Option<String>, usize)> {
    let first = words.first()?;
    if *first == "temper"
        && let Some(scale) = words.get(1).filter(|scale| matches!(**scale, "1" | "2" | "3" | "4"))
    {
        return Some((Some(format!("t{scale}")), 2));
    }
    if let Some(count) = number(first) {
        return longest(COUNTED, words.get(1..)?).map(|(code, used)| (Some(format!("{code}{count}")), used + 1));
    }
    if let Some((code, used)) = longest(PHRASES, words) {
        return Some((Some(code.to_owned()), used));
    }
    if let Some((code, used)) = longest(COUNTED, words) {
        return Some((Some(code.to_owned()), used));
    }
    if *first == "no" {
        // `no eggs, queen seen`: what was not seen needs no code beside what was.
        let denied = words.get(1..)?;
        let (code, used) = longest(PHRASES, denied).or_else(|| longest(COUNTED, denied))?;
        let no_brood_at_all = denied.len() == used && matches!(code, "e" | "l" | "b" | "elb");
        return Some((no_brood_at_all.then(|| "n".to_owned()), used + 1));
    }
    JOINS.contains(first).then_some((None, 1))
}

fn longest<'a>(phrases: &'a [(&str, &str)], words: &[&str]) -> Option<(&'a str, usize)> {
    let fitting = phrases.iter().filter_map(|(phrase, code)| {
        let mut used = 0;
        for (at, word) in phrase.split(' ').enumerate() {
            if words.get(at) != Some(&word) {
                return None;
            }
            used = at + 1;
        }
        Some((*code, used))
    });
    fitting.max_by_key(|(_, used)| *used)
}

fn number(word: &str) -> Option<usize> {
    word.parse().ok().or_else(|| NUMBERS.iter().position(|number| *number == word).map(|at| at + 1))
}

#[cfg(test)]
mod tests {
    use super::read_found;
    use crate::domain::grammar::codes::parse;

    #[test]
    fn plain_words_say_the_same_as_codes() {
        for (words, codes) in [
            ("eggs", "e"),
            ("Eggs, queen seen", "eq"),
            ("eggs and larvae", "el"),
            ("3 closed cells", "c3"),
            ("two closed cells, cells cut", "c2 /c"),
            ("closed cells", "c"),
            ("nothing", "n"),
            ("no eggs", "n"),
            ("no queen seen", ""),
            ("queenright, no cells", "e"),
            ("no eggs, queen seen", "q"),
            ("Not opened: rain", "-r"),
            ("not opened, rain", "-r"),
            ("hive not found", "-f"),
            ("queen not found", "?q"),
            ("AFB", "x1"),
            ("queen dead in cage", "m"),
            ("eggs, temper 3", "e t3"),
            ("eq", "eq"),
            ("c3 /c", "c3 /c"),
            ("", ""),
        ] {
            assert_eq!(read_found(words), parse(codes), "{words}");
        }
    }

    #[test]
    fn words_nobody_knows_are_named() {
        let error = read_found("eggs and purple balloons").expect_err("no find");
        assert!(error.what.starts_with("purple"), "{error}");
    }
}
