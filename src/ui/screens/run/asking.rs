//! What the screen has asked to be planned, and the answer that has come: the screen itself never waits.

use crate::domain::ids::RunId;
use crate::domain::run_order::RunOrder;
use crate::planner::run::lights::Lights;
use crate::planner::run::plan::Proposal;
use crate::ui::action::{Action, Outbox, Wanted};
use crate::ui::event::Event;

/// Work shorter than this is not spoken of, in seconds.
const QUIET: f64 = 0.3;

/// The question that is not answered yet.
#[derive(Clone, Debug)]
struct Question {
    number: u64,
    run: RunOrder,
    wanted: Wanted,
    /// The version of the world it was asked for.
    version: u64,
    /// When it was first seen to be unanswered, in seconds of the window.
    since: Option<f64>,
}

/// What came back: the order, where one was wanted, and the light at the stops.
pub(super) type Answer = (Option<Proposal>, Lights);

/// At most one question, and its answer.
#[derive(Clone, Debug, Default)]
pub(super) struct Asking {
    count: u64,
    now: Option<Question>,
    arrived: Option<Answer>,
    /// The version of the world for which nothing could be planned.
    in_vain: Option<u64>,
}

impl Asking {
    /// Takes what the app tells. Answers to older questions are passed over.
    pub fn take(&mut self, event: &Event) {
        let Some(question) = &self.now else { return };
        match event {
            Event::Planned { asked, proposal, lights } if *asked == question.number => {
                self.arrived = Some((proposal.as_deref().cloned(), lights.as_ref().clone()));
            }
            Event::NotPlanned { asked, .. } if *asked == question.number => {
                self.in_vain = Some(question.version);
                self.now = None;
            }
            _ => {}
        }
    }

    /// Asks; an older question is given up.
    pub fn ask(&mut self, run: &RunOrder, wanted: Wanted, version: u64, out: &mut Outbox) {
        self.count += 1;
        self.arrived = None;
        let same = self.now.take().filter(|before| before.run.id == run.id && before.wanted == wanted);
        let since = same.and_then(|before| before.since);
        self.now = Some(Question { number: self.count, run: run.clone(), wanted, version, since });
        out.push(Action::Plan { asked: self.count, run: Box::new(run.clone()), wanted });
    }

    /// Nothing is waited for any more.
    pub fn stop(&mut self, out: &mut Outbox) {
        self.arrived = None;
        if self.now.take().is_some() {
            out.push(Action::StopPlanning);
        }
    }

    /// The answer for the run as it stands now. One that was asked for an older world is asked for again; one for a run
    /// that has been changed since, or is no longer shown, is given up.
    pub fn answer(&mut self, run: &RunOrder, version: u64, out: &mut Outbox) -> Option<Answer> {
        let question = self.now.as_ref()?;
        if question.run != *run {
            self.stop(out);
            return None;
        }
        if question.version != version {
            let wanted = question.wanted;
            self.ask(run, wanted, version, out);
            return None;
        }
        let answer = self.arrived.take()?;
        self.now = None;
        Some(answer)
    }

    /// What is waited for of this run.
    pub fn wanted(&self, run: RunId) -> Option<Wanted> {
        self.now.as_ref().filter(|question| question.run.id == run).map(|question| question.wanted)
    }

    /// It has been waited for long enough to be spoken of. `now` in seconds of the window.
    pub fn is_long(&mut self, now: f64) -> bool {
        let Some(question) = &mut self.now else { return false };
        now - *question.since.get_or_insert(now) >= QUIET
    }

    /// Nothing could be planned for this version of the world.
    pub fn in_vain(&self, version: u64) -> bool {
        self.in_vain == Some(version)
    }
}

#[cfg(test)]
mod tests {
    use uuid::Uuid;

    use super::*;
    use crate::domain::day::Day;
    use crate::domain::place::Place;
    use crate::domain::run_order::Base;

    fn run(number: u128, leave: u16) -> RunOrder {
        RunOrder {
            id: RunId::from_number(number),
            day: Day::new(2026, 11, 24).expect("a day"),
            vehicle: String::new(),
            base: Base { name: "Shed".to_owned(), place: Place::new(-40.0, 160.0).expect("a place") },
            leave,
            stops: Vec::new(),
            left_out: Vec::new(),
        }
    }

    fn outbox() -> Outbox {
        Outbox::new(Box::new(|| Uuid::from_u128(1)))
    }

    fn planned(asked: u64) -> Event {
        Event::Planned { asked, proposal: None, lights: Box::default() }
    }

    #[test]
    fn only_the_answer_to_the_newest_question_counts() {
        let (mut asking, mut out) = (Asking::default(), outbox());
        asking.ask(&run(1, 450), Wanted::Day, 1, &mut out);
        asking.ask(&run(2, 450), Wanted::Day, 1, &mut out);
        asking.take(&planned(1));
        assert!(asking.answer(&run(2, 450), 1, &mut out).is_none());
        asking.take(&planned(2));
        assert!(asking.answer(&run(2, 450), 1, &mut out).is_some());
        assert_eq!(asking.wanted(RunId::from_number(2)), None);
    }

    #[test]
    fn an_answer_for_an_older_world_is_asked_for_again() {
        let (mut asking, mut out) = (Asking::default(), outbox());
        asking.ask(&run(1, 450), Wanted::Order, 1, &mut out);
        asking.take(&planned(1));
        out.take();
        assert!(asking.answer(&run(1, 450), 2, &mut out).is_none());
        assert!(matches!(out.take().as_slice(), [Action::Plan { asked: 2, wanted: Wanted::Order, .. }]));
        asking.take(&planned(2));
        assert!(asking.answer(&run(1, 450), 2, &mut out).is_some());
    }

    #[test]
    fn an_answer_for_a_run_changed_since_is_given_up() {
        let (mut asking, mut out) = (Asking::default(), outbox());
        asking.ask(&run(1, 450), Wanted::Order, 1, &mut out);
        asking.take(&planned(1));
        out.take();
        assert!(asking.answer(&run(1, 480), 1, &mut out).is_none());
        assert_eq!(out.take(), [Action::StopPlanning]);
        assert!(asking.answer(&run(1, 450), 1, &mut out).is_none());
    }

    #[test]
    fn work_is_spoken_of_once_it_has_lasted() {
        let (mut asking, mut out) = (Asking::default(), outbox());
        assert!(!asking.is_long(5.0), "nothing is asked");
        asking.ask(&run(1, 450), Wanted::Day, 1, &mut out);
        assert!(!asking.is_long(5.0));
        asking.ask(&run(1, 450), Wanted::Day, 2, &mut out);
        assert!(asking.is_long(5.4), "asking again does not begin it anew");
        asking.ask(&run(2, 450), Wanted::Day, 2, &mut out);
        assert!(!asking.is_long(5.5), "another run does");
    }
}
