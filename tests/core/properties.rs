//! Properties that hold for any world and any change.

use lidnote::domain::bar::{Bar, BarKind, BarOn, Lifted};
use lidnote::domain::change::{Amendment, Change, NewVisit, Occasion};
use lidnote::domain::choose::choose;
use lidnote::domain::colony::{Colony, End, EndWhy, FirstQueen, Founding, Lid, Named, Stand};
use lidnote::domain::day::Day;
use lidnote::domain::day_words::{DateOrder, Lean, read_day};
use lidnote::domain::decide::{decide, title};
use lidnote::domain::fold_text::{fold, search};
use lidnote::domain::found::{Numbering, found_many};
use lidnote::domain::grammar::codes::parse;
use lidnote::domain::grammar::contradiction::contradiction;
use lidnote::domain::grammar::plain_words::read_found;
use lidnote::domain::grammar::print::codes_of;
use lidnote::domain::grammar::resolve::{Choice, resolve};
use lidnote::domain::ids::{BarId, ColonyId, ParcelId, PlanId, QueenId, RecordId, RunId, SourceId, YardId};
use lidnote::domain::in_hand::draw::Hand;
use lidnote::domain::parcel::{Parcel, ParcelKind};
use lidnote::domain::place::Place;
use lidnote::domain::plan::Plan;
use lidnote::domain::queen::{Birth, Dot, Origin, Queen, Source};
use lidnote::domain::record::{Happening, Which};
use lidnote::domain::run_order::{Base, RunOrder, RunStop};
use lidnote::domain::visit::{
    Coverage, Did, Disease, Given, InCage, Marked, Method, OldQueen, Seen, TestFrame, Unopened, Visit,
};
use lidnote::domain::world::World;
use lidnote::domain::yard::{Spot, Yard};
use lidnote::planner::outlook::Outlook;
use proptest::prelude::*;
use uuid::Uuid;

/// Draws things from bytes, so that a failing case shrinks.
struct Dice<'a> {
    bytes: &'a [u8],
    at: usize,
    next_record: u128,
    /// Colonies there can be; more than five: whatever is new has an id of its own.
    colonies: u8,
}

