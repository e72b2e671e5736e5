//! `lidnote import`: brings yards and hives in.

use std::path::{Path, PathBuf};

use crate::app::cli::command::{Command, Common, Job, What};
use crate::app::cli::options::Options;
use crate::app::cli::output::Output;
use crate::app::cli::session::{Did, Session, mint};
use crate::app::files;
use crate::app::import::{Import, heading};
use crate::app::replies::outputs_offset;
use crate::domain::change::Change;
use crate::domain::place::Place;
use crate::domain::settings::Firm;
use crate::domain::world::World;
use crate::exchange::table::headings::{Field, field_of, plain};
use crate::exchange::table::preview::{Preview, Problem, Will};
use crate::exchange::watch::Nobody;
use crate::ui::action::ImportOptions;

/// The command.
pub const IMPORT: Command = Command {
    name: "import",
    help: "  lidnote import FILE            brings yards and hives in (CSV, GeoJSON, GPX); makes the register if there is none
      --map \"theirs=ours\"        names a heading; may be given several times
      --dates dmy|mdy            how dates such as 3/4/2026 are read
      --existing skip|update     what to do with hives already there; update takes what an export adds and holds back
                                 what contradicts the register
      --empty-yard above         rows that name no yard stand in the yard of the row above
      --hold-back FILE           writes rows with problems there and brings the others in
",
    values: &["map", "dates", "existing", "empty-yard", "hold-back"],
    flags: &[],
    read: |options| BringIn::read(options).map(What::job),
};

/// The most notes that are said of one file: a firm's whole table makes thousands, and its problems must be seen.
const MOST_NOTES: usize = 40;

struct BringIn {
    file: PathBuf,
    /// Their heading and ours.
    map: Vec<(String, String)>,
    /// Day before month.
    day_first: Option<bool>,
    /// Hives already there are updated.
    update: Option<bool>,
    /// A row that names no yard stands in the yard of the row above.
    yard_above: bool,
    /// Rows with problems are written there and the others come in.
    hold_back: Option<PathBuf>,
}

impl BringIn {
    fn read(options: &mut Options) -> Result<Self, String> {
        Ok(Self {
            file: options.word("import takes a file: lidnote import hives.csv")?.into(),
            map: options.texts("map").iter().map(|text| mapped(text)).collect::<Result<_, _>>()?,
            day_first: options.one_of("dates", &[("dmy", true), ("mdy", false)])?,
            update: options.one_of("existing", &[("skip", false), ("update", true)])?,
            yard_above: options.one_of("empty-yard", &[("above", true), ("held", false)])?.unwrap_or(false),
            hold_back: options.text("hold-back").map(PathBuf::from),
        })
    }
}

fn mapped(text: &str) -> Result<(String, String), String> {
    let parts = text.split_once('=').ok_or_else(|| format!("--map takes \"their heading=ours\", not \"{text}\""))?;
    Ok((parts.0.trim().to_owned(), parts.1.trim().to_owned()))
}

impl Job for BringIn {
    fn answer(&self, common: &Common) -> Result<Output, String> {
        for (_, ours) in &self.map {
            heading(ours)?;
        }
        // The file is read before a register is made for it, so that a bad name leaves nothing behind.
        files::read(&self.file)?;
        let (mut session, new) = Session::open_or_create(common)?;
        let options = ImportOptions {
            mapping: self.map.clone(),
            day_first: self.day_first,
            encoding: None,
            update_existing: self.update,
            yard_above: self.yard_above,
            corrections: Vec::new(),
            map_later: false,
        };
        let imported = read_and_bring_in(&mut session, &self.file, options, self.hold_back.as_deref(), new);
        if imported.as_ref().map_or(true, |output| output.problems && self.hold_back.is_none()) && new {
            // A register made for this import alone, into which nothing came, is no register anyone wants.
            let path = session.register.path().to_owned();
            drop(session);
            let mut lock = path.clone().into_os_string();
            lock.push(".lock");
            let _ = std::fs::remove_file(path);
            let _ = std::fs::remove_file(lock);
        }
        imported
    }
}

