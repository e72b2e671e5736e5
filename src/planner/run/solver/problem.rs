//! What the solver is asked and what it answers.

use thiserror::Error;

/// Up to so many stops the order is proven shortest. The tables of the dynamic programme then
/// take at most 2 × 2²⁰ × 20 × 4 bytes = 168 MB.
pub const EXACT_STOPS: usize = 20;

/// Times and drives of this many seconds (194 days) and more are refused, so that sums over a run stay inside `i32`.
pub const TOO_LONG: u32 = 1 << 24;

/// One yard to be visited.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stop {
    /// Work at the stop, seconds.
    pub service: u32,
    /// Second of the day before which work cannot begin (gate, daylight). Arriving earlier means waiting.
    pub open: u32,
    /// Second of the day by which work must have ended.
    pub close: u32,
    /// Place in the hygiene order: every stop comes after all stops of a lower rank. 0 healthy, 1 disease suspected,
    /// 2 under quarantine.
    pub rank: u8,
    /// The place in the order, counted from 0, at which the beekeeper has locked this stop. If the run comes out
    /// shorter than that, the stop slides forward to the end of it. A lock never costs a stop: it is taken off first.
    pub lock: Option<usize>,
    /// How urgent the stop is, higher is more urgent. As many as possible of the most urgent stops are kept, then as
    /// many as possible of the next.
    pub urgency: u32,
}

/// One vehicle, one day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Driving in seconds, from row to column. Index 0 is the base, where the run starts and ends; stop `s` of
    /// [`Problem::stops`] has the index `s + 1`.
    pub drive: Vec<Vec<u32>>,
    /// The stops, in any order.
    pub stops: Vec<Stop>,
    /// Second of the day at which the vehicle leaves the base.
    pub leave: u32,
    /// Second of the day by which it must be back, if there is such a limit.
    pub back: Option<u32>,
}

/// How sure an answer is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Proof {
    /// Nothing better exists: all possibilities were looked at or ruled out.
    Shortest,
    /// A good answer found by trying; a better one may exist.
    Heuristic,
}

/// Why a stop is not on the run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WhyLeftOut {
    /// The work takes longer than the time between opening and closing.
    WindowTooShort,
    /// Even if driven to first, the work cannot end before the closing time.
    ClosedBeforeArrival,
    /// Even with this stop alone the vehicle would not be back in time.
    BackTooLate,
    /// It could be done by itself, but not together with the stops that were kept.
    NoTimeLeft,
}

/// A stop that is not on the run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct LeftOut {
    /// Which stop.
    pub stop: usize,
    /// Why.
    pub why: WhyLeftOut,
}

/// The proposed run.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// Stops in the order of visit: least time back at the base, then least driving.
    pub order: Vec<usize>,
    /// Whether this order of these stops is proven best.
    pub proof: Proof,
    /// Stops that did not fit, by number.
    pub left_out: Vec<LeftOut>,
    /// Whether it is proven that no more urgent choice of stops can be done in the day, and no equally urgent one is
    /// back sooner.
    pub choice: Proof,
    /// Stops whose lock was taken off, by number: it contradicts the hygiene order, another lock or the number of stops,
    /// or with it a stop more would have to be left out.
    pub unlocked: Vec<usize>,
}

/// Why there is no answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum NoAnswer {
    /// Stopped from outside.
    #[error("stopped before an order was found")]
    Cancelled,
    /// The table of drives does not have one row and one column for the base and for each stop.
    #[error("the table of drives does not fit the number of stops")]
    Shape,
    /// A time or drive of [`TOO_LONG`] or more.
    #[error("a time of the run is longer than 194 days")]
    TooLong,
}

impl Problem {
    /// Whether the numbers hang together.
    ///
    /// # Errors
    /// [`NoAnswer::Shape`] or [`NoAnswer::TooLong`].
    pub fn check(&self) -> Result<(), NoAnswer> {
        let size = self.stops.len() + 1;
        if self.drive.len() != size || self.drive.iter().any(|row| row.len() != size) {
            return Err(NoAnswer::Shape);
        }
        let drives = self.drive.iter().flatten().copied();
        let works = self.stops.iter().flat_map(|stop| [stop.service, stop.open]);
        // A closing time may be as late as it likes: it only ever limits.
        if drives.chain(works).chain([self.leave]).any(|time| time >= TOO_LONG) {
            return Err(NoAnswer::TooLong);
        }
        Ok(())
    }

    /// The problem with only some of its stops, in the order given; stop `k` of it is `kept[k]` here.
    #[must_use]
    pub fn only(&self, kept: &[usize]) -> Self {
        let rows: Vec<usize> = std::iter::once(0).chain(kept.iter().map(|&stop| stop + 1)).collect();
        Self {
            drive: rows.iter().map(|&from| rows.iter().map(|&to| self.drive[from][to]).collect()).collect(),
            stops: kept.iter().map(|&stop| self.stops[stop].clone()).collect(),
            leave: self.leave,
            back: self.back,
        }
    }

    /// Seconds of driving from stop to stop.
    pub(super) fn between(&self, from: usize, to: usize) -> u32 {
        self.drive[from + 1][to + 1]
    }

    /// When work could begin at each stop if everything else were left undone, closing times not looked at. Other
    /// stops may lie on the way if that is quicker than the direct drive.
    pub(super) fn earliest_starts(&self) -> Vec<u32> {
        let direct = (0..self.stops.len()).map(|stop| self.leave.saturating_add(self.drive[0][stop + 1])).collect();
        let ready =
            |stop: usize, arrive: u32| arrive.max(self.stops[stop].open).saturating_add(self.stops[stop].service);
        let arrive = nearest(direct, |by, arrive, to| ready(by, arrive).saturating_add(self.between(by, to)));
        self.stops.iter().zip(arrive).map(|(stop, arrive)| arrive.max(stop.open)).collect()
    }

    /// The quickest way from each stop to the base, with the work at stops on the way.
    pub(super) fn shortest_homes(&self) -> Vec<u32> {
        let direct = (0..self.stops.len()).map(|stop| self.drive[stop + 1][0]).collect();
        nearest(direct, |by, home, from| {
            home.saturating_add(self.stops[by].service).saturating_add(self.between(from, by))
        })
    }
}

/// Dijkstra's algorithm: from direct distances, and the distance of a stop by way of another at a known distance.
fn nearest(mut distance: Vec<u32>, by_way_of: impl Fn(usize, u32, usize) -> u32) -> Vec<u32> {
    let mut open: Vec<usize> = (0..distance.len()).collect();
    while let Some(at) = (0..open.len()).min_by_key(|&at| distance[open[at]]) {
        let by = open.swap_remove(at);
        for &to in &open {
            distance[to] = distance[to].min(by_way_of(by, distance[by], to));
        }
    }
    distance
}
