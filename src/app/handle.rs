//! What screens ask for becomes requests, long work, files. The only place with effects.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Instant;

use crate::app::cli::mint;
use crate::app::frame::{DRAFT_PAUSE, Done, Lidnote};
use crate::app::jobs::JobId;
use crate::app::planning::Question;
use crate::app::prefs::Draft;
use crate::app::worker::{Request, Start, Ticket, Worker};
use crate::app::{demo, files, ground, outputs, packs};
use crate::domain::change::Change;
use crate::domain::ids::ColonyId;
use crate::domain::place::Place;
use crate::domain::run_order::RunOrder;
use crate::exchange::points::geojson::yards_geojson;
use crate::exchange::table::export::programme_csv;
use crate::planner::run::lights::Lights;
use crate::planner::run::plan::plan;
use crate::print::job::{Paper, Printed};
use crate::print::remarks::remarks;
use crate::print::sheet::Sheet;
use crate::register::Register;
use crate::register::journal::Page;
use crate::ui::action::{Action, ExportFormat, OnlineTiles, ThemeChoice};
use crate::ui::event::Event;
use crate::ui::map::base::online::Online;
use crate::ui::scene::{Contents, FileWritten, PackInfo, PrefsInfo};
use crate::ui::theme;

/// Entries of the history shown at once.
const HISTORY: u32 = 500;

