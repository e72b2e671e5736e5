//! What the Run keeps between frames: the day and run shown, a draft that is not kept yet, what is typed and chosen.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::ids::{RunId, YardId};
use crate::domain::run_order::{RunOrder, RunStop};
use crate::domain::world::World;
use crate::planner::run::lights::Lights;
use crate::planner::run::plan::Proposal;
use crate::planner::run::solver::problem::Proof;
use crate::ui::action::{FilePurpose, Goto, Outbox, Wanted};
use crate::ui::event::Event;
use crate::ui::scene::Scene;
use crate::ui::screens::evening::EveningState;
use crate::ui::screens::run::asking::Asking;
use crate::ui::screens::run::edits;
use crate::ui::screens::run::model::RunModel;
use crate::ui::screens::run::typed::Typed;

/// What stands in the place of load and cautions.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Side {
    /// Load and cautions.
    #[default]
    Load,
    /// A stop is being added.
    Add,
    /// A route is being written.
    Route,
    /// Dates are being written.
    Dates,
    /// The list of stops is being written.
    List,
}

/// A field of the choices that a letter brings the keyboard to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Place {
    /// The day.
    Day,
    /// Where it starts.
    From,
    /// When it leaves.
    Leave,
}

/// A proposal as it was taken, to say how sure the order is while it stands.
#[derive(Clone, Debug)]
pub(super) struct Taken {
    /// What was proposed.
    pub proposal: Proposal,
    /// The times it led to; nothing until they are computed.
    pub times: Option<Vec<(YardId, u32, u32)>>,
}

/// Up to so many places without light the screen works it out itself, in a frame.
const FEW: usize = 8;

/// The model last computed, with what it was computed from.
#[derive(Clone, Debug)]
struct Computed {
    version: u64,
    run: RunOrder,
    model: Result<Arc<RunModel>, String>,
}

impl Computed {
    fn shown(&self) -> Shown {
        match &self.model {
            Ok(model) => Shown::Run { run: Box::new(self.run.clone()), model: model.clone() },
            Err(problem) => Shown::Problem(problem.clone()),
        }
    }
}

/// What is to be shown.
#[derive(Clone, Debug)]
pub(super) enum Shown {
    /// A run with its times: the one meant, or for a moment the one before it.
    Run {
        /// The run.
        run: Box<RunOrder>,
        /// Its model.
        model: Arc<RunModel>,
    },
    /// Why it has no times, and the way out.
    Problem(String),
    /// It is being planned.
    Working {
        /// For long enough to say so.
        long: bool,
    },
}

/// What the screen keeps between frames.
#[derive(Clone, Debug, Default)]
pub struct RunState {
    /// Evening entry, while it is open.
    pub(super) evening: Option<EveningState>,
    pub(super) day: Option<Day>,
    pub(super) shown: Option<RunId>,
    draft: Option<(u64, RunOrder)>,
    local: Option<(u64, RunOrder)>,
    /// What is to be asked for it.
    wants: Option<Wanted>,
    /// Yards chosen on the map, of which a new run is to be laid out.
    through: Option<Vec<YardId>>,
    /// The draft was changed by hand: it is not laid out anew.
    by_hand: bool,
    pub(super) asking: Asking,
    lights: Lights,
    pub(super) taken: Option<Taken>,
    computed: Option<Computed>,
    pub(super) selected: Option<YardId>,
    pub(super) reveal: bool,
    pub(super) table: Option<egui::Id>,
    pub(super) dragged: Option<usize>,
    pub(super) side: Side,
    pub(super) typed: Typed,
    pub(super) renaming: bool,
    pub(super) mistake: Option<String>,
    pub(super) ticked: BTreeSet<(RunId, String)>,
    pub(super) add_at: usize,
    pub(super) focus_side: bool,
    /// The menu of what can be sent is to open.
    pub(super) open_send: bool,
    /// This field is to get the keyboard.
    pub(super) bring: Option<Place>,
}

impl RunState {
    /// Takes what the app tells.
    pub fn take(&mut self, event: &Event) {
        match event {
            Event::Refused(_) | Event::LeftUnrecorded => self.local = None,
            Event::Picked { purpose: FilePurpose::Save, path }
                if matches!(self.side, Side::Route | Side::Dates | Side::List) =>
            {
                self.typed.path.clone_from(path);
            }
            _ => {}
        }
        self.asking.take(event);
        if let Some(evening) = &mut self.evening {
            evening.take(event);
        }
    }

