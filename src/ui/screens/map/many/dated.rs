//! Acts that are visits on a day: queens given or planned, old queens removed, a find.

use egui::Ui;

use crate::domain::change::{Change, NewVisit, Occasion};
use crate::domain::day::Day;
use crate::domain::day_words::{DateOrder, Lean, read_day};
use crate::domain::grammar::codes::parse;
use crate::domain::grammar::resolve::{Choice, resolve};
use crate::domain::ids::{ColonyId, ParcelId, PlanId, QueenId, RecordId, SourceId};
use crate::domain::in_hand::in_hand;
use crate::domain::in_hand::queen::{birth_of_given, origin_by_method};
use crate::domain::parcel::{Parcel, ParcelKind};
use crate::domain::plan::Plan;
use crate::domain::queen::Queen;
use crate::domain::standing::bars::plan_allowed;
use crate::domain::standing::windows::default_dequeened;
use crate::domain::standing::{Phase, QueenNow};
use crate::domain::visit::{Did, Given, Method, OldQueen, Visit};
use crate::ui::scene::Scene;
use crate::ui::screens::map::many::acts::{Ground, Meant, Mint};
use crate::ui::theme;
use crate::ui::theme::text;
use crate::ui::widgets::{Chip, Field, MenuChip, parts};

/// Width of the captions before the fields.
pub const COLUMN: f32 = 92.0;

/// Where the queens come from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum From {
    #[default]
    NotSaid,
    Source(SourceId),
    Parcel(ParcelId),
}

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

    fn source(&self, scene: &Scene) -> (Option<SourceId>, Option<ParcelId>) {
        match self.from {
            From::NotSaid => (None, None),
            From::Source(source) => (Some(source), None),
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
            meant.change = Some(Change::Plan { plans, overrule_soft: self.overrule });
        }
        meant
    }

    fn given(&self, ground: &Ground<'_>, day: Day, mint: Mint<'_>) -> Meant {
        let scene = ground.scene;
        let mut meant = Meant::default();
        let (source, parcel) = self.source(scene);
        let hives = ground.there_on(day, &mut meant.left_out);
        let told = parcel.and_then(|parcel| scene.world.parcels.get(&parcel));
        let held = parcel.and_then(|parcel| in_hand(&scene.world, parcel, scene.today));
        if let Some(held) = held
            && (held.left as usize) < hives.len()
        {
            meant.trouble =
                Some(format!("{} are in hand, {} hives are chosen. Leave some out.", held.left, hives.len()));
            return meant;
        }
        let (mut visits, mut queens) = (Vec::new(), Vec::new());
        let mut against = 0;
        for id in hives {
            let view = scene.outlook.colonies.get(&id);
            let has_queen = view.is_some_and(|view| matches!(view.standing.queen, QueenNow::Present(_)));
            let bars = view.map_or(&[][..], |view| view.standing.bars.as_slice());
            let bar = bars.iter().find(|bar| bar.forbids(self.method));
            against += usize::from(bar.is_some());
            let queen = QueenId(mint());
            queens.push(Queen {
                id: queen,
                birth: birth_of_given(&scene.world.settings, told, self.method, day, None),
                origin: origin_by_method(self.method),
                source,
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
                parcel,
                old_queen,
                emerged: None,
                cells: 1,
                against_bar: bar.map(|bar| bar.kind.words().to_owned()),
            });
            visits.push(visit(RecordId(mint()), id, day, &self.by, Visit { did, gave, ..Visit::default() }));
        }
        meant.count = visits.len();
        if let Some(held) = held {
            let left = held.left as usize - visits.len();
            meant.says.push(format!("{} given, {left} stay in hand.", visits.len()));
        }
        if against > 0 {
            meant.says.push(format!("{against} against a bar: flagged on their cards."));
        }
        meant.change = Some(Change::Visits { occasion: Occasion::Introduction, visits, queens });
        meant
    }

    /// Draws the fields.
    pub fn show(&mut self, ui: &mut Ui, scene: &Scene) {
        caption(ui, "How");
        ui.horizontal_wrapped(|ui| {
            for method in [Method::Caged, Method::PushIn, Method::Cell, Method::Virgin, Method::Nuc] {
                if Chip::choice(method.words(), self.method == method).show(ui).clicked() {
                    self.method = method;
                }
            }
        });
        self.source_chip(ui, scene);
        day_field(ui, scene, &mut self.day, Lean::Nearest, "a day ahead makes it a plan");
        caption(ui, "The old queens");
        ui.horizontal_wrapped(|ui| {
            let olds = [(Old::Removed, "removed"), (Old::AsRecorded, "as recorded"), (Old::NotFound, "not found")];
            for (old, words) in olds {
                if Chip::choice(words, self.old == old).show(ui).clicked() {
                    self.old = old;
                }
            }
        });
        if self.is_ahead(scene.today) {
            crate::ui::widgets::checkbox(ui, &mut self.overrule, "Plan although a soft bar holds");
        } else {
            initials(ui, &mut self.by);
        }
    }

    fn source_chip(&mut self, ui: &mut Ui, scene: &Scene) {
        let mut entries = vec![(From::NotSaid, "Not said".to_owned())];
        for parcel in scene.world.parcels.values().filter(|it| fits(it, self.method)) {
            let held = in_hand(&scene.world, parcel.id, scene.today);
            if let Some(held) = held.filter(|held| held.left > 0) {
                let source = parcel.source.and_then(|id| scene.world.sources.get(&id)).map_or("Parcel", |it| &it.name);
                let arrived = parcel.arrived.map_or(String::new(), |day| format!(" of {}", day.near(scene.today)));
                entries.push((From::Parcel(parcel.id), format!("{source}{arrived}, {} in hand", held.left)));
            }
        }
        entries.extend(scene.world.sources.values().map(|it| (From::Source(it.id), it.name.clone())));
        let words: Vec<&str> = entries.iter().map(|(_, words)| words.as_str()).collect();
        let current = entries.iter().position(|(from, _)| *from == self.from).unwrap_or(0);
        ui.horizontal(|ui| {
            if let Some((from, _)) = MenuChip::new("From", words.get(current).copied().unwrap_or("Not said"))
                .show(ui, &words)
                .and_then(|at| entries.get(at))
            {
                self.from = *from;
            }
        });
    }
}

