//! The whole programme written out and read back.

use std::sync::Arc;

use lidnote::domain::day::Day;
use lidnote::domain::decide::decide;
use lidnote::domain::queen::{Birth, Dot};
use lidnote::domain::record::Amended;
use lidnote::domain::world::World;
use lidnote::exchange::any;
use lidnote::exchange::table::changes::changes;
use lidnote::exchange::table::export::programme_csv;
use lidnote::exchange::table::preview::{Existing, Options};
use proptest::prelude::*;
use uuid::Uuid;

use super::same_content::{relabelled, what_follows};
use super::{Register, day, problems, today};
use crate::properties::random_world;

const WHOLE: &str = include_str!("../../data/import/whole.csv");

/// A register brought back from an export of the world; nothing may be held back.
fn brought_back(world: &World, out: &str, on: Day) -> World {
    let preview = any::read(out.as_bytes(), &Options::default(), &World::default(), on).unwrap();
    assert_eq!(problems(&preview), [], "{out}");
    let mut next = 1 << 64;
    let mut mint = || {
        next += 1;
        Uuid::from_u128(next)
    };
    let change = changes(&preview, &mut mint, "Import");
    let facts = decide(&World::default(), &change, on).unwrap_or_else(|refusal| panic!("{refusal:?} {out}"));
    let mut back = World::default();
    back.advance_all(&facts);
    assert_eq!(first_difference(&relabelled(&back), &relabelled(world)), None);
    back
}

/// The first lines in which two things differ, each after the three before it.
pub(super) fn first_difference<T: std::fmt::Debug + PartialEq>(one: &T, other: &T) -> Option<(String, String)> {
    if one == other {
        return None;
    }
    let (one, other) = (format!("{one:#?}"), format!("{other:#?}"));
    let (one, other): (Vec<&str>, Vec<&str>) = (one.lines().collect(), other.lines().collect());
    let at = one.iter().zip(&other).position(|(one, other)| one != other).unwrap_or(one.len().min(other.len()));
    let shown = |lines: &[&str]| lines[at.saturating_sub(3).min(lines.len())..(at + 1).min(lines.len())].join("\n");
    Some((shown(&one), shown(&other)))
}

/// The world goes out and comes back, and goes out the same; its own file tells it nothing new.
fn check_round_trip(world: &World, on: Day) {
    let out = programme_csv(world);
    let back = brought_back(world, &out, on);
    assert_eq!(programme_csv(&back), out);
    assert_eq!(what_follows(&back, on), what_follows(world, on));
    let again = any::read(out.as_bytes(), &Options::default(), world, on).unwrap();
    assert_eq!((again.totals.same, problems(&again)), (again.totals.rows, Vec::new()));
    let change = changes(&again, &mut Uuid::nil, "Import");
    assert_eq!(decide(world, &change, on), Ok(Vec::new()));
}

#[test]
fn the_whole_programme_goes_out_and_comes_back() {
    check_round_trip(&Register::with(WHOLE).world, today());
}

#[test]
fn the_demo_goes_out_and_comes_back() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("demo.lidnote");
    let mut packed = flate2::read::GzDecoder::new(&include_bytes!("../../../demo-data/wrackmore.lidnote.gz")[..]);
    std::io::copy(&mut packed, &mut std::fs::File::create(&path).unwrap()).unwrap();
    let register = lidnote::register::Register::open(&path, chrono::Utc::now()).unwrap();
    check_round_trip(&register.world(), today());
}

#[test]
fn formulas_go_out_harmless() {
    let register = Register::with("yard,hive,note\n\"'=HYPERLINK(\"\"http://x\"\")\",B1,'+1\n");
    let out = programme_csv(&register.world);
    let mut reader = csv::Reader::from_reader(out.as_bytes());
    for record in reader.records() {
        for cell in &record.unwrap() {
            assert!(!cell.starts_with(['=', '+', '@']), "{cell}");
        }
    }
    assert_eq!(programme_csv(&Register::with(&out).world), out);
}

#[test]
fn an_export_is_plain_csv_to_another_reader() {
    let out = programme_csv(&Register::with(WHOLE).world);
    let mut reader = csv::ReaderBuilder::new().from_reader(out.as_bytes());
    let headings = reader.headers().unwrap().clone();
    assert_eq!(headings.get(0), Some("entry"), "the mark at the beginning is no part of the heading");
    for record in reader.records() {
        assert_eq!(record.unwrap().len(), headings.len());
    }
}

