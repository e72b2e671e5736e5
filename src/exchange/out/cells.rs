//! Writing CSV: RFC 4180 quoting, CRLF, and cells that a spreadsheet would take for a formula made harmless.

/// One line of cells, each made safe and quoted where it must be, with CRLF.
pub fn line<S: AsRef<str>>(cells: &[S]) -> String {
    let mut text = String::new();
    for (at, cell) in cells.iter().enumerate() {
        if at > 0 {
            text.push(',');
        }
        push_quoted(&mut text, &guarded(cell.as_ref()));
    }
    text.push_str("\r\n");
    text
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
    cell.starts_with('-') && cell.len() > 1 && cell.bytes().skip(1).all(|byte| byte.is_ascii_digit() || byte == b'.')
}

fn push_quoted(text: &mut String, cell: &str) {
    let padded = cell.starts_with(char::is_whitespace) || cell.ends_with(char::is_whitespace);
    if !padded && !cell.contains([',', ';', '"', '\n', '\r', '\t']) {
        text.push_str(cell);
        return;
    }
    text.push('"');
    text.push_str(&cell.replace('"', "\"\""));
    text.push('"');
}

#[cfg(test)]
mod tests {
    use super::{guarded, line, unguarded};

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
        assert_eq!(line(&["a", "b,c", "say \"so\"", "two\nlines"]), "a,\"b,c\",\"say \"\"so\"\"\",\"two\nlines\"\r\n");
    }
}
