//! The solver against every possibility, and against published instances.

use crate::planner::run::solver::driving::least_driving;
use crate::planner::run::solver::exact::{Aim, Earliest, Small};
use crate::planner::run::solver::problem::{Answer, LeftOut, NoAnswer, Problem, Proof, Stop, WhyLeftOut};
use crate::planner::run::solver::random::Random;
use crate::planner::run::solver::search::search;
use crate::planner::run::solver::solve::{ROUNDS, solve};
use crate::planner::run::solver::timetable::timetable;

const HOUR: u32 = 3600;

fn never() -> bool {
    false
}

fn between(random: &mut Random, low: u32, high: u32) -> u32 {
    low + random.below((high - low) as usize) as u32
}

/// A day of `count` stops on a square of 60 by 60 minutes of driving; `tight` narrows the windows.
fn random_day(count: usize, seed: u64, tight: bool) -> Problem {
    let mut random = Random::new(seed);
    let places: Vec<(u32, u32)> =
        (0..=count).map(|_| (between(&mut random, 0, HOUR), between(&mut random, 0, HOUR))).collect();
    let drive = places.iter().map(|a| places.iter().map(|b| a.0.abs_diff(b.0) + a.1.abs_diff(b.1)).collect()).collect();
    let stops = (0..count)
        .map(|_| {
            let open = between(&mut random, 6 * HOUR, 14 * HOUR);
            let long = if tight { 4 * HOUR } else { 10 * HOUR };
            Stop {
                service: between(&mut random, 300, 2400),
                open,
                close: open + between(&mut random, HOUR / 2, long),
                rank: [0, 0, 0, 0, 1, 2][random.below(6)],
                lock: None,
                urgency: between(&mut random, 0, 3),
            }
        })
        .collect();
    let back = (random.below(2) == 0).then(|| between(&mut random, 14 * HOUR, 22 * HOUR));
    Problem { drive, stops, leave: 7 * HOUR, back }
}

/// Calls `look` with every order of the stops.
fn every_order(stops: &mut Vec<usize>, from: usize, look: &mut impl FnMut(&[usize])) {
    if from == stops.len() {
        look(stops);
    }
    for at in from..stops.len() {
        stops.swap(from, at);
        every_order(stops, from + 1, look);
        stops.swap(from, at);
    }
}

/// The least total time and driving of exactly these stops with all rules kept, by looking at every order.
fn least_of(problem: &Problem, stops: &[usize]) -> Option<(u32, u32)> {
    let mut best = None;
    every_order(&mut stops.to_vec(), 0, &mut |order| {
        let table = timetable(problem, order);
        if table.violations.is_empty() {
            let cost = (table.total, table.driving);
            best = Some(best.map_or(cost, |best| cost.min(best)));
        }
    });
    best
}

fn cost(problem: &Problem, answer: &Answer) -> (u32, u32) {
    let table = timetable(problem, &answer.order);
    assert_eq!(table.violations, [], "{problem:?} {answer:?}");
    (table.total, table.driving)
}

#[test]
fn equals_the_best_of_all_orders() {
    let mut whole = 0;
    for seed in 0..400 {
        let mut problem = random_day(1 + (seed % 7) as usize, seed, false);
        // Half of the days have a stop locked where the best run of all does not have it, if possible.
        let all: Vec<usize> = (0..problem.stops.len()).collect();
        if seed % 2 == 0 {
            let mut random = Random::new(seed);
            problem.stops[random.below(all.len())].lock = Some(random.below(all.len()));
        }
        let Some(best) = least_of(&problem, &all) else { continue };
        let answer = solve(&problem, 0, &never).unwrap();
        assert_eq!(answer.proof, Proof::Shortest);
        assert!(answer.left_out.is_empty() && answer.unlocked.is_empty(), "{problem:?} {answer:?}");
        assert_eq!(cost(&problem, &answer), best, "{problem:?} {answer:?}");
        whole += 1;
    }
    assert!(whole > 100, "{whole} days with all stops");
}

