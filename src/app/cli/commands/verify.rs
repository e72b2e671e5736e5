//! `lidnote verify`: checks the register through.

use crate::app::cli::command::{Command, Common, Job, What};
use crate::app::cli::output::Output;
use crate::app::cli::session::Session;

/// The command.
pub const VERIFY: Command = Command {
    name: "verify",
    help: "  lidnote verify                 checks the register through\n",
    values: &[],
    flags: &[],
    read: |_| Ok(What::job(Verify)),
};

struct Verify;

impl Job for Verify {
    fn answer(&self, common: &Common) -> Result<Output, String> {
        let session = Session::open(common)?;
        let report = session.register.verify().map_err(|error| error.to_string())?;
        let mut output = Output::text(report.lines.join("\n") + "\n");
        output.problems = !report.sound;
        Ok(output)
    }
}
