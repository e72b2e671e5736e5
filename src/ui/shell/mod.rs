//! What lies over every screen: the top bar, search, the label queue, the list of keys.

pub mod bar;
pub mod keys;
pub mod labels;
pub mod not_recorded;
pub mod search;

use crate::domain::fold_text::Hit;
use crate::domain::ids::ColonyId;
use crate::ui::action::{FilePurpose, Goto};
use crate::ui::event::Event;

/// What the shell keeps between frames.
#[derive(Clone, Debug)]
pub struct ShellState {
    /// What is typed in the search field.
    pub search: String,
    /// The hit that `Enter` takes.
    pub search_at: usize,
    /// What was found for which text, at which version of the world.
    pub hits: Option<(u64, String, Vec<Hit>)>,
    /// The search field is to get the keyboard at the next frame.
    pub search_focus: bool,
    /// Where the search field begins, for the hits below it.
    pub search_left: f32,
    /// The list of keys is shown.
    pub keys_open: bool,
    /// The window was to be closed while something is not recorded: that is asked.
    pub held_open: bool,
    /// The label queue is shown.
    pub labels_open: bool,
    /// Labels of these hives alone, instead of the queue.
    pub labels_of: Vec<ColonyId>,
    /// Which sheet, by its place in the scene's list; nothing: the usual one.
    pub sheet: Option<usize>,
    /// First label to use.
    pub start: String,
    /// The file; empty: the usual folder.
    pub path: String,
    /// Hives left out of the queue this time.
    pub left_out: Vec<ColonyId>,
}

impl Default for ShellState {
    fn default() -> Self {
        Self {
            search: String::new(),
            search_at: 0,
            hits: None,
            search_focus: false,
            search_left: 0.0,
            keys_open: false,
            held_open: false,
            labels_open: false,
            labels_of: Vec::new(),
            sheet: None,
            start: "1".to_owned(),
            path: String::new(),
            left_out: Vec::new(),
        }
    }
}

impl ShellState {
    /// Takes what the app tells.
    pub fn take(&mut self, event: &Event) {
        if matches!(event, Event::HeldOpen) {
            self.held_open = true;
        }
        if let Event::Picked { purpose: FilePurpose::Save, path } = event
            && self.labels_open
        {
            self.path.clone_from(path);
        }
    }

    /// Goes where a screen asked to.
    pub fn go(&mut self, goto: &Goto) {
        match goto {
            Goto::Labels => self.open_labels(Vec::new()),
            Goto::LabelsOf(colony) => self.open_labels(vec![*colony]),
            _ => {}
        }
    }

    /// Shows the label queue, or the labels of these hives alone.
    pub fn open_labels(&mut self, of: Vec<ColonyId>) {
        self.labels_open = true;
        self.labels_of = of;
        self.left_out.clear();
    }
}
