//! A queen, cell or nuc is given, and the answers and events that are no visits.

use crate::domain::capital::capital;
use crate::domain::day::Day;
use crate::domain::ids::RecordId;
use crate::domain::in_hand::queen::emerged_of_given;
use crate::domain::queen::{Birth, Origin};
use crate::domain::record::Which;
use crate::domain::standing::find::Judged;
use crate::domain::standing::state::{GIVEN_CELL_CLOSED_TO, How, Pending, Setting, Stage, State, Trial, facts};
use crate::domain::standing::{Identity, LastLook, Laying, Outcome, OutcomeClass, QueenFacts, windows};
use crate::domain::visit::{Given, Method, OldQueen};

impl State {
    /// A queen is given on a visit.
    pub(super) fn give(&mut self, s: &Setting<'_>, record: RecordId, day: Day, given: &Given) -> Judged {
        if let Some(reason) = &given.against_bar {
            self.flags.push(format!("Given {} against a bar: {reason}", day.short()));
        }
        let (dequeened, never_found) = self.old_queen(s, day, given);
        self.last_given = Some(day);
        if let Stage::Trial(trial) = &self.stage {
            self.attempts = trial.attempt;
            if trial.method != Method::OwnRaising {
                // She may have been alive, and laying, until now.
                self.count_anew(day);
            }
        }
        if given.method == Method::OwnRaising {
            return self.give_own(s, record, day, dequeened, given);
        }
        if let Some(d) = dequeened {
            self.count_anew(d);
        }
        if never_found || given.method == Method::Nuc {
            self.count_anew(day);
        }
        let hatched = hatched_cell(s, day, given);
        let method = if hatched.is_some() { Method::Virgin } else { given.method };
        let trial = Trial {
            method,
            day0: day,
            base: day,
            dequeened,
            emerged: (method == Method::Virgin).then(|| {
                let told = || emerged_of_given(s.world, given.parcel, given.emerged);
                hatched.or_else(told).unwrap_or(day).min(day)
            }),
            queen: Some(given.queen),
            attempt: self.attempts + 1,
            record: Some(record),
            cells: given.cells.max(1),
            look: Pending::First,
            last: LastLook::None,
            cage_on: given.method == Method::PushIn,
            old_never_found: never_found,
            none_on: None,
            began_latest: None,
        };
        self.removed = self.queen.take().or(self.removed.take());
        self.queen = Some(given_queen(s, &trial, given));
        self.d = dequeened;
        self.settle_for_trial(day);
        self.temper_from = Some(windows::expected_start(s.numbers, &trial).plus(s.numbers.temper_from()));
        let look = windows::pending(s.numbers, &trial);
        self.last_trial = Some(trial.clone());
        self.stage = Stage::Trial(trial);
        Judged::new(
            OutcomeClass::StepDone,
            s.say(|| {
                let next = look.map_or_else(String::new, |(look, window, _)| {
                    format!(" {} {}.", capital(look.words()), window.words())
                });
                match method {
                    Method::Virgin if hatched.is_some() => format!("The cell is a virgin by its graft.{next}"),
                    Method::Nuc => format!("Nuc united.{next}"),
                    Method::PushIn => {
                        let off = windows::cage_off(s.numbers, day);
                        format!("Push-in cage on. Take it off {}.{next}", off.words())
                    }
                    _ => format!("{} given.{next}", capital(method.words())),
                }
            }),
        )
    }

    /// D, and whether the old queen was never found.
    fn old_queen(&self, s: &Setting<'_>, day: Day, given: &Given) -> (Option<Day>, bool) {
        match given.old_queen {
            OldQueen::RemovedOn(removed) => (Some(removed.min(day)), false),
            OldQueen::NotFound => (None, true),
            OldQueen::AsRecorded => match &self.stage {
                Stage::Trial(trial) if trial.method != Method::OwnRaising => (trial.dequeened, trial.old_never_found),
                _ if self.queenless() => (self.d, false),
                _ => (Some(windows::default_dequeened(s.numbers, given.method, day)), false),
            },
        }
    }

