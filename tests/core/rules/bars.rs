//! Bars by method, how they end, and what they do to due work.

use std::sync::Arc;

use lidnote::domain::bar::{Bar, BarKind, BarOn, Lifted};
use lidnote::domain::carried_off::carried_off;
use lidnote::domain::change::Change;
use lidnote::domain::colony::{End, EndWhy, Stand};
use lidnote::domain::day::Day;
use lidnote::domain::ids::{BarId, YardId};
use lidnote::domain::place::Hemisphere;
use lidnote::domain::record::Happening;
use lidnote::domain::standing::bars::{plan_allowed, season_bar};
use lidnote::domain::standing::{LidState, Phase};
use lidnote::domain::visit::Method::{self, Caged, Cell, Nuc, PushIn, Virgin};
use lidnote::domain::visit::{Given, OldQueen, Visit};
use lidnote::domain::yard::Yard;

use super::hives::{B14, Hives, day, visit};

fn set(hives: &mut Hives, on: BarOn, kind: BarKind) -> BarId {
    let id = BarId::from_number(1);
    let bar = Bar {
        id,
        on,
        kind,
        from: day("10 Nov"),
        until: None,
        reason: String::new(),
        by: "MK".to_owned(),
        permit: None,
        lifted: None,
    };
    hives.world.bars.insert(id, bar);
    id
}

#[track_caller]
fn allowed(hives: &Hives, method: Method, on: &str, overrule: bool, expected: Option<BarKind>) {
    let answer = plan_allowed(&hives.world, B14, method, day(on), overrule);
    assert_eq!(answer.err().map(|bar| bar.kind), expected, "{method:?} on {on}");
}

#[test]
fn disease_bars_every_method_until_it_is_cleared_on_record() {
    for (codes, kind) in [
        ("x", BarKind::AmericanFoulbrood),
        ("x1", BarKind::AmericanFoulbrood),
        ("x2", BarKind::Disease),
        ("x3", BarKind::Disease),
    ] {
        let mut hives = Hives::new();
        hives.saw("10 Nov", codes);
        for method in Method::ALL {
            allowed(&hives, method, "14 Nov", true, Some(kind));
        }
        allowed(&hives, Caged, "9 Nov", false, None);
        hives.happened(B14, day("12 Nov"), Happening::BarLifted { why: "inspector: clear".to_owned() });
        allowed(&hives, Caged, "14 Nov", false, None);
    }
}

#[test]
fn a_disease_named_later_takes_its_own_bar() {
    let mut hives = Hives::new();
    hives.saw("10 Nov", "x");
    hives.saw("11 Nov", "x2");
    allowed(&hives, Caged, "14 Nov", true, Some(BarKind::Disease));
    hives.saw("12 Nov", "x1");
    hives.saw("13 Nov", "x2");
    allowed(&hives, Caged, "14 Nov", true, Some(BarKind::AmericanFoulbrood));
}

#[test]
fn laying_workers_bar_cages_cells_and_virgins_only() {
    let mut hives = Hives::new();
    hives.saw("10 Nov", "w");
    for method in [Caged, PushIn, Cell, Virgin] {
        allowed(&hives, method, "14 Nov", true, Some(BarKind::LayingWorkers));
    }
    allowed(&hives, Nuc, "14 Nov", false, None);
    hives.happened(B14, day("12 Nov"), Happening::BarLifted { why: "shaken out, workers gone".to_owned() });
    allowed(&hives, Caged, "14 Nov", false, None);
}

#[test]
fn a_quarantined_yard_keeps_its_looks_and_plans_nothing_without_a_permit() {
    let mut hives = Hives::given(Caged);
    let bar = set(&mut hives, BarOn::Yard(YardId::from_number(1)), BarKind::Quarantine);
    allowed(&hives, Caged, "14 Nov", true, Some(BarKind::Quarantine));
    assert_eq!(hives.due("24 Nov"), "acceptance look 21, 24, 28 Nov");
    assert_eq!(hives.standing("24 Nov").lid_state(day("24 Nov")), LidState::Due);
    assert_eq!(hives.standing("20 Nov").lid_state(day("20 Nov")), LidState::Barred);
    hives.plan("15 Nov", Caged, "1 Dec", Some("1 Dec"));
    assert_eq!(hives.due("24 Nov"), "acceptance look 21, 24, 28 Nov");
    hives.world.bars.get_mut(&bar).expect("the bar").permit = Some("P 12".to_owned());
    allowed(&hives, Caged, "14 Nov", false, None);
}

