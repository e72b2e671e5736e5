//! What the screen shows of parcels and of the colonies that wait: worked out once a change.

use crate::domain::day::Day;
use crate::domain::ids::{ColonyId, ParcelId};
use crate::domain::in_hand::{Held, InHand, all_in_hand};
use crate::domain::parcel::{Parcel, ParcelKind};
use crate::domain::plan::{is_open, planned_from};
use crate::domain::standing::{Clock, ClockMark, LidState, Phase, QueenNow};
use crate::domain::work::{DueWork, Step, WorkKind};
use crate::domain::world::World;
use crate::planner::outlook::ColonyView;
use crate::ui::glyph::Fill;
use crate::ui::scene::Scene;

/// Days from the graft on which a mature cell is given. Common practice, no source.
const CELL_READY: i32 = 10;

/// Colonies set apart that are named one by one.
const NAMED: usize = 6;

/// Parcels and waiting colonies on a day.
#[derive(Clone, Debug, Default)]
pub(super) struct InHandModel {
    /// Parcels still awaited, or of which some are in hand.
    pub open: Vec<ParcelRow>,
    /// The others, newest first.
    pub closed: Vec<ParcelRow>,
    /// Colonies that wait for a queen, longest first.
    pub waiting: Vec<WaitingRow>,
    /// Colonies without a queen that are not offered one: they raise their own, or are barred for disease. In words.
    pub apart: Vec<String>,
    /// All in hand together.
    pub in_hand: u32,
}

/// One parcel.
#[derive(Clone, Debug)]
pub(super) struct ParcelRow {
    pub id: ParcelId,
    /// `Thrift, own`.
    pub from: String,
    /// `Thrift`.
    pub source: String,
    /// `24 caged queens`.
    pub what: String,
    pub sent: String,
    /// `Mon 23 Nov`, `due 14 Nov, promised 25 Nov`.
    pub arrived: String,
    /// Still awaited after its day.
    pub late: bool,
    pub dead: u32,
    pub hand: InHand,
    /// `today`, `4 days, warning`, `11 days, give now`; empty where none are in hand.
    pub held: String,
    pub awaited: bool,
    /// Open plans that name it.
    pub planned: u32,
    /// Of these, in how many hives the old queen is to be found again, and from when to when.
    pub to_find: Option<(usize, String)>,
    /// `Broom is late: dates moved from 14 to 25 Nov`; empty where it is not.
    pub late_words: String,
}

/// One colony that waits for a queen or lacks one.
#[derive(Clone, Debug)]
pub(super) struct WaitingRow {
    pub colony: ColonyId,
    pub name: String,
    pub yard: String,
    pub fill: Fill,
    pub lid: LidState,
    /// D in words; empty where it is not known.
    pub removed: String,
    /// `D+10`; empty where it is not known.
    pub clock: String,
    pub means: String,
    /// It waits too long.
    pub alarm: bool,
    /// `Broom, 25 Nov`, `none planned`.
    pub queen: String,
    days: i32,
}

impl WaitingRow {
    /// Her queen where there is little room: `25 Nov`, `none`; where she is from stands on the hive's card.
    pub fn queen_short(&self) -> &str {
        let day = self.queen.rsplit(", ").next().unwrap_or_default();
        day.strip_suffix(" planned").unwrap_or(day)
    }
}

impl InHandModel {
    /// Works everything out.
    pub fn of(scene: &Scene) -> Self {
        let hands = all_in_hand(&scene.world, scene.today);
        let mut model = Self::default();
        for (id, hand) in hands {
            let Some(parcel) = scene.world.parcels.get(&id) else { continue };
            let row = parcel_row(scene, parcel, hand);
            model.in_hand += hand.left;
            let is_open = !parcel.closed && (row.awaited || hand.left > 0);
            if is_open { model.open.push(row) } else { model.closed.push(row) }
        }
        let order = |row: &ParcelRow| {
            let parcel = scene.world.parcels.get(&row.id);
            let arrived = parcel.and_then(|it| it.arrived).map_or(0, |day| -day.number());
            let expected = parcel.and_then(Parcel::expected).map_or(i32::MAX, Day::number);
            (!row.late, row.awaited, arrived, expected, row.id)
        };
        model.open.sort_by_key(order);
        model.closed.sort_by_key(order);
        for (id, view) in &scene.outlook.colonies {
            if view.awaits_queen() {
                model.waiting.extend(waiting_row(scene, *id, view));
            }
        }
        model.apart = apart(scene);
        model.waiting.sort_by(|one, other| {
            (-one.days, &one.yard, &one.name, one.colony).cmp(&(-other.days, &other.yard, &other.name, other.colony))
        });
        model
    }

