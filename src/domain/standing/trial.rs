//! Judges a find while a queen that was given, or is being raised, is not judged yet.
//!
//! The order is that of the rules: the strongest find first, and the days gone by, not the look's name.

use crate::domain::brood::BroodStage;
use crate::domain::capital::capital;
use crate::domain::standing::find::{DueLook, Find, Judged, stays};
use crate::domain::standing::state::{Asked, GIVEN_CELL_CLOSED_TO, How, Pending, Setting, Stage, State, Trial};
use crate::domain::standing::{Identity, LastLook, Laying, OutcomeClass, WhichQuestion, windows};
use crate::domain::visit::{InCage, Method};
use crate::domain::work::{Look, Window};

impl State {
    /// Judges a find of a trial and leaves the stage that follows.
    pub(super) fn judge_trial(&mut self, s: &Setting<'_>, f: &Find<'_>, trial: Trial) -> Judged {
        let look = windows::pending(s.numbers, &trial).map(|(look, window, _)| (look.words(), window));
        let early = look.is_some_and(|(_, window)| f.day < window.earliest);
        // Where she was removed on the same visit no look stays.
        let look = look.filter(|_| !f.did.dequeened);
        let case = Case { s, f, look, early, frame_seen: false };
        if let Some(state) = f.seen.cage.filter(|_| trial.method != Method::OwnRaising) {
            return self.in_cage(&case, trial, state);
        }
        let nobody_recorded = trial.method == Method::OwnRaising && trial.queen.is_none();
        if f.seen.another && !nobody_recorded {
            return self.another_queen(&case, trial);
        }
        let her = f.seen.her || (f.seen.another && nobody_recorded);
        if f.proof.lays {
            return self.eggs(&case, trial, her);
        }
        if f.proof.stopped() {
            return self.capped_alone(&case, trial, her);
        }
        if self.frame.is_some_and(|given| f.day > given) && f.begun > 0 {
            return self.fail(s, f, Some(trial), How::FrameCells(f.begun));
        }
        let frame_seen = f.full && self.frame.is_some_and(|given| f.day >= windows::frame(s.numbers, given).earliest);
        if frame_seen {
            self.frame = None;
        }
        let case = Case { frame_seen, ..case };
        if her { self.her_without_eggs(&case, trial) } else { self.without_eggs(&case, trial) }
    }

    fn in_cage(&mut self, c: &Case<'_>, mut trial: Trial, state: InCage) -> Judged {
        let (s, f) = (c.s, c.f);
        if state == InCage::Dead {
            return self.fail(s, f, Some(trial), How::DeadInCage);
        }
        self.last_hers = Some(f.day);
        self.identity = Identity::Seen(f.day);
        let under = trial.method == Method::PushIn
            && trial.cage_on
            && f.day.since(trial.day0) <= s.numbers.push_in_alive_until();
        if under {
            self.stage = Stage::Trial(trial);
            let look = c.look;
            return Judged::new(
                if f.did.cage_off { OutcomeClass::StepDone } else { OutcomeClass::NotYet },
                s.say(|| format!("Alive under the push-in cage, as it should be.{}", stays(look, f.day))),
            );
        }
        trial.cage_on = false;
        trial.look = Pending::Again(f.day);
        trial.last = LastLook::Again(f.day);
        let window = windows::again(s.numbers, f.day);
        let eggs = f.proof.lays && trial.method != Method::PushIn;
        self.stage = Stage::Trial(trial);
        Judged::new(
            OutcomeClass::NotYet,
            s.say(|| {
                let second = if eggs { " The eggs are not hers: suspect a second queen." } else { "" };
                format!("Alive in the cage, released.{second} Look again {}.", window.words())
            }),
        )
    }

    fn another_queen(&mut self, c: &Case<'_>, mut trial: Trial) -> Judged {
        let (s, f) = (c.s, c.f);
        let lays = f.proof.lays;
        self.ask_which(f, lays);
        trial.last = LastLook::Another(f.day);
        if lays {
            trial.look = if f.cells() { Pending::Again(f.day) } else { Pending::Nothing };
            self.laying = Laying::Since(f.proof.oldest.unwrap_or(BroodStage::Eggs).laying_began(f.day).latest);
        } else {
            self.note_cells(f);
        }
        let look = windows::pending(s.numbers, &trial);
        self.stage = Stage::Trial(trial);
        Judged::new(
            OutcomeClass::Another,
            s.say(|| {
                let laying = if lays { " Laying." } else { "" };
                let next = look.map_or_else(String::new, |(look, window, _)| {
                    if lays { again_words(window) } else { stays(Some((look.words(), window)), f.day) }
                });
                format!("Another queen than recorded.{laying} Which? Lost, or superseded.{next}")
            }),
        )
    }

