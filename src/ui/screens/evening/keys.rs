//! Keys that leave a row, taken in the order in which they came among the letters.
//!
//! Whoever types fast, or a slow frame, brings letters of two rows and the `Enter` between them in one frame. The letters
//! before the key belong to this row, those after it to the next.

use egui::{Event, Key, Modifiers, Ui};

/// A key that leaves the row or acts on all of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum RowKey {
    /// Done with this row.
    Enter,
    /// A row up.
    Up,
    /// A row down.
    Down,
    /// A page up.
    PageUp,
    /// A page down.
    PageDown,
    /// Record the evening.
    Record,
    /// Undo a row.
    Undo,
}

/// Takes the first such key out of this frame's input and holds back what came after it.
pub(super) fn take(ui: &Ui, held: &mut Vec<Event>) -> Option<RowKey> {
    let key = ui.input_mut(|input| split(&mut input.events, held));
    if !held.is_empty() {
        ui.request_repaint();
    }
    key
}

/// Holds back what is typed while no field has the keyboard, for the row that will have it in a moment.
pub(super) fn hold(ui: &Ui, held: &mut Vec<Event>) {
    let typed = ui.input_mut(|input| {
        let events = std::mem::take(&mut input.events);
        let (typed, rest): (Vec<Event>, Vec<Event>) = events.into_iter().partition(is_for_a_row);
        input.events = rest;
        typed
    });
    held.extend(typed);
    if !held.is_empty() {
        ui.request_repaint();
    }
}

fn is_for_a_row(event: &Event) -> bool {
    match event {
        Event::Text(_) | Event::Key { key: Key::Backspace, pressed: true, .. } => true,
        _ => matches!(key_of(event), Some(RowKey::Enter | RowKey::Up | RowKey::Down)),
    }
}

fn split(events: &mut Vec<Event>, held: &mut Vec<Event>) -> Option<RowKey> {
    if !held.is_empty() {
        let now = std::mem::take(events);
        *events = std::mem::take(held);
        events.extend(now);
    }
    let (at, key) = events.iter().enumerate().find_map(|(at, event)| Some((at, key_of(event)?)))?;
    *held = events.split_off(at);
    held.remove(0);
    // Only letters and keys belong to a row; what else came now stays in this frame.
    let (later, now) = std::mem::take(held).into_iter().partition(is_typing);
    *held = later;
    events.extend(now);
    Some(key)
}

fn is_typing(event: &Event) -> bool {
    matches!(event, Event::Text(_) | Event::Paste(_) | Event::Key { pressed: true, .. })
}

fn key_of(event: &Event) -> Option<RowKey> {
    let Event::Key { key, pressed: true, modifiers, .. } = event else { return None };
    match (*key, *modifiers) {
        (Key::Enter, modifiers) if modifiers.matches_exact(Modifiers::COMMAND) || modifiers.command_only() => {
            Some(RowKey::Record)
        }
        (Key::Z, modifiers) if modifiers.command_only() => Some(RowKey::Undo),
        (key, modifiers) if modifiers.is_none() => match key {
            Key::Enter => Some(RowKey::Enter),
            Key::ArrowUp => Some(RowKey::Up),
            Key::ArrowDown => Some(RowKey::Down),
            Key::PageUp => Some(RowKey::PageUp),
            Key::PageDown => Some(RowKey::PageDown),
            _ => None,
        },
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn press(key: Key) -> Event {
        Event::Key { key, physical_key: None, pressed: true, repeat: false, modifiers: Modifiers::NONE }
    }

    fn text(letters: &str) -> Event {
        Event::Text(letters.to_owned())
    }

    #[test]
    fn letters_after_enter_wait_for_the_next_row() {
        let mut held = Vec::new();
        let mut events = vec![text("e"), text("q"), press(Key::Enter), text("n"), press(Key::Enter)];
        assert_eq!(split(&mut events, &mut held), Some(RowKey::Enter));
        assert_eq!(events, [text("e"), text("q")]);
        let mut next = vec![text("p")];
        assert_eq!(split(&mut next, &mut held), Some(RowKey::Enter));
        assert_eq!(next, [text("n")]);
        let mut last = Vec::new();
        assert_eq!(split(&mut last, &mut held), None);
        assert_eq!(last, [text("p")]);
        assert!(held.is_empty());
    }
}
