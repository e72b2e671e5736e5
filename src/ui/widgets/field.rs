//! A one-line field with its label, and below it the way out when what was typed cannot be used.

use egui::text::{CCursor, CCursorRange};
use egui::{Frame, Id, Margin, Rect, Response, Sense, Stroke, StrokeKind, TextEdit, Ui, Vec2, pos2, vec2};

use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{height, radius, stroke};
use crate::ui::theme::{self, text};
use crate::ui::widgets::icon::{self, Icon};
use crate::ui::widgets::{focus, key};

#[derive(Clone, Copy, Debug, PartialEq)]
enum Place {
    Left,
    /// Left in a column of this width.
    Column(f32),
    Above,
    /// Not drawn, only read out.
    Hidden,
}

/// A field for one line of text. Turning the text into a day or a number is the domain's work.
#[must_use = "a field is drawn by `show`"]
#[derive(Clone, Copy, Debug)]
pub struct Field<'a> {
    label: &'a str,
    salt: &'a str,
    place: Place,
    width: f32,
    hint: &'a str,
    icon: Option<Icon>,
    keys: &'a str,
    error: Option<&'a str>,
    help: &'a str,
    strong: bool,
}

/// Selects what stands in a field: what is typed next takes its place, as everywhere else on the desktop.
pub fn select_all(ui: &Ui, id: Id, typed: &str) {
    if let Some(mut state) = TextEdit::load_state(ui, id) {
        let all = CCursorRange::two(CCursor::default(), CCursor::new(typed.chars().count()));
        state.cursor.set_char_range(Some(all));
        state.store(ui, id);
    }
}

impl<'a> Field<'a> {
    /// Its label stands to the left.
    pub fn new(label: &'a str) -> Self {
        Self {
            label,
            salt: label,
            place: Place::Left,
            width: 120.0,
            hint: "",
            icon: None,
            keys: "",
            error: None,
            help: "",
            strong: false,
        }
    }

    /// Its label stands above.
    pub fn above(self) -> Self {
        Self { place: Place::Above, ..self }
    }

    /// Its label stands at the left in a column, as in the forms of a panel.
    pub fn column(self, width: f32) -> Self {
        Self { place: Place::Column(width), ..self }
    }

    /// Its label is only read out; what it is for must be plain from its place.
    pub fn hidden_label(self) -> Self {
        Self { place: Place::Hidden, ..self }
    }

    /// Tells two fields of the same label apart.
    pub fn salt(self, salt: &'a str) -> Self {
        Self { salt, ..self }
    }

    /// Width of the field in points, 120 if not said.
    pub fn width(self, width: f32) -> Self {
        Self { width, ..self }
    }

    /// Shown while it is empty: what may be typed.
    pub fn hint(self, hint: &'a str) -> Self {
        Self { hint, ..self }
    }

    /// An icon inside, before the text.
    pub fn icon(self, icon: Icon) -> Self {
        Self { icon: Some(icon), ..self }
    }

    /// Keys that bring the cursor here, shown inside while it has none.
    pub fn key(self, keys: &'a str) -> Self {
        Self { keys, ..self }
    }

    /// Why the text cannot be used and the way out; the edge turns to danger.
    pub fn error(self, error: Option<&'a str>) -> Self {
        Self { error, ..self }
    }

    /// What the text was understood as, or what else may be typed; gives way to an error.
    pub fn help(self, help: &'a str) -> Self {
        Self { help, ..self }
    }

    /// Semibold text, as in the grid of evening entry.
    pub fn strong(self) -> Self {
        Self { strong: true, ..self }
    }

    /// The id of the field's text, for `ctx.memory_mut(|m| m.request_focus(id))`. Ask in the same `Ui` it is shown in.
    pub fn id(&self, ui: &Ui) -> Id {
        ui.make_persistent_id(("field", self.salt))
    }

