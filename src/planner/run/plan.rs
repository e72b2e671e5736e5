//! A run with its times: what each stop holds, when one is there, and how long the day is.
//!
//! Travel is an estimate: geodesic distance times the road factor at one speed (both settings).

use std::collections::{BTreeMap, BTreeSet};

use crate::domain::bar::{BarKind, BarOn};
use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, YardId};
use crate::domain::run_order::RunOrder;
use crate::domain::work::{DueWork, WorkState};
use crate::domain::world::World;
use crate::planner::outlook::Outlook;
use crate::planner::run::lights::Lights;
use crate::planner::run::solver::problem::{Problem, Proof, Stop};
use crate::planner::run::solver::timetable::{Timetable, Violation, times};
use crate::roads::travel::{Driving, TravelError, along};

/// A run with its times.
#[derive(Clone, Debug, PartialEq)]
pub struct RunPlan {
    /// The run.
    pub run: RunOrder,
    /// Its stops in order.
    pub stops: Vec<PlannedStop>,
    /// Second of the day at which the vehicle is back.
    pub back: u32,
    /// Driving back from the last stop, seconds.
    pub drive_back: u32,
    /// Road back from the last stop, metres.
    pub metres_back: u32,
    /// All driving, seconds.
    pub driving: u32,
    /// All waiting, seconds.
    pub waiting: u32,
    /// All work, seconds.
    pub service: u32,
    /// All road, metres.
    pub metres: u32,
    /// Sunrise and sunset at the base in seconds of the day, where the sun rises and sets.
    pub light: Option<(u32, u32)>,
    /// Stops that have no place and so no times, in the run's order.
    pub without_place: Vec<YardId>,
    /// Work open on the day in yards that are not on the run.
    pub elsewhere: u32,
    /// In how many yards.
    pub elsewhere_yards: u32,
    /// Those yards.
    pub elsewhere_in: Vec<YardId>,
}

/// One stop with its times; seconds of the day, and seconds.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedStop {
    /// The yard.
    pub yard: YardId,
    /// It keeps its position when the order is proposed again.
    pub locked: bool,
    /// Driving to it.
    pub drive: u32,
    /// Road to it, metres.
    pub metres: u32,
    /// Arrival.
    pub arrive: u32,
    /// Waiting until gate and daylight allow.
    pub wait: u32,
    /// Work at the stop.
    pub service: u32,
    /// Leaving.
    pub leave: u32,
    /// Due work that can be done on the day, by spot.
    pub work: Vec<DueWork>,
    /// What is wrong with the stop at this time of the run, in words.
    pub faults: Vec<String>,
}

impl PlannedStop {
    /// The earliest latest day among its work.
    pub fn latest(&self) -> Option<Day> {
        self.work.iter().filter_map(|work| work.window.latest).min()
    }

    /// Colonies with work, each once, by spot.
    pub fn colonies(&self) -> Vec<ColonyId> {
        let mut seen = BTreeSet::new();
        self.work.iter().map(|work| work.colony).filter(|colony| seen.insert(*colony)).collect()
    }
}

impl RunPlan {
    /// Due looks and steps on the run.
    pub fn due(&self) -> (u32, u32) {
        let all = || self.stops.iter().flat_map(|stop| &stop.work);
        let looks = all().filter(|work| work.kind.is_look()).count();
        (looks as u32, (all().count() - looks) as u32)
    }

    /// `34 due: 25 looks, 9 steps`; `3 looks due`; `nothing due`.
    pub fn due_words(&self) -> String {
        let counted = |count: u32, one: &str| match count {
            0 => None,
            1 => Some(format!("1 {one}")),
            _ => Some(format!("{count} {one}s")),
        };
        let (looks, steps) = self.due();
        match (counted(looks, "look"), counted(steps, "step")) {
            (None, None) => "nothing due".to_owned(),
            (Some(one), None) | (None, Some(one)) => format!("{one} due"),
            (Some(one), Some(other)) => format!("{} due: {one}, {other}", looks + steps),
        }
    }
}

/// A proposed order.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// The run in the proposed order, without the stops that do not fit.
    pub run: RunOrder,
    /// Proven shortest, or a good order found by trying.
    pub proof: Proof,
    /// Yards that do not fit, and why.
    pub left_out: Vec<(YardId, String)>,
    /// Yards whose lock could not be kept.
    pub unlocked: Vec<YardId>,
}

/// Work of a yard that can be done on a day: its window is open by then, late work included.
pub fn work_on(outlook: &Outlook, yard: YardId, day: Day) -> Vec<DueWork> {
    open_work(outlook, yard, day).cloned().collect()
}

fn open_work(outlook: &Outlook, yard: YardId, day: Day) -> impl Iterator<Item = &DueWork> {
    outlook.work_of(yard).filter(move |work| work.window.open_on(day))
}

/// Yards with work that ought to be done on a day: its best day has come by then. By id.
pub fn yards_calling(outlook: &Outlook, day: Day) -> Vec<YardId> {
    let calls = |yard: &YardId| outlook.work_of(*yard).any(|work| work.window.best <= day);
    outlook.yards.keys().copied().filter(|yard| calls(yard)).collect()
}

