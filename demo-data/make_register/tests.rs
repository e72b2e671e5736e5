//! The committed register is what the program makes, and looks as the demo is meant to look.

use std::collections::BTreeMap;
use std::io::Read as _;

use flate2::read::GzDecoder;
use lidnote::domain::day::Day;
use lidnote::domain::in_hand::all_in_hand;
use lidnote::domain::standing::{AgeClass, LidState, QueenNow};
use lidnote::domain::work::WorkState;
use lidnote::domain::world::World;
use lidnote::planner::outlook::Outlook;
use lidnote::planner::strip::strip;
use lidnote::register::Register;

const COMMITTED: &[u8] = include_bytes!("../wrackmore.lidnote.gz");

fn today() -> Day {
    Day::from_iso("2026-11-23").expect("a day")
}

/// The committed register, in a folder that lasts as long as it is wanted.
fn committed() -> (Register, tempfile::TempDir) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("demo.lidnote");
    let mut bytes = Vec::new();
    GzDecoder::new(COMMITTED).read_to_end(&mut bytes).expect("unpacks");
    std::fs::write(&path, bytes).expect("written");
    let now = chrono::DateTime::from_timestamp(1_795_000_000, 0).expect("a moment");
    (Register::open(&path, now).expect("opens"), folder)
}

fn world() -> std::sync::Arc<World> {
    committed().0.world()
}

fn hive<'a>(world: &'a World, outlook: &'a Outlook, name: &str) -> &'a lidnote::planner::outlook::ColonyView {
    let colony = world.living().find(|colony| colony.name() == name).expect(name);
    &outlook.colonies[&colony.id]
}

#[test]
fn the_same_register_every_time_and_as_committed() {
    let folder = tempfile::tempdir().expect("a folder");
    let made = crate::make(&folder.path().join("made.lidnote")).expect("is made");
    let (committed, _folder) = committed();
    assert!(*made.world() == *committed.world(), "run the example again and commit what it writes");
    assert!(made.verify().expect("is read").sound);
    assert!(committed.verify().expect("is read").sound);
    assert!(COMMITTED.len() <= 3 << 20, "{}", COMMITTED.len());
}

#[test]
fn every_yard_holds_its_hives_and_the_firm_is_whole() {
    let world = world();
    assert_eq!(world.yards.len(), 42);
    assert_eq!(world.living().count(), 1_408);
    assert_eq!(world.firm.demo_day, Some(today()));
    for plot in crate::yards::plots().expect("yards") {
        let yard = world.yards.values().find(|yard| yard.name == plot.name).expect("the yard");
        assert_eq!(world.in_yard(yard.id).len(), plot.hives, "{}", plot.name);
    }
}

#[test]
fn the_day_looks_as_the_demo_is_meant_to_look() {
    let world = world();
    let outlook = Outlook::new(&world, today());
    let days = strip(&outlook, today(), 15, None);
    let told: Vec<String> = days.iter().map(|it| format!("{} {}+{}", it.day.short(), it.looks, it.steps)).collect();
    assert_eq!((days[1].looks, days[1].steps), (28, 6), "{told:?}");
    let open: u32 = outlook.yards.values().map(lidnote::planner::outlook::YardView::open).sum();
    let yards = outlook.yards.values().filter(|yard| yard.open() > 0).count();
    assert!((62..=80).contains(&open) && (20..=26).contains(&yards), "{open} in {yards}, {told:?}");
    let late: u32 = outlook.yards.values().map(|yard| yard.late).sum();
    let in_need = outlook.colonies.iter().filter(|(_, view)| view.lid == LidState::Action);
    let in_need: Vec<&str> = in_need.map(|(colony, _)| world.colonies[colony].name()).collect();
    let waiting: u32 = outlook.yards.values().map(|yard| yard.waiting).sum();
    assert_eq!(
        (late, in_need.len(), outlook.label_queue.len()),
        (8, 5, 14),
        "{open} in {yards}, {told:?}, {waiting}, {in_need:?}"
    );
}

#[test]
fn queens_of_every_age_stand_on_the_map() {
    let outlook = Outlook::new(&world(), today());
    let mut bands: BTreeMap<&str, u32> = BTreeMap::new();
    for view in outlook.colonies.values() {
        *bands.entry(view.age.words()).or_default() += 1;
    }
    for class in AgeClass::ALL {
        let least = if matches!(class, AgeClass::Queenless | AgeClass::Waiting) { 3 } else { 30 };
        assert!(bands.get(class.words()).is_some_and(|count| *count >= least), "{bands:?}");
    }
}

#[test]
fn the_hives_of_the_pictures_stand_as_they_are_drawn() {
    let world = world();
    let outlook = Outlook::new(&world, today());
    let of = |name: &str| hive(&world, &outlook, name);
    assert_eq!(of("B14").note.lines, ["B14 CAGE IN 14 NOV", "white, Thrift", "SHUT TO 21 SEE 24"]);
    assert_eq!(of("B27").note.lines, ["B27 NO QUEEN 13 NOV", "QUEEN DUE 25 NOV", "VIRGIN FROM 23 NOV"]);
    assert_eq!((of("B27").lid, of("AH19").lid, of("B22").lid), (LidState::Action, LidState::Action, LidState::Action));
    assert_eq!((of("B09").lid, of("B36").lid, of("B33").lid), (LidState::Late, LidState::Late, LidState::Barred));
    for name in ["B27", "AH19", "SF04", "OR07", "OR12", "B28", "B29"] {
        assert!(matches!(of(name).standing.queen, QueenNow::Waiting { plan: Some(_), .. }), "{name}");
    }
    let find = of("WC07").standing.work.iter().filter(|work| work.window.state(today()) == WorkState::Open).count();
    assert_eq!(find, 1);
    assert!(of("H15").standing.bars.iter().any(|bar| bar.kind.is_soft()));
    let pit = world.yards.values().find(|yard| yard.name == "Marl Pit").expect("the pit");
    assert_eq!(outlook.yards[&pit.id].lid, Some(LidState::Barred));
}

#[test]
fn parcels_stand_as_they_are_drawn() {
    let world = world();
    let in_hand = all_in_hand(&world, today());
    let mut left: Vec<(u32, u32, u32)> = Vec::new();
    for (id, parcel) in &world.parcels {
        let it = &in_hand[id];
        assert_eq!(it.too_many, 0, "{parcel:?}");
        if !parcel.closed && parcel.arrived.is_some() {
            left.push((parcel.count, it.given, it.left));
        }
    }
    assert_eq!(left, [(25, 24, 1), (40, 34, 4), (24, 0, 24)]);
    assert!(world.parcels.values().filter(|parcel| parcel.closed).count() >= 18);
    assert_eq!(world.parcels.values().filter(|parcel| parcel.arrived.is_none()).count(), 2);
}
