//! Which records of an export are those of the register. Two are the same if they say the same, or if the amendments of the
//! one lead to the other.

use std::collections::{BTreeMap, BTreeSet};
use std::mem::discriminant;

use crate::domain::day::Day;
use crate::domain::grammar::describe::describe_record;
use crate::domain::ids::{ColonyId, RecordId};
use crate::domain::queen::Queen;
use crate::domain::record::{Amended, Happening, Record};
use crate::domain::world::World;
use crate::exchange::table::fates::Fate;
use crate::exchange::table::headings::Field;
use crate::exchange::table::merge::Merge;
use crate::exchange::table::plan::{NewHappening, NewQueen};
use crate::exchange::table::preview::Problem;

impl Merge<'_> {
    /// Finds for each told record the one of the register, and says so of its rows.
    pub(super) fn match_records(&mut self) {
        // What an amendment was before is not to be taken for another record that says just that.
        self.match_same(true);
        self.match_amended_there(BY_WORDS);
        self.match_same(false);
        self.match_amended_there(BY_DAY);
        self.match_amended_here();
    }

    fn match_same(&mut self, amended: bool) {
        let mut of_day: BTreeMap<(ColonyId, Day), usize> = BTreeMap::new();
        for at in 0..self.records.len() {
            let Some(told) = self.records.get(at).and_then(Option::as_ref) else { continue };
            let place = of_day.entry((told.colony, told.day)).or_default();
            *place += 1;
            if self.known.records.contains_key(&at) || (amended && told.amended.is_empty()) {
                continue;
            }
            // Of records that say the same, the one that stands at the same place of the day.
            let here = self.world.records_of(told.colony).iter().filter(|held| held.day == told.day).enumerate();
            let same = here.filter(|(_, held)| !self.matched.contains(&held.id) && same_record(told, held));
            let nearest = same.min_by_key(|(number, _)| (number + 1).abs_diff(*place)).map(|(_, held)| held.clone());
            if let Some(held) = nearest {
                self.known.records.insert(at, Fate::Leave);
                self.pair(at, &held, |_, _| true);
            }
        }
    }

    /// Records that the file has amended further: they take the place of the register's. `least`: how surely.
    fn match_amended_there(&mut self, least: u8) {
        for at in 0..self.records.len() {
            let Some(told) = self.open(at).cloned() else { continue };
            let Some((held, amendments)) = self.before_amendment(&told, least) else { continue };
            self.known.records.insert(at, Fate::Instead(held.id));
            let mut touched = others(&held);
            touched.extend(others(&told));
            self.amended_there.extend(touched);
            self.pair(at, &held, same_queen);
            let Some(new) = self.plan.records.get(at) else { continue };
            let reason = told.amended.last().map_or("", |amended| amended.reason.as_str());
            self.verdicts.changes(new.row, Field::LastLook, format!("Amended: {reason}"));
            for amended in new.amended.iter().skip(amendments) {
                self.verdicts.adds(amended.row);
            }
        }
    }

    /// The register's record as it was before an amendment that it does not have yet, and how many it has.
    fn before_amendment(&self, told: &Record, least: u8) -> Option<(Record, usize)> {
        let places = places_of(told);
        let mut best: Option<(u8, Record, usize)> = None;
        for (at, (amended, place)) in told.amended.iter().zip(&places).enumerate().rev() {
            for held in self.world.records_of(*place) {
                let like = !self.matched.contains(&held.id)
                    && !held.struck
                    && discriminant(&held.what) == discriminant(&told.what)
                    && told.amended.get(..at) == Some(held.amended.as_slice());
                let likeness = if like { was_that(self.world, held, amended) } else { 0 };
                if likeness >= least && likeness > best.as_ref().map_or(0, |(best, ..)| *best) {
                    best = Some((likeness, held.clone(), at));
                }
            }
        }
        best.map(|(_, held, at)| (held, at))
    }

    /// Records that the register has amended further: the file tells what they said before.
    fn match_amended_here(&mut self) {
        let mut open: BTreeMap<ColonyId, Vec<usize>> = BTreeMap::new();
        for at in 0..self.records.len() {
            if let Some(told) = self.open(at) {
                open.entry(told.colony).or_default().push(at);
            }
        }
        if open.is_empty() {
            return;
        }
        let all = self.world.records.values().flat_map(|records| records.iter());
        let amended: Vec<&Record> = all.filter(|it| !it.amended.is_empty() && !self.matched.contains(&it.id)).collect();
        for held in amended {
            let mut best: Option<(u8, usize)> = None;
            for (count, (amended, place)) in held.amended.iter().zip(&places_of(held)).enumerate().rev() {
                for at in open.get(place).into_iter().flatten() {
                    let Some(told) = self.open(*at) else { continue };
                    let like = discriminant(&held.what) == discriminant(&told.what)
                        && held.amended.get(..count) == Some(told.amended.as_slice());
                    let likeness = if like { was_that(self.world, told, amended) } else { 0 };
                    if likeness > best.map_or(0, |(best, _)| best) {
                        best = Some((likeness, *at));
                    }
                }
            }
            let Some((_, at)) = best else { continue };
            let mut touched = others(held);
            touched.extend(self.open(at).into_iter().flat_map(others));
            self.amended_here.extend(touched);
            self.known.records.insert(at, Fate::Leave);
            self.pair(at, held, same_queen);
        }
    }

    /// The told record, if none of the register was found for it yet.
    fn open(&self, at: usize) -> Option<&Record> {
        self.records.get(at)?.as_ref().filter(|_| !self.known.records.contains_key(&at))
    }

    /// The told record and the register's are one: so is the evening, and the queen if `same` says so.
    fn pair(&mut self, at: usize, held: &Record, same: fn(&NewQueen, &Queen) -> bool) {
        self.matched.insert(held.id);
        let Some(new) = self.plan.records.get(at) else { return };
        self.verdicts.same(new.row);
        for amended in &new.amended {
            self.verdicts.same(amended.row);
        }
        if let (Some((evening, _)), Some(together)) = (new.evening, held.together) {
            self.known.evenings.entry(evening).or_insert(together);
        }
        if let (NewHappening::Visit { gave: Some(gave), .. }, Happening::Visit(visit)) = (&new.what, &held.what)
            && let Some(given) = &visit.gave
            && self.world.queens.get(&given.queen).is_some_and(|queen| same(&gave.queen, queen))
        {
            self.known.queens.entry(gave.queen.key()).or_insert(given.queen);
        }
    }

    /// Says of the other records of hives that are there what they do.
    pub(super) fn judge_records(&mut self) {
        for (at, new) in self.plan.records.iter().enumerate() {
            let Some(pair) = self.hives.get(&new.hive).filter(|_| !self.known.records.contains_key(&at)) else {
                continue;
            };
            let name = pair.held.name().to_owned();
            match self.records.get(at).and_then(Option::as_ref) {
                None => {
                    let fact = "The other hive is not brought in".to_owned();
                    self.verdicts.holds_back(new.row, Problem::new(Field::OtherHive, fact, FIRST_THAT_HIVE));
                }
                Some(told) if self.is_amended_otherwise(told) => {
                    let fact = format!("This record of {name} was amended otherwise in the register");
                    let remedy = "Amend it on the hive's card, or leave the row out";
                    self.verdicts.holds_back(new.row, Problem::new(Field::LastLook, fact, remedy));
                }
                Some(told) => match self.other_of_that_day(told) {
                    Some(held) => {
                        let said = describe_record(self.world, &held);
                        let fact = format!("The register says of {name} on {}: {said}", held.day.near(self.today));
                        self.matched.insert(held.id);
                        let remedy = "Amend it on the hive's card, or leave the row out";
                        self.verdicts.holds_back(new.row, Problem::new(Field::LastLook, fact, remedy));
                    }
                    None => {
                        let said = describe_record(self.world, told);
                        let fact = format!("{}: {said}", told.day.near(self.today));
                        self.verdicts.adds_saying(new.row, Field::LastLook, fact);
                    }
                },
            }
            for amended in &new.amended {
                self.verdicts.adds(amended.row);
            }
        }
    }

    /// Both the file and the register have amended what was the same record before.
    fn is_amended_otherwise(&self, told: &Record) -> bool {
        let before = |at: usize, held: &Record| {
            let was = |record: &Record| record.amended.get(at).map(|amended| amended.was.clone());
            was(told).is_some() && was(told) == was(held) && told.amended.get(..at) == held.amended.get(..at)
        };
        let mut amended = places_of(told).into_iter().enumerate();
        amended.any(|(at, place)| self.amended_of(place).any(|held| before(at, held)))
    }

    /// Amended records of the register which the file does not have, that are or were at a hive.
    fn amended_of(&self, hive: ColonyId) -> impl Iterator<Item = &Record> {
        let all = self.world.records.values().flat_map(|records| records.iter());
        all.filter(move |held| {
            !held.amended.is_empty()
                && !self.matched.contains(&held.id)
                && (held.colony == hive || places_of(held).contains(&hive))
        })
    }

    /// A record of the same kind and day that the file does not have.
    fn other_of_that_day(&self, told: &Record) -> Option<Record> {
        let between = matches!(told.what, Happening::Received(_) | Happening::SplitOff(_));
        let other = |held: &&Record| {
            held.day == told.day
                && !held.struck
                && !self.matched.contains(&held.id)
                && discriminant(&held.what) == discriminant(&told.what)
        };
        let mut here = self.world.records_of(told.colony).iter();
        here.find(other).filter(|_| !told.struck && !between).cloned()
    }

    /// The first and last day of what happened at a hive and stays as the register has it.
    pub(super) fn days_of(&self, colony: ColonyId) -> Option<(Day, Day)> {
        let instead: BTreeSet<RecordId> = self.replaced_records().collect();
        let stays = |record: &&Record| !record.struck && !instead.contains(&record.id);
        let mut days = self.world.records_of(colony).iter().filter(stays).map(|record| record.day);
        let first = days.next()?;
        Some((first, days.next_back().unwrap_or(first)))
    }

    /// Records of the register which give way to those of the file.
    pub(super) fn replaced_records(&self) -> impl Iterator<Item = RecordId> {
        self.known.records.values().filter_map(|fate| match fate {
            Fate::Instead(id) => Some(*id),
            Fate::Leave => None,
        })
    }

    /// Records of the register at that hive which the file does not have.
    pub(super) fn only_here(&self, colony: ColonyId) -> impl Iterator<Item = &Record> {
        self.world.records_of(colony).iter().filter(|record| !self.matched.contains(&record.id))
    }
}

