//! `lidnote backup`: makes a checked copy of the register.

use crate::app::cli::command::{Command, Common, Job, What};
use crate::app::cli::output::Output;
use crate::app::cli::session::Session;
use crate::app::files;

/// The command.
pub const BACKUP: Command = Command {
    name: "backup",
    help: "  lidnote backup                 makes a checked copy (--output FILE)\n",
    values: &[],
    flags: &[],
    read: |_| Ok(What::job(Backup)),
};

struct Backup;

impl Job for Backup {
    fn answer(&self, common: &Common) -> Result<Output, String> {
        let session = Session::open(common)?;
        let path = common.output.clone().unwrap_or_else(|| {
            let stem = session.register.path().file_stem().map(|stem| stem.to_string_lossy().into_owned());
            let name = format!("{} {}.lidnote", stem.unwrap_or_default(), session.now.format("%Y-%m-%d %H%M%S"));
            files::free(&session.register.path().with_file_name(name))
        });
        session.register.back_up_to(&path).map_err(|error| error.to_string())?;
        Ok(Output::said(format!("Copied and checked: {}", path.display())))
    }
}
