//! Hives and yards by the names people type.

use crate::domain::colony::Colony;
use crate::domain::fold_text::fold;
use crate::domain::ids::{ColonyId, YardId};
use crate::domain::place::Place;
use crate::domain::run_order::Base;
use crate::domain::world::World;

/// The most hives that an answer names.
const MOST_NAMED: usize = 5;

/// A yard by its name, case and accents aside.
///
/// # Errors
/// In words: no yard has that name, and the nearest names.
pub fn yard(world: &World, name: &str) -> Result<YardId, String> {
    let sought = fold(name);
    let found = world.yards.values().find(|yard| fold(&yard.name) == sought);
    found.map(|yard| yard.id).ok_or_else(|| {
        let like: Vec<&str> =
            world.yards.values().map(|yard| yard.name.as_str()).filter(|name| fold(name).contains(&sought)).collect();
        match like.as_slice() {
            [] => format!("No yard is called {name}. `lidnote export --format csv` lists the yards"),
            some => {
                let more = if some.len() > MOST_NAMED { ", and others" } else { "" };
                let first = some.get(..MOST_NAMED).unwrap_or(some).join(", ");
                format!("No yard is called {name}. There is {first}{more}")
            }
        }
    })
}

/// A living hive by `HIVE` or `YARD/HIVE`; the number alone will do where it is clear.
///
/// # Errors
/// In words: none has that name, or several have it and in which yards.
pub fn hive(world: &World, text: &str) -> Result<ColonyId, String> {
    hive_of(world, text, true)
}

/// Like [`hive`], but an ended hive is found too where no living one has the name.
///
/// # Errors
/// As [`hive`].
pub fn hive_or_ended(world: &World, text: &str) -> Result<ColonyId, String> {
    hive_of(world, text, true).or_else(|said| hive_of(world, text, false).map_err(|_| said))
}

fn hive_of(world: &World, text: &str, living: bool) -> Result<ColonyId, String> {
    let whole = candidates(world, None, text, living);
    // The names of hives and yards may hold strokes: the whole text as a name goes first, then the first stroke before
    // which a yard's name stands.
    let parts = || text.match_indices('/').map(|(at, _)| (text[..at].trim(), text[at + 1..].trim()));
    let known = || parts().find(|(place, _)| yard(world, place).is_ok());
    let (place, found) = match known().or_else(|| text.rsplit_once('/')) {
        Some((place, name)) if whole.is_empty() => {
            let yard = yard(world, place.trim())?;
            (Some(place.trim()), candidates(world, Some(yard), name.trim(), living))
        }
        _ => (None, whole),
    };
    match found.as_slice() {
        [one] => Ok(one.id),
        [] => Err(match place {
            Some(place) => format!(
                "No hive of {place} is called {}",
                text.get(place.len()..).unwrap_or(text).trim_start_matches([' ', '/'])
            ),
            None => format!("No hive is called {text}. Write YARD/HIVE, with the names as on the boxes"),
        }),
        several => {
            let yard_of = |colony: &&Colony| colony.yard().and_then(|yard| world.yards.get(&yard));
            let places: Vec<String> = several
                .iter()
                .filter_map(|colony| Some(format!("{}/{}", yard_of(colony)?.name, colony.name())))
                .collect();
            let first = places.get(..MOST_NAMED).unwrap_or(&places).join(" or ");
            let more = if places.len() > MOST_NAMED { " or another of them" } else { "" };
            Err(format!("{text} is the name of {} hives. Write {first}{more}", several.len()))
        }
    }
}

fn candidates<'w>(world: &'w World, yard: Option<YardId>, name: &str, living: bool) -> Vec<&'w Colony> {
    let sought = fold(name);
    let there = |colony: &&Colony| colony.is_living() == living && (yard.is_none() || colony.yard() == yard);
    world.colonies.values().map(AsRef::as_ref).filter(there).filter(|colony| fold(colony.name()) == sought).collect()
}

/// Where a run begins: `LAT,LON`, a yard's name, or nothing for the firm's home.
///
/// # Errors
/// In words: a place that cannot be, a yard that is not there or has no place, no home known.
pub fn base(world: &World, text: Option<&str>) -> Result<Base, String> {
    let Some(text) = text else {
        let place =
            world.firm.home.ok_or("The home place is not known. Name one with --base=LAT,LON or a yard's name")?;
        let name = if world.firm.home_name.is_empty() { "Home".to_owned() } else { world.firm.home_name.clone() };
        return Ok(Base { name, place });
    };
    let numbers: Vec<Option<f64>> = text.split(',').map(|part| part.trim().parse().ok()).collect();
    if let [Some(lat), Some(lon)] = numbers.as_slice() {
        let place = Place::new(*lat, *lon);
        let place =
            place.ok_or_else(|| format!("{text} is not on the earth. Latitude -90 to 90, longitude -180 to 180"))?;
        return Ok(Base { name: "Base".to_owned(), place });
    }
    if numbers.iter().all(Option::is_some) {
        return Err(format!("{text} is no place. Write --base=LAT,LON with points, as --base=-40.05,160.3"));
    }
    let yard = yard(world, text)?;
    let row = world.yards.get(&yard).ok_or("The yard is not there")?;
    let place = row.place.ok_or_else(|| format!("The place of {} is not known. Give --base=LAT,LON", row.name))?;
    Ok(Base { name: row.name.clone(), place })
}
