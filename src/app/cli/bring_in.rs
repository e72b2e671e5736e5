//! Commands that bring in: import, record.

use std::path::Path;

use crate::app::cli::Output;
use crate::app::cli::args::{Asked, Command};
use crate::app::cli::session::{Did, Session, mint};
use crate::app::files;
use crate::app::import::{Import, heading};
use crate::app::replies::outputs_offset;
use crate::domain::change::Change;
use crate::domain::place::Place;
use crate::domain::settings::Firm;
use crate::domain::world::World;
use crate::exchange::results::{self, Refused};
use crate::exchange::table::headings::Field;
use crate::exchange::table::preview::{Preview, Problem, Will};
use crate::ui::action::ImportOptions;

/// `import`.
pub fn import(asked: &Asked) -> Result<Output, String> {
    let Command::Import { file, map, day_first, update, hold_back } = &asked.command else {
        return Err("Not the import command".to_owned());
    };
    for (_, ours) in map {
        heading(ours)?;
    }
    // The file is read before a register is made for it, so that a bad name leaves nothing behind.
    files::read(file)?;
    let (mut session, new) = Session::open_or_create(asked)?;
    let options = ImportOptions {
        mapping: map.clone(),
        day_first: *day_first,
        encoding: None,
        update_existing: *update,
        corrections: Vec::new(),
    };
    let imported = read_and_bring_in(&mut session, file, options, hold_back.as_deref(), new);
    if imported.as_ref().map_or(true, |output| output.problems && hold_back.is_none()) && new {
        // A register made for this import alone, into which nothing came, is no register anyone wants.
        let path = session.register.path().to_owned();
        drop(session);
        let _ = std::fs::remove_file(path);
    }
    imported
}

fn read_and_bring_in(
    session: &mut Session,
    file: &Path,
    options: ImportOptions,
    hold_back: Option<&Path>,
    new: bool,
) -> Result<Output, String> {
    let world = session.world();
    let import = Import::read(file.to_owned(), options, &world, session.today)?;
    let preview = import.preview();
    let mut output = Output::default();
    let name = file.display();
    if let Some(question) = &preview.question {
        return Err(format!(
            "{name}: {} can be {} or {}; {} rows hold such dates. Say which with --dates dmy or --dates mdy. Nothing was \
             brought in",
            question.example,
            question.day_first.short(),
            question.month_first.short(),
            question.rows
        ));
    }
    for row in &preview.rows {
        for problem in &row.problems {
            output.say(said(&name.to_string(), row.row, problem));
        }
    }
    for left_out in &preview.left_out {
        output.say(format!("{name}: {left_out}"));
    }
    for unknown in preview.headings.iter().filter(|heading| heading.field.is_none()) {
        output.say(format!(
            "{name}: column \"{0}\" is not known and left out. Name it with --map \"{0}=…\"",
            unknown.theirs
        ));
    }
    let held = preview.totals.held_back;
    output.problems = held > 0;
    if held > 0 && hold_back.is_none() {
        output.say(format!(
            "{name}: {held} rows have problems, so nothing was brought in. Mend them, decide with --existing skip or \
             update, or give --hold-back FILE to bring the others in"
        ));
        return Ok(output);
    }
    if let Some(path) = hold_back.filter(|_| held > 0) {
        files::write(path, &import.held_back())?;
        output.say(format!("{held} rows held back: {}", path.display()));
    }
    for row in preview.rows.iter().filter(|row| row.will != Will::HoldBack) {
        for note in &row.notes {
            output.say(said(&name.to_string(), row.row, note));
        }
    }
    let mut change = import.change(&mut mint);
    if new && let Change::Several { changes, .. } = &mut change {
        changes.splice(0..0, settled_at(&world, preview, changes));
    }
    match session.apply(&change)? {
        Did::Recorded(title) => output.say(format!("Recorded: {title}. {}", counts(preview))),
        Did::Nothing => output.say("Nothing was altered: it is so already"),
    }
    Ok(output)
}

/// A new register learns from the first yards where home is: hemisphere and clock follow from the place.
fn settled_at(world: &World, _preview: &Preview, changes: &[Change]) -> Vec<Change> {
    let places: Vec<Place> = changes
        .iter()
        .filter_map(|change| match change {
            Change::PutYard(yard) => yard.place,
            _ => None,
        })
        .collect();
    let Some(home) = places.first().copied() else { return Vec::new() };
    let firm =
        Firm { home: Some(home), home_name: "Home".to_owned(), hemisphere: home.hemisphere(), ..world.firm.clone() };
    let offset = Change::SetSetting { name: "utc_offset".to_owned(), value: outputs_offset(home) };
    vec![Change::SetFirm(Box::new(firm)), offset]
}

fn counts(preview: &Preview) -> String {
    let totals = &preview.totals;
    format!(
        "{} hives added in {} yards ({} new), {} changed, {} the same, {} held back; {} introductions under way",
        totals.hives_added, totals.yards, totals.yards_new, totals.changed, totals.same, totals.held_back, totals.looks
    )
}

fn said(name: &str, row: u32, problem: &Problem) -> String {
    let field = problem.field.map_or(String::new(), |field| format!(", {}", field.name()));
    let remedy = if problem.remedy.is_empty() { String::new() } else { format!(". {}", problem.remedy) };
    format!("{name}, row {row}{field}: {}{remedy}", problem.fact)
}

/// `record`.
pub fn record(asked: &Asked, file: &Path) -> Result<Output, String> {
    let bytes = files::read(file)?;
    let mut session = Session::open(asked)?;
    let world = session.world();
    let read = results::read(&bytes, None, &session.by, &world, session.today, &mut mint);
    let name = file.display().to_string();
    match read {
        Ok(change) => match session.apply(&change).map_err(|words| format!("{name}: {words}"))? {
            Did::Recorded(title) => Ok(Output::said(format!("Recorded: {title}"))),
            Did::Nothing => Ok(Output::said("Nothing was altered: it is so already")),
        },
        Err(Refused::File(unreadable)) => Err(format!("{name}: {unreadable}")),
        Err(Refused::Rows(problems)) => {
            let mut output = Output { problems: true, ..Output::default() };
            for (row, problem) in &problems {
                let mut problem = problem.clone();
                if problem.field == Some(Field::LastLook) {
                    problem.fact = format!("date: {}", problem.fact);
                    problem.field = None;
                }
                output.say(said(&name, *row, &problem));
            }
            output.say(format!("{name}: nothing was recorded. Mend the rows and record it again"));
            Ok(output)
        }
    }
}
