//! Every number of the rules: its name, default, range, unit and source. The register stores only what differs.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::domain::place::{Hemisphere, Place};

/// One setting as it is described to the user.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spec {
    /// Its name, as `lidnote set` takes it.
    pub name: &'static str,
    /// The value that holds until it is set.
    pub default: f64,
    /// Least value.
    pub least: f64,
    /// Greatest value.
    pub most: f64,
    /// Whole numbers only.
    pub whole: bool,
    /// The unit.
    pub unit: &'static str,
    /// What it does.
    pub about: &'static str,
    /// Where the default comes from.
    pub source: &'static str,
}

macro_rules! settings {
    ($($name:ident: $kind:ident = $default:expr, $least:expr, $most:expr, $unit:expr, $about:expr, $source:expr;)+) => {
        /// All settings, in the order the Setup screen shows them.
        pub const SPECS: &[Spec] = &[$(Spec {
            name: stringify!($name),
            default: $default as f64,
            least: $least as f64,
            most: $most as f64,
            whole: settings!(@whole $kind),
            unit: $unit,
            about: $about,
            source: $source,
        }),+];

        impl Settings {
            $(#[doc = concat!($about, ". In ", $unit, "; default ", stringify!($default), ". Source: ", $source, ".")]
            pub fn $name(&self) -> $kind {
                self.value(stringify!($name), $default as f64) as $kind
            })+
        }
    };
    (@whole i32) => { true };
    (@whole f64) => { false };
}

/// The settings in force: only what differs from the defaults is held.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Settings {
    set: BTreeMap<String, f64>,
}

