//! Which hives and yards are shown, and the row of chips that says so.

use egui::{Id, Ui};

use crate::domain::day::Day;
use crate::domain::ids::SourceId;
use crate::domain::standing::{AgeClass, LidState, QueenNow};
use crate::domain::work::WorkState;
use crate::planner::outlook::ColonyView;
use crate::ui::scene::Scene;
use crate::ui::screens::map::words::FillBy;
use crate::ui::widgets::{MenuChip, parts};

/// Which due work a hive must have.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DueFilter {
    /// Any or none.
    #[default]
    Any,
    /// Some look or step is open today.
    Open,
    /// A look is open today.
    Looks,
    /// A step is open today.
    Steps,
    /// Something is late.
    Late,
    /// Something can be done on the chosen day.
    ChosenDay,
    /// Nothing is open today.
    Nothing,
}

impl DueFilter {
    const ALL: [Self; 7] =
        [Self::Any, Self::Open, Self::Looks, Self::Steps, Self::Late, Self::ChosenDay, Self::Nothing];

    fn words(self) -> &'static str {
        match self {
            Self::Any => "Any",
            Self::Open => "Due today",
            Self::Looks => "Looks",
            Self::Steps => "Steps",
            Self::Late => "Late",
            Self::ChosenDay => "On the chosen day",
            Self::Nothing => "Nothing",
        }
    }
}

/// Which source a hive's queen must be from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SourceFilter {
    /// Any or none.
    #[default]
    Any,
    /// This one.
    From(SourceId),
    /// It is not known.
    NotKnown,
}

/// Which yards are shown at all.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum YardFilter {
    /// All.
    #[default]
    All,
    /// Those with open work today.
    WithWork,
    /// Those under a bar.
    Barred,
    /// Those whose place is not known.
    NoPlace,
    /// Those of one hygiene group.
    Group(String),
}

/// What is shown.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Filters {
    /// By due work.
    pub due: DueFilter,
    /// By the queen's source.
    pub source: SourceFilter,
    /// By the lid.
    pub lid: Option<LidState>,
    /// By the queen's age.
    pub age: Option<AgeClass>,
    /// By the yard; far alone.
    pub yards: YardFilter,
}

impl Filters {
    /// Some hives may be hidden.
    pub fn hide_hives(&self) -> bool {
        Self { yards: YardFilter::All, ..self.clone() } != Self::default()
    }

    /// Whether a hive is shown. `day` is the chosen day.
    pub fn shows(&self, view: &ColonyView, day: Day, today: Day) -> bool {
        let work = &view.standing.work;
        let open = |looks: bool, steps: bool| {
            work.iter().any(|due| {
                due.window.state(today) != WorkState::Ahead && if due.kind.is_look() { looks } else { steps }
            })
        };
        let due = match self.due {
            DueFilter::Any => true,
            DueFilter::Open => open(true, true),
            DueFilter::Looks => open(true, false),
            DueFilter::Steps => open(false, true),
            DueFilter::Late => work.iter().any(|due| due.window.state(today) == WorkState::Late),
            DueFilter::ChosenDay => work.iter().any(|due| due.window.open_on(day)),
            DueFilter::Nothing => !open(true, true),
        };
        let from = match &view.standing.queen {
            QueenNow::Present(queen) => Some(queen.source),
            QueenNow::Waiting { .. } | QueenNow::Queenless { .. } => None,
        };
        let source = match self.source {
            SourceFilter::Any => true,
            SourceFilter::From(source) => from == Some(Some(source)),
            SourceFilter::NotKnown => from == Some(None),
        };
        due && source && self.lid.is_none_or(|lid| lid == view.lid) && self.age.is_none_or(|age| age == view.age)
    }
}

/// The first chip gets the keyboard in the next frame.
pub fn take_keyboard(ui: &Ui) {
    ui.data_mut(|data| data.insert_temp(wanted_id(), true));
    ui.request_repaint();
}

