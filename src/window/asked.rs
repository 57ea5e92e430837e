//! What is worked out on a thread of its own when somebody looks at it, of one state of the season and no other.

use crate::fit::{Cancel, Cancelled, Progress};
use crate::outlook::{ProblemHash, Task, TaskState};
use crate::words::window as words;

/// So many answers are kept for undo and redo to lead back to: our choice, no source.
const KEPT: usize = 8;

/// What was worked out, of which state of the season.
pub(super) struct Asked<K, T> {
    /// What is asked about, or was in vain.
    of: Option<K>,
    job: Option<Task<T>>,
    /// The last one last.
    found: Vec<(K, T)>,
    /// What of an answer still counts until there is another.
    meanwhile: Option<(K, T)>,
    pub(super) failure: Option<String>,
    pub(super) stopped: bool,
}

impl<K, T> Default for Asked<K, T> {
    fn default() -> Self {
        Self { of: None, job: None, found: Vec::new(), meanwhile: None, failure: None, stopped: false }
    }
}

impl<K: PartialEq, T: Send + 'static> Asked<K, T> {
    pub(super) fn found(&self, of: &K) -> Option<&T> {
        self.found.iter().find(|(known, _)| known == of).map(|(_, found)| found)
    }

    /// What counts of it until it is found.
    pub(super) fn meanwhile(&self, of: &K) -> Option<&T> {
        self.meanwhile.as_ref().filter(|(known, _)| known == of).map(|(_, found)| found)
    }

    /// The answer to `before` counts for `of` too, as far as `still` says, until that is answered itself.
    pub(super) fn carry(&mut self, before: &K, of: K, still: impl FnOnce(&T) -> T) {
        if let Some(found) = self.found(before).or_else(|| self.meanwhile(before)).map(still) {
            self.meanwhile = Some((of, found));
        }
    }

    pub(super) fn progress(&self) -> Option<f32> {
        self.job.as_ref().map(Task::progress)
    }

    /// Whether nobody has asked about that.
    pub(super) fn is_open(&self, of: &K) -> bool {
        self.of.as_ref() != Some(of) && self.found(of).is_none()
    }

    /// Works it out, on a thread of that name.
    pub(super) fn ask(
        &mut self,
        of: K,
        (name, problem): (&str, ProblemHash),
        ctx: &egui::Context,
        work: impl FnOnce(&Progress, &Cancel) -> Result<T, Cancelled> + Send + 'static,
    ) {
        self.found.retain(|(known, _)| *known != of);
        (self.of, self.job, self.failure, self.stopped) = (Some(of), None, None, false);
        let wake = ctx.clone();
        match Task::spawn(name, problem, move || wake.request_repaint(), work) {
            Ok(job) => self.job = Some(job),
            Err(why) => self.failure = Some(words::not_worked_out(why)),
        }
    }

    /// Takes what is there. What is asked of a season that has changed since is let go.
    pub(super) fn poll(&mut self, is_still_so: impl FnOnce(&K) -> bool) {
        if !self.of.as_ref().is_some_and(is_still_so) {
            (self.of, self.job) = (None, None);
            return;
        }
        let Some(state) = self.job.as_ref().and_then(Task::poll) else { return };
        self.job = None;
        match state {
            TaskState::Done(found) => {
                self.found.extend(self.of.take().map(|of| (of, found)));
                if self.found.len() > KEPT {
                    self.found.remove(0);
                }
            }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outlook::{Keep, problem_hash};

    fn answer(asked: &mut Asked<u64, u64>, of: u64) {
        let season = crate::season::Season::new("a");
        let problem = problem_hash(&season, &crate::forecast::Forecast::default(), Keep::Pinned);
        let ctx = egui::Context::default();
        asked.ask(of, ("test", problem), &ctx, move |_, _| Ok(10 * of));
        while asked.found(&of).is_none() {
            asked.poll(|now| *now == of);
            std::thread::yield_now();
        }
    }

    /// One undo threw away what minutes of work had found.
    #[test]
    fn what_was_found_of_a_season_is_there_when_it_is_come_back_to() {
        let mut asked = Asked::default();
        for of in [1, 2] {
            assert!(asked.is_open(&of));
            answer(&mut asked, of);
        }
        assert_eq!([1, 2, 3].map(|of| asked.found(&of).copied()), [Some(10), Some(20), None]);
        assert_eq!([1, 2, 3].map(|of| asked.is_open(&of)), [false, false, true]);
        (3..20).for_each(|of| answer(&mut asked, of));
        assert_eq!(asked.found(&1), None, "not for ever");
        asked.carry(&19, 20, |found| found + 1);
        assert_eq!((asked.found(&20), asked.meanwhile(&20)), (None, Some(&191)));
        answer(&mut asked, 20);
        assert_eq!(asked.found(&20), Some(&200));
    }
}
