//! Sunrise and sunset.

use chrono::{DateTime, FixedOffset, NaiveDate};
use solar_positioning::events::{Events, HorizonState};
use solar_positioning::{Horizon, Location, SolarEvents, delta_t};
use thiserror::Error;

/// Seconds of a day.
const DAY: u32 = 86_400;

/// When there is light at a place on a day. Times in seconds from midnight of the clock asked for, 0 to 86 400.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Daylight {
    /// From sunrise to sunset. Where the sun goes down twice in a day (near the polar circles in summer) the longer span.
    Between {
        /// Sunrise, or 0 if the sun was up at midnight.
        rise: u32,
        /// Sunset, or 86 400 if the sun is up until midnight.
        set: u32,
    },
    /// The sun does not set.
    AllDay,
    /// The sun does not rise.
    None,
}

/// Why there is no daylight.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum SunError {
    /// A latitude outside -90 to 90 or a longitude outside -180 to 180.
    #[error("no daylight for a place that is not on the earth: check its latitude and longitude")]
    Place,
    /// No such day, or a year outside 1900 to 2200.
    #[error("no daylight for a day that is not in the calendar from 1900 to 2200")]
    Day,
    /// A clock further than a day from UTC.
    #[error("a clock {0} minutes from UTC is not on the earth")]
    Clock(i32),
}

/// Sunrise and sunset at a place (latitude and longitude in degrees) on a day (year, month, day) of the clock that is
/// `clock` minutes ahead of UTC, to the nearest second. Give the clock of the place: with another one the day may
/// begin in the middle of the light.
///
/// Upper edge of the sun at a level horizon, refraction 34', radius of the sun 16' (the centre 50' below). Positions
/// by I. Reda and A. Andreas, "Solar position algorithm for solar radiation applications", NREL/TP-560-34302, 2008.
/// Hills and weather shift what is seen by minutes.
///
/// # Errors
/// [`SunError`] for a place, day or clock outside its range.
pub fn daylight(place: (f64, f64), day: (i32, u32, u32), clock: i32) -> Result<Daylight, SunError> {
    let (latitude, longitude) = place;
    if !(latitude.abs() <= 90.0 && longitude.abs() <= 180.0) {
        return Err(SunError::Place);
    }
    let (year, month, _) = day;
    if !(1900..=2200).contains(&year) {
        return Err(SunError::Day);
    }
    let date = NaiveDate::from_ymd_opt(year, month, day.2).ok_or(SunError::Day)?;
    let seconds = clock.checked_mul(60).ok_or(SunError::Clock(clock))?;
    let zone = FixedOffset::east_opt(seconds).ok_or(SunError::Clock(clock))?;
    let slowing = delta_t::estimate_from_date(year, month).map_err(|_| SunError::Day)?;
    let events = SolarEvents::new()
        .for_date(date, &zone, Location { latitude, longitude }, slowing, Horizon::SunriseSunset)
        .map_err(|_| SunError::Day)?;
    Ok(longest_light(&events))
}

fn longest_light(events: &Events<DateTime<FixedOffset>>) -> Daylight {
    if events.rises.is_empty() && events.sets.is_empty() {
        // On the horizon the whole day happens only at the poles, where the upper edge shows.
        let dark = events.state_at_start == HorizonState::Below;
        return if dark { Daylight::None } else { Daylight::AllDay };
    }
    let second = |time: &DateTime<FixedOffset>| {
        let milliseconds = (*time - events.start).num_milliseconds();
        ((milliseconds + 500) / 1000).clamp(0, i64::from(DAY)) as u32
    };
    let mut rises: Vec<u32> = events.rises.iter().map(second).collect();
    let mut sets: Vec<u32> = events.sets.iter().map(second).collect();
    if rises.first().is_none_or(|&rise| sets.first().is_some_and(|&set| set < rise)) {
        rises.insert(0, 0);
    }
    if sets.len() < rises.len() {
        sets.push(DAY);
    }
    let spans = rises.into_iter().zip(sets);
    let longest = spans.max_by_key(|&(rise, set)| set.saturating_sub(rise));
    longest.map_or(Daylight::None, |(rise, set)| Daylight::Between { rise, set })
}

