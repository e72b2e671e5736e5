//! The hive card driven by keyboard and by role and label.

use eframe::CreationContext;
use egui::{Key, Role};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use lidnote::domain::change::Change;
use lidnote::domain::record::Which;
use lidnote::domain::standing::{Phase, QueenNow};
use lidnote::ui::action::{Action, Goto};
use lidnote::ui::card::CardAnswer;
use lidnote::ui::scene::{Contents, FileWritten};
use lidnote::ui::theme;

use crate::card_stage::{Stage, broom_flat, day};

struct App(Stage);

impl eframe::App for App {
    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        self.0.draw(ui);
    }
}

type Card = Harness<'static, App>;

fn card_on(hive: &str, today: &str) -> Card {
    let (hive, today) = (hive.to_owned(), day(today));
    let make = move |cc: &mut CreationContext<'_>| {
        theme::apply(&cc.egui_ctx);
        App(Stage::new(broom_flat(), today, &hive))
    };
    let mut card = Harness::builder().with_size([452.0, 900.0]).with_theme(egui::Theme::Light).build_eframe(make);
    card.run();
    card
}

fn card(hive: &str) -> Card {
    card_on(hive, "2026-11-23")
}

fn press(card: &mut Card, keys: &[Key]) {
    for key in keys {
        card.key_press(*key);
        card.run();
    }
}

/// Types into whatever has the keyboard.
fn type_text(card: &mut Card, text: &str) {
    card.event(egui::Event::Text(text.to_owned()));
    card.run();
}

/// Presses Tab until the field of that label has the keyboard.
fn tab_to(card: &mut Card, label: &str) {
    for _ in 0..60 {
        let there = card.query_all_by_label(label).any(|node| node.is_focused());
        if there {
            return;
        }
        press(card, &[Key::Tab]);
    }
    panic!("{label} is not reached by Tab");
}

fn stage(card: &Card) -> &Stage {
    &card.state().0
}

fn last_title(card: &Card) -> &str {
    stage(card).done.last().map_or("", |(title, _)| title)
}

#[test]
fn a_card_says_who_she_is_and_what_is_due() {
    let card = card("B14");
    for label in [
        "B14",
        "Broom Flat, row 2, place 2",
        "dot white",
        "Identity: given 14 Nov, not seen since",
        "From: Thrift, own line; caged mated queen",
        "Due: acceptance look",
        "Open, 5 days left",
        "In 14 Nov, window 21 to 28, best 24 Nov, today 23, day 9",
        "Label: B14 CAGE IN 14 NOV, white, Thrift, SHUT TO 21 SEE 24, caged queen in 14 Nov, temper from 26 Dec",
    ] {
        card.get_by_label(label);
    }
    card.get_by_label_contains("6 Nov, JT: was B15, 2 Nov");
}

#[test]
fn a_printed_label_says_where_it_lies_as_long_as_the_register_is_open() {
    let mut card = card("B14");
    assert!(card.query_by_label("Open labels.pdf").is_none());
    let colony = stage(&card).colony;
    let path = "/home/mk/labels.pdf".to_owned();
    let of = Contents::Labels(vec![colony]);
    card.state_mut().0.scene.written = vec![FileWritten { path: path.clone(), of }];
    card.run();
    card.get_by_label("labels.pdf, in /home/mk");
    card.get_by_label("Open labels.pdf").click();
    card.run();
    assert_eq!(stage(&card).asked.last(), Some(&Action::OpenFile { path }));
}

#[test]
fn ten_frames_without_input_ask_for_nothing() {
    for hive in ["B12", "B14", "B22", "B27", "B30", "B33", "B36"] {
        let mut card = card(hive);
        for _ in 0..10 {
            card.step();
        }
        assert!(stage(&card).asked.is_empty(), "{hive}");
    }
}

#[test]
fn forms_left_alone_ask_for_nothing_and_escape_closes_them() {
    let mut card = card("B14");
    for key in [Key::Enter, Key::I, Key::M] {
        press(&mut card, &[key]);
        assert!(stage(&card).state.form_is_open(), "{key:?} opens a form");
        for _ in 0..10 {
            card.step();
        }
        press(&mut card, &[Key::Escape]);
        assert!(!stage(&card).state.form_is_open(), "Esc closes it");
    }
    assert!(stage(&card).asked.is_empty());
}

