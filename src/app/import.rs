//! A file that is being brought in: what was read of it, for the screen, and the change it becomes.

use std::path::{Path, PathBuf};
use std::time::Instant;

use uuid::Uuid;

use crate::app::files;
use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::world::World;
use crate::exchange::any::{Kind, kind_of, read_watched};
use crate::exchange::dates::DateOrder;
use crate::exchange::table::changes::changes;
use crate::exchange::table::headings::{Field, field_named};
use crate::exchange::table::held_back::held_back_csv;
use crate::exchange::table::letters::Letters;
use crate::exchange::table::preview::{Existing, Options, Preview, PreviewRow, Problem, Will};
use crate::exchange::watch::Watch;
use crate::ui::action::ImportOptions;
use crate::ui::import_model::{ImportColumn, ImportModel, ImportProblem, ImportRow, ImportWill};

/// A file that was read.
pub struct Import {
    path: PathBuf,
    kind: &'static str,
    preview: Preview,
    read_ms: u64,
}

impl Import {
    /// Reads a file, until it is stopped.
    ///
    /// # Errors
    /// In words: the file, the row where there is one, and the way out.
    pub fn read(
        path: PathBuf,
        options: ImportOptions,
        world: &World,
        today: Day,
        watch: &dyn Watch,
    ) -> Result<Self, String> {
        let begun = Instant::now();
        let options = options_of(options)?;
        let bytes = files::read_while(&path, &|| !watch.stopped())?;
        let preview = read_watched(&bytes, &options, world, today, watch);
        let preview = preview.map_err(|error| format!("{}: {error}", file_name(&path)))?;
        let kind = kind_words(kind_of(&bytes), &preview);
        Ok(Self { path, kind, preview, read_ms: begun.elapsed().as_millis() as u64 })
    }

    /// The file.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// What was read.
    pub fn preview(&self) -> &Preview {
        &self.preview
    }

    /// The change it becomes.
    pub fn change(&self, mint: &mut dyn FnMut() -> Uuid) -> Change {
        changes(&self.preview, mint, &title(&self.path))
    }

    /// The rows held back, as CSV.
    pub fn held_back(&self) -> Vec<u8> {
        held_back_csv(&self.preview).unwrap_or_default().into_bytes()
    }

    /// What the screen shows.
    pub fn model(&self) -> ImportModel {
        let preview = &self.preview;
        let columns = preview.headings.iter().map(|heading| ImportColumn {
            theirs: heading.theirs.clone(),
            ours: heading.field.map(|field| field.name().to_owned()),
        });
        // A whole sentence stands as it is, things left out are introduced.
        let remark = |it: &String| if it.ends_with('.') { it.clone() } else { format!("Left out: {it}.") };
        let mut remarks: Vec<String> = preview.left_out.iter().map(remark).collect();
        if let Some(question) = &preview.question {
            remarks.push(format!(
                "{} can be {} or {}: {} rows hold such dates",
                question.example,
                question.day_first.short(),
                question.month_first.short(),
                question.rows
            ));
        }
        ImportModel {
            path: self.path.display().to_string(),
            name: file_name(&self.path),
            encoding: preview.letters.words().to_owned(),
            kind: self.kind.to_owned(),
            columns: columns.collect(),
            rows: preview.rows.iter().map(|row| self.row(row)).collect(),
            dates_ambiguous: preview.question.is_some(),
            day_first: preview.dates != Some(DateOrder::MonthDay),
            totals: totals(preview),
            ready: preview.bring_in(),
            held_back: preview.totals.held_back,
            remarks,
            known_headings: Field::ALL
                .iter()
                .filter(|field| field.is_by_hand())
                .map(|field| field.name().to_owned())
                .collect(),
            read_ms: self.read_ms,
        }
    }

