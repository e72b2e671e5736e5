//! The short forms that take the card's middle. Each keeps what is typed, says at once what would follow, and makes one
//! change. `Enter` records, `Esc` closes.

mod amend;
mod beginning;
mod details;
pub(crate) mod fields;
mod find;
mod her;
mod introduce;
mod lookup;
mod short;
mod short_view;
mod verdict;

pub(crate) use lookup::yard_named;
pub(crate) use short::ShortKind;

use std::sync::Arc;

use egui::{Event, Key, Modifiers, Popup, Ui};
use uuid::Uuid;

use crate::domain::change::Change;
use crate::domain::colony::Colony;
use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, QueenId, RecordId};
use crate::domain::visit::Method;
use crate::ui::action::Outbox;
use crate::ui::card::forms::fields::Inputs;
use crate::ui::card::forms::verdict::{Trouble, Verdict};
use crate::ui::card::model::{Card, Lift};
use crate::ui::card::sections;
use crate::ui::scene::Scene;
use crate::ui::theme;
use crate::ui::theme::metrics::space;
use crate::ui::theme::text;
use crate::ui::widgets::{Button, focus};

/// The form that is to be opened.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Begin {
    /// Record a find; these codes are typed already.
    Find(String),
    /// Give a queen, by that method if it is said.
    Introduce(Option<Method>),
    /// Put a record right.
    Amend(RecordId),
    /// One of the short ones.
    Short(ShortKind),
    /// Lift a bar.
    LiftBar(Lift),
    /// Correct a queen's details.
    Details(QueenId),
    /// Correct how the colony began, or its note.
    Beginning,
}

#[derive(Clone, Debug, PartialEq)]
enum Form {
    Find(find::Find),
    Introduce(introduce::Introduce),
    Amend(amend::Amend),
    Short(short::Short),
    Details(details::Details),
    Beginning(beginning::Beginning),
}

/// A form that is open.
#[derive(Clone, Debug)]
pub(crate) struct Open {
    form: Form,
    /// Its first field has not had the keyboard yet.
    fresh: bool,
    checked: Option<Checked>,
    pressed: Option<Pressed>,
}

/// What a form was found to mean, and for what.
#[derive(Clone, Debug)]
struct Checked {
    form: Form,
    version: u64,
    today: Day,
    verdict: Arc<Verdict>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Pressed {
    Commit,
    Close,
}

/// What comes of a form in this frame.
pub(crate) enum Answer {
    /// Nothing yet.
    Stay,
    /// It is left.
    Close,
    /// This is to be recorded.
    Commit(Box<Change>),
}

/// What every form is shown.
pub(crate) struct Context<'a> {
    pub scene: &'a Scene,
    pub card: &'a Card,
    pub colony: &'a Colony,
}

impl Context<'_> {
    pub(crate) fn id(&self) -> ColonyId {
        self.colony.id
    }

    pub(crate) fn today(&self) -> Day {
        self.scene.today
    }
}

/// A source of new ids.
pub(crate) type Mint<'a> = &'a mut dyn FnMut() -> Uuid;

