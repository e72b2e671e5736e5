//! The run solver against answers of OR-Tools CP-SAT, made by `tests/reference/run.py`.

use std::path::Path;

use lidnote::planner::run::solver::problem::{Problem, Proof, Stop};
use lidnote::planner::run::solver::solve::{ROUNDS, solve};
use lidnote::planner::run::solver::timetable::timetable;
use serde::Deserialize;

#[derive(Deserialize)]
struct Answers {
    days: Vec<Day>,
    instances: Vec<Instance>,
}

#[derive(Deserialize)]
struct Day {
    problem: Given,
    best: Option<Best>,
}

#[derive(Deserialize)]
struct Instance {
    name: String,
    best: Best,
}

#[derive(Deserialize)]
struct Given {
    leave: u32,
    back: Option<u32>,
    drive: Vec<Vec<u32>>,
    stops: Vec<GivenStop>,
}

#[derive(Deserialize)]
struct GivenStop {
    service: u32,
    open: u32,
    close: u32,
    rank: u8,
}

/// Second of being back, seconds of driving.
#[derive(Deserialize, Debug, PartialEq)]
struct Best {
    back: u32,
    driving: u32,
}

fn answers() -> Answers {
    serde_json::from_str(include_str!("../reference/run.json")).unwrap()
}

fn stop(given: &GivenStop) -> Stop {
    let &GivenStop { service, open, close, rank } = given;
    Stop { service, open, close, rank, lock: None, urgency: 0 }
}

/// The solver's run of all stops; nothing if it leaves one out.
fn own_best(problem: &Problem) -> Option<Best> {
    let answer = solve(problem, ROUNDS, &|| false).unwrap();
    assert_eq!((answer.proof, answer.choice), (Proof::Shortest, Proof::Shortest));
    let table = timetable(problem, &answer.order);
    assert_eq!(table.violations, []);
    answer.left_out.is_empty().then_some(Best { back: table.back, driving: table.driving })
}

#[test]
fn equals_the_reference_solver_on_random_days() {
    let days = answers().days;
    assert_eq!(days.len(), 10);
    for (at, day) in days.into_iter().enumerate() {
        let Given { leave, back, drive, stops } = day.problem;
        let problem = Problem { drive, stops: stops.iter().map(stop).collect(), leave, back };
        assert_eq!(own_best(&problem), day.best, "day {at}");
    }
}

#[test]
fn equals_the_reference_solver_on_published_instances() {
    let instances = answers().instances;
    assert_eq!(instances.len(), 8);
    for Instance { name, best } in instances {
        let scale = if name.starts_with("rc") { 10_000.0 } else { 1.0 };
        assert_eq!(own_best(&read_tsptw(&name, scale)).as_ref(), Some(&best), "{name}");
    }
}

/// Number of nodes, then the matrix row by row, then the windows, the depot first.
fn read_tsptw(name: &str, scale: f64) -> Problem {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/tsptw").join(name);
    let text = std::fs::read_to_string(path).unwrap();
    let mut words = text.lines().filter(|line| !line.starts_with('#')).flat_map(str::split_whitespace);
    let count: usize = words.next().unwrap().parse().unwrap();
    let numbers: Vec<u32> = words.map(|word| (word.parse::<f64>().unwrap() * scale).round() as u32).collect();
    let (matrix, windows) = numbers.split_at(count * count);
    let stops = windows.chunks(2).skip(1).map(|window| {
        let &[open, close] = window else { panic!("half a window in {name}") };
        Stop { service: 0, open, close, rank: 0, lock: None, urgency: 0 }
    });
    Problem {
        drive: matrix.chunks(count).map(<[u32]>::to_vec).collect(),
        stops: stops.collect(),
        leave: windows[0],
        back: Some(windows[1]),
    }
}
