//! Applies one visit: the find is judged first, then what was done, then what was given.

use crate::domain::day::Day;
use crate::domain::ids::RecordId;
use crate::domain::queen::Dot;
use crate::domain::standing::failure::failed_sentence;
use crate::domain::standing::find::{DueLook, Find, Judged, capital, stays};
use crate::domain::standing::state::{How, Pending, Setting, Stage, State};
use crate::domain::standing::{Identity, Laying, Outcome, OutcomeClass, QueenFacts, windows};
use crate::domain::visit::{Coverage, Did, Disease, Method, Unopened, Visit};
use crate::domain::work::{Look, Window};

impl State {
    /// Applies a visit and says what it meant.
    pub(super) fn visit(&mut self, s: &Setting<'_>, record: RecordId, day: Day, visit: &Visit) -> Outcome {
        if let Stage::Dead { .. } = self.stage {
            return Judged::noted(s.say(|| "Noted after the colony's death.".to_owned())).outcome();
        }
        self.ripen(s, day);
        if !matches!(visit.coverage, Coverage::Unopened(_)) {
            self.last_opened = Some(day);
        }
        if let Some(temper) = visit.temper {
            self.temper = Some((temper, day));
        }
        let find = Find::read(s.numbers, record, day, visit, self.count_from);
        let acted = visit.did != Did::default() || visit.gave.is_some();
        let judged = if let Coverage::Unopened(why) = visit.coverage {
            (!acted).then(|| self.unopened(s, day, why))
        } else {
            (find.says_anything() || !acted).then(|| self.judge(s, &find))
        };
        if find.says_anything() {
            self.last_find = Some(day);
        }
        let resting = self.disease.is_some_and(|(since, _)| since < day);
        let done = self.act(s, &find, visit);
        let gave = visit.gave.as_ref().map(|given| self.give(s, record, day, given));
        combine(s, judged, done, gave, resting)
    }

    fn unopened(&self, s: &Setting<'_>, day: Day, why: Unopened) -> Judged {
        let due = self.waits_for(s, day);
        let why = match why {
            Unopened::Weather => "rain",
            Unopened::Time => "no time",
            Unopened::NotFound => "not found",
        };
        let class = if due.is_some() { OutcomeClass::StillDue } else { OutcomeClass::Noted };
        Judged::new(class, s.say(|| format!("Not opened, {why}.{}", stays(due, day))))
    }

    /// The look that is due, or where none is, a window of the step that is.
    fn waits_for(&self, s: &Setting<'_>, day: Day) -> DueLook {
        let n = s.numbers;
        match &self.stage {
            Stage::Trial(trial) => windows::pending(n, trial).map(|(look, window, _)| (look, window)),
            Stage::Settled { again: Some(again) } => Some((Look::Again, windows::again(n, again.since))),
            _ => None,
        }
        .or_else(|| self.frame.map(|given| (Look::Frame, windows::frame(n, given))))
        .or_else(|| self.step_waits(s, day).map(|window| (Look::LookFirst, window)).filter(|(_, it)| it.open_on(day)))
    }

    fn step_waits(&self, s: &Setting<'_>, day: Day) -> Option<Window> {
        let n = s.numbers;
        let plan = self.open_plan(s, day).map(|plan| {
            let from = plan.dequeen_on.filter(|_| !self.queenless()).unwrap_or(plan.give_on).min(plan.give_on);
            Window::after(from, 0, 0, plan.give_on.since(from) + n.give_latest())
        });
        let search = self.not_found.map(|search| windows::find_again(n, search));
        let failed = self.give_again.map(|failed| windows::give_again(n, failed));
        plan.or(search).or(failed)
    }

    fn judge(&mut self, s: &Setting<'_>, f: &Find<'_>) -> Judged {
        let seen = f.seen;
        if seen.dead {
            let method = self.trial_method();
            self.stage = Stage::Dead { on: f.day };
            self.laying = Laying::No;
            return Judged::new(OutcomeClass::ToDecide, s.say(|| "The colony is dead.".to_owned()))
                .settling(method, false);
        }
        if let Some(disease) = seen.disease {
            return self.disease(s, f, disease);
        }
        if seen.drone_layer || seen.laying_workers {
            let how = if seen.drone_layer { How::DroneLayer } else { How::LayingWorkers };
            let trial = match &self.stage {
                Stage::Trial(trial) => Some(trial.clone()),
                _ => None,
            };
            let judged = self.fail(s, f, trial, how);
            if how == How::DroneLayer && self.queen.is_none() {
                self.queen = Some(QueenFacts::unknown());
            }
            return judged;
        }
        if seen.swarmed {
            return self.swarmed(s, f);
        }
        match std::mem::replace(&mut self.stage, Stage::Waiting) {
            Stage::Trial(trial) => {
                self.stage = Stage::Trial(trial.clone());
                self.judge_trial(s, f, trial)
            }
            Stage::Settled { again } => self.judge_settled(s, f, again),
            Stage::Accepted { on } if !f.says_anything() => {
                self.stage = Stage::Accepted { on };
                Judged::noted(s.say(|| "Noted.".to_owned()))
            }
            Stage::Accepted { .. } => self.judge_settled(s, f, None),
            Stage::Waiting => self.judge_waiting(s, f),
            Stage::Failed(failed) => self.judge_failed(s, f, failed),
            Stage::Dead { on } => {
                self.stage = Stage::Dead { on };
                Judged::noted(String::new())
            }
        }
    }

