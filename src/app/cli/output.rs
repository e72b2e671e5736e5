//! What a command yields, and where that goes: results to standard output or a file, messages to standard error.

use std::io::Write as _;
use std::path::Path;
use std::process::ExitCode;

use crate::app::files;
use crate::print::job::Printed;
use crate::print::remarks::remarks;

/// What a command yields.
#[derive(Default)]
pub struct Output {
    /// For standard output or the file of `--output`.
    pub bytes: Vec<u8>,
    /// Not fit for a terminal.
    pub binary: bool,
    /// For standard error, a line each.
    pub messages: Vec<String>,
    /// Done, but with problems: exit status 1.
    pub problems: bool,
}

impl Output {
    /// A result in words.
    pub fn text(text: impl Into<String>) -> Self {
        Self { bytes: text.into().into_bytes(), ..Self::default() }
    }

    /// No result, one message.
    pub fn said(message: impl Into<String>) -> Self {
        Self { messages: vec![message.into()], ..Self::default() }
    }

    /// Printed pages.
    pub fn pdf(printed: Printed) -> Self {
        let messages = remarks(&printed.warnings).iter().map(|remark| format!("{remark}.")).collect();
        Self { bytes: printed.bytes, binary: true, messages, problems: false }
    }

    /// One message more.
    pub fn say(&mut self, message: impl Into<String>) {
        self.messages.push(message.into());
    }

    /// Writes it where it belongs.
    pub fn deliver(&self, to: Option<&Path>) -> ExitCode {
        for message in &self.messages {
            complain(message);
        }
        let written = match to {
            Some(path) if !self.bytes.is_empty() => files::write(path, &self.bytes),
            _ => self.print(),
        };
        match written {
            Ok(()) => ExitCode::from(u8::from(self.problems)),
            Err(words) => {
                complain(&words);
                ExitCode::from(1)
            }
        }
    }

    fn print(&self) -> Result<(), String> {
        use std::io::IsTerminal as _;
        let mut out = std::io::stdout().lock();
        if self.binary && out.is_terminal() {
            return Err("This is a PDF, not for a terminal. Give --output FILE".to_owned());
        }
        match out.write_all(&self.bytes).and_then(|()| out.flush()) {
            // A reader that has seen enough (`| head`) is no fault.
            Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => {
                Err(format!("Standard output cannot be written: {error}. Give --output FILE, on a disk with room"))
            }
            _ => Ok(()),
        }
    }
}

/// Writes a message to standard error.
pub fn complain(words: &str) {
    let end = if words.ends_with(['.', ':']) { "" } else { "." };
    // Standard error that is closed leaves nobody to tell.
    let _ = writeln!(std::io::stderr(), "{words}{end}");
}
