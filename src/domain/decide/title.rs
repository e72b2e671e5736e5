//! What changes are called in the history and beside Undo, in the house's words.

use std::collections::BTreeSet;

use crate::domain::bar::BarOn;
use crate::domain::birth_words::birth_words;
use crate::domain::change::{Amendment, Change, Correction, NewVisit, Occasion};
use crate::domain::colony::{Colony, EndWhy};
use crate::domain::day::Day;
use crate::domain::decide::run_title;
use crate::domain::grammar::describe::describe;
use crate::domain::ids::{ColonyId, PlanId, YardId};
use crate::domain::queen::Dot;
use crate::domain::record::Which;
use crate::domain::settings::spec;
use crate::domain::standing::{OutcomeClass, echo, standing};
use crate::domain::visit::Method;
use crate::domain::work::WorkKind;
use crate::domain::world::World;

/// The title of a change.
pub(super) fn title(world: &World, change: &Change) -> String {
    match change {
        Change::SetFirm(_) => "The firm's own details".to_owned(),
        Change::SetSetting { name, value } => spec(name).map_or_else(
            || format!("{name} set to {value}"),
            |spec| match (spec.unit, *value) {
                // A sentence that is switched on or off.
                ("1 for yes", on) => format!("{}: {}", spec.about, if on == 1.0 { "yes" } else { "no" }),
                (unit, value) => format!("{}: {value} ({unit})", spec.about),
            },
        ),
        Change::PutYard(yard) => match world.yards.get(&yard.id) {
            None => format!("{} added", yard.name),
            Some(known) if known.name != yard.name => format!("{} renamed {}", known.name, yard.name),
            Some(known) if known.place != yard.place => format!("{} moved on the map", yard.name),
            Some(_) => format!("{} altered", yard.name),
        },
        Change::RemoveYard(yard) => format!("{} removed", yard_name(world, *yard)),
        Change::PutSource(source) => {
            let known = world.sources.contains_key(&source.id);
            format!("Source {} {}", source.name, if known { "altered" } else { "added" })
        }
        Change::PutQueen(_) => "A queen's details corrected".to_owned(),
        Change::TakeOver(taken) => match taken.colonies.as_slice() {
            [one] => format!("{} taken over", one.name()),
            many => format!("{} hives taken over", many.len()),
        },
        Change::Found { colonies, .. } => {
            let yards = in_yards(world, colonies.iter().filter_map(Colony::yard));
            match colonies.as_slice() {
                [one] => format!("{} founded{yards}", one.name()),
                _ => format!("{} hives founded{yards}", colonies.len()),
            }
        }
        Change::Move { to, .. } => moved(world, to.iter().map(|(colony, yard, _)| (*colony, *yard)).collect()),
        Change::SwapPlaces { one, other, .. } => {
            format!("{} and {} swapped places", hive(world, *one), hive(world, *other))
        }
        Change::Rename { names, .. } => match names.as_slice() {
            [(colony, name)] => format!("{} renamed {}", hive(world, *colony), name.trim()),
            _ => format!("{} hives renamed", names.len()),
        },
        Change::End { colonies, end } => format!("{} {}", hives(world, colonies), ended(world, end.why)),
        Change::Split { parent, daughter, .. } => format!("{} split from {}", daughter.name(), hive(world, *parent)),
        Change::Unite { from, into, .. } => format!("{} united into {}", hive(world, *from), hive(world, *into)),
        Change::Visits { occasion, visits, queens } => visits_title(world, occasion, visits, queens.len()),
        Change::Answer { colony, which, .. } => {
            let what = match which {
                Which::Lost => "recorded queen lost",
                Which::Superseded => "queen superseded",
                Which::SameAfterAll => "recorded queen after all",
            };
            format!("{} {what}", hive(world, *colony))
        }
        Change::LiftFoundBar { colony, .. } => format!("{} bar lifted", hive(world, *colony)),
        Change::Amend(amendment) => amended(world, amendment),
        Change::Correct(correction) => corrected(world, correction),
        Change::Plan { plans, .. } => match plans.as_slice() {
            [one] => {
                format!("{} {} planned for {}", hive(world, one.colony), one.method.words(), one.give_on.short())
            }
            _ => format!("{} introductions planned", plans.len()),
        },
        Change::CallOff { plans, .. } => plans_title(world, plans.iter(), "called off"),
        Change::MovePlans { plans, .. } => match plans.as_slice() {
            [(plan, give_on, _)] => plans_title(world, [plan], &format!("moved to {}", give_on.short())),
            _ => format!("{} plans moved", plans.len()),
        },
        Change::PutParcel(parcel) => {
            let from = parcel.source.and_then(|source| world.sources.get(&source));
            let what = from.map_or("Parcel".to_owned(), |source| format!("Parcel from {}", source.name));
            let known = world.parcels.get(&parcel.id);
            let arrived = parcel.arrived.is_some() && known.is_none_or(|known| known.arrived.is_none());
            match known {
                _ if arrived => format!("{what} arrived, {} of {} alive", parcel.usable(), parcel.count),
                None => format!("{what} added, {}", parcel.count),
                Some(known) if parcel.closed && !known.closed => format!("{what} put away"),
                Some(known) if known.born != parcel.born => {
                    format!("{what}: queens born {}", said_or_unknown(&birth_words(parcel.born, world)))
                }
                Some(known) if known.dot != parcel.dot => {
                    format!("{what}: dot {}", parcel.dot.map_or("none", Dot::name))
                }
                Some(_) => format!("{what} altered"),
            }
        }
        Change::ParcelLate { parcel, promised, .. } => {
            let source = world.parcels.get(parcel).and_then(|parcel| world.sources.get(&parcel.source?));
            let from = source.map_or(String::new(), |source| format!(" from {}", source.name));
            format!("Parcel{from} late, now promised for {}", promised.short())
        }
        Change::PutBar(bar) => {
            let on = match bar.on {
                BarOn::Colony(colony) => hive(world, colony),
                BarOn::Yard(yard) => yard_name(world, yard),
            };
            format!("{on} barred: {}", bar.kind.words())
        }
        Change::LiftBar { bar, lifted } => world.bars.get(bar).map_or("Bar lifted".to_owned(), |bar| {
            let on = match bar.on {
                BarOn::Colony(colony) => hive(world, colony),
                BarOn::Yard(yard) => yard_name(world, yard),
            };
            let how = if lifted.on < bar.from { "called off" } else { "lifted" };
            format!("{on} bar {how}: {}", bar.kind.words())
        }),
        Change::LabelsPrinted { colonies, .. } => match colonies.as_slice() {
            [one] => format!("{} label printed", hive(world, *one)),
            _ => format!("{} labels printed", colonies.len()),
        },
        Change::LidsKnown { colonies } => format!("Lids of {} known", hives(world, colonies)),
        Change::LabelsWanted { colonies } => match colonies.as_slice() {
            [one] => format!("{} label to print again", hive(world, *one)),
            _ => format!("{} labels to print again", colonies.len()),
        },
        Change::PutRun(run) => run_title::of(world, run),
        Change::RemoveRun(run) => world
            .runs
            .get(run)
            .map_or("Run removed".to_owned(), |run| format!("Run of {} removed", run.day.with_weekday())),
        Change::Several { title, changes } => match changes.as_slice() {
            [one] if title.is_empty() => self::title(world, one),
            _ if title.is_empty() => format!("{} changes together", changes.len()),
            _ => title.clone(),
        },
    }
}

