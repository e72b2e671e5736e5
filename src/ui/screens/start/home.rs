//! Where a home yard lies, as typed or clicked, and what follows from it in words.

use crate::domain::place::{Hemisphere, Place};

/// Reads `-40.1, 160.2`: latitude, then longitude, in degrees, north and east positive. A comma, semicolon or space
/// stands between them; the letters N, S, E, W may stand for the sign.
///
/// # Errors
/// In words, where it is no place on the earth.
pub fn read_place(text: &str) -> Result<Place, String> {
    const WAY_OUT: &str = "Type latitude, then longitude: -40.1, 160.2";
    let spaced = text.replace(['°', ';'], " ").replace(", ", " ");
    let spaced = if spaced.split_whitespace().count() == 1 { spaced.replace(',', " ") } else { spaced };
    let mut parts: Vec<String> = Vec::new();
    for part in spaced.split_whitespace() {
        match parts.last_mut() {
            // `40.1 S` is `40.1S`.
            Some(last) if part.len() == 1 && part.starts_with(|it: char| it.is_ascii_alphabetic()) => {
                last.push_str(part);
            }
            _ => parts.push(part.to_owned()),
        }
    }
    let [lat, lon] = parts.as_slice() else {
        return Err(format!("Two numbers are needed. {WAY_OUT}."));
    };
    let (Some(lat), Some(lon)) = (degrees(lat, 'N', 'S'), degrees(lon, 'E', 'W')) else {
        return Err(format!("{} is not understood as a place. {WAY_OUT}.", text.trim()));
    };
    Place::new(lat, lon).ok_or_else(|| format!("{lat}, {lon} is not on the earth. {WAY_OUT}."))
}

fn degrees(text: &str, plus: char, minus: char) -> Option<f64> {
    let upper = text.to_uppercase().replace('−', "-").replace(',', ".");
    let (number, sign) = match upper.strip_suffix(minus) {
        Some(number) => (number.to_owned(), -1.0),
        None => (upper.strip_suffix(plus).unwrap_or(&upper).to_owned(), 1.0),
    };
    number.parse::<f64>().ok().filter(|it| it.is_finite()).map(|it| it * sign)
}

/// The place as [`read_place`] takes it, to four decimals (about 10 m).
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
    use super::{hemisphere_words, place_words, read_place, utc_offset, zone_words};
    use crate::domain::place::Place;

    #[test]
    fn places_are_read_as_people_type_them() {
        let wanted = Place::new(-40.1, 160.2);
        for text in ["-40.1, 160.2", "-40.1 160.2", "-40.1,160.2", "40.1S 160.2E", "40.1° S, 160.2° E", "-40,1; 160,2"]
        {
            assert_eq!(read_place(text).ok(), wanted, "{text}");
        }
        let place = read_place("52.5, -1.25").expect("a place");
        assert_eq!(read_place(&place_words(place)), Ok(place));
    }

    #[test]
    fn what_is_no_place_says_the_way_out() {
        for text in ["", "40", "140, 20", "here, there", "nan, 3"] {
            let refused = read_place(text).expect_err(text);
            assert!(refused.ends_with("-40.1, 160.2."), "{refused}");
        }
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
