//! Colonies without a queen: plans, steps, the queenless clock, own raising, splits and unitings.

use std::sync::Arc;

use lidnote::domain::colony::FirstQueen;
use lidnote::domain::ids::ColonyId;
use lidnote::domain::record::Happening;
use lidnote::domain::standing::OutcomeClass::{NotYet, Noted, StepDone, StillDue, ToDecide};
use lidnote::domain::standing::{LidState, Phase, QueenNow};
use lidnote::domain::visit::Method::{Caged, Cell, OwnRaising};
use lidnote::domain::visit::OldQueen;

use super::hives::{B14, Hives, day, due_words};

#[test]
fn a_plan_makes_its_steps_and_ends_with_the_giving() {
    let mut hives = Hives::new();
    hives.plan("1 Nov", Caged, "14 Nov", Some("14 Nov"));
    assert_eq!(hives.due("1 Nov"), "dequeen 14, 14, 15 Nov; give 14, 14, 15 Nov");
    hives.gave("14 Nov", Caged, OldQueen::AsRecorded, "/q");
    assert_eq!(hives.due("14 Nov"), "acceptance look 21, 24, 28 Nov", "no waiting step where she is given at once");

    let mut cell = Hives::new();
    cell.plan("1 Nov", Cell, "14 Nov", Some("13 Nov"));
    assert_eq!(cell.due("1 Nov"), "dequeen 13, 13, 14 Nov; give 14, 14, 15 Nov");
    cell.saw("13 Nov", "/q");
    assert_eq!(cell.outcome("13 Nov").sentence, "Old queen found and removed.");
    assert_eq!(cell.due("13 Nov"), "give 14, 14, 15 Nov");
}

#[test]
fn a_plan_called_off_asks_for_nothing() {
    let mut hives = Hives::new();
    let plan = hives.plan("1 Nov", Caged, "14 Nov", Some("14 Nov"));
    Arc::make_mut(hives.world.plans.get_mut(&plan).expect("the plan")).called_off = Some(day("5 Nov"));
    assert_eq!(hives.due("4 Nov"), "dequeen 14, 14, 15 Nov; give 14, 14, 15 Nov");
    assert_eq!(hives.due("5 Nov"), "");
}

#[test]
fn an_old_queen_not_found_is_looked_for_again() {
    let mut hives = Hives::new();
    hives.plan("1 Nov", Caged, "14 Nov", Some("14 Nov"));
    hives.saw("14 Nov", "?q");
    let outcome = hives.outcome("14 Nov");
    assert_eq!(outcome.sentence, "Old queen not found. Find her again 15, 17, 21 Nov.");
    assert_eq!(outcome.class, StillDue);
    assert_eq!(hives.due("14 Nov"), "give 14, 14, 15 Nov; find the old queen 15, 17, 21 Nov");
    hives.saw("17 Nov", "/q");
    assert_eq!(hives.standing("17 Nov").phase, Phase::Waiting { since: day("17 Nov") });
}

#[test]
fn the_clock_of_a_waiting_colony_runs_through_its_marks() {
    let mut hives = Hives::new();
    hives.plan("1 Nov", Caged, "25 Nov", Some("13 Nov"));
    hives.saw("13 Nov", "/q");
    hives.saw("20 Nov", "-r");
    let due = [
        ("14 Nov", "cut cells 17, 18, 22 Nov; look first 23, 24, 25 Nov; give 25, 25, 26 Nov", LidState::Quiet),
        ("17 Nov", "cut cells 17, 18, 22 Nov; look first 23, 24, 25 Nov; give 25, 25, 26 Nov", LidState::Due),
        ("23 Nov", "look first 23, 24, 25 Nov; give 25, 25, 26 Nov", LidState::Action),
    ];
    for (on, expected, lid) in due {
        assert_eq!(hives.due(on), expected, "{on}");
        assert_eq!(hives.standing(on).lid_state(day(on)), lid, "{on}");
    }
    let clock = hives.standing("23 Nov").clock.expect("the clock runs");
    assert_eq!((clock.since, clock.days, clock.alarm), (day("13 Nov"), 10, true));
    assert_eq!(
        clock.asks,
        "Due now: look first. Give no caged queen before. A virgin or an opened cell: first brood look 8, 11, 18 Dec."
    );
    let marks: Vec<_> = clock
        .marks
        .iter()
        .map(|mark| format!("D+{} {} {} {}", mark.days, mark.day.short(), mark.words, mark.note).trim().to_owned())
        .collect();
    assert_eq!(
        marks,
        [
            "D+0 13 Nov Old queen removed",
            "D+4 17 Nov Cut cells before giving not done",
            "D+7 20 Nov All cells cut: takes a caged queen well",
            "D+10 23 Nov Own virgin may be out: look first",
            "D+21 4 Dec Laying workers likely, to 11 Dec",
        ]
    );
}

