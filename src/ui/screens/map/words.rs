//! What the Map says of yards and hives, and which glyph stands for what.

use crate::domain::day::Day;
use crate::planner::outlook::{ColonyView, YardView};
use crate::ui::glyph::Fill;
use crate::ui::widgets::progress::grouped;

/// What the fill of a box shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum FillBy {
    /// The queen's age by season.
    #[default]
    Age,
    /// Days since the last find.
    LastFind,
}

/// Days since the last find, up to which a box gets the first, second and third fill (our own choice, no source).
const FIND_DAYS: [i32; 3] = [14, 30, 60];

impl FillBy {
    /// Both, in the order of the menu.
    pub const ALL: [Self; 2] = [Self::Age, Self::LastFind];

    /// As the menu says it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Age => "Queen's age",
            Self::LastFind => "Last look",
        }
    }

    /// The fill of one hive's box.
    pub fn fill(self, view: &ColonyView, today: Day) -> Fill {
        match self {
            Self::Age => view.age.into(),
            Self::LastFind => view.standing.last_find.map_or(Fill::Unknown, |day| {
                let at = FIND_DAYS.iter().position(|most| today.since(day) <= *most);
                at.and_then(|at| Fill::ALL.get(at)).copied().unwrap_or(Fill::Older)
            }),
        }
    }

    /// The fill in words, for names that are read out.
    pub fn spoken(self, fill: Fill) -> &'static str {
        match (self, fill) {
            (Self::Age, fill) => fill.words(),
            (Self::LastFind, Fill::First) => "looked at within 14 days",
            (Self::LastFind, Fill::Second) => "looked at within 30 days",
            (Self::LastFind, Fill::Third) => "looked at within 60 days",
            (Self::LastFind, Fill::Older) => "last looked at over 60 days ago",
            (Self::LastFind, _) => "never looked at",
        }
    }

    /// The entries of the legend.
    pub fn legend(self) -> (&'static str, Vec<(Fill, &'static str)>) {
        match self {
            Self::Age => (
                "Box: season",
                vec![
                    (Fill::First, "First"),
                    (Fill::Second, "Second"),
                    (Fill::Third, "Third"),
                    (Fill::Older, "Older"),
                    (Fill::Unknown, "Unknown"),
                    (Fill::Queenless, "Queenless"),
                    (Fill::Waiting, "Waiting"),
                ],
            ),
            Self::LastFind => (
                "Box: last look",
                vec![
                    (Fill::First, "14 days"),
                    (Fill::Second, "30 days"),
                    (Fill::Third, "60 days"),
                    (Fill::Older, "Longer"),
                    (Fill::Unknown, "Never"),
                ],
            ),
        }
    }
}

/// `38`, `1,327`.
pub fn figure(count: u32) -> String {
    grouped(count.into())
}

/// `1 hive`, `38 hives`, `1,408 hives`.
pub fn counted(count: u32, one: &str, many: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{} {many}", figure(count)) }
}

/// `8 looks, 1 step`; without those there are none of.
pub fn parts(looks: u32, steps: u32, joint: &str) -> String {
    let parts = [(looks, "look", "looks"), (steps, "step", "steps")];
    let said: Vec<String> =
        parts.into_iter().filter(|(count, _, _)| *count > 0).map(|(n, one, many)| counted(n, one, many)).collect();
    said.join(joint)
}

/// `9 due: 8 looks, 1 step`, `nothing due`.
pub fn due(looks: u32, steps: u32) -> String {
    match looks + steps {
        0 => "nothing due".to_owned(),
        _ if looks == 0 || steps == 0 => format!("{} due", parts(looks, steps, ", ")),
        both => format!("{} due: {}", figure(both), parts(looks, steps, ", ")),
    }
}

/// `2 late, 1 queenless, 3 waiting`; empty where all is well.
pub fn amiss(view: &YardView) -> String {
    let parts = [(view.late, "late"), (view.queenless, "queenless"), (view.waiting, "waiting")];
    let mut said: Vec<String> = parts
        .iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, what)| format!("{} {what}", figure(*count)))
        .collect();
    if said.is_empty() && view.action > 0 {
        said.push(if view.action == 1 {
            "1 needs action".to_owned()
        } else {
            format!("{} need action", figure(view.action))
        });
    }
    said.join(", ")
}

/// `Tomorrow, Tue 24 Nov`, `Today, Mon 23 Nov`, `Thu 26 Nov`.
pub fn day_said(day: Day, today: Day) -> String {
    match day.since(today) {
        0 => format!("Today, {}", day.with_weekday()),
        1 => format!("Tomorrow, {}", day.with_weekday()),
        _ => day.with_weekday(),
    }
}

/// `24 to 26 Nov`, `30 Nov to 2 Dec`.
pub fn span_said(from: Day, to: Day) -> String {
    if (from.year(), from.month()) == (to.year(), to.month()) {
        format!("{} to {}", from.day_of_month(), to.short())
    } else {
        format!("{} to {}", from.short(), to.short())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_are_said_with_their_units() {
        assert_eq!(due(8, 1), "9 due: 8 looks, 1 step");
        assert_eq!(due(0, 1), "1 step due");
        assert_eq!(due(0, 0), "nothing due");
        assert_eq!(due(1029, 298), "1,327 due: 1,029 looks, 298 steps");
        assert_eq!(parts(28, 6, " and "), "28 looks and 6 steps");
        let view = YardView { late: 2, queenless: 1, waiting: 3, action: 1, ..YardView::default() };
        assert_eq!(amiss(&view), "2 late, 1 queenless, 3 waiting");
        assert_eq!(amiss(&YardView { action: 1, ..YardView::default() }), "1 needs action");
    }

    #[test]
    fn a_span_says_the_month_once() {
        let day = |iso| Day::from_iso(iso).expect("a day");
        assert_eq!(span_said(day("2026-11-24"), day("2026-11-26")), "24 to 26 Nov");
        assert_eq!(span_said(day("2026-11-30"), day("2026-12-02")), "30 Nov to 2 Dec");
        assert_eq!(day_said(day("2026-11-24"), day("2026-11-23")), "Tomorrow, Tue 24 Nov");
    }
}
