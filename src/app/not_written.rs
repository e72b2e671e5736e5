//! Changes that could not be written, kept on the disk beside the preferences: one file each, so that two windows never
//! write the same one, and letting go of one needs no room.

use std::fs;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};
use uuid::Uuid;

use crate::app::{files, spare};
use crate::domain::change::Change;

/// A change as it is kept.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct NotWritten {
    /// The register it was made for.
    pub register: PathBuf,
    /// The register's newest entry when it was made: an equal change in a later one is this change.
    pub after: i64,
    /// What it is called.
    pub title: String,
    /// When it was kept, by this computer's clock.
    pub at: String,
    /// The change.
    pub change: Change,
}

/// What is kept for a register, in the order in which it was made.
#[derive(Debug, Default)]
pub(crate) struct Found {
    /// Each with its name.
    pub kept: Vec<(Uuid, NotWritten)>,
    /// A file that cannot be read; it stays where it is.
    pub unread: Option<PathBuf>,
}

/// The folder of what could not be written.
pub(crate) struct Shelf {
    folder: PathBuf,
    spare: PathBuf,
}

impl Shelf {
    /// Beside the preferences.
    pub fn beside(prefs: &Path) -> Self {
        Self { folder: prefs.with_file_name("not-recorded"), spare: spare::beside(prefs) }
    }

    /// Keeps a change under a name that grows with time.
    ///
    /// # Errors
    /// In words, if it cannot be written here either.
    pub fn put(&self, name: Uuid, kept: &NotWritten) -> Result<(), String> {
        let bytes = serde_json::to_vec(kept).map_err(|error| error.to_string())?;
        spare::write(&self.path(name), &bytes, &self.spare)
    }

    /// Lets go of one. What cannot be removed is known again by the register's history.
    pub fn remove(&self, name: Uuid) {
        let _ = fs::remove_file(self.path(name));
    }

    /// What is kept for a register. One whose own file has gone from its place is taken to have come here with its name.
    pub fn of(&self, register: &Path) -> Found {
        let mut found = Found::default();
        let Ok(list) = fs::read_dir(&self.folder) else { return found };
        let mut paths: Vec<PathBuf> = list.filter_map(|entry| Some(entry.ok()?.path())).collect();
        paths.sort();
        for path in paths.into_iter().filter(|path| path.extension().is_some_and(|it| it == "json")) {
            let name = path.file_stem().and_then(|stem| Uuid::parse_str(stem.to_str()?).ok());
            let kept = files::read(&path).ok().and_then(|bytes| serde_json::from_slice::<NotWritten>(&bytes).ok());
            match (name, kept) {
                (Some(name), Some(kept)) if is_of(&kept.register, register) => found.kept.push((name, kept)),
                (Some(_), Some(_)) => {}
                _ => found.unread = Some(path),
            }
        }
        found
    }

    fn path(&self, name: Uuid) -> PathBuf {
        self.folder.join(format!("{name}.json"))
    }
}

fn is_of(made_for: &Path, register: &Path) -> bool {
    made_for == register || (made_for.file_name() == register.file_name() && !made_for.exists())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::ids::YardId;
    use crate::domain::yard::Yard;

    fn kept(register: &Path, name: &str) -> NotWritten {
        let yard = Yard::named(YardId::from_number(1), name);
        NotWritten {
            register: register.to_owned(),
            after: 3,
            title: format!("{name} added"),
            at: "24 Nov 2026 19:12".to_owned(),
            change: Change::PutYard(Box::new(yard)),
        }
    }

    #[test]
    fn each_register_gets_its_own_in_the_order_they_were_made() {
        let folder = tempfile::tempdir().expect("a folder");
        let shelf = Shelf::beside(&folder.path().join("preferences.json"));
        let (bees, other) = (folder.path().join("bees.lidnote"), folder.path().join("other.lidnote"));
        fs::write(&bees, b"").expect("written");
        fs::write(&other, b"").expect("written");
        let names: Vec<Uuid> = (1..4).map(Uuid::from_u128).collect();
        let all = [kept(&bees, "Heath"), kept(&other, "Fen"), kept(&bees, "Moor")];
        for (name, kept) in names.iter().zip(&all).rev() {
            shelf.put(*name, kept).expect("kept");
        }
        let found = shelf.of(&bees);
        assert_eq!(found.kept, [(names[0], all[0].clone()), (names[2], all[2].clone())]);
        assert_eq!(found.unread, None);
        shelf.remove(names[0]);
        assert_eq!(shelf.of(&bees).kept.len(), 1);
    }

    #[test]
    fn a_register_that_was_moved_is_known_by_its_name_while_its_place_is_empty() {
        let folder = tempfile::tempdir().expect("a folder");
        let shelf = Shelf::beside(&folder.path().join("preferences.json"));
        let (stick, here) = (folder.path().join("stick/bees.lidnote"), folder.path().join("bees.lidnote"));
        shelf.put(Uuid::from_u128(1), &kept(&stick, "Heath")).expect("kept");
        assert_eq!(shelf.of(&here).kept.len(), 1);
        files::write(&stick, b"").expect("written");
        assert!(shelf.of(&here).kept.is_empty(), "its own register is there");
    }

    #[test]
    fn what_cannot_be_read_is_told_and_stays() {
        let folder = tempfile::tempdir().expect("a folder");
        let shelf = Shelf::beside(&folder.path().join("preferences.json"));
        let path = folder.path().join("not-recorded").join(format!("{}.json", Uuid::from_u128(1)));
        files::write(&path, b"{\"of\":\"a newer Lidnote\"}").expect("written");
        let found = shelf.of(&folder.path().join("bees.lidnote"));
        assert_eq!((found.kept.len(), found.unread.as_ref()), (0, Some(&path)));
        assert!(path.exists());
    }
}
