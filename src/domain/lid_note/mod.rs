//! Writes the lid note: three lines that a marker pen can write and wet hands can read.
//!
//! Months in letters, never a year read off a dot's colour, no word of disease. The lines depend on what happened, not on
//! the day they are read, so that a label stays true until something happens.

mod lines;

use crate::domain::bar::BarKind;
use crate::domain::day::Day;
use crate::domain::ids::ColonyId;
use crate::domain::lid_note::lines::{day_after, first_line, fit, fit_words, off_see, shut_see, upper};
use crate::domain::parcel::Parcel;
use crate::domain::queen::Dot;
use crate::domain::standing::age::class_of;
use crate::domain::standing::lid::{LAST_SEEN, NOTHING_DUE};
use crate::domain::standing::{
    ActiveBar, AgeClass, Introduced, LastLook, Laying, LidNote, Phase, QueenFacts, QueenNow, Standing,
};
use crate::domain::visit::Method;
use crate::domain::work::{DueWork, Look, Step, Window, WorkKind};
use crate::domain::world::World;

/// Characters a line holds.
pub const LINE: usize = 20;

/// The lid note of a colony as it stands.
pub fn write(world: &World, colony: ColonyId, standing: &Standing, today: Day) -> LidNote {
    let name = world.colonies.get(&colony).map_or("", |colony| colony.name());
    let writer = |month| Writer { world, standing, today, month };
    let mut text = writer(true).text();
    let first = first_line(name, &text.what, text.day);
    if text.day.is_some() && !first.month {
        // A month that found no room in the first line stands in the third.
        text = writer(false).text();
    }
    if first.shortened {
        // Two hives of a yard can be short for the same: the small print says which this is.
        text.small.insert(0, name.to_owned());
    }
    let boxes = if text.plain { Vec::new() } else { boxes(&standing.work) };
    let steps = if text.plain { Vec::new() } else { step_codes(&standing.work) };
    LidNote {
        lines: [first.text, fit(&text.second), fit(&text.third)],
        small: text.small,
        boxes,
        steps,
        shortened: first.shortened,
        plain: text.plain,
    }
}

/// The parts of a note before they are fitted to their lines.
struct Text {
    what: String,
    day: Option<Day>,
    second: String,
    third: String,
    small: Vec<String>,
    plain: bool,
}

struct Writer<'a> {
    world: &'a World,
    standing: &'a Standing,
    today: Day,
    /// The first line has room for its month.
    month: bool,
}

