//! The base map as a widget: panning, zooming, and everything below the hives.

use std::sync::Arc;

use egui::{InnerResponse, Painter, Pos2, Rect, Response, Role, Shape, Ui, WidgetInfo};
use walkers::{Map, MapMemory, Position, Projector, Tiles};

use super::labels::{Label, paint_labels};
use super::look::BaseLook;
use super::mercator::{GeoBox, View, from_lon_lat, to_lon_lat};
use super::online::Online;
use super::pack::Pack;
use super::paint::{PlacedTile, paint_tiles};
use super::pmtiles::PackError;
use super::source::Source;
use super::tile::Lines;
use super::world::{CREDIT, World};

/// Tiles decoded in one frame; about 1 ms each in a release build, so that a frame stays short without a thread.
const TILES_A_FRAME: usize = 3;
/// Least zoom: the world about a screen wide.
pub const ZOOM_MIN: f64 = 2.0;
/// Largest zoom: hives 2 m apart are about 20 points apart.
pub const ZOOM_MAX: f64 = 20.5;
/// How far a wheel notch zooms. The map widget's own 2.0 goes 1.3 levels a notch, this half a level.
const ZOOM_SPEED: f64 = 0.75;

/// The coarse world, the packs above it, and online tiles where switched on.
pub struct BaseMap {
    world: &'static World,
    packs: Vec<Pack>,
    online: Option<Online>,
    sync: bool,
}

impl Default for BaseMap {
    fn default() -> Self {
        Self::new()
    }
}

impl BaseMap {
    /// The coarse world alone.
    pub fn new() -> Self {
        Self { world: World::shared(), packs: Vec::new(), online: None, sync: false }
    }

    /// Decodes every tile at once instead of a few a frame: for tests, pictures and print.
    pub fn set_sync(&mut self, sync: bool) {
        self.sync = sync;
    }

    /// Adds an offline pack above those already there.
    ///
    /// # Errors
    /// Where it is no whole pack of vector tiles; the map stays as it was.
    pub fn add_pack(&mut self, name: impl Into<String>, source: Arc<dyn Source>) -> Result<(), PackError> {
        self.packs.push(Pack::open(name, source)?);
        Ok(())
    }

    /// The packs, lowest first.
    pub fn packs(&self) -> &[Pack] {
        &self.packs
    }

    /// Takes a pack away; nothing happens where there is none of that number.
    pub fn remove_pack(&mut self, index: usize) {
        if index < self.packs.len() {
            self.packs.remove(index);
        }
    }

    /// Switches online tiles on or off. They cover the packs; while one is missing the packs show.
    pub fn set_online(&mut self, online: Option<Online>) {
        self.online = online;
    }

    /// The box around all packs; none without packs.
    pub fn bounds(&self) -> Option<GeoBox> {
        let boxes = self.packs.iter().map(Pack::bounds);
        GeoBox::around(boxes.flat_map(|b| [(b.west, b.south), (b.east, b.north)]))
    }

    /// What stands at the map's edge: the packs by name, and the credits their makers ask for.
    pub fn attribution(&self) -> String {
        let mut parts: Vec<&str> = Vec::new();
        for pack in &self.packs {
            parts.extend([pack.name(), pack.credit()]);
        }
        parts.extend(self.online.as_ref().map(Online::credit));
        if parts.is_empty() {
            parts.push(CREDIT);
        }
        parts.retain(|part| !part.is_empty());
        parts.dedup();
        let trouble = self.online.as_ref().and_then(Online::trouble);
        format!("Map: {}{}", parts.join(", "), trouble.map_or(String::new(), |words| format!(". {words}")))
    }

