//! Reads one field of codes letter by letter.

use crate::domain::capital::capital;
use crate::domain::grammar::codes::{CodeError, Codes, DayCode, Gives};
use crate::domain::grammar::contradiction::contradiction_with;
use crate::domain::queen::Dot;
use crate::domain::visit::{Coverage, Disease, InCage, Marked, Method, TestFrame, Unopened};

/// The most cells a code can count.
const MOST_CELLS: u8 = 99;

/// Reads codes, without the commands that stand alone.
pub(super) fn read_codes(text: &str) -> Result<Codes, CodeError> {
    let mut reader = Reader { text, at: 0, codes: Codes::default() };
    while let Some(letter) = reader.next_code() {
        let from = reader.at;
        reader.at += letter.len_utf8();
        reader.code(letter, from)?;
        let codes = &reader.codes;
        if let Some(found) = contradiction_with(&codes.visit, codes.gives.is_some()) {
            return Err(CodeError::new(from, capital(found.fact), found.way_out));
        }
    }
    Ok(reader.codes)
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
    codes: Codes,
}

impl Reader<'_> {
    fn rest(&self) -> &str {
        self.text.get(self.at..).unwrap_or("")
    }

    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    /// The letter the next code begins with.
    fn next_code(&mut self) -> Option<char> {
        while let Some(letter) = self.peek().filter(|letter| letter.is_whitespace() || matches!(letter, ',' | ';')) {
            self.at += letter.len_utf8();
        }
        self.peek()
    }

    fn code(&mut self, letter: char, from: usize) -> Result<(), CodeError> {
        let seen = &mut self.codes.visit.seen;
        match letter.to_ascii_lowercase() {
            'e' => seen.eggs = true,
            'l' => seen.larvae = true,
            'b' => seen.capped = true,
            'q' => seen.her = true,
            'u' => seen.another = true,
            'o' => seen.opened_cell = true,
            'n' => seen.nothing = true,
            'd' => seen.drone_layer = true,
            'w' => seen.laying_workers = true,
            's' => seen.swarmed = true,
            'z' => seen.dead = true,
            'k' => self.cage(InCage::Alive, from)?,
            'm' => self.cage(InCage::Dead, from)?,
            'c' => {
                let count = self.count("c", from)?;
                let held = self.codes.visit.seen.closed_cells;
                self.codes.visit.seen.closed_cells = same_count(held, count, "closed cells", from)?;
            }
            'y' => {
                let count = self.count("y", from)?;
                let held = self.codes.visit.seen.begun_cells;
                self.codes.visit.seen.begun_cells = same_count(held, count, "cells begun", from)?;
            }
            'p' => self.coverage(Coverage::Part, from)?,
            't' => self.temper(from)?,
            'x' => self.disease(from)?,
            '-' | '−' | '–' => self.unopened(from)?,
            '+' => self.given_or_done(from)?,
            '/' => self.done(from)?,
            '?' => self.not_found(from)?,
            '@' => self.day(from)?,
            '~' => self.swap(from)?,
            '\'' | '’' | '‘' => {
                self.codes.words = self.rest().trim().to_owned();
                self.at = self.text.len();
            }
            '.' | '=' | '*' => {
                let what = format!("{letter} stands alone in its row");
                return Err(CodeError::new(from, what, "Clear the other codes, or leave it out"));
            }
            digit if digit.is_ascii_digit() => {
                let what = format!("{digit} belongs to no code");
                return Err(CodeError::new(from, what, "Put a number right behind its letter: c3, t3, y3, x1"));
            }
            _ => {
                let what = format!("{letter} is no code");
                return Err(CodeError::new(from, what, "Put words behind an apostrophe '"));
            }
        }
        Ok(())
    }

    fn cage(&mut self, state: InCage, from: usize) -> Result<(), CodeError> {
        if self.codes.visit.seen.cage.is_some_and(|held| held != state) {
            return Err(CodeError::new(from, "Alive in the cage (k), yet dead in it (m)", "Leave out one of the two"));
        }
        self.codes.visit.seen.cage = Some(state);
        Ok(())
    }

    fn coverage(&mut self, coverage: Coverage, from: usize) -> Result<(), CodeError> {
        let held = self.codes.visit.coverage;
        if held != Coverage::Full && held != coverage {
            let what = match (held, coverage) {
                (Coverage::Unopened(_), Coverage::Unopened(_)) => "Two reasons for not opening",
                _ => "Part of the nest seen (p), yet not opened (-)",
            };
            return Err(CodeError::new(from, what, "Leave out one of the two"));
        }
        self.codes.visit.coverage = coverage;
        Ok(())
    }

    fn temper(&mut self, from: usize) -> Result<(), CodeError> {
        let wanted = || CodeError::new(from, "Temper goes from 1 to 4", "Type t1, t2, t3 or t4");
        let temper = self.number().filter(|temper| (1..=4).contains(temper)).ok_or_else(wanted)?;
        if self.codes.visit.temper.is_some_and(|held| u32::from(held) != temper) {
            return Err(CodeError::new(from, "Temper is given twice", "Leave out one of the two"));
        }
        self.codes.visit.temper = u8::try_from(temper).ok();
        Ok(())
    }

    fn disease(&mut self, from: usize) -> Result<(), CodeError> {
        let disease = match self.number() {
            None => Disease::NotNamed,
            Some(1) => Disease::AmericanFoulbrood,
            Some(2) => Disease::EuropeanFoulbrood,
            Some(3) => Disease::Chalkbrood,
            Some(4) => Disease::Other,
            Some(other) => {
                let way_out = "Type x1 American, x2 European foulbrood, x3 chalkbrood, x4 another, or x alone";
                return Err(CodeError::new(from, format!("x{other} is no disease"), way_out));
            }
        };
        if self.codes.visit.seen.disease.is_some_and(|held| held != disease) {
            return Err(CodeError::new(from, "Two diseases are named", "Name one, and put the other in words"));
        }
        self.codes.visit.seen.disease = Some(disease);
        self.codes.asks_disease = disease == Disease::NotNamed;
        Ok(())
    }

    fn unopened(&mut self, from: usize) -> Result<(), CodeError> {
        let why = match self.letter() {
            Some('r') => Unopened::Weather,
            Some('t') => Unopened::Time,
            Some('f') => Unopened::NotFound,
            _ => return Err(CodeError::new(from, "- needs the reason", "Type -r rain, -t time, -f not found")),
        };
        self.coverage(Coverage::Unopened(why), from)
    }

    fn given_or_done(&mut self, from: usize) -> Result<(), CodeError> {
        let Some(letter) = self.letter() else {
            let way_out = "Type +q +p +c +v +n given, +f test frame, +s a cell left, +d marked";
            return Err(CodeError::new(from, "+ needs what was given", way_out));
        };
        let plain = |method| Gives { method, emerged: None, cells: 1 };
        let gives = match letter {
            'q' => plain(Method::Caged),
            'p' => plain(Method::PushIn),
            'n' => plain(Method::Nuc),
            'c' => {
                let cells = self.count("+c", from)?;
                let wanted = || CodeError::new(from, "+c0 gives no cell", "Leave it out, or give the number of cells");
                Gives { cells: cells.ok_or_else(wanted)?, ..plain(Method::Cell) }
            }
            'v' => Gives { emerged: self.day_code(from)?, ..plain(Method::Virgin) },
            's' => {
                self.codes.visit.did.cells_left = true;
                return Ok(());
            }
            'f' => {
                let marked = match self.number() {
                    None => false,
                    Some(1) => true,
                    Some(other) => {
                        let way_out = "Type +f, or +f1 where the frame was marked";
                        return Err(CodeError::new(from, format!("+f{other} is no code"), way_out));
                    }
                };
                self.codes.visit.did.test_frame = Some(TestFrame { marked });
                return Ok(());
            }
            'd' => {
                let dot = self.number().map(|digit| Dot::of_year(i32::try_from(digit).unwrap_or(0)));
                self.codes.visit.did.marked = Some(Marked { dot });
                return Ok(());
            }
            other => {
                let way_out = "Type +q +p +c +v +n given, +f test frame, +s a cell left, +d marked";
                return Err(CodeError::new(from, format!("+{other} is no code"), way_out));
            }
        };
        if self.codes.gives.as_ref().is_some_and(|held| *held != gives) {
            return Err(CodeError::new(from, "Two things are given", "Leave out one, or record a second visit"));
        }
        self.codes.gives = Some(gives);
        Ok(())
    }

    fn done(&mut self, from: usize) -> Result<(), CodeError> {
        let did = &mut self.codes.visit.did;
        let letter = self.text.get(self.at..).and_then(|rest| rest.chars().next());
        match letter.map(|letter| letter.to_ascii_lowercase()) {
            Some('q') => did.dequeened = true,
            Some('c') => did.cells_cut = true,
            Some('k') => did.cage_off = true,
            _ => {
                let way_out = "Type /q old queen removed, /c cells cut, /k cage taken off";
                return Err(CodeError::new(from, "/ needs what was taken away", way_out));
            }
        }
        self.at += 1;
        Ok(())
    }

    fn not_found(&mut self, from: usize) -> Result<(), CodeError> {
        if self.letter() != Some('q') {
            return Err(CodeError::new(from, "? needs q", "Type ?q where the old queen was not found"));
        }
        self.codes.visit.did.queen_not_found = true;
        Ok(())
    }

    fn day(&mut self, from: usize) -> Result<(), CodeError> {
        let wanted = || CodeError::new(from, "@ needs a day", "Type @23 for the 23rd, or @23/11");
        let day = self.day_code(from)?.ok_or_else(wanted)?;
        if self.codes.day.is_some_and(|held| held != day) {
            return Err(CodeError::new(from, "Two days are given", "Leave out one of the two"));
        }
        self.codes.day = Some(day);
        Ok(())
    }

    fn swap(&mut self, from: usize) -> Result<(), CodeError> {
        let rest = self.rest();
        let (name, used) = if let Some(quoted) = rest.strip_prefix('"') {
            let end = quoted.find('"').unwrap_or(quoted.len());
            (quoted.get(..end).unwrap_or("").to_owned(), (end + 2).min(rest.len()))
        } else {
            let end = rest.find(char::is_whitespace).unwrap_or(rest.len());
            (rest.get(..end).unwrap_or("").to_owned(), end)
        };
        if name.trim().is_empty() {
            return Err(CodeError::new(from, "~ needs the other hive", "Type ~15 where lids were swapped with 15"));
        }
        if self.codes.swap_with.as_ref().is_some_and(|held| *held != name) {
            return Err(CodeError::new(from, "Lids are swapped twice", "Leave out one, and put the other in words"));
        }
        self.at += used;
        self.codes.swap_with = Some(name);
        Ok(())
    }

    /// A day of the month, with or without a month.
    fn day_code(&mut self, from: usize) -> Result<Option<DayCode>, CodeError> {
        let Some(day) = self.number() else {
            return Ok(None);
        };
        let mut month = None;
        let behind_slash = self.rest().strip_prefix('/').and_then(|rest| rest.chars().next());
        if behind_slash.is_some_and(|letter| letter.is_ascii_digit()) {
            self.at += 1;
            month = self.number();
        }
        let fits = (1..=31).contains(&day) && month.is_none_or(|month| (1..=12).contains(&month));
        if !fits {
            let said = month.map_or(day.to_string(), |month| format!("{day}/{month}"));
            return Err(CodeError::new(from, format!("{said} is no day"), "Give the day, or day/month: 23, 23/11"));
        }
        Ok(Some(DayCode { day, month }))
    }

    /// A count of cells: none typed is one, `c0` says that there were none.
    fn count(&mut self, code: &str, from: usize) -> Result<Option<u8>, CodeError> {
        match self.number() {
            None => Ok(Some(1)),
            Some(0) => Ok(None),
            Some(count) => match u8::try_from(count) {
                Ok(count) if count <= MOST_CELLS => Ok(Some(count)),
                _ => {
                    let way_out = format!("Type a number up to {MOST_CELLS}");
                    Err(CodeError::new(from, format!("{code}{count} is more than can be counted"), way_out))
                }
            },
        }
    }

    fn number(&mut self) -> Option<u32> {
        let digits = self.rest().bytes().take_while(u8::is_ascii_digit).count();
        let number = self.rest().get(..digits).filter(|digits| !digits.is_empty())?;
        // A number too long to hold is too large for every code, which then says so.
        let number = number.parse().unwrap_or(u32::MAX);
        self.at += digits;
        Some(number)
    }

    fn letter(&mut self) -> Option<char> {
        let letter = self.peek().filter(char::is_ascii_alphabetic)?;
        self.at += 1;
        Some(letter.to_ascii_lowercase())
    }
}

fn same_count(held: Option<u8>, count: Option<u8>, of: &str, from: usize) -> Result<Option<u8>, CodeError> {
    match (held, count) {
        (Some(held), Some(count)) if held != count => {
            Err(CodeError::new(from, format!("Two numbers of {of}: {held} and {count}"), "Leave out one of the two"))
        }
        (held, count) => Ok(count.or(held)),
    }
}