/// Roads that are quicker by way of a third place, and not the same both ways.
#[test]
fn equals_the_best_of_all_orders_on_crooked_roads() {
    let mut whole = 0;
    for seed in 0..200 {
        let mut problem = random_day(5, seed, false);
        let mut random = Random::new(seed);
        problem.drive.iter_mut().flatten().for_each(|drive| *drive = between(&mut random, 0, 2 * HOUR));
        problem.stops.iter_mut().for_each(|stop| stop.close += 4 * HOUR);
        let Some(best) = least_of(&problem, &[0, 1, 2, 3, 4]) else { continue };
        assert_eq!(cost(&problem, &solve(&problem, 0, &never).unwrap()), best, "{problem:?}");
        whole += 1;
    }
    assert!(whole > 50, "{whole} days with all stops");
}

/// Left out is what must be: against all orders of all sets, most urgent first, then total time. Of the set kept the
/// order is the best.
#[test]
fn keeps_the_most_urgent_stops_that_fit() {
    let mut cut = 0;
    for seed in 0..150 {
        let problem = random_day(6, seed, true);
        let mut best: Option<(Vec<u32>, u32)> = None;
        for set in 0..1_usize << 6 {
            let (kept, out): (Vec<usize>, Vec<usize>) = (0..6).partition(|stop| set >> stop & 1 == 1);
            let mut regret: Vec<u32> = out.iter().map(|&stop| problem.stops[stop].urgency).collect();
            regret.sort_unstable_by(|a, b| b.cmp(a));
            if let Some((total, _)) = least_of(&problem, &kept)
                && best.as_ref().is_none_or(|best| (&regret, &total) < (&best.0, &best.1))
            {
                best = Some((regret, total));
            }
        }
        let answer = solve(&problem, 0, &never).unwrap();
        let mut regret: Vec<u32> = answer.left_out.iter().map(|out| problem.stops[out.stop].urgency).collect();
        regret.sort_unstable_by(|a, b| b.cmp(a));
        let found = cost(&problem, &answer);
        assert_eq!(Some((regret, found.0)), best, "{problem:?} {answer:?}");
        assert_eq!(Some(found), least_of(&problem, &answer.order), "{problem:?} {answer:?}");
        assert_eq!((answer.proof, answer.choice), (Proof::Shortest, Proof::Shortest));
        cut += usize::from(!answer.left_out.is_empty());
    }
    assert!(cut > 50, "{cut} days with stops left out");
}

/// Four stops a quarter of an hour from each other and from the base, all day open.
fn easy(count: usize) -> Problem {
    let mut drive = vec![vec![900; count + 1]; count + 1];
    (0..=count).for_each(|at| drive[at][at] = 0);
    let stop = Stop { service: 600, open: 0, close: 40 * HOUR, rank: 0, lock: None, urgency: 1 };
    Problem { drive, stops: vec![stop; count], leave: 8 * HOUR, back: None }
}

#[test]
fn says_why_a_stop_is_left_out() {
    let mut problem = easy(5);
    problem.stops[0].close = 300; // shorter than its work
    problem.stops[1].close = 8 * HOUR + 900 + 599; // one second short, driven to first
    problem.stops[2].close = 8 * HOUR + 900 + 600; // only if first
    problem.stops[3].close = 8 * HOUR + 900 + 600; // the same, and more urgent
    problem.stops[3].urgency = 2;
    let answer = solve(&problem, 0, &never).unwrap();
    assert_eq!(answer.order, [3, 4]);
    let out = |stop, why| LeftOut { stop, why };
    assert_eq!(
        answer.left_out,
        [out(0, WhyLeftOut::WindowTooShort), out(1, WhyLeftOut::ClosedBeforeArrival), out(2, WhyLeftOut::NoTimeLeft)]
    );
    problem.back = Some(8 * HOUR + 2399); // one second less than there, work and back
    let answer = solve(&problem, 0, &never).unwrap();
    assert_eq!(answer.order, Vec::<usize>::new());
    assert_eq!(answer.left_out[4], out(4, WhyLeftOut::BackTooLate));
}

