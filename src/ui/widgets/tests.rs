//! The controls as a person without a mouse, or without eyes, meets them.

use eframe::CreationContext;
use egui::{Key, Role, Shape, Ui};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};

use crate::domain::queen::Dot;
use crate::domain::standing::LidState;
use crate::ui::glyph::{Fill, StackSize};
use crate::ui::theme;
use crate::ui::widgets::strip::{Bar, Cell, Tone};
use crate::ui::widgets::table::Done;
use crate::ui::widgets::{
    Answer, Button, Caution, Chip, Column, DayLine, Entry, Field, Icon, Mark, MenuChip, Status, Table, Verb, boxes,
    checkbox, chip, dialog, menu, parts, progress, status, strip,
};

/// One drawing function with what it keeps, shown as a program.
struct Bench<S> {
    state: S,
    draw: fn(&mut Ui, &mut S),
}

impl<S> eframe::App for Bench<S> {
    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        (self.draw)(ui, &mut self.state);
    }
}

fn bench<S: 'static>(state: S, draw: fn(&mut Ui, &mut S)) -> Harness<'static, Bench<S>> {
    let make = move |cc: &mut CreationContext<'_>| {
        theme::apply(&cc.egui_ctx);
        Bench { state, draw }
    };
    let builder = Harness::builder().with_size([900.0, 700.0]).with_theme(egui::Theme::Light);
    let mut harness = builder.build_eframe(make);
    harness.run();
    harness
}

fn press<S>(harness: &mut Harness<'_, Bench<S>>, keys: &[Key]) {
    for key in keys {
        harness.key_press(*key);
        harness.run();
    }
}

#[derive(Default)]
struct Shown {
    typed: String,
    ticked: bool,
}

fn everything(ui: &mut Ui, shown: &mut Shown) {
    let t = theme::tokens(ui);
    boxes::sentence(ui, "Broom Flat: 38 hives, 9 due.", "2 late.");
    ui.horizontal(|ui| {
        parts::tab(ui, "Programme", 19, true);
        Button::primary("Plan the run").key("R").show(ui);
        Button::outlined("Print 29 labels").icon(Icon::Label).show(ui);
        Button::text("All 23").show(ui);
        Button::danger("End colony").small().show(ui);
        Button::icon_only(Icon::Close, "Close the card").show(ui);
        Button::outlined("More").opens().why_not(Some("No hive is chosen. Choose one first.")).show(ui);
    });
    ui.horizontal(|ui| {
        Chip::view("Calls", true).count("19").show(ui);
        Chip::choice("Requeen", false).count("6").show(ui);
        MenuChip::new("Due", "Any").show(ui, &["Any", "Looks"]);
        chip::hides(ui, 3, 42, "yards");
        parts::dot(ui, Dot::White);
        parts::tag(ui, "amended");
    });
    Field::new("Day").error(Some("31 November does not exist. Type 30/11.")).show(ui, &mut shown.typed);
    checkbox(ui, &mut shown.ticked, "29 lid labels");
    Caution::new("Marl Pit is under quarantine.", "Not on this run.").barred().act("Show it").show(ui);
    boxes::note(ui, Icon::Undo, "", "One undo takes it all back.");
    parts::figure(ui, 50.0, "21", "queens given");
    parts::pair(ui, 80.0, "Age", "first season", t.text_primary);
    let mark = |day, words| Mark { day, words };
    let today = Some(mark(23, "today 23"));
    DayLine { start: mark(14, "In 14"), earliest: mark(21, "21"), best: mark(24, "24"), latest: mark(28, "28"), today }
        .show(ui);
    progress(ui, "Reading roads", 1_200, 8_000, 400);
    strip(ui, "Due by day", 112.0, &days(), Some(1));
    let columns = [Column::words("Hive", 60.0).sorts(), Column::rest("Why", 1.0)];
    Table::new("Calls", &columns).max_height(90.0).show(ui, 3, |row| {
        row.title("B14");
        row.text("Third season");
    });
    status(ui, &Status { saved: "Saved 19:12.", last: "Last change: B07", undo: true, owner: "Wrackmore Bees" });
}

