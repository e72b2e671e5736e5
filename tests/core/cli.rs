//! The command line as its user meets it: the built program, files in a folder of its own, exit status and words.

use std::path::PathBuf;
use std::process::{Command, Output};

use tempfile::TempDir;

/// A folder with a register in it.
struct Bench {
    folder: TempDir,
}

impl Bench {
    fn new() -> Self {
        Self { folder: tempfile::tempdir().expect("a folder") }
    }

    fn file(&self, name: &str, text: &str) -> PathBuf {
        let path = self.folder.path().join(name);
        std::fs::write(&path, text).expect("written");
        path
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn run(&self, on: &str, args: &[&str]) -> Output {
        let mut command = Command::new(env!("CARGO_BIN_EXE_lidnote"));
        command.args(args).arg("--register").arg(self.path("bees.lidnote")).args(["--on", on]);
        // Nothing of the tester's own preferences or folders is read or written.
        command.env("HOME", self.folder.path()).env("XDG_CONFIG_HOME", self.folder.path().join("config"));
        command.output().expect("the program runs")
    }

    #[track_caller]
    fn ok(&self, on: &str, args: &[&str]) -> String {
        let output = self.run(on, args);
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(0), "{args:?}: {said}");
        String::from_utf8(output.stdout).expect("text")
    }

    #[track_caller]
    fn refused(&self, on: &str, args: &[&str]) -> String {
        let output = self.run(on, args);
        assert_eq!(output.status.code(), Some(1), "{args:?} was to be refused");
        assert!(output.stdout.is_empty(), "nothing on standard output");
        String::from_utf8(output.stderr).expect("text")
    }

    /// The due lines of one hive, as `work earliest best latest state`.
    #[track_caller]
    fn due(&self, on: &str, hive: &str) -> Vec<String> {
        let text = self.ok(on, &["due"]);
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let rows = reader.records().map(|row| row.expect("a row")).filter(|row| &row[1] == hive);
        rows.map(|row| row.iter().skip(2).take(5).collect::<Vec<_>>().join(" ")).collect()
    }

    fn record(&self, on: &str, rows: &str) -> Output {
        let path = self.file("evening.csv", &format!("yard,hive,date,find,words,by\n{rows}"));
        self.run(on, &["record", path.to_str().expect("a name")])
    }
}

fn with_hives(rows: &str) -> Bench {
    let bench = Bench::new();
    let head = "yard,latitude,longitude,hive,introduced,method,dequeened\n";
    let file = bench.file("hives.csv", &format!("{head}{rows}"));
    bench.ok("2026-11-14", &["import", file.to_str().expect("a name")]);
    bench
}

#[test]
fn a_caged_queen_has_her_look_due_on_the_day_and_late_after() {
    let bench = with_hives("Broom Flat,-40.05,160.3,B14,2026-11-14,caged,\n");
    for (on, state) in [("2026-11-20", "ahead"), ("2026-11-21", "open"), ("2026-11-28", "open"), ("2026-11-29", "late")]
    {
        let window = format!("acceptance look 2026-11-21 2026-11-24 2026-11-28 {state}");
        assert_eq!(bench.due(on, "B14"), [window], "on {on}");
    }
    let over_the_year = with_hives("Broom Flat,-40.05,160.3,B14,2026-11-14,caged,\n");
    let again = over_the_year.file("more.csv", "yard,hive,introduced,method\nBroom Flat,B99,2026-12-28,caged\n");
    over_the_year.ok("2026-12-30", &["import", again.to_str().expect("a name")]);
    let window = "acceptance look 2027-01-04 2027-01-07 2027-01-11 ahead";
    assert_eq!(over_the_year.due("2026-12-30", "B99"), [window]);
}

