//! What could not be written: a band under the top bar that stays until it is recorded or left, and the question when the
//! window is to be closed meanwhile.

use egui::accesskit::Live;
use egui::{Frame, Margin, Panel, Role, Stroke, Ui, WidgetInfo};

use crate::ui::action::{Action, Outbox};
use crate::ui::scene::{NotRecorded, Scene};
use crate::ui::shell::ShellState;
use crate::ui::theme;
use crate::ui::theme::metrics::{space, stroke};
use crate::ui::theme::text::{self, two_tone};
use crate::ui::widgets::{Answer, Button, Verb, dialog, ends};

/// Changes named; of more only the number is said.
const NAMED: usize = 2;

/// The band, where something is not recorded.
pub fn band(ui: &mut Ui, scene: &Scene, out: &mut Outbox) {
    let Some(newest) = scene.not_recorded.last() else { return };
    let t = theme::tokens(ui);
    let frame = Frame::new()
        .fill(t.surface_raised)
        .stroke(Stroke::new(stroke::LINE, t.danger))
        .inner_margin(Margin::symmetric(space::SIDE as i8, 8));
    Panel::top("not recorded").frame(frame).show_separator_line(false).show(ui, |ui| {
        let fact = named(&scene.not_recorded);
        ui.horizontal(|ui| {
            let words = |ui: &mut Ui| {
                let job = two_tone(text::TABLE, &fact, t.danger, &newest.why, t.text_primary);
                let label = ui.add(egui::Label::new(job).wrap());
                let said = format!("{fact} {}", newest.why);
                label.widget_info(|| WidgetInfo::labeled(Role::Alert, true, &said));
                ui.accesskit_node_builder(label.id, |node| node.set_live(Live::Assertive));
            };
            let buttons = |ui: &mut Ui| {
                if Button::primary("Try again").key("Ctrl R").name("Try to record it again").show(ui).clicked() {
                    out.push(Action::RecordAgain);
                }
                let leave = if scene.not_recorded.len() == 1 { "Leave it" } else { "Leave them" };
                if Button::outlined(leave).name("Leave what is not recorded").show(ui).clicked() {
                    out.push(Action::LeaveUnrecorded);
                }
            };
            ends(ui, words, buttons);
        });
    });
}

/// The question when the window is to be closed.
pub fn question(ui: &mut Ui, scene: &Scene, state: &mut ShellState, out: &mut Outbox) {
    if !state.held_open {
        return;
    }
    let Some(newest) = scene.not_recorded.last() else {
        state.held_open = false;
        return;
    };
    let one = scene.not_recorded.len() == 1;
    let lasts = scene.not_recorded.iter().all(|it| it.lasts);
    let (close, after) = match (lasts, one) {
        (true, true) => {
            (Verb::plain("Close and keep it"), "It is kept, and offered when the register is opened again.")
        }
        (true, false) => {
            (Verb::plain("Close and keep them"), "They are kept, and offered when the register is opened again.")
        }
        (false, true) => (Verb::danger("Close without it"), "It cannot be kept on this computer and is lost then."),
        (false, false) => {
            (Verb::danger("Close without them"), "Not all can be kept on this computer. Those are lost then.")
        }
    };
    let verbs = [Verb::plain("Stay"), Verb::default("Try again"), close];
    let answer = dialog(ui, "not recorded", "Close without recording?", &verbs, |ui| {
        let t = theme::tokens(ui);
        ui.label(text::table(named(&scene.not_recorded)).color(t.danger));
        ui.label(text::table(&newest.why).color(t.text_primary));
        ui.label(text::table(after).color(t.text_primary));
    });
    let Some(answer) = answer else { return };
    state.held_open = false;
    match answer {
        Answer::Verb(1) => out.push(Action::RecordAgain),
        Answer::Verb(2) => out.push(Action::Quit),
        _ => {}
    }
}

/// "Not recorded: B14 find." Of many the first are named.
fn named(all: &[NotRecorded]) -> String {
    let titles: Vec<&str> = all.iter().take(NAMED).map(|it| it.title.as_str()).collect();
    let more = all.len().saturating_sub(NAMED);
    let more = if more > 0 { format!("; and {more} more") } else { String::new() };
    format!("Not recorded: {}{more}.", titles.join("; "))
}

#[cfg(test)]
mod tests {
    use super::named;
    use crate::ui::scene::NotRecorded;

    #[test]
    fn many_are_counted_after_the_first() {
        let one = |title: &str| NotRecorded { title: title.to_owned(), ..NotRecorded::default() };
        assert_eq!(named(&[one("B14 find")]), "Not recorded: B14 find.");
        let all = [one("B14 find"), one("B15 moved"), one("B16 find"), one("B17 find")];
        assert_eq!(named(&all), "Not recorded: B14 find; B15 moved; and 2 more.");
    }
}
