//! Judges a find where no queen is on trial: in a settled colony, a waiting one, and one whose queen failed.

use crate::domain::brood::BroodStage;
use crate::domain::day::Day;
use crate::domain::standing::find::{DueLook, Find, Judged, stays};
use crate::domain::standing::state::{Again, Failed, How, Setting, Stage, State};
use crate::domain::standing::trial::who;
use crate::domain::standing::{Identity, Laying, OutcomeClass, QueenFacts, windows};
use crate::domain::visit::Method;
use crate::domain::work::Look;

impl State {
    /// Judges a find in a settled colony; `again`: the look again that is due there.
    pub(super) fn judge_settled(&mut self, s: &Setting<'_>, f: &Find<'_>, again: Option<Again>) -> Judged {
        let recorded = self.queen.as_ref().is_some_and(|queen| queen.queen.is_some());
        let look = again.map(|again| (Look::Again.words(), windows::again(s.numbers, again.since)));
        // Where she was removed on the same visit no look stays.
        let stay = stays(look.filter(|_| !f.did.dequeened), f.day);
        let undecided = if look.is_some() { OutcomeClass::StillDue } else { OutcomeClass::Noted };
        self.stage = Stage::Settled { again };
        if f.seen.another && recorded {
            return self.another_in_settled(s, f, look);
        }
        let her = f.seen.her || f.seen.another;
        if her && recorded {
            self.her_seen(f.day);
        }
        if f.proof.lays {
            return self.settled_laying(s, f, her && recorded);
        }
        if self.frame.is_some_and(|given| f.day > given) && f.begun > 0 {
            return self.fail(s, f, None, How::FrameCells(f.begun));
        }
        if f.full {
            self.frame = None;
        }
        if her {
            self.note_cells(f);
            return Judged::new(undecided, s.say(|| format!("Her seen, no word of eggs.{stay}")));
        }
        if f.seen.opened_cell {
            return self.opened_in_settled(s, f);
        }
        if f.closed > 0 && f.full && !f.brood() {
            self.d = Some(self.likely_loss(s, f.day));
            return self.fail(s, f, None, How::ClosedCells(f.closed));
        }
        self.note_cells(f);
        if f.cells() || f.brood() || !f.full || !f.says_anything() {
            return Judged::new(undecided, s.say(|| format!("{}{stay}", settled_words(f))));
        }
        match look {
            Some((_, window)) if f.day < window.earliest => {
                Judged::new(OutcomeClass::StillDue, s.say(|| format!("Too early: no evidence.{stay}")))
            }
            Some(_) => {
                self.d = self.d.max(self.last_laying);
                self.fail(s, f, None, How::Nothing)
            }
            None => {
                self.laying = Laying::NotYet;
                self.offer_frame = true;
                self.look_again(f.day, false);
                let window = windows::again(s.numbers, f.day);
                let say = || format!("Nothing in the whole nest. Look again {}.", window.words());
                Judged::new(OutcomeClass::NotYet, s.say(say))
            }
        }
    }

    /// With eggs the look is done, with cells beside them there is another; without eggs it stays.
    fn another_in_settled(&mut self, s: &Setting<'_>, f: &Find<'_>, look: DueLook) -> Judged {
        self.ask_which(f, f.proof.lays);
        let mut next = stays(look, f.day);
        if f.proof.lays {
            self.laying_in_settled(f);
            if f.cells() {
                self.look_again(f.day, true);
                next = format!(" Look again {}.", windows::again(s.numbers, f.day).words());
            } else {
                self.stage = Stage::Settled { again: None };
                next.clear();
            }
        } else {
            self.note_cells(f);
        }
        let laying = if f.proof.lays { " Laying." } else { "" };
        let say = || format!("Another queen than recorded.{laying} Which? Lost, or superseded.{next}");
        Judged::new(OutcomeClass::Another, s.say(say))
    }

    fn settled_laying(&mut self, s: &Setting<'_>, f: &Find<'_>, her: bool) -> Judged {
        self.laying_in_settled(f);
        if f.cells() {
            self.look_again(f.day, true);
            let window = windows::again(s.numbers, f.day);
            self.swarming = window.latest.map(|latest| (f.day, latest));
            let say =
                || format!("Laying, and queen cells: her supersedure, or swarming? Look again {}.", window.words());
            return Judged::new(OutcomeClass::Laying, s.say(say));
        }
        self.swarming = None;
        self.rival_cells = None;
        self.stage = Stage::Settled { again: None };
        let recorded = self.queen.as_ref().is_some_and(|queen| queen.queen.is_some());
        let open = if self.not_found.is_some() { " The old queen is still to be found." } else { "" };
        let say = || {
            if recorded { format!("Laying, {}.{open}", who(her)) } else { format!("Laying.{open}") }
        };
        Judged::new(OutcomeClass::Laying, s.say(say))
    }

