//! A yard of hives in every state a card can show, and an app in miniature: what is decided is applied at once.

use std::sync::Arc;

use egui::Panel;
use lidnote::domain::change::{Amendment, Change, NewVisit, Occasion};
use lidnote::domain::colony::{Colony, FirstQueen, Founding, Lid, Named, Stand};
use lidnote::domain::day::Day;
use lidnote::domain::decide::{decide, title};
use lidnote::domain::fact::Fact;
use lidnote::domain::grammar::codes::parse;
use lidnote::domain::grammar::resolve::{Choice, resolve};
use lidnote::domain::ids::{ColonyId, ParcelId, PlanId, QueenId, RecordId, SourceId, YardId};
use lidnote::domain::in_hand::draw::{From, Hand};
use lidnote::domain::parcel::{Parcel, ParcelKind};
use lidnote::domain::plan::Plan;
use lidnote::domain::queen::{Birth, Dot, Origin, Queen, Source};
use lidnote::domain::visit::Method;
use lidnote::domain::world::World;
use lidnote::domain::yard::{Spot, Yard};
use lidnote::planner::outlook::Outlook;
use lidnote::ui::action::{Action, Goto, Outbox};
use lidnote::ui::card::{self, CardAnswer, CardState};
use lidnote::ui::scene::{HistoryInfo, HistoryLine, PrefsInfo, RegisterInfo, Scene, SheetInfo};
use uuid::Uuid;

/// A day in ISO 8601.
pub fn day(iso: &str) -> Day {
    Day::from_iso(iso).expect("a day")
}

/// A world that grows by decided changes.
pub struct Beginning {
    pub world: World,
    next: u128,
    yard: YardId,
    thrift: SourceId,
    broom: SourceId,
    parcel: ParcelId,
    late_parcel: ParcelId,
}

impl Beginning {
    fn id(&mut self) -> Uuid {
        self.next += 1;
        Uuid::from_u128(self.next)
    }

    fn apply(&mut self, change: &Change, today: Day) {
        let facts = decide(&self.world, change, today).unwrap_or_else(|refusal| panic!("{refusal}"));
        self.world.advance_all(&facts);
    }

    /// A hive with a queen of her third season.
    fn hive(&mut self, name: &str, row: u16, place: u16) -> ColonyId {
        let from = day("2026-09-01");
        let queen = Queen {
            id: QueenId(self.id()),
            birth: Birth::in_month(2024, 10),
            origin: Origin::Mated,
            source: Some(self.broom),
            dot: Some(Dot::Green),
            words: String::new(),
        };
        let colony = Colony {
            id: ColonyId(self.id()),
            names: vec![Named { name: name.to_owned(), from }],
            stands: vec![Stand { yard: self.yard, spot: Some(Spot { row, place }), from }],
            lid: Lid::default(),
            founded: from,
            how: Founding::Known,
            began_with: FirstQueen::Recorded(queen.id),
            ended: None,
            note: String::new(),
            corrected: Vec::new(),
        };
        let id = colony.id;
        self.apply(&Change::Found { colonies: vec![colony], queens: vec![queen] }, from);
        id
    }

    /// A visit told in codes; the record's id.
    fn visit(&mut self, hive: ColonyId, codes: &str, on: &str, by: &str) -> RecordId {
        let codes = parse(codes).unwrap_or_else(|error| panic!("{error}"));
        let choice = Choice {
            from: From::Parcel(self.parcel),
            dot: Some(Dot::White),
            birth: Some(Birth::between(day("2026-09-20"), day("2026-09-24"))),
        };
        let next = &mut self.next;
        let mut mint = || {
            *next += 1;
            Uuid::from_u128(*next)
        };
        let made = resolve(&mut Hand::of(&self.world), hive, day(on), by, &codes, &choice, &mut mint);
        let (new, queens): (NewVisit, Vec<Queen>) = made.unwrap_or_else(|error| panic!("{error}"));
        let record = new.record;
        let change = Change::Visits { occasion: Occasion::Find, visits: vec![new], queens };
        self.apply(&change, day(on));
        record
    }

