//! What evening entry keeps between frames: the rows with what is typed, where one is, and what was just done.

use std::collections::BTreeMap;

use egui::{Event as Input, Id};

use crate::domain::day::Day;
use crate::domain::grammar::codes::{RowCommand, parse, trailing_jump};
use crate::domain::ids::{ColonyId, RunId, YardId};
use crate::domain::run_order::{RunOrder, RunStop};
use crate::ui::action::{Action, Outbox};
use crate::ui::event::Event;
use crate::ui::scene::Scene;
use crate::ui::screens::evening::draft::Draft;
use crate::ui::screens::evening::read::{Jump, Said, above, blanks, jump, read};
use crate::ui::screens::evening::record::{About, Check, change_of, check, with_run};
use crate::ui::screens::evening::rows::{Row, Rows, Wanted};

/// A question in the way of everything else.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Question {
    /// These codes in every blank row?
    Fill(String),
    /// Why are recorded rows put right?
    Reason {
        typed: String,
        /// The field has had the keyboard.
        begun: bool,
    },
}

/// What was read of a row, and from what.
#[derive(Clone, Debug)]
struct Reading {
    text: String,
    made_for: u64,
    said: Said,
}

/// What evening entry keeps between frames.
#[derive(Clone, Debug)]
pub struct EveningState {
    pub(super) day: Day,
    run: Option<RunId>,
    /// The run as it was shown, kept or not.
    order: Option<RunOrder>,
    stops: Vec<YardId>,
    pub(super) by: String,
    pub(super) day_text: String,
    pub(super) day_typing: bool,
    pub(super) by_typing: bool,
    pub(super) mistake: Option<String>,
    added: Vec<ColonyId>,
    pub(super) rows: Rows,
    made_for: Option<u64>,
    pub(super) current: usize,
    /// What stood in the current row when it was entered.
    before: String,
    steps: Vec<Vec<(ColonyId, String)>>,
    readings: BTreeMap<ColonyId, Reading>,
    checked: Option<Check>,
    pub(super) question: Option<Question>,
    recording: Option<u64>,
    /// The current row is to be scrolled into view, with this many rows beyond it.
    pub(super) reveal: Option<isize>,
    was_wrong: bool,
    /// The field of the current row, as it was last drawn.
    pub(super) field: Option<Id>,
    /// Input that came in one frame after a key that leaves the row: it belongs to the next row.
    pub(super) held: Vec<Input>,
}

impl EveningState {
    /// The evening of a day, of one run or of the whole day.
    pub fn of(day: Day, run: Option<RunId>) -> Self {
        Self {
            day,
            run,
            order: None,
            stops: Vec::new(),
            by: String::new(),
            day_text: String::new(),
            day_typing: false,
            by_typing: false,
            mistake: None,
            added: Vec::new(),
            rows: Rows::default(),
            made_for: None,
            current: 0,
            before: String::new(),
            steps: Vec::new(),
            readings: BTreeMap::new(),
            checked: None,
            question: None,
            recording: None,
            reveal: Some(0),
            was_wrong: false,
            field: None,
            held: Vec::new(),
        }
    }

    /// The evening of a run that is shown, kept or not: its hives in its order.
    pub fn of_run(run: &RunOrder) -> Self {
        let stops = run.stops.iter().map(|stop| stop.yard).collect();
        Self { stops, order: Some(run.clone()), ..Self::of(run.day, Some(run.id)) }
    }

    /// Takes what the app tells.
    pub fn take(&mut self, event: &Event) {
        if let Event::Refused(_) | Event::Failed(_) | Event::NotWritten(_) = event {
            self.recording = None;
        }
    }

