//! The country under a run: coast and roads of the base map, as plain lines for the run sheet's sketch.

use egui::{Pos2, Rect, vec2};

use crate::app::demo;
use crate::domain::place::Place;
use crate::domain::run_order::RunOrder;
use crate::domain::world::World;
use crate::print::job::{GroundLine, LineClass};
use crate::ui::map::base::mercator::{GeoBox, View, fit, from_lon_lat};
use crate::ui::map::base::view::BaseMap;

/// Points of the view whose lines are taken: twice as fine as the sketch of 55 x 30 mm needs at 300 dots an inch.
const VIEW: egui::Vec2 = vec2(1100.0, 600.0);
/// Points kept free around the stops, so that the view is larger than the sketch's frame.
const MARGIN: f32 = 150.0;
/// The sketch shows a region, no single track.
const ZOOM_MOST: f64 = 12.0;

/// Coast and roads around a run; none where its places lie on both sides of the antimeridian.
pub(crate) fn under(base: &mut BaseMap, world: &World, run: &RunOrder) -> Vec<GroundLine> {
    let yards = run.stops.iter().filter_map(|stop| world.yards.get(&stop.yard)?.place);
    let places = yards.chain([run.base.place]).map(|place: Place| (place.lon(), place.lat()));
    let Some(bounds) = GeoBox::around(places).filter(|bounds| bounds.east - bounds.west < 180.0) else {
        return Vec::new();
    };
    let (center, zoom) = fit(&bounds, VIEW, MARGIN, ZOOM_MOST);
    let view = View::new(Rect::from_min_size(Pos2::ZERO, VIEW), from_lon_lat(center.x(), center.y()), zoom);
    let lines = base.lines(&view);
    let of = |class, lines: Vec<Vec<(f64, f64)>>| lines.into_iter().map(move |points| GroundLine { class, points });
    of(LineClass::Coast, lines.coast).chain(of(LineClass::Road, lines.roads)).collect()
}

/// The same without a window: of the demo's own pack for the demo, else of the coarse world.
pub(crate) fn without_window(world: &World, run: &RunOrder) -> Vec<GroundLine> {
    let mut base = BaseMap::new();
    if world.firm.demo_day.is_some() {
        // The pack is a part of the program; were it damaged, the sketch would be without roads.
        let _ = base.add_pack("demo", demo::pack());
    }
    under(&mut base, world, run)
}

#[cfg(test)]
mod tests {
    use uuid::Uuid;

    use super::*;
    use crate::domain::day::Day;
    use crate::domain::ids::RunId;
    use crate::domain::run_order::Base;

    fn run_from(lat: f64, lon: f64) -> RunOrder {
        RunOrder {
            id: RunId(Uuid::nil()),
            day: Day::new(2026, 11, 24).expect("a day"),
            vehicle: String::new(),
            base: Base { name: "Shed".to_owned(), place: Place::new(lat, lon).expect("a place") },
            leave: 450,
            stops: Vec::new(),
            left_out: Vec::new(),
        }
    }

    #[test]
    fn the_island_has_coast_and_roads_about_its_port() {
        let mut base = BaseMap::new();
        base.add_pack("demo", demo::pack()).expect("the demo's pack");
        let lines = under(&mut base, &World::default(), &run_from(-40.0748, 159.9145));
        for class in [LineClass::Coast, LineClass::Road] {
            let points: Vec<_> =
                lines.iter().filter(|line| line.class == class).flat_map(|line| &line.points).collect();
            assert!(points.len() > 20, "{class:?}: {}", points.len());
            let near = |(lon, lat): &&(f64, f64)| (lon - 159.9).abs() < 2.0 && (lat + 40.1).abs() < 2.0;
            assert!(points.iter().all(near), "{class:?} lies elsewhere");
        }
    }

    #[test]
    fn without_a_pack_the_coast_of_the_coarse_world_is_there() {
        // Off the north coast of Sicily, by any atlas.
        let lines = without_window(&World::default(), &run_from(38.12, 13.36));
        assert!(lines.iter().any(|line| line.class == LineClass::Coast));
        assert!(lines.iter().all(|line| line.class == LineClass::Coast));
    }
}
