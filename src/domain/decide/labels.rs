//! Labels: which note is on which lid.

use crate::domain::colony::{Colony, Lid};
use crate::domain::day::Day;
use crate::domain::decide::draft::Draft;
use crate::domain::ids::ColonyId;
use crate::domain::refusal::Refusal;
use crate::domain::standing::{lid_note, standing};

/// Labels were printed: the lids show the notes of that day.
pub(super) fn printed(draft: &mut Draft, colonies: &[ColonyId], day: Day) -> Result<(), Refusal> {
    for id in colonies {
        let colony = draft.colony(*id)?;
        let Some(standing) = standing(&draft.world, *id, day) else {
            continue;
        };
        let note = lid_note(&draft.world, *id, &standing, day);
        let lid = Lid { printed: note.lines.to_vec(), on: Some(day), stale: false };
        draft.put_colony(Colony { lid, ..Colony::clone(&colony) });
    }
    Ok(())
}

/// The lids of these hives, of which no label was printed, are taken to say their notes where these ask for nothing.
pub(super) fn known(draft: &mut Draft, colonies: &[ColonyId]) -> Result<(), Refusal> {
    for id in colonies {
        let colony = draft.colony(*id)?;
        let Some(standing) = standing(&draft.world, *id, draft.today).filter(|_| colony.lid.printed.is_empty()) else {
            continue;
        };
        let note = lid_note(&draft.world, *id, &standing, draft.today);
        if note.asks_for_nothing() && !note.plain {
            let lid = Lid { printed: note.lines.to_vec(), ..colony.lid.clone() };
            draft.put_colony(Colony { lid, ..Colony::clone(&colony) });
        }
    }
    Ok(())
}

/// The lids of these hives no longer show their notes.
pub(super) fn wanted(draft: &mut Draft, colonies: &[ColonyId]) -> Result<(), Refusal> {
    for id in colonies {
        let mut colony = Colony::clone(&*draft.colony(*id)?);
        colony.lid.stale = true;
        draft.put_colony(colony);
    }
    Ok(())
}
