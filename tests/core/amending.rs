//! Putting right what the register says: records at the wrong hive, splits and unitings of the wrong day, how a colony
//! began, its queens and its note. What it said before stays readable, and one undo takes it back.

use lidnote::domain::change::{Amendment, Change, Correction};
use lidnote::domain::colony::{EndWhy, FirstQueen, Founding};
use lidnote::domain::decide::{decide, title};
use lidnote::domain::ids::{ColonyId, QueenId, RecordId, SourceId};
use lidnote::domain::queen::{Birth, Dot, Origin, Queen, Source};
use lidnote::domain::record::Happening;
use lidnote::domain::refusal::RefusalKind;
use lidnote::domain::standing::{AgeClass, Phase, QueenNow, standing};

use crate::kit::{Kit, day};

const TODAY: &str = "2026-11-24";

fn correction(hive: ColonyId) -> Correction {
    Correction::of(hive, "wrong in the file", "MK")
}

fn correct(correction: &Correction) -> Change {
    Change::Correct(Box::new(correction.clone()))
}

#[track_caller]
fn refused(kit: &Kit, change: &Change) -> (RefusalKind, String) {
    let refusal = decide(&kit.world, change, day(TODAY)).expect_err("a refusal");
    (refusal.kind, refusal.fact.clone())
}

fn queen(kit: &mut Kit) -> Queen {
    Queen {
        id: QueenId(kit.id()),
        birth: Birth::in_month(2024, 10),
        origin: Origin::WithColony,
        source: None,
        dot: Some(Dot::Green),
        words: String::new(),
    }
}

#[test]
fn a_moved_record_stays_readable_at_the_hive_it_left() {
    let (mut kit, hives) = Kit::with_hives(&["B14", "B15", "B16"]);
    let record = kit.enter(hives[0], "2026-11-20", "eq 'on 6 frames");
    let to = |kit: &mut Kit, from: ColonyId, to: ColonyId, reason: &str| {
        let amendment = Amendment { to: Some(to), ..Amendment::of(from, record, reason, "MK") };
        kit.apply(&Change::Amend(Box::new(amendment)), day(TODAY))
    };
    let away = |kit: &Kit, hive: ColonyId| {
        let moved = kit.world.moved_away_from(hive);
        let name = |id: ColonyId| kit.world.colonies[&id].name().to_owned();
        moved
            .map(|it| (it.left.day.short(), it.left.said.clone(), name(it.to), it.amended.reason.clone()))
            .collect::<Vec<_>>()
    };
    let said = || "Eggs, her seen (on 6 frames)".to_owned();
    to(&mut kit, hives[0], hives[1], "wrong row");
    assert_eq!(away(&kit, hives[0]), [("20 Nov".to_owned(), said(), "B15".to_owned(), "wrong row".to_owned())]);
    assert!(away(&kit, hives[1]).is_empty());
    let facts = to(&mut kit, hives[1], hives[2], "wrong again");
    assert_eq!(away(&kit, hives[0])[0].2, "B15", "where it went from here");
    assert_eq!(away(&kit, hives[1])[0].2, "B16");
    kit.undo(&facts);
    assert!(away(&kit, hives[1]).is_empty());
    to(&mut kit, hives[1], hives[0], "right at first");
    assert!(away(&kit, hives[0]).is_empty(), "it is there, with its amendments");
}

#[test]
fn a_queen_is_given_her_true_birth_dot_source_and_origin() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let source = Source { id: SourceId(kit.id()), name: "Thrift".to_owned(), own: true };
    kit.apply(&Change::PutSource(source.clone()), day(TODAY));
    let first = queen(&mut kit);
    let known = Correction {
        began_with: Some(FirstQueen::Recorded(first.id)),
        queens: vec![first.clone()],
        ..correction(hives[0])
    };
    kit.apply(&correct(&known), day(TODAY));
    let facts = |kit: &Kit| match standing(&kit.world, hives[0], day(TODAY)).expect("a standing").queen {
        QueenNow::Present(facts) => facts,
        other => panic!("{other:?}"),
    };
    assert_eq!((facts(&kit).birth, facts(&kit).dot), (Birth::in_month(2024, 10), Some(Dot::Green)));
    let before = kit.world.clone();
    let right = Queen {
        birth: Birth::on(day("2025-10-12")),
        source: Some(source.id),
        dot: Some(Dot::Blue),
        origin: Origin::Mated,
        ..first
    };
    let change = correct(&Correction { queens: vec![right.clone()], ..correction(hives[0]) });
    assert_eq!(title(&kit.world, &change), "B14 queen's details corrected");
    let done = kit.apply(&change, day(TODAY));
    assert_eq!((facts(&kit).birth, facts(&kit).source, facts(&kit).dot), (right.birth, right.source, right.dot));
    let class = standing(&kit.world, hives[0], day(TODAY)).expect("a standing").age_class(&kit.world, day(TODAY));
    assert_eq!(class, AgeClass::Second, "what follows is computed again");
    let notes = &kit.world.colonies[&hives[0]].corrected;
    assert_eq!(notes[0].was, "queen not known");
    assert_eq!(notes[1].was, "queen born Oct 2024, dot green, came with the colony");
    assert_eq!((notes[1].on, notes[1].reason.as_str()), (day(TODAY), "wrong in the file"));
    assert_eq!(kit.apply(&change, day(TODAY)), Vec::new(), "nothing more to alter");
    kit.undo(&done);
    assert!(kit.world == before);
}

