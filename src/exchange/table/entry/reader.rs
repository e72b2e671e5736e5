//! The reader of a row: its kind, and single cells by what they may hold.

use crate::domain::bar::BarKind;
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::visit::OldQueen;
use crate::domain::{initials, name};
use crate::exchange::date_hints;
use crate::exchange::dates::{DateOrder, DateRead, day_and_month, read};
use crate::exchange::table::cells;
use crate::exchange::table::entry::{BarCells, Circumstances, Entry, HiveCells, Kind, Told, YardFacts};
use crate::exchange::table::headings::Field;
use crate::exchange::table::preview::Problem;

/// Fields of free words: in a row that says itself what it is, white space at their ends counts.
pub(in crate::exchange::table) const FREE: [Field; 16] = [
    Field::Access,
    Field::Group,
    Field::QueenNote,
    Field::By,
    Field::Words,
    Field::Note,
    Field::Permit,
    Field::LiftedBy,
    Field::Firm,
    Field::Home,
    Field::EndedBy,
    Field::EndWords,
    Field::Label,
    Field::AgainstBar,
    Field::Vehicle,
    Field::SaidThere,
];

/// How rows are read.
pub(in crate::exchange::table) struct Reader<'a> {
    pub order: Option<DateOrder>,
    pub today: Day,
    /// The text of a field of the row being read.
    pub text: &'a dyn Fn(Field) -> String,
    /// Dots are told as yes and no, not by their colour.
    pub dot_yes_or_no: bool,
    pub problems: Vec<Problem>,
    pub notes: Vec<Problem>,
}

