use std::any::Any;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::mpsc::{Receiver, TryRecvError, sync_channel};
use std::{io, thread};

use crate::fit::{Cancel, Cancelled, Progress};

use super::answer::ProblemHash;

/// Work on a thread of its own, known by the problem it answers. Dropping it stops it.
#[derive(Debug)]
pub struct Task<T> {
    problem: ProblemHash,
    cancel: Cancel,
    progress: Progress,
    outcome: Receiver<TaskState<T>>,
}

/// How a job ended.
#[derive(Debug)]
pub enum TaskState<T> {
    Done(T),
    Cancelled,
    /// A fault of the program.
    Crashed(Crash),
}

/// What is known of a fault of the program.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Crash {
    /// The program's own words.
    #[error("{0}")]
    Said(String),
    #[error("no reason given")]
    Unsaid,
    #[error("the work ended without an answer")]
    NoAnswer,
}

impl<T: Send + 'static> Task<T> {
    /// Starts `work`; `wake` is called once its outcome can be polled.
    ///
    /// # Errors
    /// The system gave no thread.
    pub fn spawn(
        name: &str,
        problem: ProblemHash,
        wake: impl FnOnce() + Send + 'static,
        work: impl FnOnce(&Progress, &Cancel) -> Result<T, Cancelled> + Send + 'static,
    ) -> io::Result<Self> {
        let (cancel, progress) = (Cancel::default(), Progress::default());
        let (sender, outcome) = sync_channel(1);
        thread::Builder::new().name(name.to_owned()).spawn({
            let (cancel, progress) = (cancel.clone(), progress.clone());
            move || {
                let state = match catch_unwind(AssertUnwindSafe(|| work(&progress, &cancel))) {
                    Ok(Ok(answer)) => TaskState::Done(answer),
                    Ok(Err(Cancelled)) => TaskState::Cancelled,
                    Err(payload) => TaskState::Crashed(crash(&*payload)),
                };
                sender.send(state).ok(); // nobody listens once the job is dropped
                wake(); // after the send: whoever wakes, finds it
            }
        })?;
        Ok(Self { problem, cancel, progress, outcome })
    }

    pub const fn problem(&self) -> ProblemHash {
        self.problem
    }

    /// From 0 to 1.
    pub fn progress(&self) -> f32 {
        self.progress.share()
    }

    pub fn cancel(&self) {
        self.cancel.cancel();
    }

    /// The outcome, once; `None` while the work goes on.
    pub fn poll(&self) -> Option<TaskState<T>> {
        match self.outcome.try_recv() {
            Ok(state) => Some(state),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => Some(TaskState::Crashed(Crash::NoAnswer)),
        }
    }
}

impl<T> Drop for Task<T> {
    fn drop(&mut self) {
        self.cancel.cancel();
    }
}

fn crash(payload: &(dyn Any + Send)) -> Crash {
    payload
        .downcast_ref::<&str>()
        .map(|text| (*text).to_owned())
        .or_else(|| payload.downcast_ref::<String>().cloned())
        .map_or(Crash::Unsaid, Crash::Said)
}
