//! Giving draws a parcel down: one rule for every way in which a queen, cell or virgin is recorded as given.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, ParcelId, SourceId};
use crate::domain::in_hand::left_in_hand;
use crate::domain::parcel::{Parcel, ParcelKind};
use crate::domain::plan::open_plan_on;
use crate::domain::visit::Method;
use crate::domain::world::World;

/// What was said of where a queen that is given comes from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum From {
    /// Nothing: as planned, else the oldest in hand.
    #[default]
    NotSaid,
    /// Out of that parcel.
    Parcel(ParcelId),
    /// From that source: out of its oldest parcel in hand, where there is one.
    Source(SourceId),
    /// From that source, out of no parcel: an own line's queen straight from her mating nuc.
    SourceAlone(SourceId),
    /// Out of no parcel, and from nobody known.
    NotKnown,
}

/// Where a queen that is given comes from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Drawn {
    /// The parcel that is drawn down.
    pub parcel: Option<ParcelId>,
    /// The source.
    pub source: Option<SourceId>,
}

/// What is given, and where.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Giving {
    /// The colony.
    pub colony: ColonyId,
    /// The day.
    pub day: Day,
    /// How.
    pub method: Method,
    /// How many: cells may be several.
    pub count: u8,
}

/// What is in hand while queens are given out of it one after another.
#[derive(Clone, Debug)]
pub struct Hand<'a> {
    world: &'a World,
    /// Worked out when it is first asked for: most visits give nothing.
    left: Option<BTreeMap<ParcelId, u32>>,
}

impl<'a> Hand<'a> {
    /// All that the world's records leave in hand.
    pub fn of(world: &'a World) -> Self {
        Self { world, left: None }
    }

    /// The same where what is left was worked out before, by [`left_in_hand`] on that world.
    pub fn with(world: &'a World, left: BTreeMap<ParcelId, u32>) -> Self {
        Self { world, left: Some(left) }
    }

    /// How many of a parcel are left.
    pub fn left(&mut self, parcel: ParcelId) -> u32 {
        let world = self.world;
        self.left.get_or_insert_with(|| left_in_hand(world)).get(&parcel).copied().unwrap_or(0)
    }

    /// The world it is in.
    pub fn world(&self) -> &'a World {
        self.world
    }

    /// The parcels that such a giving can be out of: of its kind, arrived by its day, with enough left. The oldest first.
    pub fn fitting(&mut self, method: Method, count: u8, day: Day) -> Vec<&'a Parcel> {
        let Some(kind) = kind_for(method) else { return Vec::new() };
        let world = self.world;
        let left = self.left.get_or_insert_with(|| left_in_hand(world));
        let fits = |parcel: &&Parcel| {
            let enough = left.get(&parcel.id).is_some_and(|left| *left >= u32::from(count.max(1)));
            enough && parcel.kind == kind && parcel.arrived.is_some_and(|arrived| arrived <= day)
        };
        let mut found: Vec<&Parcel> = world.parcels.values().filter(fits).collect();
        found.sort_by_key(|parcel| (parcel.arrived, parcel.id));
        found
    }

    /// Where such a queen comes from, taken out of what is in hand.
    ///
    /// Where nothing is said she comes out of the parcel that is planned for her colony. Where that one cannot be it, or
    /// nothing is planned, she comes out of the oldest parcel in hand, those of the planned source first; where a source
    /// is planned without a parcel, out of no other source's.
    pub fn draw(&mut self, giving: Giving, said: From) -> Drawn {
        let Giving { colony, day, method, count } = giving;
        let source_of = |parcel: ParcelId| self.world.parcels.get(&parcel).and_then(|parcel| parcel.source);
        let drawn = match said {
            From::NotKnown => Drawn::default(),
            From::SourceAlone(source) => Drawn { parcel: None, source: Some(source) },
            From::Parcel(parcel) => Drawn { parcel: Some(parcel), source: source_of(parcel) },
            From::Source(source) => {
                let of_source = |parcel: &&Parcel| parcel.source == Some(source);
                let parcel = self.fitting(method, count, day).into_iter().find(of_source).map(|parcel| parcel.id);
                Drawn { parcel, source: Some(source) }
            }
            From::NotSaid => {
                let plan = open_plan_on(self.world, colony, day);
                let planned = plan.and_then(|plan| plan.parcel);
                let source = plan.and_then(|plan| plan.source).or_else(|| planned.and_then(source_of));
                let only_of_source = plan.is_some() && planned.is_none() && source.is_some();
                let fitting = self.fitting(method, count, day);
                let of_source = || fitting.iter().find(|parcel| source.is_some() && parcel.source == source);
                let oldest = || fitting.first().filter(|_| !only_of_source);
                let parcel =
                    fitting.iter().find(|parcel| Some(parcel.id) == planned).or_else(of_source).or_else(oldest);
                match parcel {
                    Some(parcel) => Drawn { parcel: Some(parcel.id), source: parcel.source },
                    None => Drawn { parcel: None, source },
                }
            }
        };
        if let Some(parcel) = drawn.parcel {
            self.take(parcel, count);
        }
        drawn
    }

    fn take(&mut self, parcel: ParcelId, count: u8) {
        let world = self.world;
        let left = self.left.get_or_insert_with(|| left_in_hand(world));
        if let Some(left) = left.get_mut(&parcel) {
            *left = left.saturating_sub(count.max(1).into());
        }
    }
}

/// What a parcel must hold to give from it by that method; nothing where it is never given out of a parcel.
pub fn kind_for(method: Method) -> Option<ParcelKind> {
    match method {
        Method::Caged | Method::PushIn => Some(ParcelKind::CagedQueens),
        Method::Cell => Some(ParcelKind::Cells),
        Method::Virgin => Some(ParcelKind::Virgins),
        Method::Nuc | Method::OwnRaising => None,
    }
}

/// The name of a parcel's source.
pub fn source_name<'a>(world: &'a World, parcel: &Parcel) -> &'a str {
    parcel.source.and_then(|id| world.sources.get(&id)).map_or("no source", |source| source.name.as_str())
}

/// `34 out of Thrift of 12 Nov, 4 stay in hand` after such givings; nothing where none is out of a parcel.
pub fn drawn_words(hand: &mut Hand<'_>, drawn: &[(Option<ParcelId>, u8)]) -> Option<String> {
    let world = hand.world();
    let mut counts: Vec<(ParcelId, u32)> = Vec::new();
    for (parcel, count) in drawn.iter().filter_map(|(parcel, count)| Some(((*parcel)?, u32::from(*count)))) {
        match counts.iter_mut().find(|(known, _)| *known == parcel) {
            Some((_, total)) => *total += count,
            None => counts.push((parcel, count)),
        }
    }
    let none = drawn.iter().filter(|(parcel, _)| parcel.is_none()).count();
    let one = |(parcel, count): &(ParcelId, u32)| {
        let parcel_of = world.parcels.get(parcel);
        let of =
            parcel_of.and_then(|parcel| parcel.arrived).map_or(String::new(), |day| format!(" of {}", day.short()));
        let name = format!("{}{of}", parcel_of.map_or("a parcel", |parcel| source_name(world, parcel)));
        let left = match hand.left(*parcel) {
            0 => "none stays in hand".to_owned(),
            1 => "1 stays in hand".to_owned(),
            left => format!("{left} stay in hand"),
        };
        format!("{count} out of {name}, {left}")
    };
    let mut said: Vec<String> = counts.iter().map(one).collect();
    if none > 0 && !said.is_empty() {
        said.push(format!("{none} out of no parcel"));
    }
    (!said.is_empty()).then(|| said.join("; "))
}
