//! Tables and points brought in: every corner in small files.

use lidnote::domain::bar::{Bar, BarKind, BarOn};
use lidnote::domain::change::Change;
use lidnote::domain::decide::decide;
use lidnote::domain::ids::BarId;
use lidnote::domain::place::Place;
use lidnote::domain::queen::Birth;
use lidnote::domain::record::Happening;
use lidnote::domain::standing::course;
use lidnote::domain::visit::{Method, OldQueen};
use lidnote::domain::world::World;
use lidnote::exchange::any;
use lidnote::exchange::dates::DateOrder;
use lidnote::exchange::table::changes::changes;
use lidnote::exchange::table::headings::Field;
use lidnote::exchange::table::held_back::held_back_csv;
use lidnote::exchange::table::letters::Letters;
use lidnote::exchange::table::preview::{Existing, Options, Will};
use std::fmt::Write as _;
use uuid::Uuid;

use super::{Register, check_held, day, problems, row, today};

const SAMPLE: &str = include_str!("../../data/import/thrift-and-tide.csv");

#[test]
fn the_sample_of_a_mid_season_is_previewed_row_by_row() {
    let mut register = Register::new();
    register
        .bring_in("yard,latitude,longitude\nThrift Head,-40.01,160.02\nMarl Pit,-40.03,160.1\n", &Options::default());
    register.bring_in(
        "yard,hive,queen born,source,introduced\nThrift Head,TH06,2023,,2023-12-20\nThrift Head,TH08,2025,Broom,2025-10-14\n",
        &Options::default(),
    );
    let yard = register.world.yards.values().find(|yard| yard.name == "Marl Pit").unwrap().id;
    let quarantine = Bar {
        id: BarId::from_number(1),
        on: BarOn::Yard(yard),
        kind: BarKind::Quarantine,
        from: day("2026-11-01"),
        until: None,
        reason: String::new(),
        by: String::new(),
        permit: None,
        lifted: None,
    };
    register.decide(&Change::PutBar(quarantine)).unwrap();
    let preview = register.preview(SAMPLE, &Options { existing: Existing::Update, ..Options::default() });
    assert_eq!(preview.dates, Some(DateOrder::DayMonth));
    assert_eq!(preview.question, None);
    let says = |number: u32| (row(&preview, number).will, row(&preview, number).says.as_str());
    assert_eq!(says(2), (Will::Add, "New source: Thrift"));
    assert_eq!(says(3), (Will::Add, ""));
    assert_eq!(says(5), (Will::Add, "Queen not known"));
    assert_eq!(says(6), (Will::HoldBack, "Hive TH04 is already in row 5"));
    assert_eq!(says(7), (Will::HoldBack, "31 November does not exist"));
    assert_eq!(says(8), (Will::Change, "Source: not known to Tansy. New source: Tansy"));
    assert_eq!(says(9), (Will::HoldBack, "No yard of this name. Thrift Head?"));
    assert_eq!(says(10), (Will::Same, ""));
    assert_eq!(
        says(11),
        (Will::Add, "Caged in: acceptance look 23, 26, 30 Nov. Flag: given while Marl Pit was under quarantine")
    );
    assert_eq!(says(13), (Will::HoldBack, "Born 2027 lies ahead"));
    assert_eq!(says(16), (Will::Add, "New source: Brom. Did you mean Broom?"));
    let totals = preview.totals;
    assert_eq!((totals.rows, totals.hives_added, totals.changed, totals.same, totals.held_back), (17, 11, 1, 1, 4));
    assert_eq!((totals.yards, totals.yards_new, totals.looks), (3, 1, 2));
    assert_eq!(preview.bring_in(), 12);
}

#[test]
fn what_is_previewed_is_what_the_register_takes_as_one_change() {
    let mut register = Register::new();
    let before = register.world.clone();
    let preview = register.preview(SAMPLE, &Options::default());
    let mut next = 0;
    let mut mint = || {
        next += 1;
        Uuid::from_u128(next)
    };
    let change = changes(&preview, &mut mint, "Import of thrift-and-tide.csv");
    let facts = decide(&register.world, &change, today()).unwrap();
    register.world.advance_all(&facts);
    assert_eq!(register.world.living().count(), preview.totals.hives_added as usize);
    let back: Vec<_> = facts.into_iter().rev().map(lidnote::domain::fact::Fact::inverse).collect();
    register.world.advance_all(&back);
    assert_eq!(register.world, before, "one undo takes all of it back");
}

