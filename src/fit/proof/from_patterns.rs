//! Spots for a day from a pattern for each of its shelves, with few changes to what stands there.

use std::collections::BTreeSet;

use super::patterns::{PatternBook, PatternKind};
use super::prices::{Group, Market, ShelfGround};
use crate::fit::problem::{Problem, Rect, Spot};

/// Where items stand now, on a day of a problem.
pub(in crate::fit) struct StandingNow<'a> {
    pub(in crate::fit) problem: &'a Problem,
    pub(in crate::fit) day: i32,
    pub(in crate::fit) spot: &'a dyn Fn(usize) -> Option<Spot>,
}

impl StandingNow<'_> {
    /// An item's sides before any turn.
    fn size(&self, item: usize) -> Option<(i64, i64)> {
        self.problem.items.get(item)?.phase_on(self.day).map(|phase| (phase.w, phase.d))
    }
}

/// Spots for all items that the patterns have room for; `None` where a shelf can't be laid out.
pub(in crate::fit) fn spots(
    market: &Market,
    patterns: &[Vec<usize>],
    book: &PatternBook,
    now: &StandingNow<'_>,
) -> Option<Vec<(usize, Spot)>> {
    let kinds = market.kinds();
    let all: usize = market.classes.iter().map(|class| class.items.len()).sum();
    let room = |group: &Group, pattern: usize| group.patterns[pattern].iter().map(|&n| usize::from(n)).sum::<usize>();
    let tight = all > market.groups.iter().zip(patterns).flat_map(|(group, f)| f.iter().map(|&f| room(group, f))).sum();
    let mut row: Vec<(&Group, &Vec<usize>)> = market.groups.iter().zip(patterns).collect();
    row.sort_by_key(|(group, _)| group.classes.iter().flatten().count());
    let mut waiting: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); kinds.len()];
    let mut joined = vec![false; market.classes.len()];
    let mut found = Vec::new();
    for (group, patterns) in row {
        for &class in group.classes.iter().flatten() {
            if !std::mem::replace(&mut joined[class], true) {
                waiting[market.kind_of(class, &kinds)].extend(&market.classes[class].items);
            }
        }
        let here: Vec<usize> = group.classes.iter().map(|classes| market.kind_of(classes[0], &kinds)).collect();
        for (ground, pattern) in matched(group, patterns, &here, &waiting, now) {
            let shelf = ground.region.shelf;
            let mut chosen: Vec<(PatternKind, Vec<usize>)> = Vec::new();
            for (&kind, &most) in here.iter().zip(group.patterns.get(pattern)?) {
                let mut items: Vec<usize> = waiting[kind].iter().copied().collect();
                items.sort_by_key(|&item| match (now.spot)(item) {
                    Some(spot) if spot.shelf == shelf => 0,
                    // Whoever stands must not lose its spot to somebody new.
                    Some(_) if tight => 1,
                    None => 2,
                    Some(_) => 3,
                });
                items.truncate(usize::from(most));
                for item in &items {
                    waiting[kind].remove(item);
                }
                chosen.push((kinds[kind], items));
            }
            let rects = book.laid_out(group.room, &group.kinds, &group.patterns[pattern]).map(|r| on(ground, r));
            lay_out(ground, chosen, rects, now, &mut found)?;
        }
    }
    Some(found)
}

/// Patterns for the group's shelves, each where it keeps the most of what stands there.
fn matched(
    group: &Group,
    patterns: &[usize],
    here: &[usize],
    waiting: &[BTreeSet<usize>],
    now: &StandingNow<'_>,
) -> Vec<(ShelfGround, usize)> {
    let stays = |ground: &ShelfGround, pattern: usize| -> usize {
        let kinds = here.iter().zip(&group.patterns[pattern]);
        kinds
            .map(|(&kind, &most)| {
                let on = |&&item: &&usize| (now.spot)(item).is_some_and(|spot| spot.shelf == ground.region.shelf);
                waiting[kind].iter().filter(on).count().min(usize::from(most))
            })
            .sum()
    };
    let mut pairs: Vec<(usize, usize, usize)> = Vec::new();
    for (shelf, ground) in group.shelves.iter().enumerate() {
        pairs.extend(patterns.iter().enumerate().map(|(at, &pattern)| (stays(ground, pattern), shelf, at)));
    }
    pairs.sort_by_key(|&(stays, shelf, at)| (usize::MAX - stays, shelf, at));
    let mut free: Vec<Option<usize>> = patterns.iter().copied().map(Some).collect();
    let mut given = vec![None; group.shelves.len()];
    for (_, shelf, at) in pairs {
        if given[shelf].is_none() {
            given[shelf] = free[at].take();
        }
    }
    group.shelves.iter().zip(given).filter_map(|(&ground, pattern)| Some((ground, pattern?))).collect()
}

/// As it comes out on that very ground.
fn on(ground: ShelfGround, rects: &[Rect]) -> Vec<Rect> {
    let Rect { x, y, w, d } = ground.region.rect;
    let turned = |rect: &Rect| if w < d { Rect { x: rect.y, y: rect.x, w: rect.d, d: rect.w } } else { *rect };
    rects.iter().map(turned).map(|rect| Rect { x: rect.x + x, y: rect.y + y, ..rect }).collect()
}

/// All as they stand where that works out, else as the pattern was laid out.
fn lay_out(
    ground: ShelfGround,
    chosen: Vec<(PatternKind, Vec<usize>)>,
    rects: Option<Vec<Rect>>,
    now: &StandingNow<'_>,
    found: &mut Vec<(usize, Spot)>,
) -> Option<()> {
    let shelf = ground.region.shelf;
    let stands = |&item: &usize| (now.spot)(item).filter(|spot| spot.shelf == shelf).map(|spot| (item, spot));
    let kept: Option<Vec<(usize, Spot)>> = chosen.iter().flat_map(|(_, items)| items).map(stands).collect();
    if let Some(kept) = kept {
        found.extend(kept);
        return Some(());
    }
    let mut rects = rects?;
    for (kind, items) in chosen {
        for item in items {
            let (w, d) = now.size(item)?;
            let alike = |rect: &Rect| (rect.w.max(rect.d), rect.w.min(rect.d)) == (kind.most, kind.least);
            let old = stands(&item).map(|(_, spot)| (spot.x, spot.y));
            let same = rects.iter().position(|rect| alike(rect) && old == Some((rect.x, rect.y)));
            let rect = rects.swap_remove(same.or_else(|| rects.iter().position(alike))?);
            found.push((item, Spot { shelf, x: rect.x, y: rect.y, turned: (rect.w, rect.d) != (w, d) }));
        }
    }
    Some(())
}
