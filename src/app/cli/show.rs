//! Commands that show: due, card, labels, run.

use std::path::Path;

use uuid::Uuid;

use crate::app::cli::args::{Asked, Command};
use crate::app::cli::session::{Session, View};
use crate::app::cli::{Output, find};
use crate::app::{files, ground, outputs};
use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::grammar::describe::describe_happening;
use crate::domain::ids::{ColonyId, RunId, YardId};
use crate::domain::record::{Amended, Record};
use crate::domain::run_order::RunOrder;
use crate::domain::standing::age::age_words;
use crate::domain::standing::{Identity, QueenFacts, QueenNow, Standing, course};
use crate::domain::work::WorkState;
use crate::domain::world::World;
use crate::planner::outlook::ColonyView;
use crate::planner::run::lights::Lights;
use crate::planner::run::load::cautions;
use crate::planner::run::plan::{clock, plan};
use crate::planner::run::propose::propose;
use crate::planner::run::solver::problem::Proof;
use crate::print::job::{Paper, Printed};
use crate::print::of_world::labels::{text, yards_of_repeated_names};
use crate::print::remarks::remarks;
use crate::print::sheet::Sheet;

/// `due`.
pub fn due(asked: &Asked) -> Result<Output, String> {
    let View { world, outlook, today, now, .. } = View::read(asked)?;
    match asked.format.as_deref().unwrap_or("csv") {
        "csv" => Ok(Output::text(outputs::due_as_csv(&world, &outlook, today))),
        "ics" | "icalendar" => Ok(Output::text(outputs::due_as_ics(&world, &outlook, today, now))),
        other => Err(format!("due has no format {other}. Take csv or ics")),
    }
}

/// `labels`.
pub fn labels(asked: &Asked) -> Result<Output, String> {
    let Command::Labels { hives, text: as_text, sheet, start, calibration, printed } = &asked.command else {
        return Err("Not the labels command".to_owned());
    };
    let sheet = sheet_named(sheet.as_deref())?;
    let View { world, outlook, today, .. } = View::read(asked)?;
    if *calibration {
        return Ok(pdf(outputs::calibration_as_pdf(&sheet, today)?));
    }
    let colonies: Vec<ColonyId> = if hives.is_empty() {
        outlook.label_queue.clone()
    } else {
        hives.iter().map(|hive| find::hive(&world, hive)).collect::<Result<_, _>>()?
    };
    let views = || colonies.iter().filter_map(|colony| Some((colony, outlook.colonies.get(colony)?)));
    let mut output = if *as_text || asked.format.as_deref() == Some("text") {
        let yards = yards_of_repeated_names(&world);
        let texts = views().map(|(colony, view)| text(&view.note, yards.get(colony).copied()));
        Output::text(texts.collect::<Vec<_>>().join("\n"))
    } else if let Some(other) = asked.format.as_deref().filter(|format| *format != "pdf") {
        return Err(format!("labels has no format {other}. Take pdf, or --text"));
    } else if colonies.is_empty() {
        return Err("No label waits. Name hives to print theirs all the same".to_owned());
    } else {
        pdf(outputs::labels_as_pdf(&world, &outlook, &colonies, sheet, *start, today)?)
    };
    let shortened = views().filter(|(_, view)| view.note.shortened).map(|(colony, _)| hive_name(&world, *colony));
    let shortened: Vec<String> = shortened.collect();
    if !shortened.is_empty() {
        output.say(format!("Names shortened to fit the line: {}", shortened.join(", ")));
    }
    if *printed {
        let change = Change::LabelsPrinted { colonies, day: today };
        Session::open(asked)?.apply(&change)?;
    }
    Ok(output)
}

