//! Lidnote without a window: the same code paths, results on standard output, messages on standard error.
//!
//! Exit status: 0 done, 1 refused or problems, 2 the words were not understood.
//!
//! Each command is one file of `commands`: its options, its help and what it does.

pub mod args;
pub mod command;
mod commands;
mod find;
mod options;
mod output;
mod session;

pub use session::mint;

use std::process::ExitCode;

use crate::app::cli::command::{Common, Job};
use crate::app::cli::output::complain;

/// Answers a command other than the window's.
pub fn run(job: &dyn Job, common: &Common) -> ExitCode {
    match job.answer(common) {
        Ok(output) => output.deliver(common.output.as_deref()),
        Err(words) => {
            complain(&words);
            ExitCode::from(1)
        }
    }
}

/// Says what was not understood.
pub fn usage(words: &str) -> ExitCode {
    complain(words);
    ExitCode::from(2)
}