fn days() -> Vec<Cell> {
    let day = |title: &str, number| Cell {
        title: title.to_owned(),
        number,
        lines: vec![("28 looks".to_owned(), Tone::Plain)],
        remark: Some(("8 late".to_owned(), Tone::Late)),
        bar: Bar::Due { open: 0.8, best: 0.4 },
        sunken: false,
        name: String::new(),
    };
    vec![day("Mon 23", 12), day("Tue 24", 34), day("Wed 25", 0)]
}

#[test]
fn everything_that_can_be_pressed_has_a_name() {
    let harness = bench(Shown::default(), everything);
    let mut pressable = 0;
    for node in harness.root().children_recursive() {
        let node = node.accesskit_node();
        let data = node.data();
        if data.supports_action(egui::accesskit::Action::Click) || data.supports_action(egui::accesskit::Action::Focus)
        {
            // What egui adds of its own: layers and the bars of its scroll areas.
            if matches!(node.role(), Role::Unknown | Role::GenericContainer | Role::Window | Role::ScrollBar) {
                continue;
            }
            pressable += 1;
            assert!(node.label().is_some_and(|label| !label.is_empty()), "a {:?} without a name", node.role());
        }
    }
    assert!(pressable > 20, "only {pressable} nodes were looked at");
}

#[test]
fn no_words_are_smaller_than_thirteen() {
    let harness = bench(Shown::default(), everything);
    let mut words = 0;
    for clipped in &harness.output().shapes {
        each_text(&clipped.shape, &mut |size, text| {
            assert!(size >= 13.0, "{text} in {size}");
            words += 1;
        });
    }
    assert!(words > 40, "only {words} texts were looked at");
}

fn each_text(shape: &Shape, look: &mut impl FnMut(f32, &str)) {
    match shape {
        Shape::Text(text) => {
            for section in &text.galley.job.sections {
                look(section.format.font_id.size, &text.galley.job.text);
            }
        }
        Shape::Vec(shapes) => shapes.iter().for_each(|shape| each_text(shape, look)),
        _ => {}
    }
}

#[test]
fn nothing_moves_or_repaints_by_itself() {
    let mut harness = bench(Shown::default(), everything);
    harness.step();
    let delay = harness.output().viewport_output[&egui::ViewportId::ROOT].repaint_delay;
    assert!(delay > std::time::Duration::from_hours(1), "asks for the next pass in {delay:?}");
}

#[test]
fn a_button_that_cannot_be_pressed_is_reached_and_says_why() {
    const WHY: &str = "No label waits. Record a find first.";
    let mut harness = bench(0, |ui, presses: &mut u32| {
        if Button::outlined("Print labels").why_not(Some(WHY)).show(ui).clicked() {
            *presses += 1;
        }
    });
    press(&mut harness, &[Key::Tab]);
    let button = harness.get_by_role_and_label(Role::Button, "Print labels");
    assert!(button.is_focused(), "the Tab key reaches it");
    assert!(button.accesskit_node().is_disabled());
    assert_eq!(button.accesskit_node().description(), Some(WHY.to_owned()));
    assert!(harness.query_by_label(WHY).is_some(), "the reason shows while it has the keyboard");
    harness.get_by_role_and_label(Role::Button, "Print labels").click();
    harness.run();
    press(&mut harness, &[Key::Enter, Key::Space]);
    assert_eq!(harness.state().state, 0, "it cannot be pressed");
    press(&mut harness, &[Key::Escape]);
    assert!(harness.query_by_label(WHY).is_none(), "and goes with it");
    harness.get_by_role_and_label(Role::Button, "Print labels").hover();
    harness.run();
    assert!(harness.query_by_label(WHY).is_some(), "and shows under the pointer");
}