/// A sheet by its name, or described in a file of measures.
fn sheet_named(name: Option<&str>) -> Result<Sheet, String> {
    let Some(name) = name else { return Ok(Sheet::a4_3x8()) };
    let wanted = name.trim().to_lowercase();
    let presets = Sheet::presets();
    if let Some(sheet) = presets.iter().find(|sheet| sheet.title().to_lowercase() == wanted) {
        return Ok(sheet.clone());
    }
    // `letter`, `A4 2x7`: the beginning of a name will do, without its signs; the first that fits.
    let signs = |text: &str| text.to_lowercase().chars().filter(|it| it.is_alphanumeric()).collect::<String>();
    let begins = |sheet: &&Sheet| !signs(name).is_empty() && signs(&sheet.title()).starts_with(&signs(name));
    if let Some(sheet) = presets.iter().find(begins).filter(|_| !Path::new(name).is_file()) {
        return Ok(sheet.clone());
    }
    if Path::new(name).is_file() {
        let bytes = files::read(Path::new(name))?;
        let measures = String::from_utf8(bytes).map_err(|_| format!("{name} is not plain text. Write it in UTF-8"))?;
        let sheet = Sheet::parse(&measures).map_err(|fault| format!("{name}: {fault}"))?;
        return sheet.check().map(|()| sheet).map_err(|fault| format!("{name}: {fault}"));
    }
    let names: Vec<String> = presets.iter().map(Sheet::title).collect();
    Err(format!("No sheet is called {name}, and no file of that name is there. Sheets: {}", names.join("; ")))
}

fn pdf(printed: Printed) -> Output {
    let mut output = Output { bytes: printed.bytes, binary: true, ..Output::default() };
    for remark in remarks(&printed.warnings) {
        output.say(format!("{remark}."));
    }
    output
}

/// The run of a day keeps its id, so that a calendar replaces its events when they are brought in again.
fn run_of(day: Day) -> RunId {
    RunId(Uuid::from_u128(day.number().unsigned_abs().into()))
}

/// `run`.
pub fn run(asked: &Asked) -> Result<Output, String> {
    let Command::Run { base, leave, yards, letter } = &asked.command else {
        return Err("Not the run command".to_owned());
    };
    let View { world, outlook, today, now, .. } = View::read(asked)?;
    let base = find::base(&world, base.as_deref())?;
    let named = |names: &Vec<String>| names.iter().map(|name| find::yard(&world, name)).collect::<Result<Vec<_>, _>>();
    let yards = yards.as_ref().map(named).transpose()?;
    let within_day = yards.is_none();
    let asked_run = outputs::run_through(&world, &outlook, run_of(today), today, base, *leave, yards);
    let mut lights = Lights::default();
    let proposal = propose(&world, &outlook, &asked_run, within_day, &mut lights, &|| false);
    let proposal = proposal.map_err(|error| error.to_string())?;
    let planned = plan(&world, &outlook, &proposal.run, &mut lights).map_err(|error| error.to_string())?;
    let mut output = match asked.format.as_deref().unwrap_or("csv") {
        "csv" => Output::text(outputs::run_as_csv(&world, &planned)),
        "gpx" => Output::text(outputs::run_as_gpx(&world, &planned)),
        "ics" | "icalendar" => Output::text(outputs::run_as_ics(&world, &planned, today, now)),
        "pdf" => {
            let paper = if *letter { Paper::Letter } else { Paper::A4 };
            let ground = ground::without_window(&world, &planned.run);
            pdf(outputs::run_as_pdf(&world, &outlook, &planned, paper, &ground, today)?)
        }
        other => return Err(format!("run has no format {other}. Take csv, gpx, ics or pdf")),
    };
    let proof = match proposal.proof {
        Proof::Shortest => "Order proven shortest",
        Proof::Heuristic => "A good order found by trying, not proven shortest",
    };
    say_left_out(&mut output, &world, &asked_run, &proposal.left_out);
    if planned.stops.is_empty() {
        let nothing = "No yard has work to do that day. --yards=A,B,C names yards all the same";
        output.say(if asked_run.stops.is_empty() { nothing } else { "No stop is left" });
        return Ok(output);
    }
    output.say(format!(
        "{proof}. {}, back {}, {} km. Times are an estimate: straight line times {} at {} km/h",
        if planned.stops.len() == 1 { "1 stop".to_owned() } else { format!("{} stops", planned.stops.len()) },
        clock(planned.back),
        (planned.metres + 500) / 1000,
        world.settings.road_factor(),
        world.settings.speed()
    ));
    for caution in cautions(&world, &planned).iter().filter(|caution| caution.forbids) {
        output.say(format!("Caution: {} {}", caution.fact, caution.then));
    }
    Ok(output)
}

