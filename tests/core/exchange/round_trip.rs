//! The whole programme written out and read back.

use lidnote::domain::day::Day;
use lidnote::domain::standing::course;
use lidnote::domain::world::World;
use lidnote::exchange::table::changes::changes;
use lidnote::exchange::table::export::programme_csv;
use lidnote::exchange::table::preview::{Existing, Options};
use proptest::prelude::*;
use uuid::Uuid;

use super::{Register, problems, today};

const WHOLE: &str = include_str!("../../data/import/whole.csv");

#[test]
fn the_whole_programme_goes_out_and_comes_back() {
    let register = Register::with(WHOLE);
    let out = programme_csv(&register.world);
    let back = Register::with(&out);
    assert_eq!(programme_csv(&back.world), out);
    assert_eq!(content(&back.world), content(&register.world));
    let again = register.preview(&out, &Options::default());
    assert_eq!(
        (again.totals.same, again.totals.rows),
        (again.totals.rows, again.totals.same),
        "{:?}",
        problems(&again)
    );
    let mut mint = || Uuid::nil();
    let mut register = register;
    assert_eq!(register.decide(&changes(&again, &mut mint, "Import")), Ok(0));
}

/// What a register says, ids apart: every hive with its course.
fn content(world: &World) -> Vec<String> {
    let mut hives: Vec<String> = world
        .colonies
        .values()
        .map(|colony| {
            let standing = course(world, colony.id, today()).unwrap();
            let work: Vec<_> = standing.standing.work.iter().map(|work| (work.kind, work.window)).collect();
            let outcomes: Vec<_> = standing.outcomes.iter().map(|(_, outcome)| outcome.sentence.clone()).collect();
            let yard = world.yards.get(&colony.yard().unwrap()).unwrap();
            let bars: Vec<_> = standing.standing.bars.iter().map(|bar| (bar.kind, bar.from, bar.until)).collect();
            format!(
                "{} {} {work:?} {outcomes:?} {:?} {:?} {bars:?} {}",
                yard.name,
                colony.name(),
                colony.ended,
                standing.standing.laying,
                standing.standing.which.is_some(),
            )
        })
        .collect();
    hives.sort();
    hives
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
        prop_assert_eq!(content(&back.world), content(&register.world));
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
