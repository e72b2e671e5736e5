//! Fields that most forms share: a day, initials, words; and the watch for `Enter`.

use egui::{Key, Response, Role, Ui, WidgetInfo};

use crate::domain::birth_words;
use crate::domain::day::Day;
use crate::domain::day_words::{DateOrder, Lean, read_day};
use crate::domain::queen::{Birth, Dot};
use crate::domain::world::World;
use crate::ui::card::forms::verdict::Trouble;
use crate::ui::theme;
use crate::ui::theme::metrics::height;
use crate::ui::widgets::{Chip, Field, chip, focus, parts};

/// What the fields of a form are told and tell.
pub(crate) struct Inputs {
    /// `Enter` was pressed.
    pub enter: bool,
    /// The first field is to get the keyboard.
    pub fresh: bool,
}

impl Inputs {
    /// A field of text. The first one drawn of a form just opened gets the keyboard; what is typed takes the place of
    /// what stands there.
    pub(crate) fn text(&mut self, ui: &mut Ui, field: Field<'_>, typed: &mut String) -> Response {
        if std::mem::take(&mut self.fresh) {
            focus::bring(ui, field.id(ui));
        }
        self.field(ui, field, typed)
    }

    /// As [`Inputs::text`], but what is typed goes on after what stands there.
    pub(crate) fn text_goes_on(&mut self, ui: &mut Ui, field: Field<'_>, typed: &mut String) -> Response {
        if std::mem::take(&mut self.fresh) {
            let id = field.id(ui);
            ui.memory_mut(|memory| memory.request_focus(id));
        }
        self.field(ui, field, typed)
    }

    fn field(&mut self, ui: &mut Ui, field: Field<'_>, typed: &mut String) -> Response {
        let response = field.show(ui, typed);
        self.enter |= response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
        response
    }

    /// Chips of which one is chosen; as the first of a form just opened they get the keyboard.
    pub(crate) fn choose<T: Copy + PartialEq>(
        &mut self,
        ui: &mut Ui,
        caption: &str,
        choices: &[(&str, T)],
        chosen: &mut T,
    ) {
        let begin = std::mem::take(&mut self.fresh);
        choose_from(ui, caption, choices, chosen, begin);
    }

    /// The five dots and none, likewise.
    pub(crate) fn dots(&mut self, ui: &mut Ui, caption: &str, none: &str, chosen: &mut Option<Dot>) {
        let begin = std::mem::take(&mut self.fresh);
        dots_from(ui, caption, none, chosen, begin);
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
        // What is wrong with it is said in full below the fields; here it would push the fields beside it away.
        let error = read.is_err().then_some("Not understood.");
        self.text(ui, Field::new(label).above().width(150.0).help(&said).error(error), typed);
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

/// Chips under their caption, nearer to it than to what stands above.
pub(crate) fn captioned(ui: &mut Ui, caption: &str, add: impl FnOnce(&mut Ui)) {
    ui.vertical(|ui| {
        ui.spacing_mut().item_spacing.y = 4.0;
        parts::caption(ui, caption);
        chips(ui, add);
    });
}

/// Chips in rows no higher than a chip.
fn chips(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    ui.scope(|ui| {
        ui.spacing_mut().interact_size.y = height::CHIP;
        ui.spacing_mut().item_spacing = egui::vec2(6.0, 5.0);
        ui.horizontal_wrapped(add);
    });
}

/// Chips of which one is chosen; a caption above them.
pub(crate) fn choose<T: Copy + PartialEq>(ui: &mut Ui, caption: &str, choices: &[(&str, T)], chosen: &mut T) {
    choose_from(ui, caption, choices, chosen, false);
}

fn choose_from<T: Copy + PartialEq>(ui: &mut Ui, caption: &str, choices: &[(&str, T)], chosen: &mut T, begin: bool) {
    captioned(ui, caption, |ui| {
        chip::choose(ui, choices, chosen, begin);
    });
}

/// The five dots and none, each with its word.
pub(crate) fn dots(ui: &mut Ui, caption: &str, none: &str, chosen: &mut Option<Dot>) {
    dots_from(ui, caption, none, chosen, false);
}

fn dots_from(ui: &mut Ui, caption: &str, none: &str, chosen: &mut Option<Dot>, begin: bool) {
    let all: Vec<Option<Dot>> = std::iter::once(None).chain(Dot::ALL.into_iter().map(Some)).collect();
    let now = all.iter().position(|dot| dot == chosen);
    captioned(ui, caption, |ui| {
        let picked = chip::one_of(ui, all.len(), now, begin, |ui, place, stop| {
            let (dot, is_now) = (all.get(place).copied().flatten(), now == Some(place));
            let Some(dot) = dot else { return Chip::choice(none, is_now).stop(stop).show(ui) };
            // Room for the dot before its word.
            let words = format!("       {}", dot.name());
            let response = Chip::choice(&words, is_now).stop(stop).show(ui);
            response.widget_info(|| WidgetInfo::selected(Role::Button, true, is_now, dot.name()));
            let center = response.rect.left_center() + egui::vec2(16.0, 0.0);
            parts::paint_dot(ui.painter(), theme::tokens(ui), center, dot);
            response
        });
        if let Some(dot) = picked.and_then(|place| all.get(place)) {
            *chosen = *dot;
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