#[test]
fn a_colony_began_on_another_day_and_otherwise() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    kit.enter(hives[0], "2026-11-10", "e");
    let early = Correction { founded: Some(day("2026-08-20")), how: Some(Founding::Swarm), ..correction(hives[0]) };
    assert_eq!(title(&kit.world, &correct(&early)), "B14 beginning corrected");
    kit.apply(&correct(&early), day(TODAY));
    let colony = kit.world.colonies[&hives[0]].clone();
    assert_eq!((colony.founded, colony.how), (day("2026-08-20"), Founding::Swarm));
    assert_eq!((colony.names[0].from, colony.stands[0].from), (colony.founded, colony.founded));
    assert_eq!(colony.corrected[0].was, "there already, founded 1 Sep");
    // A find of August can be recorded now.
    kit.enter(hives[0], "2026-08-25", "e");

    let founded = |on: &str| correct(&Correction { founded: Some(day(on)), ..correction(hives[0]) });
    let late = "B14 has a record of 25 Aug, before 1 Sep".to_owned();
    assert_eq!(refused(&kit, &founded("2026-09-01")), (RefusalKind::Impossible, late));
    assert_eq!(refused(&kit, &founded("2026-11-25")).0, RefusalKind::Impossible);
    let queenless = correct(&Correction { began_with: Some(FirstQueen::None), ..correction(hives[0]) });
    kit.apply(&queenless, day("2026-08-24"));
    let then = standing(&kit.world, hives[0], day("2026-08-24")).expect("a standing");
    assert_eq!(then.phase, Phase::Waiting { since: day("2026-08-20") });
}

#[test]
fn a_correction_needs_a_reason_a_queen_and_days_that_can_be() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let silent = Correction { how: Some(Founding::Nuc), ..Correction::of(hives[0], " ", "MK") };
    assert_eq!(refused(&kit, &correct(&silent)).0, RefusalKind::BadValue);
    let stranger = queen(&mut kit);
    let nowhere = Correction { queens: vec![stranger.clone()], ..correction(hives[0]) };
    assert_eq!(refused(&kit, &correct(&nowhere)).0, RefusalKind::Missing);
    let born_later = Queen { birth: Birth::on(day("2026-11-01")), ..stranger };
    let began_with = Some(FirstQueen::Recorded(born_later.id));
    let too_young = Correction { began_with, queens: vec![born_later], ..correction(hives[0]) };
    let fact = "B14 was founded on 1 Sep, before her birth on 1 Nov".to_owned();
    assert_eq!(refused(&kit, &correct(&too_young)), (RefusalKind::Impossible, fact));
    let note = |text: &str| correct(&Correction { note: Some(text.to_owned()), ..Correction::of(hives[0], "", "MK") });
    kit.apply(&note("hot, veil on early"), day(TODAY));
    assert_eq!(kit.world.colonies[&hives[0]].note, "hot, veil on early", "a note is free words");
    assert_eq!(title(&kit.world, &note("calm")), "B14 note altered");
    assert_eq!(kit.apply(&note("hot, veil on early"), day(TODAY)), Vec::new());
}

/// B14 split on 20 Nov, its queen going with B15; the ids of the two records.
fn split() -> (Kit, ColonyId, ColonyId, [RecordId; 2]) {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let yard = kit.world.colonies[&hives[0]].yard().expect("a yard");
    let daughter = kit.colony(yard, "B15", day("2026-11-20"));
    let records = [RecordId(kit.id()), RecordId(kit.id())];
    let (id, by) = (daughter.id, "MK".to_owned());
    let change = Change::Split { parent: hives[0], daughter: Box::new(daughter), queen_goes: true, records, by };
    kit.apply(&change, day(TODAY));
    (kit, hives[0], id, records)
}

#[test]
fn a_split_put_on_the_wrong_day_is_dated_right_at_both_hives() {
    let (mut kit, parent, daughter, [split_off, queen_left]) = split();
    let founded = correct(&Correction { founded: Some(day("2026-11-18")), ..correction(daughter) });
    assert_eq!(refused(&kit, &founded).1, "B15 was split off B14");
    let before = kit.world.clone();
    let dated = |on: &str| {
        let amendment = Amendment::of(parent, split_off, "a day too late", "MK");
        Change::Amend(Box::new(Amendment { day: Some(day(on)), ..amendment }))
    };
    let facts = kit.apply(&dated("2026-11-18"), day(TODAY));
    assert_eq!(kit.world.colonies[&daughter].founded, day("2026-11-18"));
    assert_eq!(kit.world.record(parent, queen_left).map(|record| record.day), Some(day("2026-11-18")));
    let waiting = standing(&kit.world, parent, day(TODAY)).expect("a standing").phase;
    assert_eq!(waiting, Phase::Waiting { since: day("2026-11-18") });
    kit.undo(&facts);
    assert!(kit.world == before);
    kit.enter(daughter, "2026-11-21", "e");
    assert_eq!(refused(&kit, &dated("2026-11-22")).1, "B15 has a record of 21 Nov, before 22 Nov");
    let strike = Amendment { strike: true, ..Amendment::of(parent, split_off, "never made", "MK") };
    assert_eq!(refused(&kit, &Change::Amend(Box::new(strike))).1, "B15 was founded by that split");
}

