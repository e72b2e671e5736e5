//! The preview of a file that is brought in: what each row will do, what is wrong and where, one field to mend.
//! Nothing is written before it is confirmed.

mod header;
mod model;
mod rows;
mod side;

use std::time::Duration;

use egui::{Key, Modifiers, Ui};

use crate::ui::action::{Action, ImportOptions, Outbox};
use crate::ui::import_model::{ImportModel, ImportWill};
use crate::ui::scene::Scene;
use crate::ui::screens::bands;
use crate::ui::theme;
use crate::ui::widgets::progress::grouped;
use crate::ui::widgets::{Button, Chip, MenuChip, boxes, focus, parts};

/// What the preview keeps between frames.
#[derive(Clone, Debug, Default)]
pub(super) struct ImportState {
    /// The file as read last.
    pub model: Option<Box<ImportModel>>,
    /// How it is read.
    pub options: ImportOptions,
    /// It is being read again; nothing can be confirmed meanwhile.
    pub reading: bool,
    /// It was confirmed and is being recorded.
    pub applying: bool,
    /// Rows of this kind alone.
    show: Option<ImportWill>,
    /// The rows shown, by their place in the model.
    shown: Vec<usize>,
    /// The chosen row, by its place in the model.
    row: Option<usize>,
    /// Which of its problems is to be mended.
    problem: usize,
    /// The field that is being mended, as typed.
    typed: String,
    /// The chosen row is to be scrolled to.
    reveal: bool,
}

impl ImportState {
    /// A file was read, for the first time or again.
    pub fn read(&mut self, model: Box<ImportModel>) {
        let again = self.model.as_ref().is_some_and(|before| before.path == model.path);
        let number = self.chosen_row().map(|row| row.number).filter(|_| again);
        if !again {
            let options = std::mem::take(&mut self.options);
            *self = Self { options, ..Self::default() };
        }
        self.reading = false;
        self.row = number.and_then(|number| model.rows.iter().position(|row| row.number == number));
        self.model = Some(model);
        self.refilter();
        // A row that has been mended gives way to the next problem.
        let mended = self.chosen_row().is_none_or(|row| row.will != ImportWill::HoldBack);
        let next = self.model.as_ref().and_then(|model| model::next_problem(model, self.row, true));
        if mended && next.is_some() {
            self.step(true);
        } else {
            self.choose(self.row, true);
        }
    }

    fn chosen_row(&self) -> Option<&crate::ui::import_model::ImportRow> {
        self.model.as_ref()?.rows.get(self.row?)
    }

    fn choose(&mut self, row: Option<usize>, reveal: bool) {
        self.row = row;
        self.reveal = reveal;
        self.problem = 0;
        self.typed = self.mended_cell().unwrap_or_default();
    }

    /// The text of the cell that is to be mended.
    fn mended_cell(&self) -> Option<String> {
        let row = self.chosen_row()?;
        let column = row.problems.get(self.problem)?.column?;
        row.cells.get(column).cloned()
    }

    /// To the next (or previous) row with a problem, round the end.
    fn step(&mut self, forward: bool) {
        let Some(model) = &self.model else { return };
        let next = model::next_problem(model, self.row, forward);
        if next.is_some() {
            if next.is_some_and(|next| !self.shown.contains(&next)) {
                self.show = None;
                self.refilter();
            }
            self.choose(next, true);
        }
    }

    fn refilter(&mut self) {
        let Some(model) = &self.model else { return };
        self.shown = model::rows_shown(model, self.show);
    }

    /// Reads the file anew with other options.
    fn read_again(&mut self, out: &mut Outbox) {
        if let Some(model) = &self.model {
            self.reading = true;
            out.push(Action::ReadImport { path: model.path.clone(), options: self.options.clone() });
        }
    }

