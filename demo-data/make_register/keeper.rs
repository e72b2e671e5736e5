//! What the keepers do at a hive: they see to what is due, and find what chance lets them find.

use lidnote::domain::change::Change;
use lidnote::domain::colony::{Colony, FirstQueen, Founding, Lid, Named, Stand};
use lidnote::domain::day::Day;
use lidnote::domain::grammar::resolve::Choice;
use lidnote::domain::ids::{ColonyId, QueenId};
use lidnote::domain::in_hand::draw::From;
use lidnote::domain::queen::{Birth, Dot, Origin, Queen};
use lidnote::domain::record::Which;
use lidnote::domain::standing::{Phase, QueenNow, Standing, standing};
use lidnote::domain::work::{Look, Step, WorkKind};
use lidnote::domain::yard::{Layout, Spot};

use crate::maker::Done;
use crate::story::{Age, Sheets, Story, Then};

/// Finds at quiet hives.
const QUIET: &[(usize, &str)] = &[
    (20, "e t3"),
    (14, "eq t3"),
    (12, "elb t2"),
    (10, "lb t3"),
    (8, "eb t4"),
    (8, "e"),
    (7, "eq t4"),
    (6, "el t1"),
    (4, "lb t2 ' short of stores"),
    (3, "eq t3 ' strong, second super on"),
    (2, "e t2 ' chewed comb"),
    (2, "p l"),
    (1, "-t"),
    (1, "-r"),
];

impl Story {
    /// The hives of a yard, as places in the list.
    pub fn of_plot(&self, plot: usize) -> Vec<usize> {
        (0..self.hives.len()).filter(|hive| self.hives[*hive].plot == plot).collect()
    }

    /// Every hive of a yard is looked at; those with open work are seen to.
    pub fn check(&mut self, day: Day, plot: usize, sheets: &mut Sheets) {
        let by = self.plots[plot].by;
        for hive in self.of_plot(plot) {
            let Some(colony) = self.hives[hive].colony else { continue };
            if self.see_to(day, hive, colony, false, sheets) {
                continue;
            }
            let superseded = !self.hives[hive].sure && day.month() == 1 && self.chance.percent(2);
            let codes = if superseded { "u elb" } else { self.chance.weighted(QUIET) };
            sheets.add(by, colony, codes, Choice::default());
            if superseded {
                sheets.after.push(Then::Answer(colony, Which::Superseded, by));
            }
        }
    }

    /// Hives of a yard with open work are seen to.
    pub fn follow(&mut self, day: Day, plot: usize, last: bool, sheets: &mut Sheets) {
        for hive in self.of_plot(plot) {
            if let Some(colony) = self.hives[hive].colony {
                self.see_to(day, hive, colony, last, sheets);
            }
        }
    }

    /// Sees to what is open at a hive; says whether anything was.
    fn see_to(&mut self, day: Day, hive: usize, colony: ColonyId, last: bool, sheets: &mut Sheets) -> bool {
        let by = self.plots[self.hives[hive].plot].by;
        // What this spring's sheets tell of is not told twice.
        if self.hives[hive].told && (day.year(), day.month()) >= (2026, 10) {
            return false;
        }
        let Some(stands) = standing(&self.maker.world(), colony, day) else { return false };
        if stands.which.is_some() {
            let settled = matches!(stands.phase, Phase::Settled | Phase::Accepted { .. });
            let which = if settled || last { Which::Superseded } else { Which::Lost };
            sheets.after.push(Then::Answer(colony, which, by));
            return true;
        }
        let open = stands.work.iter().find(|work| work.window.open_on(day)).map(|work| work.kind);
        let failed = matches!(stands.phase, Phase::Failed { .. }) || matches!(stands.queen, QueenNow::Queenless { .. });
        if last && failed {
            self.unite(hive, colony, day, by, sheets);
            return true;
        }
        let Some(kind) = open else { return false };
        // Only the first looks of this spring go wrong, so that nothing of them is open on the day.
        let sure = self.hives[hive].sure
            || (day.year() == 2026 && day.month() >= 10 && !(16..=17).contains(&day.day_of_month()));
        let (codes, gives) = self.find_for(kind, &stands, sure);
        if codes.is_empty() {
            return false;
        }
        if codes == "unite" {
            self.unite(hive, colony, day, by, sheets);
            return true;
        }
        let choice = if gives { self.spare(day) } else { Choice::default() };
        sheets.add(by, colony, codes, choice);
        true
    }

