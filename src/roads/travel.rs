//! Travel times without a road map: the straight line, made longer by a factor, at one speed. An estimate.

use crate::roads::geodesic;
use thiserror::Error;

/// How a straight line becomes a drive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Driving {
    /// Road length over straight line, 1 to 5.
    pub road_factor: f64,
    /// Mean speed, 5 to 130 km/h.
    pub speed: f64,
}

impl Default for Driving {
    /// Factor 1.3 and 60 km/h: common practice, no source.
    fn default() -> Self {
        Self { road_factor: 1.3, speed: 60.0 }
    }
}

/// Drives between all places, from row to column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Matrix {
    /// Seconds, rounded to the nearest.
    pub seconds: Vec<Vec<u32>>,
    /// Metres of road, rounded to the nearest.
    pub metres: Vec<Vec<u32>>,
}

/// Why there are no travel times.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum TravelError {
    /// Road factor outside 1 to 5.
    #[error("a road factor of {0} is outside 1 to 5")]
    RoadFactor(f64),
    /// Speed outside 5 to 130 km/h.
    #[error("a speed of {0} km/h is outside 5 to 130")]
    Speed(f64),
    /// A latitude outside -90 to 90 or a longitude outside -180 to 180.
    #[error("place {0} of the run is not on the earth: check its latitude and longitude")]
    Place(usize),
}

/// One drive.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Drive {
    /// Seconds, rounded to the nearest.
    pub seconds: u32,
    /// Metres of road, rounded to the nearest.
    pub metres: u32,
}

/// The drives between all places, each given as latitude and longitude in degrees, by estimate. The same both ways.
/// The work grows with the square of their number; `stopped` is asked once a place, and ends it with nothing.
///
/// # Errors
/// [`TravelError`] for a setting or a place outside its range.
pub fn estimate(
    places: &[(f64, f64)],
    driving: Driving,
    stopped: &dyn Fn() -> bool,
) -> Result<Option<Matrix>, TravelError> {
    check(places, driving)?;
    let count = places.len();
    let mut matrix = Matrix { seconds: vec![vec![0; count]; count], metres: vec![vec![0; count]; count] };
    for from in 0..count {
        if stopped() {
            return Ok(None);
        }
        for to in 0..from {
            let Drive { seconds, metres } = drive(places[from], places[to], driving);
            for (row, column) in [(from, to), (to, from)] {
                matrix.seconds[row][column] = seconds;
                matrix.metres[row][column] = metres;
            }
        }
    }
    Ok(Some(matrix))
}

/// The drives from each place to the next, by the same estimate: one fewer than there are places.
///
/// # Errors
/// [`TravelError`] for a setting or a place outside its range.
pub fn along(places: &[(f64, f64)], driving: Driving) -> Result<Vec<Drive>, TravelError> {
    check(places, driving)?;
    Ok(places.windows(2).map(|two| drive(two[0], two[1], driving)).collect())
}

fn check(places: &[(f64, f64)], driving: Driving) -> Result<(), TravelError> {
    if !(1.0..=5.0).contains(&driving.road_factor) {
        return Err(TravelError::RoadFactor(driving.road_factor));
    }
    if !(5.0..=130.0).contains(&driving.speed) {
        return Err(TravelError::Speed(driving.speed));
    }
    let on_earth = |&(latitude, longitude): &(f64, f64)| latitude.abs() <= 90.0 && longitude.abs() <= 180.0;
    match places.iter().position(|place| !on_earth(place)) {
        Some(at) => Err(TravelError::Place(at)),
        None => Ok(()),
    }
}

fn drive(from: (f64, f64), to: (f64, f64), driving: Driving) -> Drive {
    let metres = geodesic::distance(from, to) * driving.road_factor;
    let seconds = metres / (driving.speed / 3.6);
    Drive { seconds: seconds.round() as u32, metres: metres.round() as u32 }
}

#[cfg(test)]
mod tests {
    use super::{Drive, Driving, Matrix, TravelError, along};

    fn estimate(places: &[(f64, f64)], driving: Driving) -> Result<Matrix, TravelError> {
        super::estimate(places, driving, &|| false).map(|made| made.expect("it was not stopped"))
    }

    /// One degree of the equator is 111 319.491 m (2 pi 6 378 137 / 360): with factor 1.3 that is 144 715.3 m of road
    /// and at 60 km/h 8682.9 s.
    #[test]
    fn a_degree_of_the_equator() {
        let matrix = estimate(&[(0.0, 10.0), (0.0, 11.0)], Driving::default()).unwrap();
        assert_eq!(matrix.metres, [[0, 144_715], [144_715, 0]]);
        assert_eq!(matrix.seconds, [[0, 8683], [8683, 0]]);
    }

    #[test]
    fn half_the_speed_takes_twice_as_long() {
        let places = [(-40.0, 160.0), (-40.2, 160.1), (-39.9, 160.3)];
        let fast = estimate(&places, Driving { road_factor: 1.2, speed: 80.0 }).unwrap();
        let slow = estimate(&places, Driving { road_factor: 1.2, speed: 40.0 }).unwrap();
        assert_eq!(fast.metres, slow.metres);
        for (fast, slow) in fast.seconds.iter().flatten().zip(slow.seconds.iter().flatten()) {
            assert!((2 * fast).abs_diff(*slow) <= 1);
        }
    }

    #[test]
    fn the_drives_along_a_way_are_those_of_the_table() {
        let places = [(-40.0, 160.0), (-40.2, 160.1), (-39.9, 160.3), (-40.0, 160.0)];
        let table = estimate(&places, Driving::default()).unwrap();
        let way = along(&places, Driving::default()).unwrap();
        let step = |at: usize| Drive { seconds: table.seconds[at][at + 1], metres: table.metres[at][at + 1] };
        assert_eq!(way, [step(0), step(1), step(2)]);
        assert_eq!(along(&places[..1], Driving::default()), Ok(Vec::new()));
    }

    #[test]
    fn a_table_is_stopped_on_request() {
        let places = [(-40.0, 160.0), (-40.2, 160.1)];
        assert_eq!(super::estimate(&places, Driving::default(), &|| true), Ok(None));
    }

    #[test]
    fn refuses_what_is_out_of_range() {
        let place = [(0.0, 0.0)];
        let driving = |road_factor, speed| Driving { road_factor, speed };
        assert_eq!(estimate(&place, driving(0.9, 60.0)), Err(TravelError::RoadFactor(0.9)));
        assert_eq!(estimate(&place, driving(1.3, 0.0)), Err(TravelError::Speed(0.0)));
        assert!(estimate(&place, driving(1.3, f64::NAN)).is_err());
        assert_eq!(estimate(&[(0.0, 0.0), (91.0, 0.0)], Driving::default()), Err(TravelError::Place(1)));
        assert_eq!(estimate(&[(0.0, f64::INFINITY)], Driving::default()), Err(TravelError::Place(0)));
    }
}
