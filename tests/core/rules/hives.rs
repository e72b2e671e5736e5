//! A small world for tests of the rules: hives, visits written in the letters of evening entry, and what is asserted.

use std::sync::Arc;

use lidnote::domain::colony::{Colony, FirstQueen, Founding, Lid, Named, Stand};
use lidnote::domain::day::Day;
use lidnote::domain::fact::{Edit, Fact};
use lidnote::domain::ids::{ColonyId, PlanId, QueenId, RecordId, SourceId, YardId};
use lidnote::domain::plan::Plan;
use lidnote::domain::queen::{Birth, Dot, Origin, Queen, Source};
use lidnote::domain::record::{Happening, Record};
use lidnote::domain::standing::{Course, LidNote, Outcome, Standing, course, lid_note};
use lidnote::domain::visit::{Coverage, Disease, Given, InCage, Marked, Method, OldQueen, TestFrame, Unopened, Visit};
use lidnote::domain::world::World;
use lidnote::domain::yard::Yard;

/// The hive that most tests are about.
pub const B14: ColonyId = ColonyId::from_number(14);

/// A day of the season 2026/27: `14 Nov`, `4 Jan` (2027).
#[track_caller]
pub fn day(text: &str) -> Day {
    let (number, month) = text.split_once(' ').expect("a day and a month");
    let months = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    let month = months.iter().position(|name| *name == month).expect("a month") as u32 + 1;
    let year = if month >= 7 { 2026 } else { 2027 };
    Day::new(year, month, number.parse().expect("a number")).expect("a day")
}

/// Reads the letters of evening entry, as far as these tests need them.
#[track_caller]
pub fn visit(codes: &str) -> Visit {
    let mut visit = Visit::default();
    for code in codes.split_whitespace() {
        let number = code.get(1..).and_then(|rest| rest.parse::<u8>().ok());
        match code {
            "-r" => visit.coverage = Coverage::Unopened(Unopened::Weather),
            "-t" => visit.coverage = Coverage::Unopened(Unopened::Time),
            "p" => visit.coverage = Coverage::Part,
            "/q" => visit.did.dequeened = true,
            "?q" => visit.did.queen_not_found = true,
            "/c" => visit.did.cells_cut = true,
            "/k" => visit.did.cage_off = true,
            "+s" => visit.did.cells_left = true,
            "+f" => visit.did.test_frame = Some(TestFrame { marked: false }),
            "+F" => visit.did.test_frame = Some(TestFrame { marked: true }),
            "+d" => visit.did.marked = Some(Marked { dot: None }),
            "k" => visit.seen.cage = Some(InCage::Alive),
            "m" => visit.seen.cage = Some(InCage::Dead),
            "x" => visit.seen.disease = Some(Disease::NotNamed),
            "x1" => visit.seen.disease = Some(Disease::AmericanFoulbrood),
            "x2" => visit.seen.disease = Some(Disease::EuropeanFoulbrood),
            "x3" => visit.seen.disease = Some(Disease::Chalkbrood),
            _ if code.starts_with('c') => visit.seen.closed_cells = Some(number.unwrap_or(0)),
            _ if code.starts_with('y') => visit.seen.begun_cells = Some(number.unwrap_or(0)),
            _ if code.starts_with('t') => visit.temper = number,
            _ => {
                for letter in code.chars() {
                    let seen = &mut visit.seen;
                    match letter {
                        'e' => seen.eggs = true,
                        'l' => seen.larvae = true,
                        'b' => seen.capped = true,
                        'q' => seen.her = true,
                        'u' => seen.another = true,
                        'o' => seen.opened_cell = true,
                        'n' => seen.nothing = true,
                        'd' => seen.drone_layer = true,
                        'w' => seen.laying_workers = true,
                        's' => seen.swarmed = true,
                        'z' => seen.dead = true,
                        other => panic!("no letter {other} in {code}"),
                    }
                }
            }
        }
    }
    visit
}

/// A world of hives that is filled by visits.
#[derive(Clone)]
pub struct Hives {
    /// The world.
    pub world: World,
    next: u128,
}

impl Hives {
    /// One yard, the sources Thrift and Broom, and B14 with an old queen, in the south.
    pub fn new() -> Self {
        let mut hives = Self { world: World::default(), next: 1000 };
        let yard = YardId::from_number(1);
        hives.world.yards.insert(yard, Arc::new(Yard::named(yard, "Broom Flat")));
        for (id, name) in [(1, "Thrift"), (2, "Broom")] {
            let source = Source { id: SourceId::from_number(id), name: name.to_owned(), own: true };
            hives.world.sources.insert(source.id, source);
        }
        hives.colony(B14, "B14", FirstQueen::Unknown);
        hives
    }

    /// Founds a colony, known since July.
    pub fn colony(&mut self, id: ColonyId, name: &str, began_with: FirstQueen) {
        let from = day("1 Jul");
        let colony = Colony {
            id,
            names: vec![Named { name: name.to_owned(), from }],
            stands: vec![Stand { yard: YardId::from_number(1), spot: None, from }],
            lid: Lid::default(),
            founded: from,
            how: Founding::Known,
            began_with,
            ended: None,
            note: String::new(),
            corrected: Vec::new(),
        };
        self.world.colonies.insert(id, Arc::new(colony));
    }

