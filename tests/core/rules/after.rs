//! After a failure or a dequeening: what a later find changes, and what is asked once and not again.

use lidnote::domain::record::{Happening, Which};
use lidnote::domain::standing::OutcomeClass::{Laying, Noted, ToDecide};
use lidnote::domain::standing::{Phase, QueenNow};
use lidnote::domain::visit::Method::{Caged, Cell};

use super::finds::check;
use super::hives::{B14, Hives, day};

/// B14 dequeened on 13 November with a caged queen planned for 20 December.
fn waiting(finds: &[(&str, &str)]) -> Hives {
    let mut hives = Hives::new();
    hives.plan("1 Nov", Caged, "20 Dec", None);
    hives.saw("13 Nov", "/q");
    for (on, codes) in finds {
        hives.saw(on, codes);
    }
    hives
}

#[test]
fn a_nest_without_cells_has_none_to_cut() {
    let look_first = "look first 23 Nov, 19, 20 Dec; give 20, 20, 21 Dec";
    // From D+4 on, before D+7: once more at D+7, as where they were cut.
    let early = waiting(&[("18 Nov", "b")]);
    let said = "The brood may be the old queen's. No cells yet: look for them once more 20 Nov.";
    assert_eq!(early.outcome("18 Nov").sentence, said);
    assert_eq!(early.due("18 Nov"), format!("cut cells 20, 20, 22 Nov; {look_first}"));
    assert_eq!(waiting(&[("16 Nov", "n")]).due("16 Nov"), format!("cut cells 17, 18, 22 Nov; {look_first}"));
    // From D+7 on it can raise none any more.
    let hopeless = waiting(&[("21 Nov", "b")]);
    assert_eq!(hopeless.outcome("21 Nov").sentence, "No cells: takes a caged queen well.");
    assert_eq!(hopeless.due("24 Nov"), "give 20, 20, 21 Dec");
    let clock = hopeless.standing("24 Nov").clock.expect("the clock runs");
    assert_eq!(clock.asks, "No cells 21 Nov: hopelessly queenless, takes a caged queen well.");
    assert_eq!((clock.marks[1].note.as_str(), clock.alarm), ("none seen 21 Nov", false));
    assert_eq!(hopeless.note("24 Nov").lines[2], "no cells 21 NOV");
    // Cells seen after all are to be cut.
    assert_eq!(
        waiting(&[("18 Nov", "n"), ("20 Nov", "c1")]).due("20 Nov"),
        format!("cut cells 20, 21, 22 Nov; {look_first}")
    );
    // Part of the nest says nothing of the rest.
    let part = waiting(&[("21 Nov", "p b")]);
    assert_eq!(part.due("21 Nov"), format!("cut cells 17, 18, 22 Nov; {look_first}"));
}

#[test]
fn a_look_from_d10_on_leaves_no_cells_to_cut() {
    let hives = waiting(&[("24 Nov", "n")]);
    assert_eq!(hives.due("24 Nov"), "give 20, 20, 21 Dec", "nor is a look of days gone by late");
}

#[test]
fn the_days_to_the_next_queen_count_from_the_removal_of_the_failed_one() {
    let mut hives = Hives::given(Caged);
    hives.saw("24 Nov", "d");
    hives.saw("28 Nov", "/q");
    assert_eq!(hives.outcome("28 Nov").sentence, "Queen found and removed. Give another, 30 Nov.");
    assert_eq!(hives.due("28 Nov"), "give 30, 30 Nov, 1 Dec; cut cells 2, 3, 7 Dec");
    assert_eq!(hives.note("28 Nov").lines[1], "QUEEN DUE 30 NOV");
}

#[test]
fn a_queen_who_lays_after_her_verdict_is_accepted_after_all() {
    let failed = [("24 Nov", "q"), ("1 Dec", "q")];
    let accepted = "Laying, her seen. Accepted, nothing due.";
    // No other layer was in there since D, so her eggs speak on the next day.
    check(Caged, &[failed[0], failed[1], ("3 Dec", "e q")], Laying, accepted, "");
    check(
        Cell,
        &[("29 Nov", "c2 /c"), ("3 Dec", "e")],
        Laying,
        "Laying, identity unconfirmed. Accepted, nothing due.",
        "",
    );
}

#[test]
fn eggs_after_a_queen_was_dead_or_lost_are_not_hers() {
    let mut dead = Hives::given(Caged);
    dead.saw("17 Nov", "m");
    dead.saw("25 Nov", "e");
    assert_eq!(
        dead.outcome("25 Nov").sentence,
        "Eggs: a second queen is laying in there. Find her before giving another, 26, 28 Nov, 2 Dec."
    );
    assert_eq!((dead.outcome("25 Nov").class, dead.outcome("25 Nov").settled), (ToDecide, None));
    let QueenNow::Present(queen) = dead.standing("25 Nov").queen else { panic!("a queen is there") };
    assert_eq!(queen.queen, None, "another than the recorded one");

    let mut lost = Hives::given(Caged);
    lost.saw("24 Nov", "u e");
    lost.happened(B14, day("25 Nov"), Happening::Which(Which::Lost));
    lost.saw("29 Nov", "e");
    assert_eq!(lost.outcome("29 Nov").class, Noted, "the other one lays");
    assert!(matches!(lost.standing("29 Nov").phase, Phase::Failed { .. }));
}

#[test]
fn a_test_frame_in_a_colony_without_a_queen_is_looked_at_once() {
    let mut hives = Hives::new();
    hives.saw("13 Nov", "/q");
    hives.saw("20 Nov", "n /c +f");
    assert_eq!(hives.due("20 Nov"), "frame look 23, 24, 27 Nov; give 20, 22 Nov, 4 Dec");
    let mut begun = hives.clone();
    begun.saw("24 Nov", "y3 /c");
    assert_eq!(begun.outcome("24 Nov").sentence, "Cells begun on the test frame: no queen in there.");
    assert_eq!(begun.due("24 Nov"), "give 20, 22 Nov, 4 Dec");
    let mut uncut = hives.clone();
    uncut.saw("24 Nov", "y3");
    let said = "Cells begun on the test frame: no queen in there. Cut them before giving.";
    assert_eq!(uncut.outcome("24 Nov").sentence, said);
    assert_eq!(uncut.due("24 Nov"), "cut cells 24, 25, 25 Nov; give 20, 22 Nov, 4 Dec");
    hives.saw("24 Nov", "n");
    assert_eq!(hives.outcome("24 Nov").sentence, "No cells on the test frame: a queen may be in there.");
    assert_eq!(hives.due("24 Nov"), "give 20, 22 Nov, 4 Dec");
}
