//! Taking hives over whole: nothing follows from it that is not told, and what cannot be is refused.

use lidnote::domain::change::{Change, Taken};
use lidnote::domain::colony::{Colony, EndWhy, Founding};
use lidnote::domain::decide::{decide, title};
use lidnote::domain::ids::{ColonyId, PlanId, RecordId};
use lidnote::domain::plan::Plan;
use lidnote::domain::record::{Happening, Record};
use lidnote::domain::refusal::RefusalKind;
use lidnote::domain::visit::{Method, Visit};

use crate::kit::{Kit, day};

/// A yard with B1 in it, and a hive B2 that is to be taken over.
fn kit_and_hive() -> (Kit, Colony) {
    let (mut kit, _) = Kit::with_hives(&["B1"]);
    let yard = kit.world.yards.values().next().unwrap().id;
    let hive = kit.colony(yard, "B2", day("2026-09-01"));
    (kit, hive)
}

fn seen(colony: ColonyId, on: &str, visit: Visit) -> Record {
    Record {
        id: RecordId::from_number(900),
        colony,
        day: day(on),
        by: "MK".to_owned(),
        words: String::new(),
        what: Happening::Visit(Box::new(visit)),
        together: None,
        struck: false,
        amended: Vec::new(),
    }
}

fn check_refused(kit: &Kit, taken: Taken, kind: RefusalKind) {
    let refusal = decide(&kit.world, &Change::TakeOver(Box::new(taken)), day("2026-11-24")).unwrap_err();
    assert!(!refusal.fact.is_empty() && !refusal.way_out.is_empty(), "{refusal:?}");
    assert_eq!(refusal.kind, kind, "{}", refusal.fact);
}

#[test]
fn nothing_follows_that_is_not_told() {
    let (mut kit, hive) = kit_and_hive();
    let mut dead = Visit::default();
    dead.seen.dead = true;
    let taken =
        Taken { records: vec![seen(hive.id, "2026-10-01", dead)], colonies: vec![hive.clone()], ..Taken::default() };
    let change = Change::TakeOver(Box::new(taken));
    assert_eq!(title(&kit.world, &change), "B2 taken over");
    let before = kit.world.clone();
    let facts = decide(&kit.world, &change, day("2026-11-24")).unwrap();
    kit.world.advance_all(&facts);
    assert!(kit.world.colonies[&hive.id].is_living(), "that it died of it would be told");
    facts.into_iter().rev().for_each(|fact| kit.world.advance(&fact.inverse()));
    assert_eq!(kit.world, before);
}

#[test]
fn hives_may_name_each_other_in_any_order() {
    let (mut kit, daughter) = kit_and_hive();
    let parent = Colony { how: Founding::Swarm, ..kit.colony(daughter.yard().unwrap(), "B3", day("2026-08-01")) };
    let daughter = Colony { how: Founding::SplitFrom(parent.id), ..daughter };
    let taken = Taken { colonies: vec![daughter, parent], ..Taken::default() };
    assert_eq!(decide(&kit.world, &Change::TakeOver(Box::new(taken)), day("2026-11-24")).unwrap().len(), 2);
}

#[test]
fn what_is_here_gives_way_where_it_is_told_anew() {
    let (kit, hive) = kit_and_hive();
    let held = kit.world.living().next().unwrap().clone();
    let anew = Taken { anew: true, ..Taken::default() };
    let noted = Colony { note: "by the gate".to_owned(), ..Colony::clone(&held) };
    let again = Taken { colonies: vec![noted.clone()], ..Taken::default() };
    check_refused(&kit, again, RefusalKind::InUse);
    let told = Taken { colonies: vec![noted.clone(), hive.clone()], ..anew.clone() };
    let facts = decide(&kit.world, &Change::TakeOver(Box::new(told)), day("2026-11-24")).unwrap();
    let mut world = kit.world.clone();
    world.advance_all(&facts);
    assert_eq!((world.colonies.len(), &*world.colonies[&held.id]), (2, &noted));

    let twin = Colony { names: hive.names.clone(), ..noted.clone() };
    let told = Taken { colonies: vec![twin, hive.clone()], ..anew.clone() };
    check_refused(&kit, told, RefusalKind::NameTaken);
    let seen = seen(held.id, "2026-10-01", Visit::default());
    world.advance_all(&decide(&world, &taken_of(&seen, &anew), day("2026-11-24")).unwrap());
    let moved = Record { colony: hive.id, ..seen.clone() };
    world.advance_all(&decide(&world, &taken_of(&moved, &anew), day("2026-11-24")).unwrap());
    assert_eq!((world.records_of(held.id).len(), world.records_of(hive.id)), (0, &[moved.clone()][..]));
    let ended = lidnote::domain::colony::End {
        day: day("2026-09-20"),
        why: EndWhy::Sold,
        by: String::new(),
        words: String::new(),
    };
    let told = Taken { colonies: vec![Colony { ended: Some(ended), ..hive }], ..anew };
    let refusal = decide(&world, &Change::TakeOver(Box::new(told)), day("2026-11-24")).unwrap_err();
    assert_eq!(refusal.kind, RefusalKind::Impossible, "it was seen after that");
}

fn taken_of(record: &Record, taken: &Taken) -> Change {
    Change::TakeOver(Box::new(Taken { records: vec![record.clone()], ..taken.clone() }))
}

#[test]
fn what_cannot_be_or_is_not_there_is_refused() {
    let (mut kit, hive) = kit_and_hive();
    let of = |hive: Colony| Taken { colonies: vec![hive], ..Taken::default() };
    let gone = ColonyId::from_number(77);
    check_refused(&kit, of(Colony { how: Founding::SplitFrom(gone), ..hive.clone() }), RefusalKind::Missing);
    let united = lidnote::domain::colony::End {
        day: day("2026-10-01"),
        why: EndWhy::UnitedInto(gone),
        by: String::new(),
        words: String::new(),
    };
    check_refused(&kit, of(Colony { ended: Some(united), ..hive.clone() }), RefusalKind::Missing);
    let twin = kit.colony(hive.yard().unwrap(), "b1", day("2026-09-01"));
    check_refused(&kit, of(twin), RefusalKind::NameTaken);
    let early = Taken { records: vec![seen(hive.id, "2026-08-01", Visit::default())], ..of(hive.clone()) };
    check_refused(&kit, early.clone(), RefusalKind::Impossible);
    let plan = Plan {
        id: PlanId::from_number(1),
        colony: hive.id,
        method: Method::Caged,
        source: None,
        parcel: None,
        give_on: day("2026-12-01"),
        dequeen_on: Some(day("2026-12-02")),
        made: day("2026-11-01"),
        called_off: None,
        moved: Vec::new(),
    };
    check_refused(&kit, Taken { plans: vec![plan], ..of(hive.clone()) }, RefusalKind::BadValue);

    // What was taken back did not happen, and may say anything.
    let mut struck = early;
    struck.records[0].struck = true;
    assert!(decide(&kit.world, &Change::TakeOver(Box::new(struck)), day("2026-11-24")).is_ok());
}
