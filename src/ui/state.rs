//! What the screens keep between frames: where one is, drafts, filters, what is chosen. Never the register's content.

use crate::ui::action::{Goto, Screen};
use crate::ui::event::Event;
use crate::ui::map::base::view::BaseMap;
use crate::ui::screens::map::MapState;
use crate::ui::screens::programme::ProgrammeState;
use crate::ui::screens::run::RunState;
use crate::ui::screens::setup::SetupState;
use crate::ui::screens::start::StartState;
use crate::ui::shell::ShellState;
use crate::ui::widgets::Toasts;

/// The state of all screens.
pub struct UiState {
    /// The screen shown.
    pub screen: Screen,
    /// The Map.
    pub map: MapState,
    /// The Programme.
    pub programme: ProgrammeState,
    /// The Run, with evening entry.
    pub run: RunState,
    /// Setup, with the import.
    pub setup: SetupState,
    /// The first start.
    pub start: StartState,
    /// Search, labels, keys: what lies over every screen.
    pub shell: ShellState,
    /// Short messages.
    pub toasts: Toasts,
    /// Where a screen wants to go at the end of the frame.
    pub goto: Option<Goto>,
}

impl UiState {
    /// The state at the start, with the base map to draw on.
    pub fn new(base: BaseMap) -> Self {
        Self {
            screen: Screen::Map,
            map: MapState::new(base),
            programme: ProgrammeState::default(),
            run: RunState::default(),
            setup: SetupState::default(),
            start: StartState::default(),
            shell: ShellState::default(),
            toasts: Toasts::default(),
            goto: None,
        }
    }

    /// Takes what the app tells.
    pub fn take(&mut self, event: &Event) {
        match event {
            Event::Recorded { title, undoable } => {
                self.toasts.written();
                self.toasts.done(title.clone(), *undoable);
            }
            Event::NotWritten(words) => self.toasts.not_written(words.clone()),
            Event::Refused(words) | Event::Failed(words) | Event::NotPlanned { why: words, .. } => {
                self.toasts.failed(words.clone());
            }
            Event::ReadingStopped => {
                self.toasts.done("The reading was stopped. Nothing was brought in.".to_owned(), false);
            }
            Event::Done(words) => self.toasts.done(words.clone(), false),
            Event::Also(words) => self.toasts.also(words),
            Event::Opened | Event::Closed => {
                self.toasts.clear();
                self.screen = Screen::Map;
                self.programme = ProgrammeState::default();
                self.run = RunState::default();
                self.setup = SetupState::default();
                self.start = StartState::default();
                self.shell = ShellState::default();
            }
            _ => {}
        }
        self.map.take(event);
        self.run.take(event);
        self.setup.take(event);
        self.start.take(event);
        self.shell.take(event);
    }

    /// Goes where a screen asked to.
    pub fn follow(&mut self) {
        let Some(goto) = self.goto.take() else { return };
        match &goto {
            Goto::Screen(screen) => self.screen = *screen,
            Goto::Yard(_) | Goto::Hive(_) => self.screen = Screen::Map,
            Goto::RunOf(_) | Goto::RunThrough(..) | Goto::Evening(..) => self.screen = Screen::Run,
            Goto::Import => self.screen = Screen::Setup,
            Goto::Labels | Goto::LabelsOf(_) => {}
        }
        self.map.go(&goto);
        self.run.go(&goto);
        self.setup.go(&goto);
        self.shell.go(&goto);
    }
}
