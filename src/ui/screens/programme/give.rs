//! Giving out: from words to hives, what is left out and why, the change, and what follows from it.
//!
//! What follows is read off the world as it would be after the change, so it says what deciding it will do.

use std::collections::BTreeMap;

use uuid::Uuid;

use crate::domain::birth_words::read_birth;
use crate::domain::change::{Change, NewVisit, Occasion};
use crate::domain::choose::choose;
use crate::domain::day::Day;
use crate::domain::day_words::{DateOrder, Lean, read_day};
use crate::domain::decide::decide;
use crate::domain::grammar::codes::parse;
use crate::domain::grammar::resolve::{Choice, resolve};
use crate::domain::ids::{ColonyId, ParcelId, PlanId};
use crate::domain::in_hand::draw::{From, Hand};
use crate::domain::in_hand::in_hand;
use crate::domain::parcel::ParcelKind;
use crate::domain::plan::{Plan, is_open, planned_from};
use crate::domain::queen::Queen;
use crate::domain::standing::bars::plan_allowed;
use crate::domain::standing::windows::looks_for;
use crate::domain::standing::{Phase, QueenNow, standing};
use crate::domain::visit::Method;
use crate::domain::work::{DueWork, Step, Window, WorkKind};
use crate::domain::world::World;
use crate::planner::outlook::ColonyView;

/// What is asked for, as typed and chosen.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Asked {
    pub parcel: Option<ParcelId>,
    pub to: String,
    pub day: String,
    pub method: Method,
    pub old: Old,
    /// Days between removing the old queen and giving the new one, as typed.
    pub days_before: String,
    /// Hives among them where the old queen was not found.
    pub not_found: String,
    /// When the queens were born, as typed: a year, a month or a day.
    pub born: String,
    /// Soft reasons against it are overruled.
    pub all_the_same: bool,
    /// Plans these hives have are called off for this one.
    pub instead: bool,
    pub by: String,
}

/// What is done about the old queen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Old {
    SameVisit,
    DaysBefore,
    None,
}

impl Default for Asked {
    fn default() -> Self {
        Self {
            parcel: None,
            to: String::new(),
            day: "today".to_owned(),
            method: Method::Caged,
            old: Old::SameVisit,
            days_before: "1".to_owned(),
            not_found: String::new(),
            born: String::new(),
            all_the_same: false,
            instead: false,
            by: String::new(),
        }
    }
}

/// What would be done.
#[derive(Clone, Debug, Default)]
pub(super) struct GiveModel {
    /// Day 0, where it can be read.
    pub day: Option<Day>,
    /// Why it cannot.
    pub day_error: Option<String>,
    /// The day is still to come: it is planned, not recorded.
    pub ahead: bool,
    /// Hives that get a queen.
    pub given: Vec<ColonyId>,
    /// Hives where the old queen was not found: no queen is given.
    pub not_found: Vec<ColonyId>,
    /// Hives of the yards that were named.
    pub of: usize,
    /// Hives left out, by reason.
    pub left_out: Vec<LeftOut>,
    /// Words that were not understood.
    pub not_understood: Vec<String>,
    /// What follows: a number and words.
    pub follows: Vec<(usize, String)>,
    /// Why it cannot be done.
    pub why_not: Option<String>,
}

/// Hives left out for one reason.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct LeftOut {
    pub names: Vec<String>,
    pub why: String,
    /// How it can be overruled.
    pub way: Way,
}

/// How hives that are left out can come in all the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Way {
    /// Not at all, here.
    Closed,
    /// `Give all the same`.
    AllTheSame,
    /// `Give from this parcel instead`: their plans are called off.
    Instead,
}

/// More hives than these that nobody named are not listed one by one.
const LISTED: usize = 12;

