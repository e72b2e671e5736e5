//! The looks and the finds of the rules' tables, one row each.

use lidnote::domain::queen::Birth;
use lidnote::domain::standing::OutcomeClass::{self, Another, Barred, Laying, NotYet, StepDone, StillDue, ToDecide};
use lidnote::domain::standing::QueenNow;
use lidnote::domain::visit::Method::{self, Caged, Cell, Nuc, OwnRaising, PushIn, Virgin};

use super::hives::{Hives, day};

/// Finds on days after an introduction of 14 November (for those that mate here D is the 13th): what the last one means,
/// and what is due then.
#[track_caller]
pub fn check(method: Method, finds: &[(&str, &str)], class: OutcomeClass, sentence: &str, due: &str) {
    let mut hives = Hives::given(method);
    for (on, codes) in finds {
        hives.saw(on, codes);
    }
    let last = finds.last().expect("a find").0;
    let outcome = hives.outcome(last);
    assert_eq!(outcome.sentence, sentence, "{method:?} {finds:?}");
    assert_eq!(outcome.class, class, "{method:?} {finds:?}: {sentence}");
    assert_eq!(hives.due(last), due, "{method:?} {finds:?}: {sentence}");
}

const ACCEPTANCE: &str = "acceptance look 21, 24, 28 Nov";
const VERDICT: &str = "verdict look 10, 12, 14 Dec";

#[test]
fn an_acceptance_look_accepts_waits_or_fails() {
    check(Caged, &[("24 Nov", "eq")], Laying, "Laying, her seen. Accepted, nothing due.", "");
    check(Caged, &[("24 Nov", "e")], Laying, "Laying, identity unconfirmed. Accepted, nothing due.", "");
    check(Caged, &[("24 Nov", "e t3")], Laying, "Laying, identity unconfirmed. Accepted. Temper hers from 2 Jan.", "");
    let second = "second acceptance look 29 Nov, 1, 3 Dec";
    check(Caged, &[("24 Nov", "n")], NotYet, "Nothing in the whole nest. Second look 29 Nov, 1, 3 Dec.", second);
    check(Caged, &[("24 Nov", "q")], NotYet, "Her seen, no eggs yet. Second look 29 Nov, 1, 3 Dec.", second);
    check(
        Caged,
        &[("24 Nov", "b")],
        NotYet,
        "Capped brood only: may be the old queen's. Second look 29 Nov, 1, 3 Dec.",
        second,
    );
    check(
        Caged,
        &[("24 Nov", "c3 /c")],
        ToDecide,
        "Failed: 3 closed cells, cut. Give another, 26 Nov.",
        "give 26, 26, 27 Nov",
    );
    check(
        Caged,
        &[("24 Nov", "c2")],
        ToDecide,
        "Failed: 2 closed cells. Cut them and give another, 26 Nov, or let one stand.",
        "cut cells 24, 25, 25 Nov; give 26, 26, 27 Nov",
    );
}

#[test]
fn a_second_acceptance_look_decides() {
    check(
        Caged,
        &[("24 Nov", "n"), ("1 Dec", "e")],
        Laying,
        "Laying, identity unconfirmed. Accepted, nothing due.",
        "",
    );
    check(
        Caged,
        &[("24 Nov", "n"), ("1 Dec", "n")],
        ToDecide,
        "Failed: no eggs in the whole nest. Give another, 3 Dec.",
        "give 3, 3, 4 Dec",
    );
    check(
        Caged,
        &[("24 Nov", "q"), ("1 Dec", "q")],
        ToDecide,
        "Failed: not laying. Find her first, then give another, 4 Dec.",
        "find her and requeen 2, 4, 8 Dec; give 3, 4, 8 Dec",
    );
    check(
        Caged,
        &[("24 Nov", "n"), ("27 Nov", "n")],
        StillDue,
        "Too early: no evidence. Second acceptance look stays: 29 Nov, 1, 3 Dec.",
        "second acceptance look 29 Nov, 1, 3 Dec",
    );
}

