//! `lidnote due`: lists due looks and steps.

use crate::app::cli::command::{Command, Common, Job, What};
use crate::app::cli::output::Output;
use crate::app::cli::session::View;
use crate::app::outputs;

/// The command.
pub const DUE: Command = Command {
    name: "due",
    help: "  lidnote due                    due looks and steps (--format csv|ics)\n",
    values: &["format"],
    flags: &[],
    read: |options| {
        let format =
            options.one_of("format", &[("csv", Format::Csv), ("ics", Format::Ics), ("icalendar", Format::Ics)])?;
        Ok(What::job(Due { format: format.unwrap_or(Format::Csv) }))
    },
};

#[derive(Clone, Copy)]
enum Format {
    Csv,
    Ics,
}

struct Due {
    format: Format,
}

impl Job for Due {
    fn answer(&self, common: &Common) -> Result<Output, String> {
        let View { world, outlook, today, now, .. } = View::read(common)?;
        Ok(Output::text(match self.format {
            Format::Csv => outputs::due_as_csv(&world, &outlook, today),
            Format::Ics => outputs::due_as_ics(&world, &outlook, today, now),
        }))
    }
}