    fn row(&self, row: &PreviewRow) -> ImportRow {
        let problem = |problem: &Problem, holds_back: bool| ImportProblem {
            column: problem
                .field
                .and_then(|field| self.preview.headings.iter().position(|heading| heading.field == Some(field))),
            fact: problem.fact.clone(),
            remedy: problem.remedy.clone(),
            holds_back,
        };
        let held = row.problems.iter().map(|it| problem(it, true));
        ImportRow {
            number: row.row as usize,
            will: match row.will {
                Will::Add => ImportWill::Add,
                Will::Change => ImportWill::Change,
                Will::Same => ImportWill::Same,
                Will::HoldBack => ImportWill::HoldBack,
            },
            cells: row.cells.clone(),
            problems: held.chain(row.notes.iter().map(|it| problem(it, false))).collect(),
            says: row.says.clone(),
        }
    }
}

fn kind_words(kind: Kind, preview: &Preview) -> &'static str {
    match (kind, preview.delimiter) {
        (Kind::Gpx, _) => "GPX",
        (Kind::GeoJson, _) => "GeoJSON",
        (Kind::Csv, Some(';')) => "semicolon",
        (Kind::Csv, Some('\t')) => "tab",
        (Kind::Csv, _) => "comma",
    }
}

/// What the history calls it.
pub fn title(path: &Path) -> String {
    format!("Import of {}", file_name(path))
}

fn file_name(path: &Path) -> String {
    path.file_name().map_or_else(|| path.display().to_string(), |name| name.to_string_lossy().into_owned())
}

fn options_of(options: ImportOptions) -> Result<Options, String> {
    let mut read = Options {
        dates: options.day_first.map(|first| if first { DateOrder::DayMonth } else { DateOrder::MonthDay }),
        letters: match options.encoding.as_deref() {
            Some("utf-8") => Some(Letters::Utf8),
            Some("windows-1252") => Some(Letters::Cp1252),
            _ => None,
        },
        existing: match options.update_existing {
            None => Existing::Ask,
            Some(false) => Existing::Skip,
            Some(true) => Existing::Update,
        },
        map_later: options.map_later,
        yard_above: options.yard_above,
        ..Options::default()
    };
    for (theirs, ours) in options.mapping {
        read.mapping.insert(theirs, heading(&ours)?);
    }
    for (row, ours, text) in options.corrections {
        if let Some(field) = heading(&ours)? {
            read.corrections.insert((row as u32, field), text);
        }
    }
    Ok(read)
}

/// One of our headings by its name; an empty one leaves the column out.
///
/// # Errors
/// In words, with the headings there are.
pub fn heading(name: &str) -> Result<Option<Field>, String> {
    if name.trim().is_empty() {
        return Ok(None);
    }
    field_named(name).map(Some).ok_or_else(|| {
        let by_hand = Field::ALL.iter().filter(|field| field.is_by_hand());
        let all: Vec<&str> = by_hand.map(|field| field.name()).collect();
        format!("No heading of ours is called {name}. Take one of: {}", all.join(", "))
    })
}

fn counted(number: u32, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

fn totals(preview: &Preview) -> Vec<(u32, String, String)> {
    let totals = &preview.totals;
    let said = |count: u32, one: &str, many: &str| if count == 1 { one } else { many }.to_owned();
    let mut words = vec![(
        totals.hives_added,
        said(totals.hives_added, "hive is added", "hives are added"),
        format!(
            "in {}, {} new; {}",
            counted(totals.yards, "yard", "yards"),
            totals.yards_new,
            counted(totals.looks, "look follows", "looks follow")
        ),
    )];
    let more = totals.more.all();
    if more > 0 {
        let added = said(more, "row adds to what is there", "rows add to what is there");
        words.push((more, added, totals.more.words()));
    }
    let changed = said(totals.changed, "row changes something", "rows change something");
    words.push((totals.changed, changed, "in the register".to_owned()));
    words.push((totals.same, said(totals.same, "stays the same", "stay the same"), "no history is made".to_owned()));
    let held = said(totals.held_back, "row is held back", "rows are held back");
    words.push((totals.held_back, held, "to be written to held-back.csv".to_owned()));
    words
}
