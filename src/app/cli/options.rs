//! The words and options of a command line, taken out one by one by those that know what they mean.

use std::ffi::OsString;
use std::str::FromStr;

use lexopt::Arg::{Long, Short, Value};

use crate::app::cli::command::COMMON;
use crate::app::cli::commands;
use crate::domain::day::Day;

/// What was given and not yet taken.
#[derive(Default)]
pub struct Options {
    words: Vec<String>,
    texts: Vec<(&'static str, String)>,
    flags: Vec<&'static str>,
    /// The names of all options with a value that were given, taken or not.
    given: Vec<&'static str>,
}

impl Options {
    /// Gathers every option that any command takes, before it is known which belong to the command.
    ///
    /// # Errors
    /// In words: an option that no command has, or one without its value.
    pub fn gather(args: impl IntoIterator<Item = OsString>) -> Result<Self, String> {
        let mut parser = lexopt::Parser::from_args(args);
        let mut options = Self::default();
        while let Some(arg) = parser.next().map_err(|error| error.to_string())? {
            match arg {
                Short('h') => options.flags.push("help"),
                Short('V') => options.flags.push("version"),
                Short('o') => options.texts.push(("output", value(&mut parser, "output")?)),
                Long(name) => {
                    if let Some(flag) = flag_called(name) {
                        options.flags.push(flag);
                        continue;
                    }
                    let Some(known) = value_called(name) else {
                        return Err(format!("No option is called --{name}. `lidnote help` lists them"));
                    };
                    options.texts.push((known, value(&mut parser, known)?));
                }
                Value(value) => options.words.push(plain(value)?),
                // A number below zero, as in `set utc_offset -300`.
                Short(digit) if digit.is_ascii_digit() => {
                    let rest = parser.optional_value().map(plain).transpose()?.unwrap_or_default();
                    options.words.push(format!("-{digit}{rest}"));
                }
                Short(letter) => return Err(format!("No option is called -{letter}. `lidnote help` lists them")),
            }
        }
        options.given = options.texts.iter().map(|(name, _)| *name).collect();
        Ok(options)
    }

    /// Nothing may be left once the command has taken what is its own.
    ///
    /// # Errors
    /// In words: what was given more than once, or belongs to another command.
    pub fn all_taken(&self) -> Result<(), String> {
        if let Some((name, _)) = self.texts.first() {
            let left = self.texts.iter().filter(|(known, _)| known == name).count();
            if self.given.iter().filter(|known| *known == name).count() > left {
                return Err(format!("--{name} is given more than once. Give it once"));
            }
            return Err(format!("--{name} does not belong to this command. `lidnote help` lists what does"));
        }
        if let Some(flag) = self.flags.first() {
            return Err(format!("--{flag} does not belong to this command. `lidnote help` lists what does"));
        }
        if let Some(word) = self.words.first() {
            return Err(format!("“{word}” is one word too many. `lidnote help` shows each command"));
        }
        Ok(())
    }

    /// Lets go of all that is left.
    pub fn forget(&mut self) {
        *self = Self::default();
    }

    /// The next word, if there is one.
    pub fn next_word(&mut self) -> Option<String> {
        if self.words.is_empty() { None } else { Some(self.words.remove(0)) }
    }

    /// The next word.
    ///
    /// # Errors
    /// `usage` if there is none.
    pub fn word(&mut self, usage: &str) -> Result<String, String> {
        self.next_word().ok_or_else(|| usage.to_owned())
    }

    /// An option's value; the last, where it is given more than once.
    pub fn text(&mut self, name: &str) -> Option<String> {
        let at = self.texts.iter().rposition(|(known, _)| *known == name)?;
        let (_, value) = self.texts.remove(at);
        Some(value)
    }

    /// All values of an option that may be given several times, in their order.
    pub fn texts(&mut self, name: &str) -> Vec<String> {
        self.texts.extract_if(.., |(known, _)| *known == name).map(|(_, value)| value).collect()
    }

    /// An option's value.
    ///
    /// # Errors
    /// `usage` if it is not given.
    pub fn needed(&mut self, name: &str, usage: &str) -> Result<String, String> {
        self.text(name).ok_or_else(|| usage.to_owned())
    }

    /// Whether an option without a value is given.
    pub fn flag(&mut self, name: &str) -> bool {
        let before = self.flags.len();
        self.flags.retain(|flag| *flag != name);
        self.flags.len() != before
    }