fn said_or_unknown(words: &str) -> &str {
    if words.is_empty() { "not known" } else { words }
}

fn visits_title(world: &World, occasion: &Occasion, visits: &[NewVisit], queens: usize) -> String {
    let [first, rest @ ..] = visits else {
        return "No visits".to_owned();
    };
    if let Occasion::Evening(_) = occasion {
        // Most rows have the evening's own day; a row with another day does not rename the evening.
        let day = commonest_day(visits).unwrap_or(first.day);
        let word = if visits.len() == 1 { "hive" } else { "hives" };
        return format!("Evening of {}, {} {word}", day.with_weekday(), visits.len());
    }
    if rest.is_empty() {
        return one_visit(world, first);
    }
    let yards = in_yards(world, visits.iter().filter_map(|new| world.colonies.get(&new.colony)?.yard()));
    let gave: Vec<Method> = visits.iter().filter_map(|new| new.visit.gave.as_ref()).map(|gave| gave.method).collect();
    if *occasion == Occasion::Introduction && !gave.is_empty() {
        let lost = visits.iter().filter(|new| new.visit.gave.is_none() && new.visit.did.queen_not_found).count();
        let lost = match lost {
            0 => String::new(),
            1 => ", 1 old queen not found".to_owned(),
            many => format!(", {many} old queens not found"),
        };
        return format!("{} {} given{yards}{lost}", gave.len(), plural(&gave));
    }
    if *occasion == Occasion::Introduction && queens == 0 && visits.iter().all(|new| new.visit.did.dequeened) {
        return format!("{} hives dequeened{yards}", visits.len());
    }
    format!("{} visits{yards}", visits.len())
}

/// `B14 acceptance look, accepted`: the look that was due and what came of it, else what was seen and done.
fn one_visit(world: &World, new: &NewVisit) -> String {
    let name = hive(world, new.colony);
    let due = standing(world, new.colony, new.day).and_then(|standing| {
        standing.work.into_iter().find_map(|work| match work.kind {
            WorkKind::Look(look) if work.window.open_on(new.day) => Some(look),
            _ => None,
        })
    });
    let said = outcome(world, new);
    if let (Some(look), Some(said)) = (due, said)
        && new.visit.gave.is_none()
    {
        return format!("{name} {}, {said}", look.words());
    }
    let what = describe(world, &new.visit);
    let mut letters = what.chars();
    let what: String = letters.next().map_or(String::new(), |first| {
        // A name of a disease keeps its capital.
        if what.starts_with("American") || what.starts_with("European") {
            what.clone()
        } else {
            first.to_lowercase().chain(letters).collect()
        }
    });
    format!("{name} {what}")
}

