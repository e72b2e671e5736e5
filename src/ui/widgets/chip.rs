//! Chips: choices of a few, filters, and menus of many. 30 high; the name in secondary, the value in semibold.

use egui::text::{LayoutJob, TextWrapping};
use egui::{
    EventFilter, Key, Modifiers, Rect, Response, Role, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, pos2, vec2,
};

use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{height, radius, stroke};
use crate::ui::theme::{self, text};
use crate::ui::widgets::focus;
use crate::ui::widgets::icon::{self, Icon};
use crate::ui::widgets::menu::{Entry, menu};

const PADDING: f32 = 10.0;

/// A chip that is chosen or not.
#[must_use = "a chip is drawn by `ui.add` or `show`"]
#[derive(Clone, Copy, Debug)]
pub struct Chip<'a> {
    words: &'a str,
    value: &'a str,
    chosen: bool,
    strong_name: bool,
    /// Tab stops at it.
    stop: bool,
}

impl<'a> Chip<'a> {
    /// One of a few answers, or a filter: "Same visit", "Requeen 6".
    pub fn choice(words: &'a str, chosen: bool) -> Self {
        Self { words, value: "", chosen, strong_name: false, stop: true }
    }

    /// One of a screen's views: its name is semibold whether chosen or not, "Calls 19".
    pub fn view(words: &'a str, chosen: bool) -> Self {
        Self { words, value: "", chosen, strong_name: true, stop: true }
    }

    /// A code, strong, with its words after it: "c3 3 closed cells".
    pub fn code(code: &'a str, words: &'a str, chosen: bool) -> Self {
        Self { words: code, value: words, chosen, strong_name: true, stop: true }
    }

    /// One of a row that Tab visits once; see [`one_of`].
    pub fn stop(self, stop: bool) -> Self {
        Self { stop, ..self }
    }

    /// The count it would show.
    pub fn count(self, count: &'a str) -> Self {
        Self { value: count, ..self }
    }

    /// Draws it; the same as `ui.add(chip)`. The caller flips the choice when it was clicked.
    pub fn show(self, ui: &mut Ui) -> Response {
        ui.add(self)
    }
}

impl egui::Widget for Chip<'_> {
    fn ui(self, ui: &mut Ui) -> Response {
        let t = theme::tokens(ui);
        let strong = self.strong_name || self.chosen;
        let (name, value) = match (strong, self.value.is_empty()) {
            (true, _) => ((Weight::SemiBold, t.text_primary), (Weight::Regular, t.text_secondary)),
            (false, true) => ((Weight::Medium, t.text_primary), (Weight::Medium, t.text_primary)),
            (false, false) => ((Weight::Regular, t.text_secondary), (Weight::SemiBold, t.text_primary)),
        };
        let mut job = LayoutJob::default();
        job.append(self.words, 0.0, text::TABLE.format(name.0, name.1));
        if !self.value.is_empty() {
            job.append(self.value, 6.0, text::TABLE.format(value.0, value.1));
        }
        let sense = if self.stop { Sense::click() } else { Sense::CLICK };
        let response = chip_box(ui, job, sense, self.chosen, false);
        let spoken = format!("{} {}", self.words, self.value);
        response.widget_info(|| WidgetInfo::selected(Role::Button, ui.is_enabled(), self.chosen, spoken.trim_end()));
        response
    }
}

/// Chips of which one is chosen. Tab visits the row once, at the chosen one; arrows choose in it, round its ends.
/// `draw` puts the chip at a place and passes on whether Tab stops there ([`Chip::stop`]). With `begin` it gets the
/// keyboard, as the first of a form just opened. Returns the place just chosen.
pub fn one_of(
    ui: &mut Ui,
    count: usize,
    chosen: Option<usize>,
    begin: bool,
    mut draw: impl FnMut(&mut Ui, usize, bool) -> Response,
) -> Option<usize> {
    let reached = chosen.unwrap_or(0);
    let chips: Vec<Response> = (0..count).map(|place| draw(ui, place, place == reached)).collect();
    let clicked = chips.iter().position(Response::clicked);
    if begin && let Some(chip) = chips.get(reached) {
        chip.request_focus();
        ui.request_repaint();
    }
    if let Some(chip) = chips.get(reached).filter(|chip| chip.has_focus()) {
        let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(chip.id, filter));
        focus::keep_choice(ui, chip.id);
        let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
        let on = pressed(Key::ArrowRight) | pressed(Key::ArrowDown);
        let back = pressed(Key::ArrowLeft) | pressed(Key::ArrowUp);
        let next = match (on, back, chosen) {
            (true, false, Some(place)) => Some((place + 1) % count),
            (false, true, Some(place)) => Some((place + count - 1) % count),
            (true, false, None) | (false, true, None) => Some(reached),
            _ => None,
        };
        if let Some(chip) = next.and_then(|next| chips.get(next)) {
            chip.request_focus();
            chip.scroll_to_me(None);
            ui.request_repaint();
            return next;
        }
    }
    clicked.filter(|place| chosen != Some(*place))
}

/// [`one_of`] for plain words: true where another was chosen.
pub fn choose<T: Copy + PartialEq>(ui: &mut Ui, choices: &[(&str, T)], chosen: &mut T, begin: bool) -> bool {
    let now = choices.iter().position(|(_, value)| value == chosen);
    let picked = one_of(ui, choices.len(), now, begin, |ui, place, stop| {
        let words = choices.get(place).map_or("", |(words, _)| words);
        Chip::choice(words, now == Some(place)).stop(stop).show(ui)
    });
    let Some((_, value)) = picked.and_then(|place| choices.get(place)) else { return false };
    *chosen = *value;
    true
}

