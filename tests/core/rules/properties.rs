//! What holds for any records: no panic, windows in order, no look before its introduction, amending as good as having
//! recorded it right.

use std::sync::Arc;

use lidnote::domain::day::Day;
use lidnote::domain::fact::{Edit, Fact};
use lidnote::domain::ids::{ColonyId, QueenId, RecordId};
use lidnote::domain::record::{Happening, Record, Which};
use lidnote::domain::standing::{Phase, course, echo, lid_note, standing, standings};
use lidnote::domain::visit::{
    Coverage, Did, Disease, Given, InCage, Marked, Method, OldQueen, Seen, TestFrame, Unopened, Visit,
};
use lidnote::domain::work::WorkKind;
use proptest::prelude::{Just, Strategy, any, prop, prop_assert, prop_assert_eq, prop_oneof, proptest};
use proptest::test_runner::Config;

use super::hives::{B14, Hives, day};

fn any_seen() -> impl Strategy<Value = Seen> {
    let flags = prop::collection::vec(prop::bool::weighted(0.2), 11);
    let cells = prop::option::weighted(0.2, 0..5u8);
    let cage = prop::option::weighted(0.1, prop_oneof![Just(InCage::Alive), Just(InCage::Dead)]);
    let disease = prop::option::weighted(0.05, prop_oneof![Just(Disease::NotNamed), Just(Disease::Chalkbrood)]);
    (flags, cells.clone(), cells, cage, disease).prop_map(|(flags, closed_cells, begun_cells, cage, disease)| Seen {
        eggs: flags[0],
        larvae: flags[1],
        capped: flags[2],
        her: flags[3],
        another: flags[4],
        opened_cell: flags[5],
        nothing: flags[6],
        drone_layer: flags[7] && flags[10],
        laying_workers: flags[8] && flags[10],
        swarmed: flags[9] && flags[10],
        dead: false,
        closed_cells,
        begun_cells,
        cage,
        disease,
    })
}

fn any_did() -> impl Strategy<Value = Did> {
    prop::collection::vec(prop::bool::weighted(0.1), 7).prop_map(|flags| Did {
        dequeened: flags[0],
        queen_to: None,
        queen_not_found: flags[1],
        cells_cut: flags[2],
        cells_left: flags[3],
        cage_off: flags[4],
        test_frame: flags[5].then_some(TestFrame { marked: flags[6] }),
        marked: flags[6].then_some(Marked { dot: None }),
    })
}

fn any_given() -> impl Strategy<Value = Given> {
    let old =
        prop_oneof![Just(OldQueen::AsRecorded), Just(OldQueen::NotFound), any_day().prop_map(OldQueen::RemovedOn)];
    let emerged = prop::option::of(any_day());
    (0..6usize, old, emerged, 1..4u8).prop_map(|(method, old_queen, emerged, cells)| Given {
        method: Method::ALL[method],
        queen: QueenId::from_number(7),
        parcel: None,
        old_queen,
        emerged,
        cells,
        against_bar: None,
    })
}

fn any_day() -> impl Strategy<Value = Day> {
    (0..90i32).prop_map(|days| day("1 Oct").plus(days))
}

fn any_happening() -> impl Strategy<Value = Happening> {
    let coverage = prop_oneof![
        6 => Just(Coverage::Full),
        1 => Just(Coverage::Part),
        1 => Just(Coverage::Unopened(Unopened::Weather)),
    ];
    let gave = prop::option::weighted(0.25, any_given());
    let visit = (coverage, any_seen(), any_did(), gave, prop::option::of(1..5u8)).prop_map(
        |(coverage, seen, did, gave, temper)| {
            Happening::Visit(Box::new(Visit { coverage, seen, did, gave, temper, lids_swapped: None }))
        },
    );
    prop_oneof![
        12 => visit,
        1 => prop_oneof![Just(Which::Lost), Just(Which::Superseded), Just(Which::SameAfterAll)].prop_map(Happening::Which),
        1 => Just(Happening::BarLifted { why: "clear".to_owned() }),
        1 => Just(Happening::Received(ColonyId::from_number(15))),
        1 => Just(Happening::SplitOff(ColonyId::from_number(15))),
    ]
}

fn any_records() -> impl Strategy<Value = Vec<(Day, Happening)>> {
    prop::collection::vec((any_day(), any_happening()), 0..14)
}

fn world_of(records: &[(Day, Happening)]) -> Hives {
    let mut hives = Hives::new();
    hives.colony(ColonyId::from_number(15), "B15", lidnote::domain::colony::FirstQueen::Unknown);
    for (on, what) in records {
        hives.happened(B14, *on, what.clone());
    }
    hives
}