#[test]
fn soft_bars_can_be_overruled_and_end_on_their_day() {
    let mut hives = Hives::new();
    let bar = set(&mut hives, BarOn::Colony(B14), BarKind::Treatment);
    allowed(&hives, Caged, "14 Nov", false, Some(BarKind::Treatment));
    allowed(&hives, Caged, "14 Nov", true, None);
    hives.world.bars.get_mut(&bar).expect("the bar").until = Some(day("20 Nov"));
    allowed(&hives, Caged, "20 Nov", false, Some(BarKind::Treatment));
    allowed(&hives, Caged, "21 Nov", false, None);
    let lifted = Lifted { on: day("15 Nov"), by: "MK".to_owned(), why: "strips out".to_owned() };
    hives.world.bars.get_mut(&bar).expect("the bar").lifted = Some(lifted);
    allowed(&hives, Caged, "14 Nov", false, Some(BarKind::Treatment));
    allowed(&hives, Caged, "15 Nov", false, None);
    assert_eq!(hives.standing("14 Nov").lid_state(day("14 Nov")), LidState::Quiet);
}

#[test]
fn a_disease_bar_set_by_hand_rests_the_looks_too() {
    let mut hives = Hives::given(Caged);
    set(&mut hives, BarOn::Colony(B14), BarKind::AmericanFoulbrood);
    assert_eq!(hives.due("24 Nov"), "isolate, report from 10 Nov");
    assert_eq!(hives.standing("24 Nov").phase, Phase::DiseaseSuspected { on: day("10 Nov") });
    let lifted = Lifted { on: day("25 Nov"), by: "MK".to_owned(), why: "laboratory: negative".to_owned() };
    hives.world.bars.values_mut().for_each(|bar| bar.lifted = Some(lifted.clone()));
    assert_eq!(hives.due("24 Nov"), "isolate, report from 10 Nov");
    assert_eq!(hives.due("25 Nov"), "acceptance look 21, 24, 28 Nov", "it comes back, dated by the days gone by");
}

#[test]
fn steps_of_a_plan_rest_while_disease_is_suspected_and_come_back() {
    let mut hives = Hives::new();
    hives.plan("1 Nov", Caged, "14 Nov", Some("14 Nov"));
    hives.saw("10 Nov", "x1");
    assert_eq!(hives.due("14 Nov"), "isolate, report from 10 Nov");
    hives.happened(B14, day("12 Nov"), Happening::BarLifted { why: "inspector: clear".to_owned() });
    assert_eq!(hives.due("14 Nov"), "dequeen 14, 14, 15 Nov; give 14, 14, 15 Nov");
    // A colony that waited raises its own by the time the bar is lifted.
    let mut waiting = Hives::new();
    waiting.saw("13 Nov", "/q");
    waiting.saw("15 Nov", "x");
    waiting.happened(B14, day("1 Dec"), Happening::BarLifted { why: "inspector: clear".to_owned() });
    assert_eq!(waiting.due("1 Dec"), "first brood look 8, 11, 18 Dec");
}

#[test]
fn swarm_cells_are_a_soft_bar_until_the_look_again_is_over() {
    let mut hives = Hives::new();
    hives.saw("1 Nov", "e c4");
    allowed(&hives, Caged, "5 Nov", false, Some(BarKind::Swarming));
    allowed(&hives, Caged, "5 Nov", true, None);
    allowed(&hives, Caged, "11 Nov", false, None);
}

#[test]
fn the_season_window_is_a_soft_bar_in_both_hemispheres() {
    let mut hives = Hives::new();
    let outside = |hives: &Hives, on: &str| season_bar(&hives.world, day(on)).map(|bar| bar.until.expect("an end"));
    assert_eq!(outside(&hives, "14 Nov"), None);
    assert_eq!(outside(&hives, "31 Mar"), None);
    assert_eq!(outside(&hives, "1 Sep"), None);
    assert_eq!(outside(&hives, "1 Apr").map(Day::short), Some("31 Aug".to_owned()));
    allowed(&hives, Caged, "1 Apr", false, Some(BarKind::Season));
    allowed(&hives, Caged, "1 Apr", true, None);
    hives.world.firm.hemisphere = Hemisphere::North;
    assert_eq!(outside(&hives, "1 Apr"), None);
    assert_eq!(outside(&hives, "30 Sep"), None);
    assert_eq!(outside(&hives, "14 Nov").map(Day::short), Some("28 Feb".to_owned()));
}

#[test]
fn a_queen_given_against_a_bar_is_recorded_with_a_loud_flag() {
    let mut hives = Hives::new();
    let queen = hives.queen(Caged);
    let gave = Given {
        method: Caged,
        queen,
        parcel: None,
        old_queen: OldQueen::AsRecorded,
        emerged: None,
        cells: 1,
        against_bar: Some("quarantine".to_owned()),
    };
    hives.happened(B14, day("14 Nov"), Happening::Visit(Box::new(Visit { gave: Some(gave), ..visit("/q") })));
    assert_eq!(hives.standing("14 Nov").flags, ["Given 14 Nov against a bar: quarantine"]);
    assert_eq!(hives.due("14 Nov"), "acceptance look 21, 24, 28 Nov");
}

