//! The command line: words in, one [`Command`] out.

use std::ffi::OsString;
use std::path::PathBuf;

use lexopt::Arg::{Long, Short, Value};
use lexopt::ValueExt as _;

use crate::domain::day::Day;
use crate::domain::initials;

/// What is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// The command.
    pub command: Command,
    /// `--register FILE`.
    pub register: Option<PathBuf>,
    /// `--on DATE`: the day that counts as today.
    pub on: Option<Day>,
    /// `--format NAME`.
    pub format: Option<String>,
    /// `--output FILE`; nothing: standard output.
    pub output: Option<PathBuf>,
    /// `--by INITIALS`.
    pub by: String,
}

/// The commands.
#[derive(Clone, Debug, PartialEq)]
pub enum Command {
    /// The window, on the register last open.
    Window,
    /// The window, on a fresh copy of the demo.
    Demo,
    /// Bring a file in.
    Import {
        /// The file.
        file: PathBuf,
        /// `--map "their heading=ours"`.
        map: Vec<(String, String)>,
        /// `--dates dmy|mdy`: day before month.
        day_first: Option<bool>,
        /// `--existing skip|update`: update hives already there.
        update: Option<bool>,
        /// `--hold-back FILE`: rows with problems are written there and the others come in.
        hold_back: Option<PathBuf>,
    },
    /// Record results from a file.
    Record {
        /// The file.
        file: PathBuf,
    },
    /// List due work.
    Due,
    /// Plan a run.
    Run {
        /// `--base LAT,LON` or a yard's name.
        base: Option<String>,
        /// `--leave HH:MM` in minutes since midnight.
        leave: Option<u16>,
        /// `--yards A,B,C`: exactly these.
        yards: Option<Vec<String>>,
        /// `--letter`: paper of the run sheet.
        letter: bool,
    },
    /// Print labels.
    Labels {
        /// These hives (`HIVE` or `YARD/HIVE`); none: those that wait.
        hives: Vec<String>,
        /// `--text`.
        text: bool,
        /// `--sheet NAME` or a file of measures.
        sheet: Option<String>,
        /// `--start N`.
        start: usize,
        /// `--calibration`: the ruler page instead.
        calibration: bool,
        /// `--printed`: note them as printed.
        printed: bool,
    },
    /// Show a hive.
    Card {
        /// `HIVE` or `YARD/HIVE`.
        hive: String,
    },
    /// Put an older record right.
    Amend {
        /// `--yard`.
        yard: Option<String>,
        /// `--hive`.
        hive: String,
        /// `--date`: the day of the record.
        date: Day,
        /// `--to HIVE`.
        to: Option<String>,
        /// `--find CODES`.
        find: Option<String>,
        /// `--new-date DATE`.
        new_date: Option<Day>,
        /// `--strike`: it did not happen.
        strike: bool,
        /// `--record N`: which of several of that day, from 1.
        record: Option<usize>,
        /// `--reason`.
        reason: String,
    },
    /// Move hives to another yard.
    Move {
        /// `HIVE` or `YARD/HIVE`, one or several.
        hives: Vec<String>,
        /// `--to YARD`.
        to: String,
        /// `--row N`.
        row: Option<u16>,
        /// `--place N`.
        place: Option<u16>,
    },
    /// End colonies.
    End {
        /// `HIVE` or `YARD/HIVE`, one or several.
        hives: Vec<String>,
        /// `--why`.
        why: String,
        /// `--words`.
        words: String,
    },
    /// Take in a parcel, list parcels, or say that one is late.
    Parcel(ParcelArgs),
    /// Take the newest change back.
    Undo,
    /// Make it again.
    Redo,
    /// Set a number of the rules, or show them.
    Set {
        /// Which.
        what: SetArgs,
    },
    /// Export the register.
    Export,
    /// Check it through.
    Verify,
    /// Make a checked copy.
    Backup,
    /// The help text.
    Help,
    /// The version.
    Version,
}