#[test]
fn a_queen_caged_in_makes_its_looks_at_once() {
    let register = Register::with(
        "yard,hive,introduced,method,dequeened\nHeath,B14,2026-11-14,caged,\nHeath,B15,2026-11-14,mature cell,\n\
         Heath,B16,2026-11-14,caged,not found\nHeath,B17,2026-11-14,caged,13 Nov 2026\nHeath,B18,14 Nov 2026,,queenless\n",
    );
    let given = |hive: &str| {
        let colony = register.world.living().find(|colony| colony.name() == hive).unwrap();
        let [record] = register.world.records_of(colony.id) else { panic!("{hive} has not one record") };
        let Happening::Visit(visit) = &record.what else { panic!("no visit") };
        assert_eq!(record.day, day("2026-11-14"));
        let work = course(&register.world, colony.id, today()).unwrap().standing.work;
        (visit.gave.clone().unwrap(), work.first().map(|work| (work.kind.words(), work.window.words())))
    };
    let (caged, work) = given("B14");
    assert_eq!((caged.method, caged.old_queen), (Method::Caged, OldQueen::RemovedOn(day("2026-11-14"))));
    assert_eq!(work, Some(("acceptance look", "21, 24, 28 Nov".to_owned())));
    let (cell, work) = given("B15");
    assert_eq!((cell.method, cell.old_queen), (Method::Cell, OldQueen::RemovedOn(day("2026-11-13"))));
    assert_eq!(work, Some(("first brood look", "28, 29 Nov, 2 Dec".to_owned())));
    assert_eq!(given("B16").0.old_queen, OldQueen::NotFound);
    assert_eq!(given("B17").0.old_queen, OldQueen::RemovedOn(day("2026-11-13")));
    assert_eq!(given("B18").0.old_queen, OldQueen::AsRecorded);
}

#[test]
fn dequeened_and_nothing_given_waits_for_her_queen() {
    let text = "yard,hive,queen born,dequeened,last look,found\nHeath,B1,2023,2026-11-18,,\nHeath,B2,,2026-11-18,2026-11-18,e l b\n\
                Heath,B3,,2026-11-18,2026-11-20,e l b\nHeath,B4,,not found,2026-11-20,e\nHeath,B5,,not found,,\n";
    let mut register = Register::new();
    let preview = register.preview(text, &Options::default());
    assert_eq!(row(&preview, 2).says, "Waiting for her queen, dequeened 18 Nov");
    assert_eq!(row(&preview, 6).says, "The old queen was not found, and no day is given");
    register.bring_in(text, &Options::default());
    let of = |register: &Register, hive: &str| {
        let colony = register.world.living().find(|colony| colony.name() == hive).unwrap().id;
        (course(&register.world, colony, today()).unwrap().standing, register.world.records_of(colony).len())
    };
    for (hive, records) in [("B1", 1), ("B2", 1), ("B3", 2)] {
        let (standing, held) = of(&register, hive);
        assert_eq!(standing.clock.map(|clock| clock.since), Some(day("2026-11-18")), "{hive}");
        assert_eq!(held, records, "{hive}");
    }
    assert_eq!(of(&register, "B4").1, 1);
    // The same file again tells nothing new; a later one dequeens a hive that is there.
    let update = Options { existing: Existing::Update, ..Options::default() };
    let again = register.preview(text, &update);
    assert_eq!((row(&again, 2).will, row(&again, 3).will, row(&again, 4).will), (Will::Same, Will::Same, Will::Same));
    register.bring_in("yard,hive,dequeened\nHeath,B4,2026-11-21\n", &update);
    assert_eq!(of(&register, "B4").0.clock.map(|clock| clock.since), Some(day("2026-11-21")));
}

#[test]
fn what_happened_before_the_import_can_still_be_recorded() {
    let register = Register::with(
        "yard,hive,queen born,introduced,last look,known since,queen\nHeath,B1,,,,,\nHeath,B2,2023,,,,\nHeath,B3,,,2026-11-20,,\n\
         Heath,B4,,2026-11-14,,,\nHeath,B5,,2025-11-05,,,\nHeath,B6,,,,2026-11-18,\nHeath,B7,,,,,none\n",
    );
    let since = |hive: &str| register.world.living().find(|colony| colony.name() == hive).unwrap().founded;
    let year_ago = today().plus(-365);
    for (hive, founded) in [
        ("B1", year_ago),
        ("B2", day("2023-01-01")),
        ("B3", year_ago),
        ("B4", year_ago),
        ("B5", day("2025-11-05")),
        ("B6", day("2026-11-18")),
        ("B7", today()),
    ] {
        assert_eq!(since(hive), founded, "{hive}");
    }
}

