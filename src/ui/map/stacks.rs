//! Yards on the map: stacks that would lie upon each other are drawn as one, and all of them go into one mesh.
//!
//! Which yards share a stack depends on the zoom alone, so that nothing changes while the map is only moved. It is
//! reckoned anew when the yards or the zoom change; a frame only projects the stacks in view and draws them.

use std::collections::HashMap;

use egui::{Color32, Mesh, Painter, Pos2, Rect, Shape, Ui, Vec2, vec2};

use crate::domain::standing::LidState;
use crate::ui::glyph::{self, Pen, Stack, StackSize};
use crate::ui::map::base::mercator::View;
use crate::ui::theme::Tokens;

/// One yard as the map draws it.
#[derive(Clone, Debug, PartialEq)]
pub struct YardMark {
    /// Where it lies, in normalised Web Mercator.
    pub at: [f64; 2],
    /// Its glyph.
    pub stack: Stack,
    /// Open looks and steps, beside the glyph; 0 shows none.
    pub count: u32,
    /// Drawn at full strength; the others step back.
    pub lit: bool,
}

/// Yards drawn as one stack.
#[derive(Clone, Debug, PartialEq)]
pub struct Cluster {
    /// Where the stack stands: the place of its most urgent yard.
    pub at: [f64; 2],
    /// The yards by their place in the list that was given, most urgent first.
    pub members: Vec<usize>,
    /// The glyph of all of them.
    pub stack: Stack,
    /// Open looks and steps of all of them.
    pub count: u32,
    /// One of them is lit.
    pub lit: bool,
}

/// The stacks of a set of yards at a zoom, kept between frames.
#[derive(Debug, Default)]
pub struct Stacks {
    key: Option<(u64, u64, [u32; 2])>,
    clusters: Vec<Cluster>,
}

/// A stack in view.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Which of the clusters.
    pub cluster: usize,
    /// The glyph's box on the screen.
    pub rect: Rect,
}

impl Stacks {
    /// The clusters last reckoned.
    pub fn clusters(&self) -> &[Cluster] {
        &self.clusters
    }

    /// Makes sure the clusters are those of `marks`, which must be given most urgent first. `version` stands for the
    /// marks: as long as it stays the same they are taken to be the same.
    pub fn reckon(&mut self, version: u64, marks: &[YardMark], zoom: f64, size: StackSize) {
        let [width, height] = size.size();
        let key = (version, zoom.to_bits(), [width.to_bits(), height.to_bits()]);
        if self.key != Some(key) {
            self.clusters = clusters(marks, crate::ui::map::base::mercator::WORLD_POINTS * zoom.exp2(), size);
            self.key = Some(key);
        }
    }

    /// The stacks in view, from the top of the screen down.
    pub fn placed(&self, view: &View, size: StackSize) -> Vec<Placed> {
        let [width, height] = size.size();
        let room = view.rect().expand(40.0);
        let mut placed: Vec<Placed> = (self.clusters.iter().enumerate())
            .filter_map(|(cluster, it)| {
                let center = view.screen(it.at);
                let rect = Rect::from_center_size(center, vec2(width, height));
                room.contains(center).then_some(Placed { cluster, rect })
            })
            .collect();
        placed.sort_by(|a, b| a.rect.min.y.total_cmp(&b.rect.min.y));
        placed
    }

    /// The boxes on the screen that names keep off: the stacks and their counts.
    pub fn reserved(&self, placed: &[Placed]) -> Vec<Rect> {
        let mut boxes: Vec<Rect> = placed.iter().map(|it| it.rect.expand2(vec2(3.0, 2.0))).collect();
        for it in placed {
            let Some(cluster) = self.clusters.get(it.cluster).filter(|it| it.count > 0 && it.lit) else { continue };
            let beside = count_side(placed, it, cluster.count, false);
            boxes.push(count_room(beside, cluster.count, 4.0));
        }
        boxes
    }
}

/// Beyond that many yards stacks that would stand on each other's counts share one, too.
const CROWD: usize = 100;

