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
    read: |options| {
        let formats = [("csv", Format::Csv), ("geojson", Format::GeoJson), ("register", Format::Register)];
        Ok(What::job(Export { format: options.one_of("format", &formats)?.unwrap_or(Format::Csv) }))
    },
};

#[derive(Clone, Copy)]
enum Format {
    Csv,
    GeoJson,
    Register,
}

struct Export {
    format: Format,
}

impl Job for Export {
    fn answer(&self, common: &Common) -> Result<Output, String> {
        match self.format {
            Format::Csv => {
                let mut output = Output::text(programme_csv(&View::read(common)?.world));
                output.say("Not in the table: the history of changes, with undo. --format register holds it too");
                Ok(output)
            }
            Format::GeoJson => Ok(Output::text(yards_geojson(&View::read(common)?.world))),
            Format::Register => {
                let path = common.output.as_ref().ok_or("A whole register goes to a file. Give --output FILE")?;
                Session::open(common)?.register.back_up_to(path).map_err(|error| error.to_string())?;
                Ok(Output::said(format!("Written: {}", path.display())))
            }
        }
    }
}
