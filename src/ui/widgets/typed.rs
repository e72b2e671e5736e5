//! Typing among names: letters struck one after another go to the name that begins with them.

use egui::{Event, Id, Ui};

use crate::domain::fold_text::fold;

/// Seconds without a letter after which the next one begins another name; common practice, no source.
const PAUSE: f64 = 2.0;

/// The letters struck lately.
#[derive(Clone, Debug, Default)]
struct Typed {
    letters: String,
    at: f64,
}

/// The name that the letters struck now, after those struck just before, lead to from `from`. A letter struck again goes
/// on to the next name that begins with it. Spaces do not count: the space bar chooses. `id` tells lists apart.
pub fn go_to(ui: &Ui, id: Id, names: &[&str], from: Option<usize>) -> Option<usize> {
    let struck = letters(ui);
    if struck.is_empty() {
        return None;
    }
    let now = ui.input(|input| input.time);
    let held = ui.data(|data| data.get_temp::<Typed>(id)).filter(|held| now - held.at < PAUSE).unwrap_or_default();
    let (letters, to) = step(&held.letters, &struck, names, from);
    ui.data_mut(|data| data.insert_temp(id, Typed { letters, at: now }));
    to
}

/// The letters that count from now on, and where they lead.
fn step(held: &str, struck: &str, names: &[&str], from: Option<usize>) -> (String, Option<usize>) {
    let count = names.len();
    let begins = |at: usize, with: &str| {
        let name: String = fold(names.get(at).copied().unwrap_or("")).split_whitespace().collect();
        name.starts_with(with)
    };
    let find = |first: usize, with: &str| (0..count).map(|on| (first + on) % count).find(|at| begins(*at, with));
    let whole = format!("{held}{struck}");
    if !held.is_empty()
        && let Some(at) = find(from.unwrap_or(0), &whole)
    {
        return (whole, Some(at));
    }
    (struck.to_owned(), find(from.map_or(0, |from| from + 1), struck))
}

/// Letters and digits struck in this pass, folded. Where the system tells no text, the keys' own names serve.
fn letters(ui: &Ui) -> String {
    ui.input(|input| {
        let texts = input.events.iter().filter_map(|event| match event {
            Event::Text(text) => Some(text.as_str()),
            _ => None,
        });
        let text: String = texts.collect();
        let keys = input.events.iter().filter_map(|event| match event {
            Event::Key { key, pressed: true, modifiers, .. } if !modifiers.command && !modifiers.alt => {
                Some(key.name()).filter(|name| name.chars().count() == 1)
            }
            _ => None,
        });
        let struck = if text.is_empty() { keys.collect() } else { text };
        fold(&struck).chars().filter(|letter| letter.is_alphanumeric()).collect()
    })
}

#[cfg(test)]
mod tests {
    use super::step;

    const NAMES: [&str; 6] = ["Dequeened", "Dot", "Queen born", "Queen seen", "Quelle", "Último look"];

    #[test]
    fn more_letters_tell_names_apart() {
        let (held, at) = step("", "q", &NAMES, Some(0));
        assert_eq!(at, Some(2));
        let (held, at) = step(&held, "u", &NAMES, at);
        let (held, at) = step(&held, "e", &NAMES, at);
        assert_eq!(at, Some(2), "it stays where the letters still fit");
        let (held, at) = step(&held, "l", &NAMES, at);
        assert_eq!((held.as_str(), at), ("quel", Some(4)));
        assert_eq!(step("queen", "s", &NAMES, Some(2)).1, Some(3), "spaces do not count");
    }

    #[test]
    fn a_letter_struck_again_goes_on() {
        let (held, at) = step("", "d", &NAMES, None);
        assert_eq!(at, Some(0));
        assert_eq!(step(&held, "d", &NAMES, at), ("d".to_owned(), Some(1)));
        assert_eq!(step(&held, "d", &NAMES, Some(1)).1, Some(0), "round the end");
    }

    #[test]
    fn letters_that_fit_nothing_begin_anew() {
        assert_eq!(step("d", "u", &NAMES, Some(0)), ("u".to_owned(), Some(5)), "accents are folded");
        assert_eq!(step("d", "x", &NAMES, Some(0)), ("x".to_owned(), None));
        assert_eq!(step("", "a", &[], None).1, None);
    }
}