/// Works out what would be done.
pub(super) fn model(world: &World, asked: &Asked, today: Day) -> GiveModel {
    let mut model = GiveModel::default();
    match read_day(&asked.day, today, DateOrder::DayMonth, Lean::Nearest) {
        Ok(day) => model.day = Some(day),
        Err(error) => model.day_error = Some(format!("{error}.")),
    }
    let day = model.day.unwrap_or(today);
    model.ahead = day > today;
    pick(world, asked, day, today, &mut model);
    model.why_not = why_not(world, asked, &model, today);
    if !model.not_understood.is_empty() {
        // What the rest of the words would do is not what was meant.
        model.left_out.clear();
        return model;
    }
    if model.given.is_empty() && model.not_found.is_empty() || model.day.is_none() {
        return model;
    }
    // The ids of the sketch are thrown away with it.
    let mut next = u128::MAX;
    let mut mint = || {
        next -= 1;
        Uuid::from_u128(next)
    };
    let sketch = change(world, asked, &model, today, &mut mint).and_then(|change| {
        let facts = decide(world, &change, today).map_err(|refusal| format!("{refusal}."))?;
        let mut after = world.clone();
        after.advance_all(&facts);
        Ok(after)
    });
    match sketch {
        Ok(after) => model.follows = follows(world, &after, asked, &model, today),
        Err(words) => model.why_not = model.why_not.take().or(Some(words)),
    }
    model
}

/// The change that does it: plans for a day to come, visits for today or a day past.
///
/// # Errors
/// In words, where a hive's visit cannot be made.
pub(super) fn change(
    world: &World,
    asked: &Asked,
    model: &GiveModel,
    today: Day,
    mint: &mut dyn FnMut() -> Uuid,
) -> Result<Change, String> {
    let day = model.day.ok_or("The day is not understood.")?;
    if model.ahead {
        let plans = model.given.iter().map(|colony| plan(world, asked, *colony, day, today, mint)).collect();
        let planned = Change::Plan { plans, overrule_soft: asked.all_the_same };
        let off: Vec<PlanId> = open_plans(world, &model.given).into_values().collect();
        if off.is_empty() {
            return Ok(planned);
        }
        let count = model.given.len();
        let title = format!("{count} {} planned for {} instead", thing(world, asked, count), day.short());
        return Ok(Change::Several { title, changes: vec![Change::CallOff { plans: off, day: today }, planned] });
    }
    let (mut visits, mut minted): (Vec<NewVisit>, Vec<Queen>) = (Vec::new(), Vec::new());
    let choice = Choice {
        from: asked.parcel.map_or(From::NotSaid, From::Parcel),
        birth: read_birth(&asked.born, world, today).ok().filter(|birth| !birth.is_unknown()),
        dot: None,
    };
    let mut hand = Hand::of(world);
    for (colonies, given) in [(&model.given, true), (&model.not_found, false)] {
        for colony in colonies {
            let codes = if given { codes_for(world, asked, *colony, day) } else { "?q".to_owned() };
            let codes = parse(&codes).map_err(|error| error.to_string())?;
            let (visit, queens) = resolve(&mut hand, *colony, day, &asked.by, &codes, &choice, mint)
                .map_err(|error| error.to_string())?;
            let visit = with_days_before(world, asked, visit, day);
            visits.push(visit);
            minted.extend(queens);
        }
    }
    Ok(Change::Visits { occasion: Occasion::Introduction, visits, queens: minted })
}

fn codes_for(world: &World, asked: &Asked, colony: ColonyId, day: Day) -> String {
    let give = match asked.method {
        Method::Caged => "+q",
        Method::PushIn => "+p",
        Method::Cell => "+c",
        Method::Virgin => "+v",
        Method::Nuc | Method::OwnRaising => "+n",
    };
    let removes = asked.old == Old::SameVisit && has_queen(world, colony, day);
    if removes { format!("/q {give}") } else { give.to_owned() }
}

fn with_days_before(world: &World, asked: &Asked, mut visit: NewVisit, day: Day) -> NewVisit {
    use crate::domain::visit::OldQueen;
    if let Some(gave) = visit.visit.gave.as_mut().filter(|_| has_queen(world, visit.colony, day)) {
        match asked.old {
            Old::DaysBefore => gave.old_queen = OldQueen::RemovedOn(day.plus(-days_before(asked))),
            Old::None => gave.old_queen = OldQueen::AsRecorded,
            Old::SameVisit => {}
        }
    }
    visit
}

