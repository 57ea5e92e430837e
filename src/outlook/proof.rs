//! What a bound proves, in the grower's terms.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use crate::fit::{self, BoundKind};
use crate::forecast::{Shape, Stay};
use crate::season::{PartOfDay, RimShape, Role, ShelfId, TrayKey};
use crate::units::{DateSpan, Length};

use super::answer::{PoolKind, Reason};
use super::pots::OfPots;
use super::question::date_of;
use super::room::NoGround;
use super::view::{View, is_pots};

/// What a proof says, in trays and pots.
#[derive(Clone)]
pub(super) struct Proof {
    /// The pool that most of its trays are of.
    pub(super) pool: PoolKind,
    /// Every pool that some are of.
    pub(super) pools: BTreeSet<PoolKind>,
    pub(super) needed: u32,
    pub(super) held: u32,
    pub(super) trays: Vec<TrayKey>,
    pub(super) reason: Reason,
}

impl Proof {
    pub(super) const fn short(&self) -> u32 {
        self.needed - self.held
    }
}

/// More loose pots than these are left out of proofs that take them singly.
const MOST_SINGLE: usize = 20_000;

impl View<'_> {
    /// A proof about the pool alone, which is the plainest, else the one about everything.
    pub(super) fn prove(&self, pool: PoolKind, present: &[usize], run: &fit::DayVerdict, day: i32) -> Option<Proof> {
        let (alone, items) = self.singly(present, day);
        let bound = fit::prove_day(&alone, day).map(|bound| {
            let items = bound.items.iter().filter_map(|&item| items.get(item).copied()).collect();
            self.proof(&fit::Bound { items, ..bound }, day)
        });
        let pots = self.prove_pots(present, day);
        let proofs = [pots, bound].into_iter().flatten();
        let strongest = proofs.reduce(|one, other| if other.short() > one.short() { other } else { one });
        if strongest.is_some() {
            return strongest;
        }
        match &run.verdict {
            fit::Verdict::Crunch(bound) => {
                let date = date_of(day);
                let concerns = bound.items.iter().any(|&item| self.pool_on(item, date) == Some(pool));
                let in_blocks = |&item: &usize| self.stay_on(item, date).is_some_and(|stay| is_pots(&stay.shape));
                let choice = |&item: &usize| self.has_a_choice(item, date);
                let sure = !bound.items.iter().any(in_blocks) && !bound.items.iter().any(choice);
                (concerns && sure).then(|| self.proof(bound, day))
            }
            _ => None,
        }
    }

    /// Those items on that day, and which each is: how pots are cut into blocks is our choice, so a
    /// proof takes square ones singly and leaves round ones out.
    pub(super) fn singly(&self, present: &[usize], day: i32) -> (fit::Problem, Vec<usize>) {
        let mut alone = fit::Problem { shelves: self.question.problem.shelves.clone(), items: Vec::new() };
        let mut of = Vec::new();
        for &item in present {
            let (Some(stay), Some(asked)) = (self.stay_on(item, date_of(day)), self.question.problem.items.get(item))
            else {
                continue;
            };
            let (one, number) = match &stay.shape {
                Shape::Tray { .. } => {
                    let Some(one) = self.as_free_as_it_may_be(item, stay, asked, day) else { continue };
                    (one, 1)
                }
                Shape::Pots { rim: RimShape::Round, .. } => continue,
                Shape::Pots { rim: RimShape::Square, pitch, centres, .. } => {
                    if of.len() + centres.len() > MOST_SINGLE {
                        continue;
                    }
                    let days = fit::Days::new(day, day.saturating_add(1));
                    let side = pitch.units();
                    let grams = i64::from(stay.grams) / i64::try_from(centres.len()).unwrap_or(i64::MAX).max(1);
                    let phases = vec![fit::Phase { days, w: side, d: side, grams }];
                    (fit::Item { phases, pinned: None, wish: None, ..asked.clone() }, centres.len())
                }
            };
            alone.items.extend(std::iter::repeat_n(one, number));
            of.extend(std::iter::repeat_n(item, number));
        }
        (alone, of)
    }

    /// Whether the forecast chose for the tray between a place for the day and one for the night.
    pub(super) fn has_a_choice(&self, item: usize, date: NaiveDate) -> bool {
        let Some(stay) = self.stay_on(item, date) else { return false };
        match stay.needs.role {
            Role::Hardening => self.room.may_harden_otherwise(),
            _ => self.room.has_night_place() && self.hardens_too(stay, date),
        }
    }

    fn hardens_too(&self, stay: &Stay, date: NaiveDate) -> bool {
        let tray = stay.tray();
        self.forecast.on(date).any(|other| other.tray() == tray && other.needs.role == Role::Hardening)
    }

    /// The item with every ground that another choice of hardening place would give it; `None` if it
    /// need not be there at all.
    fn as_free_as_it_may_be(&self, item: usize, stay: &Stay, asked: &fit::Item, day: i32) -> Option<fit::Item> {
        let date = date_of(day);
        if !self.has_a_choice(item, date) {
            return Some(asked.clone());
        }
        if stay.needs.role != Role::Hardening || asked.pinned.is_some() {
            return None;
        }
        let by_day = Stay { part: PartOfDay::Days, ..stay.clone() };
        let regions = self.room.regions(&by_day, DateSpan::day(date)?);
        Some(fit::Item { regions: regions.into(), ..asked.clone() })
    }

    /// Loose pots of one size, counted singly: exact where rows of them are.
    fn prove_pots(&self, present: &[usize], day: i32) -> Option<Proof> {
        let OfPots { kind, needed, at_most, by_weight, shelves, .. } =
            self.of_pots(present, day).filter(|pots| pots.at_most < pots.needed)?;
        let pool = present.first().and_then(|&item| self.pool_on(item, date_of(day)))?;
        Some(Proof {
            pool,
            pools: BTreeSet::from([pool]),
            needed,
            held: at_most,
            trays: present.iter().filter_map(|&item| self.question.items.get(item)).map(|item| item.tray).collect(),
            reason: if by_weight {
                Reason::Weight { shelves }
            } else {
                Reason::Pots { across: kind.across, apart: kind.apart, shelves }
            },
        })
    }

    pub(super) fn shelf_ids(&self, shelves: &BTreeSet<usize>) -> Vec<ShelfId> {
        shelves.iter().filter_map(|&shelf| self.question.shelves.get(shelf).copied()).collect()
    }

    /// A bound in the grower's terms; an item that is a block of pots stands there once for each.
    pub(super) fn proof(&self, bound: &fit::Bound, day: i32) -> Proof {
        let date = date_of(day);
        let count = |number: i64| u32::try_from(number).unwrap_or(u32::MAX);
        let needed = u32::try_from(bound.items.len()).unwrap_or(u32::MAX);
        let items: BTreeSet<usize> = bound.items.iter().copied().collect();
        let pots = || items.iter().all(|&item| self.stay_on(item, date).is_some_and(|stay| is_pots(&stay.shape)));
        let shelves: BTreeSet<usize> = items
            .iter()
            .filter_map(|&item| self.question.problem.items.get(item))
            .flat_map(|item| item.regions.iter().map(|region| region.shelf))
            .collect();
        let shelves = self.shelf_ids(&shelves);
        let reason = match bound.kind {
            BoundKind::NoRegion => self.no_ground_reason(&bound.items, day, shelves),
            BoundKind::PinClash => Reason::Pins,
            BoundKind::Count { .. } if pots() => {
                let (across, _) = self.least_sides(&bound.items, date);
                let pitches = items.iter().filter_map(|&item| match &self.stay_on(item, date)?.shape {
                    Shape::Pots { pitch, .. } => Some(*pitch),
                    Shape::Tray { .. } => None,
                });
                Reason::Pots { across, apart: pitches.min().unwrap_or(across), shelves }
            }
            BoundKind::Count { .. } => {
                let (width, depth) = self.least_sides(&bound.items, date);
                Reason::Count { width, depth, shelves }
            }
            BoundKind::Area => Reason::Ground { shelves },
            BoundKind::Patterns | BoundKind::Tried => Reason::Together { shelves },
            BoundKind::Load => Reason::Weight { shelves },
            BoundKind::Cover => Reason::Allowance { shelves },
        };
        let mut votes: BTreeMap<PoolKind, usize> = BTreeMap::new();
        for pool in bound.items.iter().filter_map(|&item| self.pool_on(item, date)) {
            *votes.entry(pool).or_default() += 1;
        }
        let most = votes.iter().max_by_key(|(_, number)| **number);
        Proof {
            pools: votes.keys().copied().collect(),
            pool: most.map_or(PoolKind::Of(Role::Growing), |(pool, _)| *pool),
            needed,
            held: needed - count(bound.short()).min(needed),
            trays: items.iter().filter_map(|&item| self.question.items.get(item)).map(|item| item.tray).collect(),
            reason,
        }
    }

    /// The longer and the shorter side that each of the items has at least, no gap included.
    pub(super) fn least_sides(&self, items: &[usize], date: NaiveDate) -> (Length, Length) {
        let sides = |side: fn(Length, Length) -> Length| {
            let stays = items.iter().filter_map(|&item| self.stay_on(item, date));
            stays
                .map(|stay| match &stay.shape {
                    Shape::Tray { width, depth, .. } => side(*width, *depth),
                    Shape::Pots { across, .. } => *across,
                })
                .min()
                .unwrap_or(Length::ZERO)
        };
        (sides(Ord::max), sides(Ord::min))
    }

    fn no_ground_reason(&self, items: &[usize], day: i32, shelves: Vec<ShelfId>) -> Reason {
        let Some(span) = DateSpan::day(date_of(day)) else { return Reason::NoShelf };
        let stays = || items.iter().filter_map(|&item| self.stay_on(item, span.from()));
        let why: Vec<Option<NoGround>> = stays().map(|stay| self.room.no_ground(stay, span)).collect();
        let all = |of: fn(&Option<NoGround>) -> bool| !why.is_empty() && why.iter().all(of);
        let missing = why.iter().filter_map(|why| match why {
            Some(NoGround::TooLow { missing, .. }) => Some(*missing),
            _ => None,
        });
        let harmed = why.iter().find_map(|why| match why {
            Some(NoGround::Harmed { place }) => Some(*place),
            _ => None,
        });
        if all(|why| matches!(why, Some(NoGround::TooLow { .. }))) {
            Reason::Height { missing: missing.max().unwrap_or(Length::ZERO) }
        } else if all(|why| matches!(why, Some(NoGround::TooHeavy { .. }))) {
            Reason::Weight { shelves }
        } else if all(|why| matches!(why, Some(NoGround::Dark))) {
            Reason::Dark
        } else if let Some(place) =
            harmed.filter(|_| all(|why| matches!(why, Some(NoGround::Harmed { .. } | NoGround::Dark))))
        {
            Reason::Warmth { place }
        } else if all(Option::is_none) {
            // one alone covers more than the allowance leaves
            Reason::Allowance { shelves }
        } else {
            Reason::NoShelf
        }
    }
}
