//! A field of known names: those that fit are listed below it while one types. Arrows move in the list, `Enter` takes one,
//! `Esc` closes it.

use egui::text::{CCursor, CCursorRange};
use egui::{Area, Frame, Key, Margin, Modifiers, Order, Rect, Response, Stroke, TextEdit, Ui, vec2};

use crate::ui::theme::metrics::{height, radius};
use crate::ui::theme::{self, text};
use crate::ui::widgets::Field;

/// Names listed at once.
const LISTED: usize = 7;

/// A name that fits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fit {
    /// What the field holds once it is taken.
    pub name: String,
    /// How the list says it.
    pub words: String,
}

/// What the field keeps between frames.
#[derive(Clone, Debug, Default)]
pub struct Suggest {
    open: bool,
    at: usize,
    list: Option<Rect>,
}

impl Suggest {
    /// The list is shown: `Esc` closes it and nothing else.
    pub fn is_open(&self) -> bool {
        self.open
    }

    /// Draws the field and, below it, what `fits` what is typed. `changed()` tells of letters typed and of a name taken.
    #[must_use]
    pub fn show(
        &mut self,
        ui: &mut Ui,
        field: Field<'_>,
        typed: &mut String,
        fits: impl Fn(&str) -> Vec<Fit>,
    ) -> Response {
        let id = field.id(ui);
        let focused = ui.memory(|memory| memory.has_focus(id));
        let mut taken = None;
        if self.open || focused {
            // The list's keys are taken before the field sees them.
            let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
            if self.open && pressed(Key::Escape) {
                self.open = false;
                // The key has taken the keyboard from the field before it is drawn.
                ui.memory_mut(|memory| memory.request_focus(id));
            }
            let listed = fits(typed);
            if focused && pressed(Key::ArrowDown) {
                self.at = if self.open { (self.at + 1).min(listed.len().saturating_sub(1)) } else { 0 };
                self.open = true;
            }
            if focused && self.open && pressed(Key::ArrowUp) {
                self.at = self.at.saturating_sub(1);
            }
            if focused && self.open && !listed.is_empty() && pressed(Key::Enter) {
                taken = listed.into_iter().nth(self.at);
            }
        }
        let mut response = field.show(ui, typed);
        if response.changed() {
            (self.open, self.at) = (!typed.trim().is_empty(), 0);
        }
        let on_list =
            ui.input(|input| input.pointer.interact_pos()).zip(self.list).is_some_and(|(at, it)| it.contains(at));
        if !response.has_focus() && !on_list {
            self.open = false;
        }
        if self.open {
            taken = taken.or_else(|| self.listed(ui, &response, fits(typed)));
        }
        if let Some(fit) = taken {
            *typed = fit.name;
            self.open = false;
            let end = CCursor::new(typed.chars().count());
            let mut state = TextEdit::load_state(ui, response.id).unwrap_or_default();
            state.cursor.set_char_range(Some(CCursorRange::one(end)));
            state.store(ui, response.id);
            response.request_focus();
            response.mark_changed();
        }
        if !self.open {
            self.list = None;
        }
        response
    }

    /// The list; the name that was clicked.
    fn listed(&mut self, ui: &mut Ui, field: &Response, fits: Vec<Fit>) -> Option<Fit> {
        if fits.is_empty() {
            self.list = None;
            return None;
        }
        let t = theme::tokens(ui);
        let width = field.rect.width();
        let at = field.rect.left_bottom() + vec2(0.0, 3.0);
        let mut taken = None;
        let area = Area::new(field.id.with("fits")).order(Order::Foreground).fixed_pos(at).show(ui, |ui| {
            let frame = Frame::new().fill(t.surface_raised).stroke(Stroke::new(1.0, t.line_firm));
            frame.corner_radius(radius::CONTROL).inner_margin(Margin::same(4)).show(ui, |ui| {
                ui.set_width(width - 10.0);
                ui.spacing_mut().item_spacing.y = 0.0;
                for (place, fit) in fits.into_iter().take(LISTED).enumerate() {
                    let fill = if place == self.at { t.surface_selected } else { t.surface_raised };
                    let words = text::table(&fit.words).color(t.text_primary);
                    // What stands after the words pushes them to the left.
                    let row = egui::Button::new((words, egui::Atom::grow())).fill(fill).stroke(Stroke::NONE).truncate();
                    if ui.add(row.min_size(vec2(width - 10.0, height::BUTTON_SMALL))).clicked() {
                        taken = Some(fit);
                    }
                }
            });
        });
        self.list = Some(area.response.rect);
        taken
    }
}
