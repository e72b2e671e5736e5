//! The least total time by dynamic programming over sets of stops (Held and Karp 1962, Bellman 1962), with windows.
//!
//! For every set of stops and every last stop of it: the earliest second at which all of it can be done. Waiting
//! never hurts the earliest time, so one number for each is enough. Times are counted from the leaving time.
//! A table cell holds that time plus one, and 0 where the set cannot be done with that stop last.

use crate::planner::run::solver::problem::{EXACT_STOPS, NoAnswer, Problem};

/// Longer than any time of a problem that passed its check, with room to add one drive.
pub(super) const NEVER: i32 = 1 << 30;
/// So many sets are worked on between two looks at the cancel flag.
const SETS_BETWEEN_LOOKS: usize = 1 << 12;

/// One number for each stop, at the fixed length that lets the compiler use wide registers.
pub(super) type Row = [i32; EXACT_STOPS];

/// Whether all stops must be on the run or any set of them may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Aim {
    /// All stops: locks hold, and sets that make a later stop impossible are dropped.
    All,
    /// Any set that keeps the order of ranks; locks are not looked at.
    AnySet,
}

/// The problem in numbers counted from the leaving time.
pub(super) struct Small {
    pub count: usize,
    /// `out[i][j]`: drive from stop i to stop j.
    pub out: Vec<Row>,
    /// `into[j][i]`: the same drive.
    pub into: Vec<Row>,
    /// Drive from the base.
    pub first: Row,
    /// Drive to the base.
    pub home: Row,
    pub open: Row,
    /// Latest beginning of work; negative where it is too late from the start.
    pub latest: Row,
    pub service: Row,
    /// Latest time back at the base.
    pub back: i32,
    /// Stops of each rank, lowest first, as sets.
    ranks: Vec<usize>,
    /// For each place in the order the set of stops that may stand there.
    places: Vec<usize>,
    /// No drive becomes shorter by way of a third stop.
    direct: bool,
}

impl Small {
    /// For at most [`EXACT_STOPS`] stops of a problem that passed its check.
    pub fn new(problem: &Problem) -> Self {
        let count = problem.stops.len();
        let mut small = Self {
            count,
            out: vec![[NEVER; EXACT_STOPS]; count],
            into: vec![[NEVER; EXACT_STOPS]; count],
            first: [NEVER; EXACT_STOPS],
            home: [NEVER; EXACT_STOPS],
            open: [0; EXACT_STOPS],
            latest: [-1; EXACT_STOPS],
            service: [0; EXACT_STOPS],
            back: problem.back.map_or(NEVER, |back| from_leaving(problem, back)),
            ranks: Vec::new(),
            places: Vec::new(),
            direct: false,
        };
        for (at, stop) in problem.stops.iter().enumerate() {
            small.first[at] = problem.drive[0][at + 1] as i32;
            small.home[at] = problem.drive[at + 1][0] as i32;
            small.open[at] = from_leaving(problem, stop.open).max(0);
            small.service[at] = stop.service as i32;
            small.latest[at] = from_leaving(problem, stop.close) - small.service[at];
            for to in 0..count {
                small.out[at][to] = problem.between(at, to) as i32;
                small.into[at][to] = problem.between(to, at) as i32;
            }
        }
        let mut ranks: Vec<u8> = problem.stops.iter().map(|stop| stop.rank).collect();
        ranks.sort_unstable();
        ranks.dedup();
        small.ranks = ranks.iter().map(|&rank| set_of(count, |stop| problem.stops[stop].rank == rank)).collect();
        let free = set_of(count, |stop| problem.stops[stop].lock.is_none());
        small.places = (0..count)
            .map(|place| match set_of(count, |stop| problem.stops[stop].lock == Some(place)) {
                0 => free,
                locked => locked,
            })
            .collect();
        small.direct = small.no_short_cuts();
        small
    }

    /// The set of all stops.
    pub fn full(&self) -> usize {
        (1 << self.count) - 1
    }

