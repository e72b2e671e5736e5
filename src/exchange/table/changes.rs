//! A confirmed preview becomes one change, so that one undo takes it back.

use std::collections::BTreeMap;

use uuid::Uuid;

use crate::domain::bar::{Bar, BarOn};
use crate::domain::change::{Amendment, Change, NewVisit, Occasion};
use crate::domain::colony::{Colony, FirstQueen, Named, Stand};
use crate::domain::day::Day;
use crate::domain::ids::{BarId, ColonyId, ParcelId, QueenId, RecordId, RunId, SourceId, YardId};
use crate::domain::parcel::Parcel;
use crate::domain::queen::{Queen, Source};
use crate::domain::run_order::{RunOrder, RunStop};
use crate::domain::visit::Given;
use crate::domain::yard::Yard;
use crate::exchange::table::fates::Fate;
use crate::exchange::table::plan::{
    ByRow, First, Gave, NewFind, NewHive, NewQueen, NewRun, NewSetting, Plan, PlanAmendment, Ref,
};
use crate::exchange::table::preview::Preview;

/// The change that brings a preview in. `title` is what the history calls it; `mint` yields new ids that grow. Rows held
/// back are not in it. An import without effect has no changes in it.
pub fn changes(preview: &Preview, mint: &mut dyn FnMut() -> Uuid, title: &str) -> Change {
    let plan = &preview.plan;
    let mut making = Making::new(plan, preview.today, mint);
    let mut changes = Vec::new();
    changes.extend(plan.firm.clone().map(|firm| Change::SetFirm(Box::new(firm))));
    changes.extend(making.settings());
    making.sources(&mut changes);
    making.yards(&mut changes);
    making.parcels(&mut changes);
    making.hives(&mut changes);
    changes.extend(making.take_over());
    making.amendments(&mut changes, title);
    making.visits(&mut changes);
    making.queen_edits(&mut changes);
    making.rulings(&mut changes);
    changes.extend(making.moves());
    making.runs(&mut changes);
    making.removed_yards(&mut changes);
    changes.extend(making.lids_known());
    Change::Several { title: title.to_owned(), changes }
}

/// New ids for what is new, as they are made.
pub(super) struct Making<'a> {
    pub(super) plan: &'a Plan,
    pub(super) today: Day,
    pub(super) mint: &'a mut dyn FnMut() -> Uuid,
    pub(super) sources: Vec<SourceId>,
    pub(super) yards: Vec<YardId>,
    pub(super) parcels: Vec<ParcelId>,
    pub(super) hives: Vec<ColonyId>,
    /// Queens that go with the next change.
    pub(super) queens: Vec<Queen>,
    /// The queens whom several rows of the file tell of, by their number.
    pub(super) numbered: BTreeMap<u32, QueenId>,
    /// New queens with a dot.
    dotted: Vec<Queen>,
}

impl<'a> Making<'a> {
    pub(super) fn new(plan: &'a Plan, today: Day, mint: &'a mut dyn FnMut() -> Uuid) -> Self {
        let hives = plan.hives.iter().map(|hive| hive.known.unwrap_or_else(|| ColonyId(mint()))).collect();
        Self {
            plan,
            today,
            mint,
            sources: Vec::new(),
            yards: Vec::new(),
            parcels: Vec::new(),
            hives,
            queens: Vec::new(),
            numbered: BTreeMap::new(),
            dotted: Vec::new(),
        }
    }

    /// The settings, ordered so that the earliest, best and latest day of a window never cross on the way: what grows
    /// from the latest down, then what shrinks from the earliest up.
    fn settings(&self) -> Vec<Change> {
        let order = |new: &&NewSetting| {
            let stage = ["_earliest", "_best", "_latest"].iter().position(|end| new.name.ends_with(end));
            let stage = stage.map_or(0, |stage| stage as i32);
            (!new.grows, if new.grows { -stage } else { stage })
        };
        let mut settings: Vec<&NewSetting> = self.plan.settings.iter().collect();
        settings.sort_by_key(order);
        settings.into_iter().map(|new| Change::SetSetting { name: new.name.clone(), value: new.value }).collect()
    }

    pub(super) fn sources(&mut self, changes: &mut Vec<Change>) {
        changes.extend(self.plan.source_edits.iter().cloned().map(Change::PutSource));
        for new in &self.plan.sources {
            let id = SourceId((self.mint)());
            self.sources.push(id);
            changes.push(Change::PutSource(Source { id, name: new.name.clone(), own: new.own }));
        }
    }

