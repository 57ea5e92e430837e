//! Inequalities that every whole choice keeps and shares of choices break: lifted covers of single rows.
//!
//! Batches that would fill a row beyond its limit, each at a level of its own, cannot all be at that level: a
//! cover. Other batches and higher levels are lifted into it one after the other, each by as much as stays true
//! (M. W. Padberg, 1975, E. Balas, 1975, with multiple choice after E. L. Johnson and M. W. Padberg, 1981; all
//! recalled, not re-read). Whole numbers only, but for the shares, which say merely where to look.

use super::levels::Levels;
use super::table::Table;

/// `sum of weights of the batches' levels <= limit`, on one row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Cut {
    pub(super) row: usize,
    pub(super) limit: i64,
    /// By batch, then level; level 0 is nothing.
    pub(super) weights: Vec<(usize, Vec<i64>)>,
}

/// A batch on one row: its levels that are open there, with their amounts above the least.
struct Entry {
    batch: usize,
    /// Level, amount beyond the least, share of columns at this level or above; from low to high.
    steps: Vec<(usize, i64, f64)>,
}

const LEAST_VIOLATION: f64 = 0.02;
const MOST_MEMBERS: usize = 400;

/// The cuts of a row that these shares break.
pub(super) fn separate(
    table: &Table,
    levels: &Levels,
    row: usize,
    open: &[bool],
    shares: &[Vec<(usize, f64)>],
    into: &mut Vec<Cut>,
) {
    if table.rows[row].price.is_some() {
        return;
    }
    let mut room = table.rows[row].limit;
    let mut entries = Vec::new();
    for (batch, columns) in table.batches.iter().enumerate() {
        let mut present: Vec<(i64, usize)> = Vec::new();
        for column in columns.clone().filter(|&column| open[column]) {
            let level = levels.level_at(table, column, row);
            present.push((levels.amount(batch, level), level));
        }
        present.sort_unstable();
        present.dedup();
        let Some(&(least, _)) = present.first() else {
            return;
        };
        room -= least;
        let steps: Vec<(usize, i64, f64)> = present[1..]
            .iter()
            .map(|&(amount, level)| {
                let at_least =
                    |&&(column, _): &&(usize, f64)| levels.amount(batch, levels.level_at(table, column, row)) >= amount;
                let share = shares[batch].iter().filter(at_least).map(|&(_, share)| share).sum::<f64>();
                (level, amount - least, share.min(1.0))
            })
            .collect();
        if !steps.is_empty() {
            entries.push(Entry { batch, steps });
        }
    }
    if room < 0 {
        return;
    }
    for order in 0..3 {
        if let Some(cover) = cover(&entries, room, order)
            && let Some(cut) = lifted(levels, &entries, room, row, &cover)
            && !into.contains(&cut)
        {
            into.push(cut);
        }
    }
}

/// The step of each entry that is in the cover.
fn cover(entries: &[Entry], room: i64, order: u8) -> Option<Vec<Option<usize>>> {
    let mut taken: Vec<Option<usize>> =
        entries.iter().map(|entry| entry.steps.iter().rposition(|step| step.2 > 1.0 - 1e-9)).collect();
    let amount = |entry: usize, step: Option<usize>| step.map_or(0, |step| entries[entry].steps[step].1);
    let missing = |entry: usize, step: Option<usize>| step.map_or(0.0, |step| 1.0 - entries[entry].steps[step].2);
    let mut sum: i64 = taken.iter().enumerate().map(|(entry, &step)| amount(entry, step)).sum();
    while sum <= room {
        let mut best: Option<(f64, usize, usize)> = None;
        for (entry, what) in entries.iter().enumerate() {
            for (step, &(_, more, share)) in what.steps.iter().enumerate() {
                let grown = more - amount(entry, taken[entry]);
                if grown <= 0 || share < 1e-9 {
                    continue;
                }
                let dear = (1.0 - share - missing(entry, taken[entry])).max(0.0);
                let score = match order {
                    0 => dear / grown.min(room + 1 - sum) as f64,
                    1 => dear,
                    _ => dear / grown as f64,
                };
                if best.is_none_or(|(known, ..)| score < known) {
                    best = Some((score, entry, step));
                }
            }
        }
        let (_, entry, step) = best?;
        sum += amount(entry, Some(step)) - amount(entry, taken[entry]);
        taken[entry] = Some(step);
    }
    // What isn't needed leaves, the dearest first.
    let mut by_missing: Vec<usize> = (0..entries.len()).filter(|&entry| taken[entry].is_some()).collect();
    by_missing.sort_by(|&a, &b| {
        let key = |entry: usize| missing(entry, taken[entry]);
        key(b).total_cmp(&key(a)).then(amount(a, taken[a]).cmp(&amount(b, taken[b])))
    });
    for entry in by_missing {
        let mut lower = taken[entry];
        while let Some(step) = lower {
            let next = step.checked_sub(1);
            let less = amount(entry, lower) - amount(entry, next);
            if sum - less <= room {
                break;
            }
            sum -= less;
            lower = next;
        }
        taken[entry] = lower;
    }
    Some(taken)
}

