//! Queens, cells or virgins given to several hives, or planned for them.

use egui::Ui;

use crate::domain::change::{Change, Occasion};
use crate::domain::day::Day;
use crate::domain::day_words::{DateOrder, Lean, read_day};
use crate::domain::ids::{ParcelId, PlanId, QueenId, RecordId, SourceId};
use crate::domain::in_hand::draw::{From, Giving, Hand, drawn_words, kind_for, source_name};
use crate::domain::in_hand::queen::{birth_of_given, emerged_of_given, origin_by_method};
use crate::domain::parcel::Parcel;
use crate::domain::plan::{Plan, replan};
use crate::domain::queen::{Queen, Source};
use crate::domain::standing::bars::plan_allowed;
use crate::domain::standing::windows::{default_dequeened, looks_for};
use crate::domain::standing::{Phase, QueenNow};
use crate::domain::visit::{Did, Given, Method, OldQueen, Visit};
use crate::ui::given_from::{hand, in_hand_words, source_alone_words};
use crate::ui::scene::Scene;
use crate::ui::screens::map::filter::sentence;
use crate::ui::screens::map::many::acts::{Ground, Meant, Mint};
use crate::ui::screens::map::many::dated::{COLUMN, choices, day_field, in_column, initials, maybe_day, visit};
use crate::ui::widgets::{Field, MenuChip};

/// What becomes of the old queens.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Old {
    #[default]
    Removed,
    AsRecorded,
    NotFound,
}

/// Queens are given, or it is planned.
#[derive(Clone, Debug, PartialEq)]
pub struct Give {
    method: Method,
    from: From,
    day: String,
    old: Old,
    /// Cells given to each.
    cells: String,
    /// The day the virgins emerged, where it is known.
    emerged: String,
    by: String,
    overrule: bool,
}

impl Give {
    /// Caged queens today.
    pub fn new(by: String) -> Self {
        Self {
            method: Method::Caged,
            from: From::NotSaid,
            day: "today".to_owned(),
            old: Old::Removed,
            cells: "1".to_owned(),
            emerged: String::new(),
            by,
            overrule: false,
        }
    }

    /// The day lies ahead, so it is planned.
    pub fn is_ahead(&self, today: Day) -> bool {
        read_day(&self.day, today, DateOrder::DayMonth, Lean::Nearest).is_ok_and(|day| day > today)
    }

    /// What it would do.
    pub fn meant(&self, ground: &Ground<'_>, mint: Mint<'_>) -> Meant {
        let day = match ground.day(&self.day, Lean::Nearest) {
            Ok(day) => day,
            Err(why) => return Meant::trouble(why),
        };
        if day > ground.scene.today { self.planned(ground, day, mint) } else { self.given(ground, day, mint) }
    }

    /// What a plan names: the source and the parcel.
    fn source(&self, scene: &Scene) -> (Option<SourceId>, Option<ParcelId>) {
        match self.from {
            From::NotSaid | From::NotKnown => (None, None),
            From::Source(source) | From::SourceAlone(source) => (Some(source), None),
            From::Parcel(parcel) => (scene.world.parcels.get(&parcel).and_then(|it| it.source), Some(parcel)),
        }
    }

    fn planned(&self, ground: &Ground<'_>, day: Day, mint: Mint<'_>) -> Meant {
        let scene = ground.scene;
        let mut meant = Meant::default();
        let (source, parcel) = self.source(scene);
        let mut plans = Vec::new();
        let mut soft = 0;
        for id in ground.there_on(day, &mut meant.left_out) {
            let Some(view) = scene.outlook.colonies.get(&id) else { continue };
            if let Err(bar) = plan_allowed(&scene.world, id, self.method, day, self.overrule) {
                soft += usize::from(bar.kind.is_soft());
                meant.left_out.push((ground.name(id), format!("barred: {}", bar.kind.words())));
                continue;
            }
            if let Phase::RaisingOwn { since } = &view.standing.phase {
                meant.left_out.push((ground.name(id), format!("raising its own since {}", since.near(scene.today))));
                continue;
            }
            if let Phase::Introduced(now) = &view.standing.phase {
                let why = format!("{} in since {}", now.method.words(), now.day0.near(scene.today));
                meant.left_out.push((ground.name(id), why));
                continue;
            }
            let has_queen = matches!(view.standing.queen, QueenNow::Present(_));
            let dequeen_on = (has_queen && self.old == Old::Removed)
                .then(|| default_dequeened(&scene.world.settings, self.method, day).max(scene.today));
            plans.push(Plan {
                id: PlanId(mint()),
                colony: id,
                method: self.method,
                source,
                parcel,
                give_on: day,
                dequeen_on,
                made: scene.today,
                called_off: None,
                moved: Vec::new(),
            });
        }
        meant.count = plans.len();
        let dequeens = plans.iter().filter_map(|plan| plan.dequeen_on).min();
        meant.says.push(format!("Steps to give on {}.", day.near(scene.today)));
        if let Some(on) = dequeens {
            meant.says.push(format!("Steps to dequeen on {} where there is a queen.", on.near(scene.today)));
        }
        if soft > 0 {
            meant.says.push("Soft bars can be overruled below.".to_owned());
        }
        if plans.is_empty() {
            meant.trouble = Some("None of them can have one on that day. Choose others or another day.".to_owned());
        } else {
            let title = format!("{} introductions planned for {}", plans.len(), day.near(scene.today));
            let made = replan(&scene.world, plans, self.overrule, scene.today, "moved", title);
            meant.says.extend(has_plans(made.moved, "moved to that day"));
            meant.says.extend(has_plans(made.called_off, "called off for this one"));
            meant.change = Some(made.change);
        }
        meant
    }

