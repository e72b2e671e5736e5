//! `lidnote demo`: the window on a fresh copy of the demo.

use crate::app::cli::command::{Command, What};

/// The command.
pub const DEMO: Command = Command {
    name: "demo",
    help: "  lidnote demo                   opens the window on a fresh copy of the demo\n",
    values: &[],
    flags: &[],
    read: |_| Ok(What::Demo),
};
