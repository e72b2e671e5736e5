//! What the Run screen shows of one run: times, words, load, cautions. Computed once for a world and a run.

use std::collections::BTreeMap;

use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, YardId};
use crate::domain::run_order::RunOrder;
use crate::domain::visit::Method;
use crate::domain::work::{DueWork, Step, WorkKind, WorkState};
use crate::domain::world::World;
use crate::planner::outlook::Outlook;
use crate::planner::run::lights::Lights;
use crate::planner::run::load::{Caution, cautions, load};
use crate::planner::run::plan::{PlannedStop, RunPlan, clock, plan, span, work_on};
use crate::planner::run::solver::problem::Proof;
use crate::planner::run::work_words::work_words;

/// One run, ready to be shown.
#[derive(Clone, Debug, PartialEq)]
pub struct RunModel {
    /// Its times.
    pub plan: RunPlan,
    /// First sentence: what it is.
    pub fact: String,
    /// The same where there is little room: looks and steps as one number.
    pub short_fact: String,
    /// And when it ends.
    pub rest: String,
    /// How the time divides.
    pub total: String,
    /// The rows of the table.
    pub lines: Vec<Line>,
    /// What to carry.
    pub load: Vec<String>,
    /// What to beware of.
    pub cautions: Vec<Caution>,
    /// Each colony of the run once, in the order of the run.
    pub colonies: Vec<ColonyId>,
    /// `Daylight 04:44 to 19:29`.
    pub daylight: String,
    /// `Also open that day, not on this run: 40 due in 15 yards.`; empty where there is none.
    pub elsewhere: String,
    /// Those yards with their due work and its latest day, most urgent first.
    pub others: Vec<(YardId, usize, Option<Day>)>,
}

/// A row of the table of stops.
#[derive(Clone, Debug, PartialEq)]
pub enum Line {
    /// A stop, by its position in the plan.
    Stop(StopLine),
    /// Waiting at the gate or for light, before the stop that follows.
    Wait(String),
    /// A stop whose yard has no place: no times.
    NoPlace {
        /// The yard.
        yard: YardId,
        /// Its name.
        name: String,
    },
    /// Back at the base.
    Base {
        /// Its name.
        name: String,
        /// The time one is back.
        arrive: String,
        /// All due work of the run.
        due: usize,
        /// `24 km back`.
        back: String,
    },
}

/// One stop in words.
#[derive(Clone, Debug, PartialEq)]
pub struct StopLine {
    /// The yard.
    pub yard: YardId,
    /// Position from 1.
    pub number: usize,
    /// Its name.
    pub name: String,
    /// `11 km from Port Sallow shed`.
    pub way: String,
    /// `11 km`.
    pub far: String,
    /// `07:52`.
    pub arrive: String,
    /// `08:22`.
    pub leave: String,
    /// Looks and steps.
    pub due: usize,
    /// `3 acceptance looks; take the cage off`.
    pub work: String,
    /// What to carry for it; empty for none.
    pub carry: String,
    /// What is wrong with it; empty for nothing.
    pub fault: String,
    /// `27 Nov`, `22 Nov, late`.
    pub latest: String,
    /// Its latest day has passed by the day of the run.
    pub late: bool,
    /// Its latest day is the day of the run.
    pub last_day: bool,
    /// It keeps its position.
    pub locked: bool,
}

impl Line {
    /// The yard of a stop.
    pub fn yard(&self) -> Option<YardId> {
        match self {
            Self::Stop(stop) => Some(stop.yard),
            Self::NoPlace { yard, .. } => Some(*yard),
            Self::Wait(_) | Self::Base { .. } => None,
        }
    }
}

