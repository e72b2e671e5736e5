//! A run with its times: what each stop holds, when one is there, and how long the day is.
//!
//! Travel is an estimate: geodesic distance times the road factor at one speed (both settings).

use std::collections::BTreeSet;

use crate::domain::bar::BarKind;
use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, YardId};
use crate::domain::run_order::RunOrder;
use crate::domain::work::{DueWork, WorkState};
use crate::domain::world::World;
use crate::planner::outlook::Outlook;
use crate::planner::run::solver::problem::{Problem, Proof, Stop};
use crate::planner::run::solver::timetable::{Timetable, Violation, timetable};
use crate::roads::sun::{Daylight, daylight};
use crate::roads::travel::{Driving, Matrix, TravelError, estimate};

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
    outlook.work_of(yard).filter(|work| work.window.open_on(day)).cloned().collect()
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

/// The numbers of a run for the solver, with the yards in the order of its stops.
pub(super) struct Laid {
    pub(super) problem: Problem,
    pub(super) metres: Vec<Vec<u32>>,
    pub(super) yards: Vec<YardId>,
    pub(super) work: Vec<Vec<DueWork>>,
}

/// Lays a run's stops that have a place out as numbers. `Err`: a place or a driving setting is out of range.
pub(super) fn lay_out(world: &World, outlook: &Outlook, run: &RunOrder) -> Result<Laid, TravelError> {
    let placed: Vec<_> = run
        .stops
        .iter()
        .filter_map(|stop| Some((stop, world.yards.get(&stop.yard)?)))
        .filter_map(|(stop, yard)| Some((stop, yard, yard.place?)))
        .collect();
    let base = run.base.place;
    let mut places = vec![(base.lat(), base.lon())];
    places.extend(placed.iter().map(|(_, _, place)| (place.lat(), place.lon())));
    let driving = Driving { road_factor: world.settings.road_factor(), speed: world.settings.speed() };
    let Matrix { seconds, metres } = estimate(&places, driving)?;
    let mut laid = Laid {
        problem: Problem { drive: seconds, stops: Vec::new(), leave: u32::from(run.leave) * 60, back: None },
        metres,
        yards: Vec::new(),
        work: Vec::new(),
    };
    for (at, (stop, yard, place)) in placed.into_iter().enumerate() {
        let work = work_on(outlook, yard.id, run.day);
        let (mut open, mut close) = light_at(world, (place.lat(), place.lon()), run.day).unwrap_or((0, 24 * 3600));
        let margin = world.settings.daylight_margin().max(0) as u32 * 60;
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
            rank: rank(world, outlook, yard.id, run.day),
            lock: stop.locked.then_some(at),
            urgency: work.iter().map(|work| urgency(work, run.day)).max().unwrap_or(0),
        });
        laid.yards.push(yard.id);
        laid.work.push(work);
    }
    Ok(laid)
}

/// 0 healthy, 1 disease suspected, 2 under quarantine.
fn rank(world: &World, outlook: &Outlook, yard: YardId, day: Day) -> u8 {
    if in_quarantine(world, yard, day) {
        return 2;
    }
    let views = outlook.yards.get(&yard).map_or(&[][..], |view| view.colonies.as_slice());
    let suspected = views.iter().filter_map(|colony| outlook.colonies.get(colony)).any(|view| {
        let disease = |kind: BarKind| matches!(kind, BarKind::AmericanFoulbrood | BarKind::Disease);
        view.standing.bars.iter().any(|bar| disease(bar.kind))
    });
    u8::from(suspected)
}

