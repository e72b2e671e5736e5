//! What the fold carries from record to record.

use crate::domain::colony::Colony;
use crate::domain::day::Day;
use crate::domain::ids::{ParcelId, QueenId, RecordId};
use crate::domain::plan::Plan;
use crate::domain::queen::{Birth, Origin};
use crate::domain::settings::Settings;
use crate::domain::standing::{Identity, Introduced, LastLook, Laying, QueenFacts, WhichQuestion};
use crate::domain::visit::{Disease, Method};
use crate::domain::world::World;

/// Days after the day a cell was given up to which closed cells, no more than were given, are hers. Common practice,
/// no source.
pub(super) const GIVEN_CELL_CLOSED_TO: i32 = 2;
/// Days from a worker egg to a queen. Source: Morse, Cornell Coop. Ext. AFB fact sheet 1996.
const EGG_TO_QUEEN: i32 = 16;

/// What the fold reads and never alters.
pub(super) struct Setting<'a> {
    pub world: &'a World,
    pub numbers: &'a Settings,
    pub colony: &'a Colony,
    /// The colony's plans, called-off ones included.
    pub plans: Vec<&'a Plan>,
    /// Outcome sentences are wanted.
    pub words: bool,
}

impl Setting<'_> {
    /// A sentence, made only where sentences are wanted.
    pub fn say(&self, sentence: impl FnOnce() -> String) -> String {
        if self.words { sentence() } else { String::new() }
    }
}

/// Where the colony is in the fold.
#[derive(Clone, Debug)]
pub(super) enum Stage {
    /// Nothing is going on, or a look again is due since that find.
    Settled { again: Option<Again> },
    /// Accepted by that find.
    Accepted { on: Day },
    /// A queen was given or is being raised, and is not judged yet.
    Trial(Trial),
    /// Queenless on purpose.
    Waiting,
    /// Failed, or lost.
    Failed(Failed),
    /// The colony is dead.
    Dead { on: Day },
}

/// A look again at a settled colony.
#[derive(Clone, Copy, Debug)]
pub(super) struct Again {
    pub since: Day,
    /// She was laying (eggs beside cells), rather than nothing was seen.
    pub laying: bool,
}

/// A failure that nothing has mended yet.
#[derive(Clone, Debug)]
pub(super) struct Failed {
    pub on: Day,
    pub how: How,
    pub cells_cut: bool,
    /// A queen that must be found first is still in there.
    pub queen_there: bool,
    /// The trial that failed.
    pub trial: Option<Trial>,
    /// The queen that was there before.
    pub lost: Option<QueenFacts>,
}

/// How it failed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum How {
    ClosedCells(u8),
    FrameCells(u8),
    Nothing,
    NotLaying,
    NoCapped,
    DroneLayer,
    LayingWorkers,
    DeadInCage,
    AnotherQueen,
    OldQueenFound,
}

/// A queen that was given or is being raised, and is not judged yet.
#[derive(Clone, Debug)]
pub(super) struct Trial {
    pub method: Method,
    /// Day 0; for own raising D.
    pub day0: Day,
    /// The day the looks are counted from: day 0, or the day the old queen was found after all.
    pub base: Day,
    pub dequeened: Option<Day>,
    /// For a virgin: the day she emerged (the day she was given, where it is not known).
    pub emerged: Option<Day>,
    pub queen: Option<QueenId>,
    pub attempt: u32,
    pub record: Option<RecordId>,
    pub cells: u8,
    pub look: Pending,
    pub last: LastLook,
    /// The push-in cage is still on.
    pub cage_on: bool,
    /// The old queen was never found: eggs do not show which queen lays.
    pub old_never_found: bool,
    /// The last full find without eggs of hers.
    pub none_on: Option<Day>,
    /// Since when she lays at the latest, as far as finds have shown.
    pub began_latest: Option<Day>,
}

/// Which look is due.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Pending {
    /// The acceptance look or the first brood look.
    First,
    /// The second acceptance look, after that find.
    Second(Day),
    /// The verdict look.
    Verdict,
    /// The capped-brood look, after that find.
    Capped(Day),
    /// Look again, after that find.
    Again(Day),
    /// None: laying, unproven; or another queen lays.
    Nothing,
}

impl Trial {
    /// Own raising since D.
    pub fn raising(since: Day, record: Option<RecordId>) -> Self {
        Self {
            method: Method::OwnRaising,
            day0: since,
            base: since,
            dequeened: Some(since),
            emerged: None,
            queen: None,
            attempt: 1,
            record,
            cells: 0,
            look: Pending::First,
            last: LastLook::None,
            cage_on: false,
            old_never_found: false,
            none_on: None,
            began_latest: None,
        }
    }

