//! Taking a parcel in, or putting one right: from whom, what and how many, sent, arrived or due.

use egui::Ui;

use crate::domain::birth_words::{birth_words, example, read_birth};
use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::day_words::{DateOrder, Lean, read_day};
use crate::domain::decide::decide;
use crate::domain::ids::{ParcelId, SourceId};
use crate::domain::in_hand::sources::{source_named, sources_like};
use crate::domain::parcel::{Parcel, ParcelKind};
use crate::domain::queen::{Birth, Dot, Source};
use crate::domain::standing::age::age_words;
use crate::ui::action::Outbox;
use crate::ui::scene::Scene;
use crate::ui::screens::form;
use crate::ui::screens::programme::model::kind_words;
use crate::ui::widgets::{Button, Field, Fit, MenuChip, Suggest, boxes, chip, focus, parts};

/// What is typed.
#[derive(Clone, Debug)]
pub(super) struct Draft {
    of: Option<ParcelId>,
    from: String,
    suggest: Suggest,
    /// What the source is, where the name typed is to be a new one.
    new: Option<New>,
    kind: ParcelKind,
    count: String,
    dead: String,
    gone: String,
    sent: String,
    arrived: String,
    due: String,
    grafted: String,
    born: String,
    dot: Option<Dot>,
    note: String,
    error: Option<String>,
    focus: bool,
}

/// What a new source is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum New {
    OwnLine,
    Breeder,
}

impl Default for Draft {
    fn default() -> Self {
        Self {
            of: None,
            from: String::new(),
            suggest: Suggest::default(),
            new: None,
            kind: ParcelKind::CagedQueens,
            count: String::new(),
            dead: String::new(),
            gone: String::new(),
            sent: String::new(),
            arrived: "today".to_owned(),
            due: String::new(),
            grafted: String::new(),
            born: String::new(),
            dot: None,
            note: String::new(),
            error: None,
            focus: true,
        }
    }
}

impl Draft {
    /// Sources are listed below the field they are typed in: `Esc` closes the list, not the form.
    pub fn lists_sources(&self) -> bool {
        self.suggest.is_open()
    }

    /// A new parcel, or one as it is known.
    pub fn of(scene: &Scene, parcel: Option<&Parcel>) -> Self {
        let Some(parcel) = parcel else { return Self::default() };
        let day = |day: Option<Day>| day.map_or(String::new(), Day::iso);
        let number = |number: u32| if number == 0 { String::new() } else { number.to_string() };
        let source = parcel.source.and_then(|id| scene.world.sources.get(&id));
        Self {
            of: Some(parcel.id),
            from: source.map_or(String::new(), |source| source.name.clone()),
            suggest: Suggest::default(),
            new: None,
            kind: parcel.kind,
            count: parcel.count.to_string(),
            dead: number(parcel.dead),
            gone: number(parcel.gone),
            sent: day(parcel.sent),
            arrived: day(parcel.arrived),
            due: day(parcel.expected()),
            grafted: day(parcel.grafted),
            born: birth_words(parcel.born, &scene.world),
            dot: parcel.dot,
            note: parcel.note.clone(),
            error: None,
            focus: true,
        }
    }
}

/// Width of the captions.
const COLUMN: f32 = 92.0;

/// What the form answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Answer {
    Stay,
    Close,
    /// Kept; this parcel is the one to give from.
    Kept(ParcelId),
}