#[test]
fn nothing_said_of_a_barred_hive_offers_a_queen() {
    for codes in ["c3 /c", "c3", "n", "m", "u", "q", "e", "d", "w", "o", "/q", "s", "-r"] {
        let mut hives = Hives::given(Caged);
        hives.saw("20 Nov", "x1");
        hives.saw("24 Nov", codes);
        let said = hives.outcome("24 Nov").sentence;
        assert!(said.ends_with(". The bar for disease still holds: no queen."), "{codes}: {said}");
        assert!(!said.to_lowercase().contains("give") && !said.contains("requeen"), "{codes}: {said}");
        assert!(hives.standing("24 Nov").offers.is_empty(), "{codes}");
    }
    let mut hives = Hives::given(Caged);
    hives.saw("20 Nov", "x1");
    hives.saw("24 Nov", "c3 /c");
    assert_eq!(
        hives.outcome("24 Nov").sentence,
        "3 closed cells, cells cut. The bar for disease still holds: no queen."
    );
}

/// B14 is moved to a second yard.
fn moved(hives: &mut Hives, on: &str) {
    let to = YardId::from_number(2);
    hives.world.yards.insert(to, Arc::new(Yard::named(to, "Heath")));
    hives.alter(B14, |hive| hive.stands.push(Stand { yard: to, spot: None, from: day(on) }));
}

#[test]
fn a_hive_carried_out_of_a_quarantined_yard_takes_the_quarantine_along() {
    let mut hives = Hives::new();
    let bar = set(&mut hives, BarOn::Yard(YardId::from_number(1)), BarKind::Quarantine);
    moved(&mut hives, "20 Nov");
    allowed(&hives, Caged, "24 Nov", true, Some(BarKind::Quarantine));
    let standing = hives.standing("24 Nov");
    assert_eq!(standing.bars[0].reason, "it came from Broom Flat 20 Nov");
    assert_eq!(standing.lid_state(day("24 Nov")), LidState::Barred);
    assert_eq!(standing.flags, ["Moved out of Broom Flat 20 Nov against a bar: quarantine"]);
    let lifted = Lifted { on: day("25 Nov"), by: "MK".to_owned(), why: "the inspector".to_owned() };
    hives.world.bars.get_mut(&bar).expect("the bar").lifted = Some(lifted);
    allowed(&hives, Caged, "25 Nov", false, None);
    assert!(hives.standing("25 Nov").flags.is_empty());
}

#[test]
fn a_hive_that_left_before_the_quarantine_is_free_and_one_that_came_back_is_barred_once() {
    let mut hives = Hives::new();
    set(&mut hives, BarOn::Yard(YardId::from_number(1)), BarKind::Quarantine);
    moved(&mut hives, "9 Nov");
    allowed(&hives, Caged, "24 Nov", false, None);
    let mut hives = Hives::new();
    set(&mut hives, BarOn::Yard(YardId::from_number(1)), BarKind::Quarantine);
    moved(&mut hives, "20 Nov");
    hives.alter(B14, |hive| {
        hive.stands.push(Stand { yard: YardId::from_number(1), spot: None, from: day("22 Nov") });
    });
    assert_eq!(hives.standing("24 Nov").bars.len(), 1);
}

#[test]
fn moving_or_selling_a_hive_that_is_to_stay_is_said_before_it_is_done() {
    let mut hives = Hives::new();
    moved(&mut hives, "20 Nov");
    let back = Change::Move { to: vec![(B14, YardId::from_number(1), None)], day: day("24 Nov") };
    let in_the_yard = Change::Move { to: vec![(B14, YardId::from_number(2), None)], day: day("24 Nov") };
    let end = |why| {
        let end = End { day: day("24 Nov"), why, by: "MK".to_owned(), words: String::new() };
        Change::End { colonies: vec![B14], end }
    };
    assert!(carried_off(&hives.world, &back, day("24 Nov")).is_empty());
    hives.saw("21 Nov", "x1");
    let words = ["B14: disease suspected. It is to stay where it is until the authority has seen it"];
    assert_eq!(carried_off(&hives.world, &back, day("24 Nov")), words);
    assert_eq!(carried_off(&hives.world, &end(EndWhy::Sold), day("24 Nov")), words);
    assert!(carried_off(&hives.world, &end(EndWhy::Died), day("24 Nov")).is_empty());
    assert!(carried_off(&hives.world, &in_the_yard, day("24 Nov")).is_empty(), "to another place in its yard");
}

#[test]
fn a_hive_moved_with_disease_suspected_says_so() {
    let mut hives = Hives::new();
    hives.saw("10 Nov", "x1");
    moved(&mut hives, "20 Nov");
    let flags = hives.standing("24 Nov").flags;
    assert_eq!(flags, ["Moved out of Broom Flat 20 Nov against a bar: disease suspected"]);
}
