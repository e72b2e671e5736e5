//! Files: the usual folders, whole reads with a limit, atomic writes. Each error names the file and the way out.

use std::fs::{self, File};
use std::io::{self, Read as _, Write as _};
use std::path::{Path, PathBuf};

/// The largest file that is brought in: 64 MiB.
pub const MOST_BYTES: u64 = 64 << 20;

/// The folder for registers, prints and exports: `Documents/Lidnote`, or `Lidnote` in the home folder.
pub fn documents() -> PathBuf {
    let dirs = directories::UserDirs::new();
    let base = dirs.as_ref().map(|dirs| dirs.document_dir().unwrap_or(dirs.home_dir()).to_owned());
    base.unwrap_or_else(|| PathBuf::from(".")).join("Lidnote")
}

/// The folder for preferences and drafts.
pub fn settings_folder() -> PathBuf {
    directories::ProjectDirs::from("", "", "lidnote")
        .map_or_else(|| PathBuf::from(".lidnote"), |dirs| dirs.config_dir().to_owned())
}

/// The folder for online tiles.
pub fn cache_folder() -> PathBuf {
    directories::ProjectDirs::from("", "", "lidnote")
        .map_or_else(|| PathBuf::from(".lidnote-cache"), |dirs| dirs.cache_dir().to_owned())
}

/// `~` and `~/…` mean the home folder, as people type it.
pub fn typed(path: &str) -> PathBuf {
    let path = path.trim();
    match (path.strip_prefix('~'), directories::UserDirs::new()) {
        (Some(rest), Some(dirs)) if rest.is_empty() || rest.starts_with('/') => {
            dirs.home_dir().join(rest.trim_start_matches('/'))
        }
        _ => PathBuf::from(path),
    }
}

/// Where to write: what was typed, or the usual name in the usual folder. A typed folder gets the usual name.
pub fn target(typed_path: &str, usual: &str) -> PathBuf {
    if typed_path.trim().is_empty() {
        return documents().join(usual);
    }
    let path = typed(typed_path);
    if path.is_dir() { path.join(usual) } else { path }
}

/// How much is read before it is asked whether to go on: a slow stick gives it within a second.
const AT_A_TIME: u64 = 1 << 20;

/// Shows a file with the program that the system has for its kind.
///
/// # Errors
/// In words, if the file is gone or the system knows no such program.
pub fn show(path: &Path) -> Result<(), String> {
    let name = path.display();
    if !path.exists() {
        return Err(format!("{name} is not there any more. Write it again"));
    }
    let opener = if cfg!(target_os = "macos") {
        "open"
    } else if cfg!(windows) {
        "explorer"
    } else {
        "xdg-open"
    };
    let mut child = std::process::Command::new(opener)
        .arg(path)
        .stdin(std::process::Stdio::null())
        .stdout(std::process::Stdio::null())
        .stderr(std::process::Stdio::null())
        .spawn()
        .map_err(|_| format!("This computer names no program that opens {name}. Open it from its folder"))?;
    // Waited for, so that it does not linger in the system's list of processes.
    std::thread::Builder::new()
        .spawn(move || child.wait())
        .map(drop)
        .map_err(|error| format!("{name} was opened, but the system gives no thread: {error}. Close other programs"))
}

/// Reads a whole file that is brought in.
///
/// # Errors
/// In words: the file, what is wrong, and the way out.
pub fn read(path: &Path) -> Result<Vec<u8>, String> {
    read_while(path, &|| true)
}

/// Reads a whole file for as long as it is wanted.
///
/// # Errors
/// In words: the file, what is wrong, and the way out; also if it is not wanted any more.
pub fn read_while(path: &Path, wanted: &dyn Fn() -> bool) -> Result<Vec<u8>, String> {
    let name = path.display();
    let explain = |error: &io::Error| match error.kind() {
        io::ErrorKind::NotFound => format!("There is no file {name}. Check the name and the folder"),
        io::ErrorKind::PermissionDenied => format!("{name} may not be read. Copy it to a folder of your own"),
        _ => format!("{name} cannot be read: {error}. Copy it to this computer and try again"),
    };
    let file = File::open(path).map_err(|error| explain(&error))?;
    let about = file.metadata().map_err(|error| explain(&error))?;
    if about.is_dir() {
        return Err(format!("{name} is a folder. Choose a file in it"));
    }
    if about.len() > MOST_BYTES {
        let size = about.len() >> 20;
        return Err(format!("{name} is too large: {size} MiB, at most {}. Split it", MOST_BYTES >> 20));
    }
    let mut bytes = Vec::new();
    // A file that grows while it is read, or a device, is cut off at the limit instead of filling the memory.
    let mut file = file.take(MOST_BYTES + 1);
    while (&mut file).take(AT_A_TIME).read_to_end(&mut bytes).map_err(|error| explain(&error))? > 0 {
        if !wanted() {
            return Err(format!("{name} was not read to its end"));
        }
    }
    if bytes.len() as u64 > MOST_BYTES {
        return Err(format!("{name} is too large: more than {} MiB. Split it", MOST_BYTES >> 20));
    }
    Ok(bytes)
}

