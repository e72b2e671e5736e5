//! Reading a file that is brought in, on the jobs thread: one at a time. A newer reading takes the place of an older one, and
//! what was left is never shown.

use std::sync::Arc;

use crate::app::files;
use crate::app::frame::{Done, Lidnote};
use crate::app::import::Import;
use crate::app::jobs::{Control, Ended, JobId};
use crate::exchange::watch::Watch;
use crate::ui::action::ImportOptions;

/// The reading that is going on, and those that nobody waits for any more.
#[derive(Default)]
pub(crate) struct Readings {
    now: Option<JobId>,
    left: Vec<JobId>,
}

impl Lidnote {
    /// Reads a file, to show what bringing it in would do.
    pub(crate) fn read_import(&mut self, path: &str, options: ImportOptions) {
        self.leave_reading();
        let options = ImportOptions { map_later: true, ..options };
        let (world, today) = (Arc::clone(&self.scene.world), self.scene.today);
        let path = files::typed(path);
        let work = move |control: &Control| {
            Ok(Done::Import(Box::new(Import::read(path, options, &world, today, &Watched(control))?)))
        };
        self.readings.now = self.job("Reading the file", work);
    }

    /// Lets go of the file that was read, or is being read. True if that stops the reading.
    pub(crate) fn drop_import(&mut self) -> bool {
        self.import = None;
        self.leave_reading()
    }

    fn leave_reading(&mut self) -> bool {
        let Some(job) = self.readings.now.take() else { return false };
        self.jobs.cancel_one(job);
        self.readings.left.push(job);
        true
    }

    /// A job has ended. Nothing where it was a reading that nobody waits for; else the end is handed back.
    pub(crate) fn reading_ended(&mut self, job: JobId, end: Ended<Done>) -> Option<Ended<Done>> {
        self.readings.now.take_if(|now| *now == job);
        let before = self.readings.left.len();
        self.readings.left.retain(|left| *left != job);
        (before == self.readings.left.len()).then_some(end)
    }
}

/// The reading under the control of its job.
struct Watched<'a>(&'a Control);

impl Watch for Watched<'_> {
    fn stopped(&self) -> bool {
        self.0.cancelled()
    }

    fn reached(&self, percent: u32) {
        self.0.progress(format!("{percent} %"));
    }
}
