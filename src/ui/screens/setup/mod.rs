//! Setup: the firm, what comes in and goes out, the rules, sources, bars, backups, history, maps, the look.

mod backups;
mod bars;
mod bring_in;
mod export;
mod firm;
mod history;
mod import;
mod look;
mod maps;
mod register;
mod rules;
mod sources;

use egui::{Frame, Margin, Panel, ScrollArea, Ui};

use crate::ui::action::{FilePurpose, Goto, Outbox};
use crate::ui::event::Event;
use crate::ui::scene::Scene;
use crate::ui::screens::setup::import::ImportState;
use crate::ui::screens::{bands, form};
use crate::ui::theme;
use crate::ui::theme::metrics::space;
use crate::ui::widgets::progress::grouped;
use crate::ui::widgets::{Column, Table};

/// What the screen keeps between frames.
#[derive(Clone, Debug, Default)]
pub struct SetupState {
    section: Section,
    import: ImportState,
    /// A file is being read for the first time.
    reading: bool,
    bring_in: bring_in::Draft,
    export: export::Draft,
    firm: firm::Draft,
    rules: rules::Draft,
    sources: sources::Draft,
    bars: bars::Draft,
    backups: backups::Draft,
    history: history::Draft,
    maps: maps::Draft,
    register: register::Draft,
}

/// The parts of Setup.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Section {
    #[default]
    Firm,
    BringIn,
    Export,
    Rules,
    Sources,
    Bars,
    Backups,
    History,
    Maps,
    Look,
    Register,
}

impl Section {
    const ALL: [(Self, &'static str); 11] = [
        (Self::Firm, "Firm and home"),
        (Self::BringIn, "Bring in"),
        (Self::Export, "Export"),
        (Self::Rules, "Rules"),
        (Self::Sources, "Sources"),
        (Self::Bars, "Bars"),
        (Self::Backups, "Backups and check"),
        (Self::History, "History"),
        (Self::Maps, "Maps"),
        (Self::Look, "Look"),
        (Self::Register, "Register"),
    ];
}

impl SetupState {
    /// Takes what the app tells.
    pub fn take(&mut self, event: &Event) {
        match event {
            Event::ImportRead(model) => {
                self.reading = false;
                self.section = Section::BringIn;
                self.import.read(model.clone());
            }
            Event::ImportApplied => {
                self.import = ImportState::default();
                self.bring_in = bring_in::Draft::default();
            }
            Event::Failed(words) | Event::NotWritten(words) => {
                if self.reading {
                    self.bring_in.error = Some(words.clone());
                }
                self.reading = false;
                self.import.reading = false;
                self.import.applying = false;
            }
            Event::ReadingStopped => {
                self.reading = false;
                self.import.reading = false;
            }
            Event::Refused(_) => {
                self.import.reading = false;
                self.import.applying = false;
            }
            Event::Done(_) => self.import.applying = false,
            Event::Picked { purpose, path } => match purpose {
                FilePurpose::Import => self.bring_in.path.clone_from(path),
                FilePurpose::Pack => self.maps.path.clone_from(path),
                FilePurpose::OpenRegister => self.register.path.clone_from(path),
                FilePurpose::Save if self.section == Section::Backups => self.backups.path.clone_from(path),
                FilePurpose::Save => self.export.path.clone_from(path),
                FilePurpose::NewRegister => {}
            },
            _ => {}
        }
    }

    /// Goes where a screen asked to.
    pub fn go(&mut self, goto: &Goto) {
        if *goto == Goto::Import {
            self.section = Section::BringIn;
        }
    }

    /// What the status line says instead of the last save, while a file's preview is shown: the fact and the rest.
    pub fn status(&self) -> Option<(&'static str, String)> {
        self.import.model.as_deref().map(import::status_words)
    }
}

/// Draws the screen.
pub fn show(ui: &mut Ui, scene: &Scene, state: &mut SetupState, goto: &mut Option<Goto>, out: &mut Outbox) {
    form::draw_once_more(ui);
    bring_in::take_dropped(ui, state, out);
    if state.import.model.is_some() {
        import::show(ui, scene, &mut state.import, out);
        return;
    }
    let name = if scene.world.firm.name.is_empty() { "Setup".to_owned() } else { scene.world.firm.name.clone() };
    bands::sentence(ui, &format!("{name}."), &summary(scene), |_| ());
    let t = theme::tokens(ui);
    let frame = Frame::new().fill(t.surface_raised);
    let list = Panel::left("sections").exact_size(212.0).frame(frame).resizable(false).show_separator_line(true);
    list.show(ui, |ui| {
        let columns = [Column::rest("Part of Setup", 1.0)];
        let at = Section::ALL.iter().position(|(section, _)| *section == state.section);
        let names = Section::ALL.map(|(_, words)| words);
        let table = Table::new("Parts of Setup", &columns).selected(at).takes_free_keys().typed(&names);
        let done = table.show(ui, Section::ALL.len(), |row| {
            if let Some((_, words)) = Section::ALL.get(row.index) {
                row.title(words);
            }
        });
        if let Some((section, _)) = done.selected.and_then(|at| Section::ALL.get(at)) {
            state.section = *section;
            entered(scene, *section, out);
        }
    });
    if matches!(state.section, Section::Rules | Section::History) {
        bands::body(ui, |ui| match state.section {
            Section::Rules => rules::show(ui, scene, &mut state.rules, out),
            _ => history::show(ui, scene, &mut state.history, out),
        });
        return;
    }
    let frame = Frame::new().fill(t.surface_panel).inner_margin(Margin::symmetric(space::SECTION as i8, 16));
    egui::CentralPanel::no_frame().frame(frame).show(ui, |ui| {
        ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
            ui.set_max_width(ui.available_width().min(760.0));
            ui.spacing_mut().item_spacing.y = 10.0;
            match state.section {
                Section::Firm => firm::show(ui, scene, &mut state.firm, out),
                Section::BringIn => bring_in::show(ui, scene, state, out),
                Section::Export => export::show(ui, scene, &mut state.export, out),
                Section::Sources => sources::show(ui, scene, &mut state.sources, out),
                Section::Bars => bars::show(ui, scene, &mut state.bars, goto, out),
                Section::Backups => backups::show(ui, scene, &mut state.backups, out),
                Section::Maps => maps::show(ui, scene, &mut state.maps, out),
                Section::Look => look::show(ui, scene, out),
                Section::Register => register::show(ui, scene, &mut state.register, out),
                Section::Rules | Section::History => {}
            }
        });
    });
}

/// What is fetched when a part is opened, so that its list is there.
fn entered(scene: &Scene, section: Section, out: &mut Outbox) {
    use crate::ui::action::Action;
    match section {
        Section::Backups => out.push(Action::ListBackups),
        Section::History if !history::is_current(scene) => out.push(Action::FetchHistory(None)),
        _ => {}
    }
}

fn summary(scene: &Scene) -> String {
    let hives = scene.world.living().count();
    let yards = scene.world.yards.len();
    let many = |count: usize, thing: &str| match count {
        1 => format!("1 {thing}"),
        many => format!("{} {thing}s", grouped(many as u64)),
    };
    let rules = match rules::own(scene) {
        0 => "all rules as they came".to_owned(),
        1 => "1 rule of your own".to_owned(),
        many => format!("{many} rules of your own"),
    };
    format!("{} in {}, {rules}.", many(hives, "hive"), many(yards, "yard"))
}
