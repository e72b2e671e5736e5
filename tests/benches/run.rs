//! How long a run takes to propose. Proven: 15 stops in at most 50 ms, 20 in at most a second.

use divan::{Bencher, black_box};
use lidnote::planner::run::solver::problem::{Problem, Stop};
use lidnote::planner::run::solver::solve::{ROUNDS, solve};
use lidnote::roads::travel::{Driving, estimate};

fn main() {
    divan::main();
}

/// Yards spread over 80 by 60 km; half of them have gate hours, all are open in daylight only. The day is stretched so
/// that all of them fit.
fn yards(count: usize) -> Problem {
    let mut state = 2026_u32;
    // Numerical Recipes' linear congruential generator: spread is all that is asked of it.
    let mut below = |limit: u32| {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (state >> 8) % limit
    };
    let places: Vec<(f64, f64)> =
        (0..=count).map(|_| (-40.0 - f64::from(below(540)) / 1000.0, 160.0 + f64::from(below(940)) / 1000.0)).collect();
    let table = estimate(&places, Driving::default(), &|| false).unwrap_or_else(|error| panic!("{error}"));
    let drive = table.map(|table| table.seconds).unwrap_or_default();
    let leave = 6 * 3600;
    let day = 3600 * count as u32;
    let stops = (0..count)
        .map(|_| {
            let service = 600 + 300 * below(5);
            let gate = below(2) == 0;
            let open = if gate { leave + below(day / 2) } else { leave };
            let close = if gate { open + day / 2 } else { leave + day };
            Stop { service, open, close, rank: 0, lock: None, urgency: below(3) }
        })
        .collect();
    Problem { drive, stops, leave, back: None }
}

#[divan::bench(args = [15, 20], sample_count = 20, sample_size = 1)]
fn proven(bencher: Bencher<'_, '_>, count: usize) {
    let problem = yards(count);
    bencher.bench(|| solve(black_box(&problem), ROUNDS, &|| false));
}

#[divan::bench(args = [60], sample_count = 5, sample_size = 1)]
fn tried(bencher: Bencher<'_, '_>, count: usize) {
    let problem = yards(count);
    bencher.bench(|| solve(black_box(&problem), ROUNDS, &|| false));
}
