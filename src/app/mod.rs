//! The glue: state, threads, clock, files, command line. The only layer that knows all the others.

pub mod cli;
pub mod clock;
pub mod demo;
mod dialog;
pub mod files;
pub mod frame;
pub(crate) mod ground;
mod handle;
pub(crate) mod import;
pub mod jobs;
mod not_written;
pub mod outputs;
pub mod packs;
mod planning;
mod prefs;
mod reading;
pub(crate) mod replies;
mod spare;
mod strokes;
#[cfg(test)]
mod tests;
mod unrecorded;
pub mod wake;
pub mod worker;

use std::ffi::OsString;
use std::process::ExitCode;

use crate::app::cli::args::read;
use crate::app::cli::command::What;

/// Answers the command line, or opens the window.
pub fn start(args: impl IntoIterator<Item = OsString>) -> ExitCode {
    let asked = match read(args) {
        Ok(asked) => asked,
        Err(words) => return cli::usage(&words),
    };
    let common = asked.common;
    match asked.what {
        What::Window => frame::open_window(common.register, common.on, false),
        What::Demo => frame::open_window(None, common.on, true),
        What::Job(job) => cli::run(&*job, &common),
    }
}
