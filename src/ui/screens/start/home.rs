//! Where a home yard lies, as typed or clicked, and what follows from it in words.

use crate::domain::place::{Hemisphere, Place};

/// The place as [`read_place`](crate::domain::place_words::read_place) takes it, to four decimals (about 10 m).
pub fn place_words(place: Place) -> String {
    format!("{:.4}, {:.4}", place.lat(), place.lon())
}

/// Local time ahead of UTC in minutes, from the longitude alone: the nearest whole hour (15 degrees an hour).
pub fn utc_offset(place: Place) -> i32 {
    (place.lon() / 15.0).round() as i32 * 60
}

/// `UTC+11`, `UTC-3:30`, `UTC`.
pub fn zone_words(minutes: i32) -> String {
    let (hours, rest) = (minutes.abs() / 60, minutes.abs() % 60);
    let sign = if minutes < 0 { "-" } else { "+" };
    match (hours, rest) {
        (0, 0) => "UTC".to_owned(),
        (_, 0) => format!("UTC{sign}{hours}"),
        _ => format!("UTC{sign}{hours}:{rest:02}"),
    }
}

/// `South: the season runs from September to March.`
pub fn hemisphere_words(hemisphere: Hemisphere) -> &'static str {
    match hemisphere {
        Hemisphere::South => {
            "South: the season runs from September to March, and queens turn a season older on 1 July."
        }
        Hemisphere::North => {
            "North: the season runs from March to September, and queens turn a season older on 1 January."
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{hemisphere_words, place_words, utc_offset, zone_words};
    use crate::domain::place::Place;
    use crate::domain::place_words::read_place;

    #[test]
    fn a_place_is_read_back_from_its_words() {
        let place = Place::new(52.5, -1.25).expect("a place");
        assert_eq!(read_place(&place_words(place)), Ok(place));
    }

    #[test]
    fn zone_and_season_follow_from_the_place() {
        let place = Place::new(-40.0, 160.0).expect("a place");
        assert_eq!(zone_words(utc_offset(place)), "UTC+11");
        assert_eq!(zone_words(-210), "UTC-3:30");
        assert_eq!(zone_words(0), "UTC");
        assert!(hemisphere_words(place.hemisphere()).starts_with("South"));
    }
}
