//! Daylight at the yards of a run, remembered: of all that a run's times need the course of the sun takes longest.

use std::collections::BTreeMap;

use crate::domain::day::Day;
use crate::domain::place::Place;
use crate::domain::run_order::RunOrder;
use crate::domain::world::World;
use crate::roads::sun::{Daylight, daylight};

/// Sunrise and sunset in seconds of the local day; nothing where there is no sunrise, or no sunset, that day.
pub type Light = Option<(u32, u32)>;

/// The light of one day, by place. Asked for another day or clock it begins anew.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Lights {
    of: Option<(Day, i32)>,
    known: BTreeMap<(u64, u64), Light>,
}

impl Lights {
    /// The light at a place, worked out where it is not known yet.
    pub fn at(&mut self, world: &World, place: Place, day: Day) -> Light {
        let of = (day, world.settings.utc_offset());
        if self.of != Some(of) {
            *self = Self { of: Some(of), known: BTreeMap::new() };
        }
        *self.known.entry(key(place)).or_insert_with(|| light_at(place, of))
    }

    /// At how many places of a run it is not known yet.
    pub fn missing(&self, world: &World, run: &RunOrder) -> usize {
        let fits = self.of == Some((run.day, world.settings.utc_offset()));
        let yards = run.stops.iter().filter_map(|stop| world.yards.get(&stop.yard)?.place);
        yards.chain([run.base.place]).filter(|place| !fits || !self.known.contains_key(&key(*place))).count()
    }

    /// Takes in what another knows: of its day and clock, whatever this one was of.
    pub fn take_in(&mut self, other: Self) {
        if self.of == other.of {
            self.known.extend(other.known);
        } else {
            *self = other;
        }
    }
}

fn key(place: Place) -> (u64, u64) {
    (place.lat().to_bits(), place.lon().to_bits())
}

fn light_at(place: Place, (day, clock): (Day, i32)) -> Light {
    match daylight((place.lat(), place.lon()), (day.year(), day.month(), day.day_of_month()), clock) {
        Ok(Daylight::Between { rise, set }) => Some((rise, set)),
        // Without a sunrise there is no light to work in; the screen says so through the faults of every stop.
        Ok(Daylight::None) => Some((12 * 3600, 12 * 3600)),
        Ok(Daylight::AllDay) | Err(_) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::ids::{RunId, YardId};
    use crate::domain::run_order::{Base, RunStop};
    use crate::domain::yard::Yard;

    #[test]
    fn light_is_known_for_its_day_alone() {
        let mut world = World::default();
        let place = Place::new(-40.0, 160.0).expect("a place");
        let id = YardId::from_number(1);
        let mut yard = Yard::named(id, "Heath yard");
        yard.place = Place::new(-40.1, 160.2);
        world.yards.insert(id, std::sync::Arc::new(yard));
        let day = Day::new(2026, 11, 24).expect("a day");
        let run = RunOrder {
            id: RunId::from_number(1),
            day,
            vehicle: String::new(),
            base: Base { name: "Shed".to_owned(), place },
            leave: 450,
            stops: vec![RunStop { yard: id, locked: false }],
            left_out: Vec::new(),
        };
        let mut lights = Lights::default();
        assert_eq!(lights.missing(&world, &run), 2);
        let light = lights.at(&world, place, day);
        assert_eq!(lights.missing(&world, &run), 1);
        assert_eq!(lights.at(&world, place, day), light);
        let tomorrow = RunOrder { day: day.plus(1), ..run.clone() };
        assert_eq!(lights.missing(&world, &tomorrow), 2);
        let mut others = Lights::default();
        others.at(&world, Place::new(-40.1, 160.2).expect("a place"), day);
        lights.take_in(others);
        assert_eq!(lights.missing(&world, &run), 0);
    }
}
