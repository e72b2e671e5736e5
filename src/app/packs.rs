//! Map packs on the disk, read a stretch at a time.

use std::fs::File;
use std::io::{Read as _, Seek as _, SeekFrom};
use std::path::Path;

use crate::ui::map::base::source::Source;

/// A pack's file, held open.
#[derive(Debug)]
pub struct PackFile {
    file: File,
    len: u64,
    name: String,
}

impl PackFile {
    /// Opens a pack's file.
    ///
    /// # Errors
    /// In words: the file, what is wrong, and the way out.
    pub fn open(path: &Path) -> Result<Self, String> {
        let name = path.display().to_string();
        let explain = |error: std::io::Error| match error.kind() {
            std::io::ErrorKind::NotFound => {
                format!("The map pack {name} is not there. Connect the disk it lies on, or check its name")
            }
            _ => format!("The map pack {name} cannot be read: {error}. Copy it to this computer and choose the copy"),
        };
        let file = File::open(path).map_err(explain)?;
        let about = file.metadata().map_err(explain)?;
        if about.is_dir() {
            return Err(format!("{name} is a folder. Choose a PMTiles file in it"));
        }
        Ok(Self { file, len: about.len(), name })
    }
}

impl Source for PackFile {
    fn len(&self) -> u64 {
        self.len
    }

    fn read_at(&self, offset: u64, count: usize) -> Result<Vec<u8>, String> {
        let mut bytes = vec![0; count];
        let mut file = &self.file;
        let mut read = || {
            file.seek(SeekFrom::Start(offset))?;
            file.read_exact(&mut bytes)
        };
        // One thread alone reads packs, so seeking and reading need no lock between them.
        read().map_err(|error| match error.kind() {
            std::io::ErrorKind::UnexpectedEof => format!("{} is cut short", self.name),
            _ => format!("{}: {error}", self.name),
        })?;
        Ok(bytes)
    }
}
