//! The ring of keyboard focus, 2 points wide, the same everywhere.

use egui::{
    Context, Id, Key, Memory, Modifiers, Plugin, Rect, Response, Sense, Stroke, StrokeKind, Ui, Vec2, accesskit_root_id,
};

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

/// Takes a bare key, if it was pressed. What was drawn before in the same frame has not seen it, so one more is asked for.
pub fn took(ui: &Ui, key: Key) -> bool {
    let pressed = ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    if pressed {
        ui.request_repaint();
    }
    pressed
}

/// True where letters may act: no field is typed in, no menu is open, no dialog lies over this. A focused button or table
/// keeps its arrows, `Space` and `Enter`, and no more.
pub fn letters_are_free(ui: &Ui) -> bool {
    let covered = !ui.memory(|memory| memory.is_above_modal_layer(ui.layer_id()));
    !covered && !ui.text_edit_focused() && !egui::Popup::is_any_open(ui)
}

/// Notes that one of a row of choices has the keyboard: it needs no `Enter`, so that is the form's.
pub fn keep_choice(ui: &Ui, chip: Id) {
    ui.data_mut(|data| data.insert_temp(choice_id(), chip));
}

fn choice_id() -> Id {
    Id::unique("the choice that has the keyboard")
}

/// True where `Enter` means what the form's button does: in a field, on a choice, or with nothing focused. Elsewhere it
/// presses what has the keyboard.
pub fn enter_is_the_forms(ui: &Ui) -> bool {
    let focused = ui.memory(Memory::focused);
    let choice = ui.data(|data| data.get_temp::<Id>(choice_id()));
    !egui::Popup::is_any_open(ui) && (ui.text_edit_focused() || focused.is_none() || focused == choice)
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
        // What had it may be gone, as the field of a form that was closed; then it goes on from the panel's head.
        let held = [last_id(), anchor_id()].map(|held| ui.data(|data| data.get_temp::<Id>(held)));
        let there = |id: &Id| ui.read_response(*id).is_some_and(|response| response.enabled());
        let forwards = ui.input(|input| input.modifiers.is_none());
        let begin = (forwards && ui.memory(|memory| memory.top_modal_layer().is_none())).then(begin_id);
        if let Some(id) = held.into_iter().flatten().find(there).or(begin) {
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
    ui.data_mut(|data| {
        data.remove::<Id>(last_id());
        data.remove::<Id>(anchor_id());
        data.remove::<Id>(moved_id());
    });
}

fn last_id() -> Id {
    Id::unique("had the keyboard last")
}

fn begin_id() -> Id {
    Id::unique("the screen begins")
}

/// The bare arrows moved the selection of that list while nothing had the keyboard.
pub fn moved(ui: &Ui, list: &str) {
    ui.data_mut(|data| data.insert_temp(moved_id(), Id::unique(list)));
}

/// Lets a screen reader follow the selection that the bare arrows moved last, while nothing has the keyboard: `row` is the
/// node of the selected row of that list. Called wherever such a row is drawn.
pub fn follow(ui: &Ui, list: &str, row: Id) {
    let last = ui.data(|data| data.get_temp::<Id>(moved_id()));
    let free = ui.memory(|memory| memory.focused().is_none() && memory.is_above_modal_layer(ui.layer_id()));
    if free && last == Some(Id::unique(list)) {
        ui.accesskit_node_builder(accesskit_root_id(), |node| node.set_active_descendant(row.accesskit_id()));
    }
}

fn moved_id() -> Id {
    Id::unique("the list that the arrows moved")
}

/// Brings the keyboard to a field as Tab does: what stands there is selected, so that typing takes its place. It takes
/// letters from the next frame on.
pub fn bring(ui: &Ui, control: Id) {
    let pass = ui.cumulative_pass_nr();
    ui.data_mut(|data| data.insert_temp(tab_id(), pass));
    ui.memory_mut(|memory| memory.request_focus(control));
    ui.request_repaint();
}

/// `Enter` in a field was refused: the field keeps the keyboard, so that what is wrong can be put right at once.
pub fn keep_in_field(ui: &Ui) {
    if let Some(last) = ui.data(|data| data.get_temp::<Id>(last_id())) {
        ui.memory_mut(|memory| memory.request_focus(last));
        ui.request_repaint();
    }
}

/// Called by a panel in every pass with the last control of its head: the next Tab goes on from there once the panel has
/// just opened, or where what had the keyboard is gone.
pub fn go_on_from(ui: &Ui, control: Id) {
    let pass = ui.cumulative_pass_nr();
    let key = control.with("drawn in pass");
    ui.data_mut(|data| {
        let before = data.get_temp::<u64>(key);
        data.insert_temp(key, pass);
        data.insert_temp(anchor_id(), control);
        if before.is_none_or(|before| before + 1 < pass) {
            data.insert_temp(last_id(), control);
        }
    });
}

/// The next Tab goes on from this control, which has taken keys without having the keyboard.
pub fn go_on_after(ui: &Ui, control: Id) {
    ui.data_mut(|data| data.insert_temp(last_id(), control));
}

/// Where that is which the keyboard has just come to, or else the head of a panel that has just opened: a window too small
/// for its screen scrolls there. For three passes, until what lies within has scrolled, too. Called after everything is
/// drawn.
pub fn just_reached(ui: &Ui) -> Option<Rect> {
    #[derive(Clone, Copy)]
    struct Held {
        at: [Option<Id>; 2],
        since: u64,
    }
    let (pass, key) = (ui.cumulative_pass_nr(), Id::unique("what the keyboard has reached"));
    let at = [ui.memory(Memory::focused), ui.data(|data| data.get_temp::<Id>(anchor_id()))];
    let held = ui.data(|data| data.get_temp::<Held>(key)).filter(|held| held.at == at);
    let since = held.map_or(pass, |held| held.since);
    ui.data_mut(|data| data.insert_temp(key, Held { at, since }));
    if pass > since + 2 {
        return None;
    }
    ui.request_repaint();
    at.into_iter().flatten().next().and_then(|id| ui.read_response(id)).map(|response| response.rect)
}

/// What had the keyboard is gone with the form it stood in: nothing has it, and the next Tab begins at the panel's head.
pub fn begin_anew(ui: &Ui) {
    ui.memory_mut(|memory| {
        if let Some(focused) = memory.focused() {
            memory.surrender_focus(focused);
        }
    });
    // The key that pressed its button has done its work: what is drawn after this must not take it too.
    ui.input_mut(|input| {
        input.consume_key(Modifiers::NONE, Key::Enter);
        input.consume_key(Modifiers::NONE, Key::Space);
    });
    ui.data_mut(|data| data.remove::<Id>(last_id()));
    ui.request_repaint();
}

fn anchor_id() -> Id {
    Id::unique("where Tab begins")
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