impl Reader<'_> {
    /// Reads the row with that number.
    pub fn entry(mut self, number: u32) -> Entry {
        let (kind, exact) = self.kind();
        let hive = self.name(Field::Hive, exact);
        let note = (self.text)(Field::Note);
        // These rows tell of a place that is no yard's.
        let elsewhere = matches!(kind, Kind::Firm | Kind::Run);
        let mut facts = if elsewhere { YardFacts::default() } else { self.yard_facts(exact) };
        if kind == Kind::Yard {
            facts.note.clone_from(&note);
        }
        let queen = self.queen(exact);
        let old_queen = self.old_queen();
        let queenless = matches!(fold(&(self.text)(Field::Queen)).as_str(), "none" | "no" | "queenless" | "0")
            || (!exact && old_queen == Some(OldQueen::AsRecorded));
        let method = "caged queen, push-in cage, mature cell, virgin, nuc, own raising";
        // A bar may begin on a day to come; what has happened may not.
        let since = if kind == Kind::Bar { self.any_day(Field::Since) } else { self.past_day(Field::Since) };
        let mut entry = Entry {
            number,
            kind,
            exact,
            yard: self.name(Field::Yard, exact),
            facts,
            hive,
            spot: self.spot(exact),
            since,
            founding: self.word(Field::Founding, "known, bought, nuc, split, swarm", cells::founding),
            queenless,
            queen,
            own_line: self.word(Field::OwnLine, "yes or no", cells::yes_or_no),
            introduced: self.past_day(Field::Introduced),
            method: self.word(Field::Method, method, cells::method),
            old_queen,
            dequeened: None,
            cells: self.cells(exact),
            emerged: self.past_day(Field::Emerged),
            look: self.past_day(Field::LastLook),
            found: self.found(exact),
            by: self.by(exact),
            words: (self.text)(Field::Words),
            note,
            ended: if kind == Kind::Bar { None } else { self.ended() },
            answer: self.word(Field::Answer, "lost, superseded or same after all", cells::answer),
            bar: if kind == Kind::Bar { self.bar() } else { None },
            setting: if kind == Kind::Setting { self.setting() } else { None },
            around: if exact { self.circumstances() } else { Circumstances::default() },
            more: if exact && kind == Kind::Hive { self.hive_cells() } else { HiveCells::default() },
            told: Told::Nothing,
            problems: Vec::new(),
            notes: Vec::new(),
        };
        entry.told = self.told(&entry);
        self.whole_row(&mut entry);
        entry.problems = self.problems;
        entry.notes = self.notes;
        entry
    }

    pub(super) fn problem(&mut self, field: Field, fact: impl Into<String>, remedy: impl Into<String>) {
        self.problems.push(Problem::new(field, fact, remedy));
    }

    /// What the row is, and whether it says so itself.
    fn kind(&mut self) -> (Kind, bool) {
        let text = (self.text)(Field::Entry);
        if text.is_empty() {
            return (if (self.text)(Field::Hive).is_empty() { Kind::Yard } else { Kind::Hive }, false);
        }
        if let Some(kind) = Kind::of(&text) {
            return (kind, true);
        }
        let words: Vec<&str> = Kind::ALL.iter().map(|(_, word)| *word).collect();
        let remedy = format!("Write one of {}, or leave it empty", words.join(", "));
        self.problem(Field::Entry, format!("No row is a {}", short(&text)), remedy);
        (Kind::Hive, false)
    }

    /// A name; in a row that says itself what it is as it stands, else with white space of any kind made one space.
    pub(super) fn name(&mut self, field: Field, exact: bool) -> String {
        let text = (self.text)(field);
        let name = if exact { text.trim().to_owned() } else { text.split_whitespace().collect::<Vec<_>>().join(" ") };
        let of = match field {
            Field::Yard | Field::StoodIn => "yard",
            Field::Source => "source",
            _ => "hive",
        };
        if let Err(refusal) = name::check(&name, of) {
            self.problem(field, refusal.fact, refusal.way_out);
        }
        name
    }

    /// Initials; in a row that says itself what it is they stay as they stand.
    fn by(&mut self, exact: bool) -> String {
        let by = (self.text)(Field::By);
        if !exact && let Err(refusal) = initials::read(&by) {
            self.problem(Field::By, refusal.fact, refusal.way_out);
        }
        by
    }

    /// What a cell says, where it says anything; else a problem with the choice there is.
    pub(super) fn word<T>(&mut self, field: Field, choice: &str, of: impl Fn(&str) -> Option<T>) -> Option<T> {
        let text = (self.text)(field);
        if text.is_empty() {
            return None;
        }
        let read = of(&text);
        if read.is_none() {
            let fact = match field {
                Field::GateOpens | Field::GateCloses | Field::Leave => format!("{} is no hour", short(&text)),
                Field::Minutes
                | Field::Row
                | Field::Place
                | Field::Cells
                | Field::Parcel
                | Field::ParcelCount
                | Field::ParcelDead
                | Field::ParcelGone
                | Field::Evening
                | Field::EveningPlace => format!("{} is no such number", short(&text)),
                _ => format!("{} is no {}", short(&text), field.name()),
            };
            self.problem(field, fact, format!("Write {choice}"));
        }
        read
    }

    /// A whole number as an export writes it.
    pub(super) fn number<N: std::str::FromStr>(&mut self, field: Field) -> Option<N> {
        self.word(field, "a whole number", |text| text.parse().ok())
    }

    /// Yes, or nothing.
    pub(super) fn yes(&mut self, field: Field) -> bool {
        self.word(field, "yes or no", cells::yes_or_no).unwrap_or(false)
    }

    /// Free words, where there are any.
    pub(super) fn words(&self, field: Field) -> Option<String> {
        Some((self.text)(field)).filter(|words| !words.is_empty())
    }

    /// A day that is not ahead.
    pub(super) fn past_day(&mut self, field: Field) -> Option<Day> {
        let day = self.any_day(field)?;
        if day > self.today {
            self.problem(field, format!("{} lies ahead", day.near(self.today)), "Give today or an earlier day");
            return None;
        }
        Some(day)
    }

    /// A day, which may be one to come.
    pub(super) fn any_day(&mut self, field: Field) -> Option<Day> {
        let text = (self.text)(field);
        if text.is_empty() {
            return None;
        }
        match read(&text, self.order, self.today) {
            DateRead::Day(day) => Some(day),
            fault => {
                self.date_fault(field, &text, fault);
                None
            }
        }
    }

    pub(super) fn date_fault(&mut self, field: Field, text: &str, fault: DateRead) {
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
                let (fact, remedy) = date_hints::why_no_date(text, field == Field::Born, self.today);
                self.problem(field, fact, remedy);
            }
        }
    }

    fn bar(&mut self) -> Option<BarCells> {
        let kind = self.word(Field::Bar, "quarantine, treatment in or another kind of bar", cells::bar);
        let (until, lifted) = (self.any_day(Field::Until), self.any_day(Field::Ended));
        let (permit, lifted_by) = (self.words(Field::Permit), (self.text)(Field::LiftedBy));
        kind.map(|kind: BarKind| BarCells { kind, until, permit, lifted, lifted_by })
    }

    fn setting(&mut self) -> Option<(String, f64)> {
        let value = self.word(Field::Value, "a number", cells::number)?;
        Some(((self.text)(Field::Setting), value))
    }
}

/// The beginning of a long text, for a message.
pub(super) fn short(text: &str) -> String {
    if text.chars().count() <= 30 { text.to_owned() } else { text.chars().take(29).chain(['…']).collect() }
}
