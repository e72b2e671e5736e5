//! Acts that are visits on a day: old queens removed, a find; and the fields that dated acts share.

use egui::{Align2, Sense, Ui, vec2};

use crate::domain::change::{Change, NewVisit, Occasion};
use crate::domain::day::Day;
use crate::domain::day_words::{DateOrder, Lean, read_day};
use crate::domain::grammar::codes::parse;
use crate::domain::grammar::resolve::{Choice, resolve};
use crate::domain::ids::{ColonyId, RecordId};
use crate::domain::in_hand::draw::{From, Giving, Hand, drawn_words};
use crate::domain::visit::{Did, Visit};
use crate::ui::given_from;
use crate::ui::scene::Scene;
use crate::ui::screens::map::many::acts::{Ground, Meant, Mint};
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::height;
use crate::ui::theme::{self, text};
use crate::ui::widgets::{Field, chip, focus};

/// Width of the captions before the fields.
pub const COLUMN: f32 = 92.0;

/// The old queens are removed, or were not found.
#[derive(Clone, Debug, PartialEq)]
pub struct Dequeen {
    day: String,
    not_found: bool,
    by: String,
}

impl Dequeen {
    /// Today.
    pub fn new(by: String) -> Self {
        Self { day: "today".to_owned(), not_found: false, by }
    }

    /// What it would do.
    pub fn meant(&self, ground: &Ground<'_>, mint: Mint<'_>) -> Meant {
        let day = match past_day(ground, &self.day) {
            Ok(day) => day,
            Err(why) => return Meant::trouble(why),
        };
        let mut meant = Meant::default();
        let mut visits = Vec::new();
        for id in ground.there_on(day, &mut meant.left_out) {
            let view = ground.scene.outlook.colonies.get(&id);
            if view.is_some_and(|view| view.lacks_queen()) {
                meant.left_out.push((ground.name(id), "has no queen".to_owned()));
                continue;
            }
            let did = Did { dequeened: !self.not_found, queen_not_found: self.not_found, ..Did::default() };
            visits.push(visit(RecordId(mint()), id, day, &self.by, Visit { did, ..Visit::default() }));
        }
        meant.count = visits.len();
        if visits.is_empty() {
            meant.trouble = Some("None of them has a queen to remove.".to_owned());
            return meant;
        }
        if !self.not_found {
            meant.says.push(format!("Their queenless clocks start on {}.", day.near(ground.scene.today)));
        }
        meant.change = Some(Change::Visits { occasion: Occasion::Find, visits, queens: Vec::new() });
        meant
    }

    /// Draws the fields.
    pub fn show(&mut self, ui: &mut Ui, scene: &Scene, fresh: bool) {
        let answers = [("Found and removed", false), ("Not found", true)];
        choices(ui, "Old queens", &answers, &mut self.not_found, fresh);
        day_field(ui, scene, &mut self.day, Lean::Back, "");
        initials(ui, &mut self.by);
    }
}

/// One find at all of them.
#[derive(Clone, Debug, PartialEq)]
pub struct Find {
    codes: String,
    from: From,
    day: String,
    by: String,
}

impl Find {
    /// Nothing typed yet, today.
    pub fn new(by: String) -> Self {
        Self { codes: String::new(), from: From::NotSaid, day: "today".to_owned(), by }
    }

    /// What it would do.
    pub fn meant(&self, ground: &Ground<'_>, mint: Mint<'_>) -> Meant {
        let day = match past_day(ground, &self.day) {
            Ok(day) => day,
            Err(why) => return Meant::trouble(why),
        };
        if self.codes.trim().is_empty() {
            return Meant::missing("Type what was seen, as e l b q or n.");
        }
        let codes = match parse(&self.codes) {
            Ok(codes) => codes,
            Err(error) => return Meant::trouble(format!("{}. {}.", error.what, error.remedy)),
        };
        let mut meant = Meant::default();
        let (mut visits, mut queens, mut out_of) = (Vec::new(), Vec::new(), Vec::new());
        let mut hand = Hand::of(&ground.scene.world);
        let choice = Choice { from: self.from, ..Choice::default() };
        for id in ground.there_on(day, &mut meant.left_out) {
            match resolve(&mut hand, id, day, &self.by, &codes, &choice, mint) {
                Ok((visit, new)) => {
                    out_of.extend(visit.visit.gave.as_ref().map(|gave| (gave.parcel, gave.cells)));
                    visits.push(visit);
                    queens.extend(new);
                }
                Err(error) => meant.left_out.push((ground.name(id), error.what)),
            }
        }
        meant.count = visits.len();
        if visits.is_empty() {
            meant.trouble = Some("None of them was there on that day.".to_owned());
            return meant;
        }
        let words = crate::domain::grammar::describe::describe(&ground.scene.world, &codes.visit);
        meant.says.push(format!("{words}."));
        meant.says.extend(drawn_words(&mut hand, &out_of).map(|words| format!("{words}.")));
        meant.change = Some(Change::Visits { occasion: Occasion::Find, visits, queens });
        meant
    }

