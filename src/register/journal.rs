//! The history: what was decided, undo and redo. It only grows; what is undone stays readable.

use chrono::{DateTime, Utc};
use rusqlite::{Connection, OptionalExtension as _, Row, params};
use uuid::Uuid;

use crate::domain::change::Change;
use crate::domain::fact::Fact;
use crate::domain::ids::ColonyId;
use crate::register::commit::{Header, Misfit, unpack};
use crate::register::error::{About as _, RegisterError};
use crate::register::migrate;
use crate::register::rows::{self, Image, Thing};
use crate::register::{Applied, Register};

/// What kind of entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EntryKind {
    /// A change.
    Do,
    /// A change was taken back.
    Undo,
    /// A change was done again.
    Redo,
}

impl EntryKind {
    /// The word in the file. It never changes.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Do => "do",
            Self::Undo => "undo",
            Self::Redo => "redo",
        }
    }

    fn of_word(word: &str) -> Self {
        match word {
            "undo" => Self::Undo,
            "redo" => Self::Redo,
            _ => Self::Do,
        }
    }
}

/// An entry of the history.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Its number; newer ones are greater.
    pub id: i64,
    /// When: RFC 3339, UTC.
    pub at: String,
    /// What it is called; an undo or redo carries the title of its change.
    pub title: String,
    /// Change, undo or redo.
    pub kind: EntryKind,
    /// The change that was taken back or done again.
    pub of: Option<i64>,
    /// By whom (initials), where the change says it.
    pub by: String,
    /// For a change: it is taken back now.
    pub undone: bool,
    /// How many rows it altered.
    pub rows: u32,
}

/// Which part of the history: the newest entries first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Page {
    /// Only entries older than this one; nothing: from the newest.
    pub before: Option<i64>,
    /// At most so many.
    pub limit: u32,
}

/// A change that undo or redo would take next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// Its entry.
    pub entry: i64,
    /// What it is called.
    pub title: String,
}

const FIELDS: &str = "SELECT e.id, e.at, e.title, e.kind, e.of, e.by_whom, \
     e.kind = 'do' AND 'undo' IS (SELECT s.kind FROM entry s WHERE s.of = e.id ORDER BY s.id DESC LIMIT 1), \
     (SELECT count(*) FROM entry_row r WHERE r.entry = e.id) FROM entry e";

impl Register {
    /// Takes the newest change that still stands back.
    ///
    /// # Errors
    /// If there is none, if a row was altered since, or if the file cannot be written.
    pub fn undo(&mut self, at: DateTime<Utc>) -> Result<Applied, RegisterError> {
        let step = self.next_undo()?.ok_or(RegisterError::NothingTo("undo"))?;
        let mut images = self.images(step.entry)?;
        images.reverse();
        let images: Vec<_> = images.into_iter().map(Image::inverse).collect();
        self.again(EntryKind::Undo, &step, &images, at)
    }

    /// Does the change that was taken back last again.
    ///
    /// # Errors
    /// If there is none, if a row was altered since, or if the file cannot be written.
    pub fn redo(&mut self, at: DateTime<Utc>) -> Result<Applied, RegisterError> {
        let step = self.next_redo()?.ok_or(RegisterError::NothingTo("redo"))?;
        let images = self.images(step.entry)?;
        self.again(EntryKind::Redo, &step, &images, at)
    }

    fn again(
        &mut self,
        kind: EntryKind,
        step: &Step,
        images: &[Image],
        at: DateTime<Utc>,
    ) -> Result<Applied, RegisterError> {
        let facts = images.iter().map(rows::fact_of).collect::<Result<Vec<Fact>, _>>();
        let facts = facts.map_err(|detail| {
            RegisterError::damaged(&self.path, format!("entry {} of the history cannot be read ({detail})", step.entry))
        })?;
        let header = Header { kind, of: Some(step.entry), title: &step.title, by: "", change: None, at };
        self.write(&header, &facts, images, |_| Misfit::ChangedSince)
    }