#[test]
fn a_find_is_recorded_by_keyboard_alone() {
    let mut card = card("B14");
    press(&mut card, &[Key::Enter]);
    type_text(&mut card, "eq");
    card.get_by_label("Laying, her seen. Accepted, nothing due.");
    card.get_by_label("B14: accepted");
    press(&mut card, &[Key::Enter]);
    assert_eq!(last_title(&card), "B14 acceptance look, accepted");
    assert!(!stage(&card).state.form_is_open());
    card.get_by_label("Identity: seen 23 Nov");
}

#[test]
fn a_contradiction_is_said_in_place_and_not_recorded() {
    let mut card = card("B14");
    press(&mut card, &[Key::Enter]);
    type_text(&mut card, "en");
    card.get_by_label_contains("othing seen (n), yet");
    press(&mut card, &[Key::Enter]);
    assert!(stage(&card).done.is_empty() && stage(&card).state.form_is_open());
}

#[test]
fn codes_can_be_pressed_instead_of_typed() {
    let mut card = card("B14");
    card.get_by_role_and_label(Role::Button, "Record find").click();
    card.run();
    card.get_by_role_and_label(Role::Button, "e eggs").click();
    card.run();
    card.get_by_role_and_label(Role::Button, "q her seen").click();
    card.run();
    card.get_by_role_and_label(Role::Button, "Record find").click();
    card.run();
    assert_eq!(last_title(&card), "B14 acceptance look, accepted");
}

#[test]
fn a_letter_opens_more_and_arrows_choose_in_it() {
    let mut card = card("B14");
    press(&mut card, &[Key::O]);
    press(&mut card, &[Key::ArrowDown]);
    press(&mut card, &[Key::Enter]);
    assert!(stage(&card).state.form_is_open());
    assert!(card.query_all_by_label("Mark the queen").next().is_some());
}

#[test]
fn a_queen_is_given_by_keyboard_alone_and_what_follows_is_said_first() {
    let mut card = card("B12");
    press(&mut card, &[Key::I]);
    card.get_by_label_contains("30 Nov, 3, 7 Dec acceptance look");
    card.get_by_label_contains("Label: B12 CAGE IN 23 NOV");
    press(&mut card, &[Key::Enter]);
    let Phase::Introduced(introduced) = &stage(&card).scene.outlook.colonies[&stage(&card).colony].standing.phase
    else {
        panic!("she was given");
    };
    assert_eq!(introduced.day0, day("2026-11-23"));
    assert_eq!(introduced.dequeened, Some(day("2026-11-23")), "found and removed on the same visit");
}

#[test]
fn a_day_to_come_makes_a_plan() {
    let mut card = card("B12");
    press(&mut card, &[Key::I]);
    card.key_press_modifiers(egui::Modifiers::COMMAND, Key::A);
    type_text(&mut card, "+3");
    press(&mut card, &[Key::Enter]);
    assert_eq!(last_title(&card), "B12 caged queen planned for 26 Nov");
}

#[test]
fn no_queen_is_offered_where_disease_is_suspected() {
    let mut card = card("B33");
    assert!(card.query_by_role_and_label(Role::Button, "Introduce").is_none());
    press(&mut card, &[Key::I]);
    assert!(!stage(&card).state.form_is_open(), "nor by its key");
    given(&mut card);
    card.get_by_label("From: not known");
}

/// Says that a queen was given, under More.
fn given(card: &mut Card) {
    card.get_by_role_and_label(Role::Button, "More").click();
    card.run();
    card.get_by_role_and_label(Role::MenuItem, "A queen was given").click();
    card.run();
}

