//! Reading dates as people write them in tables. Where day and month can be taken either way, the whole column decides.

use crate::domain::day::{Day, MONTHS};

/// The order of day and month in dates such as `3/4/2026`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DateOrder {
    /// Day first.
    DayMonth,
    /// Month first.
    MonthDay,
}

impl DateOrder {
    /// `day/month/year`, `month/day/year`.
    pub fn words(self) -> &'static str {
        match self {
            Self::DayMonth => "day/month/year",
            Self::MonthDay => "month/day/year",
        }
    }
}

/// What a cell says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum DateRead {
    /// A day.
    Day(Day),
    /// A month of a year (1 to 12).
    Month(i32, u32),
    /// A year alone.
    Year(i32),
    /// Two days are possible: day first, month first.
    Either(Day, Day),
    /// It looks like a date but is none; the fact: `31 November does not exist`.
    Impossible(String),
    /// No date.
    None,
}

/// What the dates of a file say about their order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OrderFound {
    /// Every date reads the same in any order, or names its month.
    NotNeeded,
    /// Only this order makes dates of them all.
    Proven(DateOrder),
    /// Both orders fit: to be asked.
    Open,
    /// Some fit only the one, some only the other: to be asked.
    Mixed,
}

const MONTH_NAMES: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Reads a date. `today` gives two-digit years their century: up to next year this one, later ones the last.
pub fn read(text: &str, order: Option<DateOrder>, today: Day) -> DateRead {
    let Some(tokens) = tokens(text) else { return DateRead::None };
    match tokens.as_slice() {
        [Token::Number(year, 4)] => whole_year(*year),
        [Token::Number(all, 8)] => day_of(all / 10_000, all / 100 % 100, all % 100),
        [Token::Number(year, 4), Token::Number(month, 1..=2) | Token::Month(month)]
        | [Token::Number(month, 1..=2) | Token::Month(month), Token::Number(year, 4)] => whole_month(*year, *month),
        [Token::Number(year, 4), Token::Number(month, 1..=2) | Token::Month(month), Token::Number(day, 1..=2)] => {
            day_of(*year, *month, *day)
        }
        [Token::Number(day, 1..=2), Token::Month(month), Token::Number(year, size)]
        | [Token::Month(month), Token::Number(day, 1..=2), Token::Number(year, size)] => {
            match century(*year, *size, today) {
                Some(year) => day_of(year, *month, *day),
                None => DateRead::None,
            }
        }
        [Token::Number(one, 1..=2), Token::Number(two, 1..=2), Token::Number(year, size)] => {
            let Some(year) = century(*year, *size, today) else { return DateRead::None };
            // Dates with points are written day first wherever they are in use.
            let order = if text.contains('.') { Some(DateOrder::DayMonth) } else { order };
            numbers(*one, *two, year, order)
        }
        _ => DateRead::None,
    }
}

/// What the order of day and month is in these cells, taken together.
pub fn order_of<'a>(cells: impl Iterator<Item = &'a str>) -> OrderFound {
    let (mut day_first, mut month_first, mut open) = (false, false, false);
    for (one, two) in cells.filter_map(slashed) {
        match (one, two) {
            (13..=31, 1..=12) => day_first = true,
            (1..=12, 13..=31) => month_first = true,
            (1..=12, 1..=12) if one != two => open = true,
            _ => {}
        }
    }
    match (day_first, month_first) {
        (true, true) => OrderFound::Mixed,
        (true, false) => OrderFound::Proven(DateOrder::DayMonth),
        (false, true) => OrderFound::Proven(DateOrder::MonthDay),
        (false, false) if open => OrderFound::Open,
        (false, false) => OrderFound::NotNeeded,
    }
}

/// The first two numbers of a date whose order of day and month is not plain from its form.
fn slashed(text: &str) -> Option<(u32, u32)> {
    // Most cells are no dates: the first sign tells.
    if !text.trim_start().starts_with(|sign: char| sign.is_ascii_digit()) || text.contains('.') {
        return None;
    }
    match tokens(text)?.as_slice() {
        [Token::Number(one, 1..=2), Token::Number(two, 1..=2), Token::Number(_, 2 | 4)] => Some((*one, *two)),
        _ => None,
    }
}

#[derive(Clone, Copy)]
enum Token {
    /// A number and how many digits it was written with.
    Number(u32, usize),
    /// A month's name, 1 to 12.
    Month(u32),
}