/// What a form has to do.
trait Draft {
    /// Its heading.
    fn title(&self) -> String;
    /// What its button says.
    fn verb(&self) -> String;
    /// Draws its fields.
    fn show(&mut self, ui: &mut Ui, context: &Context<'_>, inputs: &mut Inputs, verdict: &Verdict);
    /// The change it would make.
    fn change(&self, context: &Context<'_>, mint: Mint<'_>) -> Result<Change, Trouble>;
    /// What besides the change itself is to be said: nothing for most.
    fn complete(&self, _context: &Context<'_>, _verdict: &mut Verdict) {}
}

impl Form {
    fn draft(&self) -> &dyn Draft {
        match self {
            Self::Find(form) => form,
            Self::Introduce(form) => form,
            Self::Amend(form) => form,
            Self::Short(form) => form,
            Self::Details(form) => form,
            Self::Beginning(form) => form,
        }
    }

    fn draft_mut(&mut self) -> &mut dyn Draft {
        match self {
            Self::Find(form) => form,
            Self::Introduce(form) => form,
            Self::Amend(form) => form,
            Self::Short(form) => form,
            Self::Details(form) => form,
            Self::Beginning(form) => form,
        }
    }
}

impl Open {
    /// Opens a form for a colony; nothing where what it is for is gone.
    pub(crate) fn new(scene: &Scene, colony: ColonyId, begin: Begin) -> Option<Self> {
        let form = match begin {
            Begin::Find(codes) => Form::Find(find::Find::new(scene, codes)),
            Begin::Introduce(method) => Form::Introduce(introduce::Introduce::new(scene, colony, method)),
            Begin::Amend(record) => Form::Amend(amend::Amend::new(scene, colony, record)?),
            Begin::Short(kind) => Form::Short(short::Short::new(scene, colony, kind)),
            Begin::LiftBar(lift) => Form::Short(short::Short::new(scene, colony, ShortKind::LiftBar(lift))),
            Begin::Details(queen) => Form::Details(details::Details::new(scene, queen)?),
            Begin::Beginning => Form::Beginning(beginning::Beginning::new(scene, colony)?),
        };
        Some(Self { form, fresh: true, checked: None, pressed: None })
    }

    /// The foot while the form is open.
    pub(crate) fn foot(&mut self, ui: &mut Ui) {
        let trouble = self.checked.as_ref().and_then(|checked| checked.verdict.trouble.as_ref());
        let why = trouble.map(|trouble| trouble.words.clone());
        let verb = self.form.draft().verb();
        ui.horizontal(|ui| {
            if Button::primary(&verb).key("Enter").why_not(why.as_deref()).show(ui).clicked() {
                self.pressed = Some(Pressed::Commit);
            }
            if Button::outlined("Leave").key("Esc").show(ui).clicked() {
                self.pressed = Some(Pressed::Close);
            }
        });
        if self.pressed.is_some() {
            // The form above was drawn already: it answers in the next frame.
            ui.request_repaint();
        }
    }

    /// The form itself.
    pub(crate) fn show(
        &mut self,
        ui: &mut Ui,
        scene: &Scene,
        card: &Card,
        colony: ColonyId,
        out: &mut Outbox,
    ) -> Answer {
        let Some(hive) = scene.world.colonies.get(&colony) else { return Answer::Close };
        let context = Context { scene, card, colony: hive };
        let pressed = self.pressed.take();
        let free = ui.memory(|memory| memory.is_above_modal_layer(ui.layer_id())) && !Popup::is_any_open(ui);
        if pressed == Some(Pressed::Close) || free && ui.input_mut(|it| it.consume_key(Modifiers::NONE, Key::Escape)) {
            return Answer::Close;
        }
        // In a field the field itself tells; on a button, a tick or a code `Enter` presses that, `Ctrl Enter` records.
        let bare = !ui.text_edit_focused() && focus::enter_is_the_forms(ui);
        let enter = free
            && !self.fresh
            && ui.input_mut(|it| {
                it.consume_key(Modifiers::COMMAND, Key::Enter) || bare && it.consume_key(Modifiers::NONE, Key::Enter)
            });
        if focus::letters_are_free(ui) {
            swallow_letters(ui);
        }
        let mut inputs = Inputs { enter, fresh: std::mem::take(&mut self.fresh) };
        let mut anew = self.check(&context);
        let verdict = self.checked.as_ref().map(|checked| Arc::clone(&checked.verdict)).unwrap_or_default();
        sections::heading(ui, &self.form.draft().title(), |_| {});
        ui.add_space(2.0);
        ui.spacing_mut().item_spacing.y = space::SMALL;
        self.form.draft_mut().show(ui, &context, &mut inputs, &verdict);
        anew |= self.check(&context);
        if anew {
            // What was just typed means something else: fields and foot say it in the next frame.
            ui.request_repaint();
        }
        let clear = self.checked.as_ref().is_some_and(|checked| checked.verdict.trouble.is_none());
        if clear && (inputs.enter || pressed == Some(Pressed::Commit)) {
            if let Ok(change) = self.form.draft().change(&context, &mut || out.new_id()) {
                return Answer::Commit(Box::new(change));
            }
        } else if inputs.enter {
            // The refusal stands under the fields; the first of them gets the keyboard back.
            self.fresh = true;
        }
        Answer::Stay
    }

    /// Finds out what the form would do, if that is not known yet. True where it had to.
    fn check(&mut self, context: &Context<'_>) -> bool {
        let (version, today) = (context.scene.version, context.scene.today);
        let known = self
            .checked
            .as_ref()
            .is_some_and(|checked| checked.form == self.form && (checked.version, checked.today) == (version, today));
        if known {
            return false;
        }
        let draft = self.form.draft();
        let mut verdict = match draft.change(context, &mut scratch_ids()) {
            Ok(change) => verdict::of(context, &change),
            Err(trouble) => Verdict { trouble: Some(trouble), ..Verdict::default() },
        };
        draft.complete(context, &mut verdict);
        self.checked = Some(Checked { form: self.form.clone(), version, today, verdict: Arc::new(verdict) });
        true
    }
}

/// While a form is open no letter or arrow is for the screen behind it, even where no field has the keyboard. A chip or
/// button that has it keeps what is no letter.
fn swallow_letters(ui: &Ui) {
    let focused = ui.memory(egui::Memory::focused).is_some();
    ui.input_mut(|input| {
        input.events.retain(|event| match event {
            Event::Key { key, modifiers, .. } => {
                // Shift alone does not make a letter another one.
                let is_chord = modifiers.command || modifiers.alt;
                *key == Key::Tab || is_chord || focused && key.name().chars().count() > 1
            }
            _ => true,
        });
    });
}

/// Ids for a change that is only tried: later than any real one, so that it comes last on its day.
fn scratch_ids() -> impl FnMut() -> Uuid {
    let mut next = u128::MAX - 1024;
    move || {
        next += 1;
        Uuid::from_u128(next)
    }
}

/// What would follow, under the fields: the trouble, or what it means.
fn say(ui: &mut Ui, verdict: &Verdict) {
    let t = theme::tokens(ui);
    ui.vertical(|ui| {
        ui.spacing_mut().item_spacing.y = 3.0;
        if let Some(trouble) = &verdict.trouble {
            let color = if trouble.quiet { t.text_secondary } else { t.danger };
            ui.label(text::table(&trouble.words).color(color));
            if !trouble.quiet {
                return;
            }
        }
        verdict::show(ui, verdict);
    });
}