#[test]
fn the_clock_says_what_each_day_asks() {
    let asks = |finds: &[(&str, &str)], today: &str| {
        let mut hives = Hives::new();
        hives.plan("1 Nov", Caged, "20 Dec", None);
        hives.saw("13 Nov", "/q");
        for (on, codes) in finds {
            hives.saw(on, codes);
        }
        hives.standing(today).clock.expect("the clock runs").asks
    };
    assert_eq!(asks(&[], "14 Nov"), "Cut cells from 17 Nov before giving.");
    assert_eq!(asks(&[], "17 Nov"), "Due now: cut cells before giving.");
    assert_eq!(
        asks(&[("18 Nov", "/c")], "18 Nov"),
        "Look for cells once more 20 Nov: larvae young enough last until then."
    );
    let hopeless = "All cells cut 20 Nov: hopelessly queenless, takes a caged queen well.";
    assert_eq!(asks(&[("20 Nov", "c2 /c")], "20 Nov"), hopeless);
    assert_eq!(asks(&[("20 Nov", "c2 /c")], "1 Dec"), hopeless);
    assert_eq!(asks(&[("24 Nov", "n")], "24 Nov"), "Looked through 24 Nov, no own virgin seen: a queen can be given.");
    assert_eq!(
        asks(&[], "4 Dec"),
        "Due now: look for laying workers, likely from 4 Dec to 11 Dec. With them no cage, cell or virgin."
    );
}

#[test]
fn cells_cut_before_d7_are_looked_for_once_more() {
    let mut hives = Hives::new();
    hives.plan("1 Nov", Cell, "22 Nov", None);
    hives.saw("13 Nov", "/q");
    assert_eq!(hives.due("14 Nov"), "cut cells 17, 18, 22 Nov; give 22, 22, 23 Nov");
    hives.saw("18 Nov", "c4 /c");
    assert_eq!(hives.outcome("18 Nov").sentence, "4 closed cells, cut. Look for cells once more 20 Nov.");
    assert_eq!(hives.due("18 Nov"), "cut cells 20, 20, 22 Nov; give 22, 22, 23 Nov");
    hives.saw("20 Nov", "c1 /c");
    assert_eq!(hives.due("20 Nov"), "give 22, 22, 23 Nov");
}

#[test]
fn a_waiting_colony_becomes_one_that_raises_its_own() {
    let first = "first brood look 8, 11, 18 Dec";
    let raising = Phase::RaisingOwn { since: day("13 Nov") };
    // Cells left standing.
    let mut left = Hives::new();
    left.saw("13 Nov", "/q");
    left.saw("18 Nov", "c2 +s");
    assert_eq!((left.due("18 Nov").as_str(), left.standing("18 Nov").phase), (first, raising.clone()));
    // An opened cell.
    let mut opened = Hives::new();
    opened.saw("13 Nov", "/q");
    opened.saw("21 Nov", "o");
    assert_eq!((opened.due("21 Nov").as_str(), opened.standing("21 Nov").phase), (first, raising.clone()));
    assert_eq!(opened.outcome("21 Nov").class, NotYet);
    // D+10 with cells not cut, and no queen planned.
    let mut ripe = Hives::new();
    ripe.saw("13 Nov", "/q");
    assert_eq!(ripe.standing("22 Nov").phase, Phase::Waiting { since: day("13 Nov") });
    assert_eq!((ripe.due("23 Nov").as_str(), ripe.standing("23 Nov").phase), (first, raising));
    // Cells cut: it goes on waiting.
    ripe.saw("20 Nov", "/c");
    assert_eq!(ripe.standing("23 Nov").phase, Phase::Waiting { since: day("13 Nov") });
}

