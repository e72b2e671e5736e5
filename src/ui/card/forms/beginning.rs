//! How a colony began is corrected, for a reason: the day, the kind, the queen it began with; and its note.

use egui::Ui;

use crate::domain::change::{Change, Correction};
use crate::domain::colony::{Colony, FirstQueen, Founding};
use crate::domain::day_words::Lean;
use crate::domain::grammar::describe::founding_words;
use crate::domain::ids::{ColonyId, QueenId};
use crate::domain::queen::{Birth, Origin, Queen};
use crate::ui::card::forms::fields::{self, Inputs};
use crate::ui::card::forms::her::Her;
use crate::ui::card::forms::verdict::{self, Trouble, Verdict};
use crate::ui::card::forms::{Context, Draft, Mint, say, scratch_ids};
use crate::ui::scene::Scene;
use crate::ui::widgets::parts;

/// The kinds that can be chosen. A split stands in its parent's history.
const KINDS: [(&str, Founding); 4] = [
    ("There already", Founding::Known),
    ("Bought", Founding::Bought),
    ("Made as a nuc", Founding::Nuc),
    ("Swarm taken", Founding::Swarm),
];
const QUEENS: [(&str, First); 3] =
    [("With this queen", First::Recorded), ("Queen not known", First::Unknown), ("Without a queen", First::None)];

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum First {
    Recorded,
    Unknown,
    None,
}

/// What is typed and chosen.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Beginning {
    founded: String,
    how: Founding,
    first: First,
    /// The queen it began with as the register has her, or one of whom nothing is known.
    queen: Queen,
    her: Her,
    note: String,
    reason: String,
    by: String,
}

impl Beginning {
    pub(crate) fn new(scene: &Scene, colony: ColonyId) -> Option<Self> {
        let colony = scene.world.colonies.get(&colony)?;
        let known = match colony.began_with {
            FirstQueen::Recorded(id) => scene.world.queens.get(&id).map(|queen| Queen::clone(queen)),
            FirstQueen::Unknown | FirstQueen::None => None,
        };
        let queen = known.unwrap_or_else(nobody);
        Some(Self {
            founded: colony.founded.near(scene.today),
            how: colony.how,
            first: first_of(colony),
            her: Her::of(&scene.world, &queen),
            queen,
            note: colony.note.clone(),
            reason: String::new(),
            by: scene.prefs.initials.clone(),
        })
    }

    /// The queen it began with, where she is another or another than recorded.
    fn first_queen(&self, context: &Context<'_>, mint: Mint<'_>) -> Result<(Option<FirstQueen>, Vec<Queen>), Trouble> {
        let known = first_of(context.colony);
        let read = |queen: &Queen| self.her.read(&context.scene.world, queen, context.today());
        Ok(match self.first {
            First::Recorded if known == First::Recorded => {
                let queen = read(&self.queen)?;
                (None, if queen == self.queen { Vec::new() } else { vec![queen] })
            }
            First::Recorded => {
                let queen = read(&Queen { id: QueenId(mint()), ..self.queen.clone() })?;
                (Some(FirstQueen::Recorded(queen.id)), vec![queen])
            }
            same if same == known => (None, Vec::new()),
            First::Unknown => (Some(FirstQueen::Unknown), Vec::new()),
            First::None => (Some(FirstQueen::None), Vec::new()),
        })
    }
}

/// A queen of whom nothing is known yet; her id is minted when she is recorded.
fn nobody() -> Queen {
    Queen {
        id: QueenId::from_number(0),
        birth: Birth::default(),
        origin: Origin::WithColony,
        source: None,
        dot: None,
        words: String::new(),
    }
}

fn first_of(colony: &Colony) -> First {
    match colony.began_with {
        FirstQueen::Recorded(_) => First::Recorded,
        FirstQueen::Unknown => First::Unknown,
        FirstQueen::None => First::None,
    }
}

impl Draft for Beginning {
    fn title(&self) -> String {
        "Beginning and note".to_owned()
    }

    fn verb(&self) -> String {
        "Correct".to_owned()
    }

    fn show(&mut self, ui: &mut Ui, context: &Context<'_>, inputs: &mut Inputs, verdict: &Verdict) {
        inputs.line(ui, "Note", "what every visitor of this hive should know", &mut self.note);
        if let Founding::SplitFrom(_) = self.how {
            let how = founding_words(&context.scene.world, self.how);
            parts::remark(ui, &format!("{how} {}: amend the split in the parent's history.", self.founded));
        } else {
            inputs.day(ui, "Founded or first known", &mut self.founded, context.today(), Lean::Back);
            fields::choose(ui, "How it began", &KINDS, &mut self.how);
        }
        fields::choose(ui, "The queen it began with", &QUEENS, &mut self.first);
        let still_there = context.card.queen_id() == Some(self.queen.id);
        if self.first == First::Recorded && still_there {
            parts::remark(ui, "She is still there: correct her under Queen's details.");
        } else if self.first == First::Recorded {
            self.her.show(ui, context, inputs);
        }
        inputs.reason(ui, "wrong in the file; not needed for a note alone", &mut self.reason, &mut self.by);
        say(ui, verdict);
    }

    fn change(&self, context: &Context<'_>, mint: Mint<'_>) -> Result<Change, Trouble> {
        let colony = context.colony;
        let founded = fields::read(&self.founded, context.today(), Lean::Back)?;
        let (began_with, queens) = self.first_queen(context, mint)?;
        let note = self.note.trim().to_owned();
        let correction = Correction {
            founded: (founded != colony.founded).then_some(founded),
            how: (self.how != colony.how).then_some(self.how),
            began_with,
            queens,
            note: (note != colony.note).then_some(note),
            ..Correction::of(context.id(), self.reason.trim(), self.by.trim())
        };
        let note_alone = Correction { note: correction.note.clone(), ..Correction::of(context.id(), "", "") };
        let said = Correction { reason: String::new(), by: String::new(), ..correction.clone() };
        if said != note_alone && correction.reason.is_empty() {
            return Err(Trouble::missing("Say what was wrong."));
        }
        if said == note_alone && correction.note.is_none() {
            return Err(Trouble::missing("Nothing would change."));
        }
        Ok(Change::Correct(Box::new(correction)))
    }

    fn complete(&self, context: &Context<'_>, verdict: &mut Verdict) {
        if self.reason.trim().is_empty() {
            let said = Self { reason: "to be said".to_owned(), ..self.clone() };
            verdict::before_reason(context, verdict, said.change(context, &mut scratch_ids()));
        }
    }
}
