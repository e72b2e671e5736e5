//! What was seen and done, as the histories say it: `Eggs, her seen`, `Not opened: rain`, `Caged queen given: Thrift`.

use crate::domain::capital::capital;
use crate::domain::colony::Founding;
use crate::domain::ids::ColonyId;
use crate::domain::queen::Origin;
use crate::domain::record::{Happening, Record, Which};
use crate::domain::visit::{Coverage, Disease, Given, InCage, Method, OldQueen, Seen, Unopened, Visit};
use crate::domain::world::World;

/// A sentence of what was seen, done and given, without a full stop.
pub fn describe(world: &World, visit: &Visit) -> String {
    let mut parts: Vec<String> = Vec::new();
    if let Coverage::Unopened(why) = visit.coverage {
        parts.push(format!("not opened: {}", unopened_words(why)));
    }
    parts.extend(seen_words(&visit.seen));
    if visit.coverage == Coverage::Part {
        parts.push("part of the nest only".to_owned());
    }
    parts.extend(done_words(world, visit));
    if let Some(gave) = &visit.gave {
        parts.push(given_words(world, gave));
    }
    if let Some(temper) = visit.temper {
        parts.push(format!("temper {temper}"));
    }
    if let Some(other) = visit.lids_swapped {
        parts.push(format!("lids swapped with {}", name(world, other)));
    }
    if parts.is_empty() {
        parts.push("visited".to_owned());
    }
    capital(&parts.join(", "))
}

/// The same for anything that happened.
pub fn describe_happening(world: &World, what: &Happening) -> String {
    match what {
        Happening::Visit(visit) => describe(world, visit),
        Happening::Which(Which::Lost) => "The recorded queen was lost, the one seen is another".to_owned(),
        Happening::Which(Which::Superseded) => "The recorded queen was superseded".to_owned(),
        Happening::Which(Which::SameAfterAll) => "It was the recorded queen after all".to_owned(),
        Happening::Received(from) => format!("{} united into it", name(world, *from)),
        Happening::SplitOff(daughter) => format!("{} split off", name(world, *daughter)),
        Happening::BarLifted { why } => format!("Bar lifted: {why}"),
    }
}

/// What a record says, with its words: `Eggs, her seen (quiet)`.
pub fn describe_record(world: &World, record: &Record) -> String {
    let what = describe_happening(world, &record.what);
    if record.words.is_empty() { what } else { format!("{what} ({})", record.words) }
}

/// What was given: `caged queen given: Thrift`.
pub fn given_words(world: &World, gave: &Given) -> String {
    let what = match gave.method {
        Method::Caged => "caged queen given",
        Method::PushIn => "queen given under a push-in cage",
        Method::Cell if gave.cells > 1 => return with_source(world, gave, &format!("{} cells given", gave.cells)),
        Method::Cell => "cell given",
        Method::Virgin => "virgin given",
        Method::Nuc => "nuc united",
        Method::OwnRaising => "raising her own",
    };
    with_source(world, gave, what)
}

/// How a colony was founded: `Split from B14`.
pub fn founding_words(world: &World, how: Founding) -> String {
    match how {
        Founding::Known => "There already".to_owned(),
        Founding::Bought => "Bought".to_owned(),
        Founding::Nuc => "Made as a nuc".to_owned(),
        Founding::SplitFrom(parent) => format!("Split from {}", name(world, parent)),
        Founding::Swarm => "Swarm taken".to_owned(),
    }
}

/// How a queen came to be: `came mated`.
pub fn origin_words(origin: Origin) -> &'static str {
    match origin {
        Origin::Mated => "came mated",
        Origin::Cell => "came as a cell",
        Origin::Virgin => "came as a virgin",
        Origin::WithColony => "came with the colony",
        Origin::OwnRaising => "raised by the colony",
        Origin::Unknown => "not known",
    }
}

/// Why a hive was not opened: `rain`.
pub fn unopened_words(why: Unopened) -> &'static str {
    match why {
        Unopened::Weather => "rain",
        Unopened::Time => "no time",
        Unopened::NotFound => "hive not found",
    }
}

/// What disease is suspected.
pub fn disease_words(disease: Disease) -> &'static str {
    match disease {
        Disease::NotNamed => "brood disease suspected",
        Disease::AmericanFoulbrood => "American foulbrood suspected",
        Disease::EuropeanFoulbrood => "European foulbrood suspected",
        Disease::Chalkbrood => "chalkbrood suspected",
        Disease::Other => "another brood disease suspected",
    }
}

fn seen_words(seen: &Seen) -> Vec<String> {
    let said = [
        (seen.nothing, "nothing seen"),
        (seen.eggs, "eggs"),
        (seen.larvae, "larvae"),
        (seen.capped, "capped worker brood"),
        (seen.her, "her seen"),
        (seen.another, "another queen seen"),
        (seen.opened_cell, "an opened cell"),
        (seen.cage == Some(InCage::Alive), "queen alive in the cage"),
        (seen.cage == Some(InCage::Dead), "queen dead in the cage"),
        (seen.drone_layer, "drone brood in worker cells"),
        (seen.laying_workers, "laying workers"),
        (seen.swarmed, "swarmed"),
        (seen.dead, "colony dead"),
    ];
    let mut words: Vec<String> = said.iter().filter(|(is, _)| *is).map(|(_, word)| (*word).to_owned()).collect();
    words.extend(seen.closed_cells.map(|count| cells(count, "closed cell", "closed cells")));
    words.extend(seen.begun_cells.map(|count| cells(count, "cell begun", "cells begun")));
    words.extend(seen.disease.map(|disease| disease_words(disease).to_owned()));
    words
}

fn done_words(world: &World, visit: &Visit) -> Vec<String> {
    let did = &visit.did;
    let mut words = Vec::new();
    if did.dequeened {
        words.push(match did.queen_to {
            Some(to) => format!("old queen moved to {}", name(world, to)),
            None => "old queen removed".to_owned(),
        });
    }
    if let Some(OldQueen::RemovedOn(day)) = visit.gave.as_ref().map(|gave| gave.old_queen)
        && !did.dequeened
    {
        words.push(format!("old queen removed {}", day.short()));
    }
    let said = [
        (did.queen_not_found, "old queen not found"),
        (did.cells_cut, "cells cut"),
        (did.cells_left, "a cell left standing"),
        (did.cage_off, "cage taken off"),
    ];
    words.extend(said.iter().filter(|(is, _)| *is).map(|(_, word)| (*word).to_owned()));
    if let Some(frame) = did.test_frame {
        words.push(if frame.marked { "marked test frame given" } else { "test frame given" }.to_owned());
    }
    if let Some(marked) = did.marked {
        words.push(marked.dot.map_or("marked".to_owned(), |dot| format!("marked {}", dot.name())));
    }
    words
}

fn with_source(world: &World, gave: &Given, what: &str) -> String {
    let queen = world.queens.get(&gave.queen).and_then(|queen| queen.source);
    let parcel = || gave.parcel.and_then(|parcel| world.parcels.get(&parcel)).and_then(|parcel| parcel.source);
    match queen.or_else(parcel).and_then(|source| world.sources.get(&source)) {
        Some(source) => format!("{what}: {}", source.name),
        None => what.to_owned(),
    }
}

fn cells(count: u8, one: &str, several: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { several })
}

fn name(world: &World, colony: ColonyId) -> &str {
    world.colonies.get(&colony).map_or("another hive", |colony| colony.name())
}
