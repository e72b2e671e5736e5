//! Due work and runs as CSV.

use crate::domain::day::Day;
use crate::domain::work::WorkState;
use crate::exchange::out::cells::table;

/// One look or step, ready to be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DueLine {
    /// What tells this piece of work from all others and stays the same from one export to the next: the colony's id,
    /// the work, and the day it is counted from.
    pub key: String,
    /// The yard's name.
    pub yard: String,
    /// The hive's name.
    pub hive: String,
    /// `acceptance look` …
    pub work: String,
    /// Earliest day.
    pub earliest: Day,
    /// Best day.
    pub best: Day,
    /// Latest day; nothing: never late.
    pub latest: Option<Day>,
    /// How it stands.
    pub state: WorkState,
    /// Why it is due, one sentence.
    pub why: String,
}

/// One stop of a run, ready to be written.
#[derive(Clone, Debug, PartialEq)]
pub struct RunLine {
    /// Its number, from 1.
    pub stop: u32,
    /// The yard's name.
    pub yard: String,
    /// Minutes since midnight at which it is reached.
    pub arrive: u16,
    /// Minutes since midnight at which it is left.
    pub leave: u16,
    /// Minutes of driving to it.
    pub drive_min: u32,
    /// Minutes of waiting there.
    pub wait_min: u32,
    /// Minutes of work there.
    pub service_min: u32,
    /// Kilometres driven to it.
    pub km: f64,
}

/// The word for a state in lists: `ahead`, `open`, `late`.
pub fn state_word(state: WorkState) -> &'static str {
    match state {
        WorkState::Ahead => "ahead",
        WorkState::Open => "open",
        WorkState::Late => "late",
    }
}

/// Minutes since midnight as `07:30`; past midnight it goes on counting: `24:10`.
pub fn clock_text(minutes: u16) -> String {
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}

/// Due work as CSV with the columns yard, hive, work, earliest, best, latest, state, why.
pub fn due_csv(lines: &[DueLine]) -> String {
    let headings = ["yard", "hive", "work", "earliest", "best", "latest", "state", "why"].map(str::to_owned);
    let line = |due: &DueLine| {
        vec![
            due.yard.clone(),
            due.hive.clone(),
            due.work.clone(),
            due.earliest.iso(),
            due.best.iso(),
            due.latest.map(Day::iso).unwrap_or_default(),
            state_word(due.state).to_owned(),
            due.why.clone(),
        ]
    };
    table(std::iter::once(headings.to_vec()).chain(lines.iter().map(line)))
}

/// A run as CSV with the columns stop, yard, arrive, leave, drive_min, wait_min, service_min, km (one decimal).
pub fn run_csv(lines: &[RunLine]) -> String {
    let headings = ["stop", "yard", "arrive", "leave", "drive_min", "wait_min", "service_min", "km"].map(str::to_owned);
    let line = |stop: &RunLine| {
        vec![
            stop.stop.to_string(),
            stop.yard.clone(),
            clock_text(stop.arrive),
            clock_text(stop.leave),
            stop.drive_min.to_string(),
            stop.wait_min.to_string(),
            stop.service_min.to_string(),
            format!("{:.1}", stop.km),
        ]
    };
    table(std::iter::once(headings.to_vec()).chain(lines.iter().map(line)))
}