    /// Asks which queen it was; an older question that is still open stays as it is.
    pub(super) fn ask_which(&mut self, f: &Find<'_>, laying: bool) {
        self.identity = Identity::Another(f.day);
        if let Some(asked) = &mut self.which {
            asked.laying |= laying;
        } else {
            let question = WhichQuestion { record: f.record, seen: f.day, last_hers: self.last_hers };
            self.which = Some(Asked { question, laying });
        }
    }

    fn eggs(&mut self, c: &Case<'_>, mut trial: Trial, her: bool) -> Judged {
        let (s, f, n) = (c.s, c.f, c.s.numbers);
        let oldest = f.proof.oldest.unwrap_or(BroodStage::Eggs);
        if her {
            self.her_seen(f.day);
        }
        let under_cage = trial.method == Method::PushIn && trial.cage_on && c.early;
        if under_cage {
            self.stage = Stage::Trial(trial);
            let class = if f.did.cage_off { OutcomeClass::StepDone } else { OutcomeClass::NotYet };
            return Judged::new(class, s.say(|| format!("Eggs under the push-in cage.{}", stays(c.look, f.day))));
        }
        self.frame = None;
        let began = oldest.laying_began(f.day);
        let latest = trial.began_latest.map_or(began.latest, |known| known.min(began.latest));
        trial.began_latest = Some(latest);
        self.laying_seen(s, f, &trial, oldest);
        if self.which.is_some() && !her {
            return self.which_open(c, trial);
        }
        if trial.old_never_found && !her {
            return self.unproven(c, trial);
        }
        let hers = Self::cells_are_hers(f, &trial);
        if f.cells() && !(hers && trial.method == Method::Cell) {
            return self.laying_again(c, trial, &format!("Laying, {}, and queen cells: her supersedure?", who(her)));
        }
        if let Pending::Capped(_) = trial.look {
            return self.capped_look(c, trial, her);
        }
        let late = windows::late_from(n, &trial).is_some_and(|from| latest >= from) && !f.proof.capped;
        if late {
            trial.look = Pending::Capped(f.day);
            trial.last = LastLook::LateLayer(f.day);
            let window = windows::pending(n, &trial).map(|(_, window, _)| window);
            self.stage = Stage::Trial(trial);
            return Judged::new(
                OutcomeClass::Laying,
                s.say(|| {
                    let words = window.map_or_else(String::new, |window| window.words());
                    format!("Laying late, {}. Capped-brood look {words}.", who(her))
                }),
            );
        }
        self.accept(s, f, trial, her)
    }

    fn capped_look(&mut self, c: &Case<'_>, trial: Trial, her: bool) -> Judged {
        let (s, f) = (c.s, c.f);
        if f.proof.capped {
            return self.accept(s, f, trial, her);
        }
        let over = c.look.and_then(|(_, window)| window.latest).is_some_and(|latest| f.day >= latest);
        if over && f.full {
            return self.fail(s, f, Some(trial), How::NoCapped);
        }
        self.stage = Stage::Trial(trial);
        let look = c.look;
        Judged::new(
            OutcomeClass::Laying,
            s.say(|| format!("Laying, no capped worker brood yet.{}", stays(look, f.day))),
        )
    }

    /// Eggs, while nobody has said which queen was seen: the look is done, and the question stays.
    fn which_open(&mut self, c: &Case<'_>, mut trial: Trial) -> Judged {
        let (s, f) = (c.s, c.f);
        trial.look = if f.cells() { Pending::Again(f.day) } else { Pending::Nothing };
        trial.last = LastLook::Another(self.which.map_or(f.day, |asked| asked.question.seen));
        if let Some(asked) = &mut self.which {
            asked.laying = true;
        }
        self.stage = Stage::Trial(trial);
        Judged::new(OutcomeClass::Laying, s.say(|| "Laying; which queen it is stays open.".to_owned()))
    }