    fn trial_method(&self) -> Option<Method> {
        match &self.stage {
            Stage::Trial(trial) => Some(trial.method),
            _ => None,
        }
    }

    fn disease(&mut self, s: &Setting<'_>, f: &Find<'_>, disease: Disease) -> Judged {
        let since = self.disease.map_or(f.day, |(since, _)| since);
        // A name replaces "not named"; American foulbrood stays until it is cleared on record.
        let named = match self.disease {
            Some((_, Disease::AmericanFoulbrood)) => Disease::AmericanFoulbrood,
            Some((_, known)) if disease == Disease::NotNamed => known,
            _ => disease,
        };
        self.disease = Some((since, named));
        if f.seen.her {
            self.her_seen(f.day);
        }
        Judged::new(
            OutcomeClass::Barred,
            s.say(|| {
                let what = disease_words(named);
                format!("{what}. Barred: close the hive, isolate, follow the local rules. Looks rest.")
            }),
        )
    }

    fn swarmed(&mut self, s: &Setting<'_>, f: &Find<'_>) -> Judged {
        let n = s.numbers;
        self.swarming = Some((f.day, f.day.plus(n.own_raising_latest())));
        if f.seen.her {
            self.her_seen(f.day);
            return Judged::noted(s.say(|| "Swarmed, and her still seen.".to_owned()));
        }
        let method = self.trial_method().filter(|method| *method != Method::OwnRaising);
        self.removed = self.queen.take();
        self.raise_own(f.day, Some(f.record));
        let (_, window) = windows::first(n, Method::OwnRaising, f.day, None);
        let say = || format!("Swarmed: raising her own. First brood look {}.", window.words());
        Judged::new(OutcomeClass::NotYet, s.say(say)).settling(method, false)
    }

    /// What was done, in one sentence each; `None` where nothing was.
    fn act(&mut self, s: &Setting<'_>, f: &Find<'_>, visit: &Visit) -> Option<Judged> {
        let (did, day) = (&visit.did, f.day);
        let mut sentences: Vec<String> = Vec::new();
        let mut class = OutcomeClass::StepDone;
        let mut settled = None;
        if did.dequeened {
            settled = self.dequeen(s, day, visit.gave.is_some(), &mut sentences);
        } else if did.queen_not_found && visit.gave.is_none() {
            class = self.search_failed(s, day, &mut sentences);
        }
        if did.cells_cut {
            self.cut_cells(s, f, &mut sentences);
        }
        if did.cells_left {
            self.leave_cells(s, f, &mut sentences);
        }
        if did.cage_off {
            if let Stage::Trial(trial) = &mut self.stage {
                trial.cage_on = false;
            }
            sentences.push(s.say(|| "Push-in cage taken off.".to_owned()));
        }
        if let Some(frame) = did.test_frame {
            self.frame = Some(day);
            self.offer_frame = false;
            if !frame.marked {
                self.count_anew(day);
            }
            sentences
                .push(s.say(|| format!("Test frame given. Frame look {}.", windows::frame(s.numbers, day).words())));
        }
        if let Some(marked) = did.marked {
            self.mark(day, marked.dot);
            sentences.push(s.say(|| "Marked.".to_owned()));
        }
        if visit.lids_swapped.is_some() {
            sentences.push(s.say(|| "Lids swapped: both labels again.".to_owned()));
        }
        let acted = *did != Did::default() || visit.lids_swapped.is_some();
        sentences.retain(|sentence| !sentence.is_empty());
        acted.then(|| Judged { class, sentence: sentences.join(" "), settled })
    }

    fn dequeen(
        &mut self,
        s: &Setting<'_>,
        day: Day,
        given: bool,
        sentences: &mut Vec<String>,
    ) -> Option<(Method, bool)> {
        let (mut settled, mut lost) = (None, false);
        if let Stage::Trial(trial) = &mut self.stage {
            if trial.old_never_found && !given && trial.look != Pending::Nothing {
                // The old queen is found before anything was decided: the new one gets her days from now on.
                trial.old_never_found = false;
                trial.dequeened = Some(day);
                if trial.came_mated() {
                    trial.base = day;
                }
                self.d = Some(day);
                self.not_found = None;
                let look = windows::pending(s.numbers, trial);
                self.count_anew(day);
                sentences.push(s.say(|| {
                    let next = look.map_or_else(String::new, |(look, window, _)| {
                        format!(" {} {}.", capital(look.words()), window.words())
                    });
                    format!("Old queen found and removed.{next}")
                }));
                return None;
            }
            self.attempts = trial.attempt;
            if trial.method != Method::OwnRaising {
                settled = Some((trial.method, false));
            }
            if trial.old_never_found && !given {
                // The eggs were the old queen's: the new one is lost.
                self.give_again = Some(day);
                lost = true;
            }
        }
        self.removed = self.queen.take().or(self.removed.take());
        self.d = Some(day);
        self.count_anew(day);
        self.laying = Laying::No;
        self.identity = Identity::NotRecorded;
        self.not_found = None;
        self.which = None;
        self.looked_first = None;
        self.rival_cells = None;
        self.cut_early = false;
        self.frame = None;
        self.offer_frame = false;
        self.offer_cell = false;
        self.temper_from = None;
        self.last_laying = None;
        self.stage = Stage::Waiting;
        let give = self.give_again.map(|failed| windows::give_again(s.numbers, failed.max(day)));
        sentences.push(s.say(|| match give {
            Some(window) if lost => failed_sentence(How::OldQueenFound, false, window.best),
            Some(window) if !given => format!("Queen found and removed. Give another, {}.", window.best.short()),
            _ => "Old queen found and removed.".to_owned(),
        }));
        settled
    }