    fn settle_for_trial(&mut self, day: Day) {
        self.laying = Laying::Unknown;
        self.identity = Identity::Unconfirmed;
        self.last_hers = Some(day);
        self.last_laying = None;
        self.give_again = None;
        self.rival_cells = None;
        self.cut_early = false;
        self.which = None;
        self.not_found = None;
        self.frame = None;
        self.looked_first = None;
        self.offer_frame = false;
        self.offer_cell = false;
    }

    fn give_own(
        &mut self,
        s: &Setting<'_>,
        record: RecordId,
        day: Day,
        dequeened: Option<Day>,
        given: &Given,
    ) -> Judged {
        let since = dequeened.unwrap_or(day);
        self.removed = self.queen.take().or(self.removed.take());
        self.raise_own(since, Some(record));
        self.which = None;
        if let Stage::Trial(trial) = &mut self.stage {
            trial.queen = Some(given.queen);
        }
        let (_, window) = windows::first(s.numbers, Method::OwnRaising, since, None);
        let say = || format!("Raising her own. First brood look {}.", window.words());
        Judged::new(OutcomeClass::StepDone, s.say(say))
    }

    /// The question which queen it was is answered.
    pub(super) fn answer(&mut self, s: &Setting<'_>, day: Day, which: Which) -> Outcome {
        let Some(asked) = self.which.take() else {
            return Judged::noted(s.say(|| "No question was open.".to_owned())).outcome();
        };
        let trial = match &self.stage {
            Stage::Trial(trial) => Some(trial.clone()),
            _ => None,
        };
        let method = trial.as_ref().map(|trial| trial.method);
        let seen = asked.question.seen;
        match which {
            Which::Lost => {
                self.set_failed(day, trial, How::AnotherQueen, false);
                self.queen = Some(QueenFacts::unknown());
                self.identity = Identity::Another(seen);
                let give = windows::give_again(s.numbers, day, true);
                let say = || {
                    format!(
                        "The recorded queen is lost. Find the other one first; give another, {}.",
                        give.best.short()
                    )
                };
                Judged::new(OutcomeClass::ToDecide, s.say(say)).settling(method, false).outcome()
            }
            Which::Superseded => {
                let from = asked.question.last_hers.unwrap_or(seen).min(seen);
                if asked.laying {
                    self.after_supersedure(seen, from, trial);
                } else {
                    self.removed = self.queen.take();
                    self.raise_own(from, None);
                    self.queen = Some(superseder(from, seen));
                    self.identity = Identity::Another(seen);
                }
                let say = || {
                    format!(
                        "Superseded between {} and {}; the new queen is at most {} days old.",
                        from.short(),
                        seen.short(),
                        day.since(from)
                    )
                };
                Judged::noted(s.say(say)).settling(method, false).outcome()
            }
            Which::SameAfterAll => {
                self.identity = Identity::Seen(seen);
                self.last_hers = Some(seen);
                match trial {
                    Some(trial) if asked.laying && trial.look == Pending::Nothing => {
                        self.after_acceptance(s, seen, trial);
                        Judged::new(OutcomeClass::Laying, s.say(|| "It was her: accepted.".to_owned()))
                            .settling(method, true)
                            .outcome()
                    }
                    _ => Judged::noted(s.say(|| "It was her after all.".to_owned())).outcome(),
                }
            }
        }
    }

    fn after_supersedure(&mut self, seen: Day, from: Day, trial: Option<Trial>) {
        self.removed = self.queen.take();
        self.queen = Some(superseder(from, seen));
        self.identity = Identity::Another(seen);
        self.count_from = None;
        self.d = None;
        self.attempts = 0;
        self.last_trial = trial;
        self.stage = Stage::Settled { again: None };
    }