#[test]
fn eggs_in_a_waiting_colony_are_another_queens() {
    let mut hives = Hives::new();
    hives.saw("13 Nov", "/q");
    hives.saw("16 Nov", "e");
    assert_eq!(hives.outcome("16 Nov").sentence, "The brood may be the old queen's.");
    assert_eq!(hives.outcome("16 Nov").class, Noted);
    hives.saw("18 Nov", "e");
    assert_eq!(
        hives.outcome("18 Nov").sentence,
        "Eggs: a queen is laying in there. Find her before giving another, 19, 21, 25 Nov."
    );
    assert_eq!(hives.outcome("18 Nov").class, ToDecide);
    assert_eq!(hives.due("18 Nov"), "find the old queen 19, 21, 25 Nov");
}

#[test]
fn a_dead_drone_layer_still_needs_her_successor() {
    let mut hives = Hives::given(Caged);
    hives.saw("24 Nov", "d");
    hives.saw("25 Nov", "/q");
    assert_eq!(hives.outcome("25 Nov").sentence, "Queen found and removed. Give another, 27 Nov.");
    assert_eq!(hives.outcome("25 Nov").class, StepDone);
    assert_eq!(hives.standing("25 Nov").phase, Phase::Waiting { since: day("25 Nov") });
}

#[test]
fn a_daughter_without_a_queen_waits_from_her_founding() {
    let mut hives = Hives::new();
    let daughter = ColonyId::from_number(15);
    hives.colony(daughter, "B15", FirstQueen::None);
    hives.alter(daughter, |colony| colony.founded = day("13 Nov"));
    let standing = lidnote::domain::standing::standing(&hives.world, daughter, day("14 Nov")).expect("B15 is there");
    assert_eq!(standing.phase, Phase::Waiting { since: day("13 Nov") });
    assert_eq!(due_words(&standing), "cut cells 17, 18, 22 Nov");
}

#[test]
fn a_colony_united_into_a_queenless_one_brings_its_queen() {
    let mut hives = Hives::new();
    let nuc = ColonyId::from_number(15);
    let queen = hives.queen(Caged);
    hives.colony(nuc, "N1", FirstQueen::Recorded(queen));
    hives.saw("24 Nov", "w");
    assert_eq!(hives.standing("24 Nov").lid_state(day("24 Nov")), LidState::Action);
    hives.happened(B14, day("27 Nov"), Happening::Received(nuc));
    assert_eq!(hives.due("27 Nov"), "acceptance look 4, 4, 7 Dec");
    let QueenNow::Present(there) = hives.standing("27 Nov").queen else { panic!("the nuc's queen is there") };
    assert_eq!(there.queen, Some(queen));
    hives.saw("4 Dec", "eq");
    assert_eq!(hives.due("4 Dec"), "");
    assert!(hives.standing("4 Dec").bars.is_empty());
}

#[test]
fn a_planned_own_raising_begins_with_the_dequeening() {
    let mut hives = Hives::new();
    hives.plan("1 Nov", OwnRaising, "13 Nov", Some("13 Nov"));
    assert_eq!(hives.due("1 Nov"), "dequeen 13, 13, 14 Nov");
    hives.saw("13 Nov", "e b /q");
    assert_eq!(
        hives.outcome("13 Nov").sentence,
        "Laying. Old queen found and removed, to raise her own. First brood look 8, 11, 18 Dec."
    );
    assert_eq!(hives.outcome("13 Nov").class, StepDone);
    hives.saw("11 Dec", "e");
    assert_eq!(hives.due("11 Dec"), "");
}

#[test]
fn a_queen_given_into_own_raising_is_a_first_attempt() {
    let mut hives = Hives::new();
    hives.saw("13 Nov", "/q");
    hives.saw("21 Nov", "o");
    hives.gave("24 Nov", Caged, OldQueen::AsRecorded, "");
    let Phase::Introduced(introduced) = hives.standing("24 Nov").phase else { panic!("she is in") };
    assert_eq!((introduced.attempt, introduced.dequeened), (1, Some(day("13 Nov"))));
}

