//! A parcel is late: the day now promised, which colonies are re-dated by it, and what the queenless clock says then.

use egui::Ui;

use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::day_words::{DateOrder, Lean, read_day};
use crate::domain::decide::decide;
use crate::domain::fact::Fact;
use crate::domain::ids::{ColonyId, ParcelId};
use crate::ui::action::Outbox;
use crate::ui::scene::Scene;
use crate::ui::screens::form;
use crate::ui::screens::programme::model::means_on;
use crate::ui::theme;
use crate::ui::theme::text;
use crate::ui::widgets::{Button, Field, Icon, boxes, parts};

/// What is typed.
#[derive(Clone, Debug, Default)]
pub(super) struct Draft {
    parcel: Option<ParcelId>,
    promised: String,
    focus: bool,
    /// What it would do, as worked out for a version and the day.
    shown: Option<(u64, Day, Result<Vec<Redated>, String>)>,
}

/// A colony whose queen comes on another day.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Redated {
    colony: ColonyId,
    name: String,
    from: Day,
    to: Day,
    /// What the clock says then, or that the old queen is still in.
    means: String,
}

impl Draft {
    /// For that parcel; a week after the day it is expected now, or tomorrow.
    pub fn of(scene: &Scene, parcel: ParcelId) -> Self {
        let expected = scene.world.parcels.get(&parcel).and_then(crate::domain::parcel::Parcel::expected);
        let day = expected.map_or(scene.today.plus(1), |day| day.plus(3)).max(scene.today.plus(1));
        Self { parcel: Some(parcel), promised: day.short(), focus: true, shown: None }
    }
}

/// Draws the form. True when it is to be closed.
pub(super) fn show(ui: &mut Ui, scene: &Scene, draft: &mut Draft, out: &mut Outbox) -> bool {
    let t = theme::tokens(ui);
    let Some(parcel) = draft.parcel else { return true };
    ui.spacing_mut().item_spacing.y = 9.0;
    parts::heading(ui, "The parcel is late", "its colonies are re-dated");
    let read = read_day(&draft.promised, scene.today, DateOrder::DayMonth, Lean::Ahead);
    let error = read.as_ref().err().map(|error| format!("{error}."));
    let help = read.as_ref().map_or(String::new(), |day| day.with_weekday());
    let hint = scene.today.plus(2).short().to_lowercase();
    let field = Field::new("Promised").column(92.0).width(130.0).hint(&hint).error(error.as_deref()).help(&help);
    let response = field.show(ui, &mut draft.promised);
    if std::mem::take(&mut draft.focus) {
        response.request_focus();
    }
    let Ok(promised) = read else { return Button::outlined("Close").key("Esc").show(ui).clicked() };
    let change = Change::ParcelLate { parcel, promised, day: scene.today };
    let stale = draft.shown.as_ref().is_none_or(|(version, day, _)| (*version, *day) != (scene.version, promised));
    if stale {
        draft.shown = Some((scene.version, promised, redated(scene, &change)));
    }
    let Some((_, _, shown)) = &draft.shown else { return false };
    match shown {
        Err(words) => boxes::note(ui, Icon::Bar, "", words),
        Ok(rows) if rows.is_empty() => parts::remark(ui, "No colony waits for this parcel."),
        Ok(rows) => {
            let many = if rows.len() == 1 { "1 colony".to_owned() } else { format!("{} colonies", rows.len()) };
            parts::remark(ui, &format!("{many} re-dated, and what the queenless clock says then:"));
            for row in rows {
                let words = format!("{}: {} to {}. {}.", row.name, row.from.short(), row.to.short(), row.means);
                ui.label(text::table(words).color(t.text_primary));
            }
        }
    }
    let why_not = shown.as_ref().err().map(String::as_str);
    let mut close = false;
    ui.horizontal(|ui| {
        let save = Button::primary("Re-date them").key("Enter").why_not(why_not).show(ui).clicked();
        let enter = form::entered(ui, &response);
        if (save || enter) && why_not.is_none() {
            out.change(change);
            close = true;
        }
        close |= Button::outlined("Close").key("Esc").show(ui).clicked();
    });
    close
}

/// Which colonies the change re-dates, read off what deciding it does.
fn redated(scene: &Scene, change: &Change) -> Result<Vec<Redated>, String> {
    let facts = decide(&scene.world, change, scene.today).map_err(|refusal| format!("{refusal}."))?;
    let mut rows: Vec<Redated> = facts
        .iter()
        .filter_map(|fact| {
            let Fact::Plan(edit) = fact else { return None };
            let (before, after) = (edit.before.as_ref()?, edit.after.as_ref()?);
            let name = scene.world.colonies.get(&after.colony)?.name().to_owned();
            let clock = scene.outlook.colonies.get(&after.colony).and_then(|view| view.standing.clock.as_ref());
            let means = clock.map_or("Her old queen is still in".to_owned(), |clock| means_on(clock, after.give_on));
            Some(Redated { colony: after.colony, name, from: before.give_on, to: after.give_on, means })
        })
        .collect();
    rows.sort_by(|one, other| (&one.name, one.colony).cmp(&(&other.name, other.colony)));
    Ok(rows)
}
