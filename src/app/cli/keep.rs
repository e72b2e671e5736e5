//! Commands that keep: undo, redo, export, verify, backup.

use crate::app::cli::Output;
use crate::app::cli::args::Asked;
use crate::app::cli::session::{Session, View};
use crate::app::files;
use crate::exchange::points::geojson::yards_geojson;
use crate::exchange::table::export::programme_csv;

/// `undo`.
pub fn step_back(asked: &Asked) -> Result<Output, String> {
    let mut session = Session::open(asked)?;
    let applied = session.register.undo(session.now).map_err(|error| error.to_string())?;
    Ok(Output::said(format!("Taken back: {}", applied.title)))
}

/// `redo`.
pub fn step_forward(asked: &Asked) -> Result<Output, String> {
    let mut session = Session::open(asked)?;
    let applied = session.register.redo(session.now).map_err(|error| error.to_string())?;
    Ok(Output::said(format!("Made again: {}", applied.title)))
}

/// `export`.
pub fn export(asked: &Asked) -> Result<Output, String> {
    match asked.format.as_deref().unwrap_or("csv") {
        "csv" => {
            let mut output = Output::text(programme_csv(&View::read(asked)?.world));
            output.say("Not in the table: the history of changes, with undo. --format register holds it too");
            Ok(output)
        }
        "geojson" => Ok(Output::text(yards_geojson(&View::read(asked)?.world))),
        "register" => {
            let path = asked.output.as_ref().ok_or("A whole register goes to a file. Give --output FILE")?;
            Session::open(asked)?.register.back_up_to(path).map_err(|error| error.to_string())?;
            Ok(Output::said(format!("Written: {}", path.display())))
        }
        other => Err(format!("export has no format {other}. Take csv, geojson or register")),
    }
}

/// `verify`.
pub fn verify(asked: &Asked) -> Result<Output, String> {
    let session = Session::open(asked)?;
    let report = session.register.verify().map_err(|error| error.to_string())?;
    let mut output = Output::text(report.lines.join("\n") + "\n");
    output.problems = !report.sound;
    Ok(output)
}

/// `backup`.
pub fn backup(asked: &Asked) -> Result<Output, String> {
    let session = Session::open(asked)?;
    let path = asked.output.clone().unwrap_or_else(|| {
        let stem = session.register.path().file_stem().map(|stem| stem.to_string_lossy().into_owned());
        let name = format!("{} {}.lidnote", stem.unwrap_or_default(), session.now.format("%Y-%m-%d %H%M%S"));
        files::free(&session.register.path().with_file_name(name))
    });
    session.register.back_up_to(&path).map_err(|error| error.to_string())?;
    Ok(Output::said(format!("Copied and checked: {}", path.display())))
}