    /// Alters a colony.
    pub fn alter(&mut self, id: ColonyId, with: impl FnOnce(&mut Colony)) {
        with(Arc::make_mut(self.world.colonies.get_mut(&id).expect("the colony")));
    }

    fn id(&mut self) -> u128 {
        self.next += 1;
        self.next
    }

    /// A queen of the register: caged ones Thrift with a white dot, those that mate here Broom without one.
    pub fn queen(&mut self, method: Method) -> QueenId {
        let id = QueenId::from_number(self.id());
        let mated = !method.mates_here();
        let queen = Queen {
            id,
            birth: if mated { Birth::on(day("20 Sep")) } else { Birth::default() },
            origin: if mated { Origin::Mated } else { Origin::Cell },
            source: Some(SourceId::from_number(if mated { 1 } else { 2 })),
            dot: mated.then_some(Dot::White),
            words: String::new(),
        };
        self.world.queens.insert(id, Arc::new(queen));
        id
    }

    /// Records what happened; answers its id.
    pub fn happened(&mut self, colony: ColonyId, on: Day, what: Happening) -> RecordId {
        let id = RecordId::from_number(self.id());
        let record = Record {
            id,
            colony,
            day: on,
            by: "MK".to_owned(),
            words: String::new(),
            what,
            together: None,
            struck: false,
            amended: Vec::new(),
        };
        self.world.advance(&Fact::Record(Box::new(Edit::add(record))));
        id
    }

    /// A visit to B14.
    pub fn saw(&mut self, on: &str, codes: &str) -> RecordId {
        self.happened(B14, day(on), Happening::Visit(Box::new(visit(codes))))
    }

    /// A queen is given to B14; codes are what was seen and done on the same visit.
    pub fn gave(&mut self, on: &str, method: Method, old_queen: OldQueen, codes: &str) -> RecordId {
        self.gave_to(B14, day(on), method, old_queen, None, codes)
    }

    /// A queen is given to a colony.
    pub fn gave_to(
        &mut self,
        colony: ColonyId,
        on: Day,
        method: Method,
        old_queen: OldQueen,
        emerged: Option<Day>,
        codes: &str,
    ) -> RecordId {
        let queen = self.queen(method);
        let given = Given { method, queen, parcel: None, old_queen, emerged, cells: 1, against_bar: None };
        let visit = Visit { gave: Some(given), ..visit(codes) };
        self.happened(colony, on, Happening::Visit(Box::new(visit)))
    }

    /// B14 with a queen given by that method on 14 November, dequeened that day, for a cell, virgin or own raising the day
    /// before; a virgin emerged the day before.
    pub fn given(method: Method) -> Self {
        let mut hives = Self::new();
        let before = day(if method.mates_here() { "13 Nov" } else { "14 Nov" });
        let emerged = (method == Method::Virgin).then_some(before);
        hives.gave_to(B14, day("14 Nov"), method, OldQueen::RemovedOn(before), emerged, "");
        hives
    }

    /// A plan for B14.
    pub fn plan(&mut self, made: &str, method: Method, give_on: &str, dequeen_on: Option<&str>) -> PlanId {
        let id = PlanId::from_number(self.id());
        let plan = Plan {
            id,
            colony: B14,
            method,
            source: Some(SourceId::from_number(2)),
            parcel: None,
            give_on: day(give_on),
            dequeen_on: dequeen_on.map(day),
            made: day(made),
            called_off: None,
            moved: Vec::new(),
        };
        self.world.plans.insert(id, Arc::new(plan));
        id
    }

    /// The course of B14 on a day.
    pub fn course(&self, today: &str) -> Course {
        course(&self.world, B14, day(today)).expect("B14 is there")
    }

    /// How B14 stands on a day.
    pub fn standing(&self, today: &str) -> Standing {
        self.course(today).standing
    }

    /// The outcome of the last record of B14 by a day.
    pub fn outcome(&self, today: &str) -> Outcome {
        self.course(today).outcomes.pop().expect("a record").1
    }

    /// Due work of B14 as `acceptance look 21, 24, 28 Nov; …`.
    pub fn due(&self, today: &str) -> String {
        due_words(&self.standing(today))
    }

    /// The lid note of B14.
    pub fn note(&self, today: &str) -> LidNote {
        lid_note(&self.world, B14, &self.standing(today), day(today))
    }
}

/// Due work as `acceptance look 21, 24, 28 Nov; …`.
pub fn due_words(standing: &Standing) -> String {
    let words = |due: &lidnote::domain::work::DueWork| format!("{} {}", due.kind.words(), due.window.words());
    standing.work.iter().map(words).collect::<Vec<_>>().join("; ")
}

/// A find, as a happening.
pub fn find(codes: &str) -> Happening {
    Happening::Visit(Box::new(visit(codes)))
}
