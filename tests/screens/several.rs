//! Several hives of a yard are given cells and virgins, and barred from a day to come.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use lidnote::domain::change::Change;
use lidnote::domain::visit::Given;
use lidnote::ui::action::Action;

use crate::map::{seven_chosen, type_in};
use crate::map_stage::Shared;
use crate::run_stage::day;

/// Types in place of what stands in the field of that name.
fn retype(harness: &mut Harness<'static, impl eframe::App>, field: &str, words: &str) {
    harness.get_by_role_and_label(Role::TextInput, field).focus();
    harness.run();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, field).type_text(words);
    harness.run();
}

fn given(stage: &Shared) -> Vec<Given> {
    let stage = stage.borrow();
    assert_eq!(stage.refused, Vec::<String>::new());
    let Some(Action::Change(change)) = stage.asked.last() else { panic!("{:?}", stage.asked) };
    let Change::Visits { visits, .. } = change.as_ref() else { panic!("{change:?}") };
    visits.iter().filter_map(|visit| visit.visit.gave.clone()).collect()
}

#[test]
fn each_of_several_gets_as_many_cells_as_are_said() {
    let (mut harness, stage) = seven_chosen();
    harness.key_press(Key::I);
    harness.run();
    assert!(harness.query_by_label("Cells each").is_none(), "one caged queen is enough");
    harness.get_by_label("Mature cell").click();
    harness.run();
    retype(&mut harness, "Cells each", "two");
    harness.get_by_label_contains("The number of cells is not understood.");
    retype(&mut harness, "Cells each", "2");
    harness.get_by_role_and_label(Role::Button, "Give 7").click();
    harness.run();
    assert_eq!(given(&stage).iter().map(|gave| gave.cells).collect::<Vec<_>>(), [2; 7]);
}

#[test]
fn the_day_their_virgins_emerged_moves_their_looks() {
    let (mut harness, stage) = seven_chosen();
    harness.key_press(Key::I);
    harness.run();
    harness.get_by_label("Virgin").click();
    harness.run();
    type_in(&mut harness, "Emerged", "20 nov");
    // Eggs are looked for from day e+13 on.
    harness.get_by_label_contains("First brood look 3, 4, 7 Dec.");
    harness.get_by_role_and_label(Role::Button, "Give 7").click();
    harness.run();
    assert!(given(&stage).iter().all(|gave| gave.emerged == Some(day("2026-11-20"))));
}

#[test]
fn several_are_barred_from_a_day_to_come() {
    let (mut harness, stage) = seven_chosen();
    harness.key_press(Key::B);
    harness.run();
    retype(&mut harness, "From", "1 dec");
    type_in(&mut harness, "Last day", "20 dec");
    harness.get_by_role_and_label(Role::Button, "Bar 7").click();
    harness.run();
    let stage = stage.borrow();
    assert_eq!(stage.refused, Vec::<String>::new());
    let days: Vec<_> = stage.scene.world.bars.values().map(|bar| (bar.from, bar.until)).collect();
    assert_eq!(days, [(day("2026-12-01"), Some(day("2026-12-20"))); 7]);
}
