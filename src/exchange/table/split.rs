//! Text to rows and cells (RFC 4180, by the `csv` crate): the delimiter is sniffed, quotes may hold delimiters and line
//! breaks, and rows keep the numbers a spreadsheet shows, empty ones counted.
//!
//! Two things the crate does not tell are found here: it passes over empty lines without counting them, and it takes a
//! quote that is never closed for a cell that ends with the file.

use std::collections::BTreeSet;
use std::io::Read;

use csv::{Reader, ReaderBuilder, StringRecord};

use crate::exchange::table::headings::{Field, field_of};
use crate::exchange::table::preview::Unreadable;
use crate::exchange::watch::{NotRead, Watch};

/// The most rows a file may have.
pub const MOST_ROWS: usize = 1_000_000;
/// The most bytes of one cell.
pub const MOST_CELL: usize = 100_000;
/// The most cells of one row.
pub const MOST_CELLS: usize = 1_000;

/// A row that is put after the last one: a quote that is never closed swallows it.
const END: &str = "\u{1}end\u{1}";

/// One row as it stands in a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::exchange) struct RawRow {
    /// Its number as a spreadsheet shows it; the headings are row 1.
    pub number: u32,
    /// Its cells.
    pub cells: Vec<String>,
}

/// How far down headings are looked for: a sheet may have titles above them.
const TITLES: usize = 20;

/// The delimiter of a table: the one of comma, semicolon and tab under which one of the first rows holds most known
/// headings, then the one which cuts it into most cells.
pub(in crate::exchange) fn sniff(text: &str) -> char {
    let score = |delimiter: &char| {
        let mut reader = reader(text.as_bytes(), *delimiter);
        let mut best = (0, 0);
        let mut record = StringRecord::new();
        // What cannot be read has no cells, and says why when the rows are read.
        for _ in 0..TITLES {
            if !reader.read_record(&mut record).unwrap_or(false) {
                break;
            }
            best = best.max((record.iter().filter(|cell| field_of(cell).is_some()).count(), record.len()));
        }
        best
    };
    [',', ';', '\t'].into_iter().rev().max_by_key(score).unwrap_or(',')
}

/// Where the headings stand among the rows: first, unless nothing there is known and a row below has two or more that
/// are, the yard or the hive among them. `mapped` tells which headings the user has named.
pub(in crate::exchange) fn headings_at(rows: &[RawRow], mapped: impl Fn(&str) -> bool) -> usize {
    let fields = |row: &RawRow| row.cells.iter().filter_map(|cell| field_of(cell)).collect::<BTreeSet<Field>>();
    let first = rows.first();
    if first.is_none_or(|first| first.cells.iter().any(|cell| mapped(cell) || field_of(cell).is_some())) {
        return 0;
    }
    let known = |row: &RawRow| {
        let fields = fields(row);
        let tells = fields.contains(&Field::Yard) || fields.contains(&Field::Hive);
        let named = row.cells.iter().filter(|cell| mapped(cell)).count();
        if (tells && fields.len() > 1) || named > 0 { fields.len() + named } else { 0 }
    };
    let best =
        rows.iter().take(TITLES).map(known).enumerate().max_by_key(|(at, known)| (*known, std::cmp::Reverse(*at)));
    best.filter(|(_, known)| *known > 0).map_or(0, |(at, _)| at)
}

/// All rows that hold anything.
///
/// # Errors
/// If a quote is never closed, a limit is passed, or the reading was stopped.
pub(in crate::exchange) fn rows(text: &str, delimiter: char, watch: &dyn Watch) -> Result<Vec<RawRow>, NotRead> {
    let end = format!("\n{END}");
    let mut reader = reader(text.as_bytes().chain(end.as_bytes()), delimiter);
    let mut record = StringRecord::new();
    let mut found = Vec::new();
    let mut number = 0;
    while reader.read_record(&mut record).map_err(|fault| Unreadable::new(fault.to_string(), "Save the file anew"))? {
        let start = record.position().map_or(0, |position| position.byte() as usize);
        number += 1 + empty_lines(text, start);
        if number as usize > MOST_ROWS + 1 {
            let fact = format!("The file has more than {MOST_ROWS} rows");
            return Err(Unreadable::new(fact, "Split it into several").into());
        }
        if watch.stopped() {
            return Err(NotRead::Stopped);
        }
        found.push(RawRow { number, cells: record.iter().map(str::to_owned).collect() });
    }
    if let Some(last) = found.pop().filter(|last| last.cells != [END]) {
        let fact = format!("A quote opened in row {} is never closed", last.number);
        return Err(Unreadable::new(fact, "Close it there, or save the file anew").into());
    }
    found.iter().try_for_each(check_limits)?;
    found.retain(|row| row.cells.iter().any(|cell| !cell.trim().is_empty()));
    Ok(found)
}