/// Yards whose stacks would cover each other, as one. The most urgent keeps its place, so a lesser one never moves it.
fn clusters(marks: &[YardMark], world: f64, size: StackSize) -> Vec<Cluster> {
    let [width, height] = size.size();
    let [wide, high] = if marks.len() > CROWD { [1.9, 1.0] } else { [0.8, 0.8] };
    let (near_x, near_y) = (f64::from(width) * wide, f64::from(height) * high);
    let mut clusters: Vec<Cluster> = Vec::new();
    let mut cells: HashMap<(i64, i64), Vec<usize>> = HashMap::new();
    for (index, mark) in marks.iter().enumerate() {
        let (x, y) = (mark.at[0] * world, mark.at[1] * world);
        let cell = ((x / near_x).floor() as i64, (y / near_y).floor() as i64);
        let around = (-1..=1).flat_map(|dx| (-1..=1).map(move |dy| (cell.0 + dx, cell.1 + dy)));
        let near =
            |other: &Cluster| (other.at[0] * world - x).abs() < near_x && (other.at[1] * world - y).abs() < near_y;
        let joined = around.filter_map(|cell| cells.get(&cell)).flatten().copied().find(|&at| near(&clusters[at]));
        if let Some(cluster) = joined.and_then(|at| clusters.get_mut(at)) {
            cluster.add(index, mark);
        } else {
            cells.entry(cell).or_default().push(clusters.len());
            clusters.push(Cluster {
                at: mark.at,
                members: vec![index],
                stack: mark.stack,
                count: mark.count,
                lit: mark.lit,
            });
        }
    }
    clusters
}

impl Cluster {
    fn add(&mut self, index: usize, mark: &YardMark) {
        self.members.push(index);
        for (sum, band) in self.stack.bands.iter_mut().zip(mark.stack.bands) {
            *sum += band;
        }
        // Marks come most urgent first, so the lid is right already; a yard that is not barred frees the stack.
        self.stack.barred &= mark.stack.barred;
        self.count += mark.count;
        self.lit |= mark.lit;
    }
}

/// Draws the stacks, their counts, and a ring round each of which `selected` says so.
pub fn paint(
    ui: &Ui,
    painter: &Painter,
    t: &Tokens,
    stacks: &Stacks,
    placed: &[Placed],
    size: StackSize,
    selected: impl Fn(&Cluster) -> bool,
) {
    let pen = Pen::new(ui);
    let (mut faint, mut strong, mut chosen) = (Mesh::default(), Mesh::default(), Mesh::default());
    let mut rings = Vec::new();
    for it in placed {
        let Some(cluster) = stacks.clusters.get(it.cluster) else { continue };
        let mesh = match (selected(cluster), cluster.lit) {
            (true, _) => {
                rings.push(it);
                &mut chosen
            }
            (false, true) => &mut strong,
            (false, false) => &mut faint,
        };
        draw(&pen, mesh, it.rect.min, size, cluster);
    }
    for vertex in &mut faint.vertices {
        vertex.color = stepped_back(vertex.color);
    }
    for mesh in [faint, strong] {
        painter.add(Shape::mesh(mesh));
    }
    for it in &rings {
        glyph::selection(painter, t, it.rect);
    }
    painter.add(Shape::mesh(chosen));
    for it in placed {
        let Some(cluster) = stacks.clusters.get(it.cluster) else { continue };
        let chosen = selected(cluster);
        if cluster.count > 0 && (cluster.lit || chosen) {
            let beside = count_side(placed, it, cluster.count, chosen);
            glyph::count(painter, t, beside, cluster.count as usize, chosen);
        }
    }
}

/// Beyond that many stacks counts stand right of them whatever they cover.
const MOST_SIDES: usize = 300;

/// The box right of which a count is drawn: the stack itself, or one moved so that the count comes to stand left of the
/// stack, where right of it another stack stands and left of it none.
fn count_side(placed: &[Placed], it: &Placed, count: u32, chosen: bool) -> Rect {
    let gap = if chosen { 12.0 } else { 4.0 };
    let right = count_room(it.rect, count, gap);
    let left = Rect::from_min_size(it.rect.left_top() - vec2(gap + right.width(), 0.0), right.size());
    let others = || placed.iter().filter(|other| other.cluster != it.cluster);
    let covers = |room: Rect| others().any(|other| other.rect.intersects(room));
    // To the left the other's own count may stand, and a ring round it.
    let reach = |rect: Rect| Rect::from_min_max(rect.min - vec2(8.0, 8.0), rect.max + vec2(36.0, 8.0));
    let covers_left = || others().any(|other| reach(other.rect).intersects(left));
    if placed.len() > MOST_SIDES || !covers(right) || covers_left() {
        return it.rect;
    }
    it.rect.translate(vec2(left.left() - right.left(), 0.0))
}

