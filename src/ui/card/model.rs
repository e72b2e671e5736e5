//! What a hive's card says, read off the world: pure, made anew only when the world or the day changes.

use std::sync::Arc;

use crate::domain::bar::{Bar, BarKind};
use crate::domain::capital::capital;
use crate::domain::colony::Colony;
use crate::domain::day::Day;
use crate::domain::grammar::describe::origin_words;
use crate::domain::ids::{BarId, ColonyId, QueenId, RecordId};
use crate::domain::plan::{Plan, open_plan};
use crate::domain::queen::Dot;
use crate::domain::standing::age::age_words;
use crate::domain::standing::{Clock, Identity, Laying, LidState, Phase, QueenFacts, QueenNow, Standing};
use crate::domain::visit::Method;
use crate::domain::work::{DueWork, Look, Step, WorkKind, WorkState};
use crate::domain::world::World;
use crate::domain::yard::Layout;
use crate::planner::outlook::ColonyView;
use crate::ui::card::history::{self, Row};
use crate::ui::glyph::Fill;
use crate::ui::scene::Scene;

/// Everything a card shows of one colony.
#[derive(Clone, Debug)]
pub(crate) struct Card {
    pub name: String,
    /// `Called H3 to 2 Oct.`; empty where it had no other name.
    pub former: String,
    /// `Broom Flat, row 2, place 4`.
    pub place: String,
    /// The colony's note; may be empty.
    pub note: String,
    pub fill: Fill,
    pub lid: LidState,
    /// `B14, first season, due`.
    pub glyph_name: String,
    /// How and when it ended, if it has.
    pub ended: Option<String>,
    pub queen: Queen,
    pub warnings: Vec<Warning>,
    pub due: Vec<Due>,
    pub clock: Option<Clock>,
    /// Queenless on purpose.
    pub awaited: bool,
    /// The question which queen another queen was.
    pub which: Option<Which>,
    /// A plan to give her a queen is open.
    pub planned: bool,
    pub view: Arc<ColonyView>,
    pub history: Vec<Row>,
}

/// The block about the queen.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Queen {
    pub dot: Option<Dot>,
    /// `dot white`, `none, on purpose`.
    pub right: String,
    pub rows: Vec<Fact>,
}

/// A caption and what stands beside it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Fact {
    pub caption: &'static str,
    pub words: String,
    /// It is late.
    pub late: bool,
}

/// A flag or a bar.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Warning {
    pub fact: String,
    pub what_to_do: String,
    pub barred: bool,
    /// How it can be lifted.
    pub lift: Option<Lift>,
}

/// What has to be lifted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Lift {
    /// A bar set by hand.
    Set(BarId),
    /// A bar that follows from a find.
    Found,
}

/// One piece of due work.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Due {
    pub title: String,
    pub state: WorkState,
    /// `Open, 5 days left`.
    pub state_words: String,
    pub look_for: String,
    pub why: String,
    /// `21, 24, 28 Nov`.
    pub days: String,
    /// The line it is drawn on; nothing where it has no latest day.
    pub line: Option<Line>,
}

/// The marks of a day line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Line {
    pub start: (Day, String),
    pub earliest: (Day, String),
    pub best: (Day, String),
    pub latest: (Day, String),
    pub today: (Day, String),
}

/// Which queen was it?
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Which {
    pub record: RecordId,
    pub seen: Day,
    pub words: String,
}

