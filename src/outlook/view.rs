//! A question with its answer, and what each item of it stands for on a day.

use std::collections::BTreeSet;

use chrono::NaiveDate;

use crate::fit::{self};
use crate::forecast::{Forecast, Shape, Stay};
use crate::season::{PlaceId, Role, Season, ZoneKind};

use super::answer::{Pool, PoolKind};
use super::question::{Question, date_of, day_number};
use super::room::Room;

pub(super) struct View<'a> {
    pub(super) season: &'a Season,
    pub(super) forecast: &'a Forecast,
    pub(super) room: &'a Room<'a>,
    pub(super) question: &'a Question,
    pub(super) answer: &'a fit::Answer,
    /// Every first day of a stay: what it needs may change though its ground does not.
    pub(super) turns: BTreeSet<i32>,
    pub(super) pools: BTreeSet<PoolKind>,
}

pub(super) const fn is_pots(shape: &Shape) -> bool {
    matches!(shape, Shape::Pots { .. })
}

/// Trays, stacks and loose pots count one each.
pub(super) fn weight(stay: &Stay) -> u32 {
    match &stay.shape {
        Shape::Tray { .. } => 1,
        Shape::Pots { centres, .. } => u32::try_from(centres.len()).unwrap_or(u32::MAX),
    }
}

pub(super) const fn pool_of(room: &Room<'_>, stay: &Stay) -> PoolKind {
    match (stay.needs.role, stay.needs.heat) {
        (Role::Germinating, true) if room.any_heat() => PoolKind::BottomHeat,
        (role, _) => PoolKind::Of(role),
    }
}

/// A pool with the places whose shelves count for it.
pub(super) fn pool(room: &Room<'_>, kind: PoolKind) -> Pool {
    let mut places: BTreeSet<PlaceId> = BTreeSet::new();
    for (_, shelf, place) in room.shelves() {
        let counts = match kind {
            PoolKind::BottomHeat => place.role == Role::Germinating || shelf.has(ZoneKind::Heat),
            PoolKind::Of(role) => place.role == role,
        };
        if counts {
            places.insert(place.id);
        }
    }
    Pool { kind, places: places.into_iter().collect() }
}

impl<'a> View<'a> {
    pub(super) fn new(
        season: &'a Season,
        forecast: &'a Forecast,
        room: &'a Room<'a>,
        question: &'a Question,
        answer: &'a fit::Answer,
    ) -> Self {
        let parts = || question.items.iter().flat_map(|item| &item.parts);
        let turns = parts().map(|part| day_number(part.span.from())).collect();
        let mut view = Self { season, forecast, room, question, answer, turns, pools: BTreeSet::new() };
        let stays = parts().filter_map(|part| forecast.stays.get(part.stay));
        view.pools = stays.map(|stay| view.pool_of(stay)).collect();
        view
    }

    /// A run of days, cut where what a stay needs may change.
    pub(super) fn cuts(&self, days: fit::Days) -> Vec<fit::Days> {
        let inside = self.turns.range(days.from..days.until).copied().filter(|turn| *turn > days.from);
        let starts: Vec<i32> = std::iter::once(days.from).chain(inside).collect();
        let ends = starts.iter().skip(1).copied().chain([days.until]);
        starts.iter().zip(ends).map(|(&from, until)| fit::Days::new(from, until)).collect()
    }

    pub(super) fn stay_on(&self, item: usize, date: NaiveDate) -> Option<&'a Stay> {
        self.part_on(item, date).map(|(_, stay)| stay)
    }

    /// The same with its place in the forecast.
    pub(super) fn part_on(&self, item: usize, date: NaiveDate) -> Option<(usize, &'a Stay)> {
        let part = self.question.items.get(item)?.parts.iter().find(|part| part.span.contains(date))?;
        Some((part.stay, self.forecast.stays.get(part.stay)?))
    }

    /// An item may change its pool: up, and it no longer germinates.
    pub(super) fn pool_on(&self, item: usize, date: NaiveDate) -> Option<PoolKind> {
        self.stay_on(item, date).map(|stay| self.pool_of(stay))
    }

    pub(super) fn pool_of(&self, stay: &Stay) -> PoolKind {
        pool_of(self.room, stay)
    }

    pub(super) fn pool(&self, kind: PoolKind) -> Pool {
        pool(self.room, kind)
    }

    /// Items of a pool that are there on that day.
    pub(super) fn present(&self, pool: PoolKind, day: i32) -> Vec<usize> {
        let date = date_of(day);
        (0..self.question.items.len()).filter(|&item| self.pool_on(item, date) == Some(pool)).collect()
    }

    pub(super) fn weight_of(&self, items: &[usize], date: NaiveDate) -> u32 {
        items.iter().filter_map(|&item| self.stay_on(item, date)).map(weight).fold(0, u32::saturating_add)
    }
}
