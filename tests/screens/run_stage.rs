//! The Run and evening entry on a made-up world, with an app in miniature behind them: what is decided is applied at
//! once, proposals are made at once, everything else is only noted.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;

use egui_kittest::Harness;
use lidnote::domain::change::{Change, NewVisit, Occasion};
use lidnote::domain::colony::{Colony, FirstQueen, Founding, Lid, Named, Stand};
use lidnote::domain::day::Day;
use lidnote::domain::decide::{decide, title};
use lidnote::domain::fact::Fact;
use lidnote::domain::grammar::codes::parse;
use lidnote::domain::grammar::resolve::{Choice, resolve};
use lidnote::domain::ids::{ColonyId, SourceId, YardId};
use lidnote::domain::in_hand::draw::{From, Hand};
use lidnote::domain::place::Place;
use lidnote::domain::queen::{Birth, Dot, Source};
use lidnote::domain::run_order::RunOrder;
use lidnote::domain::world::World;
use lidnote::domain::yard::{Spot, Yard};
use lidnote::planner::outlook::Outlook;
use lidnote::planner::run::lights::Lights;
use lidnote::planner::run::plan::plan;
use lidnote::planner::run::propose::propose;
use lidnote::ui::action::{Action, Goto, Outbox, Wanted};
use lidnote::ui::event::Event;
use lidnote::ui::map::base::view::BaseMap;
use lidnote::ui::scene::{PrefsInfo, RegisterInfo, Scene, SheetInfo};
use lidnote::ui::screens::map::MapState;
use lidnote::ui::screens::run::{self, RunState};
use lidnote::ui::theme;
use uuid::Uuid;

/// A day in ISO 8601.
pub fn day(iso: &str) -> Day {
    Day::from_iso(iso).expect("a day")
}

/// A world that grows by decided changes.
#[derive(Default)]
pub struct Beginning {
    pub world: World,
    pub next: u128,
}

impl Beginning {
    pub fn id(&mut self) -> Uuid {
        self.next += 1;
        Uuid::from_u128(self.next)
    }

    pub fn apply(&mut self, change: &Change, today: Day) {
        let facts = decide(&self.world, change, today).unwrap_or_else(|refusal| panic!("{refusal}"));
        self.world.advance_all(&facts);
    }

    pub fn home(&mut self, name: &str, lat: f64, lon: f64) {
        let mut firm = self.world.firm.clone();
        firm.home = Place::new(lat, lon);
        name.clone_into(&mut firm.home_name);
        "Wrackmore Bees".clone_into(&mut firm.name);
        self.apply(&Change::SetFirm(Box::new(firm)), day("2026-09-01"));
        let change = Change::SetSetting { name: "utc_offset".to_owned(), value: 660.0 };
        self.apply(&change, day("2026-09-01"));
    }

    pub fn source(&mut self, name: &str) -> SourceId {
        let id = SourceId(self.id());
        self.apply(&Change::PutSource(Source { id, name: name.to_owned(), own: true }), day("2026-09-01"));
        id
    }

    pub fn yard(&mut self, name: &str, lat: f64, lon: f64) -> YardId {
        let id = YardId(self.id());
        let mut yard = Yard::named(id, name);
        yard.place = Place::new(lat, lon);
        self.apply(&Change::PutYard(Box::new(yard)), day("2026-09-01"));
        id
    }

    pub fn hives(&mut self, yard: YardId, letters: &str, count: u16) -> Vec<ColonyId> {
        let from = day("2026-09-01");
        let colonies: Vec<Colony> = (1..=count)
            .map(|place| Colony {
                id: ColonyId(self.id()),
                names: vec![Named { name: format!("{letters}{place:02}"), from }],
                stands: vec![Stand { yard, spot: Some(Spot { row: 1, place }), from }],
                lid: Lid::default(),
                founded: from,
                how: Founding::Known,
                began_with: FirstQueen::Unknown,
                ended: None,
                note: String::new(),
                corrected: Vec::new(),
            })
            .collect();
        let ids = colonies.iter().map(|colony| colony.id).collect();
        self.apply(&Change::Found { colonies, queens: Vec::new() }, from);
        ids
    }

    /// Visits told in codes.
    pub fn visits(&mut self, hives: &[ColonyId], codes: &str, source: SourceId, on: Day) {
        let codes = parse(codes).unwrap_or_else(|error| panic!("{error}"));
        let choice =
            Choice { from: From::SourceAlone(source), dot: Some(Dot::White), birth: Some(Birth::in_month(2026, 10)) };
        let mut visits: Vec<NewVisit> = Vec::new();
        let mut queens = Vec::new();
        for hive in hives {
            let next = &mut self.next;
            let mut mint = || {
                *next += 1;
                Uuid::from_u128(*next)
            };
            let made = resolve(&mut Hand::of(&self.world), *hive, on, "MK", &codes, &choice, &mut mint);
            let (new, minted) = made.unwrap_or_else(|error| panic!("{error}"));
            visits.push(new);
            queens.extend(minted);
        }
        let occasion = if codes.gives.is_some() { Occasion::Introduction } else { Occasion::Find };
        let queens = if codes.gives.is_some() { queens } else { Vec::new() };
        self.apply(&Change::Visits { occasion, visits, queens }, on);
    }
}