/// Nothing that the file says of the queen is otherwise: an amendment may have put another queen in her place.
fn same_queen(told: &NewQueen, held: &Queen) -> bool {
    (told.birth, told.origin, told.dot, &told.words) == (held.birth, held.origin, held.dot, &held.words)
}

const FIRST_THAT_HIVE: &str = "Solve the problems of that hive's row first";

/// The hives at which a record was before each of its amendments.
fn places_of(record: &Record) -> Vec<ColonyId> {
    let mut place = record.colony;
    let back = record.amended.iter().rev().map(|amended| {
        place = amended.left.as_ref().map_or(place, |left| left.colony);
        place
    });
    let mut places: Vec<ColonyId> = back.collect();
    places.reverse();
    places
}

/// How surely an amendment tells of a record as what was there before.
const BY_DAY: u8 = 1;
const BY_WORDS: u8 = 2;

/// How surely this amendment tells of this record; 0: not at all.
fn was_that(world: &World, record: &Record, amended: &Amended) -> u8 {
    let day = record.day.near(amended.on);
    if amended.was.ends_with(&format!("{day}: {}", describe_record(world, record))) {
        BY_WORDS
    } else if amended.was.contains(&format!("{day}: ")) {
        BY_DAY
    } else {
        0
    }
}

/// The hives that a record is about.
fn others(record: &Record) -> Vec<ColonyId> {
    let mut hives = vec![record.colony];
    match &record.what {
        Happening::Received(other) | Happening::SplitOff(other) => hives.push(*other),
        Happening::Visit(visit) => hives.extend(visit.did.queen_to.into_iter().chain(visit.lids_swapped)),
        Happening::Which(_) | Happening::BarLifted { .. } => {}
    }
    hives
}

/// The two say the same, their ids, their evening and the queen apart.
fn same_record(told: &Record, held: &Record) -> bool {
    let rest = |it: &Record| (it.day, it.struck);
    if rest(told) != rest(held) || told.by != held.by || told.words != held.words || told.amended != held.amended {
        return false;
    }
    match (&told.what, &held.what) {
        (Happening::Visit(told), Happening::Visit(held)) => {
            let mut told = told.as_ref().clone();
            if let (Some(gave), Some(held)) = (&mut told.gave, &held.gave) {
                gave.queen = held.queen;
            }
            told == **held
        }
        (told, held) => told == held,
    }
}
