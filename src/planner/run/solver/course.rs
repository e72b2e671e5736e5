//! Walks along an order of stops, with the locked ones standing at their places.

use crate::planner::run::solver::problem::Problem;

/// What a whole run costs: first the time back at the base, then the driving. Seconds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cost {
    pub time: i64,
    pub driving: i64,
}

impl Cost {
    /// More than any run.
    pub const MOST: Self = Self { time: i64::MAX, driving: i64::MAX };
}

/// Where the vehicle stands on the way.
#[derive(Clone, Copy, Debug)]
pub(super) struct State {
    time: i64,
    driving: i64,
    /// Row in the table of drives.
    here: usize,
    rank: u8,
    /// Stops visited.
    place: usize,
    /// Locked stops visited.
    locks: usize,
}

/// What the rest of a route makes of an arrival at its first stop, without walking it again.
#[derive(Clone, Copy, Debug)]
pub(super) struct Tail {
    /// Driving and work from the arrival on.
    takes: i64,
    /// Back no earlier than this, however early the arrival: something opens late.
    no_earlier: i64,
    /// Arrival after this is too late for something.
    latest: i64,
    driving: i64,
}

/// The problem seen as a walk along its free stops.
pub(super) struct Course<'a> {
    problem: &'a Problem,
    /// Locked stops with their places, first place first.
    locked: Vec<(usize, usize)>,
}

impl<'a> Course<'a> {
    /// `locked` names the locked stops that are on the run.
    pub fn new(problem: &'a Problem, locked: &[usize]) -> Self {
        let mut locked: Vec<(usize, usize)> =
            locked.iter().filter_map(|&stop| Some((problem.stops[stop].lock?, stop))).collect();
        locked.sort_unstable();
        Self { problem, locked }
    }

    fn start(&self) -> State {
        State { time: i64::from(self.problem.leave), driving: 0, here: 0, rank: 0, place: 0, locks: 0 }
    }

    /// From a state to a free stop, by way of the locked stops that come before it.
    pub fn go(&self, state: State, stop: usize) -> Option<State> {
        let mut state = state;
        let rank = self.problem.stops[stop].rank;
        while let Some(&(place, locked)) = self.locked.get(state.locks) {
            // A locked stop slides forward where the stops of its own rank run out.
            if place > state.place && self.problem.stops[locked].rank >= rank {
                break;
            }
            state = self.step(state, locked)?;
            state.locks += 1;
        }
        self.step(state, stop)
    }

    /// Whether some stops are locked.
    pub fn has_locks(&self) -> bool {
        !self.locked.is_empty()
    }

    /// Goes on along the free stops of `rest` and home. Nothing if it cannot be done or costs more than `limit`.
    pub fn finish(&self, state: State, rest: &[usize], limit: Cost) -> Option<Cost> {
        let mut state = state;
        for &stop in rest {
            state = self.go(state, stop)?;
            if state.time > limit.time {
                return None;
            }
        }
        for &(_, locked) in &self.locked[state.locks..] {
            state = self.step(state, locked)?;
        }
        let drive = i64::from(self.problem.drive[state.here][0]);
        let cost = Cost { time: state.time + drive, driving: state.driving + drive };
        let in_time = self.problem.back.is_none_or(|back| cost.time <= i64::from(back));
        (in_time && cost <= limit).then_some(cost)
    }

    /// As [`Course::finish`], along `changed` and then along a rest of which the tail is known. `next` is the first stop
    /// of that rest, nothing at its end. Only where no stop is locked, since a rest could otherwise be another one.
    pub fn join(&self, state: State, changed: &[usize], next: Option<usize>, tail: &Tail, limit: Cost) -> Option<Cost> {
        let mut state = state;
        for &stop in changed {
            state = self.step(state, stop)?;
        }
        let drive = i64::from(self.problem.drive[state.here][next.map_or(0, |stop| stop + 1)]);
        let arrive = state.time + drive;
        if arrive > tail.latest {
            return None;
        }
        let time = (arrive + tail.takes).max(tail.no_earlier);
        let cost = Cost { time, driving: state.driving + drive + tail.driving };
        (cost <= limit).then_some(cost)
    }

    /// The tails from each stop of a route on, and from its end; nothing if stops are locked.
    pub fn tails(&self, route: &[usize]) -> Option<Vec<Tail>> {
        if !self.locked.is_empty() {
            return None;
        }
        let latest = self.problem.back.map_or(i64::MAX, i64::from);
        let mut tail = Tail { takes: 0, no_earlier: 0, latest, driving: 0 };
        let mut tails = vec![tail];
        let mut to = 0;
        for &stop in route.iter().rev() {
            let there = &self.problem.stops[stop];
            let (open, close) = (i64::from(there.open), i64::from(there.close));
            let drive = i64::from(self.problem.drive[stop + 1][to]);
            let work = i64::from(there.service);
            let takes = work + drive + tail.takes;
            tail = Tail {
                takes,
                no_earlier: tail.no_earlier.max(open + takes),
                latest: (close - work).min(tail.latest - work - drive),
                driving: drive + tail.driving,
            };
            tails.push(tail);
            to = stop + 1;
        }
        tails.reverse();
        Some(tails)
    }

    /// The whole run.
    pub fn cost(&self, route: &[usize]) -> Option<Cost> {
        self.finish(self.start(), route, Cost::MOST)
    }

    /// The state before each free stop of a route that can be done, and after the last.
    pub fn states(&self, route: &[usize]) -> Vec<State> {
        let mut states = vec![self.start()];
        self.update(&mut states, route, 0);
        states
    }

    /// Mends the states after the route has changed from `from` on.
    pub fn update(&self, states: &mut Vec<State>, route: &[usize], from: usize) {
        states.truncate(from + 1);
        let mut state = states[from];
        for &stop in &route[from..] {
            // A part of a run that can be done can be done, so there is always a next state.
            state = self.go(state, stop).unwrap_or(state);
            states.push(state);
        }
    }

    /// The order with the locked stops in it.
    pub fn with_locked(&self, route: &[usize]) -> Vec<usize> {
        let mut order = Vec::with_capacity(route.len() + self.locked.len());
        let mut locked = self.locked.iter().peekable();
        for &stop in route {
            let rank = self.problem.stops[stop].rank;
            while let Some((_, next)) =
                locked.next_if(|&&(place, next)| place <= order.len() || self.problem.stops[next].rank < rank)
            {
                order.push(*next);
            }
            order.push(stop);
        }
        order.extend(locked.map(|&(_, stop)| stop));
        order
    }

    fn step(&self, state: State, stop: usize) -> Option<State> {
        let there = &self.problem.stops[stop];
        if there.rank < state.rank {
            return None;
        }
        let drive = i64::from(self.problem.drive[state.here][stop + 1]);
        let time = (state.time + drive).max(i64::from(there.open)) + i64::from(there.service);
        (time <= i64::from(there.close)).then_some(State {
            time,
            driving: state.driving + drive,
            here: stop + 1,
            rank: there.rank,
            place: state.place + 1,
            locks: state.locks,
        })
    }
}