/// The world with these words wherever free words stand.
fn with_words(world: &World, words: &[String]) -> World {
    let mut world = world.clone();
    let mut rest = words.iter().cycle();
    let mut next = move || rest.next().cloned().unwrap_or_default();
    (world.firm.name, world.firm.home_name) = (next(), next());
    for yard in world.yards.values_mut().map(Arc::make_mut) {
        (yard.access, yard.hygiene_group, yard.note) = (next(), next(), next());
        yard.hazards = vec!["steep".to_owned(), "no signal".to_owned()];
    }
    for colony in world.colonies.values_mut().map(Arc::make_mut) {
        colony.note = next();
        if let Some(end) = &mut colony.ended {
            (end.by, end.words) = (next(), next());
        }
        colony.lid.printed = vec![format!("{} LAYING 24 NOV", colony.name()), String::new(), next().replace('\n', " ")];
        colony.lid.on = Some(colony.founded);
        let reason = next();
        colony.corrected = vec![Amended { on: colony.founded, by: next(), reason, was: next(), left: None }];
    }
    for queen in world.queens.values_mut().map(Arc::make_mut) {
        queen.words = next();
    }
    for record in world.records.values_mut().flat_map(|records| Arc::make_mut(records).iter_mut()) {
        (record.by, record.words) = (next(), next());
        for amended in &mut record.amended {
            (amended.by, amended.was) = (next(), next());
        }
    }
    for plan in world.plans.values_mut().map(Arc::make_mut) {
        plan.moved.iter_mut().for_each(|moved| moved.why = next());
    }
    for bar in world.bars.values_mut() {
        (bar.by, bar.permit) = (next(), Some(next()).filter(|permit| !permit.is_empty()));
    }
    for parcel in world.parcels.values_mut() {
        parcel.note = next();
        (parcel.born, parcel.dot) = (Birth::in_month(2026, 9), Some(Dot::White));
        (parcel.grafted, parcel.closed) = (parcel.due, parcel.arrived.is_some());
        parcel.gone = parcel.count - parcel.dead;
    }
    for run in world.runs.values_mut() {
        run.stops.iter_mut().for_each(|stop| stop.locked = true);
        (run.vehicle, run.base.name) = (next(), next());
    }
    world
}

fn names() -> impl Strategy<Value = String> {
    "[A-Za-zÄéō'=+@0-9-][A-Za-zÄéō0-9 ,;\"'=-]{0,12}[A-Za-z0-9]"
}

fn words() -> impl Strategy<Value = String> {
    prop_oneof![Just(String::new()), "[A-Za-z=+'@\"-][ -~\\n]{0,20}[a-z.]"]
}

fn days() -> impl Strategy<Value = Day> {
    (1..900i32).prop_map(|back| today().plus(-back))
}

fn hive_row() -> impl Strategy<Value = Vec<String>> {
    let queen = (0..6usize, 0..4usize, words());
    let given = (prop::option::of(days()), 0..6usize, 0..3usize);
    let found = (prop::option::of(days()), 0..10usize, words());
    (0..3usize, 0..30u32, queen, given, found, words()).prop_map(|(yard, hive, queen, given, found, note)| {
        let yard = ["Heath", "Marl Pit", "Tide Mill"][yard];
        let dot = ["", "white", "yellow", "red", "green", "blue"][queen.0];
        let source = ["", "Broom", "Tansy", "Farside Queens"][queen.1];
        let introduced = given.0.map(Day::iso).unwrap_or_default();
        let method = ["", "caged", "push-in", "cell", "virgin", "nuc"][given.1];
        let old = ["", "not found", "queenless"][given.2];
        let (method, old) = if given.0.is_some() { (method, old) } else { ("", "") };
        let code = ["", "e", "eq", "c3 /c", "n", "p l", "-r", "u e", "t3 b", "e /q"][found.1];
        let (look, code) = match found.0 {
            Some(look) => (look.iso(), code),
            None => (String::new(), ""),
        };
        let words = if look.is_empty() { String::new() } else { found.2 };
        [yard, &format!("B{hive}"), dot, source, &queen.2, &introduced, method, old, &look, code, &words, &note]
            .map(str::to_owned)
            .to_vec()
    })
}

fn table(rows: &[Vec<String>], yard: &str) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let headings = "yard,hive,dot,source,queen note,introduced,method,dequeened,last look,found,words,note";
    writer.write_record(headings.split(',')).unwrap();
    for row in rows {
        writer.write_record(row).unwrap();
    }
    writer.write_record([yard, "1", "", "", "", "", "", "", "", "", "", ""]).unwrap();
    String::from_utf8(writer.into_inner().unwrap()).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn any_programme_goes_out_and_comes_back(rows in prop::collection::vec(hive_row(), 1..12), yard in names()) {
        let text = table(&rows, &yard);
        let mut register = Register::new();
        register.bring_in(&text, &Options::default());
        let out = programme_csv(&register.world);
        let mut back = Register::new();
        let preview = back.bring_in(&out, &Options::default());
        prop_assert_eq!(problems(&preview), Vec::new(), "{}", out);
        prop_assert_eq!(programme_csv(&back.world), out);
        check_round_trip(&register.world, today());
    }

    #[test]
    fn any_register_goes_out_and_comes_back(
        bytes in prop::collection::vec(prop::num::u8::ANY, 0..3000),
        words in prop::collection::vec("[ -~éŌ;\t\n\r]{0,12}", 1..6),
    ) {
        let world = with_words(&random_world(&bytes), &words);
        check_round_trip(&world, day("2026-11-24"));
    }

    #[test]
    fn any_second_file_is_taken_as_previewed(
        first in prop::collection::vec(hive_row(), 1..12),
        second in prop::collection::vec(hive_row(), 1..12),
        existing in prop_oneof![Just(Existing::Ask), Just(Existing::Skip), Just(Existing::Update)],
    ) {
        let mut register = Register::new();
        register.bring_in(&table(&first, "Heath"), &Options::default());
        let hives = register.world.living().count();
        let preview = register.bring_in(&table(&second, "Heath"), &Options { existing, ..Options::default() });
        prop_assert_eq!(register.world.living().count(), hives + preview.totals.hives_added as usize);
        if existing != Existing::Ask {
            let again = register.preview(&table(&second, "Heath"), &Options { existing, ..Options::default() });
            prop_assert_eq!(again.totals.hives_added, 0);
            prop_assert_eq!(again.totals.changed, 0, "what was brought in stays as it is");
        }
    }
}
