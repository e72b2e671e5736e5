//! The hives of a yard as they are laid out: rows or pallets, with what each shows.

use crate::domain::colony::Colony;
use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, YardId};
use crate::domain::standing::LidState;
use crate::domain::yard::{Layout, Spot};
use crate::planner::outlook::ColonyView;
use crate::ui::glyph::Fill;
use crate::ui::scene::Scene;
use crate::ui::screens::map::filter::Filters;
use crate::ui::screens::map::words::FillBy;

/// From the middle of a hive to that of its neighbour in the row.
const PITCH: [f32; 2] = [86.0, 104.0];
/// A hive's cell on a pallet.
const CELL: f32 = 84.0;
/// A pallet of four.
pub const PALLET: [f32; 2] = [168.0, 170.0];
/// Room between pallets, at least; the name stands in it.
const GAP: [f32; 2] = [90.0, 50.0];
/// Left margin of the plan.
const LEFT: f32 = 96.0;
/// Upper margin of the plan.
const TOP: f32 = 92.0;
/// Upper margin where there is little room: of rows, and of pallets, over which a line of words stands.
const LOW_TOP: [f32; 2] = [36.0, 64.0];
/// Room right of the last pallet or hive.
const SIDE: f32 = 44.0;
/// Hives without a spot stand in rows of this many.
const UNPLACED_ROW: usize = 10;

/// Everything that decides what the model holds.
#[derive(Clone, Debug, PartialEq)]
pub struct NearKey {
    /// The scene's version and day.
    pub version: (u64, Day),
    /// The yard.
    pub yard: YardId,
    /// What is shown.
    pub filters: Filters,
    /// What the fill shows.
    pub fill: FillBy,
    /// The chosen day.
    pub day: Day,
    /// Width of the plan in whole points, which decides how many pallets stand side by side.
    pub width: u32,
    /// There is little room from top to bottom.
    pub low: bool,
}

/// The plan of a yard.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct NearModel {
    /// Its hives by spot, then by name.
    pub hives: Vec<NearHive>,
    /// How many the filters hide.
    pub hidden: usize,
    /// The hives stand on pallets.
    pub pallets: bool,
    /// Rows or pallets with the place of their name.
    pub groups: Vec<Group>,
    /// Size of the whole plan.
    pub size: [f32; 2],
    /// How many letters all their names begin with, up to the end of a word.
    pub alike: usize,
}

/// A row or a pallet.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// `Row 1`, `Pallet 3`, `No place yet`.
    pub words: String,
    /// Where its name stands: left middle of a row's, middle of a pallet's.
    pub at: [f32; 2],
    /// Upper left corner of the pallet, if it is one.
    pub pallet: Option<[f32; 2]>,
}

/// One hive of the plan.
#[derive(Clone, Debug, PartialEq)]
pub struct NearHive {
    /// The colony.
    pub id: ColonyId,
    /// Its name.
    pub name: String,
    /// Where it stands.
    pub spot: Option<Spot>,
    /// Its box.
    pub fill: Fill,
    /// Its lid.
    pub lid: LidState,
    /// The filters show it.
    pub shown: bool,
    /// Middle of its cell in the plan.
    pub at: [f32; 2],
    /// What is read out: `B14, first season, acceptance look due, latest 28 Nov`.
    pub spoken: String,
}

