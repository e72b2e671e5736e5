//! Why a cell is no date, where one can see what was meant, and how it is to be written.

use crate::domain::day::{Day, MONTHS};
use crate::exchange::dates::{DateRead, read};

/// Spreadsheets count days from here (serial 25,569 is 1 January 1970; ECMA-376 part 1, 18.17.4.1).
const SERIAL_OF_1970: i64 = 25_569;

/// The fact and the way out for a text that is no date. `year_is_enough`: a year alone would do.
pub fn why_no_date(text: &str, year_is_enough: bool, today: Day) -> (String, String) {
    let text = text.trim();
    let shown: String = text.chars().take(30).collect();
    if let Some(day) = serial(text) {
        let words = format!("{} {}", day.short(), day.year());
        let remedy = format!("Give the column the format of a date, or write {day}");
        return (format!("{shown} is a spreadsheet's number for {words}"), remedy);
    }
    if let Some(day) = without_year(text, today) {
        return (format!("{shown} has no year"), format!("Write it with its year: {} {}", day.short(), day.year()));
    }
    let bare = text.trim_start_matches(['\'', '\u{2019}']);
    if year_is_enough
        && bare.len() == 2
        && let Ok(year) = bare.parse::<i32>()
    {
        let century = today.year() / 100 * 100;
        let year = if century + year > today.year() { century + year - 100 } else { century + year };
        return (format!("{shown} is no year of four figures"), format!("Write {year}"));
    }
    let remedy = if year_is_enough {
        "Write a year, as 2026, a month, as Nov 2026, or a day"
    } else {
        "Write it as 2026-11-14 or 14 Nov 2026"
    };
    (format!("{shown} is no date"), remedy.to_owned())
}

/// The day a spreadsheet means by a bare number of five figures: 20,000 (1954) to 60,000 (2064).
fn serial(text: &str) -> Option<Day> {
    let whole = text.split('.').next().filter(|whole| whole.len() == 5)?;
    let number: i64 = whole.parse().ok()?;
    (20_000..=60_000)
        .contains(&number)
        .then(|| Day::new(1970, 1, 1))?
        .map(|first| first.plus((number - SERIAL_OF_1970) as i32))
}

/// The last such day up to today, for `Nov 3` and `3. Nov`.
fn without_year(text: &str, today: Day) -> Option<Day> {
    let names_a_month = MONTHS.iter().any(|month| text.to_lowercase().contains(&month.to_lowercase()));
    let with = |year: i32| match read(&format!("{text} {year}"), None, today) {
        DateRead::Day(day) if names_a_month => Some(day),
        _ => None,
    };
    let this = with(today.year())?;
    if this <= today { Some(this) } else { with(today.year() - 1) }
}

#[cfg(test)]
mod tests {
    use super::why_no_date;
    use crate::domain::day::Day;

    #[track_caller]
    fn check(text: &str, year_is_enough: bool, fact: &str, remedy: &str) {
        let today = Day::from_iso("2027-06-07").expect("a day");
        let expected = (fact.to_owned(), remedy.to_owned());
        assert_eq!(why_no_date(text, year_is_enough, today), expected, "{text}");
    }

    #[test]
    fn what_was_meant_is_said() {
        let serial = "46154 is a spreadsheet's number for 12 May 2026";
        check("46154", false, serial, "Give the column the format of a date, or write 2026-05-12");
        check("Nov 3", false, "Nov 3 has no year", "Write it with its year: 3 Nov 2026");
        check("12 May", false, "12 May has no year", "Write it with its year: 12 May 2027");
        check("'26", true, "'26 is no year of four figures", "Write 2026");
        check("'98", true, "'98 is no year of four figures", "Write 1998");
        check("soon", false, "soon is no date", "Write it as 2026-11-14 or 14 Nov 2026");
        check("blue", true, "blue is no date", "Write a year, as 2026, a month, as Nov 2026, or a day");
        check("99999", false, "99999 is no date", "Write it as 2026-11-14 or 14 Nov 2026");
    }
}
