//! Settings, yards, sources and queens: what the register holds beside the hives.

use crate::domain::decide::check;
use crate::domain::decide::draft::Draft;
use crate::domain::fold_text::fold;
use crate::domain::ids::YardId;
use crate::domain::queen::{Queen, Source};
use crate::domain::refusal::{Refusal, RefusalKind};
use crate::domain::settings::{SettingError, Settings, spec};
use crate::domain::yard::Yard;

/// Minutes of a day.
const DAY_MINUTES: u16 = 1440;

/// Sets one number of the rules.
pub(super) fn set_setting(draft: &mut Draft, name: &str, value: f64) -> Result<(), Refusal> {
    let settings = draft.world.settings.with(name, value).map_err(|error| match error {
        SettingError::Unknown(name) => {
            check::missing(format!("No setting is called {name}"), "Take one of those that Setup lists")
        }
        SettingError::OutOfRange { name, value, least, most, whole, unit } => check::bad(
            format!("{} cannot be {value}", words(name)),
            format!("Give a {}number from {least} to {most} ({unit})", if whole { "whole " } else { "" }),
        ),
    })?;
    check_window_order(&settings, name)?;
    draft.put_settings(settings);
    Ok(())
}

/// What a setting is called in the window: `“Caged queen: best acceptance look”`.
fn words(name: &str) -> String {
    format!("“{}”", spec(name).map_or(name, |spec| spec.about))
}

/// The earliest, best and latest day of a window must stay in this order.
fn check_window_order(settings: &Settings, name: &str) -> Result<(), Refusal> {
    let ends = ["_earliest", "_best", "_latest"];
    let Some(stem) = ends.iter().find_map(|end| name.strip_suffix(end)) else {
        return Ok(());
    };
    let names = ends.map(|end| format!("{stem}{end}"));
    let held: Vec<(&String, f64)> = names.iter().filter_map(|name| Some((name, settings.get(name)?))).collect();
    for pair in held.windows(2) {
        if let [(earlier, first), (later, second)] = pair
            && first > second
        {
            let other = if earlier.as_str() == name { later } else { earlier };
            let fact = format!("{} would be {first}, after {} at {second}", words(earlier), words(later));
            return Err(check::bad(fact, format!("Set {} first", words(other))));
        }
    }
    Ok(())
}

/// Adds or replaces a yard.
pub(super) fn put_yard(draft: &mut Draft, yard: &Yard) -> Result<(), Refusal> {
    let name = check::name(&yard.name, "yard")?;
    let folded = fold(&name);
    if let Some(other) = draft.world.yards.values().find(|it| it.id != yard.id && fold(&it.name) == folded) {
        let fact = format!("A yard is called {} already", other.name);
        return Err(Refusal::new(RefusalKind::NameTaken, fact, "Give this one another name"));
    }
    if let Some(gate) = yard.gate
        && (gate.opens >= gate.closes || gate.closes > DAY_MINUTES)
    {
        let fact = format!("The gate of {name} would close before it opens, or after midnight");
        return Err(check::bad(fact, "Give hours from 0:00 to 24:00, the opening first"));
    }
    draft.put_yard(Yard { name, ..yard.clone() });
    Ok(())
}

/// Removes a yard in which no living colony stands, from the runs too.
pub(super) fn remove_yard(draft: &mut Draft, id: YardId) -> Result<(), Refusal> {
    let yard = draft.yard(id)?;
    let held = draft.world.living().filter(|colony| colony.yard() == Some(id)).count();
    if held > 0 {
        let hives = if held == 1 { "1 hive".to_owned() } else { format!("{held} hives") };
        let fact = format!("{} still holds {hives}", yard.name);
        return Err(Refusal::new(RefusalKind::InUse, fact, "Move or end them first"));
    }
    let runs: Vec<_> = draft.world.runs.values().cloned().collect();
    for mut run in runs {
        run.stops.retain(|stop| stop.yard != id);
        run.left_out.retain(|left| *left != id);
        draft.put_run(run);
    }
    draft.remove_yard(Yard::clone(&yard));
    Ok(())
}

/// Adds or replaces a source of queens.
pub(super) fn put_source(draft: &mut Draft, source: &Source) -> Result<(), Refusal> {
    let name = check::name(&source.name, "source")?;
    let folded = fold(&name);
    if let Some(other) = draft.world.sources.values().find(|it| it.id != source.id && fold(&it.name) == folded) {
        let fact = format!("A source is called {} already", other.name);
        return Err(Refusal::new(RefusalKind::NameTaken, fact, "Take that one, or give this one another name"));
    }
    draft.put_source(Source { name, ..source.clone() });
    Ok(())
}

/// Corrects a queen's details.
pub(super) fn put_queen(draft: &mut Draft, queen: &Queen) -> Result<(), Refusal> {
    if !draft.world.queens.contains_key(&queen.id) {
        return Err(check::missing("That queen is not in the register", "Record the hive's queen first"));
    }
    check::birth(queen.birth)?;
    check::source(draft, queen.source)?;
    draft.put_queen(queen.clone());
    Ok(())
}