fn read_and_bring_in(
    session: &mut Session,
    file: &Path,
    options: ImportOptions,
    hold_back: Option<&Path>,
    new: bool,
) -> Result<Output, String> {
    let world = session.world();
    let mapped = options.mapping.clone();
    let import = Import::read(file.to_owned(), options, &world, session.today, &Nobody)?;
    let preview = import.preview();
    let mut output = Output::default();
    let name = file.display();
    if let Some(question) = &preview.question {
        return Err(format!(
            "{name}: {} can be {} or {}; {} such dates. Say which with --dates dmy or --dates mdy. Nothing was brought in",
            question.example,
            question.day_first.short(),
            question.month_first.short(),
            if question.rows == 1 { "1 row holds".to_owned() } else { format!("{} rows hold", question.rows) }
        ));
    }
    for (theirs, _) in &mapped {
        if !preview.headings.iter().any(|heading| plain(&heading.theirs) == plain(theirs)) {
            output.say(format!("{name}: no column is headed \"{theirs}\", so that --map does nothing"));
        }
    }
    for row in &preview.rows {
        for problem in &row.problems {
            output.say(said(&name.to_string(), row.row, problem));
        }
    }
    for left_out in &preview.left_out {
        output.say(format!("{name}: left out, {left_out}"));
    }
    for unknown in preview.headings.iter().filter(|heading| heading.field.is_none()) {
        let theirs = &unknown.theirs;
        output.say(match field_of(theirs) {
            Some(field) => format!("{name}: column \"{theirs}\" is left out: another is the {} already", field.name()),
            None => format!("{name}: column \"{theirs}\" is not known and left out. Name it with --map \"{theirs}=…\""),
        });
    }
    let held = preview.totals.held_back;
    output.problems = held > 0;
    if held > 0 && hold_back.is_none() {
        output.say(format!(
            "{name}: {} problems, so nothing was brought in. Mend {}{}{}, or give --hold-back FILE to bring the others in",
            if held == 1 { "1 row has".to_owned() } else { format!("{held} rows have") },
            if held == 1 { "it" } else { "them" },
            if there_already(preview) { ", decide with --existing skip or update" } else { "" },
            if names_no_yard(preview) { ", say --empty-yard above" } else { "" },
        ));
        return Ok(output);
    }
    if let Some(path) = hold_back.filter(|_| held > 0) {
        files::write(path, &import.held_back())?;
        output.say(format!("{} held back: {}", counted(held, "row"), path.display()));
    }
    let going_in = preview.rows.iter().filter(|row| row.will != Will::HoldBack);
    let notes: Vec<String> =
        going_in.flat_map(|row| row.notes.iter().map(|note| said(&name.to_string(), row.row, note))).collect();
    for note in notes.iter().take(MOST_NOTES) {
        output.say(note);
    }
    if notes.len() > MOST_NOTES {
        output.say(format!("{name}: {} more such notes. `lidnote due` lists what follows", notes.len() - MOST_NOTES));
    }
    let mut change = import.change(&mut mint);
    if new
        && !preview.tells_home()
        && let Change::Several { changes, .. } = &mut change
    {
        changes.splice(0..0, settled_at(&world, changes));
    }
    match session.apply(&change)? {
        Did::Recorded(title, _) => output.say(format!("Recorded: {title}. {}", counts(preview))),
        Did::Nothing => output.say("Nothing was altered: it is so already"),
    }
    Ok(output)
}

/// A new register learns from the first yards where home is: hemisphere and clock follow from the place.
fn settled_at(world: &World, changes: &[Change]) -> Vec<Change> {
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
    let paper = Change::SetSetting { name: "letter_paper".to_owned(), value: home.is_on_letter_paper().into() };
    vec![Change::SetFirm(Box::new(firm)), offset, paper]
}

fn counts(preview: &Preview) -> String {
    let totals = &preview.totals;
    let more = match totals.more.all() {
        0 => String::new(),
        rows => format!("{} to hives already there ({}), ", counted(rows, "addition"), totals.more.words()),
    };
    format!(
        "{} added in {} ({} new), {more}{} changed, {} the same, {} held back; {} under way",
        counted(totals.hives_added, "hive"),
        counted(totals.yards, "yard"),
        totals.yards_new,
        totals.changed,
        totals.same,
        totals.held_back,
        counted(totals.looks, "introduction")
    )
}

/// `1 hive`, `2 hives`.
fn counted(count: u32, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

/// Rows are held back because their hives are in the register already.
fn there_already(preview: &Preview) -> bool {
    let of_hive = |problem: &Problem| problem.fact.contains("in the register already");
    preview.rows.iter().any(|row| row.problems.iter().any(of_hive))
}

fn names_no_yard(preview: &Preview) -> bool {
    let of_yard = |problem: &Problem| problem.remedy.contains("an empty yard is the one above");
    preview.rows.iter().any(|row| row.problems.iter().any(of_yard))
}

fn said(name: &str, row: u32, problem: &Problem) -> String {
    row_said(name, row, problem.field.map(Field::name), problem)
}

/// A problem of a row: file, row, field, fact and remedy.
pub(super) fn row_said(name: &str, row: u32, field: Option<&str>, problem: &Problem) -> String {
    let field = field.map_or(String::new(), |field| format!(", {field}"));
    let remedy = if problem.remedy.is_empty() { String::new() } else { format!(". {}", problem.remedy) };
    format!("{name}, row {row}{field}: {}{remedy}", problem.fact)
}