    /// A bar that followed from a find is lifted; looks and steps come back, dated by the days gone by.
    pub(super) fn lift(&mut self, s: &Setting<'_>, day: Day) -> Outcome {
        let workers_gone = self.laying_workers.take().is_some();
        let lifted = self.disease.take().is_some() | self.swarming.take().is_some() || workers_gone;
        if workers_gone {
            // On record that there are none now: nobody has to look for them again.
            self.looked_first = Some(day);
        }
        if let Stage::Failed(failed) = &self.stage
            && failed.how == How::LayingWorkers
        {
            self.give_again = Some(day);
        }
        let look = match &self.stage {
            Stage::Trial(trial) => windows::pending(s.numbers, trial),
            _ => None,
        };
        Judged::noted(s.say(|| match look {
            _ if !lifted => "No bar from a find was there.".to_owned(),
            Some((look, window, _)) => format!("Bar lifted. {} {}.", capital(look.words()), window.words()),
            None => "Bar lifted.".to_owned(),
        }))
        .outcome()
    }

    /// Another colony was united into this one; `queen`: the one it brought, if it had one.
    pub(super) fn received(
        &mut self,
        s: &Setting<'_>,
        record: RecordId,
        day: Day,
        queen: Option<QueenFacts>,
    ) -> Outcome {
        self.ripen(s, day);
        if !self.queenless() {
            if let Stage::Trial(_) = self.stage {
                self.count_anew(day);
            }
            return Judged::noted(s.say(|| "A colony was united into this one.".to_owned())).outcome();
        }
        let Some(queen) = queen else {
            self.count_anew(day);
            return Judged::noted(s.say(|| "A colony without a queen was united into this one.".to_owned())).outcome();
        };
        self.count_anew(day);
        self.laying_workers = None;
        let named = queen.queen;
        self.queen = Some(QueenFacts { since: Some(day), ..queen });
        self.settle_for_trial(day);
        let mut trial = Trial { method: Method::Nuc, queen: named, ..Trial::raising(day, Some(record)) };
        trial.dequeened = self.d;
        trial.attempt = self.attempts + 1;
        self.temper_from = Some(day.plus(s.numbers.temper_from()));
        let look = windows::pending(s.numbers, &trial);
        if named.is_none() {
            self.identity = Identity::NotRecorded;
        }
        self.last_trial = Some(trial.clone());
        self.stage = Stage::Trial(trial);
        Judged::noted(s.say(|| {
            let next = look.map_or_else(String::new, |(look, window, _)| {
                format!(" {} {}.", capital(look.words()), window.words())
            });
            format!("A colony with its queen was united into this one.{next}")
        }))
        .outcome()
    }
}

fn superseder(from: Day, seen: Day) -> QueenFacts {
    QueenFacts {
        birth: Birth::between(from, seen),
        origin: Origin::OwnRaising,
        since: Some(from),
        ..QueenFacts::unknown()
    }
}

/// The day the queen of a cell came out, where its parcel's graft says that the cell is a virgin by now.
fn hatched_cell(s: &Setting<'_>, day: Day, given: &Given) -> Option<Day> {
    let grafted = s.world.parcels.get(&given.parcel?)?.grafted?;
    let emerged = grafted.plus(s.numbers.cell_is_virgin_after());
    (given.method == Method::Cell && emerged < day).then_some(emerged)
}

/// What is known of a queen as she is given; a cell tells her birth by itself.
fn given_queen(s: &Setting<'_>, trial: &Trial, given: &Given) -> QueenFacts {
    let mut queen = facts(s.world, given.queen, Some(trial.day0), given.parcel);
    if queen.birth.is_unknown() {
        queen.birth = match trial.method {
            Method::Cell => Birth::between(trial.day0, trial.day0.plus(GIVEN_CELL_CLOSED_TO)),
            Method::Virgin => {
                given.emerged.or(trial.emerged.filter(|day| *day < trial.day0)).map(Birth::on).unwrap_or_default()
            }
            _ => queen.birth,
        };
    }
    queen
}