#[test]
fn a_table_is_walked_and_opened_by_keys() {
    struct Yards {
        row: Option<usize>,
        done: Vec<Done>,
        drawn: usize,
    }
    let start = Yards { row: None, done: Vec::new(), drawn: 0 };
    let mut harness = bench(start, |ui, yards: &mut Yards| {
        let columns = [Column::glyph(20.0), Column::rest("Yard", 1.0).sorts(), Column::number("Due", 60.0)];
        yards.drawn = 0;
        let done = Table::new("Yards", &columns).selected(yards.row).sorted(2, true).show(ui, 5_000, |row| {
            row.hive(20.0, Fill::First, LidState::Due);
            row.title(&format!("Yard {}", row.index));
            row.count(row.index);
            yards.drawn += 1;
        });
        yards.row = done.selected.or(yards.row);
        if done != Done::default() {
            yards.done.push(done);
        }
    });
    assert!(harness.state().state.drawn < 30, "{} of 5,000 rows are built", harness.state().state.drawn);
    harness.get_by_role_and_label(Role::Row, "first season, due, Yard 3, 3").click();
    harness.run();
    assert_eq!(harness.state().state.row, Some(3), "a click selects");
    press(&mut harness, &[Key::ArrowDown, Key::ArrowDown, Key::ArrowUp]);
    assert_eq!(harness.state().state.row, Some(4), "arrows move");
    press(&mut harness, &[Key::End]);
    assert_eq!(harness.state().state.row, Some(4_999));
    assert!(
        harness.query_by_role_and_label(Role::Row, "first season, due, Yard 4999, 4999").is_some(),
        "the selected row is scrolled into view"
    );
    press(&mut harness, &[Key::Enter]);
    assert_eq!(harness.state().state.done.last().and_then(|done| done.opened), Some(4_999), "Enter opens");
    harness.get_by_role_and_label(Role::ColumnHeader, "Sort by Yard").click();
    harness.run();
    assert_eq!(harness.state().state.done.last().and_then(|done| done.sort_by), Some(1));
}

#[test]
fn a_table_with_free_keys_leaves_the_letters_of_a_field_alone() {
    let mut harness = bench((String::new(), None), |ui, (typed, row): &mut (String, Option<usize>)| {
        Field::new("Find").show(ui, typed);
        let columns = [Column::rest("Yard", 1.0)];
        let done = Table::new("Yards", &columns).selected(*row).takes_free_keys().show(ui, 9, |row| row.title("Y"));
        *row = done.selected.or(*row);
    });
    press(&mut harness, &[Key::ArrowDown]);
    assert_eq!(harness.state().state.1, Some(0), "nothing else has the keyboard");
    harness.get_by_role_and_label(Role::TextInput, "Find").focus();
    harness.run();
    press(&mut harness, &[Key::ArrowDown]);
    assert_eq!(harness.state().state.1, Some(0), "the field has it");
}

#[test]
fn a_field_is_named_and_tells_its_way_out() {
    let mut harness = bench(Shown::default(), everything);
    let field = harness.get_by_role_and_label(Role::TextInput, "Day");
    assert_eq!(field.accesskit_node().description(), Some("31 November does not exist. Type 30/11.".to_owned()));
    field.focus();
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, "Day").type_text("24/11");
    harness.run();
    assert_eq!(harness.state().state.typed, "24/11");
}

#[test]
fn a_menu_is_opened_and_chosen_from_by_keys() {
    let entries = ["Any", "Looks", "Steps"];
    let mut harness = bench(0, |ui, chosen: &mut usize| {
        let entries = ["Any", "Looks", "Steps"];
        if let Some(place) = MenuChip::new("Due", entries[*chosen]).show(ui, &entries) {
            *chosen = place;
        }
    });
    press(&mut harness, &[Key::Tab, Key::Enter]);
    assert!(harness.query_by_role_and_label(Role::MenuItem, "Looks").is_some(), "the menu is open");
    press(&mut harness, &[Key::ArrowDown, Key::Enter]);
    assert_eq!(entries[harness.state().state], "Looks");
    assert!(harness.query_by_role_and_label(Role::MenuItem, "Looks").is_none(), "the menu is closed");
    assert!(harness.get_by_role_and_label(Role::Button, "Due: Looks").is_focused(), "the chip has the keyboard again");
}

