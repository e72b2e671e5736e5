//! The commands, each in a file of its own: its options, its lines of the help text, what it does.

mod amend;
mod backup;
mod card;
mod demo;
mod due;
mod end;
mod export;
pub mod help;
mod import;
mod labels;
mod move_hives;
mod parcel;
mod record;
mod run;
mod set;
mod undo;
mod verify;

use crate::app::cli::command::Command;

/// All commands, in the order of the help text.
pub const ALL: &[Command] = &[
    demo::DEMO,
    import::IMPORT,
    record::RECORD,
    due::DUE,
    run::RUN,
    labels::LABELS,
    card::CARD,
    amend::AMEND,
    move_hives::MOVE,
    end::END,
    parcel::PARCEL,
    undo::UNDO,
    undo::REDO,
    set::SET,
    export::EXPORT,
    verify::VERIFY,
    backup::BACKUP,
    help::HELP,
];

/// The command of a name.
///
/// # Errors
/// In words: there is none.
pub fn named(name: &str) -> Result<&'static Command, String> {
    let found = ALL.iter().find(|command| command.name == name);
    found.ok_or_else(|| format!("No command is called {name}. `lidnote help` lists them"))
}