/// The cover's inequality with all levels lifted; `None` unless the shares break it.
fn lifted(levels: &Levels, entries: &[Entry], room: i64, row: usize, cover: &[Option<usize>]) -> Option<Cut> {
    let members = cover.iter().flatten().count();
    if !(2..=MOST_MEMBERS).contains(&members) {
        return None;
    }
    let limit = members - 1;
    // The weights of each entry's steps so far.
    let mut weights: Vec<Vec<usize>> = entries
        .iter()
        .zip(cover)
        .map(|(entry, taken)| {
            (0..entry.steps.len()).map(|step| usize::from(taken.is_some_and(|taken| step >= taken))).collect()
        })
        .collect();
    let least = |weights: &[Vec<usize>], without: usize| {
        let mut least = vec![i64::MAX; limit + 1];
        least[0] = 0;
        for (entry, weights) in
            weights.iter().enumerate().filter(|&(entry, weights)| entry != without && weights.last() > Some(&0))
        {
            add(&mut least, weights, &entries[entry]);
        }
        least
    };
    for entry in
        (0..entries.len()).filter(|&entry| cover[entry].is_some_and(|taken| taken + 1 < entries[entry].steps.len()))
    {
        let least = least(&weights, entry);
        weights[entry] = lift(&entries[entry], &weights[entry], &least, room, limit);
    }
    let mut least = least(&weights, usize::MAX);
    let mut others: Vec<usize> = (0..entries.len()).filter(|&entry| cover[entry].is_none()).collect();
    let worth = |entry: usize| entries[entry].steps.iter().map(|step| step.1 as f64 * step.2).sum::<f64>();
    others.sort_by(|&a, &b| worth(b).total_cmp(&worth(a)).then(a.cmp(&b)));
    for entry in others {
        let found = lift(&entries[entry], &weights[entry], &least, room, limit);
        if found.last() > Some(&0) {
            add(&mut least, &found, &entries[entry]);
            weights[entry] = found;
        }
    }
    let mut value = 0.0;
    for (entry, weights) in entries.iter().zip(&weights) {
        let mut before = 0;
        for (step, &weight) in entry.steps.iter().zip(weights) {
            value += step.2 * (weight - before) as f64;
            before = weight;
        }
    }
    if value < limit as f64 + LEAST_VIOLATION {
        return None;
    }
    let weights =
        entries.iter().zip(weights).filter(|(_, weights)| weights.last() > Some(&0)).map(|(entry, weights)| {
            let mut by_level = vec![0; levels.number(entry.batch)];
            for (step, weight) in entry.steps.iter().zip(weights) {
                by_level[step.0] = whole(weight);
            }
            (entry.batch, by_level)
        });
    Some(Cut { row, limit: whole(limit), weights: weights.collect() })
}

fn whole(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}

/// The least amount that reaches each weight, with one entry more.
fn add(least: &mut [i64], weights: &[usize], entry: &Entry) {
    for value in (1..least.len()).rev() {
        for (step, &weight) in entry.steps.iter().zip(weights).filter(|(_, weight)| **weight > 0) {
            let below = least[value.saturating_sub(weight)];
            if below < i64::MAX {
                least[value] = least[value].min(below + step.1);
            }
        }
    }
}