#[test]
fn a_menu_says_why_an_entry_cannot_be_chosen() {
    const WHY: &str = "B33 is barred: swarm cells on 18 Nov.";
    let mut harness = bench(Vec::new(), |ui, chosen: &mut Vec<usize>| {
        let more = Button::outlined("More").opens().show(ui);
        let entries = [Entry::new("Introduce").key("I").why_not(Some(WHY)), Entry::new("End colony").danger()];
        chosen.extend(menu(ui, &more, "More", &entries));
    });
    harness.get_by_role_and_label(Role::Button, "More").click();
    harness.run();
    let entry = harness.get_by_role_and_label(Role::MenuItem, "Introduce");
    assert_eq!(entry.accesskit_node().description(), Some(WHY.to_owned()));
    entry.click();
    harness.run();
    assert!(harness.state().state.is_empty(), "it cannot be chosen");
    harness.get_by_role_and_label(Role::MenuItem, "End colony").click();
    harness.run();
    assert_eq!(harness.state().state, [1]);
    harness.get_by_role_and_label(Role::Button, "More").click();
    harness.run();
    press(&mut harness, &[Key::Escape]);
    assert!(harness.query_by_role_and_label(Role::MenuItem, "End colony").is_none(), "Esc closes it");
}

struct Asking {
    open: bool,
    answers: Vec<Answer>,
}

fn asking(ui: &mut Ui, asking: &mut Asking) {
    if Button::outlined("Ask").show(ui).clicked() {
        asking.open = true;
    }
    if asking.open {
        let verbs = [Verb::plain("Stay"), Verb::default("Open a copy"), Verb::danger("Take it over")];
        if let Some(answer) =
            dialog(ui, "test", "Open it here?", &verbs, |ui| parts::remark(ui, "It is open elsewhere."))
        {
            asking.open = false;
            asking.answers.push(answer);
        }
    }
}

#[test]
fn a_dialog_is_answered_by_keys_and_gives_the_keyboard_back() {
    let mut harness = bench(Asking { open: false, answers: Vec::new() }, asking);
    press(&mut harness, &[Key::Tab, Key::Enter]);
    assert!(harness.state().state.open, "the key that opened it does not answer it");
    press(&mut harness, &[Key::Enter]);
    assert_eq!(harness.state().state.answers, [Answer::Verb(1)], "Enter is the default verb");
    assert!(harness.get_by_role_and_label(Role::Button, "Ask").is_focused(), "the opener has the keyboard again");
    press(&mut harness, &[Key::Enter, Key::Escape]);
    assert_eq!(harness.state().state.answers, [Answer::Verb(1), Answer::Left]);
    press(&mut harness, &[Key::Enter]);
    harness.get_by_role_and_label(Role::Button, "Take it over").click();
    harness.run();
    assert_eq!(harness.state().state.answers.last(), Some(&Answer::Verb(2)));
}

#[test]
fn what_lies_below_a_dialog_hears_no_key() {
    let mut harness = bench((false, Vec::new()), |ui, (open, heard): &mut (bool, Vec<&str>)| {
        super::dialog::hold_keys(ui);
        let pressed = |key| ui.input_mut(|input| input.consume_key(egui::Modifiers::NONE, key));
        if pressed(Key::Escape) {
            heard.push("screen");
        }
        if pressed(Key::D) {
            *open = true;
        }
        if *open && dialog(ui, "test", "Open it here?", &[Verb::plain("Stay")], |_| {}).is_some() {
            *open = false;
            heard.push("dialog");
        }
    });
    press(&mut harness, &[Key::D, Key::Escape]);
    assert_eq!(harness.state().state, (false, vec!["dialog"]));
    press(&mut harness, &[Key::Escape]);
    assert_eq!(harness.state().state.1, ["dialog", "screen"]);
}

