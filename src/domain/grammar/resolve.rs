//! Codes at one hive made into a visit: days, the other hive's id, and the queen that was given.

use uuid::Uuid;

use crate::domain::change::NewVisit;
use crate::domain::choose::by_short_name;
use crate::domain::colony::Colony;
use crate::domain::day::Day;
use crate::domain::fact::{Edit, Fact};
use crate::domain::grammar::codes::{CodeError, Codes, DayCode, Gives};
use crate::domain::ids::{ColonyId, QueenId, RecordId};
use crate::domain::in_hand::draw::{From, Giving, Hand};
use crate::domain::in_hand::queen::{birth_of_given, origin_by_method};
use crate::domain::queen::{Birth, Dot, Queen};
use crate::domain::record::{Happening, Record};
use crate::domain::standing::windows::default_dequeened;
use crate::domain::standing::{QueenNow, standing};
use crate::domain::visit::{Did, Given, OldQueen};
use crate::domain::world::World;

/// What is said of the queens that are given beside the codes. What is not said is read off the plan, the parcel and the
/// method.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Choice {
    /// Where they come from.
    pub from: From,
    /// When they were born.
    pub birth: Option<Birth>,
    /// Their dot.
    pub dot: Option<Dot>,
}

/// Makes a visit of codes at a hive; a queen that is given comes out of what is in hand. The day is that of the evening, by the initials of who was there; new ids come from
/// `mint` in the order they are needed: the record's, then the queen's.
///
/// # Errors
/// If a day cannot be, the other hive of a swap is not found, or the codes are a command.
pub fn resolve(
    hand: &mut Hand<'_>,
    colony: ColonyId,
    day: Day,
    by: &str,
    codes: &Codes,
    choice: &Choice,
    mint: &mut dyn FnMut() -> Uuid,
) -> Result<(NewVisit, Vec<Queen>), CodeError> {
    let world = hand.world();
    if codes.command.is_some() {
        return Err(CodeError::new(0, "A command is no find", "Type what was seen at this hive"));
    }
    let Some(hive) = world.colonies.get(&colony) else {
        return Err(CodeError::new(0, "That hive is not in the register", "Choose another"));
    };
    let day = codes.day.map_or(Ok(day), |code| last_such_day(code, day))?;
    let mut visit = codes.visit.clone();
    if let Some(other) = &codes.swap_with {
        visit.lids_swapped = Some(swapped_with(world, hive, other)?);
    }
    let record = RecordId(mint());
    let mut queens = Vec::new();
    if let Some(gives) = codes.gives {
        let emerged = gives.emerged.map(|code| last_such_day(code, day)).transpose()?;
        let drawn = hand.draw(Giving { colony, day, method: gives.method, count: gives.cells }, choice.from);
        let of_parcel = drawn.parcel.and_then(|parcel| world.parcels.get(&parcel));
        let queen = Queen {
            id: QueenId(mint()),
            birth: choice
                .birth
                .unwrap_or_else(|| birth_of_given(&world.settings, of_parcel, gives.method, day, emerged)),
            origin: origin_by_method(gives.method),
            source: drawn.source,
            dot: choice.dot.or(of_parcel.and_then(|parcel| parcel.dot)),
            words: String::new(),
        };
        visit.gave = Some(Given {
            method: gives.method,
            queen: queen.id,
            parcel: drawn.parcel,
            old_queen: old_queen(world, colony, day, codes, gives),
            emerged,
            cells: gives.cells,
            against_bar: None,
        });
        queens.push(queen);
    }
    let new = NewVisit { record, colony, day, by: by.trim().to_owned(), words: codes.words.clone(), visit };
    Ok((new, queens))
}

