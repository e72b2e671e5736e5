//! An evening's finds from a file: yard, hive, date, find, words, by. A bad row refuses the whole file.

use std::collections::BTreeMap;

use uuid::Uuid;

use crate::domain::change::{Change, Occasion};
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::grammar::codes::CodeError;
use crate::domain::grammar::plain_words::read_found;
use crate::domain::grammar::resolve::{Choice, resolve};
use crate::domain::ids::ColonyId;
use crate::domain::in_hand::draw::{From, Hand};
use crate::domain::in_hand::sources::source_named;
use crate::domain::initials;
use crate::domain::world::World;
use crate::exchange::dates::{DateOrder, DateRead, OrderFound, order_of, read as read_date};
use crate::exchange::out::cells::unguarded;
use crate::exchange::table::headings::{Field, field_of};
use crate::exchange::table::letters::decode;
use crate::exchange::table::preview::{Problem, Unreadable};
use crate::exchange::table::split::{rows, sniff};
use crate::exchange::watch::{Nobody, NotRead};

/// Why a file of results is refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refused {
    /// It cannot be read at all.
    File(Unreadable),
    /// Rows with problems, all of them, by row.
    Rows(Vec<(u32, Problem)>),
}

/// Reads an evening's finds into one change. `by` are the initials where the file has none; `mint` yields new ids that
/// grow.
///
/// # Errors
/// If the file cannot be read, or any row has a problem; nothing is recorded then. Rows with neither find nor words are
/// hives that nobody opened: they are passed over.
pub fn read(
    bytes: &[u8],
    order: Option<DateOrder>,
    by: &str,
    world: &World,
    today: Day,
    mint: &mut dyn FnMut() -> Uuid,
) -> Result<Change, Refused> {
    let table = Table::read(bytes).map_err(Refused::File)?;
    let order = order.or(match order_of(table.cells(Field::LastLook)) {
        OrderFound::Proven(order) => Some(order),
        OrderFound::NotNeeded | OrderFound::Open | OrderFound::Mixed => None,
    });
    let hives = Hives::of(world);
    let mut hand = Hand::of(world);
    let evening = mint();
    let (mut visits, mut queens, mut problems) = (Vec::new(), Vec::new(), Vec::new());
    let mut seen: BTreeMap<(ColonyId, Day), u32> = BTreeMap::new();
    for at in 0..table.rows.len() {
        let row = Row { table: &table, at };
        let number = row.number();
        if row.says_nothing() {
            continue;
        }
        let (colony, day) = match (row.colony(&hives), row.day(order, today)) {
            (Ok(colony), Ok(day)) => (colony, day),
            (colony, day) => {
                problems.extend([colony.err(), day.err()].into_iter().flatten().map(|problem| (number, problem)));
                continue;
            }
        };
        let by = Some(row.text(Field::By)).filter(|it| !it.is_empty()).unwrap_or_else(|| by.to_owned());
        if let Err(refusal) = initials::read(&by) {
            problems.push((number, Problem::new(Field::By, refusal.fact, refusal.way_out)));
            continue;
        }
        let codes = read_found(&row.text(Field::Found));
        let made = codes.and_then(|codes| {
            let choice = choice(world, &row.text(Field::Source))?;
            resolve(&mut hand, colony, day, &by, &codes, &choice, mint)
        });
        match made {
            Err(CodeError { what, remedy, .. }) => problems.push((number, Problem::new(Field::Found, what, remedy))),
            Ok((mut visit, new)) => {
                if let Some(first) = seen.insert((colony, visit.day), number) {
                    let fact = format!("Hive {} has a find of that day in row {first}", row.text(Field::Hive));
                    problems.push((number, Problem::new(Field::Hive, fact, "Put both in one row")));
                }
                problems.extend(row.day_at(world, colony, visit.day, today).map(|problem| (number, problem)));
                let words = row.text(Field::Words);
                let both = [visit.words.as_str(), &words].join(" ");
                both.trim().clone_into(&mut visit.words);
                visits.push(visit);
                queens.extend(new);
            }
        }
    }
    if problems.is_empty() && visits.is_empty() {
        return Err(Refused::File(Unreadable::new("No row holds a find", "Write under find what was seen")));
    }
    if problems.is_empty() {
        Ok(Change::Visits { occasion: Occasion::Evening(evening), visits, queens })
    } else {
        Err(Refused::Rows(problems))
    }
}

struct Table {
    columns: BTreeMap<Field, usize>,
    width: usize,
    rows: Vec<crate::exchange::table::split::RawRow>,
}

impl Table {
    fn read(bytes: &[u8]) -> Result<Self, Unreadable> {
        let (text, _) = decode(bytes, None)?;
        let mut rows = rows(&text, sniff(&text), &Nobody).map_err(NotRead::unwatched)?;
        if rows.is_empty() {
            return Err(Unreadable::new("The file is empty", "Give the headings yard, hive, date, find, words, by"));
        }
        let headings = rows.remove(0).cells;
        let mut columns = BTreeMap::new();
        for (at, heading) in headings.iter().enumerate() {
            if let Some(field) = field_of(heading) {
                columns.entry(field).or_insert(at);
            }
        }
        for (field, name) in [(Field::Hive, "hive"), (Field::Found, "find")] {
            if !columns.contains_key(&field) {
                let fact = format!("No heading says which column is the {name}");
                return Err(Unreadable::new(fact, "Give the headings yard, hive, date, find, words, by"));
            }
        }
        if rows.is_empty() {
            return Err(Unreadable::new("The file has headings and no rows", "Choose one with rows"));
        }
        Ok(Self { columns, width: headings.len(), rows })
    }

