//! The menu under a button or chip: one line an entry, its keys at the right, a disabled one says why.

use egui::{
    Align2, Color32, EventFilter, Id, Key, Modifiers, Popup, PopupCloseBehavior, Rect, Response, Role, Sense, Ui, Vec2,
    WidgetInfo, pos2, vec2,
};

use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::{height, radius};
use crate::ui::theme::{self, text};
use crate::ui::widgets::icon::{self, Icon};
use crate::ui::widgets::{focus, key, typed};

/// Room for the tick before the words, where an entry has one.
const LEAD: f32 = 28.0;
const TAIL: f32 = 12.0;
/// A menu of more than about fourteen entries scrolls.
const MOST_HEIGHT: f32 = 400.0;

/// One line of a menu.
#[derive(Clone, Copy, Debug)]
pub struct Entry<'a> {
    words: &'a str,
    keys: &'a str,
    current: bool,
    danger: bool,
    why_not: Option<&'a str>,
}

impl<'a> Entry<'a> {
    /// An entry with these words.
    pub fn new(words: &'a str) -> Self {
        Self { words, keys: "", current: false, danger: false, why_not: None }
    }

    /// The keys that do the same.
    #[must_use]
    pub fn key(self, keys: &'a str) -> Self {
        Self { keys, ..self }
    }

    /// It is the one now in force: ticked.
    #[must_use]
    pub fn current(self, current: bool) -> Self {
        Self { current, ..self }
    }

    /// It takes something away; stands last.
    #[must_use]
    pub fn danger(self) -> Self {
        Self { danger: true, ..self }
    }

    /// Cannot be chosen, and why: shown under the words.
    #[must_use]
    pub fn why_not(self, why_not: Option<&'a str>) -> Self {
        Self { why_not, ..self }
    }
}

/// The menu of `button`, opened and closed by it. Arrows move in it, round its ends; letters go to the entry
/// that begins with them; `Enter` chooses, `Esc` and `Tab` close. Returns the place of the entry just chosen; the keyboard goes
/// back to the button.
pub fn menu(ui: &Ui, button: &Response, name: &str, entries: &[Entry<'_>]) -> Option<usize> {
    let was_open = Popup::is_id_open(ui, Popup::default_response_id(button));
    // Its button opens it in this pass, a key has opened it before: it is new where the last pass did not show it.
    let (pass, shown_in) = (ui.cumulative_pass_nr(), button.id.with("menu shown"));
    let is_new = ui.data(|data| data.get_temp::<u64>(shown_in)).is_none_or(|shown| shown + 1 < pass);
    let popup = Popup::menu(button).close_behavior(PopupCloseBehavior::IgnoreClicks).accessible_name(name);
    let shown = popup.show(|ui| {
        ui.data_mut(|data| data.insert_temp(shown_in, pass));
        ui.spacing_mut().item_spacing.y = 0.0;
        let lead = if entries.iter().any(|entry| entry.current) { LEAD } else { TAIL };
        let width = entries.iter().map(|entry| width_of(ui, entry, lead)).fold(button.rect.width(), f32::max);
        let first = entries.iter().position(|entry| entry.current).unwrap_or(0);
        let mut picked = None;
        egui::ScrollArea::vertical().max_height(MOST_HEIGHT).show(ui, |ui| {
            let drawn: Vec<Response> = entries.iter().map(|entry| draw(ui, entry, width, lead)).collect();
            if let Some(response) = drawn.get(first).filter(|_| is_new) {
                response.request_focus();
                response.scroll_to_me(None);
            }
            picked = drawn.iter().position(Response::clicked);
            if picked.is_none() {
                move_by_keys(ui, button.id.with("typed"), entries, &drawn);
            }
        });
        if picked.is_some() || ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Tab)) {
            ui.close();
            button.request_focus();
        }
        picked
    })?;
    if shown.response.clicked_elsewhere() && was_open && !button.clicked() {
        Popup::close_id(ui, Popup::default_response_id(button));
    }
    if shown.inner.is_some() || was_open && ui.input(|input| input.key_pressed(Key::Escape)) {
        button.request_focus();
    }
    shown.inner
}