    /// The stops that may come next after those in `set`.
    pub fn next(&self, set: usize, aim: Aim) -> usize {
        match aim {
            Aim::All => {
                let rank = self.ranks.iter().map(|rank| rank & !set).find(|&left| left != 0).unwrap_or(0);
                rank & self.places.get(set.count_ones() as usize).copied().unwrap_or(0)
            }
            Aim::AnySet => {
                let begun = self.ranks.iter().rposition(|rank| rank & set != 0).unwrap_or(0);
                self.ranks[begun..].iter().fold(0, |all, rank| all | rank) & !set
            }
        }
    }

    fn no_short_cuts(&self) -> bool {
        (0..self.count).all(|from| {
            (0..self.count).all(|by| {
                let ready = self.out[from][by] + self.service[by];
                from == by || (0..self.count).all(|to| to == by || self.out[from][to] <= ready + self.out[by][to])
            })
        })
    }
}

/// The earliest end of each set of stops, by last stop.
pub(super) struct Earliest {
    pub cells: Vec<i32>,
    count: usize,
}

impl Earliest {
    /// Fills the table.
    pub fn fill(small: &Small, aim: Aim, cancel: &dyn Fn() -> bool) -> Result<Self, NoAnswer> {
        let count = small.count;
        let mut cells = vec![0_i32; (1 << count) * count];
        let doomed = aim == Aim::All && small.direct;
        for set in 0..small.full() {
            if set % SETS_BETWEEN_LOOKS == 0 && cancel() {
                return Err(NoAnswer::Cancelled);
            }
            let Some(arrive) = arrivals(small, &cells[set * count..(set + 1) * count], set) else { continue };
            if doomed && set != 0 && stops_in(small.full() & !set).any(|stop| arrive[stop] > small.latest[stop]) {
                continue;
            }
            for stop in stops_in(small.next(set, aim)) {
                let start = arrive[stop].max(small.open[stop]);
                if start <= small.latest[stop] {
                    cells[(set | 1 << stop) * count + stop] = start + small.service[stop] + 1;
                }
            }
        }
        Ok(Self { cells, count })
    }

    /// The earliest time back at the base after all stops of the set, if that is in time.
    pub fn back(&self, small: &Small, set: usize) -> Option<i32> {
        let row = &self.cells[set * self.count..(set + 1) * self.count];
        let ends = stops_in(set).filter(|&last| row[last] != 0).map(|last| row[last] - 1 + small.home[last]);
        ends.min().filter(|&back| back <= small.back)
    }
}

/// The earliest arrival at each stop straight from the stops of `set`; nothing if the set itself cannot be done.
fn arrivals(small: &Small, row: &[i32], set: usize) -> Option<Row> {
    if set == 0 {
        return Some(small.first);
    }
    let mut arrive = [NEVER; EXACT_STOPS];
    let mut reached = false;
    for last in stops_in(set) {
        let end = row[last] - 1;
        if end < 0 {
            continue;
        }
        reached = true;
        for (best, drive) in arrive.iter_mut().zip(&small.out[last]) {
            let time = end + drive;
            *best = if time < *best { time } else { *best };
        }
    }
    reached.then_some(arrive)
}

/// The members of a set, lowest number first.
pub(super) fn stops_in(set: usize) -> impl Iterator<Item = usize> {
    let mut left = set;
    std::iter::from_fn(move || {
        (left != 0).then(|| {
            let stop = left.trailing_zeros() as usize;
            left &= left - 1;
            stop
        })
    })
}

fn set_of(count: usize, inside: impl Fn(usize) -> bool) -> usize {
    (0..count).filter(|&stop| inside(stop)).fold(0, |set, stop| set | 1 << stop)
}

/// A second of the day counted from the leaving time, held inside what the tables can add up.
fn from_leaving(problem: &Problem, time: u32) -> i32 {
    (i64::from(time) - i64::from(problem.leave)).min(i64::from(NEVER)) as i32
}