impl Lidnote {
    /// Does what a screen asked for.
    pub fn act(&mut self, action: Action) {
        match action {
            Action::Change(change) => self.record(*change, None),
            Action::RecordAgain => self.record_again(),
            Action::LeaveUnrecorded => self.leave_unrecorded(),
            Action::Quit => self.quit(),
            Action::Undo => self.send(Request::Undo),
            Action::Redo => self.send(Request::Redo),
            Action::OpenDemo => match demo::fresh_copy() {
                Ok(path) => self.open(Start::Open(path)),
                Err(words) => self.tell(&Event::Failed(format!("{words}."))),
            },
            Action::NewRegister { home, path } => self.new_register(home, &path),
            Action::OpenRegister { path } => self.open(Start::Open(files::typed(&path))),
            Action::LookAt { path } => {
                let path = files::typed(&path);
                self.job("Reading the register", move |_| {
                    let world = Register::read(&path).map_err(|error| error.to_string())?;
                    Ok(Done::Looked(path, Arc::new(world)))
                });
            }
            Action::CloseRegister => self.close(),
            Action::Browse(purpose) => self.browse(purpose),
            Action::ReadImport { path, options } => self.read_import(&path, options),
            Action::ApplyImport => self.apply_import(),
            Action::WriteHeldBack => self.write_held_back(),
            Action::DropImport => {
                if self.drop_import() {
                    self.tell(&Event::ReadingStopped);
                }
            }
            Action::OpenFile { path } => {
                if let Err(words) = files::show(Path::new(&path)) {
                    self.tell(&Event::Failed(format!("{words}.")));
                }
            }
            Action::PrintLabels { colonies, sheet, start, path, note_printed } => {
                self.print_labels(colonies, &sheet, start, &path, note_printed);
            }
            Action::PrintCalibration { sheet, path } => {
                let (sheet, today) = (sheet_named(&sheet), self.scene.today);
                self.write_job("Printing", path, "ruler page.pdf".to_owned(), (Contents::Other, None), move || {
                    outputs::calibration_as_pdf(&sheet, today).map(of_print)
                });
            }
            Action::PrintRunSheet { run, path } => self.print_run_sheet(*run, path),
            Action::ExportRoute { run, path } => {
                let name = format!("run {}.gpx", run.day.iso());
                self.with_plan(*run, path, name, |world, _, plan, _| {
                    Ok((outputs::run_as_gpx(world, plan).into_bytes(), String::new()))
                });
            }
            Action::ExportStops { run, path } => {
                let name = format!("run {}.csv", run.day.iso());
                self.with_plan(*run, path, name, |world, _, plan, _| {
                    Ok((outputs::run_as_csv(world, plan).into_bytes(), String::new()))
                });
            }
            Action::ExportCalendar { run: Some(run), path } => {
                let (name, now) = (format!("run {}.ics", run.day.iso()), crate::app::clock::now());
                self.with_plan(*run, path, name, move |world, _, plan, today| {
                    Ok((outputs::run_as_ics(world, plan, today, now).into_bytes(), String::new()))
                });
            }
            Action::ExportCalendar { run: None, path } => {
                let (world, outlook) = (Arc::clone(&self.scene.world), Arc::clone(&self.scene.outlook));
                let (today, now) = (self.scene.today, crate::app::clock::now());
                self.write_job("Writing", path, "due work.ics".to_owned(), (Contents::Other, None), move || {
                    Ok((outputs::due_as_ics(&world, &outlook, today, now).into_bytes(), String::new()))
                });
            }
            Action::Export { format, path } => self.export(format, path),
            Action::Plan { asked, run, wanted } => self.plan(Question { asked, run: *run, wanted }),
            Action::StopPlanning => self.stop_planning(),
            Action::AddPack { path } => {
                let path = files::typed(&path).display().to_string();
                let before = self.prefs.pack.replace(path.clone());
                self.load_maps();
                if self.pack_trouble.is_some() && before.as_ref() != Some(&path) {
                    // What was chosen is no pack: the one that was there stays.
                    self.prefs.pack = before;
                    self.load_maps();
                }
                self.save_prefs();
            }
            Action::RemovePack => {
                self.prefs.pack = None;
                self.load_maps();
                self.save_prefs();
            }
            Action::OnlineTiles(tiles) => {
                self.prefs.online_url = tiles.as_ref().map(|tiles| tiles.url.clone());
                self.prefs.online_attribution = tiles.map(|tiles| tiles.attribution).unwrap_or_default();
                self.load_maps();
                self.save_prefs();
            }
            Action::ListBackups => self.list_backups(),
            Action::Restore { path } => self.restore(&path),
            Action::BackUp { path } => {
                let stem = self.scene.register.as_ref().map(|info| PathBuf::from(&info.path));
                let stem = stem.and_then(|path| path.file_stem().map(|it| it.to_string_lossy().into_owned()));
                let usual = format!("{} copy {}.lidnote", stem.unwrap_or_default(), self.scene.today.iso());
                let to = files::free(&files::target(&path, &usual));
                self.send(|ticket| Request::BackUp { ticket, to });
            }
            Action::Verify => self.send(Request::Verify),
            Action::FetchHistory(of) => self.fetch_history(of),
            Action::KeepDraft(text) => {
                let register = self.scene.register.as_ref().map(|info| info.path.clone()).unwrap_or_default();
                let done = text.is_empty();
                self.prefs.draft = (!done).then_some(Draft { register, text });
                if done {
                    self.save_prefs();
                } else {
                    self.show_prefs();
                    self.unwritten.get_or_insert_with(Instant::now);
                    self.context.request_repaint_after(DRAFT_PAUSE);
                }
            }
            Action::Theme(choice) => {
                let name = match choice {
                    ThemeChoice::System => "system",
                    ThemeChoice::Light => "light",
                    ThemeChoice::Dark => "dark",
                };
                name.clone_into(&mut self.prefs.theme);
                self.save_prefs();
            }
            Action::Zoom(percent) => {
                self.prefs.zoom = percent;
                self.save_prefs();
            }
        }
    }

    /// Sends a change to the register; `then` is told when it is recorded.
    pub(crate) fn record(&mut self, change: Change, then: Option<Event>) {
        if let Some(by) = by_whom(&change).filter(|by| *by != self.prefs.initials) {
            by.clone_into(&mut self.prefs.initials);
            self.save_prefs();
        }
        self.send_change(change, then);
    }

    pub(crate) fn ticket(&mut self) -> Ticket {
        self.tickets += 1;
        Ticket(self.tickets)
    }

    fn send(&mut self, request: impl FnOnce(Ticket) -> Request) {
        let ticket = self.ticket();
        self.send_as(ticket, request);
    }

    fn send_as(&mut self, ticket: Ticket, request: impl FnOnce(Ticket) -> Request) {
        if let Err(words) = self.try_send(request(ticket)) {
            self.tell(&Event::Failed(words));
        }
    }

