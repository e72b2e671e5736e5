//! The queenless clock: what the days since D mean for a colony without a queen and with nothing given.

use crate::domain::bar::BarKind;
use crate::domain::day::Day;
use crate::domain::standing::age::season_words;
use crate::domain::standing::state::{Setting, Stage, State};
use crate::domain::standing::{ActiveBar, Clock, ClockMark, windows};
use crate::domain::visit::Method;

/// The clock, where it runs: in a waiting colony, and after a failure that left no queen.
pub(super) fn clock(s: &Setting<'_>, state: &State, bars: &[ActiveBar], today: Day) -> Option<Clock> {
    let runs = match &state.stage {
        Stage::Waiting => true,
        Stage::Failed(failed) => !failed.queen_there,
        _ => false,
    };
    let since = state.d.filter(|d| runs && *d <= today)?;
    let n = s.numbers;
    let days = today.since(since);
    let cut = state.cells_cut.filter(|cut| *cut >= since);
    let no_cells = state.no_cells.filter(|on| *on >= since && Some(*on) > cut);
    let hopeless = state.hopeless(n);
    let workers_found = bars.iter().find(|bar| bar.kind == BarKind::LayingWorkers).map(|bar| bar.from);
    let virgin = days >= n.own_virgin_from() && !hopeless && state.looked_first.is_none();
    let workers = days >= n.laying_workers_from();
    Some(Clock {
        since,
        days,
        cells_cut: cut,
        no_cells,
        marks: marks(s, state, since, (cut, no_cells), workers_found, today),
        asks: asks(s, state, since, (cut, no_cells), workers_found, today),
        alarm: virgin || workers,
    })
}

fn marks(
    s: &Setting<'_>,
    state: &State,
    since: Day,
    (cut, no_cells): (Option<Day>, Option<Day>),
    workers_found: Option<Day>,
    today: Day,
) -> Vec<ClockMark> {
    let n = s.numbers;
    let mark = |days: i32, words: String, note: String| ClockMark { days, day: since.plus(days), words, note };
    let removed = match &state.removed {
        Some(queen) if matches!(state.stage, Stage::Waiting) => {
            let age = season_words(queen.birth, s.world, since).map_or_else(String::new, |age| format!(", {age}"));
            format!("Old queen removed{age}")
        }
        _ => "Queenless since".to_owned(),
    };
    let reached = |on: Option<Day>, from: i32| on.filter(|on| *on >= since.plus(from));
    let done = |from: i32| match (reached(cut, from), reached(no_cells, from)) {
        (_, Some(on)) => format!("none seen {}", on.short()),
        (Some(cut), None) => format!("done {}", cut.short()),
        (None, None) if today >= since.plus(from) => "not done".to_owned(),
        (None, None) => String::new(),
    };
    let looked = state.looked_first.map_or_else(String::new, |on| format!("looked {}", on.short()));
    let to = since.plus(n.laying_workers_to());
    let workers = workers_found.map_or_else(String::new, |on| format!("found {}", on.short()));
    let hopeless = n.cells_hopeless_from();
    let hopeless_note = if state.hopeless(n) { done(hopeless) } else { String::new() };
    vec![
        mark(0, removed, String::new()),
        mark(n.cut_cells_earliest(), "Cut cells before giving".to_owned(), done(n.cut_cells_earliest())),
        mark(hopeless, "All cells cut: takes a caged queen well".to_owned(), hopeless_note),
        mark(n.own_virgin_from(), "Own virgin may be out: look first".to_owned(), looked),
        mark(n.laying_workers_from(), format!("Laying workers likely, to {}", to.short()), workers),
    ]
}

fn asks(
    s: &Setting<'_>,
    state: &State,
    since: Day,
    (cut, no_cells): (Option<Day>, Option<Day>),
    workers_found: Option<Day>,
    today: Day,
) -> String {
    let n = s.numbers;
    let days = today.since(since);
    let looks = windows::first(n, Method::OwnRaising, since, None).1;
    if let Some(found) = workers_found {
        return format!("Laying workers found {}: unite or shake out. No cage, cell or virgin.", found.short());
    }
    let workers_from = since.plus(n.laying_workers_from());
    let looked_late = state.looked_first.filter(|on| *on >= workers_from);
    if today >= workers_from && looked_late.is_none() {
        let to = since.plus(n.laying_workers_to());
        return format!(
            "Due now: look for laying workers, likely from {} to {}. With them no cage, cell or virgin.",
            workers_from.short(),
            to.short()
        );
    }
    if state.hopeless(n) {
        let (what, on) = if no_cells.is_some() { ("No cells", no_cells) } else { ("All cells cut", cut) };
        let on = on.map_or_else(String::new, |on| format!(" {}", on.short()));
        return format!("{what}{on}: hopelessly queenless, takes a caged queen well.");
    }
    if days >= n.own_virgin_from() {
        if let Some(looked) = state.looked_first {
            let unseen = if looked_late.is_some() { "laying workers" } else { "own virgin" };
            let on = looked.short();
            return match state.rival_cells {
                Some(_) => format!("Due now: cut cells before giving. Looked through {on}, no {unseen} seen."),
                None => format!("Looked through {on}, no {unseen} seen: a queen can be given."),
            };
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
