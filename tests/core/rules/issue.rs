//! The worked examples that must hold, as far as the rules alone make them.

use std::collections::BTreeMap;

use lidnote::domain::colony::FirstQueen;
use lidnote::domain::fact::{Edit, Fact};
use lidnote::domain::ids::ColonyId;
use lidnote::domain::standing::OutcomeClass::{self, Another, Barred, Laying, NotYet, StillDue, ToDecide};
use lidnote::domain::standing::{LidState, Phase, course, standing};
use lidnote::domain::visit::Method::{Caged, Cell};
use lidnote::domain::visit::OldQueen;
use lidnote::domain::work::{Step, WorkKind};

use super::finds::check;
use super::hives::{B14, Hives, day, due_words, find};

#[test]
fn a_caged_queen_is_due_and_late_on_her_days() {
    let hives = Hives::given(Caged);
    assert_eq!(hives.due("14 Nov"), "acceptance look 21, 24, 28 Nov");
    let days =
        [("20 Nov", LidState::Quiet), ("21 Nov", LidState::Due), ("28 Nov", LidState::Due), ("29 Nov", LidState::Late)];
    for (on, state) in days {
        assert_eq!(hives.standing(on).lid_state(day(on)), state, "{on}");
    }
    let mut over_new_year = Hives::new();
    over_new_year.gave("28 Dec", Caged, OldQueen::RemovedOn(day("28 Dec")), "");
    assert_eq!(over_new_year.due("28 Dec"), "acceptance look 4, 7, 11 Jan");
}

#[test]
fn a_cell_goes_from_not_yet_to_late_layer_or_good() {
    assert_eq!(Hives::given(Cell).due("14 Nov"), "first brood look 28, 29 Nov, 2 Dec");
    let capped = ("29 Nov", "b");
    check(
        Cell,
        &[capped],
        NotYet,
        "Capped brood only: may be the old queen's. Verdict 10, 12, 14 Dec.",
        "verdict look 10, 12, 14 Dec",
    );
    check(
        Cell,
        &[capped, ("12 Dec", "e")],
        Laying,
        "Laying late, identity unconfirmed. Capped-brood look 21, 24, 28 Dec.",
        "capped-brood look 21, 24, 28 Dec",
    );
    check(Cell, &[capped, ("12 Dec", "e b")], Laying, "Laying, identity unconfirmed. Accepted, nothing due.", "");
}

#[test]
fn six_old_queens_not_found_are_six_steps_to_find_them() {
    let mut hives = Hives::new();
    for number in 100..140 {
        let id = ColonyId::from_number(number);
        hives.colony(id, &format!("H{number}"), FirstQueen::Unknown);
        if number < 134 {
            hives.gave_to(id, day("14 Nov"), Caged, OldQueen::AsRecorded, None, "/q");
        } else {
            hives.happened(id, day("14 Nov"), find("?q"));
        }
    }
    let mut given = 0;
    let mut to_find = 0;
    for number in 100..140 {
        let standing = standing(&hives.world, ColonyId::from_number(number), day("14 Nov")).expect("the hive");
        given += usize::from(matches!(standing.phase, Phase::Introduced(_)));
        to_find += standing.work.iter().filter(|due| due.kind == WorkKind::Step(Step::FindOldQueen)).count();
    }
    assert_eq!((given, to_find), (34, 6));
}

#[test]
fn a_find_on_the_wrong_hive_is_put_right() {
    let b15 = ColonyId::from_number(15);
    let mut hives = Hives::given(Caged);
    hives.colony(b15, "B15", FirstQueen::Unknown);
    hives.gave_to(b15, day("14 Nov"), Caged, OldQueen::AsRecorded, None, "/q");
    let wrong = hives.happened(B14, day("24 Nov"), find("e q"));
    assert_eq!(hives.standing("30 Nov").lid_state(day("30 Nov")), LidState::Quiet);

    let before = hives.world.record(B14, wrong).expect("the record").clone();
    let mut after = before.clone();
    after.colony = b15;
    let amendment = Fact::Record(Box::new(Edit::alter(before, after)));
    let old_world = hives.world.clone();
    hives.world.advance(&amendment);
    assert_eq!(hives.standing("30 Nov").lid_state(day("30 Nov")), LidState::Late, "B14 is late again");
    let right = standing(&hives.world, b15, day("30 Nov")).expect("B15");
    assert_eq!(right.phase, Phase::Accepted { on: day("24 Nov") });
    assert_eq!(due_words(&right), "");
    hives.world.advance(&amendment.inverse());
    assert_eq!(hives.world, old_world, "one undo restores");
}

#[test]
fn sixty_rows_of_an_evening_are_counted_once_each() {
    let mut hives = Hives::new();
    let rows = [("e q", 52), ("c2", 3), ("u", 1), ("x", 1), ("-r", 2), ("p", 1)];
    let mut counts: BTreeMap<OutcomeClass, u32> = BTreeMap::new();
    let mut still_due = 0;
    let mut number = 100;
    for (codes, times) in rows {
        for _ in 0..times {
            number += 1;
            let id = ColonyId::from_number(number);
            hives.colony(id, &format!("H{number}"), FirstQueen::Unknown);
            hives.gave_to(id, day("14 Nov"), Caged, OldQueen::AsRecorded, None, "/q");
            hives.happened(id, day("24 Nov"), find(codes));
            let course = course(&hives.world, id, day("24 Nov")).expect("the hive");
            let outcome = &course.outcomes.last().expect("the find").1;
            *counts.entry(outcome.class).or_default() += 1;
            still_due += u32::from(due_words(&course.standing) == "acceptance look 21, 24, 28 Nov");
        }
    }
    let expected = [(Laying, 52), (ToDecide, 3), (Another, 1), (Barred, 1), (StillDue, 3)];
    assert_eq!(counts, BTreeMap::from(expected));
    assert_eq!(still_due, 4, "three unopened or in part, and her look that stays");
}
