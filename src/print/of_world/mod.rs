//! From the world to print jobs: which words stand on a colony's label and in a run sheet's rows.

pub mod labels;
pub mod run;

use crate::domain::day::Day;
use crate::print::job::Created;

/// A day as print jobs take it.
fn created(day: Day) -> Created {
    (day.year(), day.month() as u8, day.day_of_month() as u8)
}