#[test]
fn a_cell_is_judged_by_the_days_gone_by() {
    let bench = with_hives("Broom Flat,-40.05,160.3,B09,2026-11-14,cell,2026-11-13\n");
    assert_eq!(bench.due("2026-11-29", "B09"), ["first brood look 2026-11-28 2026-11-29 2026-12-02 open"]);
    assert!(bench.record("2026-11-29", "Broom Flat,B09,2026-11-29,b,,MK\n").status.success());
    assert_eq!(bench.due("2026-11-30", "B09"), ["verdict look 2026-12-10 2026-12-12 2026-12-14 ahead"]);
    assert!(bench.record("2026-12-12", "Broom Flat,B09,2026-12-12,e,,MK\n").status.success());
    assert_eq!(bench.due("2026-12-12", "B09"), ["capped-brood look 2026-12-21 2026-12-24 2026-12-28 ahead"]);
    bench.ok("2026-12-12", &["undo"]);
    assert!(bench.record("2026-12-12", "Broom Flat,B09,2026-12-12,eb,,MK\n").status.success());
    assert_eq!(bench.due("2026-12-12", "B09"), Vec::<String>::new());
}

#[test]
fn a_find_on_the_wrong_hive_is_put_right_and_taken_back() {
    let bench = with_hives(
        "Broom Flat,-40.05,160.3,B14,2026-11-08,caged,\nBroom Flat,-40.05,160.3,B15,2026-11-08,caged,\nBroom Flat,-40.05,160.3,B16,,,\n",
    );
    bench.ok("2026-11-14", &["labels", "--printed", "--output", bench.path("first.pdf").to_str().expect("a name")]);
    assert!(bench.record("2026-11-18", "Broom Flat,B14,2026-11-18,eq,,MK\n").status.success());
    bench.ok("2026-11-18", &["labels", "--printed", "--output", bench.path("second.pdf").to_str().expect("a name")]);
    for day in 0..30 {
        let on = format!("2026-11-{:02}", 19 + day / 8);
        bench.ok(&on, &["set", "minutes_look", &(20 + day).to_string()]);
    }
    let amend = [
        "amend",
        "--yard",
        "Broom Flat",
        "--hive",
        "B14",
        "--date",
        "2026-11-18",
        "--to",
        "B15",
        "--reason",
        "wrong row",
    ];
    let amended = String::from_utf8(bench.run("2026-11-24", &amend).stderr).expect("text");
    assert!(!amended.contains("It says now"), "it says what it said: {amended}");
    assert_eq!(bench.due("2026-11-24", "B14"), ["acceptance look 2026-11-15 2026-11-18 2026-11-22 late"]);
    assert_eq!(bench.due("2026-11-24", "B15"), Vec::<String>::new());
    let labels = bench.ok("2026-11-24", &["labels", "--text"]);
    assert!(labels.contains("B15 LAYING 18 NOV"), "accepted on the find's day: {labels}");
    assert_eq!(labels.split("\n\n").count(), 2, "two labels wait: {labels}");
    let card = bench.ok("2026-11-24", &["card", "B15"]);
    assert!(card.contains("wrong row"), "the amendment stays readable: {card}");
    bench.ok("2026-11-24", &["undo"]);
    assert_eq!(bench.due("2026-11-24", "B14"), Vec::<String>::new());
    assert_eq!(bench.due("2026-11-24", "B15"), ["acceptance look 2026-11-15 2026-11-18 2026-11-22 late"]);
}

#[test]
fn an_amended_find_says_how_its_codes_were_read() {
    let bench = with_hives("Broom Flat,-40.05,160.3,B14,2026-11-08,caged,\nMill Race,-40.1,160.4,B14,,,\n");
    assert!(bench.record("2026-11-18", "Broom Flat,B14,2026-11-18,eq,,MK\n").status.success());
    let hive = ["--yard", "Broom Flat", "--hive", "B14"];
    let amend = [&["amend", "--date", "2026-11-18", "--find", "c3 /c", "--reason", "slip"], &hive[..]].concat();
    let said = String::from_utf8(bench.run("2026-11-24", &amend).stderr).expect("text");
    assert!(said.contains("It says now: 3 closed cells, cells cut"), "{said}");
    let label = bench.ok("2026-11-24", &[&["labels", "--text"], &hive[..]].concat());
    assert!(label.starts_with("B14") && label.contains("LOST 18 NOV"), "{label}");
}

