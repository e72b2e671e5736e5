//! The whole programme as one CSV file that an import reads back to the same content.
//!
//! Each row says in `entry` what it is: settings and sources, then yards, then hives, each followed by the visits to it.
//! A hive's own row also holds its first introduction or its first find where nothing is lost by it, so that most hives
//! take one row. Columns that would be empty are left out.
//!
//! What CSV does not hold: ids, the history and its amendments, former names and places, what is printed on lids,
//! parcels, plans, runs, bars of ended colonies, and which colony another was split from or united into. The whole
//! register holds them all.

use crate::domain::bar::BarOn;
use crate::domain::colony::{Colony, FirstQueen, Founding};
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::grammar::print::codes_of;
use crate::domain::ids::QueenId;
use crate::domain::record::{Happening, Record};
use crate::domain::visit::{Given, OldQueen, Visit};
use crate::domain::world::World;
use crate::domain::yard::{Layout, Yard};
use crate::exchange::out::cells::line;
use crate::exchange::out::lists::clock_text;
use crate::exchange::table::cells::{answer_word, birth_text, end_word, founding_word, origin_word};
use crate::exchange::table::headings::Field;

type Row = Vec<(Field, String)>;

/// The whole programme as CSV: UTF-8 with a byte order mark (spreadsheets look for it), comma, CRLF.
pub fn programme_csv(world: &World) -> String {
    let mut rows: Vec<Row> = world.settings.changed().map(|(name, value)| setting_row(name, value)).collect();
    let mut sources: Vec<_> = world.sources.values().collect();
    sources.sort_by_key(|source| fold(&source.name));
    rows.extend(sources.iter().map(|source| {
        let own = if source.own { "yes" } else { "no" };
        row(&[(Field::Entry, "source"), (Field::Source, &source.name), (Field::OwnLine, own)])
    }));
    let mut yards: Vec<_> = world.yards.values().collect();
    yards.sort_by_key(|yard| fold(&yard.name));
    for yard in yards {
        rows.push(yard_row(yard));
        rows.extend(bar_rows(world, BarOn::Yard(yard.id), &yard.name, ""));
    }
    let mut hives: Vec<_> = world.colonies.values().filter_map(|colony| hive_block(world, colony)).collect();
    hives.sort();
    rows.extend(hives.into_iter().flat_map(|(_, block)| block));
    written(&rows)
}

fn written(rows: &[Row]) -> String {
    let used = |field: &Field| rows.iter().flatten().any(|(held, text)| held == field && !text.is_empty());
    let fields: Vec<Field> =
        Field::ALL.iter().copied().filter(|it| *it == Field::Entry || *it == Field::Yard || used(it)).collect();
    let mut text = String::from("\u{feff}");
    text.push_str(&line(&fields.iter().map(|field| field.name()).collect::<Vec<_>>()));
    for row in rows {
        let cell = |field: &Field| row.iter().find(|(held, _)| held == field).map_or("", |(_, text)| text.as_str());
        text.push_str(&line(&fields.iter().map(cell).collect::<Vec<_>>()));
    }
    text
}

fn row(cells: &[(Field, &str)]) -> Row {
    cells.iter().map(|(field, text)| (*field, (*text).to_owned())).collect()
}

fn setting_row(name: &str, value: f64) -> Row {
    row(&[(Field::Entry, "setting"), (Field::Setting, name), (Field::Value, &value.to_string())])
}

fn yard_row(yard: &Yard) -> Row {
    let mut cells = row(&[(Field::Entry, "yard"), (Field::Yard, &yard.name)]);
    if let Some(place) = yard.place {
        cells.push((Field::Latitude, place.lat().to_string()));
        cells.push((Field::Longitude, place.lon().to_string()));
    }
    if let Some(gate) = yard.gate {
        cells.push((Field::GateOpens, clock_text(gate.opens)));
        cells.push((Field::GateCloses, clock_text(gate.closes)));
    }
    cells.extend(yard.minutes.map(|minutes| (Field::Minutes, minutes.to_string())));
    cells.push((Field::Access, yard.access.clone()));
    cells.push((Field::Hazards, yard.hazards.join("; ")));
    cells.push((Field::Group, yard.hygiene_group.clone()));
    if yard.layout == Layout::Pallets {
        cells.push((Field::Layout, "pallets".to_owned()));
    }
    cells.push((Field::Note, yard.note.clone()));
    cells
}

/// What hives are sorted by: yard, name (numbers by their value), ended ones before the living one, the day founded.
type HiveKey = (String, Vec<(u64, String)>, bool, i32);

fn hive_block(world: &World, colony: &Colony) -> Option<(HiveKey, Vec<Row>)> {
    let yard = world.yards.get(&colony.yard()?)?;
    let mut cells = row(&[
        (Field::Entry, "hive"),
        (Field::Yard, &yard.name),
        (Field::Hive, colony.name()),
        (Field::Since, &colony.founded.iso()),
        (Field::Note, &colony.note),
    ]);
    if let Some(spot) = colony.spot() {
        cells.push((Field::Row, spot.row.to_string()));
        cells.push((Field::Place, spot.place.to_string()));
    }
    if colony.how != Founding::Known {
        cells.push((Field::Founding, founding_word(colony.how).to_owned()));
    }
    if let Some(end) = &colony.ended {
        cells.push((Field::Ended, end.day.iso()));
        cells.push((Field::EndWhy, end_word(end.why).to_owned()));
    }
    let records: Vec<&Record> = world.records_of(colony.id).iter().filter(|record| !record.struck).collect();
    let visits: Vec<(&Record, &Visit)> = records.iter().map_while(|record| visit_of(record)).collect();
    let taken = first_cells(world, colony, &visits, &mut cells);
    let mut block = vec![cells];
    block.extend(records.iter().skip(taken).filter_map(|record| {
        let mut cells = row(&[(Field::Yard, &yard.name), (Field::Hive, colony.name())]);
        cells.extend(record_cells(world, record)?);
        Some(cells)
    }));
    if colony.is_living() {
        block.extend(bar_rows(world, BarOn::Colony(colony.id), &yard.name, colony.name()));
    }
    let key = (fold(&yard.name), by_number(&fold(colony.name())), colony.is_living(), colony.founded.number());
    Some((key, block))
}

