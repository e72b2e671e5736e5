//! Taking a parcel in, or putting one right: from whom, what and how many, sent, arrived or due.

use egui::Ui;

use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::day_words::{DateOrder, Lean, read_day};
use crate::domain::decide::decide;
use crate::domain::fold_text::fold;
use crate::domain::ids::{ParcelId, SourceId};
use crate::domain::parcel::{Parcel, ParcelKind};
use crate::domain::queen::{Birth, Source};
use crate::ui::action::Outbox;
use crate::ui::scene::Scene;
use crate::ui::screens::form;
use crate::ui::screens::programme::model::kind_words;
use crate::ui::widgets::{Button, Chip, Field, boxes, parts};

/// What is typed.
#[derive(Clone, Debug)]
pub(super) struct Draft {
    of: Option<ParcelId>,
    from: String,
    own: bool,
    kind: ParcelKind,
    count: String,
    dead: String,
    gone: String,
    sent: String,
    arrived: String,
    due: String,
    grafted: String,
    note: String,
    error: Option<String>,
    focus: bool,
}

impl Default for Draft {
    fn default() -> Self {
        Self {
            of: None,
            from: String::new(),
            own: true,
            kind: ParcelKind::CagedQueens,
            count: String::new(),
            dead: String::new(),
            gone: String::new(),
            sent: String::new(),
            arrived: "today".to_owned(),
            due: String::new(),
            grafted: String::new(),
            note: String::new(),
            error: None,
            focus: true,
        }
    }
}

impl Draft {
    /// A new parcel, or one as it is known.
    pub fn of(scene: &Scene, parcel: Option<&Parcel>) -> Self {
        let Some(parcel) = parcel else { return Self::default() };
        let day = |day: Option<Day>| day.map_or(String::new(), Day::iso);
        let number = |number: u32| if number == 0 { String::new() } else { number.to_string() };
        let source = parcel.source.and_then(|id| scene.world.sources.get(&id));
        Self {
            of: Some(parcel.id),
            from: source.map_or(String::new(), |source| source.name.clone()),
            own: source.is_none_or(|source| source.own),
            kind: parcel.kind,
            count: parcel.count.to_string(),
            dead: number(parcel.dead),
            gone: number(parcel.gone),
            sent: day(parcel.sent),
            arrived: day(parcel.arrived),
            due: day(parcel.expected()),
            grafted: day(parcel.grafted),
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
    let known = source_named(scene, &draft.from);
    let help = match (&known, draft.from.trim().is_empty()) {
        (_, true) => "breeder or own line",
        (Some(source), _) if source.own => "own line",
        (Some(_), _) => "outside breeder",
        (None, _) => "new: it is added to the sources",
    };
    let field = Field::new("From").column(COLUMN).width(270.0).hint("Thrift").help(help);
    let response = field.show(ui, &mut draft.from);
    if std::mem::take(&mut draft.focus) {
        response.request_focus();
    }
    let mut alters = response.changed();
    enter |= form::entered(ui, &response);
    if known.is_none() && !draft.from.trim().is_empty() {
        ui.horizontal(|ui| {
            ui.add_space(COLUMN);
            for (words, own) in [("Own line", true), ("Outside breeder", false)] {
                if Chip::choice(words, draft.own == own).show(ui).clicked() {
                    draft.own = own;
                }
            }
        });
    }
    ui.horizontal_wrapped(|ui| {
        ui.add_space(COLUMN);
        let kinds = [
            ("Caged queens", ParcelKind::CagedQueens),
            ("Mature cells", ParcelKind::Cells),
            ("Virgins", ParcelKind::Virgins),
        ];
        for (words, kind) in kinds {
            if Chip::choice(words, draft.kind == kind).show(ui).clicked() {
                draft.kind = kind;
            }
        }
    });
    let mut put = |ui: &mut Ui, label: &str, width: f32, hint: &str, help: &str, typed: &mut String| {
        let field = Field::new(label).column(COLUMN).width(width).hint(hint).help(help);
        let response = field.show(ui, typed);
        alters |= response.changed();
        enter |= form::entered(ui, &response);
    };
    put(ui, "How many", 70.0, "40", "", &mut draft.count);
    put(ui, "Dead", 70.0, "0", "", &mut draft.dead);
    if draft.of.is_some() {
        put(ui, "Gone", 70.0, "0", "sold, given away, sent back", &mut draft.gone);
    }
    let said = |typed: &str, lean: Lean| day_help(typed, scene.today, lean);
    let help = said(&draft.sent, Lean::Back);
    put(ui, "Sent", 120.0, "18/11", &help, &mut draft.sent);
    let help = said(&draft.arrived, Lean::Back);
    let help = if draft.arrived.trim().is_empty() { "empty: still awaited".to_owned() } else { help };
    put(ui, "Arrived", 120.0, "today", &help, &mut draft.arrived);
    if draft.arrived.trim().is_empty() {
        let help = said(&draft.due, Lean::Ahead);
        put(ui, "Due", 120.0, "+3", &help, &mut draft.due);
    }
    if draft.kind == ParcelKind::Cells {
        let help = said(&draft.grafted, Lean::Back);
        put(ui, "Grafted", 120.0, "13/11", &help, &mut draft.grafted);
    }
    put(ui, "Note", 270.0, "", "", &mut draft.note);
    if alters {
        draft.error = None;
    }
    if let Some(error) = &draft.error {
        boxes::note(ui, crate::ui::widgets::Icon::Bar, "", error);
    }
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

fn source_named(scene: &Scene, name: &str) -> Option<Source> {
    let folded = fold(name);
    scene.world.sources.values().find(|source| fold(&source.name) == folded).cloned()
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
    let known = source_named(scene, &draft.from);
    let source = known.as_ref().map_or_else(|| SourceId(out.new_id()), |source| source.id);
    let before = draft.of.and_then(|id| scene.world.parcels.get(&id));
    let arrived = day(&draft.arrived, Lean::Back)?;
    let due = day(&draft.due, Lean::Ahead)?;
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
        born: before.map_or(Birth::default(), |before| before.born),
        dot: before.and_then(|before| before.dot),
        closed: before.is_some_and(|before| before.closed),
        note: draft.note.trim().to_owned(),
    };
    let id = parcel.id;
    if known.is_some() {
        return Ok((id, Change::PutParcel(parcel)));
    }
    let name = draft.from.trim().to_owned();
    let title = format!("{} {} from {name}", parcel.count, kind_words(parcel.kind, parcel.count));
    let new = Change::PutSource(Source { id: source, name, own: draft.own });
    Ok((id, Change::Several { title, changes: vec![new, Change::PutParcel(parcel)] }))
}
