//! Web Mercator in normalised coordinates, and the part of it that a map shows.
//!
//! Normalised: x from 0 at 180° W to 1 at 180° E, y from 0 at 85.0511° N to 1 at 85.0511° S. They are kept in f64 and only
//! turned into screen points after the view's centre has been taken off, so that places stay put at the largest zoom.

use std::f64::consts::PI;

use egui::{Pos2, Rect, Vec2};
use walkers::{Position, Projector, lon_lat};

/// Largest latitude of the square Web Mercator world in degrees: atan(sinh(pi)).
pub const LAT_MAX: f64 = 85.051_128_779_806_6;

/// Width of the world in points at zoom 0.
pub const WORLD_POINTS: f64 = 256.0;

/// Normalised coordinates of a place given in degrees; latitudes beyond [`LAT_MAX`] are moved onto it.
pub fn from_lon_lat(lon: f64, lat: f64) -> [f64; 2] {
    let lat = lat.clamp(-LAT_MAX, LAT_MAX).to_radians();
    [lon / 360.0 + 0.5, 0.5 - lat.tan().asinh() / (2.0 * PI)]
}

/// Longitude and latitude in degrees of normalised coordinates.
pub fn to_lon_lat([x, y]: [f64; 2]) -> (f64, f64) {
    let lat = ((1.0 - 2.0 * y) * PI).sinh().atan();
    ((x - 0.5) * 360.0, lat.to_degrees())
}

/// A box of longitudes and latitudes in degrees, west ≤ east and south ≤ north.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GeoBox {
    /// Least longitude.
    pub west: f64,
    /// Least latitude.
    pub south: f64,
    /// Largest longitude.
    pub east: f64,
    /// Largest latitude.
    pub north: f64,
}

impl GeoBox {
    /// The least box around places given as (longitude, latitude); none where there are no places.
    pub fn around(places: impl IntoIterator<Item = (f64, f64)>) -> Option<Self> {
        let mut places = places.into_iter();
        let (lon, lat) = places.next()?;
        let first = Self { west: lon, south: lat, east: lon, north: lat };
        Some(places.fold(first, |b, (lon, lat)| Self {
            west: b.west.min(lon),
            south: b.south.min(lat),
            east: b.east.max(lon),
            north: b.north.max(lat),
        }))
    }

    /// Top left and bottom right in normalised coordinates.
    pub fn corners(&self) -> [[f64; 2]; 2] {
        [from_lon_lat(self.west, self.north), from_lon_lat(self.east, self.south)]
    }
}

/// The map's centre and zoom that show the whole box inside `size` points with `margin` points free on every side.
///
/// The zoom lies between 2 and `zoom_max`, which a box of a single place gets.
pub fn fit(bounds: &GeoBox, size: Vec2, margin: f32, zoom_max: f64) -> (Position, f64) {
    let [[left, top], [right, bottom]] = bounds.corners();
    let (lon, lat) = to_lon_lat([f64::midpoint(left, right), f64::midpoint(top, bottom)]);
    let room = |points: f32| f64::from((points - 2.0 * margin).max(1.0)) / WORLD_POINTS;
    let scale = (room(size.x) / (right - left)).min(room(size.y) / (bottom - top));
    (lon_lat(lon, lat), scale.log2().min(zoom_max).max(2.0))
}

/// The part of the world on the screen.
#[derive(Debug, Clone, Copy)]
pub struct View {
    rect: Rect,
    center: [f64; 2],
    world: f64,
    zoom: f64,
}

impl View {
    /// What `projector` shows.
    pub fn of(projector: &Projector<'_>) -> Self {
        let rect = projector.clip_rect();
        let center = projector.unproject(rect.center().to_vec2());
        Self::new(rect, from_lon_lat(center.x(), center.y()), projector.zoom())
    }

    /// The view whose middle shows `center` (normalised) at `zoom`.
    pub fn new(rect: Rect, center: [f64; 2], zoom: f64) -> Self {
        Self { rect, center, world: WORLD_POINTS * zoom.exp2(), zoom }
    }

    /// Where on the screen it is, in points.
    pub fn rect(&self) -> Rect {
        self.rect
    }

    /// Zoom; the world is 256 × 2^zoom points wide.
    pub fn zoom(&self) -> f64 {
        self.zoom
    }

    /// Points that a length of 1, the world's width, takes on the screen.
    pub fn world(&self) -> f64 {
        self.world
    }

    /// Screen point of a place in normalised coordinates.
    pub fn screen(&self, [x, y]: [f64; 2]) -> Pos2 {
        let middle = self.rect.center();
        Pos2::new(
            (f64::from(middle.x) + (x - self.center[0]) * self.world) as f32,
            (f64::from(middle.y) + (y - self.center[1]) * self.world) as f32,
        )
    }

