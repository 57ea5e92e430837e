//! A sowing before its dates are known: what its trays are like and how many plants each lot gives.

use chrono::NaiveDate;

use crate::season::{Crop, Library, Lot, Season, Sowing, Step, StepId};
use crate::trade;
use crate::units::{Length, shifted};

use super::course::{Event, SowCount};
use super::dates::{self, Dates};
use super::problem::Problem;
use super::records::{self, LotSeen};
use super::scenario::Scenario;
use super::stay::Stay;
use super::stays::{self, Holding, Piece, Premises};

/// What no luck changes about a sowing.
pub(super) struct Sown<'a> {
    season: &'a Season,
    library: &'a Library,
    crop: &'a Crop,
    pub(super) sowing: &'a Sowing,
    /// By step.
    holdings: Vec<Option<StepHoldings>>,
    pub(super) lots: Vec<SownLot>,
}

/// What a step's trays are like.
struct StepHoldings {
    tight: Holding,
    /// Where its pots are spaced out, days after its start and how they stand then.
    spaced: Option<(u16, Holding)>,
}

pub(super) struct SownLot {
    pub(super) lot: Lot,
    /// Plants that the lot is to give.
    pub(super) plants: u32,
    pub(super) sow: SowCount,
    /// Cells in the first step: those really sown, where that is known.
    cells: u32,
    /// Plants that are moved on if enough come up.
    moved_on: u32,
    seen: LotSeen,
}

/// A lot's dates, and how many plants are moved on: all that luck decides about it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Timed {
    dates: Dates,
    moved_on: u32,
}

/// A lot in one of its steps.
pub(super) struct Stood {
    pub(super) step: StepId,
    /// The day its pots are spaced out.
    pub(super) spaced: Option<NaiveDate>,
    pub(super) stays: Vec<Stay>,
    /// Trays or blocks.
    pub(super) trays: u32,
}

impl SownLot {
    /// The day on which its plugs were moved together.
    pub(super) fn gapped_up(&self) -> Option<NaiveDate> {
        self.seen.gapped_up.map(|(date, _)| date)
    }
}

impl<'a> Sown<'a> {
    pub(super) fn of(
        season: &'a Season,
        library: &'a Library,
        crop: &'a Crop,
        sowing: &'a Sowing,
        problems: &mut Vec<Problem>,
    ) -> Self {
        let holdings = sowing.steps.iter().map(|step| {
            let tight = stays::holding(season, library, sowing, step, Length::ZERO, problems)?;
            let spaced = step.spaced.as_ref().and_then(|spaced| {
                let pitch = spaced.pitch.value();
                Some((spaced.after_days, stays::holding(season, library, sowing, step, pitch, problems)?))
            });
            Some(StepHoldings { tight, spaced })
        });
        let holdings = holdings.collect();
        let shares: Vec<u32> = sowing.lots.iter().map(|lot| lot.share).collect();
        let wanted = trade::share_out(sowing.plants_wanted(), &shares);
        let lots = sowing.lots.iter().zip(wanted).enumerate().map(|(at, (lot, plants))| {
            let mut sow = dates::sow_count(season, crop, sowing, plants);
            let moved_on =
                trade::cells_on_average(plants, 1.0 - f64::from(sowing.losses_percent) / 100.0).unwrap_or(plants);
            if sowing.begun.is_some() {
                // They came up: each of them has its cell or pot.
                (sow.on_average, sow.sure) = (moved_on, moved_on);
            }
            let seen = records::of_lot(sowing, &shares, at);
            let cells = seen.cells.unwrap_or(sow.sure);
            let moved_on = seen.alive.map_or(moved_on, |alive| alive.min(moved_on));
            SownLot { lot: *lot, plants, sow, cells, moved_on, seen }
        });
        Self { season, library, crop, sowing, holdings, lots: lots.collect() }
    }

    /// The dates of a lot, each with its reason, and how many of its plants luck lets come up.
    pub(super) fn time(
        &self,
        lot: &SownLot,
        scenario: &Scenario,
        problems: &mut Vec<Problem>,
    ) -> Option<(Timed, Vec<Event>)> {
        let (season, crop, sowing) = (self.season, self.crop, self.sowing);
        let (dates, events) = dates::dates(season, self.library, crop, sowing, &lot.lot, scenario, problems)?;
        let moved_on = if scenario.is_none() || records::has_come_up(sowing) {
            lot.moved_on
        } else {
            let percent = sowing.germination_percent.unwrap_or(crop.germination_percent.value);
            let chance = trade::cell_success(f64::from(percent) / 100.0, sowing.seeds_per_cell, 0.0);
            lot.moved_on.min(scenario.came_up(lot.cells, chance, sowing.id, lot.lot.id.0))
        };
        Some((Timed { dates, moved_on }, events))
    }

    /// The steps that can be made.
    pub(super) fn steps(&self, ground: &Premises, lot: &SownLot, timed: &Timed) -> Vec<Stood> {
        let steps = self.sowing.steps.iter().zip(&self.holdings).enumerate();
        let of_step = |(index, (step, held)): (usize, (&Step, &Option<StepHoldings>))| {
            let StepHoldings { tight, spaced } = held.as_ref()?;
            let spaced = spaced.as_ref().and_then(|(after_days, holding)| {
                Some((shifted(*timed.dates.starts.get(index)?, i64::from(*after_days)), holding))
            });
            let plants = if index == 0 { lot.cells } else { timed.moved_on };
            let gapped_up = lot.seen.gapped_up.filter(|_| index == 0);
            let later = match gapped_up {
                Some((date, alive)) => Some((date, tight, alive.min(plants))),
                None => spaced.map(|(date, holding)| (date, holding, plants)),
            };
            let piece = Piece {
                ground,
                crop: self.crop,
                sowing: self.sowing,
                dates: &timed.dates,
                lot: lot.lot.id,
                step,
                index,
                holding: tight,
                later,
                plants,
                shared: stays::shared_parts(self.season, lot.lot.id, step, tight, plants),
            };
            let (stays, trays) = piece.stays();
            Some(Stood { step: step.id, spaced: spaced.map(|(date, _)| date), stays, trays })
        };
        steps.filter_map(of_step).collect()
    }
}