/// What `set` takes.
#[derive(Clone, Debug, PartialEq)]
pub enum SetArgs {
    /// Nothing: all are listed.
    List,
    /// A name: that one is shown.
    Show(String),
    /// A name and a value.
    To(String, f64),
}

/// What `parcel` takes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ParcelArgs {
    /// `--source NAME`.
    pub source: Option<String>,
    /// `--new-source`: it is made although one of a like name is known.
    pub new_source: bool,
    /// `--kind caged|cells|virgins`.
    pub kind: Option<String>,
    /// `--count N`.
    pub count: Option<u32>,
    /// `--dead N`.
    pub dead: Option<u32>,
    /// `--sent DATE`.
    pub sent: Option<Day>,
    /// `--due DATE`.
    pub due: Option<Day>,
    /// `--arrived DATE`.
    pub arrived: Option<Day>,
    /// `--grafted DATE`.
    pub grafted: Option<Day>,
    /// `--born BIRTH`: when its queens were born.
    pub born: Option<String>,
    /// `--dot COLOUR`: the dot they carry; `none` for none.
    pub dot: Option<String>,
    /// `--amend N`: the parcel of that number in the list is put right.
    pub amend: Option<usize>,
    /// `--late N`: the parcel of that number in the list is late …
    pub late: Option<usize>,
    /// `--promised DATE`: … until then.
    pub promised: Option<Day>,
    /// `--arrive N`: the parcel of that number in the list has arrived.
    pub arrive: Option<usize>,
}

