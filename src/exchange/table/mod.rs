//! Bringing yards and hives in: a table becomes a preview, and a confirmed preview one change.
//!
//! In the order of the work: bytes to text ([`letters`]), text to rows (`split`), headings to fields ([`headings`]), cells
//! to values (`cells`, `codes`, `entry`), rows against the register (`judge`, `yards`, `visits`, `sources`, `rulings`,
//! `known`; `taken`, `refs`, `parcels` and `merge` for rows as an [`export`] writes them), and what follows ([`changes`], [`held_back`],
//! `take_over`). GeoJSON and GPX enter as rows of a table with headings of ours.

mod cells;
pub mod changes;
mod codes;
mod entry;
pub mod export;
mod fates;
pub mod headings;
pub mod held_back;
mod judge;
mod known;
pub mod letters;
mod merge;
mod near;
mod parcels;
mod plan;
pub mod preview;
mod record_order;
mod refs;
mod rulings;
mod sources;
pub(super) mod split;
mod take_over;
mod taken;
mod visits;
mod yards;

use std::collections::BTreeSet;

use crate::domain::day::Day;
use crate::domain::world::World;
use crate::exchange::dates::{DateOrder, DateRead, OrderFound, order_of, read as read_date};
use crate::exchange::out::cells::unguarded;
use crate::exchange::table::entry::{Entry, FREE, Reader};
use crate::exchange::table::headings::{Field, field_of, plain};
use crate::exchange::table::judge::Judge;
use crate::exchange::table::letters::{Letters, decode};
use crate::exchange::table::preview::{
    DateQuestion, Heading, Options, Preview, PreviewRow, Problem, Totals, Unreadable, Will,
};
use crate::exchange::table::split::{RawRow, headings_at, rows, sniff};
use crate::exchange::watch::{NotRead, Watch, Way};

/// Fields that hold days.
const DATES: [Field; 18] = [
    Field::Since,
    Field::Born,
    Field::Introduced,
    Field::Dequeened,
    Field::LastLook,
    Field::Ended,
    Field::Until,
    Field::LabelDay,
    Field::ParcelSent,
    Field::ParcelDue,
    Field::ParcelPromised,
    Field::ParcelArrived,
    Field::Grafted,
    Field::GiveOn,
    Field::DequeenOn,
    Field::CalledOff,
    Field::RunDay,
    Field::Emerged,
];

/// A table as it stands in a file, before anything is understood.
pub(super) struct RawTable {
    pub letters: Letters,
    pub delimiter: Option<char>,
    pub headings: Vec<String>,
    pub rows: Vec<RawRow>,
    pub left_out: Vec<String>,
}

/// Reads a table in CSV and says what bringing it in would do.
///
/// # Errors
/// If it is no table at all (the message names the row where there is one), or the reading was stopped.
pub fn read(bytes: &[u8], options: &Options, world: &World, today: Day, watch: &dyn Watch) -> Result<Preview, NotRead> {
    let (text, letters) = decode(bytes, options.letters)?;
    let delimiter = sniff(&text);
    let mut rows = rows(&text, delimiter, watch)?;
    if rows.is_empty() {
        return Err(Unreadable::new("The file is empty", "Choose one with headings and rows").into());
    }
    let mapped = |heading: &str| options.mapping.keys().any(|theirs| plain(theirs) == plain(heading));
    let at = headings_at(&rows, mapped);
    let mut left_out = Vec::new();
    if let (Some(first), Some(last), Some(headings)) = (rows.first(), rows.get(at.wrapping_sub(1)), rows.get(at)) {
        let (first, last, headings) = (first.number, last.number, headings.number);
        let which = if first == last { format!("row {first}") } else { format!("rows {first} to {last}") };
        left_out.push(format!("{which} above the headings, which stand in row {headings}"));
    }
    rows.drain(..at);
    let headings = rows.remove(0).cells;
    let table = RawTable { letters, delimiter: Some(delimiter), headings, rows, left_out };
    preview(table, options, world, today, watch)
}

