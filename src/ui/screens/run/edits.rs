//! What the beekeeper does to a run: each is a new run order, so that it can be one change.

use crate::domain::fold_text::fold;
use crate::domain::ids::{RunId, YardId};
use crate::domain::place_words::read_place;
use crate::domain::run_order::{Base, RunOrder, RunStop};
use crate::domain::world::World;
use crate::planner::outlook::Outlook;
use crate::planner::run::plan::{in_quarantine, yards_calling};

/// A stop moves to another position; what stands between moves up or down. Nothing where it stays where it is.
pub fn moved(run: &RunOrder, from: usize, to: usize) -> Option<RunOrder> {
    let to = to.min(run.stops.len().checked_sub(1)?);
    if from == to || from >= run.stops.len() {
        return None;
    }
    let mut next = run.clone();
    let stop = next.stops.remove(from);
    next.stops.insert(to, stop);
    Some(next)
}

/// A stop keeps its position when the order is proposed again, or no longer.
pub fn lock_flipped(run: &RunOrder, yard: YardId) -> RunOrder {
    let mut next = run.clone();
    for stop in next.stops.iter_mut().filter(|stop| stop.yard == yard) {
        stop.locked = !stop.locked;
    }
    next
}

/// A yard is left out of the run on purpose.
pub fn left_out(run: &RunOrder, yard: YardId) -> RunOrder {
    let mut next = run.clone();
    next.stops.retain(|stop| stop.yard != yard);
    if !next.left_out.contains(&yard) {
        next.left_out.push(yard);
    }
    next
}

/// A yard comes last on the run.
pub fn added(run: &RunOrder, yard: YardId) -> RunOrder {
    let mut next = run.clone();
    next.left_out.retain(|it| *it != yard);
    if next.stops.iter().all(|stop| stop.yard != yard) {
        next.stops.push(RunStop { yard, locked: false });
    }
    next
}

/// A run as it is first laid out: every yard whose work calls that day and that is on no other run of the day. Yards
/// under quarantine stay out until they are added by hand. Nothing without a base to start from.
pub fn first_layout(world: &World, outlook: &Outlook, day: crate::domain::day::Day, id: RunId) -> Option<RunOrder> {
    let base = usual_base(world)?;
    let taken = |yard: &YardId| {
        let mut others = world.runs.values().filter(|run| run.day == day && run.id != id);
        others.any(|run| run.stops.iter().any(|stop| stop.yard == *yard))
    };
    let placed = |yard: &YardId| world.yards.get(yard).is_some_and(|yard| yard.place.is_some());
    let stops = yards_calling(outlook, day)
        .into_iter()
        .filter(|yard| placed(yard) && !taken(yard) && !in_quarantine(world, *yard, day))
        .map(|yard| RunStop { yard, locked: false })
        .collect();
    let leave = u16::try_from(world.settings.leave_minute()).unwrap_or(450);
    Some(RunOrder { id, day, vehicle: String::new(), base, leave, stops, left_out: Vec::new() })
}

/// Where runs begin: the home of the firm, else the first yard that has a place.
pub fn usual_base(world: &World) -> Option<Base> {
    let home = world.firm.home.map(|place| Base { name: home_name(world), place });
    let first_yard = || {
        let mut placed = world.yards.values().filter_map(|yard| Some((yard.name.clone(), yard.place?)));
        placed.next().map(|(name, place)| Base { name, place })
    };
    home.or_else(first_yard)
}

fn home_name(world: &World) -> String {
    if world.firm.home_name.is_empty() { "Home".to_owned() } else { world.firm.home_name.clone() }
}

/// Reads a base: home, a yard's name or its beginning, or `-40.01, 160.2`.
///
/// # Errors
/// The fact and the way out, where it is none of these.
pub fn read_base(world: &World, typed: &str) -> Result<Base, String> {
    let wanted = fold(typed);
    if let Some(place) = world.firm.home
        && (wanted == "home" || wanted == fold(&home_name(world)))
    {
        return Ok(Base { name: home_name(world), place });
    }
    // What begins with a yard's name is a yard, whatever figures follow.
    if typed.contains(|sign: char| sign.is_ascii_digit()) && yards_named(world, typed).is_empty() {
        match read_place(typed) {
            Ok(place) => return Ok(Base { name: typed.trim().to_owned(), place }),
            Err(why) if typed.contains(',') => return Err(why),
            Err(_) => {}
        }
    }
    let yards: Vec<_> = yards_named(world, typed);
    match yards.as_slice() {
        [] => Err(format!("No yard is called {}. Type home, a yard, or latitude, longitude.", typed.trim())),
        [yard, ..] => {
            let Some(yard) = world.yards.get(yard) else { return Err("That yard is gone. Type another.".to_owned()) };
            let Some(place) = yard.place else {
                return Err(format!("{} has no place yet. Put it on the map first.", yard.name));
            };
            Ok(Base { name: yard.name.clone(), place })
        }
    }
}

