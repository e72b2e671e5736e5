//! Introduce: a queen, cell or nuc is given, or planned where the day is still to come.

use egui::Ui;

use crate::domain::birth_words::{birth_words, example};
use crate::domain::change::{Change, NewVisit, Occasion};
use crate::domain::day::Day;
use crate::domain::day_words::Lean;
use crate::domain::ids::{ColonyId, PlanId, QueenId, RecordId};
use crate::domain::in_hand::all_in_hand;
use crate::domain::in_hand::draw::{Drawn, From, Giving, Hand, kind_for, source_name};
use crate::domain::in_hand::queen::{birth_of_given, emerged_of_given, origin_by_method};
use crate::domain::parcel::ParcelKind;
use crate::domain::plan::{Plan, open_plan, planned_from, replan};
use crate::domain::queen::{Dot, Queen};
use crate::domain::standing::windows::{default_dequeened, looks_for};
use crate::domain::standing::{QueenNow, lid_note, standing};
use crate::domain::visit::{Did, Given, Method, OldQueen, Visit};
use crate::domain::world::World;
use crate::ui::card::forms::fields::{self, Inputs};
use crate::ui::card::forms::verdict::{Trouble, Verdict};
use crate::ui::card::forms::{Context, Draft, Mint, say, scratch_ids};
use crate::ui::given_from::{self, in_hand_words, source_alone_words};
use crate::ui::scene::Scene;
use crate::ui::widgets::{Caution, Field, MenuChip, checkbox, parts};

/// What is typed.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Introduce {
    method: Method,
    day: String,
    old: Old,
    /// Days before day 0 on which the old queen was removed.
    before: String,
    from: From,
    dot: Option<Dot>,
    birth: String,
    emerged: String,
    cells: String,
    by: String,
    words: String,
    overrule: bool,
    today: Day,
    /// Parcels and sources to choose from, read when the form was opened.
    offered: Vec<Offered>,
}

/// What became of the old queen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Old {
    SameVisit,
    Before,
    NotFound,
    None,
}

/// One line of the menu of sources.
#[derive(Clone, Debug, PartialEq)]
struct Offered {
    from: From,
    words: String,
    kind: Option<ParcelKind>,
    /// It has not arrived, so it can only be planned with.
    awaited: bool,
}

const METHODS: [(&str, Method); 6] = [
    ("Caged", Method::Caged),
    ("Push-in cage", Method::PushIn),
    ("Mature cell", Method::Cell),
    ("Virgin", Method::Virgin),
    ("Nuc", Method::Nuc),
    ("Own raising", Method::OwnRaising),
];

const OLD: [(&str, Old); 4] = [
    ("Same visit", Old::SameVisit),
    ("Days before", Old::Before),
    ("Not found", Old::NotFound),
    ("None there", Old::None),
];

impl Introduce {
    pub(crate) fn new(scene: &Scene, colony: ColonyId, method: Option<Method>) -> Self {
        let (world, today) = (&*scene.world, scene.today);
        let plan = open_plan(world, colony);
        let method = method.or(plan.map(|plan| plan.method)).unwrap_or(Method::Caged);
        let view = scene.outlook.colonies.get(&colony);
        let queen = view.map(|view| &view.standing.queen);
        let suspected = view.is_some_and(|view| view.standing.is_suspected());
        let there = queen.is_none_or(|queen| matches!(queen, QueenNow::Present(_)));
        let mut form = Self {
            method,
            day: today.short(),
            old: Old::None,
            before: "1".to_owned(),
            // A queen in hand is never proposed where disease is suspected.
            from: if suspected { From::NotKnown } else { From::NotSaid },
            dot: None,
            birth: String::new(),
            emerged: String::new(),
            cells: "1".to_owned(),
            by: scene.prefs.initials.clone(),
            words: String::new(),
            overrule: false,
            today,
            offered: offered(world, today),
        };
        if there {
            form.old_by_default(world, today);
        }
        form
    }

    /// The old queen as the method's setting has it.
    fn old_by_default(&mut self, world: &World, today: Day) {
        let days = today.since(default_dequeened(&world.settings, self.method, today));
        self.old = if days == 0 { Old::SameVisit } else { Old::Before };
        self.before = days.max(1).to_string();
    }

    fn day0(&self, today: Day) -> Result<Day, Trouble> {
        fields::read(&self.day, today, Lean::Nearest)
    }

    /// The day the old queen was or is to be removed; nothing where there is none, or she was not found.
    fn removed(&self, day0: Day) -> Result<Option<Day>, Trouble> {
        match self.old {
            Old::SameVisit => Ok(Some(day0)),
            Old::Before => {
                let days = fields::read_number(&self.before, "The days before", 1, 60)?;
                Ok(Some(day0.plus(-days)))
            }
            Old::NotFound | Old::None => Ok(None),
        }
    }

