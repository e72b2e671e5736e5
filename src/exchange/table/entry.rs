//! One row, read cell by cell. What cannot be read becomes a problem that names its field.

use crate::domain::bar::BarKind;
use crate::domain::colony::{End, EndWhy, Founding};
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::place::Place;
use crate::domain::queen::{Birth, Dot, Origin};
use crate::domain::record::Which;
use crate::domain::visit::{Method, OldQueen};
use crate::domain::yard::{Gate, Layout, Spot};
use crate::exchange::dates::{DateOrder, DateRead, day_and_month, read};
use crate::exchange::table::cells;
use crate::exchange::table::codes::{Found, found};
use crate::exchange::table::headings::Field;
use crate::exchange::table::preview::Problem;

/// The longest name of a yard, hive or source that the register takes, in characters.
const LONGEST_NAME: usize = 60;
/// A queen born longer ago than this is taken for a slip of the pen. Years; from memory: five is old.
const OLDEST_QUEEN_YEARS: i32 = 10;

/// What a row is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    Hive,
    Yard,
    Visit,
    Answer,
    Bar,
    Lifted,
    Source,
    Setting,
}

/// What a row says of its yard.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct YardFacts {
    pub place: Option<Place>,
    pub gate: Option<Gate>,
    pub minutes: Option<u32>,
    pub access: String,
    pub hazards: Vec<String>,
    pub group: String,
    pub layout: Option<Layout>,
    /// The note of a row that names no hive.
    pub note: String,
}

/// What a row says of a queen.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct QueenCells {
    pub birth: Option<Birth>,
    pub dot: Option<Dot>,
    pub source: String,
    pub origin: Option<Origin>,
    pub note: String,
}

impl QueenCells {
    /// The row says anything of her.
    pub fn any(&self) -> bool {
        *self != Self::default()
    }
}

/// What a row says of a bar.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct BarCells {
    pub kind: BarKind,
    pub until: Option<Day>,
    pub permit: Option<String>,
    pub lifted_by: String,
}

/// A row as read.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Entry {
    pub number: u32,
    pub kind: Kind,
    /// The row says itself what it is, as an export does: nothing is guessed then.
    pub exact: bool,
    pub yard: String,
    pub facts: YardFacts,
    pub hive: String,
    pub spot: Option<Spot>,
    pub since: Option<Day>,
    pub founding: Option<Founding>,
    /// The row says that the colony has, or had before the introduction, no queen.
    pub queenless: bool,
    pub queen: QueenCells,
    pub own_line: Option<bool>,
    pub introduced: Option<Day>,
    pub method: Option<Method>,
    pub old_queen: Option<OldQueen>,
    /// The old queen was removed on that day, no queen was given, and the look is of another day.
    pub dequeened: Option<Day>,
    pub cells: u8,
    pub emerged: Option<Day>,
    pub look: Option<Day>,
    pub found: Option<Found>,
    pub by: String,
    pub words: String,
    pub note: String,
    pub ended: Option<End>,
    pub answer: Option<Which>,
    pub bar: Option<BarCells>,
    pub setting: Option<(String, f64)>,
    pub problems: Vec<Problem>,
    pub notes: Vec<Problem>,
}

/// How rows are read.
pub(super) struct Reader<'a> {
    pub order: Option<DateOrder>,
    pub today: Day,
    /// The text of a field of the row being read.
    pub text: &'a dyn Fn(Field) -> String,
    pub problems: Vec<Problem>,
    pub notes: Vec<Problem>,
}

