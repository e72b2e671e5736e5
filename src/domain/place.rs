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