/// Yards whose name is, begins with, or holds what is typed, in this order, then by name.
pub fn yards_named(world: &World, typed: &str) -> Vec<YardId> {
    let wanted = fold(typed);
    if wanted.is_empty() {
        return Vec::new();
    }
    let mut found: Vec<_> = world
        .yards
        .values()
        .filter_map(|yard| {
            let name = fold(&yard.name);
            let rank = if name == wanted {
                0
            } else if name.starts_with(&wanted) {
                1
            } else if name.contains(&wanted) {
                2
            } else {
                return None;
            };
            Some((rank, name, yard.id))
        })
        .collect();
    found.sort();
    found.into_iter().map(|(_, _, yard)| yard).collect()
}

/// Reads `7:30`, `07.30`, `730` or `7` as minutes after midnight.
///
/// # Errors
/// The fact and the way out.
pub fn read_time(typed: &str) -> Result<u16, String> {
    let bad = || format!("{} is no time of day. Type it as 7:30.", typed.trim());
    let text = typed.trim();
    let (hours, minutes) = match text.split_once([':', '.']) {
        Some((hours, minutes)) => (hours, minutes),
        None if text.len() > 2 && text.is_char_boundary(text.len() - 2) => text.split_at(text.len() - 2),
        None => (text, "0"),
    };
    let (hours, minutes): (u16, u16) = (hours.parse().map_err(|_| bad())?, minutes.parse().map_err(|_| bad())?);
    if hours < 24 && minutes < 60 { Ok(hours * 60 + minutes) } else { Err(bad()) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::day::Day;
    use crate::domain::place::Place;

    fn yard(number: u128) -> YardId {
        YardId::from_number(number)
    }

    fn run() -> RunOrder {
        let place = Place::new(-40.0, 160.0).expect("a place");
        let stops = (1..=4).map(|number| RunStop { yard: yard(number), locked: false }).collect();
        RunOrder {
            id: RunId::from_number(1),
            day: Day::new(2026, 11, 24).expect("a day"),
            vehicle: String::new(),
            base: Base { name: "Shed".to_owned(), place },
            leave: 450,
            stops,
            left_out: Vec::new(),
        }
    }

    fn order(run: &RunOrder) -> Vec<YardId> {
        run.stops.iter().map(|stop| stop.yard).collect()
    }

    #[test]
    fn a_stop_moves_and_the_others_close_up() {
        let up = moved(&run(), 3, 1).expect("moves");
        assert_eq!(order(&up), [yard(1), yard(4), yard(2), yard(3)]);
        let end = moved(&run(), 0, 99).expect("moves");
        assert_eq!(order(&end), [yard(2), yard(3), yard(4), yard(1)]);
        assert_eq!(moved(&run(), 2, 2), None);
    }

    #[test]
    fn a_yard_left_out_can_be_put_back() {
        let out = left_out(&run(), yard(2));
        assert_eq!(order(&out), [yard(1), yard(3), yard(4)]);
        assert_eq!(out.left_out, [yard(2)]);
        let back = added(&out, yard(2));
        assert_eq!(order(&back), [yard(1), yard(3), yard(4), yard(2)]);
        assert!(back.left_out.is_empty());
        assert_eq!(added(&back, yard(2)), back);
    }

    #[test]
    fn times_are_read_as_people_type_them() {
        let read = ["7:30", "07.30", "730", "7", " 23:59 "].map(|typed| read_time(typed).ok());
        assert_eq!(read, [Some(450), Some(450), Some(450), Some(420), Some(1439)]);
        for typed in ["", "24:00", "7:60", "half", "-1", "7é30"] {
            assert!(read_time(typed).is_err(), "{typed}");
        }
    }

    #[test]
    fn a_base_is_home_a_yard_or_a_place() {
        let mut world = World::default();
        world.firm.home = Place::new(-40.0, 160.0);
        world.firm.home_name = "Port Sallow shed".to_owned();
        let mut heath = crate::domain::yard::Yard::named(yard(1), "Heath yard");
        heath.place = Place::new(-40.1, 160.1);
        world.yards.insert(yard(1), std::sync::Arc::new(heath));
        let named = |typed: &str| read_base(&world, typed).map(|base| base.name);
        assert_eq!(named("home").as_deref(), Ok("Port Sallow shed"));
        assert_eq!(named("heath").as_deref(), Ok("Heath yard"));
        assert_eq!(named("-40.2, 160.3").as_deref(), Ok("-40.2, 160.3"));
        assert!(named("95, 160").is_err());
        assert!(named("nowhere").is_err());
    }
}
