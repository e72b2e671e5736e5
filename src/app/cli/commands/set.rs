//! `lidnote set`: shows the numbers of the rules, or sets one.

use crate::app::cli::command::{Command, Common, Job, What};
use crate::app::cli::options::Options;
use crate::app::cli::output::Output;
use crate::app::cli::session::{Did, Session, View};
use crate::domain::change::Change;
use crate::domain::settings::{SPECS, Spec, spec};

/// The command.
pub const SET: Command = Command {
    name: "set",
    help: "  lidnote set [NAME VALUE]       a number of the rules; NAME alone shows it, set alone lists all\n",
    values: &[],
    flags: &[],
    read: |options| Set::read(options).map(What::job),
};

#[derive(Debug, PartialEq)]
enum Set {
    /// Nothing is named: all are listed.
    List,
    /// A name: that one is shown.
    Show(String),
    /// A name and a value.
    To(String, f64),
}

impl Set {
    fn read(options: &mut Options) -> Result<Self, String> {
        let Some(name) = options.next_word() else { return Ok(Self::List) };
        let Some(value) = options.next_word() else { return Ok(Self::Show(name)) };
        let number = value.replace(',', ".").parse();
        let number = number
            .map_err(|_| format!("{value} is not a number; set takes a name and a value: lidnote set speed 70"))?;
        Ok(Self::To(name, number))
    }
}

impl Job for Set {
    fn answer(&self, common: &Common) -> Result<Output, String> {
        let specs: Vec<&Spec> = match self {
            Self::To(name, value) => {
                known(name)?;
                let mut session = Session::open(common)?;
                let change = Change::SetSetting { name: name.clone(), value: *value };
                return session.apply(&change).map(Did::said).map_err(|words| with_names(&words));
            }
            Self::Show(name) => vec![known(name)?],
            Self::List => SPECS.iter().collect(),
        };
        let world = View::read(common)?.world;
        let line = |spec: &&Spec| {
            let now = world.settings.get(spec.name).unwrap_or(spec.default);
            format!(
                "{} {} ({}; default {}). {}. {}\n",
                spec.name, now, spec.unit, spec.default, spec.about, spec.source
            )
        };
        Ok(Output::text(specs.iter().map(line).collect::<String>()))
    }
}

/// Behind the words of a setting, the name by which it is set here.
fn with_names(words: &str) -> String {
    SPECS.iter().fold(words.to_owned(), |words, spec| {
        let about = format!("“{}”", spec.about);
        words.replace(&about, &format!("{about} ({})", spec.name))
    })
}

fn known(name: &str) -> Result<&'static Spec, String> {
    spec(name).ok_or_else(|| format!("No setting is called {name}. `lidnote set` alone lists them"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_may_be_below_zero_and_have_a_comma() {
        let set = |words: &[&str]| Set::read(&mut Options::gather(words.iter().map(Into::into)).expect("read"));
        assert_eq!(set(&["speed", "72,5"]), Ok(Set::To("speed".to_owned(), 72.5)));
        assert_eq!(set(&["utc_offset", "-300"]), Ok(Set::To("utc_offset".to_owned(), -300.0)));
        assert_eq!(set(&["speed"]), Ok(Set::Show("speed".to_owned())));
        assert!(set(&["speed", "fast"]).is_err_and(|words| words.contains("fast is not a number")));
    }
}
