//! One change, one transaction: decide, write rows and history, commit, advance the world by the same facts.

use std::collections::BTreeSet;
use std::sync::Arc;

use chrono::{DateTime, Utc};
use rusqlite::{Connection, TransactionBehavior, params};

use crate::domain::bar::BarOn;
use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::decide::{decide, title};
use crate::domain::fact::{Edit, Fact};
use crate::domain::ids::ColonyId;
use crate::domain::world::World;
use crate::register::error::{About as _, RegisterError};
use crate::register::journal::EntryKind;
use crate::register::migrate;
use crate::register::rows::{self, Image};
use crate::register::{Applied, Register, stamp};

/// What stands in the history beside the rows.
pub(crate) struct Header<'a> {
    pub(crate) kind: EntryKind,
    pub(crate) of: Option<i64>,
    pub(crate) title: &'a str,
    pub(crate) by: &'a str,
    pub(crate) change: Option<Vec<u8>>,
    pub(crate) at: DateTime<Utc>,
}

impl Register {
    /// Decides a change on a day and writes what follows from it. Nothing, if it alters nothing.
    ///
    /// # Errors
    /// If the domain refuses it, or the file cannot be written; the file and the world are then as before.
    pub fn apply(&mut self, change: &Change, today: Day, at: DateTime<Utc>) -> Result<Option<Applied>, RegisterError> {
        let facts = decide(&self.world, change, today).map_err(RegisterError::Refused)?;
        let title = title(&self.world, change);
        self.commit(change, &title, facts, at)
    }

    /// Writes facts that were decided already, under that title.
    ///
    /// # Errors
    /// If the facts do not fit the rows, or the file cannot be written; the file and the world are then as before.
    pub fn commit(
        &mut self,
        change: &Change,
        title: &str,
        facts: Vec<Fact>,
        at: DateTime<Utc>,
    ) -> Result<Option<Applied>, RegisterError> {
        let facts: Vec<_> = facts.into_iter().map(whole).filter(Fact::alters).collect();
        if facts.is_empty() {
            return Ok(None);
        }
        let packed = pack(change).about(&self.path)?;
        let by = by_whom(change);
        let header = Header { kind: EntryKind::Do, of: None, title, by, change: Some(packed), at };
        let images = facts.iter().filter_map(|fact| rows::image_of(fact).transpose()).collect::<Result<Vec<_>, _>>();
        let images = images.map_err(|error| self.does_not_fit(&error.to_string()))?;
        self.write(&header, &facts, &images, misfit_of_new).map(Some)
    }

    /// Writes images and their facts as one entry. `misfit` says what is told when a row is not as it was to be.
    pub(crate) fn write(
        &mut self,
        header: &Header<'_>,
        facts: &[Fact],
        images: &[Image],
        misfit: impl Fn(&Image) -> Misfit,
    ) -> Result<Applied, RegisterError> {
        self.still_there()?;
        let mut next = World::clone(&self.world);
        next.advance_all(facts);
        let colonies = colonies_of(facts);
        let path = self.path.clone();
        let writing = self.conn.transaction_with_behavior(TransactionBehavior::Immediate).about(&path)?;
        let entry = write_header(&writing, header).about(&path)?;
        for (seq, image) in images.iter().enumerate() {
            if !rows::write(&writing, image).about(&path)? {
                return Err(match misfit(image) {
                    Misfit::ChangedSince => RegisterError::ChangedSince {
                        title: header.title.to_owned(),
                        what: format!("A {}", image.thing.name()),
                    },
                    Misfit::DoesNotFit(detail) => RegisterError::DoesNotFit { file: path, detail },
                });
            }
            write_image(&writing, entry, seq, image).about(&path)?;
        }
        for colony in &colonies {
            let sql = "INSERT INTO entry_colony (colony, entry) VALUES (?1, ?2)";
            writing
                .prepare_cached(sql)
                .and_then(|mut it| it.execute(params![colony.0.as_bytes(), entry]))
                .about(&path)?;
        }
        writing.commit().about(&path)?;
        self.world = Arc::new(next);
        let title = header.title.to_owned();
        Ok(Applied { entry, title, world: self.world(), colonies: colonies.into_iter().collect(), rows: images.len() })
    }

    fn does_not_fit(&self, detail: &str) -> RegisterError {
        RegisterError::DoesNotFit { file: self.path.clone(), detail: detail.to_owned() }
    }
}

