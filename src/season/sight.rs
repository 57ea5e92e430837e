//! What may be seen of a sowing, and what is seen next.

use chrono::NaiveDate;

use super::{Grown, Loss, Observation, Observed, Sowing, StepId};

/// What was seen, without its number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sight {
    Sown,
    Up,
    TrueLeaves,
    MovedOn,
    Lost,
    GappedUp,
    PutOut,
    Sold,
    Grown,
}

impl Sight {
    pub const ALL: [Self; 9] = [
        Self::Sown,
        Self::Up,
        Self::TrueLeaves,
        Self::MovedOn,
        Self::Lost,
        Self::GappedUp,
        Self::PutOut,
        Self::Sold,
        Self::Grown,
    ];

    /// With no number yet; `None` for plants moved on into nothing.
    pub fn observed(self, into: Option<StepId>, why: Loss, grown: Grown) -> Option<Observed> {
        Some(match self {
            Self::Sown => Observed::Sown { cells: None },
            Self::Up => Observed::Up { plants: None },
            Self::TrueLeaves => Observed::TrueLeaves(0),
            Self::MovedOn => Observed::MovedOn(into?),
            Self::Lost => Observed::Lost { plants: 0, why },
            Self::GappedUp => Observed::GappedUp,
            Self::PutOut => Observed::PutOut(0),
            Self::Sold => Observed::Sold(0),
            Self::Grown => Observed::Grown(grown),
        })
    }
}

impl Sowing {
    /// What can be seen of it at all.
    pub fn sights(&self) -> impl Iterator<Item = Sight> {
        Sight::ALL.into_iter().filter(|sight| match sight {
            Sight::Sown => self.begun.is_none(),
            Sight::MovedOn => self.steps.len() > 1,
            _ => true,
        })
    }

    /// With that record, in its place by date: after those of the same day.
    #[must_use]
    pub fn with_record(&self, record: Observation) -> Self {
        let mut next = self.clone();
        match next.seen.iter_mut().find(|seen| seen.id == record.id) {
            Some(seen) => *seen = record,
            None => next.seen.push(record),
        }
        next.seen.sort_by_key(|seen| seen.date);
        next
    }

    /// Cells that were really sown, of all days; nobody knows while those of one were not counted.
    pub fn cells_sown(&self) -> Option<u32> {
        let mut sown = self.seen.iter().filter_map(|seen| match seen.what {
            Observed::Sown { cells } => Some(cells),
            _ => None,
        });
        let first = sown.next()??;
        sown.try_fold(first, |sum, cells| Some(sum.saturating_add(cells?)))
    }

    /// What was counted last, and when, up to that day.
    pub fn counted_up(&self, until: NaiveDate) -> Option<(NaiveDate, u32)> {
        self.seen.iter().rev().filter(|seen| seen.date <= until).find_map(|seen| match seen.what {
            Observed::Up { plants } => Some((seen.date, plants?)),
            _ => None,
        })
    }

    /// Plants that were put out or sold.
    pub fn gone(&self) -> u32 {
        self.seen.iter().fold(0, |gone, seen| match seen.what {
            Observed::PutOut(plants) | Observed::Sold(plants) => gone.saturating_add(plants),
            _ => gone,
        })
    }

    fn saw(&self, wanted: impl Fn(&Observed) -> bool) -> bool {
        self.seen.iter().any(|seen| wanted(&seen.what))
    }

    fn moved_on(&self, step: StepId) -> bool {
        self.saw(|what| *what == Observed::MovedOn(step))
    }

    /// Steps that its plants were not moved on into yet; all of them once they were.
    pub fn steps_ahead(&self) -> Vec<StepId> {
        let steps = || self.steps.iter().skip(1).map(|step| step.id);
        let ahead: Vec<StepId> = steps().filter(|step| !self.moved_on(*step)).collect();
        if ahead.is_empty() { steps().collect() } else { ahead }
    }

    /// What is seen next in the usual order.
    pub fn next_sight(&self) -> Sight {
        let here_already = self.begun.is_some();
        if !here_already && !self.saw(|what| matches!(what, Observed::Sown { .. })) {
            Sight::Sown
        } else if !here_already && !self.saw(|what| matches!(what, Observed::Up { .. })) {
            Sight::Up
        } else if self.steps_ahead().first().is_some_and(|step| !self.moved_on(*step)) {
            Sight::MovedOn
        } else if !self.saw(|what| matches!(what, Observed::PutOut(_) | Observed::Sold(_))) {
            Sight::PutOut
        } else {
            Sight::Grown
        }
    }
}

impl Observed {
    /// How many it says.
    pub fn number(self) -> Option<u32> {
        match self {
            Self::Sown { cells } => cells,
            Self::Up { plants } => plants,
            Self::TrueLeaves(leaves) => Some(u32::from(leaves)),
            Self::Lost { plants, .. } | Self::PutOut(plants) | Self::Sold(plants) => Some(plants),
            Self::MovedOn(_) | Self::GappedUp | Self::Grown(_) => None,
        }
    }
}
