//! What the register answers becomes what the screens are told.

use std::sync::Arc;

use crate::app::clock;
use crate::app::frame::Lidnote;
use crate::app::worker::{Opened, Reply, Steps};
use crate::domain::change::Change;
use crate::domain::settings::Firm;
use crate::register::backup::backups;
use crate::register::journal::{Entry, EntryKind};
use crate::ui::event::{Event, NotOpened};
use crate::ui::scene::{BackupInfo, HistoryInfo, HistoryLine, RegisterInfo};

impl Lidnote {
    pub(crate) fn reply(&mut self, reply: Reply) {
        match reply {
            Reply::Opened(opened) => self.opened(*opened, None),
            // The thread stays: it is about to put a backup in the place of the register it could not open.
            Reply::NotOpened(_) if self.restoring => {}
            Reply::NotOpened(error) => {
                self.worker = None;
                self.scene.register = None;
                let what = NotOpened {
                    path: self.opening.as_ref().map(|path| path.display().to_string()).unwrap_or_default(),
                    words: format!("{error}."),
                    backup: error.backup().map(|path| path.display().to_string()),
                    readable: error.is_about_writing(),
                    former: self.former.take(),
                };
                self.tell(&Event::NotOpened(Box::new(what)));
            }
            Reply::StartBackup(Ok(_)) => {}
            Reply::StartBackup(Err(error)) => {
                self.tell(&Event::Failed(format!("No backup was made at this start. {error}.")));
            }
            Reply::Applied { ticket, kind, applied, steps } => {
                self.take_world(applied.world);
                self.saved(steps);
                let title = match kind {
                    EntryKind::Do => applied.title,
                    EntryKind::Undo => format!("Taken back: {}", applied.title),
                    EntryKind::Redo => format!("Made again: {}", applied.title),
                };
                self.tell(&Event::Recorded { title, undoable: kind != EntryKind::Undo });
                if let Some(event) = self.recorded(ticket, applied.entry) {
                    if matches!(event, Event::ImportApplied) {
                        self.import = None;
                    }
                    self.tell(&event);
                }
            }
            Reply::Unchanged(ticket) => {
                self.unchanged(ticket);
                self.tell(&Event::Done("Nothing was altered: it is so already.".to_owned()));
            }
            Reply::Refused { ticket, refusal } => self.refused(ticket, &format!("{refusal}.")),
            Reply::Failed { ticket, error } => {
                if std::mem::take(&mut self.restoring) {
                    self.worker = None;
                }
                self.not_written(ticket, &format!("{error}."));
            }
            Reply::Entries { ticket, entries } => {
                let asked = self.history_asked.take_if(|(asked, _)| *asked == ticket);
                if let Some((_, of)) = asked {
                    let lines = entries.iter().map(line).collect();
                    self.scene.history = Some(HistoryInfo { of, version: self.scene.version, lines });
                }
            }
            Reply::BackedUp { to, .. } => self.tell(&Event::Done(format!("Copied and checked: {}.", to.display()))),
            Reply::Restored { kept, opened, .. } => {
                self.restoring = false;
                self.opened(*opened, None);
                let kept = kept.map_or(String::new(), |kept| format!(" What was there is kept: {}.", kept.display()));
                self.tell(&Event::Done(format!("Restored.{kept}")));
            }
            Reply::Verified { report, .. } => {
                let words = if report.sound { "The register is sound." } else { "The register has faults: see Setup." };
                self.scene.verified = Some(report.lines);
                self.tell(&Event::Done(words.to_owned()));
            }
            Reply::WhichRecorded { ticket, recorded } => self.told_what_is_recorded(ticket, &recorded),
            Reply::Stopped => {
                self.worker = None;
                let words = "The register has stopped by a fault of Lidnote. What was recorded is in its file: start \
                    Lidnote again.";
                self.show_register(|info| info.read_only = Some("Stopped.".to_owned()));
                self.tell(&Event::Failed(words.to_owned()));
                self.none_will_be_answered(words);
            }
        }
    }

    /// Takes a register that was opened; `read_only` says why nothing can be written, if so.
    pub(crate) fn opened(&mut self, opened: Opened, read_only: Option<String>) {
        let path = opened.path.display().to_string();
        let demo = opened.world.firm.demo_day.is_some();
        self.scene.world = Arc::clone(&opened.world);
        self.scene.today = self.on.or(opened.world.firm.demo_day).unwrap_or_else(clock::today);
        self.scene.history = None;
        self.scene.written.clear();
        self.scene.verified = None;
        self.scene.register = Some(RegisterInfo {
            path: path.clone(),
            demo,
            saved_at: String::new(),
            undo: opened.steps.undo.map(|step| step.title),
            redo: opened.steps.redo.map(|step| step.title),
            read_only,
        });
        self.look_anew();
        self.list_backups();
        if !demo && self.worker.is_some() {
            self.prefs.register = Some(path);
            self.save_prefs();
        }
        self.tell(&Event::Opened);
        // What it has to say of a pack that is missing is said after the old messages are gone.
        self.load_maps();
        if let Some(caution) = opened.caution {
            self.tell(&Event::Done(caution));
        }
        self.mind_the_clock();
        self.look_for_kept(&opened.path, opened.newest, demo);
        if let Some(home) = self.home.take() {
            self.settle_at(home);
        }
    }

    /// A new register learns where home is: hemisphere and clock follow from the place.
    fn settle_at(&mut self, home: crate::domain::place::Place) {
        let firm = Firm {
            home: Some(home),
            home_name: "Home".to_owned(),
            hemisphere: home.hemisphere(),
            ..self.scene.world.firm.clone()
        };
        let offset = outputs_offset(home);
        let change = Change::Several {
            title: "A new register begins".to_owned(),
            changes: vec![
                Change::SetFirm(Box::new(firm)),
                Change::SetSetting { name: "utc_offset".to_owned(), value: offset },
                Change::SetSetting { name: "letter_paper".to_owned(), value: home.is_on_letter_paper().into() },
            ],
        };
        self.record(change, None);
    }

    fn saved(&mut self, steps: Steps) {
        let at = clock::time_of_day();
        self.show_register(|info| {
            info.saved_at = at;
            info.undo = steps.undo.map(|step| step.title);
            info.redo = steps.redo.map(|step| step.title);
        });
    }

    pub(crate) fn list_backups(&mut self) {
        let Some(info) = &self.scene.register else { return };
        let list = backups(std::path::Path::new(&info.path));
        let shown = |it: crate::register::backup::Backup| BackupInfo {
            path: it.path.display().to_string(),
            at: clock::local_words(it.at),
            why: it.why,
            bytes: it.bytes,
        };
        self.scene.backups = list.into_iter().map(shown).collect();
    }
}

/// Minutes ahead of UTC by the longitude alone, to the nearest hour: what daylight times are shown in until it is set.
pub(crate) fn outputs_offset(home: crate::domain::place::Place) -> f64 {
    (home.lon() / 15.0).round() * 60.0
}

fn line(entry: &Entry) -> HistoryLine {
    let at = chrono::DateTime::parse_from_rfc3339(&entry.at);
    let at = at.map_or_else(|_| entry.at.clone(), |at| clock::local_words(at.to_utc()));
    let title = match entry.kind {
        EntryKind::Do => entry.title.clone(),
        EntryKind::Undo => format!("Taken back: {}", entry.title),
        EntryKind::Redo => format!("Made again: {}", entry.title),
    };
    HistoryLine { at, title, undone: entry.undone }
}