/// What is said when a row is not as the facts want it.
pub(crate) enum Misfit {
    /// An undo or redo meets a row that was altered since.
    ChangedSince,
    /// New facts do not fit.
    DoesNotFit(String),
}

fn misfit_of_new(image: &Image) -> Misfit {
    let how = if image.before.is_some() { "is not as the change expects it" } else { "is there already" };
    Misfit::DoesNotFit(format!("the {} {} {how}", image.thing.name(), image.key))
}

fn write_header(conn: &Connection, header: &Header<'_>) -> rusqlite::Result<i64> {
    let Header { kind, of, title, by, change, at } = header;
    let sql = "INSERT INTO entry (at, title, kind, of, by_whom, schema, change) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)";
    let schema = migrate::newest(migrate::STEPS);
    conn.prepare_cached(sql)?.insert(params![stamp(*at), title, kind.word(), of, by, schema, change])
}

fn write_image(conn: &Connection, entry: i64, seq: usize, image: &Image) -> rusqlite::Result<usize> {
    let sql = "INSERT INTO entry_row (entry, seq, thing, key, before, after) VALUES (?1, ?2, ?3, ?4, ?5, ?6)";
    let Image { thing, key, before, after } = image;
    conn.prepare_cached(sql)?.execute(params![entry, seq as i64, thing.name(), key.as_bytes(), before, after])
}

/// The firm and the settings are always there, if only with their defaults.
fn whole(fact: Fact) -> Fact {
    fn both<T: Default>(edit: Edit<T>) -> Edit<T> {
        Edit::alter(edit.before.unwrap_or_default(), edit.after.unwrap_or_default())
    }
    match fact {
        Fact::Firm(edit) => Fact::Firm(Box::new(both(*edit))),
        Fact::Settings(edit) => Fact::Settings(Box::new(both(*edit))),
        other => other,
    }
}

/// Colonies whose card shows the entry.
fn colonies_of(facts: &[Fact]) -> BTreeSet<ColonyId> {
    let mut found = BTreeSet::new();
    for fact in facts {
        match fact {
            Fact::Colony(edit) => found.extend(edit.either().map(|colony| colony.id)),
            Fact::Record(edit) => found.extend(edit.before.iter().chain(&edit.after).map(|record| record.colony)),
            Fact::Plan(edit) => found.extend(edit.before.iter().chain(&edit.after).map(|plan| plan.colony)),
            Fact::Bar(edit) => found.extend(edit.before.iter().chain(&edit.after).filter_map(|bar| match bar.on {
                BarOn::Colony(colony) => Some(colony),
                BarOn::Yard(_) => None,
            })),
            Fact::Firm(_)
            | Fact::Settings(_)
            | Fact::Yard(_)
            | Fact::Source(_)
            | Fact::Queen(_)
            | Fact::Parcel(_)
            | Fact::Run(_) => {}
        }
    }
    found
}

/// Who decided it, by the initials the change carries.
fn by_whom(change: &Change) -> &str {
    match change {
        Change::Visits { visits, .. } => visits.first().map_or("", |visit| &visit.by),
        Change::Amend(amendment) => &amendment.by,
        Change::End { end, .. } => &end.by,
        Change::Split { by, .. }
        | Change::Unite { by, .. }
        | Change::Answer { by, .. }
        | Change::LiftFoundBar { by, .. } => by,
        Change::PutBar(bar) => &bar.by,
        Change::LiftBar { lifted, .. } => &lifted.by,
        Change::Several { changes, .. } => changes.iter().map(by_whom).find(|by| !by.is_empty()).unwrap_or(""),
        _ => "",
    }
}

/// The decision as the history keeps it: JSON, made small, because an evening repeats itself sixty times.
fn pack(change: &Change) -> std::io::Result<Vec<u8>> {
    let packer = flate2::write::ZlibEncoder::new(Vec::new(), flate2::Compression::fast());
    // JSON comes in bits of a few bytes, and the packer clears its room anew for each bit it is given.
    let mut packer = std::io::BufWriter::new(packer);
    serde_json::to_writer(&mut packer, change)?;
    packer.into_inner()?.finish()
}

/// A decision as the history keeps it, read again.
pub(crate) fn unpack(packed: &[u8]) -> Result<Change, serde_json::Error> {
    serde_json::from_reader(std::io::BufReader::new(flate2::read::ZlibDecoder::new(packed)))
}