    /// Hands a request to the register.
    ///
    /// # Errors
    /// Why it takes none, with the way out.
    pub(crate) fn try_send(&self, request: Request) -> Result<(), String> {
        match &self.worker {
            Some(worker) => worker.send(request).map_err(|error| format!("{error}.")),
            None if self.scene.register.is_some() => {
                Err("That was not done: the register is open to look only. Open it anew in Setup, Register.".to_owned())
            }
            None => Err("No register is open. Open one first.".to_owned()),
        }
    }

    fn open(&mut self, start: Start) {
        // The register that is open is closed first: its thread ends when it is dropped.
        self.let_worker_go();
        self.stop_planning();
        // What was read of a file was held against the register that was open.
        self.drop_import();
        self.restoring = false;
        self.former = self.scene.register.take().map(|info| info.path);
        let path = match &start {
            Start::Open(path) | Start::Create(path) => path.clone(),
        };
        self.opening = Some(path);
        match Worker::start(start, Arc::clone(&self.wake)) {
            Ok(worker) => self.worker = Some(worker),
            Err(error) => self.tell(&Event::Failed(format!("Lidnote got no thread for the register: {error}."))),
        }
    }

    fn new_register(&mut self, home: Place, path: &str) {
        let path = files::target(path, "my-bees.lidnote");
        let path = if path.extension().is_none() { path.with_extension("lidnote") } else { path };
        if let Some(folder) = path.parent()
            && let Err(error) = std::fs::create_dir_all(folder)
        {
            let words = format!("{} cannot be made: {error}. Choose another folder.", folder.display());
            self.tell(&Event::Failed(words));
            return;
        }
        self.home = Some(home);
        self.open(Start::Create(path));
    }

    fn close(&mut self) {
        self.let_worker_go();
        self.stop_planning();
        self.drop_import();
        self.scene.register = None;
        self.scene.world = Arc::default();
        self.look_anew();
        self.prefs.register = None;
        self.save_prefs();
        self.tell(&Event::Closed);
    }

    fn restore(&mut self, path: &str) {
        let from = files::typed(path);
        if self.worker.is_none() {
            // The register could not be opened: the thread is started on it once more, and restores in its place.
            let Some(target) = self.opening.clone() else {
                self.tell(&Event::Failed(
                    "No register is named that the backup belongs to. Open one first.".to_owned(),
                ));
                return;
            };
            self.open(Start::Open(target));
            self.restoring = true;
        }
        self.send(|ticket| Request::Restore { ticket, from });
    }

    fn fetch_history(&mut self, of: Option<ColonyId>) {
        let ticket = self.ticket();
        self.history_asked = Some((ticket, of));
        let page = Page { before: None, limit: HISTORY };
        self.send_as(ticket, |ticket| Request::Entries { ticket, of, page });
    }

    pub(crate) fn job(
        &mut self,
        title: &str,
        work: impl FnOnce(&crate::app::jobs::Control) -> Result<Done, String> + Send + 'static,
    ) -> Option<JobId> {
        match self.jobs.push(title, work) {
            Ok(job) => Some(job),
            Err(words) => {
                self.tell(&Event::Failed(format!("{words}.")));
                None
            }
        }
    }

    /// Makes bytes on the jobs thread and writes them; what was typed goes before the usual name and folder.
    fn write_job(
        &mut self,
        title: &str,
        path: String,
        usual: String,
        (of, then): (Contents, Option<Box<Change>>),
        make: impl FnOnce() -> Result<(Vec<u8>, String), String> + Send + 'static,
    ) {
        self.job(title, move |_| {
            let (bytes, remarks) = make()?;
            let to = files::target(&path, &usual);
            let to = if path.trim().is_empty() { files::free(&to) } else { to };
            files::write(&to, &bytes)?;
            let path = to.display().to_string();
            let words = format!("Written: {path}.{remarks}");
            Ok(Done::Written(FileWritten { path, of }, words, then))
        });
    }