#[test]
fn a_plan_against_disease_is_refused_and_what_was_done_is_recorded_with_a_flag() {
    let mut card = card("B33");
    given(&mut card);
    card.get_by_label_contains("A bar holds: American foulbrood suspected");
    card.key_press_modifiers(egui::Modifiers::COMMAND, Key::A);
    type_text(&mut card, "+3");
    card.get_by_label_contains("B33 is barred");
    press(&mut card, &[Key::Enter]);
    assert!(stage(&card).done.is_empty(), "a plan is refused");
    press(&mut card, &[Key::Escape]);
    given(&mut card);
    press(&mut card, &[Key::Enter]);
    assert_eq!(stage(&card).done.len(), 1, "a fact is not");
    card.get_by_label_contains("Given 23 Nov against a bar");
}

#[test]
fn a_record_put_on_the_wrong_hive_is_amended_by_keyboard_alone() {
    let mut card = card("B36");
    press(&mut card, &[Key::Enter]);
    type_text(&mut card, "eq");
    press(&mut card, &[Key::Enter]);
    assert_eq!(stage(&card).label("B36")[2], "NOTHING DUE");
    press(&mut card, &[Key::M]);
    card.key_press_modifiers(egui::Modifiers::COMMAND, Key::A);
    type_text(&mut card, "B15");
    card.get_by_label("B15: accepted");
    card.get_by_label("Say why the record was wrong.");
    tab_to(&mut card, "Reason");
    type_text(&mut card, "wrong row");
    card.get_by_label("B36: acceptance look, late");
    card.get_by_label("B15: accepted");
    card.get_by_label("2 labels wait to be printed.");
    press(&mut card, &[Key::Enter]);
    assert_eq!(last_title(&card), "B36 record of 23 Nov moved to B15");
    assert_eq!(stage(&card).label("B15")[2], "NOTHING DUE");
    assert_eq!(stage(&card).label("B36")[0], "B36 CAGE IN 4 NOV");
}

#[test]
fn a_reason_is_asked_for_before_anything_is_amended() {
    let mut card = card("B36");
    press(&mut card, &[Key::M]);
    card.get_by_role_and_label(Role::CheckBox, "It did not happen: take the record back").click();
    card.run();
    card.get_by_label("Say why the record was wrong.");
    tab_to(&mut card, "Reason");
    type_text(&mut card, "never given");
    press(&mut card, &[Key::Enter]);
    assert_eq!(last_title(&card), "B36 record of 4 Nov taken back");
    card.get_by_label_contains("taken back; ");
}

#[test]
fn the_question_which_queen_is_answered_by_a_button() {
    let mut card = card("B30");
    card.get_by_label("Another queen was seen 20 Nov; the recorded queen last 10 Nov.");
    card.get_by_label("Superseded: the colony replaced her itself").click();
    card.run();
    let asked = &stage(&card).asked;
    let Some(Action::Change(change)) = asked.first() else { panic!("a change") };
    assert!(matches!(**change, Change::Answer { which: Which::Superseded, .. }));
    assert!(card.query_by_label("Which queen was it?").is_none(), "it is answered");
    card.get_by_label("Identity: not recorded, seen 20 Nov");
}

#[test]
fn the_clock_tells_a_waiting_colony_and_own_raising_can_be_chosen() {
    let mut card = card("B27");
    card.get_by_label("Her queen: Broom, caged queen. Due 14 Nov, promised 25 Nov");
    card.get_by_label("D+10, 23 Nov, Own virgin may be out: look first today");
    card.get_by_label("16 Nov: Parcel late: 14 Nov became 25 Nov");
    card.get_by_label("Let it raise its own queen").click();
    card.run();
    press(&mut card, &[Key::Enter]);
    let standing = &stage(&card).scene.outlook.colonies[&stage(&card).colony].standing;
    assert!(matches!(standing.phase, Phase::RaisingOwn { .. }), "{:?}", standing.phase);
}