/// The most that each step may weigh beside what is there.
fn lift(entry: &Entry, known: &[usize], least: &[i64], room: i64, limit: usize) -> Vec<usize> {
    let mut lowest = 0;
    entry
        .steps
        .iter()
        .zip(known)
        .map(|(step, &known)| {
            let beside = (0..least.len()).rev().find(|&value| least[value] <= room - step.1);
            // A step that no choice can have may weigh anything; more than the limit says it all.
            let may = beside.map_or(limit + 1, |beside| limit - beside);
            lowest = may.max(known).max(lowest);
            lowest
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::super::problem::Days;
    use super::super::super::random::Random;
    use super::super::super::work::Cancel;
    use super::super::problem::{Batch, Choice, DailyCapacity, LevelProblem, Use};
    use super::super::table::Aim;
    use super::*;

    /// One day, batches with a few amounts each; the less of it the dearer, so that every choice is needed.
    fn one_day(random: &mut Random) -> Table {
        let mut problem = LevelProblem::default();
        let mut most = 0;
        for _ in 0..random.from(3..7) {
            let mut amounts: Vec<i64> = (0..random.from(1..4)).map(|_| whole(random.below(20))).collect();
            amounts.sort_unstable();
            amounts.dedup();
            most += amounts.last().unwrap();
            let costs = (0..).map(|place| 50 - place);
            let choices = amounts
                .into_iter()
                .zip(costs)
                .map(|(amount, cost)| Choice { cost, uses: vec![Use { resource: 0, days: Days::new(0, 1), amount }] });
            problem.batches.push(Batch { choices: choices.collect() });
        }
        problem.resources = vec![DailyCapacity { usual: most * whole(random.from(40..95)) / 100, other: Vec::new() }];
        Table::new(&problem, Aim::Cheapest, &Cancel::default()).unwrap()
    }

    fn every_choice(table: &Table) -> Vec<Vec<usize>> {
        table.batches.iter().fold(vec![Vec::new()], |known, batch| {
            let longer = |known: &Vec<usize>| {
                let known = known.clone();
                batch.clone().map(move |column| known.iter().copied().chain([column]).collect())
            };
            known.iter().flat_map(longer).collect()
        })
    }

    fn weight(table: &Table, levels: &Levels, cut: &Cut, chosen: &[usize]) -> i64 {
        let of_batch = |(batch, weights): &(usize, Vec<i64>)| weights[levels.level_at(table, chosen[*batch], cut.row)];
        cut.weights.iter().map(of_batch).sum()
    }

    #[test]
    fn no_choice_that_fits_is_cut_off() {
        let (mut random, mut found, mut sharp) = (Random::new(3), 0, 0);
        for _ in 0..400 {
            let table = one_day(&mut random);
            if table.rows.is_empty() {
                continue;
            }
            let levels = Levels::new(&table);
            // Shares of the largest and another choice.
            let shares: Vec<Vec<(usize, f64)>> = table
                .batches
                .iter()
                .map(|batch| {
                    let (large, part) = (batch.end - 1, random.from(50..100) as f64 / 100.0);
                    let other = random.from(batch.clone());
                    if other == large { vec![(large, 1.0)] } else { vec![(other, 1.0 - part), (large, part)] }
                })
                .collect();
            let mut cuts = Vec::new();
            separate(&table, &levels, 0, &vec![true; table.columns.len()], &shares, &mut cuts);
            let fitting: Vec<Vec<usize>> =
                every_choice(&table).into_iter().filter(|chosen| table.value(chosen).is_some()).collect();
            for cut in &cuts {
                let most = fitting.iter().map(|chosen| weight(&table, &levels, cut, chosen)).max();
                assert!(most <= Some(cut.limit), "{table:?} {cut:?}");
                found += 1;
                sharp += i32::from(most == Some(cut.limit));
            }
        }
        assert!(found > 100 && sharp * 2 > found, "{found} cuts, {sharp} of them met with equality");
    }
}
