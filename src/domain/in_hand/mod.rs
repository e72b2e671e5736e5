//! Queens and cells in hand: arrived and not yet given.

pub mod draw;
pub mod queen;
pub mod sources;

use std::collections::BTreeMap;

use crate::domain::day::Day;
use crate::domain::ids::ParcelId;
use crate::domain::parcel::Parcel;
use crate::domain::record::{Happening, Record};
use crate::domain::settings::Settings;
use crate::domain::world::World;

/// What of a parcel is in hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct InHand {
    /// Usable on arrival: neither dead nor gone elsewhere. 0 before it arrives.
    pub alive: u32,
    /// Given into colonies, by the records that name the parcel.
    pub given: u32,
    /// Still in hand; 0 where the parcel was put away.
    pub left: u32,
    /// More were given than there can have been: a number or a record is wrong.
    pub too_many: u32,
    /// Days since it arrived; nothing: it has not arrived.
    pub held_days: Option<i32>,
    /// What those days mean while some are left.
    pub held: Held,
}

/// What the days held in a cage mean.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Held {
    /// As it should be, or none left.
    Fine,
    /// Longer than the setting `held_warning`.
    Warning,
    /// Longer than the setting `held_alarm`.
    Alarm,
}

/// What of one parcel is in hand on a day. Nothing for a parcel that is not in the register.
pub fn in_hand(world: &World, parcel: ParcelId, today: Day) -> Option<InHand> {
    let parcel = world.parcels.get(&parcel)?;
    let given =
        all_records(world).filter_map(given_from).filter(|(from, _)| *from == parcel.id).map(|(_, count)| count);
    Some(reckon(&world.settings, parcel, given.sum(), today))
}

/// What of every parcel is in hand on a day: one pass over the records.
pub fn all_in_hand(world: &World, today: Day) -> BTreeMap<ParcelId, InHand> {
    let given = given_of_each(world);
    let of = |parcel: &Parcel| given.get(&parcel.id).copied().unwrap_or(0);
    world.parcels.values().map(|it| (it.id, reckon(&world.settings, it, of(it), today))).collect()
}

/// How many each parcel that has arrived, whenever that was, still holds; 0 where it was put away. One pass over the
/// records.
pub fn left_in_hand(world: &World) -> BTreeMap<ParcelId, u32> {
    let given = given_of_each(world);
    let of = |parcel: &Parcel| given.get(&parcel.id).copied().unwrap_or(0);
    let open = world.parcels.values().filter(|parcel| parcel.arrived.is_some() && !parcel.closed);
    open.map(|parcel| (parcel.id, parcel.usable().saturating_sub(of(parcel)))).collect()
}

fn given_of_each(world: &World) -> BTreeMap<ParcelId, u32> {
    let mut given: BTreeMap<ParcelId, u32> = BTreeMap::new();
    for (from, count) in all_records(world).filter_map(given_from) {
        *given.entry(from).or_default() += count;
    }
    given
}

fn all_records(world: &World) -> impl Iterator<Item = &Record> {
    world.records.values().flat_map(|records| records.iter())
}

/// The parcel a record gave from, and how many queens or cells.
fn given_from(record: &Record) -> Option<(ParcelId, u32)> {
    let Happening::Visit(visit) = &record.what else {
        return None;
    };
    let gave = visit.gave.as_ref().filter(|_| !record.struck)?;
    Some((gave.parcel?, u32::from(gave.cells)))
}

fn reckon(settings: &Settings, parcel: &Parcel, given: u32, today: Day) -> InHand {
    let arrived = parcel.arrived.filter(|arrived| *arrived <= today);
    let alive = if arrived.is_some() { parcel.usable() } else { 0 };
    let left = if parcel.closed { 0 } else { alive.saturating_sub(given) };
    let held_days = arrived.map(|arrived| today.since(arrived));
    let held = match held_days {
        Some(days) if left > 0 && days > settings.held_alarm() => Held::Alarm,
        Some(days) if left > 0 && days > settings.held_warning() => Held::Warning,
        _ => Held::Fine,
    };
    let too_many = given.saturating_sub(parcel.usable());
    InHand { alive, given, left, too_many, held_days, held }
}
