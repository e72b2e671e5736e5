//! Commands that alter: amend, move, end, parcel, set.

use crate::app::cli::args::{Asked, Command, ParcelArgs, SetArgs};
use crate::app::cli::session::{Did, Session, View, mint};
use crate::app::cli::{Output, find};
use crate::domain::change::{Amendment, Change};
use crate::domain::colony::{End, EndWhy};
use crate::domain::day::Day;
use crate::domain::fold_text::fold;
use crate::domain::grammar::describe::describe_happening;
use crate::domain::grammar::plain_words::read_found;
use crate::domain::grammar::resolve::{Choice, resolve_again};
use crate::domain::ids::{ColonyId, ParcelId, SourceId, YardId};
use crate::domain::in_hand::in_hand;
use crate::domain::parcel::{Parcel, ParcelKind};
use crate::domain::queen::Source;
use crate::domain::record::Record;
use crate::domain::settings::{SPECS, Spec, spec};
use crate::domain::world::World;
use crate::domain::yard::Spot;

fn done(did: Did) -> Output {
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
            return Ok(done(session.apply(&Change::SetSetting { name: name.clone(), value: *value })?));
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

fn known_setting(name: &str) -> Result<&'static Spec, String> {
    spec(name).ok_or_else(|| format!("No setting is called {name}. `lidnote set` alone lists them"))
}

/// `parcel`.
pub fn parcel(asked: &Asked, given: &ParcelArgs) -> Result<Output, String> {
    let mut session = Session::open(asked)?;
    let world = session.world();
    if *given == ParcelArgs::default() {
        return Ok(Output::text(list_parcels(&world, session.today)));
    }
    let day = session.today;
    if let Some(number) = given.late {
        let parcel = numbered(&world, number)?.id;
        let promised = given.promised.ok_or("A late parcel has a new day: give --promised DATE")?;
        return Ok(done(session.apply(&Change::ParcelLate { parcel, promised, day })?));
    }
    if let Some(number) = given.arrive {
        let mut parcel = numbered(&world, number)?.clone();
        parcel.arrived = Some(given.arrived.unwrap_or(day));
        parcel.dead = given.dead.unwrap_or(parcel.dead);
        parcel.count = given.count.unwrap_or(parcel.count);
        return Ok(done(session.apply(&Change::PutParcel(parcel))?));
    }
    let count = given.count.ok_or("A parcel has a count: give --count N")?;
    let kind = match given.kind.as_deref().unwrap_or("caged") {
        "caged" => ParcelKind::CagedQueens,
        "cells" => ParcelKind::Cells,
        "virgins" => ParcelKind::Virgins,
        other => return Err(format!("{other} is no kind of parcel. Take caged, cells or virgins")),
    };
    let (source, new) = source_named(&world, given.source.as_deref());
    let parcel = Parcel {
        id: ParcelId(mint()),
        source,
        kind,
        count,
        dead: given.dead.unwrap_or(0),
        gone: 0,
        sent: given.sent,
        due: given.due,
        promised: given.promised,
        arrived: given.arrived,
        grafted: given.grafted,
        closed: false,
        note: String::new(),
    };
    let title =
        format!("Parcel of {count}{}", given.source.as_ref().map_or(String::new(), |name| format!(" from {name}")));
    let mut changes: Vec<Change> = new.map(Change::PutSource).into_iter().collect();
    changes.push(Change::PutParcel(parcel));
    Ok(done(session.apply(&Change::Several { title, changes })?))
}

fn source_named(world: &World, name: Option<&str>) -> (Option<SourceId>, Option<Source>) {
    let Some(name) = name else { return (None, None) };
    if let Some(source) = world.sources.values().find(|source| fold(&source.name) == fold(name)) {
        return (Some(source.id), None);
    }
    let source = Source { id: SourceId(mint()), name: name.trim().to_owned(), own: false };
    (Some(source.id), Some(source))
}

/// Parcels in the order of the list: newest first.
fn parcels(world: &World) -> Vec<&Parcel> {
    let mut list: Vec<&Parcel> = world.parcels.values().collect();
    list.sort_by_key(|parcel| std::cmp::Reverse((parcel.arrived.or(parcel.expected()).or(parcel.sent), parcel.id)));
    list
}

fn numbered(world: &World, number: usize) -> Result<&Parcel, String> {
    let list = parcels(world);
    let found = number.checked_sub(1).and_then(|at| list.get(at)).copied();
    found.ok_or_else(|| format!("There is no parcel {number}. `lidnote parcel` lists them"))
}

fn list_parcels(world: &World, today: Day) -> String {
    let mut text = "number,source,kind,sent,due,arrived,count,dead,given,in hand,days held\n".to_owned();
    for (at, parcel) in parcels(world).into_iter().enumerate() {
        let Some(hand) = in_hand(world, parcel.id, today) else { continue };
        let source = parcel.source.and_then(|source| world.sources.get(&source)).map_or("", |it| it.name.as_str());
        let kind = match parcel.kind {
            ParcelKind::CagedQueens => "caged",
            ParcelKind::Cells => "cells",
            ParcelKind::Virgins => "virgins",
        };
        let day = |day: Option<Day>| day.map(Day::iso).unwrap_or_default();
        let held = hand.held_days.map_or(String::new(), |days| days.to_string());
        text.push_str(&crate::exchange::out::cells::line(&[
            (at + 1).to_string(),
            source.to_owned(),
            kind.to_owned(),
            day(parcel.sent),
            day(parcel.expected()),
            day(parcel.arrived),
            parcel.count.to_string(),
            parcel.dead.to_string(),
            hand.given.to_string(),
            hand.left.to_string(),
            held,
        ]));
    }
    text
}
