//! The command line: words in, what is asked for out.

use std::ffi::OsString;
use std::path::PathBuf;

use crate::app::cli::command::{Common, What};
use crate::app::cli::commands::{self, help};
use crate::app::cli::options::Options;
use crate::domain::initials;

/// What is asked for, and with which options of every command.
pub struct Asked {
    /// The command.
    pub what: What,
    /// What every command takes.
    pub common: Common,
}

/// Reads the arguments after the program's name.
///
/// # Errors
/// In words: what was not understood, and what to do.
pub fn read(args: impl IntoIterator<Item = OsString>) -> Result<Asked, String> {
    let mut options = Options::gather(args)?;
    let common = common(&mut options)?;
    let what = what(&mut options)?;
    options.all_taken()?;
    Ok(Asked { what, common })
}

fn common(options: &mut Options) -> Result<Common, String> {
    let register = options.text("register").map(PathBuf::from);
    let on = options.day("on")?;
    let output = options.text("output").map(PathBuf::from);
    let by = options.text("by").unwrap_or_default();
    let by = initials::read(&by).map_err(|refusal| format!("--by: {refusal}"))?.to_owned();
    Ok(Common { register, on, output, by })
}

fn what(options: &mut Options) -> Result<What, String> {
    if options.flag("help") {
        return Ok(help::asked_for(options));
    }
    if options.flag("version") {
        return Ok(What::job(help::Version));
    }
    let Some(name) = options.next_word() else { return Ok(What::Window) };
    let command = commands::named(&name)?;
    (command.read)(options)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(line: &[&str]) -> Result<Asked, String> {
        read(line.iter().map(OsString::from))
    }

    #[test]
    fn words_and_options_are_read_in_any_order() {
        let run = asked(&["--on", "2026-11-24", "run", "--yards=Mill Race", "--by", "MK"]).expect("read");
        assert_eq!(run.common.on, crate::domain::day::Day::new(2026, 11, 24));
        assert_eq!(run.common.by, "MK");
        assert!(matches!(run.what, What::Job(_)));
        assert!(matches!(asked(&[]).expect("read").what, What::Window));
        assert!(matches!(asked(&["demo"]).expect("read").what, What::Demo));
    }

    #[cfg(unix)]
    #[test]
    fn what_is_not_utf_8_is_said() {
        use std::os::unix::ffi::OsStringExt as _;
        let odd = OsString::from_vec(b"b\xff.lidnote".to_vec());
        for line in [vec!["due".into(), "--register".into(), odd.clone()], vec!["card".into(), odd]] {
            let error = read(line).err().expect("refused");
            assert!(error.contains("not UTF-8"), "{error}");
        }
    }

    #[test]
    fn what_is_not_understood_is_said() {
        let cases: &[(&[&str], &str)] = &[
            (&["fly"], "No command is called fly"),
            (&["due", "--sheet", "x"], "--sheet does not belong"),
            (&["due", "--sheet", "x", "--sheet", "y"], "--sheet does not belong"),
            (&["undo", "--format", "csv"], "--format does not belong"),
            (&["run", "--on", "2026-11-24", "--on", "2026-11-25"], "--on is given more than once"),
            (&["due", "--by", "Martha Kessler"], "--by: Initials have at most 12 signs"),
            (&["due", "--on", "24/11/2026"], "--on takes a day as 2026-11-24"),
            (&["run", "--leave", "25:00"], "--leave takes a time"),
            (&["due", "--register", ""], "--register takes a value behind it"),
            (&["run", "--base="], "--base takes a value behind it"),
            (&["due", "--format"], "--format takes a value behind it"),
            (&["due", "--format", "gpx"], "--format takes csv, ics or icalendar, not gpx"),
            (&["run", "--letter"], "--letter is for --format pdf"),
            (&["end", "B14", "--why", "moved"], "--why takes sold, died, dead, shaken-out, destroyed or gone"),
            (&["parcel", "--dot", "purple"], "--dot takes white, yellow, red, green, blue or none"),
            (&["parcel", "--arrive", "1", "--amend", "2"], "One of --late, --arrive and --amend"),
            (&["parcel", "--late", "1", "--count", "2"], "--late goes with --promised alone"),
            (&["help", "fly"], "No command is called fly"),
            (&["import"], "import takes a file"),
            (&["import", "x.csv", "--dates", "ymd"], "--dates takes dmy or mdy"),
            (&["amend", "--hive", "7"], "amend takes"),
            (&["due", "--nothing"], "No option is called --nothing"),
            (&["undo", "twice"], "one word too many"),
        ];
        for (line, words) in cases {
            let error = asked(line).err().expect("refused");
            assert!(error.contains(words), "{line:?}: {error}");
        }
    }
}
