//! Spots for a day from a pattern for each of its shelves, with few changes to what stands there.

use std::collections::{BTreeMap, BTreeSet};

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
    let mut waiting: Vec<Waiting> = kinds.iter().map(|_| Waiting::default()).collect();
    let mut joined = vec![false; market.classes.len()];
    let mut found = Vec::new();
    for (group, patterns) in row {
        for &class in group.classes.iter().flatten() {
            if !std::mem::replace(&mut joined[class], true) {
                let of_kind = &mut waiting[market.kind_of(class, &kinds)];
                market.classes[class].items.iter().for_each(|&item| of_kind.join(item, now));
            }
        }
        let here: Vec<usize> = group.classes.iter().map(|classes| market.kind_of(classes[0], &kinds)).collect();
        for (ground, pattern) in matched(group, patterns, &here, &waiting) {
            let shelf = ground.region.shelf;
            let mut chosen: Vec<(PatternKind, Vec<usize>)> = Vec::new();
            for (&kind, &most) in here.iter().zip(group.patterns.get(pattern)?) {
                chosen.push((kinds[kind], waiting[kind].take(shelf, usize::from(most), tight)));
            }
            let rects = book.laid_out(group.room, &group.kinds, &group.patterns[pattern]).map(|r| on(ground, r));
            lay_out(ground, chosen, rects, now, &mut found)?;
        }
    }
    Some(found)
}

/// Items of one kind that have no shelf yet.
#[derive(Default)]
struct Waiting {
    /// By the shelves on which they stand now.
    on: BTreeMap<usize, BTreeSet<usize>>,
    standing: BTreeMap<usize, usize>,
    new: BTreeSet<usize>,
}

impl Waiting {
    fn join(&mut self, item: usize, now: &StandingNow<'_>) {
        if let Some(spot) = (now.spot)(item) {
            self.on.entry(spot.shelf).or_default().insert(item);
            self.standing.insert(item, spot.shelf);
        } else {
            self.new.insert(item);
        }
    }

    fn on(&self, shelf: usize) -> usize {
        self.on.get(&shelf).map_or(0, BTreeSet::len)
    }

    /// Takes up to so many for a shelf: whoever stands there, then, where not all find room, whoever stands, as that one
    /// must not lose its spot to somebody new; else those that are new.
    fn take(&mut self, shelf: usize, most: usize, tight: bool) -> Vec<usize> {
        let mut items: Vec<usize> = self.on.get(&shelf).into_iter().flatten().copied().take(most).collect();
        self.forget(&items);
        for new in if tight { [false, true] } else { [true, false] } {
            let left = most - items.len();
            let here = |item: &usize| self.standing.get(item) == Some(&shelf);
            let next: Vec<usize> = if new {
                self.new.iter().copied().take(left).collect()
            } else {
                self.standing.keys().copied().filter(|item| !here(item)).take(left).collect()
            };
            self.forget(&next);
            items.extend(next);
        }
        items
    }

    fn forget(&mut self, items: &[usize]) {
        for item in items {
            self.new.remove(item);
            if let Some(shelf) = self.standing.remove(item)
                && let Some(on) = self.on.get_mut(&shelf)
            {
                on.remove(item);
            }
        }
    }
}

/// Patterns for the group's shelves, each where it keeps the most of what stands there.
fn matched(group: &Group, patterns: &[usize], here: &[usize], waiting: &[Waiting]) -> Vec<(ShelfGround, usize)> {
    let stays = |ground: &ShelfGround, pattern: usize| -> usize {
        let kinds = here.iter().zip(&group.patterns[pattern]);
        kinds.map(|(&kind, &most)| waiting[kind].on(ground.region.shelf).min(usize::from(most))).sum()
    };
    let mut free: BTreeMap<usize, usize> = BTreeMap::new();
    for &pattern in patterns {
        *free.entry(pattern).or_default() += 1;
    }
    let mut pairs: Vec<(usize, usize, usize)> = Vec::new();
    for (shelf, ground) in group.shelves.iter().enumerate() {
        pairs.extend(free.keys().map(|&pattern| (stays(ground, pattern), shelf, pattern)));
    }
    pairs.sort_by_key(|&(stays, shelf, pattern)| (usize::MAX - stays, shelf, pattern));
    let mut given = vec![None; group.shelves.len()];
    for (_, shelf, pattern) in pairs {
        if let Some(number) = free.get_mut(&pattern).filter(|number| **number > 0 && given[shelf].is_none()) {
            *number -= 1;
            given[shelf] = Some(pattern);
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