#[test]
fn a_last_look_settles_or_leaves_due() {
    let register = Register::with(
        "yard,hive,introduced,last look,found\nHeath,B1,2026-11-05,2026-11-16,eq\nHeath,B2,2026-11-05,2026-11-16,\"eggs, queen seen\"\n\
         Heath,B3,2026-11-05,2026-11-16,-r\nHeath,B4,2025-11-05,,\n",
    );
    let due = |hive: &str| {
        let colony = register.world.living().find(|colony| colony.name() == hive).unwrap();
        course(&register.world, colony.id, today()).unwrap().standing.work.len()
    };
    assert_eq!((due("B1"), due("B2")), (0, 0), "accepted");
    assert_eq!(due("B3"), 1, "not opened: still due");
    assert_eq!(due("B4"), 0, "given a year ago: settled");
}

#[test]
fn letters_and_delimiters_of_other_programs_are_read() {
    let text = "yard;hive;latitude;longitude;queen born\nÄckerle;B1;-40,25;160,5;14.11.2025\n";
    let cp1252: Vec<u8> = text.chars().map(|letter| if letter == 'Ä' { 0xc4 } else { letter as u8 }).collect();
    let utf16: Vec<u8> = [0xff, 0xfe].into_iter().chain(text.encode_utf16().flat_map(u16::to_le_bytes)).collect();
    let bom: Vec<u8> = [&b"\xef\xbb\xbf"[..], text.as_bytes()].concat();
    let tabs = text.replace(';', "\t").replace('\n', "\r\n").into_bytes();
    for (bytes, letters) in [
        (text.as_bytes().to_vec(), Letters::Utf8),
        (bom, Letters::Utf8),
        (cp1252, Letters::Cp1252),
        (utf16, Letters::Utf16),
        (tabs, Letters::Utf8),
    ] {
        let preview = any::read(&bytes, &Options::default(), &World::default(), today()).unwrap();
        assert_eq!(preview.letters, letters);
        assert_eq!(problems(&preview), []);
        let mut next = 0;
        let mut mint = || {
            next += 1;
            Uuid::from_u128(next)
        };
        let change = changes(&preview, &mut mint, "Import");
        let mut world = World::default();
        world.advance_all(&decide(&world.clone(), &change, today()).unwrap());
        let yard = world.yards.values().next().unwrap();
        assert_eq!((yard.name.as_str(), yard.place.map(|it| (it.lat(), it.lon()))), ("Äckerle", Some((-40.25, 160.5))));
        assert_eq!(world.queens.values().next().unwrap().birth, Birth::on(day("2025-11-14")));
    }
}

#[test]
fn sample_files_of_every_kind_come_in_whole() {
    for (name, bytes, hives, yards) in [
        ("semicolon-decimal-comma.csv", &include_bytes!("../../data/import/semicolon-decimal-comma.csv")[..], 3, 2),
        ("tab-cp1252.txt", include_bytes!("../../data/import/tab-cp1252.txt"), 2, 1),
        ("bom-quoted.csv", include_bytes!("../../data/import/bom-quoted.csv"), 2, 1),
        ("month-first.csv", include_bytes!("../../data/import/month-first.csv"), 2, 1),
        ("yards.geojson", include_bytes!("../../data/import/yards.geojson"), 0, 2),
        ("yards-1.0.gpx", include_bytes!("../../data/import/yards-1.0.gpx"), 0, 2),
        ("yards-1.1.gpx", include_bytes!("../../data/import/yards-1.1.gpx"), 0, 3),
    ] {
        let preview = any::read(bytes, &Options::default(), &World::default(), today()).unwrap();
        assert_eq!(problems(&preview), [], "{name}");
        assert_eq!((preview.totals.hives_added, preview.totals.yards_new), (hives, yards), "{name}");
    }
}

