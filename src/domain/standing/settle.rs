//! What a verdict leaves behind: acceptance, failure, and what is remembered of a sighting.

use crate::domain::brood::BroodStage;
use crate::domain::day::Day;
use crate::domain::queen::Birth;
use crate::domain::standing::failure::failed_sentence;
use crate::domain::standing::find::{Find, Judged};
use crate::domain::standing::state::{Again, Failed, How, Setting, Stage, State, Trial, facts};
use crate::domain::standing::trial::who;
use crate::domain::standing::{Identity, Laying, OutcomeClass, QueenFacts, windows};
use crate::domain::visit::Method;

/// Laying began, at the latest, before a queen that the colony raised after D can lay.
fn lays_too_early(s: &Setting<'_>, trial: &Trial) -> bool {
    let from = trial.base.plus(s.numbers.own_eggs_from());
    trial.method == Method::OwnRaising && trial.began_latest.is_some_and(|latest| latest < from)
}

impl State {
    /// Cells that are not hers ask to be cut, unless they were on this visit, or one was left standing on purpose.
    pub(super) fn note_cells(&mut self, f: &Find<'_>) {
        if f.did.cells_left {
            self.rival_cells = None;
        } else if f.cells() && !f.did.cells_cut {
            self.rival_cells = Some(f.day);
        } else if f.full && f.says_anything() && !f.cells() {
            // Seen before, and no longer there.
            self.rival_cells = None;
        }
    }

    /// The whole nest was looked through. From D+10 on no sign of an own virgin was seen, so nobody has to look first;
    /// before, no cells, so there is nothing to cut.
    pub(super) fn note_looked(&mut self, s: &Setting<'_>, f: &Find<'_>) {
        let ripe = self.d.is_none_or(|d| f.day.since(d) >= s.numbers.own_virgin_from());
        if ripe && f.full && f.says_anything() && !f.seen.opened_cell {
            self.looked_first = Some(f.day);
        }
        self.note_no_cells(s, f);
    }

    fn note_no_cells(&mut self, s: &Setting<'_>, f: &Find<'_>) {
        let n = s.numbers;
        let since = self.d.map(|d| f.day.since(d));
        let tells = since.is_some_and(|days| (n.cut_cells_earliest()..n.own_virgin_from()).contains(&days));
        if f.cells() {
            self.no_cells = None;
        } else if tells && f.full && f.says_anything() && !f.seen.opened_cell {
            self.no_cells = Some(f.day);
        }
    }

    /// The test frame was looked at: cells begun on it, or none where there was time for them.
    pub(super) fn frame_seen(&mut self, s: &Setting<'_>, f: &Find<'_>) -> bool {
        let Some(given) = self.frame.filter(|given| f.day > *given) else { return false };
        let seen = f.begun > 0 || (f.full && f.says_anything() && f.day >= windows::frame(s.numbers, given).earliest);
        if seen {
            self.frame = None;
        }
        seen
    }

    /// The recorded queen was seen.
    pub(super) fn her_seen(&mut self, day: Day) {
        self.identity = Identity::Seen(day);
        self.last_hers = Some(day);
        self.not_found = None;
    }

    pub(super) fn laying_seen(&mut self, s: &Setting<'_>, f: &Find<'_>, trial: &Trial, oldest: BroodStage) {
        let mut began = oldest.laying_began(f.day);
        began.latest = trial.began_latest.map_or(began.latest, |known| known.min(began.latest));
        began.earliest = began.earliest.max(trial.none_on);
        let start = began.nearest(windows::expected_start(s.numbers, trial)).max(trial.base);
        let start = match self.laying {
            Laying::Since(known) => known.min(start),
            Laying::NotYet | Laying::No | Laying::Unknown => start,
        };
        self.laying = Laying::Since(start);
        self.last_laying = Some(f.day);
        self.temper_from = Some(start.plus(s.numbers.temper_from()));
    }

    pub(super) fn accept(&mut self, s: &Setting<'_>, f: &Find<'_>, trial: Trial, her: bool) -> Judged {
        let method = trial.method;
        let too_early = lays_too_early(s, &trial);
        self.after_acceptance(s, f.day, trial);
        Judged::new(
            OutcomeClass::Laying,
            s.say(|| {
                if too_early {
                    return "Laying, too early for a queen of her own: another lays here. Nothing due.".to_owned();
                }
                if method == Method::OwnRaising {
                    return "Laying: a queen of her own. Nothing due.".to_owned();
                }
                let hers_from = self.temper_from.filter(|from| f.temper.is_some() && *from > f.day);
                match hers_from {
                    Some(from) => format!("Laying, {}. Accepted. Temper hers from {}.", who(her), from.short()),
                    None => format!("Laying, {}. Accepted, nothing due.", who(her)),
                }
            }),
        )
        .settling(Some(method), true)
    }

