//! Acts that alter where hives stand, what they are called, or that they are there: move, rename, end.

use std::collections::BTreeMap;

use egui::Ui;

use crate::domain::change::Change;
use crate::domain::colony::{End, EndWhy};
use crate::domain::fold_text::fold;
use crate::domain::ids::{ColonyId, YardId};
use crate::domain::yard::{Layout, Spot, Yard};
use crate::ui::card::yard_named;
use crate::ui::scene::Scene;
use crate::ui::screens::map::many::acts::{Ground, Meant};
use crate::ui::screens::map::many::dated::{COLUMN, choices, day_field, initials, past_day, show_first};
use crate::ui::screens::map::words::counted;
use crate::ui::widgets::{Field, parts};

/// Hives to a row where nobody says otherwise.
const ROW: u16 = 10;

/// They go to another yard or row.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MoveAct {
    to: String,
    row: String,
    day: String,
}

impl MoveAct {
    /// What it would do.
    pub fn meant(&self, ground: &Ground<'_>) -> Meant {
        let scene = ground.scene;
        let day = match past_day(ground, if self.day.is_empty() { "today" } else { &self.day }) {
            Ok(day) => day,
            Err(why) => return Meant::trouble(why),
        };
        let yard = match yard_named(&scene.world, &self.to) {
            Ok(yard) => yard,
            Err(why) if self.to.trim().is_empty() => return Meant::missing(why),
            Err(why) => return Meant::trouble(why),
        };
        let row: Option<u16> = match self.row.trim() {
            "" => None,
            typed => match typed.parse().ok().filter(|row| (1..=999).contains(row)) {
                Some(row) => Some(row),
                None => return Meant::trouble("The row is not understood. Type a number, or leave it empty."),
            },
        };
        let mut meant = Meant::default();
        let hives = ground.there_on(day, &mut meant.left_out);
        let spots = free_spots(scene, yard.id, yard.layout, row, &hives);
        let to: Vec<(ColonyId, YardId, Option<Spot>)> =
            hives.iter().zip(&spots).map(|(id, spot)| (*id, yard.id, Some(*spot))).collect();
        meant.count = to.len();
        let what = if yard.layout == Layout::Pallets { "pallet" } else { "row" };
        if let (Some(first), Some(last)) = (spots.first(), spots.last()) {
            meant.says.push(if first.row == last.row {
                format!("To {}, {what} {}.", yard.name, first.row)
            } else {
                format!("To {}, {what}s {} to {}.", yard.name, first.row, last.row)
            });
        }
        if to.is_empty() {
            meant.trouble = Some("None of them was there on that day.".to_owned());
        } else {
            meant.change = Some(Change::Move { to, day });
        }
        meant
    }

    /// Draws the fields.
    pub fn show(&mut self, ui: &mut Ui, scene: &Scene, fresh: bool) {
        let found = yard_named(&scene.world, &self.to);
        let help = match &found {
            Ok(yard) => format!("{}, {}", yard.name, holds(scene, yard)),
            Err(_) => "its name, or as much as tells it from others".to_owned(),
        };
        let error = found.err().filter(|_| !self.to.trim().is_empty());
        let field = Field::new("To yard").column(COLUMN).width(220.0).help(&help).error(error.as_deref());
        show_first(ui, field, &mut self.to, fresh);
        let field = Field::new("Row or pallet").column(COLUMN).width(84.0).help("empty: after the last one");
        field.show(ui, &mut self.row);
        if self.day.is_empty() {
            "today".clone_into(&mut self.day);
        }
        day_field(ui, scene, &mut self.day, crate::domain::day_words::Lean::Back, "");
    }
}

/// `38 hives in rows`.
fn holds(scene: &Scene, yard: &Yard) -> String {
    let hives = scene.outlook.yards.get(&yard.id).map_or(0, |view| view.colonies.len() as u32);
    let layout = if yard.layout == Layout::Pallets { "on pallets" } else { "in rows" };
    format!("{} {layout}", counted(hives, "hive", "hives"))
}

