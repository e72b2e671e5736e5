//! The queenless clock: what the days since D mean for a colony without a queen and with nothing given.

use crate::domain::day::Day;
use crate::domain::standing::age::season_words;
use crate::domain::standing::state::{Setting, Stage, State};
use crate::domain::standing::{Clock, ClockMark, windows};
use crate::domain::visit::Method;

/// The clock, where it runs: in a waiting colony, and after a failure that left no queen.
pub(super) fn clock(s: &Setting<'_>, state: &State, today: Day) -> Option<Clock> {
    let runs = match &state.stage {
        Stage::Waiting => true,
        Stage::Failed(failed) => !failed.queen_there,
        _ => false,
    };
    let since = state.d.filter(|d| runs && *d <= today)?;
    let n = s.numbers;
    let days = today.since(since);
    let cut = state.cells_cut.filter(|cut| *cut >= since);
    let hopeless = state.hopeless(n);
    let virgin = days >= n.own_virgin_from() && !hopeless && state.looked_first.is_none();
    let workers = days >= n.laying_workers_from();
    Some(Clock {
        since,
        days,
        cells_cut: cut,
        marks: marks(s, state, since, cut, today),
        asks: asks(s, state, since, days, cut),
        alarm: virgin || workers,
    })
}

fn marks(s: &Setting<'_>, state: &State, since: Day, cut: Option<Day>, today: Day) -> Vec<ClockMark> {
    let n = s.numbers;
    let mark = |days: i32, words: String, note: String| ClockMark { days, day: since.plus(days), words, note };
    let removed = match &state.removed {
        Some(queen) if matches!(state.stage, Stage::Waiting) => {
            let age = season_words(queen.birth, s.world, since).map_or_else(String::new, |age| format!(", {age}"));
            format!("Old queen removed{age}")
        }
        _ => "Queenless since".to_owned(),
    };
    let done = |from: i32| match cut.filter(|cut| *cut >= since.plus(from)) {
        Some(cut) => format!("done {}", cut.short()),
        None if today >= since.plus(from) => "not done".to_owned(),
        None => String::new(),
    };
    let looked = state.looked_first.map_or_else(String::new, |on| format!("looked {}", on.short()));
    let to = since.plus(n.laying_workers_to());
    let hopeless = n.cells_hopeless_from();
    let hopeless_note = if state.hopeless(n) { done(hopeless) } else { String::new() };
    vec![
        mark(0, removed, String::new()),
        mark(n.cut_cells_earliest(), "Cut cells before giving".to_owned(), done(n.cut_cells_earliest())),
        mark(hopeless, "All cells cut: takes a caged queen well".to_owned(), hopeless_note),
        mark(n.own_virgin_from(), "Own virgin may be out: look first".to_owned(), looked),
        mark(n.laying_workers_from(), format!("Laying workers likely, to {}", to.short()), String::new()),
    ]
}

fn asks(s: &Setting<'_>, state: &State, since: Day, days: i32, cut: Option<Day>) -> String {
    let n = s.numbers;
    let looks = windows::first(n, Method::OwnRaising, since, None).1;
    if days >= n.laying_workers_from() {
        let to = since.plus(n.laying_workers_to());
        return format!(
            "Due now: look for laying workers, likely from {} to {}. With them no cage, cell or virgin.",
            since.plus(n.laying_workers_from()).short(),
            to.short()
        );
    }
    if state.hopeless(n) {
        let on = cut.map_or_else(String::new, |cut| format!(" {}", cut.short()));
        return format!("All cells cut{on}: hopelessly queenless, takes a caged queen well.");
    }
    if days >= n.own_virgin_from() {
        if let Some(looked) = state.looked_first {
            return format!("Looked through {}, no own virgin seen: a queen can be given.", looked.short());
        }
        return format!(
            "Due now: look first. Give no caged queen before. A virgin or an opened cell: first brood look {}.",
            looks.words()
        );
    }
    let (four, seven) = (since.plus(n.cut_cells_earliest()), since.plus(n.cells_hopeless_from()));
    if state.cut_since(since, n.cut_cells_earliest()) {
        return format!("Look for cells once more {}: larvae young enough last until then.", seven.short());
    }
    if days >= n.cut_cells_earliest() {
        return "Due now: cut cells before giving.".to_owned();
    }
    format!("Cut cells from {} before giving.", four.short())
}
