//! What a row says: its codes read, resolved and echoed, or the command it holds.

use uuid::Uuid;

use crate::domain::choose::by_short_name;
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::grammar::codes::{CodeError, Codes, RowCommand, parse, trailing_jump};
use crate::domain::grammar::resolve::{Choice, resolve, resolve_again};
use crate::domain::ids::ColonyId;
use crate::domain::in_hand::draw::Hand;
use crate::domain::standing::{OutcomeClass, echo, echo_instead};
use crate::domain::visit::Method;
use crate::domain::world::World;
use crate::ui::screens::evening::rows::{Row, Rows};

/// What a row says.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) enum Said {
    /// Nothing.
    #[default]
    Blank,
    /// What it would mean.
    Outcome(Told),
    /// What the command would do.
    Command(String),
    /// Why it cannot be read, and what to do.
    Wrong { what: String, remedy: String },
}

/// What codes at a hive would mean.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Told {
    pub class: OutcomeClass,
    pub sentence: String,
    /// The introduction it settles.
    pub settled: Option<(Method, bool)>,
    /// It asks something.
    pub asks: bool,
    /// A queen, cell or nuc is given.
    pub gives: Option<Method>,
}

/// Where a jump leads.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Jump {
    /// To a row.
    Row(usize),
    /// To a hive that is not on the list yet.
    Add(ColonyId),
}

/// Reads a row.
pub(super) fn read(world: &World, rows: &Rows, at: usize, day: Day, by: &str) -> Said {
    let Some(row) = rows.hives.get(at) else { return Said::Blank };
    if row.is_blank() {
        return match &row.kept {
            Some(_) => Said::Command("The record is taken back.".to_owned()),
            None => Said::Blank,
        };
    }
    match read_codes(world, rows, at, day, by) {
        Ok(said) => said,
        Err(error) => Said::Wrong { what: error.what, remedy: error.remedy },
    }
}

fn read_codes(world: &World, rows: &Rows, at: usize, day: Day, by: &str) -> Result<Said, CodeError> {
    let Some(row) = rows.hives.get(at) else { return Ok(Said::Blank) };
    if let Some((kept, hive)) = trailing_jump(&row.text) {
        parse(kept)?;
        return jump_words(world, rows, at, hive).map(Said::Command);
    }
    let codes = parse(&row.text)?;
    match &codes.command {
        Some(RowCommand::Jump(typed)) => return jump_words(world, rows, at, typed).map(Said::Command),
        Some(RowCommand::SameAsAbove) => {
            let above = above(rows, at)?;
            return Ok(Said::Command(format!("As {}: {}", above.name, above.text.trim())));
        }
        Some(RowCommand::FillBlank(codes)) => {
            let blank = blanks(rows, at).len();
            let rows = if blank == 1 { "1 blank row" } else { &format!("{blank} blank rows") };
            return Ok(Said::Command(format!("{codes} in {rows}. Enter asks first.")));
        }
        None => {}
    }
    told(world, rows, row, day, by, &codes).map(Said::Outcome)
}

fn told(world: &World, rows: &Rows, row: &Row, day: Day, by: &str, codes: &Codes) -> Result<Told, CodeError> {
    // Only the words matter here, so any ids will do.
    let mut number = 0;
    let mut mint = || {
        number += 1;
        Uuid::from_u128(u128::MAX - number)
    };
    let mut hand = Hand::of(world);
    let choice = Choice { from: rows.from(&mut hand, row, day), ..Choice::default() };
    let record = row.kept.as_ref().and_then(|kept| world.record(row.colony, kept.record));
    let outcome = if let Some(record) = record {
        let (new, _) = resolve_again(world, record, row.colony, record.day, codes, &choice, &mut mint)?;
        (echo_instead(world, row.colony, record.id, new.day, &new.visit), new.day)
    } else {
        let (new, _) = resolve(&mut hand, row.colony, day, by, codes, &choice, &mut mint)?;
        (echo(world, row.colony, new.day, &new.visit), new.day)
    };
    let (outcome, seen) = outcome;
    let outcome = outcome.ok_or_else(|| CodeError::new(0, "That hive is not there", "Choose another"))?;
    let mut sentence = outcome.sentence;
    if codes.asks_disease {
        "Which disease? 1 American, 2 European foulbrood, 3 chalkbrood, 4 other".clone_into(&mut sentence);
    }
    if codes.day.is_some() {
        // `@3` alone leaves the month open: which day it was taken for is said.
        sentence = format!("{}: {sentence}", seen.with_weekday());
    }
    Ok(Told {
        class: outcome.class,
        sentence,
        settled: outcome.settled,
        asks: codes.asks_disease || outcome.class == OutcomeClass::Another,
        gives: codes.gives.map(|gives| gives.method),
    })
}