fn visit_of(record: &Record) -> Option<(&Record, &Visit)> {
    match &record.what {
        Happening::Visit(visit) => Some((record, visit)),
        _ => None,
    }
}

/// A record in a row of its own; nothing for those that CSV does not hold.
fn record_cells(world: &World, record: &Record) -> Option<Row> {
    let said =
        |entry: &str| row(&[(Field::Entry, entry), (Field::LastLook, &record.day.iso()), (Field::By, &record.by)]);
    match &record.what {
        Happening::Visit(visit) => {
            let mut cells = row(&[(Field::Entry, "visit")]);
            cells.extend(visit.gave.iter().flat_map(|gave| given_cells(world, record, gave)));
            cells.extend(find_cells(world, record, visit));
            Some(cells)
        }
        Happening::Which(which) => {
            let mut cells = said("answer");
            cells.push((Field::Answer, answer_word(*which).to_owned()));
            Some(cells)
        }
        Happening::BarLifted { why } => {
            let mut cells = said("lifted");
            cells.push((Field::Words, why.clone()));
            Some(cells)
        }
        Happening::Received(_) | Happening::SplitOff(_) => None,
    }
}

/// The bars set by hand on a yard or a hive, by their first day.
fn bar_rows(world: &World, on: BarOn, yard: &str, hive: &str) -> Vec<Row> {
    let mut rows: Vec<Row> = world
        .bars
        .values()
        .filter(|bar| bar.on == on)
        .map(|bar| {
            let lifted = bar.lifted.as_ref();
            row(&[
                (Field::Entry, "bar"),
                (Field::Yard, yard),
                (Field::Hive, hive),
                (Field::Since, &bar.from.iso()),
                (Field::Bar, bar.kind.words()),
                (Field::Until, &bar.until.map(Day::iso).unwrap_or_default()),
                (Field::Permit, bar.permit.as_deref().unwrap_or("")),
                (Field::By, &bar.by),
                (Field::Note, &bar.reason),
                (Field::Ended, &lifted.map(|lifted| lifted.on.iso()).unwrap_or_default()),
                (Field::LiftedBy, lifted.map_or("", |lifted| &lifted.by)),
                (Field::Words, lifted.map_or("", |lifted| &lifted.why)),
            ])
        })
        .collect();
    rows.sort();
    rows
}

/// The first queen, and the first visits where the hive's own row can tell them: how many of them it has told.
fn first_cells(world: &World, colony: &Colony, visits: &[(&Record, &Visit)], cells: &mut Row) -> usize {
    if colony.began_with == FirstQueen::None {
        cells.push((Field::Queen, "none".to_owned()));
    }
    if let FirstQueen::Recorded(queen) = colony.began_with {
        cells.extend(queen_cells(world, queen));
        let Some((record, visit)) = visits.first().filter(|(_, visit)| visit.gave.is_none()) else { return 0 };
        cells.extend(find_cells(world, record, visit));
        return 1;
    }
    match visits {
        [(record, visit), rest @ ..] => {
            let Some(gave) = &visit.gave else {
                cells.extend(find_cells(world, record, visit));
                return 1;
            };
            cells.extend(given_cells(world, record, gave));
            let bare = record.by.is_empty() && record.words.is_empty() && codes(world, visit).is_empty();
            match rest.first() {
                Some((next, find)) if bare && find.gave.is_none() && next.day != record.day => {
                    cells.extend(find_cells(world, next, find));
                    2
                }
                _ if bare => 1,
                _ => {
                    cells.extend(find_cells(world, record, visit));
                    1
                }
            }
        }
        [] => 0,
    }
}

fn queen_cells(world: &World, queen: QueenId) -> Row {
    let Some(queen) = world.queens.get(&queen) else { return Row::new() };
    let source = queen.source.and_then(|source| world.sources.get(&source)).map_or("", |source| &source.name);
    row(&[
        (Field::Born, &birth_text(queen.birth)),
        (Field::Dot, queen.dot.map_or("", |dot| dot.name())),
        (Field::Source, source),
        (Field::Origin, origin_word(queen.origin)),
        (Field::QueenNote, &queen.words),
    ])
}

fn given_cells(world: &World, record: &Record, gave: &Given) -> Row {
    let mut cells = queen_cells(world, gave.queen);
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
    cells
}

fn find_cells(world: &World, record: &Record, visit: &Visit) -> Row {
    row(&[
        (Field::LastLook, &record.day.iso()),
        (Field::Found, &codes(world, visit)),
        (Field::By, &record.by),
        (Field::Words, &record.words),
    ])
}

/// The codes of what was seen and done; what was given has cells of its own.
fn codes(world: &World, visit: &Visit) -> String {
    let mut rest = visit.clone();
    if let Some(gave) = rest.gave.take() {
        rest.did.queen_not_found &= gave.old_queen != OldQueen::NotFound;
    }
    codes_of(world, &rest, "")
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