#[test]
fn sixty_rows_are_one_change() {
    let hives =
        (1..=60).map(|n| format!("Broom Flat,-40.05,160.3,B{n:02},2026-11-14,caged,\n")).collect::<Vec<_>>().concat();
    let bench = with_hives(&hives);
    let code = |n: u32| match n {
        1..=52 => "eq",
        53..=55 => "c2",
        56 => "u",
        57 => "x",
        58 | 59 => "-r",
        _ => "p",
    };
    let rows =
        (1..=60).map(|n| format!("Broom Flat,B{n:02},2026-11-24,{},,MK\n", code(n))).collect::<Vec<_>>().concat();
    assert!(bench.record("2026-11-24", &rows).status.success());
    let due = bench.ok("2026-11-24", &["due"]);
    let looks = due.lines().filter(|line| line.contains(",acceptance look,")).count();
    assert_eq!(looks, 4, "another queen's, two unopened and one part still due: {due}");
    assert_eq!(bench.due("2026-11-24", "B01"), Vec::<String>::new());
    assert!(bench.due("2026-11-24", "B57").iter().all(|work| work.contains("isolate")), "barred");
    bench.ok("2026-11-24", &["undo"]);
    let due = bench.ok("2026-11-24", &["due"]);
    assert_eq!(due.lines().filter(|line| line.contains(",acceptance look,")).count(), 60, "one undo takes back all");
}

#[test]
fn a_bad_row_refuses_the_whole_file_and_names_it() {
    let bench = with_hives("Broom Flat,-40.05,160.3,B14,2026-11-14,caged,\n");
    let output = bench.record("2026-11-24", "Broom Flat,B14,2026-11-24,eq,,MK\nBroom Flat,B77,2026-11-24,eq,,MK\n");
    assert_eq!(output.status.code(), Some(1));
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(said.contains("evening.csv, row 3, hive") && said.contains("nothing was recorded"), "{said}");
    assert_eq!(bench.due("2026-11-24", "B14").len(), 1, "nothing of the file was recorded");
}

#[test]
fn what_cannot_be_is_refused_with_a_way_out() {
    let bench = with_hives("Broom Flat,-40.05,160.3,B14,2026-11-14,caged,\nMill Race,-40.1,160.4,B14,,,\n");
    let two = bench.refused("2026-11-24", &["card", "B14"]);
    assert!(
        two.contains("Broom Flat/B14 or Mill Race/B14") || two.contains("Mill Race/B14 or Broom Flat/B14"),
        "{two}"
    );
    assert!(bench.ok("2026-11-24", &["card", "Broom Flat/B14"]).starts_with("B14, Broom Flat"));
    let speed = bench.refused("2026-11-24", &["set", "speed", "1000"]);
    assert!(speed.contains("5 to 130 (km/h)"), "{speed}");
    let base = bench.refused("2026-11-24", &["run", "--base=95,10"]);
    assert!(base.contains("not on the earth"), "{base}");
    let commas = bench.refused("2026-11-24", &["run", "--base=-40,05,160,3"]);
    assert!(commas.contains("--base=LAT,LON with points"), "{commas}");
    let strange = Command::new(env!("CARGO_BIN_EXE_lidnote")).args(["fly"]).output().expect("runs");
    assert_eq!(strange.status.code(), Some(2));
}

#[test]
fn an_export_brought_in_again_gives_the_same_export() {
    let bench = with_hives("Broom Flat,-40.05,160.3,B14,2026-11-14,caged,\nMill Race,-40.1,160.4,M1,,,\n");
    assert!(bench.record("2026-11-24", "Broom Flat,B14,2026-11-24,eq t3,'calm,MK\n").status.success());
    let first = bench.ok("2026-11-24", &["export", "--format", "csv"]);
    let other = Bench::new();
    let file = other.file("all.csv", &first);
    other.ok("2026-11-24", &["import", file.to_str().expect("a name")]);
    assert_eq!(other.ok("2026-11-24", &["export", "--format", "csv"]), first);
    assert_eq!(other.ok("2026-11-24", &["due"]), bench.ok("2026-11-24", &["due"]));
}

