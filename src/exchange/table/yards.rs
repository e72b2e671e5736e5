//! Yards of a file against those of the register.

use std::collections::BTreeMap;

use crate::domain::fold_text::fold;
use crate::domain::ids::YardId;
use crate::domain::yard::Yard;
use crate::exchange::table::entry::{Entry, Kind, YardFacts};
use crate::exchange::table::headings::Field;
use crate::exchange::table::judge::{Judge, Verdict};
use crate::exchange::table::near::nearest;
use crate::exchange::table::plan::{NewYard, Ref};
use crate::exchange::table::preview::{Existing, Problem, Will};

impl YardFacts {
    /// Puts what is said on a yard; what is not said stays.
    pub(super) fn put_on(&self, yard: &mut Yard) {
        yard.place = self.place.or(yard.place);
        yard.gate = self.gate.or(yard.gate);
        yard.minutes = self.minutes.or(yard.minutes);
        yard.layout = self.layout.unwrap_or(yard.layout);
        if !self.hazards.is_empty() {
            yard.hazards.clone_from(&self.hazards);
        }
        for (said, field) in
            [(&self.access, &mut yard.access), (&self.group, &mut yard.hygiene_group), (&self.note, &mut yard.note)]
        {
            if !said.is_empty() {
                field.clone_from(said);
            }
        }
    }

    /// The first field in which a yard with these facts put on would differ from the yard.
    fn differs_from(&self, yard: &Yard) -> Option<Field> {
        let mut after = yard.clone();
        self.put_on(&mut after);
        first_difference(yard, &after)
    }
}

fn first_difference(one: &Yard, other: &Yard) -> Option<Field> {
    let fields = [
        (one.place != other.place, Field::Latitude),
        (one.gate != other.gate, Field::GateOpens),
        (one.minutes != other.minutes, Field::Minutes),
        (one.access != other.access, Field::Access),
        (one.hazards != other.hazards, Field::Hazards),
        (one.hygiene_group != other.hygiene_group, Field::Group),
        (one.layout != other.layout, Field::Layout),
        (one.note != other.note, Field::Note),
    ];
    fields.into_iter().find(|(differs, _)| *differs).map(|(_, field)| field)
}

/// The facts only say what is not known of the yard yet.
fn only_fills(yard: &Yard, facts: &YardFacts) -> bool {
    let text = |held: &str, said: &str| held.is_empty() || said.is_empty() || held == said;
    (yard.place.is_none() || facts.place.is_none_or(|place| yard.place == Some(place)))
        && (yard.gate.is_none() || facts.gate.is_none_or(|gate| yard.gate == Some(gate)))
        && (yard.minutes.is_none() || facts.minutes.is_none_or(|minutes| yard.minutes == Some(minutes)))
        && (yard.hazards.is_empty() || facts.hazards.is_empty() || yard.hazards == facts.hazards)
        && facts.layout.is_none_or(|layout| yard.layout == layout)
        && text(&yard.access, &facts.access)
        && text(&yard.hygiene_group, &facts.group)
        && text(&yard.note, &facts.note)
}

