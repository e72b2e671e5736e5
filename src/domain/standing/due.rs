//! Due work: every look and step that the state of a colony asks for, with its days and why.

use crate::domain::day::Day;
use crate::domain::plan::Plan;
use crate::domain::standing::bars::forbidding;
use crate::domain::standing::due_words::{look_for, step_how, why};
use crate::domain::standing::state::{Again, Failed, Setting, Stage, State, Trial};
use crate::domain::standing::{ActiveBar, windows};
use crate::domain::visit::Method;
use crate::domain::work::{DueWork, Look, Step, Window, WorkKind};

/// All due work, most urgent first. `resting`: disease is suspected since that day, so only isolating is due.
pub(super) fn due_work(
    s: &Setting<'_>,
    state: &State,
    bars: &[ActiveBar],
    resting: Option<Day>,
    today: Day,
) -> Vec<DueWork> {
    let mut list = List { s, state, bars, today, work: Vec::new() };
    match resting {
        Some(since) => {
            let window = Window { earliest: since, best: since, latest: None };
            list.step(Step::Isolate, window, since, "Disease suspected");
        }
        None => list.all(),
    }
    let mut work = list.work;
    work.sort_by_key(|due| (due.window.latest.is_none(), due.window.latest, due.window.best, due.kind));
    work
}

struct List<'a, 'b> {
    s: &'a Setting<'a>,
    state: &'b State,
    bars: &'b [ActiveBar],
    today: Day,
    work: Vec<DueWork>,
}

impl List<'_, '_> {
    fn all(&mut self) {
        let state = self.state;
        let plan = state.open_plan(self.s, self.today);
        match &state.stage {
            Stage::Dead { .. } => return,
            Stage::Trial(trial) => self.trial(trial),
            Stage::Settled { again: Some(again) } => self.look_again(*again),
            Stage::Settled { again: None } | Stage::Accepted { .. } => {}
            Stage::Waiting => self.waiting(plan),
            Stage::Failed(failed) => self.failed(failed, plan),
        }
        if let Some(given) = state.frame {
            let window = windows::frame(self.s.numbers, given);
            self.look(Look::Frame, window, given, "Test frame given", None);
        }
        if let Some(search) = state.not_found.filter(|search| self.still_wanted(*search)) {
            self.step(Step::FindOldQueen, windows::find_again(self.s.numbers, search), search, "Old queen not found");
        }
        if let Some(seen) = state.rival_cells {
            self.step(Step::CutCells, self.rivals(seen), seen, "Cells seen");
        }
        match plan {
            Some(plan) => self.planned(plan),
            None => self.give_again(),
        }
        self.temper();
        self.mark();
    }

    /// A search is over where the plan it was made for was called off since.
    fn still_wanted(&self, search: Day) -> bool {
        let mut before = self.s.plans.iter().filter(|plan| plan.made <= search).peekable();
        let off = |plan: &&Plan| plan.called_off.is_some_and(|off| off >= search && off <= self.today);
        before.peek().is_none() || matches!(self.state.stage, Stage::Trial(_)) || !before.all(off)
    }

    fn trial(&mut self, trial: &Trial) {
        let n = self.s.numbers;
        if trial.cage_on {
            let window = windows::cage_off(n, trial.day0);
            self.push(WorkKind::Step(Step::CageOff), window, trial.day0, Some(trial.method), "Push-in cage on");
        }
        if let Some((look, window, from)) = windows::pending(n, trial) {
            let what = match (look, trial.method) {
                (Look::Acceptance | Look::FirstBrood | Look::Verdict, Method::Caged) => "Caged queen in",
                (Look::Acceptance | Look::FirstBrood | Look::Verdict, Method::PushIn) => "Push-in cage on",
                (Look::Acceptance | Look::FirstBrood | Look::Verdict, Method::Cell) => "Cell in",
                (Look::Acceptance | Look::FirstBrood | Look::Verdict, Method::Virgin) => "Virgin emerged",
                (Look::Acceptance | Look::FirstBrood | Look::Verdict, Method::Nuc) => "Nuc united",
                (Look::Acceptance | Look::FirstBrood | Look::Verdict, Method::OwnRaising) => "Queenless since",
                (Look::SecondAcceptance, _) => "No eggs",
                (Look::CappedBrood, _) => "Laying late",
                _ => "Last look",
            };
            self.look(look, window, from, what, Some(trial.method));
        }
        if self.state.cut_early
            && self.state.rival_cells.is_none()
            && let Some(d) = self.state.d
        {
            self.step(Step::CutCells, once_more(self.s, d), d, "Queenless since");
        }
    }

