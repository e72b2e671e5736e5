//! Reads the world, and checks that what names something else names a thing that is there.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use rusqlite::{Connection, OptionalExtension as _, Params};
use serde::de::DeserializeOwned;
use uuid::Uuid;

use crate::domain::bar::BarOn;
use crate::domain::colony::{Colony, FirstQueen};
use crate::domain::ids::{BarId, ColonyId, ParcelId, PlanId, QueenId, RunId, SourceId, YardId};
use crate::domain::record::{Happening, Record};
use crate::domain::world::World;
use crate::register::error::{About as _, RegisterError};
use crate::register::rows::Thing;
use crate::register::rows::record::{RecordRow, select, uuid};

/// The world as the file holds it, read in one transaction. A second connection, where there is one, halves the time;
/// nobody may be writing then.
pub(crate) fn world(conn: &Connection, second: Option<Connection>, path: &Path) -> Result<World, RegisterError> {
    let reading = conn.unchecked_transaction().about(path)?;
    let loader = Loader { conn: &reading, path };
    // Half of the colonies' records are read by each.
    let middle = loader.middle()?;
    let read = std::thread::scope(|scope| {
        let second = second.and_then(|conn| {
            let half =
                move || Loader { conn: &conn, path }.records("WHERE colony >= ?1 ORDER BY colony, day, id", [middle]);
            std::thread::Builder::new().name("register load".to_owned()).spawn_scoped(scope, half).ok()
        });
        let Some(second) = second else {
            return Ok((loader.things()?, loader.records("ORDER BY colony, day, id", [])?));
        };
        let things = loader.things()?;
        let mut records = loader.records("WHERE colony < ?1 ORDER BY colony, day, id", [middle])?;
        match second.join() {
            Ok(half) => records.append(&mut half?),
            Err(fault) => std::panic::resume_unwind(fault),
        }
        Ok((things, records))
    });
    let (mut world, records) = read?;
    world.records = records;
    reading.finish().about(path)?;
    check(&world).map_err(|detail| RegisterError::damaged(path, detail))?;
    Ok(world)
}

type Records = BTreeMap<ColonyId, Arc<Vec<Record>>>;

struct Loader<'a> {
    conn: &'a Connection,
    path: &'a Path,
}

impl Loader<'_> {
    /// Everything but the records.
    fn things(&self) -> Result<World, RegisterError> {
        Ok(World {
            firm: self.single(Thing::Firm)?,
            settings: Arc::new(self.single(Thing::Settings)?),
            yards: self.all(Thing::Yard, YardId, Arc::new)?,
            sources: self.all(Thing::Source, SourceId, |it| it)?,
            colonies: self.all(Thing::Colony, ColonyId, Arc::new)?,
            queens: self.all(Thing::Queen, QueenId, Arc::new)?,
            records: BTreeMap::new(),
            parcels: self.all(Thing::Parcel, ParcelId, |it| it)?,
            plans: self.all(Thing::Plan, PlanId, Arc::new)?,
            bars: self.all(Thing::Bar, BarId, |it| it)?,
            runs: self.all(Thing::Run, RunId, |it| it)?,
        })
    }

    /// The id in the middle of the colonies.
    fn middle(&self) -> Result<[u8; 16], RegisterError> {
        let sql = "SELECT id FROM colony ORDER BY id LIMIT 1 OFFSET (SELECT count(*) FROM colony) / 2";
        let found = self.conn.query_row(sql, [], |row| row.get(0)).optional().about(self.path)?;
        Ok(found.unwrap_or_default())
    }

    fn single<T: DeserializeOwned>(&self, thing: Thing) -> Result<T, RegisterError> {
        let rows = self.all(thing, |id| id, |it| it)?;
        let mut rows: Vec<T> = rows.into_values().collect();
        rows.pop()
            .ok_or_else(|| RegisterError::damaged(self.path, format!("the row of the {} is missing", thing.name())))
    }

    fn all<K: Ord, T: DeserializeOwned, V>(
        &self,
        thing: Thing,
        key: impl Fn(Uuid) -> K,
        hold: impl Fn(T) -> V,
    ) -> Result<BTreeMap<K, V>, RegisterError> {
        let sql = format!("SELECT id, body FROM {} ORDER BY id", thing.name());
        let mut statement = self.conn.prepare(&sql).about(self.path)?;
        let mut rows = statement.query([]).about(self.path)?;
        let mut found = Vec::new();
        while let Some(row) = rows.next().about(self.path)? {
            let id = uuid(row, 0).about(self.path)?;
            let body = row.get_ref(1).and_then(|body| Ok(body.as_str()?)).about(self.path)?;
            let value = serde_json::from_str(body).map_err(|error| {
                RegisterError::damaged(self.path, format!("the {} {id} cannot be read ({error})", thing.name()))
            })?;
            found.push((key(id), hold(value)));
        }
        Ok(found.into_iter().collect())
    }

    /// The records come in the order of the table's key, which is the order in which the world holds them.
    fn records(&self, which: &str, params: impl Params) -> Result<Records, RegisterError> {
        let mut statement = self.conn.prepare(&select(which)).about(self.path)?;
        let mut rows = statement.query(params).about(self.path)?;
        let mut colonies = Vec::new();
        let mut held: Vec<Record> = Vec::new();
        while let Some(row) = rows.next().about(self.path)? {
            let row = RecordRow::read(row).about(self.path)?;
            let id = row.id;
            let record = row.record().map_err(|detail| {
                RegisterError::damaged(self.path, format!("the record {id} cannot be read ({detail})"))
            })?;
            if let Some(last) = held.last().filter(|last| last.colony != record.colony) {
                let colony = last.colony;
                colonies.push((colony, Arc::new(std::mem::take(&mut held))));
            }
            held.push(record);
        }
        if let Some(last) = held.last() {
            colonies.push((last.colony, Arc::new(held)));
        }
        Ok(colonies.into_iter().collect())
    }
}

