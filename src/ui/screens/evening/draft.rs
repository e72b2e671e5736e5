//! The draft of an evening as it is kept while one types, in case the program ends.

use serde::{Deserialize, Serialize};

use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, YardId};
use crate::domain::in_hand::draw::From;
use crate::ui::screens::evening::rows::Rows;

/// What is kept of an evening that is not recorded.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct Draft {
    /// The day of the evening.
    pub day: Day,
    /// Initials.
    pub by: String,
    /// The stops in the order of the rows, where it was of a run.
    #[serde(default)]
    pub stops: Vec<YardId>,
    /// The hive whose row was being entered.
    pub current: Option<ColonyId>,
    /// Where queens given are from, as far as it was chosen for all rows.
    #[serde(default)]
    pub from: From,
    /// What was typed, where it differs from the register.
    pub rows: Vec<(ColonyId, String, From)>,
}

impl Draft {
    /// The draft of these rows.
    pub fn of(day: Day, by: &str, rows: &Rows, current: usize) -> Self {
        Self {
            day,
            by: by.to_owned(),
            stops: Vec::new(),
            from: rows.from,
            current: rows.hives.get(current).map(|row| row.colony),
            rows: rows
                .hives
                .iter()
                .filter(|row| row.is_changed())
                .map(|row| (row.colony, row.text.clone(), row.from))
                .collect(),
        }
    }

    /// As it is kept.
    pub fn to_text(&self) -> String {
        serde_json::to_string(self).unwrap_or_default()
    }

    /// As it was kept; nothing where it is of another day, or is none.
    pub fn from_text(text: &str, day: Day) -> Option<Self> {
        serde_json::from_str(text).ok().filter(|draft: &Self| draft.day == day && !draft.rows.is_empty())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_draft_comes_back_on_its_own_day_alone() {
        let day = Day::new(2026, 11, 24).expect("a day");
        let rows = vec![(ColonyId::from_number(3), "eq 'quiet \"bees\"".to_owned(), From::NotSaid)];
        let current = Some(ColonyId::from_number(3));
        let stops = vec![YardId::from_number(2), YardId::from_number(1)];
        let draft = Draft { day, by: "MK".to_owned(), from: From::NotKnown, stops, current, rows };
        let text = draft.to_text();
        assert_eq!(Draft::from_text(&text, day), Some(draft));
        assert_eq!(Draft::from_text(&text, day.plus(1)), None);
        assert_eq!(Draft::from_text("{", day), None);
        assert_eq!(Draft::from_text("", day), None);
    }
}
