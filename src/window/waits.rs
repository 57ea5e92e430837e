//! What can't wait: worked out when its page, or the page of a sowing, is looked at.

use std::sync::Arc;

use crate::forecast::{Event, Forecast};
use crate::outlook::Outlook;
use crate::outlook::slack::{CanWait, Slack, can_wait, can_wait_of};
use crate::outlook::ways_out::Standing;
use crate::season::{History, Library, SowingId};

use super::asked::Asked;

#[derive(Default)]
pub(super) struct Waits {
    /// Of the season at one revision.
    pub(super) whole: Asked<u64, CanWait>,
    /// Of one of its sowings.
    one: Asked<(u64, SowingId), CanWait>,
}

impl Waits {
    /// What is known of that event of the sowing.
    pub(super) fn of(&self, revision: u64, sowing: SowingId, event: &Event) -> Option<&Slack> {
        let found = self.whole.found(&revision).or_else(|| self.one.found(&(revision, sowing)))?;
        found.of(sowing, event)
    }

    /// Whether nobody has asked about that sowing.
    pub(super) fn is_open(&self, revision: u64, sowing: SowingId) -> bool {
        self.whole.found(&revision).is_none() && self.one.is_open(&(revision, sowing))
    }

    /// Of one sowing, or of all.
    pub(super) fn ask(
        &mut self,
        sowing: Option<SowingId>,
        history: &History,
        library: &'static Library,
        (forecast, outlook): (&Arc<Forecast>, &Outlook),
        ctx: &egui::Context,
    ) {
        let (season, forecast, outlook) = (history.season().clone(), Arc::clone(forecast), outlook.clone());
        let (revision, problem) = (history.revision(), outlook.problem);
        let work = move |progress: &crate::fit::Progress, cancel: &crate::fit::Cancel| {
            let of = Standing { season: &season, library, forecast: &forecast, outlook: &outlook, today: None };
            match sowing {
                Some(sowing) => can_wait_of(&of, sowing, progress, cancel),
                None => can_wait(&of, None, progress, cancel),
            }
        };
        match sowing {
            Some(sowing) => self.one.ask((revision, sowing), ("can_wait_of", problem), ctx, work),
            None => self.whole.ask(revision, ("can_wait", problem), ctx, work),
        }
    }

    pub(super) fn poll(&mut self, revision: u64) {
        self.whole.poll(|of| *of == revision);
        self.one.poll(|(of, _)| *of == revision);
    }

    pub(super) fn progress(&self) -> Option<f32> {
        self.whole.progress().or_else(|| self.one.progress())
    }
}