/// Free spots of a yard for that many hives: in the row named and those after it, else after the last row in use.
fn free_spots(scene: &Scene, yard: YardId, layout: Layout, row: Option<u16>, hives: &[ColonyId]) -> Vec<Spot> {
    let taken: Vec<Spot> = scene
        .world
        .in_yard(yard)
        .into_iter()
        .filter(|colony| !hives.contains(&colony.id))
        .filter_map(|colony| colony.spot())
        .collect();
    let last = taken.iter().map(|spot| spot.row).max().unwrap_or(0);
    let mut row = row.unwrap_or(last + 1);
    let per_row = if layout == Layout::Pallets { 4 } else { ROW };
    // A row that is named takes all of them behind its last hive; pallets hold four and no more.
    let mut spots = Vec::with_capacity(hives.len());
    while spots.len() < hives.len() && row < u16::MAX {
        let held = taken.iter().filter(|spot| spot.row == row).map(|spot| spot.place);
        let most = held.clone().max().unwrap_or(0);
        let places = if layout == Layout::Pallets { 1..=4 } else { most + 1..=per_row.max(most + 1) };
        let free = places.filter(|place| !held.clone().any(|taken| taken == *place));
        let wanted = hives.len() - spots.len();
        spots.extend(free.take(wanted).map(|place| Spot { row, place }));
        row += 1;
    }
    spots
}

/// They get new names in order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RenameAct {
    before: String,
    first: String,
    day: String,
}

impl RenameAct {
    /// What it would do.
    pub fn meant(&self, ground: &Ground<'_>) -> Meant {
        let day = match past_day(ground, if self.day.is_empty() { "today" } else { &self.day }) {
            Ok(day) => day,
            Err(why) => return Meant::trouble(why),
        };
        let first: u32 = match self.first.trim() {
            "" => 1,
            typed => match typed.parse().ok().filter(|first| (1..=999_999).contains(first)) {
                Some(first) => first,
                None => return Meant::trouble("The first number is not understood. Type a whole number from 1."),
            },
        };
        let mut meant = Meant::default();
        let hives = ground.there_on(day, &mut meant.left_out);
        let last = first + hives.len().saturating_sub(1) as u32;
        let width = last.to_string().len().max(2);
        let named = |at: usize| format!("{}{:0width$}", self.before.trim(), first + at as u32);
        let names: Vec<(ColonyId, String)> = hives.iter().enumerate().map(|(at, id)| (*id, named(at))).collect();
        if let Some(clash) = clash(ground.scene, &names) {
            return Meant::trouble(format!("{clash} is the name of another hive there. Begin with another number."));
        }
        meant.count = names.len();
        if let (Some((one, to_one)), Some((other, to_other))) = (names.first(), names.last()) {
            let (from, till) = (ground.name(*one), ground.name(*other));
            meant.says.push(format!("{from} becomes {to_one}, {till} becomes {to_other}. Old names are still found."));
        }
        if names.is_empty() {
            meant.trouble = Some("None of them was there on that day.".to_owned());
        } else {
            meant.change = Some(Change::Rename { names, day });
        }
        meant
    }

    /// Draws the fields.
    pub fn show(&mut self, ui: &mut Ui, scene: &Scene, fresh: bool) {
        show_first(ui, Field::new("Letters").column(COLUMN).width(84.0).hint("H"), &mut self.before, fresh);
        Field::new("First number").column(COLUMN).width(84.0).hint("1").show(ui, &mut self.first);
        if self.day.is_empty() {
            "today".clone_into(&mut self.day);
        }
        day_field(ui, scene, &mut self.day, crate::domain::day_words::Lean::Back, "from this day on");
    }
}