    /// The change that undo would take back.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn next_undo(&self) -> Result<Option<Step>, RegisterError> {
        // The newest change that stands. One made when rows were written otherwise ends the line.
        let sql = "SELECT id, title, schema FROM entry e WHERE kind = 'do' AND 'undo' IS NOT \
             (SELECT s.kind FROM entry s WHERE s.of = e.id ORDER BY s.id DESC LIMIT 1) ORDER BY id DESC LIMIT 1";
        self.step(sql)
    }

    /// The change that redo would do again. A new change ends the line.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn next_redo(&self) -> Result<Option<Step>, RegisterError> {
        // Undo walks back, so the oldest change that was undone after the newest change is the one undone last.
        let sql = "SELECT e.id, e.title, e.schema FROM entry u JOIN entry e ON e.id = u.of \
             WHERE u.kind = 'undo' AND u.id > (SELECT id FROM entry WHERE kind = 'do' ORDER BY id DESC LIMIT 1) \
             AND u.id = (SELECT max(s.id) FROM entry s WHERE s.of = u.of) ORDER BY e.id LIMIT 1";
        self.step(sql)
    }

    fn step(&self, sql: &str) -> Result<Option<Step>, RegisterError> {
        let read = |row: &Row<'_>| Ok((Step { entry: row.get(0)?, title: row.get(1)? }, row.get::<_, i64>(2)?));
        let found = self.conn.prepare_cached(sql).and_then(|mut it| it.query_row([], read).optional());
        let found = found.about(&self.path)?;
        Ok(found.filter(|(_, schema)| *schema >= migrate::SAME_ROWS_SINCE).map(|(step, _)| step))
    }

    /// A part of the history, the newest entries first.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn entries(&self, page: Page) -> Result<Vec<Entry>, RegisterError> {
        let sql = format!("{FIELDS} WHERE e.id < ?1 ORDER BY e.id DESC LIMIT ?2");
        let before = page.before.unwrap_or(i64::MAX);
        self.read_entries(&sql, params![before, page.limit])
    }

    /// The entries that touched a colony, the newest first.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn entries_of(&self, colony: ColonyId, page: Page) -> Result<Vec<Entry>, RegisterError> {
        let sql = format!(
            "{FIELDS} JOIN entry_colony c ON c.entry = e.id WHERE c.colony = ?1 AND c.entry < ?2 \
             ORDER BY c.entry DESC LIMIT ?3"
        );
        let before = page.before.unwrap_or(i64::MAX);
        self.read_entries(&sql, params![colony.0.as_bytes(), before, page.limit])
    }

    fn read_entries(&self, sql: &str, params: impl rusqlite::Params) -> Result<Vec<Entry>, RegisterError> {
        let mut statement = self.conn.prepare_cached(sql).about(&self.path)?;
        let rows = statement.query_map(params, |row| {
            Ok(Entry {
                id: row.get(0)?,
                at: row.get(1)?,
                title: row.get(2)?,
                kind: EntryKind::of_word(row.get_ref(3)?.as_str()?),
                of: row.get(4)?,
                by: row.get(5)?,
                undone: row.get(6)?,
                rows: row.get(7)?,
            })
        });
        rows.and_then(Iterator::collect).about(&self.path)
    }

    /// How many entries the history has.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn count_entries(&self) -> Result<i64, RegisterError> {
        self.conn.query_row("SELECT count(*) FROM entry", [], |row| row.get(0)).about(&self.path)
    }

    /// The number of the newest entry; 0 where there is none.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn newest_entry(&self) -> Result<i64, RegisterError> {
        self.conn.query_row("SELECT coalesce(max(id), 0) FROM entry", [], |row| row.get(0)).about(&self.path)
    }

    /// Whether exactly this change was recorded after that entry, be it taken back since or not.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn has_recorded(&self, change: &Change, after: i64) -> Result<bool, RegisterError> {
        let sql = "SELECT change FROM entry WHERE id > ?1 AND kind = 'do' ORDER BY id";
        let mut statement = self.conn.prepare_cached(sql).about(&self.path)?;
        let mut rows = statement.query([after]).about(&self.path)?;
        while let Some(row) = rows.next().about(&self.path)? {
            let packed = row.get_ref(0).and_then(|it| Ok(it.as_blob()?)).about(&self.path)?;
            // One that a former Lidnote wrote otherwise is another.
            if unpack(packed).is_ok_and(|recorded| recorded == *change) {
                return Ok(true);
            }
        }
        Ok(false)
    }

    /// The rows of an entry, in the order they were written.
    fn images(&self, entry: i64) -> Result<Vec<Image>, RegisterError> {
        let mut found = Vec::new();
        each_image(&self.conn, "WHERE entry = ?1", [entry], |_, image| found.push(image)).about(&self.path)?;
        Ok(found)
    }
}

/// Reads images in the order they were written and hands on each with its entry.
pub(crate) fn each_image(
    conn: &Connection,
    which: &str,
    params: impl rusqlite::Params,
    mut take: impl FnMut(i64, Image),
) -> rusqlite::Result<()> {
    let sql = format!("SELECT entry, thing, key, before, after FROM entry_row {which} ORDER BY entry, seq");
    let mut statement = conn.prepare(&sql)?;
    let mut rows = statement.query(params)?;
    while let Some(row) = rows.next()? {
        let name = row.get_ref(1)?.as_str()?;
        let thing = Thing::named(name).ok_or_else(|| rusqlite::Error::InvalidColumnName(name.to_owned()))?;
        let key: Uuid = rows::record::uuid(row, 2)?;
        take(row.get(0)?, Image { thing, key, before: row.get(3)?, after: row.get(4)? });
    }
    Ok(())
}
