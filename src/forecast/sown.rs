//! A sowing before its dates are known: what its trays are like and how many plants each lot gives.

use std::borrow::Cow;
use std::sync::Arc;

use chrono::NaiveDate;

use crate::season::{Crop, GrowthPoint, Library, Lot, Season, Sowing, Spacing, Step, StepId};
use crate::trade;
use crate::units::{Length, shifted};

use super::course::{Event, SowCount, Why};
use super::dates::{self, Dates};
use super::handful::handful;
use super::holding::{Holding, Standing, holding};
use super::leaves::{Leaves, Meeting};
use super::plan::Plan;
use super::problem::{Problem, RoomApart};
use super::records::{self, LotSeen};
use super::scenario::Scenario;
use super::shared;
use super::shared_tray::Sharing;
use super::starts::{LongCourse, sown_about};
use super::stay::Stay;
use super::stays::{self, Piece, Premises, Turn};
use super::{chill, clock};

/// What no luck changes about a sowing.
pub(super) struct Sown<'a> {
    season: &'a Season,
    library: &'a Library,
    pub(super) crop: &'a Crop,
    pub(super) sowing: &'a Sowing,
    heights: Arc<[GrowthPoint]>,
    /// By step.
    holdings: Vec<Option<StepHoldings>>,
    pub(super) lots: Vec<SownLot>,
    course: Option<LongCourse>,
}

/// What a step's trays are like.
struct StepHoldings {
    tight: Holding,
    spaced: Option<SpacedOut>,
}

/// How its pots are spaced out.
enum SpacedOut {
    /// So many days after its start, and how they stand then.
    After(u16, Holding),
    WhenLeavesMeet,
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
    /// That come up, while nobody has counted them.
    likely: u32,
    seen: LotSeen,
}

/// A lot's dates, and how many plants are moved on: all that luck decides about it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Timed {
    pub(super) dates: Dates,
    moved_on: u32,
}

/// A lot in one of its steps.
pub(super) struct Stood {
    pub(super) step: StepId,
    /// The day its pots are spaced out, and why then.
    pub(super) spaced: Option<(NaiveDate, Why)>,
    pub(super) stays: Vec<Stay>,
    /// Trays or blocks.
    pub(super) trays: u32,
}

impl Timed {
    /// The days of a step on which plants are up.
    fn growing(&self, index: usize) -> Option<(NaiveDate, NaiveDate)> {
        let dates = &self.dates;
        let (start, until) = (*dates.starts.get(index)?, dates.starts.get(index + 1).copied().unwrap_or(dates.out));
        Some((if index == 0 { start.max(dates.up) } else { start }, until))
    }
}

impl SownLot {
    /// The day on which its plugs were moved together.
    pub(super) fn gapped_up(&self) -> Option<NaiveDate> {
        self.seen.gapped_up.filter(|date| self.seen.alive_on(*date).is_some())
    }

    /// The day on which the last of them was dead.
    pub(super) fn died(&self) -> Option<NaiveDate> {
        self.seen.died()
    }

    /// Plants that can go out, of those that are to.
    pub(super) fn go_out(&self) -> u32 {
        let known = self.seen.alive.last().map(|(_, alive)| *alive);
        self.plants.min(known.unwrap_or(self.likely))
    }

    /// Cells or pots that it fills on the day on which the step starts.
    pub(super) fn places_at_start(&self, index: usize, timed: &Timed) -> Option<u32> {
        let start = *timed.dates.starts.get(index)?;
        let turns = if index == 0 { self.sown_turns(start) } else { self.later_turns(start, timed.moved_on) };
        turns.first().map(|(_, places, _)| *places)
    }

    /// How many stand in cells that were sown: all cells, until those that are alive were counted.
    fn sown_turns(&self, start: NaiveDate) -> Vec<(NaiveDate, u32, u32)> {
        let mut turns = vec![(start, self.cells, self.cells)];
        let gapped_up = self.gapped_up();
        let mut days: Vec<NaiveDate> = self.seen.alive.iter().map(|(date, _)| *date).chain(gapped_up).collect();
        days.sort_unstable();
        days.dedup();
        for date in days {
            let places = turns.last().map_or(self.cells, |(_, places, _)| *places);
            let alive = self.seen.alive_on(date).unwrap_or(places).min(places);
            turns.push((date, if gapped_up == Some(date) || alive == 0 { alive } else { places }, alive));
        }
        turns
    }