    /// Goes where a screen asked to.
    pub fn go(&mut self, goto: &Goto) {
        match goto {
            Goto::RunOf(day) => {
                self.evening = None;
                self.show_day(*day);
            }
            Goto::RunThrough(day, yards) => {
                self.evening = None;
                self.show_day(*day);
                self.begin_anew();
                self.through = Some(yards.clone());
            }
            Goto::Evening(day, run) => {
                self.show_day(*day);
                self.shown = *run;
                self.evening = Some(EveningState::of(*day, *run));
            }
            _ => {}
        }
    }

    /// Shows the runs of another day.
    pub(super) fn show_day(&mut self, day: Day) {
        if self.day == Some(day) {
            return;
        }
        self.day = Some(day);
        self.shown = None;
        self.draft = None;
        self.begin_anew();
    }

    /// Shows another run of the day.
    pub(super) fn show_run(&mut self, run: RunId) {
        self.shown = Some(run);
        self.begin_anew();
    }

    fn begin_anew(&mut self) {
        self.local = None;
        self.taken = None;
        self.selected = None;
        self.dragged = None;
        self.side = Side::Load;
        self.renaming = false;
        self.mistake = None;
    }

    /// The run to be shown; nothing where there is no place to start from.
    pub(super) fn settle(&mut self, scene: &Scene, out: &mut Outbox) -> Option<RunOrder> {
        let world = &scene.world;
        let day = *self.day.get_or_insert_with(|| usual_day(world, scene.today));
        if let Some(yards) = self.through.take() {
            self.lay_out_through(scene, day, RunId(out.new_id()), yards);
        }
        let runs = runs_of(world, day);
        let shown_is_there = self.shown.is_some_and(|shown| {
            runs.iter().any(|run| run.id == shown) || self.draft.as_ref().is_some_and(|(_, draft)| draft.id == shown)
        });
        if !shown_is_there {
            self.shown = runs.first().map(|run| run.id);
        }
        if self.shown.is_none() {
            self.lay_out(scene, day, RunId(out.new_id()));
        }
        let shown = self.shown?;
        self.freshen_draft(scene, day, shown);
        if self.local.as_ref().is_some_and(|(version, run)| *version != scene.version || run.id != shown) {
            self.local = None;
        }
        let run = self.meant(scene, shown)?;
        if let Some(wanted) = self.wants.take()
            && run.stops.len() > 1
        {
            self.asking.ask(&run, wanted, scene.version, out);
        }
        let Some((proposal, lights)) = self.asking.answer(&run, scene.version, out) else { return Some(run) };
        self.lights.take_in(lights);
        if let Some(proposal) = proposal {
            self.take_proposal(scene, shown, proposal, out);
        }
        self.meant(scene, shown)
    }

    /// The run as it stands: changed a moment ago, kept, or a draft.
    fn meant(&self, scene: &Scene, shown: RunId) -> Option<RunOrder> {
        let local = self.local.as_ref().map(|(_, run)| run);
        let draft = self.draft.as_ref().map(|(_, run)| run).filter(|run| run.id == shown);
        local.or_else(|| scene.world.runs.get(&shown)).or(draft).cloned()
    }

    /// Begins another run of the day, with the calling yards that no run has yet.
    pub(super) fn another(&mut self, scene: &Scene, out: &mut Outbox) {
        let Some(day) = self.day else { return };
        self.begin_anew();
        self.lay_out(scene, day, RunId(out.new_id()));
        self.renaming = true;
    }

    fn lay_out(&mut self, scene: &Scene, day: Day, id: RunId) {
        let laid = edits::first_layout(&scene.world, &scene.outlook, day, id);
        self.shown = laid.as_ref().map(|run| run.id);
        self.wants = laid.is_some().then_some(Wanted::Day);
        self.by_hand = false;
        self.draft = laid.map(|run| (scene.version, run));
    }

    /// A draft of exactly these yards: which ones was said by hand, so only their order is proposed.
    fn lay_out_through(&mut self, scene: &Scene, day: Day, id: RunId, yards: Vec<YardId>) {
        self.lay_out(scene, day, id);
        if let Some((_, draft)) = &mut self.draft {
            draft.stops = yards.into_iter().map(|yard| RunStop { yard, locked: false }).collect();
            self.wants = Some(Wanted::Order);
            self.by_hand = true;
        }
    }

    /// A draft follows the world until it is kept.
    fn freshen_draft(&mut self, scene: &Scene, day: Day, shown: RunId) {
        let Some((version, draft)) = &mut self.draft else { return };
        if *version == scene.version || draft.id != shown || scene.world.runs.contains_key(&shown) {
            return;
        }
        if self.by_hand {
            let there = |yard: &YardId| scene.world.yards.contains_key(yard);
            draft.stops.retain(|stop| there(&stop.yard));
            draft.left_out.retain(there);
            *version = scene.version;
            return;
        }
        let stops = |run: &RunOrder| run.stops.iter().map(|stop| stop.yard).collect::<BTreeSet<YardId>>();
        let Some(fresh) = edits::first_layout(&scene.world, &scene.outlook, day, draft.id) else { return };
        // The same yards stay in their order until the new one comes: their work may take longer or shorter now.
        let next = if stops(&fresh) == stops(draft) { draft.clone() } else { fresh };
        self.draft = Some((scene.version, next));
        self.wants = Some(Wanted::Day);
    }