    fn unproven(&mut self, c: &Case<'_>, mut trial: Trial) -> Judged {
        let (s, f) = (c.s, c.f);
        let first = trial.look != Pending::Nothing || self.not_found.is_none();
        trial.look = if f.cells() { Pending::Again(f.day) } else { Pending::Nothing };
        trial.last = LastLook::Unproven(f.day);
        if first {
            self.not_found = Some(f.day);
        }
        let find = windows::find_again(s.numbers, self.not_found.unwrap_or(f.day));
        self.stage = Stage::Trial(trial);
        Judged::new(
            OutcomeClass::Laying,
            s.say(|| {
                format!("Laying; the old queen was never found, so whose eggs is open. Find her {}.", find.words())
            }),
        )
    }

    fn capped_alone(&mut self, c: &Case<'_>, mut trial: Trial, her: bool) -> Judged {
        let (s, f) = (c.s, c.f);
        if her {
            self.her_seen(f.day);
        }
        let began = BroodStage::Capped.laying_began(f.day).latest;
        trial.began_latest = Some(trial.began_latest.map_or(began, |known| known.min(began)));
        self.laying_seen(s, f, &trial, BroodStage::Capped);
        if matches!(trial.look, Pending::Capped(_)) {
            return self.accept(s, f, trial, her);
        }
        let judged = self.laying_again(c, trial, "Capped brood of hers alone: she laid and stopped.");
        self.laying = Laying::No;
        if let Stage::Trial(trial) = &mut self.stage {
            trial.last = LastLook::NoEggs(f.day);
        }
        judged
    }

    fn laying_again(&mut self, c: &Case<'_>, mut trial: Trial, what: &str) -> Judged {
        let (s, f) = (c.s, c.f);
        trial.look = Pending::Again(f.day);
        trial.last = LastLook::Again(f.day);
        self.offer_frame = false;
        let window = windows::again(s.numbers, f.day);
        self.stage = Stage::Trial(trial);
        Judged::new(OutcomeClass::Laying, s.say(|| format!("{what} Look again {}.", window.words())))
    }

    fn her_without_eggs(&mut self, c: &Case<'_>, mut trial: Trial) -> Judged {
        let (s, f, n) = (c.s, c.f, c.s.numbers);
        self.her_seen(f.day);
        if trial.look == Pending::Nothing {
            // Eggs were seen before and only the queen was in doubt: seeing her settles it.
            trial.old_never_found = false;
            self.not_found = None;
            return self.accept(s, f, trial, true);
        }
        self.note_cells(f);
        let certain = f.day >= windows::verdict(n, trial.method, trial.base, trial.emerged).earliest;
        if !f.full || (c.early && !(trial.came_mated() && certain)) {
            self.laying = Laying::NotYet;
            self.stage = Stage::Trial(trial);
            let look = c.look;
            return Judged::new(
                OutcomeClass::NotYet,
                s.say(|| format!("Her seen, no eggs yet{}.{}", part(f), stays(look, f.day))),
            );
        }
        if let Pending::Capped(_) = trial.look {
            return self.fail(s, f, Some(trial), How::NoCapped);
        }
        if certain || matches!(trial.look, Pending::Second(_)) {
            return self.fail(s, f, Some(trial), How::NotLaying);
        }
        self.not_yet(c, trial, "Her seen, no eggs yet.")
    }

    fn without_eggs(&mut self, c: &Case<'_>, mut trial: Trial) -> Judged {
        let (s, f, n) = (c.s, c.f, c.s.numbers);
        if f.seen.opened_cell && trial.came_mated() {
            return self.opened_cell(s, f, &trial);
        }
        let hers = Self::cells_are_hers(f, &trial);
        // An opened cell beside them: a queen is out, so they are rivals and no proof that she is lost.
        if f.closed > 0 && !hers && !f.seen.opened_cell && f.full && !c.early {
            return self.fail(s, f, Some(trial), How::ClosedCells(f.closed));
        }
        if !hers {
            self.note_cells(f);
        }
        if !f.full || c.early || !f.says_anything() {
            return self.no_evidence(c, trial, hers);
        }
        trial.none_on = Some(f.day);
        let certain = f.day >= windows::verdict(n, trial.method, trial.base, trial.emerged).earliest;
        let judged_again = matches!(trial.look, Pending::Again(_)) && f.seen.nothing;
        let fails =
            certain || judged_again || matches!(trial.look, Pending::Second(_) | Pending::Verdict | Pending::Capped(_));
        if fails {
            return self.fail(s, f, Some(trial), How::Nothing);
        }
        self.offer_frame = true;
        let what = match f.proof.may_be_old {
            Some(BroodStage::Capped) if !f.seen.eggs && !f.seen.larvae => "Capped brood only: may be the old queen's.",
            Some(_) => "The brood may be the old queen's.",
            None if f.seen.opened_cell => "Opened cell, no eggs yet.",
            None if f.seen.nothing => "Nothing in the whole nest.",
            None => "No eggs yet.",
        };
        self.not_yet(c, trial, what)
    }