/// Draws the form.
pub(super) fn show(ui: &mut Ui, scene: &Scene, draft: &mut Draft, out: &mut Outbox) -> Answer {
    ui.spacing_mut().item_spacing.y = 9.0;
    let title = if draft.of.is_some() { "The parcel" } else { "Take a parcel in" };
    parts::heading(ui, title, "queens or cells that arrive together");
    let mut enter = false;
    let mut alters = from(ui, scene, draft, &mut enter);
    ui.horizontal(|ui| {
        ui.add_space(COLUMN);
        // Chips of a second row begin under the first.
        ui.horizontal_wrapped(|ui| {
            let kinds = [
                ("Caged queens", ParcelKind::CagedQueens),
                ("Mature cells", ParcelKind::Cells),
                ("Virgins", ParcelKind::Virgins),
            ];
            chip::choose(ui, &kinds, &mut draft.kind, false);
        });
    });
    let mut put = |ui: &mut Ui, label: &str, width: f32, hint: &str, help: &str, typed: &mut String| {
        let (changed, entered) = typed_in(ui, Field::new(label).width(width).hint(hint).help(help), typed);
        alters |= changed;
        enter |= entered;
    };
    put(ui, "How many", 70.0, "40", "", &mut draft.count);
    put(ui, "Dead", 70.0, "0", "", &mut draft.dead);
    if draft.of.is_some() {
        put(ui, "Gone", 70.0, "0", "sold, given away, sent back", &mut draft.gone);
    }
    let said = |typed: &str, lean: Lean| day_help(typed, scene.today, lean);
    let help = said(&draft.sent, Lean::Back);
    put(ui, "Sent", 120.0, &scene.today.plus(-3).short().to_lowercase(), &help, &mut draft.sent);
    let help = said(&draft.arrived, Lean::Back);
    let help = if draft.arrived.trim().is_empty() { "empty: still awaited".to_owned() } else { help };
    put(ui, "Arrived", 120.0, "today", &help, &mut draft.arrived);
    if draft.arrived.trim().is_empty() {
        let help = said(&draft.due, Lean::Ahead);
        put(ui, "Due", 120.0, "+3", &help, &mut draft.due);
    }
    if draft.kind == ParcelKind::Cells {
        let help = said(&draft.grafted, Lean::Back);
        put(ui, "Grafted", 120.0, &scene.today.plus(-10).short().to_lowercase(), &help, &mut draft.grafted);
    }
    if draft.kind != ParcelKind::Cells {
        let read = read_birth(&draft.born, &scene.world, scene.today);
        let help = match &read {
            _ if draft.born.trim().is_empty() => "day, month, season or year; empty: not known".to_owned(),
            Ok(birth) if birth.is_unknown() => "not known".to_owned(),
            Ok(birth) => age_words(*birth, &scene.world.firm, &scene.world.settings, scene.today),
            Err(error) => error.to_string(),
        };
        put(ui, "Queens born", 230.0, &example(scene.today), &help, &mut draft.born);
        alters |= dot(ui, &mut draft.dot);
    }
    let (changed, entered) = typed_in(ui, Field::new("Note").width(270.0), &mut draft.note);
    enter |= entered;
    if alters || changed {
        draft.error = None;
    }
    if let Some(error) = &draft.error {
        boxes::note(ui, crate::ui::widgets::Icon::Bar, "", error);
    }
    // On a choice Enter is the form's too.
    let free = !draft.suggest.is_open() && !ui.text_edit_focused() && focus::enter_is_the_forms(ui);
    enter |= free && ui.input_mut(|input| input.consume_key(egui::Modifiers::NONE, egui::Key::Enter));
    let mut answer = Answer::Stay;
    ui.horizontal(|ui| {
        let words = if draft.of.is_some() { "Keep it so".to_owned() } else { "Take it in".to_owned() };
        let save = Button::primary(&words).key("Enter").show(ui).clicked();
        if save || enter {
            match change(scene, draft, out).and_then(|(parcel, change)| {
                decide(&scene.world, &change, scene.today).map_err(|refusal| format!("{refusal}."))?;
                Ok((parcel, change))
            }) {
                Ok((parcel, change)) => {
                    out.change(change);
                    answer = Answer::Kept(parcel);
                }
                Err(words) => draft.error = Some(words),
            }
        }
        if Button::outlined("Close").key("Esc").show(ui).clicked() {
            answer = Answer::Close;
        }
    });
    answer
}

/// A field in its column: whether something was typed, and whether `Enter` was pressed in it.
fn typed_in(ui: &mut Ui, field: Field<'_>, typed: &mut String) -> (bool, bool) {
    let response = field.column(COLUMN).show(ui, typed);
    (response.changed(), form::entered(ui, &response))
}

/// The dot they came with. True where another was chosen.
fn dot(ui: &mut Ui, dot: &mut Option<Dot>) -> bool {
    let names: Vec<&str> = std::iter::once("none").chain(Dot::ALL.map(Dot::name)).collect();
    let now = dot.map_or("none", Dot::name);
    let picked = parts::captioned(ui, COLUMN, "Their dot", |ui| MenuChip::unnamed("Their dot", now).show(ui, &names));
    let Some(at) = picked else { return false };
    *dot = at.checked_sub(1).and_then(|at| Dot::ALL.get(at)).copied();
    true
}

fn day_help(typed: &str, today: Day, lean: Lean) -> String {
    if typed.trim().is_empty() {
        return String::new();
    }
    match read_day(typed, today, DateOrder::DayMonth, lean) {
        Ok(day) if day.year() == today.year() => day.with_weekday(),
        Ok(day) => day.long(),
        Err(error) => error.what,
    }
}