#[test]
fn a_run_goes_through_exactly_the_yards_named() {
    let bench = with_hives(
        "Broom Flat,-40.05,160.3,B14,2026-11-14,caged,\nMill Race,-40.1,160.4,M1,,,\nFar,-40.4,160.9,F1,,,\n",
    );
    let run = ["run", "--base=-40.0,160.2", "--leave", "08:00", "--yards=Mill Race,Broom Flat"];
    let text = bench.ok("2026-11-24", &run);
    let mut lines = text.lines();
    assert_eq!(lines.next(), Some("stop,yard,arrive,leave,drive_min,wait_min,service_min,km"));
    assert_eq!(lines.count(), 2, "{text}");
    let gpx = bench.ok("2026-11-24", &[&run[..], &["--format", "gpx"]].concat());
    assert_eq!(gpx.matches("<rtept ").count(), 4, "base, two yards, base: {gpx}");
    let ics = bench.ok("2026-11-24", &[&run[..], &["--format", "ics"]].concat());
    assert_eq!(ics.matches("BEGIN:VEVENT").count(), 2);
}

#[test]
fn a_hive_dequeened_and_not_yet_given_a_queen_is_brought_in_so() {
    let bench = Bench::new();
    let rows = "yard,hive,queen born,dequeened,last look,found\nBroom Flat,B1,,2026-11-13,,\n\
        Broom Flat,B2,2024,2026-11-13,2026-11-18,c2\nBroom Flat,B3,,not found,2026-11-13,\n";
    let file = bench.file("waiting.csv", rows);
    let import = ["import", file.to_str().expect("a name")];
    bench.ok("2026-11-20", &import);
    for hive in ["B1", "B2"] {
        let card = bench.ok("2026-11-20", &["card", hive]);
        assert!(card.contains("2026-11-13 Old queen removed"), "{card}");
        assert!(card.contains("none, on purpose, since 2026-11-13"), "{card}");
    }
    assert!(bench.due("2026-11-14", "B3").iter().any(|work| work.starts_with("find the old queen")));
    let export = bench.ok("2026-11-20", &["export"]);
    bench.ok("2026-11-20", &import);
    assert_eq!(bench.ok("2026-11-20", &["export"]), export, "the same file again alters nothing");
    let undated = bench.file("undated.csv", "yard,hive,dequeened\nBroom Flat,B9,not found\n");
    let said = bench.refused("2026-11-20", &["import", undated.to_str().expect("a name")]);
    assert!(said.contains("row 2, dequeened") && said.contains("1 row has problems"), "{said}");
}

#[test]
fn queens_given_in_an_evening_come_out_of_what_is_in_hand() {
    let bench =
        with_hives("Broom Flat,-40.05,160.3,B1,,,\nBroom Flat,-40.05,160.3,B2,,,\nBroom Flat,-40.05,160.3,B3,,,\n");
    let parcel = |source: &str, count: &str| {
        let args = ["parcel", "--source", source, "--count", count, "--arrived", "2026-11-20"];
        bench.ok("2026-11-20", &args);
    };
    let left = |source: &str| {
        let list = bench.ok("2026-11-22", &["parcel"]);
        let line = list.lines().find(|line| line.contains(source)).expect("a line").to_owned();
        line.split(',').nth(9).map(str::to_owned)
    };
    parcel("Thrift", "2");
    assert!(bench.record("2026-11-21", "Broom Flat,B1,2026-11-21,/q +q,,MK\n").status.success());
    assert_eq!(left("Thrift").as_deref(), Some("1"), "the only source in hand");
    parcel("Farside", "5");
    let rows = "yard,hive,date,find,source\nBroom Flat,B2,2026-11-21,/q +q,farside\nBroom Flat,B3,2026-11-21,/q +q,\n";
    let file = bench.file("two.csv", rows);
    let said = bench.run("2026-11-22", &["record", file.to_str().expect("a name")]).stderr;
    let said = String::from_utf8(said).expect("text");
    let given = "Given: 1 out of Farside of 20 Nov, 4 stay in hand; 1 out of Thrift of 20 Nov, none stays in hand";
    assert!(said.contains(given), "{said}");
    assert_eq!(
        (left("Thrift").as_deref(), left("Farside").as_deref()),
        (Some("0"), Some("4")),
        "the oldest where nothing is said"
    );
    assert!(bench.ok("2026-11-22", &["card", "B2"]).contains("Farside"));
}