fn wanted_id() -> Id {
    Id::unique("the filters want the keyboard")
}

/// The chips. `groups`: the hygiene groups for the filter of yards, from afar alone; `narrow`: without captions and the
/// rarer ones.
pub fn chips(
    ui: &mut Ui,
    scene: &Scene,
    fill: &mut FillBy,
    filters: &mut Filters,
    groups: Option<&[String]>,
    narrow: bool,
) {
    ui.spacing_mut().item_spacing.x = 8.0;
    let fills = FillBy::ALL.map(FillBy::words);
    let wanted = ui.data_mut(|data| data.remove_temp::<bool>(wanted_id())).is_some();
    let picked = if narrow {
        MenuChip::new("Fill", fill.words()).take_keyboard(wanted).show(ui, &fills)
    } else {
        parts::caption(ui, "Fill shows");
        let picked = MenuChip::unnamed("Fill shows", fill.words()).take_keyboard(wanted).show(ui, &fills);
        ui.add_space(8.0);
        parts::caption(ui, "Show only");
        picked
    };
    if let Some(by) = picked.and_then(|at| FillBy::ALL.get(at)) {
        *fill = *by;
    }
    if let Some(due) = MenuChip::new("Due", filters.due.words())
        .in_force(filters.due != DueFilter::Any)
        .show(ui, &DueFilter::ALL.map(DueFilter::words))
        .and_then(|at| DueFilter::ALL.get(at))
    {
        filters.due = *due;
    }
    source_chip(ui, scene, filters);
    let lids: Vec<(Option<LidState>, String)> = std::iter::once((None, "Any".to_owned()))
        .chain(LidState::ALL.into_iter().map(|lid| (Some(lid), sentence(lid.words()))))
        .collect();
    pick(ui, "Lid", &lids, &mut filters.lid);
    let ages: Vec<(Option<AgeClass>, String)> = std::iter::once((None, "Any".to_owned()))
        .chain(AgeClass::ALL.into_iter().map(|age| (Some(age), sentence(age.words()))))
        .collect();
    pick(ui, "Age", &ages, &mut filters.age);
    if let Some(groups) = groups.filter(|_| !narrow) {
        let mut yards = vec![
            (YardFilter::All, "All".to_owned()),
            (YardFilter::WithWork, "With due work".to_owned()),
            (YardFilter::Barred, "Barred".to_owned()),
            (YardFilter::NoPlace, "Without a place".to_owned()),
        ];
        let named = groups.iter().map(|group| (YardFilter::Group(group.clone()), format!("Group {group}")));
        yards.extend(named);
        pick(ui, "Yards", &yards, &mut filters.yards);
    }
}

fn source_chip(ui: &mut Ui, scene: &Scene, filters: &mut Filters) {
    let mut sources = vec![(SourceFilter::Any, "Any".to_owned())];
    sources.extend(scene.world.sources.values().map(|it| (SourceFilter::From(it.id), it.name.clone())));
    sources.push((SourceFilter::NotKnown, "Not known".to_owned()));
    pick(ui, "Source", &sources, &mut filters.source);
}

/// A chip with a menu of values.
fn pick<T: Clone + PartialEq>(ui: &mut Ui, name: &str, entries: &[(T, String)], value: &mut T) {
    let words: Vec<&str> = entries.iter().map(|(_, words)| words.as_str()).collect();
    let current = entries.iter().position(|(it, _)| it == value).and_then(|at| words.get(at)).copied().unwrap_or("Any");
    let in_force = entries.first().is_some_and(|(usual, _)| usual != value);
    let chip = MenuChip::new(name, current).in_force(in_force);
    if let Some((picked, _)) = chip.show(ui, &words).and_then(|at| entries.get(at)) {
        *value = picked.clone();
    }
}

/// The words with a capital at their head.
pub fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().collect::<String>() + letters.as_str())
}
