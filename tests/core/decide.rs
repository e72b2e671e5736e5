//! What changes do, and why they are refused.

use lidnote::domain::bar::{Bar, BarKind, BarOn};
use lidnote::domain::change::{Amendment, Change, Occasion};
use lidnote::domain::colony::{End, EndWhy, Founding};
use lidnote::domain::day::Day;
use lidnote::domain::decide::{decide, title};
use lidnote::domain::fact::Fact;
use lidnote::domain::grammar::resolve::Choice;
use lidnote::domain::ids::{BarId, ColonyId, ParcelId, PlanId, RecordId, RunId, SourceId, YardId};
use lidnote::domain::in_hand::draw::From;
use lidnote::domain::in_hand::{Held, in_hand};
use lidnote::domain::parcel::{Parcel, ParcelKind};
use lidnote::domain::place::Place;
use lidnote::domain::plan::Plan;
use lidnote::domain::queen::{Birth, Source};
use lidnote::domain::record::{Happening, Which};
use lidnote::domain::refusal::RefusalKind;
use lidnote::domain::run_order::{Base, RunOrder, RunStop};
use lidnote::domain::standing::bars::plan_allowed;
use lidnote::domain::visit::Method;
use lidnote::domain::yard::Yard;

use crate::kit::{Kit, day};

fn refused(kit: &Kit, change: &Change, today: Day) -> RefusalKind {
    let refusal = decide(&kit.world, change, today).expect_err("a refusal");
    assert!(!refusal.fact.is_empty() && !refusal.way_out.is_empty(), "{refusal:?}");
    refusal.kind
}

fn ended(hives: &[ColonyId], on: &str, why: EndWhy) -> Change {
    let end = End { day: day(on), why, by: "MK".to_owned(), words: String::new() };
    Change::End { colonies: hives.to_vec(), end }
}

fn parcel(id: u128, count: u32, dead: u32) -> Parcel {
    Parcel {
        id: ParcelId::from_number(id),
        source: None,
        kind: ParcelKind::CagedQueens,
        count,
        dead,
        gone: 0,
        sent: Some(day("2026-11-10")),
        due: Some(day("2026-11-12")),
        promised: None,
        arrived: None,
        grafted: None,
        born: Birth::default(),
        dot: None,
        closed: false,
        note: String::new(),
    }
}

fn plan(id: u128, colony: ColonyId, give_on: &str) -> Plan {
    Plan {
        id: PlanId::from_number(id),
        colony,
        method: Method::Caged,
        source: None,
        parcel: None,
        give_on: day(give_on),
        dequeen_on: Some(day(give_on).plus(-1)),
        made: day("2026-11-01"),
        called_off: None,
        moved: Vec::new(),
    }
}

fn plans(plans: Vec<Plan>) -> Change {
    Change::Plan { plans, overrule_soft: false }
}

#[test]
fn names_are_unique_in_a_yard_case_and_accents_aside() {
    let (mut kit, hives) = Kit::with_hives(&["Ōkā 1"]);
    let yard = kit.world.yards.values().next().expect("a yard").id;
    let today = day("2026-11-24");
    let twin = kit.colony(yard, "oka 1", today);
    let found = Change::Found { colonies: vec![twin], queens: Vec::new() };
    assert_eq!(refused(&kit, &found, today), RefusalKind::NameTaken);
    kit.apply(&ended(&hives, "2026-11-20", EndWhy::Sold), today);
    assert_eq!(kit.apply(&found, today).len(), 1);
}

#[test]
fn the_same_name_in_another_yard_is_allowed_until_they_meet() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let (heath, windbreak) = (kit.world.yards.values().next().expect("a yard").id, kit.yard("Windbreak"));
    let other = kit.hive(windbreak, "b14");
    let today = day("2026-11-24");
    let meet = Change::Move { to: vec![(hives[0], windbreak, None)], day: today };
    assert_eq!(refused(&kit, &meet, today), RefusalKind::NameTaken);
    let cross = Change::Move { to: vec![(hives[0], windbreak, None), (other, heath, None)], day: today };
    assert_eq!(kit.apply(&cross, today).len(), 2);
}