    /// Brings the rows up to the world; what was typed stays.
    pub(super) fn settle(&mut self, scene: &Scene, out: &mut Outbox) {
        if self.made_for == Some(scene.version) {
            return;
        }
        let first = self.made_for.is_none();
        let recorded = self.recording.take().is_some();
        if first {
            self.by.clone_from(&scene.prefs.initials);
            self.choose_stops(scene);
        }
        self.make_rows(scene, !recorded);
        if first {
            self.restore(scene);
            self.before = self.rows.hives.get(self.current).map_or(String::new(), |row| row.text.clone());
        }
        if recorded {
            self.steps.clear();
            out.push(Action::KeepDraft(String::new()));
        }
    }

    /// Without a run, the day's runs that are kept give the order.
    fn choose_stops(&mut self, scene: &Scene) {
        if !self.stops.is_empty() {
            return;
        }
        let mut runs: Vec<&RunOrder> = match self.run {
            Some(run) => scene.world.runs.get(&run).into_iter().collect(),
            None => scene.world.runs.values().filter(|run| run.day == self.day).collect(),
        };
        runs.sort_by(|a, b| (&a.vehicle, a.id).cmp(&(&b.vehicle, b.id)));
        for stop in runs.into_iter().flat_map(|run| &run.stops) {
            if !self.stops.contains(&stop.yard) {
                self.stops.push(stop.yard);
            }
        }
    }

    fn make_rows(&mut self, scene: &Scene, carry: bool) {
        let here = self.rows.hives.get(self.current).map(|row| row.colony);
        let old = std::mem::take(&mut self.rows);
        let wanted = Wanted { stops: self.stops.clone(), added: self.added.clone() };
        self.rows = Rows { from: old.from, ..Rows::new(scene, self.day, &wanted) };
        if carry {
            for row in old.hives.into_iter().filter(Row::is_changed) {
                if let Some(at) = self.rows.position(row.colony)
                    && let Some(new) = self.rows.hives.get_mut(at)
                {
                    new.text = row.text;
                    new.from = row.from;
                }
            }
        }
        self.made_for = Some(scene.version);
        self.readings.clear();
        self.checked = None;
        self.current = here.and_then(|colony| self.rows.position(colony)).unwrap_or(0);
        self.before = self.rows.hives.get(self.current).map_or(String::new(), |row| row.text.clone());
        self.reveal = Some(0);
    }

    fn restore(&mut self, scene: &Scene) {
        let kept = scene.prefs.draft.as_deref().and_then(|text| Draft::from_text(text, self.day));
        let Some(draft) = kept else {
            // One begins at the first row that is still blank.
            self.current = self.rows.hives.iter().position(Row::is_blank).unwrap_or(0);
            return;
        };
        if self.unkept(scene).is_some() && !draft.stops.is_empty() && draft.stops != self.stops {
            // A run that is not kept may be proposed otherwise by now; what was typed followed the sheet.
            self.stops.clone_from(&draft.stops);
            self.make_rows(scene, true);
        }
        let missing = draft.rows.iter().map(|(colony, ..)| *colony).filter(|it| self.rows.position(*it).is_none());
        self.added.extend(missing);
        if !self.added.is_empty() {
            self.make_rows(scene, true);
        }
        for (colony, text, from) in draft.rows {
            if let Some(at) = self.rows.position(colony)
                && let Some(row) = self.rows.hives.get_mut(at)
            {
                row.text = text;
                row.from = from;
            }
        }
        self.by = draft.by;
        self.rows.from = draft.from;
        self.current = draft.current.and_then(|colony| self.rows.position(colony)).unwrap_or(0);
    }

    /// Another day: its rows, with what was typed.
    pub(super) fn show_day(&mut self, scene: &Scene, day: Day) {
        self.day = day;
        self.mistake = None;
        self.make_rows(scene, true);
    }