/// Says what bringing a table in would do.
pub(super) fn preview(
    table: RawTable,
    options: &Options,
    world: &World,
    today: Day,
    watch: &dyn Watch,
) -> Result<Preview, NotRead> {
    let headings = headings_of(&table.headings, options);
    let known = |field: Field| headings.iter().any(|heading| heading.field == Some(field));
    let unknown = [Field::Yard, Field::Source, Field::Setting, Field::Entry].into_iter().all(|field| !known(field));
    let mut table = table;
    if unknown && options.map_later && headings.len() > 1 {
        table
            .left_out
            .push("No column is the yard yet. Say under which heading it stands: click the heading.".to_owned());
    } else if unknown {
        let theirs: Vec<&str> = table.headings.iter().map(|heading| heading.trim()).take(8).collect();
        let fact = format!("No heading says which column is the yard (row 1: {})", theirs.join(", "));
        return Err(Unreadable::new(fact, "Name a column yard, or map one").into());
    }
    if table.rows.is_empty() {
        return Err(Unreadable::new("The file has headings and no rows", "Choose one with rows").into());
    }
    let mut way = Way::new(watch, 3, table.rows.len());
    let mut rows = Vec::with_capacity(table.rows.len());
    for row in table.rows {
        rows.push(preview_row(row, &headings, options));
        way.row()?;
    }
    let filled = if options.yard_above { fill_down(&mut rows, &headings) } else { 0 };
    if filled > 0 {
        let rows = if filled == 1 { "1 row".to_owned() } else { format!("{filled} rows") };
        table.left_out.push(format!("the yard's name in {rows}: it is the one above"));
    }
    let found = order_of(dates_of(&rows, &headings));
    let order = options.dates.or(match found {
        OrderFound::Proven(order) => Some(order),
        OrderFound::NotNeeded | OrderFound::Open | OrderFound::Mixed => None,
    });
    let question = if order.is_none() { question(&rows, &headings, today) } else { None };
    let columns = Columns::new(&headings, &rows);
    let mut entries = Vec::with_capacity(rows.len());
    for row in &rows {
        entries.push(columns.entry(row, order, today));
        way.row()?;
    }
    let mut judge = Judge::new(world, options, today, &entries);
    for (row, entry) in rows.iter_mut().zip(&mut entries) {
        entry.problems.append(&mut row.problems);
        row.will = judge.judge(entry);
        row.problems = std::mem::take(&mut entry.problems);
        row.notes = std::mem::take(&mut entry.notes);
        way.row()?;
    }
    judge.merge(&entries, &mut rows);
    note_lost_swaps(&mut judge, &mut rows);
    note_lost_hives(&judge, &mut rows);
    for row in &mut rows {
        row.says = says(row);
    }
    let wills: Vec<Will> = rows.iter().map(|row| row.will).collect();
    let totals: Totals = judge.totals(&wills);
    let dates = order.filter(|_| found != OrderFound::NotNeeded);
    let RawTable { letters, delimiter, left_out, .. } = RawTable { headings: Vec::new(), rows: Vec::new(), ..table };
    Ok(Preview { letters, delimiter, dates, headings, rows, question, left_out, totals, today, plan: judge.plan })
}

/// Which column is what: the user's mapping first, then the words that are known. A field is taken from one column.
fn headings_of(theirs: &[String], options: &Options) -> Vec<Heading> {
    let mapped = |heading: &str| {
        let same = |(from, _): &(&String, &Option<Field>)| plain(from) == plain(heading);
        options.mapping.iter().find(same).map(|(_, field)| *field)
    };
    let mut headings: Vec<Heading> = theirs
        .iter()
        .map(|heading| Heading { theirs: heading.trim().to_owned(), field: mapped(heading).flatten() })
        .collect();
    let with_entry = theirs.iter().any(|heading| field_of(heading) == Some(Field::Entry));
    for at in 0..headings.len() {
        let taken = |field: Field| headings.iter().any(|heading| heading.field == Some(field));
        let theirs = headings.get(at).map_or("", |heading| heading.theirs.as_str());
        let plainly = |field: &Field| !taken(*field) && (field.is_by_hand() || with_entry);
        let field = if mapped(theirs).is_some() { None } else { field_of(theirs).filter(plainly) };
        if let (Some(field), Some(heading)) = (field, headings.get_mut(at)) {
            heading.field = Some(field);
        }
    }
    headings
}

fn preview_row(raw: RawRow, headings: &[Heading], options: &Options) -> PreviewRow {
    let number = raw.number;
    let mut problems = Vec::new();
    let found = raw.cells.len();
    let extra = raw.cells.iter().skip(headings.len()).any(|cell| !cell.trim().is_empty());
    if found < headings.len() || extra {
        problems.push(Problem {
            field: None,
            fact: format!("The row has {found} cells, the headings {}", headings.len()),
            remedy: "Look for a missing or needless separator, or a quote that is not closed".to_owned(),
        });
    }
    let mut cells: Vec<String> = raw.cells;
    cells.resize(headings.len(), String::new());
    // A row that says itself what it is comes from an export: white space at the ends of its words counts.
    let entry = headings.iter().position(|heading| heading.field == Some(Field::Entry));
    let exact = entry.and_then(|at| cells.get(at)).is_some_and(|cell| !cell.trim().is_empty());
    for (cell, heading) in cells.iter_mut().zip(headings) {
        if let Some(corrected) = heading.field.and_then(|field| options.corrections.get(&(number, field))) {
            cell.clone_from(corrected);
        }
        let bare = unguarded(if exact { cell.as_str() } else { cell.trim() });
        if bare.len() != cell.len() {
            *cell = bare.to_owned();
        }
    }
    PreviewRow { row: number, cells, will: Will::Same, says: String::new(), problems, notes: Vec::new() }
}

