//! The form of a yard: a new one, one whose details are edited, or one whose place is chosen on the map.

use egui::{Key, Modifiers, Ui};

use crate::domain::change::Change;
use crate::domain::decide::decide;
use crate::domain::ids::YardId;
use crate::domain::place::Place;
use crate::domain::place_words;
use crate::domain::yard::{Gate, Layout, Yard};
use crate::ui::action::Outbox;
use crate::ui::scene::Scene;
use crate::ui::screens::form::above_foot;
use crate::ui::theme;
use crate::ui::theme::text;
use crate::ui::widgets::{Button, Field, Icon, boxes, chip, focus, parts};

/// Width of the captions before the fields.
const COLUMN: f32 = 104.0;
const BY_CLICK: &str = "Click the map where it lies, or type latitude, longitude.";

/// A yard's draft.
#[derive(Clone, Debug, PartialEq)]
pub struct YardForm {
    /// The yard that is edited; nothing: a new one.
    pub id: Option<YardId>,
    /// Only its place is chosen.
    pub place_only: bool,
    name: String,
    place: String,
    access: String,
    opens: String,
    closes: String,
    hazards: String,
    group: String,
    layout: Layout,
    minutes: String,
    note: String,
    refused: Option<String>,
    begun: bool,
    /// The map is in view: a click on it gives the place.
    on_map: bool,
}

/// What the form came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FormEnd {
    /// Left without saving.
    Left,
    /// Sent to be recorded: this yard.
    Sent(YardId),
}

impl YardForm {
    /// An empty form for a new yard.
    pub fn new() -> Self {
        Self {
            id: None,
            place_only: false,
            name: String::new(),
            place: String::new(),
            access: String::new(),
            opens: String::new(),
            closes: String::new(),
            hazards: String::new(),
            group: String::new(),
            layout: Layout::Rows,
            minutes: String::new(),
            note: String::new(),
            refused: None,
            begun: false,
            on_map: true,
        }
    }

    /// Shown where no map is in view.
    #[must_use]
    pub fn off_the_map(self) -> Self {
        Self { on_map: false, ..self }
    }

    /// The form of a yard that is there.
    pub fn of(yard: &Yard, place_only: bool) -> Self {
        let minute = |at: fn(&Gate) -> u16| yard.gate.as_ref().map_or(String::new(), |gate| clock(at(gate)));
        Self {
            id: Some(yard.id),
            place_only,
            name: yard.name.clone(),
            place: yard.place.map_or(String::new(), place_words),
            access: yard.access.clone(),
            opens: minute(|gate| gate.opens),
            closes: minute(|gate| gate.closes),
            hazards: yard.hazards.join(", "),
            group: yard.hygiene_group.clone(),
            layout: yard.layout,
            minutes: yard.minutes.map_or(String::new(), |minutes| minutes.to_string()),
            note: yard.note.clone(),
            ..Self::new()
        }
    }

    /// The place typed or clicked so far.
    pub fn place(&self) -> Option<Place> {
        read_place(&self.place).ok().flatten()
    }

    /// A place was clicked on the map.
    pub fn click(&mut self, place: Place) {
        self.place = place_words(place);
        self.refused = None;
    }

    /// The yard as typed, on what it was.
    fn yard(&self, id: YardId, before: Option<&Yard>) -> Result<Yard, String> {
        let mut yard = before.cloned().unwrap_or_else(|| Yard::named(id, ""));
        yard.place = read_place(&self.place)?;
        if self.place_only {
            return Ok(yard);
        }
        self.name.trim().clone_into(&mut yard.name);
        self.access.trim().clone_into(&mut yard.access);
        yard.gate = read_gate(&self.opens, &self.closes)?;
        yard.hazards =
            self.hazards.split([',', ';']).map(str::trim).filter(|it| !it.is_empty()).map(str::to_owned).collect();
        self.group.trim().clone_into(&mut yard.hygiene_group);
        yard.layout = self.layout;
        yard.minutes = match self.minutes.trim() {
            "" => None,
            typed => Some(
                typed
                    .parse()
                    .ok()
                    .filter(|minutes| *minutes <= 600)
                    .ok_or("Minutes at the yard are not understood. Type a whole number, 0 to 600.")?,
            ),
        };
        self.note.trim().clone_into(&mut yard.note);
        Ok(yard)
    }