impl Dice<'_> {
    fn byte(&mut self) -> u8 {
        self.at += 1;
        self.bytes.get(self.at - 1).copied().unwrap_or(0)
    }

    fn of(&mut self, count: usize) -> usize {
        usize::from(self.byte()) % count
    }

    fn yes(&mut self) -> bool {
        self.byte() % 4 == 1
    }

    fn id(&mut self) -> u128 {
        u128::from(self.byte() % 5)
    }

    fn day(&mut self) -> Day {
        let middle = Day::new(2026, 11, 10).expect("a day");
        middle.plus(i32::from(self.byte() % 30) - 10)
    }

    /// One in sixteen: for what seldom is, so that most changes are possible ones.
    fn seldom(&mut self) -> bool {
        self.byte() % 16 == 1
    }

    fn maybe_day(&mut self) -> Option<Day> {
        if self.yes() { Some(self.day()) } else { None }
    }

    fn colony(&mut self) -> ColonyId {
        ColonyId::from_number(u128::from(self.byte() % self.colonies))
    }

    /// The id of a plan, a bar or the like.
    fn thing(&mut self) -> u128 {
        let known = self.id();
        if self.colonies == 5 || self.yes() {
            return known;
        }
        self.next_record += 1;
        self.next_record
    }

    fn yard(&mut self) -> YardId {
        // A yard that is gone never comes again under its id: in a world that goes on new ones have ids of their own.
        YardId::from_number(if self.colonies == 5 { self.id() % 3 } else { self.id() })
    }

    fn record(&mut self) -> RecordId {
        if self.byte() % 8 == 7 && self.colonies == 5 {
            return RecordId::from_number(self.id());
        }
        self.next_record += 1;
        RecordId::from_number(self.next_record)
    }

    fn name(&mut self) -> String {
        let names = ["B14", "b14", "Ō1", "o1", " ", "H 07", "H08", "H09", "H10", "H11", "H12", "H13"];
        names[self.of(names.len())].to_owned()
    }

    fn method(&mut self) -> Method {
        Method::ALL[self.of(6)]
    }

    fn spot(&mut self) -> Option<Spot> {
        if self.yes() { None } else { Some(Spot { row: 1, place: u16::from(self.byte() % 4) + 1 }) }
    }

    fn queen(&mut self) -> Queen {
        let birth = if self.seldom() {
            Birth { earliest: Some(self.day()), latest: Some(self.day()) }
        } else {
            Birth { earliest: None, latest: self.maybe_day() }
        };
        let dot = if self.yes() { Some(Dot::ALL[self.of(5)]) } else { None };
        let source = if self.seldom() { Some(SourceId::from_number(self.id())) } else { None };
        Queen { id: QueenId::from_number(self.id()), birth, origin: Origin::Unknown, source, dot, words: String::new() }
    }

    fn new_colony(&mut self) -> Colony {
        let founded = if self.seldom() { self.day() } else { Day::new(2026, 10, 20).expect("a day") };
        Colony {
            id: self.colony(),
            names: vec![Named { name: self.name(), from: founded }],
            stands: vec![Stand { yard: self.yard(), spot: self.spot(), from: founded }],
            lid: Lid::default(),
            founded,
            how: if self.seldom() { Founding::SplitFrom(self.colony()) } else { Founding::Known },
            began_with: match self.of(3) {
                0 => FirstQueen::Recorded(QueenId::from_number(self.id())),
                1 => FirstQueen::Unknown,
                _ => FirstQueen::None,
            },
            ended: None,
            note: String::new(),
            corrected: Vec::new(),
        }
    }

    fn end(&mut self) -> End {
        let why = match self.of(3) {
            0 => EndWhy::Died,
            1 => EndWhy::Sold,
            _ => EndWhy::UnitedInto(self.colony()),
        };
        End { day: self.day(), why, by: String::new(), words: String::new() }
    }

    fn cells(&mut self) -> Option<u8> {
        if self.yes() { Some(self.byte() % 9 + 1) } else { None }
    }

    fn visit(&mut self) -> Visit {
        let coverage = match self.of(16) {
            0 => Coverage::Part,
            1 => Coverage::Unopened([Unopened::Weather, Unopened::Time, Unopened::NotFound][self.of(3)]),
            _ => Coverage::Full,
        };
        let diseases = [
            Disease::NotNamed,
            Disease::AmericanFoulbrood,
            Disease::EuropeanFoulbrood,
            Disease::Chalkbrood,
            Disease::Other,
        ];
        let seen = Seen {
            eggs: self.yes(),
            larvae: self.seldom(),
            capped: self.seldom(),
            her: self.yes(),
            another: self.yes(),
            closed_cells: self.cells(),
            begun_cells: self.cells(),
            opened_cell: self.seldom(),
            nothing: self.seldom(),
            cage: if self.seldom() { Some([InCage::Alive, InCage::Dead][self.of(2)]) } else { None },
            drone_layer: self.seldom(),
            laying_workers: self.seldom(),
            disease: if self.seldom() { Some(diseases[self.of(5)]) } else { None },
            swarmed: self.seldom(),
            dead: self.byte() % 64 == 1,
        };
        let did = Did {
            dequeened: self.seldom(),
            queen_to: None,
            queen_not_found: self.seldom(),
            cells_cut: self.seldom(),
            cells_left: self.seldom(),
            cage_off: self.seldom(),
            test_frame: if self.seldom() { Some(TestFrame { marked: self.seldom() }) } else { None },
            marked: if self.seldom() {
                Some(Marked { dot: if self.seldom() { Some(Dot::ALL[self.of(5)]) } else { None } })
            } else {
                None
            },
        };
        let temper = if self.yes() { Some(self.byte() % 4 + 1) } else { None };
        Visit { coverage, seen, did, gave: None, temper, lids_swapped: None }
    }

    fn new_visit(&mut self) -> NewVisit {
        let mut visit = self.visit();
        if self.yes() {
            visit.gave = Some(Given {
                method: self.method(),
                queen: QueenId::from_number(self.id()),
                parcel: if self.seldom() { Some(ParcelId::from_number(self.id())) } else { None },
                old_queen: match self.of(3) {
                    0 => OldQueen::AsRecorded,
                    1 => OldQueen::RemovedOn(self.day()),
                    _ => OldQueen::NotFound,
                },
                emerged: if self.seldom() { Some(self.day()) } else { None },
                cells: if self.seldom() { 0 } else { self.byte() % 3 + 1 },
                against_bar: None,
            });
        }
        if self.seldom() {
            visit.lids_swapped = Some(self.colony());
        }
        NewVisit {
            record: self.record(),
            colony: self.colony(),
            day: self.day(),
            by: "MK".to_owned(),
            words: String::new(),
            visit,
        }
    }

    fn plan(&mut self) -> Plan {
        Plan {
            id: PlanId::from_number(self.thing()),
            colony: self.colony(),
            method: self.method(),
            source: if self.yes() { Some(SourceId::from_number(self.id())) } else { None },
            parcel: if self.yes() { Some(ParcelId::from_number(self.id())) } else { None },
            give_on: self.day(),
            dequeen_on: self.maybe_day(),
            made: self.day(),
            called_off: None,
            moved: Vec::new(),
        }
    }

    /// An existing record half the time, so that amendments find something.
    fn some_record(&mut self, world: &World) -> (ColonyId, RecordId) {
        let all: Vec<(ColonyId, RecordId)> = world
            .records
            .iter()
            .flat_map(|(colony, records)| records.iter().map(|record| (*colony, record.id)))
            .collect();
        if all.is_empty() || self.yes() {
            return (self.colony(), RecordId::from_number(self.id()));
        }
        all[self.of(all.len())]
    }

    fn amendment(&mut self, world: &World) -> Amendment {
        let (colony, record) = self.some_record(world);
        let mut amendment = Amendment::of(colony, record, if self.seldom() { " " } else { "wrong hive" }, "MK");
        amendment.to = if self.yes() { Some(self.colony()) } else { None };
        amendment.day = self.maybe_day();
        amendment.visit = if self.yes() { Some(Box::new(self.new_visit().visit)) } else { None };
        amendment.strike = self.yes();
        amendment
    }

    fn change(&mut self, world: &World, depth: u8) -> Change {
        match self.of(28) {
            0 => Change::PutYard(Box::new(Yard::named(self.yard(), &self.name()))),
            1 if self.seldom() => Change::RemoveYard(self.yard()),
            2 => Change::PutSource(Source { id: SourceId::from_number(self.id()), name: self.name(), own: false }),
            3 => Change::PutQueen(Box::new(self.queen())),
            4..=6 => {
                let queen = self.queen();
                let queens = if world.queens.contains_key(&queen.id) { Vec::new() } else { vec![queen] };
                Change::Found { colonies: vec![self.new_colony()], queens }
            }
            7 => Change::Move {
                to: vec![(self.colony(), self.yard(), self.spot()), (self.colony(), self.yard(), None)],
                day: self.day(),
            },
            8 => Change::SwapPlaces { one: self.colony(), other: self.colony(), day: self.day() },
            9 => Change::Rename { names: vec![(self.colony(), self.name())], day: self.day() },
            10 => Change::End { colonies: vec![self.colony()], end: self.end() },
            11 => Change::Split {
                parent: self.colony(),
                daughter: Box::new(self.new_colony()),
                queen_goes: self.yes(),
                records: [self.record(), self.record()],
                by: String::new(),
            },
            12 => Change::Unite {
                from: self.colony(),
                into: self.colony(),
                day: self.day(),
                record: self.record(),
                by: String::new(),
            },
            1 | 13..=16 => {
                let visits: Vec<NewVisit> = (0..=self.of(2)).map(|_| self.new_visit()).collect();
                let occasion = if self.yes() { Occasion::Evening(Uuid::nil()) } else { Occasion::Find };
                // Queens that are not there yet come with the visits, as screens make them.
                let given = visits.iter().filter_map(|new| new.visit.gave.as_ref()).map(|gave| gave.queen);
                let unknown = given.filter(|queen| !world.queens.contains_key(queen) && !self.seldom());
                let unknown: Vec<QueenId> = unknown.collect();
                let mut queens: Vec<Queen> = Vec::new();
                for id in unknown {
                    if queens.iter().all(|queen| queen.id != id) {
                        queens.push(Queen { id, ..self.queen() });
                    }
                }
                Change::Visits { occasion, visits, queens }
            }
            17 => Change::Answer {
                colony: self.colony(),
                record: self.record(),
                day: self.day(),
                which: Which::Superseded,
                by: String::new(),
            },
            18 => Change::LiftFoundBar {
                colony: self.colony(),
                record: self.record(),
                day: self.day(),
                why: "clear".to_owned(),
                by: String::new(),
            },
            19 | 20 => Change::Amend(Box::new(self.amendment(world))),
            21 => Change::Plan { plans: vec![self.plan()], overrule_soft: self.yes() },
            22 => Change::MovePlans {
                plans: vec![(PlanId::from_number(self.id()), self.day(), self.maybe_day())],
                day: self.day(),
                why: String::new(),
            },
            23 => Change::PutParcel(Parcel {
                id: ParcelId::from_number(self.thing()),
                source: None,
                kind: ParcelKind::CagedQueens,
                count: u32::from(self.byte() % 50),
                dead: u32::from(self.byte() % 4),
                gone: 0,
                sent: self.maybe_day(),
                due: self.maybe_day(),
                promised: None,
                arrived: self.maybe_day(),
                grafted: None,
                born: if self.yes() { Birth::default() } else { Birth { earliest: None, latest: self.maybe_day() } },
                dot: if self.yes() { Some(Dot::White) } else { None },
                closed: false,
                note: String::new(),
            }),
            24 => {
                Change::ParcelLate { parcel: ParcelId::from_number(self.id()), promised: self.day(), day: self.day() }
            }
            25 => {
                let on = if self.yes() { BarOn::Yard(self.yard()) } else { BarOn::Colony(self.colony()) };
                let kinds = [BarKind::Quarantine, BarKind::AmericanFoulbrood, BarKind::Weather, BarKind::Own];
                let lifted = Lifted { on: self.day(), by: String::new(), why: "over".to_owned() };
                Change::PutBar(Bar {
                    id: BarId::from_number(self.thing()),
                    on,
                    kind: kinds[self.of(4)],
                    from: self.day(),
                    until: self.maybe_day(),
                    reason: "word".to_owned(),
                    by: String::new(),
                    permit: None,
                    lifted: if self.yes() { Some(lifted) } else { None },
                })
            }
            26 => Change::PutRun(RunOrder {
                id: RunId::from_number(self.thing()),
                day: self.day(),
                vehicle: String::new(),
                base: Base { name: String::new(), place: Place::new(-40.0, 160.0).expect("a place") },
                leave: 450,
                stops: vec![RunStop { yard: self.yard(), locked: false }],
                left_out: vec![self.yard()],
            }),
            _ if depth > 2 => Change::LabelsPrinted { colonies: vec![self.colony()], day: self.day() },
            _ => {
                let changes = vec![self.change(world, depth + 1), self.change(world, depth + 1)];
                Change::Several { title: String::new(), changes }
            }
        }
    }
}

