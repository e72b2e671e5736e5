//! Runs: set, replaced, removed.

use std::collections::BTreeSet;

use crate::domain::decide::check;
use crate::domain::decide::draft::Draft;
use crate::domain::ids::RunId;
use crate::domain::refusal::Refusal;
use crate::domain::run_order::RunOrder;

/// Sets or replaces a run.
pub(super) fn put(draft: &mut Draft, run: &RunOrder) -> Result<(), Refusal> {
    if run.leave >= 24 * 60 {
        return Err(check::bad("The run would leave after midnight", "Give an hour from 0:00 to 23:59"));
    }
    let mut seen = BTreeSet::new();
    for id in run.stops.iter().map(|stop| stop.yard).chain(run.left_out.iter().copied()) {
        let yard = draft.yard(id)?;
        if !seen.insert(id) {
            let fact = format!("{} stands in the run twice", yard.name);
            return Err(check::bad(fact, "Leave one of the two out"));
        }
    }
    draft.put_run(run.clone());
    Ok(())
}

/// Removes a run.
pub(super) fn remove(draft: &mut Draft, id: RunId) -> Result<(), Refusal> {
    if !draft.world.runs.contains_key(&id) {
        return Err(check::missing("That run is not in the register", "Choose another day"));
    }
    draft.remove_run(id);
    Ok(())
}
