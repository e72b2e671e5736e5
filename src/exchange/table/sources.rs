//! Sources and settings of a file.

use std::collections::BTreeMap;

use crate::domain::fold_text::fold;
use crate::domain::ids::SourceId;
use crate::domain::queen::Source;
use crate::domain::settings::Settings;
use crate::exchange::table::entry::Entry;
use crate::exchange::table::headings::Field;
use crate::exchange::table::judge::{Judge, Verdict};
use crate::exchange::table::near::nearest;
use crate::exchange::table::plan::{NewSetting, NewSource, Ref};
use crate::exchange::table::preview::{Existing, Problem, Will};

impl Judge<'_> {
    pub(super) fn source_alone(&mut self, entry: &mut Entry) -> Will {
        let own = entry.own_line.unwrap_or(false);
        match self.sources.get(&fold(&entry.queen.source)) {
            Some(Ref::Old(id)) => {
                let known = self.world.sources.get(id);
                match known.filter(|known| entry.own_line.is_some_and(|own| known.own != own)) {
                    Some(known) if self.options.existing == Existing::Update => {
                        self.plan.source_edits.push(Source { own, ..known.clone() });
                        Will::Change
                    }
                    _ => Will::Same,
                }
            }
            Some(Ref::New(_)) => Will::Same,
            None => {
                self.settle_source(entry);
                if let Some(new) = self.plan.sources.last_mut() {
                    new.own = own;
                }
                Will::Add
            }
        }
    }

    pub(super) fn setting(&mut self, entry: &Entry) -> Verdict {
        let Some((name, value)) = &entry.setting else {
            return Err(Problem::new(Field::Value, "No value is given", "Give one"));
        };
        let fault = |error: String| Problem::new(Field::Setting, error, "Correct its name or value");
        let next = self.world.settings.with(name, *value).map_err(|error| fault(error.to_string()))?;
        if next == Settings::clone(&self.world.settings) {
            return Ok(Will::Same);
        }
        if self.options.existing == Existing::Skip {
            return Ok(Will::Same);
        }
        let grows = self.world.settings.get(name).is_some_and(|held| *value > held);
        self.plan.settings.push(NewSetting { name: name.clone(), value: *value, grows });
        Ok(Will::Change)
    }

    /// The source a row names; a new one is added, with a hint where its name is near another.
    pub(super) fn settle_source(&mut self, entry: &mut Entry) -> Option<Ref<SourceId>> {
        let name = &entry.queen.source;
        let folded = fold(name);
        if folded.is_empty() {
            return None;
        }
        if let Some(known) = self.sources.get(&folded) {
            return Some(*known);
        }
        if !entry.exact {
            let known: BTreeMap<String, &str> =
                self.sources.iter().map(|(folded, source)| (folded.clone(), self.source_name(*source))).collect();
            let hint = nearest(&folded, &known).map(|near| format!(". Did you mean {near}?")).unwrap_or_default();
            entry.notes.push(Problem::new(Field::Source, format!("New source: {name}{hint}"), ""));
        }
        let made = Ref::New(self.plan.sources.len());
        self.plan.sources.push(NewSource { name: name.clone(), own: entry.own_line.unwrap_or(false) });
        self.sources.insert(folded, made);
        Some(made)
    }

    pub(super) fn source_name(&self, source: Ref<SourceId>) -> &str {
        match source {
            Ref::Old(id) => self.world.sources.get(&id).map_or("", |source| &source.name),
            Ref::New(at) => self.plan.sources.get(at).map_or("", |source| &source.name),
        }
    }
}