    /// Shows the map in all the room there is.
    ///
    /// `home` is the middle until `memory` is moved. `reserved` gives the boxes names must not cover, `overlay` draws above the
    /// map; both are called once, with the place on the screen already moved by this frame's dragging and zooming.
    pub fn show<R>(
        &mut self,
        ui: &mut Ui,
        memory: &mut MapMemory,
        home: Position,
        look: &BaseLook,
        reserved: impl FnOnce(&Projector<'_>) -> Vec<Rect>,
        overlay: impl FnOnce(&mut Ui, &Response, &Projector<'_>) -> R,
    ) -> InnerResponse<R> {
        clamp_zoom(memory);
        let Self { world, packs, online, sync } = self;
        // Taken before the map adds its online tiles, filled when this frame's place is known: so it lies below them.
        let painter = ui.painter().with_clip_rect(ui.available_rect_before_wrap().intersect(ui.clip_rect()));
        let below = painter.add(Shape::Noop);
        let is_covered = online.as_ref().is_some_and(Online::covers);
        let tiles = online.as_mut().map(|online| &mut online.tiles as &mut dyn Tiles);
        let map = Map::new(tiles, memory, home).zoom_with_ctrl(false).zoom_speed(ZOOM_SPEED).double_click_to_zoom(true);
        let shown = map.show(ui, |ui, response, projector, _memory| {
            let view = View::of(projector);
            let (tiles, pending) = visible(packs, &view, if *sync { usize::MAX } else { TILES_A_FRAME });
            painter.set(below, Shape::Vec(below_shapes(world, &tiles, &view, look)));
            if pending {
                ui.request_repaint();
            }
            if !is_covered {
                let painter = ui.painter().with_clip_rect(response.rect.intersect(ui.clip_rect()));
                paint_names(&painter, &tiles, &view, &reserved(projector), look);
            }
            overlay(ui, response, projector)
        });
        shown.response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "Map"));
        if let Some(online) = online {
            online.watch(ui);
        }
        clamp_zoom(memory);
        shown
    }

    /// Draws the map without a widget, for instance a small one beside a run: `center` in the middle of `rect` at `zoom`.
    pub fn paint(&mut self, painter: &Painter, rect: Rect, center: Position, zoom: f64, look: &BaseLook) -> View {
        let view = View::new(rect, from_lon_lat(center.x(), center.y()), zoom);
        let (tiles, pending) = visible(&mut self.packs, &view, if self.sync { usize::MAX } else { TILES_A_FRAME });
        let painter = painter.with_clip_rect(rect.intersect(painter.clip_rect()));
        painter.add(Shape::Vec(below_shapes(self.world, &tiles, &view, look)));
        if pending {
            painter.ctx().request_repaint();
        }
        view
    }

    /// Coast and roads of a view as plain lines of longitudes and latitudes, for a drawing on paper: of the uppermost pack
    /// that has tiles there, else of the coarse world.
    pub fn lines(&mut self, view: &View) -> Sketched {
        let (tiles, _) = visible(&mut self.packs, view, usize::MAX);
        let plain = |line: Vec<Pos2>| line.into_iter().map(|point| to_lon_lat(view.at(point))).collect::<Vec<_>>();
        let mut sketched = Sketched::default();
        let Some(tiles) = tiles.iter().rev().find(|tiles| !tiles.is_empty()) else {
            sketched.coast = self.world.coast(view).into_iter().map(plain).collect();
            return sketched;
        };
        for tile in tiles {
            let place = tile.place(view);
            let put = |lines: &Lines| -> Vec<Vec<(f64, f64)>> {
                lines.iter().map(|line| plain(line.iter().copied().map(&place).collect())).collect()
            };
            sketched.coast.extend(put(&tile.shapes.coast));
            sketched.roads.extend(put(&tile.shapes.road_1));
            sketched.roads.extend(put(&tile.shapes.road_2));
        }
        sketched
    }

    /// Draws the names onto a map that was drawn by [`BaseMap::paint`], off the boxes of `reserved`.
    pub fn paint_names(&mut self, painter: &Painter, view: &View, reserved: &[Rect], look: &BaseLook) {
        let (tiles, _) = visible(&mut self.packs, view, 0);
        let painter = painter.with_clip_rect(view.rect().intersect(painter.clip_rect()));
        paint_names(&painter, &tiles, view, reserved, look);
    }
}

