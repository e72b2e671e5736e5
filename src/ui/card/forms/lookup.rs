//! Hives, yards and sources as they are typed in a form.

use std::sync::Arc;

use crate::domain::choose::by_short_name;
use crate::domain::colony::Colony;
use crate::domain::fold_text::fold;
use crate::domain::ids::{ColonyId, YardId};
use crate::domain::world::World;
use crate::domain::yard::Yard;
use crate::ui::card::forms::verdict::Trouble;

/// The other hive that is meant: one of the same yard before all others, by name, number or `yard/name`.
pub(crate) fn hive(world: &World, own: &Colony, typed: &str) -> Result<ColonyId, Trouble> {
    let typed = typed.trim();
    if typed.is_empty() {
        return Err(Trouble::missing("Name the other hive."));
    }
    let found = if let Some((in_yard, name)) = typed.split_once('/') {
        named(&world.in_yard(yard(world, in_yard)?), name)
    } else {
        let near = own.yard().map(|yard| named(&world.in_yard(yard), typed)).unwrap_or_default();
        if near.is_empty() { named(&world.living().collect::<Vec<_>>(), typed) } else { near }
    };
    match found.as_slice() {
        [one] if *one == own.id => Err(Trouble::new("That is this hive. Name the other one.")),
        [one] => Ok(*one),
        [] => Err(Trouble::new(format!("No hive is called {typed}. Give its name as painted, or yard/name."))),
        _ => Err(Trouble::new(format!("{typed} fits several hives. Give yard/name."))),
    }
}

fn named(among: &[&Arc<Colony>], typed: &str) -> Vec<ColonyId> {
    by_short_name(among.iter().map(|colony| (colony.id, colony.name())), typed)
}

/// The yard that is meant; see [`yard_named`].
pub(crate) fn yard(world: &World, typed: &str) -> Result<YardId, Trouble> {
    if typed.trim().is_empty() {
        return Err(Trouble::missing("Name the yard."));
    }
    yard_named(world, typed).map(|yard| yard.id).map_err(Trouble::new)
}

/// The yard that is meant: by its whole name, else by the only one that begins like that.
///
/// # Errors
/// That none or several fit, and what to type.
pub(crate) fn yard_named<'w>(world: &'w World, typed: &str) -> Result<&'w Yard, String> {
    let wanted = fold(typed);
    if wanted.is_empty() {
        return Err("No yard is named yet. Type where they go.".to_owned());
    }
    let fitting = |fits: &dyn Fn(&Yard) -> bool| -> Vec<&'w Yard> {
        world.yards.values().map(AsRef::as_ref).filter(|yard| fits(yard)).collect()
    };
    let mut found = fitting(&|yard| fold(&yard.name) == wanted);
    if found.is_empty() {
        found = fitting(&|yard| fold(&yard.name).starts_with(&wanted));
    }
    match found.as_slice() {
        [one] => Ok(*one),
        [] => Err(format!("No yard is called {}. Give its name.", typed.trim())),
        _ => Err(format!("{} fits several yards. Give the whole name.", typed.trim())),
    }
}
