//! Evening entry: sixty hives in few keys, counted once each, one change; opened again and put right.

use egui::accesskit::{Live, Role};
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use lidnote::domain::change::{Change, Occasion};
use lidnote::domain::day::Day;
use lidnote::domain::ids::{ColonyId, ParcelId};
use lidnote::domain::parcel::{Parcel, ParcelKind};
use lidnote::domain::queen::Birth;
use lidnote::domain::record::Happening;
use lidnote::domain::standing::{LidState, standing};
use lidnote::ui::action::{Action, Goto};

use crate::run_stage::{Beginning, Shared, Stage, day, island, open};

const SIZE: [f32; 2] = [1440.0, 772.0];
const EVENING: &str = "2026-11-24";

/// One yard with hives `H01` and on, all caged on 14 Nov 2026.
fn heath(count: u16) -> (Beginning, Vec<ColonyId>) {
    let mut begin = Beginning::default();
    begin.home("Shed", -40.1, 159.8);
    let source = begin.source("Thrift");
    let yard = begin.yard("Heath yard", -40.0, 160.0);
    let hives = begin.hives(yard, "H", count);
    begin.visits(&hives, "+q", source, day("2026-11-14"));
    (begin, hives)
}

fn opened(begin: Beginning, today: Day) -> (Harness<'static, impl eframe::App>, Shared) {
    let mut stage = Stage::new(begin, today);
    stage.run.go(&Goto::Evening(day(EVENING), None));
    open(stage, SIZE)
}

/// Types letters one by one; `⏎` stands for Enter. Returns how many keys were pressed.
fn type_keys<A: eframe::App>(harness: &mut Harness<'_, A>, keys: &str) -> usize {
    for key in keys.chars() {
        if key == '⏎' {
            harness.key_press(Key::Enter);
        } else {
            harness.event(egui::Event::Text(key.to_string()));
        }
        harness.run();
    }
    keys.chars().count()
}

fn record<A: eframe::App>(harness: &mut Harness<'_, A>) {
    harness.key_press_modifiers(Modifiers::COMMAND, Key::Enter);
    harness.run();
}

#[test]
fn sixty_hives_take_fewer_than_two_hundred_keys_and_one_undo() {
    let (begin, hives) = heath(60);
    let (mut harness, stage) = opened(begin, day(EVENING));
    harness.get_by_label_contains("Nov: 0 of 60 hives entered");
    let mut keys = 0;
    let rows =
        [("5", "c2"), ("17", "c2"), ("23", "c2"), ("31", "u"), ("38", "x"), ("44", "-r"), ("52", "-r"), ("60", "p")];
    for (hive, codes) in rows {
        keys += type_keys(&mut harness, &format!(".{hive}⏎{codes}⏎"));
    }
    keys += type_keys(&mut harness, ".1⏎*eq⏎");
    harness.get_by_label_contains("Put eq in 52 blank rows?");
    keys += type_keys(&mut harness, "⏎");
    harness.get_by_label("52 laying, 3 to decide, 1 another queen, 1 barred, 3 still due, 0 not entered");
    harness.get_by_label_contains("Nov: 60 of 60 hives entered");
    harness.get_by_label_contains("Caged queens accepted: 95 %, 52 of 55");
    record(&mut harness);
    keys += 2;
    assert!(keys < 200, "{keys} keys");

    assert_eq!(stage.borrow().refused, Vec::<String>::new());
    let done = stage.borrow().done.last().map(|(title, _)| title.clone());
    assert_eq!(done.as_deref(), Some("Evening of Tue 24 Nov, 60 hives"));
    let visits = |stage: &Stage| {
        let records = stage.scene.world.records.values().flat_map(|records| records.iter());
        records.filter(|record| record.day == day(EVENING)).count()
    };
    assert_eq!(visits(&stage.borrow()), 60);
    let lid = |stage: &Stage, at: usize| {
        standing(&stage.scene.world, hives[at], day(EVENING)).expect("stands").lid_state(day(EVENING))
    };
    assert_eq!(lid(&stage.borrow(), 0), LidState::Quiet);
    assert_eq!(lid(&stage.borrow(), 4), LidState::Action);
    assert_eq!(lid(&stage.borrow(), 37), LidState::Barred);
    harness.run();
    harness.get_by_label_contains("All recorded.");
    assert_eq!(stage.borrow().scene.prefs.draft.as_deref(), Some(""), "the draft is dropped");

    stage.borrow_mut().out.push(Action::Undo);
    harness.run();
    assert_eq!(visits(&stage.borrow()), 0);
    harness.run();
    harness.get_by_label_contains("Nov: 0 of 60 hives entered");
}

