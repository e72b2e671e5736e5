//! `lidnote card`: shows one hive.

use crate::app::cli::command::{Command, Common, Job, What};
use crate::app::cli::find;
use crate::app::cli::output::Output;
use crate::app::cli::session::View;
use crate::domain::day::Day;
use crate::domain::grammar::describe::describe_happening;
use crate::domain::ids::{ColonyId, RecordId};
use crate::domain::record::{Amended, Record};
use crate::domain::standing::age::age_words;
use crate::domain::standing::{Identity, Outcome, QueenFacts, QueenNow, Standing, course};
use crate::domain::work::WorkState;
use crate::domain::world::World;
use crate::planner::outlook::ColonyView;

/// The command.
pub const CARD: Command = Command {
    name: "card",
    help: "  lidnote card HIVE              one hive (or YARD/HIVE)\n",
    values: &["hive", "yard"],
    flags: &[],
    read: |options| {
        Ok(What::job(Card { hive: options.hive("card takes a hive: lidnote card B14, or Broom Flat/B14")? }))
    },
};

struct Card {
    /// `HIVE` or `YARD/HIVE`.
    hive: String,
}

impl Job for Card {
    fn answer(&self, common: &Common) -> Result<Output, String> {
        let View { world, today, .. } = View::read(common)?;
        let id = find::hive_or_ended(&world, &self.hive)?;
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
fn queen_words(world: &World, queen: &QueenNow, today: Day) -> String {
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
fn history_lines(world: &World, id: ColonyId, outcomes: &[(RecordId, Outcome)]) -> Vec<String> {
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

fn history_line(world: &World, record: &Record, outcomes: &[(RecordId, Outcome)]) -> String {
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
