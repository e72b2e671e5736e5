//! Starts Lidnote: reads the command line, then answers it or opens the window.

use std::process::ExitCode;

use lidnote::app;

fn main() -> ExitCode {
    app::start(std::env::args_os().skip(1))
}