    fn plan(&mut self, hive: ColonyId, made: &str, give_on: &str, dequeen_on: &str) {
        let plan = Plan {
            id: PlanId(self.id()),
            colony: hive,
            method: Method::Caged,
            source: Some(self.broom),
            parcel: Some(self.late_parcel),
            give_on: day(give_on),
            dequeen_on: Some(day(dequeen_on)),
            made: day(made),
            called_off: None,
            moved: Vec::new(),
        };
        self.apply(&Change::Plan { plans: vec![plan], overrule_soft: false }, day(made));
    }
}

fn parcel(id: ParcelId, source: SourceId) -> Parcel {
    Parcel {
        id,
        source: Some(source),
        kind: ParcelKind::CagedQueens,
        count: 40,
        dead: 2,
        gone: 0,
        sent: None,
        due: None,
        promised: None,
        arrived: None,
        grafted: None,
        born: Birth::default(),
        dot: None,
        closed: false,
        note: String::new(),
    }
}

/// Broom Flat: B12 settled, B14 caged on the 14th, B15 with a find put wrongly on it, B22 failed, B27 waiting with its
/// parcel late, B30 with another queen, B33 with disease suspected, B36 late.
pub fn broom_flat() -> Beginning {
    let id = Uuid::from_u128;
    let mut begin = Beginning {
        world: World::default(),
        next: 100,
        yard: YardId(id(1)),
        thrift: SourceId(id(2)),
        broom: SourceId(id(3)),
        parcel: ParcelId(id(4)),
        late_parcel: ParcelId(id(5)),
    };
    let first = day("2026-09-01");
    begin.apply(&Change::PutYard(Box::new(Yard::named(begin.yard, "Broom Flat"))), first);
    begin.apply(&Change::PutYard(Box::new(Yard::named(YardId(id(6)), "Heath yard"))), first);
    for (source, name) in [(begin.thrift, "Thrift"), (begin.broom, "Broom")] {
        begin.apply(&Change::PutSource(Source { id: source, name: name.to_owned(), own: true }), first);
    }
    let arrived = Parcel { arrived: Some(day("2026-11-12")), ..parcel(begin.parcel, begin.thrift) };
    begin.apply(&Change::PutParcel(arrived), day("2026-11-12"));
    let awaited = Parcel { due: Some(day("2026-11-14")), ..parcel(begin.late_parcel, begin.broom) };
    begin.apply(&Change::PutParcel(awaited), day("2026-11-01"));
    let names = ["B12", "B14", "B15", "B22", "B27", "B30", "B33", "B36"];
    let hives: Vec<ColonyId> = names.into_iter().zip(1..).map(|(name, place)| begin.hive(name, 2, place)).collect();
    let [_, b14, b15, b22, b27, b30, b33, b36] = hives.as_slice() else { panic!("eight hives") };
    begin.plan(*b27, "2026-11-01", "2026-11-14", "2026-11-13");
    let wrong = begin.visit(*b15, "elb t2", "2026-11-02", "JT");
    let reason = "wrong row of the sheet";
    let amendment = Amendment { to: Some(*b14), ..Amendment::of(*b15, wrong, reason, "JT") };
    begin.apply(&Change::Amend(Box::new(amendment)), day("2026-11-06"));
    begin.visit(*b14, "+q/q", "2026-11-14", "MK");
    begin.visit(*b15, "+q/q", "2026-11-09", "MK");
    begin.visit(*b22, "+q/q", "2026-11-08", "MK");
    begin.visit(*b22, "c3", "2026-11-20", "MK");
    begin.visit(*b27, "/q", "2026-11-13", "MK");
    let (parcel, promised, on) = (begin.late_parcel, day("2026-11-25"), day("2026-11-16"));
    begin.apply(&Change::ParcelLate { parcel, promised, day: on }, on);
    begin.visit(*b27, "-r", "2026-11-20", "JT");
    begin.visit(*b30, "+q/q", "2026-11-10", "MK");
    begin.visit(*b30, "eu", "2026-11-20", "MK");
    begin.visit(*b33, "x1", "2026-11-18", "JT");
    begin.visit(*b36, "+q/q", "2026-11-04", "MK");
    begin
}

