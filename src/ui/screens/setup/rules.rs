//! Rules: every number of the rules with its unit, default and source; the chosen one is edited below the list.

use egui::{Frame, Margin, Panel, Ui};

use crate::domain::change::Change;
use crate::domain::decide::decide;
use crate::domain::fold_text::fold;
use crate::domain::settings::{SPECS, Settings, Spec};
use crate::ui::action::Outbox;
use crate::ui::scene::Scene;
use crate::ui::screens::form;
use crate::ui::screens::start::home::utc_offset;
use crate::ui::theme;
use crate::ui::theme::text;
use crate::ui::widgets::{Button, Column, Field, Icon, Table, field, parts};

/// What is searched, chosen and typed.
#[derive(Clone, Debug, Default)]
pub(super) struct Draft {
    search: String,
    chosen: Option<&'static str>,
    typed: String,
    error: Option<String>,
    focus: bool,
}

/// Draws the part.
pub(super) fn show(ui: &mut Ui, scene: &Scene, draft: &mut Draft, out: &mut Outbox) {
    let t = theme::tokens(ui);
    let by_place = scene.world.firm.home.map(utc_offset);
    let shown = found(&draft.search, &scene.world.settings, by_place);
    let frame = Frame::new().fill(t.surface_panel).inner_margin(Margin::symmetric(16, 8));
    Panel::top("rules search").frame(frame).show_separator_line(true).show(ui, |ui| {
        ui.horizontal(|ui| {
            let field = Field::new("Find a rule").width(300.0).icon(Icon::Find).hint("verdict, speed, changed");
            field.show(ui, &mut draft.search);
            parts::remark(ui, &format!("{} of {} rules", shown.len(), SPECS.len()));
        });
    });
    if let Some(spec) = draft.chosen.and_then(|name| SPECS.iter().find(|spec| spec.name == name)) {
        let panel =
            Panel::bottom("one rule").frame(Frame::new().fill(t.surface_panel).inner_margin(Margin::symmetric(16, 12)));
        panel.show_separator_line(true).show(ui, |ui| edit(ui, scene, draft, spec, out));
    }
    let columns = [
        Column::rest("Rule", 3.0),
        Column::number("Value", 58.0),
        Column::words("Unit", 150.0),
        Column::number("Default", 58.0),
        Column::rest("Source of the default", 2.0),
    ];
    let at = shown.iter().position(|spec| Some(spec.name) == draft.chosen);
    let done = Table::new("Rules", &columns).selected(at).takes_free_keys().show(ui, shown.len(), |row| {
        let Some(spec) = shown.get(row.index) else { return };
        let value = scene.world.settings.get(spec.name).unwrap_or(spec.default);
        row.title(spec.about);
        if is_own(spec, &scene.world.settings, by_place) {
            row.strong(&number(value));
        } else {
            row.text(&number(value));
        }
        row.secondary(spec.unit);
        row.secondary(&number(spec.default));
        row.secondary(spec.source);
    });
    if let Some(spec) = done.selected.or(done.opened).and_then(|at| shown.get(at)) {
        let value = scene.world.settings.get(spec.name).unwrap_or(spec.default);
        draft.chosen = Some(spec.name);
        draft.typed = number(value);
        draft.error = None;
        draft.focus = done.opened.is_some();
    }
}