#[test]
fn dates_that_read_two_ways_are_asked_once() {
    let text = "yard,hive,introduced\nHeath,B1,3/4/2026\nHeath,B2,5/6/2026\nHeath,B3,2026-11-14\n";
    let register = Register::new();
    let preview = register.preview(text, &Options::default());
    let question = preview.question.clone().unwrap();
    assert_eq!((question.example.as_str(), question.rows), ("3/4/2026", 2));
    assert_eq!((question.day_first, question.month_first), (day("2026-04-03"), day("2026-03-04")));
    assert_eq!(preview.totals.held_back, 2);
    let answered = register.preview(text, &Options { dates: Some(DateOrder::MonthDay), ..Options::default() });
    assert_eq!((answered.question, answered.totals.held_back), (None, 0));
    let proven = register.preview(&format!("{text}Heath,B4,25/6/2026\n"), &Options::default());
    assert_eq!((proven.dates, proven.totals.held_back), (Some(DateOrder::DayMonth), 0));
}

#[test]
fn problems_name_their_field_and_a_remedy() {
    check_held("yard,hive,found", "Heath,B1,eggs", Field::LastLook, "Something was found, and no day is given");
    check_held("yard,hive,latitude,longitude", "Heath,B1,98,160", Field::Latitude, "The latitude 98 is beyond 90");
    check_held("yard,hive,latitude,longitude", "Heath,B1,-40,", Field::Longitude, "The longitude is missing");
    check_held(
        "yard,hive,last look,found",
        "Heath,B1,2026-11-01,purple balloons",
        Field::Found,
        "purple is not understood as a find",
    );
    check_held("yard,hive,introduced", "Heath,B1,2026-12-24", Field::Introduced, "24 Dec lies ahead");
    check_held("yard,hive,introduced", "Heath,B1,2025", Field::Introduced, "2025 is no day");
    check_held(
        "yard,hive,introduced,dequeened",
        "Heath,B1,2026-11-14,2026-11-15",
        Field::Dequeened,
        "Dequeened 15 Nov comes after introduced 14 Nov",
    );
    check_held(
        "yard,hive,queen born,introduced",
        "Heath,B1,2026-11-20,2026-11-14",
        Field::Born,
        "Born 2026-11-20, yet introduced 14 Nov",
    );
    check_held("yard,hive,queen born", "Heath,B1,1999", Field::Born, "Born 1999 is 27 years ago");
    check_held("yard,hive,method", "Heath,B1,caged", Field::Method, "The method is given, and no day introduced");
    check_held("yard,hive,introduced,method", "Heath,B1,2026-11-14,by post", Field::Method, "by post is no method");
    check_held(
        "yard,hive,gate opens,gate closes",
        "Heath,B1,17:00,7:00",
        Field::GateCloses,
        "The gate closes before it opens",
    );
    check_held("yard,hive,dot", "Heath,B1,pink", Field::Dot, "pink is no dot");
    check_held("yard,hive", ",B1", Field::Yard, "No yard is named");
    check_held(
        "yard,hive",
        "Heath,B\u{200b}1",
        Field::Hive,
        "The name of the hive holds a sign that cannot be seen (U+200B)",
    );
    check_held(
        "yard,hive,last look,found,by",
        "Heath,B1,2026-11-14,eq,Martha Kessler",
        Field::By,
        "Initials have at most 12 signs",
    );
    check_held(
        "yard,hive,introduced,last look,found",
        "Heath,B1,2026-11-14,2026-11-14,-r",
        Field::Found,
        "Not opened, yet a queen was given",
    );
}

#[test]
fn ragged_rows_are_held_back_and_cut_off_files_refused() {
    let preview = Register::new()
        .preview("yard,hive,note\nHeath,B1,x\nHeath,B2\nHeath,B3,x,y\nHeath,B4,x,,\n", &Options::default());
    let held: Vec<(u32, &str)> = problems(&preview).iter().map(|(row, _, fact)| (*row, *fact)).collect();
    assert_eq!(held, [(3, "The row has 2 cells, the headings 3"), (4, "The row has 4 cells, the headings 3")]);
    let cut = any::read(b"yard,hive,note\nHeath,B1,\"cut", &Options::default(), &World::default(), today());
    assert_eq!(cut.unwrap_err().fact, "A quote opened in row 2 is never closed");
}