    fn look_again(&mut self, again: Again) {
        let what = if again.laying { "Eggs and cells" } else { "Nothing seen" };
        self.look(Look::Again, windows::again(self.s.numbers, again.since), again.since, what, None);
    }

    fn waiting(&mut self, plan: Option<&Plan>) {
        let Some(d) = self.state.d else { return };
        if self.look_first(d, plan) {
            return;
        }
        let n = self.s.numbers;
        let too_soon = plan.is_some_and(|plan| plan.give_on < d.plus(n.cut_cells_earliest()))
            && self.today < d.plus(n.cut_cells_earliest());
        let looked = self.state.looked_first.is_some();
        // Cells that were seen have a step of their own.
        let seen = self.state.rival_cells.is_some();
        if self.state.cut_since(d, n.cells_hopeless_from()) || looked || too_soon || seen {
            return;
        }
        let window = if self.state.cut_since(d, n.cut_cells_earliest()) {
            once_more(self.s, d)
        } else {
            Window::after(d, n.cut_cells_earliest(), n.cut_cells_best(), n.cut_cells_latest())
        };
        self.step(Step::CutCells, window, d, "Queenless since");
    }

    /// From D+10 on an own virgin may be out: look before a caged queen is given.
    fn look_first(&mut self, d: Day, plan: Option<&Plan>) -> bool {
        let n = self.s.numbers;
        let ripe = d.plus(n.own_virgin_from());
        let caged =
            plan.map_or(self.state.give_again.is_some(), |plan| matches!(plan.method, Method::Caged | Method::PushIn));
        let give = plan.map(|plan| plan.give_on).or(self.state.give_again.map(|on| on.plus(n.give_again_after())));
        let needed = caged && !self.state.hopeless(n) && self.state.looked_first.is_none();
        let Some(give) = give.filter(|_| needed) else { return false };
        if self.today < ripe && give.plus(n.give_latest()) < ripe {
            return false;
        }
        let window = Window { earliest: ripe, best: ripe.max(give.plus(-1)), latest: Some(ripe.plus(1).max(give)) };
        self.look(Look::LookFirst, window, d, "Queenless since", plan.map(|plan| plan.method));
        self.today >= ripe
    }

    fn failed(&mut self, failed: &Failed, plan: Option<&Plan>) {
        let n = self.s.numbers;
        if self.state.laying_workers.is_some() {
            self.step(Step::UniteOrShakeOut, windows::find_again(n, failed.on), failed.on, "Laying workers");
        } else if failed.queen_there {
            self.step(Step::RemoveFailed, windows::find_again(n, failed.on), failed.on, "Failed");
        } else if let Some(d) = self.state.d {
            self.look_first(d, plan);
        }
    }

    fn planned(&mut self, plan: &Plan) {
        if forbidding(self.bars, plan.method).is_some_and(|bar| !bar.kind.is_soft()) {
            return;
        }
        let n = self.s.numbers;
        let failed_there = matches!(&self.state.stage, Stage::Failed(failed) if failed.queen_there);
        let searched = self.state.not_found.is_some_and(|search| search >= plan.made);
        if let Some(on) = plan.dequeen_on
            && !self.state.queenless()
            && !failed_there
            && !searched
        {
            let latest = plan.give_on.since(on).max(n.give_latest());
            self.plan_step(Step::Dequeen, Window::after(on, 0, 0, latest), plan);
        }
        if plan.method != Method::OwnRaising {
            self.plan_step(Step::Give, Window::after(plan.give_on, 0, 0, n.give_latest()), plan);
        }
    }

