//! Whether a handful of rectangles fit into one bin together, and how.
//!
//! The bin is filled from the front: the lowest, leftmost stretch of the skyline takes a rectangle
//! at the end that has the higher neighbour, or is given up to the height of the lower one. A
//! depth-first search in a fixed amount of work, so that "no" means not found. The answer depends
//! on nothing but the load and the level of effort.

use super::kinds::Kinds;
use crate::fit::problem::Rect;
use crate::fit::random::Random;

/// Looks that a round of the search may take beyond a few times what going straight down takes.
const LOOKS: u64 = 100;
/// From so many members on, depth alone loses itself: deeper levels start over in changed orders.
const MANY: usize = 9;

/// Part of the skyline, from `x` on.
#[derive(Clone, Copy, Debug)]
struct SkylinePart {
    x: i64,
    y: i64,
    w: i64,
}

/// One way to place a kind on the lowest stretch.
#[derive(Clone, Copy)]
struct Choice {
    score: i64,
    member: usize,
    top: SkylinePart,
    d: i64,
}

/// What a search of one load came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum LoadOutcome {
    Packed,
    /// The work was used up.
    NotYet,
    /// There was nothing left to try.
    Never,
}

/// A kind of the load.
struct Member {
    kind: u32,
    /// So many are left to place.
    count: u32,
    score: i64,
    ways: [(i64, i64); 2],
    many: usize,
}

impl Member {
    fn ways(&self) -> &[(i64, i64)] {
        self.ways.get(..self.many).unwrap_or_default()
    }
}

#[derive(Default)]
struct Level {
    skyline: Vec<SkylinePart>,
    choices: Vec<Choice>,
}

impl Level {
    /// The lowest stretch, and the heights left and right of it.
    fn niche(&self, wall: i64) -> Option<(usize, SkylinePart, i64, i64)> {
        let (at, niche) = self.skyline.iter().copied().enumerate().min_by_key(|(_, part)| part.y)?;
        let height = |part: Option<&SkylinePart>| part.map_or(wall, |part| part.y);
        let left = height(at.checked_sub(1).and_then(|before| self.skyline.get(before)));
        Some((at, niche, left, height(self.skyline.get(at + 1))))
    }
}

pub(super) struct OneShelf<'a> {
    kinds: &'a Kinds,
    levels: Vec<Level>,
    left: Vec<Member>,
    placed: Vec<(u32, Rect)>,
    /// Looks at one way to place a kind.
    pub(super) work: u64,
    stop_at: u64,
}

impl<'a> OneShelf<'a> {
    pub(super) fn new(kinds: &'a Kinds) -> Self {
        Self { kinds, levels: Vec::new(), left: Vec::new(), placed: Vec::new(), work: 0, stop_at: 0 }
    }

    /// What was placed last.
    pub(super) fn placed(&self) -> &[(u32, Rect)] {
        &self.placed
    }

    /// Places all members of a load, given in ascending order, with an effort that grows by level.
    pub(super) fn pack(&mut self, load: &[u32], level: u32) -> LoadOutcome {
        let slack = self.kinds.area() - load.iter().map(|&kind| self.kinds.at(kind).area).sum::<i128>();
        if slack < 0 {
            return LoadOutcome::Never;
        }
        let (rounds, looks) = if load.len() < MANY { (1, LOOKS << (2 * level)) } else { (1 << level, LOOKS << level) };
        let mut random = Random::new(u64::from(level));
        for round in 0..rounds {
            let by_area = round == 0 && (level == 0 || load.len() >= MANY);
            self.begin(load, if by_area { None } else { Some(&mut random) });
            self.stop_at = self.work + looks + 3 * (load.len() * self.left.len()) as u64;
            if self.descend(0, load.len(), slack) {
                return LoadOutcome::Packed;
            }
            if self.work <= self.stop_at {
                return LoadOutcome::Never;
            }
        }
        LoadOutcome::NotYet
    }

