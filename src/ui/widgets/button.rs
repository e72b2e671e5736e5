//! Buttons. One primary a screen, the others outlined; the key stands on the button; a disabled one says why.

use std::sync::Arc;

use egui::text::{LayoutJob, TextFormat};
use egui::{Color32, Galley, Rect, Response, Role, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, pos2, vec2};

use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{height, radius, stroke};
use crate::ui::theme::{self, CLEAR, Tokens, text};
use crate::ui::widgets::icon::{self, Icon};
use crate::ui::widgets::progress::grouped;
use crate::ui::widgets::{focus, key};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Look {
    Primary,
    Outlined,
    Words,
    /// Words in secondary, for the status line.
    Quiet,
    Danger,
}

/// A button; see the constructors.
#[must_use = "a button is drawn by `ui.add` or `show`"]
#[derive(Clone, Copy, Debug)]
pub struct Button<'a> {
    look: Look,
    words: &'a str,
    count: Option<usize>,
    name: Option<&'a str>,
    icon: Option<Icon>,
    icon_after: bool,
    keys: &'a str,
    small: bool,
    tiny: bool,
    least_width: f32,
    why_not: Option<&'a str>,
}

impl<'a> Button<'a> {
    fn new(look: Look, words: &'a str) -> Self {
        Self {
            look,
            words,
            count: None,
            name: None,
            icon: None,
            icon_after: false,
            keys: "",
            small: false,
            tiny: false,
            least_width: 0.0,
            why_not: None,
        }
    }

    /// The one act the screen is for: accent fill.
    pub fn primary(words: &'a str) -> Self {
        Self::new(Look::Primary, words)
    }

    /// Any other act.
    pub fn outlined(words: &'a str) -> Self {
        Self::new(Look::Outlined, words)
    }

    /// An act inside running text or a heading, as "Undo" or "All 23".
    pub fn text(words: &'a str) -> Self {
        Self::new(Look::Words, words)
    }

    /// An act of little weight, in small secondary words, as "Keys" in the status line.
    pub fn quiet(words: &'a str) -> Self {
        Self::new(Look::Quiet, words).tiny()
    }

    /// An act that takes something away: outlined, stands last, never the default key.
    pub fn danger(words: &'a str) -> Self {
        Self::new(Look::Danger, words)
    }

    /// An icon alone: only close, arrows, zoom and grip. The name is read out.
    pub fn icon_only(icon: Icon, name: &'a str) -> Self {
        Self { icon: Some(icon), name: Some(name), ..Self::new(Look::Words, "") }
    }

    /// An icon alone in a button with an edge, as the map's zoom.
    pub fn icon_outlined(icon: Icon, name: &'a str) -> Self {
        Self { icon: Some(icon), name: Some(name), ..Self::new(Look::Outlined, "") }
    }

    /// The keys that do the same, split at spaces: "Ctrl Enter".
    pub fn key(self, keys: &'a str) -> Self {
        Self { keys, ..self }
    }

    /// An icon before the words.
    pub fn icon(self, icon: Icon) -> Self {
        Self { icon: Some(icon), ..self }
    }

    /// A number after the words, in semibold.
    pub fn count(self, count: usize) -> Self {
        Self { count: Some(count), ..self }
    }

    /// The mark of a button that opens a menu, after the words.
    pub fn opens(self) -> Self {
        Self { icon: Some(Icon::Down), icon_after: true, ..self }
    }

    /// 28 high with table text instead of 34 with body text.
    pub fn small(self) -> Self {
        Self { small: true, ..self }
    }

    /// Small text, for text buttons among small words.
    pub fn tiny(self) -> Self {
        Self { tiny: true, ..self }
    }

    /// At least this wide, in points.
    pub fn least_width(self, least_width: f32) -> Self {
        Self { least_width, ..self }
    }

    /// A longer accessible name than the words, where the words alone do not say what is acted on.
    pub fn name(self, name: &'a str) -> Self {
        Self { name: Some(name), ..self }
    }

    /// Cannot be pressed, and why: a fact and the way out. Shown on hover and on focus, and read out.
    pub fn why_not(self, why_not: Option<&'a str>) -> Self {
        Self { why_not, ..self }
    }

    /// Draws it; the same as `ui.add(button)`.
    pub fn show(self, ui: &mut Ui) -> Response {
        ui.add(self)
    }

    fn size_of_type(&self) -> text::Type {
        match self.look {
            _ if self.tiny => text::SMALL,
            Look::Words | Look::Quiet => text::TABLE,
            _ if self.small => text::TABLE,
            _ => text::BODY,
        }
    }

    fn weight(&self) -> Weight {
        match self.look {
            Look::Primary | Look::Words => Weight::SemiBold,
            Look::Outlined | Look::Danger => Weight::Medium,
            Look::Quiet => Weight::Regular,
        }
    }

    fn size(&self, words: &Galley, ui: &Ui) -> Vec2 {
        let mut width = words.size().x;
        if self.icon.is_some() {
            width += icon::SIDE + self.gap();
        }
        if !self.keys.is_empty() {
            width += key::width(ui.painter(), self.keys) + self.gap_before_keys();
        }
        let height = if self.small || self.is_bare() { height::BUTTON_SMALL } else { height::BUTTON };
        let width = (width + 2.0 * self.padding()).ceil().max(self.least_width).max(height::BUTTON_SMALL);
        vec2(width, height)
    }

    /// Between icon and words.
    fn gap(&self) -> f32 {
        if self.words.is_empty() { 0.0 } else { 8.0 }
    }

    fn gap_before_keys(&self) -> f32 {
        if self.words.is_empty() && self.icon.is_none() { 0.0 } else { 8.0 }
    }