#[test]
fn a_step_that_could_not_be_done_is_still_due() {
    let mut hives = Hives::new();
    hives.plan("1 Nov", Caged, "25 Nov", None);
    hives.saw("13 Nov", "/q");
    hives.saw("20 Nov", "-r");
    assert_eq!(hives.outcome("20 Nov").sentence, "Not opened, rain. Still due.");
    assert_eq!(hives.outcome("20 Nov").class, StillDue);
    let mut nothing_due = Hives::new();
    nothing_due.saw("20 Nov", "-r");
    assert_eq!(nothing_due.outcome("20 Nov").class, Noted);
}

#[test]
fn own_raising_counts_from_d_whenever_it_is_chosen() {
    let mut hives = Hives::new();
    hives.saw("13 Nov", "/q");
    hives.gave("20 Nov", OwnRaising, OldQueen::AsRecorded, "");
    assert_eq!(hives.due("20 Nov"), "first brood look 8, 11, 18 Dec");
    hives.saw("11 Dec", "e");
    let QueenNow::Present(queen) = hives.standing("11 Dec").queen else { panic!("she lays") };
    assert_eq!((queen.birth.earliest, queen.birth.latest), (Some(day("23 Nov")), Some(day("29 Nov"))));
}

#[test]
fn a_settled_colony_is_looked_at_again_where_something_is_amiss() {
    let mut hives = Hives::new();
    hives.saw("1 Nov", "e l b");
    assert_eq!((hives.due("1 Nov").as_str(), hives.outcome("1 Nov").sentence.as_str()), ("", "Laying."));
    hives.saw("10 Nov", "n");
    assert_eq!(hives.due("10 Nov"), "look again 15, 17, 19 Nov");
    hives.saw("17 Nov", "n");
    assert_eq!(hives.outcome("17 Nov").sentence, "Failed: no eggs in the whole nest. Give another, 19 Nov.");
    assert_eq!(hives.standing("17 Nov").queen, QueenNow::Queenless { since: Some(day("1 Nov")) });

    let mut cells = Hives::new();
    cells.saw("1 Nov", "e c2");
    assert_eq!(cells.due("1 Nov"), "look again 6, 8, 10 Nov");
    cells.saw("8 Nov", "e");
    assert_eq!(cells.due("8 Nov"), "");

    let mut swarmed = Hives::new();
    swarmed.saw("1 Nov", "s c5");
    assert_eq!(swarmed.outcome("1 Nov").sentence, "Swarmed: raising her own. First brood look 26, 29 Nov, 6 Dec.");
}

#[test]
fn a_colony_that_can_raise_none_and_has_no_plan_is_not_forgotten() {
    let mut hives = Hives::new();
    hives.saw("13 Nov", "/q");
    hives.saw("20 Nov", "c2 /c");
    assert_eq!(hives.due("20 Nov"), "give 20, 22 Nov, 4 Dec", "from D+7, before laying workers are likely");
    assert_eq!(hives.standing("5 Dec").lid_state(day("5 Dec")), LidState::Action);
    hives.plan("21 Nov", Caged, "23 Nov", None);
    assert_eq!(hives.due("21 Nov"), "give 23, 23, 24 Nov", "the plan's own step takes its place");
}

#[test]
fn a_cell_left_standing_says_one_thing() {
    let raising = "A cell left standing: raising her own. First brood look 8, 11, 18 Dec.";
    let mut hives = Hives::new();
    hives.saw("13 Nov", "/q");
    for (codes, seen) in [("c3 +s", "3 closed cells. "), ("y2 +s", "Cells begun. "), ("+s", "")] {
        let mut left = hives.clone();
        left.saw("18 Nov", codes);
        assert_eq!(left.outcome("18 Nov").sentence, format!("{seen}{raising}"), "{codes}");
        assert_eq!(left.outcome("18 Nov").class, StepDone, "{codes}");
        assert_eq!(left.due("18 Nov"), "first brood look 8, 11, 18 Dec", "{codes}: nothing is to be cut");
    }
    hives.plan("1 Nov", Caged, "25 Nov", None);
    hives.saw("18 Nov", "c3 +s");
    assert_eq!(
        hives.outcome("18 Nov").sentence,
        format!("3 closed cells. {raising} A queen is still planned for 25 Nov: call it off, or give her.")
    );

    let raising = "A cell left standing: raising her own. First brood look 9, 12, 19 Dec.";
    let mut failed = Hives::given(Caged);
    failed.saw("24 Nov", "c3 +s");
    assert_eq!(failed.outcome("24 Nov").sentence, format!("Failed: 3 closed cells. {raising}"));
    assert_eq!(failed.outcome("24 Nov").settled, Some((Caged, false)));
    assert_eq!(failed.due("24 Nov"), "first brood look 9, 12, 19 Dec");
    let mut later = Hives::given(Caged);
    later.saw("24 Nov", "c3");
    later.saw("25 Nov", "c3 +s");
    assert_eq!(later.outcome("25 Nov").sentence, format!("3 closed cells. {raising}"));

    // Beside a caged queen who is not judged yet it is the keeper's choice, and asks for nothing more.
    let mut beside = Hives::given(Caged);
    beside.saw("18 Nov", "c2 +s");
    assert_eq!(
        beside.outcome("18 Nov").sentence,
        "2 closed cells. Acceptance look stays: 21, 24, 28 Nov. A cell left standing."
    );
    assert_eq!(beside.due("18 Nov"), "acceptance look 21, 24, 28 Nov");
}

