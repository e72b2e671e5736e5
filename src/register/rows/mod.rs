//! Rows of the current state and their images in the history: one mapping for both.
//!
//! Most things are a row with an id and a JSON body ([`body`]); the records of the hives, which are many, have columns
//! of their own ([`record`]). An image is the JSON of the same row.

pub(crate) mod codes;
pub(crate) mod record;

use rusqlite::{Connection, OptionalExtension as _, params};
use serde::Serialize;
use serde::de::DeserializeOwned;
use uuid::Uuid;

use crate::domain::fact::{Edit, Fact};
use crate::domain::record::Record;
use crate::register::rows::record::RecordRow;

/// The kinds of thing the register holds. Their names stand in the history and never change.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Thing {
    Firm,
    Settings,
    Yard,
    Source,
    Colony,
    Queen,
    Record,
    Parcel,
    Plan,
    Bar,
    Run,
}

/// All of them: table and name in the history are the same word.
pub(crate) const THINGS: [(Thing, &str); 11] = [
    (Thing::Firm, "firm"),
    (Thing::Settings, "settings"),
    (Thing::Yard, "yard"),
    (Thing::Source, "source"),
    (Thing::Colony, "colony"),
    (Thing::Queen, "queen"),
    (Thing::Record, "record"),
    (Thing::Parcel, "parcel"),
    (Thing::Plan, "plan"),
    (Thing::Bar, "bar"),
    (Thing::Run, "run"),
];

impl Thing {
    /// Its table, and its name in the history.
    pub(crate) fn name(self) -> &'static str {
        THINGS.iter().find(|(thing, _)| *thing == self).map_or("", |(_, name)| name)
    }

    /// The thing with that name.
    pub(crate) fn named(name: &str) -> Option<Self> {
        THINGS.iter().find(|(_, known)| *known == name).map(|(thing, _)| *thing)
    }
}

/// One row before and after, as the history keeps it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Image {
    pub(crate) thing: Thing,
    pub(crate) key: Uuid,
    pub(crate) before: Option<String>,
    pub(crate) after: Option<String>,
}

impl Image {
    /// The image that takes this one back.
    pub(crate) fn inverse(self) -> Self {
        Self { before: self.after, after: self.before, ..self }
    }
}

/// The image of a fact. Nothing if the fact names no thing.
pub(crate) fn image_of(fact: &Fact) -> Result<Option<Image>, serde_json::Error> {
    match fact {
        Fact::Firm(edit) => of_body(Thing::Firm, edit, |_| Uuid::nil()),
        Fact::Settings(edit) => of_body(Thing::Settings, edit, |_| Uuid::nil()),
        Fact::Yard(edit) => of_body(Thing::Yard, edit, |yard| yard.id.0),
        Fact::Source(edit) => of_body(Thing::Source, edit, |source| source.id.0),
        Fact::Colony(edit) => of_body(Thing::Colony, edit, |colony| colony.id.0),
        Fact::Queen(edit) => of_body(Thing::Queen, edit, |queen| queen.id.0),
        Fact::Record(edit) => {
            let row = |record: Option<&Record>| record.map(RecordRow::of).transpose();
            let edit = Edit { before: row(edit.before.as_ref())?, after: row(edit.after.as_ref())? };
            of_body(Thing::Record, &edit, |row| row.id)
        }
        Fact::Parcel(edit) => of_body(Thing::Parcel, edit, |parcel| parcel.id.0),
        Fact::Plan(edit) => of_body(Thing::Plan, edit, |plan| plan.id.0),
        Fact::Bar(edit) => of_body(Thing::Bar, edit, |bar| bar.id.0),
        Fact::Run(edit) => of_body(Thing::Run, edit, |run| run.id.0),
    }
}

