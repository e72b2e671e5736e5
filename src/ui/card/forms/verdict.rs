//! What a change would do, found out on a copy of the world before it is recorded.

use std::collections::BTreeSet;

use egui::Ui;

use crate::domain::carried_off::carried_off;
use crate::domain::change::Change;
use crate::domain::day::Day;
use crate::domain::decide::decide;
use crate::domain::fact::{Edit, Fact};
use crate::domain::ids::{ColonyId, RecordId};
use crate::domain::record::{Happening, Record};
use crate::domain::refusal::RefusalKind;
use crate::domain::standing::{OutcomeClass, Phase, QueenNow, course};
use crate::domain::work::WorkState;
use crate::domain::world::World;
use crate::planner::outlook::ColonyView;
use crate::ui::card::forms::Context;
use crate::ui::theme;
use crate::ui::theme::text::{self, Weighted as _};
use crate::ui::widgets::{Caution, parts};

/// Why a form cannot be recorded.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Trouble {
    /// The fact and the way out.
    pub words: String,
    /// It only says what is still to be typed.
    pub quiet: bool,
    /// A soft bar that may be overruled.
    pub soft_bar: bool,
}

/// What a form would do.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Verdict {
    pub trouble: Option<Trouble>,
    /// What the find means.
    pub sentence: Option<(OutcomeClass, bool, String)>,
    /// Given against a bar.
    pub flag: Option<String>,
    /// Hives it would carry off that are to stay where they are.
    pub stay: Vec<String>,
    /// Looks and steps that follow, with their days.
    pub looks: Vec<(String, String)>,
    /// How each hive concerned stands after.
    pub hives: Vec<String>,
    /// The lid note after, where it is another.
    pub label: Vec<String>,
    /// Labels that wait to be printed because of it.
    pub labels: usize,
}

impl Trouble {
    pub(crate) fn new(words: impl Into<String>) -> Self {
        Self { words: words.into(), ..Self::default() }
    }

    /// Nothing is wrong, something is still missing.
    pub(crate) fn missing(words: impl Into<String>) -> Self {
        Self { words: words.into(), quiet: true, soft_bar: false }
    }
}

/// What that change would do today.
pub(crate) fn of(context: &Context<'_>, change: &Change) -> Verdict {
    let (world, today) = (&*context.scene.world, context.today());
    let facts = match decide(world, change, today) {
        Ok(facts) => facts,
        Err(refusal) => {
            let soft_bar = refusal.kind == RefusalKind::Barred && may_be_overruled(world, change, today);
            let trouble = Trouble { words: refusal.to_string(), quiet: false, soft_bar };
            return Verdict { trouble: Some(trouble), ..Verdict::default() };
        }
    };
    if facts.is_empty() {
        let trouble = Trouble::missing("Nothing would change.");
        return Verdict { trouble: Some(trouble), ..Verdict::default() };
    }
    let mut after = world.clone();
    after.advance_all(&facts);
    let mut verdict =
        Verdict { sentence: sentence(&after, &facts, context.id(), today), flag: flag(&facts), ..Verdict::default() };
    verdict.stay = carried_off(world, change, today);
    for colony in concerned(&facts) {
        let Some(view) = ColonyView::of(&after, colony, today) else { continue };
        let hive = after.colonies.get(&colony);
        let name = hive.map_or("", |colony| colony.name());
        verdict.hives.push(format!("{name}: {}", state_words(&view, today)));
        if hive.is_none_or(|hive| !hive.is_living()) {
            // No lid, no note.
            continue;
        }
        let before = world.colonies.get(&colony).and_then(|_| ColonyView::of(world, colony, today));
        let other_note = before.is_none_or(|before| before.note != view.note || !before.label_wanted);
        if view.label_wanted && other_note {
            verdict.labels += 1;
        }
        if colony == context.id() && view.note.lines != context.card.view.note.lines {
            verdict.label = view.note.lines.to_vec();
        }
    }
    verdict
}

/// What follows is said before the reason is typed; what is still missing stays.
pub(crate) fn before_reason(context: &Context<'_>, verdict: &mut Verdict, with_reason: Result<Change, Trouble>) {
    if let Ok(change) = with_reason {
        let follows = of(context, &change);
        let trouble = follows.trouble.clone().or(verdict.trouble.take());
        *verdict = Verdict { trouble, ..follows };
    }
}

fn may_be_overruled(world: &World, change: &Change, today: Day) -> bool {
    match change {
        Change::Plan { plans, .. } => {
            let overruled = Change::Plan { plans: plans.clone(), overrule_soft: true };
            decide(world, &overruled, today).is_ok()
        }
        Change::Several { changes, .. } => changes.iter().any(|change| may_be_overruled(world, change, today)),
        _ => false,
    }
}

