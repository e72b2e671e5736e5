//! The yards as the Map shows them from afar: most urgent first, with what is hidden counted.

use std::cmp::Reverse;
use std::collections::BTreeSet;

use crate::domain::bar::BarOn;
use crate::domain::day::Day;
use crate::domain::ids::YardId;
use crate::domain::place::Place;
use crate::domain::standing::LidState;
use crate::domain::yard::Yard;
use crate::planner::outlook::{Outlook, YardView};
use crate::ui::glyph::{Fill, Stack};
use crate::ui::map::base::mercator::from_lon_lat;
use crate::ui::scene::Scene;
use crate::ui::screens::map::filter::{Filters, YardFilter};
use crate::ui::screens::map::words::{FillBy, amiss, counted, due};

/// Everything that decides what the model holds.
#[derive(Clone, Debug, PartialEq)]
pub struct FarKey {
    /// The scene's version and day.
    pub version: (u64, Day),
    /// What is shown.
    pub filters: Filters,
    /// What the fill shows.
    pub fill: FillBy,
    /// The chosen day.
    pub day: Day,
}

/// The yards from afar.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FarModel {
    /// Those shown, most urgent first.
    pub yards: Vec<FarYard>,
    /// How many the filters hide.
    pub hidden: usize,
    /// How many there are.
    pub of: usize,
    /// Open work of all yards, hidden ones included.
    pub open: u32,
    /// Yards with open work.
    pub open_yards: u32,
    /// Late work of all yards.
    pub late: u32,
    /// Colonies that need action.
    pub action: u32,
    /// The home yard, where no other has a place yet.
    pub home: Option<Place>,
    /// Where runs begin, and what it is called.
    pub base: Option<(Place, String)>,
    /// The hygiene groups of all yards, sorted.
    pub groups: Vec<String>,
}

/// One yard from afar.
#[derive(Clone, Debug, PartialEq)]
pub struct FarYard {
    /// The yard.
    pub id: YardId,
    /// Its name.
    pub name: String,
    /// Where it lies, in normalised Web Mercator, if that is known.
    pub at: Option<[f64; 2]>,
    /// Its glyph.
    pub stack: Stack,
    /// The next bar set on it that has not begun: `Barred from 30 Nov: quarantine.`; may be empty.
    pub bar_ahead: String,
    /// The hives that are shown, summed up.
    pub view: YardView,
}

impl FarYard {
    /// Hives shown.
    pub fn hives(&self) -> u32 {
        self.view.colonies.len() as u32
    }

    /// `Broom Flat, 38 hives, 9 due: 8 looks, 1 step, 2 late`.
    pub fn spoken(&self) -> String {
        let mut words = vec![self.name.clone(), counted(self.hives(), "hive", "hives")];
        words.push(due(self.view.open_looks, self.view.open_steps));
        words.extend([amiss(&self.view)].into_iter().filter(|it| !it.is_empty()));
        if self.stack.barred {
            words.push("barred".to_owned());
        }
        if self.at.is_none() {
            words.push("without a place".to_owned());
        }
        words.join(", ")
    }

    /// The latest day of its open work and whether it has passed; `now` where a hive needs action without a day.
    pub fn latest(&self, today: Day) -> (String, bool) {
        match self.view.latest {
            Some(day) if day < today => (format!("{}, late", day.near(today)), true),
            Some(day) => (day.near(today), false),
            None if self.view.action > 0 => ("now".to_owned(), true),
            None => (String::new(), false),
        }
    }
}

