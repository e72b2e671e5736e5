//! Which hives and yards of an export are those of the register. A table holds no ids, so a hive is known by what it was
//! called and where it stood, from which day on.

use std::collections::{BTreeMap, BTreeSet};

use crate::domain::colony::{Colony, Founding, Stand};
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::ids::{ColonyId, YardId};
use crate::domain::world::World;
use crate::domain::yard::Spot;
use crate::exchange::table::entry::{Entry, Kind, Told};
use crate::exchange::table::export::gone_yards;

/// Hives and yards of the file that the register has.
#[derive(Debug, Default)]
pub(in crate::exchange::table) struct Identified {
    /// By the rows of the hives.
    pub hives: BTreeMap<u32, ColonyId>,
    /// By the folded names of yards that are called so in the file alone.
    pub yards: BTreeMap<String, YardId>,
}

/// A hive of the file, as far as it can be told by it.
struct Hive {
    row: u32,
    yard: String,
    name: String,
    spot: Option<Spot>,
    founded: Option<Day>,
    ended: Option<Day>,
    split: bool,
    corrected: bool,
    names: Vec<(String, Day)>,
    stands: Vec<(String, Option<Spot>, Day)>,
    days: BTreeSet<Day>,
}

/// Finds them.
pub(in crate::exchange::table) fn identify(world: &World, entries: &[Entry]) -> Identified {
    let hives = hives_of(entries);
    let yards = Yards::new(world, entries);
    if hives.is_empty() && yards.removed.is_empty() {
        return Identified::default();
    }
    let mut by_name: BTreeMap<String, BTreeSet<ColonyId>> = BTreeMap::new();
    for colony in world.colonies.values() {
        for named in &colony.names {
            by_name.entry(fold(&named.name)).or_default().insert(colony.id);
        }
    }
    let mut pairs: Vec<(u32, usize, ColonyId)> = Vec::new();
    for (at, hive) in hives.iter().enumerate() {
        let names = hive.names.iter().map(|(name, _)| name).chain([&hive.name]);
        let candidates: BTreeSet<ColonyId> = names.filter_map(|name| by_name.get(name)).flatten().copied().collect();
        for colony in candidates.iter().filter_map(|id| world.colonies.get(id)) {
            pairs.extend(likeness(world, &yards, hive, colony).map(|score| (score, at, colony.id)));
        }
    }
    pairs.sort_by_key(|(score, at, colony)| (std::cmp::Reverse(*score), *at, *colony));
    let mut taken: BTreeSet<ColonyId> = BTreeSet::new();
    let mut found = Identified { hives: BTreeMap::new(), yards: yards.renamed.clone() };
    for (_, at, colony) in pairs {
        let Some(hive) = hives.get(at) else { continue };
        if !found.hives.contains_key(&hive.row) && taken.insert(colony) {
            found.hives.insert(hive.row, colony);
        }
    }
    found.yards.extend(yards.gone_ones(world, &hives, &found.hives));
    found
}

/// How much the two have in common; nothing where they cannot be the same hive.
fn likeness(world: &World, yards: &Yards, hive: &Hive, colony: &Colony) -> Option<u32> {
    let here = colony.yard().is_some_and(|yard| yards.may_be(world, &hive.yard, yard));
    let so_called = here && fold(colony.name()) == hive.name;
    let end = colony.ended.as_ref().map(|end| end.day);
    let split = hive.split && matches!(colony.how, Founding::SplitFrom(_));
    let put_right = hive.corrected || !colony.corrected.is_empty() || split;
    // What held from its first day holds from there, should that day have been put right.
    let same_from =
        |told: Day, held: Day| told == held || (put_right && Some(told) == hive.founded && held == colony.founded);
    let names = hive.names.iter().filter(|(name, from)| {
        colony.names.iter().any(|named| same_from(*from, named.from) && fold(&named.name) == *name)
    });
    let same_stand = |told: &(String, Option<Spot>, Day), held: &Stand| {
        told.1 == held.spot && same_from(told.2, held.from) && yards.may_be(world, &told.0, held.yard)
    };
    let stands = hive.stands.iter().filter(|(yard, _, from)| {
        colony.stands.iter().any(|stand| same_from(*from, stand.from) && yards.may_be(world, yard, stand.yard))
    });
    let (names, stands) = (names.count() as u32, stands.count() as u32);
    // One of the two goes on from where the other stops.
    let goes_on = colony.stands.iter().all(|held| hive.stands.iter().any(|told| same_stand(told, held)))
        || hive.stands.iter().all(|told| colony.stands.iter().any(|held| same_stand(told, held)));
    let by_history = (put_right || hive.founded == Some(colony.founded)) && names > 0 && stands > 0;
    let living = hive.ended.is_none() && end.is_none();
    let not_told = hive.founded.is_none() && hive.ended == end;
    if !(by_history || (so_called && (living || not_told || put_right))) {
        return None;
    }
    let days = world.records_of(colony.id).iter().filter(|record| hive.days.contains(&record.day)).count() as u32;
    let same = |is: bool, worth: u32| if is { worth } else { 0 };
    Some(
        same(by_history, 40)
            + same(by_history && goes_on, 40)
            + same(so_called, 30)
            + same(hive.ended == end, 10)
            + same(hive.split == matches!(colony.how, Founding::SplitFrom(_)), 15)
            + 3 * (names + stands).min(10)
            + 2 * days.min(15),
    )
}