#[test]
fn unknown_headings_are_shown_and_can_be_mapped() {
    let text = "Bezeichnung,Stand,hive,frames\nx,Heath,B1,9\n";
    let fault = any::read(text.as_bytes(), &Options::default(), &World::default(), today()).unwrap_err();
    assert!(fault.fact.contains("No heading says which column is the yard (row 1: Bezeichnung, Stand"), "{fault}");
    let mut options = Options::default();
    options.mapping.insert("stand".to_owned(), Some(Field::Yard));
    let preview = Register::new().preview(text, &options);
    let fields: Vec<Option<Field>> = preview.headings.iter().map(|heading| heading.field).collect();
    assert_eq!(fields, [None, Some(Field::Yard), Some(Field::Hive), None]);
    assert_eq!(preview.totals.hives_added, 1);
}

#[test]
fn corrections_are_made_in_the_preview_and_confirm_names() {
    let mut register = Register::new();
    register.bring_in("yard,hive\nThrift Head,TH01\n", &Options::default());
    let text = "yard,hive,introduced\nThrift Hed,TH07,31/11/2026\n";
    assert_eq!(register.preview(text, &Options::default()).totals.held_back, 1);
    let mut options = Options::default();
    options.corrections.insert((2, Field::Yard), "Thrift Head".to_owned());
    options.corrections.insert((2, Field::Introduced), "20/11/2026".to_owned());
    let preview = register.preview(text, &options);
    assert_eq!((preview.totals.hives_added, preview.totals.yards_new, problems(&preview)), (1, 0, Vec::new()));
    options.corrections.insert((2, Field::Yard), "Thrift Hed".to_owned());
    assert_eq!(register.preview(text, &options).totals.yards_new, 1, "confirmed as a name of its own");
}

#[test]
fn a_hive_that_is_there_is_decided_on_and_never_doubled() {
    let mut register = Register::with("yard,hive,queen born,source,introduced\nHeath,B1,2025,Broom,2026-11-12\n");
    let text = "yard,hive,queen born,source,introduced,last look,found\nheath,b1,2024,Tansy,2026-11-13,2026-11-22,eq\n";
    let asked = register.preview(text, &Options::default());
    assert_eq!(
        problems(&asked),
        [(2, Some(Field::Hive), "b1 is in the register already. Introduced: 12 Nov to 13 Nov")]
    );
    let skipped = register.preview(text, &Options { existing: Existing::Skip, ..Options::default() });
    assert_eq!((skipped.totals.same, row(&skipped, 2).will), (1, Will::Same));
    let update = Options { existing: Existing::Update, ..Options::default() };
    let changed = register.bring_in(text, &update);
    assert_eq!(changed.totals.changed, 1);
    assert_eq!(register.world.living().count(), 1);
    let colony = register.world.living().next().unwrap().id;
    let [given, found] = register.world.records_of(colony) else { panic!("two records") };
    assert_eq!((given.day, found.day, given.amended.len()), (day("2026-11-13"), day("2026-11-22"), 1));
    let queen = register.world.queens.values().next().unwrap();
    assert_eq!(queen.birth, Birth::in_year(2024));
    assert_eq!(register.world.sources.get(&queen.source.unwrap()).unwrap().name, "Tansy");
    let again = register.preview(text, &update);
    assert_eq!((again.totals.same, again.totals.changed), (1, 0), "the second time nothing is left to change");
    let mut mint = || Uuid::nil();
    assert_eq!(register.decide(&changes(&again, &mut mint, "Import")), Ok(0));
}

#[test]
fn days_that_differ_by_their_year_alone_say_it() {
    let register = Register::with("yard,hive,introduced\nHeath,B1,2026-11-12\n");
    let asked = register.preview("yard,hive,introduced\nHeath,B1,2025-11-12\n", &Options::default());
    let fact = "Introduced 12 Nov 2025, in the register 12 Nov 2026";
    assert_eq!(problems(&asked), [(2, Some(Field::Introduced), fact)]);
}

#[test]
fn an_ended_colony_leaves_its_name_free() {
    let mut register = Register::with("yard,hive,ended,why ended\nHeath,B1,2026-06-01,sold\n");
    let preview = register.bring_in("yard,hive\nHeath,B1\n", &Options::default());
    assert_eq!((preview.totals.hives_added, register.world.colonies.len()), (1, 2));
}

