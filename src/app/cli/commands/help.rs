//! `lidnote help`: the help text, of all commands or of one; and the version.

use crate::app::cli::command::{Command, Common, Job, What};
use crate::app::cli::commands;
use crate::app::cli::output::Output;

/// The command.
pub const HELP: Command = Command { name: "help", help: "", values: &[], flags: &[], read: |_| Ok(What::job(Help)) };

const BEFORE: &str = "\
Lidnote: queens, due looks and yard runs.

  lidnote                        opens the window on the register last open
";

const AFTER: &str = "
With every command: --register FILE, --on DATE (2026-11-24: the day that counts as today), --output FILE, --by INITIALS.
Exit status: 0 done, 1 refused or problems, 2 not understood.
";

struct Help;

impl Job for Help {
    fn answer(&self, _: &Common) -> Result<Output, String> {
        let mut parts: Vec<&str> = commands::ALL.iter().map(|command| command.help).collect();
        // Commands that share a line stand beside each other.
        parts.dedup();
        Ok(Output::text([BEFORE, &parts.concat(), AFTER].concat()))
    }
}

/// `--version`.
pub struct Version;

impl Job for Version {
    fn answer(&self, _: &Common) -> Result<Output, String> {
        Ok(Output::text(concat!("lidnote ", env!("CARGO_PKG_VERSION"), "\n")))
    }
}
