//! `lidnote labels`: prints lid labels.

use std::path::Path;

use crate::app::cli::command::{Command, Common, Job, What};
use crate::app::cli::find;
use crate::app::cli::options::Options;
use crate::app::cli::output::Output;
use crate::app::cli::session::{Session, View};
use crate::app::{files, outputs};
use crate::domain::change::Change;
use crate::domain::ids::ColonyId;
use crate::print::of_world::labels::{text, yards_of_repeated_names};
use crate::print::sheet::Sheet;

/// The command.
pub const LABELS: Command = Command {
    name: "labels",
    help: "  lidnote labels [HIVE ...]      labels that wait, or of these hives, as PDF
      --text                     as plain text (or --format pdf|text)
      --sheet NAME|FILE          a sheet by name, or a file of measures; --start N the first label to use
      --calibration              the page with the ruler; --printed notes the labels as printed
",
    values: &["format", "sheet", "start", "hive", "yard"],
    flags: &["text", "calibration", "printed"],
    read: |options| Labels::read(options).map(What::job),
};

struct Labels {
    /// `HIVE` or `YARD/HIVE`; none: those that wait.
    hives: Vec<String>,
    /// As plain text.
    text: bool,
    /// A sheet's name or a file of measures.
    sheet: Option<String>,
    /// The first label of the sheet to use, from 1.
    start: usize,
    calibration: bool,
    printed: bool,
}

impl Labels {
    fn read(options: &mut Options) -> Result<Self, String> {
        Ok(Self {
            hives: if options.names_hives() { options.hives("")? } else { Vec::new() },
            text: options.one_of("format", &[("pdf", false), ("text", true)])?.unwrap_or(false) | options.flag("text"),
            sheet: options.text("sheet"),
            start: options.number("start")?.unwrap_or(1),
            calibration: options.flag("calibration"),
            printed: options.flag("printed"),
        })
    }
}

impl Job for Labels {
    fn answer(&self, common: &Common) -> Result<Output, String> {
        let sheet = sheet_named(self.sheet.as_deref())?;
        let View { world, outlook, today, .. } = View::read(common)?;
        if self.calibration {
            return Ok(Output::pdf(outputs::calibration_as_pdf(&sheet, today)?));
        }
        let colonies: Vec<ColonyId> = if self.hives.is_empty() {
            outlook.label_queue.clone()
        } else {
            self.hives.iter().map(|hive| find::hive(&world, hive)).collect::<Result<_, _>>()?
        };
        let views = || colonies.iter().filter_map(|colony| Some((colony, outlook.colonies.get(colony)?)));
        let mut output = if self.text {
            let yards = yards_of_repeated_names(&world);
            let texts = views().map(|(colony, view)| text(&view.note, yards.get(colony).copied()));
            Output::text(texts.collect::<Vec<_>>().join("\n"))
        } else if colonies.is_empty() {
            return Err("No label waits. Name hives to print theirs all the same".to_owned());
        } else {
            Output::pdf(outputs::labels_as_pdf(&world, &outlook, &colonies, sheet, self.start, today)?)
        };
        let shortened = views().filter(|(_, view)| view.note.shortened);
        let shortened: Vec<&str> = shortened.filter_map(|(id, _)| Some(world.colonies.get(id)?.name())).collect();
        if !shortened.is_empty() {
            output.say(format!("Names shortened to fit the line: {}", shortened.join(", ")));
        }
        if self.printed {
            let change = Change::LabelsPrinted { colonies, day: today };
            Session::open(common)?.apply(&change)?;
        }
        Ok(output)
    }
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
