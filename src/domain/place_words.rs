//! Places as people type and copy them: degrees with a sign or a letter, degrees and minutes, degrees, minutes and seconds.

use crate::domain::place::Place;

/// What every refusal ends with: how a place is typed.
pub const HOW: &str = "Type latitude, then longitude, south and west with a minus: 55.1, -105.3";

/// Reads a place: latitude, then longitude. North and east are positive; the letters N, S, E, W may stand for the sign,
/// before or behind, and then longitude may come first. A comma, semicolon or space stands between the two; a decimal
/// comma is read where a point would leave no doubt. Degrees may be followed by minutes and seconds.
///
/// # Errors
/// In words, the fact and the way out, where it is no place on the earth.
pub fn read_place(typed: &str) -> Result<Place, String> {
    let text = plain(typed);
    let two = halves(&text).ok_or_else(|| format!("Two numbers are needed. {HOW}."))?;
    let angles = [angle(&two.0), angle(&two.1)];
    let [Some(one), Some(other)] = angles else {
        return Err(format!("{} is not understood as a place. {HOW}.", typed.trim()));
    };
    let (lat, lon) = match (one.axis, other.axis) {
        (Some(Axis::Lon), Some(Axis::Lat)) => (other.degrees, one.degrees),
        (Some(Axis::Lon), _) | (_, Some(Axis::Lat)) => {
            return Err(format!("{} names its letters the wrong way round. {HOW}.", typed.trim()));
        }
        _ => (one.degrees, other.degrees),
    };
    // Four decimals are about 10 m, and enough to see what is wrong.
    let short = |degrees: f64| (degrees * 1e4).round() / 1e4;
    Place::new(lat, lon).ok_or_else(|| format!("{}, {} is not on the earth. {HOW}.", short(lat), short(lon)))
}