    /// Draws the form. `Enter` saves, `Esc` leaves.
    pub fn show(&mut self, ui: &mut Ui, scene: &Scene, out: &mut Outbox) -> Option<FormEnd> {
        let t = theme::tokens(ui);
        let title = match (self.id, self.place_only) {
            (None, _) => "Add a yard".to_owned(),
            (Some(_), true) => format!("Place of {}", self.name),
            (Some(_), false) => format!("Edit {}", self.name),
        };
        let mut end = None;
        ui.horizontal(|ui| {
            ui.label(text::name(title).color(t.text_primary));
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                if Button::icon_only(Icon::Close, "Close the form").show(ui).clicked() {
                    end = Some(FormEnd::Left);
                }
            });
        });
        parts::remark(
            ui,
            if self.on_map { BY_CLICK } else { "The place can be clicked on the whole map, under More." },
        );
        ui.add_space(4.0);
        above_foot(ui, "yard form", |ui| {
            // The ring of the first field has room above it.
            ui.add_space(2.0);
            self.fields(ui);
            ui.add_space(8.0);
        });
        let bare = focus::enter_is_the_forms(ui);
        let entered = ui.input_mut(|input| {
            input.consume_key(Modifiers::COMMAND, Key::Enter) || bare && input.consume_key(Modifiers::NONE, Key::Enter)
        });
        if ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape)) {
            end = Some(FormEnd::Left);
        }
        ui.horizontal(|ui| {
            let words = if self.id.is_some() { "Save yard" } else { "Add yard" };
            let save = Button::primary(words).key("Enter").show(ui).clicked();
            if Button::outlined("Cancel").key("Esc").show(ui).clicked() {
                end = Some(FormEnd::Left);
            }
            if save || entered {
                end = self.save(scene, out).or(end);
                if end.is_none() {
                    focus::keep_in_field(ui);
                }
            }
        });
        end
    }

    fn save(&mut self, scene: &Scene, out: &mut Outbox) -> Option<FormEnd> {
        let id = self.id.unwrap_or_else(|| YardId(out.new_id()));
        let before = scene.world.yards.get(&id).map(AsRef::as_ref);
        let yard = match self.yard(id, before) {
            Ok(yard) => yard,
            Err(words) => {
                self.refused = Some(words);
                return None;
            }
        };
        let change = Change::PutYard(Box::new(yard));
        match decide(&scene.world, &change, scene.today) {
            Ok(_) => {
                out.change(change);
                Some(FormEnd::Sent(id))
            }
            Err(refusal) => {
                self.refused = Some(format!("{refusal}."));
                None
            }
        }
    }

    fn fields(&mut self, ui: &mut Ui) {
        let width = ui.available_width() - COLUMN;
        let field = |label| Field::new(label).column(COLUMN).width(width);
        if !self.place_only {
            let name = field("Name");
            if !self.begun {
                focus::bring(ui, name.id(ui));
            }
            name.show(ui, &mut self.name);
        }
        let place_error = read_place(&self.place).err();
        let place = field("Place").hint("latitude, longitude").error(place_error.as_deref());
        if self.place_only && !self.begun {
            focus::bring(ui, place.id(ui));
        }
        place.show(ui, &mut self.place);
        self.begun = true;
        if !self.place_only {
            field("Access").hint("gate code, track, whom to call").show(ui, &mut self.access);
            let gate_error = read_gate(&self.opens, &self.closes).err();
            let half = (width - 8.0) / 2.0;
            ui.horizontal_top(|ui| {
                ui.spacing_mut().item_spacing.x = 8.0;
                let opens = Field::new("Gate hours").column(COLUMN).width(half).hint("opens 7:00");
                opens.show(ui, &mut self.opens);
                Field::new("Gate closes").hidden_label().width(half).hint("closes 18:00").show(ui, &mut self.closes);
            });
            if let Some(error) = &gate_error {
                ui.label(text::small(error).color(theme::tokens(ui).danger));
            }
            field("Hazards").hint("no signal, steep, cattle").show(ui, &mut self.hazards);
            field("Hygiene group").hint("tools shared without washing").show(ui, &mut self.group);
            ui.horizontal(|ui| {
                ui.spacing_mut().item_spacing.x = 8.0;
                let (rect, _) = ui.allocate_exact_size(egui::vec2(COLUMN - 8.0, 30.0), egui::Sense::hover());
                let color = theme::tokens(ui).text_secondary;
                let font = text::TABLE.font(crate::ui::theme::fonts::Weight::Regular);
                ui.painter().text(rect.left_center(), egui::Align2::LEFT_CENTER, "Layout", font, color);
                let layouts = [("Rows", Layout::Rows), ("Pallets of four", Layout::Pallets)];
                chip::choose(ui, &layouts, &mut self.layout, false);
            });
            field("Minutes there").hint("besides the hives").show(ui, &mut self.minutes);
            field("Note").show(ui, &mut self.note);
        }
        if let Some(words) = &self.refused {
            boxes::Caution::new(words, "").show(ui);
        }
    }
}