/// What the newest of this colony's records means that the facts add or alter.
fn sentence(after: &World, facts: &[Fact], of: ColonyId, today: Day) -> Option<(OutcomeClass, bool, String)> {
    let record: &Record = facts.iter().find_map(|fact| match fact {
        Fact::Record(edit) => edit.after.as_ref().filter(|record| record.colony == of && !record.struck),
        _ => None,
    })?;
    let id: RecordId = record.id;
    let outcome = course(after, record.colony, today)?.outcomes.into_iter().find(|(of, _)| *of == id)?.1;
    let failed = matches!(outcome.settled, Some((_, false)));
    Some((outcome.class, failed, outcome.sentence))
}

fn flag(facts: &[Fact]) -> Option<String> {
    facts.iter().find_map(|fact| {
        let Fact::Record(edit) = fact else { return None };
        let Happening::Visit(visit) = &edit.after.as_ref()?.what else { return None };
        visit.gave.as_ref()?.against_bar.clone()
    })
}

/// The colonies whose rows, records or plans the facts touch.
fn concerned(facts: &[Fact]) -> BTreeSet<ColonyId> {
    fn both<T>(edit: &Edit<T>, id: impl Fn(&T) -> ColonyId) -> impl Iterator<Item = ColonyId> {
        [edit.before.as_ref().map(&id), edit.after.as_ref().map(&id)].into_iter().flatten()
    }
    let mut found = BTreeSet::new();
    for fact in facts {
        match fact {
            Fact::Record(edit) => found.extend(both(edit, |record| record.colony)),
            Fact::Colony(edit) => found.extend(both(edit, |colony| colony.id)),
            Fact::Plan(edit) => found.extend(both(edit, |plan| plan.colony)),
            _ => {}
        }
    }
    found
}

/// `acceptance look, late`, `accepted`, `failed, 3 closed cells`.
pub(crate) fn state_words(view: &ColonyView, today: Day) -> String {
    let standing = &view.standing;
    let phase = match &standing.phase {
        Phase::Accepted { .. } => Some("accepted".to_owned()),
        Phase::Failed { how, .. } => Some(format!("failed, {how}")),
        Phase::DiseaseSuspected { .. } => Some("disease suspected, barred".to_owned()),
        Phase::Ended { .. } => Some("ended".to_owned()),
        Phase::Waiting { .. } => Some("waiting for her queen".to_owned()),
        Phase::RaisingOwn { .. } => Some("raising her own".to_owned()),
        Phase::Introduced(_) | Phase::Settled => None,
    };
    let work = standing.work.iter().map(|work| {
        let state = match work.window.state(today) {
            WorkState::Late => "late".to_owned(),
            WorkState::Open | WorkState::Ahead => work.window.words(),
        };
        format!("{}, {state}", work.kind.words())
    });
    let words: Vec<String> = phase.into_iter().chain(work).collect();
    if words.is_empty() {
        match standing.queen {
            QueenNow::Queenless { .. } => "queenless".to_owned(),
            _ => "nothing due".to_owned(),
        }
    } else {
        words.join("; ")
    }
}

/// What follows, in sentences.
pub(crate) fn show(ui: &mut Ui, verdict: &Verdict) {
    let t = theme::tokens(ui);
    if let Some((class, failed, sentence)) = &verdict.sentence {
        let bad = *failed || matches!(class, OutcomeClass::ToDecide | OutcomeClass::Barred);
        let asks = matches!(class, OutcomeClass::Another | OutcomeClass::Barred);
        let words = text::body(sentence).color(if bad { t.text_late } else { t.text_primary });
        ui.label(if asks { words.semibold() } else { words });
        if *class == OutcomeClass::Barred {
            Caution::new(
                "Stop here.",
                "Close it, isolate it, report under the local rules. Never requeen it, move no gear.",
            )
            .show(ui);
        }
    }
    if let Some(bar) = &verdict.flag {
        Caution::new(
            &format!("A bar holds: {bar}."),
            "What has been done is recorded all the same, and flagged on the card.",
        )
        .barred()
        .show(ui);
    }
    for stay in &verdict.stay {
        Caution::new(&format!("{stay}."), "What has been done is recorded all the same, and flagged on the card.")
            .barred()
            .show(ui);
    }
    if verdict.hives.is_empty() && verdict.looks.is_empty() {
        return;
    }
    parts::caption(ui, "What follows");
    for (look, days) in &verdict.looks {
        ui.label(text::two_tone(text::TABLE, days, t.text_primary, look, t.text_primary));
    }
    for hive in verdict.hives.iter().filter(|_| verdict.looks.is_empty() || verdict.hives.len() > 1) {
        ui.label(text::table(hive).color(t.text_primary));
    }
    if !verdict.label.is_empty() {
        let lines: Vec<&str> = verdict.label.iter().map(String::as_str).filter(|line| !line.is_empty()).collect();
        ui.label(text::table(format!("Label: {}", lines.join(" / "))).color(t.text_primary));
    }
    match verdict.labels {
        0 => {}
        1 => parts::remark(ui, "1 label waits to be printed."),
        many => parts::remark(ui, &format!("{many} labels wait to be printed.")),
    }
}