#[test]
fn what_is_no_evidence_leaves_the_look() {
    check(Caged, &[("24 Nov", "-r")], StillDue, "Not opened, rain. Still due.", ACCEPTANCE);
    check(Caged, &[("30 Nov", "-t")], StillDue, "Not opened, no time. Still due, late.", ACCEPTANCE);
    check(Caged, &[("30 Nov", "p")], StillDue, "Part of the nest: no evidence. Still due, late.", ACCEPTANCE);
    check(Caged, &[("24 Nov", "p n")], StillDue, "Part of the nest: no evidence. Still due.", ACCEPTANCE);
    check(Caged, &[("24 Nov", "t3")], StillDue, "No word about the brood. Still due.", ACCEPTANCE);
    let early = "Too early: no evidence. Acceptance look stays: 21, 24, 28 Nov.";
    check(Caged, &[("20 Nov", "n")], StillDue, early, ACCEPTANCE);
}

#[test]
fn a_cell_has_a_first_brood_look_and_a_verdict() {
    check(Cell, &[("29 Nov", "n")], NotYet, "Nothing in the whole nest. Verdict 10, 12, 14 Dec.", VERDICT);
    check(Cell, &[("29 Nov", "q")], NotYet, "Her seen, no eggs yet. Verdict 10, 12, 14 Dec.", VERDICT);
    check(Cell, &[("29 Nov", "e")], Laying, "Laying, identity unconfirmed. Accepted, nothing due.", "");
    check(
        Cell,
        &[("29 Nov", "n"), ("12 Dec", "n")],
        ToDecide,
        "Failed: no eggs in the whole nest. Give another, 14 Dec.",
        "give 14, 14, 15 Dec",
    );
    check(
        Cell,
        &[("29 Nov", "n"), ("12 Dec", "q")],
        ToDecide,
        "Failed: not laying. Find her first, then give another, 15 Dec.",
        "find her and requeen 13, 15, 19 Dec; give 14, 15, 19 Dec",
    );
    check(
        Cell,
        &[("29 Nov", "c2 /c")],
        ToDecide,
        "Failed: 2 closed cells, cut. Give another, 1 Dec.",
        "give 1, 1, 2 Dec",
    );
}

#[test]
fn days_gone_by_count_and_not_the_looks_name() {
    // The first brood look was never made: on day 28 it is the verdict.
    check(
        Cell,
        &[("12 Dec", "n")],
        ToDecide,
        "Failed: no eggs in the whole nest. Give another, 14 Dec.",
        "give 14, 14, 15 Dec",
    );
    // On day 25 it is not yet.
    check(Cell, &[("9 Dec", "n")], NotYet, "Nothing in the whole nest. Verdict 10, 12, 14 Dec.", VERDICT);
    // Eggs count on any day on which they speak: from D+4.
    check(Caged, &[("18 Nov", "e")], Laying, "Laying, identity unconfirmed. Accepted, nothing due.", "");
    check(
        Caged,
        &[("17 Nov", "e")],
        StillDue,
        "Too early: no evidence. Acceptance look stays: 21, 24, 28 Nov.",
        ACCEPTANCE,
    );
}

#[test]
fn a_virgin_has_a_cells_days_less_the_day_to_emergence() {
    check(
        Virgin,
        &[("27 Nov", "n")],
        NotYet,
        "Nothing in the whole nest. Verdict 8, 10, 12 Dec.",
        "verdict look 8, 10, 12 Dec",
    );
    check(
        Virgin,
        &[("8 Dec", "n")],
        ToDecide,
        "Failed: no eggs in the whole nest. Give another, 10 Dec.",
        "give 10, 10, 11 Dec",
    );
}