    fn take_proposal(&mut self, scene: &Scene, shown: RunId, mut proposal: Proposal, out: &mut Outbox) {
        for stop in &mut proposal.run.stops {
            stop.locked &= !proposal.unlocked.contains(&stop.yard);
        }
        match scene.world.runs.get(&shown) {
            Some(kept) if *kept != proposal.run => self.change(scene, proposal.run.clone(), out),
            Some(_) => {}
            None => self.draft = Some((scene.version, proposal.run.clone())),
        }
        self.taken = Some(Taken { proposal, times: None });
    }

    /// Asks for an order of exactly the stops of the run.
    pub(super) fn propose(&mut self, scene: &Scene, run: &RunOrder, out: &mut Outbox) {
        self.asking.ask(run, Wanted::Order, scene.version, out);
    }

    /// A yard that was left out comes last on the run. A draft stays one: only what is kept is recorded.
    pub(super) fn put_back(&mut self, scene: &Scene, run: &RunOrder, yard: YardId, out: &mut Outbox) {
        let next = edits::added(run, yard);
        if scene.world.runs.contains_key(&run.id) || self.local.is_some() {
            self.change(scene, next, out);
        } else {
            self.draft = Some((scene.version, next));
            self.by_hand = true;
        }
    }

    /// The run becomes this one: a change, so that it can be undone.
    pub(super) fn change(&mut self, scene: &Scene, run: RunOrder, out: &mut Outbox) {
        self.local = Some((scene.version, run.clone()));
        out.change(Change::PutRun(run));
    }

    /// What is to be shown of the run. `now` in seconds of the window.
    pub(super) fn view_of(&mut self, scene: &Scene, run: &RunOrder, now: f64, out: &mut Outbox) -> Shown {
        let fits = |it: &Computed| it.version == scene.version && it.run == *run;
        if !self.computed.as_ref().is_some_and(fits) {
            let dark = self.lights.missing(&scene.world, run) > FEW && !self.asking.in_vain(scene.version);
            if self.asking.wanted(run.id).is_none() && dark {
                self.asking.ask(run, Wanted::Times, scene.version, out);
            }
            // Its stops stand in no order yet, or its times take long: what was shown before stays for a moment.
            if matches!(self.asking.wanted(run.id), Some(Wanted::Day | Wanted::Times)) {
                let long = self.asking.is_long(now);
                let former = self.computed.as_ref().filter(|_| !long);
                return former.map_or(Shown::Working { long }, Computed::shown);
            }
            let model = RunModel::new(&scene.world, &scene.outlook, run, &mut self.lights).map(Arc::new);
            self.computed = Some(Computed { version: scene.version, run: run.clone(), model });
        }
        let Some(computed) = &self.computed else { return Shown::Working { long: false } };
        if let (Ok(model), Some(taken)) = (&computed.model, &mut self.taken)
            && taken.times.is_none()
            && taken.proposal.run.stops == run.stops
        {
            taken.times = Some(model.times());
        }
        computed.shown()
    }

    /// The stops of the draft stand as they were found: no order was proposed for it.
    pub(super) fn in_no_order(&self, scene: &Scene, run: &RunOrder) -> bool {
        let kept = scene.world.runs.contains_key(&run.id) || self.local.is_some();
        !kept && self.taken.is_none() && run.stops.len() > 1
    }

    /// How sure the order is, while the run stands as it was proposed.
    pub(super) fn proof(&self, model: &RunModel) -> Option<Proof> {
        let taken = self.taken.as_ref()?;
        (taken.times.as_ref() == Some(&model.times())).then_some(taken.proposal.proof)
    }
}

/// The runs of a day that are kept, by vehicle, then by id.
pub(super) fn runs_of(world: &World, day: Day) -> Vec<&RunOrder> {
    let mut runs: Vec<&RunOrder> = world.runs.values().filter(|run| run.day == day).collect();
    runs.sort_by(|a, b| (&a.vehicle, a.id).cmp(&(&b.vehicle, b.id)));
    runs
}

/// The evening before one plans tomorrow; where only today has a run, that one is meant.
fn usual_day(world: &World, today: Day) -> Day {
    let has_run = |day| world.runs.values().any(|run| run.day == day);
    if has_run(today) && !has_run(today.plus(1)) { today } else { today.plus(1) }
}