#[test]
fn yard_names_are_unique_and_a_yard_in_use_stays() {
    let (mut kit, _) = Kit::with_hives(&["B14"]);
    let today = day("2026-11-24");
    let twin = Change::PutYard(Box::new(Yard::named(YardId::from_number(99), " heath  YARD ")));
    assert_eq!(refused(&kit, &twin, today), RefusalKind::NameTaken);
    let heath = kit.world.yards.values().next().expect("a yard").id;
    assert_eq!(refused(&kit, &Change::RemoveYard(heath), today), RefusalKind::InUse);
    let empty = kit.yard("Windbreak");
    assert_eq!(kit.apply(&Change::RemoveYard(empty), today).len(), 1);
}

#[test]
fn a_hive_does_not_live_again_in_a_yard_that_is_gone() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let today = day("2026-11-24");
    let record = kit.enter(hives[0], "2026-11-20", "z");
    let heath = kit.world.yards.values().next().expect("a yard").id;
    kit.apply(&Change::RemoveYard(heath), today);
    let mut amendment = Amendment::of(hives[0], record, "another hive", "MK");
    amendment.strike = true;
    assert_eq!(refused(&kit, &Change::Amend(Box::new(amendment)), today), RefusalKind::Missing);
}

#[test]
fn what_cannot_have_been_is_refused_and_what_is_unlikely_is_not() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let today = day("2026-11-24");
    for on in ["2026-08-31", "2026-11-25"] {
        let change = kit.visit(hives[0], day(on), "eq");
        assert_eq!(refused(&kit, &change, today), RefusalKind::Impossible, "{on}");
    }
    kit.apply(&ended(&hives, "2026-11-20", EndWhy::Sold), today);
    let after = kit.visit(hives[0], day("2026-11-21"), "eq");
    assert_eq!(refused(&kit, &after, today), RefusalKind::Impossible);
    let before = kit.visit(hives[0], day("2026-11-19"), "eq");
    assert_eq!(kit.apply(&before, today).len(), 1);
    let unknown = kit.visit(hives[0], day("2026-11-19"), "e");
    let Change::Visits { occasion, mut visits, queens } = unknown else { panic!("visits") };
    visits[0].visit.temper = Some(5);
    let change = Change::Visits { occasion: occasion.clone(), visits: visits.clone(), queens: queens.clone() };
    assert_eq!(refused(&kit, &change, today), RefusalKind::BadValue);
    visits[0].visit.temper = None;
    visits[0].colony = ColonyId::from_number(12345);
    assert_eq!(refused(&kit, &Change::Visits { occasion, visits, queens }, today), RefusalKind::Missing);
}

#[test]
fn a_hive_found_dead_ends_and_its_plans_fall() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let today = day("2026-11-24");
    kit.apply(&plans(vec![plan(500, hives[0], "2026-11-26")]), today);
    let change = kit.visit(hives[0], today, "z");
    kit.apply(&change, today);
    let colony = &kit.world.colonies[&hives[0]];
    assert_eq!(colony.ended.as_ref().map(|end| (end.day, end.why)), Some((today, EndWhy::Died)));
    assert_eq!(kit.world.plans[&PlanId::from_number(500)].called_off, Some(today));
}

#[test]
fn a_hive_cannot_end_before_its_last_visit() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    kit.enter(hives[0], "2026-11-20", "eq");
    let change = ended(&hives, "2026-11-19", EndWhy::Sold);
    assert_eq!(refused(&kit, &change, day("2026-11-24")), RefusalKind::Impossible);
}

#[test]
fn swapped_lids_both_want_their_labels_again() {
    let (mut kit, hives) = Kit::with_hives(&["H07", "H15"]);
    kit.enter(hives[0], "2026-11-20", "e ~15");
    assert!(hives.iter().all(|hive| kit.world.colonies[hive].lid.stale));
    let today = day("2026-11-24");
    kit.apply(&Change::LabelsPrinted { colonies: hives.clone(), day: today }, today);
    let lid = &kit.world.colonies[&hives[1]].lid;
    assert!(!lid.stale && lid.on == Some(today) && lid.printed.len() == 3);
}

