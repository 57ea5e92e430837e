//! Loose pots of one kind, counted one by one: how they are cut into blocks is our choice, and what
//! the shelves hold of them does not rest on it.

use std::collections::{BTreeMap, BTreeSet};

use crate::fit;
use crate::forecast::{Shape, Stay};
use crate::season::{RimShape, ShelfId};
use crate::units::Length;

use super::question::date_of;
use super::view::{View, weight};

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct PotKind {
    rim: RimShape,
    pub(super) across: Length,
    /// From middle to middle.
    pub(super) apart: Length,
}

/// Pots that are alike, and the ground they may stand on.
pub(super) struct OfPots {
    pub(super) kind: PotKind,
    pub(super) needed: u32,
    /// So many stand there, with all else left where it is.
    pub(super) at_least: u32,
    /// More can't, even if all else goes.
    pub(super) at_most: u32,
    /// By their weight, not by their size.
    pub(super) by_weight: bool,
    pub(super) shelves: Vec<ShelfId>,
}

/// What of a shelf is open to them.
#[derive(Default)]
struct Ground {
    right: i64,
    front: i64,
    largest: Option<fit::Rect>,
}

impl Ground {
    fn reach(&mut self, rect: fit::Rect) {
        (self.right, self.front) = (self.right.max(rect.right()), self.front.max(rect.back()));
        if self.largest.is_none_or(|largest| rect.area() > largest.area()) {
            self.largest = Some(rect);
        }
    }
}

impl PotKind {
    pub(super) const fn of(shape: &Shape) -> Option<Self> {
        match shape {
            Shape::Pots { rim, across, pitch, .. } => Some(Self { rim: *rim, across: *across, apart: *pitch }),
            Shape::Tray { .. } => None,
        }
    }

    /// How many stand in rows on ground that reaches out by what a pot lacks of its distance.
    pub(super) fn in_rows(self, w: i64, d: i64) -> i64 {
        let apart = self.apart.units();
        match self.rim {
            RimShape::Square => fit::count(w, d, apart, apart).most,
            RimShape::Round => fit::round_rows(w, d, apart).count(),
        }
    }

    /// The same for pots of one sowing: a block of them that fills such ground stands out of line where that holds
    /// more. Blocks of several sowings side by side are cut in rows and would not come to as many.
    pub(super) fn of_one_sowing(self, w: i64, d: i64) -> i64 {
        match self.rim {
            RimShape::Square => self.in_rows(w, d),
            RimShape::Round => fit::count_round(w, d, self.apart.units()),
        }
    }

    fn at_most(self, w: i64, d: i64) -> i64 {
        let apart = self.apart.units();
        match self.rim {
            RimShape::Square => fit::count(w, d, apart, apart).at_most,
            RimShape::Round => fit::oler_bound(w, d, apart),
        }
    }

    /// The most that the grower's packing allowance lets stand, by the square around each pot.
    pub(super) fn by_cover(self, cover: Option<i128>) -> i64 {
        let square = i128::from(self.apart.units()) * i128::from(self.apart.units());
        cover.and_then(|cover| i64::try_from(cover.checked_div(square)?).ok()).unwrap_or(i64::MAX)
    }
}

impl View<'_> {
    /// `None` where they aren't all loose pots of one kind, or may be elsewhere that day.
    pub(super) fn of_pots(&self, present: &[usize], day: i32) -> Option<OfPots> {
        let date = date_of(day);
        let stays = || present.iter().filter_map(|&item| self.stay_on(item, date));
        let kind = stays().find_map(|stay| PotKind::of(&stay.shape))?;
        let alike = stays().all(|stay| PotKind::of(&stay.shape) == Some(kind));
        if !alike || present.iter().any(|&item| self.has_a_choice(item, date)) {
            return None;
        }
        let items = || present.iter().filter_map(|&item| self.question.problem.items.get(item));
        let mut grounds: BTreeMap<usize, Ground> = BTreeMap::new();
        let regions: BTreeSet<fit::Region> = items().flat_map(|item| item.regions.iter().copied()).collect();
        for region in regions {
            grounds.entry(region.shelf).or_default().reach(region.rect);
        }
        // what is counted whole must have the same ground, and be free to stand there
        let mut all = items();
        let first = all.next()?;
        let free = first.pinned.is_none() && all.all(|item| item.pinned.is_none() && item.regions == first.regions);
        let alone = stays().flat_map(|stay| self.forecast.sowings_in(stay)).collect::<BTreeSet<_>>().len() <= 1;
        let taken = self.taken_by_others(present, day);
        let each = |stay: &Stay| (i64::from(stay.grams), i64::from(weight(stay)).max(1));
        let lightest = stays().map(each).map(|(grams, pots)| grams / pots).min().unwrap_or(0);
        let heaviest = stays().map(each).map(|(grams, pots)| (grams + pots - 1) / pots).max().unwrap_or(0);
        let (mut at_least, mut at_most, mut by_size) = (0_i64, 0_i64, 0_i64);
        let mut stand: BTreeMap<(i64, i64), i64> = BTreeMap::new();
        for (&shelf, ground) in &grounds {
            let limits = self.question.problem.shelves.get(shelf);
            let by_cover = kind.by_cover(limits.and_then(|limits| limits.cover));
            // round pots nest: they cover less than the squares around them
            let most = kind.at_most(ground.right, ground.front);
            let most = if kind.rim == RimShape::Square { most.min(by_cover) } else { most };
            by_size = by_size.saturating_add(most);
            let by_load =
                |grams: i64| limits.and_then(|limits| limits.load?.max(0).checked_div(grams)).unwrap_or(i64::MAX);
            at_most = at_most.saturating_add(most.min(by_load(lightest)));
            let Some(largest) = ground.largest.filter(|_| free && !taken.contains(&shelf)) else {
                continue;
            };
            let size = (largest.w, largest.d);
            let stand = *stand.entry(size).or_insert_with(|| {
                if alone { kind.of_one_sowing(size.0, size.1) } else { kind.in_rows(size.0, size.1) }
            });
            at_least = at_least.saturating_add(stand.min(by_cover).min(by_load(heaviest)));
        }
        let shelves: BTreeSet<usize> = grounds.into_keys().collect();
        Some(OfPots {
            kind,
            needed: stays().map(weight).fold(0, u32::saturating_add),
            at_least: u32::try_from(at_least).unwrap_or(u32::MAX),
            at_most: u32::try_from(at_most).unwrap_or(u32::MAX),
            by_weight: at_most < by_size,
            shelves: self.shelf_ids(&shelves),
        })
    }

    /// Shelves on which something else stands that day.
    fn taken_by_others(&self, present: &[usize], day: i32) -> BTreeSet<usize> {
        let own: BTreeSet<usize> = present.iter().copied().collect();
        let items = self.question.problem.items.iter().enumerate();
        let others = items.filter(|(item, asked)| !own.contains(item) && asked.days().contains(day));
        others.filter_map(|(item, _)| self.answer.layout.spot_on(item, day)).map(|spot| spot.shelf).collect()
    }
}