#[test]
fn the_clock_asks_for_nothing_that_was_looked_for_already() {
    let asks = |finds: &[(&str, &str)], today: &str| {
        let mut hives = Hives::new();
        hives.plan("1 Nov", Caged, "20 Dec", None);
        hives.saw("13 Nov", "/q");
        for (on, codes) in finds {
            hives.saw(on, codes);
        }
        let clock = hives.standing(today).clock.expect("the clock runs");
        let last = clock.marks.last().map_or("", |mark| mark.note.as_str()).to_owned();
        (clock.asks, last, clock.alarm)
    };
    let (words, mark, alarm) = asks(&[("5 Dec", "w")], "6 Dec");
    assert_eq!(words, "Laying workers found 5 Dec: unite or shake out. No cage, cell or virgin.");
    assert_eq!((mark.as_str(), alarm), ("found 5 Dec", true));
    let (words, mark, alarm) = asks(&[("5 Dec", "n")], "6 Dec");
    assert_eq!(words, "Looked through 5 Dec, no laying workers seen: a queen can be given.");
    assert_eq!((mark.as_str(), alarm), ("", true), "the days still say so");
    // A look before D+21 says nothing of what comes after it, and one of part of the nest nothing at all.
    let due = "Due now: look for laying workers, likely from 4 Dec to 11 Dec. With them no cage, cell or virgin.";
    assert_eq!(asks(&[("3 Dec", "n")], "4 Dec").0, due);
    assert_eq!(asks(&[("5 Dec", "p n")], "6 Dec").0, due);
    assert_eq!(
        asks(&[("24 Nov", "c2")], "24 Nov").0,
        "Due now: cut cells before giving. Looked through 24 Nov, no own virgin seen."
    );
}

#[test]
fn laying_workers_gone_on_record_are_not_looked_for_again() {
    let mut hives = Hives::new();
    hives.saw("13 Nov", "/q");
    hives.saw("20 Nov", "/c");
    hives.saw("5 Dec", "w");
    hives.happened(B14, day("9 Dec"), Happening::BarLifted { why: "shaken out, workers gone".to_owned() });
    let clock = hives.standing("9 Dec").clock.expect("the clock runs");
    assert_eq!(clock.asks, "All cells cut 20 Nov: hopelessly queenless, takes a caged queen well.");
    assert_eq!(hives.due("9 Dec"), "give 11, 11, 12 Dec");
}

#[test]
fn a_whole_nest_looked_through_is_not_looked_at_first_again() {
    // Closed cells on day 12, the whole nest seen.
    let mut hives = Hives::given(Caged);
    hives.saw("26 Nov", "c4");
    assert_eq!(hives.due("26 Nov"), "cut cells 26, 27, 27 Nov; give 28, 28, 29 Nov");
    let clock = hives.standing("26 Nov").clock.expect("the clock runs");
    assert_eq!(clock.asks, "Due now: cut cells before giving. Looked through 26 Nov, no own virgin seen.");
    assert_eq!(clock.marks[3].note, "looked 26 Nov");
    // Before D+10 no virgin can have been seen, so that look does not count.
    let mut early = Hives::given(Caged);
    early.saw("22 Nov", "c4");
    assert_eq!(early.due("24 Nov"), "cut cells 22, 23, 23 Nov; look first 24, 24, 25 Nov; give 24, 24, 25 Nov");
}
