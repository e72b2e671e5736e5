//! A small world that grows by decided changes, as a user's does.

use lidnote::domain::change::{Amendment, Change, NewVisit, Occasion};
use lidnote::domain::colony::{Colony, FirstQueen, Founding, Lid, Named, Stand};
use lidnote::domain::day::Day;
use lidnote::domain::decide::decide;
use lidnote::domain::fact::Fact;
use lidnote::domain::grammar::codes::parse;
use lidnote::domain::grammar::resolve::{Choice, resolve};
use lidnote::domain::ids::{ColonyId, RecordId, YardId};
use lidnote::domain::in_hand::draw::Hand;
use lidnote::domain::refusal::Refusal;
use lidnote::domain::world::World;
use lidnote::domain::yard::{Spot, Yard};
use uuid::Uuid;

/// A world under test.
#[derive(Default)]
pub struct Kit {
    pub world: World,
    next: u128,
}

pub fn day(iso: &str) -> Day {
    Day::from_iso(iso).expect("a day in ISO 8601")
}

impl Kit {
    /// A world with one yard, `Heath yard`, and hives of these names, founded 1 Sep 2026 with queens unknown.
    pub fn with_hives(names: &[&str]) -> (Self, Vec<ColonyId>) {
        let mut kit = Self::default();
        let yard = kit.yard("Heath yard");
        let hives = names.iter().map(|name| kit.hive(yard, name)).collect();
        (kit, hives)
    }

    pub fn id(&mut self) -> Uuid {
        self.next += 1;
        Uuid::from_u128(self.next)
    }

    pub fn yard(&mut self, name: &str) -> YardId {
        let id = YardId(self.id());
        self.apply(&Change::PutYard(Box::new(Yard::named(id, name))), day("2026-09-01"));
        id
    }

    pub fn hive(&mut self, yard: YardId, name: &str) -> ColonyId {
        let colony = self.colony(yard, name, day("2026-09-01"));
        let id = colony.id;
        self.apply(&Change::Found { colonies: vec![colony], queens: Vec::new() }, day("2026-09-01"));
        id
    }

    /// A colony that is not in the world yet.
    pub fn colony(&mut self, yard: YardId, name: &str, founded: Day) -> Colony {
        Colony {
            id: ColonyId(self.id()),
            names: vec![Named { name: name.to_owned(), from: founded }],
            stands: vec![Stand { yard, spot: Some(Spot { row: 1, place: 1 }), from: founded }],
            lid: Lid::default(),
            founded,
            how: Founding::Known,
            began_with: FirstQueen::Unknown,
            ended: None,
            note: String::new(),
            corrected: Vec::new(),
        }
    }

    /// Decides a change and applies it.
    pub fn try_apply(&mut self, change: &Change, today: Day) -> Result<Vec<Fact>, Refusal> {
        let facts = decide(&self.world, change, today)?;
        self.world.advance_all(&facts);
        Ok(facts)
    }

    /// The same for a change that is not refused.
    pub fn apply(&mut self, change: &Change, today: Day) -> Vec<Fact> {
        self.try_apply(change, today).unwrap_or_else(|refusal| panic!("{refusal}"))
    }

    /// Takes facts back.
    pub fn undo(&mut self, facts: &[Fact]) {
        for fact in facts.iter().rev() {
            self.world.advance(&fact.clone().inverse());
        }
    }

    /// A visit told in codes.
    pub fn visit(&mut self, hive: ColonyId, on: Day, codes: &str) -> Change {
        self.visits(&Occasion::Find, on, &[(hive, codes)], Choice::default())
    }

    /// Visits told in codes.
    pub fn visits(&mut self, occasion: &Occasion, on: Day, rows: &[(ColonyId, &str)], choice: Choice) -> Change {
        let mut hand = Hand::of(&self.world);
        let mut visits: Vec<NewVisit> = Vec::new();
        let mut queens = Vec::new();
        for (hive, codes) in rows {
            let codes = parse(codes).unwrap_or_else(|error| panic!("{error}"));
            let mut next = self.next;
            let mut mint = || {
                next += 1;
                Uuid::from_u128(next)
            };
            let (new, minted) = resolve(&mut hand, *hive, on, "MK", &codes, &choice, &mut mint)
                .unwrap_or_else(|error| panic!("{error}"));
            self.next = next;
            visits.push(new);
            queens.extend(minted);
        }
        Change::Visits { occasion: occasion.clone(), visits, queens }
    }

    /// Decides and applies a visit told in codes, and gives the record's id.
    pub fn enter(&mut self, hive: ColonyId, on: &str, codes: &str) -> RecordId {
        let change = self.visit(hive, day(on), codes);
        self.apply(&change, day(on));
        let Change::Visits { visits, .. } = change else {
            panic!("a visit");
        };
        visits[0].record
    }

    /// An amendment of a record.
    pub fn amendment(hive: ColonyId, record: RecordId) -> Amendment {
        Amendment::of(hive, record, "entered at the wrong hive", "MK")
    }
}
