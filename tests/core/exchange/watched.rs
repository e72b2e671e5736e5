//! A file can be stopped while it is read, whatever its kind.

use std::cell::{Cell, RefCell};

use lidnote::domain::world::World;
use lidnote::exchange::any::{read, read_watched};
use lidnote::exchange::table::preview::Options;
use lidnote::exchange::watch::{NotRead, Watch};

use super::today;

/// Stops the reading when it has been asked so many times.
struct StopsAfter {
    asked: Cell<usize>,
    most: usize,
    told: RefCell<Vec<u32>>,
}

impl StopsAfter {
    fn new(most: usize) -> Self {
        Self { asked: Cell::new(0), most, told: RefCell::default() }
    }
}

impl Watch for StopsAfter {
    fn stopped(&self) -> bool {
        self.asked.set(self.asked.get() + 1);
        self.asked.get() > self.most
    }

    fn reached(&self, percent: u32) {
        self.told.borrow_mut().push(percent);
    }
}

fn table() -> String {
    let rows = (0..1000).map(|row| format!("Yard {},H{row},2025-11-01\n", row / 40));
    std::iter::once("yard,hive,queen born\n".to_owned()).chain(rows).collect()
}

fn gpx() -> String {
    let points = (0..1000).map(|at| format!("<wpt lat=\"-40.{at:03}\" lon=\"160\"><name>Y{at}</name></wpt>"));
    format!("<gpx>{}</gpx>", points.collect::<String>())
}

fn geojson() -> String {
    let one = |at: usize| {
        format!(
            r#"{{"type":"Feature","geometry":{{"type":"Point","coordinates":[160,-40.{at:03}]}},"properties":{{"yard":"Y{at}"}}}}"#
        )
    };
    let all: Vec<String> = (0..1000).map(one).collect();
    format!(r#"{{"type":"FeatureCollection","features":[{}]}}"#, all.join(","))
}

#[test]
fn a_file_of_any_kind_is_left_wherever_it_is_stopped() {
    for text in [table(), gpx(), geojson()] {
        let (options, world) = (Options::default(), World::default());
        let read_until = |most| {
            let watch = StopsAfter::new(most);
            let end = read_watched(text.as_bytes(), &options, &world, today(), &watch);
            (end, watch)
        };
        let (whole, watch) = read_until(usize::MAX);
        let (whole, asked) = (whole.expect("read"), watch.asked.get());
        assert_eq!(Ok(&whole.rows), read(text.as_bytes(), &options, &world, today()).as_ref().map(|it| &it.rows));
        assert!(asked > 1000, "asked at every row of the file: {asked}");
        for most in [0, 1, 500, 1000, asked - 20, asked - 1] {
            let (end, _) = read_until(most);
            assert_eq!(end.err(), Some(NotRead::Stopped), "after {most} of {asked}");
        }
    }
}

#[test]
fn how_far_it_is_grows_to_the_end() {
    let watch = StopsAfter::new(usize::MAX);
    read_watched(table().as_bytes(), &Options::default(), &World::default(), today(), &watch).expect("read");
    let told = watch.told.into_inner();
    assert!(told.is_sorted() && told.len() > 20, "{told:?}");
    assert!(told.first().is_some_and(|first| *first < 5) && told.last().is_some_and(|last| *last > 95), "{told:?}");
}
