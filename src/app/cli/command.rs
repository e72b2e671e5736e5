//! What a command of the command line is made of.

use std::path::PathBuf;

use crate::app::cli::options::Options;
use crate::app::cli::output::Output;
use crate::domain::day::Day;

/// One command: its name, what the help says of it, its own options, how its words are read.
pub struct Command {
    /// The word it is called by.
    pub name: &'static str,
    /// Its lines of the help text, each with its line feed.
    pub help: &'static str,
    /// Those of its options that take a value, beside the [`COMMON`] ones.
    pub values: &'static [&'static str],
    /// Those of its options that take none.
    pub flags: &'static [&'static str],
    /// Takes its words and options out of those given. What it leaves there is refused.
    pub read: fn(&mut Options) -> Result<What, String>,
}

/// What is asked for.
pub enum What {
    /// The window, on the register last open.
    Window,
    /// The window, on a fresh copy of the demo.
    Demo,
    /// An answer without a window.
    Job(Box<dyn Job>),
}

impl What {
    /// A command's words, read.
    pub fn job(job: impl Job + 'static) -> Self {
        Self::Job(Box::new(job))
    }
}

/// A command whose words are read: all that is left is to do it.
pub trait Job {
    /// Does it.
    ///
    /// # Errors
    /// In words: the file, row and field where there is one, and the way out.
    fn answer(&self, common: &Common) -> Result<Output, String>;
}

/// The options with a value that every command takes.
pub const COMMON: &[&str] = &["register", "on", "output", "by"];

/// What they say.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Common {
    /// `--register FILE`.
    pub register: Option<PathBuf>,
    /// `--on DATE`: the day that counts as today.
    pub on: Option<Day>,
    /// `--output FILE`; nothing: standard output.
    pub output: Option<PathBuf>,
    /// `--by INITIALS`.
    pub by: String,
}