/// Holds every reference against the things that are there. The error names the row at fault.
fn check(world: &World) -> Result<(), String> {
    for (id, colony) in &world.colonies {
        let name = || format!("colony {} ({id})", colony.name());
        if colony.names.is_empty() || colony.stands.is_empty() || colony.id != *id {
            return Err(format!("the row of {} lacks its name, its place or its id", name()));
        }
        let yard = colony.yard().filter(|_| colony.is_living());
        if let Some(yard) = yard.filter(|yard| !world.yards.contains_key(yard)) {
            return Err(format!("{} stands in the yard {yard}, which is not there", name()));
        }
        if let FirstQueen::Recorded(queen) = colony.began_with
            && !world.queens.contains_key(&queen)
        {
            return Err(format!("{} began with the queen {queen}, who is not there", name()));
        }
    }
    for (id, records) in &world.records {
        let Some(colony) = world.colonies.get(id) else {
            return Err(format!("records of the colony {id}, which is not there"));
        };
        records.iter().try_for_each(|record| check_record(world, colony, record))?;
    }
    for (id, plan) in &world.plans {
        if !world.colonies.contains_key(&plan.colony) {
            return Err(format!("the plan {id} is for the colony {}, which is not there", plan.colony));
        }
    }
    for (id, bar) in &world.bars {
        let there = match bar.on {
            BarOn::Colony(colony) => world.colonies.contains_key(&colony),
            // A yard may be removed once its colonies are gone; its bars then bar nothing.
            BarOn::Yard(_) => true,
        };
        if !there {
            return Err(format!("the bar {id} is on a colony that is not there"));
        }
    }
    Ok(())
}

fn check_record(world: &World, colony: &Colony, record: &Record) -> Result<(), String> {
    let lacks = |what: &str, id: Uuid| {
        let (day, name) = (record.day.long(), colony.name());
        Err(format!("the record of {day} at {name} ({}) names the {what} {id}, which is not there", record.id))
    };
    let (other, visit) = match &record.what {
        Happening::Visit(visit) => (visit.lids_swapped, Some(visit)),
        Happening::Received(colony) | Happening::SplitOff(colony) => (Some(*colony), None),
        Happening::Which(_) | Happening::BarLifted { .. } => (None, None),
    };
    let queen_to = visit.and_then(|visit| visit.did.queen_to);
    if let Some(colony) = other.into_iter().chain(queen_to).find(|colony| !world.colonies.contains_key(colony)) {
        return lacks("colony", colony.0);
    }
    let Some(given) = visit.and_then(|visit| visit.gave.as_ref()) else { return Ok(()) };
    if !world.queens.contains_key(&given.queen) {
        return lacks("queen", given.queen.0);
    }
    if let Some(parcel) = given.parcel.filter(|parcel| !world.parcels.contains_key(parcel)) {
        return lacks("parcel", parcel.0);
    }
    Ok(())
}
