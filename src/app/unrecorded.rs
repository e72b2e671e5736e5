//! Changes on their way to the register, and those it could not write. Nothing typed is lost: what could not be written
//! is kept and shown until it is recorded or left, also when the window is to be closed.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use uuid::Uuid;

use crate::app::cli::mint;
use crate::app::clock;
use crate::app::frame::Lidnote;
use crate::app::not_written::{NotWritten, Shelf};
use crate::app::spare;
use crate::app::worker::{Request, Ticket};
use crate::domain::change::{Change, Occasion};
use crate::domain::decide::title;
use crate::ui::event::Event;
use crate::ui::scene::NotRecorded;

/// A change that is kept until it is recorded.
struct Kept {
    name: Uuid,
    change: Change,
    title: String,
    /// The register it was made for, and its newest entry then.
    register: Option<Open>,
    /// It lies on the disk too, and outlives the program.
    lasts: bool,
}

/// A change that was handed to the register and is not answered yet.
pub(crate) struct Sent {
    ticket: Ticket,
    /// Nothing where the screen it was made in keeps it.
    kept: Option<Kept>,
    /// What is told when it is recorded.
    then: Option<Event>,
    /// It could not be written before: a refusal keeps it too.
    again: bool,
}

/// A change that could not be written.
struct Unrecorded {
    kept: Kept,
    why: String,
}

/// The register that is open, as changes remember it.
#[derive(Clone)]
struct Open {
    path: PathBuf,
    /// The newest entry of its history.
    newest: i64,
    /// The demo is made anew each time: nothing of it is kept on the disk.
    demo: bool,
}

/// The question which kept changes the register holds after all.
struct Asked {
    ticket: Ticket,
    names: Vec<Uuid>,
    /// Those found on the disk.
    found: Vec<Unrecorded>,
    /// What is left of them is to be tried at once.
    try_again: bool,
}

/// What the program keeps of changes until they are recorded.
#[derive(Default)]
pub(crate) struct Keeping {
    sent: Vec<Sent>,
    unrecorded: Vec<Unrecorded>,
    open: Option<Open>,
    asked: Option<Asked>,
    /// The window was to be closed while a change was being written.
    closing: bool,
    /// It is to be closed whatever is not recorded.
    quit: bool,
}

impl Lidnote {
    /// Hands a change to the register; `then` is told when it is recorded.
    pub(crate) fn send_change(&mut self, change: Change, then: Option<Event>) {
        // An import is large: it is not copied in vain.
        let kept = (!is_kept_by_its_screen(&change, then.as_ref())).then(|| Kept {
            name: mint(),
            title: title(&self.scene.world, &change),
            change: change.clone(),
            register: self.keeping.open.clone(),
            lasts: false,
        });
        self.hand_over(change, kept, then, false);
    }

    fn hand_over(&mut self, change: Change, kept: Option<Kept>, then: Option<Event>, again: bool) {
        let ticket = self.ticket();
        let request = Request::Apply { ticket, change: Box::new(change), today: self.scene.today };
        self.keeping.sent.push(Sent { ticket, kept, then, again });
        if let Err(words) = self.try_send(request) {
            self.not_written(ticket, &words);
        }
    }

    /// A change is recorded as that entry: what was kept and is older than it is over. What is to be told of it, if
    /// anything.
    pub(crate) fn recorded(&mut self, ticket: Ticket, entry: i64) -> Option<Event> {
        if let Some(open) = &mut self.keeping.open {
            open.newest = entry;
        }
        let sent = self.answered(ticket)?;
        if let Some(kept) = &sent.kept {
            self.let_go(kept.name, kept.lasts);
            self.end_older_than(kept);
        }
        sent.then
    }

    /// The register holds it already.
    pub(crate) fn unchanged(&mut self, ticket: Ticket) {
        if let Some(Sent { kept: Some(kept), .. }) = self.answered(ticket) {
            self.let_go(kept.name, kept.lasts);
        }
    }

    fn answered(&mut self, ticket: Ticket) -> Option<Sent> {
        let at = self.keeping.sent.iter().position(|sent| sent.ticket == ticket)?;
        Some(self.keeping.sent.remove(at))
    }

    /// The domain refuses the change. One that was kept before is kept on: its words stand nowhere else.
    pub(crate) fn refused(&mut self, ticket: Ticket, why: &str) {
        match self.answered(ticket) {
            Some(Sent { again: true, kept: Some(kept), .. }) => self.keep(kept, why),
            _ => self.tell(&Event::Refused(why.to_owned())),
        }
    }

    /// The request could not be carried out. A change is kept.
    pub(crate) fn not_written(&mut self, ticket: Ticket, why: &str) {
        // What could not be asked about is offered.
        self.told_what_is_recorded(ticket, &[]);
        match self.answered(ticket) {
            Some(Sent { kept: Some(kept), .. }) => self.keep(kept, why),
            _ => self.tell(&Event::NotWritten(why.to_owned())),
        }
    }

