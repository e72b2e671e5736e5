//! The least driving among all orders that are back in time.
//!
//! First backwards over the table of earliest ends: for every set and last stop the latest end that still allows the
//! rest in time, and a lower bound of the driving left, taken over the moves that are possible at the earliest ends.
//! Then best-first search (A*) over pairs of time and driving. The bound never falls by more than the drive from one
//! stop to the next, so the first complete order found has the least driving, and of two visits to the same set and
//! last stop the later-found one matters only if it is earlier in time.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use crate::planner::run::solver::exact::{Aim, Earliest, NEVER, Row, Small, stops_in};
use crate::planner::run::solver::problem::{EXACT_STOPS, NoAnswer};

const STEPS_BETWEEN_LOOKS: usize = 1 << 12;

/// For each set and last stop, both plus one and 0 where the rest cannot be done in time.
struct Rest {
    /// The latest end of the set.
    latest: Vec<i32>,
    /// At least so much driving is left.
    driving: Vec<i32>,
}

/// A partial order: what is done, where it ends, when, and after how much driving.
#[derive(Clone, Copy)]
struct Partial {
    set: u32,
    last: u8,
    time: i32,
    driven: i32,
    before: Option<usize>,
}

/// The partial orders looked at and those to be looked at next, cheapest first.
struct Search<'a> {
    small: &'a Small,
    rest: Rest,
    partials: Vec<Partial>,
    queue: BinaryHeap<Reverse<(i32, u32, i32, usize)>>,
}

/// The order of all stops with the least driving that is back by `back`, and that driving. Nothing if there is none.
/// `earliest` was filled for the same numbers with [`Aim::All`].
pub(super) fn least_driving(
    small: &Small,
    earliest: Earliest,
    back: i32,
    cancel: &dyn Fn() -> bool,
) -> Result<Option<(Vec<usize>, i32)>, NoAnswer> {
    let rest = rest_of(small, earliest, back, cancel)?;
    let mut search = Search { small, rest, partials: Vec::new(), queue: BinaryHeap::new() };
    for stop in stops_in(small.next(0, Aim::All)) {
        search.offer(0, stop, 0, small.first[stop], None);
    }
    let mut steps = 0;
    while let Some(Reverse((_, _, _, index))) = search.queue.pop() {
        steps += 1;
        if steps % STEPS_BETWEEN_LOOKS == 0 && cancel() {
            return Err(NoAnswer::Cancelled);
        }
        let here = search.partials[index];
        let (set, last) = (here.set as usize, usize::from(here.last));
        let cell = set * small.count + last;
        if here.time >= search.rest.latest[cell] {
            continue; // since it was offered, one with no more driving came here no later
        }
        if set == small.full() {
            return Ok(Some((search.order_of(index), here.driven + small.home[last])));
        }
        search.rest.latest[cell] = here.time;
        for stop in stops_in(small.next(set, Aim::All)) {
            search.offer(set, stop, here.time, small.out[last][stop], Some(index));
        }
    }
    Ok(None)
}

impl Search<'_> {
    /// Goes on from a partial order to a stop, if the rest can then still be done in time.
    fn offer(&mut self, set: usize, stop: usize, time: i32, drive: i32, before: Option<usize>) {
        let start = (time + drive).max(self.small.open[stop]);
        let time = start + self.small.service[stop];
        let set = set | 1 << stop;
        let cell = set * self.small.count + stop;
        if start > self.small.latest[stop] || time >= self.rest.latest[cell] {
            return;
        }
        let driven = drive + before.map_or(0, |index| self.partials[index].driven);
        let missing = self.small.count as u32 - set.count_ones();
        let at_least = driven + self.rest.driving[cell] - 1;
        self.queue.push(Reverse((at_least, missing, time, self.partials.len())));
        self.partials.push(Partial { set: set as u32, last: stop as u8, time, driven, before });
    }

    fn order_of(&self, index: usize) -> Vec<usize> {
        let chain = std::iter::successors(Some(index), |&index| self.partials[index].before);
        let mut order: Vec<usize> = chain.map(|index| usize::from(self.partials[index].last)).collect();
        order.reverse();
        order
    }
}

/// Backwards from the full set. The latest ends are written over the earliest ones, set by set, to save a table.
fn rest_of(small: &Small, earliest: Earliest, back: i32, cancel: &dyn Fn() -> bool) -> Result<Rest, NoAnswer> {
    let count = small.count;
    let full = small.full();
    let mut rest = Rest { latest: earliest.cells, driving: vec![0; (1 << count) * count] };
    for last in 0..count {
        let cell = full * count + last;
        let end = rest.latest[cell] - 1;
        let in_time = end >= 0 && end + small.home[last] <= back;
        rest.latest[cell] = if in_time { back - small.home[last] + 1 } else { 0 };
        rest.driving[cell] = if in_time { small.home[last] + 1 } else { 0 };
    }
    for set in (1..full).rev() {
        if set % STEPS_BETWEEN_LOOKS == 0 && cancel() {
            return Err(NoAnswer::Cancelled);
        }
        let row = &rest.latest[set * count..(set + 1) * count];
        let mut ends: Row = [NEVER; EXACT_STOPS];
        let mut reached = false;
        for last in stops_in(set).filter(|&last| row[last] != 0) {
            ends[last] = row[last] - 1;
            reached = true;
        }
        if !reached {
            continue;
        }
        let (latest, driving) = rest_of_set(small, &rest, set, &ends);
        for last in stops_in(set) {
            let cell = set * count + last;
            let alive = ends[last] <= latest[last];
            rest.latest[cell] = if alive { latest[last] + 1 } else { 0 };
            rest.driving[cell] = if alive { driving[last] + 1 } else { 0 };
        }
    }
    Ok(rest)
}

/// For each last stop of the set its latest end and the least driving left, over all stops that may come next.
fn rest_of_set(small: &Small, rest: &Rest, set: usize, ends: &Row) -> (Row, Row) {
    let mut latest: Row = [-1; EXACT_STOPS];
    let mut driving: Row = [NEVER; EXACT_STOPS];
    for stop in stops_in(small.next(set, Aim::All)) {
        let cell = (set | 1 << stop) * small.count + stop;
        if rest.latest[cell] == 0 {
            continue;
        }
        let start = small.latest[stop].min(rest.latest[cell] - 1 - small.service[stop]);
        if start < small.open[stop] {
            continue;
        }
        let left = rest.driving[cell] - 1;
        for last in 0..EXACT_STOPS {
            let drive = small.into[stop][last];
            let end = start - drive;
            let total = if ends[last] <= end { drive + left } else { NEVER };
            latest[last] = if end > latest[last] { end } else { latest[last] };
            driving[last] = if total < driving[last] { total } else { driving[last] };
        }
    }
    (latest, driving)
}
