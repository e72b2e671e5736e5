//! What brood proves: which stage speaks for a new layer on which day, and when that layer can have begun.
//!
//! Worker brood is an egg for 3 days, an open larva to about day 9 and capped to day 21 (Winston 1987, from memory; 21
//! days also in Mississippi State Extension, Bug's Eye View 2018 4(9)). The brood of a queen that was removed goes on
//! after her, so each stage speaks for a new layer only once the old one's can no longer be in it.

use crate::domain::day::Day;
use crate::domain::settings::Settings;
use crate::domain::visit::Seen;

/// Days an egg stays an egg; an open larva is at least this old. Source: Winston 1987, from memory.
const EGG_DAYS: i32 = 3;
/// Age in days at which a worker larva is capped. Source: Winston 1987, from memory.
const CAPPED_AT: i32 = 9;

/// Stages of worker brood, youngest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BroodStage {
    /// Eggs: 0 to 3 days old.
    Eggs,
    /// Open larvae: 3 to 9 days old.
    Larvae,
    /// Capped worker brood: 9 days old or more.
    Capped,
}

impl BroodStage {
    /// Days after the last day of another layer from which this stage speaks for a new one.
    pub fn speaks_after(self, settings: &Settings) -> i32 {
        match self {
            Self::Eggs => settings.eggs_speak_from(),
            Self::Larvae => settings.larvae_speak_from(),
            Self::Capped => settings.capped_speaks_from(),
        }
    }

    /// Whether this stage, seen on `day`, speaks for a new layer, where eggs of another can have come in up to
    /// `count_from`. Nothing to count from: no other layer is in question, so it speaks.
    pub fn speaks(self, settings: &Settings, count_from: Option<Day>, day: Day) -> bool {
        count_from.is_none_or(|from| day.since(from) >= self.speaks_after(settings))
    }

    /// The span of days in which a layer began whose oldest brood is at this stage on `day`. Capped brood leaves the
    /// earliest day open.
    pub fn laying_began(self, day: Day) -> Began {
        match self {
            Self::Eggs => Began { earliest: Some(day.plus(-EGG_DAYS)), latest: day },
            Self::Larvae => Began { earliest: Some(day.plus(-CAPPED_AT)), latest: day.plus(-EGG_DAYS) },
            Self::Capped => Began { earliest: None, latest: day.plus(-CAPPED_AT) },
        }
    }
}

/// When laying can have begun.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Began {
    /// Not before this day; nothing: not known.
    pub earliest: Option<Day>,
    /// Not after this day.
    pub latest: Day,
}

impl Began {
    /// The day in the span that lies nearest to an expected one.
    pub fn nearest(self, expected: Day) -> Day {
        let day = expected.min(self.latest);
        self.earliest.map_or(day, |earliest| day.max(earliest.min(self.latest)))
    }
}

/// What the brood of one find says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Proof {
    /// The oldest stage that speaks for the layer in question.
    pub oldest: Option<BroodStage>,
    /// Eggs or open larvae of hers: she lays, or laid a few days ago.
    pub lays: bool,
    /// Capped worker brood of hers.
    pub capped: bool,
    /// There is brood, but it may be another's.
    pub may_be_old: Option<BroodStage>,
}

impl Proof {
    /// Reads a find of `day`. `count_from`: the last day on which eggs of another layer can have come in.
    pub fn read(settings: &Settings, seen: &Seen, count_from: Option<Day>, day: Day) -> Self {
        let stages =
            [(BroodStage::Eggs, seen.eggs), (BroodStage::Larvae, seen.larvae), (BroodStage::Capped, seen.capped)];
        let there = stages.into_iter().filter(|(_, seen)| *seen).map(|(stage, _)| stage);
        let (mut oldest, mut may_be_old) = (None, None);
        let (mut lays, mut capped) = (false, false);
        for stage in there {
            if stage.speaks(settings, count_from, day) {
                oldest = Some(stage);
                lays |= stage != BroodStage::Capped;
                capped |= stage == BroodStage::Capped;
            } else {
                may_be_old = Some(stage);
            }
        }
        Self { oldest, lays, capped, may_be_old }
    }

    /// Capped worker brood of hers and nothing younger: she laid and stopped.
    pub fn stopped(self) -> bool {
        self.capped && !self.lays
    }
}

#[cfg(test)]
mod tests {
    use super::{BroodStage, Proof};
    use crate::domain::day::Day;
    use crate::domain::settings::Settings;
    use crate::domain::visit::Seen;

    fn day(iso: &str) -> Day {
        Day::from_iso(iso).expect("a day")
    }

    #[test]
    fn each_stage_speaks_from_its_day_on() {
        // Design of the trade tables: eggs D+4, open larvae D+10, capped worker brood D+22.
        let (settings, d) = (Settings::default(), day("2026-11-13"));
        for (stage, from) in [(BroodStage::Eggs, 4), (BroodStage::Larvae, 10), (BroodStage::Capped, 22)] {
            assert!(!stage.speaks(&settings, Some(d), d.plus(from - 1)), "{stage:?} too early");
            assert!(stage.speaks(&settings, Some(d), d.plus(from)), "{stage:?} on its day");
            assert!(stage.speaks(&settings, None, d), "{stage:?} with no other layer");
        }
    }

    #[test]
    fn the_old_queens_last_egg_never_speaks_for_a_new_layer() {
        // Follows the last egg of D through its life (egg 3, larva to 9, capped to 21 days) and asks each day whether
        // the stage it is in would be taken for a new layer's.
        let (settings, d) = (Settings::default(), day("2026-11-13"));
        for age in 0..=21 {
            let stage = match age {
                0..=3 => BroodStage::Eggs,
                4..=9 => BroodStage::Larvae,
                _ => BroodStage::Capped,
            };
            assert!(!stage.speaks(&settings, Some(d), d.plus(age)), "an egg of D would speak on D+{age}");
        }
    }

    #[test]
    fn laying_is_dated_back_from_the_oldest_stage() {
        let seen_on = day("2026-12-12");
        let eggs = BroodStage::Eggs.laying_began(seen_on);
        assert_eq!((eggs.earliest, eggs.latest), (Some(day("2026-12-09")), seen_on));
        let larvae = BroodStage::Larvae.laying_began(seen_on);
        assert_eq!((larvae.earliest, larvae.latest), (Some(day("2026-12-03")), day("2026-12-09")));
        let capped = BroodStage::Capped.laying_began(seen_on);
        assert_eq!((capped.earliest, capped.latest), (None, day("2026-12-03")));
        assert_eq!(eggs.nearest(day("2026-11-29")), day("2026-12-09"));
        assert_eq!(capped.nearest(day("2026-11-29")), day("2026-11-29"));
    }

    #[test]
    fn brood_that_may_be_old_is_told_apart() {
        let (settings, d) = (Settings::default(), day("2026-11-13"));
        let seen = Seen { eggs: true, capped: true, ..Seen::default() };
        let proof = Proof::read(&settings, &seen, Some(d), d.plus(16));
        assert_eq!((proof.oldest, proof.may_be_old), (Some(BroodStage::Eggs), Some(BroodStage::Capped)));
        assert!(proof.lays && !proof.capped && !proof.stopped());
        let alone = Seen { capped: true, ..Seen::default() };
        assert!(Proof::read(&settings, &alone, Some(d), d.plus(22)).stopped());
        assert_eq!(Proof::read(&settings, &alone, Some(d), d.plus(21)).oldest, None);
    }
}