    /// A caged queen, a push-in cage or a united nuc: she came mated.
    pub fn came_mated(&self) -> bool {
        !self.method.mates_here()
    }

    /// What screens read of it; nothing for own raising without a recorded queen.
    pub fn public(&self) -> Option<Introduced> {
        Some(Introduced {
            method: self.method,
            day0: self.day0,
            dequeened: self.dequeened,
            emerged: self.emerged.filter(|_| self.method == Method::Virgin),
            queen: self.queen?,
            attempt: self.attempt.max(1),
            record: self.record?,
            last: self.last,
        })
    }
}

/// Everything that is carried.
#[derive(Clone, Debug)]
pub(super) struct State {
    pub stage: Stage,
    /// The queen that is taken to be there.
    pub queen: Option<QueenFacts>,
    /// The queen that was last removed.
    pub removed: Option<QueenFacts>,
    /// D: the last day a layer is known to have been there.
    pub d: Option<Day>,
    /// The last day on which another layer's eggs can have come in.
    pub count_from: Option<Day>,
    pub laying: Laying,
    pub identity: Identity,
    /// The last day the recorded queen is known to have been there.
    pub last_hers: Option<Day>,
    /// The last day eggs or larvae of the present queen were seen.
    pub last_laying: Option<Day>,
    /// The day all cells were last cut.
    pub cells_cut: Option<Day>,
    /// The whole nest was seen without cells on that day, from D+4 on and before an own virgin can have left one.
    pub no_cells: Option<Day>,
    /// Cells that are not hers were seen on that day and not cut since.
    pub rival_cells: Option<Day>,
    /// Cells were cut before D+7 beside a trial: looked for once more.
    pub cut_early: bool,
    /// The old queen was looked for on that day and not found.
    pub not_found: Option<Day>,
    /// A failure on that day asks for another queen.
    pub give_again: Option<Day>,
    /// A test frame was given on that day and not looked at yet.
    pub frame: Option<Day>,
    pub attempts: u32,
    pub last_given: Option<Day>,
    /// The trial that was accepted or is under way, for the label's small print.
    pub last_trial: Option<Trial>,
    pub which: Option<Asked>,
    pub disease: Option<(Day, Disease)>,
    pub laying_workers: Option<Day>,
    /// Soft bar: swarm cells or swarming seen on the first day, holding to the second.
    pub swarming: Option<(Day, Day)>,
    /// The colony was looked through from D+10 on, and no own virgin seen.
    pub looked_first: Option<Day>,
    pub offer_frame: bool,
    pub offer_cell: bool,
    pub flags: Vec<String>,
    pub temper: Option<(u8, Day)>,
    pub temper_from: Option<Day>,
    pub last_opened: Option<Day>,
    pub last_find: Option<Day>,
}

/// The open question which queen it was.
#[derive(Clone, Copy, Debug)]
pub(super) struct Asked {
    pub question: WhichQuestion,
    /// Eggs stood beside her.
    pub laying: bool,
}

impl State {
    /// The colony as it was founded.
    pub fn founded(setting: &Setting<'_>) -> Self {
        use crate::domain::colony::FirstQueen;
        let colony = setting.colony;
        let queen = match colony.began_with {
            FirstQueen::Recorded(id) => Some(facts(setting.world, id, None, None)),
            FirstQueen::Unknown => Some(QueenFacts::unknown()),
            FirstQueen::None => None,
        };
        let none = queen.is_none();
        let recorded = queen.as_ref().is_some_and(|queen| queen.queen.is_some());
        Self {
            stage: if none { Stage::Waiting } else { Stage::Settled { again: None } },
            queen,
            removed: None,
            d: none.then_some(colony.founded),
            count_from: none.then_some(colony.founded),
            laying: if none { Laying::No } else { Laying::Unknown },
            identity: if recorded { Identity::Unconfirmed } else { Identity::NotRecorded },
            last_hers: recorded.then_some(colony.founded),
            last_laying: None,
            cells_cut: None,
            no_cells: None,
            rival_cells: None,
            cut_early: false,
            not_found: None,
            give_again: None,
            frame: None,
            attempts: 0,
            last_given: None,
            last_trial: None,
            which: None,
            disease: None,
            laying_workers: None,
            swarming: None,
            looked_first: None,
            offer_frame: false,
            offer_cell: false,
            flags: Vec::new(),
            temper: None,
            temper_from: None,
            last_opened: None,
            last_find: None,
        }
    }

