//! What stands there day by day against what the rows allow.

use std::collections::BTreeMap;

use crate::fit::Days;
use crate::forecast::Forecast;
use crate::season::SowingId;

use super::drafts::owner;
use super::rows::{Rows, Take};

/// What a season takes of every row on every day.
pub(super) struct Ledger {
    first: i32,
    /// By row, then by day from the first.
    taken: Vec<Vec<i64>>,
    holds: Vec<Vec<i64>>,
    each: Vec<i64>,
    /// What the trays that each sowing owns take of it.
    of_sowing: BTreeMap<SowingId, Vec<Take>>,
}

impl Ledger {
    pub(super) fn of(rows: &Rows<'_>, forecast: &Forecast, days: Days) -> Self {
        let mut of_sowing: BTreeMap<SowingId, Vec<Take>> = BTreeMap::new();
        let mut fixed = Vec::new();
        for stay in &forecast.stays {
            let takes = rows.takes(stay);
            match owner(forecast, stay) {
                Some(sowing) => of_sowing.entry(sowing).or_default().extend(takes),
                None => fixed.extend(takes),
            }
        }
        let number = usize::try_from(days.until.saturating_sub(days.from)).unwrap_or(0);
        let holds = rows.all.iter().map(|row| (days.from..days.until).map(|day| row.on(day)).collect()).collect();
        let mut ledger = Self {
            first: days.from,
            taken: vec![vec![0; number]; rows.all.len()],
            holds,
            each: rows.all.iter().map(|row| row.each.max(1)).collect(),
            of_sowing: BTreeMap::new(),
        };
        for takes in of_sowing.values().chain([&fixed]) {
            ledger.add_all(takes, 1);
        }
        ledger.of_sowing = of_sowing;
        ledger
    }

    fn add_all(&mut self, takes: &[Take], sign: i64) {
        for take in takes {
            self.add(*take, sign);
        }
    }

    fn add(&mut self, take: Take, sign: i64) {
        let at = |day: i32| usize::try_from(day.saturating_sub(self.first).max(0)).unwrap_or(0);
        let (from, until) = (at(take.days.from), at(take.days.until));
        let Some(row) = self.taken.get_mut(take.row) else { return };
        let until = until.min(row.len());
        if let Some(days) = row.get_mut(from.min(until)..until) {
            for taken in days {
                *taken += sign * take.amount;
            }
        }
    }

    /// Trays too many, summed over days: those inside the span, and those of all days.
    pub(super) fn over(&self, inside: Days) -> (i64, i64) {
        let number = self.taken.first().map_or(0, Vec::len);
        let (mut within, mut all) = (0_i64, 0_i64);
        for day in 0..number {
            let of_row = |row: usize| {
                let (taken, holds) = (*self.taken.get(row)?.get(day)?, *self.holds.get(row)?.get(day)?);
                Some((taken - holds).max(0).div_ceil_each(*self.each.get(row)?))
            };
            let most = (0..self.taken.len()).filter_map(of_row).max().unwrap_or(0);
            all += most;
            if i32::try_from(day).is_ok_and(|day| inside.contains(self.first.saturating_add(day))) {
                within += most;
            }
        }
        (within, all)
    }

    /// As [`over`](Self::over), with one sowing's trays replaced by others.
    pub(super) fn over_with(&mut self, sowing: SowingId, takes: &[Take], inside: Days) -> (i64, i64) {
        let before = self.of_sowing.get(&sowing).cloned().unwrap_or_default();
        self.add_all(&before, -1);
        self.add_all(takes, 1);
        let over = self.over(inside);
        self.add_all(takes, -1);
        self.add_all(&before, 1);
        over
    }
}

trait DivCeil {
    fn div_ceil_each(self, each: i64) -> i64;
}

impl DivCeil for i64 {
    fn div_ceil_each(self, each: i64) -> i64 {
        (self + each - 1) / each
    }
}
