//! The evening as one change: new visits, and amendments of what was recorded before.

use uuid::Uuid;

use crate::domain::change::{Amendment, Change, Occasion};
use crate::domain::day::Day;
use crate::domain::decide::{decide, title};
use crate::domain::evening::correction;
use crate::domain::grammar::codes::{CodeError, parse};
use crate::domain::grammar::resolve::{Choice, resolve};
use crate::domain::in_hand::draw::Hand;
use crate::domain::initials;
use crate::domain::run_order::RunOrder;
use crate::domain::world::World;
use crate::planner::outlook::ColonyView;
use crate::ui::scene::Scene;
use crate::ui::screens::evening::rows::{Row, Rows};

/// The day, who was there, and why older rows are put right.
#[derive(Clone, Copy, Debug)]
pub(super) struct About<'a> {
    pub day: Day,
    pub by: &'a str,
    pub reason: &'a str,
}

/// The change that records the rows; nothing where there is nothing to record.
///
/// # Errors
/// The row that cannot be recorded, and why.
pub(super) fn change_of(
    world: &World,
    rows: &Rows,
    about: About<'_>,
    mint: &mut dyn FnMut() -> Uuid,
) -> Result<Option<Change>, (usize, CodeError)> {
    let mut hand = Hand::of(world);
    let mut visits = Vec::new();
    let mut queens = Vec::new();
    let mut amendments = Vec::new();
    for (at, row) in rows.hives.iter().enumerate().filter(|(_, row)| row.is_changed()) {
        let fail = |error| (at, error);
        if row.kept.is_some() {
            amendments.extend(amend(world, row, about, mint).map_err(fail)?);
            continue;
        }
        let codes = parse(&row.text).map_err(fail)?;
        let choice = Choice { from: rows.from(&mut hand, row, about.day), ..Choice::default() };
        let made = resolve(&mut hand, row.colony, about.day, about.by, &codes, &choice, mint).map_err(fail)?;
        visits.push(made.0);
        queens.extend(made.1);
    }
    let amended = amendments.len();
    let mut changes: Vec<Change> = amendments.into_iter().map(|it| Change::Amend(Box::new(it))).collect();
    if !visits.is_empty() {
        let evening = rows.evening.unwrap_or_else(&mut *mint);
        changes.insert(0, Change::Visits { occasion: Occasion::Evening(evening), visits, queens });
    }
    if amended == 0 {
        return Ok(changes.pop());
    }
    let words = if amended == 1 { "1 row" } else { &format!("{amended} rows") };
    let title = format!("Evening of {}, {words} put right", about.day.with_weekday());
    Ok(Some(Change::Several { title, changes }))
}

/// The evening with the run it was entered from, where that is not kept yet: opened again, its rows stand in the same order.
/// One undo takes both back.
pub(super) fn with_run(world: &World, evening: Change, run: Option<RunOrder>) -> Change {
    let Some(run) = run else { return evening };
    let title = title(world, &evening);
    let mut changes = match evening {
        Change::Several { changes, .. } => changes,
        one => vec![one],
    };
    changes.push(Change::PutRun(run));
    Change::Several { title, changes }
}

/// The amendment of a row that was recorded; emptied, its record is taken back.
fn amend(
    world: &World,
    row: &Row,
    about: About<'_>,
    mint: &mut dyn FnMut() -> Uuid,
) -> Result<Option<Amendment>, CodeError> {
    let record = row.kept.as_ref().and_then(|kept| world.record(row.colony, kept.record));
    let Some(record) = record else {
        return Err(CodeError::new(0, "Its record is gone", "Open the evening again"));
    };
    if row.is_blank() {
        let whole = Amendment::of(row.colony, record.id, about.reason, about.by);
        return Ok(Some(Amendment { strike: true, ..whole }));
    }
    correction(world, record, None, &parse(&row.text)?, about.reason, about.by, mint)
}

/// What recording would bring about.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Check {
    /// Lid notes that would read otherwise.
    pub labels: usize,
    /// Rows that were recorded before and would be put right.
    pub amended: usize,
    /// Why it cannot be recorded as it stands.
    pub refusal: Option<String>,
}

/// Decides the evening without recording it.
pub(super) fn check(scene: &Scene, rows: &Rows, about: About<'_>) -> Check {
    let mut number = 0;
    let mut mint = || {
        number += 1;
        Uuid::from_u128(u128::MAX - number)
    };
    let about = About { reason: "put right", ..about };
    let amended = rows.hives.iter().filter(|row| row.kept.is_some() && row.is_changed()).count();
    let refused = |refusal: String| Check { labels: 0, amended, refusal: Some(refusal) };
    if let Err(refusal) = initials::read(about.by) {
        return refused(format!("{refusal}."));
    }
    let change = match change_of(&scene.world, rows, about, &mut mint) {
        Ok(Some(change)) => change,
        Ok(None) => return Check::default(),
        Err((at, error)) => {
            let name = rows.hives.get(at).map_or("", |row| row.name.as_str());
            return refused(format!("{name}: {}. {}.", error.what, error.remedy));
        }
    };
    let facts = match decide(&scene.world, &change, scene.today) {
        Ok(facts) => facts,
        Err(refusal) => return refused(format!("{refusal}.")),
    };
    let mut after = World::clone(&scene.world);
    after.advance_all(&facts);
    let differs = |row: &&Row| {
        let now = ColonyView::of(&after, row.colony, scene.today);
        let before = scene.outlook.colonies.get(&row.colony);
        now.is_some_and(|now| before.is_none_or(|before| before.note.lines != now.note.lines))
    };
    let labels = rows.hives.iter().filter(|row| row.is_changed()).filter(differs).count();
    Check { labels, amended, refusal: None }
}