    fn search_failed(&mut self, s: &Setting<'_>, day: Day, sentences: &mut Vec<String>) -> OutcomeClass {
        if self.queenless() {
            sentences.push(s.say(|| "No queen found.".to_owned()));
            return OutcomeClass::StepDone;
        }
        self.not_found = Some(day);
        let window = windows::find_again(s.numbers, day);
        sentences.push(s.say(|| format!("Old queen not found. Find her again {}.", window.words())));
        OutcomeClass::StillDue
    }

    fn cut_cells(&mut self, s: &Setting<'_>, f: &Find<'_>, sentences: &mut Vec<String>) {
        self.cells_cut = Some(f.day);
        self.rival_cells = None;
        self.offer_cell = false;
        if let Stage::Failed(failed) = &mut self.stage {
            failed.cells_cut = true;
        }
        let on_trial = matches!(self.stage, Stage::Trial(_));
        let hopeless_from = self.d.map(|d| d.plus(s.numbers.cells_hopeless_from()));
        let once_more = hopeless_from.filter(|again| f.day < *again && (self.queenless() || (on_trial && f.cells())));
        self.cut_early = on_trial && once_more.is_some();
        if !f.says_anything() {
            sentences.push(s.say(|| "Cells cut.".to_owned()));
        }
        if let Some(again) = once_more {
            sentences.push(s.say(|| format!("Look for cells once more {}.", again.short())));
        }
    }

    fn leave_cells(&mut self, s: &Setting<'_>, f: &Find<'_>, sentences: &mut Vec<String>) {
        let without_queen = match &self.stage {
            Stage::Waiting => true,
            Stage::Failed(failed) => !failed.queen_there,
            _ => false,
        };
        if !without_queen {
            sentences.push(s.say(|| "A cell left standing.".to_owned()));
            return;
        }
        let since = self.d.unwrap_or(f.day);
        self.raise_own(since, Some(f.record));
        let (_, window) = windows::first(s.numbers, Method::OwnRaising, since, None);
        sentences
            .push(s.say(|| format!("A cell left standing: raising her own. First brood look {}.", window.words())));
    }

    fn mark(&mut self, day: Day, dot: Option<Dot>) {
        if let Some(queen) = &mut self.queen {
            let year = queen.birth.earliest.or(queen.birth.latest).map_or(day.year(), Day::year);
            queen.dot = Some(dot.unwrap_or_else(|| Dot::of_year(year)));
        }
    }
}

fn combine(
    s: &Setting<'_>,
    judged: Option<Judged>,
    done: Option<Judged>,
    gave: Option<Judged>,
    resting: bool,
) -> Outcome {
    let found = judged.as_ref().map(|judged| judged.class);
    let decided = matches!(found, Some(OutcomeClass::Barred));
    let replaced = gave.is_some() || done.as_ref().is_some_and(|done| done.settled.is_some());
    let class = match (found, &done, &gave) {
        (Some(class), _, _) if decided => class,
        (_, _, Some(gave)) => gave.class,
        (Some(OutcomeClass::Noted | OutcomeClass::StillDue) | None, Some(done), None) => done.class,
        (_, Some(done), None) if replaced => done.class,
        (Some(class), _, None) => class,
        (None, None, None) => OutcomeClass::Noted,
    };
    let parts = [judged, done, gave];
    let settled = parts.iter().flatten().find_map(|part| part.settled);
    let mut sentence = String::new();
    if s.words {
        let said = parts.iter().flatten().map(|part| part.sentence.as_str()).filter(|part| !part.is_empty());
        sentence = said.collect::<Vec<_>>().join(" ");
        if resting && !decided {
            sentence.push_str(" The bar for disease still holds.");
        }
    }
    Outcome { class, sentence, settled }
}

/// `American foulbrood suspected` …
pub(super) fn disease_words(disease: Disease) -> &'static str {
    match disease {
        Disease::NotNamed => "Disease suspected, not named",
        Disease::AmericanFoulbrood => "American foulbrood suspected",
        Disease::EuropeanFoulbrood => "European foulbrood suspected",
        Disease::Chalkbrood => "Chalkbrood suspected",
        Disease::Other => "Disease suspected",
    }
}
