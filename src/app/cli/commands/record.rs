//! `lidnote record`: records an evening's results from a file.

use std::path::PathBuf;

use crate::app::cli::command::{Command, Common, Job, What};
use crate::app::cli::commands::import::row_said;
use crate::app::cli::output::Output;
use crate::app::cli::session::{Did, Session, mint};
use crate::app::files;
use crate::domain::change::Change;
use crate::domain::in_hand::draw::{Hand, drawn_words};
use crate::domain::world::World;
use crate::exchange::results::{self, Refused};
use crate::exchange::table::headings::Field;

/// The command.
pub const RECORD: Command = Command {
    name: "record",
    help: "  lidnote record FILE            records results (CSV: yard, hive, date, find, words, by; help codes lists the finds)\n",
    values: &[],
    flags: &[],
    read: |options| {
        Ok(What::job(RecordResults { file: options.word("record takes a file: lidnote record evening.csv")?.into() }))
    },
};

struct RecordResults {
    file: PathBuf,
}

impl Job for RecordResults {
    fn answer(&self, common: &Common) -> Result<Output, String> {
        let bytes = files::read(&self.file)?;
        let mut session = Session::open(common)?;
        let world = session.world();
        let read = results::read(&bytes, None, &session.by, &world, session.today, &mut mint);
        let name = self.file.display().to_string();
        match read {
            Ok(change) => match session.apply(&change).map_err(|words| format!("{name}: {words}"))? {
                did @ Did::Recorded(..) => {
                    let mut output = did.said();
                    if let Some(words) = given_out(&session.world(), &change) {
                        output.say(format!("Given: {words}"));
                    }
                    Ok(output)
                }
                Did::Nothing => Ok(Did::Nothing.said()),
            },
            Err(Refused::File(unreadable)) => Err(format!("{name}: {unreadable}")),
            Err(Refused::Rows(problems)) => {
                let mut output = Output { problems: true, ..Output::default() };
                for (row, problem) in &problems {
                    let field = match problem.field {
                        Some(Field::LastLook) => Some("date"),
                        Some(Field::Found) => Some("find"),
                        other => other.map(Field::name),
                    };
                    output.say(row_said(&name, *row, field, problem));
                }
                output.say(format!("{name}: nothing was recorded. Mend the rows and record it again"));
                Ok(output)
            }
        }
    }
}

/// Out of which parcels an evening's queens came: the rule chooses where no row says it.
fn given_out(after: &World, change: &Change) -> Option<String> {
    let Change::Visits { visits, .. } = change else { return None };
    let gave = visits.iter().filter_map(|new| new.visit.gave.as_ref());
    let drawn: Vec<_> = gave.map(|gave| (gave.parcel, gave.cells)).collect();
    drawn_words(&mut Hand::of(after), &drawn)
}