    /// Places members of a load until no more fit, in a drawn order and without a second thought.
    pub(super) fn fill(&mut self, load: &[u32], random: &mut Random) {
        self.begin(load, Some(random));
        let wall = self.kinds.depth;
        while let Some((at, niche, left, right)) = self.levels[0].niche(wall).filter(|(_, niche, ..)| niche.y < wall) {
            self.choose(0, niche, left, right);
            let top = match self.levels[0].choices.first().copied() {
                Some(choice) => self.place(choice),
                None => SkylinePart { y: left.min(right), ..niche },
            };
            self.raise(0, at, top);
            self.levels.swap(0, 1);
        }
    }

    /// An empty bin, and members whose areas count as drawn.
    fn begin(&mut self, load: &[u32], mut random: Option<&mut Random>) {
        self.left.clear();
        self.placed.clear();
        for &kind in load {
            if let Some(last) = self.left.last_mut().filter(|last| last.kind == kind) {
                last.count += 1;
                continue;
            }
            let factor = random.as_mut().map_or(1024, |random| 512 + i64::from(random.below(1024) as u32));
            let size = self.kinds.at(kind);
            let score = (size.parts * factor) << 12;
            self.left.push(Member { kind, count: 1, score, ways: size.ways, many: size.many });
        }
        let whole = SkylinePart { x: 0, y: 0, w: self.kinds.width };
        let first = self.level(0);
        first.skyline.clear();
        first.skyline.push(whole);
    }

    fn level(&mut self, depth: usize) -> &mut Level {
        if self.levels.len() <= depth {
            self.levels.resize_with(depth + 1, Level::default);
        }
        &mut self.levels[depth]
    }

    /// Takes a member and gives the skyline above it.
    fn place(&mut self, choice: Choice) -> SkylinePart {
        let Choice { member, top, d, .. } = choice;
        self.left[member].count -= 1;
        self.placed.push((self.left[member].kind, Rect { x: top.x, y: top.y - d, w: top.w, d }));
        top
    }

    fn descend(&mut self, depth: usize, members: usize, slack: i128) -> bool {
        if members == 0 {
            return true;
        }
        let Some((at, niche, left, right)) = self.levels[depth].niche(self.kinds.depth) else {
            return false;
        };
        if !self.all_have_room(depth) {
            return false;
        }
        self.choose(depth, niche, left, right);
        for n in 0..self.levels[depth].choices.len() {
            if self.work > self.stop_at {
                return false;
            }
            let choice = self.levels[depth].choices[n];
            let top = self.place(choice);
            self.raise(depth, at, top);
            if self.descend(depth + 1, members - 1, slack) {
                return true;
            }
            self.left[choice.member].count += 1;
            self.placed.pop();
        }
        let lower = left.min(right);
        let given_up = i128::from(niche.w) * i128::from(lower - niche.y);
        if given_up > slack || self.work > self.stop_at {
            return false;
        }
        self.raise(depth, at, SkylinePart { y: lower, ..niche });
        self.descend(depth + 1, members, slack - given_up)
    }

    /// Whether each kind that is left would fit above the skyline if it came next.
    fn all_have_room(&mut self, depth: usize) -> bool {
        let (skyline, high) = (&self.levels[depth].skyline, self.kinds.depth);
        let has_room = |&(w, d): &(i64, i64)| {
            let mut free = 0;
            skyline.iter().any(|part| {
                free = if part.y + d <= high { free + part.w } else { 0 };
                free >= w
            })
        };
        self.work += self.left.len() as u64 / 2;
        self.left.iter().all(|member| member.count == 0 || member.ways().iter().any(has_room))
    }

