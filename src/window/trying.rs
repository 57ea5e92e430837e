//! What comes of days that a hand still holds: worked out off the window's thread, always the last ones asked for.

use egui::Context;

use crate::outlook::{ProblemHash, Task, TaskState};
use crate::season::{Edit, History, Library, Season};

use super::derived::Derived;
use super::ways::{Preview, Shown};

#[derive(Default)]
pub(super) struct Trying {
    /// Asked for, and not answered yet.
    wanted: Option<Edit>,
    job: Option<Task<Option<Preview>>>,
}

/// What is changed, and what is known of it.
pub(super) struct Ground<'a> {
    pub(super) season: &'a Season,
    pub(super) library: &'static Library,
    pub(super) derived: &'a Derived,
}

pub(super) enum Tried {
    Known(Box<Preview>),
    /// The season does not take it.
    Refused,
}

impl Trying {
    /// Work that has begun is let end: the next begins with what is wanted then.
    pub(super) fn ask(&mut self, edit: Edit, ground: &Ground<'_>, ctx: &Context) {
        self.wanted = Some(edit);
        if self.job.is_none() {
            self.start(ground, ctx);
        }
    }

    /// Days that were asked for are being worked out.
    pub(super) const fn is_working(&self) -> bool {
        self.job.is_some()
    }

    fn start(&mut self, ground: &Ground<'_>, ctx: &Context) {
        let Some(edit) = self.wanted.clone() else { return };
        let (season, library, derived) = (ground.season.clone(), ground.library, ground.derived.of_change());
        let wake = ctx.clone();
        let work = move |_: &crate::fit::Progress, _: &crate::fit::Cancel| {
            let mut then = Preview::of(Shown::ByHand, edit, &History::new(season), derived);
            if let Some(then) = &mut then {
                then.derived.foresee(&then.history, library);
            }
            Ok(then)
        };
        // without a thread the days are shown once the hand lets go
        self.job = Task::spawn("try_out", ProblemHash(0), move || wake.request_repaint(), work).ok();
    }

    /// What came of the last days that are known.
    pub(super) fn poll(&mut self, ground: &Ground<'_>, ctx: &Context) -> Option<Tried> {
        let state = self.job.as_ref()?.poll()?;
        self.job = None;
        let TaskState::Done(then) = state else {
            self.wanted = None;
            return None;
        };
        // let go of meanwhile
        let wanted = self.wanted.as_ref()?;
        if then.as_ref().is_none_or(|then| then.edit == *wanted) {
            self.wanted = None;
        } else {
            self.start(ground, ctx);
        }
        Some(then.map_or(Tried::Refused, |then| Tried::Known(Box::new(then))))
    }

    /// What is wanted and not shown yet; nothing of it comes any more.
    pub(super) fn take(&mut self) -> Option<Edit> {
        self.job = None;
        self.wanted.take()
    }
}