    /// The register's thread has ended: nothing that waits will be answered.
    pub(crate) fn none_will_be_answered(&mut self, why: &str) {
        self.keeping.asked = None;
        let tickets: Vec<Ticket> = self.keeping.sent.iter().map(|sent| sent.ticket).collect();
        for ticket in tickets {
            self.not_written(ticket, why);
        }
    }

    fn keep(&mut self, mut kept: Kept, why: &str) {
        if let Some(register) = kept.register.as_ref().filter(|register| !kept.lasts && !register.demo) {
            let written = NotWritten {
                register: register.path.clone(),
                after: register.newest,
                title: kept.title.clone(),
                at: clock::local_words(clock::now()),
                change: kept.change.clone(),
            };
            // Where this disk takes nothing either, the question at closing says so.
            kept.lasts = self.shelf().put(kept.name, &written).is_ok();
        }
        self.end_older_than(&kept);
        self.keeping.unrecorded.push(Unrecorded { kept, why: why.to_owned() });
        self.show_unrecorded();
    }

    /// What a newer change of the same thing puts anew is over.
    fn end_older_than(&mut self, newer: &Kept) {
        let all = std::mem::take(&mut self.keeping.unrecorded);
        let of = |kept: &Kept| kept.register.as_ref().map(|register| register.path.clone());
        let (over, rest): (Vec<_>, Vec<_>) =
            all.into_iter().partition(|it| of(&it.kept) == of(newer) && supersedes(&newer.change, &it.kept.change));
        self.keeping.unrecorded = rest;
        for it in &over {
            self.let_go(it.kept.name, it.kept.lasts);
        }
        if !over.is_empty() {
            self.show_unrecorded();
        }
    }

    fn let_go(&self, name: Uuid, lasts: bool) {
        if lasts {
            self.shelf().remove(name);
        }
    }

    fn shelf(&self) -> Shelf {
        Shelf::beside(&self.prefs_path)
    }

    fn show_unrecorded(&mut self) {
        let shown =
            |it: &Unrecorded| NotRecorded { title: it.kept.title.clone(), why: it.why.clone(), lasts: it.kept.lasts };
        self.scene.not_recorded = self.keeping.unrecorded.iter().map(shown).collect();
        self.context.request_repaint();
    }

    /// A register is open, with that newest entry. What was kept for it is asked about and then offered.
    pub(crate) fn look_for_kept(&mut self, path: &Path, newest: i64, demo: bool) {
        let path = std::fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
        self.keeping.open = Some(Open { path: path.clone(), newest, demo });
        if self.worker.is_none() || demo {
            return;
        }
        spare::provide(&spare::beside(&self.prefs_path));
        let found = self.shelf().of(&path);
        if let Some(unread) = found.unread {
            let words = format!(
                "{} holds a change that was not recorded, and cannot be read. It stays there: open the register with \
                 the newest Lidnote.",
                unread.display()
            );
            self.tell(&Event::Failed(words));
        }
        let mut asked = Vec::new();
        let mut names = Vec::new();
        for it in &mut self.keeping.unrecorded {
            if let Some(open) = it.kept.register.as_mut().filter(|open| open.path == path) {
                open.newest = open.newest.min(newest);
                asked.push((open.newest, it.kept.change.clone()));
                names.push(it.kept.name);
            }
        }
        let mut from_disk = Vec::new();
        let mut on_disk = found.kept;
        on_disk.retain(|(name, _)| !names.contains(name));
        for (name, mut kept) in on_disk {
            if kept.after > newest {
                // Made while the register was looked at only, or before an older copy took its place.
                kept.after = newest;
                let _ = self.shelf().put(name, &kept);
            }
            asked.push((kept.after, kept.change.clone()));
            names.push(name);
            let why = format!("It could not be written on {}, and was kept. Try again, or leave it.", kept.at);
            let register = Some(Open { path: path.clone(), newest: kept.after, demo });
            let kept = Kept { name, change: kept.change, title: kept.title, register, lasts: true };
            from_disk.push(Unrecorded { kept, why });
        }
        if asked.is_empty() {
            return;
        }
        let ticket = self.ticket();
        self.keeping.asked = Some(Asked { ticket, names, found: from_disk, try_again: false });
        if let Err(words) = self.try_send(Request::WhichRecorded { ticket, changes: asked }) {
            self.not_written(ticket, &words);
        }
    }

    /// The register says of each kept change whether it holds it after all.
    pub(crate) fn told_what_is_recorded(&mut self, ticket: Ticket, recorded: &[bool]) {
        let Some(asked) = self.keeping.asked.take_if(|asked| asked.ticket == ticket) else { return };
        let over: BTreeSet<Uuid> =
            asked.names.iter().zip(recorded).filter(|(_, there)| **there).map(|(name, _)| *name).collect();
        self.keeping.unrecorded.extend(asked.found);
        let all = std::mem::take(&mut self.keeping.unrecorded);
        let (over, rest): (Vec<_>, Vec<_>) = all.into_iter().partition(|it| over.contains(&it.kept.name));
        self.keeping.unrecorded = rest;
        for it in &over {
            self.let_go(it.kept.name, it.kept.lasts);
        }
        self.show_unrecorded();
        if asked.try_again {
            self.record_again();
        }
    }