/// Writes a whole file so that it is there whole or not at all: to a file beside it, synced, then renamed. A link keeps
/// pointing where it did, and a file that is replaced hands on its permissions. What is no file (a device, a pipe) is
/// written straight into: a rename would put a plain file in its place.
///
/// # Errors
/// In words: the file, what is wrong, and the way out.
pub fn write(path: &Path, bytes: &[u8]) -> Result<(), String> {
    let name = path.display();
    let explain = |error: &io::Error| match error.kind() {
        io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
            format!("{name} cannot be written: no permission. Choose a folder of your own")
        }
        io::ErrorKind::StorageFull => format!("{name} cannot be written: the disk is full. Make room and try again"),
        io::ErrorKind::NotFound => format!("{name} cannot be written: its folder is not there. Choose another"),
        _ => format!("{name} cannot be written: {error}. Choose another place"),
    };
    if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
        fs::create_dir_all(folder).map_err(|error| explain(&error))?;
    }
    let path = &fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let there = fs::metadata(path).ok();
    if there.as_ref().is_some_and(fs::Metadata::is_dir) {
        return Err(format!("{name} is a folder. Name a file in it"));
    }
    if there.as_ref().is_some_and(|there| !there.is_file()) {
        let straight = || File::options().write(true).open(path)?.write_all(bytes);
        return straight().map_err(|error| explain(&error));
    }
    let mut beside = path.as_os_str().to_owned();
    beside.push(".part");
    let beside = PathBuf::from(beside);
    let whole = || -> io::Result<()> {
        let mut file = File::create(&beside)?;
        if let Some(there) = &there {
            file.set_permissions(there.permissions())?;
        }
        file.write_all(bytes)?;
        file.sync_all()?;
        fs::rename(&beside, path)
    };
    whole().map_err(|error| {
        // What was begun is of no use to anyone; if it cannot be removed either, the error said enough.
        let _ = fs::remove_file(&beside);
        explain(&error)
    })
}

/// A name beside `path` that is not taken: `labels.pdf`, `labels-2.pdf` …
pub fn free(path: &Path) -> PathBuf {
    if !path.exists() {
        return path.to_owned();
    }
    let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let suffix = path.extension().map(|it| format!(".{}", it.to_string_lossy())).unwrap_or_default();
    (2..10_000).map(|n| path.with_file_name(format!("{stem}-{n}{suffix}"))).find(|it| !it.exists()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_written_whole_and_read_back() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("new").join("a.txt");
        write(&path, b"bees").expect("written");
        assert_eq!(read(&path).expect("read"), b"bees");
        assert_eq!(fs::read_dir(path.parent().expect("folder")).expect("list").count(), 1, "nothing is left beside it");
        assert_eq!(free(&path).file_name().expect("name"), "a-2.txt");
    }

    #[cfg(unix)]
    #[test]
    fn a_link_still_points_and_permissions_stay() {
        use std::os::unix::fs::{PermissionsExt as _, symlink};
        let folder = tempfile::tempdir().expect("a folder");
        let (file, link) = (folder.path().join("file.csv"), folder.path().join("link.csv"));
        write(&file, b"old").expect("written");
        fs::set_permissions(&file, fs::Permissions::from_mode(0o600)).expect("made private");
        symlink(&file, &link).expect("linked");
        write(&link, b"new").expect("written");
        assert!(fs::symlink_metadata(&link).expect("the link").is_symlink());
        assert_eq!(read(&file).expect("read"), b"new");
        assert_eq!(fs::metadata(&file).expect("the file").permissions().mode() & 0o777, 0o600);
    }

    /// A socket stands for all that is no file: any user may make one, and a rename would replace it as it would a device.
    #[cfg(unix)]
    #[test]
    fn what_is_no_file_is_never_replaced_by_one() {
        use std::os::unix::fs::FileTypeExt as _;
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("socket");
        let _open = std::os::unix::net::UnixListener::bind(&path).expect("bound");
        assert!(write(&path, b"bees").expect_err("cannot be opened").contains("socket"));
        assert!(fs::metadata(&path).expect("still there").file_type().is_socket());
        assert_eq!(fs::read_dir(folder.path()).expect("list").count(), 1, "nothing is left beside it");
    }

    #[test]
    fn errors_name_the_file_and_a_way_out() {
        let folder = tempfile::tempdir().expect("a folder");
        let missing = read(&folder.path().join("none.csv")).expect_err("missing");
        assert!(missing.contains("none.csv") && missing.contains("Check"), "{missing}");
        let not_a_file = read(folder.path()).expect_err("a folder");
        assert!(not_a_file.contains("is a folder"), "{not_a_file}");
        let under_a_file = folder.path().join("file");
        write(&under_a_file, b"").expect("written");
        assert!(write(&under_a_file.join("x.pdf"), b"").is_err(), "a file is no folder");
        assert!(write(folder.path(), b"").expect_err("a folder").contains("is a folder"));
    }
}