#[test]
fn a_strip_is_walked_by_arrows() {
    let mut harness = bench(Some(1), |ui, day: &mut Option<usize>| {
        *day = strip(ui, "Due by day", 112.0, &days(), *day).or(*day);
    });
    press(&mut harness, &[Key::Tab, Key::ArrowRight, Key::ArrowRight]);
    assert_eq!(harness.state().state, Some(2), "it stops at the last day");
    press(&mut harness, &[Key::ArrowLeft]);
    assert_eq!(harness.state().state, Some(1));
    harness.get_by_role_and_label(Role::ListBoxOption, "Mon 23, 12 due, 28 looks, 8 late").click();
    harness.run();
    assert_eq!(harness.state().state, Some(0));
}

#[test]
fn a_box_is_ticked_by_the_space_bar() {
    let mut harness = bench(false, |ui, ticked: &mut bool| {
        checkbox(ui, ticked, "Candy");
    });
    press(&mut harness, &[Key::Tab, Key::Space]);
    assert!(harness.state().state);
    let toggled = harness.get_by_role_and_label(Role::CheckBox, "Candy").accesskit_node().toggled();
    assert_eq!(toggled, Some(egui::accesskit::Toggled::True));
}

#[test]
fn everything_is_larger_and_smaller_within_its_bounds() {
    let up: Vec<u32> = theme::ZOOMS.iter().map(|zoom| theme::zoom_step(*zoom, 1)).collect();
    assert_eq!(up, [90, 100, 110, 125, 150, 175, 200, 200]);
    let down: Vec<u32> = theme::ZOOMS.iter().map(|zoom| theme::zoom_step(*zoom, -1)).collect();
    assert_eq!(down, [80, 80, 90, 100, 110, 125, 150, 175]);
    assert_eq!((theme::zoom_step(133, 1), theme::zoom_step(133, -1)), (150, 125), "a size set by hand in the file");
}

#[test]
fn the_typefaces_have_every_letter_that_is_needed() {
    let mut harness = bench((), |ui, ()| {
        ui.label("x");
    });
    harness.run();
    let font = theme::text::BODY.font(theme::fonts::Weight::SemiBold);
    harness.ctx.fonts_mut(|fonts| {
        for letter in "aZ09āēīōūłøñßäöüéçðþḍḥṭЖΩ←↑→↓↗✓≤≥≈×–—…′″½€·°".chars()
        {
            assert!(fonts.has_glyph(&font, letter), "{letter} is missing");
        }
        let widths: Vec<f32> = "0123456789+−".chars().map(|digit| fonts.glyph_width(&font, digit)).collect();
        assert!(widths.iter().all(|width| (width - widths[0]).abs() < 0.01), "digits stand in columns: {widths:?}");
    });
}

#[test]
fn a_glyph_among_words_is_read_out() {
    let harness = bench((), |ui, ()| {
        crate::ui::glyph::hive_widget(ui, 20.0, Fill::First, LidState::Due, "B14, first season, acceptance look due");
        let stack = crate::ui::glyph::Stack { bands: [3, 2, 1, 0, 0, 0, 0], lid: LidState::Late, barred: false };
        crate::ui::glyph::stack_widget(ui, StackSize::Middle, &stack, "Broom Flat, 6 hives, 2 late");
    });
    assert!(harness.query_by_role_and_label(Role::Image, "B14, first season, acceptance look due").is_some());
    assert!(harness.query_by_role_and_label(Role::Image, "Broom Flat, 6 hives, 2 late").is_some());
}
