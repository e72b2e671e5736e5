//! Keys, handed to the screens one stroke a frame, so that what is typed in a hurry reaches what the stroke before opened.
//!
//! egui gives a frame everything that came since the last one. Where `Ctrl F`, a name, `Enter` and a letter come in one
//! frame, the shortcut, the field and the card would each look for their own among all of them, and letters would be lost or
//! reach the wrong place. Here whatever follows a stroke waits until the stroke has been answered and drawn.

use egui::{Event, Key, Modifiers, RawInput};

/// Frames after a stroke in which no further key is handed out: one draws what the stroke opened, the next gives the field
/// in it the keyboard.
const SETTLE: u8 = 2;

/// What waits, in the order in which it came.
#[derive(Default)]
pub(crate) struct Strokes {
    held: Vec<Event>,
    settle: u8,
    /// The key handed out last, while it is held down.
    down: Option<Key>,
}

/// What a frame has been given already.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Given {
    Nothing,
    /// Letters for the field that has the keyboard: more of them may follow.
    Letters,
    /// One stroke; the same key held down may follow.
    Stroke,
}

impl Strokes {
    /// Leaves in `input` what this frame is to have. True where another frame is wanted.
    pub(crate) fn hand_out(&mut self, input: &mut RawInput, typing: bool) -> bool {
        let may = self.settle == 0;
        self.settle = self.settle.saturating_sub(1);
        let mut waiting = std::mem::take(&mut self.held);
        waiting.append(&mut input.events);
        let mut given = Given::Nothing;
        let mut waiting = waiting.into_iter().peekable();
        while let Some(event) = waiting.next_if(|event| self.fits(event, typing, may, &mut given)) {
            input.events.push(event);
        }
        self.held = waiting.collect();
        self.settle > 0 || !self.held.is_empty()
    }

    /// The event goes with what the frame has been given so far.
    fn fits(&mut self, event: &Event, typing: bool, may: bool, given: &mut Given) -> bool {
        match event {
            Event::Key { key, pressed: false, .. } => {
                if self.down == Some(*key) {
                    self.down = None;
                }
                true
            }
            Event::Key { key, modifiers, .. } => {
                if typing && is_for_the_field(*key, *modifiers) {
                    return self.letters(may, given);
                }
                let held_down = self.down == Some(*key);
                let fits = may && (*given == Given::Nothing || *given == Given::Stroke && held_down);
                if fits {
                    *given = Given::Stroke;
                    self.down = Some(*key);
                    self.settle = if held_down { self.settle } else { SETTLE };
                }
                fits
            }
            // The text of a stroke comes with it; text alone (an input method, a paste) is a stroke of its own.
            Event::Text(_) if *given == Given::Stroke => true,
            Event::Text(_) | Event::Paste(_) | Event::Cut | Event::Copy => self.letters(may, given),
            Event::PointerButton { .. } => *given == Given::Nothing && may,
            _ => true,
        }
    }

    fn letters(&mut self, may: bool, given: &mut Given) -> bool {
        let fits = may && *given != Given::Stroke;
        if fits {
            *given = Given::Letters;
            self.down = None;
        }
        fits
    }
}

/// Keys that only write in a field: letters, and those that move and delete within its line.
fn is_for_the_field(key: Key, modifiers: Modifiers) -> bool {
    let within = [Key::Backspace, Key::Delete, Key::ArrowLeft, Key::ArrowRight, Key::Home, Key::End].contains(&key);
    let leaves = [Key::Enter, Key::Tab, Key::Escape, Key::ArrowUp, Key::ArrowDown, Key::PageUp, Key::PageDown];
    let function = key.name().len() > 1 && key.name().starts_with('F');
    within || !(modifiers.command || modifiers.ctrl || modifiers.alt || leaves.contains(&key) || function)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn press(key: Key, modifiers: Modifiers) -> Event {
        Event::Key { key, physical_key: None, pressed: true, repeat: false, modifiers }
    }

    fn stroke(key: Key, text: &str) -> Vec<Event> {
        let release = Event::Key { key, physical_key: None, pressed: false, repeat: false, modifiers: Modifiers::NONE };
        let mut events = vec![press(key, Modifiers::NONE)];
        if !text.is_empty() {
            events.push(Event::Text(text.to_owned()));
        }
        events.push(release);
        events
    }

    /// What each frame gets, in a word: `typing` says whether a field has the keyboard in that frame.
    fn frames(strokes: &mut Strokes, events: Vec<Event>, typing: impl Fn(usize) -> bool) -> Vec<String> {
        let mut input = RawInput { events, ..RawInput::default() };
        let mut frames = Vec::new();
        loop {
            let again = strokes.hand_out(&mut input, typing(frames.len()));
            let words = input.events.drain(..).map(|event| match event {
                Event::Key { key, pressed: true, modifiers, .. } if modifiers.ctrl => format!("^{}", key.name()),
                Event::Key { key, pressed: true, .. } => key.name().to_owned(),
                Event::Text(text) => format!("'{text}"),
                Event::PointerButton { .. } => "click".to_owned(),
                _ => String::new(),
            });
            frames.push(words.filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" "));
            if !again || frames.len() > 30 {
                return frames;
            }
        }
    }

    #[test]
    fn what_is_typed_after_a_shortcut_waits_for_the_field_it_opens() {
        let mut events = vec![press(Key::F, Modifiers::CTRL)];
        events.extend(stroke(Key::B, "b"));
        events.extend(stroke(Key::Num1, "1"));
        events.extend(stroke(Key::Enter, ""));
        events.extend(stroke(Key::I, "i"));
        let got = frames(&mut Strokes::default(), events, |frame| (2..=3).contains(&frame));
        assert_eq!(got, ["^F", "", "", "B 'b 1 '1", "Enter", "", "", "I 'i", "", ""]);
    }

    #[test]
    fn letters_of_one_field_come_together_and_wait_for_nothing() {
        let events = [stroke(Key::E, "e"), stroke(Key::Q, "q"), stroke(Key::Backspace, "")].concat();
        assert_eq!(frames(&mut Strokes::default(), events, |_| true), ["E 'e Q 'q Backspace"]);
    }

    #[test]
    fn a_key_held_down_keeps_no_queue() {
        let events = vec![press(Key::ArrowDown, Modifiers::NONE); 3];
        assert_eq!(frames(&mut Strokes::default(), events, |_| false), ["Down Down Down", "", ""]);
    }

    #[test]
    fn a_click_after_keys_waits_its_turn() {
        let click = Event::PointerButton {
            pos: egui::Pos2::ZERO,
            button: egui::PointerButton::Primary,
            pressed: true,
            modifiers: Modifiers::NONE,
        };
        let events = [stroke(Key::Escape, ""), vec![click]].concat();
        assert_eq!(frames(&mut Strokes::default(), events, |_| false), ["Escape", "", "", "click"]);
    }
}