impl RunModel {
    /// The model of a run.
    ///
    /// # Errors
    /// The fact and the way out, where a setting or a place is out of range.
    pub fn new(world: &World, outlook: &Outlook, run: &RunOrder, lights: &mut Lights) -> Result<Self, String> {
        let plan = plan(world, outlook, run, lights).map_err(|error| error.to_string())?;
        let vehicle = if run.vehicle.is_empty() { String::new() } else { format!(", {}", run.vehicle) };
        let stops = counted(run.stops.len() as u32, "stop", "stops");
        // With no stop, "nothing due" would read as if no yard had work that day.
        let stops_due = match (run.stops.is_empty(), plan.elsewhere) {
            (true, 0) => "nothing due".to_owned(),
            (true, _) => "no stop yet".to_owned(),
            _ => format!("{stops}, {}", plan.due_words()),
        };
        let due_words = stops_due.split(": ").next().unwrap_or_default();
        let short_fact = format!("{}{vehicle}: {due_words}.", run.day.with_weekday());
        let left = u32::from(run.leave) * 60;
        let whole = span(plan.back.saturating_sub(left));
        let waiting = if plan.waiting < 60 { String::new() } else { format!(", {} waiting", span(plan.waiting)) };
        let total = format!("{whole}: {} driving{waiting}, {} in the yards.", span(plan.driving), span(plan.service));
        let elsewhere = if plan.elsewhere == 0 {
            String::new()
        } else {
            let yards = counted(plan.elsewhere_yards, "yard", "yards");
            format!("Also open that day, not on this run: {} due in {yards}.", plan.elsewhere)
        };
        let mut colonies = Vec::new();
        for stop in &plan.stops {
            colonies.extend(stop.colonies());
        }
        Ok(Self {
            fact: format!("{}{vehicle}: {stops_due}.", run.day.with_weekday()),
            short_fact,
            rest: if run.stops.is_empty() {
                String::new()
            } else {
                format!("Home {}, {}.", clock(plan.back), world.settings.distance_words(plan.metres))
            },
            total,
            lines: lines(world, &plan),
            load: load(world, &plan),
            cautions: cautions(world, &plan),
            colonies,
            daylight: match plan.light {
                Some((rise, set)) if rise < set => format!("Daylight {} to {}", clock(rise), clock(set)),
                Some(_) => "No daylight that day".to_owned(),
                None => "Light all day".to_owned(),
            },
            elsewhere,
            others: others(outlook, &plan),
            plan,
        })
    }

    /// What tells two plans of the same run apart: who, when.
    pub fn times(&self) -> Vec<(YardId, u32, u32)> {
        self.plan.stops.iter().map(|stop| (stop.yard, stop.arrive, stop.leave)).collect()
    }
}

fn lines(world: &World, plan: &RunPlan) -> Vec<Line> {
    let name = |yard: YardId| world.yards.get(&yard).map_or(String::new(), |yard| yard.name.clone());
    let mut lines = Vec::new();
    let mut before = plan.run.base.name.clone();
    for (at, stop) in plan.stops.iter().enumerate() {
        if stop.wait >= 60 {
            let opens = stop.arrive + stop.wait;
            lines.push(Line::Wait(format!("Wait {}, {} to {}", span(stop.wait), clock(stop.arrive), clock(opens))));
        }
        let this = name(stop.yard);
        lines.push(Line::Stop(stop_line(world, plan.run.day, stop, at, this.clone(), &before)));
        before = this;
    }
    lines.extend(plan.without_place.iter().map(|yard| Line::NoPlace { yard: *yard, name: name(*yard) }));
    let (looks, steps) = plan.due();
    lines.push(Line::Base {
        name: plan.run.base.name.clone(),
        arrive: clock(plan.back),
        due: (looks + steps) as usize,
        back: format!("{} back", world.settings.distance_words(plan.metres_back)),
    });
    lines
}

fn stop_line(world: &World, day: Day, stop: &PlannedStop, at: usize, name: String, before: &str) -> StopLine {
    let latest = stop.latest();
    let late = stop.work.iter().any(|work| work.window.state(day) == WorkState::Late);
    let last_day = !late && latest == Some(day);
    let latest = latest.map_or(String::new(), |latest| match (late, last_day) {
        (true, _) => format!("{}, late", latest.short()),
        (_, true) => format!("{}, last day", latest.short()),
        _ => latest.short(),
    });
    StopLine {
        yard: stop.yard,
        number: at + 1,
        name,
        way: format!("{} from {before}", world.settings.distance_words(stop.metres)),
        far: world.settings.distance_words(stop.metres),
        arrive: clock(stop.arrive),
        leave: clock(stop.leave),
        due: stop.work.len(),
        work: work_words(&stop.work),
        carry: carry_words(world, &stop.work),
        fault: stop.faults.join(". "),
        latest,
        late,
        last_day,
        locked: stop.locked,
    }
}