/// The card with what it keeps, and the app in miniature.
pub struct Stage {
    pub scene: Scene,
    pub state: CardState,
    pub colony: ColonyId,
    pub out: Outbox,
    pub goto: Option<Goto>,
    pub answer: CardAnswer,
    /// Everything the card asked for.
    pub asked: Vec<Action>,
    /// Titles and facts of the changes, for undo.
    pub done: Vec<(String, Vec<Fact>)>,
}

impl Stage {
    pub fn new(begin: Beginning, today: Day, hive: &str) -> Self {
        let mut next = begin.next + 1000;
        let mint = move || {
            next += 1;
            Uuid::from_u128(next)
        };
        let scene = Scene {
            outlook: Arc::new(Outlook::new(&begin.world, today)),
            world: Arc::new(begin.world),
            today,
            version: 1,
            register: Some(RegisterInfo::default()),
            job: None,
            sheets: vec![SheetInfo { name: "A4, 3 x 8".to_owned(), labels: 24 }],
            history: None,
            backups: Vec::new(),
            verified: None,
            not_recorded: Vec::new(),
            written: Vec::new(),
            prefs: PrefsInfo { initials: "MK".to_owned(), ..PrefsInfo::default() },
        };
        let colony = hive_called(&scene.world, hive);
        Self {
            scene,
            state: CardState::default(),
            colony,
            out: Outbox::new(Box::new(mint)),
            goto: None,
            answer: CardAnswer::Stay,
            asked: Vec::new(),
            done: Vec::new(),
        }
    }

    pub fn draw(&mut self, ui: &mut egui::Ui) {
        Panel::right("card panel").exact_size(452.0).frame(egui::Frame::NONE).show(ui, |ui| {
            let answer = card::show(ui, &self.scene, &mut self.state, self.colony, &mut self.goto, &mut self.out);
            if answer != CardAnswer::Stay {
                self.answer = answer;
            }
        });
        for action in self.out.take() {
            self.act(&action);
            self.asked.push(action);
        }
    }

    fn act(&mut self, action: &Action) {
        match action {
            Action::Change(change) => {
                let title = title(&self.scene.world, change);
                let facts =
                    decide(&self.scene.world, change, self.scene.today).unwrap_or_else(|refusal| panic!("{refusal}"));
                self.take(&facts);
                self.done.push((title, facts));
            }
            Action::FetchHistory(of) => {
                let line = HistoryLine {
                    at: "14 Nov 2026 19:12".to_owned(),
                    title: "B14 caged queen given: Thrift".to_owned(),
                    undone: false,
                };
                self.scene.history = Some(HistoryInfo { of: *of, version: self.scene.version, lines: vec![line] });
            }
            _ => {}
        }
    }

    fn take(&mut self, facts: &[Fact]) {
        let mut world = World::clone(&self.scene.world);
        world.advance_all(facts);
        self.scene.outlook = Arc::new(self.scene.outlook.brought_up(&self.scene.world, &world, self.scene.today));
        self.scene.world = Arc::new(world);
        self.scene.version += 1;
    }

    /// How a hive stands, in the words of its label.
    pub fn label(&self, hive: &str) -> Vec<String> {
        let id = hive_called(&self.scene.world, hive);
        self.scene.outlook.colonies.get(&id).expect("a living hive").note.lines.to_vec()
    }
}

fn hive_called(world: &World, name: &str) -> ColonyId {
    world.living().find(|colony| colony.name() == name).expect("a hive of that name").id
}