/// Says which yards are left out, those of one reason together.
fn say_left_out(output: &mut Output, world: &World, asked: &RunOrder, left_out: &[(YardId, String)]) {
    let unknown = asked.stops.iter().filter(|stop| world.yards.get(&stop.yard).is_some_and(|it| it.place.is_none()));
    let unknown = unknown.map(|stop| (stop.yard, "Its place is not known; give it one on the map"));
    let mut reasons: Vec<(&str, Vec<&str>)> = Vec::new();
    for (yard, why) in left_out.iter().map(|(yard, why)| (*yard, why.as_str())).chain(unknown) {
        let name = world.yards.get(&yard).map_or("", |yard| yard.name.as_str());
        match reasons.iter_mut().find(|(reason, _)| *reason == why) {
            Some((_, names)) => names.push(name),
            None => reasons.push((why, vec![name])),
        }
    }
    for (why, names) in reasons {
        let count = if names.len() == 1 { String::new() } else { format!(" {} yards:", names.len()) };
        output.say(format!("Left out:{count} {}. {why}", names.join(", ")));
        output.problems = true;
    }
}

/// `card`.
pub fn card(asked: &Asked) -> Result<Output, String> {
    let Command::Card { hive } = &asked.command else { return Err("Not the card command".to_owned()) };
    let View { world, today, .. } = View::read(asked)?;
    let id = find::hive_or_ended(&world, hive)?;
    let course = course(&world, id, today).ok_or("The hive is not there")?;
    let view = ColonyView::of(&world, id, today).ok_or("The hive is not there")?;
    let standing = &course.standing;
    let mut lines = vec![heading(&world, id)];
    lines.push(format!("Queen: {}", queen_words(&world, &standing.queen, today)));
    lines.push(format!("Identity: {}", identity_words(standing)));
    lines.push(format!("Lid: {}", view.lid.words()));
    lines.extend(standing.bars.iter().map(|bar| format!("Bar: {}, {}", bar.kind.words(), bar.reason)));
    lines.extend(standing.flags.iter().map(|flag| format!("Flag: {flag}")));
    for work in &standing.work {
        let state = match work.window.state(today) {
            WorkState::Ahead => "ahead",
            WorkState::Open => "open",
            WorkState::Late => "late",
        };
        lines.push(format!("Due: {}, {}, {state}. {}", work.kind.words(), work.window.words(), work.why));
    }
    if standing.work.is_empty() {
        lines.push("Due: nothing".to_owned());
    }
    if let Some(clock) = &standing.clock {
        lines.push(format!("Queenless clock: D+{}. {}", clock.days, clock.asks));
    }
    lines.push("Lid note:".to_owned());
    lines.extend(view.note.lines.iter().filter(|line| !line.is_empty()).map(|line| format!("  {line}")));
    lines.push("History:".to_owned());
    lines.extend(history_lines(&world, id, &course.outcomes));
    Ok(Output::text(lines.join("\n") + "\n"))
}

fn heading(world: &World, id: ColonyId) -> String {
    let Some(colony) = world.colonies.get(&id) else { return String::new() };
    let yard = colony.yard().and_then(|yard| world.yards.get(&yard)).map_or("", |yard| yard.name.as_str());
    let spot = colony.spot().map_or(String::new(), |spot| format!(", row {}, place {}", spot.row, spot.place));
    let ended = colony.ended.as_ref().map_or(String::new(), |end| {
        let words = if end.words.is_empty() { String::new() } else { format!(" ({})", end.words) };
        format!(", {} {}{words}", end.why.word(), end.day.iso())
    });
    format!("{}, {yard}{spot}{ended}", colony.name())
}