#[test]
fn a_queen_who_stayed_after_all_leaves_the_daughter_without_one() {
    let (mut kit, parent, daughter, [_, queen_left]) = split();
    let strike = Amendment { strike: true, ..Amendment::of(parent, queen_left, "she stayed", "MK") };
    kit.apply(&Change::Amend(Box::new(strike)), day(TODAY));
    assert_eq!(kit.world.colonies[&daughter].began_with, FirstQueen::None);
    let queen = |hive| standing(&kit.world, hive, day(TODAY)).expect("a standing").queen;
    assert!(matches!(queen(parent), QueenNow::Present(_)) && matches!(queen(daughter), QueenNow::Waiting { .. }));
}

#[test]
fn a_mark_put_on_the_wrong_queen_is_taken_off_her_card() {
    let (mut kit, hives) = Kit::with_hives(&["B14", "B15"]);
    for hive in &hives {
        kit.enter(*hive, "2026-11-01", "+c");
    }
    let record = kit.enter(hives[0], "2026-11-20", "eq +d");
    let dot = |kit: &Kit, hive| match standing(&kit.world, hive, day(TODAY)).expect("a standing").queen {
        QueenNow::Present(facts) => facts.dot,
        other => panic!("{other:?}"),
    };
    assert_eq!((dot(&kit, hives[0]), dot(&kit, hives[1])), (Some(Dot::White), None));
    let amendment = Amendment { to: Some(hives[1]), ..Amendment::of(hives[0], record, "wrong row", "MK") };
    kit.apply(&Change::Amend(Box::new(amendment)), day(TODAY));
    assert_eq!((dot(&kit, hives[0]), dot(&kit, hives[1])), (None, Some(Dot::White)));
}

#[test]
fn a_queen_given_on_the_visit_that_found_disease_is_flagged() {
    let (mut kit, hives) = Kit::with_hives(&["B14", "B15"]);
    kit.enter(hives[0], "2026-11-20", "x1 +q");
    kit.enter(hives[1], "2026-11-20", "w +n");
    let flags = |hive| standing(&kit.world, hive, day(TODAY)).expect("a standing").flags;
    assert!(flags(hives[0])[0].starts_with("Given 20 Nov against a bar: American foulbrood suspected"));
    assert!(flags(hives[1]).is_empty(), "laying workers do not forbid uniting");
}

#[test]
fn a_uniting_is_dated_right_or_taken_back_at_both_hives() {
    let (mut kit, hives) = Kit::with_hives(&["B14", "B15"]);
    kit.enter(hives[0], "2026-11-12", "e");
    let record = RecordId(kit.id());
    let by = "MK".to_owned();
    let unite = Change::Unite { from: hives[0], into: hives[1], day: day("2026-11-20"), record, by };
    kit.apply(&unite, day(TODAY));
    let amendment = || Amendment::of(hives[1], record, "slip of the pen", "MK");
    let dated = |on: &str| Change::Amend(Box::new(Amendment { day: Some(day(on)), ..amendment() }));
    assert_eq!(refused(&kit, &dated("2026-11-11")).1, "B14 was still there on 12 Nov");
    kit.apply(&dated("2026-11-14"), day(TODAY));
    let end = kit.world.colonies[&hives[0]].ended.clone().expect("an end");
    assert_eq!((end.day, end.why), (day("2026-11-14"), EndWhy::UnitedInto(hives[1])));
    let strike = Change::Amend(Box::new(Amendment { strike: true, ..amendment() }));
    kit.apply(&strike, day(TODAY));
    assert!(kit.world.colonies[&hives[0]].is_living());
    assert!(matches!(kit.world.records_of(hives[1])[0].what, Happening::Received(_)));
}

#[test]
fn a_renamed_hive_wants_its_label_again_where_it_has_one() {
    let (mut kit, hives) = Kit::with_hives(&["B14", "B15"]);
    kit.apply(&Change::LabelsPrinted { colonies: vec![hives[0]], day: day("2026-11-20") }, day(TODAY));
    let names = vec![(hives[0], "C1".to_owned()), (hives[1], "C2".to_owned())];
    kit.apply(&Change::Rename { names, day: day("2026-11-22") }, day(TODAY));
    let stale: Vec<bool> = hives.iter().map(|hive| kit.world.colonies[hive].lid.stale).collect();
    assert_eq!(stale, [true, false]);
}