    /// What a row says.
    pub(super) fn said(&mut self, scene: &Scene, at: usize) -> Said {
        let Some(row) = self.rows.hives.get(at).filter(|row| !row.is_blank() || row.kept.is_some()) else {
            return Said::Blank;
        };
        let fresh = |it: &&Reading| it.text == row.text && it.made_for == scene.version && !is_command(&it.text);
        if let Some(reading) = self.readings.get(&row.colony).filter(fresh) {
            return reading.said.clone();
        }
        let said = read(&scene.world, &self.rows, at, self.day, &self.by);
        let reading = Reading { text: row.text.clone(), made_for: scene.version, said: said.clone() };
        self.readings.insert(row.colony, reading);
        said
    }

    /// A row that has just become wrong is higher, and is to be seen whole.
    pub(super) fn note_wrong(&mut self, wrong: bool) {
        if wrong && !std::mem::replace(&mut self.was_wrong, wrong) {
            self.reveal = Some(0);
        }
        self.was_wrong = wrong;
    }

    /// What recording would bring about, as of the last row that was left.
    pub(super) fn check(&mut self, scene: &Scene) -> Check {
        if let Some(check) = &self.checked {
            return check.clone();
        }
        let about = About { day: self.day, by: &self.by, reason: "" };
        let made = check(scene, &self.rows, about);
        self.checked = Some(made.clone());
        made
    }

    /// Something was typed in the current row.
    pub(super) fn typed(&mut self, out: &mut Outbox) {
        self.keep(out);
    }

    /// Other initials were typed.
    pub(super) fn by_typed(&mut self, out: &mut Outbox) {
        self.readings.clear();
        self.checked = None;
        self.keep(out);
    }

    /// Where the queen of the current row, or those of all rows, are from was chosen.
    pub(super) fn parcel_chosen(&mut self, out: &mut Outbox) {
        self.readings.clear();
        self.checked = None;
        self.keep(out);
    }

    /// Keeps the draft in case the program ends.
    pub(super) fn keep(&mut self, out: &mut Outbox) {
        let draft = Draft::of(self.day, &self.by, &self.rows, self.current);
        out.push(Action::KeepDraft(Draft { stops: self.stops.clone(), ..draft }.to_text()));
    }

    /// To another row; what was typed in this one counts.
    pub(super) fn to(&mut self, row: usize) {
        self.leave();
        let from = self.current;
        self.current = row.min(self.rows.hives.len().saturating_sub(1));
        self.before = self.rows.hives.get(self.current).map_or(String::new(), |row| row.text.clone());
        // What comes next is in view too.
        self.reveal = Some(if self.current < from { -2 } else { 2 });
    }

    fn leave(&mut self) {
        let Some(row) = self.rows.hives.get(self.current) else { return };
        if row.text != self.before {
            self.steps.push(vec![(row.colony, std::mem::take(&mut self.before))]);
            self.before.clone_from(&row.text);
            self.checked = None;
        }
    }

    /// The row below; below the last one, the first that is still blank.
    fn after(&self, at: usize) -> usize {
        let blank = || self.rows.hives.iter().position(|row| row.is_blank() && row.kept.is_none());
        if at + 1 < self.rows.hives.len() { at + 1 } else { blank().unwrap_or(at) }
    }

    /// `Enter` in the current row: carries out its command, or goes on to the next row.
    pub(super) fn enter(&mut self, scene: &Scene, out: &mut Outbox) {
        let at = self.current;
        let Some(colony) = self.rows.hives.get(at).map(|row| row.colony) else { return };
        if let Said::Wrong { .. } = self.said(scene, at) {
            return;
        }
        let text = self.rows.hives.get(at).map_or("", |row| row.text.as_str());
        let (command, before) = match trailing_jump(text) {
            // The codes before the jump stay in the row.
            Some((kept, hive)) => (Some(RowCommand::Jump(hive.to_owned())), kept.to_owned()),
            None => (parse(text).ok().and_then(|codes| codes.command), self.before.clone()),
        };
        match command {
            None => self.to(self.after(at)),
            Some(RowCommand::SameAsAbove) => {
                let Ok(text) = above(&self.rows, at).map(|row| row.text.clone()) else { return };
                self.put(at, text);
                self.to(self.after(at));
            }
            Some(RowCommand::FillBlank(codes)) => self.question = Some(Question::Fill(codes)),
            Some(RowCommand::Jump(typed)) => {
                let Ok(jump) = jump(&scene.world, &self.rows, at, &typed) else { return };
                self.put(at, before);
                let to = match jump {
                    Jump::Row(row) => Some(row),
                    Jump::Add(colony) => {
                        self.added.push(colony);
                        self.make_rows(scene, true);
                        self.rows.position(colony)
                    }
                };
                self.to(to.or_else(|| self.rows.position(colony)).unwrap_or(0));
            }
        }
        self.keep(out);
    }

