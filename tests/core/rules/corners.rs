//! Where the rules meet: each corner of the rules, in their order.

use lidnote::domain::day::Day;
use lidnote::domain::queen::{Birth, Dot};
use lidnote::domain::record::{Happening, Which};
use lidnote::domain::standing::OutcomeClass::{Another, Laying, NotYet, StepDone, StillDue, ToDecide};
use lidnote::domain::standing::{Identity, LidState, Offer, Phase, QueenNow};
use lidnote::domain::visit::Method::{Caged, Cell, Nuc, OwnRaising, PushIn, Virgin};
use lidnote::domain::visit::OldQueen;
use lidnote::domain::work::{Step, WorkKind};

use super::finds::check;
use super::hives::{B14, Hives, day};

#[test]
fn closed_cells_too_early_or_in_part_are_noted_and_cut() {
    check(
        Caged,
        &[("18 Nov", "c2")],
        StillDue,
        "2 closed cells: cut them. Acceptance look stays: 21, 24, 28 Nov.",
        "cut cells 18, 19, 23 Nov; acceptance look 21, 24, 28 Nov",
    );
    check(
        Caged,
        &[("24 Nov", "p c2")],
        StillDue,
        "2 closed cells: cut them. Still due.",
        "cut cells 24, 25, 25 Nov; acceptance look 21, 24, 28 Nov",
    );
    check(
        Caged,
        &[("24 Nov", "p q")],
        NotYet,
        "Her seen, no eggs yet, part of the nest. Still due.",
        "acceptance look 21, 24, 28 Nov",
    );
    check(
        Caged,
        &[("18 Nov", "c2 /c")],
        StepDone,
        "2 closed cells, cut. Acceptance look stays: 21, 24, 28 Nov.",
        "acceptance look 21, 24, 28 Nov",
    );
    // Cut before D+7, and no look of its own by then: once more at D+7.
    check(
        Virgin,
        &[("18 Nov", "c2 /c")],
        StepDone,
        "2 closed cells, cut. First brood look stays: 26, 27, 30 Nov. Look for cells once more 20 Nov.",
        "cut cells 20, 20, 22 Nov; first brood look 26, 27, 30 Nov",
    );
}

#[test]
fn rival_cells_that_are_gone_are_no_longer_cut() {
    check(
        Cell,
        &[("18 Nov", "c2"), ("21 Nov", "n")],
        StillDue,
        "Too early: no evidence. First brood look stays: 28, 29 Nov, 2 Dec.",
        "first brood look 28, 29 Nov, 2 Dec",
    );
}

#[test]
fn closed_cells_after_a_cell_are_hers_for_two_days() {
    let due = "first brood look 28, 29 Nov, 2 Dec";
    check(
        Cell,
        &[("16 Nov", "c1")],
        StillDue,
        "Her cell, still closed. First brood look stays: 28, 29 Nov, 2 Dec.",
        due,
    );
    let rivals = "cut cells 17, 18, 22 Nov; first brood look 28, 29 Nov, 2 Dec";
    check(
        Cell,
        &[("16 Nov", "c2")],
        StillDue,
        "2 closed cells: cut them. First brood look stays: 28, 29 Nov, 2 Dec.",
        rivals,
    );
    check(
        Cell,
        &[("17 Nov", "c1")],
        StillDue,
        "1 closed cell: cut it. First brood look stays: 28, 29 Nov, 2 Dec.",
        rivals,
    );
    check(
        Virgin,
        &[("15 Nov", "c1")],
        StillDue,
        "1 closed cell: cut it. First brood look stays: 26, 27, 30 Nov.",
        "cut cells 17, 18, 22 Nov; first brood look 26, 27, 30 Nov",
    );
}

