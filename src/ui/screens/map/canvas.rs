//! The map itself: yards as stacks, hover, clicks, box-select, and the pin of a place that is being chosen.

use std::cell::RefCell;
use std::collections::BTreeSet;

use egui::{Color32, PointerButton, Pos2, Rect, Sense, Stroke, StrokeKind, Ui, WidgetInfo, vec2};
use walkers::{MapMemory, lon_lat};

use crate::domain::ids::YardId;
use crate::domain::place::Place;
use crate::ui::glyph::StackSize;
use crate::ui::map::base::mercator::{GeoBox, View, fit, from_lon_lat, to_lon_lat};
use crate::ui::map::base::view::BaseMap;
use crate::ui::map::look::base_look;
use crate::ui::map::stacks::{self, Cluster, Placed, Stacks, YardMark};
use crate::ui::screens::map::drag_box;
use crate::ui::screens::map::model::FarModel;
use crate::ui::theme;
use crate::ui::theme::fonts::Weight;
use crate::ui::theme::metrics::stroke;
use crate::ui::theme::text;
use crate::ui::widgets::{Icon, icon};

/// Stacks that are named for a screen reader on the map itself; beyond that the list twin serves alone.
const NAMED: usize = 300;
/// Up to so many stacks in view are named on the map.
const SPELLED: usize = 12;
/// A yard flown to is shown at least this near.
const YARD_ZOOM: f64 = 12.0;
/// Without a yard, home is shown this near: a region, in which the first yard is found by its rivers and roads.
const HOME_ZOOM: f64 = 8.0;
/// A single yard is shown no nearer than this.
const FIT_ZOOM: f64 = 13.5;

/// Where the map is to go at the next frame, when its size is known.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Flight {
    /// Nowhere.
    #[default]
    Stay,
    /// All yards into view.
    Whole,
    /// This yard to the middle, near.
    To(Place),
    /// This yard into view, where it is not.
    Show(Place),
    /// These places into view.
    Around(Vec<(f64, f64)>),
}

/// The far map's own state.
#[derive(Default)]
pub struct Canvas {
    /// Where one looks.
    pub memory: MapMemory,
    /// Where the map is to go.
    pub flight: Flight,
    stacks: Stacks,
    marks: Vec<YardMark>,
    shown: Vec<usize>,
    version: u64,
    key: Option<(u64, Option<BTreeSet<YardId>>)>,
    drag: Option<Pos2>,
    /// The home yard that was flown to, while no yard has a place.
    home: Option<Place>,
    /// The whole map was fitted into that room and has not been moved since.
    fitted: Option<Fitted>,
}

/// Where a fit put the map: room, middle, zoom.
type Fitted = (egui::Vec2, Option<walkers::Position>, f64);

/// What is drawn besides the yards.
pub struct Wish<'a> {
    /// Grows whenever the model is made anew.
    pub model_version: u64,
    /// The chosen yard.
    pub yard: Option<YardId>,
    /// Several chosen yards.
    pub yards: &'a BTreeSet<YardId>,
    /// The yards concerned by the chosen days; nothing: all alike.
    pub lit: Option<BTreeSet<YardId>>,
    /// A place is being chosen by clicking.
    pub placing: bool,
    /// The place chosen so far.
    pub placed: Option<Place>,
    /// The narrow layout: smaller stacks.
    pub narrow: bool,
}

/// What was done on the map.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Done {
    /// This yard was clicked; with Ctrl.
    pub clicked: Option<(YardId, bool)>,
    /// This yard was opened by a double click.
    pub opened: Option<YardId>,
    /// These yards lay in the box that was drawn.
    pub boxed: Vec<YardId>,
    /// This place was clicked while one was being chosen.
    pub place: Option<Place>,
    /// Bare map was clicked.
    pub bare: bool,
}

/// The lower left corner of the map, where it says what it is made of; in a narrow window beside the button of the legend.
fn foot(ui: &Ui, base: &BaseMap, room: Rect, narrow: bool) -> Rect {
    let font = text::SMALL.font(Weight::Regular);
    let words = ui.painter().layout_no_wrap(base.attribution(), font, Color32::PLACEHOLDER).size();
    let width = words.x + if narrow { 140.0 } else { 24.0 };
    Rect::from_min_size(room.left_bottom() - vec2(0.0, 42.0), vec2(width, 42.0))
}

impl Canvas {
    /// A map that shows all yards first.
    pub fn new() -> Self {
        Self { flight: Flight::Whole, ..Self::default() }
    }

