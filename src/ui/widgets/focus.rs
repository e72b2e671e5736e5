//! The ring of keyboard focus, 2 points wide, the same everywhere.

use egui::{Context, Id, Key, Memory, Plugin, Rect, Response, Sense, Stroke, StrokeKind, Ui, Vec2};

use crate::ui::theme;
use crate::ui::theme::metrics::stroke;

/// A ring around a control, one point off its edge.
pub fn ring_around(ui: &Ui, response: &Response, rect: Rect, corner: u8) {
    if response.has_focus() {
        into_view(ui, response, rect);
        let focus = Stroke::new(stroke::FOCUS, theme::tokens(ui).focus);
        ui.painter().rect_stroke(rect.expand(1.0), corner + 1, focus, StrokeKind::Outside);
    }
}

/// Scrolls to a control that Tab has just reached; egui itself leaves it out of sight.
pub fn into_view(ui: &Ui, response: &Response, rect: Rect) {
    if came_by_tab(ui, response) {
        ui.scroll_to_rect(rect.expand(12.0), None);
    }
}

/// A ring just inside a panel, table or cell, where there is no room around it.
pub fn ring_inside(ui: &Ui, response: &Response, rect: Rect) {
    if response.has_focus() {
        let focus = Stroke::new(stroke::FOCUS, theme::tokens(ui).focus);
        ui.painter().rect_stroke(rect, 0, focus, StrokeKind::Inside);
    }
}

/// True when nothing has the keyboard: no field, no focused control, no open menu. Single letters and a screen's own
/// arrows act only then.
pub fn keys_are_free(ui: &Ui) -> bool {
    !ui.text_edit_focused() && ui.memory(|memory| memory.focused().is_none()) && !egui::Popup::is_any_open(ui)
}

/// Lets Tab go on from the control that had the keyboard last, also after `Enter` or `Esc` has taken it from there; egui
/// itself would begin at the top of the window again. Where no control had it, or the one that had it is gone, Tab begins
/// with the screen ([`screen_begins`]). Called before anything is drawn.
pub fn go_on_from_last(ui: &Ui) {
    let pressed = ui.input(|input| input.key_pressed(Key::Tab));
    if pressed {
        let pass = ui.cumulative_pass_nr();
        ui.data_mut(|data| data.insert_temp(tab_id(), pass));
    }
    if let Some(now) = ui.memory(Memory::focused) {
        ui.data_mut(|data| data.insert_temp(last_id(), now));
    } else if pressed {
        let last = ui.data(|data| data.get_temp::<Id>(last_id()));
        let last = last.filter(|id| ui.read_response(*id).is_some_and(|response| response.enabled()));
        let forwards = ui.input(|input| input.modifiers.is_none());
        let begin = (forwards && ui.memory(|memory| memory.top_modal_layer().is_none())).then(begin_id);
        if let Some(id) = last.or(begin) {
            ui.memory_mut(|memory| memory.request_focus(id));
        }
    }
}

/// Marks where the screen begins, below the bar over all screens: there Tab begins after the screen was changed. It is
/// there only in the pass in which Tab goes on from it, so it is no stop itself.
pub fn screen_begins(ui: &Ui) {
    if ui.memory(|memory| memory.has_focus(begin_id())) {
        ui.interact(Rect::from_min_size(ui.min_rect().min, Vec2::ZERO), begin_id(), Sense::focusable_noninteractive());
    }
}

/// Forgets which control had the keyboard last: another screen is shown.
pub fn forget_last(ui: &Ui) {
    ui.data_mut(|data| data.remove::<Id>(last_id()));
}

fn last_id() -> Id {
    Id::unique("had the keyboard last")
}

fn begin_id() -> Id {
    Id::unique("the screen begins")
}

/// Brings the keyboard to a field as Tab does: what stands there is selected.
pub fn bring(ui: &Ui, control: Id) {
    let pass = ui.cumulative_pass_nr();
    ui.data_mut(|data| data.insert_temp(tab_id(), pass));
    ui.memory_mut(|memory| memory.request_focus(control));
}

/// True where Tab has just brought the keyboard to a control: backwards it takes one pass more.
pub fn came_by_tab(ui: &Ui, response: &Response) -> bool {
    let pass = ui.cumulative_pass_nr();
    let tab = ui.data(|data| data.get_temp::<u64>(tab_id()));
    response.gained_focus() && tab.is_some_and(|tab| tab + 2 >= pass)
}

fn tab_id() -> Id {
    Id::unique("Tab was pressed")
}

/// Gives the keyboard back to a control that could not have it while a dialog was over it. It takes two passes until
/// egui lets the control have it; this waits for them.
pub fn give_back(ctx: &Context, control: Id) {
    ctx.add_plugin(GiveBack);
    let wish = Wish { control, since: ctx.cumulative_pass_nr() };
    ctx.data_mut(|data| data.insert_temp(wish_id(), wish));
    ctx.request_repaint();
}

#[derive(Clone, Copy)]
struct Wish {
    control: Id,
    since: u64,
}

struct GiveBack;

impl Plugin for GiveBack {
    fn debug_name(&self) -> &'static str {
        "give the keyboard back"
    }

    fn on_end_pass(&mut self, ui: &mut Ui) {
        let Some(wish) = ui.data(|data| data.get_temp::<Wish>(wish_id())) else { return };
        if ui.cumulative_pass_nr() > wish.since {
            ui.data_mut(|data| data.remove::<Wish>(wish_id()));
            ui.memory_mut(|memory| memory.request_focus(wish.control));
        }
        ui.request_repaint();
    }
}

fn wish_id() -> Id {
    Id::unique("wish for the keyboard")
}