impl NearModel {
    /// Reads the plan off the scene.
    pub fn new(scene: &Scene, key: &NearKey) -> Self {
        let layout = scene.world.yards.get(&key.yard).map_or(Layout::Rows, |yard| yard.layout);
        let mut model = Self { pallets: layout == Layout::Pallets, ..Self::default() };
        let ids = scene.outlook.yards.get(&key.yard).map_or(&[][..], |yard| yard.colonies.as_slice());
        for id in ids {
            let (Some(colony), Some(view)) = (scene.world.colonies.get(id), scene.outlook.colonies.get(id)) else {
                continue;
            };
            let shown = key.filters.shows(view, key.day, scene.today);
            model.hidden += usize::from(!shown);
            model.hives.push(NearHive {
                id: *id,
                name: colony.name().to_owned(),
                spot: colony.spot(),
                fill: key.fill.fill(view, scene.today),
                lid: view.lid,
                shown,
                at: [0.0, 0.0],
                spoken: spoken(colony, view, key.fill, scene.today),
            });
        }
        // Those without a spot come last.
        model.hives.sort_by(|a, b| (a.spot.is_none(), a.spot, &a.name).cmp(&(b.spot.is_none(), b.spot, &b.name)));
        let top = if key.low { LOW_TOP[usize::from(model.pallets)] } else { TOP };
        let used = if model.pallets { model.lay_pallets(key.width as f32, top) } else { model.lay_rows(top) };
        let bottom = model.lay_unplaced(used);
        model.alike = alike(model.hives.iter().map(|hive| hive.name.as_str()));
        let right = model.hives.iter().map(|hive| hive.at[0]).fold(0.0, f32::max) + SIDE;
        model.size = [right, bottom + 60.0];
        model
    }

    /// The hives that are shown.
    pub fn shown(&self) -> impl Iterator<Item = &NearHive> {
        self.hives.iter().filter(|hive| hive.shown)
    }

    /// A hive by its id.
    pub fn hive(&self, id: ColonyId) -> Option<&NearHive> {
        self.hives.iter().find(|hive| hive.id == id)
    }

    /// The hive one comes to from another by an arrow: the nearest shown one on that side.
    pub fn beside(&self, from: ColonyId, step: [i32; 2]) -> Option<ColonyId> {
        let at = self.hive(from)?.at;
        let ahead = |hive: &&NearHive| {
            let off = [hive.at[0] - at[0], hive.at[1] - at[1]];
            let along = off[0] * step[0] as f32 + off[1] * step[1] as f32;
            along > 1.0
        };
        // Sideways distance counts fourfold, so that one stays in the row or column while there is one.
        let cost = |hive: &NearHive| {
            let off = [(hive.at[0] - at[0]).abs(), (hive.at[1] - at[1]).abs()];
            if step[0] == 0 { off[1] + 4.0 * off[0] } else { off[0] + 4.0 * off[1] }
        };
        let near = self.shown().filter(ahead).min_by(|a, b| cost(a).total_cmp(&cost(b)));
        near.map(|hive| hive.id)
    }

    /// The hive after or before another in the order of spots.
    pub fn next(&self, from: ColonyId, forward: bool) -> Option<ColonyId> {
        let order: Vec<ColonyId> = self.shown().map(|hive| hive.id).collect();
        let Some(at) = order.iter().position(|id| *id == from) else { return order.first().copied() };
        let next = if forward { at + 1 } else { at.checked_sub(1)? };
        order.get(next).copied()
    }

    fn rows(&self) -> Vec<u16> {
        let mut rows: Vec<u16> = self.hives.iter().filter_map(|hive| hive.spot).map(|spot| spot.row).collect();
        rows.sort_unstable();
        rows.dedup();
        rows
    }

    fn lay_rows(&mut self, top: f32) -> f32 {
        let rows = self.rows();
        let middle = |row: usize| top + 29.0 + row as f32 * PITCH[1];
        for hive in &mut self.hives {
            let Some(spot) = hive.spot else { continue };
            let row = rows.binary_search(&spot.row).unwrap_or(0);
            let place = f32::from(spot.place.max(1) - 1);
            hive.at = [LEFT + 36.0 + place * PITCH[0], middle(row)];
        }
        self.groups = (rows.iter().enumerate())
            .map(|(at, row)| Group { words: format!("Row {row}"), at: [36.0, middle(at) - 5.0], pallet: None })
            .collect();
        top + rows.len() as f32 * PITCH[1]
    }