#[cfg(test)]
mod tests {
    use super::{Daylight, SunError, daylight};
    use chrono::DateTime;
    use solar_positioning::{Location, RefractionCorrection, SolarPositions};

    /// The worked example of NREL/TP-560-34302, table A5.1: Golden, Colorado, 17 October 2003, 12:30:30 UTC-7, 1830.14 m,
    /// 820 mbar, 11 °C, delta T 67 s: zenith 50.11162°, azimuth 194.34024°. (The sunset printed there is the one of
    /// the UT day, the evening before on the local clock, so it is not used here.)
    #[test]
    fn the_sun_stands_where_the_report_puts_it() {
        let time = DateTime::parse_from_rfc3339("2003-10-17T12:30:30-07:00").unwrap();
        let place = Location { latitude: 39.742_476, longitude: -105.178_6 };
        let air = RefractionCorrection::new(820.0, 11.0).unwrap();
        let sun = SolarPositions::new().at(&time, place, 1830.14, 67.0, Some(air)).unwrap();
        assert!((sun.zenith_angle() - 50.111_62).abs() < 5e-6, "{}", sun.zenith_angle());
        assert!((sun.azimuth() - 194.340_24).abs() < 5e-6, "{}", sun.azimuth());
    }

    /// The sunrise of the same example: 06:12:43 on the local clock.
    #[test]
    fn the_sun_rises_when_the_report_says() {
        let light = daylight((39.742_476, -105.178_6), (2003, 10, 17), -7 * 60).unwrap();
        let Daylight::Between { rise, .. } = light else { panic!("{light:?}") };
        assert!(rise.abs_diff(6 * 3600 + 12 * 60 + 43) <= 2, "{rise}");
    }

    /// Values of PyEphem, made by `tests/reference/sun.py`: place, clock, day, rise and set in seconds ("-" where the
    /// sun does neither).
    #[test]
    fn agrees_with_a_reference_library() {
        let table = include_str!("../../tests/reference/sun.csv");
        let mut compared = 0;
        for line in table.lines().filter(|line| !line.starts_with('#') && !line.starts_with("name")) {
            let cells: Vec<&str> = line.split(',').collect();
            let number = |at: usize| cells[at].parse::<f64>().unwrap();
            let day: Vec<u32> = cells[4].split('-').map(|part| part.parse().unwrap()).collect();
            let light = daylight(
                (number(1), number(2)),
                (day[0].try_into().unwrap(), day[1], day[2]),
                cells[3].parse().unwrap(),
            );
            match (light.unwrap(), cells[5], cells[6]) {
                (Daylight::AllDay, "up", "up") | (Daylight::None, "down", "down") => {}
                (Daylight::Between { rise, set }, _, _) => {
                    assert!((f64::from(rise) - number(5)).abs() <= 1.0, "{line}: {rise}");
                    assert!((f64::from(set) - number(6)).abs() <= 1.0, "{line}: {set}");
                }
                (light, _, _) => panic!("{line}: {light:?}"),
            }
            compared += 1;
        }
        assert_eq!(compared, 36);
    }

    /// Late July in Tromsø: the first sunset after the midnight sun falls after midnight, so
    /// the day has light from the rise on until midnight.
    #[test]
    fn takes_the_longer_span_where_the_sun_sets_after_midnight() {
        let light = daylight((69.6492, 18.9553), (2026, 7, 27), 120).unwrap();
        let Daylight::Between { rise, set } = light else { panic!("{light:?}") };
        assert!(rise < 3 * 3600 && set > 23 * 3600, "{light:?}");
        assert!(set - rise > 20 * 3600, "{light:?}");
    }

    #[test]
    fn refuses_what_is_not_on_earth_or_in_the_calendar() {
        assert_eq!(daylight((91.0, 0.0), (2026, 11, 25), 0), Err(SunError::Place));
        assert_eq!(daylight((f64::NAN, 0.0), (2026, 11, 25), 0), Err(SunError::Place));
        assert_eq!(daylight((0.0, 0.0), (2026, 2, 29), 0), Err(SunError::Day));
        assert_eq!(daylight((0.0, 0.0), (20_260, 1, 1), 0), Err(SunError::Day));
        assert_eq!(daylight((0.0, 0.0), (2026, 1, 1), 1440), Err(SunError::Clock(1440)));
    }
}
