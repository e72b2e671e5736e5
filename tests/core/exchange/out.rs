//! Lists, calendars, routes and points as other programs read them.

use lidnote::domain::world::World;
use lidnote::exchange::out::calendar::{Stamp, due_events, ics};
use lidnote::exchange::out::lists::{DueLine, RunLine, due_csv, run_csv};
use lidnote::exchange::out::route::{RoutePoint, gpx};
use lidnote::exchange::points::geojson::yards_geojson;

use super::{Register, day, today};

fn due() -> Vec<DueLine> {
    use lidnote::domain::work::WorkState;
    let line = |hive: &str, best: &str, why: &str| DueLine {
        key: format!("{hive}-acceptance-2026-11-14"),
        yard: "Ōkāreka, \"north\"; gate".to_owned(),
        hive: hive.to_owned(),
        work: "acceptance look".to_owned(),
        earliest: day("2026-11-21"),
        best: day(best),
        latest: Some(day("2026-11-28")),
        state: WorkState::Open,
        why: why.to_owned(),
    };
    vec![
        line("B14", "2026-11-24", "Caged queen in 14 Nov: 7, 10, 14 days after."),
        line("=B15", "2026-12-31", &"Zürich ōōōō, wörds; back\\slash\nand a new line. ".repeat(5)),
    ]
}

#[test]
fn calendars_hold_to_the_standard() {
    let stamp = Stamp { day: today(), second: 30_605 };
    let text = ics("Due, all", &due_events(&due()), stamp);
    assert_eq!(text, include_str!("../../reference/exchange/due.ics"), "the file an independent reader was shown");
    assert_eq!(text, ics("Due, all", &due_events(&due()), stamp), "the same twice");
    assert!(text.split_inclusive("\r\n").all(|line| line.ends_with("\r\n") && line.len() <= 77), "75 octets and CRLF");
    assert!(!text.replace("\r\n", "").contains(['\r', '\n']), "no bare line ends");
    assert!(text.contains("DTSTART;VALUE=DATE:20261231\r\nDTEND;VALUE=DATE:20270101\r\n"), "a day ends on the next");
    assert!(text.contains("DTSTAMP:20261123T083005Z\r\n"));
    let unfolded = text.replace("\r\n ", "");
    assert!(unfolded.contains("wörds\\; back\\\\slash\\nand"), "escaped");
    for key in ["UID:", "DTSTAMP:", "SEQUENCE:0", "DTSTART;", "DTEND;", "SUMMARY:"] {
        assert_eq!(unfolded.lines().filter(|line| line.starts_with(key)).count(), 2, "{key}");
    }
}

#[test]
fn lists_hold_their_columns() {
    let text = due_csv(&due());
    assert!(text.starts_with("yard,hive,work,earliest,best,latest,state,why\r\n"));
    assert!(text.contains(",B14,acceptance look,2026-11-21,2026-11-24,2026-11-28,open,"));
    assert!(text.contains(",'=B15,"), "made harmless");
    let run = RunLine {
        stop: 1,
        yard: "Heath".to_owned(),
        arrive: 492,
        leave: 545,
        drive_min: 42,
        wait_min: 0,
        service_min: 53,
        km: 41.96,
    };
    assert_eq!(
        run_csv(&[run]),
        "stop,yard,arrive,leave,drive_min,wait_min,service_min,km\r\n1,Heath,08:12,09:05,42,0,53,42.0\r\n"
    );
}

fn route() -> String {
    let place = |lat, lon| lidnote::domain::place::Place::new(lat, lon).unwrap();
    let point = |name: &str, lat, lon, time: &str, notes: &str| RoutePoint {
        name: name.to_owned(),
        place: place(lat, lon),
        time: time.to_owned(),
        notes: notes.to_owned(),
    };
    gpx(
        "Run of 24 Nov & \"north\"",
        &[
            point("Port Sallow shed", -40.0125, 160.025, "leaves 07:30", ""),
            point("Ōkāreka <1>", -40.1, 160.123_456_789, "08:12 to 09:05", "12 looks, 3 cages\u{1}"),
            point("Edge", 0.000_001, 180.0, "", ""),
        ],
    )
}

#[test]
fn routes_are_read_by_another_reader() {
    let text = route();
    assert_eq!(text, include_str!("../../reference/exchange/run.gpx"), "the file an independent reader was shown");
    let read = gpx::read(text.as_bytes()).unwrap();
    let points: Vec<_> =
        read.routes[0].points.iter().map(|it| (it.name.clone().unwrap(), it.point().y(), it.point().x())).collect();
    assert_eq!(read.routes[0].name.as_deref(), Some("Run of 24 Nov & \"north\""));
    assert_eq!(points[1], ("Ōkāreka <1>".to_owned(), -40.1, 160.123_456_789));
    assert_eq!(points[2], ("Edge".to_owned(), 0.000_001, -180.0), "the schema's longitude stays below 180");
    assert_eq!(read.routes[0].points[1].comment.as_deref(), Some("08:12 to 09:05"));
    assert_eq!(read.routes[0].points[1].description.as_deref(), Some("12 looks, 3 cages"));
}

#[test]
fn yards_go_out_as_geojson_and_come_back() {
    let register = Register::with(
        "yard,lat,lon,gate opens,gate closes,minutes,hazards\nHeath,-40.25,160.5,7,17:30,20,steep; no signal\nÄcker,1.5,-3,,,,\nNowhere,,,,,,\n",
    );
    let text = yards_geojson(&register.world);
    assert_eq!(
        text,
        include_str!("../../reference/exchange/yards.geojson"),
        "the file an independent reader was shown"
    );
    let back = Register::with(&text);
    let yards = |world: &World| {
        let mut all: Vec<_> = world
            .yards
            .values()
            .filter(|it| it.place.is_some())
            .map(|it| format!("{:?}", (&it.name, it.place, it.gate, it.minutes, &it.hazards)))
            .collect();
        all.sort();
        all
    };
    assert_eq!(yards(&back.world), yards(&register.world));
    let read: geojson::FeatureCollection = text.parse::<geojson::GeoJson>().unwrap().try_into().unwrap();
    assert_eq!(read.features.len(), 2, "yards without a place are left out");
}
