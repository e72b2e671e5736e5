//! Web Mercator (EPSG:3857), the plane in which map tiles are cut.

use std::f64::consts::{FRAC_PI_4, PI};

/// Radius of the sphere: the semi-major axis of WGS84, metres.
pub const RADIUS: f64 = 6_378_137.0;

/// The latitude, north and south, at which the plane ends and is square: atan(sinh(pi)), degrees.
pub const LAST_LATITUDE: f64 = 85.051_128_779_806_59;

/// Metres east and north in the plane. Nothing for a place beyond [`LAST_LATITUDE`], or with a longitude outside
/// -180..=180.
pub fn forward(latitude: f64, longitude: f64) -> Option<(f64, f64)> {
    let inside = latitude.abs() <= LAST_LATITUDE && longitude.abs() <= 180.0;
    inside.then(|| {
        let east = RADIUS * longitude.to_radians();
        let north = RADIUS * (FRAC_PI_4 + latitude.to_radians() / 2.0).tan().ln();
        (east, north)
    })
}

/// Latitude and longitude in degrees of a point of the plane, given in metres. Nothing for a point outside the square.
pub fn inverse(east: f64, north: f64) -> Option<(f64, f64)> {
    // The edge itself belongs to the square, and rounding may put it a hair outside.
    let edge = PI * RADIUS + 1e-6;
    let inside = east.abs() <= edge && north.abs() <= edge;
    inside.then(|| {
        let latitude = (north / RADIUS).sinh().atan().to_degrees();
        let longitude = (east / RADIUS).to_degrees();
        (latitude.clamp(-LAST_LATITUDE, LAST_LATITUDE), longitude.clamp(-180.0, 180.0))
    })
}

#[cfg(test)]
mod tests {
    use super::{LAST_LATITUDE, RADIUS, forward, inverse};
    use proptest::{prop_assert, proptest};

    /// IOGP Publication 373-7-2 (Geomatics Guidance Note 7, part 2), "Popular Visualisation Pseudo Mercator",
    /// EPSG method 1024: 24°22'54.433"N 100°20'00.000"W is 11 169 055.58 m west, 2 800 000.00 m north.
    #[test]
    fn agrees_with_the_guidance_note() {
        let latitude = 24.0 + 22.0 / 60.0 + 54.433 / 3600.0;
        let longitude = -(100.0 + 20.0 / 60.0);
        let (east, north) = forward(latitude, longitude).unwrap();
        assert!((east + 11_169_055.58).abs() < 0.005, "{east}");
        assert!((north - 2_800_000.00).abs() < 0.02, "{north}"); // a thousandth of a second is 3 cm
        let (latitude_back, longitude_back) = inverse(-11_169_055.58, 2_800_000.00).unwrap();
        assert!((latitude_back - latitude).abs() < 0.0005 / 3600.0);
        assert!((longitude_back - longitude).abs() < 0.0005 / 3600.0);
    }

    #[test]
    fn the_plane_is_a_square_that_ends() {
        let (east, north) = forward(LAST_LATITUDE, 180.0).unwrap();
        assert!((east - north).abs() < 1e-6);
        assert!((east - std::f64::consts::PI * RADIUS).abs() < 1e-6);
        assert_eq!(forward(86.0, 0.0), None);
        assert_eq!(forward(0.0, 180.5), None);
        assert_eq!(forward(f64::NAN, 0.0), None);
        assert_eq!(inverse(2.1e7, 0.0), None);
    }

    proptest! {
        #[test]
        fn there_and_back(latitude in -85.0..85.0_f64, longitude in -180.0..180.0_f64) {
            let (east, north) = forward(latitude, longitude).unwrap();
            let (again_lat, again_lon) = inverse(east, north).unwrap();
            prop_assert!((again_lat - latitude).abs() < 1e-9 && (again_lon - longitude).abs() < 1e-9);
        }
    }
}