settings! {
    acceptance_earliest: i32 = 7, 1, 60, "days after day 0", "Caged queen: earliest acceptance look", "leave undisturbed for 7 days (D. Cushman, Queen introduction, nuc leaflet)";
    acceptance_best: i32 = 10, 1, 60, "days after day 0", "Caged queen: best acceptance look", "common practice, no source";
    acceptance_latest: i32 = 14, 1, 60, "days after day 0", "Caged queen: latest acceptance look", "eggs after 4 to 15 days (UC Davis CAMBP, Requeening)";
    second_acceptance_earliest: i32 = 5, 1, 60, "days after the look", "Second acceptance look: earliest", "common practice, no source";
    second_acceptance_best: i32 = 7, 1, 60, "days after the look", "Second acceptance look: best", "common practice, no source";
    second_acceptance_latest: i32 = 9, 1, 60, "days after the look", "Second acceptance look: latest", "common practice, no source";
    caged_failed_from: i32 = 24, 7, 90, "days after day 0", "Caged queen without eggs, or nothing seen, from this day on: failed", "common practice, no source";
    cage_off_earliest: i32 = 3, 1, 30, "days after day 0", "Push-in cage: earliest day to take it off", "common practice, no source";
    cage_off_best: i32 = 4, 1, 30, "days after day 0", "Push-in cage: best day to take it off", "about four days (BeeWeaver, breeder's leaflet)";
    cage_off_latest: i32 = 5, 1, 30, "days after day 0", "Push-in cage: latest day to take it off", "common practice, no source";
    first_brood_earliest: i32 = 14, 1, 60, "days after day 0", "Mature cell: earliest first brood look", "first eggs on average 12.9 days after emergence (Perez-Sato and Ratnieks 2006, Apidologie 37:571)";
    first_brood_best: i32 = 15, 1, 60, "days after day 0", "Mature cell: best first brood look", "common practice, no source";
    first_brood_latest: i32 = 18, 1, 60, "days after day 0", "Mature cell: latest first brood look", "visit at day 18 (Aurell et al. 2025, J. Econ. Entomol. toaf126)";
    verdict_earliest: i32 = 26, 1, 90, "days after day 0", "Mature cell: earliest verdict look", "laying begun by day 28 in all that succeeded (Aurell et al. 2025)";
    verdict_best: i32 = 28, 1, 90, "days after day 0", "Mature cell: best verdict look", "laying begun by day 28 in all that succeeded (Aurell et al. 2025)";
    verdict_latest: i32 = 30, 1, 90, "days after day 0", "Mature cell: latest verdict look", "laying begun by day 28 in all that succeeded (Aurell et al. 2025)";
    cell_to_emergence: i32 = 1, 0, 8, "days", "Days a mature cell is taken to need from giving to emergence", "handled on day 10, emergence on day 12 after the graft at most (Cushman, grafting timesheet)";
    own_raising_earliest: i32 = 25, 10, 90, "days after D", "Own raising: earliest first brood look", "25 to 35 days to eggs (UC Davis CAMBP)";
    own_raising_best: i32 = 28, 10, 90, "days after D", "Own raising: best first brood look", "common practice, no source";
    own_raising_latest: i32 = 35, 10, 90, "days after D", "Own raising: latest first brood look and verdict", "25 to 35 days to eggs (UC Davis CAMBP)";
    own_raising_verdict_slack: i32 = 2, 0, 30, "days", "Own raising: days the verdict look may run over", "common practice, no source";
    nuc_earliest: i32 = 7, 1, 60, "days after day 0", "United nuc: earliest acceptance look", "common practice, no source";
    nuc_best: i32 = 7, 1, 60, "days after day 0", "United nuc: best acceptance look", "common practice, no source";
    nuc_latest: i32 = 10, 1, 60, "days after day 0", "United nuc: latest acceptance look", "common practice, no source";
    frame_look_earliest: i32 = 3, 1, 30, "days after the frame", "Test frame: earliest look", "common practice, no source";
    frame_look_best: i32 = 4, 1, 30, "days after the frame", "Test frame: best look", "common practice, no source";
    frame_look_latest: i32 = 7, 1, 30, "days after the frame", "Test frame: latest look", "common practice, no source";
    again_earliest: i32 = 5, 1, 60, "days after the look", "Look again: earliest", "common practice, no source";
    again_best: i32 = 7, 1, 60, "days after the look", "Look again: best", "common practice, no source";
    again_latest: i32 = 9, 1, 60, "days after the look", "Look again: latest", "common practice, no source";
    late_layer_from: i32 = 24, 10, 60, "days after day 0", "A queen mating here that may have begun to lay on this day or later is a late layer", "8 of 27 that began on day 24 or later were drone layers (Aurell et al. 2025)";
    capped_look_earliest: i32 = 9, 1, 60, "days after the look", "Capped-brood look: earliest", "common practice, no source";
    capped_look_best: i32 = 12, 1, 60, "days after the look", "Capped-brood look: best", "common practice, no source";
    capped_look_latest: i32 = 16, 1, 60, "days after the look", "Capped-brood look: latest", "common practice, no source";
    push_in_alive_until: i32 = 5, 0, 30, "days after day 0", "Queen alive under a push-in cage up to this day is as it should be", "common practice, no source";
    eggs_speak_from: i32 = 4, 1, 30, "days after D", "Eggs speak for a new layer from", "egg 3 days (Winston 1987, from memory)";
    larvae_speak_from: i32 = 10, 1, 40, "days after D", "Open larvae speak for a new layer from", "capped at about day 9 (Winston 1987, from memory)";
    capped_speaks_from: i32 = 22, 1, 60, "days after D", "Capped worker brood speaks for a new layer from", "worker emerges on day 21 (Winston 1987, from memory)";
    temper_from: i32 = 42, 10, 120, "days after laying began", "Workers are hers: temper counts from", "about 40 days (COLOSS BEEBOOK, Büchler et al. 2013, 3.1.4)";
    temper_look: i32 = 0, 0, 1, "1 for yes", "A temper look is due once the workers are hers", "common practice, no source";
    temper_look_best: i32 = 49, 10, 120, "days after laying began", "Temper look: best", "common practice, no source";
    temper_look_latest: i32 = 56, 10, 120, "days after laying began", "Temper look: latest", "8 weeks (Illinois Queen Initiative, hygienic test)";
    mark_step: i32 = 0, 0, 1, "1 for yes", "Marking is due once a queen who mated here and has no dot is accepted", "common practice, no source";
    give_latest: i32 = 1, 0, 30, "days after the planned day", "Giving: latest", "common practice, no source";
    give_again_after: i32 = 2, 0, 60, "days after the failure", "After a failure: another queen is planned for", "common practice, no source";
    cut_cells_earliest: i32 = 4, 1, 30, "days after D", "Cut cells: earliest", "common practice, no source";
    cut_cells_best: i32 = 5, 1, 30, "days after D", "Cut cells: best", "common practice, no source";
    cut_cells_latest: i32 = 9, 1, 30, "days after D", "Cut cells: latest", "larvae young enough for a cell last to about D+7; cells open from D+10 (arithmetic from Winston 1987)";
    cells_hopeless_from: i32 = 7, 1, 30, "days after D", "Cells all cut from this day on: hopelessly queenless", "common practice, no source";
    own_virgin_from: i32 = 10, 1, 30, "days after D", "An own virgin may be out from", "queen emerges on day 16 from the egg (Cornell AFB fact sheet, Morse 1996); from a larva of about 3 days old";
    own_eggs_from: i32 = 15, 5, 60, "days after D", "A queen of her own lays at the earliest from", "own virgin out from D+10, mature 5 days later at the earliest (Laidlaw and Page 1997, from memory)";
    laying_workers_from: i32 = 21, 5, 90, "days after D", "Laying workers likely from", "3 to 4 weeks (North Devon Beekeepers)";
    laying_workers_to: i32 = 28, 5, 90, "days after D", "Laying workers likely to", "3 to 4 weeks (North Devon Beekeepers)";
    find_again_earliest: i32 = 1, 0, 30, "days after the search", "Find the old queen again: earliest", "common practice, no source";
    find_again_best: i32 = 3, 0, 30, "days after the search", "Find the old queen again: best", "common practice, no source";
    find_again_latest: i32 = 7, 0, 30, "days after the search", "Find the old queen again: latest", "common practice, no source";
    cell_is_virgin_after: i32 = 12, 8, 20, "days after the graft", "A cell older than this is a virgin", "normal emergence on day 12 (Cushman, grafting timesheet)";
    dequeen_before_caged: i32 = 0, 0, 14, "days before day 0", "Caged queen, push-in cage, nuc: the old queen is removed", "6 hours to 1 day (COLOSS BEEBOOK 2.3.4); same visit is common practice";
    dequeen_before_cell: i32 = 1, 0, 14, "days before day 0", "Mature cell, virgin: the old queen is removed", "common practice, no source";
    held_warning: i32 = 3, 1, 30, "days", "Queens in hand: warning after", "seldom more than a few days (Woodrow, USDA E-529, 1941)";
    held_alarm: i32 = 7, 1, 60, "days", "Queens in hand: alarm after", "attendants and virgins fall from 3 to 7 days (J. Apic. Res. abstract, second hand)";
    season_from_month: i32 = 9, 1, 12, "month, southern", "First month of the season window (half a year off in the north)", "common practice, no source";
    season_to_month: i32 = 3, 1, 12, "month, southern", "Last month of the season window (half a year off in the north)", "common practice, no source";
    season_turns_month: i32 = 7, 1, 12, "month, southern", "Queens grow a season older on the 1st of this month (half a year off in the north)", "common practice, no source";
    season_counts_next_from_month: i32 = 2, 1, 12, "month, southern", "Queens born from the 1st of this month on count for the coming season (half a year off in the north)", "common practice, no source";
    speed: f64 = 60.0, 5.0, 130.0, "km/h", "Driving speed", "common practice, no source";
    road_factor: f64 = 1.3, 1.0, 3.0, "times the straight line", "Roads are longer than the straight line by", "common practice, no source";
    minutes_look: i32 = 6, 1, 120, "minutes", "Time for a look", "10 to 18 minutes a colony for a full visit (HBHC, docslib 5575782); a look is less";
    minutes_step: i32 = 10, 1, 120, "minutes", "Time for a step", "common practice, no source";
    minutes_yard: i32 = 12, 0, 240, "minutes", "Time at a yard besides the hives", "common practice, no source";
    day_minutes: i32 = 540, 60, 1440, "minutes", "A run that is laid out for a day is at most this long; yards that do not fit are left out, the least urgent first", "common practice, no source";
    leave_minute: i32 = 450, 0, 1439, "minutes after midnight", "A run leaves at", "common practice, no source";
    utc_offset: i32 = 0, -720, 840, "minutes", "Local time ahead of UTC (set from the home yard; daylight is shown in it)", "the home yard's longitude";
    letter_paper: i32 = 0, 0, 1, "1 for yes", "Run sheets are on Letter paper, not A4, and its label sheets come first (set from the home yard)", "the home yard's place";
    distance_in_miles: i32 = 0, 0, 1, "1 for yes", "Distances and speeds are said in miles", "common practice, no source";
    daylight_margin: i32 = 0, 0, 180, "minutes", "Work begins this long after sunrise and ends this long before sunset", "common practice, no source";
}