fn carry_words(world: &World, work: &[DueWork]) -> String {
    let mut things: BTreeMap<(Option<Method>, String), u32> = BTreeMap::new();
    let mut cages = 0;
    for work in work {
        match work.kind {
            WorkKind::Step(Step::Give) => {
                let plan = work.plan.and_then(|plan| world.plans.get(&plan));
                let source = plan.and_then(|plan| plan.source).and_then(|source| world.sources.get(&source));
                let from = source.map_or(String::new(), |source| format!(", {}", source.name));
                *things.entry((work.method, from)).or_default() += 1;
            }
            WorkKind::Step(Step::CageOff) => cages += 1,
            _ => {}
        }
    }
    let named = |((method, from), count): (&(Option<Method>, String), &u32)| {
        let (one, many) = to_carry(*method);
        format!("{count} {}{from}", if *count == 1 { one } else { many })
    };
    let mut words: Vec<String> = things.iter().map(named).collect();
    match cages {
        0 => {}
        1 => words.push("a bag for the cage".to_owned()),
        _ => words.push("a bag for the cages".to_owned()),
    }
    if words.is_empty() { String::new() } else { format!("Carry {}", words.join("; ")) }
}

/// What a way of giving needs, one and several.
fn to_carry(method: Option<Method>) -> (&'static str, &'static str) {
    match method {
        None => ("queen", "queens"),
        Some(Method::Caged) => ("caged queen", "caged queens"),
        Some(Method::PushIn) => ("queen and push-in cage", "queens and push-in cages"),
        Some(Method::Cell) => ("mature cell", "mature cells"),
        Some(Method::Virgin) => ("virgin", "virgins"),
        Some(Method::Nuc) => ("nuc", "nucs"),
        Some(Method::OwnRaising) => ("cell", "cells"),
    }
}

/// How sure the order is, in words.
pub fn proof_words(proof: Option<Proof>, stops: usize) -> String {
    match proof {
        _ if stops < 2 => String::new(),
        Some(Proof::Shortest) => format!("Order proven shortest for {stops} stops."),
        Some(Proof::Heuristic) => "A good order found by trying.".to_owned(),
        None => "Order as it was set, not proven shortest.".to_owned(),
    }
}

/// Other yards that may be added: those with open work that day, most urgent first.
fn others(outlook: &Outlook, plan: &RunPlan) -> Vec<(YardId, usize, Option<Day>)> {
    let mut found: Vec<_> = plan
        .elsewhere_in
        .iter()
        .map(|yard| {
            let work = work_on(outlook, *yard, plan.run.day);
            (*yard, work.len(), work.iter().filter_map(|work| work.window.latest).min())
        })
        .collect();
    found.sort_by_key(|(yard, count, latest)| (latest.is_none(), *latest, std::cmp::Reverse(*count), *yard));
    found
}

/// The next day after `day` on which work falls due, how much and in how many yards.
pub fn next_day_with_work(outlook: &Outlook, day: Day) -> Option<(Day, usize, usize)> {
    let next = outlook.work().map(|(_, work)| work.window.best).filter(|best| *best > day).min()?;
    let mut yards = std::collections::BTreeSet::new();
    let due = outlook.work().filter(|(_, work)| work.window.best == next).map(|(yard, _)| yards.insert(yard)).count();
    Some((next, due, yards.len()))
}

/// `1 stop`, `7 stops`.
pub fn counted(count: u32, one: &str, many: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {many}") }
}

#[cfg(test)]
mod tests {
    use super::*;
    #[test]
    fn the_proof_is_only_claimed_where_there_is_one() {
        assert_eq!(proof_words(Some(Proof::Shortest), 7), "Order proven shortest for 7 stops.");
        assert_eq!(proof_words(None, 7), "Order as it was set, not proven shortest.");
        assert_eq!(proof_words(Some(Proof::Heuristic), 30), "A good order found by trying.");
    }
}