#[test]
fn everything_under_more_opens_a_short_form() {
    let mut card = card("B14");
    for (entry, heading) in [
        ("Dequeen", "Dequeen"),
        ("Mark the queen", "Mark the queen"),
        ("Sign or temper", "Sign or temper"),
        ("Move", "Move the hive"),
        ("Swap places", "Swap places with another hive"),
        ("Lids swapped", "Lids swapped with another hive"),
        ("Rename", "Rename"),
        ("Split", "Split"),
        ("Unite", "Unite into another hive"),
        ("Bar", "Bar requeening"),
        ("Queen's details", "Queen's details"),
        ("Beginning and note", "Beginning and note"),
        ("End the colony", "End the colony"),
    ] {
        card.get_by_role_and_label(Role::Button, "More").click();
        card.run();
        card.get_by_role_and_label(Role::MenuItem, entry).click();
        card.run();
        assert!(stage(&card).state.form_is_open(), "{entry}");
        assert!(card.query_all_by_label(heading).next().is_some(), "{entry}: {heading}");
        press(&mut card, &[Key::Escape]);
        assert!(!stage(&card).state.form_is_open() && stage(&card).asked.is_empty(), "{entry}");
    }
}

/// Opens an entry of More, presses Tab to the field if one is named, types, and presses Enter.
fn short(hive: &str, entry: &str, typed: &[(&str, &str)]) -> Card {
    let mut card = card(hive);
    card.get_by_role_and_label(Role::Button, "More").click();
    card.run();
    card.get_by_role_and_label(Role::MenuItem, entry).click();
    card.run();
    for (field, text) in typed {
        tab_to(&mut card, field);
        card.key_press_modifiers(egui::Modifiers::COMMAND, Key::A);
        type_text(&mut card, text);
    }
    press(&mut card, &[Key::Enter]);
    card
}

#[test]
fn short_forms_make_their_changes() {
    assert_eq!(last_title(&short("B12", "Rename", &[("New name", "B99")])), "B12 renamed B99");
    assert_eq!(last_title(&short("B12", "Swap places", &[("With hive", "B14")])), "B12 and B14 swapped places");
    assert_eq!(last_title(&short("B12", "Move", &[("Yard", "heath")])), "B12 moved to Heath yard");
    assert_eq!(last_title(&short("B12", "Unite", &[("Into hive", "14")])), "B12 united into B14");
    assert_eq!(last_title(&short("B12", "Split", &[("New hive", "B40")])), "B40 split from B12");
    assert_eq!(last_title(&short("B12", "Bar", &[("Reason", "strips in")])), "B12 barred: treatment in");
    assert_eq!(last_title(&short("B12", "End the colony", &[("Words", "wasps")])), "B12 died");
    let dequeened = short("B12", "Dequeen", &[("Words", "small")]);
    let standing = &stage(&dequeened).scene.outlook.colonies[&stage(&dequeened).colony].standing;
    assert!(!matches!(standing.queen, QueenNow::Present(_)), "{:?}", standing.queen);
    let lifted = short("B33", "Lift the bar", &[("Why, and on whose word", "cleared, bee officer")]);
    assert_eq!(last_title(&lifted), "B33 bar lifted");
}

#[test]
fn a_bar_that_begins_later_stands_on_the_card_and_is_called_off() {
    let mut card = short("B12", "Bar", &[("Reason", "strips in"), ("From", "30 nov")]);
    card.get_by_label_contains("Barred from 30 Nov: treatment in.");
    card.get_by_label_contains("30 Nov: To be barred: treatment in, strips in");
    card.get_by_role_and_label(Role::Button, "Lift the bar").click();
    card.run();
    type_text(&mut card, "strips sold out");
    press(&mut card, &[Key::Enter]);
    assert_eq!(last_title(&card), "B12 bar called off: treatment in");
    assert!(card.query_by_label_contains("Barred from").is_none());
    card.get_by_label("23 Nov: Bar from 30 Nov called off: treatment in; strips sold out, MK");
}

#[test]
fn lids_swapped_alone_say_nothing_of_a_find() {
    let mut card = card("B12");
    card.get_by_role_and_label(Role::Button, "More").click();
    card.run();
    card.get_by_role_and_label(Role::MenuItem, "Lids swapped").click();
    card.run();
    type_text(&mut card, "14");
    card.get_by_label_contains("Lids swapped: both labels again.");
    assert!(card.query_by_label_contains("nothing to judge").is_none());
}

