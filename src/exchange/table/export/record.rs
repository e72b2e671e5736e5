//! What happened at a hive, a row each, followed by a row for each amendment.

use crate::domain::grammar::print::codes_of;
use crate::domain::ids::QueenId;
use crate::domain::record::{Amended, Happening, Record};
use crate::domain::visit::{Given, OldQueen, Visit};
use crate::domain::world::World;
use crate::exchange::table::cells::{answer_word, birth_text, origin_word};
use crate::exchange::table::export::hive::Here;
use crate::exchange::table::export::names::{Names, Told};
use crate::exchange::table::export::{Row, row, yes};
use crate::exchange::table::headings::Field;

/// The rows of one record.
pub(super) fn rows(names: &mut Names<'_>, here: &Here, record: &Record) -> Vec<Row> {
    let mut own = happened(names, here, record);
    own.push((Field::TakenBack, yes(record.struck).to_owned()));
    if let Some((evening, place)) = names.evening(record.id) {
        own.push((Field::Evening, evening.to_string()));
        own.push((Field::EveningPlace, place.to_string()));
    }
    let mut rows = vec![own];
    rows.extend(record.amended.iter().map(|amended| amended_row(names, here, "amended", amended)));
    rows
}

fn happened(names: &mut Names<'_>, here: &Here, record: &Record) -> Row {
    let day = record.day.iso();
    let said = |entry: &str, other: &str, words: Field| {
        here.row(
            entry,
            &[(Field::LastLook, &day), (Field::By, &record.by), (words, &record.words), (Field::OtherHive, other)],
        )
    };
    match &record.what {
        Happening::Visit(visit) => {
            let mut cells = here.row("visit", &[]);
            if let Some(gave) = &visit.gave {
                cells.extend(given_cells(names, record, gave));
            }
            cells.extend(find_cells(names.world, record, visit));
            let other = |colony: Option<_>| colony.map_or("", |colony| names.hive(colony)).to_owned();
            cells.push((Field::LidSwapped, other(visit.lids_swapped)));
            cells.push((Field::QueenTo, other(visit.did.queen_to)));
            cells
        }
        Happening::Which(which) => {
            let mut cells = said("answer", "", Field::Words);
            cells.push((Field::Answer, answer_word(*which).to_owned()));
            cells
        }
        Happening::BarLifted { why } => {
            // The words are why it was lifted; what else was noted stands apart.
            let mut cells = said("lifted", "", Field::Note);
            cells.push((Field::Words, why.clone()));
            cells
        }
        Happening::Received(other) => said("united", names.hive(*other), Field::Words),
        Happening::SplitOff(other) => said("split", names.hive(*other), Field::Words),
    }
}

/// What was put right, and where the record was before if that was at another hive.
pub(super) fn amended_row(names: &Names<'_>, here: &Here, entry: &str, amended: &Amended) -> Row {
    let mut cells = here.row(
        entry,
        &[
            (Field::LastLook, &amended.on.iso()),
            (Field::By, &amended.by),
            (Field::Note, &amended.reason),
            (Field::Words, &amended.was),
        ],
    );
    if let Some(left) = &amended.left {
        cells.push((Field::OtherHive, names.hive(left.colony).to_owned()));
        cells.push((Field::Since, left.day.iso()));
        cells.push((Field::SaidThere, left.said.clone()));
    }
    cells
}

pub(super) fn queen_cells(names: &mut Names<'_>, queen: QueenId) -> Row {
    let number = match names.tell(queen) {
        Told::Before(number) => return row(&[(Field::Queen, &number.to_string())]),
        Told::First(number) => number.to_string(),
        Told::Here => String::new(),
    };
    let Some(queen) = names.world.queens.get(&queen) else { return Row::new() };
    row(&[
        (Field::Queen, &number),
        (Field::Born, &birth_text(queen.birth)),
        (Field::Dot, queen.dot.map_or("", |dot| dot.name())),
        (Field::Source, names.source(queen.source)),
        (Field::Origin, origin_word(queen.origin)),
        (Field::QueenNote, &queen.words),
    ])
}

pub(super) fn given_cells(names: &mut Names<'_>, record: &Record, gave: &Given) -> Row {
    let mut cells = queen_cells(names, gave.queen);
    cells.push((Field::Introduced, record.day.iso()));
    cells.push((Field::Method, gave.method.words().to_owned()));
    let old = match gave.old_queen {
        OldQueen::AsRecorded => "queenless".to_owned(),
        OldQueen::RemovedOn(day) => day.iso(),
        OldQueen::NotFound => "not found".to_owned(),
    };
    cells.push((Field::Dequeened, old));
    if gave.cells != 1 {
        cells.push((Field::Cells, gave.cells.to_string()));
    }
    cells.extend(gave.emerged.map(|day| (Field::Emerged, day.iso())));
    cells.push((Field::Parcel, names.parcel(gave.parcel)));
    cells.push((Field::AgainstBar, gave.against_bar.clone().unwrap_or_default()));
    cells
}

pub(super) fn find_cells(world: &World, record: &Record, visit: &Visit) -> Row {
    row(&[
        (Field::LastLook, &record.day.iso()),
        (Field::Found, &codes(world, visit)),
        (Field::By, &record.by),
        (Field::Words, &record.words),
    ])
}

/// The codes of what was seen and done; what was given, and the other hives it names, have cells of their own.
fn codes(world: &World, visit: &Visit) -> String {
    let mut rest = Visit { gave: None, lids_swapped: None, ..visit.clone() };
    rest.did.queen_to = None;
    codes_of(world, &rest, "")
}
