//! The window's program: takes answers, draws a frame from the scene, acts on what the screens ask for.

use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::Arc;
use std::time::{Duration, Instant};

use crate::app::cli::mint;
use crate::app::clock;
use crate::app::dialog::Dialog;
use crate::app::import::Import;
use crate::app::jobs::{Ended, JobId, Jobs};
use crate::app::planning::{Planned, Planning};
use crate::app::prefs::Prefs;
use crate::app::reading::Readings;
use crate::app::strokes::Strokes;
use crate::app::unrecorded::Keeping;
use crate::app::wake::Wake;
use crate::app::worker::{Opened, Steps, Ticket, Worker};
use crate::domain::day::Day;
use crate::domain::world::World;
use crate::planner::outlook::Outlook;
use crate::ui::action::{Action, Goto, Outbox, Screen};
use crate::ui::event::Event;
use crate::ui::map::base::view::BaseMap;
use crate::ui::scene::{FileWritten, PrefsInfo, RegisterInfo, Scene, SheetInfo};
use crate::ui::state::UiState;
use crate::ui::{theme, window};

/// A draft of an evening is on the disk at most this long after it was typed.
/// Files written that the screens still tell of.
const MOST_WRITTEN: usize = 20;

pub(crate) const DRAFT_PAUSE: Duration = Duration::from_secs(2);

/// What long work hands back.
pub(crate) enum Done {
    /// A run was planned.
    Planned(Planned),
    /// A file was read.
    Import(Box<Import>),
    /// A register was read to be looked at only.
    Looked(PathBuf, Arc<World>),
    /// A file was written; the words for the user, and the change that notes it.
    Written(FileWritten, String, Option<Box<crate::domain::change::Change>>),
}

/// The program behind the window.
pub struct Lidnote {
    pub(crate) scene: Scene,
    pub(crate) ui: UiState,
    pub(crate) outbox: Outbox,
    pub(crate) worker: Option<Worker>,
    pub(crate) tickets: u64,
    /// Changes on their way to the register, and those that it could not write.
    pub(crate) keeping: Keeping,
    pub(crate) history_asked: Option<(Ticket, Option<crate::domain::ids::ColonyId>)>,
    pub(crate) jobs: Jobs<Done>,
    pub(crate) planning: Planning,
    pub(crate) import: Option<Box<Import>>,
    pub(crate) readings: Readings,
    /// The file dialog, while it is open.
    pub(crate) dialog: Option<Dialog>,
    pub(crate) prefs: Prefs,
    pub(crate) prefs_path: PathBuf,
    /// Since when a draft waits to be written; nothing: what is on the disk is what is known.
    pub(crate) unwritten: Option<Instant>,
    /// Why the preferences could not be written last, as it was told.
    pub(crate) prefs_trouble: Option<String>,
    pub(crate) opening: Option<PathBuf>,
    /// The register that was open before the one that is being opened.
    pub(crate) former: Option<String>,
    /// Why the user's map pack cannot be read, with the way out.
    pub(crate) pack_trouble: Option<String>,
    /// A register that could not be opened is being replaced by its backup.
    pub(crate) restoring: bool,
    /// The home yard of a register that is being made.
    pub(crate) home: Option<crate::domain::place::Place>,
    /// The day given on the command line.
    pub(crate) on: Option<Day>,
    pub(crate) wake: Wake,
    strokes: Strokes,
    pub(crate) context: egui::Context,
}

/// Opens the window: on the demo, on that register, or on the one last open.
pub fn open_window(register: Option<PathBuf>, on: Option<Day>, demo: bool) -> ExitCode {
    let options = eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default()
            .with_title("Lidnote")
            .with_inner_size([1440.0, 900.0])
            .with_min_inner_size([1024.0, 700.0]),
        system_font_fallback: false,
        ..Default::default()
    };
    let prefs_path = Prefs::usual_path();
    let opened = eframe::run_native(
        "Lidnote",
        options,
        Box::new(move |creation| {
            let mut lidnote = Lidnote::new(&creation.egui_ctx, prefs_path, on)?;
            lidnote.begin(register, demo);
            Ok(Box::new(lidnote))
        }),
    );
    match opened {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            let said = error.to_string();
            // The windowing library names its own source file and line there.
            let why =
                if said.contains("WAYLAND_DISPLAY") { "no display is known here" } else { said.trim_end_matches('.') };
            cli_complain(&format!("No window could be opened: {why}. Lidnote works without one too: lidnote help"))
        }
    }
}

