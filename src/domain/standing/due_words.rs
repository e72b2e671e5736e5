//! Why work is due, and what to look for or how to do it, in short sentences for card and run sheet.

use crate::domain::day::Day;
use crate::domain::visit::Method;
use crate::domain::work::{Look, Step, Window};

/// `Caged queen in 14 Nov: 7, 10, 14 days after.`
pub(super) fn why(what: &str, from: Day, window: Window) -> String {
    let days = |day: Day| day.since(from);
    let (earliest, best) = (days(window.earliest), days(window.best));
    match window.latest.map(days) {
        Some(latest) if (earliest, best, latest) == (0, 0, 0) => format!("{what} {}.", from.short()),
        Some(latest) if earliest == 0 && best == 0 => {
            format!("{what} {}, at the latest {}.", from.short(), from.plus(latest).short())
        }
        Some(latest) => format!("{what} {}: {earliest}, {best}, {latest} days after.", from.short()),
        None => format!("{what} {}.", from.short()),
    }
}

/// What to look for.
pub(super) fn look_for(look: Look, method: Option<Method>) -> &'static str {
    match (look, method) {
        (Look::Acceptance, _) => "Eggs, or her seen. Closed cells alone: failed.",
        (Look::SecondAcceptance, _) => "Eggs. None, or her without eggs: failed.",
        (Look::FirstBrood, Some(Method::OwnRaising)) => "Eggs. Nothing today is no verdict.",
        (Look::FirstBrood, _) => "Eggs. Capped brood alone is no proof, nothing is no verdict.",
        (Look::Verdict, _) => "Eggs, larvae or capped brood of hers. None: failed.",
        (Look::CappedBrood, _) => "Capped worker brood. Drone brood in worker cells: drone layer.",
        (Look::Again, _) => "Eggs and no cells: laying. Nothing in the whole nest: failed.",
        (Look::Frame, _) => "Cells begun on the test frame: queenless. None: nothing lost.",
        (Look::LookFirst, _) => "Cells, an opened cell, an own virgin. Cut cells; give no caged queen beside a virgin.",
        (Look::Temper, _) => "Temper, 1 to 4: the workers are hers now.",
    }
}

/// How a step is done.
pub(super) fn step_how(step: Step, method: Option<Method>) -> &'static str {
    match step {
        Step::Dequeen => "Find the old queen and remove her.",
        Step::Give => match method {
            Some(Method::Cell) => "Check for cells and a virgin; hang the cell between brood frames.",
            Some(Method::Virgin) => "Check for cells and a virgin; give the virgin.",
            Some(Method::Nuc) => "Unite the nuc.",
            Some(Method::PushIn) => "Cut cells; press the cage over emerging brood.",
            Some(Method::Caged | Method::OwnRaising) | None => "Cut cells; cage between brood frames.",
        },
        Step::CageOff => "Eggs under it, her walking free.",
        Step::CutCells => "Go through every brood frame; cut all that are not hers.",
        Step::FindOldQueen => "Look for the old queen once more.",
        Step::RemoveFailed => "Find that queen and remove her, then give another or unite.",
        Step::UniteOrShakeOut => "Unite or shake out. No cage, cell or virgin.",
        Step::Mark => "A dot on the thorax; let it dry.",
        Step::Isolate => "Close it, move nothing, wash the kit, follow the local rules.",
    }
}