#[test]
fn a_split_with_the_queen_leaves_the_parent_dequeened() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let today = day("2026-11-24");
    let yard = kit.world.colonies[&hives[0]].yard().expect("a yard");
    let daughter = kit.colony(yard, "B15", today);
    let records = [RecordId(kit.id()), RecordId(kit.id())];
    let split = Change::Split {
        parent: hives[0],
        daughter: Box::new(daughter.clone()),
        queen_goes: true,
        records,
        by: "MK".to_owned(),
    };
    kit.apply(&split, today);
    assert_eq!(kit.world.colonies[&daughter.id].how, Founding::SplitFrom(hives[0]));
    let at_parent = kit.world.records_of(hives[0]);
    assert_eq!(at_parent[0].what, Happening::SplitOff(daughter.id));
    let Happening::Visit(visit) = &at_parent[1].what else { panic!("a visit") };
    assert!(visit.did.dequeened && visit.did.queen_to == Some(daughter.id));
}

#[test]
fn a_uniting_ends_one_and_is_noted_at_the_other() {
    let (mut kit, hives) = Kit::with_hives(&["B14", "B15"]);
    let today = day("2026-11-24");
    let record = RecordId(kit.id());
    let unite = Change::Unite { from: hives[0], into: hives[1], day: today, record, by: "MK".to_owned() };
    kit.apply(&unite, today);
    let end = kit.world.colonies[&hives[0]].ended.as_ref().map(|end| end.why);
    assert_eq!(end, Some(EndWhy::UnitedInto(hives[1])));
    assert_eq!(kit.world.records_of(hives[1])[0].what, Happening::Received(hives[0]));
    assert_eq!(refused(&kit, &unite, today), RefusalKind::Impossible);
}

#[test]
fn an_amendment_moves_a_record_with_its_id_and_keeps_what_it_was() {
    let (mut kit, hives) = Kit::with_hives(&["B14", "B15"]);
    let record = kit.enter(hives[0], "2026-11-20", "eq 'on 6 frames");
    let mut amendment = Kit::amendment(hives[0], record);
    amendment.to = Some(hives[1]);
    let today = day("2026-11-24");
    let before = kit.world.clone();
    let facts = kit.apply(&Change::Amend(Box::new(amendment.clone())), today);
    assert!(kit.world.records_of(hives[0]).is_empty());
    let moved = kit.world.record(hives[1], record).expect("the record at B15");
    assert_eq!(moved.day, day("2026-11-20"));
    let note = &moved.amended[0];
    assert_eq!((note.on, note.reason.as_str()), (today, "entered at the wrong hive"));
    assert_eq!(note.was, "B14, 20 Nov: Eggs, her seen (on 6 frames)");
    kit.undo(&facts);
    assert!(kit.world == before);
}

#[test]
fn an_amendment_needs_a_reason_and_something_to_alter() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let record = kit.enter(hives[0], "2026-11-20", "eq");
    let today = day("2026-11-24");
    let mut amendment = Kit::amendment(hives[0], record);
    amendment.reason = "  ".to_owned();
    amendment.strike = true;
    assert_eq!(refused(&kit, &Change::Amend(Box::new(amendment)), today), RefusalKind::BadValue);
    let mut same = Kit::amendment(hives[0], record);
    same.day = Some(day("2026-11-20"));
    assert_eq!(kit.apply(&Change::Amend(Box::new(same)), today), Vec::new());
    let unknown = Kit::amendment(hives[0], RecordId::from_number(9999));
    assert_eq!(refused(&kit, &Change::Amend(Box::new(unknown)), today), RefusalKind::Missing);
}

#[test]
fn a_death_that_is_taken_back_lets_the_hive_live() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let record = kit.enter(hives[0], "2026-11-20", "z");
    let mut amendment = Kit::amendment(hives[0], record);
    amendment.strike = true;
    kit.apply(&Change::Amend(Box::new(amendment)), day("2026-11-24"));
    assert!(kit.world.colonies[&hives[0]].is_living());
    assert!(kit.world.records_of(hives[0])[0].struck);
}

