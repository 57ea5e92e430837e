//! Shelves filled by what their patterns are worth, one after the other: not with care, but at once.
//!
//! Where that leaves out no more than is proven to be left out, no proof of more can be found, and none is looked for.

use super::prices::{MOST_KINDS, Market};

/// The patterns of each group's shelves, taken in a row, and how many of the items they leave out.
pub(super) fn fill(market: &Market, prices: &[i64], row: &[usize]) -> (i64, Vec<Vec<usize>>) {
    let kinds = market.kinds();
    let mut joined = vec![false; market.classes.len()];
    let (mut left, mut worth) = ([0_i64; MOST_KINDS], [0_i64; MOST_KINDS]);
    let mut patterns = vec![Vec::new(); market.groups.len()];
    for &at in row {
        let Some(group) = market.groups.get(at) else { continue };
        let mut by_kind = Vec::with_capacity(group.classes.len());
        for classes in &group.classes {
            let kind = classes.first().map_or(0, |&class| market.kind_of(class, &kinds));
            by_kind.push(kind);
            for &class in classes {
                if !std::mem::replace(&mut joined[class], true) {
                    left[kind] += market.number(class);
                    worth[kind] = worth[kind].max(prices[class]);
                }
            }
        }
        let taken = |numbers: &[u8], left: &[i64; MOST_KINDS]| -> i64 {
            let each = by_kind.iter().zip(numbers);
            each.map(|(&kind, &number)| worth[kind] * i64::from(number).min(left[kind])).sum()
        };
        let mut shelves = group.number();
        while shelves > 0 {
            let best = (0..group.patterns.len()).max_by_key(|&pattern| taken(&group.patterns[pattern], &left));
            let Some(best) = best else { break };
            let numbers = || by_kind.iter().zip(group.patterns[best].iter()).filter(|(_, number)| **number > 0);
            // as long as it takes as much
            let whole = numbers().map(|(&kind, &number)| left[kind] / i64::from(number)).min().unwrap_or(shelves);
            let times = whole.clamp(1, shelves);
            for (&kind, &number) in numbers() {
                left[kind] = (left[kind] - times * i64::from(number)).max(0);
            }
            shelves -= times;
            patterns[at].extend((0..times).map(|_| best));
        }
    }
    (left.iter().sum(), patterns)
}
