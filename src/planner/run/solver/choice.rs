//! Which stops to keep when not all of them fit into the day.

use crate::planner::run::solver::exact::{Aim, Earliest, Small, stops_in};
use crate::planner::run::solver::problem::{LeftOut, NoAnswer, Problem, WhyLeftOut};

/// Stops that fit on no run of this day, each with its reason, by number.
pub(super) fn never_fits(problem: &Problem) -> Vec<LeftOut> {
    let starts = problem.earliest_starts();
    let homes = problem.shortest_homes();
    let mut left_out = Vec::new();
    for (at, stop) in problem.stops.iter().enumerate() {
        let end = starts[at].saturating_add(stop.service);
        let why = if stop.open.saturating_add(stop.service) > stop.close {
            WhyLeftOut::WindowTooShort
        } else if end > stop.close {
            WhyLeftOut::ClosedBeforeArrival
        } else if problem.back.is_some_and(|back| end.saturating_add(homes[at]) > back) {
            WhyLeftOut::BackTooLate
        } else {
            continue;
        };
        left_out.push(LeftOut { stop: at, why });
    }
    left_out
}

/// The most urgent set that can be done, locks not looked at: as many as possible of the most urgent stops, then of
/// the next, and so on; among equals the set that is back first. Stops by number.
pub(super) fn most_urgent_set(problem: &Problem, cancel: &dyn Fn() -> bool) -> Result<Vec<usize>, NoAnswer> {
    let small = Small::new(problem);
    let earliest = Earliest::fill(&small, Aim::AnySet, cancel)?;
    let worth = worths(problem);
    let mut best = (0_u128, 0_i32, 0_usize);
    for set in 1..=small.full() {
        let value: u128 = stops_in(set).map(|stop| worth[stop]).sum();
        if value < best.0 {
            continue;
        }
        if let Some(back) = earliest.back(&small, set)
            && (value > best.0 || back < best.1)
        {
            best = (value, back, set);
        }
    }
    Ok(stops_in(best.2).collect())
}

/// One number a stop, so that a sum compares like the counts of stops at each level of urgency, highest level first.
/// Five bits hold a count of up to 20, 20 levels fit in 100 bits.
fn worths(problem: &Problem) -> Vec<u128> {
    let mut levels: Vec<u32> = problem.stops.iter().map(|stop| stop.urgency).collect();
    levels.sort_unstable();
    levels.dedup();
    let worth = |urgency: u32| 1_u128 << (5 * levels.partition_point(|&level| level < urgency));
    problem.stops.iter().map(|stop| worth(stop.urgency)).collect()
}

/// How bad it is to leave these stops out: compares like the lists of their urgencies, highest first.
pub(super) fn regret(problem: &Problem, left_out: &[usize]) -> Vec<u32> {
    let mut urgencies: Vec<u32> = left_out.iter().map(|&stop| problem.stops[stop].urgency).collect();
    urgencies.sort_unstable_by(|a, b| b.cmp(a));
    urgencies
}

/// The least urgent of the stops; among equals the one with the highest number.
pub(super) fn least_urgent(problem: &Problem, stops: &[usize]) -> Option<usize> {
    stops.iter().copied().min_by_key(|&stop| (problem.stops[stop].urgency, std::cmp::Reverse(stop)))
}
