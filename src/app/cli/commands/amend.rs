//! `lidnote amend`: puts an older record right.

use crate::app::cli::command::{Command, Common, Job, What};
use crate::app::cli::find;
use crate::app::cli::options::Options;
use crate::app::cli::output::Output;
use crate::app::cli::session::{Session, mint};
use crate::domain::change::{Amendment, Change};
use crate::domain::day::Day;
use crate::domain::grammar::describe::describe_happening;
use crate::domain::grammar::plain_words::read_found;
use crate::domain::grammar::resolve::{Choice, resolve_again};
use crate::domain::ids::ColonyId;
use crate::domain::record::Record;
use crate::domain::world::World;

/// The command.
pub const AMEND: Command = Command {
    name: "amend",
    help: "  lidnote amend --yard Y --hive H --date DATE --reason TEXT
      --to HIVE, --find CODES, --new-date DATE or --strike, --record N where the day has several (help codes lists CODES)
",
    values: &["yard", "hive", "date", "to", "find", "new-date", "record", "reason"],
    flags: &["strike"],
    read: |options| Amend::read(options).map(What::job),
};

struct Amend {
    yard: Option<String>,
    hive: String,
    /// The day of the record.
    date: Day,
    /// It was this hive.
    to: Option<String>,
    /// This was found.
    find: Option<String>,
    /// It was on this day.
    new_date: Option<Day>,
    /// It did not happen.
    strike: bool,
    /// Which of several of that day, from 1.
    record: Option<usize>,
    reason: String,
}

impl Amend {
    fn read(options: &mut Options) -> Result<Self, String> {
        let usage =
            "amend takes --yard, --hive, --date, what is right (--to, --find, --new-date or --strike) and --reason";
        let hive = options.next_word().map_or_else(|| options.needed("hive", usage), Ok)?;
        Ok(Self {
            yard: options.text("yard"),
            hive,
            date: options.day("date")?.ok_or(usage)?,
            to: options.text("to"),
            find: options.text("find"),
            new_date: options.day("new-date")?,
            strike: options.flag("strike"),
            record: options.number("record")?,
            reason: options.needed("reason", "amend takes --reason: why the record is put right")?,
        })
    }
}

impl Job for Amend {
    fn answer(&self, common: &Common) -> Result<Output, String> {
        let mut session = Session::open(common)?;
        let world = session.world();
        let in_yard = |hive: &str| match &self.yard {
            Some(yard) if !hive.contains('/') => format!("{yard}/{hive}"),
            _ => hive.to_owned(),
        };
        let colony = find::hive_or_ended(&world, &in_yard(&self.hive))?;
        let target = record_of(&world, colony, self.date, self.record)?;
        let mut amendment = Amendment::of(colony, target.id, &self.reason, &session.by);
        amendment.to = self.to.as_ref().map(|to| find::hive_or_ended(&world, &in_yard(to))).transpose()?;
        amendment.day = self.new_date;
        amendment.strike = self.strike;
        if let Some(text) = &self.find {
            let day = self.new_date.unwrap_or(target.day);
            let at = amendment.to.unwrap_or(colony);
            let parsed = read_found(text).map_err(|error| format!("--find {text}: {error}"))?;
            let (visit, queens) = resolve_again(&world, &target, at, day, &parsed, &Choice::default(), &mut mint)
                .map_err(|error| format!("--find {text}: {error}"))?;
            amendment.words = (!visit.words.is_empty()).then_some(visit.words);
            amendment.visit = Some(Box::new(visit.visit));
            amendment.queens = queens;
        }
        if amendment.to.is_none() && amendment.day.is_none() && amendment.visit.is_none() && !amendment.strike {
            return Err("Say what is right: --to HIVE, --find CODES, --new-date DATE or --strike".to_owned());
        }
        let at = amendment.to.unwrap_or(colony);
        let mut output = session.apply(&Change::Amend(Box::new(amendment)))?.said();
        // So that codes misread are seen at once.
        let after = session.world();
        if let Some(now) = after.record(at, target.id).filter(|record| !record.struck && self.find.is_some()) {
            output.say(format!("It says now: {}", describe_happening(&after, &now.what)));
        }
        Ok(output)
    }
}

fn record_of(world: &World, colony: ColonyId, date: Day, number: Option<usize>) -> Result<Record, String> {
    let that_day: Vec<&Record> =
        world.records_of(colony).iter().filter(|record| record.day == date && !record.struck).collect();
    match (that_day.as_slice(), number) {
        ([], _) => {
            let days: Vec<String> =
                world.records_of(colony).iter().rev().filter(|it| !it.struck).take(5).map(|it| it.day.iso()).collect();
            let known =
                if days.is_empty() { "It has no records".to_owned() } else { format!("Its last: {}", days.join(", ")) };
            Err(format!("That hive has no record of {date}. {known}"))
        }
        ([one], None) => Ok((*one).clone()),
        (several, Some(at)) => at
            .checked_sub(1)
            .and_then(|at| several.get(at))
            .map(|record| (*record).clone())
            .ok_or_else(|| format!("That day has {} records. --record takes 1 to {}", several.len(), several.len())),
        (several, None) => {
            let list: Vec<String> = several
                .iter()
                .enumerate()
                .map(|(at, record)| format!("{}: {}", at + 1, describe_happening(world, &record.what)))
                .collect();
            Err(format!("That day has {} records: {}. Give --record N", several.len(), list.join("; ")))
        }
    }
}