/// A chip that opens a menu of many: "Due Any", "Queen's age", "Thrift, today 24 in hand".
#[must_use = "a menu chip is drawn by `show`"]
#[derive(Clone, Copy, Debug)]
pub struct MenuChip<'a> {
    salt: &'a str,
    name: &'a str,
    value: &'a str,
    note: &'a str,
    take_keyboard: bool,
    in_force: bool,
}

impl<'a> MenuChip<'a> {
    /// `name` is what is chosen (may be drawn outside, then pass it to [`MenuChip::unnamed`]); `value` the current one.
    pub fn new(name: &'a str, value: &'a str) -> Self {
        Self { salt: name, name, value, note: "", take_keyboard: false, in_force: false }
    }

    /// The name stands outside the chip, as a caption before it; it is still read out.
    pub fn unnamed(name: &'a str, value: &'a str) -> Self {
        Self { salt: name, name: "", value, note: "", take_keyboard: false, in_force: false }
    }

    /// A remark in secondary after the value.
    pub fn note(self, note: &'a str) -> Self {
        Self { note, ..self }
    }

    /// The value is not the usual one, as of a filter that hides something: drawn as a chosen chip.
    pub fn in_force(self, in_force: bool) -> Self {
        Self { in_force, ..self }
    }

    /// Gets the keyboard now.
    pub fn take_keyboard(self, take_keyboard: bool) -> Self {
        Self { take_keyboard, ..self }
    }

    /// Draws the chip and, when it is open, the menu: one entry a value, the current one ticked. Returns the place of
    /// the entry just chosen.
    pub fn show<S: AsRef<str>>(self, ui: &mut Ui, entries: &[S]) -> Option<usize> {
        let t = theme::tokens(ui);
        let mut job = LayoutJob::default();
        if !self.name.is_empty() {
            job.append(self.name, 0.0, text::TABLE.format(Weight::Regular, t.text_secondary));
        }
        let lead = if self.name.is_empty() { 0.0 } else { 6.0 };
        job.append(self.value, lead, text::TABLE.format(Weight::SemiBold, t.text_primary));
        if !self.note.is_empty() {
            job.append(self.note, 6.0, text::TABLE.format(Weight::Regular, t.text_secondary));
        }
        let chip =
            ui.push_id(("menu chip", self.salt), |ui| chip_box(ui, job, Sense::click(), self.in_force, true)).inner;
        if self.take_keyboard {
            chip.request_focus();
        }
        let spoken = format!("{}: {}", self.salt, self.value);
        chip.widget_info(|| WidgetInfo::labeled(Role::Button, ui.is_enabled(), &spoken));
        ui.accesskit_node_builder(chip.id, |node| node.set_has_popup(egui::accesskit::HasPopup::Menu));
        let entries: Vec<Entry<'_>> =
            entries.iter().map(|entry| Entry::new(entry.as_ref()).current(entry.as_ref() == self.value)).collect();
        menu(ui, &chip, self.salt, &entries)
    }
}

/// The box of a chip with its words laid out; `opens` adds the mark of a menu.
fn chip_box(ui: &mut Ui, mut job: LayoutJob, sense: Sense, chosen: bool, opens: bool) -> Response {
    let mark = if opens { icon::SIDE + 6.0 } else { 0.0 };
    // Never wider than the place it stands in: a panel would grow with it.
    job.wrap = TextWrapping::truncate_at_width((ui.max_rect().width() - mark - 2.0 * PADDING).max(40.0));
    let galley = ui.painter().layout_job(job);
    let size = vec2((galley.size().x + mark + 2.0 * PADDING).ceil(), height::CHIP);
    let (rect, response) = ui.allocate_exact_size(size, sense);
    if ui.is_rect_visible(rect) {
        let t = theme::tokens(ui);
        let (fill, edge) = match (chosen, response.hovered()) {
            (true, _) => (t.surface_selected, t.accent),
            (false, true) => (t.surface_hover, t.line_firm),
            (false, false) => (t.surface_raised, t.line_firm),
        };
        ui.painter().rect(rect, radius::CONTROL, fill, Stroke::new(stroke::LINE, edge), StrokeKind::Inside);
        let words_at = pos2(rect.left() + PADDING, rect.center().y - 0.5 * galley.size().y);
        ui.painter().galley(words_at, galley, t.text_primary);
        if opens {
            let center = pos2(rect.right() - PADDING - 0.5 * icon::SIDE + 2.0, rect.center().y);
            let mark = Rect::from_center_size(center, Vec2::splat(icon::SIDE - 2.0));
            icon::paint(ui.painter(), mark, Icon::Down, t.text_primary);
        }
        focus::ring_around(ui, &response, rect, radius::CONTROL);
    }
    response
}

/// The end of a row of filters: "Hides 12 of 42 yards.", and "Show all" where anything is hidden. True when pressed.
pub fn hides(ui: &mut Ui, hidden: usize, of: usize, things: &str) -> bool {
    use crate::ui::theme::text::Weighted as _;
    let things = if of == 1 { things.trim_end_matches('s') } else { things };
    ui.label(text::table(format!("Hides {hidden} of {of} {things}.")).semibold());
    hidden > 0 && crate::ui::widgets::button::Button::text("Show all").show(ui).clicked()
}