/// The field of the source, with those that fit below it; a new one is made only where it is said to be new. True where
/// something was typed.
fn from(ui: &mut Ui, scene: &Scene, draft: &mut Draft, enter: &mut bool) -> bool {
    let known = source_named(&scene.world, &draft.from);
    let is_new = known.is_none() && !draft.from.trim().is_empty();
    let help = match &known {
        Some(source) => kind_of_source(source),
        None if !is_new => "breeder or own line",
        None if draft.new == Some(New::OwnLine) => "new: own line",
        None if draft.new == Some(New::Breeder) => "new: outside breeder",
        None => "no source of that name: take one listed, or say that it is new",
    };
    let field = Field::new("From").column(COLUMN).width(270.0).hint("a name").help(help);
    let fits = |typed: &str| -> Vec<Fit> {
        let like = sources_like(&scene.world, typed);
        if source_named(&scene.world, typed).is_some() && like.len() == 1 {
            return Vec::new();
        }
        let fit = |it: &Source| Fit { name: it.name.clone(), words: format!("{}, {}", it.name, kind_of_source(it)) };
        like.into_iter().map(fit).collect()
    };
    let response = draft.suggest.show(ui, field, &mut draft.from, fits);
    if std::mem::take(&mut draft.focus) {
        response.request_focus();
    }
    if response.changed() {
        draft.new = None;
    }
    *enter |= form::entered(ui, &response);
    if is_new {
        ui.horizontal(|ui| {
            ui.add_space(COLUMN);
            let of = [("New own line", Some(New::OwnLine)), ("New outside breeder", Some(New::Breeder))];
            if chip::choose(ui, &of, &mut draft.new, false) {
                draft.error = None;
            }
        });
    }
    response.changed()
}

fn kind_of_source(source: &Source) -> &'static str {
    if source.own { "own line" } else { "outside breeder" }
}

/// The parcel and the change that the form asks for, or why what is typed cannot be used.
fn change(scene: &Scene, draft: &Draft, out: &mut Outbox) -> Result<(ParcelId, Change), String> {
    let number = |typed: &str, what: &str, empty: Option<u32>| -> Result<u32, String> {
        match (typed.trim(), empty) {
            ("", Some(number)) => Ok(number),
            (typed, _) => typed.parse().map_err(|_| format!("{what} is no whole number. Type one.")),
        }
    };
    let day = |typed: &str, lean: Lean| -> Result<Option<Day>, String> {
        if typed.trim().is_empty() {
            return Ok(None);
        }
        let read = read_day(typed, scene.today, DateOrder::DayMonth, lean);
        read.map(Some).map_err(|error| format!("{error}."))
    };
    if draft.from.trim().is_empty() {
        return Err("It says not from whom. Type the breeder or own line.".to_owned());
    }
    let known = source_named(&scene.world, &draft.from);
    if known.is_none() && draft.new.is_none() {
        let name = draft.from.trim();
        return Err(match sources_like(&scene.world, name).first() {
            Some(like) => {
                format!("No source is called {name}. Take {} from the list, or say that it is new.", like.name)
            }
            None => format!("No source is called {name}. Say whether it is a new own line or a new outside breeder."),
        });
    }
    let source = known.as_ref().map_or_else(|| SourceId(out.new_id()), |source| source.id);
    let before = draft.of.and_then(|id| scene.world.parcels.get(&id));
    let arrived = day(&draft.arrived, Lean::Back)?;
    let due = day(&draft.due, Lean::Ahead)?;
    let cells = draft.kind == ParcelKind::Cells;
    let same_due = before.is_some_and(|before| before.expected() == due);
    let parcel = Parcel {
        id: draft.of.unwrap_or_else(|| ParcelId(out.new_id())),
        source: Some(source),
        kind: draft.kind,
        count: number(&draft.count, "How many", None)?,
        dead: number(&draft.dead, "Dead", Some(0))?,
        gone: number(&draft.gone, "Gone", Some(0))?,
        sent: day(&draft.sent, Lean::Back)?,
        due: if same_due { before.and_then(|before| before.due) } else { due },
        promised: if same_due { before.and_then(|before| before.promised) } else { None },
        arrived,
        grafted: if draft.kind == ParcelKind::Cells { day(&draft.grafted, Lean::Back)? } else { None },
        born: if cells { Birth::default() } else { born(scene, draft, before)? },
        dot: draft.dot.filter(|_| !cells),
        closed: before.is_some_and(|before| before.closed),
        note: draft.note.trim().to_owned(),
    };
    let id = parcel.id;
    let Some(new) = draft.new.filter(|_| known.is_none()) else {
        return Ok((id, Change::PutParcel(parcel)));
    };
    let name = draft.from.trim().to_owned();
    let title = format!("{} {} from {name}", parcel.count, kind_words(parcel.kind, parcel.count));
    let new = Change::PutSource(Source { id: source, name, own: new == New::OwnLine });
    Ok((id, Change::Several { title, changes: vec![new, Change::PutParcel(parcel)] }))
}

/// The birth as typed; as it was known where the field says the same.
fn born(scene: &Scene, draft: &Draft, before: Option<&Parcel>) -> Result<Birth, String> {
    match before {
        Some(before) if birth_words(before.born, &scene.world) == draft.born.trim() => Ok(before.born),
        _ => read_birth(&draft.born, &scene.world, scene.today).map_err(|error| format!("{error}.")),
    }
}