/// Why a value was not taken.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SettingError {
    /// No setting has that name.
    #[error("No setting is called {0}. `lidnote set` alone lists them")]
    Unknown(String),
    /// Out of range, or not whole.
    #[error("{name} takes {}{least} to {most} {unit}, not {value}", if *whole { "whole numbers from " } else { "" })]
    OutOfRange {
        /// The setting.
        name: &'static str,
        /// The value that was refused.
        value: f64,
        /// Least value.
        least: f64,
        /// Greatest value.
        most: f64,
        /// Whole numbers only.
        whole: bool,
        /// The unit.
        unit: &'static str,
    },
}

/// Metres in a mile (international mile, exact).
const METRES_A_MILE: f64 = 1609.344;

impl Settings {
    /// A way in whole kilometres or miles, as they are said: `22 km`, `1 mile`.
    pub fn distance_words(&self, metres: u32) -> String {
        if self.distance_in_miles() == 0 {
            return format!("{} km", (metres + 500) / 1000);
        }
        match (f64::from(metres) / METRES_A_MILE).round() {
            1.0 => "1 mile".to_owned(),
            miles => format!("{miles} miles"),
        }
    }

    /// The driving speed as it is said: `60 km/h`, `37 miles an hour`.
    pub fn speed_words(&self) -> String {
        let speed = self.speed();
        if self.distance_in_miles() == 0 {
            format!("{speed} km/h")
        } else {
            format!("{} miles an hour", (speed * 1000.0 / METRES_A_MILE).round())
        }
    }

