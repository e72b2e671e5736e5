//! The times of an order of stops, whoever made it, and what is wrong with it.

use crate::planner::run::solver::problem::Problem;

/// The drive to one stop and the work there. All in seconds, times as seconds of the day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Leg {
    /// Which stop.
    pub stop: usize,
    /// Driving to it.
    pub drive: u32,
    /// Arrival.
    pub arrive: u32,
    /// Waiting until it opens.
    pub wait: u32,
    /// Work begins.
    pub start: u32,
    /// Work has ended.
    pub leave: u32,
}

/// What an order breaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Violation {
    /// Work ends this many seconds after the closing time.
    Late {
        /// Which stop.
        stop: usize,
        /// Seconds too late.
        by: u32,
    },
    /// The stop comes after one of a higher rank.
    OutOfRank {
        /// Which stop.
        stop: usize,
        /// The last stop before it that should come after it.
        after: usize,
    },
    /// The stop is not at the place where it is locked.
    OffLock {
        /// Which stop.
        stop: usize,
        /// The place where it stands in the order, from 0.
        place: usize,
    },
    /// The vehicle is back this many seconds too late.
    BackLate {
        /// Seconds too late.
        by: u32,
    },
}

/// The day of one vehicle.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Timetable {
    /// One leg a stop, in order.
    pub legs: Vec<Leg>,
    /// Driving back to the base, seconds.
    pub drive_back: u32,
    /// Second of the day at the base again.
    pub back: u32,
    /// All driving, seconds.
    pub driving: u32,
    /// All waiting, seconds.
    pub waiting: u32,
    /// All work at stops, seconds.
    pub service: u32,
    /// From leaving the base to being back, seconds.
    pub total: u32,
    /// What the order breaks; nothing for a run that can be done as it stands.
    pub violations: Vec<Violation>,
}

/// Works out the times of an order. Nothing is refused: the vehicle waits where it comes too early and is late where
/// it comes too late, and every violation is listed in the order of the run.
/// The problem has passed [`Problem::check`]. `order` may leave stops out; numbers
/// that name no stop are passed over.
pub fn timetable(problem: &Problem, order: &[usize]) -> Timetable {
    times(problem, order, &|from, to| problem.drive[from][to])
}

/// The same with drives told one by one instead of by the problem's table, which may be empty: from and to count as in
/// [`Problem::drive`]. Of a given order only the drives along it are asked for.
pub fn times(problem: &Problem, order: &[usize], drive: &dyn Fn(usize, usize) -> u32) -> Timetable {
    let mut table = Timetable {
        legs: Vec::with_capacity(order.len()),
        drive_back: 0,
        back: problem.leave,
        driving: 0,
        waiting: 0,
        service: 0,
        total: 0,
        violations: Vec::new(),
    };
    let mut now = problem.leave;
    let mut here = 0;
    let mut highest: Option<usize> = None;
    for (place, &stop) in order.iter().enumerate().filter(|&(_, &stop)| stop < problem.stops.len()) {
        let there = &problem.stops[stop];
        let driven = drive(here, stop + 1);
        let arrive = now.saturating_add(driven);
        let start = arrive.max(there.open);
        let leave = start.saturating_add(there.service);
        let wait = start - arrive;
        table.legs.push(Leg { stop, drive: driven, arrive, wait, start, leave });
        table.driving = table.driving.saturating_add(driven);
        table.waiting = table.waiting.saturating_add(wait);
        table.service = table.service.saturating_add(there.service);
        if leave > there.close {
            table.violations.push(Violation::Late { stop, by: leave - there.close });
        }
        match highest {
            Some(after) if problem.stops[after].rank > there.rank => {
                table.violations.push(Violation::OutOfRank { stop, after });
            }
            _ => highest = Some(stop),
        }
        if there.lock.is_some_and(|locked| locked != place) {
            table.violations.push(Violation::OffLock { stop, place });
        }
        now = leave;
        here = stop + 1;
    }
    table.drive_back = drive(here, 0);
    table.driving = table.driving.saturating_add(table.drive_back);
    table.back = now.saturating_add(table.drive_back);
    table.total = table.back - problem.leave;
    if let Some(by) = problem.back.and_then(|limit| table.back.checked_sub(limit)).filter(|&by| by > 0) {
        table.violations.push(Violation::BackLate { by });
    }
    table
}

#[cfg(test)]
mod tests {
    use super::{Leg, Violation, timetable};
    use crate::planner::run::solver::problem::{Problem, Stop};

    const HOUR: u32 = 3600;

    fn stop(open: u32, close: u32) -> Stop {
        Stop { service: 600, open, close, rank: 0, lock: None, urgency: 0 }
    }

    /// Three stops, every drive a quarter of an hour, leaving at eight.
    fn three() -> Problem {
        let mut drive = vec![vec![900; 4]; 4];
        (0..4).for_each(|at| drive[at][at] = 0);
        let stops = vec![stop(9 * HOUR, 12 * HOUR), stop(0, 24 * HOUR), stop(0, 24 * HOUR)];
        Problem { drive, stops, leave: 8 * HOUR, back: None }
    }

    #[test]
    fn adds_driving_waiting_and_work() {
        let table = timetable(&three(), &[0, 1, 2]);
        let first =
            Leg { stop: 0, drive: 900, arrive: 8 * HOUR + 900, wait: 2700, start: 9 * HOUR, leave: 9 * HOUR + 600 };
        assert_eq!(table.legs[0], first);
        assert_eq!((table.driving, table.waiting, table.service), (3600, 2700, 1800));
        assert_eq!(table.total, 3600 + 2700 + 1800);
        assert_eq!(table.back, 8 * HOUR + table.total);
        assert!(table.violations.is_empty());
    }

    #[test]
    fn tells_every_violation_and_refuses_nothing() {
        let mut problem = three();
        problem.stops[0].close = 9 * HOUR;
        problem.stops[1].rank = 2;
        problem.stops[2].lock = Some(0);
        problem.back = Some(9 * HOUR);
        let table = timetable(&problem, &[1, 2, 0]);
        assert_eq!(
            table.violations,
            [
                Violation::OutOfRank { stop: 2, after: 1 },
                Violation::OffLock { stop: 2, place: 1 },
                Violation::Late { stop: 0, by: 900 },
                Violation::OutOfRank { stop: 0, after: 1 },
                Violation::BackLate { by: 1800 },
            ]
        );
    }

    #[test]
    fn an_empty_order_stays_at_the_base() {
        let table = timetable(&three(), &[]);
        assert_eq!((table.legs.len(), table.total, table.driving), (0, 0, 0));
    }
}
