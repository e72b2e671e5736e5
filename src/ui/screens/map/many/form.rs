//! The short form of an act on several hives: fields, what follows, whom it leaves out, one button.

use std::sync::Arc;

use egui::{Key, Modifiers, Popup, Ui};
use uuid::Uuid;

use crate::domain::decide::decide;
use crate::domain::ids::ColonyId;
use crate::ui::action::Outbox;
use crate::ui::scene::Scene;
use crate::ui::screens::form::above_foot;
use crate::ui::screens::map::many::acts::{Act, Ground, Meant};
use crate::ui::theme;
use crate::ui::theme::text::{self, Weighted as _};
use crate::ui::widgets::{Button, Caution, Icon, focus, parts};

/// Hives left out that are named one by one.
const NAMED: usize = 8;

/// An act that is being filled in.
#[derive(Clone, Debug)]
pub struct Form {
    act: Act,
    begun: bool,
    held: Option<Held>,
}

/// What the draft was found to mean, and for what.
#[derive(Clone, Debug)]
struct Held {
    act: Act,
    version: u64,
    hives: Vec<ColonyId>,
    meant: Arc<Meant>,
}

/// What came of the form in this frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answer {
    /// Nothing yet.
    Stay,
    /// It was left.
    Left,
    /// Its change was sent.
    Sent,
}

impl Form {
    /// A form for that act.
    pub fn new(act: Act) -> Self {
        Self { act, begun: false, held: None }
    }

    /// Draws it. `Enter` does it, `Esc` leaves.
    pub fn show(&mut self, ui: &mut Ui, scene: &Scene, hives: &[ColonyId], out: &mut Outbox) -> Answer {
        let t = theme::tokens(ui);
        let mut answer = Answer::Stay;
        ui.horizontal(|ui| {
            ui.label(text::name(self.act.title(hives.len())).color(t.text_primary));
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                if Button::icon_only(Icon::Close, "Close the form").show(ui).clicked() {
                    answer = Answer::Left;
                }
            });
        });
        parts::rule(ui);
        above_foot(ui, "act", |ui| {
            ui.add_space(2.0);
            self.fields(ui, scene, hives);
            let meant = self.meant(scene, hives);
            ui.add_space(4.0);
            follows(ui, &meant);
            ui.add_space(8.0);
        });
        let meant = self.meant(scene, hives);
        let menu_open = Popup::is_any_open(ui);
        let pressed = |key| !menu_open && ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
        let with_ctrl = !menu_open && ui.input_mut(|input| input.consume_key(Modifiers::COMMAND, Key::Enter));
        let entered = with_ctrl || focus::enter_is_the_forms(ui) && pressed(Key::Enter);
        if pressed(Key::Escape) {
            answer = Answer::Left;
        }
        ui.horizontal(|ui| {
            let verb = self.act.verb(&meant, scene.today);
            let button = Button::primary(&verb).key("Enter").why_not(meant.trouble.as_deref());
            let done = button.show(ui).clicked();
            if Button::outlined("Cancel").key("Esc").show(ui).clicked() {
                answer = Answer::Left;
            }
            if (done || entered) && meant.trouble.is_none() {
                let ground = Ground { scene, hives };
                if let Some(change) = self.act.meant(&ground, &mut || out.new_id()).change {
                    out.change(change);
                    answer = Answer::Sent;
                }
            } else if entered {
                focus::keep_in_field(ui);
            }
        });
        answer
    }

    fn fields(&mut self, ui: &mut Ui, scene: &Scene, hives: &[ColonyId]) {
        let fresh = !std::mem::replace(&mut self.begun, true);
        match &mut self.act {
            Act::Give(act) => act.show(ui, scene, fresh),
            Act::CallOff(act) => act.show(ui, scene, fresh),
            Act::Dequeen(act) => act.show(ui, scene, fresh),
            Act::Find(act) => act.show(ui, scene, hives, fresh),
            Act::Bar(act) => act.show(ui, scene, fresh),
            Act::Move(act) => act.show(ui, scene, fresh),
            Act::Rename(act) => act.show(ui, scene, fresh),
            Act::End(act) => act.show(ui, scene, fresh),
        }
    }

    /// What the draft means; reckoned, and tried on the world, only when something differs.
    fn meant(&mut self, scene: &Scene, hives: &[ColonyId]) -> Arc<Meant> {
        if let Some(held) = &self.held
            && held.act == self.act
            && held.version == scene.version
            && held.hives == hives
        {
            return Arc::clone(&held.meant);
        }
        let mut trial = u128::MAX >> 1;
        let mut mint = || {
            trial -= 1;
            Uuid::from_u128(trial)
        };
        let mut meant = self.act.meant(&Ground { scene, hives }, &mut mint);
        if let Some(change) = &meant.change
            && let Err(refusal) = decide(&scene.world, change, scene.today)
        {
            meant.trouble = Some(format!("{refusal}."));
        }
        let meant = Arc::new(meant);
        self.held = Some(Held {
            act: self.act.clone(),
            version: scene.version,
            hives: hives.to_vec(),
            meant: Arc::clone(&meant),
        });
        meant
    }
}

/// What follows, and whom it leaves out.
fn follows(ui: &mut Ui, meant: &Meant) {
    let t = theme::tokens(ui);
    ui.spacing_mut().item_spacing.y = 2.0;
    if let Some(trouble) = &meant.trouble {
        let color = if meant.missing { t.text_secondary } else { t.text_late };
        ui.label(text::table(trouble).color(color));
    } else if !meant.says.is_empty() {
        parts::caption(ui, "What follows");
        for sentence in &meant.says {
            ui.label(text::table(sentence).color(t.text_primary));
        }
    }
    if let Some(first) = meant.stay.first() {
        let rest = match meant.stay.len() - 1 {
            0 => String::new(),
            1 => "So it is with 1 other of them. ".to_owned(),
            many => format!("So it is with {many} others of them. "),
        };
        let what = format!("{rest}What has been done is recorded all the same, and flagged on the card.");
        Caution::new(&format!("{first}."), &what).barred().show(ui);
    }
    if meant.left_out.is_empty() {
        return;
    }
    ui.add_space(6.0);
    let title = format!("{} left out", meant.left_out.len());
    ui.label(text::table(title).semibold().color(t.text_primary));
    for (name, why) in meant.left_out.iter().take(NAMED) {
        ui.label(text::table(format!("{name}: {why}")).color(t.text_secondary));
    }
    if meant.left_out.len() > NAMED {
        parts::remark(ui, &format!("and {} more", meant.left_out.len() - NAMED));
    }
}
