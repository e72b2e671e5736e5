//! Boxes that speak: cautions, notes, and what stands where there is nothing yet.

use egui::text::LayoutJob;
use egui::{Color32, Frame, Margin, Rect, Sense, Stroke, Ui, Vec2, pos2, vec2};

use crate::ui::theme::metrics::{radius, stroke};
use crate::ui::theme::text::{self, fact_and_rest, two_tone};
use crate::ui::theme::{self, CLEAR};
use crate::ui::widgets::button::Button;
use crate::ui::widgets::icon::{self, Icon};

/// A caution: the fact in semibold, then what to do. It has no colour; edge, ink bar and icon tell.
#[must_use = "a caution is drawn by `show`"]
#[derive(Clone, Copy, Debug)]
pub struct Caution<'a> {
    fact: &'a str,
    what_to_do: &'a str,
    icon: Icon,
    act: &'a str,
}

impl<'a> Caution<'a> {
    /// "Windbreak has no signal and you go alone." "Agree a check-in: leave 13:40, call by 14:25."
    pub fn new(fact: &'a str, what_to_do: &'a str) -> Self {
        Self { fact, what_to_do, icon: Icon::Caution, act: "" }
    }

    /// A bar (quarantine, treatment): the circle with the stroke instead of the triangle.
    pub fn barred(self) -> Self {
        Self { icon: Icon::Bar, ..self }
    }

    /// A link at the end, to where it can be mended.
    pub fn act(self, act: &'a str) -> Self {
        Self { act, ..self }
    }

    /// Draws it over the whole width. True when the link was pressed.
    pub fn show(self, ui: &mut Ui) -> bool {
        let t = theme::tokens(ui);
        let job = two_tone(text::TABLE, self.fact, t.text_primary, self.what_to_do, t.text_primary);
        let edge = Stroke::new(stroke::LINE, t.line_firm);
        let (rect, pressed) = speaking_box(ui, t.surface_raised, edge, self.icon, job, self.act);
        let bar = Rect { max: pos2(rect.left() + stroke::MARK, rect.bottom()), ..rect };
        ui.painter().rect_filled(bar, radius::CAUTION, t.text_primary);
        pressed
    }
}

/// A harmless note: sunken, no bar. The first part is semibold and may be empty.
pub fn note(ui: &mut Ui, icon: Icon, fact: &str, words: &str) {
    let t = theme::tokens(ui);
    let job = two_tone(text::TABLE, fact, t.text_primary, words, t.text_primary);
    speaking_box(ui, t.surface_sunken, Stroke::new(0.0, CLEAR), icon, job, "");
}

/// Where there is nothing: a sentence of what is so, and how to come by something. Buttons follow it.
pub fn empty_state(ui: &mut Ui, fact: &str, way_on: &str) {
    let t = theme::tokens(ui);
    ui.label(text::head(fact).color(t.text_primary));
    ui.label(text::body(way_on).color(t.text_secondary));
}

/// A first sentence of a screen: what is there in semibold, what is amiss in secondary; 20 points, shortened where there
/// is no room. A screen reader says it when the screen is opened and when it changes.
pub fn sentence(ui: &mut Ui, fact: &str, rest: &str) {
    let t = theme::tokens(ui);
    let label = ui.add(egui::Label::new(fact_and_rest(t, text::SENTENCE, fact, rest)).truncate());
    ui.accesskit_node_builder(label.id, |node| node.set_live(egui::accesskit::Live::Polite));
}

fn speaking_box(ui: &mut Ui, fill: Color32, edge: Stroke, icon: Icon, words: LayoutJob, act: &str) -> (Rect, bool) {
    let t = theme::tokens(ui);
    let frame = Frame::new().fill(fill).stroke(edge).corner_radius(radius::CAUTION).inner_margin(Margin {
        left: 15,
        right: 14,
        top: 9,
        bottom: 9,
    });
    let shown = frame.show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = 10.0;
            let (place, _) = ui.allocate_exact_size(vec2(icon::SIDE, 20.0), Sense::hover());
            let place = Rect::from_center_size(place.center(), Vec2::splat(icon::SIDE));
            icon::paint(ui.painter(), place, icon, t.text_primary);
            ui.vertical(|ui| {
                ui.spacing_mut().item_spacing.y = 2.0;
                ui.label(words);
                !act.is_empty() && Button::text(act).show(ui).clicked()
            })
            .inner
        })
        .inner
    });
    (shown.response.rect, shown.inner)
}