    /// What is found at a piece of due work, and whether a queen is given with it.
    fn find_for(&mut self, kind: WorkKind, stands: &Standing, sure: bool) -> (&'static str, bool) {
        let queen_there = matches!(stands.queen, QueenNow::Present(_));
        let mut of = |well: &[(usize, &'static str)], ill: &[(usize, &'static str)], good: usize| {
            let good = if sure { 100 } else { good };
            let list = if self.chance.percent(good) { well } else { ill };
            let codes: Vec<(usize, &'static str)> = list.to_vec();
            pick(&mut self.chance, &codes)
        };
        let codes = match kind {
            WorkKind::Look(Look::Acceptance) => of(
                &[(50, "eq"), (25, "e"), (10, "elq"), (8, "eq t3"), (4, "e t2"), (3, "eq t4")],
                &[(30, "n"), (25, "q"), (20, "c3 /c"), (10, "c2 /c"), (10, "u"), (5, "m"), (8, "-r"), (5, "p")],
                88,
            ),
            WorkKind::Look(Look::SecondAcceptance) => of(&[(60, "eq"), (40, "e")], &[(1, "n")], 75),
            WorkKind::Look(Look::FirstBrood) => of(
                &[(50, "e"), (20, "elq"), (20, "el")],
                &[(30, "b"), (25, "n"), (20, "q"), (10, "c2 /c"), (8, "-r")],
                75,
            ),
            WorkKind::Look(Look::Verdict) => of(&[(70, "elb"), (30, "elbq")], &[(4, "e"), (3, "n"), (1, "d")], 72),
            WorkKind::Look(Look::CappedBrood) => of(&[(3, "eb"), (2, "elbq")], &[(1, "d")], 85),
            WorkKind::Look(Look::Again) => of(&[(1, "e"), (1, "eq")], &[(1, "n")], 85),
            WorkKind::Look(Look::Frame | Look::LookFirst) => "n",
            WorkKind::Look(Look::Temper) => "e t3",
            WorkKind::Step(Step::CageOff) => "k /k",
            WorkKind::Step(Step::CutCells) => "c2 /c",
            WorkKind::Step(Step::Give) => return (if queen_there { "/q +q" } else { "+q" }, true),
            WorkKind::Step(Step::FindOldQueen) if matches!(stands.phase, Phase::Introduced(_)) => "/q",
            WorkKind::Step(Step::RemoveFailed | Step::FindOldQueen | Step::Dequeen) => return ("/q +q", true),
            WorkKind::Step(Step::UniteOrShakeOut) => "unite",
            WorkKind::Step(Step::Mark | Step::Isolate) => "",
        };
        (codes, false)
    }

    /// A queen out of a parcel that has some left, else one of whom the register knows nothing more.
    fn spare(&self, day: Day) -> Choice {
        let world = self.maker.world();
        let in_hand = lidnote::domain::in_hand::all_in_hand(&world, day);
        let caged = lidnote::domain::parcel::ParcelKind::CagedQueens;
        let some = self.parcels.iter().find(|(_, id)| {
            let left = in_hand.get(id).is_some_and(|it| it.left > 6 && it.held_days.is_some_and(|days| days < 30));
            left && world.parcels.get(id).is_some_and(|parcel| parcel.kind == caged)
        });
        match some {
            Some((key, _)) => self.out_of_parcel(&key.clone()),
            None => Choice {
                from: self.sources.get("Thrift").copied().map_or(From::NotKnown, From::SourceAlone),
                birth: Some(Birth::between(day.plus(-90), day.plus(-40))),
                dot: Some(Dot::of_year(day.year())),
            },
        }
    }

    /// A colony without hope goes into its neighbour; its number is free until it is taken again.
    fn unite(&mut self, hive: usize, colony: ColonyId, day: Day, by: &'static str, sheets: &mut Sheets) {
        let quiet = |other: &usize| *other != hive && self.is_quiet(*other, day);
        let into = self.of_plot(self.hives[hive].plot).into_iter().find(quiet).and_then(|it| self.hives[it].colony);
        let Some(into) = into.filter(|into| !sheets.entered.contains(into)) else { return };
        sheets.entered.insert(into);
        sheets.entered.insert(colony);
        sheets.after.push(Then::Unite(colony, into, by));
        self.hives[hive].colony = None;
    }

    /// Numbers that are free are taken by nucs with queens of the season.
    pub fn refill(&mut self, day: Day) -> Done {
        self.maker.sit_down(day);
        let (mut colonies, mut queens) = (Vec::new(), Vec::new());
        for hive in 0..self.hives.len() {
            if self.hives[hive].colony.is_none() && !self.reserved(hive, day) {
                let (colony, queen) = self.nuc(hive, day, Founding::Nuc);
                self.hives[hive].colony = Some(colony.id);
                colonies.push(colony);
                queens.extend(queen);
            }
        }
        if colonies.is_empty() { Ok(()) } else { self.maker.apply(&Change::Found { colonies, queens }, day) }
    }

    /// A number kept free until a later season.
    fn reserved(&self, hive: usize, day: Day) -> bool {
        self.hives[hive].age == Age::Second && day.year() < 2025 && !self.hives[hive].sure
    }

    /// A nuc with a young queen for a number.
    pub fn nuc(&mut self, hive: usize, day: Day, how: Founding) -> (Colony, Option<Queen>) {
        let id = QueenId(self.maker.mint());
        let source = self.chance.weighted(&[(5, "Thrift"), (3, "Broom"), (3, "Tansy")]);
        let queen = Queen {
            id,
            birth: Birth::between(day.plus(-40), day.plus(-30)),
            origin: Origin::WithColony,
            source: self.sources.get(source).copied(),
            dot: self.chance.percent(70).then(|| Dot::of_year(day.year())),
            words: String::new(),
        };
        (self.founded(hive, day, how, FirstQueen::Recorded(id)), Some(queen))
    }

    /// Where a hive stands in its yard: ten to a row, four to a pallet.
    pub fn spot(&self, hive: usize) -> Spot {
        let plot = self.hives[hive].plot;
        let number = self.of_plot(plot).iter().position(|other| *other == hive).unwrap_or(0);
        let per_row = match self.plots[plot].layout {
            Layout::Rows => 10,
            Layout::Pallets => 4,
        };
        Spot { row: (number / per_row + 1) as u16, place: (number % per_row + 1) as u16 }
    }

    /// A hive of the many, with a queen and nothing going on.
    pub fn is_quiet(&self, hive: usize, day: Day) -> bool {
        let it = &self.hives[hive];
        !it.sure
            && it.colony.and_then(|id| standing(&self.maker.world(), id, day)).is_some_and(|stands| {
                matches!(stands.phase, Phase::Settled | Phase::Accepted { .. }) && stands.work.is_empty()
            })
    }

    /// A colony that takes a number from a day on.
    pub fn founded(&mut self, hive: usize, day: Day, how: Founding, began_with: FirstQueen) -> Colony {
        let it = &self.hives[hive];
        // The boxes of South Stile had plain numbers until 2024.
        let plain = self.plots[it.plot].prefix == "SS" && day.year() < 2024;
        let (name, plot) = (if plain { it.name.replace("SS", "") } else { it.name.clone() }, it.plot);
        let spot = self.spot(hive);
        Colony {
            id: ColonyId(self.maker.mint()),
            names: vec![Named { name, from: day }],
            stands: vec![Stand { yard: self.yards[plot], spot: Some(spot), from: day }],
            lid: Lid::default(),
            founded: day,
            how,
            began_with,
            ended: None,
            note: String::new(),
            corrected: Vec::new(),
        }
    }
}

fn pick(chance: &mut crate::chance::Chance, list: &[(usize, &'static str)]) -> &'static str {
    let all: usize = list.iter().map(|(weight, _)| weight).sum();
    let mut at = chance.below(all);
    for (weight, codes) in list {
        if at < *weight {
            return codes;
        }
        at -= weight;
    }
    ""
}
