//! Makes the demo island's map pack and its list of yards: `cargo run --example make-map`.
//!
//! Writes `demo-data/wrackmore.pmtiles` and `demo-data/wrackmore-yards.csv`. The same program writes the same bytes.

mod archive;
mod bends;
mod encode;
mod island;
mod tiles;

use std::error::Error;
use std::path::PathBuf;

fn main() -> Result<(), Box<dyn Error>> {
    let folder: PathBuf = [env!("CARGO_MANIFEST_DIR"), "demo-data"].iter().collect();
    std::fs::write(folder.join("wrackmore.pmtiles"), pack()?)?;
    std::fs::write(folder.join("wrackmore-yards.csv"), yards())?;
    Ok(())
}

fn pack() -> std::io::Result<Vec<u8>> {
    archive::write(&tiles::all(), tiles::ZOOM_MAX, tiles::bounds())
}

fn yards() -> String {
    let mut text = String::from("name,lat,lon,hives\n");
    for yard in island::YARDS {
        let (lon, lat) = island::lon_lat(f64::from(yard.at.0), f64::from(yard.at.1));
        text += &[yard.name, &format!("{lat:.5}"), &format!("{lon:.5}"), &yard.hives.to_string()].join(",");
        text.push('\n');
    }
    text
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn the_same_bytes_every_time_and_as_committed() {
        let first = pack().expect("packs");
        assert_eq!(first, pack().expect("packs"));
        assert!(first.len() <= 400_000, "{}", first.len());
        assert!(first == include_bytes!("../wrackmore.pmtiles"), "run the example again and commit what it writes");
        assert_eq!(yards(), include_str!("../wrackmore-yards.csv"));
    }

    #[test]
    fn yards_and_towns_stand_on_dry_land_and_apart() {
        let coast: Vec<[f64; 2]> = island::COAST.iter().map(|&(x, y)| [f64::from(x), f64::from(y)]).collect();
        let lake: Vec<[f64; 2]> = island::LAKE.iter().map(|&(x, y)| [f64::from(x), f64::from(y)]).collect();
        let places: Vec<(&str, island::At)> = island::YARDS
            .iter()
            .map(|yard| (yard.name, yard.at))
            .chain(island::TOWNS.iter().map(|town| (town.name, town.at)))
            .collect();
        for (i, &(name, at)) in places.iter().enumerate() {
            let at = [f64::from(at.0), f64::from(at.1)];
            assert!(inside(&coast, at) && !inside(&lake, at), "{name}");
            for &(other, place) in &places[..i] {
                let apart = (at[0] - f64::from(place.0)).hypot(at[1] - f64::from(place.1));
                assert!(apart > 10.0, "{name} and {other} are {apart} hundred metres apart");
            }
        }
        let bay = island::BAY.1;
        assert!(!inside(&coast, [f64::from(bay.0), f64::from(bay.1)]));
    }

    #[test]
    fn forty_two_yards_of_about_1400_hives() {
        let names: BTreeSet<&str> = island::YARDS.iter().map(|yard| yard.name).collect();
        assert_eq!(names.len(), 42);
        let hives: u32 = island::YARDS.iter().map(|yard| u32::from(yard.hives)).sum();
        assert!((1_350..1_450).contains(&hives), "{hives}");
    }

    #[test]
    fn every_lesser_road_and_track_meets_another_road() {
        let all = [island::MAIN_ROADS, island::LESSER_ROADS, island::TRACKS].concat();
        for (i, road) in all.iter().enumerate() {
            let joins = |end: island::At| all.iter().enumerate().any(|(j, other)| i != j && other.contains(&end));
            assert!(joins(road[0]) || joins(road[road.len() - 1]), "road {i}");
        }
    }

    fn inside(ring: &[[f64; 2]], [x, y]: [f64; 2]) -> bool {
        let next = ring.iter().cycle().skip(1);
        let crossed = |a: &[f64; 2], b: &[f64; 2]| {
            (a[1] > y) != (b[1] > y) && x < (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]) + a[0]
        };
        ring.iter().zip(next).filter(|(a, b)| crossed(a, b)).count() % 2 == 1
    }
}
