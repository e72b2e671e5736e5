//! Folds a colony's records in order, and reads off how it stands.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::domain::colony::Colony;
use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, PlanId, RecordId};
use crate::domain::plan::Plan;
use crate::domain::record::{Happening, Record};
use crate::domain::standing::state::{Setting, Stage, State, Trial};
use crate::domain::standing::{
    Course, Identity, LastLook, Offer, Outcome, OutcomeClass, Phase, QueenFacts, QueenNow, Standing, bars, clock, due,
};
use crate::domain::visit::{Method, Visit};
use crate::domain::world::World;
use crate::domain::yard::Yard;

/// How deep colonies united into one another are followed.
const UNITED_DEPTH: u8 = 3;

pub(super) fn course(world: &World, colony: ColonyId, today: Day) -> Option<Course> {
    let setting = setting(world, colony, true)?;
    let (state, outcomes) = fold(&setting, until(world.records_of(colony), today), UNITED_DEPTH);
    Some(Course { standing: read(&setting, state, today), outcomes })
}

pub(super) fn standing(world: &World, colony: ColonyId, today: Day) -> Option<Standing> {
    let setting = setting(world, colony, false)?;
    Some(standing_of(&setting, today))
}

pub(super) fn standings(world: &World, today: Day) -> BTreeMap<ColonyId, Standing> {
    let mut plans: BTreeMap<ColonyId, Vec<&Plan>> = BTreeMap::new();
    for plan in world.plans.values() {
        plans.entry(plan.colony).or_default().push(plan);
    }
    let mut all = BTreeMap::new();
    for (id, colony) in &world.colonies {
        let plans = plans.remove(id).unwrap_or_default();
        let setting = Setting { world, numbers: &world.settings, colony, plans, words: false };
        all.insert(*id, standing_of(&setting, today));
    }
    all
}

pub(super) fn echo(
    world: &World,
    colony: ColonyId,
    instead_of: Option<RecordId>,
    day: Day,
    visit: &Visit,
) -> Option<Outcome> {
    let setting = setting(world, colony, true)?;
    let before = until(world.records_of(colony), day).filter(|record| Some(record.id) != instead_of);
    let quiet = Setting { words: false, plans: setting.plans.clone(), ..setting };
    let (mut state, _) = fold(&quiet, before, UNITED_DEPTH);
    Some(state.visit(&setting, instead_of.unwrap_or(RecordId::from_number(u128::MAX)), day, visit))
}

fn setting(world: &World, colony: ColonyId, words: bool) -> Option<Setting<'_>> {
    let colony: &Colony = world.colonies.get(&colony)?;
    let plans = world.plans.values().map(AsRef::as_ref).filter(|plan: &&Plan| plan.colony == colony.id).collect();
    Some(Setting { world, numbers: &world.settings, colony, plans, words })
}

fn standing_of(setting: &Setting<'_>, today: Day) -> Standing {
    let records = until(setting.world.records_of(setting.colony.id), today);
    let (state, _) = fold(setting, records, UNITED_DEPTH);
    read(setting, state, today)
}

/// Records that count by a day, in order.
fn until(records: &[Record], day: Day) -> impl Iterator<Item = &Record> {
    records.iter().filter(move |record| !record.struck && record.day <= day)
}

fn fold<'a>(
    s: &Setting<'_>,
    records: impl Iterator<Item = &'a Record>,
    depth: u8,
) -> (State, Vec<(RecordId, Outcome)>) {
    let mut state = State::founded(s);
    let mut outcomes = Vec::new();
    for record in records {
        let outcome = match &record.what {
            Happening::Visit(visit) => state.visit(s, record.id, record.day, visit),
            Happening::Which(which) => state.answer(s, record.day, *which),
            Happening::Received(other) => {
                let queen = brought(s.world, *other, record.day, depth);
                state.received(s, record.id, record.day, queen)
            }
            Happening::SplitOff(daughter) => noted(s, || {
                let name = s.world.colonies.get(daughter).map_or("a colony", |daughter| daughter.name());
                format!("Split: {name} taken off.")
            }),
            Happening::BarLifted { .. } => state.lift(s, record.day),
        };
        if s.words {
            outcomes.push((record.id, outcome));
        }
    }
    (state, outcomes)
}

fn noted(s: &Setting<'_>, sentence: impl FnOnce() -> String) -> Outcome {
    Outcome { class: OutcomeClass::Noted, sentence: s.say(sentence), settled: None }
}

/// The queen that a united colony brought, if it had one.
fn brought(world: &World, other: ColonyId, day: Day, depth: u8) -> Option<QueenFacts> {
    let setting = setting(world, other, false).filter(|_| depth > 0)?;
    let (state, _) = fold(&setting, until(world.records_of(other), day), depth - 1);
    if state.queenless() { None } else { state.queen }
}