fn of_body<T: Serialize>(
    thing: Thing,
    edit: &Edit<T>,
    key: impl Fn(&T) -> Uuid,
) -> Result<Option<Image>, serde_json::Error> {
    let Some(key) = edit.either().map(key) else { return Ok(None) };
    let text = |side: Option<&T>| side.map(serde_json::to_string).transpose();
    Ok(Some(Image { thing, key, before: text(edit.before.as_ref())?, after: text(edit.after.as_ref())? }))
}

/// The fact of an image; the error says what the image holds instead.
pub(crate) fn fact_of(image: &Image) -> Result<Fact, String> {
    Ok(match image.thing {
        Thing::Firm => Fact::Firm(from_body(image)?),
        Thing::Settings => Fact::Settings(from_body(image)?),
        Thing::Yard => Fact::Yard(from_body(image)?),
        Thing::Source => Fact::Source(from_body(image)?),
        Thing::Colony => Fact::Colony(from_body(image)?),
        Thing::Queen => Fact::Queen(from_body(image)?),
        Thing::Record => {
            let rows: Box<Edit<RecordRow>> = from_body(image)?;
            let record = |row: Option<RecordRow>| row.map(RecordRow::record).transpose();
            Fact::Record(Box::new(Edit { before: record(rows.before)?, after: record(rows.after)? }))
        }
        Thing::Parcel => Fact::Parcel(from_body(image)?),
        Thing::Plan => Fact::Plan(from_body(image)?),
        Thing::Bar => Fact::Bar(from_body(image)?),
        Thing::Run => Fact::Run(from_body(image)?),
    })
}

fn from_body<T: DeserializeOwned>(image: &Image) -> Result<Box<Edit<T>>, String> {
    let side = |text: Option<&str>| -> Result<Option<T>, String> {
        text.map(serde_json::from_str).transpose().map_err(|error| error.to_string())
    };
    Ok(Box::new(Edit { before: side(image.before.as_deref())?, after: side(image.after.as_deref())? }))
}

/// The row as it is in the file now.
pub(crate) fn read(conn: &Connection, thing: Thing, key: Uuid) -> rusqlite::Result<Option<String>> {
    if thing == Thing::Record {
        return record::read(conn, key);
    }
    let sql = format!("SELECT body FROM {} WHERE id = ?1", thing.name());
    conn.prepare_cached(&sql)?.query_row([key.as_bytes()], |row| row.get(0)).optional()
}

/// Writes what is after in place of what was before, and says whether the file held the row as it was to be.
pub(crate) fn write(conn: &Connection, image: &Image) -> rusqlite::Result<bool> {
    if image.thing == Thing::Record {
        return record::write(conn, image);
    }
    let (table, id) = (image.thing.name(), image.key.as_bytes());
    match (&image.before, &image.after) {
        (None, Some(after)) => {
            let sql = format!("INSERT INTO {table} (id, body) VALUES (?1, ?2) ON CONFLICT DO NOTHING");
            Ok(conn.prepare_cached(&sql)?.execute(params![id, after])? == 1)
        }
        (Some(before), Some(after)) => {
            let sql = format!("UPDATE {table} SET body = ?2 WHERE id = ?1 AND body = ?3");
            Ok(conn.prepare_cached(&sql)?.execute(params![id, after, before])? == 1)
        }
        (Some(before), None) => {
            let sql = format!("DELETE FROM {table} WHERE id = ?1 AND body = ?2");
            Ok(conn.prepare_cached(&sql)?.execute(params![id, before])? == 1)
        }
        (None, None) => Ok(true),
    }
}

#[cfg(test)]
mod tests {
    use super::{THINGS, Thing};

    #[test]
    fn the_names_in_the_history_stay_what_they_are() {
        let names: Vec<_> = THINGS.iter().map(|(_, name)| *name).collect();
        let pinned =
            ["firm", "settings", "yard", "source", "colony", "queen", "record", "parcel", "plan", "bar", "run"];
        assert_eq!(names, pinned);
        assert!(THINGS.iter().all(|(thing, name)| Thing::named(name) == Some(*thing) && thing.name() == *name));
        assert_eq!(Thing::named("hive"), None);
    }
}
