//! Two hives, or two places: splits, unitings, swarms, moves and second queens.

use std::sync::Arc;

use lidnote::domain::bar::{Bar, BarKind, BarOn};
use lidnote::domain::colony::{FirstQueen, Stand};
use lidnote::domain::ids::{BarId, ColonyId, YardId};
use lidnote::domain::record::Happening;
use lidnote::domain::standing::OutcomeClass::{Laying, NotYet, Noted};
use lidnote::domain::standing::{Phase, standing};
use lidnote::domain::visit::Method::{Caged, Cell, Virgin};
use lidnote::domain::visit::{Did, OldQueen, Visit};
use lidnote::domain::yard::Yard;

use super::finds::check;
use super::hives::{B14, Hives, day, due_words};

const B15: ColonyId = ColonyId::from_number(15);

#[test]
fn a_daughter_left_to_itself_raises_its_own() {
    let mut hives = Hives::new();
    hives.colony(B15, "B15", FirstQueen::None);
    hives.alter(B15, |colony| colony.founded = day("13 Nov"));
    let on = |today: &str| standing(&hives.world, B15, day(today)).expect("B15 is there");
    assert_eq!(on("22 Nov").phase, Phase::Waiting { since: day("13 Nov") });
    assert_eq!(on("23 Nov").phase, Phase::RaisingOwn { since: day("13 Nov") });
    assert_eq!(due_words(&on("23 Nov")), "first brood look 8, 11, 18 Dec");
}

#[test]
fn a_queen_who_goes_with_a_split_has_not_failed() {
    let mut hives = Hives::given(Caged);
    let did = Did { dequeened: true, queen_to: Some(B15), ..Did::default() };
    hives.happened(B14, day("20 Nov"), Happening::Visit(Box::new(Visit { did, ..Visit::default() })));
    assert_eq!(hives.outcome("20 Nov").settled, None, "she goes on elsewhere");
    assert_eq!(hives.standing("20 Nov").phase, Phase::Waiting { since: day("20 Nov") });
}

#[test]
fn brood_of_a_united_colony_proves_nothing_for_a_time() {
    let mut settled = Hives::new();
    settled.colony(B15, "B15", FirstQueen::Unknown);
    settled.happened(B14, day("20 Nov"), Happening::Received(B15));
    assert_eq!((settled.outcome("20 Nov").class, settled.due("20 Nov").as_str()), (Noted, ""));

    let mut hives = Hives::given(Caged);
    hives.colony(B15, "B15", FirstQueen::Unknown);
    hives.happened(B14, day("20 Nov"), Happening::Received(B15));
    let mut early = hives.clone();
    early.saw("23 Nov", "e");
    assert_eq!(early.outcome("23 Nov").class, NotYet, "eggs of three days ago can be the other's");
    hives.saw("24 Nov", "e");
    assert_eq!(hives.outcome("24 Nov").class, Laying);
}

#[test]
fn a_swarm_takes_the_queen_unless_she_is_seen() {
    let mut hives = Hives::new();
    hives.saw("1 Nov", "s e c5");
    assert_eq!(hives.outcome("1 Nov").sentence, "Swarmed: raising her own. First brood look 26, 29 Nov, 6 Dec.");
    // The eggs are those of the queen who left.
    hives.saw("4 Nov", "e");
    assert_eq!(hives.outcome("4 Nov").sentence, "Too early: no evidence. First brood look stays: 26, 29 Nov, 6 Dec.");

    let mut seen = Hives::given(Caged);
    seen.saw("24 Nov", "s e q");
    assert_eq!(seen.outcome("24 Nov").sentence, "Swarmed. Laying, her seen. Accepted, nothing due.");
    assert_eq!(seen.standing("24 Nov").bars.first().map(|bar| bar.kind), Some(BarKind::Swarming));
    assert_eq!(seen.due("24 Nov"), "");
}

#[test]
fn a_moved_hive_keeps_its_looks_and_takes_the_bars_of_its_new_yard() {
    let mut hives = Hives::given(Caged);
    let other = YardId::from_number(2);
    hives.world.yards.insert(other, Arc::new(Yard::named(other, "Marl Pit")));
    let bar = Bar {
        id: BarId::from_number(1),
        on: BarOn::Yard(other),
        kind: BarKind::Quarantine,
        from: day("1 Nov"),
        until: None,
        reason: "order 14".to_owned(),
        by: "MK".to_owned(),
        permit: None,
        lifted: None,
    };
    hives.world.bars.insert(bar.id, bar);
    hives.alter(B14, |colony| colony.stands.push(Stand { yard: other, spot: None, from: day("20 Nov") }));
    assert!(hives.standing("19 Nov").bars.is_empty());
    assert_eq!(hives.standing("20 Nov").bars.first().map(|bar| bar.kind), Some(BarKind::Quarantine));
    assert_eq!(hives.due("20 Nov"), "acceptance look 21, 24, 28 Nov");
}

#[test]
fn queens_given_one_after_another_are_counted_until_one_is_accepted() {
    let mut hives = Hives::given(Caged);
    hives.saw("24 Nov", "c3 /c");
    hives.gave("26 Nov", Caged, OldQueen::AsRecorded, "");
    hives.saw("6 Dec", "c1 /c");
    hives.gave("8 Dec", Caged, OldQueen::AsRecorded, "");
    assert_eq!(hives.note("8 Dec").lines, ["B14 3RD IN 8 DEC", "white, Thrift", "SHUT TO 15 SEE 18"]);
    hives.saw("18 Dec", "eq");
    hives.gave("4 Jan", Caged, OldQueen::RemovedOn(day("4 Jan")), "/q");
    assert_eq!(hives.note("4 Jan").lines[0], "B14 CAGE IN 4 JAN", "a new beginning after an acceptance");
}

#[test]
fn a_virgin_counts_from_the_day_she_emerged() {
    let due = |emerged: Option<&str>| {
        let mut hives = Hives::new();
        let removed = OldQueen::RemovedOn(day("13 Nov"));
        hives.gave_to(B14, day("14 Nov"), Virgin, removed, emerged.map(day), "");
        hives.due("14 Nov")
    };
    assert_eq!(due(Some("10 Nov")), "first brood look 23, 24, 27 Nov");
    assert_eq!(due(None), "first brood look 27, 28 Nov, 1 Dec", "not known: from the day she was given");
    assert_eq!(due(Some("1 Nov")), "first brood look 15, 15, 18 Nov", "never before she was given");
}

#[test]
fn eggs_count_from_part_of_the_nest_too() {
    let accepted = "Laying, identity unconfirmed. Accepted, nothing due.";
    check(Caged, &[("24 Nov", "p e")], Laying, accepted, "");
    check(Cell, &[("29 Nov", "p l")], Laying, accepted, "");
}
