//! A confirmed preview becomes one change, so that one undo takes it back.

use uuid::Uuid;

use crate::domain::bar::{Bar, BarOn};
use crate::domain::change::{Amendment, Change, NewVisit, Occasion};
use crate::domain::colony::{Colony, FirstQueen, Lid, Named, Stand};
use crate::domain::ids::{BarId, ColonyId, QueenId, RecordId, SourceId, YardId};
use crate::domain::queen::{Queen, Source};
use crate::domain::visit::Given;
use crate::domain::yard::Yard;
use crate::exchange::table::plan::{First, Gave, NewFind, NewHive, NewQueen, PlanAmendment, Ref};
use crate::exchange::table::preview::Preview;

/// The change that brings a preview in. `title` is what the history calls it; `mint` yields new ids that grow. Rows held
/// back are not in it. An import without effect has no changes in it.
pub fn changes(preview: &Preview, mint: &mut dyn FnMut() -> Uuid, title: &str) -> Change {
    let mut making = Making {
        preview,
        mint,
        sources: Vec::new(),
        yards: Vec::new(),
        hives: Vec::new(),
        queens: Vec::new(),
        dotted: Vec::new(),
    };
    let mut changes = Vec::new();
    let plan = &preview.plan;
    changes.extend(plan.settings.iter().map(|(name, value)| Change::SetSetting { name: name.clone(), value: *value }));
    making.sources(&mut changes);
    making.yards(&mut changes);
    making.hives(&mut changes);
    making.amendments(&mut changes, title);
    making.visits(&mut changes);
    making.queen_edits(&mut changes);
    making.rulings(&mut changes);
    if let Some(to) = making.moves() {
        changes.push(to);
    }
    if !making.hives.is_empty() {
        changes.push(Change::LidsKnown { colonies: making.hives });
    }
    Change::Several { title: title.to_owned(), changes }
}

struct Making<'a> {
    preview: &'a Preview,
    mint: &'a mut dyn FnMut() -> Uuid,
    sources: Vec<SourceId>,
    yards: Vec<YardId>,
    hives: Vec<ColonyId>,
    queens: Vec<Queen>,
    /// New queens with a dot.
    dotted: Vec<Queen>,
}

impl Making<'_> {
    fn sources(&mut self, changes: &mut Vec<Change>) {
        changes.extend(self.preview.plan.source_edits.iter().cloned().map(Change::PutSource));
        for new in &self.preview.plan.sources {
            let id = SourceId((self.mint)());
            self.sources.push(id);
            changes.push(Change::PutSource(Source { id, name: new.name.clone(), own: new.own }));
        }
    }

    fn yards(&mut self, changes: &mut Vec<Change>) {
        changes.extend(self.preview.plan.yard_edits.values().map(|yard| Change::PutYard(Box::new(yard.clone()))));
        for new in &self.preview.plan.yards {
            let id = YardId((self.mint)());
            self.yards.push(id);
            let mut yard = Yard::named(id, &new.name);
            new.facts.put_on(&mut yard);
            changes.push(Change::PutYard(Box::new(yard)));
        }
    }

    fn hives(&mut self, changes: &mut Vec<Change>) {
        let plan = &self.preview.plan;
        let colonies: Vec<Colony> = plan.hives.iter().filter_map(|hive| self.hive(hive)).collect();
        if !colonies.is_empty() {
            let queens = std::mem::take(&mut self.queens);
            self.dotted.extend(queens.iter().filter(|queen| queen.dot.is_some()).cloned());
            changes.push(Change::Found { colonies, queens });
        }
    }

    fn hive(&mut self, new: &NewHive) -> Option<Colony> {
        let id = ColonyId((self.mint)());
        self.hives.push(id);
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
            lid: Lid::default(),
            founded: new.founded,
            how: new.founding,
            began_with,
            ended: new.ended.clone(),
            note: new.note.clone(),
            corrected: Vec::new(),
        })
    }

    fn queen(&mut self, new: &NewQueen) -> QueenId {
        let id = QueenId((self.mint)());
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
        for PlanAmendment { colony, record, day, visit, words } in &self.preview.plan.amendments {
            let mut amendment = Amendment::of(*colony, *record, title, "");
            amendment.day = *day;
            amendment.visit = visit.clone().map(Box::new);
            amendment.words.clone_from(words);
            changes.push(Change::Amend(Box::new(amendment)));
        }
    }

    fn visits(&mut self, changes: &mut Vec<Change>) {
        let visits: Vec<NewVisit> = self.preview.plan.visits.iter().filter_map(|new| self.visit(new)).collect();
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
        if let Some(Gave { method, queen, old_queen, emerged, cells }) = &new.gave {
            visit.gave = Some(Given {
                method: *method,
                queen: self.queen(queen),
                parcel: None,
                old_queen: *old_queen,
                emerged: *emerged,
                cells: *cells,
                against_bar: None,
            });
        }
        let record = RecordId((self.mint)());
        Some(NewVisit { record, colony, day: new.day, by: new.by.clone(), words: new.words.clone(), visit })
    }

    fn queen_edits(&mut self, changes: &mut Vec<Change>) {
        for edit in self.preview.plan.queens.values() {
            let mut queen = edit.queen.clone();
            if let Some(source) = edit.source {
                queen.source = of(source, &self.sources);
            }
            changes.push(Change::PutQueen(Box::new(queen)));
        }
    }

    fn rulings(&mut self, changes: &mut Vec<Change>) {
        for new in &self.preview.plan.answers {
            let Some(colony) = of(new.hive, &self.hives) else { continue };
            let (record, day, by) = (RecordId((self.mint)()), new.day, new.by.clone());
            changes.push(match new.which {
                Some(which) => Change::Answer { colony, record, day, which, by },
                None => Change::LiftFoundBar { colony, record, day, why: new.why.clone(), by },
            });
        }
        for new in &self.preview.plan.bars {
            let on = match new.hive {
                Some(hive) => of(hive, &self.hives).map(BarOn::Colony),
                None => of(new.yard, &self.yards).map(BarOn::Yard),
            };
            let Some(on) = on else { continue };
            changes.push(Change::PutBar(Bar { id: BarId((self.mint)()), on, ..new.bar.clone() }));
        }
    }

    fn moves(&self) -> Option<Change> {
        let plan = &self.preview.plan;
        let to: Vec<_> = plan.moves.iter().map(|(colony, yard, spot)| (*colony, *yard, Some(*spot))).collect();
        (!to.is_empty()).then_some(Change::Move { to, day: self.preview.today })
    }
}

fn of<T: Copy>(reference: Ref<T>, new: &[T]) -> Option<T> {
    match reference {
        Ref::Old(id) => Some(id),
        Ref::New(at) => new.get(at).copied(),
    }
}