    /// Draws the fields.
    pub fn show(&mut self, ui: &mut Ui, scene: &Scene, hives: &[ColonyId], fresh: bool) {
        let help = "e eggs, l larvae, b capped brood, q her seen, n nothing, -r rain, p part only";
        let field = Field::new("Find").column(COLUMN).width(200.0).help(help);
        show_first(ui, field, &mut self.codes, fresh);
        day_field(ui, scene, &mut self.day, Lean::Back, "");
        if let Some(gives) = parse(&self.codes).ok().and_then(|codes| codes.gives)
            && let Ok(day) = read_day(&self.day, scene.today, DateOrder::DayMonth, Lean::Back)
        {
            let giving = |colony: &ColonyId| Giving { colony: *colony, day, method: gives.method, count: gives.cells };
            let givings: Vec<Giving> = hives.iter().map(giving).collect();
            given_from::choose(ui, scene, given_from::hand(ui, scene), &givings, &mut self.from);
        }
        initials(ui, &mut self.by);
    }
}

/// A day that is not ahead.
pub fn past_day(ground: &Ground<'_>, typed: &str) -> Result<Day, String> {
    let day = ground.day(typed, Lean::Back)?;
    if day > ground.scene.today {
        return Err(format!("{} is still to come. Give today or an earlier day.", day.near(ground.scene.today)));
    }
    Ok(day)
}

/// The field of the day where it is the first of a form: a fresh form has the keyboard there, and what is typed takes the
/// place of `today`.
pub fn day_first(ui: &mut Ui, scene: &Scene, typed: &mut String, lean: Lean, help: &str, fresh: bool) {
    if fresh {
        focus::bring(ui, Field::new("Day").id(ui));
    }
    day_field(ui, scene, typed, lean, help);
}

/// The field of the day, with what it was understood as.
pub fn day_field(ui: &mut Ui, scene: &Scene, typed: &mut String, lean: Lean, help: &str) {
    let read = read_day(typed, scene.today, DateOrder::DayMonth, lean);
    let error = read.as_ref().err().map(|error| format!("{error}."));
    let mut words = read.map_or(String::new(), Day::with_weekday);
    if !help.is_empty() {
        words = format!("{words}; {help}");
    }
    Field::new("Day").column(COLUMN).width(140.0).help(&words).error(error.as_deref()).show(ui, typed);
}

/// The first field of a form; it gets the keyboard when the form is fresh.
pub fn show_first(ui: &mut Ui, field: Field<'_>, typed: &mut String, fresh: bool) {
    if fresh {
        focus::bring(ui, field.id(ui));
    }
    field.show(ui, typed);
}

/// The field of initials.
pub fn initials(ui: &mut Ui, by: &mut String) {
    Field::new("By").column(COLUMN).width(84.0).hint("initials").show(ui, by);
}

/// Chips of which one is chosen, with their caption; those of a fresh form get the keyboard.
pub fn choices<T: Copy + PartialEq>(ui: &mut Ui, words: &str, of: &[(&str, T)], chosen: &mut T, fresh: bool) {
    in_column(ui, words, |ui| {
        ui.horizontal_wrapped(|ui| chip::choose(ui, of, chosen, fresh));
    });
}

/// Chips in the column of the fields, their caption before it.
pub fn in_column(ui: &mut Ui, caption: &str, add: impl FnOnce(&mut Ui)) {
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 0.0;
        let (rect, _) = ui.allocate_exact_size(vec2(COLUMN, height::CHIP), Sense::hover());
        let color = theme::tokens(ui).text_secondary;
        let font = text::TABLE.font(Weight::Regular);
        ui.painter().text(rect.left_center(), Align2::LEFT_CENTER, caption, font, color);
        ui.vertical(|ui| {
            ui.spacing_mut().interact_size.y = height::CHIP;
            ui.spacing_mut().item_spacing = vec2(6.0, 5.0);
            add(ui);
        });
    });
}

/// A day that may stay empty, read as seen from `from`; `hint` says what it then is.
pub fn maybe_day(ui: &mut Ui, label: &str, from: Day, typed: &mut String, hint: &str) {
    let read = (!typed.trim().is_empty()).then(|| read_day(typed, from, DateOrder::DayMonth, Lean::Back));
    let help = read.as_ref().and_then(|read| read.as_ref().ok()).map_or(String::new(), |day| day.with_weekday());
    let error = read.and_then(Result::err).map(|error| format!("{error}."));
    Field::new(label).column(COLUMN).width(140.0).hint(hint).help(&help).error(error.as_deref()).show(ui, typed);
}

/// A visit without words.
pub fn visit(record: RecordId, colony: ColonyId, day: Day, by: &str, visit: Visit) -> NewVisit {
    NewVisit { record, colony, day, by: by.trim().to_owned(), words: String::new(), visit }
}