#[test]
fn names_and_places_are_kept_with_their_days() {
    let (mut kit, hives) = Kit::with_hives(&["B14", "B15"]);
    let today = day("2026-11-24");
    kit.apply(&Change::Rename { names: vec![(hives[0], "C02".to_owned())], day: day("2026-11-10") }, today);
    let colony = &kit.world.colonies[&hives[0]];
    assert_eq!((colony.name(), colony.name_on(day("2026-11-09"))), ("C02", "B14"));
    // A move that is entered late comes before the later one.
    let windbreak = kit.yard("Windbreak");
    let kelp = kit.yard("Kelping");
    kit.apply(&Change::Move { to: vec![(hives[0], windbreak, None)], day: day("2026-11-20") }, today);
    kit.apply(&Change::Move { to: vec![(hives[0], kelp, None)], day: day("2026-11-15") }, today);
    let colony = &kit.world.colonies[&hives[0]];
    assert_eq!(colony.yard(), Some(windbreak));
    assert_eq!(colony.stands.iter().map(|stand| stand.yard).nth(1), Some(kelp));
    let swap = Change::SwapPlaces { one: hives[0], other: hives[1], day: today };
    kit.apply(&swap, today);
    assert_eq!(kit.world.colonies[&hives[1]].yard(), Some(windbreak));
}

#[test]
fn a_second_open_plan_is_refused_and_moved_plans_say_from_where() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let today = day("2026-11-24");
    kit.apply(&plans(vec![plan(500, hives[0], "2026-11-26")]), today);
    assert_eq!(refused(&kit, &plans(vec![plan(501, hives[0], "2026-11-27")]), today), RefusalKind::InUse);
    let id = PlanId::from_number(500);
    let moved = Change::MovePlans {
        plans: vec![(id, day("2026-11-28"), Some(day("2026-11-27")))],
        day: today,
        why: "rain".to_owned(),
    };
    kit.apply(&moved, today);
    assert_eq!(kit.world.plans[&id].moved[0].from, day("2026-11-26"));
    kit.enter(hives[0], "2026-11-24", "+q");
    assert_eq!(refused(&kit, &moved, today), RefusalKind::BadValue);
}

#[test]
fn a_late_parcel_moves_its_plans_and_the_dequeenings_not_yet_done() {
    let (mut kit, hives) = Kit::with_hives(&["B14", "B15", "B16"]);
    let today = day("2026-11-11");
    kit.apply(&Change::PutParcel(parcel(700, 3, 0)), today);
    let of_parcel = |id, hive, give_on| Plan { parcel: Some(ParcelId::from_number(700)), ..plan(id, hive, give_on) };
    let ahead = of_parcel(501, hives[0], "2026-11-13");
    let done = of_parcel(502, hives[1], "2026-11-12");
    let other = plan(503, hives[2], "2026-11-13");
    kit.apply(&plans(vec![ahead, done, other]), today);
    kit.enter(hives[1], "2026-11-11", "/q");
    let late = Change::ParcelLate { parcel: ParcelId::from_number(700), promised: day("2026-11-15"), day: today };
    kit.apply(&late, today);
    let held = |id| kit.world.plans[&PlanId::from_number(id)].clone();
    assert_eq!((held(501).give_on, held(501).dequeen_on), (day("2026-11-16"), Some(day("2026-11-15"))));
    assert_eq!((held(502).give_on, held(502).dequeen_on), (day("2026-11-15"), Some(day("2026-11-11"))));
    assert_eq!(held(503).give_on, day("2026-11-13"));
    assert_eq!(held(501).moved[0].why, "parcel late");
    assert_eq!(kit.world.parcels[&ParcelId::from_number(700)].promised, Some(day("2026-11-15")));
    let again =
        Change::ParcelLate { parcel: ParcelId::from_number(700), promised: day("2026-11-20"), day: day("2026-11-16") };
    kit.apply(&again, day("2026-11-16"));
    let overdue = kit.world.plans[&PlanId::from_number(501)].dequeen_on;
    assert_eq!(overdue, Some(day("2026-11-20")), "a queen not yet removed stays until the new one comes");
}

