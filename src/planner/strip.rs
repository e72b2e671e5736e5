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
    /// Looks and steps whose window is open on this day, late ones included.
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
            cell.open += u32::from(work.window.open_on(cell.day));
            cell.late += u32::from(work.window.latest.is_some_and(|latest| latest < cell.day));
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
        let ends_by = window.latest.is_some_and(|latest| latest <= to);
        if !(window.best <= to && window.best >= from || ends_by || window.best < from) {
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
