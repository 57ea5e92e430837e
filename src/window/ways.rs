//! Ways out of being short of room: looked for when their page asks, and shown before they are taken.

use std::sync::Arc;

use crate::fit::Memory;
use crate::forecast::Forecast;
use crate::outlook::ways_out::{Found, Standing, WayOut, find};
use crate::outlook::{Outlook, Task, TaskState};
use crate::season::{History, Library};
use crate::words::window as words;

use super::derived::Derived;

/// What was found for the season at one revision.
#[derive(Default)]
pub(super) struct Ways {
    /// Of the season that is asked about, or was.
    revision: Option<u64>,
    job: Option<Task<Found>>,
    found: Option<Found>,
    pub(super) failure: Option<String>,
    pub(super) stopped: bool,
}

impl Ways {
    /// What was found for the season as it is.
    pub(super) fn found(&self, revision: u64) -> Option<&Found> {
        self.found.as_ref().filter(|_| self.revision == Some(revision))
    }

    pub(super) fn progress(&self) -> Option<f32> {
        self.job.as_ref().map(Task::progress)
    }

    /// Whether nobody has asked about the season as it is.
    pub(super) fn is_open(&self, revision: u64) -> bool {
        self.revision != Some(revision)
    }

    /// Looks for them, on a thread of its own.
    pub(super) fn ask(
        &mut self,
        history: &History,
        library: &'static Library,
        (forecast, outlook): (&Arc<Forecast>, &Outlook),
        ctx: &egui::Context,
    ) {
        *self = Self { revision: Some(history.revision()), ..Self::default() };
        let (season, forecast, outlook) = (history.season().clone(), Arc::clone(forecast), outlook.clone());
        let (problem, wake) = (outlook.problem, ctx.clone());
        let work = move |progress: &crate::fit::Progress, cancel: &crate::fit::Cancel| {
            let of = Standing { season: &season, library, forecast: &forecast, outlook: &outlook };
            find(&of, &mut Memory::default(), progress, cancel)
        };
        match Task::spawn("make_room", problem, move || wake.request_repaint(), work) {
            Ok(job) => self.job = Some(job),
            Err(why) => self.failure = Some(words::not_worked_out(why)),
        }
    }

    /// Takes what is there. What is asked of a season that has changed since is let go.
    pub(super) fn poll(&mut self, revision: u64) {
        if self.revision != Some(revision) {
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

/// The season as it would be with a change made: looked at, not touched.
pub(super) struct Preview {
    pub(super) way: WayOut,
    pub(super) history: History,
    pub(super) derived: Derived,
}

impl Preview {
    /// `None` where the season doesn't take it.
    pub(super) fn of(way: WayOut, history: &History, derived: &Derived) -> Option<Self> {
        let mut then = History::new(history.season().clone());
        then.commit(&way.edit).ok()?;
        Some(Self { way, history: then, derived: derived.beside() })
    }
}