/// The card of a colony; nothing for one that is not there.
pub(crate) fn card(scene: &Scene, id: ColonyId) -> Option<Card> {
    let world = &*scene.world;
    let today = scene.today;
    let colony = world.colonies.get(&id)?;
    let view = match scene.outlook.colonies.get(&id) {
        Some(view) => Arc::clone(view),
        None => Arc::new(ColonyView::of(world, id, today)?),
    };
    let standing = &view.standing;
    let (fill, lid) = (Fill::from(view.age), view.lid);
    let which = standing.which.map(|question| {
        let hers =
            question.last_hers.map_or(String::new(), |day| format!("; the recorded queen last {}", day.near(today)));
        let words = format!("Another queen was seen {}{hers}.", question.seen.near(today));
        Which { record: question.record, seen: question.seen, words }
    });
    Some(Card {
        name: colony.name().to_owned(),
        former: former_words(colony, today),
        place: place_words(world, colony),
        note: colony.note.clone(),
        fill,
        lid,
        glyph_name: format!("{}, {}, {}", colony.name(), view.age.words(), lid.words()),
        ended: colony
            .ended
            .as_ref()
            .map(|end| format!("{} {}.", history::ended_words(world, end), end.day.near(today))),
        queen: queen(world, id, standing, today),
        warnings: warnings(world, colony, standing, today),
        due: standing.work.iter().map(|work| due(work, today)).collect(),
        clock: standing.clock.clone(),
        awaited: matches!(standing.queen, QueenNow::Waiting { .. }),
        which,
        planned: open_plan(world, id).is_some(),
        history: history::rows(world, id, today),
        view,
    })
}

/// `Called H3 to 2 Oct, H7 to 5 Nov.`; empty where it had no other name.
fn former_words(colony: &Colony, today: Day) -> String {
    let spans = colony.names.windows(2).rev().filter_map(|pair| {
        let [earlier, later] = pair else { return None };
        Some(format!("{} to {}", earlier.name, later.from.near(today)))
    });
    let spans: Vec<String> = spans.collect();
    if spans.is_empty() { String::new() } else { format!("Called {}.", spans.join(", ")) }
}

/// `Broom Flat, row 2, place 4`.
pub(crate) fn place_words(world: &World, colony: &Colony) -> String {
    let Some(yard) = colony.yard().and_then(|yard| world.yards.get(&yard)) else {
        return "no yard known".to_owned();
    };
    let spot = colony.spot().map_or(String::new(), |spot| match yard.layout {
        Layout::Rows => format!(", row {}, place {}", spot.row, spot.place),
        Layout::Pallets => format!(", pallet {}, corner {}", spot.row, spot.place),
    });
    format!("{}{spot}", yard.name)
}

fn queen(world: &World, colony: ColonyId, standing: &Standing, today: Day) -> Queen {
    let fact = |caption, words: String| Fact { caption, words, late: false };
    match &standing.queen {
        QueenNow::Present(facts) => {
            let mut rows = vec![fact("Identity", identity(standing, facts, today))];
            if let Laying::Since(day) = standing.laying {
                rows.push(fact("Laying", format!("since about {}", day.near(today))));
            }
            rows.push(fact("Age", age_words(facts.birth, &world.firm, &world.settings, today)));
            rows.push(fact("From", from(world, standing, facts)));
            if let Some((temper, day)) = standing.temper {
                rows.push(fact("Temper", temper_words(temper, day, standing.temper_from, today)));
            }
            let right = facts.dot.map_or("no dot known".to_owned(), |dot| format!("dot {}", dot.name()));
            Queen { dot: facts.dot, right, rows }
        }
        QueenNow::Waiting { since, plan } => {
            let mut rows = Vec::new();
            match plan.and_then(|plan| world.plans.get(&plan)) {
                Some(plan) => rows.push(her_queen(world, plan, today)),
                None => rows.push(fact("Her queen", format!("none planned; without one since {}", since.near(today)))),
            }
            let raising = matches!(standing.phase, Phase::RaisingOwn { .. });
            let right = if raising { "none yet, raising her own" } else { "none, on purpose" };
            Queen { dot: None, right: right.to_owned(), rows }
        }
        QueenNow::Queenless { since } => {
            let plan = open_plan(world, colony);
            let mut rows: Vec<Fact> = Vec::new();
            if let Phase::Failed { on, how, .. } = &standing.phase {
                rows.push(fact("Failed", format!("{}, {how}", on.near(today))));
            } else if let Some(since) = since {
                rows.push(fact("Since", since.near(today)));
            }
            rows.extend(plan.map(|plan| her_queen(world, plan, today)));
            Queen { dot: None, right: "none".to_owned(), rows }
        }
    }
}

