//! Pools that cannot all stand on a day, counted together where they are in each other's way.

use std::collections::BTreeSet;

use chrono::NaiveDate;

use crate::fit;

use super::answer::PoolKind;
use super::proof::Proof;
use super::question::day_number;
use super::view::View;

/// Work for the packing that says how few must leave at most.
const PACK_BUDGET: u64 = 200_000;

/// One pool on a day: who is there, who has no spot, and why.
pub(super) struct OfPool {
    pub(super) pool: PoolKind,
    pub(super) present: Vec<usize>,
    pub(super) out: Vec<usize>,
    pub(super) proof: Option<Proof>,
}

/// What is proven about the pools that a proof names, and about those that share a proof with them.
pub(super) struct Shortage {
    /// That which the proof is most about comes first.
    pub(super) pools: Vec<PoolKind>,
    /// Whatever stands in them, or should.
    pub(super) items: Vec<usize>,
    pub(super) needed: u32,
    /// Without a spot in the layout.
    pub(super) out: u32,
    /// The fewest that must leave.
    pub(super) short: u32,
    pub(super) proof: Proof,
}

impl Shortage {
    /// The worst is the one by which most must leave; of those like it, that of most, and the first.
    pub(super) const fn rank(&self) -> (u32, u32) {
        (self.short, self.needed)
    }
}

impl View<'_> {
    pub(super) fn shortages(&self, of_pools: &[OfPool], date: NaiveDate) -> Vec<Shortage> {
        let mut groups: Vec<BTreeSet<PoolKind>> = Vec::new();
        for proof in of_pools.iter().filter_map(|of| of.proof.as_ref()) {
            let (near, rest): (Vec<_>, Vec<_>) = groups.into_iter().partition(|group| !group.is_disjoint(&proof.pools));
            groups = rest;
            groups.push(near.into_iter().flatten().chain(proof.pools.iter().copied()).collect());
        }
        groups.iter().filter_map(|group| self.shortage(group, of_pools, date)).collect()
    }

    fn shortage(&self, group: &BTreeSet<PoolKind>, of_pools: &[OfPool], date: NaiveDate) -> Option<Shortage> {
        let of_group = || of_pools.iter().filter(|of| group.contains(&of.pool));
        let proofs = || of_group().filter_map(|of| of.proof.as_ref());
        // proofs about one pool each are about different trays
        let apart: u32 = proofs().filter(|proof| proof.pools.len() == 1).map(Proof::short).sum();
        let proof = proofs().max_by_key(|proof| (proof.short(), proof.pools.len()))?;
        let items: Vec<usize> = of_group().flat_map(|of| of.present.iter().copied()).collect();
        let out: Vec<usize> = of_group().flat_map(|of| of.out.iter().copied()).collect();
        let others = group.iter().copied().filter(|pool| *pool != proof.pool);
        Some(Shortage {
            pools: std::iter::once(proof.pool).chain(others).collect(),
            needed: self.weight_of(&items, date),
            out: self.weight_of(&out, date),
            short: proof.short().max(apart),
            items,
            proof: proof.clone(),
        })
    }

    /// So many at most must leave that day: what the layout leaves out, or a packing of the day alone
    /// does, or pots cut anew do.
    pub(super) fn short_at_most(&self, shortage: &Shortage, date: NaiveDate) -> u32 {
        if shortage.out <= shortage.short {
            return shortage.short;
        }
        let day = day_number(date);
        // how pots are cut into blocks is our choice
        let stand = self.of_pots(&shortage.items, day).map_or(0, |pots| pots.at_least);
        let packed = fit::pack_most(&self.question.problem, day, PACK_BUDGET);
        let placed: BTreeSet<usize> = packed.into_iter().map(|(item, _)| item).collect();
        let left: Vec<usize> = shortage.items.iter().copied().filter(|item| !placed.contains(item)).collect();
        let fewest = self.weight_of(&left, date).min(shortage.out).min(shortage.needed.saturating_sub(stand));
        fewest.max(shortage.short)
    }
}