impl Judge<'_> {
    /// The yard of a row, added or changed where need be. A row that contradicts an earlier one is a problem.
    pub(super) fn settle_yard(&mut self, entry: &Entry) -> Result<Ref<YardId>, Problem> {
        let folded = fold(&entry.yard);
        let Some(&yard) = self.yards.get(&folded) else {
            let made = Ref::New(self.plan.yards.len());
            self.plan.yards.push(NewYard { name: entry.yard.clone(), facts: entry.facts.clone() });
            self.yards.insert(folded, made);
            self.note_said(entry, made, &Yard::named(YardId::from_number(0), ""));
            return Ok(made);
        };
        match yard {
            Ref::New(at) => {
                let Some(held) = self.plan.yards.get(at) else { return Ok(yard) };
                let mut before = Yard::named(YardId::from_number(0), &held.name);
                held.facts.put_on(&mut before);
                self.refuse_contradiction(entry, yard, &before)?;
                self.note_said(entry, yard, &before);
                if let Some(held) = self.plan.yards.get_mut(at) {
                    held.facts.add(&entry.facts);
                }
            }
            Ref::Old(id) => self.settle_known_yard(entry, id)?,
        }
        Ok(yard)
    }

    fn settle_known_yard(&mut self, entry: &Entry, id: YardId) -> Result<(), Problem> {
        let Some(before) = self.plan.yard_edits.get(&id).or(self.world.yards.get(&id).map(AsRef::as_ref)).cloned()
        else {
            return Ok(());
        };
        let renamed = entry.kind == Kind::Yard && !entry.facts.removed && fold(&entry.yard) != fold(&before.name);
        let differs = entry.facts.differs_from(&before).or(renamed.then_some(Field::Yard));
        let Some(field) = differs else { return Ok(()) };
        match self.options.existing {
            Existing::Skip => Ok(()),
            Existing::Ask if renamed || !only_fills(&before, &entry.facts) => {
                let fact = format!("{} is in the register with another {}", before.name, field_words(field));
                Err(Problem::new(field, fact, "Choose to skip or to update what is there already"))
            }
            // What the register does not know yet is filled in without asking.
            Existing::Ask | Existing::Update => {
                self.refuse_contradiction(entry, Ref::Old(id), &before)?;
                self.note_said(entry, Ref::Old(id), &before);
                let mut after = before;
                entry.facts.put_on(&mut after);
                if renamed {
                    after.name.clone_from(&entry.yard);
                }
                self.plan.yard_edits.insert(id, after);
                self.yard_changes += 1;
                Ok(())
            }
        }
    }

    /// Two rows of the file that say different things of one yard.
    fn refuse_contradiction(&self, entry: &Entry, yard: Ref<YardId>, before: &Yard) -> Result<(), Problem> {
        let mut after = before.clone();
        entry.facts.put_on(&mut after);
        let Some(field) = first_difference(before, &after) else { return Ok(()) };
        match self.said_in.get(&(yard, field)) {
            Some(row) => {
                let fact = format!("{} has another {} in row {row}", entry.yard, field_words(field));
                Err(Problem::new(field, fact, "Correct one of the two rows"))
            }
            None => Ok(()),
        }
    }

    /// Keeps in which row each thing of a yard was first said.
    fn note_said(&mut self, entry: &Entry, yard: Ref<YardId>, before: &Yard) {
        let mut held = before.clone();
        let mut after = before.clone();
        entry.facts.put_on(&mut after);
        while let Some(field) = first_difference(&held, &after) {
            self.said_in.entry((yard, field)).or_insert(entry.number);
            match field {
                Field::Latitude => held.place = after.place,
                Field::GateOpens => held.gate = after.gate,
                Field::Minutes => held.minutes = after.minutes,
                Field::Access => held.access.clone_from(&after.access),
                Field::Hazards => held.hazards.clone_from(&after.hazards),
                Field::Group => held.hygiene_group.clone_from(&after.hygiene_group),
                Field::Layout => held.layout = after.layout,
                _ => held.note.clone_from(&after.note),
            }
        }
    }

    /// A row that names a yard and no hive.
    pub(super) fn yard_alone(&mut self, entry: &mut Entry) -> Verdict {
        let known = self.yards.get(&fold(&entry.yard)).copied();
        if let Some(Ref::Old(id)) = known.filter(|_| entry.facts.removed) {
            let here = self.world.yards.contains_key(&id);
            self.plan.gone_yards.extend(here.then_some((entry.number, id)));
            return Ok(Will::Same);
        }
        let (changes, before) = (self.yard_changes, self.facts_of_new(known));
        if known.is_none() && !entry.exact {
            self.hint_near_yard(entry);
        }
        let yard = self.settle_yard(entry)?;
        self.touched.extend((self.yard_changes > changes || known.is_none()).then_some(yard));
        Ok(match known {
            None => Will::Add,
            Some(Ref::Old(_)) if self.yard_changes > changes => Will::Change,
            Some(Ref::New(_)) if self.facts_of_new(known) != before => Will::Add,
            Some(_) => Will::Same,
        })
    }

    fn facts_of_new(&self, yard: Option<Ref<YardId>>) -> Option<YardFacts> {
        match yard {
            Some(Ref::New(at)) => self.plan.yards.get(at).map(|yard| yard.facts.clone()),
            _ => None,
        }
    }

    /// Holds a row back whose yard is new and named nearly like another, unless it is confirmed, gives its own place,
    /// or comes so often that it is no slip.
    pub(super) fn near_yard(&mut self, entry: &Entry) -> Result<(), Problem> {
        let folded = fold(&entry.yard);
        let rows = self.yard_rows.get(&folded).map_or(0, |(rows, _)| *rows);
        let confirmed = self.options.corrections.contains_key(&(entry.number, Field::Yard));
        if self.yards.contains_key(&folded) || rows > 2 || confirmed || entry.exact || entry.facts.place.is_some() {
            return Ok(());
        }
        if !self.near_yards.contains_key(&folded) {
            let near = self.nearest_yard(&folded, rows);
            self.near_yards.insert(folded.clone(), near);
        }
        match self.near_yards.get(&folded).and_then(Option::as_ref) {
            Some(near) => Err(Problem::new(
                Field::Yard,
                format!("No yard of this name. {near}?"),
                "Correct the name, confirm it as it is, or give the new yard a latitude and longitude",
            )),
            None => Ok(()),
        }
    }

    fn nearest_yard(&self, folded: &str, rows: u32) -> Option<String> {
        let mut known: BTreeMap<String, &str> =
            self.world.yards.values().map(|yard| (fold(&yard.name), yard.name.as_str())).collect();
        for (name, (count, written)) in &self.yard_rows {
            // A yard of the file counts only where it is plainly the one meant.
            if *count > rows * 2 {
                known.entry(name.clone()).or_insert(written);
            }
        }
        nearest(folded, &known).map(str::to_owned)
    }

    fn hint_near_yard(&self, entry: &mut Entry) {
        let known = self.world.yards.values().map(|yard| (fold(&yard.name), yard.name.as_str())).collect();
        if let Some(near) = nearest(&fold(&entry.yard), &known) {
            entry.notes.push(Problem::new(Field::Yard, format!("New yard. Did you mean {near}?"), ""));
        }
    }
}

impl YardFacts {
    /// Adds what another row says of the same yard.
    fn add(&mut self, more: &Self) {
        let mut yard = Yard::named(YardId::from_number(0), "");
        self.put_on(&mut yard);
        more.put_on(&mut yard);
        let layout = more.layout.or(self.layout);
        *self = Self {
            place: yard.place,
            gate: yard.gate,
            minutes: yard.minutes,
            access: yard.access,
            hazards: yard.hazards,
            group: yard.hygiene_group,
            layout,
            note: yard.note,
            removed: self.removed,
        };
    }
}

fn field_words(field: Field) -> &'static str {
    match field {
        Field::Latitude => "place",
        Field::GateOpens => "gate",
        Field::Yard => "name",
        field => field.name(),
    }
}
