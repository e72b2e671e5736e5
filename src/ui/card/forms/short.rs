//! The short forms of one act each: what they hold, and the change each makes.

use crate::domain::bar::{Bar, BarKind, BarOn, Lifted};
use crate::domain::change::{Change, NewVisit, Occasion};
use crate::domain::colony::{Colony, End, EndWhy, FirstQueen, Founding, Lid, Named, Stand};
use crate::domain::day::Day;
use crate::domain::day_words::Lean;
use crate::domain::ids::{BarId, ColonyId, RecordId};
use crate::domain::plan::open_plan;
use crate::domain::queen::Dot;
use crate::domain::visit::{Did, Marked, Visit};
use crate::domain::yard::Spot;
use crate::ui::card::forms::verdict::Trouble;
use crate::ui::card::forms::{Context, Mint, fields, lookup};
use crate::ui::card::model::Lift;
use crate::ui::scene::Scene;

/// Which of the short forms.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum ShortKind {
    Dequeen,
    Mark,
    Sign,
    Move,
    Swap,
    Lids,
    Rename,
    Split,
    Unite,
    Bar,
    LiftBar(Lift),
    CallOff,
    End,
}

/// What is typed and chosen. Each form draws those it needs.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Short {
    pub kind: ShortKind,
    pub day: String,
    pub by: String,
    /// Words, a reason, a new name.
    pub words: String,
    /// The other hive, or the yard.
    pub other: String,
    pub row: String,
    pub place: String,
    pub until: String,
    pub permit: String,
    /// Found and removed; the queen goes with the split.
    pub yes: bool,
    pub swarmed: bool,
    /// Queen cells begun, as typed.
    pub begun: String,
    pub dot: Option<Dot>,
    pub temper: Option<u8>,
    pub bar: BarKind,
    pub why: EndWhy,
}

/// Why a colony ends, for the chips. The hive it was united into is named by the form for that.
pub(crate) const WHYS: [(&str, EndWhy); 5] = [
    ("Died", EndWhy::Died),
    ("Sold", EndWhy::Sold),
    ("Shaken out", EndWhy::ShakenOut),
    ("Destroyed under the local rules", EndWhy::Destroyed),
    ("Entered by mistake", EndWhy::Gone),
];

/// The kinds of bar that are set by hand.
pub(crate) const BARS: [(&str, BarKind); 10] = [
    ("Treatment in", BarKind::Treatment),
    ("Spraying near", BarKind::Spraying),
    ("Robbing", BarKind::Robbing),
    ("Swarming", BarKind::Swarming),
    ("Weather", BarKind::Weather),
    ("Own reason", BarKind::Own),
    ("Laying workers", BarKind::LayingWorkers),
    ("Brood disease suspected", BarKind::Disease),
    ("American foulbrood suspected", BarKind::AmericanFoulbrood),
    ("Quarantine", BarKind::Quarantine),
];

impl Short {
    pub(crate) fn new(scene: &Scene, colony: ColonyId, kind: ShortKind) -> Self {
        let hive = scene.world.colonies.get(&colony);
        let yard = hive.and_then(|hive| hive.yard()).and_then(|yard| scene.world.yards.get(&yard));
        let names_yard = matches!(kind, ShortKind::Move);
        Self {
            kind,
            day: scene.today.short(),
            by: scene.prefs.initials.clone(),
            words: String::new(),
            other: yard.filter(|_| names_yard).map_or(String::new(), |yard| yard.name.clone()),
            row: String::new(),
            place: String::new(),
            until: String::new(),
            permit: String::new(),
            yes: kind == ShortKind::Dequeen,
            swarmed: false,
            begun: String::new(),
            dot: None,
            temper: None,
            bar: BarKind::Treatment,
            why: EndWhy::Died,
        }
    }

    /// The change it would make.
    pub(super) fn made(&self, context: &Context<'_>, mint: Mint<'_>) -> Result<Change, Trouble> {
        let day = fields::read(&self.day, context.today(), self.lean())?;
        let own = context.id();
        match self.kind {
            ShortKind::Dequeen | ShortKind::Mark | ShortKind::Sign | ShortKind::Lids => {
                self.visit(context).map(|visit| self.visited(own, day, visit, mint))
            }
            ShortKind::Move => {
                let yard = lookup::yard(&context.scene.world, &self.other)?;
                Ok(Change::Move { to: vec![(own, yard, self.spot()?)], day })
            }
            ShortKind::Swap => {
                let other = lookup::hive(&context.scene.world, context.colony, &self.other)?;
                Ok(Change::SwapPlaces { one: own, other, day })
            }
            ShortKind::Rename => {
                if self.words.trim().is_empty() {
                    return Err(Trouble::missing("Type the new name."));
                }
                Ok(Change::Rename { names: vec![(own, self.words.trim().to_owned())], day })
            }
            ShortKind::Split => self.split(context, day, mint),
            ShortKind::Unite => {
                let into = lookup::hive(&context.scene.world, context.colony, &self.other)?;
                Ok(Change::Unite { from: own, into, day, record: RecordId(mint()), by: self.by() })
            }
            ShortKind::Bar => self.bar(own, day, context.today(), mint),
            ShortKind::LiftBar(lift) => self.lift(own, lift, day, mint),
            ShortKind::CallOff => match open_plan(&context.scene.world, own) {
                Some(plan) => Ok(Change::CallOff { plans: vec![plan.id], day }),
                None => Err(Trouble::new("No plan is open here.")),
            },
            ShortKind::End => {
                let end = End { day, why: self.why, by: self.by(), words: self.words.trim().to_owned() };
                Ok(Change::End { colonies: vec![own], end })
            }
        }
    }

