//! A queen's age by season and in months, in both hemispheres.

use lidnote::domain::day::Day;
use lidnote::domain::place::Hemisphere;
use lidnote::domain::queen::Birth;
use lidnote::domain::settings::{Firm, Settings};
use lidnote::domain::standing::AgeClass::{self, First, Older, Second, Third, Unknown};
use lidnote::domain::standing::QueenNow;
use lidnote::domain::standing::age::{age_words, class_of};
use lidnote::domain::visit::Method::Caged;

use super::hives::Hives;

fn day(iso: &str) -> Day {
    Day::from_iso(iso).expect("a day")
}

fn firm(hemisphere: Hemisphere) -> Firm {
    Firm { hemisphere, ..Firm::default() }
}

#[track_caller]
fn check(hemisphere: Hemisphere, born: &str, today: &str, expected: AgeClass) {
    let class = class_of(Birth::on(day(born)), &firm(hemisphere), &Settings::default(), day(today));
    assert_eq!(class, expected, "born {born}, on {today}");
}

#[test]
fn seasons_turn_on_1_july_in_the_south() {
    use Hemisphere::South;
    check(South, "2026-09-20", "2026-11-24", First);
    check(South, "2026-01-31", "2026-06-30", First);
    check(South, "2026-01-31", "2026-07-01", Second);
    // Born from 1 February on, she counts for the coming season.
    check(South, "2026-02-01", "2026-06-30", First);
    check(South, "2026-02-01", "2027-06-30", First);
    check(South, "2026-02-01", "2027-07-01", Second);
    check(South, "2024-12-01", "2026-11-24", Third);
    check(South, "2023-12-01", "2026-11-24", Older);
}

#[test]
fn seasons_turn_on_1_january_in_the_north() {
    use Hemisphere::North;
    check(North, "2026-05-20", "2026-12-31", First);
    check(North, "2026-05-20", "2027-01-01", Second);
    check(North, "2026-07-31", "2027-01-01", Second);
    check(North, "2026-08-01", "2027-12-31", First);
    check(North, "2026-08-01", "2028-01-01", Second);
    check(North, "2024-05-20", "2026-05-20", Third);
}

#[test]
fn an_age_is_said_with_its_bounds() {
    let settings = Settings::default();
    let words = |birth: Birth| age_words(birth, &firm(Hemisphere::South), &settings, day("2026-11-24"));
    assert_eq!(words(Birth::on(day("2026-09-20"))), "first season, 2 months");
    assert_eq!(words(Birth::on(day("2026-11-12"))), "first season, 12 days");
    assert_eq!(words(Birth::on(day("2026-11-23"))), "first season, 1 day");
    assert_eq!(words(Birth::on(day("2025-10-20"))), "second season, 13 months");
    assert_eq!(words(Birth { earliest: None, latest: Some(day("2025-09-20")) }), "at least 14 months");
    assert_eq!(words(Birth { earliest: None, latest: Some(day("2022-09-20")) }), "older, at least 50 months");
    assert_eq!(words(Birth { earliest: Some(day("2026-07-20")), latest: None }), "first season, at most 4 months");
    assert_eq!(words(Birth::between(day("2026-02-10"), day("2026-04-10"))), "first season, 7 to 9 months");
    // Born before or after 1 February: which season she counts for is not known.
    assert_eq!(words(Birth::between(day("2025-12-20"), day("2026-02-20"))), "9 to 11 months");
    assert_eq!(words(Birth::in_year(2025)), "10 to 22 months");
    assert_eq!(words(Birth::between(day("2023-12-20"), day("2026-02-20"))), "9 to 35 months");
    assert_eq!(words(Birth::between(day("2026-11-14"), day("2026-11-24"))), "first season, at most 10 days");
    assert_eq!(words(Birth::default()), "age not known");
}

#[test]
fn a_birth_year_alone_gives_a_class_and_wide_bounds_give_none() {
    let class = |birth: Birth| class_of(birth, &firm(Hemisphere::South), &Settings::default(), day("2026-11-24"));
    assert_eq!(class(Birth::in_year(2025)), Second);
    assert_eq!(class(Birth::in_month(2026, 10)), First);
    assert_eq!(class(Birth::between(day("2024-01-01"), day("2026-01-01"))), Unknown);
    assert_eq!(class(Birth { earliest: None, latest: Some(day("2026-09-20")) }), Unknown);
}

#[test]
fn a_mated_queen_of_unknown_birth_is_at_least_as_old_as_her_time_here() {
    let mut hives = Hives::given(Caged);
    for queen in hives.world.queens.values_mut() {
        std::sync::Arc::make_mut(queen).birth = Birth::default();
    }
    let QueenNow::Present(queen) = hives.standing("18 Nov").queen else { panic!("she is there") };
    assert_eq!(queen.birth, Birth { earliest: None, latest: Some(day("2026-11-14")) });
    let words = age_words(queen.birth, &hives.world.firm, &hives.world.settings, day("2027-02-20"));
    assert_eq!(words, "at least 3 months");
}
