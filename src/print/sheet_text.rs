//! Reads and writes a file of measures: one `key = value` a line, millimetres, `#` begins a comment.

use crate::print::sheet::{Sheet, SheetFault, figure};

/// The measures that a file must name; the others have a default.
const NEEDED: [&str; 10] =
    ["page_w", "page_h", "left", "top", "columns", "rows", "pitch_x", "pitch_y", "label_w", "label_h"];

/// What is wrong with a file of measures.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum MeasuresFault {
    /// A line without `=`.
    #[error("line {line}: no \"=\" in \"{text}\"; write a measure as key = value")]
    NoEquals {
        /// 1-based.
        line: usize,
        /// The line as it stands.
        text: String,
    },
    /// A measure that a sheet does not have.
    #[error("line {line}: {key} is not a measure of a sheet; the measures are name, {}, inset, shift_x, shift_y", NEEDED.join(", "))]
    UnknownKey {
        /// 1-based.
        line: usize,
        /// The key as it stands.
        key: String,
    },
    /// A measure given twice.
    #[error("line {line}: {key} stands already in line {first}; leave one of them")]
    Twice {
        /// 1-based.
        line: usize,
        /// The key given twice.
        key: String,
        /// Line of the first.
        first: usize,
    },
    /// A value that is no figure.
    #[error("line {line}: {key} is \"{value}\"; a figure is needed, such as {example}")]
    NotAFigure {
        /// 1-based.
        line: usize,
        /// The measure.
        key: String,
        /// The value as it stands.
        value: String,
        /// A value that would do.
        example: &'static str,
    },
    /// A measure that is not in the file.
    #[error("{key} is missing; add a line {key} = …")]
    Missing {
        /// The measure.
        key: &'static str,
    },
    /// Every line reads well, but the sheet cannot be printed.
    #[error("line {line}: {fault}")]
    Impossible {
        /// 1-based line of the measure at fault; 0 where the measure has its default.
        line: usize,
        /// The measure at fault and why.
        fault: SheetFault,
    },
}

/// One `key = value` as read.
struct Entry<'a> {
    line: usize,
    key: &'a str,
    value: &'a str,
}

impl Sheet {
    /// Reads a file of measures and checks the sheet. Figures are in mm, with a point or a comma; `mm` may follow.
    ///
    /// # Errors
    ///
    /// The first fault, with its line and its key.
    pub fn parse(text: &str) -> Result<Self, MeasuresFault> {
        let entries = entries(text)?;
        let sheet = Self {
            name: find(&entries, "name").map(|entry| entry.value.to_owned()).unwrap_or_default(),
            page_w: length(&entries, "page_w", None)?,
            page_h: length(&entries, "page_h", None)?,
            left: length(&entries, "left", None)?,
            top: length(&entries, "top", None)?,
            columns: count(&entries, "columns")?,
            rows: count(&entries, "rows")?,
            pitch_x: length(&entries, "pitch_x", None)?,
            pitch_y: length(&entries, "pitch_y", None)?,
            label_w: length(&entries, "label_w", None)?,
            label_h: length(&entries, "label_h", None)?,
            inset: length(&entries, "inset", Some(2.5))?,
            shift_x: length(&entries, "shift_x", Some(0.0))?,
            shift_y: length(&entries, "shift_y", Some(0.0))?,
        };
        sheet.check().map_err(|fault| MeasuresFault::Impossible {
            line: find(&entries, fault.measure).map_or(0, |entry| entry.line),
            fault,
        })?;
        Ok(sheet)
    }

    /// The sheet as a file of measures that [`Sheet::parse`] reads back (to a thousandth of a millimetre).
    pub fn to_text(&self) -> String {
        let name = self.name.trim().replace(['#', '\n', '\r'], " ");
        let mut measures = vec![
            ("page_w", figure(self.page_w)),
            ("page_h", figure(self.page_h)),
            ("left", figure(self.left)),
            ("top", figure(self.top)),
            ("columns", self.columns.to_string()),
            ("rows", self.rows.to_string()),
            ("pitch_x", figure(self.pitch_x)),
            ("pitch_y", figure(self.pitch_y)),
            ("label_w", figure(self.label_w)),
            ("label_h", figure(self.label_h)),
            ("inset", figure(self.inset)),
            ("shift_x", figure(self.shift_x)),
            ("shift_y", figure(self.shift_y)),
        ];
        if !name.is_empty() {
            measures.insert(0, ("name", name));
        }
        let lines = measures.into_iter().map(|(key, value)| format!("{key} = {value}\n"));
        std::iter::once(format!("# {}, measures in mm\n", self.describe())).chain(lines).collect()
    }
}

fn entries(text: &str) -> Result<Vec<Entry<'_>>, MeasuresFault> {
    let mut entries: Vec<Entry<'_>> = Vec::new();
    for (at, whole) in text.trim_start_matches('\u{feff}').lines().enumerate() {
        let line = at + 1;
        let content = whole.split('#').next().unwrap_or_default().trim();
        if content.is_empty() {
            continue;
        }
        let Some((key, value)) = content.split_once('=') else {
            return Err(MeasuresFault::NoEquals { line, text: content.to_owned() });
        };
        let (key, value) = (key.trim(), value.trim());
        if !NEEDED.contains(&key) && !["name", "inset", "shift_x", "shift_y"].contains(&key) {
            return Err(MeasuresFault::UnknownKey { line, key: key.to_owned() });
        }
        if let Some(first) = find(&entries, key) {
            return Err(MeasuresFault::Twice { line, key: key.to_owned(), first: first.line });
        }
        entries.push(Entry { line, key, value });
    }
    Ok(entries)
}