#[test]
fn the_sentence_follows_each_letter() {
    let (begin, _) = heath(3);
    let (mut harness, _stage) = opened(begin, day(EVENING));
    type_keys(&mut harness, "e");
    harness.get_by_label_contains("H01, Acceptance, day 10, Thrift, e, Laying");
    type_keys(&mut harness, "q");
    harness.get_by_label_contains("eq, Laying, her seen");
    type_keys(&mut harness, "⏎x");
    let said: Vec<Live> = harness
        .get_all_by_label_contains("Which disease? 1 American")
        .map(|node| node.accesskit_node().data().live().unwrap_or(Live::Off))
        .collect();
    assert!(said.contains(&Live::Polite), "it is said aloud too: {said:?}");
    type_keys(&mut harness, "1⏎");
    harness.get_by_label_contains("American foulbrood");
}

#[test]
fn a_code_that_is_none_says_so_and_holds_the_row() {
    let (begin, _) = heath(3);
    let (mut harness, stage) = opened(begin, day(EVENING));
    type_keys(&mut harness, "e!⏎⏎");
    assert_eq!(harness.get_by_role_and_label(Role::TextInput, "Codes of H01").value().as_deref(), Some("e!"));
    record(&mut harness);
    assert!(stage.borrow().done.is_empty());
    type_keys(&mut harness, "");
    harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    harness.run();
    assert_eq!(harness.get_by_role_and_label(Role::TextInput, "Codes of H01").value().as_deref(), Some(""));
}

#[test]
fn letters_of_two_rows_in_one_frame_go_where_they_belong() {
    let (begin, hives) = heath(3);
    let (mut harness, stage) = opened(begin, day(EVENING));
    for letter in ["e", "q"] {
        harness.event(egui::Event::Text(letter.to_owned()));
    }
    harness.key_press(Key::Enter);
    harness.event(egui::Event::Text("n".to_owned()));
    harness.key_press(Key::Enter);
    harness.event(egui::Event::Text("=".to_owned()));
    harness.key_press(Key::Enter);
    harness.run();
    record(&mut harness);
    let stage = stage.borrow();
    let codes: Vec<bool> = hives
        .iter()
        .map(|hive| match &stage.scene.world.records_of(*hive).last().expect("a record").what {
            Happening::Visit(visit) => visit.seen.nothing,
            _ => false,
        })
        .collect();
    assert_eq!(codes, [false, true, true]);
}

#[test]
fn nothing_typed_is_lost_however_few_frames_are_drawn() {
    let (begin, hives) = heath(4);
    let (mut harness, stage) = opened(begin, day(EVENING));
    // One frame a key, as when one types fast: the field of the next row has no frame of its own to settle in.
    for key in "eq⏎n⏎.4⏎u⏎=⏎".chars() {
        if key == '⏎' {
            harness.key_press(Key::Enter);
        } else {
            harness.event(egui::Event::Text(key.to_string()));
        }
        harness.step();
    }
    harness.run();
    record(&mut harness);
    let stage = stage.borrow();
    let seen = |at: usize| match &stage.scene.world.records_of(hives[at]).last().expect("a record").what {
        Happening::Visit(visit) => (visit.seen.eggs, visit.seen.nothing, visit.seen.another),
        _ => (false, false, false),
    };
    let found = [seen(0), seen(1), seen(2), seen(3)];
    // After the last row the first blank one has its turn.
    assert_eq!(found, [(true, false, false), (false, true, false), (false, true, false), (false, false, true)]);
}

