//! The whole window on a made-up world, with an app in miniature behind it: what is decided is applied at once,
//! everything else is only noted.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;

use egui::{Key, Modifiers};
use egui_kittest::Harness;
use lidnote::domain::change::Change;
use lidnote::domain::day::Day;
use lidnote::domain::decide::decide;
use lidnote::domain::world::World;
use lidnote::planner::outlook::Outlook;
use lidnote::ui::action::{Action, Outbox, Screen};
use lidnote::ui::event::Event;
use lidnote::ui::map::base::view::BaseMap;
use lidnote::ui::scene::{PrefsInfo, RegisterInfo, Scene};
use lidnote::ui::state::UiState;
use lidnote::ui::{theme, window};
use uuid::Uuid;

/// The window with what it keeps.
pub struct Stage {
    pub scene: Scene,
    pub state: UiState,
    pub out: Outbox,
    /// Everything the screens asked for, in order.
    pub asked: Vec<Action>,
    pub refused: Vec<String>,
}

impl Stage {
    /// A window on that world; without one, no register is open.
    pub fn new(world: Option<World>, today: Day, screen: Screen) -> Self {
        let register =
            world.is_some().then(|| RegisterInfo { path: "bees.lidnote".to_owned(), ..RegisterInfo::default() });
        let world = world.unwrap_or_default();
        let outlook = Outlook::new(&world, today);
        let mut next = 1_000_000;
        let mint = move || {
            next += 1;
            Uuid::from_u128(next)
        };
        let prefs = PrefsInfo {
            initials: "MK".to_owned(),
            zoom: 100,
            folder: "/home/mk/Documents/Lidnote".to_owned(),
            ..PrefsInfo::default()
        };
        let scene = Scene {
            world: Arc::new(world),
            outlook: Arc::new(outlook),
            today,
            version: 1,
            register,
            job: None,
            sheets: Vec::new(),
            history: None,
            backups: Vec::new(),
            verified: None,
            not_recorded: Vec::new(),
            written: Vec::new(),
            prefs,
        };
        let mut base = BaseMap::new();
        base.set_sync(true);
        let mut state = UiState::new(base);
        state.screen = screen;
        Self { scene, state, out: Outbox::new(Box::new(mint)), asked: Vec::new(), refused: Vec::new() }
    }

    fn draw(&mut self, ui: &mut egui::Ui) {
        window::show(ui, &self.scene, &mut self.state, &mut self.out);
        for action in self.out.take() {
            if let Action::Change(change) = &action {
                self.decide(change);
            }
            self.asked.push(action);
        }
    }

    fn decide(&mut self, change: &Change) {
        match decide(&self.scene.world, change, self.scene.today) {
            Ok(facts) => {
                let mut world = World::clone(&self.scene.world);
                world.advance_all(&facts);
                self.scene.outlook = Arc::new(Outlook::new(&world, self.scene.today));
                self.scene.world = Arc::new(world);
                self.scene.version += 1;
            }
            Err(refusal) => {
                self.refused.push(refusal.to_string());
                self.state.take(&Event::Refused(refusal.to_string()));
            }
        }
    }
}

/// A stage under test; shared with the window.
pub type Shared = Rc<RefCell<Stage>>;

/// The window as an app.
pub struct Shown(Shared);

impl eframe::App for Shown {
    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        self.0.borrow_mut().draw(ui);
    }
}

/// The harness of a window.
pub type Window = Harness<'static, Shown>;

/// Shows the stage at 1440 × 900.
pub fn open(stage: Stage) -> (Window, Shared) {
    let shared: Shared = Rc::new(RefCell::new(stage));
    let kept = Rc::clone(&shared);
    let make = move |cc: &mut eframe::CreationContext<'_>| {
        theme::apply(&cc.egui_ctx);
        Shown(kept)
    };
    let builder = Harness::builder().with_size([1440.0, 900.0]).with_theme(egui::Theme::Light).with_max_steps(60);
    let mut window = builder.build_eframe(make);
    window.run();
    (window, shared)
}

/// Presses a key with modifiers.
pub fn press(window: &mut Window, modifiers: Modifiers, key: Key) {
    window.key_press_modifiers(modifiers, key);
    window.run();
}

/// Types into whatever has the keyboard.
pub fn type_in(window: &mut Window, text: &str) {
    window.event(egui::Event::Text(text.to_owned()));
    window.run();
}

/// Ten frames without input ask for nothing, and the window does not want to be drawn again.
pub fn assert_quiet(window: &mut Window, shared: &Shared) {
    shared.borrow_mut().asked.clear();
    for _ in 0..10 {
        window.step();
    }
    assert_eq!(shared.borrow().asked, [], "nothing is asked for without input");
    let output = window.output();
    let again = output.viewport_output.values().map(|viewport| viewport.repaint_delay).min();
    assert!(again.is_none_or(|delay| delay.as_secs() > 60), "idle, and wants to be drawn again after {again:?}");
}
