//! The rows that were held back, as a table with what is wrong in each, to be corrected and brought in later.

use crate::exchange::out::cells::line;
use crate::exchange::table::preview::{Preview, Will};

/// The heading of the column that says what is wrong. No field has this name, so an import leaves it out.
const PROBLEM: &str = "held back because";

/// The rows held back, with their headings, their cells as corrected, and what is wrong; nothing where none is.
pub fn held_back_csv(preview: &Preview) -> Option<String> {
    let mut held = preview.rows.iter().filter(|row| row.will == Will::HoldBack).peekable();
    held.peek()?;
    let headings = preview.headings.iter().map(|heading| heading.theirs.as_str());
    let mut text = String::from("\u{feff}");
    text.push_str(&line(&headings.filter(|it| *it != PROBLEM).chain([PROBLEM]).collect::<Vec<_>>()));
    for row in held {
        let mut cells: Vec<String> = row
            .cells
            .iter()
            .zip(&preview.headings)
            .filter(|(_, heading)| heading.theirs != PROBLEM)
            .map(|(cell, _)| cell.clone())
            .collect();
        let problems: Vec<String> =
            row.problems.iter().map(|problem| format!("{}. {}", problem.fact, problem.remedy)).collect();
        cells.push(problems.join("; "));
        text.push_str(&line(&cells));
    }
    Some(text)
}