    /// Draws the map in all the room there is.
    pub fn show(&mut self, ui: &mut Ui, base: &mut BaseMap, model: &FarModel, wish: &Wish<'_>) -> Done {
        let room = ui.available_rect_before_wrap();
        self.fly(model, base, room);
        self.mark(model, wish);
        let before = self.memory.clone();
        let Self { memory, stacks, marks, shown, version, drag, .. } = self;
        let home = base
            .bounds()
            .map_or(lon_lat(160.0, -40.0), |b| lon_lat(f64::midpoint(b.west, b.east), f64::midpoint(b.south, b.north)));
        let look = base_look(theme::tokens(ui));
        let foot = foot(ui, base, room, wish.narrow);
        let view_marks = RefCell::new((stacks, None::<Vec<Placed>>));
        let place_all = |view: &View| {
            let size = size_at(view.zoom(), wish.narrow);
            let mut held = view_marks.borrow_mut();
            let (stacks, placed) = &mut *held;
            stacks.reckon(*version, marks, view.zoom(), size);
            let now = stacks.placed(view, size);
            let mut reserved = stacks.reserved(&now);
            reserved.push(foot);
            *placed = Some(now);
            reserved
        };
        let shown_map = base.show(
            ui,
            memory,
            home,
            &look,
            |projector| place_all(&View::of(projector)),
            |ui, response, projector| {
                let view = View::of(projector);
                if view_marks.borrow().1.is_none() {
                    place_all(&view);
                }
                let held = view_marks.borrow();
                let placed = held.1.as_deref().unwrap_or(&[]);
                let stage = Stage { stacks: held.0, placed, shown, model, wish, view: &view };
                let mut done = stage.paint(ui, response);
                stage.answer(ui, response, drag, &mut done);
                done
            },
        );
        let done = shown_map.inner;
        if done.opened.is_some() || done.clicked.is_some() && shown_map.response.double_clicked() {
            // The double click opened a yard; it was not meant to zoom.
            self.memory = before;
        }
        done
    }

    /// Zooms by steps around the middle.
    pub fn zoom_by(&mut self, steps: f64) {
        // Outside 0 to 26 it stays as it is; the base map keeps it in its own narrower range.
        let _ = self.memory.set_zoom((self.memory.zoom() + steps).clamp(0.0, 26.0));
    }

    fn fly(&mut self, model: &FarModel, base: &BaseMap, room: Rect) {
        let go = |memory: &mut MapMemory, bounds: Option<GeoBox>| {
            if let Some(bounds) = bounds {
                let (center, zoom) = fit(&bounds, room.size(), 48.0, FIT_ZOOM);
                memory.center_at(center);
                let _ = memory.set_zoom(zoom);
            }
        };
        if self.home != model.home {
            // A register has begun, or its first yards came in by the score.
            let many = model.yards.iter().filter(|yard| yard.at.is_some()).count() > 1;
            if model.home.is_some() || many {
                self.flight = Flight::Whole;
            }
            self.home = model.home;
        }
        let now = |memory: &MapMemory| (room.size(), memory.detached(), memory.zoom());
        // The whole map stays whole while the window or what stands beside the map grows and shrinks.
        let (size, middle, zoom) = now(&self.memory);
        let resized = self.fitted.is_some_and(|held| held.0 != size && (held.1, held.2) == (middle, zoom));
        if resized && self.flight == Flight::Stay {
            self.flight = Flight::Whole;
        }
        let whole = self.flight == Flight::Whole;
        match std::mem::take(&mut self.flight) {
            Flight::Stay => return,
            Flight::Whole if model.home.is_some() => {
                if let Some(home) = model.home {
                    self.memory.center_at(lon_lat(home.lon(), home.lat()));
                    let _ = self.memory.set_zoom(HOME_ZOOM);
                }
            }
            Flight::Whole => {
                let places = model.yards.iter().filter_map(|yard| yard.at).map(to_lon_lat);
                go(&mut self.memory, GeoBox::around(places).or_else(|| base.bounds()));
            }
            Flight::Around(places) => go(&mut self.memory, GeoBox::around(places)),
            Flight::Show(place) => {
                let at = from_lon_lat(place.lon(), place.lat());
                let is_shown = self.memory.detached().is_some_and(|middle| {
                    let view = View::new(room, from_lon_lat(middle.x(), middle.y()), self.memory.zoom());
                    room.shrink(40.0).contains(view.screen(at))
                });
                if !is_shown {
                    self.memory.center_at(lon_lat(place.lon(), place.lat()));
                }
            }
            Flight::To(place) => {
                self.memory.center_at(lon_lat(place.lon(), place.lat()));
                if self.memory.zoom() < YARD_ZOOM {
                    let _ = self.memory.set_zoom(YARD_ZOOM);
                }
            }
        }
        self.fitted = whole.then(|| now(&self.memory));
    }

