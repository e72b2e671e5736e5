//! Bars: the draft of a new one, on several hives or on a yard, and the yard's form that also lifts them.

use egui::{Key, Modifiers, Popup, Ui};
use uuid::Uuid;

use crate::domain::bar::{Bar, BarKind, BarOn, Lifted};
use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::day_words::{DateOrder, Lean, read_day};
use crate::domain::decide::decide;
use crate::domain::ids::{BarId, YardId};
use crate::domain::initials;
use crate::ui::action::Outbox;
use crate::ui::scene::Scene;
use crate::ui::screens::form::above_foot;
use crate::ui::screens::map::filter::sentence;
use crate::ui::screens::map::many::dated::{COLUMN, in_column, show_first};
use crate::ui::theme;
use crate::ui::theme::text;
use crate::ui::widgets::{Button, Caution, Field, Icon, MenuChip, focus, parts};

/// Kinds that are set by hand, the yard's first.
const KINDS: [BarKind; 9] = [
    BarKind::Quarantine,
    BarKind::AmericanFoulbrood,
    BarKind::Disease,
    BarKind::Treatment,
    BarKind::Spraying,
    BarKind::Robbing,
    BarKind::Swarming,
    BarKind::Weather,
    BarKind::Own,
];

/// The draft of a bar.
#[derive(Clone, Debug, PartialEq)]
pub struct BarDraft {
    kind: BarKind,
    from: String,
    until: String,
    reason: String,
    permit: String,
    by: String,
}

impl BarDraft {
    /// A quarantine for a yard, a treatment for hives.
    pub fn new(by: String, yard: bool) -> Self {
        let kind = if yard { BarKind::Quarantine } else { BarKind::Treatment };
        Self { kind, from: "today".to_owned(), until: String::new(), reason: String::new(), permit: String::new(), by }
    }

    /// What follows.
    pub fn says(&self) -> &'static str {
        self.kind.follows()
    }

    /// The change that sets it: one bar, or one for each as one step.
    ///
    /// # Errors
    /// What is missing.
    pub fn change(&self, scene: &Scene, on: &[BarOn], mint: &mut dyn FnMut() -> Uuid) -> Result<Change, String> {
        let from = read_day(&self.from, scene.today, DateOrder::DayMonth, Lean::Nearest);
        let from = from.map_err(|error| format!("{error}."))?;
        let until = match self.until.trim() {
            "" => None,
            typed => Some(
                read_day(typed, scene.today, DateOrder::DayMonth, Lean::Ahead).map_err(|error| format!("{error}."))?,
            ),
        };
        if self.kind == BarKind::Own && self.reason.trim().is_empty() {
            return Err("A bar of your own has no reason. Say why.".to_owned());
        }
        let by = initials::read(&self.by).map_err(|refusal| format!("{refusal}."))?;
        let permit = Some(self.permit.trim()).filter(|it| !it.is_empty() && self.kind == BarKind::Quarantine);
        let mut bars: Vec<Change> = (on.iter())
            .map(|on| {
                Change::PutBar(Bar {
                    id: BarId(mint()),
                    on: *on,
                    kind: self.kind,
                    from,
                    until,
                    reason: self.reason.trim().to_owned(),
                    by: by.to_owned(),
                    permit: permit.map(str::to_owned),
                    lifted: None,
                })
            })
            .collect();
        match bars.len() {
            0 => Err("Nothing is chosen.".to_owned()),
            1 => Ok(bars.swap_remove(0)),
            count => {
                Ok(Change::Several { title: format!("{count} hives barred: {}", self.kind.words()), changes: bars })
            }
        }
    }

    /// Draws the fields and the caution.
    pub fn show(&mut self, ui: &mut Ui, scene: &Scene, fresh: bool) {
        let words = KINDS.map(|kind| sentence(kind.words()));
        in_column(ui, "Bar", |ui| {
            let now = sentence(self.kind.words());
            if let Some(kind) = MenuChip::unnamed("Bar", &now).show(ui, &words).and_then(|at| KINDS.get(at)) {
                self.kind = *kind;
            }
        });
        let from = read_day(&self.from, scene.today, DateOrder::DayMonth, Lean::Nearest);
        let error = from.as_ref().err().map(|error| format!("{error}."));
        let help = from.map_or(String::new(), Day::with_weekday);
        let field = Field::new("From").column(COLUMN).width(140.0).help(&help).error(error.as_deref());
        field.show(ui, &mut self.from);
        let read = match self.until.trim() {
            "" => None,
            typed => Some(read_day(typed, scene.today, DateOrder::DayMonth, Lean::Ahead)),
        };
        let help = match &read {
            Some(Ok(day)) => day.with_weekday(),
            _ => "empty: until it is lifted".to_owned(),
        };
        let error = read.and_then(Result::err).map(|error| format!("{error}."));
        let field = Field::new("Last day").column(COLUMN).width(140.0).help(&help).error(error.as_deref());
        field.show(ui, &mut self.until);
        let width = (ui.available_width() - COLUMN - 4.0).min(280.0);
        show_first(ui, Field::new("Reason").column(COLUMN).width(width), &mut self.reason, fresh);
        if self.kind == BarKind::Quarantine {
            let field =
                Field::new("Permit").column(COLUMN).width(width).help("reference under which work may be planned");
            field.show(ui, &mut self.permit);
        }
        Field::new("By").column(COLUMN).width(84.0).hint("initials").show(ui, &mut self.by);
        match self.kind {
            BarKind::Quarantine => {
                Caution::new("Quarantine.", "Follow the authority's order: move no hives, combs or gear out or in.")
                    .barred()
                    .show(ui);
            }
            BarKind::AmericanFoulbrood | BarKind::Disease => {
                let what = "Stop, isolate, report under the local rules. Never requeen, never move gear.";
                Caution::new("Disease suspected.", what).barred().show(ui);
            }
            _ => {}
        }
    }
}

