//! The import preview, by keyboard alone.

use egui::{Key, Modifiers, Role};
use egui_kittest::kittest::Queryable as _;
use lidnote::ui::action::{Action, Screen};
use lidnote::ui::event::Event;
use lidnote::ui::import_model::{ImportColumn, ImportModel, ImportProblem, ImportRow, ImportWill};

use crate::kit::{Kit, day};
use crate::window_stage::{Shared, Stage, Window, assert_quiet, open, press};

fn column(theirs: &str, ours: Option<&str>) -> ImportColumn {
    ImportColumn { theirs: theirs.to_owned(), ours: ours.map(str::to_owned) }
}

/// A file of that many rows; every 40th is held back for a day that does not exist.
pub fn file(rows: usize) -> ImportModel {
    let row = |place: usize| {
        let held = place % 40 == 5;
        let day = if held { "31/11/2026" } else { "14/10/2025" };
        let says = if held { "31 November does not exist" } else { "" };
        ImportRow {
            number: place + 2,
            will: match place % 40 {
                5 => ImportWill::HoldBack,
                6 => ImportWill::Change,
                8 => ImportWill::Same,
                _ => ImportWill::Add,
            },
            cells: ["Thrift Head", &format!("TH{place:02}"), "2025", "Thrift", day, "x"].map(str::to_owned).to_vec(),
            problems: if held {
                vec![ImportProblem {
                    column: Some(4),
                    fact: "31 November does not exist".to_owned(),
                    remedy: "Type another day".to_owned(),
                    holds_back: true,
                }]
            } else {
                Vec::new()
            },
            says: says.to_owned(),
        }
    };
    let rows: Vec<ImportRow> = (0..rows).map(row).collect();
    let count = |will| u32::try_from(rows.iter().filter(|row| row.will == will).count()).expect("few");
    ImportModel {
        path: "/home/mk/thrift-and-tide.csv".to_owned(),
        name: "thrift-and-tide.csv".to_owned(),
        encoding: "UTF-8".to_owned(),
        kind: "comma".to_owned(),
        columns: vec![
            column("site", Some("yard")),
            column("hive no", Some("hive")),
            column("queen yr", Some("queen born")),
            column("breeder", Some("source")),
            column("date in", Some("introduced")),
            column("colour of box", None),
        ],
        dates_ambiguous: false,
        day_first: true,
        totals: vec![
            (count(ImportWill::Add), "hives are added".to_owned(), "in 9 yards, 2 new; 31 looks follow".to_owned()),
            (count(ImportWill::Change), "hives change".to_owned(), "source or day introduced".to_owned()),
            (count(ImportWill::Same), "stay the same".to_owned(), "no history is made".to_owned()),
            (count(ImportWill::HoldBack), "rows are held back".to_owned(), "written to held-back.csv".to_owned()),
        ],
        ready: count(ImportWill::Add) + count(ImportWill::Change),
        held_back: count(ImportWill::HoldBack),
        remarks: Vec::new(),
        known_headings: ["yard", "hive", "queen born", "source", "introduced", "note"].map(str::to_owned).to_vec(),
        read_ms: 200,
        rows,
    }
}

fn opened(model: ImportModel) -> (Window, Shared) {
    let (kit, _) = Kit::with_hives(&["B01"]);
    let mut stage = Stage::new(Some(kit.world), day("2026-11-23"), Screen::Setup);
    stage.state.take(&Event::ImportRead(Box::new(model)));
    open(stage)
}

#[test]
fn the_preview_says_what_will_happen_and_stays_quiet() {
    let (mut window, shared) = opened(file(212));
    window.get_by_label_contains("Bringing in thrift-and-tide.csv: 212 rows.");
    window.get_by_role_and_label(Role::Button, "All 212");
    window.get_by_role_and_label(Role::Button, "Hold back 6");
    window.get_by_label("Row 7, Introduced");
    window.get_by_label_contains("Read in 0.2 s.");
    assert_quiet(&mut window, &shared);
}

#[test]
fn control_enter_brings_in_and_escape_drops() {
    let (mut window, shared) = opened(file(212));
    press(&mut window, Modifiers::COMMAND, Key::Enter);
    assert_eq!(shared.borrow().asked, [Action::ApplyImport]);
    shared.borrow_mut().asked.clear();
    press(&mut window, Modifiers::COMMAND, Key::Enter);
    press(&mut window, Modifiers::NONE, Key::Escape);
    assert_eq!(shared.borrow().asked, [], "while it is being brought in it is neither sent twice nor dropped");
    let (mut window, shared) = opened(file(212));
    press(&mut window, Modifiers::NONE, Key::Escape);
    assert_eq!(shared.borrow().asked, [Action::DropImport]);
    window.get_by_label("Bring in yards and hives");
}

