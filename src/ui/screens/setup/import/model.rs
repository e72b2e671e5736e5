//! Plain questions to the preview: which rows are shown, which problem is next, how wide a column must be.

use crate::ui::import_model::{ImportModel, ImportRow, ImportWill};
use crate::ui::widgets::progress::grouped;

/// The encodings one may choose.
pub(super) const ENCODINGS: [&str; 2] = ["UTF-8", "windows-1252"];
/// The orders of day and month one may choose.
pub(super) const DATE_ORDERS: [&str; 2] = ["day/month/year", "month/day/year"];

/// `1 row`, `8,000 rows`.
pub(super) fn count(number: usize, thing: &str) -> String {
    if number == 1 { format!("1 {thing}") } else { format!("{} {thing}s", grouped(number as u64)) }
}

/// The file is a table, so that dates and letters can be read in more than one way.
pub(super) fn is_table(model: &ImportModel) -> bool {
    !matches!(model.kind.as_str(), "GeoJSON" | "GPX")
}

/// The places of the rows that are shown.
pub(super) fn rows_shown(model: &ImportModel, show: Option<ImportWill>) -> Vec<usize> {
    let wanted = |row: &ImportRow| show.is_none_or(|show| row.will == show);
    model.rows.iter().enumerate().filter(|(_, row)| wanted(row)).map(|(place, _)| place).collect()
}

/// The next row that is held back after (or before) the chosen one, round the end.
pub(super) fn next_problem(model: &ImportModel, from: Option<usize>, forward: bool) -> Option<usize> {
    let held = |place: &usize| model.rows.get(*place).is_some_and(|row| row.will == ImportWill::HoldBack);
    let rows = model.rows.len();
    let mut order: Vec<usize> = match (from, forward) {
        (None, true) => (0..rows).collect(),
        (None, false) => (0..rows).rev().collect(),
        (Some(from), true) => (from + 1..rows).chain(0..=from.min(rows.saturating_sub(1))).collect(),
        (Some(from), false) => (0..from.min(rows)).rev().chain((from.min(rows)..rows).rev()).collect(),
    };
    order.retain(held);
    order.first().copied()
}

/// A date of the file that can be read both ways.
pub(super) fn ambiguous_date(model: &ImportModel) -> Option<&str> {
    model.rows.iter().flat_map(|row| &row.cells).map(String::as_str).find(|cell| {
        let parts: Vec<u32> = cell.split(['/', '.', '-']).filter_map(|part| part.trim().parse().ok()).collect();
        matches!(parts.as_slice(), [one, two, _] if (1..=12).contains(one) && (1..=12).contains(two) && one != two)
    })
}

/// Widths of the file's columns in points, from the longest of heading and the first cells; at 14 points a letter
/// is about 7.6 wide, at 13 about 6.8.
pub(super) fn widths(model: &ImportModel) -> Vec<f32> {
    const SAMPLE: usize = 200;
    let chars = |text: &str| text.chars().count();
    let of = |(place, column): (usize, &crate::ui::import_model::ImportColumn)| {
        let heading = (chars(&column.theirs) + 7) as f32 * 6.8;
        let name = (column.ours.as_deref().map_or(8, chars) + 2) as f32 * 7.2;
        let cells = model.rows.iter().take(SAMPLE).filter_map(|row| row.cells.get(place)).map(|cell| chars(cell));
        let longest = cells.max().unwrap_or(0) as f32 * 7.6;
        longest.max(heading).max(name).clamp(64.0, 190.0).round()
    };
    model.columns.iter().enumerate().map(of).collect()
}

/// A heading with a capital letter: `Queen born`.
pub(super) fn title(ours: &str) -> String {
    let mut letters = ours.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ui::import_model::ImportColumn;

    fn model(wills: &[ImportWill]) -> ImportModel {
        let row = |(place, will): (usize, &ImportWill)| ImportRow {
            number: place + 2,
            will: *will,
            cells: vec!["Thrift Head".to_owned(), "2/11/2024".to_owned()],
            problems: Vec::new(),
            says: String::new(),
        };
        ImportModel {
            columns: vec![
                ImportColumn { theirs: "site".to_owned(), ours: Some("yard".to_owned()) },
                ImportColumn::default(),
            ],
            rows: wills.iter().enumerate().map(row).collect(),
            ..ImportModel::default()
        }
    }

    #[test]
    fn problems_follow_each_other_round_the_end() {
        use ImportWill::{Add, HoldBack, Same};
        let model = model(&[Add, HoldBack, Same, HoldBack, Add]);
        assert_eq!(next_problem(&model, None, true), Some(1));
        assert_eq!(next_problem(&model, Some(1), true), Some(3));
        assert_eq!(next_problem(&model, Some(3), true), Some(1));
        assert_eq!(next_problem(&model, Some(1), false), Some(3));
        assert_eq!(next_problem(&model, Some(4), false), Some(3));
        assert_eq!(rows_shown(&model, Some(HoldBack)), [1, 3]);
        assert_eq!(rows_shown(&model, None).len(), 5);
    }

    #[test]
    fn no_problem_is_no_step() {
        assert_eq!(next_problem(&model(&[ImportWill::Add]), Some(0), true), None);
        assert_eq!(next_problem(&model(&[]), Some(7), false), None);
    }

    #[test]
    fn a_date_is_ambiguous_only_where_both_numbers_can_be_months() {
        let mut model = model(&[ImportWill::Add]);
        assert_eq!(ambiguous_date(&model), Some("2/11/2024"));
        model.rows[0].cells[1] = "14/11/2024".to_owned();
        assert_eq!(ambiguous_date(&model), None);
        model.rows[0].cells[1] = "5/5/2024".to_owned();
        assert_eq!(ambiguous_date(&model), None);
    }

    #[test]
    fn columns_hold_their_words() {
        let widths = widths(&model(&[ImportWill::Add]));
        assert!(widths[0] >= 80.0 && widths[1] >= 64.0, "{widths:?}");
        assert_eq!(title("queen born"), "Queen born");
        assert_eq!(count(1, "row"), "1 row");
        assert_eq!(count(8_000, "row"), "8,000 rows");
    }
}