    fn emerged(&self, day0: Day) -> Result<Option<Day>, Trouble> {
        if self.method == Method::Virgin { fields::read_maybe(&self.emerged, day0, Lean::Back) } else { Ok(None) }
    }

    /// Where she comes from, as far as it is said. A parcel still on its way can be planned with, and nothing more.
    fn said(&self, world: &World, day0: Day) -> From {
        match self.from {
            From::Parcel(parcel) if day0 <= self.today => {
                let arrived = world.parcels.get(&parcel).is_some_and(|parcel| parcel.arrived.is_some());
                if arrived { self.from } else { From::NotSaid }
            }
            said => said,
        }
    }

    /// Where she comes from: given today or before, out of what is in hand; on a day to come, as it is planned.
    fn drawn(&self, hand: &mut Hand<'_>, colony: ColonyId, day0: Day) -> Drawn {
        let world = hand.world();
        let said = self.said(world, day0);
        if day0 > self.today && said == From::NotSaid {
            if let Some(plan) = open_plan(world, colony).filter(|plan| plan.method == self.method) {
                return Drawn { parcel: plan.parcel, source: plan.source };
            }
            // The oldest of which some are not planned for other colonies yet.
            let in_hand = hand.fitting(self.method, 1, self.today);
            let spare = in_hand.into_iter().find(|it| hand.left(it.id) > planned_from(world, it.id, &[colony]));
            return spare.map_or(Drawn::default(), |it| Drawn { parcel: Some(it.id), source: it.source });
        }
        let count = self.cells.trim().parse().ok().filter(|_| self.method == Method::Cell).unwrap_or(1);
        hand.draw(Giving { colony, day: day0, method: self.method, count }, said)
    }

    /// The visit by which she is given.
    fn visit(&self, context: &Context<'_>, day0: Day, mint: Mint<'_>) -> Result<Change, Trouble> {
        let emerged = self.emerged(day0)?;
        let removed = self.removed(day0)?;
        let Drawn { parcel, source } = self.drawn(&mut Hand::of(&context.scene.world), context.id(), day0);
        let birth = fields::read_birth(&self.birth, &context.scene.world, context.today())?;
        let told = parcel.and_then(|parcel| context.scene.world.parcels.get(&parcel));
        let settings = &context.scene.world.settings;
        let by_parcel = || birth_of_given(settings, told, self.method, day0, emerged);
        let birth = if birth.is_unknown() { by_parcel() } else { birth };
        let cells = if self.method == Method::Cell {
            fields::read_number(&self.cells, "The number of cells", 1, 20)?
        } else {
            1
        };
        let record = RecordId(mint());
        let queen = Queen {
            id: QueenId(mint()),
            birth,
            origin: origin_by_method(self.method),
            source,
            dot: self.dot.or(told.and_then(|parcel| parcel.dot)),
            words: String::new(),
        };
        let gave = Given {
            method: self.method,
            queen: queen.id,
            parcel,
            old_queen: match (self.old, removed) {
                (Old::NotFound, _) => OldQueen::NotFound,
                (_, Some(day)) => OldQueen::RemovedOn(day),
                (_, None) => OldQueen::AsRecorded,
            },
            emerged,
            cells,
            against_bar: None,
        };
        let did =
            Did { dequeened: self.old == Old::SameVisit, queen_not_found: self.old == Old::NotFound, ..Did::default() };
        let visit = Visit { did, gave: Some(gave), ..Visit::default() };
        let new = NewVisit {
            record,
            colony: context.id(),
            day: day0,
            by: self.by.trim().to_owned(),
            words: self.words.trim().to_owned(),
            visit,
        };
        Ok(Change::Visits { occasion: Occasion::Introduction, visits: vec![new], queens: vec![queen] })
    }

    /// The plan for a day still to come. An open plan is moved where only its days differ, else it makes room.
    fn plan(&self, context: &Context<'_>, day0: Day, mint: Mint<'_>) -> Result<Change, Trouble> {
        let (today, dequeen_on) = (context.today(), self.removed(day0)?);
        let Drawn { parcel, source } = self.drawn(&mut Hand::of(&context.scene.world), context.id(), day0);
        let plan = Plan {
            id: PlanId(mint()),
            colony: context.id(),
            method: self.method,
            source,
            parcel,
            give_on: day0,
            dequeen_on,
            made: today,
            called_off: None,
            moved: Vec::new(),
        };
        let why = if self.words.trim().is_empty() { "moved" } else { self.words.trim() };
        let title = format!("{} {} planned for {}", context.colony.name(), plan.method.words(), day0.near(today));
        Ok(replan(&context.scene.world, vec![plan], self.overrule, today, why, title).change)
    }

