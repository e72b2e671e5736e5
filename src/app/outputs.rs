//! Everything that is written out, as bytes: the same for the window and the command line.

use std::collections::BTreeSet;

use chrono::{DateTime, Timelike as _, Utc};

use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, RunId, YardId};
use crate::domain::run_order::{Base, RunOrder, RunStop};
use crate::domain::world::World;
use crate::exchange::of_world;
use crate::exchange::out::calendar::{Stamp, due_events, ics};
use crate::exchange::out::lists::{due_csv, run_csv};
use crate::exchange::out::route::gpx;
use crate::planner::outlook::Outlook;
use crate::planner::run::plan::{RunPlan, yards_calling};
use crate::print::calibration::print_calibration;
use crate::print::job::{GroundLine, Paper, Printed};
use crate::print::labels::print_labels;
use crate::print::of_world::labels::label_job;
use crate::print::of_world::run::run_sheet_job;
use crate::print::run_sheet::print_run_sheet;
use crate::print::sheet::Sheet;

/// Due work as CSV.
pub fn due_as_csv(world: &World, outlook: &Outlook, today: Day) -> String {
    due_csv(&of_world::due_lines(world, outlook, today))
}

/// Due work as iCalendar.
pub fn due_as_ics(world: &World, outlook: &Outlook, today: Day, now: DateTime<Utc>) -> String {
    ics("Lidnote, due work", &due_events(&of_world::due_lines(world, outlook, today)), stamp(today, now))
}

/// A run as CSV.
pub fn run_as_csv(world: &World, plan: &RunPlan) -> String {
    run_csv(&of_world::run_lines(world, plan))
}

/// A run as a GPX route.
pub fn run_as_gpx(world: &World, plan: &RunPlan) -> String {
    gpx(&format!("Run, {}", plan.run.day.long()), &of_world::route_points(world, plan))
}

/// A run as iCalendar.
pub fn run_as_ics(world: &World, plan: &RunPlan, today: Day, now: DateTime<Utc>) -> String {
    ics(&format!("Run, {}", plan.run.day.long()), &of_world::run_events(world, plan), stamp(today, now))
}

/// A run sheet as PDF.
///
/// # Errors
/// In words.
pub fn run_as_pdf(
    world: &World,
    outlook: &Outlook,
    plan: &RunPlan,
    paper: Paper,
    ground: &[GroundLine],
    today: Day,
) -> Result<Printed, String> {
    print_run_sheet(&run_sheet_job(world, outlook, plan, paper, ground, today)).map_err(|error| error.to_string())
}

/// Labels as PDF.
///
/// # Errors
/// In words: no labels, or a sheet that cannot be.
pub fn labels_as_pdf(
    world: &World,
    outlook: &Outlook,
    colonies: &[ColonyId],
    sheet: Sheet,
    start: usize,
    today: Day,
) -> Result<Printed, String> {
    print_labels(&label_job(world, outlook, colonies, sheet, start, today)).map_err(|error| error.to_string())
}

/// The page with the ruler.
///
/// # Errors
/// In words: a sheet that cannot be.
pub fn calibration_as_pdf(sheet: &Sheet, today: Day) -> Result<Printed, String> {
    let created = (today.year(), today.month() as u8, today.day_of_month() as u8);
    print_calibration(sheet, "en", created).map_err(|error| error.to_string())
}

/// A run through exactly these yards, or, where none are named, through those whose work calls on the day.
pub fn run_through(
    world: &World,
    outlook: &Outlook,
    id: RunId,
    day: Day,
    base: Base,
    leave: Option<u16>,
    yards: Option<Vec<YardId>>,
) -> RunOrder {
    let yards = yards.unwrap_or_else(|| yards_calling(outlook, day));
    let mut seen = BTreeSet::new();
    let stops =
        yards.into_iter().filter(|yard| seen.insert(*yard)).map(|yard| RunStop { yard, locked: false }).collect();
    let leave = leave.unwrap_or_else(|| world.settings.leave_minute().clamp(0, 1439) as u16);
    RunOrder { id, day, vehicle: String::new(), base, leave, stops, left_out: Vec::new() }
}

/// The moment of an export: the seconds of the clock on the day that counts as today.
fn stamp(today: Day, now: DateTime<Utc>) -> Stamp {
    Stamp { day: today, second: now.num_seconds_from_midnight() }
}