    /// How many stand in later containers, each in its own.
    fn later_turns(&self, start: NaiveDate, moved_on: u32) -> Vec<(NaiveDate, u32, u32)> {
        let then = self.seen.alive_on(start).map_or(moved_on, |alive| alive.min(self.moved_on));
        let mut turns = vec![(start, then, then)];
        for &(date, alive) in self.seen.alive.iter().filter(|(date, _)| *date > start) {
            let alive = alive.min(self.moved_on);
            turns.push((date, alive, alive));
        }
        turns
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
            let tight = holding(season, library, crop, sowing, step, Standing::Tight, problems)?;
            let spaced = match &step.spaced {
                Some(Spacing::At(spaced)) => {
                    let apart = Standing::Apart(spaced.pitch.value());
                    holding(season, library, crop, sowing, step, apart, problems)
                        .map(|holding| SpacedOut::After(spaced.after_days, holding))
                }
                Some(Spacing::WhenLeavesMeet) => Some(SpacedOut::WhenLeavesMeet),
                None if crop.spaced => Some(SpacedOut::WhenLeavesMeet),
                None | Some(Spacing::Never) => None,
            };
            Some(StepHoldings { tight, spaced })
        });
        let holdings = holdings.collect();
        let lots = lots(season, library, crop, sowing);
        let heights = crop.heights.value.as_slice().into();
        let course = LongCourse::of(season, library, crop, sowing);
        Self { season, library, crop, sowing, heights, holdings, lots, course }
    }

    /// Plants that are likely of all lots while nobody has counted them, and cells that are likely to
    /// give as many as are wanted.
    pub(super) fn likely(&self) -> (u32, u32) {
        let sum = |of: fn(&SownLot) -> u32| self.lots.iter().map(of).fold(0_u32, u32::saturating_add);
        (sum(|lot| lot.likely), sum(|lot| lot.sow.on_average))
    }

    /// What of the steps can't be as it was said.
    pub(super) fn not_so(&self, ground: &Premises, sharing: &Sharing) -> Vec<Problem> {
        let mut found = Vec::new();
        for (step, held) in self.sowing.steps.iter().zip(&self.holdings) {
            let Some(held) = held else { continue };
            found.extend(stays::block_too_large(ground, self.sowing, step, &held.tight));
            let of_lot = |lot: &SownLot| shared::rows_outside(self.season, self.sowing, lot.lot.id, step, &held.tight);
            found.extend(self.lots.iter().filter_map(of_lot));
        }
        found.extend(self.lots.iter().filter_map(|lot| self.handful(lot, sharing)));
        found
    }

    /// The last of its trays that is there for a handful, where no others share it.
    fn handful(&self, lot: &SownLot, sharing: &Sharing) -> Option<Problem> {
        let (step, held) = (self.sowing.steps.first()?, self.holdings.first()?.as_ref()?);
        let shared = shared::shared_parts(self.season, lot.lot.id, step, &held.tight, lot.cells);
        let of = || handful(self.sowing, (step.id, &held.tight), (lot.cells, lot.plants), lot.sow);
        let alone = shared.is_empty() && sharing.part(lot.lot.id, step.id, lot.cells).is_none();
        if alone { of() } else { None }
    }

    /// The dates of a lot, each with its reason, and how many of its plants luck lets come up.
    pub(super) fn time(
        &self,
        lot: &SownLot,
        scenario: &Scenario,
        problems: &mut Vec<Problem>,
    ) -> Option<(Timed, Vec<Event>)> {
        let Self { season, library, crop, sowing, course, .. } = *self;
        let plan = Plan { season, library, crop, sowing, course };
        let (dates, mut events) = dates::dates(plan, &lot.lot, scenario, problems)?;
        if let Some(died) = lot.died() {
            events.retain(|event| event.date <= died);
            problems.clear();
        }
        let moved_on = if scenario.is_none() || records::has_come_up(sowing) {
            lot.moved_on.min(lot.likely)
        } else {
            let percent = lot.sow.germination.percent;
            let chance = trade::cell_success(f64::from(percent) / 100.0, sowing.seeds_per_cell, 0.0);
            lot.moved_on.min(scenario.came_up(lot.cells, chance, sowing.id, lot.lot.id.0))
        };
        Some((Timed { dates, moved_on }, events))
    }

    /// What the trays of a step are like, unless its pots are spaced out in it.
    pub(super) fn keeps_its_pitch(&self, index: usize) -> Option<&Holding> {
        let StepHoldings { tight, spaced } = self.holdings.get(index)?.as_ref()?;
        spaced.is_none().then_some(tight)
    }

    /// The dates of a lot as they were known on a day.
    pub(super) fn dates_known_on(&self, lot: &SownLot, day: NaiveDate) -> Option<Dates> {
        let mut sowing = self.sowing.clone();
        sowing.seen.retain(|seen| seen.date <= day);
        let Self { season, library, crop, course, .. } = *self;
        let plan = Plan { season, library, crop, sowing: &sowing, course };
        dates::dates(plan, &lot.lot, &Scenario::none(), &mut Vec::new()).map(|(dates, _)| dates)
    }

    /// What warmth and light of its places do to the lot.
    pub(super) fn climate(&self, ground: &Premises, lot: &SownLot, timed: &Timed) -> Vec<Problem> {
        let dates = &timed.dates;
        let mut problems = chill::of_course(self.season, self.crop, self.sowing, lot.lot.id, dates);
        let stack = self.sowing.stack.filter(|_| !trade::may_be_stacked(self.crop));
        problems.extend(stack.map(|stack| Problem::StackInTheDark { sowing: self.sowing.id, days: stack.days }));
        problems.extend(ground.to_cover(self.crop, self.sowing, dates));
        problems
    }

    /// The steps that can be made.
    pub(super) fn steps(&self, ground: &Premises, sharing: &Sharing, lot: &SownLot, timed: &Timed) -> Vec<Stood> {
        let steps = self.sowing.steps.iter().zip(&self.holdings).enumerate();
        let of_step = |(index, (step, held)): (usize, (&Step, &Option<StepHoldings>))| {
            let StepHoldings { tight, .. } = held.as_ref()?;
            let spaced = self.spaced(timed, index);
            let start = *timed.dates.starts.get(index)?;
            let held = if index == 0 { lot.sown_turns(start) } else { lot.later_turns(start, timed.moved_on) };
            let piece = Piece {
                ground,
                crop: self.crop,
                heights: &self.heights,
                sowing: self.sowing,
                dates: &timed.dates,
                lot: lot.lot.id,
                step,
                index,
                turns: self.turns(
                    (lot, step),
                    sharing,
                    tight,
                    spaced.as_ref().map(|(date, _, wide)| (*date, &**wide)),
                    &held,
                ),
            };
            let (stays, trays) = piece.stays();
            Some(Stood { step: step.id, spaced: spaced.map(|(date, why, _)| (date, why)), stays, trays })
        };
        steps.filter_map(of_step).collect()
    }

    fn leaves(&self, timed: &Timed) -> Leaves<'_> {
        Leaves { spreads: &self.crop.spreads.value, sown: timed.dates.sown }
    }

    /// The day on which the pots of a step are spaced out, why then, and how they stand from then on.
    fn spaced(&self, timed: &Timed, index: usize) -> Option<(NaiveDate, Why, Cow<'_, Holding>)> {
        let StepHoldings { tight, spaced } = self.holdings.get(index)?.as_ref()?;
        let in_step = timed.growing(index).map(|(from, until)| from..until);
        let mut was = timed.dates.spaced_out.iter().copied();
        let was = was.find(|day| in_step.as_ref().is_some_and(|days| days.contains(day)));
        match spaced.as_ref()? {
            SpacedOut::After(days, holding) => {
                let start = *timed.dates.starts.get(index)?;
                let planned = (shifted(start, i64::from(*days)), Why::Set);
                let (date, why) = was.map_or(planned, |date| (date, Why::Seen));
                Some((date, why, Cow::Borrowed(holding)))
            }
            SpacedOut::WhenLeavesMeet => {
                tight.pot_height.or(tight.loose.map(|loose| loose.across))?;
                let (leaves, days) = (self.leaves(timed), timed.growing(index)?);
                let (at, wide) = (tight.apart?, leaves.widest(days.1));
                let (date, why) = match was {
                    Some(date) => (date, Why::Seen),
                    None => (leaves.meet(at, days)?, Why::Wider { at, wide }),
                };
                Some((date, why, Cow::Owned(self.apart(index, wide)?)))
            }
        }
    }

    /// How the trays of a step stand with room for leaves of that width.
    fn apart(&self, index: usize, wide: Length) -> Option<Holding> {
        let step = self.sowing.steps.get(index)?;
        holding(self.season, self.library, self.crop, self.sowing, step, Standing::Leaves(wide), &mut Vec::new())
    }

    /// In which steps leaves of the lot meet, one after the other.
    pub(super) fn leaves_meet(&self, lot: &SownLot, timed: &Timed) -> Vec<Meeting> {
        let leaves = self.leaves(timed);
        let of_step = |(index, step): (usize, &Step)| {
            let tight = &self.holdings.get(index)?.as_ref()?.tight;
            let days = timed.growing(index)?;
            let spaced = self.spaced(timed, index).filter(|(date, ..)| *date < days.1);
            let until = spaced.as_ref().map_or(days.1, |(date, ..)| *date);
            let while_tight =
                tight.apart.and_then(|at| Some((leaves.meet(at, (days.0, until))?, at, spaced.is_some())));
            let after = || {
                let (date, _, wide) = spaced.as_ref()?;
                let at = wide.apart?;
                Some((leaves.meet(at, (*date, days.1))?, at, false))
            };
            let (from, at, spaced) = while_tight.or_else(after)?;
            let wide = leaves.widest(days.1);
            let until = if spaced { until } else { days.1 };
            let room = self.room_apart(lot, timed, index, tight, wide);
            Some(Meeting { step: step.id, from, until, spaced, at, wide, room })
        };
        self.sowing.steps.iter().enumerate().filter_map(of_step).collect()
    }

    /// What would keep leaves of that width apart; `None` in cells.
    fn room_apart(
        &self,
        lot: &SownLot,
        timed: &Timed,
        index: usize,
        tight: &Holding,
        wide: Length,
    ) -> Option<RoomApart> {
        let places = if index == 0 { lot.cells } else { timed.moved_on };
        if let Some(loose) = tight.loose {
            let ground = |side: Length| side * i64::from(places) * side;
            return Some(RoomApart::Ground { now: ground(loose.across), apart: ground(wide) });
        }
        tight.pot_height?;
        let trays = |holding: &Holding| trade::whole_trays(places, holding.per_tray);
        Some(RoomApart::Trays { now: trays(tight), apart: trays(&self.apart(index, wide)?) })
    }

    /// The same with the day on which the pots are spaced out as one more.
    fn turns<'t>(
        &self,
        (lot, step): (&SownLot, &Step),
        sharing: &Sharing,
        tight: &'t Holding,
        spaced: Option<(NaiveDate, &'t Holding)>,
        held: &[(NaiveDate, u32, u32)],
    ) -> Vec<Turn<'t>> {
        let mut days: Vec<NaiveDate> = held.iter().map(|(from, ..)| *from).collect();
        days.extend(spaced.map(|(date, _)| date).filter(|date| days.first().is_some_and(|first| date > first)));
        days.sort_unstable();
        days.dedup();
        let turn = |from: NaiveDate| {
            let &(_, places, alive) = held.iter().rev().find(|(date, ..)| *date <= from).or(held.first())?;
            let wide = spaced.filter(|(date, _)| *date <= from).map(|(_, holding)| holding);
            let mut shared = shared::shared_parts(self.season, lot.lot.id, step, tight, places);
            shared.extend(sharing.part(lot.lot.id, step.id, places));
            Some(Turn { from, holding: wide.unwrap_or(tight), places, alive, shared })
        };
        days.into_iter().filter_map(turn).collect()
    }
}