    /// The yards with a place as marks; made anew only when they or the lit ones differ.
    fn mark(&mut self, model: &FarModel, wish: &Wish<'_>) {
        let key = (wish.model_version, wish.lit.clone());
        if self.key.as_ref() == Some(&key) {
            return;
        }
        self.marks.clear();
        self.shown.clear();
        for (index, yard) in model.yards.iter().enumerate() {
            let Some(at) = yard.at else { continue };
            let lit = wish.lit.as_ref().is_none_or(|lit| lit.contains(&yard.id));
            self.marks.push(YardMark { at, stack: yard.stack, count: yard.view.open(), lit });
            self.shown.push(index);
        }
        self.version += 1;
        self.key = Some(key);
    }
}

fn size_at(zoom: f64, narrow: bool) -> StackSize {
    match zoom {
        ..7.5 => StackSize::Small,
        13.0.. if !narrow => StackSize::Large,
        _ if narrow => StackSize::Small,
        _ => StackSize::Middle,
    }
}

/// One frame of the map.
struct Stage<'a> {
    stacks: &'a Stacks,
    placed: &'a [Placed],
    /// Which yard of the model each mark is.
    shown: &'a [usize],
    model: &'a FarModel,
    wish: &'a Wish<'a>,
    view: &'a View,
}