fn outcome(world: &World, new: &NewVisit) -> Option<&'static str> {
    let outcome = echo(world, new.colony, new.day, &new.visit)?;
    Some(match (outcome.settled, outcome.class) {
        (Some((_, true)), _) => "accepted",
        (Some((_, false)), _) => "failed",
        (None, OutcomeClass::Laying) => "laying",
        (None, OutcomeClass::NotYet) => "not laying yet",
        (None, OutcomeClass::ToDecide) => "to decide",
        (None, OutcomeClass::Another) => "another queen",
        (None, OutcomeClass::Barred) => "disease suspected",
        (None, OutcomeClass::StillDue) => "still due",
        (None, OutcomeClass::StepDone | OutcomeClass::Noted) => return None,
    })
}

fn amended(world: &World, amendment: &Amendment) -> String {
    let name = hive(world, amendment.colony);
    let record = world.record(amendment.colony, amendment.record);
    let day = record.map_or(String::new(), |record| format!(" of {}", record.day.short()));
    let what = match (amendment.strike, amendment.to, amendment.day) {
        (true, _, _) => "taken back".to_owned(),
        (_, Some(to), _) if to != amendment.colony => format!("moved to {}", hive(world, to)),
        (_, _, Some(to)) if record.is_none_or(|record| record.day != to) => format!("dated {}", to.short()),
        _ => "amended".to_owned(),
    };
    format!("{name} record{day} {what}")
}

fn corrected(world: &World, correction: &Correction) -> String {
    let name = hive(world, correction.colony);
    let began = correction.founded.is_some() || correction.how.is_some() || correction.began_with.is_some();
    if began {
        format!("{name} beginning corrected")
    } else if correction.queens.is_empty() {
        format!("{name} note altered")
    } else {
        format!("{name} queen's details corrected")
    }
}

fn moved(world: &World, to: Vec<(ColonyId, YardId)>) -> String {
    let within =
        to.iter().all(|(colony, yard)| world.colonies.get(colony).is_some_and(|colony| colony.yard() == Some(*yard)));
    let colonies: Vec<ColonyId> = to.iter().map(|(colony, _)| *colony).collect();
    let yards = in_yards(world, to.into_iter().map(|(_, yard)| yard));
    let who = hives(world, &colonies);
    match yards.strip_prefix(" in ") {
        _ if within => format!("{who} moved{yards}"),
        Some(yards) => format!("{who} moved to {yards}"),
        None => format!("{who} moved"),
    }
}

fn ended(world: &World, why: EndWhy) -> String {
    match why {
        EndWhy::UnitedInto(into) => format!("united into {}", hive(world, into)),
        EndWhy::Gone => "taken out".to_owned(),
        other => other.word().to_owned(),
    }
}

fn plans_title<'a>(world: &World, plans: impl IntoIterator<Item = &'a PlanId>, what: &str) -> String {
    let plans: Vec<_> = plans.into_iter().collect();
    match plans.as_slice() {
        [one] => match world.plans.get(one) {
            Some(plan) => format!("{} plan {what}", hive(world, plan.colony)),
            None => format!("Plan {what}"),
        },
        _ => format!("{} plans {what}", plans.len()),
    }
}

fn plural(methods: &[Method]) -> &'static str {
    let of = |wanted: &[Method]| methods.iter().all(|method| wanted.contains(method));
    match methods.len() {
        1 if of(&[Method::Cell]) => "cell",
        1 if of(&[Method::Virgin]) => "virgin",
        1 if of(&[Method::Nuc]) => "nuc",
        1 => "queen",
        _ if of(&[Method::Cell]) => "cells",
        _ if of(&[Method::Virgin]) => "virgins",
        _ if of(&[Method::Nuc]) => "nucs",
        _ => "queens",
    }
}

fn commonest_day(visits: &[NewVisit]) -> Option<Day> {
    let mut days: Vec<Day> = visits.iter().map(|new| new.day).collect();
    days.sort_unstable();
    days.chunk_by(|a, b| a == b).max_by_key(|run| run.len()).and_then(|run| run.first().copied())
}

/// ` in Heath yard`, ` in 3 yards`, or nothing.
fn in_yards(world: &World, yards: impl Iterator<Item = YardId>) -> String {
    let yards: BTreeSet<YardId> = yards.collect();
    match (yards.len(), yards.first()) {
        (1, Some(yard)) => format!(" in {}", yard_name(world, *yard)),
        (0, _) | (_, None) => String::new(),
        (several, _) => format!(" in {several} yards"),
    }
}

fn hives(world: &World, colonies: &[ColonyId]) -> String {
    match colonies {
        [one] => hive(world, *one),
        _ => format!("{} hives", colonies.len()),
    }
}

fn hive(world: &World, colony: ColonyId) -> String {
    world.colonies.get(&colony).map_or("A hive".to_owned(), |colony| colony.name().to_owned())
}

pub(super) fn yard_name(world: &World, yard: YardId) -> String {
    world.yards.get(&yard).map_or("A yard".to_owned(), |yard| yard.name.clone())
}