    fn laying_in_settled(&mut self, f: &Find<'_>) {
        let began = f.proof.oldest.unwrap_or(BroodStage::Eggs).laying_began(f.day);
        self.laying = match self.laying {
            Laying::Since(known) => Laying::Since(known),
            _ => Laying::Since(began.earliest.unwrap_or(began.latest)),
        };
        self.last_laying = Some(f.day);
        self.frame = None;
        self.offer_frame = false;
    }

    fn opened_in_settled(&mut self, s: &Setting<'_>, f: &Find<'_>) -> Judged {
        let since = self.likely_loss(s, f.day);
        self.removed = self.queen.take();
        self.raise_own(since, Some(f.record));
        let (_, window) = windows::first(s.numbers, Method::OwnRaising, since, None);
        let say = || format!("Opened cell: raising her own. First brood look {}.", window.words());
        Judged::new(OutcomeClass::NotYet, s.say(say))
    }

    /// The day a settled colony lost its queen, where cells tell it: as far back as an own virgin takes to come out, but
    /// not before she was last known to lay.
    fn likely_loss(&self, s: &Setting<'_>, day: Day) -> Day {
        let cells = day.plus(-s.numbers.own_virgin_from());
        self.last_laying.map_or(cells, |laid| laid.max(cells))
    }

    /// Judges a find in a colony that waits for her queen.
    pub(super) fn judge_waiting(&mut self, s: &Setting<'_>, f: &Find<'_>) -> Judged {
        let n = s.numbers;
        let since = self.d.unwrap_or(s.colony.founded);
        self.stage = Stage::Waiting;
        if f.proof.lays {
            return self.queen_there(s, f, "Eggs: a queen is laying in there.");
        }
        let ripe = f.day.since(since) >= n.own_virgin_from();
        let virgin = ripe && (f.seen.another || f.seen.her) && !f.did.dequeened;
        if f.seen.opened_cell || virgin {
            self.raise_own(since, Some(f.record));
            let (_, window) = windows::first(n, Method::OwnRaising, since, None);
            let what = if f.seen.opened_cell { "Opened cell" } else { "Own virgin" };
            let say = || format!("{what}: raising her own. First brood look {}.", window.words());
            return Judged::new(OutcomeClass::NotYet, s.say(say));
        }
        if f.seen.another || f.seen.her {
            return self.queen_there(s, f, "A queen is in there.");
        }
        let frame = self.frame_seen(s, f);
        self.note_cells(f);
        self.note_looked(s, f);
        let late_enough = f.day.since(since) >= n.cells_hopeless_from();
        let hopeless = f.did.cells_cut && late_enough;
        let none = self.no_cells == Some(f.day) && !f.did.cells_cut;
        let once_more = since.plus(n.cells_hopeless_from()).short();
        Judged::noted(s.say(|| match (f.closed, f.did.cells_cut) {
            _ if frame && f.begun > 0 => frame_cells(f),
            (_, true) if hopeless => "All cells cut: takes a caged queen well.".to_owned(),
            (0, true) => "Cells cut.".to_owned(),
            (0, false) if f.begun > 0 => f.cells_before_giving(),
            (0, false) if frame => "No cells on the test frame: a queen may be in there.".to_owned(),
            (0, false) if none && late_enough => "No cells: takes a caged queen well.".to_owned(),
            (0, false) if none && f.brood() => {
                format!("The brood may be the old queen's. No cells yet: look for them once more {once_more}.")
            }
            (0, false) if none => format!("No cells yet: look for them once more {once_more}."),
            (0, false) if f.brood() => "The brood may be the old queen's.".to_owned(),
            (0, false) if f.seen.nothing && ripe => "No cells, no virgin seen. A queen can be given.".to_owned(),
            (0, false) => settled_words(f),
            (_, _) => f.cells_before_giving(),
        }))
    }