fn plan(world: &World, asked: &Asked, colony: ColonyId, day: Day, today: Day, mint: &mut dyn FnMut() -> Uuid) -> Plan {
    let source = asked.parcel.and_then(|parcel| world.parcels.get(&parcel)).and_then(|parcel| parcel.source);
    let dequeen_on = match asked.old {
        _ if !has_queen(world, colony, today) => None,
        Old::SameVisit => Some(day),
        Old::DaysBefore => Some(day.plus(-days_before(asked)).max(today)),
        Old::None => None,
    };
    Plan {
        id: PlanId(mint()),
        colony,
        method: asked.method,
        source,
        parcel: asked.parcel,
        give_on: day,
        dequeen_on,
        made: today,
        called_off: None,
        moved: Vec::new(),
    }
}

fn days_before(asked: &Asked) -> i32 {
    asked.days_before.trim().parse().ok().filter(|days| (1..=14).contains(days)).unwrap_or(1)
}

fn has_queen(world: &World, colony: ColonyId, day: Day) -> bool {
    standing(world, colony, day).is_some_and(|standing| matches!(standing.queen, QueenNow::Present(_)))
}

/// How many a parcel can still give: what is in hand; for a day to come, what is not planned for other hives already.
fn can_give(world: &World, asked: &Asked, ahead: bool, to: &[ColonyId], today: Day) -> Option<u32> {
    let id = asked.parcel?;
    let hand = in_hand(world, id, today)?;
    let parcel = world.parcels.get(&id)?;
    let left = if parcel.arrived.is_some() { hand.left } else { parcel.usable().saturating_sub(hand.given) };
    Some(if ahead { left.saturating_sub(planned_from(world, id, to)) } else { left })
}

fn open_plans(world: &World, colonies: &[ColonyId]) -> BTreeMap<ColonyId, PlanId> {
    let of_these = world.plans.values().filter(|plan| colonies.contains(&plan.colony) && is_open(world, plan));
    of_these.map(|plan| (plan.colony, plan.id)).collect()
}

/// Reads the words and sorts the hives into those that are given and those that are left out.
fn pick(world: &World, asked: &Asked, day: Day, today: Day, model: &mut GiveModel) {
    if asked.to.trim().is_empty() {
        return;
    }
    let mut all: Vec<(&str, _, &str, ColonyId)> = world
        .living()
        .map(|colony| {
            let yard = colony.yard().and_then(|yard| world.yards.get(&yard)).map_or("", |yard| yard.name.as_str());
            (yard, colony.spot(), colony.name(), colony.id)
        })
        .collect();
    all.sort();
    let among: Vec<ColonyId> = all.into_iter().map(|(.., id)| id).collect();
    let chosen = choose(world, &among, &asked.to, today);
    model.of = chosen.chosen.len() + chosen.left_out.len();
    model.not_understood.clone_from(&chosen.not_understood);
    let not_found = choose(world, &chosen.chosen, &asked.not_found, today).chosen;
    let plans = open_plans(world, &chosen.chosen);
    let mut room = can_give(world, asked, model.ahead, &chosen.chosen, today).unwrap_or(0);
    let mut reasons: BTreeMap<(String, Way), Vec<String>> = BTreeMap::new();
    for colony in chosen.chosen {
        if !model.ahead && not_found.contains(&colony) {
            model.not_found.push(colony);
            continue;
        }
        let against =
            against(world, asked, colony, day, today).filter(|(_, way)| *way == Way::Closed || !asked.all_the_same);
        let planned = plans
            .get(&colony)
            .and_then(|plan| world.plans.get(plan))
            .filter(|plan| !asked.instead && (model.ahead || plan.parcel != asked.parcel && plan.parcel.is_some()));
        let reason = match (against, planned) {
            (Some(reason), _) => Some(reason),
            (None, Some(plan)) => Some((format!("planned for {}", plan.give_on.near(today)), Way::Instead)),
            (None, None) if room == 0 && asked.parcel.is_some() => Some(("none left".to_owned(), Way::Closed)),
            (None, None) => None,
        };
        match reason {
            Some(reason) => reasons.entry(reason).or_default().push(name(world, colony)),
            None => {
                room = room.saturating_sub(1);
                model.given.push(colony);
            }
        }
    }
    if chosen.left_out.len() <= LISTED && !chosen.left_out.is_empty() {
        let names = chosen.left_out.iter().map(|colony| name(world, *colony)).collect();
        model.left_out.push(LeftOut { names, why: "by you".to_owned(), way: Way::Closed });
    }
    model.left_out.extend(reasons.into_iter().map(|((why, way), names)| LeftOut { names, why, way }));
}

