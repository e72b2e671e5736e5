//! Arrows, pages, letters and `Enter` of a table.

use egui::{EventFilter, Id, Key, Modifiers, Ui};

use crate::ui::widgets::table::Done;
use crate::ui::widgets::{focus, typed};

pub(super) struct Wish<'a> {
    pub rows: usize,
    /// Rows a page.
    pub page: usize,
    pub selected: Option<usize>,
    pub free_keys: bool,
    /// Several rows may be chosen.
    pub several: bool,
    /// Names of the rows, where letters go to them.
    pub names: &'a [&'a str],
}

/// Takes the table's keys out of the input if the table may have them.
pub(super) fn read(ui: &Ui, id: Id, wish: &Wish<'_>, done: &mut Done) {
    let focused = ui.memory(|memory| memory.has_focus(id));
    if focused {
        let filter = EventFilter { vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(id, filter));
    }
    if wish.rows == 0 || !(focused || wish.free_keys && focus::keys_are_free(ui)) {
        return;
    }
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    let last = wish.rows - 1;
    let moved = |by: isize| {
        let from = wish.selected.map_or(if by > 0 { -1 } else { wish.rows as isize }, |row| row as isize);
        (from + by).clamp(0, last as isize) as usize
    };
    let page = wish.page as isize;
    let keys = [
        (Key::ArrowDown, moved(1)),
        (Key::ArrowUp, moved(-1)),
        (Key::PageDown, moved(page)),
        (Key::PageUp, moved(-page)),
        (Key::Home, 0),
        (Key::End, last),
    ];
    for (key, row) in keys {
        if pressed(key) && wish.selected != Some(row) {
            done.selected = Some(row);
            done.by_key = true;
        }
    }
    let lettered = if wish.names.is_empty() { None } else { typed::go_to(ui, id, wish.names, wish.selected) };
    if let Some(row) = lettered.filter(|row| wish.selected != Some(*row)) {
        done.selected = Some(row);
        done.by_key = true;
    }
    if (done.by_key || lettered.is_some()) && !wish.names.is_empty() {
        // A list of parts: the next Tab goes on into the part.
        focus::go_on_after(ui, id);
    }
    if let Some(row) = wish.selected.filter(|_| pressed(Key::Enter)) {
        done.opened = Some(row);
    }
    if wish.several {
        done.toggled = wish.selected.filter(|_| pressed(Key::Space));
        done.all = ui.input_mut(|input| input.consume_key(Modifiers::COMMAND, Key::A));
    }
}