fn three_yards(today: Day) -> World {
    let mut world = World::default();
    for id in 0..3 {
        let yard = Yard::named(YardId::from_number(id), ["Heath", "Kelp", "Tansy"][id as usize]);
        let facts = decide(&world, &Change::PutYard(Box::new(yard)), today).expect("a yard");
        world.advance_all(&facts);
    }
    world
}

/// A world made of the changes that these bytes say, those refused left out; as of 24 Nov 2026.
pub(crate) fn random_world(bytes: &[u8]) -> World {
    let mut dice = Dice { bytes, at: 0, next_record: 1000, colonies: 5 };
    let today = Day::new(2026, 11, 24).expect("a day");
    let mut world = three_yards(today);
    while dice.at < bytes.len() {
        let change = dice.change(&world, 0);
        if let Ok(facts) = decide(&world, &change, today) {
            world.advance_all(&facts);
        }
    }
    world
}

/// The world with further changes that these bytes say, those refused left out and those to which `fits` says no; as of
/// 24 Nov 2026. New records have ids from `first_record` on.
pub(crate) fn goes_on(world: &World, bytes: &[u8], first_record: u128, fits: impl Fn(&World, &World) -> bool) -> World {
    let mut dice = Dice { bytes, at: 0, next_record: first_record, colonies: 8 };
    let today = Day::new(2026, 11, 24).expect("a day");
    let mut world = world.clone();
    while dice.at < bytes.len() {
        let change = dice.change(&world, 0);
        let Ok(facts) = decide(&world, &change, today) else { continue };
        let mut next = world.clone();
        next.advance_all(&facts);
        if fits(&world, &next) {
            world = next;
        }
    }
    world
}