/// Lines of longitudes and latitudes, in degrees.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sketched {
    /// Coast.
    pub coast: Vec<Vec<(f64, f64)>>,
    /// Roads.
    pub roads: Vec<Vec<(f64, f64)>>,
}

/// The tiles of each pack, and whether some are still to be decoded.
fn visible(packs: &mut [Pack], view: &View, mut budget: usize) -> (Vec<Vec<PlacedTile>>, bool) {
    let (mut all, mut pending) = (Vec::new(), false);
    for pack in packs {
        let (tiles, waits) = pack.tiles(view, &mut budget);
        all.push(tiles);
        pending |= waits;
    }
    (all, pending)
}

/// Everything but names: each pack covers the world and the packs before it, where it has tiles.
fn below_shapes(world: &World, packs: &[Vec<PlacedTile>], view: &View, look: &BaseLook) -> Vec<Shape> {
    let mut shapes = vec![Shape::rect_filled(view.rect(), 0.0, look.colours.sea)];
    world.paint(view, &look.colours, &mut shapes);
    for tiles in packs {
        paint_tiles(tiles, view, &look.colours, &mut shapes);
    }
    shapes
}

fn paint_names(painter: &Painter, packs: &[Vec<PlacedTile>], view: &View, reserved: &[Rect], look: &BaseLook) {
    let mut labels: Vec<Label> = Vec::new();
    for tile in packs.iter().flatten() {
        let place = tile.place(view);
        for name in &tile.shapes.places {
            let label = Label { at: place(name.at), name: name.name.clone(), class: name.class };
            // While a stand-in is shown two zooms can name the same town.
            let twice = |other: &Label| other.name == label.name && other.at.distance(label.at) < 30.0;
            if view.rect().contains(label.at) && !labels.iter().any(twice) {
                labels.push(label);
            }
        }
    }
    paint_labels(painter, view.rect(), &labels, reserved, look);
}

fn clamp_zoom(memory: &mut MapMemory) {
    let zoom = memory.zoom().clamp(ZOOM_MIN, ZOOM_MAX);
    if zoom != memory.zoom() {
        // Inside 0 to 26, all that the map widget asks for.
        let _ = memory.set_zoom(zoom);
    }
}

#[cfg(test)]
mod tests {
    use egui::{Event, MouseWheelUnit, Pos2, pos2, vec2};
    use egui_kittest::Harness;
    use egui_kittest::kittest::Queryable as _;
    use walkers::lon_lat;

    use super::super::demo::PACK;
    use super::super::look::tests::look;
    use super::super::mercator::fit;
    use super::*;

    struct Stage {
        base: BaseMap,
        memory: MapMemory,
        at: Option<Pos2>,
    }