    /// `29 queens in hand.` and `4 held 4 days, 1 held 11. 7 colonies wait, 2 of them too long.`
    pub fn sentence(&self) -> (String, String) {
        let fact = match self.in_hand {
            0 => "Nothing in hand.".to_owned(),
            1 => "1 queen in hand.".to_owned(),
            many => format!("{many} queens in hand."),
        };
        let mut held = String::new();
        for row in self.open.iter().filter(|row| row.hand.held != Held::Fine) {
            let days = row.hand.held_days.unwrap_or(0);
            let gap = if held.is_empty() { "" } else { ", " };
            let unit = if held.is_empty() { " days" } else { "" };
            held.push_str(&format!("{gap}{} held {days}{unit}", row.hand.left));
        }
        if !held.is_empty() {
            held.push_str(". ");
        }
        let long = self.waiting.iter().filter(|row| row.alarm).count();
        let too_long = match (long, self.waiting.len()) {
            (0, _) => String::new(),
            (1, 1) => ", too long".to_owned(),
            (many, all) if many == all => ", all of them too long".to_owned(),
            (many, _) => format!(", {many} of them too long"),
        };
        let waiting = match self.waiting.len() {
            0 => "No colony waits".to_owned(),
            1 => "1 colony waits".to_owned(),
            many => format!("{many} colonies wait"),
        };
        (fact, format!("{held}{waiting}{too_long}."))
    }

    /// The row of a parcel, open or closed.
    pub fn parcel(&self, id: ParcelId) -> Option<&ParcelRow> {
        self.open.iter().chain(&self.closed).find(|row| row.id == id)
    }

    /// The parcel to give from first: of those in hand the one with most queens.
    pub fn first_to_give(&self) -> Option<ParcelId> {
        let arrived = self.open.iter().filter(|row| row.hand.left > 0);
        arrived.max_by_key(|row| (row.hand.left, row.id)).or(self.open.first()).map(|row| row.id)
    }
}

fn parcel_row(scene: &Scene, parcel: &Parcel, hand: InHand) -> ParcelRow {
    let (world, today) = (&*scene.world, scene.today);
    let source = parcel.source.and_then(|id| world.sources.get(&id));
    let name = source.map_or("not named".to_owned(), |source| source.name.clone());
    let own = if source.is_some_and(|source| source.own) { ", own" } else { "" };
    let awaited = parcel.arrived.is_none() && !parcel.closed;
    let late = awaited && (parcel.promised.is_some() || parcel.due.is_some_and(|due| due < today));
    ParcelRow {
        id: parcel.id,
        from: format!("{name}{own}"),
        source: name,
        what: format!("{} {}", parcel.count, kind_words(parcel.kind, parcel.count)),
        sent: parcel.sent.map_or(String::new(), |day| day.near(today)),
        arrived: arrived_words(world, parcel, today),
        late,
        dead: parcel.dead,
        hand,
        held: held_words(hand),
        awaited,
        planned: planned_from(world, parcel.id, &[]),
        to_find: to_find(scene, parcel.id),
        late_words: late_words(world, parcel, late, today),
    }
}

/// Hives with an open plan from this parcel where the old queen was not found: how many, and the days to find her.
fn to_find(scene: &Scene, parcel: ParcelId) -> Option<(usize, String)> {
    let plans = scene.world.plans.values().filter(|plan| plan.parcel == Some(parcel) && is_open(&scene.world, plan));
    let finds: Vec<&DueWork> = plans
        .filter_map(|plan| scene.outlook.colonies.get(&plan.colony))
        .filter_map(|view| view.standing.work.iter().find(|due| due.kind == WorkKind::Step(Step::FindOldQueen)))
        .collect();
    let first = finds.iter().map(|due| due.window.earliest).min()?;
    let last = finds.iter().filter_map(|due| due.window.latest).max();
    let until = last.map_or(String::new(), |last| format!(" to {}", last.near(scene.today)));
    Some((finds.len(), format!("{}{until}", first.near(scene.today))))
}