    fn fits(&self, offered: &Offered, ahead: bool) -> bool {
        offered.kind.is_none_or(|kind| kind_for(self.method) == Some(kind)) && (ahead || !offered.awaited)
    }

    /// Her dot and birth where nothing is typed, as her parcel tells them.
    fn told_by_parcel(&self, ui: &Ui, context: &Context<'_>, day0: Day) -> (String, String) {
        let world = &context.scene.world;
        let parcel = self.drawn(&mut given_from::hand(ui, context.scene), context.id(), day0).parcel;
        let parcel = parcel.and_then(|parcel| world.parcels.get(&parcel));
        let dot = parcel.and_then(|parcel| parcel.dot);
        let born = parcel.map_or(String::new(), |parcel| birth_words(parcel.born, world));
        (
            dot.map_or("none".to_owned(), |dot| format!("{}, as the parcel", dot.name())),
            if born.is_empty() {
                format!("day, {} or {}", example(day0), day0.year() - 1)
            } else {
                format!("{born}, as the parcel")
            },
        )
    }

    fn choose_source(&mut self, ui: &mut Ui, context: &Context<'_>, day0: Day) {
        let ahead = day0 > self.today;
        let drawn = self.drawn(&mut given_from::hand(ui, context.scene), context.id(), day0);
        let now = match (drawn.parcel, drawn.source) {
            (Some(parcel), _) => From::Parcel(parcel),
            (None, Some(source)) => From::SourceAlone(source),
            (None, None) => From::NotKnown,
        };
        let fitting: Vec<Offered> = self.offered.iter().filter(|it| self.fits(it, ahead)).cloned().collect();
        let named = self.offered.iter().find(|it| it.from == now).map(|it| it.words.clone());
        let value = named.unwrap_or_else(|| "not known".to_owned());
        let words: Vec<&str> = fitting.iter().map(|it| it.words.as_str()).collect();
        if let Some(chosen) = MenuChip::new("From", &value).show(ui, &words).and_then(|at| fitting.get(at)) {
            self.from = chosen.from;
        }
    }
}

impl Draft for Introduce {
    fn title(&self) -> String {
        if self.method == Method::OwnRaising { "Let it raise its own queen".to_owned() } else { "Introduce".to_owned() }
    }

    fn verb(&self) -> String {
        let verb = if self.day0(self.today).is_ok_and(|day| day > self.today) { "Plan" } else { "Record" };
        format!("{verb} {}", self.method.words())
    }

    fn show(&mut self, ui: &mut Ui, context: &Context<'_>, inputs: &mut Inputs, verdict: &Verdict) {
        let today = context.today();
        cautions(ui, context, self.method);
        ui.horizontal_top(|ui| {
            inputs.day(ui, "Day", &mut self.day, today, Lean::Nearest);
            inputs.by(ui, &mut self.by);
        });
        let before = self.method;
        fields::choose(ui, "How", &METHODS, &mut self.method);
        if self.method != before {
            self.from = From::NotSaid;
        }
        if self.method != before && self.old != Old::None && self.old != Old::NotFound {
            self.old_by_default(&context.scene.world, today);
        }
        fields::choose(ui, "Old queen removed", &OLD, &mut self.old);
        if self.old == Old::Before {
            inputs.text(ui, Field::new("Days before").width(56.0), &mut self.before);
        }
        let day0 = self.day0(today).unwrap_or(today);
        let ahead = day0 > today;
        if self.method != Method::OwnRaising {
            ui.horizontal_wrapped(|ui| {
                self.choose_source(ui, context, day0);
                if self.method == Method::Cell {
                    inputs.text(ui, Field::new("Cells").width(48.0), &mut self.cells);
                }
            });
        }
        say(ui, verdict);
        if verdict.trouble.as_ref().is_some_and(|trouble| trouble.soft_bar) || self.overrule {
            checkbox(ui, &mut self.overrule, "Plan it all the same");
        }
        match self.method {
            Method::Caged | Method::PushIn | Method::Nuc if !ahead => {
                let (none, hint) = self.told_by_parcel(ui, context, day0);
                fields::dots(ui, "Her dot", &none, &mut self.dot);
                ui.horizontal_top(|ui| {
                    let field = Field::new("Born, if known").above().width(220.0).hint(&hint);
                    inputs.text(ui, field, &mut self.birth);
                });
            }
            Method::Virgin if !ahead => {
                inputs.maybe_day(ui, "Emerged, if known", &mut self.emerged, today, "day 0 if empty");
            }
            _ => {}
        }
        inputs.line(ui, "Words", "anything else", &mut self.words);
        parts::remark(ui, "Veil on, smoker only where no fire ban holds, a way out kept free.");
    }