fn edit(ui: &mut Ui, scene: &Scene, draft: &mut Draft, spec: &Spec, out: &mut Outbox) {
    let t = theme::tokens(ui);
    let value = scene.world.settings.get(spec.name).unwrap_or(spec.default);
    ui.spacing_mut().item_spacing.y = 6.0;
    ui.label(text::head(spec.about).color(t.text_primary));
    let range = format!("{} to {} {}", number(spec.least), number(spec.most), spec.unit);
    let mut set = None;
    ui.horizontal_top(|ui| {
        let field = Field::new("Value").salt("rule value").width(96.0).error(draft.error.as_deref()).help(&range);
        let response = field.show(ui, &mut draft.typed);
        if std::mem::take(&mut draft.focus) {
            response.request_focus();
            field::select_all(ui, response.id, &draft.typed);
        }
        if response.changed() {
            draft.error = None;
        }
        let enter = form::entered(ui, &response);
        let same = read(&draft.typed) == Some(value);
        let why_not = same.then_some("It has this value.");
        if Button::primary("Set").key("Enter").why_not(why_not).show(ui).clicked() || enter && !same {
            set = Some(read(&draft.typed).ok_or("It is no number. Type one."));
        }
        let words = format!("Back to {}", number(spec.default));
        let why_not = (value == spec.default).then_some("It is the default.");
        if Button::outlined(&words).icon(Icon::Undo).why_not(why_not).show(ui).clicked() {
            set = Some(Ok(spec.default));
        }
    });
    parts::remark(ui, &format!("{}. On the command line: lidnote set {}", spec.source, spec.name));
    match set {
        Some(Ok(value)) => {
            let change = Change::SetSetting { name: spec.name.to_owned(), value };
            match decide(&scene.world, &change, scene.today) {
                Ok(_) => {
                    draft.typed = number(value);
                    out.change(change);
                }
                Err(refusal) => draft.error = Some(format!("{refusal}.")),
            }
        }
        Some(Err(words)) => draft.error = Some(words.to_owned()),
        None => {}
    }
}

/// How many rules are the firm's own.
pub(super) fn own(scene: &Scene) -> usize {
    found("changed", &scene.world.settings, scene.world.firm.home.map(utc_offset)).len()
}

/// The value the firm has set itself: not the default, nor the clock that follows from where its home lies.
fn is_own(spec: &Spec, settings: &Settings, by_place: Option<i32>) -> bool {
    let follows = |value: f64| spec.name == "utc_offset" && by_place.is_some_and(|minutes| f64::from(minutes) == value);
    // Paper and miles say how things are shown; they are no rules.
    let shown = matches!(spec.name, "letter_paper" | "distance_in_miles");
    !shown && settings.get(spec.name).is_some_and(|value| value != spec.default && !follows(value))
}

/// The rules that hold every word searched for, in their order; `changed` finds those that are the firm's own. `by_place`
/// is local time ahead of UTC in minutes as the home's longitude has it.
fn found(search: &str, settings: &Settings, by_place: Option<i32>) -> Vec<&'static Spec> {
    let words: Vec<String> = fold(search).split_whitespace().map(str::to_owned).collect();
    let fits = |spec: &&Spec| {
        let held = fold(&format!("{} {} {} {}", spec.name, spec.about, spec.unit, spec.source));
        let changed = is_own(spec, settings, by_place);
        words.iter().all(|word| held.contains(word.as_str()) || word == "changed" && changed)
    };
    SPECS.iter().filter(fits).collect()
}

/// A number as it is typed: `1.3`, `24`.
fn number(value: f64) -> String {
    format!("{value}")
}

fn read(typed: &str) -> Option<f64> {
    typed.trim().replace(',', ".").parse().ok().filter(|value: &f64| value.is_finite())
}

#[cfg(test)]
mod tests {
    use super::{found, number, read};
    use crate::domain::settings::{SPECS, Settings};

    #[test]
    fn rules_are_found_by_words_in_any_order() {
        let settings = Settings::default().with("speed", 50.0).expect("in range");
        let names = |search: &str| found(search, &settings, None).iter().map(|spec| spec.name).collect::<Vec<_>>();
        assert_eq!(names("").len(), SPECS.len());
        assert_eq!(names("latest verdict cell"), ["verdict_latest"]);
        assert_eq!(names("changed"), ["speed"]);
        assert!(names("zebra").is_empty());
    }

    #[test]
    fn a_clock_that_follows_from_the_home_is_no_rule_of_ones_own() {
        let settings = Settings::default().with("utc_offset", 660.0).expect("in range");
        assert!(found("changed", &settings, Some(660)).is_empty());
        for elsewhere in [Some(600), None] {
            let names: Vec<_> = found("changed", &settings, elsewhere).iter().map(|spec| spec.name).collect();
            assert_eq!(names, ["utc_offset"], "{elsewhere:?}");
        }
    }

    #[test]
    fn numbers_are_typed_with_a_point_or_a_comma() {
        assert_eq!(read(" 1,3 "), Some(1.3));
        assert_eq!(read("x"), None);
        assert_eq!(number(1.3), "1.3");
        assert_eq!(number(24.0), "24");
    }
}
