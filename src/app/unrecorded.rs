//! Changes on their way to the register, and those it could not write. Nothing typed is lost: what could not be written
//! is kept and shown until it is recorded or left, also when the window is to be closed.

use crate::app::frame::Lidnote;
use crate::app::worker::{Request, Ticket};
use crate::domain::change::{Change, Occasion};
use crate::domain::decide::title;
use crate::ui::event::Event;
use crate::ui::scene::NotRecorded;

/// A change that was handed to the register and is not answered yet.
pub(crate) struct Sent {
    ticket: Ticket,
    /// The change and its title; nothing where the screen it was made in keeps it.
    kept: Option<(Change, String)>,
    /// What is told when it is recorded.
    then: Option<Event>,
    /// It could not be written before: a refusal keeps it too.
    again: bool,
}

/// A change that could not be written.
struct Unrecorded {
    change: Change,
    title: String,
    why: String,
    /// The register it was made for.
    register: Option<String>,
}

/// What the program keeps of changes until they are recorded.
#[derive(Default)]
pub(crate) struct Keeping {
    sent: Vec<Sent>,
    unrecorded: Vec<Unrecorded>,
    /// The window was to be closed while a change was being written.
    closing: bool,
    /// It is to be closed whatever is not recorded.
    quit: bool,
}

impl Lidnote {
    /// Hands a change to the register; `then` is told when it is recorded.
    pub(crate) fn send_change(&mut self, change: Change, then: Option<Event>, again: bool) {
        let ticket = self.ticket();
        let today = self.scene.today;
        // An import is large: it is not copied in vain.
        let kept = (!is_kept_by_its_screen(&change, then.as_ref()))
            .then(|| (change.clone(), title(&self.scene.world, &change)));
        let request = Request::Apply { ticket, change: Box::new(change), today };
        self.keeping.sent.push(Sent { ticket, kept, then, again });
        if let Err(words) = self.try_send(request) {
            self.not_written(ticket, &words);
        }
    }

    /// A change is recorded: what was kept and is older than it is over. What is to be told of it, if anything.
    pub(crate) fn recorded(&mut self, ticket: Ticket) -> Option<Event> {
        let sent = self.answered(ticket)?;
        let before = self.keeping.unrecorded.len();
        if let Some((change, _)) = &sent.kept {
            self.keeping.unrecorded.retain(|older| !supersedes(change, &older.change));
        }
        if before != self.keeping.unrecorded.len() {
            self.show_unrecorded();
        }
        sent.then
    }

    /// The request is answered: its change, if it was one.
    pub(crate) fn answered(&mut self, ticket: Ticket) -> Option<Sent> {
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
        match self.answered(ticket) {
            Some(Sent { kept: Some(kept), .. }) => self.keep(kept, why),
            _ => self.tell(&Event::Failed(why.to_owned())),
        }
    }

    /// The register's thread has ended: nothing that waits will be answered.
    pub(crate) fn none_will_be_answered(&mut self, why: &str) {
        let tickets: Vec<Ticket> = self.keeping.sent.iter().map(|sent| sent.ticket).collect();
        for ticket in tickets {
            self.not_written(ticket, why);
        }
    }

    fn keep(&mut self, (change, title): (Change, String), why: &str) {
        let register = self.scene.register.as_ref().map(|info| info.path.clone());
        self.keeping.unrecorded.retain(|older| !supersedes(&change, &older.change));
        self.keeping.unrecorded.push(Unrecorded { change, title, why: why.to_owned(), register });
        self.show_unrecorded();
    }

    fn show_unrecorded(&mut self) {
        let shown = |it: &Unrecorded| NotRecorded { title: it.title.clone(), why: it.why.clone() };
        self.scene.not_recorded = self.keeping.unrecorded.iter().map(shown).collect();
        self.context.request_repaint();
    }

    /// Tries to record what could not be written, in the order in which it was made.
    pub(crate) fn record_again(&mut self) {
        let open = self.scene.register.as_ref().map(|info| info.path.clone());
        let kept = std::mem::take(&mut self.keeping.unrecorded);
        let (here, elsewhere): (Vec<_>, Vec<_>) = kept.into_iter().partition(|it| it.register == open);
        let other = elsewhere.first().and_then(|it| it.register.clone());
        self.keeping.unrecorded = elsewhere;
        for it in here {
            self.send_change(it.change, None, true);
        }
        self.show_unrecorded();
        if let Some(other) = other {
            self.tell(&Event::Failed(format!("What is not recorded belongs to {other}. Open it, then try again.")));
        }
    }

    /// Lets go of what could not be written.
    pub(crate) fn leave_unrecorded(&mut self) {
        self.keeping.unrecorded.clear();
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
                Reply::Applied { ticket, .. } => drop(self.recorded(ticket)),
                Reply::Unchanged(ticket) => drop(self.answered(ticket)),
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
    matches!(then, Some(Event::ImportApplied))
        || match change {
            Change::Several { changes, .. } => !changes.is_empty() && changes.iter().all(of_evening),
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
