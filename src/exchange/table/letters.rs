//! Bytes to text: UTF-8 with or without a byte order mark, Windows letters (cp1252), UTF-16 where a mark says so.

use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};

use crate::exchange::table::preview::Unreadable;

/// The most bytes a file may have.
pub const MOST_BYTES: usize = 64 * 1024 * 1024;

/// How the letters of a file are stored.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Letters {
    /// UTF-8.
    Utf8,
    /// Windows letters, code page 1252.
    Cp1252,
    /// UTF-16, with a byte order mark.
    Utf16,
}

impl Letters {
    /// `UTF-8`, `Windows (cp1252)`, `UTF-16`.
    pub fn words(self) -> &'static str {
        match self {
            Self::Utf8 => "UTF-8",
            Self::Cp1252 => "Windows (cp1252)",
            Self::Utf16 => "UTF-16",
        }
    }
}

/// The text of a file. Without a wish, what is valid UTF-8 is read so, and all else as Windows letters.
///
/// # Errors
/// If the file is empty, too long, not a text, or not in the letters that were wished for.
pub fn decode(bytes: &[u8], wanted: Option<Letters>) -> Result<(String, Letters), Unreadable> {
    if bytes.len() > MOST_BYTES {
        let fact = format!("The file has {} MB, and {} MB are the most", bytes.len() >> 20, MOST_BYTES >> 20);
        return Err(Unreadable::new(fact, "Split it into several files"));
    }
    if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(&[0xd0, 0xcf, 0x11, 0xe0]) {
        return Err(Unreadable::new("This is a spreadsheet's own file, not a table in text", "Save it as CSV there"));
    }
    let letters = wanted.unwrap_or_else(|| guess(bytes));
    let text = match letters {
        Letters::Utf8 => utf8(bytes)?,
        Letters::Utf16 => {
            let order: &Encoding = if bytes.starts_with(&[0xfe, 0xff]) { UTF_16BE } else { UTF_16LE };
            order.decode_with_bom_removal(bytes).0.into_owned()
        }
        Letters::Cp1252 => WINDOWS_1252.decode_without_bom_handling(bytes).0.into_owned(),
    };
    if text.contains('\0') {
        return Err(Unreadable::new("The file is not a text", "Choose a CSV, GeoJSON or GPX file"));
    }
    if text.trim().is_empty() {
        return Err(Unreadable::new("The file is empty", "Choose one with headings and rows"));
    }
    Ok((text, letters))
}

fn guess(bytes: &[u8]) -> Letters {
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        Letters::Utf16
    } else if std::str::from_utf8(bytes).is_ok() {
        Letters::Utf8
    } else {
        Letters::Cp1252
    }
}

fn utf8(bytes: &[u8]) -> Result<String, Unreadable> {
    if let Err(fault) = std::str::from_utf8(bytes) {
        let line = bytes.iter().take(fault.valid_up_to()).filter(|byte| **byte == b'\n').count() + 1;
        let fact = format!("Line {line} holds letters that are not UTF-8");
        return Err(Unreadable::new(fact, "Choose Windows (cp1252) letters"));
    }
    Ok(UTF_8.decode_with_bom_removal(bytes).0.into_owned())
}

#[cfg(test)]
mod tests {
    use super::{Letters, decode};

    fn check(bytes: &[u8], expected: &str, letters: Letters) {
        let read = decode(bytes, None).expect("a text");
        assert_eq!(read, (expected.to_owned(), letters));
    }

    #[test]
    fn letters_are_told_apart() {
        check("hive,Ōkāreka".as_bytes(), "hive,Ōkāreka", Letters::Utf8);
        check(b"\xef\xbb\xbfhive", "hive", Letters::Utf8);
        check(b"Stra\xdfe \x80", "Straße €", Letters::Cp1252);
        check(b"\xff\xfeh\0i\0", "hi", Letters::Utf16);
        check(b"\xfe\xff\0h\0i", "hi", Letters::Utf16);
    }

    #[test]
    fn what_is_no_text_says_so() {
        for (bytes, fact) in [
            (&b""[..], "The file is empty"),
            (b" \r\n\t", "The file is empty"),
            (b"PK\x03\x04xx", "This is a spreadsheet's own file, not a table in text"),
            (b"a\0b", "The file is not a text"),
        ] {
            assert_eq!(decode(bytes, None).expect_err("refused").fact, fact);
        }
        let fault = decode(b"ok\nStra\xdfe", Some(Letters::Utf8)).expect_err("refused");
        assert_eq!(fault.fact, "Line 2 holds letters that are not UTF-8");
    }
}
