//! The demo: Wrackmore Island, carried inside the program, opened as a copy.

use std::io::Read as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use flate2::read::GzDecoder;

use crate::app::files;
use crate::ui::map::base::source::Source;

const PACK: &[u8] = include_bytes!("../../demo-data/wrackmore.pmtiles");
const REGISTER: &[u8] = include_bytes!("../../demo-data/wrackmore.lidnote.gz");
/// No demo register is larger than this when unpacked.
const MOST: u64 = 256 << 20;

/// The island's map pack.
pub fn pack() -> Arc<dyn Source> {
    Arc::new(PACK)
}

/// Writes a fresh copy of the demo's register and says where.
///
/// # Errors
/// In words: the file, what is wrong, and the way out.
pub fn fresh_copy() -> Result<PathBuf, String> {
    let folder = files::cache_folder().join("demo");
    let usual = folder.join("Wrackmore Island.lidnote");
    let path = if held(&usual) { files::free(&usual) } else { usual };
    // What SQLite keeps beside an older copy belongs to that copy alone.
    for beside in ["-wal", "-shm", "-journal"] {
        let mut name = path.as_os_str().to_owned();
        name.push(beside);
        let _ = std::fs::remove_file(PathBuf::from(name));
    }
    files::write(&path, &unpacked()?)?;
    Ok(path)
}

/// Another window has the copy open: its lock is taken.
fn held(path: &Path) -> bool {
    let mut lock = path.as_os_str().to_owned();
    lock.push(".lock");
    let Ok(file) = std::fs::File::open(PathBuf::from(lock)) else { return false };
    file.try_lock().is_err()
}

fn unpacked() -> Result<Vec<u8>, String> {
    let mut bytes = Vec::new();
    let read = GzDecoder::new(REGISTER).take(MOST).read_to_end(&mut bytes);
    read.map_err(|error| format!("The demo inside the program is damaged: {error}. Install Lidnote again"))?;
    Ok(bytes)
}