/// The bars of one yard.
#[derive(Clone, Debug, PartialEq)]
pub struct YardBars {
    /// The yard.
    pub yard: YardId,
    draft: BarDraft,
    /// A bar that is being lifted, and why.
    lifting: Option<(BarId, String)>,
    lift_begun: bool,
    refused: Option<String>,
    begun: bool,
}

impl YardBars {
    /// The form of that yard.
    pub fn new(yard: YardId, scene: &Scene) -> Self {
        Self {
            yard,
            draft: BarDraft::new(scene.prefs.initials.clone(), true),
            lifting: None,
            lift_begun: false,
            refused: None,
            begun: false,
        }
    }

    /// Draws it: bars that hold or are to begin, each with its lifting, then a new one. True: closed.
    pub fn show(&mut self, ui: &mut Ui, scene: &Scene, out: &mut Outbox) -> bool {
        let t = theme::tokens(ui);
        let name = scene.world.yards.get(&self.yard).map_or("", |yard| yard.name.as_str());
        let mut closed = false;
        ui.horizontal(|ui| {
            ui.label(text::name(format!("Bars of {name}")).color(t.text_primary));
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                closed = Button::icon_only(Icon::Close, "Close the form").show(ui).clicked();
            });
        });
        let menu_open = Popup::is_any_open(ui);
        let pressed = |key| !menu_open && ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
        closed |= pressed(Key::Escape);
        let entered = focus::enter_is_the_forms(ui) && pressed(Key::Enter);
        let on = BarOn::Yard(self.yard);
        let today = scene.today;
        let held: Vec<Bar> = (scene.world.bars.values())
            .filter(|bar| bar.on == on && (bar.holds(today) || bar.is_ahead(today)))
            .cloned()
            .collect();
        closed |= above_foot(ui, "bars of a yard", |ui| {
            let mut lifted = false;
            for bar in &held {
                lifted |= self.one(ui, scene, bar, entered, out);
            }
            if !held.is_empty() {
                parts::rule(ui);
                parts::heading(ui, "Another bar", "");
            }
            let fresh = !std::mem::replace(&mut self.begun, true);
            self.draft.show(ui, scene, fresh);
            if let Some(words) = &self.refused {
                ui.label(text::table(words).color(t.text_late));
            }
            parts::remark(ui, self.draft.says());
            lifted
        });
        // While a bar is being lifted, `Enter` lifts it.
        let enter_sets = self.lifting.is_none();
        let mut sets = enter_sets && entered;
        ui.horizontal(|ui| {
            sets |= Button::primary("Set the bar").key(if enter_sets { "Enter" } else { "" }).show(ui).clicked();
            closed |= Button::outlined("Cancel").key("Esc").show(ui).clicked();
        });
        if sets {
            let change = self.draft.change(scene, &[on], &mut || out.new_id());
            closed |= self.send(scene, change, out);
            if !closed {
                focus::keep_in_field(ui);
            }
        }
        closed
    }

    /// A bar that holds or is to begin. True: it was lifted or called off.
    fn one(&mut self, ui: &mut Ui, scene: &Scene, bar: &Bar, entered: bool, out: &mut Outbox) -> bool {
        let t = theme::tokens(ui);
        let until = bar.until.map_or(String::new(), |day| format!(" to {}", day.near(scene.today)));
        let ahead = bar.is_ahead(scene.today);
        let since = if ahead { "from" } else { "since" };
        let mut words = format!("{} {since} {}{until}", sentence(bar.kind.words()), bar.from.near(scene.today));
        for (name, more) in [("", bar.reason.as_str()), ("permit ", bar.permit.as_deref().unwrap_or(""))] {
            if !more.is_empty() {
                words.push_str(&format!(", {name}{more}"));
            }
        }
        ui.label(text::body(words).color(t.text_primary));
        let Some((_, why)) = self.lifting.as_mut().filter(|(id, _)| *id == bar.id) else {
            if Button::outlined(if ahead { "Call this bar off" } else { "Lift this bar" }).small().show(ui).clicked() {
                self.lifting = Some((bar.id, String::new()));
                self.lift_begun = false;
            }
            return false;
        };
        let field = Field::new(if ahead { "Why called off" } else { "Why lifted" })
            .column(COLUMN)
            .width(280.0)
            .help("and on whose word");
        show_first(ui, field, why, !std::mem::replace(&mut self.lift_begun, true));
        let why = why.trim().to_owned();
        let missing = why.is_empty().then_some("Say why, and on whose word.");
        let lift =
            Button::outlined(if ahead { "Call it off" } else { "Lift it from today" }).key("Enter").why_not(missing);
        if !(lift.show(ui).clicked() || entered && missing.is_none()) {
            return false;
        }
        let lifted = Lifted { on: scene.today, by: self.draft.by.trim().to_owned(), why };
        self.send(scene, Ok(Change::LiftBar { bar: bar.id, lifted }), out)
    }

    fn send(&mut self, scene: &Scene, change: Result<Change, String>, out: &mut Outbox) -> bool {
        let decided = change.and_then(|change| {
            decide(&scene.world, &change, scene.today).map_err(|refusal| format!("{refusal}."))?;
            Ok(change)
        });
        match decided {
            Ok(change) => {
                out.change(change);
                true
            }
            Err(why) => {
                self.refused = Some(why);
                false
            }
        }
    }
}
