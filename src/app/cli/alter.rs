//! Commands that alter: amend, move, end, set.

use crate::app::cli::args::{Asked, Command, SetArgs};
use crate::app::cli::session::{Did, Session, View, mint};
use crate::app::cli::{Output, find};
use crate::domain::change::{Amendment, Change};
use crate::domain::colony::{End, EndWhy};
use crate::domain::day::Day;
use crate::domain::grammar::describe::describe_happening;
use crate::domain::grammar::plain_words::read_found;
use crate::domain::grammar::resolve::{Choice, resolve_again};
use crate::domain::ids::{ColonyId, YardId};
use crate::domain::record::Record;
use crate::domain::settings::{SPECS, Spec, spec};
use crate::domain::world::World;
use crate::domain::yard::Spot;

pub(super) fn done(did: Did) -> Output {
    match did {
        Did::Recorded(title) => Output::said(format!("Recorded: {title}")),
        Did::Nothing => Output::said("Nothing was altered: it is so already"),
    }
}

/// `amend`.
pub fn amend(asked: &Asked) -> Result<Output, String> {
    let Command::Amend { yard, hive, date, to, find: codes, new_date, strike, record, reason } = &asked.command else {
        return Err("Not the amend command".to_owned());
    };
    let mut session = Session::open(asked)?;
    let world = session.world();
    let in_yard = |hive: &str| match yard {
        Some(yard) if !hive.contains('/') => format!("{yard}/{hive}"),
        _ => hive.to_owned(),
    };
    let colony = find::hive_or_ended(&world, &in_yard(hive))?;
    let target = record_of(&world, colony, *date, *record)?;
    let mut amendment = Amendment::of(colony, target.id, reason, &session.by);
    amendment.to = to.as_ref().map(|to| find::hive_or_ended(&world, &in_yard(to))).transpose()?;
    amendment.day = *new_date;
    amendment.strike = *strike;
    if let Some(text) = codes {
        let day = new_date.unwrap_or(target.day);
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
    Ok(done(session.apply(&Change::Amend(Box::new(amendment)))?))
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

/// `move`.
pub fn move_to(asked: &Asked) -> Result<Output, String> {
    let Command::Move { hives, to, row, place } = &asked.command else {
        return Err("Not the move command".to_owned());
    };
    let mut session = Session::open(asked)?;
    let world = session.world();
    let yard = find::yard(&world, to)?;
    let spot = match (row, place) {
        (Some(row), Some(place)) => Some(Spot { row: *row, place: *place }),
        (None, None) => None,
        _ => return Err("A place has a row and a place in it: give --row N and --place N".to_owned()),
    };
    let colonies = hives.iter().map(|hive| find::hive(&world, hive)).collect::<Result<Vec<_>, _>>()?;
    if let Some(spot) = spot {
        free_for(&world, yard, spot, &colonies)?;
    }
    let there = |colony: &ColonyId| {
        let held = world.colonies.get(colony).filter(|held| held.yard() == Some(yard));
        // A hive that stays in its yard keeps its place where no other is named.
        spot.or_else(|| held.and_then(|held| held.spot()))
    };
    let to = colonies.iter().map(|colony| (*colony, yard, there(colony))).collect();
    let day = session.today;
    Ok(done(session.apply(&Change::Move { to, day })?))
}

/// One place takes one hive, and only if no other stands there.
fn free_for(world: &World, yard: YardId, spot: Spot, colonies: &[ColonyId]) -> Result<(), String> {
    let [colony] = colonies else {
        return Err(format!("One place takes one hive, not {}. Move them one by one", colonies.len()));
    };
    let stands = world.in_yard(yard).into_iter().find(|it| it.id != *colony && it.spot() == Some(spot));
    stands.map_or(Ok(()), |it| {
        let name = it.name();
        Err(format!(
            "{name} stands in row {}, place {}. Move {name} first, or give another place",
            spot.row, spot.place
        ))
    })
}

/// `end`.
pub fn end(asked: &Asked) -> Result<Output, String> {
    let Command::End { hives, why, words } = &asked.command else { return Err("Not the end command".to_owned()) };
    let why = match why.as_str() {
        "sold" => EndWhy::Sold,
        "died" | "dead" => EndWhy::Died,
        "shaken-out" => EndWhy::ShakenOut,
        "destroyed" => EndWhy::Destroyed,
        "gone" => EndWhy::Gone,
        other => return Err(format!("{other} is no end. Take sold, died, shaken-out, destroyed or gone")),
    };
    let mut session = Session::open(asked)?;
    let world = session.world();
    let colonies = hives.iter().map(|hive| find::hive(&world, hive)).collect::<Result<Vec<_>, _>>()?;
    let end = End { day: session.today, why, by: session.by.clone(), words: words.clone() };
    Ok(done(session.apply(&Change::End { colonies, end })?))
}

/// `set`.
pub fn set(asked: &Asked, what: &SetArgs) -> Result<Output, String> {
    let wanted = match what {
        SetArgs::List => None,
        SetArgs::Show(name) => Some(name),
        SetArgs::To(name, value) => {
            known_setting(name)?;
            let mut session = Session::open(asked)?;
            let change = Change::SetSetting { name: name.clone(), value: *value };
            return session.apply(&change).map(done).map_err(|words| with_names(&words));
        }
    };
    let specs: Vec<&Spec> = match wanted {
        Some(name) => vec![known_setting(name)?],
        None => SPECS.iter().collect(),
    };
    let world = View::read(asked)?.world;
    let line = |spec: &&Spec| {
        let now = world.settings.get(spec.name).unwrap_or(spec.default);
        format!("{} {} ({}; default {}). {}. {}\n", spec.name, now, spec.unit, spec.default, spec.about, spec.source)
    };
    Ok(Output::text(specs.iter().map(line).collect::<String>()))
}

/// Behind the words of a setting, the name by which it is set here.
fn with_names(words: &str) -> String {
    SPECS.iter().fold(words.to_owned(), |words, spec| {
        let about = format!("“{}”", spec.about);
        words.replace(&about, &format!("{about} ({})", spec.name))
    })
}

fn known_setting(name: &str) -> Result<&'static Spec, String> {
    spec(name).ok_or_else(|| format!("No setting is called {name}. `lidnote set` alone lists them"))
}