#[test]
fn a_parcel_tells_its_queens_birth_and_a_like_named_source_is_not_made_twice() {
    let bench = with_hives("Broom Flat,-40.05,160.3,B1,,,\nBroom Flat,-40.05,160.3,B2,,,\n");
    let on = "2026-11-20";
    let arrived = ["--count", "3", "--arrived", on];
    bench.ok(on, &[&["parcel", "--source", "Farside Queens", "--born", "oct 2026"], &arrived[..]].concat());
    let said = bench.refused(on, &[&["parcel", "--source", "farside"], &arrived[..]].concat());
    assert!(said.contains("Farside Queens is one") && said.contains("--new-source"), "{said}");
    let list = bench.ok(on, &["parcel"]);
    assert!(list.lines().nth(1).is_some_and(|line| line.ends_with(",Oct 2026,")), "{list}");
    assert!(bench.record("2026-11-21", "Broom Flat,B1,2026-11-21,/q +q,,MK\n").status.success());
    assert!(bench.ok("2026-11-21", &["card", "B1"]).contains("first season"), "{}", bench.ok(on, &["card", "B1"]));
    let said = bench.run("2026-11-21", &["parcel", "--amend", "1", "--born", "2024/25", "--dot", "red"]).stderr;
    assert!(String::from_utf8_lossy(&said).contains("Parcel from Farside Queens: queens born 2024/25"));
    let card = bench.ok("2026-11-21", &["card", "B1"]);
    assert!(card.contains("16 to 28 months") && card.contains("red"), "{card}");
    bench.ok("2026-11-21", &["undo"]);
    assert!(bench.ok("2026-11-21", &["card", "B1"]).contains("first season"));
    let said = bench.refused(on, &["parcel", "--amend", "1", "--born", "soon"]);
    assert!(said.contains("--born: soon is no birth"), "{said}");
    bench.ok(on, &[&["parcel", "--source", "Farside", "--new-source"], &arrived[..]].concat());
}

#[test]
fn rows_of_an_evening_without_a_day_are_refused_and_blank_ones_passed_over() {
    let bench =
        with_hives("Broom Flat,-40.05,160.3,B14,2026-11-14,caged,\nBroom Flat,-40.05,160.3,B15,2026-11-14,caged,\n");
    let said = String::from_utf8(bench.record("2026-11-24", "Broom Flat,B14,,eq,,MK\n").stderr).expect("text");
    assert!(said.contains("row 2, date: No day is given"), "{said}");
    assert!(
        bench.record("2026-11-24", "Broom Flat,B14,2026-11-24,,,\nBroom Flat,B15,2026-11-24,eq,,\n").status.success()
    );
    assert_eq!((bench.due("2026-11-24", "B14").len(), bench.due("2026-11-24", "B15").len()), (1, 0));
    let said = String::from_utf8(bench.record("2026-11-24", "Broom Flat,B14,2026-11-24,,,\n").stderr).expect("text");
    assert!(said.contains("No row holds a find"), "{said}");
}

#[test]
fn a_hive_moves_to_a_place_of_its_own() {
    let bench = with_hives("Broom Flat,-40.05,160.3,B1,,,\nBroom Flat,-40.05,160.3,B2,,,\n");
    let to = ["--to", "broom flat", "--row", "2", "--place", "4"];
    bench.ok("2026-11-24", &[&["move", "B1"], &to[..]].concat());
    let taken = bench.refused("2026-11-24", &[&["move", "B2"], &to[..]].concat());
    assert!(taken.contains("B1 stands in row 2, place 4"), "{taken}");
    let both = bench.refused("2026-11-24", &[&["move", "B1", "B2"], &to[..]].concat());
    assert!(both.contains("One place takes one hive"), "{both}");
    bench.refused("2026-11-24", &["move", "B2", "--to", "Broom Flat", "--row", "2"]);
    bench.ok("2026-11-24", &["move", "B1", "--to", "Broom Flat"]);
    assert!(bench.ok("2026-11-24", &["card", "B1"]).contains("row 2, place 4"), "within its yard it keeps its place");
}

