//! A good order for many stops, found by trying: no proof.
//!
//! Ruin and recreate with removal of strings of neighbouring stops (J. Christiaens and G. Vanden Berghe, "Slack
//! induction by string removals", Transportation Science 54, 2020), changed for a single vehicle: several strings of
//! the one route are taken out. Worse orders are accepted less and less often. Between, and at the end, segments are
//! moved and turned round ([`Search::polish`]). The number of rounds is fixed, not the time, and the random numbers
//! are seeded: the same problem gives the same order everywhere.

use std::cmp::Reverse;

use crate::planner::run::solver::choice::{least_urgent, regret};
use crate::planner::run::solver::course::{Cost, Course};
use crate::planner::run::solver::problem::{NoAnswer, Problem};
use crate::planner::run::solver::random::Random;
use crate::planner::run::solver::watch::Watch;

/// In the acceptance of worse orders a second of total time weighs as much as so many seconds of driving.
const TIME_WEIGHT: i64 = 8;
/// Cost of a stop left out, doubled with each level of urgency; above any sum of times.
const LEFT_OUT: i64 = 1 << 34;
/// Strings taken out at once, and the stops in one; from memory of trials, no source.
const STRINGS: usize = 3;
const STRING_LENGTH: usize = 8;
/// One insertion place in so many is passed over at random (Christiaens and Vanden Berghe use 1 %).
const BLINK: usize = 100;
/// Polishings in a search, and the longest segment that one moves.
const POLISHINGS: u32 = 4;
const SEGMENT: usize = 3;
/// With locked stops a round costs about so many times more, so as many times fewer are made.
const LOCKED_EFFORT: u32 = 16;
const SEED: u64 = 20_261_124;

/// An order of some stops and the stops that did not fit in.
pub(super) struct Found {
    pub order: Vec<usize>,
    pub left_out: Vec<usize>,
}

/// The free stops in order, and those left out. Locked stops stand at their places and are not listed here.
#[derive(Clone)]
struct Plan {
    route: Vec<usize>,
    out: Vec<usize>,
    cost: Cost,
}

struct Search<'a> {
    problem: &'a Problem,
    course: Course<'a>,
    /// For each stop all others, nearest first.
    near: Vec<Vec<usize>>,
    /// Cost of leaving a stop out.
    penalty: Vec<i64>,
    random: Random,
}

/// Looks for an order in `rounds` rounds.
pub(super) fn search(problem: &Problem, rounds: u32, watch: &dyn Watch) -> Result<Found, NoAnswer> {
    let mut locked: Vec<usize> = (0..problem.stops.len()).filter(|&stop| problem.stops[stop].lock.is_some()).collect();
    let mut dropped = Vec::new();
    let (course, nothing) = loop {
        let course = Course::new(problem, &locked);
        if let Some(cost) = course.cost(&[]) {
            break (course, cost);
        }
        let Some(drop) = least_urgent(problem, &locked) else { return Err(NoAnswer::Shape) };
        locked.retain(|&stop| stop != drop);
        dropped.push(drop);
    };
    let mut search = Search {
        problem,
        course,
        near: nearest_first(problem),
        penalty: penalties(problem),
        random: Random::new(SEED),
    };
    let free = (0..problem.stops.len()).filter(|&stop| problem.stops[stop].lock.is_none()).collect();
    let mut now = search.recreate(Plan { route: Vec::new(), out: free, cost: nothing });
    search.polish(&mut now, watch);
    let mut best = now.clone();
    let heat = search.heat();
    let rounds = if search.course.has_locks() { rounds.div_ceil(LOCKED_EFFORT) } else { rounds };
    let polish_every = rounds.div_ceil(POLISHINGS);
    for round in 0..rounds {
        if round % 16 == 0 {
            if watch.stopped() {
                return Err(NoAnswer::Cancelled);
            }
            watch.reached(round, rounds);
        }
        let mut next = search.ruin(&now);
        next = search.recreate(next);
        if round % polish_every == polish_every - 1 {
            search.polish(&mut next, watch);
        }
        let left = i64::from(rounds - round);
        let all = i64::from(rounds);
        let slack = heat * left / all * left / all * i64::from(search.random.bits().leading_zeros());
        if search.scalar(&next) <= search.scalar(&now) + slack {
            now = next;
            if search.better(&now, &best) {
                best = now.clone();
            }
        }
    }
    search.polish(&mut best, watch);
    if watch.stopped() {
        return Err(NoAnswer::Cancelled);
    }
    let order = search.course.with_locked(&best.route);
    let left_out = best.out.into_iter().chain(dropped).collect();
    Ok(Found { order, left_out })
}