impl Card {
    /// A brood disease is suspected: no queen is offered.
    pub(crate) fn is_suspected(&self) -> bool {
        self.ended.is_none() && self.view.standing.is_suspected()
    }

    /// The recorded queen.
    pub(crate) fn queen_id(&self) -> Option<QueenId> {
        match &self.view.standing.queen {
            QueenNow::Present(facts) => facts.queen,
            QueenNow::Waiting { .. } | QueenNow::Queenless { .. } => None,
        }
    }
}

/// `Broom, caged. Due 14 Nov, promised 25 Nov`.
fn her_queen(world: &World, plan: &Plan, today: Day) -> Fact {
    let source = plan.source.and_then(|source| world.sources.get(&source));
    let source = source.map_or(String::new(), |source| format!("{}, ", source.name));
    let first = plan.moved.first().map_or(plan.give_on, |moved| moved.from);
    let promised =
        if plan.give_on > first { format!(", promised {}", plan.give_on.near(today)) } else { String::new() };
    let words = format!("{source}{}. Due {}{promised}", plan.method.words(), first.near(today));
    Fact { caption: "Her queen", words, late: !promised.is_empty() || plan.give_on < today }
}

/// Identity is the last sighting of the recorded queen.
fn identity(standing: &Standing, facts: &QueenFacts, today: Day) -> String {
    let given = match standing.introduced.as_ref().filter(|it| Some(it.queen) == facts.queen) {
        Some(introduced) => format!("given {}, ", introduced.day0.near(today)),
        None => String::new(),
    };
    match standing.identity {
        Identity::Seen(day) => format!("seen {}", day.near(today)),
        Identity::Unconfirmed if given.is_empty() => "not seen since she was recorded".to_owned(),
        Identity::Unconfirmed => format!("{given}not seen since"),
        Identity::Another(day) if standing.which.is_some() => format!("another queen seen {}", day.near(today)),
        Identity::Another(day) => format!("not recorded, seen {}", day.near(today)),
        Identity::NotRecorded => "no queen recorded".to_owned(),
    }
}

/// `Thrift, own line; caged mated queen`.
fn from(world: &World, standing: &Standing, facts: &QueenFacts) -> String {
    let source = facts.source.and_then(|source| world.sources.get(&source));
    let source =
        source.map(
            |source| {
                if source.own { format!("{}, own line", source.name) } else { format!("{}, breeder", source.name) }
            },
        );
    let introduced = standing.introduced.as_ref().filter(|it| Some(it.queen) == facts.queen);
    let how = introduced.map_or_else(|| origin_words(facts.origin), |introduced| method_words(introduced.method));
    match source {
        Some(source) => format!("{source}; {how}"),
        None => how.to_owned(),
    }
}

fn method_words(method: Method) -> &'static str {
    match method {
        Method::Caged => "caged mated queen",
        Method::PushIn => "mated queen under a push-in cage",
        Method::Cell => "mature cell",
        Method::Virgin => "virgin",
        Method::Nuc => "nuc united",
        Method::OwnRaising => "raised by the colony",
    }
}

fn temper_words(temper: u8, day: Day, hers_from: Option<Day>, today: Day) -> String {
    let hers = match hers_from {
        Some(from) if from > day => format!("; hers from {}", from.near(today)),
        _ => String::new(),
    };
    format!("{temper} of 4, {}{hers}", day.near(today))
}

