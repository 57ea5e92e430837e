//! A last tray for a handful of cells: what it buys, and how to do without it.

use crate::season::{Sowing, StepId};
use crate::trade;

use super::course::SowCount;
use super::dates::success;
use super::holding::Holding;
use super::problem::Problem;
use super::stay::{Inside, Shape};

/// A tray less is told where it is at least so sure to do: our choice, no source.
const WORTH_TELLING: f64 = 0.5;

/// Says that the last tray of a lot is there for the chance alone: `cells` are sown, for `plants` that are wanted.
pub(super) fn handful(
    sowing: &Sowing,
    (step, holding): (StepId, &Holding),
    (cells, plants): (u32, u32),
    sow: SowCount,
) -> Option<Problem> {
    let is_planned = sowing.begun.is_none() && sowing.again_of.is_none() && sowing.cells_sown().is_none();
    if !is_planned || holding.loose.is_some() || holding.per_tray < 2 {
        return None;
    }
    let full = trade::whole_trays(cells, holding.per_tray).checked_sub(1).filter(|trays| *trays > 0)?;
    let places = full.saturating_mul(holding.per_tray);
    let chance = |seeds| trade::chance_of(places, success(sowing, sow.germination, seeds), plants);
    let (now, wish) = (chance(sowing.seeds_per_cell), f64::from(sow.sure_percent) / 100.0);
    if now < WORTH_TELLING {
        return None;
    }
    let more = sowing.seeds_per_cell.saturating_add(1);
    let in_cells = !matches!(holding.shape, Shape::Tray { inside: Inside::Open, .. });
    Some(Problem::TrayForAHandful {
        sowing: sowing.id,
        step,
        full,
        per_tray: holding.per_tray,
        sown: cells - places,
        wanted: plants,
        // never told surer than it is
        percent: (now * 100.0).floor().clamp(0.0, 100.0) as u8,
        sure_percent: sow.sure_percent,
        would_do: trade::plants_sure(places, success(sowing, sow.germination, sowing.seeds_per_cell), wish),
        seeds: (in_cells && chance(more) >= wish).then_some(more),
    })
}