fn fits(parcel: &Parcel, method: Method) -> bool {
    match parcel.kind {
        ParcelKind::CagedQueens => matches!(method, Method::Caged | Method::PushIn),
        ParcelKind::Cells => method == Method::Cell,
        ParcelKind::Virgins => method == Method::Virgin,
    }
}

/// The old queens are removed, or were not found.
#[derive(Clone, Debug, PartialEq)]
pub struct Dequeen {
    day: String,
    not_found: bool,
    by: String,
}

impl Dequeen {
    /// Today.
    pub fn new(by: String) -> Self {
        Self { day: "today".to_owned(), not_found: false, by }
    }

    /// What it would do.
    pub fn meant(&self, ground: &Ground<'_>, mint: Mint<'_>) -> Meant {
        let day = match past_day(ground, &self.day) {
            Ok(day) => day,
            Err(why) => return Meant::trouble(why),
        };
        let mut meant = Meant::default();
        let mut visits = Vec::new();
        for id in ground.there_on(day, &mut meant.left_out) {
            let view = ground.scene.outlook.colonies.get(&id);
            if view.is_some_and(|view| view.lacks_queen()) {
                meant.left_out.push((ground.name(id), "has no queen".to_owned()));
                continue;
            }
            let did = Did { dequeened: !self.not_found, queen_not_found: self.not_found, ..Did::default() };
            visits.push(visit(RecordId(mint()), id, day, &self.by, Visit { did, ..Visit::default() }));
        }
        meant.count = visits.len();
        if visits.is_empty() {
            meant.trouble = Some("None of them has a queen to remove.".to_owned());
            return meant;
        }
        if !self.not_found {
            meant.says.push(format!("Their queenless clocks start on {}.", day.near(ground.scene.today)));
        }
        meant.change = Some(Change::Visits { occasion: Occasion::Find, visits, queens: Vec::new() });
        meant
    }

    /// Draws the fields.
    pub fn show(&mut self, ui: &mut Ui, scene: &Scene) {
        day_field(ui, scene, &mut self.day, Lean::Back, "");
        caption(ui, "The old queens");
        ui.horizontal(|ui| {
            for (not_found, words) in [(false, "found and removed"), (true, "not found")] {
                if Chip::choice(words, self.not_found == not_found).show(ui).clicked() {
                    self.not_found = not_found;
                }
            }
        });
        initials(ui, &mut self.by);
    }
}

