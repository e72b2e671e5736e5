//! The run sheet of a planned run.

use crate::domain::day::Day;
use crate::domain::ids::ColonyId;
use crate::domain::place::Place;
use crate::domain::settings::Settings;
use crate::domain::standing::QueenNow;
use crate::domain::visit::Method;
use crate::domain::work::{DueWork, WorkState};
use crate::domain::world::World;
use crate::planner::outlook::Outlook;
use crate::planner::run::load::{cautions, load};
use crate::planner::run::plan::{PlannedStop, RunPlan, clock};
use crate::print::job::{
    CodeColumn, GroundLine, HiveRow, LineClass, Paper, RunSheetJob, Sketch, SketchLine, SketchPoint, Stop,
};
use crate::print::of_world::created;

const LEGEND: &str = "q her seen, u another queen. c write how many closed cells, o an opened one. n only if the whole \
    nest was seen. Other codes: p part only; -r rain, -t time, -f not found; k, m alive, dead in the cage; d drone \
    layer; w laying workers; x disease; t1 to t4 temper; +q given; /q queen removed; /c cells cut; /k cage off; ?q not \
    found. Type the same in the evening.";

/// The sheet of a run. `today` is the day it is printed; `ground` is the coast and the roads that its sketch shows.
pub fn run_sheet_job(
    world: &World,
    outlook: &Outlook,
    plan: &RunPlan,
    paper: Paper,
    ground: &[GroundLine],
    today: Day,
) -> RunSheetJob {
    let day = plan.run.day;
    let stops = plan.stops.iter().enumerate().map(|(at, stop)| stop_of(world, outlook, stop, at, day));
    let mut before: Vec<String> = cautions(world, plan).into_iter().map(|caution| caution.paper).collect();
    before.retain(|line| !line.is_empty());
    before.push("Wash tools and gloves between yards.".to_owned());
    if let Some((rise, set)) = plan.light {
        before.push(format!("Daylight {} to {}; times are estimates.", clock(rise), clock(set)));
    }
    let unplaced = plan.without_place.iter().filter_map(|yard| world.yards.get(yard));
    before.extend(unplaced.map(|yard| format!("{}: its place is not known, so it has no time.", yard.name)));
    RunSheetJob {
        title: format!("Run sheet, {}", day.long()),
        subtitle: subtitle(plan, &world.settings),
        firm: world.firm.name.clone(),
        paper,
        language: "en".to_owned(),
        created: created(today),
        before_you_go: before,
        load: load(world, plan),
        sketch: sketch(world, plan, ground),
        codes: CodeColumn::standard(),
        stops: stops.collect(),
        notes: Vec::new(),
        note_rules: 2,
        legend: LEGEND.to_owned(),
    }
}

fn subtitle(plan: &RunPlan, settings: &Settings) -> String {
    let vehicle = if plan.run.vehicle.is_empty() { String::new() } else { format!("{}. ", plan.run.vehicle) };
    let stops = match plan.stops.len() {
        1 => "1 stop".to_owned(),
        stops => format!("{stops} stops"),
    };
    format!(
        "{vehicle}{stops}, {}. Leave {}, back {}, {}.",
        plan.due_words(),
        clock(u32::from(plan.run.leave) * 60),
        clock(plan.back),
        settings.distance_words(plan.metres)
    )
}

fn stop_of(world: &World, outlook: &Outlook, stop: &PlannedStop, at: usize, day: Day) -> Stop {
    let yard = world.yards.get(&stop.yard);
    let mut note: Vec<String> = Vec::new();
    if let Some(yard) = yard {
        note.extend([&yard.access, &yard.note].into_iter().filter(|words| !words.is_empty()).cloned());
        note.extend(yard.hazards.iter().cloned());
    }
    let late =
        stop.work.iter().filter(|work| work.window.state(day) == WorkState::Late).filter_map(|w| w.window.latest);
    note.extend(late.min().map(|since| format!("LATE since {}: do not skip.", since.short())));
    note.extend(stop.faults.iter().cloned());
    Stop {
        number: (at + 1).to_string(),
        yard: yard.map_or_else(String::new, |yard| yard.name.clone()),
        arrive: clock(stop.arrive),
        leave: clock(stop.leave),
        distance: world.settings.distance_words(stop.metres),
        note: note.iter().map(|words| sentence(words)).collect::<Vec<_>>().join(" "),
        hives: stop.colonies().into_iter().map(|colony| row(world, outlook, stop, colony, day)).collect(),
    }
}

fn sentence(words: &str) -> String {
    let words = words.trim();
    let end = if words.ends_with(['.', ':', ';']) { "" } else { "." };
    let mut letters = words.chars();
    let first = letters.next().map(|letter| letter.to_uppercase().to_string()).unwrap_or_default();
    format!("{first}{}{end}", letters.as_str())
}

