//! The shortest line over the ground between two places.

use geographiclib_rs::{Geodesic, InverseGeodesic as _};

/// Metres along the WGS84 ellipsoid between two places, each given as latitude and longitude in degrees (north and
/// east positive). Good to some nanometres (C. F. F. Karney, "Algorithms for geodesics", Journal of Geodesy 87, 2013).
pub fn distance(from: (f64, f64), to: (f64, f64)) -> f64 {
    Geodesic::wgs84().inverse(from.0, from.1, to.0, to.1)
}

#[cfg(test)]
mod tests {
    use super::distance;

    /// From, to, metres.
    type Case = ((f64, f64), (f64, f64), f64);

    /// Karney 2013, section 4, the inverse problem of table 5 (nearly antipodal), and the examples of the GeographicLib
    /// documentation: JFK to LHR (`GeodSolve`), Wellington to Salamanca (Python package), and a nearly antipodal line.
    #[test]
    fn agrees_with_published_lines() {
        let cases: [Case; 4] = [
            ((-30.0, 0.0), (29.9, 179.8), 19_989_832.827_610),
            ((40.6, -73.8), (51.6, -0.5), 5_551_759.400_319),
            ((-41.32, 174.81), (40.96, -5.50), 19_959_679.267_354),
            ((0.0, 0.0), (0.5, 179.5), 19_936_288.578_965),
        ];
        for (from, to, metres) in cases {
            assert!((distance(from, to) - metres).abs() < 1e-6, "{from:?} to {to:?}: {}", distance(from, to));
        }
    }

    /// Lengths of a degree on WGS84 near the equator and the pole: meridian quadrant 10 001 965.729 m
    /// (Karney 2013, equation for the quarter meridian), equator 111 319.491 m a degree (2 pi 6 378 137 / 360).
    #[test]
    fn agrees_with_the_size_of_the_earth() {
        assert!((distance((0.0, 20.0), (90.0, 20.0)) - 10_001_965.729).abs() < 1e-3);
        assert!((distance((0.0, 20.0), (0.0, 21.0)) - 111_319.491).abs() < 1e-3);
    }

    #[test]
    fn crosses_the_date_line_the_short_way() {
        let across = distance((-43.9, 179.9), (-43.9, -179.9));
        let same = distance((-43.9, 10.0), (-43.9, 10.2));
        assert!((across - same).abs() < 1e-6);
        assert_eq!(distance((-43.9, 176.5), (-43.9, 176.5)), 0.0);
    }
}