/// One find at all of them.
#[derive(Clone, Debug, PartialEq)]
pub struct Find {
    codes: String,
    day: String,
    by: String,
}

impl Find {
    /// Nothing typed yet, today.
    pub fn new(by: String) -> Self {
        Self { codes: String::new(), day: "today".to_owned(), by }
    }

    /// What it would do.
    pub fn meant(&self, ground: &Ground<'_>, mint: Mint<'_>) -> Meant {
        let day = match past_day(ground, &self.day) {
            Ok(day) => day,
            Err(why) => return Meant::trouble(why),
        };
        if self.codes.trim().is_empty() {
            return Meant::trouble("Nothing is typed yet. Type what was seen, as e l b q or n.");
        }
        let codes = match parse(&self.codes) {
            Ok(codes) => codes,
            Err(error) => return Meant::trouble(format!("{}. {}.", error.what, error.remedy)),
        };
        let mut meant = Meant::default();
        let (mut visits, mut queens) = (Vec::new(), Vec::new());
        for id in ground.there_on(day, &mut meant.left_out) {
            match resolve(&ground.scene.world, id, day, &self.by, &codes, &Choice::default(), mint) {
                Ok((visit, new)) => {
                    visits.push(visit);
                    queens.extend(new);
                }
                Err(error) => meant.left_out.push((ground.name(id), error.what)),
            }
        }
        meant.count = visits.len();
        if visits.is_empty() {
            meant.trouble = Some("None of them was there on that day.".to_owned());
            return meant;
        }
        let words = crate::domain::grammar::describe::describe(&ground.scene.world, &codes.visit);
        meant.says.push(words);
        meant.change = Some(Change::Visits { occasion: Occasion::Find, visits, queens });
        meant
    }

    /// Draws the fields.
    pub fn show(&mut self, ui: &mut Ui, scene: &Scene, fresh: bool) {
        let help = "e eggs, l larvae, b capped brood, q her seen, n nothing, -r rain, p part only";
        let field = Field::new("Find").column(COLUMN).width(200.0).help(help);
        show_first(ui, field, &mut self.codes, fresh);
        day_field(ui, scene, &mut self.day, Lean::Back, "");
        initials(ui, &mut self.by);
    }
}

/// A day that is not ahead.
pub fn past_day(ground: &Ground<'_>, typed: &str) -> Result<Day, String> {
    let day = ground.day(typed, Lean::Back)?;
    if day > ground.scene.today {
        return Err(format!("{} is still to come. Give today or an earlier day.", day.near(ground.scene.today)));
    }
    Ok(day)
}

/// The field of the day, with what it was understood as.
pub fn day_field(ui: &mut Ui, scene: &Scene, typed: &mut String, lean: Lean, help: &str) {
    let read = read_day(typed, scene.today, DateOrder::DayMonth, lean);
    let error = read.as_ref().err().map(|error| format!("{error}."));
    let mut words = read.map_or(String::new(), Day::with_weekday);
    if !help.is_empty() {
        words = format!("{words}; {help}");
    }
    Field::new("Day").column(COLUMN).width(140.0).help(&words).error(error.as_deref()).show(ui, typed);
}

/// The first field of a form; it gets the keyboard when the form is fresh.
pub fn show_first(ui: &mut Ui, field: Field<'_>, typed: &mut String, fresh: bool) {
    let id = field.id(ui);
    field.show(ui, typed);
    if fresh {
        ui.memory_mut(|memory| memory.request_focus(id));
        // The field takes letters from the next frame on, so that one must not wait for the first letter.
        ui.request_repaint();
    }
}

/// The field of initials.
pub fn initials(ui: &mut Ui, by: &mut String) {
    Field::new("By").column(COLUMN).width(84.0).hint("initials").show(ui, by);
}

/// A caption above a row of chips.
pub fn caption(ui: &mut Ui, words: &str) {
    let color = theme::tokens(ui).text_secondary;
    parts::line(ui, 20.0, |ui| ui.label(text::table(words).color(color)));
}

fn visit(record: RecordId, colony: ColonyId, day: Day, by: &str, visit: Visit) -> NewVisit {
    NewVisit { record, colony, day, by: by.trim().to_owned(), words: String::new(), visit }
}
