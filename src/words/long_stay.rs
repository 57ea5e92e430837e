//! Plants that would stand in a container for longer than it holds them, and what would be right.

use crate::forecast::{Instead, Problem};
use crate::season::{Sowing, SowingId};

use super::{Words, day};

impl Words<'_> {
    /// With the sowing's name before it.
    pub(super) fn of_a_sowing(&self, id: SowingId, problem: &Problem) -> String {
        let held = self.season.sowing(id).and_then(|sowing| self.held_too_long(sowing, problem));
        format!("{}: {}", self.which(id), held.unwrap_or_default())
    }

    /// `3½ in pot holds them until 4 May, but they go out on 20 May; sow on 12 Mar instead of 24 Feb, or use 4 in pot`, of a
    /// sowing that need not be in the season; nothing of any other problem.
    pub fn held_too_long(&self, sowing: &Sowing, problem: &Problem) -> Option<String> {
        let Problem::HeldTooLong { step, latest, until, instead, .. } = problem else { return None };
        let at = sowing.steps.iter().position(|one| one.id == *step)?;
        let (step, next) = (sowing.steps.get(at)?, sowing.steps.get(at + 1));
        let go = match next {
            Some(next) => format!("are {}", self.verb_for(&next.container).done),
            None if sowing.is_to_sell() => "are sold".to_owned(),
            None => "go out".to_owned(),
        };
        let held = format!(
            "{} holds them until {}, but they {go} on {}",
            self.container(&step.container),
            day(*latest),
            day(*until)
        );
        Some(match instead {
            Some(instead) => format!("{held}; {}", self.right_instead(instead, problem)),
            None => held,
        })
    }

    fn right_instead(&self, instead: &Instead, problem: &Problem) -> String {
        let sow = instead.sow.map(|(from, to)| format!("sow on {} instead of {}", day(to), day(from)));
        let into = instead.into.as_ref().map(|key| format!("use {}", self.container(key)));
        match (sow, into, problem) {
            (Some(sow), Some(into), _) => format!("{sow}, or {into}"),
            (Some(way), None, _) | (None, Some(way), _) => way,
            (None, None, Problem::HeldTooLong { latest, .. }) => format!("let them go on or out by {}", day(*latest)),
            (None, None, _) => String::new(),
        }
    }
}
