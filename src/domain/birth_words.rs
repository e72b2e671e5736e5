//! Births as people type and read them: a day, a month, a season, a year, two of them with `to` between, or not known.

use crate::domain::day::{Day, MONTHS};
use crate::domain::day_words::{DateOrder, DayError, Lean, read_day};
use crate::domain::fold_text::fold;
use crate::domain::queen::Birth;
use crate::domain::standing::age::season;
use crate::domain::world::World;

const REMEDY: &str = "Type a day, oct 2026, 2026/27 for a season, 2026, two of them with “to” between, or not known";

/// Reads a birth: `24 oct`, `oct 2026`, `10/2026`, `2026/27` (the season that began in 2026), `2026`, `1 oct to 14 oct`,
/// `from oct 2026`, `by 2025`; nothing, `?` and `not known` are an unknown one. A day without its year is one gone by.
///
/// # Errors
/// If the text is none of these, or its days are in the wrong order.
pub fn read_birth(typed: &str, world: &World, today: Day) -> Result<Birth, DayError> {
    let folded = fold(typed);
    if matches!(folded.as_str(), "" | "?" | "unknown" | "not known") {
        return Ok(Birth::default());
    }
    let part = |text: &str| span(text, world, today);
    if let Some(from) = folded.strip_prefix("from ") {
        return Ok(Birth { earliest: part(from)?.earliest, latest: None });
    }
    if let Some(by) = folded.strip_prefix("by ") {
        return Ok(Birth { earliest: None, latest: part(by)?.latest });
    }
    let Some((from, to)) = folded.split_once(" to ") else {
        return part(&folded).map_err(|error| DayError {
            what: if error.remedy == REMEDY { format!("{} is no birth", typed.trim()) } else { error.what },
            ..error
        });
    };
    let latest = part(to)?.latest;
    // Without a year of its own the first lies in the year before the second.
    let birth = Birth { earliest: span(from, world, latest.unwrap_or(today))?.earliest, latest };
    if birth.earliest > birth.latest {
        let what = format!("{} is after {}", from.trim(), to.trim());
        return Err(DayError { what, remedy: "Give the earlier one first" });
    }
    Ok(birth)
}

fn span(text: &str, world: &World, today: Day) -> Result<Birth, DayError> {
    let text = text.trim();
    let year = |typed: &str| typed.parse::<i32>().ok().filter(|year| typed.len() == 4 && (1900..=2200).contains(year));
    if let Some(year) = year(text) {
        return Ok(Birth::in_year(year));
    }
    let season_words = text.strip_prefix("season ").unwrap_or(text);
    if let Some((one, next)) = season_words.split_once('/')
        && let Some(began) = year(one)
        && next.len() == 2
        && number_of_month(next).is_none_or(|_| follows(began, next))
    {
        if follows(began, next) {
            return Ok(season(began, &world.firm, &world.settings));
        }
        return Err(DayError { what: format!("{text} is no season"), remedy: "Type two years that follow: 2026/27" });
    }
    let in_month = text.split_once([' ', '/']).and_then(|(month, of)| Some((month_of(month)?, year(of.trim())?)));
    let in_month = in_month.or_else(|| {
        let (of, month) = text.split_once(['-', '/'])?;
        Some((number_of_month(month)?, year(of)?))
    });
    if let Some((month, year)) = in_month {
        return Ok(Birth::in_month(year, month));
    }
    let read = read_day(text, today, DateOrder::DayMonth, Lean::Back);
    read.map(Birth::on).map_err(|error| {
        let known = error.what.ends_with("is not understood as a day");
        if known { DayError { what: format!("{text} is no birth"), remedy: REMEDY } } else { error }
    })
}

/// `27` after 2026.
fn follows(year: i32, next: &str) -> bool {
    next.parse() == Ok((year + 1).rem_euclid(100))
}

fn month_of(typed: &str) -> Option<u32> {
    let named = MONTHS.iter().position(|month| typed.len() >= 3 && typed.starts_with(&month.to_lowercase()));
    named.and_then(|at| u32::try_from(at + 1).ok()).or_else(|| number_of_month(typed))
}

fn number_of_month(typed: &str) -> Option<u32> {
    typed.parse().ok().filter(|month| typed.len() <= 2 && (1..=12).contains(month))
}

/// How a month is typed, for a hint: the month before today's, `may 2027`. So it is one of the season at hand anywhere.
pub fn example(today: Day) -> String {
    let before = today.plus(-i32::try_from(today.day_of_month()).unwrap_or_default());
    let month = MONTHS.get(before.month() as usize - 1).copied().unwrap_or_default();
    format!("{} {}", month.to_lowercase(), before.year())
}