fn warnings(world: &World, colony: &Colony, standing: &Standing, today: Day) -> Vec<Warning> {
    let mut warnings = Vec::new();
    if let Phase::DiseaseSuspected { on } = standing.phase {
        warnings.push(Warning {
            fact: format!("Brood disease suspected {}.", on.near(today)),
            what_to_do: "Stop and close it. Isolate the yard's gear, report under the local rules. Never requeen it, \
                         never move gear or frames from it."
                .to_owned(),
            barred: false,
            lift: None,
        });
    }
    for bar in &standing.bars {
        let until = bar.until.map_or(String::new(), |until| format!(" Until {}.", until.near(today)));
        let permit = bar.permit.as_ref().map_or(String::new(), |permit| format!(" Permit {permit}."));
        let reason = if bar.reason.is_empty() { String::new() } else { format!("{}.", capital(&bar.reason)) };
        let all = bar.methods.is_empty() || bar.methods.len() >= Method::ALL.len();
        let methods = if all { String::new() } else { format!(" No {}.", list_methods(&bar.methods)) };
        let soft = if bar.kind.is_soft() { " A plan can still be made, if you say so." } else { "" };
        warnings.push(Warning {
            fact: format!("Barred since {}: {}.", bar.from.near(today), bar.kind.words()),
            what_to_do: format!("{reason}{until}{permit}{methods}{soft}").trim().to_owned(),
            barred: true,
            lift: match bar.bar {
                Some(bar) => Some(Lift::Set(bar)),
                None if bar.kind == BarKind::Season => None,
                None => Some(Lift::Found),
            },
        });
    }
    let mut ahead = world.bars_of(colony);
    ahead.retain(|bar| bar.is_ahead(today) && colony.ended.is_none());
    ahead.sort_by_key(|bar| (bar.from, bar.id));
    for bar in ahead {
        warnings.push(ahead_warning(bar, today));
    }
    for flag in &standing.flags {
        let fact = if flag.ends_with('.') { flag.clone() } else { format!("{flag}.") };
        warnings.push(Warning { fact, what_to_do: String::new(), barred: false, lift: None });
    }
    warnings
}

/// A bar that is to begin: it can be called off already.
fn ahead_warning(bar: &Bar, today: Day) -> Warning {
    let until = bar.until.map_or(String::new(), |until| format!(" Until {}.", until.near(today)));
    let reason = if bar.reason.is_empty() { String::new() } else { format!("{}.", capital(&bar.reason)) };
    Warning {
        fact: format!("Barred from {}: {}.", bar.from.near(today), bar.kind.words()),
        what_to_do: format!("{reason}{until}").trim().to_owned(),
        barred: true,
        lift: Some(Lift::Set(bar.id)),
    }
}

fn list_methods(methods: &[Method]) -> String {
    methods.iter().map(|method| method.words()).collect::<Vec<_>>().join(", ")
}

fn due(work: &DueWork, today: Day) -> Due {
    let window = work.window;
    let state = window.state(today);
    Due {
        title: format!("Due: {}", work.kind.words()),
        state,
        state_words: state_words(work, today),
        look_for: work.look_for.clone(),
        why: work.why.clone(),
        days: window.words(),
        line: line(work, today),
    }
}

/// `Open, 5 days left`, `Late by 2 days`, `From 21 Nov`.
pub(crate) fn state_words(work: &DueWork, today: Day) -> String {
    let days = |count: i32| if count == 1 { "1 day".to_owned() } else { format!("{count} days") };
    match (work.window.state(today), work.window.latest) {
        (WorkState::Ahead, _) => format!("From {}", work.window.earliest.near(today)),
        (WorkState::Open, None) => "Open".to_owned(),
        (WorkState::Open, Some(latest)) if latest == today => "Open, last day".to_owned(),
        (WorkState::Open, Some(latest)) => format!("Open, {} left", days(latest.since(today))),
        (WorkState::Late, latest) => format!("Late by {}", days(today.since(latest.unwrap_or(today)))),
    }
}

