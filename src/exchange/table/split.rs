//! Text to rows and cells (RFC 4180): the delimiter is sniffed, quotes may hold delimiters and line breaks, and rows
//! keep the numbers a spreadsheet shows, empty ones counted.

use crate::exchange::table::headings::field_of;
use crate::exchange::table::preview::Unreadable;

/// The most rows a file may have.
pub const MOST_ROWS: usize = 1_000_000;
/// The most bytes of one cell.
pub const MOST_CELL: usize = 10_000;
/// The most cells of one row.
pub const MOST_CELLS: usize = 1_000;

/// One row as it stands in a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::exchange) struct RawRow {
    /// Its number as a spreadsheet shows it; the headings are row 1.
    pub number: u32,
    /// Its cells.
    pub cells: Vec<String>,
}

/// The delimiter of a table: the one of comma, semicolon and tab under which the first row holds most known headings,
/// then the one which cuts it into most cells.
pub(in crate::exchange) fn sniff(text: &str) -> char {
    let first = text.trim_start_matches(['\r', '\n']);
    let end = end_of_row(first);
    let first = first.get(..end).unwrap_or(first);
    let score = |delimiter: char| {
        let cells = rows(first, delimiter).map(|rows| rows.into_iter().next()).ok().flatten();
        let cells = cells.map_or(Vec::new(), |row| row.cells);
        (cells.iter().filter(|cell| field_of(cell).is_some()).count(), cells.len())
    };
    [',', ';', '\t'].into_iter().rev().max_by_key(|delimiter| score(*delimiter)).unwrap_or(',')
}

/// Where the first row ends, quoted line breaks apart.
fn end_of_row(text: &str) -> usize {
    let mut quoted = false;
    for (at, byte) in text.bytes().enumerate() {
        match byte {
            b'"' => quoted = !quoted,
            b'\n' | b'\r' if !quoted => return at,
            _ => {}
        }
    }
    text.len()
}

/// All rows that hold anything.
///
/// # Errors
/// If a quote is never closed, or a limit is passed.
pub(in crate::exchange) fn rows(text: &str, delimiter: char) -> Result<Vec<RawRow>, Unreadable> {
    let mut found = Vec::new();
    let mut number = 0;
    let mut rest = text;
    while !rest.is_empty() {
        number += 1;
        if number as usize > MOST_ROWS {
            return Err(Unreadable::new(format!("The file has more than {MOST_ROWS} rows"), "Split it into several"));
        }
        let (cells, after) = row(rest, delimiter, number)?;
        if cells.iter().any(|cell| !cell.trim().is_empty()) {
            found.push(RawRow { number, cells });
        }
        rest = after;
    }
    Ok(found)
}

/// The cells of the first row of a text, and what comes after it.
fn row(text: &str, delimiter: char, number: u32) -> Result<(Vec<String>, &str), Unreadable> {
    let mut cells = Vec::new();
    let mut rest = text;
    loop {
        let (cell, after) =
            if rest.starts_with('"') { quoted(rest, delimiter, number)? } else { plain(rest, delimiter) };
        if cell.len() > MOST_CELL {
            let fact = format!("Row {number} has a cell of more than {MOST_CELL} bytes");
            return Err(Unreadable::new(fact, "Look there for a quote that is not closed"));
        }
        cells.push(cell);
        if cells.len() > MOST_CELLS {
            return Err(Unreadable::new(
                format!("Row {number} has more than {MOST_CELLS} cells"),
                "Choose a table of hives",
            ));
        }
        let mut signs = after.chars();
        match signs.next() {
            Some(sign) if sign == delimiter => rest = signs.as_str(),
            Some('\r') => return Ok((cells, signs.as_str().strip_prefix('\n').unwrap_or(signs.as_str()))),
            Some(_) => return Ok((cells, signs.as_str())),
            None => return Ok((cells, after)),
        }
    }
}

fn plain(text: &str, delimiter: char) -> (String, &str) {
    let end = text.find([delimiter, '\n', '\r']).unwrap_or(text.len());
    let (cell, after) = text.split_at(end);
    (cell.to_owned(), after)
}

fn quoted(text: &str, delimiter: char, number: u32) -> Result<(String, &str), Unreadable> {
    let mut cell = String::new();
    let mut rest = text.strip_prefix('"').unwrap_or(text);
    loop {
        let Some(at) = rest.find('"') else {
            let fact = format!("A quote opened in row {number} is never closed");
            return Err(Unreadable::new(fact, "Close it there, or save the file anew"));
        };
        let (before, after) = rest.split_at(at);
        cell.push_str(before);
        rest = after.strip_prefix('"').unwrap_or(after);
        match rest.strip_prefix('"') {
            Some(more) => {
                cell.push('"');
                rest = more;
            }
            None => break,
        }
    }
    // Letters between the closing quote and the delimiter are kept rather than lost.
    let (tail, after) = plain(rest, delimiter);
    cell.push_str(&tail);
    Ok((cell, after))
}

#[cfg(test)]
mod tests {
    use super::{RawRow, rows, sniff};

    fn check(text: &str, delimiter: char, expected: &[(u32, &[&str])]) {
        let expected: Vec<RawRow> = expected
            .iter()
            .map(|(number, cells)| RawRow {
                number: *number,
                cells: cells.iter().map(|cell| (*cell).to_owned()).collect(),
            })
            .collect();
        assert_eq!(rows(text, delimiter).expect("rows"), expected, "{text:?}");
    }

    #[test]
    fn rows_keep_the_numbers_a_spreadsheet_shows() {
        check("a,b\r\n\r\n1,2\n,\n3,4", ',', &[(1, &["a", "b"]), (3, &["1", "2"]), (5, &["3", "4"])]);
        check("a\rb\r", ',', &[(1, &["a"]), (2, &["b"])]);
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
        let fault = rows("a,b\n1,\"2\n3", ',').expect_err("refused");
        assert_eq!(fault.fact, "A quote opened in row 2 is never closed");
        let long = format!("a\n{}", "x".repeat(10_001));
        assert_eq!(rows(&long, ',').expect_err("refused").fact, "Row 2 has a cell of more than 10000 bytes");
    }

    #[test]
    fn the_delimiter_is_the_one_that_yields_headings() {
        assert_eq!(sniff("yard,hive,queen born\nx"), ',');
        assert_eq!(sniff("yard;hive;queen born\n1,2;3,4"), ';');
        assert_eq!(sniff("yard\thive"), '\t');
        assert_eq!(sniff("\"yard, name\";hive;lat"), ';');
        assert_eq!(sniff("yard"), ',');
    }
}
