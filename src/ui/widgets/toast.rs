//! Toasts: bottom left, one at a time, six seconds, with Undo. An error stays until it is closed.

use std::collections::VecDeque;

use egui::{Align2, Area, Frame, Id, Margin, Order, Role, Shadow, Ui, WidgetInfo, vec2};

use crate::ui::theme;
use crate::ui::theme::metrics::{height, radius, space};
use crate::ui::theme::text::{self, Weighted as _};

/// How long a toast stays, in seconds; an error stays.
pub const SECONDS: f64 = 6.0;
const WIDTH: f32 = 360.0;

#[derive(Clone, Debug, PartialEq, Eq)]
struct Toast {
    words: String,
    undo: bool,
    stays: bool,
    /// It is over once something is written.
    of_writing: bool,
}

/// What was pressed on the toast.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pressed {
    /// Take the change back.
    Undo,
    /// It was read.
    Close,
}

/// The toasts of one window; kept between passes.
#[derive(Clone, Debug, Default)]
pub struct Toasts {
    waiting: VecDeque<Toast>,
    /// Since when the first one is shown, in the window's seconds.
    since: Option<f64>,
}

impl Toasts {
    /// Says what was done, for six seconds. It takes the place of an older one of its kind.
    pub fn done(&mut self, words: impl Into<String>, undo: bool) {
        if self.waiting.front().is_some_and(|toast| !toast.stays) {
            self.waiting.pop_front();
            self.since = None;
        }
        self.waiting.retain(|toast| toast.stays);
        self.waiting.push_back(Toast { words: words.into(), undo, stays: false, of_writing: false });
    }

    /// Says more of what was just done, beside it; alone where nothing was.
    pub fn also(&mut self, words: &str) {
        match self.waiting.iter_mut().find(|toast| !toast.stays) {
            Some(toast) => toast.words = format!("{}. {words}", toast.words.trim_end_matches('.')),
            None => self.done(words, false),
        }
    }

    /// Says what failed and the way out; stays until closed. The newest is shown first: it answers what was just done.
    pub fn failed(&mut self, words: impl Into<String>) {
        self.put_first(Toast { words: words.into(), undo: false, stays: true, of_writing: false });
    }

    /// The same of the disk: it stays until it is closed or something is written.
    pub fn not_written(&mut self, words: impl Into<String>) {
        self.put_first(Toast { words: words.into(), undo: false, stays: true, of_writing: true });
    }

    /// Something is written: that it could not be is over.
    pub fn written(&mut self) {
        self.waiting.retain(|held| !held.of_writing);
        self.since = None;
    }

    fn put_first(&mut self, toast: Toast) {
        self.waiting.retain(|held| held.stays && held.words != toast.words);
        self.waiting.push_front(toast);
        self.since = None;
    }

    /// Another register: what was said of the one before is over.
    pub fn clear(&mut self) {
        *self = Self::default();
    }

    /// The words now shown.
    pub fn shown(&self) -> Option<&str> {
        self.waiting.front().map(|toast| toast.words.as_str())
    }

    /// Draws the first one above the status line and lets it go when its time is over.
    pub fn show(&mut self, ui: &mut Ui) -> Option<Pressed> {
        let toast = self.waiting.front()?.clone();
        let now = ui.input(|input| input.time);
        let since = *self.since.get_or_insert(now);
        let left = SECONDS - (now - since);
        if !toast.stays {
            if left <= 0.0 {
                self.next();
                ui.request_repaint();
                return None;
            }
            ui.request_repaint_after_secs(left as f32);
        }
        let pressed = draw(ui, &toast);
        if pressed.is_some() {
            self.next();
        }
        pressed
    }

    fn next(&mut self) {
        self.waiting.pop_front();
        self.since = None;
    }
}