impl Stage<'_> {
    fn yards_of<'b>(&'b self, cluster: &'b Cluster) -> impl Iterator<Item = YardId> + 'b {
        let yards = cluster.members.iter().filter_map(|mark| self.shown.get(*mark));
        yards.filter_map(|index| self.model.yards.get(*index)).map(|yard| yard.id)
    }

    fn spoken(&self, cluster: &Cluster) -> String {
        let first = cluster.members.first().and_then(|mark| self.shown.get(*mark));
        let first = first.and_then(|index| self.model.yards.get(*index));
        match (first, cluster.members.len()) {
            (Some(yard), 1) => yard.spoken(),
            (Some(yard), count) => {
                format!("{} and {} more yards, {} due; a click comes nearer", yard.name, count - 1, cluster.count)
            }
            (None, _) => String::new(),
        }
    }

    fn paint(&self, ui: &mut Ui, response: &egui::Response) -> Done {
        let t = theme::tokens(ui);
        let painter = ui.painter().with_clip_rect(response.rect.intersect(ui.clip_rect()));
        let size = size_at(self.view.zoom(), self.wish.narrow);
        let is_selected = |cluster: &Cluster| {
            self.yards_of(cluster).any(|yard| self.wish.yard == Some(yard) || self.wish.yards.contains(&yard))
        };
        stacks::paint(ui, &painter, t, self.stacks, self.placed, size, is_selected);
        self.names(ui, &painter);
        if self.placed.len() <= NAMED {
            for it in self.placed {
                let Some(cluster) = self.stacks.clusters().get(it.cluster) else { continue };
                let salt = ("stack", cluster.members.first().copied());
                let node = ui.interact(it.rect, ui.scope_id().with(salt), Sense::hover());
                node.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, self.spoken(cluster)));
            }
        }
        if let Some(place) = self.wish.placed {
            let at = self.view.screen(from_lon_lat(place.lon(), place.lat()));
            let pin = Rect::from_center_size(at - vec2(0.0, 12.0), vec2(28.0, 28.0));
            painter.circle(at, 5.0, t.accent, Stroke::new(stroke::FOCUS, t.glyph_case));
            icon::paint(&painter, pin, Icon::Pin, t.accent);
        }
        Done::default()
    }

    /// Home as a small square, and the yards' names where few of them are in view: below the glyph, left out where one
    /// would run into another. With many yards the list beside the map names them.
    fn names(&self, ui: &Ui, painter: &egui::Painter) {
        let t = theme::tokens(ui);
        let mut taken: Vec<Rect> = self.placed.iter().map(|it| it.rect).collect();
        let mut put = |below: Pos2, name: &str| {
            let galley = painter.layout_no_wrap(name.to_owned(), text::SMALL.font(Weight::Medium), t.map_label);
            let place = Rect::from_center_size(below + vec2(0.0, 0.5 * galley.size().y + 3.0), galley.size());
            if name.is_empty() || taken.iter().any(|other| other.intersects(place)) {
                return;
            }
            painter.galley(place.min, galley, t.map_label);
            taken.push(place);
        };
        if self.placed.len() <= SPELLED {
            for it in self.placed {
                let alone = self.stacks.clusters().get(it.cluster).filter(|cluster| cluster.members.len() == 1);
                let yard = alone.and_then(|cluster| self.shown.get(*cluster.members.first()?));
                if let Some(yard) = yard.and_then(|index| self.model.yards.get(*index)) {
                    // The ring of a selected one stands around its glyph.
                    put(it.rect.expand(7.0).center_bottom(), &yard.name);
                }
            }
        }
        if let Some((place, name)) = &self.model.base {
            let at = self.view.screen(from_lon_lat(place.lon(), place.lat()));
            let square = Rect::from_center_size(at, vec2(9.0, 9.0));
            if !self.placed.iter().any(|it| it.rect.intersects(square)) {
                painter.rect(square, 0, t.map_town, Stroke::new(stroke::ICON, t.glyph_line), StrokeKind::Middle);
                let node = ui.interact(square, ui.scope_id().with("home"), Sense::hover());
                let spoken = format!("{name}, where runs begin");
                node.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, &spoken));
                put(square.center_bottom(), name);
            }
        }
    }

    fn answer(&self, ui: &mut Ui, response: &egui::Response, drag: &mut Option<Pos2>, done: &mut Done) {
        let shift = ui.input(|input| input.modifiers.shift_only());
        if (shift || drag.is_some()) && !self.wish.placing {
            self.draw_box(ui, response, drag, done);
        }
        let Some(pointer) = response.hover_pos() else { return };
        let under = stacks::hit(self.placed, pointer).and_then(|at| self.stacks.clusters().get(at));
        if self.wish.placing {
            ui.set_cursor_icon(egui::CursorIcon::Crosshair);
            if response.clicked() {
                let corner = self.view.corners()[0];
                let off = pointer - self.view.rect().min;
                let at = [
                    corner[0] + f64::from(off.x) / self.view.world(),
                    corner[1] + f64::from(off.y) / self.view.world(),
                ];
                let (lon, lat) = to_lon_lat(at);
                done.place = Place::new(lat, (lon + 540.0).rem_euclid(360.0) - 180.0);
            }
            return;
        }
        if let Some(cluster) = under {
            ui.set_cursor_icon(egui::CursorIcon::PointingHand);
            if drag.is_none() {
                let words = self.spoken(cluster);
                response.clone().on_hover_ui_at_pointer(|ui| {
                    let color = theme::tokens(ui).text_primary;
                    ui.label(text::table(words).color(color));
                });
            }
        }
        if !response.clicked_by(PointerButton::Primary) && !response.double_clicked() {
            return;
        }
        let Some(cluster) = under else {
            done.bare = true;
            return;
        };
        let yards: Vec<YardId> = self.yards_of(cluster).collect();
        let ctrl = ui.input(|input| input.modifiers.command);
        match yards.as_slice() {
            [yard] if response.double_clicked() => done.opened = Some(*yard),
            [yard] => done.clicked = Some((*yard, ctrl)),
            several if ctrl => done.boxed = several.to_vec(),
            several => done.clicked = several.first().map(|yard| (*yard, false)),
        }
    }

    /// Shift and drag: all yards in the box. The area over the map takes the drag, so that the map does not move.
    fn draw_box(&self, ui: &mut Ui, response: &egui::Response, drag: &mut Option<Pos2>, done: &mut Done) {
        let area = ui.interact(response.rect, ui.scope_id().with("box"), Sense::drag());
        if let Some(drawn) = drag_box::drawn(ui, &area, drag) {
            let inside = self.placed.iter().filter(|it| drawn.contains(it.rect.center()));
            let clusters = inside.filter_map(|it| self.stacks.clusters().get(it.cluster));
            done.boxed = clusters.flat_map(|cluster| self.yards_of(cluster).collect::<Vec<_>>()).collect();
        }
    }
}

impl Canvas {
    /// The yards that share the stack of this one, if it shares it with others.
    pub fn sharing(&self, model: &FarModel, yard: YardId) -> Vec<(f64, f64)> {
        let index = model.position(yard);
        let mark = index.and_then(|index| self.shown.iter().position(|shown| *shown == index));
        let cluster = mark.and_then(|mark| self.stacks.clusters().iter().find(|it| it.members.contains(&mark)));
        let members = cluster.map_or(&[][..], |cluster| cluster.members.as_slice());
        if members.len() < 2 {
            return Vec::new();
        }
        members.iter().filter_map(|mark| self.marks.get(*mark)).map(|mark| to_lon_lat(mark.at)).collect()
    }
}