    /// The next look after one that showed no eggs and lost nothing.
    fn not_yet(&mut self, c: &Case<'_>, mut trial: Trial, what: &str) -> Judged {
        let (s, f, n) = (c.s, c.f, c.s.numbers);
        trial.none_on = Some(f.day);
        trial.look = if trial.came_mated() { Pending::Second(f.day) } else { Pending::Verdict };
        trial.last = LastLook::NoEggs(f.day);
        self.laying = Laying::NotYet;
        let look = windows::pending(n, &trial);
        self.stage = Stage::Trial(trial);
        Judged::new(
            OutcomeClass::NotYet,
            s.say(|| {
                look.map_or_else(String::new, |(look, window, _)| {
                    let name = if look == Look::SecondAcceptance { "Second look" } else { "Verdict" };
                    format!("{what} {name} {}.", window.words())
                })
            }),
        )
    }

    fn no_evidence(&mut self, c: &Case<'_>, trial: Trial, hers: bool) -> Judged {
        let (s, f, look) = (c.s, c.f, c.look);
        let method = trial.method;
        self.stage = Stage::Trial(trial);
        let class = match look {
            Some(_) if c.frame_seen => OutcomeClass::NotYet,
            Some(_) => OutcomeClass::StillDue,
            None => OutcomeClass::Noted,
        };
        Judged::new(
            class,
            s.say(|| {
                let what = if c.frame_seen && !f.cells() {
                    "No cells on the test frame: nothing lost yet.".to_owned()
                } else if f.closed > 0 && hers {
                    if method == Method::Cell { "Her cell, still closed." } else { "Closed cells: hers." }.to_owned()
                } else if f.closed > 0 {
                    format!("{}{}.", f.closed_words(), f.cut_words())
                } else if f.begun > 0 {
                    format!("Cells begun{}.", f.cut_words())
                } else if f.seen.opened_cell {
                    "Opened cell: a queen is out.".to_owned()
                } else if !f.full {
                    "Part of the nest: no evidence.".to_owned()
                } else if !f.says_anything() {
                    "No word about the brood.".to_owned()
                } else {
                    "Too early: no evidence.".to_owned()
                };
                format!("{what}{}", stays(look, f.day))
            }),
        )
    }

    fn opened_cell(&mut self, s: &Setting<'_>, f: &Find<'_>, trial: &Trial) -> Judged {
        let since = trial.dequeened.or(self.d).unwrap_or(trial.day0);
        let method = trial.method;
        self.attempts = trial.attempt;
        self.raise_own(since, Some(f.record));
        self.count_anew(f.day);
        let (_, window) = windows::first(s.numbers, Method::OwnRaising, since, None);
        Judged::new(
            OutcomeClass::NotYet,
            s.say(|| format!("Opened cell: raising her own. First brood look {}.", window.words())),
        )
        .settling(Some(method), false)
    }

    fn cells_are_hers(f: &Find<'_>, trial: &Trial) -> bool {
        match trial.method {
            Method::OwnRaising => true,
            Method::Cell => f.day.since(trial.day0) <= GIVEN_CELL_CLOSED_TO && f.closed <= trial.cells && f.begun == 0,
            Method::Caged | Method::PushIn | Method::Virgin | Method::Nuc => false,
        }
    }
}

/// What a find is judged against.
struct Case<'a> {
    s: &'a Setting<'a>,
    f: &'a Find<'a>,
    look: DueLook,
    /// The look's earliest day is still ahead.
    early: bool,
    /// The test frame was looked at, and no cells are on it.
    frame_seen: bool,
}

/// `her seen` or `identity unconfirmed`.
pub(super) fn who(her: bool) -> &'static str {
    if her { "her seen" } else { "identity unconfirmed" }
}

fn part(f: &Find<'_>) -> &'static str {
    if f.full { "" } else { ", part of the nest" }
}

fn again_words(window: Window) -> String {
    format!(" {} {}.", capital(Look::Again.words()), window.words())
}