fn draw(ui: &mut Ui, toast: &Toast) -> Option<Pressed> {
    let t = theme::tokens(ui);
    let offset = vec2(space::SIDE, -(height::STATUS + space::BOX));
    let area = Area::new(Id::unique("toast")).order(Order::Foreground).anchor(Align2::LEFT_BOTTOM, offset);
    let shown = area.show(ui, |ui| {
        let frame = Frame::new()
            .fill(t.surface_tip)
            .corner_radius(radius::CONTROL)
            .shadow(Shadow { offset: [0, 2], blur: 8, spread: 0, color: t.shadow })
            .inner_margin(Margin::symmetric(14, 10));
        frame
            .show(ui, |ui| {
                ui.set_width(WIDTH - 28.0);
                ui.spacing_mut().interact_size.y = text::TABLE.line;
                ui.horizontal_top(|ui| {
                    let room = if toast.undo { 104.0 } else { 52.0 };
                    ui.vertical(|ui| {
                        ui.set_width(WIDTH - 28.0 - room);
                        let label = ui.label(text::table(&toast.words).color(t.text_on_tip));
                        label.widget_info(|| WidgetInfo::labeled(Role::Status, true, &toast.words));
                        ui.accesskit_node_builder(label.id, |node| {
                            node.set_live(if toast.stays {
                                egui::accesskit::Live::Assertive
                            } else {
                                egui::accesskit::Live::Polite
                            });
                        });
                    });
                    if toast.undo && word(ui, "Undo") {
                        return Some(Pressed::Undo);
                    }
                    word(ui, "Close").then_some(Pressed::Close)
                })
                .inner
            })
            .inner
    });
    shown.inner
}

/// A text button on the tip's own surface, where the accent would be too weak.
fn word(ui: &mut Ui, words: &str) -> bool {
    let t = theme::tokens(ui);
    let label = text::table(words).semibold().underline().color(t.text_on_tip);
    let button = egui::Button::new(label).frame(false).min_size(vec2(0.0, 20.0));
    let response = ui.add(button);
    if response.has_focus() {
        let ring = egui::Stroke::new(theme::metrics::stroke::FOCUS, t.text_on_tip);
        ui.painter().rect_stroke(response.rect.expand(2.0), radius::KEY, ring, egui::StrokeKind::Outside);
    }
    response.clicked()
}

#[cfg(test)]
mod tests {
    use super::{SECONDS, Toasts};

    fn pass(ctx: &egui::Context, toasts: &mut Toasts, time: f64) {
        let input = egui::RawInput { time: Some(time), ..egui::RawInput::default() };
        let mut output = ctx.run_ui(input, |ui| {
            toasts.show(ui);
        });
        output.textures_delta.clear();
    }

    #[test]
    fn a_toast_goes_after_its_seconds_and_an_error_stays() {
        let ctx = egui::Context::default();
        crate::ui::theme::apply(&ctx);
        let mut toasts = Toasts::default();
        toasts.done("29 labels printed.", true);
        pass(&ctx, &mut toasts, 0.0);
        pass(&ctx, &mut toasts, SECONDS - 0.1);
        assert_eq!(toasts.shown(), Some("29 labels printed."));
        pass(&ctx, &mut toasts, SECONDS + 0.1);
        assert_eq!(toasts.shown(), None);
        toasts.failed("The printer is off. Switch it on and print again.");
        pass(&ctx, &mut toasts, 10.0);
        pass(&ctx, &mut toasts, 1_000.0);
        assert!(toasts.shown().is_some(), "an error waits to be read");
    }

    #[test]
    fn a_newer_toast_takes_the_place_of_an_older_one() {
        let mut toasts = Toasts::default();
        toasts.done("B07 accepted.", true);
        toasts.done("B09 accepted.", true);
        assert_eq!(toasts.shown(), Some("B09 accepted."));
    }

    #[test]
    fn more_is_said_beside_what_was_done() {
        let mut toasts = Toasts::default();
        toasts.done("5 labels printed", true);
        toasts.also("Written: labels.pdf.");
        assert_eq!(toasts.shown(), Some("5 labels printed. Written: labels.pdf."));
    }

    #[test]
    fn the_newest_failure_is_shown_first_and_the_older_one_still_waits() {
        let mut toasts = Toasts::default();
        toasts.done("B07 accepted.", true);
        toasts.failed("The disk is full. Make room.");
        toasts.failed("The file is gone. Put it back.");
        assert_eq!(toasts.shown(), Some("The file is gone. Put it back."));
        toasts.failed("The disk is full. Make room.");
        assert_eq!(toasts.waiting.len(), 2, "the same is said once");
        toasts.clear();
        assert_eq!(toasts.shown(), None);
    }

    #[test]
    fn that_nothing_could_be_written_is_over_when_something_is() {
        let mut toasts = Toasts::default();
        toasts.failed("The printer is off. Switch it on.");
        toasts.not_written("The disk is full. Make room.");
        toasts.written();
        toasts.done("B07 accepted.", true);
        assert_eq!(toasts.shown(), Some("The printer is off. Switch it on."));
        assert_eq!(toasts.waiting.len(), 2);
    }
}