#[test]
fn a_parcel_of_forty_is_given_out_and_six_old_queens_are_not_found() {
    let names: Vec<String> = (1..=40).map(|number| format!("H{number:02}")).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let (mut kit, hives) = Kit::with_hives(&names);
    let today = day("2026-11-14");
    let arrived = Parcel { arrived: Some(today), ..parcel(700, 40, 2) };
    let id = arrived.id;
    kit.apply(&Change::PutParcel(arrived), today);
    let rows: Vec<(ColonyId, &str)> =
        hives.iter().enumerate().map(|(at, hive)| (*hive, if at < 34 { "/q +q" } else { "?q" })).collect();
    let choice = Choice { from: From::Parcel(id), ..Choice::default() };
    let change = kit.visits(&Occasion::Introduction, today, &rows, choice);
    let facts = kit.apply(&change, today);
    assert_eq!(facts.iter().filter(|fact| matches!(fact, Fact::Queen(_))).count(), 34);
    let hand = in_hand(&kit.world, id, day("2026-11-18")).expect("the parcel");
    assert_eq!((hand.alive, hand.given, hand.left, hand.held_days), (38, 34, 4, Some(4)));
    assert_eq!(hand.held, Held::Warning);
    assert_eq!(in_hand(&kit.world, id, day("2026-11-22")).map(|hand| hand.held), Some(Held::Alarm));
    // A queen given by mistake comes back in hand.
    let record = kit.world.records_of(hives[0])[0].id;
    let mut amendment = Kit::amendment(hives[0], record);
    amendment.strike = true;
    kit.apply(&Change::Amend(Box::new(amendment)), day("2026-11-18"));
    assert_eq!(in_hand(&kit.world, id, day("2026-11-18")).map(|hand| hand.left), Some(5));
}

#[test]
fn another_queen_is_explained_only_where_one_was_seen() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let today = day("2026-11-24");
    let record = RecordId(kit.id());
    let answer = Change::Answer { colony: hives[0], record, day: today, which: Which::Lost, by: "MK".to_owned() };
    assert_eq!(refused(&kit, &answer, today), RefusalKind::Missing);
    kit.enter(hives[0], "2026-11-20", "u");
    assert_eq!(kit.apply(&answer, today).len(), 1);
}

#[test]
fn several_changes_are_one_step_with_one_fact_a_thing() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let today = day("2026-11-24");
    let before = kit.world.clone();
    let rename = |name: &str| Change::Rename { names: vec![(hives[0], name.to_owned())], day: today };
    let several = |changes| Change::Several { title: "Import of thrift.csv".to_owned(), changes };
    let facts = kit.apply(&several(vec![rename("X1"), rename("X2")]), today);
    assert_eq!(facts.len(), 1);
    kit.undo(&facts);
    assert!(kit.world == before);
    assert_eq!(kit.apply(&several(vec![rename("X1"), rename("B14")]), today), Vec::new());
    let half = several(vec![rename("X1"), Change::RemoveRun(RunId::from_number(1))]);
    assert_eq!(refused(&kit, &half, today), RefusalKind::Missing);
}

#[test]
fn settings_are_checked_and_windows_keep_their_order() {
    let kit = Kit::default();
    let today = day("2026-11-24");
    let set = |name: &str, value| Change::SetSetting { name: name.to_owned(), value };
    assert_eq!(refused(&kit, &set("velocity", 1.0), today), RefusalKind::Missing);
    assert_eq!(refused(&kit, &set("speed", 1.0), today), RefusalKind::BadValue);
    assert_eq!(refused(&kit, &set("acceptance_earliest", 11.0), today), RefusalKind::BadValue);
    assert_eq!(decide(&kit.world, &set("acceptance_earliest", 9.0), today).map(|facts| facts.len()), Ok(1));
    assert_eq!(decide(&kit.world, &set("acceptance_earliest", 7.0), today), Ok(Vec::new()));
    let why = |name: &str, value| decide(&kit.world, &set(name, value), today).expect_err("a refusal").to_string();
    assert_eq!(
        why("acceptance_best", 109.0),
        "“Caged queen: best acceptance look” cannot be 109. Give a whole number from 1 to 60 (days after day 0)"
    );
    assert_eq!(
        why("acceptance_earliest", 11.0),
        "“Caged queen: earliest acceptance look” would be 11, after “Caged queen: best acceptance look” at 10. Set \
         “Caged queen: best acceptance look” first"
    );
}

