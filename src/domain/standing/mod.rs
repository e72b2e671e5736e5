//! How a colony stands on a day: read off its records, never stored.
//!
//! [`course`] folds the records of one colony in order and judges each find. What a colony's queen, due work, clock, bars
//! and lid note are follows from that fold alone, so an amendment of an old record makes everything after it right again.
//!
//! In reading order: what is carried (`state`), one visit (`visit_fold`) with its find (`find`, judged in `trial` or
//! `untried`, settled in `settle`), what was done (`act`) and given (`give`); then what is read off at the end: due work
//! (`due`, `windows`), `clock`, `bars`, `age`.

mod act;
pub mod age;
pub mod bars;
mod clock;
mod due;
mod due_words;
mod failure;
mod find;
mod fold;
mod give;
pub mod lid;
mod outcome;
mod parts;
mod settle;
mod state;
mod trial;
mod untried;
mod visit_fold;
pub mod windows;

use std::collections::BTreeMap;

pub use self::lid::{AgeClass, LidNote, LidState};
pub use self::outcome::{Outcome, OutcomeClass};
pub use self::parts::{
    ActiveBar, Clock, ClockMark, Identity, Introduced, LastLook, Laying, Offer, Phase, QueenFacts, QueenNow,
    WhichQuestion,
};

use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, RecordId};
use crate::domain::visit::Visit;
use crate::domain::work::{DueWork, WorkState};
use crate::domain::world::World;

/// Everything the fold of one colony's records yields.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// How the colony stands.
    pub standing: Standing,
    /// What each record meant on its day, in the order of the records (struck ones left out).
    pub outcomes: Vec<(RecordId, Outcome)>,
}

/// How a colony stands on a day.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// Her, or why there is none.
    pub queen: QueenNow,
    /// Where in the programme the colony is.
    pub phase: Phase,
    /// Is she laying?
    pub laying: Laying,
    /// Which queen is it?
    pub identity: Identity,
    /// Due work, most urgent first (by latest day, then best).
    pub work: Vec<DueWork>,
    /// The queenless clock, where it runs.
    pub clock: Option<Clock>,
    /// Bars that hold today, hardest first.
    pub bars: Vec<ActiveBar>,
    /// Another queen than the recorded one was seen and nobody has said which.
    pub which: Option<WhichQuestion>,
    /// What may be done besides the due work.
    pub offers: Vec<Offer>,
    /// Loud flags: `Given 14 Nov against a bar: quarantine`.
    pub flags: Vec<String>,
    /// The day from which temper counts as hers, where it is known.
    pub temper_from: Option<Day>,
    /// The last temper noted, with its day.
    pub temper: Option<(u8, Day)>,
    /// The last day the hive was opened.
    pub last_opened: Option<Day>,
    /// The last find on which the whole nest was seen, or anything was seen in it.
    pub last_find: Option<Day>,
    /// What the last find of a trial that is not decided said, own raising included.
    pub last_look: LastLook,
    /// The introduction that is under way, was accepted last or failed last; none for own raising without a queen's
    /// entry.
    pub introduced: Option<Introduced>,
}

/// Reads off how a colony stands on a day; only records up to that day count. Nothing for a colony that is not there.
pub fn course(world: &World, colony: ColonyId, today: Day) -> Option<Course> {
    fold::course(world, colony, today)
}

/// How a colony stands on a day, without the outcomes of its records.
pub fn standing(world: &World, colony: ColonyId, today: Day) -> Option<Standing> {
    fold::standing(world, colony, today)
}

/// How all colonies stand on a day, ended ones included: one pass over the plans for all of them.
pub fn standings(world: &World, today: Day) -> BTreeMap<ColonyId, Standing> {
    fold::standings(world, today)
}

/// What a visit that is not recorded yet would mean, as the last one of its day. Nothing for a colony that is not there.
pub fn echo(world: &World, colony: ColonyId, day: Day, visit: &Visit) -> Option<Outcome> {
    fold::echo(world, colony, None, day, visit)
}

/// What a recorded visit would mean if it were amended to this one.
pub fn echo_instead(world: &World, colony: ColonyId, record: RecordId, day: Day, visit: &Visit) -> Option<Outcome> {
    fold::echo(world, colony, Some(record), day, visit)
}

impl Standing {
    /// A brood disease is suspected: seen, or barred for.
    pub fn is_suspected(&self) -> bool {
        self.bars.iter().any(|bar| bar.kind.is_disease())
    }

    /// What the lid shows: suspected disease before all, then the most urgent of failed, late, due, barred.
    pub fn lid_state(&self, today: Day) -> LidState {
        match self.phase {
            Phase::Ended { .. } => return LidState::Quiet,
            Phase::DiseaseSuspected { .. } => return LidState::Barred,
            _ => {}
        }
        let failed = matches!(self.phase, Phase::Failed { .. }) || matches!(self.queen, QueenNow::Queenless { .. });
        if failed || self.clock.as_ref().is_some_and(|clock| clock.alarm) {
            return LidState::Action;
        }
        let states = self.work.iter().map(|due| due.window.state(today));
        match states.max() {
            Some(WorkState::Late) => LidState::Late,
            Some(WorkState::Open) => LidState::Due,
            _ if self.bars.iter().any(ActiveBar::shuts_the_lid) => LidState::Barred,
            _ => LidState::Quiet,
        }
    }

    /// The class of the queen's age.
    pub fn age_class(&self, world: &World, today: Day) -> AgeClass {
        match &self.queen {
            QueenNow::Present(queen) => age::class_of(queen.birth, &world.firm, &world.settings, today),
            QueenNow::Waiting { .. } => AgeClass::Waiting,
            QueenNow::Queenless { .. } => AgeClass::Queenless,
        }
    }
}

/// The lid note of a colony as it stands.
pub fn lid_note(world: &World, colony: ColonyId, standing: &Standing, today: Day) -> LidNote {
    crate::domain::lid_note::write(world, colony, standing, today)
}
