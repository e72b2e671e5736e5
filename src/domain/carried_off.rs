//! Said before it is done: which colonies a change would carry off that must stay where they are.

use crate::domain::change::Change;
use crate::domain::colony::EndWhy;
use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, YardId};
use crate::domain::standing::{ActiveBar, standing};
use crate::domain::world::World;

/// One sentence for each colony that a change would take out of its yard, sell or unite although disease is suspected of
/// it or its yard is under quarantine, with what to do instead. What was done is recorded all the same: a move may have
/// been ordered, and a register that refuses the truth gets lied to. Empty for every other change.
pub fn carried_off(world: &World, change: &Change, today: Day) -> Vec<String> {
    let yard_of = |colony: ColonyId| world.colonies.get(&colony).and_then(|colony| colony.yard());
    let leaves = |colony: ColonyId, to: Option<YardId>| yard_of(colony).is_some_and(|here| Some(here) != to);
    let going: Vec<ColonyId> = match change {
        Change::Move { to, .. } => {
            to.iter().filter(|(colony, yard, _)| leaves(*colony, Some(*yard))).map(|(colony, ..)| *colony).collect()
        }
        Change::SwapPlaces { one, other, .. } => {
            let pair = [(*one, *other), (*other, *one)];
            pair.into_iter()
                .filter(|(colony, other)| leaves(*colony, yard_of(*other)))
                .map(|(colony, _)| colony)
                .collect()
        }
        Change::Unite { from, into, .. } => vec![*from, *into],
        Change::End { colonies, end } if end.why == EndWhy::Sold => colonies.clone(),
        Change::Several { changes, .. } => {
            return changes.iter().flat_map(|change| carried_off(world, change, today)).collect();
        }
        _ => return Vec::new(),
    };
    going.into_iter().filter_map(|colony| sentence(world, colony, today)).collect()
}

fn sentence(world: &World, colony: ColonyId, today: Day) -> Option<String> {
    let held = standing(world, colony, today)?.bars.into_iter().find(ActiveBar::shuts_the_lid)?;
    let name = world.colonies.get(&colony).map_or("", |colony| colony.name());
    Some(if held.kind.is_disease() {
        format!("{name}: disease suspected. It is to stay where it is until the authority has seen it")
    } else {
        format!("{name}: under quarantine. It is to stay where it is unless the authority allows it")
    })
}
