//! Single cells: numbers, hours, methods, dots, births, as people write them.

use crate::domain::bar::BarKind;
use crate::domain::colony::{EndWhy, Founding};
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::parcel::ParcelKind;
use crate::domain::place::Hemisphere;
use crate::domain::queen::{Birth, Dot, Origin};
use crate::domain::record::Which;
use crate::domain::visit::Method;
use crate::exchange::dates::{DateOrder, DateRead, read};

/// A number with a point or a comma.
pub(super) fn number(text: &str) -> Option<f64> {
    let text = text.trim().replace(['\u{2212}', '\u{2013}'], "-");
    let text = if text.contains('.') { text } else { text.replacen(',', ".", 1) };
    let digits = |sign: char| sign.is_ascii_digit() || matches!(sign, '.' | '-' | '+');
    if text.is_empty() || !text.chars().all(digits) {
        return None;
    }
    text.parse().ok().filter(|value: &f64| value.is_finite())
}

/// Minutes since midnight: `7`, `7:30`, `0730`, `7.30`, `7 am`, `24:00`.
pub(super) fn hour(text: &str) -> Option<u16> {
    let text = fold(text).replace(' ', "");
    let (body, half) = match (text.strip_suffix("am"), text.strip_suffix("pm")) {
        (Some(body), _) => (body.to_owned(), Some(0)),
        (_, Some(body)) => (body.to_owned(), Some(12)),
        _ => (text.strip_suffix('h').unwrap_or(&text).to_owned(), None),
    };
    let (hours, minutes) = match body.split_once([':', '.', 'h']) {
        Some((hours, minutes)) => (hours, minutes.get(..2)?),
        None if body.len() == 4 && body.is_ascii() => body.split_at(2),
        None => (body.as_str(), "0"),
    };
    let whole = |text: &str| if text.len() <= 2 { text.parse::<u16>().ok() } else { None };
    let (hours, minutes) = (whole(hours)?, whole(minutes)?);
    let hours = match half {
        Some(half) if (1..=12).contains(&hours) => hours % 12 + half,
        Some(_) => return None,
        None => hours,
    };
    (minutes < 60 && hours * 60 + minutes <= 1440).then_some(hours * 60 + minutes)
}

/// A whole number, for rows, places and counts; rows may be letters (`A` is 1).
pub(super) fn count(text: &str) -> Option<u16> {
    let text = text.trim();
    if let [letter] = text.as_bytes()
        && letter.is_ascii_alphabetic()
    {
        return Some(u16::from(letter.to_ascii_uppercase() - b'A') + 1);
    }
    let digits = text.strip_suffix(".0").unwrap_or(text);
    digits.parse().ok().filter(|count| *count > 0)
}

/// A method, in its words, in other words of the trade, or as its code.
pub(super) fn method(text: &str) -> Option<Method> {
    let text: String = fold(text).chars().map(|sign| if sign.is_alphanumeric() { sign } else { ' ' }).collect();
    let words: Vec<&str> = text.split_whitespace().collect();
    let has = |any: &[&str]| words.iter().any(|word| any.contains(word));
    Some(match words.as_slice() {
        ["q"] => Method::Caged,
        ["p"] => Method::PushIn,
        ["c"] => Method::Cell,
        ["v"] => Method::Virgin,
        ["n"] => Method::Nuc,
        _ if has(&["push", "pushin", "press"]) => Method::PushIn,
        _ if has(&["own", "raising", "raised", "emergency"]) => Method::OwnRaising,
        _ if has(&["virgin", "virgins"]) => Method::Virgin,
        _ if has(&["nuc", "nucs", "nucleus", "united"]) => Method::Nuc,
        _ if has(&["cell", "cells", "qc", "protector"]) => Method::Cell,
        _ if has(&["cage", "caged", "candy", "mated"]) => Method::Caged,
        _ => return None,
    })
}

/// The colour of a dot.
pub(super) fn dot(text: &str) -> Option<Dot> {
    let text = fold(text);
    let first = |dot: &&Dot| dot.name() == text || (text.len() == 1 && dot.name().starts_with(text.as_str()));
    Dot::ALL.iter().find(first).copied()
}

/// The word for how a queen came to be.
pub(super) fn origin_word(origin: Origin) -> &'static str {
    match origin {
        Origin::Mated => "mated",
        Origin::Cell => "cell",
        Origin::Virgin => "virgin",
        Origin::WithColony => "with colony",
        Origin::OwnRaising => "own raising",
        Origin::Unknown => "not known",
    }
}

