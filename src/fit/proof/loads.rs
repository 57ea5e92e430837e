//! How many items shelves can bear, shared out whole: a knapsack over several shelves.
//!
//! If some can be shared out, so can as many of the lightest: each takes the place of one that is as heavy or heavier. So
//! the question is for how many of the lightest there is a way, and for few of them every way is tried.

use super::bound::Strongest;
use super::ground::Plot;
use super::on_day::Alike;
use crate::fit::answer::BoundKind;

/// More shelves or items than this aren't shared out.
const MOST_SHELVES: i64 = 40;
const MOST_ITEMS: usize = 160;
/// Ways tried for one number of items.
const EFFORT: u32 = 20_000;

/// Offers what follows from the weights of items that may only stand on these shelves.
pub(super) fn offer(held: &[&Alike], plots: &[(Plot, i64)], best: &mut Strongest) {
    if plots.iter().map(|(_, times)| *times).sum::<i64>() > MOST_SHELVES {
        return;
    }
    let mut loads: Vec<i64> = Vec::new();
    for (plot, times) in plots {
        let Some(load) = plot.load else { return };
        loads.extend((0..*times).map(|_| load.max(0)));
    }
    let mut items: Vec<(i64, usize)> =
        held.iter().flat_map(|alike| alike.items.iter().map(|&item| (alike.grams.max(0), item))).collect();
    items.sort_unstable();
    let grams: Vec<i64> = items.iter().map(|&(grams, _)| grams).collect();
    if items.len() > MOST_ITEMS || has_room(&grams, &loads) {
        return;
    }
    let short = |grams: &[i64]| grams.len() - most(grams, &loads);
    let all = short(&grams);
    if all == 0 {
        return;
    }
    // the lightest prove the least
    let mut from = 0;
    while from + 1 < grams.len() && short(&grams[from + 1..]) == all {
        from += 1;
    }
    let mut told: Vec<usize> = items[from..].iter().map(|&(_, item)| item).collect();
    told.sort_unstable();
    let stand = i64::try_from(told.len() - all).unwrap_or(i64::MAX);
    best.offer(BoundKind::Load, told, stand);
}

/// Whether there is so much to spare that whoever comes last finds a shelf, whatever the others do.
fn has_room(grams: &[i64], loads: &[i64]) -> bool {
    let sum = |of: &[i64]| of.iter().map(|&n| i128::from(n)).sum::<i128>();
    let heaviest = i128::from(grams.last().copied().unwrap_or(0));
    // else every shelf would have less to spare than the heaviest weighs
    !loads.is_empty() && sum(grams) + (loads.len() as i128 - 1) * heaviest <= sum(loads)
}

/// So many of the items, lightest first, can be shared out; more can't, or it was not found out.
fn most(grams: &[i64], loads: &[i64]) -> usize {
    let mut free: Vec<i64> = loads.to_vec();
    free.sort_unstable();
    let room: i128 = free.iter().map(|&load| i128::from(load)).sum();
    let mut sum = 0;
    let by_sum = grams.iter().take_while(|&&grams| {
        sum += i128::from(grams);
        sum <= room
    });
    let mut number = by_sum.count();
    while number > 0 {
        let mut effort = EFFORT;
        if share_out(&grams[..number], &mut free, 0, &mut effort) != Some(false) {
            break;
        }
        number -= 1;
    }
    number
}

/// Whether the heaviest and all others can be shared out; one as heavy as the one before it goes to no shelf before `from`.
fn share_out(grams: &[i64], free: &mut [i64], from: usize, effort: &mut u32) -> Option<bool> {
    let Some((&heaviest, others)) = grams.split_last() else { return Some(true) };
    *effort = effort.checked_sub(1)?;
    let lightest = i128::from(grams.first().copied().unwrap_or(0));
    let usable = free.iter().map(|&load| i128::from(load)).filter(|&load| load >= lightest);
    if grams.iter().map(|&grams| i128::from(grams)).sum::<i128>() > usable.sum() {
        return Some(false);
    }
    for at in from..free.len() {
        if free[at] < heaviest || free[from..at].contains(&free[at]) {
            continue;
        }
        free[at] -= heaviest;
        let next = if others.last() == Some(&heaviest) { at } else { 0 };
        let found = share_out(others, free, next, effort);
        free[at] += heaviest;
        if found != Some(false) {
            return found;
        }
    }
    Some(false)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// The most that can be shared out, by trying every shelf and none for each.
    fn by_trying(grams: &[i64], free: &mut [i64]) -> usize {
        let Some((&next, others)) = grams.split_first() else { return 0 };
        let mut best = by_trying(others, free);
        for at in 0..free.len() {
            if free[at] >= next {
                free[at] -= next;
                best = best.max(1 + by_trying(others, free));
                free[at] += next;
            }
        }
        best
    }

    #[test]
    fn two_shelves_of_ten_bear_two_of_six() {
        assert_eq!(most(&[6, 6, 6], &[10, 10]), 2);
        assert_eq!(most(&[4, 6, 6], &[10, 10]), 3);
        assert_eq!(most(&[5, 5, 5, 5], &[10, 9]), 3);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(500))]
        #[test]
        fn as_many_are_borne_as_trying_everything_finds(
            mut grams in prop::collection::vec(0..12_i64, 1..8),
            mut loads in prop::collection::vec(0..20_i64, 1..4),
        ) {
            grams.sort_unstable();
            let truth = by_trying(&grams, &mut loads.clone());
            prop_assert_eq!(most(&grams, &loads), truth, "{:?} on {:?}", grams, loads);
            prop_assert!(!has_room(&grams, &loads) || truth == grams.len());
            loads.reverse();
            prop_assert_eq!(most(&grams, &loads), truth);
        }
    }
}