    fn harness(sync: bool) -> Harness<'static, Stage> {
        let mut base = BaseMap::new();
        base.set_sync(sync);
        base.add_pack("Wrackmore demo pack", Arc::new(PACK)).expect("opens");
        let (center, zoom) = fit(&base.bounds().expect("has a pack"), vec2(900.0, 600.0), 10.0, 16.0);
        let mut memory = MapMemory::default();
        memory.center_at(center);
        memory.set_zoom(zoom).expect("in range");
        let stage = Stage { base, memory, at: None };
        Harness::builder().with_size([900.0, 600.0]).with_step_dt(1.0 / 60.0).with_max_steps(200).build_ui_state(
            |ui, stage: &mut Stage| {
                let at = stage.base.show(
                    ui,
                    &mut stage.memory,
                    lon_lat(160.0, -40.0),
                    &look(),
                    |_| Vec::new(),
                    |_, _, projector| projector.project(lon_lat(160.0, -40.0)).to_pos2(),
                );
                stage.at = Some(at.inner);
            },
            stage,
        )
    }

    #[test]
    fn it_is_named_dragged_and_zoomed() {
        let mut harness = harness(true);
        harness.run();
        harness.get_by_role_and_label(Role::Canvas, "Map");
        let before = harness.state().at.expect("shown");
        let from = pos2(400.0, 300.0);
        harness.hover_at(from);
        harness.step();
        harness.drag_at(from);
        harness.step();
        for step in 1..=6u8 {
            harness.hover_at(from + vec2(20.0 * f32::from(step), 0.0));
            harness.step();
        }
        // Held still before it is let go: else the map glides on.
        for _ in 0..15 {
            harness.step();
        }
        harness.drop_at(from + vec2(120.0, 0.0));
        harness.run();
        let moved = harness.state().at.expect("shown") - before;
        assert!((moved - vec2(120.0, 0.0)).length() < 1.0, "{moved:?}");

        let zoom = harness.state().memory.zoom();
        harness.hover_at(from);
        harness.step();
        harness.event(Event::MouseWheel {
            unit: MouseWheelUnit::Line,
            delta: vec2(0.0, 1.0),
            phase: egui::TouchPhase::Move,
            source: egui::MouseWheelSource::Wheel,
            modifiers: egui::Modifiers::default(),
        });
        harness.run();
        let notch = harness.state().memory.zoom() - zoom;
        assert!((0.1..1.0).contains(&notch), "a notch zooms {notch}");
    }

    #[test]
    fn tiles_come_a_few_a_frame_until_all_are_there() {
        let mut harness = harness(false);
        harness.state_mut().memory.set_zoom(13.0).expect("in range");
        harness.run();
        let view = View::new(Rect::from_min_size(Pos2::ZERO, vec2(900.0, 600.0)), from_lon_lat(160.0, -40.0), 13.0);
        assert!(!harness.state_mut().base.packs[0].tiles(&view, &mut 0).1, "nothing is left to decode");
    }

    #[test]
    fn an_upper_pack_covers_a_lower_one() {
        let mut base = BaseMap::new();
        for name in ["lower", "upper"] {
            base.add_pack(name, Arc::new(PACK)).expect("opens");
        }
        let view = View::new(Rect::from_min_size(Pos2::ZERO, vec2(900.0, 600.0)), from_lon_lat(160.0, -40.0), 10.0);
        let (packs, pending) = visible(&mut base.packs, &view, 99);
        assert!(!pending && packs[0].len() == packs[1].len());
        let shapes = below_shapes(base.world, &packs, &view, &look());
        let meshes: Vec<usize> =
            shapes.iter().enumerate().filter(|(_, s)| matches!(s, Shape::Mesh(_))).map(|(i, _)| i).collect();
        // World, lower areas, lower lines, upper areas, upper lines.
        assert_eq!(meshes.len(), 3);
        assert!(meshes[2] > meshes[1] + 10);
    }

    #[test]
    fn zoom_stays_in_its_range() {
        let mut harness = harness(true);
        for (set, kept) in [(0.0, ZOOM_MIN), (26.0, ZOOM_MAX)] {
            harness.state_mut().memory.set_zoom(set).expect("in range");
            harness.run();
            assert_eq!(harness.state().memory.zoom(), kept);
        }
    }

    #[test]
    fn credits_are_named_once() {
        let mut base = BaseMap::new();
        assert_eq!(base.attribution(), "Map: Natural Earth");
        base.add_pack("Wrackmore demo pack", Arc::new(PACK)).expect("opens");
        assert_eq!(base.attribution(), "Map: Wrackmore demo pack");
        assert!(base.add_pack("bad", Arc::new(&PACK[..500])).is_err());
        assert_eq!(base.packs().len(), 1);
        base.remove_pack(0);
        base.remove_pack(7);
        assert_eq!(base.bounds(), None);
    }
}