fn read(s: &Setting<'_>, mut state: State, today: Day) -> Standing {
    state.ripen(s, today);
    let by_hand = if s.world.bars.is_empty() { None } else { bars::resting_by_hand(s.world, s.colony.id, today) };
    let resting = state.disease.map(|(since, _)| since).or(by_hand);
    let ended = s.colony.ended.as_ref().map(|end| end.day).filter(|end| *end <= today);
    let dead = match state.stage {
        Stage::Dead { on } => Some(on),
        _ => None,
    };
    let over = ended.or(dead);
    let bars = if over.is_some() { Vec::new() } else { bars::active(s.world, s.colony, &state, today) };
    let work = if over.is_some() { Vec::new() } else { due::due_work(s, &state, &bars, resting, today) };
    let clock = if over.is_some() || resting.is_some() { None } else { clock::clock(s, &state, &bars, today) };
    let plan = state.open_plan(s, today).map(|plan| plan.id);
    if over.is_none() {
        state.flags.extend(moved_against_a_bar(s, resting, today));
    }
    Standing {
        phase: phase(&state, over, resting),
        last_look: match &state.stage {
            Stage::Trial(trial) => trial.last,
            Stage::Settled { again: Some(again) } if again.laying => LastLook::Again(again.since),
            Stage::Settled { again: Some(again) } => LastLook::NoEggs(again.since),
            _ => LastLook::None,
        },
        introduced: state.last_trial.as_ref().and_then(Trial::public),
        offers: offers(&state, over.is_some() || resting.is_some()),
        laying: state.laying,
        identity: identity(&state),
        work,
        clock,
        bars,
        which: state.which.map(|asked| asked.question),
        temper_from: state.temper_from,
        temper: state.temper,
        last_opened: state.last_opened,
        last_find: state.last_find,
        queen: queen_now(&mut state, plan),
        flags: state.flags,
    }
}

/// Flags of a colony that was moved although it was to stay: out of a yard under quarantine, or with disease suspected.
fn moved_against_a_bar(s: &Setting<'_>, resting: Option<Day>, today: Day) -> Vec<String> {
    if s.colony.stands.len() < 2 {
        return Vec::new();
    }
    let name = |yard| s.world.yards.get(&yard).map_or("its yard", |yard: &Arc<Yard>| yard.name.as_str());
    let left = bars::left_under_quarantine(s.world, s.colony, today);
    let mut flags: Vec<String> = left
        .iter()
        .map(|left| format!("Moved out of {} {} against a bar: quarantine", name(left.yard), left.on.short()))
        .collect();
    for pair in s.colony.stands.windows(2) {
        let [from, to] = pair else { continue };
        let moved = to.yard != from.yard && to.from <= today && resting.is_some_and(|since| since <= to.from);
        if moved && !left.iter().any(|left| left.on == to.from) {
            let (yard, day) = (name(from.yard), to.from.short());
            flags.push(format!("Moved out of {yard} {day} against a bar: disease suspected"));
        }
    }
    flags
}

fn queen_now(state: &mut State, plan: Option<PlanId>) -> QueenNow {
    match &state.stage {
        Stage::Waiting => {
            state.d.map_or(QueenNow::Queenless { since: None }, |since| QueenNow::Waiting { since, plan })
        }
        Stage::Trial(trial) if trial.method == Method::OwnRaising => match state.queen.take() {
            Some(queen) => QueenNow::Present(queen),
            None => QueenNow::Waiting { since: trial.day0, plan },
        },
        Stage::Failed(failed) if !failed.queen_there => QueenNow::Queenless { since: state.d },
        Stage::Dead { .. } => QueenNow::Queenless { since: None },
        Stage::Trial(_) | Stage::Settled { .. } | Stage::Accepted { .. } | Stage::Failed(_) => {
            QueenNow::Present(state.queen.take().unwrap_or_else(QueenFacts::unknown))
        }
    }
}

fn identity(state: &State) -> Identity {
    let nobody = state.queen.as_ref().is_none_or(|queen| queen.queen.is_none());
    match state.identity {
        Identity::Unconfirmed if nobody => Identity::NotRecorded,
        identity => identity,
    }
}

fn phase(state: &State, over: Option<Day>, resting: Option<Day>) -> Phase {
    if let Some(on) = over {
        return Phase::Ended { on };
    }
    if let Some(on) = resting {
        return Phase::DiseaseSuspected { on };
    }
    match &state.stage {
        Stage::Settled { .. } => Phase::Settled,
        Stage::Accepted { on } => Phase::Accepted { on: *on },
        Stage::Waiting => state.d.map_or(Phase::Settled, |since| Phase::Waiting { since }),
        Stage::Failed(failed) => Phase::Failed { on: failed.on, how: failed.words(), cells_cut: failed.cells_cut },
        Stage::Trial(trial) if trial.method == Method::OwnRaising => Phase::RaisingOwn { since: trial.day0 },
        Stage::Trial(trial) => trial.public().map_or(Phase::Settled, Phase::Introduced),
        Stage::Dead { on } => Phase::Ended { on: *on },
    }
}

fn offers(state: &State, none: bool) -> Vec<Offer> {
    let mut offers = Vec::new();
    if none {
        return offers;
    }
    if state.offer_frame && state.frame.is_none() {
        offers.push(Offer::TestFrame);
    }
    if state.offer_cell && matches!(state.stage, Stage::Failed(_)) {
        offers.push(Offer::LetCellStand);
    }
    if state.unmarked() {
        offers.push(Offer::Mark);
    }
    offers
}
