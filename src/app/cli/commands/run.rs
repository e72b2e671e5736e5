//! `lidnote run`: plans the day's run.

use uuid::Uuid;

use crate::app::cli::command::{Command, Common, Job, What};
use crate::app::cli::find;
use crate::app::cli::options::Options;
use crate::app::cli::output::Output;
use crate::app::cli::session::View;
use crate::app::{ground, outputs};
use crate::domain::day::Day;
use crate::domain::ids::{RunId, YardId};
use crate::domain::run_order::RunOrder;
use crate::domain::world::World;
use crate::planner::run::lights::Lights;
use crate::planner::run::load::cautions;
use crate::planner::run::plan::{clock, plan};
use crate::planner::run::propose::propose;
use crate::planner::run::solver::problem::Proof;
use crate::print::job::Paper;

/// The command.
pub const RUN: Command = Command {
    name: "run",
    help: "  lidnote run                    the day's run (--format csv|gpx|ics|pdf)
      --base=LAT,LON|YARD        where it begins; without it the home place
      --leave HH:MM              when it leaves
      --yards=A,B,C              exactly these yards instead of those with due work
      --letter                   run sheet on Letter paper instead of A4
",
    values: &["format", "base", "leave", "yards"],
    flags: &["letter"],
    read: |options| Run::read(options).map(What::job),
};

#[derive(Clone, Copy, Debug, PartialEq)]
enum Format {
    Csv,
    Gpx,
    Ics,
    Pdf,
}

#[derive(Debug, PartialEq)]
struct Run {
    format: Format,
    /// `LAT,LON` or a yard's name.
    base: Option<String>,
    /// Minutes since midnight.
    leave: Option<u16>,
    /// Exactly these.
    yards: Option<Vec<String>>,
    letter: bool,
}

impl Run {
    fn read(options: &mut Options) -> Result<Self, String> {
        let formats = [
            ("csv", Format::Csv),
            ("gpx", Format::Gpx),
            ("ics", Format::Ics),
            ("icalendar", Format::Ics),
            ("pdf", Format::Pdf),
        ];
        let format = options.one_of("format", &formats)?.unwrap_or(Format::Csv);
        let letter = options.flag("letter");
        if letter && format != Format::Pdf {
            return Err("--letter is for --format pdf. Give both, or neither".to_owned());
        }
        Ok(Self {
            format,
            base: options.text("base"),
            leave: options.text("leave").map(|text| minute(&text)).transpose()?,
            yards: options.text("yards").map(|text| names(&text)).transpose()?,
            letter,
        })
    }
}

fn names(text: &str) -> Result<Vec<String>, String> {
    let names: Vec<String> =
        text.split(',').map(|name| name.trim().to_owned()).filter(|name| !name.is_empty()).collect();
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

impl Job for Run {
    fn answer(&self, common: &Common) -> Result<Output, String> {
        let View { world, outlook, today, now, .. } = View::read(common)?;
        let base = find::base(&world, self.base.as_deref())?;
        let named =
            |names: &Vec<String>| names.iter().map(|name| find::yard(&world, name)).collect::<Result<Vec<_>, _>>();
        let yards = self.yards.as_ref().map(named).transpose()?;
        let within_day = yards.is_none();
        let asked_run = outputs::run_through(&world, &outlook, run_of(today), today, base, self.leave, yards);
        let mut lights = Lights::default();
        let proposal = propose(&world, &outlook, &asked_run, within_day, &mut lights, &|| false);
        let proposal = proposal.map_err(|error| error.to_string())?;
        let planned = plan(&world, &outlook, &proposal.run, &mut lights).map_err(|error| error.to_string())?;
        let mut output = match self.format {
            Format::Csv => Output::text(outputs::run_as_csv(&world, &planned)),
            Format::Gpx => Output::text(outputs::run_as_gpx(&world, &planned)),
            Format::Ics => Output::text(outputs::run_as_ics(&world, &planned, today, now)),
            Format::Pdf => {
                let paper = if self.letter || world.settings.letter_paper() == 1 { Paper::Letter } else { Paper::A4 };
                let ground = ground::without_window(&world, &planned.run);
                Output::pdf(outputs::run_as_pdf(&world, &outlook, &planned, paper, &ground, today)?)
            }
        };
        let proof = match proposal.proof {
            Proof::Shortest => "Order proven shortest",
            Proof::Heuristic => "A good order found by trying, not proven shortest",
        };
        say_left_out(&mut output, &world, &asked_run, &proposal.left_out);
        if planned.stops.is_empty() {
            let nothing = "No yard has work to do that day. --yards=A,B,C names yards all the same";
            output.say(if asked_run.stops.is_empty() { nothing } else { "No stop is left" });
            return Ok(output);
        }
        output.say(format!(
            "{proof}. {}, back {}, {}. Times are an estimate: straight line times {} at {}",
            if planned.stops.len() == 1 { "1 stop".to_owned() } else { format!("{} stops", planned.stops.len()) },
            clock(planned.back),
            world.settings.distance_words(planned.metres),
            world.settings.road_factor(),
            world.settings.speed_words()
        ));
        for caution in cautions(&world, &planned).iter().filter(|caution| caution.forbids) {
            output.say(format!("Caution: {} {}", caution.fact, caution.then));
        }
        Ok(output)
    }
}

/// The run of a day keeps its id, so that a calendar replaces its events when they are brought in again.
fn run_of(day: Day) -> RunId {
    RunId(Uuid::from_u128(day.number().unsigned_abs().into()))
}

/// Says which yards are left out, those of one reason together.
fn say_left_out(output: &mut Output, world: &World, asked: &RunOrder, left_out: &[(YardId, String)]) {
    let unknown = asked.stops.iter().filter(|stop| world.yards.get(&stop.yard).is_some_and(|it| it.place.is_none()));
    let unknown = unknown.map(|stop| (stop.yard, "Its place is not known; give it one on the map"));
    let mut reasons: Vec<(&str, Vec<&str>)> = Vec::new();
    for (yard, why) in left_out.iter().map(|(yard, why)| (*yard, why.as_str())).chain(unknown) {
        let name = world.yards.get(&yard).map_or("", |yard| yard.name.as_str());
        match reasons.iter_mut().find(|(reason, _)| *reason == why) {
            Some((_, names)) => names.push(name),
            None => reasons.push((why, vec![name])),
        }
    }
    for (why, names) in reasons {
        let count = if names.len() == 1 { String::new() } else { format!(" {} yards:", names.len()) };
        output.say(format!("Left out:{count} {}. {why}", names.join(", ")));
        output.problems = true;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn yards_the_hour_and_the_base_are_read() {
        let run = |words: &[&str]| Run::read(&mut Options::gather(words.iter().map(Into::into)).expect("read"));
        let read = run(&["--yards=Mill Race, Limekiln,", "--leave", "07:30", "--base=-40.1,160.2"]).expect("read");
        assert_eq!(read.yards, Some(vec!["Mill Race".to_owned(), "Limekiln".to_owned()]));
        assert_eq!((read.leave, read.base.as_deref()), (Some(450), Some("-40.1,160.2")));
        for hour in ["24:00", "7", "7:60", "noon"] {
            assert!(run(&["--leave", hour]).is_err_and(|words| words.contains("--leave takes a time")), "{hour}");
        }
    }
}