    /// Cells given to each hive: one of everything else.
    fn each(&self) -> Result<u8, String> {
        if self.method != Method::Cell {
            return Ok(1);
        }
        let read = self.cells.trim().parse().ok().filter(|cells| (1..=20).contains(cells));
        read.ok_or_else(|| "The number of cells is not understood. Give a number from 1 to 20.".to_owned())
    }

    /// The day the virgins emerged, where it is typed.
    fn emerged(&self, day: Day) -> Result<Option<Day>, String> {
        if self.method != Method::Virgin || self.emerged.trim().is_empty() {
            return Ok(None);
        }
        read_day(&self.emerged, day, DateOrder::DayMonth, Lean::Back).map(Some).map_err(|error| format!("{error}."))
    }

    fn given(&self, ground: &Ground<'_>, day: Day, mint: Mint<'_>) -> Meant {
        let scene = ground.scene;
        let (each, typed_emerged) = match self.each().and_then(|each| Ok((each, self.emerged(day)?))) {
            Ok(read) => read,
            Err(why) => return Meant::trouble(why),
        };
        let mut meant = Meant::default();
        let hives = ground.there_on(day, &mut meant.left_out);
        let mut hand = Hand::of(&scene.world);
        if let From::Parcel(parcel) = self.from
            && (hand.left(parcel) as usize) < hives.len() * usize::from(each)
        {
            let left = hand.left(parcel);
            let are = if left == 1 { "is" } else { "are" };
            let wanted = match each {
                1 => format!("{} hives are chosen", hives.len()),
                each => format!("{} hives take {each} each", hives.len()),
            };
            meant.trouble = Some(format!("{left} {are} in hand, {wanted}. Leave some out."));
            return meant;
        }
        let (mut out_of, mut emerged_first) = (Vec::new(), None);
        let (mut visits, mut queens) = (Vec::new(), Vec::new());
        let mut against = 0;
        for id in hives {
            let view = scene.outlook.colonies.get(&id);
            let has_queen = view.is_some_and(|view| matches!(view.standing.queen, QueenNow::Present(_)));
            let bars = view.map_or(&[][..], |view| view.standing.bars.as_slice());
            let bar = bars.iter().find(|bar| bar.forbids(self.method));
            against += usize::from(bar.is_some());
            let drawn = hand.draw(Giving { colony: id, day, method: self.method, count: each }, self.from);
            out_of.push((drawn.parcel, each));
            emerged_first = emerged_first.or(emerged_of_given(&scene.world, drawn.parcel, typed_emerged));
            let told = drawn.parcel.and_then(|parcel| scene.world.parcels.get(&parcel));
            let queen = QueenId(mint());
            queens.push(Queen {
                id: queen,
                birth: birth_of_given(&scene.world.settings, told, self.method, day, typed_emerged),
                origin: origin_by_method(self.method),
                source: drawn.source,
                dot: told.and_then(|parcel| parcel.dot),
                words: String::new(),
            });
            let removed = has_queen && self.old == Old::Removed;
            let old_queen = match self.old {
                Old::Removed if has_queen => {
                    OldQueen::RemovedOn(default_dequeened(&scene.world.settings, self.method, day))
                }
                Old::NotFound => OldQueen::NotFound,
                Old::Removed | Old::AsRecorded => OldQueen::AsRecorded,
            };
            let same_day = old_queen == OldQueen::RemovedOn(day);
            let did =
                Did { dequeened: removed && same_day, queen_not_found: self.old == Old::NotFound, ..Did::default() };
            let gave = Some(Given {
                method: self.method,
                queen,
                parcel: drawn.parcel,
                old_queen,
                emerged: typed_emerged,
                cells: each,
                against_bar: bar.map(|bar| bar.kind.words().to_owned()),
            });
            visits.push(visit(RecordId(mint()), id, day, &self.by, Visit { did, gave, ..Visit::default() }));
        }
        meant.count = visits.len();
        let since = default_dequeened(&scene.world.settings, self.method, day);
        for (kind, window) in looks_for(&scene.world.settings, self.method, day, Some(since), emerged_first) {
            meant.says.push(sentence(&format!("{} {}.", kind.words(), window.words())));
        }
        meant.says.extend(drawn_words(&mut hand, &out_of).map(|words| format!("{words}.")));
        if against > 0 {
            meant.says.push(format!("{against} against a bar: flagged on their cards."));
        }
        meant.change = Some(Change::Visits { occasion: Occasion::Introduction, visits, queens });
        meant
    }

