//! The controls every screen is built from. Each has an accessible name, can be reached by keyboard, and shows a ring of
//! 2 points while it has the keyboard.
//!
//! One line each (`ui: &mut egui::Ui`, `t = theme::tokens(ui)`):
//!
//! ```text
//! Button::primary("Plan the run for Tue 24 Nov").key("R").show(ui).clicked()
//! Button::outlined("Print 29 labels").icon(Icon::Label).why_not(Some("No label waits.")).show(ui)
//! Button::text("All 23").show(ui)                Button::danger("End colony").show(ui)
//! Button::outlined("More").opens().show(ui)      Button::icon_only(Icon::Close, "Close the card").show(ui)
//! key::caps(ui, "Ctrl Enter")
//! Chip::choice("Requeen", chosen).count("6").show(ui).clicked()     Chip::view("Calls", true).count("19").show(ui)
//! MenuChip::new("Due", "Any").show(ui, &["Any", "Looks", "Steps"])  -> Option<usize>
//! let more = Button::outlined("More").opens().show(ui);
//! menu(ui, &more, "More", &[Entry::new("Move").key("V"), Entry::new("Bar").why_not(Some("..")), Entry::new("End").danger()])
//! chip::hides(ui, hidden, 42, "yards")                              -> true: show all
//! Field::new("Day").width(124.0).error(problem).show(ui, &mut typed)      // .above() .column(92.0) .hidden_label()
//! suggest.show(ui, Field::new("From"), &mut typed, |typed| fits)          // a field of known names, listed while typing
//! Table::new("Yards", &columns).selected(row).show(ui, rows, |row| { row.title("Broom Flat"); row.count(9); })
//! checkbox(ui, &mut ticked, "29 lid labels, marker pen")
//! Caution::new("Fire bans are not known to Lidnote.", "Ask before you light a smoker.").show(ui)
//! boxes::note(ui, Icon::Undo, "", "The whole import is one change. One undo takes it all back.")
//! boxes::empty_state(ui, "No run on this day.", "Choose a day with due work.")
//! boxes::sentence(ui, "Broom Flat: 38 hives, 9 due.", "2 late, 1 queenless.")
//! dialog(ui, "leave", "Leave without saving?", &[Verb::default("Stay"), Verb::danger("Leave")], |ui| {})
//! toasts.done("B07 accepted.", true);  toasts.failed("..");  toasts.show(ui) -> Option<toast::Pressed>
//! ends(ui, |ui| {}, |ui| {})   at_right(ui, |ui| {})                -> a row's right end, put from left to right
//! status(ui, &Status { saved: "Saved 19:12.", last: "..", undo: true, owner: "Wrackmore Bees" })
//! DayLine { start, earliest, best, latest, today }.show(ui)
//! strip(ui, "Due by day", 118.0, &cells, chosen)                    -> Option<usize>
//! progress(ui, "Reading roads", done, of, running_ms)               -> true: stop
//! parts::tab(ui, "Programme", 19, shown)    parts::heading(ui, "Parcels", "queens not given come back in hand")
//! parts::line(ui, 20.0, |ui| {})   parts::rule(ui)   parts::caption(ui, "Fill shows")   parts::figure(ui, 50.0, "21", "queens given, 3 stay in hand")
//! parts::pair(ui, 82.0, "Age", "first season, 2 months", t.text_primary)   parts::remark(ui, "..")   parts::tag(ui, "amended")
//! parts::dot(ui, Dot::White)   parts::badge(painter, t, center, 6, on_map)   parts::card(ui, |ui| {})
//! icon::show(ui, Icon::Label, t.text_primary)     icon::paint(ui.painter(), rect, Icon::Find, t.text_secondary)
//! focus::keys_are_free(ui)                                          -> single letters may act
//! ```

pub mod boxes;
pub mod button;
pub mod checkbox;
pub mod chip;
pub mod day_line;
pub mod dialog;
pub mod ends;
pub mod field;
pub mod focus;
pub mod icon;
pub mod key;
pub mod menu;
pub mod parts;
pub mod progress;
pub mod status;
pub mod strip;
pub mod suggest;
pub mod table;
#[cfg(test)]
mod tests;
pub mod toast;
pub mod typed;

pub use boxes::Caution;
pub use button::Button;
pub use checkbox::checkbox;
pub use chip::{Chip, MenuChip};
pub use day_line::{DayLine, Mark};
pub use dialog::{Answer, Verb, dialog};
pub use ends::{at_right, ends};
pub use field::Field;
pub use icon::Icon;
pub use menu::{Entry, menu};
pub use progress::progress;
pub use status::{Status, status};
pub use strip::strip;
pub use suggest::{Fit, Suggest};
pub use table::{Column, Table};
pub use toast::Toasts;