/// Names are unique among the living colonies of a yard, records are in order and at their colony.
fn check_sound(world: &World) {
    let mut names: Vec<(YardId, String)> =
        world.living().map(|colony| (colony.yard().expect("it stands somewhere"), fold(colony.name()))).collect();
    let before = names.len();
    names.sort();
    names.dedup();
    assert_eq!(names.len(), before, "two living hives of a yard share a name");
    let mut ids = Vec::new();
    for (colony, records) in &world.records {
        assert!(records.is_sorted_by_key(|record| (record.day, record.id)));
        assert!(!records.is_empty() && records.iter().all(|record| record.colony == *colony));
        assert!(world.colonies.contains_key(colony), "a record belongs to a hive that is there");
        for record in records.iter() {
            let gave = match &record.what {
                Happening::Visit(visit) => visit.gave.as_ref(),
                _ => None,
            };
            assert!(gave.is_none_or(|gave| world.queens.contains_key(&gave.queen)), "a queen given is there");
        }
        ids.extend(records.iter().map(|record| record.id));
    }
    let count = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), count, "two records share an id");
    for colony in world.colonies.values() {
        let stands_somewhere = colony.yard().is_some_and(|yard| world.yards.contains_key(&yard));
        assert!(stands_somewhere || !colony.is_living(), "a living hive stands in a yard that is there");
        assert!(colony.names.is_sorted_by_key(|named| named.from));
        assert!(colony.stands.is_sorted_by_key(|stand| stand.from));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn changes_never_panic_and_their_facts_can_be_taken_back(
        bytes in proptest::collection::vec(any::<u8>(), 0..3000)
    ) {
        let mut dice = Dice { bytes: &bytes, at: 0, next_record: 1000, colonies: 5 };
        let today = Day::new(2026, 11, 24).expect("a day");
        let mut world = three_yards(today);
        while dice.at < bytes.len() {
            let change = dice.change(&world, 0);
            prop_assert!(!title(&world, &change).is_empty());
            match decide(&world, &change, today) {
                Err(refusal) => prop_assert!(!refusal.fact.is_empty() && !refusal.way_out.is_empty()),
                Ok(facts) => {
                    let before = world.clone();
                    world.advance_all(&facts);
                    prop_assert!(facts.iter().all(lidnote::domain::fact::Fact::alters));
                    prop_assert_eq!(facts.is_empty(), world == before, "facts alter the world, none do not");
                    let mut back = world.clone();
                    for fact in facts.iter().rev() {
                        back.advance(&fact.clone().inverse());
                    }
                    prop_assert!(back == before, "the inverse facts restore the world");
                    check_sound(&world);
                }
            }
        }
    }

    #[test]
    fn an_outlook_brought_up_equals_one_made_anew(bytes in proptest::collection::vec(any::<u8>(), 0..3000)) {
        let mut dice = Dice { bytes: &bytes, at: 0, next_record: 1000, colonies: 5 };
        let today = Day::new(2026, 11, 24).expect("a day");
        let mut world = three_yards(today);
        let mut outlook = Outlook::new(&world, today);
        while dice.at < bytes.len() {
            let change = dice.change(&world, 0);
            let Ok(facts) = decide(&world, &change, today) else { continue };
            let mut next = world.clone();
            next.advance_all(&facts);
            outlook = outlook.brought_up(&world, &next, today);
            prop_assert_eq!(&outlook, &Outlook::new(&next, today), "after {:?}", change);
            world = next;
        }
    }

    #[test]
    fn a_visit_written_in_codes_reads_the_same(
        bytes in proptest::collection::vec(any::<u8>(), 0..80),
        words in "[a-z0-9 ,']{0,20}",
    ) {
        let mut dice = Dice { bytes: &bytes, at: 0, next_record: 0, colonies: 5 };
        let mut visit = dice.visit();
        visit.temper = visit.temper.filter(|temper| (1..=4).contains(temper));
        prop_assume!(contradiction(&visit).is_none());
        let text = codes_of(&World::default(), &visit, &words);
        let read = parse(&text).map_err(|error| TestCaseError::fail(format!("{text}: {error}")))?;
        prop_assert_eq!(&read.visit, &visit, "{}", text);
        prop_assert_eq!(read.words, words.split_whitespace().collect::<Vec<_>>().join(" "));
        prop_assert_eq!(codes_of(&World::default(), &read.visit, &words), text);
    }

    #[test]
    fn what_is_read_can_be_recorded(text in "([elbqukmocynpdwsztx0-9+/?@ -]|\\+v|\\+c|/q|t3|-r){0,8}") {
        let Ok(codes) = parse(&text) else { return Ok(()) };
        prop_assume!(codes.command.is_none());
        let today = Day::new(2026, 11, 24).expect("a day");
        let mut next = 0;
        let mut mint = || { next += 1; Uuid::from_u128(next) };
        let mut world = World::default();
        let yard = Yard::named(YardId(mint()), "Heath yard");
        world.advance_all(&decide(&world, &Change::PutYard(Box::new(yard.clone())), today).expect("a yard"));
        let numbering = Numbering { before: "H", first: 1 };
        let long_ago = Day::new(2010, 1, 1).expect("a day");
        let many = found_many(&world, yard.id, "1 hive", numbering, long_ago, &mut mint).expect("a hive");
        let hive = many.colonies[0].id;
        let found = Change::Found { colonies: many.colonies, queens: Vec::new() };
        world.advance_all(&decide(&world, &found, today).expect("a hive"));
        let Ok((visit, queens)) = resolve(&mut Hand::of(&world), hive, today, "MK", &codes, &Choice::default(), &mut mint) else {
            return Ok(()); // a day that does not exist
        };
        let change = Change::Visits { occasion: Occasion::Find, visits: vec![visit], queens };
        let decided = decide(&world, &change, today);
        prop_assert!(decided.is_ok(), "{text}: {decided:?}");
    }

    #[test]
    fn any_text_is_read_or_refused(text in "\\PC{0,30}|[a-z0-9+/?@~.=*' -]{0,16}") {
        let today = Day::new(2026, 11, 24).expect("a day");
        if let Err(error) = parse(&text) {
            prop_assert!(text.is_char_boundary(error.at.min(text.len())) && error.at <= text.len());
        }
        let _ = read_found(&text);
        let mut world = World::default();
        let mut next = 0;
        let mut mint = || { next += 1; Uuid::from_u128(next) };
        let yard = Yard::named(YardId(mint()), "Heath yard");
        world.advance_all(&decide(&world, &Change::PutYard(Box::new(yard.clone())), today).expect("a yard"));
        let numbering = Numbering { before: "H", first: 1 };
        let many = found_many(&world, yard.id, "12 hives in 3 rows", numbering, today, &mut mint).expect("hives");
        let among: Vec<ColonyId> = many.colonies.iter().map(|colony| colony.id).collect();
        let found = Change::Found { colonies: many.colonies, queens: Vec::new() };
        world.advance_all(&decide(&world, &found, today).expect("hives"));
        for order in [DateOrder::DayMonth, DateOrder::MonthDay] {
            let _ = read_day(&text, today, order, Lean::Nearest);
        }
        let chosen = choose(&world, &among, &text, today);
        prop_assert!(chosen.chosen.iter().all(|id| !chosen.left_out.contains(id)));
        let _ = search(&world, &text);
        let _ = found_many(&world, yard.id, &text, Numbering { before: "Ł", first: u32::MAX }, today, &mut mint);
    }
}