fn reader<R: Read>(text: R, delimiter: char) -> Reader<R> {
    ReaderBuilder::new().delimiter(delimiter as u8).has_headers(false).flexible(true).from_reader(text)
}

/// Lines without anything in them at that place, where the crate begins to look for the next row.
fn empty_lines(text: &str, start: usize) -> u32 {
    let rest = text.get(start..).unwrap_or("");
    let inside_break = rest.starts_with('\n') && text.get(..start).is_some_and(|before| before.ends_with('\r'));
    let mut rest = if inside_break { rest.get(1..).unwrap_or("") } else { rest };
    let mut lines = 0;
    while let Some(after) = rest.strip_prefix("\r\n").or_else(|| rest.strip_prefix(['\r', '\n'])) {
        lines += 1;
        rest = after;
    }
    lines
}

fn check_limits(row: &RawRow) -> Result<(), Unreadable> {
    let number = row.number;
    if row.cells.iter().any(|cell| cell.len() > MOST_CELL) {
        let fact = format!("Row {number} has a cell of more than {MOST_CELL} bytes");
        return Err(Unreadable::new(fact, "Look there for a quote that is not closed"));
    }
    if row.cells.len() > MOST_CELLS {
        let fact = format!("Row {number} has more than {MOST_CELLS} cells");
        return Err(Unreadable::new(fact, "Choose a table of hives"));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::{RawRow, headings_at, rows, sniff};
    use crate::exchange::watch::Nobody;

    fn check(text: &str, delimiter: char, expected: &[(u32, &[&str])]) {
        let expected: Vec<RawRow> = expected
            .iter()
            .map(|(number, cells)| RawRow {
                number: *number,
                cells: cells.iter().map(|cell| (*cell).to_owned()).collect(),
            })
            .collect();
        assert_eq!(rows(text, delimiter, &Nobody).expect("rows"), expected, "{text:?}");
    }

    #[test]
    fn rows_keep_the_numbers_a_spreadsheet_shows() {
        check("a,b\r\n\r\n1,2\n,\n3,4", ',', &[(1, &["a", "b"]), (3, &["1", "2"]), (5, &["3", "4"])]);
        check("a\rb\r", ',', &[(1, &["a"]), (2, &["b"])]);
        check("a\r\n\r\nb\r\n\r\n\r\nc\r\n\r\n", ',', &[(1, &["a"]), (3, &["b"]), (6, &["c"])]);
        check("\n\na\r\rb", ',', &[(3, &["a"]), (5, &["b"])]);
        check("\"two\n\nlines\"\n\n5\" frame,x", ',', &[(1, &["two\n\nlines"]), (3, &["5\" frame", "x"])]);
    }

    #[test]
    fn quotes_hold_delimiters_breaks_and_quotes() {
        check(
            "\"a;b\";\"say \"\"so\"\"\"\n\"two\nlines\";x",
            ';',
            &[(1, &["a;b", "say \"so\""]), (2, &["two\nlines", "x"])],
        );
        check("\"a\" b,c", ',', &[(1, &["a b", "c"])]);
    }

    #[test]
    fn faults_name_the_row() {
        let fault = rows("a,b\n1,\"2\n3", ',', &Nobody).expect_err("refused");
        assert!(fault.to_string().starts_with("A quote opened in row 2 is never closed."), "{fault}");
        let fault = rows("a\n\n1,\"2\"\"\n\n3", ',', &Nobody).expect_err("refused");
        assert!(fault.to_string().starts_with("A quote opened in row 3 is never closed."), "{fault}");
        let long = format!("a\n{}", "x".repeat(100_001));
        let fault = rows(&long, ',', &Nobody).expect_err("refused").to_string();
        assert!(fault.starts_with("Row 2 has a cell of more than 100000 bytes."), "{fault}");
    }

    #[test]
    fn the_delimiter_is_the_one_that_yields_headings() {
        assert_eq!(sniff("yard,hive,queen born\nx"), ',');
        assert_eq!(sniff("yard;hive;queen born\n1,2;3,4"), ';');
        assert_eq!(sniff("yard\thive"), '\t');
        assert_eq!(sniff("\"yard, name\";hive;lat"), ';');
        assert_eq!(sniff("yard"), ',');
        assert_eq!(sniff("List of May, by Anna\n\nyard;hive"), ';');
    }

    #[test]
    fn headings_are_found_below_titles() {
        let at = |text: &str| headings_at(&rows(text, ',', &Nobody).expect("rows"), |heading| heading == "Stand");
        assert_eq!(at("yard,hive\nHeath,1"), 0);
        assert_eq!(at("Our bees,\n\nMay 2027,\nApiary ,Hive No.\nHeath,1"), 2, "the empty row is no row");
        assert_eq!(at("Our bees,\nHive,strong\nStand,Number\nHeath,1"), 2, "one known word is no heading");
        assert_eq!(at("a,b\n1,2"), 0, "nothing is known: the first row");
    }
}