#[test]
fn an_evening_still_to_come_says_why_it_is_not_recorded() {
    let (begin, _) = heath(2);
    let (mut harness, stage) = opened(begin, day("2026-11-23"));
    type_keys(&mut harness, "eq⏎");
    record(&mut harness);
    assert!(stage.borrow().done.is_empty());
    harness.get_by_label("24 Nov is still to come. Give today or an earlier day.");
}

#[test]
fn rows_stand_in_the_order_of_the_run_and_any_hive_is_added() {
    let mut stage = Stage::new(island(), day(EVENING));
    stage.run.go(&Goto::RunOf(day(EVENING)));
    let (mut harness, stage) = open(stage, SIZE);
    harness.key_press(Key::E);
    harness.run();
    harness.get_by_label_contains("Nov: 0 of 29 hives entered");
    harness.get_by_label_contains("1  Mill Race");
    harness.get_by_role_and_label(Role::TextInput, "Codes of MR01");
    type_keys(&mut harness, ".fh03⏎eq⏎");
    record(&mut harness);
    let title = stage.borrow().done.last().map(|(title, _)| title.clone());
    assert_eq!(title.as_deref(), Some("Evening of Tue 24 Nov, 1 hive"));
    harness.key_press(Key::Escape);
    harness.run();
    harness.get_by_label("Stops");
}

#[test]
fn a_jump_behind_codes_leaves_them_in_their_row() {
    let (begin, _) = heath(3);
    let (mut harness, stage) = opened(begin, day(EVENING));
    type_keys(&mut harness, "eq⏎n⏎");
    record(&mut harness);
    stage.borrow_mut().goto = Some(Goto::Evening(day(EVENING), None));
    harness.run();
    harness.run();
    harness.key_press(Key::ArrowUp);
    harness.run();
    type_keys(&mut harness, ".h01⏎");
    let codes = |harness: &Harness<'_, _>, of: &str| harness.get_by_role_and_label(Role::TextInput, of).value();
    assert_eq!(codes(&harness, "Codes of H01").as_deref(), Some("eq"), "one is there");
    type_keys(&mut harness, " p .h02⏎");
    assert_eq!(codes(&harness, "Codes of H02").as_deref(), Some("n"));
    record(&mut harness);
    harness.get_by_label_contains("Why is 1 row put right?");
}

#[test]
fn an_evening_is_opened_again_and_put_right_for_a_reason() {
    let (begin, hives) = heath(3);
    let (mut harness, stage) = opened(begin, day(EVENING));
    type_keys(&mut harness, "eq⏎n⏎");
    record(&mut harness);
    stage.borrow_mut().goto = Some(Goto::Evening(day(EVENING), None));
    harness.run();
    harness.run();
    assert_eq!(harness.get_by_role_and_label(Role::TextInput, "Codes of H03").value().as_deref(), Some(""));
    harness.key_press(Key::ArrowUp);
    harness.run();
    assert_eq!(harness.get_by_role_and_label(Role::TextInput, "Codes of H02").value().as_deref(), Some("n"));
    harness.key_press(Key::Backspace);
    harness.run();
    type_keys(&mut harness, "eq⏎p⏎");
    record(&mut harness);
    harness.get_by_label_contains("Why is 1 row put right?");
    harness.get_by_role_and_label(Role::TextInput, "Reason").focus();
    harness.run();
    type_keys(&mut harness, "slip⏎");
    let stage = stage.borrow();
    assert_eq!(stage.refused, Vec::<String>::new());
    let second = stage.scene.world.records_of(hives[1]).last().expect("a record");
    assert_eq!(second.amended.len(), 1);
    assert_eq!(second.amended[0].reason, "slip");
    let third = stage.scene.world.records_of(hives[2]).last().expect("a record");
    assert_eq!(third.together, second.together, "the same evening");
    assert_eq!(stage.done.last().map(|(title, _)| title.as_str()), Some("Evening of Tue 24 Nov, 1 row put right"));
}

