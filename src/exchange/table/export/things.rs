//! Rows of what is no hive: firm, settings, sources, yards, bars, parcels, runs.

use crate::domain::bar::{Bar, BarOn};
use crate::domain::day::Day;
use crate::domain::parcel::Parcel;
use crate::domain::queen::{Dot, Source};
use crate::domain::run_order::RunOrder;
use crate::domain::settings::Firm;
use crate::domain::world::World;
use crate::domain::yard::{Layout, Yard};
use crate::exchange::out::lists::clock_text;
use crate::exchange::table::cells::{birth_text, hemisphere_word, parcel_word};
use crate::exchange::table::export::names::Names;
use crate::exchange::table::export::{Row, row, yes};
use crate::exchange::table::headings::Field;

/// The firm; the day on which the demo is shown is the demo's alone.
pub(super) fn firm(firm: &Firm) -> Row {
    let mut cells = row(&[
        (Field::Entry, "firm"),
        (Field::Firm, &firm.name),
        (Field::Home, &firm.home_name),
        (Field::Hemisphere, hemisphere_word(firm.hemisphere)),
    ]);
    if let Some(home) = firm.home {
        cells.push((Field::Latitude, home.lat().to_string()));
        cells.push((Field::Longitude, home.lon().to_string()));
    }
    cells
}

pub(super) fn setting(name: &str, value: f64) -> Row {
    row(&[(Field::Entry, "setting"), (Field::Setting, name), (Field::Value, &value.to_string())])
}

pub(super) fn source(source: &Source) -> Row {
    let own = if source.own { "yes" } else { "no" };
    row(&[(Field::Entry, "source"), (Field::Source, &source.name), (Field::OwnLine, own)])
}

pub(super) fn yard(yard: &Yard) -> Row {
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

/// A yard that is gone, under a name that no yard has.
pub(super) fn removed_yard(name: &str) -> Row {
    row(&[(Field::Entry, "yard"), (Field::Yard, name), (Field::Removed, "yes")])
}

/// The bars set by hand on a yard or a hive, as they were set.
pub(super) fn bars(world: &World, on: BarOn, yard: &str, hive: &str) -> Vec<Row> {
    world.bars.values().filter(|bar| bar.on == on).map(|bar| bar_row(bar, yard, hive)).collect()
}

fn bar_row(bar: &Bar, yard: &str, hive: &str) -> Row {
    let lifted = bar.lifted.as_ref();
    row(&[
        (Field::Entry, "bar"),
        (Field::Yard, yard),
        (Field::Hive, hive),
        (Field::Since, &bar.from.iso()),
        (Field::Bar, bar.kind.words()),
        (Field::Until, &iso(bar.until)),
        (Field::Permit, bar.permit.as_deref().unwrap_or("")),
        (Field::By, &bar.by),
        (Field::Note, &bar.reason),
        (Field::Ended, &iso(lifted.map(|lifted| lifted.on))),
        (Field::LiftedBy, lifted.map_or("", |lifted| &lifted.by)),
        (Field::Words, lifted.map_or("", |lifted| &lifted.why)),
    ])
}

pub(super) fn parcel(names: &Names<'_>, parcel: &Parcel) -> Row {
    row(&[
        (Field::Entry, "parcel"),
        (Field::Parcel, &names.parcel(Some(parcel.id))),
        (Field::Source, names.source(parcel.source)),
        (Field::ParcelKind, parcel_word(parcel.kind)),
        (Field::ParcelCount, &parcel.count.to_string()),
        (Field::ParcelDead, &number(parcel.dead)),
        (Field::ParcelGone, &number(parcel.gone)),
        (Field::ParcelSent, &iso(parcel.sent)),
        (Field::ParcelDue, &iso(parcel.due)),
        (Field::ParcelPromised, &iso(parcel.promised)),
        (Field::ParcelArrived, &iso(parcel.arrived)),
        (Field::Grafted, &iso(parcel.grafted)),
        (Field::Born, &birth_text(parcel.born)),
        (Field::Dot, parcel.dot.map_or("", Dot::name)),
        (Field::PutAway, yes(parcel.closed)),
        (Field::Note, &parcel.note),
    ])
}

/// A run, its stops in their order, and the yards left out on purpose.
pub(super) fn run(names: &Names<'_>, run: &RunOrder) -> Vec<Row> {
    let head = row(&[
        (Field::Entry, "run"),
        (Field::RunDay, &run.day.iso()),
        (Field::Vehicle, &run.vehicle),
        (Field::Leave, &clock_text(run.leave)),
        (Field::Home, &run.base.name),
        (Field::Latitude, &run.base.place.lat().to_string()),
        (Field::Longitude, &run.base.place.lon().to_string()),
    ]);
    let stops = run.stops.iter().map(|stop| {
        let yard = names.yard(stop.yard);
        row(&[(Field::Entry, "stop"), (Field::Yard, yard), (Field::Locked, yes(stop.locked))])
    });
    let left_out = run.left_out.iter().map(|yard| row(&[(Field::Entry, "left out"), (Field::Yard, names.yard(*yard))]));
    std::iter::once(head).chain(stops).chain(left_out).collect()
}

fn iso(day: Option<Day>) -> String {
    day.map(Day::iso).unwrap_or_default()
}

/// A count; none is an empty cell.
fn number(count: u32) -> String {
    if count == 0 { String::new() } else { count.to_string() }
}
