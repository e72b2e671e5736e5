//! `lidnote move`: moves hives to another yard.

use crate::app::cli::command::{Command, Common, Job, What};
use crate::app::cli::find;
use crate::app::cli::options::Options;
use crate::app::cli::output::Output;
use crate::app::cli::session::Session;
use crate::domain::change::Change;
use crate::domain::ids::{ColonyId, YardId};
use crate::domain::world::World;
use crate::domain::yard::Spot;

/// The command.
pub const MOVE: Command = Command {
    name: "move",
    help: "  lidnote move HIVE --to YARD    (--row N --place N)\n",
    values: &["to", "row", "place", "hive", "yard"],
    flags: &[],
    read: |options| Move::read(options).map(What::job),
};

struct Move {
    /// `HIVE` or `YARD/HIVE`, one or several.
    hives: Vec<String>,
    to: String,
    row: Option<u16>,
    place: Option<u16>,
}

impl Move {
    fn read(options: &mut Options) -> Result<Self, String> {
        Ok(Self {
            hives: options.hives("move takes hives: lidnote move B14 --to \"Heath yard\"")?,
            to: options.needed("to", "move takes --to YARD")?,
            row: options.number("row")?,
            place: options.number("place")?,
        })
    }
}

impl Job for Move {
    fn answer(&self, common: &Common) -> Result<Output, String> {
        let mut session = Session::open(common)?;
        let world = session.world();
        let yard = find::yard(&world, &self.to)?;
        let spot = match (self.row, self.place) {
            (Some(row), Some(place)) => Some(Spot { row, place }),
            (None, None) => None,
            _ => return Err("A place has a row and a place in it: give --row N and --place N".to_owned()),
        };
        let colonies = self.hives.iter().map(|hive| find::hive(&world, hive)).collect::<Result<Vec<_>, _>>()?;
        if let Some(spot) = spot {
            free_for(&world, yard, spot, &colonies)?;
        }
        let there = |colony: &ColonyId| {
            let held = world.colonies.get(colony).filter(|held| held.yard() == Some(yard));
            // A hive that stays in its yard keeps its place where no other is named.
            spot.or_else(|| held.and_then(|held| held.spot()))
        };
        let to = colonies.iter().map(|colony| (*colony, yard, there(colony))).collect();
        let day = session.today;
        Ok(session.apply(&Change::Move { to, day })?.said())
    }
}

/// One place takes one hive, and only if no other stands there.
fn free_for(world: &World, yard: YardId, spot: Spot, colonies: &[ColonyId]) -> Result<(), String> {
    let [colony] = colonies else {
        return Err(format!("One place takes one hive, not {}. Move them one by one", colonies.len()));
    };
    let stands = world.in_yard(yard).into_iter().find(|it| it.id != *colony && it.spot() == Some(spot));
    stands.map_or(Ok(()), |it| {
        let name = it.name();
        Err(format!(
            "{name} stands in row {}, place {}. Move {name} first, or give another place",
            spot.row, spot.place
        ))
    })
}
