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
    read: |options| Ok(What::job(Due { format: options.text("format") })),
};

struct Due {
    format: Option<String>,
}

impl Job for Due {
    fn answer(&self, common: &Common) -> Result<Output, String> {
        let View { world, outlook, today, now, .. } = View::read(common)?;
        match self.format.as_deref().unwrap_or("csv") {
            "csv" => Ok(Output::text(outputs::due_as_csv(&world, &outlook, today))),
            "ics" | "icalendar" => Ok(Output::text(outputs::due_as_ics(&world, &outlook, today, now))),
            other => Err(format!("due has no format {other}. Take csv or ics")),
        }
    }
}