/// What speaks against giving to this hive, and whether it can be overruled.
fn against(world: &World, asked: &Asked, colony: ColonyId, day: Day, today: Day) -> Option<(String, Way)> {
    if let Err(bar) = plan_allowed(world, colony, asked.method, today, false) {
        let until = bar.until.map_or(String::new(), |until| format!(" until {}", until.near(today)));
        if bar.kind.is_disease() {
            // No queen is offered where disease is suspected; one that was given all the same is recorded on the card.
            return Some((format!("{}{until}, no queen", bar.kind.words()), Way::Closed));
        }
        // What has been done in the yard can always be recorded; only plans are refused.
        let way = if bar.kind.is_soft() || day <= today { Way::AllTheSame } else { Way::Closed };
        return Some((format!("{}{until}", bar.kind.words()), way));
    }
    let standing = standing(world, colony, today)?;
    if let Phase::Introduced(given) = &standing.phase {
        return Some((format!("{} in since {}", given.method.words(), given.day0.near(today)), Way::AllTheSame));
    }
    if let Phase::RaisingOwn { since } = &standing.phase {
        return Some((format!("raising its own since {}", since.near(today)), Way::AllTheSame));
    }
    let caged = matches!(asked.method, Method::Caged | Method::PushIn);
    let alarm = standing.clock.as_ref().is_some_and(|clock| clock.alarm);
    (caged && alarm).then(|| ("own virgin or laying workers likely, look first".to_owned(), Way::AllTheSame))
}

fn name(world: &World, colony: ColonyId) -> String {
    world.colonies.get(&colony).map_or(String::new(), |colony| colony.name().to_owned())
}

fn why_not(world: &World, asked: &Asked, model: &GiveModel, today: Day) -> Option<String> {
    let parcel = asked.parcel.and_then(|parcel| world.parcels.get(&parcel));
    if let Some(error) = &model.day_error {
        return Some(error.clone());
    }
    let Some(parcel) = parcel else {
        return Some("No parcel is chosen. Take a parcel in first.".to_owned());
    };
    if !model.ahead && parcel.arrived.is_none() {
        return Some("This parcel has not arrived. Say so first, or give a day to come.".to_owned());
    }
    if asked.to.trim().is_empty() {
        return Some("No hive is named. Type a yard, hives or a pallet.".to_owned());
    }
    if let Some(word) = model.not_understood.first() {
        return Some(format!("{word} fits no hive. Type a yard, hives or a pallet."));
    }
    if let Err(error) = read_birth(&asked.born, world, today) {
        return Some(format!("{error}."));
    }
    if model.given.is_empty() && model.not_found.is_empty() {
        return Some("No hive is left to give to. See what is left out and why.".to_owned());
    }
    None
}