    fn is_bare(&self) -> bool {
        matches!(self.look, Look::Words | Look::Quiet)
    }

    fn padding(&self) -> f32 {
        match self.look {
            Look::Words | Look::Quiet if self.words.is_empty() => 6.0,
            Look::Words | Look::Quiet => 2.0,
            _ if self.words.is_empty() => 8.0,
            _ if self.small => 11.0,
            _ => 14.0,
        }
    }
}

struct Inks {
    fill: Color32,
    edge: Color32,
    words: Color32,
}

fn inks(t: &Tokens, look: Look, enabled: bool, lit: bool, pressed: bool) -> Inks {
    let raised = if pressed {
        t.surface_selected
    } else if lit {
        t.surface_hover
    } else {
        t.surface_raised
    };
    match (look, enabled) {
        (Look::Words, true) => Inks { fill: CLEAR, edge: CLEAR, words: if lit { t.accent_hover } else { t.accent } },
        (Look::Quiet, true) => {
            Inks { fill: CLEAR, edge: CLEAR, words: if lit { t.text_primary } else { t.text_secondary } }
        }
        (Look::Words | Look::Quiet, false) => Inks { fill: CLEAR, edge: CLEAR, words: t.text_disabled },
        (_, false) => Inks { fill: t.surface_sunken, edge: t.line_soft, words: t.text_disabled },
        (Look::Primary, true) => {
            let fill = if lit { t.accent_hover } else { t.accent };
            Inks { fill, edge: fill, words: t.text_on_accent }
        }
        (Look::Outlined, true) => Inks { fill: raised, edge: t.line_firm, words: t.text_primary },
        (Look::Danger, true) => Inks { fill: raised, edge: t.danger, words: t.danger },
    }
}

impl egui::Widget for Button<'_> {
    fn ui(self, ui: &mut Ui) -> Response {
        let words = ui.painter().layout_job(self.job());
        let enabled = self.why_not.is_none() && ui.is_enabled();
        // Without the sense of clicking it can still be reached by keyboard, to hear why it cannot be pressed.
        let sense = if enabled { Sense::click() } else { Sense::focusable_noninteractive() };
        let (rect, response) = ui.allocate_exact_size(self.size(&words, ui), sense);
        if ui.is_rect_visible(rect) {
            let t = theme::tokens(ui);
            let lit = enabled && response.hovered();
            let inks = inks(t, self.look, enabled, lit, response.is_pointer_button_down_on());
            let edge = Stroke::new(stroke::LINE, inks.edge);
            ui.painter().rect(rect, radius::CONTROL, inks.fill, edge, StrokeKind::Inside);
            self.paint_content(ui, rect, words, &inks);
            focus::ring_around(ui, &response, rect, radius::CONTROL);
        }
        let spoken = self.count.map(|count| format!("{} {count}", self.words));
        let name = self.name.or(spoken.as_deref()).unwrap_or(self.words);
        response.widget_info(|| WidgetInfo::labeled(Role::Button, enabled, name));
        ui.accesskit_node_builder(response.id, |node| {
            if !self.keys.is_empty() {
                node.set_keyboard_shortcut(self.keys.replace(' ', "+"));
            }
            if let Some(why) = self.why_not {
                node.set_disabled();
                node.set_description(why);
            }
        });
        if let Some(why) = self.why_not {
            if response.has_focus() {
                response.show_tooltip_text(text::table(why));
            }
            return response.on_hover_text(text::table(why));
        }
        if self.words.is_empty() && enabled {
            return response.on_hover_text(text::table(name));
        }
        response
    }
}

impl Button<'_> {
    fn job(&self) -> LayoutJob {
        let simple = |weight| TextFormat::simple(self.size_of_type().font(weight), Color32::PLACEHOLDER);
        let mut job = LayoutJob::default();
        job.append(self.words, 0.0, simple(self.weight()));
        if let Some(count) = self.count {
            job.append(&grouped(count as u64), 8.0, simple(Weight::SemiBold));
        }
        job
    }

    fn paint_content(&self, ui: &Ui, rect: Rect, words: Arc<Galley>, inks: &Inks) {
        let t = theme::tokens(ui);
        let gap = self.gap();
        let content = self.size(&words, ui).x.min(rect.width()) - 2.0 * self.padding();
        let natural = words.size().x
            + if self.icon.is_some() { icon::SIDE + gap } else { 0.0 }
            + if self.keys.is_empty() { 0.0 } else { key::width(ui.painter(), self.keys) + self.gap_before_keys() };
        let mut left = rect.left() + self.padding() + 0.5 * (content - natural).max(0.0);
        let middle = rect.center().y;
        let icon_at =
            |left: f32| Rect::from_center_size(pos2(left + 0.5 * icon::SIDE, middle), Vec2::splat(icon::SIDE));
        if let Some(icon) = self.icon.filter(|_| !self.icon_after) {
            icon::paint(ui.painter(), icon_at(left), icon, inks.words);
            left += icon::SIDE + gap;
        }
        let words_width = words.size().x;
        let corner = pos2(left, middle - 0.5 * words.size().y);
        ui.painter().galley(corner, words, inks.words);
        left += words_width + if self.keys.is_empty() { gap } else { self.gap_before_keys() };
        if let Some(icon) = self.icon.filter(|_| self.icon_after) {
            icon::paint(ui.painter(), icon_at(left), icon, inks.words);
            left += icon::SIDE + gap;
        }
        let cap = match self.look {
            Look::Primary => key::ink_on(inks.words),
            _ if inks.words == t.text_disabled => key::CapInk { words: inks.words, edge: t.line_soft, fill: CLEAR },
            _ => key::plain_ink(ui),
        };
        key::paint(ui.painter(), pos2(left, middle), self.keys, cap);
    }
}
