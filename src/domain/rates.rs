//! Rates with their interval, and the counts of an evening.

use crate::domain::standing::OutcomeClass;

/// The 0.975 quantile of the normal distribution (statrs 0.19.1 and scipy 1.17.1 agree to the last digit).
const Z: f64 = 1.959_963_984_540_054;

/// Wilson's score interval at 95 % for `hits` of `of` (Wilson 1927, J. Am. Stat. Assoc. 22:209; the method
/// Newcombe 1998, Stat. Med. 17:857, numbers 3). Shares from 0 to 1; nothing where there is nothing to count, or where
/// the hits are more than all.
pub fn wilson(hits: u32, of: u32) -> Option<(f64, f64)> {
    if of == 0 || hits > of {
        return None;
    }
    let (hits, all) = (f64::from(hits), f64::from(of));
    let share = hits / all;
    let middle = share + Z * Z / (2.0 * all);
    let half = Z * (share * (1.0 - share) / all + Z * Z / (4.0 * all * all)).sqrt();
    let scale = 1.0 + Z * Z / all;
    Some((((middle - half) / scale).clamp(0.0, 1.0), ((middle + half) / scale).clamp(0.0, 1.0)))
}

/// A rate in words, with its count and interval: `89 %, 8 of 9 (95 % interval 57 to 98 %)`. Empty where there is
/// nothing to count.
pub fn rate_words(hits: u32, of: u32) -> String {
    let Some((low, high)) = wilson(hits, of) else {
        return String::new();
    };
    let percent = |share: f64| (share * 100.0).round();
    let share = percent(f64::from(hits) / f64::from(of));
    format!("{share} %, {hits} of {of} (95 % interval {} to {} %)", percent(low), percent(high))
}

/// The visits of an evening by outcome, each counted once.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct EveningCounts {
    /// Laying.
    pub laying: u32,
    /// Not laying yet.
    pub not_yet: u32,
    /// Failed or queenless: to decide.
    pub to_decide: u32,
    /// Another queen than recorded.
    pub another: u32,
    /// Barred.
    pub barred: u32,
    /// Still due: unopened, part of the nest, too early.
    pub still_due: u32,
    /// A step was done.
    pub step_done: u32,
    /// Noted, nothing follows.
    pub noted: u32,
}

impl EveningCounts {
    /// All visits.
    pub fn total(&self) -> u32 {
        self.parts().iter().map(|(count, _)| count).sum()
    }

    /// The counts with their words, in the order they are shown.
    pub fn parts(&self) -> [(u32, &'static str); 8] {
        [
            (self.laying, "laying"),
            (self.not_yet, "not yet"),
            (self.to_decide, "to decide"),
            (self.another, "another queen"),
            (self.barred, "barred"),
            (self.still_due, "still due"),
            (self.step_done, "step done"),
            (self.noted, "noted"),
        ]
    }

    /// `52 laying, 3 to decide, 1 another queen`; zeros are left out.
    pub fn words(&self) -> String {
        let said: Vec<String> = self
            .parts()
            .iter()
            .filter(|(count, _)| *count > 0)
            .map(|(count, word)| format!("{count} {word}"))
            .collect();
        said.join(", ")
    }
}

/// Counts the outcomes of an evening's visits, each once.
pub fn count_evening(outcomes: impl IntoIterator<Item = OutcomeClass>) -> EveningCounts {
    let mut counts = EveningCounts::default();
    for class in outcomes {
        let count = match class {
            OutcomeClass::Laying => &mut counts.laying,
            OutcomeClass::NotYet => &mut counts.not_yet,
            OutcomeClass::ToDecide => &mut counts.to_decide,
            OutcomeClass::Another => &mut counts.another,
            OutcomeClass::Barred => &mut counts.barred,
            OutcomeClass::StillDue => &mut counts.still_due,
            OutcomeClass::StepDone => &mut counts.step_done,
            OutcomeClass::Noted => &mut counts.noted,
        };
        *count += 1;
    }
    counts
}

#[cfg(test)]
mod tests {
    use super::{count_evening, rate_words, wilson};
    use crate::domain::standing::OutcomeClass;

    #[test]
    fn intervals_are_those_of_newcombe_1998() {
        // Newcombe 1998, Stat. Med. 17:857-872, Table I, method 3 (score, no continuity correction).
        for (hits, of, low, high) in
            [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0, 0.1611), (1, 29, 0.0061, 0.1718)]
        {
            let (ours_low, ours_high) = wilson(hits, of).expect("an interval");
            assert!((ours_low - low).abs() < 5e-5 && (ours_high - high).abs() < 5e-5, "{hits}/{of}");
        }
    }

    #[test]
    fn intervals_are_those_of_a_reference_library() {
        // statsmodels 0.15.0, proportion_confint(method="wilson").
        for (hits, of, low, high) in [
            (81, 263, 0.255_288_519_878_3, 0.366_209_576_982_8),
            (1, 29, 0.006_113_214_3, 0.171_755_218_8),
            (29, 29, 0.883_030_201_5, 1.0),
        ] {
            let (ours_low, ours_high) = wilson(hits, of).expect("an interval");
            assert!((ours_low - low).abs() < 1e-9 && (ours_high - high).abs() < 1e-9, "{hits}/{of}");
        }
    }

    #[test]
    fn published_counts_keep_their_intervals() {
        // Aurell et al. 2025 (CC BY 4.0, doi 10.5281/zenodo.15733143): laying after a cell, overall and by yard.
        for (hits, of, low, high) in [
            (154, 177, 0.8126, 0.9118),
            (35, 42, 0.6940, 0.9168),
            (45, 50, 0.7864, 0.9565),
            (44, 50, 0.7620, 0.9438),
            (30, 35, 0.7062, 0.9374),
            (25, 25, 0.8668, 1.0),
        ] {
            let (ours_low, ours_high) = wilson(hits, of).expect("an interval");
            assert!((ours_low - low).abs() < 5e-5 && (ours_high - high).abs() < 5e-5, "{hits}/{of}");
        }
        // Masry et al. 2015: virgins over 160 mg 103 of 130, 140 to 160 mg 42 of 68; dead on arrival 6 of 170.
        assert_eq!(rate_words(103, 130), "79 %, 103 of 130 (95 % interval 71 to 85 %)");
        assert_eq!(rate_words(42, 68), "62 %, 42 of 68 (95 % interval 50 to 72 %)");
        let (low, high) = wilson(6, 170).expect("an interval");
        assert!((low - 0.0163).abs() < 5e-5 && (high - 0.0749).abs() < 5e-5);
        // Invernizzi et al.: protected cells beside an old queen, 1 of 54 (0.3 to 9.8 %).
        let (low, high) = wilson(1, 54).expect("an interval");
        assert!((low - 0.003).abs() < 5e-4 && (high - 0.098).abs() < 5e-4);
    }

    #[test]
    fn a_rate_carries_its_count_and_interval() {
        assert_eq!(rate_words(8, 9), "89 %, 8 of 9 (95 % interval 57 to 98 %)");
        assert_eq!(rate_words(0, 0), "");
        assert_eq!(wilson(3, 2), None);
    }

    #[test]
    fn each_visit_is_counted_once() {
        let counts = count_evening([OutcomeClass::Laying, OutcomeClass::Laying, OutcomeClass::StillDue]);
        assert_eq!((counts.laying, counts.still_due, counts.total()), (2, 1, 3));
        assert_eq!(counts.words(), "2 laying, 1 still due");
    }
}
