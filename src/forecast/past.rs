//! What of a problem lies in the past: what nothing can be done about any more, and what is not to be proposed.

use chrono::NaiveDate;

use crate::units::shifted;

use super::all::Forecast;
use super::course::What;
use super::problem::{About, Hurried, NotReady, Problem, Sooner};

impl Problem {
    /// All of its days are over.
    pub fn is_over(&self, today: NaiveDate) -> bool {
        match *self {
            Self::NobodyThere { date, .. } => date < today,
            Self::NobodyWaters { span, .. } | Self::NobodyCarries { span, .. } => span.last() < today,
            Self::MovedEarly { due, .. } => due < today,
            _ => false,
        }
    }

    /// Without what it proposes for days before `today`, of what is sown on `sown`.
    #[must_use]
    fn without_past(mut self, today: NaiveDate, sown: Option<NaiveDate>) -> Self {
        match &mut self {
            Self::HeldTooLong { instead, latest, .. } => {
                if let Some(instead) = instead {
                    instead.sow = instead.sow.filter(|(_, to)| *to >= today);
                }
                // with nothing else to do they are let go by the latest day
                *instead = instead.take().filter(|way| way.sow.is_some() || way.into.is_some() || *latest >= today);
            }
            Self::MovedEarly { due, date, sow_earlier, .. } => {
                *sow_earlier &= is_to_come(today, sown, (*due - *date).num_days());
            }
            Self::NobodyThere { before, .. } => *before = before.filter(|before| *before >= today),
            Self::TooFew { sow_again_until, too_late, .. } | Self::SownTooFew { sow_again_until, too_late, .. } => {
                *too_late = *sow_again_until < today;
            }
            Self::NotReady { why, .. } => why.leave_out(today, sown),
            _ => {}
        }
        self
    }
}

impl NotReady {
    fn leave_out(&mut self, today: NaiveDate, sown: Option<NaiveDate>) {
        match self {
            Self::TooYoung { days, least, sow_earlier, .. } => {
                *sow_earlier &= is_to_come(today, sown, i64::from(*least) - i64::from(*days));
            }
            Self::NotRooted { from, until, least, sooner, .. } => {
                let missing = i64::from(*least) - (*until - *from).num_days();
                let of = |sooner: &Sooner| match sooner {
                    Sooner::Sown => sown,
                    Sooner::MovedOn => Some(*from),
                };
                *sooner = sooner.filter(|sooner| is_to_come(today, of(sooner), missing));
            }
            Self::HardenedShort { out, days, wanted, because, in_time } => {
                let missing = i64::from(*wanted) - i64::from(*days);
                *in_time = match because {
                    Hurried::MovedOn(on) => is_to_come(today, Some(*on), missing),
                    Hurried::PlaceOpens(_) | Hurried::NoneOpen => is_to_come(today, Some(*out), i64::from(*wanted)),
                    Hurried::WasMovedOn(_) | Hurried::Began(_) | Hurried::AsSaid => *in_time,
                };
            }
        }
    }
}

/// Whether what is done on that day can be done so many days sooner.
fn is_to_come(today: NaiveDate, on: Option<NaiveDate>, sooner: i64) -> bool {
    on.is_none_or(|on| shifted(on, -sooner) >= today)
}

impl Forecast {
    /// Its problems without what they propose for days before `today`: for who knows which day it is.
    #[must_use]
    pub fn without_past(mut self, today: NaiveDate) -> Self {
        let problems = std::mem::take(&mut self.problems);
        let sown = |problem: &Problem| match problem.about() {
            About::Sowing(id) => self.courses_of(id).filter_map(|course| course.date(What::Sown)).min(),
            _ => None,
        };
        let problems = problems.into_iter().map(|problem| {
            let sown = sown(&problem);
            problem.without_past(today, sown)
        });
        self.problems = problems.collect();
        self
    }
}
