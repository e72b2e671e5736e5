//! Writing CSV (RFC 4180, by the `csv` crate): CRLF, and cells that a spreadsheet would take for a formula made harmless.

use csv::{Terminator, WriterBuilder};

/// A table, each cell made safe and quoted where it must be, each line ended with CRLF.
pub fn table<S: AsRef<str>>(lines: impl IntoIterator<Item = Vec<S>>) -> String {
    let mut writer = WriterBuilder::new().terminator(Terminator::CRLF).flexible(true).from_writer(Vec::new());
    for line in lines {
        // No program reads a text with a zero byte in it.
        let cells = line.iter().map(|cell| guarded(&cell.as_ref().replace('\0', "")));
        // Writing to memory cannot fail.
        drop(writer.write_record(cells.map(String::into_bytes)));
    }
    writer.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}

/// The cell with an apostrophe before it where a spreadsheet would run it as a formula (OWASP, CSV injection, from
/// memory: first sign `=`, `+`, `-`, `@`, tab or carriage return). Plain numbers stay as they are.
pub fn guarded(cell: &str) -> String {
    if needs_guard(cell) && !is_number(cell) { format!("'{cell}") } else { cell.to_owned() }
}

/// Takes the apostrophe of [`guarded`] off again.
pub fn unguarded(cell: &str) -> &str {
    match cell.strip_prefix('\'') {
        Some(rest) if needs_guard(rest) => rest,
        _ => cell,
    }
}

fn needs_guard(cell: &str) -> bool {
    // The apostrophe is among them, so that a cell which begins with one of its own comes back whole.
    cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\''])
}

fn is_number(cell: &str) -> bool {
    cell.starts_with('-')
        && cell.len() > 1
        && cell.bytes().skip(1).all(|byte| byte.is_ascii_digit() || byte == b'.' || byte == b',')
}

#[cfg(test)]
mod tests {
    use super::{guarded, table, unguarded};

    #[test]
    fn formulas_are_made_harmless_and_come_back() {
        for cell in ["=1+1", "+q", "-r", "@x", "'", "''", "'=", "\tx", "B14", "-38.5", "", "'quoted' words"] {
            assert_eq!(unguarded(&guarded(cell)), cell, "{cell:?}");
        }
        assert_eq!(guarded("=HYPERLINK(\"x\")"), "'=HYPERLINK(\"x\")");
        assert_eq!(guarded("-38.5"), "-38.5", "a coordinate stays a number");
        assert_eq!(guarded("-1+1"), "'-1+1", "a sum does not");
    }

    #[test]
    fn quotes_are_doubled_and_lines_end_in_crlf() {
        let line = vec!["a", "b,c", "say \"so\"", "two\nlines", " x; y\t"];
        assert_eq!(table([line]), "a,\"b,c\",\"say \"\"so\"\"\",\"two\nlines\", x; y\t\r\n");
        assert_eq!(table([vec!["a", "b"], vec!["", "=1"]]), "a,b\r\n,'=1\r\n");
    }
}