    /// Fills the blank rows.
    pub(super) fn fill(&mut self, codes: &str, out: &mut Outbox) {
        let filled = blanks(&self.rows, self.current);
        let mut step = Vec::new();
        for at in filled {
            let Some(row) = self.rows.hives.get_mut(at) else { continue };
            let before = if at == self.current { std::mem::take(&mut self.before) } else { row.text.clone() };
            step.push((row.colony, before));
            codes.clone_into(&mut row.text);
        }
        self.steps.push(step);
        codes.clone_into(&mut self.before);
        self.checked = None;
        self.keep(out);
    }

    /// Takes back what was typed in this row, else the last row or filling.
    pub(super) fn undo(&mut self, out: &mut Outbox) {
        let here = self.rows.hives.get(self.current).map(|row| row.text.clone());
        if here.is_some_and(|text| text != self.before) {
            self.put(self.current, self.before.clone());
        } else if let Some(step) = self.steps.pop() {
            let first = step.first().map(|(colony, _)| *colony);
            for (colony, text) in step {
                if let Some(at) = self.rows.position(colony) {
                    self.put(at, text);
                }
            }
            self.current = first.and_then(|colony| self.rows.position(colony)).unwrap_or(self.current);
            self.before = self.rows.hives.get(self.current).map_or(String::new(), |row| row.text.clone());
            self.reveal = Some(0);
        }
        self.checked = None;
        self.keep(out);
    }

    fn put(&mut self, at: usize, text: String) {
        if let Some(row) = self.rows.hives.get_mut(at) {
            row.text = text;
        }
    }

    /// The run of the evening in the order of its rows, where the register does not have it.
    fn unkept(&self, scene: &Scene) -> Option<RunOrder> {
        let order = self.order.as_ref().filter(|order| order.day == self.day && !order.stops.is_empty())?;
        if scene.world.runs.contains_key(&order.id) {
            return None;
        }
        let as_set = |yard: &YardId| order.stops.iter().find(|stop| stop.yard == *yard).copied();
        let stop = |yard: &YardId| as_set(yard).unwrap_or(RunStop { yard: *yard, locked: false });
        Some(RunOrder { stops: self.stops.iter().map(stop).collect(), ..order.clone() })
    }

    /// Records the evening, after asking why where older rows are put right.
    pub(super) fn record(&mut self, scene: &Scene, reason: &str, out: &mut Outbox) {
        self.leave();
        let check = self.check(scene);
        if check.refusal.is_some() || self.recording.is_some() {
            return;
        }
        if check.amended > 0 && reason.trim().is_empty() {
            self.question = Some(Question::Reason { typed: String::new(), begun: false });
            return;
        }
        self.question = None;
        let about = About { day: self.day, by: &self.by, reason };
        if let Ok(Some(change)) = change_of(&scene.world, &self.rows, about, &mut || out.new_id()) {
            let change = with_run(&scene.world, change, self.unkept(scene));
            self.recording = Some(scene.version);
            out.change(change);
        }
    }
}

/// What such a row says depends on the other rows.
fn is_command(text: &str) -> bool {
    text.trim_start().starts_with(['.', '=', '*'])
}