/// Hives that say themselves what they are, each with what the rows below it say.
fn hives_of(entries: &[Entry]) -> Vec<Hive> {
    let mut hives: Vec<Hive> = Vec::new();
    let mut last: BTreeMap<(String, String), usize> = BTreeMap::new();
    for entry in entries.iter().filter(|entry| entry.exact && !entry.hive.is_empty()) {
        let key = (fold(&entry.yard), fold(&entry.hive));
        let days = [entry.look, entry.introduced].into_iter().flatten();
        if entry.kind == Kind::Hive {
            last.insert(key.clone(), hives.len());
            hives.push(Hive {
                row: entry.number,
                yard: key.0,
                name: key.1,
                spot: entry.spot,
                founded: entry.since,
                ended: entry.ended.as_ref().map(|end| end.day),
                split: !entry.more.parent.is_empty(),
                corrected: false,
                names: Vec::new(),
                stands: Vec::new(),
                days: days.collect(),
            });
            continue;
        }
        let Some(hive) = last.get(&key).and_then(|at| hives.get_mut(*at)) else { continue };
        match &entry.told {
            Told::Named { name, from } => hive.names.push((fold(name), *from)),
            Told::Stood { yard, from } => hive.stands.push((fold(yard), entry.spot, *from)),
            Told::Amended(..) => hive.corrected |= entry.kind == Kind::Corrected,
            _ => hive.days.extend(days),
        }
    }
    for hive in &mut hives {
        let Some(founded) = hive.founded else { continue };
        if hive.names.is_empty() {
            hive.names.push((hive.name.clone(), founded));
        }
        if hive.stands.is_empty() {
            hive.stands.push((hive.yard.clone(), hive.spot, founded));
        }
    }
    hives
}

/// What the yards of the file may be.
struct Yards {
    known: BTreeMap<String, YardId>,
    /// Yards that have another name in the register: they lie at the same place, and the file does not name that yard.
    renamed: BTreeMap<String, YardId>,
    /// Yards that the file says are gone.
    removed: BTreeSet<String>,
    /// Yards of the register that the file does not name, and those that are gone there too.
    unnamed: BTreeSet<YardId>,
}

impl Yards {
    fn new(world: &World, entries: &[Entry]) -> Self {
        let known: BTreeMap<String, YardId> = world.yards.values().map(|yard| (fold(&yard.name), yard.id)).collect();
        let named: BTreeSet<String> = entries.iter().map(|entry| fold(&entry.yard)).collect();
        let unnamed: BTreeSet<YardId> =
            known.iter().filter(|(name, _)| !named.contains(*name)).map(|(_, id)| *id).collect();
        let (mut renamed, mut removed) = (BTreeMap::new(), BTreeSet::new());
        for entry in entries.iter().filter(|entry| entry.exact && entry.kind == Kind::Yard) {
            let name = fold(&entry.yard);
            if entry.facts.removed {
                removed.insert(name);
            } else if let Some(place) = entry.facts.place.filter(|_| !known.contains_key(&name)) {
                let mut there =
                    world.yards.values().filter(|yard| unnamed.contains(&yard.id) && yard.place == Some(place));
                if let (Some(one), None) = (there.next(), there.next()) {
                    renamed.insert(name, one.id);
                }
            }
        }
        Self { known, renamed, removed, unnamed }
    }

    /// The yard of the file may be that one of the register.
    fn may_be(&self, world: &World, name: &str, yard: YardId) -> bool {
        match self.known.get(name).or_else(|| self.renamed.get(name)) {
            Some(known) => *known == yard,
            None => self.removed.contains(name) && (self.unnamed.contains(&yard) || !world.yards.contains_key(&yard)),
        }
    }

    /// Which yards those are that the file says are gone, by the hives that stood in them.
    fn gone_ones(&self, world: &World, hives: &[Hive], found: &BTreeMap<u32, ColonyId>) -> BTreeMap<String, YardId> {
        let mut gone = BTreeMap::new();
        for hive in hives {
            let Some(colony) = found.get(&hive.row).and_then(|id| world.colonies.get(id)) else { continue };
            for (name, _, from) in hive.stands.iter().filter(|(name, ..)| self.removed.contains(name)) {
                let stood =
                    colony.stands.iter().find(|stand| stand.from == *from && self.may_be(world, name, stand.yard));
                if let Some(stand) = stood.filter(|stand| !gone.values().any(|yard| *yard == stand.yard)) {
                    gone.entry(name.clone()).or_insert(stand.yard);
                }
            }
        }
        // What no hive tells, an export of this register calls so.
        for (name, yard) in gone_yards(world) {
            if self.removed.contains(&name) && !gone.values().any(|it| *it == yard) {
                gone.entry(name).or_insert(yard);
            }
        }
        gone
    }
}