#[test]
fn bars_are_set_and_lifted_with_a_reason() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let today = day("2026-11-24");
    let bar = Bar {
        id: BarId::from_number(800),
        on: BarOn::Colony(hives[0]),
        kind: BarKind::Own,
        from: today,
        until: None,
        reason: String::new(),
        by: "MK".to_owned(),
        permit: None,
        lifted: None,
    };
    assert_eq!(refused(&kit, &Change::PutBar(bar.clone()), today), RefusalKind::BadValue);
    let bar = Bar { reason: "sold next week".to_owned(), ..bar };
    kit.apply(&Change::PutBar(bar.clone()), today);
    let lift = |why: &str| Change::LiftBar {
        bar: bar.id,
        lifted: lidnote::domain::bar::Lifted { on: today, by: "MK".to_owned(), why: why.to_owned() },
    };
    assert_eq!(refused(&kit, &lift(" "), today), RefusalKind::BadValue);
    assert_eq!(kit.apply(&lift("sale is off"), today).len(), 1);
    assert_eq!(kit.apply(&lift("sale is off"), today), Vec::new());
}

#[test]
fn names_of_signs_that_cannot_be_seen_are_refused() {
    let (kit, hives) = Kit::with_hives(&["B14"]);
    let today = day("2026-11-24");
    for name in ["B1\u{200b}5", "\u{202e}B15", "B15\u{7}"] {
        let rename = Change::Rename { names: vec![(hives[0], name.to_owned())], day: today };
        assert_eq!(refused(&kit, &rename, today), RefusalKind::BadValue, "{name:?}");
        let yard = Yard::named(YardId::from_number(77), name);
        assert_eq!(refused(&kit, &Change::PutYard(Box::new(yard)), today), RefusalKind::BadValue, "{name:?}");
        let source = Source { id: SourceId::from_number(78), name: name.to_owned(), own: false };
        assert_eq!(refused(&kit, &Change::PutSource(source), today), RefusalKind::BadValue, "{name:?}");
    }
}

#[test]
fn a_bar_that_begins_later_is_called_off_before_its_day() {
    let (mut kit, hives) = Kit::with_hives(&["B14"]);
    let (today, begins) = (day("2026-11-24"), day("2026-11-30"));
    let bar = Bar {
        id: BarId::from_number(800),
        on: BarOn::Colony(hives[0]),
        kind: BarKind::Quarantine,
        from: begins,
        until: None,
        reason: "order of the ministry".to_owned(),
        by: "MK".to_owned(),
        permit: None,
        lifted: None,
    };
    kit.apply(&Change::PutBar(bar.clone()), today);
    assert!(kit.world.bars[&bar.id].is_ahead(today) && !kit.world.bars[&bar.id].is_ahead(begins));
    let forbids = |kit: &Kit| plan_allowed(&kit.world, hives[0], Method::Caged, begins, true).is_err();
    assert!(forbids(&kit), "it holds on its day");
    let lifted = lidnote::domain::bar::Lifted { on: today, by: "MK".to_owned(), why: "order withdrawn".to_owned() };
    let lift = Change::LiftBar { bar: bar.id, lifted };
    assert_eq!(refused(&kit, &lift, begins), RefusalKind::Impossible, "once begun it is lifted from its first day on");
    assert_eq!(title(&kit.world, &lift), "B14 bar called off: quarantine");
    kit.apply(&lift, today);
    assert!(!forbids(&kit) && !kit.world.bars[&bar.id].is_ahead(today), "it never holds");
}

