//! Which trays a batch stands in, step by step.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::forecast::all::Forecast;
use crate::forecast::stay::{Phase, Stay};
use crate::season::{LotId, PartOfDay, StepId, TrayKey};

/// The stays of each batch in each of its steps, in trays of its own and in shared ones.
pub(super) struct Stands<'a>(BTreeMap<(LotId, StepId), Vec<&'a Stay>>);

impl<'a> Stands<'a> {
    pub(super) fn of(forecast: &'a Forecast) -> Self {
        let mut all: BTreeMap<(LotId, StepId), Vec<&Stay>> = BTreeMap::new();
        for stay in &forecast.stays {
            let Some(tray) = stay.tray() else { continue };
            match (forecast.shared.get(&tray), tray) {
                (Some(shared), _) => {
                    for part in &shared.parts {
                        all.entry((part.lot, part.step)).or_default().push(stay);
                    }
                }
                (None, TrayKey::Own { lot, step, .. }) => all.entry((lot, step)).or_default().push(stay),
                (None, TrayKey::Shared(_) | TrayKey::Guest { .. }) => {}
            }
        }
        Self(all)
    }

    fn stays(&self, lot: LotId, step: StepId) -> impl Iterator<Item = &'a Stay> {
        self.0.get(&(lot, step)).into_iter().flatten().copied()
    }

    pub(super) fn trays(&self, lot: LotId, step: StepId) -> Vec<TrayKey> {
        distinct(self.stays(lot, step))
    }

    /// Those that stand there on that day.
    pub(super) fn trays_on(&self, lot: LotId, step: StepId, day: NaiveDate) -> Vec<TrayKey> {
        distinct(self.stays(lot, step).filter(|stay| stay.span.contains(day)))
    }

    /// How they germinate.
    pub(super) fn germinating(&self, lot: LotId, step: StepId) -> Option<&'a Stay> {
        self.stays(lot, step).find(|stay| stay.phase == Phase::Germinating)
    }

    /// Those that stand outside from that day on, at night as well where it says so, and their plants.
    pub(super) fn out_from(&self, lot: LotId, step: StepId, day: NaiveDate, nights: bool) -> (Vec<TrayKey>, u32) {
        let outside = |stay: &&Stay| {
            let part = !nights || stay.part == PartOfDay::Whole;
            stay.phase == Phase::Hardening && stay.span.from() == day && part
        };
        let plants = self.stays(lot, step).filter(outside).fold(0_u32, |sum, stay| sum.saturating_add(stay.plants));
        (distinct(self.stays(lot, step).filter(outside)), plants)
    }

    /// Those that are empty from that day on.
    pub(super) fn empty_from(&self, lot: LotId, step: StepId, day: NaiveDate) -> Vec<TrayKey> {
        let mut last: BTreeMap<TrayKey, NaiveDate> = BTreeMap::new();
        for stay in self.stays(lot, step) {
            for tray in &stay.trays {
                let until = last.entry(*tray).or_insert_with(|| stay.span.until());
                *until = stay.span.until().max(*until);
            }
        }
        last.into_iter().filter(|(_, until)| *until == day).map(|(tray, _)| tray).collect()
    }
}

fn distinct<'a>(stays: impl Iterator<Item = &'a Stay>) -> Vec<TrayKey> {
    let mut trays: Vec<TrayKey> = stays.flat_map(|stay| stay.trays.iter().copied()).collect();
    trays.sort_unstable();
    trays.dedup();
    trays
}
