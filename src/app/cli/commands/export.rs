//! `lidnote export`: the register as a table, as points on a map, or whole.

use crate::app::cli::command::{Command, Common, Job, What};
use crate::app::cli::output::Output;
use crate::app::cli::session::{Session, View};
use crate::exchange::points::geojson::yards_geojson;
use crate::exchange::table::export::programme_csv;

/// The command.
pub const EXPORT: Command = Command {
    name: "export",
    help: "  lidnote export                 --format csv|geojson|register\n",
    values: &["format"],
    flags: &[],
    read: |options| Ok(What::job(Export { format: options.text("format") })),
};

struct Export {
    format: Option<String>,
}

impl Job for Export {
    fn answer(&self, common: &Common) -> Result<Output, String> {
        match self.format.as_deref().unwrap_or("csv") {
            "csv" => {
                let mut output = Output::text(programme_csv(&View::read(common)?.world));
                output.say("Not in the table: the history of changes, with undo. --format register holds it too");
                Ok(output)
            }
            "geojson" => Ok(Output::text(yards_geojson(&View::read(common)?.world))),
            "register" => {
                let path = common.output.as_ref().ok_or("A whole register goes to a file. Give --output FILE")?;
                Session::open(common)?.register.back_up_to(path).map_err(|error| error.to_string())?;
                Ok(Output::said(format!("Written: {}", path.display())))
            }
            other => Err(format!("export has no format {other}. Take csv, geojson or register")),
        }
    }
}