/// `white, Thrift, first season, 2 months`.
pub fn queen_words(world: &World, queen: &QueenNow, today: Day) -> String {
    match queen {
        QueenNow::Present(her) => her_words(world, her, today),
        QueenNow::Waiting { since, .. } => format!("none, on purpose, since {}", since.iso()),
        QueenNow::Queenless { since: Some(since) } => format!("none since {}", since.iso()),
        QueenNow::Queenless { since: None } => "none".to_owned(),
    }
}

fn her_words(world: &World, her: &QueenFacts, today: Day) -> String {
    let dot = her.dot.map_or("no dot".to_owned(), |dot| format!("dot {}", dot.name()));
    let source = her.source.and_then(|source| world.sources.get(&source));
    let source = source.map_or("source not known".to_owned(), |source| source.name.clone());
    let age = age_words(her.birth, &world.firm, &world.settings, today);
    format!("{dot}, {source}, {age}")
}

fn identity_words(standing: &Standing) -> String {
    match standing.identity {
        Identity::Seen(day) => format!("seen {}", day.iso()),
        Identity::Unconfirmed => "not seen since she was recorded".to_owned(),
        Identity::Another(day) if standing.which.is_some() => format!("another queen seen {}; which?", day.iso()),
        Identity::Another(day) => format!("not recorded, seen {}", day.iso()),
        Identity::NotRecorded => "no queen recorded".to_owned(),
    }
}

/// Records, those that an amendment took to another hive, and corrections; newest first.
fn history_lines(
    world: &World,
    id: ColonyId,
    outcomes: &[(crate::domain::ids::RecordId, crate::domain::standing::Outcome)],
) -> Vec<String> {
    let records = world.records_of(id).iter().map(|it| (it.day, history_line(world, it, outcomes)));
    let moved = world.moved_away_from(id).map(|moved| {
        let (day, to) = (moved.left.day, hive_name(world, moved.to));
        let amended = amended_line("moved", moved.amended, &format!("Now at {to}"));
        (day, format!("  {} {} | moved to {to}{amended}", day.iso(), moved.left.said))
    });
    let corrected = world.colonies.get(&id).into_iter().flat_map(|colony| &colony.corrected).map(|it| {
        let line = amended_line("corrected", it, &format!("Was: {}", it.was));
        (it.on, line.trim_start_matches('\n').to_owned())
    });
    let mut lines: Vec<(Day, String)> = records.chain(moved).chain(corrected).collect();
    lines.sort_by_key(|(day, _)| *day);
    lines.into_iter().rev().map(|(_, line)| line).collect()
}

fn amended_line(what: &str, amended: &Amended, then: &str) -> String {
    let by = if amended.by.is_empty() { String::new() } else { format!(" by {}", amended.by) };
    let (on, reason) = (amended.on.iso(), amended.reason.trim_end_matches('.'));
    format!("\n    {what} {on}{by}: {reason}. {then}")
}

fn history_line(
    world: &World,
    record: &Record,
    outcomes: &[(crate::domain::ids::RecordId, crate::domain::standing::Outcome)],
) -> String {
    let said = outcomes.iter().find(|(id, _)| *id == record.id).map_or("", |(_, outcome)| outcome.sentence.as_str());
    let mut line = format!("  {} {}", record.day.iso(), describe_happening(world, &record.what));
    for words in [said, record.words.as_str()].into_iter().filter(|words| !words.is_empty()) {
        line.push_str(" | ");
        line.push_str(words);
    }
    if record.struck {
        line.push_str(" | struck");
    }
    let by = if record.by.is_empty() { String::new() } else { format!(" ({})", record.by) };
    let amended = record.amended.iter().map(|it| amended_line("amended", it, &format!("Was: {}", it.was)));
    line + &by + &amended.collect::<Vec<_>>().concat()
}

fn hive_name(world: &World, colony: ColonyId) -> String {
    world.colonies.get(&colony).map_or_else(String::new, |colony| colony.name().to_owned())
}