#[test]
fn an_opened_cell_after_a_cell_never_restarts_the_looks() {
    check(
        Cell,
        &[("16 Nov", "o")],
        StillDue,
        "Opened cell: a queen is out. First brood look stays: 28, 29 Nov, 2 Dec.",
        "first brood look 28, 29 Nov, 2 Dec",
    );
    check(
        Cell,
        &[("29 Nov", "o")],
        NotYet,
        "Opened cell, no eggs yet. Verdict 10, 12, 14 Dec.",
        "verdict look 10, 12, 14 Dec",
    );
    // Closed cells beside it are rivals: not closed cells only, so nothing has failed.
    check(
        Cell,
        &[("29 Nov", "o c2")],
        NotYet,
        "Opened cell, no eggs yet. Verdict 10, 12, 14 Dec.",
        "cut cells 29, 30, 30 Nov; verdict look 10, 12, 14 Dec",
    );
    let mut hives = Hives::given(Cell);
    hives.saw("29 Nov", "o e");
    assert_eq!(hives.standing("29 Nov").identity, Identity::Unconfirmed);
}

#[test]
fn day_24_after_a_caged_queen_decides() {
    for method in [Caged, PushIn, Nuc] {
        check(
            method,
            &[("8 Dec", "n")],
            ToDecide,
            "Failed: no eggs in the whole nest. Give another, 10 Dec.",
            "give 10, 10, 11 Dec",
        );
        check(
            method,
            &[("8 Dec", "q /k")],
            ToDecide,
            "Failed: not laying. Find her first, then give another, 11 Dec. Push-in cage taken off.",
            "find her and requeen 9, 11, 15 Dec; give 10, 11, 15 Dec",
        );
    }
    check(
        Caged,
        &[("7 Dec", "n")],
        NotYet,
        "Nothing in the whole nest. Second look 12, 14, 16 Dec.",
        "second acceptance look 12, 14, 16 Dec",
    );
    // Her second look is still ahead, but day 24 has come.
    check(
        Caged,
        &[("6 Dec", "q"), ("8 Dec", "q")],
        ToDecide,
        "Failed: not laying. Find her first, then give another, 11 Dec.",
        "find her and requeen 9, 11, 15 Dec; give 10, 11, 15 Dec",
    );
}

#[test]
fn a_late_layer_has_to_show_capped_brood() {
    let late = ("12 Dec", "e");
    check(Cell, &[late, ("24 Dec", "b")], Laying, "Laying, identity unconfirmed. Accepted, nothing due.", "");
    check(
        Cell,
        &[late, ("24 Dec", "e l")],
        Laying,
        "Laying, no capped worker brood yet. Still due.",
        "capped-brood look 21, 24, 28 Dec",
    );
    check(
        Cell,
        &[late, ("28 Dec", "e l")],
        ToDecide,
        "Failed: no capped worker brood of hers. Find her first, then give another, 31 Dec.",
        "find her and requeen 29, 31 Dec, 4 Jan; give 30, 31 Dec, 4 Jan",
    );
    check(
        Cell,
        &[late, ("24 Dec", "n")],
        ToDecide,
        "Failed: no eggs in the whole nest. Give another, 26 Dec.",
        "give 26, 26, 27 Dec",
    );
    check(
        Cell,
        &[late, ("24 Dec", "q")],
        ToDecide,
        "Failed: no capped worker brood of hers. Find her first, then give another, 27 Dec.",
        "find her and requeen 25, 27, 31 Dec; give 26, 27, 31 Dec",
    );
    check(
        Cell,
        &[late, ("24 Dec", "d")],
        ToDecide,
        "Failed: drone layer. Find and kill her, then requeen, 27 Dec, or unite.",
        "find her and requeen 25, 27, 31 Dec; give 26, 27, 31 Dec",
    );
}

