//! Record a find: the codes of evening entry with their meaning at once; every code can also be pressed.

use egui::Ui;

use crate::domain::change::{Change, Occasion};
use crate::domain::day_words::Lean;
use crate::domain::grammar::codes::parse;
use crate::domain::grammar::hints::{HINTS, HintGroup};
use crate::domain::grammar::resolve::{Choice, resolve};
use crate::domain::in_hand::draw::{From, Giving, Hand};
use crate::ui::card::forms::fields::{self, Inputs};
use crate::ui::card::forms::verdict::{Trouble, Verdict};
use crate::ui::card::forms::{Context, Draft, Mint, say};
use crate::ui::given_from;
use crate::ui::scene::Scene;
use crate::ui::widgets::{Chip, Field};

/// What is typed.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Find {
    codes: String,
    from: From,
    day: String,
    by: String,
    words: String,
}

const DISEASES: [(&str, &str); 4] =
    [("x1", "American foulbrood"), ("x2", "European foulbrood"), ("x3", "chalkbrood"), ("x4", "another")];

impl Find {
    pub(crate) fn new(scene: &Scene, codes: String) -> Self {
        Self {
            codes,
            from: From::NotSaid,
            day: scene.today.short(),
            by: scene.prefs.initials.clone(),
            words: String::new(),
        }
    }

    /// What the codes give, where they do.
    fn giving(&self, context: &Context<'_>) -> Option<Giving> {
        let gives = parse(&self.codes).ok()?.gives?;
        let day = fields::read(&self.day, context.today(), Lean::Back).ok()?;
        Some(Giving { colony: context.id(), day, method: gives.method, count: gives.cells })
    }
}

impl Draft for Find {
    fn title(&self) -> String {
        "Record a find".to_owned()
    }

    fn verb(&self) -> String {
        "Record find".to_owned()
    }

    fn show(&mut self, ui: &mut Ui, context: &Context<'_>, inputs: &mut Inputs, verdict: &Verdict) {
        let width = ui.available_width();
        let field = Field::new("Seen and done, in codes").above().strong().width(width).hint("eq, c3 /c, n, -r");
        inputs.text_goes_on(ui, field, &mut self.codes);
        say(ui, verdict);
        if parse(&self.codes).is_ok_and(|codes| codes.asks_disease) {
            fields::captioned(ui, "Which disease is suspected?", |ui| {
                for (code, words) in DISEASES {
                    if Chip::code(code, words, false).show(ui).clicked() {
                        self.codes = toggled(&toggled(&self.codes, "x"), code);
                    }
                }
            });
        }
        ui.horizontal_top(|ui| {
            inputs.day(ui, "Day", &mut self.day, context.today(), Lean::Back);
            inputs.by(ui, &mut self.by);
        });
        if let Some(giving) = self.giving(context) {
            given_from::choose(ui, context.scene, given_from::hand(ui, context.scene), &[giving], &mut self.from);
        }
        inputs.line(ui, "Words", "anything else", &mut self.words);
        for group in HintGroup::ALL.into_iter().filter(|group| *group != HintGroup::Rows) {
            fields::captioned(ui, group.words(), |ui| {
                for hint in HINTS.iter().filter(|hint| hint.group == group && hint.code != "~15") {
                    let chosen = says(&self.codes, hint.code);
                    if Chip::code(hint.code, hint.words, chosen).show(ui).clicked() {
                        self.codes = toggled(&self.codes, hint.code);
                    }
                }
            });
        }
    }

    fn change(&self, context: &Context<'_>, mint: Mint<'_>) -> Result<Change, Trouble> {
        let codes = parse(&self.codes).map_err(|error| Trouble::new(format!("{error}.")))?;
        if codes.is_empty() && self.words.trim().is_empty() {
            return Err(Trouble::missing("Type the codes, or press them below."));
        }
        let day = fields::read(&self.day, context.today(), Lean::Back)?;
        let choice = Choice { from: self.from, ..Choice::default() };
        let mut hand = Hand::of(&context.scene.world);
        let resolved = resolve(&mut hand, context.id(), day, &self.by, &codes, &choice, mint);
        let (mut new, queens) = resolved.map_err(|error| Trouble::new(format!("{error}.")))?;
        let words = [new.words.as_str(), self.words.trim()];
        new.words = words.into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join("; ");
        Ok(Change::Visits { occasion: Occasion::Find, visits: vec![new], queens })
    }
}

/// Whether the codes typed say that code already.
fn says(typed: &str, code: &str) -> bool {
    let (codes, _) = split_words(typed);
    let (Ok(with), Ok(alone)) = (parse(&format!("{codes} {code}")), parse(codes)) else { return false };
    !alone.is_empty() && with == alone
}

/// The codes typed with that code added, or taken out where it was there. Words after `'` stay last.
fn toggled(typed: &str, code: &str) -> String {
    let (codes, words) = split_words(typed);
    let mut tokens: Vec<String> = codes.split_whitespace().map(str::to_owned).collect();
    if says(typed, code) {
        let holding = tokens.iter_mut().find(|token| *token == code);
        if let Some(token) = holding {
            token.clear();
        } else if let Some(token) = tokens.iter_mut().rev().find(|token| token.contains(code)) {
            *token = token.replacen(code, "", 1);
        }
    } else {
        tokens.push(code.to_owned());
    }
    tokens.push(words.to_owned());
    tokens.retain(|token| !token.is_empty());
    tokens.join(" ")
}

fn split_words(typed: &str) -> (&str, &str) {
    typed.find('\'').map_or((typed, ""), |at| typed.split_at(at))
}

#[cfg(test)]
mod tests {
    use super::{says, toggled};

    #[test]
    fn a_code_is_pressed_in_and_out_again() {
        assert_eq!(toggled("", "e"), "e");
        assert_eq!(toggled("e", "q"), "e q");
        assert_eq!(toggled("eq", "e"), "q");
        assert_eq!(toggled("e c3 'quiet", "c3"), "e 'quiet");
        assert_eq!(toggled("e 'quiet", "/c"), "e /c 'quiet");
        assert!(says("eq c3", "c3") && !says("eq c3", "l") && !says("", "e"));
    }
}