/// How a queen came to be.
pub(super) fn origin(text: &str) -> Option<Origin> {
    let all = [Origin::Mated, Origin::Cell, Origin::Virgin, Origin::WithColony, Origin::OwnRaising, Origin::Unknown];
    let text = fold(text);
    all.into_iter().find(|origin| origin_word(*origin) == text)
}

/// The word for how a colony was founded; the parent of a split stands in a cell of its own.
pub(super) fn founding_word(founding: Founding) -> &'static str {
    match founding {
        Founding::Known => "known",
        Founding::Bought => "bought",
        Founding::Nuc => "nuc",
        Founding::SplitFrom(_) => "split",
        Founding::Swarm => "swarm",
    }
}

/// How a colony was founded, where no parent is named.
pub(super) fn founding(text: &str) -> Option<Founding> {
    Some(match fold(text).as_str() {
        "known" => Founding::Known,
        "bought" => Founding::Bought,
        "nuc" | "split" => Founding::Nuc,
        "swarm" => Founding::Swarm,
        _ => return None,
    })
}

/// Why a colony ended. United into another, without saying which, is gone from the register.
pub(super) fn end_why(text: &str) -> Option<EndWhy> {
    Some(match fold(text).as_str() {
        "sold" => EndWhy::Sold,
        "died" | "dead" => EndWhy::Died,
        "shaken out" => EndWhy::ShakenOut,
        "destroyed" => EndWhy::Destroyed,
        "" | "gone" | "united" => EndWhy::Gone,
        _ => return None,
    })
}

/// The word for what a parcel holds.
pub(super) fn parcel_word(kind: ParcelKind) -> &'static str {
    match kind {
        ParcelKind::CagedQueens => "caged queens",
        ParcelKind::Cells => "cells",
        ParcelKind::Virgins => "virgins",
    }
}

/// What a parcel holds.
pub(super) fn parcel_kind(text: &str) -> Option<ParcelKind> {
    let all = [ParcelKind::CagedQueens, ParcelKind::Cells, ParcelKind::Virgins];
    let text = fold(text);
    all.into_iter().find(|kind| parcel_word(*kind) == text)
}

/// The word for a hemisphere.
pub(super) fn hemisphere_word(hemisphere: Hemisphere) -> &'static str {
    match hemisphere {
        Hemisphere::South => "south",
        Hemisphere::North => "north",
    }
}

/// A hemisphere.
pub(super) fn hemisphere(text: &str) -> Option<Hemisphere> {
    match fold(text).as_str() {
        "south" => Some(Hemisphere::South),
        "north" => Some(Hemisphere::North),
        _ => None,
    }
}

/// Yes or no.
pub(super) fn yes_or_no(text: &str) -> Option<bool> {
    match fold(text).as_str() {
        "yes" | "y" | "true" | "1" | "x" => Some(true),
        "no" | "n" | "false" | "0" => Some(false),
        _ => None,
    }
}

/// The word for what became of a recorded queen when another was seen.
pub(super) fn answer_word(which: Which) -> &'static str {
    match which {
        Which::Lost => "lost",
        Which::Superseded => "superseded",
        Which::SameAfterAll => "same after all",
    }
}

/// What became of a recorded queen when another was seen.
pub(super) fn answer(text: &str) -> Option<Which> {
    let all = [Which::Lost, Which::Superseded, Which::SameAfterAll];
    let text = fold(text);
    all.into_iter().find(|which| answer_word(*which) == text)
}

/// A kind of bar, by its words.
pub(super) fn bar(text: &str) -> Option<BarKind> {
    let all = [
        BarKind::AmericanFoulbrood,
        BarKind::Disease,
        BarKind::Quarantine,
        BarKind::LayingWorkers,
        BarKind::Swarming,
        BarKind::Treatment,
        BarKind::Spraying,
        BarKind::Robbing,
        BarKind::Season,
        BarKind::Weather,
        BarKind::Own,
    ];
    let text = fold(text);
    all.into_iter().find(|kind| fold(kind.words()) == text)
}