#[test]
fn late_layers_are_queens_that_mate_here_from_their_day_on() {
    let accepted = "Laying, identity unconfirmed. Accepted, nothing due.";
    // Eggs only, day 23 and 24 after a cell; day e+22 and e+23 after a virgin.
    check(Cell, &[("7 Dec", "e")], Laying, accepted, "");
    check(
        Cell,
        &[("8 Dec", "e")],
        Laying,
        "Laying late, identity unconfirmed. Capped-brood look 17, 20, 24 Dec.",
        "capped-brood look 17, 20, 24 Dec",
    );
    check(Virgin, &[("5 Dec", "e")], Laying, accepted, "");
    check(
        Virgin,
        &[("6 Dec", "e")],
        Laying,
        "Laying late, identity unconfirmed. Capped-brood look 15, 18, 22 Dec.",
        "capped-brood look 15, 18, 22 Dec",
    );
    // Larvae are three days old at least: she began by day 23, or it can have been day 24.
    check(Cell, &[("10 Dec", "e l")], Laying, accepted, "");
    check(
        Cell,
        &[("11 Dec", "e l")],
        Laying,
        "Laying late, identity unconfirmed. Capped-brood look 20, 23, 27 Dec.",
        "capped-brood look 20, 23, 27 Dec",
    );
    check(Caged, &[("24 Nov", "n"), ("10 Dec", "e")], Laying, accepted, "");
    check(Nuc, &[("10 Dec", "e")], Laying, accepted, "");
    check(OwnRaising, &[("18 Dec", "e")], Laying, "Laying: a queen of her own. Nothing due.", "");
}

#[test]
fn larvae_count_from_d10_and_capped_brood_alone_says_she_stopped() {
    check(Caged, &[("24 Nov", "l")], Laying, "Laying, identity unconfirmed. Accepted, nothing due.", "");
    check(
        Caged,
        &[("23 Nov", "l")],
        NotYet,
        "The brood may be the old queen's. Second look 28, 30 Nov, 2 Dec.",
        "second acceptance look 28, 30 Nov, 2 Dec",
    );
    check(
        Caged,
        &[("6 Dec", "b")],
        Laying,
        "Capped brood of hers alone: she laid and stopped. Look again 11, 13, 15 Dec.",
        "look again 11, 13, 15 Dec",
    );
    check(
        Caged,
        &[("5 Dec", "b")],
        NotYet,
        "Capped brood only: may be the old queen's. Second look 10, 12, 14 Dec.",
        "second acceptance look 10, 12, 14 Dec",
    );
}

#[test]
fn another_queen_asks_which_until_it_is_answered() {
    check(
        Caged,
        &[("24 Nov", "u")],
        Another,
        "Another queen than recorded. Which? Lost, or superseded. Still due.",
        "acceptance look 21, 24, 28 Nov",
    );
    check(Caged, &[("24 Nov", "u e")], Another, "Another queen than recorded. Laying. Which? Lost, or superseded.", "");
    check(
        Caged,
        &[("24 Nov", "u e c1")],
        Another,
        "Another queen than recorded. Laying. Which? Lost, or superseded. Look again 29 Nov, 1, 3 Dec.",
        "look again 29 Nov, 1, 3 Dec",
    );
    let mut hives = Hives::given(Caged);
    hives.saw("20 Nov", "q");
    hives.saw("24 Nov", "u e");
    let question = hives.standing("24 Nov").which.expect("a question");
    assert_eq!((question.seen, question.last_hers), (day("24 Nov"), Some(day("20 Nov"))));
    hives.saw("27 Nov", "-r");
    assert!(hives.standing("27 Nov").which.is_some(), "it stays until it is answered");

    // Eggs alone do not settle a hive whose queen is in question.
    let mut open = hives.clone();
    open.saw("28 Nov", "e");
    assert_eq!(open.outcome("28 Nov").sentence, "Laying; which queen it is stays open.");
    assert_eq!((open.outcome("28 Nov").settled, open.due("28 Nov").as_str()), (None, ""));

    let mut superseded = hives.clone();
    superseded.happened(B14, day("28 Nov"), Happening::Which(Which::Superseded));
    let standing = superseded.standing("28 Nov");
    let QueenNow::Present(queen) = &standing.queen else { panic!("the new queen is there") };
    assert_eq!(queen.birth, Birth::between(day("20 Nov"), day("24 Nov")));
    assert!(standing.which.is_none() && standing.work.is_empty(), "{:?}", standing.work);
    assert_eq!(standing.identity, Identity::Another(day("24 Nov")), "she was seen, and is not recorded");

    let mut lost = hives.clone();
    lost.happened(B14, day("28 Nov"), Happening::Which(Which::Lost));
    assert_eq!(lost.due("28 Nov"), "find her and requeen 29 Nov, 1, 5 Dec; give 30 Nov, 1, 5 Dec");
    assert_eq!(lost.outcome("28 Nov").settled, Some((Caged, false)));

    hives.happened(B14, day("28 Nov"), Happening::Which(Which::SameAfterAll));
    assert_eq!(hives.outcome("28 Nov").settled, Some((Caged, true)));
    assert_eq!(hives.standing("28 Nov").identity, Identity::Seen(day("24 Nov")));
}