impl Writer<'_> {
    /// The day whose month the first line says.
    fn said(&self, first: Day) -> Option<Day> {
        self.month.then_some(first)
    }

    fn text(&self) -> Text {
        let standing = self.standing;
        if let Phase::DiseaseSuspected { on } = standing.phase {
            return keep_shut(on);
        }
        let quiet = matches!(standing.phase, Phase::Settled | Phase::Accepted { .. }) && standing.work.is_empty();
        if let Some(bar) = standing.bars.iter().find(|bar| shut(bar)).filter(|_| quiet) {
            return keep_shut(bar.from);
        }
        match &standing.phase {
            Phase::Ended { .. } => self.nothing(),
            Phase::DiseaseSuspected { on } => keep_shut(*on),
            Phase::Introduced(introduced) => self.introduced(introduced),
            Phase::RaisingOwn { since } => self.raising(*since),
            Phase::Waiting { since } => self.waiting(*since),
            Phase::Failed { on, how, .. } => self.failed(*on, how),
            Phase::Accepted { on } => self.accepted(*on),
            Phase::Settled => self.settled(),
        }
    }

    fn introduced(&self, introduced: &Introduced) -> Text {
        let small = self.small(introduced);
        let second = self.queen_line();
        let look = self.look();
        let text = |what: &str, day: Option<Day>, second: String, third: String| Text {
            what: what.to_owned(),
            day,
            second,
            third,
            small: small.clone(),
            plain: false,
        };
        match introduced.last {
            LastLook::None => {
                let what = Self::in_words(introduced);
                let day0 = introduced.day0;
                let cage = self.find_step(Step::CageOff);
                let third = match (cage, look) {
                    (Some(cage), Some((_, window))) => off_see(cage, window, self.said(day0)),
                    (_, Some((_, window))) => shut_see(window, self.said(day0)),
                    _ => String::new(),
                };
                text(&what, Some(day0), second, third)
            }
            LastLook::NoEggs(on) => text("NO EGGS", Some(on), second, self.see("SEE", on)),
            LastLook::LateLayer(on) => text("LAYING", Some(on), second, self.see("CAPPED? SEE", on)),
            LastLook::Again(on) => {
                let laying = matches!(self.standing.laying, Laying::Since(_));
                text(if laying { "LAYING" } else { "QUEEN OUT" }, Some(on), second, self.see("SEE", on))
            }
            LastLook::Another(on) => {
                let third = if look.is_some() { self.see("WHICH? SEE", on) } else { "WHICH?".to_owned() };
                text("OTHER QUEEN", None, format!("seen {}", upper(on)), third)
            }
            LastLook::Unproven(on) => {
                let find = self.find_step(Step::FindOldQueen);
                let third =
                    find.map_or_else(String::new, |window| format!("FIND {}", day_after(window.best, self.said(on))));
                text("LAYING", Some(on), "whose eggs?".to_owned(), third)
            }
        }
    }

    fn in_words(introduced: &Introduced) -> String {
        match (introduced.attempt, introduced.method) {
            (0 | 1, Method::Caged | Method::PushIn) => "CAGE IN".to_owned(),
            (0 | 1, Method::Cell) => "CELL IN".to_owned(),
            (0 | 1, Method::Virgin) => "VIRGIN IN".to_owned(),
            (0 | 1, Method::Nuc) => "NUC IN".to_owned(),
            (0 | 1, Method::OwnRaising) => "OWN CELL".to_owned(),
            (2, _) => "2ND IN".to_owned(),
            (3, _) => "3RD IN".to_owned(),
            (attempt, _) => format!("{attempt}TH IN"),
        }
    }

    fn raising(&self, since: Day) -> Text {
        let look = self.look().map(|(_, window)| window);
        let (what, day, third) = match self.standing.last_look {
            LastLook::NoEggs(on) => ("NO EGGS", on, self.see("SEE", on)),
            LastLook::Again(on) => ("LAYING", on, self.see("SEE", on)),
            LastLook::Another(on) | LastLook::LateLayer(on) | LastLook::Unproven(on) => {
                ("LAYING", on, self.see("SEE", on))
            }
            LastLook::None => {
                ("OWN CELL", since, look.map_or_else(String::new, |window| shut_see(window, self.said(since))))
            }
        };
        Text {
            what: what.to_owned(),
            day: Some(day),
            second: "raising her own".to_owned(),
            third,
            small: vec![format!("queenless since {}", since.short())],
            plain: false,
        }
    }

    fn waiting(&self, since: Day) -> Text {
        let n = &self.world.settings;
        let give = self.find_step(Step::Give).map(|window| window.best);
        let second = give.map_or_else(|| "NO QUEEN PLANNED".to_owned(), |day| format!("QUEEN DUE {}", upper(day)));
        let clock = self.standing.clock.as_ref();
        let late = |on: Option<Day>| on.filter(|on| on.since(since) >= n.cells_hopeless_from());
        let (none, cut) = (late(clock.and_then(|it| it.no_cells)), late(clock.and_then(|it| it.cells_cut)));
        let hopeless = none.or(cut);
        let third = match hopeless {
            Some(on) => format!("{} {}", if none.is_some() { "no cells" } else { "cells cut" }, upper(on)),
            None => format!("VIRGIN FROM {}", upper(since.plus(n.own_virgin_from()))),
        };
        let mut small: Vec<String> = self.plan_words().into_iter().collect();
        if hopeless.is_none() {
            small.push("cut cells and look before giving".to_owned());
        }
        Text { what: "NO QUEEN".to_owned(), day: Some(since), second, third, small, plain: false }
    }

    /// `Broom, caged queen, promised 25 Nov`.
    fn plan_words(&self) -> Option<String> {
        let QueenNow::Waiting { plan: Some(plan), .. } = self.standing.queen else { return None };
        let plan = self.world.plans.get(&plan)?;
        let source = plan.source.and_then(|source| self.world.sources.get(&source)).map(|source| source.name.clone());
        let parcel = plan.parcel.and_then(|parcel| self.world.parcels.get(&parcel));
        let promised = parcel.filter(|parcel| parcel.arrived.is_none()).and_then(Parcel::expected);
        let mut words: Vec<String> = source.into_iter().collect();
        words.push(plan.method.words().to_owned());
        words.extend(promised.map(|day| format!("promised {}", day.short())));
        Some(words.join(", "))
    }

    fn failed(&self, on: Day, how: &str) -> Text {
        let there = matches!(self.standing.queen, QueenNow::Present(_));
        let unite = self.find_step(Step::UniteOrShakeOut);
        let give = self.find_step(Step::Give).or(self.find_step(Step::RemoveFailed)).map(|window| window.best);
        let third = match (unite, give) {
            (Some(unite), _) => format!("UNITE {}", upper(unite.best)),
            (None, Some(day)) => format!("QUEEN DUE {}", upper(day)),
            (None, None) => String::new(),
        };
        let small = self.standing.introduced.as_ref().map_or_else(Vec::new, |introduced| {
            vec![format!("{} of {} failed", introduced.method.words(), introduced.day0.short())]
        });
        let what = if there { "FAILED" } else { "LOST" };
        Text { what: what.to_owned(), day: Some(on), second: how.to_owned(), third, small, plain: false }
    }

    fn accepted(&self, on: Day) -> Text {
        let small = match &self.standing.introduced {
            Some(introduced) => self.small(introduced),
            None => self.temper().into_iter().collect(),
        };
        let to_mark = self.find_step(Step::Mark).is_some();
        if self.standing.work.len() > usize::from(to_mark) {
            return Text { small, ..self.settled() };
        }
        Text {
            what: "LAYING".to_owned(),
            day: Some(on),
            second: self.queen_line(),
            third: if to_mark { "MARK HER" } else { NOTHING_DUE }.to_owned(),
            small,
            plain: false,
        }
    }

    fn settled(&self) -> Text {
        let second = self.queen_line();
        if let Some(window) = self.find_step(Step::FindOldQueen) {
            let on = self.standing.work.iter().find(|due| due.kind == WorkKind::Step(Step::FindOldQueen));
            let on = on.map_or(window.earliest, |due| due.counted_from);
            return Text {
                what: "NOT FOUND".to_owned(),
                day: Some(on),
                second: "old queen".to_owned(),
                third: format!("FIND {}", day_after(window.best, self.said(on))),
                small: Vec::new(),
                plain: false,
            };
        }
        if let (LastLook::None, Some((_, window))) = (self.standing.last_look, self.look()) {
            return Text { second, third: format!("SEE {}", upper(window.best)), plain: false, ..self.nothing() };
        }
        let (what, on) = match self.standing.last_look {
            LastLook::NoEggs(on) => ("NO EGGS", on),
            LastLook::Again(on) => ("LAYING", on),
            _ if self.standing.which.is_some() => return self.which(),
            _ => return Text { second, ..self.nothing() },
        };
        let third = self.see("SEE", on);
        Text { what: what.to_owned(), day: Some(on), second, third, small: Vec::new(), plain: false }
    }

    fn which(&self) -> Text {
        let seen = self.standing.which.map(|asked| format!("seen {}", upper(asked.seen)));
        Text {
            what: "OTHER QUEEN".to_owned(),
            day: None,
            second: seen.unwrap_or_default(),
            third: "WHICH?".to_owned(),
            small: Vec::new(),
            plain: false,
        }
    }

    fn nothing(&self) -> Text {
        let seen = self.standing.last_find.map(|day| format!("{LAST_SEEN}{}", upper(day)));
        Text {
            what: String::new(),
            day: None,
            second: self.queen_line(),
            third: seen.unwrap_or_default(),
            small: self.quiet_words().into_iter().collect(),
            plain: true,
        }
    }

    /// `laying, first season`.
    fn quiet_words(&self) -> Option<String> {
        let QueenNow::Present(queen) = &self.standing.queen else { return None };
        let class = class_of(queen.birth, &self.world.firm, &self.world.settings, self.today);
        let laying = matches!(self.standing.laying, Laying::Since(_)).then_some("laying");
        let age = (class != AgeClass::Unknown).then(|| class.words());
        let words: Vec<&str> = laying.into_iter().chain(age).collect();
        (!words.is_empty()).then(|| words.join(", "))
    }

    /// `caged queen in 14 Nov`, `temper from 26 Dec`.
    fn small(&self, introduced: &Introduced) -> Vec<String> {
        let since = match introduced.method {
            Method::Nuc => "",
            Method::OwnRaising => " since",
            Method::Caged | Method::PushIn | Method::Cell | Method::Virgin => " in",
        };
        let given = format!("{}{since} {}", introduced.method.words(), introduced.day0.short());
        let again = (introduced.attempt > 1).then(|| format!("attempt {}", introduced.attempt));
        std::iter::once(given).chain(again).chain(self.temper()).collect()
    }

    fn temper(&self) -> Option<String> {
        self.standing.temper_from.map(|day| format!("temper from {}", day.short()))
    }

    /// `white, Thrift`: her dot and where she is from.
    fn queen_line(&self) -> String {
        let QueenNow::Present(queen) = &self.standing.queen else { return String::new() };
        self.dot_and_source(queen)
    }

    fn dot_and_source(&self, queen: &QueenFacts) -> String {
        let dot = queen.dot.map(Dot::name);
        let source = queen.source.and_then(|source| self.world.sources.get(&source)).map(|source| &source.name);
        match (dot, source) {
            (Some(dot), Some(source)) => {
                let room = LINE.saturating_sub(dot.len() + 2);
                format!("{dot}, {}", fit_words(source, room))
            }
            (Some(dot), None) => dot.to_owned(),
            (None, Some(source)) => fit_words(source, LINE),
            (None, None) => String::new(),
        }
    }

    /// The look that is due, with its window.
    fn look(&self) -> Option<(Look, Window)> {
        let first = |frame: bool| {
            self.standing.work.iter().find_map(|due| match due.kind {
                WorkKind::Look(look) if (look == Look::Frame) == frame && look != Look::Temper => {
                    Some((look, due.window))
                }
                _ => None,
            })
        };
        first(true).or_else(|| first(false))
    }

    fn find_step(&self, step: Step) -> Option<Window> {
        self.standing.work.iter().find(|due| due.kind == WorkKind::Step(step)).map(|due| due.window)
    }

    /// `SEE 1 DEC`: the best day of the look, or its latest where the best has passed when this was written.
    fn see(&self, verb: &str, written: Day) -> String {
        let Some((_, window)) = self.look() else { return String::new() };
        let day = if window.best > written { window.best } else { window.latest.unwrap_or(window.best) };
        format!("{verb} {}", day_after(day, self.said(written)))
    }
}