/// What each lot is sown from, and how many plants it is to give.
fn lots(season: &Season, library: &Library, crop: &Crop, sowing: &Sowing) -> Vec<SownLot> {
    let shares: Vec<u32> = sowing.lots.iter().map(|lot| lot.share).collect();
    let wanted = trade::share_out(sowing.plants_wanted(), &shares);
    let sown = sowing.cells_sown().map(|cells| trade::share_out(cells, &shares));
    let germination = clock::germination(season, library, crop, sowing, sown_about(crop, sowing));
    let comes_up = trade::cell_success(f64::from(germination.percent) / 100.0, sowing.seeds_per_cell, 0.0);
    let mut lots: Vec<SownLot> = Vec::new();
    for (at, (lot, plants)) in sowing.lots.iter().zip(wanted).enumerate() {
        let mut sow = dates::sow_count(season, sowing, germination, plants);
        let moved_on =
            trade::cells_on_average(plants, 1.0 - f64::from(sowing.losses_percent) / 100.0).unwrap_or(plants);
        if sowing.begun.is_some() {
            // They came up: each of them has its cell or pot.
            (sow.on_average, sow.sure) = (moved_on, moved_on);
        }
        let cells = sown.as_ref().and_then(|sown| sown.get(at).copied());
        // a hair off, so that 0.8 of 10 is 8 and not 9
        let likely = match cells.filter(|_| sowing.begun.is_none()) {
            Some(cells) => moved_on.min((f64::from(cells) * comes_up - 1e-9).ceil().max(0.0) as u32),
            None => moved_on,
        };
        let cells = cells.unwrap_or(sow.sure);
        lots.push(SownLot { lot: *lot, plants, sow, cells, moved_on, likely, seen: LotSeen::default() });
    }
    let likely = lots.iter().map(|lot| lot.likely).fold(0_u32, u32::saturating_add);
    for (at, lot) in lots.iter_mut().enumerate() {
        lot.seen = records::of_lot(sowing, &shares, at, likely);
    }
    lots
}
