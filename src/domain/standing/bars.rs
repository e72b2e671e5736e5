//! Bars: what forbids planning a requeening now, by method, and how it is overruled or lifted.

use crate::domain::bar::{Bar, BarKind, BarOn};
use crate::domain::colony::Colony;
use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, YardId};
use crate::domain::place::Hemisphere;
use crate::domain::standing::state::State;
use crate::domain::standing::{ActiveBar, standing};
use crate::domain::visit::{Disease, Method, Seen};
use crate::domain::world::World;

/// Methods that laying workers forbid; uniting a nuc and shaking out stay open.
const NOT_WITH_LAYING_WORKERS: [Method; 4] = [Method::Caged, Method::PushIn, Method::Cell, Method::Virgin];

/// Whether an introduction by that method may be planned for a colony on `day`, its day 0.
///
/// The season window counts here, although it is no bar of the colony's own. A quarantine under a permit allows it.
///
/// # Errors
/// The hardest bar that forbids it; a soft one only where `overrule_soft` is false.
pub fn plan_allowed(
    world: &World,
    colony: ColonyId,
    method: Method,
    day: Day,
    overrule_soft: bool,
) -> Result<(), ActiveBar> {
    let Some(standing) = standing(world, colony, day) else { return Ok(()) };
    let mut bars = standing.bars;
    bars.extend(season_bar(world, day));
    match forbidding(&bars, method) {
        Some(bar) if !(overrule_soft && bar.kind.is_soft()) => Err(bar.clone()),
        _ => Ok(()),
    }
}

/// The soft bar outside the season window, with the last day it holds; nothing within the season.
pub fn season_bar(world: &World, day: Day) -> Option<ActiveBar> {
    let shift = if world.firm.hemisphere == Hemisphere::South { 0 } else { 6 };
    let month = |setting: i32| (setting - 1 + shift).rem_euclid(12) + 1;
    let (first, last) = (month(world.settings.season_from_month()), month(world.settings.season_to_month()));
    let now = day.month() as i32;
    let within = if first <= last { (first..=last).contains(&now) } else { now >= first || now <= last };
    if within {
        return None;
    }
    let start = |month: i32, after: Day| {
        let this_year = Day::new(after.year(), month as u32, 1);
        this_year.filter(|start| *start > after).or_else(|| Day::new(after.year() + 1, month as u32, 1))
    };
    let until = start(first, day).map(|next| next.plus(-1));
    let ended = last.rem_euclid(12) + 1;
    let this_year = Day::new(day.year(), ended as u32, 1);
    let from = this_year.filter(|end| *end <= day).or_else(|| Day::new(day.year() - 1, ended as u32, 1));
    Some(ActiveBar {
        kind: BarKind::Season,
        from: from.unwrap_or(day),
        until,
        reason: until.map_or_else(String::new, |until| format!("the season begins {}", until.plus(1).short())),
        permit: None,
        bar: None,
        methods: Vec::new(),
    })
}

/// The hardest bar that forbids a method.
pub(super) fn forbidding(bars: &[ActiveBar], method: Method) -> Option<&ActiveBar> {
    bars.iter().filter(|bar| bar.forbids(method)).min_by_key(|bar| (bar.kind.is_soft(), bar.kind))
}

impl ActiveBar {
    /// It forbids planning an introduction by that method. A quarantine does not where a permit's reference is given.
    pub fn forbids(&self, method: Method) -> bool {
        let permitted = self.kind == BarKind::Quarantine && self.permit.as_deref().is_some_and(|it| !it.is_empty());
        !permitted && (self.methods.is_empty() || self.methods.contains(&method))
    }

    /// The lid says so: brood disease or a quarantine. Laying workers ask for action instead, soft bars only for a word.
    pub fn shuts_the_lid(&self) -> bool {
        self.kind.is_disease() || self.kind == BarKind::Quarantine
    }
}

/// Bars of the colony on a day, hardest first: set by hand on it or on its yard, or following from its finds.
pub(super) fn active(world: &World, colony: &Colony, state: &State, today: Day) -> Vec<ActiveBar> {
    let mut bars: Vec<ActiveBar> = Vec::new();
    if !world.bars.is_empty() {
        let yard = colony.stands.iter().rev().find(|stand| stand.from <= today).or(colony.stands.first());
        let on_yard = yard.map(|stand| BarOn::Yard(stand.yard));
        let named = |bar: &&Bar| bar.on == BarOn::Colony(colony.id) || Some(bar.on) == on_yard;
        bars.extend(world.bars.values().filter(named).filter(|bar| bar.holds(today)).map(by_hand));
        let known: Vec<_> = bars.iter().filter_map(|bar| bar.bar).collect();
        let left = left_under_quarantine(world, colony, today).into_iter();
        bars.extend(left.map(|left| left.bar).filter(|bar| !bar.bar.is_some_and(|bar| known.contains(&bar))));
    }
    if let Some((since, disease)) = state.disease {
        bars.push(from_disease(since, disease));
    }
    if let Some(since) = state.laying_workers {
        bars.push(from_laying_workers(since));
    }
    if let Some((since, until)) = state.swarming.filter(|(_, until)| today <= *until) {
        bars.push(ActiveBar { until: Some(until), ..found(BarKind::Swarming, since) });
    }
    bars.sort_by_key(|bar| (bar.kind.is_soft(), bar.kind, bar.from));
    bars
}

