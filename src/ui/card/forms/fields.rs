//! Fields that most forms share: a day, initials, words; and the watch for `Enter`.

use egui::{Key, Response, Role, Ui, WidgetInfo};

use crate::domain::birth_words;
use crate::domain::day::Day;
use crate::domain::day_words::{DateOrder, Lean, read_day};
use crate::domain::queen::{Birth, Dot};
use crate::domain::world::World;
use crate::ui::card::forms::verdict::Trouble;
use crate::ui::card::model::dot_of;
use crate::ui::theme;
use crate::ui::theme::metrics::height;
use crate::ui::widgets::{Chip, Field, parts};

/// What the fields of a form are told and tell.
pub(crate) struct Inputs {
    /// `Enter` was pressed.
    pub enter: bool,
    /// The first field is to get the keyboard.
    pub fresh: bool,
}

impl Inputs {
    /// A field of text. The first one drawn of a form just opened gets the keyboard.
    pub(crate) fn text(&mut self, ui: &mut Ui, field: Field<'_>, typed: &mut String) -> Response {
        if std::mem::take(&mut self.fresh) {
            let id = field.id(ui);
            ui.memory_mut(|memory| memory.request_focus(id));
        }
        let response = field.show(ui, typed);
        self.enter |= response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
        response
    }

    /// A day, with what it was understood as below it.
    pub(crate) fn day(&mut self, ui: &mut Ui, label: &str, typed: &mut String, today: Day, lean: Lean) {
        let read = read_day(typed, today, DateOrder::DayMonth, lean);
        let said = match &read {
            Ok(day) if *day == today => format!("{}, today", day.with_weekday()),
            Ok(day) if day.year() != today.year() => day.long(),
            Ok(day) => day.with_weekday(),
            Err(_) => String::new(),
        };
        let error = read.err().map(|error| error.to_string());
        self.text(ui, Field::new(label).above().width(150.0).help(&said).error(error.as_deref()), typed);
    }

    /// A day that may stay empty.
    pub(crate) fn maybe_day(&mut self, ui: &mut Ui, label: &str, typed: &mut String, today: Day, hint: &str) {
        if typed.trim().is_empty() {
            self.text(ui, Field::new(label).above().width(150.0).hint(hint), typed);
        } else {
            self.day(ui, label, typed, today, Lean::Nearest);
        }
    }

    /// The initials of who was there.
    pub(crate) fn by(&mut self, ui: &mut Ui, typed: &mut String) {
        self.text(ui, Field::new("By").above().width(70.0).hint("initials"), typed);
    }

    /// Why something is put right, and by whom.
    pub(crate) fn reason(&mut self, ui: &mut Ui, hint: &str, reason: &mut String, by: &mut String) {
        ui.horizontal_top(|ui| {
            let width = ui.available_width() - 84.0;
            self.text(ui, Field::new("Reason").above().width(width).hint(hint), reason);
            self.by(ui, by);
        });
    }

    /// A line over the whole width.
    pub(crate) fn line(&mut self, ui: &mut Ui, label: &str, hint: &str, typed: &mut String) {
        let width = ui.available_width();
        self.text(ui, Field::new(label).above().width(width).hint(hint), typed);
    }
}

/// Chips in rows no higher than a chip.
pub(crate) fn chips(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    ui.scope(|ui| {
        ui.spacing_mut().interact_size.y = height::CHIP;
        ui.spacing_mut().item_spacing = egui::vec2(6.0, 5.0);
        ui.horizontal_wrapped(add);
    });
}

/// Chips of which one is chosen; a caption above them.
pub(crate) fn choose<T: Copy + PartialEq>(ui: &mut Ui, caption: &str, choices: &[(&str, T)], chosen: &mut T) {
    parts::caption(ui, caption);
    chips(ui, |ui| {
        for (words, value) in choices {
            if Chip::choice(words, *chosen == *value).show(ui).clicked() {
                *chosen = *value;
            }
        }
    });
}

/// The five dots and none, each with its word.
pub(crate) fn dots(ui: &mut Ui, caption: &str, none: &str, chosen: &mut Option<Dot>) {
    parts::caption(ui, caption);
    chips(ui, |ui| {
        if Chip::choice(none, chosen.is_none()).show(ui).clicked() {
            *chosen = None;
        }
        for dot in Dot::ALL {
            // Room for the dot before its word.
            let (now, words) = (*chosen == Some(dot), format!("       {}", dot.name()));
            let response = Chip::choice(&words, now).show(ui);
            response.widget_info(|| WidgetInfo::selected(Role::Button, true, now, dot.name()));
            let center = response.rect.left_center() + egui::vec2(16.0, 0.0);
            parts::paint_dot(ui.painter(), theme::tokens(ui), center, dot_of(dot));
            if response.clicked() {
                *chosen = Some(dot);
            }
        }
    });
}

/// The day typed, or why not.
pub(crate) fn read(typed: &str, today: Day, lean: Lean) -> Result<Day, Trouble> {
    read_day(typed, today, DateOrder::DayMonth, lean).map_err(|error| Trouble::new(error.to_string()))
}

/// The day typed, or nothing where nothing is.
pub(crate) fn read_maybe(typed: &str, today: Day, lean: Lean) -> Result<Option<Day>, Trouble> {
    if typed.trim().is_empty() { Ok(None) } else { read(typed, today, lean).map(Some) }
}

/// A whole number in a range, or why not.
pub(crate) fn read_number<T: Copy + std::str::FromStr + PartialOrd + std::fmt::Display>(
    typed: &str,
    what: &str,
    least: T,
    most: T,
) -> Result<T, Trouble> {
    let number = typed.trim().parse().ok().filter(|number| (&least..=&most).contains(&number));
    number.ok_or_else(|| Trouble::new(format!("{what} is not understood. Give a number from {least} to {most}.")))
}

/// A birth as typed, or why not.
pub(crate) fn read_birth(typed: &str, world: &World, today: Day) -> Result<Birth, Trouble> {
    birth_words::read_birth(typed, world, today).map_err(|error| Trouble::new(format!("{error}.")))
}