/// A birth: day, month, year, `A to B`, `from A`, `by B`; the fault where it is none.
pub(super) fn birth(text: &str, order: Option<DateOrder>, today: Day) -> Result<Birth, DateRead> {
    let folded = fold(text);
    if matches!(folded.as_str(), "" | "?" | "unknown" | "not known" | "none") {
        return Ok(Birth::default());
    }
    if let Some(from) = folded.strip_prefix("from ") {
        return Ok(Birth { earliest: span(from, order, today)?.earliest, latest: None });
    }
    if let Some(by) = folded.strip_prefix("by ") {
        return Ok(Birth { earliest: None, latest: span(by, order, today)?.latest });
    }
    if let Some((from, to)) = folded.split_once(" to ") {
        let (from, to) = (span(from, order, today)?, span(to, order, today)?);
        return match (from.earliest, to.latest) {
            (Some(one), Some(other)) if one <= other => Ok(Birth::between(one, other)),
            _ => Err(DateRead::None),
        };
    }
    span(&folded, order, today)
}

fn span(text: &str, order: Option<DateOrder>, today: Day) -> Result<Birth, DateRead> {
    match read(text, order, today) {
        DateRead::Day(day) => Ok(Birth::on(day)),
        DateRead::Month(year, month) => Ok(Birth::in_month(year, month)),
        DateRead::Year(year) => Ok(Birth::in_year(year)),
        fault => Err(fault),
    }
}

/// A birth as [`birth`] reads it.
pub(super) fn birth_text(birth: Birth) -> String {
    match (birth.earliest, birth.latest) {
        (None, None) => String::new(),
        (Some(one), Some(other)) if one == other => one.iso(),
        (Some(one), Some(_)) if birth == Birth::in_year(one.year()) => one.year().to_string(),
        (Some(one), Some(_)) if birth == Birth::in_month(one.year(), one.month()) => {
            format!("{}-{:02}", one.year(), one.month())
        }
        (Some(one), Some(other)) => format!("{one} to {other}"),
        (Some(one), None) => format!("from {one}"),
        (None, Some(other)) => format!("by {other}"),
    }
}

#[cfg(test)]
mod tests {
    use super::{birth, birth_text, count, dot, hour, method, number};
    use crate::domain::day::Day;
    use crate::domain::queen::{Birth, Dot};
    use crate::domain::visit::Method;

    #[test]
    fn numbers_take_point_or_comma() {
        assert_eq!(number("-38,212345"), Some(-38.212_345));
        assert_eq!(number("\u{2212}38.2"), Some(-38.2));
        for text in ["", "1,234,5", "1.2.3", "inf", "nan", "1e9", "12 km"] {
            assert_eq!(number(text), None, "{text:?}");
        }
    }

    #[test]
    fn hours_are_read_as_people_write_them() {
        for (text, minutes) in [
            ("7", 420),
            ("7:30", 450),
            ("0730", 450),
            ("7.30", 450),
            ("7 am", 420),
            ("12am", 0),
            ("5:15 pm", 1035),
            ("24:00", 1440),
            ("07:30:00", 450),
        ] {
            assert_eq!(hour(text), Some(minutes), "{text}");
        }
        for text in ["", "25:00", "7:60", "13 pm", "soon", "7:é"] {
            assert_eq!(hour(text), None, "{text}");
        }
    }

    #[test]
    fn words_of_the_trade_are_known() {
        for (text, expected) in [
            ("caged", Method::Caged),
            ("Cage", Method::Caged),
            ("caged queen", Method::Caged),
            ("candy cage", Method::Caged),
            ("push-in cage", Method::PushIn),
            ("Push in", Method::PushIn),
            ("mature cell", Method::Cell),
            ("QC", Method::Cell),
            ("virgin", Method::Virgin),
            ("nuc united", Method::Nuc),
            ("own raising", Method::OwnRaising),
            ("+q", Method::Caged),
        ] {
            assert_eq!(method(text), Some(expected), "{text}");
        }
        assert_eq!(method("by hand"), None);
        assert_eq!(dot("White"), Some(Dot::White));
        assert_eq!(dot("y"), Some(Dot::Yellow));
        assert_eq!(dot("pink"), None);
        assert_eq!((count("12"), count("b"), count("0"), count("x1")), (Some(12), Some(2), None, None));
    }

    #[test]
    fn births_come_back_as_they_were_written() {
        let day = |iso: &str| Day::from_iso(iso).expect("a day");
        for known in [
            Birth::default(),
            Birth::on(day("2026-11-14")),
            Birth::in_year(2025),
            Birth::in_month(2026, 2),
            Birth::between(day("2026-11-14"), day("2027-01-02")),
            Birth { earliest: Some(day("2026-01-01")), latest: None },
            Birth { earliest: None, latest: Some(day("2026-01-01")) },
        ] {
            assert_eq!(birth(&birth_text(known), None, day("2026-11-23")), Ok(known));
        }
    }
}