/// Every option that any command takes, before it is known which belong to the command.
#[derive(Default)]
struct Options {
    words: Vec<String>,
    map: Vec<(String, String)>,
    texts: Vec<(&'static str, String)>,
    flags: Vec<&'static str>,
}

const TEXTS: &[&str] = &[
    "register",
    "on",
    "format",
    "output",
    "by",
    "map",
    "dates",
    "existing",
    "hold-back",
    "base",
    "leave",
    "yards",
    "sheet",
    "start",
    "yard",
    "hive",
    "date",
    "to",
    "find",
    "new-date",
    "record",
    "reason",
    "row",
    "place",
    "why",
    "words",
    "source",
    "kind",
    "count",
    "dead",
    "sent",
    "due",
    "arrived",
    "grafted",
    "born",
    "dot",
    "amend",
    "late",
    "promised",
    "arrive",
];
const FLAGS: &[&str] = &["text", "calibration", "printed", "letter", "strike", "new-source", "help", "version"];

/// Reads the arguments after the program's name.
///
/// # Errors
/// In words: what was not understood, and what to do.
pub fn read(args: impl IntoIterator<Item = OsString>) -> Result<Asked, String> {
    let mut options = gather(args)?;
    let given: Vec<&str> = options.texts.iter().map(|(name, _)| *name).collect();
    let register = options.text("register").map(PathBuf::from);
    let on = options.day("on")?;
    let format = options.text("format");
    let output = options.text("output").map(PathBuf::from);
    let by = options.text("by").unwrap_or_default();
    let by = initials::read(&by).map_err(|refusal| format!("--by: {refusal}"))?.to_owned();
    let command = command(&mut options)?;
    if let Some((name, _)) = options.texts.first() {
        if given.iter().filter(|known| *known == name).count() > options.left(name) {
            return Err(format!("--{name} is given more than once. Give it once"));
        }
        return Err(format!("--{name} does not belong to this command. `lidnote help` lists what does"));
    }
    if let Some(flag) = options.flags.first() {
        return Err(format!("--{flag} does not belong to this command. `lidnote help` lists what does"));
    }
    if let Some(word) = options.words.first() {
        return Err(format!("“{word}” is one word too many. `lidnote help` shows each command"));
    }
    Ok(Asked { command, register, on, format, output, by })
}

fn gather(args: impl IntoIterator<Item = OsString>) -> Result<Options, String> {
    let mut parser = lexopt::Parser::from_args(args);
    let mut options = Options::default();
    while let Some(arg) = parser.next().map_err(|error| error.to_string())? {
        match arg {
            Short('h') => options.flags.push("help"),
            Short('o') => {
                let value = parser.value().and_then(lexopt::ValueExt::string).map_err(|error| error.to_string())?;
                options.texts.push(("output", value));
            }
            Long(name) => {
                if let Some(flag) = FLAGS.iter().find(|flag| **flag == name) {
                    options.flags.push(flag);
                    continue;
                }
                let Some(known) = TEXTS.iter().find(|text| **text == name).copied() else {
                    return Err(format!("No option is called --{name}. `lidnote help` lists them"));
                };
                let value = parser.value().and_then(lexopt::ValueExt::string).map_err(|error| error.to_string())?;
                if value.is_empty() && ["register", "output", "hold-back"].contains(&known) {
                    return Err(format!("--{known} takes a file's name"));
                }
                if known == "map" {
                    let Some((theirs, ours)) = value.split_once('=') else {
                        return Err(format!("--map takes \"their heading=ours\", not \"{value}\""));
                    };
                    options.map.push((theirs.trim().to_owned(), ours.trim().to_owned()));
                } else {
                    options.texts.push((known, value));
                }
            }
            Value(value) => options.words.push(value.string().map_err(|error| error.to_string())?),
            // A number below zero, as in `set utc_offset -300`.
            Short(digit) if digit.is_ascii_digit() => {
                let rest = parser.optional_value().map(lexopt::ValueExt::string).transpose();
                let rest = rest.map_err(|error| error.to_string())?.unwrap_or_default();
                options.words.push(format!("-{digit}{rest}"));
            }
            Short(letter) => return Err(format!("No option is called -{letter}. `lidnote help` lists them")),
        }
    }
    Ok(options)
}

fn command(options: &mut Options) -> Result<Command, String> {
    if options.flag("help") {
        return Ok(Command::Help);
    }
    if options.flag("version") {
        return Ok(Command::Version);
    }
    if options.words.is_empty() {
        return Ok(Command::Window);
    }
    let name = options.words.remove(0);
    Ok(match name.as_str() {
        "demo" => Command::Demo,
        "import" => Command::Import {
            file: options.word("import takes a file: lidnote import hives.csv")?.into(),
            map: std::mem::take(&mut options.map),
            day_first: options.one_of("dates", &[("dmy", true), ("mdy", false)])?,
            update: options.one_of("existing", &[("skip", false), ("update", true)])?,
            hold_back: options.text("hold-back").map(PathBuf::from),
        },
        "record" => Command::Record { file: options.word("record takes a file: lidnote record evening.csv")?.into() },
        "due" => Command::Due,
        "run" => Command::Run {
            base: options.text("base"),
            leave: options.text("leave").map(|text| minute(&text)).transpose()?,
            yards: options.text("yards").map(|text| some_names(&text)).transpose()?,
            letter: options.flag("letter"),
        },
        "labels" => Command::Labels {
            hives: std::mem::take(&mut options.words),
            text: options.flag("text"),
            sheet: options.text("sheet"),
            start: options.number("start")?.unwrap_or(1),
            calibration: options.flag("calibration"),
            printed: options.flag("printed"),
        },
        "card" => Command::Card { hive: options.hive("card takes a hive: lidnote card B14, or Broom Flat/B14")? },
        "amend" => amend(options)?,
        "move" => Command::Move {
            hives: options.hives("move takes hives: lidnote move B14 --to \"Heath yard\"")?,
            to: options.needed("to", "move takes --to YARD")?,
            row: options.number("row")?,
            place: options.number("place")?,
        },
        "end" => Command::End {
            hives: options.hives("end takes hives: lidnote end B14 --why sold")?,
            why: options.needed("why", "end takes --why sold, died, shaken-out, destroyed or gone")?,
            words: options.text("words").unwrap_or_default(),
        },
        "parcel" => Command::Parcel(ParcelArgs {
            source: options.text("source"),
            new_source: options.flag("new-source"),
            kind: options.text("kind"),
            count: options.number("count")?,
            dead: options.number("dead")?,
            sent: options.day("sent")?,
            due: options.day("due")?,
            arrived: options.day("arrived")?,
            grafted: options.day("grafted")?,
            born: options.text("born"),
            dot: options.text("dot"),
            amend: options.number("amend")?,
            late: options.number("late")?,
            promised: options.day("promised")?,
            arrive: options.number("arrive")?,
        }),
        "undo" => Command::Undo,
        "redo" => Command::Redo,
        "set" => set(options)?,
        "export" => Command::Export,
        "verify" => Command::Verify,
        "backup" => Command::Backup,
        "help" => Command::Help,
        other => return Err(format!("No command is called {other}. `lidnote help` lists them")),
    })
}

fn amend(options: &mut Options) -> Result<Command, String> {
    let usage = "amend takes --yard, --hive, --date, what is right (--to, --find, --new-date or --strike) and --reason";
    let yard = options.text("yard");
    let hive = if options.words.is_empty() { options.needed("hive", usage)? } else { options.words.remove(0) };
    Ok(Command::Amend {
        yard,
        hive,
        date: options.day("date")?.ok_or(usage)?,
        to: options.text("to"),
        find: options.text("find"),
        new_date: options.day("new-date")?,
        strike: options.flag("strike"),
        record: options.number("record")?,
        reason: options.needed("reason", "amend takes --reason: why the record is put right")?,
    })
}

fn set(options: &mut Options) -> Result<Command, String> {
    if options.words.is_empty() {
        return Ok(Command::Set { what: SetArgs::List });
    }
    let usage = "set takes a name and a value: lidnote set speed 70";
    let name = options.word(usage)?;
    if options.words.is_empty() {
        return Ok(Command::Set { what: SetArgs::Show(name) });
    }
    let value = options.word(usage)?;
    let value = value.replace(',', ".").parse().map_err(|_| format!("{value} is not a number; {usage}"))?;
    Ok(Command::Set { what: SetArgs::To(name, value) })
}

impl Options {
    fn text(&mut self, name: &str) -> Option<String> {
        let at = self.texts.iter().rposition(|(known, _)| *known == name)?;
        let (_, value) = self.texts.remove(at);
        Some(value)
    }