fn line(work: &DueWork, today: Day) -> Option<Line> {
    let window = work.window;
    let latest = window.latest?;
    let start = work.counted_from;
    // A line of months would squeeze the window to nothing.
    if today.since(start) > 120 || start > window.earliest {
        return None;
    }
    let given = match work.kind {
        WorkKind::Look(Look::Acceptance | Look::FirstBrood | Look::Verdict) => work.method != Some(Method::OwnRaising),
        WorkKind::Step(Step::CageOff) => true,
        _ => false,
    };
    let start_words = match given {
        _ if start == window.earliest => String::new(),
        true => format!("In {}", start.short()),
        false => format!("From {}", start.short()),
    };
    let day = if today < start { String::new() } else { format!(", day {}", today.since(start)) };
    let beside = |day: Day| {
        let same = (day.year(), day.month()) == (window.best.year(), window.best.month());
        if same { day.day_of_month().to_string() } else { day.short() }
    };
    let now = if (today.year(), today.month()) == (window.best.year(), window.best.month()) {
        today.day_of_month().to_string()
    } else {
        today.short()
    };
    Some(Line {
        start: (start, start_words),
        earliest: (window.earliest, beside(window.earliest)),
        best: (window.best, window.best.short()),
        latest: (latest, beside(latest)),
        today: (today, format!("today {now}{day}")),
    })
}

#[cfg(test)]
mod tests {
    use super::{Line, due};
    use crate::domain::day::Day;
    use crate::domain::ids::ColonyId;
    use crate::domain::visit::Method;
    use crate::domain::work::{DueWork, Look, Step, Window, WorkKind};

    fn day(iso: &str) -> Day {
        Day::from_iso(iso).expect("a day")
    }

    fn work(kind: WorkKind, from: &str, window: Window) -> DueWork {
        DueWork {
            colony: ColonyId::from_number(1),
            kind,
            window,
            counted_from: day(from),
            method: Some(Method::Caged),
            plan: None,
            why: String::new(),
            look_for: String::new(),
        }
    }

    #[test]
    fn due_work_says_how_many_days_are_left_or_gone() {
        let look = WorkKind::Look(Look::Acceptance);
        let look = work(look, "2026-11-14", Window::after(day("2026-11-14"), 7, 10, 14));
        let on = |iso: &str| due(&look, day(iso)).state_words;
        assert_eq!(on("2026-11-20"), "From 21 Nov");
        assert_eq!(on("2026-11-23"), "Open, 5 days left");
        assert_eq!(on("2026-11-27"), "Open, 1 day left");
        assert_eq!(on("2026-11-28"), "Open, last day");
        assert_eq!(on("2026-11-29"), "Late by 1 day");
        let mark = WorkKind::Step(Step::Mark);
        let open = Window { earliest: day("2026-11-20"), best: day("2026-11-20"), latest: None };
        let mark = due(&work(mark, "2026-11-20", open), day("2026-12-30"));
        assert_eq!((mark.state_words.as_str(), mark.line), ("Open", None), "never late, so no line");
    }

    #[test]
    fn a_day_line_names_the_month_where_it_differs() {
        let look = WorkKind::Look(Look::FirstBrood);
        let window = Window::after(day("2026-11-14"), 14, 15, 18);
        let line: Line = due(&work(look, "2026-11-14", window), day("2026-11-23")).line.expect("a line");
        assert_eq!(line.start.1, "In 14 Nov");
        assert_eq!((line.earliest.1.as_str(), line.best.1.as_str()), ("28", "29 Nov"));
        assert_eq!((line.latest.1.as_str(), line.today.1.as_str()), ("2 Dec", "today 23, day 9"));
        let give = WorkKind::Step(Step::Give);
        let window = Window::after(day("2026-11-25"), 0, 0, 1);
        let line = due(&work(give, "2026-11-25", window), day("2026-11-23")).line.expect("a line");
        assert_eq!((line.start.1.as_str(), line.today.1.as_str()), ("", "today 23"));
    }
}