/// Makes a visit of codes that correct a record: at another hive or on another day where these differ, as if the record
/// had never been. What codes cannot say stays as it was recorded: who the queen given by the same method is, and where
/// the old queen went.
///
/// # Errors
/// As [`resolve`].
pub fn resolve_again(
    world: &World,
    record: &Record,
    colony: ColonyId,
    day: Day,
    codes: &Codes,
    choice: &Choice,
    mint: &mut dyn FnMut() -> Uuid,
) -> Result<(NewVisit, Vec<Queen>), CodeError> {
    let mut without = world.clone();
    without.advance(&Fact::Record(Box::new(Edit::remove(record.clone()))));
    let (new, queens) = resolve(&mut Hand::of(&without), colony, day, &record.by, codes, choice, mint)?;
    let mut new = NewVisit { record: record.id, ..new };
    let Happening::Visit(old) = &record.what else {
        return Ok((new, queens));
    };
    if new.visit.did.dequeened {
        new.visit.did.queen_to = old.did.queen_to;
    }
    if new.visit.did.marked.is_some_and(|marked| marked.dot.is_none()) && old.did.marked.is_some() {
        new.visit.did.marked = old.did.marked;
    }
    if let (Some(gave), Some(before)) = (&mut new.visit.gave, &old.gave)
        && gave.method == before.method
    {
        let searched = |did: &Did| (did.dequeened, did.queen_not_found);
        let in_place = (colony, new.day) == (record.colony, record.day);
        if in_place && searched(&new.visit.did) == searched(&old.did) {
            gave.old_queen = before.old_queen;
        }
        gave.queen = before.queen;
        if choice.from == From::NotSaid {
            gave.parcel = before.parcel;
        }
        gave.emerged = gave.emerged.or(before.emerged);
        return Ok((new, Vec::new()));
    }
    Ok((new, queens))
}

/// The latest day up to `from` that has that day of the month (and month).
fn last_such_day(code: DayCode, from: Day) -> Result<Day, CodeError> {
    // A day of the month comes again within two months, a day of a month within a year; 29 February within eight.
    let months_back = if code.month.is_some() { 12 * 8 + 1 } else { 3 };
    let found = (0..months_back).find_map(|back| {
        let count = from.year() * 12 + i32::try_from(from.month()).unwrap_or(1) - 1 - back;
        let month = u32::try_from(count.rem_euclid(12) + 1).unwrap_or(1);
        let wanted = code.month.is_none_or(|wanted| wanted == month);
        Day::new(count.div_euclid(12), month, code.day).filter(|day| wanted && *day <= from)
    });
    found.ok_or_else(|| {
        let month = code.month.map_or(String::new(), |month| format!("/{month}"));
        CodeError::new(0, format!("{}{month} is no day", code.day), "Give a day that exists: @23, @23/11")
    })
}

fn swapped_with(world: &World, hive: &Colony, other: &str) -> Result<ColonyId, CodeError> {
    let neighbours = hive.yard().map(|yard| world.in_yard(yard)).unwrap_or_default();
    let names = neighbours.iter().map(|colony| (colony.id, colony.name()));
    match by_short_name(names, other).as_slice() {
        [one] if *one == hive.id => {
            Err(CodeError::new(0, "A hive cannot swap lids with itself", "Name the other hive"))
        }
        [one] => Ok(*one),
        [] => Err(CodeError::new(0, format!("No hive {other} stands in this yard"), "Name the other hive in full")),
        _ => Err(CodeError::new(0, format!("{other} fits several hives of this yard"), "Name the other hive in full")),
    }
}

/// What is known of the old queen when a new one is given.
fn old_queen(world: &World, colony: ColonyId, day: Day, codes: &Codes, gives: Gives) -> OldQueen {
    if codes.visit.did.queen_not_found {
        return OldQueen::NotFound;
    }
    if codes.visit.did.dequeened {
        return OldQueen::RemovedOn(day);
    }
    match standing(world, colony, day).map(|standing| standing.queen) {
        Some(QueenNow::Waiting { .. } | QueenNow::Queenless { .. }) => OldQueen::AsRecorded,
        _ => OldQueen::RemovedOn(default_dequeened(&world.settings, gives.method, day)),
    }
}
