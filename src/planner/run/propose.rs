//! Proposing the order of a run.

use crate::domain::run_order::{RunOrder, RunStop};
use crate::domain::world::World;
use crate::planner::outlook::Outlook;
use crate::planner::run::lights::Lights;
use crate::planner::run::plan::{Laid, Proposal, clock, lay_out, span};
use crate::planner::run::solver::problem::{LeftOut, NoAnswer, WhyLeftOut};
use crate::planner::run::solver::solve::{ROUNDS, solve};
use crate::planner::run::solver::watch::Watch;
use crate::roads::travel::{TravelError, estimate};

/// Why no order can be proposed.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoProposal {
    /// A place or a driving setting is out of range.
    #[error("{0}")]
    Travel(#[from] TravelError),
    /// The solver was stopped, or the numbers do not hang together.
    #[error("{0}")]
    Solver(#[from] NoAnswer),
}

/// Proposes the order of a run's stops: locked ones keep their position; yards without a place stay out. With
/// `within_day` the run is at most as long as a working day (setting `day_minutes`), and the least urgent stops that do
/// not fit are left out.
///
/// `lights` holds after it the light at every stop.
///
/// # Errors
/// When a setting or place is out of range, or the watch stopped it.
pub fn propose(
    world: &World,
    outlook: &Outlook,
    run: &RunOrder,
    within_day: bool,
    lights: &mut Lights,
    watch: &dyn Watch,
) -> Result<Proposal, NoProposal> {
    let mut laid = lay_out(world, outlook, run, lights);
    let drives = estimate(&laid.places, laid.driving, &|| watch.stopped())?.ok_or(NoAnswer::Cancelled)?;
    laid.problem.drive = drives.seconds;
    if within_day {
        let day = world.settings.day_minutes().max(0) as u32 * 60;
        laid.problem.back = Some(laid.problem.leave.saturating_add(day));
    }
    let answer = solve(&laid.problem, ROUNDS, watch)?;
    let locked = |at: usize| run.stops.iter().any(|stop| stop.yard == laid.yards[at] && stop.locked);
    let stops = answer.order.iter().map(|at| RunStop { yard: laid.yards[*at], locked: locked(*at) }).collect();
    Ok(Proposal {
        run: RunOrder { stops, ..run.clone() },
        proof: answer.proof,
        left_out: answer.left_out.iter().map(|out| (laid.yards[out.stop], why(world, &laid, *out))).collect(),
        unlocked: answer.unlocked.iter().map(|at| laid.yards[*at]).collect(),
    })
}

fn why(world: &World, laid: &Laid, out: LeftOut) -> String {
    let stop = &laid.problem.stops[out.stop];
    match out.why {
        WhyLeftOut::WindowTooShort if stop.close <= stop.open => {
            let gate = world.yards.get(&laid.yards[out.stop]).and_then(|yard| yard.gate);
            gate.map_or_else(
                || "No daylight there that day".to_owned(),
                |gate| {
                    let at = |minutes: u16| clock(u32::from(minutes) * 60);
                    format!("Its gate is open {} to {}, when it is dark", at(gate.opens), at(gate.closes))
                },
            )
        }
        WhyLeftOut::WindowTooShort => format!(
            "Its work takes {}; gate and daylight give it {} to {}",
            span(stop.service),
            clock(stop.open),
            clock(stop.close)
        ),
        WhyLeftOut::ClosedBeforeArrival => {
            format!("Even driven to first, its work does not end before {}", clock(stop.close))
        }
        WhyLeftOut::BackTooLate => "The vehicle would not be back in time".to_owned(),
        WhyLeftOut::NoTimeLeft => "No time left in the working day beside the more urgent stops".to_owned(),
    }
}