    /// Corrects the chosen field and reads the file anew.
    fn mend(&mut self, out: &mut Outbox) {
        let Some((row, problem)) = self.chosen_row().and_then(|row| Some((row, row.problems.get(self.problem)?)))
        else {
            return;
        };
        let column = problem.column.and_then(|column| self.model.as_ref()?.columns.get(column));
        let Some(column) = column else { return };
        let heading = column.ours.clone().unwrap_or_else(|| column.theirs.clone());
        let number = row.number;
        self.options.corrections.retain(|(row, name, _)| (*row, name) != (number, &heading));
        self.options.corrections.push((number, heading, self.typed.trim().to_owned()));
        self.read_again(out);
    }
}

/// What stands in the status line while the preview is shown: `Nothing is written yet.`, `Read in 0.2 s.`
pub(super) fn status_words(model: &ImportModel) -> (&'static str, String) {
    let read =
        if model.read_ms < 50 { "less than 0.1".to_owned() } else { format!("{:.1}", model.read_ms as f64 / 1000.0) };
    ("Nothing is written yet.", format!("Read in {read} s."))
}

/// Draws the preview. True when it is to be left.
pub(super) fn show(ui: &mut Ui, scene: &Scene, state: &mut ImportState, out: &mut Outbox) -> bool {
    let Some(model) = state.model.take() else { return true };
    let mut leave = false;
    let asked = keys(ui, state);
    let rows = model.rows.len();
    let fact = format!("Bringing in {}: {}.", model.name, model::count(rows, "row"));
    let held = match model.held_back {
        0 => "none is held back".to_owned(),
        1 => "1 is held back".to_owned(),
        many => format!("{} are held back", grouped(many.into())),
    };
    let rest = format!("{} can come in, {held}.", grouped(model.ready.into()));
    let rest = if state.applying { "The rows are being brought in.".to_owned() } else { rest };
    let why_not = why_not(scene, &model, state);
    let mut apply = asked == Some(Asked::Apply);
    bands::sentence(ui, &fact, &rest, |ui| {
        let stays = state.applying.then_some("The rows are being brought in.");
        leave = Button::outlined("Cancel").key("Esc").why_not(stays).show(ui).clicked() || asked == Some(Asked::Leave);
        let words = format!("Bring in {}", model::count(model.ready as usize, "row"));
        apply |= Button::primary(&words).key("Ctrl Enter").why_not(why_not).show(ui).clicked();
    });
    if apply && why_not.is_none() {
        state.applying = true;
        out.push(Action::ApplyImport);
    }
    filters(ui, state, &model, out);
    if model.dates_ambiguous {
        ask_dates(ui, state, &model, out);
    }
    state.model = Some(model);
    match asked {
        Some(Asked::Next) => state.step(true),
        Some(Asked::Previous) => state.step(false),
        _ => {}
    }
    bands::right_panel(ui, 372.0, |ui| side::show(ui, state, out));
    bands::body(ui, |ui| rows::show(ui, state, out));
    if leave {
        out.push(Action::DropImport);
        *state = ImportState::default();
    }
    leave
}

