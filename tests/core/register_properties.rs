//! Any sequence of changes, undos, redos and restarts: the world that is held is the one the file gives, a refused
//! change leaves no trace, and undo walks all of it back.

use lidnote::domain::change::{Amendment, Change, NewVisit, Occasion};
use lidnote::domain::ids::{ColonyId, RecordId, YardId};
use lidnote::domain::record::Record;
use lidnote::domain::visit::Visit;
use lidnote::domain::world::World;
use lidnote::register::Register;
use lidnote::register::error::RegisterError;
use proptest::prelude::*;

use crate::things::{at, colony, day, yard};

#[derive(Clone, Debug)]
enum Act {
    PutYard(u128, String),
    RemoveYard(u128),
    Found(u128, u128),
    Move(u128, u128, i32),
    Visit(u128, i32, [bool; 4]),
    Amend(usize, u128, bool),
    Undo,
    Redo,
    Reopen,
}

fn act() -> impl Strategy<Value = Act> {
    prop_oneof![
        3 => (0..4_u128, "[a-c]{0,2}").prop_map(|(number, note)| Act::PutYard(number, note)),
        1 => (0..4_u128).prop_map(Act::RemoveYard),
        3 => (0..6_u128, 0..4_u128).prop_map(|(number, yard)| Act::Found(number, yard)),
        1 => (0..6_u128, 0..4_u128, 0..60_i32).prop_map(|(number, yard, on)| Act::Move(number, yard, on)),
        6 => (0..6_u128, 0..60_i32, any::<[bool; 4]>()).prop_map(|(number, on, is)| Act::Visit(number, on, is)),
        3 => (0..20_usize, 0..6_u128, any::<bool>()).prop_map(|(record, to, strike)| Act::Amend(record, to, strike)),
        4 => Just(Act::Undo),
        3 => Just(Act::Redo),
        2 => Just(Act::Reopen),
    ]
}

/// The change of an act; `number` makes new ids.
fn change(act: &Act, number: u128, world: &World) -> Option<Change> {
    let id = ColonyId::from_number;
    let begin = day("2026-09-10");
    Some(match act {
        Act::PutYard(at, note) => {
            let mut yard = yard(*at);
            yard.note.clone_from(note);
            Change::PutYard(Box::new(yard))
        }
        Act::RemoveYard(at) => Change::RemoveYard(YardId::from_number(*at)),
        Act::Found(at, yard) => Change::Found { colonies: vec![colony(*at, *yard, None)], queens: Vec::new() },
        Act::Move(at, yard, on) => {
            Change::Move { to: vec![(id(*at), YardId::from_number(*yard), None)], day: begin.plus(*on) }
        }
        Act::Visit(at, on, is) => {
            let mut visit = Visit::default();
            [visit.seen.eggs, visit.seen.larvae, visit.seen.her, visit.did.cells_cut] = *is;
            let (record, day) = (RecordId::from_number(1000 + number), begin.plus(*on));
            let (by, words) = ("KB".to_owned(), "words".to_owned());
            let visits = vec![NewVisit { record, colony: id(*at), day, by, words, visit }];
            Change::Visits { occasion: Occasion::Find, visits, queens: Vec::new() }
        }
        Act::Amend(at, to, strike) => {
            let records: Vec<&Record> = world.records.values().flat_map(|records| records.iter()).collect();
            let record = records.get(*at % records.len().max(1))?;
            let mut amendment = Amendment::of(record.colony, record.id, "put on the wrong hive", "KB");
            amendment.to = Some(id(*to));
            amendment.strike = *strike;
            Change::Amend(Box::new(amendment))
        }
        Act::Undo | Act::Redo | Act::Reopen => return None,
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn what_is_held_is_what_the_file_gives(acts in prop::collection::vec(act(), 1..40)) {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("any.lidnote");
        let mut register = Register::create(&path).expect("a new register");
        let today = day("2026-12-01");
        for (number, act) in acts.iter().enumerate() {
            let (world, entries) = (register.world(), register.count_entries());
            let done = match act {
                Act::Undo => register.undo(at(number as i64)).map(Some),
                Act::Redo => register.redo(at(number as i64)).map(Some),
                Act::Reopen => {
                    drop(register);
                    register = Register::open(&path, at(0)).expect("opens");
                    prop_assert_eq!(register.world(), world);
                    continue;
                }
                act => match change(act, number as u128, &world) {
                    Some(change) => register.apply(&change, today, at(number as i64)),
                    None => continue,
                },
            };
            match done {
                Ok(Some(applied)) => {
                    prop_assert_eq!(&applied.world, &register.world());
                    prop_assert!(!applied.title.is_empty() && applied.world != world, "{:?} altered something", act);
                }
                Ok(None) | Err(RegisterError::Refused(_) | RegisterError::NothingTo(_)) => {
                    prop_assert_eq!((register.world(), register.count_entries()), (world, entries));
                }
                Err(other) => prop_assert!(false, "{:?}: {}", act, other),
            }
        }
        let report = register.verify().expect("readable");
        prop_assert!(report.sound, "{:#?}", report.lines);
        let full = register.world();
        let mut back = 0;
        while register.next_undo().expect("read").is_some() {
            register.undo(at(100)).expect("undone");
            back += 1;
        }
        prop_assert_eq!(&*register.world(), &World::default());
        for _ in 0..back {
            register.redo(at(200)).expect("redone");
        }
        prop_assert_eq!(register.world(), full);
    }
}