fn row(world: &World, outlook: &Outlook, stop: &PlannedStop, colony: ColonyId, day: Day) -> HiveRow {
    let work: Vec<&DueWork> = stop.work.iter().filter(|work| work.colony == colony).collect();
    let parts: Vec<String> = work
        .iter()
        .map(|work| match work.window.latest {
            Some(latest) if latest >= day => format!("{}, to {}", work.kind.words(), latest.short()),
            Some(_) => format!("{}, late", work.kind.words()),
            None => work.kind.words().to_owned(),
        })
        .collect();
    // In the order of the parts: each step, and what is late.
    let bold = work.iter().flat_map(|work| {
        let step = (!work.kind.is_look()).then(|| work.kind.words());
        step.into_iter().chain((work.window.state(day) == WorkState::Late).then_some("late"))
    });
    let look_for = work.iter().map(|work| work.look_for.as_str()).find(|words| !words.is_empty()).unwrap_or_default();
    HiveRow {
        hive: world.colonies.get(&colony).map_or_else(String::new, |colony| colony.name().to_owned()),
        there: there(world, outlook, colony),
        due: parts.join("; "),
        due_bold: bold.map(str::to_owned).collect(),
        look_for: look_for.to_owned(),
    }
}

/// `white, Thrift, caged 13 Nov`; `no queen since 13 Nov`.
fn there(world: &World, outlook: &Outlook, colony: ColonyId) -> String {
    let Some(view) = outlook.colonies.get(&colony) else { return String::new() };
    match &view.standing.queen {
        QueenNow::Waiting { since, .. } => format!("no queen since {}", since.short()),
        QueenNow::Queenless { since: Some(since) } => format!("queenless since {}", since.short()),
        QueenNow::Queenless { since: None } => "queenless".to_owned(),
        QueenNow::Present(her) => {
            let mut parts: Vec<String> = her.dot.map(|dot| dot.name().to_owned()).into_iter().collect();
            let source = her.source.and_then(|source| world.sources.get(&source));
            parts.extend(source.map(|source| source.name.clone()));
            if let crate::domain::standing::Phase::Introduced(given) = &view.standing.phase {
                parts.push(format!("{} {}", how(given.method), given.day0.short()));
            }
            if parts.is_empty() { "queen not known".to_owned() } else { parts.join(", ") }
        }
    }
}

/// The way of giving in the few letters a column has.
fn how(method: Method) -> &'static str {
    match method {
        Method::Caged => "caged",
        Method::PushIn => "push-in",
        other => other.words(),
    }
}

/// Lines of which no point lies within this part of the frame cannot be seen in it.
const NEAR: std::ops::RangeInclusive<f32> = -1.0..=2.0;

/// The run in the sketch's frame, 55 by 30, with a margin; north up, distances true in both directions.
fn sketch(world: &World, plan: &RunPlan, ground: &[GroundLine]) -> Sketch {
    let placed: Vec<Place> =
        plan.stops.iter().filter_map(|stop| world.yards.get(&stop.yard).and_then(|yard| yard.place)).collect();
    if placed.is_empty() {
        return Sketch::default();
    }
    let base = plan.run.base.place;
    let squeeze = base.lat().to_radians().cos();
    // Longitudes are taken relative to the base, so that a run across the antimeridian stays together.
    let flat = |(lon, lat): (f64, f64)| {
        let east = (lon - base.lon() + 540.0).rem_euclid(360.0) - 180.0;
        (east * squeeze, -(lat - base.lat()))
    };
    let places = std::iter::once(base).chain(placed.iter().copied());
    let points: Vec<(f64, f64)> = places.map(|place| flat((place.lon(), place.lat()))).collect();
    let span = |pick: fn(&(f64, f64)) -> f64| {
        let low = points.iter().map(pick).fold(f64::INFINITY, f64::min);
        let high = points.iter().map(pick).fold(f64::NEG_INFINITY, f64::max);
        (low, high)
    };
    let ((west, east), (north, south)) = (span(|point| point.0), span(|point| point.1));
    let unit = ((east - west) / 55.0).max((south - north) / 30.0).max(1e-6) / 0.8;
    let (mid_x, mid_y) = (f64::midpoint(west, east), f64::midpoint(north, south));
    let place =
        |(x, y): (f64, f64)| (((x - mid_x) / unit / 55.0 + 0.5) as f32, ((y - mid_y) / unit / 30.0 + 0.5) as f32);
    let at: Vec<(f32, f32)> = points.into_iter().map(place).collect();
    let (home, stops) = at.split_first().map_or(((0.5, 0.5), &[][..]), |(home, stops)| (*home, stops));
    let route: Vec<(f32, f32)> =
        std::iter::once(home).chain(stops.iter().copied()).chain(std::iter::once(home)).collect();
    let mut lines: Vec<SketchLine> = ground
        .iter()
        .map(|line| SketchLine {
            class: line.class,
            points: line.points.iter().map(|point| place(flat(*point))).collect(),
        })
        .filter(|line| line.points.iter().any(|(x, y)| NEAR.contains(x) && NEAR.contains(y)))
        .collect();
    lines.push(SketchLine { class: LineClass::Route, points: route });
    Sketch {
        lines,
        stops: stops
            .iter()
            .enumerate()
            .map(|(at, point)| SketchPoint { label: (at + 1).to_string(), at: *point })
            .collect(),
        base: Some(SketchPoint { label: plan.run.base.name.clone(), at: home }),
    }
}