#[test]
fn suspected_yards_come_late_and_quarantined_last() {
    for count in [6, 30] {
        let mut problem = easy(count);
        problem.stops[0].rank = 2;
        problem.stops[1].rank = 1;
        problem.stops[3].rank = 2;
        // The quarantined yard is next to the base and would come first by distance.
        problem.drive[0][1] = 1;
        let answer = solve(&problem, 200, &never).unwrap();
        let mut last = answer.order[count - 3..].to_vec();
        last[1..].sort_unstable();
        assert_eq!(last, [1, 0, 3]);
    }
}

#[test]
fn locked_stops_stay_and_slide_when_the_run_is_shorter() {
    for count in [6, 30] {
        let mut problem = easy(count);
        problem.stops[2].lock = Some(0);
        problem.stops[5].lock = Some(3);
        problem.stops[4].lock = Some(count - 1);
        let answer = solve(&problem, 200, &never).unwrap();
        assert_eq!((answer.order[0], answer.order[3], answer.order[count - 1]), (2, 5, 4));
        // With a stop less than before, the last one is still last.
        problem.stops[0].close = 0;
        let answer = solve(&problem, 200, &never).unwrap();
        assert_eq!((answer.order[0], answer.order[3], answer.order[count - 2]), (2, 5, 4));
        assert!(answer.unlocked.is_empty());
    }
}

#[test]
fn locks_that_contradict_are_taken_off() {
    let mut problem = easy(5);
    problem.stops[0].lock = Some(1);
    problem.stops[1].lock = Some(1); // taken
    problem.stops[2].lock = Some(7); // no such place
    problem.stops[3].lock = Some(0); // under quarantine: last
    problem.stops[3].rank = 2;
    let answer = solve(&problem, 0, &never).unwrap();
    assert_eq!(answer.unlocked, [1, 2, 3]);
    assert_eq!((answer.order[1], answer.order[4]), (0, 3));
}

#[test]
fn a_lock_never_costs_a_stop() {
    for count in [5, 30] {
        let mut problem = easy(count);
        problem.stops[1].close = 8 * HOUR + 1500; // must be first
        problem.stops[2].lock = Some(0); // but another one is
        problem.stops[3].lock = Some(3); // and this one harms nobody
        let answer = solve(&problem, 200, &never).unwrap();
        assert_eq!((answer.order.len(), answer.left_out.len()), (count, 0));
        assert_eq!((answer.order[0], answer.order[3]), (1, 3));
        assert_eq!(answer.unlocked, [2]);
        assert_eq!(answer.choice, Proof::Shortest);
    }
}

#[test]
fn many_stops_are_the_same_every_time_and_can_be_done() {
    let problem = random_day(40, 5, false);
    let answer = solve(&problem, 60, &never).unwrap();
    assert_eq!(answer, solve(&problem, 60, &never).unwrap());
    cost(&problem, &answer);
    let mut all: Vec<usize> = answer.order.clone();
    all.extend(answer.left_out.iter().map(|out| out.stop));
    all.sort_unstable();
    assert_eq!(all, (0..40).collect::<Vec<_>>());
}

/// On days of ten stops the search for many stops finds the proven best.
#[test]
fn trying_finds_the_proven_order_of_few_stops() {
    for seed in 0..20 {
        let mut problem = random_day(10, seed, false);
        problem.stops.iter_mut().for_each(|stop| stop.close = 40 * HOUR);
        problem.back = None;
        let exact = solve(&problem, 0, &never).unwrap();
        let found = search(&problem, 300, &never).unwrap();
        let table = timetable(&problem, &found.order);
        assert!(found.left_out.is_empty() && table.violations.is_empty());
        assert_eq!((table.total, table.driving), cost(&problem, &exact), "seed {seed}");
    }
}

#[test]
fn stops_when_told() {
    for count in [6, 30] {
        assert_eq!(solve(&easy(count), ROUNDS, &|| true), Err(NoAnswer::Cancelled));
    }
}