impl Reader<'_> {
    /// Reads the row with that number.
    pub fn entry(mut self, number: u32) -> Entry {
        let (kind, exact) = self.kind();
        let hive = self.name(Field::Hive);
        let is_yard = kind == Kind::Yard;
        let note = (self.text)(Field::Note);
        let mut facts = self.yard_facts();
        if is_yard {
            facts.note.clone_from(&note);
        }
        let queen = self.queen();
        let old_queen = self.old_queen();
        let queenless = matches!(fold(&(self.text)(Field::Queen)).as_str(), "none" | "no" | "queenless" | "0")
            || (!exact && old_queen == Some(OldQueen::AsRecorded));
        let mut entry = Entry {
            number,
            kind,
            exact,
            yard: self.name(Field::Yard),
            facts,
            hive,
            spot: self.spot(),
            since: self.past_day(Field::Since),
            founding: self.word(Field::Founding, "known, bought, nuc, split, swarm", cells::founding),
            queenless,
            queen,
            own_line: self.word(Field::OwnLine, "yes or no", yes_or_no),
            introduced: self.past_day(Field::Introduced),
            method: self.word(
                Field::Method,
                "caged queen, push-in cage, mature cell, virgin, nuc, own raising",
                cells::method,
            ),
            old_queen,
            dequeened: None,
            cells: self
                .word(Field::Cells, "a number from 1 to 99", cells::count)
                .map_or(1, |count| count.min(99) as u8),
            emerged: self.past_day(Field::Emerged),
            look: self.past_day(Field::LastLook),
            found: self.found(),
            by: (self.text)(Field::By),
            words: (self.text)(Field::Words),
            note,
            ended: self.ended(),
            answer: self.word(Field::Answer, "lost, superseded or same after all", cells::answer),
            bar: if kind == Kind::Bar { self.bar() } else { None },
            setting: if kind == Kind::Setting { self.setting() } else { None },
            problems: Vec::new(),
            notes: Vec::new(),
        };
        self.whole_row(&mut entry);
        entry.problems = self.problems;
        entry.notes = self.notes;
        entry
    }

    fn problem(&mut self, field: Field, fact: impl Into<String>, remedy: impl Into<String>) {
        self.problems.push(Problem::new(field, fact, remedy));
    }

    fn kind(&mut self) -> (Kind, bool) {
        let hive = || !(self.text)(Field::Hive).is_empty();
        match fold(&(self.text)(Field::Entry)).as_str() {
            "" if hive() => (Kind::Hive, false),
            "" => (Kind::Yard, false),
            "hive" => (Kind::Hive, true),
            "yard" => (Kind::Yard, true),
            "visit" => (Kind::Visit, true),
            "answer" => (Kind::Answer, true),
            "bar" => (Kind::Bar, true),
            "lifted" => (Kind::Lifted, true),
            "source" => (Kind::Source, true),
            "setting" => (Kind::Setting, true),
            other => {
                let fact = format!("No row is a {other}");
                self.problem(
                    Field::Entry,
                    fact,
                    "Write hive, yard, visit, answer, bar, lifted, source or setting, or leave it empty",
                );
                (Kind::Hive, false)
            }
        }
    }

    /// A name, with white space of any kind made one space.
    fn name(&mut self, field: Field) -> String {
        let name = (self.text)(field).split_whitespace().collect::<Vec<_>>().join(" ");
        if name.chars().count() > LONGEST_NAME || name.chars().any(char::is_control) {
            let fact = format!("The {} is too long, or holds signs that cannot be printed", field.name());
            self.problem(field, fact, format!("Give at most {LONGEST_NAME} letters"));
        }
        name
    }

    fn word<T>(&mut self, field: Field, choice: &str, of: impl Fn(&str) -> Option<T>) -> Option<T> {
        let text = (self.text)(field);
        if text.is_empty() {
            return None;
        }
        let read = of(&text);
        if read.is_none() {
            let fact = match field {
                Field::GateOpens | Field::GateCloses => format!("{} is no hour", short(&text)),
                Field::Minutes | Field::Row | Field::Place | Field::Cells => {
                    format!("{} is no such number", short(&text))
                }
                _ => format!("{} is no {}", short(&text), field.name()),
            };
            self.problem(field, fact, format!("Write {choice}"));
        }
        read
    }

    /// A day that is not ahead.
    fn past_day(&mut self, field: Field) -> Option<Day> {
        let text = (self.text)(field);
        if text.is_empty() {
            return None;
        }
        let day = match read(&text, self.order, self.today) {
            DateRead::Day(day) => day,
            fault => {
                self.date_fault(field, &text, fault);
                return None;
            }
        };
        if day > self.today {
            self.problem(field, format!("{} lies ahead", day.near(self.today)), "Give today or an earlier day");
            return None;
        }
        Some(day)
    }

    fn date_fault(&mut self, field: Field, text: &str, fault: DateRead) {
        match fault {
            DateRead::Either(one, other) => {
                let fact = format!("{text} can be {} or {}", day_and_month(one), day_and_month(other));
                self.problem(field, fact, "Say in which order this file writes day and month");
            }
            DateRead::Impossible(fact) => self.problem(field, fact, "Correct the day"),
            DateRead::Month(..) | DateRead::Year(_) => {
                self.problem(field, format!("{text} is no day"), "Give day, month and year, or leave it empty");
            }
            DateRead::Day(_) | DateRead::None => {
                let fact = format!("{} is no date", short(text));
                self.problem(field, fact, "Write it as 2026-11-14 or 14 Nov 2026");
            }
        }
    }

    fn queen(&mut self) -> QueenCells {
        let text = (self.text)(Field::Born);
        let birth = match cells::birth(&text, self.order, self.today) {
            Ok(birth) => Some(birth).filter(|birth| !birth.is_unknown()),
            Err(fault) => {
                self.date_fault(Field::Born, &text, fault);
                None
            }
        };
        if let Some(first) = birth.and_then(|birth| birth.earliest)
            && first > self.today
        {
            self.problem(Field::Born, format!("Born {text} lies ahead"), "Correct the year, or leave it empty");
        }
        if let Some(last) = birth.and_then(|birth| birth.latest)
            && last.year() + OLDEST_QUEEN_YEARS < self.today.year()
        {
            let years = self.today.year() - last.year();
            self.problem(
                Field::Born,
                format!("Born {text} is {years} years ago"),
                "Correct the year, or leave it empty",
            );
        }
        let dot_text = fold(&(self.text)(Field::Dot));
        let dot = if matches!(dot_text.as_str(), "none" | "no" | "unmarked" | "-" | "not marked") {
            None
        } else {
            self.word(Field::Dot, "white, yellow, red, green, blue or none", cells::dot)
        };
        let origin = "mated, cell, virgin, with colony, own raising, not known";
        QueenCells {
            birth,
            dot,
            source: self.name(Field::Source),
            origin: self.word(Field::Origin, origin, cells::origin),
            note: (self.text)(Field::QueenNote),
        }
    }

    fn old_queen(&mut self) -> Option<OldQueen> {
        match fold(&(self.text)(Field::Dequeened)).as_str() {
            "" => None,
            "not found" | "notfound" | "never found" | "?q" => Some(OldQueen::NotFound),
            "queenless" | "was queenless" | "none" | "no queen" => Some(OldQueen::AsRecorded),
            _ => self.past_day(Field::Dequeened).map(OldQueen::RemovedOn),
        }
    }

    fn spot(&mut self) -> Option<Spot> {
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

    fn yard_facts(&mut self) -> YardFacts {
        let hazards = (self.text)(Field::Hazards);
        YardFacts {
            place: self.place(),
            gate: self.gate(),
            minutes: self.minutes(),
            access: (self.text)(Field::Access),
            hazards: hazards.split(';').map(str::trim).filter(|it| !it.is_empty()).map(str::to_owned).collect(),
            group: (self.text)(Field::Group),
            layout: self.word(Field::Layout, "rows or pallets", layout),
            note: String::new(),
        }
    }

    fn place(&mut self) -> Option<Place> {
        let (lat_text, lon_text) = ((self.text)(Field::Latitude), (self.text)(Field::Longitude));
        if lat_text.is_empty() && lon_text.is_empty() {
            return None;
        }
        let write = "degrees, as -40.123";
        let lat = self.word(Field::Latitude, write, |text| cells::degrees(text, 'N', 'S'));
        let lon = self.word(Field::Longitude, write, |text| cells::degrees(text, 'E', 'W'));
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

    fn minutes(&mut self) -> Option<u32> {
        let minutes = |text: &str| cells::number(text).filter(|it| it.fract() == 0.0 && (0.0..=1440.0).contains(it));
        self.word(Field::Minutes, "whole minutes, 0 to 1440", minutes).map(|minutes| minutes as u32)
    }

    fn found(&mut self) -> Option<Found> {
        let text = (self.text)(Field::Found);
        if text.is_empty() {
            return None;
        }
        match found(&text) {
            Ok(found) => Some(found),
            Err((fact, remedy)) => {
                self.problem(Field::Found, fact, remedy);
                None
            }
        }
    }

    fn ended(&mut self) -> Option<End> {
        let day = self.past_day(Field::Ended)?;
        let choice = "sold, died, united, shaken out, destroyed or gone";
        let why = self.word(Field::EndWhy, choice, cells::end_why).unwrap_or(EndWhy::Gone);
        Some(End { day, why, by: String::new(), words: String::new() })
    }

    fn bar(&mut self) -> Option<BarCells> {
        let kind = self.word(Field::Bar, "quarantine, treatment in or another kind of bar", cells::bar)?;
        let text = (self.text)(Field::Until);
        let until = match read(&text, self.order, self.today) {
            DateRead::Day(day) => Some(day),
            DateRead::None if text.is_empty() => None,
            fault => {
                self.date_fault(Field::Until, &text, fault);
                return None;
            }
        };
        let permit = Some((self.text)(Field::Permit)).filter(|permit| !permit.is_empty());
        Some(BarCells { kind, until, permit, lifted_by: (self.text)(Field::LiftedBy) })
    }

    fn setting(&mut self) -> Option<(String, f64)> {
        let value = self.word(Field::Value, "a number", cells::number)?;
        Some(((self.text)(Field::Setting), value))
    }

    /// What two cells of a row say against each other.
    fn whole_row(&mut self, entry: &mut Entry) {
        let names_place = !matches!(entry.kind, Kind::Source | Kind::Setting);
        if names_place && entry.yard.is_empty() {
            self.problem(Field::Yard, "No yard is named", "Name the yard");
        }
        if !matches!(entry.kind, Kind::Source | Kind::Setting | Kind::Yard | Kind::Bar) && entry.hive.is_empty() {
            self.problem(Field::Hive, "No hive is named", "Name the hive");
        }
        if entry.found.is_some() && entry.look.is_none() && (self.text)(Field::LastLook).is_empty() {
            self.problem(Field::LastLook, "Something was found, and no day is given", "Give the day of the last look");
        }
        if let Some(found) = &entry.found {
            if !found.words.is_empty() {
                let apart = if entry.words.is_empty() { "" } else { " " };
                entry.words = format!("{}{apart}{}", entry.words, found.words);
            }
            self.given_in_codes(entry);
        }
        if entry.introduced.is_none() && (self.text)(Field::Introduced).is_empty() {
            let given = [(entry.method.is_some(), Field::Method), (entry.emerged.is_some(), Field::Emerged)];
            for (_, field) in given.into_iter().filter(|(is, _)| *is) {
                let fact = format!("The {} is given, and no day introduced", field.name());
                self.problem(field, fact, "Give the day introduced, or leave this empty");
            }
        }
        if let (Some(introduced), Some(OldQueen::RemovedOn(removed))) = (entry.introduced, entry.old_queen)
            && removed > introduced
        {
            let fact = format!("Dequeened {} comes after introduced {}", removed.short(), introduced.short());
            self.problem(Field::Dequeened, fact, "Correct one of the two days");
        }
        if let (Some(introduced), Some(emerged)) = (entry.introduced, entry.emerged)
            && emerged > introduced
        {
            let fact = format!("Emerged {} comes after introduced {}", emerged.short(), introduced.short());
            self.problem(Field::Emerged, fact, "Correct one of the two days");
        }
        self.born_before_given(entry);
        self.dequeened_alone(entry);
    }

    /// A queen given among the codes of `found` was introduced on the day of that look.
    fn given_in_codes(&mut self, entry: &mut Entry) {
        let Some(gives) = entry.found.as_ref().and_then(|found| found.gives) else { return };
        if (self.text)(Field::Introduced).is_empty() && entry.method.is_none() {
            entry.introduced = entry.look;
            entry.method = Some(gives.method);
            entry.cells = gives.cells;
        } else if entry.introduced != entry.look || entry.method.is_some_and(|method| method != gives.method) {
            let fact = "A queen was given among the codes, and another under introduced";
            self.problem(Field::Found, fact, "Leave out one of the two");
        }
    }

    /// The old queen was removed, or looked for in vain, and no queen has been given yet: a visit like any other.
    fn dequeened_alone(&mut self, entry: &mut Entry) {
        if entry.exact || entry.kind != Kind::Hive || !(self.text)(Field::Introduced).is_empty() {
            return;
        }
        let (None, Some(old_queen)) = (entry.introduced, entry.old_queen) else { return };
        match (old_queen, entry.look) {
            (OldQueen::RemovedOn(day), Some(look)) if day != look => entry.dequeened = Some(day),
            (OldQueen::RemovedOn(day), _) => {
                entry.look = Some(day);
                entry.found.get_or_insert_default().visit.did.dequeened = true;
            }
            (OldQueen::NotFound, Some(_)) => entry.found.get_or_insert_default().visit.did.queen_not_found = true,
            (OldQueen::NotFound, None) => {
                let fact = "The old queen was not found, and no day is given";
                self.problem(Field::Dequeened, fact, "Give the day under last look");
            }
            (OldQueen::AsRecorded, _) => {}
        }
    }

    /// A mated queen or a virgin was born before she was given. A cell's queen is born after.
    fn born_before_given(&mut self, entry: &Entry) {
        let (Some(introduced), Some(born)) = (entry.introduced, entry.queen.birth.and_then(|birth| birth.earliest))
        else {
            return;
        };
        let unborn = matches!(entry.method, Some(Method::Cell | Method::OwnRaising));
        if !unborn && born > introduced {
            let born_text = (self.text)(Field::Born);
            let fact = format!("Born {born_text}, yet introduced {}", introduced.near(self.today));
            self.problem(Field::Born, fact, "Correct one of the two");
        }
    }
}

fn yes_or_no(text: &str) -> Option<bool> {
    match fold(text).as_str() {
        "yes" | "y" | "true" | "1" | "x" => Some(true),
        "no" | "n" | "false" | "0" => Some(false),
        _ => None,
    }
}

fn layout(text: &str) -> Option<Layout> {
    match fold(text).as_str() {
        "row" | "rows" => Some(Layout::Rows),
        "pallet" | "pallets" => Some(Layout::Pallets),
        _ => None,
    }
}

/// The beginning of a long text, for a message.
fn short(text: &str) -> String {
    if text.chars().count() <= 30 { text.to_owned() } else { text.chars().take(29).chain(['…']).collect() }
}
