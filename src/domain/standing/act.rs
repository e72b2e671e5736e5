//! What was done on a visit: dequeening, cutting cells, test frames, marking.

use crate::domain::capital::capital;
use crate::domain::day::Day;
use crate::domain::queen::Dot;
use crate::domain::standing::failure::failed_sentence;
use crate::domain::standing::find::{Find, Judged};
use crate::domain::standing::state::{How, Pending, Setting, Stage, State};
use crate::domain::standing::{Identity, LastLook, Laying, OutcomeClass, windows};
use crate::domain::visit::{Did, Method, Visit};

impl State {
    /// What was done, in one sentence each; `None` where nothing was.
    pub(super) fn act(&mut self, s: &Setting<'_>, f: &Find<'_>, visit: &Visit) -> Option<Judged> {
        let (did, day) = (&visit.did, f.day);
        let mut sentences: Vec<String> = Vec::new();
        let mut class = OutcomeClass::StepDone;
        let mut settled = None;
        if did.dequeened {
            settled = self.dequeen(s, day, visit.gave.is_some(), &mut sentences);
            if did.queen_to.is_some() {
                // She goes on elsewhere: nothing has failed.
                settled = None;
            }
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
            let eggs = trial.look == Pending::Nothing || matches!(trial.last, LastLook::Unproven(_));
            if trial.old_never_found && !given && !eggs {
                // The old queen is found before anything was decided: the new one gets her days from now on.
                trial.old_never_found = false;
                trial.dequeened = Some(day);
                if trial.came_mated() {
                    trial.base = day;
                    trial.look = Pending::First;
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
        if self.open_plan(s, day).is_some_and(|plan| plan.method == Method::OwnRaising) && !given {
            return self.own_as_planned(s, day, settled, sentences);
        }
        // The days to the next queen count from the day the failed one was removed.
        self.give_again = self.give_again.map(|failed| failed.max(day));
        let give = self.give_again.map(|removed| windows::give_again(s.numbers, removed, false));
        sentences.push(s.say(|| match give {
            Some(window) if lost => failed_sentence(How::OldQueenFound, &Did::default(), window.best),
            Some(window) if !given => format!("Queen found and removed. Give another, {}.", window.best.short()),
            _ => "Old queen found and removed.".to_owned(),
        }));
        settled
    }

    /// The plan was that she raises her own: it begins with the dequeening.
    fn own_as_planned(
        &mut self,
        s: &Setting<'_>,
        day: Day,
        settled: Option<(Method, bool)>,
        sentences: &mut Vec<String>,
    ) -> Option<(Method, bool)> {
        self.raise_own(day, None);
        self.last_given = Some(day);
        let (_, window) = windows::first(s.numbers, Method::OwnRaising, day, None);
        sentences.push(
            s.say(|| format!("Old queen found and removed, to raise her own. First brood look {}.", window.words())),
        );
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
        let hopeless_from = self.d.map(|d| d.plus(s.numbers.cells_hopeless_from()));
        // Beside a trial only rivals that were seen ask for it, and only where no look of its own comes by then.
        let later_look = match &self.stage {
            Stage::Trial(trial) => windows::pending(s.numbers, trial).map(|(_, window, _)| window.earliest),
            _ => None,
        };
        let rivals = f.cells() && later_look.is_some_and(|look| hopeless_from.is_some_and(|again| look > again));
        let waits = later_look.is_none() && self.queenless();
        let once_more = hopeless_from.filter(|again| f.day < *again && (waits || rivals));
        self.cut_early = rivals && once_more.is_some();
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
            Stage::Failed(failed) => !failed.queen_there && failed.how != How::LayingWorkers,
            _ => false,
        };
        if !without_queen {
            sentences.push(s.say(|| "A cell left standing.".to_owned()));
            return;
        }
        let planned = self.open_plan(s, f.day).filter(|plan| plan.method != Method::OwnRaising);
        let since = self.d.unwrap_or(f.day);
        self.raise_own(since, Some(f.record));
        let (_, window) = windows::first(s.numbers, Method::OwnRaising, since, None);
        sentences.push(s.say(|| {
            let plan = planned.map_or_else(String::new, |plan| {
                format!(" A queen is still planned for {}: call it off, or give her.", plan.give_on.short())
            });
            format!("A cell left standing: raising her own. First brood look {}.{plan}", window.words())
        }));
    }

    fn mark(&mut self, day: Day, dot: Option<Dot>) {
        if let Some(queen) = &mut self.queen {
            queen.dot = Some(dot.unwrap_or_else(|| Dot::for_marking(queen.birth, day)));
        }
    }
}