/// Numbers and month names in order; nothing where anything else stands there. Weekdays and a time of day are left out.
fn tokens(text: &str) -> Option<Vec<Token>> {
    let text = without_time(text.trim());
    if text.is_empty() || text.len() > 40 {
        return None;
    }
    let mut found = Vec::new();
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let same = |sign: char| {
            if first.is_ascii_digit() { sign.is_ascii_digit() } else { first.is_alphabetic() && sign.is_alphabetic() }
        };
        let end = rest.find(|sign| !same(sign)).unwrap_or(rest.len());
        if end == 0 {
            if !matches!(first, '/' | '-' | '.' | ',' | ' ' | '\u{2010}'..='\u{2013}') {
                return None;
            }
            rest = rest.get(first.len_utf8()..)?;
            continue;
        }
        let (word, after) = rest.split_at(end);
        if first.is_ascii_digit() {
            found.push(Token::Number(word.parse().ok()?, word.len()));
        } else {
            word_token(word, &mut found)?;
        }
        rest = after;
    }
    (!found.is_empty() && found.len() <= 3).then_some(found)
}

fn word_token(word: &str, found: &mut Vec<Token>) -> Option<()> {
    let word = word.to_lowercase();
    let begins = |name: &str| word.len() >= 3 && name.to_lowercase().starts_with(&word);
    if let Some(month) = MONTH_NAMES.iter().position(|name| begins(name) || (word == "sept" && *name == "September")) {
        found.push(Token::Month(month as u32 + 1));
        return Some(());
    }
    let weekdays = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];
    let ordinal = matches!(word.as_str(), "st" | "nd" | "rd" | "th") && matches!(found.last(), Some(Token::Number(..)));
    (ordinal || weekdays.iter().any(|name| begins(name))).then_some(())
}

/// `2026-11-14T08:30:00Z` and `14/11/2026 08:30` without their time of day.
fn without_time(text: &str) -> &str {
    let Some(colon) = text.find(':') else { return text };
    let Some(before) = text.get(..colon) else { return text };
    before.rfind(['T', ' ']).and_then(|at| before.get(..at)).unwrap_or(text).trim_end()
}

fn whole_year(year: u32) -> DateRead {
    if (1900..=2200).contains(&year) { DateRead::Year(year as i32) } else { DateRead::None }
}

fn whole_month(year: u32, month: u32) -> DateRead {
    match (1900..=2200).contains(&year) {
        true if (1..=12).contains(&month) => DateRead::Month(year as i32, month),
        true => DateRead::Impossible(format!("Month {month} does not exist")),
        false => DateRead::None,
    }
}

fn century(year: u32, digits: usize, today: Day) -> Option<u32> {
    match digits {
        4 => Some(year),
        2 => {
            let this = today.year().max(0) as u32;
            let near = this / 100 * 100 + year;
            Some(if near > this + 1 { near - 100 } else { near })
        }
        _ => None,
    }
}

fn numbers(one: u32, two: u32, year: u32, order: Option<DateOrder>) -> DateRead {
    let day_first = || day_of(year, two, one);
    let month_first = || day_of(year, one, two);
    match order {
        Some(DateOrder::DayMonth) => day_first(),
        Some(DateOrder::MonthDay) => month_first(),
        None if one == two || one > 12 => day_first(),
        None if two > 12 => month_first(),
        None => match (day_first(), month_first()) {
            (DateRead::Day(a), DateRead::Day(b)) => DateRead::Either(a, b),
            (DateRead::Day(day), _) | (_, DateRead::Day(day)) => DateRead::Day(day),
            (fault, _) => fault,
        },
    }
}

fn day_of(year: u32, month: u32, day: u32) -> DateRead {
    if let Some(day) = Day::new(year as i32, month, day) {
        return if (1900..=2200).contains(&year) {
            DateRead::Day(day)
        } else {
            DateRead::Impossible(format!("The year {year} cannot be"))
        };
    }
    let Some(name) = MONTH_NAMES.get((month as usize).wrapping_sub(1)) else {
        return DateRead::Impossible(format!("Month {month} does not exist"));
    };
    let leap = if month == 2 && day == 29 { format!(" {year}") } else { String::new() };
    DateRead::Impossible(format!("{day} {name}{leap} does not exist"))
}