/// Moves the keyboard among the entries.
fn move_by_keys(ui: &Ui, id: Id, entries: &[Entry<'_>], drawn: &[Response]) {
    let Some(from) = drawn.iter().position(Response::has_focus) else { return };
    if let Some(response) = drawn.get(from) {
        let filter = EventFilter { tab: true, vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    }
    let count = drawn.len();
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    let to = if pressed(Key::ArrowDown) {
        Some((from + 1) % count)
    } else if pressed(Key::ArrowUp) {
        Some((from + count - 1) % count)
    } else if pressed(Key::Home) {
        Some(0)
    } else if pressed(Key::End) {
        Some(count - 1)
    } else {
        let words: Vec<&str> = entries.iter().map(|entry| entry.words).collect();
        typed::go_to(ui, id, &words, Some(from))
    };
    if let Some(response) = to.and_then(|to| drawn.get(to)) {
        response.request_focus();
        response.scroll_to_me(None);
        ui.request_repaint();
    }
}

fn draw(ui: &mut Ui, entry: &Entry<'_>, width: f32, lead: f32) -> Response {
    let t = theme::tokens(ui);
    let high = if entry.why_not.is_some() { height::BUTTON_SMALL + 18.0 } else { height::BUTTON_SMALL };
    let enabled = entry.why_not.is_none();
    let sense = if enabled { Sense::click() } else { Sense::focusable_noninteractive() };
    let (rect, response) = ui.allocate_exact_size(vec2(width, high), sense);
    if ui.is_rect_visible(rect) {
        if enabled && (response.hovered() || response.has_focus()) {
            ui.painter().rect_filled(rect, radius::CAUTION, t.surface_hover);
        }
        let middle = rect.top() + 0.5 * height::BUTTON_SMALL;
        if entry.current {
            let tick = Rect::from_center_size(pos2(rect.left() + 14.0, middle), Vec2::splat(14.0));
            icon::paint(ui.painter(), tick, Icon::Tick, t.accent);
        }
        let color = match (enabled, entry.danger) {
            (false, _) => t.text_disabled,
            (true, true) => t.danger,
            (true, false) => t.text_primary,
        };
        let font = text::TABLE.font(if entry.current { Weight::SemiBold } else { Weight::Regular });
        ui.painter().text(pos2(rect.left() + lead, middle), Align2::LEFT_CENTER, entry.words, font, color);
        let keys_at = pos2(rect.right() - TAIL - key::width(ui.painter(), entry.keys), middle);
        key::paint(ui.painter(), keys_at, entry.keys, key::plain_ink(ui));
        if let Some(why) = entry.why_not {
            let font = text::SMALL.font(Weight::Regular);
            ui.painter().text(
                pos2(rect.left() + lead, middle + 19.0),
                Align2::LEFT_CENTER,
                why,
                font,
                t.text_secondary,
            );
        }
        focus::ring_inside(ui, &response, rect);
    }
    let role = if entry.current { Role::MenuItemRadio } else { Role::MenuItem };
    response.widget_info(|| WidgetInfo::labeled(role, enabled, entry.words));
    ui.accesskit_node_builder(response.id, |node| {
        if entry.current {
            node.set_toggled(egui::accesskit::Toggled::True);
        }
        if let Some(why) = entry.why_not {
            node.set_disabled();
            node.set_description(why);
        }
    });
    response
}

fn width_of(ui: &Ui, entry: &Entry<'_>, lead: f32) -> f32 {
    let long = |words: &str, size: text::Type, weight| {
        ui.painter().layout_no_wrap(words.to_owned(), size.font(weight), Color32::PLACEHOLDER).size().x
    };
    let keys = if entry.keys.is_empty() { 0.0 } else { key::width(ui.painter(), entry.keys) + 16.0 };
    let words = long(entry.words, text::TABLE, Weight::SemiBold) + keys;
    let why = entry.why_not.map_or(0.0, |why| long(why, text::SMALL, Weight::Regular));
    lead + words.max(why) + TAIL
}