    fn value(&self, name: &str, default: f64) -> f64 {
        self.set.get(name).copied().unwrap_or(default)
    }

    /// The value in force of the setting with that name.
    pub fn get(&self, name: &str) -> Option<f64> {
        spec(name).map(|spec| self.value(spec.name, spec.default))
    }

    /// These settings with one of them set. Setting the default forgets it.
    ///
    /// # Errors
    /// If no setting has that name or the value is out of its range.
    pub fn with(&self, name: &str, value: f64) -> Result<Self, SettingError> {
        let spec = spec(name).ok_or_else(|| SettingError::Unknown(name.to_owned()))?;
        let fits = value.is_finite() && (spec.least..=spec.most).contains(&value);
        if !fits || (spec.whole && value.fract() != 0.0) {
            let Spec { name, least, most, whole, unit, .. } = *spec;
            return Err(SettingError::OutOfRange { name, value, least, most, whole, unit });
        }
        let mut next = self.clone();
        if value == spec.default {
            next.set.remove(spec.name);
        } else {
            next.set.insert(spec.name.to_owned(), value);
        }
        Ok(next)
    }

    /// What differs from the defaults, by name.
    pub fn changed(&self) -> impl Iterator<Item = (&str, f64)> {
        self.set.iter().map(|(name, value)| (name.as_str(), *value))
    }
}

/// The description of the setting with that name.
pub fn spec(name: &str) -> Option<&'static Spec> {
    SPECS.iter().find(|spec| spec.name == name)
}

/// The beekeeper's own facts: not numbers of the rules.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Firm {
    /// The firm's or the beekeeper's name.
    pub name: String,
    /// The home yard or shed where runs begin.
    pub home: Option<Place>,
    /// What the home place is called.
    pub home_name: String,
    /// Which half of the year is the season.
    pub hemisphere: Hemisphere,
    /// The day the demo is shown on, for the demo's register alone; nothing: the day of the clock.
    pub demo_day: Option<crate::domain::day::Day>,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_default_lies_in_its_range_and_has_a_source() {
        for spec in SPECS {
            assert!((spec.least..=spec.most).contains(&spec.default), "{} is out of range", spec.name);
            assert!(!spec.source.is_empty() && !spec.unit.is_empty(), "{} lacks source or unit", spec.name);
            assert!(!spec.whole || spec.default.fract() == 0.0, "{} is not whole", spec.name);
        }
    }

    #[test]
    fn a_setting_is_set_checked_and_forgotten() {
        let settings = Settings::default();
        let faster = settings.with("speed", 72.5).expect("in range");
        assert_eq!(faster.speed(), 72.5);
        assert!(matches!(settings.with("speed", 500.0), Err(SettingError::OutOfRange { .. })));
        assert!(matches!(settings.with("acceptance_best", 10.5), Err(SettingError::OutOfRange { .. })));
        assert!(matches!(settings.with("velocity", 1.0), Err(SettingError::Unknown(_))));
        assert_eq!(faster.with("speed", 60.0), Ok(settings));
    }

    #[test]
    fn ways_are_said_in_whole_kilometres_or_miles() {
        let metric = Settings::default();
        let miles = metric.with("distance_in_miles", 1.0).expect("in range");
        let said = |settings: &Settings| [0, 1_600, 10_499, 10_500].map(|metres| settings.distance_words(metres));
        assert_eq!(said(&metric), ["0 km", "2 km", "10 km", "11 km"]);
        assert_eq!(said(&miles), ["0 miles", "1 mile", "7 miles", "7 miles"]);
        assert_eq!((metric.speed_words().as_str(), miles.speed_words().as_str()), ("60 km/h", "37 miles an hour"));
    }
}
