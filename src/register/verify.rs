//! The check of a register: SQLite's own checks, and whether the history, replayed, gives what is known now.

use std::collections::BTreeMap;

use uuid::Uuid;

use crate::domain::settings::{Firm, Settings};
use crate::register::Register;
use crate::register::backup::faults;
use crate::register::commit::unpack;
use crate::register::error::{About as _, RegisterError};
use crate::register::journal::each_image;
use crate::register::migrate;
use crate::register::rows::{self, THINGS, Thing};

/// What a check found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Report {
    /// What was checked and found, a line each.
    pub lines: Vec<String>,
    /// Nothing is wrong.
    pub sound: bool,
}

/// At most so many faults are listed.
const LISTED: usize = 20;

impl Register {
    /// Checks pages, indexes and references, and folds the whole history: it must give the rows of the file, and the
    /// rows of the file must give the world that is held.
    ///
    /// # Errors
    /// If the file cannot be read at all.
    pub fn verify(&self) -> Result<Report, RegisterError> {
        let mut found = faults(&self.conn, &self.path)?;
        let entries = self.count_entries()?;
        let (folded, mut breaks) = self.fold().about(&self.path)?;
        let rows = folded.len();
        self.compare(folded, &mut breaks).about(&self.path)?;
        found.extend(breaks);
        found.extend(self.unreadable().about(&self.path)?);
        match crate::register::load::world(&self.conn, None, &self.path) {
            Ok(world) if world == *self.world => {}
            Ok(_) => found.push("what is shown differs from what the file holds".to_owned()),
            Err(error) => found.push(error.to_string()),
        }
        let sound = found.is_empty();
        let mut lines = vec![format!("{}: {entries} entries of history, {rows} rows", self.path.display())];
        if sound {
            lines.push("Pages, indexes and references are sound".to_owned());
            lines.push("The history, replayed, gives what the register holds".to_owned());
        }
        let more = found.len().saturating_sub(LISTED);
        lines.extend(found.into_iter().take(LISTED));
        if more > 0 {
            lines.push(format!("and {more} more"));
        }
        Ok(Report { lines, sound })
    }

    /// Decisions, as they are written now, that cannot be read again.
    fn unreadable(&self) -> rusqlite::Result<Vec<String>> {
        let mut statement = self.conn.prepare("SELECT id, change FROM entry WHERE kind = 'do' AND schema >= ?1")?;
        let mut rows = statement.query([migrate::SAME_ROWS_SINCE])?;
        let mut found = Vec::new();
        while let Some(row) = rows.next()? {
            if let Err(error) = unpack(row.get_ref(1)?.as_blob()?) {
                found.push(format!("entry {}: what was decided cannot be read ({error})", row.get::<_, i64>(0)?));
            }
        }
        Ok(found)
    }

    fn fold(&self) -> rusqlite::Result<(Rows, Vec<String>)> {
        let mut rows = Rows::new();
        let body = |text: serde_json::Result<String>| text.unwrap_or_default();
        rows.insert((Thing::Firm, Uuid::nil()), body(serde_json::to_string(&Firm::default())));
        rows.insert((Thing::Settings, Uuid::nil()), body(serde_json::to_string(&Settings::default())));
        let mut breaks = Vec::new();
        each_image(&self.conn, "", [], |entry, image| {
            let key = (image.thing, image.key);
            if rows.get(&key) != image.before.as_ref() {
                breaks.push(format!("entry {entry}: the {} {} was not as it says", image.thing.name(), image.key));
            }
            match image.after {
                Some(after) => rows.insert(key, after),
                None => rows.remove(&key),
            };
        })?;
        Ok((rows, breaks))
    }

    fn compare(&self, mut folded: Rows, breaks: &mut Vec<String>) -> rusqlite::Result<()> {
        for (thing, name) in THINGS {
            let mut statement = self.conn.prepare(&format!("SELECT id FROM {name}"))?;
            let mut ids = statement.query([])?;
            while let Some(row) = ids.next()? {
                let id = rows::record::uuid(row, 0)?;
                if rows::read(&self.conn, thing, id)? != folded.remove(&(thing, id)) {
                    breaks.push(format!("the {name} {id} is not what the history gives"));
                }
            }
        }
        breaks.extend(folded.keys().map(|(thing, id)| format!("the {} {id} is missing", thing.name())));
        Ok(())
    }
}

type Rows = BTreeMap<(Thing, Uuid), String>;
