//! What is worked out on a thread of its own when somebody looks at it, of one state of the season and no other.

use crate::fit::{Cancel, Cancelled, Progress};
use crate::outlook::{ProblemHash, Task, TaskState};
use crate::words::window as words;

/// What was worked out of `of`.
pub(super) struct Asked<K, T> {
    /// What is asked about, or was.
    of: Option<K>,
    job: Option<Task<T>>,
    found: Option<T>,
    pub(super) failure: Option<String>,
    pub(super) stopped: bool,
}

impl<K, T> Default for Asked<K, T> {
    fn default() -> Self {
        Self { of: None, job: None, found: None, failure: None, stopped: false }
    }
}

impl<K: PartialEq, T: Send + 'static> Asked<K, T> {
    pub(super) fn found(&self, of: &K) -> Option<&T> {
        self.found.as_ref().filter(|_| self.of.as_ref() == Some(of))
    }

    pub(super) fn progress(&self) -> Option<f32> {
        self.job.as_ref().map(Task::progress)
    }

    /// Whether nobody has asked about that.
    pub(super) fn is_open(&self, of: &K) -> bool {
        self.of.as_ref() != Some(of)
    }

    /// Works it out, on a thread of that name.
    pub(super) fn ask(
        &mut self,
        of: K,
        (name, problem): (&str, ProblemHash),
        ctx: &egui::Context,
        work: impl FnOnce(&Progress, &Cancel) -> Result<T, Cancelled> + Send + 'static,
    ) {
        *self = Self { of: Some(of), ..Self::default() };
        let wake = ctx.clone();
        match Task::spawn(name, problem, move || wake.request_repaint(), work) {
            Ok(job) => self.job = Some(job),
            Err(why) => self.failure = Some(words::not_worked_out(why)),
        }
    }

    /// Takes what is there. What is asked of a season that has changed since is let go.
    pub(super) fn poll(&mut self, is_still_so: impl FnOnce(&K) -> bool) {
        if !self.of.as_ref().is_some_and(is_still_so) {
            self.job = None;
            return;
        }
        let Some(state) = self.job.as_ref().and_then(Task::poll) else { return };
        self.job = None;
        match state {
            TaskState::Done(found) => self.found = Some(found),
            TaskState::Cancelled => self.stopped = true,
            TaskState::Crashed(why) => self.failure = Some(words::fault_of_the_program(why)),
        }
    }

    pub(super) fn stop(&mut self) {
        // dropping a job stops it
        if self.job.take().is_some() {
            self.stopped = true;
        }
    }
}