fn find<'a, 'b>(entries: &'b [Entry<'a>], key: &str) -> Option<&'b Entry<'a>> {
    entries.iter().find(|entry| entry.key == key)
}

fn length(entries: &[Entry<'_>], key: &'static str, otherwise: Option<f32>) -> Result<f32, MeasuresFault> {
    let Some(entry) = find(entries, key) else {
        return otherwise.ok_or(MeasuresFault::Missing { key });
    };
    let figure = entry.value.strip_suffix("mm").unwrap_or(entry.value).trim().replace(',', ".");
    match figure.parse::<f32>() {
        Ok(mm) if mm.is_finite() => Ok(mm),
        _ => Err(not_a_figure(entry, "63.5")),
    }
}

fn count(entries: &[Entry<'_>], key: &'static str) -> Result<usize, MeasuresFault> {
    let entry = find(entries, key).ok_or(MeasuresFault::Missing { key })?;
    entry.value.parse().map_err(|_| not_a_figure(entry, "3"))
}

fn not_a_figure(entry: &Entry<'_>, example: &'static str) -> MeasuresFault {
    MeasuresFault::NotAFigure { line: entry.line, key: entry.key.to_owned(), value: entry.value.to_owned(), example }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert, proptest};

    use super::*;

    const GOOD: &str = "# our own sheet\nname = Long lids\npage_w = 210\npage_h = 297 mm\nleft = 7,25\ntop = 12.9\n\
                        columns = 3\nrows = 8\npitch_x = 66\npitch_y = 33.9\nlabel_w = 63.5 # cut size\nlabel_h = 33.9\n";

    #[test]
    fn a_file_of_measures_is_read_with_its_defaults() {
        let sheet = Sheet::parse(GOOD).unwrap();
        assert_eq!((sheet.title().as_str(), sheet.left, sheet.inset), ("Long lids", 7.25, 2.5));
    }

    #[test]
    fn what_was_written_is_read_back() {
        for preset in Sheet::presets() {
            let text = preset.to_text();
            let back = Sheet::parse(&text).unwrap();
            assert_eq!(back.to_text(), text);
            assert!((back.left - preset.left).abs() < 0.001, "{text}");
        }
    }

    #[test]
    fn a_fault_names_its_line_and_its_key() {
        let cases = [
            (
                GOOD.replace("pitch_x = 66", "pitch_x = 6o"),
                "line 9: pitch_x is \"6o\"; a figure is needed, such as 63.5",
            ),
            (GOOD.replace("rows = 8", "rows = 8.5"), "line 8: rows is \"8.5\"; a figure is needed, such as 3"),
            (GOOD.replace("rows = 8", "rows 8"), "line 8: no \"=\" in \"rows 8\"; write a measure as key = value"),
            (GOOD.replace("rows = 8\n", ""), "rows is missing; add a line rows = …"),
            (GOOD.replace("rows = 8", "columns = 8"), "line 8: columns stands already in line 7; leave one of them"),
            (
                GOOD.replace("pitch_x = 66", "pitch_x = 60"),
                "line 9: pitch_x: labels side by side overlap; at least 63.5 mm",
            ),
        ];
        for (text, message) in cases {
            assert_eq!(Sheet::parse(&text).unwrap_err().to_string(), message);
        }
        let unknown = Sheet::parse(&GOOD.replace("rows", "lines")).unwrap_err();
        assert!(unknown.to_string().starts_with("line 8: lines is not a measure of a sheet"), "{unknown}");
    }

    proptest! {
        #[test]
        fn any_text_gives_a_sheet_that_can_be_printed_or_a_fault(text in "([a-z_]{0,8} ?= ?[0-9.,-]{0,6}\n){0,14}") {
            if let Ok(sheet) = Sheet::parse(&text) {
                prop_assert!(sheet.check().is_ok());
            }
        }

        #[test]
        fn a_sheet_with_random_measures_keeps_its_labels_on_the_page_or_is_refused(
            left in 0.0_f32..40.0, top in 0.0_f32..40.0, columns in 1_usize..5, rows in 1_usize..12,
            pitch_x in 30.0_f32..110.0, pitch_y in 18.0_f32..70.0, label_w in 30.0_f32..110.0, label_h in 18.0_f32..70.0,
        ) {
            let sheet = Sheet {
                left, top, columns, rows, pitch_x, pitch_y, label_w, label_h, ..Sheet::a4_3x8()
            };
            if sheet.check().is_ok() {
                let (x, y) = sheet.corner(sheet.places() - 1);
                prop_assert!(x + label_w <= 210.1 && y + label_h <= 297.1);
                prop_assert!(columns == 1 || pitch_x >= label_w - 0.1);
            }
        }
    }
}
