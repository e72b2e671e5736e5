//! The way into the solver: which method for which number of stops, which stops, in which order.

use crate::planner::run::solver::choice::{least_urgent, most_urgent_set, never_fits};
use crate::planner::run::solver::driving::least_driving;
use crate::planner::run::solver::exact::{Aim, Earliest, Small};
use crate::planner::run::solver::problem::{Answer, EXACT_STOPS, LeftOut, NoAnswer, Problem, Proof, WhyLeftOut};
use crate::planner::run::solver::search::search;

/// Rounds of trying for more than [`EXACT_STOPS`] stops that find good orders of 60 stops in about a second.
pub const ROUNDS: u32 = 20_000;

/// Proposes a run: the most urgent stops that can be done, in the order that is back at the base first and of those
/// the one with the least driving. Times count from the given leaving time, waiting included.
///
/// `rounds` says how long to try where no proof is attempted ([`ROUNDS`] is a good value); `cancel` is asked often
/// and stops the work when it says true.
///
/// # Errors
/// [`NoAnswer`] when cancelled or when the numbers of the problem do not hang together. A day in which nothing fits is
/// an answer with an empty order.
pub fn solve(problem: &Problem, rounds: u32, cancel: &dyn Fn() -> bool) -> Result<Answer, NoAnswer> {
    problem.check()?;
    let mut problem = problem.clone();
    let unlocked = drop_impossible_locks(&mut problem);
    let mut left_out = never_fits(&problem);
    let mut kept: Vec<usize> = (0..problem.stops.len()).collect();
    kept.retain(|stop| left_out.iter().all(|out| out.stop != *stop));

    let (order, proof, choice) = if kept.len() <= EXACT_STOPS {
        let (order, choice) = exact(&problem, kept, &mut left_out, cancel)?;
        (order, Proof::Shortest, choice)
    } else {
        heuristic(&problem, &kept, &mut left_out, rounds, cancel)?
    };
    left_out.sort_unstable();
    Ok(Answer { order, proof, left_out, choice, unlocked })
}

fn exact(
    problem: &Problem,
    mut kept: Vec<usize>,
    left_out: &mut Vec<LeftOut>,
    cancel: &dyn Fn() -> bool,
) -> Result<(Vec<usize>, Proof), NoAnswer> {
    if let Some(order) = shortest(problem, &kept, cancel)? {
        return Ok((order, Proof::Shortest));
    }
    let set = most_urgent_set(&problem.only(&kept), cancel)?;
    let chosen: Vec<usize> = set.iter().map(|&at| kept[at]).collect();
    leave_out(left_out, &mut kept, WhyLeftOut::NoTimeLeft, |stop| !chosen.contains(&stop));
    let mut choice = Proof::Shortest;
    loop {
        if let Some(order) = shortest(problem, &kept, cancel)? {
            return Ok((order, choice));
        }
        // The set can be done, so only the locks stand in the way.
        choice = Proof::Heuristic;
        let drop = least_urgent(problem, &kept);
        leave_out(left_out, &mut kept, WhyLeftOut::LockedPlaces, |stop| Some(stop) == drop);
    }
}

fn heuristic(
    problem: &Problem,
    kept: &[usize],
    left_out: &mut Vec<LeftOut>,
    rounds: u32,
    cancel: &dyn Fn() -> bool,
) -> Result<(Vec<usize>, Proof, Proof), NoAnswer> {
    let found = search(&problem.only(kept), rounds, cancel)?;
    let order: Vec<usize> = found.order.iter().map(|&at| kept[at]).collect();
    let choice = if found.left_out.is_empty() { Proof::Shortest } else { Proof::Heuristic };
    left_out.extend(found.left_out.iter().map(|out| LeftOut { stop: kept[out.stop], why: out.why }));
    // When few enough of many stops fit in, their order at least can be proven.
    if order.len() <= EXACT_STOPS {
        let mut stops = order.clone();
        stops.sort_unstable();
        if let Some(order) = shortest(problem, &stops, cancel)? {
            return Ok((order, Proof::Shortest, choice));
        }
    }
    Ok((order, Proof::Heuristic, choice))
}

/// The proven best order of exactly these stops, nothing if they cannot all be done.
fn shortest(problem: &Problem, kept: &[usize], cancel: &dyn Fn() -> bool) -> Result<Option<Vec<usize>>, NoAnswer> {
    if kept.is_empty() {
        return Ok(Some(Vec::new()));
    }
    let mut part = problem.only(kept);
    slide_locks(&mut part);
    let small = Small::new(&part);
    let earliest = Earliest::fill(&small, Aim::All, cancel)?;
    let Some((back, _)) = earliest.back(&small, small.full()) else { return Ok(None) };
    let found = least_driving(&small, earliest, back, cancel)?;
    Ok(found.map(|(order, _)| order.into_iter().map(|at| kept[at]).collect()))
}

fn leave_out(left_out: &mut Vec<LeftOut>, kept: &mut Vec<usize>, why: WhyLeftOut, which: impl Fn(usize) -> bool) {
    left_out.extend(kept.iter().filter(|&&stop| which(stop)).map(|&stop| LeftOut { stop, why }));
    kept.retain(|&stop| !which(stop));
}

/// Places in the order that belong to a rank.
fn places_of_rank(problem: &Problem, rank: u8) -> std::ops::Range<usize> {
    let lower = problem.stops.iter().filter(|stop| stop.rank < rank).count();
    lower..lower + problem.stops.iter().filter(|stop| stop.rank == rank).count()
}

/// Takes away locks that contradict the ranks, an earlier-numbered lock or the number of stops; says which.
fn drop_impossible_locks(problem: &mut Problem) -> Vec<usize> {
    let mut taken = Vec::new();
    let mut dropped = Vec::new();
    for stop in 0..problem.stops.len() {
        let Some(place) = problem.stops[stop].lock else { continue };
        if places_of_rank(problem, problem.stops[stop].rank).contains(&place) && !taken.contains(&place) {
            taken.push(place);
        } else {
            problem.stops[stop].lock = None;
            dropped.push(stop);
        }
    }
    dropped
}

/// Brings the locked places inside a run that has become shorter: as far back as the stops of the rank allow.
fn slide_locks(problem: &mut Problem) {
    let mut locked: Vec<(u8, usize, usize)> = Vec::new();
    for (at, stop) in problem.stops.iter().enumerate() {
        locked.extend(stop.lock.map(|place| (stop.rank, place, at)));
    }
    locked.sort_unstable();
    let mut limit = problem.stops.len();
    for &(rank, place, at) in locked.iter().rev() {
        limit = limit.min(places_of_rank(problem, rank).end);
        limit = place.min(limit.saturating_sub(1));
        problem.stops[at].lock = Some(limit);
    }
}