    /// A queen is found where none should be: she has to go before another is given.
    fn queen_there(&mut self, s: &Setting<'_>, f: &Find<'_>, what: &str) -> Judged {
        self.queen = Some(QueenFacts::unknown());
        self.identity = Identity::NotRecorded;
        self.laying = if f.proof.lays { Laying::Since(f.day) } else { Laying::Unknown };
        self.last_laying = f.proof.lays.then_some(f.day).or(self.last_laying);
        self.count_from = None;
        self.d = None;
        self.not_found = Some(f.day);
        self.give_again = None;
        self.stage = Stage::Settled { again: None };
        let find = windows::find_again(s.numbers, f.day);
        let say = || match f.did.dequeened {
            true => what.to_owned(),
            false => format!("{what} Find her before giving another, {}.", find.words()),
        };
        Judged::new(OutcomeClass::ToDecide, s.say(say))
    }

    /// Judges a find after a failure that nothing has mended yet.
    pub(super) fn judge_failed(&mut self, s: &Setting<'_>, f: &Find<'_>, mut failed: Failed) -> Judged {
        if f.proof.lays && failed.how == How::DeadInCage {
            return self.queen_there(s, f, "Eggs: a second queen is laying in there.");
        }
        if f.proof.lays && failed.how.can_be_mended_by_eggs() {
            return self.laying_after_all(s, f, failed);
        }
        if f.seen.opened_cell && !failed.queen_there {
            let since = self.d.or(failed.trial.as_ref().map(|trial| trial.day0));
            let since = since.unwrap_or_else(|| self.likely_loss(s, f.day));
            self.raise_own(since, Some(f.record));
            let (_, window) = windows::first(s.numbers, Method::OwnRaising, since, None);
            let say = || format!("Opened cell: raising her own. First brood look {}.", window.words());
            return Judged::new(OutcomeClass::NotYet, s.say(say));
        }
        if (f.seen.her || f.seen.another) && !failed.queen_there {
            return self.queen_there(s, f, "A queen is in there after all.");
        }
        if f.did.cells_cut {
            failed.cells_cut = true;
        } else {
            self.note_cells(f);
        }
        let frame = self.frame_seen(s, f);
        self.note_looked(s, f);
        let words = failed.words();
        self.stage = Stage::Failed(failed);
        Judged::noted(s.say(|| match (f.closed, f.did.cells_cut) {
            _ if frame && f.begun > 0 => frame_cells(f),
            (0, false) if f.did.cells_left => settled_words(f),
            (0, false) if frame => "No cells on the test frame: a queen may be in there.".to_owned(),
            (0, false) => format!("Noted; still to mend: {words}."),
            (0, true) => "Cells cut.".to_owned(),
            (_, _) => f.cells_before_giving(),
        }))
    }

    fn laying_after_all(&mut self, s: &Setting<'_>, f: &Find<'_>, failed: Failed) -> Judged {
        self.give_again = None;
        self.laying = Laying::NotYet;
        if let Some(trial) = failed.trial {
            if self.queen.is_none() {
                self.queen = failed.lost;
            }
            self.identity = Identity::Unconfirmed;
            return self.judge_trial(s, f, trial);
        }
        self.queen = self.queen.take().or(failed.lost).or_else(|| Some(QueenFacts::unknown()));
        let recorded = self.queen.as_ref().is_some_and(|queen| queen.queen.is_some());
        self.identity = if recorded { Identity::Unconfirmed } else { Identity::NotRecorded };
        self.judge_settled(s, f, None)
    }
}

/// Cells begun on a test frame in a colony that has no queen anyway.
fn frame_cells(f: &Find<'_>) -> String {
    let cut = if f.did.cells_cut || f.did.cells_left { "" } else { " Cut them before giving." };
    format!("Cells begun on the test frame: no queen in there.{cut}")
}

fn settled_words(f: &Find<'_>) -> String {
    if f.closed > 0 {
        return format!("{}{}.", f.closed_words(), f.cut_words());
    }
    let words = if f.begun > 0 {
        "Cells begun."
    } else if f.seen.capped && !f.seen.eggs && !f.seen.larvae {
        "Capped brood alone."
    } else if f.brood() {
        "Brood seen."
    } else if !f.full {
        "Part of the nest: no evidence."
    } else if f.seen.nothing {
        "Nothing in the whole nest."
    } else if f.did.cells_cut {
        "Cells cut."
    } else {
        "Seen, nothing to judge."
    };
    words.to_owned()
}
