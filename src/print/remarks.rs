//! What could not be printed as it stands, in sentences: the same trouble of many labels is said once.

use crate::domain::capital::capital;
use crate::print::job::{Trouble, Warning};

/// The warnings of a file as sentences without their full stops, in the order of printing.
pub fn remarks(warnings: &[Warning]) -> Vec<String> {
    let mut said: Vec<Remark<'_>> = Vec::new();
    for warning in warnings {
        match said.iter_mut().find(|remark| remark.takes(warning)) {
            Some(remark) => remark.more.push(warning),
            None => said.push(Remark { first: warning, more: Vec::new() }),
        }
    }
    said.iter().map(Remark::words).collect()
}

/// A warning, and those said together with it.
struct Remark<'a> {
    first: &'a Warning,
    more: Vec<&'a Warning>,
}

impl Remark<'_> {
    fn takes(&self, other: &Warning) -> bool {
        match (&self.first.what, &other.what) {
            (Trouble::NoCharacter(_), Trouble::NoCharacter(_)) => self.first.place == other.place,
            (Trouble::LeftOut(one), Trouble::LeftOut(another)) => one == another,
            _ => false,
        }
    }

    fn words(&self) -> String {
        let place = capital(&self.first.place);
        match &self.first.what {
            Trouble::NoCharacter(letter) => {
                let more = self.more.iter().filter_map(|warning| match warning.what {
                    Trouble::NoCharacter(letter) => Some(letter),
                    _ => None,
                });
                let letters: Vec<String> = std::iter::once(*letter).chain(more).map(String::from).collect();
                format!("{place}: no font has {}, ? is printed instead", letters.join(" "))
            }
            Trouble::Cut(text) => format!("{place}: \"{text}\" is too long and was cut"),
            Trouble::LeftOut(text) => {
                let more = if self.more.is_empty() { String::new() } else { format!(" and {} more", self.more.len()) };
                format!("{place}{more}: no room for \"{text}\"")
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_of_one_label_and_one_trouble_of_many_labels_are_said_once() {
        let warning = |number: usize, what: Trouble| Warning { place: format!("label {number}"), number, what };
        let left_out = |number| warning(number, Trouble::LeftOut("temper from 26 Dec".to_owned()));
        let said = remarks(&[
            left_out(1),
            warning(2, Trouble::NoCharacter('蜂')),
            warning(2, Trouble::NoCharacter('箱')),
            left_out(2),
            warning(3, Trouble::Cut("A name".to_owned())),
            left_out(3),
        ]);
        assert_eq!(
            said,
            [
                "Label 1 and 2 more: no room for \"temper from 26 Dec\"",
                "Label 2: no font has 蜂 箱, ? is printed instead",
                "Label 3: \"A name\" is too long and was cut",
            ]
        );
    }
}