    pub(super) fn yards(&mut self, changes: &mut Vec<Change>) {
        changes.extend(self.plan.yard_edits.values().map(|yard| Change::PutYard(Box::new(yard.clone()))));
        for new in &self.plan.yards {
            let id = YardId((self.mint)());
            self.yards.push(id);
            let mut yard = Yard::named(id, &new.name);
            new.facts.put_on(&mut yard);
            changes.push(Change::PutYard(Box::new(yard)));
        }
    }

    fn removed_yards(&self, changes: &mut Vec<Change>) {
        let removed = self.plan.yards.iter().zip(&self.yards).filter(|(yard, _)| yard.facts.removed);
        changes.extend(removed.map(|(_, id)| Change::RemoveYard(*id)));
        changes.extend(self.plan.gone_yards.iter().map(|(_, id)| Change::RemoveYard(*id)));
    }

    /// The file does not say what is on the lids of these hives.
    fn lids_known(&self) -> Option<Change> {
        let made = self.plan.hives.iter().zip(&self.hives).filter(|(hive, _)| !hive.taken);
        let colonies: Vec<ColonyId> = made.map(|(_, id)| *id).collect();
        (!colonies.is_empty()).then_some(Change::LidsKnown { colonies })
    }

    pub(super) fn parcels(&mut self, changes: &mut Vec<Change>) {
        for new in &self.plan.parcels {
            let id = new.instead_of.unwrap_or_else(|| ParcelId((self.mint)()));
            self.parcels.push(id);
            let source = new.source.and_then(|source| of(source, &self.sources));
            changes.push(Change::PutParcel(Parcel { id, source, ..new.parcel.clone() }));
        }
    }

    fn runs(&mut self, changes: &mut Vec<Change>) {
        for new in &self.plan.runs {
            let id = match new.fate {
                Some(Fate::Leave) => continue,
                Some(Fate::Instead(id)) => id,
                None => RunId((self.mint)()),
            };
            changes.push(Change::PutRun(self.run(new, id)));
        }
    }

    pub(super) fn run(&self, new: &NewRun, id: RunId) -> RunOrder {
        let stop = |stop: &ByRow<(_, bool)>| Some(RunStop { yard: of(stop.it.0, &self.yards)?, locked: stop.it.1 });
        let stops = new.stops.iter().filter_map(stop).collect();
        let left_out = new.left_out.iter().filter_map(|yard| of(yard.it, &self.yards)).collect();
        RunOrder { id, stops, left_out, ..new.run.clone() }
    }

    fn hives(&mut self, changes: &mut Vec<Change>) {
        let plan = self.plan;
        let made = plan.hives.iter().zip(self.hives.clone()).filter(|(hive, _)| !hive.taken);
        let colonies: Vec<Colony> = made.filter_map(|(hive, id)| self.hive(hive, id)).collect();
        if !colonies.is_empty() {
            let queens = std::mem::take(&mut self.queens);
            self.dotted.extend(queens.iter().filter(|queen| queen.dot.is_some()).cloned());
            changes.push(Change::Found { colonies, queens });
        }
    }

    pub(super) fn hive(&mut self, new: &NewHive, id: ColonyId) -> Option<Colony> {
        let yard = of(new.yard, &self.yards)?;
        let began_with = match &new.first {
            First::Unknown => FirstQueen::Unknown,
            First::Without => FirstQueen::None,
            First::Queen(queen) => FirstQueen::Recorded(self.queen(queen)),
        };
        Some(Colony {
            id,
            names: vec![Named { name: new.name.clone(), from: new.founded }],
            stands: vec![Stand { yard, spot: new.spot, from: new.founded }],
            lid: new.lid.clone(),
            founded: new.founded,
            how: new.founding,
            began_with,
            ended: new.ended.clone(),
            note: new.note.clone(),
            corrected: Vec::new(),
        })
    }

    fn queen(&mut self, new: &NewQueen) -> QueenId {
        if let Some(known) = self.plan.known.queens.get(&new.key()) {
            return *known;
        }
        if let Some(known) = new.number.and_then(|number| self.numbered.get(&number)) {
            return *known;
        }
        let id = QueenId((self.mint)());
        self.numbered.extend(new.number.map(|number| (number, id)));
        let source = new.source.and_then(|source| of(source, &self.sources));
        self.queens.push(Queen {
            id,
            birth: new.birth,
            origin: new.origin,
            source,
            dot: new.dot,
            words: new.words.clone(),
        });
        id
    }