    fn print_labels(&mut self, colonies: Vec<ColonyId>, sheet: &str, start: u32, path: &str, note_printed: bool) {
        let (world, outlook, today) =
            (Arc::clone(&self.scene.world), Arc::clone(&self.scene.outlook), self.scene.today);
        let sheet = sheet_named(sheet);
        let then = note_printed.then(|| Box::new(Change::LabelsPrinted { colonies: colonies.clone(), day: today }));
        let noted = (Contents::Labels(colonies.clone()), then);
        self.write_job("Printing labels", path.to_owned(), format!("labels {}.pdf", today.iso()), noted, move || {
            outputs::labels_as_pdf(&world, &outlook, &colonies, sheet, start as usize, today).map(of_print)
        });
    }

    fn print_run_sheet(&mut self, run: RunOrder, path: String) {
        let name = format!("run sheet {}.pdf", run.day.iso());
        let ground = ground::under(&mut self.ui.map.base, &self.scene.world, &run);
        self.with_plan(run, path, name, move |world, outlook, plan, today| {
            let paper = if world.settings.letter_paper() == 1 { Paper::Letter } else { Paper::A4 };
            outputs::run_as_pdf(world, outlook, plan, paper, &ground, today).map(of_print)
        });
    }

    fn with_plan(
        &mut self,
        run: RunOrder,
        path: String,
        usual: String,
        make: impl FnOnce(
            &crate::domain::world::World,
            &crate::planner::outlook::Outlook,
            &crate::planner::run::plan::RunPlan,
            crate::domain::day::Day,
        ) -> Result<(Vec<u8>, String), String>
        + Send
        + 'static,
    ) {
        let (world, outlook) = (Arc::clone(&self.scene.world), Arc::clone(&self.scene.outlook));
        let today = self.scene.today;
        let noted = (Contents::Run(run.id), None);
        self.write_job("Writing", path, usual, noted, move || {
            let planned = plan(&world, &outlook, &run, &mut Lights::default()).map_err(|error| error.to_string())?;
            make(&world, &outlook, &planned, today)
        });
    }

    fn export(&mut self, format: ExportFormat, path: String) {
        let (world, today) = (Arc::clone(&self.scene.world), self.scene.today);
        match format {
            ExportFormat::Csv => {
                self.write_job(
                    "Exporting",
                    path,
                    format!("hives {}.csv", today.iso()),
                    (Contents::Other, None),
                    move || Ok((programme_csv(&world).into_bytes(), String::new())),
                );
            }
            ExportFormat::GeoJson => {
                self.write_job(
                    "Exporting",
                    path,
                    format!("yards {}.geojson", today.iso()),
                    (Contents::Other, None),
                    move || Ok((yards_geojson(&world).into_bytes(), String::new())),
                );
            }
            ExportFormat::Register => self.act(Action::BackUp { path }),
        }
    }

    fn apply_import(&mut self) {
        // Kept until it is recorded: where the register refuses it, it can be mended and tried again.
        let Some(import) = &self.import else { return };
        let change = import.change(&mut mint);
        self.record(change, Some(Event::ImportApplied));
    }

    fn write_held_back(&mut self) {
        let Some(import) = &self.import else { return };
        let to = files::free(&import.path().with_file_name("held-back.csv"));
        match files::write(&to, &import.held_back()) {
            Ok(()) => self.tell(&Event::Done(format!("Written: {}.", to.display()))),
            Err(words) => self.tell(&Event::Failed(format!("{words}."))),
        }
    }

    /// Puts the packs on the map: the demo's own, or the user's; and online tiles where switched on.
    pub(crate) fn load_maps(&mut self) {
        let mut said = Vec::new();
        self.pack_trouble = None;
        let base = &mut self.ui.map.base;
        while !base.packs().is_empty() {
            base.remove_pack(0);
        }
        if self.scene.register.as_ref().is_some_and(|info| info.demo)
            && let Err(error) = base.add_pack("Wrackmore demo pack", demo::pack())
        {
            said.push(error.to_string());
        }
        if let Some(path) = &self.prefs.pack {
            let path = PathBuf::from(path);
            let name = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
            let opened = packs::PackFile::open(&path);
            let added = opened.and_then(|file| {
                let named = |error| format!("{}: {error}", path.display());
                base.add_pack(name, Arc::new(file)).map_err(named)
            });
            if let Err(words) = added {
                // It stays listed: the stick may only be out.
                self.pack_trouble = Some(format!("{}.", words.trim_end_matches('.')));
                said.push(words);
            }
        }
        let online = self.prefs.online_url.as_ref().map(|url| {
            let options = walkers::HttpOptions { cache: Some(files::cache_folder()), ..Default::default() };
            Online::start(url, &self.prefs.online_attribution, options, &self.context)
        });
        match online.transpose() {
            Ok(online) => base.set_online(online),
            Err(error) => {
                base.set_online(None);
                self.prefs.online_url = None;
                said.push(error.to_string());
            }
        }
        for words in said {
            self.tell(&Event::Failed(format!("{}.", words.trim_end_matches('.'))));
        }
        self.show_prefs();
    }