    fn change(&self, context: &Context<'_>, mint: Mint<'_>) -> Result<Change, Trouble> {
        let day0 = self.day0(context.today())?;
        if day0 > context.today() { self.plan(context, day0, mint) } else { self.visit(context, day0, mint) }
    }

    /// The looks with their days and the label line, also for what is only planned.
    fn complete(&self, context: &Context<'_>, verdict: &mut Verdict) {
        verdict.sentence = None;
        let today = context.today();
        let Ok(day0) = self.day0(today) else { return };
        let (Ok(removed), Ok(emerged)) = (self.removed(day0), self.emerged(day0)) else { return };
        let settings = &context.scene.world.settings;
        let since = removed.or(match context.card.view.standing.queen {
            QueenNow::Waiting { since, .. } => Some(since),
            QueenNow::Queenless { since } => since,
            QueenNow::Present(_) => None,
        });
        let Drawn { parcel, .. } = self.drawn(&mut Hand::of(&context.scene.world), context.id(), day0);
        let emerged = emerged_of_given(&context.scene.world, parcel, emerged);
        let looks = looks_for(settings, self.method, day0, since, emerged);
        verdict.looks = looks.iter().map(|(kind, window)| (kind.words().to_owned(), window.words())).collect();
        if let Some(lines) = self.label(context, day0) {
            verdict.label = lines;
        }
    }
}

impl Introduce {
    /// The label she will have, once she is given on that day.
    fn label(&self, context: &Context<'_>, day0: Day) -> Option<Vec<String>> {
        let then = day0.max(context.today());
        let change = self.visit(context, day0, &mut scratch_ids()).ok()?;
        let facts = crate::domain::decide::decide(&context.scene.world, &change, then).ok()?;
        let mut world = World::clone(&context.scene.world);
        world.advance_all(&facts);
        let standing = standing(&world, context.id(), then)?;
        Some(lid_note(&world, context.id(), &standing, then).lines.to_vec())
    }
}

/// What forbids or warns, where the act is.
fn cautions(ui: &mut Ui, context: &Context<'_>, method: Method) {
    let standing = &context.card.view.standing;
    for bar in standing.bars.iter().filter(|bar| bar.forbids(method)) {
        let (fact, rest) = match bar.kind {
            crate::domain::bar::BarKind::AmericanFoulbrood | crate::domain::bar::BarKind::Disease => (
                format!("Barred: {}.", bar.kind.words()),
                "Never requeen it. Isolate, report under the local rules, move no gear.".to_owned(),
            ),
            crate::domain::bar::BarKind::LayingWorkers => {
                ("Laying workers: no cage, cell or virgin.".to_owned(), "Unite it or shake it out.".to_owned())
            }
            kind => (format!("Barred: {}.", kind.words()), bar.reason.clone()),
        };
        Caution::new(&fact, &rest).barred().show(ui);
    }
    if let Some(clock) = &standing.clock
        && clock.alarm
        && matches!(method, Method::Caged | Method::PushIn)
    {
        Caution::new(&format!("Queenless for {} days.", clock.days), &clock.asks).show(ui);
    }
}

/// Parcels with queens in hand, oldest first, parcels on their way, then sources by name.
fn offered(world: &World, today: Day) -> Vec<Offered> {
    let mut parcels: Vec<_> = all_in_hand(world, today)
        .into_iter()
        .filter_map(|(id, hand)| Some((world.parcels.get(&id)?, hand)))
        .filter(|(parcel, hand)| hand.left > 0 || (parcel.arrived.is_none() && !parcel.closed))
        .collect();
    parcels.sort_by_key(|(parcel, _)| (parcel.arrived.is_none(), parcel.arrived, parcel.expected(), parcel.id));
    let mut all: Vec<Offered> = parcels
        .iter()
        .map(|(parcel, hand)| {
            let words = match (hand.held_days, parcel.expected()) {
                (Some(_), _) => in_hand_words(world, parcel, hand.left, today),
                (None, Some(day)) => format!("{}, parcel due {}", source_name(world, parcel), day.near(today)),
                (None, None) => format!("{}, parcel on its way", source_name(world, parcel)),
            };
            let awaited = hand.held_days.is_none();
            Offered { from: From::Parcel(parcel.id), words, kind: Some(parcel.kind), awaited }
        })
        .collect();
    let mut sources: Vec<_> = world.sources.values().collect();
    sources.sort_by(|a, b| (&a.name, a.id).cmp(&(&b.name, b.id)));
    all.extend(sources.into_iter().map(|source| Offered {
        from: From::SourceAlone(source.id),
        words: source_alone_words(source, parcels.iter().map(|(parcel, _)| *parcel)),
        kind: None,
        awaited: false,
    }));
    all.push(Offered { from: From::NotKnown, words: "not known".to_owned(), kind: None, awaited: false });
    all
}
