//! What things are called in a table that holds no ids: yards by their name, hives as yard/hive, and parcels, evenings and
//! queens of whom two rows tell by a number.
//!
//! Numbers follow the order of the rows, and an import gives new ids in that order: the second export is the first one.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use uuid::Uuid;

use crate::domain::bar::BarOn;
use crate::domain::colony::{Colony, FirstQueen};
use crate::domain::fold_text::fold;
use crate::domain::ids::{ColonyId, ParcelId, QueenId, RecordId, SourceId, YardId};
use crate::domain::record::{Happening, Record};
use crate::domain::visit::Given;
use crate::domain::world::World;
use crate::exchange::table::refs::{hive_key, hive_label};

/// The names of one export.
pub(super) struct Names<'a> {
    pub world: &'a World,
    /// Yards by name, those that were removed apart.
    pub yards: Vec<YardId>,
    /// Yards that were removed, and in which former hives stood.
    pub removed: Vec<YardId>,
    /// Hives by yard, name (numbers by their value), ended ones before the living one, and the day founded.
    pub hives: Vec<&'a Arc<Colony>>,
    called: BTreeMap<YardId, String>,
    labels: BTreeMap<ColonyId, String>,
    parcels: BTreeMap<ParcelId, usize>,
    queens: BTreeMap<QueenId, usize>,
    told: BTreeSet<QueenId>,
    evenings: BTreeMap<RecordId, (usize, usize)>,
}

/// What a row says of a queen.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Told {
    /// No other row tells of her.
    Here,
    /// Other rows will call her by this number.
    First(usize),
    /// A row above told of her.
    Before(usize),
}

impl<'a> Names<'a> {
    pub fn new(world: &'a World) -> Self {
        let mut yards: Vec<YardId> = world.yards.keys().copied().collect();
        yards.sort_by_key(|yard| world.yards.get(yard).map(|yard| fold(&yard.name)));
        let removed = removed_yards(world);
        let called = yard_names(world, &removed);
        let name_of = |colony: &Colony| colony.yard().and_then(|yard| called.get(&yard)).map_or("", String::as_str);
        let mut hives: Vec<&Arc<Colony>> = world.colonies.values().collect();
        hives.sort_by_cached_key(|it| {
            (fold(name_of(it)), by_number(&fold(it.name())), it.is_living(), it.founded, it.id)
        });
        let labels = labels(&hives, name_of);
        Self {
            world,
            yards,
            removed,
            queens: shared_queens(world, &hives),
            hives,
            labels,
            called,
            parcels: world.parcels.keys().enumerate().map(|(at, parcel)| (*parcel, at + 1)).collect(),
            told: BTreeSet::new(),
            evenings: evenings(world),
        }
    }

    pub fn yard(&self, yard: YardId) -> &str {
        self.called.get(&yard).map_or("", String::as_str)
    }

    /// The hive as other rows call it.
    pub fn hive(&self, colony: ColonyId) -> &str {
        self.labels.get(&colony).map_or("", String::as_str)
    }

    pub fn source(&self, source: Option<SourceId>) -> &'a str {
        source.and_then(|source| self.world.sources.get(&source)).map_or("", |source| &source.name)
    }

    pub fn parcel(&self, parcel: Option<ParcelId>) -> String {
        parcel.and_then(|parcel| self.parcels.get(&parcel)).map_or_else(String::new, usize::to_string)
    }

    /// The evening's number, and the record's place in it.
    pub fn evening(&self, record: RecordId) -> Option<(usize, usize)> {
        self.evenings.get(&record).copied()
    }

    pub fn is_shared(&self, queen: QueenId) -> bool {
        self.queens.contains_key(&queen)
    }

    /// How the row that is being written calls a queen.
    pub fn tell(&mut self, queen: QueenId) -> Told {
        match self.queens.get(&queen) {
            None => Told::Here,
            Some(number) if self.told.insert(queen) => Told::First(*number),
            Some(number) => Told::Before(*number),
        }
    }
}

/// The yards that are gone, by what an export calls them.
pub(in crate::exchange::table) fn gone_yards(world: &World) -> BTreeMap<String, YardId> {
    let gone = removed_yards(world);
    let mut names = yard_names(world, &gone);
    gone.into_iter().filter_map(|yard| Some((names.remove(&yard)?, yard))).collect()
}