/// Usual time at a yard with that work, seconds: the setting for a yard, and for each look and step; the yard's own
/// usual minutes where these are more.
pub fn service_seconds(world: &World, yard: YardId, work: &[DueWork]) -> u32 {
    let settings = &world.settings;
    let looks = work.iter().filter(|work| work.kind.is_look()).count() as i32;
    let steps = work.len() as i32 - looks;
    let own = world.yards.get(&yard).and_then(|yard| yard.minutes);
    let by_kind = looks * settings.minutes_look() + steps * settings.minutes_step();
    let minutes = match own {
        Some(own) if work.is_empty() => own as i32,
        Some(own) => (own as i32).max(by_kind),
        None => settings.minutes_yard() + by_kind,
    };
    minutes.max(0) as u32 * 60
}

/// A run's stops that have a place, as numbers, in its order. The table of drives is empty.
pub(super) struct Laid {
    pub(super) problem: Problem,
    /// The base, then each stop: latitude and longitude in degrees.
    pub(super) places: Vec<(f64, f64)>,
    pub(super) driving: Driving,
    pub(super) yards: Vec<YardId>,
    pub(super) work: Vec<Vec<DueWork>>,
}

/// Lays a run's stops that have a place out as numbers.
pub(super) fn lay_out(world: &World, outlook: &Outlook, run: &RunOrder, lights: &mut Lights) -> Laid {
    let placed = run
        .stops
        .iter()
        .filter_map(|stop| Some((stop, world.yards.get(&stop.yard)?)))
        .filter_map(|(stop, yard)| Some((stop, yard, yard.place?)));
    let mut laid = Laid {
        problem: Problem { drive: Vec::new(), stops: Vec::new(), leave: u32::from(run.leave) * 60, back: None },
        places: vec![(run.base.place.lat(), run.base.place.lon())],
        driving: Driving { road_factor: world.settings.road_factor(), speed: world.settings.speed() },
        yards: Vec::new(),
        work: Vec::new(),
    };
    let margin = world.settings.daylight_margin().max(0) as u32 * 60;
    let quarantined = quarantined(world, run.day);
    for (at, (stop, yard, place)) in placed.enumerate() {
        let work = work_on(outlook, yard.id, run.day);
        let (mut open, mut close) = lights.at(world, place, run.day).unwrap_or((0, 24 * 3600));
        open = open.saturating_add(margin);
        close = close.saturating_sub(margin);
        if let Some(gate) = yard.gate {
            open = open.max(u32::from(gate.opens) * 60);
            close = close.min(u32::from(gate.closes) * 60);
        }
        laid.problem.stops.push(Stop {
            service: service_seconds(world, yard.id, &work),
            open,
            close,
            rank: if quarantined.contains(&yard.id) {
                2
            } else {
                u8::from(outlook.yards.get(&yard.id).is_some_and(|view| view.suspected))
            },
            lock: stop.locked.then_some(at),
            urgency: work.iter().map(|work| urgency(work, run.day)).max().unwrap_or(0),
        });
        laid.places.push((place.lat(), place.lon()));
        laid.yards.push(yard.id);
        laid.work.push(work);
    }
    laid
}

/// Yards under quarantine on a day.
pub fn quarantined(world: &World, day: Day) -> BTreeSet<YardId> {
    let bars = world.bars.values().filter(|bar| bar.kind == BarKind::Quarantine && bar.holds(day));
    bars.filter_map(|bar| match bar.on {
        BarOn::Yard(yard) => Some(yard),
        BarOn::Colony(_) => None,
    })
    .collect()
}

/// Whether a yard is under quarantine on a day.
pub fn in_quarantine(world: &World, yard: YardId, day: Day) -> bool {
    quarantined(world, day).contains(&yard)
}

/// 3 late by the day, 2 its last day, 1 its best day has come, 0 open.
fn urgency(work: &DueWork, day: Day) -> u32 {
    if work.window.state(day) == WorkState::Late {
        3
    } else if work.window.latest == Some(day) {
        2
    } else {
        u32::from(work.window.best <= day)
    }
}