/// The room of a count right of the stack, `gap` points off.
fn count_room(stack: Rect, count: u32, gap: f32) -> Rect {
    let width = 10.0 + 8.5 * count.to_string().len() as f32;
    Rect::from_min_size(stack.right_top() + vec2(gap, 0.0), vec2(width, stack.height()))
}

/// One stack; where it stands for several yards a second box shows behind it.
fn draw(pen: &Pen, mesh: &mut Mesh, at: Pos2, size: StackSize, cluster: &Cluster) {
    if cluster.members.len() > 1 {
        let behind = Stack { lid: LidState::Quiet, barred: false, ..cluster.stack };
        pen.stack(mesh, at + vec2(4.0, -4.0), size, &behind);
    }
    pen.stack(mesh, at, size, &cluster.stack);
}

fn stepped_back(color: Color32) -> Color32 {
    color.gamma_multiply(0.35)
}

/// The stack under the pointer: the nearest whose box, made at least 28 points, holds it.
pub fn hit(placed: &[Placed], at: Pos2) -> Option<usize> {
    let reach = |rect: Rect| rect.expand2(Vec2::max(vec2(28.0, 28.0) - rect.size(), Vec2::ZERO) * 0.5);
    let under = placed.iter().filter(|it| reach(it.rect).contains(at));
    under.min_by(|a, b| a.rect.center().distance(at).total_cmp(&b.rect.center().distance(at))).map(|it| it.cluster)
}

#[cfg(test)]
mod tests {
    use egui::{Pos2, pos2};

    use super::*;
    use crate::ui::map::base::mercator::from_lon_lat;

    fn mark(lon: f64, lat: f64, count: u32) -> YardMark {
        let stack = Stack { bands: [count, 0, 0, 1, 0, 0, 0], lid: LidState::Due, barred: false };
        YardMark { at: from_lon_lat(lon, lat), stack, count, lit: true }
    }

    fn view(zoom: f64) -> View {
        View::new(Rect::from_min_size(Pos2::ZERO, vec2(1000.0, 600.0)), from_lon_lat(160.0, -40.0), zoom)
    }

    #[test]
    fn yards_that_would_cover_each_other_share_a_stack_until_one_zooms_in() {
        let marks = [mark(160.0, -40.0, 3), mark(160.01, -40.0, 2), mark(160.4, -40.0, 1)];
        let mut stacks = Stacks::default();
        stacks.reckon(1, &marks, 8.0, StackSize::Middle);
        let members: Vec<_> = stacks.clusters().iter().map(|it| it.members.clone()).collect();
        assert_eq!(members, [vec![0, 1], vec![2]]);
        assert_eq!(stacks.clusters()[0].count, 5);
        assert_eq!(stacks.clusters()[0].stack.bands, [5, 0, 0, 2, 0, 0, 0]);
        stacks.reckon(1, &marks, 13.0, StackSize::Middle);
        assert_eq!(stacks.clusters().len(), 3);
    }

    #[test]
    fn every_yard_is_in_exactly_one_stack_and_stacks_keep_their_distance() {
        let marks: Vec<YardMark> =
            (0..400).map(|n| mark(159.7 + f64::from(n % 20) * 0.03, -40.2 + f64::from(n / 20) * 0.02, 1)).collect();
        let mut stacks = Stacks::default();
        stacks.reckon(1, &marks, 9.0, StackSize::Middle);
        let mut all: Vec<usize> = stacks.clusters().iter().flat_map(|it| it.members.clone()).collect();
        all.sort_unstable();
        assert_eq!(all, (0..400).collect::<Vec<_>>());
        let placed = stacks.placed(&view(9.0), StackSize::Middle);
        for (at, one) in placed.iter().enumerate() {
            for other in &placed[at + 1..] {
                let apart = (one.rect.center() - other.rect.center()).abs();
                assert!(apart.x >= 24.0 * 0.79 || apart.y >= 30.0 * 0.79, "{apart:?}");
            }
        }
    }

    #[test]
    fn the_nearest_stack_is_hit_and_small_ones_are_28_wide() {
        let placed = [
            Placed { cluster: 0, rect: Rect::from_center_size(pos2(100.0, 100.0), vec2(18.0, 22.0)) },
            Placed { cluster: 1, rect: Rect::from_center_size(pos2(120.0, 100.0), vec2(18.0, 22.0)) },
        ];
        assert_eq!(hit(&placed, pos2(87.0, 100.0)), Some(0));
        assert_eq!(hit(&placed, pos2(111.0, 100.0)), Some(1));
        assert_eq!(hit(&placed, pos2(60.0, 100.0)), None);
    }
}
