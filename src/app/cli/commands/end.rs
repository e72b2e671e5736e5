//! `lidnote end`: ends colonies.

use crate::app::cli::command::{Command, Common, Job, What};
use crate::app::cli::find;
use crate::app::cli::options::Options;
use crate::app::cli::output::Output;
use crate::app::cli::session::Session;
use crate::domain::change::Change;
use crate::domain::colony::{End, EndWhy};

/// The command.
pub const END: Command = Command {
    name: "end",
    help: "  lidnote end HIVE --why WHY     (sold, died, shaken-out, destroyed, gone; --words TEXT)\n",
    values: &["why", "words", "hive", "yard"],
    flags: &[],
    read: |options| EndColonies::read(options).map(What::job),
};

struct EndColonies {
    /// `HIVE` or `YARD/HIVE`, one or several.
    hives: Vec<String>,
    why: EndWhy,
    words: String,
}

impl EndColonies {
    fn read(options: &mut Options) -> Result<Self, String> {
        let whys = [
            ("sold", EndWhy::Sold),
            ("died", EndWhy::Died),
            ("dead", EndWhy::Died),
            ("shaken-out", EndWhy::ShakenOut),
            ("destroyed", EndWhy::Destroyed),
            ("gone", EndWhy::Gone),
        ];
        Ok(Self {
            hives: options.hives("end takes hives: lidnote end B14 --why sold")?,
            why: options.one_of("why", &whys)?.ok_or("end takes --why sold, died, shaken-out, destroyed or gone")?,
            words: options.text("words").unwrap_or_default(),
        })
    }
}

impl Job for EndColonies {
    fn answer(&self, common: &Common) -> Result<Output, String> {
        let mut session = Session::open(common)?;
        let world = session.world();
        let colonies = self.hives.iter().map(|hive| find::hive(&world, hive)).collect::<Result<Vec<_>, _>>()?;
        let end = End { day: session.today, why: self.why, by: session.by.clone(), words: self.words.clone() };
        Ok(session.apply(&Change::End { colonies, end })?.said())
    }
}