    /// How often an option was given that no part of the command has taken.
    fn left(&self, name: &str) -> usize {
        self.texts.iter().filter(|(known, _)| *known == name).count()
    }

    fn flag(&mut self, name: &str) -> bool {
        let before = self.flags.len();
        self.flags.retain(|flag| *flag != name);
        self.flags.len() != before
    }

    fn needed(&mut self, name: &str, usage: &str) -> Result<String, String> {
        self.text(name).ok_or_else(|| usage.to_owned())
    }

    fn word(&mut self, usage: &str) -> Result<String, String> {
        if self.words.is_empty() { Err(usage.to_owned()) } else { Ok(self.words.remove(0)) }
    }

    /// One hive, as a word or as `--hive` with `--yard`.
    fn hive(&mut self, usage: &str) -> Result<String, String> {
        let hives = self.hives(usage)?;
        match hives.as_slice() {
            [hive] => Ok(hive.clone()),
            _ => Err(usage.to_owned()),
        }
    }

    /// Hives as words or as `--hive` with `--yard`.
    fn hives(&mut self, usage: &str) -> Result<Vec<String>, String> {
        let mut hives = std::mem::take(&mut self.words);
        hives.extend(self.text("hive"));
        let yard = self.text("yard");
        if hives.is_empty() {
            return Err(usage.to_owned());
        }
        Ok(match yard {
            Some(yard) => hives.into_iter().map(|hive| format!("{yard}/{hive}")).collect(),
            None => hives,
        })
    }

    fn day(&mut self, name: &str) -> Result<Option<Day>, String> {
        let Some(text) = self.text(name) else { return Ok(None) };
        let day = Day::from_iso(&text).ok_or_else(|| format!("--{name} takes a day as 2026-11-24, not {text}"))?;
        Ok(Some(day))
    }

    fn number<T: std::str::FromStr>(&mut self, name: &str) -> Result<Option<T>, String> {
        let Some(text) = self.text(name) else { return Ok(None) };
        let number = text.parse().map_err(|_| format!("--{name} takes a whole number, not {text}"))?;
        Ok(Some(number))
    }