#[test]
fn f8_goes_to_the_next_problem_and_use_reads_again_with_the_correction() {
    let (mut window, shared) = opened(file(212));
    press(&mut window, Modifiers::NONE, Key::F8);
    window.get_by_label("Row 47, Introduced");
    let field = window.get_by_role_and_label(Role::TextInput, "Introduced, corrected");
    assert_eq!(field.value().as_deref(), Some("31/11/2026"));
    field.focus();
    window.run();
    press(&mut window, Modifiers::COMMAND, Key::A);
    window.event(egui::Event::Text("30/11/2026".to_owned()));
    window.run();
    press(&mut window, Modifiers::NONE, Key::Enter);
    let asked = shared.borrow().asked.clone();
    let [Action::ReadImport { path, options }] = asked.as_slice() else { panic!("{asked:?}") };
    assert_eq!(path, "/home/mk/thrift-and-tide.csv");
    assert_eq!(options.corrections, [(47, "introduced".to_owned(), "30/11/2026".to_owned())]);
}

#[test]
fn the_row_that_is_clicked_brings_its_own_cell_into_the_field() {
    let (mut window, shared) = opened(file(212));
    let rows: Vec<_> = window.get_all_by_role(Role::Row).collect();
    let hint = "Row 7, Introduced";
    assert!(window.query_by_label(hint).is_some(), "the first problem is chosen at the beginning");
    rows[2].click();
    drop(rows);
    window.run();
    window.get_by_label("Row 4");
    let held = window.get_all_by_role(Role::Row).nth(5).expect("row 7");
    held.click();
    window.run();
    let field = window.get_by_role_and_label(Role::TextInput, "Introduced, corrected");
    assert_eq!(field.value().as_deref(), Some("31/11/2026"));
    // Nothing is wrong any more: what is said of the row now belongs to another field.
    let mut again = file(212);
    for row in &mut again.rows {
        row.will = ImportWill::Same;
        for problem in &mut row.problems {
            (problem.holds_back, problem.column) = (false, Some(1));
        }
    }
    again.held_back = 0;
    shared.borrow_mut().state.take(&Event::ImportRead(Box::new(again)));
    window.run();
    let field = window.get_by_role_and_label(Role::TextInput, "Hive, corrected");
    assert_eq!(field.value().as_deref(), Some("TH05"));
}

#[test]
fn dates_that_can_be_read_both_ways_are_asked_once() {
    let (mut window, shared) = opened(ImportModel { dates_ambiguous: true, ..file(50) });
    press(&mut window, Modifiers::COMMAND, Key::Enter);
    assert_eq!(shared.borrow().asked, [], "nothing comes in before the dates are clear");
    window.get_by_role_and_label(Role::Button, "Month first").click();
    window.run();
    let asked = shared.borrow().asked.clone();
    let [Action::ReadImport { options, .. }] = asked.as_slice() else { panic!("{asked:?}") };
    assert_eq!(options.day_first, Some(false));
}

#[test]
fn a_column_that_was_not_recognised_is_assigned_on_its_header() {
    let (mut window, shared) = opened(file(50));
    let header = window.get_by_role_and_label(Role::Button, "Column colour of box: left out");
    header.focus();
    window.run();
    press(&mut window, Modifiers::NONE, Key::Enter);
    window.get_by_role_and_label(Role::MenuItem, "Note").click();
    window.run();
    let asked = shared.borrow().asked.clone();
    let [Action::ReadImport { options, .. }] = asked.as_slice() else { panic!("{asked:?}") };
    assert_eq!(options.mapping, [("colour of box".to_owned(), "note".to_owned())]);
}

#[test]
fn a_heading_is_found_by_its_letters() {
    let mut two = file(50);
    two.known_headings.push("queen seen".to_owned());
    let (mut window, shared) = opened(two);
    window.get_by_role_and_label(Role::Button, "Column colour of box: left out").focus();
    window.run();
    press(&mut window, Modifiers::NONE, Key::Enter);
    for key in [Key::Q, Key::U, Key::E, Key::E, Key::N, Key::S] {
        window.key_press(key);
        window.step();
    }
    press(&mut window, Modifiers::NONE, Key::Enter);
    let asked = shared.borrow().asked.clone();
    let [Action::ReadImport { options, .. }] = asked.as_slice() else { panic!("{asked:?}") };
    assert_eq!(options.mapping, [("colour of box".to_owned(), "queen seen".to_owned())]);
}

#[test]
fn a_column_head_that_tab_reaches_comes_into_view() {
    let mut wide = file(50);
    for at in 0..8 {
        wide.columns.push(column(&format!("remark {at}"), None));
    }
    let (mut window, _) = opened(wide);
    let last = "Column remark 7: left out";
    let edge = window.get_by_label("What will happen").rect().left();
    assert!(window.get_by_role_and_label(Role::Button, last).rect().left() > edge, "it begins out of sight");
    window.get_by_role_and_label(Role::Button, "Column remark 6: left out").focus();
    window.run();
    press(&mut window, Modifiers::NONE, Key::Tab);
    window.run();
    let head = window.get_by_role_and_label(Role::Button, last);
    assert!(head.is_focused() && head.rect().right() < edge, "{:?}", head.rect());
}

#[test]
fn only_the_rows_in_view_are_built() {
    let (window, _) = opened(file(8_000));
    let rows = window.query_all_by_role(Role::Row).count();
    assert!((10..60).contains(&rows), "{rows} rows are built of 8,000");
}