/// What follows from giving out, read off the world after it.
fn follows(world: &World, after: &World, asked: &Asked, model: &GiveModel, today: Day) -> Vec<(usize, String)> {
    let mut rows = Vec::new();
    let given = model.given.len();
    if given > 0 {
        let left = can_give(world, asked, model.ahead, &model.given, today)
            .map_or(0, |room| room as usize)
            .saturating_sub(given);
        let thing = thing(world, asked, given);
        let stays = match left {
            0 => "none stays in hand".to_owned(),
            1 => "1 stays in hand".to_owned(),
            many => format!("{many} stay in hand"),
        };
        rows.push((given, format!("{thing} {}, {stays}", if model.ahead { "planned" } else { "given" })));
    }
    let mut steps: BTreeMap<String, (usize, Vec<Step>)> = BTreeMap::new();
    let mut looks: BTreeMap<String, usize> = BTreeMap::new();
    let mut labels = 0;
    for colony in model.given.iter().chain(&model.not_found) {
        for (kind, window) in new_work(world, after, *colony, today) {
            match kind {
                WorkKind::Step(step) => {
                    let (count, kinds) = steps.entry(step_days(step, &window)).or_default();
                    *count += 1;
                    if !kinds.contains(&step) {
                        kinds.push(step);
                    }
                }
                WorkKind::Look(look) => *looks.entry(look_words(look.words(), &window)).or_default() += 1,
            }
        }
        labels += usize::from(ColonyView::of(after, *colony, today).is_some_and(|view| view.label_wanted));
    }
    if let Some(day) = model.day.filter(|_| model.ahead) {
        let dequeened = (asked.old == Old::DaysBefore).then(|| day.plus(-days_before(asked)));
        for (kind, window) in looks_for(&world.settings, asked.method, day, dequeened, None) {
            let words = match kind {
                WorkKind::Look(look) => look_words(look.words(), &window),
                WorkKind::Step(step) => format!("steps {}: {}", window.words(), step.words()),
            };
            *looks.entry(words).or_default() += given;
        }
    }
    for (days, (count, mut kinds)) in steps {
        kinds.sort();
        let kinds: Vec<&str> = kinds.into_iter().map(Step::words).collect();
        let steps = if count == 1 { "step" } else { "steps" };
        rows.push((count, format!("{steps} {days}: {}", kinds.join(", "))));
    }
    rows.extend(looks.into_iter().map(|(words, count)| (count, one_or_many(&words, count))));
    if labels > 0 {
        rows.push((labels, one_or_many("lid labels in the queue", labels)));
    }
    rows
}

/// Due work that is there after and was not there before.
fn new_work(world: &World, after: &World, colony: ColonyId, today: Day) -> Vec<(WorkKind, Window)> {
    let work = |world: &World| standing(world, colony, today).map_or_else(Vec::new, |standing| standing.work);
    let before = work(world);
    let is_new = |due: &DueWork| !before.iter().any(|old| (old.kind, old.window) == (due.kind, due.window));
    work(after).into_iter().filter(is_new).map(|due| (due.kind, due.window)).collect()
}

fn step_days(step: Step, window: &Window) -> String {
    match step {
        Step::Give | Step::Dequeen => format!("on {}", window.best.with_weekday()),
        _ => window.words(),
    }
}

fn look_words(look: &str, window: &Window) -> String {
    match look.strip_suffix(" look") {
        Some(kind) => format!("{kind} looks {}", window.words()),
        None => format!("{look}: {}", window.words()),
    }
}

fn one_or_many(words: &str, count: usize) -> String {
    if count == 1 { words.replacen("looks ", "look ", 1).replacen("labels", "label", 1) } else { words.to_owned() }
}

/// What is given: `queen`, `cells` …
pub(super) fn thing(world: &World, asked: &Asked, count: usize) -> &'static str {
    let kind = asked.parcel.and_then(|parcel| world.parcels.get(&parcel)).map(|parcel| parcel.kind);
    match (kind, count) {
        (Some(ParcelKind::Cells), 1) => "cell",
        (Some(ParcelKind::Cells), _) => "cells",
        (Some(ParcelKind::Virgins), 1) => "virgin",
        (Some(ParcelKind::Virgins), _) => "virgins",
        (_, 1) => "queen",
        _ => "queens",
    }
}