    pub(crate) fn save_prefs(&mut self) {
        self.show_prefs();
        self.unwritten = None;
        let Err(words) = self.prefs.save(&self.prefs_path) else {
            self.prefs_trouble = None;
            return;
        };
        let words = if self.prefs.draft.is_some() {
            // Tried again until it is on the disk.
            self.unwritten = Some(Instant::now());
            self.context.request_repaint_after(DRAFT_PAUSE);
            format!("What is entered of the evening is held by this window alone. {words}.")
        } else {
            format!("The preferences were not kept. {words}.")
        };
        // Said once, not at every letter.
        if self.prefs_trouble.replace(words.clone()).as_ref() != Some(&words) {
            self.tell(&Event::NotWritten(words));
        }
    }

    /// Shows the preferences in the scene and the window.
    pub(crate) fn show_prefs(&mut self) {
        let theme = match self.prefs.theme.as_str() {
            "light" => ThemeChoice::Light,
            "dark" => ThemeChoice::Dark,
            _ => ThemeChoice::System,
        };
        self.context.set_theme(match theme {
            ThemeChoice::Light => egui::ThemePreference::Light,
            ThemeChoice::Dark => egui::ThemePreference::Dark,
            ThemeChoice::System => egui::ThemePreference::System,
        });
        let [least, .., most] = theme::ZOOMS;
        let zoom = self.prefs.zoom.clamp(least, most);
        self.context.set_zoom_factor(zoom as f32 / 100.0);
        let open = self.scene.register.as_ref().map(|info| info.path.clone());
        let draft = self.prefs.draft.as_ref().filter(|draft| Some(&draft.register) == open.as_ref());
        let online = self
            .prefs
            .online_url
            .clone()
            .map(|url| OnlineTiles { url, attribution: self.prefs.online_attribution.clone() });
        self.scene.prefs = PrefsInfo {
            theme,
            zoom,
            online,
            pack: self.prefs.pack.clone().map(|path| PackInfo { path, trouble: self.pack_trouble.clone() }),
            initials: self.prefs.initials.clone(),
            draft: draft.map(|draft| draft.text.clone()),
            folder: files::documents().display().to_string(),
        };
    }
}

fn sheet_named(name: &str) -> Sheet {
    Sheet::presets().into_iter().find(|sheet| sheet.title() == name).unwrap_or_else(Sheet::a4_3x8)
}

/// A printed file's bytes, and what could not be printed as it stands, in words.
fn of_print(printed: Printed) -> (Vec<u8>, String) {
    let all = remarks(&printed.warnings);
    let shown: Vec<String> = all.iter().take(3).map(|remark| format!(" {remark}.")).collect();
    let more = all.len().saturating_sub(3);
    let more = if more > 0 { format!(" And {more} more.") } else { String::new() };
    (printed.bytes, shown.concat() + &more)
}

/// The initials that a change carries.
fn by_whom(change: &Change) -> Option<&str> {
    let by = match change {
        Change::Visits { visits, .. } => visits.first().map(|visit| visit.by.as_str()),
        Change::Amend(amendment) => Some(amendment.by.as_str()),
        Change::End { end, .. } => Some(end.by.as_str()),
        Change::Split { by, .. }
        | Change::Unite { by, .. }
        | Change::Answer { by, .. }
        | Change::LiftFoundBar { by, .. } => Some(by.as_str()),
        Change::PutBar(bar) => Some(bar.by.as_str()),
        Change::LiftBar { lifted, .. } => Some(lifted.by.as_str()),
        Change::Several { changes, .. } => changes.iter().find_map(by_whom),
        _ => None,
    };
    by.filter(|by| !by.is_empty())
}