    /// All ways to fill the niche, best first: without a gap, then level with a neighbour, then large.
    fn choose(&mut self, depth: usize, niche: SkylinePart, left: i64, right: i64) {
        const STEP: i64 = 1 << 50;
        let high = self.kinds.depth - niche.y;
        let choices = &mut self.levels[depth].choices;
        choices.clear();
        for (at, member) in self.left.iter().enumerate().filter(|(_, member)| member.count > 0) {
            for &(w, d) in member.ways() {
                self.work += 1;
                if w > niche.w || d > high {
                    continue;
                }
                let y = niche.y + d;
                let (rank, x) = if w == niche.w {
                    (2 + i64::from(y == left || y == right), niche.x)
                } else if right > left {
                    (i64::from(y == right), niche.x + niche.w - w)
                } else {
                    (i64::from(y == left), niche.x)
                };
                // The place among the choices makes every score another.
                let place = i64::from(choices.len() as u32).min(4095);
                let score = STEP * rank + member.score + 4095 - place;
                choices.push(Choice { score, member: at, top: SkylinePart { x, y, w }, d });
            }
        }
        choices.sort_unstable_by_key(|choice| -choice.score);
    }

    /// The skyline of the next level: stretch `at`, or one end of it, at a new height.
    fn raise(&mut self, depth: usize, at: usize, top: SkylinePart) {
        self.level(depth + 1);
        let (before, after) = self.levels.split_at_mut(depth + 1);
        let (old, next) = (&before[depth].skyline, &mut after[0].skyline);
        let (niche, end) = (old[at], top.x + top.w);
        next.clear();
        next.extend_from_slice(&old[..at]);
        append(next, SkylinePart { w: top.x - niche.x, ..niche });
        append(next, top);
        append(next, SkylinePart { x: end, w: niche.x + niche.w - end, ..niche });
        if let Some((&first, rest)) = old[at + 1..].split_first() {
            append(next, first);
            next.extend_from_slice(rest);
        }
    }
}

/// Adds a stretch to the right end of a skyline.
fn append(skyline: &mut Vec<SkylinePart>, next: SkylinePart) {
    match skyline.last_mut() {
        _ if next.w == 0 => {}
        Some(last) if last.y == next.y => last.w += next.w,
        _ => skyline.push(next),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(bin: (i64, i64), items: &[(i64, i64)], expected: LoadOutcome) {
        let kinds = Kinds::new(bin.0, bin.1, items, &crate::fit::Cancel::default()).unwrap();
        let mut load = kinds.of.clone();
        load.sort_unstable();
        let mut shelf = OneShelf::new(&kinds);
        assert_eq!(shelf.pack(&load, 2), expected, "{items:?} in {bin:?}");
        if expected != LoadOutcome::Packed {
            return;
        }
        let ground = Rect { x: 0, y: 0, w: kinds.width, d: kinds.depth };
        let placed = shelf.placed();
        assert_eq!(placed.len(), items.len());
        for (n, &(_, spot)) in placed.iter().enumerate() {
            assert!(ground.holds(spot), "{spot:?}");
            assert!(placed[..n].iter().all(|&(_, other)| !spot.overlaps(other)), "{placed:?}");
        }
    }

    #[test]
    fn a_wheel_around_a_hole_is_found() {
        check((3, 3), &[(2, 1); 4], LoadOutcome::Packed);
        check((5, 5), &[(3, 2), (3, 2), (3, 2), (3, 2), (1, 1)], LoadOutcome::Packed);
    }

    #[test]
    fn what_cannot_fit_is_given_up_for_good() {
        check((3, 3), &[(2, 2), (2, 2)], LoadOutcome::Never);
        check((7, 7), &[(4, 4), (4, 3), (3, 4), (4, 1)], LoadOutcome::Never);
    }

    #[test]
    fn filling_leaves_out_what_has_no_room() {
        let kinds = Kinds::new(4, 3, &[(3, 3), (1, 3), (2, 2)], &crate::fit::Cancel::default()).unwrap();
        let mut shelf = OneShelf::new(&kinds);
        let mut most = 0;
        for seed in 0..20 {
            shelf.fill(&[0, 1, 2], &mut Random::new(seed));
            most = most.max(shelf.placed().iter().map(|(_, spot)| spot.area()).sum());
        }
        assert_eq!(most, 12);
    }
}