#[test]
fn initials_that_do_not_fit_the_sheet_are_refused_in_every_form() {
    let mut card = short("B12", "Dequeen", &[("By", "Martha Kessler")]);
    card.get_by_label_contains("Initials have at most 12 signs. Shorten them");
    assert!(stage(&card).asked.is_empty());
    tab_to(&mut card, "By");
    card.key_press_modifiers(egui::Modifiers::COMMAND, Key::A);
    type_text(&mut card, "MK");
    press(&mut card, &[Key::Enter]);
    assert_eq!(stage(&card).asked.len(), 1);
}

#[test]
fn tab_goes_through_the_head_of_the_card_from_left_to_right() {
    let mut card = card("B12");
    tab_to(&mut card, "Previous hive");
    for next in ["Next hive", "Close the card"] {
        press(&mut card, &[Key::Tab]);
        assert!(card.get_by_label(next).is_focused(), "{next}");
    }
}

#[test]
fn a_former_name_stays_on_the_card_and_in_the_history() {
    let card = short("B12", "Rename", &[("New name", "B99")]);
    card.get_by_label("Broom Flat, row 2, place 1");
    card.get_by_label("Called B12 to 23 Nov.");
    card.get_by_label("23 Nov: Renamed B99, before it B12");
}

#[test]
fn a_soft_bar_refuses_a_plan_until_it_is_overruled() {
    let mut card = short("B12", "Bar", &[("Reason", "strips in")]);
    card.get_by_label_contains("Barred since 23 Nov: treatment in.");
    press(&mut card, &[Key::I]);
    card.key_press_modifiers(egui::Modifiers::COMMAND, Key::A);
    type_text(&mut card, "+3");
    card.get_by_label_contains("B12 is barred: treatment in");
    card.get_by_role_and_label(Role::CheckBox, "Plan it all the same").click();
    card.run();
    card.get_by_role_and_label(Role::Button, "Plan caged queen").click();
    card.run();
    assert_eq!(last_title(&card), "B12 caged queen planned for 26 Nov");
    card.get_by_role_and_label(Role::Button, "Lift the bar").click();
    card.run();
    type_text(&mut card, "strips out");
    press(&mut card, &[Key::Enter]);
    assert_eq!(last_title(&card), "B12 bar lifted: treatment in");
}

#[test]
fn a_parcel_in_hand_is_drawn_down() {
    let mut card = card("B12");
    press(&mut card, &[Key::I]);
    card.get_by_label("From: Thrift, 33 in hand, held 11 days");
    press(&mut card, &[Key::Enter, Key::I]);
    card.get_by_label("From: Thrift, 32 in hand, held 11 days");
}

#[test]
fn a_queen_given_by_codes_comes_out_of_what_is_in_hand_and_says_so() {
    let mut card = card("B12");
    press(&mut card, &[Key::Enter]);
    type_text(&mut card, "/q +q");
    card.get_by_label("Given from");
    card.get_by_role_and_label(Role::Button, "Thrift, 33 in hand, held 11 days");
    press(&mut card, &[Key::Enter, Key::I]);
    card.get_by_label("From: Thrift, 32 in hand, held 11 days");
    press(&mut card, &[Key::Escape, Key::Enter]);
    type_text(&mut card, "+q");
    card.get_by_role_and_label(Role::Button, "none of these").click();
    card.run();
    card.get_by_role_and_label(Role::TextInput, "Seen and done, in codes").focus();
    press(&mut card, &[Key::Enter, Key::I]);
    card.get_by_label("From: Thrift, 32 in hand, held 11 days");
}

#[test]
fn an_ended_colony_keeps_its_card_but_no_more_can_be_done() {
    let mut card = short("B12", "End the colony", &[("Words", "wasps")]);
    card.get_by_label("Died 23 Nov.");
    card.get_by_label("23 Nov: Died: wasps, MK");
    press(&mut card, &[Key::Enter, Key::I]);
    assert!(!stage(&card).state.form_is_open());
}

#[test]
fn a_refusal_stands_in_the_form() {
    let card = short("B12", "Rename", &[("New name", "B14")]);
    assert!(stage(&card).done.is_empty() && stage(&card).state.form_is_open());
    card.get_by_label_contains("has another living hive called B14. Give one");
}