#[test]
fn a_united_nuc_goes_as_a_caged_queen() {
    check(Nuc, &[("21 Nov", "e")], Laying, "Laying, identity unconfirmed. Accepted, nothing due.", "");
    check(
        Nuc,
        &[("21 Nov", "n")],
        NotYet,
        "Nothing in the whole nest. Second look 26, 28, 30 Nov.",
        "second acceptance look 26, 28, 30 Nov",
    );
}

#[test]
fn own_raising_has_its_verdict_at_the_latest_day() {
    let first = "first brood look 8, 11, 18 Dec";
    check(
        OwnRaising,
        &[("20 Nov", "c3")],
        StillDue,
        "Closed cells: hers. First brood look stays: 8, 11, 18 Dec.",
        first,
    );
    check(
        OwnRaising,
        &[("10 Dec", "n")],
        NotYet,
        "Nothing in the whole nest. Verdict 18, 18, 20 Dec.",
        "verdict look 18, 18, 20 Dec",
    );
    check(
        OwnRaising,
        &[("18 Dec", "n")],
        ToDecide,
        "Failed: no eggs in the whole nest. Give another, 20 Dec.",
        "give 20, 20, 21 Dec",
    );
    check(OwnRaising, &[("16 Dec", "e")], Laying, "Laying: a queen of her own. Nothing due.", "");
}

#[test]
fn eggs_before_a_queen_of_her_own_can_lay_are_another_queens() {
    let another = "Laying, too early for a queen of her own: another lays here. Nothing due.";
    check(OwnRaising, &[("27 Nov", "e")], Laying, another, "");
    check(OwnRaising, &[("28 Nov", "e")], Laying, "Laying: a queen of her own. Nothing due.", "");
    // Larvae are three days old at least.
    check(OwnRaising, &[("30 Nov", "e l")], Laying, another, "");
    let mut hives = Hives::given(OwnRaising);
    hives.saw("27 Nov", "e");
    let standing = hives.standing("1 Dec");
    let QueenNow::Present(queen) = &standing.queen else { panic!("a queen lays") };
    assert_eq!(queen.birth, Birth { earliest: None, latest: Some(day("27 Nov")) });
}

#[test]
fn the_strongest_find_decides() {
    let isolate = "isolate, report from 24 Nov";
    check(
        Caged,
        &[("24 Nov", "x eq d w")],
        Barred,
        "Disease suspected, not named. Barred: close the hive, isolate, follow the local rules. Looks rest.",
        isolate,
    );
    check(
        Caged,
        &[("24 Nov", "d w e")],
        ToDecide,
        "Failed: drone layer. Find and kill her, then requeen, 27 Nov, or unite.",
        "find her and requeen 25, 27 Nov, 1 Dec; give 26, 27 Nov, 1 Dec",
    );
    check(
        Caged,
        &[("24 Nov", "w e")],
        ToDecide,
        "Laying workers: unite or shake out. No cage, cell or virgin.",
        "unite or shake out 25, 27 Nov, 1 Dec",
    );
    check(
        Caged,
        &[("24 Nov", "m u")],
        ToDecide,
        "Failed: dead in the cage. Suspect a second queen; give another, 26 Nov.",
        "look first 24, 25, 26 Nov; give 26, 26, 27 Nov",
    );
    check(
        Caged,
        &[("24 Nov", "k u")],
        NotYet,
        "Alive in the cage, released. Look again 29 Nov, 1, 3 Dec.",
        "look again 29 Nov, 1, 3 Dec",
    );
    check(
        Caged,
        &[("24 Nov", "u c2")],
        Another,
        "Another queen than recorded. Which? Lost, or superseded. Still due.",
        "cut cells 24, 25, 25 Nov; acceptance look 21, 24, 28 Nov",
    );
    check(
        Caged,
        &[("24 Nov", "e c2 q")],
        Laying,
        "Laying, her seen, and queen cells: her supersedure? Look again 29 Nov, 1, 3 Dec.",
        "look again 29 Nov, 1, 3 Dec",
    );
    check(
        Caged,
        &[("24 Nov", "q c2 /c")],
        NotYet,
        "Her seen, no eggs yet. Second look 29 Nov, 1, 3 Dec.",
        "second acceptance look 29 Nov, 1, 3 Dec",
    );
    check(
        Caged,
        &[("24 Nov", "o c2 /c")],
        NotYet,
        "Opened cell: raising her own. First brood look 9, 12, 19 Dec.",
        "first brood look 9, 12, 19 Dec",
    );
}

