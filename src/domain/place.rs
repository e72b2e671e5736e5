//! A checked point on the earth.

use serde::{Deserialize, Serialize};

/// A point in WGS 84, degrees: latitude -90 to 90 (north positive), longitude -180 to 180 (east positive).
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Place {
    lat: f64,
    lon: f64,
}

impl Place {
    /// The point, or nothing where a coordinate is out of range or not a number.
    pub fn new(lat: f64, lon: f64) -> Option<Self> {
        let fits = (-90.0..=90.0).contains(&lat) && (-180.0..=180.0).contains(&lon);
        fits.then_some(Self { lat, lon })
    }

    /// Latitude in degrees, north positive.
    pub fn lat(self) -> f64 {
        self.lat
    }

    /// Longitude in degrees, east positive.
    pub fn lon(self) -> f64 {
        self.lon
    }

    /// The point lies between the tropics, where the year's halves tell little of the bees' season.
    pub fn is_tropical(self) -> bool {
        self.lat.abs() < 23.4
    }

    /// The paper of the country is Letter, not A4: North and Central America, the Caribbean, Hawaii, the Philippines (from
    /// memory of the Unicode CLDR's paper sizes, drawn as boxes; a setting overrules it).
    pub fn is_on_letter_paper(self) -> bool {
        let within = |south: f64, north: f64, west: f64, east: f64| {
            (south..=north).contains(&self.lat) && (west..=east).contains(&self.lon)
        };
        within(24.0, 84.0, -170.0, -52.0)
            || within(7.0, 24.0, -118.0, -60.0)
            || within(18.0, 29.0, -179.0, -154.0)
            || within(4.5, 21.0, 116.5, 127.0)
    }

    /// The hemisphere the point lies in; the equator counts as north.
    pub fn hemisphere(self) -> Hemisphere {
        if self.lat < 0.0 { Hemisphere::South } else { Hemisphere::North }
    }
}

/// Which half of the year is the bees' season.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Hemisphere {
    /// Season about March to September.
    North,
    /// Season about September to March.
    #[default]
    South,
}

#[cfg(test)]
mod tests {
    use super::Place;

    #[test]
    fn the_usual_paper_follows_from_the_place() {
        let letter = |lat: f64, lon: f64| Place::new(lat, lon).map(Place::is_on_letter_paper);
        for (lat, lon) in [(55.1, -105.3), (64.8, -147.7), (19.4, -99.1), (21.3, -157.9), (14.6, 121.0), (18.2, -66.4)]
        {
            assert_eq!(letter(lat, lon), Some(true), "{lat}, {lon}");
        }
        for (lat, lon) in [(55.7, 12.6), (-40.1, 160.2), (-33.4, -70.7), (64.1, -21.9), (35.7, 139.7), (0.0, 36.5)] {
            assert_eq!(letter(lat, lon), Some(false), "{lat}, {lon}");
        }
    }
}