#[test]
fn eggs_prove_nothing_of_her_where_the_old_queen_was_never_found() {
    let mut hives = Hives::new();
    hives.gave("14 Nov", Caged, OldQueen::NotFound, "?q");
    assert_eq!(hives.due("14 Nov"), "acceptance look 21, 24, 28 Nov");
    hives.saw("24 Nov", "e");
    assert_eq!(
        hives.outcome("24 Nov").sentence,
        "Laying; the old queen was never found, so whose eggs is open. Find her 25, 27 Nov, 1 Dec."
    );
    assert_eq!(hives.outcome("24 Nov").settled, None, "the look is done, but nothing is proven");
    assert_eq!(hives.due("24 Nov"), "find the old queen 25, 27 Nov, 1 Dec");

    let mut seen = hives.clone();
    seen.saw("27 Nov", "e q");
    assert_eq!(seen.outcome("27 Nov").sentence, "Laying, her seen. Accepted, nothing due.");
    assert_eq!(seen.due("27 Nov"), "");

    hives.saw("27 Nov", "/q");
    assert_eq!(
        hives.outcome("27 Nov").sentence,
        "The old queen was there, so the new one is lost. Give another, 29 Nov."
    );
    assert_eq!(hives.due("27 Nov"), "give 29, 29, 30 Nov; cut cells 1, 2, 6 Dec");
}

#[test]
fn an_old_queen_found_before_the_look_gives_the_new_one_her_days() {
    let mut hives = Hives::new();
    hives.gave("14 Nov", Caged, OldQueen::NotFound, "?q");
    hives.saw("17 Nov", "/q");
    assert_eq!(hives.outcome("17 Nov").sentence, "Old queen found and removed. Acceptance look 24, 27 Nov, 1 Dec.");
}

#[test]
fn disease_closes_the_looks_and_they_come_back_by_the_days_gone_by() {
    let mut hives = Hives::given(Cell);
    hives.saw("20 Nov", "x");
    assert_eq!(hives.due("29 Nov"), "isolate, report from 20 Nov");
    assert_eq!(hives.standing("29 Nov").phase, Phase::DiseaseSuspected { on: day("20 Nov") });
    assert_eq!(hives.outcome("20 Nov").settled, None, "closed, not failed");
    hives.happened(B14, day("1 Dec"), Happening::BarLifted { why: "laboratory: negative".to_owned() });
    assert_eq!(hives.due("1 Dec"), "first brood look 28, 29 Nov, 2 Dec");
    assert_eq!(hives.outcome("1 Dec").sentence, "Bar lifted. First brood look 28, 29 Nov, 2 Dec.");
    hives.saw("12 Dec", "n");
    assert_eq!(hives.outcome("12 Dec").class, ToDecide);
}