/// `-40.01230, 160.04560`: five decimals are about a metre.
fn place_words(place: Place) -> String {
    format!("{:.5}, {:.5}", place.lat(), place.lon())
}

/// Reads a place; empty: none.
fn read_place(typed: &str) -> Result<Option<Place>, String> {
    if typed.trim().is_empty() { Ok(None) } else { place_words::read_place(typed).map(Some) }
}

/// Reads two times; both empty: always open.
fn read_gate(opens: &str, closes: &str) -> Result<Option<Gate>, String> {
    let wrong = "Gate hours are not understood. Type both as 7:00 and 18:00, or leave both empty.";
    match (opens.trim(), closes.trim()) {
        ("", "") => Ok(None),
        (opens, closes) => {
            let (opens, closes) = read_clock(opens).zip(read_clock(closes)).ok_or(wrong)?;
            if opens >= closes {
                return Err("The gate would close before it opens. Give the opening first.".to_owned());
            }
            Ok(Some(Gate { opens, closes }))
        }
    }
}

/// Minutes since midnight of `7`, `7:30`, `7.30` or `0730`.
fn read_clock(typed: &str) -> Option<u16> {
    let (hours, minutes): (u16, u16) = match typed.split_once([':', '.', 'h']) {
        Some((hours, minutes)) => (hours.parse().ok()?, if minutes.is_empty() { 0 } else { minutes.parse().ok()? }),
        None if typed.len() == 4 => (typed.get(..2)?.parse().ok()?, typed.get(2..)?.parse().ok()?),
        None => (typed.parse().ok()?, 0),
    };
    (minutes < 60 && hours <= 24).then(|| hours * 60 + minutes).filter(|minutes| *minutes <= 1440)
}

/// `7:30` of minutes since midnight.
fn clock(minutes: u16) -> String {
    format!("{}:{:02}", minutes / 60, minutes % 60)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_read_as_people_write_them() {
        let place = Place::new(-40.0123, 160.0456);
        for typed in [
            "-40.0123, 160.0456",
            "-40.0123 160.0456",
            "-40.0123,160.0456",
            "-40,0123; 160,0456",
            "40.0123 S 160.0456 E",
        ] {
            assert_eq!(read_place(typed), Ok(place), "{typed}");
        }
        assert_eq!(read_place("40.0123S, 160.0456E"), Ok(place));
        assert_eq!(read_place(" "), Ok(None));
        for typed in ["-40", "somewhere", "91, 0", "1, 2, 3"] {
            assert!(read_place(typed).is_err(), "{typed}");
        }
    }

    #[test]
    fn gate_hours_are_read_or_told() {
        assert_eq!(read_gate("7", "18:30"), Ok(Some(Gate { opens: 420, closes: 1110 })));
        assert_eq!(read_gate("0730", "24"), Ok(Some(Gate { opens: 450, closes: 1440 })));
        assert_eq!(read_gate("", " "), Ok(None));
        for (opens, closes) in [("7", ""), ("18", "7"), ("7:75", "18"), ("25", "26"), ("2000:00", "18")] {
            assert!(read_gate(opens, closes).is_err(), "{opens} {closes}");
        }
    }

    #[test]
    fn a_form_gives_back_the_yard_it_was_made_of() {
        let yard = Yard {
            place: Place::new(-40.25, 160.5),
            access: "code 41".to_owned(),
            gate: Some(Gate { opens: 420, closes: 1080 }),
            hazards: vec!["steep".to_owned(), "cattle".to_owned()],
            hygiene_group: "north".to_owned(),
            layout: Layout::Pallets,
            minutes: Some(20),
            note: "by the shed".to_owned(),
            ..Yard::named(YardId::from_number(1), "Heath yard")
        };
        assert_eq!(YardForm::of(&yard, false).yard(yard.id, Some(&yard)), Ok(yard.clone()));
    }
}