    fn cells(&self, field: Field) -> impl Iterator<Item = &str> {
        let at = self.columns.get(&field).copied();
        self.rows.iter().filter_map(move |row| at.and_then(|at| row.cells.get(at)).map(String::as_str))
    }
}

struct Row<'a> {
    table: &'a Table,
    at: usize,
}

impl Row<'_> {
    fn number(&self) -> u32 {
        self.table.rows.get(self.at).map_or(0, |row| row.number)
    }

    fn text(&self, field: Field) -> String {
        let at = self.table.columns.get(&field).copied();
        let cell = self.table.rows.get(self.at).and_then(|row| at.and_then(|at| row.cells.get(at)));
        cell.map_or(String::new(), |cell| unguarded(cell.trim()).to_owned())
    }

    fn width(&self) -> usize {
        self.table.rows.get(self.at).map_or(0, |row| row.cells.len())
    }

    fn says_nothing(&self) -> bool {
        self.width() == self.table.width && self.text(Field::Found).is_empty() && self.text(Field::Words).is_empty()
    }

    fn colony(&self, hives: &Hives) -> Result<ColonyId, Problem> {
        let cells = self.width();
        if cells != self.table.width {
            let fact = format!("The row has {cells} cells, the headings {}", self.table.width);
            return Err(Problem { field: None, fact, remedy: "Look for a missing or needless separator".to_owned() });
        }
        let (yard, hive) = (self.text(Field::Yard), self.text(Field::Hive));
        if hive.is_empty() {
            return Err(Problem::new(Field::Hive, "No hive is named", "Name the hive"));
        }
        if !yard.is_empty() && !hives.yards.contains(&fold(&yard)) {
            return Err(Problem::new(
                Field::Yard,
                format!("No yard is called {yard}"),
                "Correct the name, or add the yard",
            ));
        }
        let found: Vec<ColonyId> = hives
            .of_name
            .get(&fold(&hive))
            .into_iter()
            .flatten()
            .filter(|(in_yard, _)| yard.is_empty() || *in_yard == fold(&yard))
            .map(|(_, colony)| *colony)
            .collect();
        match found.as_slice() {
            [one] => Ok(*one),
            [] if yard.is_empty() => {
                Err(Problem::new(Field::Hive, format!("No hive is called {hive}"), "Correct the name, or add the hive"))
            }
            [] => {
                let fact = format!("No hive of {yard} is called {hive}");
                Err(Problem::new(Field::Hive, fact, "Correct the name, or add the hive"))
            }
            _ => {
                let fact = format!("Several yards have a hive {hive}");
                Err(Problem::new(Field::Yard, fact, "Name the yard"))
            }
        }
    }

    /// The day of the row; today where the file has no days at all or the codes say the day.
    fn day(&self, order: Option<DateOrder>, today: Day) -> Result<Day, Problem> {
        let text = self.text(Field::LastLook);
        let dated = self.table.columns.contains_key(&Field::LastLook) && self.width() == self.table.width;
        let fault = |fact: String, remedy: &str| Err(Problem::new(Field::LastLook, fact, remedy));
        match read_date(&text, order, today) {
            _ if text.is_empty() && (!dated || self.text(Field::Found).contains('@')) => Ok(today),
            _ if text.is_empty() => fault("No day is given".to_owned(), "Give the day of the visit"),
            DateRead::Day(day) if day > today => {
                fault(format!("{} lies ahead", day.near(today)), "Give today or an earlier day")
            }
            DateRead::Day(day) => Ok(day),
            DateRead::Either(..) => fault(format!("{text} can be read two ways"), "Write it as 2026-11-14"),
            DateRead::Impossible(fact) => fault(fact, "Correct the day"),
            DateRead::Month(..) | DateRead::Year(_) | DateRead::None => {
                fault(format!("{text} is no day"), "Write it as 2026-11-14 or 14 Nov 2026")
            }
        }
    }

    fn day_at(&self, world: &World, colony: ColonyId, day: Day, today: Day) -> Option<Problem> {
        let founded = world.colonies.get(&colony)?.founded;
        let fact = format!("{} is known only since {}", self.text(Field::Hive), founded.near(today));
        (day < founded).then(|| Problem::new(Field::LastLook, fact, "Give a later day"))
    }
}

/// What a row says of where a queen that was given came from.
fn choice(world: &World, source: &str) -> Result<Choice, CodeError> {
    if source.is_empty() {
        return Ok(Choice::default());
    }
    let unknown = || CodeError::new(0, format!("No source is called {source}"), "Correct the name, or add the source");
    let source = source_named(world, source).ok_or_else(unknown)?;
    Ok(Choice { from: From::Source(source.id), ..Choice::default() })
}

/// Living hives by folded name, with their yards.
struct Hives {
    yards: std::collections::BTreeSet<String>,
    of_name: BTreeMap<String, Vec<(String, ColonyId)>>,
}

impl Hives {
    fn of(world: &World) -> Self {
        let mut of_name: BTreeMap<String, Vec<(String, ColonyId)>> = BTreeMap::new();
        for colony in world.living() {
            let yard =
                colony.yard().and_then(|yard| world.yards.get(&yard)).map_or(String::new(), |yard| fold(&yard.name));
            of_name.entry(fold(colony.name())).or_default().push((yard, colony.id));
        }
        Self { yards: world.yards.values().map(|yard| fold(&yard.name)).collect(), of_name }
    }
}