    /// One hive, as a word or as `--hive` with `--yard`.
    ///
    /// # Errors
    /// `usage` if there is none, or several.
    pub fn hive(&mut self, usage: &str) -> Result<String, String> {
        let hives = self.hives(usage)?;
        match hives.as_slice() {
            [hive] => Ok(hive.clone()),
            _ => Err(usage.to_owned()),
        }
    }

    /// Hives as words or as `--hive` with `--yard`.
    ///
    /// # Errors
    /// `usage` if there is none.
    pub fn hives(&mut self, usage: &str) -> Result<Vec<String>, String> {
        let mut hives = std::mem::take(&mut self.words);
        hives.extend(self.text("hive"));
        if hives.is_empty() {
            return Err(usage.to_owned());
        }
        Ok(match self.text("yard") {
            Some(yard) => hives.into_iter().map(|hive| format!("{yard}/{hive}")).collect(),
            None => hives,
        })
    }

    /// Whether a hive is named, so that [`Options::hives`] finds one.
    pub fn names_hives(&self) -> bool {
        !self.words.is_empty() || self.texts.iter().any(|(name, _)| *name == "hive")
    }

    /// An option that is a day.
    ///
    /// # Errors
    /// In words: how a day is written.
    pub fn day(&mut self, name: &str) -> Result<Option<Day>, String> {
        let Some(text) = self.text(name) else { return Ok(None) };
        let day = Day::from_iso(&text).ok_or_else(|| format!("--{name} takes a day as 2026-11-24, not {text}"))?;
        Ok(Some(day))
    }

    /// An option that is a number.
    ///
    /// # Errors
    /// In words: that it takes one.
    pub fn number<T: FromStr>(&mut self, name: &str) -> Result<Option<T>, String> {
        let Some(text) = self.text(name) else { return Ok(None) };
        let number = text.parse().map_err(|_| format!("--{name} takes a whole number, not {text}"))?;
        Ok(Some(number))
    }

    /// An option that is one of a few words, each with what it means.
    ///
    /// # Errors
    /// In words: which it takes.
    pub fn one_of<T: Copy>(&mut self, name: &str, words: &[(&str, T)]) -> Result<Option<T>, String> {
        let Some(text) = self.text(name) else { return Ok(None) };
        let found = words.iter().find(|(word, _)| text.eq_ignore_ascii_case(word));
        let all: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        found.map(|(_, value)| Some(*value)).ok_or_else(|| format!("--{name} takes {}, not {text}", one_among(&all)))
    }
}

/// The options that may be empty: words, and the reason, whose lack the register itself refuses.
const MAY_BE_EMPTY: [&str; 3] = ["by", "reason", "words"];

/// What stands behind an option.
fn value(parser: &mut lexopt::Parser, name: &str) -> Result<String, String> {
    let needs = || format!("--{name} takes a value behind it. `lidnote help` shows which");
    let value = parser.value().map_err(|_| needs()).and_then(plain)?;
    if value.is_empty() && !MAY_BE_EMPTY.contains(&name) { Err(needs()) } else { Ok(value) }
}

fn plain(text: OsString) -> Result<String, String> {
    text.into_string().map_err(|text| {
        let text = text.display();
        format!("{text} has signs that are not UTF-8. Give the file or the hive a name in plain letters")
    })
}

/// `a`, `a or b`, `a, b or c`.
fn one_among(words: &[&str]) -> String {
    match words {
        [most @ .., before, last] => [most, &[&format!("{before} or {last}")]].concat().join(", "),
        _ => words.concat(),
    }
}

fn value_called(name: &str) -> Option<&'static str> {
    let of_commands = commands::ALL.iter().flat_map(|command| command.values);
    COMMON.iter().chain(of_commands).copied().find(|known| *known == name)
}

fn flag_called(name: &str) -> Option<&'static str> {
    let of_commands = commands::ALL.iter().flat_map(|command| command.flags);
    ["help", "version"].iter().chain(of_commands).copied().find(|known| *known == name)
}

#[cfg(test)]
mod tests {
    use super::one_among;

    #[test]
    fn words_to_choose_from_are_told_as_one_says_them() {
        assert_eq!(one_among(&["csv"]), "csv");
        assert_eq!(one_among(&["csv", "ics"]), "csv or ics");
        assert_eq!(one_among(&["csv", "gpx", "ics", "pdf"]), "csv, gpx, ics or pdf");
    }
}
