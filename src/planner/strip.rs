//! The day strip: what each of the coming days holds, what a span of days catches, and what putting a day off breaks.

use std::collections::BTreeSet;

use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, YardId};
use crate::domain::work::{DueWork, WorkKind};
use crate::planner::outlook::Outlook;

/// What one day holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StripDay {
    /// The day.
    pub day: Day,
    /// Looks due: their best day is this day; for the first day of the strip also those whose best day has passed.
    pub looks: u32,
    /// Steps due, counted likewise.
    pub steps: u32,
    /// Looks and steps whose window is open on this day; for the first day of the strip also late ones.
    pub open: u32,
    /// Late by this day, if nothing is done until then.
    pub late: u32,
    /// The yards with due work of this day.
    pub yards: BTreeSet<YardId>,
}

impl StripDay {
    /// Looks and steps due.
    pub fn due(&self) -> u32 {
        self.looks + self.steps
    }
}

/// The strip of `days` days from `first` on; of one yard alone where that is asked.
pub fn strip(outlook: &Outlook, first: Day, days: usize, only: Option<YardId>) -> Vec<StripDay> {
    let mut cells: Vec<StripDay> = (0..days as i32)
        .map(|at| StripDay { day: first.plus(at), looks: 0, steps: 0, open: 0, late: 0, yards: BTreeSet::new() })
        .collect();
    for (yard, work) in outlook.work().filter(|(yard, _)| only.is_none_or(|only| only == *yard)) {
        for (at, cell) in cells.iter_mut().enumerate() {
            let due = work.window.best == cell.day || (at == 0 && work.window.best < cell.day);
            if due {
                match work.kind {
                    WorkKind::Look(_) => cell.looks += 1,
                    WorkKind::Step(_) => cell.steps += 1,
                }
                cell.yards.insert(yard);
            }
            let late = work.window.latest.is_some_and(|latest| latest < cell.day);
            cell.open += u32::from(work.window.open_on(cell.day) && (at == 0 || !late));
            cell.late += u32::from(late);
        }
    }
    cells
}

/// What going out on the days of a span would catch.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Catch {
    /// Work that falls due in the span: its best day lies in it, or its window ends in it, or it is late already.
    pub of: u32,
    /// Of these, how many can be done in time on some day of the span.
    pub caught: u32,
    /// Yards concerned.
    pub yards: BTreeSet<YardId>,
}

/// What a span of days would catch, both days included.
pub fn catches(outlook: &Outlook, from: Day, to: Day) -> Catch {
    let mut catch = Catch::default();
    for (yard, work) in outlook.work() {
        let window = &work.window;
        let ends_after = window.latest.is_none_or(|latest| latest > to);
        if window.best > to && ends_after {
            continue;
        }
        catch.of += 1;
        if window.earliest <= to && window.latest.is_none_or(|latest| latest >= from) {
            catch.caught += 1;
            catch.yards.insert(yard);
        }
    }
    catch
}

/// One piece of work that would be late if a day were put off.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Broken {
    /// The yard.
    pub yard: YardId,
    /// The colony.
    pub colony: ColonyId,
    /// What.
    pub kind: WorkKind,
    /// Its latest day.
    pub latest: Day,
}

/// What is open on a day and would be late if it were done only on another, later day.
pub fn put_off(outlook: &Outlook, day: Day, to: Day) -> Vec<Broken> {
    let broken = |(yard, work): (YardId, &DueWork)| {
        let latest = work.window.latest?;
        let breaks = work.window.open_on(day) && latest >= day && latest < to;
        breaks.then_some(Broken { yard, colony: work.colony, kind: work.kind, latest })
    };
    outlook.work().filter_map(broken).collect()
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::domain::ids::{ColonyId, YardId};
    use crate::domain::work::{Look, Step, Window};
    use crate::planner::outlook::{ColonyView, YardView};

    const YARD: YardId = YardId::from_number(1);

    fn day(iso: &str) -> Day {
        Day::from_iso(iso).expect("a day")
    }

    /// One yard in which each of these windows belongs to a hive of its own.
    fn outlook(works: &[(WorkKind, Window)]) -> Outlook {
        let world = crate::domain::world::World::default();
        let mut outlook = Outlook::default();
        let mut yard = YardView::default();
        for (at, (kind, window)) in works.iter().enumerate() {
            let colony = ColonyId::from_number(at as u128 + 10);
            let Some(mut view) = plain_view(&world, colony) else { panic!("a view") };
            view.standing.work.push(DueWork {
                colony,
                kind: *kind,
                window: *window,
                counted_from: window.earliest,
                method: None,
                plan: None,
                why: String::new(),
                look_for: String::new(),
            });
            let view = Arc::new(view);
            yard.add(colony, &view, day("2026-01-01"));
            outlook.colonies.insert(colony, view);
        }
        outlook.yards.insert(YARD, yard);
        outlook
    }

    fn plain_view(world: &crate::domain::world::World, id: ColonyId) -> Option<ColonyView> {
        use crate::domain::colony::{Colony, FirstQueen, Founding, Lid, Named, Stand};
        let from = day("2026-01-01");
        let colony = Colony {
            id,
            names: vec![Named { name: "B1".to_owned(), from }],
            stands: vec![Stand { yard: YARD, spot: None, from }],
            lid: Lid::default(),
            founded: from,
            how: Founding::Known,
            began_with: FirstQueen::Unknown,
            ended: None,
            note: String::new(),
            corrected: Vec::new(),
        };
        let mut world = world.clone();
        world.colonies.insert(id, Arc::new(colony));
        ColonyView::of(&world, id, from)
    }

    const LOOK: WorkKind = WorkKind::Look(Look::Acceptance);

    fn caged(iso: &str) -> (WorkKind, Window) {
        (LOOK, Window::after(day(iso), 7, 10, 14))
    }

    #[test]
    fn each_day_holds_what_is_best_done_on_it_and_today_what_is_overdue() {
        let give = (WorkKind::Step(Step::Give), Window::after(day("2026-11-24"), 0, 0, 1));
        let outlook = outlook(&[caged("2026-11-14"), caged("2026-11-02"), give]);
        let strip = strip(&outlook, day("2026-11-23"), 3, None);
        assert_eq!((strip[0].looks, strip[0].steps, strip[0].open, strip[0].late), (1, 0, 2, 1));
        assert_eq!(
            (strip[1].looks, strip[1].steps, strip[1].open),
            (1, 1, 2),
            "late work is shown on the first day alone"
        );
        assert_eq!((strip[2].due(), strip[2].open), (0, 2));
    }

    #[test]
    fn a_span_says_what_it_catches_and_putting_off_what_it_breaks() {
        let outlook = outlook(&[caged("2026-11-14"), caged("2026-11-10"), caged("2026-11-20")]);
        let span = catches(&outlook, day("2026-11-25"), day("2026-11-26"));
        assert_eq!((span.of, span.caught), (2, 1), "the first is still open, the second ended on the 24th");
        let broken = put_off(&outlook, day("2026-11-24"), day("2026-11-26"));
        assert_eq!(broken.len(), 1);
        assert_eq!(broken[0].latest, day("2026-11-24"));
    }
}
