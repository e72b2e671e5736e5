//! Planning a run away from the interface: one question at a time, and a newer one takes the place of an older.

use std::sync::Arc;

use crate::app::frame::{Done, Lidnote};
use crate::app::jobs::{Control, Ended, JobId};
use crate::domain::run_order::RunOrder;
use crate::domain::world::World;
use crate::planner::outlook::Outlook;
use crate::planner::run::lights::Lights;
use crate::planner::run::plan::{Proposal, plan};
use crate::planner::run::propose::propose;
use crate::planner::run::solver::watch::Watch;
use crate::ui::action::Wanted;
use crate::ui::event::Event;

/// What was asked.
pub(crate) struct Question {
    pub asked: u64,
    pub run: RunOrder,
    pub wanted: Wanted,
}

/// A run as it was planned.
pub(crate) struct Planned {
    proposal: Option<Box<Proposal>>,
    lights: Lights,
}

/// The question that is being answered, and the one that waits until it has ended.
#[derive(Default)]
pub(crate) struct Planning {
    now: Option<Answering>,
    next: Option<Question>,
}

struct Answering {
    job: JobId,
    asked: u64,
    /// Nobody waits for the answer any more.
    stopped: bool,
}

impl Planning {
    /// The job is the planning that was asked for last.
    pub fn is(&self, job: JobId) -> bool {
        self.next.is_none() && self.now.as_ref().is_some_and(|now| now.job == job && !now.stopped)
    }
}

impl Lidnote {
    /// Begins to answer the question; one that is still being answered is stopped first.
    pub(crate) fn plan(&mut self, question: Question) {
        if self.planning.now.is_some() {
            self.stop_planning();
            self.planning.next = Some(question);
            return;
        }
        let Question { asked, run, wanted } = question;
        let (world, outlook) = (Arc::clone(&self.scene.world), Arc::clone(&self.scene.outlook));
        let work = move |control: &Control| Ok(Done::Planned(made(&world, &outlook, &run, wanted, control)?));
        match self.jobs.push("Planning the run", work) {
            Ok(job) => self.planning.now = Some(Answering { job, asked, stopped: false }),
            Err(why) => self.tell(&Event::NotPlanned { asked, why: format!("{why}.") }),
        }
    }

    /// Nobody waits for the run any more.
    pub(crate) fn stop_planning(&mut self) {
        self.planning.next = None;
        if let Some(now) = &mut self.planning.now {
            now.stopped = true;
            self.jobs.cancel_one(now.job);
        }
    }

    /// A job has ended. Where it was the planning, the screens are told and the question that waits has its turn; nothing
    /// then. Else the end is handed back.
    pub(crate) fn planning_ended(&mut self, job: JobId, end: Ended<Done>) -> Option<Ended<Done>> {
        let Some(Answering { asked, stopped, .. }) = self.planning.now.take_if(|now| now.job == job) else {
            return Some(end);
        };
        match end {
            _ if stopped => {}
            Ended::Done(Done::Planned(Planned { proposal, lights })) => {
                self.tell(&Event::Planned { asked, proposal, lights: Box::new(lights) });
            }
            Ended::Done(_) => {}
            Ended::Failed(why) => self.tell(&Event::NotPlanned { asked, why: format!("{why}.") }),
        }
        if let Some(next) = self.planning.next.take() {
            self.plan(next);
        }
        None
    }
}

fn made(
    world: &World,
    outlook: &Outlook,
    run: &RunOrder,
    wanted: Wanted,
    control: &Control,
) -> Result<Planned, String> {
    let mut lights = Lights::default();
    let within_day = match wanted {
        Wanted::Times => {
            plan(world, outlook, run, &mut lights).map_err(|error| error.to_string())?;
            return Ok(Planned { proposal: None, lights });
        }
        Wanted::Order => false,
        Wanted::Day => true,
    };
    let proposal = propose(world, outlook, run, within_day, &mut lights, &Watched(control));
    let proposal = proposal.map_err(|error| error.to_string())?;
    Ok(Planned { proposal: Some(Box::new(proposal)), lights })
}

/// The solver under the control of its job.
struct Watched<'a>(&'a Control);

impl Watch for Watched<'_> {
    fn stopped(&self) -> bool {
        self.0.cancelled()
    }

    fn reached(&self, round: u32, of: u32) {
        self.0.progress(format!("{} %", u64::from(round) * 100 / u64::from(of.max(1))));
    }
}
