//! Long work on a thread of its own: one job at a time, with progress and cancel. A panic in a job becomes a message.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, SyncSender, TryRecvError, TrySendError, sync_channel};
use std::sync::{Arc, Mutex};
use std::thread::{Builder, JoinHandle};

use crate::app::wake::Wake;

/// Jobs that may wait; more are refused.
const WAITING: usize = 4;

/// What a job uses to say how far it is and to ask whether it should stop.
#[derive(Clone, Default)]
pub struct Control {
    cancelled: Arc<AtomicBool>,
    progress: Arc<Mutex<String>>,
}

impl Control {
    /// The user wants it to stop.
    pub fn cancelled(&self) -> bool {
        self.cancelled.load(Ordering::Relaxed)
    }

    /// Says how far it is: `12 of 40`.
    pub fn progress(&self, words: impl Into<String>) {
        if let Ok(mut progress) = self.progress.lock() {
            *progress = words.into();
        }
    }
}

/// What a job hands back; the app turns it into what follows.
pub enum Ended<T> {
    /// It is done.
    Done(T),
    /// It failed or was stopped: the words for the user.
    Failed(String),
}

/// One job of this run of the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct JobId(u64);

type Work<T> = Box<dyn FnOnce(&Control) -> Result<T, String> + Send>;

struct Task<T> {
    work: Work<T>,
    control: Control,
}

/// The jobs thread.
pub struct Jobs<T> {
    tasks: Option<SyncSender<Task<T>>>,
    ended: Receiver<Ended<T>>,
    thread: Option<JoinHandle<()>>,
    running: Vec<Running>,
    /// Jobs there have been.
    count: u64,
}

struct Running {
    id: JobId,
    title: String,
    control: Control,
}

impl<T: Send + 'static> Jobs<T> {
    /// Starts the thread; `wake` is called when a job has ended.
    ///
    /// # Errors
    /// In words, if the system gives no thread.
    pub fn start(wake: Wake) -> Result<Self, String> {
        let (tasks, todo) = sync_channel::<Task<T>>(WAITING);
        let (done, ended) = sync_channel(WAITING * 2);
        let work = move || {
            for task in todo {
                let control = task.control.clone();
                let result = catch_unwind(AssertUnwindSafe(|| (task.work)(&control)));
                let end = match result {
                    Ok(Ok(value)) => Ended::Done(value),
                    Ok(Err(words)) => Ended::Failed(words),
                    Err(_) => {
                        Ended::Failed("That work broke off by a fault of Lidnote. Nothing was changed".to_owned())
                    }
                };
                if done.send(end).is_err() {
                    return;
                }
                wake();
            }
        };
        let thread = Builder::new().name("jobs".to_owned()).spawn(work);
        let thread = thread.map_err(|error| format!("Lidnote got no thread for long work: {error}. Close programs"))?;
        Ok(Self { tasks: Some(tasks), ended, thread: Some(thread), running: Vec::new(), count: 0 })
    }

    /// Puts a job in the queue.
    ///
    /// # Errors
    /// In words, if too many wait or the thread has ended.
    pub fn push(
        &mut self,
        title: impl Into<String>,
        work: impl FnOnce(&Control) -> Result<T, String> + Send + 'static,
    ) -> Result<JobId, String> {
        let control = Control::default();
        let task = Task { work: Box::new(work), control: control.clone() };
        let Some(tasks) = &self.tasks else { return Err("Long work has stopped. Start Lidnote again".to_owned()) };
        match tasks.try_send(task) {
            Ok(()) => {
                self.count += 1;
                let id = JobId(self.count);
                self.running.push(Running { id, title: title.into(), control });
                Ok(id)
            }
            Err(TrySendError::Full(_)) => Err("Other work is still going on. Wait until it has ended".to_owned()),
            Err(TrySendError::Disconnected(_)) => Err("Long work has stopped. Start Lidnote again".to_owned()),
        }
    }

    /// A job that has ended since the last call.
    pub fn ended(&mut self) -> Option<(JobId, Ended<T>)> {
        let end = match self.ended.try_recv() {
            Ok(end) => end,
            Err(TryRecvError::Empty) => return None,
            Err(TryRecvError::Disconnected) => Ended::Failed("Long work has stopped. Start Lidnote again".to_owned()),
        };
        // They end in the order in which they were asked for.
        let first = (!self.running.is_empty()).then(|| self.running.remove(0))?;
        Some((first.id, end))
    }

    /// The job that is going on, what it is called and how far it is.
    pub fn now(&self) -> Option<(JobId, String, String)> {
        let job = self.running.first()?;
        let progress = job.control.progress.lock().map(|words| words.clone()).unwrap_or_default();
        Some((job.id, job.title.clone(), progress))
    }
}

impl<T> Jobs<T> {
    /// Asks every job to stop.
    pub fn cancel(&self) {
        for job in &self.running {
            job.control.cancelled.store(true, Ordering::Relaxed);
        }
    }

    /// Asks one job to stop.
    pub fn cancel_one(&self, id: JobId) {
        for job in self.running.iter().filter(|job| job.id == id) {
            job.control.cancelled.store(true, Ordering::Relaxed);
        }
    }
}

impl<T> Drop for Jobs<T> {
    fn drop(&mut self) {
        self.cancel();
        self.tasks = None;
        // The ends of jobs still going on have nobody to go to; taking them lets the thread come to its own end.
        if let Some(thread) = self.thread.take() {
            while !thread.is_finished() {
                let _ = self.ended.recv_timeout(std::time::Duration::from_millis(20));
            }
            let _ = thread.join();
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;
    use std::time::{Duration, Instant};

    use super::*;

    fn wait<T: Send + 'static>(jobs: &mut Jobs<T>) -> Ended<T> {
        let begun = Instant::now();
        loop {
            if let Some((_, end)) = jobs.ended() {
                return end;
            }
            assert!(begun.elapsed() < Duration::from_secs(20), "no end came");
            std::thread::sleep(Duration::from_millis(2));
        }
    }

    #[test]
    fn a_job_ends_with_its_value_or_its_words() {
        let mut jobs = Jobs::start(Arc::new(|| {})).expect("thread");
        jobs.push("adding", |_| Ok(2 + 2)).expect("room");
        assert_eq!(jobs.now().expect("running").1, "adding");
        assert!(matches!(wait(&mut jobs), Ended::Done(4)));
        jobs.push("failing", |_| Err("no".to_owned())).expect("room");
        assert!(matches!(wait(&mut jobs), Ended::Failed(words) if words == "no"));
        assert!(jobs.now().is_none());
    }

    #[test]
    fn a_job_is_stopped_and_a_panic_is_a_message() {
        let mut jobs: Jobs<()> = Jobs::start(Arc::new(|| {})).expect("thread");
        let until_stopped = |control: &Control| {
            while !control.cancelled() {
                std::thread::sleep(Duration::from_millis(1));
            }
            Err("stopped".to_owned())
        };
        let first = jobs.push("long", until_stopped).expect("room");
        let second = jobs.push("longer", until_stopped).expect("room");
        jobs.cancel_one(first);
        assert!(matches!(wait(&mut jobs), Ended::Failed(words) if words == "stopped"));
        assert_eq!(jobs.now().map(|(id, ..)| id), Some(second), "the other goes on");
        jobs.cancel();
        assert!(matches!(wait(&mut jobs), Ended::Failed(words) if words == "stopped"));
        jobs.push("broken", |_| panic!("a fault")).expect("room");
        assert!(matches!(wait(&mut jobs), Ended::Failed(words) if words.contains("broke off")));
    }
}