    fn plan_step(&mut self, step: Step, window: Window, plan: &Plan) {
        let what = if step == Step::Give { "Planned for" } else { "Dequeening planned for" };
        self.push(WorkKind::Step(step), window, window.earliest, Some(plan.method), what);
        if let Some(last) = self.work.last_mut() {
            last.plan = Some(plan.id);
        }
    }

    fn give_again(&mut self) {
        if forbidding(self.bars, Method::Caged).is_some_and(|bar| !bar.kind.is_soft()) {
            return;
        }
        if let Some(failed) = self.state.give_again {
            let there = matches!(&self.state.stage, Stage::Failed(failed) if failed.queen_there);
            self.step(Step::Give, windows::give_again(self.s.numbers, failed, there), failed, "Failed");
        } else if let (Stage::Waiting, Some(d)) = (&self.state.stage, self.state.d)
            && self.state.hopeless(self.s.numbers)
        {
            // It can raise none any more and no plan brings her one: without a step it would be forgotten.
            let none = self.state.no_cells > self.state.cells_cut;
            let what = if none { "No cells" } else { "All cells cut" };
            let what = format!("{what} and no queen planned; queenless since");
            self.step(Step::Give, windows::give_to_hopeless(self.s.numbers, d), d, &what);
        }
    }

    fn rivals(&self, seen: Day) -> Window {
        let n = self.s.numbers;
        let Some(d) = self.state.d else { return Window::after(seen, 0, 1, 2) };
        let days = |after: i32, least: i32| d.plus(after).max(seen.plus(least)).since(seen);
        let latest = days(n.cut_cells_latest(), 1);
        Window::after(seen, days(n.cut_cells_earliest(), 0), days(n.cut_cells_best(), 1), latest)
    }

    fn temper(&mut self) {
        let n = self.s.numbers;
        let Some(from) = self.state.temper_from.filter(|_| n.temper_look() == 1) else { return };
        if self.state.temper.is_some_and(|(_, on)| on >= from) || self.state.queenless() {
            return;
        }
        let start = from.plus(-n.temper_from());
        let window = Window::after(start, n.temper_from(), n.temper_look_best(), n.temper_look_latest());
        self.look(Look::Temper, window, start, "Laying since about", None);
    }

    /// Marking has no latest day: she can be marked at any later visit.
    fn mark(&mut self) {
        if self.s.numbers.mark_step() != 1 || !self.state.unmarked() {
            return;
        }
        let (since, what) = match (&self.state.stage, &self.state.last_trial) {
            (Stage::Accepted { on }, _) => (*on, "No dot; accepted"),
            (_, Some(trial)) => (trial.day0, "No dot; given"),
            _ => return,
        };
        let window = Window { earliest: since, best: since, latest: None };
        self.step(Step::Mark, window, since, what);
    }

    fn look(&mut self, look: Look, window: Window, from: Day, what: &str, method: Option<Method>) {
        self.push(WorkKind::Look(look), window, from, method, what);
    }

    fn step(&mut self, step: Step, window: Window, from: Day, what: &str) {
        self.push(WorkKind::Step(step), window, from, None, what);
    }

    fn push(&mut self, kind: WorkKind, window: Window, counted_from: Day, method: Option<Method>, what: &str) {
        self.work.push(DueWork {
            colony: self.s.colony.id,
            kind,
            window,
            counted_from,
            method,
            plan: None,
            why: why(what, counted_from, window),
            look_for: match kind {
                WorkKind::Look(look) => look_for(look, method).to_owned(),
                WorkKind::Step(step) => step_how(step, method).to_owned(),
            },
        });
    }
}

/// Cells cut before D+7 are looked for once more at D+7: larvae young enough for a cell last until then.
fn once_more(s: &Setting<'_>, d: Day) -> Window {
    let n = s.numbers;
    Window::after(d, n.cells_hopeless_from(), n.cells_hopeless_from(), n.cut_cells_latest())
}
