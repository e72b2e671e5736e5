//! The way into the solver: which method for which number of stops, which stops, in which order.

use std::cmp::Reverse;

use crate::planner::run::solver::choice::{most_urgent_set, never_fits, regret};
use crate::planner::run::solver::driving::least_driving;
use crate::planner::run::solver::exact::{Aim, Earliest, Small};
use crate::planner::run::solver::problem::{Answer, EXACT_STOPS, LeftOut, NoAnswer, Problem, Proof, WhyLeftOut};
use crate::planner::run::solver::search::search;
use crate::planner::run::solver::watch::Watch;

/// Rounds of trying for more than [`EXACT_STOPS`] stops that find good orders of 60 stops in about a second.
pub const ROUNDS: u32 = 20_000;

/// Proposes a run: the most urgent stops that can be done, in the order that is back at the base first and of those
/// the one with the least driving. Times count from the given leaving time, waiting included.
///
/// `rounds` says how long to try where no proof is attempted ([`ROUNDS`] is a good value); `watch` is told how far it
/// is and may stop it.
///
/// # Errors
/// [`NoAnswer`] when cancelled or when the numbers of the problem do not hang together. A day in which nothing fits is
/// an answer with an empty order.
pub fn solve(problem: &Problem, rounds: u32, watch: &dyn Watch) -> Result<Answer, NoAnswer> {
    problem.check()?;
    let mut problem = problem.clone();
    let unlocked = drop_impossible_locks(&mut problem);
    let left_out = never_fits(&problem);
    let mut kept: Vec<usize> = (0..problem.stops.len()).collect();
    kept.retain(|stop| left_out.iter().all(|out| out.stop != *stop));

    let answer = Answer { order: Vec::new(), proof: Proof::Shortest, left_out, choice: Proof::Shortest, unlocked };
    let mut answer = if kept.len() <= EXACT_STOPS {
        exact(problem, kept, answer, &|| watch.stopped())?
    } else {
        heuristic(problem, &kept, answer, rounds, watch)?
    };
    answer.left_out.sort_unstable();
    answer.unlocked.sort_unstable();
    Ok(answer)
}

fn exact(
    mut problem: Problem,
    kept: Vec<usize>,
    mut answer: Answer,
    cancel: &dyn Fn() -> bool,
) -> Result<Answer, NoAnswer> {
    if let Some(order) = shortest(&problem, &kept, cancel)? {
        return Ok(Answer { order, ..answer });
    }
    let set = most_urgent_set(&problem.only(&kept), cancel)?;
    let chosen: Vec<usize> = set.iter().map(|&at| kept[at]).collect();
    leave_out(&mut answer, kept.into_iter().filter(|stop| !chosen.contains(stop)));
    loop {
        if let Some(order) = shortest(&problem, &chosen, cancel)? {
            return Ok(Answer { order, ..answer });
        }
        // The set can be done, so only locks stand in the way: one that does it alone, or else the first to try.
        let locks = locks_to_give_up(&problem, &chosen);
        let mut off = locks.first().copied();
        for &lock in &locks {
            if fits(&unlocked(&problem, &[lock]), &chosen, cancel)? {
                off = Some(lock);
                break;
            }
        }
        let Some(off) = off else { return Err(NoAnswer::Shape) };
        problem = unlocked(&problem, &[off]);
        answer.unlocked.push(off);
    }
}

fn heuristic(
    mut problem: Problem,
    kept: &[usize],
    mut answer: Answer,
    rounds: u32,
    watch: &dyn Watch,
) -> Result<Answer, NoAnswer> {
    let mut found = search(&problem.only(kept), rounds, watch)?;
    let locks = locks_to_give_up(&problem, kept);
    if !found.left_out.is_empty() && !locks.is_empty() {
        let part = problem.only(kept);
        let free = search(&unlocked(&problem, &locks).only(kept), rounds, watch)?;
        if regret(&part, &free.left_out) < regret(&part, &found.left_out) {
            let mut off = locks.clone();
            found = free;
            for lock in locks {
                let without = search(&unlocked(&problem, &[lock]).only(kept), rounds, watch)?;
                if regret(&part, &without.left_out) <= regret(&part, &found.left_out) {
                    (found, off) = (without, vec![lock]);
                    break;
                }
            }
            problem = unlocked(&problem, &off);
            answer.unlocked.extend(off);
        }
    }
    let order: Vec<usize> = found.order.iter().map(|&at| kept[at]).collect();
    if !found.left_out.is_empty() {
        answer.choice = Proof::Heuristic;
    }
    leave_out(&mut answer, found.left_out.iter().map(|&at| kept[at]));
    // When few enough of many stops fit in, their order at least can be proven.
    if order.len() <= EXACT_STOPS {
        let mut stops = order.clone();
        stops.sort_unstable();
        if let Some(order) = shortest(&problem, &stops, &|| watch.stopped())? {
            return Ok(Answer { order, ..answer });
        }
    }
    Ok(Answer { order, proof: Proof::Heuristic, ..answer })
}

/// The proven best order of exactly these stops, nothing if they cannot all be done.
fn shortest(problem: &Problem, kept: &[usize], cancel: &dyn Fn() -> bool) -> Result<Option<Vec<usize>>, NoAnswer> {
    if kept.is_empty() {
        return Ok(Some(Vec::new()));
    }
    let small = Small::new(&part(problem, kept));
    let earliest = Earliest::fill(&small, Aim::All, cancel)?;
    let Some(back) = earliest.back(&small, small.full()) else { return Ok(None) };
    let found = least_driving(&small, earliest, back, cancel)?;
    Ok(found.map(|(order, _)| order.into_iter().map(|at| kept[at]).collect()))
}

/// Whether these stops can all be done, locks kept.
fn fits(problem: &Problem, kept: &[usize], cancel: &dyn Fn() -> bool) -> Result<bool, NoAnswer> {
    let small = Small::new(&part(problem, kept));
    Ok(Earliest::fill(&small, Aim::All, cancel)?.back(&small, small.full()).is_some())
}

fn part(problem: &Problem, kept: &[usize]) -> Problem {
    let mut part = problem.only(kept);
    slide_locks(&mut part);
    part
}

fn leave_out(answer: &mut Answer, stops: impl Iterator<Item = usize>) {
    answer.left_out.extend(stops.map(|stop| LeftOut { stop, why: WhyLeftOut::NoTimeLeft }));
}

/// The locked ones among the stops, in the order in which their locks are given up: least urgent first, then from the
/// end of the run.
fn locks_to_give_up(problem: &Problem, stops: &[usize]) -> Vec<usize> {
    let mut locked: Vec<usize> = stops.iter().copied().filter(|&stop| problem.stops[stop].lock.is_some()).collect();
    locked.sort_by_key(|&stop| (problem.stops[stop].urgency, Reverse(problem.stops[stop].lock)));
    locked
}

fn unlocked(problem: &Problem, stops: &[usize]) -> Problem {
    let mut problem = problem.clone();
    for &stop in stops {
        problem.stops[stop].lock = None;
    }
    problem
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