    fn amendments(&mut self, changes: &mut Vec<Change>, title: &str) {
        for PlanAmendment { colony, record, day, visit, words } in &self.plan.amendments {
            let mut amendment = Amendment::of(*colony, *record, title, "");
            amendment.day = *day;
            amendment.visit = visit.clone().map(Box::new);
            amendment.words.clone_from(words);
            changes.push(Change::Amend(Box::new(amendment)));
        }
    }

    fn visits(&mut self, changes: &mut Vec<Change>) {
        let visits: Vec<NewVisit> = self.plan.visits.iter().filter_map(|new| self.visit(new)).collect();
        if visits.is_empty() {
            return;
        }
        let queens = std::mem::take(&mut self.queens);
        // A dot given on one of these visits is the dot of then; the queen's own cells say what she wears now.
        let marked = visits.iter().any(|visit| visit.visit.did.marked.is_some());
        self.dotted.extend(queens.iter().filter(|queen| queen.dot.is_some()).cloned());
        changes.push(Change::Visits { occasion: Occasion::Find, visits, queens });
        if marked {
            let dotted = std::mem::take(&mut self.dotted);
            changes.extend(dotted.into_iter().map(|queen| Change::PutQueen(Box::new(queen))));
        }
    }

    fn visit(&mut self, new: &NewFind) -> Option<NewVisit> {
        let colony = of(new.hive, &self.hives)?;
        let mut visit = new.visit.clone();
        visit.lids_swapped = new.swap.and_then(|swap| of(swap, &self.hives));
        visit.gave = new.gave.as_ref().map(|gave| Given { against_bar: None, ..self.given(gave) });
        let record = RecordId((self.mint)());
        Some(NewVisit { record, colony, day: new.day, by: new.by.clone(), words: new.words.clone(), visit })
    }

    pub(super) fn given(&mut self, new: &Gave) -> Given {
        Given {
            method: new.method,
            queen: self.queen(&new.queen),
            parcel: new.parcel.and_then(|parcel| of(parcel, &self.parcels)),
            old_queen: new.old_queen,
            emerged: new.emerged,
            cells: new.cells,
            against_bar: new.against_bar.clone(),
        }
    }

    fn queen_edits(&mut self, changes: &mut Vec<Change>) {
        for edit in self.plan.queens.values() {
            let mut queen = edit.queen.clone();
            if let Some(source) = edit.source {
                queen.source = of(source, &self.sources);
            }
            changes.push(Change::PutQueen(Box::new(queen)));
        }
    }

    fn rulings(&mut self, changes: &mut Vec<Change>) {
        for new in &self.plan.answers {
            let Some(colony) = of(new.hive, &self.hives) else { continue };
            let (record, day, by) = (RecordId((self.mint)()), new.day, new.by.clone());
            changes.push(match new.which {
                Some(which) => Change::Answer { colony, record, day, which, by },
                None => Change::LiftFoundBar { colony, record, day, why: new.why.clone(), by },
            });
        }
        for new in self.plan.bars.iter().filter(|new| !self.plan.is_taken(new.hive)) {
            let on = match new.hive {
                Some(hive) => of(hive, &self.hives).map(BarOn::Colony),
                None => of(new.yard, &self.yards).map(BarOn::Yard),
            };
            let Some(on) = on else { continue };
            let id = new.instead_of.unwrap_or_else(|| BarId((self.mint)()));
            changes.push(Change::PutBar(Bar { id, on, ..new.bar.clone() }));
        }
    }

    fn moves(&self) -> Option<Change> {
        let plan = self.plan;
        let to: Vec<_> = plan.moves.iter().map(|(colony, yard, spot)| (*colony, *yard, Some(*spot))).collect();
        (!to.is_empty()).then_some(Change::Move { to, day: self.today })
    }
}

/// The id of a thing that was there, or of one that is new.
pub(super) fn of<T: Copy>(reference: Ref<T>, new: &[T]) -> Option<T> {
    match reference {
        Ref::Old(id) => Some(id),
        Ref::New(at) => new.get(at).copied(),
    }
}