#[test]
fn a_run_says_why_it_is_empty_and_keeps_its_calendar_ids() {
    let bench = with_hives("Broom Flat,-40.05,160.3,B14,2026-11-14,caged,\nLost,,,L1,2026-11-14,caged,\n");
    let said = |on: &str, args: &[&str]| String::from_utf8(bench.run(on, args).stderr).expect("text");
    assert!(said("2026-11-16", &["run", "--base=-40.0,160.2"]).contains("No yard has work to do that day"));
    let lost = said("2026-11-24", &["run", "--base=-40.0,160.2", "--yards=Lost"]);
    assert!(lost.contains("Left out: Lost. Its place is not known") && !lost.contains("proven"), "{lost}");
    assert_eq!(bench.run("2026-11-24", &["run", "--yards=,"]).status.code(), Some(2));
    let uids = || {
        let text = bench.ok("2026-11-24", &["run", "--base=-40.0,160.2", "--yards=Broom Flat", "--format", "ics"]);
        text.lines().filter(|line| line.starts_with("UID:")).map(str::to_owned).collect::<Vec<_>>()
    };
    assert_eq!(uids(), uids(), "a calendar replaces the events of a run brought in again");
}

#[test]
fn a_setting_is_shown_by_its_name_and_a_sheet_found_by_its_beginning() {
    let bench = with_hives("Broom Flat,-40.05,160.3,B14,2026-11-14,caged,\n");
    bench.ok("2026-11-24", &["set", "utc_offset", "-300"]);
    assert!(bench.ok("2026-11-24", &["set", "utc_offset"]).starts_with("utc_offset -300 (minutes; default 0)"));
    assert!(bench.refused("2026-11-24", &["set", "velocity"]).contains("`lidnote set` alone lists them"));
    let order = bench.refused("2026-11-24", &["set", "acceptance_earliest", "11"]);
    assert!(order.contains("Set “Caged queen: best acceptance look” (acceptance_best) first"), "{order}");
    let page = bench.path("l.pdf");
    bench.ok("2026-11-24", &["labels", "--sheet", "letter", "--output", page.to_str().expect("a name")]);
    assert!(std::fs::read(page).expect("a file").starts_with(b"%PDF-"));
}

#[test]
fn strokes_in_names_and_needless_mappings_are_no_riddle() {
    let bench = Bench::new();
    let file = bench.file("strokes.csv", "yard,hive\nMill/East,1/2\nHeath,1/2\n");
    let output = bench.run("2026-11-24", &["import", file.to_str().expect("a name"), "--map", "box=hive"]);
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success() && said.contains("no column is headed \"box\""), "{said}");
    assert!(bench.ok("2026-11-24", &["card", "Mill/East/1/2"]).starts_with("1/2, Mill/East"));
    assert!(bench.ok("2026-11-24", &["card", "Heath/1/2"]).starts_with("1/2, Heath"));
    assert!(bench.refused("2026-11-24", &["card", "Mill/East/9"]).contains("No hive of Mill/East is called 9"));
    assert!(bench.refused("2026-11-24", &["card", "Nowhere/9"]).contains("No yard is called Nowhere"));
}

#[test]
fn a_table_says_what_it_leaves_out() {
    let bench = with_hives("Broom Flat,-40.05,160.3,B14,2026-11-14,caged,\n");
    bench.ok("2026-11-24", &["parcel", "--count", "3", "--arrived", "2026-11-20"]);
    let exported = bench.run("2026-11-24", &["export"]);
    let said = String::from_utf8(exported.stderr).expect("text");
    assert_eq!(said, "Not in the table: the history of changes, with undo. --format register holds it too.\n");
    assert!(String::from_utf8(exported.stdout).expect("text").contains("\r\nparcel,"));
}

#[test]
fn a_refused_import_leaves_no_register_and_no_lock_behind() {
    let bench = Bench::new();
    let file = bench.file("bad.csv", "yard,hive,introduced\nBroom Flat,B1,31/11/2026\n");
    bench.refused("2026-11-24", &["import", file.to_str().expect("a name")]);
    let left: Vec<_> =
        std::fs::read_dir(bench.folder.path()).expect("a folder").flatten().map(|it| it.file_name()).collect();
    assert_eq!(left, ["bad.csv"]);
}