/// A yard that a colony left while it was under quarantine.
pub(super) struct Left {
    /// The day it left.
    pub on: Day,
    /// The yard it left.
    pub yard: YardId,
    /// The quarantine it carries with it.
    pub bar: ActiveBar,
}

/// The quarantines that still hold for yards the colony was moved out of while they held: being carried away does not
/// free a hive. Each as a bar of the colony's own.
pub(super) fn left_under_quarantine(world: &World, colony: &Colony, today: Day) -> Vec<Left> {
    let mut found: Vec<Left> = Vec::new();
    for pair in colony.stands.windows(2) {
        let [from, to] = pair else { continue };
        if to.from > today || to.yard == from.yard {
            continue;
        }
        let held =
            world.bars.values().filter(|bar| bar.kind == BarKind::Quarantine && bar.on == BarOn::Yard(from.yard));
        for bar in held.filter(|bar| bar.holds(to.from) && bar.holds(today)) {
            let name = world.yards.get(&from.yard).map_or("its yard", |yard| yard.name.as_str());
            let came = format!("it came from {name} {}", to.from.short());
            let reason = if bar.reason.is_empty() { came } else { format!("{}; {came}", bar.reason) };
            found.retain(|left| left.bar.bar != Some(bar.id));
            found.push(Left { on: to.from, yard: from.yard, bar: ActiveBar { reason, ..by_hand(bar) } });
        }
    }
    found
}

/// The bars that a find of a day brings about.
pub fn of_find(seen: &Seen, day: Day) -> Vec<ActiveBar> {
    let disease = seen.disease.map(|disease| from_disease(day, disease));
    disease.into_iter().chain(seen.laying_workers.then(|| from_laying_workers(day))).collect()
}

/// Disease is suspected of the colony itself by a bar set by hand: due work rests.
pub(super) fn resting_by_hand(world: &World, colony: ColonyId, today: Day) -> Option<Day> {
    let disease = |bar: &&Bar| bar.kind.is_disease();
    let here = world.bars.values().filter(|bar| bar.on == BarOn::Colony(colony)).filter(disease);
    here.filter(|bar| bar.holds(today)).map(|bar| bar.from).min()
}

fn by_hand(bar: &Bar) -> ActiveBar {
    let methods = if bar.kind == BarKind::LayingWorkers { NOT_WITH_LAYING_WORKERS.to_vec() } else { Vec::new() };
    ActiveBar {
        kind: bar.kind,
        from: bar.from,
        until: bar.until,
        reason: bar.reason.clone(),
        permit: bar.permit.clone(),
        bar: Some(bar.id),
        methods,
    }
}

fn found(kind: BarKind, from: Day) -> ActiveBar {
    ActiveBar {
        kind,
        from,
        until: None,
        reason: format!("seen {}", from.short()),
        permit: None,
        bar: None,
        methods: Vec::new(),
    }
}

fn from_laying_workers(since: Day) -> ActiveBar {
    ActiveBar { methods: NOT_WITH_LAYING_WORKERS.to_vec(), ..found(BarKind::LayingWorkers, since) }
}

/// Disease not named counts as American foulbrood until it is named.
fn from_disease(since: Day, disease: Disease) -> ActiveBar {
    let (kind, what) = match disease {
        Disease::NotNamed => (BarKind::AmericanFoulbrood, "not named, so held to be American foulbrood"),
        Disease::AmericanFoulbrood => (BarKind::AmericanFoulbrood, "isolate, report under the local rules"),
        Disease::EuropeanFoulbrood => (BarKind::Disease, "European foulbrood suspected"),
        Disease::Chalkbrood => (BarKind::Disease, "chalkbrood suspected; lift the bar to requeen with hygienic stock"),
        Disease::Other => (BarKind::Disease, "another brood disease suspected"),
    };
    ActiveBar { reason: format!("{what}, seen {}", since.short()), ..found(kind, since) }
}
