//! `lidnote help`: the help text of all commands, of one, or the codes of a find; and the version.

use crate::app::cli::command::{Command, Common, Job, What};
use crate::app::cli::commands;
use crate::app::cli::options::Options;
use crate::app::cli::output::Output;
use crate::domain::grammar::hints::{HINTS, HintGroup};

/// The command.
pub const HELP: Command = Command {
    name: "help",
    help: "  lidnote help [COMMAND]         this text, or what it says of one command; help codes lists those of a find\n",
    values: &[],
    flags: &[],
    read: |options| match options.next_word() {
        None => Ok(What::job(All)),
        Some(word) if word == "codes" => Ok(What::job(Codes)),
        Some(word) => Ok(What::job(Of(commands::named(&word)?))),
    },
};

/// `--help`, alone or with a command; what else was given does not matter.
pub fn asked_for(options: &mut Options) -> What {
    let command = options.next_word().and_then(|word| commands::named(&word).ok());
    options.forget();
    command.map_or_else(|| What::job(All), |command| What::job(Of(command)))
}

const BEFORE: &str = "\
Lidnote: queens, due looks and yard runs.

  lidnote                        opens the window on the register last open
";

const AFTER: &str = "
HIVE is a hive's name, or YARD/HIVE where several yards have one of that name; or --hive NAME --yard NAME.
With every command: --register FILE, --on DATE (2026-11-24: the day that counts as today), --output FILE, --by INITIALS.
Exit status: 0 done, 1 refused or problems, 2 not understood. lidnote --version tells the version.
";

struct All;

impl Job for All {
    fn answer(&self, _: &Common) -> Result<Output, String> {
        let mut parts: Vec<&str> = commands::ALL.iter().map(|command| command.help).collect();
        // Commands that share a line stand beside each other.
        parts.dedup();
        Ok(Output::text([BEFORE, &parts.concat(), AFTER].concat()))
    }
}

struct Of(&'static Command);

impl Job for Of {
    fn answer(&self, _: &Common) -> Result<Output, String> {
        Ok(Output::text([self.0.help, AFTER].concat()))
    }
}

struct Codes;

impl Job for Codes {
    fn answer(&self, _: &Common) -> Result<Output, String> {
        let group = |group: HintGroup| {
            let codes = HINTS.iter().filter(|hint| hint.group == group);
            let lines = codes.map(|hint| format!("  {:<8}{}\n", hint.code, hint.words));
            format!("{}\n{}", group.words(), lines.collect::<String>())
        };
        // What moves among the rows on the screen has no meaning in a file.
        let groups = HintGroup::ALL.into_iter().filter(|group| *group != HintGroup::Rows).map(group);
        Ok(Output::text(groups.collect::<Vec<_>>().join("\n")))
    }
}

/// `--version`.
pub struct Version;

impl Job for Version {
    fn answer(&self, _: &Common) -> Result<Output, String> {
        Ok(Output::text(concat!("lidnote ", env!("CARGO_PKG_VERSION"), "\n")))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_help_of_a_command_names_every_option_of_its_own() {
        for command in commands::ALL {
            let beginning = format!("  lidnote {}", command.name);
            assert!(command.help.starts_with(&beginning) || command.name == "redo", "{}", command.help);
            // How a hive is named is said once, for all commands.
            let own = command.values.iter().chain(command.flags).filter(|name| !["hive", "yard"].contains(*name));
            for option in own {
                assert!(command.help.contains(&format!("--{option}")), "{} does not tell of --{option}", command.name);
            }
        }
    }

    #[test]
    fn help_is_given_of_one_command_whichever_way_it_is_asked_for() {
        let text = |line: &[&str]| {
            let asked = crate::app::cli::args::read(line.iter().map(Into::into)).expect("read");
            let What::Job(job) = asked.what else { panic!("an answer") };
            String::from_utf8(job.answer(&Common::default()).expect("help").bytes).expect("text")
        };
        let run = text(&["help", "run"]);
        assert!(run.starts_with("  lidnote run") && run.contains("--leave") && !run.contains("lidnote due"), "{run}");
        assert_eq!(text(&["run", "--help"]), run);
        assert_eq!(text(&["run", "--leave", "07:00", "-h"]), run);
        assert!(text(&["--help"]).contains("lidnote due"));
        assert!(text(&["help", "codes"]).contains("  e       eggs\n"));
    }
}