    /// A bar may begin on a day to come; what was done was done before.
    pub(super) fn lean(&self) -> Lean {
        if self.kind == ShortKind::Bar { Lean::Nearest } else { Lean::Back }
    }

    fn by(&self) -> String {
        self.by.trim().to_owned()
    }

    fn visit(&self, context: &Context<'_>) -> Result<Visit, Trouble> {
        let mut visit = Visit::default();
        match self.kind {
            ShortKind::Dequeen => {
                visit.did = Did { dequeened: self.yes, queen_not_found: !self.yes, ..Did::default() };
            }
            ShortKind::Mark => visit.did.marked = Some(Marked { dot: self.dot }),
            ShortKind::Lids => {
                visit.lids_swapped = Some(lookup::hive(&context.scene.world, context.colony, &self.other)?);
            }
            _ => {
                visit.temper = self.temper;
                visit.seen.swarmed = self.swarmed;
                if !self.begun.trim().is_empty() {
                    visit.seen.begun_cells = Some(fields::read_number(&self.begun, "Cells begun", 1, 99)?);
                }
                if visit == Visit::default() && self.words.trim().is_empty() {
                    return Err(Trouble::missing("Choose a temper or a sign, or type words."));
                }
            }
        }
        Ok(visit)
    }

    fn visited(&self, colony: ColonyId, day: Day, visit: Visit, mint: Mint<'_>) -> Change {
        let new = NewVisit {
            record: RecordId(mint()),
            colony,
            day,
            by: self.by(),
            words: self.words.trim().to_owned(),
            visit,
        };
        Change::Visits { occasion: Occasion::Find, visits: vec![new], queens: Vec::new() }
    }

    /// Row and place; neither is typed: not known.
    fn spot(&self) -> Result<Option<Spot>, Trouble> {
        if self.row.trim().is_empty() && self.place.trim().is_empty() {
            return Ok(None);
        }
        let row = fields::read_number(&self.row, "The row or pallet", 1, 9_999)?;
        let place = fields::read_number(&self.place, "The place", 1, 9_999)?;
        Ok(Some(Spot { row, place }))
    }

    fn split(&self, context: &Context<'_>, day: Day, mint: Mint<'_>) -> Result<Change, Trouble> {
        let name = self.words.trim().to_owned();
        if name.is_empty() {
            return Err(Trouble::missing("Name the new hive."));
        }
        let Some(yard) = context.colony.yard() else {
            return Err(Trouble::new("No yard is known for this hive. Move it to one first."));
        };
        let daughter = Colony {
            id: ColonyId(mint()),
            names: vec![Named { name, from: day }],
            stands: vec![Stand { yard, spot: self.spot()?, from: day }],
            lid: Lid::default(),
            founded: day,
            how: Founding::SplitFrom(context.id()),
            began_with: FirstQueen::None,
            ended: None,
            note: String::new(),
            corrected: Vec::new(),
        };
        let records = [RecordId(mint()), RecordId(mint())];
        let daughter = Box::new(daughter);
        Ok(Change::Split { parent: context.id(), daughter, queen_goes: self.yes, records, by: self.by() })
    }

    fn bar(&self, own: ColonyId, from: Day, today: Day, mint: Mint<'_>) -> Result<Change, Trouble> {
        let until = fields::read_maybe(&self.until, today, Lean::Nearest)?;
        let permit = self.permit.trim();
        Ok(Change::PutBar(Bar {
            id: BarId(mint()),
            on: BarOn::Colony(own),
            kind: self.bar,
            from,
            until,
            reason: self.words.trim().to_owned(),
            by: self.by(),
            permit: (self.bar == BarKind::Quarantine && !permit.is_empty()).then(|| permit.to_owned()),
            lifted: None,
        }))
    }

    fn lift(&self, colony: ColonyId, lift: Lift, day: Day, mint: Mint<'_>) -> Result<Change, Trouble> {
        let why = self.words.trim().to_owned();
        if why.is_empty() {
            return Err(Trouble::missing("Say why it is lifted, and on whose word."));
        }
        Ok(match lift {
            Lift::Set(bar) => Change::LiftBar { bar, lifted: Lifted { on: day, by: self.by(), why } },
            Lift::Found => Change::LiftFoundBar { colony, record: RecordId(mint()), day, why, by: self.by() },
        })
    }
}