impl Search<'_> {
    fn scalar(&self, plan: &Plan) -> i64 {
        let missed: i64 = plan.out.iter().map(|&stop| self.penalty[stop]).sum();
        missed + plan.cost.time * TIME_WEIGHT + plan.cost.driving
    }

    fn better(&self, plan: &Plan, than: &Plan) -> bool {
        let key = |plan: &Plan| (regret(self.problem, &plan.out), plan.cost);
        key(plan) < key(than)
    }

    /// What a worse order may cost at first: half the mean drive to the nearest stop.
    fn heat(&self) -> i64 {
        let drives = self
            .near
            .iter()
            .enumerate()
            .filter_map(|(stop, near)| near.first().map(|&other| i64::from(self.problem.between(stop, other))));
        drives.sum::<i64>() * (TIME_WEIGHT + 1) / (2 * self.near.len().max(1) as i64)
    }

    /// Takes strings of stops near a random one out of the route.
    fn ruin(&mut self, plan: &Plan) -> Plan {
        let mut route = plan.route.clone();
        let mut out = plan.out.clone();
        if route.is_empty() {
            return plan.clone();
        }
        let seed = route[self.random.below(route.len())];
        for _ in 0..=self.random.below(STRINGS) {
            let centre = std::iter::once(&seed)
                .chain(&self.near[seed])
                .find_map(|&stop| route.iter().position(|&other| other == stop));
            let Some(centre) = centre else { break };
            let length = 1 + self.random.below(STRING_LENGTH.min(route.len()));
            let first = centre.saturating_sub(self.random.below(length)).min(route.len() - length);
            out.extend(route.drain(first..first + length));
        }
        Plan { route, out, cost: plan.cost }
    }

    /// Puts stops back, each where the whole run is then done earliest; those that fit nowhere stay out.
    fn recreate(&mut self, plan: Plan) -> Plan {
        let Plan { mut route, mut out, mut cost } = plan;
        out.sort_unstable();
        self.random.shuffle(&mut out);
        let stops = &self.problem.stops;
        match self.random.below(4) {
            0 => out.sort_by_key(|&stop| Reverse(stops[stop].urgency)),
            1 => out.sort_by_key(|&stop| stops[stop].close.saturating_sub(stops[stop].service)),
            2 => out.sort_by_key(|&stop| Reverse(self.problem.drive[0][stop + 1])),
            _ => {}
        }
        let mut still_out = Vec::new();
        let mut states = self.course.states(&route);
        let mut tails = self.course.tails(&route);
        if let Some(bare) = self.course.finish(states[route.len()], &[], Cost::MOST) {
            cost = bare;
        }
        for stop in out {
            let mut best: Option<(Cost, usize)> = None;
            for place in 0..=route.len() {
                if self.random.below(BLINK) == 0 || !self.may_stand(&route, place, stop) {
                    continue;
                }
                let limit = best.map_or(Cost::MOST, |(cost, _)| cost);
                let whole = if let Some(tails) = &tails {
                    self.course.join(states[place], &[stop], route.get(place).copied(), &tails[place], limit)
                } else {
                    let after = self.course.go(states[place], stop);
                    after.and_then(|after| self.course.finish(after, &route[place..], limit))
                };
                if let Some(cost) = whole.filter(|&cost| cost < limit) {
                    best = Some((cost, place));
                }
            }
            if let Some((whole, place)) = best {
                route.insert(place, stop);
                cost = whole;
                self.course.update(&mut states, &route, place);
                tails = self.course.tails(&route);
            } else {
                still_out.push(stop);
            }
        }
        Plan { route, out: still_out, cost }
    }

    fn may_stand(&self, route: &[usize], place: usize, stop: usize) -> bool {
        let rank = |stop: usize| self.problem.stops[stop].rank;
        (place == 0 || rank(route[place - 1]) <= rank(stop))
            && route.get(place).is_none_or(|&next| rank(stop) <= rank(next))
    }

    /// Moves segments of up to [`SEGMENT`] stops elsewhere, either way round, and turns longer ones round, as long as
    /// the run gets better.
    fn polish(&self, plan: &mut Plan, watch: &dyn Watch) {
        let mut first = 0;
        let mut in_vain = 0;
        while in_vain < plan.route.len() && !watch.stopped() {
            if let Some((cost, route)) = self.better_neighbour(plan, first) {
                plan.route = route;
                plan.cost = cost;
                in_vain = 0;
            } else {
                in_vain += 1;
                first = (first + 1) % plan.route.len();
            }
        }
    }

    /// The best of the changes to segments that begin at `first`, if one makes the run better.
    fn better_neighbour(&self, plan: &Plan, first: usize) -> Option<(Cost, Vec<usize>)> {
        let route = &plan.route;
        let states = self.course.states(route);
        let tails = self.course.tails(route);
        let mut best: Option<(Cost, Vec<usize>)> = None;
        // Puts `middle` in the place of the stops from `from` to `to`.
        let mut try_middle = |from: usize, to: usize, middle: &[usize]| {
            let limit = best.as_ref().map_or(plan.cost, |&(cost, _)| cost);
            let whole = if let Some(tails) = &tails {
                self.course.join(states[from], middle, route.get(to).copied(), &tails[to], limit)
            } else {
                self.course.finish(states[from], &[middle, &route[to..]].concat(), limit)
            };
            if let Some(cost) = whole.filter(|&cost| cost < limit) {
                best = Some((cost, [&route[..from], middle, &route[to..]].concat()));
            }
        };
        for end in first + 1..=route.len() {
            let mut turned = route[first..end].to_vec();
            turned.reverse();
            try_middle(first, end, &turned);
            if end > first + SEGMENT {
                continue;
            }
            for segment in [&route[first..end], &turned] {
                for to in 0..first {
                    try_middle(to, end, &[segment, &route[to..first]].concat());
                }
                for to in end + 1..=route.len() {
                    try_middle(first, to, &[&route[end..to], segment].concat());
                }
            }
        }
        best
    }
}

fn nearest_first(problem: &Problem) -> Vec<Vec<usize>> {
    let count = problem.stops.len();
    (0..count)
        .map(|stop| {
            let mut others: Vec<usize> = (0..count).filter(|&other| other != stop).collect();
            others.sort_by_key(|&other| problem.between(stop, other).min(problem.between(other, stop)));
            others
        })
        .collect()
}

fn penalties(problem: &Problem) -> Vec<i64> {
    let mut levels: Vec<u32> = problem.stops.iter().map(|stop| stop.urgency).collect();
    levels.sort_unstable();
    levels.dedup();
    let level = |urgency: u32| levels.partition_point(|&level| level < urgency).min(16);
    problem.stops.iter().map(|stop| LEFT_OUT << level(stop.urgency)).collect()
}