    /// The plan that is open on a day: made by then, not called off, and no queen given on or after the day it was made.
    pub fn open_plan<'a>(&self, setting: &Setting<'a>, day: Day) -> Option<&'a Plan> {
        setting
            .plans
            .iter()
            .filter(|plan| plan.made <= day && plan.called_off.is_none_or(|off| off > day))
            .filter(|plan| self.last_given.is_none_or(|given| given < plan.made))
            .min_by_key(|plan| (plan.give_on, plan.id))
            .copied()
    }

    /// The count of brood starts anew on a day.
    pub fn count_anew(&mut self, day: Day) {
        self.count_from = Some(self.count_from.map_or(day, |from| from.max(day)));
    }

    /// All cells were cut from D+7 on, or there were none: it can raise no queen any more.
    pub fn hopeless(&self, numbers: &Settings) -> bool {
        self.d.is_some_and(|d| self.cut_since(d, numbers.cells_hopeless_from()))
    }

    /// All cells were cut from `after` days after D on, or there were none to cut.
    pub fn cut_since(&self, d: Day, after: i32) -> bool {
        self.cells_cut.max(self.no_cells).is_some_and(|cut| cut >= d.plus(after))
    }

    /// No queen is there, or none is known to be.
    pub fn queenless(&self) -> bool {
        match &self.stage {
            Stage::Waiting => true,
            Stage::Failed(failed) => !failed.queen_there,
            Stage::Trial(trial) => trial.method == Method::OwnRaising,
            Stage::Settled { .. } | Stage::Accepted { .. } | Stage::Dead { .. } => false,
        }
    }

    /// Her introduction is over, she mated here, and she has no dot.
    pub fn unmarked(&self) -> bool {
        let over = matches!(self.stage, Stage::Accepted { .. } | Stage::Settled { again: None });
        let mated_here = self.last_trial.as_ref().is_some_and(|trial| trial.method.mates_here());
        over && mated_here && self.queen.as_ref().is_some_and(|queen| queen.dot.is_none())
    }

    /// A waiting colony whose cells nobody cut raises its own from D+10 on, unless a queen is planned for it.
    pub fn ripen(&mut self, setting: &Setting<'_>, day: Day) {
        let Some(d) = self.d else { return };
        let numbers = setting.numbers;
        let ripe = matches!(self.stage, Stage::Waiting)
            && day.since(d) >= numbers.own_virgin_from()
            && !self.cut_since(d, numbers.cut_cells_earliest())
            && self.looked_first.is_none()
            && self.give_again.is_none()
            && self.open_plan(setting, day).is_none_or(|plan| plan.method == Method::OwnRaising);
        if ripe {
            self.raise_own(d, None);
        }
    }

    /// The colony raises its own queen since D.
    pub fn raise_own(&mut self, since: Day, record: Option<RecordId>) {
        let mut trial = Trial::raising(since, record);
        // Raising its own is no attempt with a queen given: the count of those stays.
        trial.attempt = self.attempts;
        self.d = Some(since);
        self.count_from = Some(self.count_from.map_or(since, |from| from.max(since)));
        self.queen = None;
        self.laying = Laying::NotYet;
        self.identity = Identity::NotRecorded;
        self.rival_cells = None;
        self.give_again = None;
        self.offer_cell = false;
        self.not_found = None;
        self.stage = Stage::Trial(trial);
    }
}

impl QueenFacts {
    /// A queen of whom nothing is known.
    pub(super) fn unknown() -> Self {
        Self {
            queen: None,
            birth: Birth::default(),
            origin: Origin::Unknown,
            source: None,
            dot: None,
            since: None,
            parcel: None,
        }
    }

    /// A queen the colony raised itself after D.
    pub(super) fn raised(setting: &Setting<'_>, d: Day) -> Self {
        let first = d.plus(setting.numbers.own_virgin_from());
        Self {
            birth: Birth::between(first, d.plus(EGG_TO_QUEEN)),
            origin: Origin::OwnRaising,
            since: Some(d),
            ..Self::unknown()
        }
    }
}

/// What the register knows of a queen.
pub(super) fn facts(world: &World, id: QueenId, since: Option<Day>, parcel: Option<ParcelId>) -> QueenFacts {
    let known = world.queens.get(&id);
    let birth = known.map(|queen| queen.birth).unwrap_or_default();
    // Of a queen who came mated nothing more may be known: she was born before she came.
    let mated = known.is_some_and(|queen| matches!(queen.origin, Origin::Mated | Origin::WithColony));
    let birth = if birth.is_unknown() && mated { Birth { latest: since, ..birth } } else { birth };
    QueenFacts {
        queen: Some(id),
        birth,
        origin: known.map_or(Origin::Unknown, |queen| queen.origin),
        source: known.and_then(|queen| queen.source),
        dot: known.and_then(|queen| queen.dot),
        since,
        parcel,
    }
}