#[test]
fn history_says_what_was_done_in_the_houses_words() {
    let (mut kit, hives) = Kit::with_hives(&["B14", "B15"]);
    let today = day("2026-11-24");
    let evening = Occasion::Evening(kit.id());
    let rows: Vec<(ColonyId, &str)> = hives.iter().map(|hive| (*hive, "eq")).collect();
    let change = kit.visits(&evening, today, &rows, Choice::default());
    assert_eq!(title(&kit.world, &change), "Evening of Tue 24 Nov, 2 hives");
    let rows: Vec<(ColonyId, &str)> = hives.iter().map(|hive| (*hive, "+q")).collect();
    let change = kit.visits(&Occasion::Introduction, today, &rows, Choice::default());
    assert_eq!(title(&kit.world, &change), "2 queens given in Heath yard");
    let source = Source { id: SourceId::from_number(900), name: "Thrift".to_owned(), own: true };
    kit.apply(&Change::PutSource(source.clone()), today);
    let choice = Choice { from: From::Source(source.id), ..Choice::default() };
    let change = kit.visits(&Occasion::Introduction, today, &[(hives[0], "+q")], choice);
    kit.apply(&change, today);
    assert_eq!(title(&kit.world, &change), "B14 old queen removed 24 Nov, caged queen given: Thrift");
    let rename = Change::Rename { names: vec![(hives[0], "C02".to_owned())], day: today };
    assert_eq!(title(&kit.world, &rename), "B14 renamed C02");
    let several = Change::Several { title: "Import of thrift-and-tide.csv".to_owned(), changes: vec![rename] };
    assert_eq!(title(&kit.world, &several), "Import of thrift-and-tide.csv");
}

#[test]
fn a_run_whose_stop_was_moved_says_before_which() {
    let (mut kit, _) = Kit::with_hives(&[]);
    let yards: Vec<YardId> = ["Windbreak", "Blackthorn Rise", "Kelping"].map(|name| kit.yard(name)).to_vec();
    let today = day("2026-11-24");
    let run = |order: &[usize]| {
        Change::PutRun(RunOrder {
            id: RunId::from_number(1),
            day: today,
            vehicle: String::new(),
            base: Base { name: "Shed".to_owned(), place: Place::new(-40.0, 160.0).expect("a place") },
            leave: 450,
            stops: order.iter().map(|at| RunStop { yard: yards[*at], locked: false }).collect(),
            left_out: Vec::new(),
        })
    };
    assert_eq!(title(&kit.world, &run(&[1, 2, 0])), "Run of Tue 24 Nov kept, 3 stops");
    kit.apply(&run(&[1, 2, 0]), today);
    assert_eq!(title(&kit.world, &run(&[0, 1, 2])), "Windbreak moved before Blackthorn Rise");
    assert_eq!(refused(&kit, &run(&[0, 0]), today), RefusalKind::BadValue);
    let but = |alter: fn(&mut RunOrder)| {
        let Change::PutRun(mut other) = run(&[1, 2, 0]) else { panic!("a run") };
        alter(&mut other);
        title(&kit.world, &Change::PutRun(other))
    };
    assert_eq!(title(&kit.world, &run(&[1, 0])), "Kelping left out of the run of Tue 24 Nov");
    assert_eq!(but(|run| run.stops[1].locked = true), "Kelping keeps its place on the run of Tue 24 Nov");
    assert_eq!(but(|run| run.leave = 405), "Run of Tue 24 Nov leaves at 06:45");
    assert_eq!(but(|run| "Heath".clone_into(&mut run.base.name)), "Run of Tue 24 Nov starts at Heath");
    assert_eq!(but(|run| "South truck".clone_into(&mut run.vehicle)), "Run of Tue 24 Nov: South truck");
    kit.apply(&run(&[1, 0]), today);
    assert_eq!(title(&kit.world, &run(&[1, 0, 2])), "Kelping put on the run of Tue 24 Nov");
}

#[test]
fn nobody_swaps_into_a_yard_that_was_removed_since() {
    let (mut kit, hives) = Kit::with_hives(&["B1"]);
    let heath = kit.world.colonies[&hives[0]].yard().expect("a yard");
    let kelp = kit.yard("Kelp");
    let moved = kit.hive(kelp, "B2");
    kit.apply(&Change::Move { to: vec![(moved, heath, None)], day: day("2026-10-10") }, day("2026-10-10"));
    kit.apply(&Change::RemoveYard(kelp), day("2026-10-11"));
    let swap = |on: &str| Change::SwapPlaces { one: hives[0], other: moved, day: day(on) };
    assert_eq!(refused(&kit, &swap("2026-10-01"), day("2026-11-24")), RefusalKind::Missing);
    assert!(decide(&kit.world, &swap("2026-10-20"), day("2026-11-24")).is_ok());
}