    /// Draws label, field and what stands below. `changed()`, `lost_focus()` and the like are of the text itself.
    pub fn show(self, ui: &mut Ui, typed: &mut String) -> Response {
        let id = self.id(ui);
        let below = self.error.is_some() || !self.help.is_empty();
        match self.place {
            // Without a line below it stays in the middle of the bar it stands in.
            Place::Hidden if !below => self.body(ui, id, typed),
            Place::Left if !below => {
                ui.horizontal(|ui| {
                    self.caption(ui);
                    self.body(ui, id, typed)
                })
                .inner
            }
            Place::Hidden => ui.vertical(|ui| self.body(ui, id, typed)).inner,
            Place::Above => {
                ui.vertical(|ui| {
                    ui.spacing_mut().item_spacing.y = 4.0;
                    self.caption(ui);
                    self.body(ui, id, typed)
                })
                .inner
            }
            Place::Left => {
                ui.horizontal_top(|ui| {
                    self.caption(ui);
                    ui.vertical(|ui| self.body(ui, id, typed)).inner
                })
                .inner
            }
            Place::Column(width) => {
                ui.horizontal_top(|ui| {
                    ui.spacing_mut().item_spacing.x = 0.0;
                    let (rect, _) = ui.allocate_exact_size(vec2(width, height::FIELD), Sense::hover());
                    let color = theme::tokens(ui).text_secondary;
                    let font = text::TABLE.font(Weight::Regular);
                    ui.painter().text(rect.left_center(), egui::Align2::LEFT_CENTER, self.label, font, color);
                    ui.vertical(|ui| self.body(ui, id, typed)).inner
                })
                .inner
            }
        }
    }

    fn caption(&self, ui: &mut Ui) {
        let color = theme::tokens(ui).text_secondary;
        let galley = ui.painter().layout_no_wrap(self.label.to_owned(), text::SMALL.font(Weight::Regular), color);
        let height = if self.place == Place::Left { height::FIELD } else { text::SMALL.line };
        let (rect, _) = ui.allocate_exact_size(vec2(galley.size().x, height), Sense::hover());
        let at = pos2(rect.left(), rect.center().y - 0.5 * galley.size().y);
        ui.painter().galley(at, galley, color);
    }

    fn body(&self, ui: &mut Ui, id: Id, typed: &mut String) -> Response {
        ui.spacing_mut().item_spacing.y = 4.0;
        let t = theme::tokens(ui);
        let focused = ui.memory(|memory| memory.has_focus(id));
        let keys_width = if self.keys.is_empty() || focused { 0.0 } else { key::width(ui.painter(), self.keys) + 8.0 };
        let icon_width = if self.icon.is_some() { icon::SIDE + 8.0 } else { 0.0 };
        let width = self.width.min(ui.available_width());
        let (rect, _) = ui.allocate_exact_size(vec2(width, height::FIELD), Sense::hover());
        let (edge, line) = match (focused, self.error) {
            (true, _) => (t.focus, stroke::FOCUS),
            (false, Some(_)) => (t.danger, stroke::FOCUS),
            (false, None) => (t.line_firm, stroke::LINE),
        };
        ui.painter().rect(rect, radius::CONTROL, t.surface_raised, Stroke::new(line, edge), StrokeKind::Inside);
        if let Some(icon) = self.icon {
            let center = pos2(rect.left() + 11.0 + 0.5 * icon::SIDE, rect.center().y);
            let place = Rect::from_center_size(center, Vec2::splat(icon::SIDE));
            icon::paint(ui.painter(), place, icon, t.text_secondary);
        }
        if keys_width > 0.0 {
            let at = pos2(rect.right() - keys_width - 2.0, rect.center().y);
            key::paint(ui.painter(), at, self.keys, key::plain_ink(ui));
        }
        let weight = if self.strong { Weight::SemiBold } else { Weight::Regular };
        let side = |points: f32| points.round() as i8;
        // Two points up: the font's line has more room above its capitals than below them.
        let margin = Margin { left: side(11.0 + icon_width), right: side(11.0 + keys_width), top: 3, bottom: 7 };
        let edit = TextEdit::singleline(typed)
            .id(id)
            .font(text::BODY.font(weight))
            .text_color(t.text_primary)
            .hint_text(egui::RichText::new(self.hint).color(t.text_secondary))
            .align(egui::Align2::LEFT_CENTER)
            .frame(Frame::new().inner_margin(margin))
            .min_size(rect.size())
            .desired_width(rect.width());
        let response = ui.put(rect, edit).accessible_name(self.label);
        focus::into_view(ui, &response, rect);
        if focus::came_by_tab(ui, &response) {
            select_all(ui, id, typed);
        }
        if let Some(error) = self.error {
            ui.label(text::small(error).color(t.danger));
        } else if !self.help.is_empty() {
            ui.label(text::small(self.help).color(t.text_secondary));
        }
        let below = self.error.unwrap_or(self.help);
        ui.accesskit_node_builder(response.id, |node| {
            if !below.is_empty() {
                node.set_description(below);
            }
            if self.error.is_some() {
                node.set_invalid(egui::accesskit::Invalid::True);
            }
        });
        response
    }
}