fn late_words(world: &World, parcel: &Parcel, late: bool, today: Day) -> String {
    if !late {
        return String::new();
    }
    let source = parcel.source.and_then(|id| world.sources.get(&id));
    let name = source.map_or("A parcel", |source| source.name.as_str());
    match (parcel.due, parcel.promised) {
        (Some(due), Some(promised)) => {
            format!("{name} is late: dates moved from {} to {}", due.near(today), promised.near(today))
        }
        _ => format!("{name} is late"),
    }
}

fn arrived_words(world: &World, parcel: &Parcel, today: Day) -> String {
    if let Some(arrived) = parcel.arrived {
        return if arrived.year() == today.year() { arrived.with_weekday() } else { arrived.near(today) };
    }
    if let (ParcelKind::Cells, Some(grafted), None) = (parcel.kind, parcel.grafted, parcel.promised) {
        let virgins = grafted.plus(world.settings.cell_is_virgin_after() + 1);
        return format!("ready {}, virgins from {}", grafted.plus(CELL_READY).near(today), virgins.near(today));
    }
    match (parcel.due, parcel.promised) {
        (Some(due), Some(promised)) => format!("due {}, promised {}", due.near(today), promised.near(today)),
        (None, Some(promised)) => format!("promised {}", promised.near(today)),
        (Some(due), None) if due < today => format!("due {}, not arrived", due.near(today)),
        (Some(due), None) => format!("due {}", due.near(today)),
        (None, None) => "awaited".to_owned(),
    }
}

fn held_words(hand: InHand) -> String {
    let Some(days) = hand.held_days.filter(|_| hand.left > 0) else { return String::new() };
    let said = match days {
        0 => "today".to_owned(),
        1 => "1 day".to_owned(),
        many => format!("{many} days"),
    };
    match hand.held {
        Held::Fine => said,
        Held::Warning => format!("{said}, warning"),
        Held::Alarm => format!("{said}, give now"),
    }
}

/// `caged queens`, `mature cell` …
pub(super) fn kind_words(kind: ParcelKind, count: u32) -> &'static str {
    match (kind, count) {
        (ParcelKind::CagedQueens, 1) => "caged queen",
        (ParcelKind::CagedQueens, _) => "caged queens",
        (ParcelKind::Cells, 1) => "mature cell",
        (ParcelKind::Cells, _) => "mature cells",
        (ParcelKind::Virgins, 1) => "virgin",
        (ParcelKind::Virgins, _) => "virgins",
    }
}

fn waiting_row(scene: &Scene, id: ColonyId, view: &ColonyView) -> Option<WaitingRow> {
    let colony = scene.world.colonies.get(&id)?;
    let yard = colony.yard().and_then(|yard| scene.world.yards.get(&yard));
    let standing = &view.standing;
    let since = match standing.queen {
        QueenNow::Waiting { since, .. } => Some(since),
        QueenNow::Queenless { since } => since,
        QueenNow::Present(_) => return None,
    };
    let since = standing.clock.as_ref().map(|clock| clock.since).or(since);
    let days = since.map(|since| scene.today.since(since));
    let plan = scene.world.plans_of(id).into_iter().rev().find(|plan| plan.called_off.is_none());
    let planned = matches!(standing.queen, QueenNow::Waiting { plan: Some(_), .. });
    let queen = match plan.filter(|_| planned) {
        Some(plan) => {
            let parcel = plan.parcel.and_then(|parcel| scene.world.parcels.get(&parcel));
            let source = plan.source.or(parcel.and_then(|parcel| parcel.source));
            let name = source.and_then(|source| scene.world.sources.get(&source)).map(|source| source.name.clone());
            let name = name.unwrap_or_else(|| plan.method.words().to_owned());
            format!("{name}, {}", plan.give_on.near(scene.today))
        }
        None => "none planned".to_owned(),
    };
    Some(WaitingRow {
        colony: id,
        name: colony.name().to_owned(),
        yard: yard.map_or(String::new(), |yard| yard.name.clone()),
        fill: if matches!(standing.queen, QueenNow::Waiting { .. }) { Fill::Waiting } else { Fill::Queenless },
        lid: view.lid,
        removed: since.map_or(String::new(), |since| since.near(scene.today)),
        clock: days.map_or(String::new(), |days| format!("D+{days}")),
        means: match &standing.clock {
            Some(clock) => means(clock, scene.today),
            None => "The day is not known: look first".to_owned(),
        },
        alarm: standing.clock.as_ref().is_some_and(|clock| clock.alarm),
        queen,
        days: days.unwrap_or(i32::MIN + 1),
    })
}