fn cli_complain(words: &str) -> ExitCode {
    use std::io::Write as _;
    // Standard error that is closed leaves nobody to tell.
    let _ = writeln!(std::io::stderr(), "{words}");
    ExitCode::from(1)
}

impl Lidnote {
    /// The program without a register yet.
    ///
    /// # Errors
    /// In words, if the system gives no thread.
    pub fn new(context: &egui::Context, prefs_path: PathBuf, on: Option<Day>) -> Result<Self, String> {
        theme::apply(context);
        // Where the system says nothing, the light theme: it reads better in a bright shed.
        context.options_mut(|options| options.fallback_theme = egui::Theme::Light);
        let waking = context.clone();
        let wake: Wake = Arc::new(move || waking.request_repaint());
        let prefs = Prefs::load(&prefs_path);
        let today = on.unwrap_or_else(clock::today);
        let sheets = crate::print::sheet::Sheet::presets();
        let sheets = sheets.iter().map(|it| SheetInfo { name: it.title(), labels: it.places() as u32 }).collect();
        let scene = Scene {
            world: Arc::new(World::default()),
            outlook: Arc::new(Outlook::default()),
            today,
            version: 0,
            register: None,
            job: None,
            sheets,
            history: None,
            backups: Vec::new(),
            verified: None,
            not_recorded: Vec::new(),
            written: Vec::new(),
            prefs: PrefsInfo::default(),
        };
        let mut lidnote = Self {
            scene,
            ui: UiState::new(BaseMap::new()),
            outbox: Outbox::new(Box::new(mint)),
            worker: None,
            tickets: 0,
            keeping: Keeping::default(),
            history_asked: None,
            jobs: Jobs::start(wake.clone())?,
            planning: Planning::default(),
            import: None,
            readings: Readings::default(),
            dialog: None,
            prefs,
            prefs_path,
            unwritten: None,
            prefs_trouble: None,
            opening: None,
            former: None,
            pack_trouble: None,
            restoring: false,
            home: None,
            on,
            wake,
            strokes: Strokes::default(),
            context: context.clone(),
        };
        lidnote.show_prefs();
        lidnote.load_maps();
        Ok(lidnote)
    }

    /// Opens what is to be open at the start: where nothing is named, the register last open.
    pub fn begin(&mut self, register: Option<PathBuf>, demo: bool) {
        if demo {
            self.act(Action::OpenDemo);
        } else if let Some(path) = register {
            self.act(Action::OpenRegister { path: path.display().to_string() });
        } else if let Some(path) = self.prefs.register.clone() {
            self.act(Action::OpenRegister { path });
        }
    }

    /// One turn without drawing: answers of the threads, the day, the actions of the last frame.
    pub fn turn(&mut self) {
        while let Some(reply) = self.worker.as_mut().and_then(Worker::receive) {
            self.reply(reply);
        }
        while let Some((job, end)) = self.jobs.ended() {
            self.job_ended(job, end);
        }
        self.take_chosen();
        self.scene.job = self.jobs.now().map(|(job, title, progress)| {
            let plans = self.planning.is(job);
            crate::ui::scene::JobInfo { title, progress, plans }
        });
        self.keep_the_day();
        self.watch_the_pack();
        self.write_draft_in_time();
        self.close_in_time();
        for action in self.outbox.take() {
            self.act(action);
        }
    }

    /// A draft is written while one types on, but not at every letter.
    fn write_draft_in_time(&mut self) {
        let Some(since) = self.unwritten else { return };
        match DRAFT_PAUSE.checked_sub(since.elapsed()) {
            Some(rest) if !rest.is_zero() => self.context.request_repaint_after(rest),
            _ => self.save_prefs(),
        }
    }

    /// A stick with the map pack may be pulled while it is read.
    fn watch_the_pack(&mut self) {
        let fault = self.ui.map.base.packs().iter().find_map(|pack| pack.fault().map(ToString::to_string));
        if let Some(fault) = fault.filter(|_| self.pack_trouble.is_none() && self.prefs.pack.is_some()) {
            let words = format!("{}.", fault.trim_end_matches('.'));
            self.pack_trouble = Some(words.clone());
            self.show_prefs();
            self.tell(&Event::Failed(words));
        }
    }