/// The row above that `=` means: the nearest one that holds codes.
pub(super) fn above(rows: &Rows, at: usize) -> Result<&Row, CodeError> {
    let before = rows.hives.get(..at).unwrap_or_default();
    let found = before.iter().rev().find(|row| !row.is_blank());
    found.ok_or_else(|| CodeError::new(0, "No row above holds codes", "Type the codes"))
}

/// The rows that `*` fills: those blank, and the one it is typed in.
pub(super) fn blanks(rows: &Rows, at: usize) -> Vec<usize> {
    let fills = |(place, row): &(usize, &Row)| *place == at || row.is_blank() && row.kept.is_none();
    rows.hives.iter().enumerate().filter(fills).map(|(place, _)| place).collect()
}

/// Where `.14` leads: a row of the same yard, else any row, else any hive of the register.
///
/// # Errors
/// Where no hive has that name, or several have.
pub(super) fn jump(world: &World, rows: &Rows, at: usize, typed: &str) -> Result<Jump, CodeError> {
    let (yard, hive) = match typed.split_once('/') {
        Some((yard, hive)) => (fold(yard), hive),
        None => (String::new(), typed),
    };
    let in_yard = |name: &str| yard.is_empty() || fold(name).starts_with(&yard);
    let here = rows.hives.get(at).map_or("", |row| row.yard.as_str());
    let listed = |same_yard: bool| {
        let fitting = rows.hives.iter().enumerate().filter(|(_, row)| in_yard(&row.yard));
        let fitting = fitting.filter(|(_, row)| !same_yard || row.yard == here);
        by_short_name(fitting.map(|(place, row)| (place, row.name.as_str())), hive)
    };
    for found in [listed(true), listed(false)] {
        match found.as_slice() {
            [] => {}
            [one] => return Ok(Jump::Row(*one)),
            several => {
                let names: Vec<&str> =
                    several.iter().filter_map(|at| Some(rows.hives.get(*at)?.name.as_str())).collect();
                let what = format!("{hive} fits {}", names.join(", "));
                return Err(CodeError::new(1, what, "Type the name in full, or .yard/hive"));
            }
        }
    }
    let yard_of = |colony: &crate::domain::colony::Colony| colony.yard().and_then(|yard| world.yards.get(&yard));
    let all = world.living().filter(|it| yard_of(it).is_some_and(|yard| in_yard(&yard.name)));
    let found = by_short_name(all.map(|colony| (colony.id, colony.name())), hive);
    match found.as_slice() {
        [] => Err(CodeError::new(1, format!("No hive is called {}", typed.trim()), "Type its name as painted")),
        [one] => Ok(Jump::Add(*one)),
        several => {
            let what = format!("{} hives of the register fit {hive}", several.len());
            Err(CodeError::new(1, what, "Type .yard/hive with the name in full"))
        }
    }
}

fn jump_words(world: &World, rows: &Rows, at: usize, typed: &str) -> Result<String, CodeError> {
    Ok(match jump(world, rows, at, typed)? {
        Jump::Row(place) => {
            rows.hives.get(place).map_or(String::new(), |row| format!("Enter: to {}, {}", row.name, row.yard))
        }
        Jump::Add(colony) => {
            let name = world.colonies.get(&colony).map_or("", |colony| colony.name());
            let yard = world.colonies.get(&colony).and_then(|colony| colony.yard());
            let yard = yard.and_then(|yard| world.yards.get(&yard)).map_or("", |yard| yard.name.as_str());
            format!("Enter: adds {name}, {yard}")
        }
    })
}