#[test]
fn swapped_lids_leave_due_work_with_the_colony() {
    let mut hives = Hives::given(Caged);
    let before = hives.due("20 Nov");
    let other = lidnote::domain::ids::ColonyId::from_number(15);
    let visit = lidnote::domain::visit::Visit { lids_swapped: Some(other), ..lidnote::domain::visit::Visit::default() };
    hives.happened(B14, day("20 Nov"), Happening::Visit(Box::new(visit)));
    assert_eq!(hives.due("20 Nov"), before);
}

#[test]
fn a_look_is_late_from_the_day_after_its_latest() {
    let hives = Hives::given(Cell);
    for (on, state) in [("27 Nov", LidState::Quiet), ("2 Dec", LidState::Due), ("3 Dec", LidState::Late)] {
        assert_eq!(hives.standing(on).lid_state(day(on)), state, "{on}");
    }
}

#[test]
fn the_find_of_a_visit_comes_before_what_was_done_and_given() {
    let mut hives = Hives::given(Caged);
    hives.gave("24 Nov", Caged, OldQueen::AsRecorded, "c3 /c");
    let outcome = hives.outcome("24 Nov");
    assert_eq!(
        outcome.sentence,
        "Failed: 3 closed cells, cut. Give another, 26 Nov. Caged queen given. Acceptance look 1, 4, 8 Dec."
    );
    assert_eq!((outcome.class, outcome.settled), (StepDone, Some((Caged, false))));
    assert_eq!(hives.due("24 Nov"), "acceptance look 1, 4, 8 Dec");
    let Phase::Introduced(introduced) = hives.standing("24 Nov").phase else { panic!("a second queen is in") };
    assert_eq!(introduced.attempt, 2);
}

#[test]
fn the_count_of_brood_starts_anew_with_the_last_other_layer() {
    // The first caged queen may have been alive until the find that failed her: eggs of hers speak from four days after.
    let mut hives = Hives::given(Caged);
    hives.gave("24 Nov", Caged, OldQueen::AsRecorded, "c3 /c");
    hives.saw("27 Nov", "e");
    assert_eq!(hives.outcome("27 Nov").class, StillDue);
    hives.saw("28 Nov", "e");
    assert_eq!(hives.outcome("28 Nov").class, Laying);
}

#[test]
fn cells_left_standing_turn_a_failure_into_own_raising() {
    let mut hives = Hives::given(Caged);
    hives.saw("24 Nov", "c3");
    assert_eq!(hives.standing("24 Nov").offers, vec![Offer::LetCellStand]);
    hives.saw("25 Nov", "+s");
    assert_eq!(hives.due("25 Nov"), "first brood look 9, 12, 19 Dec");
    assert_eq!(hives.standing("25 Nov").phase, Phase::RaisingOwn { since: day("14 Nov") });
}

#[test]
fn a_queen_that_mated_here_without_a_dot_is_offered_for_marking() {
    let mut hives = Hives::given(Cell);
    hives.saw("29 Nov", "eq");
    assert_eq!(hives.standing("29 Nov").offers, vec![Offer::Mark]);
    assert_eq!(hives.due("29 Nov"), "");
    hives.saw("1 Dec", "eq +d");
    assert!(hives.standing("1 Dec").offers.is_empty());
    let QueenNow::Present(queen) = hives.standing("1 Dec").queen else { panic!("she is there") };
    assert_eq!(queen.dot.map(Dot::name), Some("white"));
    assert_eq!(queen.birth.latest.map(Day::year), Some(2026));
}