    /// Puts everything in order after a queen was accepted.
    pub(super) fn after_acceptance(&mut self, s: &Setting<'_>, day: Day, trial: Trial) {
        if trial.method == Method::OwnRaising {
            let raised = if lays_too_early(s, &trial) {
                // Of her it is known only that she was there when laying began.
                let birth = Birth { latest: trial.began_latest, ..Birth::default() };
                QueenFacts { birth, ..QueenFacts::unknown() }
            } else {
                QueenFacts::raised(s, trial.day0)
            };
            let named = trial.queen.map(|id| facts(s.world, id, Some(trial.day0), None));
            self.queen = Some(match named.or(self.queen.take()) {
                Some(named) if named.birth.is_unknown() => QueenFacts { birth: raised.birth, ..named },
                Some(named) => named,
                None => raised,
            });
        }
        self.last_hers = Some(day);
        self.count_from = None;
        self.attempts = 0;
        self.give_again = None;
        self.rival_cells = None;
        self.cut_early = false;
        self.not_found = None;
        self.frame = None;
        self.laying_workers = None;
        self.swarming = None;
        self.offer_frame = false;
        self.offer_cell = false;
        self.d = None;
        self.cells_cut = None;
        self.no_cells = None;
        self.looked_first = None;
        self.last_trial = Some(trial);
        self.stage = Stage::Accepted { on: day };
    }

    /// The introduction failed, or the queen is lost.
    pub(super) fn fail(&mut self, s: &Setting<'_>, f: &Find<'_>, trial: Option<Trial>, how: How) -> Judged {
        let method = trial.as_ref().map(|trial| trial.method);
        self.set_failed(f.day, trial, how, f.did.cells_cut);
        match how {
            // Neither cells nor brood of her own: no virgin is to come, whatever the day.
            How::Nothing | How::FrameCells(_) if f.full && !f.seen.opened_cell => {
                self.looked_first = Some(f.day);
                self.note_no_cells(s, f);
            }
            How::ClosedCells(_) => self.note_looked(s, f),
            _ if f.seen.nothing => self.note_looked(s, f),
            _ => {}
        }
        self.offer_cell = matches!(how, How::ClosedCells(_)) && !f.did.cells_cut;
        let give = windows::give_again(s.numbers, f.day, how.leaves_a_queen()).best;
        let gave = s.say(|| failed_sentence(how, f.did, give));
        Judged::new(OutcomeClass::ToDecide, gave).settling(method, false)
    }

    /// Sets the stage after a failure on a day.
    pub(super) fn set_failed(&mut self, day: Day, trial: Option<Trial>, how: How, cells_cut: bool) {
        let queen_there = how.leaves_a_queen();
        let lost = self.queen.clone();
        if !queen_there {
            self.queen = None;
            self.identity = Identity::NotRecorded;
        }
        if let Some(trial) = &trial {
            self.attempts = trial.attempt;
        }
        self.d = self.d.max(self.last_laying.filter(|_| !queen_there));
        if !queen_there {
            // She may have been alive, and laying, until now; one that is still there has no other before her.
            self.count_anew(day);
        }
        self.laying = Laying::No;
        self.give_again = (how != How::LayingWorkers).then_some(day);
        self.laying_workers = if how == How::LayingWorkers { Some(day) } else { self.laying_workers };
        self.offer_frame = false;
        self.frame = None;
        self.not_found = None;
        self.temper_from = None;
        self.rival_cells = (matches!(how, How::ClosedCells(_) | How::FrameCells(_)) && !cells_cut).then_some(day);
        self.last_trial.clone_from(&trial);
        self.stage = Stage::Failed(Failed { on: day, how, cells_cut, queen_there, trial, lost });
    }

    /// A look again is due at a settled colony.
    pub(super) fn look_again(&mut self, since: Day, laying: bool) {
        self.stage = Stage::Settled { again: Some(Again { since, laying }) };
    }
}
