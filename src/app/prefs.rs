//! Habits: theme, text size, last register, map pack, drafts. Safe to delete; never the register's content.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::app::{files, spare};

/// What is remembered between starts.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Prefs {
    /// `system`, `light` or `dark`.
    pub theme: String,
    /// Text size in per cent.
    pub zoom: u32,
    /// The register last open.
    pub register: Option<String>,
    /// The user's map pack.
    pub pack: Option<String>,
    /// Address of online tiles, where switched on.
    pub online_url: Option<String>,
    /// Their attribution.
    pub online_attribution: String,
    /// Initials last used.
    pub initials: String,
    /// The draft of an evening, with the register it belongs to.
    pub draft: Option<Draft>,
}

/// An evening that was begun and not recorded.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Draft {
    /// The register.
    pub register: String,
    /// What was typed, as the screen keeps it.
    pub text: String,
}

impl Default for Prefs {
    fn default() -> Self {
        Self {
            theme: "system".to_owned(),
            zoom: 100,
            register: None,
            pack: None,
            online_url: None,
            online_attribution: String::new(),
            initials: String::new(),
            draft: None,
        }
    }
}

impl Prefs {
    /// Where they lie.
    pub fn usual_path() -> PathBuf {
        files::settings_folder().join("preferences.json")
    }

    /// Reads them. A file that is missing or cannot be read means the habits of a new user: nothing is lost by it.
    pub fn load(path: &Path) -> Self {
        files::read(path).ok().and_then(|bytes| serde_json::from_slice(&bytes).ok()).unwrap_or_default()
    }

    /// Writes them.
    ///
    /// # Errors
    /// In words, if they cannot be written.
    pub fn save(&self, path: &Path) -> Result<(), String> {
        let bytes = serde_json::to_vec_pretty(self).map_err(|error| error.to_string())?;
        // An evening's draft is in it.
        spare::write(path, &bytes, &spare::beside(path))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn habits_are_kept_and_a_spoilt_file_is_no_trouble() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("preferences.json");
        let prefs = Prefs { zoom: 125, initials: "MK".to_owned(), ..Prefs::default() };
        prefs.save(&path).expect("saved");
        assert_eq!(Prefs::load(&path), prefs);
        files::write(&path, b"{ spoilt").expect("written");
        assert_eq!(Prefs::load(&path), Prefs::default());
    }
}