    fn one_of(&mut self, name: &str, words: &[(&str, bool)]) -> Result<Option<bool>, String> {
        let Some(text) = self.text(name) else { return Ok(None) };
        let found = words.iter().find(|(word, _)| text.eq_ignore_ascii_case(word));
        let all: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        found.map(|(_, value)| Some(*value)).ok_or_else(|| format!("--{name} takes {}, not {text}", all.join(" or ")))
    }
}

fn names(text: &str) -> Vec<String> {
    text.split(',').map(|name| name.trim().to_owned()).filter(|name| !name.is_empty()).collect()
}

fn some_names(text: &str) -> Result<Vec<String>, String> {
    let names = names(text);
    if names.is_empty() {
        Err("--yards takes names of yards: --yards=\"Mill Race,Limekiln\"".to_owned())
    } else {
        Ok(names)
    }
}

fn minute(text: &str) -> Result<u16, String> {
    let wrong = || format!("--leave takes a time as 07:30, not {text}");
    let (hours, minutes) = text.split_once(':').ok_or_else(wrong)?;
    let (hours, minutes): (u16, u16) = (hours.parse().map_err(|_| wrong())?, minutes.parse().map_err(|_| wrong())?);
    if hours < 24 && minutes < 60 { Ok(hours * 60 + minutes) } else { Err(wrong()) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(line: &[&str]) -> Result<Asked, String> {
        read(line.iter().map(OsString::from))
    }

    #[test]
    fn commands_and_options_are_read_in_any_order() {
        let run =
            asked(&["--on", "2026-11-24", "run", "--yards=Mill Race, Limekiln", "--leave", "07:30"]).expect("read");
        assert_eq!(run.on, Day::new(2026, 11, 24));
        let yards = Some(vec!["Mill Race".to_owned(), "Limekiln".to_owned()]);
        assert_eq!(run.command, Command::Run { base: None, leave: Some(450), yards, letter: false });
        let base = asked(&["run", "--base=-40.1,160.2"]).expect("read");
        assert!(matches!(base.command, Command::Run { base: Some(text), .. } if text == "-40.1,160.2"));
        assert_eq!(asked(&[]).expect("read").command, Command::Window);
        let card = asked(&["card", "--yard", "Heath yard", "--hive", "7"]).expect("read");
        assert_eq!(card.command, Command::Card { hive: "Heath yard/7".to_owned() });
        let set = asked(&["set", "speed", "72,5"]).expect("read");
        assert_eq!(set.command, Command::Set { what: SetArgs::To("speed".to_owned(), 72.5) });
        let west = asked(&["set", "utc_offset", "-300"]).expect("read");
        assert_eq!(west.command, Command::Set { what: SetArgs::To("utc_offset".to_owned(), -300.0) });
    }

    #[test]
    fn what_is_not_understood_is_said() {
        let cases: &[(&[&str], &str)] = &[
            (&["fly"], "No command is called fly"),
            (&["due", "--sheet", "x"], "--sheet does not belong"),
            (&["due", "--sheet", "x", "--sheet", "y"], "--sheet does not belong"),
            (&["run", "--on", "2026-11-24", "--on", "2026-11-25"], "--on is given more than once"),
            (&["due", "--by", "Martha Kessler"], "--by: Initials have at most 12 signs"),
            (&["due", "--on", "24/11/2026"], "--on takes a day as 2026-11-24"),
            (&["run", "--leave", "25:00"], "--leave takes a time"),
            (&["due", "--register", ""], "--register takes a file's name"),
            (&["import"], "import takes a file"),
            (&["import", "x.csv", "--dates", "ymd"], "--dates takes dmy or mdy"),
            (&["amend", "--hive", "7"], "amend takes"),
            (&["due", "--nothing"], "No option is called --nothing"),
            (&["undo", "twice"], "one word too many"),
        ];
        for (line, words) in cases {
            let error = asked(line).expect_err("refused");
            assert!(error.contains(words), "{line:?}: {error}");
        }
    }
}