fn why_not(scene: &Scene, model: &ImportModel, state: &ImportState) -> Option<&'static str> {
    if scene.register.as_ref().is_some_and(|register| register.read_only.is_some()) {
        Some("The register is open to look only. Open it, or a copy of it, to write.")
    } else if state.applying {
        Some("The rows are being brought in.")
    } else if state.reading || scene.job.is_some() {
        Some("The file is being read. Wait until it is done.")
    } else if model.dates_ambiguous {
        Some("The dates can be read both ways. Say first which comes first, day or month.")
    } else if model.ready == 0 {
        Some("No row can come in. Mend one first, or choose another file.")
    } else {
        None
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Asked {
    Apply,
    Leave,
    Next,
    Previous,
}

fn keys(ui: &Ui, state: &ImportState) -> Option<Asked> {
    if egui::Popup::is_any_open(ui) {
        return None;
    }
    let pressed = |modifiers, key| ui.input_mut(|input| input.consume_key(modifiers, key));
    if pressed(Modifiers::COMMAND, Key::Enter) {
        return Some(Asked::Apply);
    }
    if pressed(Modifiers::SHIFT, Key::F8) {
        return Some(Asked::Previous);
    }
    if pressed(Modifiers::NONE, Key::F8) {
        return Some(Asked::Next);
    }
    // In the field the first Esc only leaves the field.
    if state.applying {
        return None;
    }
    let free = !ui.text_edit_focused() && !state.reading || focus::keys_are_free(ui);
    (free && pressed(Modifiers::NONE, Key::Escape)).then_some(Asked::Leave)
}

fn filters(ui: &mut Ui, state: &mut ImportState, model: &ImportModel, out: &mut Outbox) {
    let mut show = state.show;
    let mut day_first = None;
    let mut encoding = None;
    let table = model::is_table(model);
    bands::choices(
        ui,
        |ui| {
            parts::caption(ui, "Show");
            if Chip::choice("All", show.is_none()).count(&model.rows.len().to_string()).show(ui).clicked() {
                show = None;
            }
            for will in [ImportWill::Add, ImportWill::Change, ImportWill::Same, ImportWill::HoldBack] {
                let count = model.rows.iter().filter(|row| row.will == will).count().to_string();
                if Chip::choice(will.words(), show == Some(will)).count(&count).show(ui).clicked() {
                    show = Some(will);
                }
            }
        },
        |ui| {
            if !table {
                parts::caption(ui, &format!("Read as {}", model.kind));
                return;
            }
            parts::caption(ui, "Dates read as");
            let now = model::DATE_ORDERS[usize::from(!model.day_first)];
            day_first = MenuChip::unnamed("Dates read as", now).show(ui, &model::DATE_ORDERS);
            ui.add_space(8.0);
            parts::caption(ui, "Letters");
            encoding = MenuChip::unnamed("Letters", &model.encoding).show(ui, &model::ENCODINGS);
        },
    );
    if show != state.show {
        state.show = show;
        state.model_filtered(model);
    }
    if let Some(at) = day_first {
        state.options.day_first = Some(at == 0);
        state.reading = true;
        out.push(Action::ReadImport { path: model.path.clone(), options: state.options.clone() });
    }
    if let Some(at) = encoding {
        state.options.encoding = Some(model::ENCODINGS[at].to_lowercase());
        state.reading = true;
        out.push(Action::ReadImport { path: model.path.clone(), options: state.options.clone() });
    }
}

impl ImportState {
    fn model_filtered(&mut self, model: &ImportModel) {
        self.shown = model::rows_shown(model, self.show);
    }
}

fn ask_dates(ui: &mut Ui, state: &mut ImportState, model: &ImportModel, out: &mut Outbox) {
    let t = theme::tokens(ui);
    let frame = egui::Frame::new().fill(t.surface_panel).inner_margin(egui::Margin::symmetric(16, 8));
    let mut chosen = None;
    egui::Panel::top("dates").frame(frame).show_separator_line(true).show(ui, |ui| {
        ui.horizontal(|ui| {
            let example = model::ambiguous_date(model).unwrap_or("12/11/2026");
            let fact = format!("Dates such as {example} can be read both ways.");
            let job = crate::ui::theme::text::fact_and_rest(
                t,
                crate::ui::theme::text::TABLE,
                &fact,
                "Which stands first? It is asked once for the whole file.",
            );
            ui.label(job);
            for (at, words) in ["Day first", "Month first"].into_iter().enumerate() {
                if Button::outlined(words).small().show(ui).clicked() {
                    chosen = Some(at == 0);
                }
            }
        });
    });
    if let Some(day_first) = chosen {
        state.options.day_first = Some(day_first);
        state.reading = true;
        out.push(Action::ReadImport { path: model.path.clone(), options: state.options.clone() });
    }
}

/// The line that stands while a file is read for the first time.
pub(super) fn waiting(ui: &mut Ui, scene: &Scene, out: &mut Outbox) {
    // How far it is is seen without anybody touching the window.
    ui.request_repaint_after(Duration::from_millis(250));
    let words = scene.job.as_ref().map_or(String::new(), |job| format!("{} {}", job.title, job.progress));
    boxes::empty_state(ui, "The file is being read.", words.trim());
    if Button::outlined("Stop").show(ui).clicked() {
        out.push(Action::DropImport);
    }
}