/// `14 November` for a day, as questions show it.
pub fn day_and_month(day: Day) -> String {
    let name = MONTH_NAMES.get(day.month() as usize - 1).copied().unwrap_or(MONTHS[0]);
    format!("{} {name}", day.day_of_month())
}

#[cfg(test)]
mod tests {
    use super::{DateOrder, DateRead, OrderFound, order_of, read};
    use crate::domain::day::Day;

    fn day(iso: &str) -> Day {
        Day::from_iso(iso).expect("a day")
    }

    fn check(text: &str, order: Option<DateOrder>, expected: &DateRead) {
        assert_eq!(&read(text, order, day("2026-11-23")), expected, "{text:?}");
    }

    #[test]
    fn a_day_is_read_in_the_forms_people_write() {
        let expected = DateRead::Day(day("2026-11-14"));
        for text in [
            "2026-11-14",
            "2026/11/14",
            "20261114",
            "2026-11-14T08:30:00Z",
            "2026-11-14 08:30",
            "14/11/2026",
            "14.11.2026",
            "14.11.26",
            "14-11-2026",
            "11/14/2026",
            "14 Nov 2026",
            "14 November 2026",
            "14-Nov-26",
            "Nov 14, 2026",
            "Sat 14 Nov 2026",
            "14th Nov 2026",
            " 14/11/26 ",
            "2026 Nov 14",
            "14/11/2026 7:05",
        ] {
            check(text, None, &expected);
        }
    }

    #[test]
    fn years_and_months_stand_alone() {
        check("2025", None, &DateRead::Year(2025));
        check("Nov 2026", None, &DateRead::Month(2026, 11));
        check("11/2026", None, &DateRead::Month(2026, 11));
        check("2026-11", None, &DateRead::Month(2026, 11));
        check("Sept 2026", None, &DateRead::Month(2026, 9));
    }

    #[test]
    fn days_that_do_not_exist_say_so() {
        let none = |fact: &str| DateRead::Impossible(fact.to_owned());
        check("31/11/2026", None, &none("31 November does not exist"));
        check("2026-11-31", None, &none("31 November does not exist"));
        check("29 Feb 2026", None, &none("29 February 2026 does not exist"));
        check("2026-13-01", None, &none("Month 13 does not exist"));
        check("14/14/2026", None, &none("Month 14 does not exist"));
    }

    #[test]
    fn what_is_no_date_is_not_taken_for_one() {
        for text in ["", "soon", "1234567", "B14", "14 Nov", "3", "12.5", "1/2/3/4", "2026-11-14x", "mo 3 2026"] {
            check(text, None, &DateRead::None);
        }
    }

    #[test]
    fn either_way_is_asked_and_an_order_settles_it() {
        check("3/4/2026", None, &DateRead::Either(day("2026-04-03"), day("2026-03-04")));
        check("3/4/2026", Some(DateOrder::DayMonth), &DateRead::Day(day("2026-04-03")));
        check("3/4/2026", Some(DateOrder::MonthDay), &DateRead::Day(day("2026-03-04")));
        check("3.4.2026", Some(DateOrder::MonthDay), &DateRead::Day(day("2026-04-03")));
        check("4/4/2026", None, &DateRead::Day(day("2026-04-04")));
    }

    #[test]
    fn two_digit_years_lie_near_today() {
        check("1/1/27", Some(DateOrder::DayMonth), &DateRead::Day(day("2027-01-01")));
        check("1/1/98", Some(DateOrder::DayMonth), &DateRead::Day(day("1998-01-01")));
    }

    #[test]
    fn the_whole_column_tells_the_order() {
        assert_eq!(order_of(["3/4/2026", "14/11/2026"].into_iter()), OrderFound::Proven(DateOrder::DayMonth));
        assert_eq!(order_of(["3/4/2026", "11/14/2026"].into_iter()), OrderFound::Proven(DateOrder::MonthDay));
        assert_eq!(order_of(["3/4/2026", "5/6/2026"].into_iter()), OrderFound::Open);
        assert_eq!(order_of(["14/11/2026", "11/14/2026"].into_iter()), OrderFound::Mixed);
        assert_eq!(order_of(["2026-11-14", "4/4/2026", "2025", "3.4.2026"].into_iter()), OrderFound::NotNeeded);
    }
}