#[test]
fn print_other_sheet_arrows_and_all() {
    let mut card = card("B14");
    press(&mut card, &[Key::P]);
    assert!(matches!(&stage(&card).asked[..], [Action::PrintLabels { start: 1, note_printed: true, .. }]));
    card.get_by_label("Other sheet").click();
    card.run();
    assert_eq!(stage(&card).goto, Some(Goto::LabelsOf(stage(&card).colony)));
    card.get_by_label("All 3").click();
    card.run();
    card.get_by_label("B14 caged queen given: Thrift");
    assert_eq!(stage(&card).asked.last(), Some(&Action::FetchHistory(Some(stage(&card).colony))));
    card.get_by_label("Next hive").click();
    card.run();
    assert_eq!(stage(&card).answer, CardAnswer::Next);
    card.get_by_label("Close the card").click();
    card.run();
    assert_eq!(stage(&card).answer, CardAnswer::Close);
}

#[test]
fn arrows_choose_a_row_of_the_history() {
    let mut card = card("B14");
    tab_to(&mut card, "History");
    press(&mut card, &[Key::ArrowDown, Key::M]);
    assert!(stage(&card).state.form_is_open());
    card.get_by_label("Amend the record of 2 Nov");
}

#[test]
fn everything_that_can_be_pressed_has_a_name() {
    let mut card = card("B14");
    for key in [None, Some(Key::Enter), Some(Key::Escape), Some(Key::I), Some(Key::Escape), Some(Key::M)] {
        if let Some(key) = key {
            press(&mut card, &[key]);
        }
        for node in card.root().children_recursive() {
            let node = node.accesskit_node();
            let data = node.data();
            let acts = data.supports_action(egui::accesskit::Action::Click)
                || data.supports_action(egui::accesskit::Action::Focus);
            let plain = [Role::Unknown, Role::GenericContainer, Role::Window, Role::ScrollBar];
            if acts && !plain.contains(&node.role()) {
                assert!(node.label().is_some_and(|label| !label.is_empty()), "a {:?} without a name", node.role());
            }
        }
    }
}

#[test]
fn a_record_that_went_to_another_hive_stays_on_the_card_it_left() {
    // Recorded at B15 on 2 Nov, moved to B14 on 6 Nov.
    let card = card("B15");
    card.get_by_label(
        "2 Nov: Eggs, larvae, capped worker brood, temper 2, moved; 6 Nov, JT: moved to B14. Wrong row of the sheet",
    );
}

#[test]
fn a_queens_details_are_corrected_by_keyboard_alone_and_say_what_they_were() {
    let mut card = short("B12", "Queen's details", &[("Born", "12 oct 2025")]);
    card.get_by_label("Say what was wrong.");
    assert!(stage(&card).done.is_empty() && stage(&card).state.form_is_open());
    tab_to(&mut card, "Reason");
    type_text(&mut card, "year misread");
    press(&mut card, &[Key::Enter]);
    assert_eq!(last_title(&card), "B12 queen's details corrected");
    card.get_by_label("Age: second season, 13 months");
    card.get_by_label("23 Nov: Corrected: was queen born Oct 2024, Broom, dot green, came mated. Year misread, MK");
}

#[test]
fn a_beginning_and_a_note_are_corrected_by_keyboard_alone() {
    let card = short("B12", "Beginning and note", &[("Note", "hot, veil on early")]);
    assert_eq!(last_title(&card), "B12 note altered");
    card.get_by_label("hot, veil on early");
    let typed = [("Founded or first known", "20 aug"), ("Reason", "known before")];
    let card = short("B12", "Beginning and note", &typed);
    assert_eq!(last_title(&card), "B12 beginning corrected");
    card.get_by_label("23 Nov: Corrected: was founded 1 Sep. Known before, MK");
    let card = short("B14", "Beginning and note", &[("Founded or first known", "15 nov"), ("Reason", "slip")]);
    assert!(stage(&card).done.is_empty() && stage(&card).state.form_is_open());
    card.get_by_label_contains("B14 has a record of 2 Nov, before 15 Nov");
}