proptest! {
    #![proptest_config(Config { cases: 400, failure_persistence: None, ..Config::default() })]

    #[test]
    fn any_records_give_a_standing_in_order(records in any_records(), later in 0..120i32) {
        let hives = world_of(&records);
        let today = day("1 Oct").plus(later);
        let course = course(&hives.world, B14, today).expect("B14 is there");
        let now = &course.standing;
        for due in &now.work {
            prop_assert!(due.window.earliest <= due.window.best, "{due:?}");
            prop_assert!(due.window.latest.is_none_or(|latest| due.window.best <= latest), "{due:?}");
            prop_assert!(!due.why.is_empty() && !due.look_for.is_empty());
            if let (Phase::Introduced(introduced), WorkKind::Look(_)) = (&now.phase, due.kind) {
                prop_assert!(due.window.earliest > introduced.day0, "{due:?} before {introduced:?}");
            }
            prop_assert_eq!(now.work.iter().filter(|other| other.kind == due.kind).count(), 1, "{} twice", due.kind.words());
        }
        prop_assert_eq!(&standing(&hives.world, B14, today), &Some(now.clone()));
        prop_assert_eq!(&standings(&hives.world, today)[&B14], now);
        let note = lid_note(&hives.world, B14, now, today);
        for line in &note.lines {
            prop_assert!(line.chars().count() <= 20, "{line}");
        }
        let _ = (now.lid_state(today), now.age_class(&hives.world, today));
        for (_, outcome) in &course.outcomes {
            prop_assert!(outcome.sentence.ends_with('.'), "{:?}", outcome);
        }
    }

    #[test]
    fn an_echo_is_what_recording_it_says(records in any_records(), on in any_day(), what in any_happening()) {
        let Happening::Visit(visit) = what.clone() else { return Ok(()) };
        let mut hives = world_of(&records);
        let said = echo(&hives.world, B14, on, &visit);
        let id = hives.happened(B14, on, what);
        let course = course(&hives.world, B14, on).expect("B14 is there");
        let recorded = course.outcomes.into_iter().find(|(record, _)| *record == id).map(|(_, outcome)| outcome);
        prop_assert_eq!(said, recorded);
    }

    #[test]
    fn amending_is_as_good_as_having_recorded_it_right(
        records in any_records(),
        wrong in any_happening(),
        right in any_happening(),
        on in any_day(),
        truly in any_day(),
    ) {
        let id = RecordId::from_number(5000);
        let record = |on: Day, what: &Happening| Record {
            id,
            colony: B14,
            day: on,
            by: String::new(),
            words: String::new(),
            what: what.clone(),
            together: None,
            struck: false,
            amended: Vec::new(),
        };
        let mut amended = world_of(&records);
        amended.world.advance(&Fact::Record(Box::new(Edit::add(record(on, &wrong)))));
        let edit = Edit::alter(record(on, &wrong), record(truly, &right));
        amended.world.advance(&Fact::Record(Box::new(edit)));
        let mut from_the_start = world_of(&records);
        from_the_start.world.advance(&Fact::Record(Box::new(Edit::add(record(truly, &right)))));
        let today = day("20 Jan");
        prop_assert_eq!(course(&amended.world, B14, today), course(&from_the_start.world, B14, today));
    }

    #[test]
    fn a_struck_record_counts_nowhere(records in any_records(), what in any_happening(), on in any_day()) {
        let without = world_of(&records);
        let mut with = without.clone();
        let id = with.happened(B14, on, what);
        let list = Arc::make_mut(with.world.records.get_mut(&B14).expect("records"));
        for record in list.iter_mut().filter(|record| record.id == id) {
            record.struck = true;
        }
        let today = day("20 Jan");
        prop_assert_eq!(course(&with.world, B14, today), course(&without.world, B14, today));
    }

    #[test]
    fn any_settings_keep_windows_in_order(values in prop::collection::vec(any::<u16>(), 60), records in any_records()) {
        let mut hives = world_of(&records);
        let mut settings = (*hives.world.settings).clone();
        for (spec, value) in lidnote::domain::settings::SPECS.iter().zip(values) {
            let span = (spec.most - spec.least) as i64 + 1;
            let value = spec.least + (i64::from(value) % span) as f64;
            settings = settings.with(spec.name, value).expect("in range");
        }
        hives.world.settings = Arc::new(settings);
        let now = standing(&hives.world, B14, day("20 Jan")).expect("B14 is there");
        for due in &now.work {
            prop_assert!(due.window.earliest <= due.window.best, "{due:?}");
            prop_assert!(due.window.latest.is_none_or(|latest| due.window.best <= latest), "{due:?}");
        }
        let note = lid_note(&hives.world, B14, &now, day("20 Jan"));
        prop_assert!(note.lines.iter().all(|line| line.chars().count() <= 20), "{:?}", note.lines);
    }
}