/// Reads one coordinate with its letter or sign: `40,1 S`, `53°14'20"N`, `-105 40.5`; nothing where it is none, or its
/// letter is of the other axis.
pub fn read_degrees(typed: &str, latitude: bool) -> Option<f64> {
    let text = plain(typed);
    let text = if text.contains('.') { text } else { text.replacen(',', ".", 1) };
    let wanted = if latitude { Axis::Lat } else { Axis::Lon };
    angle(&text).filter(|angle| angle.axis.is_none_or(|axis| axis == wanted)).map(|angle| angle.degrees)
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Axis {
    Lat,
    Lon,
}

struct Angle {
    degrees: f64,
    axis: Option<Axis>,
}

/// The many signs for minus, degree, minute and second as one each; capitals; single spaces.
fn plain(typed: &str) -> String {
    let one = |sign: char| match sign {
        '\u{2212}' | '\u{2013}' | '\u{2010}' => '-',
        'º' | '˚' => '°',
        '\u{2032}' | '\u{2019}' | '\u{2018}' | '`' | '´' => '\'',
        '\u{2033}' | '\u{201c}' | '\u{201d}' => '"',
        other => other,
    };
    let signs: String = typed.chars().map(one).collect();
    signs.to_uppercase().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The text of the two coordinates, with decimal points.
fn halves(text: &str) -> Option<(String, String)> {
    let pointed = |(one, other): (&str, &str)| Some((one.trim().replace(',', "."), other.trim().replace(',', ".")));
    if let Some(two) = text.split_once(';') {
        return pointed(two);
    }
    if let Some(two) = text.split_once(", ") {
        return pointed(two);
    }
    let words: Vec<&str> = text.split(' ').collect();
    if let [one, other] = words.as_slice()
        && text.matches(',').count() > 0
    {
        return pointed((one, other));
    }
    if text.matches(',').count() == 1 {
        return pointed(text.split_once(',')?);
    }
    // Letters part them: behind the first where it closes a coordinate, before the second where it opens one.
    let letters: Vec<usize> = text.match_indices(['N', 'S', 'E', 'W']).map(|(at, _)| at).collect();
    if let [first, second] = letters.as_slice() {
        return pointed(if *first == 0 { text.split_at(*second) } else { text.split_at(*first + 1) });
    }
    let half = words.len() / 2;
    (letters.is_empty() && matches!(words.len(), 2 | 4 | 6)).then(|| (words[..half].join(" "), words[half..].join(" ")))
}

fn angle(text: &str) -> Option<Angle> {
    let letter = text.chars().find(char::is_ascii_alphabetic);
    let (axis, sign) = match letter {
        Some('N') => (Some(Axis::Lat), 1.0),
        Some('S') => (Some(Axis::Lat), -1.0),
        Some('E') => (Some(Axis::Lon), 1.0),
        Some('W') => (Some(Axis::Lon), -1.0),
        Some(_) => return None,
        None => (None, 1.0),
    };
    let text = text.trim();
    let bare = letter.map_or(text, |letter| text.trim_start_matches(letter).trim_end_matches(letter)).trim();
    let (bare, sign) = match bare.strip_prefix('-') {
        // A letter says the side already.
        Some(_) if axis.is_some() => return None,
        Some(rest) => (rest, -1.0),
        None => (bare.strip_prefix('+').unwrap_or(bare), sign),
    };
    if !bare.chars().all(|sign| sign.is_ascii_digit() || matches!(sign, '.' | ' ' | '°' | '\'' | '"' | ':')) {
        return None;
    }
    let parts: Vec<&str> = bare.split([' ', '°', '\'', '"', ':']).filter(|part| !part.is_empty()).collect();
    let whole = |part: &&str| !part.contains('.');
    let last = parts.len().checked_sub(1)?;
    if last > 2 || !parts.iter().take(last).all(whole) {
        return None;
    }
    let mut degrees = 0.0;
    for (place, part) in parts.iter().enumerate() {
        let value: f64 = part.parse().ok()?;
        if place > 0 && value >= 60.0 {
            return None;
        }
        degrees += value / 60_f64.powi(place as i32);
    }
    Some(Angle { degrees: sign * degrees, axis })
}

#[cfg(test)]
mod tests {
    use super::{HOW, read_degrees, read_place};

    #[track_caller]
    fn lies(text: &str, lat: f64, lon: f64) {
        let place = read_place(text).expect(text);
        assert!((place.lat() - lat).abs() < 1e-6 && (place.lon() - lon).abs() < 1e-6, "{text}: {place:?}");
    }

    #[test]
    fn places_are_read_as_people_type_them() {
        for text in [
            "-40.1, 160.2",
            "-40.1 160.2",
            "-40.1,160.2",
            "−40.1, 160.2",
            "40.1S 160.2E",
            "40.1° S, 160.2° E",
            "S40.1 E160.2",
            "E160.2, S40.1",
            "-40,1; 160,2",
            "-40,1 160,2",
            "-40,1, 160,2",
            "40°06'S 160°12'E",
            "40°06'00\"S, 160°12'00\"E",
            "40º 6′ 0″ s 160º 12′ 0″ e",
            "S40 06.000 E160 12.000",
            "-40 06 160 12",
            "40:06 S 160:12 E",
        ] {
            lies(text, -40.1, 160.2);
        }
        lies("-40,160", -40.0, 160.0);
        lies("53°14'20\"N 105°40'05\"W", 53.238_888_9, -105.668_055_6);
        lies("0, -0.5", 0.0, -0.5);
    }

    #[test]
    fn what_is_no_place_says_the_way_out() {
        for text in
            ["", "40", "140, 20", "here, there", "nan, 3", "40 61 S 160 E", "40E, 160S", "-40S, 160E", "1.5 30, 4"]
        {
            let refused = read_place(text).expect_err(text);
            assert!(refused.ends_with(&format!("{HOW}.")), "{text}: {refused}");
        }
    }

    #[test]
    fn one_coordinate_is_read_with_its_letter_or_sign() {
        for (text, latitude, wanted) in [
            ("40,1 S", true, Some(-40.1)),
            ("160.25°E", false, Some(160.25)),
            ("53°30'", true, Some(53.5)),
            ("-38,212345", true, Some(-38.212_345)),
            ("40 E", true, None),
            ("1,234,5", true, None),
            ("", true, None),
            ("soon", false, None),
        ] {
            assert_eq!(read_degrees(text, latitude), wanted, "{text}");
        }
    }
}