    /// The place in normalised coordinates at a screen point.
    pub fn at(&self, point: Pos2) -> [f64; 2] {
        let middle = self.rect.center();
        [
            self.center[0] + f64::from(point.x - middle.x) / self.world,
            self.center[1] + f64::from(point.y - middle.y) / self.world,
        ]
    }

    /// Top left and bottom right in normalised coordinates; x can leave 0..1 near the antimeridian.
    pub fn corners(&self) -> [[f64; 2]; 2] {
        let half = |points: f32| f64::from(points) / 2.0 / self.world;
        let (x, y) = (half(self.rect.width()), half(self.rect.height()));
        [[self.center[0] - x, self.center[1] - y], [self.center[0] + x, self.center[1] + y]]
    }
}

#[cfg(test)]
mod tests {
    use egui::{pos2, vec2};
    use proptest::prelude::*;
    use walkers::{MapMemory, MercatorProjection};

    use super::*;

    /// EPSG Guidance Note 7-2, method 1024 (Popular Visualisation Pseudo-Mercator), its worked example:
    /// 24°22'54.433" N 100°20'00.000" W is E −11169055.58 m, N 2800000.00 m on the sphere of 6378137 m.
    #[test]
    fn the_published_example_is_met() {
        let [x, y] = from_lon_lat(-(100.0 + 20.0 / 60.0), 24.0 + 22.0 / 60.0 + 54.433 / 3600.0);
        let turn = 2.0 * PI * 6_378_137.0;
        assert!(((x - 0.5) * turn + 11_169_055.58).abs() < 0.01);
        assert!(((0.5 - y) * turn - 2_800_000.0).abs() < 0.02);
    }

    #[test]
    fn the_corners_of_the_world() {
        let [x, y] = from_lon_lat(-180.0, 90.0);
        assert!(x.abs() < 1e-12 && y.abs() < 1e-12);
        let [x, y] = from_lon_lat(180.0, -LAT_MAX);
        assert!((x - 1.0).abs() < 1e-12 && (y - 1.0).abs() < 1e-12);
    }

    /// The map widget's own projection is the reference: hives and base map must fall on the same points.
    #[test]
    fn it_agrees_with_the_map_widget() {
        let rect = Rect::from_min_size(pos2(404.0, 144.0), vec2(1036.0, 564.0));
        for zoom in [2.0, 10.3, 18.0, 22.0] {
            let mut memory = MapMemory::default();
            assert!(memory.set_zoom(zoom).is_ok());
            let projector = Projector::new(rect, &MercatorProjection, &memory, lon_lat(160.0, -40.0));
            let view = View::of(&projector);
            for (lon, lat) in [(160.0, -40.0), (160.001, -40.0005), (159.9, -39.9)] {
                let theirs = projector.project(lon_lat(lon, lat)).to_pos2();
                let ours = view.screen(from_lon_lat(lon, lat));
                let near = 0.02 + 1e-6 * theirs.to_vec2().length();
                assert!(ours.distance(theirs) < near, "zoom {zoom}: {ours:?} {theirs:?}");
            }
        }
    }

    #[test]
    fn a_box_fits_into_its_room() {
        let island = GeoBox { west: 159.5, south: -40.23, east: 160.5, north: -39.77 };
        let (center, zoom) = fit(&island, vec2(1036.0, 564.0), 20.0, 16.0);
        let rect = Rect::from_min_size(Pos2::ZERO, vec2(1036.0, 564.0));
        let view = View::new(rect, from_lon_lat(center.x(), center.y()), zoom);
        let corners = island.corners().map(|corner| view.screen(corner));
        let shown = Rect::from_two_pos(corners[0], corners[1]);
        assert!(rect.shrink(19.9).contains_rect(shown));
        assert!((shown.height() - 524.0).abs() < 0.1 || (shown.width() - 996.0).abs() < 0.1);
    }

    #[test]
    fn a_single_place_gets_the_largest_zoom() {
        let place = GeoBox::around([(160.0, -40.0)]);
        let zoom = place.map(|place| fit(&place, vec2(500.0, 500.0), 20.0, 15.0).1);
        assert_eq!(zoom, Some(15.0));
        assert_eq!(GeoBox::around([]), None);
    }

    proptest! {
        #[test]
        fn there_and_back(lon in -180.0..180.0f64, lat in -85.0..85.0f64) {
            let (x, y) = to_lon_lat(from_lon_lat(lon, lat));
            prop_assert!((x - lon).abs() < 1e-9 && (y - lat).abs() < 1e-9);
        }
    }
}
