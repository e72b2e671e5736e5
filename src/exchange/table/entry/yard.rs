//! What a row says of its yard, and of the spot in it.

use crate::domain::fold_text::fold;
use crate::domain::place::Place;
use crate::domain::place_words::{read_degrees, read_place};
use crate::domain::yard::{Gate, Layout, Spot};
use crate::exchange::table::cells;
use crate::exchange::table::entry::reader::short;
use crate::exchange::table::entry::{Reader, YardFacts};
use crate::exchange::table::headings::Field;
use crate::exchange::table::preview::Problem;

impl Reader<'_> {
    pub(super) fn yard_facts(&mut self, exact: bool) -> YardFacts {
        let hazards = (self.text)(Field::Hazards);
        YardFacts {
            place: self.place(),
            gate: self.gate(),
            minutes: self.minutes(exact),
            access: (self.text)(Field::Access),
            hazards: hazards.split(';').map(str::trim).filter(|it| !it.is_empty()).map(str::to_owned).collect(),
            group: (self.text)(Field::Group),
            layout: self.word(Field::Layout, "rows or pallets", layout),
            note: String::new(),
            removed: exact && self.yes(Field::Removed),
        }
    }

    pub(super) fn place(&mut self) -> Option<Place> {
        let (lat_text, lon_text) = ((self.text)(Field::Latitude), (self.text)(Field::Longitude));
        if lat_text.is_empty() && lon_text.is_empty() {
            return self.coordinates();
        }
        let write = "degrees, as 55.123 or 55 07.4 N";
        let lat = self.word(Field::Latitude, write, |text| read_degrees(text, true));
        let lon = self.word(Field::Longitude, write, |text| read_degrees(text, false));
        let (Some(lat), Some(lon)) = (lat, lon) else {
            for (missing, field) in [(lat_text.is_empty(), Field::Latitude), (lon_text.is_empty(), Field::Longitude)] {
                if missing {
                    self.problem(field, format!("The {} is missing", field.name()), "Give both, or neither");
                }
            }
            return None;
        };
        let place = Place::new(lat, lon);
        if place.is_none() {
            let (field, value, limit) =
                if lat.abs() > 90.0 { (Field::Latitude, lat, 90) } else { (Field::Longitude, lon, 180) };
            let remedy =
                if lon.abs() <= 90.0 { "Latitude and longitude may be swapped" } else { "Give degrees in range" };
            self.problem(field, format!("The {} {value} is beyond {limit}", field.name()), remedy);
        }
        place
    }

    /// Both in one cell.
    fn coordinates(&mut self) -> Option<Place> {
        let text = (self.text)(Field::Coordinates);
        if text.is_empty() {
            return None;
        }
        match read_place(&text) {
            Ok(place) => Some(place),
            Err(_) => {
                let fact = format!("{} is no place", short(&text));
                let remedy = "Write latitude, then longitude, as 55.123, -105.456 or 55 07.4 N, 105 27.4 W";
                self.problem(Field::Coordinates, fact, remedy);
                None
            }
        }
    }

    fn gate(&mut self) -> Option<Gate> {
        let given = |field| !(self.text)(field).is_empty();
        let (has_opens, has_closes) = (given(Field::GateOpens), given(Field::GateCloses));
        if !has_opens && !has_closes {
            return None;
        }
        let opens = self.word(Field::GateOpens, "an hour, as 7:30", cells::hour);
        let closes = self.word(Field::GateCloses, "an hour, as 17:30", cells::hour);
        let opens = if has_opens { opens? } else { 0 };
        let closes = if has_closes { closes? } else { 1440 };
        if opens >= closes {
            self.problem(Field::GateCloses, "The gate closes before it opens", "Correct the hours");
            return None;
        }
        Some(Gate { opens, closes })
    }

    fn minutes(&mut self, exact: bool) -> Option<u32> {
        if exact {
            return self.number(Field::Minutes);
        }
        let minutes = |text: &str| cells::number(text).filter(|it| it.fract() == 0.0 && (0.0..=1440.0).contains(it));
        self.word(Field::Minutes, "whole minutes, 0 to 1440", minutes).map(|minutes| minutes as u32)
    }

    pub(super) fn spot(&mut self, exact: bool) -> Option<Spot> {
        if exact {
            let (row, place) = (self.number(Field::Row), self.number(Field::Place));
            return row.zip(place).map(|(row, place)| Spot { row, place });
        }
        let row = self.word(Field::Row, "a number from 1", cells::count);
        let place = self.word(Field::Place, "a number from 1", cells::count);
        match (row, place) {
            (Some(row), Some(place)) => Some(Spot { row, place }),
            (None, Some(place)) if (self.text)(Field::Row).is_empty() => Some(Spot { row: 1, place }),
            (Some(row), None) if (self.text)(Field::Place).is_empty() => {
                self.notes.push(Problem::new(Field::Row, format!("Row {row} without a place is left out"), ""));
                None
            }
            _ => None,
        }
    }
}

fn layout(text: &str) -> Option<Layout> {
    match fold(text).as_str() {
        "row" | "rows" => Some(Layout::Rows),
        "pallet" | "pallets" => Some(Layout::Pallets),
        _ => None,
    }
}