    /// Draws the fields.
    pub fn show(&mut self, ui: &mut Ui, scene: &Scene, fresh: bool) {
        let methods = [Method::Caged, Method::PushIn, Method::Cell, Method::Virgin, Method::Nuc];
        let words = methods.map(|method| sentence(method.words()));
        let methods: Vec<(&str, Method)> = words.iter().map(String::as_str).zip(methods).collect();
        choices(ui, "How", &methods, &mut self.method, fresh);
        in_column(ui, "From", |ui| self.source_chip(ui, scene));
        let today = scene.today;
        let day = read_day(&self.day, today, DateOrder::DayMonth, Lean::Nearest).unwrap_or(today);
        match self.method {
            Method::Cell if day <= today => {
                Field::new("Cells each").column(COLUMN).width(56.0).show(ui, &mut self.cells);
            }
            Method::Virgin if day <= today => {
                maybe_day(ui, "Emerged", day, &mut self.emerged, "if known");
            }
            _ => {}
        }
        day_field(ui, scene, &mut self.day, Lean::Nearest, "a day ahead makes it a plan");
        let olds = [("Removed", Old::Removed), ("As recorded", Old::AsRecorded), ("Not found", Old::NotFound)];
        choices(ui, "Old queens", &olds, &mut self.old, false);
        if self.is_ahead(scene.today) {
            crate::ui::widgets::checkbox(ui, &mut self.overrule, "Plan although a soft bar holds");
        } else {
            initials(ui, &mut self.by);
        }
    }

    fn source_chip(&mut self, ui: &mut Ui, scene: &Scene) {
        let ahead = self.is_ahead(scene.today);
        let unsaid = if ahead { "Not said" } else { "As planned, else the oldest in hand" };
        let day = read_day(&self.day, scene.today, DateOrder::DayMonth, Lean::Nearest).unwrap_or(scene.today);
        let mut hand = hand(ui, scene);
        let mut entries = vec![(From::NotSaid, unsaid.to_owned())];
        let fitting = hand.fitting(self.method, self.each().unwrap_or(1), day);
        for parcel in &fitting {
            let words = in_hand_words(&scene.world, parcel, hand.left(parcel.id), scene.today);
            entries.push((From::Parcel(parcel.id), words));
        }
        if ahead {
            entries.extend(awaited(scene, self.method));
        }
        let mut sources: Vec<_> = scene.world.sources.values().collect();
        sources.sort_by(|a, b| (&a.name, a.id).cmp(&(&b.name, b.id)));
        let words = |it: &Source| source_alone_words(it, fitting.iter().copied());
        entries.extend(sources.into_iter().map(|it| (From::SourceAlone(it.id), words(it))));
        if !ahead {
            entries.push((From::NotKnown, "Not known".to_owned()));
        }
        if entries.iter().all(|(from, _)| *from != self.from) {
            // Of another kind, or on its way where it is given today.
            self.from = From::NotSaid;
        }
        let words: Vec<&str> = entries.iter().map(|(_, words)| words.as_str()).collect();
        let current = entries.iter().position(|(from, _)| *from == self.from).unwrap_or(0);
        let value = words.get(current).copied().unwrap_or(unsaid);
        let chosen = MenuChip::unnamed("From", value).show(ui, &words).and_then(|at| entries.get(at));
        if let Some((from, _)) = chosen {
            self.from = *from;
        }
    }
}

/// `3 have a plan: it is moved to that day.`
fn has_plans(count: usize, what: &str) -> Option<String> {
    match count {
        0 => None,
        1 => Some(format!("1 has a plan already: it is {what}.")),
        many => Some(format!("{many} have a plan already: it is {what}.")),
    }
}

/// Parcels on their way that can be planned with.
fn awaited(scene: &Scene, method: Method) -> Vec<(From, String)> {
    let kind = kind_for(method);
    let open = scene.world.parcels.values().filter(|it| it.arrived.is_none() && !it.closed && Some(it.kind) == kind);
    let mut open: Vec<_> = open.collect();
    open.sort_by_key(|parcel| (parcel.expected(), parcel.id));
    let words = |day: Option<Day>| day.map_or("on its way".to_owned(), |day| format!("due {}", day.near(scene.today)));
    let named = |it: &Parcel| format!("{}, parcel {}", source_name(&scene.world, it), words(it.expected()));
    open.into_iter().map(|it| (From::Parcel(it.id), named(it))).collect()
}
