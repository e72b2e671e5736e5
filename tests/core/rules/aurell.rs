//! The looks against the first-laying days of 177 colonies given cells: Aurell et al. 2025 (CC BY 4.0, credit in the
//! table's head; derived by `tests/reference/aurell.py`).

use lidnote::domain::day::Day;
use lidnote::domain::settings::Settings;
use lidnote::domain::standing::OutcomeClass::{self, Laying, NotYet, ToDecide};
use lidnote::domain::visit::Method::Cell;
use lidnote::domain::visit::OldQueen;
use lidnote::domain::work::{Look, WorkKind};

use super::hives::{B14, Hives, day};

struct Row {
    began: Option<f64>,
    oldest: [String; 2],
    drone_layer: bool,
    established: bool,
    colonies: u32,
}

fn rows() -> Vec<Row> {
    let table = include_str!("../../data/aurell2025.csv");
    let lines = table.lines().filter(|line| !line.starts_with('#')).skip(1);
    lines
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            Row {
                began: cells[0].parse().ok(),
                oldest: [cells[1].to_owned(), cells[2].to_owned()],
                drone_layer: cells[3] == "1",
                established: cells[4] == "1",
                colonies: cells[5].parse().expect("a count"),
            }
        })
        .collect()
}

fn count(rows: &[Row], of: impl Fn(&Row) -> bool) -> u32 {
    rows.iter().filter(|row| of(row)).map(|row| row.colonies).sum()
}

/// What a keeper types who sees brood whose oldest stage is this one.
fn codes(oldest: &str) -> &'static str {
    match oldest {
        "eggs" => "e",
        "larvae" => "e l",
        "capped" => "e l b",
        _ => "n",
    }
}

/// Judges the finds of day 18, and of day 30 where asked, after a cell given on the day of the split.
fn judged(row: &Row, visits: usize) -> (OutcomeClass, String) {
    let mut hives = Hives::new();
    let day0 = day("1 Nov");
    hives.gave_to(B14, day0, Cell, OldQueen::RemovedOn(day0), None, "");
    let on: [Day; 2] = [day0.plus(18), day0.plus(30)];
    for (day, oldest) in on.iter().zip(&row.oldest).take(visits) {
        hives.happened(B14, *day, super::hives::find(codes(oldest)));
    }
    let last = on[visits - 1].short();
    (hives.outcome(&last).class, hives.due(&last))
}

#[test]
fn the_table_is_the_published_one() {
    let rows = rows();
    assert_eq!(count(&rows, |_| true), 177);
    assert_eq!(count(&rows, |row| row.established), 154);
    assert_eq!(count(&rows, |row| row.began.is_none()), 12);
    assert_eq!(count(&rows, |row| row.began.is_some_and(|began| began >= 24.0)), 27);
    assert_eq!(count(&rows, |row| row.drone_layer), 8);
}

#[test]
fn the_windows_lie_where_laying_begins() {
    let looks = lidnote::domain::standing::windows::looks_for(&Settings::default(), Cell, day("1 Nov"), None, None);
    let days = |look: Look| {
        let window = looks.iter().find(|(kind, _)| *kind == WorkKind::Look(look)).expect("the look").1;
        [window.earliest, window.best, window.latest.expect("a latest")].map(|day_of| day_of.since(day("1 Nov")))
    };
    assert_eq!(days(Look::FirstBrood), [14, 15, 18]);
    assert_eq!(days(Look::Verdict), [26, 28, 30]);
    // Of the 154 that succeeded had begun by: day 15 46 %, day 18 62 %, day 26 all but seven, day 28 all.
    let rows = rows();
    let by = |day: i32| count(&rows, |row| row.established && row.began.is_some_and(|began| began <= f64::from(day)));
    assert_eq!([15, 18, 26, 28].map(by), [71, 95, 147, 154]);
}

#[test]
fn nothing_at_the_first_brood_look_condemns_no_colony() {
    let rows = rows();
    let without = |row: &Row| row.oldest[0] == "none";
    assert_eq!(count(&rows, without), 84);
    assert_eq!(count(&rows, |row| without(row) && row.established), 61, "61 of 84 still succeeded");
    for row in &rows {
        let expected = if without(row) { NotYet } else { Laying };
        assert_eq!(judged(row, 1).0, expected, "began {:?}", row.began);
    }
}

#[test]
fn every_late_layer_and_every_drone_layer_gets_its_capped_brood_look() {
    let rows = rows();
    for row in &rows {
        let (class, due) = judged(row, 2);
        let late = due.contains("capped-brood look");
        match row.began {
            None => assert_eq!((class, row.established), (ToDecide, false)),
            Some(began) => {
                assert_eq!(class, Laying, "began {began}");
                // Larvae on day 30 leave it open whether she began on day 21 or on day 27.
                assert_eq!(late, began >= 21.0, "began {began}");
                assert!(late || !row.drone_layer, "a drone layer slips through");
            }
        }
    }
}
