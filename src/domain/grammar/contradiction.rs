//! What one visit cannot say at once.

use crate::domain::visit::{Coverage, Seen, Visit};

/// Two things that exclude each other, and what to do about it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Contradiction {
    /// The fact, without a full stop.
    pub fact: &'static str,
    /// The way out, without a full stop.
    pub way_out: &'static str,
}

/// The first contradiction in a visit, if there is one.
pub fn contradiction(visit: &Visit) -> Option<Contradiction> {
    contradiction_with(visit, visit.gave.is_some())
}

/// The same where what was given is not told in the visit yet.
pub(super) fn contradiction_with(visit: &Visit, gave: bool) -> Option<Contradiction> {
    let Visit { coverage, seen, did, .. } = visit;
    let found = |fact, way_out| Some(Contradiction { fact, way_out });
    let worked = did.dequeened
        || did.queen_not_found
        || did.cells_cut
        || did.cells_left
        || did.cage_off
        || did.test_frame.is_some()
        || did.marked.is_some();
    if matches!(coverage, Coverage::Unopened(_)) {
        if seen_inside(seen) {
            return found("not opened (-), yet something was seen inside", "Leave out the - code, or what was seen");
        }
        if worked || gave {
            return found("not opened (-), yet something was done inside", "Leave out the - code, or what was done");
        }
    }
    if seen.nothing && seen_of_a_queen(seen) {
        return found("nothing seen (n), yet brood, a queen or cells were", "Leave out n, or what was seen");
    }
    if did.dequeened && did.queen_not_found {
        return found("the old queen removed (/q), yet not found (?q)", "Leave out one of the two");
    }
    if did.cells_cut && did.cells_left {
        return found("all cells cut (/c), yet one left standing (+s)", "Type +s alone: the others are cut with it");
    }
    if seen.nothing && did.cells_left {
        return found("nothing seen (n), yet a cell left standing (+s)", "Leave out n, or +s");
    }
    if seen.dead && gave {
        return found("the colony is dead (z), yet a queen was given (+)", "Leave out one of the two");
    }
    None
}

fn seen_of_a_queen(seen: &Seen) -> bool {
    seen.eggs
        || seen.larvae
        || seen.capped
        || seen.her
        || seen.another
        || seen.closed_cells.is_some()
        || seen.begun_cells.is_some()
        || seen.opened_cell
        || seen.drone_layer
        || seen.laying_workers
}

fn seen_inside(seen: &Seen) -> bool {
    seen_of_a_queen(seen) || seen.nothing || seen.cage.is_some() || seen.disease.is_some()
}