/// The times of a run as its stops stand. Only the drives along it are worked out: where the light is known it is quick
/// enough for a frame.
///
/// # Errors
/// If a driving setting or a place is out of range.
pub fn plan(world: &World, outlook: &Outlook, run: &RunOrder, lights: &mut Lights) -> Result<RunPlan, TravelError> {
    let mut laid = lay_out(world, outlook, run, lights);
    let mut way = laid.places.clone();
    way.extend(laid.places.first());
    let drives = along(&way, laid.driving)?;
    let order: Vec<usize> = (0..laid.yards.len()).collect();
    let table = times(&laid.problem, &order, &|from, _| drives[from].seconds);
    let mut faults = faults(world, &laid, &table);
    let locked: BTreeSet<YardId> = run.stops.iter().filter(|stop| stop.locked).map(|stop| stop.yard).collect();
    let stops: Vec<PlannedStop> = table
        .legs
        .iter()
        .map(|leg| PlannedStop {
            yard: laid.yards[leg.stop],
            locked: locked.contains(&laid.yards[leg.stop]),
            drive: leg.drive,
            metres: drives[leg.stop].metres,
            arrive: leg.arrive,
            wait: leg.wait,
            service: laid.problem.stops[leg.stop].service,
            leave: leg.leave,
            work: std::mem::take(&mut laid.work[leg.stop]),
            faults: faults.remove(&leg.stop).unwrap_or_default(),
        })
        .collect();
    let on_run: BTreeSet<YardId> = run.stops.iter().map(|stop| stop.yard).collect();
    let placed: BTreeSet<YardId> = laid.yards.iter().copied().collect();
    let elsewhere: Vec<(YardId, u32)> = outlook
        .yards
        .keys()
        .filter(|yard| !on_run.contains(yard))
        .map(|yard| (*yard, open_work(outlook, *yard, run.day).count() as u32))
        .filter(|(_, count)| *count > 0)
        .collect();
    let metres_back = drives.last().map_or(0, |drive| drive.metres);
    Ok(RunPlan {
        metres: stops.iter().map(|stop| stop.metres).sum::<u32>() + metres_back,
        without_place: run.stops.iter().map(|stop| stop.yard).filter(|yard| !placed.contains(yard)).collect(),
        run: run.clone(),
        stops,
        back: table.back,
        drive_back: table.drive_back,
        metres_back,
        driving: table.driving,
        waiting: table.waiting,
        service: table.service,
        light: lights.at(world, run.base.place, run.day),
        elsewhere: elsewhere.iter().map(|(_, count)| count).sum(),
        elsewhere_yards: elsewhere.len() as u32,
        elsewhere_in: elsewhere.into_iter().map(|(yard, _)| yard).collect(),
    })
}

/// What is wrong with each stop at its time, in words.
fn faults(world: &World, laid: &Laid, table: &Timetable) -> BTreeMap<usize, Vec<String>> {
    let name = |stop: usize| world.yards.get(&laid.yards[stop]).map_or("", |yard| yard.name.as_str());
    let mut faults: BTreeMap<usize, Vec<String>> = BTreeMap::new();
    for violation in &table.violations {
        let (stop, words) = match *violation {
            Violation::Late { stop, by } => {
                (stop, format!("{} too late: {}", span(by), closing_words(world, laid, stop)))
            }
            Violation::OutOfRank { stop, after } => {
                (stop, format!("Comes after {}, which is to be last: disease or quarantine", name(after)))
            }
            Violation::OffLock { .. } | Violation::BackLate { .. } => continue,
        };
        faults.entry(stop).or_default().push(words);
    }
    faults
}

/// What ends the work at a stop: `the gate shuts 17:30`, `dark from 19:26`.
fn closing_words(world: &World, laid: &Laid, stop: usize) -> String {
    let close = laid.problem.stops[stop].close;
    let gate = world.yards.get(&laid.yards[stop]).and_then(|yard| yard.gate);
    let what =
        if gate.is_some_and(|gate| u32::from(gate.closes) * 60 == close) { "the gate shuts" } else { "dark from" };
    format!("{what} {}", clock(close))
}

/// `07:52`, from seconds of the day, to the nearest minute; after the midnight that ends it `06:10 +1 d`.
pub fn clock(seconds: u32) -> String {
    let minutes = (seconds + 30) / 60;
    let time = format!("{:02}:{:02}", minutes / 60 % 24, minutes % 60);
    match minutes / (24 * 60) {
        0 => time,
        days => format!("{time} +{days} d"),
    }
}

/// `7 h 34 min`, `45 min`, `13 days 12 h`, from seconds: to the nearest minute, from two days on to the nearest hour.
pub fn span(seconds: u32) -> String {
    let minutes = (seconds + 30) / 60;
    let hours = (minutes + 30) / 60;
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (48.., _) if hours.is_multiple_of(24) => format!("{} days", hours / 24),
        (48.., _) => format!("{} days {} h", hours / 24, hours % 24),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spans_are_told_in_the_largest_units_that_matter() {
        assert_eq!(span(27_240), "7 h 34 min");
        assert_eq!(span(7200), "2 h");
        assert_eq!(span(59), "1 min");
        assert_eq!(span(30 * 3600 + 300), "30 h 5 min");
        assert_eq!(span(19_439 * 60), "13 days 12 h");
        assert_eq!(span(48 * 3600), "2 days");
        assert_eq!(span(71 * 3600 + 45 * 60), "3 days");
    }

    #[test]
    fn a_time_after_midnight_says_how_many_days_later() {
        assert_eq!(clock(7 * 3600 + 52 * 60), "07:52");
        assert_eq!(clock(24 * 3600 - 31), "23:59");
        assert_eq!(clock(24 * 3600 - 30), "00:00 +1 d");
        assert_eq!(clock(13 * 86_400 + 3600), "01:00 +13 d");
    }
}