/// A birth as [`read_birth`] reads it: `24 Oct 2026`, `Oct 2026`, `2026/27`, `2026`, `1 Oct to 14 Oct 2026`; empty
/// where it is not known.
pub fn birth_words(birth: Birth, world: &World) -> String {
    let day = |day: Day| format!("{} {}", day.short(), day.year());
    match (birth.earliest, birth.latest) {
        (None, None) => String::new(),
        (Some(one), Some(other)) if one == other => day(one),
        (Some(one), Some(_)) if birth == Birth::in_year(one.year()) => one.year().to_string(),
        (Some(one), Some(_)) if birth == Birth::in_month(one.year(), one.month()) => {
            let month = MONTHS.get(one.month() as usize - 1).copied().unwrap_or_default();
            format!("{month} {}", one.year())
        }
        (Some(one), Some(_)) if birth == season(one.year(), &world.firm, &world.settings) => {
            format!("{}/{:02}", one.year(), (one.year() + 1).rem_euclid(100))
        }
        (Some(one), Some(other)) if one.year() == other.year() => format!("{} to {}", one.short(), day(other)),
        (Some(one), Some(other)) => format!("{} to {}", day(one), day(other)),
        (Some(one), None) => format!("from {}", day(one)),
        (None, Some(other)) => format!("by {}", day(other)),
    }
}

#[cfg(test)]
mod tests {
    use super::{birth_words, read_birth};
    use crate::domain::day::Day;
    use crate::domain::place::Hemisphere;
    use crate::domain::world::World;

    fn today() -> Day {
        Day::from_iso("2026-11-23").expect("a day")
    }

    #[test]
    fn births_are_read_as_day_month_season_year_or_span() {
        let world = World::default();
        assert_eq!(world.firm.hemisphere, Hemisphere::South);
        for (typed, from, to, words) in [
            ("2025", "2025-01-01", "2025-12-31", "2025"),
            ("Oct 2026", "2026-10-01", "2026-10-31", "Oct 2026"),
            ("10/2026", "2026-10-01", "2026-10-31", "Oct 2026"),
            ("2026/09", "2026-09-01", "2026-09-30", "Sep 2026"),
            ("2026-02", "2026-02-01", "2026-02-28", "Feb 2026"),
            ("2025/26", "2025-07-01", "2026-06-30", "2025/26"),
            ("season 2026/27", "2026-07-01", "2027-06-30", "2026/27"),
            ("24 sep", "2026-09-24", "2026-09-24", "24 Sep 2026"),
            ("24/11", "2025-11-24", "2025-11-24", "24 Nov 2025"),
            ("1 oct to 14 oct", "2026-10-01", "2026-10-14", "1 Oct to 14 Oct 2026"),
            ("sep 2026 to oct 2026", "2026-09-01", "2026-10-31", "1 Sep to 31 Oct 2026"),
            ("20 dec to 3 jan 2026", "2025-12-20", "2026-01-03", "20 Dec 2025 to 3 Jan 2026"),
            ("5 mar to 9 mar 2024", "2024-03-05", "2024-03-09", "5 Mar to 9 Mar 2024"),
        ] {
            let birth = read_birth(typed, &world, today()).expect(typed);
            assert_eq!(birth.earliest.map(Day::iso).as_deref(), Some(from), "{typed}");
            assert_eq!(birth.latest.map(Day::iso).as_deref(), Some(to), "{typed}");
            assert_eq!(birth_words(birth, &world), words);
            assert_eq!(read_birth(words, &world, today()).expect(words), birth, "{words}");
        }
    }

    #[test]
    fn a_birth_open_at_one_end_comes_back_and_none_is_not_known() {
        let world = World::default();
        for typed in ["from 1 Oct 2026", "by 31 Dec 2025"] {
            let birth = read_birth(typed, &world, today()).expect(typed);
            assert_eq!(birth_words(birth, &world), typed);
        }
        for typed in ["", "?", "not known", " Unknown "] {
            assert!(read_birth(typed, &world, today()).expect(typed).is_unknown(), "{typed}");
        }
        let told = |typed: &str| read_birth(typed, &world, today()).expect_err(typed).to_string();
        assert!(told("long ago").starts_with("long ago is no birth. Type a day"), "{}", told("long ago"));
        assert!(told("2026/29").starts_with("2026/29 is no season"), "{}", told("2026/29"));
        assert!(told("14 oct 2026 to 1 oct 2026").starts_with("14 oct 2026 is after 1 oct 2026"));
        assert!(told("31/6").contains("Give a day that exists"), "{}", told("31/6"));
    }

    #[test]
    fn a_season_of_the_north_is_its_calendar_year() {
        let mut world = World::default();
        world.firm.hemisphere = Hemisphere::North;
        let birth = read_birth("2025/26", &world, today()).expect("a season");
        assert_eq!(birth_words(birth, &world), "2025");
    }
}
