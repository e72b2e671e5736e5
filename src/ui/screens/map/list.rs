//! The list twin: every yard the map shows, most urgent first, for keyboard and screen reader.

use std::collections::BTreeSet;

use egui::Ui;

use crate::domain::day::Day;
use crate::domain::ids::YardId;
use crate::ui::glyph::StackSize;
use crate::ui::screens::map::model::FarModel;
use crate::ui::theme;
use crate::ui::theme::metrics::{height, space};
use crate::ui::theme::text;
use crate::ui::widgets::{Button, Column, Icon, Table, parts};

/// What was done in the list.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Listed {
    /// This yard became the chosen one.
    pub selected: Option<YardId>,
    /// This yard was opened.
    pub opened: Option<YardId>,
    /// The arrows did, so that those chosen stay chosen.
    pub by_key: bool,
    /// This yard is to be one of several chosen, or no longer.
    pub toggled: Option<YardId>,
    /// All yards shown are to be chosen.
    pub all: bool,
    /// The list was closed.
    pub closed: bool,
}

/// What is chosen.
#[derive(Clone, Copy, Debug)]
pub struct Choice<'a> {
    /// The yard the arrows move.
    pub yard: Option<YardId>,
    /// Several chosen yards.
    pub yards: &'a BTreeSet<YardId>,
    /// Something else chose the yard, so scroll to it.
    pub reveal: bool,
}

/// Draws the list.
pub fn show(ui: &mut Ui, model: &FarModel, today: Day, choice: Choice<'_>, narrow: bool) -> Listed {
    let mut listed = Listed::default();
    let t = theme::tokens(ui);
    ui.spacing_mut().item_spacing.y = 0.0;
    parts::line(ui, 40.0, |ui| {
        ui.add_space(space::SIDE);
        ui.label(text::head("Yards as a list").color(t.text_primary));
        ui.label(text::table(model.yards.len().to_string()).color(t.text_secondary));
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            ui.add_space(space::BOX);
            listed.closed = Button::icon_only(Icon::Close, "Close the list").show(ui).clicked();
            if !narrow {
                ui.label(text::small("Most urgent first").color(t.text_secondary));
            }
        });
    });
    if model.yards.is_empty() && model.hidden > 0 {
        ui.add_space(space::BOX);
        ui.horizontal(|ui| {
            ui.add_space(space::SIDE);
            parts::remark(ui, "No yard fits these filters. Show all brings them back.");
        });
        return listed;
    }
    let mut columns = vec![Column::glyph(18.0), Column::rest("Yard", 1.0)];
    if !narrow {
        columns.push(Column::number("Hives", 40.0));
    }
    let (due, latest) = if narrow { (20.0, 82.0) } else { (32.0, 92.0) };
    columns.extend([Column::number("Due", due), Column::words("Latest", latest)]);
    let selected = choice.yard.and_then(|yard| model.position(yard));
    let is_chosen = |row: usize| model.yards.get(row).is_some_and(|yard| choice.yards.contains(&yard.id));
    let table = Table::new("Yards, most urgent first", &columns).selected(selected).takes_free_keys();
    let table = table.several(&is_chosen);
    let done =
        table.row_height(height::ROW).reveal(selected.filter(|_| choice.reveal)).show(ui, model.yards.len(), |row| {
            let Some(yard) = model.yards.get(row.index) else { return };
            row.stack(StackSize::Small, &yard.stack);
            if yard.at.is_some() {
                row.title(&yard.name);
            } else {
                row.two_lines(&yard.name, crate::ui::theme::fonts::Weight::Regular, "without a place");
            }
            if !narrow {
                row.count(yard.hives() as usize);
            }
            row.count(yard.view.open() as usize);
            match yard.latest(today) {
                (words, true) => row.late(&words),
                (words, false) => row.text(&words),
            }
            row.name(yard.spoken());
        });
    let at = |row: Option<usize>| row.and_then(|row| model.yards.get(row)).map(|yard| yard.id);
    listed.selected = at(done.selected);
    listed.opened = at(done.opened);
    listed.toggled = at(done.toggled);
    (listed.by_key, listed.all) = (done.by_key, done.all);
    listed
}
