//! Bars: set, lifted, and in the way of a plan.

use crate::domain::bar::{Bar, BarKind, BarOn, Lifted};
use crate::domain::day::Day;
use crate::domain::decide::check;
use crate::domain::decide::draft::Draft;
use crate::domain::ids::{BarId, ColonyId, RecordId};
use crate::domain::record::{Happening, Record};
use crate::domain::refusal::Refusal;

/// Sets or replaces a bar.
pub(super) fn put(draft: &mut Draft, bar: &Bar) -> Result<(), Refusal> {
    match bar.on {
        BarOn::Colony(colony) => drop(draft.living(colony)?),
        BarOn::Yard(yard) => drop(draft.yard(yard)?),
    }
    check_bar(bar)?;
    draft.put_bar(bar.clone());
    Ok(())
}

/// Refuses a bar that cannot be.
pub(super) fn check_bar(bar: &Bar) -> Result<(), Refusal> {
    if let Some(until) = bar.until
        && until < bar.from
    {
        return Err(check::bad("The bar would end before it begins", "Give a later last day"));
    }
    if bar.kind == BarKind::Own && bar.reason.trim().is_empty() {
        return Err(check::bad("A bar of your own has no reason", "Say why"));
    }
    Ok(())
}

/// Lifts a bar that was set by hand. One that has not begun is called off: it never holds.
pub(super) fn lift(draft: &mut Draft, id: BarId, lifted: &Lifted) -> Result<(), Refusal> {
    let Some(bar) = draft.world.bars.get(&id).cloned() else {
        return Err(check::missing("That bar is not in the register", "Choose another"));
    };
    if bar.lifted.as_ref() == Some(lifted) {
        return Ok(());
    }
    if let Some(earlier) = &bar.lifted {
        let fact = format!("That bar was lifted on {}", earlier.on.near(draft.today));
        return Err(check::bad(fact, "Set a new one if it holds again"));
    }
    need_reason(&lifted.why)?;
    check::not_ahead(lifted.on, draft.today)?;
    if lifted.on < bar.from && bar.from <= draft.today {
        let fact = format!("That bar began on {}", bar.from.near(draft.today));
        return Err(check::impossible(fact, "Lift it on that day or later"));
    }
    draft.put_bar(Bar { lifted: Some(lifted.clone()), ..bar });
    Ok(())
}

/// Lifts the bar that followed from a find.
pub(super) fn lift_found(
    draft: &mut Draft,
    colony: ColonyId,
    record: RecordId,
    day: Day,
    why: &str,
    by: &str,
) -> Result<(), Refusal> {
    need_reason(why)?;
    check::day_at(&*draft.colony(colony)?, day, draft.today)?;
    draft.check_new_record(record)?;
    draft.add_record(Record {
        id: record,
        colony,
        day,
        by: by.to_owned(),
        words: String::new(),
        what: Happening::BarLifted { why: why.trim().to_owned() },
        together: None,
        struck: false,
        amended: Vec::new(),
    });
    Ok(())
}

fn need_reason(why: &str) -> Result<(), Refusal> {
    if why.trim().is_empty() {
        return Err(check::bad("A bar is lifted only with a reason", "Say why, and on whose word"));
    }
    Ok(())
}
