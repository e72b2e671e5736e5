//! The file dialog of the desktop, on a thread of its own: the window goes on and long work does not wait for it. One at a
//! time.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, sync_channel};
use std::thread::Builder;
use std::time::{Duration, Instant};

use crate::app::files;
use crate::app::frame::Lidnote;
use crate::ui::action::FilePurpose;
use crate::ui::event::Event;

/// Nobody closes a dialog faster: it never came up. Common practice, no source.
const AT_ONCE: Duration = Duration::from_millis(250);

/// A dialog that is open.
pub(crate) struct Dialog {
    purpose: FilePurpose,
    since: Instant,
    answer: Receiver<(Option<PathBuf>, Instant)>,
}

impl Lidnote {
    /// Lets the user choose a file.
    pub(crate) fn browse(&mut self, purpose: FilePurpose) {
        self.open_dialog(purpose, move || {
            let dialog = rfd::FileDialog::new().set_directory(files::documents());
            match purpose {
                FilePurpose::OpenRegister => dialog.add_filter("Lidnote register", &["lidnote"]).pick_file(),
                FilePurpose::NewRegister | FilePurpose::Save => dialog.save_file(),
                FilePurpose::Import => {
                    dialog.add_filter("Lists and points", &["csv", "txt", "geojson", "json", "gpx"]).pick_file()
                }
                FilePurpose::Pack => dialog.add_filter("Map pack", &["pmtiles"]).pick_file(),
            }
        });
    }

    /// Opens a dialog; `ask` waits until the user has answered it.
    pub(crate) fn open_dialog(&mut self, purpose: FilePurpose, ask: impl FnOnce() -> Option<PathBuf> + Send + 'static) {
        if self.dialog.is_some() {
            self.tell(&Event::Done("A file dialog is open already. Choose a file there, or close it.".to_owned()));
            return;
        }
        let (done, answer) = sync_channel(1);
        let wake = Arc::clone(&self.wake);
        let asking = move || {
            let chosen = catch_unwind(AssertUnwindSafe(ask)).unwrap_or(None);
            // Where nobody waits any more, the window has been closed.
            let _ = done.send((chosen, Instant::now()));
            wake();
        };
        match Builder::new().name("file dialog".to_owned()).spawn(asking) {
            Ok(_) => self.dialog = Some(Dialog { purpose, since: Instant::now(), answer }),
            Err(_) => self.no_dialog(),
        }
    }

    /// Takes what was chosen, once the dialog is closed.
    pub(crate) fn take_chosen(&mut self) {
        let Some(dialog) = &self.dialog else { return };
        let (purpose, since) = (dialog.purpose, dialog.since);
        let (chosen, at) = match dialog.answer.try_recv() {
            Ok(answer) => answer,
            Err(TryRecvError::Empty) => return,
            Err(TryRecvError::Disconnected) => (None, since),
        };
        self.dialog = None;
        match chosen {
            Some(path) => self.tell(&Event::Picked { purpose, path: path.display().to_string() }),
            None if at.duration_since(since) < AT_ONCE => self.no_dialog(),
            None => {}
        }
    }

    fn no_dialog(&mut self) {
        self.tell(&Event::Failed("This desktop opened no file dialog. Type the name of the file instead.".to_owned()));
    }
}
