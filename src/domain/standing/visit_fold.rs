//! Applies one visit: the find is judged first, then what was done, then what was given.

use crate::domain::day::Day;
use crate::domain::grammar::describe::describe;
use crate::domain::ids::RecordId;
use crate::domain::standing::bars::resting_by_hand;
use crate::domain::standing::due::due_work;
use crate::domain::standing::find::{DueLook, Find, Judged, stays};
use crate::domain::standing::state::{How, Setting, Stage, State};
use crate::domain::standing::{Laying, Outcome, OutcomeClass, QueenFacts, windows};
use crate::domain::visit::{Coverage, Did, Disease, Method, Unopened, Visit};

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
        let acted = visit.did != Did::default() || visit.gave.is_some() || visit.lids_swapped.is_some();
        let judged = match visit.coverage {
            _ if find.says_anything() => Some(self.judge(s, &find)),
            _ if acted => None,
            Coverage::Unopened(why) => Some(self.unopened(s, day, why)),
            Coverage::Full | Coverage::Part => Some(self.judge(s, &find)),
        };
        if find.says_anything() {
            self.last_find = Some(day);
        }
        let by_hand = resting_by_hand(s.world, s.colony.id, day).is_some();
        let resting = by_hand || self.disease.is_some_and(|(since, _)| since < day);
        let done = self.act(s, &find, visit);
        let gave = visit.gave.as_ref().map(|given| self.give(s, record, day, given));
        let decided = visit.did.dequeened || (visit.did.cells_left && matches!(self.stage, Stage::Trial(_)));
        let outcome = combine(s, judged, done, gave, decided);
        if resting && s.words && outcome.class != OutcomeClass::Barred && !visit.seen.dead {
            return Outcome { sentence: resting_sentence(s, visit, &outcome.sentence), ..outcome };
        }
        outcome
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

    /// The look or step that could be done, else the look that is ahead. Only asked where sentences are wanted.
    fn waits_for(&self, s: &Setting<'_>, day: Day) -> DueLook {
        if !s.words || self.disease.is_some() {
            return None;
        }
        let work = due_work(s, self, &[], None, day);
        let first = |look: bool, open: bool| {
            work.iter().find(|due| due.kind.is_look() == look && due.window.open_on(day) == open)
        };
        let due = first(true, true).or_else(|| first(false, true)).or_else(|| first(true, false));
        due.map(|due| (due.kind.words(), due.window))
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
        if seen.swarmed && !seen.her {
            return self.swarmed(s, f);
        }
        let judged = self.judge_by_stage(s, f);
        if seen.swarmed {
            self.swarming = Some(swarming_from(s, f.day));
            let sentence = s.say(|| format!("Swarmed. {}", judged.sentence));
            return Judged { sentence, ..judged };
        }
        judged
    }

    fn judge_by_stage(&mut self, s: &Setting<'_>, f: &Find<'_>) -> Judged {
        match std::mem::replace(&mut self.stage, Stage::Waiting) {
            Stage::Trial(trial) => self.judge_trial(s, f, trial),
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
        self.swarming = Some(swarming_from(s, f.day));
        let method = self.trial_method().filter(|method| *method != Method::OwnRaising);
        self.removed = self.queen.take();
        self.raise_own(f.day, Some(f.record));
        let (_, window) = windows::first(n, Method::OwnRaising, f.day, None);
        let say = || format!("Swarmed: raising her own. First brood look {}.", window.words());
        Judged::new(OutcomeClass::NotYet, s.say(say)).settling(method, false)
    }
}

/// The soft bar of a swarm: until an own queen should lay.
fn swarming_from(s: &Setting<'_>, day: Day) -> (Day, Day) {
    (day, day.plus(s.numbers.own_raising_latest()))
}

fn combine(
    s: &Setting<'_>,
    judged: Option<Judged>,
    done: Option<Judged>,
    gave: Option<Judged>,
    decided: bool,
) -> Outcome {
    let found = judged.as_ref().map(|judged| judged.class);
    let barred = found == Some(OutcomeClass::Barred);
    let class = match (found, &done, &gave) {
        (Some(class), _, _) if barred => class,
        (_, _, Some(gave)) => gave.class,
        (Some(OutcomeClass::Noted | OutcomeClass::StillDue) | None, Some(done), None) => done.class,
        (_, Some(done), None) if decided => done.class,
        (Some(class), _, None) => class,
        (None, None, None) => OutcomeClass::Noted,
    };
    let parts = [judged, done, gave];
    let settled = parts.iter().flatten().find_map(|part| part.settled);
    let mut sentence = String::new();
    if s.words {
        let said = parts.iter().flatten().map(|part| part.sentence.as_str()).filter(|part| !part.is_empty());
        sentence = said.collect::<Vec<_>>().join(" ");
    }
    Outcome { class, sentence, settled }
}

/// While disease is suspected a find is told and nothing is said of what to give. A queen given all the same keeps her
/// own sentence.
fn resting_sentence(s: &Setting<'_>, visit: &Visit, judged: &str) -> String {
    let told = if visit.gave.is_some() { judged.to_owned() } else { format!("{}.", describe(s.world, visit)) };
    format!("{told} The bar for disease still holds: no queen.")
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