#[test]
fn the_held_back_rows_can_be_corrected_and_brought_in() {
    let preview = Register::new().preview(SAMPLE, &Options::default());
    let held = held_back_csv(&preview).unwrap();
    let again = Register::new().preview(&held, &Options::default());
    assert_eq!(again.totals.rows, preview.totals.held_back);
    assert!(held.contains("31 November does not exist. Correct the day"));
    let fine = Register::new().preview("yard,hive\nHeath,B1\n", &Options::default());
    assert_eq!(held_back_csv(&fine), None);
}

#[test]
fn one_yard_told_two_ways_is_a_problem() {
    let preview = Register::new().preview(
        "yard,hive,lat,lon\nHeath,B1,-40,160\nHeath,B2,,\nHeath,B3,-40,160\nHeath,B4,-41,160\n",
        &Options::default(),
    );
    assert_eq!(problems(&preview), [(5, Some(Field::Latitude), "Heath has another place in row 2")]);
}

#[test]
fn numbered_yards_are_no_slips_of_each_other() {
    let mut text = String::from("yard,hive\n");
    for yard in 1..=40 {
        writeln!(text, "Yard {yard},H{yard}").unwrap();
    }
    assert_eq!(problems(&Register::new().preview(&text, &Options::default())), []);
}

#[test]
fn a_yard_takes_what_is_not_known_of_it_and_is_asked_about_for_the_rest() {
    let mut register = Register::with("yard,hive\nHeath,B1\n");
    let preview = register.bring_in("yard,hive,lat,lon\nHeath,B1,-40,160\nHeath,B2,-40,160\n", &Options::default());
    assert_eq!(preview.rows.iter().map(|row| row.will).collect::<Vec<_>>(), [Will::Change, Will::Add]);
    assert_eq!(register.world.yards.values().next().unwrap().place.map(Place::lat), Some(-40.0));
    let moved = "yard,lat,lon\nHeath,-41,160\n";
    let asked = register.preview(moved, &Options::default());
    assert_eq!(problems(&asked), [(2, Some(Field::Latitude), "Heath is in the register with another place")]);
    let skip = Options { existing: Existing::Skip, ..Options::default() };
    assert_eq!(register.preview(moved, &skip).totals.same, 1);
    let update = Options { existing: Existing::Update, ..Options::default() };
    assert_eq!(register.bring_in(moved, &update).totals.changed, 1);
    assert_eq!(register.world.yards.values().next().unwrap().place.map(Place::lat), Some(-41.0));
}

#[test]
fn lids_of_hives_accepted_long_ago_are_taken_to_say_so() {
    let mut register = Register::with(
        "yard,hive,introduced,last look,found\nHeath,B1,2025-11-14,2025-11-24,eq\nHeath,B2,2026-11-14,,\n\
         Heath,B3,,2026-11-20,x1\nHeath,B4,,,\nHeath,B5,2026-11-01,2026-11-12,e q\n",
    );
    let queue = |register: &Register| {
        let outlook = lidnote::planner::outlook::Outlook::new(&register.world, today());
        let name = |id| register.world.colonies[id].name().to_owned();
        outlook.label_queue.iter().map(name).collect::<Vec<String>>()
    };
    assert_eq!(queue(&register), ["B2", "B3"], "a cage is in, and a lid to keep shut; nothing else matters");
    let hive = |register: &Register, name: &str| register.world.living().find(|it| it.name() == name).unwrap().id;
    let b1 = register.world.colonies[&hive(&register, "B1")].lid.clone();
    assert_eq!((b1.on, b1.printed[0].as_str()), (None, "B1 LAYING 24 NOV"));

    // A slip of the file is put right: the find was B2's. Both lids say something else now.
    let b5 = hive(&register, "B5");
    let find = register.world.records_of(b5)[1].id;
    let mut amendment = lidnote::domain::change::Amendment::of(b5, find, "wrong row of the file", "MK");
    (amendment.to, amendment.day) = (Some(hive(&register, "B2")), Some(day("2026-11-22")));
    register.decide(&Change::Amend(Box::new(amendment))).unwrap();
    assert_eq!(queue(&register), ["B2", "B3", "B5"]);
    let updated = "yard,hive,last look,found\nHeath,B1,2026-11-22,e l b\nHeath,B4,2026-11-22,e\n";
    let options = Options { existing: lidnote::exchange::table::preview::Existing::Update, ..Options::default() };
    register.bring_in(updated, &options);
    assert_eq!(queue(&register), ["B2", "B3", "B5"], "a quiet hive that was seen again is no reason to print");
}
