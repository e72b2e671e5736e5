//! From the world to lines ready to be written: due work, runs, routes, calendars.

use crate::domain::day::Day;
use crate::domain::world::World;
use crate::exchange::out::calendar::Event;
use crate::exchange::out::lists::{DueLine, RunLine};
use crate::exchange::out::route::RoutePoint;
use crate::planner::outlook::Outlook;
use crate::planner::run::plan::{PlannedStop, RunPlan, clock};
use crate::planner::run::work_words::work_words;

/// All due looks and steps, by yard name, hive and best day; those whose earliest day is still ahead included.
pub fn due_lines(world: &World, outlook: &Outlook, today: Day) -> Vec<DueLine> {
    let mut lines: Vec<DueLine> = outlook
        .work()
        .map(|(yard, work)| DueLine {
            key: format!("{}-{}-{}", work.colony, work.kind.words().replace(' ', "-"), work.counted_from.iso()),
            yard: world.yards.get(&yard).map_or_else(String::new, |yard| yard.name.clone()),
            hive: world.colonies.get(&work.colony).map_or_else(String::new, |colony| colony.name().to_owned()),
            work: work.kind.words().to_owned(),
            earliest: work.window.earliest,
            best: work.window.best,
            latest: work.window.latest,
            state: work.window.state(today),
            why: work.why.clone(),
        })
        .collect();
    lines.sort_by(|a, b| (&a.yard, &a.hive, a.best, &a.work).cmp(&(&b.yard, &b.hive, b.best, &b.work)));
    lines
}

/// Seconds of a day.
const DAY: u32 = 86_400;

/// A run's stops as lines. Times to the nearest minute.
pub fn run_lines(world: &World, plan: &RunPlan) -> Vec<RunLine> {
    let line = |(at, stop): (usize, &PlannedStop)| RunLine {
        stop: at as u32 + 1,
        yard: yard_name(world, stop),
        arrive: minutes(stop.arrive) as u16,
        leave: minutes(stop.leave) as u16,
        drive_min: minutes(stop.drive),
        wait_min: minutes(stop.wait),
        service_min: minutes(stop.service),
        km: f64::from(stop.metres) / 1000.0,
    };
    plan.stops.iter().enumerate().map(line).collect()
}

/// A run's way: base, stops, base.
pub fn route_points(world: &World, plan: &RunPlan) -> Vec<RoutePoint> {
    let base = |time: String| RoutePoint {
        name: plan.run.base.name.clone(),
        place: plan.run.base.place,
        time,
        notes: String::new(),
    };
    let mut points = vec![base(format!("leave {}", clock(u32::from(plan.run.leave) * 60)))];
    for (at, stop) in plan.stops.iter().enumerate() {
        let Some(place) = world.yards.get(&stop.yard).and_then(|yard| yard.place) else { continue };
        points.push(RoutePoint {
            name: format!("{} {}", at + 1, yard_name(world, stop)),
            place,
            time: format!("{} to {}", clock(stop.arrive), clock(stop.leave)),
            notes: work_words(&stop.work),
        });
    }
    points.push(base(format!("back {}", clock(plan.back))));
    points
}

/// A run as events of its day, or of the day on which it gets there, one a stop.
pub fn run_events(world: &World, plan: &RunPlan) -> Vec<Event> {
    let event = |(at, stop): (usize, &PlannedStop)| Event {
        uid: format!("{}-{}-{}@lidnote", plan.run.id, stop.yard, plan.run.day.iso()),
        sequence: 0,
        day: plan.run.day.plus((stop.arrive / DAY) as i32),
        title: format!("{} {}, {}", at + 1, yard_name(world, stop), clock(stop.arrive % DAY)),
        words: format!("{} to {}\n{}", clock(stop.arrive), clock(stop.leave), work_words(&stop.work)),
        location: yard_name(world, stop),
        place: world.yards.get(&stop.yard).and_then(|yard| yard.place),
    };
    plan.stops.iter().enumerate().map(event).collect()
}

fn yard_name(world: &World, stop: &PlannedStop) -> String {
    world.yards.get(&stop.yard).map_or_else(String::new, |yard| yard.name.clone())
}

fn minutes(seconds: u32) -> u32 {
    (seconds + 30) / 60
}