#[test]
fn refuses_numbers_that_do_not_hang_together() {
    let mut problem = easy(3);
    problem.drive[1].pop();
    assert_eq!(solve(&problem, 0, &never), Err(NoAnswer::Shape));
    let mut problem = easy(3);
    problem.drive[1][2] = u32::MAX;
    assert_eq!(solve(&problem, 0, &never), Err(NoAnswer::TooLong));
    let nothing = Problem { drive: vec![vec![0]], stops: Vec::new(), leave: 0, back: None };
    assert_eq!(solve(&nothing, 0, &never).unwrap().order, Vec::<usize>::new());
}

/// Instances of the travelling salesman with time windows and their best known travel times; the sources are named in
/// `tests/data/tsptw/README.md`. The service is folded into the arcs, the objective is the sum of arcs, and all
/// best known values of this size are proven optimal (Ascheuer, Fischetti and Grötschel 2001; Baldacci, Mingozzi and
/// Roberti 2012), so they must be met exactly.
#[test]
fn equals_published_best_travel_times() {
    let instances = [
        ("rbg010a", include_str!("../../../../tests/data/tsptw/rbg010a.tw"), 671),
        ("rbg016a", include_str!("../../../../tests/data/tsptw/rbg016a.tw"), 938),
        ("rbg016b", include_str!("../../../../tests/data/tsptw/rbg016b.tw"), 1304),
        ("rbg017.2", include_str!("../../../../tests/data/tsptw/rbg017.2.tw"), 852),
        ("rbg017a", include_str!("../../../../tests/data/tsptw/rbg017a.tw"), 4296),
        ("rbg019c", include_str!("../../../../tests/data/tsptw/rbg019c.tw"), 4536),
        ("rbg021.6", include_str!("../../../../tests/data/tsptw/rbg021.6.tw"), 4480),
        ("rc_202.2", include_str!("../../../../tests/data/tsptw/rc_202.2.txt"), 30414),
        ("rc_203.4", include_str!("../../../../tests/data/tsptw/rc_203.4.txt"), 31429),
        ("rc_205.1", include_str!("../../../../tests/data/tsptw/rc_205.1.txt"), 34321),
    ];
    for (name, text, best) in instances {
        let decimals = if name.starts_with("rc") { 10_000.0 } else { 1.0 };
        let (problem, horizon) = read_tsptw(text, decimals);
        let small = Small::new(&problem);
        let earliest = Earliest::fill(&small, Aim::All, &never).unwrap();
        let (order, driving) = least_driving(&small, earliest, horizon, &never).unwrap().unwrap();
        let table = timetable(&problem, &order);
        assert_eq!((table.violations.len(), table.driving as i32), (0, driving), "{name}");
        // The published values of the rc instances are rounded to hundredths.
        let rounded = if decimals > 1.0 { (f64::from(driving) / 100.0).round() as i32 } else { driving };
        assert_eq!(rounded, best, "{name}");
    }
}

/// Number of nodes, then the matrix row by row, then the windows of arrival, the depot first.
fn read_tsptw(text: &str, scale: f64) -> (Problem, i32) {
    let mut numbers = text
        .lines()
        .take_while(|line| !line.starts_with('#'))
        .flat_map(str::split_whitespace)
        .map(|number| (number.parse::<f64>().unwrap() * scale).round() as u32);
    let count = (f64::from(numbers.next().unwrap()) / scale) as usize;
    let drive: Vec<Vec<u32>> = (0..count).map(|_| (0..count).map(|_| numbers.next().unwrap()).collect()).collect();
    let mut windows: Vec<(u32, u32)> = (0..count).map(|_| (numbers.next().unwrap(), numbers.next().unwrap())).collect();
    let depot = windows.remove(0);
    let stops = windows
        .iter()
        .map(|&(open, close)| Stop { service: 0, open, close, rank: 0, lock: None, urgency: 0 })
        .collect();
    (Problem { drive, stops, leave: depot.0, back: Some(depot.1) }, (depot.1 - depot.0) as i32)
}