    /// A new day begins at midnight without anybody touching the window.
    fn keep_the_day(&mut self) {
        let today = self.on.or(self.scene.world.firm.demo_day).unwrap_or_else(clock::today);
        if today != self.scene.today {
            self.scene.today = today;
            self.look_anew();
            self.mind_the_clock();
        }
    }

    /// A clock that was set back makes work undone that is done: what was recorded of a later day does not count yet.
    pub(crate) fn mind_the_clock(&mut self) {
        let today = self.scene.today;
        if let Some(newest) = self.scene.world.newest_record().filter(|newest| *newest > today) {
            let words = format!(
                "Today counts as {}, and the register holds records of {}. They count only from that day on. Check \
                 this computer's clock.",
                today.long(),
                newest.long()
            );
            self.tell(&Event::Failed(words));
        }
    }

    /// Computes how everything stands, after the register or the day has changed.
    pub(crate) fn look_anew(&mut self) {
        self.scene.outlook = Arc::new(Outlook::new(&self.scene.world, self.scene.today));
        self.scene.version += 1;
    }

    /// Takes a newer world.
    pub(crate) fn take_world(&mut self, world: Arc<World>) {
        let outlook = self.scene.outlook.brought_up(&self.scene.world, &world, self.scene.today);
        self.scene.outlook = Arc::new(outlook);
        self.scene.world = world;
        self.scene.version += 1;
    }

    pub(crate) fn tell(&mut self, event: &Event) {
        self.ui.take(event);
        self.context.request_repaint();
    }

    fn job_ended(&mut self, job: JobId, end: Ended<Done>) {
        let Some(end) = self.planning_ended(job, end).and_then(|end| self.reading_ended(job, end)) else { return };
        match end {
            Ended::Failed(words) => self.tell(&Event::Failed(format!("{words}."))),
            Ended::Done(Done::Import(import)) => {
                self.tell(&Event::ImportRead(Box::new(import.model())));
                self.import = Some(import);
            }
            Ended::Done(Done::Looked(path, world)) => {
                self.let_worker_go();
                let opened = Opened { path, world, steps: Steps::default(), newest: i64::MAX, caution: None };
                self.opened(opened, Some("Open to look only.".to_owned()));
            }
            Ended::Done(Done::Written(file, words, change)) => {
                self.scene.written.retain(|it| it.path != file.path);
                self.scene.written.insert(0, file);
                self.scene.written.truncate(MOST_WRITTEN);
                match change {
                    Some(change) => self.record(*change, Some(Event::Also(words))),
                    None => self.tell(&Event::Done(words)),
                }
            }
            Ended::Done(Done::Planned(_)) => {}
        }
    }

    /// Shows the register's state in the scene.
    pub(crate) fn show_register(&mut self, change: impl FnOnce(&mut RegisterInfo)) {
        if let Some(info) = &mut self.scene.register {
            change(info);
        }
    }
}

impl eframe::App for Lidnote {
    fn raw_input_hook(&mut self, context: &egui::Context, input: &mut egui::RawInput) {
        if self.strokes.hand_out(input, context.text_edit_focused()) {
            context.request_repaint();
        }
    }

    fn logic(&mut self, context: &egui::Context, _frame: &mut eframe::Frame) {
        self.turn();
        if context.input(|input| input.viewport().close_requested()) && !self.may_close() {
            context.send_viewport_cmd(egui::ViewportCommand::CancelClose);
        }
        let dropped = context.input(|input| input.raw.dropped_files.first().map(|file| file.path().to_owned()));
        // Setup itself takes what is dropped on it.
        if let Some(path) = dropped.filter(|_| self.scene.register.is_some() && self.ui.screen != Screen::Setup) {
            self.ui.goto = Some(Goto::Import);
            let path = path.display().to_string();
            self.act(Action::ReadImport { path, options: crate::ui::action::ImportOptions::default() });
        }
        // The day is looked at again within the hour, so that "today" is right after midnight without a busy loop.
        context.request_repaint_after(Duration::from_hours(1));
    }

    fn on_exit(&mut self, _context: Option<&eframe::glow::Context>) {
        if self.unwritten.is_some() {
            self.save_prefs();
        }
    }

    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        window::show(ui, &self.scene, &mut self.ui, &mut self.outbox);
        if !self.outbox.is_empty() {
            ui.request_repaint();
        }
    }
}
