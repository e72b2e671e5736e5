//! The rows that were held back, as a table with what is wrong in each, to be corrected and brought in later.

use crate::exchange::out::cells::table;
use crate::exchange::table::preview::{Heading, Preview, Will};

/// The heading of the column that says what is wrong. No field has this name, so an import leaves it out.
const PROBLEM: &str = "held back because";

/// The rows held back, with their headings, their cells as corrected, and what is wrong; nothing where none is.
pub fn held_back_csv(preview: &Preview) -> Option<String> {
    let mut held = preview.rows.iter().filter(|row| row.will == Will::HoldBack).peekable();
    held.peek()?;
    let known = |(_, heading): &(usize, &Heading)| heading.theirs != PROBLEM;
    let columns: Vec<(usize, &Heading)> = preview.headings.iter().enumerate().filter(known).collect();
    let headings = columns.iter().map(|(_, heading)| heading.theirs.clone()).chain([PROBLEM.to_owned()]).collect();
    let lines = held.map(|row| {
        let cells = columns.iter().map(|(at, _)| row.cells.get(*at).cloned().unwrap_or_default());
        let problems: Vec<String> =
            row.problems.iter().map(|problem| format!("{}. {}", problem.fact, problem.remedy)).collect();
        cells.chain([problems.join("; ")]).collect()
    });
    Some(format!("\u{feff}{}", table(std::iter::once(headings).chain(lines))))
}
