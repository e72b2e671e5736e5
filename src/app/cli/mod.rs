//! Lidnote without a window: the same code paths, results on standard output, messages on standard error.
//!
//! Exit status: 0 done, 1 refused or problems, 2 the words were not understood.

mod alter;
pub mod args;
mod bring_in;
mod find;
mod help;
mod keep;
mod parcel;
mod session;
mod show;

pub use session::mint;

use std::io::Write as _;
use std::process::ExitCode;

use crate::app::cli::args::{Asked, Command};
use crate::app::files;

/// What a command yields.
#[derive(Default)]
struct Output {
    /// For standard output or the file of `--output`.
    bytes: Vec<u8>,
    /// Not fit for a terminal.
    binary: bool,
    /// For standard error, a line each.
    messages: Vec<String>,
    /// Done, but with problems: exit status 1.
    problems: bool,
}

impl Output {
    fn text(text: impl Into<String>) -> Self {
        Self { bytes: text.into().into_bytes(), ..Self::default() }
    }

    fn said(message: impl Into<String>) -> Self {
        Self { messages: vec![message.into()], ..Self::default() }
    }

    fn say(&mut self, message: impl Into<String>) {
        self.messages.push(message.into());
    }
}

/// Runs a command other than the window's.
pub fn run(asked: &Asked) -> ExitCode {
    match answer(asked) {
        Ok(output) => deliver(asked, &output),
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

fn answer(asked: &Asked) -> Result<Output, String> {
    match &asked.command {
        Command::Import { .. } => bring_in::import(asked),
        Command::Record { file } => bring_in::record(asked, file),
        Command::Due => show::due(asked),
        Command::Run { .. } => show::run(asked),
        Command::Labels { .. } => show::labels(asked),
        Command::Card { .. } => show::card(asked),
        Command::Amend { .. } => alter::amend(asked),
        Command::Move { .. } => alter::move_to(asked),
        Command::End { .. } => alter::end(asked),
        Command::Parcel(parcel) => parcel::parcel(asked, parcel),
        Command::Undo => keep::step_back(asked),
        Command::Redo => keep::step_forward(asked),
        Command::Set { what } => alter::set(asked, what),
        Command::Export => keep::export(asked),
        Command::Verify => keep::verify(asked),
        Command::Backup => keep::backup(asked),
        Command::Help | Command::Window | Command::Demo => Ok(Output::text(help::TEXT)),
        Command::Version => Ok(Output::text(concat!("lidnote ", env!("CARGO_PKG_VERSION"), "\n"))),
    }
}

fn deliver(asked: &Asked, output: &Output) -> ExitCode {
    for message in &output.messages {
        complain(message);
    }
    let written = match &asked.output {
        Some(path) if !output.bytes.is_empty() => files::write(path, &output.bytes),
        _ => print(output),
    };
    match written {
        Ok(()) => ExitCode::from(u8::from(output.problems)),
        Err(words) => {
            complain(&words);
            ExitCode::from(1)
        }
    }
}

fn print(output: &Output) -> Result<(), String> {
    use std::io::IsTerminal as _;
    let mut out = std::io::stdout().lock();
    if output.binary && out.is_terminal() {
        return Err("This is a PDF, not for a terminal. Give --output FILE".to_owned());
    }
    match out.write_all(&output.bytes).and_then(|()| out.flush()) {
        // A reader that has seen enough (`| head`) is no fault.
        Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => Err(format!("Standard output: {error}")),
        _ => Ok(()),
    }
}

fn complain(words: &str) {
    let end = if words.ends_with(['.', ':']) { "" } else { "." };
    // Standard error that is closed leaves nobody to tell.
    let _ = writeln!(std::io::stderr(), "{words}{end}");
}