/// `3 raise their own: B03 look 8, 11, 18 Dec, K12, TM04`, `1 barred for disease: G07`.
fn apart(scene: &Scene) -> Vec<String> {
    let (mut raising, mut barred) = (Vec::new(), Vec::new());
    for (id, view) in scene.outlook.colonies.iter().filter(|(_, view)| view.lacks_queen() && !view.awaits_queen()) {
        let Some(colony) = scene.world.colonies.get(id) else { continue };
        if matches!(view.standing.phase, Phase::RaisingOwn { .. }) {
            let look = view.standing.work.iter().find(|due| due.kind.is_look());
            let look = look.map_or(String::new(), |due| format!(" look {}", due.window.words()));
            raising.push(format!("{}{look}", colony.name()));
        } else {
            barred.push(colony.name().to_owned());
        }
    }
    let several = raising.len() != 1;
    let said = [
        (if several { "raise their own" } else { "raises its own" }, raising),
        ("barred for disease, never requeened", barred),
    ];
    let words = |(what, mut names): (&str, Vec<String>)| {
        names.sort();
        let more = names.len().saturating_sub(NAMED);
        let first = names.get(..NAMED).unwrap_or(&names).join("; ");
        let rest = if more == 0 { String::new() } else { format!(" and {more} more") };
        (!names.is_empty()).then(|| format!("{} {what}: {first}{rest}.", names.len()))
    };
    said.into_iter().filter_map(words).collect()
}

/// What the clock means today, in one line.
pub(super) fn means(clock: &Clock, today: Day) -> String {
    // That they are queenless is what the table is about.
    let asks = clock.asks.trim_end_matches('.').replace("hopelessly queenless, ", "");
    let due = clock.alarm || asks.starts_with("Due now");
    let passed = passed(clock, today);
    // What was looked for and found, or not, is no longer to be looked for.
    let looked = |mark: &ClockMark| mark.note.starts_with("found") || mark.note.starts_with("looked");
    if let Some(mark) = passed.filter(|mark| due && !looked(mark)) {
        return mark.words.clone();
    }
    if passed.is_some() {
        return asks.split(". ").next().map_or(String::new(), str::to_owned);
    }
    let virgin = clock.marks.iter().find(|mark| mark.words.starts_with("Own virgin"));
    virgin.map_or(asks, |mark| format!("Own virgin from {}", mark.day.near(today)))
}

/// What the clock will mean on a later day, as `D+12: own virgin may be out: look first`.
pub(super) fn means_on(clock: &Clock, day: Day) -> String {
    let days = day.since(clock.since);
    match passed(clock, day) {
        Some(mark) => format!("D+{days}: {}", lower(&mark.words)),
        None => format!("D+{days}"),
    }
}

/// The last threshold that is passed by that day and holds: once all cells are cut late enough, no later one counts; and
/// that all are cut counts only where they are.
fn passed(clock: &Clock, day: Day) -> Option<&ClockMark> {
    let is_cut = |mark: &&ClockMark| mark.words.starts_with("All cells cut");
    let done = |mark: &&ClockMark| mark.note.starts_with("done") || mark.note.starts_with("none seen");
    let reached = || clock.marks.iter().rev().filter(|mark| mark.day <= day && mark.days > 0);
    let cut = reached().find(|mark| is_cut(mark) && done(mark));
    let workers = reached().next().filter(|mark| mark.words.starts_with("Laying workers"));
    workers.or(cut).or_else(|| reached().find(|mark| !is_cut(mark)))
}

fn lower(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_lowercase().chain(letters).collect())
}
