//! How much the room carries: asked when its page is looked at, of one crop or of the whole season.

use crate::fit::Memory;
use crate::outlook::carries::{Carries, NotAsked, Of, carries};
use crate::outlook::{Keep, problem_hash};
use crate::season::{History, Library};

use super::asked::Asked;
use super::derived::Derived;

#[derive(Default)]
pub(super) struct Carried {
    pub(super) asked: Asked<(Of, u64), Result<Carries, NotAsked>>,
}

impl Carried {
    /// What was found of that for the season as it is.
    pub(super) fn found(&self, of: &Of, revision: u64) -> Option<&Result<Carries, NotAsked>> {
        self.asked.found(&(of.clone(), revision))
    }

    /// Whether nobody has asked that about the season as it is.
    pub(super) fn is_open(&self, of: &Of, revision: u64) -> bool {
        self.asked.is_open(&(of.clone(), revision))
    }

    /// Looks for it, on a thread of its own.
    pub(super) fn ask(
        &mut self,
        of: Of,
        history: &History,
        (derived, library): (&Derived, &'static Library),
        ctx: &egui::Context,
    ) {
        let (season, about) = (history.season().clone(), of.clone());
        let problem = problem_hash(&season, &derived.forecast, Keep::Pinned);
        self.asked.ask((of, history.revision()), ("carries", problem), ctx, move |progress, cancel| {
            carries(&about, &season, library, &mut Memory::default(), progress, cancel)
        });
    }
}
