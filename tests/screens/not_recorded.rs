//! What the register could not write stays in sight, and is tried again or left by keyboard.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use lidnote::ui::action::{Action, Goto, Screen};
use lidnote::ui::event::Event;
use lidnote::ui::scene::NotRecorded;

use crate::card_stage::{broom_flat, day};
use crate::window_stage::{Shared, Stage, Window, assert_quiet, open, press, type_in};

const WHY: &str = "There is no room left on the disk. Make room, then do it again.";

fn one_is_kept() -> (Window, Shared) {
    let mut stage = Stage::new(Some(broom_flat().world), day("2026-11-23"), Screen::Map);
    stage.scene.not_recorded = vec![NotRecorded { title: "B14 find".to_owned(), why: WHY.to_owned(), lasts: false }];
    open(stage)
}

#[test]
fn the_band_says_what_is_not_recorded_and_why() {
    let (mut window, shared) = one_is_kept();
    window.get_by_label(&format!("Not recorded: B14 find. {WHY}"));
    assert_quiet(&mut window, &shared);
    window.get_by_label("Try to record it again").focus();
    window.run();
    press(&mut window, Modifiers::NONE, Key::Enter);
    assert_eq!(shared.borrow().asked, [Action::RecordAgain]);
    press(&mut window, Modifiers::NONE, Key::Tab);
    press(&mut window, Modifiers::NONE, Key::Space);
    assert_eq!(shared.borrow().asked, [Action::RecordAgain, Action::LeaveUnrecorded]);
    press(&mut window, Modifiers::COMMAND, Key::R);
    assert_eq!(shared.borrow().asked.last(), Some(&Action::RecordAgain));
    shared.borrow_mut().scene.not_recorded.clear();
    window.run();
    press(&mut window, Modifiers::COMMAND, Key::R);
    assert_eq!(shared.borrow().asked.len(), 3, "nothing is left to try");
    assert!(window.query_by_label("Leave what is not recorded").is_none());
}

#[test]
fn closing_the_window_asks_first() {
    let (mut window, shared) = one_is_kept();
    shared.borrow_mut().state.take(&Event::HeldOpen);
    window.run();
    window.get_by_label("Close without recording?");
    press(&mut window, Modifiers::NONE, Key::Escape);
    assert!(window.query_by_label("Close without recording?").is_none());
    assert!(shared.borrow().asked.is_empty(), "Esc stays");
    shared.borrow_mut().state.take(&Event::HeldOpen);
    window.run();
    window.get_by_label("It cannot be kept on this computer and is lost then.");
    window.get_by_label("Close without it").click();
    window.run();
    assert_eq!(shared.borrow().asked, [Action::Quit]);
}

#[test]
fn what_is_kept_on_the_disk_may_be_closed_upon() {
    let (mut window, shared) = one_is_kept();
    {
        let stage = &mut *shared.borrow_mut();
        stage.scene.not_recorded[0].lasts = true;
        stage.state.take(&Event::HeldOpen);
    }
    window.run();
    window.get_by_label("It is kept, and offered when the register is opened again.");
    window.get_by_label("Close and keep it").click();
    window.run();
    assert_eq!(shared.borrow().asked, [Action::Quit]);
}

#[test]
fn a_form_whose_change_is_refused_after_all_opens_again_as_it_was() {
    let (mut window, shared) = open(Stage::new(Some(broom_flat().world), day("2026-11-23"), Screen::Map));
    {
        let stage = &mut *shared.borrow_mut();
        let id = stage.scene.world.living().find(|colony| colony.name() == "B14").expect("a hive").id;
        stage.state.goto = Some(Goto::Hive(id));
    }
    window.run();
    window.run();
    press(&mut window, Modifiers::NONE, Key::Enter);
    type_in(&mut window, "n 'quiet on the comb");
    press(&mut window, Modifiers::NONE, Key::Enter);
    assert!(window.query_by_label("Record a find").is_none(), "sent");
    shared.borrow_mut().state.take(&Event::Refused("It ended since".to_owned()));
    window.run();
    window.get_by_label("Record a find");
    assert!(window.query_all_by_value("n 'quiet on the comb").next().is_some(), "what was typed is there");
    shared.borrow_mut().state.take(&Event::Recorded { title: String::new(), undoable: true });
    press(&mut window, Modifiers::NONE, Key::Escape);
    shared.borrow_mut().state.take(&Event::Refused("Another one".to_owned()));
    window.run();
    assert!(window.query_by_label("Record a find").is_none(), "what was left stays left");
}