#[test]
fn a_draft_outlives_the_program() {
    let (begin, _) = heath(3);
    let (mut harness, stage) = opened(begin, day(EVENING));
    type_keys(&mut harness, "eq⏎n");
    let draft = stage.borrow().scene.prefs.draft.clone();
    assert!(draft.is_some());
    drop(harness);
    let mut again = Stage::new(heath(3).0, day(EVENING));
    again.scene.prefs.draft = draft;
    again.run.go(&Goto::Evening(day(EVENING), None));
    let (harness, _stage) = open(again, SIZE);
    harness.get_by_label_contains("Nov: 2 of 3 hives entered");
    assert_eq!(harness.get_by_role_and_label(Role::TextInput, "Codes of H02").value().as_deref(), Some("n"));
}

/// The evening of the island's run, which nobody kept.
fn of_an_unkept_run(draft: Option<String>) -> (Harness<'static, impl eframe::App>, Shared) {
    let mut stage = Stage::new(island(), day(EVENING));
    stage.scene.prefs.draft = draft;
    stage.run.go(&Goto::RunOf(day(EVENING)));
    let (mut harness, stage) = open(stage, SIZE);
    harness.key_press(Key::E);
    harness.run();
    (harness, stage)
}

#[test]
fn an_evening_of_a_run_that_was_never_kept_opens_again_in_its_order() {
    let (mut harness, stage) = of_an_unkept_run(None);
    harness.get_by_label_contains("1  Mill Race");
    type_keys(&mut harness, ".b03⏎eq⏎");
    record(&mut harness);
    let order = |stage: &Stage| {
        let run = stage.scene.world.runs.values().next().expect("the run is kept with its evening");
        run.stops.iter().map(|stop| stage.scene.world.yards[&stop.yard].name.clone()).collect::<Vec<_>>()
    };
    let kept = order(&stage.borrow());
    assert_eq!((kept.len(), kept[0].as_str()), (7, "Mill Race"));
    assert_eq!(stage.borrow().done.len(), 1, "one change");
    stage.borrow_mut().goto = Some(Goto::Evening(day(EVENING), None));
    harness.run();
    harness.run();
    harness.get_by_label_contains(&format!("2  {}", kept[1]));
    harness.key_press(Key::Escape);
    harness.run();
    stage.borrow_mut().out.push(Action::Undo);
    harness.run();
    assert!(stage.borrow().scene.world.runs.is_empty(), "one undo takes both back");
}

#[test]
fn a_draft_of_a_run_that_was_never_kept_keeps_the_order_of_its_rows() {
    let (mut harness, stage) = of_an_unkept_run(None);
    type_keys(&mut harness, "eq⏎n");
    let draft = stage.borrow().scene.prefs.draft.clone().expect("a draft");
    drop(harness);
    // As if the run had been proposed the other way round before the program ended.
    let mut turned: serde_json::Value = serde_json::from_str(&draft).expect("a draft is JSON");
    turned["stops"].as_array_mut().expect("stops").reverse();
    let (harness, _stage) = of_an_unkept_run(Some(turned.to_string()));
    harness.get_by_label_contains("7  Mill Race");
    harness.get_by_label_contains("Nov: 2 of 29 hives entered");
}

#[test]
fn a_row_of_another_day_says_which_day_it_was_taken_for() {
    let (begin, _) = heath(2);
    let (mut harness, _stage) = opened(begin, day(EVENING));
    type_keys(&mut harness, "@22 eq");
    let said = harness.query_all_by_label_contains("Sun 22 Nov: Laying, her seen.").count();
    assert_eq!(said, 2, "in the row, and aloud");
}

#[test]
fn a_quiet_evening_asks_for_nothing() {
    let (begin, _) = heath(3);
    let (mut harness, stage) = opened(begin, day(EVENING));
    type_keys(&mut harness, "eq⏎");
    stage.borrow_mut().asked.clear();
    for _ in 0..10 {
        harness.step();
    }
    assert_eq!(stage.borrow().asked, []);
}

