//! What a run must carry, and its cautions.

use std::collections::BTreeMap;

use crate::domain::visit::Method;
use crate::domain::work::{Step, WorkKind};
use crate::domain::world::World;
use crate::planner::run::plan::{RunPlan, clock, in_quarantine, span};

/// A caution: a bold fact, then what to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// The fact.
    pub fact: String,
    /// What to do.
    pub then: String,
    /// Both in a line for paper; empty where the paper says it at the stop itself.
    pub paper: String,
    /// It forbids something (quarantine, disease).
    pub forbids: bool,
}

/// What the run must carry, one line a thing.
pub fn load(world: &World, plan: &RunPlan) -> Vec<String> {
    let mut lines = Vec::new();
    let mut give: BTreeMap<Method, BTreeMap<String, u32>> = BTreeMap::new();
    let (mut cages_off, mut cut) = (0_u32, 0_u32);
    for work in plan.stops.iter().flat_map(|stop| &stop.work) {
        match work.kind {
            WorkKind::Step(Step::Give) => {
                let made = work.plan.and_then(|plan| world.plans.get(&plan));
                let source = made.and_then(|plan| plan.source).and_then(|source| world.sources.get(&source));
                let method = work.method.unwrap_or(Method::Caged);
                let from = source.map_or("any source", |source| source.name.as_str()).to_owned();
                *give.entry(method).or_default().entry(from).or_default() += 1;
            }
            WorkKind::Step(Step::CageOff) => cages_off += 1,
            WorkKind::Step(Step::CutCells) => cut += 1,
            _ => {}
        }
    }
    for (method, sources) in &give {
        let count: u32 = sources.values().sum();
        let from: Vec<String> = sources.iter().map(|(source, count)| format!("{count} {source}")).collect();
        let from = match sources.keys().next() {
            Some(source) if sources.len() == 1 => format!(", {source}"),
            _ => format!(": {}", from.join(", ")),
        };
        lines.push(format!("{}{from}", counted(count, carried(*method))));
    }
    let labels: usize = plan.stops.iter().map(|stop| stop.colonies().len()).sum();
    if labels > 0 {
        lines.push(format!("{}, marker pen", counted(labels as u32, ("lid label", "lid labels"))));
    }
    if !give.is_empty() {
        lines.push("Candy, water, spare cages".to_owned());
    }
    if cages_off > 0 {
        lines.push(format!("A bag for {}", counted(cages_off, ("cage", "cages"))));
    }
    if cut > 0 {
        lines.push("A sharp knife for cells".to_owned());
    }
    lines.push("Two hive tools, wash kit, gloves".to_owned());
    lines.push("Smoker, fuel, water to put it out".to_owned());
    lines.push("Drinking water, first aid, phone".to_owned());
    lines
}

fn carried(method: Method) -> (&'static str, &'static str) {
    match method {
        Method::Caged => ("caged queen", "caged queens"),
        Method::PushIn => ("queen and push-in cage", "queens and push-in cages"),
        Method::Cell => ("mature cell, warm and upright", "mature cells, warm and upright"),
        Method::Virgin => ("virgin", "virgins"),
        Method::Nuc => ("nuc with a laying queen", "nucs with laying queens"),
        Method::OwnRaising => ("colony to leave with a cell", "colonies to leave with a cell"),
    }
}

fn counted(count: u32, (one, many): (&str, &str)) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {many}") }
}

/// The cautions of a run. General ones stand last; what is particular to it first.
pub fn cautions(world: &World, plan: &RunPlan) -> Vec<Caution> {
    let mut found = Vec::new();
    let mut say = |forbids, fact: String, then: &str, paper: &str| {
        found.push(Caution { fact, then: then.to_owned(), paper: paper.to_owned(), forbids });
    };
    for (yard, row) in &world.yards {
        let since = world.bars.values().filter(|bar| bar.on == crate::domain::bar::BarOn::Yard(*yard));
        if !in_quarantine(world, *yard, plan.run.day) {
            continue;
        }
        let from = since.map(|bar| bar.from).min().map_or(String::new(), |day| format!(" since {}", day.short()));
        let fact = format!("{} is under quarantine{from}.", row.name);
        if plan.stops.iter().any(|stop| stop.yard == *yard) {
            say(
                true,
                fact,
                "It comes last. Move nothing from it; wash tools, boots and gloves; follow the local rules.",
                &format!("{}, quarantine: last; move nothing, wash.", row.name),
            );
        } else {
            let paper = format!("{}, quarantine: stay out, move nothing.", row.name);
            say(true, fact, "Not on this run. Move no gear to or from it; follow the local rules.", &paper);
        }
    }
    let mut hazards: Vec<String> = Vec::new();
    for stop in &plan.stops {
        let Some(yard) = world.yards.get(&stop.yard) else { continue };
        let no_signal = yard.hazards.iter().any(|hazard| hazard.to_lowercase().contains("signal"));
        if no_signal {
            let call = clock(stop.leave + 45 * 60);
            let fact = format!("{} has no signal.", yard.name);
            say(
                false,
                fact,
                &format!("If you go alone, agree a check-in: leave {}, call by {call}.", clock(stop.leave)),
                &format!("{}: no signal, call by {call}.", yard.name),
            );
        }
        let others: Vec<&str> = (yard.hazards.iter().map(String::as_str))
            .filter(|hazard| !hazard.to_lowercase().contains("signal"))
            .collect();
        if !others.is_empty() {
            hazards.push(format!("{}: {}", yard.name, others.join(", ")));
        }
    }
    if !hazards.is_empty() {
        let fact = format!("Hazards at {}.", counted(hazards.len() as u32, ("stop", "stops")));
        say(false, fact, &format!("{}. Take care there; go two where you can.", hazards.join("; ")), "");
    }
    let takes = plan.back.saturating_sub(u32::from(plan.run.leave) * 60);
    if takes > 24 * 3600 {
        say(
            false,
            format!("This run takes {}.", span(takes)),
            "No day has room for it: choose a base nearer to its yards, or leave some out. Ways are straight lines, over water too.",
            "Longer than a day: choose a nearer base.",
        );
    } else if plan.driving > 4 * 3600 || takes > 10 * 3600 {
        let paper = "A long day: share the driving, rest, drink.";
        say(false, "A long day.".to_owned(), "Share the driving, rest when tired, drink.", paper);
    }
    say(
        false,
        "Lifting, heat, working alone.".to_owned(),
        "Lift with the legs or with two. Drink, and rest in the shade. Say where you go and when you are back.",
        "Lift with two; drink; say when you are back.",
    );
    say(
        false,
        "Fire bans are not known to Lidnote.".to_owned(),
        "Ask before you light a smoker. Carry water.",
        "Ask about a fire ban before you light up.",
    );
    say(
        false,
        "Stings can be dangerous.".to_owned(),
        "Trouble breathing, swelling of face or throat, dizziness: call an ambulance at once.",
        "Sting, then short of breath: ambulance at once.",
    );
    say(
        false,
        "Signs of brood disease.".to_owned(),
        "Close the hive, wash hands and tools, move nothing, tell the authority as the local rules say.",
        "Signs of disease: close, isolate, report.",
    );
    found
}