    /// Tries to record what could not be written, in the order in which it was made.
    pub(crate) fn record_again(&mut self) {
        if let Some(asked) = &mut self.keeping.asked {
            // Which of them the register holds already is about to be told.
            asked.try_again = true;
            return;
        }
        let open = self.keeping.open.as_ref().filter(|_| self.scene.register.is_some()).map(|open| open.path.clone());
        let of = |it: &Unrecorded| it.kept.register.as_ref().map(|register| register.path.clone());
        let kept = std::mem::take(&mut self.keeping.unrecorded);
        let (here, elsewhere): (Vec<_>, Vec<_>) = kept.into_iter().partition(|it| of(it) == open);
        let other = elsewhere.first().and_then(of);
        self.keeping.unrecorded = elsewhere;
        for Unrecorded { kept, .. } in here {
            self.hand_over(kept.change.clone(), Some(kept), None, true);
        }
        self.show_unrecorded();
        if let Some(other) = other {
            let words = format!("What is not recorded belongs to {}. Open it, then try again.", other.display());
            self.tell(&Event::Failed(words));
        }
    }

    /// Lets go of what could not be written.
    pub(crate) fn leave_unrecorded(&mut self) {
        for it in std::mem::take(&mut self.keeping.unrecorded) {
            self.let_go(it.kept.name, it.kept.lasts);
        }
        self.show_unrecorded();
        self.tell(&Event::LeftUnrecorded);
    }

    /// Closes the window whatever is not recorded.
    pub(crate) fn quit(&mut self) {
        self.keeping.quit = true;
        self.context.send_viewport_cmd(egui::ViewportCommand::Close);
    }

    /// Whether the window may be closed now. Where it may not, the user is told why; a change that is being written
    /// closes it when it is answered.
    pub(crate) fn may_close(&mut self) -> bool {
        if self.keeping.quit {
            return true;
        }
        self.keeping.closing = !self.keeping.sent.is_empty();
        if self.keeping.closing {
            self.tell(&Event::Done("Lidnote closes when the last change is written.".to_owned()));
            return false;
        }
        if self.keeping.unrecorded.is_empty() {
            return true;
        }
        self.tell(&Event::HeldOpen);
        false
    }

    /// Closes the window that was to be closed, once every change is answered.
    pub(crate) fn close_in_time(&mut self) {
        if self.keeping.closing && self.keeping.sent.is_empty() && self.may_close() {
            self.context.send_viewport_cmd(egui::ViewportCommand::Close);
        }
    }

    /// Lets the register's thread end. What it could not write on its way out is kept.
    pub(crate) fn let_worker_go(&mut self) {
        let Some(worker) = self.worker.take() else { return };
        for reply in worker.finish() {
            use crate::app::worker::Reply;
            match reply {
                Reply::Failed { ticket, error } => self.not_written(ticket, &format!("{error}.")),
                Reply::Refused { ticket, refusal } => self.refused(ticket, &format!("{refusal}.")),
                Reply::Applied { ticket, applied, .. } => drop(self.recorded(ticket, applied.entry)),
                Reply::Unchanged(ticket) => self.unchanged(ticket),
                Reply::WhichRecorded { ticket, recorded } => self.told_what_is_recorded(ticket, &recorded),
                _ => {}
            }
        }
        self.none_will_be_answered("The register was closed before it was written. Open it, then try again.");
    }
}

/// The screen it was made in keeps it until it is recorded: an import its preview, an evening its rows.
fn is_kept_by_its_screen(change: &Change, then: Option<&Event>) -> bool {
    let of_evening = |change: &Change| match change {
        Change::Visits { occasion, .. } => matches!(occasion, Occasion::Evening(_)),
        Change::Amend(_) => true,
        _ => false,
    };
    // The run of the evening may go with it.
    let of_its_run = |change: &Change| of_evening(change) || matches!(change, Change::PutRun(_));
    matches!(then, Some(Event::ImportApplied))
        || match change {
            Change::Several { changes, .. } => changes.iter().any(of_evening) && changes.iter().all(of_its_run),
            Change::Visits { .. } => of_evening(change),
            _ => false,
        }
}

/// The newer change puts the same thing as a whole: what the older one would put is over.
fn supersedes(newer: &Change, older: &Change) -> bool {
    match (newer, older) {
        (Change::SetFirm(_), Change::SetFirm(_)) => true,
        (Change::SetSetting { name, .. }, Change::SetSetting { name: other, .. }) => name == other,
        (Change::PutYard(yard), Change::PutYard(other)) => yard.id == other.id,
        (Change::PutSource(source), Change::PutSource(other)) => source.id == other.id,
        (Change::PutQueen(queen), Change::PutQueen(other)) => queen.id == other.id,
        (Change::PutParcel(parcel), Change::PutParcel(other)) => parcel.id == other.id,
        (Change::PutBar(bar), Change::PutBar(other)) => bar.id == other.id,
        (Change::PutRun(run), Change::PutRun(other)) => run.id == other.id,
        _ => false,
    }
}