#[test]
fn the_evening_is_one_change_of_its_occasion() {
    let (begin, _) = heath(3);
    let (mut harness, stage) = opened(begin, day(EVENING));
    type_keys(&mut harness, "*eq⏎⏎");
    harness.get_by_label("Record the evening").click();
    harness.run();
    let stage = stage.borrow();
    let changes: Vec<&Change> = stage
        .asked
        .iter()
        .filter_map(|action| match action {
            Action::Change(change) => Some(change.as_ref()),
            _ => None,
        })
        .collect();
    let [Change::Visits { occasion: Occasion::Evening(_), visits, .. }] = changes.as_slice() else {
        panic!("one change: {changes:?}");
    };
    assert_eq!(visits.len(), 3);
    assert!(visits.iter().all(|visit| visit.by == "MK" && visit.day == day(EVENING)));
}

/// Queens of that source in hand since that day.
fn parcel(begin: &mut Beginning, source: &str, count: u32, arrived: &str) -> ParcelId {
    let source = begin.source(source);
    let id = ParcelId(begin.id());
    let parcel = Parcel {
        id,
        source: Some(source),
        kind: ParcelKind::CagedQueens,
        count,
        dead: 0,
        gone: 0,
        sent: None,
        due: None,
        promised: None,
        arrived: Some(day(arrived)),
        grafted: None,
        born: Birth::default(),
        dot: None,
        closed: false,
        note: String::new(),
    };
    begin.apply(&Change::PutParcel(parcel), day(arrived));
    id
}

#[test]
fn one_choice_at_the_top_says_where_all_queens_given_are_from() {
    let (mut begin, hives) = heath(5);
    let older = parcel(&mut begin, "Broom", 9, "2026-11-20");
    let newer = parcel(&mut begin, "Tansy", 3, "2026-11-22");
    let (mut harness, stage) = opened(begin, day(EVENING));
    harness.get_by_label("Given from: as planned, else the oldest").click();
    harness.run();
    harness.get_by_role_and_label(Role::MenuItem, "Caged queens: Tansy, 3 in hand, held 2 days").click();
    harness.run();
    type_keys(&mut harness, ".1⏎+q⏎eq⏎+q⏎+q⏎+q⏎");
    record(&mut harness);
    let stage = stage.borrow();
    assert_eq!(stage.refused, Vec::<String>::new());
    let from = |hive: &ColonyId| match &stage.scene.world.records_of(*hive).last().expect("a record").what {
        Happening::Visit(visit) => visit.gave.as_ref().and_then(|gave| gave.parcel),
        _ => None,
    };
    // Once the parcel is used up, what is given is from where it would have been without the choice.
    assert_eq!(hives.iter().map(from).collect::<Vec<_>>(), [Some(newer), None, Some(newer), Some(newer), Some(older)]);
}

#[test]
fn initials_that_are_none_say_so_and_hold_the_evening() {
    let (begin, _) = heath(2);
    let (mut harness, stage) = opened(begin, day(EVENING));
    harness.get_by_role_and_label(Role::TextInput, "Initials").focus();
    harness.run();
    type_keys(&mut harness, " and all the others");
    harness.get_by_role_and_label(Role::TextInput, "Codes of H01").focus();
    harness.run();
    type_keys(&mut harness, "eq⏎");
    harness.get_by_label("Initials have at most 12 signs. Shorten them.");
    record(&mut harness);
    assert!(stage.borrow().done.is_empty());
}

#[test]
fn tab_leaves_a_row_and_comes_back_without_losing_a_key() {
    let (begin, _) = heath(3);
    let (mut harness, _stage) = opened(begin, day(EVENING));
    assert!(harness.get_by_role_and_label(Role::TextInput, "Codes of H01").is_focused());
    harness.key_press_modifiers(Modifiers::SHIFT, Key::Tab);
    harness.run();
    assert!(harness.get_by_role_and_label(Role::TextInput, "Initials").is_focused());
    harness.key_press(Key::Tab);
    harness.run();
    assert!(harness.get_by_role_and_label(Role::TextInput, "Codes of H01").is_focused());
}