impl FarModel {
    /// Reads the yards off the scene.
    pub fn new(scene: &Scene, key: &FarKey) -> Self {
        let mut model = Self::default();
        let barred = barred_yards(scene);
        for (id, yard) in &scene.world.yards {
            let whole = scene.outlook.yards.get(id).cloned().unwrap_or_default();
            model.of += 1;
            model.open += whole.open();
            model.open_yards += u32::from(whole.open() > 0);
            model.late += whole.late;
            model.action += whole.action;
            let is_barred = barred.contains(id);
            if !yard_shown(yard, &whole, is_barred, &key.filters.yards) {
                continue;
            }
            let (view, bands) = shown(&scene.outlook, whole, key);
            if view.colonies.is_empty() && key.filters.hide_hives() {
                continue;
            }
            model.yards.push(FarYard {
                id: *id,
                name: yard.name.clone(),
                at: yard.place.map(|place| from_lon_lat(place.lon(), place.lat())),
                stack: Stack { bands, lid: view.lid.unwrap_or(LidState::Quiet), barred: is_barred },
                bar_ahead: bar_ahead(scene, *id),
                view,
            });
        }
        model.hidden = model.of - model.yards.len();
        let placed = scene.world.yards.values().any(|yard| yard.place.is_some());
        model.home = scene.world.firm.home.filter(|_| !placed);
        let named = |place: Place| (place, scene.world.firm.home_name.clone());
        model.base = scene.world.firm.home.map(named);
        let groups = scene.world.yards.values().map(|yard| &yard.hygiene_group).filter(|group| !group.is_empty());
        model.groups = groups.collect::<BTreeSet<_>>().into_iter().cloned().collect();
        model.yards.sort_by(|a, b| urgency(a).cmp(&urgency(b)));
        model
    }

    /// The place of a yard in the list.
    pub fn position(&self, yard: YardId) -> Option<usize> {
        self.yards.iter().position(|it| it.id == yard)
    }
}

fn urgency(yard: &FarYard) -> impl Ord {
    let latest = yard.view.latest.map_or(i32::MAX, Day::number);
    (Reverse(yard.view.lid), Reverse(yard.view.open()), latest, yard.name.clone(), yard.id)
}

fn yard_shown(yard: &Yard, view: &YardView, barred: bool, filter: &YardFilter) -> bool {
    match filter {
        YardFilter::All => true,
        YardFilter::WithWork => view.open() > 0,
        YardFilter::Barred => barred,
        YardFilter::NoPlace => yard.place.is_none(),
        YardFilter::Group(group) => yard.hygiene_group == *group,
    }
}

/// The yard's sums and bands over the hives that are shown.
fn shown(outlook: &Outlook, whole: YardView, key: &FarKey) -> (YardView, [u32; 7]) {
    let today = key.version.1;
    if !key.filters.hide_hives() && key.fill == FillBy::Age {
        let bands = whole.bands;
        return (whole, bands);
    }
    let mut bands = [0; 7];
    let mut view = YardView::default();
    for id in &whole.colonies {
        let Some(colony) = outlook.colonies.get(id) else { continue };
        if !key.filters.shows(colony, key.day, today) {
            continue;
        }
        let fill = key.fill.fill(colony, today);
        if let Some(at) = Fill::ALL.iter().position(|it| *it == fill) {
            bands[at] += 1;
        }
        view.add(*id, colony, today);
    }
    (view, bands)
}

/// `Barred from 30 Nov: quarantine.`: the next bar set on the yard that has not begun.
fn bar_ahead(scene: &Scene, yard: YardId) -> String {
    let set = scene.world.bars.values().filter(|bar| bar.on == BarOn::Yard(yard) && bar.is_ahead(scene.today));
    let next = set.min_by_key(|bar| (bar.from, bar.id));
    next.map_or(String::new(), |bar| format!("Barred from {}: {}.", bar.from.near(scene.today), bar.kind.words()))
}

/// Yards under a hard bar today.
fn barred_yards(scene: &Scene) -> BTreeSet<YardId> {
    let hard = scene.world.bars.values().filter(|bar| !bar.kind.is_soft() && bar.holds(scene.today));
    let yards = hard.filter_map(|bar| match bar.on {
        BarOn::Yard(yard) => Some(yard),
        BarOn::Colony(_) => None,
    });
    yards.collect()
}