/// Whether a yard is under quarantine on a day.
pub fn in_quarantine(world: &World, yard: YardId, day: Day) -> bool {
    world.bars.values().any(|bar| {
        let holds = bar.from <= day && bar.until.is_none_or(|until| until >= day);
        let lifted = bar.lifted.as_ref().is_some_and(|lifted| lifted.on <= day);
        bar.on == crate::domain::bar::BarOn::Yard(yard) && bar.kind == BarKind::Quarantine && holds && !lifted
    })
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

/// Sunrise and sunset in seconds of the local day; nothing where there is no sunrise, or no sunset, that day.
fn light_at(world: &World, place: (f64, f64), day: Day) -> Option<(u32, u32)> {
    let date = (day.year(), day.month(), day.day_of_month());
    match daylight(place, date, world.settings.utc_offset()) {
        Ok(Daylight::Between { rise, set }) => Some((rise, set)),
        // Without a sunrise there is no light to work in; the screen says so through the faults of every stop.
        Ok(Daylight::None) => Some((12 * 3600, 12 * 3600)),
        Ok(Daylight::AllDay) | Err(_) => None,
    }
}

/// The times of a run as its stops stand.
///
/// # Errors
/// If a driving setting or a place is out of range.
pub fn plan(world: &World, outlook: &Outlook, run: &RunOrder) -> Result<RunPlan, TravelError> {
    let laid = lay_out(world, outlook, run)?;
    let order: Vec<usize> = (0..laid.yards.len()).collect();
    let table = timetable(&laid.problem, &order);
    let mut stops = Vec::new();
    let mut here = 0;
    for leg in &table.legs {
        let yard = laid.yards[leg.stop];
        stops.push(PlannedStop {
            yard,
            locked: run.stops.iter().any(|stop| stop.yard == yard && stop.locked),
            drive: leg.drive,
            metres: laid.metres[here][leg.stop + 1],
            arrive: leg.arrive,
            wait: leg.wait,
            service: laid.problem.stops[leg.stop].service,
            leave: leg.leave,
            work: laid.work[leg.stop].clone(),
            faults: faults(world, &laid, &table, leg.stop),
        });
        here = leg.stop + 1;
    }
    let on_run: BTreeSet<YardId> = run.stops.iter().map(|stop| stop.yard).collect();
    let elsewhere: Vec<(YardId, u32)> = outlook
        .yards
        .keys()
        .filter(|yard| !on_run.contains(yard))
        .map(|yard| (*yard, work_on(outlook, *yard, run.day).len() as u32))
        .filter(|(_, count)| *count > 0)
        .collect();
    let base = (run.base.place.lat(), run.base.place.lon());
    let metres_back = laid.metres[here][0];
    Ok(RunPlan {
        metres: stops.iter().map(|stop| stop.metres).sum::<u32>() + metres_back,
        without_place: run.stops.iter().map(|stop| stop.yard).filter(|yard| !laid.yards.contains(yard)).collect(),
        run: run.clone(),
        stops,
        back: table.back,
        drive_back: table.drive_back,
        metres_back,
        driving: table.driving,
        waiting: table.waiting,
        service: table.service,
        light: light_at(world, base, run.day),
        elsewhere: elsewhere.iter().map(|(_, count)| count).sum(),
        elsewhere_yards: elsewhere.len() as u32,
        elsewhere_in: elsewhere.into_iter().map(|(yard, _)| yard).collect(),
    })
}

/// What is wrong with one stop at its time, in words.
fn faults(world: &World, laid: &Laid, table: &Timetable, stop: usize) -> Vec<String> {
    let name = |stop: usize| world.yards.get(&laid.yards[stop]).map_or("", |yard| yard.name.as_str());
    let words = |violation: &Violation| match *violation {
        Violation::Late { stop: at, by } if at == stop => {
            let close = laid.problem.stops[stop].close;
            Some(format!("{} min after gate or daylight end at {}", by.div_ceil(60), clock(close)))
        }
        Violation::OutOfRank { stop: at, after } if at == stop => {
            Some(format!("Comes after {}, which is to be last: disease or quarantine", name(after)))
        }
        _ => None,
    };
    table.violations.iter().filter_map(words).collect()
}

/// `07:52`, from seconds of the day; past midnight it counts on.
pub fn clock(seconds: u32) -> String {
    let minutes = (seconds + 30) / 60;
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}