/// Seven yards round a shed with caged queens to look at on 24 Nov 2026, and one yard whose look is not due yet.
pub fn island() -> Beginning {
    let mut begin = Beginning::default();
    begin.home("Port Sallow shed", -40.10, 159.80);
    let thrift = begin.source("Thrift");
    let broom = begin.source("Broom");
    let yards = [
        ("Mill Race", "MR", -40.08, 159.90, 3, "2026-11-13", "+q"),
        ("Limekiln", "LK", -40.07, 159.98, 3, "2026-11-14", "+q"),
        ("Ninefold Ford", "NF", -40.06, 160.05, 4, "2026-11-09", "+c"),
        ("Gorse Cutting", "GC", -40.02, 160.06, 5, "2026-11-08", "+q"),
        ("Broom Flat", "B", -39.97, 160.12, 9, "2026-11-14", "+q"),
        ("Windbreak", "WB", -39.93, 160.25, 3, "2026-10-25", "+c"),
        ("Blackthorn Rise", "BR", -39.95, 160.02, 2, "2026-11-07", "+q"),
        ("Far Head", "FH", -39.90, 160.30, 4, "2026-11-21", "+q"),
    ];
    for (at, (name, letters, lat, lon, count, given, codes)) in yards.into_iter().enumerate() {
        let yard = begin.yard(name, lat, lon);
        let hives = begin.hives(yard, letters, count);
        begin.visits(&hives, codes, if at % 2 == 0 { thrift } else { broom }, day(given));
    }
    begin
}

/// The screen with what it keeps, and the app in miniature.
pub struct Stage {
    pub scene: Scene,
    pub run: RunState,
    pub map: MapState,
    pub out: Outbox,
    pub goto: Option<Goto>,
    /// Everything the screen asked for.
    pub asked: Vec<Action>,
    /// The facts of each change, for undo.
    pub done: Vec<(String, Vec<Fact>)>,
    pub refused: Vec<String>,
    /// Runs are planned only when the test says so.
    pub slow: bool,
}

/// The answer to a question about a run.
pub fn planned(scene: &Scene, asked: u64, run: &RunOrder, wanted: Wanted) -> Event {
    let mut lights = Lights::default();
    let proposal = match wanted {
        Wanted::Times => {
            plan(&scene.world, &scene.outlook, run, &mut lights).expect("times");
            None
        }
        Wanted::Order | Wanted::Day => {
            let within_day = wanted == Wanted::Day;
            let made = propose(&scene.world, &scene.outlook, run, within_day, &mut lights, &|| false);
            Some(Box::new(made.expect("a proposal")))
        }
    };
    Event::Planned { asked, proposal, lights: Box::new(lights) }
}

impl Stage {
    pub fn new(begin: Beginning, today: Day) -> Self {
        let outlook = Outlook::new(&begin.world, today);
        let mut next = begin.next + 1000;
        let mint = move || {
            next += 1;
            Uuid::from_u128(next)
        };
        let scene = Scene {
            world: Arc::new(begin.world),
            outlook: Arc::new(outlook),
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
        let mut base = BaseMap::new();
        base.set_sync(true);
        Self {
            scene,
            run: RunState::default(),
            map: MapState::new(base),
            out: Outbox::new(Box::new(mint)),
            goto: None,
            asked: Vec::new(),
            done: Vec::new(),
            refused: Vec::new(),
            slow: false,
        }
    }

    pub fn draw(&mut self, ui: &mut egui::Ui) {
        run::show(ui, &self.scene, &mut self.run, &mut self.map, &mut self.goto, &mut self.out);
        for action in self.out.take() {
            self.act(&action);
            self.asked.push(action);
            ui.request_repaint();
        }
        if let Some(goto) = self.goto.take() {
            self.run.go(&goto);
        }
    }

    fn act(&mut self, action: &Action) {
        match action {
            Action::Change(change) => {
                let name = title(&self.scene.world, change);
                match decide(&self.scene.world, change, self.scene.today) {
                    Ok(facts) => {
                        self.advance(&facts);
                        self.done.push((name, facts));
                    }
                    Err(refusal) => {
                        self.refused.push(refusal.to_string());
                        self.run.take(&Event::Refused(refusal.to_string()));
                    }
                }
            }
            Action::Undo => {
                let (_, facts) = self.done.pop().expect("something to undo");
                let back: Vec<Fact> = facts.into_iter().rev().map(Fact::inverse).collect();
                self.advance(&back);
            }
            Action::Plan { asked, run, wanted } if !self.slow => {
                self.run.take(&planned(&self.scene, *asked, run, *wanted));
            }
            Action::KeepDraft(text) => self.scene.prefs.draft = Some(text.clone()),
            _ => {}
        }
    }

    fn advance(&mut self, facts: &[Fact]) {
        let mut world = World::clone(&self.scene.world);
        world.advance_all(facts);
        self.scene.outlook = Arc::new(Outlook::new(&world, self.scene.today));
        self.scene.world = Arc::new(world);
        self.scene.version += 1;
    }
}

/// A stage under test; the state is shared with the window.
pub type Shared = Rc<RefCell<Stage>>;

struct Shown(Shared);

impl eframe::App for Shown {
    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        self.0.borrow_mut().draw(ui);
    }
}

/// Shows the stage in a window of that size.
pub fn open(stage: Stage, size: [f32; 2]) -> (Harness<'static, impl eframe::App>, Shared) {
    let shared: Shared = Rc::new(RefCell::new(stage));
    let kept = Rc::clone(&shared);
    let make = move |cc: &mut eframe::CreationContext<'_>| {
        theme::apply(&cc.egui_ctx);
        Shown(kept)
    };
    let builder = Harness::builder().with_size(size).with_theme(egui::Theme::Light).with_max_steps(60);
    let mut harness = builder.build_eframe(make);
    harness.run();
    (harness, shared)
}
