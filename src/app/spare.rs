//! Room kept free for the moment the disk is full: a file of no meaning beside the preferences. Where the last words of the
//! user find no room, it makes way for them.

use std::fs;
use std::path::{Path, PathBuf};

use crate::app::files;

/// Enough for an evening's draft and many changes. Common practice, no source.
const BYTES: usize = 256 << 10;

/// Where it lies.
pub(crate) fn beside(prefs: &Path) -> PathBuf {
    prefs.with_file_name("spare-room")
}

/// Makes it, where it is not there.
pub(crate) fn provide(spare: &Path) {
    if fs::metadata(spare).is_ok_and(|about| about.len() >= BYTES as u64) {
        return;
    }
    // Not all the same, so that a disk which packs what it holds gives the room all the same (Knuth's MMIX generator).
    let mut seed = 1_u64;
    let next = || {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        Some((seed >> 56) as u8)
    };
    let bytes: Vec<u8> = std::iter::from_fn(next).take(BYTES).collect();
    // No room for it now: then there was none to keep.
    let _ = files::write(spare, &bytes);
}

/// Writes a file; where that fails, once more in the spare room.
///
/// # Errors
/// In words, if there is no room even so.
pub(crate) fn write(path: &Path, bytes: &[u8], spare: &Path) -> Result<(), String> {
    files::write(path, bytes).or_else(|words| {
        if fs::remove_file(spare).is_err() {
            return Err(words);
        }
        files::write(path, bytes)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_makes_way_once_and_comes_back() {
        let folder = tempfile::tempdir().expect("a folder");
        let spare = beside(&folder.path().join("preferences.json"));
        provide(&spare);
        assert_eq!(fs::metadata(&spare).expect("there").len(), BYTES as u64);
        // A file stands where a folder is needed: it cannot be written, with or without room.
        let blocked = spare.with_file_name("file");
        files::write(&blocked, b"").expect("written");
        write(&blocked.join("x"), b"words", &spare).expect_err("no folder");
        assert!(!spare.exists(), "it made way");
        write(&blocked.join("x"), b"words", &spare).expect_err("nothing is left to make way");
        write(&spare.with_file_name("y"), b"words", &spare).expect("written");
        provide(&spare);
        assert!(spare.exists());
    }
}
