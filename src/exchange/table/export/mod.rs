//! The whole programme as one CSV file that an import reads back to the same content.
//!
//! Each row says in `entry` what it is: the firm, settings and sources, then yards, parcels, hives and runs. A hive is
//! followed by its names and places where they changed, what happened at it, its plans and its bars. Its own row also
//! holds its first introduction or its first find where nothing is lost by it, so that most hives take one row. Columns
//! that would be empty are left out.
//!
//! What CSV does not hold: ids, the history of changes with undo (an amended record keeps its mark, its reason and what
//! it said before), the names of yards that were removed, and queens of whom no hive and no record tells. The whole
//! register holds them all.

mod hive;
mod names;
mod record;
mod things;

pub(super) use names::gone_yards;

use crate::domain::bar::BarOn;
use crate::domain::fold_text::fold;
use crate::domain::world::World;
use crate::exchange::out::cells::table;
use crate::exchange::table::export::names::Names;
use crate::exchange::table::headings::Field;

/// The cells of one row; those that are not there are empty.
pub(super) type Row = Vec<(Field, String)>;

/// The whole programme as CSV: UTF-8 with a byte order mark (spreadsheets look for it), comma, CRLF.
pub fn programme_csv(world: &World) -> String {
    let rows = rows(world);
    let used = |field: &Field| rows.iter().flatten().any(|(held, text)| held == field && !text.is_empty());
    let fields: Vec<Field> =
        Field::ALL.iter().copied().filter(|it| *it == Field::Entry || *it == Field::Yard || used(it)).collect();
    let headings: Vec<&str> = fields.iter().map(|field| field.name()).collect();
    let lines = rows.iter().map(|row| {
        let cell = |field: &Field| row.iter().find(|(held, _)| held == field).map_or("", |(_, text)| text.as_str());
        fields.iter().map(cell).collect::<Vec<_>>()
    });
    format!("\u{feff}{}", table(std::iter::once(headings).chain(lines)))
}

/// All rows in their order.
fn rows(world: &World) -> Vec<Row> {
    let mut names = Names::new(world);
    let mut rows: Vec<Row> = vec![things::firm(&world.firm)];
    rows.extend(world.settings.changed().map(|(name, value)| things::setting(name, value)));
    let mut sources: Vec<_> = world.sources.values().collect();
    sources.sort_by_key(|source| fold(&source.name));
    rows.extend(sources.into_iter().map(things::source));
    for yard in names.yards.iter().chain(&names.removed) {
        rows.push(match world.yards.get(yard) {
            Some(yard) => things::yard(yard),
            None => things::removed_yard(names.yard(*yard)),
        });
        rows.extend(things::bars(world, BarOn::Yard(*yard), names.yard(*yard), ""));
    }
    rows.extend(world.parcels.values().map(|parcel| things::parcel(&names, parcel)));
    for colony in names.hives.clone() {
        rows.extend(hive::block(&mut names, colony));
    }
    rows.extend(world.runs.values().flat_map(|run| things::run(&names, run)));
    for row in &mut rows {
        row.retain(|(_, text)| !text.is_empty());
    }
    rows
}

/// A row of these cells.
fn row(cells: &[(Field, &str)]) -> Row {
    cells.iter().map(|(field, text)| (*field, (*text).to_owned())).collect()
}

/// `yes`, where it is so.
fn yes(is: bool) -> &'static str {
    if is { "yes" } else { "" }
}
