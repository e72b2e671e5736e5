//! Hostile and huge files, and any bytes at all.

use lidnote::domain::decide::decide;
use lidnote::domain::world::World;
use lidnote::exchange::any;
use lidnote::exchange::results;
use lidnote::exchange::table::changes::changes;
use lidnote::exchange::table::headings::Field;
use lidnote::exchange::table::preview::Options;
use proptest::prelude::*;
use std::fmt::Write as _;
use uuid::Uuid;

use super::{Register, problems, today};

const KINDS: [&str; 20] = [
    "firm",
    "setting",
    "source",
    "yard",
    "parcel",
    "hive",
    "named",
    "stood",
    "visit",
    "answer",
    "lifted",
    "split",
    "united",
    "amended",
    "plan",
    "plan moved",
    "bar",
    "run",
    "stop",
    "left out",
];

const ABOVE: [&[(&str, &str)]; 4] = [
    &[("entry", "run"), ("run day", "2026-11-24"), ("leave", "7:30"), ("latitude", "-40"), ("longitude", "160")],
    &[("entry", "hive"), ("yard", "Heath"), ("hive", "B1"), ("known since", "2026-01-01"), ("last look", "2026-11-01")],
    &[("entry", "hive"), ("yard", "Heath"), ("hive", "B2"), ("ended", "2026-11-01"), ("united into", "Heath/B1")],
    &[
        ("entry", "plan"),
        ("yard", "Heath"),
        ("hive", "B1"),
        ("known since", "2026-11-01"),
        ("method", "cell"),
        ("give on", "2026-12-01"),
    ],
];

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn no_bytes_at_all_bring_the_importer_down(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        let _ = any::read(&bytes, &Options::default(), &World::default(), today());
        let _ = results::read(&bytes, None, "", &World::default(), today(), &mut Uuid::nil);
    }

    #[test]
    fn no_cells_bring_it_down(cells in prop::collection::vec("[ -~é\\n]{0,14}|[0-9/.-]{4,10}|[a-z ]{1,9}|2026-1[0-2]-0[1-9]|yes|[1-9]|Heath|Heath/B[1-3]|cells|lost||||", Field::ALL.len() - 1), kind in 0..23usize) {
        let headings: Vec<&str> = Field::ALL.iter().map(|field| field.name()).collect();
        let kind = KINDS.get(kind).copied().unwrap_or("");
        let mut writer = csv::Writer::from_writer(Vec::new());
        writer.write_record(&headings).unwrap();
        let cells: Vec<&str> = std::iter::once(kind).chain(cells.iter().map(String::as_str)).take(headings.len()).collect();
        // Most kinds need a hive, a plan, a record or a run above them, which is there.
        for above in ABOVE {
            let of = |heading: &&str| above.iter().find(|(name, _)| name == heading).map_or("", |(_, cell)| cell);
            writer.write_record(headings.iter().map(of)).unwrap();
        }
        let yard_and_hive = |(at, cell): (usize, &&str)| match Field::ALL[at] {
            Field::Yard if !kind.is_empty() => "Heath".to_owned(),
            Field::Hive if !matches!(kind, "" | "hive") => "B1".to_owned(),
            _ => (*cell).to_owned(),
        };
        writer.write_record(&cells).unwrap();
        writer.write_record(cells.iter().enumerate().map(yard_and_hive)).unwrap();
        let bytes = writer.into_inner().unwrap();
        if let Ok(preview) = any::read(&bytes, &Options::default(), &World::default(), today()) {
            let mut next = 0;
            let change = changes(&preview, &mut || { next += 1; Uuid::from_u128(next) }, "Import");
            prop_assert!(decide(&World::default(), &change, today()).is_ok(), "what is not held back is taken");
        }
    }

    #[test]
    fn no_text_that_looks_like_points_brings_it_down(text in "(<gpx>|\\{\"type\":\"FeatureCollection\",\"features\":\\[)[<>/a-z\"=0-9{}\\[\\],:& ;]{0,120}") {
        let _ = any::read(text.as_bytes(), &Options::default(), &World::default(), today());
    }
}

#[test]
fn hostile_points_are_refused_in_plain_words() {
    let bomb = "<?xml version=\"1.0\"?><!DOCTYPE x [<!ENTITY a \"aaaaaaaaaa\"><!ENTITY b \"&a;&a;&a;&a;\">]><gpx><wpt lat=\"1\" lon=\"2\"><name>Heath&b;</name></wpt></gpx>";
    let preview = Register::new().preview(bomb, &Options::default());
    assert_eq!(preview.rows[0].cells[0], "Heath", "entities are not expanded");
    let deep_xml = format!("<gpx>{}", "<a>".repeat(100_000));
    let deep_json = format!("{{\"type\":\"Feature\",\"x\":{}", "[".repeat(100_000));
    for (text, fact) in [
        (deep_xml.as_str(), "The file's elements are nested too deep"),
        (deep_json.as_str(), "The file is no JSON from line 1 on"),
        ("<gpx><wpt lat=\"1\" lon=\"2\">", "The file ends in the middle"),
        ("<html></html>", "The file is XML, but no GPX"),
        ("<gpx></gpx>", "The file holds no waypoints"),
        ("{\"type\":\"Topology\"}", "The file is JSON, but no GeoJSON"),
        ("{\"type\":\"FeatureCollection\",\"features\":[]}", "The file holds no points"),
    ] {
        let fault = any::read(text.as_bytes(), &Options::default(), &World::default(), today()).unwrap_err();
        assert_eq!(fault.fact, fact);
        assert!(!fault.remedy.is_empty());
    }
}

#[test]
fn limits_are_said() {
    let many = format!("yard,hive\n{}", ",\n".repeat(1_000_001));
    let fault = any::read(many.as_bytes(), &Options::default(), &World::default(), today()).unwrap_err();
    assert_eq!(fault.fact, "The file has more than 1000000 rows");
    let huge = vec![b'a'; 64 * 1024 * 1024 + 1];
    let fault = any::read(&huge, &Options::default(), &World::default(), today()).unwrap_err();
    assert_eq!(fault.fact, "The file has 64 MB, and 64 MB are the most");
}

#[test]
fn a_firm_of_8000_hives_in_300_yards_comes_in_whole() {
    // The same shape as the file that tests/reference/make_big_import.py makes outside the project.
    let mut text = String::from("Site,Lat,Lng,Hive no,Row,Place,Queen yr,Dot,Breeder,Date in,Method,Last look,Found\n");
    for number in 0..8000 {
        let (yard, place) = (number % 300, number / 300);
        let given = today().plus(-(number % 90));
        let found = if number % 3 == 0 { ("22/11/2026", "eq") } else { ("", "") };
        writeln!(
            text,
            "Yard {yard},-40.{yard:03},160.{yard:03},H{place:02},{},{},,,Broom,{}/{}/{},caged,{},{}",
            place / 10 + 1,
            place % 10 + 1,
            given.day_of_month(),
            given.month(),
            given.year(),
            found.0,
            found.1,
        )
        .unwrap();
    }
    let mut register = Register::new();
    let preview = register.bring_in(&text, &Options::default());
    assert_eq!(problems(&preview), []);
    assert_eq!((preview.totals.hives_added, preview.totals.yards_new), (8000, 300));
    assert_eq!(register.world.living().count(), 8000);
}