fn shut(bar: &ActiveBar) -> bool {
    bar.shuts_the_lid() && !(bar.kind == BarKind::Quarantine && bar.permit.is_some())
}

fn keep_shut(on: Day) -> Text {
    Text {
        what: "KEEP SHUT".to_owned(),
        day: None,
        second: "ring office first".to_owned(),
        third: upper(on),
        small: Vec::new(),
        plain: false,
    }
}

/// Letters of evening entry that answer the look that is due.
fn boxes(work: &[DueWork]) -> Vec<char> {
    let look = work.iter().find_map(|due| match due.kind {
        WorkKind::Look(look) => Some(look),
        WorkKind::Step(_) => None,
    });
    match look {
        Some(Look::Acceptance | Look::SecondAcceptance | Look::Again) => vec!['e', 'q', 'c', 'n'],
        Some(Look::FirstBrood | Look::Verdict) => vec!['e', 'l', 'b', 'n'],
        Some(Look::CappedBrood) => vec!['b', 'e', 'd', 'n'],
        Some(Look::Frame) => vec!['y', 'e', 'n'],
        Some(Look::LookFirst) => vec!['c', 'o', 'n'],
        Some(Look::Temper) => vec!['t'],
        None => Vec::new(),
    }
}

/// Codes of evening entry for the steps that are due.
fn step_codes(work: &[DueWork]) -> Vec<&'static str> {
    let code = |step: Step| match step {
        Step::CageOff => Some("/k"),
        Step::CutCells => Some("/c"),
        Step::Dequeen | Step::FindOldQueen | Step::RemoveFailed => Some("/q"),
        Step::Mark => Some("+d"),
        Step::Give | Step::UniteOrShakeOut | Step::Isolate => None,
    };
    let steps = work.iter().filter_map(|due| match due.kind {
        WorkKind::Step(step) => code(step),
        WorkKind::Look(_) => None,
    });
    let mut codes: Vec<&'static str> = Vec::new();
    for step in steps {
        if !codes.contains(&step) {
            codes.push(step);
        }
    }
    codes
}
