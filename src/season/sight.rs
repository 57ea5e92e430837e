//! What may be seen of a sowing, and what is seen next.

use chrono::NaiveDate;

use super::{Grown, Loss, LotId, Observation, Observed, Sowing, Stage, StepId};

/// What was seen, without its number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sight {
    Prepared,
    Sown,
    Unstacked,
    Up,
    TrueLeaves,
    MovedOn,
    SpacedOut,
    Lost,
    GappedUp,
    HardeningBegun,
    NightOut,
    PutOut,
    Sold,
    Grown,
}

impl Sight {
    pub const ALL: [Self; 14] = [
        Self::Prepared,
        Self::Sown,
        Self::Unstacked,
        Self::Up,
        Self::TrueLeaves,
        Self::MovedOn,
        Self::SpacedOut,
        Self::Lost,
        Self::GappedUp,
        Self::HardeningBegun,
        Self::NightOut,
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
            Self::Prepared => Observed::Prepared,
            Self::Unstacked => Observed::Unstacked,
            Self::SpacedOut => Observed::SpacedOut,
            Self::HardeningBegun => Observed::HardeningBegun,
            Self::NightOut => Observed::NightOut,
            Self::PutOut => Observed::PutOut(0),
            Self::Sold => Observed::Sold(0),
            Self::Grown => Observed::Grown(grown),
        })
    }

    /// Whether there is such a thing for some sowings alone: what is done to their seed, a stack, pots to space out,
    /// a place to harden off in. The forecast knows which.
    pub const fn is_of_some(self) -> bool {
        matches!(self, Self::Prepared | Self::Unstacked | Self::SpacedOut | Self::HardeningBegun | Self::NightOut)
    }

    /// Whether each lot of a sowing may do it on a day of its own.
    pub const fn is_of_a_lot(self) -> bool {
        matches!(self, Self::MovedOn | Self::SpacedOut | Self::HardeningBegun | Self::NightOut)
    }
}

impl Observed {
    /// Whether it may be written down of one lot of several.
    pub const fn is_of_a_lot(&self) -> bool {
        matches!(self, Self::MovedOn(_) | Self::SpacedOut | Self::HardeningBegun | Self::NightOut)
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

    /// The lot that a record speaks of; none where that is all of them.
    pub fn lot_of(&self, record: &Observation) -> Option<LotId> {
        record.lot.filter(|lot| self.lots.len() > 1 && self.lots.iter().any(|known| known.id == *lot))
    }

    /// The records that speak of that lot.
    pub fn seen_of(&self, lot: LotId) -> impl Iterator<Item = &Observation> {
        self.seen.iter().filter(move |seen| self.lot_of(seen).is_none_or(|of| of == lot))
    }

    /// The first day on which such a thing was seen of that lot: its own record before one of all.
    pub fn saw_of(&self, lot: LotId, wanted: impl Fn(&Observed) -> bool) -> Option<NaiveDate> {
        let of_it = || self.seen_of(lot).filter(|seen| wanted(&seen.what));
        of_it().find(|seen| self.lot_of(seen).is_some()).or_else(|| of_it().next()).map(|seen| seen.date)
    }

    fn moved_on(&self, lot: LotId, step: StepId) -> bool {
        self.saw_of(lot, |what| *what == Observed::MovedOn(step)).is_some()
    }

    /// Steps that not all of its lots were moved on into yet; all of them once they were.
    pub fn steps_ahead(&self) -> Vec<StepId> {
        let steps = || self.steps.iter().skip(1).map(|step| step.id);
        let all = |step: &StepId| self.lots.iter().all(|lot| self.moved_on(lot.id, *step));
        let ahead: Vec<StepId> = steps().filter(|step| !all(step)).collect();
        if ahead.is_empty() { steps().collect() } else { ahead }
    }

    /// The step that its last lot is moved on into next; none once all are in the last, or have begun to leave.
    pub fn next_step(&self) -> Option<StepId> {
        let far = |lot| self.steps.iter().rposition(|step| self.moved_on(lot, step.id)).unwrap_or(0);
        let leaving = self.lots.len() < 2 && self.gone() > 0;
        let least = self.lots.iter().map(|lot| far(lot.id)).min().filter(|_| !leaving)?;
        self.steps.get(least + 1).map(|step| step.id)
    }

    /// What is seen next in the usual order, after what was seen furthest along.
    pub fn next_sight(&self) -> Sight {
        let sown = self.begun.is_some() || self.saw(|what| *what != Observed::Prepared);
        let before_up =
            |what: &Observed| matches!(what, Observed::Prepared | Observed::Sown { .. } | Observed::Unstacked);
        let up = self.begun.is_some_and(|begun| begun.stage != Stage::Sown) || self.saw(|what| !before_up(what));
        if !sown {
            Sight::Sown
        } else if !up {
            Sight::Up
        } else if self.next_step().is_some() {
            Sight::MovedOn
        } else if self.gone() >= self.plants_wanted() {
            Sight::Grown
        } else if self.is_to_sell() {
            Sight::Sold
        } else {
            Sight::PutOut
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
            Self::MovedOn(_)
            | Self::GappedUp
            | Self::Prepared
            | Self::Unstacked
            | Self::SpacedOut
            | Self::HardeningBegun
            | Self::NightOut
            | Self::Grown(_) => None,
        }
    }
}