    fn lay_pallets(&mut self, width: f32, upper: f32) -> f32 {
        let rows = self.rows();
        let room = (width - LEFT - SIDE).max(PALLET[0]);
        let columns = ((room + GAP[0]) / (PALLET[0] + GAP[0])).floor().max(1.0);
        let across = ((room + GAP[0]) / columns).clamp(PALLET[0] + GAP[0], 298.0);
        let corner = |at: usize| {
            let (row, column) = ((at as f32 / columns).floor(), at as f32 % columns);
            [LEFT + 16.0 + column * across, upper + row * (PALLET[1] + GAP[1])]
        };
        for hive in &mut self.hives {
            let Some(spot) = hive.spot else { continue };
            let [left, top] = corner(rows.binary_search(&spot.row).unwrap_or(0));
            let place = (spot.place.max(1) - 1) % 4;
            let (column, row) = (f32::from(place % 2), f32::from(place / 2));
            hive.at = [left + CELL * (column + 0.5), top + 1.0 + CELL * (row + 0.5)];
        }
        self.groups = (rows.iter().enumerate())
            .map(|(at, row)| {
                let [left, top] = corner(at);
                let middle = [left + 0.5 * PALLET[0], top + PALLET[1] + 16.0];
                Group { words: format!("Pallet {row}"), at: middle, pallet: Some([left, top]) }
            })
            .collect();
        let high = (rows.len() as f32 / columns).ceil();
        upper + high * (PALLET[1] + GAP[1])
    }

    fn lay_unplaced(&mut self, used: f32) -> f32 {
        let unplaced = self.hives.iter_mut().filter(|hive| hive.spot.is_none());
        let mut count = 0;
        for (at, hive) in unplaced.enumerate() {
            let (row, column) = (at / UNPLACED_ROW, at % UNPLACED_ROW);
            hive.at = [LEFT + 36.0 + column as f32 * PITCH[0], used + 29.0 + row as f32 * PITCH[1]];
            count = at + 1;
        }
        if count == 0 {
            return used;
        }
        self.groups.push(Group { words: "No spot".to_owned(), at: [36.0, used + 15.0], pallet: None });
        used + count.div_ceil(UNPLACED_ROW) as f32 * PITCH[1]
    }
}

/// How many letters all names begin with, up to the end of a word; none of a single name.
fn alike<'a>(mut names: impl Iterator<Item = &'a str>) -> usize {
    let Some(first) = names.next().map(|name| name.chars().collect::<Vec<char>>()) else { return 0 };
    let (mut same, mut others) = (first.len(), false);
    for name in names {
        others = true;
        same = same.min(first.iter().zip(name.chars()).take_while(|(a, b)| **a == *b).count());
    }
    let word_ends = first.iter().take(same).rposition(|letter| letter.is_whitespace());
    word_ends.filter(|_| others).map_or(0, |at| at + 1)
}

fn spoken(colony: &Colony, view: &ColonyView, fill: FillBy, today: Day) -> String {
    let mut words = vec![colony.name().to_owned(), fill.spoken(fill.fill(view, today)).to_owned()];
    match view.standing.work.iter().find(|due| due.window.open_on(today)) {
        Some(due) => {
            let latest = due.window.latest.map_or(String::new(), |day| format!(", latest {}", day.near(today)));
            words.push(format!("{} {}{latest}", due.kind.words(), view.lid.words()));
        }
        None => words.push(view.lid.words().to_owned()),
    }
    words.join(", ")
}

#[cfg(test)]
mod tests {
    use super::alike;

    #[test]
    fn what_names_have_in_common_ends_with_a_word() {
        let alike = |names: &[&str]| alike(names.iter().copied());
        assert_eq!(alike(&["Улей у забора 001", "Улей у забора 002"]), 14);
        assert_eq!(alike(&["B01", "B02"]), 0, "no word ends there");
        assert_eq!(alike(&["Mill hive 1"]), 0, "nothing to tell it from");
        assert_eq!(alike(&["Mill hive", "Mill hive"]), 5);
        assert_eq!(alike(&[]), 0);
    }
}