#[test]
fn marking_is_due_only_where_it_is_switched_on_and_is_never_late() {
    let mut hives = Hives::given(Cell);
    let settings = hives.world.settings.with("mark_step", 1.0).expect("a setting");
    hives.world.settings = std::sync::Arc::new(settings);
    assert_eq!(hives.due("28 Nov"), "first brood look 28, 29 Nov, 2 Dec");
    hives.saw("29 Nov", "e");
    let work = hives.standing("20 Mar").work;
    assert_eq!(work.len(), 1);
    assert_eq!((work[0].kind, work[0].window.latest), (WorkKind::Step(Step::Mark), None));
    assert_eq!(work[0].why, "No dot; accepted 29 Nov.");
    assert_eq!(hives.note("29 Nov").lines[2], "MARK HER");
    hives.saw("6 Dec", "e +d");
    assert_eq!(hives.due("6 Dec"), "");
    assert_eq!(
        Hives::given(Caged).due("20 Nov"),
        "acceptance look 21, 24, 28 Nov",
        "a caged queen came with her dot or without"
    );
}

#[test]
fn a_cell_older_than_twelve_days_from_its_graft_is_a_virgin() {
    use lidnote::domain::ids::ParcelId;
    use lidnote::domain::parcel::{Parcel, ParcelKind};
    use lidnote::domain::visit::{Given, Visit};
    let due = |given_on: &str| {
        let mut hives = Hives::new();
        let parcel = Parcel {
            id: ParcelId::from_number(1),
            source: None,
            kind: ParcelKind::Cells,
            count: 10,
            dead: 0,
            gone: 0,
            sent: None,
            due: None,
            promised: None,
            arrived: Some(day("11 Nov")),
            grafted: Some(day("1 Nov")),
            born: Birth::default(),
            dot: None,
            closed: false,
            note: String::new(),
        };
        hives.world.parcels.insert(parcel.id, parcel);
        let gave = Given {
            method: Cell,
            queen: hives.queen(Cell),
            parcel: Some(ParcelId::from_number(1)),
            old_queen: OldQueen::AsRecorded,
            emerged: None,
            cells: 1,
            against_bar: None,
        };
        let visit = Visit { gave: Some(gave), ..Visit::default() };
        hives.happened(B14, day(given_on), Happening::Visit(Box::new(visit)));
        hives.due(given_on)
    };
    assert_eq!(due("13 Nov"), "first brood look 27, 28 Nov, 1 Dec", "a cell on day 12");
    assert_eq!(due("14 Nov"), "first brood look 26, 27, 30 Nov", "a virgin that emerged on the 13th");
}

#[test]
fn a_temper_look_is_due_only_where_it_is_switched_on() {
    let mut hives = Hives::given(Caged);
    hives.saw("24 Nov", "e");
    assert_eq!(hives.standing("24 Nov").temper_from, Some(day("2 Jan")), "42 days from 21 Nov, the eggs' first day");
    assert_eq!(hives.due("2 Jan"), "");
    let settings = hives.world.settings.with("temper_look", 1.0).expect("a setting");
    hives.world.settings = std::sync::Arc::new(settings);
    assert_eq!(hives.due("24 Nov"), "temper look 2, 9, 16 Jan");
    hives.saw("9 Jan", "e t4");
    assert_eq!(hives.due("9 Jan"), "");
}

#[test]
fn another_queen_is_never_best_before_the_failed_one_is_found() {
    for (after, find) in [(2, 3), (0, 10), (9, 3), (2, 0)] {
        let mut hives = Hives::given(Cell);
        for (setting, value) in [("give_again_after", after), ("find_again_best", find), ("find_again_latest", 12)] {
            let settings = hives.world.settings.with(setting, f64::from(value)).expect("a setting");
            hives.world.settings = std::sync::Arc::new(settings);
        }
        hives.saw("12 Dec", "q");
        let work = hives.standing("12 Dec").work;
        let window = |step| work.iter().find(|due| due.kind == WorkKind::Step(step)).expect("due").window;
        let (found, given) = (window(Step::RemoveFailed), window(Step::Give));
        assert!(given.best >= found.best && given.latest >= found.latest, "{after}, {find}: {given:?} {found:?}");
        assert_eq!(given.best, day("12 Dec").plus(after.max(find)), "{after}, {find}");
    }
}