/// A new name that another living hive of the same yard has and keeps.
fn clash(scene: &Scene, names: &[(ColonyId, String)]) -> Option<String> {
    let renamed: BTreeMap<ColonyId, &str> = names.iter().map(|(id, name)| (*id, name.as_str())).collect();
    let yard_of = |id: &ColonyId| scene.world.colonies.get(id).and_then(|colony| colony.yard());
    let taken: std::collections::BTreeSet<(Option<YardId>, String)> = scene
        .world
        .living()
        .filter(|colony| !renamed.contains_key(&colony.id))
        .map(|colony| (colony.yard(), fold(colony.name())))
        .collect();
    names.iter().find(|(id, name)| taken.contains(&(yard_of(id), fold(name)))).map(|(_, name)| name.clone())
}

/// They end.
#[derive(Clone, Debug, PartialEq)]
pub struct EndAct {
    why: Why,
    into: String,
    day: String,
    by: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Why {
    Sold,
    Died,
    United,
    ShakenOut,
    Destroyed,
    Gone,
}

impl Why {
    const ALL: [(&'static str, Self); 6] = [
        ("Sold", Self::Sold),
        ("Died", Self::Died),
        ("United into another", Self::United),
        ("Shaken out", Self::ShakenOut),
        ("Destroyed under the local rules", Self::Destroyed),
        ("Entered by mistake", Self::Gone),
    ];
}

impl EndAct {
    /// Sold today.
    pub fn new(by: String) -> Self {
        Self { why: Why::Sold, into: String::new(), day: "today".to_owned(), by }
    }

    /// What it would do.
    pub fn meant(&self, ground: &Ground<'_>) -> Meant {
        let day = match past_day(ground, &self.day) {
            Ok(day) => day,
            Err(why) => return Meant::trouble(why),
        };
        let mut meant = Meant::default();
        let mut colonies = ground.there_on(day, &mut meant.left_out);
        let why = match self.why {
            Why::Sold => EndWhy::Sold,
            Why::Died => EndWhy::Died,
            Why::ShakenOut => EndWhy::ShakenOut,
            Why::Destroyed => EndWhy::Destroyed,
            Why::Gone => EndWhy::Gone,
            Why::United => match other_hive(ground, &self.into) {
                Ok(into) => {
                    colonies.retain(|id| *id != into);
                    EndWhy::UnitedInto(into)
                }
                Err(_) if self.into.trim().is_empty() => return Meant::missing("Type the hive that goes on."),
                Err(why) => return Meant::trouble(why),
            },
        };
        meant.count = colonies.len();
        if colonies.is_empty() {
            return Meant::trouble("None of them was there on that day.");
        }
        meant.says.push("Their open plans are called off. Their history stays readable.".to_owned());
        let end = End { day, why, by: self.by.trim().to_owned(), words: String::new() };
        meant.change = Some(Change::End { colonies, end });
        meant
    }

    /// Draws the fields.
    pub fn show(&mut self, ui: &mut Ui, scene: &Scene, fresh: bool) {
        choices(ui, "Why", &Why::ALL, &mut self.why, fresh);
        if self.why == Why::United {
            let field = Field::new("Into hive").column(COLUMN).width(120.0).help("a hive of the same yard");
            field.show(ui, &mut self.into);
        }
        if self.why == Why::Destroyed {
            parts::remark(ui, "Disease: follow the local authority's rules, and move no gear.");
        }
        day_field(ui, scene, &mut self.day, crate::domain::day_words::Lean::Back, "");
        initials(ui, &mut self.by);
    }
}

/// The hive of the first chosen one's yard that is typed.
fn other_hive(ground: &Ground<'_>, typed: &str) -> Result<ColonyId, String> {
    let world = &ground.scene.world;
    let yard = ground.hives.first().and_then(|id| world.colonies.get(id)).and_then(|colony| colony.yard());
    let pool = yard.map_or(Vec::new(), |yard| world.in_yard(yard));
    let names = pool.iter().map(|colony| (colony.id, colony.name()));
    match crate::domain::choose::by_short_name(names, typed).as_slice() {
        [one] => Ok(*one),
        [] => Err("That hive is not in the yard. Type the name of the one that goes on.".to_owned()),
        _ => Err("Several hives have that number. Type the whole name.".to_owned()),
    }
}