#[test]
fn a_look_again_accepts_or_fails() {
    let again = ("24 Nov", "e c2");
    check(Caged, &[again, ("1 Dec", "e")], Laying, "Laying, identity unconfirmed. Accepted, nothing due.", "");
    check(
        Caged,
        &[again, ("1 Dec", "n")],
        ToDecide,
        "Failed: no eggs in the whole nest. Give another, 3 Dec.",
        "give 3, 3, 4 Dec",
    );
    check(Caged, &[("19 Nov", "k"), ("26 Nov", "e q")], Laying, "Laying, her seen. Accepted, nothing due.", "");
}

#[test]
fn a_push_in_cage_comes_off_and_the_look_counts_from_day_0() {
    let mut hives = Hives::given(PushIn);
    let both = "take the cage off 17, 18, 19 Nov; acceptance look 21, 24, 28 Nov";
    assert_eq!(hives.due("14 Nov"), both);
    hives.saw("18 Nov", "k");
    assert_eq!(hives.outcome("18 Nov").class, NotYet);
    assert_eq!(hives.due("18 Nov"), both);
    check(
        PushIn,
        &[("18 Nov", "k /k")],
        StepDone,
        "Alive under the push-in cage, as it should be. Acceptance look stays: 21, 24, 28 Nov. Push-in cage taken off.",
        ACCEPTANCE,
    );
    check(PushIn, &[("18 Nov", "/k")], StepDone, "Push-in cage taken off.", ACCEPTANCE);
    // She can lay under it: that is not yet acceptance.
    check(
        PushIn,
        &[("18 Nov", "e /k")],
        StepDone,
        "Eggs under the push-in cage. Acceptance look stays: 21, 24, 28 Nov. Push-in cage taken off.",
        ACCEPTANCE,
    );
    check(
        PushIn,
        &[("20 Nov", "k /k")],
        NotYet,
        "Alive in the cage, released. Look again 25, 27, 29 Nov. Push-in cage taken off.",
        "look again 25, 27, 29 Nov",
    );
}

#[test]
fn a_test_frame_shows_a_queenless_colony() {
    let first = ("29 Nov", "n +f");
    check(
        Cell,
        &[first],
        NotYet,
        "Nothing in the whole nest. Verdict 10, 12, 14 Dec. Test frame given. Frame look 2, 3, 6 Dec.",
        "frame look 2, 3, 6 Dec; verdict look 10, 12, 14 Dec",
    );
    check(
        Cell,
        &[first, ("2 Dec", "y2 /c")],
        ToDecide,
        "Failed: cells begun on the test frame, so no queen. Give another, 4 Dec.",
        "give 4, 4, 5 Dec",
    );
    check(
        Cell,
        &[first, ("3 Dec", "n")],
        NotYet,
        "No cells on the test frame: nothing lost yet. Verdict look stays: 10, 12, 14 Dec.",
        VERDICT,
    );
    // The frame's own eggs prove nothing for four days, unless it was marked and left out.
    check(
        Cell,
        &[first, ("2 Dec", "e")],
        NotYet,
        "No cells on the test frame: nothing lost yet. Verdict look stays: 10, 12, 14 Dec.",
        VERDICT,
    );
    check(Cell, &[first, ("3 Dec", "e")], Laying, "Laying, identity unconfirmed. Accepted, nothing due.", "");
    check(
        Cell,
        &[("29 Nov", "n +F"), ("2 Dec", "e")],
        Laying,
        "Laying, identity unconfirmed. Accepted, nothing due.",
        "",
    );
}
