//! `lidnote undo` and `lidnote redo`: take the newest change back, or make it again.

use crate::app::cli::command::{Command, Common, Job, What};
use crate::app::cli::output::Output;
use crate::app::cli::session::Session;

const BOTH: &str = "  lidnote undo | redo            takes the newest change back, or makes it again\n";

/// The command that takes back.
pub const UNDO: Command = Command { name: "undo", help: BOTH, values: &[], flags: &[], read: |_| Ok(What::job(Undo)) };

/// The command that makes again.
pub const REDO: Command = Command { name: "redo", help: BOTH, values: &[], flags: &[], read: |_| Ok(What::job(Redo)) };

struct Undo;

impl Job for Undo {
    fn answer(&self, common: &Common) -> Result<Output, String> {
        let mut session = Session::open(common)?;
        let applied = session.register.undo(session.now).map_err(|error| error.to_string())?;
        Ok(Output::said(format!("Taken back: {}", applied.title)))
    }
}

struct Redo;

impl Job for Redo {
    fn answer(&self, common: &Common) -> Result<Output, String> {
        let mut session = Session::open(common)?;
        let applied = session.register.redo(session.now).map_err(|error| error.to_string())?;
        Ok(Output::said(format!("Made again: {}", applied.title)))
    }
}