/// Yards that are gone from the register, and that colonies or bars still name.
fn removed_yards(world: &World) -> Vec<YardId> {
    let stood = world.colonies.values().flat_map(|colony| colony.stands.iter().map(|stand| stand.yard));
    let barred = world.bars.values().filter_map(|bar| match bar.on {
        BarOn::Yard(yard) => Some(yard),
        BarOn::Colony(_) => None,
    });
    let gone: BTreeSet<YardId> = stood.chain(barred).filter(|yard| !world.yards.contains_key(yard)).collect();
    gone.into_iter().collect()
}

/// A yard's name goes with the yard; one that is gone is called by a number.
fn yard_names(world: &World, removed: &[YardId]) -> BTreeMap<YardId, String> {
    let mut names: BTreeMap<YardId, String> = world.yards.values().map(|yard| (yard.id, yard.name.clone())).collect();
    let taken: BTreeSet<String> = names.values().map(|name| fold(name)).collect();
    let mut free = (1..).map(|number: u32| format!("removed yard {number}")).filter(|name| !taken.contains(name));
    names.extend(removed.iter().copied().zip(free.by_ref()));
    names
}

fn labels<'a>(hives: &[&Arc<Colony>], yard: impl Fn(&Colony) -> &'a str) -> BTreeMap<ColonyId, String> {
    let mut of_key: BTreeMap<String, Vec<&Colony>> = BTreeMap::new();
    for colony in hives {
        of_key.entry(hive_key(yard(colony), colony.name())).or_default().push(colony);
    }
    let label = |all: &Vec<&Colony>| {
        let count = all.len();
        let one = |(at, colony): (usize, &&Colony)| {
            (colony.id, hive_label(yard(colony), colony.name(), at + 1, at + 1 == count))
        };
        all.iter().enumerate().map(one).collect::<Vec<_>>()
    };
    of_key.values().flat_map(label).collect()
}

/// The queens of whom more than one row tells, numbered as the rows come.
fn shared_queens(world: &World, hives: &[&Arc<Colony>]) -> BTreeMap<QueenId, usize> {
    let of_hive = |colony: &&Arc<Colony>| {
        let first = match colony.began_with {
            FirstQueen::Recorded(queen) => Some(queen),
            FirstQueen::Unknown | FirstQueen::None => None,
        };
        let given = world.records_of(colony.id).iter().filter_map(|record| given(record).map(|gave| gave.queen));
        first.into_iter().chain(given).collect::<Vec<_>>()
    };
    let in_order: Vec<QueenId> = hives.iter().flat_map(of_hive).collect();
    let mut count: BTreeMap<QueenId, usize> = BTreeMap::new();
    for queen in &in_order {
        *count.entry(*queen).or_default() += 1;
    }
    let mut numbers = BTreeMap::new();
    for queen in in_order.into_iter().filter(|queen| count.get(queen).is_some_and(|count| *count > 1)) {
        let next = numbers.len() + 1;
        numbers.entry(queen).or_insert(next);
    }
    numbers
}

/// The evening of each record that was entered in one, and its place in it.
fn evenings(world: &World) -> BTreeMap<RecordId, (usize, usize)> {
    let mut of_evening: BTreeMap<Uuid, BTreeSet<RecordId>> = BTreeMap::new();
    for record in world.records.values().flat_map(|records| records.iter()) {
        if let Some(evening) = record.together {
            of_evening.entry(evening).or_default().insert(record.id);
        }
    }
    let numbered = of_evening.into_values().enumerate();
    numbered
        .flat_map(|(evening, records)| {
            records.into_iter().enumerate().map(move |(place, record)| (record, (evening + 1, place + 1)))
        })
        .collect()
}

/// What a record gave, taken back or not.
pub(super) fn given(record: &Record) -> Option<&Given> {
    match &record.what {
        Happening::Visit(visit) => visit.gave.as_ref(),
        _ => None,
    }
}

/// A name cut into words and numbers, so that B9 comes before B14.
fn by_number(name: &str) -> Vec<(u64, String)> {
    let mut parts: Vec<(u64, String)> = Vec::new();
    let mut rest = name;
    while let Some(first) = rest.chars().next() {
        let digit = first.is_ascii_digit();
        let end = rest.find(|sign: char| sign.is_ascii_digit() != digit).unwrap_or(rest.len());
        let (part, after) = rest.split_at(end);
        parts.push(if digit { (part.parse().unwrap_or(u64::MAX), part.to_owned()) } else { (0, part.to_owned()) });
        rest = after;
    }
    parts
}