fn dates_of<'a>(rows: &'a [PreviewRow], headings: &'a [Heading]) -> impl Iterator<Item = &'a str> {
    rows.iter().flat_map(move |row| {
        let dated =
            row.cells.iter().zip(headings).filter(|(_, heading)| heading.field.is_some_and(|it| DATES.contains(&it)));
        dated.map(|(cell, _)| cell.as_str())
    })
}

fn question(rows: &[PreviewRow], headings: &[Heading], today: Day) -> Option<DateQuestion> {
    let either = |row: &PreviewRow| {
        dates_of(std::slice::from_ref(row), headings).find_map(|cell| match read_date(cell, None, today) {
            DateRead::Either(day_first, month_first) => Some((cell.to_owned(), day_first, month_first)),
            _ => None,
        })
    };
    let mut asked = rows.iter().filter_map(either);
    let (example, day_first, month_first) = asked.next()?;
    Some(DateQuestion { example, day_first, month_first, rows: 1 + asked.count() as u32 })
}

/// Puts the yard of the row above into rows of hives that name none, as merged cells leave them; answers how many.
fn fill_down(rows: &mut [PreviewRow], headings: &[Heading]) -> u32 {
    let at = |field: Field| headings.iter().position(|heading| heading.field == Some(field));
    let (Some(yard), Some(hive), None) = (at(Field::Yard), at(Field::Hive), at(Field::Entry)) else { return 0 };
    let mut above = String::new();
    let mut filled = 0;
    for row in rows {
        let names_a_hive = row.cells.get(hive).is_some_and(|cell| !cell.is_empty());
        match row.cells.get_mut(yard) {
            Some(cell) if cell.is_empty() && names_a_hive && !above.is_empty() => {
                cell.clone_from(&above);
                filled += 1;
            }
            Some(cell) if !cell.is_empty() => above.clone_from(cell),
            _ => {}
        }
    }
    filled
}

/// In which column each field stands.
struct Columns {
    at: Vec<Option<usize>>,
    /// The column of the dot says yes and no, not the colour.
    dot_yes_or_no: bool,
}

impl Columns {
    fn new(headings: &[Heading], rows: &[PreviewRow]) -> Self {
        let at = |field: &Field| headings.iter().position(|heading| heading.field == Some(*field));
        let dot = at(&Field::Dot);
        let says_so = |row: &PreviewRow| {
            let cell = dot.and_then(|dot| row.cells.get(dot));
            // A y may be a yellow dot.
            cell.is_some_and(|cell| !cell.eq_ignore_ascii_case("y") && cells::yes_or_no(cell).is_some())
        };
        Self { at: Field::ALL.iter().map(at).collect(), dot_yes_or_no: rows.iter().any(says_so) }
    }

    fn entry(&self, row: &PreviewRow, order: Option<DateOrder>, today: Day) -> Entry {
        let cell = |field: Field| {
            let at = self.at.get(field as usize).copied().flatten();
            at.and_then(|at| row.cells.get(at)).map_or("", String::as_str)
        };
        let text = |field: Field| {
            let cell = cell(field);
            (if FREE.contains(&field) { cell } else { cell.trim() }).to_owned()
        };
        let dot_yes_or_no = self.dot_yes_or_no;
        Reader { order, today, text: &text, dot_yes_or_no, problems: Vec::new(), notes: Vec::new() }.entry(row.row)
    }
}

fn note_lost_swaps(judge: &mut Judge<'_>, rows: &mut [PreviewRow]) {
    for (number, name) in judge.settle_swaps() {
        if let Some(row) = rows.iter_mut().find(|row| row.row == number) {
            let fact = format!("Lids swapped with {name} is left out: no such hive in the yard");
            row.notes.push(Problem::new(Field::Found, fact, ""));
        }
    }
}

/// Says which hives that rows call by their name are not brought in.
fn note_lost_hives(judge: &Judge<'_>, rows: &mut [PreviewRow]) {
    let held: BTreeSet<u32> = rows.iter().filter(|row| row.will == Will::HoldBack).map(|row| row.row).collect();
    for (row, field, name, of_hive) in &judge.named {
        let lost = *of_hive == 0 || held.contains(of_hive);
        if let Some(row) = rows.iter_mut().find(|it| lost && it.row == *row) {
            let fact = format!("{name} is not brought in, so that the {} is left out", field.name());
            row.notes.push(Problem::new(*field, fact, ""));
        }
    }
}

/// A row's first problem; else its notes.
fn says(row: &PreviewRow) -> String {
    match row.problems.first() {
        Some(problem) => problem.fact.clone(),
        None => row.notes.iter().map(|note| note.fact.as_str()).collect::<Vec<_>>().join(". "),
    }
}
