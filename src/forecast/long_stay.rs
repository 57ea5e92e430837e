//! What would be right where plants would stand in a container for longer than it holds them.

use chrono::NaiveDate;

use crate::season::{Container, ContainerKey, Library, Observed, Rule, Season, Sowing, StepId};
use crate::trade;
use crate::units::shifted;

use super::away::home_days;
use super::course::What;
use super::problem::{Instead, Problem};
use super::ready::may_be_sown;
use super::rules::broken;
use super::work_out::of_one;

/// Each later day may move what follows by a few days more.
const MOST_DATES: usize = 8;
/// So many containers that should do are tried; those that don't are too large for their flat, and the like.
const MOST_CONTAINERS: usize = 6;

/// Says of everything that is held too long what would be right.
pub(super) fn say_what_is_right(season: &Season, library: &Library, problems: &mut [Problem]) {
    for problem in problems {
        if let Problem::HeldTooLong { sowing, step, until, instead, .. } = problem
            && let Some(sowing) = season.sowing(*sowing)
        {
            let held = Held { season, library, sowing, now: of_one(season, library, sowing).problems };
            *instead = Some(Instead { sow: held.sow_on(), into: held.larger(*step, *until) });
        }
    }
}

struct Held<'a> {
    season: &'a Season,
    library: &'a Library,
    sowing: &'a Sowing,
    /// Of the sowing as it is.
    now: Vec<Problem>,
}

impl Held<'_> {
    fn sown(&self) -> Option<NaiveDate> {
        of_one(self.season, self.library, self.sowing).courses.first()?.date(What::Sown)
    }

    /// The first later day on which it is sown with nothing held too long.
    fn sow_on(&self) -> Option<(NaiveDate, NaiveDate)> {
        let from = self.sown().filter(|_| may_be_sown(self.sowing) && self.sowing.seen.is_empty())?;
        let late = self.sowing.lots.first().map_or(0, |lot| i64::from(super::late::Late::of(self.sowing, lot).sown));
        let mut to = from;
        let mut missing = most_held(&self.now, None);
        for _ in 0..MOST_DATES {
            to = home_days(self.season, shifted(to, missing)).1;
            let mut then = self.sowing.clone();
            then.steps.first_mut()?.start = Rule::On(shifted(to, -late));
            let problems = of_one(self.season, self.library, &then).problems;
            missing = most_held(&problems, None);
            if missing == 0 {
                return broken(&self.now, &problems).is_none().then_some((from, to));
            }
        }
        None
    }

    /// The smallest container of its kind in which it may stand until that day.
    fn larger(&self, step: StepId, until: NaiveDate) -> Option<ContainerKey> {
        let crop = self.season.crop(self.library, &self.sowing.crop)?;
        let index = self.sowing.steps.iter().position(|one| one.id == step)?;
        // they stand in it already
        let is_done = match index {
            0 => !may_be_sown(self.sowing) || !self.sowing.seen.is_empty(),
            _ => self.sowing.seen.iter().any(|seen| seen.what == Observed::MovedOn(step)),
        };
        if is_done {
            return None;
        }
        let now = self.season.container(self.library, &self.sowing.steps.get(index)?.container)?;
        let least = trade::cell_volume(now)?;
        let sown = of_one(self.season, self.library, self.sowing).courses.first()?.date(What::Sown)?;
        let holds =
            |one: &Container| trade::latest_days(crop, one).is_none_or(|days| shifted(sown, i64::from(days)) >= until);
        let alike = |one: &&Container| std::mem::discriminant(&one.kind) == std::mem::discriminant(&now.kind);
        let volume = |one: &'_ Container| trade::cell_volume(one).filter(|volume| *volume > least);
        let all = self.season.containers(self.library).filter(alike).filter(|one| holds(one));
        let mut all: Vec<_> = all.filter_map(|one| Some((volume(one)?, &one.key))).collect();
        all.sort_unstable();
        all.into_iter().take(MOST_CONTAINERS).map(|(_, key)| key).find(|key| self.would_do(index, key)).cloned()
    }

    fn would_do(&self, index: usize, container: &ContainerKey) -> bool {
        let mut then = self.sowing.clone();
        let Some(step) = then.steps.get_mut(index) else { return false };
        step.container = container.clone();
        // so many to a tray of the old ones
        step.per_tray = None;
        let id = step.id;
        let problems = of_one(self.season, self.library, &then).problems;
        most_held(&problems, Some(id)) == 0 && broken(&self.now, &problems).is_none()
    }
}

/// By how many days something is held too long, at most; in that step, or any.
fn most_held(problems: &[Problem], of: Option<StepId>) -> i64 {
    let days = problems.iter().filter_map(|problem| match problem {
        Problem::HeldTooLong { step, latest, until, .. } if of.is_none_or(|of| of == *step) => {
            Some((*until - *latest).num_days())
        }
        _ => None,
    });
    days.max().unwrap_or(0)
}
